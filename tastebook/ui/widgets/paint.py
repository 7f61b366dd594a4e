"""Small painters that every view shares. All lengths are logical pixels.

Each takes a `QPainter` and, where it needs colours, a `Theme`. Pen, brush and font are left changed, nothing else.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache, lru_cache
from typing import Final, Literal, TypeAlias

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QImage,
    QLinearGradient,
    QPainter,
    QPainterPath,
    QPen,
    QPolygonF,
)

from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Theme, faded, mixed, theme_named
from tastebook.ui.theme.tokens import ThemeName, tokens
from tastebook.ui.widgets.glyphs import BOX, outline_of
from tastebook.ui.widgets.shadows import ShadowKind, cast

Align: TypeAlias = Literal["left", "centre", "right"]
Lift: TypeAlias = Literal["card", "raised", "action"]
Fill: TypeAlias = QColor | QLinearGradient | None

KEYCAP_HEIGHT: Final = 24.0
_LIQUOR_SHARE: Final = 0.80
"""How much of a cup's radius the liquor takes; the rest is porcelain."""


def make_smooth(painter: QPainter) -> None:
    """Switch on antialiasing, as everything here expects."""
    painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)


# ---- lines and boxes


def solid_pen(colour: QColor, width: float, *, is_round: bool = False) -> QPen:
    """Return a pen; a round one has round ends and joins."""
    if not is_round:
        return QPen(colour, width)
    return QPen(colour, width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)


def dashed_pen(colour: QColor, width: float, dashes: Sequence[float] = (3, 3)) -> QPen:
    """Return a dashed pen; dashes and gaps are in units of its width."""
    pen = QPen(colour, width, Qt.PenStyle.CustomDashLine)
    pen.setDashPattern(list(dashes))
    return pen


def rounded(
    painter: QPainter,
    rect: QRectF,
    radius: float,
    fill: Fill = None,
    line: QColor | QPen | None = None,
    line_px: float = 1.0,
) -> None:
    """Draw a rounded box whose line lies wholly inside `rect`."""
    painter.setBrush(QBrush(fill) if fill is not None else QBrush(Qt.BrushStyle.NoBrush))
    if line is None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.drawRoundedRect(rect, radius, radius)
        return
    pen = line if isinstance(line, QPen) else QPen(line, line_px)
    half = pen.widthF() / 2
    painter.setPen(pen)
    painter.drawRoundedRect(rect.adjusted(half, half, -half, -half), radius - half, radius - half)


def rounded_path(rect: QRectF, radius: float) -> QPainterPath:
    """Return a rounded box as a path, to clip with."""
    path = QPainterPath()
    path.addRoundedRect(rect, radius, radius)
    return path


def shadow(painter: QPainter, theme: Theme, rect: QRectF, radius: float, lift: Lift = "card") -> None:
    """Draw the shadow that a box casts around itself; nothing where the theme is flat."""
    if theme.is_flat:
        return
    kind = tokens().shadows[lift]
    strength = kind.strength * (tokens().lamp_shadow_factor if theme.is_dark else 1)
    cast(painter, ShadowKind(theme.shadow.rgba(), strength, kind.depth, kind.dy, radius), rect)


def card(
    painter: QPainter, theme: Theme, rect: QRectF, fill: QColor | None = None, radius: float | None = None
) -> None:
    """Draw a card: ground and edge, without its shadow, which the parent paints."""
    corner = tokens().radius_px.card if radius is None else radius
    rounded(painter, rect, corner, fill or theme.surface, theme.card_line, theme.card_line_px)


def focus_ring(painter: QPainter, theme: Theme, rect: QRectF, radius: float, gap: float = 0.0) -> None:
    """Draw the ring that shows where the keyboard is: outside `rect` by `gap`, or inside it where `gap` is negative."""
    width = theme.focus_line_px
    grown = gap + width if gap > 0 else gap
    ring = rect.adjusted(-grown, -grown, grown, grown)
    rounded(painter, ring, max(2.0, radius + grown), None, theme.accent, width)


