from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule

from tastebook.domain.steep import ABSURD_OVER_S, OVER_EVERY_S, Call, Instant, Steep, latest_call
from tests.fakes import MORNING_UTC, FakeClock

plans = st.integers(1, 600)
leads = st.integers(0, 15)
spans_s = st.floats(0, 5000, allow_nan=False).map(lambda seconds: round(seconds, 3))
milliseconds = st.integers(0, 2_000_000)


def _steeping(elapsed_ms: int, plan_s: int = 30, lead_s: int = 6) -> Steep:
    return Steep(plan_s, lead_s, elapsed_ms)


# ---------------------------------------------------------------- instants


@given(spans_s)
def test_time_passed_is_told_to_the_millisecond(seconds: float) -> None:
    clock = FakeClock()
    before = clock.now()

    clock.advance(seconds)

    assert clock.now().ms_since(before) == pytest.approx(seconds * 1000, abs=1)


@given(spans_s, spans_s)
def test_a_sleeping_machine_s_time_counts(awake_s: float, asleep_s: float) -> None:
    clock = FakeClock()
    before = clock.now()

    clock.advance(awake_s)
    clock.sleep(asleep_s)

    assert clock.now().ms_since(before) == pytest.approx((awake_s + asleep_s) * 1000, abs=1)


@given(spans_s, st.floats(-1e6, 1e6))
def test_setting_the_wall_clock_changes_no_steep(steeped_s: float, step_s: float) -> None:
    clock = FakeClock()
    before = clock.now()

    clock.step_wall(step_s)
    clock.advance(steeped_s)

    assert clock.now().ms_since(before) == pytest.approx(steeped_s * 1000, abs=1)


@given(spans_s, spans_s)
def test_after_a_restart_of_the_machine_the_wall_clock_tells(before_s: float, down_s: float) -> None:
    clock = FakeClock()
    water_on = clock.now()

    clock.advance(before_s)
    clock.reboot(down_s)

    assert clock.now().ms_since(water_on) == pytest.approx((before_s + down_s) * 1000, abs=1)


def test_a_wall_clock_set_back_over_a_restart_never_gives_less_than_nothing() -> None:
    clock = FakeClock()
    water_on = clock.now()

    clock.reboot(-3600)

    assert clock.now().ms_since(water_on) == 0


def test_a_monotonic_clock_that_began_anew_is_not_compared_with_the_old_one() -> None:
    before = Instant(MORNING_UTC, 900_000.0, "boot-1")
    after = Instant(MORNING_UTC, 5.0, "boot-2")

    assert after.ms_since(before) == 0
    assert before.ms_since(after) == 0


class AnyAfternoon(RuleBasedStateMachine):
    """A steep goes through whatever a machine can do to it; beside it runs a kitchen clock that only counts."""

    def __init__(self) -> None:
        super().__init__()
        self.clock = FakeClock()
        self.water_on = self.clock.now()
        self.kitchen_s = 0.0
        self.wall_is_off_by_s = 0.0
        self.has_restarted = False

    @rule(seconds=spans_s)
    def time_passes(self, seconds: float) -> None:
        self.clock.advance(seconds)
        self.kitchen_s += seconds

    @rule(seconds=spans_s)
    def the_machine_sleeps(self, seconds: float) -> None:
        self.clock.sleep(seconds)
        self.kitchen_s += seconds

    @rule(seconds=st.floats(-7200, 7200).map(round))
    def somebody_sets_the_wall_clock(self, seconds: int) -> None:
        self.clock.step_wall(seconds)
        self.wall_is_off_by_s += seconds

    @rule(seconds=spans_s)
    def the_machine_restarts(self, seconds: float) -> None:
        self.clock.reboot(seconds)
        self.kitchen_s += seconds
        self.has_restarted = True

    @rule()
    def the_water_is_poured_on_anew(self) -> None:
        self.water_on = self.clock.now()
        self.kitchen_s, self.wall_is_off_by_s, self.has_restarted = 0.0, 0.0, False

    @invariant()
    def the_steep_agrees_with_the_kitchen_clock(self) -> None:
        # Only a restart leaves nothing but the wall clock, and then what was done to that shows.
        off_by_s = self.wall_is_off_by_s if self.has_restarted else 0.0

        elapsed_ms = self.clock.now().ms_since(self.water_on)

        assert elapsed_ms == pytest.approx(max(0.0, self.kitchen_s + off_by_s) * 1000, abs=2)


