"""The reasons for the next steep, opened, changed and taken by key and by finger."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from tastebook.ui.bench.why_sheet import WhySheet
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import LabelButton
from tests.ui.bench.scene import CONTROL, Scene, build

Show = Callable[[QWidget], None]
SPACE = Qt.Key.Key_Space
ALT = Qt.KeyboardModifier.AltModifier


@pytest.fixture
def scene(themes: Themes, show: Show) -> Scene:
    """Return a Bench before the third infusion."""
    scene = build(themes)
    show(scene.screen)
    scene.steep(5)
    for seconds in (20, 25):
        scene.press(SPACE, CONTROL)
        scene.steep(seconds)
    scene.press(SPACE, CONTROL)
    return scene


def button(within: QWidget, label: str) -> LabelButton:
    return next(one for one in within.findChildren(LabelButton) if one.label.startswith(label))


def shown(scene: Scene) -> WhySheet:
    return scene.screen.why


def test_why_opens_beside_the_timer_and_escape_puts_it_away(scene: Scene) -> None:
    scene.press(Qt.Key.Key_W, ALT)
    was_open = shown(scene).isVisible()
    room = shown(scene).geometry().right() <= scene.screen.timer.geometry().left()

    shown(scene).close_sheet()

    assert was_open
    assert room
    assert not shown(scene).isVisible()


def test_asking_for_a_stronger_cup_lengthens_what_can_be_taken_and_taking_it_sets_the_plan(scene: Scene) -> None:
    scene.press(Qt.Key.Key_W, ALT)
    same_s = scene.bench.counsel.advised_s(3) or 0

    choice = shown(scene)._strength
    assert choice is not None
    choice.segments[2].press()
    stronger_s = scene.bench.counsel.advised_s(3) or 0
    button(shown(scene), "Take ").press()

    assert stronger_s > same_s
    assert scene.bench.timer().plan_s == stronger_s
    assert not shown(scene).isVisible()


def test_the_boil_is_one_press_at_the_timer_and_the_screen_looks_on_as_the_kettle_cools(scene: Scene) -> None:
    button(scene.screen.timer, "It boils now").press()
    hot = scene.screen.timer.view.water  # type: ignore[union-attr]

    scene.kit.clock.advance(300)
    scene.screen._ticker.timeout.emit()

    assert hot == "100 °C"
    assert float(scene.screen.timer.view.water.removesuffix(" °C")) < 98  # type: ignore[union-attr]
    assert scene.screen._ticker.isActive()
