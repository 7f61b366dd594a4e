"""Until when each sense can be caught, and where every step stands meanwhile.

The order of steps and what ends them are those of the gaiwan course that ships: *common practice, no source*.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.catching import LONGEST_FRESH_S, StepState, column_of, is_past, is_possible, step_state
from tastebook.domain.course import Stage, Step
from tastebook.domain.session import Infusion, Reading, Saying, StepMark, Tasting, Verdict
from tastebook.domain.steep import Instant
from tests.domain.building import MORNING_UTC, marked, said, shipped_course, tasting

GAIWAN = shipped_course()


def at(seconds: float) -> Instant:
    """Return a moment, in seconds after the session began."""
    return Instant(MORNING_UTC + timedelta(seconds=seconds), 1000.0 + seconds, "boot-1")


def steeped(index: int, water_on_s: float, poured_s: float | None = None) -> Infusion:
    """Return an infusion in water since one moment and, if it was poured, until another."""
    cup = Infusion(f"infusion-{index}", "session", index, planned_s=20, started=at(water_on_s))
    if poured_s is None:
        return cup
    return replace(cup, poured=at(poured_s), actual_ms=round((poured_s - water_on_s) * 1000))


def with_cups(*cups: Infusion) -> Tasting:
    return replace(tasting(), infusions=cups)


def read(step: str, infusion: int | None, *, late: bool = False) -> Reading:
    return Reading(f"reading-{step}", "session", step, infusion, "body", 3, MORNING_UTC, late)


def spoke(step: str, infusion: int | None, *, late: bool = False) -> Saying:
    return Saying(f"saying-{step}", "session", step, infusion, "hm", MORNING_UTC, late)


RINSE, FIRST = steeped(0, 60, 65), steeped(1, 300, 320)
MOMENTS: dict[str, tuple[Tasting, Instant]] = {
    "at the start": (tasting(), at(0)),
    "rinse in water": (with_cups(steeped(0, 60)), at(62)),
    "rinse poured": (with_cups(RINSE), at(66)),
    "a minute after": (with_cups(RINSE), at(65 + 61)),
    "three minutes after": (with_cups(RINSE), at(65 + 181)),
    "1 in water": (with_cups(RINSE, steeped(1, 300)), at(310)),
    "1 poured": (with_cups(RINSE, FIRST), at(321)),
    "two minutes after 1": (with_cups(RINSE, FIRST), at(320 + 121)),
    "ten minutes after 1": (with_cups(RINSE, FIRST), at(320 + 601)),
    "2 in water": (with_cups(RINSE, FIRST, steeped(2, 330)), at(340)),
    "2 poured": (with_cups(RINSE, FIRST, steeped(2, 330, 355)), at(356)),
}
"""A session with nothing noted: each moment in turn; 2 follows soon after 1, so that no time ends what it does."""

WORDS = {"w": "waiting", "t": "todo", "-": "missed"}
EXPECTED: dict[tuple[str, int | None], str] = {
    #                       moments, in the order of MOMENTS
    ("dry_leaf", None):     "t - - - - - - - - - -",
    ("warmed_leaf", None):  "t - - - - - - - - - -",
    ("lid", 0):             "w w t - - - - - - - -",
    ("wet_leaf", 0):        "w w t t - - - - - - -",
    ("liquor", 1):          "w w w w w w t t t - -",
    ("first_sip", 1):       "w w w w w w t - - t -",
    ("flavour", 1):         "w w w w w w t t t t -",
    ("empty_cup", 1):       "w w w w w w t t - t -",
    ("finish", None):       "w w t t t t t t t t t",
    ("infused_leaf", None): "w w t t t t t t t t t",
    ("body", None):         "w w t t t t t t t t t",
    ("verdict", None):      "w w t t t t t t t t t",
}  # fmt: skip


def test_every_step_of_the_gaiwan_course_is_in_the_table() -> None:
    assert [step.key for step in GAIWAN.steps] == [key for key, _ in EXPECTED]


@pytest.mark.parametrize(("place", "states"), EXPECTED.items(), ids=lambda one: one[0] if len(one) == 2 else "")
def test_what_was_not_attended_to_waits_then_can_be_done_then_is_missed(
    place: tuple[str, int | None], states: str
) -> None:
    step = GAIWAN.step(place[0])

    seen = [step_state(kept, step, place[1], now) for kept, now in MOMENTS.values()]

    expected = [WORDS[letter] for letter in states.split()]
    assert dict(zip(MOMENTS, seen, strict=True)) == dict(zip(MOMENTS, expected, strict=True))


@pytest.mark.parametrize(
    ("key", "index", "limit_s"), [("lid", 0, 60), ("wet_leaf", 0, 180), ("first_sip", 1, 120), ("empty_cup", 1, 600)]
)
def test_a_sense_stays_fresh_until_its_time_is_over_to_the_millisecond(key: str, index: int, limit_s: int) -> None:
    cups = with_cups(steeped(index, 100, 120))
    step = GAIWAN.step(key)
    assert step.late_after_s == limit_s

    states = [step_state(cups, step, index, at(120 + seconds)) for seconds in (0, limit_s, limit_s + 0.001)]

    assert states == ["todo", "todo", "missed"]


def test_later_infusions_that_were_only_planned_end_nothing() -> None:
    planned = Infusion("infusion-2", "session", 2, planned_s=30)

    state = step_state(with_cups(FIRST, planned), GAIWAN.step("liquor"), 1, at(330))

    assert state == "todo"


def test_the_water_of_the_same_cup_does_not_end_what_it_gives() -> None:
    state = step_state(with_cups(RINSE, FIRST), GAIWAN.step("first_sip"), 1, at(321))

    assert state == "todo"


def test_any_water_ends_the_dry_leaf_also_without_a_rinse() -> None:
    assert step_state(with_cups(steeped(1, 10)), GAIWAN.step("dry_leaf"), None, at(11)) == "missed"


def test_a_rinse_that_was_passed_over_is_missed_once_there_is_other_water() -> None:
    before = step_state(tasting(), GAIWAN.step("lid"), 0, at(0))
    after = step_state(with_cups(steeped(1, 10)), GAIWAN.step("lid"), 0, at(11))

    assert (before, after) == ("waiting", "missed")


def test_time_at_the_close_counts_from_the_last_cup() -> None:
    hurried = replace(GAIWAN.step("finish"), late_after_s=90)
    cups = with_cups(RINSE, FIRST)

    assert not is_past(cups, hurried, None, at(320 + 90))
    assert is_past(cups, hurried, None, at(320 + 91))


@pytest.mark.parametrize("step", [one for one in GAIWAN.steps if one.stage == "close"], ids=lambda one: one.key)
def test_months_later_nothing_of_the_last_cup_is_caught_fresh_but_a_verdict_still_is(step: Step) -> None:
    cups = with_cups(RINSE, FIRST)

    within, beyond, months = (
        is_past(cups, step, None, at(320 + later_s)) for later_s in (LONGEST_FRESH_S, LONGEST_FRESH_S + 1, 180 * 86400)
    )

    assert not within
    assert beyond == months == (step.sheet != "verdict")


def test_words_added_to_the_last_cup_after_a_night_come_late() -> None:
    flavour = GAIWAN.step("flavour")

    assert not is_past(with_cups(FIRST), flavour, 1, at(320 + 3600))
    assert is_past(with_cups(FIRST), flavour, 1, at(320 + 12 * 3600))


def test_a_restart_of_the_machine_leaves_the_wall_clock_to_tell_what_is_late() -> None:
    later = Instant(MORNING_UTC + timedelta(seconds=320 + 121), 5.0, "boot-2")

    assert is_past(with_cups(FIRST), GAIWAN.step("first_sip"), 1, later)


Record = Callable[[Tasting, str, int | None, bool], Tasting]

RECORDED: dict[str, Record] = {
    "an impression": lambda one, key, column, late: replace(
        one, impressions=(said("orchid", 3, column, step=key, late=late),)
    ),
    "a reading": lambda one, key, column, late: replace(one, readings=(read(key, column, late=late),)),
    "words": lambda one, key, column, late: replace(one, sayings=(spoke(key, column, late=late),)),
}
STEPS = [step for step in GAIWAN.steps if step.sheet != "verdict"]


def column(step: Step) -> int | None:
    return column_of(step.stage, 1)


@pytest.mark.parametrize("late", [False, True])
@pytest.mark.parametrize("record", RECORDED.values(), ids=RECORDED)
@pytest.mark.parametrize("step", STEPS, ids=lambda step: step.key)
def test_whatever_was_recorded_makes_a_step_done_or_late(step: Step, record: Record, late: bool) -> None:
    kept = record(with_cups(RINSE, FIRST, steeped(2, 330, 355)), step.key, column(step), late)

    state = step_state(kept, step, 1, at(10_000))

    assert state == ("late" if late else "done")


@pytest.mark.parametrize("step", STEPS, ids=lambda step: step.key)
def test_one_thing_caught_fresh_makes_a_step_done_whatever_was_added_late(step: Step) -> None:
    kept = with_cups(RINSE, FIRST)
    kept = RECORDED["words"](kept, step.key, column(step), False)
    kept = RECORDED["an impression"](kept, step.key, column(step), True)

    assert step_state(kept, step, 1, at(10_000)) == "done"


@pytest.mark.parametrize("step", GAIWAN.steps, ids=lambda step: step.key)
def test_what_was_recorded_elsewhere_leaves_a_step_as_it_is(step: Step) -> None:
    kept = with_cups(RINSE, FIRST)
    before = step_state(kept, step, 1, at(321))

    kept = RECORDED["an impression"](kept, "another", column(step), False)
    kept = RECORDED["a reading"](kept, step.key, 7, False)

    assert step_state(kept, step, 1, at(321)) == before


@pytest.mark.parametrize(
    ("seen", "state"),
    [
        ({"liquor": (60.0, 10.0, 40.0)}, "done"),
        ({"clarity": "clear"}, "done"),
        ({"liquor": (60.0, 10.0, 40.0), "liquor_late": True}, "late"),
        ({"clarity": "clear", "liquor_late": True}, "late"),
        ({}, "todo"),
    ],
)
def test_a_liquor_is_done_once_its_colour_or_clarity_was_seen(seen: dict[str, object], state: StepState) -> None:
    cup = replace(FIRST, **seen)  # type: ignore[arg-type]

    assert step_state(with_cups(RINSE, cup), GAIWAN.step("liquor"), 1, at(321)) == state


@pytest.mark.parametrize(("decision", "state"), [("buy", "done"), ("decline", "done"), ("", "todo")])
def test_a_verdict_is_done_once_there_is_a_decision(decision: str, state: StepState) -> None:
    kept = replace(with_cups(FIRST), verdict=Verdict("verdict", "session", decision, headline="Sound."))

    assert step_state(kept, GAIWAN.step("verdict"), None, at(321)) == state


@pytest.mark.parametrize("mark", ["skipped", "done"])
@pytest.mark.parametrize("step", GAIWAN.steps, ids=lambda step: step.key)
def test_a_mark_of_the_tasters_stands_for_a_step_with_nothing_recorded(step: Step, mark: str) -> None:
    kept = replace(with_cups(RINSE, FIRST, steeped(2, 330, 355)), marks=(marked(step.key, column(step), mark),))

    assert step_state(kept, step, 1, at(10_000)) == mark


@pytest.mark.parametrize("step", STEPS, ids=lambda step: step.key)
def test_what_was_recorded_outweighs_a_skip(step: Step) -> None:
    kept = replace(with_cups(RINSE, FIRST), marks=(marked(step.key, column(step), "skipped"),))

    assert step_state(RECORDED["words"](kept, step.key, column(step), False), step, 1, at(321)) == "done"


@pytest.mark.parametrize(
    ("stage", "infusion", "kept_at"),
    [
        ("leaf", 3, None),
        ("leaf", None, None),
        ("rinse", None, 0),
        ("rinse", 2, 0),
        ("infusion", 3, 3),
        ("close", 3, None),
    ],
)
def test_records_are_kept_at_the_column_of_their_stage(stage: Stage, infusion: int | None, kept_at: int | None) -> None:
    assert column_of(stage, infusion) == kept_at


def test_leaf_can_always_be_looked_at_and_a_cup_once_it_is_poured() -> None:
    in_water = with_cups(steeped(1, 10))
    possible = {
        step.key: [is_possible(one, step, column(step)) for one in (tasting(), in_water, with_cups(RINSE, FIRST))]
        for step in GAIWAN.steps
    }

    assert possible["dry_leaf"] == [True, True, True]
    assert possible["lid"] == possible["liquor"] == possible["finish"] == [False, False, True]


cup_lists = st.lists(st.tuples(st.integers(1, 60), st.integers(0, 90)), min_size=0, max_size=4)


@given(cup_lists, st.booleans(), st.lists(st.floats(0, 5000), min_size=2, max_size=2))
def test_what_is_past_stays_past(gaps: list[tuple[int, int]], pours_last: bool, later_s: list[float]) -> None:
    cups, moment_s = [], 0.0
    for index, (before_s, in_water_s) in enumerate(gaps):
        moment_s += before_s
        last_in_water = index == len(gaps) - 1 and not pours_last
        cups.append(steeped(index, moment_s, None if last_in_water else moment_s + in_water_s))
        moment_s += in_water_s
    kept = with_cups(*cups)
    earlier, later = sorted(later_s)

    for step in GAIWAN.steps:
        for index in range(len(cups)):
            column_here = column_of(step.stage, index)
            was = is_past(kept, step, column_here, at(moment_s + earlier))
            assert not was or is_past(kept, step, column_here, at(moment_s + later))
            assert (step_state(kept, step, index, at(moment_s + earlier)) == "missed") == was


@given(st.sampled_from(GAIWAN.steps), st.integers(0, 3), st.floats(0, 5000))
def test_a_mark_never_says_missed(step: Step, index: int, now_s: float) -> None:
    mark = StepMark("mark", "session", step.key, column_of(step.stage, index), "done", MORNING_UTC)
    kept = replace(with_cups(RINSE, FIRST), marks=(mark,))

    assert step_state(kept, step, index, at(now_s)) == "done"
