"""The sheet for the finish: a stopwatch from the swallow, scales, and what stays."""

from __future__ import annotations

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QAccessible, QPainter
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from tastebook.presenters.bench.views import FinishSheet
from tastebook.reports.wording import steep_time
from tastebook.ui.bench.chip_board import ChipBoard
from tastebook.ui.bench.scale_grid import ScaleGrid
from tastebook.ui.theme.fonts import numerals, sans
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.buttons import QuietButton
from tastebook.ui.widgets.drawn import Drawn


class Stopwatch(Drawn):
    """Seconds since the swallow, or how long the finish was."""

    accessible_role = QAccessible.Role.Clock

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._digits, self._caption = "–", ""

    def sizeHint(self) -> QSize:
        return QSize(220, 72)

    def show_time(self, digits: str, caption: str) -> None:
        """Show another time."""
        self._digits, self._caption = digits, caption
        self.setAccessibleName(f"Finish {digits} {caption}")
        self.update()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        end = paint.text(painter, 0, 54, self._digits, numerals(56), theme.ink)
        paint.text(painter, end + 14, 54, self._caption, sans(16), theme.ink3)


class FinishPage(QWidget):
    """Draws a `FinishSheet`."""

    stopwatch_requested = Signal()
    value_requested = Signal(str, int)
    clear_requested = Signal(str)
    reading_flags_requested = Signal(str, bool, bool)
    intensity_requested = Signal(str, int)
    removal_requested = Signal(str)
    flags_requested = Signal(str, bool, bool)
    meaning_requested = Signal(str)

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._watch = Stopwatch(themes)
        self._button = QuietButton(themes, "Swallow")
        self._button.setMinimumSize(220, 64)
        self._scales = ScaleGrid(themes)
        self._board = ChipBoard(themes)
        top = QHBoxLayout()
        top.addWidget(self._watch, 1)
        top.addWidget(self._button)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(12)
        box.addLayout(top)
        box.addWidget(self._scales)
        box.addWidget(self._board)
        box.addStretch(1)
        self._button.press_requested.connect(self.stopwatch_requested)
        self._scales.value_requested.connect(self.value_requested)
        self._scales.clear_requested.connect(self.clear_requested)
        self._scales.meaning_requested.connect(self.meaning_requested)
        self._scales.flags_requested.connect(self.reading_flags_requested)
        self._board.intensity_requested.connect(self.intensity_requested)
        self._board.removal_requested.connect(self.removal_requested)
        self._board.flags_requested.connect(self.flags_requested)
        self._board.meaning_requested.connect(self.meaning_requested)

    def show_sheet(self, sheet: FinishSheet) -> None:
        """Draw another state."""
        self.show_running(sheet.running_s)
        if sheet.running_s is None:
            self._watch.show_time(sheet.length or "0 s", "from the swallow" if sheet.length else "not timed yet")
        if self._button.label != sheet.stopwatch_label:
            self._button.set_label(sheet.stopwatch_label)
        self._scales.show_sliders(sheet.sliders)
        self._board.show_groups(sheet.groups)

    @property
    def chosen(self) -> QWidget | None:
        """Return the chip or the scale of the part that is chosen in the say line."""
        return self._scales.chosen or self._board.chosen

    def show_running(self, running_s: float | None) -> None:
        """Show the seconds while they are being counted."""
        if running_s is not None:
            self._watch.show_time(steep_time(int(running_s)), "since the swallow")
