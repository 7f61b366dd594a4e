"""From a path to an open connection: whether it is a journal, whole, of which revision, and may be written.

Everything is looked at through connections that cannot write, so that a file that is refused stays as it is to the
byte. SQLAlchemy and Alembic are imported only where a journal is made or brought up to date.
"""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from tastebook.domain.errors import JournalDamaged, JournalNewer, JournalReadOnly, NotAJournal, StoreError
from tastebook.services.ports import Clock
from tastebook.store.backup import newest_backup
from tastebook.store.schema import APPLICATION_ID, HEAD, REVISIONS, VERSION_TABLE
from tastebook.store.trouble import is_busy, is_damage, is_refusal, trouble_of, trouble_of_file

MAGIC: Final = b"SQLite format 3\x00"
HEADER_BYTES: Final = 100
APPLICATION_ID_AT: Final = 68
"""Where the header of an SQLite file holds its application id (https://www.sqlite.org/fileformat2.html, 1.3)."""

CHECK_UP_TO_BYTES: Final = 32 * 1024 * 1024
"""Journals up to this size are checked whole when they are opened; `tastebook check` does it for any."""


@dataclass(frozen=True)
class Opened:
    """A connection, and why it only reads (empty if it writes)."""

    raw: sqlite3.Connection
    read_only_because: str = ""
    aside: Path | None = None
    """The folder of a copy that had to be made in order to read, to be removed in the end."""


def open_file(path: Path, clock: Clock, backups: Path, busy_ms: int) -> Opened:
    """Open the journal at `path`; make it if there is no file, bring it up to date if it is older.

    Raises
    ------
    NotAJournal, JournalDamaged, JournalNewer, JournalReadOnly, JournalFull, JournalBusy
        What is wrong and what to do; the file stays as it was.
    """
    try:
        if not path.exists() or path.stat().st_size == 0:
            _make(path, busy_ms)
        revision = inspect(path, backups)
        if revision not in REVISIONS:
            return _open_newer(path, revision)
        return _open_known(path, clock, backups, busy_ms, revision)
    except sqlite3.Error as exc:
        raise trouble_of(exc, path) from exc
    except OSError as exc:
        raise trouble_of_file(exc, path) from exc


def inspect(path: Path, backups: Path) -> str:
    """Return the revision of the journal at `path`, having made sure that it is one and as far as can be told whole.

    Raises
    ------
    NotAJournal, JournalDamaged
        With the way out: the newest backup, where there is one.
    """
    _check_header(path, backups)
    try:
        opened = _open_unchanging(path)
        try:
            revision = _revision(opened.raw)
            _check_whole(opened.raw, path)
        finally:
            _put_away(opened)
    except sqlite3.Error as exc:
        if is_damage(exc):
            raise _damaged(path, str(exc), backups) from exc
        raise trouble_of(exc, path) from exc
    except _DamageError as exc:
        raise _damaged(path, str(exc), backups) from exc
    return revision


def close_file(opened: Opened) -> None:
    """Close the connection, and remove the copy if one was made."""
    _put_away(opened)


class _DamageError(Exception):
    """What was found."""


def _check_header(path: Path, backups: Path) -> None:
    if path.is_dir():
        raise NotAJournal(f"{path} is a folder, not a journal.")
    with path.open("rb") as file:
        header = file.read(HEADER_BYTES)
    if len(header) < HEADER_BYTES or not header.startswith(MAGIC):
        raise NotAJournal(f"{path} is not a journal of Tastebook. It was left as it is.{_way_out(path, backups)}")
    found = int.from_bytes(header[APPLICATION_ID_AT : APPLICATION_ID_AT + 4], "big")
    if found != APPLICATION_ID:
        raise NotAJournal(f"{path} was made by another program. It was left as it is. Choose another file.")


def _revision(raw: sqlite3.Connection) -> str:
    try:
        row = raw.execute(f"SELECT version_num FROM {VERSION_TABLE}").fetchone()  # noqa: S608 - ours
        raw.execute("SELECT uid FROM lot LIMIT 1").fetchone()
    except sqlite3.OperationalError as exc:
        if "no such table" not in str(exc):
            raise
        raise _DamageError(str(exc)) from exc
    if row is None:
        raise _DamageError("it does not say which revision it is")
    return str(row[0])


def _check_whole(raw: sqlite3.Connection, path: Path) -> None:
    (pages,), (page_bytes,) = raw.execute("PRAGMA page_count").fetchone(), raw.execute("PRAGMA page_size").fetchone()
    if path.stat().st_size < pages * page_bytes and not _has_wal(path):
        raise _DamageError("the end of the file is missing")
    if pages * page_bytes <= CHECK_UP_TO_BYTES:
        (finding,) = raw.execute("PRAGMA quick_check(1)").fetchone()
        if finding != "ok":
            raise _DamageError(" ".join(str(finding).split()))


def _damaged(path: Path, finding: str, backups: Path) -> JournalDamaged:
    return JournalDamaged(f"The journal {path} is damaged ({finding}). It was left as it is.{_way_out(path, backups)}")


def _way_out(path: Path, backups: Path) -> str:
    copy = newest_backup(path, backups)
    return "" if copy is None else f" The newest backup copy is {copy}: open that one, or put it in place of this file."


