"""What physics says at the Bench: the water now, the next steep, when to sip, what was drunk; each with its range."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from tastebook.domain import water
from tastebook.domain.figures import Range
from tastebook.domain.kettle import Estimate, sip_words
from tastebook.domain.next_steep import STRONGER, WEAKER, Advice, advice_line
from tastebook.domain.session import Tasting
from tastebook.domain.steep import Steep
from tastebook.reports.wording import degrees, steep_time
from tastebook.services.brewing import STRENGTH, Brewing, Drunk, KettleNow
from tastebook.services.settings import Settings
from tastebook.services.tasting import TastingDesk

DEFERS: Final = "Your taste decides."
STRENGTHS: Final = ((WEAKER, "20 % weaker"), (1.0, "The same"), (STRONGER, "20 % stronger"))
SCALDS_FROM_C: Final = 50.0
MOST_REFERENCES: Final = 12
READING_HOLDS_MS: Final = 60_000
"""A reading is the water poured for a minute; from then on the kettle has cooled."""


@dataclass(frozen=True)
class WaterShown:
    """The water of an infusion: a number, and what it rests on."""

    temp_c: float
    caption: str
    is_estimate: bool


@dataclass(frozen=True)
class WhyView:
    """The reasoning behind the advice, with what can be chosen."""

    line: str
    paragraphs: tuple[str, ...]
    strengths: tuple[str, ...]
    chosen_strength: int
    references: tuple[int, ...]
    chosen_reference: int
    take_label: str


class Counsel:
    """Asks the physics for what one Bench shows.

    What depends on the clock is worked out once a second; what depends on the tasting, once per act.
    """

    def __init__(self, brewing: Brewing, desk: TastingDesk, settings: Callable[[], Settings]) -> None:
        self._brewing = brewing
        self._desk = desk
        self._settings = settings
        self._strength = 1.0
        self._reference: int | None = None
        self._kettle_at: tuple[object, ...] = ()
        self._kettle: KettleNow | None = None
        self._advice_at: tuple[object, ...] = ()
        self._advice: Advice | None = None
        self._drunk_at: tuple[object, ...] = ()
        self._drunk = Drunk("", "")
        self._doubted_c: float | None = None

    @property
    def _tasting(self) -> Tasting:
        return self._desk.tasting

    # -- water

    def kettle(self) -> KettleNow | None:
        """Return the kettle at this second."""
        now = self._desk.now()
        at = (self._tasting.kettle_readings, self._tasting.session, int(now.monotonic_s))
        if at != self._kettle_at:
            self._kettle_at = at
            self._kettle = self._brewing.kettle_now(self._tasting, now) if self._tasting.kettle_readings else None
        return self._kettle

    def water(self, index: int) -> WaterShown:
        """Return the water of an infusion: measured, or by the kettle as it cools, or planned."""
        cup = self._tasting.infusion(index)
        planned_c = self._desk.water_c(index)
        measured = cup is not None and cup.water_measured and (cup.started is not None or self._is_just_read())
        kettle = self.kettle()
        is_set = cup is not None and (cup.started is not None or (cup.water_c is not None and not cup.water_measured))
        if measured or is_set or kettle is None:
            return WaterShown(planned_c, "measured" if measured else "water", is_estimate=False)
        estimate = kettle.estimate
        return WaterShown(round(estimate.temp_c), f"kettle {self._band(estimate)}", is_estimate=True)

    def _is_just_read(self) -> bool:
        readings = self._tasting.kettle_readings
        return bool(readings) and self._desk.now().ms_since(readings[-1].at) < READING_HOLDS_MS

    def is_cooling(self, index: int) -> bool:
        """Say whether anything that is shown for an infusion grows cooler by itself."""
        return self.kettle() is not None or bool(self._sip_line(index))

    def _band(self, estimate: Estimate) -> str:
        low, high = (degrees(round(one), in_fahrenheit=self._fahrenheit) for one in (estimate.low_c, estimate.high_c))
        return f"{low.split(' ')[0]}–{high.split(' ')[0]}"

    def estimate(self, index: int) -> Estimate:
        """Return the kettle's water for an infusion, with its band."""
        kettle = self.kettle()
        if kettle is not None and self.water(index).is_estimate:
            return kettle.estimate
        return Estimate.measured(min(self._desk.water_c(index), self._brewing.hottest_c(self._tasting.session)))

    def refuse_reading(self, temp_c: float) -> None:
        """Refuse a reading of the kettle that cannot be; one that is only unlikely is asked about once.

        Raises
        ------
        QuantityError
            With the reason.
        """
        is_said_again = temp_c == self._doubted_c
        self._doubted_c = temp_c
        self._brewing.refuse_reading(self._tasting, temp_c, self._desk.now(), may_be_heated=is_said_again)
        self._doubted_c = None

    # -- the next steep

    def references(self) -> tuple[int, ...]:
        """Return the infusions whose strength can be asked for."""
        poured = tuple(one.index for one in self._tasting.infusions if one.index > 0 and one.is_poured)
        return poured[-MOST_REFERENCES:]

    def reference(self) -> int | None:
        """Return the infusion whose strength is asked for: the chosen one, else the last."""
        references = self.references()
        if self._reference in references:
            return self._reference
        return references[-1] if references else None

    def choose(self, *, strength: int | None = None, reference: int | None = None) -> None:
        """Ask for another strength, by its place, or for that of another infusion."""
        if strength is not None:
            self._strength = STRENGTHS[strength][0]
        if reference is not None:
            self._reference = reference

    def advice(self, index: int) -> Advice | None:
        """Return how long an infusion must be for the strength that is asked for."""
        reference = self.reference()
        if reference is None or reference >= index or self._tasting.session.leaf_g is None:
            return None
        estimate = self.estimate(index)
        at = (self._ground(), index, reference, self._strength, round(estimate.temp_c, 1), self._brewing.figures)
        if at != self._advice_at:
            self._advice_at = at
            self._advice = self._brewing.advice(self._tasting, estimate, index, reference, self._strength)
        return self._advice

    def _ground(self) -> tuple[object, ...]:
        """Return what of the tasting the advice rests on: no words, marks or textures, which come oftenest."""
        one = self._tasting
        readings = tuple(reading for reading in one.readings if reading.scale == STRENGTH)
        return one.lot, one.session, one.infusions, one.kettle_readings, readings

    def advice_line(self, index: int) -> str:
        """Return the advice in one line, empty where there is none."""
        advice = self.advice(index)
        if advice is None:
            return ""
        at = degrees(round(self.estimate(index).temp_c), in_fahrenheit=self._fahrenheit)
        return advice_line(advice, f"infusion {self.reference()}", water=at)

    def advised_s(self, index: int) -> int | None:
        """Return the advised time in whole seconds, None where none can be named."""
        advice = self.advice(index)
        return max(1, round(advice.middle_s)) if advice is not None and advice.reachable else None

    def why(self, index: int) -> WhyView:
        """Return the reasoning."""
        advice, reference = self.advice(index), self.reference()
        kettle = self.kettle()
        told = (*(advice.why if advice else ()), *((f"The kettle: {kettle.told}",) if kettle else ()))
        seconds = self.advised_s(index)
        values = [value for value, _ in STRENGTHS]
        return WhyView(
            line=self.advice_line(index) or "There is no infusion yet to compare with.",
            paragraphs=told,
            strengths=tuple(label for _, label in STRENGTHS),
            chosen_strength=values.index(self._strength),
            references=self.references(),
            chosen_reference=reference or 0,
            take_label=f"Take {steep_time(seconds)} as plan" if seconds is not None else "",
        )

    # -- lines at the timer

    def lines(self, index: int, steep: Steep, planned_index: int) -> tuple[str, str]:
        """Return what stands below the steppers: what to mind now, or what is advised."""
        if steep.phase == "poured":
            return (self._sip_line(index) or self.advice_line(planned_index), DEFERS)
        if steep.phase != "ready":
            return (self.advice_line(index), DEFERS)
        if index <= 1 and not self.references():
            rest = self._brewing.rest_words(self._tasting, self._desk.now()) if index == self._first_index() else ""
            return (rest or self._heat_line(index), DEFERS)
        return (self.advice_line(index), DEFERS)

    def _first_index(self) -> int:
        return 0 if self._tasting.session.course.has_rinse else 1

    def _heat_line(self, index: int) -> str:
        """Say that the water scalds, or that it cannot be as hot as the course would have it."""
        lot, session = self._tasting.lot, self._tasting.session
        planned_c = session.course.plan_for(lot.kind, lot.form).water_c
        hottest_c = self._brewing.hottest_c(session)
        if not water.is_reachable(planned_c, hottest_c):
            boils = degrees(water.nearest_possible_c(planned_c, hottest_c), in_fahrenheit=self._fahrenheit)
            return f"Water boils at {boils} here, and scalds: mind your hands."
        shown = self.water(index).temp_c
        if shown < SCALDS_FROM_C:
            return ""
        at = degrees(shown, in_fahrenheit=self._fahrenheit)
        return f"Water at {at} scalds: mind lid, hand and kettle."

    def _sip_line(self, index: int) -> str:
        """Say how long the cup is still too hot to sip."""
        cup = self._tasting.infusion(index)
        if cup is None or cup.poured is None:
            return ""
        until = self._brewing.until_sip_s(self._tasting, cup)
        if until is None:
            return ""
        since_s = self._desk.now().ms_since(cup.poured) / 1000
        waiting_s = Range(*(max(0.0, one - since_s) for one in (until.low, until.middle, until.high)))
        limit_c = self._brewing.figures.value("sip_limit_c")
        return sip_words(waiting_s, limit_c, lambda temp_c: degrees(temp_c, in_fahrenheit=self._fahrenheit))

    # -- the day

    def drunk(self) -> Drunk:
        """Return what today's teas came to; worked out when a cup was poured, not at every look."""
        at = tuple((one.uid, one.actual_ms, one.water_c) for one in self._tasting.infusions if one.is_poured)
        session = self._tasting.session
        key = (at, session.leaf_g, session.swallowed, self._settings().caffeine_watch, self._brewing.figures)
        if key != self._drunk_at:
            self._drunk_at = key
            self._drunk = self._brewing.drunk_today(self._tasting, self._desk.now())
        return self._drunk

    @property
    def _fahrenheit(self) -> bool:
        return self._settings().fahrenheit
