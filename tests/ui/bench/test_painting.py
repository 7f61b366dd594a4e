"""Only what changed is painted again, and the picture is the one that painting everything would give."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from tastebook.ui.theme.theme import Themes
from tests.ui.bench.scene import CONTROL, Scene

SPACE = Qt.Key.Key_Space
MOST_LEVELS = 48
"""A dashed ring that is cut by the edge of a repaint is smoothed a little differently: by far less than is seen."""


def pixels(image: QImage) -> np.ndarray:
    """Return the channels of a picture, shape (height, width, 4)."""
    plain = image.convertToFormat(QImage.Format.Format_RGB32)
    return np.frombuffer(plain.constBits(), np.uint8).reshape(plain.height(), plain.width(), 4).astype(int)


def stale(scene: Scene) -> int:
    """Return how many pixels on the screen are not as a painting of everything has them."""
    for _ in range(3):
        QApplication.processEvents()
    window = scene.screen
    on_screen = pixels(window.screen().grabWindow(window.winId()).toImage())
    return int((np.abs(on_screen - pixels(window.grab().toImage())).max(axis=2) > MOST_LEVELS).sum())


def look(scene: Scene) -> None:
    scene.screen._look_again()


@pytest.mark.parametrize("theme", ["paper", "lamp", "daylight"])
def test_after_every_act_the_screen_is_as_a_painting_of_everything(scene: Scene, themes: Themes, theme: str) -> None:
    themes.use(theme)  # type: ignore[arg-type]
    left_over = {"theme": stale(scene)}

    def act(name: str, do: object) -> None:
        if callable(do):
            do()
        scene.screen.refresh()
        scene.screen.setFocus()  # a blinking cursor is never the same twice
        left_over[name] = stale(scene)

    act("words", lambda: scene.say("toasted rice 3, orchid 2"))
    act("strength", lambda: scene.bench.note("orchid", 5))
    act("water on", lambda: scene.press(SPACE, CONTROL))
    for _ in range(3):
        scene.kit.clock.advance(1)
        look(scene)
    act("seconds", None)
    act("pour", lambda: scene.press(SPACE, CONTROL))
    act("next", lambda: scene.press(SPACE, CONTROL))
    act("second steep", lambda: scene.steep(20))
    act("flavour", lambda: scene.go("1", "flavour"))
    act("more words", lambda: scene.say("orchid 3, cedar bark 2, nectar 4, wet slate 1"))
    act("less", lambda: scene.bench.note("nectar", 1))
    act("absent", lambda: scene.bench.note("orchid", 0))
    act("removed", lambda: scene.bench.remove_word("cedar-bark"))
    act("undone", lambda: scene.bench.undo())
    act("liquor", lambda: scene.go("1", "liquor"))
    act("swatch", lambda: scene.bench.choose_swatch(3, 5))
    act("clarity", lambda: scene.bench.choose_clarity("clear"))
    act("texture", lambda: scene.go("1", "first_sip"))
    act("slider", lambda: scene.bench.read("body", 4))
    act("column", lambda: scene.go("leaf"))
    act("over", lambda: (scene.press(SPACE, CONTROL), scene.press(SPACE, CONTROL), scene.kit.clock.advance(60)))
    look(scene)
    act("seconds over", None)

    assert {name: count for name, count in left_over.items() if count} == {}


def test_columns_that_scroll_leave_nothing_behind(scene: Scene) -> None:
    for _ in range(9):
        scene.steep(20)
        scene.press(SPACE, CONTROL)
    left_over = []

    for column in ("9", "1", "close", "leaf", "5"):
        scene.go(column)
        scene.screen.setFocus()
        left_over.append(stale(scene))

    assert left_over == [0] * 5
