"""Fields of a form: a caption above, what is wrong below, and words written before offered while one types."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QEvent, QPointF, QSignalBlocker, Qt, Signal
from PySide6.QtGui import QFocusEvent, QHideEvent, QKeyEvent, QPainter, QPolygonF, QWheelEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QPlainTextEdit, QSizePolicy, QVBoxLayout, QWidget

from tastebook.domain.spelling import plain
from tastebook.ui.shelf.offers import Offers
from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.drawn import Pressable
from tastebook.ui.widgets.hints import FieldNote
from tastebook.ui.widgets.label import Label


class WordsField(QLineEdit):
    """A line with an open list: what is offered can be taken, and anything else be written.

    While one writes, the words are offered in which what is typed begins a word, without accents, tones or case; Down
    offers all of them.
    """

    edited = Signal(str)
    was_left = Signal()
    taken = Signal()
    """Enter, with nothing marked among the offers."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._words: tuple[str, ...] = ()
        self._offers: Offers | None = None
        self._is_changed = False
        self.textEdited.connect(self._on_edited)

    def show_text(self, text: str) -> None:
        """Show what stands in the field, unless it is just being written in."""
        if text != self.text() and not self._is_changed:
            self.setText(text)

    def offer(self, words: Sequence[str]) -> None:
        """Say which words can be taken."""
        self._words = tuple(words)

    @property
    def is_offering(self) -> bool:
        """Say whether the list of offers is open."""
        return self._offers is not None and self._offers.isVisible()

    @property
    def offers(self) -> Offers:
        """Return the list of offers."""
        if self._offers is None:
            self._offers = Offers(self)
            self._offers.taken.connect(self._take)
        return self._offers

    def _on_edited(self, text: str) -> None:
        self._is_changed = True
        self.edited.emit(text)
        self._show_offers(text)

    def _show_offers(self, typed: str) -> None:
        wanted = f" {plain(typed)}"
        fitting = [word for word in self._words if wanted in f" {plain(word)}" and word != typed]
        if fitting or self.is_offering:
            self.offers.show_words(fitting)

    def _take(self, word: str) -> None:
        self.offers.hide()
        self.setText(word)
        self._is_changed = True
        self.edited.emit(word)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not event.modifiers() & _CONTROL:
            if not self._take_marked():
                self.taken.emit()
        elif event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Up):
            self._step(1 if event.key() == Qt.Key.Key_Down else -1)
        else:
            super().keyPressEvent(event)

    def event(self, event: QEvent) -> bool:
        """Let Escape close the offers first, before it means anything to the page."""
        is_escape = isinstance(event, QKeyEvent) and event.key() == Qt.Key.Key_Escape
        if is_escape and self.is_offering:
            if event.type() == QEvent.Type.KeyPress:
                self.offers.hide()
            event.accept()
            return True
        return super().event(event)

    def _step(self, by: int) -> None:
        if self.is_offering:
            self.offers.step(by)
        elif by > 0:
            self._show_offers("")

    def focusNextPrevChild(self, is_next: bool) -> bool:
        self._take_marked()
        return super().focusNextPrevChild(is_next)

    def _take_marked(self) -> bool:
        """Close the list of offers, taking the word that is marked; say whether there was one."""
        word = self.offers.chosen if self.is_offering else ""
        if self._offers is not None:
            self._offers.hide()
        if word:
            self._take(word)
        return bool(word)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() in (Qt.FocusReason.PopupFocusReason, Qt.FocusReason.ActiveWindowFocusReason):
            return
        if self._offers is not None:
            self._offers.hide()
        self.settle()

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        if self._offers is not None:
            self._offers.hide()

    def settle(self) -> None:
        """Say that the field was left, if something was written in it."""
        if self._is_changed:
            self._is_changed = False
            self.was_left.emit()


_CONTROL: Final = Qt.KeyboardModifier.ControlModifier


class LongField(QPlainTextEdit):
    """Several lines; Tab goes on to the next field."""

    edited = Signal(str)
    was_left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setTabChangesFocus(True)
        self.setFont(sans(tokens().type_px.text))
        self.setMinimumHeight(96)
        self._is_changed = False
        self.textChanged.connect(self._on_edited)

    def show_text(self, text: str) -> None:
        """Show what stands in the field, unless it is just being written in."""
        if text != self.toPlainText() and not self._is_changed:
            with QSignalBlocker(self):
                self.setPlainText(text)

    def _on_edited(self) -> None:
        self._is_changed = True
        self.edited.emit(self.toPlainText())

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.settle()

    def settle(self) -> None:
        """Say that the field was left, if something was written in it."""
        if self._is_changed:
            self._is_changed = False
            self.was_left.emit()


class ChoiceField(QComboBox):
    """One of a list; the wheel scrolls the page and chooses nothing."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(8)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()


class Captioned(QWidget):
    """A field with its caption, and under it what is wrong."""

    def __init__(self, themes: Themes, caption: str, field: QWidget, unit: str = "") -> None:
        super().__init__()
        self.field = field
        label = Label(themes, caption, font=sans(tokens().type_px.text, tokens().weight.label))
        label.setBuddy(field)
        self._unit = Label(themes, unit, ink="ink3")
        field.setAccessibleName(f"{caption}, in {unit}" if unit else caption)
        self.note = FieldNote(themes)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(4)
        head = QHBoxLayout()
        head.setSpacing(6)
        head.addWidget(label)
        head.addWidget(self._unit)
        head.addStretch(1)
        box.addLayout(head)
        box.addWidget(field)
        box.addWidget(self.note)
        box.addStretch(1)

    def show_error(self, words: str) -> None:
        """Say what is wrong with the field, or nothing."""
        if words != self.note.words:
            self.note.show_error(words)
            self.field.setAccessibleDescription(words)
            self.field.setProperty("wrong", bool(words))
            self.field.style().unpolish(self.field)
            self.field.style().polish(self.field)

    def show_help(self, words: str) -> None:
        """Say something helpful below the field."""
        self.note.show_help(words)


class SignButton(Pressable):
    """A small button with one sign: an arrow, or a cross."""

    def __init__(self, themes: Themes, sign: str, name: str, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._sign = sign
        self.setAccessibleName(name)
        self.setToolTip(name)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        radius = tokens().radius_px.control
        if self.is_down or self.is_hovered:
            paint.rounded(painter, self.box(), radius, theme.sunken if self.is_down else theme.accent_soft)
        ink = theme.ink2 if self.isEnabled() else theme.hairline
        painter.setPen(paint.solid_pen(ink, 2, is_round=True))
        painter.translate(self.width() / 2, self.height() / 2)
        painter.drawPolyline(_POINTS[self._sign])
        if self._sign == "cross":
            painter.drawLine(QPointF(-5, 5), QPointF(5, -5))
        painter.resetTransform()
        if self.hasFocus():
            paint.focus_ring(painter, theme, self.box(), radius)


_POINTS: Final = {
    "up": QPolygonF([QPointF(-6, 3), QPointF(0, -3), QPointF(6, 3)]),
    "down": QPolygonF([QPointF(-6, -3), QPointF(0, 3), QPointF(6, -3)]),
    "cross": QPolygonF([QPointF(-5, -5), QPointF(5, 5)]),
}
