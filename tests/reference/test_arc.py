"""The arc's arithmetic against worked values and scipy."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import theilslopes

from tastebook.domain.arc import family_strength, theil_sen_slope


@pytest.mark.parametrize(
    ("intensities", "strength"), [((3,), 3.0), ((3, 2), 3.61), ((4, 4), 5.0), ((3, 4), 5.0), ((), 0)]
)
def test_a_family_combines_as_vectors_at_right_angles(intensities: tuple[int, ...], strength: float) -> None:
    # Algebra: the root of the sum of squares, kept to 5 ({4, 4} would be 5.66). The model is that of Berglund et al.
    # 1973, from memory.
    assert family_strength(intensities) == pytest.approx(strength, abs=0.005)


@given(st.lists(st.floats(0, 5), min_size=2, max_size=20))
def test_scipy_finds_the_same_trend(readings: list[float]) -> None:
    # Sen 1968 as scipy computes it.
    judged = theilslopes(readings, range(1, len(readings) + 1))

    assert theil_sen_slope(readings) == pytest.approx(float(judged.slope), abs=1e-12)


@given(st.lists(st.one_of(st.none(), st.floats(0, 5)), min_size=2, max_size=20))
def test_scipy_finds_the_same_trend_over_gaps(readings: list[float | None]) -> None:
    read = [(index, value) for index, value in enumerate(readings) if value is not None]
    if len(read) < 2:
        assert theil_sen_slope(readings) is None
        return

    judged = theilslopes([value for _, value in read], [index for index, _ in read])

    assert theil_sen_slope(readings) == pytest.approx(float(judged.slope), abs=1e-12)
