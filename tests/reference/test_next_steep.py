"""The next steep against its own algebra: t_n = -ln(1 - f/P_n)/k with P_n = 1 - (n - 1) f."""

from __future__ import annotations

import math

import pytest

from tastebook.domain.extraction import Leaf, Steeped
from tastebook.domain.next_steep import advice_line, equal_strength_times, next_steep
from tests.domain.shipped_figures import shipped_figures

A_TENTH = (1, 1.118, 1.267, 1.463, 1.730, 2.118, 2.730, 3.848)
STIRRED = Leaf(manner="stirred")

TEXTBOOK = shipped_figures("extraction").with_own(
    {
        "wetting_hot": {"value": 0},
        "wetting_warm": {"value": 0},
        "manner_stirred": {"value": 1},
        "form_other": {"value": 1},
        "soluble_k": {"value": -math.log(0.9) * 2},  # a tenth in 30 s at 80 °C
    }
)
"""Leaf that is wet at once, whose rate is known exactly; only the activation energy keeps its range."""


def test_a_tenth_each_time_gives_the_relative_times_of_algebra() -> None:
    times = equal_strength_times(0.1, 10)

    assert [round(one, 3) for one in times[:8]] == list(A_TENTH)
    assert math.isinf(times[9])


def test_the_advice_followed_gives_those_times_and_runs_out() -> None:
    steeps = [Steeped(30, 80.0)]

    for expected in A_TENTH[1:]:
        advice = next_steep(TEXTBOOK, STIRRED, steeps, 0, 80.0)
        steeps.append(Steeped(advice.middle_s, 80.0))

        assert advice.middle_s / 30 == pytest.approx(expected, abs=5e-4)
        assert advice.taken.middle == pytest.approx(0.1)

    ninth = next_steep(TEXTBOOK, STIRRED, steeps, 0, 80.0)
    tenth = next_steep(TEXTBOOK, STIRRED, [*steeps, Steeped(ninth.middle_s, 80.0)], 0, 80.0)
    assert ninth.middle_s / 30 == pytest.approx(math.log(2) / -math.log(0.9), abs=1e-3)
    assert not tenth.reachable
    assert tenth.hindrance == "spent"


def test_cooler_water_lengthens_the_steep_by_the_range_of_published_activation_energies() -> None:
    # From 95 to 90 °C: 8 % at 18 kJ/mol (TTES-12 study), 20 % at 40.3 kJ/mol (Jaganyi & Price 1999).
    nearly_endless = TEXTBOOK.with_own({"soluble_k": {"value": 0.01}})
    same = next_steep(nearly_endless, STIRRED, [Steeped(30, 95.0)], 0, 95.0)

    cooler = next_steep(nearly_endless, STIRRED, [Steeped(30, 95.0)], 0, 90.0)

    assert cooler.low_s / same.middle_s == pytest.approx(1.084, abs=0.002)
    assert cooler.high_s / same.middle_s == pytest.approx(1.199, abs=0.002)
    assert any("8 to 20 % longer" in why for why in cooler.why)


def test_the_line_gives_a_range_and_no_false_digit() -> None:
    advice = next_steep(TEXTBOOK, STIRRED, [Steeped(30, 95.0)] * 3, 2, 90.0)

    line = advice_line(advice, "infusion 3")

    assert line == f"For the strength of infusion 3: {advice.low_s:.0f} to {advice.high_s:.0f} s at 90 °C."
