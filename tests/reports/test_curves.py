from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.reports.curves import curve_parts, monotone_curve

strengths = st.floats(0.01, 5)
readings = st.lists(st.one_of(st.none(), st.just(0.0), strengths), min_size=1, max_size=20)
gapless = st.lists(strengths, min_size=2, max_size=20)
pieces = st.integers(1, 30)


def _infusions(values: list[float | None]) -> list[float]:
    return [float(index) for index in range(1, len(values) + 1)]


@given(readings, pieces)
def test_the_curve_passes_through_every_reading_that_is_not_zero(values: list[float | None], per_span: int) -> None:
    x, y = monotone_curve(_infusions(values), values, per_span)
    drawn = dict(zip(x.tolist(), y.tolist(), strict=True))

    for index, value in enumerate(values, start=1):
        if value:
            assert drawn[float(index)] == pytest.approx(value, abs=1e-9)


@given(readings, pieces)
def test_the_curve_never_leaves_the_span_of_the_readings_beside_it(values: list[float | None], per_span: int) -> None:
    x, y = monotone_curve(_infusions(values), values, per_span)

    for at, height in zip(x.tolist(), y.tolist(), strict=True):
        if not np.isnan(at):
            before, after = values[int(np.floor(at)) - 1], values[int(np.ceil(at)) - 1]
            assert before is not None
            assert after is not None
            assert min(before, after) - 1e-9 <= height <= max(before, after) + 1e-9


@given(gapless, pieces)
def test_between_two_readings_the_curve_never_turns(values: list[float], per_span: int) -> None:
    _, y = monotone_curve(_infusions([*values]), values, per_span)

    for span, (before, after) in enumerate(pairwise(values)):
        steps = np.diff(y[span * per_span : (span + 1) * per_span + 1])
        assert (steps >= -1e-9).all() if after >= before else (steps <= 1e-9).all()


@given(gapless, pieces)
def test_a_curve_without_gaps_has_the_points_that_were_asked_for(values: list[float], per_span: int) -> None:
    x, y = monotone_curve(_infusions([*values]), values, per_span)

    assert len(x) == len(y) == (len(values) - 1) * per_span + 1
    assert (np.diff(x) > 0).all()


@given(readings)
def test_nothing_is_drawn_beside_a_gap(values: list[float | None]) -> None:
    x, _ = monotone_curve(_infusions(values), values)

    for index, value in enumerate(values, start=1):
        if value is None:
            assert not _between(x, index - 1, index + 1)


def _between(x: np.ndarray, low: float, high: float) -> bool:
    return bool(((x > low) & (x < high)).any())


def test_a_gap_parts_the_curve() -> None:
    x, y = monotone_curve([1, 2, 3, 4, 5], [3, 2, None, 2, 1], 2)

    assert np.isnan(x).sum() == 1
    assert [part[0].tolist() for part in curve_parts(x, y)] == [[1.0, 1.5, 2.0], [4.0, 4.5, 5.0]]


def test_a_reading_between_two_gaps_stands_alone() -> None:
    x, y = monotone_curve([1, 2, 3], [None, 4, None])

    assert (x.tolist(), y.tolist()) == ([2.0], [4.0])


def test_between_two_zeros_nothing_is_drawn() -> None:
    x, _ = monotone_curve([1, 2, 3, 4, 5, 6], [0, 0, 3, 0, 0, 2])

    drawn = x[~np.isnan(x)]
    assert not _between(drawn, 1, 2)
    assert not _between(drawn, 4, 5)
    assert drawn.min() == 2
    assert drawn.max() == 6


def test_a_curve_tapers_to_the_zero_beside_it() -> None:
    x, y = monotone_curve([1, 2, 3], [0, 3, 0], 10)

    assert y[0] == y[-1] == 0
    assert 0 < y[1] < 0.3 * x[1]  # level at first: a straight line would have risen by 0.3


@pytest.mark.parametrize("values", [[], [None], [0.0], [0.0, 0.0, None, 0.0]])
def test_where_nothing_was_noted_there_is_no_curve(values: list[float | None]) -> None:
    x, y = monotone_curve(_infusions(values), values)

    assert len(x) == len(y) == 0
    assert curve_parts(x, y) == ()


@given(readings)
def test_the_parts_put_together_are_the_curve(values: list[float | None]) -> None:
    x, y = monotone_curve(_infusions(values), values)

    parts = curve_parts(x, y)

    assert sum(len(part[0]) for part in parts) == (~np.isnan(y)).sum()
    assert all(len(part[0]) and not np.isnan(part[1]).any() for part in parts)
