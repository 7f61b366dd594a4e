"""The buttons: when they ask, by which key, and what a screen reader is told."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QSignalSpy, QTest
from PySide6.QtWidgets import QWidget

from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import ActionButton, BackButton, PlainButton, QuietButton
from tastebook.ui.widgets.drawn import Pressable
from tests.ui.widgets.hands import let_go, press, slide, tap, told, told_role, type_keys

Show = Callable[[QWidget], None]
Make = Callable[[Themes], Pressable]

BUTTONS: list[Make] = [
    lambda themes: ActionButton(themes, "Pour", "Space"),
    lambda themes: QuietButton(themes, "Finish session"),
    lambda themes: PlainButton(themes, "Show the cautions"),
    lambda themes: BackButton(themes, "Back to the Shelf"),
]


@pytest.mark.parametrize("make", BUTTONS)
@pytest.mark.parametrize("key", [Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter])
def test_a_button_with_the_keyboard_asks_once_for_a_key(themes: Themes, show: Show, make: Make, key: Qt.Key) -> None:
    button = make(themes)
    show(button)
    button.setFocus()
    asked = QSignalSpy(button.press_requested)

    type_keys(button, key)

    assert asked.count() == 1


@pytest.mark.parametrize("make", BUTTONS)
def test_a_tap_asks_once_and_leaves_the_keyboard_where_it_was(themes: Themes, show: Show, make: Make) -> None:
    button = make(themes)
    show(button)
    button.clearFocus()
    asked = QSignalSpy(button.press_requested)

    tap(button)

    assert asked.count() == 1
    assert not button.hasFocus()


@pytest.mark.parametrize("make", BUTTONS)
def test_a_disabled_button_asks_nothing(themes: Themes, show: Show, make: Make) -> None:
    button = make(themes)
    show(button)
    button.setEnabled(False)
    asked = QSignalSpy(button.press_requested)

    button.press()

    assert asked.count() == 0
    assert not button.can_press()


@pytest.mark.parametrize("make", BUTTONS)
def test_a_button_is_a_target_of_44_with_a_name_and_a_role(themes: Themes, show: Show, make: Make) -> None:
    button = make(themes)
    show(button)

    assert min(button.sizeHint().width(), button.sizeHint().height()) >= 44
    assert told(button)
    assert told_role(button) in (QAccessible.Role.Button, QAccessible.Role.Link)


def test_the_action_asks_at_the_press_since_that_moment_is_recorded(themes: Themes, show: Show) -> None:
    button = ActionButton(themes, "Pour", "Space")
    show(button)
    asked = QSignalSpy(button.press_requested)

    press(button)

    assert asked.count() == 1
    let_go(button)
    assert asked.count() == 1


def test_a_quiet_button_takes_a_slip_back(themes: Themes, show: Show) -> None:
    button = QuietButton(themes, "Finish session")
    show(button)
    asked = QSignalSpy(button.press_requested)

    press(button)
    slide(button, -40)
    let_go(button, -40)

    assert asked.count() == 0


def test_a_key_held_down_is_one_press(themes: Themes, show: Show) -> None:
    button = ActionButton(themes, "Pour", "Space")
    show(button)
    button.setFocus()
    asked = QSignalSpy(button.press_requested)

    QTest.keyPress(button, Qt.Key.Key_Space)
    for _ in range(5):
        QTest.simulateEvent(button, True, int(Qt.Key.Key_Space), Qt.KeyboardModifier.NoModifier, " ", True)
    QTest.keyRelease(button, Qt.Key.Key_Space)

    assert asked.count() == 1


def test_the_action_says_what_it_would_do_now(themes: Themes, show: Show) -> None:
    button = ActionButton(themes, "Water on", "Space")
    show(button)

    button.show_act("Pour now", is_over=True)

    assert told(button) == "Pour now"
    assert told(button, QAccessible.Text.Description) == "Key: Space"
    assert button.is_over


def test_over_plan_the_action_stands_in_the_colour_of_alarm(themes: Themes, show: Show) -> None:
    button = ActionButton(themes, "Pour")
    button.resize(384, 80)
    show(button)
    before = button.grab().toImage().pixelColor(4, 40)

    button.show_act("Pour now", is_over=True)

    after = button.grab().toImage().pixelColor(4, 40)  # perhaps a little lighter, where the pointer is
    assert abs(before.hslHue() - themes.current.accent.hslHue()) < 4
    assert abs(after.hslHue() - themes.current.alarm.hslHue()) < 4


def test_assistive_technology_can_press_a_button(themes: Themes, show: Show) -> None:
    button = QuietButton(themes, "Finish session")
    show(button)
    asked = QSignalSpy(button.press_requested)
    interface = QAccessible.queryAccessibleInterface(button)

    actions = interface.actionInterface()
    actions.doAction(actions.pressAction())

    assert actions.pressAction() in actions.actionNames()
    assert asked.count() == 1


def test_a_longer_label_makes_room_for_itself(themes: Themes, show: Show) -> None:
    button = QuietButton(themes, "Finish")
    show(button)
    before = button.sizeHint().width()

    button.set_label("Finish this session")

    assert button.label == told(button) == "Finish this session"
    assert button.sizeHint().width() > before
