"""Plays a written scenario through the services, act by act, on a clock of its own: so the demo journal is made."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from functools import partial
from typing import Any, Final

from tastebook.domain.course import Course, Step
from tastebook.domain.liquor import chart
from tastebook.domain.lot import Lot, ProcessingStep, Roast
from tastebook.domain.session import Conditions, Session
from tastebook.domain.steep import Instant
from tastebook.domain.vocabulary import Vocabulary
from tastebook.services.keeping import Keeping
from tastebook.services.ports import Ids, Journal
from tastebook.services.shelf import Opening, Shelf
from tastebook.services.tasting import TastingDesk

LOOKING_S: Final = 25
COOLING_S: Final = 40
NOTING_S: Final = 12

_LOT_WORDS: Final = (
    "name", "kind", "cultivar", "cultivar_local", "country", "region", "garden", "season", "plucking", "form",
    "supplier", "batch", "currency", "notes",
)  # fmt: skip


class ScriptedClock:
    """A clock that stands still until it is moved on."""

    def __init__(self, at_utc: datetime) -> None:
        self._now = at_utc

    def set(self, at_utc: datetime) -> None:
        """Go to a moment."""
        self._now = at_utc

    def advance(self, seconds: float) -> None:
        """Go on by some seconds."""
        self._now += timedelta(seconds=seconds)

    def now(self) -> Instant:
        """Return the moment on both clocks."""
        return Instant(self._now, self.monotonic_s(), "rehearsal")

    def monotonic_s(self) -> float:
        """Return seconds that only move when the clock is moved."""
        return self._now.timestamp()

    def utc_now(self) -> datetime:
        """Return the moment."""
        return self._now

    def utc_offset_min(self, at_utc: datetime) -> int:
        """Return the offset of a harbour town in summer time."""
        return 60 if 3 < at_utc.month < 11 else 0


class ScriptedIds:
    """Ids from a seed, so that the same scenario makes the same journal."""

    def __init__(self, seed: int) -> None:
        self._random = random.Random(seed)  # noqa: S311
        self._count = 0

    def new(self) -> str:
        """Return the next id."""
        self._count += 1
        return f"{self._count:08x}-{self._random.getrandbits(64):016x}"


class Rehearsal:
    """Plays one scenario into one journal.

    Parameters
    ----------
    journal : Journal
        An empty journal.
    vocabulary : Vocabulary
        The words that ship.
    courses : sequence of Course
        The courses that ship.
    scenario : mapping
        A parsed scenario file: `taster`, `lots`, `sessions`.
    """

    def __init__(
        self,
        journal: Journal,
        vocabulary: Vocabulary,
        courses: Sequence[Course],
        scenario: Mapping[str, Any],
        ids: Ids | None = None,
    ) -> None:
        self._clock = ScriptedClock(datetime(2025, 1, 1, tzinfo=UTC))
        self._keeping = Keeping(journal, self._clock, ids or ScriptedIds(7))
        self._vocabulary = vocabulary
        self._shelf = Shelf(self._keeping, lambda: tuple(courses))
        self._scenario = scenario
        self._lots: dict[str, Lot] = {}

    def play(self, *, without_tour: bool = False) -> None:
        """Add every lot and taste every session; `without_tour` leaves out the one to be played in the window."""
        for _, act in sorted(self._acts(without_tour=without_tour), key=lambda one: one[0]):
            act()

    def _acts(self, *, without_tour: bool) -> Iterator[tuple[datetime, Callable[[], None]]]:
        for row in self._scenario["lots"]:
            yield row["added"], partial(self._add_lot, row)
        for row in self._scenario["sessions"]:
            if not (without_tour and row.get("tour")):
                yield row["began"], partial(self._taste, row)

    def _add_lot(self, row: Mapping[str, Any]) -> None:
        self._clock.set(row["added"])
        self._lots[row["key"]] = self._shelf.add(lot_from_row(row, self._lots))

    def _taste(self, row: Mapping[str, Any]) -> None:
        self._clock.set(row["began"])
        lot = self._lots[row["lot"]]
        session = self._shelf.begin(lot, opening_from_row(row, self._scenario["taster"]))
        desk = TastingDesk(self._keeping, lambda: self._vocabulary, session.uid)
        SessionPlayer(desk, self._clock, session).play(row)
        desk.leave()


class SessionPlayer:
    """Plays one session at a desk."""

    def __init__(self, desk: TastingDesk, clock: ScriptedClock, session: Session) -> None:
        self._desk = desk
        self._clock = clock
        self._course = session.course

    def play(self, row: Mapping[str, Any]) -> None:
        """Taste from the dry leaf to the verdict."""
        self._steps(row.get("leaf", {}), None)
        if "rinse" in row:
            self._cup(0, row["rinse"])
        for index, cup in enumerate(row.get("cups", ()), start=1):
            self._cup(index, cup)
        self._close(row.get("close", {}))
        if not row.get("stays_open"):
            self._clock.advance(60)
            self._desk.close()

    def _cup(self, index: int, row: Mapping[str, Any]) -> None:
        if "plan" in row:
            self._desk.plan(index, row["plan"])
        self._desk.measure_water(index, row["water"])
        self._desk.pour_water_on(index)
        self._clock.advance(row["steep"])
        self._desk.pour()
        self._clock.advance(NOTING_S)
        self._look(index, row)
        self._steps(row, index)
        self._clock.advance(COOLING_S)

    def _look(self, index: int, row: Mapping[str, Any]) -> None:
        step = next(step for step in self._course.steps if step.sheet == "liquor")
        if "liquor" in row:
            chosen_row, column = row["liquor"]
            self._desk.see_liquor(step, index, chart()[chosen_row][column], "chart")
        if "clarity" in row:
            self._desk.see_clarity(step, index, row["clarity"])

    def _steps(self, row: Mapping[str, Any], index: int | None) -> None:
        for step in self._course.steps:
            if step.key in row and step.sheet not in ("liquor", "verdict"):
                self._clock.advance(NOTING_S)
                self._attend(step, row[step.key], index)
        if "words" in row:
            self._desk.say(self._course.step("flavour"), index, row["words"])
        for descriptor in row.get("clouded", ()):
            self._cloud(descriptor)

    def _attend(self, step: Step, what: str | Mapping[str, float], index: int | None) -> None:
        if isinstance(what, str):
            self._desk.say(step, index, what)
            return
        for scale, value in what.items():
            self._desk.read(step, index, scale, value)

    def _cloud(self, descriptor: str) -> None:
        for impression in self._desk.tasting.impressions:
            if impression.descriptor == descriptor and not impression.clouded:
                self._desk.flag(impression.uid, clouded=True)

    def _close(self, row: Mapping[str, Any]) -> None:
        self._clock.advance(LOOKING_S)
        self._steps(row, None)
        if "verdict" in row:
            self._desk.decide(replace(self._desk.verdict(), **row["verdict"]))


def lot_from_row(row: Mapping[str, Any], known: Mapping[str, Lot]) -> Lot:
    """Return the lot that a scenario describes; `follows` names another by its key."""
    price = row.get("price_per_kg")
    follows = known.get(row.get("follows", ""))
    return Lot(
        uid="",
        created_at_utc=row["added"],
        altitude_m=row.get("altitude_m"),
        harvest_year=row.get("harvest_year"),
        harvested_on=row.get("harvested_on"),
        processing=tuple(ProcessingStep(name, hours) for name, hours in row.get("processing", ())),
        oxidation_pct=row.get("oxidation_pct"),
        roast=Roast(**row.get("roast", {})),
        price_per_kg=None if price is None else Decimal(price),
        quantity_g=row.get("quantity_g"),
        follows=follows.uid if follows else None,
        **{key: row.get(key, "") for key in _LOT_WORDS},
    )


def opening_from_row(row: Mapping[str, Any], taster: str) -> Opening:
    """Return the opening of a session that a scenario describes."""
    return Opening(
        course_key=row.get("course", "gaiwan"),
        volume_ml=row.get("volume_ml"),
        leaf_g=row.get("leaf_g"),
        leaf_fill=row.get("leaf_fill"),
        water_source=row.get("water", ""),
        altitude_m=row.get("altitude_m"),
        purpose=row["purpose"],
        taster=taster,
        conditions=Conditions(**row.get("conditions", {})),
    )
