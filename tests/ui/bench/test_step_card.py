"""The step card: tabs, the say line with its offers, and the sheets, by finger and by key."""

from __future__ import annotations

from collections.abc import Callable
from itertools import groupby

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible, QContextMenuEvent
from PySide6.QtTest import QSignalSpy, QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QMenu, QPlainTextEdit, QWidget
from pytestqt.qtbot import QtBot

from tastebook.presenters.bench.views import TabState, TabView
from tastebook.ui.bench.aroma_page import Caption
from tastebook.ui.bench.chip_board import ChipBoard
from tastebook.ui.bench.finish_page import Stopwatch
from tastebook.ui.bench.liquor_page import LiquorWords
from tastebook.ui.bench.step_card import OfferRow, PromptLine, StepCard, tab_view
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import LabelButton, PlainButton, QuietButton
from tastebook.ui.widgets.chip import Chip
from tastebook.ui.widgets.family_shelf import FamilyTile
from tastebook.ui.widgets.hints import FieldNote
from tastebook.ui.widgets.scale_slider import ScaleSlider
from tastebook.ui.widgets.segmented_choice import Segment
from tastebook.ui.widgets.step_tab import StepTab
from tastebook.ui.widgets.stepper import Stepper
from tastebook.ui.widgets.swatch_chart import SwatchButton
from tastebook.ui.widgets.tab_walk import tab_stops
from tests.ui.bench.scene import Scene
from tests.ui.widgets.hands import tap, told, type_keys

Show = Callable[[QWidget], None]
opens_a_menu = pytest.mark.qt_log_ignore(r"This plugin does not support (raise\(\)|grabbing the keyboard)", extend=True)
"""Said by Qt's off-screen plugin about every menu."""


def shown(scene: Scene, kind: type[QWidget], words: str = "") -> QWidget:
    """Return the one widget of a kind that is seen, or the one whose name begins with some words."""
    found = [one for one in scene.screen.findChildren(kind) if one.isVisible() and told(one).startswith(words)]
    assert len(found) == 1, [told(one) for one in scene.screen.findChildren(kind) if one.isVisible()]
    return found[0]


def button(scene: Scene, label: str) -> QWidget:
    found = [one for one in scene.screen.findChildren(LabelButton) if one.isVisible() and one.label == label]
    assert len(found) == 1, label
    return found[0]


def chips(scene: Scene) -> dict[str, Chip]:
    return {told(one).split(",")[0]: one for one in scene.screen.findChildren(Chip) if one.isVisible()}


def tabs(scene: Scene) -> dict[str, StepTab]:
    return {told(one): one for one in scene.screen.findChildren(StepTab) if one.isVisible()}


def offered(scene: Scene) -> list[str]:
    row = scene.screen.findChild(OfferRow)
    assert row is not None
    return [one.label for one in row.findChildren(PlainButton) if one.isVisible()]


def at_first_cup(scene: Scene, step: str) -> None:
    """Pass the rinse over, steep infusion 1, and stand at one of its steps."""
    scene.press(Qt.Key.Key_N, Qt.KeyboardModifier.ControlModifier)
    scene.steep(20)
    scene.go("1", step)


def at_second_cup(scene: Scene, step: str) -> None:
    scene.press(Qt.Key.Key_Space)
    scene.steep(25)
    scene.go("2", step)


# -- tabs


def test_the_tabs_are_the_steps_of_the_column(scene: Scene) -> None:
    at_leaf = list(tabs(scene))

    at_first_cup(scene, "liquor")

    assert at_leaf == ["Dry leaf", "Warmed leaf"]
    assert list(tabs(scene)) == ["Liquor", "First sip", "Flavour", "Empty cup"]


def test_a_tab_is_chosen_by_a_finger_and_the_keyboard_stays(scene: Scene) -> None:
    tap(tabs(scene)["Warmed leaf"])

    assert scene.bench.step.key == "warmed_leaf"
    assert scene.keyboard_is_with(scene.screen.card.say)


def test_the_prompt_asks_what_the_step_asks(scene: Scene) -> None:
    assert told(shown(scene, PromptLine)).startswith("What does the dry leaf show?")


