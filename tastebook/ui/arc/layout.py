"""Where everything stands on the arc's chart. All lengths are logical pixels.

Across: names at the left and words at the right stay; the infusions between them scroll. Down: the head with the
numbers of the infusions stays; rows, liquor, steeps and scales scroll below it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Final

HEAD_PX: Final = 34.0
"""Height of the head; the body begins below it."""

TOP_PX: Final = 10.0
"""Room above the first row: a strong family rises higher than its row."""

FOOT_PX: Final = 6.0
"""Room that stays free at the bottom."""

MARGIN_PX: Final = 24.0
NARROW_CARD_PX: Final = 860.0

LEAST_PITCH_PX: Final = 52.0
MOST_PITCH_PX: Final = 160.0
ROOMY_PITCH_PX: Final = 74.0
"""From here up a deviation fits beside its steep in figures; below, a small triangle stands for it."""

_PITCHES_PX: Final = ((34.0, 30.0), (41.0, 38.0), (58.0, 46.0))
"""Heights of a family's row and of a scale's: as tight as can be read, as designed, as loose as looks well."""

_EMPTY_PX: Final = 132.0
_LIQUOR_DROP_PX: Final = 42.0
_SCALES_DROP_PX: Final = 146.0
_AFTER_PX: Final = 20.0
_BESIDE_LAST_PX: Final = 20.0
_MOST_MORE_PX: Final = 96.0
"""How much earlier the words at the right may begin."""
SIDE_REACH_PX: Final = 28.0
"""How far a cup and its shadow reach beyond the first and the last infusion."""


@dataclass(frozen=True)
class ChartLayout:
    """The measures of one chart in one place.

    Parameters
    ----------
    width, height : float
        Of what is visible, head included.
    infusions, families, scales : int
        How many there are.
    """

    width: float
    height: float
    infusions: int
    families: int
    scales: int

    # -- across

    @cached_property
    def left(self) -> float:
        """Return where infusion 1 stands while nothing is scrolled."""
        return 152.0 if self.width < NARROW_CARD_PX else 168.0

    @cached_property
    def right(self) -> float:
        """Return how much room is kept at the right of the last infusion."""
        return 200.0 if self.width < NARROW_CARD_PX else 224.0

    @property
    def words_left(self) -> float:
        """Return where the words at the right begin: earlier where few infusions leave room."""
        usual = self.width - self.right + (44.0 if self.width < NARROW_CARD_PX else 56.0)
        last = self.across(max(1, self.infusions)) + SIDE_REACH_PX + _BESIDE_LAST_PX
        return min(usual, max(usual - _MOST_MORE_PX, last))

    @property
    def words_right(self) -> float:
        """Return where the words at the right end."""
        return self.width - MARGIN_PX

    @cached_property
    def span(self) -> float:
        """Return how far the last visible infusion stands from the first."""
        return max(LEAST_PITCH_PX, self.width - self.left - self.right)

    @cached_property
    def pitch(self) -> float:
        """Return the distance from one infusion to the next."""
        gaps = max(1, self.infusions - 1)
        return min(MOST_PITCH_PX, max(LEAST_PITCH_PX, self.span / gaps))

    @property
    def is_roomy(self) -> bool:
        """Say whether deviations fit beside their steeps in figures."""
        return self.pitch >= ROOMY_PITCH_PX

    @property
    def overflow_x(self) -> float:
        """Return how far the infusions can be scrolled sideways."""
        return max(0.0, self.pitch * (self.infusions - 1) - self.span)

    @property
    def window(self) -> tuple[float, float]:
        """Return from where to where infusions show."""
        return self.left - SIDE_REACH_PX, self.left + self.span + SIDE_REACH_PX

    def across(self, infusion: float) -> float:
        """Return where an infusion stands while nothing is scrolled."""
        return self.left + self.pitch * (infusion - 1)

    def infusion_at(self, x: float, scrolled: float) -> int:
        """Return the infusion nearest to `x`, 0 where there is none."""
        if not self.infusions or not self.window[0] <= x <= self.window[1]:
            return 0
        nearest = round((x + scrolled - self.left) / self.pitch) + 1
        is_near = abs(self.across(nearest) - scrolled - x) <= max(SIDE_REACH_PX, self.pitch / 2)
        return nearest if 1 <= nearest <= self.infusions and is_near else 0

    # -- down, from the top of the body

    @cached_property
    def pitches(self) -> tuple[float, float]:
        """Return the heights of a family's row and of a scale's: as loose as fits."""
        room = self.height - HEAD_PX
        for tight, loose in pairwise(_PITCHES_PX):
            least, most = self._total(*tight), self._total(*loose)
            if least < most and room < most:
                share = max(0.0, room - least) / (most - least)
                return _between(tight[0], loose[0], share), _between(tight[1], loose[1], share)
        return _PITCHES_PX[-1]

    @property
    def row(self) -> float:
        """Return the height of a family's row."""
        return self.pitches[0]

    @property
    def unit(self) -> float:
        """Return how high one point of strength stands; a strong family may rise into the row above it."""
        return min((self.row - 5.0) / 4.0, (self.row + 5.0) / 5.0)

    @property
    def scale_row(self) -> float:
        """Return the height of a scale's row."""
        return self.pitches[1]

    @property
    def scale_unit(self) -> float:
        """Return how high one point of a scale stands."""
        return (self.scale_row - 9.0) / 5.0

    @property
    def rows_end(self) -> float:
        """Return where the families end."""
        return TOP_PX + (self.row * self.families if self.families else _EMPTY_PX)

    @property
    def cup_line(self) -> float:
        """Return the height of the middles of the cups."""
        return self.rows_end + _LIQUOR_DROP_PX

    @property
    def cup_radius(self) -> float:
        """Return how large a cup is; where infusions stand close, it shrinks."""
        return min(23.0, self.pitch * 0.4)

    @property
    def steep_baseline(self) -> float:
        """Return the baseline of the steeps."""
        return self.cup_line + 54.0

    @property
    def scales_top(self) -> float:
        """Return where the scales begin."""
        return self.rows_end + _SCALES_DROP_PX

    @property
    def total(self) -> float:
        """Return the height of the whole body."""
        return self._total(self.row, self.scale_row)

    @property
    def overflow_y(self) -> float:
        """Return how far the body can be scrolled down."""
        return max(0.0, self.total - (self.height - HEAD_PX))

    def base(self, place: int) -> float:
        """Return the height of strength 0 in a family's row; the first row is 0."""
        return TOP_PX + (place + 1) * self.row - 4.0

    def scale_base(self, place: int) -> float:
        """Return the height of 0 in a scale's row; the first row is 0."""
        return self.scales_top + (place + 1) * self.scale_row - 3.0

    def row_at(self, y: float) -> int:
        """Return the row at a height of the body, families first, then scales; -1 where there is none."""
        if 0 <= y - TOP_PX < self.row * self.families:
            return int((y - TOP_PX) // self.row)
        below = y - self.scales_top
        if 0 <= below < self.scale_row * self.scales:
            return self.families + int(below // self.scale_row)
        return -1

    def extent(self, place: int) -> tuple[float, float]:
        """Return top and bottom of a row, families first, then scales."""
        if place < self.families:
            return TOP_PX + place * self.row, TOP_PX + (place + 1) * self.row
        top = self.scales_top + (place - self.families) * self.scale_row
        return top, top + self.scale_row

    def _total(self, row: float, scale_row: float) -> float:
        rows = row * self.families if self.families else _EMPTY_PX
        return TOP_PX + rows + _SCALES_DROP_PX + scale_row * self.scales + _AFTER_PX


def _between(least: float, most: float, share: float) -> float:
    return least + (most - least) * share
