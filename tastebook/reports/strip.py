"""The infusion strip as shapes: each column's stack of families, and the ribbons by which they flow on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from tastebook.reports.page_parts import Point, Ribbon, Segment

Strengths = Mapping[str, float]


def stack(strengths: Strengths, order: Sequence[str]) -> tuple[Segment, ...]:
    """Return one column's families piled up in `order`, base first; a family of strength 0 takes no room."""
    segments: list[Segment] = []
    base = 0.0
    for family in order:
        strength = strengths.get(family, 0.0)
        if strength > 0:
            segments.append(Segment(family, base, base + strength))
            base += strength
    return tuple(segments)


def ribbons(stacks: Sequence[tuple[Segment, ...] | None], order: Sequence[str]) -> tuple[Ribbon, ...]:
    """Return how families flow from each column to the next, base first.

    Nothing flows to or from a column that was not assessed (None): that would say that a family ended or began there.
    """
    return tuple(
        ribbon
        for after, (left, right) in enumerate(pairwise(stacks))
        if left is not None and right is not None
        for ribbon in _between(after, _by_family(left), _by_family(right), order)
    )


def _by_family(segments: Sequence[Segment]) -> dict[str, Point]:
    return {one.family: (one.base, one.top) for one in segments}


def _between(
    after: int, left: Mapping[str, Point], right: Mapping[str, Point], order: Sequence[str]
) -> Iterator[Ribbon]:
    for family in order:
        if family in left and family in right:
            yield Ribbon(family, "goes on", after, left[family], right[family])
        elif family in left:
            yield Ribbon(family, "ends", after, left[family], _middle(left[family]))
        elif family in right:
            yield Ribbon(family, "begins", after, _middle(right[family]), right[family])


def _middle(side: Point) -> Point:
    middle = sum(side) / 2
    return (middle, middle)
