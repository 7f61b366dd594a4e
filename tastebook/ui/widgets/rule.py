"""A hairline between two parts."""

from __future__ import annotations

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.drawn import Drawn


class Rule(Drawn):
    """A line across, as decoration: it tells nothing that is not told otherwise."""

    def __init__(self, themes: Themes, parent: QWidget | None = None, *, inset_px: int = 24) -> None:
        super().__init__(themes, parent)
        self._inset_px = inset_px
        self.setFixedHeight(1)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        painter.setPen(paint.solid_pen(theme.hairline, 1))
        painter.drawLine(QPointF(self._inset_px, 0.5), QPointF(self.width() - self._inset_px, 0.5))