def chevron(painter: QPainter, colour: QColor, tip: QPointF, size: float = 7.0) -> None:
    """Draw the sign for going back, its tip at `tip`."""
    painter.setPen(solid_pen(colour, 2, is_round=True))
    painter.drawPolyline(QPolygonF([tip + QPointF(size, -size), tip, tip + QPointF(size, size)]))


def plus(painter: QPainter, colour: QColor, centre: QPointF, arm: float = 7.0, width: float = 2.5) -> None:
    """Draw a plus sign."""
    minus(painter, colour, centre, arm, width)
    painter.drawLine(centre + QPointF(0, -arm), centre + QPointF(0, arm))


def minus(painter: QPainter, colour: QColor, centre: QPointF, arm: float = 7.0, width: float = 2.5) -> None:
    """Draw a minus sign."""
    painter.setPen(solid_pen(colour, width, is_round=True))
    painter.drawLine(centre + QPointF(-arm, 0), centre + QPointF(arm, 0))


def tick(painter: QPainter, colour: QColor, centre: QPointF, width: float = 2.25) -> None:
    """Draw the sign for done, about 10 wide."""
    points = [QPointF(-4.5, 0.5), QPointF(-1, 4), QPointF(5, -4)]
    painter.setPen(solid_pen(colour, width, is_round=True))
    painter.drawPolyline(QPolygonF([centre + point for point in points]))


def triangle_up(painter: QPainter, colour: QColor, left_base: QPointF, width: float = 9.0, height: float = 8.0) -> None:
    """Draw the small sign for longer than planned."""
    _triangle(painter, colour, left_base, width, -height)


def triangle_down(
    painter: QPainter, colour: QColor, left_top: QPointF, width: float = 9.0, height: float = 8.0
) -> None:
    """Draw the small sign for shorter than planned."""
    _triangle(painter, colour, left_top, width, height)


def _triangle(painter: QPainter, colour: QColor, corner: QPointF, width: float, rise: float) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    painter.drawPolygon(QPolygonF([corner, corner + QPointF(width / 2, rise), corner + QPointF(width, 0)]))


# ---- words


def text(
    painter: QPainter, x: float, baseline: float, words: str, font: QFont, colour: QColor, align: Align = "left"
) -> float:
    """Write `words` with their baseline at `baseline`, and return the x at which they end."""
    width = text_width(words, font)
    left = x - {"left": 0.0, "centre": width / 2, "right": width}[align]
    painter.setFont(font)
    painter.setPen(colour)
    painter.drawText(QPointF(left, baseline), words)
    return left + width


def text_width(words: str, font: QFont) -> float:
    """Return how wide `words` are."""
    return QFontMetricsF(font).horizontalAdvance(words)


def elided(words: str, font: QFont, width: float) -> str:
    """Return `words`, ended with … where they are wider than `width`."""
    return QFontMetricsF(font).elidedText(words, Qt.TextElideMode.ElideRight, max(0.0, width))


def fitting(words: str, fonts: Sequence[QFont], width: float) -> QFont:
    """Return the first of `fonts` in which `words` are no wider than `width`, else the last."""
    return next((font for font in fonts if text_width(words, font) <= width), fonts[-1])


def paragraph(painter: QPainter, rect: QRectF, words: str, font: QFont, colour: QColor) -> float:
    """Write `words` from the top left of `rect`, broken into lines, and return the height they take."""
    painter.setFont(font)
    painter.setPen(colour)
    flags = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop
    return painter.drawText(rect, int(flags), words).height()


def paragraph_height(width: float, words: str, font: QFont) -> float:
    """Return how high `words` stand when broken into lines of `width`."""
    flags = int(Qt.TextFlag.TextWordWrap)
    return QFontMetricsF(font).boundingRect(QRectF(0, 0, width, 1e5), flags, words).height()


