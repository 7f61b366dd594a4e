"""How a widget is brought to the screen, so that it can have the keyboard."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot


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
