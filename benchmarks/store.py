"""The journal against plain sqlite3, side by side in one run: `python benchmarks/store.py [--sessions 10000]`.

A journal of many sessions is written in bulk through SQLAlchemy Core, then the Shelf is listed by the journal and, with
the same queries, by sqlite3 alone without making anything of the rows. The other figures are what a taster waits for.
"""

from __future__ import annotations

import argparse
import random
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from sqlalchemy import insert  # noqa: E402

from tastebook.domain.session import Infusion, Record, Verdict  # noqa: E402
from tastebook.store.connecting import connect  # noqa: E402
from tastebook.store.engine import engine_over  # noqa: E402
from tastebook.store.journal import open_journal  # noqa: E402
from tastebook.store.mapping import MAPPINGS  # noqa: E402
from tastebook.store.rows import ROWS, table_of  # noqa: E402
from tastebook.store.shelf import QUERIES  # noqa: E402
from tests.fakes import MORNING_UTC, FakeClock  # noqa: E402
from tests.store.building import act, impression, lot, session  # noqa: E402

INFUSIONS = 8
SESSIONS_A_LOT = 4
BATCH = 5000

IMPORTS = {
    "sqlite3": "import sqlite3",
    "the journal, up to the Shelf": "from tastebook.store.journal import open_journal",
    "SQLAlchemy and the typed rows": "import tastebook.store.ledger",
    "SQLAlchemy, rows and Alembic": "import tastebook.store.ledger, alembic.command",
}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sessions", type=int, default=10_000)
    sessions = parser.parse_args().sessions
    print(f"SQLite {sqlite3.sqlite_version}, Python {sys.version.split()[0]}, {sys.platform}\n")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "journal.tastebook"
        _fill(path, sessions)
        print(f"{sessions} sessions x {INFUSIONS} infusions, {path.stat().st_size / 1e6:.0f} MB")
        _list_the_shelf(path)
        _time_the_rest(path)
        _time_commits(Path(folder))
    _time_imports()


def _fill(path: Path, sessions: int) -> None:
    open_journal(path, FakeClock()).close()
    raw = connect(path, "rw")
    begun_s = time.perf_counter()
    count = 0
    with engine_over(raw).connect() as connection, connection.begin():
        for kind, rows in _in_batches(_records(sessions)):
            connection.execute(insert(table_of(ROWS[kind])), rows)
            count += len(rows)
    took_s = time.perf_counter() - begun_s
    print(f"bulk load through Core: {count} rows in {took_s:.1f} s ({count / took_s:,.0f} a second)")
    raw.close()


def _records(sessions: int) -> Iterator[Record]:
    rng = random.Random(7)
    for number in range(sessions):
        lot_uid, session_uid = f"lot-{number // SESSIONS_A_LOT}", f"session-{number}"
        at_utc = MORNING_UTC + timedelta(hours=number)
        if number % SESSIONS_A_LOT == 0:
            yield lot(lot_uid, created_at_utc=at_utc, name=f"Lot {number}", kind="oolong", region="a high valley")
        yield session(session_uid, lot_uid, started_at_utc=at_utc, closed_at_utc=at_utc + timedelta(hours=1))
        for index in range(1, INFUSIONS + 1):
            liquor = (rng.uniform(40, 90), rng.uniform(-5, 25), rng.uniform(10, 70))
            uid = f"{session_uid}-{index}"
            yield Infusion(uid, session_uid, index, 20, 95.0, actual_ms=rng.randrange(15_000, 60_000), liquor=liquor)
        yield Verdict(f"verdict-{number}", session_uid, "buy", headline="Orchid first, then toasted rice")


def _in_batches(records: Iterator[Record]) -> Iterator[tuple[type[Record], list[dict[str, object]]]]:
    waiting: dict[type[Record], list[dict[str, object]]] = {kind: [] for kind in ROWS}
    for record in records:
        rows = waiting[type(record)]
        rows.append(dict(MAPPINGS[type(record)].columns_of(record)))
        if len(rows) == BATCH:
            yield type(record), rows
            waiting[type(record)] = []
    yield from ((kind, rows) for kind, rows in waiting.items() if rows)


