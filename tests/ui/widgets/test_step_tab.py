"""The step tabs: every state is told in words and drawn in a shape of its own."""

from __future__ import annotations

from collections.abc import Callable
from typing import get_args

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QSignalSpy
from PySide6.QtWidgets import QWidget

from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.step_tab import StepState, StepTab, StepTabView
from tests.ui.widgets.hands import tap, told, told_role, type_keys

Show = Callable[[QWidget], None]
STATES: tuple[StepState, ...] = get_args(StepState)


@pytest.fixture
def tab(themes: Themes, show: Show) -> StepTab:
    tab = StepTab(themes, StepTabView("First sip", "5 of 8 set", "now"))
    tab.resize(222, 74)
    show(tab)
    return tab


@pytest.mark.parametrize(
    ("state", "words"),
    [
        ("todo", "to do"),
        ("now", "now"),
        ("done", "done"),
        ("late", "late"),
        ("missed", "missed"),
        ("skipped", "skipped"),
    ],
)
def test_a_screen_reader_is_told_name_state_and_caption(tab: StepTab, state: StepState, words: str) -> None:
    tab.show_view(StepTabView("Lid", "after the rinse", state))

    assert told(tab) == "Lid"
    assert words in told(tab, QAccessible.Text.Value)
    assert "after the rinse" in told(tab, QAccessible.Text.Value)
    assert told_role(tab) == QAccessible.Role.PageTab


def test_every_state_looks_different_even_without_colour(tab: StepTab) -> None:
    looks = set()

    for state in STATES:
        tab.show_view(StepTabView("Lid", "", state))
        grey = (
            tab.grab(tab.rect().adjusted(0, 0, -180, 0))
            .toImage()
            .convertToFormat(tab.grab().toImage().Format.Format_Mono)
        )
        looks.add(bytes(grey.constBits()))

    assert len(looks) == len(STATES)


def test_a_tab_asks_to_be_opened_by_finger_and_by_key(tab: StepTab) -> None:
    tab.setFocus()
    asked = QSignalSpy(tab.press_requested)

    tap(tab)
    type_keys(tab, Qt.Key.Key_Return)

    assert asked.count() == 2


def test_the_open_step_is_the_selected_tab_whatever_its_state(tab: StepTab) -> None:
    tab.show_view(StepTabView("Liquor", "amber gold", "done", is_open=True))

    assert QAccessible.queryAccessibleInterface(tab).state().selected
    tab.show_view(StepTabView("Liquor", "amber gold", "done"))
    assert not QAccessible.queryAccessibleInterface(tab).state().selected
