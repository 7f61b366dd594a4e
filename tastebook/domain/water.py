"""How hot water can be: the boiling point at a height or under a barometer.

Pressure of the air at a height, the troposphere of the standard atmosphere:

    H = r z / (r + z)                     geopotential height, m, of the geometric height z
    p = p0 (1 - L H / T0) ^ (g / (R L))   pressure

with p0 = 101.325 kPa, T0 = 288.15 K, L = 0.0065 K/m, g = 9.80665 m/s2, R = 287.05287 J/(kg K), r = 6 356 766 m.
Source: ISO 2533:1975 and U.S. Standard Atmosphere 1976, which agree below 11 km.

The temperature at which water boils under that pressure is the saturation temperature of IAPWS-IF97, region 4, its
backward equation (31), with the ten published coefficients n1 to n10:

    b = p ^ 1/4                           p in MPa
    E = b2 + n3 b + n6,   F = n1 b2 + n4 b + n7,   G = n2 b2 + n5 b + n8
    D = 2 G / (-F - sqrt(F2 - 4 E G))
    T = (n10 + D - sqrt((n10 + D)2 - 4 (n9 + n10 D))) / 2      in K

Source: IAPWS R7-97(2012), Revised Release on the IAPWS Industrial Formulation 1997, table 34; its own check values are
in table 36. At sea level that gives 99.974 °C, not 100.

The weather moves the air's pressure by some 15 hPa, which moves the boiling point by 0.4 °C: a plan within half a
degree of the boiling point is therefore taken as *boiling water* and is not refused.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Final

from tastebook.domain.quantities import ALTITUDE_M, WATER_C, Quantity

PRESSURE_HPA: Final = Quantity("air pressure", "hPa", 300, 1100)
SATURATION_KPA: Final = Quantity("pressure", "kPa", 0.611213, 22_064)
"""The range in which the saturation equation holds, from the freezing to the critical point."""

AS_GOOD_AS_BOILING_C: Final = 0.5
REDUCED_HPA: Final = 60
"""A barometer that stands so far above the usual at a height shows a reading reduced to sea level, not the air's."""

_KELVIN: Final = 273.15
_P0_KPA, _T0_K, _LAPSE_K_PER_M, _RADIUS_M = 101.325, 288.15, 0.0065, 6_356_766.0
_G_M_S2, _R_J_KG_K = 9.80665, 287.05287

_N1, _N2, _N3, _N4, _N5 = (
    0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5, -0.32325550322333e7,
)  # fmt: skip
_N6, _N7, _N8, _N9, _N10 = (
    0.14915108613530e2, -0.48232657361591e4, 0.40511340542057e6, -0.23855557567849, 0.65017534844798e3,
)  # fmt: skip


def degrees(temp_c: float) -> str:
    """Return a temperature in words, such as `93.3 °C`, without a needless `.0`."""
    return f"{round(temp_c, 1):g} °C"


def pressure_kpa(altitude_m: float) -> float:
    """Return the usual pressure of the air at a height above the sea.

    Raises
    ------
    QuantityError
        If nobody can brew tea at that height.

    References
    ----------
    ISO 2533:1975; U.S. Standard Atmosphere 1976, equation (33a).
    """
    height_m = ALTITUDE_M.checked(altitude_m)
    geopotential_m = _RADIUS_M * height_m / (_RADIUS_M + height_m)
    ratio = 1 - _LAPSE_K_PER_M * geopotential_m / _T0_K
    return _P0_KPA * math.pow(ratio, _G_M_S2 / (_R_J_KG_K * _LAPSE_K_PER_M))


def boiling_c(pressure_kpa: float) -> float:
    """Return the temperature at which water boils under a pressure.

    Raises
    ------
    QuantityError
        If water cannot boil under that pressure.

    References
    ----------
    IAPWS R7-97(2012), equation (31).
    """
    beta = math.pow(SATURATION_KPA.checked(pressure_kpa) / 1000, 0.25)
    e = beta * beta + _N3 * beta + _N6
    f = _N1 * beta * beta + _N4 * beta + _N7
    g = _N2 * beta * beta + _N5 * beta + _N8
    d = 2 * g / (-f - math.sqrt(f * f - 4 * e * g))
    return (_N10 + d - math.sqrt((_N10 + d) ** 2 - 4 * (_N9 + _N10 * d))) / 2 - _KELVIN


def boiling_at_altitude_c(altitude_m: float) -> float:
    """Return the temperature at which water boils at a height above the sea, in the usual weather."""
    return boiling_c(pressure_kpa(altitude_m))


def hottest_c(altitude_m: float | None = None, pressure_hpa: float | None = None) -> float:
    """Return how hot water can be in an open kettle.

    A barometer reading counts for more than the height; with neither, the place is taken to be at sea level.

    Raises
    ------
    QuantityError
        If the reading or the height cannot be.
    """
    if pressure_hpa is not None:
        return boiling_c(PRESSURE_HPA.checked(pressure_hpa) / 10)
    return boiling_at_altitude_c(0.0 if altitude_m is None else altitude_m)


def is_reachable(plan_c: float, hottest_c: float) -> bool:
    """Say whether water can be as hot as planned; within half a degree of boiling counts as boiling.

    Raises
    ------
    QuantityError
        If the plan is no temperature of water at all, such as 950 °C.
    """
    return WATER_C.checked(plan_c) <= hottest_c + AS_GOOD_AS_BOILING_C


def nearest_possible_c(plan_c: float, hottest_c: float) -> float:
    """Return the plan where water can be so hot, else the boiling point, rounded down to a tenth of a degree."""
    return plan_c if is_reachable(plan_c, hottest_c) else math.floor(hottest_c * 10) / 10


def refusal(plan_c: float, hottest_c: float, show: Callable[[float], str] = degrees) -> str:
    """Return why water cannot be as hot as planned, and the nearest that it can be; empty if it can.

    Parameters
    ----------
    show : callable
        Puts a temperature in °C into words, for those who read °F.

    Raises
    ------
    QuantityError
        If the plan is no temperature of water at all.
    """
    if is_reachable(plan_c, hottest_c):
        return ""
    nearest = show(nearest_possible_c(plan_c, hottest_c))
    return (
        f"{show(plan_c)} cannot be reached: water boils at {nearest} here. The nearest is water at the boil, {nearest}."
    )


def pressure_doubt(altitude_m: float | None, pressure_hpa: float | None) -> str:
    """Return why a barometer reading may not be the air's own at this height, empty where it may.

    Weather reports and many instruments give the pressure reduced to sea level, about 1,013 hPa everywhere.
    """
    if altitude_m is None or pressure_hpa is None:
        return ""
    usual_hpa = pressure_kpa(altitude_m) * 10
    if PRESSURE_HPA.checked(pressure_hpa) - usual_hpa <= REDUCED_HPA:
        return ""
    return (
        f"At {altitude_m:,.0f} m the air usually stands near {usual_hpa:,.0f} hPa; {pressure_hpa:,.0f} hPa looks like "
        "a reading reduced to sea level. Enter the pressure at the place itself, or leave it empty."
    )
