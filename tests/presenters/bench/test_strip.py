"""The infusion strip: which columns there are, and what each of them tells."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.presenters.bench.strip import column_key, domain_column
from tastebook.presenters.bench.views import ColumnView
from tests.bench_kit import Kit, bench_kit


def columns(kit: Kit) -> dict[str, ColumnView]:
    return {column.key: column for column in kit.bench.strip().columns}


def bars(kit: Kit, key: str) -> dict[str, str]:
    """Return the families of a column with their change."""
    return {bar.name: bar.change for bar in columns(kit)[key].bars}


def taste(kit: Kit, words: str, seconds: float = 20) -> None:
    """Steep the infusion at hand, say what it tastes of, and go on to the next."""
    kit.steep(seconds)
    kit.bench.choose_step("flavour")
    kit.bench.say(words)
    kit.press()


def after_the_rinse() -> Kit:
    """Return a Bench at which the rinse was passed over and infusion 1 is planned at 20 s."""
    kit = bench_kit()
    kit.bench.next_infusion()
    kit.bench.type_plan("20")
    return kit


def test_a_session_begins_with_leaf_rinse_and_close() -> None:
    strip = bench_kit().bench.strip()

    assert [(column.key, column.kind) for column in strip.columns] == [
        ("leaf", "leaf"),
        ("0", "next"),
        ("close", "close"),
    ]
    assert strip.columns[strip.current].key == "leaf"


def test_a_course_without_a_rinse_has_no_column_for_it() -> None:
    assert list(columns(bench_kit(course="western_pot"))) == ["leaf", "1", "close"]


def test_each_infusion_begun_has_a_column_and_so_has_the_one_to_come() -> None:
    kit = bench_kit()
    kit.steep(5)
    kit.press()
    kit.steep(20)

    assert [(one.key, one.kind) for one in columns(kit).values()] == [
        ("leaf", "leaf"),
        ("0", "rinse"),
        ("1", "infusion"),
        ("2", "next"),
        ("close", "close"),
    ]


def test_no_infusion_is_announced_beyond_what_the_course_asks_for() -> None:
    kit = bench_kit(course="comparison_cup")

    kit.steep(30)

    assert list(columns(kit)) == ["leaf", "1", "close"]


def test_one_more_infusion_than_the_course_asks_for_is_shown_once_it_is_begun() -> None:
    kit = bench_kit(course="comparison_cup")
    kit.steep(30)
    kit.press()

    kit.steep(30)

    assert list(columns(kit)) == ["leaf", "1", "2", "close"]


def test_the_column_one_stands_at_stays_when_its_infusion_is_taken_back() -> None:
    kit = bench_kit(course="comparison_cup")
    kit.steep(30)
    kit.press()
    kit.steep(30)

    kit.bench.undo()
    kit.bench.undo()

    assert columns(kit)["2"].is_current
    kit.bench.go_beside(-1)
    assert columns(kit)["1"].is_current


def test_the_current_column_is_called_by_its_full_name() -> None:
    kit = after_the_rinse()
    taste(kit, "orchid 3")
    taste(kit, "orchid 3")

    titles = {key: column.title for key, column in columns(kit).items()}

    assert titles == {"leaf": "Leaf", "0": "Rinse", "1": "1", "2": "Infusion 2", "3": "3", "close": "Close"}


def test_the_leaf_tells_how_much_there_is_and_whether_by_eye() -> None:
    kit = bench_kit()
    session = kit.desk.tasting.session
    leaf = columns(kit)["leaf"]

    kit.desk.tasting = replace(kit.desk.tasting, session=replace(session, leaf_by_eye=True))
    by_eye = columns(kit)["leaf"]
    kit.desk.tasting = replace(kit.desk.tasting, session=replace(session, leaf_g=None))
    unknown = columns(kit)["leaf"]

    assert [(one.big, one.small) for one in (leaf, by_eye, unknown)] == [
        ("6.5 g", "dry leaf"),
        ("6.5 g", "by eye"),
        ("leaf", "dry leaf"),
    ]


def test_a_steep_counts_up_beside_its_plan_while_it_runs() -> None:
    kit = after_the_rinse()
    kit.press()
    kit.clock.advance(12.9)

    column = columns(kit)["1"]

    assert (column.big, column.live, column.status, column.deviation_s) == ("12 s", (12, 20), "steeping", 0)
    assert column.small == "of 20 s, 95 °C"


def test_a_steep_over_its_plan_says_so() -> None:
    kit = after_the_rinse()
    kit.press()
    kit.clock.advance(20)
    at_plan = columns(kit)["1"]

    kit.clock.advance(1)

    assert (at_plan.is_over, columns(kit)["1"].is_over, columns(kit)["1"].status) == (False, True, "over plan")


@pytest.mark.parametrize(("seconds", "deviation_s"), [(20, 0), (20.4, 0), (22.6, 3), (17, -3)])
def test_a_poured_steep_tells_how_far_it_was_from_its_plan(seconds: float, deviation_s: int) -> None:
    kit = after_the_rinse()

    kit.steep(seconds)

    column = columns(kit)["1"]
    assert column.deviation_s == deviation_s
    assert column.live is None
    assert column.status.startswith("poured ")


def test_water_is_told_in_the_scale_that_the_user_reads() -> None:
    kit = bench_kit(fahrenheit=True)

    assert columns(kit)["0"].small == "planned, 203 °F"  # 95 °C exactly, by definition of the scales


def test_families_stand_in_the_order_of_the_vocabulary_whatever_was_said_first() -> None:
    kit = after_the_rinse()
    taste(kit, "toasted rice 2, orchid 3, white peach 1")
    order = [family.name for family in kit.words().families]

    names = [bar.name for bar in columns(kit)["1"].bars]

    assert names == sorted(names, key=order.index)
    assert set(names) == {"Roasted", "Floral", "Fruity"}


def test_strengths_of_a_family_add_up_as_vectors_at_right_angles() -> None:
    kit = after_the_rinse()
    taste(kit, "orchid 3, jasmine 2, no rose")

    (floral,) = columns(kit)["1"].bars

    assert floral.strength == pytest.approx(13**0.5)  # √(3² + 2²), the worked example of model.md: {3, 2} is 3.61
    assert floral.pips == 4


def test_the_change_is_told_against_the_last_infusion_that_was_assessed() -> None:
    kit = after_the_rinse()
    taste(kit, "orchid 3, toasted rice 3, nectar 1")
    kit.steep(25)  # infusion 2 is poured, and nothing is noted
    kit.press()
    taste(kit, "orchid 3, toasted rice 1, nectar 3, white peach 2")

    assert bars(kit, "2") == {}
    assert bars(kit, "3") == {"Floral": "stays", "Roasted": "down 2", "Sweet": "up 2", "Fruity": "new"}


def test_the_first_infusion_that_was_assessed_is_compared_with_nothing() -> None:
    kit = after_the_rinse()

    taste(kit, "orchid 3")

    assert bars(kit, "1") == {"Floral": ""}


def test_nothing_noted_and_nothing_there_are_told_apart() -> None:
    kit = after_the_rinse()
    kit.steep(20)
    kit.bench.choose_step("flavour")
    not_assessed = columns(kit)["1"].is_assessed

    kit.bench.say("nothing")

    column = columns(kit)["1"]
    assert (not_assessed, column.is_assessed, column.bars) == (False, True, ())


def test_an_infusion_with_nothing_noted_lists_what_the_last_one_had_strongest_place_first() -> None:
    kit = after_the_rinse()
    taste(kit, "orchid 3, toasted rice 4")
    kit.steep(25)

    column = columns(kit)["2"]

    assert column.before_title == "In infusion 1 there was"
    assert {bar.name: bar.pips for bar in column.before} == {"Floral": 3, "Roasted": 4}
    kit.bench.choose_step("flavour")
    kit.bench.say("orchid 2")
    assert columns(kit)["2"].before == ()


def test_what_the_rinse_gave_is_listed_under_its_own_name() -> None:
    kit = bench_kit()
    kit.steep(5)
    kit.bench.choose_step("lid")
    kit.bench.say("toasted rice 3")
    kit.press()
    kit.steep(20)

    assert columns(kit)["1"].before_title == "On the rinse there was"


def test_liquor_is_told_in_words_and_with_what_changed() -> None:
    kit = after_the_rinse()
    kit.steep(20)
    kit.bench.choose_step("liquor")
    kit.bench.choose_swatch(1, 4)
    kit.bench.choose_clarity("brilliant")
    kit.press()
    kit.steep(25)
    kit.bench.choose_step("liquor")
    kit.bench.choose_swatch(3, 4)

    first, second = columns(kit)["1"], columns(kit)["2"]

    assert first.words[0].endswith(", brilliant")
    assert first.words[1] == ""
    assert "deeper than 1" in second.words[1]
    assert first.cup.startswith("#")
    assert first.cup != second.cup


def test_clarity_alone_is_told_without_a_colour() -> None:
    kit = after_the_rinse()
    kit.steep(20)
    kit.bench.choose_step("liquor")

    kit.bench.choose_clarity("dim")

    assert columns(kit)["1"].words == ("dim", "")
    assert columns(kit)["1"].cup == ""


def test_the_close_tells_the_decision() -> None:
    kit = bench_kit()
    before = columns(kit)["close"]

    kit.bench.draft(decision="buy")

    assert (before.big, before.small) == ("open", "verdict")
    assert columns(kit)["close"].big == "buy"


def test_columns_read_out_what_they_show() -> None:
    kit = after_the_rinse()
    taste(kit, "orchid 3, toasted rice 4")

    told = {key: column.accessible for key, column in columns(kit).items()}

    assert told == {
        "leaf": "Leaf, 6.5 g, nothing noted",
        "0": "Rinse, left out",
        "1": "Infusion 1, 20 s at 95 °C, Floral 3 and Roasted 4",
        "2": "Infusion 2, not begun, plan 25 s at 95 °C",
        "close": "Close, verdict: none yet, nothing noted",
    }


@pytest.mark.parametrize("key", ["leaf", "0", "1", "12", "close"])
def test_a_column_of_the_tasting_has_one_key_and_back(key: str) -> None:
    assert column_key(domain_column(key)) == key


@given(st.lists(st.sampled_from(["orchid 3", "toasted rice 2, nectar 5", "", "nothing"]), max_size=6))
def test_every_infusion_tells_of_all_families_that_changed(sayings: list[str]) -> None:
    kit = after_the_rinse()
    for words in sayings:
        kit.steep(20)
        kit.bench.choose_step("flavour")
        kit.bench.say(words)
        kit.press()

    told = [column for column in kit.bench.strip().columns if column.kind == "infusion"]

    assert [bool(column.bars) for column in told] == [words not in ("", "nothing") for words in sayings]
    assert all(bar.change for column in told for bar in column.bars if column is not _first_with_bars(told))


def _first_with_bars(columns: list[ColumnView]) -> ColumnView | None:
    return next((column for column in columns if column.bars), None)
