from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.dose import (
    BULK_DENSITY_G_PER_ML,
    OTHER_LEAF_G_PER_ML,
    SPREAD,
    leaf_by_eye,
    leaf_by_eye_g,
    leaf_estimate_g,
)
from tastebook.domain.errors import QuantityError
from tastebook.domain.lot import FORMS
from tests.domain.shipped_figures import shipped_figures

FIGURES = shipped_figures("leaf")

fills = st.floats(0.05, 1)
volumes_ml = st.floats(50, 700)
every_form = pytest.mark.parametrize("form", [*FORMS, "other", "curled like a snail"])


@every_form
def test_the_figures_that_ship_say_what_the_estimate_without_figures_says(form: str) -> None:
    by_figures = leaf_by_eye(0.5, 100, form, FIGURES)

    assert round(by_figures.middle, 1) == leaf_by_eye_g(0.5, 100, form)


def test_every_form_of_leaf_has_a_density_of_its_own() -> None:
    assert set(BULK_DENSITY_G_PER_ML) == set(FORMS)
    assert all(FIGURES.has(f"bulk_{form}") for form in FORMS)


@every_form
def test_the_range_is_a_third_either_way(form: str) -> None:
    leaf_g = leaf_by_eye(0.25, 110, form, FIGURES)

    assert leaf_g.low / leaf_g.middle == pytest.approx(1 - SPREAD, abs=0.01)
    assert leaf_g.high / leaf_g.middle == pytest.approx(1 + SPREAD, abs=0.01)


def test_a_quarter_of_a_gaiwan_of_balled_leaf_is_about_ten_grams() -> None:
    # Arithmetic: 0.25 x 110 ml x 0.38 g/ml.
    assert leaf_by_eye_g(0.25, 110, "ball") == pytest.approx(10.45, abs=0.051)
    assert leaf_by_eye(0.25, 110, "ball", FIGURES).middle == pytest.approx(10.45)


def test_leaf_of_an_unknown_form_is_of_middle_density() -> None:
    assert leaf_by_eye(1, 100, "curled like a snail", FIGURES).middle == pytest.approx(100 * OTHER_LEAF_G_PER_ML)


@given(fills, volumes_ml, st.floats(0, 0.5))
def test_a_fuller_vessel_never_holds_less(fill: float, volume_ml: float, more: float) -> None:
    less, rather_more = (leaf_by_eye(min(1.0, share), volume_ml, "strip", FIGURES) for share in (fill, fill + more))

    assert less.low <= rather_more.low
    assert less.middle <= rather_more.middle
    assert less.low < less.middle < less.high


def test_the_user_s_own_density_is_used() -> None:
    own = FIGURES.with_own({"bulk_ball": {"value": 0.42}})

    assert leaf_by_eye(0.5, 100, "ball", own).middle == pytest.approx(21)


@pytest.mark.parametrize(("fill", "told"), [(0, "0 %"), (-0.1, "-10 %"), (1.01, "101 %"), (math.nan, "nan %")])
def test_a_share_that_no_vessel_holds_is_refused(fill: float, told: str) -> None:
    for estimate in (lambda: leaf_by_eye_g(fill, 110, "ball"), lambda: leaf_by_eye(fill, 110, "ball", FIGURES)):
        with pytest.raises(QuantityError, match=f"^The leaf cannot fill {told} of the vessel: it must be above 0"):
            estimate()


@pytest.mark.parametrize("volume_ml", [0, -5, 9000, math.nan])
def test_a_volume_that_no_vessel_has_is_refused(volume_ml: float) -> None:
    for estimate in (lambda: leaf_by_eye_g(0.5, volume_ml, "ball"), lambda: leaf_by_eye(0.5, volume_ml, "", FIGURES)):
        with pytest.raises(QuantityError, match=r"^volume cannot be .* from 10 to 5000 ml"):
            estimate()


def test_five_litres_of_leaf_by_eye_are_refused_as_a_mass() -> None:
    with pytest.raises(QuantityError, match=r"^leaf cannot be 1900 g: it must be from 0\.1 to 500 g"):
        leaf_by_eye(1, 5000, "ball", FIGURES)


def test_weighed_leaf_is_known_and_leaf_by_eye_is_not() -> None:
    weighed, by_eye = (leaf_estimate_g(6.0, by_eye=told) for told in (False, True))

    assert (weighed.low, weighed.high) == (6.0, 6.0)
    assert (by_eye.low, by_eye.middle, by_eye.high) == pytest.approx((4.02, 6.0, 7.98))


@pytest.mark.parametrize("leaf_g", [0, -1, 5000, math.nan])
def test_leaf_that_nobody_brews_is_refused(leaf_g: float) -> None:
    with pytest.raises(QuantityError, match=r"^leaf cannot be .* from 0\.1 to 500 g"):
        leaf_estimate_g(leaf_g, by_eye=False)
