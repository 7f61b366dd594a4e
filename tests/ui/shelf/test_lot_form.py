"""The form of a lot by keyboard and by finger."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QScrollArea, QWidget

from tastebook.domain.errors import JournalFull
from tastebook.presenters.lot_form_fields import FIELDS
from tastebook.ui.shelf.fields import LongField, WordsField
from tastebook.ui.shelf.screen import ShelfScreen
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.drawn import Control
from tests.shelf_scene import Scene, furnished
from tests.ui.shelf.hands import CTRL, SHIFT, focused, key
from tests.ui.shelf.test_screen import uid_of
from tests.ui.widgets.hands import tap, told

Show = Callable[[QWidget], None]


def new_form(themes: Themes, show: Show, scene: Scene, width: int = 1440) -> ShelfScreen:
    screen = ShelfScreen(themes, scene.presenter)
    screen.resize(width, 900)
    show(screen)
    screen.new_lot()
    QApplication.processEvents()  # a form comes into sight with the next turn of the event loop
    return screen


def amending(themes: Themes, show: Show, scene: Scene, name: str = "Ashgrove") -> ShelfScreen:
    screen = ShelfScreen(themes, scene.presenter)
    screen.resize(1440, 900)
    show(screen)
    screen.open_lot(uid_of(scene, name))
    tap(screen.page.amend)
    QApplication.processEvents()
    return screen


def field(screen: ShelfScreen, name: str) -> QLineEdit:
    found = screen.form.fields[name]
    assert isinstance(found, QLineEdit)
    return found


def test_a_lot_is_added_by_keyboard_alone(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = ShelfScreen(themes, scene.presenter)
    show(screen)

    key(Qt.Key.Key_N, modifier=CTRL)
    QApplication.processEvents()
    key("Quiet Ferry, second", Qt.Key.Key_Tab, "green")
    key(Qt.Key.Key_Return, modifier=CTRL)

    lot = scene.journal.lots()[0]
    assert (lot.name, lot.kind) == ("Quiet Ferry, second", "green")
    assert screen.page.isVisible()
    assert screen.page.lot_uid == lot.uid


def test_a_lot_without_a_name_is_asked_for_it(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = new_form(themes, show, scene)
    field(screen, "batch").setFocus()

    tap(screen.form.add)

    assert screen.form.isVisible()
    assert screen.form.parts["name"].note.words == "A lot needs a name."
    assert focused() is field(screen, "name")
    key("A")
    assert screen.form.parts["name"].note.words == ""


def test_tab_goes_through_every_field_in_the_order_they_stand(themes: Themes, show: Show) -> None:
    screen = new_form(themes, show, furnished())
    keys_by_field = {widget: name for name, widget in screen.form.fields.items()}
    visited: list[str] = []

    for _ in range(60):
        name = keys_by_field.get(focused(), "follows" if focused() is screen.form.follows else "")  # type: ignore[call-overload]
        visited += [name] if name and name not in visited else []
        key(Qt.Key.Key_Tab)

    expected = [spec.key for spec in FIELDS]
    expected.insert(expected.index("notes"), "follows")
    assert visited == expected


def test_enter_goes_on_to_the_next_field(themes: Themes, show: Show) -> None:
    screen = new_form(themes, show, furnished())

    key("Ashgrove", Qt.Key.Key_Return)

    assert focused() is field(screen, "kind")


def test_a_wrong_number_is_told_at_its_field_as_it_is_left(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = amending(themes, show, scene)
    field(screen, "altitude_m").setFocus()

    key("12000", Qt.Key.Key_Tab)

    note = screen.form.parts["altitude_m"].note
    assert note.words == "Altitude cannot be 12000 m: it must be from -430 to 9000 m."
    assert note.isVisible()
    assert field(screen, "altitude_m").property("wrong") is True
    assert told(field(screen, "altitude_m")) == "Altitude, in m"
    key(Qt.Key.Key_Tab, modifier=SHIFT)
    key(Qt.Key.Key_Backspace)
    assert not note.isVisible()


def test_amending_keeps_each_field_as_it_is_left(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = amending(themes, show, scene)
    field(screen, "altitude_m").setFocus()

    key("90", Qt.Key.Key_Tab)

    assert scene.shelf.lot(uid_of(scene, "Ashgrove")).altitude_m == 90.0
    assert not screen.form.add.isVisible()


def test_escape_keeps_what_is_being_typed_and_leads_back(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = amending(themes, show, scene)
    field(screen, "batch").setFocus()

    key("A-7", Qt.Key.Key_Escape)

    assert screen.page.isVisible()
    assert scene.journal.lots()[0].batch or uid_of(scene, "Ashgrove", "A-7")


def test_escape_from_a_new_lot_asks_once_if_something_was_typed(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = new_form(themes, show, scene)
    lots = len(scene.journal.lots())

    key("A slip", Qt.Key.Key_Escape)
    assert screen.form.isVisible()
    assert screen.form.question.words.startswith("Leave without adding this lot?")
    assert focused() is screen.form.question.button
    key(Qt.Key.Key_Return)
    assert not screen.form.question.isVisible()
    assert focused() is field(screen, "name")
    key(Qt.Key.Key_Escape, Qt.Key.Key_Escape)

    assert screen.pane.isVisible()
    assert len(scene.journal.lots()) == lots


def test_escape_from_an_untouched_form_leaves_at_once(themes: Themes, show: Show) -> None:
    screen = new_form(themes, show, furnished())

    key(Qt.Key.Key_Escape)

    assert screen.pane.isVisible()


def test_a_form_given_up_leaves_nothing_in_the_next(themes: Themes, show: Show) -> None:
    screen = new_form(themes, show, furnished())
    key("A slip")
    tap(screen.form._back)
    tap(screen.form.leave_all)

    screen.new_lot()

    assert field(screen, "name").text() == ""
    assert not screen.form.question.isVisible()


def test_words_are_offered_without_accents_and_taken_with_enter(themes: Themes, show: Show) -> None:
    scene = furnished()
    scene.lot("Other", garden="Lóng Jǐng field")
    screen = new_form(themes, show, scene)
    garden = screen.form.fields["garden"]
    assert isinstance(garden, WordsField)
    garden.setFocus()

    key("jing")
    assert garden.is_offering
    key(Qt.Key.Key_Down, Qt.Key.Key_Return)

    assert garden.text() == "Lóng Jǐng field"
    assert not garden.is_offering
    assert focused() is garden


def test_a_word_that_is_offered_is_taken_by_finger(themes: Themes, show: Show) -> None:
    screen = new_form(themes, show, furnished())
    kind = screen.form.fields["kind"]
    assert isinstance(kind, WordsField)
    kind.setFocus()

    key("wh")
    row = kind.offers.visualRect(kind.offers.model().index(0, 0))
    QTest.mouseClick(kind.offers.viewport(), Qt.MouseButton.LeftButton, pos=row.center())

    assert kind.text() == "white"
    assert focused() is kind
    assert not kind.is_offering


def test_down_offers_everything_and_tab_takes_what_is_marked(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = new_form(themes, show, scene)
    form = screen.form.fields["form"]
    assert isinstance(form, WordsField)
    form.setFocus()

    key(Qt.Key.Key_Down)
    assert form.offers.model().rowCount() >= 8
    key(Qt.Key.Key_Down, Qt.Key.Key_Down, Qt.Key.Key_Up, Qt.Key.Key_Tab)

    assert form.text() == "strip"
    assert not form.is_offering


def test_escape_closes_the_offers_before_it_leaves_the_form(themes: Themes, show: Show) -> None:
    screen = new_form(themes, show, furnished())
    kind = screen.form.fields["kind"]
    assert isinstance(kind, WordsField)
    kind.setFocus()
    key("wh")

    key(Qt.Key.Key_Escape)

    assert not kind.is_offering
    assert screen.form.isVisible()
    assert kind.text() == "wh"
    assert not screen.form.question.isVisible()


def test_offers_stay_inside_the_window_and_close_when_the_page_scrolls(themes: Themes, show: Show) -> None:
    screen = new_form(themes, show, furnished())
    plucking = screen.form.fields["plucking"]
    assert isinstance(plucking, WordsField)
    plucking.setFocus()
    QApplication.processEvents()

    key(Qt.Key.Key_Down)
    assert screen.rect().contains(plucking.offers.geometry())
    area = screen.form.findChild(QScrollArea)
    area.verticalScrollBar().setValue(area.verticalScrollBar().value() + 20)

    assert not plucking.is_offering


def test_any_other_word_is_taken_as_it_is(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = new_form(themes, show, scene)
    key("Ashgrove", Qt.Key.Key_Tab, "purple")

    key(Qt.Key.Key_Return, modifier=CTRL)

    assert scene.journal.lots()[0].kind == "purple"
    assert screen.page.isVisible()


def test_stages_are_written_one_after_the_other(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = amending(themes, show, scene)
    screen.form.steps.add.setFocus()

    key(Qt.Key.Key_Return, "withering")
    key(Qt.Key.Key_Tab, "6", Qt.Key.Key_Return, "rolling")
    key(Qt.Key.Key_Tab)

    lot = scene.shelf.lot(uid_of(scene, "Ashgrove"))
    assert [(step.name, step.hours) for step in lot.processing] == [("withering", 6.0), ("rolling", None)]


def test_stages_are_moved_and_removed_by_finger(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = ShelfScreen(themes, scene.presenter)
    show(screen)
    lot_uid = uid_of(scene, "Heron Ridge", "HR-26")
    screen.open_lot(lot_uid)
    tap(screen.page.amend)
    rows = screen.form.steps.rows
    assert not rows[0].up.isEnabled()

    tap(rows[2].up)
    tap(rows[0].remove)

    assert [step.name for step in scene.shelf.lot(lot_uid).processing] == ["ball-rolling", "bruising"]
    assert [row.name.text() for row in screen.form.steps.rows] == ["ball-rolling", "bruising"]


def test_what_it_follows_is_chosen_from_the_lots(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = amending(themes, show, scene)
    follows = screen.form.follows
    assert follows.currentText() == "none"

    follows.setFocus()
    key(Qt.Key.Key_Down)

    chosen = scene.shelf.lot(uid_of(scene, "Ashgrove")).follows
    assert chosen is not None
    assert follows.currentText().startswith(scene.shelf.lot(chosen).name)


def test_a_full_disk_is_told_at_the_field(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = amending(themes, show, scene)
    field(screen, "batch").setFocus()
    scene.journal.next_commit_fails = JournalFull("The disk is full.")

    key("A-7", Qt.Key.Key_Tab)

    assert screen.form.parts["batch"].note.words == "The disk is full."
    assert field(screen, "batch").text() == "A-7"


def test_notes_take_several_lines(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = amending(themes, show, scene)
    notes = screen.form.fields["notes"]
    assert isinstance(notes, LongField)
    notes.setFocus()

    key("one", Qt.Key.Key_Return, "two", Qt.Key.Key_Tab)

    assert scene.shelf.lot(uid_of(scene, "Ashgrove")).notes == "one\ntwo"


@pytest.mark.parametrize("width", [1440, 1280, 1000])
def test_the_form_is_never_wider_than_the_window(themes: Themes, show: Show, width: int) -> None:
    screen = new_form(themes, show, furnished(), width)
    screen.grab()

    for one in screen.form.fields.values():
        right = one.mapTo(screen, one.rect().topRight()).x()
        assert right <= width - 24


def test_every_field_and_button_has_a_name(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = ShelfScreen(themes, scene.presenter)
    show(screen)
    screen.open_lot(uid_of(scene, "Heron Ridge", "HR-26"))
    tap(screen.page.amend)

    controls = [*screen.form.findChildren(Control), *screen.form.findChildren(QLineEdit)]

    assert [one for one in controls if not told(one)] == []
    assert told(screen.form.fields["notes"]) == "Notes"
    assert screen.form.follows.accessibleName().startswith("Follows")
