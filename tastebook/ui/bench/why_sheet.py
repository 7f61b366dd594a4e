"""Why the next steep is advised as it is, and what else could be asked for."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from tastebook.presenters.bench.counsel import DEFERS, WhyView
from tastebook.ui.sheet import Sheet
from tastebook.ui.theme.fonts import sans, serif_italic
from tastebook.ui.theme.theme import Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets.buttons import ActionButton
from tastebook.ui.widgets.label import Label
from tastebook.ui.widgets.scrolled import scrolled
from tastebook.ui.widgets.segmented_choice import SegmentedChoice

WIDTH_PX: Final = 720


class WhySheet(Sheet):
    """Draws a `WhyView`: the advice, the choices behind it, and the reasoning in plain words."""

    asked_otherwise = Signal(int, int)
    taken = Signal()

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, "The next steep", WIDTH_PX, parent)
        self._view: WhyView | None = None
        label = sans(tokens().type_px.text, tokens().weight.label)
        self._line = Label(themes, wraps=True, font=sans(20, 600))
        self._strength_caption = Label(themes, "How strong", ink="accent", font=label)
        self._strength_place = QVBoxLayout()
        self._reference_caption = Label(themes, "As strong as infusion", ink="accent", font=label)
        self._reference_place = QVBoxLayout()
        self._strength: SegmentedChoice | None = None
        self._reference: SegmentedChoice | None = None
        self._reasons = Label(themes, wraps=True, is_selectable=True)
        self._reasons.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._take = ActionButton(themes, "Take it as plan", "Alt A")
        self._take.press_requested.connect(self.taken)
        self._lay_out(themes)

    def _lay_out(self, themes: Themes) -> None:
        inner = QWidget()
        words = QVBoxLayout(inner)
        words.setContentsMargins(0, 0, 16, 0)
        words.addWidget(self._reasons)
        words.addStretch(1)
        self.body.addWidget(self._line)
        for part in (self._reference_caption, self._strength_caption):
            part.setContentsMargins(0, 0, 0, 0)
        self.body.addWidget(self._reference_caption)
        self.body.addLayout(self._reference_place)
        self.body.addWidget(self._strength_caption)
        self.body.addLayout(self._strength_place)
        self.body.addWidget(scrolled(inner), 1)
        self.body.addWidget(Label(themes, DEFERS, font=serif_italic(18)))
        self.body.addWidget(self._take)

    def show_view(self, view: WhyView) -> None:
        """Show other advice."""
        before, self._view = self._view, view
        self._line.setText(view.line)
        if before is None or before.strengths != view.strengths:
            self._strength = self._choice_in(self._strength_place, view.strengths, "How strong", self._strength)
            self._strength.choice_requested.connect(self._ask_strength)
        if before is None or before.references != view.references:
            labels = tuple(str(one) for one in view.references)
            self._reference = self._choice_in(self._reference_place, labels, "As strong as infusion", self._reference)
            self._reference.choice_requested.connect(self._ask_reference)
        if self._strength is not None and self._reference is not None:
            self._strength.show_choice(view.chosen_strength)
            place = view.references.index(view.chosen_reference) if view.references else None
            self._reference.show_choice(place)
        for part in (self._reference_caption, self._reference, self._strength_caption, self._strength):
            if part is not None:
                part.setVisible(bool(view.references))
        self._reasons.setText("\n\n".join(view.paragraphs))
        self._take.setVisible(bool(view.take_label))
        if view.take_label:
            self._take.show_act(view.take_label)

    def _choice_in(
        self, place: QVBoxLayout, labels: tuple[str, ...], name: str, old: SegmentedChoice | None
    ) -> SegmentedChoice:
        if old is not None:
            place.removeWidget(old)
            old.hide()
            old.deleteLater()
        choice = SegmentedChoice(self._themes, labels, self, name=name)
        place.addWidget(choice)
        return choice

    def _ask_strength(self, place: int) -> None:
        if self._view is not None:
            self.asked_otherwise.emit(place, self._view.chosen_reference)

    def _ask_reference(self, place: int) -> None:
        if self._view is not None:
            self.asked_otherwise.emit(self._view.chosen_strength, self._view.references[place])

    def take_keyboard(self) -> None:
        """Give the keyboard to the one act here, or else to the sheet."""
        if self._take.isVisible():
            self._take.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            super().take_keyboard()
