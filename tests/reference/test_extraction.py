"""Extraction against published rates, delays and successive infusions.

`kinetics_published.csv`, `successive_infusions.csv` and `infusions_quoted.csv` name the source of every row. The last
is quoted by others; of it only the third brew of loose leaf has set a figure (the rate of twisted leaf).
"""

from __future__ import annotations

import math
from statistics import fmean

import pytest

from tastebook.domain.extraction import (
    Leaf,
    Manner,
    Steeped,
    arrhenius,
    extents,
    rate_per_min,
    reference_cup,
    session_shares,
    size_factor,
    steep_share,
)
from tests.domain.shipped_figures import shipped_figures
from tests.reference.published import rows

FIGURES = shipped_figures("extraction")
KINETICS = rows("kinetics_published.csv")
SUCCESSIVE = rows("successive_infusions.csv")
QUOTED = rows("infusions_quoted.csv")
CUP = Leaf(manner="cup")
BOILING_FIVE_MINUTES = Steeped(300, reference_cup(FIGURES))


def _published(source: str, quantity: str, analyte: str = "") -> str:
    (row,) = (
        one
        for one in KINETICS
        if one["source"].startswith(source) and one["quantity"].startswith(quantity) and analyte in one["analyte"]
    )
    return row["value"]


def _per_brew(shares: tuple[float, ...]) -> list[float]:
    return [share / sum(shares) * 100 for share in shares]


@pytest.mark.parametrize(
    ("temp_c", "per_min"),
    [(50, 0.2769), (60, 0.4343), (70, 0.6636), (80, 0.9900), (90, 1.4447), (95, 1.7318), (100, 2.0659)],
)
def test_the_rate_of_caffeine_follows_arrhenius_from_the_published_pair(temp_c: float, per_min: float) -> None:
    # Computed from k(80 °C) = 0.99 /min and Ea = 40.3 kJ/mol, Jaganyi & Price 1999, Food Chem. 64:27-31.
    assert rate_per_min(FIGURES, "caffeine", temp_c).middle == pytest.approx(per_min, abs=5e-5)


def test_the_pair_itself_is_the_published_one() -> None:
    assert FIGURES.value("caffeine_k") == float(_published("Jaganyi", "k", "caffeine"))
    assert FIGURES.value("caffeine_ea") == float(_published("Jaganyi", "Ea"))


@pytest.mark.parametrize(("source", "quantity"), [("Price & Spitzer", "Ea"), ("Taiwan TTES-12 study", "Ea")])
def test_the_range_for_catechins_holds_what_was_published(source: str, quantity: str) -> None:
    told = [
        one["value"].replace(" to ", "-").split("-")
        for one in KINETICS
        if one["source"].startswith(source) and one["quantity"] == quantity and "black" not in one["material"]
    ]
    found = FIGURES.range("catechins_ea")

    for low, high in told:
        assert found.low <= float(low)
        assert float(high) <= found.high


def test_leaf_of_half_the_size_gives_two_point_two_times_as_fast() -> None:
    # Price & Spiro 1985, J. Sci. Food Agric. 36:1309-1314: from 850-1000 to 500-600 µm, taken at their middles.
    factor = size_factor(FIGURES, 0.925, 0.55)

    assert factor.middle == pytest.approx(float(_published("Price & Spiro", "k ratio")), rel=0.01)


def test_the_range_of_sizes_holds_the_phenolics_of_cut_leaf() -> None:
    # Farakte et al. 2016, Int. J. Food Eng. 12:1-16: 0.257 /min at 1.99 mm, 0.685 /min at 0.33 mm, 60 °C.
    factor = size_factor(FIGURES, 1.99, 0.33)

    assert factor.low <= 0.685 / 0.257 * 1.01
    assert factor.high >= 0.685 / 0.257


def test_the_rate_of_all_that_dissolves_lies_between_phenolics_and_caffeine() -> None:
    # The same study, 0.257 /min at 60 °C taken to 80 °C by the ratio of diffusivities 4.34/2.23.
    phenolics = 0.257 * 4.34 / 2.23

    assert FIGURES.value("soluble_k") == pytest.approx(math.sqrt(phenolics * 0.99), abs=0.01)
    assert FIGURES.range("soluble_k").low <= rate_per_min(FIGURES, "soluble", 60).high
    assert rate_per_min(FIGURES, "soluble", 60).low <= 0.257 <= rate_per_min(FIGURES, "soluble", 60).high


@pytest.mark.parametrize(("temp_c", "least_s", "most_s"), [(100, 15, 17), (85, 15, 17), (70, 22, 30)])
def test_the_late_part_of_a_first_steep_lags_by_the_published_delay(
    temp_c: float, least_s: float, most_s: float
) -> None:
    # TTES-12 study: 15 to 17 s at 85 and 100 °C, above 22 s at 70 °C; where the straight part meets the time axis.
    early, late = (extents(FIGURES, CUP, [Steeped(time_s, temp_c)])[0].middle for time_s in (600, 700))

    delay_s = 600 - early / (late - early) * 100

    assert least_s <= round(delay_s, 6) <= most_s


