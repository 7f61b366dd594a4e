"""A scale of a sense, from 0 to 5."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QAccessible, QKeyEvent, QMouseEvent, QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from tastebook.ui.theme.fonts import sans, serif
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.accessible import Number
from tastebook.ui.widgets.drawn import Control

MOST: Final = 5
_TRACK_Y: Final = 36
_END_PX: Final = 14
"""How far the first and last stop stand from the words' edge."""


@dataclass(frozen=True)
class ScaleView:
    """What a scale shows.

    Parameters
    ----------
    name : str
        What is judged, such as `Body`.
    low, high : str
        What the ends mean.
    value : int or None
        0 to 5, None while it is not assessed: the two are different.
    last : int or None
        What it was at the infusion before.
    word : str
        The value in words, shown at the right.
    words : tuple of str
        Words for 0 to 5, shown while a finger is down; numbers where it is empty.
    last_name : str
        What `last` belongs to, such as `infusion 2`.
    marks : str
        What is to be known about the value, such as `late`.
    is_ghost : bool
        Whether the value is only typed in the say line yet.
    is_chosen : bool
        Whether the next digit typed is about it.
    why : str
        From which words it was read.
    """

    name: str
    low: str
    high: str
    value: int | None = None
    last: int | None = None
    word: str = ""
    words: tuple[str, ...] = ()
    last_name: str = "last time"
    marks: str = ""
    is_ghost: bool = False
    is_chosen: bool = False
    why: str = ""

    def word_for(self, value: int) -> str:
        """Return a value in words."""
        if value == self.value and self.word:
            return self.word
        return self.words[value] if len(self.words) > value else str(value)


