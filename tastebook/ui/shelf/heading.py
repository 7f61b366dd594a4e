"""The title of a page, with lesser words beside it that give way where it is narrow."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import QAccessible, QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from tastebook.ui.theme.fonts import sans, serif, serif_italic
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.drawn import Drawn


class Heading(Drawn):
    """Draws a title, how it is called at home, and facts; what has no room is left out, from the right."""

    accessible_role = QAccessible.Role.Heading

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._title = self._local = self._facts = ""
        self.setFixedHeight(tokens().target_px.min)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_words(self, title: str, local: str = "", facts: str = "") -> None:
        """Show other words."""
        self._title, self._local, self._facts = title, local, facts
        told = ", ".join(part for part in (title, local, facts) if part)
        self.setAccessibleName(told)
        self.setToolTip(told)
        self.update()

    @property
    def title(self) -> str:
        """Return the title."""
        return self._title

    def sizeHint(self) -> QSize:
        return QSize(400, tokens().target_px.min)

    def minimumSizeHint(self) -> QSize:
        return QSize(120, tokens().target_px.min)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        baseline = self.height() / 2 + 10
        title_font = serif(tokens().type_px.title, tokens().weight.serif_heading)
        title = paint.elided(self._title, title_font, self.width())
        end = paint.text(painter, 0, baseline, title, title_font, theme.ink)
        text = sans(tokens().type_px.text)
        for words, font, gap, ink in (
            (self._local, serif_italic(tokens().type_px.value), 14, theme.ink2),
            (self._facts, text, 18, theme.ink3),
        ):
            if words and end + gap + paint.text_width(words, font) <= self.width():
                end = paint.text(painter, end + gap, baseline - (1 if font is text else 0), words, font, ink)