@pytest.mark.parametrize("state", ["waiting", "todo", "now", "done", "late", "missed", "skipped"])
def test_every_state_of_a_step_can_be_drawn(themes: Themes, show: Show, state: TabState) -> None:
    tab = StepTab(themes, tab_view(TabView("lid", "Lid", "after the pour", state, is_current=False)))
    tab.resize(220, 74)

    show(tab)

    assert told(tab) == "Lid"
    assert not tab.grab().isNull()


def test_a_step_is_skipped_and_taken_up_again(scene: Scene) -> None:
    tap(button(scene, "Skip"))
    skipped, moved_on_to = scene.kit.desk.tasting.marks, scene.bench.step.key
    scene.go("leaf", "dry_leaf")

    tap(button(scene, "Take up"))

    assert [one.mark for one in skipped] == ["skipped"]
    assert moved_on_to == "warmed_leaf"
    assert scene.kit.desk.tasting.marks == ()


def test_a_step_that_is_done_cannot_be_skipped(scene: Scene) -> None:
    scene.say("orchid 3")

    assert [one for one in scene.screen.findChildren(LabelButton) if one.isVisible() and one.label == "Skip"] == []


def test_a_missed_step_says_what_can_still_be_done(scene: Scene) -> None:
    scene.steep(5)
    scene.go("leaf", "dry_leaf")

    assert "pinch of the same leaf" in told(shown(scene, PromptLine))
    assert "missed" in told(tabs(scene)["Warmed leaf"], QAccessible.Text.Value)


# -- words


def test_each_letter_is_told_and_enter_says_the_words(themes: Themes, scene: Scene, show: Show) -> None:
    card = StepCard(themes, [(one.key, one.name) for one in scene.kit.words().families])
    card.show_view(scene.bench.card())
    show(card)
    card.take_keyboard()
    typed, said = QSignalSpy(card.typed), QSignalSpy(card.said)

    type_keys(card.say, "tar", Qt.Key.Key_Return)

    assert [typed.at(place)[0] for place in range(typed.count())] == ["t", "ta", "tar"]
    assert [said.at(place)[0] for place in range(said.count())] == ["tar"]


def test_what_is_typed_is_shown_as_understood_before_enter(scene: Scene) -> None:
    scene.type("orchid 4, rose")

    assert {word: told(chip, QAccessible.Text.Value)[0] for word, chip in chips(scene).items()} == {
        "orchid": "4",
        "rose": "3",
    }
    assert scene.words == {}


def test_words_are_offered_and_taken_by_a_finger(scene: Scene) -> None:
    scene.type("no rose, white pea")
    words = offered(scene)

    tap(button(scene, words[0]))

    assert words[0] == "white peach"
    assert scene.screen.card.say.text() == "no rose, white peach"
    assert scene.keyboard_is_with(scene.screen.card.say)


def test_the_hint_gives_way_to_the_words_offered_and_comes_back(scene: Scene) -> None:
    scene.type("white pea")
    during = offered(scene)

    scene.press(Qt.Key.Key_Return)

    assert during
    assert offered(scene) == []


def test_a_new_word_is_underlined_and_asked_about_once_it_is_ended(scene: Scene) -> None:
    scene.type("cloudberry")
    while_typing = scene.screen.card.say.marks

    scene.type(", ")

    assert while_typing == ()
    (mark,) = scene.screen.card.say.marks
    assert (mark.begin, mark.end, mark.line) == (0, 10, "dotted")
    assert told(shown(scene, FieldNote)).startswith("“cloudberry” is new: fruity? Enter keeps it so")


def test_a_new_word_is_given_its_family_by_one_press(scene: Scene) -> None:
    scene.say("wet velvet 2")
    caption = told(shown(scene, Caption))

    tap(shown(scene, FamilyTile, "earthy"))

    assert "“wet velvet” is new: press its family" in caption
    assert scene.kit.words().family_of("wet-velvet") == "earthy"


