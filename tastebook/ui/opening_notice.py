"""A small window while a journal is opened that takes its time: what is being done, and how far it is."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QAccessible, QCloseEvent, QPainter
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.widgets.drawn import Drawn, Ground

WIDTH_PX: Final = 560
MARGIN_PX: Final = 32
BAR_PX: Final = 8
LEAVING: Final = "Closing this window leaves the journal as it was."
UNKNOWN: Final = "How long this takes depends on how much the journal holds."


class Bar(Drawn):
    """How much is done, as a line that fills; empty while nobody knows."""

    accessible_role = QAccessible.Role.ProgressBar

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.share = 0.0
        self.setFixedHeight(BAR_PX)

    def show_share(self, share: float) -> None:
        """Show another share, from 0 to 1."""
        self.share = share
        self.setAccessibleName(f"{share:.0%} done")
        self.update()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        """Draw the line."""
        whole = QRectF(self.rect())
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(theme.sunken)
        painter.drawRoundedRect(whole, BAR_PX / 2, BAR_PX / 2)
        if self.share > 0:
            painter.setBrush(theme.accent)
            done = QRectF(0, 0, max(BAR_PX, whole.width() * self.share), BAR_PX)
            painter.drawRoundedRect(done, BAR_PX / 2, BAR_PX / 2)


class OpeningNotice(Ground):
    """Says what is being done with a journal before it can be shown."""

    left = Signal()

    def __init__(self, themes: Themes) -> None:
        super().__init__(themes)
        self.setWindowTitle("Tastebook")
        self.setFixedWidth(WIDTH_PX)
        self._words = QLabel()
        self._words.setFont(sans(18))
        self._words.setWordWrap(True)
        self._share = QLabel()
        self._share.setFont(sans(16))
        self._share.setWordWrap(True)
        self.bar = Bar(themes)
        box = QVBoxLayout(self)
        box.setContentsMargins(MARGIN_PX, MARGIN_PX, MARGIN_PX, MARGIN_PX)
        box.setSpacing(16)
        for part in (self._words, self.bar, self._share):
            box.addWidget(part)

    @property
    def words(self) -> str:
        """Return what is told."""
        return f"{self._words.text()} {self._share.text()}"

    def show_work(self, words: str, share: float | None) -> None:
        """Show what is being done, and the share that is done, None where nobody knows."""
        self._words.setText(words)
        self._share.setText(UNKNOWN if share is None else f"{share:.0%} done. {LEAVING}")
        self.bar.show_share(share or 0.0)
        self.setAccessibleName(self.words)

    def closeEvent(self, event: QCloseEvent) -> None:
        self.left.emit()
        super().closeEvent(event)
