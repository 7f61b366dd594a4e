"""When a window has been drawn for the first time."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QWidget


def when_drawn(window: QWidget, then: Callable[[], object]) -> None:
    """Call `then` once, as soon as a window just shown has been drawn and nothing else is waiting.

    A timer of 0 ms alone comes too early: it fires before the platform asks for the first drawing.
    """
    _FirstDrawing(window, then)


class _FirstDrawing(QObject):
    """Watches the native window: its widgets are drawn while it is being exposed."""

    def __init__(self, window: QWidget, then: Callable[[], object]) -> None:
        super().__init__(window)
        self._then = then
        window.winId()  # makes the native window, if showing has not
        self._native = window.windowHandle()
        self._native.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Expose and self._native.isExposed():
            self._native.removeEventFilter(self)
            QTimer.singleShot(0, self, self._call)
        return False

    def _call(self) -> None:
        self._then()
        self.deleteLater()
