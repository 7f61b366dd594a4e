"""The tables by which the journal is searched: derived from the records, and made anew from them whenever need be.

A place (a column of a session, or the session as a whole) has a number that is its order as well: the moment at which
the session began, in microseconds, then its column from the last to the first. So the newest stands at the highest
number, and a search walks down from there and stops when the page is full. No two sessions share a moment: one that
would is put a microsecond later.

The words of the text index are cut by `domain.finding_words` before SQLite sees them, so its tokenizer (`ascii`) has
nothing to fold: what is found is exactly what a scan of the records with the same function finds, whatever version of
Unicode this SQLite knows.
"""

from __future__ import annotations

import json
import sqlite3
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from datetime import UTC, datetime
from functools import partial
from itertools import chain
from typing import Any, Final, TypeAlias

from tastebook.domain.finding_places import (
    OVERVIEW,
    SLOTS,
    PlaceText,
    Said,
    local_day,
    lot_texts,
    places_of,
)
from tastebook.domain.finding_words import BREAK
from tastebook.domain.lot import Lot
from tastebook.domain.session import PART_FIELDS, Session, Tasting, Verdict
from tastebook.store.mapping import MAPPINGS, decoded

WORDING: Final = 2
"""Version of what is written here. Raise it when anything about it changes: older tables are then made anew."""

SLOT_MASK: Final = SLOTS - 1
SLOT_BITS: Final = SLOTS.bit_length() - 1
MOST_KEY: Final = (1 << 53) - 1
LAST_KEY: Final = MOST_KEY + (1 << 40)
"""There is room above the last moment for sessions that must be put later."""
_BEGINNING: Final = datetime(1900, 1, 1, tzinfo=UTC)

LOT_FIELDS: Final = tuple(lot_texts(Lot("", "", _BEGINNING)))
_LOT_COLUMNS: Final = ", ".join(LOT_FIELDS)

DDL: Final = (
    "CREATE TABLE found_state (wording INTEGER NOT NULL) STRICT",
    "CREATE TABLE found_lot (key INTEGER PRIMARY KEY, lot_uid TEXT NOT NULL UNIQUE, "
    + ", ".join(f"{name} TEXT NOT NULL" for name in LOT_FIELDS)
    + ", words TEXT NOT NULL) STRICT",
    "CREATE TABLE found_session (key INTEGER PRIMARY KEY, session_uid TEXT NOT NULL UNIQUE, lot_uid TEXT NOT NULL, "
    "day TEXT NOT NULL, decision TEXT NOT NULL, rest_until TEXT NOT NULL, purpose TEXT NOT NULL, "
    "is_open INTEGER NOT NULL, headline TEXT NOT NULL) STRICT",
    "CREATE INDEX ix_found_session_lot_uid ON found_session (lot_uid)",
    "CREATE TABLE found_place (id INTEGER PRIMARY KEY, own TEXT NOT NULL, perceived TEXT NOT NULL, "
    "said TEXT NOT NULL) STRICT",
    "CREATE TABLE found_liquor (id INTEGER PRIMARY KEY, l REAL, a REAL, b REAL, clarity TEXT NOT NULL) STRICT",
    f"""
    CREATE VIEW found_text AS
    SELECT place.id AS id, place.own AS own, place.perceived AS perceived,
           CASE WHEN place.id = overview.id THEN '' WHEN overview.own = '' THEN '' ELSE overview.own || ' {BREAK} ' END
           || lot.words AS above
    FROM found_place AS place
    JOIN found_place AS overview ON overview.id = place.id | {SLOT_MASK}
    JOIN found_session AS session ON session.key = place.id >> {SLOT_BITS}
    JOIN found_lot AS lot ON lot.lot_uid = session.lot_uid
    """,  # noqa: S608 - ours
    "CREATE VIRTUAL TABLE found_words USING fts5(own, perceived, above, content='found_text', content_rowid='id', "
    "tokenize='ascii')",
    f"CREATE VIRTUAL TABLE found_lot_words USING fts5({_LOT_COLUMNS}, content='found_lot', content_rowid='key', "
    "tokenize='ascii')",
)

