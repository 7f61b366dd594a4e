"""SQLite's error codes as errors of ours, which say what was wrong and what to do."""

from __future__ import annotations

import errno
import sqlite3
from pathlib import Path
from typing import Final

from tastebook.domain.errors import (
    JournalBusy,
    JournalDamaged,
    JournalFull,
    JournalReadOnly,
    NotAJournal,
    StoreError,
)

# The primary codes of https://www.sqlite.org/rescode.html; `sqlite3` names them all since Python 3.11.
_BUSY: Final = {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}
_DAMAGED: Final = {sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_FORMAT}
_REFUSED: Final = {sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_AUTH}
_READING: Final = {
    sqlite3.SQLITE_IOERR_READ,
    sqlite3.SQLITE_IOERR_SHORT_READ,
    sqlite3.SQLITE_IOERR_CORRUPTFS,
}
_CONFLICTS: Final = {
    sqlite3.SQLITE_CONSTRAINT_FOREIGNKEY,
    sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY,
    sqlite3.SQLITE_CONSTRAINT_UNIQUE,
}


def is_refusal(exc: sqlite3.Error) -> bool:
    """Say whether the file or its folder may not be written."""
    return _primary(exc) in _REFUSED


def is_damage(exc: sqlite3.Error) -> bool:
    """Say whether the content of the file makes no sense."""
    return _primary(exc) in _DAMAGED | {sqlite3.SQLITE_NOTADB} or _code(exc) in _READING


def is_something_else(exc: sqlite3.Error) -> bool:
    """Say whether the file does not even begin as SQLite's files do."""
    return _primary(exc) == sqlite3.SQLITE_NOTADB


def damage(finding: str) -> sqlite3.DatabaseError:
    """Return the error for damage that we found and SQLite did not, as if it had."""
    return _as_if(sqlite3.SQLITE_CORRUPT, finding)


def something_else(finding: str) -> sqlite3.DatabaseError:
    """Return the error for a file that we found to be no journal and SQLite did not, as if it had."""
    return _as_if(sqlite3.SQLITE_NOTADB, finding)


def _as_if(code: int, finding: str) -> sqlite3.DatabaseError:
    exc = sqlite3.DatabaseError(finding)
    exc.sqlite_errorcode = code
    return exc


def is_busy(exc: sqlite3.Error) -> bool:
    """Say whether another connection holds the file."""
    return _primary(exc) in _BUSY


def is_full(exc: sqlite3.Error) -> bool:
    """Say whether the disk takes no more, or nothing at all."""
    return _primary(exc) in {sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR} and not is_damage(exc)


def is_conflict(exc: sqlite3.Error) -> bool:
    """Say whether a record is there already, or one that is referred to is not."""
    return _code(exc) in _CONFLICTS


def trouble_of(exc: sqlite3.Error, path: Path) -> StoreError:
    """Return the error of ours that says what SQLite's means for the journal at `path`."""
    primary = _primary(exc)
    if primary == sqlite3.SQLITE_FULL:
        return full(path)
    if primary in _BUSY:
        return JournalBusy(
            f"Another window or program is writing to {path} and did not finish in time. Nothing was kept: try again."
        )
    if primary == sqlite3.SQLITE_NOTADB:
        return NotAJournal(f"{path} is not a journal of Tastebook. It was left as it is.")
    if is_damage(exc):
        return JournalDamaged(f"The journal is damaged: {exc}. Nothing was kept.")
    if primary == sqlite3.SQLITE_IOERR:
        return JournalFull(
            f"The disk refused to take what was written to {path} ({exc}). Nothing was kept. "
            "See whether the disk is full or failing, then try again."
        )
    if primary in _REFUSED:
        return JournalReadOnly(
            f"{path} may not be written ({exc}). Nothing was kept. "
            "See whether the file, its folder or the disk is set to read only."
        )
    return StoreError(f"{path} could not be read or written: {exc}.")


def full(path: Path) -> JournalFull:
    """Return what to say when the disk is full."""
    return JournalFull(
        f"The disk that holds {path} is full. Nothing of this act was kept; everything before it is safe. "
        "Free some space, then try again."
    )


def trouble_of_file(exc: OSError, path: Path) -> StoreError:
    """Return the error of ours for what the system said about the file at `path`."""
    if exc.errno in {errno.ENOSPC, errno.EDQUOT}:
        return full(path)
    if exc.errno in {errno.EROFS, errno.EACCES, errno.EPERM}:
        return JournalReadOnly(
            f"{path} may not be written: {exc.strerror}. Choose another folder or change its rights."
        )
    return StoreError(f"{path} could not be read or written: {exc.strerror or exc}.")


def _code(exc: sqlite3.Error) -> int:
    # Errors that the sqlite3 module raises by itself, such as for a closed connection, carry no code.
    return int(getattr(exc, "sqlite_errorcode", sqlite3.SQLITE_ERROR))


def _primary(exc: sqlite3.Error) -> int:
    return _code(exc) & 0xFF
