"""A value with a minus and a plus."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QAccessible,
    QColor,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QLineEdit, QSizePolicy, QWidget

from tastebook.ui.theme.fonts import sans, serif
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.drawn import Control

REPEAT_AFTER_MS: Final = 400
REPEAT_EVERY_MS: Final = 90
BIG_STEP: Final = 5
_SIDE_PX: Final = 50
_NARROW_PX: Final = 130

Side: TypeAlias = Literal["minus", "plus"]


@dataclass(frozen=True)
class StepperView:
    """What a stepper shows: `90`, `°C`, `water`, and whether it can go further either way."""

    value: str
    unit: str = ""
    caption: str = ""
    at_least: bool = False
    at_most: bool = False

    @property
    def told(self) -> str:
        """Return value and unit as one text."""
        return f"{self.value} {self.unit}".strip()


class Stepper(Control):
    """A value that is stepped by finger, wheel or keys, or typed after a double click or Enter."""

    step_requested = Signal(int)
    typed = Signal(str)

    accessible_role = QAccessible.Role.SpinBox
    least = QSize(168, 52)
    fades = False

    def __init__(self, themes: Themes, view: StepperView, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setMouseTracking(True)
        self._view = view
        self._side: Side | None = None
        self._side_under: Side | None = None
        self._wheel_angle = 0
        self._repeat = QTimer(self)
        self._repeat.timeout.connect(self._step_again)
        self._edit = _ValueEdit(self)
        self._edit.ended.connect(self._end_edit)
        self.setAccessibleName(view.caption)

    @property
    def view(self) -> StepperView:
        """Return what is shown."""
        return self._view

    def show_view(self, view: StepperView) -> None:
        """Show another value."""
        if view != self._view:
            self._view = view
            self.setAccessibleName(view.caption)
            self.update()
            self.tell_changed()

    def value_text(self) -> str:
        return self._view.told

    @property
    def is_edited(self) -> bool:
        """Say whether the value is being typed."""
        return self._edit.isVisible()

    def edit(self) -> None:
        """Let the value be typed."""
        self._edit.setAccessibleName(self._view.caption)
        self._edit.setFont(serif(tokens().type_px.value, tokens().weight.serif_value))
        self._edit.setText(self._view.value)
        self._edit.selectAll()
        self._edit.show()
        self._edit.setFocus(Qt.FocusReason.OtherFocusReason)

    # ---- drawing

    def draw(self, painter: QPainter, theme: Theme) -> None:
        radius = tokens().radius_px.control
        ground = theme.raised if self.isEnabled() else theme.surface
        paint.rounded(painter, self.box(), radius, ground)
        self._draw_side(painter, theme)
        line = theme.outline if self.isEnabled() else theme.hairline
        paint.rounded(painter, self.box(), radius, None, line, theme.control_line_px)
        middle = self.height() / 2
        paint.minus(
            painter, self._sign_colour(theme, self._view.at_least), QPointF(self._side_px / 2, middle), self._arm_px
        )
        paint.plus(
            painter,
            self._sign_colour(theme, self._view.at_most),
            QPointF(self.width() - self._side_px / 2, middle),
            self._arm_px,
        )
        if not self.is_edited:
            self._draw_words(painter, theme)
        if self.hasFocus():
            paint.focus_ring(painter, theme, self.box(), radius)

    def _draw_side(self, painter: QPainter, theme: Theme) -> None:
        side = self._side or (self._side_under if self.is_hovered else None)
        if side is None or self._is_at_limit(side):
            return
        painter.save()
        painter.setClipRect(QRectF(self._place_of(side)))
        fill = theme.sunken if self._side is not None else theme.accent_soft
        paint.rounded(painter, self.box(), tokens().radius_px.control, fill)
        painter.restore()

    def _draw_words(self, painter: QPainter, theme: Theme) -> None:
        centre, middle = self.width() / 2, self.height() / 2
        ink = theme.ink if self.isEnabled() else theme.ink3
        baseline = middle + (1 if self._view.caption else 8)
        size = tokens().type_px.word if self._is_narrow else tokens().type_px.heading
        font = serif(size, tokens().weight.serif_value)
        paint.text(painter, centre, baseline, self._view.told, font, ink, "centre")
        paint.text(painter, centre, middle + 18, self._view.caption, sans(tokens().type_px.key), theme.ink3, "centre")

    def _sign_colour(self, theme: Theme, is_at_limit: bool) -> QColor:
        return theme.ink3 if is_at_limit or not self.isEnabled() else theme.accent

    # ---- sides

    @property
    def _is_narrow(self) -> bool:
        """Say whether the sides must give way to the value; a finger beside a sign still means it."""
        return self.width() < _NARROW_PX

    @property
    def _side_px(self) -> int:
        return round(self.width() / 3) if self._is_narrow else _SIDE_PX

    @property
    def _arm_px(self) -> float:
        return 5.0 if self._is_narrow else 7.0

    def _side_at(self, point: QPointF) -> Side | None:
        if point.x() < self._side_px:
            return "minus"
        return "plus" if point.x() >= self.width() - self._side_px else None

    def _place_of(self, side: Side) -> QRect:
        left = 0 if side == "minus" else self.width() - self._side_px
        return QRect(left, 0, self._side_px, self.height())

    def _is_at_limit(self, side: Side) -> bool:
        return self._view.at_least if side == "minus" else self._view.at_most

    def _step(self, side: Side, times: int = 1) -> None:
        if self.isEnabled() and not self._is_at_limit(side):
            self.step_requested.emit(times if side == "plus" else -times)

    def _step_again(self) -> None:
        self._repeat.setInterval(REPEAT_EVERY_MS)
        if self._side is None or self._is_at_limit(self._side):
            self._repeat.stop()
        else:
            self._step(self._side)

    # ---- fingers and keys

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._side = self._side_at(event.position()) if event.button() == Qt.MouseButton.LeftButton else None
        if self._side is not None:
            self.set_down(is_down=True)
            self._step(self._side, _times(event.modifiers()))
            self._repeat.start(REPEAT_AFTER_MS)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        under = self._side_at(event.position())
        if under != self._side_under:
            self._side_under = under
            self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self._let_go()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        if self._side_at(event.position()) is None:
            self.edit()
        else:
            self.mousePressEvent(event)  # a quick second tap on a sign is one more step

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self._let_go()
        super().focusOutEvent(event)

    def _let_go(self) -> None:
        self._repeat.stop()
        self._side = None
        self.set_down(is_down=False)

    def wheelEvent(self, event: QWheelEvent) -> None:
        self._wheel_angle += event.angleDelta().y()
        notches = int(self._wheel_angle / 120)  # towards nought: what is left of a turn is kept for the next
        self._wheel_angle -= notches * 120
        if notches:
            self._step("plus" if notches > 0 else "minus", abs(notches))
        event.accept()

    def event(self, event: QEvent) -> bool:
        """Keep plus and minus from what surrounds the stepper: here they are about its own value."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            is_plain = not event.modifiers() & ~(Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier)
            if is_plain and Qt.Key(event.key()) in _KEY_SIDES:
                event.accept()
                return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        side = _KEY_SIDES.get(Qt.Key(event.key()))
        if side is not None:
            self._step(side, _times(event.modifiers()))
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.edit()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._edit.setGeometry(self._side_px, 4, max(0, self.width() - 2 * self._side_px), self.height() - 8)
        super().resizeEvent(event)

    def _end_edit(self, is_taken: bool, by_key: bool) -> None:
        words = self._edit.text().strip()
        self._edit.hide()
        if by_key:
            self.setFocus(Qt.FocusReason.OtherFocusReason)
        self.update()
        if is_taken and words and words != self._view.value:
            self.typed.emit(words)


class _ValueEdit(QLineEdit):
    """The field in which a value is typed: Enter and leaving take it, Escape does not."""

    ended = Signal(bool, bool)

    def __init__(self, stepper: Stepper) -> None:
        super().__init__(stepper)
        self.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        self.hide()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.ended.emit(True, True)
        elif event.key() == Qt.Key.Key_Escape:
            self.ended.emit(False, True)
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if self.isVisible() and event.reason() != Qt.FocusReason.PopupFocusReason:
            self.ended.emit(True, False)


_KEY_SIDES: Final[dict[Qt.Key, Side]] = {
    Qt.Key.Key_Up: "plus",
    Qt.Key.Key_Right: "plus",
    Qt.Key.Key_Plus: "plus",
    Qt.Key.Key_Equal: "plus",
    Qt.Key.Key_Down: "minus",
    Qt.Key.Key_Left: "minus",
    Qt.Key.Key_Minus: "minus",
}


def _times(modifiers: Qt.KeyboardModifier) -> int:
    return BIG_STEP if modifiers & Qt.KeyboardModifier.ShiftModifier else 1