# ---- the trade's own signs


def glyph(
    painter: QPainter, theme: Theme, family: str, left: float, top: float, size: float, colour: QColor | None = None
) -> None:
    """Draw a family's glyph in a square box, in the family's colour unless another is given."""
    painter.save()
    painter.translate(left, top)
    painter.scale(size / BOX, size / BOX)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour or theme.family(family))
    painter.drawPath(outline_of(family))
    painter.restore()


def pips_width(diameter: float = 12.0, gap: float = 6.0) -> float:
    """Return how wide a row of five pips is."""
    return 5 * diameter + 4 * gap


def pips(
    painter: QPainter,
    theme: Theme,
    left: float,
    centre_y: float,
    count: int,
    colour: QColor,
    *,
    diameter: float = 12.0,
    gap: float = 6.0,
    is_carried: bool = False,
) -> None:
    """Draw five pips of which `count` are filled; carried ones are ringed, for what was noted earlier."""
    for place in range(5):
        pip = QRectF(left + place * (diameter + gap), centre_y - diameter / 2, diameter, diameter)
        if place >= count:
            painter.setPen(QPen(theme.outline, 1.25))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            pip.adjust(2, 2, -2, -2)
        elif is_carried:
            painter.setPen(QPen(colour, 1.75))
            painter.setBrush(faded(colour, tokens().alpha.carried_pip_fill))
            pip.adjust(0.9, 0.9, -0.9, -0.9)
        else:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(colour)
        painter.drawEllipse(pip)


def keycap_width(key: str, px: int = 14) -> float:
    """Return how wide the picture of a key is."""
    return max(KEYCAP_HEIGHT, text_width(key, sans(px, 600)) + 14)


def keycap(
    painter: QPainter,
    theme: Theme,
    left: float,
    top: float,
    key: str,
    ink: QColor | None = None,
    fill: QColor | None = None,
    px: int = 14,
) -> float:
    """Draw the picture of a key, 24 high, and return the x at which it ends. `ink` draws line and letters alike."""
    box = QRectF(left, top, keycap_width(key, px), KEYCAP_HEIGHT)
    rounded(painter, box, tokens().radius_px.key, fill, ink or theme.outline, 1.25)
    text(painter, box.center().x(), top + 16.5, key, sans(px, 600), ink or theme.ink2, "centre")
    return box.right()


def cup(
    painter: QPainter, theme: Theme, centre: QPointF, radius: float, liquor: QColor, *, is_leaf: bool = False
) -> None:
    """Draw a porcelain cup seen from above, to the nearest px.

    The middle is `liquor`, flat and opaque, so that it can be compared; gloss stays on the rim. With `is_leaf` the cup
    holds leaves of about that colour instead.
    """
    picture = _cup(theme.name, radius, liquor.rgb(), is_leaf, painter.device().devicePixelRatioF())
    half = picture.width() / picture.devicePixelRatioF() / 2
    painter.drawImage(QPointF(round(centre.x() - half), round(centre.y() - half)), picture)


@lru_cache(maxsize=128)
def _cup(name: ThemeName, radius: float, rgb: int, is_leaf: bool, ratio: float) -> QImage:
    """Return the picture of a cup: a strip of ten was half of what painting it cost."""
    side = math.ceil(2 * radius) + 12
    picture = QImage(math.ceil(side * ratio), math.ceil(side * ratio), QImage.Format.Format_ARGB32_Premultiplied)
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    make_smooth(painter)
    _draw_cup(painter, theme_named(name), QPointF(side / 2, side / 2), radius, QColor.fromRgb(rgb), is_leaf=is_leaf)
    painter.end()
    return picture


