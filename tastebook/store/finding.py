"""Finding in the journal: from a query to one page of hits, over the tables that `finding_tables` describes.

Places are walked from the newest down, and the walk stops when the page is full. What the text index cannot say (a
family's joint strength, a colour near another) is asked of Python for the places that the index leaves over.
"""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from functools import lru_cache
from typing import Any, Final, TypeAlias, TypeVar

from tastebook.domain.course import Step
from tastebook.domain.errors import StoreError
from tastebook.domain.finding import Found, Hit, LiquorAsked, Query
from tastebook.domain.finding_places import (
    ELSEWHERE,
    OVERVIEW,
    RINSE,
    best_sentence,
    column_in,
    infusion_slot,
    lot_sentences,
    sentences_said,
    session_sentences,
    slot_of,
    steps_of,
    strength_of_family,
    strongest_in,
)
from tastebook.domain.finding_words import Phrase
from tastebook.domain.kin import NotedCups
from tastebook.domain.lot import Lot
from tastebook.domain.session import Lab, Session, Verdict
from tastebook.store.codec import course_of
from tastebook.store.finding_match import field_match, lots_match, places_match
from tastebook.store.finding_tables import (
    LAST_KEY,
    SLOT_BITS,
    SLOT_MASK,
    are_current,
    moment_key,
    place_id,
    slot_in,
)
from tastebook.store.mapping import LOT_COLUMNS, MAPPINGS, decoded, lab_of

T = TypeVar("T")
Sought: TypeAlias = tuple[tuple[Phrase, bool], ...]
Said: TypeAlias = tuple[tuple[str, str], ...]
"""What was said at one place: each sentence with the name of its step."""

NOT_NOW: Final = (
    "This journal has no tables for finding that this Tastebook can read, and it cannot be written. Open it once where "
    "it can be written, or open a copy."
)
MOST_LIGHTNESS_WEIGHT: Final = 1.75
"""S_L of CIEDE2000 is never more: two colours no further apart than ΔE00 differ by no more than 1.75 ΔE00 in L*."""

_TO_LAST, _TO_FIRST = SLOT_MASK - ELSEWHERE + 1, SLOT_MASK - RINSE - 1
"""What is added to a session's number to come to its last and to its first infusion."""

_NEWEST_TASTED: Final = f"""
    SELECT key, session_uid, lot_uid FROM found_session WHERE session_uid = ? OR key IN (
        SELECT max(key) FROM found_session AS tasted WHERE EXISTS (
            SELECT 1 FROM found_place WHERE perceived <> '' AND id BETWEEN (tasted.key << {SLOT_BITS}) + {_TO_LAST}
            AND (tasted.key << {SLOT_BITS}) + {_TO_FIRST}
        ) GROUP BY lot_uid
    ) ORDER BY key DESC
"""  # noqa: S608 - ours
_CUPS: Final = "SELECT id, perceived FROM found_place WHERE id BETWEEN ? AND ? ORDER BY id DESC"


def _ends(key: int) -> tuple[int, int]:
    return (key << SLOT_BITS) + _TO_LAST, (key << SLOT_BITS) + _TO_FIRST


_A_DAY: Final = timedelta(days=1)
_BATCH: Final = 500


