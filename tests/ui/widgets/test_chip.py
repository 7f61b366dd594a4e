"""The chip: strength by digit, by tap and by sliding; marks, removal, and what a screen reader is told."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible, QContextMenuEvent, QKeyEvent
from PySide6.QtTest import QSignalSpy
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.chip import LONG_PRESS_MS, Chip, ChipView
from tests.ui.widgets.hands import let_go, press, slide, tap, told, type_keys

Show = Callable[[QWidget], None]
WIDTH = 285
FIRST_PIP_X = WIDTH - 120 + 6
PITCH = 18


@pytest.fixture
def chip(themes: Themes, show: Show) -> Chip:
    chip = Chip(themes, ChipView("orchid", "floral", 3))
    chip.resize(WIDTH, 44)
    show(chip)
    return chip


def values(spy: QSignalSpy) -> list[int]:
    return [spy.at(number)[0] for number in range(spy.count())]


@pytest.mark.parametrize("digit", range(6))
def test_a_digit_asks_for_that_strength_and_0_for_absent(chip: Chip, digit: int) -> None:
    chip.setFocus()
    asked = QSignalSpy(chip.intensity_requested)

    type_keys(chip, str(digit))

    assert values(asked) == [digit]


@pytest.mark.parametrize("key", [Qt.Key.Key_Delete, Qt.Key.Key_Backspace])
def test_delete_asks_for_removal(chip: Chip, key: Qt.Key) -> None:
    chip.setFocus()
    asked = QSignalSpy(chip.removal_requested)

    type_keys(chip, key)

    assert asked.count() == 1


@pytest.mark.parametrize("strength", range(1, 6))
def test_a_tap_on_a_pip_asks_for_its_strength(chip: Chip, strength: int) -> None:
    asked = QSignalSpy(chip.intensity_requested)

    tap(chip, FIRST_PIP_X + (strength - 1) * PITCH)

    assert values(asked) == [strength]


def test_a_tap_on_the_word_gives_the_keyboard_and_changes_nothing(chip: Chip) -> None:
    chip.clearFocus()
    asked = QSignalSpy(chip.intensity_requested)

    tap(chip, 30)

    assert chip.hasFocus()
    assert values(asked) == []


def test_a_finger_that_slides_along_the_word_raises_and_lowers(chip: Chip) -> None:
    asked = QSignalSpy(chip.intensity_requested)

    press(chip, 30)
    slide(chip, 30 + 48)
    let_go(chip, 30 + 48)
    press(chip, 130)
    slide(chip, 130 - 48)
    let_go(chip, 130 - 48)

    assert values(asked) == [5, 1]


def test_a_finger_that_slides_far_asks_for_no_more_than_5_and_no_less_than_1(chip: Chip) -> None:
    asked = QSignalSpy(chip.intensity_requested)

    press(chip, 150)
    slide(chip, -300)
    let_go(chip, -300)
    press(chip, FIRST_PIP_X)
    slide(chip, 600)
    let_go(chip, 600)

    assert values(asked) == [1, 5]


def test_a_finger_asks_once_when_it_is_lifted_not_on_its_way(chip: Chip) -> None:
    asked = QSignalSpy(chip.intensity_requested)

    press(chip, FIRST_PIP_X)
    for strength in range(5):
        slide(chip, FIRST_PIP_X + strength * PITCH)
    on_the_way = asked.count()
    let_go(chip, FIRST_PIP_X + 4 * PITCH)

    assert on_the_way == 0
    assert values(asked) == [5]


def test_a_tap_on_a_carried_chip_says_still_there(chip: Chip) -> None:
    chip.show_view(ChipView("apricot", "fruity", 2, is_carried=True))
    asked = QSignalSpy(chip.intensity_requested)

    tap(chip, 30)

    assert values(asked) == [2]


def test_enter_on_a_carried_chip_says_still_there(chip: Chip) -> None:
    chip.show_view(ChipView("apricot", "fruity", 2, is_carried=True))
    chip.setFocus()
    asked = QSignalSpy(chip.intensity_requested)

    type_keys(chip, Qt.Key.Key_Return)

    assert values(asked) == [2]


def test_space_is_left_to_the_pedal(chip: Chip) -> None:
    space = QKeyEvent(QKeyEvent.Type.KeyPress, Qt.Key.Key_Space, Qt.KeyboardModifier.NoModifier, " ")

    QApplication.sendEvent(chip, space)

    assert not space.isAccepted()


def test_a_long_press_asks_for_the_marks_and_changes_nothing(chip: Chip, qtbot: QtBot) -> None:
    asked, strength = QSignalSpy(chip.marks_requested), QSignalSpy(chip.intensity_requested)

    press(chip, FIRST_PIP_X)
    qtbot.waitUntil(lambda: asked.count() == 1, timeout=LONG_PRESS_MS + 1500)
    let_go(chip, FIRST_PIP_X)

    assert asked.at(0)[0] == chip.mapToGlobal(QPoint(FIRST_PIP_X, chip.rect().center().y()))
    assert values(strength) == []


@pytest.mark.parametrize("reason", [QContextMenuEvent.Reason.Mouse, QContextMenuEvent.Reason.Keyboard])
def test_the_context_key_and_the_other_button_ask_for_the_marks(chip: Chip, reason: QContextMenuEvent.Reason) -> None:
    asked = QSignalSpy(chip.marks_requested)
    place = QPoint(40, 20)

    QApplication.sendEvent(chip, QContextMenuEvent(reason, place, chip.mapToGlobal(place)))

    assert asked.count() == 1
    assert chip.rect().contains(chip.mapFromGlobal(asked.at(0)[0]))


@pytest.mark.parametrize(
    ("view", "words"),
    [
        (ChipView("orchid", "floral", 4), "4 of 5"),
        (ChipView("rose", "floral", is_absent=True), "absent"),
        (ChipView("apricot", "fruity", 1, is_carried=True), "noted earlier at 1, still there?"),
        (ChipView("smoke", "roasted", 2, is_clouded=True), "surroundings"),
        (ChipView("pine", "woody", 2, is_late=True, is_doubtful=True), "late"),
        (ChipView("pine", "woody", 2, is_late=True, is_doubtful=True), "doubtful"),
    ],
)
def test_a_screen_reader_is_told_strength_and_marks(chip: Chip, view: ChipView, words: str) -> None:
    chip.show_view(view)

    assert told(chip) == f"{view.word}, {view.family}"
    assert words in told(chip, QAccessible.Text.Value)
    assert words in told(chip, QAccessible.Text.Description)


def test_a_mark_stands_beside_the_word_and_leaves_the_line_below_it_alone(chip: Chip) -> None:
    plain = ChipView("spinach", "vegetal", 4, about="in the wet leaf")
    looks = []
    for view in (plain, replace(plain, is_late=True)):
        chip.show_view(view)
        image = chip.grab().toImage()
        below = chip.height() * image.devicePixelRatio() / 2 + 1
        looks.append((image, image.copy(0, round(below), image.width(), image.height())))

    assert looks[0][0] != looks[1][0]
    assert looks[0][1] == looks[1][1]


def test_marks_are_explained_in_the_tool_tip(chip: Chip) -> None:
    chip.show_view(ChipView("smoke", "roasted", 2, is_clouded=True))

    assert "surroundings" in chip.toolTip()


def test_assistive_technology_reads_and_sets_the_strength(chip: Chip) -> None:
    asked = QSignalSpy(chip.intensity_requested)
    value = QAccessible.queryAccessibleInterface(chip).valueInterface()

    value.setCurrentValue(5)

    assert (value.currentValue(), value.minimumValue(), value.maximumValue()) == (3, 0, 5)
    assert values(asked) == [5]


def test_absent_and_carried_differ_in_shape_from_what_is_there(chip: Chip) -> None:
    looks = set()

    for view in (
        ChipView("rose", "floral", 2),
        ChipView("rose", "floral", 2, is_carried=True),
        ChipView("rose", "floral", is_absent=True),
    ):
        chip.show_view(view)
        image = chip.grab().toImage()
        looks.add(bytes(image.convertToFormat(image.Format.Format_Mono).constBits()))

    assert len(looks) == 3


def test_with_motion_reduced_a_chip_is_there_at_once(chip: Chip) -> None:
    before = chip.grab().toImage()

    chip.arrive()

    assert chip.grab().toImage() == before


def test_a_chip_comes_in_and_ends_where_it_belongs(themes: Themes, show: Show, qtbot: QtBot) -> None:
    themes.reduce_motion = False
    chip = Chip(themes, ChipView("orchid", "floral", 3))
    chip.resize(WIDTH, 44)
    show(chip)
    at_rest = chip.grab().toImage()

    chip.arrive()
    at_first = chip.grab().toImage()

    assert at_first != at_rest
    qtbot.waitUntil(lambda: chip.grab().toImage() == at_rest, timeout=2000)


def test_a_long_word_is_smaller_before_it_is_cut(chip: Chip, cut_words: list[str]) -> None:
    chip.resize(245, 44)
    chip.show_view(ChipView("dark chocolate", "roasted", 3))
    chip.grab()

    assert cut_words == []
