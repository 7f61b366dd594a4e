"""Finding in a long journal, against SQL written by hand: `python benchmarks/finding.py [--sessions 20000]`.

A journal is written in bulk through SQLAlchemy Core: 20,000 sessions of eight infusions, 2 million impressions, with
descriptors, words and strengths as skewed as they are in life (seeded). Then each query is asked of the journal, from
the words typed to the first page of hits as values, and beside it, in turns, of sqlite3 alone by a query that somebody
who knows the tables wrote for the same page of the same hits. Last come the lots most alike one, and what the tables
for finding cost: time for an act, and room in the file.
"""

from __future__ import annotations

import argparse
import random
import sqlite3
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta
from itertools import accumulate
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from sqlalchemy import insert  # noqa: E402

from tastebook.domain.act import Act, Change  # noqa: E402
from tastebook.domain.finding_reader import keys_of_family, read_query  # noqa: E402
from tastebook.domain.kin import kin_of, newest_assessed, profiles_of  # noqa: E402
from tastebook.domain.lot import Lot  # noqa: E402
from tastebook.domain.session import Impression, Infusion, Record, Saying, Session, Verdict  # noqa: E402
from tastebook.platform.courses import CourseFiles  # noqa: E402
from tastebook.platform.wordlists import load_vocabulary  # noqa: E402
from tastebook.store.connecting import connect  # noqa: E402
from tastebook.store.engine import engine_over  # noqa: E402
from tastebook.store.finding_tables import SLOT_MASK, drop, rebuild  # noqa: E402
from tastebook.store.journal import SqliteJournal, open_journal  # noqa: E402
from tastebook.store.mapping import MAPPINGS  # noqa: E402
from tastebook.store.rows import ROWS, table_of  # noqa: E402
from tests.fakes import FakeClock  # noqa: E402

INFUSIONS = 8
NOTED = 12
"""Impressions an infusion, with four more at the leaf: 100 a session."""
SESSIONS_A_LOT = 4
BATCH = 20_000
PAGE = 24
TODAY = date(2026, 11, 25)
BEGAN = datetime(2015, 1, 1, 8, tzinfo=UTC)
CHANNELS = ("palate", "palate", "palate", "retronasal", "empty cup")
FILLING = (
    "the", "and", "with", "then", "a", "little", "more", "of", "it", "than", "before", "in", "cup", "still", "soft",
    "warm", "long", "clean", "clear", "round", "deep", "light",
)  # fmt: skip
PHRASES = ("wet cedar after rain", "toasted rice and cream", "焦糖 and honey", "a breath of rose", "nothing much")
CULTIVARS = (
    ("Jin Xuan", "Jīn Xuān"),
    ("Qing Xin", "Qīng Xīn"),
    ("Yabukita", ""),
    ("Assamica", ""),
    ("Longjing 43", "Lóngjǐng 43"),
)
DECISIONS = ("buy", "decline", "decline", "rest until")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sessions", type=int, default=20_000)
    parser.add_argument("--folder", type=Path, help="keep the journal there, and use it again")
    given = parser.parse_args()
    print(f"SQLite {sqlite3.sqlite_version}, Python {sys.version.split()[0]}, {sys.platform}\n")
    with tempfile.TemporaryDirectory() as temporary:
        path = (given.folder or Path(temporary)) / "journal.tastebook"
        if not path.exists():
            _fill(path, given.sessions)
        _compare(path)
        _liken(path)
        _cost(path)


# -- a long journal


def _fill(path: Path, sessions: int) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    open_journal(path, FakeClock()).close()
    raw = connect(path, "rw")
    raw.execute("PRAGMA synchronous = OFF")
    begun_s = time.perf_counter()
    count = 0
    with engine_over(raw).connect() as connection, connection.begin():
        for kind, rows in _in_batches(_records(sessions)):
            connection.execute(insert(table_of(ROWS[kind])), rows)
            count += len(rows)
    filled_s = time.perf_counter()
    plain_mb = _megabytes(raw)
    raw.execute("BEGIN IMMEDIATE")
    rebuild(raw)
    raw.execute("COMMIT")
    built_s = time.perf_counter()
    print(f"{sessions} sessions, {count:,} records, {sessions * (INFUSIONS * NOTED + 4):,} impressions of them")
    print(f"written in {filled_s - begun_s:.0f} s, {plain_mb:.0f} MB; made findable in {built_s - filled_s:.0f} s, "
          f"{_megabytes(raw):.0f} MB")  # fmt: skip
    raw.close()


def _megabytes(raw: sqlite3.Connection) -> float:
    (pages,), (size,) = raw.execute("PRAGMA page_count").fetchone(), raw.execute("PRAGMA page_size").fetchone()
    return float(pages * size / 1e6)