class Finder:
    """Finds over one connection.

    Parameters
    ----------
    raw : sqlite3.Connection
        It is only read.
    """

    def __init__(self, raw: sqlite3.Connection) -> None:
        self.raw = raw
        self._near: frozenset[int] = frozenset()
        self._worked_out = (1, 0)
        self._query = Query()
        raw.create_function("found_near", 1, self._is_near)
        raw.create_function("found_strong", 1, self._is_strong)

    def find(self, query: Query, limit: int, offset: int) -> Found:
        """Return one page of what is found: lots first, then places, each newest first.

        Raises
        ------
        StoreError
            If the tables for finding are not there.
        """
        if query.is_empty or limit < 1:
            return Found()
        self.raw.execute("BEGIN")
        try:
            if not are_current(self.raw):
                raise StoreError(NOT_NOW)
            return self._find(query, limit, offset)
        finally:
            self.raw.rollback()

    def _find(self, query: Query, limit: int, offset: int) -> Found:
        self._query, self._worked_out = query, (1, 0)
        count = self._count_lots(query)
        wanted = limit + 1
        lots = self._lots(query, wanted, offset) if offset < count else []
        places: list[int] = []
        if len(lots) < wanted:
            places = self._places(query, wanted - len(lots), max(0, offset - count))
        hits = (*(lot_hit(lot, query) for lot in lots), *self._place_hits(places, query))
        return Found(hits[:limit], len(hits) > limit)

    def noted_cups(self, session_uid: str = "") -> NotedCups:
        """Return what was perceived in the infusions of each lot's newest tasting, and of one session more."""
        self.raw.execute("BEGIN")
        try:
            if not are_current(self.raw):
                raise StoreError(NOT_NOW)
            sessions = self.raw.execute(_NEWEST_TASTED, (session_uid,)).fetchall()
            cups = [
                (place, row)
                for place, (key, _, _) in enumerate(sessions)
                for row in self.raw.execute(_CUPS, _ends(key))
            ]
        finally:
            self.raw.rollback()
        return NotedCups(
            tuple(uid for _, uid, _ in sessions),
            tuple(lot_uid for _, _, lot_uid in sessions),
            tuple(place for place, _ in cups),
            tuple(slot_in(number) - RINSE for _, (number, _) in cups),
            tuple(perceived for _, (_, perceived) in cups),
        )

    # -- lots

    def _count_lots(self, query: Query) -> int:
        if query.asks_of_column or query.asks_of_session:
            return 0
        sql = "SELECT count(*) FROM found_lot_words WHERE found_lot_words MATCH ?"
        return int(self.raw.execute(sql, (lots_match(query),)).fetchone()[0])

    def _lots(self, query: Query, limit: int, offset: int) -> list[Lot]:
        sql = (
            "SELECT lot_uid FROM found_lot WHERE key IN "
            "(SELECT rowid FROM found_lot_words WHERE found_lot_words MATCH ?) ORDER BY key DESC LIMIT ? OFFSET ?"
        )
        uids = [uid for (uid,) in self.raw.execute(sql, (lots_match(query), limit, offset))]
        lots = lots_called(self.raw, uids)
        return [lots[uid] for uid in uids]

    # -- places

    def _places(self, query: Query, limit: int, offset: int) -> list[int]:
        if not (query.words or query.asks_of_column or query.asks_of_session):
            return []
        match = places_match(query)
        source, given = self._source(query, match)
        clauses: list[str] = []
        for clause, *values in self._clauses(query):
            clauses.append(clause)
            given += values
        where = " AND ".join(clauses) or "1"
        sql = f"SELECT place FROM ({source}) WHERE {where} ORDER BY place DESC LIMIT ? OFFSET ?"  # noqa: S608 - ours
        return [number for (number,) in self.raw.execute(sql, (*given, limit, offset))]

    def _source(self, query: Query, match: str) -> tuple[str, list[Any]]:
        """Return the table that is walked."""
        if match:
            return "SELECT rowid AS place FROM found_words WHERE found_words MATCH ?", [match]
        if query.liquor or query.clarity:
            return "SELECT id AS place FROM found_liquor", []
        if query.slots:
            return "SELECT id AS place FROM found_place", []
        return f"SELECT key * {SLOT_MASK + 1} + {SLOT_MASK} AS place FROM found_session", []  # noqa: S608 - ours

    def _clauses(self, query: Query) -> Iterable[tuple[Any, ...]]:
        between = _between(query)
        if between is not None:
            yield "place BETWEEN ? AND ?", *between
        if query.slots:
            ends = sorted(SLOT_MASK - slot for slot in query.slots)
            yield f"place & {SLOT_MASK} IN ({_marks(len(ends))})", *ends
        facts, values = _facts(query)
        if facts:
            yield (
                f"EXISTS (SELECT 1 FROM found_session AS session WHERE session.key = place >> {SLOT_BITS} AND {facts})",  # noqa: S608 - ours
                *values,
            )
        if query.liquor:
            yield (_IS_NEAR, *_lightness(query.liquor))
        if query.clarity:
            yield "EXISTS (SELECT 1 FROM found_liquor AS cup WHERE cup.id = place AND cup.clarity = ?)", query.clarity
        if query.families:
            yield ("found_strong((SELECT perceived FROM found_place WHERE id = place))",)

    def _is_near(self, number: int) -> bool:
        """Say whether the liquor of a cup is near the colour asked for.

        Cups are asked about from the newest down, so that those next to come are worked out together.
        """
        if not self._worked_out[0] <= number <= self._worked_out[1]:
            self._work_out_near(number)
        return number in self._near

    def _work_out_near(self, number: int) -> None:
        import numpy as np

        from tastebook.domain.colour_arrays import delta_e00_between

        asked = self._query.liquor
        if asked is None:
            return
        rows = self.raw.execute(_LIQUORS_BELOW, (number, *_lightness(asked), _CUPS_AT_ONCE)).fetchall()
        labs = np.array([row[1:] for row in rows], dtype=np.float64).reshape(-1, 3)
        is_near = delta_e00_between(np.array(asked.lab), labs) <= asked.within_e00
        self._near = frozenset(row[0] for row, near in zip(rows, is_near.tolist(), strict=True) if near)
        self._worked_out = (rows[-1][0] if len(rows) == _CUPS_AT_ONCE else 0, number)

    def _is_strong(self, perceived: str | None) -> bool:
        """Say whether every family asked for is as strong as asked in a column."""
        for asked in self._query.families:
            strength = strength_of_family(perceived or "", asked.members)
            if strength is None or not asked.least <= strength <= asked.most:
                return False
        return True

    # -- hits

    def _place_hits(self, numbers: Sequence[int], query: Query) -> list[Hit]:
        if not numbers:
            return []
        sessions = self._by_key(sorted({number >> SLOT_BITS for number in numbers}))
        lots = lots_called(self.raw, sorted({row[1] for row in sessions.values()}))
        perceived = self._rows("SELECT id, perceived FROM found_place WHERE id", numbers)
        liquors = self._rows("SELECT id, l, a, b FROM found_liquor WHERE id", numbers)
        uids = {key: str(row[0]) for key, row in sessions.items()}
        said = self._sentences(numbers, uids) if query.sought else {}
        headlines = self._headlines(numbers, uids)
        sought, asked = query.sought, query.descriptors
        return [
            _place_hit(
                number, sessions[number >> SLOT_BITS], lots, sought, asked,
                perceived.get(number, ("",))[0], lab_of(*liquors.get(number, (None, None, None))), said.get(number, ()),
                headlines.get(number, ""),
            )
            for number in numbers
        ]  # fmt: skip

    def _by_key(self, keys: Sequence[int]) -> dict[int, tuple[Any, ...]]:
        return self._rows(
            "SELECT key, session_uid, lot_uid, day, decision, purpose, is_open, rest_until "
            "FROM found_session WHERE key",
            keys,
        )

    def _rows(self, select: str, numbers: Sequence[int]) -> dict[int, tuple[Any, ...]]:
        rows = {}
        for some in _batches(numbers):
            for first, *rest in self.raw.execute(f"{select} IN ({_marks(len(some))})", some):
                rows[first] = tuple(rest)
        return rows

    def _sentences(self, numbers: Sequence[int], uids: Mapping[int, str]) -> dict[int, Said]:
        """Return for each place what was said there, step by step."""
        keys = {uid: key for key, uid in uids.items()}
        wanted, steps = set(numbers), self._steps(tuple(keys))
        sayings: defaultdict[int, list[Any]] = defaultdict(list)
        others: defaultdict[int, list[str]] = defaultdict(list)
        for number in numbers:
            if slot_in(number) == OVERVIEW:
                others[number] += self._overview(uids[number >> SLOT_BITS])
        for uid, step, infusion, text in self._of_sessions(_SAYINGS, keys):
            number = place_id(keys[uid], slot_of(steps[uid], step, infusion))
            if number in wanted:
                sayings[number].append((step, text))
        for uid, index, note in self._of_sessions(_NOTES, keys):
            others[place_id(keys[uid], infusion_slot(index))].append(note)
        for uid, step, infusion, caption in self._of_sessions(_CAPTIONS, keys):
            others[place_id(keys[uid], slot_of(steps[uid], step, infusion))].append(caption)
        by_place = ((number, steps[uids[number >> SLOT_BITS]]) for number in numbers)
        return {number: sentences_said(its, sayings[number], others[number]) for number, its in by_place}

    def _headlines(self, numbers: Sequence[int], uids: Mapping[int, str]) -> dict[int, str]:
        """Return what each session as a whole came to, in a line."""
        wholes = {uids[number >> SLOT_BITS]: number for number in numbers if slot_in(number) == OVERVIEW}
        return {wholes[uid]: headline for uid, headline in self._of_sessions(_HEADLINES, wholes)}

    def _steps(self, uids: Sequence[str]) -> dict[str, Mapping[str, Step]]:
        return {uid: course_steps(text) for uid, text in self._of_sessions(_COURSES, uids)}

    def _of_sessions(self, sql: str, uids: Iterable[str]) -> Iterator[tuple[Any, ...]]:
        for some in _batches(tuple(uids)):
            yield from self.raw.execute(sql.format(_marks(len(some))), some)

    def _overview(self, uid: str) -> tuple[str, ...]:
        session = next(self._records(Session, "uid", uid))
        verdict = next(self._records(Verdict, "session_uid", uid), None)
        return session_sentences(session, verdict)

    def _records(self, kind: Any, column: str, uid: str) -> Iterator[Any]:
        mapping = MAPPINGS[kind]
        rows = self.raw.execute(f"SELECT * FROM {mapping.table} WHERE {column} = ?", (uid,))  # noqa: S608 - ours
        return (decoded(mapping.table, mapping.value_of, row) for row in rows)


