"""The form of a lot: every field of its provenance, in four cards."""

from __future__ import annotations

from functools import partial
from itertools import pairwise
from typing import Final

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QBoxLayout, QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from tastebook.presenters.lot_form import FieldView, FormGroup, LotFormPresenter, LotFormView, StepView
from tastebook.presenters.lot_form_fields import CAME, HOW
from tastebook.ui.shelf.fields import Captioned, ChoiceField, LongField, SignButton, WordsField
from tastebook.ui.shelf.heading import Heading
from tastebook.ui.shelf.notice import NoticeBar
from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets.buttons import BackButton, PlainButton, QuietButton
from tastebook.ui.widgets.card import Card
from tastebook.ui.widgets.drawn import Ground
from tastebook.ui.widgets.hints import FieldNote, KeyHint
from tastebook.ui.widgets.label import Label
from tastebook.ui.widgets.scrolled import scrolled

MARGIN_PX: Final = 24
TWO_COLUMNS_PX: Final = 1000
BACK_PX: Final = 12


class StepRow(QWidget):
    """One stage of making: name, hours, and buttons to move and remove it."""

    edited = Signal(str, str)
    was_left = Signal()
    taken = Signal()
    moved = Signal(int)
    removed = Signal()

    def __init__(self, themes: Themes) -> None:
        super().__init__()
        self.name = WordsField()
        self.hours = WordsField()
        self.hours.setFixedWidth(96)
        self.hours.setPlaceholderText("hours")
        self.up = SignButton(themes, "up", "Earlier")
        self.down = SignButton(themes, "down", "Later")
        self.remove = SignButton(themes, "cross", "Remove")
        self.note = FieldNote(themes)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(2)
        row = QHBoxLayout()
        row.setSpacing(4)
        row.addWidget(self.name, 1)
        row.addSpacing(4)
        row.addWidget(self.hours)
        for button in (self.up, self.down, self.remove):
            row.addWidget(button)
        box.addLayout(row)
        box.addWidget(self.note)
        for field in (self.name, self.hours):
            field.edited.connect(lambda _text: self.edited.emit(self.name.text(), self.hours.text()))
            field.was_left.connect(self.was_left)
            field.taken.connect(self.taken)
        self.up.press_requested.connect(lambda: self.moved.emit(-1))
        self.down.press_requested.connect(lambda: self.moved.emit(1))
        self.remove.press_requested.connect(self.removed)

    def show_step(self, step: StepView, place: int, last: int) -> None:
        """Show a stage and where it stands."""
        self.name.show_text(step.name)
        self.hours.show_text(step.hours)
        self.name.setAccessibleName(f"Stage {place + 1}")
        self.hours.setAccessibleName(f"Stage {place + 1}, hours")
        self.up.setEnabled(place > 0)
        self.down.setEnabled(place < last)
        if step.error != self.note.words:
            self.note.show_error(step.error)

    def settle(self) -> None:
        """Say that the stage was left, if something was written in it."""
        self.name.settle()
        self.hours.settle()


