"""What the timer panel shows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from tastebook.domain.course import Step
from tastebook.domain.session import Tasting
from tastebook.domain.steep import Phase, Steep
from tastebook.presenters.bench.counsel import DEFERS, WaterShown
from tastebook.presenters.bench.views import TimerView
from tastebook.reports.wording import countdown, degrees, steep_time
from tastebook.services.settings import Settings
from tastebook.services.tasting import column_name

WORDS: Final[dict[Phase, str]] = {
    "ready": "ready",
    "steeping": "steeping",
    "lead": "begin to pour",
    "over": "over plan",
    "poured": "poured",
}
ACTIONS: Final[dict[Phase, str]] = {
    "ready": "Water on",
    "steeping": "Pour",
    "lead": "Pour now",
    "over": "Pour now",
    "poured": "Next infusion",
}
HALF_DEGREE: Final = 0.5


@dataclass(frozen=True)
class TimerState:
    """Everything the panel depends on; `counsel` is what physics says, empty where it says nothing."""

    tasting: Tasting
    index: int
    steep: Steep
    water: WaterShown
    next_plan_s: int
    settings: Settings
    counsel: tuple[str, str]
    hottest_c: float
    has_reasons: bool = False
    missed: tuple[Step, ...] = ()
    accepted_long: bool = False


def timer_view(state: TimerState) -> TimerView:
    """Return the panel as it stands."""
    steep, phase = state.steep, state.steep.phase
    plan_s = state.next_plan_s if phase == "poured" else steep.plan_s
    is_closed = not state.tasting.session.is_open
    return TimerView(
        index=state.index,
        title=column_name(state.index),
        phase=phase,
        word=WORDS[phase],
        digits=steep_digits(steep, counts_up=state.settings.counts_up),
        below=steep_below(steep, counts_up=state.settings.counts_up),
        plan=f"plan {countdown(steep.plan_s)}",
        plan_s=steep.plan_s,
        lead_s=steep.lead_s,
        elapsed_s=None if steep.elapsed_ms is None else steep.elapsed_ms / 1000,
        marks=_marks(state.tasting, state.index),
        water=degrees(state.water.temp_c, in_fahrenheit=state.settings.fahrenheit),
        plan_value=steep_time(plan_s),
        plan_caption="next plan" if phase == "poured" else "plan",
        advice=_advice(state),
        action="Take it up again" if is_closed else ACTIONS[phase],
        key=state.settings.pedal_keys[0],
        question="" if state.accepted_long else _question(state),
        can_amend=phase == "poured",
        can_change_plan=not is_closed,
        is_hottest=state.water.temp_c >= state.hottest_c - HALF_DEGREE,
        water_caption=state.water.caption,
        can_boil=phase == "ready" and not is_closed,
        can_ask_why=state.has_reasons and not is_closed and not state.missed,
    )


def steep_digits(steep: Steep, *, counts_up: bool) -> str:
    """Return the large digits of a steep."""
    if steep.phase == "ready":
        return countdown(0 if counts_up else steep.plan_s)
    if steep.phase == "poured":
        return countdown(round((steep.elapsed_ms or 0) / 1000))
    return countdown(steep.elapsed_s) if counts_up else _left(steep)


def _left(steep: Steep) -> str:
    return f"+{countdown(steep.over_s)}" if steep.phase == "over" else countdown(steep.left_s)


def steep_below(steep: Steep, *, counts_up: bool) -> str:
    """Return the other count of a steep, in words."""
    if steep.phase == "ready":
        return "counts up from water on" if counts_up else "counts down from water on"
    if steep.phase == "poured":
        return _against_plan(steep.deviation_s)
    return f"{_left(steep)} to plan" if counts_up else f"{steep.elapsed_s} s in water"


def _against_plan(deviation_s: int) -> str:
    if deviation_s == 0:
        return "on plan"
    return f"{steep_time(abs(deviation_s))} {'over' if deviation_s > 0 else 'under'} plan"


def _marks(tasting: Tasting, index: int) -> tuple[tuple[str, int], ...]:
    """Return the earlier steeps that the bar shows: the last three before this one, not the rinse."""
    earlier = [one for one in tasting.infusions if 0 < one.index < index and one.actual_ms is not None]
    return tuple((str(one.index), round((one.actual_ms or 0) / 1000)) for one in earlier[-3:])


def _advice(state: TimerState) -> tuple[str, str]:
    if not state.tasting.session.is_open:
        return ("This session is finished.", "")
    if state.missed:
        step = state.missed[0]
        return (f"{step.name}: its moment has passed.", step.rescue)
    return state.counsel if state.counsel[0] else (_plan_reason(state), DEFERS)


def _degrees(state: TimerState) -> str:
    return degrees(state.water.temp_c, in_fahrenheit=state.settings.fahrenheit)


def _plan_reason(state: TimerState) -> str:
    """Say where the plan comes from, against the steep before it."""
    cup = state.tasting.infusion(state.index - 1)
    whose = "The course's plan" if state.steep.plan_s == _course_plan_s(state) else "Your plan"
    if cup is None or cup.actual_ms is None or cup.index == 0:
        return f"{whose}: {steep_time(state.steep.plan_s)} at {_degrees(state)}."
    more_s = state.steep.plan_s - round(cup.actual_ms / 1000)
    change = "as long as" if more_s == 0 else f"{steep_time(abs(more_s))} {'longer' if more_s > 0 else 'shorter'} than"
    return f"{whose}: {change} infusion {cup.index}."


def _course_plan_s(state: TimerState) -> int:
    lot = state.tasting.lot
    return state.tasting.session.course.plan_for(lot.kind, lot.form).planned_s(state.index)


def _question(state: TimerState) -> str:
    if not state.steep.is_absurd:
        return ""
    minutes = state.steep.elapsed_s // 60
    ago = f"{minutes} min" if minutes < 120 else f"{minutes // 60} h"
    return f"In water for {ago} by the clock. Was it poured? Say after how long."
