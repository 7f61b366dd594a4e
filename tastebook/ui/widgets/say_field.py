"""The say line: the one field in which one says what one perceives. It grows with what is said in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal, TypeAlias

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QEnterEvent,
    QFocusEvent,
    QHelpEvent,
    QInputMethodEvent,
    QKeyEvent,
    QKeySequence,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QTextBlock,
    QTextCursor,
)
from PySide6.QtWidgets import QFrame, QPlainTextEdit, QSizePolicy, QToolTip, QWidget

from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint

MOST_LINES: Final = 5
"""Beyond these the line scrolls."""

_LEFT_PX: Final = 16
_KEY: Final = "Enter"
_BELOW_PX: Final = 4.5
"""How far below the letters' foot an underline stands."""
_BIG: Final = 0xFFFF
"""Signs beyond this are two places to Qt and one to us."""

Line: TypeAlias = Literal["solid", "dashed", "dotted", "double", "struck", "thin"]


@dataclass(frozen=True)
class Mark:
    """Words that were understood, or were not: from which to before which sign, how they are underlined, and why.

    `family` colours the line; without one it is drawn in ink, or in the accent where it is dotted.
    """

    begin: int
    end: int
    line: Line
    told: str
    family: str = ""
    is_chosen: bool = False


class SayField(QPlainTextEdit):
    """A field for words, with the key that takes them at its right.

    While it is empty, Space is the pedal and types nothing, and so are keys given to `set_keys_while_empty`. While a
    part of the words is chosen, digits, Backspace and Delete are about that part; anything else goes back to the words.
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
    value_requested = Signal(int)
    """A digit from 0 to 5 while a part is chosen."""
    drop_requested = Signal()
    """Backspace or Delete while a part is chosen."""
    meaning_requested = Signal()
    """F1 while a part is chosen."""
    part_left = Signal()
    """Escape, or anything typed, while a part is chosen."""

    def __init__(self, themes: Themes, parent: QWidget | None = None, *, name: str = "Say it") -> None:
        super().__init__(parent)
        self._themes = themes
        self._marks: tuple[Mark, ...] = ()
        self._keys_while_empty = ""
        self._has_word_keys = False
        self._is_under_pointer = False
        self._is_composing = self._is_choosing = False
        self._told_text = ""
        self._most_lines = MOST_LINES
        self.setAccessibleName(name)
        self.setFont(sans(tokens().type_px.say))
        self._dress()
        self.textChanged.connect(self._changed)
        self.document().contentsChange.connect(self._shift_marks)
        themes.changed.connect(self._on_theme)
        self.verticalScrollBar().valueChanged.connect(self._keep_filled)

    def _dress(self) -> None:
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setTabChangesFocus(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.document().setDocumentMargin(0)
        around = max(0, tokens().target_px.field - self.line_px) // 2
        right_px = round(paint.keycap_width(_KEY)) + 2 * _LEFT_PX
        self.setViewportMargins(_LEFT_PX + 2, around, right_px, around)
        self.setFixedHeight(tokens().target_px.field)

    @property
    def line_px(self) -> int:
        """Return how much higher one line more makes it."""
        return self.fontMetrics().lineSpacing()

    # ---- what the caller sets and reads

    def text(self) -> str:
        """Return the words as they stand."""
        return self.document().toRawText().replace("\u2029", "\n")

    def setText(self, words: str) -> None:
        """Put other words in, with the cursor behind them; nobody is told."""
        self._told_text = words
        self.setPlainText(words)
        self._told_text = self.text()
        self.moveCursor(QTextCursor.MoveOperation.End)
        self._grow()

    def clear(self) -> None:
        """Take the words out; nobody is told."""
        self.setText("")

    def cursorPosition(self) -> int:
        """Return before which sign the cursor stands."""
        return _places(self.text(), self.textCursor().position())

    def setCursorPosition(self, place: int) -> None:
        """Put the cursor before a sign."""
        cursor = self.textCursor()
        cursor.setPosition(_units(self.text(), place))
        self.setTextCursor(cursor)

    def show_placeholder(self, words: str) -> None:
        """Say what can be said, while nothing is."""
        if words != self.placeholderText():
            self.setPlaceholderText(words)
            self.viewport().update()  # Qt leaves what stood there before

    def set_keys_while_empty(self, keys: str) -> None:
        """Let these signs ask (`empty_key_requested`) instead of being typed, while the line is empty."""
        self._keys_while_empty = keys

    def set_word_keys(self, *, has_word_keys: bool) -> None:
        """Let Tab and Shift Tab ask for the next and the previous word instead of leaving the line."""
        self._has_word_keys = has_word_keys

    @property
    def lines(self) -> int:
        """Return how many lines the words take, whether all of them are seen or not."""
        if self.document().isEmpty():  # Qt counts the lines that were there until it lays out again
            return 1
        return max(1, round(self.document().size().height()))

    def set_most_lines(self, lines: int) -> None:
        """Grow to so many lines and no more."""
        if lines != self._most_lines:
            self._most_lines = lines
            self._grow()

    def show_marks(self, marks: Sequence[Mark], told: str = "") -> None:
        """Underline what was understood; `told` says all of it to those who do not see it."""
        self.setAccessibleDescription(told)
        if tuple(marks) != self._marks:
            self._marks = tuple(marks)
            self.viewport().update()
            for mark in self._marks:
                if mark.is_chosen:
                    self._scroll_to(_units(self.text(), mark.begin))

    def _scroll_to(self, unit: int) -> None:
        """Scroll so that a place is seen, the cursor staying where it is."""
        block = self.document().findBlock(unit)
        line = block.firstLineNumber() + block.layout().lineForTextPosition(unit - block.position()).lineNumber()
        bar = self.verticalScrollBar()
        top = min(bar.value(), max(0, self.lines - self._most_lines))  # no empty lines below the last
        bar.setValue(min(line, max(top, line - self._most_lines + 1)))

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Return what is underlined."""
        return self._marks

    def set_choosing(self, *, is_choosing: bool) -> None:
        """Let digits, Backspace, Delete and F1 be about a part that is chosen, instead of about the words."""
        self._is_choosing = is_choosing

    @property
    def is_choosing(self) -> bool:
        """Say whether a part of the words is chosen."""
        return self._is_choosing

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
        cursor = self.textCursor()
        cursor.setPosition(_units(words, begin))
        cursor.setPosition(_units(words, end), QTextCursor.MoveMode.KeepAnchor)
        cursor.insertText(word)
        self.setTextCursor(cursor)

    # ---- keys

    def event(self, event: QEvent) -> bool:
        """Leave undo and redo of an empty line to what surrounds it, and F1 to us while a part is chosen; draw."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            turns = (QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo)
            if not self.text() and any(event.matches(turn) for turn in turns):
                event.ignore()
                return True
            if event.key() == Qt.Key.Key_F1 and self.is_choosing:
                event.accept()
                return True
        if event.type() == QEvent.Type.Paint:
            self._draw_around_words()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._enter(event)
        elif self.is_choosing and self._is_about_part(event):
            event.accept()
        elif event.key() == Qt.Key.Key_Escape:
            self.leave_requested.emit()
        elif not self.text() and not self._is_composing and self._asks_while_empty(event):
            event.accept()
        else:
            super().keyPressEvent(event)

    def _enter(self, event: QKeyEvent) -> None:
        if self.text().strip():
            self.said.emit(self.text())
        else:
            event.ignore()  # an empty line leaves Enter to whatever surrounds it

    def _is_about_part(self, event: QKeyEvent) -> bool:
        """Ask for what a key means to the chosen part; any other key but one held alone goes back to the words."""
        key = event.key()
        is_plain = not event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if is_plain and Qt.Key.Key_0 <= key <= Qt.Key.Key_5:
            self.value_requested.emit(key - Qt.Key.Key_0)
        elif key in (Qt.Key.Key_Backspace, Qt.Key.Key_Delete):
            self.drop_requested.emit()
        elif key == Qt.Key.Key_F1:
            self.meaning_requested.emit()
        elif key == Qt.Key.Key_Escape:
            self.part_left.emit()
        else:
            if key not in _HELD:
                self.part_left.emit()
            return False
        return True

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

    def inputMethodEvent(self, event: QInputMethodEvent) -> None:
        """Take what an input method composes or dictates; it is about the words, never about the chosen part."""
        self._is_composing = bool(event.preeditString())
        if self.is_choosing and (event.preeditString() or event.commitString()):
            self.part_left.emit()
        super().inputMethodEvent(event)
        self._grow()

    def focusNextPrevChild(self, is_next: bool) -> bool:
        if not self._has_word_keys:
            return super().focusNextPrevChild(is_next)
        self.next_word_requested.emit(1 if is_next else -1)
        return True

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if self.is_choosing:
            self.part_left.emit()
        super().mousePressEvent(event)

    # ---- what is typed

    def _changed(self) -> None:
        words = self.text()
        if words == self._told_text:
            return
        self._told_text = words
        self._grow()
        self.text_edited.emit(words)

    def _shift_marks(self, place: int, removed: int, added: int) -> None:
        """Keep the marks with their words while one types before or behind them; words that are changed lose theirs."""
        if not self._marks or removed == added == 0:
            return
        words = self.text()
        place = _places(words, place)
        kept = (_shifted(mark, place, removed, added) for mark in self._marks)
        self._marks = tuple(mark for mark in kept if mark is not None and mark.end <= len(words))
        self.viewport().update()

    def _grow(self) -> None:
        """Be as high as the words need, up to the most lines."""
        lines = self.lines
        scrolls = lines > self._most_lines
        self.setVerticalScrollBarPolicy(
            Qt.ScrollBarPolicy.ScrollBarAlwaysOn if scrolls else Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        )
        height = tokens().target_px.field + (min(lines, self._most_lines) - 1) * self.line_px
        if height != self.height():
            self.setFixedHeight(height)
        if scrolls:
            self._scroll_to(self.textCursor().position())
        else:
            self.verticalScrollBar().setValue(0)

    def _keep_filled(self, value: int) -> None:
        """Leave no empty line below the last: Qt scrolls on when the words fill their room to the pixel."""
        last_top = max(0, self.lines - self._most_lines)
        if value > last_top:
            self.verticalScrollBar().setValue(last_top)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._grow()

    def sizeHint(self) -> QSize:
        return QSize(320, self.height())

    def minimumSizeHint(self) -> QSize:
        return QSize(160, self.height())

    # ---- drawing

    def viewportEvent(self, event: QEvent) -> bool:
        """Say under the pointer what a word was understood as."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            place = _places(self.text(), self.cursorForPosition(event.pos()).position())
            told = next((mark.told for mark in self._marks if mark.begin <= place < mark.end), "")
            QToolTip.showText(event.globalPos(), told, self)
            return True
        return super().viewportEvent(event)

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

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        theme = self._themes.current
        painter = QPainter(self.viewport())
        paint.make_smooth(painter)
        for mark in self._marks:
            if mark.is_chosen:
                for place, _ in self._places_of(mark):
                    box = place.adjusted(-min(3.0, place.left() - 0.5), 0, 3, 1)
                    paint.rounded(painter, box, tokens().radius_px.key, theme.accent_soft, theme.accent, 1.5)
        painter.end()
        super().paintEvent(event)
        painter.begin(self.viewport())
        paint.make_smooth(painter)
        for mark in self._marks:
            for place, foot in self._places_of(mark):
                _draw_mark(painter, theme, mark, place, foot)
        painter.end()

    def _draw_around_words(self) -> None:
        theme = self._themes.current
        painter = QPainter(self)
        paint.make_smooth(painter)
        if self.hasFocus():
            line, width = theme.accent, theme.focus_line_px
        else:
            line = theme.ink2 if self._is_under_pointer else theme.outline
            width = theme.control_line_px
        ground = theme.raised if self.isEnabled() else theme.surface
        box = QRectF(0, 0, self.width(), self.height())
        paint.rounded(painter, box, tokens().radius_px.control, ground, line, width)
        left = self.width() - _LEFT_PX - paint.keycap_width(_KEY)
        paint.keycap(painter, theme, left, self.height() - tokens().target_px.field / 2 - 12, _KEY)
        painter.end()

    def _places_of(self, mark: Mark) -> Iterator[tuple[QRectF, float]]:
        """Yield where the words of a mark stand, line by line, each with the height of the letters' foot."""
        words = self.text()
        begin, end = _units(words, mark.begin), _units(words, mark.end)
        block = self.document().findBlock(begin)
        while block.isValid() and block.position() < end:
            yield from self._places_in(block, begin - block.position(), end - block.position())
            block = block.next()

    def _places_in(self, block: QTextBlock, begin: int, end: int) -> Iterator[tuple[QRectF, float]]:
        layout, top = block.layout(), self.blockBoundingGeometry(block).translated(self.contentOffset()).top()
        composed, at = len(layout.preeditAreaText()), layout.preeditAreaPosition()
        begin, end = (place + (composed if composed and place > at else 0) for place in (begin, end))
        for number in range(layout.lineCount()):
            line = layout.lineAt(number)
            first, last = line.textStart(), line.textStart() + line.textLength()
            if begin < last and end > first:
                left, right = _x_of(line.cursorToX(max(begin, first))), _x_of(line.cursorToX(min(end, last)))
                box = QRectF(left, top + line.y(), max(0.0, right - left), line.height())
                if box.center().y() > 0:  # else the line is scrolled out of sight, and its mark must not peep in
                    yield box, top + line.y() + line.ascent()

    def _on_theme(self) -> None:
        self.update()
        self.viewport().update()


