"""The chart of liquor colours, to look for a colour by."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QPointF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from tastebook.ui.sheet import Sheet
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.drawn import Pressable
from tastebook.ui.widgets.label import Label
from tastebook.ui.widgets.swatch_chart import Swatch, SwatchChart

SHEET_PX: Final = 620
ABOUT: Final = (
    "Cups whose liquor was noted near the swatch you choose are found. A screen shows colours only roughly: what is "
    "compared, by ΔE00, is the swatch with what was noted."
)
_SHOWN: Final = ("#E3C56C", "#C98A35", "#8A3D1E")


class SwatchesButton(Pressable):
    """Opens the chart."""

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setAccessibleName("Find by liquor colour")
        self.setToolTip("Find by liquor colour")
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        return QSize(56, tokens().target_px.min)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        paint.make_smooth(painter)
        box = self.box().adjusted(1, 1, -1, -1)
        ground = theme.sunken if self.is_down else theme.raised if self.is_hovered else None
        line = theme.accent if self.hasFocus() else theme.outline
        width = tokens().line_px.focus if self.hasFocus() else theme.control_line_px
        paint.rounded(painter, box, tokens().radius_px.control, ground, line, width)
        for place, colour in enumerate(_SHOWN):
            centre = QPointF(box.center().x() + (place - 1) * 11, box.center().y())
            painter.setPen(paint.solid_pen(theme.ink3, 1))
            painter.setBrush(QColor(colour))
            painter.drawEllipse(centre, 7.5, 7.5)
        painter.setBrush(Qt.BrushStyle.NoBrush)


class SwatchSheet(Sheet):
    """Asks which colour."""

    swatch_requested = Signal(int, int)

    def __init__(
        self, themes: Themes, swatches: tuple[tuple[tuple[str, str], ...], ...], parent: QWidget | None = None
    ) -> None:
        super().__init__(themes, "Liquor colour", SHEET_PX, parent)
        self._names = tuple(tuple(name for _, name in row) for row in swatches)
        rows = tuple(tuple(Swatch(colour, name) for colour, name in row) for row in swatches)
        self.chart = SwatchChart(themes, rows, name="Liquor colours")
        self._name = Label(themes, "", ink="ink")
        self._name.setMinimumHeight(24)
        self.body.addWidget(Label(themes, ABOUT, ink="ink2", wraps=True))
        self.body.addWidget(self.chart, 0, Qt.AlignmentFlag.AlignHCenter)
        self.body.addWidget(self._name, 0, Qt.AlignmentFlag.AlignHCenter)
        self.body.addStretch(1)
        self.chart.swatch_requested.connect(self._choose)
        self.chart.pointed.connect(self._say)

    def take_keyboard(self) -> None:
        self.chart.take_focus()

    def _say(self, row: int, column: int) -> None:
        self._name.setText(self._names[row][column] if row >= 0 else "")

    def _choose(self, row: int, column: int) -> None:
        self.close_sheet()
        self.swatch_requested.emit(row, column)