_SAYINGS: Final = (
    "SELECT session_uid, step, infusion, text FROM saying WHERE session_uid IN ({}) ORDER BY recorded_at_utc, uid"
)
_NOTES: Final = (
    "SELECT session_uid, number, note FROM infusion WHERE session_uid IN ({}) AND note <> '' ORDER BY number"
)
_CAPTIONS: Final = (
    "SELECT session_uid, step, infusion, caption FROM photo WHERE session_uid IN ({}) ORDER BY recorded_at_utc, uid"
)
_HEADLINES: Final = "SELECT session_uid, headline FROM verdict WHERE session_uid IN ({})"
_COURSES: Final = "SELECT uid, course FROM session WHERE uid IN ({})"


@lru_cache(maxsize=64)
def course_steps(text: str) -> Mapping[str, Step]:
    """Return the steps of a course as a session keeps it."""
    return steps_of(course_of(text))


def _batches(items: Sequence[T]) -> Iterator[Sequence[T]]:
    return (items[start : start + _BATCH] for start in range(0, len(items), _BATCH))


def _lightness(asked: LiquorAsked) -> tuple[float, float]:
    """Return the L* between which everything lies that is near a colour."""
    reach = MOST_LIGHTNESS_WEIGHT * asked.within_e00
    return asked.lab[0] - reach, asked.lab[0] + reach


