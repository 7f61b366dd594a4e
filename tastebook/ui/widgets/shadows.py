"""The shadows of boxes: drawn once for each kind, then laid around a box of any size in eight pieces.

A shadow is many translucent outlines. Drawn anew for every picture, those of two cards and of one raised column took a
third of the time of a whole Bench.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPainterPath

from tastebook.ui.theme.theme import faded

_MIDDLE: Final = 2
"""The sides of a tile have a stretch of this many px between the corners, from which a side of any length is drawn."""


@dataclass(frozen=True)
class ShadowKind:
    """One kind of shadow, in logical px; `rgba` is its colour as a number."""

    rgba: int
    strength: float
    depth: int
    dy: float
    radius: float

    @property
    def corner(self) -> int:
        """Return how large a corner piece is: the rounding of the box, and how far the shadow reaches beyond it."""
        return self.beyond + math.ceil(self.radius) + 1

    @property
    def beyond(self) -> int:
        """Return how far the shadow reaches beyond the box at most."""
        return self.depth + math.ceil(abs(self.dy))


def cast(painter: QPainter, kind: ShadowKind, box: QRectF) -> None:
    """Draw the shadow around a box, to the nearest px; the box itself is left free."""
    place = QRectF(box.toRect())
    ratio = painter.device().devicePixelRatioF()
    is_small = min(place.width(), place.height()) < 2 * (kind.corner - kind.beyond)
    if is_small or not ratio.is_integer():  # between the px of a broken ratio, pieces would show their seams
        _draw_outlines(painter, kind, place)
        return
    tile = _tile(kind, ratio)
    around = place.adjusted(-kind.beyond, -kind.beyond, kind.beyond, kind.beyond)
    for target, source in _pieces(around, kind.corner):
        painter.drawImage(target, tile, QRectF(source.topLeft() * ratio, source.size() * ratio))


def _pieces(around: QRectF, corner: int) -> list[tuple[QRectF, QRectF]]:
    """Return where each piece goes and where it stands in the tile: corners and sides, not the middle."""
    side = 2 * corner + _MIDDLE
    columns = (
        (around.left(), corner, 0, corner),
        (around.left() + corner, around.width() - 2 * corner, corner, _MIDDLE),
        (around.right() - corner, corner, side - corner, corner),
    )
    rows = (
        (around.top(), corner, 0, corner),
        (around.top() + corner, around.height() - 2 * corner, corner, _MIDDLE),
        (around.bottom() - corner, corner, side - corner, corner),
    )
    return [
        (QRectF(x, y, width, height), QRectF(from_x, from_y, from_width, from_height))
        for column, (x, width, from_x, from_width) in enumerate(columns)
        for row, (y, height, from_y, from_height) in enumerate(rows)
        if (column, row) != (1, 1) and width > 0 and height > 0
    ]


@lru_cache(maxsize=24)
def _tile(kind: ShadowKind, ratio: float) -> QImage:
    """Return the shadow of the smallest box that has all eight pieces."""
    side = 2 * kind.corner + _MIDDLE
    tile = QImage(math.ceil(side * ratio), math.ceil(side * ratio), QImage.Format.Format_ARGB32_Premultiplied)
    tile.setDevicePixelRatio(ratio)
    tile.fill(Qt.GlobalColor.transparent)
    painter = QPainter(tile)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    inner = side - 2 * kind.beyond
    _draw_outlines(painter, kind, QRectF(kind.beyond, kind.beyond, inner, inner))
    painter.end()
    return tile


def _draw_outlines(painter: QPainter, kind: ShadowKind, box: QRectF) -> None:
    colour = QColor.fromRgba(kind.rgba)
    painter.setPen(Qt.PenStyle.NoPen)
    for reach in range(kind.depth, 0, -1):
        share = 2.2 * (1 - reach / (kind.depth + 1)) / kind.depth
        painter.setBrush(faded(colour, kind.strength * share))
        painter.drawPath(_fringe(box, kind.radius, reach, kind.dy))


def _fringe(box: QRectF, radius: float, reach: float, dy: float) -> QPainterPath:
    """Return what shows of an outline beside the box."""
    fringe = QPainterPath()
    fringe.addRoundedRect(
        box.adjusted(-reach, -reach, reach, reach).translated(QPointF(0, dy)), radius + reach, radius + reach
    )
    fringe.addRoundedRect(box.adjusted(1, 1, -1, -1), radius, radius)
    return fringe
