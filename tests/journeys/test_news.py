"""News covers nothing that one needs; what another window did is told, and never taken back without a word."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QWidget

from tastebook.domain.lot import Lot
from tastebook.domain.session import Session
from tastebook.services.shelf import Opening
from tastebook.services.tasting import TastingDesk
from tastebook.ui.bench.header import TitleLine
from tastebook.ui.bench.notice import Notice
from tastebook.ui.widgets.buttons import ActionButton, QuietButton
from tastebook.ui.widgets.find_field import FindField
from tastebook.ui.words.sheet import WordsSheet
from tastebook.wiring import program as program_module
from tastebook.wiring.house import House, Place, house
from tests.journeys.conftest import CONTROL, Table

SIZES = [(1440, 900), (1280, 720), (1000, 700)]
LONG = (
    "That did not work: Tastebook met an error of its own. What you had taken is kept. It is written down in the log "
    "of this machine; nothing in there is personal."
)
SHORT = "Heron Ridge is still in water: its steep has gone on."


def begin(table: Table) -> Session:
    lot = table.built.shelf.add(Lot("", "Heron Ridge, spring roast", table.clock.utc_now(), kind="oolong"))
    session = table.built.shelf.begin(lot, Opening(leaf_g=6.0))
    table.program.open_bench(session.uid)
    table.hands.settle()
    return session


def on_the_shelf(table: Table) -> None:
    table.program.show_shelf()


def at_the_bench(table: Table) -> None:
    begin(table)


def at_the_arc(table: Table) -> None:
    table.program.open_arc(begin(table).uid)
    table.hands.settle()


def on_a_lots_page(table: Table) -> None:
    begin(table)
    table.program._open_lot(table.built.journal.lots()[0].uid)


def in_the_words_at_the_bench(table: Table) -> None:
    begin(table)
    table.program.show_words()


def in_the_words_on_the_shelf(table: Table) -> None:
    table.program.show_words()


def before_a_session(table: Table) -> None:
    begin(table)
    table.program.open_card(table.built.journal.lots()[0].uid)


def in_help(table: Table) -> None:
    begin(table)
    table.program.show_keys()


PLACES = [
    on_the_shelf, at_the_bench, on_a_lots_page, in_the_words_at_the_bench, in_the_words_on_the_shelf, before_a_session,
    in_help,
]  # fmt: skip


def place_of(table: Table, widget: QWidget) -> QRect:
    return QRect(widget.mapTo(table.program.window, QPoint(0, 0)), widget.size())


def seen_of(table: Table, widget: QWidget) -> QRect:
    """Return where a widget is not clipped by what it scrolls in, empty while it is hidden."""
    seen = widget.visibleRegion().boundingRect()
    return QRect(widget.mapTo(table.program.window, seen.topLeft()), seen.size())


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("words", [SHORT, LONG], ids=["short", "long"])
@pytest.mark.parametrize("go", PLACES)
def test_news_covers_nothing_and_is_whole(
    table: Table, go: Callable[[Table], None], words: str, size: tuple[int, int]
) -> None:
    window = table.program.window
    window.resize(*size)
    go(table)
    table.hands.settle()

    window.news.tell(words, stays=True)
    for _ in range(3):
        table.hands.settle()

    news = place_of(table, window.news)
    assert window.news.isVisible()
    assert window.rect().contains(news)
    assert window.news.height() >= window.news.heightForWidth(window.news.width())
    assert window.childAt(news.center()) is not None
    assert window.news.isAncestorOf(window.childAt(news.center()))
    kinds = (FindField, TitleLine, QuietButton, ActionButton)
    others = [one for kind in kinds for one in window.findChildren(kind) if not window.news.isAncestorOf(one)]
    assert [one.accessibleName() for one in others if seen_of(table, one).intersects(news)] == []


def test_at_the_bench_nothing_moves_for_news_and_the_title_stays(table: Table) -> None:
    begin(table)
    parts = {one: place_of(table, one) for one in (table.bench.timer, table.bench.card, table.bench._strip)}

    table.program.window.news.tell(SHORT)
    table.hands.settle()

    assert {one: place_of(table, one) for one in parts} == parts
    title = table.find(TitleLine)
    assert title.width() >= title.minimumSizeHint().width()
    assert "Heron Ridge" in title.accessibleName()


def test_news_outlives_the_screen_that_it_stood_on(table: Table) -> None:
    begin(table)
    table.program.window.news.tell(SHORT, stays=True)
    begin(table)
    table.hands.settle()
    assert table.program.window.news.isVisible()

    table.program.show_shelf()
    table.hands.settle()

    assert table.program.window.news.isVisible()
    assert not table.bench.isAncestorOf(table.program.window.news)


def test_a_sheet_laid_over_the_bench_does_not_hide_news(table: Table) -> None:
    begin(table)
    table.program.window.news.tell(SHORT, stays=True)
    table.program.show_words()
    table.hands.settle()

    sheet = table.find(WordsSheet)
    assert not place_of(table, sheet).intersects(place_of(table, table.program.window.news))
    sheet.close_sheet()
    table.hands.settle()

    assert table.bench.isAncestorOf(table.program.window.news)


def test_what_could_not_be_done_and_news_stand_apart_and_both_are_whole(table: Table) -> None:
    begin(table)
    table.program.window.resize(1280, 720)
    table.program.window.news.tell(SHORT, stays=True)
    table.hands.settle()
    notice = table.bench.findChild(Notice)

    table.bench._header.show_notice(LONG)
    table.bench.news_place_changed.emit()
    table.hands.settle()

    assert not table.bench.isAncestorOf(table.program.window.news)
    assert notice.height() >= notice.heightForWidth(notice.width())


def test_undo_of_another_windows_act_is_asked_about_where_news_stood(table: Table, other: House) -> None:
    session = begin(table)
    desk_of(other, session).note(session.course.step("dry_leaf"), None, "orchid", 4)
    table.program._look_outside()
    table.hands.settle()
    assert table.bench.isAncestorOf(table.program.window.news)

    table.hands.press(Qt.Key.Key_Z, CONTROL)

    assert table.program.window.news.isVisible()
    assert not table.bench.isAncestorOf(table.program.window.news)


# -- two windows


@pytest.fixture
def other(table: Table) -> Iterator[House]:
    """Return another window's house on the same journal."""
    with house(Place(journal=table.folder / "mine.tastebook"), table.clock) as built:
        table.clock.advance(1)
        yield built


