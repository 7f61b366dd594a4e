"""Connections to a journal's file: for writing, and for reading without leaving a trace.

The file is never opened but through SQLite: on POSIX systems, closing any other handle on it would let go of the locks
of every journal that this process holds open there (https://www.sqlite.org/howtocorrupt.html, section 2.2).
"""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from tastebook.domain.errors import JournalReadOnly, StoreError
from tastebook.store.trouble import is_busy, is_full, is_refusal

SETTINGS: Final = ("PRAGMA foreign_keys = ON", "PRAGMA synchronous = FULL", "PRAGMA trusted_schema = OFF")


@dataclass(frozen=True)
class Opened:
    """A connection, and why it only reads (empty if it writes)."""

    raw: sqlite3.Connection
    read_only_because: str = ""
    aside: Path | None = None
    """The folder of a copy that had to be made in order to read, to be removed in the end."""


def connect(path: Path, mode: str, busy_ms: int = 2000) -> sqlite3.Connection:
    """Return a connection whose transactions are all explicit."""
    raw = sqlite3.connect(
        f"{path.absolute().as_uri()}?mode={mode}",
        uri=True,
        timeout=busy_ms / 1000,
        isolation_level=None,
        check_same_thread=False,
    )
    try:
        for setting in SETTINGS:
            raw.execute(setting)
    except sqlite3.Error:
        raw.close()
        raise
    return raw


def use_log(raw: sqlite3.Connection) -> None:
    """Let commits go to a write-ahead log, so that reading never waits for them."""
    # Some network folders have no shared memory: then SQLite keeps its rollback journal, which is as durable.
    (mode,) = raw.execute("PRAGMA journal_mode").fetchone()
    if mode == "wal":
        return
    try:
        raw.execute("PRAGMA journal_mode = WAL").fetchone()
    except sqlite3.OperationalError as exc:
        if not is_busy(exc):
            raise  # Another window is reading just now: whoever opens it next switches.


def open_for_a_look(path: Path) -> Opened:
    """Open a file for one look; where it is complete in itself, without leaving a trace beside it."""
    return Opened(connect(path, "ro&immutable=1")) if is_quiet(path) else open_reading(path)


def open_reading(path: Path) -> Opened:
    """Open a file without being able to change it, also where SQLite cannot make its shared-memory file beside it.

    Then a journal without a log is read as unchanging; with one, both files are copied aside and the copy is read, for
    the newest acts are in the log.
    """
    try:
        return Opened(_connect_reading(path))
    except sqlite3.Error as exc:
        if not (is_refusal(exc) or is_full(exc)):
            raise
    return _open_copy(path) if has_log(path) else Opened(connect(path, "ro&immutable=1"))


def _connect_reading(path: Path) -> sqlite3.Connection:
    raw = connect(path, "ro")
    try:
        raw.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except sqlite3.Error:
        raw.close()
        raise
    return raw


def _open_copy(path: Path) -> Opened:
    aside = Path(tempfile.mkdtemp(prefix="tastebook-"))
    try:
        for source in (path, log_of(path)):
            shutil.copyfile(source, aside / source.name)
        return Opened(connect(aside / path.name, "rw"), aside=aside)
    except (OSError, sqlite3.Error):
        shutil.rmtree(aside, ignore_errors=True)
        raise


def close_file(opened: Opened) -> None:
    """Close the connection, and remove the copy if one was made."""
    opened.raw.close()
    if opened.aside is not None:
        shutil.rmtree(opened.aside, ignore_errors=True)


def is_quiet(path: Path) -> bool:
    """Say whether the file is complete in itself: nothing beside it that belongs to it."""
    return not has_log(path) and not path.with_name(f"{path.name}-journal").exists()


def last_change(path: Path) -> tuple[int, int]:
    """Return what is different once the file was written."""
    found = path.stat()
    return found.st_mtime_ns, found.st_size


def log_of(path: Path) -> Path:
    """Return the write-ahead log beside a journal."""
    return path.with_name(f"{path.name}-wal")


def has_log(path: Path) -> bool:
    """Say whether there are commits that are not yet in the file itself."""
    log = log_of(path)
    return log.exists() and log.stat().st_size > 0


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
