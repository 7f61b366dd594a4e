"""Finding in the journal: from a query to one page of hits, over the tables that `finding_tables` describes.

Places are walked from the newest down, and the walk stops when the page is full. What the text index cannot say (a
family's joint strength, a colour near another) is asked of Python for the places that the index leaves over.

This is asked at every key pressed, and most questions are answered by SQLite within a tenth of a millisecond. So
statements are text, run on the driver's own connection; lots, and places with all that is shown of them, take a
statement each; and nothing is made in Python that no hit shows.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from typing import Any, Final

from tastebook.domain.errors import StoreError
from tastebook.domain.finding import Found, Hit, LiquorAsked, Query
from tastebook.domain.finding_places import ELSEWHERE, OVERVIEW, RINSE, strength_of_family
from tastebook.domain.kin import NotedCups
from tastebook.store.finding_hits import HitReader
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


class NotFindable(StoreError):
    """The tables for finding are not there, or were written by another version."""

    def __init__(self) -> None:
        super().__init__(
            "This journal has no tables for finding that this Tastebook can read, and it cannot be written. Open it "
            "once where it can be written, or open a copy."
        )


class Finder:
    """Finds over one connection.

    Parameters
    ----------
    raw : sqlite3.Connection
        It is only read.
    """

    def __init__(self, raw: sqlite3.Connection) -> None:
        self.raw = raw
        self._hits = HitReader(raw)
        self._version = -1
        self._near: frozenset[int] = frozenset()
        self._worked_out = (1, 0)
        self._query = Query()
        raw.create_function("found_near", 1, self._is_near)
        raw.create_function("found_strong", 1, self._is_strong)

    def find(self, query: Query, limit: int, offset: int) -> Found:
        """Return one page of what is found: lots first, then places, each newest first.

        Raises
        ------
        NotFindable
            If the tables for finding are not there.
        """
        if query.is_empty or limit < 1:
            return Found()
        with self._as_of_one_moment():
            self._query, self._worked_out = query, (1, 0)
            wanted = limit + 1
            hits = self._lots(query, wanted, offset)
            if len(hits) < wanted:
                beyond = max(0, offset - self._count_lots(query)) if offset and not hits else 0
                hits += self._places(query, wanted - len(hits), beyond)
        return Found(tuple(hits[:limit]), len(hits) > limit)

    @contextmanager
    def _as_of_one_moment(self) -> Iterator[None]:
        """Hold one state of the journal, and forget what was held of an earlier one.

        SQLite's version of the data changes with every commit of any other connection, and this one never writes.
        """
        self.raw.execute("BEGIN")
        try:
            (version,) = self.raw.execute("PRAGMA data_version").fetchone()
            if version != self._version:
                if not are_current(self.raw):
                    raise NotFindable
                self._hits.forget()
                self._version = version
            yield
        finally:
            self.raw.rollback()

    def noted_cups(self, session_uid: str = "") -> NotedCups:
        """Return what was perceived in the infusions of each lot's newest tasting, and of one session more."""
        with self._as_of_one_moment():
            sessions = self.raw.execute(_NEWEST_TASTED, (session_uid,)).fetchall()
            cups = [
                (place, row)
                for place, (key, _, _) in enumerate(sessions)
                for row in self.raw.execute(_CUPS, _ends(key))
            ]
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

    def _lots(self, query: Query, limit: int, offset: int) -> list[Hit]:
        if query.asks_of_column or query.asks_of_session:
            return []
        found = self.raw.execute(_LOTS, (lots_match(query), limit, offset)).fetchall()
        return self._hits.lots([uid for (uid,) in found], query) if found else []

    # -- places

    def _places(self, query: Query, limit: int, offset: int) -> list[Hit]:
        if not (query.words or query.asks_of_column or query.asks_of_session):
            return []
        source, place, given = self._source(query, places_match(query))
        clauses = []
        for clause, *values in self._clauses(query, place):
            clauses.append(clause)
            given += values
        where = " AND ".join(clauses) or "1"
        number = f"{place} * {SLOT_MASK + 1} + {SLOT_MASK}" if place == _KEY else place
        walk = f"SELECT {number} AS place {source} AND {where} ORDER BY {place} DESC LIMIT ? OFFSET ?"
        return self._hits.places(walk, (*given, limit, offset), query)

    def _source(self, query: Query, match: str) -> tuple[str, str, list[Any]]:
        """Return the table that is walked, and by what."""
        if match:
            return "FROM found_words AS walked WHERE found_words MATCH ?", "walked.rowid", [match]
        if query.liquor or query.clarity:
            return "FROM found_liquor AS walked WHERE 1", "walked.id", []
        if query.slots:
            return "FROM found_place AS walked WHERE 1", "walked.id", []
        return "FROM found_session AS session WHERE 1", _KEY, []

    def _clauses(self, query: Query, place: str) -> Iterable[tuple[Any, ...]]:
        between = _between(query)
        facts, values = _facts(query)
        if place == _KEY:  # Nothing is asked for but what a session has as a whole.
            if between is not None:
                yield f"{_KEY} BETWEEN ? AND ?", *between
            if facts:
                yield facts, *values
            return
        if between is not None:
            yield f"{place} BETWEEN ? AND ?", *(place_id(key, slot) for key, slot in zip(between, _ENDS, strict=True))
        if query.slots:
            ends = sorted(SLOT_MASK - slot for slot in query.slots)
            yield f"{place} & {SLOT_MASK} IN ({_marks(len(ends))})", *ends
        if facts:
            yield (
                f"EXISTS (SELECT 1 FROM found_session AS session WHERE session.key = {place} >> {SLOT_BITS} "  # noqa: S608 - ours
                f"AND {facts})",
                *values,
            )
        if query.liquor:
            yield (_IS_NEAR.format(place=place), *_lightness(query.liquor))
        if query.clarity:
            yield (
                f"EXISTS (SELECT 1 FROM found_liquor AS cup WHERE cup.id = {place} AND cup.clarity = ?)",  # noqa: S608 - ours
                query.clarity,
            )
        if query.families:
            yield (f"found_strong((SELECT perceived FROM found_place WHERE id = {place}))",)  # noqa: S608 - ours

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


