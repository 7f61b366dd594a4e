"""The Shelf by keyboard and by finger."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tastebook.ui.shelf.row_painter import lines_of
from tastebook.ui.shelf.screen import ShelfScreen
from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.drawn import Control
from tests.shelf_scene import Scene, furnished, many_lots
from tests.ui.shelf.hands import CTRL, focused, heard, key, tap_row
from tests.ui.widgets.hands import tap, told

Show = Callable[[QWidget], None]


def shelf_of(themes: Themes, show: Show, scene: Scene, width: int = 1440, height: int = 900) -> ShelfScreen:
    screen = ShelfScreen(themes, scene.presenter)
    screen.resize(width, height)
    show(screen)
    return screen


def uid_of(scene: Scene, name: str, batch: str = "") -> str:
    return next(line.lot.uid for line in scene.shelf.lines() if (line.lot.name, line.lot.batch) == (name, batch))


def open_session(scene: Scene) -> str:
    return next(session.uid for session in scene.journal.sessions() if session.is_open)


def test_enter_does_the_next_act_of_the_first_row(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = shelf_of(themes, show, scene)
    resumed = heard(screen.bench_requested)
    assert focused() is screen.pane.rows

    key(Qt.Key.Key_Return)

    assert resumed == [open_session(scene)]


def test_arrows_go_from_lot_to_lot_and_pass_headings_over(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = shelf_of(themes, show, scene)
    asked = heard(screen.session_requested)

    key(Qt.Key.Key_Down)
    assert screen.pane.rows.current_lot() == uid_of(scene, "Quiet Ferry")
    key(Qt.Key.Key_Return)

    assert asked == [uid_of(scene, "Quiet Ferry")]


def test_each_row_does_what_its_action_says(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = shelf_of(themes, show, scene, height=1400)
    tasted, resumed = heard(screen.session_requested), heard(screen.bench_requested)

    tap_row(screen.pane.rows, uid_of(scene, "Lantern Terrace"), on_action=True)
    tap_row(screen.pane.rows, uid_of(scene, "Heron Ridge", "HR-26"), on_action=True)
    tap_row(screen.pane.rows, uid_of(scene, "Ashgrove"), on_action=True)

    assert tasted == [uid_of(scene, "Lantern Terrace")]
    assert resumed[0] == open_session(scene)
    assert len(resumed) == 2
    assert screen.pane.isVisible()


@pytest.mark.parametrize("by", ["finger", "arrow", "action"])
def test_a_lot_opens_as_a_page_and_back_leads_to_its_row(themes: Themes, show: Show, by: str) -> None:
    scene = furnished()
    screen = shelf_of(themes, show, scene, height=1400)
    granary = uid_of(scene, "Old Granary")
    if by == "finger":
        tap_row(screen.pane.rows, granary)
    else:
        screen.pane.rows.make_current(granary)
        key(Qt.Key.Key_Right if by == "arrow" else Qt.Key.Key_Space)

    assert screen.page.isVisible()
    assert screen.page.lot_uid == granary
    key(Qt.Key.Key_Escape)

    assert screen.pane.isVisible()
    assert screen.pane.rows.current_lot() == granary
    assert focused() is screen.pane.rows


def test_a_press_let_go_elsewhere_does_nothing(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = shelf_of(themes, show, scene)
    rows = screen.pane.rows
    here, there = (rows.visualRect(rows.lots.index(row)).center() for row in (1, 3))

    QTest.mousePress(rows.viewport(), Qt.MouseButton.LeftButton, pos=there)
    QTest.mouseMove(rows.viewport(), here)
    QTest.mouseRelease(rows.viewport(), Qt.MouseButton.LeftButton, pos=here)

    assert screen.pane.isVisible()


def test_writing_on_the_rows_finds_and_enter_opens_the_lot(themes: Themes, show: Show, qtbot: QtBot) -> None:
    scene = furnished()
    screen = shelf_of(themes, show, scene)

    key("qingxin")

    assert focused() is screen.pane.finder
    assert screen.pane.finder.text() == "qingxin"
    key(Qt.Key.Key_Return)
    qtbot.waitUntil(screen.page.isVisible)
    assert screen.page.lot_uid == uid_of(scene, "Lantern Terrace")
    screen.release()


def test_ctrl_f_finds_arrows_move_and_escape_leads_back(themes: Themes, show: Show, qtbot: QtBot) -> None:
    scene = furnished()
    screen = shelf_of(themes, show, scene)
    found = screen.pane.found.list

    key(Qt.Key.Key_F, modifier=CTRL)
    key("heron")
    qtbot.waitUntil(lambda: found.current_row() is not None)
    key(Qt.Key.Key_Down)
    row = found.current_row()
    assert row is not None
    assert row.lot_uid == uid_of(scene, "Heron Ridge", "HR-25")
    key(Qt.Key.Key_Escape)
    assert screen.pane.finder.text() == ""
    assert focused() is screen.pane.finder
    assert screen.pane.rows.isVisible()
    key(Qt.Key.Key_Escape)

    assert focused() is screen.pane.rows
    screen.release()


def test_finding_nothing_says_what_would_help(themes: Themes, show: Show, qtbot: QtBot) -> None:
    screen = shelf_of(themes, show, furnished())
    asked = heard(screen.session_requested)

    key("zeppelin", Qt.Key.Key_Return)

    qtbot.waitUntil(screen.pane.found.empty.isVisible)
    assert "peach ≥ 3" in screen.pane.found.empty.text()
    assert not screen.pane.rows.isVisible()
    assert asked == []
    screen.release()


def test_what_was_put_away_is_shown_and_hidden_at_its_heading(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = shelf_of(themes, show, scene, height=1400)
    rows = screen.pane.rows
    key(Qt.Key.Key_End)
    fold = rows.currentIndex()
    assert not rows.lots.index_of(uid_of(scene, "Low Cloud")).isValid()

    key(Qt.Key.Key_Return)
    assert rows.lots.index_of(uid_of(scene, "Low Cloud")).isValid()
    QTest.mouseClick(rows.viewport(), Qt.MouseButton.LeftButton, pos=rows.visualRect(fold).center())

    assert not rows.lots.index_of(uid_of(scene, "Low Cloud")).isValid()


def test_an_empty_shelf_leads_to_the_first_lot(themes: Themes, show: Show) -> None:
    screen = shelf_of(themes, show, Scene())
    assert focused() is screen.pane.new_lot

    key(Qt.Key.Key_Return)

    assert screen.form.isVisible()


def test_ctrl_z_takes_back_the_last_act_on_the_current_lot(themes: Themes, show: Show) -> None:
    scene = furnished()
    lot = scene.lot("A slip")
    screen = shelf_of(themes, show, scene)
    screen.pane.rows.make_current(lot.uid)

    key(Qt.Key.Key_Z, modifier=CTRL)

    assert screen.pane.notice.words == "Taken back: A slip added."
    assert not screen.pane.rows.lots.index_of(lot.uid).isValid()
    key(Qt.Key.Key_Y, modifier=CTRL)
    assert screen.pane.rows.lots.index_of(lot.uid).isValid()
    tap(screen.pane.notice.button)
    assert not screen.pane.notice.isVisible()


def test_settings_and_help_are_asked_for(themes: Themes, show: Show) -> None:
    screen = shelf_of(themes, show, furnished())
    settings, helped = heard(screen.settings_requested), heard(screen.help_requested)

    tap(screen.pane.settings)
    tap(screen.pane.help)
    key("?")

    assert (len(settings), len(helped)) == (1, 2)


def test_a_journal_that_is_read_only_says_why_and_takes_no_lot(themes: Themes, show: Show) -> None:
    scene = furnished()
    scene.journal.read_only_because = "A newer Tastebook wrote this journal."
    screen = shelf_of(themes, show, scene)

    key(Qt.Key.Key_N, modifier=CTRL)

    assert screen.pane.isVisible()
    assert screen.pane.notice.words == "A newer Tastebook wrote this journal."
    assert not screen.pane.new_lot.isEnabled()


def test_the_rows_are_read_out_with_what_is_owed(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = shelf_of(themes, show, scene)
    interface = QAccessible.queryAccessibleInterface(screen.pane.rows)
    assert interface is not None

    names = [interface.child(number).text(QAccessible.Text.Name) for number in range(3)]

    assert names[0] == "Half tasted, 1 lot"
    assert names[1].startswith("Heron Ridge. oolong, Jin Xuan, Taiwan, spring 2026. begun 18 April 2026")
    assert names[1].endswith("Enter: Resume")


def test_everything_that_takes_the_keyboard_has_a_name(themes: Themes, show: Show) -> None:
    screen = shelf_of(themes, show, furnished())

    nameless = [one for one in screen.findChildren(Control) if one.isVisible() and not told(one)]

    assert nameless == []
    assert told(screen.pane.finder) == "Find anything ever noted"


@pytest.mark.parametrize(("width", "height"), [(1440, 900), (1280, 720), (1000, 700)])
@pytest.mark.parametrize("theme", ["paper", "lamp", "daylight"])
def test_the_shelf_draws_itself_at_any_size_in_any_theme(
    themes: Themes, show: Show, theme: str, width: int, height: int
) -> None:
    scene = furnished()
    screen = shelf_of(themes, show, scene, width, height)
    themes.use(theme)  # type: ignore[arg-type]
    screen.pane.rows.lots.index(1)

    picture = screen.grab().toImage()

    assert picture.pixelColor(4, 4) == themes.current.bg
    rows = screen.pane.rows
    assert rows.horizontalScrollBar().maximum() == 0
    themes.use("paper")


def test_two_thousand_lots_draw_only_what_is_seen(themes: Themes, show: Show) -> None:
    scene = many_lots(2000, 2000)
    asked: list[str] = []
    real = scene.presenter.row
    screen = ShelfScreen(themes, scene.presenter)
    screen.pane.rows.lots._row_of = lambda uid: (asked.append(uid), real(uid))[1]  # type: ignore[func-returns-value]
    screen.resize(1440, 900)
    show(screen)

    screen.grab()

    assert screen.pane.rows.lots.rowCount() == 2001
    assert len(set(asked)) < 40


def test_the_wheel_scrolls_rows_smoothly(themes: Themes, show: Show) -> None:
    screen = shelf_of(themes, show, many_lots(50, 50))
    rows = screen.pane.rows
    before = rows.indexAt(QPoint(40, 40)).row()

    rows.verticalScrollBar().setValue(rows.verticalScrollBar().maximum())

    assert rows.indexAt(QPoint(40, 40)).row() > before


def test_what_is_owed_stands_in_two_lines_where_one_is_too_narrow(themes: Themes) -> None:
    assert themes.current  # the faces are loaded with them
    owed, font = "begun 25 November 2026, 1 infusion poured", sans(16)
    width = paint.text_width(owed, font)

    assert lines_of(owed, font, width + 1) == [owed]
    assert lines_of(owed, font, width - 1) == ["begun 25 November 2026,", "1 infusion poured"]
    assert lines_of("never tasted", font, 20) == ["never tasted"]
