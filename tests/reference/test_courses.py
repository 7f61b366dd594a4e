"""The courses that ship against the standards they follow.

ISO 3103:2019 (rows `seen`; those of the 1980 edition are quoted by others) and GB/T 23776-2018 (rows `seen`; most of
that table is `memory` and is not used here).
"""

from __future__ import annotations

import pytest

from tastebook.domain.course import Course
from tests.domain.building import shipped_course
from tests.reference.published import rows

ISO = {row["parameter"]: row for row in rows("iso3103.csv")}
GB_BREWING = [row for row in rows("gbt23776_brewing.csv") if row["method"] == "lidded cup"]
GB_WEIGHTS = {row["class_en"]: row for row in rows("gbt23776_weights.csv")}


@pytest.fixture(scope="module")
def comparison_cup() -> Course:
    return shipped_course("comparison_cup")


@pytest.fixture(scope="module")
def lidded_cup() -> Course:
    return shipped_course("lidded_cup_oolong")


@pytest.mark.parametrize(
    "parameter",
    [
        "leaf_per_100ml", "dose_large_pot", "dose_small_pot", "large_pot_capacity", "large_pot_fill",
        "small_pot_capacity", "small_pot_fill", "time_black", "time_green_leafy", "time_green_fannings", "water",
        "altitude_note", "scope_teas",
    ],
)  # fmt: skip
def test_every_row_that_the_comparison_cup_rests_on_was_seen_in_the_edition_of_2019(parameter: str) -> None:
    assert (ISO[parameter]["edition"], ISO[parameter]["status"]) == ("2019", "seen")


def test_the_comparison_cup_has_two_grams_to_a_hundred_millilitres_within_two_per_cent(comparison_cup: Course) -> None:
    assert comparison_cup.leaf_g_per_100ml == float(ISO["leaf_per_100ml"]["value"]) == 2.0
    assert f"{comparison_cup.leaf_tolerance_pct:g} %" == ISO["leaf_per_100ml"]["tolerance"] == "2 %"


@pytest.mark.parametrize("size", ["large", "small"])
def test_each_pot_holds_what_the_standard_pours_and_weighs(comparison_cup: Course, size: str) -> None:
    (pot,) = (vessel for vessel in comparison_cup.vessels if size in vessel.name)

    assert pot.volume_ml == float(ISO[f"{size}_pot_fill"]["value"])
    assert pot.leaf_g == float(ISO[f"dose_{size}_pot"]["value"])
    assert pot.leaf_tolerance_g == float(ISO[f"dose_{size}_pot"]["tolerance"])
    assert ISO[f"{size}_pot_capacity"]["value"] in pot.name


def test_the_leaf_of_each_pot_is_two_grams_to_a_hundred_millilitres_within_the_tolerance(
    comparison_cup: Course,
) -> None:
    # Arithmetic: 5.6 g in 285 ml and 2.8 g in 140 ml.
    for pot in comparison_cup.vessels:
        assert pot.leaf_g / pot.volume_ml * 100 == pytest.approx(2.0, rel=0.02)


@pytest.mark.parametrize(
    ("kind", "form", "parameter"),
    [
        ("black", "", "time_black"),
        ("black", "broken", "time_black"),
        ("green", "flat", "time_green_leafy"),
        ("green", "broken", "time_green_fannings"),
    ],
)
def test_the_comparison_cup_steeps_as_long_as_the_standard(
    comparison_cup: Course, kind: str, form: str, parameter: str
) -> None:
    plan = comparison_cup.plan_for(kind, form)

    assert plan.infusions_s == (int(ISO[parameter]["value"]),)


def test_the_comparison_cup_is_poured_once_with_freshly_boiling_water(comparison_cup: Course) -> None:
    assert ISO["water"]["value"] == "freshly boiling (~100 C)"
    assert {plan.water_c for plan in comparison_cup.plans} == {100.0}
    assert comparison_cup.most_infusions == 1
    assert not comparison_cup.has_rinse


def test_the_comparison_cup_asks_for_the_altitude(comparison_cup: Course) -> None:
    assert ISO["altitude_note"]["value"] == "state altitude if it affects boiling point"
    assert any("altitude" in note for note in comparison_cup.notes)


def test_the_comparison_cup_is_filled_to_below_the_brim_as_quoted_from_the_older_edition(
    comparison_cup: Course,
) -> None:
    assert (ISO["fill_below_brim"]["value"], ISO["fill_below_brim"]["status"]) == ("4-6", "seen_secondary")
    assert any("4 to 6 mm below the brim" in note for note in comparison_cup.notes)


def test_the_comparison_cup_says_which_teas_the_standard_covers(comparison_cup: Course) -> None:
    assert ISO["scope_teas"]["value"] == "black and green Camellia sinensis"
    assert "It covers black and green tea" in comparison_cup.source
    assert {kind for plan in comparison_cup.plans for kind in plan.kinds} == {"black", "green"}


def test_every_row_that_the_lidded_cup_rests_on_was_seen() -> None:
    assert [row["status"] for row in GB_BREWING] == ["seen"] * 3
    assert GB_WEIGHTS["oolong"]["status"] == "seen"


def test_the_lidded_cup_steeps_three_times_as_long_as_the_standard(lidded_cup: Course) -> None:
    in_order = sorted(GB_BREWING, key=lambda row: int(row["infusion_no"]))

    for form in ("strip", "ball"):
        assert lidded_cup.plan_for("oolong", form).infusions_s == tuple(int(row["time_s"]) for row in in_order)
    assert lidded_cup.most_infusions == len(in_order) == 3


def test_the_lidded_cup_has_the_leaf_and_the_water_of_the_standard(lidded_cup: Course) -> None:
    (cup,) = lidded_cup.vessels

    assert {(float(row["leaf_g"]), float(row["water_ml"])) for row in GB_BREWING} == {(cup.leaf_g, cup.volume_ml)}
    assert lidded_cup.leaf_g_per_100ml == pytest.approx(cup.leaf_g / cup.volume_ml * 100, abs=0.001)


def test_the_lidded_cup_names_the_weights_of_the_five_factors(lidded_cup: Course) -> None:
    weights = GB_WEIGHTS["oolong"]
    told = (
        f"dry leaf {weights['appearance_a']} %, liquor {weights['liquor_colour_b']} %, aroma {weights['aroma_c']} %, "
        f"taste {weights['taste_d']} %, infused leaf {weights['infused_leaf_e']} %"
    )

    assert sum(int(weights[name]) for name in weights if name[-2:] in ("_a", "_b", "_c", "_d", "_e")) == 100
    assert any(told in note for note in lidded_cup.notes)


@pytest.mark.parametrize("key", ["gaiwan", "western_pot", "cold_brew"])
def test_a_course_that_follows_no_standard_says_so(key: str) -> None:
    assert shipped_course(key).source.startswith("Common practice, no source.")
