"""What leaves the leaf: shares of one pool of solubles, steep by steep, with the range that follows from the figures.

One effective pool of what water can take out, first order in what is left of it:

    dP/dt = -k(T) w(t) o(t) P
    share taken by a steep = P (1 - exp(-X)),   X = integral of k(T(t)) w(t) o(t) dt over the steep

    P      share of the original pool still in the leaf, 1 at first
    X      extent of a steep, no unit
    k(T)   rate, 1/s:  k80 m f exp(-Ea/R (1/T - 1/353.15 K))
    k80    rate of this solute at 80 °C from cut leaf in stirred water, 1/s (figures, per minute: `caffeine_k`, ...)
    m      way of brewing against stirred water (`manner_...`), f form against ordinary leaf (`form_...`); no unit
    Ea     activation energy, J/mol (`..._ea`, kJ/mol), R = 8.314462618 J/(mol K), T in K
    w(t)   wetted part of the leaf, 0 to 1;  o(t)  how far rolled or pressed leaf has opened, 0 to 1

Nothing is taken twice and no sum exceeds 1, since each steep takes its share of what the one before left.

**Wetting.** Published delays (about 16 s at 85 °C and above, 22 s at 70 °C) are where the late, straight part of a
curve meets the time axis. Leaf wets bit by bit, so w = 1 - exp(-u) with u = integral dt/d(T): long after, the integral
of w is t - d, just the published delay, while the first seconds give little instead of nothing at all. Between 85 and
70 °C, and beyond it in cooler water, d follows the straight line of ln d over 1/T through the two published points;
above 85 °C it stays. Damp leaf goes on wetting between infusions at a part of the speed it has in water
(`rest_weight`).

**Opening.** Balls and pressed leaf begin with a part of their rate and approach all of it: o = 1 - c exp(-u d85/t_o),
on the same clock as the wetting, so cooler water opens them later too.

**Temperature.** Along a falling temperature the integrals are taken over short cells of steady temperature, whose edges
are the same for every steep: 15 s wide, later a fifth of the time passed. So a longer steep is always the shorter one
and something more.

**Ranges.** Each figure is taken to either end of its range while the others stay; what that does to ln X is added in
squares to the side it falls on (independent errors). The slow, middle and fast sequences each conserve the pool.

**What the model leaves out.** Leaf holds two to four times its mass of liquor back, which carries some of one infusion
into the next. What water cannot reach at equilibrium (2 to 15 %, TTES-12 study) is not in the pool. All solutes of a
class leave at one rate, while true leaf gives a fast and a slow part. Rates were found from 50 to 100 °C; colder water
is extrapolation.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from typing import Final, Literal, TypeAlias

from tastebook.domain.errors import QuantityError
from tastebook.domain.figures import Figures, Range
from tastebook.domain.quantities import STEEP_S, WATER_C, Quantity

Solute: TypeAlias = Literal["soluble", "caffeine", "catechins"]
"""All that dissolves, or one class of it."""

Manner: TypeAlias = Literal["stirred", "cup", "pot", "gaiwan", "cold"]
"""The way of brewing, as far as it changes the rate."""

Water: TypeAlias = float | Callable[[float], float]
"""Water through a steep: the mean in °C, or a function that gives °C at so many seconds after the pour."""

MANNER_OF_COURSE: Final[dict[str, Manner]] = {
    "gaiwan": "gaiwan",
    "comparison_cup": "cup",
    "lidded_cup_oolong": "cup",
    "western_pot": "pot",
    "cold_brew": "cold",
}

REST_S: Final = Quantity("time between infusions", "s", 0, 172_800)
MEASURED_S: Final = Quantity("time of a temperature reading", "s", 0, 172_800)
SIZE_MM: Final = Quantity("size of the leaf", "mm", 0.01, 50)
LEARNED: Final = Quantity("rate learned", "times the usual", 0.01, 100)
COOLING_PER_MIN: Final = Quantity("cooling", "per minute", 0, 1)
ROOM_C: Final = Quantity("air", "°C", -25, 60)

GAS_J_MOL_K: Final = 8.314462618
REFERENCE_K: Final = 353.15
_KELVIN: Final = 273.15
_HOT_K, _WARM_K = 85 + _KELVIN, 70 + _KELVIN
_LONGEST_S: Final = STEEP_S.most
_CELL_S, _CELL_GROWS = 15.0, 0.2


@dataclass(frozen=True)
class Cooling:
    """Water that falls towards the air around it, after Newton: the difference shrinks by `per_min` each minute."""

    start_c: float
    air_c: float
    per_min: float

    def __post_init__(self) -> None:
        WATER_C.checked(self.start_c)
        ROOM_C.checked(self.air_c)
        COOLING_PER_MIN.checked(self.per_min)

    def __call__(self, after_s: float) -> float:
        """Return °C at so many seconds after the pour."""
        return self.air_c + (self.start_c - self.air_c) * math.exp(-self.per_min * after_s / 60)


@dataclass(frozen=True)
class Followed:
    """Water as it was measured: readings in °C at rising times, straight lines between, the last reading beyond."""

    at_s: tuple[float, ...]
    temp_c: tuple[float, ...]

    def __post_init__(self) -> None:
        if not self.at_s or len(self.at_s) != len(self.temp_c):
            raise QuantityError(f"{len(self.at_s)} times do not match {len(self.temp_c)} temperatures: give one each.")
        for temp_c in self.temp_c:
            WATER_C.checked(temp_c)
        for at_s in self.at_s:
            MEASURED_S.checked(at_s)
        if any(later <= earlier for earlier, later in zip(self.at_s, self.at_s[1:], strict=False)):
            raise QuantityError("The times of temperature readings must rise.")

    def __call__(self, after_s: float) -> float:
        """Return °C at so many seconds after the pour."""
        for place, at_s in enumerate(self.at_s):
            if after_s <= at_s:
                return self.temp_c[0] if place == 0 else self._between(place, after_s)
        return self.temp_c[-1]

    def _between(self, place: int, after_s: float) -> float:
        earlier_s, later_s = self.at_s[place - 1 : place + 1]
        earlier_c, later_c = self.temp_c[place - 1 : place + 1]
        return earlier_c + (later_c - earlier_c) * (after_s - earlier_s) / (later_s - earlier_s)


@dataclass(frozen=True)
class Steeped:
    """One steep as the leaf met it.

    Parameters
    ----------
    time_s : float
        Time in water, 0 to two days.
    water : float or callable
        Mean temperature through the steep in °C, or a function of the seconds since the pour. Water in the kettle, or
        as it is poured, is hotter than this mean: give a `Cooling` for it.
    rest_s : float or None
        Time from pouring off to the next water; None where it is not known, then `rest_usual` is taken.

    Raises
    ------
    QuantityError
        If a time or a temperature cannot be.
    """

    time_s: float
    water: Water
    rest_s: float | None = None

    def __post_init__(self) -> None:
        STEEP_S.checked(self.time_s)
        checked_water(self.water)
        if self.rest_s is not None:
            REST_S.checked(self.rest_s)


@dataclass(frozen=True)
class Leaf:
    """The leaf and the way it is brewed, as far as they change the rate.

    Parameters
    ----------
    form : str
        As in `lot.FORMS`, or `fannings`; any other word counts as leaf of unknown form.
    manner : str
        The way of brewing.
    learned : Range or None
        Times the rate that form and manner give in the middle, learned from this leaf's own readings; its spread then
        takes the place of theirs.
    """

    form: str = ""
    manner: Manner = "gaiwan"
    learned: Range | None = None

    def __post_init__(self) -> None:
        if self.learned is not None:
            LEARNED.checked(self.learned.low)
            LEARNED.checked(self.learned.high)


@dataclass(frozen=True)
class Rate:
    """The course of one solute out of one leaf, every figure at one value.

    Parameters
    ----------
    ln_per_s : float
        Logarithm of the rate at 80 °C in 1/s.
    ea_k : float
        Activation energy over the gas constant, in K.
    hot_s, warm_s : float
        Wetting delay at 85 and at 70 °C.
    shut : float
        Part of the rate that is missing before the leaf opens, 0 for leaf that is open.
    opening_s : float
        Time to open by 63 % in water of 85 °C or more.
    rest_weight : float
        Speed of wetting and opening between infusions, against leaf in water of 70 °C.
    """

    ln_per_s: float
    ea_k: float
    hot_s: float
    warm_s: float
    shut: float = 0.0
    opening_s: float = 1.0
    rest_weight: float = 0.0

    def per_s(self, temp_c: float) -> float:
        """Return the rate of wet, open leaf at a temperature, in 1/s."""
        return math.exp(self.ln_per_s - self.ea_k * (1 / (temp_c + _KELVIN) - 1 / REFERENCE_K))

    def delay_s(self, temp_c: float) -> float:
        """Return the wetting delay at a temperature."""
        kelvin = temp_c + _KELVIN
        if kelvin >= _HOT_K or self.hot_s <= 0:
            return self.hot_s
        steps = (1 / kelvin - 1 / _HOT_K) / (1 / _WARM_K - 1 / _HOT_K)
        return float(self.hot_s * (self.warm_s / self.hot_s) ** steps)

    def wetter(self, wet: float, rest_s: float) -> float:
        """Return the clock of wetting after damp leaf has rested."""
        return wet + self.rest_weight * rest_s / self.warm_s if self.warm_s > 0 else wet


@dataclass(frozen=True)
class Rates:
    """The middle rate, and for each source of doubt the slow and the fast rate that it allows."""

    middle: Rate
    doubts: tuple[tuple[Rate, Rate], ...]


@dataclass(frozen=True)
class SessionShares:
    """Shares of the original pool that the infusions took: three sequences, each of which conserves the pool."""

    slow: tuple[float, ...]
    middle: tuple[float, ...]
    fast: tuple[float, ...]

    def infusion(self, place: int) -> Range:
        """Return the share taken by the steep at a place, from 0; late in a session slow leaf gives the most."""
        shares = (self.slow[place], self.middle[place], self.fast[place])
        return Range(min(shares), self.middle[place], max(shares))

    @property
    def taken(self) -> Range:
        """Return the share taken by all steeps together."""
        taken = (min(1.0, math.fsum(one)) for one in (self.slow, self.middle, self.fast))
        return Range(*sorted(taken))  # of exhausted leaf, rounding may swap them

    @property
    def left(self) -> Range:
        """Return the share still in the leaf."""
        taken = self.taken
        return Range(1 - taken.high, 1 - taken.middle, 1 - taken.low)


def checked_water(water: Water) -> Water:
    """Return the water if a mean can be one; a function is checked where it is used."""
    return water if callable(water) else WATER_C.checked(water)


def reference_cup(figures: Figures, poured_c: float = 100.0) -> Cooling:
    """Return the fall of water in the unstirred cup from which that cup's rate was derived."""
    start_c = WATER_C.checked(poured_c) - figures.value("reference_cup_at_once")
    return Cooling(start_c, figures.value("reference_cup_room"), figures.value("reference_cup_k"))


