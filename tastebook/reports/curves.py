"""Curves through readings that never say more than the readings do.

The few lines of arithmetic are here, and scipy judges them in the tests: importing its interpolation would cost the
first look at an Arc some 0.4 s.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

FloatArray: TypeAlias = NDArray[np.float64]
Run: TypeAlias = list[tuple[float, float]]

POINTS_PER_SPAN = 16


def monotone_curve(
    x: Sequence[float], y: Sequence[float | None], points_per_span: int = POINTS_PER_SPAN
) -> tuple[FloatArray, FloatArray]:
    """Return a smooth curve that passes through every reading and never rises above or falls below its neighbours.

    A missing reading parts the curve. So does a span between two zeros: there is nothing to draw where nothing was
    noted, and a curve tapers to the zero beside it. The curve is level at its ends.

    Parameters
    ----------
    x : sequence of float
        Where the readings were taken, rising.
    y : sequence of float or None
        The readings, as many as `x`; None where there is none.
    points_per_span : int
        How many pieces the curve has between two readings, at least 1.

    Returns
    -------
    tuple of ndarray, each of shape (n,)
        The points of all parts one after another, with NaN in both between two parts. A reading that stands alone is a
        part of one point.

    References
    ----------
    Fritsch & Butland (1984), SIAM J. Sci. Stat. Comput. 5:300-304, doi 10.1137/0905021, with level ends.
    """
    parts = [_smoothed(run, points_per_span) for run in _runs(x, y)]
    gap = np.array([np.nan])
    pieces = [piece for part in parts for piece in (part, (gap, gap))][:-1]
    if not pieces:
        return np.empty(0), np.empty(0)
    return np.concatenate([piece[0] for piece in pieces]), np.concatenate([piece[1] for piece in pieces])


def curve_parts(curve_x: FloatArray, curve_y: FloatArray) -> tuple[tuple[FloatArray, FloatArray], ...]:
    """Return the parts of a curve that NaN divides, for painters that fill each by itself."""
    gaps = np.flatnonzero(np.isnan(curve_y))
    starts, ends = [0, *(gaps + 1)], [*gaps, len(curve_y)]
    return tuple((curve_x[a:b], curve_y[a:b]) for a, b in zip(starts, ends, strict=True) if b > a)


def _runs(x: Sequence[float], y: Sequence[float | None]) -> Iterator[Run]:
    """Yield the stretches of readings that one smooth line may join; a lone zero is none."""
    run: Run = []
    for at, value in zip(x, y, strict=True):
        if value is None or (run and run[-1][1] == value == 0):
            yield from _worth_drawing(run)
            run = []
        if value is not None:
            run.append((at, value))
    yield from _worth_drawing(run)


def _worth_drawing(run: Run) -> Iterator[Run]:
    if any(value for _, value in run):
        yield run


def _smoothed(run: Run, points_per_span: int) -> tuple[FloatArray, FloatArray]:
    x, y = np.array(run, dtype=np.float64).T
    width, rise, slope = np.diff(x), np.diff(y), _slopes(x, y)
    part = np.linspace(0, 1, points_per_span, endpoint=False)
    at = x[:-1, None] + width[:, None] * part
    height = (
        y[:-1, None]
        + rise[:, None] * (3 - 2 * part) * part**2
        + (width * slope[:-1])[:, None] * part * (1 - part) ** 2
        - (width * slope[1:])[:, None] * part**2 * (1 - part)
    )
    return np.append(at, x[-1]), np.append(height, y[-1])


def _slopes(x: FloatArray, y: FloatArray) -> FloatArray:
    """Return the curve's slope at every reading: a weighted harmonic mean, and 0 at a turn and at both ends.

    A family that sets in or dies away does so gently.
    """
    width, steepness = np.diff(x), np.diff(y) / np.diff(x)
    slope = np.zeros_like(y)
    before, after = steepness[:-1], steepness[1:]
    goes_on = before * after > 0
    weight_before, weight_after = 2 * width[1:] + width[:-1], width[1:] + 2 * width[:-1]
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        mean = (weight_before + weight_after) / (weight_before / before + weight_after / after)
    slope[1:-1] = np.where(goes_on, mean, 0.0)
    return slope
