"""Small quiet things: a key and what it does, a cup, a line under a field."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QAccessibleEvent, QColor, QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.drawn import Drawn


class KeyHint(Drawn):
    """A key and what it does."""

    accessible_role = QAccessible.Role.StaticText

    def __init__(self, themes: Themes, key: str, label: str, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._key = key
        self._label = label
        self.setAccessibleName(f"{key}: {label}")

    def sizeHint(self) -> QSize:
        label = paint.text_width(self._label, sans(tokens().type_px.text))
        return QSize(round(paint.keycap_width(self._key) + 8 + label) + 1, 24)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        end = paint.keycap(painter, theme, 0, 0, self._key)
        paint.text(painter, end + 8, 17, self._label, sans(tokens().type_px.text), theme.ink3)


class CupView(Drawn):
    """A cup of a colour; without one, the place where a cup will stand."""

    def __init__(self, themes: Themes, radius: float = 24, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._radius = radius
        self._liquor: QColor | None = None
        self._is_leaf = False

    @property
    def liquor(self) -> QColor | None:
        """Return the colour in the cup."""
        return self._liquor

    def show_liquor(self, colour: str | None, name: str = "", *, is_leaf: bool = False) -> None:
        """Fill the cup with a colour, called `name`; None empties it."""
        self._liquor = QColor(colour) if colour is not None else None
        self._is_leaf = is_leaf
        self.setAccessibleName(name)
        self.update()

    def set_radius(self, radius: float) -> None:
        """Draw the cup larger or smaller."""
        if radius != self._radius:
            self._radius = radius
            self.updateGeometry()
            self.update()

    def sizeHint(self) -> QSize:
        side = round(2 * self._radius) + 12
        return QSize(side, side)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        centre = QPointF(self.width() / 2, self.height() / 2 - 1)
        if self._liquor is None:
            paint.empty_cup(painter, theme, centre, self._radius)
        else:
            paint.cup(painter, theme, centre, self._radius, self._liquor, is_leaf=self._is_leaf)


class FieldNote(Drawn):
    """A line under a field: help, or what is wrong and what to do. Without words it takes no room."""

    accessible_role = QAccessible.Role.StaticText

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self._words = ""
        self._is_error = False
        self.hide()

    @property
    def words(self) -> str:
        """Return what is said."""
        return self._words

    @property
    def is_error(self) -> bool:
        """Say whether something is wrong."""
        return self._is_error

    def show_help(self, words: str) -> None:
        """Say something helpful; screen readers say it when they are through with what they say."""
        is_new = bool(words) and words != self._words
        self._say(words, is_error=False)
        if is_new and QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, words))

    def show_error(self, words: str) -> None:
        """Say what is wrong and what to do; screen readers are told at once."""
        self._say(words, is_error=True)
        if words and QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.Alert))

    def clear(self) -> None:
        """Say nothing."""
        self._say("", is_error=False)

    def _say(self, words: str, *, is_error: bool) -> None:
        if (words, is_error) == (self._words, self._is_error):
            return
        self._words, self._is_error = words, is_error
        self.setAccessibleName(words)
        self.setVisible(bool(words))
        self.updateGeometry()
        self.update()

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        room = width - (22 if self._is_error else 0)
        return max(24, round(paint.paragraph_height(room, self._words, sans(tokens().type_px.text))) + 4)

    def sizeHint(self) -> QSize:
        return QSize(240, self.heightForWidth(max(240, self.width())))

    def minimumSizeHint(self) -> QSize:
        return QSize(80, 24)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        left = 0
        if self._is_error:
            left = 22
            _draw_warning(painter, theme, QPointF(8, 12))
        colour = theme.alarm if self._is_error else theme.ink3
        box = QRectF(left, 2, self.width() - left, self.height() - 2)
        paint.paragraph(painter, box, self._words, sans(tokens().type_px.text), colour)


def _draw_warning(painter: QPainter, theme: Theme, centre: QPointF) -> None:
    """Draw a ring with an exclamation mark: the words must not be known for an error by colour alone."""
    painter.setPen(paint.solid_pen(theme.alarm, 1.75, is_round=True))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(centre, 7, 7)
    painter.drawLine(centre + QPointF(0, -3.5), centre + QPointF(0, 0.8))
    painter.drawPoint(centre + QPointF(0, 3.6))
