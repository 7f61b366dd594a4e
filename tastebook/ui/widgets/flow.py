"""A layout that runs on from line to line, as words do."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget


class FlowLayout(QLayout):
    """Places widgets side by side and begins a new line where they do not fit."""

    def __init__(self, parent: QWidget | None = None, *, gap_px: int = 8) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self._gap_px = gap_px
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)

    def count(self) -> int:
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return self._run(QRect(0, 0, width, 0), is_trial=True)

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        self._run(rect, is_trial=False)

    def sizeHint(self) -> QSize:
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        widest = QSize()
        for item in self._items:
            widest = widest.expandedTo(item.minimumSize())
        return widest

    def _run(self, rect: QRect, *, is_trial: bool) -> int:
        """Place the items in `rect`, unless on trial, and return the height they take."""
        x, y, line_height = rect.x(), rect.y(), 0
        for item in self._items:
            wanted = item.sizeHint()
            if x > rect.x() and x + wanted.width() > rect.right() + 1:
                x, y, line_height = rect.x(), y + line_height + self._gap_px, 0
            if not is_trial:
                item.setGeometry(QRect(QPoint(x, y), wanted))
            x += wanted.width() + self._gap_px
            line_height = max(line_height, wanted.height())
        return y + line_height - rect.y()
