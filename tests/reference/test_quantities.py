"""Degrees: °F = °C × 9/5 + 32 is how the one scale is defined by the other, so these hold exactly."""

from __future__ import annotations

import pytest

from tastebook.domain.quantities import celsius, fahrenheit

EXACT = [(-40, -40), (0, 32), (5, 41), (65, 149), (80, 176), (85, 185), (90, 194), (95, 203), (100, 212)]


@pytest.mark.parametrize(("temp_c", "temp_f"), EXACT)
def test_a_temperature_is_the_same_on_both_scales(temp_c: float, temp_f: float) -> None:
    assert fahrenheit(temp_c) == temp_f
    assert celsius(temp_f) == temp_c
