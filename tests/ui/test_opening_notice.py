"""The small window that is there while a journal takes its time to open."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tastebook.domain.errors import JournalDamaged
from tastebook.store.journal import SqliteJournal, open_journal
from tastebook.store.opening import COPYING, FINDABLE, Watch
from tastebook.ui.opening_notice import OpeningNotice
from tastebook.ui.theme.theme import Themes
from tastebook.wiring.patience import LeftWhileOpening, shown_in_a_window
from tests.fakes import FakeClock


@pytest.fixture
def journal(tmp_path: Path) -> SqliteJournal:
    return open_journal(tmp_path / "journal.tastebook", FakeClock())


def _notice() -> OpeningNotice | None:
    shown = (one for one in QApplication.topLevelWidgets() if isinstance(one, OpeningNotice) and one.isVisible())
    return next(shown, None)


def _soon(then: Callable[[OpeningNotice], object]) -> None:
    """Do something as soon as the notice is there."""

    def look() -> None:
        notice = _notice()
        QTimer.singleShot(20, look) if notice is None else then(notice)

    QTimer.singleShot(20, look)


def test_it_says_what_is_done_and_how_far_it_is(qtbot: QtBot) -> None:
    notice = OpeningNotice(Themes())
    qtbot.addWidget(notice)

    notice.show_work(FINDABLE, 0.43)
    assert "43% done" in notice.words
    assert (notice.bar.share, notice.bar.accessibleName()) == (0.43, "43% done")

    notice.show_work(COPYING, None)
    assert "%" not in notice.words


def test_a_journal_that_opens_at_once_shows_nothing(qtbot: QtBot, journal: SqliteJournal) -> None:
    def notices() -> list[QWidget]:
        return [one for one in QApplication.topLevelWidgets() if isinstance(one, OpeningNotice)]

    before = notices()

    assert shown_in_a_window(lambda watch: journal) is journal

    assert notices() == before
    journal.close()


def test_a_journal_that_takes_long_shows_how_far_it_is_and_opens(qtbot: QtBot, journal: SqliteJournal) -> None:
    seen, go_on = [], threading.Event()

    def opening(watch: Watch) -> SqliteJournal:
        watch(FINDABLE, 0.25)
        assert go_on.wait(10), "the window was not alive"
        return journal

    def look(notice: OpeningNotice) -> None:
        seen.append(notice.words)
        go_on.set()

    _soon(look)

    assert shown_in_a_window(opening) is journal

    assert "25% done" in seen[0]
    assert _notice() is None
    journal.close()


def test_closing_it_ends_the_work_before_the_journal_is_opened(qtbot: QtBot) -> None:
    is_over = threading.Event()

    def opening(watch: Watch) -> SqliteJournal:
        try:
            for share in range(10_000):
                watch(FINDABLE, share / 10_000)
                is_over.wait(0.01)
        finally:
            is_over.set()
        raise AssertionError("nobody ended it")

    _soon(lambda notice: notice.close())

    with pytest.raises(LeftWhileOpening):
        shown_in_a_window(opening)

    assert is_over.is_set()


def test_what_is_wrong_with_the_journal_is_told_by_whoever_asked_for_it(qtbot: QtBot) -> None:
    def opening(watch: Watch) -> SqliteJournal:
        raise JournalDamaged("The journal is damaged.")

    with pytest.raises(JournalDamaged, match="is damaged"):
        shown_in_a_window(opening)
