"""How hot the water is: the kettle as it cools, the pour, the steep, and the cup until it can be sipped.

Symbols: T temperature, A air, k cooling constant (1/s; figures give it by the minute), t time, m mass, c specific heat.

Cooling (Newton): dT/dt = -k (T - A), so

    T(t) = A + (T0 - A) exp(-k t)                                         (1)
    mean of T from 0 to t = A + (T0 - A) (1 - exp(-k t)) / (k t)           (2)
    time from T0 down to T = ln((T0 - A) / (T - A)) / k                    (3)

k falls with the excess over the air, as evaporation and free convection do: about as its square root in an open cup
(0.033/min in its first ten minutes, 0.015/min in its last of ninety: readings of a lecture at Queens College, City
University of New York, 27 April 2017), less under a lid. So (1) is good near the readings it was fitted to. Later than
the last of them the band reaches further up, by what a constant falling so would leave:

    k' = k sqrt((T(midway) - A) / (mean of the readings - A))              (4)

Fitting k to one kettle. ln k, A and T0 are found by least squares of the readings and of what was believed before:

    minimise  sum ((Ti - T(ti)) / si)^2 / s^2 + ((ln k - ln k0) / sk)^2 + ((A - A0) / sA)^2

which to first order is a line fitted to ln(T - A) with weights (T - A)^2, but needs no reading to lie above A. Readings
are within `error_c` (1 °C) nine times in ten, so si = error / 1.645. s^2 corrects for readings that scatter more or
less than that: s^2 = (12 + RSS) / (10 + max(0, n - 2)), the mean of an inverse chi-square belief worth 12 readings.
k0 and sk are the figure's range until this kettle's earlier boils are known. Each of those gives its own estimate of
ln k; they are pooled, weighted by their precision, and a boil is allowed to differ from its kettle by `kettle_spread`.
So a single pair of readings a minute apart moves k little, and ten readings over half an hour decide it.

Every band holds nine in ten. It is carried from ln k, A and T0 to the temperature along the three columns of the
Cholesky root of their covariance, each way by itself: the band of a quantity with a lopsided range is lopsided.

Pouring (energy balance; nothing is lost but what `pour_loss` says):

    Tw = A + (1 - loss) (Tkettle - A)
    T  = (mw cw Tw + mv cv Tv + (ml cl + mh cw) Tl) / (mw cw + mv cv + ml cl + mh cw)

w the water (volume times density), v the share of the vessel that takes part, l the dry leaf and h the water that
leaf already holds. A vessel that was not warmed, and dry leaf, are at A; a warmed vessel and wet leaf stand `warmed_to`
of the way from A to the water.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from tastebook.domain.errors import QuantityError
from tastebook.domain.figures import Figures, Range, spread
from tastebook.domain.quantities import LEAF_G, STEEP_S, VOLUME_ML, WATER_C, Quantity
from tastebook.domain.water import degrees

AIR_C: Final = Quantity("air", "°C", -25, 50)
KETTLE_C: Final = Quantity("kettle", "°C", 0, 102)
SINCE_S: Final = Quantity("time since the boil", "s", 0, 86_400)
VESSEL_G: Final = Quantity("vessel", "g", 5, 10_000)

HOTTER_C: Final = 0.5
"""Two readings of the same water may differ by so much; beyond, the later one cannot be hotter."""

BOIL_ERROR_C: Final = 0.5
"""How far the boiling point may be off: the weather's 15 hPa either way are 0.4 °C."""

Z90: Final = 1.6449
"""A normal number is within so many standard deviations nine times in ten."""

_BELIEF: Final = 12
"""How many readings the stated error of a reading is worth, against their own scatter."""

_ROUNDS: Final = 50
_ORDINALS: Final = ("first", "second", "third", "fourth", "fifth", "sixth")
_VESSELS: Final = ("gaiwan", "lidded cup", "tasting cup", "pot", "bowl", "jar", "cup")