def arrhenius(from_c: float, to_c: float, ea_kj_mol: float) -> float:
    """Return how many times faster leaf gives at `to_c` than at `from_c`."""
    inverse = 1 / (WATER_C.checked(to_c) + _KELVIN) - 1 / (WATER_C.checked(from_c) + _KELVIN)
    return math.exp(-ea_kj_mol * 1000 / GAS_J_MOL_K * inverse)


def size_factor(figures: Figures, from_mm: float, to_mm: float) -> Range:
    """Return how many times faster leaf gives when it is as fine as `to_mm` instead of `from_mm`."""
    ratio = SIZE_MM.checked(from_mm) / SIZE_MM.checked(to_mm)
    power = figures.range("size_exponent")
    factors = [ratio**one for one in (power.low, power.middle, power.high)]
    return Range(min(factors), factors[1], max(factors))


def rate_per_min(figures: Figures, solute: Solute, temp_c: float, leaf: Leaf | None = None) -> Range:
    """Return the rate of wet, open leaf in 1/min; without a leaf that of cut leaf in stirred water, as published."""
    WATER_C.checked(temp_c)
    rates = rates_of(figures, leaf, solute)
    return _with_doubts(rates, lambda rate: math.log(rate.per_s(temp_c) * 60))


def rates_of(figures: Figures, leaf: Leaf | None, solute: Solute = "soluble") -> Rates:
    """Return the rate of a solute out of a leaf, with its doubts.

    Raises
    ------
    QuantityError
        If the user's own figures contradict each other.
    """
    return _rates_of(figures, leaf, solute)


