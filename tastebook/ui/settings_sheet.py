"""The settings as a sheet: few, plain, each with its effect beside it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Final

from PySide6.QtCore import QEvent, QKeyCombination, QObject, Qt, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QFileDialog, QGridLayout, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from tastebook.presenters.settings import ChoiceRow, PedalRow, SettingsPresenter
from tastebook.ui.sheet import Sheet
from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets.buttons import QuietButton
from tastebook.ui.widgets.flow import FlowLayout
from tastebook.ui.widgets.hints import FieldNote
from tastebook.ui.widgets.label import Label
from tastebook.ui.widgets.scrolled import scrolled
from tastebook.ui.widgets.segmented_choice import SegmentedChoice
from tastebook.ui.widgets.stepper import Stepper, StepperView

WIDTH_PX: Final = 900
CAPTION_PX: Final = 150
CONTROL_PX: Final = 320

MODIFIERS: Final = (
    Qt.Key.Key_Shift, Qt.Key.Key_Control, Qt.Key.Key_Alt, Qt.Key.Key_AltGr, Qt.Key.Key_Meta, Qt.Key.Key_unknown,
)  # fmt: skip

ChoosePath = Callable[[QWidget, str], str]


def path_from_dialog(parent: QWidget, suggested: str) -> str:
    """Ask where a copy should go, and return the path, empty if the user gave up."""
    path, _ = QFileDialog.getSaveFileName(parent, "A safe copy of the journal", suggested, "Journals (*.tastebook)")
    return path


class ChoiceLine(QWidget):
    """The answers of one setting, and the effect of the one chosen."""

    choice_requested = Signal(int)

    def __init__(self, themes: Themes, row: ChoiceRow) -> None:
        super().__init__()
        self.choice = SegmentedChoice(themes, row.labels, name=row.title)
        self.choice.setFixedWidth(CONTROL_PX)
        self.choice.choice_requested.connect(self.choice_requested)
        self.effect = Label(themes, ink="ink2", wraps=True)
        box = _line(self, self.choice)
        box.addWidget(self.effect, 1)

    def show_row(self, row: ChoiceRow) -> None:
        """Show the answer that holds."""
        self.choice.show_choice(row.chosen)
        self.choice.setAccessibleDescription(row.effect)
        self.effect.setText(row.effect)


class PedalLine(QWidget):
    """The keys that pour, with ways to add and to remove one."""

    wait_requested = Signal()
    stop_requested = Signal()
    key_pressed = Signal(str)
    removal_requested = Signal(int)

    def __init__(self, themes: Themes) -> None:
        super().__init__()
        self._themes = themes
        self.keys: list[QuietButton] = []
        self._is_waiting = False
        self.add = QuietButton(themes, "Add a key…")
        self.add.press_requested.connect(self._toggle)
        self.add.installEventFilter(self)
        self._effect = Label(themes, ink="ink2", wraps=True)
        self.note = FieldNote(themes)
        self._chips = QWidget()
        self._flow = FlowLayout(self._chips, gap_px=8)
        self._flow.addWidget(self.add)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(6)
        box.addWidget(self._chips)
        box.addWidget(self._effect)
        box.addWidget(self.note)

    def show_row(self, row: PedalRow) -> None:
        """Show the keys, and whether one is waited for."""
        if tuple(button.label for button in self.keys) != _captions(row):
            self._rebuild(row)
        for button in self.keys:
            button.setEnabled(row.can_remove)
        self._is_waiting = row.is_waiting
        self.add.set_label("Press it now…" if row.is_waiting else "Add a key…")
        self.add.setEnabled(row.can_add)
        self._effect.setText(row.effect)
        if row.error != self.note.words:
            self.note.show_error(row.error)

    def _rebuild(self, row: PedalRow) -> None:
        for button in self.keys:
            self._flow.removeWidget(button)
            button.hide()
            button.deleteLater()
        self._flow.removeWidget(self.add)
        self.keys = [QuietButton(self._themes, caption, self._chips) for caption in _captions(row)]
        for place, button in enumerate(self.keys):
            button.setAccessibleName(f"Remove {row.keys[place]}")
            button.setToolTip(f"Remove {row.keys[place]}")
            button.press_requested.connect(lambda place=place: self.removal_requested.emit(place))
            self._flow.addWidget(button)
            button.show()
        self._flow.addWidget(self.add)

    def _toggle(self) -> None:
        if self._is_waiting:
            self.stop_requested.emit()
            return
        self.add.setFocus(Qt.FocusReason.OtherFocusReason)
        self.wait_requested.emit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """While a key is waited for, take whatever is pressed, also keys that would otherwise do something."""
        if not self._is_waiting or watched is not self.add:
            return False
        if event.type() == QEvent.Type.ShortcutOverride:
            event.accept()
            return True
        if event.type() == QEvent.Type.FocusOut:
            self.stop_requested.emit()
        elif event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            self._take(event)
            return True
        return event.type() == QEvent.Type.KeyRelease

    def _take(self, event: QKeyEvent) -> None:
        if event.key() in MODIFIERS or event.isAutoRepeat():
            return
        if event.key() == Qt.Key.Key_Escape:
            self.stop_requested.emit()
            return
        bare = event.keyCombination().keyboardModifiers() & ~Qt.KeyboardModifier.KeypadModifier
        combination = QKeyCombination(bare, Qt.Key(event.key()))
        self.key_pressed.emit(QKeySequence(combination).toString(QKeySequence.SequenceFormat.PortableText))


def _captions(row: PedalRow) -> tuple[str, ...]:
    return tuple(f"{key}  ×" if row.can_remove else key for key in row.keys)


def _line(parent: QWidget, control: QWidget) -> QHBoxLayout:
    box = QHBoxLayout(parent)
    box.setContentsMargins(0, 0, 0, 0)
    box.setSpacing(24)
    box.addWidget(control)
    return box


class SettingsSheet(Sheet):
    """Draws a `SettingsView`. Every gesture holds at once; making a copy is asked for."""

    copy_requested = Signal(str)

    def __init__(
        self,
        themes: Themes,
        presenter: SettingsPresenter,
        parent: QWidget | None = None,
        *,
        choose_path: ChoosePath = path_from_dialog,
    ) -> None:
        super().__init__(themes, "Settings", WIDTH_PX, parent)
        self._presenter = presenter
        self._choose_path = choose_path
        self.choices: dict[str, ChoiceLine] = {}
        self.lead = Stepper(themes, StepperView("6", "s", "before the plan"))
        self.lead.setFixedWidth(CONTROL_PX)
        self._lead_effect = Label(themes, ink="ink2", wraps=True)
        self.pedals = PedalLine(themes)
        self.taster = QLineEdit()
        self.taster.setAccessibleName("Taster")
        self.taster.setFixedWidth(CONTROL_PX)
        self._taster_effect = Label(themes, ink="ink2", wraps=True)
        self._journal = Label(themes, wraps=True, is_selectable=True)
        self.copy_path = QuietButton(themes, "Copy the path")
        self.copy_journal = QuietButton(themes, "Make a safe copy now…")
        self._notice = Label(themes, ink="ink2", wraps=True, font=sans(tokens().type_px.text, tokens().weight.label))
        self._row = 0
        self._lay_out()
        self._connect()
        self.refresh()

    # -- building

    def _lay_out(self) -> None:
        inner = QWidget()
        self._grid = QGridLayout(inner)
        self._grid.setContentsMargins(0, 0, 16, 8)
        self._grid.setHorizontalSpacing(16)
        self._grid.setVerticalSpacing(12)
        self._grid.setColumnMinimumWidth(0, CAPTION_PX)
        self._grid.setColumnStretch(1, 1)
        view = self._presenter.view()
        self._add_choices("What you see", view.seen)
        self._add_title("At the timer")
        self._add("Lead", self._with(self.lead, self._lead_effect))
        for row in view.heard:
            self._add_choice(row)
        self._add("Keys that pour", self.pedals)
        self._add_choices("At the cup", view.minded)
        self._add_choices("On the page", view.printed)
        self._add("Taster", self._with(self.taster, self._taster_effect))
        self._add_title("The journal")
        self._add("It lives in", self._journal_part())
        self._grid.setRowStretch(self._row, 1)
        self.body.addWidget(self._notice)
        self.body.addWidget(scrolled(inner), 1)

    def _add_choices(self, title: str, rows: tuple[ChoiceRow, ...]) -> None:
        self._add_title(title)
        for row in rows:
            self._add_choice(row)

    def _add_choice(self, row: ChoiceRow) -> None:
        line = ChoiceLine(self._themes, row)
        line.choice_requested.connect(lambda place, key=row.key: self._choose(key, place))
        self.choices[row.key] = line
        self._add(row.title, line)

    def _add_title(self, title: str) -> None:
        font = sans(tokens().type_px.text, tokens().weight.label)
        label = Label(self._themes, title, ink="accent", font=font)
        label.setContentsMargins(0, 8 if self._row else 0, 0, 0)
        self._grid.addWidget(label, self._row, 0, 1, 2)
        self._row += 1

    def _add(self, caption: str, part: QWidget) -> None:
        label = Label(self._themes, caption)
        label.setMinimumHeight(tokens().target_px.min)
        label.setAlignment(Qt.AlignmentFlag.AlignVCenter)
        self._grid.addWidget(label, self._row, 0, Qt.AlignmentFlag.AlignTop)
        self._grid.addWidget(part, self._row, 1)
        self._row += 1

    def _with(self, control: QWidget, effect: Label) -> QWidget:
        part = QWidget()
        _line(part, control).addWidget(effect, 1)
        return part

    def _journal_part(self) -> QWidget:
        part = QWidget()
        box = QVBoxLayout(part)
        box.setContentsMargins(0, 10, 0, 0)
        box.setSpacing(12)
        box.addWidget(self._journal)
        row = QHBoxLayout()
        row.setSpacing(12)
        row.addWidget(self.copy_path)
        row.addWidget(self.copy_journal)
        row.addStretch(1)
        box.addLayout(row)
        return part

    def _connect(self) -> None:
        presenter = self._presenter
        self.lead.step_requested.connect(self._then(presenter.step_lead))
        self.lead.typed.connect(self._then(presenter.type_lead))
        self.taster.editingFinished.connect(self._then(lambda: presenter.name_taster(self.taster.text())))
        self.pedals.wait_requested.connect(self._then(presenter.wait_for_pedal))
        self.pedals.stop_requested.connect(self._then(presenter.stop_waiting))
        self.pedals.key_pressed.connect(self._then(presenter.press_pedal))
        self.pedals.removal_requested.connect(self._then(presenter.remove_pedal))
        self.copy_path.press_requested.connect(self._copy_path)
        self.copy_journal.press_requested.connect(self._ask_for_copy)

    def _then(self, gesture: Callable[..., object]) -> Callable[..., None]:
        """Return a slot that carries a gesture out and shows what came of it."""

        def slot(*given: object) -> None:
            gesture(*given)
            self.refresh()

        return slot

    # -- gestures

    def _choose(self, key: str, place: int) -> None:
        row = next(row for row in self._rows() if row.key == key)
        self._presenter.choose(row.key, place)
        self.refresh()

    def _rows(self) -> tuple[ChoiceRow, ...]:
        view = self._presenter.view()
        return (*view.seen, *view.heard, *view.minded, *view.printed)

    def _copy_path(self) -> None:
        QGuiApplication.clipboard().setText(self._presenter.view().journal)
        self._presenter.tell("The path is on the clipboard.")
        self.refresh()

    def _ask_for_copy(self) -> None:
        view = self._presenter.view()
        path = self._choose_path(self, str(Path(view.journal).with_name(view.copy_name)))
        if path:
            self.copy_requested.emit(path)
            self.refresh()

    # -- showing

    def refresh(self) -> None:
        """Show every setting as it holds now."""
        view = self._presenter.view()
        for row in self._rows():
            self.choices[row.key].show_row(row)
        lead = view.lead
        self.lead.show_view(StepperView(lead.value, "s", "before the plan", lead.at_least, lead.at_most))
        self._lead_effect.setText(lead.effect)
        self.pedals.show_row(view.pedals)
        if not self.taster.hasFocus():
            self.taster.setText(view.taster)
        self._taster_effect.setText(view.taster_effect)
        self._journal.setText(view.journal)
        self._notice.setText(view.notice)
        self._notice.setVisible(bool(view.notice))

    def take_keyboard(self) -> None:
        """Give the keyboard to the first setting."""
        self.refresh()
        first = self.choices["theme"].choice
        first.segments[first.chosen or 0].setFocus(Qt.FocusReason.OtherFocusReason)

    def close_sheet(self) -> None:
        """Keep what is being typed, and put the sheet away."""
        if self.taster.hasFocus():
            self._presenter.name_taster(self.taster.text())
        super().close_sheet()