@dataclass(frozen=True)
class Estimate:
    """A temperature, and the band that holds it nine times in ten."""

    temp_c: float
    low_c: float
    high_c: float

    @classmethod
    def measured(cls, temp_c: float, error_c: float = 1.0) -> Estimate:
        """Return a thermometer's reading."""
        return cls(temp_c, temp_c - error_c, temp_c + error_c)

    @property
    def range(self) -> Range:
        """Return the band as a range."""
        return Range(self.low_c, self.temp_c, self.high_c)


@dataclass(frozen=True)
class Reading:
    """What a thermometer showed so long after the boil, right within `error_c` nine times in ten.

    The boil itself is a reading too: `boil` makes it.
    """

    elapsed_s: float
    temp_c: float
    error_c: float = 1.0


def boil(hottest_c: float) -> Reading:
    """Return the boil as a reading, from how hot water can be at the place."""
    return Reading(0.0, hottest_c, BOIL_ERROR_C)


@dataclass(frozen=True)
class Rate:
    """What is believed of a cooling constant before this boil was read.

    Parameters
    ----------
    ln_k : float
        Logarithm of the constant, the constant in 1/s.
    sd : float
        Standard deviation of `ln_k`.
    boils : int
        How many earlier boils of this kettle it rests on; 0 for a range stated for kettles at large.
    """

    ln_k: float
    sd: float
    boils: int = 0

    @property
    def per_s(self) -> Range:
        """Return the constant as a range, in 1/s."""
        reach = math.exp(Z90 * self.sd)
        k_per_s = math.exp(self.ln_k)
        return Range(k_per_s / reach, k_per_s, k_per_s * reach)


@dataclass(frozen=True)
class CoolingFit:
    """One boil's cooling: the constant, the air and the start, with what is not known of them.

    Parameters
    ----------
    ln_k, ambient_c, start_c : float
        Logarithm of the constant (1/s), the air's temperature, the water's at time 0.
    root : tuple of tuples, shape (3, 3)
        Columns of the Cholesky root of the covariance of those three.
    readings : int
        How many readings of this boil it rests on, the boil itself among them.
    boils : int
        How many earlier boils of this kettle it rests on.
    air_measured : bool
        Whether the air's temperature was given, not assumed.
    noise_c : float
        Standard deviation of a reading, as the readings themselves have it.
    read_until_s : float
        Time of the last reading.
    read_at_c : float
        Mean of the readings.
    """

    ln_k: float
    ambient_c: float
    start_c: float
    root: tuple[tuple[float, float, float], ...]
    readings: int
    boils: int
    air_measured: bool
    noise_c: float
    read_until_s: float
    read_at_c: float

    @property
    def k_per_s(self) -> float:
        """Return the cooling constant."""
        return math.exp(self.ln_k)

    @property
    def k_range_per_s(self) -> Range:
        """Return the cooling constant with its band."""
        return Rate(self.ln_k, math.sqrt(sum(column[0] ** 2 for column in self.root))).per_s

    @property
    def is_of_this_kettle(self) -> bool:
        """Say whether this kettle's own readings stand behind it, not the range for kettles at large alone."""
        return self.readings > 1 or self.boils > 0

    @property
    def told(self) -> str:
        """Return what the estimate rests on, in one sentence."""
        air = f"the air at {self.ambient_c:.0f} °C" + ("" if self.air_measured else ", which is assumed")
        return f"From {self._sources}, {air}."

    @property
    def _sources(self) -> str:
        if not self.is_of_this_kettle:
            return "a range for kettles at large"
        here = [_counted(self.readings, "reading")] if self.readings > 1 else []
        before = [_counted(self.boils, "earlier boil") + " of this kettle"] if self.boils else []
        return " and ".join(here + before)


def given_air(temp_c: float) -> Range:
    """Return the air's temperature as somebody read it, within a degree.

    Raises
    ------
    QuantityError
        If nobody can taste in such air.
    """
    return Range(AIR_C.checked(temp_c) - 1, temp_c, temp_c + 1)


