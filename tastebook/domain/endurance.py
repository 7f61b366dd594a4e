"""How many good infusions a leaf has: from the strength readings, and from the extraction model.

**From the readings.** From the peak on (its first maximum), the logarithm of the strength y is taken to fall along a
line,

    ln y_n = a + b n + e_n ,   e_n ~ Normal(0, s),   n the number of the infusion

fitted by least squares; a reading below 0.25 counts as 0.25. It meets the floor F (2.0 unless the user sets another) at
n* = (ln F - a) / b. The interval is Fieller's: all n at which the line differs from ln F by no more than chance
allows,

    (a + b n - ln F)^2 <= t^2 s^2 (1/N + (n - mean)^2 / Sxx),   t: 95 % point of Student's t, N - 2 degrees of freedom

so that it holds n* in nine of ten sessions. It is open upwards where the fall itself is within chance. s is never taken
below what the rounding of the readings alone brings, so that a lucky straight row is not read as certainty. Fewer than
three readings past the peak are too few to say.

**From the model.** With the rate and gain believed in (`leaf_learning`), the strength of every infusion of a plan
follows; its crossing of the floor is worked out for many rates and gains, each weighed by how likely it is. Brewed to
equal strength instead, with a share f of the pool each time, the leaf has as many infusions as f goes into 1, less the
last that would need all the rest: about 1/f.

Sources: Fieller 1954, J. R. Stat. Soc. B 16:175-185 (from memory; checked in the tests by simulation). Student's t: the
usual table, checked in the tests against scipy.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from tastebook.domain.errors import QuantityError
from tastebook.domain.extraction import Leaf, Steeped, extents_at, rates_of
from tastebook.domain.figures import Figures, Range
from tastebook.domain.leaf_learning import DOSE_G_PER_100ML, LeafBelief, fineness, plain_leaf
from tastebook.domain.quantities import INTENSITY, Quantity

if TYPE_CHECKING:
    from tastebook.domain.leaf_learning import Array

FLOOR: Final = 2.0
FLOOR_QUANTITY: Final = Quantity("floor of strength", "of 5", 0.1, 5)
LEAST_PAST_PEAK: Final = 3
AS_NOTHING: Final = 0.25
"""What a smaller reading counts as, since 0 has no logarithm. Ours, no source."""

Basis: TypeAlias = Literal["readings", "extraction"]
Outcome: TypeAlias = Literal["known", "too few", "not falling", "below the floor"]

_T_95: Final = (
    6.314, 2.920, 2.353, 2.132, 2.015, 1.943, 1.895, 1.860, 1.833, 1.812, 1.796, 1.782, 1.771, 1.761, 1.753,
    1.746, 1.740, 1.734, 1.729, 1.725, 1.721, 1.717, 1.714, 1.711, 1.708, 1.706, 1.703, 1.701, 1.699, 1.697,
)  # fmt: skip
"""95 % points of Student's t for 1 to 30 degrees of freedom."""

_NORMAL_95: Final = 1.645
_RATES, _GAINS, _REACH = 31, 21, 3.0
_ENDS: Final = (0.05, 0.5, 0.95)


@dataclass(frozen=True)
class Endurance:
    """At which infusion the strength meets the floor, with an interval that holds it nine times in ten.

    Parameters
    ----------
    basis : str
        What it rests on.
    outcome : str
        Whether there is such an infusion.
    low, middle, high : float
        In infusions, with fractions; infinite where it is open. All 0 where none reached the floor; without meaning
        where there were too few readings.
    floor : float
        The strength below which an infusion is not good.
    readings : int
        How many readings it rests on.
    """

    basis: Basis
    outcome: Outcome
    low: float
    middle: float
    high: float
    floor: float
    readings: int

    @property
    def good_infusions(self) -> int | None:
        """Return how many infusions are good, None where it cannot be said."""
        if self.outcome == "below the floor":
            return 0
        return math.floor(self.middle + 1e-9) if self.outcome == "known" and math.isfinite(self.middle) else None

    @property
    def told(self) -> str:
        """Return it in one sentence."""
        if self.outcome == "too few":
            return "Too few to say: at least three strength readings past the strongest are needed."
        if self.outcome == "below the floor":
            return f"No infusion reached {self.floor:g}."
        whose = "by your strength readings" if self.basis == "readings" else "by the extraction model"
        if self.outcome == "not falling" or math.isinf(self.middle):
            least = math.floor(self.low) if math.isfinite(self.low) and self.low >= 1 else 0
            end = f": {least} or more" if least else ""
            return f"No end in sight {whose}{end}."
        return f"{_counted(math.floor(self.middle + 1e-9))} {whose}, {self._interval}."

    @property
    def _interval(self) -> str:
        low = max(0, math.floor(self.low + 1e-9))
        if math.isinf(self.high):
            return f"in nine of ten cases {low} or more"
        high = math.floor(self.high + 1e-9)
        return f"in nine of ten cases {low}" if low == high else f"in nine of ten cases {low} to {high}"


