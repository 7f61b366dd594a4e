"""The outlines of the twelve family glyphs, each in a box of 16 by 16 units."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainterPath, QPolygonF, QTransform

BOX: Final = 16.0
_MIDDLE: Final = QPointF(8, 8)


@cache
def outline_of(family: str) -> QPainterPath:
    """Return the outline of a family's glyph; a family of the user's own gets a plain disc."""
    return _OUTLINES.get(family, _disc)()


def _path() -> QPainterPath:
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.WindingFill)
    return path


def _ellipse(centre: QPointF, rx: float, ry: float) -> QPainterPath:
    path = _path()
    path.addEllipse(centre, rx, ry)
    return path


def _bar(left: float, top: float, width: float, height: float) -> QPainterPath:
    path = _path()
    round_px = min(width, height) / 2
    path.addRoundedRect(QRectF(left, top, width, height), round_px, round_px)
    return path


def _polygon(*points: tuple[float, float]) -> QPainterPath:
    path = _path()
    path.addPolygon(QPolygonF([QPointF(x, y) for x, y in points]))
    path.closeSubpath()
    return path


def _hexagon(radius: float) -> QPainterPath:
    angles = [math.radians(60 * corner - 90) for corner in range(6)]
    return _polygon(*((8 + radius * math.cos(angle), 8 + radius * math.sin(angle)) for angle in angles))


def _curves(start: tuple[float, float], *curves: tuple[float, float, float, float, float, float]) -> QPainterPath:
    path = _path()
    path.moveTo(*start)
    for curve in curves:
        path.cubicTo(*curve)
    return path


def _disc() -> QPainterPath:
    return _ellipse(_MIDDLE, 5, 5)


def _five_petals() -> QPainterPath:
    petals = _path()
    for petal in range(5):
        angle = math.radians(72 * petal - 90)
        petals.addEllipse(QPointF(8 + 4 * math.cos(angle), 8 + 4 * math.sin(angle)), 2.9, 2.9)
    return petals.simplified().subtracted(_ellipse(_MIDDLE, 1.7, 1.7))


def _fruit_with_leaf() -> QPainterPath:
    leaf = _path()
    leaf.moveTo(8, 4.8)
    leaf.quadTo(8.6, 0.8, 13, 0.8)
    leaf.quadTo(12.6, 4.6, 8, 4.8)
    fruit = _ellipse(QPointF(8, 9.6), 5.6, 5.4).subtracted(_ellipse(QPointF(8, 3.6), 1.5, 1.7))
    return fruit.united(leaf)


def _eight_ray_star() -> QPainterPath:
    star = _path()
    for ray in range(4):
        turn = QTransform().translate(8, 8).rotate(45 * ray)
        star = star.united(turn.map(_bar(-1.25, -7.2, 2.5, 14.4)))
    return star


def _honey_cell() -> QPainterPath:
    return _hexagon(7).subtracted(_hexagon(3.1))


def _kernel_with_seam() -> QPainterPath:
    kernel = _curves((8, 0.8), (13.8, 4.4, 13.8, 11.6, 8, 15.2), (2.2, 11.6, 2.2, 4.4, 8, 0.8))
    return kernel.subtracted(_bar(7.2, 4.2, 1.6, 7.6))


def _leaf_blade() -> QPainterPath:
    blade = _curves((1.4, 14.6), (0.6, 6, 5, 1.4, 14.8, 1.2), (15, 10.4, 10.6, 15.2, 3.6, 13.4))
    blade.closeSubpath()
    return blade.subtracted(_polygon((3, 13.6), (10.6, 5), (11.2, 5.6), (4, 14)))


def _sprig() -> QPainterPath:
    sprig = _bar(7.3, 2, 1.4, 13.6)
    sprig.addEllipse(QPointF(8, 2.8), 2.2, 2.2)
    for y in (6.4, 11):
        sprig.addEllipse(QPointF(4.4, y), 2.7, 1.7)
        sprig.addEllipse(QPointF(11.6, y), 2.7, 1.7)
    return sprig.simplified()


def _cut_stone() -> QPainterPath:
    stone = _polygon((8, 0.6), (14.6, 8), (8, 15.4), (1.4, 8))
    return stone.subtracted(_polygon((8, 4.2), (8.9, 8), (8, 11.8), (4.6, 8)))


def _drop() -> QPainterPath:
    return _curves(
        (8, 0.8),
        (9.5, 4.6, 13.6, 7, 13.6, 10.4),
        (13.6, 13.4, 11, 15.4, 8, 15.4),
        (5, 15.4, 2.4, 13.4, 2.4, 10.4),
        (2.4, 7, 6.5, 4.6, 8, 0.8),
    )


def _end_grain() -> QPainterPath:
    ring = _ellipse(_MIDDLE, 7, 7).subtracted(_ellipse(_MIDDLE, 5.1, 5.1))
    return ring.united(_ellipse(_MIDDLE, 2.7, 2.7))


def _flame() -> QPainterPath:
    flame = _curves(
        (8.6, 0.6),
        (9, 4, 13.4, 6, 13.4, 10.4),
        (13.4, 13.6, 10.8, 15.4, 8, 15.4),
        (5, 15.4, 2.6, 13.4, 2.6, 10.4),
        (2.6, 8.2, 3.8, 6.8, 4.8, 5.6),
        (5, 7, 5.6, 7.8, 6.6, 8.2),
        (6, 5, 7, 2.6, 8.6, 0.6),
    )
    heart = _curves(
        (8.2, 9.4), (9.8, 10.8, 10.2, 12, 9.6, 13.4), (8.6, 14.6, 6.6, 14, 6.4, 12.4), (6.4, 11.2, 7.6, 10.8, 8.2, 9.4)
    )
    return flame.subtracted(heart)


def _layers() -> QPainterPath:
    layers = _bar(4.6, 2.2, 6.8, 2.9)
    layers.addPath(_bar(2.6, 6.6, 10.8, 2.9))
    layers.addPath(_bar(0.8, 11, 14.4, 2.9))
    return layers


_OUTLINES: Final[dict[str, Callable[[], QPainterPath]]] = {
    "floral": _five_petals,
    "fruity": _fruit_with_leaf,
    "spicy": _eight_ray_star,
    "sweet": _honey_cell,
    "nutty": _kernel_with_seam,
    "vegetal": _leaf_blade,
    "herbal": _sprig,
    "mineral": _cut_stone,
    "milky": _drop,
    "woody": _end_grain,
    "roasted": _flame,
    "earthy": _layers,
}
