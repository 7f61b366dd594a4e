"""Cards that grow or move."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QRect
from PySide6.QtGui import QPaintEvent, QRegion
from PySide6.QtWidgets import QApplication, QWidget

from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.card import Card
from tastebook.ui.widgets.drawn import Ground


class Watched(Ground):
    """A ground that knows what of it was painted."""

    def __init__(self, themes: Themes) -> None:
        super().__init__(themes)
        self.painted = QRegion()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        self.painted += event.region()
        super().paintEvent(event)


@pytest.mark.parametrize("place", [QRect(60, 30, 100, 160), QRect(90, 60, 100, 100)], ids=["grown", "moved"])
def test_a_card_leaves_no_shadow_where_it_was(themes: Themes, show: Callable[[QWidget], None], place: QRect) -> None:
    ground = Watched(themes)
    ground.resize(300, 300)
    card = Card(themes, ground)
    card.setGeometry(60, 60, 100, 100)
    show(ground)
    QApplication.processEvents()
    ground.painted = QRegion()

    card.setGeometry(place)
    QApplication.processEvents()

    beside_before, beside_now = QRect(40, 70, 15, 80), QRect(place.right() + 3, place.top() + 5, 15, 80)
    assert ground.painted.contains(beside_before)
    assert ground.painted.contains(beside_now)
