"""What drawn widgets share: theme and painter, hover, focus and pressing, and what they tell assistive technology."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import ClassVar, Final, cast

from PySide6.QtCore import QEvent, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QEnterEvent,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QRegion,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.accessible import Told
from tastebook.ui.widgets.motion import Glide

_PALE: Final = 0.5
REACH_PX: Final = 24
"""How far shadows and rings reach beyond the widget they belong to."""


class Drawn(Told):
    """A widget that draws itself in the current theme.

    What reaches beyond the widget's own edge (shadow, outer ring) is drawn by `draw_around`, which the parent calls
    with `paint_around_children`: a widget is clipped to its rectangle.
    """

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._themes = themes
        themes.changed.connect(self._on_theme)

    @property
    def theme(self) -> Theme:
        """Return the theme to draw in."""
        return self._themes.current

    def draw(self, painter: QPainter, theme: Theme) -> None:
        """Draw the widget; the painter is smooth and starts at its top left."""
        raise NotImplementedError

    def draw_around(self, painter: QPainter, theme: Theme, place: QRectF) -> None:
        """Draw what reaches beyond the widget, which stands at `place`. Most widgets need nothing."""

    def update_around(self) -> None:
        """Repaint the widget and what it draws on its parent."""
        self.update()
        parent = self.parentWidget()
        if parent is not None:
            parent.update(self.geometry().adjusted(-REACH_PX, -REACH_PX, REACH_PX, REACH_PX))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        paint.make_smooth(painter)
        self.draw(painter, self.theme)
        painter.end()

    def _on_theme(self) -> None:
        self.update()

    def box(self) -> QRectF:
        """Return the widget's own rectangle."""
        return QRectF(0, 0, self.width(), self.height())


def paint_around_children(painter: QPainter, theme: Theme, parent: QWidget, exposed: QRegion) -> None:
    """Draw the shadows and outer rings of a parent's drawn children, as far as they touch what is repainted."""
    parts = list(cast("Iterable[QRect]", exposed))  # PySide's stubs do not know that a region can be walked through
    for child in parent.children():
        if not isinstance(child, Drawn) or child.isHidden():
            continue
        place = child.geometry()
        reach = place.adjusted(-REACH_PX, -REACH_PX, REACH_PX, REACH_PX)
        if any(reach.intersects(part) and not _covers(place, part) for part in parts):
            child.draw_around(painter, theme, QRectF(place))


def _covers(place: QRect, exposed: QRect) -> bool:
    """Say whether a rounded box at `place` hides all that is repainted: then its shadow need not be drawn again."""
    corner = tokens().radius_px.card
    upright, lying = place.adjusted(corner, 0, -corner, 0), place.adjusted(0, corner, 0, -corner)
    return upright.contains(exposed) or lying.contains(exposed)


class Ground(Drawn):
    """The ground that cards lie on."""

    accessible_role = QAccessible.Role.Pane

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        paint.make_smooth(painter)
        painter.fillRect(event.rect(), self.theme.bg)
        self.draw(painter, self.theme)
        paint_around_children(painter, self.theme, self, event.region())
        painter.end()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        """Draw what lies on the ground itself: nothing, unless an heir does."""


class Control(Drawn):
    """A drawn widget that takes the keyboard and the finger."""

    least: ClassVar[QSize] = QSize(44, 44)
    fades: ClassVar[bool] = True
    """Whether the control looks pale while it cannot be used, rather than drawing that itself."""

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self._is_hovered = False
        self._is_down = False
        self._press = Glide(self, themes, "press")

    @property
    def is_hovered(self) -> bool:
        """Say whether the pointer is over the control and it can be used."""
        return self._is_hovered and self.isEnabled()

    @property
    def is_down(self) -> bool:
        """Say whether the control is held down."""
        return self._is_down

    @property
    def pressed_share(self) -> float:
        """Return how far the press is drawn, 0 to 1."""
        return self._press.share

    def sizeHint(self) -> QSize:
        return self.least

    def minimumSizeHint(self) -> QSize:
        return self.least

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        paint.make_smooth(painter)
        if self.fades and not self.isEnabled():
            painter.setOpacity(_PALE)
        self.draw(painter, self.theme)
        painter.end()

    def enterEvent(self, event: QEnterEvent) -> None:
        self._is_hovered = True
        self.update_around()
        super().enterEvent(event)

    def leaveEvent(self, event: QEvent) -> None:
        self._is_hovered = False
        self.update_around()
        super().leaveEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        self.update_around()
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.set_down(is_down=False)
        self.update_around()
        super().focusOutEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        if event.type() == QEvent.Type.EnabledChange:
            self.update_around()
        super().changeEvent(event)

    def set_down(self, *, is_down: bool) -> None:
        """Draw the control held down or let go."""
        if is_down != self._is_down:
            self._is_down = is_down
            self._press.to(1.0 if is_down else 0.0)
            self.update_around()


class Pressable(Control):
    """A control that asks for one thing when it is pressed: by finger, by Enter, or by Space while it has the focus.

    It asks when it is let go, so that a slip can be taken back, unless `acts_on_press`.
    """

    press_requested = Signal()
    accessible_role = QAccessible.Role.Button
    acts_on_press: ClassVar[bool] = False

    _KEYS: ClassVar = (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter)

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        # A press by finger leaves the keyboard where it was: with the say line, most of the time.
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)

    def can_press(self) -> bool:
        return self.isEnabled()

    def press(self) -> None:
        if self.isEnabled():
            self.press_requested.emit()

    def accessible_states(self) -> Mapping[str, bool]:
        return {"pressed": self.is_down}

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self._begin_press()
        else:
            super().mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if event.buttons() & Qt.MouseButton.LeftButton:
            self.set_down(is_down=self.box().contains(event.position()))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self._end_press()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() not in self._KEYS or event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            super().keyPressEvent(event)
        elif not event.isAutoRepeat():  # a key held down is one press
            self._begin_press()

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        if event.key() in self._KEYS and not event.isAutoRepeat():
            self._end_press()
        else:
            super().keyReleaseEvent(event)

    def _begin_press(self) -> None:
        self.set_down(is_down=True)
        if self.acts_on_press:
            self.press()

    def _end_press(self) -> None:
        if not self.is_down:
            return
        self.set_down(is_down=False)
        if not self.acts_on_press:
            self.press()
