"""The help by keyboard and by finger."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

from tastebook.presenters.help import KEYS, HelpPresenter
from tastebook.services.settings import Settings
from tastebook.ui.help_sheet import HelpSheet, KeyLine
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.drawn import Control, Ground
from tests.presenters.test_help import cautions
from tests.shelf_scene import COURSES
from tests.ui.shelf.hands import CTRL, focused, heard, key
from tests.ui.widgets.hands import tap, told

Show = Callable[[QWidget], None]


@pytest.fixture
def host(themes: Themes, show: Show) -> Ground:
    made = Ground(themes)
    made.resize(1280, 720)
    show(made)
    return made


@pytest.fixture
def sheet(themes: Themes) -> HelpSheet:
    return HelpSheet(themes, HelpPresenter(cautions, lambda: COURSES, Settings))


def test_the_keys_are_all_there_and_read_out(sheet: HelpSheet, host: Ground) -> None:
    sheet.show_keys(host)

    lines = [line for line in sheet.findChildren(KeyLine) if line.isVisibleTo(sheet)]

    assert len(lines) == len(KEYS)
    assert told(next(line for line in lines if "pour" in told(line))) == (
        "Space or Page Down: water on, pour, next infusion; also in the say line while it is empty"
    )


def test_the_words_can_be_selected_and_copied(sheet: HelpSheet, host: Ground) -> None:
    sheet.show_terms(host)

    sheet.text.selectAll()
    sheet.text.copy()

    assert "Sweetness that comes back in the throat" in QApplication.clipboard().text()


def test_arrows_go_from_part_to_part(sheet: HelpSheet, host: Ground) -> None:
    sheet.show_keys(host)

    key(Qt.Key.Key_Right, Qt.Key.Key_Right)
    assert "a cool scent" not in sheet.text.toPlainText()
    assert "Gaiwan session" in sheet.text.toPlainText()
    key(Qt.Key.Key_Right)

    assert "Scalding water" in sheet.text.toPlainText()
    assert "IARC 2016" in sheet.text.toPlainText()


def test_writing_in_the_field_narrows_the_part(sheet: HelpSheet, host: Ground) -> None:
    sheet.show_terms(host)

    key(Qt.Key.Key_F, modifier=CTRL)
    key("astringency")

    assert sheet.text.toPlainText().startswith("Astringency also grip")
    key("zzz")
    assert sheet._empty.text().startswith("Nothing here has")
    assert sheet._pages.currentWidget() is sheet._empty


def test_escape_clears_the_field_then_closes(sheet: HelpSheet, host: Ground) -> None:
    sheet.show_terms(host)
    sheet.finder.setFocus()
    key("huigan")

    key(Qt.Key.Key_Escape)
    assert sheet.finder.text() == ""
    assert sheet.isVisible()
    key(Qt.Key.Key_Escape)

    assert not sheet.isVisible()


def test_a_word_is_explained(sheet: HelpSheet, host: Ground) -> None:
    sheet.explain("clouded", host)

    assert sheet.finder.text() == "clouded"
    assert sheet.text.toPlainText().startswith("Clouded")


def test_the_words_are_gone_to_by_finger_at_the_one_looked_for(sheet: HelpSheet, host: Ground) -> None:
    asked = heard(sheet.words_requested)
    sheet.show_keys(host)
    among_keys = sheet.words.isVisible()
    sheet.explain("clouded", host)

    tap(sheet.words)

    assert not among_keys
    assert asked == ["clouded"]
    assert not sheet.isVisible()


def test_what_was_looked_for_is_forgotten_when_it_opens_again(sheet: HelpSheet, host: Ground) -> None:
    sheet.explain("clouded", host)
    sheet.close_sheet()

    sheet.show_cautions(host)

    assert sheet.finder.text() == ""
    assert "Very hot sips" in sheet.text.toPlainText()


def test_it_leaves_the_timer_clear(sheet: HelpSheet, host: Ground) -> None:
    sheet.show_keys(host, clear_right_px=456)
    QApplication.processEvents()

    assert sheet.geometry().right() < 1280 - 456
    assert sheet._keys_area.horizontalScrollBar().maximum() == 0


def test_a_change_of_theme_is_followed_in_the_text(sheet: HelpSheet, host: Ground, themes: Themes) -> None:
    sheet.show_terms(host)

    themes.use("lamp")

    assert themes.current.ink3.name() in sheet.text.document().defaultStyleSheet()
    assert sheet.grab().toImage().pixelColor(sheet.width() // 2, 40) == themes.current.surface
    themes.use("paper")


def test_everything_on_it_has_a_name(sheet: HelpSheet, host: Ground) -> None:
    sheet.show_keys(host)

    assert [one for one in sheet.findChildren(Control) if not told(one)] == []
    assert told(sheet.finder) == "Find in this part"
    tap(sheet.sections.segments[1])
    assert focused() is sheet.sections.segments[0]
