"""What is seen of the words being typed, how they are set right, and what Enter makes of it; no display is needed."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tastebook.domain.correcting import PartKey
from tastebook.presenters.bench.said_words import CHANGES, CHANNELS, FIELDS
from tastebook.presenters.bench.views import AromaSheet, ChipView, FinishSheet, LiquorSheet, MarkView, SayView
from tests.bench_kit import Kit, bench_kit
from tests.words import real_vocabulary

ORCHID = PartKey("descriptor", "orchid")
CLOUDBERRY = PartKey("unknown", "cloudberry")


def at(step: str, column: str = "1", **settings: object) -> Kit:
    """Return a Bench after rinse and first infusion, standing at a step."""
    kit = bench_kit(**settings)
    for _ in range(2):
        kit.press()
        kit.clock.advance(20)
        kit.press()
        kit.press()
    kit.bench.go_to(column)
    kit.bench.choose_step(step)
    return kit


def say(kit: Kit) -> SayView:
    return kit.bench.view().card.say


def typed(kit: Kit, text: str) -> SayView:
    kit.bench.type(text)
    return say(kit)


def marks(kit: Kit) -> dict[str, MarkView]:
    """Return the marks by the words that they stand under."""
    return {kit.bench.typed[mark.begin : mark.end]: mark for mark in say(kit).marks}


def chips(kit: Kit) -> dict[str, ChipView]:
    sheet = kit.bench.view().card.sheet
    assert isinstance(sheet, AromaSheet | FinishSheet)
    return {chip.key: chip for group in sheet.groups for chip in group.chips}


def noted(kit: Kit) -> dict[str, int]:
    return {one.descriptor: one.intensity for one in kit.desk.tasting.impressions}


def parts(kit: Kit) -> dict[str, str]:
    return {part.word: part.about for part in say(kit).parts}


# -- marks


def test_each_kind_of_words_is_marked_in_its_own_way() -> None:
    kit = at("flavour")

    typed(kit, "orchid, maybe rose, no smoke, silky, 88 degrees, cloudberry, ")

    assert {words: (mark.kind, mark.family) for words, mark in marks(kit).items()} == {
        "orchid": ("sure", "floral"), "rose": ("doubtful", "floral"), "smoke": ("absent", "roasted"),
        "silky": ("plain", ""), "88 degrees": ("number", ""), "cloudberry": ("new", "fruity"),
    }  # fmt: skip


def test_a_mark_says_what_the_words_are_and_from_which_that_was_read() -> None:
    kit = at("flavour")

    typed(kit, "maybe a faint orchid on the out-breath")

    told = "orchid 1, on the out-breath, doubtful; “maybe” → doubtful; “faint” → strength 1"
    assert marks(kit)["orchid"].told == told


def test_a_slip_that_was_put_right_is_told() -> None:
    kit = at("flavour")

    typed(kit, "osmantus 2")

    (mark,) = say(kit).marks
    assert "“osmantus” → osmanthus, a slip put right" in mark.told


def test_talk_is_not_marked() -> None:
    assert typed(at("flavour"), "well, good morning everyone").marks == ()


@pytest.mark.parametrize(
    ("step", "column"),
    [
        ("dry_leaf", "leaf"), ("lid", "0"), ("liquor", "1"), ("first_sip", "1"), ("flavour", "1"), ("empty_cup", "1"),
        ("finish", "close"), ("infused_leaf", "close"), ("body", "close"),
    ],
)  # fmt: skip
def test_every_step_with_a_say_line_shows_what_it_understands(step: str, column: str) -> None:
    kit = at(step, column)

    view = typed(kit, "a hint of orchid")

    assert [mark.kind for mark in view.marks] == ["sure"]
    assert "orchid 1" in view.told
    assert kit.bench.said.step(1)
    assert "hint of” → strength 1" in say(kit).note


def test_every_channel_change_and_field_of_the_grammar_has_words() -> None:
    grammar = real_vocabulary().grammar

    channels = {cue.key for cues in grammar.phrases.values() for cue in cues if cue.role == "channel"}
    assert channels - {"nose", ""} <= CHANNELS.keys()
    assert grammar.changes.keys() <= CHANGES.keys()
    assert {one.key for one in grammar.units} <= FIELDS.keys()


# -- ghosts


def test_what_is_typed_stands_on_the_board_with_channel_doubt_and_change() -> None:
    kit = at("flavour")

    typed(kit, "maybe rose, on the out-breath the honey fades, no smoke")

    ghosts = {key: (chip.about, chip.doubtful, chip.is_absent) for key, chip in chips(kit).items() if chip.pending}
    assert ghosts == {
        "rose": ("", True, False), "honey retronasal": ("on the out-breath, fades", False, False),
        "smoke": ("", False, True),
    }  # fmt: skip


def test_one_word_in_two_channels_is_two_chips_that_are_amended_apart() -> None:
    kit = at("flavour")
    kit.bench.say("peach 4, and on the nose a hint of peach")

    kit.bench.note("peach liquor nose", 3)
    both = {key: chip.intensity for key, chip in chips(kit).items()}
    kit.bench.remove_word("peach")

    assert both == {"peach": 4, "peach liquor nose": 3}
    assert [(one.channel, one.intensity) for one in kit.desk.tasting.impressions] == [("liquor nose", 3)]


def test_readings_are_ghosts_where_they_are_asked_for_and_parts_elsewhere() -> None:
    kit = at("first_sip")
    typed(kit, "silky")
    sliders = kit.bench.view().card.sheet.sliders  # type: ignore[union-attr]
    at_home = [(one.scale, one.value) for one in sliders if one.pending], parts(kit)

    kit = at("flavour")
    typed(kit, "silky")

    assert at_home == ([("surface", 5.0)], {})
    assert parts(kit) == {"Surface": "kept at First sip"}


def test_a_reading_that_no_step_of_the_column_asks_for_is_told_to_stay_words() -> None:
    kit = at("lid", "0")

    typed(kit, "silky")
    (part,) = kit.bench.card().say.parts
    kit.bench.said.step(1)

    assert parts(kit) == {"Surface 5": "words only"}
    assert part.value is None  # no strength is offered for what is not kept
    assert "0–5" not in kit.bench.card().say.note


def test_the_look_of_the_cup_said_elsewhere_is_told_with_where_it_goes() -> None:
    kit = at("flavour")
    typed(kit, "the liquor is amber")
    before = parts(kit)
    kit.bench.say("the liquor is amber")

    typed(kit, "the liquor is dark red")

    assert before == {"liquor amber": "kept with the cup"}
    assert parts(kit) == {"liquor dark red": "words only"}


def test_at_the_liquor_the_cup_fills_with_the_colour_as_it_is_said() -> None:
    kit = at("liquor")

    typed(kit, "amber, hazy")

    sheet = kit.bench.view().card.sheet
    assert isinstance(sheet, LiquorSheet)
    assert (sheet.clarity, sheet.change, bool(sheet.cup)) == ("dim", "as you say it", True)
    assert kit.desk.tasting.infusion(1).liquor is None  # type: ignore[union-attr]
    assert parts(kit) == {"liquor amber": "", "liquor dim": ""}


def test_a_likeness_is_seen_and_kept_as_words() -> None:
    kit = at("flavour")

    typed(kit, "honey 3. like a walk in the hills")

    assert parts(kit) == {"like a walk in the hills": "words only"}
    assert not kit.bench.said.part_of(PartKey("resembles", "like-a-walk-in-the-hills"))


# -- stepping through and setting right


def stations(kit: Kit, direction: int = 1) -> list[str]:
    found = []
    while kit.bench.said.step(direction):
        chosen = next(mark for mark in say(kit).marks if mark.is_chosen)
        found.append(kit.bench.typed[chosen.begin : chosen.end])
    return found


def test_the_parts_are_stepped_through_in_the_order_of_the_text_and_left_at_either_end() -> None:
    kit = at("flavour")
    typed(kit, "orchid, silky, no smoke, 88 degrees")

    forth = stations(kit)
    kit.bench.said.step(1)
    kit.bench.said.step(1)

    assert forth == ["orchid", "silky", "smoke", "88 degrees"]
    assert stations(kit, -1) == ["orchid"]
    assert not say(kit).is_choosing


def test_a_digit_sets_the_strength_of_the_chosen_part_and_enter_records_it() -> None:
    kit = at("flavour")
    typed(kit, "a faint orchid, rose")
    kit.bench.said.step(1)

    kit.bench.said.set_value(None, 4)
    ghost = chips(kit)["orchid"]
    note = say(kit).note
    kit.bench.say(kit.bench.typed)

    assert (ghost.intensity, ghost.chosen) == (4, True)
    assert "set by you to 4" in note
    assert noted(kit) == {"orchid": 4, "rose": 3}


def test_nothing_is_recorded_before_enter() -> None:
    kit = at("flavour")
    typed(kit, "orchid, rose")
    acts = len(kit.journal.acts(kit.desk.scope))

    kit.bench.said.step(1)
    kit.bench.said.set_value(None, 4)
    kit.bench.note("rose", 1)
    kit.bench.remove_word("orchid")

    assert len(kit.journal.acts(kit.desk.scope)) == acts


def test_corrections_stay_while_one_types_on_and_go_with_their_words() -> None:
    kit = at("flavour")
    typed(kit, "orchid 4")
    kit.bench.note("orchid", 1)

    typed(kit, "orchid 4, rose")
    kept = chips(kit)["orchid"].intensity
    typed(kit, "rose")
    typed(kit, "rose, orchid 4")

    assert (kept, chips(kit)["orchid"].intensity) == (1, 4)


def test_corrections_do_not_outlive_the_words_that_were_taken() -> None:
    kit = at("flavour")
    typed(kit, "orchid 4")
    kit.bench.note("orchid", 1)
    kit.bench.say("orchid 4")

    typed(kit, "orchid 5")

    assert chips(kit)["orchid"].intensity == 5


def test_what_is_dropped_stays_in_the_words_can_be_taken_up_again_and_is_not_recorded() -> None:
    kit = at("flavour")
    typed(kit, "velvet rose, orchid")
    kit.bench.said.choose(ORCHID)

    kit.bench.said.drop(None)
    dropped = (parts(kit), marks(kit)["orchid"].kind, "orchid" in chips(kit))
    kit.bench.said.drop(None)
    again = chips(kit)["orchid"].intensity
    kit.bench.said.drop(None)
    kit.bench.say(kit.bench.typed)

    assert dropped == ({"orchid": "words only"}, "dropped", False)
    assert again == 3
    assert "orchid" not in noted(kit)
    assert [one.text for one in kit.desk.tasting.sayings] == ["velvet rose, orchid"]


def test_a_digit_takes_a_dropped_part_up_again() -> None:
    kit = at("flavour")
    typed(kit, "orchid")
    kit.bench.remove_word("orchid")

    kit.bench.said.set_value(ORCHID, 2)

    assert chips(kit)["orchid"].intensity == 2


def test_a_ghost_reading_is_set_right_by_its_slider_and_dropped_by_clearing_it() -> None:
    kit = at("first_sip")
    typed(kit, "silky, body 4")

    kit.bench.read("surface", 3)
    kit.bench.clear_reading("body")
    kit.bench.say(kit.bench.typed)

    assert [(one.scale, one.value) for one in kit.desk.tasting.readings] == [("surface", 3)]


def test_what_was_noted_before_is_amended_once_its_words_are_not_typed() -> None:
    kit = at("flavour")
    kit.bench.say("orchid 4")

    kit.bench.note("orchid", 2)

    assert noted(kit) == {"orchid": 2}


def test_undo_takes_back_words_and_corrections_at_once() -> None:
    kit = at("flavour")
    typed(kit, "orchid, cloudberry, ")
    kit.bench.note("orchid", 5)
    kit.bench.say(kit.bench.typed)
    after = noted(kit)

    kit.bench.undo()

    assert after == {"orchid": 5, "cloudberry": 3}
    assert noted(kit) == {}
    assert not kit.words().has("cloudberry")


def test_typing_goes_back_to_the_words() -> None:
    kit = at("flavour")
    typed(kit, "orchid")
    kit.bench.said.step(1)

    assert say(kit).is_choosing
    assert not typed(kit, "orchid ").is_choosing


PASSAGES = st.sampled_from(
    ["orchid 3", "orchid 3, rose", "silky, 88 degrees", "cloudberry, ", "no smoke, hazy", "", "🍑 peach\nrose"]
)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.one_of(
            st.tuples(st.just("type"), PASSAGES),
            st.tuples(st.sampled_from(["step", "set", "drop", "family", "number", "explain", "say", "undo"]),
                      st.integers(-1, 5)),
        ),
        max_size=14,
    ),
    st.sampled_from([("flavour", "1"), ("liquor", "1"), ("finish", "close"), ("dry_leaf", "leaf")]),
)  # fmt: skip
def test_no_order_of_gestures_loses_words_or_leaves_nothing_to_see(
    gestures: list[tuple[str, Any]], place: tuple[str, str]
) -> None:
    kit = at(*place)
    bench = kit.bench
    acts = {
        "type": bench.type, "step": lambda n: bench.said.step(1 if n > 0 else -1),
        "set": lambda n: bench.said.set_value(None, max(0, n)), "drop": lambda _: bench.said.drop(None),
        "family": lambda _: bench.press_family("woody"), "number": lambda _: bench.take_number(),
        "explain": lambda _: bench.said.explain(), "say": lambda _: bench.say(bench.typed),
        "undo": lambda _: bench.undo(),
    }  # fmt: skip
    for name, given_value in gestures:
        before, sayings = bench.typed, [one.text for one in kit.desk.tasting.sayings]

        acts[name](given_value)

        view = bench.view().card.say
        assert view.typed == bench.typed
        assert all(0 <= mark.begin < mark.end <= len(view.typed) for mark in view.marks)
        if name == "say" and before.strip():
            assert bench.typed == before or [one.text for one in kit.desk.tasting.sayings] != sayings


# -- new words


def test_a_new_word_is_asked_about_once_it_is_ended() -> None:
    kit = at("flavour")

    assert typed(kit, "cloudberry").note == ""
    assert typed(kit, "cloudberry ").note.startswith("“cloudberry” is new: fruity? Enter keeps it so")


def test_a_family_pressed_answers_the_question_and_can_be_pressed_again() -> None:
    kit = at("flavour")
    typed(kit, "cloudberry, ")

    kit.bench.press_family("floral")
    kit.bench.press_family("herbal")
    group = chips(kit)["cloudberry"].family
    kit.bench.say(kit.bench.typed)

    assert group == "herbal"
    assert kit.words().family_of("cloudberry") == "herbal"


def test_of_two_new_words_each_is_asked_about_in_turn() -> None:
    kit = at("flavour")
    typed(kit, "cloudberry, wet velvet, ")
    first = say(kit).note

    kit.bench.press_family("fruity")

    assert first.startswith("“cloudberry”")
    assert say(kit).note.startswith("“wet velvet” is new")


def test_a_new_word_that_was_dropped_is_not_asked_about_again_even_unsaid() -> None:
    kit = at("flavour")
    typed(kit, "cloudberry, ")
    kit.bench.said.drop(CLOUDBERRY)
    kit.bench.type("")

    view = typed(kit, "cloudberry, ")

    assert (view.note, view.marks) == ("", ())
    kit.bench.say("cloudberry")
    assert noted(kit) == {}


def test_nor_is_it_at_another_tasting_unless_a_strength_is_said_with_it() -> None:
    kit = at("flavour")
    typed(kit, "cloudberry, ")
    kit.bench.said.drop(CLOUDBERRY)
    kit.bench.say(kit.bench.typed)
    later = kit.bench_at(kit.desk)
    later.go_to("1")
    later.choose_step("flavour")

    later.type("cloudberry, ")
    silent = later.view().card.say.note
    later.type("cloudberry 4, ")

    assert silent == ""
    assert later.view().card.say.note.startswith("“cloudberry” is new")


# -- numbers


def test_numbers_are_offered_and_change_nothing_by_themselves() -> None:
    kit = at("flavour")
    before = kit.desk.tasting.infusion(1), kit.desk.tasting.session

    view = typed(kit, "88 degrees, forty seconds, 6 grams")
    kit.bench.say(kit.bench.typed)

    assert [offer.words for offer in view.offers] == [
        "water 88 °C, infusion 1", "steep 40 s, infusion 1", "leaf 6 g, session",
    ]  # fmt: skip
    assert (kit.desk.tasting.infusion(1), kit.desk.tasting.session) == before


def test_numbers_are_taken_one_after_the_other_each_its_own_act() -> None:
    kit = at("flavour")
    typed(kit, "88 degrees, forty seconds, 6 grams")

    for _ in range(3):
        kit.bench.take_number()
    cup, session = kit.desk.tasting.infusion(1), kit.desk.tasting.session
    labels = [kit.bench.view().undo]
    kit.bench.undo()
    labels.append(kit.bench.view().undo)

    assert cup is not None
    assert (cup.water_c, cup.actual_ms, session.leaf_g) == (88, 40_000, 6)
    assert labels == ["leaf 6 g", "Infusion 1: 40 s in water"]
    assert kit.desk.tasting.session.leaf_g == 6.5
    assert kit.bench.typed == "88 degrees, forty seconds, 6 grams"


def test_a_number_is_still_offered_after_enter_until_something_else_is_said() -> None:
    kit = at("flavour")
    typed(kit, "88 degrees, rose")
    kit.bench.say(kit.bench.typed)
    after = [offer.words for offer in say(kit).offers]

    kit.bench.take_number()

    assert after == ["water 88 °C, infusion 1"]
    assert say(kit).offers == ()
    assert kit.desk.tasting.infusion(1).water_c == 88  # type: ignore[union-attr]


@pytest.mark.parametrize(
    "words",
    [
        "plan 30 seconds",
        "orchid 3, next one thirty seconds",
        "I'll give it 30 seconds next time",
        "planning 30 seconds",
    ],
)
def test_a_plan_said_at_a_poured_cup_is_for_the_steep_that_comes(words: str) -> None:
    kit = at("flavour")
    poured = kit.desk.tasting.infusion(1)

    offers = [offer.words for offer in typed(kit, words).offers]
    kit.bench.take_number()

    assert offers == ["plan 30 s, infusion 2"]
    assert kit.desk.tasting.infusion(1) == poured
    assert kit.desk.planned_s(2) == 30


def test_a_steep_and_the_next_plan_said_together_go_each_to_its_own() -> None:
    kit = at("flavour")

    view = typed(kit, "steeped 40 seconds, next one 30 seconds")

    assert [one.words for one in view.offers] == ["steep 40 s, infusion 1", "plan 30 s, infusion 2"]


def test_what_had_been_planned_for_a_poured_cup_is_no_ones_field() -> None:
    kit = at("flavour")

    assert [one.words for one in typed(kit, "planned 30 seconds but it got 42 seconds").offers] == [
        "steep 42 s, infusion 1"
    ]


def test_at_a_column_without_a_cup_a_number_is_for_the_infusion_that_comes() -> None:
    kit = bench_kit()

    typed(kit, "water 92 degrees, 12 seconds")
    kit.bench.take_number()
    kit.bench.take_number()

    timer = kit.bench.timer()
    assert (timer.water, timer.plan_value) == ("92 °C", "12 s")


def test_degrees_are_offered_in_the_scale_that_is_shown() -> None:
    kit = at("flavour", fahrenheit=True)

    assert [one.words for one in typed(kit, "190 degrees").offers] == ["water 190 °F, infusion 1"]


def test_a_number_that_cannot_be_is_refused_in_words_and_stays_offered() -> None:
    kit = at("flavour")
    typed(kit, "5 ml")
    assert [one.words for one in say(kit).offers] == ["vessel 5 ml, session"]

    kit.bench.take_number()

    assert "volume cannot be 5 ml" in kit.bench.view().card.trouble
    assert len(say(kit).offers) == 1


def test_a_number_that_is_dropped_is_offered_no_more() -> None:
    kit = at("flavour")
    typed(kit, "88 degrees")

    kit.bench.said.drop(PartKey("quantity", "water_c"))

    assert say(kit).offers == ()


# -- meanings, and what was said here


def test_the_meaning_of_a_chosen_fault_is_told_with_its_cause_until_one_goes_on() -> None:
    kit = at("flavour")
    typed(kit, "scorched")
    kit.bench.said.step(1)

    kit.bench.said.explain()
    told = say(kit).note
    kit.bench.said.step(-1)

    assert told.startswith("Scorched: ")
    assert "A fault" in told
    assert kit.words().descriptor("scorched").cause in told
    assert not say(kit).note.startswith("Scorched: ")


def test_a_word_of_ones_own_has_a_meaning_to_tell_too() -> None:
    kit = at("flavour")

    kit.bench.said.explain("wet velvet")

    assert "word of your own" in say(kit).note


def test_what_was_said_here_stands_beside_what_it_gave() -> None:
    kit = at("flavour")
    kit.bench.say("maybe a faint orchid, no smoke, silky")
    kit.bench.say("good morning")

    first, second = say(kit).here

    assert (first.text, first.gave) == ("maybe a faint orchid, no smoke, silky", "orchid 1, no smoke, Surface 5")
    assert (second.text, second.gave) == ("good morning", "words only")
    assert first.when == "10:30"


def test_new_words_that_sound_like_talk_are_asked_about_and_left_as_words_by_enter() -> None:
    kit = at("flavour")
    view = typed(kit, "tram the quay, ")
    as_words = parts(kit), "tram-the-quay" in chips(kit)

    kit.bench.press_family("mineral")
    kit.bench.say(kit.bench.typed)

    assert view.note.endswith("press its family to keep it; Enter leaves it as words.")
    assert as_words == ({"tram the quay": "words only"}, False)
    assert noted(kit) == {"tram-the-quay": 3}


def test_the_name_and_the_number_of_a_scale_explain_themselves() -> None:
    kit = at("first_sip")

    typed(kit, "body 4, silky")

    assert [mark.told for mark in say(kit).marks] == [
        "Body 4 (thick)",
        "Surface 5 (silky); “silky” → Surface 5 (silky)",
    ]


@pytest.mark.parametrize("typed", ["clear", "silky", "water 90 degrees"])
def test_what_means_something_as_it_stands_is_not_offered_otherwise(typed: str) -> None:
    kit = bench_kit()
    kit.steep(20)
    kit.bench.choose_step("flavour")

    assert kit.bench.completions(typed) == ()
    assert kit.bench.completions("ceda") != ()


def test_a_step_at_which_only_words_were_kept_is_not_said_to_have_nothing() -> None:
    kit = bench_kit()
    kit.steep(5)
    kit.press()
    kit.steep(20)
    kit.bench.choose_step("flavour")

    kit.bench.say("silky and thick")

    tab = next(one for one in kit.bench.card().tabs if one.key == "flavour")
    assert tab.caption.startswith("in words")


def test_on_another_day_times_are_told_with_their_date() -> None:
    kit = at("flavour")
    kit.bench.say("peach 3")
    today = kit.bench.view()

    kit.clock.advance(24 * 3600)
    kit.bench.say("apricot 2")

    then = kit.bench.view()
    assert ", since " in today.header.facts
    assert "2026" not in today.header.facts
    assert not any(char.isalpha() for one in today.card.say.here for char in one.when)
    assert "2026, " in then.header.facts
    assert [", " in one.when for one in then.card.say.here] == [True, False]
    assert [one.late for one in kit.desk.tasting.impressions] == [False, True]
