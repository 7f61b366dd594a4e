"""Every pair of colours that the drawn controls put together, held to WCAG 2.2, computed from the tokens.

Contrast ratio and relative luminance: WCAG 2.2 (W3C Recommendation, 2023), terms "contrast ratio" and "relative
luminance"; 4.5:1 for text is success criterion 1.4.3, 3:1 for graphics and states 1.4.11. The formula is itself checked
against published luminances first.
"""

from __future__ import annotations

import pytest
from PySide6.QtGui import QColor

from tastebook.ui.theme.theme import Theme, mixed, theme_named
from tastebook.ui.theme.tokens import THEME_NAMES, tokens
from tests.reference.published import rows

TEXT = 4.5
GRAPHIC = 3.0
FAMILY_IN_DAYLIGHT = 4.6
"""Our own, stricter than the standard: read outdoors."""

COLOURS = rows("srgb_lab_wcag.csv")
FAMILIES = tokens().stack_order

GROUNDS = ("bg", "surface", "raised", "sunken")
INKS = ("ink", "ink2", "ink3", "accent", "alarm", "ok")
TEXT_PAIRS = (
    *((ink, ground) for ink in INKS for ground in GROUNDS),
    *((ink, "accent_soft") for ink in ("ink", "ink2", "accent")),
    *((ink, "alarm_soft") for ink in ("ink", "ink2", "alarm")),
    ("on_accent", "accent"),
    ("on_alarm", "alarm"),
    ("bg", "ink"),  # tool tips
    ("bg", "ink2"),  # the default button of a dialog, held down
)
GRAPHIC_PAIRS = (
    *((line, ground) for line in ("outline", "accent", "alarm", "ink2") for ground in ("bg", "surface", "raised")),
    *((line, "sunken") for line in ("accent", "alarm", "ink", "outline")),
    ("accent", "accent_soft"),
    ("surface", "accent"),  # an empty stop on a filled track
    ("on_accent", "outline"),  # a tick that cannot be changed
)


def luminance(colour: QColor) -> float:
    red, green, blue = (_linear(channel / 255) for channel in (colour.red(), colour.green(), colour.blue()))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4


def contrast(one: QColor, other: QColor) -> float:
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def colour_of(theme: Theme, name: str) -> QColor:
    colour = getattr(theme, name)
    assert isinstance(colour, QColor)
    return colour


@pytest.fixture(params=THEME_NAMES)
def theme(request: pytest.FixtureRequest) -> Theme:
    return theme_named(request.param)


@pytest.mark.parametrize("row", COLOURS, ids=lambda row: row["hex"])
def test_the_formula_gives_the_published_luminance_and_contrast(row: dict[str, str]) -> None:
    colour = QColor(row["hex"])

    assert luminance(colour) == pytest.approx(float(row["luminance"]), abs=1e-5)
    assert contrast(colour, QColor("white")) == pytest.approx(float(row["contrast_on_white"]), abs=1e-3)


@pytest.mark.parametrize(("ink", "ground"), TEXT_PAIRS)
def test_text_can_be_read(theme: Theme, ink: str, ground: str) -> None:
    assert contrast(colour_of(theme, ink), colour_of(theme, ground)) >= TEXT


@pytest.mark.parametrize(("line", "ground"), GRAPHIC_PAIRS)
def test_lines_and_signs_can_be_seen(theme: Theme, line: str, ground: str) -> None:
    assert contrast(colour_of(theme, line), colour_of(theme, ground)) >= GRAPHIC


@pytest.mark.parametrize("tint", ["white", "black"])
@pytest.mark.parametrize(("ink", "ground"), [("on_accent", "accent"), ("on_alarm", "alarm")])
def test_the_action_can_be_read_while_pointed_at_and_held_down(theme: Theme, ink: str, ground: str, tint: str) -> None:
    assert contrast(colour_of(theme, ink), mixed(colour_of(theme, ground), QColor(tint), 0.06)) >= TEXT


@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("ground", ["bg", "surface", "raised"])
def test_a_family_can_be_seen_on_every_ground(theme: Theme, family: str, ground: str) -> None:
    least = FAMILY_IN_DAYLIGHT if theme.name == "daylight" else GRAPHIC

    assert contrast(theme.family(family), colour_of(theme, ground)) >= least


@pytest.mark.parametrize("family", FAMILIES)
def test_a_glyph_can_be_seen_inside_its_own_colour(theme: Theme, family: str) -> None:
    assert contrast(theme.on_family, theme.family(family)) >= GRAPHIC


@pytest.mark.parametrize("family", FAMILIES)
def test_name_and_glyph_can_be_seen_on_a_tinted_tile(theme: Theme, family: str) -> None:
    tile = theme.tile(family)

    assert contrast(theme.ink, tile) >= TEXT
    assert contrast(theme.family(family), tile) >= GRAPHIC


@pytest.mark.parametrize("family", FAMILIES)
def test_a_glyph_can_be_seen_while_its_tile_is_pointed_at_and_held_down(theme: Theme, family: str) -> None:
    assert contrast(theme.family(family), theme.tile_under_pointer) >= GRAPHIC
    assert contrast(theme.family(family), theme.tile_held_down) >= GRAPHIC


def test_every_family_has_a_colour_and_a_glyph_in_every_theme(theme: Theme) -> None:
    assert len(FAMILIES) == len(set(FAMILIES)) == 12
    assert set(theme.families) == set(FAMILIES) == set(tokens().glyph_names)
