"""Leaf by eye. The bulk densities are *from memory*: what is checked is how the estimate behaves, not the numbers."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.dose import BULK_DENSITY_G_PER_ML, OTHER_LEAF_G_PER_ML, SPREAD, leaf_by_eye_g
from tastebook.domain.errors import QuantityError
from tastebook.domain.lot import FORMS

FILLS = st.floats(0.01, 1)
VOLUMES_ML = st.floats(10, 5000)


def test_every_form_of_leaf_has_a_density() -> None:
    assert set(BULK_DENSITY_G_PER_ML) == set(FORMS)


def test_a_full_millilitre_weighs_its_density() -> None:
    masses = {form: leaf_by_eye_g(1, 100, form) for form in FORMS}

    assert masses == {form: pytest.approx(density * 100) for form, density in BULK_DENSITY_G_PER_ML.items()}


@pytest.mark.parametrize("form", ["", "curled", "BALL"])
def test_a_form_nobody_knows_counts_as_loose_leaf_of_middle_density(form: str) -> None:
    assert leaf_by_eye_g(0.5, 100, form) == pytest.approx(50 * OTHER_LEAF_G_PER_ML)


def test_forms_weigh_in_the_order_that_the_hand_knows() -> None:
    """*Common practice, no source*: buds are airiest, then twisted leaf, then rolled balls; pressed tea is densest."""
    masses = [leaf_by_eye_g(0.5, 110, form) for form in ("bud", "strip", "ball", "compressed")]

    assert all(lighter < heavier for lighter, heavier in pairwise(masses))


@pytest.mark.parametrize(("fill", "form"), [(1 / 6, "ball"), (1 / 2, "strip")])
def test_a_usual_gaiwan_is_estimated_within_what_is_usual(fill: float, form: str) -> None:
    """*Common practice, no source*: 4 to 7 g per 100 ml, from rolled leaf on the bottom or half a bowl of twisted."""
    mass_g = leaf_by_eye_g(fill, 100, form)

    assert 4 * (1 - SPREAD) <= mass_g <= 7 * (1 + SPREAD)


@given(FILLS, FILLS, VOLUMES_ML, st.sampled_from(FORMS))
def test_more_leaf_never_weighs_less(one: float, other: float, volume_ml: float, form: str) -> None:
    less, more = sorted((one, other))

    assert leaf_by_eye_g(less, volume_ml, form) <= leaf_by_eye_g(more, volume_ml, form)


@given(FILLS, st.floats(10, 2500), st.sampled_from(FORMS))
def test_twice_the_vessel_holds_twice_the_leaf(fill: float, volume_ml: float, form: str) -> None:
    single, double = leaf_by_eye_g(fill, volume_ml, form), leaf_by_eye_g(fill, 2 * volume_ml, form)

    assert double == pytest.approx(2 * single, abs=0.15)  # each is rounded to 0.1 g


@pytest.mark.parametrize("fill", [0, -0.1, 1.01, 25, float("nan"), float("inf")])
def test_a_share_that_cannot_be_is_refused(fill: float) -> None:
    with pytest.raises(QuantityError, match="must be above 0, to 100 %"):
        leaf_by_eye_g(fill, 110, "ball")


@pytest.mark.parametrize("volume_ml", [0, -110, 9, 5001, float("nan")])
def test_a_vessel_that_cannot_be_is_refused(volume_ml: float) -> None:
    with pytest.raises(QuantityError, match="volume cannot be"):
        leaf_by_eye_g(0.5, volume_ml, "ball")
