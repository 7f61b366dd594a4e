"""A tasting that plays itself through the window: every word typed, every key pressed, as a taster would."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from tastebook.platform import machine
from tastebook.services.rehearsal import COOLING_S, LOOKING_S, NOTING_S, ScriptedClock, opening_from_row
from tastebook.ui.bench.screen import BenchScreen
from tastebook.ui.widgets.scale_slider import ScaleSlider
from tastebook.ui.widgets.swatch_chart import SwatchChart
from tastebook.wiring.house import House
from tastebook.wiring.program import Program, application

SHOWN_STEEP: Final = 4
SHOWN_AT_S: Final = 27
STILL_AFTER_MS: Final = 500
"""Every movement on screen has ended by then."""
DIGITS: Final = tuple(getattr(Qt.Key, f"Key_{digit}") for digit in range(6))


class Hands:
    """Keys and a finger at one window."""

    def __init__(self, window: QWidget) -> None:
        self.window = window

    def settle(self) -> None:
        """Let the window draw and answer."""
        QApplication.processEvents()

    def press(self, key: Qt.Key, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        """Press a key wherever the keyboard is."""
        QTest.keyClick(QApplication.focusWidget() or self.window, key, modifier)
        self.settle()

    def write(self, words: str) -> None:
        """Type words wherever the keyboard is."""
        QTest.keyClicks(QApplication.focusWidget() or self.window, words)
        self.settle()

    def say(self, words: str) -> None:
        """Type words and take them with Enter."""
        self.write(words)
        self.press(Qt.Key.Key_Return)

    def tap(self, widget: QWidget) -> None:
        """Touch the middle of a widget."""
        QTest.mouseClick(widget, Qt.MouseButton.LeftButton)
        self.settle()

    def find(self, kind: type[QWidget], name: str = "") -> Any:
        """Return the first visible widget of a kind, by accessible name where one is given.

        Raises
        ------
        LookupError
            If there is none.
        """
        for widget in self.window.findChildren(kind):
            if widget.isVisible() and name in widget.accessibleName():
                return widget
        raise LookupError(f"no {kind.__name__} called “{name}” is to be seen")


class Tour:
    """Plays one scripted session.

    Parameters
    ----------
    program : Program
        The running program, at its Shelf.
    clock : ScriptedClock
        The clock the program reads.
    script : mapping
        A session of the scenario.
    out : Path
        Where pictures and the page are written.
    """

    def __init__(self, program: Program, clock: ScriptedClock, script: Mapping[str, Any], out: Path) -> None:
        self._program = program
        self._clock = clock
        self._script = script
        self._out = out
        self._hands = Hands(program.window)
        self._written: list[Path] = []

    def play(self) -> list[Path]:
        """Taste, review and print; return what was written."""
        self._hands.settle()
        self._picture("1-shelf")
        bench = self._begin()
        self._leaf()
        if "rinse" in self._script:
            self._cup(bench, 0, self._script["rinse"])
        for index, row in enumerate(self._script["cups"], start=1):
            self._cup(bench, index, row)
        self._close(bench)
        self._review()
        return self._written

    def _begin(self) -> BenchScreen:
        shelf = self._program.house.shelf
        lot = next(line.lot for line in shelf.lines() if line.lot.name == self._script["name"])
        session = shelf.begin(lot, opening_from_row(self._script, "Mara"))
        self._program.open_bench(session.uid)
        self._hands.settle()
        bench = self._program.bench
        if bench is None:
            raise LookupError("the Bench did not open")
        return bench

    def _leaf(self) -> None:
        for place, key in enumerate(("dry_leaf", "warmed_leaf")):
            if key in self._script["leaf"]:
                self._step(place)
                self._hands.say(self._script["leaf"][key])
                self._clock.advance(LOOKING_S)

    def _step(self, place: int) -> None:
        """Choose a step by its place, and give the keyboard to the say line."""
        self._hands.press(DIGITS[place + 1], Qt.KeyboardModifier.AltModifier)
        if self._program.bench is not None:
            self._program.bench.take_keyboard()
        self._hands.settle()

    def _cup(self, bench: BenchScreen, index: int, row: Mapping[str, Any]) -> None:
        if bench.presenter.timer().phase == "poured":
            self._pedal()
        bench.presenter.type_plan(str(row.get("plan", bench.presenter.timer().plan_s)))
        bench.presenter.type_water(str(row["water"]))
        bench.refresh()
        self._pedal()
        self._wait(bench, row["steep"], index)
        self._pedal()
        self._clock.advance(NOTING_S)
        steps = ("lid", "wet_leaf") if index == 0 else ("liquor", "first_sip", "flavour", "empty_cup")
        for place, key in enumerate(steps):
            self._attend(bench, place, key, row)
        self._clock.advance(COOLING_S)

    def _pedal(self) -> None:
        self._clock.advance(1)
        self._hands.press(Qt.Key.Key_Space, Qt.KeyboardModifier.ControlModifier)

    def _wait(self, bench: BenchScreen, steep_s: float, index: int) -> None:
        """Let the steep run; at the fourth, look back at the cup before meanwhile, and let it run over."""
        if index != SHOWN_STEEP:
            self._clock.advance(steep_s - 1)
            return
        self._step(2)
        self._clock.advance(SHOWN_AT_S)
        self._look(bench, "2-bench")
        self._clock.advance(steep_s - SHOWN_AT_S - 1)
        self._look(bench, "3-over-plan")

    def _look(self, bench: BenchScreen, name: str) -> None:
        bench.refresh()
        self._hands.settle()
        self._picture(name)

    def _attend(self, bench: BenchScreen, place: int, key: str, row: Mapping[str, Any]) -> None:
        if key not in row:
            return
        self._step(place)
        what = row[key]
        if key == "liquor":
            self._see(what, row.get("clarity", ""))
        elif isinstance(what, str):
            self._hands.say(what)
        else:
            self._slide(bench, what)
        self._clock.advance(NOTING_S)

    def _see(self, place: tuple[int, int], clarity: str) -> None:
        chart = self._hands.find(SwatchChart)
        self._hands.tap(chart.button_at(*place))
        if clarity and self._program.bench is not None:
            self._program.bench.take_keyboard()
            self._hands.say(clarity)

    def _slide(self, bench: BenchScreen, values: Mapping[str, float]) -> None:
        names = {scale.key: scale.name for scale in self._program.house.words().scales}
        for scale, value in values.items():
            if scale == "finish_length_s":
                bench.presenter.read(scale, value)
                continue
            slider = self._hands.find(ScaleSlider, names[scale])
            slider.setFocus()
            self._hands.press(DIGITS[int(value)])

    def _close(self, bench: BenchScreen) -> None:
        bench.presenter.go_to("close")
        bench.refresh()
        close = self._script["close"]
        for place, key in enumerate(("finish", "infused_leaf", "body")):
            self._attend(bench, place, key, close)
        verdict = {key: str(value) for key, value in close["verdict"].items()}
        bench.presenter.draft(**verdict)
        bench.show_verdict()
        self._hands.settle()
        self._picture("4-verdict")
        bench.finish()
        self._hands.settle()

    def _review(self) -> None:
        self._picture("5-arc")
        if self._program.bench is not None:
            uid = self._program.bench.presenter.desk.scope
            page = self._program.make_page(uid)
            self._written += [page] if page else []

    def _picture(self, name: str) -> None:
        self._program.window.news.put_away()
        QTest.qWait(STILL_AFTER_MS)
        path = self._out / f"{name}.png"
        self._hands.window.grab().save(str(path))
        self._written.append(path)


def play(built: House, clock: ScriptedClock, script: Mapping[str, Any], out: Path) -> int:
    """Play a scripted tasting through the window by itself, and print what was written."""
    if not machine.has_display():
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    _, themes = application()
    out.mkdir(parents=True, exist_ok=True)
    program = Program(built, themes, choose_place=lambda name: str(out / name))
    program.start()
    written = Tour(program, clock, script, out).play()
    program.window.close()
    print("The demo tasting was played through the window. Written:")
    for path in written:
        print(f"  {path}")
    return 0
