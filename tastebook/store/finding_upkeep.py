"""Keeping the tables for finding in step with the records, within the transaction that keeps an act.

Only the places that an act touches are looked at, and only those whose words changed are written.
"""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Final

from tastebook.domain.act import Change
from tastebook.domain.course import Step
from tastebook.domain.finding_places import (
    ELSEWHERE,
    OVERVIEW,
    RINSE,
    SLOTS,
    PlaceText,
    infusion_slot,
    overview_of,
    place_of,
    session_sentences,
    slot_of,
    steps_of,
    whole,
)
from tastebook.domain.lot import Lot
from tastebook.domain.session import Impression, Infusion, Photo, Record, Saying, Session, StepMark, Verdict
from tastebook.store.codec import course_of
from tastebook.store.finding_tables import (
    ADD_WORDS,
    LOT_FIELDS,
    WORDING,
    columns_of,
    facts_of,
    lot_columns,
    moment_key,
    place_id,
    said_text,
)
from tastebook.store.mapping import MAPPINGS, decoded

_PARTS: Final = (Saying, Infusion, Photo, Impression, StepMark)
_ORDER: Final[dict[type, str]] = {Infusion: "number", Verdict: "uid"}
_SELECTS: Final[dict[type, str]] = {}
_LOT_COLUMNS: Final = ", ".join(LOT_FIELDS)
_LOT_MARKS: Final = ", ".join("?" * (len(LOT_FIELDS) + 1))
_FROM_STEP, _FROM_INFUSION = 2, 3
"""Where a part's row holds its step and its infusion; an infusion's row holds its number where others hold the step."""

_TAKE_WORDS: Final = (
    "INSERT INTO found_words(found_words, rowid, own, perceived, above) "
    "SELECT 'delete', id, own, perceived, above FROM found_text WHERE id "
)
_ADD_LOT: Final = (
    f"INSERT INTO found_lot_words(rowid, {_LOT_COLUMNS}) SELECT key, {_LOT_COLUMNS} FROM found_lot WHERE lot_uid = ?"  # noqa: S608 - ours
)
_MERGE_A_LITTLE: Final = "INSERT INTO found_words(found_words, rank) VALUES ('merge', 16)"
"""Every act leaves a small piece of index, and pieces are merged a few pages (16) at a time, so that no act waits for
much of it. One act's page is written again at each of the few levels of the index: 16 are more than come to be."""

_TAKE_LOT: Final = (
    f"INSERT INTO found_lot_words(found_lot_words, rowid, {_LOT_COLUMNS}) "  # noqa: S608 - ours
    f"SELECT 'delete', key, {_LOT_COLUMNS} FROM found_lot WHERE lot_uid = ?"
)


def keep_up(raw: sqlite3.Connection, changes: Iterable[Change]) -> None:
    """Bring the tables up to date with changes that were just carried out."""
    if raw.execute("SELECT wording FROM found_state").fetchone() != (WORDING,):
        raw.execute("DELETE FROM found_state")  # Another version's tables: whoever opens the journal makes them anew.
        return
    changed = tuple(changes)
    lots = {one.uid for one in _records(changed) if isinstance(one, Lot)}
    gone = {one.before.uid for one in changed if isinstance(one.before, Session) and one.after is None}
    for uid in gone:
        _take_session(raw, uid)
    for uid in lots:
        _keep_lot(raw, uid)
    for uid, slots in _touched(raw, changed).items():
        if uid not in gone:
            _keep_session(raw, uid, slots)
    raw.execute(_MERGE_A_LITTLE)


def _records(changes: Iterable[Change]) -> Iterator[Record]:
    return (one for change in changes for one in (change.before, change.after) if one is not None)


_EVERYTHING: Final = frozenset(range(SLOTS))


def _touched(raw: sqlite3.Connection, changes: tuple[Change, ...]) -> dict[str, set[int]]:
    """Return the slots of each session that changes touch."""
    touched: defaultdict[str, set[int]] = defaultdict(set)
    for change in changes:
        if isinstance(change.before or change.after, Session):
            touched[(change.after or change.before).uid] |= _slots_of_session(change)  # type: ignore[union-attr]
    for record in _records(changes):
        if isinstance(record, Verdict):
            touched[record.session_uid].add(OVERVIEW)
        elif isinstance(record, Infusion):
            touched[record.session_uid].add(infusion_slot(record.index))
        elif isinstance(record, (Saying, Photo, Impression, StepMark)):
            steps = _steps(raw, record.session_uid)
            touched[record.session_uid].add(slot_of(steps, record.step, record.infusion))
    return touched


def _slots_of_session(change: Change) -> frozenset[int]:
    before, after = change.before, change.after
    if isinstance(before, Session) and isinstance(after, Session):
        is_same_frame = (before.course, before.started_at_utc, before.lot_uid) == (
            after.course, after.started_at_utc, after.lot_uid,
        )  # fmt: skip
        return frozenset({OVERVIEW}) if is_same_frame else _EVERYTHING
    return _EVERYTHING


