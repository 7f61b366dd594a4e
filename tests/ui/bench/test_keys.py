"""The Bench by keyboard alone: the pedal, the say line, and every other key wherever the keyboard is."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QSignalSpy, QTest
from PySide6.QtWidgets import QApplication, QWidget

from tastebook.presenters.help import KEYS
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import ActionButton
from tastebook.ui.widgets.chip import Chip
from tastebook.ui.widgets.family_shelf import FamilyShelf
from tastebook.ui.widgets.scale_slider import ScaleSlider
from tastebook.ui.widgets.stepper import Stepper
from tests.ui.bench.scene import ALT, CONTROL, SHIFT, Scene, build
from tests.ui.widgets.hands import told

Key = Qt.Key
Show = Callable[[QWidget], None]


def test_the_say_line_has_the_keyboard_from_the_start(scene: Scene) -> None:
    assert scene.keyboard_is_with(scene.screen.card.say)


# -- the pedal


def test_space_is_water_on_pour_and_next_while_the_say_line_is_empty(scene: Scene) -> None:
    phases = [scene.timer.phase]

    for _ in range(3):
        scene.press(Key.Key_Space)
        phases.append(scene.timer.phase)

    assert phases == ["ready", "steeping", "poured", "ready"]
    assert scene.timer.title == "Infusion 1"
    assert scene.screen.card.say.text() == ""


def test_space_within_words_is_a_space(scene: Scene) -> None:
    scene.type("white")

    scene.press(Key.Key_Space)
    scene.type("peach")

    assert scene.screen.card.say.text() == "white peach"
    assert scene.timer.phase == "ready"


def test_control_space_pours_also_within_words_and_the_words_stay(scene: Scene) -> None:
    scene.type("white p")

    scene.press(Key.Key_Space, CONTROL)
    scene.type("each")

    assert scene.timer.phase == "steeping"
    assert scene.screen.card.say.text() == "white peach"


def test_the_button_shows_the_key_that_pours_where_the_keyboard_is(scene: Scene) -> None:
    def shown() -> str:
        return scene.screen.timer.findChild(ActionButton).accessibleDescription()

    keys = [shown()]
    scene.press(Key.Key_Space)
    scene.type("white")
    keys.append(shown())
    scene.press(Key.Key_Return)
    keys.append(shown())
    scene.press(Key.Key_Return, CONTROL)  # to the verdict: the cursor stands in its one line
    keys.append(shown())
    scene.press(Key.Key_Space)
    scene.screen.setFocus()
    keys.append(shown())

    assert keys == ["Key: Space", "Key: Ctrl Space", "Key: Space", "Key: Ctrl Space", "Key: Space"]
    assert scene.timer.phase != "poured"


def test_page_down_is_a_pedal_also_within_words(scene: Scene) -> None:
    scene.type("white p")

    scene.press(Key.Key_PageDown)

    assert scene.timer.phase == "steeping"
    assert scene.screen.card.say.text() == "white p"


def test_a_pedal_that_is_held_down_is_one_press(scene: Scene) -> None:
    QTest.keyPress(scene.screen.card.say, Key.Key_PageDown)
    QTest.keyRelease(scene.screen.card.say, Key.Key_PageDown)
    QTest.keyPress(scene.screen.card.say, Key.Key_PageDown)  # it chatters: no time has passed

    assert scene.timer.phase == "steeping"


def test_pedals_are_bound_anew_and_the_old_ones_forgotten(scene: Scene) -> None:
    scene.screen.bind_pedals(["F8"])

    scene.press(Key.Key_PageDown)
    after_the_old_one = scene.timer.phase
    scene.press(Key.Key_F8)

    assert (after_the_old_one, scene.timer.phase) == ("ready", "steeping")


def test_binding_pedals_many_times_leaves_each_key_one_press(scene: Scene) -> None:
    for _ in range(3):
        scene.screen.bind_pedals(["Space", "PgDown"])
    QApplication.processEvents()

    scene.press(Key.Key_PageDown)

    assert scene.timer.phase == "steeping"


@pytest.mark.parametrize("kind", [Chip, Stepper, ScaleSlider])
def test_space_is_the_pedal_wherever_the_keyboard_is(scene: Scene, kind: type[QWidget]) -> None:
    scene.steep(5)
    scene.press(Key.Key_Space)
    scene.steep(20)
    scene.go("1", "flavour" if kind is Chip else "first_sip")
    if kind is Chip:
        scene.say("orchid 3")
    scene.press(Key.Key_Space)  # on to infusion 2
    next(one for one in scene.screen.findChildren(kind) if one.isVisible()).setFocus()

    scene.press(Key.Key_Space)

    assert (scene.timer.title, scene.timer.phase) == ("Infusion 2", "steeping")


# -- water and plan, the column, the step


@pytest.mark.parametrize(
    ("typed", "plan", "water"),
    [("-", "4 s", "95 °C"), ("+", "6 s", "95 °C"), ("=", "6 s", "95 °C"), ("[", "5 s", "94 °C"), ("]", "5 s", "96 °C")],
)
@pytest.mark.parametrize("is_in_the_line", [True, False])
def test_signs_set_plan_and_water_while_no_words_are_typed(
    scene: Scene, typed: str, plan: str, water: str, is_in_the_line: bool
) -> None:
    if not is_in_the_line:
        scene.screen.setFocus()

    scene.type(typed)

    assert (scene.timer.plan_value, scene.timer.water) == (plan, water)
    assert scene.screen.card.say.text() == ""


@pytest.mark.parametrize("typed", ["-", "+", "=", "[", "]", "_", "?", "0", "5"])
def test_signs_within_words_are_typed(scene: Scene, typed: str) -> None:
    scene.type("a" + typed)

    assert scene.screen.card.say.text() == "a" + typed
    assert scene.timer.plan_value == "5 s"


def test_every_sign_that_asks_while_the_line_is_empty_means_something(scene: Scene) -> None:
    for sign in "[]-+=_?!.0123456789":
        scene.type(sign)
        scene.screen.card.say.clear()
        scene.bench.type("")


def test_alt_and_arrows_go_along_the_strip_and_stop_at_its_ends(scene: Scene) -> None:
    columns = []

    for key in (Key.Key_Left, Key.Key_Right, Key.Key_Right, Key.Key_Right, Key.Key_Left):
        scene.press(key, ALT)
        columns.append(scene.bench.column)

    assert columns == ["leaf", "0", "close", "close", "0"]


def test_alt_and_a_digit_choose_the_step(scene: Scene) -> None:
    scene.press(Key.Key_2, ALT)
    second = scene.bench.step.key
    scene.press(Key.Key_1, ALT)

    assert (second, scene.bench.step.key) == ("warmed_leaf", "dry_leaf")


def test_alt_and_a_digit_beyond_the_last_step_do_nothing(scene: Scene) -> None:
    scene.press(Key.Key_6, ALT)

    assert scene.bench.step.key == "dry_leaf"


def test_words_being_typed_are_kept_when_another_step_is_chosen(scene: Scene) -> None:
    scene.type("toasted rice 4")

    scene.press(Key.Key_2, ALT)

    assert scene.words == {"toasted rice": 4}
    assert scene.screen.card.say.text() == ""


def test_control_n_passes_the_rinse_over(scene: Scene) -> None:
    scene.press(Key.Key_N, CONTROL)

    assert scene.timer.title == "Infusion 1"


# -- words


def test_words_are_taken_by_enter_and_the_line_is_empty_again(scene: Scene) -> None:
    scene.say("orchid 4, no rose")

    assert scene.words == {"orchid": 4, "rose": 0}
    assert scene.screen.card.say.text() == ""
    assert scene.keyboard_is_with(scene.screen.card.say)


def test_control_z_takes_back_what_was_said_while_the_line_is_empty(scene: Scene) -> None:
    scene.say("orchid 4")

    scene.press(Key.Key_Z, CONTROL)
    after_undo = dict(scene.words)
    scene.press(Key.Key_Y, CONTROL)

    assert (after_undo, scene.words) == ({}, {"orchid": 4})


def test_control_shift_z_does_it_again(scene: Scene) -> None:
    scene.say("orchid 4")
    scene.press(Key.Key_Z, CONTROL)

    scene.press(Key.Key_Z, CONTROL | SHIFT)

    assert scene.words == {"orchid": 4}


def test_control_z_within_words_takes_back_typing_alone(scene: Scene) -> None:
    scene.say("orchid 4")
    scene.type("ros")

    scene.press(Key.Key_Z, CONTROL)

    assert scene.words == {"orchid": 4}
    assert scene.screen.card.say.text() != "ros"


def test_control_z_at_the_beginning_leaves_the_session_alone(scene: Scene) -> None:
    scene.press(Key.Key_Z, CONTROL)
    scene.say("orchid 4")

    assert scene.words == {"orchid": 4}
    assert scene.bench.view().notice == ""


@pytest.mark.parametrize("kind", [Chip, Stepper])
def test_letters_typed_anywhere_land_in_the_say_line(scene: Scene, kind: type[QWidget]) -> None:
    scene.say("orchid 4")
    next(one for one in scene.screen.findChildren(kind) if one.isVisible()).setFocus()

    scene.type("white peach")

    assert scene.screen.card.say.text() == "white peach"
    assert scene.keyboard_is_with(scene.screen.card.say)


def test_letters_that_are_no_latin_ones_land_there_too(scene: Scene) -> None:
    scene.screen.setFocus()

    scene.type("écru")

    assert scene.screen.card.say.text() == "écru"


def test_f_goes_to_the_families_unless_words_are_being_typed(scene: Scene) -> None:
    scene.type("f")
    typed = scene.screen.card.say.text()
    scene.screen.card.say.clear()
    scene.bench.type("")
    scene.screen.setFocus()

    scene.type("f")

    assert typed == "f"
    shelf = scene.screen.findChild(FamilyShelf)
    assert shelf is not None
    assert shelf.isAncestorOf(QApplication.focusWidget())


def test_alt_f_goes_to_the_families_from_the_say_line(scene: Scene) -> None:
    scene.press(Key.Key_F, ALT)

    shelf = scene.screen.findChild(FamilyShelf)
    assert shelf is not None
    assert shelf.isAncestorOf(QApplication.focusWidget())


def test_escape_leaves_the_say_line_and_escape_comes_back_to_it(scene: Scene) -> None:
    scene.type("orchid")

    scene.press(Key.Key_Escape)
    left = not scene.keyboard_is_with(scene.screen.card.say)
    scene.press(Key.Key_Escape)

    assert left
    assert scene.keyboard_is_with(scene.screen.card.say)
    assert scene.screen.card.say.text() == "orchid"


@pytest.mark.parametrize("is_in_the_line", [True, False])
def test_the_question_mark_asks_for_the_keys(scene: Scene, is_in_the_line: bool) -> None:
    asked = QSignalSpy(scene.screen.help_requested)
    if not is_in_the_line:
        scene.screen.setFocus()

    scene.type("?")

    assert asked.count() == 1


def test_control_enter_goes_to_the_verdict_and_then_ends_the_session(scene: Scene) -> None:
    asked = QSignalSpy(scene.screen.arc_requested)
    scene.steep(5)

    scene.press(Key.Key_Return, CONTROL)
    at_the_verdict = (scene.bench.step.key, asked.count())
    scene.press(Key.Key_Return, CONTROL)

    assert at_the_verdict == ("verdict", 0)
    assert asked.count() == 1
    assert not scene.kit.desk.tasting.session.is_open


def test_tab_takes_the_word_offered_then_goes_to_the_first_chip(scene: Scene) -> None:
    scene.say("orchid 4")
    scene.type("white pea")
    scene.press(Key.Key_Tab)
    completed = scene.screen.card.say.text()
    scene.press(Key.Key_Return)

    scene.press(Key.Key_Tab)

    assert completed == "white peach"
    assert isinstance(QApplication.focusWidget(), Chip)


def test_words_offered_once_are_not_offered_after_they_were_taken(scene: Scene) -> None:
    scene.type("cedar")
    scene.press(Key.Key_Return)

    scene.press(Key.Key_Tab)

    assert scene.screen.card.say.text() == ""


@pytest.mark.parametrize("digit", [0, 1, 2, 3, 4, 5])
def test_a_digit_sets_the_strength_of_the_chip(scene: Scene, digit: int) -> None:
    scene.say("orchid 3")
    scene.press(Key.Key_Tab)

    scene.press(Key(Key.Key_0 + digit))

    assert scene.words == {"orchid": digit}
    assert isinstance(QApplication.focusWidget(), Chip)


@pytest.mark.parametrize("key", [Key.Key_Delete, Key.Key_Backspace])
def test_delete_removes_the_word_of_the_chip(scene: Scene, key: Qt.Key) -> None:
    scene.say("orchid 3, rose 2")
    scene.press(Key.Key_Tab)

    scene.press(key)

    assert len(scene.words) == 1


def test_the_keyboard_goes_to_the_next_word_when_one_is_removed_and_at_last_to_the_say_line(scene: Scene) -> None:
    scene.say("orchid 3, rose 2, jasmine 1")
    scene.press(Key.Key_Tab)
    stations = []

    for _ in range(3):
        stations.append(told(QApplication.focusWidget()).split(",")[0])
        scene.press(Key.Key_Delete)

    assert stations == ["orchid", "rose", "jasmine"]
    assert scene.words == {}
    assert scene.keyboard_is_with(scene.screen.card.say)


def test_tab_goes_from_chip_to_chip_and_shift_tab_back(scene: Scene) -> None:
    scene.say("orchid 3, rose 2")
    scene.press(Key.Key_Tab)
    first = QApplication.focusWidget()

    scene.press(Key.Key_Tab)
    second = QApplication.focusWidget()
    scene.press(Key.Key_Backtab, SHIFT)

    assert isinstance(second, Chip)
    assert second is not first
    assert QApplication.focusWidget() is first


# -- the timer alone


def test_f11_shows_the_timer_alone_and_escape_shows_all_again(scene: Scene) -> None:
    asked = QSignalSpy(scene.screen.full_window_requested)

    scene.press(Key.Key_F11)
    alone = (scene.screen.card.isVisible(), scene.screen.timer.isVisible())
    scene.press(Key.Key_Space)
    scene.press(Key.Key_Escape)

    assert alone == (False, True)
    assert scene.timer.phase == "steeping"
    assert scene.screen.card.isVisible()
    assert [asked.at(place)[0] for place in range(asked.count())] == [True, False]
    assert scene.keyboard_is_with(scene.screen.card.say)


def test_every_key_of_the_table_is_bound_once(themes: Themes, show: Show) -> None:
    """Qt calls no one when a key is bound twice, so each key that the help lists must be free of others."""
    scene = build(themes)
    show(scene.screen)
    named = [key for row in KEYS if row.place in ("bench", "everywhere") for key in row.keys]

    assert len(named) == len(set(named))


def test_no_key_of_the_bench_is_swallowed_by_the_verdict(scene: Scene) -> None:
    scene.steep(5)
    scene.press(Key.Key_Return, CONTROL)

    scene.type("buy four kilos?")
    scene.press(Key.Key_Space, CONTROL)

    headline = QApplication.focusWidget()
    assert headline.property("text") == "buy four kilos?"
    assert scene.timer.phase == "ready"
