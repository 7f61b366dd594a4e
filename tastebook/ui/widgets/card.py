"""The card: a sheet that things lie on."""

from __future__ import annotations

from typing import Literal

from PySide6.QtCore import QRect, QRectF
from PySide6.QtGui import QAccessible, QMoveEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.drawn import REACH_PX, Drawn, paint_around_children


class Card(Drawn):
    """A rounded sheet with an edge. Its shadow is drawn by its parent (`Ground`, or `paint_around_children`)."""

    accessible_role = QAccessible.Role.Grouping

    def __init__(
        self,
        themes: Themes,
        parent: QWidget | None = None,
        *,
        fill: Literal["surface", "raised"] = "surface",
        lift: paint.Lift = "card",
        radius: float | None = None,
    ) -> None:
        super().__init__(themes, parent)
        self._fill = fill
        self._lift: paint.Lift = lift
        self._radius = tokens().radius_px.card if radius is None else radius

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        paint.make_smooth(painter)
        ground = self.theme.raised if self._fill == "raised" else self.theme.surface
        paint.card(painter, self.theme, self.box(), ground, self._radius)
        self.draw(painter, self.theme)
        paint_around_children(painter, self.theme, self, event.region())
        painter.end()

    def moveEvent(self, event: QMoveEvent) -> None:
        self._leave_no_shadow(QRect(event.oldPos(), self.size()))
        super().moveEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._leave_no_shadow(QRect(self.pos(), event.oldSize()))
        super().resizeEvent(event)

    def _leave_no_shadow(self, place_before: QRect) -> None:
        """Let the parent paint anew where the shadow fell and where it falls now."""
        parent = self.parentWidget()
        if parent is not None:
            for place in (place_before, self.geometry()):
                parent.update(place.adjusted(-REACH_PX, -REACH_PX, REACH_PX, REACH_PX))

    def draw(self, painter: QPainter, theme: Theme) -> None:
        """Draw what stands on the card itself, below its children: nothing, unless an heir does."""

    def draw_around(self, painter: QPainter, theme: Theme, place: QRectF) -> None:
        paint.shadow(painter, theme, place, self._radius, self._lift)
