"""Key hints, cups, notes under fields, and the cards that they lie on."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtGui import QAccessible, QRegion
from PySide6.QtWidgets import QWidget

from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.card import Card
from tastebook.ui.widgets.drawn import Ground
from tastebook.ui.widgets.hints import CupView, FieldNote, KeyHint
from tests.ui.widgets.hands import told, told_role

Show = Callable[[QWidget], None]


@pytest.mark.parametrize("code", ["#E8DC8C", "#5C1F12", "#FFFFFF"])
@pytest.mark.parametrize("theme_name", ["paper", "lamp", "daylight"])
def test_the_middle_of_a_cup_is_exactly_the_liquor_in_every_theme(
    themes: Themes, show: Show, code: str, theme_name: str
) -> None:
    themes.use(theme_name)  # type: ignore[arg-type]
    cup = CupView(themes, 29)
    cup.resize(cup.sizeHint())
    show(cup)

    cup.show_liquor(code, "amber gold")

    image, middle = cup.grab().toImage(), cup.rect().center()
    for offset in (QPoint(0, 0), QPoint(10, 0), QPoint(0, 12), QPoint(-8, 8)):
        assert image.pixelColor(middle + offset).name().upper() == code
    assert told(cup) == "amber gold"


def test_a_cup_without_liquor_is_an_empty_place(themes: Themes, show: Show) -> None:
    cup = CupView(themes, 24)
    cup.resize(cup.sizeHint())
    show(cup)
    cup.show_liquor("#E8DC8C", "straw")
    full = cup.grab().toImage()

    cup.show_liquor(None)

    assert cup.liquor is None
    assert cup.grab().toImage() != full


def test_a_key_hint_reads_as_key_and_meaning(themes: Themes, show: Show) -> None:
    hint = KeyHint(themes, "1–5", "strength")
    show(hint)

    assert told(hint) == "1–5: strength"
    assert told_role(hint) == QAccessible.Role.StaticText


def test_a_note_without_words_takes_no_room(themes: Themes, show: Show) -> None:
    ground = Ground(themes)
    note = FieldNote(themes, ground)
    show(ground)

    assert not note.isVisible()
    note.show_error("Leaf is missing: type the grams, or choose by eye.")
    assert note.isVisible()
    note.clear()
    assert not note.isVisible()


def test_an_error_is_known_by_its_sign_and_not_by_colour_alone(themes: Themes, show: Show) -> None:
    note = FieldNote(themes)
    note.resize(400, 28)
    show(note)
    note.show_help("Type the grams.")
    as_help = note.grab().toImage()

    note.show_error("Type the grams.")

    as_error = note.grab().toImage()
    assert note.is_error
    assert told(note) == "Type the grams."
    assert as_error.convertToFormat(as_error.Format.Format_Mono) != as_help.convertToFormat(as_help.Format.Format_Mono)


def test_a_long_note_breaks_into_lines(themes: Themes, show: Show) -> None:
    note = FieldNote(themes)
    show(note)

    note.show_error("This journal was written by a later Tastebook: it can be read, and nothing can be added.")

    assert note.heightForWidth(200) > 2 * note.heightForWidth(2000)


def test_a_card_takes_up_its_theme_and_its_parent_paints_its_shadow(themes: Themes, show: Show) -> None:
    ground = Ground(themes)
    ground.resize(300, 200)
    card = Card(themes, ground)
    card.setGeometry(50, 50, 200, 100)
    show(ground)

    in_paper = ground.grab().toImage()
    themes.use("daylight")
    in_daylight = ground.grab().toImage()

    assert in_paper.pixelColor(150, 100).name() == "#fbf7ef"
    assert in_paper.pixelColor(150, 154).name() != "#f3ecdf"  # a shadow falls below the card
    assert in_paper.pixelColor(5, 5).name() == "#f3ecdf"
    assert in_daylight.pixelColor(150, 154).name() == "#ffffff"  # and none in daylight


@pytest.mark.parametrize("grown_by", [0, 30, -16, -30])
def test_a_part_repainted_alone_looks_as_it_did(themes: Themes, show: Show, grown_by: int) -> None:
    ground = Ground(themes)
    ground.resize(300, 200)
    card = Card(themes, ground)
    card.setGeometry(50, 50, 200, 100)
    show(ground)
    whole = ground.grab().toImage()
    part = card.geometry().adjusted(-grown_by, -grown_by, grown_by, grown_by)
    picture = whole.copy()

    ground.render(picture, part.topLeft(), QRegion(part))

    assert picture == whole
