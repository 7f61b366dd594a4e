"""What was found, below the find field: what was understood, then the rows. The journal is asked beside the window."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from tastebook.presenters.finding import Answer, Asked, FindPresenter, FoundRow
from tastebook.ui.background import Background
from tastebook.ui.shelf.found_list import FoundList
from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets.hints import KeyHint
from tastebook.ui.widgets.label import Label
from tastebook.ui.widgets.rule import Rule

PAUSE_MS: Final = 60
"""Without a key, after which the journal is asked."""


class FoundPane(QWidget):
    """Draws a `FindView`. No key waits for the journal: it is asked on another thread, and old answers are dropped."""

    lot_requested = Signal(str)
    place_requested = Signal(str, int, bool)
    """Session, infusion, and whether the session is still open."""
    find_requested = Signal(str)
    leave_requested = Signal()

    def __init__(self, themes: Themes, presenter: FindPresenter, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._presenter = presenter
        self._typed = ""
        self._takes_first = False
        self._background = Background(self)
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(PAUSE_MS)
        self.understood = Label(themes, ink="ink2", font=sans(tokens().type_px.text))
        self.puzzled = Label(themes, ink="alarm", wraps=True, font=sans(tokens().type_px.text))
        self.told = Label(themes, ink="ink3", font=sans(tokens().type_px.text))
        self.list = FoundList(themes)
        self.empty = Label(themes, ink="ink2", wraps=True, font=sans(tokens().type_px.word))
        self.empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.empty.setContentsMargins(80, 0, 80, 0)
        self._lay_out(themes)
        self._connect()

    def _lay_out(self, themes: Themes) -> None:
        told = QHBoxLayout()
        told.setContentsMargins(24, 12, 24, 8)
        told.setSpacing(24)
        told.addWidget(self.understood, 1)
        told.addWidget(self.told)
        puzzled = QHBoxLayout()
        puzzled.setContentsMargins(24, 0, 24, 8)
        puzzled.addWidget(self.puzzled)
        hints = QHBoxLayout()
        hints.setContentsMargins(24, 12, 24, 0)
        hints.setSpacing(24)
        for key, does in (("↑ ↓", "what was found"), ("Enter", "open"), ("Esc", "back to all lots")):
            hints.addWidget(KeyHint(themes, key, does))
        hints.addStretch(1)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 12)
        box.setSpacing(0)
        box.addLayout(told)
        box.addLayout(puzzled)
        box.addWidget(self.empty, 1)
        box.addWidget(self.list, 1)
        box.addWidget(Rule(themes))
        box.addLayout(hints)

    def _connect(self) -> None:
        self._pause.timeout.connect(self._ask)
        self._background.answered.connect(self._take_answer)
        self.list.open_requested.connect(self._open)
        self.list.more_requested.connect(self._ask_more)
        self.list.find_requested.connect(self.find_requested)
        self.list.leave_requested.connect(self.leave_requested)

    # -- asking

    def look_for(self, typed: str) -> None:
        """Look for what is typed, once no key has come for a moment."""
        self._typed = typed
        self._takes_first = False
        self._pause.start()

    def look_again(self) -> None:
        """Look again: the journal was changed."""
        if not self._pause.isActive():
            self._ask_for(self._presenter.ask_again())

    def take(self) -> None:
        """Open the current row; while an answer is still to come, the first row of that."""
        if self._pause.isActive():
            self._pause.stop()
            self._takes_first = True
            self._ask()
        elif self._presenter.view().is_waiting:
            self._takes_first = True
        else:
            self.list.take()

    def release(self) -> None:
        """Ask nothing more."""
        self._pause.stop()
        self._background.release()

    def _ask(self) -> None:
        self._ask_for(self._presenter.ask(self._typed))
        self.refresh()

    def _ask_more(self) -> None:
        self._ask_for(self._presenter.ask_more())

    def _ask_for(self, asked: Asked | None) -> None:
        if asked is not None:
            self._background.ask(lambda: self._presenter.answer(asked))

    def _take_answer(self, answer: object) -> None:
        if not isinstance(answer, Answer) or not self._presenter.take(answer):
            return
        if not answer.asked.offset and self._presenter.view().rows != self.list.found.rows:
            self.list.setCurrentIndex(self.list.found.index(-1))  # other rows; the same ones keep their place
        self.refresh()
        if self._takes_first:
            self._takes_first = False
            self.list.take()

    def _open(self, row: FoundRow) -> None:
        if row.kind == "place":
            self.place_requested.emit(row.session_uid, row.infusion, row.is_open)
        else:
            self.lot_requested.emit(row.lot_uid)

    # -- showing

    def refresh(self) -> None:
        """Show what was found as it stands."""
        view = self._presenter.view()
        self.understood.setText(view.understood)
        self.understood.setAccessibleName(f"Looked for: {view.understood}" if view.understood else "")
        self.puzzled.setText(view.puzzled)
        self.puzzled.setVisible(bool(view.puzzled))
        self.told.setText(view.told)
        self.list.show_rows(view.rows)
        self.empty.setText(view.empty)
        self.empty.setVisible(bool(view.empty))
        self.list.setVisible(not view.empty)
