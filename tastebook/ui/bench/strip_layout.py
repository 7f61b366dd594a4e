"""Where the columns of the infusion strip stand, and how wide they are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QRectF

from tastebook.presenters.bench.views import BarView, ColumnView

GAP_PX: Final = 8
LEAST_CURRENT_PX: Final = 300
WIDEST_PX: Final = {"leaf": 152, "rinse": 144, "infusion": 200, "next": 224, "close": 112}
NARROWEST_PX: Final = {"leaf": 112, "rinse": 104, "infusion": 104, "next": 192, "close": 104}
LIVE_PX: Final = 216
"""The column in which leaf is in water now has more to say than those that are done."""
CURRENT_PX: Final = 432
NARROW_PX: Final = 140
"""A column narrower than this sets its cup smaller and its words closer."""


def column_widths(columns: Sequence[ColumnView], available_px: float) -> list[float]:
    """Return the width of each column, in logical px.

    Columns are as wide as they like while there is room. Then those that are done narrow together; the current one
    stays whole; what is left over goes to the next infusion. If even the narrowest do not fit, the strip scrolls.
    """
    current_px = CURRENT_PX if available_px >= 1200 else LEAST_CURRENT_PX
    widest = [_wish_px(column, WIDEST_PX[column.kind], current_px) for column in columns]
    narrowest = [_wish_px(column, NARROWEST_PX[column.kind], current_px) for column in columns]
    room = available_px - GAP_PX * (len(columns) - 1)
    if sum(widest) <= room:
        return _with_rest(columns, widest, room - sum(widest))
    spare, wish = room - sum(narrowest), sum(widest) - sum(narrowest)
    share = max(0.0, spare / wish) if wish else 0.0
    return [low + (high - low) * share for low, high in zip(narrowest, widest, strict=True)]


def _wish_px(column: ColumnView, width_px: int, current_px: int) -> float:
    if column.is_current:
        return float(current_px)
    return float(max(width_px, LIVE_PX) if column.live is not None else width_px)


def _with_rest(columns: Sequence[ColumnView], widths: list[float], rest: float) -> list[float]:
    """Return the widths with what is left over given to the next infusion, else to the last infusion."""
    places = [place for place, column in enumerate(columns) if column.kind == "next"]
    place = places[-1] if places else len(columns) - 2
    return [width + (rest if here == place else 0) for here, width in enumerate(widths)]


def column_rects(widths: Sequence[float], height_px: float) -> list[QRectF]:
    """Return the box of each column from the left edge of the strip; `height_px` is that of the panel."""
    rects, left = [], 0.0
    for width in widths:
        rects.append(QRectF(left, GAP_PX, width, height_px))
        left += width + GAP_PX
    return rects


@dataclass(frozen=True)
class Zone:
    """The vertical measures of the strip: aroma stands on `base`, cups stand at `cup`."""

    top: float
    base: float
    cup: float
    title: float
    point_px: float


def zone_of(height_px: float, columns: Sequence[ColumnView]) -> Zone:
    """Return the measures of a strip whose panel is `height_px` high.

    A point of strength is 6.2 px high; less when the fullest column would not fit.
    """
    top, base, cup = 58.0, height_px - 82, height_px - 43
    fullest = max((sum(bar.strength for bar in column.bars) for column in columns), default=0.0)
    point_px = min(6.2, (base - top) / fullest) if fullest else 6.2
    return Zone(top, base, cup, 40.0, point_px)


def stack_of(bars: Sequence[BarView], zone: Zone) -> dict[str, tuple[float, float]]:
    """Return top and bottom of each family's segment, from the base up."""
    stack, bottom = {}, zone.base
    for bar in bars:
        top = bottom - bar.strength * zone.point_px
        stack[bar.family] = (top, bottom)
        bottom = top
    return stack


def spread(centres: Sequence[float], least_px: float, top: float, bottom: float) -> list[float]:
    """Return label heights near `centres` (falling), at least `least_px` apart, within `top` and `bottom`.

    With the distances taken out, the heights have only not to rise: neighbours that would are brought to their mean.
    """
    groups: list[tuple[float, int]] = []
    for place, centre in enumerate(centres):
        mean, count = centre + place * least_px, 1
        while groups and groups[-1][0] < mean:
            earlier, members = groups.pop()
            mean, count = (earlier * members + mean * count) / (members + count), members + count
        groups.append((mean, count))
    least = top + (len(centres) - 1) * least_px
    levels = [min(max(mean, least), bottom) for mean, count in groups for _ in range(count)]
    return [level - place * least_px for place, level in enumerate(levels)]
