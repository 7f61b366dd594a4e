"""What tests of the Bench begin with."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtWidgets import QWidget

from tastebook.ui.theme.theme import Themes
from tests.ui.bench.scene import Scene, build


@pytest.fixture
def scene(themes: Themes, show: Callable[[QWidget], None]) -> Scene:
    """Return a taster before a Bench of 1440 by 900, the keyboard with the say line."""
    scene = build(themes)
    show(scene.screen)
    return scene