TestAnyAfternoon = AnyAfternoon.TestCase


# ---------------------------------------------------------------- phases


def test_before_the_water_it_is_ready() -> None:
    assert Steep(30, 6).phase == "ready"


@pytest.mark.parametrize(
    ("elapsed_ms", "phase"),
    [(0, "steeping"), (23_999, "steeping"), (24_000, "lead"), (30_000, "lead"), (30_001, "over"), (90_000, "over")],
)
def test_the_phases_follow_one_another(elapsed_ms: int, phase: str) -> None:
    assert _steeping(elapsed_ms).phase == phase


def test_without_a_lead_it_steeps_to_the_plan() -> None:
    assert _steeping(30_000, lead_s=0).phase == "steeping"
    assert _steeping(30_001, lead_s=0).phase == "over"


@given(milliseconds, plans, leads)
def test_what_is_poured_stays_poured(elapsed_ms: int, plan_s: int, lead_s: int) -> None:
    assert Steep(plan_s, lead_s, elapsed_ms, is_poured=True).phase == "poured"


@given(milliseconds, st.integers(0, 60_000), plans, leads)
def test_no_phase_comes_back(elapsed_ms: int, later_ms: int, plan_s: int, lead_s: int) -> None:
    order = ["steeping", "lead", "over"]

    first = Steep(plan_s, lead_s, elapsed_ms).phase
    second = Steep(plan_s, lead_s, elapsed_ms + later_ms).phase

    assert order.index(first) <= order.index(second)


# ---------------------------------------------------------------- seconds as shown


@pytest.mark.parametrize(
    ("elapsed_ms", "left_s"),
    [
        (0, 30), (1, 30), (999, 30), (1000, 29), (29_000, 1), (29_001, 1), (29_999, 1), (30_000, 0), (30_001, 0),
        (30_999, 0), (31_000, -1), (45_500, -15),
    ],
)  # fmt: skip
def test_seconds_left_are_rounded_up_and_seconds_over_down(elapsed_ms: int, left_s: int) -> None:
    # 0 must mean now: it is shown at the plan and in the second after, never while there is time left.
    assert _steeping(elapsed_ms).left_s == left_s


@given(milliseconds, plans)
def test_seconds_left_never_show_less_time_than_there_is(elapsed_ms: int, plan_s: int) -> None:
    left_ms = plan_s * 1000 - elapsed_ms

    shown_ms = Steep(plan_s, 0, elapsed_ms).left_s * 1000

    assert 0 <= shown_ms - left_ms < 1000


@given(milliseconds, plans)
def test_time_in_water_and_time_left_make_up_the_plan_to_the_second(elapsed_ms: int, plan_s: int) -> None:
    steep = Steep(plan_s, 0, elapsed_ms)

    assert steep.elapsed_s + steep.left_s - plan_s in (0, 1)


def test_before_the_water_the_whole_plan_is_left() -> None:
    assert Steep(42).left_s == 42
    assert Steep(42).elapsed_s == 0


@pytest.mark.parametrize(("actual_ms", "deviation_s"), [(36_000, 2), (33_600, 0), (31_400, -3), (34_400, 0)])
def test_the_deviation_is_told_to_the_nearest_second(actual_ms: int, deviation_s: int) -> None:
    assert Steep(34, 6, actual_ms, is_poured=True).deviation_s == deviation_s


@given(plans, milliseconds)
def test_only_a_steep_that_nobody_can_mean_is_absurd(plan_s: int, elapsed_ms: int) -> None:
    steep = Steep(plan_s, 6, elapsed_ms)

    assert steep.is_absurd == (steep.over_s >= ABSURD_OVER_S + 2 * plan_s)
    assert not replace(steep, is_poured=True).is_absurd


