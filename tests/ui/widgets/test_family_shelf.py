"""The family shelf: one stop for Tab, arrows within, two rows where it is narrow."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QSignalSpy
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget

from tastebook.ui.theme.theme import Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets.family_shelf import FamilyShelf, FamilyTile
from tests.ui.widgets.hands import tap, told, told_role, type_keys

Show = Callable[[QWidget], None]
FAMILIES = [(name, name.capitalize()) for name in reversed(tokens().stack_order)]


@pytest.fixture
def shelf(themes: Themes, show: Show) -> FamilyShelf:
    shelf = FamilyShelf(themes, FAMILIES)
    shelf.resize(888, 64)
    show(shelf)
    shelf.take_focus()
    return shelf


def focused(shelf: FamilyShelf) -> int:
    return next(place for place, tile in enumerate(shelf.tiles) if tile.hasFocus())


def test_a_tap_asks_for_the_family(shelf: FamilyShelf) -> None:
    asked = QSignalSpy(shelf.family_requested)

    tap(shelf.tiles[3])

    assert asked.at(0) == [FAMILIES[3][0]]


def test_arrows_move_and_enter_asks(shelf: FamilyShelf) -> None:
    asked = QSignalSpy(shelf.family_requested)

    type_keys(shelf.tiles[0], Qt.Key.Key_Right)
    type_keys(shelf.tiles[1], Qt.Key.Key_Return)

    assert focused(shelf) == 1
    assert asked.at(0) == [FAMILIES[1][0]]


def test_home_and_end_reach_the_ends_and_nothing_runs_round(shelf: FamilyShelf) -> None:
    type_keys(shelf.tiles[0], Qt.Key.Key_Left)
    at_the_beginning = focused(shelf)

    type_keys(shelf.tiles[0], Qt.Key.Key_End)
    type_keys(shelf.tiles[11], Qt.Key.Key_Right)

    assert at_the_beginning == 0
    assert focused(shelf) == 11
    type_keys(shelf.tiles[11], Qt.Key.Key_Home)
    assert focused(shelf) == 0


def test_tab_stops_once_and_comes_back_to_the_same_tile(themes: Themes, show: Show) -> None:
    holder = QWidget()
    layout = QVBoxLayout(holder)
    before, shelf, after = QLineEdit(), FamilyShelf(themes, FAMILIES), QLineEdit()
    for part in (before, shelf, after):
        layout.addWidget(part)
    show(holder)
    shelf.take_focus()
    type_keys(shelf.tiles[0], Qt.Key.Key_Right, Qt.Key.Key_Right)

    type_keys(QApplication.focusWidget(), Qt.Key.Key_Tab)
    after_tab = after.hasFocus()
    type_keys(after, Qt.Key.Key_Backtab)

    assert after_tab
    assert focused(shelf) == 2


def test_where_twelve_tiles_of_56_do_not_fit_they_stand_in_two_rows(shelf: FamilyShelf) -> None:
    wide, narrow = 12 * 56 + 11 * 8, 12 * 56 + 11 * 8 - 1

    assert shelf.columns_at(wide) == 12
    assert shelf.columns_at(narrow) == 6
    assert shelf.heightForWidth(wide) == 64
    assert shelf.heightForWidth(narrow) == 136


def test_in_two_rows_up_and_down_change_the_row(shelf: FamilyShelf) -> None:
    shelf.resize(500, 136)

    type_keys(shelf.tiles[0], Qt.Key.Key_Down)

    assert focused(shelf) == 6
    assert shelf.tiles[6].y() > shelf.tiles[0].y()


@pytest.mark.parametrize("width", [888, 760, 600, 500])
def test_every_tile_is_a_target_of_56_by_64(shelf: FamilyShelf, width: int) -> None:
    shelf.resize(width, shelf.heightForWidth(width))

    assert min(tile.width() for tile in shelf.tiles) >= 56
    assert all(tile.height() == 64 for tile in shelf.tiles)
    assert not any(shelf.tiles[0].geometry().intersects(tile.geometry()) for tile in shelf.tiles[1:])


def test_a_screen_reader_is_told_which_families_were_noted(shelf: FamilyShelf) -> None:
    shelf.show_noted({"floral"})

    noted = {tile.family: told(tile, QAccessible.Text.Value) for tile in shelf.tiles}
    assert noted.pop("floral") == "noted"
    assert set(noted.values()) == {""}
    assert told(shelf.tiles[0]) == "Floral"
    assert told_role(shelf) == QAccessible.Role.Grouping


def test_a_noted_family_is_tinted_with_its_own_colour(themes: Themes, show: Show) -> None:
    tile = FamilyTile(themes, "milky", "milky")
    tile.resize(66, 64)
    show(tile)

    tile.set_noted(is_noted=True)

    assert tile.grab().toImage().pixelColor(8, 8).name() == themes.current.tile("milky").name()
