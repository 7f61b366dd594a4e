from __future__ import annotations

from datetime import date

import pytest

from tastebook.domain.errors import JournalFull
from tastebook.presenters.bench.views import AromaSheet, ChipView, FinishSheet, LiquorSheet, TextureSheet
from tests.bench_kit import Kit, bench_kit


def chips(kit: Kit) -> dict[str, ChipView]:
    sheet = kit.bench.card().sheet
    assert isinstance(sheet, AromaSheet | FinishSheet)
    return {chip.word: chip for group in sheet.groups for chip in group.chips}


def tab_states(kit: Kit) -> dict[str, str]:
    return {tab.name: tab.state for tab in kit.bench.card().tabs}


def test_a_session_begins_at_the_dry_leaf() -> None:
    kit = bench_kit()

    card = kit.bench.card()

    assert kit.bench.column == "leaf"
    assert card.tabs[0].state == "now"


def test_what_is_typed_shows_as_understood_before_it_is_taken() -> None:
    kit = bench_kit()

    kit.bench.type("white peach, cedar bark 3, no rose")

    shown = chips(kit)
    assert {word: (chip.intensity, chip.pending) for word, chip in shown.items()} == {
        "white peach": (3, True),
        "cedar bark": (3, True),
        "rose": (0, True),
    }
    assert kit.desk.tasting.impressions == ()


def test_what_is_said_is_kept_word_for_word_beside_what_was_understood() -> None:
    kit = bench_kit()

    kit.bench.say("orchid 4, wet velvet")

    assert [saying.text for saying in kit.desk.tasting.sayings] == ["orchid 4, wet velvet"]
    assert {(one.word, one.intensity) for one in kit.desk.tasting.impressions} == {("orchid", 4), ("wet velvet", 3)}


def test_an_unknown_word_is_kept_and_offered_a_family() -> None:
    kit = bench_kit()
    kit.bench.say("wet velvet 2")
    sheet = kit.bench.card().sheet
    assert isinstance(sheet, AromaSheet)
    assert sheet.groups[0].name == "Which family?"

    kit.bench.place_word("wet velvet", "earthy")

    sheet = kit.bench.card().sheet
    assert isinstance(sheet, AromaSheet)
    assert [group.name for group in sheet.groups] == ["Earthy"]


def test_a_long_remark_stays_words() -> None:
    kit = bench_kit()

    kit.bench.say("it reminds me of the harbour on a winter morning before work")

    assert kit.desk.tasting.impressions == ()
    assert kit.desk.tasting.sayings[0].text.startswith("it reminds me")


def test_saying_a_word_again_without_a_number_leaves_its_strength() -> None:
    kit = bench_kit()
    kit.bench.say("orchid 5")

    kit.bench.say("orchid")

    assert chips(kit)["orchid"].intensity == 5


def test_a_leaf_not_looked_at_before_the_water_is_missed_and_then_late() -> None:
    kit = bench_kit()
    kit.steep(5)
    kit.bench.go_to("leaf")
    assert tab_states(kit)["Dry leaf"] == "missed"
    assert kit.bench.card().hint

    kit.bench.choose_step("dry_leaf")
    kit.bench.say("toasted rice 3")

    assert tab_states(kit)["Dry leaf"] == "late"
    assert kit.desk.tasting.impressions[0].late


def test_a_missed_step_is_said_once_at_the_timer() -> None:
    kit = bench_kit()

    kit.press()
    first = kit.bench.timer().advice
    kit.press()
    later = kit.bench.timer().advice

    assert first[0] == "Dry leaf: its moment has passed."
    assert "moment has passed" not in later[0]


def test_a_pour_moves_to_the_cup_unless_words_are_being_typed() -> None:
    kit = bench_kit()
    kit.bench.type("toasted ri")

    kit.steep(5)

    assert kit.bench.column == "leaf"
    kit.bench.say("toasted rice 3")
    kit.press()
    kit.steep(20)
    assert kit.bench.column == "1"


def test_words_not_yet_taken_are_kept_at_the_column_that_is_left() -> None:
    kit = bench_kit()
    kit.bench.type("toasted rice 4")

    kit.bench.go_to("0")

    assert [(one.step, one.infusion) for one in kit.desk.tasting.impressions] == [("dry_leaf", None)]
    assert kit.bench.typed == ""


def test_what_the_last_infusion_had_is_offered_dashed() -> None:
    kit = bench_kit()
    kit.bench.next_infusion()
    kit.steep(20)
    kit.bench.choose_step("flavour")
    kit.bench.say("orchid 4, no rose")
    kit.press()
    kit.steep(25)

    kit.bench.choose_step("flavour")

    assert {word: chip.carried for word, chip in chips(kit).items()} == {"orchid": True}


