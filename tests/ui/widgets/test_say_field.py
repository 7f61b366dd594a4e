"""The say line: words, the pedal and what was not understood."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QEvent, QMimeData, Qt
from PySide6.QtGui import QAccessible, QImage, QInputMethodEvent, QKeyEvent
from PySide6.QtTest import QSignalSpy, QTest
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget

from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import QuietButton
from tastebook.ui.widgets.say_field import Line, Mark, SayField
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


def test_the_first_line_stays_in_sight_while_there_is_room_for_all(field: SayField) -> None:
    seen = set()
    for word in (
        "quite floral, maybe gardenia, a whisper of jasmine when I breathe out, honey in the middle " * 4
    ).split():
        type_keys(field, f"{word} ")
        seen.add((field.lines, field.verticalScrollBar().value()))

    assert {lines for lines, _ in seen} >= {1, 2, 3}
    assert {scrolled for lines, scrolled in seen if lines <= 5} == {0}


def test_all_words_taken_out_at_once_leave_one_line(field: SayField) -> None:
    type_keys(field, "quite floral, maybe gardenia, a whisper of jasmine when I breathe out, honey in the middle " * 2)
    field.selectAll()

    QTest.keyClick(field, Qt.Key.Key_Backspace)

    assert (field.text(), field.lines, field.height()) == ("", 1, 52)


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


def test_what_was_understood_is_underlined_and_told_and_the_words_stay(field: SayField) -> None:
    field.setText("white peach, xyzzy")
    before = field.grab().toImage()

    field.show_marks([Mark(0, 11, "solid", "white peach 3", "fruity")], "Understood: white peach 3.")

    assert field.text() == "white peach, xyzzy"
    assert field.grab().toImage() != before
    assert "white peach 3" in told(field, QAccessible.Text.Description)


@pytest.mark.parametrize("line", ["dashed", "dotted", "double", "struck", "thin"])
def test_each_kind_of_line_looks_different_without_its_colour(field: SayField, line: Line) -> None:
    field.setText("white peach")
    field.show_marks([Mark(0, 11, "solid", "")])
    solid = field.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)

    field.show_marks([Mark(0, 11, line, "")])

    assert field.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8) != solid


def test_marks_stay_with_their_words_while_one_types_before_and_behind_them(field: SayField) -> None:
    field.setText("orchid, rose")
    field.show_marks([Mark(0, 6, "solid", "orchid 3"), Mark(8, 12, "solid", "rose 3")])

    type_keys(field, ", peach")
    field.setCursorPosition(0)
    type_keys(field, "no ")

    assert [(mark.begin, mark.end) for mark in field.marks] == [(3, 9), (11, 15)]


def test_words_that_are_changed_lose_their_mark(field: SayField) -> None:
    field.setText("orchid, rose")
    field.show_marks([Mark(0, 6, "solid", "orchid 3"), Mark(8, 12, "solid", "rose 3")])
    field.setCursorPosition(3)

    type_keys(field, "x")

    assert [(mark.begin, mark.end) for mark in field.marks] == [(9, 13)]


def test_signs_of_two_units_put_nothing_out_of_place(field: SayField) -> None:
    field.setText("🍑🍑 orchid, ro")
    field.setCursorPosition(9)

    assert field.cursorPosition() == 9
    assert field.word_span() == (0, 9)
    field.setCursorPosition(13)
    field.replace_word("rose")
    assert field.text() == "🍑🍑 orchid, rose"
    assert field.cursorPosition() == 15


# -- a part of the words is chosen


@pytest.fixture
def choosing(field: SayField) -> SayField:
    field.setText("orchid, rose")
    field.show_marks([Mark(0, 6, "solid", "orchid 3", "floral", is_chosen=True)])
    field.set_choosing(is_choosing=True)
    return field


def test_digits_are_about_the_chosen_part_and_no_words(choosing: SayField) -> None:
    spy = QSignalSpy(choosing.value_requested)

    type_keys(choosing, "4", "0")

    assert said(spy) == [4, 0]
    assert choosing.text() == "orchid, rose"


@pytest.mark.parametrize("key", [Qt.Key.Key_Backspace, Qt.Key.Key_Delete])
def test_backspace_and_delete_drop_the_chosen_part_and_leave_its_words(choosing: SayField, key: Qt.Key) -> None:
    spy = QSignalSpy(choosing.drop_requested)

    type_keys(choosing, key)

    assert spy.count() == 1
    assert choosing.text() == "orchid, rose"


def test_escape_goes_back_to_the_words_and_stays_in_the_line(choosing: SayField) -> None:
    back, left = QSignalSpy(choosing.part_left), QSignalSpy(choosing.leave_requested)

    type_keys(choosing, Qt.Key.Key_Escape)

    assert (back.count(), left.count()) == (1, 0)


@pytest.mark.parametrize("typed", ["6", "9", "a", " "])
def test_any_other_sign_goes_back_to_the_words_and_is_typed(choosing: SayField, typed: str) -> None:
    back = QSignalSpy(choosing.part_left)

    type_keys(choosing, typed)

    assert back.count() == 1
    assert choosing.text() == "orchid, rose" + typed


def test_what_an_input_method_brings_is_words_and_no_correction(choosing: SayField) -> None:
    back, value = QSignalSpy(choosing.part_left), QSignalSpy(choosing.value_requested)
    event = QInputMethodEvent()
    event.setCommitString(" 4 桂花")

    QApplication.sendEvent(choosing, event)

    assert choosing.text() == "orchid, rose 4 桂花"
    assert (back.count(), value.count()) == (1, 0)


def test_a_blank_while_something_is_composed_presses_no_pedal(field: SayField) -> None:
    pedal, edited = QSignalSpy(field.pedal_requested), QSignalSpy(field.text_edited)

    QApplication.sendEvent(field, QInputMethodEvent("gui hua", []))
    told_while_composing = edited.count()
    type_keys(field, Qt.Key.Key_Space)

    assert (pedal.count(), told_while_composing) == (0, 0)


# -- long passages


def test_the_line_grows_with_the_words_up_to_five_lines_and_shrinks_again(field: SayField) -> None:
    heights = []
    for words in (1, 8, 12, 100, 1):
        field.setText("orchid and peach " * words)
        heights.append(field.height())

    assert heights[0] == heights[-1] == 52
    assert heights[0] < heights[1] < heights[2] < heights[3]
    assert heights[3] == 52 + 4 * field.fontMetrics().lineSpacing()


def test_words_that_do_not_fit_are_scrolled_to_the_cursor_with_no_empty_line_below(field: SayField) -> None:
    field.setText("orchid and peach " * 100)

    last = field.cursorRect()

    assert field.viewport().rect().contains(last.center())
    assert field.viewport().height() - last.bottom() < field.line_px


def test_a_chosen_part_far_up_is_scrolled_to(field: SayField) -> None:
    field.setText("orchid and peach " * 100)
    before = field.verticalScrollBar().value()

    field.show_marks([Mark(0, 6, "solid", "orchid 3", "floral", is_chosen=True)])

    assert (before > 0, field.verticalScrollBar().value()) == (True, 0)
    assert field.cursorPosition() == len(field.text())


def test_where_there_is_little_room_it_grows_less(field: SayField) -> None:
    field.setText("orchid and peach " * 100)

    field.set_most_lines(2)

    assert field.height() == 52 + field.fontMetrics().lineSpacing()


def test_lines_that_are_pasted_stay_lines(field: SayField) -> None:
    mime = QMimeData()
    mime.setText("orchid\nno rose")

    field.insertFromMimeData(mime)

    assert field.text() == "orchid\nno rose"
    assert field.height() > 52


def test_a_mark_over_two_lines_is_drawn_on_both(field: SayField) -> None:
    field.setText("orchid and peach " * 12)
    before = field.grab().toImage()

    field.show_marks([Mark(80, 120, "solid", "")])

    changed = rows_changed(before, field.grab().toImage())
    assert max(changed) - min(changed) >= field.fontMetrics().lineSpacing()


def rows_changed(before: QImage, after: QImage) -> set[int]:
    places = ((x, y) for y in range(after.height()) for x in range(0, after.width(), 2))
    return {y for x, y in places if before.pixel(x, y) != after.pixel(x, y)}


def test_undo_takes_back_what_was_typed_and_nothing_that_was_put_in(field: SayField) -> None:
    field.setText("orchid")
    type_keys(field, "es")

    field.undo()
    after_one = field.text()
    field.undo()

    assert after_one == field.text() == "orchid"


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
