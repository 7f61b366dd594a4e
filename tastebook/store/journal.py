"""The journal on disk: one SQLite file, which fills the port that the services declare."""

from __future__ import annotations

import importlib
import sqlite3
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from tastebook.domain.act import Act
from tastebook.domain.errors import JournalDamaged, JournalReadOnly, StoreError
from tastebook.domain.finding import Found, Query
from tastebook.domain.kin import NotedCups
from tastebook.domain.lot import Lot
from tastebook.domain.session import OwnDescriptor, Session, Tasting
from tastebook.services.ports import Clock, LotLine, WordUse
from tastebook.store.backup import copy_to, folder_for, keep_copy
from tastebook.store.connecting import Opened, close_file, connect, identity, moved, open_reading
from tastebook.store.opening import Watch, make_findable, nobody_watches, open_file, way_out
from tastebook.store.schema import OURS, Revisions
from tastebook.store.shelf import (
    read_last_act,
    read_own_words,
    read_shelf,
    read_steeping,
    read_word_use,
    read_words_noted,
)
from tastebook.store.trouble import trouble_of

if TYPE_CHECKING:
    from tastebook.store.finding import Finder
    from tastebook.store.ledger import Ledger

T = TypeVar("T")

SUFFIX = ".tastebook"
BUSY_MS = 2000


def open_journal(
    path: Path,
    clock: Clock,
    *,
    backups: Path | None = None,
    busy_ms: int = BUSY_MS,
    revisions: Revisions = OURS,
    watch: Watch = nobody_watches,
) -> SqliteJournal:
    """Open the journal at `path`, making it if there is none.

    Parameters
    ----------
    backups : Path or None
        Where dated copies are kept, by default the folder `backups` beside the journal.
    busy_ms : int
        How long to wait for another window to finish writing, in milliseconds.
    revisions : Revisions
        Of the tables; other than ours in tests.
    watch : callable
        Told what is being done where that may take long, see `opening.Watch`.

    Raises
    ------
    NotAJournal, JournalDamaged, JournalNewer, JournalReadOnly, JournalFull, JournalBusy
        What is wrong and what to do; the file stays as it was.
    """
    folder = backups or folder_for(path)
    return SqliteJournal(path, open_file(path, clock, folder, busy_ms, revisions, watch), clock, folder)


