"""A line that tells what came of the last gesture, until it is read."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QAccessible, QAccessibleEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets.buttons import PlainButton
from tastebook.ui.widgets.card import Card
from tastebook.ui.widgets.label import Label


class NoticeBar(Card):
    """Says something above the page; empty it takes no room."""

    dismissed = Signal()

    def __init__(self, themes: Themes, button: str = "Understood", parent: QWidget | None = None) -> None:
        super().__init__(themes, parent, fill="raised")
        self._words = Label(themes, wraps=True, font=sans(tokens().type_px.text, tokens().weight.tile))
        self.buttons = QHBoxLayout()
        self.button = PlainButton(themes, button)
        self.button.press_requested.connect(self.dismissed)
        self.buttons.addWidget(self.button)
        row = QHBoxLayout(self)
        row.setContentsMargins(24, 6, 16, 6)
        row.addWidget(self._words, 1)
        row.addLayout(self.buttons)
        self.hide()

    @property
    def words(self) -> str:
        """Return what is said."""
        return self._words.text()

    def show_words(self, words: str) -> None:
        """Say something, or nothing."""
        is_new = bool(words) and words != self._words.text()
        self._words.setText(words)
        self.setAccessibleName(words)
        self.setVisible(bool(words))
        if is_new and QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.Alert))
