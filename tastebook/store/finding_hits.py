"""From what was found to hits: everything that is shown of them, in one statement for a page.

Lots are kept in memory until the journal changes: while somebody types, the next page holds many of the last.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date
from functools import lru_cache
from operator import itemgetter
from typing import Any, Final

from tastebook.domain.finding import Hit, Query
from tastebook.domain.finding_places import (
    OVERVIEW,
    Asked,
    asked_signs,
    best_said,
    best_sentence,
    column_in,
    lot_sentences,
    strongest_in,
)
from tastebook.domain.finding_words import Needles, needles
from tastebook.domain.lot import Lot
from tastebook.store.finding_tables import SLOT_BITS, said_of, slot_in
from tastebook.store.mapping import LOT_COLUMNS, MAPPINGS, decoded, lab_of

_MOST_HELD: Final = 4096
_BATCH: Final = 500


class HitReader:
    """Reads what is shown of hits over one connection.

    What it holds must be forgotten once the journal has changed: whoever asks knows when.
    """

    def __init__(self, raw: sqlite3.Connection) -> None:
        self._raw = raw
        self._lots: dict[str, Lot] = {}

    def forget(self) -> None:
        """Forget the lots that were read."""
        self._lots.clear()

    def lots(self, uids: Sequence[str], query: Query) -> list[Hit]:
        """Return lots that were found themselves."""
        lots, sought = self._lots_called(uids), needles(query.sought)
        return [_lot_hit(lots[uid], sought) for uid in uids]

    def places(self, walk: str, given: Sequence[Any], query: Query) -> list[Hit]:
        """Return the places that a statement walks to, newest first.

        Parameters
        ----------
        walk : str
            SQL that comes to rows of one column, `place`.
        """
        sought, asked = needles(query.sought), asked_signs(query.descriptors)
        texts, perceived = _TEXTS if sought.runs else "'', ''", _PERCEIVED if asked else "''"
        sql = _HITS.format(walk=walk, perceived=perceived, texts=texts)
        rows = self._raw.execute(sql, given).fetchall()
        rows.sort(key=itemgetter(0), reverse=True)
        lots = self._lots_called([row[2] for row in rows])
        return [_place_hit(row, lots, asked, sought) for row in rows]

    def _lots_called(self, uids: Collection[str]) -> Mapping[str, Lot]:
        missing = {uid for uid in uids if uid not in self._lots}
        if missing:
            if len(self._lots) + len(missing) > _MOST_HELD:
                self._lots, missing = {}, set(uids)
            for row in self._of(_LOTS, tuple(missing)):
                self._lots[row[0]] = decoded("lot", _lot_in, row)
        return self._lots

    def _of(self, sql: str, uids: Sequence[str]) -> Iterator[tuple[Any, ...]]:
        for some in _batches(uids):
            yield from self._raw.execute(sql.format(", ".join("?" * len(some))), some)


def _lot_hit(lot: Lot, sought: Needles) -> Hit:
    step, sentence, spans = best_sentence(tuple(("", text) for text in lot_sentences(lot)), sought)
    return Hit(lot, step=step, sentence=sentence, spans=spans)


def _place_hit(row: tuple[Any, ...], lots: Mapping[str, Lot], asked: Asked, sought: Needles) -> Hit:
    (
        number, session_uid, lot_uid, day, decision, purpose, is_open, rest, lightness, a, b, headline, perceived, own,
        said,
    ) = row  # fmt: skip
    slot = slot_in(number)
    step, sentence, spans = best_said(own, lambda: decoded("sentence", said_of, said), sought)
    return Hit(
        lots[lot_uid],
        session_uid,
        column_in(slot),
        step,
        sentence or (headline if slot == OVERVIEW else ""),
        spans,
        _perceived_in(perceived, asked),
        date.fromisoformat(day),
        decision,
        purpose,
        bool(is_open),
        lab_of(lightness, a, b),
        date.fromisoformat(rest) if rest else None,
    )


def _perceived_in(perceived: str | None, asked: Asked) -> tuple[tuple[str, int], ...]:
    """Return the impressions of a place that are asked for, strongest first."""
    if not perceived or not asked:
        return ()
    strongest = strongest_in(perceived, asked)
    return tuple(sorted(strongest.items(), key=lambda one: (-one[1], one[0]))) if strongest else ()


@lru_cache(maxsize=1024)
def _lot_in(row: tuple[Any, ...]) -> Lot:
    lot: Lot = MAPPINGS[Lot].value_of(row)
    return lot


def _batches(items: Sequence[str]) -> Iterator[Sequence[str]]:
    return (items[start : start + _BATCH] for start in range(0, len(items), _BATCH))


_HITS: Final = f"""
    SELECT hit.place, session.session_uid, session.lot_uid, session.day, session.decision, session.purpose,
           session.is_open, session.rest_until, cup.l, cup.a, cup.b, session.headline,
           {{perceived}}, {{texts}}
    FROM ({{walk}}) AS hit
    CROSS JOIN found_session AS session ON session.key = hit.place >> {SLOT_BITS}
    LEFT JOIN found_place AS place ON place.id = hit.place
    LEFT JOIN found_liquor AS cup ON cup.id = hit.place
"""  # noqa: S608 - ours
_PERCEIVED: Final = "place.perceived"
_TEXTS: Final = "place.own, place.said"
_LOTS: Final = f"SELECT {', '.join(LOT_COLUMNS)} FROM lot WHERE uid IN ({{}})"  # noqa: S608 - ours
