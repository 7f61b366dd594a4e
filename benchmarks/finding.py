"""Finding in a long journal, against SQL written by hand: `python benchmarks/finding.py [--sessions 20000]`.

A journal is written in bulk through SQLAlchemy Core: 20,000 sessions of eight infusions, 2 million impressions, with
descriptors, words and strengths as skewed as they are in life (seeded). Then each query is asked of the journal, from
the words typed to the first page of hits as values, and beside it, in turns, of sqlite3 alone by a query that somebody
who knows the tables wrote for the same page: the same hits in the same order, each with its lot, session, infusion,
liquor and the sentence that matched, which is made sure of. That query is written for this one question and this
journal: it knows what the words typed mean, and it marks nothing in the sentence and takes no impression apart. The
second pair of columns is the same just after an act was kept, when neither side holds anything in memory.

Last come the lots most alike one, and what the tables for finding cost: time for an act, and room in the file.
"""

from __future__ import annotations

import argparse
import json
import random
import sqlite3
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from datetime import UTC, date, datetime, timedelta
from itertools import accumulate
from pathlib import Path
from typing import Any, NamedTuple, TypeAlias

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from sqlalchemy import insert  # noqa: E402

from tastebook.domain.act import Act, Change  # noqa: E402
from tastebook.domain.arc import Column  # noqa: E402
from tastebook.domain.finding import Hit, Query  # noqa: E402
from tastebook.domain.finding_reader import keys_of_family, read_query  # noqa: E402
from tastebook.domain.kin import kin_of, newest_assessed, profiles_of  # noqa: E402
from tastebook.domain.lot import Lot  # noqa: E402
from tastebook.domain.session import Impression, Infusion, Record, Saying, Session, Verdict  # noqa: E402
from tastebook.platform.courses import CourseFiles  # noqa: E402
from tastebook.platform.wordlists import load_vocabulary  # noqa: E402
from tastebook.store.connecting import connect  # noqa: E402
from tastebook.store.engine import engine_over  # noqa: E402
from tastebook.store.finding_tables import drop, rebuild  # noqa: E402
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
LEAST_TURNS, MOST_TURNS = 5, 200
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
    journal, raw, writer = open_journal(path, FakeClock()), connect(path, "ro"), connect(path, "rw")
    vocabulary = load_vocabulary()
    common, rare = _noted_most_and_least(raw)
    print("\nmedians of CPU ms               hits   read   all by hand  ratio   waited  after an act by hand  ratio")
    for typed, query in _by_hand(vocabulary, common, rare):
        _beside(journal, raw, writer, vocabulary, typed, query)
    for connection in (raw, writer):
        connection.close()
    journal.close()


