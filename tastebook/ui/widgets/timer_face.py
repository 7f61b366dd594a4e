"""The timer's digits and its bar. Both only draw: time is computed elsewhere."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QAccessible, QColor, QLinearGradient, QPainter, QPainterPath, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from tastebook.domain.steep import Phase
from tastebook.ui.theme.fonts import numerals, sans, serif
from tastebook.ui.theme.theme import Theme, Themes, faded
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.drawn import Drawn

_FACE_HEIGHT: Final = 224
_FACE_WIDTH: Final = 432
_LEAST_SCALE: Final = 0.5
"""Drawn smaller, the words of the face could not be read."""
_BAR_TOP: Final = 28
_NUMERAL_GAP_PX: Final = 15
_GOLD: Final = ((0.0, "#E9DDAF"), (0.5, "#E7C270"), (1.0, "#D89A33"))
"""The steep in the bar deepens as a liquor does: L*a*b* (88, -3, 24), (80, 3, 46), (68, 14, 60)."""


@dataclass(frozen=True)
class DigitsFace:
    """What the upper part of the timer says.

    Parameters
    ----------
    digits : str
        The large digits, such as `0:15` or `+0:07`.
    phase : Phase
        Decides colour and tint.
    title : str
        Which infusion, at the top left.
    word : str
        The phase in words, at the top right.
    below : str
        The other count, below the digits.
    plan : str
        The plan, below the digits at the right.
    """

    digits: str
    phase: Phase
    title: str = ""
    word: str = ""
    below: str = ""
    plan: str = ""


class DigitsView(Drawn):
    """Digits that can be read from two metres, in a face of 432 by 224 that grows with its widget.

    It fills the top of a card from edge to edge, since its tint does.
    """

    accessible_role = QAccessible.Role.Clock
    PAD: Final = 24

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self._face = DigitsFace("0:00", "ready")

    @property
    def face(self) -> DigitsFace:
        """Return what is shown."""
        return self._face

    def show_face(self, face: DigitsFace) -> None:
        """Show other digits, at once: a timer does not lag behind itself."""
        if face == self._face:
            return
        is_news = (face.phase, face.title, face.word) != (self._face.phase, self._face.title, self._face.word)
        self._face = face
        if is_news:
            self.setAccessibleName(", ".join(part for part in (face.title, face.word) if part))
            self.update()
            self.tell_changed()
        else:  # every second: the corners, and what lies behind them, stay as they are
            self.update(self.rect().adjusted(0, tokens().radius_px.card, 0, 0))

    def value_text(self) -> str:
        return ", ".join(part for part in (self._face.digits, self._face.below, self._face.plan) if part)

    def sizeHint(self) -> QSize:
        return QSize(_FACE_WIDTH, _FACE_HEIGHT)

    def minimumSizeHint(self) -> QSize:
        return QSize(240, 160)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        self._draw_tint(painter, theme)
        scale = min(self.width() / _FACE_WIDTH, self.height() / _FACE_HEIGHT)
        if scale < _LEAST_SCALE:
            self._draw_low(painter, theme)
            return
        painter.save()
        painter.scale(scale, scale)
        self._draw_words(painter, theme, self.width() / scale, self.height() / scale - _FACE_HEIGHT)
        painter.restore()

    def _draw_tint(self, painter: QPainter, theme: Theme) -> None:
        tint = {"lead": theme.accent_soft, "over": theme.alarm_soft}.get(self._face.phase)
        if tint is None:
            return
        inset = theme.card_line_px
        face = self.box().adjusted(inset, inset, -inset, 0)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(tint)
        painter.drawPath(_round_topped(face, tokens().radius_px.card - inset))

    def _draw_words(self, painter: QPainter, theme: Theme, width: float, spare: float) -> None:
        face, right = self._face, width - self.PAD
        type_px, weight = tokens().type_px, tokens().weight
        word = sans(type_px.word, weight.now)
        loud = theme.alarm if face.phase == "over" else theme.accent
        colour = theme.ink2 if face.phase == "ready" else loud
        paint.text(painter, right, 41, face.word, word, colour, "right")
        title = serif(type_px.heading, weight.serif_heading)
        room = right - self.PAD - paint.text_width(face.word, word) - 12
        paint.text(painter, self.PAD, 42, paint.elided(face.title, title, room), title, theme.ink)
        font = numerals(_digits_px(face.digits, round(width - 2 * self.PAD)))
        paint.text(painter, width / 2, 172 + spare / 2, face.digits, font, self._digits_colour(theme), "centre")
        below = sans(type_px.word) if face.phase == "ready" else sans(type_px.value, weight.label)
        paint.text(painter, self.PAD, 208 + spare, face.below, below, colour)
        paint.text(painter, right, 208 + spare, face.plan, sans(type_px.value), theme.ink2, "right")

    def _draw_low(self, painter: QPainter, theme: Theme) -> None:
        """Draw the words at a size that can be read, around digits that take what height there is."""
        face, right, bottom = self._face, self.width() - self.PAD, self.height() - 6
        loud = theme.alarm if face.phase == "over" else theme.accent
        colour = theme.ink2 if face.phase == "ready" else loud
        small, weight = sans(14), tokens().weight
        paint.text(painter, self.PAD, 24, face.title, serif(18, weight.serif_heading), theme.ink)
        paint.text(painter, right, 24, face.word, sans(16, weight.now), colour, "right")
        digits = numerals(min(_digits_px(face.digits, self.width() // 2), round(self.height() * 0.72)))
        paint.text(painter, self.width() / 2, bottom - 16, face.digits, digits, self._digits_colour(theme), "centre")
        paint.text(painter, self.PAD, bottom, face.below, small, colour)
        paint.text(painter, right, bottom, face.plan, small, theme.ink2, "right")

    def _digits_colour(self, theme: Theme) -> QColor:
        return {"over": theme.alarm, "ready": theme.ink2}.get(self._face.phase, theme.ink)


@dataclass(frozen=True)
class PourBarView:
    """What the bar shows.

    Parameters
    ----------
    plan_s : int
        Planned time in water.
    lead_s : int
        How long before the plan the pour is announced.
    elapsed_s : float or None
        Time in water so far, None before the water is on.
    over : bool
        Whether the steep is past its plan.
    earlier : tuple of (str, int)
        Earlier infusions and their seconds, oldest first.
    """

    plan_s: int
    lead_s: int = 0
    elapsed_s: float | None = None
    over: bool = False
    earlier: tuple[tuple[str, int], ...] = ()


class PourBar(Drawn):
    """All steeps of a session on one axis, 0 to 1.38 of the plan: gold is steep, hatch is the pour, red is over."""

    accessible_role = QAccessible.Role.ProgressBar
    PAD: Final = 24

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Time in water")
        self._view = PourBarView(plan_s=30)

    @property
    def view(self) -> PourBarView:
        """Return what is shown."""
        return self._view

    def show_view(self, view: PourBarView) -> None:
        """Show another moment."""
        if view != self._view:
            self._view = view
            self.update()

    def value_text(self) -> str:
        view = self._view
        now = "not begun" if view.elapsed_s is None else f"{int(view.elapsed_s)} s"
        before = ", ".join(f"infusion {name} {seconds} s" for name, seconds in view.earlier)
        return ", ".join(part for part in (now, f"plan {view.plan_s} s", before) if part)

    def sizeHint(self) -> QSize:
        return QSize(_FACE_WIDTH, 76)

    def minimumSizeHint(self) -> QSize:
        return QSize(240, 76)

    @property
    def _bar(self) -> QRectF:
        return QRectF(self.PAD, _BAR_TOP, self.width() - 2 * self.PAD, tokens().timer.bar_height)

    def _x(self, seconds: float) -> float:
        most_s = max(1.0, self._view.plan_s * tokens().timer.axis_max_over_plan)
        return self._bar.left() + self._bar.width() * min(max(0.0, seconds), most_s) / most_s

    def draw(self, painter: QPainter, theme: Theme) -> None:
        bar = self._bar
        line_px = 1.5 if theme.is_flat else 1.1
        radius = bar.height() / 2
        paint.rounded(painter, bar, radius, theme.sunken)
        painter.save()
        painter.setClipPath(paint.rounded_path(bar, radius))
        self._draw_lead(painter, theme, bar)
        self._draw_steep(painter, theme, bar)
        painter.restore()
        painter.setPen(paint.solid_pen(theme.outline, line_px))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(bar, radius, radius)
        self._draw_earlier(painter, theme, bar)
        self._draw_plan(painter, theme, bar)

    def _draw_lead(self, painter: QPainter, theme: Theme, bar: QRectF) -> None:
        left, right = self._x(self._view.plan_s - self._view.lead_s), self._x(self._view.plan_s)
        if right - left < 1:
            return
        zone = QRectF(left, bar.top(), right - left, bar.height())
        painter.fillRect(zone, faded(theme.accent, 0.28))
        painter.save()
        painter.setClipRect(zone, Qt.ClipOperation.IntersectClip)
        painter.setPen(paint.solid_pen(faded(theme.accent, 0.55), 1.25))
        for offset in range(-30, round(zone.width()) + 30, 6):
            foot = QPointF(zone.left() + offset, zone.bottom())
            painter.drawLine(foot, foot + QPointF(bar.height(), -bar.height()))
        painter.restore()

    def _draw_steep(self, painter: QPainter, theme: Theme, bar: QRectF) -> None:
        elapsed_s = self._view.elapsed_s
        if elapsed_s is None:
            return
        plan_x, now_x = self._x(self._view.plan_s), self._x(elapsed_s)
        gold = QLinearGradient(bar.left(), 0, plan_x, 0)
        for share, code in _GOLD:
            gold.setColorAt(share, QColor(code))
        painter.fillRect(QRectF(bar.left(), bar.top(), min(now_x, plan_x) - bar.left(), bar.height()), gold)
        if now_x > plan_x:
            painter.fillRect(QRectF(plan_x, bar.top(), now_x - plan_x, bar.height()), theme.alarm)
        head = theme.sunken if theme.is_dark else theme.ink
        painter.fillRect(QRectF(now_x - 2, bar.top(), 4, bar.height()), head)

    def _draw_earlier(self, painter: QPainter, theme: Theme, bar: QRectF) -> None:
        font = serif(tokens().type_px.text, tokens().weight.serif_value)
        painted: list[float] = []
        for name, seconds in reversed(self._view.earlier):  # where two would overlap, the newer one is written
            x = self._x(seconds)
            painter.setPen(paint.solid_pen(theme.outline, 1.5))
            painter.drawLine(QPointF(x, bar.top() - 7), QPointF(x, bar.top() - 1))
            if all(abs(x - other) >= _NUMERAL_GAP_PX for other in painted):
                painted.append(x)
                paint.text(painter, x, bar.top() - 11, name, font, theme.ink2, "centre")

    def _draw_plan(self, painter: QPainter, theme: Theme, bar: QRectF) -> None:
        view, font = self._view, sans(tokens().type_px.text, tokens().weight.label)
        plan_x, below = self._x(view.plan_s), bar.bottom() + 18
        painter.setPen(paint.solid_pen(theme.ink, 2.5))
        painter.drawLine(QPointF(plan_x, bar.top() - 6), QPointF(plan_x, bar.bottom() + 6))
        paint.text(painter, plan_x + 8, below, f"{view.plan_s} s", font, theme.ink)
        if not view.lead_s:
            return
        pour_x, tip = self._x(view.plan_s - view.lead_s), bar.bottom() + 1
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(theme.accent)
        triangle = [QPointF(pour_x, tip), QPointF(pour_x - 6, tip + 9), QPointF(pour_x + 6, tip + 9)]
        painter.drawPolygon(QPolygonF(triangle))
        words = f"pour from {max(0, view.plan_s - view.lead_s)} s"
        if pour_x - 10 - paint.text_width(words, font) >= 4:
            paint.text(painter, pour_x - 10, below, words, font, theme.accent, "right")


def _round_topped(box: QRectF, radius: float) -> QPainterPath:
    path = QPainterPath(QPointF(box.left(), box.bottom()))
    path.lineTo(box.left(), box.top() + radius)
    path.arcTo(QRectF(box.left(), box.top(), 2 * radius, 2 * radius), 180, -90)
    path.arcTo(QRectF(box.right() - 2 * radius, box.top(), 2 * radius, 2 * radius), 90, -90)
    path.lineTo(box.right(), box.bottom())
    path.closeSubpath()
    return path


@lru_cache(maxsize=256)
def _digits_px(digits: str, room: int) -> int:
    """Return the size of the digits: full, a little less beside a sign, and less where they would not fit."""
    wanted = tokens().type_px.timer if not digits.startswith(("+", "-", "−")) else 132
    # Measured on noughts, so that the size does not change from one second to the next.
    noughts = "".join("0" if sign.isdigit() else sign for sign in digits)
    width = paint.text_width(noughts, numerals(wanted))
    return wanted if width <= room else int(wanted * room / width)
