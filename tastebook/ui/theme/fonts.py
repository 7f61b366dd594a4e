"""The bundled faces, by role. Each is followed by the Chinese face for signs that it lacks."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Final

from PySide6.QtCore import QByteArray
from PySide6.QtGui import QFont, QFontDatabase

from tastebook.domain.errors import TastebookError

SERIF: Final = "Bench Serif"
NUMERALS: Final = "Bench Numerals"
SANS: Final = "Bench Sans"

CHINESE: Final = ("Bench Han", "Noto Sans SC", "Noto Sans CJK SC", "Noto Serif CJK SC")
"""Bundled first; the others are asked for signs beyond the bundled ones."""


@cache
def load_fonts() -> tuple[str, ...]:
    """Register every bundled face with Qt, once, and return the names of their families.

    Raises
    ------
    TastebookError
        If a face cannot be loaded.
    """
    families: set[str] = set()
    for face in sorted(files("tastebook.resources.fonts").iterdir(), key=lambda entry: entry.name):
        if not face.name.endswith(".ttf"):
            continue
        number = QFontDatabase.addApplicationFontFromData(QByteArray(face.read_bytes()))
        if number < 0:
            raise TastebookError(f"The typeface {face.name} cannot be loaded. Install Tastebook again.")
        families.update(QFontDatabase.applicationFontFamilies(number))
    return tuple(sorted(families))


@cache
def serif(px: int, weight: int = 500) -> QFont:
    """Return the face of titles and values. The fonts returned here are shared: copy one before changing it."""
    return _font(SERIF, px, weight)


@cache
def serif_italic(px: int) -> QFont:
    """Return the face of what somebody said."""
    return _font(SERIF, px, 400, is_italic=True)


@cache
def numerals(px: int) -> QFont:
    """Return the face of the timer."""
    return _font(NUMERALS, px, 400)


@cache
def sans(px: int, weight: int = 400) -> QFont:
    """Return the face of text and labels."""
    return _font(SANS, px, weight)


def _font(family: str, px: int, weight: int, *, is_italic: bool = False) -> QFont:
    font = QFont()
    font.setFamilies([family, *CHINESE])
    font.setPixelSize(px)
    font.setWeight(QFont.Weight(weight))
    font.setItalic(is_italic)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    return font
