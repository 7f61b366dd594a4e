"""Chips by family, in three columns."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QPoint, QRect, QRectF, Signal
from PySide6.QtGui import QAccessible, QPainter, QResizeEvent
from PySide6.QtWidgets import QWidget

from tastebook.presenters.bench import views
from tastebook.ui.bench.marks_menu import MarksMenu
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
        order = [chip.descriptor for group in self._groups for chip in group.chips]
        return [self._chips[descriptor] for descriptor in order]

    def show_groups(self, groups: tuple[views.GroupView, ...]) -> None:
        """Show other groups."""
        if groups == self._groups:
            return
        headings = self._headings()
        had_keyboard = next((place for place, chip in enumerate(self.chips) if chip.hasFocus()), None)
        self._groups = groups
        wanted = {chip.descriptor: chip for group in groups for chip in group.chips}
        gone = [self._chips.pop(descriptor) for descriptor in list(self._chips) if descriptor not in wanted]
        for descriptor, view in wanted.items():
            self._show_chip(descriptor, view)
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

    def _show_chip(self, descriptor: str, view: views.ChipView) -> None:
        shown = chip_view(view)
        chip = self._chips.get(descriptor)
        if chip is None:
            chip = Chip(self._themes, shown, self)
            self._chips[descriptor] = chip
            self._connect(chip, descriptor)
            chip.show()
            chip.arrive()
        else:
            chip.show_view(shown)

    def _connect(self, chip: Chip, descriptor: str) -> None:
        chip.intensity_requested.connect(lambda strength: self.intensity_requested.emit(descriptor, strength))
        chip.removal_requested.connect(lambda: self.removal_requested.emit(descriptor))
        chip.marks_requested.connect(lambda place: self._open_marks(descriptor, place))

    def _open_marks(self, descriptor: str, place: QPoint) -> None:
        """Offer the marks of one impression; carried and typed ones have none yet."""
        view = next(one for group in self._groups for one in group.chips if one.descriptor == descriptor)
        if not view.uid:
            return
        menu = MarksMenu(self, clouded=view.clouded, doubtful=view.doubtful)
        menu.marked.connect(lambda clouded, doubtful: self.flags_requested.emit(descriptor, clouded, doubtful))
        menu.add("Absent", lambda: self.intensity_requested.emit(descriptor, 0))
        menu.add("Remove", lambda: self.removal_requested.emit(descriptor))
        menu.popup(place)

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
        for start in range(0, len(self._groups), columns):
            row = self._groups[start : start + columns]
            for column, group in enumerate(row):
                self._place_group(group, column * (width + GAP_PX), tops[column], width)
            lowest = max(tops[column] + _height(group) for column, group in enumerate(row))
            tops = [lowest] * columns
        self.setFixedHeight(max(1, max(tops, default=0)))

    def _place_group(self, group: views.GroupView, left: int, top: int, width: int) -> None:
        self._places.append((group, QRect(left, top, width, HEAD_PX)))
        for number, view in enumerate(group.chips):
            self._chips[view.descriptor].setGeometry(left, top + HEAD_PX + number * PITCH_PX, width, CHIP_PX)

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
    )
