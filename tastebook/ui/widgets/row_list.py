"""What the lists of rows share: how they are dressed, and which keys are theirs."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QFrame, QListView, QWidget

from tastebook.ui.theme.theme import Themes


class RowList(QListView):
    """A list on the ground of its screen, scrolled smoothly, whose delegate draws all that is seen of a row."""

    def __init__(self, themes: Themes, name: str, scroll_px: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setStyleSheet("QListView { background: transparent; border: 0; padding: 0 }")
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalScrollBar().setSingleStep(scroll_px)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setMouseTracking(True)
        themes.changed.connect(self.viewport().update)

    def go(self, key: Qt.Key) -> None:
        """Go up or down as that key would."""
        self.keyPressEvent(QKeyEvent(QEvent.Type.KeyPress, key, Qt.KeyboardModifier.NoModifier))


def is_plain(event: QKeyEvent) -> bool:
    """Say whether a key was pressed without Ctrl, Alt or the like."""
    return not event.modifiers() & ~(Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier)


def is_for_finding(event: QKeyEvent) -> bool:
    """Say whether a key is a letter or sign: in a list those are meant for the field that finds."""
    return is_plain(event) and bool(event.text().strip()) and event.text().isprintable()