def rate_of(per_min: Range) -> Rate:
    """Return what a stated range of a cooling constant, in 1/min, says of its logarithm in 1/s."""
    sd = math.log(per_min.high / per_min.low) / (2 * Z90)
    return Rate(math.log(per_min.middle / 60), max(sd, 1e-3))


def checked_readings(readings: Sequence[Reading]) -> tuple[Reading, ...]:
    """Return the readings of one boil by time, if they can be.

    Raises
    ------
    QuantityError
        If there is none, a number is out of range, or the water grew hotter: then it has been heated again.
    """
    if not readings:
        raise QuantityError("Say when the kettle boiled, or enter one reading.")
    in_order = tuple(sorted(readings, key=lambda one: one.elapsed_s))
    coolest_c = math.inf
    for number, reading in enumerate(in_order):
        SINCE_S.checked(reading.elapsed_s)
        KETTLE_C.checked(reading.temp_c)
        if reading.temp_c > coolest_c + HOTTER_C:
            raise QuantityError(
                f"The kettle is hotter at the {_ordinal(number)} reading ({reading.temp_c:g} °C) than it was "
                f"({round(coolest_c, 1):g} °C): has it boiled again? If so, mark the boil; if it was "
                "only heated, enter the reading once more."
            )
        coolest_c = min(coolest_c, reading.temp_c)
    return in_order


def cooling(readings: Sequence[Reading], rate: Rate, air: Range, *, air_measured: bool = False) -> CoolingFit:
    """Return how one boil cools, from its readings and from what was believed before.

    Parameters
    ----------
    readings : sequence of Reading
        At least one; the boil counts as one.
    rate : Rate
        `rate_of` the stated range for kettles at large, or what `learnt` from this kettle's earlier boils.
    air : Range
        In °C: `given_air`, or the figure for an ordinary room.

    Raises
    ------
    QuantityError
        If the readings cannot be (see `checked_readings`).
    """
    in_order = checked_readings(readings)
    believed = (rate.ln_k, air.middle, in_order[0].temp_c)
    mean, root, rss = _solved(in_order, rate, air, 1.0, believed)
    scatter = 1.0
    if len(in_order) > 1:
        scatter = (_BELIEF + rss) / (_BELIEF - 2 + max(0, len(in_order) - 2))
        mean, root, _ = _solved(in_order, rate, air, scatter, mean)
    noise_c = math.sqrt(scatter) * max(one.error_c for one in in_order) / Z90
    read_at_c = sum(one.temp_c for one in in_order) / len(in_order)
    return CoolingFit(*mean, root, len(in_order), rate.boils, air_measured, noise_c, in_order[-1].elapsed_s, read_at_c)


def learnt(boils: Sequence[Sequence[Reading]], rate: Rate, air: Range, spread_pct: float) -> Rate:
    """Return what earlier boils of one kettle say of how the next will cool.

    Parameters
    ----------
    boils : sequence of sequences of Reading
        The readings of each earlier boil; those of one reading say nothing of k and are passed over.
    rate : Rate
        The stated range for kettles at large.
    spread_pct : float
        How far a boil differs from its kettle, one standard deviation (figure `kettle_spread`).
    """
    between = (spread_pct / 100) ** 2
    precision = 1 / max(rate.sd**2 - between, 1e-4)
    weighted = rate.ln_k * precision
    telling = [boil_readings for boil_readings in boils if len(boil_readings) > 1]
    for boil_readings in telling:
        ln_k, variance = _told_by(cooling(boil_readings, rate, air), rate)
        weight = 1 / (variance + between)
        precision += weight
        weighted += ln_k * weight
    return Rate(weighted / precision, math.sqrt(1 / precision + between), len(telling)) if telling else rate


