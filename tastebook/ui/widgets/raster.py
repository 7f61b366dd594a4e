"""Pixels from below as Qt draws them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QImage, QPixmap

if TYPE_CHECKING:
    from tastebook.domain.photo_colour import Raster


def image_of(raster: Raster) -> QImage:
    """Return a picture as Qt holds it, with pixels of its own."""
    stride = 3 * raster.width
    return QImage(raster.pixels.tobytes(), raster.width, raster.height, stride, QImage.Format.Format_RGB888).copy()


def cover(image: QImage, side_px: int, ratio: float) -> QPixmap:
    """Return the middle of a picture as a square that it fills; `ratio` is how many pixels one logical pixel has."""
    side = round(side_px * ratio)
    scaled = image.scaled(
        QSize(side, side), Qt.AspectRatioMode.KeepAspectRatioByExpanding, Qt.TransformationMode.SmoothTransformation
    )
    left, top = (scaled.width() - side) // 2, (scaled.height() - side) // 2
    square = QPixmap.fromImage(scaled.copy(left, top, side, side))
    square.setDevicePixelRatio(ratio)
    return square


def place_within(width: float, height: float, box: QRectF) -> QRectF:
    """Return where a picture of this size lies in a box: whole, as large as can be, in the middle."""
    share = min(box.width() / max(width, 1), box.height() / max(height, 1))
    w, h = width * share, height * share
    return QRectF(box.center().x() - w / 2, box.center().y() - h / 2, w, h)
