"""The arc as a table, for screen readers and for copying into a spreadsheet."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QAbstractItemView, QFrame, QHeaderView, QTableView, QWidget

from tastebook.presenters.arc.table import tabbed
from tastebook.presenters.arc.views import TableView

_NO_INDEX = QModelIndex()
_FOCUS_PX = 12
"""What the ring around the current cell takes from its words."""


class ArcTableModel(QAbstractTableModel):
    """The cells of a `TableView`: one row for each family or reading, one column for each infusion."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._view = TableView((), ())

    def show_view(self, view: TableView) -> None:
        """Hold another table."""
        self.beginResetModel()
        self._view = view
        self.endResetModel()

    def rowCount(self, parent: QModelIndex | QPersistentModelIndex = _NO_INDEX) -> int:
        return 0 if parent.isValid() else len(self._view.rows)

    def columnCount(self, parent: QModelIndex | QPersistentModelIndex = _NO_INDEX) -> int:
        return 0 if parent.isValid() else len(self._view.headings)

    def data(self, index: QModelIndex | QPersistentModelIndex, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole):
            return self._view.rows[index.row()].cells[index.column()]
        if role == Qt.ItemDataRole.AccessibleTextRole:
            row = self._view.rows[index.row()]
            return f"{row.name}, {self._view.headings[index.column()]}: {row.cells[index.column()]}"
        return None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        if orientation == Qt.Orientation.Horizontal:
            return self._view.headings[section]
        return self._view.rows[section].name


class ArcTable(QTableView):
    """Shows the table. Ctrl C copies what is chosen, or everything where at most one cell is."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._model = ArcTableModel(self)
        self._view = TableView((), ())
        self.setModel(self._model)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().setDefaultSectionSize(44)
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.verticalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.setAccessibleName("The aroma arc as a table")

    def show_view(self, view: TableView) -> None:
        """Show another table, each column as wide as it needs."""
        if view == self._view:
            return
        self._view = view
        self._model.show_view(view)
        self.resizeColumnsToContents()
        for column in range(len(view.headings)):
            self.setColumnWidth(column, self.columnWidth(column) + _FOCUS_PX)
        if view.rows and view.headings:
            self.setCurrentIndex(self._model.index(0, 0))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Copy):
            QGuiApplication.clipboard().setText(self.chosen_text())
        else:
            super().keyPressEvent(event)

    def chosen_text(self) -> str:
        """Return the chosen block of cells with its headings as tab-separated text."""
        chosen = self.selectionModel().selectedIndexes()
        if len(chosen) <= 1:
            rows, columns = list(range(len(self._view.rows))), list(range(len(self._view.headings)))
        else:
            rows = sorted({index.row() for index in chosen})
            columns = sorted({index.column() for index in chosen})
        lines = [["", *(self._view.headings[column] for column in columns)]]
        for row in rows:
            line = self._view.rows[row]
            lines.append([line.name, *(line.cells[column] for column in columns)])
        return "".join(tabbed(line) for line in lines)