def temp_at(fit: CoolingFit, since_s: float) -> Estimate:
    """Return how hot the kettle is so long after the boil.

    Raises
    ------
    QuantityError
        If the time is negative or longer than a day.
    """
    SINCE_S.checked(since_s)
    mean = (fit.ln_k, fit.ambient_c, fit.start_c)
    middle_c = _temp_c(mean, since_s)
    below = above = 0.0
    for column in fit.root:
        for sign in (-1, 1):
            moved = tuple(one + sign * Z90 * step for one, step in zip(mean, column, strict=True))
            off_c = _temp_c(moved, since_s) - middle_c
            below, above = below + min(off_c, 0.0) ** 2, above + max(off_c, 0.0) ** 2
    high_c = middle_c + math.sqrt(above) + _slower_c(fit, since_s)
    return Estimate(middle_c, middle_c - math.sqrt(below), high_c)


def doubt(fit: CoolingFit, figures: Figures) -> str:
    """Return what to ask when a kettle surely cools unlike kettles at large, empty otherwise. Nothing is refused."""
    k_per_min, usual = fit.k_range_per_s.times(60), figures.range("kettle_k_per_min")
    if k_per_min.low > usual.high:
        return "It cools faster than kettles do: was cold water added, or is this not the kettle that boiled?"
    if k_per_min.high < usual.low:
        return "It cools more slowly than kettles do: is it insulated, or still on the heat?"
    return ""


def air_of(figures: Figures) -> Range:
    """Return the air's temperature where nobody read it, in °C."""
    return figures.range("ambient_c")


def vessel_mass_g(vessel: str, volume_ml: float, figures: Figures) -> Range:
    """Return the mass of a vessel by its kind, such as `gaiwan` or `small pot, 150 ml`, and what it holds.

    Raises
    ------
    QuantityError
        If the volume cannot be.
    """
    kind = next((one for one in _VESSELS if one in vessel.lower()), "other")
    return figures.range(f"vessel_mass_{kind.replace(' ', '_')}").times(VOLUME_ML.checked(volume_ml))


def weighed_vessel_g(mass_g: float) -> Range:
    """Return the mass of a vessel that was weighed.

    Raises
    ------
    QuantityError
        If it cannot be.
    """
    return Range.exactly(VESSEL_G.checked(mass_g))


def at_pour(
    kettle: Estimate,
    water_ml: float,
    vessel_g: Range,
    leaf_g: Range,
    figures: Figures,
    *,
    vessel_warmed: bool,
    leaf_wet: bool = False,
    air: Range | None = None,
) -> Estimate:
    """Return how hot water, vessel and leaf are together, just after the pour.

    Parameters
    ----------
    kettle : Estimate
        The water in the kettle.
    water_ml : float
        What is poured in.
    vessel_g, leaf_g : Range
        Masses; `vessel_mass_g`, `weighed_vessel_g`, `dose.leaf_by_eye` or `Range.exactly`. Leaf may be 0.
    vessel_warmed : bool
        Whether the vessel was warmed: rinsed with hot water, or emptied of an infusion just before.
    leaf_wet : bool
        Whether the leaf has been in water before; it then holds water about as hot as a warmed vessel.
    air : Range or None
        In °C; None for the figure of an ordinary room.

    Raises
    ------
    QuantityError
        If a number cannot be.
    """
    VOLUME_ML.checked(water_ml)
    if leaf_g.high > 0:
        LEAF_G.checked(leaf_g.middle)
    KETTLE_C.checked(kettle.temp_c)
    names = (
        "pour_loss", "density_water", "specific_heat_water", "specific_heat_vessel", "specific_heat_leaf",
        "vessel_takes_part", "warmed_to", "leaf_holds",
    )  # fmt: skip
    mixed = spread(
        lambda *numbers: _mixed_c(numbers, water_ml, warmed=vessel_warmed, wet=leaf_wet),
        kettle.range, air or air_of(figures), vessel_g, leaf_g, *(figures.range(name) for name in names),
    )  # fmt: skip
    return Estimate(mixed.middle, mixed.low, mixed.high)


