"""The settings sheet by keyboard and by finger."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

from tastebook.ui.settings_sheet import SettingsSheet
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.drawn import Control, Ground
from tests.presenters.test_settings import FakeSettingsFile, Scene
from tests.ui.shelf.hands import focused, heard, key
from tests.ui.widgets.hands import tap, told

Show = Callable[[QWidget], None]


@pytest.fixture
def scene() -> Scene:
    return Scene(FakeSettingsFile())


@pytest.fixture
def sheet(themes: Themes, show: Show, scene: Scene) -> SettingsSheet:
    host = Ground(themes)
    host.resize(1280, 720)
    show(host)
    asked: list[str] = []
    made = SettingsSheet(themes, scene.presenter, choose_path=lambda _parent, name: (asked.append(name), "/tmp/c")[1])
    made.asked = asked  # type: ignore[attr-defined]
    made.open_over(host)
    QApplication.processEvents()
    made.host = host  # type: ignore[attr-defined]
    return made


def test_the_theme_is_chosen_by_keyboard_and_holds_at_once(sheet: SettingsSheet, scene: Scene) -> None:
    assert focused() is sheet.choices["theme"].choice.segments[0]

    key(Qt.Key.Key_Right)

    assert scene.preferences.current.theme == "lamp"
    assert sheet.choices["theme"].effect.text() == "Dark, for the evening."


@pytest.mark.parametrize("name", ["counts_up", "fahrenheit", "reduce_motion", "sound", "voice", "paper"])
def test_every_choice_is_made_by_finger(sheet: SettingsSheet, scene: Scene, name: str) -> None:
    choice = sheet.choices[name].choice
    before = getattr(scene.preferences.current, name)

    tap(choice.segments[1 - (choice.chosen or 0)])

    assert getattr(scene.preferences.current, name) != before
    assert scene.file.kept == scene.preferences.current


def test_the_lead_is_stepped_and_typed(sheet: SettingsSheet, scene: Scene) -> None:
    sheet.lead.setFocus()

    key(Qt.Key.Key_Up)
    assert scene.preferences.current.lead_s == 7
    key(Qt.Key.Key_Return, "20", Qt.Key.Key_Return)

    assert scene.preferences.current.lead_s == 7
    assert sheet._notice.text() == "Lead cannot be 20 s: it must be from 0 to 15 s."


def test_a_pedal_is_bound_by_pressing_it(sheet: SettingsSheet, scene: Scene) -> None:
    tap(sheet.pedals.add)
    assert sheet.pedals.add.label == "Press it now…"

    QTest.keyClick(focused(), Qt.Key.Key_F5)

    assert scene.preferences.current.pedal_keys == ("Space", "PgDown", "F5")
    assert [button.label for button in sheet.pedals.keys] == ["Space  ×", "Page Down  ×", "F5  ×"]
    assert sheet.pedals.add.label == "Add a key…"


@pytest.mark.parametrize("refused", [Qt.Key.Key_A, Qt.Key.Key_Return, Qt.Key.Key_Tab, Qt.Key.Key_F1])
def test_a_key_that_is_needed_otherwise_is_refused_and_does_nothing_else(
    sheet: SettingsSheet, scene: Scene, refused: Qt.Key
) -> None:
    tap(sheet.pedals.add)

    QTest.keyClick(focused(), refused)

    assert scene.preferences.current.pedal_keys == ("Space", "PgDown")
    assert sheet.pedals.note.is_error
    assert focused() is sheet.pedals.add
    assert sheet.pedals.add.label == "Press it now…"


def test_escape_gives_up_waiting_and_keeps_the_sheet(sheet: SettingsSheet) -> None:
    tap(sheet.pedals.add)

    key(Qt.Key.Key_Escape)

    assert sheet.isVisible()
    assert sheet.pedals.add.label == "Add a key…"
    key(Qt.Key.Key_Escape)
    assert not sheet.isVisible()


def test_a_modifier_alone_is_waited_through(sheet: SettingsSheet) -> None:
    tap(sheet.pedals.add)

    QTest.keyClick(focused(), Qt.Key.Key_Shift)

    assert not sheet.pedals.note.is_error
    assert sheet.pedals.add.label == "Press it now…"


def test_going_elsewhere_gives_up_waiting(sheet: SettingsSheet) -> None:
    tap(sheet.pedals.add)

    sheet.taster.setFocus()

    assert sheet.pedals.add.label == "Add a key…"


def test_a_key_is_taken_away_and_the_last_one_stays(sheet: SettingsSheet, scene: Scene) -> None:
    assert told(sheet.pedals.keys[0]) == "Remove Space"

    tap(sheet.pedals.keys[0])

    assert scene.preferences.current.pedal_keys == ("PgDown",)
    assert [button.label for button in sheet.pedals.keys] == ["Page Down"]
    assert not sheet.pedals.keys[0].isEnabled()


def test_the_tasters_name_is_kept_as_it_is_left_or_the_sheet_closed(sheet: SettingsSheet, scene: Scene) -> None:
    sheet.taster.setFocus()
    key("Ada")

    sheet.close_sheet()

    assert scene.preferences.current.taster == "Ada"


def test_the_path_is_copied(sheet: SettingsSheet) -> None:
    tap(sheet.copy_path)

    assert QGuiApplication.clipboard().text() == "/journal.tastebook"
    assert sheet._notice.text() == "The path is on the clipboard."


def test_a_safe_copy_is_asked_for_with_a_dated_name(sheet: SettingsSheet) -> None:
    wanted = heard(sheet.copy_requested)

    tap(sheet.copy_journal)

    assert wanted == ["/tmp/c"]
    assert sheet.asked == ["/journal-2026-04-18.tastebook"]  # type: ignore[attr-defined]


def test_giving_up_the_dialog_asks_for_nothing(themes: Themes, show: Show, scene: Scene) -> None:
    host = Ground(themes)
    show(host)
    sheet = SettingsSheet(themes, scene.presenter, choose_path=lambda _parent, _name: "")
    wanted = heard(sheet.copy_requested)
    sheet.open_over(host)

    tap(sheet.copy_journal)

    assert wanted == []


def test_everything_on_it_has_a_name(sheet: SettingsSheet) -> None:
    controls = [*sheet.findChildren(Control), *sheet.findChildren(QLineEdit)]

    assert [one for one in controls if one.isVisible() and not told(one)] == []


@pytest.mark.parametrize("theme", ["paper", "lamp", "daylight"])
def test_it_draws_itself_in_every_theme(sheet: SettingsSheet, themes: Themes, theme: str) -> None:
    themes.use(theme)  # type: ignore[arg-type]

    picture = sheet.grab().toImage()

    assert picture.pixelColor(picture.width() // 2, 40) == themes.current.surface
    themes.use("paper")
