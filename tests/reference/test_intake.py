"""Caffeine of the leaf and the levels of caution, against what was published.

`caffeine_reference.csv`: Khokhar & Magnusdottir 2002, J. Agric. Food Chem. 50:565-570; Hicks, Hsieh & Bell 1996, Food
Res. Int. 29:325-330; EFSA 2015, EFSA Journal 13(5):4102. A row `seen_secondary` supports the top of a range only.
"""

from __future__ import annotations

import pytest

from tastebook.domain.figures import Range
from tastebook.domain.intake import Cup, caffeine_mg, content_mg_g, limits
from tastebook.domain.lot import KINDS
from tests.domain.shipped_figures import shipped_figures
from tests.reference.published import rows

FIGURES = shipped_figures("caffeine")
ROWS = rows("caffeine_reference.csv")
LEAF = [row for row in ROWS if row["unit"] in ("mg/g", "mg/g DM") and row["status"] == "seen"]
LEVELS = {row["item"]: float(row["value"]) for row in ROWS if row["source"].startswith("EFSA")}


def ends(value: str) -> tuple[float, float]:
    low, _, high = value.partition("-")
    return float(low), float(high or low)


@pytest.mark.parametrize("row", LEAF, ids=lambda row: f"{row['item']} {row['value']}")
def test_what_was_found_in_the_leaf_lies_within_the_range_of_its_kind(row: dict[str, str]) -> None:
    kind = next(kind for kind in KINDS if kind in row["item"].lower())
    content = content_mg_g(kind, FIGURES)
    low, high = ends(row["value"])

    assert content.low <= low <= high <= content.high


def test_no_range_goes_beyond_what_is_quoted_for_any_dry_leaf() -> None:
    (row,) = (row for row in ROWS if row["item"] == "any dry leaf")
    _, most_pct = ends(row["value"])

    assert (row["unit"], row["status"]) == ("% of dry mass", "seen_secondary")
    assert max(content_mg_g(kind, FIGURES).high for kind in KINDS) == most_pct * 10


def test_oolong_is_where_two_studies_found_it() -> None:
    # Theppakorn, Luthfivyyah & Ploysri 2014, Int. Food Res. J. 21:2055-2061 (abstract seen): 2.25 ± 0.48 g/100 g in 17
    # oolongs; nine in ten of a normal spread are within 1.645 standard deviations.
    content = content_mg_g("oolong", FIGURES)

    assert content.middle == 22.5
    assert content.low == pytest.approx(22.5 - 1.645 * 4.8, abs=0.7)
    assert content.high == pytest.approx(22.5 + 1.645 * 4.8, abs=0.7)


def test_the_levels_are_those_of_the_authority() -> None:
    adult, pregnancy = limits(FIGURES, "adult"), limits(FIGURES, "pregnancy")
    assert adult is not None
    assert pregnancy is not None

    assert adult.single_mg == LEVELS["single dose, adults"] == 200
    assert adult.day_mg == LEVELS["daily, non-pregnant adults"] == 400
    assert pregnancy.day_mg == LEVELS["daily, pregnancy"] == 200
    assert pregnancy.single_mg <= LEVELS["single dose, adults"]


def test_three_brews_that_were_measured_lie_within_the_estimate() -> None:
    # Hicks et al. 1996 (seen): black leaf, 32.8 mg/g over three brews of five minutes, shares 69, 23 and 8 %.
    cups = [Cup(Range.exactly(share), "drunk") for share in (0.69, 0.23, 0.08)]

    of_two_grams = [
        caffeine_mg(Range.exactly(2.0), content_mg_g("black", FIGURES), cups[:brews], FIGURES) for brews in (1, 2, 3)
    ]

    for amount_mg, share in zip(of_two_grams, (0.69, 0.92, 1.0), strict=True):
        assert amount_mg.low <= 2.0 * 32.8 * share <= amount_mg.high