def endurance_from_readings(readings: Sequence[float | None], floor: float = FLOOR) -> Endurance:
    """Return how many good infusions the strength readings show.

    Parameters
    ----------
    readings : sequence of float or None
        Overall strength, 0 to 5; the first belongs to infusion 1, None where it was not read.

    Raises
    ------
    QuantityError
        If a reading or the floor is not on the scale.
    """
    FLOOR_QUANTITY.checked(floor)
    read = [(n, INTENSITY.checked(value)) for n, value in enumerate(readings, start=1) if value is not None]
    peak = max(range(len(read)), key=lambda place: (read[place][1], -place), default=0)
    past = read[peak:]
    if len(past) - 1 < LEAST_PAST_PEAK:
        return Endurance("readings", "too few", 0.0, 0.0, 0.0, floor, len(read))
    if past[0][1] < floor:
        return Endurance("readings", "below the floor", 0.0, 0.0, 0.0, floor, len(read))
    # The peak itself was read at the floor or above, so the leaf lasts at least to there.
    low, middle, high = (max(float(past[0][0]), end) for end in _fitted(past, floor).crossing)
    return Endurance(
        "readings", "known" if math.isfinite(middle) else "not falling", low, middle, high, floor, len(read)
    )


@dataclass(frozen=True)
class _Line:
    """A fitted line: its height above ln floor at the mean infusion, its slope, and how sure they are."""

    mean_n: float
    height: float
    slope: float
    variance: float
    count: int
    sxx: float

    @property
    def crossing(self) -> tuple[float, float, float]:
        """Return where the line meets the floor, and the ends of Fieller's interval."""
        allowed = _t_95(self.count - 2) ** 2 * self.variance
        middle = self.mean_n - self.height / self.slope if self.slope < 0 else math.inf
        square = self.slope**2 - allowed / self.sxx
        constant = self.height**2 - allowed / self.count
        root = (self.height * self.slope) ** 2 - square * constant
        if square <= 0 or self.slope >= 0:  # the fall itself is within chance
            return self._lower_end(square, constant, root), middle, math.inf
        half = math.sqrt(max(0.0, root)) / square
        centre = self.mean_n - self.height * self.slope / square
        return max(0.0, centre - half), middle, centre + half

    def _lower_end(self, square: float, constant: float, root: float) -> float:
        """Return the earliest infusion at which the floor may be met although no fall is sure, infinite if none."""
        # The floor may be met already in the middle of the readings, or anywhere.
        if constant <= 0 or self.height <= 0 or square == 0 or root < 0:
            return 0.0
        ends = [(-self.height * self.slope + sign * math.sqrt(root)) / square for sign in (-1, 1)]
        later = [self.mean_n + end for end in ends if end > 0]
        return min(later, default=math.inf)


def _fitted(past: Sequence[tuple[int, float]], floor: float) -> _Line:
    count = len(past)
    logs = [math.log(max(value, AS_NOTHING)) for _, value in past]
    mean_n = math.fsum(n for n, _ in past) / count
    mean_log = math.fsum(logs) / count
    sxx = math.fsum((n - mean_n) ** 2 for n, _ in past)
    slope = math.fsum((n - mean_n) * log for (n, _), log in zip(past, logs, strict=True)) / sxx
    squares = math.fsum((log - mean_log - slope * (n - mean_n)) ** 2 for (n, _), log in zip(past, logs, strict=True))
    variance = max(squares / (count - 2), _rounding(past))
    return _Line(mean_n, mean_log - math.log(floor), slope, variance, count, sxx)


def _rounding(past: Sequence[tuple[int, float]]) -> float:
    """Return the variance of ln strength that rounding alone brings: of a step, a twelfth of its square."""
    step = min(fineness(value) for _, value in past)
    return math.fsum(step**2 / 12 / max(value, AS_NOTHING) ** 2 for _, value in past) / len(past)


def _t_95(degrees: int) -> float:
    return _T_95[degrees - 1] if degrees <= len(_T_95) else _NORMAL_95 + (_T_95[-1] - _NORMAL_95) * 30 / degrees


