"""Finding by keyboard and by finger: keys never wait, old answers are dropped, and rows lead where they say."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tastebook.domain.act import Change
from tastebook.domain.finding import Found, Query
from tastebook.domain.session import Impression, Saying
from tastebook.presenters.finding import FoundRow
from tastebook.ui.background import Background
from tastebook.ui.shelf.found_painter import runs
from tastebook.ui.shelf.screen import ShelfScreen
from tastebook.ui.theme.theme import Themes
from tests.fakes import MORNING_UTC
from tests.shelf_scene import Scene, furnished, many_lots
from tests.ui.shelf.hands import CTRL, focused, heard, key
from tests.ui.widgets.hands import tap

Show = Callable[[QWidget], None]


@pytest.fixture
def scene() -> Scene:
    scene = furnished()
    for session in scene.journal.sessions()[:2]:
        said = Saying(scene.ids.new(), session.uid, "flavour", 2, "Cedar, like a wet plank.", MORNING_UTC)
        noted = Impression(scene.ids.new(), session.uid, "flavour", 2, "palate", "cedar", "Cedar", 3, MORNING_UTC)
        scene.keeping.keep(session.uid, "cedar 3", [Change(None, said), Change(None, noted)])
    return scene


@pytest.fixture
def screen(themes: Themes, show: Show, scene: Scene) -> Iterator[ShelfScreen]:
    screen = ShelfScreen(themes, scene.presenter)
    screen.resize(1280, 720)
    show(screen)
    yield screen
    screen.release()


def rows_of(screen: ShelfScreen) -> list[FoundRow]:
    found = screen.pane.found.list.found
    return [row for place in range(found.rowCount()) if (row := found.row(found.index(place))) is not None]


def find(screen: ShelfScreen, qtbot: QtBot, typed: str) -> list[FoundRow]:
    screen.pane.finder.setFocus()
    screen.pane.finder.clear()
    key(typed)
    qtbot.waitUntil(lambda: screen.pane.found._presenter.typed == typed.strip())
    qtbot.waitUntil(lambda: not screen.pane.found._presenter.view().is_waiting)
    return rows_of(screen)


def test_a_place_leads_to_its_session_and_infusion(screen: ShelfScreen, scene: Scene, qtbot: QtBot) -> None:
    asked: list[tuple[str, int, bool]] = []
    screen.place_requested.connect(lambda *given: asked.append(given))
    rows = find(screen, qtbot, "cedar")
    finished, still_open = scene.journal.sessions()[0], scene.journal.sessions()[1]

    assert [row.kind for row in rows] == ["heading", "lot", "lot", "heading", "place", "place"]
    key(Qt.Key.Key_Down, Qt.Key.Key_Down, Qt.Key.Key_Return)
    key(Qt.Key.Key_Down, Qt.Key.Key_Return)

    assert asked == [(still_open.uid, 2, True), (finished.uid, 2, False)]


def test_a_touch_opens_what_it_touches(screen: ShelfScreen, qtbot: QtBot) -> None:
    rows = find(screen, qtbot, "cedar")
    asked = heard(screen.place_requested)
    view = screen.pane.found.list

    place = view.visualRect(view.found.index(len(rows) - 1)).topLeft() + QPoint(80, 30)
    QTest.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=place)

    assert asked == [rows[-1].session_uid]


def test_what_matched_is_marked_by_weight_and_underline(screen: ShelfScreen, qtbot: QtBot) -> None:
    rows = find(screen, qtbot, "cedar")

    assert runs(rows[-1].sentence, rows[-1].spans) == [("Cedar", True), (", like a wet plank.", False)]
    assert screen.pane.found.understood.text() == "cedar as impression or words"


def test_every_row_can_be_read_aloud(screen: ShelfScreen, qtbot: QtBot) -> None:
    find(screen, qtbot, "cedar")
    view = screen.pane.found.list
    last = view.found.index(view.found.rowCount() - 1)

    told = view.found.data(last, Qt.ItemDataRole.AccessibleTextRole)

    assert "infusion 2" in told
    assert "Cedar, like a wet plank." in told
    assert told.endswith("Enter: open the session")
    assert QAccessible.queryAccessibleInterface(view).text(QAccessible.Text.Name) == "What was found"


def test_keys_do_not_wait_for_the_journal_and_the_last_question_counts(
    screen: ShelfScreen, scene: Scene, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    gate = threading.Event()
    real, asked = scene.journal.find, []

    def slowly(query: Query, limit: int, offset: int = 0) -> Found:
        asked.append(query.typed)
        gate.wait(5)
        return real(query, limit, offset)

    monkeypatch.setattr(scene.journal, "find", slowly)
    screen.pane.finder.setFocus()
    for typed in ("h", "e", "r", "o", "n", " "):
        key(typed)
        QTest.qWait(90)
    assert screen.pane.finder.text() == "heron "
    gate.set()

    qtbot.waitUntil(lambda: [row.kind for row in rows_of(screen)] == ["heading", "lot", "lot"])
    assert asked[-1] == "heron"
    assert len(asked) == 2


def test_enter_pressed_before_the_answer_opens_its_first_row(screen: ShelfScreen, qtbot: QtBot) -> None:
    screen.pane.finder.setFocus()
    key("ashgrove", Qt.Key.Key_Return)

    qtbot.waitUntil(screen.page.isVisible)
    assert screen.page.lot_uid


def test_what_is_not_understood_is_told_and_typing_goes_on(screen: ShelfScreen, qtbot: QtBot) -> None:
    find(screen, qtbot, "cedar >= 9")

    assert screen.pane.found.puzzled.isVisible()
    assert "between 0 and 5" in screen.pane.found.puzzled.text()
    assert focused() is screen.pane.finder


def test_letters_on_the_rows_go_on_writing_and_escape_leads_back(screen: ShelfScreen, qtbot: QtBot) -> None:
    find(screen, qtbot, "ceda")
    screen.pane.found.list.setFocus()

    key("r")
    assert focused() is screen.pane.finder
    assert screen.pane.finder.text() == "cedar"
    screen.pane.found.list.setFocus()
    key(Qt.Key.Key_Escape)

    assert focused() is screen.pane.rows
    assert screen.pane.finder.text() == ""
    assert screen.pane.rows.isVisible()


def test_a_swatch_is_chosen_and_looked_for(screen: ShelfScreen, qtbot: QtBot) -> None:
    tap(screen.pane.swatches)
    sheet = screen.pane._sheet
    assert sheet is not None
    assert sheet.isVisible()

    tap(sheet.chart.button_at(2, 6))

    assert not sheet.isVisible()
    assert screen.pane.finder.text() == "amber gold liquor"
    qtbot.waitUntil(lambda: screen.pane.found.understood.text() == "liquor near amber gold")


def test_a_new_act_is_found_without_typing_anew(screen: ShelfScreen, scene: Scene, qtbot: QtBot) -> None:
    assert len(find(screen, qtbot, "lantern ")) == 2

    scene.lot("Lantern Terrace", batch="LT-26")
    screen.refresh()

    qtbot.waitUntil(lambda: len(rows_of(screen)) == 3)


def test_coming_back_finds_the_row_where_it_was(screen: ShelfScreen, scene: Scene, qtbot: QtBot) -> None:
    rows = find(screen, qtbot, "cedar")
    key(Qt.Key.Key_Down, Qt.Key.Key_Down)
    assert screen.pane.found.list.current_row() == rows[4]
    screen.open_lot(rows[4].lot_uid)

    screen.back()
    qtbot.waitUntil(lambda: not screen.pane.found._presenter.view().is_waiting)

    assert screen.pane.finder.text() == "cedar"
    assert screen.pane.found.list.current_row() == rows[4]
    assert focused() is screen.pane.finder


def test_more_rows_are_read_while_one_goes_down(themes: Themes, show: Show, qtbot: QtBot) -> None:
    screen = ShelfScreen(themes, many_lots(150, 150).presenter)
    screen.resize(1280, 720)
    show(screen)
    assert len(find(screen, qtbot, "heron ")) == 41

    for count in (81, 121, 151):
        screen.pane.found.list.verticalScrollBar().setValue(screen.pane.found.list.verticalScrollBar().maximum())
        qtbot.waitUntil(lambda count=count: len(rows_of(screen)) == count)
    screen.release()


def test_ctrl_f_leads_to_the_field_from_a_lots_page(screen: ShelfScreen, scene: Scene) -> None:
    screen.open_lot(scene.shelf.lines()[0].lot.uid)

    key(Qt.Key.Key_F, modifier=CTRL)

    assert focused() is screen.pane.finder


def test_of_work_that_waits_only_the_newest_is_done(qtbot: QtBot) -> None:
    background, gate = Background(), threading.Event()
    answers = heard(background.answered)

    background.ask(lambda: gate.wait(5))
    background.ask(lambda: "dropped")
    background.ask(lambda: "newest")
    gate.set()

    qtbot.waitUntil(lambda: len(answers) == 2)
    assert answers == [True, "newest"]
    background.release()
