"""The line above the strip: which tea, how it is brewed, and the way out."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QAccessible, QPainter
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QWidget

from tastebook.presenters.bench.views import HeaderView
from tastebook.ui.bench.notice import Notice
from tastebook.ui.theme.fonts import sans, serif, serif_italic
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.buttons import BackButton, QuietButton
from tastebook.ui.widgets.drawn import Drawn

HEIGHT_PX: Final = 64
BUTTON_PX: Final = 152
NEWS_SHARE: Final = 3
LEAST_TITLE_PX: Final = 120
MOST_LEAST_TITLE_PX: Final = 320


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
        told = (view.title, view.cultivar, view.source, view.facts, view.aside)
        self.setAccessibleName(", ".join(part for part in told if part))
        self.setToolTip(view.aside)
        self.updateGeometry()
        self.update()

    def minimumSizeHint(self) -> QSize:
        """Keep the title whole beside news, where there is room."""
        title_px = round(paint.text_width(self._view.title, serif(28, 600))) + 16
        return QSize(max(LEAST_TITLE_PX, min(MOST_LEAST_TITLE_PX, title_px)), HEIGHT_PX // 2)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        base, view = self.height() / 2 + 10, self._view
        title = paint.elided(view.title, serif(28, 600), self.width() - 12)
        end = paint.text(painter, 0, base, title, serif(28, 600), theme.ink)
        facts_left = self._draw_facts(painter, theme, end, base)
        for words, font, gap, ink in (
            (view.cultivar, serif_italic(20), 14, theme.ink2),
            (view.source, sans(16), 24, theme.ink3),
        ):
            if words and end + gap + paint.text_width(words, font) < facts_left - 24:
                end = paint.text(painter, end + gap, base - (font.pixelSize() == 16), words, font, ink)

    def _draw_facts(self, painter: QPainter, theme: Theme, end: float, base: float) -> float:
        """Draw the facts, above what was drunk today where that is known, and return where they begin."""
        view, right = self._view, self.width() - 16
        aside_font = sans(14, 600 if view.aside_is_caution else 400)
        room = right - end - 24
        widest = max(paint.text_width(view.facts, sans(16)), paint.text_width(view.aside, aside_font))
        aside_px = min(room, paint.text_width(view.aside, aside_font)) if view.aside else 0.0
        if view.aside and (room >= widest or (view.aside_is_caution and room > 200)):
            ink = theme.alarm if view.aside_is_caution else theme.ink3
            paint.text(
                painter, right, base + 9, paint.elided(view.aside, aside_font, aside_px), aside_font, ink, "right"
            )
            base -= 11
        facts_px = paint.text_width(view.facts, sans(16))
        if facts_px > room:
            return self.width() if not view.aside_is_caution else right - aside_px
        paint.text(painter, right, base - 1, view.facts, sans(16), theme.ink3, "right")
        return right - max(facts_px, aside_px)


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
        row.addWidget(self._notice, NEWS_SHARE)
        self._news = QHBoxLayout()
        self._news.setContentsMargins(0, 1, 0, 1)
        row.addLayout(self._news, NEWS_SHARE)
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

    def show_notice(self, words: str) -> bool:
        """Say beside the title that something could not be kept, or nothing; return whether news must make room."""
        was_taken = not self._notice.isHidden()
        self._notice.show_words(words)
        return was_taken == self._notice.isHidden()

    def news_place(self) -> QBoxLayout | None:
        """Return the place beside the title, None while something else is said there."""
        return self._news if self._notice.isHidden() else None