_LOTS: Final = (
    "SELECT lot.lot_uid FROM (SELECT rowid AS key FROM found_lot_words WHERE found_lot_words MATCH ? "
    "ORDER BY rowid DESC LIMIT ? OFFSET ?) AS hit CROSS JOIN found_lot AS lot ON lot.key = hit.key "
    "ORDER BY lot.key DESC"
)


def _lightness(asked: LiquorAsked) -> tuple[float, float]:
    """Return the L* between which everything lies that is near a colour."""
    reach = MOST_LIGHTNESS_WEIGHT * asked.within_e00
    return asked.lab[0] - reach, asked.lab[0] + reach


_CUPS_AT_ONCE: Final = 1000
_LIQUORS_BELOW: Final = (
    "SELECT id, l, a, b FROM found_liquor WHERE id <= ? AND l BETWEEN ? AND ? ORDER BY id DESC LIMIT ?"
)
_IS_NEAR: Final = (
    "(SELECT cup.l FROM found_liquor AS cup WHERE cup.id = {place}) BETWEEN ? AND ? AND found_near({place})"
)


_KEY: Final = "session.key"
_ENDS: Final = (SLOT_MASK, OVERVIEW)
"""The slots of a session's first number and of its last."""


def _between(query: Query) -> tuple[int, int] | None:
    """Return the keys between which the sessions of some days lie, with a day more at both ends for time zones."""
    if query.first is None and query.last is None:
        return None
    first = 0 if query.first is None else _midnight_key(query.first - _A_DAY)
    last = LAST_KEY if query.last is None else _midnight_key(query.last + 2 * _A_DAY)
    return first, last


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
