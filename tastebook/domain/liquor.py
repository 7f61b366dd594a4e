"""The colour of the liquor: a chart to hold the cup against, names for what is seen, words for what changed.

A screen shows a swatch only roughly as a cup looks, and every screen differs, so the chart is illustrative: it serves
to compare one cup with the next on the same screen.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Final, Literal, TypeAlias

from tastebook.domain.colour import delta_e00, in_gamut
from tastebook.domain.errors import QuantityError
from tastebook.domain.session import Lab

# The region of CIELAB that liquors occupy. One row for each depth, pale at the top. Along a row the hue runs from green
# to red. It also bends towards red as L* falls, as liquors do: an equal range of hue in every row would give pale pinks
# and neon greens that no tea has. Chosen by eye, no source.
_ROWS_L: Final = (91, 84, 75, 64, 50, 35)
_COLUMNS: Final = 10
_FIRST_HUE_DEG: Final = (111, 108, 104, 98, 92, 82)
_HUE_STEP_DEG: Final = (-3.0, -3.4, -4.0, -4.5, -5.1, -4.7)
_FIRST_CHROMA: Final = (20, 37, 50, 49, 40, 27)
_CHROMA_STEP: Final = (0.3, 0.7, 1.0, 1.2, 1.4, 1.1)
_CHROMA_BACK: Final = 0.5

# Every swatch has a name of its own, so that its place can be told without seeing it. GB/T 14487 names these liquor
# colours (pairs seen): yellowish green, greenish yellow, pale yellow, clear yellow, golden, deep yellow, orange yellow,
# orange red, dark red; apricot yellow is from memory. The others are plain English between them, ours.
_NAMES: Final = (
    (
        "pale yellowish green", "pale greenish yellow", "pale straw green", "pale straw", "pale yellow",
        "pale ivory", "pale cream", "pale buff", "pale apricot", "pale peach",
    ),
    (
        "yellowish green", "greenish yellow", "straw green", "straw yellow", "clear yellow",
        "light gold", "light honey", "apricot yellow", "light apricot", "light orange",
    ),
    (
        "light olive", "olive gold", "green gold", "deep straw", "golden yellow",
        "golden", "amber gold", "honey gold", "orange yellow", "apricot orange",
    ),
    (
        "olive", "deep olive gold", "deep green gold", "deep yellow", "deep gold",
        "amber", "deep honey", "orange amber", "deep orange", "light orange red",
    ),
    (
        "dark olive", "olive brown", "bronze", "golden brown", "deep amber",
        "brown amber", "copper", "orange red", "copper red", "amber red",
    ),
    (
        "dark olive brown", "peat brown", "dark brown", "walnut brown", "chestnut brown",
        "dark chestnut", "mahogany", "dark russet", "dark copper red", "dark red",
    ),
)  # fmt: skip

_NEARLY_WATER_L: Final = 96.0
_NEARLY_BLACK_L: Final = 26.0

SEEN_E00: Final = 0.8
"""Half of all observers see a difference from here up.

Paravina et al. (2015), J. Esthet. Restor. Dent. 27:S1-S9, 50:50 % perceptibility, found on dental ceramics.
"""

ACCEPTED_E00: Final = 1.8
"""Half of all observers would still accept a difference up to here (the same study, 50:50 % acceptability)."""

MUCH_E00: Final = 12.0
"""From here up it is `much` and no longer `a shade`: about a row of the dark end of the chart. Ours, no source."""

Extent: TypeAlias = Literal["no visible change", "barely", "a shade", "much"]


@cache
def chart() -> tuple[tuple[Lab, ...], ...]:
    """Return the swatches, pale rows first, greener columns first; all inside sRGB."""
    return tuple(tuple(_swatch(row, column) for column in range(_COLUMNS)) for row in range(len(_ROWS_L)))


def _swatch(row: int, column: int) -> Lab:
    hue = math.radians(_FIRST_HUE_DEG[row] + column * _HUE_STEP_DEG[row])
    chroma = _FIRST_CHROMA[row] + column * _CHROMA_STEP[row]
    while not in_gamut(_polar(_ROWS_L[row], chroma, hue)):
        chroma -= _CHROMA_BACK
    return _polar(_ROWS_L[row], chroma, hue)


def _polar(lightness: float, chroma: float, hue_rad: float) -> Lab:
    return (float(lightness), round(chroma * math.cos(hue_rad), 3), round(chroma * math.sin(hue_rad), 3))


@cache
def nearest_swatch(lab: Lab) -> tuple[int, int]:
    """Return row and column of the swatch that differs least by ΔE00."""
    places = ((row, column) for row, swatches in enumerate(chart()) for column in range(len(swatches)))
    return min(places, key=lambda place: delta_e00(lab, chart()[place[0]][place[1]]))


def swatch_name(row: int, column: int) -> str:
    """Return the name of one swatch; no two share one."""
    return _NAMES[row][column]


def swatch_names() -> tuple[str, ...]:
    """Return every swatch's name, row by row."""
    return tuple(name for names in _NAMES for name in names)


