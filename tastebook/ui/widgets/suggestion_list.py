"""The words offered below the say line."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QModelIndex, QPoint, QStringListModel, Qt, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QLineEdit, QListView

from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.tokens import tokens

MOST_ROWS: Final = 6
_WIDTH_PX: Final = 420
_EDGE_PX: Final = 10
"""Padding and line of the list, above and below together."""


class SuggestionList(QListView):
    """A list below a field, within the field's own window: it takes neither keyboard nor pointer from the rest."""

    taken = Signal(str)

    def __init__(self, field: QLineEdit) -> None:
        super().__init__(field)
        self._field = field
        self._words = QStringListModel([], self)
        self.setModel(self._words)
        self.setFont(sans(tokens().type_px.word))
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setEditTriggers(QListView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setMouseTracking(True)
        self.setAccessibleName("Suggestions")
        self.clicked.connect(self._take)
        field.destroyed.connect(self.deleteLater)  # once shown it belongs to the window, which may outlive the field
        self.hide()

    def offer(self, words: Sequence[str]) -> None:
        """Show these words, none of them pointed at; without words, hide."""
        self._words.setStringList(list(words))
        self.setCurrentIndex(QModelIndex())
        if not words:
            self.hide()
            return
        self._settle(len(words))
        self.show()
        self.raise_()

    def point(self, rows: int) -> None:
        """Point at another word: +1 is the next one down; beyond either end, at none."""
        count = self._words.rowCount()
        row = self.currentIndex().row() + rows
        if row == -2:  # up from none is the last
            row = count - 1
        self.setCurrentIndex(self._words.index(row, 0) if 0 <= row < count else QModelIndex())
        if QAccessible.isActive() and self.chosen:
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self._field, self.chosen))

    @property
    def chosen(self) -> str:
        """Return the word pointed at, empty for none."""
        index = self.currentIndex()
        return str(index.data()) if index.isValid() else ""

    def _take(self, index: QModelIndex) -> None:
        self.taken.emit(str(index.data()))

    def _settle(self, count: int) -> None:
        """Stand below the field, as high as the words need and the window allows."""
        window = self._field.window()
        if self.parentWidget() is not window:
            self.setParent(window)
        place = self._field.mapTo(window, QPoint(0, self._field.height() + 4))
        wanted = tokens().target_px.min * min(MOST_ROWS, count) + _EDGE_PX
        room = max(tokens().target_px.min + _EDGE_PX, window.height() - place.y() - 8)
        self.setGeometry(place.x(), place.y(), min(_WIDTH_PX, self._field.width()), min(wanted, room))
