"""A photograph, large, in which a place is pointed at: by finger, by mouse, or by keys that move a cross."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QAccessible, QColor, QImage, QKeyEvent, QMouseEvent, QPainter, QPixmap, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from tastebook.presenters.photo_views import PatchView
from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Theme, Themes, faded
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.drawn import Control, Drawn
from tastebook.ui.widgets.raster import image_of, place_within

if TYPE_CHECKING:
    from tastebook.domain.photo_colour import Raster

STEP: Final = 0.004
"""How far an arrow moves the cross, as a share of the picture's shorter side; with Shift ten times as far."""
FAST: Final = 10
OUTLINE: Final = 0.035
"""The patch that is looked for first, as a share of the shorter side."""
LOST: Final = "The journal has this picture no more: “tastebook check” says more."
_DARK: Final = QColor(20, 16, 12)
_LIGHT: Final = QColor(255, 255, 255)
_ARROWS: Final = {
    Qt.Key.Key_Left: (-1, 0), Qt.Key.Key_Right: (1, 0), Qt.Key.Key_Up: (0, -1), Qt.Key.Key_Down: (0, 1),
}  # fmt: skip
_ENTER: Final = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_TAG_HEIGHT: Final = 24.0
_ARM: Final = 15.0
"""Length of the cross's arms beyond its ring."""
_LENS_SHARE: Final = 0.14
"""How much of the shorter side the magnified view shows."""


class PhotoCanvas(Control):
    """Draws a photograph with its patches; while a tap is asked for, a cross and the outline of the patch follow."""

    tap_requested = Signal(float, float)
    pointed = Signal(float, float)

    accessible_role = QAccessible.Role.Graphic
    fades = False

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMouseTracking(True)
        self._raster: Raster | None = None
        self._image: QImage | None = None
        self._pixmap: QPixmap | None = None
        self._patches: tuple[PatchView, ...] = ()
        self._asks = ""
        self._cross = (0.5, 0.5)
        self._is_bounce = False

    def sizeHint(self) -> QSize:
        return QSize(560, 480)

    def minimumSizeHint(self) -> QSize:
        return QSize(240, 200)

    @property
    def image(self) -> QImage | None:
        """Return the picture."""
        return self._image

    @property
    def cross(self) -> tuple[float, float]:
        """Return where the cross is, as shares of width and height."""
        return self._cross

    def show_photo(self, raster: Raster | None, patches: tuple[PatchView, ...], asks: str) -> None:
        """Show a photograph with its patches; `asks` says which tap is asked for, empty for none."""
        if raster is not self._raster:
            self._raster = raster
            self._image = None if raster is None else image_of(raster)
            self._pixmap = None
            self._cross = (0.5, 0.5)
        self._patches, self._asks = patches, asks
        self.setCursor(Qt.CursorShape.CrossCursor if asks else Qt.CursorShape.ArrowCursor)
        self.setAccessibleName(asks or "The photo")
        self.setAccessibleDescription("Arrows move the cross, with Shift faster; Enter sets it." if asks else "")
        self.tell_changed()
        self.update()

    def value_text(self) -> str:
        x, y = self._cross
        return f"{x:.0%} across, {y:.0%} down" if self._asks else ""

    def accessible_states(self) -> Mapping[str, bool]:
        return {"focusable": True}

    # -- pointing

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._point(event.position())

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self.setFocus(Qt.FocusReason.MouseFocusReason)
            self._point(event.position())

    def mouseDoubleClickEvent(self, _event: QMouseEvent) -> None:
        """Take a finger that bounces for one tap: the second would answer what the first has only just asked."""
        self._is_bounce = True

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        is_bounce, self._is_bounce = self._is_bounce, False
        if event.button() == Qt.MouseButton.LeftButton and self._asks and not is_bounce:
            self._point(event.position())
            if self._place().contains(event.position()):
                self.tap_requested.emit(*self._cross)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if self._asks and key in _ARROWS:
            across, down = _ARROWS[key]
            pace = FAST if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1
            self._move(across * pace, down * pace)
        elif self._asks and key in _ENTER and not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.tap_requested.emit(*self._cross)
        else:
            super().keyPressEvent(event)

    def _point(self, at: QPointF) -> None:
        place = self._place()
        if self._asks and not place.isEmpty():
            x, y = (at.x() - place.x()) / place.width(), (at.y() - place.y()) / place.height()
            self._set_cross(x, y)

    def _move(self, across: int, down: int) -> None:
        if self._image is None:
            return
        shorter = min(self._image.width(), self._image.height())
        x, y = self._cross
        self._set_cross(
            x + across * STEP * shorter / self._image.width(), y + down * STEP * shorter / self._image.height()
        )

    def _set_cross(self, x: float, y: float) -> None:
        self._cross = (min(max(x, 0.0), 1.0), min(max(y, 0.0), 1.0))
        self.pointed.emit(*self._cross)
        self.tell_changed()
        self.update()

    # -- drawing

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._pixmap = None
        super().resizeEvent(event)

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.update()

    def _place(self) -> QRectF:
        if self._image is None:
            return QRectF()
        return place_within(self._image.width(), self._image.height(), self.box().adjusted(3, 3, -3, -3))

    def draw(self, painter: QPainter, theme: Theme) -> None:
        paint.rounded(painter, self.box(), tokens().radius_px.key, theme.sunken)
        if self._image is None:
            words = "The journal has this picture no more: “tastebook check” says more."
            paint.text(
                painter, 16, self.height() / 2, paint.elided(words, sans(16), self.width() - 32), sans(16), theme.ink2
            )
            return
        place = self._place()
        painter.drawPixmap(place.topLeft(), self._scaled(self._image, place))
        for patch in self._patches:
            centre, radius = _at(place, patch.x, patch.y), patch.radius * min(place.width(), place.height())
            _ring(painter, centre, radius, patch.kind)
        if self._asks:
            self._draw_cross(painter, place)
        for patch in self._patches:
            if patch.kind != "doubted":
                _tag(painter, place, _at(place, patch.x, patch.y), patch.kind)
        if self.hasFocus():
            paint.focus_ring(painter, theme, self.box(), tokens().radius_px.key)

    def _scaled(self, image: QImage, place: QRectF) -> QPixmap:
        ratio = self.devicePixelRatioF()
        if self._pixmap is None:
            size = (place.size() * ratio).toSize()
            self._pixmap = QPixmap.fromImage(
                image.scaled(size, Qt.AspectRatioMode.IgnoreAspectRatio, Qt.TransformationMode.SmoothTransformation)
            )
            self._pixmap.setDevicePixelRatio(ratio)
        return self._pixmap

    def _draw_cross(self, painter: QPainter, place: QRectF) -> None:
        centre = _at(place, *self._cross)
        radius = OUTLINE * min(place.width(), place.height())
        _ring(painter, centre, radius, "")
        for colour, width in ((_DARK, 3.5), (_LIGHT, 1.5)):
            painter.setPen(paint.solid_pen(colour, width))
            for across, down in _ARROWS.values():
                toward = QPointF(across, down)
                painter.drawLine(centre + toward * (radius + 3), centre + toward * (radius + _ARM))