def _steps(raw: sqlite3.Connection, session_uid: str) -> Mapping[str, Step]:
    row = raw.execute("SELECT course FROM session WHERE uid = ?", (session_uid,)).fetchone()
    return {} if row is None else steps_of(course_of(row[0]))


# -- lots


def _keep_lot(raw: sqlite3.Connection, uid: str) -> None:
    lot = _one(raw, Lot, uid)
    row = raw.execute(f"SELECT key, {_LOT_COLUMNS}, words FROM found_lot WHERE lot_uid = ?", (uid,)).fetchone()  # noqa: S608 - ours
    texts = () if lot is None else lot_columns(lot)
    if row is not None and row[1:] == texts and row[0] == moment_key(lot.created_at_utc):
        return
    places = [number for (number,) in raw.execute(_PLACES_OF_LOT, (uid,))]
    for number in places:
        raw.execute(_TAKE_WORDS + "= ?", (number,))
    raw.execute(_TAKE_LOT, (uid,))
    raw.execute("DELETE FROM found_lot WHERE lot_uid = ?", (uid,))
    if lot is not None:
        key = _free(raw, "found_lot", moment_key(lot.created_at_utc))
        raw.execute(f"INSERT INTO found_lot VALUES (?, ?, {_LOT_MARKS})", (key, uid, *texts))  # noqa: S608 - ours
        raw.execute(_ADD_LOT, (uid,))
        for number in places:
            raw.execute(ADD_WORDS + "= ?", (number,))


_PLACES_OF_LOT: Final = (
    "SELECT place.id FROM found_session AS session CROSS JOIN found_place AS place "  # noqa: S608 - ours
    f"ON place.id BETWEEN session.key * {SLOTS} AND session.key * {SLOTS} + {SLOTS - 1} WHERE session.lot_uid = ?"
)


def _free(raw: sqlite3.Connection, table: str, key: int) -> int:
    """Return the first key from `key` on that nobody has."""
    while raw.execute(f"SELECT 1 FROM {table} WHERE key = ?", (key,)).fetchone():  # noqa: S608 - ours
        key += 1
    return key


# -- sessions


def _take_session(raw: sqlite3.Connection, uid: str) -> None:
    row = raw.execute("SELECT key FROM found_session WHERE session_uid = ?", (uid,)).fetchone()
    if row is None:
        return
    between = (place_id(row[0], SLOTS - 1), place_id(row[0], OVERVIEW))
    raw.execute(_TAKE_WORDS + "BETWEEN ? AND ?", between)
    raw.execute("DELETE FROM found_place WHERE id BETWEEN ? AND ?", between)
    raw.execute("DELETE FROM found_liquor WHERE id BETWEEN ? AND ?", between)
    raw.execute("DELETE FROM found_session WHERE key = ?", row)


def _keep_session(raw: sqlite3.Connection, uid: str, slots: set[int]) -> None:
    session: Session | None = None
    if OVERVIEW in slots:
        session = _one(raw, Session, uid)
        if session is None:
            return
        if len(slots) == SLOTS:
            _take_session(raw, uid)
        verdict = next(iter(_all_parts(raw, Verdict, uid)), None)
        key = _keep_facts(raw, session, verdict)
        steps = steps_of(session.course)
    else:
        row = raw.execute("SELECT key FROM found_session WHERE session_uid = ?", (uid,)).fetchone()
        if row is None:
            return  # There is no such session: the journal's references refuse the act when it ends.
        key = row[0]
        steps = _steps(raw, uid)
    parts = _parts_in(raw, uid, slots, steps)
    if session is not None:
        stray = parts.pop(OVERVIEW, ((), (), (), (), ()))
        overview = overview_of(session_sentences(session, verdict), ((one.step, one.text) for one in stray[0]))
        _keep_overview(raw, key, whole(overview, place_of(steps, (), *stray[1:])))
    for slot in parts if len(slots) == SLOTS else slots - {OVERVIEW}:
        _keep_place(raw, place_id(key, slot), place_of(steps, *parts.get(slot, ((), (), (), (), ()))))


def _keep_facts(raw: sqlite3.Connection, session: Session, verdict: Verdict | None) -> int:
    """Write what is searched of a session as columns, and return its key."""
    facts = facts_of(session, verdict)
    row = raw.execute("SELECT key FROM found_session WHERE session_uid = ?", (session.uid,)).fetchone()
    if row is None:
        key = _free(raw, "found_session", moment_key(session.started_at_utc))
        values = (key, session.uid, session.lot_uid, *facts)
        raw.execute("INSERT INTO found_session VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)", values)
        return key
    raw.execute(
        "UPDATE found_session SET day = ?, decision = ?, rest_until = ?, purpose = ?, is_open = ?, headline = ? "
        "WHERE key = ?",
        (*facts, row[0]),
    )
    return int(row[0])


