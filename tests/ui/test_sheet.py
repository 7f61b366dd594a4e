"""A sheet over a part of the window."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QWidget

from tastebook.ui.sheet import Sheet
from tastebook.ui.theme.theme import Themes
from tests.ui.shelf.hands import focused, heard, key

Show = Callable[[QWidget], None]


class KeyCounter(QWidget):
    """Counts the keys that reach it."""

    pressed = 0

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        self.pressed += 1


def host_with_field() -> tuple[QWidget, QLineEdit]:
    host = QWidget()
    host.resize(1200, 700)
    field = QLineEdit()
    QHBoxLayout(host).addWidget(field)
    return host, field


def test_escape_closes_it_and_gives_the_keyboard_back(themes: Themes, show: Show) -> None:
    host, field = host_with_field()
    show(host)
    field.setFocus()
    sheet = Sheet(themes, "Settings", 600)
    closed = heard(sheet.closed)

    sheet.open_over(host)
    assert focused() is sheet
    key(Qt.Key.Key_Escape)

    assert not sheet.isVisible()
    assert focused() is field
    assert closed == [None]


def test_tab_goes_round_within_the_sheet_and_never_under_it(themes: Themes, show: Show) -> None:
    host, field = host_with_field()
    show(host)
    sheet = Sheet(themes, "Settings", 600)
    inner = QLineEdit()
    sheet.body.addWidget(inner)
    sheet.open_over(host)
    stations = []

    for pressed in (Qt.Key.Key_Tab, Qt.Key.Key_Tab, Qt.Key.Key_Tab, Qt.Key.Key_Backtab, Qt.Key.Key_Backtab):
        key(pressed)
        stations.append(focused())

    assert field not in stations
    assert inner in stations
    assert all(sheet.isAncestorOf(one) for one in stations)


def test_a_press_beside_the_card_closes_it_and_one_on_it_does_not(themes: Themes, show: Show) -> None:
    host, _ = host_with_field()
    show(host)
    sheet = Sheet(themes, "Settings", 600)
    sheet.open_over(host)

    QTest.mouseClick(sheet, Qt.MouseButton.LeftButton, pos=QPoint(600, 600))
    assert sheet.isVisible()
    QTest.mouseClick(sheet, Qt.MouseButton.LeftButton, pos=QPoint(40, 300))

    assert not sheet.isVisible()


def test_it_follows_its_host_and_leaves_the_right_edge_clear(themes: Themes, show: Show) -> None:
    host, _ = host_with_field()
    show(host)
    sheet = Sheet(themes, "Help", 960)

    sheet.open_over(host, clear_right_px=456)
    assert sheet.geometry().right() == 1200 - 456 - 1
    host.resize(1000, 600)

    assert sheet.geometry().right() == 1000 - 456 - 1
    assert sheet.height() == 600


def test_plain_keys_stay_on_it_and_shortcuts_of_the_host_still_work(themes: Themes, show: Show) -> None:
    host = KeyCounter()
    host.resize(800, 600)
    pedal = QShortcut(QKeySequence("Space"), host)
    pedal.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
    poured = heard(pedal.activated)
    show(host)
    sheet = Sheet(themes, "Help", 600)
    sheet.open_over(host)

    key("x", Qt.Key.Key_Return)
    key(Qt.Key.Key_Space)

    assert host.pressed == 0
    assert poured == [None]


def test_it_can_lie_over_one_host_after_another(themes: Themes, show: Show) -> None:
    first, _ = host_with_field()
    second, _ = host_with_field()
    show(first)
    sheet = Sheet(themes, "Help", 600)
    sheet.open_over(first)
    sheet.close_sheet()
    show(second)

    sheet.open_over(second)
    first.resize(300, 300)

    assert sheet.parentWidget() is second
    assert sheet.size() == second.size()


def test_closing_what_is_closed_says_nothing(themes: Themes, show: Show) -> None:
    host, _ = host_with_field()
    show(host)
    sheet = Sheet(themes, "Help", 600)
    closed = heard(sheet.closed)

    sheet.close_sheet()

    assert closed == []
