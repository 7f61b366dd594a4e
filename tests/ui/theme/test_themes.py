"""Choosing a theme: what is told, what the application wears, and that movements can be switched off."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import (
    QApplication,
    QCheckBox,
    QComboBox,
    QDateEdit,
    QDoubleSpinBox,
    QLineEdit,
    QListWidget,
    QPushButton,
    QRadioButton,
    QSpinBox,
    QToolButton,
    QWidget,
)
from pytestqt.qtbot import QtBot

from tastebook.ui.theme.sheet import style_sheet
from tastebook.ui.theme.theme import Themes, faded, mixed, palette_of, theme_named
from tastebook.ui.theme.tokens import THEME_NAMES, ThemeName, tokens


def test_choosing_another_theme_tells_everything_that_paints(themes: Themes, qtbot: QtBot) -> None:
    with qtbot.waitSignal(themes.changed, timeout=100):
        themes.use("lamp")

    assert themes.current.name == "lamp"
    assert themes.current.ink.name().upper() == tokens().themes["lamp"].colours.ink


def test_choosing_the_same_theme_again_tells_nobody(themes: Themes, qtbot: QtBot) -> None:
    with qtbot.assertNotEmitted(themes.changed):
        themes.use("paper")


def test_the_application_wears_the_chosen_theme(themes: Themes, qapp: QApplication) -> None:
    themes.use("daylight")

    assert qapp.palette().color(QPalette.ColorRole.Window) == theme_named("daylight").bg
    assert tokens().themes["daylight"].colours.accent in qapp.styleSheet()


@pytest.mark.parametrize("name", THEME_NAMES)
def test_the_palette_says_what_is_a_placeholder_disabled_or_a_tool_tip(name: ThemeName) -> None:
    theme, palette = theme_named(name), palette_of(theme_named(name))

    assert palette.color(QPalette.ColorRole.PlaceholderText) == theme.ink3
    assert palette.color(QPalette.ColorGroup.Disabled, QPalette.ColorRole.Text) == theme.ink3
    assert palette.color(QPalette.ColorRole.ToolTipBase) == theme.ink
    assert palette.color(QPalette.ColorRole.Highlight) == theme.accent


def test_movements_last_as_long_as_the_design_says_unless_motion_is_reduced(themes: Themes) -> None:
    themes.reduce_motion = False
    with_motion = themes.motion_ms("ribbon_grow")
    themes.reduce_motion = True

    assert with_motion == 320
    assert themes.motion_ms("ribbon_grow") == 0


def test_a_family_without_a_colour_is_drawn_in_a_quiet_ink() -> None:
    theme = theme_named("paper")

    assert theme.family("a family of the user's own") == theme.ink2


def test_mixing_in_nothing_or_all_gives_back_the_colours() -> None:
    black, white = QColor("black"), QColor("white")

    assert mixed(black, white, 0) == black
    assert mixed(black, white, 1) == white
    assert mixed(black, white, 0.5).red() in (127, 128)


def test_fading_a_colour_leaves_the_shared_one_alone() -> None:
    theme = theme_named("paper")

    pale = faded(theme.ink, 0.5)

    assert pale.alphaF() == pytest.approx(0.5, abs=0.01)
    assert theme.ink.alphaF() == 1


@pytest.mark.parametrize("name", THEME_NAMES)
def test_every_icon_that_the_style_sheet_names_is_drawn_in_its_theme_s_colours(name: ThemeName) -> None:
    row = tokens().themes[name]
    paths = re.findall(r'url\("([^"]+)"\)', style_sheet(row))
    allowed = {row.colours.ink2, row.colours.ink3, row.colours.accent, row.colours.on_accent}

    for path in paths:
        assert set(re.findall("#[0-9A-F]{6}", Path(path).read_text(encoding="utf-8"))) <= allowed
    assert len(paths) == 7


@pytest.mark.parametrize(
    "make",
    [QLineEdit, QComboBox, QSpinBox, QDoubleSpinBox, QDateEdit, QCheckBox, QRadioButton, QPushButton, QToolButton],
)
def test_a_stock_control_is_a_target_of_44_with_the_keyboard_and_without(
    themes: Themes, show: Callable[[QWidget], None], make: type[QWidget]
) -> None:
    holder = QWidget()
    other, control = QLineEdit(holder), make(holder)
    show(holder)
    other.setFocus()
    control.ensurePolished()
    without = control.sizeHint().height()

    control.setFocus(Qt.FocusReason.OtherFocusReason)

    assert control.hasFocus()
    assert without >= 44
    assert control.sizeHint().height() == without


def test_a_row_of_a_list_is_a_target_of_44(themes: Themes, qtbot: QtBot) -> None:
    words = QListWidget()
    qtbot.addWidget(words)
    words.addItems(["orchid", "rose"])
    words.show()

    assert words.sizeHintForRow(0) >= 44
