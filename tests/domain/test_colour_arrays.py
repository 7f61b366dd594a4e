"""Colours over arrays agree with the colours one at a time; `tests/reference` holds both to published values."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tastebook.domain.colour import delta_e00, lab_from_hex
from tastebook.domain.colour_arrays import (
    D65,
    adapted_to_d65,
    delta_e00_between,
    lab_from_xyz,
    linear_from_srgb,
    luminance_of,
    xyz_from_linear,
)

levels = st.tuples(*[st.integers(0, 255)] * 3)
labs = st.tuples(st.floats(0, 100), st.floats(-60, 60), st.floats(-60, 60))


@given(levels)
def test_a_pixel_has_the_same_colour_in_an_array_as_by_its_code(level: tuple[int, int, int]) -> None:
    lab = lab_from_xyz(xyz_from_linear(linear_from_srgb(np.array(level))))

    assert lab == pytest.approx(lab_from_hex("#{:02x}{:02x}{:02x}".format(*level)), abs=0.02)


@given(labs, labs)
def test_differences_in_an_array_are_those_of_two_colours(
    one: tuple[float, float, float], other: tuple[float, float, float]
) -> None:
    assume(not _are_opposite(one, other))  # which way round from a hue to its opposite is not defined
    assert float(delta_e00_between(np.array(one), np.array(other))) == pytest.approx(delta_e00(one, other), abs=1e-6)


@given(st.floats(0, 100))
def test_the_luminance_of_a_lightness_gives_it_back(lightness: float) -> None:
    grey = D65 * luminance_of(lightness)

    assert float(lab_from_xyz(grey)[0]) == pytest.approx(lightness, abs=1e-9)


def test_a_white_adapted_from_itself_is_neutral() -> None:
    warm = np.array([1.0985, 1.0, 0.3558])

    assert adapted_to_d65(warm, warm) == pytest.approx(D65)


def _are_opposite(one: tuple[float, float, float], other: tuple[float, float, float]) -> bool:
    """Say whether two colours lie on a line through grey, as far as floating point can tell."""
    along = one[1] * other[1] + one[2] * other[2]
    across = one[1] * other[2] - one[2] * other[1]
    return along < 0 and abs(across) < 1e-6 * abs(along)
