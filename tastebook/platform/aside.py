"""Work that may take long or hang, done in threads of its own."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Final

from tastebook.domain.errors import SoundRefused

CLOSE_WITHIN_S: Final = 1.0
"""Longer than any signal: closing lets the last one ring out, and waits for nothing that hangs."""


class Aside:
    """Sounds and speaks beside the window, and keeps why the last of it could not be heard.

    Parameters
    ----------
    on_silence : Callable
        Called from another thread each time nothing could be heard.
    """

    def __init__(self, on_silence: Callable[[], None]) -> None:
        self._on_silence = on_silence
        self._threads: list[threading.Thread] = []
        self._is_closed = False
        self.because = ""
        """Why nothing was heard when last tried, empty if it was."""

    def do(self, work: Callable[[], None]) -> None:
        """Begin `work`, which may raise `SoundRefused`, and return at once."""
        self._threads = [thread for thread in self._threads if thread.is_alive()]
        thread = threading.Thread(target=self._done, args=(work,), name="sound", daemon=True)
        self._threads.append(thread)
        thread.start()

    def wait(self, within_s: float) -> None:
        """Wait for what was begun, no longer than `within_s` for each."""
        for thread in self._threads:
            thread.join(within_s)

    def close(self) -> None:
        """Let what sounds ring out, and tell nothing any more."""
        self._is_closed = True
        self.wait(CLOSE_WITHIN_S)

    def _done(self, work: Callable[[], None]) -> None:
        try:
            work()
        except SoundRefused as exc:
            self.because = str(exc)
        else:
            self.because = ""
        if self.because and not self._is_closed:
            self._on_silence()