def desk_of(built: House, session: Session) -> TastingDesk:
    return TastingDesk(built.keeping, built.words, session.uid)


def test_what_another_window_did_is_shown_and_told(table: Table, other: House) -> None:
    session = begin(table)
    desk = desk_of(other, session)

    desk.note(session.course.step("dry_leaf"), None, "orchid", 4)
    table.program._look_outside()

    assert table.program.window.news.words == "Done in another window, Heron Ridge, spring roast: “orchid 4”."
    assert [one.word for one in table.presenter.desk.tasting.impressions] == ["orchid"]


def test_what_was_done_here_is_not_told_as_news(table: Table, other: House) -> None:
    begin(table)
    table.hands.say("orchid 4")
    other.shelf.add(Lot("", "Quiet Ferry", table.clock.utc_now(), kind="green"))

    table.program._look_outside()

    assert table.program.window.news.words == "Done in another window, Quiet Ferry: “Quiet Ferry added”."


def test_undo_says_whose_act_it_is_before_it_takes_it_back(table: Table, other: House) -> None:
    session = begin(table)
    desk_of(other, session).note(session.course.step("dry_leaf"), None, "orchid", 4)
    table.program._look_outside()

    table.hands.press(Qt.Key.Key_Z, CONTROL)

    assert [one.word for one in table.kept.impressions] == ["orchid"]
    assert "“orchid 4” was done in another window" in table.presenter.view().notice
    table.hands.press(Qt.Key.Key_Z, CONTROL)
    assert table.kept.impressions == ()
    assert table.presenter.view().notice == ""


def test_a_steep_begun_in_another_window_comes_into_sight_here(table: Table, other: House) -> None:
    session = begin(table)
    table.program.show_shelf()
    desk_of(other, session).pour_water_on(1)
    assert not table.program.steeps.bar.isVisible()

    table.program._look_outside()
    table.hands.settle()

    assert table.program.steeps.bar.isVisible()


@pytest.mark.parametrize("go", [on_the_shelf, at_the_arc])
def test_news_is_seen_also_when_there_was_news_before(table: Table, go: Callable[[Table], None]) -> None:
    go(table)
    news = table.program.window.news
    for words in (SHORT, "The page is kept as first.pdf", "The page is kept as second.pdf"):
        news.tell(words)
        table.hands.settle()
        assert (news.isVisible(), news.words) == (True, words)
        news.put_away()


def test_where_a_session_page_was_kept_is_said(table: Table) -> None:
    at_the_arc(table)
    news = table.program.window.news
    news.tell(SHORT)
    news.put_away()

    path = table.program.make_page(table.presenter.desk.scope)
    table.hands.settle()

    assert path is not None
    assert path.exists()
    assert news.isVisible()
    assert news.words.startswith("The page is kept as")


# -- the window and its screen


@pytest.mark.parametrize(
    ("room", "fits"), [((1280, 690), (1280, 690)), ((1920, 1040), (1440, 900)), ((1366, 728), (1366, 728))]
)
def test_the_window_is_no_larger_than_its_screen(room: tuple[int, int], fits: tuple[int, int]) -> None:
    assert program_module._fitting(QSize(1440, 900), QRect(0, 0, *room)) == QSize(*fits)


@pytest.mark.parametrize(
    ("room", "frame", "fits"),
    [
        (QRect(0, 0, 1440, 900), QRect(1, 20, 1442, 921), QRect(0, 0, 1440, 900)),
        (QRect(0, 0, 1920, 1080), QRect(600, 300, 1442, 921), QRect(478, 159, 1442, 921)),
        (QRect(0, 32, 1920, 1048), QRect(40, 0, 1442, 921), QRect(40, 32, 1442, 921)),
        (QRect(0, 0, 1920, 1080), QRect(200, 80, 1442, 921), QRect(200, 80, 1442, 921)),
    ],
)
def test_the_window_with_its_frame_is_all_on_the_screen(room: QRect, frame: QRect, fits: QRect) -> None:
    assert program_module._inside(frame, room) == fits


def test_a_maximized_window_is_so_again_after_the_timer_alone_and_at_the_next_start(table: Table) -> None:
    window = table.program.window
    window.setWindowState(Qt.WindowState.WindowMaximized)
    begin(table)

    table.hands.press(Qt.Key.Key_F11)
    is_full = window.isFullScreen()
    table.hands.press(Qt.Key.Key_F11)

    assert (is_full, window.isFullScreen(), window.isMaximized()) == (True, False, True)
    window.close()
    assert table.built.preferences.current.maximized


def test_without_a_screen_to_fit_the_window_is_as_large_as_is_wanted() -> None:
    assert program_module._fitting(QSize(1440, 900), None) == QSize(1440, 900)
