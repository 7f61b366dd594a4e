"""What the first screen needs, read with plain sqlite3: the Shelf in five queries, the user's own words in one.

Loading SQLAlchemy takes longer than everything read here.
"""

from __future__ import annotations

import gc
import sqlite3
from collections import defaultdict
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from itertools import groupby
from operator import itemgetter
from typing import Final

from tastebook.domain.lot import Lot
from tastebook.domain.session import Lab, OwnDescriptor
from tastebook.services.ports import LotLine, SessionLine, WordUse
from tastebook.store.mapping import LOT_COLUMNS, MAPPINGS, OWN_DESCRIPTOR_COLUMNS, decoded

LOTS: Final = f"SELECT {', '.join(LOT_COLUMNS)} FROM lot ORDER BY created_at_utc DESC, uid DESC"  # noqa: S608 - ours

SESSIONS: Final = """
SELECT session.uid, lot_uid, started_at_utc, utc_offset_min, purpose, closed_at_utc IS NULL,
       coalesce(decision, ''), coalesce(headline, ''), coalesce(rest_until, ''), verdict.uid IS NOT NULL
FROM session LEFT JOIN verdict ON verdict.session_uid = session.uid
ORDER BY started_at_utc, session.uid
"""

POURED: Final = """
SELECT session_uid, count(*) FROM infusion WHERE number > 0 AND actual_ms IS NOT NULL GROUP BY session_uid
"""

LIQUORS: Final = """
SELECT session_uid, number, liquor_l, liquor_a, liquor_b FROM infusion WHERE liquor_l IS NOT NULL
ORDER BY session_uid, number
"""

STEEPING: Final = """
SELECT DISTINCT session_uid FROM infusion WHERE started_at_utc IS NOT NULL AND actual_ms IS NULL
"""

OWN_WORDS: Final = f"SELECT {', '.join(OWN_DESCRIPTOR_COLUMNS)} FROM own_descriptor ORDER BY created_at_utc, uid"  # noqa: S608 - ours

WORDS_NOTED: Final = """
WITH RECURSIVE noted(descriptor) AS (
    SELECT min(descriptor) FROM impression
    UNION ALL
    SELECT (SELECT min(descriptor) FROM impression WHERE descriptor > noted.descriptor) FROM noted
    WHERE noted.descriptor IS NOT NULL
)
SELECT descriptor FROM noted WHERE descriptor IS NOT NULL
"""
"""From one key straight to the next along the index: a journal has millions of impressions and hundreds of words."""

WORD_USE: Final = """
SELECT word, times, sessions, lot.name, started_at_utc, utc_offset_min
FROM (
    SELECT word, count(*) AS times, count(DISTINCT session_uid) AS sessions, max(session_uid) AS last
    FROM impression WHERE descriptor = ?
)
JOIN session ON session.uid = last JOIN lot ON lot.uid = lot_uid
"""
"""Of a bare column beside `max`, SQLite takes the row of the greatest; the uids of sessions sort by their beginning."""

QUERIES: Final = (LOTS, SESSIONS, POURED, LIQUORS, STEEPING)


def read_last_act(raw: sqlite3.Connection) -> int:
    """Return the number of the newest act, 0 while there is none."""
    (number,) = raw.execute("SELECT max(number) FROM act").fetchone()
    return int(number or 0)


def read_steeping(raw: sqlite3.Connection) -> tuple[str, ...]:
    """Return the uids of the sessions with leaf in water now."""
    return tuple(sorted(uid for (uid,) in raw.execute(STEEPING)))


def read_shelf(raw: sqlite3.Connection) -> tuple[LotLine, ...]:
    """Return every lot, newest first, with its sessions, oldest first.

    Raises
    ------
    JournalDamaged
        If a row makes no sense.
    """
    with _collecting_later():
        return decoded("line of the Shelf", _read, raw)


def read_own_words(raw: sqlite3.Connection) -> tuple[OwnDescriptor, ...]:
    """Return the user's own words, oldest first.

    Raises
    ------
    JournalDamaged
        If a row makes no sense.
    """
    return decoded("word of one's own", _own_words, raw)


def read_words_noted(raw: sqlite3.Connection) -> tuple[str, ...]:
    """Return the key of every word that is noted."""
    return tuple(descriptor for (descriptor,) in raw.execute(WORDS_NOTED))


def read_word_use(raw: sqlite3.Connection, descriptor: str) -> WordUse | None:
    """Return how often a word is noted, None if it is not.

    Raises
    ------
    JournalDamaged
        If a row makes no sense.
    """
    row = raw.execute(WORD_USE, (descriptor,)).fetchone()
    return None if row is None else decoded("word noted", _word_use, (descriptor, *row))


def _word_use(row: tuple[str, str, int, int, str, str, int]) -> WordUse:
    descriptor, word, times, sessions, last_lot, begun, offset_min = row
    return WordUse(descriptor, word, times, sessions, last_lot, datetime.fromisoformat(begun), offset_min)


def _own_words(raw: sqlite3.Connection) -> tuple[OwnDescriptor, ...]:
    return tuple(map(MAPPINGS[OwnDescriptor].value_of, raw.execute(OWN_WORDS)))


@contextmanager
def _collecting_later() -> Iterator[None]:
    """Keep the garbage collector from walking over a growing heap in which nothing is garbage.

    Of 10,000 sessions, a third of the time went there (293 ms against 196 ms).
    """
    was_enabled = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_enabled:
            gc.enable()


def _read(raw: sqlite3.Connection) -> tuple[LotLine, ...]:
    poured: dict[str, int] = dict(raw.execute(POURED))
    liquors: dict[str, tuple[tuple[int, Lab], ...]] = {
        session_uid: tuple([(number, (lightness, a, b)) for _, number, lightness, a, b in rows])
        for session_uid, rows in groupby(raw.execute(LIQUORS), itemgetter(0))
    }
    steeping = {uid for (uid,) in raw.execute(STEEPING)}
    lines: defaultdict[str, list[SessionLine]] = defaultdict(list)
    for row in raw.execute(SESSIONS):
        uid, lot_uid, started, offset_min, purpose, is_open, decision, headline, rest_until, is_judged = row
        line = SessionLine(
            uid=uid,
            lot_uid=lot_uid,
            started_at_utc=datetime.fromisoformat(started),
            utc_offset_min=offset_min,
            purpose=purpose,
            is_open=bool(is_open),
            infusions_poured=poured.get(uid, 0),
            liquors=liquors.get(uid, ()),
            decision=decision,
            headline=headline,
            rest_until=rest_until,
            has_verdict=bool(is_judged),
            is_steeping=uid in steeping,
        )
        lines[lot_uid].append(line)
    lot_of = MAPPINGS[Lot].value_of
    return tuple(LotLine(lot, tuple(lines[lot.uid])) for lot in map(lot_of, raw.execute(LOTS)))
