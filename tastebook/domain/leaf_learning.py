"""What strength readings teach: how fast a leaf gives, how its taster reads strength, and how sure that is.

The taster reads the strength of cups on the scale 0 to 5. Of infusion i the model says

    y_i = g c_i + e_i ,   c_i = D exp(-m (X_1 + ... + X_{i-1})) (1 - exp(-m X_i)) ,   e_i ~ Normal(0, s)

rounded (most readings are whole steps) and held at 0 and 5, with

    m    the leaf's rate, times what is usual for its form and way of brewing (no unit): f and k follow from it
    X_i  extent of infusion i at the usual rate (`extraction`), no unit;  D  dose, g of leaf per 100 ml
    g    the taster's gain: strength read for each g per 100 ml given off whole
    s    scatter of the readings, steps of the scale

**Prior.** ln m and ln g are normal, as wide as the figures say (their ranges hold nine in ten), or as earlier sessions
left them; s is lognormal. So with few readings the estimate stays near what was known before.

**Posterior.** The likelihood of a reading is the chance of falling within half a step of it (anywhere beyond, at the
ends of the scale), and 2 in 100 readings may be slips that say nothing. It is summed over a grid: ln m in even steps, s
at a few values, and for each of them ln g at points set where the readings put it, so that even a sharp ridge is
caught. What is kept is mean, standard deviation and correlation of ln m and ln g: four numbers and a correlation, small
enough to store.

**From session to session** the means stay and the variances grow by that of `between_sessions`, never beyond the
prior's; for another taster the gain starts anew.

Limits: strength is taken as proportional to what is dissolved; a taster who tires, or a leaf whose strong taste leaves
faster than its body, bends the estimate. That temperature effects differ from the published is not learned.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Final, TypeAlias

from tastebook.domain.errors import QuantityError
from tastebook.domain.extraction import LEARNED, Leaf, Steeped, extents_at, rates_of
from tastebook.domain.figures import Figures, Range
from tastebook.domain.quantities import INTENSITY, Quantity

if TYPE_CHECKING:
    import numpy as np

    Array: TypeAlias = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

DOSE_G_PER_100ML: Final = Quantity("dose", "g per 100 ml", 0.05, 50)
NINE_IN_TEN: Final = 1.6448536269514722
"""Standard deviations from the mean to either end of the middle nine tenths of a normal distribution."""

ENOUGH_READINGS: Final = 3
"""From so many readings on, what is said of a leaf is called fitted to the taster's own sessions. Ours, no source."""

_SLIPS: Final = 0.02
_FINENESS: Final = (1.0, 0.5, 0.1)
"""A reading is as fine as it is written: in whole steps, in halves, or finer."""

_DOUBTFUL: Final = 2.0
"""A reading marked doubtful or clouded counts as one of twice the scatter."""

_RATES, _SCATTERS, _GAINS = 41, 5, 15
_RATES_REACH, _GAINS_REACH = 3.5, 4.0


@dataclass(frozen=True)
class StrengthReading:
    """How strong a cup was.

    Parameters
    ----------
    place : int
        Place of its steep among the session's steeps, from 0.
    value : float
        On the scale, 0 to 5.
    doubtful : bool
        Whether it was marked doubtful or clouded.
    """

    place: int
    value: float
    doubtful: bool = False

    def __post_init__(self) -> None:
        INTENSITY.checked(self.value)


@dataclass(frozen=True)
class LeafBelief:
    """What is held of a leaf's rate and its taster's gain: jointly normal in their logarithms.

    `readings` and `sessions` say on how much it rests.
    """

    ln_rate: float
    ln_rate_sd: float
    ln_gain: float
    ln_gain_sd: float
    correlation: float = 0.0
    readings: int = 0
    sessions: int = 0

    def __post_init__(self) -> None:
        numbers = (self.ln_rate, self.ln_rate_sd, self.ln_gain, self.ln_gain_sd, self.correlation)
        if not all(math.isfinite(one) for one in numbers):
            raise QuantityError("What was learned of a leaf must be numbers.")
        if not (0 < self.ln_rate_sd <= 5 and 0 < self.ln_gain_sd <= 5 and -1 < self.correlation < 1):
            raise QuantityError("What was learned of a leaf has an impossible spread: start it anew.")
        if abs(self.ln_rate) > 4 or abs(self.ln_gain) > 10 or self.readings < 0 or self.sessions < 0:
            raise QuantityError("What was learned of a leaf is out of all range: start it anew.")

    @property
    def rate(self) -> Range:
        """Return the rate, times the usual, with nine in ten of what is likely; for `Leaf.learned`."""
        ends = (self.ln_rate + step * self.ln_rate_sd for step in (-NINE_IN_TEN, 0.0, NINE_IN_TEN))
        return Range(*(min(LEARNED.most, max(LEARNED.least, math.exp(one))) for one in ends))

    @property
    def gain(self) -> Range:
        """Return the strength read for each g per 100 ml given off whole, with nine in ten of what is likely."""
        ends = (self.ln_gain + step * self.ln_gain_sd for step in (-NINE_IN_TEN, 0.0, NINE_IN_TEN))
        return Range(*(math.exp(one) for one in ends))

    @property
    def is_fitted(self) -> bool:
        """Say whether there are enough readings to call it fitted."""
        return self.readings >= ENOUGH_READINGS

    def as_table(self) -> dict[str, float | int]:
        """Return words and numbers to store, as `belief_from_table` reads them."""
        return {
            "ln_rate": self.ln_rate,
            "ln_rate_sd": self.ln_rate_sd,
            "ln_gain": self.ln_gain,
            "ln_gain_sd": self.ln_gain_sd,
            "correlation": self.correlation,
            "readings": self.readings,
            "sessions": self.sessions,
        }


