"""The style sheet that lets Qt's stock widgets live in the house. What we draw ourselves needs none of it.

Qt's style sheets know whole pixels only, and count a border outside `min-height`: a control of 44 is therefore 42 plus
a line of 1, and 40 plus a line of 2 when it has the keyboard. To spin boxes and tool buttons Qt adds 3 of its own.
"""

from __future__ import annotations

from contextlib import ExitStack
from dataclasses import asdict
from functools import cache
from importlib.resources import as_file, files
from string import Template
from typing import Final

from tastebook.ui.theme.tokens import ThemeTokens

_SHEET: Final = Template("""
QDialog, QMainWindow, QMessageBox { background: $bg; }
QLabel { color: $ink; background: transparent; }
QLabel:disabled { color: $ink3; }
QToolTip { background: $ink; color: $bg; border: 0; padding: 6px 10px; }

QLineEdit, QComboBox, QAbstractSpinBox {
    background: $raised; color: $ink; border: 1px solid $outline; border-radius: 12px;
    padding: 0 12px; min-height: 42px; placeholder-text-color: $ink3;
    selection-background-color: $accent; selection-color: $on_accent;
}
QTextEdit, QPlainTextEdit {
    background: $raised; color: $ink; border: 1px solid $outline; border-radius: 12px; padding: 9px 9px;
    placeholder-text-color: $ink3;
    selection-background-color: $accent; selection-color: $on_accent;
}
QLineEdit:hover, QComboBox:hover, QAbstractSpinBox:hover, QTextEdit:hover, QPlainTextEdit:hover { border-color: $ink2; }
QLineEdit:focus, QComboBox:focus, QAbstractSpinBox:focus {
    border: 2px solid $accent; padding: 0 11px; min-height: 40px;
}
QTextEdit:focus, QPlainTextEdit:focus { border: 2px solid $accent; padding: 8px 8px; }
QLineEdit[wrong="true"], QComboBox[wrong="true"], QAbstractSpinBox[wrong="true"], QTextEdit[wrong="true"] {
    border-color: $alarm;
}
QLineEdit:disabled, QComboBox:disabled, QAbstractSpinBox:disabled, QTextEdit:disabled, QPlainTextEdit:disabled {
    background: $surface; color: $ink3; border-color: $hairline;
}
QLineEdit:read-only { background: $surface; }
QTableView QLineEdit, QAbstractSpinBox QLineEdit, QComboBox QLineEdit {
    border: 0; border-radius: 0; padding: 0; min-height: 0; background: transparent;
}
QTableView QLineEdit { background: $raised; padding: 0 6px; }
SayField, SayField:hover, SayField:focus, SayField:read-only { border: 0; background: transparent; padding: 0; }

QComboBox::drop-down { subcontrol-origin: border; subcontrol-position: center right; width: 40px; border: 0; }
QComboBox::down-arrow { image: url("$icons/chevron-$name.svg"); width: 16px; height: 16px; }
QAbstractSpinBox { padding: 0 46px; min-height: 39px; qproperty-alignment: AlignCenter; }
QAbstractSpinBox:focus { padding: 0 45px; min-height: 37px; }
QAbstractSpinBox::up-button, QAbstractSpinBox::down-button {
    subcontrol-origin: border; width: 44px; height: 44px; border: 0; border-radius: 12px; background: transparent;
}
QAbstractSpinBox::up-button { subcontrol-position: center right; }
QAbstractSpinBox::down-button { subcontrol-position: center left; }
QAbstractSpinBox::up-arrow { image: url("$icons/plus-$name.svg"); width: 20px; height: 20px; }
QAbstractSpinBox::down-arrow { image: url("$icons/minus-$name.svg"); width: 20px; height: 20px; }
QAbstractSpinBox::up-arrow:off, QAbstractSpinBox::up-arrow:disabled { image: url("$icons/plus-off-$name.svg"); }
QAbstractSpinBox::down-arrow:off, QAbstractSpinBox::down-arrow:disabled { image: url("$icons/minus-off-$name.svg"); }

QCheckBox, QRadioButton { color: $ink; spacing: 12px; min-height: 44px; background: transparent; }
QCheckBox:disabled, QRadioButton:disabled { color: $ink3; }
QCheckBox::indicator, QRadioButton::indicator {
    width: 22px; height: 22px; border: 1px solid $outline; background: $raised;
}
QCheckBox::indicator { border-radius: 6px; }
QRadioButton::indicator { border-radius: 12px; }
QCheckBox::indicator:hover, QRadioButton::indicator:hover { border-color: $ink2; background: $accent_soft; }
QCheckBox::indicator:checked { background: $accent; border-color: $accent; image: url("$icons/tick-$name.svg"); }
QRadioButton::indicator:checked { background: $accent; border-color: $accent; image: url("$icons/disc-$name.svg"); }
QCheckBox::indicator:checked:disabled, QRadioButton::indicator:checked:disabled {
    background: $outline; border-color: $outline;
}
QCheckBox::indicator:focus, QRadioButton::indicator:focus {
    width: 20px; height: 20px; border: 2px solid $accent;
}
QCheckBox:focus, QRadioButton:focus { outline: 0; }
QCheckBox::indicator:checked:focus, QRadioButton::indicator:checked:focus { border-color: $ink; }

QPushButton {
    background: $raised; color: $ink; border: 1px solid $outline; border-radius: 12px; padding: 0 20px;
    min-height: 42px; min-width: 72px; font-weight: 600;
}
QPushButton:hover { border-color: $ink2; background: $accent_soft; }
QPushButton:pressed { background: $sunken; }
QPushButton:focus { border: 2px solid $accent; padding: 0 19px; min-height: 40px; outline: 0; }
QPushButton:default { background: $accent; color: $on_accent; border-color: $accent; }
QPushButton:default:focus { border-color: $ink; }
QPushButton:default:pressed { background: $ink2; color: $bg; }
QPushButton:disabled { background: $surface; color: $ink3; border-color: $hairline; }
QToolButton {
    background: transparent; color: $ink; border: 1px solid transparent; border-radius: 10px; padding: 0 10px;
    min-height: 39px;
}
QToolButton:hover { background: $accent_soft; }
QToolButton:pressed, QToolButton:checked { background: $sunken; }
QToolButton:focus { border: 2px solid $accent; padding: 0 9px; min-height: 37px; }

QMenu { background: $raised; color: $ink; border: 1px solid $outline; padding: 6px; }
QMenu::item { padding: 11px 20px 11px 16px; border-radius: 8px; }
QMenu::item:selected { background: $accent_soft; color: $ink; }
QMenu::item:disabled { color: $ink3; }
QMenu::separator { height: 1px; background: $hairline; margin: 6px 8px; }
QMenuBar { background: $bg; color: $ink; }
QMenuBar::item { padding: 6px 12px; background: transparent; border-radius: 8px; }
QMenuBar::item:selected { background: $accent_soft; }

QAbstractItemView {
    background: $raised; color: $ink; border: 1px solid $outline; outline: 0; alternate-background-color: $surface;
    selection-background-color: $accent_soft; selection-color: $ink;
}
QListView { padding: 4px; }
QListView::item { height: 44px; padding: 0 12px; border-radius: 8px; }
QListView::item:hover { background: $surface; }
QListView::item:selected { background: $accent_soft; color: $ink; }
QTableView { gridline-color: $hairline; border-radius: 0; }
QTableView::item { padding: 0 8px; }
QTableView::item:focus, QListView::item:focus { border: 2px solid $accent; }
QHeaderView { background: $surface; border: 0; }
QHeaderView::section {
    background: $surface; color: $ink2; border: 0; border-bottom: 1px solid $outline; padding: 10px 8px;
    font-weight: 600;
}
QTableCornerButton::section { background: $surface; border: 0; }

QScrollArea { background: transparent; border: 0; }
QScrollBar:vertical { background: transparent; width: 14px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: 14px; margin: 0; }
QScrollBar::handle { background: $outline; border-radius: 4px; margin: 3px; }
QScrollBar::handle:vertical { min-height: 44px; }
QScrollBar::handle:horizontal { min-width: 44px; }
QScrollBar::handle:hover, QScrollBar::handle:pressed { background: $ink3; }
QScrollBar::add-line, QScrollBar::sub-line, QScrollBar::add-page, QScrollBar::sub-page {
    background: transparent; border: 0; width: 0; height: 0;
}
QAbstractScrollArea::corner { background: transparent; border: 0; }
QStatusBar { background: $bg; color: $ink2; }
QStatusBar::item { border: 0; }
""")


def style_sheet(theme: ThemeTokens) -> str:
    """Return the style sheet for a theme."""
    return _SHEET.substitute(asdict(theme.colours), name=theme.name, icons=_icon_folder())


@cache
def _icon_folder() -> str:
    """Return where the icons lie as files, for as long as the program runs: style sheets take nothing else."""
    folder = ExitStack().enter_context(as_file(files("tastebook.resources.icons")))
    return folder.as_posix()
