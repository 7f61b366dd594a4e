"""The lots one has: adding, amending, archiving, finding, and beginning a session with one."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import Any, Final, Literal, TypeAlias

from tastebook.domain.act import Act, Change, History
from tastebook.domain.course import Course
from tastebook.domain.dose import leaf_by_eye_g
from tastebook.domain.errors import QuantityError, TastingError
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
    Quantity,
)
from tastebook.domain.session import Conditions, Session, Swallowed, Tasting
from tastebook.domain.water import PRESSURE_HPA, pressure_doubt
from tastebook.services.keeping import Keeping, Listener
from tastebook.services.ports import LotLine, SessionLine

Owed: TypeAlias = Literal["half tasted", "to taste", "to write", "resting", "done", "archived"]

HOURS: Final = Quantity("time", "h", 0, 10_000)
"""How long one stage of making lasts: from minutes of steam to a year of rest."""


@dataclass(frozen=True)
class Opening:
    """What the Bench needs to know now, filled in from last time.

    `leaf_fill` is the share of the vessel that the dry leaf fills, for leaf by eye; `leaf_form` the form by which it is
    estimated, for a lot whose own is not known.
    """

    course_key: str = "gaiwan"
    vessel: str = "gaiwan"
    volume_ml: float | None = 110.0
    leaf_g: float | None = None
    leaf_fill: float | None = None
    leaf_form: str = ""
    water_source: str = ""
    water_tds_mg_l: float | None = None
    altitude_m: float | None = None
    pressure_hpa: float | None = None
    kettle: str = ""
    vessel_warmed: bool = False
    swallowed: Swallowed = "sipped"
    purpose: str = "on arrival"
    taster: str = ""
    conditions: Conditions = field(default_factory=Conditions)


def owed_to(line: LotLine, today: date) -> Owed:
    """Return what a lot is owed: the most pressing first. A lot whose rest is over is to taste again."""
    if line.lot.archived:
        return "archived"
    if any(session.is_open for session in line.sessions):
        return "half tasted"
    if not line.sessions:
        return "to taste"
    last = line.sessions[-1]
    if not last.has_verdict:
        return "to write"
    if last.decision != "rest until":
        return "done"
    return "to taste" if is_rested(last, today) else "resting"


def is_rested(session: SessionLine, today: date) -> bool:
    """Say whether the day until which a lot was to rest has come; without a day it rests on."""
    return bool(session.rest_until) and date.fromisoformat(session.rest_until) <= today


class Shelf:
    """Every act on lots and the beginning of sessions."""

    def __init__(self, keeping: Keeping, courses: Callable[[], tuple[Course, ...]]) -> None:
        self._keeping = keeping
        self._courses = courses

    @property
    def read_only_because(self) -> str:
        """Return why nothing can be kept, empty if it can."""
        return self._keeping.journal.read_only_because

    def listen(self, listener: Listener) -> None:
        """Call `listener` with every act once it is kept."""
        self._keeping.listen(listener)

    def today(self) -> date:
        """Return the local date."""
        now = self._keeping.clock.utc_now()
        return (now + timedelta(minutes=self._keeping.clock.utc_offset_min(now))).date()

    def outside_version(self) -> int:
        """Return a number that differs once another window or program has changed the journal."""
        return self._keeping.journal.outside_version()

    def lines(self) -> tuple[LotLine, ...]:
        """Return every lot, newest first, with its sessions."""
        return self._keeping.journal.shelf()

    def lot(self, uid: str) -> Lot:
        """Return one lot."""
        return self._keeping.journal.lot(uid)

    def tasting(self, session_uid: str) -> Tasting:
        """Return one session with all its parts."""
        return self._keeping.journal.tasting(session_uid)

    def courses(self) -> tuple[Course, ...]:
        """Return the courses that can be followed."""
        return self._courses()

    def add(self, lot: Lot) -> Lot:
        """Keep a new lot under a new uid, and return it."""
        new = replace(checked_lot(lot), uid=self._keeping.ids.new(), created_at_utc=self._keeping.clock.utc_now())
        self._keeping.keep(new.uid, f"{new.name} added", [Change(None, new)])
        return new

    def amend(self, lot: Lot) -> None:
        """Keep a lot as it is now."""
        before = self.lot(lot.uid)
        self._refuse_circle(lot)
        self._keeping.keep(lot.uid, f"{lot.name} amended", [Change(before, checked_lot(lot))])

    def change(self, lot_uid: str, what: str, **fields: Any) -> Lot:
        """Set some fields of a lot and leave the others as the journal has them now; return the lot.

        Parameters
        ----------
        lot_uid : str
            Which lot.
        what : str
            What is set, in the user's words, such as `altitude`.
        **fields
            Names and values of `Lot`.

        Raises
        ------
        QuantityError
            If a number is outside its range.
        TastingError
            If the name is empty, or the lot would come to follow itself.
        """
        before = self.lot(lot_uid)
        after = checked_lot(replace(before, **fields))
        self._refuse_circle(after)
        self._keeping.keep(lot_uid, f"{what} of {after.name}", [Change(before, after)])
        return after

    def archive(self, lot_uid: str, *, archived: bool = True) -> None:
        """Put a lot away, or take it out again; nothing of it is lost."""
        before = self.lot(lot_uid)
        label = f"{before.name} put away" if archived else f"{before.name} taken out again"
        self._keeping.keep(lot_uid, label, [Change(before, replace(before, archived=archived))])

    def history(self, lot_uid: str) -> History:
        """Return what can be taken back and done again on a lot."""
        return self._keeping.history(lot_uid)

    def undo(self, lot_uid: str) -> str:
        """Take back the newest act on a lot, and return what it was, empty if there is none.

        Raises
        ------
        TastingError
            If the lot itself would go while sessions or later batches belong to it.
        """
        undoable = self.history(lot_uid).undoable
        if undoable and _adds_lot(undoable[-1]):
            self._refuse_orphans(lot_uid)
        act = self._keeping.undo(lot_uid)
        return act.label if act else ""

    def redo(self, lot_uid: str) -> str:
        """Do again what was taken back last on a lot, and return what it was, empty if there is nothing."""
        act = self._keeping.redo(lot_uid)
        return act.label if act else ""

    def opening_for(self, lot: Lot, taster: str = "", earlier: Sequence[SessionLine] = ()) -> Opening:
        """Return the opening of a new session, filled in from the session begun last.

        Parameters
        ----------
        lot : Lot
            What is to be tasted.
        taster : str
            Who tastes, where no session says so yet.
        earlier : sequence of SessionLine
            The sessions with this lot, oldest first: after one at origin the next is on arrival, then it is a retaste.
        """
        last = self._keeping.journal.last_session()
        purpose = _purpose(last, lot, earlier)
        if last is None:
            return Opening(
                course_key=self._course_key(Opening.course_key), taster=taster, purpose=purpose, leaf_form=lot.form
            )
        return Opening(
            course_key=self._course_key(last.course.key),
            vessel=last.vessel,
            volume_ml=last.volume_ml,
            leaf_g=last.leaf_g if not last.leaf_by_eye else None,
            leaf_fill=last.leaf_fill if last.leaf_by_eye else None,
            leaf_form=lot.form,
            water_source=last.water_source,
            water_tds_mg_l=last.water_tds_mg_l,
            altitude_m=last.altitude_m,
            kettle=last.kettle,
            vessel_warmed=last.vessel_warmed,
            swallowed=last.swallowed,
            purpose=purpose,
            taster=last.taster or taster,
            conditions=last.conditions,
        )

    def begin(self, lot: Lot, opening: Opening) -> Session:
        """Begin a session and return it.

        Raises
        ------
        QuantityError
            If a number of the opening cannot be, or the barometer cannot be that of the place.
        TastingError
            If the course is not known.
        """
        now = self._keeping.clock.utc_now()
        is_by_eye = opening.leaf_g is None and opening.leaf_fill is not None
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
            leaf_g=leaf_g(opening, lot),
            leaf_by_eye=is_by_eye,
            leaf_fill=opening.leaf_fill if is_by_eye else None,
            water_source=opening.water_source,
            water_tds_mg_l=None if opening.water_tds_mg_l is None else TDS_MG_L.checked(opening.water_tds_mg_l),
            altitude_m=None if opening.altitude_m is None else ALTITUDE_M.checked(opening.altitude_m),
            pressure_hpa=_pressure_hpa(opening),
            kettle=opening.kettle,
            vessel_warmed=opening.vessel_warmed,
            swallowed=opening.swallowed,
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

    def _course_key(self, wanted: str) -> str:
        """Return the key wanted, or that of another course where the wanted one is gone."""
        keys = [course.key for course in self._courses()]
        return next((key for key in (wanted, Opening.course_key, *keys) if key in keys), Opening.course_key)

    def _refuse_circle(self, lot: Lot) -> None:
        if lot.follows is not None and lot.follows in following(lot.uid, self._keeping.journal.lots()):
            raise TastingError(f"{lot.name} cannot follow itself, nor a batch that follows {lot.name}.")

    def _refuse_orphans(self, lot_uid: str) -> None:
        line = next((line for line in self.lines() if line.lot.uid == lot_uid), None)
        if line is None:
            return
        if line.sessions:
            raise TastingError(f"{line.lot.name} has been tasted, so it stays. Put it away instead.")
        if len(following(lot_uid, (one.lot for one in self.lines()))) > 1:
            raise TastingError(f"Another lot follows {line.lot.name}, so it stays. Put it away instead.")


def following(lot_uid: str, lots: Iterable[Lot]) -> set[str]:
    """Return a lot and every lot that follows it, at whatever distance."""
    later: dict[str | None, list[str]] = {}
    for lot in lots:
        later.setdefault(lot.follows, []).append(lot.uid)
    found, fresh = {lot_uid}, [lot_uid]
    while fresh:
        fresh = [uid for earlier in fresh for uid in later.get(earlier, ()) if uid not in found]
        found.update(fresh)
    return found


def _adds_lot(act: Act) -> bool:
    return any(change.before is None and isinstance(change.after, Lot) for change in act.changes)


def _purpose(last: Session | None, lot: Lot, earlier: Sequence[SessionLine]) -> str:
    if earlier:
        return "on arrival" if earlier[-1].purpose == "at origin" else "retaste"
    if last is None:
        return Opening.purpose
    if last.lot_uid == lot.uid:
        return "on arrival" if last.purpose == "at origin" else "retaste"
    return last.purpose if last.purpose != "retaste" else Opening.purpose


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
        (HOURS, lot.roast.hours),
        *((HOURS, step.hours) for step in lot.processing),
    )
    for quantity, value in numbers:
        if value is not None:
            quantity.checked(value)
    return replace(lot, name=lot.name.strip())


def leaf_g(opening: Opening, lot: Lot) -> float | None:
    """Return the leaf as weighed, or as estimated by eye, None where neither is known.

    Raises
    ------
    QuantityError
        If the weight, the share filled or the volume cannot be.
    """
    if opening.leaf_g is not None:
        return LEAF_G.checked(opening.leaf_g)
    if opening.leaf_fill is None or opening.volume_ml is None:
        return None
    return leaf_by_eye_g(opening.leaf_fill, opening.volume_ml, lot.form or opening.leaf_form)


def _pressure_hpa(opening: Opening) -> float | None:
    why = pressure_doubt(opening.altitude_m, opening.pressure_hpa)
    if why:
        raise QuantityError(why)
    return None if opening.pressure_hpa is None else PRESSURE_HPA.checked(opening.pressure_hpa)
