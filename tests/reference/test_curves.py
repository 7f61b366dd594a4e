"""The curves against scipy's monotone interpolation (Fritsch & Butland 1984, doi 10.1137/0905021)."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from tastebook.reports.curves import monotone_curve


@given(
    st.lists(st.tuples(st.floats(0.1, 3), st.floats(0.01, 5)), min_size=2, max_size=20),
    st.integers(1, 20),
)
def test_scipy_draws_the_same_curve(steps: list[tuple[float, float]], per_span: int) -> None:
    x = np.cumsum([width for width, _ in steps])
    y = np.array([value for _, value in steps])

    found_x, found_y = monotone_curve(x.tolist(), y.tolist(), per_span)

    # Readings repeated beyond both ends make scipy's curve level there, as ours is.
    judge = PchipInterpolator([x[0] - 1, *x, x[-1] + 1], [y[0], *y, y[-1]])
    assert found_y == pytest.approx(judge(found_x), abs=1e-9)