@lru_cache(maxsize=64)
def _rates_of(figures: Figures, leaf: Leaf | None, solute: Solute) -> Rates:
    ln_rate = _ln_rate(figures, leaf, solute)
    ea = figures.range(f"{solute}_ea")
    hot, warm = figures.range("wetting_hot"), figures.range("wetting_warm")
    if warm.low < hot.low or warm.middle < hot.middle or warm.high < hot.high:
        raise QuantityError("wetting_warm must not be below wetting_hot: cooler water never wets leaf faster.")
    rest = figures.range("rest_weight")
    middle = Rate(ln_rate.middle - math.log(60), _over_r(ea.middle), hot.middle, warm.middle, rest_weight=rest.middle)
    opening: tuple[tuple[Rate, Rate], ...] = ()
    if leaf is not None and figures.has(f"opening_{leaf.form}"):
        first, time = figures.range(f"open_at_first_{leaf.form}"), figures.range(f"opening_{leaf.form}")
        middle = replace(middle, shut=1 - first.middle, opening_s=time.middle)
        late = replace(middle, shut=1 - first.low, opening_s=time.high)
        opening = ((late, replace(middle, shut=1 - first.high, opening_s=time.low)),)
    return Rates(
        middle,
        (
            (_faster(middle, ln_rate.low - ln_rate.middle), _faster(middle, ln_rate.high - ln_rate.middle)),
            (replace(middle, ea_k=_over_r(ea.low)), replace(middle, ea_k=_over_r(ea.high))),
            (
                replace(middle, hot_s=hot.high, warm_s=warm.high, rest_weight=rest.low),
                replace(middle, hot_s=hot.low, warm_s=warm.low, rest_weight=rest.high),
            ),
            *opening,
        ),
    )