class StepsEditor(QWidget):
    """The stages of making, in order."""

    edited = Signal(int, str, str)
    was_left = Signal()
    added = Signal()
    moved = Signal(int, int)
    removed = Signal(int)

    def __init__(self, themes: Themes) -> None:
        super().__init__()
        self._themes = themes
        self.rows: list[StepRow] = []
        self.add = PlainButton(themes, "Add a stage")
        self.add.press_requested.connect(self._add)
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(6)
        label = Label(themes, "Making, stage by stage", font=sans(tokens().type_px.text, tokens().weight.label))
        self._box.addWidget(label)
        self._box.addWidget(self.add)

    def show_view(self, view: LotFormView) -> None:
        """Show other stages."""
        while len(self.rows) > len(view.steps):
            last = self.rows.pop()
            last.hide()
            last.deleteLater()
        while len(self.rows) < len(view.steps):
            self._append()
        for place, (row, step) in enumerate(zip(self.rows, view.steps, strict=True)):
            row.show_step(step, place, len(self.rows) - 1)
            row.name.offer(view.step_choices)

    def _append(self) -> None:
        row, place = StepRow(self._themes), len(self.rows)
        row.edited.connect(partial(self.edited.emit, place))
        row.was_left.connect(self.was_left)
        row.taken.connect(partial(self._go_on, place))
        row.moved.connect(partial(self._move, place))
        row.removed.connect(partial(self._remove, place))
        self._box.insertWidget(1 + place, row)
        row.show()  # at once, not with the next turn of the event loop: it is to have the keyboard
        self.rows.append(row)
        stops: list[QWidget] = [row.name, row.hours, row.up, row.down, row.remove, self.add]
        if place:
            stops.insert(0, self.rows[place - 1].remove)
        for before, after in pairwise(stops):
            self.setTabOrder(before, after)

    def _add(self) -> None:
        self.added.emit()
        self.rows[-1].name.setFocus(Qt.FocusReason.OtherFocusReason)

    def _go_on(self, place: int) -> None:
        """Enter in a stage: on to the next, and after the last to a new one."""
        self.settle()
        if place + 1 < len(self.rows):
            self.rows[place + 1].name.setFocus(Qt.FocusReason.OtherFocusReason)
        elif self.rows[place].name.text().strip():
            self._add()
        else:
            self.add.setFocus(Qt.FocusReason.OtherFocusReason)

    def _move(self, place: int, by: int) -> None:
        self.settle()
        self.moved.emit(place, by)
        row = self.rows[place + by]
        button = row.up if by < 0 else row.down
        (button if button.isEnabled() else row.name).setFocus(Qt.FocusReason.OtherFocusReason)

    def _remove(self, place: int) -> None:
        self.removed.emit(place)
        rest = self.rows[min(place, len(self.rows) - 1)].name if self.rows else self.add
        rest.setFocus(Qt.FocusReason.OtherFocusReason)

    def settle(self) -> None:
        """Say that the stages were left, if something was written in them."""
        for row in self.rows:
            row.settle()


