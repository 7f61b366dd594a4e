"""A photograph, small, to be pressed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QPointF, QSize, Qt
from PySide6.QtGui import QImage, QPainter, QPixmap
from PySide6.QtWidgets import QSizePolicy, QWidget

from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.drawn import Pressable
from tastebook.ui.widgets.raster import cover, image_of

if TYPE_CHECKING:
    from tastebook.domain.photo_colour import Raster

SIDE_PX: Final = 44
_MARK_PX: Final = 5.0


class PhotoThumb(Pressable):
    """Shows the middle of a photograph; a dot says that the liquor's colour was told from it."""

    least = QSize(SIDE_PX, SIDE_PX)

    def __init__(self, themes: Themes, side_px: int = SIDE_PX, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._side_px = side_px
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._raster: Raster | None = None
        self._image: QImage | None = None
        self._pixmap: QPixmap | None = None
        self._is_marked = self._is_current = False

    def sizeHint(self) -> QSize:
        return QSize(self._side_px, self._side_px)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def show_photo(self, raster: Raster | None, name: str, *, mark: str = "", is_current: bool = False) -> None:
        """Show a photograph, or where one was; `mark` says what came of it."""
        if raster is not self._raster or self._image is None:
            self._raster = raster
            self._image = None if raster is None else image_of(raster)
            self._pixmap = None
        self._is_marked, self._is_current = bool(mark), is_current
        told = ", ".join(part for part in (name, mark, "" if raster is not None else "its picture is lost") if part)
        self.setAccessibleName(f"Photo: {told}")
        self.setToolTip(told)
        self.update()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        radius = tokens().radius_px.key
        inner = self.box().adjusted(2, 2, -2, -2)
        if self._image is None:
            paint.rounded(painter, inner, radius, None, paint.dashed_pen(theme.outline, 1.25))
            paint.text(painter, inner.center().x(), inner.center().y() + 6, "?", sans(16), theme.ink3, "centre")
        else:
            self._draw_picture(painter, self._image)
            line = theme.accent if self._is_current else theme.outline
            paint.rounded(painter, inner, radius, None, line, 2.5 if self._is_current or self.is_hovered else 1.0)
        if self._is_marked:
            painter.setPen(paint.solid_pen(theme.surface, 1.5))
            painter.setBrush(theme.accent)
            painter.drawEllipse(QPointF(inner.right() - 5, inner.bottom() - 5), _MARK_PX, _MARK_PX)
        if self.hasFocus():
            paint.focus_ring(painter, theme, self.box(), radius)

    def _draw_picture(self, painter: QPainter, image: QImage) -> None:
        inner = self.box().adjusted(2, 2, -2, -2)
        ratio = self.devicePixelRatioF()
        if self._pixmap is None or self._pixmap.devicePixelRatio() != ratio:
            self._pixmap = cover(image, round(inner.width()), ratio)
        painter.save()
        painter.setClipPath(paint.rounded_path(inner, tokens().radius_px.key))
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawPixmap(inner.topLeft(), self._pixmap)
        painter.restore()
        painter.setBrush(Qt.BrushStyle.NoBrush)
