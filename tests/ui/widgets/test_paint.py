"""The shared painters."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QApplication

from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Theme, theme_named
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.glyphs import BOX, outline_of

SIDE = 96
Draw = Callable[[QPainter], object]


@pytest.fixture
def theme(qapp: QApplication) -> Theme:
    return theme_named("paper")


def picture(draw: Draw, ground: str = "#FFFFFF") -> QImage:
    image = QImage(SIDE, SIDE, QImage.Format.Format_RGB32)
    image.fill(QColor(ground))
    painter = QPainter(image)
    paint.make_smooth(painter)
    draw(painter)
    painter.end()
    return image


def inked(image: QImage) -> set[tuple[int, int]]:
    white = QColor("#FFFFFF").rgb()
    return {(x, y) for x in range(SIDE) for y in range(SIDE) if image.pixel(x, y) != white}


def test_every_family_has_a_glyph_of_its_own_shape(theme: Theme) -> None:
    black = QColor("black")

    shapes = [
        inked(picture(lambda p, f=family: paint.glyph(p, theme, f, 0, 0, SIDE, black)))
        for family in tokens().stack_order
    ]

    for place, shape in enumerate(shapes):
        for other in shapes[:place]:
            assert len(shape ^ other) > 0.15 * min(len(shape), len(other))


@pytest.mark.parametrize("family", [*tokens().stack_order, "a family of the user's own"])
def test_a_glyph_stays_in_its_box(family: str) -> None:
    box = outline_of(family).boundingRect()

    assert QRectF(0, 0, BOX, BOX).contains(box)
    assert max(box.width(), box.height()) > BOX / 2


def test_text_ends_where_it_is_said_to_end(theme: Theme) -> None:
    ends = []

    image = picture(lambda p: ends.append(paint.text(p, 4, 40, "rose", sans(20), theme.ink)))

    rightmost = max(x for x, _ in inked(image))
    assert ends[0] - 3 <= rightmost + 1 <= ends[0] + 1


@pytest.mark.parametrize(("align", "x"), [("left", 8), ("centre", 48), ("right", 88)])
def test_text_stands_on_its_baseline_left_of_right_of_or_about_its_place(
    theme: Theme, align: paint.Align, x: float
) -> None:
    image = picture(lambda p: paint.text(p, x, 50, "noun", sans(24), theme.ink, align))

    columns, rows = {x for x, _ in inked(image)}, {y for _, y in inked(image)}
    place = {"left": min(columns), "centre": (min(columns) + max(columns)) / 2, "right": max(columns)}[align]
    assert abs(place - x) <= 3
    assert max(rows) in (49, 50)


def test_words_too_long_end_in_an_ellipsis_and_others_stay(theme: Theme) -> None:
    assert paint.elided("cedar bark", sans(18), 200) == "cedar bark"
    assert paint.elided("cedar bark after rain", sans(18), 80).endswith("…")
    assert paint.text_width(paint.elided("cedar bark after rain", sans(18), 80), sans(18)) <= 80


@pytest.mark.parametrize("count", range(6))
def test_as_many_pips_are_filled_as_the_strength_says(theme: Theme, count: int) -> None:
    red = QColor("#FF0000")

    image = picture(lambda p: paint.pips(p, theme, 3, 48, count, red))

    filled = [image.pixelColor(3 + 6 + place * 18, 48).name() == "#ff0000" for place in range(5)]
    assert filled == [place < count for place in range(5)]


def test_the_middle_of_a_cup_is_one_flat_colour(theme: Theme) -> None:
    liquor = QColor("#D9B24C")

    image = picture(lambda p: paint.cup(p, theme, QPointF(48, 48), 40, liquor))

    middle = {image.pixelColor(x, y).name() for x in range(30, 67) for y in range(30, 67)}
    assert middle == {"#d9b24c"}


def test_leaves_lie_inside_the_rim_of_their_cup(theme: Theme) -> None:
    image = picture(lambda p: paint.cup(p, theme, QPointF(48, 48), 40, QColor("#5A4834"), is_leaf=True))

    rim = [image.pixelColor(48 + round(35 * dx), 48 + round(35 * dy)) for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1))]
    assert all(colour.lightnessF() > 0.9 for colour in rim)
    assert len({image.pixel(x, 48) for x in range(20, 76)}) > 3


def test_liquor_at_the_wall_is_deeper_and_never_lighter() -> None:
    for code in ("#E8DC8C", "#D9B24C", "#5C1F12", "#FFFFFF", "#000000"):
        assert paint.deeper(QColor(code)).lightnessF() <= QColor(code).lightnessF()


def test_a_shadow_fades_outwards_and_is_not_cast_in_daylight(theme: Theme) -> None:
    box = QRectF(30, 30, 36, 36)

    image = picture(lambda p: paint.shadow(p, theme, box, 8, "raised"))
    flat = picture(lambda p: paint.shadow(p, theme_named("daylight"), box, 8, "raised"))

    steps = [image.pixelColor(48, y).lightnessF() for y in (68, 74, 80, 86)]
    assert steps == sorted(steps)
    assert steps[0] < steps[-1]
    assert inked(flat) == set()


def test_a_focus_ring_can_stand_outside_or_inside_its_box(theme: Theme) -> None:
    box = QRectF(20, 20, 56, 56)

    outside = {y for x, y in inked(picture(lambda p: paint.focus_ring(p, theme, box, 8, 3))) if x == 48}
    inside = {y for x, y in inked(picture(lambda p: paint.focus_ring(p, theme, box, 8, -2))) if x == 48}

    assert min(outside) == 20 - 3 - 2
    assert min(inside) == 22


def test_a_key_is_at_least_square(theme: Theme) -> None:
    assert paint.keycap_width("0") == 24
    assert paint.keycap_width("Enter") > 40