def test_the_rate_of_the_unstirred_cup_is_the_one_derived_from_five_boiling_minutes() -> None:
    # 0.234 /min = -ln(1 - 0.69)/5, row "derived from Hicks 1996"; mean along the cup's usual fall.
    water = reference_cup(FIGURES)

    mean = fmean(rate_per_min(FIGURES, "caffeine", water(after_s), CUP).middle for after_s in range(1, 300, 2))

    assert mean == pytest.approx(float(_published("derived from Hicks", "k_effective")), rel=0.005)
    assert mean == pytest.approx(-math.log(1 - 0.69) / 5, rel=0.005)


def test_three_boiling_brews_of_five_minutes_share_the_caffeine_as_published() -> None:
    # Hicks, Hsieh & Bell 1996, Food Res. Int. 29:325-330: 69, 23 and 8 % of the three brews together.
    shares = session_shares(FIGURES, CUP, [BOILING_FIVE_MINUTES] * 3, "caffeine")

    first, second, third = _per_brew(shares.middle)

    assert 66 <= first <= 74
    assert 20 <= second <= 26
    assert 5 <= third <= 10
    assert [first, second, third] == pytest.approx([69, 23, 8], abs=1)


@pytest.mark.parametrize("row", SUCCESSIVE, ids=lambda row: f"{row['dataset']} {row['infusion']}")
def test_every_published_brew_lies_between_slow_and_fast_leaf(row: dict[str, str]) -> None:
    shares = session_shares(FIGURES, CUP, [BOILING_FIVE_MINUTES] * 3, "caffeine")

    at_place = [_per_brew(one)[int(row["infusion"]) - 1] for one in (shares.slow, shares.fast)]

    assert min(at_place) <= float(row["value"]) <= max(at_place)


def test_the_rate_of_twisted_leaf_is_that_of_loose_leaf_after_its_first_brew() -> None:
    second, third = (float(row["value"]) for row in QUOTED if row["series"] == "HICKS_LOOSE" and row["infusion"] != "1")

    assert FIGURES.value("form_strip") == pytest.approx(math.log(second / third) / 5 / 0.234, abs=0.005)


@pytest.mark.parametrize(
    "row", [one for one in QUOTED if one["series"].startswith("HICKS_LOOSE")], ids=lambda row: row["infusion"]
)
def test_loose_leaf_brewed_thrice_gives_what_was_quoted_within_two_points(row: dict[str, str]) -> None:
    shares = session_shares(FIGURES, Leaf("strip", "cup"), [BOILING_FIVE_MINUTES] * 3, "caffeine")

    assert _per_brew(shares.middle)[int(row["infusion"]) - 1] == pytest.approx(float(row["value"]), abs=2)


@pytest.mark.parametrize(
    "row", [one for one in QUOTED if one["series"] == "HICKS_TIMES"], ids=lambda row: row["time_s"]
)
def test_longer_brews_give_what_was_quoted_within_ten_points(row: dict[str, str]) -> None:
    found = steep_share(FIGURES, CUP, Steeped(float(row["time_s"]), reference_cup(FIGURES)), "caffeine")

    assert found.low * 100 <= float(row["value"]) <= found.high * 100
    assert found.middle * 100 == pytest.approx(float(row["value"]), abs=10)


YANG = [one for one in QUOTED if one["series"].startswith("YANG") and one["water_c"] != "4"]


@pytest.mark.parametrize("row", YANG, ids=lambda row: f"{row['series']} {row['water_c']} °C {row['time_s']} s")
def test_cooler_and_cold_brews_of_another_laboratory_lie_within_the_range(row: dict[str, str]) -> None:
    # Yang, Hwang & Lin 2007 as quoted by others; sixteen hours in cold water are taken to have given all the caffeine.
    all_of_it = next(float(one["value"]) for one in QUOTED if (one["series"], one["water_c"]) == (row["series"], "4"))
    water_c = float(row["water_c"])
    manner: Manner = "cup" if water_c > 40 else "cold"
    water = reference_cup(FIGURES, water_c) if water_c > 40 else water_c

    found = steep_share(FIGURES, Leaf(manner=manner), Steeped(float(row["time_s"]), water), "caffeine")

    assert found.low <= float(row["value"]) / all_of_it <= found.high


def test_sixteen_hours_in_cold_water_give_nearly_all() -> None:
    # The same series: more caffeine than four minutes of boiling water gave.
    cold = steep_share(FIGURES, Leaf(manner="cold"), Steeped(57_600, 4), "caffeine")
    hot = steep_share(FIGURES, CUP, Steeped(240, reference_cup(FIGURES)), "caffeine")

    assert cold.middle > hot.middle
    assert cold.middle > 0.9


@pytest.mark.parametrize(("ea_kj_mol", "longer_pct"), [(40.3, 20), (18, 8)])
def test_five_degrees_less_lengthen_a_steep_as_the_activation_energy_says(ea_kj_mol: float, longer_pct: float) -> None:
    # Algebra: exp(Ea/R (1/363.15 K - 1/368.15 K)), for the two ends of what was published.
    assert (arrhenius(90, 95, ea_kj_mol) - 1) * 100 == pytest.approx(longer_pct, abs=0.5)