def _records(sessions: int) -> Iterator[Record]:
    rng = random.Random(11)
    course = next(one for one in CourseFiles(Path("no such folder")).all() if one.key == "gaiwan")
    keys = [one.key for one in load_vocabulary().descriptors]
    rng.shuffle(keys)
    # As often as words are said (Zipf): the first a hundred times as often as the hundredth.
    weights = list(accumulate(1 / place for place in range(3, len(keys) + 3)))
    strengths = list(accumulate((0.05, 0.2, 0.3, 0.25, 0.15, 0.05)))
    for number in range(sessions):
        lot_uid, uid = f"lot-{number // SESSIONS_A_LOT:06d}", f"0190{number:08x}-0000-7000-8000-{number:012x}"
        at = BEGAN + timedelta(hours=5 * number)
        if number % SESSIONS_A_LOT == 0:
            cultivar, local = rng.choice(CULTIVARS)
            yield Lot(lot_uid, f"Heron Ridge {number}", at, "oolong", cultivar, local, region="a high valley",
                      season=rng.choice(("spring", "autumn")), harvest_year=at.year, supplier="quiet hill")  # fmt: skip
        closed = at + timedelta(hours=1) if rng.random() < 0.98 else None
        yield Session(uid, lot_uid, course, at, 60, "on arrival", "Mara", closed_at_utc=closed)
        for index in range(INFUSIONS + 1):
            liquor = (rng.gauss(70, 12), rng.gauss(8, 7), rng.gauss(45, 12))
            yield Infusion(f"{uid}-{index}", uid, index, 20, 95.0, actual_ms=20_000, liquor=liquor)
            text = " ".join([*rng.choices(FILLING, k=9), rng.choice(PHRASES) if rng.random() < 0.2 else ""])
            yield Saying(f"{uid}-s{index}", uid, "flavour", index, text, at)
            noted = rng.choices(keys, cum_weights=weights, k=NOTED if index else 4)
            for place, key in enumerate(noted):
                step = "flavour" if index else "dry_leaf"
                (strength,) = rng.choices(range(6), cum_weights=strengths)
                yield Impression(f"{uid}-i{index}-{place}", uid, step, index or None, rng.choice(CHANNELS), key, key,
                                 strength, at, clouded=rng.random() < 0.03)  # fmt: skip
        decision = rng.choice(DECISIONS)
        rest = date(2026, 5, 1) if decision == "rest until" else None
        yield Verdict(f"{uid}-v", uid, decision, rest, headline=" ".join(rng.choices(FILLING, k=6)))


def _in_batches(records: Iterator[Record]) -> Iterator[tuple[type[Record], list[dict[str, object]]]]:
    waiting: dict[type[Record], list[dict[str, object]]] = {kind: [] for kind in ROWS}
    for record in records:
        rows = waiting[type(record)]
        rows.append(dict(MAPPINGS[type(record)].columns_of(record)))
        if len(rows) == BATCH:
            yield from ((kind, some) for kind, some in waiting.items() if some)
            waiting = {kind: [] for kind in ROWS}
    yield from ((kind, rows) for kind, rows in waiting.items() if rows)


# -- queries, and what somebody who knows the tables would write


def _compare(path: Path) -> None:
    journal, raw = open_journal(path, FakeClock()), connect(path, "ro")
    vocabulary = load_vocabulary()
    common, rare = _noted_most_and_least(raw)
    print(f"\n{'first page of ' + str(PAGE):34}  hits waited ms   CPU ms  by hand     ratio")
    for typed, query in _by_hand(vocabulary, common, rare):
        _beside(journal, raw, vocabulary, typed, query)
    raw.close()
    journal.close()