class ScaleSlider(Control):
    """Six stops on a line; no thumb until a value is set. What it draws begins `PAD` from its left and right edge."""

    value_requested = Signal(int)
    clear_requested = Signal()
    meaning_requested = Signal()
    """F1: what is judged here?"""

    accessible_role = QAccessible.Role.Slider
    least = QSize(220, 80)
    PAD: Final = 8

    def __init__(self, themes: Themes, view: ScaleView, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setMouseTracking(True)
        self._view = view
        self._preview: int | None = None
        self._ghost: int | None = None
        self.setAccessibleName(view.name)

    @property
    def view(self) -> ScaleView:
        """Return what is shown."""
        return self._view

    def show_view(self, view: ScaleView) -> None:
        """Show another value or scale."""
        self._preview = None
        if view != self._view:
            self._view = view
            self.setAccessibleName(view.name)
            self.setToolTip(view.why)
            self.update()
            self.tell_changed()

    def value_text(self) -> str:
        view = self._view
        now = "not set" if view.value is None else f"{view.word_for(view.value)}, {view.value} of {MOST}"
        before = f"{view.last} at {view.last_name}" if view.last is not None else ""
        typed = "as you say it" if view.is_ghost else ""
        return ", ".join(part for part in (now, typed, view.marks, before, f"from {view.low} to {view.high}") if part)

    def accessible_number(self) -> Number:
        return Number(self._view.value, 0, MOST)

    def ask_for_number(self, number: int) -> None:
        self.value_requested.emit(min(MOST, max(0, number)))

    # ---- drawing

    def draw(self, painter: QPainter, theme: Theme) -> None:
        shown = self._view.value if self._preview is None else self._preview
        self._draw_words(painter, theme, shown)
        self._draw_track(painter, theme, shown)
        self._draw_last(painter, theme)
        if shown is not None:
            self._draw_thumb(painter, theme, shown)
        elif self._ghost is not None and self.is_hovered:
            painter.setPen(paint.solid_pen(theme.accent, 1.5))
            painter.setBrush(theme.accent_soft)
            painter.drawEllipse(self._stop(self._ghost), 11, 11)
        if self.hasFocus() or self._view.is_chosen:
            self._draw_focus(painter, theme, shown)

    def _draw_words(self, painter: QPainter, theme: Theme, shown: int | None) -> None:
        view, left, right = self._view, self.PAD, self.width() - self.PAD
        small = sans(tokens().type_px.key, tokens().weight.label)
        text, label = sans(tokens().type_px.text), sans(tokens().type_px.word, tokens().weight.label)
        if shown is None:
            said, font, ink = "not set", text, theme.ink3
        else:
            said, font = view.word_for(shown), serif(tokens().type_px.value, tokens().weight.serif_value)
            ink = theme.ink
        paint.text(painter, right, 16, said, font, ink, "right")
        room = right - left - paint.text_width(said, font) - 12
        colour = theme.ink2 if shown is None else theme.ink
        label = paint.fitting(view.name, (label, sans(tokens().type_px.text, tokens().weight.label), small), room)
        end = paint.text(painter, left, 16, paint.elided(view.name, label, room), label, colour)
        if view.marks and room - (end - left) > paint.text_width(view.marks, text) + 10:
            paint.text(painter, end + 10, 16, view.marks, text, theme.ink3)
        paint.text(painter, left, 67, view.low, text, theme.ink3)
        paint.text(painter, right, 67, view.high, text, theme.ink3, "right")

    def _draw_track(self, painter: QPainter, theme: Theme, shown: int | None) -> None:
        painter.setPen(paint.solid_pen(theme.outline, 4 if theme.is_flat else 3, is_round=True))
        painter.drawLine(self._stop(0), self._stop(MOST))
        if shown is not None:
            painter.setPen(paint.solid_pen(theme.accent, 5, is_round=True))
            painter.drawLine(self._stop(0), self._stop(shown))
        painter.setBrush(theme.surface)
        for value in range(MOST + 1):
            is_filled = shown is not None and value <= shown
            painter.setPen(paint.solid_pen(theme.accent if is_filled else theme.outline, 1.5))
            painter.drawEllipse(self._stop(value), 4, 4)

    def _draw_last(self, painter: QPainter, theme: Theme) -> None:
        if self._view.last is not None:
            painter.setBrush(theme.surface)
            painter.setPen(paint.solid_pen(theme.ink2, 2))
            painter.drawEllipse(self._stop(self._view.last), 8, 8)

    def _draw_thumb(self, painter: QPainter, theme: Theme, shown: int) -> None:
        centre = self._stop(shown)
        if self._view.is_ghost and not self.is_down:
            painter.setPen(paint.dashed_pen(theme.accent, 2, (1.6, 1.4)))
            painter.setBrush(theme.accent_soft if self._view.is_chosen else theme.surface)
            painter.drawEllipse(centre, 12, 12)
            return
        radius = 13 + 2 * self.pressed_share
        place = QRectF(centre.x() - radius, centre.y() - radius, 2 * radius, 2 * radius)
        paint.shadow(painter, theme, place, radius, "action")
        painter.setPen(paint.solid_pen(theme.raised, 3))
        painter.setBrush(theme.accent)
        painter.drawEllipse(centre, radius, radius)
        if shown == self._view.last:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(paint.solid_pen(theme.on_accent, 2))
            painter.drawEllipse(centre, 6, 6)

    def _draw_focus(self, painter: QPainter, theme: Theme, shown: int | None) -> None:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(paint.solid_pen(theme.accent, theme.focus_line_px))
        if shown is None:
            paint.focus_ring(painter, theme, QRectF(1, _TRACK_Y - 15, self.width() - 2, 30), 15)
        else:
            painter.drawEllipse(self._stop(shown), 18, 18)

    # ---- places

    def _stop(self, value: float) -> QPointF:
        first = self.PAD + _END_PX
        return QPointF(first + (self.width() - 2 * first) * value / MOST, _TRACK_Y)

    def _value_at(self, point: QPointF) -> int:
        first = self.PAD + _END_PX
        share = (point.x() - first) / max(1, self.width() - 2 * first)
        return min(MOST, max(0, round(share * MOST)))

    # ---- fingers and keys

    def event(self, event: QEvent) -> bool:
        """Keep F1 from what surrounds the scale: here it asks what is judged."""
        is_key = event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent)
        if is_key and isinstance(event, QKeyEvent) and event.key() == Qt.Key.Key_F1:
            event.accept()
            return True
        return super().event(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self._preview = self._value_at(event.position())
            self.set_down(is_down=True)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._ghost = self._value_at(event.position())
        if self.is_down:
            self._preview = self._ghost
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and self._preview is not None:
            wanted, self._preview = self._preview, None
            self.set_down(is_down=False)
            self._ask(wanted)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = event.key()
        if event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
            super().keyPressEvent(event)
        elif key == Qt.Key.Key_F1:
            self.meaning_requested.emit()
        elif Qt.Key.Key_0 <= key <= Qt.Key.Key_5:
            self._ask(key - Qt.Key.Key_0)
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            if self._view.value is not None:
                self.clear_requested.emit()
        elif key in (Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Home, Qt.Key.Key_End):
            self._ask(self._value_by_key(Qt.Key(key)))
        else:
            super().keyPressEvent(event)

    def _value_by_key(self, key: Qt.Key) -> int:
        if key in (Qt.Key.Key_Home, Qt.Key.Key_End):
            return 0 if key == Qt.Key.Key_Home else MOST
        if self._view.value is None:  # the first arrow begins where the last infusion was
            return self._view.last if self._view.last is not None else 0
        return min(MOST, max(0, self._view.value + (1 if key == Qt.Key.Key_Right else -1)))

    def _ask(self, value: int) -> None:
        if value != self._view.value:
            self.value_requested.emit(value)
        else:
            self.update()
