"""Looking a journal over from end to end, for `tastebook check`."""

from __future__ import annotations

import sqlite3
from collections import Counter
from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from typing import Final, TypeAlias

from sqlalchemy import Connection, select

from tastebook.domain.act import Act
from tastebook.domain.errors import StoreError
from tastebook.domain.session import Record, picture_digest
from tastebook.store.backup import folder_for
from tastebook.store.codec import NAMES
from tastebook.store.connecting import close_file, open_reading
from tastebook.store.engine import driver_errors, engine_over
from tastebook.store.finding_tables import differences
from tastebook.store.ledger import ACT_COLUMNS
from tastebook.store.mapping import MAPPINGS, act_of, decoded
from tastebook.store.opening import inspect, read_revision
from tastebook.store.rows import ROWS, ActRow, table_of
from tastebook.store.schema import OURS
from tastebook.store.trouble import trouble_of, trouble_of_file

MOST_FINDINGS: Final = 20
"""Of one kind; the rest is counted."""

Marks: TypeAlias = dict[str, int]
"""For each record, by uid, the hash of its value: enough to compare a long journal without holding it twice."""


def check(path: Path) -> tuple[str, ...]:
    """Return everything that is wrong with the journal at `path`, in words; nothing is changed.

    Looked at are SQLite's own structure, references between records, whether each record and act can be read, whether
    all acts, carried out from the first on, come to exactly the records that are there, whether every photograph's
    picture is there and still what was kept, and whether the tables for finding are what the records come to.
    """
    try:
        inspect(path, folder_for(path))
        opened = open_reading(path)
    except (StoreError, sqlite3.Error, OSError) as exc:
        return (_told(exc, path),)
    try:
        return tuple(_findings(opened.raw))
    except (StoreError, sqlite3.Error) as exc:
        return (_told(exc, path),)
    finally:
        close_file(opened)


def _told(exc: StoreError | sqlite3.Error | OSError, path: Path) -> str:
    if isinstance(exc, OSError):
        return str(trouble_of_file(exc, path))
    return str(trouble_of(exc, path) if isinstance(exc, sqlite3.Error) else exc)


def _findings(raw: sqlite3.Connection) -> Iterator[str]:
    structure = [str(text) for (text,) in raw.execute("PRAGMA integrity_check") if text != "ok"]
    yield from _shortened(f"The file's structure: {text}." for text in structure)
    if structure:
        return
    yield from _references(raw)
    revision = read_revision(raw)
    if revision != OURS.head:
        later = "later" if revision not in OURS.known else "earlier"
        yield f"The journal has revision {revision}, of a {later} Tastebook: its records were not looked at."
        return
    records = tuple(_records(raw))
    yield from records
    yield from _shortened(_pictures(raw))
    if not records:  # What is searched is made from the records: there is no more to say while they are not sound.
        yield from _shortened(differences(raw))


def _references(raw: sqlite3.Connection) -> Iterator[str]:
    lost = Counter((table, parent) for table, _, parent, _ in raw.execute("PRAGMA foreign_key_check"))
    for (table, parent), count in lost.items():
        yield f"{count} of the table {table} belong to a {parent} that is not there."


def _records(raw: sqlite3.Connection) -> Iterator[str]:
    with driver_errors(), engine_over(raw).connect() as connection, connection.begin():
        troubles: list[str] = []
        stored = _stored_marks(connection, troubles)
        replayed = _replayed_marks(connection, troubles)
    yield from _shortened(iter(troubles))
    if not troubles:
        yield from _shortened(_differences(stored, replayed))


def _stored_marks(connection: Connection, troubles: list[str]) -> Marks:
    marks: Marks = {}
    for kind, row_kind in ROWS.items():
        mapping = MAPPINGS[kind]
        for row in connection.execute(select(table_of(row_kind))):
            try:
                marks[row.uid] = _mark(decoded(mapping.table, mapping.value_of, row))
            except StoreError as exc:
                troubles.append(f"{exc} (uid {row.uid})")
    return marks


def _replayed_marks(connection: Connection, troubles: list[str]) -> Marks:
    marks: Marks = {}
    for row in connection.execute(select(*ACT_COLUMNS).order_by(ActRow.number)):
        try:
            act = decoded("act", act_of, row)
        except StoreError as exc:
            troubles.append(f"{exc} (act {row.uid})")
            return marks
        troubles += _carried_out(act, marks)
    return marks


def _carried_out(act: Act, marks: Marks) -> Iterator[str]:
    for change in act.changes:
        record = change.after or change.before
        if record is None:
            continue
        if marks.get(record.uid) != (None if change.before is None else _mark(change.before)):
            name = NAMES[type(record)]
            yield f"The act “{act.label}” ({act.uid}) found the {name} {record.uid} other than acts had left it."
        if change.after is None:
            marks.pop(record.uid, None)
        else:
            marks[record.uid] = _mark(change.after)


def _differences(stored: Marks, replayed: Marks) -> Iterator[str]:
    for uid in sorted(stored.keys() | replayed.keys()):
        if uid not in replayed:
            yield f"The record {uid} is there, but no act made it."
        elif uid not in stored:
            yield f"The record {uid} was made by an act, and is not there."
        elif stored[uid] != replayed[uid]:
            yield f"The record {uid} is not as its acts left it."


def _pictures(raw: sqlite3.Connection) -> Iterator[str]:
    """Yield the photographs whose picture is lost or hurt; pictures are read one at a time, for there may be many."""
    photos: dict[str, list[str]] = {}
    for uid, digest in raw.execute("SELECT uid, picture FROM photo ORDER BY uid"):
        photos.setdefault(digest, []).append(uid)
    for (digest,) in raw.execute("SELECT digest FROM picture ORDER BY digest").fetchall():
        of_photos = photos.pop(digest, [])
        (content,) = raw.execute("SELECT content FROM picture WHERE digest = ?", (digest,)).fetchone()
        if picture_digest(content) != digest:
            told = f"of the photograph {of_photos[0]}" if of_photos else "of a photograph taken away"
            yield f"The picture {told} is no longer what was kept; a safe copy may have it."
    for digest, uids in photos.items():
        yield f"The picture of the photograph {uids[0]} is not there ({digest[:12]}…); a safe copy may have it."


def _shortened(findings: Iterator[str]) -> Iterator[str]:
    yield from islice(findings, MOST_FINDINGS)
    if more := sum(1 for _ in findings):
        yield f"And {more} more like these."


def _mark(record: Record) -> int:
    return hash((type(record).__name__, record))