def test_what_cannot_be_done_is_said_under_the_line(scene: Scene) -> None:
    scene.press(Qt.Key.Key_N, Qt.KeyboardModifier.ControlModifier)
    scene.go("1", "liquor")

    scene.say("clear")

    note = shown(scene, FieldNote)
    assert told(note) == "Infusion 1 has not been begun."
    assert scene.screen.card.say.text() == "clear"
    scene.screen.card.say.clear()
    scene.type("x")
    assert not note.isVisible()


# -- chips


def test_a_finger_along_the_pips_sets_the_strength(scene: Scene) -> None:
    scene.say("orchid 3")
    chip = chips(scene)["orchid"]

    tap(chip, chip.width() - 40)

    assert scene.words["orchid"] == 5


def test_the_keyboard_stays_with_the_chip_while_its_strength_is_set(scene: Scene) -> None:
    scene.say("orchid 3, rose 2")
    chip = chips(scene)["rose"]
    chip.setFocus()

    for digit in (Qt.Key.Key_5, Qt.Key.Key_1):
        scene.press(digit)

    assert scene.words["rose"] == 1
    assert QApplication.focusWidget() is chip


def test_what_the_last_cup_had_is_confirmed_by_one_tap(scene: Scene) -> None:
    at_first_cup(scene, "flavour")
    scene.say("orchid 4")
    at_second_cup(scene, "flavour")

    tap(chips(scene)["orchid"], 30)

    assert [(one.infusion, one.intensity) for one in scene.kit.desk.tasting.impressions] == [(1, 4), (2, 4)]


@opens_a_menu
@pytest.mark.parametrize(("words", "mark"), [("Clouded by the surroundings", "clouded"), ("Doubtful", "doubtful")])
def test_a_mark_is_put_on_a_word_by_its_menu(scene: Scene, words: str, mark: str) -> None:
    scene.say("orchid 3")

    choose(chips(scene)["orchid"], words)

    assert getattr(scene.kit.desk.tasting.impressions[0], mark)
    choose(chips(scene)["orchid"], words)
    assert not getattr(scene.kit.desk.tasting.impressions[0], mark)


@opens_a_menu
@pytest.mark.parametrize(("words", "left"), [("Absent", {"orchid": 0}), ("Remove", {})])
def test_a_word_is_made_absent_or_removed_by_its_menu(scene: Scene, words: str, left: dict[str, int]) -> None:
    scene.say("orchid 3")

    choose(chips(scene)["orchid"], words)

    assert scene.words == left


@opens_a_menu
@pytest.mark.parametrize(("words", "left"), [("Absent", {"orchid": 0}), ("Leave as words only", {})])
def test_a_word_that_is_only_typed_is_set_right_by_its_menu(scene: Scene, words: str, left: dict[str, int]) -> None:
    scene.type("orchid 3")

    choose(chips(scene)["orchid"], words)
    before_enter = dict(scene.words)
    scene.press(Qt.Key.Key_Return)

    assert before_enter == {}
    assert scene.words == left
    assert [one.text for one in scene.kit.desk.tasting.sayings] == ["orchid 3"]


def open_menu(widget: QWidget) -> None:
    middle = widget.rect().center()
    event = QContextMenuEvent(QContextMenuEvent.Reason.Mouse, middle, widget.mapToGlobal(middle))
    QApplication.sendEvent(widget, event)


def choose(widget: QWidget, words: str) -> None:
    """Open the menu of a widget and choose one line of it."""
    open_menu(widget)
    menu = QApplication.activePopupWidget()
    assert isinstance(menu, QMenu)
    next(action for action in menu.actions() if action.text() == words).trigger()
    menu.close()


def test_chips_of_one_group_stand_one_below_the_other(scene: Scene) -> None:
    scene.say("orchid 3, toasted rice 2, rose 4, jasmine 1")

    board = next(one for one in scene.screen.findChildren(ChipBoard) if one.isVisible())
    floral = [chips(scene)[word] for word in ("orchid", "rose", "jasmine")]

    assert len({chip.x() for chip in floral}) == 1
    assert [chip.y() for chip in floral] == sorted({chip.y() for chip in floral})
    assert list(board.in_reading_order()) == list(board.chips)


# -- families


