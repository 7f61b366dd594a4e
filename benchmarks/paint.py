"""From an act of the taster's to the finished picture, at a full Bench while a steep runs.

`python benchmarks/paint.py [acts]`. The session has 20 infusions of 12 families each, on a real journal file; the
window is the real Bench at 1440 by 900. An act is kept, shown and painted before the next begins, as at a key press.
`QT_QPA_PLATFORM` holds as given, off-screen otherwise; `--profile` prints where the time goes instead.
"""

from __future__ import annotations

import argparse
import cProfile
import os
import pstats
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import cycle, pairwise
from pathlib import Path
from statistics import quantiles

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from PySide6.QtCore import QEvent, QObject  # noqa: E402
from PySide6.QtWidgets import QApplication  # noqa: E402

from tastebook.domain.liquor import chart  # noqa: E402
from tastebook.platform.pictures import PillowPictures  # noqa: E402
from tastebook.presenters.bench.counsel import Counsel  # noqa: E402
from tastebook.presenters.bench.photos import BenchPhotos  # noqa: E402
from tastebook.presenters.bench.presenter import BenchPresenter  # noqa: E402
from tastebook.services.brewing import Brewing  # noqa: E402
from tastebook.services.keeping import Keeping  # noqa: E402
from tastebook.services.photographs import Photographs  # noqa: E402
from tastebook.services.settings import Settings  # noqa: E402
from tastebook.services.shelf import Opening, Shelf  # noqa: E402
from tastebook.services.tasting import TastingDesk  # noqa: E402
from tastebook.services.words import Words  # noqa: E402
from tastebook.store.journal import open_journal  # noqa: E402
from tastebook.ui.bench.screen import BenchScreen  # noqa: E402
from tastebook.ui.theme.fonts import load_fonts  # noqa: E402
from tastebook.ui.theme.theme import Themes  # noqa: E402
from tests.bench_kit import heron_ridge, shipped_courses, shipped_figures  # noqa: E402
from tests.fakes import FakeClock, FakeDrafts, FakeIds  # noqa: E402
from tests.words import real_vocabulary  # noqa: E402

ACTS = 200
WARM_UP = 20
INFUSIONS = 20
GOAL_MS = 16
THEMES = ("paper", "lamp")
STEPS = {"strength": "flavour", "say": "flavour", "slider": "first_sip"}
PARTS = ("commit", "view", "show", "paint", "all")


@dataclass
class Full:
    """A Bench with everything on it."""

    presenter: BenchPresenter
    screen: BenchScreen
    clock: FakeClock
    words: list[str]


