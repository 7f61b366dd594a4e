"""Caffeine taken today, as a range; quiet words at the levels of EFSA 2015. Never advice.

    taken (mg) = leaf (g) x content (mg/g) x sum over infusions of (share extracted x share swallowed)     (1)

Leaf is weighed or by eye; content is a figure by kind of tea; the share extracted of each infusion comes from the
extraction model as a range of the leaf's whole caffeine; the share swallowed is a figure for spat, sipped and drunk.

These errors do not cancel: a content that is high is high in every cup of the leaf, and a model that overstates one
infusion overstates the next. So the ends of a range are the product of the ends, and a day is the sum of its ends: it
holds whatever the parts can be together. One thing cannot be: that more leaves the leaf than was in it. The high end
therefore takes the infusions with the largest share swallowed first, until all has left.

The levels: EFSA 2015, Scientific Opinion on the safety of caffeine, EFSA Journal 13(5):4102, found no safety concern
for adults up to 200 mg at one time and 400 mg in a day from all sources, and 200 mg a day in pregnancy. A user may set
a lower level, not a higher one.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Final, Literal, TypeAlias

from tastebook.domain.errors import QuantityError
from tastebook.domain.figures import Figures, Range
from tastebook.domain.lot import KINDS
from tastebook.domain.quantities import LEAF_G, Quantity

Swallowed: TypeAlias = Literal["spat", "sipped", "drunk"]
Watch: TypeAlias = Literal["adult", "pregnancy", "off"]
"""Whom the levels are for; off shows nothing at all."""

SHARE: Final = Quantity("share of the leaf's caffeine", "", 0, 1)
NOTHING: Final = Range(0.0, 0.0, 0.0)

SOURCE: Final = "EFSA 2015, EFSA Journal 13(5):4102"
DEFERS: Final = "An estimate from published ranges, of these teas alone. For questions ask somebody qualified."


@dataclass(frozen=True)
class Cup:
    """One infusion as it was taken: what share of the leaf's caffeine left in it, and how much of it was swallowed."""

    extracted: Range
    swallowed: Swallowed


@dataclass(frozen=True)
class Take:
    """What was taken at one moment, in mg; None where the leaf is not known, so that nothing can be said."""

    at_utc: datetime
    amount_mg: Range | None


@dataclass(frozen=True)
class DayTotal:
    """What one day came to so far, in mg.

    Parameters
    ----------
    total_mg : Range
        Everything taken today.
    last_sitting_mg : Range
        What was taken since the last long pause; nothing once that is over.
    takes : int
        How many were counted.
    unknown : int
        How many could not be counted, for want of the leaf.
    """

    total_mg: Range
    last_sitting_mg: Range
    takes: int
    unknown: int


@dataclass(frozen=True)
class Limits:
    """The levels at which words appear, in mg. `single_mg` is for one sitting; `is_own` says that the user set them."""

    single_mg: float
    day_mg: float
    for_whom: Literal["adult", "pregnancy"]
    is_own: bool = False


def content_mg_g(kind: str, figures: Figures) -> Range:
    """Return the caffeine of a gram of dry leaf of a kind; a kind that the trade's list lacks has the widest range."""
    return figures.range(f"caffeine_{kind}" if kind in KINDS else "caffeine_other")


def caffeine_mg(leaf_g: Range, content: Range, cups: Sequence[Cup], figures: Figures) -> Range:
    """Return the caffeine swallowed from one lot of leaf, in mg, by (1).

    Raises
    ------
    QuantityError
        If the leaf cannot be, a share is not from 0 to 1, or the infusions together surely hold more than the leaf had.
    """
    LEAF_G.checked(leaf_g.middle)
    swallowed = _swallowed(cups, figures)
    return Range(
        leaf_g.low * content.low * swallowed.low,
        leaf_g.middle * content.middle * swallowed.middle,
        leaf_g.high * content.high * swallowed.high,
    )


def summed(amounts: Sequence[Range]) -> Range:
    """Return the sum of ranges, end by end: their errors go together."""
    return Range(
        math.fsum(one.low for one in amounts),
        math.fsum(one.middle for one in amounts),
        math.fsum(one.high for one in amounts),
    )


def day_total(takes: Sequence[Take], now_utc: datetime, utc_offset_min: int, figures: Figures) -> DayTotal:
    """Return what the local day of a moment came to, up to that moment.

    Parameters
    ----------
    takes : sequence of Take
        In any order; those of other days, and later ones, are passed over.
    utc_offset_min : int
        How far local time is ahead of UTC.
    """
    today = _local_day(now_utc, utc_offset_min)
    of_today = [take for take in takes if take.at_utc <= now_utc and _local_day(take.at_utc, utc_offset_min) == today]
    known = [take for take in of_today if take.amount_mg is not None]
    gap = timedelta(minutes=figures.value("sitting_gap_min"))
    # A sitting may have begun before midnight: what belongs to it counts, whatever the day.
    sitting = _last_sitting([take for take in takes if take.at_utc <= now_utc], now_utc, gap)
    return DayTotal(_sum_of(known), _sum_of(sitting), len(known), len(of_today) - len(known))