def _over_r(ea_kj_mol: float) -> float:
    return ea_kj_mol * 1000 / GAS_J_MOL_K


def _faster(rate: Rate, by_ln: float) -> Rate:
    return replace(rate, ln_per_s=rate.ln_per_s + by_ln)


def _ln_rate(figures: Figures, leaf: Leaf | None, solute: Solute) -> Range:
    """Return the logarithm of the rate at 80 °C in 1/min; spreads of independent figures add in squares."""
    solute_k = figures.range(f"{solute}_k")
    if leaf is None:
        return _ln_product([solute_k], [solute_k])
    form = figures.range(f"form_{leaf.form}" if figures.has(f"form_{leaf.form}") else "form_other")
    manner = figures.range(f"manner_{leaf.manner}")
    if leaf.learned is None:
        return _ln_product([solute_k, form, manner], [solute_k, form, manner])
    # What was tasted is all that dissolves: for another solute, the doubt about its own rate stays.
    doubtful = [leaf.learned] if solute == "soluble" else [leaf.learned, solute_k]
    return _ln_product([solute_k, form, manner, leaf.learned], doubtful)


def _ln_product(factors: Iterable[Range], doubtful: Sequence[Range]) -> Range:
    middle = sum(math.log(one.middle) for one in factors)
    below = math.sqrt(sum(math.log(one.middle / one.low) ** 2 for one in doubtful))
    above = math.sqrt(sum(math.log(one.high / one.middle) ** 2 for one in doubtful))
    return Range(middle - below, middle, middle + above)


def _with_doubts(rates: Rates, ln_of: Callable[[Rate], float]) -> Range:
    """Return the exponential of what a function gives for the middle rate, with the doubts added in squares."""
    middle = ln_of(rates.middle)
    below = above = 0.0
    for pair in rates.doubts:
        ends = [ln_of(rate) - middle for rate in pair]
        below += min(0.0, *ends) ** 2
        above += max(0.0, *ends) ** 2
    return Range(*(math.exp(one) for one in (middle - math.sqrt(below), middle, middle + math.sqrt(above))))


