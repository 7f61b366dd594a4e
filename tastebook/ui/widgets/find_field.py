"""The field in which one looks for something, with the key that leads to it."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QLineEdit, QSizePolicy, QWidget

from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint

_MOVES: Final = (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown)


class FindField(QLineEdit):
    """Finds while one types. Arrows up and down and Enter are meant for what was found; Escape clears, then leaves."""

    find_requested = Signal(str)
    move_requested = Signal(Qt.Key)
    take_requested = Signal()
    leave_requested = Signal()

    def __init__(self, themes: Themes, what: str, key: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._themes = themes
        self._key = key
        self.setFont(sans(tokens().type_px.word))
        self.setPlaceholderText(what)
        self.setAccessibleName(what)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        right_px = round(paint.keycap_width(key)) + 12 if key else 0
        self.setTextMargins(0, 0, right_px, 0)
        self.textChanged.connect(self.find_requested)
        themes.changed.connect(self._on_theme)

    def sizeHint(self) -> QSize:
        return QSize(320, tokens().target_px.min)

    def event(self, event: QEvent) -> bool:
        """Leave Space to what surrounds an empty field: nothing is found by it, and a steep may wait to be poured."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            is_space = event.key() == Qt.Key.Key_Space and not event.modifiers()
            if is_space and not self.text():
                event.ignore()
                return False
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in _MOVES:
            self.move_requested.emit(Qt.Key(event.key()))
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.take_requested.emit()
        elif event.key() == Qt.Key.Key_Escape:
            self._escape()
        else:
            super().keyPressEvent(event)

    def _escape(self) -> None:
        if self.text():
            self.clear()
        else:
            self.leave_requested.emit()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self._key or self.hasFocus():
            return
        painter = QPainter(self)
        paint.make_smooth(painter)
        left = self.width() - paint.keycap_width(self._key) - 12
        paint.keycap(painter, self._themes.current, left, self.height() / 2 - 12, self._key)
        painter.end()

    def _on_theme(self) -> None:
        self.update()
