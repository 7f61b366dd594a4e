"""Everything below the screen, built once by constructor, and let go in order."""

from __future__ import annotations

import sys
import tempfile
import tomllib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Final, TypeAlias

from tastebook.domain.errors import TastingError
from tastebook.domain.lot import Lot
from tastebook.domain.session import Session, Tasting
from tastebook.platform.cautions import load_cautions
from tastebook.platform.clock import SystemClock
from tastebook.platform.courses import CourseFiles
from tastebook.platform.draft_file import JsonDrafts
from tastebook.platform.figures import FigureFiles
from tastebook.platform.folders import Folders, folders_of_this_machine
from tastebook.platform.ids import TimeIds
from tastebook.platform.settings_file import JsonSettingsFile
from tastebook.platform.wordlists import load_vocabulary
from tastebook.services.brewing import Brewing
from tastebook.services.finding import Finding
from tastebook.services.keeping import Keeping
from tastebook.services.lexicon import Lexicon
from tastebook.services.photographs import Photographs
from tastebook.services.ports import Clock, Pictures
from tastebook.services.settings import Paper, Preferences, Settings
from tastebook.services.shelf import Shelf
from tastebook.services.words import Words
from tastebook.store.journal import SqliteJournal, open_journal
from tastebook.store.opening import Watch

DEMO: Final = "scenario.toml"
LAST: Final = "last"


@dataclass(frozen=True)
class Place:
    """Which journal to work on."""

    journal: Path | None = None
    is_demo: bool = False


@dataclass(frozen=True)
class House:
    """Everything below the screen, built once."""

    folders: Folders
    clock: Clock
    journal: SqliteJournal
    keeping: Keeping
    words: Words
    lexicon: Lexicon
    courses: CourseFiles
    shelf: Shelf
    finding: Finding
    preferences: Preferences
    figures: FigureFiles
    brewing: Brewing
    photographs: Photographs
    drafts: JsonDrafts

    def settings(self) -> Settings:
        """Return the settings in force."""
        return self.preferences.current

    def page(self, session_uid: str, paper: Paper | None = None) -> bytes:
        """Return the page of a session as a PDF."""
        from tastebook.press.session_pdf import set_session_page
        from tastebook.reports.page import session_page
        from tastebook.reports.page_photos import page_photos

        tasting = self.journal.tasting(session_uid)
        page = session_page(
            tasting,
            self.words(),
            self.clock.now(),
            follows=self._followed(tasting),
            cautions=load_cautions(),
            estimates=self.brewing.estimates(tasting),
            photos=page_photos(tasting, self.photographs) if tasting.photos else None,
        )
        return set_session_page(page, paper or self.preferences.current.paper)

    def _followed(self, tasting: Tasting) -> Lot | None:
        follows = tasting.lot.follows
        return self.journal.lot(follows) if follows else None

    def session_called(self, name: str) -> Session:
        """Return the session whose name begins with `name`, or the newest for “last”.

        Raises
        ------
        TastingError
            If there is none, or more than one.
        """
        sessions = self.journal.sessions()
        if name == LAST and sessions:
            return sessions[-1]
        found = [one for one in sessions if one.uid == name] or [one for one in sessions if one.uid.startswith(name)]
        if len(found) != 1:
            trouble = "No session is" if not found else f"{len(found)} sessions are"
            raise TastingError(f"{trouble} called “{name}”. `tastebook sessions` lists them all.")
        return found[0]


Opening: TypeAlias = Callable[[Watch], SqliteJournal]
Patience: TypeAlias = Callable[[Opening], SqliteJournal]
"""Opens the journal, and shows what is being done where that takes long."""


def told_in_the_terminal(opening: Opening) -> SqliteJournal:
    """Open the journal, and print what is being done where somebody sees it."""
    last = ""

    def watch(words: str, share: float | None) -> None:
        nonlocal last
        line = words if share is None else f"{words} {share:.0%}"
        if line != last and sys.stderr.isatty():
            print(f"\r\x1b[K{line}", end="" if share is not None and share < 1 else "\n", file=sys.stderr, flush=True)
        last = line

    return opening(watch)


@contextmanager
def house(place: Place, clock: Clock | None = None, patience: Patience = told_in_the_terminal) -> Iterator[House]:
    """Build the house on a journal, and let the journal go afterwards."""
    with tempfile.TemporaryDirectory(prefix="tastebook-demo-") as temporary:
        yield from _built(place, clock or SystemClock(), Path(temporary), patience)


def _built(place: Place, clock: Clock, temporary: Path, patience: Patience) -> Iterator[House]:
    folders = folders_of_this_machine()
    path = place.journal or (temporary / "demo.tastebook" if place.is_demo else folders.journal)
    path.parent.mkdir(parents=True, exist_ok=True)
    backups = _backups(place, folders, path)
    journal = patience(lambda watch: open_journal(path, clock, backups=backups, watch=watch))
    try:
        yield _furnished(folders, clock, journal, JsonDrafts(path))
    finally:
        journal.close()


def _backups(place: Place, folders: Folders, path: Path) -> Path:
    """Return where safe copies go: the platform's folder for one's own journal, else beside the file."""
    return path.parent / "backups" if place.journal or place.is_demo else folders.backups


def _furnished(folders: Folders, clock: Clock, journal: SqliteJournal, drafts: JsonDrafts) -> House:
    keeping = Keeping(journal, clock, TimeIds(clock))
    words = Words(load_vocabulary(), journal)
    keeping.follow(words.take)
    courses = CourseFiles(folders.courses)
    shelf = Shelf(keeping, courses.all)
    finding = Finding(journal, words, shelf.today)
    keeping.follow(finding.take)
    preferences = Preferences(JsonSettingsFile(folders.settings, clock))
    figures = FigureFiles(folders.figures)
    brewing = Brewing(journal, figures, lambda: preferences.current)
    lexicon = Lexicon(keeping, words)
    photographs = Photographs(keeping, _pictures, lambda: figures().value("porcelain_lightness"))
    return House(
        folders, clock, journal, keeping, words, lexicon, courses, shelf, finding, preferences, figures, brewing,
        photographs, drafts,
    )  # fmt: skip


@cache
def _pictures() -> Pictures:
    from tastebook.platform.pictures import PillowPictures

    return PillowPictures()


def fill_with_demo(built: House, *, without_tour: bool = False) -> None:
    """Play the invented scenario into an empty journal."""
    from tastebook.services.rehearsal import Rehearsal

    if built.journal.lots():
        return
    scenario = tomllib.loads((files("tastebook.demo") / DEMO).read_text(encoding="utf-8"))
    Rehearsal(built.journal, built.words(), built.courses.all(), scenario).play(without_tour=without_tour)
    built.keeping.take_as_known()