def steep_rate_per_s(figures: Figures, *, lidded: bool) -> Range:
    """Return the cooling constant of a small vessel during a steep, in 1/s."""
    return figures.range("lidded_k_per_min" if lidded else "open_k_per_min").times(1 / 60)


def cooled_c(start_c: float, air_c: float, k_per_s: float, after_s: float) -> float:
    """Return the temperature after a while, by (1)."""
    return air_c + (start_c - air_c) * math.exp(-k_per_s * after_s)


def mean_c(start_c: float, air_c: float, k_per_s: float, over_s: float) -> float:
    """Return the mean temperature over a while, by (2)."""
    cooled = k_per_s * over_s
    share = -math.expm1(-cooled) / cooled if cooled > 1e-9 else 1.0
    return air_c + (start_c - air_c) * share


def through_steep(
    start: Estimate, steep_s: float, figures: Figures, *, lidded: bool, air: Range | None = None
) -> Estimate:
    """Return the mean temperature through a steep.

    Raises
    ------
    QuantityError
        If the time cannot be that of a steep.
    """
    STEEP_S.checked(steep_s)
    mean = spread(
        lambda start_c, air_c, k_per_s: mean_c(start_c, air_c, k_per_s, steep_s),
        start.range, air or air_of(figures), steep_rate_per_s(figures, lidded=lidded),
    )  # fmt: skip
    return Estimate(mean.middle, mean.low, mean.high)


def seconds_until_c(start: Estimate, target_c: float, k_per_s: Range, air: Range) -> Range:
    """Return how long until something has cooled to a temperature, in seconds, by (3); 0 where it already has.

    The long end is the one for a caution.

    Raises
    ------
    QuantityError
        If the target is no temperature of water, or the air is so warm that it may never be reached.
    """
    if WATER_C.checked(target_c) <= air.high:
        raise QuantityError(
            f"In air of up to {air.high:g} °C nothing is sure to cool to {target_c:g} °C. Choose a warmer one."
        )
    waiting = spread(
        lambda start_c, air_c, k: max(0.0, math.log(max(start_c - air_c, 1e-9) / (target_c - air_c)) / k),
        start.range, air, k_per_s,
    )  # fmt: skip
    return Range(max(0.0, waiting.low), waiting.middle, waiting.high)


def until_sip_s(start: Estimate, figures: Figures, air: Range | None = None) -> Range:
    """Return how long until a cup has cooled to the hottest sip, in seconds."""
    k_per_s = figures.range("cup_k_per_min").times(1 / 60)
    return seconds_until_c(start, figures.value("sip_limit_c"), k_per_s, air or air_of(figures))


def sip_words(waiting_s: Range, limit_c: float, show: Callable[[float], str] = degrees) -> str:
    """Return in words how long to wait before sipping, empty once the cup has surely cooled.

    Parameters
    ----------
    show : callable
        Puts a temperature in °C into words, for those who read °F.
    """
    if waiting_s.high <= 0:
        return ""
    soonest, latest = math.floor(waiting_s.low / 60), math.ceil(waiting_s.high / 60)
    if latest <= 1:
        return f"Above {show(limit_c)} for up to a minute yet."
    span = f"up to {latest}" if soonest == 0 else f"{soonest} to {latest}"
    return f"Above {show(limit_c)} for {span} min yet (estimate)."


def _temp_c(parameters: Sequence[float], since_s: float) -> float:
    ln_k, ambient_c, start_c = parameters
    return cooled_c(start_c, ambient_c, math.exp(ln_k), since_s)