def _parts_in(
    raw: sqlite3.Connection, uid: str, slots: set[int], steps: Mapping[str, Step]
) -> dict[int, tuple[list[Any], ...]]:
    """Return the records that stand in some slots of a session, kind by kind."""
    found: dict[int, tuple[list[Any], ...]] = {}
    only = _only_infusion(slots)
    for place, kind in enumerate(_PARTS):
        mapping = MAPPINGS[kind]
        rows = raw.execute(_select(kind), (uid,)) if only is None else raw.execute(_select_cup(kind), (uid, only))
        for row in rows:
            slot = _slot(kind, row, steps)
            if slot in slots:
                some = found.setdefault(slot, ([], [], [], [], []))
                some[place].append(decoded(mapping.table, mapping.value_of, row))
    return found


def _only_infusion(slots: set[int]) -> int | None:
    """Return the infusion of which everything is that may stand in some slots, None if there is more than one."""
    (slot, *others) = slots
    return slot - RINSE if RINSE < slot < ELSEWHERE and not others else None


def _slot(kind: type, row: Any, steps: Mapping[str, Step]) -> int:
    if kind is Infusion:
        return infusion_slot(row[_FROM_STEP])
    return slot_of(steps, row[_FROM_STEP], row[_FROM_INFUSION])


def _keep_overview(raw: sqlite3.Connection, key: int, place: PlaceText) -> None:
    """Write a session as a whole; its words are found at each of its columns too."""
    number = place_id(key, OVERVIEW)
    old, new = _stored(raw, number), _row(place)
    if old == new:
        return
    between = (place_id(key, SLOTS - 1), number)
    has_other_words = old is None or old[:2] != new[:2]
    if old is not None and has_other_words:
        raw.execute(_TAKE_WORDS + "BETWEEN ? AND ?", between)
    raw.execute("INSERT OR REPLACE INTO found_place VALUES (?, ?, ?, ?)", (number, *new))
    if has_other_words:
        raw.execute(ADD_WORDS + "BETWEEN ? AND ?", between)


def _keep_place(raw: sqlite3.Connection, number: int, place: PlaceText) -> None:
    old, new = _stored(raw, number), _row(place) if place != PlaceText() else None
    if old != new:
        if old is not None:
            raw.execute(_TAKE_WORDS + "= ?", (number,))
            raw.execute("DELETE FROM found_place WHERE id = ?", (number,))
        if new is not None:
            raw.execute("INSERT INTO found_place VALUES (?, ?, ?, ?)", (number, *new))
            raw.execute(ADD_WORDS + "= ?", (number,))
    if place.liquor is not None or place.clarity:
        row = (number, *(place.liquor or (None, None, None)), place.clarity)
        raw.execute("INSERT OR REPLACE INTO found_liquor VALUES (?, ?, ?, ?, ?)", row)
    else:
        raw.execute("DELETE FROM found_liquor WHERE id = ?", (number,))


def _stored(raw: sqlite3.Connection, number: int) -> tuple[str, str, str] | None:
    row: tuple[str, str, str] | None = raw.execute(
        "SELECT own, perceived, said FROM found_place WHERE id = ?", (number,)
    ).fetchone()
    return row


def _row(place: PlaceText) -> tuple[str, str, str]:
    return place.own, place.perceived, said_text(place.said)


# -- records


def _one(raw: sqlite3.Connection, kind: Any, uid: str) -> Any:
    mapping = MAPPINGS[kind]
    row = raw.execute(f"SELECT {columns_of(kind)} FROM {mapping.table} WHERE uid = ?", (uid,)).fetchone()  # noqa: S608 - ours
    return None if row is None else decoded(mapping.table, mapping.value_of, row)


def _all_parts(raw: sqlite3.Connection, kind: Any, session_uid: str) -> Iterator[Any]:
    mapping = MAPPINGS[kind]
    return (decoded(mapping.table, mapping.value_of, row) for row in raw.execute(_select(kind), (session_uid,)))


def _select(kind: Any) -> str:
    if kind not in _SELECTS:
        order = _ORDER.get(kind, "recorded_at_utc, uid")
        table = MAPPINGS[kind].table
        _SELECTS[kind] = f"SELECT {columns_of(kind)} FROM {table} WHERE session_uid = ? ORDER BY {order}"  # noqa: S608 - ours
    return _SELECTS[kind]


def _select_cup(kind: Any) -> str:
    """Return what reads the parts of one infusion: most acts touch no more, and a session may hold hundreds."""
    number = "number" if kind is Infusion else "infusion"
    return _select(kind).replace(" ORDER BY ", f" AND {number} = ? ORDER BY ")
