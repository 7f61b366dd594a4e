"""What the figures of a tasting say, in sentences that claim no more than was assessed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from tastebook.domain.arc import FamilyArc, peak_infusion
from tastebook.domain.colour import delta_e00
from tastebook.domain.liquor import SEEN_E00, colour_name
from tastebook.domain.session import Tasting


def sentences(all_arcs: Sequence[FamilyArc], family_name: Callable[[str], str]) -> tuple[str, ...]:
    """Return one sentence for each family, in the order of the arcs.

    `family_name` gives a family's written name for its key.
    """
    return tuple(family_sentence(arc, family_name(arc.family)) for arc in all_arcs)


def family_sentence(arc: FamilyArc, name: str) -> str:
    """Return when a family arrives, peaks and goes: `Roasted is strongest at 1 and gone after 5.`, say."""
    told = _joined(_clauses(arc))
    clouded = _indices(arc.clouded)
    caution = f" (clouded or doubtful at {at_words(clouded)})" if clouded else ""
    return f"{name[:1].upper()}{name[1:]} {told}{caution}."


def overall_sentence(all_arcs: Sequence[FamilyArc]) -> str:
    """Return at which infusion there is most aroma, empty if fewer than two were assessed."""
    peak = peak_infusion(all_arcs)
    if peak is None or len(all_arcs[0].assessed) < 2:
        return ""
    return f"There is most aroma at {peak}."


def _clauses(arc: FamilyArc) -> list[str]:
    noted = _indices(arc.strengths)
    if len(arc.assessed) == 1:
        return [f"is there at {noted[0]}, the only infusion assessed"]
    if len(noted) == 1:
        return [f"shows at {noted[0]} only"]
    if arc.peaks == arc.assessed:
        return [f"stays alike at {at_words(noted)}"]
    clauses = [_arrival(arc), _peak(arc), _absence(arc, noted), _end(arc)]
    return [clause for clause in clauses if clause]


def _arrival(arc: FamilyArc) -> str:
    if arc.onset == arc.assessed[0]:
        return ""
    was_absent_before = arc.strengths[arc.onset - 2] is not None
    return f"arrives at {arc.onset}" if was_absent_before else f"is first noted at {arc.onset}"


def _peak(arc: FamilyArc) -> str:
    if arc.peak == arc.assessed[0]:
        return f"is strongest at {at_words(arc.peaks)}"
    return "is strongest at once" if arc.peaks == (arc.onset,) else f"peaks at {at_words(arc.peaks)}"


def _absence(arc: FamilyArc, noted: Sequence[int]) -> str:
    absent = [index for index in arc.assessed if arc.onset < index < arc.fade and index not in noted]
    return f"is absent at {at_words(absent)}" if absent else ""


def _end(arc: FamilyArc) -> str:
    last = arc.assessed[-1]
    if arc.fade == last:
        return "" if last in arc.peaks else f"is still there at {last}"
    is_absent_next = arc.strengths[arc.fade] is not None
    return f"is gone after {arc.fade}" if is_absent_next else f"is last noted at {arc.fade}"


def _indices(by_infusion: Sequence[object]) -> tuple[int, ...]:
    return tuple(index for index, one in enumerate(by_infusion, start=1) if one)


def _joined(clauses: Sequence[str]) -> str:
    """Join clauses as one says them: `is a, b, and c`; a verb is not said twice running."""
    told = [clauses[0]]
    for earlier, later in pairwise(clauses):
        told.append(later.removeprefix("is ") if earlier.startswith("is ") else later)
    *before, last = told
    if not before:
        return last
    needs_comma = len(before) > 1 or " and " in before[-1]
    return f"{', '.join(before)}{',' if needs_comma else ''} and {last}"


def at_words(indices: Sequence[int]) -> str:
    """Return infusions as one says them: `3`, `4 and 5`, `3 to 5`, `1, 3 and 6`."""
    first, last = indices[0], indices[-1]
    if len(indices) > 2 and list(indices) == list(range(first, last + 1)):
        return f"{first} to {last}"
    *before, _ = (str(one) for one in indices)
    return f"{', '.join(before)} and {last}" if before else str(last)


def liquor_phrase(tasting: Tasting) -> str:
    """Return how deep the liquor went and how pale, such as `amber gold at 3, pale straw at 8`; empty if unjudged."""
    judged = [(one.index, one.liquor) for one in tasting.infusions if one.liquor and one.index > 0]
    if not judged:
        return ""
    deepest = min(judged, key=lambda one: one[1][0])
    palest = max(judged, key=lambda one: one[1][0])
    if all(delta_e00(deepest[1], liquor) < SEEN_E00 for _, liquor in judged):
        return f"{colour_name(deepest[1])} at {at_words([index for index, _ in judged])}"
    return f"{colour_name(deepest[1])} at {deepest[0]}, {colour_name(palest[1])} at {palest[0]}"


def steep_phrase(tasting: Tasting) -> str:
    """Return how long the leaf was in water in all, such as `8 min 30 s in all`; the rinse is not counted."""
    total_ms = sum(one.actual_ms or 0 for one in tasting.infusions if one.index > 0)
    return f"{duration_words(round(total_ms / 1000))} in all" if total_ms else ""


def scale_phrase(values: Sequence[float | None], word_for: Callable[[float], str]) -> str:
    """Return where a scale reads highest, such as `thick at 3 to 5`; empty if it was never read.

    Parameters
    ----------
    values : sequence of float or None
        Readings by infusion, the first belonging to infusion 1; None where the scale was not read.
    word_for : callable
        Gives the scale's word for a value.
    """
    read = [value for value in values if value is not None]
    if not read:
        return ""
    highest = [index for index, value in enumerate(values, start=1) if value == max(read)]
    return f"{word_for(max(read))} at {at_words(highest)}"


def duration_words(seconds: int) -> str:
    """Return a length of time as one says it: `36 s`, `8 min 30 s`, `2 min`, `8 h`, `1 h 12 min`."""
    hours, minutes, rest = seconds // 3600, seconds % 3600 // 60, seconds % 60
    parts = [(hours, "h"), (minutes, "min"), (rest if not hours else 0, "s")]
    return " ".join(f"{number} {unit}" for number, unit in parts if number) or "0 s"