def test_an_offered_word_becomes_this_infusions_own_when_it_is_given_a_strength() -> None:
    kit = bench_kit()
    kit.bench.next_infusion()
    kit.steep(20)
    kit.bench.choose_step("flavour")
    kit.bench.say("orchid 4")
    kit.press()
    kit.steep(25)
    kit.bench.choose_step("flavour")

    kit.bench.note("orchid", 2)

    assert not chips(kit)["orchid"].carried
    assert {(one.infusion, one.intensity) for one in kit.desk.tasting.impressions} == {(1, 4), (2, 2)}


def test_the_ring_of_a_slider_is_the_last_infusions_value() -> None:
    kit = bench_kit()
    kit.bench.next_infusion()
    kit.steep(20)
    kit.bench.choose_step("first_sip")
    kit.bench.read("body", 3)
    kit.press()
    kit.steep(25)
    kit.bench.choose_step("first_sip")

    sheet = kit.bench.card().sheet

    assert isinstance(sheet, TextureSheet)
    body = next(slider for slider in sheet.sliders if slider.scale == "body")
    assert (body.value, body.before, body.word) == (None, 3, "not set")


def test_texture_words_set_their_sliders() -> None:
    kit = bench_kit()
    kit.bench.next_infusion()
    kit.steep(20)
    kit.bench.choose_step("first_sip")

    kit.bench.say("silky, thick 4")

    assert {(one.scale, one.value) for one in kit.desk.tasting.readings} == {("surface", 5), ("body", 4)}


def test_the_change_of_the_liquor_is_told_in_words() -> None:
    kit = bench_kit()
    kit.bench.next_infusion()
    kit.steep(20)
    kit.bench.choose_step("liquor")
    kit.bench.choose_swatch(1, 3)
    kit.press()
    kit.steep(25)
    kit.bench.choose_step("liquor")

    kit.bench.choose_swatch(3, 5)
    kit.bench.choose_clarity("clear")

    sheet = kit.bench.card().sheet
    assert isinstance(sheet, LiquorSheet)
    assert sheet.change.startswith("much deeper")
    assert "than 1" in sheet.change
    assert sheet.swatches[1][3].mark == "1"
    strip = kit.bench.strip()
    assert strip.columns[strip.current].words == ("amber, clear", "much deeper than 1")


def test_a_liquor_can_be_moved_a_little_from_its_swatch() -> None:
    kit = bench_kit()
    kit.bench.next_infusion()
    kit.steep(20)
    kit.bench.choose_step("liquor")
    kit.bench.choose_swatch(2, 5)
    before = kit.desk.tasting.infusion(1).liquor  # type: ignore[union-attr]

    kit.bench.nudge_liquor("L", -1)

    after = kit.desk.tasting.infusion(1)
    assert after is not None
    assert after.liquor == (before[0] - 1, before[1], before[2])  # type: ignore[index]
    assert after.liquor_source == "adjusted"


def test_the_stopwatch_runs_from_the_swallow() -> None:
    kit = bench_kit()
    kit.steep(5)
    kit.bench.go_to("close")
    kit.bench.choose_step("finish")

    kit.bench.press_stopwatch()
    kit.clock.advance(47)
    kit.bench.press_stopwatch()

    sheet = kit.bench.card().sheet
    assert isinstance(sheet, FinishSheet)
    assert sheet.length == "47 s"


def test_a_step_can_be_skipped_and_come_back_to() -> None:
    kit = bench_kit()

    kit.bench.skip()
    skipped = tab_states(kit)["Dry leaf"]
    kit.bench.choose_step("dry_leaf")
    kit.bench.skip()

    assert skipped == "skipped"
    assert tab_states(kit)["Dry leaf"] == "now"


def test_a_full_disk_is_said_loudly_and_changes_nothing() -> None:
    kit = bench_kit()
    kit.bench.say("orchid 4")
    kit.journal.next_commit_fails = JournalFull("the disk is full: free some space, then try again.")

    kit.bench.say("rose 2")

    assert kit.bench.view().notice == "Not kept: the disk is full: free some space, then try again."
    assert [one.word for one in kit.desk.tasting.impressions] == ["orchid"]
    kit.bench.say("rose 2")
    assert kit.bench.view().notice == ""


def test_every_act_is_undone_and_redone() -> None:
    kit = bench_kit()
    kit.bench.say("orchid 4")
    kit.bench.say("rose 2")

    kit.bench.undo()
    after_undo = set(chips(kit))
    kit.bench.redo()

    assert after_undo == {"orchid"}
    assert set(chips(kit)) == {"orchid", "rose"}