def belief_from_table(table: Mapping[str, Any]) -> LeafBelief:
    """Return a belief that was stored.

    Raises
    ------
    QuantityError
        If an entry is missing or impossible.
    """
    entries = LeafBelief(0, 1, 0, 1).as_table()
    for entry in entries:
        value = table.get(entry)
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            raise QuantityError(f"{entry}: a number is needed in what was learned of a leaf, not {value!r}.")
    numbers = {entry: table[entry] for entry in entries}
    return LeafBelief(**{**numbers, "readings": int(numbers["readings"]), "sessions": int(numbers["sessions"])})


def plain_leaf(leaf: Leaf) -> Leaf:
    """Return a leaf as it is before anything was learned of it: what is learned is told against that."""
    return replace(leaf, learned=None)


def prior_belief(figures: Figures, leaf: Leaf) -> LeafBelief:
    """Return what is held of a leaf before anybody has tasted it: the usual rate, as wide as the figures' ranges."""
    slow, fast = rates_of(figures, plain_leaf(leaf)).doubts[0]
    gain = figures.range("taster_gain")
    return LeafBelief(
        ln_rate=0.0,
        ln_rate_sd=_sd(fast.ln_per_s - slow.ln_per_s),
        ln_gain=math.log(gain.middle),
        ln_gain_sd=_sd(math.log(gain.high / gain.low)),
    )


def carried_over(belief: LeafBelief, figures: Figures, leaf: Leaf, *, same_taster: bool = True) -> LeafBelief:
    """Return what a later session of the same lot begins from, given what the earlier ones taught."""
    fresh = prior_belief(figures, leaf)
    apart = figures.value("between_sessions")
    rate_sd = min(math.hypot(belief.ln_rate_sd, apart), fresh.ln_rate_sd)
    later = replace(belief, ln_rate_sd=rate_sd)
    if not same_taster:
        return replace(later, ln_gain=fresh.ln_gain, ln_gain_sd=fresh.ln_gain_sd, correlation=0.0)
    gain_sd = min(math.hypot(belief.ln_gain_sd, apart), fresh.ln_gain_sd)
    narrower = belief.ln_rate_sd * belief.ln_gain_sd / (rate_sd * gain_sd)
    return replace(later, ln_gain_sd=gain_sd, correlation=belief.correlation * min(1.0, narrower))


def learn(
    figures: Figures,
    leaf: Leaf,
    before: LeafBelief,
    steeps: Sequence[Steeped],
    readings: Sequence[StrengthReading],
    *,
    dose_g_per_100ml: float,
) -> LeafBelief:
    """Return what is held of a leaf after the readings of one session so far.

    Give all readings of the session each time, with what was held before its first: then an amended or withdrawn
    reading needs no undoing.

    Parameters
    ----------
    before : LeafBelief
        `prior_belief`, or `carried_over` from an earlier session of the lot.
    steeps : sequence of Steeped
        Everything the leaf went through, the rinse included.

    Raises
    ------
    QuantityError
        If a reading belongs to no steep, or the dose cannot be.
    """
    DOSE_G_PER_100ML.checked(dose_g_per_100ml)
    for one in readings:
        if not 0 <= one.place < len(steeps):
            raise QuantityError("A strength reading belongs to a steep that does not exist.")
    telling = [one for one in readings if steeps[one.place].time_s > 0]
    if not telling:
        return before
    rate = rates_of(figures, plain_leaf(leaf)).middle
    usual = extents_at(rate, steeps, figures.value("rest_usual"))
    learned = _posterior(before, figures.range("taster_noise"), usual, telling, dose_g_per_100ml)
    return replace(learned, readings=before.readings + len(telling), sessions=before.sessions + 1)


def fineness(value: float) -> float:
    """Return the step in which a reading was written: wholes, halves, or finer."""
    return next((step for step in _FINENESS if math.isclose(value / step, round(value / step))), _FINENESS[-1])


def _sd(width_of_ln: float) -> float:
    """Return the standard deviation of a logarithm whose range holds nine in ten."""
    return max(1e-3, width_of_ln / (2 * NINE_IN_TEN))


