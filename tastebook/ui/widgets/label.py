"""Text in the ink that its part asks for, in every theme."""

from __future__ import annotations

from typing import Literal, TypeAlias

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont
from PySide6.QtWidgets import QLabel, QWidget

from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Themes
from tastebook.ui.theme.tokens import tokens

Ink: TypeAlias = Literal["ink", "ink2", "ink3", "accent", "alarm"]


class Label(QLabel):
    """Words that can be selected with the pointer where `is_selectable`, and broken into lines where `wraps`."""

    def __init__(
        self,
        themes: Themes,
        words: str = "",
        *,
        ink: Ink = "ink",
        font: QFont | None = None,
        wraps: bool = False,
        is_selectable: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(words, parent)
        self._themes = themes
        self._ink: Ink = ink
        self.setFont(sans(tokens().type_px.text) if font is None else font)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(wraps)
        if is_selectable:
            self.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        themes.changed.connect(self._wear)
        self._wear()

    def set_ink(self, ink: Ink) -> None:
        """Write in another ink."""
        if ink != self._ink:
            self._ink = ink
            self._wear()

    def _wear(self) -> None:
        colour: QColor = getattr(self._themes.current, self._ink)
        self.setStyleSheet(f"color: {colour.name()}")
