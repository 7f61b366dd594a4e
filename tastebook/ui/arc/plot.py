"""The curves of the arc, drawn by pyqtgraph on a bare canvas whose units are the chart's own pixels."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import pyqtgraph as pg
from numpy.typing import NDArray
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QFrame, QWidget

Line = tuple[tuple[float, float], ...]

DOT_PX: Final = 8.0
UNCERTAIN_DOT_PX: Final = 9.5
DOT_LINE_PX: Final = 2.0
_DASHES: Final = (1.5, 0.9)
_RISEN_PX: Final = 0.3


@dataclass(frozen=True)
class Shape:
    """One row of the chart, in pixels of its body: curves from left to right, and a dot at every reading.

    `fill` goes down to `base`; None leaves the curve unfilled. A curve of one point is drawn as a stem from `base`.
    """

    colour: QColor
    line_px: float
    base: float
    curves: tuple[Line, ...]
    dots: Line
    uncertain: Line
    ground: QColor
    fill: QColor | None = None


class RidgePlot(pg.PlotWidget):  # type: ignore[misc]  # pyqtgraph has no types
    """A canvas without axes, margins or a mouse of its own. Close it before the program ends."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, background=None)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setStyleSheet("border: 0; background: transparent")
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAntialiasing(True)
        self._strip_bare()

    def _strip_bare(self) -> None:
        plot = self.getPlotItem()
        plot.hideAxis("left")
        plot.hideAxis("bottom")
        plot.hideButtons()
        plot.setContentsMargins(0, 0, 0, 0)
        plot.layout.setContentsMargins(0, 0, 0, 0)
        self.setMouseEnabled(False, False)
        self.setMenuEnabled(False)
        view_box = plot.getViewBox()
        view_box.setDefaultPadding(0)
        view_box.invertY(True)

    def show_part(self, part: QRectF) -> None:
        """Show a part of the chart's body; it must be as large as the widget."""
        self.getPlotItem().getViewBox().setRange(
            xRange=(part.left(), part.right()),
            yRange=(part.top(), part.bottom()),
            padding=0,
            disableAutoRange=True,
        )

    def show_shapes(self, shapes: Sequence[Shape]) -> None:
        """Draw these rows in place of what was drawn."""
        self.clear()
        for shape in shapes:
            for curve in shape.curves:
                self._add_curve(shape, curve)
        for shape in shapes:
            self._add_dots(shape)

    def _add_curve(self, shape: Shape, curve: Line) -> None:
        x, y = np.array(curve, dtype=np.float64).T
        if len(x) == 1:
            x, y = np.array([x[0], x[0]]), np.array([shape.base, y[0]])
            self._add_area(*_stem(x, y, shape.line_px), shape.colour)
            return
        if shape.fill is not None:
            ends = np.array([shape.base, shape.base])
            self._add_area(np.concatenate([x, x[[-1, 0]]]), np.concatenate([y, ends]), shape.fill)
            x, y = _risen(x, y, shape.base)
        # A wide line is drawn as the area it covers: pens are in device pixels here, and wide ones are slow.
        self._add_area(*_ribbon(x, y, shape.line_px), shape.colour)

    def _add_area(self, x: NDArray[np.float64], y: NDArray[np.float64], colour: QColor) -> None:
        area = pg.PlotCurveItem(x, y, pen=None, fillLevel="enclosed", brush=pg.mkBrush(colour), antialias=True)
        self.addItem(area)

    def _add_dots(self, shape: Shape) -> None:
        if shape.dots:
            self._add_spots(shape, shape.dots, DOT_PX, ())
        if shape.uncertain:
            self._add_spots(shape, shape.uncertain, UNCERTAIN_DOT_PX, _DASHES)

    def _add_spots(self, shape: Shape, spots: Line, size_px: float, dashes: tuple[float, ...]) -> None:
        x, y = zip(*spots, strict=True)
        pen = pg.mkPen(shape.colour, width=DOT_LINE_PX * self.devicePixelRatioF(), dash=dashes or None)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)  # square ends would fill the gaps of so short a dash
        brush = pg.mkBrush(shape.ground)
        self.addItem(pg.ScatterPlotItem(x, y, size=size_px, pen=pen, brush=brush, pxMode=True, antialias=True))


def _risen(
    x: NDArray[np.float64], y: NDArray[np.float64], base: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return a curve without ends that lie on its base: a line along the ground would say that there is something."""
    above = np.flatnonzero(base - y > _RISEN_PX)
    kept = slice(above[0], above[-1] + 1)
    return x[kept], y[kept]


def _ribbon(
    x: NDArray[np.float64], y: NDArray[np.float64], width_px: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the outline of a curve as wide as a pen would draw it."""
    slope = np.gradient(y, x)
    half = width_px / 2 * np.sqrt(1 + slope**2)
    return np.concatenate([x, x[::-1]]), np.concatenate([y - half, (y + half)[::-1]])


def _stem(
    x: NDArray[np.float64], y: NDArray[np.float64], width_px: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    half = width_px / 2
    return np.array([x[0] - half, x[0] + half, x[1] + half, x[1] - half]), y[[0, 0, 1, 1]]
