"""The next steep: how long for the strength of a chosen infusion, at the water of now. The taster decides.

A cup of the same volume is as strong as another when it holds the same share f of the original pool. With P still in
the leaf and s times the strength asked for,

    P (1 - exp(-X)) = s f      so      X = -ln(1 - s f / P)

and the time is that after which the steep has reached the extent X (`extraction`): t = X / k(T) for wet, open leaf in
water of steady temperature. With f = 0.1 and s = 1 that is 1, 1.118, 1.267, 1.463, 1.730, 2.118, 2.730, 3.848 times the
first steep's time for infusions 1 to 8, and no time at all for the tenth, when P = f.

    f  share of the original pool that the chosen infusion took      P  share still in the leaf
    X  extent of the steep asked for, no unit                       k  rate, 1/s

**The range.** The time is worked out again with the leaf's rate at either end of what is known of it (published spread,
or what this leaf's own readings have taught), with the activation energy at either end of what was published, with
the water at either end of its estimate, and so on; each time the whole session is gone through anew, for a faster leaf
is also a more spent one. The changes of ln t are added in squares on either side.

**Too little left.** Where more than nine tenths of what the leaf still holds would be needed, or a time ten times as
long as the chosen infusion's and more than ten minutes, no time is named: each further second would bring next to
nothing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from tastebook.domain.errors import QuantityError
from tastebook.domain.extraction import (
    Leaf,
    Rate,
    Steeped,
    Water,
    arrhenius,
    checked_water,
    extents_at,
    rates_of,
    session_shares,
    shares,
    time_for_s,
    wet_before,
)
from tastebook.domain.figures import Figure, Figures, Range
from tastebook.domain.quantities import Quantity

STRENGTH: Final = Quantity("strength asked for", "of the chosen infusion's", 0.1, 10)
STRONGER: Final = 1.2
WEAKER: Final = 0.8

MOST_OF_THE_REST: Final = 0.9
"""Beyond this share of what is left, a steep brings next to nothing more."""

LONGER_AT_MOST: Final = 10
SHORT_ENOUGH_S: Final = 600

Hindrance: TypeAlias = Literal["", "spent", "slow"]
"""Why no time can be named: the leaf has too little left, or the water is too cool for it."""


@dataclass(frozen=True)
class Advice:
    """How long to steep, and why.

    Parameters
    ----------
    low_s, middle_s, high_s : float
        The range of the time. `high_s` is infinite where the leaf may already have too little left; all three are where
        no time can be named.
    reachable : bool
        Whether there is such a time.
    why : tuple of str
        The reasoning in plain words, one sentence or two each, with numbers and sources.
    strength : float
        Times the chosen infusion's strength that were asked for.
    water_c : float
        Temperature of the water as the steep begins.
    taken, left : Range
        Share of the original pool that the chosen infusion took, and what is left in the leaf.
    most : float
        What share of the strength asked for can still be had, 1 where all of it.
    hindrance : str
        Why there is no such time, empty where there is one.
    """

    low_s: float
    middle_s: float
    high_s: float
    reachable: bool
    why: tuple[str, ...]
    strength: float
    water_c: float
    taken: Range
    left: Range
    most: float
    hindrance: Hindrance = ""


def extent_for(asked: float, left: float) -> float:
    """Return the extent X of a steep that takes a share `asked` of the original pool out of what is `left`.

    Infinite where the leaf does not hold as much.
    """
    if asked >= left * (1 - 1e-12):  # 1 - 9 · 0.1 is a little more than 0.1 in binary
        return math.inf
    return -math.log1p(-asked / left)


def equal_strength_times(share: float, infusions: int) -> tuple[float, ...]:
    """Return the times of infusions of equal strength against the first, in wet leaf and water of one temperature.

    Parameters
    ----------
    share : float
        Share of the original pool that each takes, above 0 and below 1.
    infusions : int
        How many; from where the leaf has run out, the times are infinite.
    """
    if not 0 < share < 1:
        raise QuantityError(
            f"An infusion cannot take {share * 100:g} % of the leaf: it must be above 0 and below 100 %."
        )
    first = extent_for(share, 1.0)
    return tuple(extent_for(share, 1 - share * before) / first for before in range(infusions))


def next_steep(
    figures: Figures,
    leaf: Leaf,
    steeps: Sequence[Steeped],
    reference: int,
    water: Water,
    *,
    strength: float = 1.0,
    water_ends: tuple[Water, Water] | None = None,
    name: str = "",
    readings: int = 0,
) -> Advice:
    """Return how long the next steep must be to be as strong as a chosen one.

    Parameters
    ----------
    figures, leaf
        As in `extraction`; `leaf.learned` carries what this leaf's readings have taught.
    steeps : sequence of Steeped
        Everything the leaf went through so far, the rinse included.
    reference : int
        Place of the chosen infusion among `steeps`, from 0. Where the first is the rinse, that is its number.
    water : float or callable
        Water of the steep to come, mean or over time.
    strength : float
        Times the chosen infusion's strength: 1, or `STRONGER`, or `WEAKER`.
    water_ends : (water, water) or None
        The same water at the cool and at the hot end of its estimate, where it was not measured.
    name : str
        What the chosen infusion is called in the words; `infusion 3` if empty.
    readings : int
        How many of the taster's own readings `leaf.learned` rests on.

    Raises
    ------
    QuantityError
        If there is no such infusion, if nothing was taken in it, or if strength or water cannot be.
    """
    STRENGTH.checked(strength)
    if not 0 <= reference < len(steeps) or steeps[reference].time_s <= 0:
        raise QuantityError("Choose an infusion that has been steeped and poured: there is none at that place.")
    ends = () if water_ends is None else tuple(checked_water(one) for one in water_ends)
    asked = _Asked(figures, leaf, tuple(steeps), reference, checked_water(water), ends, strength)
    return asked.advice(name or f"infusion {reference}", readings)


def advice_line(advice: Advice, name: str, *, water: str = "") -> str:
    """Return the advice in one line, such as `For the strength of infusion 3: 38 to 46 s at 90 °C.`.

    Parameters
    ----------
    name : str
        What the chosen infusion is called.
    water : str
        The temperature in words, for those who read °F; otherwise it is given in °C.
    """
    at = water or f"{advice.water_c:.0f} °C"
    aim = _aim(advice.strength, name)
    if advice.reachable:
        return f"For {aim}: {_times(advice.low_s, advice.middle_s, advice.high_s)} at {at}."
    if advice.hindrance == "slow":
        return f"Water of {at} is too cool for {aim}: take hotter water."
    return f"The leaf has too little left for {aim}; it can still give about {_percent(advice.most)} of it."


def seconds_words(time_s: float) -> str:
    """Return a time as one would say it, rounded as finely as it can be known: `38 s`, `1:50 min`, `12 min`, `8 h`."""
    return f"{_number(time_s)} {_unit(time_s)}"


@dataclass(frozen=True)
class _Asked:
    figures: Figures
    leaf: Leaf
    steeps: tuple[Steeped, ...]
    reference: int
    water: Water
    water_ends: tuple[Water, ...]
    strength: float

    def advice(self, name: str, readings: int) -> Advice:
        rates = rates_of(self.figures, self.leaf)
        middle_s, needed = self._time(rates.middle, self.water)
        low_s, high_s = self._ends(middle_s)
        told = session_shares(self.figures, self.leaf, self.steeps)
        taken, left = told.infusion(self.reference), told.left
        hindrance = self._hindrance(middle_s, needed)
        most = min(1.0, MOST_OF_THE_REST / needed) if hindrance == "spent" else 1.0
        if hindrance:
            low_s = middle_s = high_s = math.inf
        elif self._hindrance(high_s, 0.0):
            high_s = math.inf
        water_c = _start_c(self.water)
        why = _Why(self, name, readings, taken, left, needed).sentences(hindrance, middle_s, high_s)
        return Advice(low_s, middle_s, high_s, not hindrance, why, self.strength, water_c, taken, left, most, hindrance)

    def _time(self, rate: Rate, water: Water) -> tuple[float, float]:
        """Return the time at one rate and water, and the share of what is left that it takes, which may exceed 1."""
        rest_s = self.figures.value("rest_usual")
        taken = shares(extents_at(rate, self.steeps, rest_s))
        left = max(0.0, 1 - math.fsum(taken))
        asked = self.strength * taken[self.reference]
        needed = asked / left if left > 0 else math.inf
        extent = extent_for(asked, left)
        if math.isinf(extent):
            return math.inf, needed
        return time_for_s(rate, water, wet_before(rate, self.steeps, rest_s)[-1], extent), needed

    def _ends(self, middle_s: float) -> tuple[float, float]:
        if not math.isfinite(middle_s) or middle_s <= 0:
            return middle_s, middle_s
        below = above = 0.0
        rates = rates_of(self.figures, self.leaf)
        doubts = [[self._time(rate, self.water)[0] for rate in pair] for pair in rates.doubts]
        if self.water_ends:
            doubts.append([self._time(rates.middle, water)[0] for water in self.water_ends])
        for times_s in doubts:
            changes = [math.log(max(time_s, 1e-9) / middle_s) for time_s in times_s]
            below += min(0.0, *changes) ** 2
            above += max(0.0, *changes) ** 2
        return middle_s * math.exp(-math.sqrt(below)), middle_s * math.exp(math.sqrt(above))

    def _hindrance(self, time_s: float, needed: float) -> Hindrance:
        if needed > MOST_OF_THE_REST:
            return "spent"
        return "slow" if time_s > self.longest_s else ""

    @property
    def longest_s(self) -> float:
        return max(SHORT_ENOUGH_S, LONGER_AT_MOST * self.steeps[self.reference].time_s)


@dataclass(frozen=True)
class _Why:
    asked: _Asked
    name: str
    readings: int
    taken: Range
    left: Range
    needed: float

    def sentences(self, hindrance: Hindrance, middle_s: float, high_s: float) -> tuple[str, ...]:
        return (
            self._pool(),
            *self._temperature(),
            self._result(hindrance, middle_s),
            *self._open_end(hindrance, high_s),
            self._knowledge(),
            *self._sources(),
        )

    def _pool(self) -> str:
        part = self.asked.steeps[self.asked.reference].time_s
        return (
            f"{_capital(self.name)} ({seconds_words(part)}) took {_range_percent(self.taken)} of all that the leaf had "
            f"to give; {_range_percent(self.left)} is left."
        )

    def _temperature(self) -> tuple[str, ...]:
        then, now = _start_c(self.asked.steeps[self.asked.reference].water), _start_c(self.asked.water)
        if abs(then - now) < 0.5:
            return ()
        ea = self.asked.figures.range("soluble_ea")
        low, high = sorted(arrhenius(now, then, one) for one in (ea.low, ea.high))
        change, low_pct, high_pct = _change(low, high)
        return (
            f"The water is at {now:.0f} °C instead of {then:.0f} °C, which alone makes an equal steep {low_pct} to "
            f"{high_pct} % {change}: activation energies from {ea.low:g} to {ea.high:g} kJ/mol have been published.",
        )

    def _result(self, hindrance: Hindrance, middle_s: float) -> str:
        if hindrance == "spent":
            return (
                f"That strength would need {_percent(self.needed)} of what is left. Beyond "
                f"{_percent(MOST_OF_THE_REST)} each further minute brings next to nothing."
            )
        if hindrance == "slow":
            return f"In this water it would take longer than {seconds_words(self.asked.longest_s)}: no steep any more."
        return (
            f"The next must take {_percent(self.needed)} of what is left, so it takes "
            f"{seconds_words(middle_s)} at the likeliest figures: t = −ln(1 − f/P)/k."
        )

    @staticmethod
    def _open_end(hindrance: Hindrance, high_s: float) -> tuple[str, ...]:
        if hindrance or math.isfinite(high_s):
            return ()
        return ("No longest time is named: if this leaf gives as fast as it may, it has too little left already.",)

    def _knowledge(self) -> str:
        learned = self.asked.leaf.learned
        if learned is None or not self.readings:
            return "How fast this leaf gives is taken from the figures below: none of your strength readings is in it."
        count = "one of your strength readings" if self.readings == 1 else f"{self.readings} of your strength readings"
        return (
            f"How fast this leaf gives was fitted to {count}: {learned.low:.2g} to {learned.high:.2g} times what is "
            "usual for its form and this way of brewing."
        )

    def _sources(self) -> tuple[str, ...]:
        leaf, figures = self.asked.leaf, self.asked.figures
        form = f"form_{leaf.form}" if figures.has(f"form_{leaf.form}") else "form_other"
        keys = ("soluble_k", "soluble_ea", f"manner_{leaf.manner}", form)
        return tuple(_told(figures.figure(key)) for key in keys)


def _start_c(water: Water) -> float:
    return water(0.0) if callable(water) else water


def _told(figure: Figure) -> str:
    return f"{_capital(figure.name)}: {figure.told}. {figure.source}"


def _aim(strength: float, name: str) -> str:
    if abs(strength - 1) < 0.005:
        return f"the strength of {name}"
    word = "more" if strength > 1 else "less"
    return f"{abs(strength - 1) * 100:.0f} % {word} than the strength of {name}"


def _change(low: float, high: float) -> tuple[str, str, str]:
    """Return longer or shorter, and by how many per cent at least and at most."""
    if low >= 1:
        return "longer", f"{(low - 1) * 100:.0f}", f"{(high - 1) * 100:.0f}"
    return "shorter", f"{(1 - high) * 100:.0f}", f"{(1 - low) * 100:.0f}"


def _percent(share: float) -> str:
    return f"{share * 100:.0f} %" if share >= 0.095 else f"{share * 100:.2g} %"


def _range_percent(one: Range) -> str:
    low, high = _percent(one.low), _percent(one.high)
    return f"about {_percent(one.middle)}" if low == high else f"{low.removesuffix(' %')} to {high}"


def _times(low_s: float, middle_s: float, high_s: float) -> str:
    if math.isinf(high_s):
        return f"{seconds_words(low_s)} or longer"
    low, high = seconds_words(low_s), seconds_words(high_s)
    if low == high:
        return f"about {seconds_words(middle_s)}"
    return f"{_number(low_s)} to {high}" if _unit(low_s) == _unit(high_s) else f"{low} to {high}"


def _unit(time_s: float) -> str:
    if round(time_s) < 100:
        return "s"
    return "min" if time_s < 5400 else "h"


def _number(time_s: float) -> str:
    if _unit(time_s) == "s":
        return f"{round(time_s)}"
    if _unit(time_s) == "h":
        return f"{round(time_s / 1800) / 2:g}"
    minutes, rest = divmod(round(time_s / 5) * 5, 60)
    return f"{minutes}:{rest:02d}" if time_s < 600 else f"{round(time_s / 60)}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