def _open_newer(path: Path, revision: str) -> Opened:
    """Open a later version's journal for reading, if what this version reads is in it."""
    opened = _open_reading(path)
    because = (
        f"{path} was written by a later Tastebook (revision {revision}; this one knows {HEAD}). "
        "It can be read here; to taste on, use the later version."
    )
    if missing := _missing(opened.raw):
        _put_away(opened)
        raise JournalNewer(
            f"{path} was written by a later Tastebook (revision {revision}) and cannot be read here: "
            f"{missing} is no longer there. Use the later version."
        )
    return Opened(opened.raw, because, opened.aside)


def _missing(raw: sqlite3.Connection) -> str:
    from tastebook.store.rows import Row

    for table in Row.metadata.sorted_tables:
        there = {name for _, name, *_ in raw.execute(f'PRAGMA table_info("{table.name}")')}
        for column in table.columns:
            if column.name not in there:
                return f"{table.name}.{column.name}"
    return ""


def _open_known(path: Path, clock: Clock, backups: Path, busy_ms: int, revision: str) -> Opened:
    raw = connect(path, "rw", busy_ms)
    try:
        _begin_and_take_back(raw)
    except sqlite3.Error as exc:
        raw.close()
        if not is_refusal(exc):
            raise
        return _open_refused(path, revision)
    if revision != HEAD:
        raw.close()
        from tastebook.store.migrate import upgrade

        upgrade(path, clock, backups)
        raw = connect(path, "rw", busy_ms)
    _use_wal(raw)
    return Opened(raw)


def _begin_and_take_back(raw: sqlite3.Connection) -> None:
    """Ask for the write lock and give it back: nothing is written, and a refusal shows now."""
    try:
        raw.execute("BEGIN IMMEDIATE")
    except sqlite3.OperationalError as exc:
        if not is_busy(exc):
            raise
    else:
        raw.execute("ROLLBACK")


def _open_refused(path: Path, revision: str) -> Opened:
    if revision != HEAD:
        raise JournalReadOnly(
            f"{path} was written by an older Tastebook and must be brought up to date before it can be read, but it "
            "may not be written. Copy it to a folder of yours and open the copy."
        )
    opened = _open_reading(path)
    because = f"{path} or its folder may not be written, so nothing can be kept. Open a copy in a folder of yours."
    return Opened(opened.raw, because, opened.aside)


def _open_unchanging(path: Path) -> Opened:
    """Open a file for one look.

    A journal without a write-ahead log beside it is complete in itself and open nowhere else: read as unchanging, it is
    left without a trace. With a log it is read as by any reader.
    """
    return _open_reading(path) if _has_wal(path) else Opened(connect(path, "ro&immutable=1"))


def _open_reading(path: Path) -> Opened:
    """Open a file without being able to change it, also where SQLite cannot make its shared-memory file beside it.

    Then a journal without a log is read as unchanging; with one, both files are copied aside and the copy is read, for
    the newest acts are in the log.
    """
    raw = connect(path, "ro")
    try:
        raw.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except sqlite3.OperationalError as exc:
        raw.close()
        if not is_refusal(exc):
            raise
        return _open_copy(path) if _has_wal(path) else Opened(connect(path, "ro&immutable=1"))
    return Opened(raw)


def _open_copy(path: Path) -> Opened:
    aside = Path(tempfile.mkdtemp(prefix="tastebook-"))
    for source in (path, wal_of(path)):
        shutil.copyfile(source, aside / source.name)
    return Opened(connect(aside / path.name, "rw"), aside=aside)


def _put_away(opened: Opened) -> None:
    opened.raw.close()
    if opened.aside is not None:
        shutil.rmtree(opened.aside, ignore_errors=True)


def _make(path: Path, busy_ms: int) -> None:
    """Make an empty journal, in one transaction: another window that does the same waits, and finds it made."""
    from tastebook.store.migrate import make_tables

    path.parent.mkdir(parents=True, exist_ok=True)
    raw = connect(path, "rwc", busy_ms)
    try:
        make_tables(raw)
    finally:
        raw.close()


def connect(path: Path, mode: str, busy_ms: int = 2000) -> sqlite3.Connection:
    """Return a connection whose transactions are all explicit."""
    raw = sqlite3.connect(
        f"{path.absolute().as_uri()}?mode={mode}",
        uri=True,
        timeout=busy_ms / 1000,
        isolation_level=None,
        check_same_thread=False,
    )
    raw.execute("PRAGMA foreign_keys = ON")
    raw.execute("PRAGMA synchronous = FULL")
    raw.execute("PRAGMA trusted_schema = OFF")
    return raw


def _use_wal(raw: sqlite3.Connection) -> None:
    # Some network folders have no shared memory: then SQLite keeps its rollback journal, which is as durable.
    (mode,) = raw.execute("PRAGMA journal_mode").fetchone()
    if mode != "wal":
        raw.execute("PRAGMA journal_mode = WAL").fetchone()


def wal_of(path: Path) -> Path:
    """Return the write-ahead log beside a journal."""
    return path.with_name(f"{path.name}-wal")


def _has_wal(path: Path) -> bool:
    wal = wal_of(path)
    return wal.exists() and wal.stat().st_size > 0


def identity(path: Path) -> tuple[int, int] | None:
    """Return what tells the file at `path` from any other, None if there is none."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino


def moved(path: Path) -> StoreError:
    """Return what to say when the file is not where it was opened."""
    return JournalReadOnly(
        f"{path} was moved, replaced or deleted while it was open. Nothing was kept. Put it back, or open it anew."
    )
