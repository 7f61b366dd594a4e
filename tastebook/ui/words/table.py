"""What a table of words would change, before anything is kept; or what is wrong with it, line by line."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QTextBrowser, QVBoxLayout, QWidget

from tastebook.presenters.words_views import TableView
from tastebook.ui.theme.fonts import sans, serif
from tastebook.ui.theme.theme import Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets.buttons import QuietButton
from tastebook.ui.widgets.label import Label


class TablePane(QWidget):
    """Draws a `TableView`."""

    take_requested = Signal()
    leave_requested = Signal()

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._themes = themes
        self._title = Label(themes, font=serif(tokens().type_px.heading, tokens().weight.serif_heading), wraps=True)
        self._told = Label(themes, wraps=True)
        self.lines = QTextBrowser()
        self.lines.setStyleSheet("QTextBrowser { border: 0; background: transparent; padding: 0 }")
        self.lines.setFont(sans(tokens().type_px.text))
        self.lines.setOpenLinks(False)
        self.lines.document().setDocumentMargin(0)
        self.lines.setAccessibleName("Line by line")
        self.take = QuietButton(themes, "Take it all over", is_loud=True)
        self.leave = QuietButton(themes, "Leave the words as they are")
        box = QVBoxLayout(self)
        box.setContentsMargins(4, 0, 16, 8)
        box.setSpacing(12)
        box.addWidget(self._title)
        box.addWidget(self._told)
        box.addWidget(self.lines, 1)
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self.take)
        row.addWidget(self.leave)
        row.addStretch(1)
        box.addLayout(row)
        self.take.press_requested.connect(self.take_requested)
        self.leave.press_requested.connect(self.leave_requested)

    def show_table(self, table: TableView) -> None:
        """Show what another table would change."""
        self._title.setText(table.title)
        self._told.setText(table.told)
        self._told.set_ink("alarm" if table.troubles else "ink")
        self.take.setVisible(table.can_take)
        colours = self._themes.current
        self.lines.document().setDefaultStyleSheet(
            f"p {{ margin: 0 0 8px 0; color: {colours.ink.name()} }} .quiet {{ color: {colours.ink3.name()} }}"
        )
        troubles = [f"<p><b>{escape(line)}.</b> {escape(told)}</p>" for line, told in table.troubles]
        changes = [
            f"<p><span class='quiet'>{escape(line)}</span> <b>{escape(name)}</b>, {escape(told)}</p>"
            for line, name, told in table.changes
        ]
        notes = [f"<p class='quiet'>{escape(note)}</p>" for note in table.notes]
        self.lines.setHtml("".join((*troubles, *changes, *notes)))

    def take_keyboard(self) -> None:
        """Give the keyboard to the answer."""
        chosen = self.take if self.take.isVisibleTo(self) else self.leave
        chosen.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.leave_requested.emit()
        else:
            super().keyPressEvent(event)
