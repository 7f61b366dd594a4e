"""The timer: digits one reads from two metres, the bar, water and plan, and the one big target."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from tastebook.presenters.bench.views import TimerView
from tastebook.ui.theme.fonts import sans, serif_italic
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.buttons import ActionButton, PlainButton
from tastebook.ui.widgets.card import Card
from tastebook.ui.widgets.drawn import Drawn
from tastebook.ui.widgets.stepper import Stepper, StepperView
from tastebook.ui.widgets.timer import DigitsView, PourBar, PourBarView, TimerDigits, TimerDigitsView

WIDTH_PX: Final = 432
PAD_PX: Final = 24


class AdviceLines(Drawn):
    """Two lines: what is known, and whose decision it is. Long words break into the second line's room."""

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._lines = ("", "")
        self.setMinimumHeight(52)

    def show_lines(self, lines: tuple[str, str]) -> None:
        """Show other lines."""
        if lines != self._lines:
            self._lines = lines
            self.setAccessibleName(" ".join(lines))
            self.setToolTip(" ".join(lines))
            self.update()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        first, second = self._lines
        paint.text(painter, 0, 19, paint.elided(first, sans(16), self.width()), sans(16), theme.ink2)
        if paint.text_width(second, serif_italic(18)) <= self.width():
            paint.text(painter, 0, 43, second, serif_italic(18), theme.ink)
        else:
            paint.paragraph(painter, QRectF(0, 26, self.width(), self.height() - 24), second, sans(16), theme.ink)