NAMES: Final = ("found_lot_words", "found_words", "found_text", "found_liquor", "found_place", "found_session",
                "found_lot", "found_state")  # fmt: skip

Execute: TypeAlias = Callable[..., Any]
LotRow: TypeAlias = tuple[Any, ...]
SessionFacts: TypeAlias = tuple[str, str, str, str, int, str]


def make(execute: Execute, *, is_filled: bool = True) -> None:
    """Make the tables, empty; `execute` is that of any connection to SQLite.

    Parameters
    ----------
    is_filled : bool
        Whether empty is what they should be; if not, they are filled when the journal is next opened.
    """
    for statement in DDL:
        execute(statement)
    # Left to itself, the index merges a megabyte at once every so often, within whichever commit comes just then.
    execute("INSERT INTO found_words(found_words, rank) VALUES ('automerge', 0)")
    if is_filled:
        execute(f"INSERT INTO found_state VALUES ({WORDING})")  # noqa: S608 - ours


def drop(execute: Execute) -> None:
    """Take the tables away, those that there are."""
    kinds = {"found_text": "VIEW"}
    for name in NAMES:
        execute(f"DROP {kinds.get(name, 'TABLE')} IF EXISTS {name}")


def are_current(raw: sqlite3.Connection) -> bool:
    """Say whether the tables are there, as this version writes them."""
    try:
        row = raw.execute("SELECT wording FROM found_state").fetchone()
    except sqlite3.OperationalError:
        return False
    return row is not None and row[0] == WORDING


def rebuild(raw: sqlite3.Connection, told: Callable[[float], object] = bool) -> None:
    """Make the tables anew from the records, within the transaction that the caller holds.

    Parameters
    ----------
    told : callable
        Called with the share that is done, from 0 to 1, every few sessions; what it raises ends the work.
    """
    told(0.0)
    drop(raw.execute)
    make(raw.execute)
    fill(raw, told)
    told(1.0)


def fill(raw: sqlite3.Connection, told: Callable[[float], object]) -> None:
    """Fill the empty tables from the records."""
    raw.executemany(f"INSERT INTO found_lot VALUES ({_marks(3 + len(LOT_FIELDS))})", _lot_rows(raw))  # noqa: S608 - ours
    (count,) = raw.execute("SELECT count(*) FROM session").fetchone()
    liquors: list[tuple[Any, ...]] = []
    sessions: list[tuple[Any, ...]] = []

    def tell_read() -> None:
        if len(sessions) % SESSIONS_AT_ONCE == 0:
            told(_READ_SHARE * len(sessions) / max(count, 1))

    raw.executemany("INSERT INTO found_place VALUES (?, ?, ?, ?)", _place_rows(raw, sessions, liquors, tell_read))
    raw.executemany("INSERT INTO found_session VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)", sessions)
    raw.executemany("INSERT INTO found_liquor VALUES (?, ?, ?, ?, ?)", liquors)
    for start in range(0, len(sessions), SESSIONS_AT_ONCE):
        some = sessions[start : start + SESSIONS_AT_ONCE]
        between = (place_id(some[0][0], SLOT_MASK), place_id(some[-1][0], OVERVIEW))
        raw.execute(f"{ADD_WORDS}BETWEEN ? AND ?", between)
        told(_READ_SHARE + _INDEXED_SHARE * (start + len(some)) / len(sessions))
    raw.execute("INSERT INTO found_lot_words(found_lot_words) VALUES ('rebuild')")
    for name in ("found_words", "found_lot_words"):
        raw.execute(f"INSERT INTO {name}({name}) VALUES ('optimize')")  # noqa: S608 - ours


ADD_WORDS: Final = (
    "INSERT INTO found_words(rowid, own, perceived, above) SELECT id, own, perceived, above FROM found_text WHERE id "
)
SESSIONS_AT_ONCE: Final = 50
_READ_SHARE, _INDEXED_SHARE = 0.86, 0.11
"""Of the time that it takes to make the tables, measured with 20,000 sessions."""


def _lot_rows(raw: sqlite3.Connection) -> Iterator[LotRow]:
    taken = -1
    for lot in _values(raw, Lot, "ORDER BY created_at_utc, uid"):
        taken = max(moment_key(lot.created_at_utc), taken + 1)
        yield taken, lot.uid, *lot_columns(lot)