def test_a_family_lays_its_words_out_and_a_press_notes_one(scene: Scene) -> None:
    tap(shown(scene, FamilyTile, "floral"))
    words = {one.label for one in scene.screen.findChildren(QuietButton) if one.isVisible()}
    tap(button(scene, "orchid"))

    assert {one.name for one in scene.kit.words().in_family("floral")} <= words
    assert scene.words == {"orchid": 3}
    assert not button(scene, "orchid").isEnabled()
    tap(shown(scene, FamilyTile, "floral"))
    assert list(chips(scene)) == ["orchid"]


def test_another_familys_words_take_the_place_of_the_first(scene: Scene) -> None:
    tap(shown(scene, FamilyTile, "floral"))

    tap(shown(scene, FamilyTile, "nutty"))
    QApplication.processEvents()  # what is added to a layout is shown a moment later

    labels = {one.label for one in scene.screen.findChildren(QuietButton) if one.isVisible()}
    assert {one.name for one in scene.kit.words().in_family("nutty")} <= labels
    assert not {one.name for one in scene.kit.words().in_family("floral")} & labels


def test_tab_goes_to_the_first_word_of_an_opened_family(scene: Scene) -> None:
    tap(shown(scene, FamilyTile, "floral"))

    scene.press(Qt.Key.Key_Tab)

    focused = QApplication.focusWidget()
    assert isinstance(focused, QuietButton)
    assert focused.label == scene.kit.words().in_family("floral")[0].name


# -- the other sheets


def sliders(scene: Scene) -> dict[str, ScaleSlider]:
    return {told(one): one for one in scene.screen.findChildren(ScaleSlider) if one.isVisible()}


def readings(scene: Scene) -> dict[str, float]:
    return {one.scale: one.value for one in scene.kit.desk.tasting.readings}


def test_a_scale_is_set_and_cleared_by_key(scene: Scene) -> None:
    at_first_cup(scene, "first_sip")
    scene.press(Qt.Key.Key_Tab)
    set_by_key = []

    for key in (Qt.Key.Key_4, Qt.Key.Key_Right, Qt.Key.Key_Delete):
        scene.press(key)
        set_by_key.append(readings(scene))

    assert set_by_key == [{"body": 4}, {"body": 5}, {}]


def test_texture_words_move_the_scales_before_they_are_taken(scene: Scene) -> None:
    at_first_cup(scene, "first_sip")

    scene.type("thick 4")

    assert "4 of 5" in told(sliders(scene)["Body"], QAccessible.Text.Value)
    assert readings(scene) == {}


def test_a_scale_tells_what_it_was_at_the_last_cup(scene: Scene) -> None:
    at_first_cup(scene, "first_sip")
    scene.bench.read("body", 3)
    at_second_cup(scene, "first_sip")

    assert "not set, 3 at last time" in told(sliders(scene)["Body"], QAccessible.Text.Value)


@opens_a_menu
def test_a_mark_is_put_on_a_reading_by_its_menu(scene: Scene, qtbot: QtBot) -> None:
    at_first_cup(scene, "first_sip")
    scene.bench.read("body", 3)
    scene.screen.refresh()

    choose(sliders(scene)["Body"], "Doubtful")

    assert scene.kit.desk.tasting.readings[0].doubtful
    choose(sliders(scene)["Body"], "Not assessed")
    assert readings(scene) == {}


def test_a_scale_that_is_not_set_has_no_menu(scene: Scene) -> None:
    at_first_cup(scene, "first_sip")

    open_menu(sliders(scene)["Body"])

    assert QApplication.activePopupWidget() is None


def test_before_a_colour_is_chosen_its_steppers_say_what_they_are_and_show_no_value(scene: Scene) -> None:
    at_first_cup(scene, "liquor")
    tap([one for one in scene.screen.findChildren(SwatchButton) if one.isVisible()][25])
    first = shown(scene, Stepper, "lightness").view.value
    scene.steep(20)
    scene.go("2", "liquor")

    steppers = [one.view for one in scene.screen.findChildren(Stepper) if one.isVisible()]
    values = {one.caption: one.value for one in steppers if one.caption in ("lightness", "red", "yellow")}

    assert first.isdigit()
    assert values == {"lightness": "–", "red": "–", "yellow": "–"}


