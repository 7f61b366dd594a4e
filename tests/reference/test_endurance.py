"""Endurance against scipy, Student's table and simulation."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.stats import linregress
from scipy.stats import t as student

from tastebook.domain import endurance
from tastebook.domain.endurance import endurance_from_readings, equal_cups
from tastebook.domain.figures import Range


def test_the_table_of_student_is_the_published_one() -> None:
    for degrees in (*range(1, 31), 40, 60, 120):
        assert endurance._t_95(degrees) == pytest.approx(float(student.ppf(0.95, degrees)), abs=0.001)


@given(st.lists(st.floats(0.5, 5), min_size=4, max_size=15))
def test_scipy_finds_the_same_crossing(strengths: list[float]) -> None:
    falling = sorted(strengths, reverse=True)
    assume(falling[0] >= 2 and falling[0] - falling[-1] > 0.1)

    found = endurance_from_readings(falling)

    judged = linregress(range(1, len(falling) + 1), [math.log(one) for one in falling])
    crossing = (math.log(2) - judged.intercept) / judged.slope
    assert found.middle == pytest.approx(max(1.0, crossing), rel=1e-6)  # the first cup did reach the floor


def _read(rng: random.Random, infusions: int, scatter: float) -> list[float]:
    """Return readings that fall from 4.4 by 13 % an infusion, from the first on."""
    true = [4.4 * math.exp(-0.13 * before) for before in range(infusions)]
    return [round(min(5.0, one * math.exp(rng.gauss(0, scatter))), 2) for one in true]


@pytest.mark.parametrize(("infusions", "scatter"), [(7, 0.05), (7, 0.1), (9, 0.1), (9, 0.15)])
def test_the_interval_holds_the_true_crossing_nine_times_in_ten(infusions: int, scatter: float) -> None:
    # Fieller 1954 (from memory), judged by 500 seeded simulations: 85 to 95 % are asked for.
    rng = random.Random(20260418)
    true = 1 + math.log(4.4 / 2) / 0.13

    told = [endurance_from_readings(_read(rng, infusions, scatter)) for _ in range(500)]

    known = [one for one in told if one.outcome != "too few"]
    held = sum(one.low <= true <= one.high for one in known) / len(known)
    assert 0.85 <= held <= 0.95


def test_a_tenth_an_infusion_is_about_ten_infusions() -> None:
    # Algebra: the tenth would need all that is left, so nine can be had.
    assert equal_cups(Range(0.08, 0.1, 0.125)) == (7, 9, 12)
