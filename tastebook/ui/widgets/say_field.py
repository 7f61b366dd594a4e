"""The say line: the one field in which one says what one perceives."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QEnterEvent,
    QFocusEvent,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QLineEdit, QSizePolicy, QWidget

from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint

_LEFT_PX: Final = 16
_KEY: Final = "Enter"


@dataclass(frozen=True)
class Trouble:
    """Words that were not understood: from which to which sign, and why, in words that say what to do."""

    begin: int
    end: int
    reason: str


class SayField(QLineEdit):
    """A line for words, with the key that takes them at its right.

    While it is empty, Space is the pedal and types nothing, and so are keys given to `set_keys_while_empty`.
    """

    text_edited = Signal(str)
    said = Signal(str)
    """Enter: these words, as they stand."""
    pedal_requested = Signal()
    empty_key_requested = Signal(str)
    next_word_requested = Signal(int)
    """Tab: +1, Shift Tab: -1; once `set_word_keys` has been asked for."""
    leave_requested = Signal()
    """Escape."""

    def __init__(self, themes: Themes, parent: QWidget | None = None, *, name: str = "Say it") -> None:
        super().__init__(parent)
        self._themes = themes
        self._troubles: tuple[Trouble, ...] = ()
        self._keys_while_empty = ""
        self._has_word_keys = False
        self._is_under_pointer = False
        self.setAccessibleName(name)
        self.setFont(sans(tokens().type_px.say))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        right_px = round(paint.keycap_width(_KEY)) + 2 * _LEFT_PX
        self.setTextMargins(_LEFT_PX + 2, 0, right_px, 0)
        self.textEdited.connect(self._edited)
        themes.changed.connect(self._on_theme)

    # ---- what the caller sets

    def set_keys_while_empty(self, keys: str) -> None:
        """Let these signs ask (`empty_key_requested`) instead of being typed, while the line is empty."""
        self._keys_while_empty = keys

    def set_word_keys(self, *, has_word_keys: bool) -> None:
        """Let Tab and Shift Tab ask for the next and the previous word instead of leaving the line."""
        self._has_word_keys = has_word_keys

    def show_troubles(self, troubles: Sequence[Trouble]) -> None:
        """Underline what was not understood; the reasons become the tool tip and are read out."""
        if tuple(troubles) == self._troubles:
            return
        self._troubles = tuple(troubles)
        reasons = "\n".join(trouble.reason for trouble in self._troubles)
        self.setToolTip(reasons)
        self.setAccessibleDescription(reasons)
        self.update()

    @property
    def troubles(self) -> tuple[Trouble, ...]:
        """Return what was not understood."""
        return self._troubles

    def word_span(self) -> tuple[int, int]:
        """Return from where to where the part between commas goes in which the cursor stands, without outer blanks."""
        words, cursor = self.text(), self.cursorPosition()
        begin = words.rfind(",", 0, cursor) + 1
        end = words.find(",", cursor)
        end = len(words) if end < 0 else end
        while begin < end and words[begin] == " ":
            begin += 1
        return begin, max(begin, begin + len(words[begin:end].rstrip()))

    def replace_word(self, word: str) -> None:
        """Put another word in the place of the part in which the cursor stands, with the cursor after it."""
        begin, end = self.word_span()
        words = self.text()
        self.setText(words[:begin] + word + words[end:])
        self.setCursorPosition(begin + len(word))
        self.text_edited.emit(self.text())

    # ---- keys

    def event(self, event: QEvent) -> bool:
        """Leave undo and redo to whatever surrounds an empty line: there it means the last words taken."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent) and not self.text():
            turns = (QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo)
            if any(event.matches(turn) for turn in turns):
                event.ignore()
                return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._enter(event)
        elif event.key() == Qt.Key.Key_Escape:
            self.leave_requested.emit()
        elif not self.text() and self._asks_while_empty(event):
            event.accept()
        else:
            super().keyPressEvent(event)

    def _enter(self, event: QKeyEvent) -> None:
        if self.text().strip():
            self.said.emit(self.text())
        else:
            event.ignore()  # an empty line leaves Enter to whatever surrounds it

    def _asks_while_empty(self, event: QKeyEvent) -> bool:
        if event.modifiers() & ~(Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier):
            return False
        if event.key() == Qt.Key.Key_Space:
            if not event.isAutoRepeat():  # a pedal held down is one press
                self.pedal_requested.emit()
            return True
        if event.text() and event.text() in self._keys_while_empty:
            self.empty_key_requested.emit(event.text())
            return True
        return False

    def focusNextPrevChild(self, is_next: bool) -> bool:
        if not self._has_word_keys:
            return super().focusNextPrevChild(is_next)
        self.next_word_requested.emit(1 if is_next else -1)
        return True

    def _edited(self, words: str) -> None:
        self.show_troubles(())
        self.text_edited.emit(words)

    # ---- drawing

    def sizeHint(self) -> QSize:
        return QSize(320, tokens().target_px.field)

    def minimumSizeHint(self) -> QSize:
        return QSize(160, tokens().target_px.field)

    def enterEvent(self, event: QEnterEvent) -> None:
        self._is_under_pointer = True
        super().enterEvent(event)
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        self._is_under_pointer = False
        super().leaveEvent(event)
        self.update()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = self._themes.current
        painter = QPainter(self)
        paint.make_smooth(painter)
        self._draw_box(painter, theme)
        painter.end()
        super().paintEvent(event)
        painter.begin(self)
        paint.make_smooth(painter)
        for trouble in self._troubles:
            self._draw_trouble(painter, theme, trouble)
        left = self.width() - _LEFT_PX - paint.keycap_width(_KEY)
        paint.keycap(painter, theme, left, self.height() / 2 - 12, _KEY)
        painter.end()

    def _draw_box(self, painter: QPainter, theme: Theme) -> None:
        box = QRectF(0, 0, self.width(), self.height())
        if self.hasFocus():
            line, width = theme.accent, theme.focus_line_px
        else:
            line = theme.ink2 if self._is_under_pointer else theme.outline
            width = theme.control_line_px
        ground = theme.raised if self.isEnabled() else theme.surface
        paint.rounded(painter, box, tokens().radius_px.control, ground, line, width)

    def _draw_trouble(self, painter: QPainter, theme: Theme, trouble: Trouble) -> None:
        left, right = self._x_of(trouble.begin), self._x_of(trouble.end)
        edge = self.width() - self.textMargins().right()
        left, right = max(float(_LEFT_PX), left), min(float(edge), right)
        if right > left:
            pen = QPen(theme.alarm, 2.5, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.RoundCap)
            pen.setDashPattern([0.1, 2])
            painter.setPen(pen)
            y = self.height() / 2 + 13
            painter.drawLine(QPointF(left + 1, y), QPointF(right, y))

    def _x_of(self, place: int) -> float:
        """Return where the sign at `place` begins, from where the cursor is: the line may be scrolled."""
        cursor_x = self.cursorRect().center().x()
        words = self.text()
        to_cursor = paint.text_width(words[: self.cursorPosition()], self.font())
        return cursor_x - to_cursor + paint.text_width(words[:place], self.font())

    def _on_theme(self) -> None:
        self.update()