class PhotoLens(Drawn):
    """The place under the cross, magnified, with the outline of the patch."""

    def __init__(self, themes: Themes, side_px: int, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setFixedSize(side_px, side_px)
        self._image: QImage | None = None
        self._at = (0.5, 0.5)

    def show_place(self, image: QImage | None, x: float, y: float) -> None:
        """Magnify another place."""
        self._image, self._at = image, (x, y)
        self.update()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        box, radius = self.box(), tokens().radius_px.key
        paint.rounded(painter, box, radius, theme.sunken)
        if self._image is None:
            return
        side = _LENS_SHARE * min(self._image.width(), self._image.height())
        x, y = self._at[0] * (self._image.width() - 1), self._at[1] * (self._image.height() - 1)
        painter.save()
        painter.setClipPath(paint.rounded_path(box, radius))
        painter.drawImage(box, self._image, QRectF(x - side / 2, y - side / 2, side, side))
        painter.restore()
        _ring(painter, box.center(), OUTLINE / _LENS_SHARE * self.width(), "")
        paint.rounded(painter, box, radius, None, theme.outline, 1)


def _at(place: QRectF, x: float, y: float) -> QPointF:
    return QPointF(place.x() + x * place.width(), place.y() + y * place.height())


def _ring(painter: QPainter, centre: QPointF, radius: float, kind: str) -> None:
    """Draw a ring that shows on any ground: dark and light; porcelain's is dashed, so that form tells them apart."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(paint.solid_pen(faded(_DARK, 0.75), 4))
    painter.drawEllipse(centre, radius, radius)
    light = paint.dashed_pen(_LIGHT, 2, (2, 2)) if kind == "porcelain" else paint.solid_pen(_LIGHT, 2)
    painter.setPen(light)
    painter.drawEllipse(centre, radius, radius)


def _tag(painter: QPainter, place: QRectF, centre: QPointF, word: str) -> None:
    """Name a ring below it, or above where the picture ends; on a ground of its own, since any colour may lie there."""
    font = sans(16)
    width = paint.text_width(word, font) + 16
    away = OUTLINE * min(place.width(), place.height()) + _ARM + 4
    below = centre.y() + away
    top = below if below + _TAG_HEIGHT <= place.bottom() else centre.y() - away - _TAG_HEIGHT
    left = min(max(centre.x() - width / 2, place.left() + 2), place.right() - width - 2)
    paint.rounded(painter, QRectF(left, top, width, _TAG_HEIGHT), tokens().radius_px.key, faded(_DARK, 0.8))
    paint.text(painter, left + width / 2, top + 17, word, font, _LIGHT, "centre")
