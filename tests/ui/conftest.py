"""How a widget is brought to the screen, so that it can have the keyboard; and which of its words were cut."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from tastebook.ui.widgets import paint


@pytest.fixture
def show(qtbot: QtBot) -> Callable[[QWidget], None]:
    """Return a function that shows a widget in an active window and closes it after the test."""

    def shown(widget: QWidget) -> None:
        qtbot.addWidget(widget)
        with qtbot.waitExposed(widget):
            widget.show()
        widget.activateWindow()
        qtbot.waitUntil(widget.isActiveWindow, timeout=1000)

    return shown


@pytest.fixture
def cut_words(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Return a list that takes the words of whatever is painted shortened from now on."""
    cut: list[str] = []
    whole = paint.elided

    def noticing(words: str, font: QFont, width: float) -> str:
        shown = whole(words, font, width)
        cut.extend([words] if shown != words else [])
        return shown

    monkeypatch.setattr(paint, "elided", noticing)
    return cut
