"""An area that scrolls, without a frame or ground of its own."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget


def scrolled(inner: QWidget) -> QScrollArea:
    """Return a widget in an area that scrolls without a frame or ground of its own."""
    area = QScrollArea()
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setWidgetResizable(True)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.viewport().setAutoFillBackground(False)
    area.setWidget(inner)
    inner.setAutoFillBackground(False)
    return area
