"""Cold brew and Western pot from the same model, for the customer's brewing guide: times and doses, as extrapolation.

A cup is as strong as another when as much leaf was given off in each millilitre. With the dose D (g of leaf per 100 ml)
and the share s of the pool that a steep takes, the strength is D s, in g per 100 ml given off whole. So for the
strength W of a chosen infusion

    for a dose:  s = W / D,            t = the time after which a single steep of dry leaf has taken s (`extraction`)
    for a time:  s = 1 - exp(-X(t)),   D = W / s

The range follows as for the next steep: each figure is taken to either end and the changes of ln t, or of ln D, are
added in squares. Where a dose cannot give the strength, because it would need more than nine tenths of the leaf, that
is said, and the least dose that can is named.

All of it is extrapolation: the rates of cold water lie far outside the 50 to 100 °C in which they were found, what
tastes strong cold is not what tastes strong hot, and the pot's leaf is not the bowl's. It says where to begin tasting.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final, Literal, TypeAlias

from tastebook.domain.errors import QuantityError
from tastebook.domain.extraction import (
    LEARNED,
    Leaf,
    Manner,
    Rate,
    Rates,
    Steeped,
    Water,
    checked_water,
    extents_at,
    rates_of,
    reference_cup,
    time_for_s,
)
from tastebook.domain.figures import Figures, Range
from tastebook.domain.leaf_learning import DOSE_G_PER_100ML
from tastebook.domain.next_steep import MOST_OF_THE_REST, extent_for
from tastebook.domain.quantities import LEAF_G, PLAN_S, VOLUME_ML, WATER_C, Quantity

Way: TypeAlias = Literal["western pot", "cold brew"]

STRENGTH: Final = Quantity("strength of the cup", "g per 100 ml given off", 0.01, 20)
POT_G_PER_100ML: Final = 1.2
COLD_G_PER_100ML: Final = 0.8
POT_C: Final = 95.0
COLD_C: Final = 5.0
"""Doses and water of the courses that ship: common practice, no source."""

COLD_AT_MOST_S: Final = 86_400
"""A cold brew is drunk within a day (common practice, no source; local food hygiene rules come first)."""

POT_AT_MOST_S: Final = 3600

_MANNERS: Final[dict[Way, Manner]] = {"western pot": "pot", "cold brew": "cold"}
_LONGEST_S: Final[dict[Way, int]] = {"western pot": POT_AT_MOST_S, "cold brew": COLD_AT_MOST_S}


@dataclass(frozen=True)
class BrewPlan:
    """One way to brew a lot to a strength, as values for a brewing guide.

    Parameters
    ----------
    way : str
        How it is brewed.
    low_g_per_100ml, g_per_100ml, high_g_per_100ml : float
        The dose; one number thrice where it was given.
    water_c : float
        As the water goes on the leaf.
    low_s, time_s, high_s : float
        The time; one number thrice where it was given. A guide begins with `time_s`. `high_s` is infinite where the
        slowest leaf that is likely would not get there in the time that this way of brewing allows; all are where no
        time can be named.
    share : Range
        Share of the pool that is taken.
    reachable : bool
        Whether the dose can give the strength.
    least_g_per_100ml : float
        The least dose that can.
    extrapolated : bool
        Always true: shown wherever a number of it is.
    """

    way: Way
    low_g_per_100ml: float
    g_per_100ml: float
    high_g_per_100ml: float
    water_c: float
    low_s: float
    time_s: float
    high_s: float
    share: Range
    reachable: bool
    least_g_per_100ml: float
    extrapolated: bool = True

    def leaf_g(self, volume_ml: float) -> float:
        """Return the leaf for a vessel, to a tenth of a gram.

        Raises
        ------
        QuantityError
            If the volume or the leaf it would take cannot be.
        """
        return LEAF_G.checked(round(self.g_per_100ml * VOLUME_ML.checked(volume_ml) / 100, 1))

    @property
    def told(self) -> str:
        """Return dose, water and time in one line, marked as extrapolation."""
        name = self.way.capitalize()
        if not self.reachable:
            return (
                f"{name}: {self.g_per_100ml:.1f} g per 100 ml cannot reach that strength; begin with "
                f"{self.least_g_per_100ml:.1f} g or more (extrapolated)."
            )
        water = f"{self.water_c:.0f} °C"
        if self.low_s == self.high_s:
            dose = _span(f"{self.low_g_per_100ml:.1f}", f"{self.high_g_per_100ml:.1f}")
            return (
                f"{name}: {_rounded(self.time_s)}, {water}; begin with {self.g_per_100ml:.1f} g per 100 ml "
                f"({dose} g, extrapolated)."
            )
        return (
            f"{name}: {self.g_per_100ml:.1f} g per 100 ml, {water}; begin with {_rounded(self.time_s)} "
            f"({self._times}, extrapolated)."
        )

    @property
    def _times(self) -> str:
        if math.isinf(self.high_s):
            return f"{_rounded(self.low_s)} or longer"
        return _span(_rounded(self.low_s), _rounded(self.high_s))


def cup_strength(dose_g_per_100ml: float, share: float) -> float:
    """Return the strength of a cup, in g of leaf per 100 ml given off whole."""
    if not 0 <= share <= 1:
        raise QuantityError(f"A steep cannot take {share * 100:g} % of the leaf: it must be from 0 to 100 %.")
    return DOSE_G_PER_100ML.checked(dose_g_per_100ml) * share


def dose_g_per_100ml(leaf_g: float, volume_ml: float) -> float:
    """Return the dose of a vessel.

    Raises
    ------
    QuantityError
        If leaf, volume or the two together cannot be.
    """
    return DOSE_G_PER_100ML.checked(LEAF_G.checked(leaf_g) / VOLUME_ML.checked(volume_ml) * 100)


def plan_for_dose(
    figures: Figures, leaf: Leaf, way: Way, strength: float, g_per_100ml: float, water: Water, *, first_c: float
) -> BrewPlan:
    """Return how long a dose must steep for a strength.

    Parameters
    ----------
    leaf : Leaf
        Its form, and what was learned of it; the way of brewing is that of the plan.
    strength : float
        As `cup_strength` gives it for the cup to be matched.
    water : float or callable
        Water through the steep, mean or over time.
    first_c : float
        Temperature of the water as it goes on the leaf, to be written down.
    """
    wanted = STRENGTH.checked(strength) / DOSE_G_PER_100ML.checked(g_per_100ml)
    least = strength / MOST_OF_THE_REST
    rates = rates_of(figures, _brewed(figures, leaf, way))
    checked_water(water)
    WATER_C.checked(first_c)
    if wanted > MOST_OF_THE_REST:
        return _unreachable(way, g_per_100ml, first_c, wanted, least)
    extent = extent_for(wanted, 1.0)
    low_s, time_s, high_s = _ends(rates, lambda rate: time_for_s(rate, water, 0.0, extent))
    if time_s > _LONGEST_S[way]:
        in_time = _share(rates.middle, Steeped(_LONGEST_S[way], water))
        return _unreachable(way, g_per_100ml, first_c, wanted, strength / in_time)
    return BrewPlan(
        way, g_per_100ml, g_per_100ml, g_per_100ml, first_c,
        low_s, time_s, math.inf if high_s > _LONGEST_S[way] else high_s,
        Range.exactly(wanted), True, least,
    )  # fmt: skip


def plan_for_time(
    figures: Figures, leaf: Leaf, way: Way, strength: float, time_s: float, water: Water, *, first_c: float
) -> BrewPlan:
    """Return the dose that gives a strength in a time."""
    STRENGTH.checked(strength)
    WATER_C.checked(first_c)
    steeped = Steeped(PLAN_S.checked(time_s), water)
    rates = rates_of(figures, _brewed(figures, leaf, way))
    low, middle, high = _ends(rates, lambda rate: strength / _share(rate, steeped))
    DOSE_G_PER_100ML.checked(middle)
    share = Range(strength / high, strength / middle, strength / low)
    return BrewPlan(way, low, middle, high, first_c, time_s, time_s, time_s, share, True, strength / MOST_OF_THE_REST)


def western_pot(
    figures: Figures, leaf: Leaf, strength: float, g_per_100ml: float = POT_G_PER_100ML, water_c: float = POT_C
) -> BrewPlan:
    """Return the time of a Western pot for a strength; its water is taken to fall as that of the reference cup."""
    water = reference_cup(figures, water_c)
    return plan_for_dose(figures, leaf, "western pot", strength, g_per_100ml, water, first_c=water_c)


def cold_brew(
    figures: Figures, leaf: Leaf, strength: float, g_per_100ml: float = COLD_G_PER_100ML, water_c: float = COLD_C
) -> BrewPlan:
    """Return the time of a cold brew for a strength; the water stays as cold as it is."""
    return plan_for_dose(figures, leaf, "cold brew", strength, g_per_100ml, water_c, first_c=water_c)


def _brewed(figures: Figures, leaf: Leaf, way: Way) -> Leaf:
    """Return the leaf in another way of brewing; what was learned of it in the old one is less sure in the new."""
    manner = _MANNERS[way]
    if leaf.learned is None or leaf.manner == manner:
        return replace(leaf, manner=manner)
    new = figures.range(f"manner_{manner}")
    below = math.hypot(math.log(leaf.learned.middle / leaf.learned.low), math.log(new.middle / new.low))
    above = math.hypot(math.log(leaf.learned.high / leaf.learned.middle), math.log(new.high / new.middle))
    middle = leaf.learned.middle
    return Leaf(leaf.form, manner, Range(_kept(middle * math.exp(-below)), middle, _kept(middle * math.exp(above))))


def _kept(rate: float) -> float:
    return min(LEARNED.most, max(LEARNED.least, rate))


def _ends(rates: Rates, value_of: Callable[[Rate], float]) -> tuple[float, float, float]:
    """Return what a function gives for the middle rate, and its ends: changes of its logarithm added in squares."""
    middle = value_of(rates.middle)
    if not math.isfinite(middle):
        return middle, middle, middle
    below = above = 0.0
    for pair in rates.doubts:
        changes = [math.log(value_of(rate) / middle) for rate in pair]
        below += min(0.0, *changes) ** 2
        above += max(0.0, *changes) ** 2
    return middle * math.exp(-math.sqrt(below)), middle, middle * math.exp(math.sqrt(above))


def _share(rate: Rate, steeped: Steeped) -> float:
    return -math.expm1(-extents_at(rate, [steeped], 0.0)[0])


def _unreachable(way: Way, g_per_100ml: float, first_c: float, wanted: float, least: float) -> BrewPlan:
    never = math.inf
    share = Range.exactly(min(1.0, wanted))
    return BrewPlan(
        way, g_per_100ml, g_per_100ml, g_per_100ml, first_c, never, never, never, share, False, least
    )  # fmt: skip


def _span(low: str, high: str) -> str:
    """Return `3 to 5 min` for `3 min` and `5 min`, and one of them where they are the same."""
    if low == high:
        return low
    if " " not in low:
        return f"{low} to {high}"
    number, _, unit = low.partition(" ")
    return f"{number} to {high}" if high.endswith(f" {unit}") else f"{low} to {high}"


def _rounded(time_s: float) -> str:
    """Return a time no finer than a guide needs it: half minutes, minutes from ten on, half hours from ninety on."""
    if time_s < 600:
        return f"{max(1, round(time_s / 30)) / 2:g} min"
    return f"{round(time_s / 60)} min" if time_s < 5400 else f"{round(time_s / 1800) / 2:g} h"