def _posterior(
    before: LeafBelief, noise: Range, usual: Sequence[float], readings: Sequence[StrengthReading], dose: float
) -> LeafBelief:
    """Return mean, spread and correlation of ln rate and ln gain, summed over a grid of (ln rate, scatter, ln gain)."""
    import numpy as np

    read = np.array([one.value for one in readings])
    blur = np.array([_DOUBTFUL if one.doubtful else 1.0 for one in readings])
    steps = np.linspace(-_RATES_REACH, _RATES_REACH, _RATES)
    ln_rate = before.ln_rate + before.ln_rate_sd * steps
    given = dose * _given(np.exp(ln_rate), np.array(usual), [one.place for one in readings])  # (rates, readings)
    scatter, ln_scatter_weight = _scatters(noise)

    prior_mean = before.ln_gain + before.correlation * before.ln_gain_sd * steps[:, None]  # (rates, 1)
    prior_sd = before.ln_gain_sd * math.sqrt(1 - before.correlation**2)
    centre, width = _where_the_gain_is(read, given, scatter, prior_mean, prior_sd)  # (rates, scatters)
    ln_gain = centre[..., None] + width[..., None] * np.linspace(-_GAINS_REACH, _GAINS_REACH, _GAINS)

    ln_weight = (
        -0.5 * steps[:, None, None] ** 2
        + ln_scatter_weight[None, :, None]
        - 0.5 * ((ln_gain - prior_mean[..., None]) / prior_sd) ** 2
        + np.log(width)[..., None]
        + _ln_likelihood(read, blur * scatter[:, None], given, np.exp(ln_gain))
    )
    weight = np.exp(ln_weight - ln_weight.max())
    weight /= weight.sum()
    return _moments(weight, ln_rate[:, None, None], ln_gain)


def _given(rate: Array, usual: Array, places: Sequence[int]) -> Array:
    """Return the share of the pool given at each place, one row for each rate."""
    import numpy as np

    extent = rate[:, None] * usual[None, :]
    passed = np.cumsum(extent, axis=1) - extent
    shares: Array = (-np.exp(-passed) * np.expm1(-extent))[:, list(places)]
    return np.maximum(shares, 1e-12)


def _scatters(noise: Range) -> tuple[Array, Array]:
    """Return values of the scatter across its range, and the logarithms of their prior weights."""
    import numpy as np

    sd = _sd(math.log(noise.high / noise.low))
    steps = np.linspace(-2, 2, _SCATTERS)
    return noise.middle * np.exp(sd * steps), -0.5 * steps**2


def _where_the_gain_is(
    read: Array, given: Array, scatter: Array, prior_mean: Array, prior_sd: float
) -> tuple[Array, Array]:
    """Return centre and width of ln gain for each rate and scatter: least squares and prior, weighed by precision.

    Readings at the ends of the scale only bound the gain and are left out. Only where the grid lies depends on this.
    """
    import numpy as np

    inner = (read > 0.25) & (read < 4.75)
    total = np.sum(given[:, inner] ** 2, axis=1)[:, None]
    if not inner.any():
        width = np.full((given.shape[0], scatter.size), prior_sd)
        return np.broadcast_to(prior_mean, width.shape).copy(), width
    fitted = np.sum(given[:, inner] * read[inner], axis=1)[:, None] / total
    precision = fitted**2 * total / (scatter[None, :] ** 2 + 1 / 12)
    width = 1 / np.sqrt(precision + prior_sd**-2)
    centre = width**2 * (precision * np.log(fitted) + prior_mean * prior_sd**-2)
    return centre, np.maximum(width, 0.02)


def _ln_likelihood(read: Array, scatter: Array, given: Array, gain: Array) -> Array:
    """Return the logarithm of the chance of all readings; shape (rates, scatters, gains)."""
    import numpy as np

    half = np.array([fineness(float(one)) / 2 for one in read])
    upper = np.where(read + half > INTENSITY.most, np.inf, read + half)
    lower = np.where(read - half < INTENSITY.least, -np.inf, read - half)
    likely = np.zeros(gain.shape)
    for place in range(read.size):
        cup = gain * given[:, place][:, None, None]
        spread = scatter[:, place][None, :, None]
        chance = _normal((upper[place] - cup) / spread) - _normal((lower[place] - cup) / spread)
        slip = _SLIPS * 2 * half[place] / (INTENSITY.most + 1)
        likely += np.log((1 - _SLIPS) * np.maximum(chance, 0.0) + slip)
    return likely


def _normal(z: Array) -> Array:
    """Return the normal distribution function, within 2e-4: a logistic curve of z and z cubed."""
    import numpy as np

    z = np.clip(z, -8.0, 8.0)
    return 1 / (1 + np.exp(-z * (1.5976 + 0.07056 * z * z)))


def _moments(weight: Array, ln_rate: Array, ln_gain: Array) -> LeafBelief:
    rate = float((weight * ln_rate).sum())
    gain = float((weight * ln_gain).sum())
    rate_sd = max(1e-3, math.sqrt(float((weight * (ln_rate - rate) ** 2).sum())))
    gain_sd = max(1e-3, math.sqrt(float((weight * (ln_gain - gain) ** 2).sum())))
    together = float((weight * (ln_rate - rate) * (ln_gain - gain)).sum()) / (rate_sd * gain_sd)
    return LeafBelief(rate, rate_sd, gain, gain_sd, max(-0.999, min(0.999, together)))
