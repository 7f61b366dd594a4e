"""One step of the course, as a tab above the step card."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QAccessible, QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.drawn import Pressable

StepState: TypeAlias = Literal["todo", "now", "done", "late", "missed", "skipped"]

_TOLD: Final[Mapping[StepState, str]] = {
    "todo": "to do",
    "now": "now",
    "done": "done",
    "late": "noted late",
    "missed": "missed",
    "skipped": "skipped",
}


@dataclass(frozen=True)
class StepTabView:
    """What a tab shows. `is_open` says that the card below shows this step, whatever its state."""

    name: str
    caption: str = ""
    state: StepState = "todo"
    is_open: bool = False


class StepTab(Pressable):
    """A step by name and state, with a line below while its step is open.

    What it draws begins `PAD` from its left edge, so that the focus ring has room.
    """

    accessible_role = QAccessible.Role.PageTab
    least = QSize(120, 74)
    PAD: Final = 8

    def __init__(self, themes: Themes, view: StepTabView, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._view = view
        self._name_it()

    @property
    def view(self) -> StepTabView:
        """Return what is shown."""
        return self._view

    def minimumSizeHint(self) -> QSize:
        """Return the room in which the name is whole, in the smaller of its two sizes."""
        name_px = paint.text_width(self._view.name, sans(tokens().type_px.text, tokens().weight.now))
        return QSize(math.ceil(name_px) + self.PAD + 36 + 8 + 1, self.least.height())

    def show_view(self, view: StepTabView) -> None:
        """Show another name, caption or state."""
        if view != self._view:
            self._view = view
            self._name_it()
            self.updateGeometry()
            self.update()
            self.tell_changed()

    def _name_it(self) -> None:
        self.setAccessibleName(self._view.name)
        self.setToolTip(self._view.caption)

    def value_text(self) -> str:
        return ", ".join(part for part in (_TOLD[self._view.state], self._view.caption) if part)

    def accessible_states(self) -> Mapping[str, bool]:
        return {"selected": self._is_open, "selectable": True}

    @property
    def _is_open(self) -> bool:
        return self._view.is_open or self._view.state == "now"

    def draw(self, painter: QPainter, theme: Theme) -> None:
        if self.is_down:
            paint.rounded(painter, self._face(), tokens().radius_px.chip, theme.sunken)
        if self._is_open:
            bar = QRectF(self.PAD, 70, max(0, self.width() - 2 * self.PAD - 8), tokens().line_px.now)
            paint.rounded(painter, bar, 2, theme.accent)
        self._draw_sign(painter, theme, QPointF(self.PAD + 12, 40))
        self._draw_words(painter, theme)
        if self.hasFocus():
            paint.focus_ring(painter, theme, self._face(), tokens().radius_px.chip)

    def _face(self) -> QRectF:
        return QRectF(1, 12, self.width() - 2, 56)

    def _draw_words(self, painter: QPainter, theme: Theme) -> None:
        is_plain = not self._is_open and self._view.state not in ("done", "late")
        weight = tokens().weight.now if self._view.state == "now" else tokens().weight.label
        ink = theme.ink2 if is_plain and not self.is_hovered else theme.ink
        left, room = self.PAD + 36, self.width() - self.PAD - 36 - 8
        font = sans(tokens().type_px.word, weight)
        if paint.text_width(self._view.name, font) > room:
            font = sans(tokens().type_px.text, weight)
        baseline = 37 if self._view.caption else 45
        paint.text(painter, left, baseline, paint.elided(self._view.name, font, room), font, ink)
        small = sans(tokens().type_px.text)
        colour = theme.alarm if self._view.state == "missed" else theme.ink3
        paint.text(painter, left, 57, paint.elided(self._view.caption, small, room), small, colour)

    def _draw_sign(self, painter: QPainter, theme: Theme, centre: QPointF) -> None:
        {
            "todo": self._draw_ring,
            "now": self._draw_disc,
            "done": self._draw_tick,
            "late": self._draw_late,
            "missed": self._draw_missed,
            "skipped": self._draw_skipped,
        }[self._view.state](painter, theme, centre)

    def _draw_ring(self, painter: QPainter, theme: Theme, centre: QPointF) -> None:
        painter.setPen(paint.solid_pen(theme.outline, 1.75))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(centre, 11, 11)

    def _draw_disc(self, painter: QPainter, theme: Theme, centre: QPointF) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(theme.accent)
        painter.drawEllipse(centre, 12, 12)
        painter.setBrush(theme.on_accent)
        painter.drawEllipse(centre, 4.5, 4.5)

    def _draw_tick(self, painter: QPainter, theme: Theme, centre: QPointF) -> None:
        painter.setPen(paint.solid_pen(theme.accent, 1.75))
        painter.setBrush(theme.accent_soft)
        painter.drawEllipse(centre, 11, 11)
        paint.tick(painter, theme.accent, centre)

    def _draw_late(self, painter: QPainter, theme: Theme, centre: QPointF) -> None:
        painter.setPen(paint.dashed_pen(theme.ink2, 1.75, (2.2, 2)))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(centre, 11, 11)
        paint.tick(painter, theme.ink2, centre)

    def _draw_missed(self, painter: QPainter, theme: Theme, centre: QPointF) -> None:
        painter.setPen(paint.dashed_pen(theme.alarm, 1.75, (2.2, 2)))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(centre, 11, 11)
        paint.minus(painter, theme.alarm, centre, 4, 2.25)

    def _draw_skipped(self, painter: QPainter, theme: Theme, centre: QPointF) -> None:
        self._draw_ring(painter, theme, centre)
        painter.setPen(paint.solid_pen(theme.ink2, 2.25, is_round=True))
        painter.drawLine(centre + QPointF(-4, 4), centre + QPointF(4, -4))
