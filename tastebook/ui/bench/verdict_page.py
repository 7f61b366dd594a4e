"""The sheet for the verdict: decision, words, and what to do next time. Each field is kept as one leaves it."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QEvent, QObject, QTimer, Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QLineEdit, QPlainTextEdit, QScrollArea, QWidget

from tastebook.presenters.bench.views import VerdictSheet
from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.hints import FieldNote
from tastebook.ui.widgets.segmented_choice import SegmentedChoice

LINES: Final = (
    ("headline", "In one line", "such as: buy four kilos, for the autumn list"),
    ("strengths", "Strengths", "what carries it"),
    ("faults", "Faults", "what speaks against it"),
    ("next_time", "Next time", "such as: pour infusion 4 at 38 s"),
    ("brewing_guide", "Brewing guide", "such as: 6 g to 100 ml, 95 °C, 20 s, then a little longer"),
)
SHORT: Final = (
    ("quantity_kg", "Quantity, kg", "such as 4"),
    ("good_infusions", "Good infusions", "such as 6"),
    ("rest_until", "Rest until", "a day, if it rests"),
)
FIRST_LINE: Final = 3
REST_COLUMN: Final = 5
"""A day in words is longer than a number."""


class VerdictPage(QWidget):
    """Draws a `VerdictSheet`."""

    draft_requested = Signal(str, str)

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._themes = themes
        self._choice: SegmentedChoice | None = None
        self._decisions: tuple[str, ...] = ()
        self._fields: dict[str, QLineEdit] = {}
        self._left = ""
        self._told = FieldNote(themes)
        policy = self._told.sizePolicy()
        policy.setRetainSizeWhenHidden(True)  # what is told moves nothing
        self._told.setSizePolicy(policy)
        self._note = QPlainTextEdit()
        self._note.setPlaceholderText("what others should know")
        self._note.setAccessibleName("Note")
        self._note.setTabChangesFocus(True)
        self._note.setMinimumHeight(64)
        self._note.installEventFilter(self)
        self._top = QHBoxLayout()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 8, 0)
        self._grid.setHorizontalSpacing(16)
        self._grid.setVerticalSpacing(8)
        self._lay_out()

    def _lay_out(self) -> None:
        self._grid.addLayout(self._top, 0, 0, 1, 6)
        for column, (key, caption, example) in enumerate(SHORT):
            self._grid.addWidget(self._caption(caption), 1, 2 * column)
            self._grid.addWidget(self._field(key, caption, example), 1, 2 * column + 1)
        self._grid.addWidget(self._told, 2, 0, 1, 6)
        for row, (key, caption, example) in enumerate(LINES, start=FIRST_LINE):
            self._grid.addWidget(self._caption(caption), row, 0)
            self._grid.addWidget(self._field(key, caption, example), row, 1, 1, 5)
        last = FIRST_LINE + len(LINES)
        self._grid.addWidget(self._caption("Note"), last, 0)
        self._grid.addWidget(self._note, last, 1, 1, 5)
        for column in (1, 3, 5):
            self._grid.setColumnStretch(column, 2 if column == REST_COLUMN else 1)
        self._grid.setRowStretch(last, 1)

    def _caption(self, words: str) -> QLabel:
        label = QLabel(words)
        label.setFont(sans(16, 600))
        return label

    def _field(self, key: str, caption: str, example: str) -> QLineEdit:
        field = QLineEdit()
        field.setPlaceholderText(example)
        field.setAccessibleName(caption)
        field.editingFinished.connect(lambda: self._leave(key))
        if any(key == one for one, _, _ in SHORT):
            field.installEventFilter(self)  # what stands there is replaced, not written into
            field.returnPressed.connect(lambda: QTimer.singleShot(0, field, field.selectAll))
        self._fields[key] = field
        return field

    def _leave(self, key: str) -> None:
        field = self._fields[key]
        if field.isModified():
            field.setModified(False)
            self._left = key
            self.draft_requested.emit(key, field.text())

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(watched, QLineEdit) and isinstance(event, QFocusEvent) and event.gotFocus():
            QTimer.singleShot(0, watched, watched.selectAll)  # once the press that came here has set its cursor
        if watched is self._note and event.type() == QEvent.Type.FocusOut:
            self._leave_note()
        return super().eventFilter(watched, event)

    def _leave_note(self) -> None:
        document = self._note.document()
        if document.isModified():
            document.setModified(False)
            self.draft_requested.emit("note", self._note.toPlainText())

    def take_keyboard(self) -> None:
        """Give the keyboard to the one line that says it all."""
        self._fields["headline"].setFocus()

    def settle(self) -> None:
        """Keep what was typed and not yet left."""
        for key in self._fields:
            self._leave(key)
        self._leave_note()

    def show_sheet(self, sheet: VerdictSheet, trouble: str = "") -> None:
        """Draw another state; a field being edited keeps what is typed, and so does one that is in trouble."""
        choice = self._choice_for(sheet)
        choice.show_choice(self._decisions.index(sheet.decision) if sheet.decision in self._decisions else None)
        for key, field in self._fields.items():
            is_refused = bool(trouble) and key == self._left
            if not field.isModified() and not is_refused and field.text() != getattr(sheet, key):
                field.setText(getattr(sheet, key))
        if not self._note.document().isModified() and self._note.toPlainText() != sheet.note:
            self._note.setPlainText(sheet.note)
            self._note.document().setModified(False)

        if trouble:
            self._told.show_error(trouble)
            self._bring_into_sight(self._told)
        else:
            self._told.show_help(sheet.rests)

    def _bring_into_sight(self, widget: QWidget) -> None:
        around = self.parentWidget()
        while around is not None and not isinstance(around, QScrollArea):
            around = around.parentWidget()
        if around is not None:
            around.ensureWidgetVisible(widget)

    def _choice_for(self, sheet: VerdictSheet) -> SegmentedChoice:
        if self._choice is None:
            self._decisions = sheet.decisions
            self._choice = SegmentedChoice(self._themes, [one.capitalize() for one in sheet.decisions], name="Decision")
            self._choice.choice_requested.connect(
                lambda place: self.draft_requested.emit("decision", self._decisions[place])
            )
            self._top.addWidget(self._choice)
        return self._choice
