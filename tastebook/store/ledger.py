"""The journal's tables through SQLAlchemy: reading whole tastings, and keeping acts.

Statements are written against the typed rows and run through Core: a tasting is read as values, never as entities that
could load something later, in the middle of a paint event.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, Final, TypeVar

from sqlalchemy import Connection, Delete, Insert, Select, Update, bindparam, select
from sqlalchemy import delete as delete_from
from sqlalchemy import insert as insert_into
from sqlalchemy import update as update_in

from tastebook.domain.act import Act, Change
from tastebook.domain.errors import JournalDamaged, StaleAct, StoreError
from tastebook.domain.lot import Lot
from tastebook.domain.session import (
    PART_FIELDS,
    Impression,
    Infusion,
    KettleReading,
    OwnDescriptor,
    Reading,
    Record,
    Saying,
    Session,
    StepMark,
    Tasting,
    Verdict,
    picture_digest,
)
from tastebook.store.codec import NAMES
from tastebook.store.engine import TO_WRITE, driver_errors, engine_over
from tastebook.store.finding_upkeep import keep_up
from tastebook.store.mapping import MAPPINGS, Mapping, act_columns, act_of, decoded
from tastebook.store.rows import ROWS, ActRow, LotRow, PictureRow, SessionRow, table_of
from tastebook.store.trouble import is_conflict

T = TypeVar("T")

ACT_COLUMNS: Final = (
    ActRow.uid, ActRow.scope, ActRow.label, ActRow.at_utc, ActRow.kind, ActRow.concerns, ActRow.changes,
)  # fmt: skip


@dataclass(frozen=True)
class Statements:
    """What is asked of one table, built once so that SQLAlchemy compiles it once."""

    one: Select[Any]
    of_session: Select[Any] | None
    insert: Insert
    update: Update
    delete: Delete


class Ledger:
    """Reads and keeps records over a connection that somebody else opened.

    Parameters
    ----------
    raw : sqlite3.Connection
        Without implicit transactions (`isolation_level=None`).
    before_commit : callable
        Called within each transaction once everything is written; what it raises takes the act back.
    """

    def __init__(self, raw: sqlite3.Connection, before_commit: Callable[[], None]) -> None:
        self._raw = raw
        self._before_commit = before_commit
        self._engine = engine_over(raw)

    def lot(self, uid: str) -> Lot:
        """Return one lot."""
        with self._reading() as connection:
            return self._one(connection, Lot, uid)

    def lots(self) -> tuple[Lot, ...]:
        """Return every lot, newest first."""
        query = select(table_of(LotRow)).order_by(LotRow.created_at_utc.desc(), LotRow.uid.desc())
        return self._all(MAPPINGS[Lot], query)

    def sessions(self) -> tuple[Session, ...]:
        """Return every session, oldest first."""
        query = select(table_of(SessionRow)).order_by(SessionRow.started_at_utc, SessionRow.uid)
        return self._all(MAPPINGS[Session], query)

    def last_session(self) -> Session | None:
        """Return the session begun last."""
        newest = select(table_of(SessionRow)).order_by(SessionRow.started_at_utc.desc(), SessionRow.uid.desc()).limit(1)
        return next(iter(self._all(MAPPINGS[Session], newest)), None)

    def tasting(self, session_uid: str) -> Tasting:
        """Return a session with its lot and all its parts, as of one moment."""
        with self._reading() as connection:
            session = self._one(connection, Session, session_uid)
            lot = self._one(connection, Lot, session.lot_uid)
            parts: dict[str, Any] = {
                field: _parts(connection, kind, session_uid) for kind, field in PART_FIELDS.items()
            }
            verdicts = _parts(connection, Verdict, session_uid)
        return Tasting(lot, session, verdict=next(iter(verdicts), None), **parts)

    def acts(self, scope: str) -> tuple[Act, ...]:
        """Return the acts of one session or lot, oldest first."""
        query = select(*ACT_COLUMNS).where(ActRow.scope == scope).order_by(ActRow.number)
        with self._reading() as connection:
            return tuple(decoded("act", act_of, row) for row in connection.execute(query))

    def acts_after(self, number: int) -> tuple[Act, ...]:
        """Return every act kept after one number, oldest first."""
        query = select(*ACT_COLUMNS).where(ActRow.number > number).order_by(ActRow.number)
        with self._reading() as connection:
            return tuple(decoded("act", act_of, row) for row in connection.execute(query))

    def keep_picture(self, content: bytes) -> str:
        """Keep a picture in one transaction, and return its digest."""
        digest = picture_digest(content)
        with self._writing("photograph") as connection:
            connection.execute(_INSERT_PICTURE, {"digest": digest, "content": content})
            self._before_commit()
        return digest

    def picture(self, digest: str) -> bytes:
        """Return a picture."""
        with self._reading() as connection:
            content = connection.execute(_PICTURE, {"of_digest": digest}).scalar_one_or_none()
        if content is None:
            raise StoreError("The journal has no such picture.")
        if picture_digest(content) != digest:
            raise JournalDamaged("A photograph in the journal is no longer what was kept.")
        return bytes(content)

    def commit(self, act: Act) -> None:
        """Keep an act in one transaction."""
        columns = act_columns(act)
        changes = net_changes(act)
        with self._writing(act.label) as connection:
            _check_unchanged(connection, changes)
            _carry_out(connection, changes)
            _keep_findable(self._raw, changes)
            connection.execute(_INSERT_ACT, columns)
            self._before_commit()

    def _one(self, connection: Connection, kind: type[T], uid: str) -> T:
        row = connection.execute(_STATEMENTS[kind].one, {"of_uid": uid}).one_or_none()  # type: ignore[index]
        if row is None:
            raise StoreError(f"The journal has no {kind.__name__.lower()} “{uid}”.")
        mapping: Mapping[T] = MAPPINGS[kind]  # type: ignore[index]
        return decoded(mapping.table, mapping.value_of, row)

    def _all(self, mapping: Mapping[T], query: Select[Any]) -> tuple[T, ...]:
        with self._reading() as connection:
            return tuple(decoded(mapping.table, mapping.value_of, row) for row in connection.execute(query))

    @contextmanager
    def _reading(self) -> Iterator[Connection]:
        with driver_errors(), self._engine.connect() as connection, connection.begin():
            yield connection

    @contextmanager
    def _writing(self, label: str) -> Iterator[Connection]:
        try:
            with driver_errors(), self._engine.connect() as plain:
                connection = plain.execution_options(**TO_WRITE)
                with connection.begin():
                    yield connection
        except sqlite3.IntegrityError as exc:
            if not is_conflict(exc):
                raise
            raise StaleAct(
                f"“{label}” was not kept: what it belongs to was changed or removed in another window. "
                "Look at it again."
            ) from exc
        except (UnicodeEncodeError, OverflowError) as exc:
            raise StoreError(f"“{label}” cannot be kept: {exc}.") from exc
        finally:
            if self._raw.in_transaction:
                self._raw.rollback()


def net_changes(act: Act) -> tuple[Change, ...]:
    """Return what an act comes to for each record it touches.

    Raises
    ------
    StoreError, StaleAct
        If it changes nothing, or if two of its changes to one record do not follow from each other.
    """
    if not act.changes:
        raise StoreError(f"“{act.label}” changes nothing, so there is nothing to keep.")
    net: dict[str, Change] = {}
    for change in act.changes:
        record = _subject(change)
        earlier = net.get(record.uid)
        if earlier is not None and earlier.after != change.before:
            raise stale(record)
        net[record.uid] = Change(change.before if earlier is None else earlier.before, change.after)
    return tuple(net.values())


def stale(record: Record) -> StaleAct:
    """Return what to say when a record is no longer as an act found it."""
    return StaleAct(f"{told(record)} was changed in another window meanwhile. Nothing was kept: look at it again.")


def told(record: Record) -> str:
    """Return what a person would call a record."""
    kind = NAMES[type(record)].capitalize()
    if isinstance(record, (Lot, OwnDescriptor)):
        return f"{kind} “{record.name}”"
    if isinstance(record, Infusion):
        return f"Infusion {record.index}"
    if isinstance(record, Impression):
        return f"{kind} “{record.word}”"
    if isinstance(record, Saying):
        return f"{kind} “{record.text}”"
    if isinstance(record, Reading):
        return f"{kind} “{record.scale}”"
    return f"{kind} of “{record.step}”" if isinstance(record, StepMark) else kind


def _subject(change: Change) -> Record:
    record = change.after or change.before
    if record is None:
        raise StoreError("A change has neither a before nor an after, so there is nothing to keep.")
    return record


def _check_unchanged(connection: Connection, changes: Iterable[Change]) -> None:
    for change in changes:
        if change.before is None and change.after is not None:
            continue  # Adding what is there already is caught by the primary key.
        record = _subject(change)
        mapping = MAPPINGS[type(record)]
        row = connection.execute(_STATEMENTS[type(record)].one, {"of_uid": record.uid}).one_or_none()
        stored = None if row is None else decoded(mapping.table, mapping.value_of, row)
        if stored != change.before:
            raise stale(record)


def _carry_out(connection: Connection, changes: tuple[Change, ...]) -> None:
    """Write removals first, then amendments, then additions, so that a number is free before it is taken again."""
    for before, after in ((one.before, one.after) for one in changes):
        if before is not None and after is None:
            connection.execute(_STATEMENTS[type(before)].delete, {"of_uid": before.uid})
    for before, after in ((one.before, one.after) for one in changes):
        if before is not None and after is not None:
            connection.execute(_STATEMENTS[type(after)].update, {"of_uid": before.uid, **_columns(after)})
    for before, after in ((one.before, one.after) for one in changes):
        if before is None and after is not None:
            connection.execute(_STATEMENTS[type(after)].insert, _columns(after))


def _keep_findable(raw: sqlite3.Connection, changes: tuple[Change, ...]) -> None:
    """Keep what is searched in step; where that fails for damage, it is made anew, and the act is kept all the same."""
    try:
        keep_up(raw, changes)
    except JournalDamaged:
        raw.execute("DELETE FROM found_state")
    except sqlite3.DatabaseError as exc:
        if exc.sqlite_errorcode != sqlite3.SQLITE_CORRUPT_VTAB:
            raise
        raw.execute("DELETE FROM found_state")


def _columns(record: Record) -> dict[str, Any]:
    return dict(MAPPINGS[type(record)].columns_of(record))


def _parts(connection: Connection, kind: Any, session_uid: str) -> tuple[Any, ...]:
    query = _STATEMENTS[kind].of_session
    assert query is not None, f"{kind.__name__} is no part of a session."
    mapping = MAPPINGS[kind]
    rows = connection.execute(query, {"of_session": session_uid})
    return tuple(decoded(mapping.table, mapping.value_of, row) for row in rows)


def _statements_for(kind: type[Record]) -> Statements:
    table = table_of(ROWS[kind])
    is_this = table.c.uid == bindparam("of_uid")
    return Statements(
        one=select(table).where(is_this),
        of_session=_of_session(kind),
        insert=insert_into(table),
        update=update_in(table).where(is_this).values({name: bindparam(name) for name in table.c.keys()}),  # noqa: SIM118
        delete=delete_from(table).where(is_this),
    )


def _of_session(kind: type[Record]) -> Select[Any] | None:
    if kind in (Lot, Session, OwnDescriptor):
        return None
    columns = table_of(ROWS[kind]).c
    query = select(table_of(ROWS[kind])).where(columns.session_uid == bindparam("of_session"))
    if kind is Verdict:
        return query
    moment = "read_at_utc" if kind is KettleReading else "recorded_at_utc"
    order = (columns.number,) if kind is Infusion else (columns[moment], columns.uid)
    return query.order_by(*order)


_STATEMENTS: Final = {kind: _statements_for(kind) for kind in ROWS}
_INSERT_ACT: Final = insert_into(table_of(ActRow))
_INSERT_PICTURE: Final = insert_into(table_of(PictureRow)).prefix_with("OR IGNORE")
_PICTURE: Final = select(PictureRow.content).where(PictureRow.digest == bindparam("of_digest"))
