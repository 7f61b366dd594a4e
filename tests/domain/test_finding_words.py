"""Text as it is searched."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.finding_words import cut, pieces, spans_of, with_squeezed


@given(st.text())
def test_a_text_is_cut_alike_with_and_without_the_places(text: str) -> None:
    found = pieces(text)

    assert [one.letters for one in found] == cut(text)
    assert all(0 <= one.start < one.end <= len(text) for one in found)


@given(st.text())
def test_what_was_cut_is_cut_no_further(text: str) -> None:
    words = cut(text)

    assert cut(" ".join(words)) == words


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Lóngjǐng", ["longjing"]),
        ("龙井香 tea", ["龙", "井", "香", "tea"]),
        ("it's pea-shoot", ["its", "pea", "shoot"]),
        ("Straße ﬁne", ["strasse", "fine"]),
    ],
)
def test_case_accents_and_tones_are_forgiven_and_chinese_is_cut_into_characters(text: str, expected: list[str]) -> None:
    assert cut(text) == expected


def test_places_are_those_of_the_text_as_it_was_written() -> None:
    text = "then Lóngjǐng, 焦糖"

    spans = spans_of(text, [(("longjing",), False), (("焦", "糖"), False)])

    assert [text[start:end] for start, end in spans] == ["Lóngjǐng", "焦糖"]


def test_the_beginning_of_a_word_marks_the_whole_word() -> None:
    text = "peaches in syrup"

    assert [text[start:end] for start, end in spans_of(text, [(("peac",), True)])] == ["peaches"]


def test_a_name_is_known_without_its_spaces_too() -> None:
    assert with_squeezed("Jīn Xuān").split() == ["jin", "xuan", "·", "jinxuan"]
