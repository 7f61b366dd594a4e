"""Chips by family, in three columns."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QPoint, QRect, QRectF, Signal
from PySide6.QtGui import QAccessible, QPainter, QResizeEvent
from PySide6.QtWidgets import QWidget

from tastebook.presenters.bench import views
from tastebook.ui.bench.marks_menu import MarksMenu, drop_menu
from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.chip import Chip, ChipView
from tastebook.ui.widgets.drawn import Drawn

GAP_PX: Final = 16
HEAD_PX: Final = 26
CHIP_PX: Final = 44
PITCH_PX: Final = 52
ROW_GAP_PX: Final = 8
LEAST_COLUMN_PX: Final = 240


class ChipBoard(Drawn):
    """Lays groups of chips out and keeps each chip's widget while it stays, so that the keyboard stays with it."""

    intensity_requested = Signal(str, int)
    removal_requested = Signal(str)
    flags_requested = Signal(str, bool, bool)
    meaning_requested = Signal(str)
    accessible_role = QAccessible.Role.Grouping

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setAccessibleName("What was noted")
        self._groups: tuple[views.GroupView, ...] = ()
        self._chips: dict[str, Chip] = {}
        self._places: list[tuple[views.GroupView, QRect]] = []

    @property
    def chips(self) -> Sequence[Chip]:
        """Return the chips in reading order."""
        return [self._chips[chip.key] for group in self._groups for chip in group.chips]

    def show_groups(self, groups: tuple[views.GroupView, ...]) -> None:
        """Show other groups."""
        if groups == self._groups:
            return
        headings = self._headings()
        had_keyboard = next((place for place, chip in enumerate(self.chips) if chip.hasFocus()), None)
        self._groups = groups
        wanted = {chip.key: chip for group in groups for chip in group.chips}
        gone = [self._chips.pop(key) for key in list(self._chips) if key not in wanted]
        for key, view in wanted.items():
            self._show_chip(key, view)
        if had_keyboard is not None and any(chip.hasFocus() for chip in gone) and self.chips:
            self.chips[min(had_keyboard, len(self.chips) - 1)].setFocus()
        for chip in gone:
            self._drop(chip)
        self._lay_out()
        if self._headings() != headings:  # else each chip has painted itself
            self.update()

    def _headings(self) -> list[tuple[str, str, QRect]]:
        return [(group.family, group.name, place) for group, place in self._places]

    @staticmethod
    def _drop(chip: Chip) -> None:
        chip.hide()  # at once: it is deleted only when the event loop comes round
        chip.deleteLater()

    def _show_chip(self, key: str, view: views.ChipView) -> None:
        shown = chip_view(view)
        chip = self._chips.get(key)
        if chip is None:
            chip = Chip(self._themes, shown, self)
            self._chips[key] = chip
            self._connect(chip, key)
            chip.show()
            chip.arrive()
        else:
            chip.show_view(shown)

    def _connect(self, chip: Chip, key: str) -> None:
        chip.intensity_requested.connect(lambda strength: self.intensity_requested.emit(key, strength))
        chip.removal_requested.connect(lambda: self.removal_requested.emit(key))
        chip.marks_requested.connect(lambda place: self._open_marks(key, place))
        chip.meaning_requested.connect(lambda: self.meaning_requested.emit(chip.view.word))

    def _open_marks(self, key: str, place: QPoint) -> None:
        """Offer the marks of one impression; one that is only typed has none yet, and a carried one no menu."""
        view = next(one for group in self._groups for one in group.chips if one.key == key)
        if view.pending:
            menu = drop_menu(self, lambda: self.removal_requested.emit(key))
            menu.addAction("Absent").triggered.connect(lambda: self.intensity_requested.emit(key, 0))
            menu.popup(place)
        elif view.uid:
            marks = MarksMenu(self, clouded=view.clouded, doubtful=view.doubtful)
            marks.marked.connect(lambda clouded, doubtful: self.flags_requested.emit(key, clouded, doubtful))
            marks.add("Absent", lambda: self.intensity_requested.emit(key, 0))
            marks.add("Remove", lambda: self.removal_requested.emit(key))
            marks.popup(place)

    @property
    def chosen(self) -> Chip | None:
        """Return the chip of the part that is chosen in the say line."""
        return next((chip for chip in self.chips if chip.view.is_chosen), None)

    def in_reading_order(self) -> Sequence[QWidget]:
        """Return the chips as Tab goes through them."""
        return self.chips

    # -- geometry

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._lay_out()

    def _lay_out(self) -> None:
        columns = max(1, min(3, (self.width() + GAP_PX) // (LEAST_COLUMN_PX + GAP_PX)))
        width = (self.width() - GAP_PX * (columns - 1)) // columns
        tops = [0] * columns
        self._places = []
        for group in self._groups:
            column = tops.index(min(tops))  # where there is room first: a long group leaves no gap beside it
            self._place_group(group, column * (width + GAP_PX), tops[column], width)
            tops[column] += _height(group)
        self.setFixedHeight(max(1, max(tops, default=0)))

    def _place_group(self, group: views.GroupView, left: int, top: int, width: int) -> None:
        self._places.append((group, QRect(left, top, width, HEAD_PX)))
        for number, view in enumerate(group.chips):
            self._chips[view.key].setGeometry(left, top + HEAD_PX + number * PITCH_PX, width, CHIP_PX)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        for group, place in self._places:
            ink = theme.ink2 if group.family else theme.accent
            left = place.x()
            if group.family:
                paint.glyph(painter, theme, group.family, left + 1, place.y() + 2, 18)
                left += 28
            paint.text(painter, left, place.y() + 16.5, group.name, sans(16, 600), ink)
        self._draw_rings(painter, theme)

    def _draw_rings(self, painter: QPainter, theme: Theme) -> None:
        for chip in self._chips.values():
            chip.draw_around(painter, theme, QRectF(chip.geometry()))


def _height(group: views.GroupView) -> int:
    return HEAD_PX + PITCH_PX * len(group.chips) + ROW_GAP_PX


def chip_view(view: views.ChipView) -> ChipView:
    """Return a chip as its widget draws it."""
    return ChipView(
        word=view.word,
        family=view.family,
        intensity=view.intensity,
        is_carried=view.carried,
        is_absent=view.is_absent,
        is_selected=view.pending,
        is_late=view.late,
        is_clouded=view.clouded,
        is_doubtful=view.doubtful,
        is_chosen=view.chosen,
        about=", ".join(word for word in ("a new word" if view.new else "", view.about) if word),
        why=view.why,
    )
