"""The rows of the Shelf: a list that draws only what is seen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final, TypeAlias

from PySide6.QtCore import (
    QAbstractListModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QPoint,
    QRect,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter
from PySide6.QtWidgets import (
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from tastebook.presenters.shelf import GroupView, RowView, ShelfView
from tastebook.ui.shelf.row_painter import HEADER_PX, ROW_PX, RowLook, action_rect, draw_header, draw_row
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.row_list import RowList, is_for_finding, is_plain

Index: TypeAlias = QModelIndex | QPersistentModelIndex

ROLE: Final = int(Qt.ItemDataRole.UserRole)
_NO_INDEX: Final = QModelIndex()


@dataclass(frozen=True)
class Place:
    """One line of the list: a heading, or a lot of it."""

    group: GroupView
    lot_uid: str = ""

    @property
    def is_fold(self) -> bool:
        """Say whether this is the heading that shows and hides what was put away."""
        return not self.lot_uid and self.group.key == "archived"


class LotModel(QAbstractListModel):
    """Headings and lots, one below another. A row is worked out when it is first looked at."""

    def __init__(self, row_of: Callable[[str], RowView], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._row_of = row_of
        self._places: tuple[Place, ...] = ()

    def show_view(self, view: ShelfView) -> None:
        """Hold other lots."""
        self.beginResetModel()
        places: list[Place] = []
        for group in view.groups:
            places.append(Place(group))
            places += [] if group.is_folded else [Place(group, uid) for uid in group.lot_uids]
        self._places = tuple(places)
        self.endResetModel()

    def rowCount(self, parent: Index = _NO_INDEX) -> int:
        return 0 if parent.isValid() else len(self._places)

    def place(self, index: Index) -> Place | None:
        """Return what stands at an index."""
        return self._places[index.row()] if index.isValid() and index.row() < len(self._places) else None

    def row(self, place: Place) -> RowView:
        """Return the lot of a place as a row."""
        return self._row_of(place.lot_uid)

    def index_of(self, lot_uid: str) -> QModelIndex:
        """Return where a lot stands, or an invalid index."""
        for number, place in enumerate(self._places):
            if place.lot_uid == lot_uid:
                return self.index(number)
        return QModelIndex()

    def first_lot(self) -> QModelIndex:
        """Return where the first lot stands, or an invalid index."""
        return next((self.index(number) for number, place in enumerate(self._places) if place.lot_uid), QModelIndex())

    def flags(self, index: Index) -> Qt.ItemFlag:
        place = self.place(index)
        if place is None or (not place.lot_uid and not place.is_fold):
            return Qt.ItemFlag.NoItemFlags  # the keyboard passes headings over
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        place = self.place(index)
        if place is None:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self.row(place).name if place.lot_uid else place.group.title
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return self.row(place).accessible if place.lot_uid else _told(place)
        return place if role == ROLE else None


def _told(place: Place) -> str:
    if not place.is_fold:
        return place.group.told
    return f"{place.group.told}. Enter: {'show' if place.group.is_folded else 'hide'} them"


class LotDelegate(QStyledItemDelegate):
    """Draws headings and rows."""

    def __init__(self, themes: Themes, view: LotList) -> None:
        super().__init__(view)
        self._themes = themes
        self._view = view

    def sizeHint(self, _option: QStyleOptionViewItem, index: Index) -> QSize:
        place = self._view.lots.place(index)
        return QSize(320, HEADER_PX if place is None or not place.lot_uid else ROW_PX)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        place = self._view.lots.place(index)
        if place is None:
            return
        state: QStyle.StateFlag = option.state
        rect = QRectF(option.rect)
        is_current = index.row() == self._view.currentIndex().row()
        look = RowLook(
            is_current=is_current and self._view.shows_current,
            is_hovered=bool(state & QStyle.StateFlag.State_MouseOver),
            has_focus=is_current and self._view.hasFocus(),
            is_over_action=index.row() == self._view.action_under,
        )
        painter.save()
        painter.setClipRect(rect)
        if place.lot_uid:
            draw_row(painter, self._themes.current, rect, self._view.lots.row(place), look)
        else:
            draw_header(painter, self._themes.current, rect, place.group, look)
        painter.restore()


class LotList(RowList):
    """The lots: arrows move, Enter and Space do the next act, right opens the page; letters are meant for finding."""

    act_requested = Signal(str)
    open_requested = Signal(str)
    fold_requested = Signal()
    find_requested = Signal(str)
    keys_requested = Signal()

    def __init__(self, themes: Themes, row_of: Callable[[str], RowView], parent: QWidget | None = None) -> None:
        super().__init__(themes, "Lots", ROW_PX // 2, parent)
        self.lots = LotModel(row_of, self)
        self.shows_current = True
        self.action_under = -1
        self._pressed = -1
        self.setModel(self.lots)
        self.setItemDelegate(LotDelegate(themes, self))

    # -- what is shown

    def show_view(self, view: ShelfView) -> None:
        """Show other lots; the current one stays current, or else the one that took its place."""
        before, row = self.current_lot(), self.currentIndex().row()
        self.lots.show_view(view)
        index = self.lots.index_of(before) if before else QModelIndex()
        if not index.isValid():
            index = self._nearest(row)
        self.setCurrentIndex(index)

    def _nearest(self, row: int) -> QModelIndex:
        for number in (row, row - 1, row + 1):
            place = self.lots.place(self.lots.index(number)) if number >= 0 else None
            if place is not None and place.lot_uid:
                return self.lots.index(number)
        return self.lots.first_lot()

    def current_lot(self) -> str:
        """Return the uid of the current lot, empty if there is none."""
        place = self.lots.place(self.currentIndex())
        return place.lot_uid if place is not None else ""

    def make_current(self, lot_uid: str) -> None:
        """Make a lot the current one."""
        index = self.lots.index_of(lot_uid)
        if index.isValid():
            self.setCurrentIndex(index)

    # -- fingers and keys

    def take(self) -> None:
        """Do the next act of the current lot."""
        place = self.lots.place(self.currentIndex())
        if place is None:
            return
        if place.is_fold:
            self.fold_requested.emit()
        elif place.lot_uid:
            self.act_requested.emit(place.lot_uid)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space) and is_plain(event):
            self.take()
        elif event.key() == Qt.Key.Key_Right and is_plain(event):
            self._open_current()
        elif event.text() == "?" and is_plain(event):
            self.keys_requested.emit()
        elif is_for_finding(event):
            self.find_requested.emit(event.text())
        else:
            super().keyPressEvent(event)

    def _open_current(self) -> None:
        if self.current_lot():
            self.open_requested.emit(self.current_lot())

    def focusInEvent(self, event: QFocusEvent) -> None:
        if not self.currentIndex().isValid():
            self.setCurrentIndex(self.lots.first_lot())
        super().focusInEvent(event)
        self.viewport().update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        super().mouseMoveEvent(event)
        index = self.indexAt(event.position().toPoint())
        under = index.row() if self._is_on_action(index, event.position().toPoint()) else -1
        pointing = under >= 0 or index.isValid()
        self.viewport().setCursor(Qt.CursorShape.PointingHandCursor if pointing else Qt.CursorShape.ArrowCursor)
        if under != self.action_under:
            self.action_under = under
            self.viewport().update()

    def leaveEvent(self, event: QEvent) -> None:
        self.action_under = -1
        super().leaveEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        super().mousePressEvent(event)
        self._pressed = self.indexAt(event.position().toPoint()).row()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        if event.button() != Qt.MouseButton.LeftButton:
            return
        point = event.position().toPoint()
        index = self.indexAt(point)
        place = self.lots.place(index)
        if place is None or index.row() != self._pressed:
            return  # let go elsewhere than it was pressed
        if place.is_fold or self._is_on_action(index, point):
            self.take()
        elif place.lot_uid:
            self.open_requested.emit(place.lot_uid)

    def _is_on_action(self, index: QModelIndex, point: QPoint) -> bool:
        place = self.lots.place(index)
        if place is None or not place.lot_uid:
            return False
        rect: QRect = self.visualRect(index)
        return action_rect(QRectF(rect)).contains(point)
