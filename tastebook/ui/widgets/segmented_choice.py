"""A few answers that exclude each other, in one bar."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QRect, QRectF, QSize, Signal
from PySide6.QtGui import QAccessible, QColor, QFont, QPainter, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.drawn import Drawn, Pressable
from tastebook.ui.widgets.roving import Roving


class Segment(Pressable):
    """One answer."""

    accessible_role = QAccessible.Role.RadioButton
    least = QSize(44, 44)
    fades = False

    def __init__(self, themes: Themes, label: str, parent: QWidget) -> None:
        super().__init__(themes, parent)
        self._label = label
        self._is_chosen = False
        self.setAccessibleName(label)

    @property
    def is_chosen(self) -> bool:
        """Say whether this is the answer."""
        return self._is_chosen

    def set_chosen(self, *, is_chosen: bool) -> None:
        """Say whether this is the answer."""
        if is_chosen != self._is_chosen:
            self._is_chosen = is_chosen
            self.update()
            self.tell_changed()

    def accessible_states(self) -> Mapping[str, bool]:
        return {"checkable": True, "checked": self._is_chosen}

    def width_wanted(self) -> int:
        """Return how wide the answer likes to be."""
        return round(paint.text_width(self._label, _font(is_chosen=True))) + 24

    def draw(self, painter: QPainter, theme: Theme) -> None:
        face = self.box().adjusted(3, 3, -3, -3)
        radius = tokens().radius_px.control - 3
        if self._is_chosen and self.isEnabled():
            paint.rounded(painter, face, radius, theme.accent)
        elif self.is_down:
            paint.rounded(painter, face, radius, theme.sunken)
        elif self.is_hovered:
            paint.rounded(painter, face, radius, theme.accent_soft)
        font = _font(is_chosen=self._is_chosen)
        words = paint.elided(self._label, font, self.width() - 12)
        paint.text(painter, self.width() / 2, self.height() / 2 + 6, words, font, self._ink(theme), "centre")
        if self.hasFocus():
            self._draw_ring(painter, theme, face, radius)

    def _ink(self, theme: Theme) -> QColor:
        if not self.isEnabled():
            return theme.ink3
        return theme.on_accent if self._is_chosen else theme.ink2

    def _draw_ring(self, painter: QPainter, theme: Theme, face: QRectF, radius: float) -> None:
        ring = theme.on_accent if self._is_chosen else theme.accent
        inset = 2.0 if self._is_chosen else 0.0
        box = face.adjusted(inset, inset, -inset, -inset)
        paint.rounded(painter, box, radius - inset, None, ring, theme.focus_line_px)


class SegmentedChoice(Drawn):
    """Answers in one rounded bar: a finger or the arrows choose; the chosen one is one stop for Tab."""

    choice_requested = Signal(int)

    accessible_role = QAccessible.Role.Grouping

    def __init__(self, themes: Themes, labels: Sequence[str], parent: QWidget | None = None, *, name: str = "") -> None:
        super().__init__(themes, parent)
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._segments = [Segment(themes, label, self) for label in labels]
        for place, segment in enumerate(self._segments):
            segment.press_requested.connect(lambda place=place: self._ask(place))
        self._roving = Roving(self._segments, len(self._segments), self)
        self._roving.moved.connect(self._arrived)
        self._chosen: int | None = None

    @property
    def segments(self) -> Sequence[Segment]:
        """Return the answers."""
        return tuple(self._segments)

    @property
    def chosen(self) -> int | None:
        """Return which answer is chosen."""
        return self._chosen

    def show_choice(self, chosen: int | None) -> None:
        """Show which answer is chosen; None for no answer yet."""
        self._chosen = chosen
        for place, segment in enumerate(self._segments):
            segment.set_chosen(is_chosen=place == chosen)
        if chosen is not None:
            self._roving.set_current(chosen)

    def _ask(self, place: int) -> None:
        if place != self._chosen:
            self.choice_requested.emit(place)

    def _arrived(self, place: int) -> None:
        if self._segments[place].hasFocus() and self._chosen is not None:
            self._ask(place)

    def sizeHint(self) -> QSize:
        widest = max((segment.width_wanted() for segment in self._segments), default=44)
        return QSize(widest * len(self._segments), 44)

    def minimumSizeHint(self) -> QSize:
        return QSize(44 * len(self._segments), 44)

    def resizeEvent(self, event: QResizeEvent) -> None:
        pitch = self.width() / max(1, len(self._segments))
        for place, segment in enumerate(self._segments):
            left, right = round(place * pitch), round((place + 1) * pitch)
            segment.setGeometry(QRect(left, 0, right - left, self.height()))
        super().resizeEvent(event)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        line = theme.outline if self.isEnabled() else theme.hairline
        paint.rounded(painter, self.box(), tokens().radius_px.control, theme.raised, line, theme.control_line_px)


def _font(*, is_chosen: bool) -> QFont:
    return sans(tokens().type_px.text, tokens().weight.label if is_chosen else tokens().weight.tile)