def wet_before(rate: Rate, steeps: Sequence[Steeped], rest_usual_s: float) -> tuple[float, ...]:
    """Return the clock of wetting as each steep begins, and as one more would: 0 is dry."""
    clocks = [0.0]
    for one in steeps:
        _, wet = _extent(rate, one.water, one.time_s, clocks[-1])
        clocks.append(rate.wetter(wet, rest_usual_s if one.rest_s is None else one.rest_s))
    return tuple(clocks)


def extents_at(rate: Rate, steeps: Sequence[Steeped], rest_usual_s: float) -> tuple[float, ...]:
    """Return the extent X of each steep at one rate: the share of what is left that it takes is 1 - exp(-X)."""
    clocks = wet_before(rate, steeps, rest_usual_s)
    return tuple(_extent(rate, one.water, one.time_s, wet)[0] for one, wet in zip(steeps, clocks, strict=False))


def extents(figures: Figures, leaf: Leaf, steeps: Sequence[Steeped], solute: Solute = "soluble") -> tuple[Range, ...]:
    """Return the extent X of each steep, with its range."""
    rates = rates_of(figures, leaf, solute)
    rest_s = figures.value("rest_usual")
    middle = extents_at(rates.middle, steeps, rest_s)
    doubts = [tuple(extents_at(rate, steeps, rest_s) for rate in pair) for pair in rates.doubts]
    return tuple(_spread_at(place, one, doubts) for place, one in enumerate(middle))


def _spread_at(place: int, middle: float, doubts: Iterable[tuple[tuple[float, ...], ...]]) -> Range:
    if middle <= 0:
        return Range.exactly(0.0)
    below = above = 0.0
    for pair in doubts:
        ends = [math.log(one[place] / middle) if one[place] > 0 else 0.0 for one in pair]
        below += min(0.0, *ends) ** 2
        above += max(0.0, *ends) ** 2
    return Range(middle * math.exp(-math.sqrt(below)), middle, middle * math.exp(math.sqrt(above)))


def steep_share(
    figures: Figures,
    leaf: Leaf,
    steeped: Steeped,
    solute: Solute = "soluble",
    *,
    after: Sequence[Steeped] = (),
) -> Range:
    """Return the share that a steep takes of what the leaf still holds.

    Parameters
    ----------
    after : sequence of Steeped
        What the leaf went through before, in order; without it the leaf is dry.
    """
    extent = extents(figures, leaf, (*after, steeped), solute)[-1]
    return Range(*(-math.expm1(-one) for one in (extent.low, extent.middle, extent.high)))


def session_shares(
    figures: Figures, leaf: Leaf, steeps: Sequence[Steeped], solute: Solute = "soluble"
) -> SessionShares:
    """Return the share of the original pool that each steep of a session takes, a rinse counted as a steep.

    Raises
    ------
    QuantityError
        If water is hotter or colder than it can be at any time of a steep.
    """
    found = extents(figures, leaf, steeps, solute)
    return SessionShares(
        shares([one.low for one in found]),
        shares([one.middle for one in found]),
        shares([one.high for one in found]),
    )


def shares(extents_in_order: Iterable[float]) -> tuple[float, ...]:
    """Return the share of the original pool that steeps of known extent take one after another."""
    taken, passed = [], 0.0
    for extent in extents_in_order:
        taken.append(-math.exp(-passed) * math.expm1(-extent))
        passed += extent
    return tuple(taken)


def time_for_s(rate: Rate, water: Water, wet: float, extent: float) -> float:
    """Return the time after which a steep has reached an extent, in seconds; infinite beyond two days.

    The inverse of the extent. Within a cell of steady temperature the extent is convex in time, so Newton's steps come
    down to it from above.
    """
    if extent <= 0:
        return 0.0
    begun_s, reached = 0.0, 0.0
    for end_s, temp_c in _cells_in_turn(water):
        added, wet_after = _in_cell(rate, temp_c, wet, end_s - begun_s)
        if reached + added >= extent:
            return begun_s + _time_in_cell_s(rate, temp_c, wet, extent - reached, end_s - begun_s)
        begun_s, reached, wet = end_s, reached + added, wet_after
    return math.inf


