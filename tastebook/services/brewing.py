"""The physics of one tasting: what the water is now, what the leaf gave, how long the next steep should be.

Nothing here decides: everything is an estimate with its range, for the taster to take or leave.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Final

from tastebook.domain import fatigue, intake, kettle, water
from tastebook.domain.brewing_plans import STRENGTH as STRENGTH_OF_CUP
from tastebook.domain.brewing_plans import BrewPlan, cold_brew, cup_strength, western_pot
from tastebook.domain.dose import leaf_estimate_g
from tastebook.domain.endurance import Endurance, endurance_from_extraction, endurance_from_readings, told_of_both
from tastebook.domain.errors import QuantityError
from tastebook.domain.extraction import MANNER_OF_COURSE, REST_S, Cooling, Leaf, Steeped, session_shares
from tastebook.domain.figures import Figures, Range
from tastebook.domain.leaf_learning import LeafBelief, StrengthReading, carried_over, learn, prior_belief
from tastebook.domain.next_steep import Advice, next_steep
from tastebook.domain.quantities import WATER_C
from tastebook.domain.session import Infusion, KettleReading, Session, Tasting
from tastebook.domain.steep import Instant
from tastebook.services.ports import Journal
from tastebook.services.settings import Settings

STRENGTH: Final = "strength"
PLANNED_AHEAD: Final = 20
DAY_BACK: Final = timedelta(hours=36)
"""A sitting may have begun before midnight, in another zone."""

LEAF_OF_NOBODY: Final = 5.0
"""Dose in g per 100 ml where leaf or vessel are not known: the middle of common practice, no source."""


@dataclass(frozen=True)
class KettleNow:
    """The kettle at this moment: how hot it is thought to be, since when it cools, and on what that rests."""

    estimate: kettle.Estimate
    since_s: float
    told: str


@dataclass(frozen=True)
class Drunk:
    """What was drunk today, in words; `is_caution` where a level is reached."""

    line: str
    caution: str


class Brewing:
    """Answers questions of physics about tastings.

    Parameters
    ----------
    journal : Journal
        For earlier sessions of the lot, earlier boils of the kettle, and the other teas of the day.
    figures : callable
        Returns the figures in force, the user's own among them.
    settings : callable
        Returns the settings in force.
    """

    def __init__(self, journal: Journal, figures: Callable[[], Figures], settings: Callable[[], Settings]) -> None:
        self._journal = journal
        self._figures = figures
        self._settings = settings
        self._earlier: dict[str, tuple[Tasting, ...]] = {}
        self._beliefs: dict[tuple[Tasting, Figures], LeafBelief] = {}

    @property
    def figures(self) -> Figures:
        """Return the figures in force."""
        return self._figures()

    def forget(self) -> None:
        """Read other sessions anew at the next question."""
        self._earlier.clear()
        self._beliefs.clear()

    # -- water

    def hottest_c(self, session: Session) -> float:
        """Return how hot water can be where the session is."""
        return water.hottest_c(session.altitude_m, session.pressure_hpa)

    def kettle_now(self, tasting: Tasting, now: Instant) -> KettleNow | None:
        """Return how hot the kettle is, None where its boil was not marked and no reading taken."""
        readings, begin = self._boil_of(tasting)
        if begin is None:
            return None
        fit = kettle.cooling(readings, self._kettle_rate(tasting), self._air)
        since_s = now.ms_since(begin) / 1000
        if since_s > kettle.SINCE_S.most:
            return None
        return KettleNow(kettle.temp_at(fit, since_s), since_s, fit.told)

    def refuse_reading(self, tasting: Tasting, temp_c: float, now: Instant, *, may_be_heated: bool = False) -> None:
        """Refuse a reading of the kettle that cannot be.

        Raises
        ------
        QuantityError
            If water cannot be so hot here, or, unless it `may_be_heated`, has grown hotter without a boil.
        """
        WATER_C.checked(temp_c)
        why = water.refusal(temp_c, self.hottest_c(tasting.session))
        if why:
            raise QuantityError(why)
        readings, begin = self._boil_of(tasting)
        if begin is not None and not may_be_heated:
            elapsed_s = now.ms_since(begin) / 1000
            kettle.checked_readings((*readings, kettle.Reading(elapsed_s, temp_c)))

    def in_vessel(self, tasting: Tasting, kettle_c: kettle.Estimate, index: int) -> kettle.Estimate:
        """Return how hot water, vessel and leaf are together just after the pour."""
        session = tasting.session
        volume_ml = session.volume_ml or 110.0
        leaf_g = Range.exactly(0.0) if session.leaf_g is None else self.leaf_g(session)
        wet = any(one.is_poured for one in tasting.infusions if one.index < index)
        return kettle.at_pour(
            kettle_c,
            volume_ml,
            kettle.vessel_mass_g(session.vessel, volume_ml, self.figures),
            leaf_g,
            self.figures,
            vessel_warmed=session.vessel_warmed or wet,
            leaf_wet=wet,
        )

    def until_sip_s(self, tasting: Tasting, cup: Infusion) -> Range | None:
        """Return how long after the pour a cup falls below the hottest sip, None where its water is not known."""
        if cup.water_c is None or cup.actual_ms is None:
            return None
        start = self.in_vessel(tasting, kettle.Estimate.measured(cup.water_c), cup.index)
        mean_c = kettle.through_steep(start, cup.actual_ms / 1000, self.figures, lidded=True)
        return kettle.until_sip_s(mean_c, self.figures)

    # -- leaf

    def leaf_g(self, session: Session) -> Range:
        """Return the leaf with its range.

        Raises
        ------
        QuantityError
            If it was neither weighed nor seen.
        """
        if session.leaf_g is None:
            raise QuantityError("The leaf was neither weighed nor judged by eye, so that nothing can be said of it.")
        return leaf_estimate_g(session.leaf_g, by_eye=session.leaf_by_eye)

    def steeped(self, tasting: Tasting) -> tuple[Steeped, ...]:
        """Return every steep that was poured, as the leaf met it, the rinse included."""
        poured = [one for one in tasting.infusions if one.is_poured]
        return tuple(self._steep(tasting, one, poured) for one in poured)

    def belief(self, tasting: Tasting) -> LeafBelief:
        """Return what is held of this leaf: from earlier sessions of the lot, and the readings of this one."""
        key = (tasting, self.figures)
        if key not in self._beliefs:
            if len(self._beliefs) > 32:
                self._beliefs.clear()
            self._beliefs[key] = self._learned(tasting, self._before(tasting))
        return self._beliefs[key]

    def advice(
        self, tasting: Tasting, water_c: kettle.Estimate, index: int, reference: int, strength: float = 1.0
    ) -> Advice | None:
        """Return how long infusion `index` must be to be as strong as `reference`; None where nothing can be said.

        Parameters
        ----------
        water_c : Estimate
            The kettle's water as it will be poured.
        strength : float
            Times the reference's strength.
        """
        poured = [one for one in tasting.infusions if one.is_poured]
        place = next((place for place, one in enumerate(poured) if one.index == reference), None)
        if place is None or poured[place].water_c is None or not poured[place].actual_ms:
            return None
        belief = self.belief(tasting)
        leaf = replace(self._leaf(tasting), learned=belief.rate) if belief.readings else self._leaf(tasting)
        start = self.in_vessel(tasting, water_c, index)
        cools = tuple(self._cooling(one) for one in (start.temp_c, start.low_c, start.high_c))
        return next_steep(
            self.figures, leaf, self.steeped(tasting), place, cools[0], strength=strength,
            water_ends=(cools[1], cools[2]), name=f"infusion {reference}", readings=belief.readings,
        )  # fmt: skip

    def endurance(self, tasting: Tasting) -> tuple[str, ...]:
        """Return how many good infusions the leaf has, by the readings and by the model, in words."""
        by_readings = endurance_from_readings(_strengths(tasting), self._settings().good_from)
        by_model = self._endurance_by_model(tasting)
        return (by_readings.told,) if by_model is None else told_of_both(by_readings, by_model)

    def _endurance_by_model(self, tasting: Tasting) -> Endurance | None:
        steeps = self.steeped(tasting)
        if tasting.session.leaf_g is None or not any(one.index > 0 and one.is_poured for one in tasting.infusions):
            return None
        belief = self.belief(tasting)
        first = 1 if tasting.infusion(0) is not None and tasting.infusions[0].is_poured else 0
        ahead = self._ahead(tasting, steeps)
        return endurance_from_extraction(
            self.figures, self._leaf(tasting), belief, (*steeps, *ahead), dose_g_per_100ml=self._dose(tasting.session),
            first=first, floor=self._settings().good_from,
        )  # fmt: skip

    def shares(self, tasting: Tasting) -> tuple[tuple[int, Range], ...]:
        """Return for each poured infusion the share of the leaf's soluble matter that it took."""
        poured = [one.index for one in tasting.infusions if one.is_poured]
        taken = session_shares(self.figures, self._leaf(tasting), self.steeped(tasting))
        return tuple((index, taken.infusion(place)) for place, index in enumerate(poured))

    def estimates(self, tasting: Tasting) -> tuple[str, ...]:
        """Return what can be said of a lot beyond what was tasted: how long it lasts, and how else it may be brewed.

        Without any reading of strength that is nothing: the published figures alone are too wide to rely on.
        """
        if tasting.last_poured is None or not any(_strengths(tasting)):
            return ()
        return (*self.endurance(tasting), *self._guide(tasting))

    def _guide(self, tasting: Tasting) -> tuple[str, ...]:
        """Return how to come by the strength of the best cup in a pot and in cold water, marked as extrapolation."""
        session = tasting.session
        tasted = [(share, index) for index, share in self.shares(tasting) if index > 0]
        if session.leaf_g is None or not session.volume_ml or not tasted:
            return ()
        share, index = self._strongest(tasting, tasted)
        strength = cup_strength(self._dose(session), share.middle)
        belief = self.belief(tasting)
        leaf = replace(self._leaf(tasting), learned=belief.rate) if belief.readings else self._leaf(tasting)
        share_of_dose = self.leaf_g(session).times(1 / session.leaf_g)
        if strength * share_of_dose.low < STRENGTH_OF_CUP.least or strength * share_of_dose.high > STRENGTH_OF_CUP.most:
            return ()
        plans = (
            _over_doses(lambda dose: western_pot(self.figures, leaf, strength * dose), share_of_dose),
            _over_doses(lambda dose: cold_brew(self.figures, leaf, strength * dose), share_of_dose),
        )
        return tuple(f"As strong as infusion {index}. {one.told}" for one in plans)

    def _strongest(self, tasting: Tasting, tasted: Sequence[tuple[Range, int]]) -> tuple[Range, int]:
        """Return the infusion read as the strongest, or else the one that took the most."""
        read = {one.infusion: one.value for one in tasting.readings if one.scale == STRENGTH}
        return max(tasted, key=lambda one: (read.get(one[1], -1.0), one[0].middle))

    # -- the taster

    def drunk_today(self, tasting: Tasting, now: Instant) -> Drunk:
        """Return what today's teas came to, this one included."""
        levels = intake.limits(self.figures, self._settings().caffeine_watch)
        if levels is None:
            return Drunk("", "")
        takes = [self._take(one) for one in (*self._others_of_the_day(tasting, now), tasting)]
        offset_min = tasting.session.utc_offset_min
        day = intake.day_total([one for one in takes if one], now.utc, offset_min, self.figures)
        return Drunk(intake.intake_line(day, levels), intake.caution(day.total_mg, day.last_sitting_mg, levels))

    def rest_words(self, tasting: Tasting, now: Instant) -> str:
        """Return what to do before the first sip: rest since the last tea, or a break after many."""
        others = self._others_of_the_day(tasting, now)
        last = max((one.poured for other in others for one in other.infusions if one.poured), default=None, key=_when)
        since_s = None if last is None else now.ms_since(last) / 1000
        return fatigue.rest_words(fatigue.rest_left_s(since_s)) or fatigue.break_words(
            len(others), self._settings().break_after
        )

    # -- inside

    @property
    def _air(self) -> Range:
        return kettle.air_of(self.figures)

    def _boil_of(self, tasting: Tasting) -> tuple[tuple[kettle.Reading, ...], Instant | None]:
        """Return the readings since the kettle was last heated, and when they begin."""
        since = _since_heated(tasting.kettle_readings)
        if not since:
            return (), None
        begin = since[0].at
        hottest_c = self.hottest_c(tasting.session)
        return tuple(
            kettle.boil(hottest_c) if one.boiled else kettle.Reading(one.at.ms_since(begin) / 1000, one.temp_c)
            for one in since
        ), begin

    def _kettle_rate(self, tasting: Tasting) -> kettle.Rate:
        usual = kettle.rate_of(self.figures.range("kettle_k_per_min"))
        same = [one for one in self._lot_and_kettle(tasting) if one.session.kettle == tasting.session.kettle]
        boils = [self._boil_of(one)[0] for one in same if one.session.kettle]
        return kettle.learnt(boils, usual, self._air, self.figures.value("kettle_spread"))

    def _lot_and_kettle(self, tasting: Tasting) -> tuple[Tasting, ...]:
        """Return the earlier sessions of the same lot, oldest first."""
        session = tasting.session
        if session.uid not in self._earlier:
            line = next((one for one in self._journal.shelf() if one.lot.uid == session.lot_uid), None)
            before = [one for one in line.sessions if one.started_at_utc < session.started_at_utc] if line else []
            self._earlier[session.uid] = tuple(self._journal.tasting(one.uid) for one in before)
        return self._earlier[session.uid]

    def _leaf(self, tasting: Tasting) -> Leaf:
        return Leaf(tasting.lot.form, MANNER_OF_COURSE.get(tasting.session.course.key, "gaiwan"))

    def _cooling(self, start_c: float) -> Cooling:
        per_min = kettle.steep_rate_per_s(self.figures, lidded=True).middle * 60
        return Cooling(min(start_c, 100.0), self._air.middle, per_min)

    def _steep(self, tasting: Tasting, cup: Infusion, poured: Sequence[Infusion]) -> Steeped:
        kettle_c = kettle.Estimate.measured(cup.water_c if cup.water_c is not None else 95.0)
        start = self.in_vessel(tasting, kettle_c, cup.index)
        later = next((one for one in poured if one.index > cup.index), None)
        rest_s = None
        if later is not None and later.started is not None and cup.poured is not None:
            # A session may be taken up again weeks later; wet leaf has opened by then, and more rest changes nothing.
            rest_s = min(later.started.ms_since(cup.poured) / 1000, REST_S.most)
        return Steeped((cup.actual_ms or 0) / 1000, self._cooling(start.temp_c), rest_s)

    def _ahead(self, tasting: Tasting, steeps: Sequence[Steeped]) -> list[Steeped]:
        plan = tasting.session.course.plan_for(tasting.lot.kind, tasting.lot.form)
        last = tasting.last_poured
        begin = (last.index if last else 0) + 1
        end = max(begin, PLANNED_AHEAD)
        water_c = steeps[-1].water if steeps else self._cooling(plan.water_c)
        return [Steeped(float(plan.planned_s(index)), water_c) for index in range(begin, end + 1)]

    def _dose(self, session: Session) -> float:
        if session.leaf_g is None or not session.volume_ml:
            return LEAF_OF_NOBODY
        return 100 * session.leaf_g / session.volume_ml

    def _before(self, tasting: Tasting) -> LeafBelief:
        """Return what the lot's earlier sessions taught."""
        leaf = self._leaf(tasting)
        belief = prior_belief(self.figures, leaf)
        for earlier in self._lot_and_kettle(tasting):
            same = earlier.session.taster == tasting.session.taster
            taught = self._learned(earlier, belief)
            if taught.readings > belief.readings:
                belief = carried_over(taught, self.figures, leaf, same_taster=same)
        return belief

    def _learned(self, tasting: Tasting, before: LeafBelief) -> LeafBelief:
        poured = [one for one in tasting.infusions if one.is_poured]
        places = {one.index: place for place, one in enumerate(poured)}
        readings = [
            StrengthReading(places[one.infusion], one.value, one.doubtful or one.clouded)
            for one in tasting.readings
            if one.scale == STRENGTH and one.infusion in places
        ]
        if not readings:
            return before
        return learn(
            self.figures, self._leaf(tasting), before, self.steeped(tasting), readings,
            dose_g_per_100ml=self._dose(tasting.session),
        )  # fmt: skip

    def _take(self, tasting: Tasting) -> intake.Take | None:
        poured = [one for one in tasting.infusions if one.is_poured and one.poured]
        drunk = [one for one in poured if one.index > 0]
        if not drunk or drunk[-1].poured is None:
            return None
        at_utc = drunk[-1].poured.utc
        if tasting.session.leaf_g is None:
            return intake.Take(at_utc, None)
        taken = session_shares(self.figures, self._leaf(tasting), self.steeped(tasting), "caffeine")
        cups = [
            intake.Cup(taken.infusion(place), tasting.session.swallowed)
            for place, one in enumerate(poured)
            if one.index > 0
        ]
        content = intake.content_mg_g(tasting.lot.kind, self.figures)
        return intake.Take(at_utc, intake.caffeine_mg(self.leaf_g(tasting.session), content, cups, self.figures))

    def _others_of_the_day(self, tasting: Tasting, now: Instant) -> tuple[Tasting, ...]:
        """Return the other sessions of the last day and a half; those read once are kept."""
        key = f"day of {tasting.session.uid}"
        if key not in self._earlier:
            since = now.utc - DAY_BACK
            lines = [one for line in self._journal.shelf() for one in line.sessions]
            recent = [one for one in lines if one.started_at_utc >= since and one.uid != tasting.session.uid]
            self._earlier[key] = tuple(self._journal.tasting(one.uid) for one in recent)
        return self._earlier[key]


