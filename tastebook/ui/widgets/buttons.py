"""Buttons: the one filled target, quiet ones, words to press, and the way back."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QAccessible, QColor, QFont, QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from tastebook.ui.theme.fonts import sans, serif
from tastebook.ui.theme.theme import Theme, Themes, mixed
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.drawn import Pressable

_BLACK: Final = QColor(0, 0, 0)
_WHITE: Final = QColor(255, 255, 255)


class LabelButton(Pressable):
    """A button that says something."""

    fades = False

    def __init__(self, themes: Themes, label: str, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._label = label
        self.setAccessibleName(label)

    @property
    def label(self) -> str:
        """Return what the button says."""
        return self._label

    def set_label(self, label: str) -> None:
        """Say something else."""
        if label == self._label:
            return
        self._label = label
        self.setAccessibleName(label)
        self.updateGeometry()
        self.update()


class ActionButton(LabelButton):
    """The one filled button of a screen: the next act. It asks at the press, since that is the moment that counts."""

    acts_on_press = True
    least = QSize(200, 80)

    def __init__(self, themes: Themes, label: str, key: str = "", parent: QWidget | None = None) -> None:
        super().__init__(themes, label, parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._key = key
        self._is_over = False
        self.setAccessibleDescription(f"Key: {key}" if key else "")

    @property
    def is_over(self) -> bool:
        """Say whether the button stands in the colour of alarm."""
        return self._is_over

    def show_act(self, label: str, *, is_over: bool = False) -> None:
        """Say what a press would do now, and whether it is overdue."""
        if (label, is_over) != (self._label, self._is_over):
            self._is_over = is_over
            self.set_label(label)
            self.update()

    def set_key(self, key: str) -> None:
        """Show which key does the same."""
        if key == self._key:
            return
        self._key = key
        self.setAccessibleDescription(f"Key: {key}" if key else "")
        self.update()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        ink, fill = self._colours(theme)
        paint.rounded(painter, self.box(), tokens().radius_px.card, fill)
        key_width = paint.keycap_width(self._key, tokens().type_px.text) + 28 if self._key else 0.0
        room = self.width() - 56 - key_width
        font = self._fitting_font(room)
        middle = self.height() / 2
        paint.text(painter, 28, middle + 11, paint.elided(self._label, font, room), font, ink)
        if self._key:
            left = self.width() - 28 - paint.keycap_width(self._key, tokens().type_px.text)
            paint.keycap(painter, theme, left, middle - 12, self._key, ink, None, tokens().type_px.text)

    def _fitting_font(self, room: float) -> QFont:
        """Return the largest of a few sizes at which the label is whole."""
        scale = tokens().type_px
        sizes = (scale.action, scale.title, scale.heading, scale.value, scale.word)
        fonts = [serif(size, tokens().weight.serif_heading) for size in sizes]
        return next((font for font in fonts if paint.text_width(self._label, font) <= room), fonts[-1])

    def _colours(self, theme: Theme) -> tuple[QColor, QColor]:
        if not self.isEnabled():
            return theme.ink3, theme.sunken
        ink, fill = (theme.on_alarm, theme.alarm) if self._is_over else (theme.on_accent, theme.accent)
        if self.is_hovered and not self.is_down:
            fill = mixed(fill, _WHITE, 0.06)
        return ink, mixed(fill, _BLACK, 0.06 * self.pressed_share)

    def draw_around(self, painter: QPainter, theme: Theme, place: QRectF) -> None:
        if self.isEnabled() and not self.is_down:
            paint.shadow(painter, theme, place, tokens().radius_px.card, "action")
        if self.hasFocus():
            paint.focus_ring(painter, theme, place, tokens().radius_px.card, 3)


class QuietButton(LabelButton):
    """An outlined button, 44 high; `is_loud` fills it with the accent, for the one answer of a card."""

    least = QSize(88, 44)

    def __init__(self, themes: Themes, label: str, parent: QWidget | None = None, *, is_loud: bool = False) -> None:
        super().__init__(themes, label, parent)
        self.setSizePolicy(QSizePolicy.Policy.Minimum, QSizePolicy.Policy.Fixed)
        self._is_loud = is_loud

    def sizeHint(self) -> QSize:
        return QSize(max(self.least.width(), round(paint.text_width(self._label, _label_font()) + 48)), 44)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        radius = tokens().radius_px.control
        if self._is_loud and self.isEnabled():
            fill = mixed(theme.accent, _WHITE, 0.06) if self.is_hovered else theme.accent
            paint.rounded(painter, self.box(), radius, mixed(fill, _BLACK, 0.06 * self.pressed_share))
        else:
            paint.rounded(painter, self.box(), radius, self._ground(theme), self._line(theme), theme.control_line_px)
        ink = theme.on_accent if self._is_loud else theme.ink
        middle = QPointF(self.width() / 2, self.height() / 2 + 6)
        words = paint.elided(self._label, _label_font(), self.width() - 24)
        colour = ink if self.isEnabled() else theme.ink3
        paint.text(painter, middle.x(), middle.y(), words, _label_font(), colour, "centre")
        if self.hasFocus():
            gap = -4 if self._is_loud else 0
            ring = theme.on_accent if self._is_loud else theme.accent
            box = self.box().adjusted(-gap, -gap, gap, gap)
            paint.rounded(painter, box, radius + gap, None, ring, theme.focus_line_px)

    def _ground(self, theme: Theme) -> QColor:
        if not self.isEnabled():
            return theme.surface
        rest = theme.accent_soft if self.is_hovered else theme.raised
        return mixed(rest, theme.sunken, self.pressed_share)

    def _line(self, theme: Theme) -> QColor:
        return theme.outline if self.isEnabled() else theme.hairline


class PlainButton(LabelButton):
    """Words that can be pressed, underlined under the pointer; the target is 44 high all the same."""

    accessible_role = QAccessible.Role.Link
    least = QSize(44, 44)

    def __init__(self, themes: Themes, label: str, parent: QWidget | None = None) -> None:
        super().__init__(themes, label, parent)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        return QSize(max(44, round(paint.text_width(self._label, _label_font()) + 17)), 44)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        ink = theme.accent if self.isEnabled() else theme.ink3
        if self.is_down:
            paint.rounded(painter, self.box(), tokens().radius_px.key, theme.sunken)
        baseline = self.height() / 2 + 6
        end = paint.text(painter, 8, baseline, self._label, _label_font(), ink)
        if self.is_hovered:
            painter.setPen(paint.solid_pen(ink, 1.25))
            painter.drawLine(QPointF(8, baseline + 3.5), QPointF(end, baseline + 3.5))
        if self.hasFocus():
            paint.focus_ring(painter, theme, self.box().adjusted(1, 5, -1, -5), tokens().radius_px.key)


class BackButton(Pressable):
    """The way back to where one came from."""

    least = QSize(44, 44)

    def __init__(self, themes: Themes, name: str = "Back", parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(name)
        self.setToolTip(name)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        radius = tokens().radius_px.control
        if self.is_down:
            paint.rounded(painter, self.box(), radius, theme.sunken)
        elif self.is_hovered:
            paint.rounded(painter, self.box(), radius, theme.accent_soft)
        ink = theme.ink2 if self.isEnabled() else theme.ink3
        paint.chevron(painter, ink, QPointF(self.width() / 2 - 3.5, self.height() / 2))
        if self.hasFocus():
            paint.focus_ring(painter, theme, self.box(), radius)


def _label_font() -> QFont:
    return sans(tokens().type_px.text, tokens().weight.label)