_CUPS_AT_ONCE: Final = 1000
_LIQUORS_BELOW: Final = (
    "SELECT id, l, a, b FROM found_liquor WHERE id <= ? AND l BETWEEN ? AND ? ORDER BY id DESC LIMIT ?"
)
_IS_NEAR: Final = "(SELECT cup.l FROM found_liquor AS cup WHERE cup.id = place) BETWEEN ? AND ? AND found_near(place)"


def lots_called(raw: sqlite3.Connection, uids: Sequence[str]) -> dict[str, Lot]:
    """Return lots by their uids."""
    lots = {}
    for some in _batches(uids):
        sql = f"SELECT {', '.join(LOT_COLUMNS)} FROM lot WHERE uid IN ({_marks(len(some))})"  # noqa: S608 - ours
        for row in raw.execute(sql, some):
            lot = decoded("lot", _lot_in, row)
            lots[lot.uid] = lot
    return lots


@lru_cache(maxsize=1024)
def _lot_in(row: tuple[Any, ...]) -> Lot:
    lot: Lot = MAPPINGS[Lot].value_of(row)
    return lot


def lot_hit(lot: Lot, query: Query) -> Hit:
    """Return a lot that was found itself."""
    step, sentence, spans = best_sentence([("", text) for text in lot_sentences(lot)], query.sought)
    return Hit(lot, step=step, sentence=sentence, spans=spans)


