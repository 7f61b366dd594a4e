"""The words in a list: headings with the sign of their family, and a row for each word; only what is seen is drawn."""

from __future__ import annotations

from typing import Any, Final, TypeAlias

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from tastebook.presenters.words_views import WordGroup, WordRow
from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.row_list import RowList, is_for_finding

Index: TypeAlias = QModelIndex | QPersistentModelIndex
Place: TypeAlias = WordGroup | WordRow

ROW_PX: Final = 44
HEADING_PX: Final = 48
PAD_PX: Final = 12
GLYPH_PX: Final = 18
NAME_SHARE: Final = 0.56
"""How much of a row its name may take, where something stands beside it."""

_NO_INDEX: Final = QModelIndex()


class WordModel(QAbstractListModel):
    """Headings and words, one below another."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._places: tuple[Place, ...] = ()

    def show_groups(self, groups: tuple[WordGroup, ...]) -> None:
        """Hold other words."""
        places: tuple[Place, ...] = ()
        for group in groups:
            places += (group, *group.rows)
        if places != self._places:
            self.beginResetModel()
            self._places = places
            self.endResetModel()

    def rowCount(self, parent: Index = _NO_INDEX) -> int:
        return 0 if parent.isValid() else len(self._places)

    def place(self, index: Index) -> Place | None:
        """Return what stands at an index."""
        return self._places[index.row()] if index.isValid() and index.row() < len(self._places) else None

    def index_of(self, uid: str) -> QModelIndex:
        """Return where a word stands, or an invalid index."""
        for number, place in enumerate(self._places):
            if isinstance(place, WordRow) and place.uid == uid:
                return self.index(number)
        return QModelIndex()

    def flags(self, index: Index) -> Qt.ItemFlag:
        if not isinstance(self.place(index), WordRow):
            return Qt.ItemFlag.NoItemFlags  # the keyboard passes headings over
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        place = self.place(index)
        if place is None:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return place.name if isinstance(place, WordRow) else place.title
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return place.accessible if isinstance(place, WordRow) else f"{place.title}, {len(place.rows)}"
        return None


class WordDelegate(QStyledItemDelegate):
    """Draws headings and rows."""

    def __init__(self, themes: Themes, view: WordList) -> None:
        super().__init__(view)
        self._themes = themes
        self._view = view

    def sizeHint(self, _option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(200, ROW_PX if isinstance(self._view.words.place(index), WordRow) else HEADING_PX)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        place = self._view.words.place(index)
        state: QStyle.StateFlag = option.state
        rect = QRectF(option.rect)
        painter.save()
        painter.setClipRect(rect)
        paint.make_smooth(painter)
        if isinstance(place, WordRow):
            is_current = index.row() == self._view.currentIndex().row()
            is_hovered = bool(state & QStyle.StateFlag.State_MouseOver)
            _draw_ground(painter, self._themes.current, rect, is_current, is_hovered, self._view.hasFocus())
            _draw_row(painter, self._themes.current, rect, place)
        elif place is not None:
            _draw_heading(painter, self._themes.current, rect, place)
        painter.restore()


def _draw_heading(painter: QPainter, theme: Theme, rect: QRectF, group: WordGroup) -> None:
    left, baseline = rect.left() + PAD_PX, rect.bottom() - 14
    if group.family:
        paint.glyph(painter, theme, group.family, left, baseline - GLYPH_PX + 4, GLYPH_PX)
        left += GLYPH_PX + 8
    end = paint.text(painter, left, baseline, group.title, sans(16, 600), theme.accent)
    paint.text(painter, end + 8, baseline, str(len(group.rows)), sans(16), theme.ink3)


def _draw_ground(
    painter: QPainter, theme: Theme, rect: QRectF, is_current: bool, is_hovered: bool, has_focus: bool
) -> None:
    box = rect.adjusted(2, 1, -2, -1)
    if is_current:
        line = theme.accent if has_focus else theme.outline
        width = tokens().line_px.focus if has_focus else theme.control_line_px
        paint.rounded(painter, box, tokens().radius_px.control, theme.raised, line, width)
    elif is_hovered:
        paint.rounded(painter, box, tokens().radius_px.control, theme.accent_soft)


def _draw_row(painter: QPainter, theme: Theme, rect: QRectF, row: WordRow) -> None:
    name_font, aside_font = sans(tokens().type_px.word), sans(tokens().type_px.text)
    left, right = rect.left() + PAD_PX, rect.right() - PAD_PX
    baseline = rect.center().y() + 6
    wanted = paint.text_width(row.aside, aside_font) if row.aside else 0.0
    room = right - left
    name_room = room - wanted - 12 if row.aside else room
    name_room = max(name_room, NAME_SHARE * room) if row.aside else room
    end = paint.text(painter, left, baseline, paint.elided(row.name, name_font, name_room), name_font, theme.ink)
    if row.aside:
        words = paint.elided(row.aside, aside_font, right - end - 12)
        paint.text(painter, right, baseline, words, aside_font, theme.ink3, "right")


class WordList(RowList):
    """The words: arrows move and show, letters are meant for finding, Escape is the sheet's."""

    chosen = Signal(str)
    find_requested = Signal(str)

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, "Words", ROW_PX // 2, parent)
        self.words = WordModel(self)
        self._is_showing = False
        self.setModel(self.words)
        self.setItemDelegate(WordDelegate(themes, self))
        self.selectionModel().currentChanged.connect(self._tell)

    def show_groups(self, groups: tuple[WordGroup, ...], chosen: str) -> None:
        """Show other words, and which is chosen."""
        self._is_showing = True
        self.words.show_groups(groups)
        index = self.words.index_of(chosen)
        if index != self.currentIndex():
            self.setCurrentIndex(index)
            if index.isValid() and not self.viewport().rect().contains(self.visualRect(index)):
                self.scrollTo(index, QAbstractItemView.ScrollHint.PositionAtCenter)
        self._is_showing = False

    def _tell(self, index: QModelIndex) -> None:
        place = self.words.place(index)
        if isinstance(place, WordRow) and not self._is_showing:
            self.chosen.emit(place.uid)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            event.ignore()
        elif is_for_finding(event):
            self.find_requested.emit(event.text())
        elif not self.currentIndex().isValid() and event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Up):
            self._go_to_first()
        else:
            super().keyPressEvent(event)

    def _go_to_first(self) -> None:
        rows = (self.words.index(number) for number in range(self.words.rowCount()))
        first = next((one for one in rows if isinstance(self.words.place(one), WordRow)), QModelIndex())
        self.setCurrentIndex(first)
