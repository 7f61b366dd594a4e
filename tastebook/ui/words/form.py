"""A form about a word: a few fields, what is wrong below each, and the way to keep it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, TypeAlias

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from tastebook.presenters.words_views import FieldView, FormView
from tastebook.ui.shelf.fields import Captioned, ChoiceField, LongField, WordsField
from tastebook.ui.theme.fonts import serif
from tastebook.ui.theme.theme import Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets.buttons import QuietButton
from tastebook.ui.widgets.hints import KeyHint
from tastebook.ui.widgets.label import Label
from tastebook.ui.widgets.scrolled import scrolled

NO_FAMILY: Final = "Choose a family"

Field: TypeAlias = WordsField | LongField | ChoiceField


class WordForm(QWidget):
    """Draws a `FormView`; what is written in it stays while it is the same form."""

    keep_requested = Signal(dict)
    instead_requested = Signal()
    leave_requested = Signal()

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._themes = themes
        self._shown: FormView | None = None
        self.fields: dict[str, Field] = {}
        self.captioned: dict[str, Captioned] = {}
        self._title = Label(themes, font=serif(tokens().type_px.heading, tokens().weight.serif_heading), wraps=True)
        self.keep = QuietButton(themes, "Keep", is_loud=True)
        self.instead = QuietButton(themes, "Merge")
        self.leave = QuietButton(themes, "Leave as it was")
        self._inner = QWidget()
        self._parts = QVBoxLayout(self._inner)
        self._parts.setContentsMargins(4, 0, 16, 8)
        self._parts.setSpacing(12)
        self._parts.addStretch(1)
        self._lay_out()
        self.keep.press_requested.connect(self._keep)
        self.instead.press_requested.connect(self.instead_requested)
        self.leave.press_requested.connect(self.leave_requested)

    def _lay_out(self) -> None:
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(12)
        self._title.setContentsMargins(4, 0, 0, 0)
        box.addWidget(self._title)
        box.addWidget(scrolled(self._inner), 1)
        row = QHBoxLayout()
        row.setContentsMargins(4, 0, 0, 0)
        row.setSpacing(8)
        for button in (self.keep, self.instead, self.leave):
            row.addWidget(button)
        row.addStretch(1)
        box.addLayout(row)
        hints = QHBoxLayout()
        hints.setContentsMargins(4, 0, 0, 4)
        hints.setSpacing(24)
        hints.addWidget(KeyHint(self._themes, "Ctrl Enter", "keeps it"))
        hints.addWidget(KeyHint(self._themes, "Esc", "leaves it"))
        hints.addStretch(1)
        box.addLayout(hints)

    def show_form(self, form: FormView, families: Sequence[tuple[str, str]], names: Sequence[str]) -> None:
        """Show a form; one that is shown already only learns what is wrong with it."""
        is_new = self._shown is None or (self._shown.kind, self._shown.title) != (form.kind, form.title)
        if is_new:
            self._build(form, families, names)
        self._shown = form
        self._title.setText(form.title)
        self.keep.set_label(form.keep)
        self.instead.set_label(form.instead)
        self.instead.setVisible(bool(form.instead))
        for view in form.fields:
            if view.error:
                self.captioned[view.key].show_error(view.error)
            else:
                self.captioned[view.key].show_error("")
                self.captioned[view.key].show_help(view.help)
        if is_new:
            self._begin_writing()
        elif wrong := next((view.key for view in form.fields if view.error), ""):
            self.fields[wrong].setFocus(Qt.FocusReason.OtherFocusReason)

    def forget(self) -> None:
        """Begin anew with the next form."""
        self._shown = None

    def _begin_writing(self) -> None:
        first = next(iter(self.fields.values()))
        first.setFocus(Qt.FocusReason.OtherFocusReason)
        if isinstance(first, WordsField):
            first.selectAll()

    def _build(self, form: FormView, families: Sequence[tuple[str, str]], names: Sequence[str]) -> None:
        for captioned in self.captioned.values():
            self._parts.removeWidget(captioned)
            captioned.hide()
            captioned.deleteLater()
        self.fields, self.captioned = {}, {}
        before: QWidget | None = None
        for view in form.fields:
            field = _field(view, families, names)
            self.fields[view.key] = field
            self.captioned[view.key] = Captioned(self._themes, view.caption, field)
            self._parts.insertWidget(self._parts.count() - 1, self.captioned[view.key])
            if isinstance(field, WordsField):
                field.taken.connect(self._keep)
            if before is not None:
                self.setTabOrder(before, field)
            before = field
        if before is not None:
            self.setTabOrder(before, self.keep)
        self.setTabOrder(self.keep, self.instead)
        self.setTabOrder(self.instead, self.leave)

    @property
    def values(self) -> dict[str, str]:
        """Return what stands in the fields."""
        return {key: _value(field) for key, field in self.fields.items()}

    def _keep(self) -> None:
        self.keep_requested.emit(self.values)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        is_enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        is_at_choice = any(isinstance(one, ChoiceField) and one.hasFocus() for one in self.fields.values())
        if is_enter and (is_at_choice or event.modifiers() & Qt.KeyboardModifier.ControlModifier):
            self._keep()  # a list of families has no use of its own for Enter, nor have single lines
        elif event.key() == Qt.Key.Key_Escape:
            self.leave_requested.emit()
        else:
            super().keyPressEvent(event)


def _field(view: FieldView, families: Sequence[tuple[str, str]], names: Sequence[str]) -> Field:
    if view.kind == "family":
        choice = ChoiceField()
        choice.addItem(NO_FAMILY, "")
        for key, name in families:
            choice.addItem(name, key)
        choice.setCurrentIndex(max(0, choice.findData(view.value)))
        return choice
    if view.kind == "text":
        text = LongField()
        text.show_text(view.value)
        return text
    line = WordsField()
    line.setText(view.value)
    if view.kind == "word":
        line.offer(names)
    return line


def _value(field: Field) -> str:
    if isinstance(field, ChoiceField):
        return str(field.currentData() or "")
    return field.toPlainText() if isinstance(field, LongField) else field.text()