def _over_doses(plan_for: Callable[[float], BrewPlan], share: Range) -> BrewPlan:
    """Return the plan for the likeliest dose; where the leaf was not weighed, with the ends of what it may be."""
    low, middle, high = (plan_for(one) for one in (share.low, share.middle, share.high))
    if not middle.reachable:
        return middle
    longest_s = high.high_s if high.reachable else math.inf
    return replace(middle, low_s=min(low.low_s, middle.low_s), high_s=max(longest_s, middle.high_s))


def _when(one: Instant) -> datetime:
    return one.utc


def _strengths(tasting: Tasting) -> list[float | None]:
    """Return the strength read at each infusion from 1 on, None where it was not."""
    read = {one.infusion: one.value for one in tasting.readings if one.scale == STRENGTH}
    last = max((one.index for one in tasting.infusions if one.is_poured), default=0)
    return [read.get(index) for index in range(1, last + 1)]


def _since_heated(readings: Sequence[KettleReading]) -> Sequence[KettleReading]:
    """Return the readings since the kettle last boiled, or was heated: one that is hotter, or a day on, begins anew."""
    begin, coolest_c = 0, math.inf
    for place, one in enumerate(readings):
        is_heated = one.boiled or one.temp_c > coolest_c + kettle.HOTTER_C
        if is_heated or one.at.ms_since(readings[begin].at) / 1000 > kettle.SINCE_S.most:
            begin, coolest_c = place, math.inf
        coolest_c = min(coolest_c, one.temp_c)
    return readings[begin:]
