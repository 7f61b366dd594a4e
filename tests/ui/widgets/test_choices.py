"""The swatch chart and the bar of answers."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QColor
from PySide6.QtTest import QSignalSpy
from PySide6.QtWidgets import QWidget

from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.segmented_choice import SegmentedChoice
from tastebook.ui.widgets.swatch_chart import Swatch, SwatchChart, SwatchChartView
from tests.ui.widgets.hands import tap, told, told_role, type_keys

Show = Callable[[QWidget], None]
ROWS = (
    (Swatch("#E8DC8C", "pale straw"), Swatch("#D9B24C", "golden yellow"), Swatch("#C87A2A", "amber")),
    (Swatch("#A8431A", "copper"), Swatch("#5C1F12", "dark red"), Swatch("#F4EFD2", "pale ivory")),
)


@pytest.fixture
def chart(themes: Themes, show: Show) -> SwatchChart:
    chart = SwatchChart(themes, ROWS, name="Liquor")
    show(chart)
    chart.take_focus()
    return chart


@pytest.fixture
def clarity(themes: Themes, show: Show) -> SegmentedChoice:
    choice = SegmentedChoice(themes, ["brilliant", "clear", "dim", "turbid"], name="Clarity")
    choice.resize(343, 44)
    show(choice)
    return choice


def calls(spy: QSignalSpy) -> list[list[int]]:
    return [list(spy.at(number)) for number in range(spy.count())]


def test_a_tap_asks_for_a_swatch_by_row_and_column(chart: SwatchChart) -> None:
    asked = QSignalSpy(chart.swatch_requested)

    tap(chart.button_at(1, 2))

    assert calls(asked) == [[1, 2]]


def test_arrows_point_and_enter_asks(chart: SwatchChart) -> None:
    asked, pointed = QSignalSpy(chart.swatch_requested), QSignalSpy(chart.pointed)

    type_keys(chart.button_at(0, 0), Qt.Key.Key_Right)
    type_keys(chart.button_at(0, 1), Qt.Key.Key_Down)
    not_yet = asked.count()
    type_keys(chart.button_at(1, 1), Qt.Key.Key_Return)

    assert not_yet == 0
    assert [1, 1] in calls(pointed)
    assert calls(asked) == [[1, 1]]


def test_the_keyboard_comes_to_the_chosen_swatch(chart: SwatchChart) -> None:
    chart.show_view(SwatchChartView(chosen=(1, 0)))

    chart.take_focus()

    assert chart.button_at(1, 0).hasFocus()


def test_the_middle_of_a_swatch_is_exactly_its_colour(chart: SwatchChart) -> None:
    for row, swatches in enumerate(ROWS):
        for column, swatch in enumerate(swatches):
            button = chart.button_at(row, column)
            image = button.grab().toImage()
            assert image.pixelColor(button.rect().center()) == QColor(swatch.colour)


def test_every_swatch_is_a_target_of_49_with_a_name(chart: SwatchChart) -> None:
    buttons = [chart.button_at(row, column) for row in range(2) for column in range(3)]

    assert all((button.width(), button.height()) == (49, 49) for button in buttons)
    assert [told(button) for button in buttons] == [swatch.name for row in ROWS for swatch in row]


def test_a_screen_reader_is_told_which_swatch_is_chosen_and_where_earlier_cups_were(chart: SwatchChart) -> None:
    chart.show_view(SwatchChartView((0, 1), (("1", 0, 0), ("2", 1, 1))))

    chosen = chart.button_at(0, 1)
    assert QAccessible.queryAccessibleInterface(chosen).state().checked
    assert not QAccessible.queryAccessibleInterface(chart.button_at(0, 0)).state().checked
    assert told(chart.button_at(1, 1), QAccessible.Text.Value) == "infusion 2"


@pytest.mark.parametrize(("names", "label"), [(("1",), "1"), (("1", "2"), "1,2"), (("1", "2", "4"), "1–4"), ((), "")])
def test_several_cups_at_one_swatch_share_its_numeral(chart: SwatchChart, names: tuple[str, ...], label: str) -> None:
    chart.show_view(SwatchChartView(earlier=tuple((name, 0, 2) for name in names)))

    assert chart.button_at(0, 2).label == label


def test_a_tap_asks_for_another_answer_but_not_for_the_same(clarity: SegmentedChoice) -> None:
    clarity.show_choice(1)
    asked = QSignalSpy(clarity.choice_requested)

    tap(clarity.segments[1])
    tap(clarity.segments[3])

    assert calls(asked) == [[3]]


def test_arrows_choose_the_neighbour(clarity: SegmentedChoice) -> None:
    clarity.show_choice(1)
    clarity.segments[1].setFocus()
    asked = QSignalSpy(clarity.choice_requested)

    type_keys(clarity.segments[1], Qt.Key.Key_Right)

    assert calls(asked) == [[2]]


def test_while_nothing_is_answered_arrows_only_move(clarity: SegmentedChoice) -> None:
    clarity.segments[0].setFocus()
    asked = QSignalSpy(clarity.choice_requested)

    type_keys(clarity.segments[0], Qt.Key.Key_Right)
    before_enter = asked.count()
    type_keys(clarity.segments[1], Qt.Key.Key_Return)

    assert before_enter == 0
    assert calls(asked) == [[1]]


def test_exactly_one_answer_is_chosen(clarity: SegmentedChoice) -> None:
    clarity.show_choice(2)
    clarity.show_choice(0)

    assert [segment.is_chosen for segment in clarity.segments] == [True, False, False, False]
    clarity.show_choice(None)
    assert clarity.chosen is None
    assert not any(segment.is_chosen for segment in clarity.segments)


def test_a_screen_reader_is_told_the_answers_as_a_group(clarity: SegmentedChoice) -> None:
    clarity.show_choice(1)

    assert told(clarity) == "Clarity"
    assert told_role(clarity.segments[0]) == QAccessible.Role.RadioButton
    assert QAccessible.queryAccessibleInterface(clarity.segments[1]).state().checked
