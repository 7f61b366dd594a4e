"""Until when each sense can still be caught, and where every step of a course stands.

Nothing here blocks the taster. A step whose moment has passed can be done all the same; what is recorded then is late.
"""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

from tastebook.domain.course import Stage, Step
from tastebook.domain.session import Impression, Tasting
from tastebook.domain.steep import Instant

LONGEST_FRESH_S: Final = 6 * 3600
"""Nothing of a cup is caught fresh so long after its pour, whatever a course says. *Common practice, no source.*"""

StepState: TypeAlias = Literal["waiting", "todo", "done", "late", "missed", "skipped"]


def column_of(stage: Stage, infusion: int | None) -> int | None:
    """Return where records of a step in `stage` are kept: 0 for the rinse, an index for an infusion, else None."""
    if stage == "rinse":
        return 0
    return infusion if stage == "infusion" else None


def is_past(tasting: Tasting, step: Step, infusion: int | None, now: Instant) -> bool:
    """Say whether what `step` attends to can no longer be caught fresh."""
    return _ended_by_event(tasting, step, infusion) or _ended_by_time(tasting, step, infusion, now)


def _ended_by_event(tasting: Tasting, step: Step, infusion: int | None) -> bool:
    if step.until == "never":
        return False
    if step.until == "first water":
        return any(one.started for one in tasting.infusions)
    after = [one for one in tasting.infusions if one.index > (infusion or 0)]
    if step.until == "next water":
        return any(one.started for one in after)
    return any(one.is_poured for one in after)


def _ended_by_time(tasting: Tasting, step: Step, infusion: int | None, now: Instant) -> bool:
    if step.sheet == "verdict":
        return False
    cup = tasting.infusion(infusion) if infusion is not None else tasting.last_poured
    if cup is None or cup.poured is None:
        return False
    longest_s = LONGEST_FRESH_S if step.late_after_s is None else min(step.late_after_s, LONGEST_FRESH_S)
    return now.ms_since(cup.poured) > longest_s * 1000


def is_possible(tasting: Tasting, step: Step, infusion: int | None) -> bool:
    """Say whether there is anything yet for `step` to attend to: leaf always, a cup once it is poured."""
    if step.stage == "leaf":
        return True
    if step.stage == "close":
        return tasting.last_poured is not None
    cup = tasting.infusion(infusion or 0)
    return cup is not None and cup.is_poured


def step_state(tasting: Tasting, step: Step, infusion: int | None, now: Instant) -> StepState:
    """Return where a step stands in one column."""
    column = column_of(step.stage, infusion)
    fresh = _fresh_and_late(tasting, step, column)
    if fresh:
        return "done" if any(fresh) else "late"
    mark = tasting.mark_at(step.key, column)
    if mark is not None:
        return mark.mark
    if is_past(tasting, step, column, now):
        return "missed"
    return "todo" if is_possible(tasting, step, column) else "waiting"


def told_elsewhere(tasting: Tasting, step: Step, column: int | None) -> tuple[Impression, ...]:
    """Return what was noted of a step's own place while at another step: of the wet leaf, say, at the lid."""
    sharing = [one for one in tasting.session.course.steps if one.channel == step.channel]
    if step.sheet != "aroma" or len(sharing) > 1:  # what the palate finds is looked for at several steps
        return ()
    return tuple(
        one
        for one in tasting.impressions
        if one.infusion == column and one.channel == step.channel and one.step != step.key
    )


def _fresh_and_late(tasting: Tasting, step: Step, column: int | None) -> list[bool]:
    """Return, for each thing recorded at a step, whether it was caught fresh."""
    fresh = [not one.late for one in tasting.impressions_at(step.key, column)]
    fresh += [not one.late for one in told_elsewhere(tasting, step, column)]
    fresh += [not one.late for one in tasting.readings_at(step.key, column)]
    fresh += [not one.late for one in tasting.sayings_at(step.key, column)]
    if step.sheet == "liquor" and column is not None:
        cup = tasting.infusion(column)
        fresh += [not cup.liquor_late] if cup and (cup.liquor or cup.clarity) else []
    if step.sheet == "verdict" and tasting.verdict is not None and tasting.verdict.decision:
        fresh.append(True)
    return fresh
