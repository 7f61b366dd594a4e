from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.colour import delta_e00, in_gamut, lab_from_hex, srgb_from_lab
from tastebook.domain.errors import QuantityError
from tastebook.domain.session import Lab

hexes = st.tuples(*[st.integers(0, 255)] * 3).map(lambda rgb: "#{:02x}{:02x}{:02x}".format(*rgb))
labs = st.tuples(st.floats(0, 100), st.floats(-60, 80), st.floats(-60, 90))


@given(hexes)
def test_a_screen_colour_survives_the_way_to_cielab_and_back(srgb: str) -> None:
    assert srgb_from_lab(lab_from_hex(srgb)) == srgb


@given(hexes)
def test_every_screen_colour_can_be_shown(srgb: str) -> None:
    assert in_gamut(lab_from_hex(srgb))


@given(labs)
def test_any_place_in_cielab_can_be_painted_somehow(lab: Lab) -> None:
    painted = srgb_from_lab(lab)

    assert srgb_from_lab(lab_from_hex(painted)) == painted


@given(labs, labs)
def test_a_difference_has_no_direction(first: Lab, second: Lab) -> None:
    assert delta_e00(first, second) == pytest.approx(delta_e00(second, first), abs=1e-9)


@given(labs)
def test_a_colour_does_not_differ_from_itself(lab: Lab) -> None:
    assert delta_e00(lab, lab) == 0


def test_a_colour_beyond_every_screen_keeps_its_depth_and_hue_when_painted() -> None:
    neon = (75.0, 0.0, 120.0)

    lightness, a, b = lab_from_hex(srgb_from_lab(neon))

    assert not in_gamut(neon)
    assert lightness == pytest.approx(75, abs=1)
    assert a == pytest.approx(0, abs=2)
    assert b < 120


def test_capitals_are_read_as_well() -> None:
    assert lab_from_hex("#D9B24C") == lab_from_hex("#d9b24c")


@pytest.mark.parametrize("written", ["", "d9b24c", "#d9b24", "#d9b24cff", "#ggg000", "amber", "#d9b24c\n"])
def test_what_is_no_screen_colour_is_refused_with_the_way_to_write_one(written: str) -> None:
    with pytest.raises(QuantityError, match="write it as #rrggbb"):
        lab_from_hex(written)
