"""Opening a journal beside a window that says how far it is, where that takes longer than a moment."""

from __future__ import annotations

import threading
from concurrent.futures import Future, ThreadPoolExecutor, wait
from typing import Final

from tastebook.store.journal import SqliteJournal
from tastebook.wiring.house import Opening

A_MOMENT_S: Final = 0.4
"""Work that is done sooner shows nothing."""

LOOK_AGAIN_MS: Final = 60


class LeftWhileOpening(Exception):
    """The user closed the window before the journal was open; the journal is as it was."""


class _Work:
    """Opens the journal on another thread, and holds what is told of it."""

    def __init__(self, opening: Opening, pool: ThreadPoolExecutor) -> None:
        self.told: tuple[str, float | None] | None = None
        self.is_left = False
        self._stirred = threading.Event()
        self._journal: Future[SqliteJournal] = pool.submit(opening, self._watch)
        self._journal.add_done_callback(lambda _: self._stirred.set())

    @property
    def is_done(self) -> bool:
        """Say whether the journal is open, or cannot be opened."""
        return self._journal.done()

    def takes_long(self) -> bool:
        """Wait until it is done, and no longer than a moment once there is something to tell."""
        self._stirred.wait()
        if self.told is not None:
            wait([self._journal], A_MOMENT_S)
        return not self.is_done

    def leave(self) -> None:
        """Let it end as soon as it can."""
        self.is_left = True

    def result(self) -> SqliteJournal:
        """Return the journal when it is open, or raise why there is none."""
        journal = self._journal.result()
        if self.is_left:
            journal.close()
            raise LeftWhileOpening
        return journal

    def _watch(self, words: str, share: float | None) -> None:
        if self.is_left:
            raise LeftWhileOpening
        self.told = (words, share)
        self._stirred.set()


def shown_in_a_window(opening: Opening) -> SqliteJournal:
    """Open the journal; where that takes longer than a moment, a small window says what is being done.

    Raises
    ------
    LeftWhileOpening
        If the user closed that window.
    """
    with ThreadPoolExecutor(1, "opening") as pool:
        work = _Work(opening, pool)
        if work.takes_long():
            _show(work)
        return work.result()


def _show(work: _Work) -> None:
    """Keep a window in front of the work until it is done."""
    from PySide6.QtCore import QEventLoop, QTimer

    from tastebook.ui.opening_notice import OpeningNotice
    from tastebook.wiring.program import application

    _, themes = application()
    notice, loop, look = OpeningNotice(themes), QEventLoop(), QTimer()

    def refresh() -> None:
        if work.is_done:
            loop.quit()
        elif work.told is not None and not work.is_left:
            notice.show_work(*work.told)

    notice.left.connect(work.leave)
    look.timeout.connect(refresh)
    refresh()
    notice.show()
    look.start(LOOK_AGAIN_MS)
    loop.exec()
    look.stop()
    notice.hide()  # Closing the only window would end the program.
    notice.deleteLater()
