"""The scale: 0 to 5, where 0 is a value and not being set is none."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QSignalSpy
from PySide6.QtWidgets import QWidget

from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.scale_slider import ScaleSlider, ScaleView
from tests.ui.widgets.hands import let_go, press, slide, tap, told, told_role, type_keys

Show = Callable[[QWidget], None]
BODY = ScaleView("Body", "thin", "thick", None, 3, last_name="infusion 2")
WIDTH = 436
FIRST, LAST = 22, WIDTH - 22


def x_of(value: int) -> int:
    return round(FIRST + (LAST - FIRST) * value / 5)


def with_value(value: int | None, last: int | None = 3) -> ScaleView:
    return ScaleView("Body", "thin", "thick", value, last, last_name="infusion 2")


@pytest.fixture
def slider(themes: Themes, show: Show) -> ScaleSlider:
    slider = ScaleSlider(themes, BODY)
    slider.resize(WIDTH, 80)
    show(slider)
    slider.setFocus()
    return slider


def values(spy: QSignalSpy) -> list[int]:
    return [spy.at(number)[0] for number in range(spy.count())]


@pytest.mark.parametrize("value", range(6))
def test_a_tap_on_each_of_six_stops_asks_for_its_value(slider: ScaleSlider, value: int) -> None:
    asked = QSignalSpy(slider.value_requested)

    tap(slider, x_of(value), 36)

    assert values(asked) == [value]


@pytest.mark.parametrize("value", range(6))
def test_a_digit_asks_for_its_value_nought_included(slider: ScaleSlider, value: int) -> None:
    asked = QSignalSpy(slider.value_requested)

    type_keys(slider, str(value))

    assert values(asked) == [value]


def test_a_finger_asks_once_when_it_is_lifted(slider: ScaleSlider) -> None:
    asked = QSignalSpy(slider.value_requested)

    press(slider, x_of(1), 36)
    slide(slider, x_of(3), 36)
    slide(slider, x_of(4), 36)
    let_go(slider, x_of(4), 36)

    assert values(asked) == [4]


def test_the_first_arrow_begins_at_the_last_infusion(slider: ScaleSlider) -> None:
    asked = QSignalSpy(slider.value_requested)

    type_keys(slider, Qt.Key.Key_Right)

    assert values(asked) == [3]


def test_arrows_move_by_one_and_stop_at_the_ends(slider: ScaleSlider) -> None:
    asked = QSignalSpy(slider.value_requested)

    slider.show_view(with_value(4))
    type_keys(slider, Qt.Key.Key_Right, Qt.Key.Key_Left)
    slider.show_view(with_value(5))
    type_keys(slider, Qt.Key.Key_Right)
    slider.show_view(with_value(0))
    type_keys(slider, Qt.Key.Key_Left)

    assert values(asked) == [5, 3]


def test_delete_clears_a_value_and_only_a_value(slider: ScaleSlider) -> None:
    cleared = QSignalSpy(slider.clear_requested)

    type_keys(slider, Qt.Key.Key_Delete)
    slider.show_view(with_value(0))
    type_keys(slider, Qt.Key.Key_Delete)

    assert cleared.count() == 1


def test_nought_and_not_set_look_different(slider: ScaleSlider) -> None:
    not_set = slider.grab().toImage()

    slider.show_view(with_value(0))

    assert slider.grab().toImage() != not_set


def test_the_ring_of_the_last_infusion_stays_visible_inside_an_equal_value(slider: ScaleSlider) -> None:
    slider.show_view(with_value(3, last=None))
    without_ring = slider.grab().toImage()

    slider.show_view(with_value(3, last=3))

    assert slider.grab().toImage() != without_ring


@pytest.mark.parametrize(
    ("view", "words"),
    [
        (BODY, "not set, 3 at infusion 2, from thin to thick"),
        (ScaleView("Body", "thin", "thick", 4, word="thick"), "thick, 4 of 5, from thin to thick"),
        (ScaleView("Body", "thin", "thick", 0, marks="late"), "0, 0 of 5, late, from thin to thick"),
    ],
)
def test_a_screen_reader_is_told_the_value_and_the_last_one(slider: ScaleSlider, view: ScaleView, words: str) -> None:
    slider.show_view(view)

    assert told(slider) == "Body"
    assert told(slider, QAccessible.Text.Value) == words
    assert told_role(slider) == QAccessible.Role.Slider


def test_assistive_technology_sets_a_value_and_reads_none_while_none_is_set(slider: ScaleSlider) -> None:
    asked = QSignalSpy(slider.value_requested)
    value = QAccessible.queryAccessibleInterface(slider).valueInterface()

    before = value.currentValue()
    value.setCurrentValue(2)

    assert before is None
    assert values(asked) == [2]


def test_a_value_is_said_in_the_words_of_its_scale() -> None:
    view = ScaleView("Body", "thin", "thick", 2, words=("none", "thin", "light", "medium", "full", "thick"))

    assert view.word_for(2) == "light"
    assert view.word_for(5) == "thick"
    assert ScaleView("Body", "thin", "thick", 2, word="light").word_for(2) == "light"
    assert ScaleView("Body", "thin", "thick").word_for(4) == "4"
