"""From a path to an open connection: whether it is a journal, whole, of which revision, and may be written.

Everything is looked at through connections that cannot write, so that a file that is refused stays as it is to the
byte. SQLAlchemy and Alembic are imported only where a journal is made or brought up to date.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Final, TypeAlias

from tastebook.domain.errors import JournalDamaged, JournalNewer, JournalReadOnly, NotAJournal
from tastebook.services.ports import Clock
from tastebook.store.backup import newest_backup
from tastebook.store.connecting import (
    Opened,
    close_file,
    connect,
    is_quiet,
    last_change,
    open_for_a_look,
    open_reading,
    use_log,
)
from tastebook.store.finding_tables import are_current, rebuild
from tastebook.store.schema import APPLICATION_ID, VERSION_TABLE, Revisions
from tastebook.store.trouble import (
    damage,
    is_busy,
    is_damage,
    is_full,
    is_refusal,
    is_something_else,
    something_else,
    trouble_of,
    trouble_of_file,
)

CHECK_UP_TO_BYTES: Final = 32 * 1024 * 1024
"""Journals up to this size are checked whole when they are opened; `tastebook check` does it for any."""

Watch: TypeAlias = Callable[[str, float | None], object]
"""Is told what is being done where that may take long, and the share that is done, None where nobody knows. What it
raises ends the work, and the file is as it was."""

COPYING: Final = "An earlier Tastebook wrote this journal. It is copied and brought up to date, once."
FINDABLE: Final = "Everything noted is made findable, once. Nothing recorded is changed."


def nobody_watches(words: str, share: float | None) -> None:
    """Take what is told, and do nothing."""


def open_file(
    path: Path, clock: Clock, backups: Path, busy_ms: int, revisions: Revisions, watch: Watch = nobody_watches
) -> Opened:
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
        if revision not in revisions.known:
            return _open_newer(path, revision, revisions)
        if revision != revisions.head:
            watch(COPYING, None)
            _bring_up_to_date(path, clock, backups, revisions)
        return _open_current(path, busy_ms, watch)
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
    if path.is_dir():
        raise NotAJournal(f"{path} is a folder, not a journal.")
    was = (is_quiet(path), last_change(path))
    try:
        return _look(path)
    except sqlite3.Error as exc:
        if not is_damage(exc):
            raise
        found = exc
    if was != (is_quiet(path), last_change(path)):
        return inspect(path, backups)  # Another window wrote while we looked.
    ending = f"It was left as it is.{way_out(path, backups)}"
    if is_something_else(found):
        raise NotAJournal(f"{path} is not a journal of Tastebook. {ending}") from found
    raise JournalDamaged(f"The journal {path} is damaged: {found}. {ending}") from found


def check_maker(raw: sqlite3.Connection, path: Path) -> None:
    """Refuse the file of another program."""
    (found,), (pages,) = raw.execute("PRAGMA application_id").fetchone(), raw.execute("PRAGMA page_count").fetchone()
    if pages == 0:
        raise something_else("a few bytes")  # SQLite takes less than a page for an empty file.
    if found != APPLICATION_ID:
        raise NotAJournal(f"{path} was made by another program. It was left as it is. Choose another file.")


def read_revision(raw: sqlite3.Connection) -> str:
    """Return the revision that the tables say they are."""
    try:
        row = raw.execute(f"SELECT version_num FROM {VERSION_TABLE}").fetchone()  # noqa: S608 - ours
    except sqlite3.OperationalError as exc:
        if "no such table" not in str(exc):
            raise
        row = None
    if row is None:
        raise damage("it does not say which revision it is")
    return str(row[0])


def _look(path: Path) -> str:
    opened = open_for_a_look(path)
    try:
        check_maker(opened.raw, path)
        revision = read_revision(opened.raw)
        _check_whole(opened.raw)
    finally:
        close_file(opened)
    return revision


def _check_whole(raw: sqlite3.Connection) -> None:
    """Look a file over, unless it is long; that its end is missing, SQLite notices by itself."""
    (pages,), (page_bytes,) = raw.execute("PRAGMA page_count").fetchone(), raw.execute("PRAGMA page_size").fetchone()
    if pages * page_bytes > CHECK_UP_TO_BYTES:
        return
    (finding,) = raw.execute("PRAGMA quick_check(1)").fetchone()
    if finding != "ok":
        raise damage(" ".join(str(finding).split()))


def way_out(path: Path, backups: Path) -> str:
    """Return where the newest backup copy is, empty if there is none."""
    copy = newest_backup(path, backups)
    return "" if copy is None else f" The newest backup copy is {copy}: open that one, or put it in place of this file."


def _open_newer(path: Path, revision: str, revisions: Revisions) -> Opened:
    """Open a later version's journal for reading, if what this version reads is in it."""
    opened = open_reading(path)
    because = (
        f"{path} was written by a later Tastebook (revision {revision}; this one knows {revisions.head}). "
        "It can be read here; to taste on, use the later version."
    )
    if missing := _missing(opened.raw):
        close_file(opened)
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


