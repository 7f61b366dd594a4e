"""One impression: a word, how strong it was, and what is to be known about it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QAccessible,
    QColor,
    QContextMenuEvent,
    QFocusEvent,
    QFont,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPainterPath,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from tastebook.ui.theme.fonts import sans, serif
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.accessible import Number
from tastebook.ui.widgets.drawn import Control
from tastebook.ui.widgets.motion import Glide

MOST: Final = 5
LONG_PRESS_MS: Final = 600
_PIPS_LEFT_PX: Final = 120
"""Where the pips begin, measured from the right edge."""
_PIP_PITCH_PX: Final = 18
_SLIDE_PITCH_PX: Final = 24
"""How far a finger slides along the word for one step of strength."""
_SLIP_PX: Final = 6
"""Less movement than this is a tap."""
_MARK_PX: Final = 20
_ABOUT_LIFT_PX: Final = 9
"""How much higher the word stands over a line that says where it was perceived."""

_MARK_WORDS: Final = {
    "late": "late: noted after the sense could still be caught fresh",
    "clouded": "clouded: the surroundings may have caused it",
    "doubtful": "doubtful",
}


@dataclass(frozen=True)
class ChipView:
    """What a chip shows.

    `intensity` runs from 1 to 5. A carried chip repeats what an earlier infusion had and asks whether it is still
    there; an absent one was looked for and not found. A selected one is only typed yet, and a chosen one of these is
    what the next digit is about. `about` stands small below the word, `why` is told under the pointer.
    """

    word: str
    family: str
    intensity: int = 0
    is_carried: bool = False
    is_absent: bool = False
    is_selected: bool = False
    is_late: bool = False
    is_clouded: bool = False
    is_doubtful: bool = False
    is_chosen: bool = False
    is_plain: bool = False
    about: str = ""
    why: str = ""

    @property
    def marks(self) -> tuple[str, ...]:
        """Return the names of its marks."""
        held = (("late", self.is_late), ("clouded", self.is_clouded), ("doubtful", self.is_doubtful))
        return tuple(name for name, holds in held if holds)

    @property
    def told(self) -> str:
        """Return its strength and marks in words."""
        if self.is_absent:
            strength = "absent"
        elif self.is_carried:
            strength = f"noted earlier at {self.intensity}, still there?"
        else:
            strength = f"{self.intensity} of {MOST}"
        typed = "as you say it" if self.is_selected else ""
        words = (strength, self.about, typed, *(_MARK_WORDS[mark] for mark in self.marks))
        return ", ".join(word for word in words if word)


class Chip(Control):
    """An impression whose strength is set with a digit, a tap on a pip, or a finger that slides along the chip."""

    intensity_requested = Signal(int)
    """1 to 5, or 0 for absent."""
    removal_requested = Signal()
    marks_requested = Signal(QPoint)
    """Asks for the marks, at a place on the screen."""
    meaning_requested = Signal()
    """F1: what does the word mean?"""

    accessible_role = QAccessible.Role.Slider
    least = QSize(190, 44)

    def __init__(self, themes: Themes, view: ChipView, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._view = view
        self._pressed_at: QPointF | None = None
        self._preview: int | None = None
        self._arrival = Glide(self, themes, "chip_in", 1.0)
        self._hold = QTimer(self)
        self._hold.setSingleShot(True)
        self._hold.timeout.connect(self._held)
        self._name_it()

    @property
    def view(self) -> ChipView:
        """Return what is shown."""
        return self._view

    def show_view(self, view: ChipView) -> None:
        """Show another impression, or the same changed."""
        self._preview = None
        if view != self._view:
            self._view = view
            self._name_it()
            self.update()
            self.tell_changed()

    def arrive(self) -> None:
        """Come in, once: the chip fades in and rises by 4."""
        self._arrival.jump(0.0)
        self._arrival.to(1.0)

    def _name_it(self) -> None:
        family = self._view.family or ("scale" if self._view.is_plain else "")
        self.setAccessibleName(f"{self._view.word}, {family}")
        told = (self._view.why, *(_MARK_WORDS[mark] for mark in self._view.marks))
        self.setToolTip("\n".join(line for line in told if line))

    def value_text(self) -> str:
        return self._view.told

    def accessible_number(self) -> Number:
        return Number(0 if self._view.is_absent else self._view.intensity, 0, MOST)

    def ask_for_number(self, number: int) -> None:
        self.intensity_requested.emit(min(MOST, max(0, number)))

    # ---- drawing

    def draw(self, painter: QPainter, theme: Theme) -> None:
        share = self._arrival.share
        if share < 1:
            painter.setOpacity(share)
            painter.translate(0, 4 * (1 - share))
        self._draw_box(painter, theme)
        if self._view.is_absent and self._preview is None:
            self._draw_absent(painter, theme)
        else:
            self._draw_strength(painter, theme)
        if self.hasFocus():
            paint.focus_ring(painter, theme, self.box(), tokens().radius_px.chip)

    def _draw_box(self, painter: QPainter, theme: Theme) -> None:
        radius = tokens().radius_px.chip
        if self._view.is_carried and self._preview is None:
            fill = theme.raised if self.is_hovered else None
            paint.rounded(painter, self.box(), radius, fill, paint.dashed_pen(theme.outline, 1.25, (4, 3)))
            return
        if self._view.is_selected and not self._view.is_chosen:
            paint.rounded(painter, self.box(), radius, theme.raised, paint.dashed_pen(theme.accent, 1.75, (2, 2)))
            return
        width = theme.focus_line_px if self._view.is_chosen else 1.5 if theme.is_flat else 1.1
        line = theme.accent if self._view.is_chosen else theme.ink2 if self.is_hovered else theme.outline
        paint.rounded(
            painter, self.box(), radius, theme.accent_soft if self._view.is_chosen else theme.raised, line, width
        )

    def draw_around(self, painter: QPainter, theme: Theme, place: QRectF) -> None:
        if self.is_hovered and not self._view.is_carried:
            paint.shadow(painter, theme, place, tokens().radius_px.chip, "action")

    def _draw_absent(self, painter: QPainter, theme: Theme) -> None:
        middle, font = self.height() / 2, sans(tokens().type_px.word)
        words = paint.elided(self._view.word, font, self._word_room(90))
        base = self._draw_about(painter, theme, 90)
        end = paint.text(painter, 14, base, words, font, theme.ink2)
        painter.setPen(paint.solid_pen(theme.alarm, 1.75))
        painter.drawLine(QPointF(12, base - 5), QPointF(end + 2, base - 5))
        self._draw_marks(painter, theme, end + 8)
        small = sans(tokens().type_px.text)
        paint.text(painter, self.width() - 14, middle + 5.5, "absent", small, theme.ink2, "right")

    def _draw_strength(self, painter: QPainter, theme: Theme) -> None:
        view, middle = self._view, self.height() / 2
        is_open = view.is_carried and self._preview is None
        weight = tokens().weight.text if is_open else tokens().weight.label
        doubt = "?" if view.is_selected and view.is_doubtful else ""
        room = self._word_room(_PIPS_LEFT_PX + 4)
        font = _font_for(view.word + doubt, weight, room)
        words = paint.elided(view.word + doubt, font, room)
        ink = theme.ink2 if is_open else theme.ink
        base = self._draw_about(painter, theme, _PIPS_LEFT_PX + 4)
        end = paint.text(painter, 14, base, words, font, ink)
        self._draw_marks(painter, theme, end + 8)
        count = view.intensity if self._preview is None else self._preview
        colour = theme.ink2 if view.is_plain else theme.family(view.family)
        paint.pips(painter, theme, self.width() - _PIPS_LEFT_PX, middle, count, colour, is_carried=is_open)
        number = serif(tokens().type_px.value, tokens().weight.serif_heading)
        shown = "?" if is_open else str(count)
        paint.text(painter, self.width() - 14, middle + 6.5, shown, number, ink, "right")

    def _draw_about(self, painter: QPainter, theme: Theme, right_px: float) -> float:
        """Draw the small line below the word, and return where the word stands."""
        middle = self.height() / 2
        if not self._view.about:
            return middle + 6
        small = sans(tokens().type_px.key)
        words = paint.elided(self._view.about, small, self.width() - 14 - right_px)
        paint.text(painter, 14, middle + 13.5, words, small, theme.ink2)
        return middle + 6 - _ABOUT_LIFT_PX

    def _word_room(self, right_px: float) -> float:
        return self.width() - 14 - right_px - _MARK_PX * len(self._view.marks)

    def _draw_marks(self, painter: QPainter, theme: Theme, left: float) -> None:
        middle = self.height() / 2 - (_ABOUT_LIFT_PX if self._view.about else 0)  # beside the word, above the line
        for place, mark in enumerate(self._view.marks):
            draw_mark(painter, theme.ink2, mark, QPointF(left + 7 + place * _MARK_PX, middle))

    # ---- fingers

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() != Qt.MouseButton.LeftButton:
            super().mousePressEvent(event)
            return
        self._pressed_at = event.position()
        self._hold.start(LONG_PRESS_MS)
        if self._is_on_pips(event.position()):
            self._follow(self._pip_at(event.position()))
        self.set_down(is_down=True)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._pressed_at is None:
            return
        slid_px = event.position().x() - self._pressed_at.x()
        if abs(slid_px) > _SLIP_PX:
            self._hold.stop()
        if self._is_on_pips(self._pressed_at):
            self._follow(self._pip_at(event.position()))
        elif abs(slid_px) > _SLIP_PX or self._preview is not None:
            steps = round(slid_px / _SLIDE_PITCH_PX)
            self._follow(min(MOST, max(1, self._view.intensity + steps)))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._pressed_at is None:
            super().mouseReleaseEvent(event)
            return
        wanted = self._preview
        if wanted is None and self._view.is_carried:
            wanted = self._view.intensity  # a tap says: yes, still there, and as strong
        self._forget_finger()
        if wanted is not None:
            self.intensity_requested.emit(wanted)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        self._forget_finger()
        by_key = event.reason() == QContextMenuEvent.Reason.Keyboard
        self.marks_requested.emit(self.mapToGlobal(self.rect().center()) if by_key else event.globalPos())

    def _held(self) -> None:
        if self._pressed_at is None:
            return
        place = self.mapToGlobal(self._pressed_at.toPoint())
        self._forget_finger()
        self.marks_requested.emit(place)

    def _follow(self, intensity: int) -> None:
        self._preview = intensity
        self.update()

    def _forget_finger(self) -> None:
        self._hold.stop()
        self._pressed_at = None
        self._preview = None
        self.set_down(is_down=False)
        self.update()

    def _is_on_pips(self, point: QPointF) -> bool:
        left = self.width() - _PIPS_LEFT_PX - _PIP_PITCH_PX / 2
        return left <= point.x() < left + _PIP_PITCH_PX * (MOST + 0.5)

    def _pip_at(self, point: QPointF) -> int:
        place = (point.x() - (self.width() - _PIPS_LEFT_PX - 3)) // _PIP_PITCH_PX
        return min(MOST, max(1, int(place) + 1))

    # ---- keys

    def event(self, event: QEvent) -> bool:
        """Keep F1 from what surrounds the chip: here it asks what the word means."""
        is_key = event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent)
        if is_key and isinstance(event, QKeyEvent) and event.key() == Qt.Key.Key_F1:
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = event.key()
        if key == Qt.Key.Key_F1:
            self.meaning_requested.emit()
        elif Qt.Key.Key_0 <= key <= Qt.Key.Key_5 and not event.modifiers() & _COMMANDS:
            self.intensity_requested.emit(key - Qt.Key.Key_0)
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.removal_requested.emit()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._view.is_carried:
            self.intensity_requested.emit(self._view.intensity)
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        if self._pressed_at is not None:
            self._forget_finger()
        super().focusOutEvent(event)


def _font_for(word: str, weight: int, room: float) -> QFont:
    """Return the largest of a few sizes in which a word is whole."""
    sizes = (tokens().type_px.word, tokens().type_px.text, tokens().type_px.key)
    return paint.fitting(word, [sans(size, weight) for size in sizes], room)


_COMMANDS: Final = (
    Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier
)


def draw_mark(painter: QPainter, colour: QColor, mark: str, centre: QPointF) -> None:
    """Draw the small sign of a mark, 14 wide: a clock for late, a cloud for clouded, a wave for doubtful."""
    painter.setPen(paint.solid_pen(colour, 1.5, is_round=True))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath({"late": _clock, "clouded": _cloud, "doubtful": _wave}[mark]().translated(centre))


def _clock() -> QPainterPath:
    path = QPainterPath()
    path.addEllipse(QPointF(0, 0), 6.25, 6.25)
    path.moveTo(0, -3.5)
    path.lineTo(0, 0)
    path.lineTo(2.8, 1.6)
    return path


def _cloud() -> QPainterPath:
    path = QPainterPath(QPointF(-4.5, 4.5))
    path.cubicTo(-8.5, 4.5, -7.6, -1.2, -4, -0.6)
    path.cubicTo(-3.6, -5.6, 3, -6, 3.6, -1.4)
    path.cubicTo(8, -1.8, 8, 4.5, 4.5, 4.5)
    path.closeSubpath()
    return path


def _wave() -> QPainterPath:
    path = QPainterPath()
    for y in (-2.5, 2.5):
        path.moveTo(-6, y + 1)
        path.cubicTo(-3, y - 3.5, 2.5, y + 4.5, 6, y - 1)
    return path