def _place_rows(
    raw: sqlite3.Connection,
    sessions: list[tuple[Any, ...]],
    liquors: list[tuple[Any, ...]],
    tell: Callable[[], object],
) -> Iterator[tuple[int, str, str, str]]:
    taken = -1
    for tasting in tastings_in(raw):
        taken = max(moment_key(tasting.session.started_at_utc), taken + 1)
        sessions.append(
            (taken, tasting.session.uid, tasting.session.lot_uid, *facts_of(tasting.session, tasting.verdict))
        )
        tell()
        for slot, place in places_of(tasting).items():
            number = place_id(taken, slot)
            yield number, place.own, place.perceived, said_text(place.said)
            if place.liquor is not None or place.clarity:
                liquors.append((number, *(place.liquor or (None, None, None)), place.clarity))


def lot_columns(lot: Lot) -> tuple[str, ...]:
    """Return what is searched of a lot: field by field, then all of it in one."""
    texts = tuple(lot_texts(lot).values())
    return (*texts, f" {BREAK} ".join(text for text in texts if text))


def tastings_in(raw: sqlite3.Connection) -> Iterator[Tasting]:
    """Yield every session with its parts and without its lot, oldest first."""
    nobody = Lot("", "", _BEGINNING)
    for session in _values(raw, Session, "ORDER BY started_at_utc, uid"):
        parts = {field: parts_of(raw, kind, session.uid) for kind, field in PART_FIELDS.items() if field in _SEARCHED}
        verdict = next(iter(parts_of(raw, Verdict, session.uid)), None)
        yield Tasting(nobody, session, verdict=verdict, **parts)


_SEARCHED: Final = frozenset({"infusions", "sayings", "impressions", "marks", "photos"})
_ORDERS: Final = {"infusions": "number", "verdict": "uid"}


def parts_of(raw: sqlite3.Connection, kind: Any, session_uid: str) -> tuple[Any, ...]:
    """Return the records of one kind that belong to a session, in the order in which they are kept."""
    order = _ORDERS.get(PART_FIELDS.get(kind, "verdict"), "recorded_at_utc, uid")
    return tuple(_values(raw, kind, f"WHERE session_uid = ? ORDER BY {order}", session_uid))


def _values(raw: sqlite3.Connection, kind: Any, rest: str, *given: str) -> Iterator[Any]:
    mapping = MAPPINGS[kind]
    rows = raw.execute(f"SELECT {columns_of(kind)} FROM {mapping.table} {rest}", given)  # noqa: S608 - ours
    return map(partial(decoded, mapping.table, mapping.value_of), rows)


def columns_of(kind: Any) -> str:
    """Return the columns of a kind of record, in the order in which they are read."""
    from tastebook.store.rows import ROWS, table_of

    return ", ".join(column.name for column in table_of(ROWS[kind]).columns)


def moment_key(at_utc: datetime) -> int:
    """Return a moment as a whole number of microseconds that sorts by time."""
    since = at_utc - _BEGINNING
    key = (since.days * 86_400 + since.seconds) * 1_000_000 + since.microseconds
    return min(max(key, 0), MOST_KEY)


def place_id(key: int, slot: int) -> int:
    """Return the number of a place, of the session's number and its slot."""
    return key << SLOT_BITS | (SLOT_MASK - slot)


def slot_in(number: int) -> int:
    """Return the slot of a place's number."""
    return SLOT_MASK - (number & SLOT_MASK)


def facts_of(session: Session, verdict: Verdict | None) -> SessionFacts:
    """Return what is searched and shown of a session: day, decision, rest, purpose, whether it is open, headline."""
    rest = verdict.rest_until.isoformat() if verdict and verdict.rest_until else ""
    decision, headline = (verdict.decision, verdict.headline) if verdict else ("", "")
    return (local_day(session), decision, rest, session.purpose, int(session.is_open), headline)


def said_text(said: Said) -> str:
    """Return sentences as they lie in their column, so that `said_of` reads them."""
    return json.dumps(said, ensure_ascii=False, separators=(",", ":")) if said else ""


