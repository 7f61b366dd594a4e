"""Shadows of boxes: laid together from pieces, they look as if drawn whole."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QApplication

from tastebook.ui.widgets.shadows import ShadowKind, _draw_outlines, cast

BLACK = QColor(40, 20, 0).rgba()
KINDS = [ShadowKind(BLACK, 0.07, 16, 4, 16), ShadowKind(BLACK, 0.13, 22, 6, 16), ShadowKind(BLACK, 0.2, 8, 0, 10)]
kinds = pytest.mark.parametrize("kind", KINDS, ids=lambda kind: f"depth {kind.depth}")


def drawn(draw: object, kind: ShadowKind, box: QRectF, ratio: float = 1.0) -> np.ndarray:
    """Return a white picture with a shadow on it, shape (height, width)."""
    image = QImage(round(400 * ratio), round(300 * ratio), QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(ratio)
    image.fill(Qt.GlobalColor.white)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    draw(painter, kind, box)  # type: ignore[operator]
    painter.end()
    return np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.width(), 4)[..., 1].astype(int)


@kinds
@pytest.mark.parametrize("ratio", [1.0, 1.25, 2.0])
@pytest.mark.parametrize("box", [QRectF(60, 50, 270, 180), QRectF(100, 80, 44, 44), QRectF(30, 100, 340, 60)])
def test_a_shadow_in_pieces_is_the_shadow_drawn_whole(
    qapp: QApplication, kind: ShadowKind, ratio: float, box: QRectF
) -> None:
    difference = np.abs(drawn(cast, kind, box, ratio) - drawn(_draw_outlines, kind, box, ratio))

    assert difference.max() <= 3  # of 255 levels: sums of faint layers are rounded in another order


@kinds
def test_a_shadow_darkens_what_is_beside_the_box_and_less_the_farther(qapp: QApplication, kind: ShadowKind) -> None:
    picture = drawn(cast, kind, QRectF(60, 50, 270, 180))

    below = picture[230 : 230 + kind.beyond, 200]
    assert below[0] < 255
    assert list(below) == sorted(below)
    assert picture[230 + kind.beyond + 2, 200] == 255


@kinds
def test_what_lies_on_the_box_is_left_alone(qapp: QApplication, kind: ShadowKind) -> None:
    picture = drawn(cast, kind, QRectF(60, 50, 270, 180))

    assert (picture[70:210, 80:310] == 255).all()


def test_a_box_smaller_than_its_corners_has_a_shadow_too(qapp: QApplication) -> None:
    picture = drawn(cast, KINDS[0], QRectF(100, 100, 20, 20))

    assert picture.min() < 255