def _list_the_shelf(path: Path) -> None:
    raw = connect(path, "rw")
    journal = open_journal(path, FakeClock())

    def plainly() -> int:
        return sum(len(raw.execute(query).fetchall()) for query in QUERIES)

    plain_ms, ours_ms = _side_by_side(plainly, journal.shelf)
    lines = journal.shelf()
    print("\n                                       p50 ms")
    print(f"the Shelf's queries, sqlite3 alone   {plain_ms:8.1f}   ({plainly()} rows)")
    print(f"the Shelf, as values                 {ours_ms:8.1f}   ({len(lines)} lots)   x {ours_ms / plain_ms:.2f}")
    journal.close()
    raw.close()


def _time_the_rest(path: Path) -> None:
    def opened() -> None:
        open_journal(path, FakeClock()).close()

    journal = open_journal(path, FakeClock())
    print(f"opening and closing                  {_p50_ms(opened):8.1f}")
    print(f"one tasting                          {_p50_ms(lambda: journal.tasting('session-5')):8.1f}")
    print(f"every session with its course        {_p50_ms(journal.sessions, 3):8.1f}")
    journal.close()


def _time_commits(folder: Path) -> None:
    journal = open_journal(folder / "small.tastebook", FakeClock())
    journal.commit(act("act-first", (None, lot())))
    ours = sorted(_commit_ms(journal.commit, number) for number in range(1000))
    raw = connect(folder / "plain.tastebook", "rwc")
    raw.execute("PRAGMA journal_mode = WAL")
    raw.execute("CREATE TABLE act (uid TEXT PRIMARY KEY, changes TEXT)")
    plain = sorted(_plain_commit_ms(raw, number) for number in range(1000))
    raw.close()
    journal.close()
    print("\n                                       p50 ms   p99 ms")
    print(f"one row, sqlite3 alone               {plain[500]:8.2f} {plain[990]:8.2f}")
    print(f"one act with one impression          {ours[500]:8.2f} {ours[990]:8.2f}")


def _commit_ms(commit: Callable[..., None], number: int) -> float:
    """Keep one impression; a session has ten columns with ten of them."""
    uid = f"session-{number // 100}"
    if number % 100 == 0:
        commit(
            act(f"act-{number}", (None, session(uid, "lot-1", started_at_utc=MORNING_UTC + timedelta(hours=number))))
        )
    noted = impression(f"impression-{number}", session_uid=uid, infusion=number // 10 % 10 + 1)
    one = act(f"act-x{number}", (None, noted))
    begun_s = time.perf_counter()
    commit(one)
    return (time.perf_counter() - begun_s) * 1000


def _plain_commit_ms(raw: sqlite3.Connection, number: int) -> float:
    begun_s = time.perf_counter()
    raw.execute("BEGIN IMMEDIATE")
    raw.execute("INSERT INTO act VALUES (?, ?)", (f"act-{number}", "x" * 500))
    raw.execute("COMMIT")
    return (time.perf_counter() - begun_s) * 1000


def _time_imports() -> None:
    program = "import time; begun = time.perf_counter(); {}; print((time.perf_counter() - begun) * 1000)"
    print("\nimport, in a fresh process             p50 ms")
    for name, statement in IMPORTS.items():
        command = [sys.executable, "-c", program.format(statement)]
        print(f"{name:36} {statistics.median(_printed_ms(command) for _ in range(5)):8.0f}")


def _printed_ms(command: list[str]) -> float:
    return float(subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout)


def _side_by_side(one: Callable[[], object], other: Callable[[], object], rounds: int = 9) -> tuple[float, float]:
    """Return the median of each, measured in turns so that both meet the same machine."""
    pairs = [(_once_ms(one), _once_ms(other)) for _ in range(rounds)]
    return statistics.median(first for first, _ in pairs), statistics.median(second for _, second in pairs)


def _p50_ms(what: Callable[[], object], rounds: int = 9) -> float:
    return statistics.median(_once_ms(what) for _ in range(rounds))


def _once_ms(what: Callable[[], object]) -> float:
    begun_s = time.perf_counter()
    what()
    return (time.perf_counter() - begun_s) * 1000


if __name__ == "__main__":
    main()
