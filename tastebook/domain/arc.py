"""The arc of a tasting: how strongly each family speaks in each column, when it arrives, peaks and goes.

Not assessed is not zero. Where aroma was attended to and no fruit was named, fruit is 0; where it was not attended to
there is no value at all, and every chart shows a gap.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from statistics import median
from typing import Final, Literal, TypeAlias

from tastebook.domain.course import Step
from tastebook.domain.session import Impression, Tasting

Column: TypeAlias = Literal["leaf", "close"] | int
"""A column of the infusion strip: the dry leaf, an infusion (0 is the rinse), or the end."""

FamilyOf: TypeAlias = Callable[[str], str]
"""Gives the family of a descriptor's key; empty for words that belong to no family, such as textures."""

MOST_STRENGTH: Final = 5.0


def family_strength(intensities: Iterable[float]) -> float:
    """Return the joint strength of a family's descriptors, 0 to 5.

    They combine as vectors at right angles, since a mixture of odours smells weaker than the sum of its parts.

    Parameters
    ----------
    intensities : iterable of float
        The strongest reading of each descriptor, 0 to 5.

    References
    ----------
    Berglund, Berglund & Lindvall (1973), vector model of odour mixtures, *from memory*; 90° between any two is our
    simplification.
    """
    return min(MOST_STRENGTH, math.sqrt(sum(one * one for one in intensities)))


def column_of(tasting: Tasting, step: str, infusion: int | None) -> Column:
    """Return the column to which what was recorded at a step belongs.

    Raises
    ------
    CourseError
        If the session's course has no such step.
    """
    return _column_at(tasting.session.course.step(step), infusion)


def _column_at(step: Step, infusion: int | None) -> Column:
    if step.stage == "leaf" or step.stage == "close":
        return step.stage
    return 0 if step.stage == "rinse" else infusion or 0


@dataclass
class _Noted:
    """What one column holds, gathered in one pass: a Bench asks for all columns after every act."""

    assessed: bool = False
    perceived: dict[str, list[Impression]] = field(default_factory=dict)

    def take(self, impression: Impression, family: str, *, at_aroma: bool) -> None:
        self.assessed = self.assessed or at_aroma or bool(family)
        if family and impression.intensity > 0:
            self.perceived.setdefault(family, []).append(impression)

    def strengths(self) -> dict[str, float]:
        return {family: family_strength(_strongest(noted)) for family, noted in self.perceived.items()}


def _strongest(noted: Iterable[Impression]) -> Iterable[int]:
    """Return the strongest reading of each descriptor."""
    strongest: dict[str, int] = {}
    for one in noted:
        strongest[one.descriptor] = max(one.intensity, strongest.get(one.descriptor, 0))
    return strongest.values()


def _noted_by_column(tasting: Tasting, family_of: FamilyOf) -> dict[Column, _Noted]:
    """Gather every column's impressions: absences and textures only say that it was assessed, or not even that."""
    course = tasting.session.course
    steps = {step.key: step for step in course.steps}
    columns: defaultdict[Column, _Noted] = defaultdict(_Noted)
    for one in tasting.impressions:
        step = steps.get(one.step) or course.step(one.step)
        at_aroma = step.sheet == "aroma"
        columns[_column_at(step, one.infusion)].take(one, family_of(one.descriptor), at_aroma=at_aroma)
    for mark in tasting.marks:
        if mark.mark == "done" and course.step(mark.step).sheet == "aroma":
            columns[column_of(tasting, mark.step, mark.infusion)].assessed = True
    return columns


def strengths_by_column(tasting: Tasting, family_of: FamilyOf) -> Mapping[Column, Mapping[str, float]]:
    """Return the strength of each family perceived, for every column where aroma was assessed.

    A column that is missing was not assessed. A family that is missing from its column was not perceived there: 0.
    Aroma counts as assessed if an aroma step there was finished or has any impression, be it of an absence, or if
    another step's words named a family.
    """
    noted = _noted_by_column(tasting, family_of)
    return {column: one.strengths() for column, one in noted.items() if one.assessed}


def column_strengths(tasting: Tasting, family_of: FamilyOf, column: Column) -> Mapping[str, float] | None:
    """Return the strength of each family perceived in one column, or None where aroma was not assessed."""
    return strengths_by_column(tasting, family_of).get(column)