def said_of(text: str) -> Said:
    """Return the sentences that `said_text` wrote."""
    return tuple([(step, words) for step, words in _DECODER.raw_decode(text)[0]]) if text else ()


_DECODER: Final = json.JSONDecoder()
"""`json.loads` looks for spaces around what is read as well; a page of hits would wait for that."""


def _marks(count: int) -> str:
    return ", ".join("?" * count)


# -- looking over


def differences(raw: sqlite3.Connection) -> Iterator[str]:
    """Yield in words where the tables differ from the records; they can be made anew, nothing is lost."""
    if not are_current(raw):
        yield "The tables for finding are missing or of another version; they are made anew when the journal is opened."
        return
    yield from _lot_differences(raw)
    yield from _place_differences(raw)
    yield from _index_differences(raw)


def _lot_differences(raw: sqlite3.Connection) -> Iterator[str]:
    there = {row[1]: row[2:] for row in raw.execute("SELECT * FROM found_lot")}
    wanted = {lot.uid: lot_columns(lot) for lot in _values(raw, Lot, "")}
    for uid in sorted(there.keys() | wanted.keys()):
        if there.get(uid) != wanted.get(uid):
            yield f"The lot {uid} is not found as it is recorded."


def _place_differences(raw: sqlite3.Connection) -> Iterator[str]:
    unseen = {uid for (uid,) in raw.execute("SELECT session_uid FROM found_session")}
    for tasting in tastings_in(raw):
        unseen.discard(tasting.session.uid)
        if _stored_places(raw, tasting.session.uid) != _wanted_places(tasting):
            yield f"The session {tasting.session.uid} is not found as it is recorded."
    yield from (f"The session {uid} is found, and is not there." for uid in sorted(unseen))


def _wanted_places(tasting: Tasting) -> tuple[Any, ...]:
    facts = (tasting.session.lot_uid, *facts_of(tasting.session, tasting.verdict))
    return facts, places_of(tasting)


def _stored_places(raw: sqlite3.Connection, session_uid: str) -> tuple[Any, ...]:
    row = raw.execute("SELECT * FROM found_session WHERE session_uid = ?", (session_uid,)).fetchone()
    if row is None:
        return (), {}
    between = (place_id(row[0], SLOT_MASK), place_id(row[0], OVERVIEW))
    liquors = {number: (lab, clarity) for number, *lab, clarity in raw.execute(
        "SELECT * FROM found_liquor WHERE id BETWEEN ? AND ?", between
    )}  # fmt: skip
    places = {}
    for number, own, perceived, said in raw.execute("SELECT * FROM found_place WHERE id BETWEEN ? AND ?", between):
        lab, clarity = liquors.get(number, ((None,), ""))
        liquor = None if None in lab else tuple(lab)
        places[slot_in(number)] = PlaceText(own, perceived, liquor, clarity, said_of(said))
    return tuple(row[2:]), places


def _index_differences(raw: sqlite3.Connection) -> Iterator[str]:
    """Compare how often each word stands in how many places; SQLite's own check would have to write."""
    for name, query in (("found_words", "SELECT own, perceived, above FROM found_text"),
                        ("found_lot_words", f"SELECT {_LOT_COLUMNS} FROM found_lot")):  # fmt: skip  # noqa: S608 - ours
        raw.execute("DROP TABLE IF EXISTS temp.found_vocab")
        raw.execute(f"CREATE VIRTUAL TABLE temp.found_vocab USING fts5vocab(main, {name}, 'row')")
        there = {term: (places, count) for term, places, count in raw.execute("SELECT * FROM temp.found_vocab")}
        raw.execute("DROP TABLE temp.found_vocab")
        if there != _counted(raw.execute(query)):
            yield f"The index {name} is not what its texts come to."


def _counted(rows: Iterable[tuple[str, ...]]) -> dict[str, tuple[int, int]]:
    places: Counter[str] = Counter()
    counts: Counter[str] = Counter()
    for row in rows:
        words = list(chain.from_iterable(text.split() for text in row))
        counts.update(words)
        places.update(set(words))
    return {word: (places[word], count) for word, count in counts.items()}
