"""Stand-ins for the outside, with the contracts of the real ones: a clock to set, ids to count, a journal in memory.

`tests/store/test_contract.py` holds `FakeJournal` against the real journal, so that what is tested with the one holds
for the other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import TypeVar

from tastebook.domain.act import Act, Change
from tastebook.domain.course import Course
from tastebook.domain.errors import JournalReadOnly, StaleAct, StoreError
from tastebook.domain.finding import Found, Query
from tastebook.domain.kin import NotedCups
from tastebook.domain.lot import Lot
from tastebook.domain.session import (
    Impression,
    Infusion,
    KettleReading,
    OwnDescriptor,
    Photo,
    Reading,
    Record,
    Saying,
    Session,
    StepMark,
    Tasting,
    Verdict,
    picture_digest,
)
from tastebook.domain.steep import Instant
from tastebook.services.drafts import Draft
from tastebook.services.ports import LotLine, SessionLine, WordUse
from tests import scanning

Kind = TypeVar("Kind", Lot, Session, OwnDescriptor)

MORNING_UTC = datetime(2026, 4, 18, 9, 30, tzinfo=UTC)


class FakeClock:
    """A clock that stands still until it is told otherwise."""

    def __init__(self, utc: datetime = MORNING_UTC, *, utc_offset_min: int = 60) -> None:
        self._utc = utc
        self._monotonic_s = 1000.0
        self._boots = 1
        self.offset_min = utc_offset_min

    def now(self) -> Instant:
        """Return this moment on both clocks."""
        return Instant(self._utc, self._monotonic_s, f"boot-{self._boots}")

    def monotonic_s(self) -> float:
        """Return the monotonic clock alone."""
        return self._monotonic_s

    def utc_now(self) -> datetime:
        """Return the wall clock."""
        return self._utc

    def utc_offset_min(self, at_utc: datetime) -> int:
        """Return the offset that the test chose."""
        return self.offset_min

    def advance(self, seconds: float) -> None:
        """Let time pass on both clocks."""
        self._monotonic_s += seconds
        self._utc += timedelta(seconds=seconds)

    def sleep(self, seconds: float) -> None:
        """Let the machine sleep: both clocks go on, as the port promises, though nothing ran meanwhile."""
        self.advance(seconds)

    def step_wall(self, seconds: float) -> None:
        """Set the wall clock forward (or back, below 0), as a user or a time server does; no time passes."""
        self._utc += timedelta(seconds=seconds)

    def reboot(self, seconds: float = 60.0) -> None:
        """Restart the machine: the monotonic clock begins anew, the wall clock has gone on by `seconds`."""
        self._boots += 1
        self._monotonic_s = 5.0
        self._utc += timedelta(seconds=seconds)


class FakeIds:
    """Counts: `id-000001`, `id-000002`, ..., or with another beginning."""

    def __init__(self, beginning: str = "id") -> None:
        self._beginning = beginning
        self._given = 0

    def new(self) -> str:
        """Return the next one."""
        self._given += 1
        return f"{self._beginning}-{self._given:06d}"


@dataclass
class FakeDrafts:
    """Drafts in memory; `writes` counts how often something was written.

    Parameters
    ----------
    next_keep_fails : StoreError or None
        Raised by every `keep` while it is set.
    """

    next_keep_fails: StoreError | None = None
    drafts: dict[str, Draft] = field(default_factory=dict)
    writes: int = 0

    def read(self, session_uid: str) -> Draft | None:
        """Return the draft of a session."""
        return self.drafts.get(session_uid)

    def keep(self, session_uid: str, draft: Draft | None) -> None:
        """Keep a draft, or forget it."""
        if self.next_keep_fails is not None:
            raise self.next_keep_fails
        self.writes += 1
        self.drafts.pop(session_uid, None)
        if draft is not None:
            self.drafts[session_uid] = draft


@dataclass
class FakeCourses:
    """The courses that a test gives."""

    courses: tuple[Course, ...] = ()
    refusals: tuple[str, ...] = ()

    def all(self) -> tuple[Course, ...]:
        """Return them."""
        return self.courses

    def refused(self) -> tuple[str, ...]:
        """Return the refusals that the test gives."""
        return self.refusals


@dataclass
class FakeJournal:
    """A journal in memory.

    Parameters
    ----------
    read_only_because : str
        As a test wants it.
    next_commit_fails : StoreError or None
        Raised by the next commit, which keeps nothing: `JournalFull("The disk is full.")`.
    """

    read_only_because: str = ""
    next_commit_fails: StoreError | None = None
    _records: dict[str, Record] = field(default_factory=dict)
    _acts: list[Act] = field(default_factory=list)
    _outside: int = 1
    _pictures: dict[str, bytes] = field(default_factory=dict)

    def shelf(self) -> tuple[LotLine, ...]:
        """Return every lot, newest first, with its sessions."""
        sessions = self.sessions()
        return tuple(
            LotLine(lot, tuple(self._line(one) for one in sessions if one.lot_uid == lot.uid)) for lot in self.lots()
        )

    def lot(self, uid: str) -> Lot:
        """Return one lot."""
        return self._one(Lot, uid)

    def lots(self) -> tuple[Lot, ...]:
        """Return every lot, newest first."""
        return tuple(sorted(self._all(Lot), key=lambda one: (one.created_at_utc, one.uid), reverse=True))

    def sessions(self) -> tuple[Session, ...]:
        """Return every session, oldest first."""
        return tuple(sorted(self._all(Session), key=lambda one: (one.started_at_utc, one.uid)))

    def last_session(self) -> Session | None:
        """Return the session begun last."""
        return next(reversed(self.sessions()), None)

    def tasting(self, session_uid: str) -> Tasting:
        """Return a session with its lot and all its parts."""
        session = self._one(Session, session_uid)
        parts = (record for record in self._records.values() if not isinstance(record, (Lot, Session)))
        return Tasting(self.lot(session.lot_uid), session).after((None, part) for part in parts)

    def steeping(self) -> tuple[str, ...]:
        """Return the uids of the sessions with leaf in water now."""
        return tuple(sorted(one.session.uid for one in self._tastings() if one.steeping is not None))

    def own_descriptors(self) -> tuple[OwnDescriptor, ...]:
        """Return the user's own words, oldest first."""
        return tuple(sorted(self._all(OwnDescriptor), key=lambda one: (one.created_at_utc, one.uid)))

    def words_noted(self) -> tuple[str, ...]:
        """Return the key of every word that is noted."""
        return tuple(sorted({one.descriptor for one in self._all(Impression)}))

    def word_use(self, descriptor: str) -> WordUse | None:
        """Return how often a word is noted, None if it is not."""
        noted = [one for one in self._all(Impression) if one.descriptor == descriptor]
        if not noted:
            return None
        sessions = {one.session_uid for one in noted}
        last = self._one(Session, max(sessions))
        word = next(one.word for one in noted if one.session_uid == last.uid)
        lot = self.lot(last.lot_uid).name
        return WordUse(descriptor, word, len(noted), len(sessions), lot, last.started_at_utc, last.utc_offset_min)

    def keep_picture(self, content: bytes) -> str:
        """Keep a picture and return its digest."""
        if self.read_only_because:
            raise JournalReadOnly(self.read_only_because)
        digest = picture_digest(content)
        self._pictures[digest] = content
        return digest

    def picture(self, digest: str) -> bytes:
        """Return a picture as it came."""
        try:
            return self._pictures[digest]
        except KeyError:
            raise StoreError("The journal has no such picture.") from None

    def acts(self, scope: str) -> tuple[Act, ...]:
        """Return the acts of one session or lot, oldest first."""
        return tuple(act for act in self._acts if act.scope == scope)

    def commit(self, act: Act) -> None:
        """Keep an act, whole or not at all."""
        if self.read_only_because:
            raise JournalReadOnly(self.read_only_because)
        if self.next_commit_fails is not None:
            trouble, self.next_commit_fails = self.next_commit_fails, None
            raise trouble
        if not act.changes:
            raise StoreError(f"“{act.label}” changes nothing, so there is nothing to keep.")
        if any(kept.uid == act.uid for kept in self._acts):
            raise StaleAct(f"“{act.label}” was kept before.")
        records = dict(self._records)
        for change in act.changes:
            _carry_out(change, records)
        _check_references(records)
        self._records = records
        self._acts.append(act)

    def find(self, query: Query, limit: int, offset: int = 0) -> Found:
        """Return one page of what a look at every record finds."""
        return scanning.scan(self.lots(), self._tastings(), query, limit, offset)

    def noted_cups(self, session_uid: str = "") -> NotedCups:
        """Return what was perceived in the infusions of each lot's newest tasting, and of one session more."""
        return scanning.noted_cups(self._tastings(), session_uid)

    def _tastings(self) -> list[Tasting]:
        return [self.tasting(one.uid) for one in self.sessions()]

    def last_act(self) -> int:
        """Return how many acts there are."""
        return len(self._acts)

    def acts_after(self, number: int) -> tuple[Act, ...]:
        """Return every act kept after one number, oldest first."""
        return tuple(self._acts[number:])

    def outside_version(self) -> int:
        """Return a number that differs after `commit_outside`."""
        return self._outside

    def commit_outside(self, act: Act) -> None:
        """Keep an act as another window would."""
        self.commit(act)
        self._outside += 1

    def close(self) -> None:
        """Do nothing: what is in memory needs no closing."""

    def _one(self, kind: type[Kind], uid: str) -> Kind:
        record = self._records.get(uid)
        if not isinstance(record, kind):
            raise StoreError(f"The journal has no {kind.__name__.lower()} “{uid}”.")
        return record

    def _all(self, kind: type[Kind]) -> Iterator[Kind]:
        return (record for record in self._records.values() if isinstance(record, kind))

    def _line(self, session: Session) -> SessionLine:
        tasting = self.tasting(session.uid)
        verdict = tasting.verdict
        return SessionLine(
            uid=session.uid,
            lot_uid=session.lot_uid,
            started_at_utc=session.started_at_utc,
            utc_offset_min=session.utc_offset_min,
            purpose=session.purpose,
            is_open=session.is_open,
            infusions_poured=sum(one.is_poured and one.index > 0 for one in tasting.infusions),
            liquors=tuple((one.index, one.liquor) for one in tasting.infusions if one.liquor is not None),
            decision=verdict.decision if verdict else "",
            headline=verdict.headline if verdict else "",
            rest_until=verdict.rest_until.isoformat() if verdict and verdict.rest_until else "",
            has_verdict=verdict is not None,
            is_steeping=tasting.steeping is not None,
        )


