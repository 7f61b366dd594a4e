"""A whole program on a real journal file, with a clock to set: what a taster sits before."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from tastebook.domain.session import Tasting
from tastebook.presenters.bench.presenter import BenchPresenter
from tastebook.ui.bench.screen import BenchScreen
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.swatch_chart import SwatchChart
from tastebook.wiring.house import House, Place, house
from tastebook.wiring.program import Program
from tastebook.wiring.tour import Hands
from tests.fakes import FakeClock

CONTROL = Qt.KeyboardModifier.ControlModifier
ALT = Qt.KeyboardModifier.AltModifier


@dataclass
class Table:
    """The program, the clock, and two hands."""

    program: Program
    built: House
    clock: FakeClock
    hands: Hands
    folder: Path
    pictures: list[str] = field(default_factory=list)
    """What the user chooses when pictures are asked for."""

    @property
    def bench(self) -> BenchScreen:
        """Return the Bench that is open."""
        assert self.program.bench is not None
        return self.program.bench

    @property
    def presenter(self) -> BenchPresenter:
        """Return what the Bench is drawn from."""
        return self.bench.presenter

    @property
    def kept(self) -> Tasting:
        """Return the tasting as the journal has it."""
        return self.built.journal.tasting(self.presenter.desk.scope)

    def pedal(self) -> None:
        """Press Space with Ctrl, which pours even in the middle of a word."""
        self.clock.advance(1)
        self.hands.press(Qt.Key.Key_Space, CONTROL)

    def steep(self, seconds: float) -> None:
        """Water on, wait, pour."""
        self.pedal()
        self.clock.advance(seconds - 1)
        self.pedal()

    def step(self, place: int) -> None:
        """Choose a step by its place from the left, from 1."""
        self.hands.press(getattr(Qt.Key, f"Key_{place}"), ALT)

    def find(self, kind: type[QWidget], name: str = "") -> Any:
        """Return a visible widget of a kind, by accessible name."""
        return self.hands.find(kind, name)

    def chart(self) -> SwatchChart:
        """Return the chart of liquor colours."""
        chart: SwatchChart = self.hands.find(SwatchChart)
        return chart


@pytest.fixture
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Give the program a home of its own, and return it."""
    for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name.lower()))
    return tmp_path


@pytest.fixture
def table(own_folders: Path, themes: Themes) -> Iterator[Table]:
    """Return a program that has just been started on an empty journal."""
    clock = FakeClock()
    with house(Place(journal=own_folders / "mine.tastebook"), clock) as built:
        pictures: list[str] = []
        program = Program(
            built, themes, choose_place=lambda name: str(own_folders / name), choose_pictures=lambda: pictures
        )
        program.start()
        hands = Hands(program.window)
        program.window.activateWindow()
        hands.settle()
        yield Table(program, built, clock, hands, own_folders, pictures)
        program.window.close()
        hands.settle()