def _slower_c(fit: CoolingFit, since_s: float) -> float:
    """Return how much hotter the water may be, later than it was read, because cooling slows down: (4)."""
    beyond_s = since_s - fit.read_until_s
    if fit.readings < 2 or beyond_s <= 0:
        return 0.0
    mean = (fit.ln_k, fit.ambient_c, fit.start_c)
    midway_c, last_c = (_temp_c(mean, since_s - back_s) for back_s in (beyond_s / 2, beyond_s))
    ratio = max(midway_c - fit.ambient_c, 0.0) / max(fit.read_at_c - fit.ambient_c, 1e-9)
    slow_c = cooled_c(last_c, fit.ambient_c, fit.k_per_s * math.sqrt(min(ratio, 1.0)), beyond_s)
    return max(0.0, slow_c - _temp_c(mean, since_s))


def _mixed_c(numbers: Sequence[float], water_ml: float, *, warmed: bool, wet: bool) -> float:
    """Return the common temperature of water, vessel and leaf, by the energy balance."""
    kettle_c, air_c, vessel_g, leaf_g, loss, density, c_water, c_vessel, c_leaf, takes_part, warmed_to, holds = numbers
    water_c = air_c + (1 - loss) * (kettle_c - air_c)
    warm_c = air_c + warmed_to * (water_c - air_c)
    water_j_k = water_ml * density * c_water
    vessel_j_k = vessel_g * takes_part * c_vessel
    leaf_j_k = leaf_g * (c_leaf + (holds * c_water if wet else 0.0))
    vessel_c = warm_c if warmed else air_c
    leaf_c = warm_c if wet else air_c
    heat = water_j_k * water_c + vessel_j_k * vessel_c + leaf_j_k * leaf_c
    return heat / (water_j_k + vessel_j_k + leaf_j_k)


def _told_by(fit: CoolingFit, rate: Rate) -> tuple[float, float]:
    """Return what one boil's readings alone say of ln k, and with what variance: the fit less the belief before."""
    variance = sum(column[0] ** 2 for column in fit.root)
    precision = max(1 / variance - 1 / rate.sd**2, 1e-9)
    return (fit.ln_k / variance - rate.ln_k / rate.sd**2) / precision, 1 / precision


def _solved(
    readings: Sequence[Reading], rate: Rate, air: Range, scatter: float, begin: tuple[float, float, float]
) -> tuple[tuple[float, float, float], tuple[tuple[float, float, float], ...], float]:
    """Return ln k, air and start by Gauss-Newton, the columns of their root, and the readings' sum of squares."""
    import numpy as np

    elapsed_s = np.array([one.elapsed_s for one in readings])
    temp_c = np.array([one.temp_c for one in readings])
    weight = (Z90 / np.array([one.error_c for one in readings])) ** 2
    believed = np.array([rate.ln_k, air.middle, readings[0].temp_c])
    # The start has no belief of its own; 100 °C either way keeps the sum solvable when no reading tells of it.
    certainty = np.array([1 / max(rate.sd, 1e-6) ** 2, (2 * Z90 / max(air.high - air.low, 0.01)) ** 2, 1e-4])
    at = np.array(begin)
    for _ in range(_ROUNDS):
        k_per_s = np.exp(at[0])
        left = np.exp(-k_per_s * elapsed_s)
        off_c = temp_c - (at[1] + (at[2] - at[1]) * left)
        slopes = np.stack([-(at[2] - at[1]) * k_per_s * elapsed_s * left, 1 - left, left], axis=1)
        curvature = slopes.T @ (slopes * (weight / scatter)[:, None]) + np.diag(certainty)
        step = np.linalg.solve(curvature, slopes.T @ (off_c * weight / scatter) + certainty * (believed - at))
        at = at + step / max(1.0, abs(step[0]))
        if np.abs(step).max() < 1e-7:
            break
    root = np.linalg.cholesky(np.linalg.inv(curvature))
    rss = float((off_c**2 * weight).sum())
    ln_k, ambient_c, start_c = (float(one) for one in at)
    first, second, third = ((float(a), float(b), float(c)) for a, b, c in root.T)
    return (ln_k, ambient_c, start_c), (first, second, third), rss


def _ordinal(number: int) -> str:
    return _ORDINALS[number] if number < len(_ORDINALS) else "latest"


def _counted(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"
