"""The line above the strip: which tea, how it is brewed, and the way out."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtGui import QAccessible, QPainter
from PySide6.QtWidgets import QHBoxLayout, QWidget

from tastebook.presenters.bench.views import HeaderView
from tastebook.ui.bench.notice import Notice
from tastebook.ui.theme.fonts import sans, serif, serif_italic
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.buttons import BackButton, QuietButton
from tastebook.ui.widgets.drawn import Drawn

HEIGHT_PX: Final = 64
BUTTON_PX: Final = 152


class TitleLine(Drawn):
    """Name, cultivar, source at the left; facts at the right; what does not fit is left out, least needed first."""

    accessible_role = QAccessible.Role.StaticText

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._view = HeaderView("", "", "", "", "")

    def show_view(self, view: HeaderView) -> None:
        """Show another title."""
        if view == self._view:
            return
        self._view = view
        told = (view.title, view.cultivar, view.source, view.facts)
        self.setAccessibleName(", ".join(part for part in told if part))
        self.update()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        base, view = self.height() / 2 + 10, self._view
        facts_font = sans(16)
        title = paint.elided(view.title, serif(28, 600), self.width() - 12)
        end = paint.text(painter, 0, base, title, serif(28, 600), theme.ink)
        right = self.width() - 16
        facts_left = right - paint.text_width(view.facts, facts_font)
        if facts_left > end + 24:
            paint.text(painter, right, base - 1, view.facts, facts_font, theme.ink3, "right")
        else:
            facts_left = self.width()
        for words, font, gap, ink in (
            (view.cultivar, serif_italic(20), 14, theme.ink2),
            (view.source, sans(16), 24, theme.ink3),
        ):
            if words and end + gap + paint.text_width(words, font) < facts_left - 24:
                end = paint.text(painter, end + gap, base - (font.pixelSize() == 16), words, font, ink)


class BenchHeader(QWidget):
    """Back, title, and the button that finishes the session."""

    left = Signal()
    finish_requested = Signal()
    notice_dismissed = Signal()

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFixedHeight(HEIGHT_PX)
        self._back = BackButton(themes, "Back to the Shelf")
        self._title = TitleLine(themes)
        self._notice = Notice(themes)
        self._finish = QuietButton(themes, "Finish session")
        self._finish.setFixedWidth(BUTTON_PX)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self._back)
        row.addSpacing(8)
        row.addWidget(self._title, 1)
        row.addWidget(self._notice, 1)
        row.addSpacing(8)
        row.addWidget(self._finish)
        self._back.press_requested.connect(self.left)
        self._finish.press_requested.connect(self.finish_requested)
        self._notice.dismissed.connect(self.notice_dismissed)

    def show_view(self, view: HeaderView) -> None:
        """Show another line."""
        self._title.show_view(view)
        if self._finish.label != view.finish:
            self._finish.set_label(view.finish)

    def show_notice(self, words: str) -> None:
        """Say in the title's place that something could not be kept, or show the title again."""
        self._title.setVisible(not words)
        self._notice.show_words(words)
