"""Whether a key that pours would be written where the keyboard is, and which key pours there all the same."""

from __future__ import annotations

from typing import Final

from PySide6.QtWidgets import QApplication, QLineEdit, QPlainTextEdit, QTextEdit

from tastebook.presenters.help import keys_of, shown_key
from tastebook.ui.widgets.find_field import FindField
from tastebook.ui.widgets.say_field import SayField

ALWAYS: Final = shown_key(keys_of("bench", "pedal_always")[0])


def key_that_pours(key: str) -> str:
    """Return the key to show for a pour: `key`, or where it would be written the one that always pours."""
    is_written = key == "Space" or len(key) == 1
    return ALWAYS if is_written and _is_writing() else key


def _is_writing() -> bool:
    """Say whether Space is written: in every field, but in a find field and the say line only once there are words."""
    focused = QApplication.focusWidget()
    if isinstance(focused, (FindField, SayField)):
        return bool(focused.text())
    return isinstance(focused, (QLineEdit, QTextEdit, QPlainTextEdit)) and not focused.isReadOnly()