@dataclass(frozen=True)
class FamilyArc:
    """One family over the infusions; the first value of every tuple belongs to infusion 1.

    Parameters
    ----------
    family : str
        Key of the family.
    strengths : tuple of float or None
        0 to 5; None where aroma was not assessed.
    shares : tuple of float or None
        This family's part of all families' strength in that infusion, 0 to 1; None where not assessed.
    clouded : tuple of bool
        Whether something of this family at that infusion was marked clouded or doubtful. It is counted all the same.
    trend : float or None
        Theil-Sen slope in strength per infusion; None with fewer than two assessed infusions.
    descriptor, word : str
        The family's leading descriptor: the strongest; of equals the one noted oftenest, then first. `word` is it as
        the taster said it.
    descriptor_intensity : int
        Its greatest intensity.
    """

    family: str
    strengths: tuple[float | None, ...]
    shares: tuple[float | None, ...]
    clouded: tuple[bool, ...]
    trend: float | None
    descriptor: str
    word: str
    descriptor_intensity: int

    @property
    def onset(self) -> int:
        """Return the first infusion at which the family was perceived."""
        return self._noted[0]

    @property
    def fade(self) -> int:
        """Return the last infusion at which the family was perceived."""
        return self._noted[-1]

    @property
    def peak(self) -> int:
        """Return the first infusion at which the family was strongest."""
        return self.peaks[0]

    @property
    def peaks(self) -> tuple[int, ...]:
        """Return every infusion at which the family was as strong as at its peak."""
        return tuple(index for index in self._noted if math.isclose(self._at(index), self.peak_strength))

    @property
    def peak_strength(self) -> float:
        """Return the family's greatest strength."""
        return max(self._at(index) for index in self._noted)

    @property
    def speaks_at(self) -> float:
        """Return when the family speaks: the mean infusion, weighted by strength."""
        return sum(index * self._at(index) for index in self._noted) / sum(self._at(index) for index in self._noted)

    @property
    def assessed(self) -> tuple[int, ...]:
        """Return the infusions at which aroma was assessed."""
        return tuple(index for index, one in enumerate(self.strengths, start=1) if one is not None)

    @property
    def _noted(self) -> tuple[int, ...]:
        return tuple(index for index, one in enumerate(self.strengths, start=1) if one)

    def _at(self, index: int) -> float:
        return self.strengths[index - 1] or 0.0


def arcs(tasting: Tasting, family_of: FamilyOf) -> tuple[FamilyArc, ...]:
    """Return the arc of every family perceived in an infusion, in the order in which the families speak."""
    columns = _noted_by_column(tasting, family_of)
    infusions = [columns.get(index, _Noted()) for index in range(1, _last_infusion(tasting, columns) + 1)]
    by_infusion = [one.strengths() if one.assessed else None for one in infusions]
    families = {family for one in infusions for family in one.perceived}
    found = [_arc(family, by_infusion, [one.perceived.get(family, []) for one in infusions]) for family in families]
    return tuple(sorted(found, key=lambda arc: (arc.speaks_at, arc.family)))


def _last_infusion(tasting: Tasting, columns: Iterable[Column]) -> int:
    poured = [one.index for one in tasting.infusions if one.is_poured]
    return max((*poured, *(column for column in columns if isinstance(column, int)), 0))


def _arc(
    family: str, by_infusion: Sequence[Mapping[str, float] | None], perceived: Sequence[Sequence[Impression]]
) -> FamilyArc:
    strengths = tuple(None if column is None else column.get(family, 0.0) for column in by_infusion)
    leading = _leading([one for column in perceived for one in column])
    return FamilyArc(
        family=family,
        strengths=strengths,
        shares=tuple(_share(column, family) for column in by_infusion),
        clouded=tuple(any(one.clouded or one.doubtful for one in column) for column in perceived),
        trend=theil_sen_slope(strengths),
        descriptor=leading.descriptor,
        word=leading.word,
        descriptor_intensity=leading.intensity,
    )


def _leading(perceived: Sequence[Impression]) -> Impression:
    """Return the impression that stands for a family: strongest, then of the oftenest descriptor, then earliest."""
    times_noted = {one.descriptor: sum(other.descriptor == one.descriptor for other in perceived) for one in perceived}
    return max(perceived, key=lambda one: (one.intensity, times_noted[one.descriptor]))  # the first of equals


def _share(column: Mapping[str, float] | None, family: str) -> float | None:
    if column is None:
        return None
    total = sum(column.values())
    return column.get(family, 0.0) / total if total else 0.0


def theil_sen_slope(values: Sequence[float | None]) -> float | None:
    """Return the median of the slopes between all pairs of readings, in units per step; None with fewer than two.

    References
    ----------
    Sen (1968), J. Am. Stat. Assoc. 63:1379-1389, doi 10.1080/01621459.1968.10480934.
    """
    read = [(index, value) for index, value in enumerate(values) if value is not None]
    slopes = [(later - earlier) / (j - i) for (i, earlier), (j, later) in combinations(read, 2)]
    return median(slopes) if slopes else None


def totals(all_arcs: Sequence[FamilyArc]) -> tuple[float | None, ...]:
    """Return the sum of all families' strengths at every infusion; None where aroma was not assessed."""
    by_infusion = zip(*(arc.strengths for arc in all_arcs), strict=True)
    return tuple(_total(column) for column in by_infusion)


def _total(column: Iterable[float | None]) -> float | None:
    strengths = tuple(one for one in column if one is not None)
    return sum(strengths) if strengths else None


def peak_infusion(all_arcs: Sequence[FamilyArc]) -> int | None:
    """Return the infusion with the most aroma in all; of equals the one with the strongest family, then the first."""
    by_total = [
        (total, max(arc.strengths[place] or 0.0 for arc in all_arcs), -place)
        for place, total in enumerate(totals(all_arcs))
        if total is not None
    ]
    return 1 - max(by_total)[2] if by_total else None