class SqliteJournal:
    """Fills the `Journal` port over one connection. It may be used from several threads, one call at a time.

    SQLAlchemy is loaded at the first call that needs it; `warm_up` does so at a time of the caller's choosing.
    """

    def __init__(self, path: Path, opened: Opened, clock: Clock, backups: Path) -> None:
        self.path = path
        self.backups = backups
        self._opened = opened
        self._raw = opened.raw
        self._clock = clock
        self._identity = identity(path)
        self._lock = threading.RLock()
        self._finding_lock = threading.RLock()
        self._ledger: Ledger | None = None
        self._finder: Finder | None = None

    @property
    def read_only_because(self) -> str:
        """Return why nothing can be kept, empty if it can."""
        return self._opened.read_only_because

    def warm_up(self) -> None:
        """Load what the first commit needs, so that it need not wait. Another thread may do this meanwhile."""
        importlib.import_module("tastebook.store.ledger")  # Before the lock is taken: nobody waits for it.
        with self._telling() as ledger:
            ledger.last_session()

    def shelf(self) -> tuple[LotLine, ...]:
        """Return every lot, newest first, with its sessions."""
        with self._telling_plainly():
            self._raw.execute("BEGIN")
            try:
                return read_shelf(self._raw)
            finally:
                self._raw.rollback()

    def lot(self, uid: str) -> Lot:
        """Return one lot."""
        with self._telling() as ledger:
            return ledger.lot(uid)

    def lots(self) -> tuple[Lot, ...]:
        """Return every lot, newest first."""
        with self._telling() as ledger:
            return ledger.lots()

    def sessions(self) -> tuple[Session, ...]:
        """Return every session, oldest first."""
        with self._telling() as ledger:
            return ledger.sessions()

    def last_session(self) -> Session | None:
        """Return the session begun last."""
        with self._telling() as ledger:
            return ledger.last_session()

    def tasting(self, session_uid: str) -> Tasting:
        """Return a session with its lot and all its parts."""
        with self._telling() as ledger:
            return ledger.tasting(session_uid)

    def steeping(self) -> tuple[str, ...]:
        """Return the uids of the sessions with leaf in water now."""
        with self._telling_plainly():
            return read_steeping(self._raw)

    def own_descriptors(self) -> tuple[OwnDescriptor, ...]:
        """Return the user's own words, oldest first."""
        with self._telling_plainly():
            return read_own_words(self._raw)

    def words_noted(self) -> tuple[str, ...]:
        """Return the key of every word that is noted."""
        with self._telling_plainly():
            return read_words_noted(self._raw)

    def word_use(self, descriptor: str) -> WordUse | None:
        """Return how often a word is noted, None if it is not."""
        with self._telling_plainly():
            return read_word_use(self._raw, descriptor)

    def keep_picture(self, content: bytes) -> str:
        """Keep a picture as it came, and return its digest; it is on the disk when this returns."""
        if self.read_only_because:
            raise JournalReadOnly(self.read_only_because)
        with self._telling() as ledger:
            return ledger.keep_picture(content)

    def picture(self, digest: str) -> bytes:
        """Return a picture as it came.

        Raises
        ------
        StoreError, JournalDamaged
            If there is none, or if it is no longer what was kept.
        """
        with self._telling() as ledger:
            return ledger.picture(digest)

    def acts(self, scope: str) -> tuple[Act, ...]:
        """Return the acts of one session or lot, oldest first."""
        with self._telling() as ledger:
            return ledger.acts(scope)

    def last_act(self) -> int:
        """Return the number of the newest act, 0 while there is none."""
        with self._telling_plainly():
            return read_last_act(self._raw)

    def acts_after(self, number: int) -> tuple[Act, ...]:
        """Return every act kept after one number, oldest first, whatever it concerns."""
        with self._telling() as ledger:
            return ledger.acts_after(number)

    def commit(self, act: Act) -> None:
        """Keep an act, whole or not at all; it is on the disk when this returns."""
        if self.read_only_because:
            raise JournalReadOnly(self.read_only_because)
        with self._telling() as ledger:
            ledger.commit(act)

    def find(self, query: Query, limit: int, offset: int = 0) -> Found:
        """Return one page of what is found: lots first, then what was recorded, each newest first.

        Raises
        ------
        StoreError
            If the journal cannot be searched.
        """
        return self._found(lambda finder: finder.find(query, limit, offset))

    def noted_cups(self, session_uid: str = "") -> NotedCups:
        """Return what was perceived in the infusions of each lot's newest tasting, and of one session more."""
        return self._found(lambda finder: finder.noted_cups(session_uid))

    def outside_version(self) -> int:
        """Return a number that differs once another window or program has changed the journal."""
        with self._telling_plainly():
            (version,) = self._raw.execute("PRAGMA data_version").fetchone()
            return int(version)

    def backup_to(self, target: Path) -> None:
        """Copy the journal to `target`, whole or not at all; it may be written meanwhile."""
        with self._telling_plainly():
            copy_to(self._raw, target)

    def keep_backup(self, folder: Path | None = None, keep: int = 10) -> Path | None:
        """Make a dated copy if the newest is older than a day, and keep the newest `keep`; return the copy, if made.

        It is made over a connection of its own: photographs make a journal large, and nobody waits meanwhile.
        """
        now_utc = self._clock.utc_now()
        try:
            opened = open_reading(self.path)
        except (sqlite3.Error, OSError) as exc:
            raise StoreError(f"{self.path} could not be read for a copy: {exc}.") from exc
        try:
            return keep_copy(opened.raw, self.path, folder or self.backups, now_utc, keep)
        finally:
            close_file(opened)

    def close(self) -> None:
        """Let the file go; closing twice is no error."""
        with self._finding_lock, self._lock:
            if self._finder is not None and self._finder.raw is not self._raw:
                self._finder.raw.close()
            close_file(self._opened)

    def _check_in_place(self) -> None:
        """Refuse to write to a file that is no longer where the user would look for it."""
        if identity(self.path) != self._identity:
            raise moved(self.path)

    @contextmanager
    def _telling(self) -> Iterator[Ledger]:
        with self._telling_plainly():
            if self._ledger is None:
                from tastebook.store.ledger import Ledger

                self._ledger = Ledger(self._raw, self._check_in_place)
            yield self._ledger

    def _found(self, ask: Callable[[Finder], T]) -> T:
        """Ask over the connection for finding, which is another one, so that no commit waits for a search."""
        from tastebook.store.finding import NotFindable

        with self._finding_lock, self._translating():
            if self._finder is None:
                self._finder = self._open_finder()
            if self._finder.raw is self._raw:
                with self._lock:
                    return ask(self._finder)
            try:
                return ask(self._finder)
            except NotFindable:  # A window of another version keeps acts in the same journal.
                self._make_findable()
                return ask(self._finder)

    def _make_findable(self) -> None:
        """Make the tables for finding over a connection of their own: reading, meanwhile, waits for nothing."""
        raw = connect(self.path, "rw", BUSY_MS)
        try:
            make_findable(raw)
        finally:
            raw.close()

    def _open_finder(self) -> Finder:
        from tastebook.store.finding import Finder

        if self.read_only_because:
            return Finder(self._raw)
        return Finder(connect(self.path, "ro"))

    @contextmanager
    def _telling_plainly(self) -> Iterator[None]:
        """Hold the connection for one call, and say in our words what SQLite reports."""
        with self._lock, self._translating():
            yield

    @contextmanager
    def _translating(self) -> Iterator[None]:
        """Say in our words what SQLite reports."""
        try:
            yield
        except sqlite3.ProgrammingError as exc:
            raise StoreError(f"{self.path} is no longer open.") from exc
        except sqlite3.Error as exc:
            trouble = trouble_of(exc, self.path)
            raise self._with_way_out(trouble) if isinstance(trouble, JournalDamaged) else trouble from exc
        except JournalDamaged as exc:
            raise self._with_way_out(exc) from exc

    def _with_way_out(self, exc: JournalDamaged) -> JournalDamaged:
        return JournalDamaged(f"{exc} The journal is {self.path}.{way_out(self.path, self.backups)}")
