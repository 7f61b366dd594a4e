"""sRGB against CIELAB under D65: IEC 61966-2-1 and CIE 15; libraries differ by up to 0.022, so 0.03 is allowed."""

from __future__ import annotations

from typing import Any

import pytest

from tastebook.domain.colour import lab_from_hex, srgb_from_lab
from tastebook.domain.liquor import chart
from tastebook.domain.session import Lab
from tests.reference.published import rows

COLOURS = rows("srgb_lab_wcag.csv")
ALLOWED = 0.03


def _lab(row: dict[str, str]) -> Lab:
    return (float(row["L"]), float(row["a"]), float(row["b"]))


@pytest.mark.parametrize("row", COLOURS, ids=lambda row: row["hex"])
def test_a_screen_colour_has_its_published_place_in_cielab(row: dict[str, str]) -> None:
    assert lab_from_hex(row["hex"]) == pytest.approx(_lab(row), abs=ALLOWED)


@pytest.mark.parametrize("row", COLOURS, ids=lambda row: row["hex"])
def test_a_place_in_cielab_gives_back_its_screen_colour(row: dict[str, str]) -> None:
    assert srgb_from_lab(_lab(row)) == row["hex"]


@pytest.mark.parametrize("row", COLOURS, ids=lambda row: row["hex"])
def test_colour_science_places_a_screen_colour_alike(row: dict[str, str], colour_science: Any) -> None:
    judged = _judged_lab(row["hex"], colour_science)

    assert lab_from_hex(row["hex"]) == pytest.approx(judged, abs=ALLOWED)


def test_to_colour_science_every_painted_swatch_looks_as_it_was_meant(colour_science: Any) -> None:
    # Painting rounds to whole steps of 1/255. Half of all observers see a difference from 0.8 (Paravina et al. 2015).
    swatches = [swatch for row in chart() for swatch in row]

    painted = [_judged_lab(srgb_from_lab(swatch), colour_science) for swatch in swatches]

    assert max(colour_science.delta_E(swatches, painted, method="CIE 2000")) < 0.8


def _judged_lab(srgb: str, colour_science: Any) -> list[float]:
    rgb = [int(srgb[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    d65 = colour_science.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
    return [float(one) for one in colour_science.XYZ_to_Lab(colour_science.sRGB_to_XYZ(rgb), d65)]
