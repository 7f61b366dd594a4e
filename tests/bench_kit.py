"""A lot, a session and a Bench to taste at, on fakes: what tests of tasting begin with."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from tastebook.domain.course import Course, course_from_table
from tastebook.domain.figures import Figures, figures_from_table
from tastebook.domain.lot import Lot
from tastebook.platform.pictures import PillowPictures
from tastebook.presenters.bench.counsel import Counsel
from tastebook.presenters.bench.photos import BenchPhotos
from tastebook.presenters.bench.presenter import BenchPresenter
from tastebook.services.brewing import Brewing
from tastebook.services.keeping import Keeping
from tastebook.services.photographs import Photographs
from tastebook.services.settings import Settings
from tastebook.services.shelf import Opening, Shelf
from tastebook.services.tasting import TastingDesk
from tastebook.services.words import Words
from tests.fakes import MORNING_UTC, FakeClock, FakeDrafts, FakeIds, FakeJournal
from tests.words import real_vocabulary


@cache
def shipped_courses() -> tuple[Course, ...]:
    """Return the courses that ship."""
    folder = files("tastebook.resources.courses")
    return tuple(
        course_from_table(tomllib.loads(one.read_text(encoding="utf-8")))
        for one in sorted(folder.iterdir(), key=lambda one: one.name)
        if one.name.endswith(".toml")
    )


@cache
def shipped_figures() -> Figures:
    """Return the figures that ship."""
    folder = files("tastebook.resources.figures")
    tables = [one for one in sorted(folder.iterdir(), key=lambda one: one.name) if one.name.endswith(".toml")]
    return figures_from_table(*(tomllib.loads(one.read_text(encoding="utf-8")) for one in tables))


@dataclass
class Kit:
    """Everything a test of tasting holds in its hands."""

    journal: FakeJournal
    clock: FakeClock
    keeping: Keeping
    words: Words
    shelf: Shelf
    desk: TastingDesk
    bench: BenchPresenter
    settings: Settings
    brewing: Brewing
    photographs: Photographs
    photos: BenchPhotos
    drafts: FakeDrafts

    def bench_at(self, desk: TastingDesk) -> BenchPresenter:
        """Return a Bench at another desk of the same journal."""
        counsel = Counsel(self.brewing, desk, lambda: self.settings)
        return BenchPresenter(desk, self.words, lambda: self.settings, counsel, self.drafts)

    def steep(self, seconds: float) -> None:
        """Water on, wait, pour."""
        self.press()
        self.clock.advance(seconds)
        self.bench.pedal()

    def press(self) -> None:
        """Press the pedal, with a second's pause before it."""
        self.clock.advance(1)
        self.bench.pedal()


def heron_ridge() -> Lot:
    """Return a lot of the demo scenario."""
    return Lot(
        uid="", name="Heron Ridge, spring roast", created_at_utc=MORNING_UTC, kind="oolong", form="ball",
        cultivar="Jin Xuan", garden="Heron Ridge", batch="24-017",
    )  # fmt: skip


def bench_kit(course: str = "gaiwan", lot: Lot | None = None, **settings: object) -> Kit:
    """Return a Bench at which a session has just begun."""
    journal, clock = FakeJournal(), FakeClock()
    keeping = Keeping(journal, clock, FakeIds())
    words = Words(real_vocabulary(), journal)
    keeping.follow(words.take)
    shelf = Shelf(keeping, shipped_courses)
    kept = shelf.add(lot or heron_ridge())
    session = shelf.begin(kept, Opening(course_key=course, leaf_g=6.5, volume_ml=110))
    desk = TastingDesk(keeping, words, session.uid)
    chosen = Settings(**settings)  # type: ignore[arg-type]
    brewing = Brewing(journal, shipped_figures, lambda: chosen)
    drafts = FakeDrafts()
    bench = BenchPresenter(desk, words, lambda: chosen, Counsel(brewing, desk, lambda: chosen), drafts)
    photographs = Photographs(keeping, PillowPictures, lambda: shipped_figures().value("porcelain_lightness"))
    photos = BenchPhotos(photographs, bench)
    return Kit(journal, clock, keeping, words, shelf, desk, bench, chosen, brewing, photographs, photos, drafts)
