"""The bundled faces: there, complete, and followed by the Chinese one."""

from __future__ import annotations

from importlib.resources import files

import pytest
from PySide6.QtGui import QFont, QFontInfo, QFontMetricsF, QRawFont
from PySide6.QtWidgets import QApplication

from tastebook.ui.theme import fonts

PINYIN = "āáǎàēéěèīíǐìōóǒòūúǔùǖǘǚǜüĀÁǍÀ"


def test_every_bundled_family_is_known_to_qt(qapp: QApplication) -> None:
    assert {fonts.SERIF, fonts.NUMERALS, fonts.SANS, fonts.CHINESE[0]} <= set(fonts.load_fonts())


@pytest.mark.parametrize(
    "font",
    [
        fonts.serif(28, 600),
        fonts.serif(20),
        fonts.serif_italic(18),
        fonts.numerals(148),
        fonts.sans(16),
        fonts.sans(18, 700),
    ],
)
def test_a_face_is_the_bundled_one_and_not_a_stand_in(qapp: QApplication, font: QFont) -> None:
    assert QFontInfo(font).family().startswith("Bench")


@pytest.mark.parametrize("font", [fonts.serif(20), fonts.serif_italic(18), fonts.sans(16)])
def test_every_tone_mark_of_pinyin_is_in_the_face(qapp: QApplication, font: QFont) -> None:
    raw = QRawFont.fromFont(font)

    assert [sign for sign in PINYIN if not raw.supportsCharacter(ord(sign))] == []


@pytest.mark.parametrize("font", [fonts.serif(20, 600), fonts.numerals(148), fonts.sans(16)])
def test_digits_are_equally_wide_so_that_a_timer_does_not_tremble(qapp: QApplication, font: QFont) -> None:
    widths = {QFontMetricsF(font).horizontalAdvance(digit) for digit in "0123456789"}

    assert max(widths) - min(widths) < 0.01


def test_the_chinese_face_has_gb_2312_level_1_and_the_vocabulary(qapp: QApplication) -> None:
    # GB 2312-80, level 1: rows 16 to 55, 3,755 characters in pinyin order.
    cells = [(row, cell) for row in range(16, 56) for cell in range(1, 95) if (row, cell) <= (55, 89)]
    level_1 = {bytes((row + 0xA0, cell + 0xA0)).decode("gb2312") for row, cell in cells}
    entries = files("tastebook.resources.vocabulary").iterdir()
    words = "".join(entry.read_text(encoding="utf-8") for entry in entries if entry.name.endswith(".toml"))
    ours = {sign for sign in words if "\u4e00" <= sign <= "\u9fff"}
    face = QRawFont((files("tastebook.resources.fonts") / "BenchHan-400.ttf").__fspath__(), 16)

    missing = [sign for sign in level_1 | ours if not face.supportsCharacter(ord(sign))]

    assert len(level_1) == 3755
    assert missing == [], "build the face again: packaging/build_chinese_font.py"


def test_a_chinese_sign_is_drawn_from_the_bundled_face(qapp: QApplication) -> None:
    assert fonts.serif(20).families()[1] == "Bench Han"
    assert fonts.sans(16).families()[1] == "Bench Han"