def _noted_most_and_least(raw: sqlite3.Connection) -> tuple[str, str]:
    rows = raw.execute(
        "SELECT descriptor, count(*) FROM impression WHERE rowid < 200000 GROUP BY 1 ORDER BY 2 DESC"
    ).fetchall()
    return rows[0][0], rows[len(rows) // 2][0]


def _beside(
    journal: SqliteJournal,
    raw: sqlite3.Connection,
    writer: sqlite3.Connection,
    vocabulary: Any,
    typed: str,
    by_hand: ByHand,
) -> None:
    def read() -> Query:
        return read_query(typed, vocabulary, TODAY)

    def ours() -> tuple[Hit, ...]:
        return journal.find(read(), PAGE).hits

    def theirs() -> list[Seen]:
        return by_hand(raw)

    found = [_seen_of(hit) for hit in ours()]
    assert found == theirs(), (
        f"{typed}: {next(pair for pair in zip(found, theirs(), strict=False) if pair[0] != pair[1])}"
    )
    warm, cold = _in_turns((read, ours, theirs), lambda: None), _in_turns((ours, theirs), lambda: _touch(writer))
    waited_ms, all_ms, hand_ms = warm[1][0], warm[1][1], warm[2][1]
    (_, anew_ms), (_, hand_anew_ms) = cold
    print(f"{typed:30} {len(found):5} {warm[0][1]:6.3f} {all_ms:6.2f} {hand_ms:6.2f}  × {all_ms / hand_ms:4.2f} "
          f"{waited_ms:8.2f} {anew_ms:12.2f} {hand_anew_ms:7.2f}  × {anew_ms / hand_anew_ms:4.2f}")  # fmt: skip


def _in_turns(calls: Sequence[Callable[[], object]], before_each: Callable[[], object]) -> list[tuple[float, float]]:
    """Return for each call the medians of what was waited and worked, in milliseconds: 200 turns, or two seconds."""
    took: list[list[tuple[float, float]]] = [[] for _ in calls]
    until_s = time.perf_counter() + 2
    while len(took[0]) < LEAST_TURNS or (len(took[0]) < MOST_TURNS and time.perf_counter() < until_s):
        for call, times in zip(calls, took, strict=True):
            before_each()
            times.append(_both_ms(call))
    return [(statistics.median(one[0] for one in times), statistics.median(one[1] for one in times)) for times in took]


def _touch(writer: sqlite3.Connection) -> None:
    """Commit something, so that every other connection must look afresh."""
    writer.execute("UPDATE found_state SET wording = wording")


class Seen(NamedTuple):
    """What is compared of a hit; by hand, what somebody would make of a row."""

    lot: tuple[Any, ...]
    session_uid: str
    column: Column | None
    sentence: str
    day: str
    decision: str
    purpose: str
    is_open: bool
    rest_until: str
    liquor: tuple[Any, ...] | None
    perceived: str = ""
    """Only by hand, as it lies there: not compared."""

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Seen) and self[:-1] == other[:-1]


ByHand: TypeAlias = Callable[[sqlite3.Connection], list[Seen]]


def _seen_of(hit: Hit) -> Seen:
    lot = tuple(dict(MAPPINGS[Lot].columns_of(hit.lot)).values())
    rest = hit.rest_until.isoformat() if hit.rest_until else ""
    day = hit.day.isoformat() if hit.day else ""
    return Seen(
        lot, hit.session_uid, hit.column, hit.sentence, day, hit.decision, hit.purpose, hit.is_open, rest, hit.liquor
    )


PLACES = """
    SELECT l.*, s.session_uid, s.day, s.decision, s.purpose, s.is_open, s.rest_until, s.headline,
           p.id, p.perceived, p.said, q.l, q.a, q.b
    FROM ({source}) AS hit JOIN found_place AS p ON p.id = hit.id
    JOIN found_session AS s ON s.key = p.id >> 9 JOIN lot AS l ON l.uid = s.lot_uid
    LEFT JOIN found_liquor AS q ON q.id = p.id ORDER BY p.id DESC
"""


def _hand(source: str, *given: object, words: tuple[str, ...] = ()) -> ByHand:
    """Return a query by hand: the newest places of `source`; `words` are what the sentence must hold."""
    sql = PLACES.format(source=source)
    return lambda raw: [_seen(row, words) for row in raw.execute(sql, given)]


def _seen(row: tuple[Any, ...], words: tuple[str, ...]) -> Seen:
    uid, day, decision, purpose, is_open, rest_until, headline, number, perceived, said, *lab = row[-13:]
    slot = 511 - (number & 511)
    sentence = ""
    if words and said:
        texts = [text for _, text in json.loads(said)]
        counts = [sum([word in text for word in words]) for text in texts]
        if most := max(counts):
            sentence = texts[counts.index(most)]
    column = slot - 2 if slot > 1 else "leaf" if slot else None
    liquor = None if lab[0] is None else tuple(lab)
    return Seen(row[:-13], uid, column, sentence or ("" if slot else headline), day, decision, purpose, bool(is_open),
                rest_until, liquor, perceived)  # fmt: skip


def _match(match: str, more: str = "", *given: object, words: tuple[str, ...] = ()) -> ByHand:
    return _hand(f"SELECT rowid AS id FROM found_words WHERE found_words MATCH ? {more} ORDER BY 1 DESC LIMIT {PAGE}",
                 match, *given, words=words)  # fmt: skip


