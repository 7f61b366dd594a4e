"""What every test shares: an off-screen Qt with the bundled typefaces, so that no picture depends on the machine."""

from __future__ import annotations

import os
from collections.abc import Iterator

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
def themes(qapp: QApplication) -> Iterator[Themes]:
    """Return the paper theme, worn by the application, with movements switched off.

    What a test has closed is deleted when it ends: every widget that lives on is dressed anew at each change of theme.
    """
    from PySide6.QtCore import QCoreApplication, QEvent

    from tastebook.ui.theme.theme import Themes

    themes = Themes("paper", reduce_motion=True)
    themes.apply_to(qapp)
    yield themes
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
