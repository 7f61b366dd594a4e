from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.errors import QuantityError
from tastebook.domain.quantities import fahrenheit
from tastebook.domain.water import (
    boiling_at_altitude_c,
    boiling_c,
    hottest_c,
    is_reachable,
    nearest_possible_c,
    pressure_doubt,
    pressure_kpa,
    refusal,
)

altitudes_m = st.floats(-430, 9000)
pressures_hpa = st.floats(300, 1100)


@given(altitudes_m, st.floats(1, 500))
def test_higher_up_the_air_is_thinner_and_water_boils_sooner(altitude_m: float, more_m: float) -> None:
    higher_m = min(9000.0, altitude_m + more_m)

    assert pressure_kpa(higher_m) <= pressure_kpa(altitude_m)
    assert boiling_at_altitude_c(higher_m) <= boiling_at_altitude_c(altitude_m)


@given(pressures_hpa, st.floats(0.1, 500))
def test_under_more_pressure_water_boils_hotter(pressure_hpa: float, more_hpa: float) -> None:
    assert boiling_c((pressure_hpa + more_hpa) / 10) > boiling_c(pressure_hpa / 10)


@given(altitudes_m)
def test_the_boiling_point_is_a_number_that_a_thermometer_could_show(altitude_m: float) -> None:
    assert 68 < boiling_at_altitude_c(altitude_m) < 102


def test_with_nothing_known_the_place_is_at_sea_level() -> None:
    assert hottest_c() == boiling_at_altitude_c(0)


def test_a_barometer_counts_for_more_than_the_height() -> None:
    assert hottest_c(altitude_m=0, pressure_hpa=795.014) == pytest.approx(boiling_at_altitude_c(2000), abs=0.001)


@pytest.mark.parametrize(
    ("altitude_m", "pressure_hpa", "told"),
    [
        (90_000, None, r"^altitude cannot be 90000 m: it must be from -430 to 9000 m\.$"),
        (-500, None, r"^altitude cannot be -500 m"),
        (math.nan, None, r"^altitude cannot be nan m"),
        (None, 12, r"^air pressure cannot be 12 hPa: it must be from 300 to 1100 hPa\.$"),
        (0, 101.3, r"^air pressure cannot be 101\.3 hPa"),
        (None, math.inf, r"^air pressure cannot be inf hPa"),
    ],
)
def test_a_height_or_a_pressure_that_cannot_be_is_refused_with_the_range(
    altitude_m: float | None, pressure_hpa: float | None, told: str
) -> None:
    with pytest.raises(QuantityError, match=told):
        hottest_c(altitude_m, pressure_hpa)


@pytest.mark.parametrize("pressure", [0.0, -1.0, 1e6, math.nan])
def test_no_boiling_point_is_given_where_water_does_not_boil(pressure: float) -> None:
    with pytest.raises(QuantityError, match="must be from"):
        boiling_c(pressure)


def test_a_plan_hotter_than_water_can_be_is_refused_with_the_reason_and_the_nearest() -> None:
    told = refusal(98, hottest_c(altitude_m=2000))

    assert told == ("98 °C cannot be reached: water boils at 93.3 °C here. The nearest is water at the boil, 93.3 °C.")


def test_the_refusal_speaks_fahrenheit_to_those_who_read_it() -> None:
    told = refusal(98, hottest_c(altitude_m=2000), lambda temp_c: f"{fahrenheit(temp_c):.0f} °F")

    assert told.startswith("208 °F cannot be reached: water boils at 200 °F here.")


def test_boiling_water_can_be_planned_at_sea_level_although_it_boils_below_a_hundred() -> None:
    assert refusal(100, hottest_c()) == ""
    assert nearest_possible_c(100, hottest_c()) == 100


@pytest.mark.parametrize(("plan_c", "reachable"), [(93, True), (93.8, True), (93.9, False), (100, False)])
def test_within_half_a_degree_of_the_boil_the_weather_decides(plan_c: float, reachable: bool) -> None:
    assert is_reachable(plan_c, hottest_c(altitude_m=2000)) is reachable


@given(st.floats(0, 100), altitudes_m)
def test_the_nearest_possible_is_possible(plan_c: float, altitude_m: float) -> None:
    here_c = hottest_c(altitude_m)

    nearest_c = nearest_possible_c(plan_c, here_c)

    assert refusal(nearest_c, here_c) == "" if nearest_c <= 100 else here_c > 100
    assert nearest_c <= plan_c


@pytest.mark.parametrize("plan_c", [950, -1, math.nan])
def test_what_is_no_temperature_of_water_is_refused_at_once(plan_c: float) -> None:
    with pytest.raises(QuantityError, match=r"^water cannot be .* it must be from 0 to 100 °C\.$"):
        refusal(plan_c, hottest_c())


def test_a_barometer_reduced_to_sea_level_is_doubted_high_up() -> None:
    assert pressure_doubt(2000, 1013).startswith("At 2,000 m the air usually stands near 795 hPa; 1,013 hPa looks like")


@pytest.mark.parametrize(
    ("altitude_m", "pressure_hpa"), [(2000, 780), (2000, 815), (0, 1040), (None, 1013), (2000, None)]
)
def test_the_weather_alone_raises_no_doubt(altitude_m: float | None, pressure_hpa: float | None) -> None:
    assert pressure_doubt(altitude_m, pressure_hpa) == ""
