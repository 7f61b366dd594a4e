from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain import quantities
from tastebook.domain.errors import QuantityError
from tastebook.domain.quantities import LEAF_G, WATER_C, YEAR, Quantity, celsius, fahrenheit

ALL = [one for one in vars(quantities).values() if isinstance(one, Quantity)]
every_quantity = pytest.mark.parametrize("quantity", ALL, ids=lambda quantity: quantity.name)


@every_quantity
def test_both_ends_of_a_range_are_allowed(quantity: Quantity) -> None:
    assert quantity.checked(quantity.least) == quantity.least
    assert quantity.checked(quantity.most) == quantity.most


@every_quantity
def test_beyond_either_end_is_refused(quantity: Quantity) -> None:
    for value in (math.nextafter(quantity.least, -math.inf), math.nextafter(quantity.most, math.inf)):
        with pytest.raises(QuantityError):
            quantity.checked(value)


@every_quantity
@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_refused(quantity: Quantity, value: float) -> None:
    with pytest.raises(QuantityError):
        quantity.checked(value)


@given(st.floats(0, 100))
def test_a_value_in_range_comes_back_untouched(temp_c: float) -> None:
    assert WATER_C.checked(temp_c) == temp_c


def test_a_refusal_names_the_value_the_unit_and_the_range() -> None:
    with pytest.raises(QuantityError, match=r"^water cannot be 203 °C: it must be from 0 to 100 °C\.$"):
        WATER_C.checked(203)


def test_a_refusal_of_a_number_without_a_unit_has_no_stray_space() -> None:
    with pytest.raises(QuantityError, match=r"^harvest year cannot be 26: it must be from 1900 to 2200\.$"):
        YEAR.checked(26)


def test_a_slipped_finger_on_the_scales_is_caught() -> None:
    with pytest.raises(QuantityError, match="leaf cannot be 6500 g"):
        LEAF_G.checked(6500)


@given(st.floats(-273.15, 1000))
def test_degrees_survive_the_way_to_fahrenheit_and_back(temp_c: float) -> None:
    assert celsius(fahrenheit(temp_c)) == pytest.approx(temp_c, abs=1e-9)


@given(st.floats(-200, 1000), st.floats(0.001, 100))
def test_hotter_water_is_hotter_in_either_unit(temp_c: float, more_c: float) -> None:
    assert fahrenheit(temp_c + more_c) > fahrenheit(temp_c)