# ---------------------------------------------------------------- announcements


def _calls(steeps: list[Steep]) -> list[Call]:
    return [call for earlier, later in pairwise(steeps) if (call := latest_call(earlier, later))]


def test_a_watched_steep_calls_the_lead_the_plan_and_every_quarter_minute_over() -> None:
    looks = [Steep(30, 6)] + [_steeping(elapsed_ms) for elapsed_ms in range(0, 62_000, 250)]

    calls = _calls(looks)

    assert calls == [Call("lead", 6), Call("plan", 0), Call("over", 15), Call("over", 30)]


@pytest.mark.parametrize(
    ("elapsed_ms", "call"),
    [
        (23_999, None), (24_000, Call("lead", 6)), (29_999, Call("lead", 6)), (30_000, Call("plan", 0)),
        (44_999, Call("plan", 0)), (45_000, Call("over", 15)), (500_000, Call("over", 465)),
    ],
)  # fmt: skip
def test_after_a_long_absence_only_the_newest_is_called(elapsed_ms: int, call: Call | None) -> None:
    assert latest_call(_steeping(0), _steeping(elapsed_ms)) == call


def test_without_a_lead_none_is_called() -> None:
    looks = [Steep(10)] + [Steep(10, 0, elapsed_ms) for elapsed_ms in range(0, 20_000, 500)]

    assert _calls(looks) == [Call("plan", 0)]


def test_a_lead_longer_than_the_plan_is_called_when_the_water_is_on() -> None:
    assert latest_call(Steep(5, 8), Steep(5, 8, 0)) == Call("lead", 8)


@given(plans, leads, st.lists(milliseconds, min_size=2, max_size=40).map(sorted))
def test_nothing_is_called_twice_however_one_looks(plan_s: int, lead_s: int, looks_ms: list[int]) -> None:
    calls = _calls([Steep(plan_s, lead_s)] + [Steep(plan_s, lead_s, one) for one in looks_ms])

    assert len(set(calls)) == len(calls)


@given(plans, leads, st.lists(milliseconds, min_size=1, max_size=40).map(sorted))
def test_the_last_call_is_the_same_however_often_one_looked(plan_s: int, lead_s: int, looks_ms: list[int]) -> None:
    looks = [Steep(plan_s, lead_s)] + [Steep(plan_s, lead_s, one) for one in looks_ms]

    calls = _calls(looks)

    assert (calls or [None])[-1] == latest_call(looks[0], looks[-1])


@given(plans, leads, milliseconds)
def test_a_second_look_at_the_same_moment_calls_nothing(plan_s: int, lead_s: int, elapsed_ms: int) -> None:
    steep = Steep(plan_s, lead_s, elapsed_ms)

    assert latest_call(steep, steep) is None


@given(plans, leads, milliseconds, milliseconds)
def test_nothing_is_called_once_it_is_poured(plan_s: int, lead_s: int, before_ms: int, actual_ms: int) -> None:
    poured = Steep(plan_s, lead_s, actual_ms, is_poured=True)

    assert latest_call(Steep(plan_s, lead_s, before_ms), poured) is None


def test_a_plan_shortened_into_the_past_is_called_at_once() -> None:
    assert latest_call(Steep(40, 0, 25_000), Steep(20, 0, 25_100)) == Call("plan", 0)


def test_a_plan_lengthened_after_its_call_is_called_again_when_its_time_comes() -> None:
    looks = [Steep(30, 0, 30_000), Steep(40, 0, 32_000), Steep(40, 0, 40_000)]

    assert _calls(looks) == [Call("plan", 0)]


@pytest.mark.parametrize(
    ("call", "words"),
    [(Call("lead", 6), "begin to pour"), (Call("plan", 0), "pour now"), (Call("over", 30), "30 seconds over")],
)
def test_every_call_has_words_for_the_voice(call: Call, words: str) -> None:
    assert call.words == words


def test_a_steep_over_its_plan_is_called_every_quarter_minute() -> None:
    assert OVER_EVERY_S == 15