class LotFormPage(Ground):
    """Draws a `LotFormView` and asks for what is typed in it."""

    left = Signal()
    added = Signal(str)

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._presenter: LotFormPresenter | None = None
        self.fields: dict[str, WordsField | LongField] = {}
        self.parts: dict[str, Captioned] = {}
        self.follows = ChoiceField()
        self.steps = StepsEditor(themes)
        self._follow_uids: tuple[str, ...] = ()
        self._back = BackButton(themes, "Back")
        self._heading = Heading(themes)
        self.add = QuietButton(themes, "Add lot", is_loud=True)
        self._add_key = KeyHint(themes, "Ctrl Enter", "adds")
        self.notice = NoticeBar(themes)
        self.question = NoticeBar(themes, "Stay")
        self.leave_all = PlainButton(themes, "Leave")
        self.question.buttons.insertWidget(0, self.leave_all)
        self._columns = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._is_built = False
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addLayout(self._header())
        head = QVBoxLayout()
        head.setContentsMargins(MARGIN_PX, 0, MARGIN_PX, 0)
        head.setSpacing(8)
        head.addWidget(self.question)
        head.addWidget(self.notice)
        box.addLayout(head)
        self._inner = Ground(self._themes)
        self._columns.setSpacing(MARGIN_PX)
        self._columns.setContentsMargins(MARGIN_PX, 6, MARGIN_PX, MARGIN_PX)
        self._inner.setLayout(self._columns)
        box.addWidget(scrolled(self._inner), 1)

    def _header(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setContentsMargins(BACK_PX, 10, MARGIN_PX, 12)
        row.setSpacing(12)
        row.addWidget(self._back)
        row.addSpacing(-8)
        row.addWidget(self._heading, 1)
        row.addWidget(self._add_key)
        row.addWidget(self.add)
        return row

    def _connect(self) -> None:
        self._back.press_requested.connect(self._leave)
        self.add.press_requested.connect(self._accept)
        self.notice.dismissed.connect(self.refresh)
        self.question.dismissed.connect(self._stay)
        self.leave_all.press_requested.connect(self.left)
        self.steps.edited.connect(self._edit_step)
        self.steps.was_left.connect(self._leave_steps)
        self.steps.added.connect(self._add_step)
        self.steps.moved.connect(self._move_step)
        self.steps.removed.connect(self._remove_step)
        self.follows.activated.connect(self._follow)
        for keys, slot in (
            ("Esc", self._leave),
            ("Alt+Left", self._leave),
            ("Ctrl+Return", self._accept),
            ("Ctrl+Enter", self._accept),
        ):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(slot)

    # -- building, once the fields are known

    def _build(self, view: LotFormView) -> None:
        left, right = QVBoxLayout(), QVBoxLayout()
        for column in (left, right):
            column.setSpacing(MARGIN_PX)
            self._columns.addLayout(column, 1)
        for group in view.groups:
            column = right if group.title in (HOW, CAME) else left
            column.addWidget(self._card(group))
        left.addStretch(1)
        right.addStretch(1)
        self._is_built = True

    def _card(self, group: FormGroup) -> Card:
        card = Card(self._themes, self._inner)
        card.setAccessibleName(group.title)
        grid = QGridLayout(card)
        grid.setContentsMargins(24, 16, 24, 24)
        grid.setHorizontalSpacing(16)
        grid.setVerticalSpacing(14)
        title = Label(self._themes, group.title, ink="accent", font=sans(tokens().type_px.text, tokens().weight.label))
        grid.addWidget(title, 0, 0, 1, 2)
        place = 2
        if group.title == HOW:
            grid.addWidget(self.steps, 1, 0, 1, 2)
            place = 4
        for view in group.fields:
            is_wide = view.is_long or view.is_needed
            if is_wide and place % 2:
                place += 1
            if view.is_long:
                grid.addWidget(self._follows_part(), place // 2, 0, 1, 2)
                place += 2
            grid.addWidget(self._part(view), place // 2, place % 2, 1, 2 if is_wide else 1)
            place += 2 if is_wide else 1
        grid.setColumnStretch(0, 1)
        grid.setColumnStretch(1, 1)
        return card

    def _part(self, view: FieldView) -> Captioned:
        field: WordsField | LongField = LongField() if view.is_long else WordsField()
        field.setPlaceholderText(view.example)
        field.edited.connect(partial(self._edit, view.key))
        field.was_left.connect(partial(self._leave_field, view.key))
        if isinstance(field, WordsField):
            field.taken.connect(self._go_on)
        self.fields[view.key] = field
        self.parts[view.key] = Captioned(self._themes, view.label, field, view.unit)
        return self.parts[view.key]

    def _follows_part(self) -> Captioned:
        return Captioned(self._themes, "Follows: it is the next batch of", self.follows)

    # -- gestures

    def _edit(self, key: str, text: str) -> None:
        if self._presenter is not None:
            self._presenter.type(key, text)
            self.parts[key].show_error("")
            self.question.show_words("")

    def _leave_field(self, key: str) -> None:
        if self._presenter is not None:
            self._presenter.leave(key)
            self.refresh()

    def _go_on(self) -> None:
        self.focusNextChild()

    def _edit_step(self, place: int, name: str, hours: str) -> None:
        if self._presenter is not None:
            self._presenter.type_step(place, name=name, hours=hours)

    def _leave_steps(self) -> None:
        if self._presenter is not None:
            self._presenter.leave_steps()
            self.refresh()

    def _add_step(self) -> None:
        if self._presenter is not None:
            self._presenter.add_step()
            self.refresh()

    def _move_step(self, place: int, by: int) -> None:
        if self._presenter is not None:
            self._presenter.move_step(place, by)
            self.refresh()

    def _remove_step(self, place: int) -> None:
        if self._presenter is not None:
            self._presenter.remove_step(place)
            self.refresh()

    def _follow(self, place: int) -> None:
        if self._presenter is not None:
            self._presenter.follow(self._follow_uids[place])
            self.refresh()

    def _settle(self) -> None:
        """Read what is being written and was not left yet."""
        for field in self.fields.values():
            field.settle()
        self.steps.settle()

    def _accept(self) -> None:
        if self._presenter is None:
            return
        self._settle()
        if not self._presenter.is_new:
            self._leave()
            return
        uid = self._presenter.add()
        if uid:
            self.added.emit(uid)
            return
        self.refresh()
        wrong = self.fields.get(self._presenter.view().first_error)
        if wrong is not None:
            wrong.setFocus(Qt.FocusReason.OtherFocusReason)

    def _leave(self) -> None:
        self._settle()
        if self._presenter is None or self._presenter.may_leave():
            self.left.emit()
            return
        self.refresh()
        self.question.button.setFocus(Qt.FocusReason.OtherFocusReason)

    def _stay(self) -> None:
        if self._presenter is not None:
            self._presenter.stay()
            self.refresh()
            first = self._presenter.view().first_error or "name"
            self.fields[first].setFocus(Qt.FocusReason.OtherFocusReason)

    # -- showing

    def show_form(self, presenter: LotFormPresenter, key: str = "") -> None:
        """Show a form, with the keyboard at one field."""
        self._presenter = None  # what the last form was left with is not this one's
        self._settle()
        self._presenter = presenter
        self.refresh()
        self.fields[key or "name"].setFocus(Qt.FocusReason.OtherFocusReason)

    def refresh(self) -> None:
        """Show the form as it stands."""
        if self._presenter is None:
            return
        view = self._presenter.view()
        if not self._is_built:
            self._build(view)
        self.setAccessibleName(view.title)
        self._heading.show_words(view.title, facts=view.hint)
        self.add.setVisible(view.is_new)
        self.add.setEnabled(view.can_add)
        self._add_key.setVisible(view.is_new)
        self.notice.show_words(view.notice)
        self.question.show_words(view.question)
        for group in view.groups:
            for field in group.fields:
                self._show_field(field)
        self.steps.show_view(view)
        self._show_follows(view)

    def _show_field(self, view: FieldView) -> None:
        field = self.fields[view.key]
        field.show_text(view.text)
        if isinstance(field, WordsField):
            field.offer(view.choices)
        self.parts[view.key].show_error(view.error)

    def _show_follows(self, view: LotFormView) -> None:
        self._follow_uids = tuple(choice.lot_uid for choice in view.follow_choices)
        titles = [choice.title for choice in view.follow_choices]
        with QSignalBlocker(self.follows):
            if titles != [self.follows.itemText(place) for place in range(self.follows.count())]:
                self.follows.clear()
                self.follows.addItems(titles)
            self.follows.setCurrentIndex(
                self._follow_uids.index(view.follows) if view.follows in self._follow_uids else 0
            )

    def take_keyboard(self) -> None:
        """Give the keyboard to the first field."""
        if "name" in self.fields:
            self.fields["name"].setFocus(Qt.FocusReason.OtherFocusReason)

    def resizeEvent(self, event: QResizeEvent) -> None:
        wide = self.width() >= TWO_COLUMNS_PX
        self._columns.setDirection(QBoxLayout.Direction.LeftToRight if wide else QBoxLayout.Direction.TopToBottom)
        super().resizeEvent(event)


def _place_of(view: LotFormView) -> int:
    uids = [choice.lot_uid for choice in view.follow_choices]
    return uids.index(view.follows) if view.follows in uids else 0
