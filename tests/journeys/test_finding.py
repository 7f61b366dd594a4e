"""Years later: from anywhere to the cup in which something was noted, by keyboard alone."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.journeys.conftest import CONTROL, Table


def test_what_was_said_is_found_again_and_leads_to_its_infusion(table: Table, qtbot: QtBot) -> None:
    taste_and_say(table)
    program, hands = table.program, table.hands
    uid = table.kept.session.uid

    hands.press(Qt.Key.Key_F, CONTROL)
    assert program.window.screen_now is program.shelf
    hands.write("white peach >= 3 2nd infusion")
    hands.press(Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: program.window.screen_now is program.bench)
    assert table.presenter.column == "2"

    table.bench.finish()
    table.bench.finish()
    hands.settle()
    hands.press(Qt.Key.Key_F, CONTROL)
    hands.press(Qt.Key.Key_A, CONTROL)
    program.shelf.pane.finder.insert("焦糖")  # as an input method does
    hands.press(Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: program._arc is not None and program.window.screen_now is program._arc)

    assert table.built.journal.sessions()[-1].uid == uid
    assert program._arc is not None
    assert program._arc.card.line.startswith("Infusion 1")


def test_back_from_what_was_found_escape_leads_on_to_all_lots(table: Table, qtbot: QtBot) -> None:
    taste_and_say(table)
    program, hands = table.program, table.hands
    table.bench.finish()
    table.bench.finish()
    hands.press(Qt.Key.Key_F, CONTROL)
    hands.write("caramel")
    hands.press(Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: program._arc is not None and program.window.screen_now is program._arc)
    hands.settle()

    while program.window.screen_now is not program.shelf:  # the first leaves the card of the infusion
        hands.press(Qt.Key.Key_Escape)
    typed = program.shelf.pane.finder.text()
    hands.press(Qt.Key.Key_Escape)

    assert typed == "caramel"
    assert not program.shelf.pane.is_finding


def test_back_from_a_bench_what_can_be_done_has_the_keyboard(table: Table) -> None:
    taste_and_say(table)

    table.program.show_shelf()

    assert table.program.shelf.isAncestorOf(QApplication.focusWidget())


def taste_and_say(table: Table) -> None:
    """Add a lot, pour twice, and name what there is."""
    hands = table.hands
    hands.press(Qt.Key.Key_N, CONTROL)
    hands.write("Heron Ridge")
    hands.press(Qt.Key.Key_Return, CONTROL)
    hands.press(Qt.Key.Key_Return)
    hands.press(Qt.Key.Key_Return)
    table.steep(5)
    for words in ("caramel 3", "white peach 4"):
        table.pedal()
        table.steep(20)
        table.step(3)
        table.bench.take_keyboard()
        hands.say(words)
