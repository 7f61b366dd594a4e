"""Copies of a journal, made by SQLite's own backup: copying the file of a journal in use loses what is in its log."""

from __future__ import annotations

import os
import sqlite3
import tempfile
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

from tastebook.domain.errors import StoreError
from tastebook.store.trouble import trouble_of, trouble_of_file

STAMP: Final = "%Y%m%dT%H%M%SZ"
A_DAY: Final = timedelta(days=1)
MOST_BYTES: Final = 4_000_000_000
"""Of all dated copies together: photographs make a journal large, and a full disk keeps nothing."""
LEAST_COPIES: Final = 3
PART: Final = ".part"


def folder_for(path: Path) -> Path:
    """Return where dated copies of a journal are kept if nobody says otherwise: beside it."""
    return path.parent / "backups"


def copy_to(raw: sqlite3.Connection, target: Path) -> None:
    """Copy the journal behind a connection to `target`, whole or not at all; a file there is replaced.

    Raises
    ------
    JournalFull, JournalReadOnly, StoreError
        If the copy could not be made; what was at `target` is still there.
    """
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(prefix=f".{target.name}-", suffix=PART, dir=target.parent)
        os.close(handle)
        part = Path(name)
        try:
            _copy(raw, part)
            part.replace(target)
        finally:
            part.unlink(missing_ok=True)
        _sync_folder(target.parent)
    except sqlite3.Error as exc:
        raise trouble_of(exc, target) from exc
    except OSError as exc:
        raise trouble_of_file(exc, target) from exc


def keep_copy(
    raw: sqlite3.Connection, path: Path, folder: Path, now_utc: datetime, keep: int, most_bytes: int = MOST_BYTES
) -> Path | None:
    """Make a dated copy in `folder` if the newest one is older than a day, and keep the newest `keep`, at least 1.

    Of large copies fewer are kept, at least three: as many as `most_bytes` hold.

    Returns
    -------
    Path or None
        The copy, None if the newest is young enough.
    """
    # A clock that was set back must not stop copies until it has caught up: one of about now counts, a later one not.
    if any(abs(now_utc - _made_at(copy)) < A_DAY for copy in copies_of(path, folder)):
        return None
    target = folder / f"{path.stem}-{now_utc.strftime(STAMP)}{path.suffix}"
    copy_to(raw, target)
    others = [copy for copy in copies_of(path, folder) if copy != target]
    for old in others[: -(keep - 1) or None]:
        old.unlink(missing_ok=True)
    _make_room(path, folder, target, most_bytes)
    return target


def _make_room(path: Path, folder: Path, target: Path, most_bytes: int) -> None:
    """Give up the oldest copies, all but a few, while all of them together are too large."""
    others = [copy for copy in copies_of(path, folder) if copy != target]
    while len(others) >= LEAST_COPIES and sum(copy.stat().st_size for copy in (*others, target)) > most_bytes:
        others.pop(0).unlink(missing_ok=True)


def newest_backup(path: Path, folder: Path) -> Path | None:
    """Return the newest dated copy of the journal at `path`."""
    return next(reversed(copies_of(path, folder)), None)


def copies_of(path: Path, folder: Path) -> list[Path]:
    """Return the dated copies of the journal at `path`, oldest first."""
    if not folder.is_dir():
        return []
    named = folder.glob(f"*{path.suffix}")
    return sorted(one for one in named if one.name.startswith(f"{path.stem}-") and _is_dated(one, path))


def _is_dated(copy: Path, path: Path) -> bool:
    try:
        _read_stamp(copy.stem.removeprefix(f"{path.stem}-"))
    except ValueError:
        return False
    return True


def _made_at(copy: Path) -> datetime:
    return _read_stamp(copy.stem.rpartition("-")[2])


def _read_stamp(text: str) -> datetime:
    return datetime.strptime(text, STAMP).replace(tzinfo=UTC)


def _copy(raw: sqlite3.Connection, part: Path) -> None:
    copy = sqlite3.connect(part, isolation_level=None)
    try:
        copy.execute("PRAGMA synchronous = FULL")
        raw.backup(copy)
        # A copy is one file that can be handed on: no log beside it.
        copy.execute("PRAGMA journal_mode = DELETE").fetchone()
        (finding,) = copy.execute("PRAGMA quick_check(1)").fetchone()
    finally:
        copy.close()
    if finding != "ok":
        raise StoreError(f"The copy is not whole ({finding}), so it was not kept.")


def _sync_folder(folder: Path) -> None:
    if os.name == "nt":
        return  # Windows has no handle on a folder to flush.
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