def swatch_called(words: str) -> Lab | None:
    """Return the colour of the swatch that is called `words`, whatever the case; None if none is."""
    wanted = " ".join(words.casefold().split())
    for row, names in enumerate(_NAMES):
        if wanted in names:
            return chart()[row][names.index(wanted)]
    return None


def colour_name(lab: Lab) -> str:
    """Return a liquor colour in words, such as `amber gold`: the name of the nearest swatch.

    Liquors paler or darker than the chart reaches are said to be so.
    """
    if lab[0] >= _NEARLY_WATER_L:
        return "almost colourless"
    name = swatch_name(*nearest_swatch(lab))
    return f"near-black {name}" if lab[0] <= _NEARLY_BLACK_L else name


def can_adjust(lab: Lab, d_l: float = 0, d_a: float = 0, d_b: float = 0) -> bool:
    """Say whether a colour moved so far is still one that a screen can show."""
    return in_gamut(_moved(lab, d_l, d_a, d_b))


def adjusted(lab: Lab, d_l: float = 0, d_a: float = 0, d_b: float = 0) -> Lab:
    """Return a colour moved a little from a swatch.

    Raises
    ------
    QuantityError
        If no screen can show it, since it could then no longer be compared with the cup. Ask `can_adjust` first.
    """
    moved = _moved(lab, d_l, d_a, d_b)
    if in_gamut(moved):
        return moved
    lightness, a, b = moved
    raise QuantityError(
        f"No screen can show L* {lightness:.0f}, a* {a:.0f}, b* {b:.0f}: go back a step, or start from another swatch."
    )


def _moved(lab: Lab, d_l: float, d_a: float, d_b: float) -> Lab:
    # Rounded, or twenty steps there and back would end beside where they began.
    return (round(lab[0] + d_l, 3), round(lab[1] + d_a, 3), round(lab[2] + d_b, 3))


@dataclass(frozen=True)
class ColourChange:
    """How one liquor differs from an earlier one.

    `directions` holds at most two words, depth first; none where nothing can be seen.
    """

    delta_e: float
    d_l: float
    d_a: float
    d_b: float
    extent: Extent
    directions: tuple[str, ...]

    @property
    def words(self) -> str:
        """Return the change in words, such as `a shade deeper, redder`."""
        return f"{self.extent} {', '.join(self.directions)}" if self.directions else self.extent

    def since(self, earlier: str) -> str:
        """Return the change with what it is measured from, such as `a shade deeper than 2`."""
        return f"{self.words} {'than' if self.directions else 'since'} {earlier}"


def change(lab_from: Lab, lab_to: Lab) -> ColourChange:
    """Return how a liquor changed from one infusion to another."""
    delta_e = delta_e00(lab_from, lab_to)
    extent = _extent(delta_e)
    d_l, d_a, d_b = (after - before for before, after in zip(lab_from, lab_to, strict=True))
    directions = () if extent == "no visible change" else _directions(lab_from, lab_to)
    return ColourChange(delta_e, d_l, d_a, d_b, extent, directions)


def change_words(lab_from: Lab, lab_to: Lab) -> str:
    """Return how a liquor changed, in words."""
    return change(lab_from, lab_to).words


def _extent(delta_e: float) -> Extent:
    if delta_e < SEEN_E00:
        return "no visible change"
    if delta_e <= ACCEPTED_E00:
        return "barely"
    return "a shade" if delta_e < MUCH_E00 else "much"


def _directions(lab_from: Lab, lab_to: Lab) -> tuple[str, ...]:
    """Name each of L*, a*, b* whose own change could be seen alone (the greatest if none could), two at most.

    Depth comes first where it can be seen, as one speaks of liquor; then the greater change.
    """
    alone_e00 = [_alone_e00(lab_from, lab_to, axis) for axis in range(3)]
    greatest_first = sorted(range(3), key=lambda axis: (axis != 0, -alone_e00[axis]))
    seen = [axis for axis in greatest_first if alone_e00[axis] >= SEEN_E00]
    named = seen[:2] or [alone_e00.index(max(alone_e00))]
    return tuple(_AXIS_WORDS[axis](lab_from[axis], lab_to[axis]) for axis in named)


def _alone_e00(lab_from: Lab, lab_to: Lab, axis: int) -> float:
    """Return the difference that one coordinate's change makes by itself."""
    lightness, a, b = (lab_to[one] if one == axis else lab_from[one] for one in range(3))
    return delta_e00(lab_from, (lightness, a, b))


def _lightness_word(before: float, after: float) -> str:
    return "lighter" if after > before else "deeper"


def _red_word(before: float, after: float) -> str:
    if after > before:
        return "redder" if after > 0 else "less green"
    return "greener" if after < 0 else "less red"


def _yellow_word(before: float, after: float) -> str:
    if after > before:
        return "yellower" if after > 0 else "less blue"
    return "bluer" if after < 0 else "less yellow"


_AXIS_WORDS: Final[tuple[Callable[[float, float], str], ...]] = (_lightness_word, _red_word, _yellow_word)
