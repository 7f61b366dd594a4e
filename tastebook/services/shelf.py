"""The lots one has: adding, amending, archiving, finding, and beginning a session with one."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from typing import Literal, TypeAlias

from tastebook.domain.act import Change
from tastebook.domain.course import Course
from tastebook.domain.dose import leaf_by_eye_g
from tastebook.domain.errors import TastingError
from tastebook.domain.lot import Lot
from tastebook.domain.quantities import (
    ALTITUDE_M,
    LEAF_G,
    OXIDATION_PCT,
    PRICE_PER_KG,
    QUANTITY_G,
    TDS_MG_L,
    VOLUME_ML,
    YEAR,
)
from tastebook.domain.session import Conditions, Session
from tastebook.domain.spelling import plain
from tastebook.services.keeping import Keeping
from tastebook.services.ports import LotLine

Owed: TypeAlias = Literal["half tasted", "to taste", "to write", "resting", "done", "archived"]


@dataclass(frozen=True)
class Opening:
    """What the Bench needs to know now, filled in from last time."""

    course_key: str = "gaiwan"
    vessel: str = "gaiwan"
    volume_ml: float | None = 110.0
    leaf_g: float | None = None
    leaf_fill: float | None = None
    water_source: str = ""
    water_tds_mg_l: float | None = None
    altitude_m: float | None = None
    purpose: str = "on arrival"
    taster: str = ""
    conditions: Conditions = field(default_factory=Conditions)


def owed_to(line: LotLine) -> Owed:
    """Return what a lot is owed: the most pressing first."""
    if line.lot.archived:
        return "archived"
    if any(session.is_open for session in line.sessions):
        return "half tasted"
    if not line.sessions:
        return "to taste"
    last = line.sessions[-1]
    if not last.has_verdict:
        return "to write"
    return "resting" if last.decision == "rest until" else "done"


class Shelf:
    """Every act on lots and the beginning of sessions."""

    def __init__(self, keeping: Keeping, courses: Callable[[], tuple[Course, ...]]) -> None:
        self._keeping = keeping
        self._courses = courses

    def lines(self) -> tuple[LotLine, ...]:
        """Return every lot with its sessions."""
        return self._keeping.journal.shelf()

    def add(self, lot: Lot) -> Lot:
        """Keep a new lot under a new uid, and return it."""
        new = replace(checked_lot(lot), uid=self._keeping.ids.new(), created_at_utc=self._keeping.clock.utc_now())
        self._keeping.keep(new.uid, f"{new.name} added", [Change(None, new)])
        return new

    def amend(self, lot: Lot) -> None:
        """Keep a lot as it is now."""
        before = self._keeping.journal.lot(lot.uid)
        self._refuse_circle(lot)
        self._keeping.keep(lot.uid, f"{lot.name} amended", [Change(before, checked_lot(lot))])

    def archive(self, lot_uid: str, *, archived: bool = True) -> None:
        """Put a lot away, or take it out again; nothing of it is lost."""
        before = self._keeping.journal.lot(lot_uid)
        label = f"{before.name} put away" if archived else f"{before.name} taken out again"
        self._keeping.keep(lot_uid, label, [Change(before, replace(before, archived=archived))])

    def undo(self, lot_uid: str) -> str:
        """Take back the newest act on a lot, and return what it was, empty if there is none."""
        act = self._keeping.undo(lot_uid)
        return act.label if act else ""

    def opening_for(self, lot: Lot, taster: str = "") -> Opening:
        """Return the opening of a new session, filled in from the session begun last."""
        last = self._keeping.journal.last_session()
        if last is None:
            return Opening(taster=taster)
        same_lot = last.lot_uid == lot.uid
        return Opening(
            course_key=last.course.key,
            vessel=last.vessel,
            volume_ml=last.volume_ml,
            leaf_g=last.leaf_g if not last.leaf_by_eye else None,
            leaf_fill=last.leaf_fill,
            water_source=last.water_source,
            water_tds_mg_l=last.water_tds_mg_l,
            altitude_m=last.altitude_m,
            purpose="retaste" if same_lot else last.purpose,
            taster=last.taster or taster,
            conditions=last.conditions,
        )

    def begin(self, lot: Lot, opening: Opening) -> Session:
        """Begin a session and return it.

        Raises
        ------
        QuantityError
            If a number of the opening cannot be.
        TastingError
            If the course is not known.
        """
        now = self._keeping.clock.utc_now()
        session = Session(
            uid=self._keeping.ids.new(),
            lot_uid=lot.uid,
            course=self._course(opening.course_key),
            started_at_utc=now,
            utc_offset_min=self._keeping.clock.utc_offset_min(now),
            purpose=opening.purpose,
            taster=opening.taster,
            vessel=opening.vessel,
            volume_ml=None if opening.volume_ml is None else VOLUME_ML.checked(opening.volume_ml),
            leaf_g=_leaf_g(opening, lot),
            leaf_by_eye=opening.leaf_g is None and opening.leaf_fill is not None,
            leaf_fill=opening.leaf_fill,
            water_source=opening.water_source,
            water_tds_mg_l=None if opening.water_tds_mg_l is None else TDS_MG_L.checked(opening.water_tds_mg_l),
            altitude_m=None if opening.altitude_m is None else ALTITUDE_M.checked(opening.altitude_m),
            conditions=opening.conditions,
        )
        self._keeping.keep(session.uid, f"session with {lot.name}", [Change(None, session)])
        return session

    def _course(self, key: str) -> Course:
        for course in self._courses():
            if course.key == key:
                return course
        known = ", ".join(course.key for course in self._courses())
        raise TastingError(f"There is no course “{key}”. Known are: {known}.")

    def _refuse_circle(self, lot: Lot) -> None:
        follows = {one.uid: one.follows for one in self._keeping.journal.lots()}
        seen = {lot.uid}
        earlier = lot.follows
        while earlier is not None:
            if earlier in seen:
                raise TastingError(f"{lot.name} cannot follow a batch that itself follows {lot.name}.")
            seen.add(earlier)
            earlier = follows.get(earlier)


def checked_lot(lot: Lot) -> Lot:
    """Return the lot if every number of it can be.

    Raises
    ------
    QuantityError
        If a number is outside its range.
    TastingError
        If it has no name.
    """
    if not lot.name.strip():
        raise TastingError("A lot needs a name.")
    numbers = (
        (ALTITUDE_M, lot.altitude_m),
        (YEAR, lot.harvest_year),
        (OXIDATION_PCT, lot.oxidation_pct),
        (QUANTITY_G, lot.quantity_g),
        (PRICE_PER_KG, None if lot.price_per_kg is None else float(lot.price_per_kg)),
    )
    for quantity, value in numbers:
        if value is not None:
            quantity.checked(value)
    return replace(lot, name=lot.name.strip())


def matching(lines: Iterable[LotLine], words: str) -> tuple[LotLine, ...]:
    """Return the lots in whose provenance every word typed occurs; accents, tones and case are forgiven."""
    wanted = plain(words).split()
    return tuple(line for line in lines if all(word in _haystack(line) for word in wanted))


def _haystack(line: LotLine) -> str:
    lot = line.lot
    fields = (
        lot.name, lot.kind, lot.cultivar, lot.cultivar_local, lot.origin, lot.harvest, lot.plucking, lot.form,
        lot.supplier, lot.batch, lot.roast.level, lot.notes, *(session.headline for session in line.sessions),
    )  # fmt: skip
    return plain(" ".join(fields))


def _leaf_g(opening: Opening, lot: Lot) -> float | None:
    if opening.leaf_g is not None:
        return LEAF_G.checked(opening.leaf_g)
    if opening.leaf_fill is None or opening.volume_ml is None:
        return None
    return leaf_by_eye_g(opening.leaf_fill, opening.volume_ml, lot.form)
