"""What every test shares: an off-screen Qt with the bundled typefaces, so that no picture depends on the machine."""

from __future__ import annotations

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")  # before Qt is imported by anybody

from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

# A first call may import a slow library, and a busy machine is no fault of the code.
settings.register_profile("tastebook", deadline=None)
settings.load_profile("tastebook")

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication

    from tastebook.ui.theme.theme import Themes


def pytest_configure(config: pytest.Config) -> None:
    # Said by Qt's off-screen plugin about every window that has a least size: nothing that we could mend.
    config.addinivalue_line("qt_log_ignore", r"This plugin does not support propagateSizeHints\(\)")


@pytest.fixture(scope="session")
def qapp(qapp: QApplication) -> QApplication:
    """Return the application, with the bundled typefaces loaded."""
    from tastebook.ui.theme.fonts import load_fonts

    load_fonts()
    return qapp


@pytest.fixture
def themes(qapp: QApplication) -> Themes:
    """Return the paper theme, worn by the application, with movements switched off."""
    from tastebook.ui.theme.theme import Themes

    themes = Themes("paper", reduce_motion=True)
    themes.apply_to(qapp)
    return themes
