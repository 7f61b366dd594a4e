"""The say line: words, the pedal and what was not understood."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QAccessible, QKeyEvent
from PySide6.QtTest import QSignalSpy
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget

from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import QuietButton
from tastebook.ui.widgets.say_field import SayField, Trouble
from tests.ui.widgets.hands import told, type_keys

Show = Callable[[QWidget], None]


@pytest.fixture
def field(themes: Themes, show: Show) -> SayField:
    field = SayField(themes)
    field.resize(888, 52)
    show(field)
    field.setFocus()
    return field


def said(spy: QSignalSpy) -> list[object]:
    return [spy.at(number)[0] for number in range(spy.count())]


def test_enter_says_the_words_as_they_stand(field: SayField) -> None:
    spy = QSignalSpy(field.said)

    type_keys(field, "white peach, no rose", Qt.Key.Key_Return)

    assert said(spy) == ["white peach, no rose"]


@pytest.mark.parametrize("words", ["", "   "])
def test_enter_on_an_empty_line_is_left_to_what_surrounds_it(field: SayField, words: str) -> None:
    field.setText(words)
    spy = QSignalSpy(field.said)
    enter = QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_Return, Qt.KeyboardModifier.NoModifier)

    QApplication.sendEvent(field, enter)

    assert said(spy) == []
    assert not enter.isAccepted()


def test_typing_is_told_word_by_word(field: SayField) -> None:
    spy = QSignalSpy(field.text_edited)

    type_keys(field, "tea")

    assert said(spy) == ["t", "te", "tea"]


def test_space_on_the_empty_line_is_the_pedal_and_types_nothing(field: SayField) -> None:
    spy = QSignalSpy(field.pedal_requested)

    type_keys(field, Qt.Key.Key_Space)

    assert spy.count() == 1
    assert field.text() == ""


def test_space_between_words_is_a_space(field: SayField) -> None:
    spy = QSignalSpy(field.pedal_requested)

    type_keys(field, "white peach")

    assert spy.count() == 0
    assert field.text() == "white peach"


def test_a_pedal_held_down_is_one_press(field: SayField) -> None:
    spy = QSignalSpy(field.pedal_requested)

    for is_repeat in (False, True, True):
        event = QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_Space, Qt.KeyboardModifier.NoModifier, " ", is_repeat)
        QApplication.sendEvent(field, event)

    assert spy.count() == 1
    assert field.text() == ""


def test_control_space_is_not_ours(field: SayField) -> None:
    spy = QSignalSpy(field.pedal_requested)

    type_keys(field, Qt.Key.Key_Space, ctrl=True)

    assert spy.count() == 0


def test_chosen_keys_ask_only_while_the_line_is_empty(field: SayField) -> None:
    field.set_keys_while_empty("[]?")
    spy = QSignalSpy(field.empty_key_requested)

    type_keys(field, "[?a[")

    assert said(spy) == ["[", "?"]
    assert field.text() == "a["


def test_tab_goes_from_word_to_word_once_that_is_asked_for(field: SayField) -> None:
    field.set_word_keys(has_word_keys=True)
    spy = QSignalSpy(field.next_word_requested)

    type_keys(field, Qt.Key.Key_Tab)
    type_keys(field, Qt.Key.Key_Backtab, shift=True)

    assert said(spy) == [1, -1]
    assert field.hasFocus()


def test_tab_leaves_the_line_otherwise(themes: Themes, show: Show) -> None:
    holder = QWidget()
    layout = QVBoxLayout(holder)
    field, button = SayField(themes), QuietButton(themes, "Finish")
    layout.addWidget(field)
    layout.addWidget(button)
    show(holder)
    field.setFocus()

    type_keys(field, Qt.Key.Key_Tab)

    assert button.hasFocus()


def test_escape_asks_to_leave(field: SayField) -> None:
    spy = QSignalSpy(field.leave_requested)

    type_keys(field, Qt.Key.Key_Escape)

    assert spy.count() == 1


@pytest.mark.parametrize(
    ("words", "cursor", "span"),
    [
        ("rose", 4, (0, 4)),
        ("rose, ced", 9, (6, 9)),
        ("rose, ced, milk", 8, (6, 9)),
        ("rose,  ", 7, (7, 7)),
        ("", 0, (0, 0)),
        ("rose ,x", 2, (0, 4)),
    ],
)
def test_the_word_at_the_cursor_is_what_stands_between_commas(
    field: SayField, words: str, cursor: int, span: tuple[int, int]
) -> None:
    field.setText(words)
    field.setCursorPosition(cursor)

    assert field.word_span() == span


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60, deadline=None)
@given(before=st.text("ab ,", max_size=12), word=st.text("xyz ", min_size=1, max_size=5), share=st.floats(0, 1))
def test_replacing_a_word_leaves_the_words_beyond_the_commas_alone(
    field: SayField, before: str, word: str, share: float
) -> None:
    field.setText(before)
    field.setCursorPosition(round(share * len(before)))
    place = before[: field.cursorPosition()].count(",")

    field.replace_word(word)

    parts, others = field.text().split(","), before.split(",")
    assert parts[place].strip() == word.strip()
    assert parts[:place] + parts[place + 1 :] == others[:place] + others[place + 1 :]


def test_what_was_not_understood_is_underlined_and_the_words_stay(field: SayField) -> None:
    field.setText("white peach, xyzzy")
    before = field.grab().toImage()

    field.show_troubles([Trouble(13, 18, "“xyzzy” is not in the vocabulary: Enter keeps it as said.")])

    assert field.text() == "white peach, xyzzy"
    assert field.grab().toImage() != before
    assert "xyzzy" in field.toolTip()
    assert "Enter keeps it" in told(field, QAccessible.Text.Description)


def test_typing_on_takes_the_underline_away(field: SayField) -> None:
    field.setText("xyzzy")
    field.show_troubles([Trouble(0, 5, "Not in the vocabulary.")])

    type_keys(field, "a")

    assert field.troubles == ()
    assert field.toolTip() == ""


def test_the_focused_line_wears_the_accent_and_the_resting_one_does_not(field: SayField, themes: Themes) -> None:
    edge = (444, 1)

    focused = field.grab().toImage().pixelColor(*edge)
    field.clearFocus()
    resting = field.grab().toImage().pixelColor(*edge)

    assert focused.name() == themes.current.accent.name()
    assert resting.name() != themes.current.accent.name()


def test_the_line_is_52_high_and_has_a_name(field: SayField) -> None:
    assert field.sizeHint().height() == 52
    assert told(field) == "Say it"
