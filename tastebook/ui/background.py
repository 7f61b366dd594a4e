"""Work that the window does not wait for: one piece at a time, and of those that wait only the newest."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final, TypeAlias

from PySide6.QtCore import QObject, QRunnable, Qt, QThreadPool, Signal

Job: TypeAlias = Callable[[], object]

LONGEST_WAIT_MS: Final = 5000
"""For a piece of work that still runs when the window goes."""


class _Voice(QObject):
    """Tells from the other thread what came of a piece of work."""

    done = Signal(object)


class _Work(QRunnable):
    def __init__(self, job: Job, voice: _Voice) -> None:
        super().__init__()
        self._job = job
        self._voice = voice

    def run(self) -> None:
        self._voice.done.emit(self._job())


class Background(QObject):
    """Does work on another thread and tells what came of it on this one."""

    answered = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(1)
        self._voice = _Voice()
        self._voice.done.connect(self._on_done, Qt.ConnectionType.QueuedConnection)
        self._is_busy = False
        self._next: Job | None = None

    def ask(self, job: Job) -> None:
        """Do a piece of work when the one that runs is done; one that has waited until now is dropped."""
        if self._is_busy:
            self._next = job
        else:
            self._start(job)

    def release(self) -> None:
        """Begin nothing more, and wait for what runs."""
        self._next = None
        self._pool.waitForDone(LONGEST_WAIT_MS)

    def _start(self, job: Job) -> None:
        self._is_busy = True
        self._pool.start(_Work(job, self._voice))

    def _on_done(self, answer: object) -> None:
        self._is_busy = False
        job, self._next = self._next, None
        if job is not None:
            self._start(job)
        self.answered.emit(answer)
