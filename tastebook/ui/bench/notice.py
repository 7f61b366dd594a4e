"""What could not be kept, said in the place of the title: nothing on the Bench is moved or covered by it."""

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


class Notice(Card):
    """Says that something could not be kept, until it can or the taster has understood."""

    dismissed = Signal()
    accessible_role = QAccessible.Role.AlertMessage

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent, fill="raised", radius=tokens().radius_px.chip)
        font = sans(tokens().type_px.text, tokens().weight.label)
        self._words = Label(themes, ink="alarm", font=font, wraps=True, is_selectable=True)
        button = PlainButton(themes, "Understood")
        button.press_requested.connect(self.dismissed)
        row = QHBoxLayout(self)
        row.setContentsMargins(16, 2, 8, 2)
        row.addWidget(self._words, 1)
        row.addWidget(button)
        self.hide()

    @property
    def words(self) -> str:
        """Return what is said."""
        return self._words.text()

    def show_words(self, words: str) -> None:
        """Say something, or nothing; screen readers are told at once."""
        if words != self.words:
            self._words.setText(words)
            self._words.setToolTip(words)
            self.setAccessibleName(words)
            if words and QAccessible.isActive():
                QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.Alert))
        self.setVisible(bool(words))