def test_a_swatch_is_pressed_then_moved_a_little(scene: Scene) -> None:
    at_first_cup(scene, "liquor")
    swatches = [one for one in scene.screen.findChildren(SwatchButton) if one.isVisible()]
    tap(swatches[25])
    chosen = scene.kit.desk.tasting.infusion(1)
    assert chosen is not None
    assert chosen.liquor is not None

    lightness = shown(scene, Stepper, "lightness")
    tap(lightness, 10)

    cup = scene.kit.desk.tasting.infusion(1)
    assert cup is not None
    assert cup.liquor == (chosen.liquor[0] - 1, *chosen.liquor[1:])
    assert cup.liquor_source == "adjusted"
    assert told(shown(scene, LiquorWords))


def test_clarity_is_chosen_by_a_finger(scene: Scene) -> None:
    at_first_cup(scene, "liquor")

    tap(shown(scene, Segment, "dim"))

    cup = scene.kit.desk.tasting.infusion(1)
    assert cup is not None
    assert cup.clarity == "dim"


def test_a_cup_that_is_not_poured_has_no_liquor_to_choose(scene: Scene) -> None:
    scene.press(Qt.Key.Key_N, Qt.KeyboardModifier.ControlModifier)

    scene.go("1", "liquor")

    swatches = [one for one in scene.screen.findChildren(SwatchButton) if one.isVisible()]
    assert swatches
    assert not any(one.isEnabled() for one in swatches)


def test_the_stopwatch_counts_from_the_swallow_and_keeps_the_length(scene: Scene, qtbot: QtBot) -> None:
    scene.steep(5)
    scene.go("close", "finish")
    tap(button(scene, "Swallow"))
    watch = shown(scene, Stopwatch)

    scene.kit.clock.advance(47)
    qtbot.waitUntil(lambda: told(watch) == "Finish 47 s since the swallow", timeout=2000)
    tap(button(scene, "Nothing left"))

    assert readings(scene) == {"finish_length_s": 47}
    assert told(watch) == "Finish 47 s from the swallow"
    assert button(scene, "Again from the swallow").isVisible()


def test_what_stays_at_the_finish_is_shown_as_chips(scene: Scene) -> None:
    scene.steep(5)
    scene.go("close", "finish")

    scene.say("orchid 2")

    assert list(chips(scene)) == ["orchid"]


# -- the verdict


def field(scene: Scene, caption: str) -> QLineEdit:
    return next(one for one in scene.screen.findChildren(QLineEdit) if one.accessibleName() == caption)


def at_the_verdict(scene: Scene) -> None:
    scene.steep(5)
    scene.go("close", "verdict")


def test_the_verdict_begins_at_the_one_line(scene: Scene) -> None:
    at_the_verdict(scene)

    assert scene.keyboard_is_with(field(scene, "In one line"))


def test_a_field_is_kept_when_it_is_left(scene: Scene) -> None:
    at_the_verdict(scene)
    scene.type("Buy four kilos.")
    before = scene.kit.desk.tasting.verdict

    scene.press(Qt.Key.Key_Tab)

    assert before is None
    assert scene.kit.desk.verdict().headline == "Buy four kilos."


def test_a_field_is_kept_when_another_column_is_pressed_instead(scene: Scene) -> None:
    at_the_verdict(scene)
    scene.type("Buy four kilos.")

    scene.press(Qt.Key.Key_Left, Qt.KeyboardModifier.AltModifier)

    assert scene.kit.desk.verdict().headline == "Buy four kilos."
    assert scene.bench.column == "1"


def test_the_note_is_kept_when_the_bench_is_left(scene: Scene) -> None:
    at_the_verdict(scene)
    note = next(one for one in scene.screen.findChildren(QPlainTextEdit) if one.isVisible())
    note.setFocus()
    QTest.keyClicks(note, "A kind tea.")
    left = QSignalSpy(scene.screen.left)

    tap(shown(scene, QWidget, "Back to the Shelf"))

    assert left.count() == 1
    assert scene.kit.desk.verdict().note == "A kind tea."


