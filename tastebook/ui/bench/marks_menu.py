"""The marks of anything recorded, clouded by the surroundings or doubtful; and the way to drop what is only typed."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QWidget


class MarksMenu(QMenu):
    """Two marks to switch, and what else can be done; it goes once it is closed."""

    marked = Signal(bool, bool)

    def __init__(self, parent: QWidget, *, clouded: bool, doubtful: bool) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._clouded = self._mark("Clouded by the surroundings", on=clouded)
        self._doubtful = self._mark("Doubtful", on=doubtful)
        self.addSeparator()

    def _mark(self, words: str, *, on: bool) -> QAction:
        action = self.addAction(words)
        action.setCheckable(True)
        action.setChecked(on)
        action.triggered.connect(lambda: self.marked.emit(self._clouded.isChecked(), self._doubtful.isChecked()))
        return action

    def add(self, words: str, act: Callable[[], None]) -> None:
        """Offer something else to do."""
        self.addAction(words).triggered.connect(act)


def drop_menu(parent: QWidget, drop: Callable[[], None], words: str = "Leave as words only") -> QMenu:
    """Return the menu of something that is only typed yet; it goes once it is closed."""
    menu = QMenu(parent)
    menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    menu.addAction(words).triggered.connect(drop)
    return menu
