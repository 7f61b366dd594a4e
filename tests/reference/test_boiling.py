"""Air pressure and boiling point against the published standards and two independent libraries.

`boiling_altitude.csv`: U.S. Standard Atmosphere 1976 / ISO 2533 and IAPWS-IF97 region 4, computed by three formulations
that agree to 0.001 °C. `iapws` and `fluids` implement the same standards from the documents, not from here.
"""

from __future__ import annotations

import numpy as np
import pytest
from fluids.atmosphere import ATMOSPHERE_1976
from iapws import iapws97

from tastebook.domain.water import boiling_at_altitude_c, boiling_c, hottest_c, pressure_kpa
from tests.reference.published import rows

TABLE = [
    (float(row["altitude_m"]), float(row["pressure_kpa"]), float(row["boiling_c"]))
    for row in rows("boiling_altitude.csv")
]


@pytest.mark.parametrize(("altitude_m", "published_kpa", "published_c"), TABLE)
def test_pressure_and_boiling_point_are_those_of_the_table(
    altitude_m: float, published_kpa: float, published_c: float
) -> None:
    assert pressure_kpa(altitude_m) == pytest.approx(published_kpa, abs=0.0001)
    assert boiling_at_altitude_c(altitude_m) == pytest.approx(published_c, abs=0.001)


@pytest.mark.parametrize(
    ("pressure_mpa", "published_k"),
    # IAPWS R7-97(2012), table 36: the values by which the release asks a program to be checked (from memory; `iapws`
    # gives the same).
    [(0.1, 0.372755919e3), (1.0, 0.453035632e3), (10.0, 0.584149488e3)],
)
def test_the_equation_passes_the_release_s_own_check(pressure_mpa: float, published_k: float) -> None:
    assert boiling_c(pressure_mpa * 1000) + 273.15 == pytest.approx(published_k, abs=1e-6)
    assert iapws97._TSat_P(pressure_mpa) == pytest.approx(published_k, abs=1e-6)


def test_the_boiling_point_is_that_of_iapws_wherever_tea_is_tasted() -> None:
    for pressure_hpa in np.arange(300, 1101, 5.0):
        assert hottest_c(pressure_hpa=pressure_hpa) == pytest.approx(
            iapws97._TSat_P(pressure_hpa / 1e4) - 273.15, abs=1e-6
        )


def test_the_pressure_is_that_of_fluids_wherever_tea_is_tasted() -> None:
    for altitude_m in np.arange(-400, 9001, 50.0):
        assert pressure_kpa(altitude_m) == pytest.approx(ATMOSPHERE_1976(altitude_m).P / 1000, rel=1e-6)


def test_both_together_are_the_two_libraries_together() -> None:
    for altitude_m in np.arange(-400, 9001, 200.0):
        judged_c = iapws97._TSat_P(ATMOSPHERE_1976(altitude_m).P / 1e6) - 273.15
        assert boiling_at_altitude_c(altitude_m) == pytest.approx(judged_c, abs=0.01)


def test_the_weather_moves_the_boiling_point_by_less_than_half_a_degree() -> None:
    # Arithmetic on the standard: 15 hPa either way of 1013.25.
    calm_c = hottest_c(pressure_hpa=1013.25)

    assert calm_c - hottest_c(pressure_hpa=998.25) == pytest.approx(0.42, abs=0.01)
    assert hottest_c(pressure_hpa=1028.25) - calm_c < 0.5
