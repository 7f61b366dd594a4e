"""Fingers and keys for the tests of the controls."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

LEFT = Qt.MouseButton.LeftButton


def tap(widget: QWidget, x: int | None = None, y: int | None = None) -> None:
    """Touch a widget, in its middle unless told where."""
    QTest.mouseClick(widget, LEFT, pos=_place(widget, x, y))


def press(widget: QWidget, x: int | None = None, y: int | None = None) -> None:
    QTest.mousePress(widget, LEFT, pos=_place(widget, x, y))


def slide(widget: QWidget, x: int, y: int | None = None) -> None:
    QTest.mouseMove(widget, _place(widget, x, y))


def let_go(widget: QWidget, x: int | None = None, y: int | None = None) -> None:
    QTest.mouseRelease(widget, LEFT, pos=_place(widget, x, y))


def type_keys(widget: QWidget, *keys: Qt.Key | str, shift: bool = False, ctrl: bool = False) -> None:
    """Press keys one after the other; a string is typed sign by sign."""
    modifier = Qt.KeyboardModifier.NoModifier
    if shift:
        modifier |= Qt.KeyboardModifier.ShiftModifier
    if ctrl:
        modifier |= Qt.KeyboardModifier.ControlModifier
    for key in keys:
        if isinstance(key, str):
            QTest.keyClicks(widget, key, modifier)
        else:
            QTest.keyClick(widget, key, modifier)


def told(widget: QWidget, kind: QAccessible.Text = QAccessible.Text.Name) -> str:
    """Return what a screen reader is told about a widget."""
    interface = QAccessible.queryAccessibleInterface(widget)
    assert interface is not None
    return interface.text(kind)


def told_role(widget: QWidget) -> QAccessible.Role:
    interface = QAccessible.queryAccessibleInterface(widget)
    assert interface is not None
    return interface.role()


def _place(widget: QWidget, x: int | None, y: int | None) -> QPoint:
    middle = widget.rect().center()
    return QPoint(middle.x() if x is None else x, middle.y() if y is None else y)