def _place_hit(
    number: int, facts: Sequence[Any], lots: Mapping[str, Lot], sought: Sought, asked: frozenset[str], perceived: str,
    liquor: Lab | None, said: Sequence[tuple[str, str]], headline: str,
) -> Hit:  # fmt: skip
    session_uid, lot_uid, day, decision, purpose, is_open, rest_until = facts
    step, sentence, spans = best_sentence(said, sought)
    return Hit(
        lots[lot_uid],
        session_uid,
        column_in(slot_in(number)),
        step,
        sentence or headline,
        spans,
        perceived_in(perceived, asked),
        date.fromisoformat(day),
        decision,
        purpose,
        bool(is_open),
        liquor,
        date.fromisoformat(rest_until) if rest_until else None,
    )


def perceived_in(perceived: str, asked: frozenset[str]) -> tuple[tuple[str, int], ...]:
    """Return the impressions of a place that are asked for, strongest first."""
    if not asked:
        return ()
    return tuple(sorted(strongest_in(perceived, asked).items(), key=lambda one: (-one[1], one[0])))


def _between(query: Query) -> tuple[int, int] | None:
    """Return the numbers between which the places of some days lie, with a day more at both ends for time zones."""
    if query.first is None and query.last is None:
        return None
    first = 0 if query.first is None else _midnight_key(query.first - _A_DAY)
    last = LAST_KEY if query.last is None else _midnight_key(query.last + 2 * _A_DAY)
    return place_id(first, SLOT_MASK), place_id(last, OVERVIEW)


def _midnight_key(day: date) -> int:
    from datetime import UTC, datetime

    return moment_key(datetime(day.year, day.month, day.day, tzinfo=UTC))


def _facts(query: Query) -> tuple[str, list[Any]]:
    """Return what is asked of a session's columns."""
    asked: list[tuple[str, Any]] = []
    if query.first is not None:
        asked.append(("session.day >= ?", query.first.isoformat()))
    if query.last is not None:
        asked.append(("session.day <= ?", query.last.isoformat()))
    if query.decision:
        asked.append(("session.decision = ?", query.decision))
    if query.rest_in:
        asked.append(("instr(session.rest_until, ?) > 0", query.rest_in))
    if query.purpose:
        asked.append(("session.purpose = ?", query.purpose))
    if query.is_open is not None:
        asked.append(("session.is_open = ?", int(query.is_open)))
    for one in query.fields:
        asked.append((_OF_LOTS, field_match(one)))
    return " AND ".join(clause for clause, _ in asked), [value for _, value in asked]


_OF_LOTS: Final = (
    "session.lot_uid IN (SELECT lot_uid FROM found_lot WHERE key IN "
    "(SELECT rowid FROM found_lot_words WHERE found_lot_words MATCH ?))"
)


def _marks(count: int) -> str:
    return ", ".join("?" * count)
