"""Ready means drawn: not shown, and not merely back in the event loop."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tastebook.ui.ready import when_drawn

if TYPE_CHECKING:
    from PySide6.QtGui import QPaintEvent
    from pytestqt.qtbot import QtBot


def test_a_window_is_ready_once_its_widgets_were_drawn(qtbot: QtBot) -> None:
    from PySide6.QtWidgets import QLabel, QMainWindow

    happened: list[str] = []

    class Watched(QLabel):
        def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802  # Qt's name
            happened.append("drawn")
            super().paintEvent(event)

    window = QMainWindow()
    qtbot.addWidget(window)
    window.setCentralWidget(Watched("95 °C"))
    window.show()

    when_drawn(window, lambda: happened.append("ready"))
    before_the_loop = list(happened)
    qtbot.waitUntil(lambda: "ready" in happened)

    assert before_the_loop == []
    assert happened.index("drawn") < happened.index("ready")


def test_it_is_told_once(qtbot: QtBot) -> None:
    from PySide6.QtWidgets import QWidget

    told: list[str] = []
    window = QWidget()
    qtbot.addWidget(window)
    window.show()
    when_drawn(window, lambda: told.append("ready"))
    qtbot.waitUntil(lambda: bool(told))

    window.hide()
    window.show()
    qtbot.wait(50)

    assert told == ["ready"]
