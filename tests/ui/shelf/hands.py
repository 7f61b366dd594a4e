"""Keys that go where the keyboard is, and presses on rows."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QPoint, QRectF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from tastebook.ui.shelf.lot_list import LotList
from tastebook.ui.shelf.row_painter import action_rect

NONE = Qt.KeyboardModifier.NoModifier
CTRL = Qt.KeyboardModifier.ControlModifier
ALT = Qt.KeyboardModifier.AltModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier


def focused() -> QWidget:
    """Return what has the keyboard."""
    widget = QApplication.focusWidget()
    assert widget is not None
    return widget


def key(*keys: Qt.Key | str, modifier: Qt.KeyboardModifier = NONE) -> None:
    """Press keys wherever the keyboard is; a string is typed sign by sign."""
    for one in keys:
        if isinstance(one, str):
            for sign in one:
                QTest.keyClicks(focused(), sign, modifier)
        else:
            QTest.keyClick(focused(), one, modifier)


def heard(signal: Any) -> list[Any]:
    """Return a list that grows by what the signal carries, or by None, each time it is heard."""
    told: list[Any] = []
    signal.connect(lambda *given: told.append(given[0] if given else None))
    return told


def tap_row(rows: LotList, lot_uid: str, *, on_action: bool = False) -> None:
    """Touch a row, beside its action or on it."""
    rect = rows.visualRect(rows.lots.index_of(lot_uid))
    point = action_rect(QRectF(rect)).center().toPoint() if on_action else rect.topLeft() + QPoint(60, 30)
    QTest.mouseClick(rows.viewport(), Qt.MouseButton.LeftButton, pos=point)