class Painted(QObject):
    """Notices that the Bench was painted: all that an act changed is painted at once, and the ground with it."""

    seen = False

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Look at an event and let it pass."""
        self.seen = self.seen or event.type() == QEvent.Type.Paint
        return False


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("acts", type=int, nargs="?", default=ACTS)
    parser.add_argument("--profile", action="store_true")
    given = parser.parse_args()
    app = QApplication(sys.argv[:1])
    load_fonts()
    with tempfile.TemporaryDirectory() as folder:
        full = full_bench(Path(folder), app)
        if given.profile:
            profile(full, app, given.acts)
        else:
            print_table(full, app, given.acts)
        full.screen.close()


# -- the Bench


def full_bench(folder: Path, app: QApplication) -> Full:
    """Return a Bench at which infusion 20 stands full and infusion 21 is in water."""
    clock = FakeClock()
    journal = open_journal(folder / "journal.tastebook", clock)
    keeping = Keeping(journal, clock, FakeIds())
    words = Words(real_vocabulary(), journal)
    keeping.follow(words.take)
    shelf = Shelf(keeping, shipped_courses)
    session = shelf.begin(shelf.add(heron_ridge()), Opening(leaf_g=6.5))
    desk = TastingDesk(keeping, words, session.uid)
    told = [words().in_family(family.key)[0].name for family in words().families if family.key]
    for index in range(INFUSIONS + 1):
        taste(desk, clock, index, told)
    counsel = Counsel(Brewing(journal, shipped_figures, Settings), desk, Settings)
    presenter = BenchPresenter(desk, words, Settings, counsel, FakeDrafts())
    presenter.pedal()  # on to infusion 21
    clock.advance(1)
    presenter.pedal()  # which is in water from now on
    presenter.type_plan("2:00")
    photos = BenchPhotos(Photographs(keeping, PillowPictures, lambda: 94.0), presenter)
    families = [(one.key, one.name) for one in words().families]
    screen = BenchScreen(Themes("paper", reduce_motion=True), presenter, photos, families)
    screen.resize(1440, 900)
    screen.show()
    app.processEvents()
    return Full(presenter, screen, clock, told)


def taste(desk: TastingDesk, clock: FakeClock, index: int, told: list[str]) -> None:
    """Steep one infusion and note something of every family."""
    course = desk.tasting.session.course
    desk.pour_water_on(index)
    clock.advance(20 + 2 * index)
    desk.pour()
    if index == 0:
        return
    desk.see_liquor(course.step("liquor"), index, chart()[index % 5][index % 9], "chart")
    strengths = [f"{word} {1 + (place + index) % 5}" for place, word in enumerate(told)]
    desk.say(course.step("flavour"), index, ", ".join(strengths))
    for scale in ("body", "grip", "huigan", "finish"):
        desk.read(course.step("first_sip"), index, scale, (index + len(scale)) % 6)
    clock.advance(30)


def acts_of(kind: str, full: Full) -> Iterator[Callable[[], None]]:
    """Yield acts of one kind without end, each of which changes something."""
    bench, vocabulary = full.presenter, real_vocabulary()
    keys = [found.key for word in full.words if (found := vocabulary.find(word))]
    for number, key in enumerate(cycle(keys)):
        strength = 1 + (number // len(keys) + number) % 5
        if kind == "strength":
            yield lambda key=key, strength=strength: bench.note(key, strength)
        elif kind == "say":
            yield lambda key=key, strength=strength: bench.say(f"{key.replace('-', ' ')} {strength}, no rose")
        else:
            yield lambda strength=strength: bench.read("body", strength)


# -- measuring


def timed_acts(kind: str, full: Full, app: QApplication, count: int) -> dict[str, list[float]]:
    """Return how long each act of one kind took, in ms, whole and in parts."""
    full.presenter.go_to(str(INFUSIONS))
    full.presenter.choose_step(STEPS[kind])
    full.screen.refresh()
    app.processEvents()
    times: dict[str, list[float]] = {part: [] for part in PARTS}
    painted, viewing = Painted(), Stopwatch()
    full.screen.installEventFilter(painted)
    view = full.presenter.view
    full.presenter.view = viewing.around(view)  # type: ignore[method-assign]
    acts = acts_of(kind, full)
    for number in range(WARM_UP + count):
        act = next(acts)
        full.clock.advance(0.05)
        painted.seen, viewing.ms = False, 0.0
        moments = [time.perf_counter()]
        act()
        moments.append(time.perf_counter())
        full.screen.refresh()
        moments.append(time.perf_counter())
        while not painted.seen:
            app.processEvents()
        moments.append(time.perf_counter())
        if number >= WARM_UP:
            commit, shown, paint = (1000 * (later - earlier) for earlier, later in pairwise(moments))
            took = (commit, viewing.ms, shown - viewing.ms, paint, commit + shown + paint)
            for part, ms in zip(PARTS, took, strict=True):
                times[part].append(ms)
    full.presenter.view = view  # type: ignore[method-assign]
    full.screen.removeEventFilter(painted)
    return times


class Stopwatch:
    """Adds up the time within one function."""

    ms = 0.0

    def around(self, function: Callable[[], object]) -> Callable[[], object]:
        """Return the function, timed."""

        def timed() -> object:
            began_s = time.perf_counter()
            try:
                return function()
            finally:
                self.ms += 1000 * (time.perf_counter() - began_s)

        return timed


def print_table(full: Full, app: QApplication, count: int) -> None:
    """Print medians and 99th percentiles, whole and in parts."""
    print(f"{INFUSIONS} infusions of {len(full.words)} families, {count} acts of each kind, ms on {app.platformName()}")
    print(f"{'':18}{'':>8}" + "".join(f"{part:>9}" for part in PARTS))
    worst = 0.0
    for theme in THEMES:
        themes = full.screen._themes
        themes.use(theme)  # type: ignore[arg-type]
        themes.apply_to(app)
        for kind in STEPS:
            times = timed_acts(kind, full, app, count)
            percents = {part: quantiles(ms, n=100, method="inclusive") for part, ms in times.items()}
            for name, place in (("p50", 49), ("p99", 98)):
                row = "".join(f"{percents[part][place]:9.2f}" for part in PARTS)
                print(f"{f'{theme}, {kind}' if name == 'p50' else '':18}{name:>8}{row}")
            worst = max(worst, percents["all"][98])
    print(f"goal: p99 at most {GOAL_MS} ms; worst {worst:.1f} ms")


def profile(full: Full, app: QApplication, count: int) -> None:
    """Print which functions take the time."""
    profiler = cProfile.Profile()
    profiler.enable()
    for kind in STEPS:
        timed_acts(kind, full, app, count)
    profiler.disable()
    pstats.Stats(profiler).sort_stats("tottime").print_stats(35)


if __name__ == "__main__":
    main()
