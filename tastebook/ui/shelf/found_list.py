"""The list of what was found: it draws only what is seen, and asks for more when one comes near its end."""

from __future__ import annotations

from typing import Any, Final, TypeAlias

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter
from PySide6.QtWidgets import (
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from tastebook.presenters.finding import FoundRow
from tastebook.ui.shelf.found_painter import draw_found, height_of
from tastebook.ui.shelf.row_painter import RowLook
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.row_list import RowList, is_for_finding, is_plain

Index: TypeAlias = QModelIndex | QPersistentModelIndex
_NO_INDEX: Final = QModelIndex()
NEAR_THE_END: Final = 12
"""Rows below the last one seen at which more are asked for."""


class FoundModel(QAbstractListModel):
    """The rows; what comes after them is added, so that nothing moves under the finger."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows: tuple[FoundRow, ...] = ()

    def show_rows(self, rows: tuple[FoundRow, ...]) -> None:
        """Show other rows, or more of the same."""
        count = len(self._rows)
        if count and len(rows) > count and rows[:count] == self._rows:
            self.beginInsertRows(QModelIndex(), count, len(rows) - 1)
            self._rows = rows
            self.endInsertRows()
        elif rows != self._rows:
            self.beginResetModel()
            self._rows = rows
            self.endResetModel()

    @property
    def rows(self) -> tuple[FoundRow, ...]:
        """Return the rows."""
        return self._rows

    def rowCount(self, parent: Index = _NO_INDEX) -> int:
        return 0 if parent.isValid() else len(self._rows)

    def row(self, index: Index) -> FoundRow | None:
        """Return what stands at an index."""
        return self._rows[index.row()] if index.isValid() and index.row() < len(self._rows) else None

    def first(self) -> QModelIndex:
        """Return where the first row stands that leads somewhere."""
        return next((self.index(place) for place, row in enumerate(self._rows) if row.kind != "heading"), QModelIndex())

    def flags(self, index: Index) -> Qt.ItemFlag:
        row = self.row(index)
        if row is None or row.kind == "heading":
            return Qt.ItemFlag.NoItemFlags  # the keyboard passes headings over
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        row = self.row(index)
        if row is None:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return row.title
        return row.accessible if role == Qt.ItemDataRole.AccessibleTextRole else None


class FoundDelegate(QStyledItemDelegate):
    """Draws headings and rows."""

    def __init__(self, themes: Themes, view: FoundList) -> None:
        super().__init__(view)
        self._themes = themes
        self._view = view

    def sizeHint(self, _option: QStyleOptionViewItem, index: Index) -> QSize:
        row = self._view.found.row(index)
        return QSize(320, height_of(row) if row is not None else 0)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        row = self._view.found.row(index)
        if row is None:
            return
        state: QStyle.StateFlag = option.state
        is_current = index.row() == self._view.currentIndex().row()
        look = RowLook(
            is_current=is_current,
            is_hovered=bool(state & QStyle.StateFlag.State_MouseOver),
            has_focus=is_current and self._view.hasFocus(),
        )
        painter.save()
        painter.setClipRect(QRectF(option.rect))
        draw_found(painter, self._themes.current, QRectF(option.rect), row, look)
        painter.restore()


class FoundList(RowList):
    """What was found: arrows move, Enter or a finger opens; letters are meant for finding, Escape leads back to it."""

    open_requested = Signal(object)
    more_requested = Signal()
    find_requested = Signal(str)
    leave_requested = Signal()

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, "What was found", 40, parent)
        self.found = FoundModel(self)
        self.setModel(self.found)
        self.setItemDelegate(FoundDelegate(themes, self))
        self.verticalScrollBar().valueChanged.connect(self._look_for_end)

    def show_rows(self, rows: tuple[FoundRow, ...]) -> None:
        """Show other rows, the first one current, or more of the same."""
        self.found.show_rows(rows)
        if not self.currentIndex().isValid():
            self.setCurrentIndex(self.found.first())
            self.scrollToTop()

    def current_row(self) -> FoundRow | None:
        """Return the current row."""
        return self.found.row(self.currentIndex())

    def take(self) -> None:
        """Open the current row."""
        row = self.current_row()
        if row is not None and row.kind != "heading":
            self.open_requested.emit(row)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Right) and is_plain(event):
            self.take()
        elif event.key() == Qt.Key.Key_Escape:
            self.leave_requested.emit()
        elif is_for_finding(event):
            self.find_requested.emit(event.text())
        else:
            super().keyPressEvent(event)
            self._look_for_end()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        index = self.indexAt(event.position().toPoint())
        if event.button() == Qt.MouseButton.LeftButton and index.isValid() and index == self.currentIndex():
            self.take()

    def focusInEvent(self, event: QFocusEvent) -> None:
        if not self.currentIndex().isValid():
            self.setCurrentIndex(self.found.first())
        super().focusInEvent(event)
        self.viewport().update()

    def _look_for_end(self) -> None:
        last = self.indexAt(self.viewport().rect().bottomLeft())
        row = last.row() if last.isValid() else self.found.rowCount() - 1
        if self.found.rowCount() - row <= NEAR_THE_END:
            self.more_requested.emit()
