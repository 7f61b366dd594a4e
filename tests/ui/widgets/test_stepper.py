"""The stepper: steps by finger, wheel and keys, and a value that can be typed."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QAccessible, QWheelEvent
from PySide6.QtTest import QSignalSpy, QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.stepper import REPEAT_AFTER_MS, Stepper, StepperView
from tests.ui.widgets.hands import LEFT, let_go, press, tap, told, told_role, type_keys

Show = Callable[[QWidget], None]
WATER = StepperView("90", "°C", "water")


@pytest.fixture
def stepper(themes: Themes, show: Show) -> Stepper:
    stepper = Stepper(themes, WATER)
    stepper.resize(184, 52)
    show(stepper)
    return stepper


def steps(spy: QSignalSpy) -> list[int]:
    return [spy.at(number)[0] for number in range(spy.count())]


def turn_wheel(stepper: Stepper, angle: int) -> None:
    place = QPointF(stepper.rect().center())
    event = QWheelEvent(
        place,
        stepper.mapToGlobal(place),
        QPoint(),
        QPoint(0, angle),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(stepper, event)


def test_the_signs_step_down_and_up(stepper: Stepper) -> None:
    spy = QSignalSpy(stepper.step_requested)

    tap(stepper, 10)
    tap(stepper, 174)

    assert steps(spy) == [-1, 1]


def test_the_middle_does_not_step(stepper: Stepper) -> None:
    spy = QSignalSpy(stepper.step_requested)

    tap(stepper)

    assert steps(spy) == []


def test_two_quick_taps_are_two_steps(stepper: Stepper) -> None:
    spy = QSignalSpy(stepper.step_requested)

    tap(stepper, 174)
    QTest.mouseDClick(stepper, LEFT, pos=QPoint(174, 26))  # what Qt makes of the second tap
    let_go(stepper, 174)

    assert steps(spy) == [1, 1]


@pytest.mark.parametrize(
    ("key", "step"),
    [
        (Qt.Key.Key_Up, 1),
        (Qt.Key.Key_Right, 1),
        (Qt.Key.Key_Plus, 1),
        (Qt.Key.Key_Down, -1),
        (Qt.Key.Key_Left, -1),
        (Qt.Key.Key_Minus, -1),
    ],
)
def test_keys_step_by_one_and_with_shift_by_five(stepper: Stepper, key: Qt.Key, step: int) -> None:
    stepper.setFocus()
    spy = QSignalSpy(stepper.step_requested)

    type_keys(stepper, key)
    type_keys(stepper, key, shift=True)

    assert steps(spy) == [step, 5 * step]


def test_the_wheel_steps_once_a_notch_however_finely_it_turns(stepper: Stepper) -> None:
    spy = QSignalSpy(stepper.step_requested)

    for angle in (60, 60, -120, -40, -80):
        turn_wheel(stepper, angle)

    assert steps(spy) == [1, -1, -1]


def test_a_sign_held_down_repeats_after_a_while(stepper: Stepper, qtbot: QtBot) -> None:
    spy = QSignalSpy(stepper.step_requested)

    press(stepper, 174)
    at_once = spy.count()
    qtbot.waitUntil(lambda: spy.count() >= 3, timeout=REPEAT_AFTER_MS + 1500)
    let_go(stepper, 174)
    after = spy.count()
    qtbot.wait(150)

    assert at_once == 1
    assert spy.count() == after


def test_at_its_limit_a_stepper_does_not_ask_for_more(stepper: Stepper) -> None:
    stepper.setFocus()
    stepper.show_view(StepperView("100", "°C", "water", at_most=True))
    spy = QSignalSpy(stepper.step_requested)

    tap(stepper, 174)
    type_keys(stepper, Qt.Key.Key_Up, Qt.Key.Key_Down)

    assert steps(spy) == [-1]


def test_a_value_is_typed_after_enter(stepper: Stepper) -> None:
    stepper.setFocus()
    spy = QSignalSpy(stepper.typed)

    type_keys(stepper, Qt.Key.Key_Return)
    edit = stepper.findChild(QLineEdit)
    type_keys(edit, "95", Qt.Key.Key_Return)

    assert spy.count() == 1
    assert spy.at(0) == ["95"]
    assert not stepper.is_edited
    assert stepper.hasFocus()


def test_a_value_is_typed_after_a_double_click_and_taken_on_leaving(stepper: Stepper, qtbot: QtBot) -> None:
    spy = QSignalSpy(stepper.typed)

    QTest.mouseDClick(stepper, LEFT, pos=stepper.rect().center())
    edit = stepper.findChild(QLineEdit)
    type_keys(edit, "1:20")
    edit.clearFocus()

    qtbot.waitUntil(lambda: spy.count() == 1, timeout=500)
    assert spy.at(0) == ["1:20"]


def test_escape_leaves_the_value_as_it_was(stepper: Stepper) -> None:
    stepper.setFocus()
    spy = QSignalSpy(stepper.typed)

    type_keys(stepper, Qt.Key.Key_Return)
    type_keys(stepper.findChild(QLineEdit), "12", Qt.Key.Key_Escape)

    assert spy.count() == 0
    assert not stepper.is_edited


def test_enter_on_the_same_value_asks_for_nothing(stepper: Stepper) -> None:
    stepper.setFocus()
    spy = QSignalSpy(stepper.typed)

    type_keys(stepper, Qt.Key.Key_Return)
    type_keys(stepper.findChild(QLineEdit), Qt.Key.Key_Return)

    assert spy.count() == 0


def test_a_screen_reader_is_told_what_the_number_is(stepper: Stepper) -> None:
    stepper.show_view(StepperView("42", "s", "plan"))

    assert told(stepper) == "plan"
    assert told(stepper, QAccessible.Text.Value) == "42 s"
    assert told_role(stepper) == QAccessible.Role.SpinBox
