"""One session of a lot as a small strip that opens it."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from tastebook.presenters.lot_page import SessionStrip, SteepView
from tastebook.ui.theme.fonts import sans, serif, serif_italic
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.drawn import Pressable

HEIGHT_PX: Final = 136
CUP_PX: Final = 15.0
PITCH_PX: Final = 58.0
PAD_PX: Final = 20.0
LEAST_WORDS_PX: Final = 180.0


class StripButton(Pressable):
    """Draws a `SessionStrip`: when and why, cups with their seconds, what it came to."""

    least = QSize(320, HEIGHT_PX)

    def __init__(self, themes: Themes, strip: SessionStrip, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.strip = strip
        self.setAccessibleName(strip.accessible)

    def show_strip(self, strip: SessionStrip) -> None:
        """Show another state, or another session."""
        if strip != self.strip:
            self.strip = strip
            self.setAccessibleName(strip.accessible)
            self.update()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        box = self.box().adjusted(0.5, 0.5, -0.5, -0.5)
        ground = theme.sunken if self.is_down else theme.raised if self.is_hovered else theme.surface
        line = theme.outline if self.is_hovered else theme.card_line
        paint.rounded(painter, box, tokens().radius_px.control, ground, line, theme.card_line_px)
        self._draw_heading(painter, theme)
        paint.text(painter, PAD_PX, 58, self._facts(), sans(16), theme.ink3)
        right = self._draw_steeps(painter, theme)
        self._draw_headline(painter, theme, right + 24)
        if self.hasFocus():
            paint.focus_ring(painter, theme, self.box(), tokens().radius_px.control)

    def _draw_heading(self, painter: QPainter, theme: Theme) -> None:
        right = self.width() - PAD_PX
        act_font = sans(16, 600)
        paint.text(painter, right, 33, self.strip.act_label, act_font, theme.accent, "right")
        right -= paint.text_width(self.strip.act_label, act_font) + 24
        verdict_font = sans(16, 600)
        paint.text(painter, right, 33, self.strip.verdict, verdict_font, theme.ink2, "right")
        right -= paint.text_width(self.strip.verdict, verdict_font) + 24
        title_font = serif(18, tokens().weight.serif_heading)
        paint.text(
            painter, PAD_PX, 33, paint.elided(self.strip.title, title_font, right - PAD_PX), title_font, theme.ink
        )

    def _facts(self) -> str:
        return paint.elided(self.strip.facts, sans(16), self.width() - 2 * PAD_PX)

    def _draw_steeps(self, painter: QPainter, theme: Theme) -> float:
        """Draw as many cups as there is room for, and return where they end."""
        if not self.strip.steeps:
            paint.text(painter, PAD_PX, 100, "nothing poured", sans(16), theme.ink3)
            return PAD_PX + paint.text_width("nothing poured", sans(16))
        room = self.width() - 2 * PAD_PX
        most = max(1, int(room // PITCH_PX))
        if len(self.strip.steeps) > most:
            most -= 1
        for place, steep in enumerate(self.strip.steeps[:most]):
            _draw_steep(painter, theme, PAD_PX + CUP_PX + place * PITCH_PX, steep)
        end = PAD_PX + min(most, len(self.strip.steeps)) * PITCH_PX
        left_out = len(self.strip.steeps) - most
        if left_out > 0:
            end = paint.text(painter, end - 8, 94, f"+{left_out}", sans(16), theme.ink3)
        return end

    def _draw_headline(self, painter: QPainter, theme: Theme, left: float) -> None:
        room = self.width() - PAD_PX - left
        if self.strip.headline and room >= LEAST_WORDS_PX:
            words = QRectF(left, 72, room, HEIGHT_PX - 80)
            paint.paragraph(painter, words, self.strip.headline, serif_italic(18), theme.ink)


def _draw_steep(painter: QPainter, theme: Theme, x: float, steep: SteepView) -> None:
    centre = QPointF(x, 88)
    if steep.hex:
        paint.cup(painter, theme, centre, CUP_PX, QColor(steep.hex))
    else:
        paint.empty_cup(painter, theme, centre, CUP_PX)
    paint.text(painter, x, 123, steep.seconds, sans(14), theme.ink3, "centre")