_HELD: Final = (Qt.Key.Key_Shift, Qt.Key.Key_Control, Qt.Key.Key_Alt, Qt.Key.Key_AltGr, Qt.Key.Key_Meta)


def _draw_mark(painter: QPainter, theme: Theme, mark: Mark, place: QRectF, foot: float) -> None:
    """Draw a line: its shape says how sure the words are, its colour of which family they are."""
    if mark.family and mark.line != "dotted":
        colour = theme.family(mark.family)
    else:
        colour = theme.accent if mark.line == "dotted" else theme.ink3 if mark.line == "thin" else theme.ink2
    y = foot + _BELOW_PX
    pen = QPen(colour, 2.5, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap)
    if mark.line == "dashed":
        pen.setDashPattern([2.2, 2.4])
    elif mark.line == "dotted":
        pen.setDashPattern([0.1, 2])
    elif mark.line in ("double", "thin"):
        pen.setWidthF(1.25)
    painter.setPen(pen)
    left, right = place.left() + 1, place.right() - 1
    painter.drawLine(QPointF(left, y), QPointF(right, y))
    if mark.line == "double":
        painter.drawLine(QPointF(left, y + 3), QPointF(right, y + 3))
    elif mark.line == "struck":
        painter.setPen(paint.solid_pen(theme.alarm, 1.75))
        middle = foot - place.height() * 0.24
        painter.drawLine(QPointF(left, middle), QPointF(right, middle))


def _shifted(mark: Mark, place: int, removed: int, added: int) -> Mark | None:
    if mark.end <= place:
        return mark
    if mark.begin >= place + removed:
        return replace(mark, begin=mark.begin + added - removed, end=mark.end + added - removed)
    return None


def _x_of(found: object) -> float:
    """Return the place from what `QTextLine.cursorToX` gives: the place alone, or with the cursor it belongs to."""
    return float(found[0]) if isinstance(found, tuple) else float(found)  # type: ignore[arg-type]


def _units(words: str, place: int) -> int:
    """Return a place among signs as Qt counts it: signs beyond the first plane (𨰿, 🍑) are two."""
    return place if words.isascii() else place + sum(ord(sign) > _BIG for sign in words[:place])


def _places(words: str, units: int) -> int:
    """Return a place that Qt counts as one among signs."""
    if words.isascii():
        return min(units, len(words))
    counted = 0
    for place, sign in enumerate(words):
        if counted >= units:
            return place
        counted += 2 if ord(sign) > _BIG else 1
    return len(words)