def test_a_decision_is_chosen_by_a_finger(scene: Scene) -> None:
    at_the_verdict(scene)

    tap(shown(scene, Segment, "Decline"))

    assert scene.kit.desk.verdict().decision == "decline"


def test_a_tea_that_rests_is_given_a_date_that_can_be_changed(scene: Scene) -> None:
    at_the_verdict(scene)
    tap(shown(scene, Segment, "Rest until"))
    given = field(scene, "Rest until").text()
    tap(field(scene, "Rest until"))  # what stands there is chosen, to be typed over
    QApplication.processEvents()

    told_before = told(shown(scene, FieldNote))
    scene.type("1 June 2026")
    scene.press(Qt.Key.Key_Return)

    QApplication.processEvents()
    assert field(scene, "Rest until").selectedText() == "1 June 2026"  # to be typed over again
    assert told_before.startswith("Rests for 30 days from the day it was tasted.")
    assert told(shown(scene, FieldNote)).startswith("Rests for 44 days")
    assert given == "18 May 2026"  # 30 days after the session of 18 April
    assert scene.kit.desk.verdict().rest_until.isoformat() == "2026-06-01"  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("caption", "typed", "words"),
    [
        ("Quantity, kg", "-4", "quantity cannot be -4 kg"),
        ("Good infusions", "six", "“six” is not a number of infusions"),
        ("Rest until", "soon", "“soon” is not a day"),
    ],
)
def test_what_cannot_be_meant_is_said_at_the_verdict(scene: Scene, caption: str, typed: str, words: str) -> None:
    at_the_verdict(scene)
    field(scene, caption).setFocus()
    place = field(scene, caption).mapTo(scene.screen, QPoint())

    scene.type(typed)
    scene.press(Qt.Key.Key_Return)

    assert told(shown(scene, FieldNote)).startswith(words)
    assert field(scene, caption).text() == typed
    QApplication.processEvents()
    assert field(scene, caption).mapTo(scene.screen, QPoint()) == place
    assert scene.kit.desk.tasting.verdict is None


def test_letters_typed_at_the_verdict_stay_in_its_field(scene: Scene) -> None:
    at_the_verdict(scene)

    scene.type("fine")

    assert field(scene, "In one line").text() == "fine"
    assert scene.screen.card.say.text() == ""


# -- the way through by Tab


@pytest.mark.parametrize(
    ("column", "step", "sheet"),
    [
        ("1", "liquor", ["PlainButton", "SayField", "SwatchButton", "Segment"]),
        ("1", "first_sip", ["PlainButton", "SayField", "ScaleSlider"]),
        ("1", "flavour", ["PlainButton", "SayField", "FamilyTile"]),
        ("close", "finish", ["PlainButton", "SayField", "QuietButton", "ScaleSlider"]),
        ("close", "verdict", ["PlainButton", "Segment", "QLineEdit", "QPlainTextEdit"]),
    ],
)
def test_tab_goes_from_header_to_strip_to_card_to_timer(scene: Scene, column: str, step: str, sheet: list[str]) -> None:
    at_first_cup(scene, "liquor")
    scene.go(column, step)

    kinds = [kind for kind, _ in groupby(type(stop).__name__ for stop in tab_stops(scene.screen))]

    header, timer = ["BackButton", "QuietButton"], ["Stepper", "PlainButton", "ActionButton"]
    assert kinds == [*header, "ColumnButton", "StepTab", *sheet, *timer]


def test_chips_come_in_their_groups_however_late_they_were_noted(scene: Scene) -> None:
    scene.say("orchid 3")
    scene.say("toasted rice 2")
    scene.say("rose 4")

    stops = [told(stop).split(",")[0] for stop in tab_stops(scene.screen) if isinstance(stop, Chip)]

    assert stops == ["orchid", "rose", "toasted rice"]


def test_a_press_beside_everything_does_nothing(scene: Scene) -> None:
    before = scene.bench.view()

    QTest.mouseClick(scene.screen, Qt.MouseButton.LeftButton, pos=QPoint(4, 4))

    assert scene.bench.view() == before