def limits(figures: Figures, watch: Watch) -> Limits | None:
    """Return the levels for whom the user has chosen, None where the line is switched off."""
    if watch == "off":
        return None
    keys = ["efsa_single_mg", "efsa_day_mg"] + (["efsa_pregnancy_mg"] if watch == "pregnancy" else [])
    single_mg, day_mg, *lower_mg = (figures.value(key) for key in keys)
    is_own = any(figures.figure(key).own for key in keys)
    return Limits(min(single_mg, *lower_mg, math.inf), min(day_mg, *lower_mg, math.inf), watch, is_own)


def intake_line(day: DayTotal, levels: Limits | None) -> str:
    """Return the quiet line: today's caffeine as a range; empty where nothing was taken or the line is off."""
    if levels is None or not day.takes + day.unknown:
        return ""
    return f"Caffeine from today's teas: {mg_words(day.total_mg)}{_lacking(day.unknown)}."


def caution(total_mg: Range, last_sitting_mg: Range, levels: Limits | None) -> str:
    """Return words once a level may have been passed, empty below it or where the line is off.

    The day comes before the sitting. The words say what is estimated and what the level is; they advise nothing.
    """
    if levels is None:
        return ""
    during = " in pregnancy" if levels.for_whom == "pregnancy" else ""
    for amount_mg, level_mg, what, span in (
        (total_mg, levels.day_mg, ("Today's teas", "have"), f"in a day{during}"),
        (last_sitting_mg, levels.single_mg, ("This sitting", "has"), "at one time"),
    ):
        if amount_mg.high > level_mg:
            passed = f"{what[1] if amount_mg.low > level_mg else 'may have'} passed"
            words = f"{what[0]} {passed} {level_mg:g} mg of caffeine {span} ({mg_words(amount_mg)})."
            return f"{words} {_level_told(levels)} {DEFERS}"
    return ""


def mg_words(amount_mg: Range) -> str:
    """Return a range in words, its ends rounded outwards, such as `about 60 to 140 mg`."""
    step = 5 if amount_mg.high < 50 else 10
    low, high = math.floor(amount_mg.low / step) * step, math.ceil(amount_mg.high / step) * step
    if high == 0:
        return "none"
    if low in (0, high):
        return f"{'up to' if low == 0 else 'about'} {high} mg"
    return f"about {low} to {high} mg"


def _level_told(levels: Limits) -> str:
    """Return whose level it is: EFSA's, unless the user has set a lower one."""
    if levels.is_own:
        return "That is the level you have set."
    whom = "in pregnancy" if levels.for_whom == "pregnancy" else "for healthy adults"
    return f"Up to there EFSA sees no safety concern {whom}, all sources counted ({SOURCE})."


def _swallowed(cups: Sequence[Cup], figures: Figures) -> Range:
    """Return the share of the leaf's caffeine that was swallowed, never more than was in the leaf."""
    parts = [(_checked(cup.extracted), figures.range(f"swallowed_{cup.swallowed}")) for cup in cups]
    if math.fsum(share.low for share, _ in parts) > 1 + 1e-9:
        raise QuantityError("The infusions cannot hold more caffeine together than the leaf had: check their shares.")
    low = math.fsum(share.low * taken.low for share, taken in parts)
    middle = _as_far_as_it_goes([(share.middle, taken.middle) for share, taken in parts])
    high = _as_far_as_it_goes([(share.high, taken.high) for share, taken in parts])
    return Range(min(low, middle), middle, max(middle, high))


def _as_far_as_it_goes(parts: Sequence[tuple[float, float]]) -> float:
    """Return the most that (share extracted, share swallowed) can come to when no more than all leaves the leaf."""
    left, taken = 1.0, 0.0
    for extracted, swallowed in sorted(parts, key=lambda part: part[1], reverse=True):
        share = min(left, extracted)
        left -= share
        taken += share * swallowed
    return taken


def _checked(extracted: Range) -> Range:
    for end in (extracted.low, extracted.high):
        SHARE.checked(end)
    return extracted


def _last_sitting(takes: Sequence[Take], now_utc: datetime, gap: timedelta) -> list[Take]:
    """Return the takes that no pause longer than `gap` parts from each other or from now."""
    sitting: list[Take] = []
    until_utc = now_utc
    for take in sorted(takes, key=lambda one: one.at_utc, reverse=True):
        if until_utc - take.at_utc > gap:
            break
        sitting.append(take)
        until_utc = take.at_utc
    return sitting


def _sum_of(takes: Sequence[Take]) -> Range:
    return summed([take.amount_mg for take in takes if take.amount_mg is not None])


def _local_day(at_utc: datetime, utc_offset_min: int) -> date:
    return (at_utc + timedelta(minutes=utc_offset_min)).date()


def _lacking(unknown: int) -> str:
    if unknown == 0:
        return ""
    teas, their = ("1 tea", "its") if unknown == 1 else (f"{unknown} teas", "their")
    return f"; {teas} not counted, {their} leaf is not known"
