"""Cooling and pouring against what others measured.

- `cup_cooling.csv`: a cup of water on a table, a reading every ten minutes for ninety (Queens College, City University
  of New York, Mat 158, 27 April 2017; seen).
- Warner, Wilson & Chester 2012, Burns 38:1186-1191 (abstract seen): after ten minutes or less everyday hot drinks are
  likely above 60 °C; most take 15 to 30 min to fall below 53 °C.
- A kitchen trial of 2015 (seen): an electric kettle reached 95 °C after 2.5 min and 90 °C in just over 5 min.
- A forum's question (seen): boiling water, about 12 fl oz, in a mug of 17 oz at about 65 °F read "just a bit over"
  180 °F.
- Water as such: IAPWS-IF97, through `iapws`.
"""

from __future__ import annotations

import math

import pytest
from iapws import IAPWS97

from tastebook.domain.figures import Range
from tastebook.domain.kettle import (
    Estimate,
    Reading,
    air_of,
    at_pour,
    boil,
    cooling,
    given_air,
    rate_of,
    seconds_until_c,
    temp_at,
    vessel_mass_g,
    weighed_vessel_g,
)
from tastebook.domain.quantities import celsius
from tests.domain.shipped_figures import shipped_figures
from tests.reference.published import rows

FIGURES = shipped_figures("water")
CUP = [Reading(60 * float(row["elapsed_min"]), celsius(float(row["temp_f"]))) for row in rows("cup_cooling.csv")]
ROOM = given_air(celsius(74.6))
CUP_RATE = rate_of(FIGURES.range("cup_k_per_min"))
KETTLE_RATE = rate_of(FIGURES.range("kettle_k_per_min"))
NO_LEAF = Range.exactly(0.0)


def test_the_readings_are_those_from_which_the_lecture_found_its_constant() -> None:
    # The lecture's own line through ln(T - 74.6 °F): slope -0.020416 per minute.
    minutes = [one.elapsed_s / 60 for one in CUP]
    logs = [math.log((one.temp_c - celsius(74.6)) * 9 / 5) for one in CUP]
    middle, mean = sum(minutes) / len(CUP), sum(logs) / len(CUP)
    slope = sum((at - middle) * (log - mean) for at, log in zip(minutes, logs, strict=True)) / sum(
        (at - middle) ** 2 for at in minutes
    )

    assert slope == pytest.approx(-0.020416, abs=0.0002)


@pytest.mark.parametrize("read", [2, 3, 4, 5])
def test_from_a_few_readings_of_the_cup_the_next_is_foretold(read: int) -> None:
    fit = cooling(CUP[:read], CUP_RATE, ROOM, air_measured=True)
    foretold = temp_at(fit, CUP[read].elapsed_s)

    assert foretold.low_c - 0.5 <= CUP[read].temp_c <= foretold.high_c + 0.5


def test_the_range_for_cups_holds_this_cup_through_its_first_half_hour() -> None:
    unread = cooling(CUP[:1], CUP_RATE, ROOM)

    for reading in CUP[1:4]:
        estimate = temp_at(unread, reading.elapsed_s)
        assert estimate.low_c <= reading.temp_c <= estimate.high_c


def test_the_constant_of_the_whole_series_lies_between_its_first_and_its_last() -> None:
    def between(earlier: Reading, later: Reading) -> float:
        ratio = (earlier.temp_c - celsius(74.6)) / (later.temp_c - celsius(74.6))
        return math.log(ratio) / (later.elapsed_s - earlier.elapsed_s)

    fit = cooling(CUP, CUP_RATE, ROOM, air_measured=True)

    assert between(CUP[-2], CUP[-1]) < fit.k_per_s < between(CUP[0], CUP[1])


def test_one_reading_of_a_kettle_foretells_when_it_reaches_ninety_degrees() -> None:
    fit = cooling([boil(99.974), Reading(150, 95)], KETTLE_RATE, air_of(FIGURES))

    after_five = temp_at(fit, 300)

    assert after_five.low_c <= 90.2 <= after_five.high_c
    assert after_five.temp_c == pytest.approx(90.2, abs=0.6)


def test_the_range_for_kettles_holds_that_kettle_before_it_was_read() -> None:
    unread = cooling([boil(99.974)], KETTLE_RATE, air_of(FIGURES))

    for since_s, read_c in ((150, 95.0), (300, 90.2)):
        estimate = temp_at(unread, since_s)
        assert estimate.low_c <= read_c <= estimate.high_c


def test_boiling_water_in_a_heavy_cold_mug_reads_as_low_as_it_did() -> None:
    # 17 oz = 482 g; 12 fl oz = 355 ml; 65 °F = 18 °C; "just a bit over" 180 °F = 82.2 °C.
    mixed = at_pour(
        Estimate.measured(100), 355, weighed_vessel_g(482), NO_LEAF, FIGURES, vessel_warmed=False, air=given_air(18)
    )

    assert mixed.temp_c == pytest.approx(celsius(181), abs=2)
    assert mixed.low_c <= celsius(181) <= mixed.high_c


def test_a_mug_of_a_hot_drink_takes_as_long_to_cool_as_was_measured() -> None:
    k_per_s = FIGURES.range("cup_k_per_min").times(1 / 60)
    mug_g = vessel_mass_g("cup", 250, FIGURES)
    poured = at_pour(Estimate.measured(100), 250, mug_g, NO_LEAF, FIGURES, vessel_warmed=False)

    to_53_s = seconds_until_c(poured, 53, k_per_s, air_of(FIGURES))
    to_60_s = seconds_until_c(poured, 60, k_per_s, air_of(FIGURES))

    assert 15 * 60 <= to_53_s.middle <= 30 * 60
    assert to_53_s.low <= 15 * 60 < 30 * 60 <= to_53_s.high
    assert to_60_s.middle > 10 * 60


@pytest.mark.parametrize("temp_c", [40, 65, 80, 90, 99.9])
def test_the_heat_of_water_is_that_of_the_standard(temp_c: float) -> None:
    water = IAPWS97(T=temp_c + 273.15, P=0.101325)
    heat = FIGURES.range("specific_heat_water")

    assert heat.low - 0.002 <= water.cp <= heat.high


@pytest.mark.parametrize("temp_c", [65.5, 80, 90, 99.9])
def test_the_density_of_hot_water_is_that_of_the_standard(temp_c: float) -> None:
    water = IAPWS97(T=temp_c + 273.15, P=0.101325)
    density = FIGURES.range("density_water")

    assert density.low <= water.rho / 1000 <= density.high + 0.001
