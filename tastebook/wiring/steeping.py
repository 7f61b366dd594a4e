"""A steep that runs stays in sight under whatever screen is shown, and is poured there with one act."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Final

from PySide6.QtCore import QObject, Qt, QTimer, Signal
from PySide6.QtGui import QKeySequence, QShortcut

from tastebook.domain.act import Act
from tastebook.presenters.bench.presenter import BOUNCE_MS
from tastebook.presenters.help import MOVING, keys_of
from tastebook.presenters.running import RunningPresenter
from tastebook.services.running import RunningSteeps
from tastebook.ui.calling import Caller
from tastebook.ui.steep_bar import SteepBar
from tastebook.ui.theme.theme import Themes
from tastebook.ui.window import MainWindow
from tastebook.ui.writing import key_that_pours
from tastebook.wiring.house import House

LOOK_AGAIN_MS: Final = 100


class SteepWatch(QObject):
    """Shows the bar under the screens, looks again while something is in water, and carries its gestures out.

    Parameters
    ----------
    at_bench : callable
        Returns the session at the Bench that is kept, empty for none, and whether that Bench is what is shown.
    """

    bench_requested = Signal(str)
    poured = Signal(str)
    """A session, poured or steeping again by a gesture here."""

    def __init__(
        self,
        built: House,
        themes: Themes,
        window: MainWindow,
        caller: Caller,
        at_bench: Callable[[], tuple[str, bool]],
    ) -> None:
        super().__init__(window)
        steeps = RunningSteeps(built.keeping, built.words, lambda: built.settings().lead_s)
        self.presenter = RunningPresenter(steeps, built.clock, built.settings)
        self.bar = SteepBar(themes)
        self._window, self._caller, self._at_bench = window, caller, at_bench
        self._keys: list[QShortcut] = []
        self._ticker = QTimer(self)
        self._ticker.setInterval(LOOK_AGAIN_MS)
        self._ticker.timeout.connect(self.look)
        self._bounce = QTimer(self)
        self._bounce.setSingleShot(True)
        self._bounce.setInterval(BOUNCE_MS)
        self._bounce.timeout.connect(self.look)
        window.add_foot(self.bar)
        window.screen_shown.connect(self.look)
        built.keeping.listen(self._hear)
        self.bar.pour_requested.connect(self.pour)
        self.bar.bench_requested.connect(self._go_to_bench)
        self.bar.back_requested.connect(self._take_back)
        self.bind_pedals(built.settings().pedal_keys)

    def bind_pedals(self, keys: tuple[str, ...]) -> None:
        """Let these keys pour wherever they mean nothing else."""
        for old in self._keys:
            old.setEnabled(False)
            old.deleteLater()
        wanted = dict.fromkeys(("Space", *keys_of("bench", "pedal_always"), *keys))
        self._keys = [self._shortcut(key) for key in wanted if key not in MOVING]
        self.look()

    def _shortcut(self, key: str) -> QShortcut:
        shortcut = QShortcut(QKeySequence(key), self._window)
        shortcut.setContext(Qt.ShortcutContext.WindowShortcut)
        shortcut.setAutoRepeat(False)
        shortcut.activated.connect(self.pour)
        return shortcut

    def reread(self) -> None:
        """Show what another window has changed."""
        self.presenter.reread()
        self.look()

    def look(self) -> None:
        """Show what time has changed, announce what is due, and look again as long as there is something to show."""
        session_uid, is_shown = self._at_bench()
        view = self.presenter.view(in_sight=session_uid if is_shown else "")
        self.bar.show_view(None if view is None else replace(view, key=key_that_pours(view.key)))
        pours = view is not None and not is_shown and bool(view.action)
        for key in self._keys:  # a finger that presses twice must not press what lies below
            key.setEnabled(pours or self._bounce.isActive())
        call = self.presenter.due_call(but=session_uid)
        if call is not None:
            self._caller.announce(call)
        wants_looking = view is not None or self.presenter.soonest is not None
        if wants_looking != self._ticker.isActive():
            self._ticker.start() if wants_looking else self._ticker.stop()

    def pour(self) -> None:
        """Pour the steep that is shown, or go where it must be answered for."""
        view = self.bar.view
        if view is None or not view.action:
            return
        if view.is_asked:
            self._go_to_bench()
        elif self.presenter.pour(view.session_uid):
            self._bounce.start()
            self.poured.emit(view.session_uid)
        self.look()

    def stop(self) -> None:
        """Look no more."""
        self._ticker.stop()
        self._bounce.stop()

    def _take_back(self) -> None:
        session_uid = self.presenter.take_back()
        if session_uid:
            self.poured.emit(session_uid)
        self.look()

    def _go_to_bench(self) -> None:
        if self.bar.view is not None:
            self.bench_requested.emit(self.bar.view.session_uid)

    def _hear(self, _act: Act) -> None:
        self.look()
