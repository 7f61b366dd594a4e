"""The timer: digits one reads from two metres, the bar, water and plan, and the one big target."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QAccessible, QPainter
from PySide6.QtWidgets import (
    QApplication,
    QBoxLayout,
    QHBoxLayout,
    QLineEdit,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from tastebook.presenters.bench.views import TimerView
from tastebook.ui.theme.fonts import sans, serif_italic
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.buttons import ActionButton, PlainButton, QuietButton
from tastebook.ui.widgets.card import Card
from tastebook.ui.widgets.drawn import Drawn
from tastebook.ui.widgets.say_field import SayField
from tastebook.ui.widgets.stepper import Stepper, StepperView
from tastebook.ui.widgets.timer_face import DigitsFace, DigitsView, PourBar, PourBarView

WIDTH_PX: Final = 432
LOW_WIDTH_PX: Final = 380
PAD_PX: Final = 24
ADVICE_PX: Final = 68
FIRST_LINE_PX: Final = 24
DIGITS_PX: Final = 224
COMPACT_DIGITS_PX: Final = 148
LOWEST_DIGITS_PX: Final = 76
ACTION_PX: Final = 80
COMPACT_ACTION_PX: Final = 64
STEPPERS_PX: Final = 52
SECONDS_EXAMPLE: Final = "such as 42 or 1:40"


class AdviceLines(Drawn):
    """Two lines: what is known, and whose decision it is. A long line takes the room of both."""

    accessible_role = QAccessible.Role.StaticText

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._lines = ("", "")
        self._is_whole = True
        self.setFixedHeight(ADVICE_PX)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_lines(self, lines: tuple[str, str]) -> None:
        """Show other lines."""
        if lines != self._lines:
            self._lines = lines
            told = " ".join(line for line in lines if line)
            self.setAccessibleName(told)
            self.setToolTip(told)
            self.update()

    def set_whole(self, *, is_whole: bool) -> None:
        """Draw both lines, or leave the second to somebody else."""
        if is_whole != self._is_whole:
            self._is_whole = is_whole
            self.setFixedHeight(ADVICE_PX if is_whole else FIRST_LINE_PX)
            self.update()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        first, second = self._lines
        if not self._is_whole:
            shown = paint.fitting(first, (sans(16), sans(15), sans(14)), self.width())
            paint.text(painter, 0, 19, paint.elided(first, shown, self.width()), shown, theme.ink2)
            return
        if paint.text_width(second, serif_italic(18)) <= self.width():
            is_long = paint.text_width(first, sans(16)) > self.width()
            room = QRectF(0, 0, self.width(), FIRST_LINE_PX * (1 + is_long))
            paint.paragraph(painter, room, first, sans(16), theme.ink2)
            paint.text(painter, 0, 64 if is_long else 51, second, serif_italic(18), theme.ink)
            return
        paint.text(painter, 0, 16, paint.elided(first, sans(16, 600), self.width()), sans(16, 600), theme.ink)
        paint.paragraph(painter, QRectF(0, 19, self.width(), self.height() - 18), second, sans(14), theme.ink2)


class SecondLine(Drawn):
    """Whose decision it is, where buttons stand beside it."""

    accessible_role = QAccessible.Role.StaticText

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._words = ""
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def show_words(self, words: str) -> None:
        """Show other words."""
        if words != self._words:
            self._words = words
            self.setAccessibleName(words)
            self.update()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        font = paint.fitting(self._words, (serif_italic(18), serif_italic(16), serif_italic(14)), self.width())
        words = paint.elided(self._words, font, self.width())
        paint.text(painter, 0, self.height() / 2 + 6, words, font, theme.ink)


class PourQuestion(QWidget):
    """Asks, when a steep runs absurdly long, whether it was poured, and after how long."""

    answered = Signal(str)
    steeps_still = Signal()

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._field = QLineEdit()
        self._field.setPlaceholderText(SECONDS_EXAMPLE)
        self._field.setAccessibleName("Seconds in water")
        self._field.returnPressed.connect(lambda: self.answered.emit(self._field.text()))
        still = QuietButton(themes, "It steeps still")
        still.press_requested.connect(self.steeps_still)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(12)
        row.addWidget(self._field, 1)
        row.addWidget(still)

    def ask(self, question: str) -> None:
        """Empty the field and take the keyboard, unless words are being typed elsewhere."""
        self._field.clear()
        self._field.setAccessibleDescription(question)
        focused = QApplication.focusWidget()
        if not (isinstance(focused, (QLineEdit, SayField)) and focused.text()):
            self._field.setFocus()


class TimerPanel(Card):
    """Draws a `TimerView` and asks for what the taster wants of it."""

    act_requested = Signal()
    water_step_requested = Signal(int)
    water_typed = Signal(str)
    plan_step_requested = Signal(int)
    plan_typed = Signal(str)
    seconds_typed = Signal(str)
    long_accepted = Signal()
    boil_requested = Signal()
    why_requested = Signal()

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._view: TimerView | None = None
        self._digits = DigitsView(themes)
        self._bar = PourBar(themes)
        self._water = Stepper(themes, StepperView("", caption="water"))
        self._plan = Stepper(themes, StepperView("", caption="plan"))
        self._advice = AdviceLines(themes)
        self._beside = QWidget()
        self._second = SecondLine(themes)
        self._asked = AdviceLines(themes)
        self._question = PourQuestion(themes)
        self._why = PlainButton(themes, "Why?")
        self._why.setAccessibleName("Why this advice")
        self._boil = PlainButton(themes, "It boils now")
        self._amend = PlainButton(themes, "Other seconds")
        self._amend_field = QLineEdit()
        self._action = ActionButton(themes, "Water on", "Space")
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        self._lower = QWidget()
        lower = QVBoxLayout(self._lower)
        lower.setContentsMargins(PAD_PX, 0, PAD_PX, PAD_PX)
        lower.setSpacing(0)
        lower.addWidget(self._set_or_asked())
        lower.addSpacing(10)
        lower.addWidget(self._told())
        lower.addStretch(1)
        lower.addWidget(self._action)
        self._box = QBoxLayout(QBoxLayout.Direction.TopToBottom, self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(0)
        self._box.addWidget(self._digits)
        self._right = QVBoxLayout()
        self._right.setSpacing(4)
        self._right.addWidget(self._bar)
        self._right.addWidget(self._lower, 1)
        self._box.addLayout(self._right, 1)

    def _set_or_asked(self) -> QStackedWidget:
        """Return the place for water and plan, which the words of the question take in turn."""
        steppers = QWidget()
        row = QHBoxLayout(steppers)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(16)
        row.addWidget(self._water, 1)
        row.addWidget(self._plan, 1)
        self._asked.setFixedHeight(STEPPERS_PX)
        self._upper = QStackedWidget()
        self._upper.setFixedHeight(STEPPERS_PX)
        self._upper.addWidget(steppers)
        self._upper.addWidget(self._asked)
        return self._upper

    def _told(self) -> QStackedWidget:
        """Return the place for advice, which the question and the seconds to amend take in turn."""
        advice = QWidget()
        lines = QVBoxLayout(advice)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(0)
        lines.addWidget(self._advice)
        beside = QHBoxLayout(self._beside)
        beside.setContentsMargins(0, 0, 0, 0)
        beside.setSpacing(0)
        beside.addWidget(self._second, 1)
        for button in (self._why, self._boil, self._amend):
            beside.addWidget(button)
        lines.addWidget(self._beside)
        self._amend_field.setPlaceholderText(f"seconds in water, {SECONDS_EXAMPLE}")
        self._amend_field.setAccessibleName("Seconds in water")
        self._stack = QStackedWidget()
        self._stack.setFixedHeight(ADVICE_PX)
        for page in (advice, self._question, self._amend_field):
            self._stack.addWidget(page)
        return self._stack

    def _connect(self) -> None:
        self._action.press_requested.connect(self.act_requested)
        self._water.step_requested.connect(self.water_step_requested)
        self._water.typed.connect(self.water_typed)
        self._plan.step_requested.connect(self.plan_step_requested)
        self._plan.typed.connect(self.plan_typed)
        self._question.answered.connect(self.seconds_typed)
        self._question.steeps_still.connect(self.long_accepted)
        self._amend.press_requested.connect(self._begin_amending)
        self._boil.press_requested.connect(self.boil_requested)
        self._why.press_requested.connect(self.why_requested)
        self._amend_field.returnPressed.connect(self._end_amending)
        self._amend_field.editingFinished.connect(lambda: self._stack.setCurrentIndex(0))

    @property
    def view(self) -> TimerView | None:
        """Return what is shown."""
        return self._view

    def set_flat(self, *, is_flat: bool) -> None:
        """Stand as one row above the step card instead of as a column beside it."""
        sideways = QBoxLayout.Direction.LeftToRight
        self._box.setDirection(sideways if is_flat else QBoxLayout.Direction.TopToBottom)

    def set_compact(self, *, is_compact: bool, is_lowest: bool = False) -> None:
        """Take less height, where the window is low; where a bar stands below the Bench too, the digits give way."""
        compact_px = LOWEST_DIGITS_PX if is_lowest else COMPACT_DIGITS_PX
        self._digits.setFixedHeight(compact_px if is_compact else DIGITS_PX)
        self._action.setFixedHeight(COMPACT_ACTION_PX if is_compact else ACTION_PX)
        bottom = 8 if is_compact else PAD_PX
        margins = self._lower.layout()
        if margins is not None:
            margins.setContentsMargins(PAD_PX, 0, PAD_PX, bottom)

    def set_large(self, *, is_large: bool) -> None:
        """Give all room to the digits."""
        if is_large:
            self._digits.setMinimumHeight(DIGITS_PX)
            self._digits.setMaximumHeight(16_777_215)
        self._box.setStretch(0, 3 if is_large else 0)

    def show_view(self, view: TimerView) -> None:
        """Draw another state."""
        if view == self._view:
            return
        asked_before = bool(self._view and self._view.question)
        self._view = view
        self._digits.show_face(DigitsFace(view.digits, view.phase, view.title, view.word, view.below, view.plan))
        is_over = view.phase == "over"
        self._bar.show_view(PourBarView(view.plan_s, view.lead_s, view.elapsed_s, is_over, view.marks))
        self._show_steppers(view)
        self._advice.show_lines(view.advice)
        self._show_beside(view)
        self._action.show_act(view.action, is_over=is_over)
        self._action.set_key(view.key)
        if view.question and not asked_before:
            self._ask(view.question)
        elif asked_before and not view.question:
            self._upper.setCurrentIndex(0)
            self._stack.setCurrentIndex(0)

    def _show_beside(self, view: TimerView) -> None:
        shown = ((self._why, view.can_ask_why), (self._boil, view.can_boil), (self._amend, view.can_amend))
        for button, is_shown in shown:
            button.setVisible(is_shown)
        is_alone = not any(is_shown for _, is_shown in shown)
        self._beside.setHidden(is_alone)
        self._advice.set_whole(is_whole=is_alone)
        self._second.show_words(view.advice[1])

    def _show_steppers(self, view: TimerView) -> None:
        self._water.show_view(StepperView(view.water, caption=view.water_caption, at_most=view.is_hottest))
        self._plan.show_view(StepperView(view.plan_value, caption=view.plan_caption))
        for stepper in (self._water, self._plan):
            stepper.setEnabled(view.can_change_plan)

    def _ask(self, question: str) -> None:
        since, _, asked = question.partition(". ")
        self._asked.show_lines((f"{since}.", asked))
        self._upper.setCurrentIndex(1)
        self._stack.setCurrentIndex(1)
        self._question.ask(question)

    def _begin_amending(self) -> None:
        self._amend_field.clear()
        self._stack.setCurrentIndex(2)
        self._amend_field.setFocus()

    def _end_amending(self) -> None:
        typed = self._amend_field.text()
        self._stack.setCurrentIndex(0)
        if typed.strip():
            self.seconds_typed.emit(typed)
