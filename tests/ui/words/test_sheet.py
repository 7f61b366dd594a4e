"""The sheet of words by keyboard and by finger."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.drawn import Control, Ground
from tastebook.ui.words.sheet import WordsSheet
from tests.presenters.test_words import Sheet as Scene
from tests.ui.shelf.hands import CTRL, focused, heard, key
from tests.ui.widgets.hands import tap, told

Show = Callable[[QWidget], None]


@pytest.fixture
def scene() -> Scene:
    scene = Scene()
    scene.scene.lexicon.add("boat varnish", "woody", zh="船漆", pinyin="chuán qī")
    return scene


@pytest.fixture(params=[(1440, 900), (1280, 720)], ids=["large", "small"])
def host(request: pytest.FixtureRequest, themes: Themes, show: Show) -> Ground:
    host = Ground(themes)
    host.resize(*request.param)
    show(host)
    return host


@pytest.fixture
def sheet(themes: Themes, scene: Scene, host: Ground) -> WordsSheet:
    made = WordsSheet(
        themes, scene.presenter, choose_to_write=lambda _: "/tmp/out.csv", choose_to_read=lambda _: "/tmp/in.csv"
    )
    made.open_over(host)
    settle()
    return made


def settle() -> None:
    for _ in range(3):
        QApplication.processEvents()


def shown(sheet: WordsSheet) -> str:
    """Return the name of the word that is told in full."""
    detail = sheet.presenter.view().detail
    return detail.name if detail else ""


def test_the_keyboard_begins_in_the_field_that_finds_and_arrows_go_from_word_to_word(sheet: WordsSheet) -> None:
    assert focused() is sheet.finder

    key("orchid")
    first = shown(sheet)
    sheet.finder.clear()
    key(Qt.Key.Key_Down)

    assert first == "orchid"
    assert shown(sheet) != first


def test_enter_goes_to_what_can_be_done_and_a_word_is_renamed_by_keyboard(sheet: WordsSheet, scene: Scene) -> None:
    key("boat", Qt.Key.Key_Return)
    assert focused() is sheet.detail.acts["rename"]

    key(Qt.Key.Key_Space)
    settle()
    key("yacht varnish", Qt.Key.Key_Return)

    assert scene.kit.words().descriptor("boat-varnish").name == "yacht varnish"
    assert focused() is sheet.rows
    assert shown(sheet) == "yacht varnish"


def test_an_error_stands_below_its_field_and_what_was_written_stays(sheet: WordsSheet) -> None:
    sheet.show_word("boat-varnish")
    tap(sheet.detail.acts["rename"])
    settle()

    key("buttery", Qt.Key.Key_Return)

    assert sheet.form.captioned["name"].note.is_error
    assert "warm butter" in sheet.form.captioned["name"].note.words
    assert sheet.form.values == {"name": "buttery"}
    assert sheet.form.instead.isVisible()


def test_escape_leaves_the_form_then_the_sheet(sheet: WordsSheet) -> None:
    sheet.show_word("boat-varnish")
    tap(sheet.detail.acts["rename"])
    settle()

    key(Qt.Key.Key_Escape)
    left_form = sheet.isVisible() and not sheet.form.isVisible()
    key(Qt.Key.Key_Escape)

    assert left_form
    assert not sheet.isVisible()


def test_a_word_is_taken_back_and_done_again_by_keyboard(sheet: WordsSheet, scene: Scene) -> None:
    sheet.rows.setFocus()

    key(Qt.Key.Key_Z, modifier=CTRL)
    undone = scene.kit.words().has("boat-varnish")
    key(Qt.Key.Key_Y, modifier=CTRL)

    assert not undone
    assert scene.kit.words().has("boat-varnish")


def test_a_letter_on_the_rows_begins_to_find(sheet: WordsSheet) -> None:
    sheet.rows.setFocus()

    key("j")

    assert focused() is sheet.finder
    assert sheet.finder.text() == "j"


def test_a_new_word_is_written_by_keyboard(sheet: WordsSheet, scene: Scene) -> None:
    key(Qt.Key.Key_N, modifier=CTRL)
    settle()
    key("tarred hemp", Qt.Key.Key_Tab)
    key(*[Qt.Key.Key_Down] * 3)
    key(Qt.Key.Key_Return, modifier=CTRL)

    family = scene.kit.words().families[2].key
    assert scene.kit.words().descriptor("tarred-hemp").family == family


def test_enter_keeps_a_form_from_its_family_too(sheet: WordsSheet, scene: Scene) -> None:
    key(Qt.Key.Key_N, modifier=CTRL)
    settle()
    key("tarred hemp", Qt.Key.Key_Tab)
    key(*[Qt.Key.Key_Down] * 3)

    key(Qt.Key.Key_Return)

    family = scene.kit.words().families[2].key
    assert scene.kit.words().descriptor("tarred-hemp").family == family


def test_a_word_is_merged_by_finger_and_stands_for_itself_again(sheet: WordsSheet, scene: Scene) -> None:
    sheet.show_word("white-peach")
    tap(sheet.detail.acts["merge"])
    settle()
    sheet.form.fields["into"].setFocus()
    key("peach")
    tap(sheet.form.keep)
    merged = scene.kit.words().resolve("white-peach")
    settle()

    tap(sheet.detail.parts["white-peach"])

    assert merged == "peach"
    assert scene.kit.words().resolve("white-peach") == "white-peach"


def test_tables_are_asked_for_by_their_paths(sheet: WordsSheet) -> None:
    written, read = heard(sheet.export_requested), heard(sheet.import_requested)

    tap(sheet.write)
    tap(sheet.read)

    assert (written, read) == (["/tmp/out.csv"], ["/tmp/in.csv"])


def test_a_table_is_looked_at_and_then_taken(sheet: WordsSheet, scene: Scene) -> None:
    sheet.presenter.offer_table("words.csv", b"name,family\ntarred hemp,woody\n")
    sheet.refresh()
    settle()
    lines = sheet.table.lines.toPlainText()

    tap(sheet.table.take)

    assert "Line 2 tarred hemp, Woody" in lines
    assert scene.kit.words().has("tarred-hemp")
    assert not sheet.table.isVisible()


def test_lines_with_errors_are_told_and_nothing_can_be_taken(sheet: WordsSheet) -> None:
    sheet.presenter.offer_table("words.csv", b"name,family\ntarred hemp,fluffy\n")

    sheet.refresh()
    settle()

    assert "Line 2. There is no family “fluffy”" in sheet.table.lines.toPlainText()
    assert not sheet.table.take.isVisible()


@pytest.mark.parametrize("theme", ["paper", "lamp", "daylight"])
def test_every_target_is_44_pixels_and_inside_the_sheet(sheet: WordsSheet, themes: Themes, theme: str) -> None:
    themes.use(theme)  # type: ignore[arg-type]
    sheet.show_word("boat-varnish")
    settle()

    for control in sheet.findChildren(Control):
        if control.isVisibleTo(sheet):
            assert control.height() >= 44
            assert control.width() >= 44
            corner = control.mapTo(sheet, control.rect().bottomRight())
            assert sheet.rect().contains(corner)
    themes.use("paper")


def test_a_row_and_a_heading_tell_what_they_are(sheet: WordsSheet) -> None:
    model = sheet.rows.words
    role = Qt.ItemDataRole.AccessibleTextRole

    told_rows = [model.data(model.index(number), role) for number in range(model.rowCount())]

    assert "boat varnish, 船漆, yours, chuán qī" in told_rows
    assert any(one.startswith("Woody, ") for one in told_rows)
    sheet.show_word("boat-varnish")
    assert told(sheet.detail.acts["rename"]) == "Rename…"