def _bring_up_to_date(path: Path, clock: Clock, backups: Path, revisions: Revisions) -> None:
    from tastebook.store.migrate import upgrade

    try:
        connect(path, "rw").close()
        upgrade(path, clock, backups, revisions)
    except sqlite3.Error as exc:
        if not (is_refusal(exc) or is_full(exc)):
            raise
        raise JournalReadOnly(
            f"{path} was written by an older Tastebook and must be brought up to date before it can be read, but it "
            "cannot be written. Copy it to a folder of yours with room enough, and open the copy."
        ) from exc


def _open_current(path: Path, busy_ms: int, watch: Watch) -> Opened:
    try:
        raw = _connect_writing(path, busy_ms)
    except sqlite3.Error as exc:
        if not (is_refusal(exc) or is_full(exc)):
            raise
        because = _NOT_WRITABLE if is_refusal(exc) else _DISK_FULL
        opened = open_reading(path)
        return Opened(opened.raw, because.format(path=path), opened.aside)
    try:
        use_log(raw)
        make_findable(raw, watch)
    except BaseException:
        raw.close()
        raise
    return Opened(raw)


def make_findable(raw: sqlite3.Connection, watch: Watch = nobody_watches) -> None:
    """Make the tables for finding anew if they are missing or of another version."""
    if are_current(raw):
        return
    raw.execute("BEGIN IMMEDIATE")
    try:
        if not are_current(raw):  # Another window may just have done so.
            rebuild(raw, lambda share: watch(FINDABLE, share))
        raw.execute("COMMIT")
    except BaseException:
        raw.rollback()
        raise


def _connect_writing(path: Path, busy_ms: int) -> sqlite3.Connection:
    """Return a connection that has asked for the write lock and given it back: a refusal shows now."""
    raw = connect(path, "rw", busy_ms)
    try:
        raw.execute("BEGIN IMMEDIATE")
        raw.execute("ROLLBACK")
    except sqlite3.Error as exc:
        if not is_busy(exc):  # Whoever holds the lock shows that the file may be written.
            raw.close()
            raise
    return raw


_NOT_WRITABLE: Final = (
    "{path} or its folder may not be written, so nothing can be kept. To taste on, open a copy in a folder of yours."
)
_DISK_FULL: Final = (
    "The disk that holds {path} is full, so nothing can be kept. Free some space, then open the journal again."
)


def _make(path: Path, busy_ms: int) -> None:
    """Make an empty journal, in one transaction: another window that does the same waits, and finds it made."""
    from tastebook.store.migrate import make_tables

    path.parent.mkdir(parents=True, exist_ok=True)
    raw = connect(path, "rwc", busy_ms)
    try:
        make_tables(raw)
    finally:
        raw.close()
