"""The sheet for what is smelled and tasted: chips, and the shelf of families below."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtGui import QAccessible, QPainter, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QStackedWidget, QVBoxLayout, QWidget

from tastebook.presenters.bench.sheets import FAMILY_SHELF
from tastebook.presenters.bench.views import AromaSheet, GroupView, WordView
from tastebook.ui.bench.chip_board import ChipBoard
from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.buttons import QuietButton
from tastebook.ui.widgets.drawn import Drawn
from tastebook.ui.widgets.family_shelf import FamilyShelf
from tastebook.ui.widgets.flow import FlowLayout
from tastebook.ui.widgets.hints import KeyHint
from tastebook.ui.widgets.scrolled import scrolled

HINTS: Final = (("Tab", "next word"), ("1–5", "strength"), ("0", "absent"))
FIRST_STRENGTH: Final = 3
LEAST_WITH_CAPTIONS_PX: Final = 182
"""Lower than this the captions give way to the chips."""
ROOMY_PX: Final = 260
"""Lower than this they give way to chips that would not all be seen beside them."""
BELOW_CHIPS_PX: Final = 96
"""What captions and families take."""


class Caption(Drawn):
    """A line that names what stands below it."""

    accessible_role = QAccessible.Role.StaticText

    def __init__(self, themes: Themes, title: str, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._title, self._words = title, ""
        self.setAccessibleName(title)
        self.setFixedHeight(28)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_words(self, words: str) -> None:
        """Add other words to the title."""
        if words == self._words:
            return
        self._words = words
        self.setAccessibleName(f"{self._title} {words}".strip())
        self.update()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        end = paint.text(painter, 0, 18, self._title, sans(16, 600), theme.ink2)
        words = paint.elided(self._words, sans(16), self.width() - end - 22)
        paint.text(painter, end + 14, 18, words, sans(16), theme.ink3)


class WordList(QWidget):
    """The words of one family, to press."""

    word_requested = Signal(str)

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._themes = themes
        self._flow = FlowLayout(self)
        self._words: tuple[WordView, ...] = ()
        self._buttons: dict[str, QuietButton] = {}

    def show_words(self, words: tuple[WordView, ...]) -> None:
        """Lay other words out."""
        if words == self._words:
            return
        if [one.descriptor for one in words] != [one.descriptor for one in self._words]:
            self._rebuild(words)
        self._words = words
        for one in words:
            self._buttons[one.descriptor].setEnabled(not one.is_noted)

    def _rebuild(self, words: tuple[WordView, ...]) -> None:
        while self._flow.takeAt(0) is not None:
            pass
        for button in self._buttons.values():
            button.hide()
            button.deleteLater()
        self._buttons = {}
        for one in words:
            button = QuietButton(self._themes, one.word)
            button.press_requested.connect(lambda key=one.descriptor: self.word_requested.emit(key))
            self._flow.addWidget(button)
            self._buttons[one.descriptor] = button

    def first(self) -> QWidget | None:
        """Return the first word that can be pressed."""
        return next((button for button in self._buttons.values() if button.isEnabled()), None)


class AromaPage(QWidget):
    """Chips of the step, or the words of an opened family; below them all families."""

    intensity_requested = Signal(str, int)
    removal_requested = Signal(str)
    flags_requested = Signal(str, bool, bool)
    meaning_requested = Signal(str)
    family_requested = Signal(str)

    def __init__(self, themes: Themes, names: Sequence[tuple[str, str]], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._is_tight = False
        self._board = ChipBoard(themes)
        self._words = WordList(themes)
        self._caption = Caption(themes, "All families")
        by_key = dict(names)
        self._shelf = FamilyShelf(themes, [(key, by_key[key].lower()) for key in FAMILY_SHELF])
        self._stack = QStackedWidget()
        self._stack.addWidget(scrolled(self._board))
        self._stack.addWidget(scrolled(self._words))
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addWidget(self._stack, 1)
        box.addLayout(self._caption_row(themes))
        box.addSpacing(4)
        box.addWidget(self._shelf)
        self._connect()

    def _caption_row(self, themes: Themes) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(16)
        row.addWidget(self._caption, 1)
        self._hints = [KeyHint(themes, key, words) for key, words in HINTS]
        for hint in self._hints:
            row.addWidget(hint)
        return row

    def _connect(self) -> None:
        self._board.intensity_requested.connect(self.intensity_requested)
        self._board.removal_requested.connect(self.removal_requested)
        self._board.flags_requested.connect(self.flags_requested)
        self._board.meaning_requested.connect(self.meaning_requested)
        self._words.word_requested.connect(lambda key: self.intensity_requested.emit(key, FIRST_STRENGTH))
        self._shelf.family_requested.connect(self.family_requested)

    def show_sheet(self, sheet: AromaSheet) -> None:
        """Draw another state."""
        self._board.show_groups(sheet.groups)
        self._show_captions()
        self._words.show_words(sheet.words)
        opened = bool(sheet.open_family)
        if opened != bool(self._stack.currentIndex()):
            self._stack.setCurrentIndex(int(opened))
        self._shelf.show_noted({tile.family for tile in sheet.tiles if tile.is_on} | {sheet.open_family})
        self._caption.show_words("press a word; press the family again to close it" if opened else sheet.caption)

    def set_tight(self, *, is_tight: bool) -> None:
        """Leave the captions out, where there is no room for them."""
        self._is_tight = is_tight
        self._show_captions()

    def _show_captions(self) -> None:
        """Show the captions where there is room; a row of chips comes before them, and one scroll bar is enough."""
        around = self.parentWidget()
        room_px = around.height() if around is not None else ROOMY_PX
        is_full = room_px < ROOMY_PX and self._board.height() > room_px - BELOW_CHIPS_PX
        is_low = room_px < LEAST_WITH_CAPTIONS_PX or is_full
        for widget in (self._caption, *self._hints):
            widget.setHidden(self._is_tight or is_low)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._show_captions()

    def show_groups(self, groups: tuple[GroupView, ...]) -> None:
        """Draw other chips alone."""
        self._board.show_groups(groups)

    @property
    def chosen(self) -> QWidget | None:
        """Return the chip of the part that is chosen in the say line."""
        return self._board.chosen

    def first_word(self) -> QWidget | None:
        """Return the first chip, or the first word of the opened family."""
        if self._stack.currentIndex():
            return self._words.first()
        chips = self._board.chips
        return chips[0] if chips else None

    def take_shelf(self) -> None:
        """Give the keyboard to the families."""
        self._shelf.take_focus()