def _carry_out(change: Change, records: dict[str, Record]) -> None:
    record = change.after or change.before
    if record is None:
        raise StoreError("A change has neither a before nor an after, so there is nothing to keep.")
    if records.get(record.uid) != change.before:
        raise StaleAct(f"The {type(record).__name__.lower()} “{record.uid}” was changed elsewhere.")
    if change.after is None:
        del records[record.uid]
    else:
        records[record.uid] = change.after


def _check_references(records: dict[str, Record]) -> None:
    """Refuse what the real journal's foreign keys and unique columns refuse."""
    taken: set[tuple[object, ...]] = set()
    for record in records.values():
        for uid in _named_by(record):
            if uid is not None and uid not in records:
                raise StaleAct(f"What the {type(record).__name__.lower()} belongs to is no longer there.")
        place = _place_of(record)
        if place in taken:
            raise StaleAct(f"There is such a {type(record).__name__.lower()} already.")
        taken |= {place} if place else set()


def _named_by(record: Record) -> tuple[str | None, ...]:
    if isinstance(record, Lot):
        return (record.follows,)
    if isinstance(record, Session):
        return (record.lot_uid,)
    if isinstance(record, Impression):
        return (record.session_uid, record.saying_uid)
    if isinstance(record, (Infusion, Saying, Reading, StepMark, KettleReading, Photo, Verdict)):
        return (record.session_uid,)
    return ()


def _place_of(record: Record) -> tuple[object, ...]:
    if isinstance(record, Infusion):
        return ("infusion", record.session_uid, record.index)
    return ("verdict", record.session_uid) if isinstance(record, Verdict) else ()