def _noted_most_and_least(raw: sqlite3.Connection) -> tuple[str, str]:
    rows = raw.execute(
        "SELECT descriptor, count(*) FROM impression WHERE rowid < 200000 GROUP BY 1 ORDER BY 2 DESC"
    ).fetchall()
    return rows[0][0], rows[len(rows) // 2][0]


def _beside(
    journal: SqliteJournal, raw: sqlite3.Connection, vocabulary: Any, typed: str, by_hand: Callable[..., Any]
) -> None:
    def ours() -> int:
        return len(journal.find(read_query(typed, vocabulary, TODAY), PAGE).hits)

    def theirs() -> int:
        return len(by_hand(raw))

    assert ours() == theirs(), f"{typed}: {ours()} hits against {theirs()} by hand"
    pairs = [(*_both_ms(ours), _both_ms(theirs)[1]) for _ in range(15)]
    waited_ms, ours_ms, theirs_ms = (statistics.median(side) for side in zip(*pairs, strict=True))
    print(f"{typed:34} {ours():5} {waited_ms:8.1f} {ours_ms:8.1f} {theirs_ms:8.1f}   × {ours_ms / theirs_ms:5.2f}")


PLACES = """
    SELECT l.*, s.session_uid, s.day, s.decision, s.purpose, s.is_open, p.id, p.perceived, q.l, q.a, q.b,
           (SELECT group_concat(step || char(9) || text, char(10)) FROM (SELECT step, text FROM saying
            WHERE saying.session_uid = s.session_uid AND saying.infusion IS (?1 - (p.id & ?1)) - 2
            ORDER BY recorded_at_utc))
    FROM ({source}) AS hit JOIN found_place AS p ON p.id = hit.id
    JOIN found_session AS s ON s.key = p.id >> 9 JOIN lot AS l ON l.uid = s.lot_uid
    LEFT JOIN found_liquor AS q ON q.id = p.id ORDER BY p.id DESC
"""


def _hand(source: str, *given: object) -> Callable[[sqlite3.Connection], list[Any]]:
    """Return a query by hand: the newest places of `source`, with everything that a hit holds, as it comes."""
    sql = PLACES.format(source=source)
    return lambda raw: raw.execute(sql, (SLOT_MASK, *given)).fetchall()


def _words(match: str, more: str = "", *given: object) -> Callable[[sqlite3.Connection], list[Any]]:
    return _hand(f"SELECT rowid AS id FROM found_words WHERE found_words MATCH ?2 {more} ORDER BY 1 DESC LIMIT {PAGE}",
                 match, *given)  # fmt: skip


def _by_hand(vocabulary: Any, common: str, rare: str) -> Iterator[tuple[str, Callable[..., Any]]]:
    def name(key: str) -> str:
        return str(vocabulary.descriptor(key).name)

    def strong(key: str, least: int) -> str:
        return "perceived : (" + " OR ".join(f'"{_signed(key)}·{one}·" *' for one in range(least, 6)) + ")"

    yield "cedar rain ", _words("own : cedar own : rain")
    yield '"toasted rice and cream"', _words('own : "toasted rice and cream"')
    yield "still ", _words("own : still")
    yield f"{name(common)} ≥ 3", _words(strong(common, 3))
    yield f"{name(common)} ≥ 5 infusion 7", _words(strong(common, 5), "AND rowid & 511 = 502")
    yield f"{name(rare)} ≥ 4", _words(strong(rare, 4))
    yield f"no {name(rare)}", _words(f'perceived : "{_signed(rare)}·0·" *')
    yield (
        "焦",
        _words(
            "own : 焦 OR perceived : ("
            + " OR ".join(f'"{_signed(one.key)}"' for one in vocabulary.descriptors if "焦" in one.zh)
            + ")"
        ),
    )
    yield f"{name(common)} ≥ 4 since 2025", _words(strong(common, 4), "AND rowid >= ?3", _key(2025))
    yield f"{name(rare)} ≥ 3 declined 2019", _words(
        strong(rare, 3),
        "AND rowid BETWEEN ?3 AND ?4 "
        "AND (SELECT decision FROM found_session WHERE key = found_words.rowid >> 9) = 'decline'",
        _key(2019), _key(2020),
    )  # fmt: skip
    yield (
        f"{name(common)} clouded",
        _words(
            "perceived : ("
            + " OR ".join(f'"{_signed(common)}·{one}·{letter}·" *' for one in range(1, 6) for letter in "cdgh")
            + ")"
        ),
    )
    yield "nothinglikethis ", _words("own : nothinglikethis")
    yield "declined 2018", _hand(
        "SELECT key * 512 + 511 AS id FROM found_session WHERE decision = 'decline' "
        "AND day BETWEEN '2018-01-01' AND '2018-12-31' "
        f"ORDER BY key DESC LIMIT {PAGE}"
    )  # fmt: skip
    yield "floral ≥ 5", _family(vocabulary, "floral", 5)
    yield "milky ≥ 5 infusion 8", _family(vocabulary, "milky", 5, "AND place.id & 511 = 501")
    yield "amber liquor", _liquor(vocabulary)


def _signed(key: str) -> str:
    return key.replace("-", "¦2d¦")


def _key(year: int) -> int:
    return int((datetime(year, 1, 1, tzinfo=UTC) - datetime(1900, 1, 1, tzinfo=UTC)).total_seconds() * 1e6) << 9


def _family(vocabulary: Any, family: str, least: int, more: str = "") -> Callable[[sqlite3.Connection], list[Any]]:
    """Add the squares up from the impressions themselves: there is no table of families."""
    keys = ", ".join(f"'{key}'" for key in keys_of_family(family, vocabulary))
    return _hand(f"""
        SELECT id FROM (
            SELECT place.id AS id, max(i.intensity) AS strongest
            FROM impression AS i JOIN found_session AS s ON s.session_uid = i.session_uid
            JOIN found_place AS place ON place.id = s.key * 512 + 511 - coalesce(i.infusion + 2, 1) {more}
            WHERE i.descriptor IN ({keys}) GROUP BY place.id, i.descriptor
        ) GROUP BY id HAVING sum(strongest * strongest) >= {least * least} ORDER BY id DESC LIMIT {PAGE}
    """)  # fmt: skip


def _liquor(vocabulary: Any) -> Callable[[sqlite3.Connection], list[Any]]:
    """With ΔE00 as a function of SQLite's: there is no other way to say it in SQL."""
    from tastebook.domain.colour import delta_e00

    asked = next(one for one in vocabulary.colours if one.of == "liquor" and one.name == "amber")

    def run(raw: sqlite3.Connection) -> list[Any]:
        raw.create_function("apart", 3, lambda *lab: delta_e00.__wrapped__(asked.lab, lab), deterministic=True)
        return _hand(
            f"SELECT id FROM found_liquor WHERE l BETWEEN {asked.lab[0] - 10.5} AND {asked.lab[0] + 10.5} "
            f"AND apart(l, a, b) <= {asked.radius_e00} ORDER BY id DESC LIMIT {PAGE}"
        )(raw)

    return run


# -- kin, and what it costs


def _liken(path: Path) -> None:
    journal, vocabulary = open_journal(path, FakeClock()), load_vocabulary()
    begun_s = time.perf_counter()
    cups = journal.noted_cups()
    read_s = time.perf_counter()
    profiles = profiles_of(cups, vocabulary)
    profiled_s = time.perf_counter()
    likenesses = kin_of(profiles, newest_assessed(profiles, cups.lot_uids[0]), 8)
    print(f"\nteas like this one, of {len(set(cups.lot_uids)):,} lots: "
          f"read {(read_s - begun_s) * 1000:.0f} ms, worked out {(profiled_s - read_s) * 1000:.0f} ms, "
          f"found {(time.perf_counter() - profiled_s) * 1000:.0f} ms ({len(likenesses)})")  # fmt: skip
    journal.close()


def _cost(path: Path) -> None:
    """Keep acts in the long journal, with the tables for finding; then the same with none to keep up."""
    with_ms = _commits_ms(path, "with")
    raw = connect(path, "rw")
    before_mb = _megabytes(raw)
    raw.execute("DELETE FROM found_state")
    raw.close()
    without_ms = _commits_ms(path, "without", keeps_state=False)
    raw = connect(path, "rw")
    raw.execute("BEGIN IMMEDIATE")
    drop(raw.execute)
    raw.execute("COMMIT")
    (free,), (size,) = raw.execute("PRAGMA freelist_count").fetchone(), raw.execute("PRAGMA page_size").fetchone()
    print(f"\none impression kept: {with_ms[0]:.2f} ms at p50 and {with_ms[1]:.2f} at p99, "
          f"without tables for finding {without_ms[0]:.2f} and {without_ms[1]:.2f}")  # fmt: skip
    print(f"file: {before_mb:.0f} MB, {free * size / 1e6:.0f} MB of it for finding")
    raw.execute("BEGIN IMMEDIATE")
    rebuild(raw)
    raw.execute("COMMIT")
    raw.close()


def _commits_ms(path: Path, name: str, *, keeps_state: bool = True) -> tuple[float, float]:
    journal = open_journal(path, FakeClock()) if keeps_state else _opened_as_it_is(path)
    uid = f"0190{5:08x}-0000-7000-8000-{5:012x}"
    run = time.monotonic_ns()
    took = []
    for number in range(500):
        noted = Impression(
            f"{name}-{run}-{number}", uid, "flavour", number % 8 + 1, "palate", "peach", "peach", 3, BEGAN
        )
        act = Act(f"{name}-{run}-{number}", uid, "peach 3", BEGAN, (Change(None, noted),))
        took.append(_once_ms(lambda act=act: journal.commit(act)))
        journal.commit(Act(f"{name}-{run}-{number}-back", uid, "peach 3", BEGAN, (Change(noted, None),)))
    journal.close()
    took.sort()
    return took[250], took[495]


def _opened_as_it_is(path: Path) -> SqliteJournal:
    from tastebook.store.backup import folder_for
    from tastebook.store.connecting import Opened

    return SqliteJournal(path, Opened(connect(path, "rw")), FakeClock(), folder_for(path))


def _both_ms(what: Callable[[], object]) -> tuple[float, float]:
    """Return what the clock on the wall says, and what this process worked: others may share the machine."""
    begun_s, worked_s = time.perf_counter(), time.process_time()
    what()
    return (time.perf_counter() - begun_s) * 1000, (time.process_time() - worked_s) * 1000


def _once_ms(what: Callable[[], object]) -> float:
    begun_s = time.perf_counter()
    what()
    return (time.perf_counter() - begun_s) * 1000


if __name__ == "__main__":
    main()
