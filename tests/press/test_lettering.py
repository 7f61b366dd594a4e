"""Which signs can be set, judged by typst itself: a PDF/UA document with a missing glyph is refused."""

from __future__ import annotations

import json
import unicodedata
from pathlib import Path

import pytest
import typst

from tastebook.press.lettering import _SET_BY_TYPST, covered, lettered, settable
from tastebook.press.session_pdf import _resources

FONTS = _resources() / "fonts"
TEMPLATE = """
#set document(title: "signs", date: datetime(year: 2026, month: 4, day: 14))
#set text(font: ("Bench Sans", "Bench Han"), lang: "en")
#for sign in json(bytes(sys.inputs.signs)) [#box(sign) ]
"""


@pytest.fixture(scope="module")
def template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("signs") / "signs.typ"
    path.write_text(TEMPLATE, encoding="utf-8")
    return path


def set_signs(template: Path, signs: list[str]) -> None:
    compiler = typst.Compiler(
        str(template), font_paths=[str(FONTS)], ignore_system_fonts=True, sys_inputs={"signs": json.dumps(signs)}
    )
    compiler.compile(format="pdf", pdf_standards=["ua-1"])


def test_the_judge_refuses_a_sign_without_a_glyph(template: Path) -> None:
    with pytest.raises(typst.TypstError, match="could not be displayed"):
        set_signs(template, ["🍵"])


def test_every_sign_that_is_left_to_typst_can_be_set(template: Path) -> None:
    codes = [code for first, last in _SET_BY_TYPST for code in range(first, last + 1)]
    letters = [chr(code) for code in codes if unicodedata.category(chr(code))[0] in "LNPS"]
    marks = ["a" + chr(code) for code in codes if 0x0300 <= code <= 0x036F]

    set_signs(template, letters + marks)


def test_every_sign_that_our_fonts_cover_can_be_set(template: Path) -> None:
    signs = [chr(code) for code in covered(FONTS) if unicodedata.category(chr(code))[0] in "LNPS"]

    set_signs(template, signs)


@pytest.mark.parametrize(
    "text", ["Jīn Xuān 金萱", "āáǎà ēéěè īíǐì ōóǒò ūúǔù ǖǘǚǜ", "≤ 45 °C · “Huígān” – 3 µg", "Žižek"]
)
def test_what_can_be_set_stays_as_it_is(text: str) -> None:
    assert settable(text, FONTS) == text


def test_tone_marks_written_apart_are_joined() -> None:
    assert settable("ji\u0304n", FONTS) == "jīn"


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        ("🍵", "[teacup without handle]"),
        ("ก", "[thai character ko kai]"),
        ("か", "か"),
        ("龘", "[U+9F98]"),
        ("\ue000", "[U+E000]"),
        ("\ud83c", "[U+D83C]"),
        ("a\tb\x07c", "a b c"),
        ("one\ntwo", "one\ntwo"),
        ("safe\u202etext\u2066", "safetext"),
    ],
)
def test_what_cannot_be_set_is_named(text: str, printed: str) -> None:
    assert settable(text, FONTS) == printed


def test_texts_are_made_settable_wherever_they_stand_in_a_tree() -> None:
    data = {"a": ("🍵", 3, None), "b": {"c": ["x\u202e"]}}

    assert lettered(data, FONTS) == {"a": ["[teacup without handle]", 3, None], "b": {"c": ["x"]}}