def test_undoing_water_on_leads_back_to_the_same_infusion_ready() -> None:
    kit = bench_kit()
    kit.steep(5)
    kit.press()
    kit.press()

    kit.bench.undo()

    timer = kit.bench.timer()
    assert (timer.title, timer.phase) == ("Infusion 1", "ready")


def test_finishing_leads_to_the_verdict_and_then_closes() -> None:
    kit = bench_kit()
    kit.steep(5)

    closed_at_once = kit.bench.finish()
    kit.bench.draft(decision="buy", headline="Buy four kilos.", good_infusions="6")
    closed = kit.bench.finish()

    assert (closed_at_once, closed) == (False, True)
    assert kit.desk.tasting.verdict is not None
    assert kit.desk.tasting.verdict.good_infusions == 6


def test_a_session_with_leaf_in_water_does_not_close() -> None:
    kit = bench_kit()
    kit.press()
    kit.bench.finish()

    closed = kit.bench.finish()

    assert not closed
    assert "still in water" in kit.bench.card().trouble


def test_a_tea_that_rests_is_given_a_date() -> None:
    kit = bench_kit()

    kit.bench.draft(decision="rest until")
    kit.bench.draft(rest_until="2026-13-01")

    assert kit.bench.card().trouble == "“2026-13-01” is not a day. Write it as 2026-04-14 or 14 April 2026."
    assert kit.desk.tasting.verdict is not None
    assert kit.desk.tasting.verdict.rest_until is not None


@pytest.mark.parametrize(
    ("typed", "on"),
    [
        ("2026-06-01", date(2026, 6, 1)),
        ("1 June 2026", date(2026, 6, 1)),
        ("1.6.2026", date(2026, 6, 1)),
        ("june 1 2026", date(2026, 6, 1)),
        ("March 2027", date(2027, 3, 1)),
    ],
)
def test_the_day_until_which_it_rests_is_read_as_one_writes_it(typed: str, on: date) -> None:
    kit = bench_kit()

    kit.bench.draft(decision="rest until")
    kit.bench.draft(rest_until=typed)

    assert kit.bench.card().trouble == ""
    assert kit.desk.verdict().rest_until == on


@pytest.mark.parametrize("typed", ["June 2025", "4/5/2026", "when it is ready", "until June 2026 or so"])
def test_a_day_that_is_past_or_none_is_refused_and_the_one_before_stays(typed: str) -> None:
    kit = bench_kit()
    kit.bench.draft(decision="rest until", rest_until="1 June 2026")

    kit.bench.draft(rest_until=typed)

    assert kit.bench.card().trouble.startswith(f"“{typed}”")
    assert kit.desk.verdict().rest_until == date(2026, 6, 1)


def test_the_strip_tells_families_with_their_change() -> None:
    kit = bench_kit()
    kit.bench.next_infusion()
    for words in ("orchid 3, toasted rice 4", "orchid 4, toasted rice 2, white peach 1"):
        kit.steep(20)
        kit.bench.choose_step("flavour")
        kit.bench.say(words)
        kit.press()
    kit.bench.go_to("2")

    bars = {bar.name: bar.change for column in kit.bench.strip().columns if column.is_current for bar in column.bars}

    assert bars == {"Floral": "up 1", "Roasted": "down 2", "Fruity": "new"}


def test_what_is_said_of_the_wet_leaf_at_the_lid_is_not_missed_there() -> None:
    kit = bench_kit()
    kit.steep(5)
    kit.bench.say("butter 3, in the wet leaf spinach 4")
    kit.steep(20)
    kit.bench.go_to("0")

    tabs = {tab.name: (tab.state, tab.caption) for tab in kit.bench.card().tabs}

    assert tabs["Wet leaf"] == ("done", "1 family")
    assert {one.step for one in kit.desk.tasting.impressions} == {"lid"}


def test_a_closed_session_is_taken_up_again_by_the_pedal() -> None:
    kit = bench_kit()
    kit.steep(5)
    kit.bench.finish()
    kit.bench.finish()

    kit.press()

    assert kit.desk.tasting.session.is_open


@pytest.mark.parametrize("course", ["gaiwan", "comparison_cup", "lidded_cup_oolong", "cold_brew", "western_pot"])
def test_every_step_of_every_course_is_shown(course: str) -> None:
    kit = bench_kit(course=course)
    kit.steep(30)

    for column in kit.bench.strip().columns:
        kit.bench.go_to(column.key)
        for tab in kit.bench.card().tabs:
            kit.bench.choose_step(tab.key)

            assert kit.bench.view().card.prompt