def endurance_from_extraction(
    figures: Figures,
    leaf: Leaf,
    belief: LeafBelief,
    plan: Sequence[Steeped],
    *,
    dose_g_per_100ml: float,
    first: int = 1,
    floor: float = FLOOR,
) -> Endurance:
    """Return how many good infusions the extraction model expects.

    Parameters
    ----------
    belief : LeafBelief
        What is held of the leaf's rate and the taster's gain.
    plan : sequence of Steeped
        What the leaf went through and what is planned for it, the rinse included; as long as it may matter.
    first : int
        Place of infusion 1 in the plan: 1 where the first is the rinse, else 0.
    """
    FLOOR_QUANTITY.checked(floor)
    DOSE_G_PER_100ML.checked(dose_g_per_100ml)
    if not 0 <= first < len(plan):
        raise QuantityError("A plan needs at least one infusion.")
    usual = extents_at(rates_of(figures, plain_leaf(leaf)).middle, plan, figures.value("rest_usual"))
    crossing, weight = _crossings(belief, usual, first, dose_g_per_100ml, floor)
    low, middle, high = (_quantile(crossing, weight, end) for end in _ENDS)
    outcome: Outcome = "known" if math.isfinite(middle) else "not falling"
    return Endurance(
        "extraction", "below the floor" if middle <= 0 else outcome, low, middle, high, floor, belief.readings
    )


def equal_cups(share: Range) -> tuple[int, int, int]:
    """Return how many infusions of equal strength a leaf has when each takes a share of the pool: low, middle, high.

    As many times as the share goes into 1, without the last where that would need all that is left.
    """
    if not 0 < share.low <= share.high < 1:
        raise QuantityError("An infusion takes more than nothing and less than all of the leaf.")
    few, middle, many = (math.ceil(1 / one - 1e-9) - 1 for one in (share.high, share.middle, share.low))
    return few, middle, many


def agree(one: Endurance, other: Endurance) -> bool:
    """Say whether two estimates agree: each middle lies within the other's interval, and both are known."""
    if one.outcome != "known" or other.outcome != "known":
        return False
    return one.low <= other.middle <= one.high and other.low <= one.middle <= other.high


def told_of_both(by_readings: Endurance, by_model: Endurance) -> tuple[str, ...]:
    """Return one sentence where readings and model agree, both where they do not."""
    if agree(by_readings, by_model):
        return (f"{by_readings.told} The extraction model agrees.",)
    return (by_readings.told, by_model.told)


def _crossings(
    belief: LeafBelief, usual: Sequence[float], first: int, dose: float, floor: float
) -> tuple[Array, Array]:
    """Return where the floor is met for rates and gains on a grid, and how likely each of them is."""
    import numpy as np

    rate_step, gain_step = (
        axis.ravel() for axis in np.meshgrid(*(np.linspace(-_REACH, _REACH, n) for n in (_RATES, _GAINS)))
    )
    weight = np.exp(-0.5 * (rate_step**2 + gain_step**2))
    rate = np.exp(belief.ln_rate + belief.ln_rate_sd * rate_step)
    apart = belief.correlation * rate_step + math.sqrt(1 - belief.correlation**2) * gain_step
    gain = np.exp(belief.ln_gain + belief.ln_gain_sd * apart)
    extent = rate[:, None] * np.array(usual)[None, :]
    passed = np.cumsum(extent, axis=1) - extent
    share = np.maximum(-np.exp(-passed) * np.expm1(-extent), 1e-300)[:, first:]
    height = np.log(gain[:, None] * dose * share / floor)
    return _where_it_falls_below(height), weight / weight.sum()


def _where_it_falls_below(height: Array) -> Array:
    """Return where each row of ln(strength/floor) first falls below 0 after its peak; 0 if it never reached it."""
    import numpy as np

    rows, infusions = height.shape
    past_peak = np.arange(infusions)[None, :] >= np.argmax(height, axis=1)[:, None]
    below = past_peak & (height < 0)
    falls = below.any(axis=1)
    place = np.where(falls, np.argmax(below, axis=1), 0)
    every = np.arange(rows)
    before = height[every, np.maximum(place - 1, 0)]
    after = height[every, place]
    drop = np.where(before > after, before - after, 1.0)
    crossing = place + np.clip(before / drop, 0.0, 1.0)
    never = height.max(axis=1) < 0
    return np.where(never, 0.0, np.where(falls, crossing, np.inf))


def _quantile(values: Array, weight: Array, share: float) -> float:
    import numpy as np

    order = np.argsort(values)
    reached = np.cumsum(weight[order])
    return float(values[order][min(int(np.searchsorted(reached, share)), values.size - 1)])


def _counted(number: int) -> str:
    return "One good infusion" if number == 1 else f"{number} good infusions"