LOTS = f"""
    SELECT l.* FROM (SELECT rowid AS key FROM found_lot_words WHERE found_lot_words MATCH ?
                     ORDER BY 1 DESC LIMIT {PAGE}) AS hit
    JOIN found_lot AS f ON f.key = hit.key JOIN lot AS l ON l.uid = f.lot_uid
"""


def _words(match: str, in_lots: str, *words: str) -> ByHand:
    """Return a query for plain words, which may be those of a lot as well; here they never are."""
    places = _match(match, words=words)
    return lambda raw: [*raw.execute(LOTS, (in_lots,)), *places(raw)]


def _by_hand(vocabulary: Any, common: str, rare: str) -> Iterator[tuple[str, ByHand]]:
    def name(key: str) -> str:
        return str(vocabulary.descriptor(key).name)

    def strong(key: str, least: int) -> str:
        return "perceived : (" + " OR ".join(f'"{_signed(key)}·{one}·" *' for one in range(least, 6)) + ")"

    yield (
        "cedar rain ",
        _words(
            "(own : cedar OR perceived : cedar) AND (own : rain OR perceived : petrichor)",
            "cedar rain",
            "cedar",
            "rain",
        ),
    )
    phrase = "toasted rice and cream"
    yield f'"{phrase}"', _words(f'own : "{phrase}"', f'"{phrase}"', phrase)
    yield "still ", _words("own : still", "still", "still")
    yield f"{name(common)} ≥ 3", _match(strong(common, 3))
    yield f"{name(common)} ≥ 5 infusion 7", _match(strong(common, 5), "AND rowid & 511 = 502")
    yield f"{name(rare)} ≥ 4", _match(strong(rare, 4))
    yield f"no {name(rare)}", _match(f'perceived : "{_signed(rare)}·0·" *')
    signs = " OR ".join(f'"{_signed(one.key)}"' for one in vocabulary.descriptors if "焦" in one.zh)
    yield "焦", _words(f"own : 焦 OR perceived : ({signs})", "焦", "焦")
    yield f"{name(common)} ≥ 4 since 2025", _match(strong(common, 4), "AND rowid >= ?", _key(2025))
    yield f"{name(rare)} ≥ 3 declined 2019", _match(
        strong(rare, 3),
        "AND rowid BETWEEN ? AND ? "
        "AND (SELECT decision FROM found_session WHERE key = found_words.rowid >> 9) = 'decline'",
        _key(2019), _key(2020),
    )  # fmt: skip
    yield (
        f"{name(common)} clouded",
        _match(
            "perceived : ("
            + " OR ".join(f'"{_signed(common)}·{one}·{letter}·" *' for one in range(1, 6) for letter in "cdgh")
            + ")"
        ),
    )
    yield "nothinglikethis ", _words("own : nothinglikethis", "nothinglikethis", "nothinglikethis")
    yield "declined 2018", _hand(
        "SELECT key * 512 + 511 AS id FROM found_session WHERE key BETWEEN ? AND ? AND decision = 'decline' "
        f"ORDER BY key DESC LIMIT {PAGE}",
        _key(2018) >> 9, (_key(2019) >> 9) - 1,
    )  # fmt: skip
    yield "floral ≥ 5", _family(vocabulary, "floral", 5)
    yield "milky ≥ 5 infusion 8", _family(vocabulary, "milky", 5, "AND place.id & 511 = 501")
    yield "amber liquor", _liquor(vocabulary)


def _signed(key: str) -> str:
    return key.replace("-", "¦2d¦")


def _key(year: int) -> int:
    return int((datetime(year, 1, 1, tzinfo=UTC) - datetime(1900, 1, 1, tzinfo=UTC)).total_seconds() * 1e6) << 9


def _family(vocabulary: Any, family: str, least: int, more: str = "") -> ByHand:
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


def _liquor(vocabulary: Any) -> ByHand:
    """With ΔE00 as a function of SQLite's: there is no other way to say it in SQL."""
    from tastebook.domain.colour import delta_e00

    asked = next(one for one in vocabulary.colours if one.of == "liquor" and one.name == "amber")

    def run(raw: sqlite3.Connection) -> list[Seen]:
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
