"""What the services need from the outside, and what they promise to use it for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Literal, Protocol, TypeAlias

from tastebook.domain.act import Act
from tastebook.domain.course import Course
from tastebook.domain.finding import Found, Query
from tastebook.domain.kin import NotedCups
from tastebook.domain.lot import Lot
from tastebook.domain.session import Lab, OwnDescriptor, Session, Tasting
from tastebook.domain.steep import Instant

if TYPE_CHECKING:
    from tastebook.domain.photo_colour import Raster


class Clock(Protocol):
    """Time, as this machine knows it."""

    def now(self) -> Instant:
        """Return this moment on both clocks. The monotonic one counts the time of a sleeping machine."""
        ...

    def monotonic_s(self) -> float:
        """Return the monotonic clock alone."""
        ...

    def utc_now(self) -> datetime:
        """Return the wall clock, aware, in UTC."""
        ...

    def utc_offset_min(self, at_utc: datetime) -> int:
        """Return how many minutes local time is ahead of UTC at a moment."""
        ...


class Ids(Protocol):
    """Names for new records."""

    def new(self) -> str:
        """Return a name never given before, sorting by when it was given."""
        ...


@dataclass(frozen=True)
class SessionLine:
    """A session as the Shelf shows it: what was poured, and what it came to."""

    uid: str
    lot_uid: str
    started_at_utc: datetime
    utc_offset_min: int
    purpose: str
    is_open: bool
    infusions_poured: int
    liquors: tuple[tuple[int, Lab], ...]
    decision: str
    headline: str
    rest_until: str
    has_verdict: bool
    is_steeping: bool = False


@dataclass(frozen=True)
class LotLine:
    """A lot as the Shelf shows it, its sessions oldest first."""

    lot: Lot
    sessions: tuple[SessionLine, ...]


@dataclass(frozen=True)
class WordUse:
    """How often a word is noted in the journal.

    Parameters
    ----------
    descriptor : str
        The key under which it is kept.
    word : str
        It as it was said last.
    times, sessions : int
        How many impressions there are, in how many sessions.
    last_lot : str
        Name of the lot at which it was noted last.
    last_at_utc : datetime
        When that session began.
    utc_offset_min : int
        How far the clock there was ahead of UTC.
    """

    descriptor: str
    word: str
    times: int
    sessions: int
    last_lot: str
    last_at_utc: datetime
    utc_offset_min: int = 0


class Journal(Protocol):
    """The one place where everything is kept.

    Every method may raise a `StoreError`. Reading never waits for writing. `commit` returns only once the act would
    survive a power cut.
    """

    @property
    def read_only_because(self) -> str:
        """Return why nothing can be kept, empty if it can."""
        ...

    def shelf(self) -> tuple[LotLine, ...]:
        """Return every lot, newest first, with its sessions."""
        ...

    def lot(self, uid: str) -> Lot:
        """Return one lot."""
        ...

    def lots(self) -> tuple[Lot, ...]:
        """Return every lot, newest first."""
        ...

    def sessions(self) -> tuple[Session, ...]:
        """Return every session, oldest first."""
        ...

    def last_session(self) -> Session | None:
        """Return the session begun last."""
        ...

    def tasting(self, session_uid: str) -> Tasting:
        """Return a session with its lot and all its parts."""
        ...

    def steeping(self) -> tuple[str, ...]:
        """Return the uids of the sessions with leaf in water now."""
        ...

    def own_descriptors(self) -> tuple[OwnDescriptor, ...]:
        """Return the user's own words."""
        ...

    def words_noted(self) -> tuple[str, ...]:
        """Return the key of every word that is noted."""
        ...

    def word_use(self, descriptor: str) -> WordUse | None:
        """Return how often a word is noted, None if it is not."""
        ...

    def keep_picture(self, content: bytes) -> str:
        """Keep a picture as it came, and return the digest by which a photograph refers to it (`picture_digest`).

        The same picture is kept once. It stays when the photograph is taken away, so that this can be taken back.
        """
        ...

    def picture(self, digest: str) -> bytes:
        """Return a picture as it came."""
        ...

    def acts(self, scope: str) -> tuple[Act, ...]:
        """Return the acts of one session or lot, or of the vocabulary, oldest first."""
        ...

    def last_act(self) -> int:
        """Return the number of the newest act, 0 while there is none."""
        ...

    def acts_after(self, number: int) -> tuple[Act, ...]:
        """Return every act kept after one number, oldest first, whatever it concerns."""
        ...

    def commit(self, act: Act) -> None:
        """Keep an act, whole or not at all.

        Raises
        ------
        StaleAct
            If a record is no longer as the act found it.
        JournalFull, JournalBusy, JournalReadOnly
            If the disk, another program or the file's rights refuse it; then nothing was kept.
        """
        ...

    def find(self, query: Query, limit: int, offset: int = 0) -> Found:
        """Return one page of what is found: lots first, then what was recorded, each newest first.

        Any thread may ask; keeping an act does not wait for the answer.
        """
        ...

    def noted_cups(self, session_uid: str = "") -> NotedCups:
        """Return what was perceived in the infusions of each lot's newest tasting, and of one session more."""
        ...

    def outside_version(self) -> int:
        """Return a number that differs once another window or program has changed the journal."""
        ...


PictureFormat: TypeAlias = Literal["image/jpeg", "image/png"]
"""What pictures are saved as."""


@dataclass(frozen=True)
class PictureFacts:
    """What a picture is; width and height once it is upright."""

    media_type: str
    width: int
    height: int


class Pictures(Protocol):
    """What can be done with a picture's file.

    Every method may raise `PictureRefused`, with what is wrong with the file and what to do.
    """

    def load(self, path: Path) -> bytes:
        """Return what is in a picture's file."""
        ...

    def looked_at(self, content: bytes) -> PictureFacts:
        """Return what a picture is, after decoding all of it."""
        ...

    def raster(self, content: bytes, most_px: int) -> Raster:
        """Return a picture upright in sRGB, its longer side at most so many pixels."""
        ...

    def stripped(self, content: bytes, as_format: PictureFormat, most_px: int | None = None) -> bytes:
        """Return a picture as a new file that holds nothing but its pixels: not where, when or with what it was taken.

        It is upright and in sRGB; its longer side has at most `most_px` pixels, if that is given.
        """
        ...


class Courses(Protocol):
    """The courses that ship, and the user's own."""

    def all(self) -> tuple[Course, ...]:
        """Return every course that can be followed."""
        ...

    def refused(self) -> Sequence[str]:
        """Return, for each of the user's course files that cannot be followed, its name, line and reason."""
        ...
