"""Words offered under a field while one writes in it; the keyboard stays in the field."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QStringListModel, Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QListView, QScrollArea, QWidget

from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.tokens import tokens

MOST_SHOWN: Final = 6
ROW_PX: Final = 44
FRAME_PX: Final = 10


class Offers(QListView):
    """A list inside the window, below its field or above it. It is no window of its own and takes no keyboard."""

    taken = Signal(str)

    def __init__(self, field: QWidget) -> None:
        super().__init__(field.window())
        self._field = field
        self._window: QWidget | None = None
        self._words = QStringListModel([], self)
        self.setModel(self._words)
        self.setFont(sans(tokens().type_px.text))
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("Offered")
        self.clicked.connect(lambda index: self.taken.emit(str(index.data())))
        area = _area_of(field)
        if area is not None:
            area.verticalScrollBar().valueChanged.connect(self.hide)
        self.hide()

    def show_words(self, words: Sequence[str]) -> None:
        """Offer other words, none of them chosen; nothing to offer closes the list."""
        self._words.setStringList(list(words))
        if not words:
            self.hide()
            return
        self._place(len(words))
        self.show()
        self.raise_()

    @property
    def chosen(self) -> str:
        """Return the word that is marked, empty for none."""
        index = self.currentIndex()
        return str(index.data()) if self.isVisible() and index.isValid() else ""

    def step(self, by: int) -> None:
        """Mark the next word, or the one before below 0; before the first none is marked."""
        row = max(-1, min(self._words.rowCount() - 1, self.currentIndex().row() + by))
        self.setCurrentIndex(self._words.index(row))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Close when the window changes its size: the field then stands elsewhere."""
        if watched is self._window and event.type() == QEvent.Type.Resize:
            self.hide()
        return super().eventFilter(watched, event)

    def _place(self, count: int) -> None:
        window = self._field.window()
        if self.parentWidget() is not window:
            self.setParent(window)
        if self._window is not window:
            self._window = window
            window.installEventFilter(self)
        height = min(count, MOST_SHOWN) * ROW_PX + FRAME_PX
        below = self._field.mapTo(window, QPoint(0, self._field.height() + 4))
        top = below.y() if below.y() + height <= window.height() else below.y() - self._field.height() - 8 - height
        self.setGeometry(QRect(below.x(), top, self._field.width(), height))


def _area_of(field: QWidget) -> QScrollArea | None:
    """Return the area in which a field scrolls, if any."""
    above = field.parentWidget()
    while above is not None and not isinstance(above, QScrollArea):
        above = above.parentWidget()
    return above
