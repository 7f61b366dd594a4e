"""The words as a sheet: found at the left, told and changed at the right."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QResizeEvent
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from tastebook.presenters.words import WordsPresenter
from tastebook.presenters.words_views import WordsView
from tastebook.ui.sheet import Sheet
from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets.buttons import QuietButton
from tastebook.ui.widgets.find_field import FindField
from tastebook.ui.widgets.flow import FlowLayout
from tastebook.ui.widgets.hints import FieldNote
from tastebook.ui.widgets.label import Label
from tastebook.ui.widgets.scrolled import scrolled
from tastebook.ui.words.detail import DetailPane
from tastebook.ui.words.form import WordForm
from tastebook.ui.words.rows import WordList
from tastebook.ui.words.table import TablePane

WIDTH_PX: Final = 1120
LIST_SHARE: Final = 0.42
MOST_LIST_PX: Final = 460
TABLE_NAME: Final = "words.csv"

_COMMANDS: Final = (
    Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.MetaModifier
)

ChooseFile = Callable[[QWidget], str]


def path_to_write(parent: QWidget) -> str:
    """Ask where the words should be written, and return the path, empty if the user gave up."""
    path, _ = QFileDialog.getSaveFileName(parent, "Write the words as a table", TABLE_NAME, "Tables (*.csv)")
    return path


def path_to_read(parent: QWidget) -> str:
    """Ask which table is to be read, and return its path, empty if the user gave up."""
    path, _ = QFileDialog.getOpenFileName(parent, "Words from a table", "", "Tables (*.csv *.tsv *.txt);;All files (*)")
    return path


class WordsSheet(Sheet):
    """Draws a `WordsView`. What needs a file is asked for: the program writes and reads it."""

    export_requested = Signal(str)
    import_requested = Signal(str)

    def __init__(
        self,
        themes: Themes,
        presenter: WordsPresenter,
        parent: QWidget | None = None,
        *,
        choose_to_write: ChooseFile = path_to_write,
        choose_to_read: ChooseFile = path_to_read,
    ) -> None:
        super().__init__(themes, "Words", WIDTH_PX, parent)
        self.presenter = presenter
        self._choose_to_write, self._choose_to_read = choose_to_write, choose_to_read
        self.finder = FindField(themes, "Find a word: name, 中文, pinyin", "Ctrl F")
        self._count = Label(themes, ink="ink3")
        self.rows = WordList(themes)
        self._empty = Label(themes, ink="ink2", wraps=True)
        self.detail = DetailPane(themes)
        self.form = WordForm(themes)
        self.table = TablePane(themes)
        self._notice = Label(themes, ink="ink2", wraps=True, font=sans(tokens().type_px.text, tokens().weight.label))
        self.trouble = FieldNote(themes)
        self.new = QuietButton(themes, "New word…")
        self.undo = QuietButton(themes, "Undo")
        self.redo = QuietButton(themes, "Redo")
        self.write = QuietButton(themes, "Export…")
        self.read = QuietButton(themes, "Import…")
        self._left = QWidget()
        self._right = QStackedWidget()
        self._lists = QStackedWidget()
        self._lay_out()
        self._connect()

    # -- building

    def _lay_out(self) -> None:
        self._detail_area = scrolled(self.detail)
        for at_right in (self._detail_area, self.form, self.table):
            self._right.addWidget(at_right)
        for at_left in (self.rows, self._empty):
            self._lists.addWidget(at_left)
        self._empty.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        left = QVBoxLayout(self._left)
        left.setContentsMargins(0, 0, 0, 0)
        left.setSpacing(8)
        left.addWidget(self.finder)
        left.addWidget(self._count)
        left.addWidget(self._lists, 1)
        columns = QHBoxLayout()
        columns.setSpacing(24)
        columns.addWidget(self._left)
        columns.addWidget(self._right, 1)
        bar = QWidget()
        flow = FlowLayout(bar, gap_px=8)
        for button in (self.new, self.undo, self.redo, self.write, self.read):
            flow.addWidget(button)
        self.new.setAccessibleDescription("Key: Ctrl N")
        self.undo.setAccessibleDescription("Key: Ctrl Z")
        self.redo.setAccessibleDescription("Key: Ctrl Y")
        self.body.addLayout(columns, 1)
        self.body.addWidget(self._notice)
        self.body.addWidget(self.trouble)
        self.body.addWidget(bar)
        self.setTabOrder(self.finder, self.rows)

    def _connect(self) -> None:
        presenter = self.presenter
        self.finder.find_requested.connect(self._then(presenter.find))
        self.finder.move_requested.connect(self.rows.go)
        self.finder.take_requested.connect(self._go_to_detail)
        self.finder.leave_requested.connect(self.close_sheet)
        self.rows.chosen.connect(self._then(presenter.choose))
        self.rows.find_requested.connect(self._begin_finding)
        self.detail.act_requested.connect(self._then(presenter.do))
        self.detail.part_requested.connect(self._then(presenter.part))
        self.form.keep_requested.connect(self._keep)
        self.form.instead_requested.connect(self._and_back(presenter.merge_instead))
        self.form.leave_requested.connect(self._and_back(presenter.leave))
        self.table.take_requested.connect(self._and_back(presenter.take_table))
        self.table.leave_requested.connect(self._and_back(presenter.leave))
        self.new.press_requested.connect(self._new)
        self.undo.press_requested.connect(self._then(presenter.undo))
        self.redo.press_requested.connect(self._then(presenter.redo))
        self.write.press_requested.connect(self._ask_where_to_write)
        self.read.press_requested.connect(self._ask_what_to_read)
        self._keys: dict[str, Callable[[], object]] = {
            "Ctrl+F": self.finder.setFocus,
            "Ctrl+N": self._new,
            "Ctrl+Z": self._then(presenter.undo),
            "Ctrl+Y": self._then(presenter.redo),
            "Ctrl+Shift+Z": self._then(presenter.redo),
        }
        self._themes.changed.connect(self.refresh)

    def _then(self, gesture: Callable[..., object]) -> Callable[..., None]:
        """Return a slot that carries a gesture out and shows what came of it."""

        def slot(*given: object) -> None:
            gesture(*given)
            self.refresh()

        return slot

    def _and_back(self, gesture: Callable[[], object]) -> Callable[[], None]:
        """Return a slot that carries a gesture out and gives the keyboard back to the rows."""

        def slot() -> None:
            gesture()
            self.refresh()
            self.rows.setFocus(Qt.FocusReason.OtherFocusReason)

        return slot

    # -- gestures

    def show_word(self, words: str) -> None:
        """Show a word in full, by its key or its name."""
        self.finder.clear()
        self.presenter.show(words)
        self.refresh()

    def _new(self) -> None:
        if self.new.isEnabled():
            self.presenter.open_form("new")
            self.refresh()

    def _keep(self, values: dict[str, str]) -> None:
        if self.presenter.keep(values):
            self.form.forget()
            self.finder.blockSignals(True)
            self.finder.setText(self.presenter.view().typed)
            self.finder.blockSignals(False)
            self.refresh()
            self.rows.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self.refresh()

    def _begin_finding(self, letters: str) -> None:
        self.finder.setFocus(Qt.FocusReason.OtherFocusReason)
        self.finder.insert(letters)

    def _go_to_detail(self) -> None:
        """Give the keyboard to the first thing that can be done with the word."""
        first = next((one for one in self.detail.acts.values() if one.isVisibleTo(self.detail)), None)
        if first is not None:
            first.setFocus(Qt.FocusReason.OtherFocusReason)

    def _ask_where_to_write(self) -> None:
        if path := self._choose_to_write(self):
            self.export_requested.emit(path)
            self.refresh()

    def _ask_what_to_read(self) -> None:
        if path := self._choose_to_read(self):
            self.import_requested.emit(path)
            self.refresh()
            if self._right.currentWidget() is self.table:
                self.table.take_keyboard()

    def event(self, event: QEvent) -> bool:
        """Keep our own keys and letters from the screen below, where they may mean something else."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            writes = not event.modifiers() & _COMMANDS and event.text().strip().isprintable() and event.text().strip()
            if writes or _name(event) in self._keys:
                event.accept()
                return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        gesture = self._keys.get(_name(event))
        if gesture is not None:
            gesture()
        else:
            super().keyPressEvent(event)

    # -- showing

    def refresh(self) -> None:
        """Show the words as they stand."""
        view = self.presenter.view()
        self._count.setText(view.count)
        self._empty.setText(view.empty)
        self._lists.setCurrentWidget(self._empty if view.empty else self.rows)
        self.rows.show_groups(view.groups, view.chosen)
        self._show_right(view)
        for button, label, told in ((self.undo, "Undo", view.undo), (self.redo, "Redo", view.redo)):
            button.setEnabled(bool(told) and not view.read_only)
            button.setToolTip(f"{label}: {told}" if told else "")
        for button in (self.new, self.read):
            button.setEnabled(not view.read_only)
        notice = view.read_only or ("" if view.is_trouble else view.notice)
        self._notice.setText(notice)
        self._notice.setVisible(bool(notice))
        self.trouble.show_error(view.notice if view.is_trouble else "")

    def _show_right(self, view: WordsView) -> None:
        if view.form is not None:
            self._right.setCurrentWidget(self.form)
            self.form.show_form(view.form, view.families, view.names)
            return
        self.form.forget()
        if view.table is not None:
            self.table.show_table(view.table)
            self._right.setCurrentWidget(self.table)
            return
        self.detail.show_detail(view.detail)
        self._right.setCurrentWidget(self._detail_area)

    def take_keyboard(self) -> None:
        """Look anew which words are noted, and give the keyboard to the field that finds."""
        self.presenter.look_again()
        self.refresh()
        self.finder.setFocus(Qt.FocusReason.OtherFocusReason)
        self.finder.selectAll()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        margins = self.body.contentsMargins()
        inner = self.width() - margins.left() - margins.right()
        self._left.setFixedWidth(min(MOST_LIST_PX, round(LIST_SHARE * inner)))


def _name(event: QKeyEvent) -> str:
    """Return a key with what is held, as it is written in portable text, such as `Ctrl+Z`."""
    return QKeySequence(event.keyCombination()).toString(QKeySequence.SequenceFormat.PortableText)