def _draw_cup(
    painter: QPainter, theme: Theme, centre: QPointF, radius: float, liquor: QColor, *, is_leaf: bool
) -> None:
    _porcelain(painter, theme, centre, radius)
    inner = radius * _LIQUOR_SHARE
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(liquor)
    painter.drawEllipse(centre, inner, inner)
    if is_leaf:
        _leaves(painter, centre, inner, radius, liquor)
    else:
        _liquor_edge(painter, centre, inner, radius, liquor)


def empty_cup(painter: QPainter, theme: Theme, centre: QPointF, radius: float) -> None:
    """Draw the place of a cup that is still to come."""
    painter.setPen(dashed_pen(theme.outline, 1.5))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(centre, radius - 1, radius - 1)


def _porcelain(painter: QPainter, theme: Theme, centre: QPointF, radius: float) -> None:
    if not theme.is_flat:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(faded(theme.shadow, 0.06 if theme.is_dark else 0.03))
        for ring in range(6, 0, -1):
            painter.drawEllipse(centre + QPointF(0, 2), radius + ring * 0.6, radius + ring * 0.6)
    glaze = QLinearGradient(centre - QPointF(0, radius), centre + QPointF(0, radius))
    glaze.setColorAt(0, theme.porcelain)
    glaze.setColorAt(1, mixed(theme.porcelain, theme.porcelain_edge, 0.22))
    painter.setBrush(glaze)
    painter.setPen(QPen(theme.porcelain_edge, 1.75 if theme.is_flat else 1.25))
    painter.drawEllipse(centre, radius - 0.6, radius - 0.6)


def _liquor_edge(painter: QPainter, centre: QPointF, inner: float, radius: float, liquor: QColor) -> None:
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(deeper(liquor), max(1.0, radius * 0.055)))
    painter.drawEllipse(centre, inner - radius * 0.02, inner - radius * 0.02)
    gloss = inner * 0.86
    painter.setPen(solid_pen(QColor(255, 255, 255, 120), max(1.0, radius * 0.06), is_round=True))
    painter.drawArc(QRectF(centre.x() - gloss, centre.y() - gloss, 2 * gloss, 2 * gloss), 118 * 16, 46 * 16)


def deeper(liquor: QColor) -> QColor:
    """Return how a liquor looks at the wall of the cup: half as deep again (channels to the power 1.5), and shaded."""
    red, green, blue = (0.88 * share**1.5 for share in (liquor.redF(), liquor.greenF(), liquor.blueF()))
    return QColor.fromRgbF(red, green, blue)


def _leaves(painter: QPainter, centre: QPointF, inner: float, radius: float, colour: QColor) -> None:
    painter.save()
    bed = QPainterPath()
    bed.addEllipse(centre, inner, inner)
    painter.setClipPath(bed)
    leaf = QRectF(-radius * 0.17, -radius * 0.10, radius * 0.34, radius * 0.20)
    for x, y, turn_deg, shade in _scatter(int(26 + radius * 0.4)):
        painter.save()
        painter.setBrush(colour.lighter(shade) if shade >= 100 else colour.darker(10_000 // shade))
        painter.translate(centre.x() + inner * x, centre.y() + inner * y)
        painter.rotate(turn_deg)
        painter.drawRoundedRect(leaf, radius * 0.1, radius * 0.1)
        painter.restore()
    painter.restore()


@cache
def _scatter(count: int) -> tuple[tuple[float, float, float, int], ...]:
    """Return places in the unit disc, evenly spread like seeds in a flower head, with a turn and a shade in percent."""
    places = []
    for seed in range(count):
        # Drawn out of order, and with quadratic turns and shades: otherwise the leaves fall into visible spirals.
        rank = seed * 7 % count if count % 7 else seed
        reach, angle = math.sqrt((rank + 0.5) / count), rank * 2.399963
        turn_deg, shade = rank * (rank * 13 + 67) % 180, 74 + rank * (rank * 31 + 17) % 78
        places.append((reach * math.cos(angle), reach * math.sin(angle), float(turn_deg), shade))
    return tuple(places)