def _time_in_cell_s(rate: Rate, temp_c: float, wet: float, extent: float, longest_s: float) -> float:
    time_s = min(longest_s, extent / rate.per_s(temp_c))
    for _ in range(60):
        reached, wet_then = _in_cell(rate, temp_c, wet, time_s)
        speed = rate.per_s(temp_c) * _activity(rate, wet_then)
        if speed <= 0:
            return time_s
        step_s = (extent - reached) / speed
        time_s = min(longest_s, max(0.0, time_s + step_s))
        if abs(step_s) < 1e-9 * (1 + time_s):
            return time_s
    return time_s


def _extent(rate: Rate, water: Water, time_s: float, wet: float) -> tuple[float, float]:
    """Return the extent of a steep and the clock of wetting at its end."""
    extent, wet = _unit_extent(_unit_rate(rate), water, time_s, wet)
    return extent * math.exp(rate.ln_per_s), wet


@lru_cache(maxsize=256)
def _unit_rate(rate: Rate) -> Rate:
    """Return a rate as if it were 1/s at 80 °C: leaf that gives faster goes through a steep in the same way."""
    return replace(rate, ln_per_s=0.0)


@lru_cache(maxsize=8192)
def _unit_extent(rate: Rate, water: Water, time_s: float, wet: float) -> tuple[float, float]:
    begun_s, extent = 0.0, 0.0
    for end_s, temp_c in _cells(water, time_s):
        added, wet = _in_cell(rate, temp_c, wet, min(end_s, time_s) - begun_s)
        begun_s, extent = end_s, extent + added
    return extent, wet


def _cells(water: Water, until_s: float) -> Iterable[tuple[float, float]]:
    """Return end and temperature of the cells of steady temperature that a time reaches into."""
    if not callable(water):
        return ((_LONGEST_S, water),)
    return _cells_of(water, bisect_left(_edges_s(), until_s) + 1)


def _cells_in_turn(water: Water) -> Iterator[tuple[float, float]]:
    """Yield the same cells one by one: a function of the water is asked no later than needed."""
    if not callable(water):
        yield _LONGEST_S, water
        return
    begun_s = 0.0
    for end_s in _edges_s():
        yield end_s, WATER_C.checked(water((begun_s + end_s) / 2))
        begun_s = end_s


@lru_cache(maxsize=512)
def _cells_of(water: Callable[[float], float], count: int) -> tuple[tuple[float, float], ...]:
    edges_s = _edges_s()
    cells = zip((0.0, *edges_s), edges_s[:count], strict=False)
    return tuple((end_s, WATER_C.checked(water((begun_s + end_s) / 2))) for begun_s, end_s in cells)


@cache
def _edges_s() -> tuple[float, ...]:
    edges = [_CELL_S]
    while edges[-1] < _LONGEST_S:
        edges.append(min(float(_LONGEST_S), edges[-1] + max(_CELL_S, _CELL_GROWS * edges[-1])))
    return tuple(edges)


def _in_cell(rate: Rate, temp_c: float, wet: float, time_s: float) -> tuple[float, float]:
    """Return what a time at a steady temperature adds to the extent, and the clock of wetting after it.

    With A = exp(-wet), B = shut exp(-r wet), r = hot_s/opening_s and v = time/delay, the integral of (1 - A e^-u)(1 - B
    e^-ru) over u from 0 to v is  v - A (1 - e^-v) - B (1 - e^-rv)/r + A B (1 - e^-(1+r)v)/(1 + r).
    """
    delay_s = rate.delay_s(temp_c)
    if delay_s <= 0:
        return rate.per_s(temp_c) * time_s, wet
    passed = time_s / delay_s
    dry = math.exp(-wet)
    active = passed + dry * math.expm1(-passed)
    if rate.shut > 0:
        opens = rate.hot_s / rate.opening_s
        closed = rate.shut * math.exp(-opens * wet)
        active += closed * math.expm1(-opens * passed) / opens
        active -= dry * closed * math.expm1(-(1 + opens) * passed) / (1 + opens)
    return rate.per_s(temp_c) * delay_s * max(0.0, active), wet + passed


def _activity(rate: Rate, wet: float) -> float:
    """Return the part of its full rate that leaf gives at a state of wetting."""
    if rate.hot_s <= 0:
        return 1.0
    return -math.expm1(-wet) * (1 - rate.shut * math.exp(-rate.hot_s / rate.opening_s * wet))
