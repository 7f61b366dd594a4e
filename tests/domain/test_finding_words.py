"""Text as it is searched."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.finding_words import _TOKEN, Phrase, Span, cut, laid_out, needles, pieces, with_squeezed
from tastebook.domain.spelling import plain


@given(st.text())
def test_a_text_is_cut_alike_with_and_without_the_places(text: str) -> None:
    found = pieces(text)

    assert [one.letters for one in found] == cut(text) == _TOKEN.findall(plain(text))
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

    spans = needles(((("longjing",), False), (("焦", "糖"), False))).spans_in(text)

    assert [text[start:end] for start, end in spans] == ["Lóngjǐng", "焦糖"]


def test_the_beginning_of_a_word_marks_the_whole_word() -> None:
    text = "peaches in syrup"

    assert [text[start:end] for start, end in needles(((("peac",), True),)).spans_in(text)] == ["peaches"]


def test_a_name_is_known_without_its_spaces_too() -> None:
    assert with_squeezed("Jīn Xuān").split() == ["jin", "xuan", "·", "jinxuan"]


WORDS = st.sampled_from(("cedar", "cedars", "rain", "it's", "Lóng", "焦", "糖", "焦糖", "a_b", "x", "-", "·", "`on"))
TEXTS = st.lists(WORDS | st.text(max_size=3), max_size=8).map(" ".join)
PHRASES = st.lists(
    st.sampled_from(("cedar", "rain", "its", "long", "焦", "糖", "x", "c", "on")), min_size=1, max_size=3
)


def _places(words: list[str], phrase: Phrase, *, is_begun: bool) -> list[int]:
    """Word by word: the slow way that says what is meant."""
    found = []
    for place in range(len(words) - len(phrase) + 1):
        *before, last = words[place : place + len(phrase)]
        if (*before, last) == phrase or (is_begun and (*before,) == phrase[:-1] and last.startswith(phrase[-1])):
            found.append(place)
    return found


@given(text=TEXTS, sought=st.lists(st.tuples(PHRASES.map(tuple), st.booleans()), max_size=4).map(tuple))
def test_phrases_are_found_where_a_walk_from_word_to_word_finds_them(
    text: str, sought: tuple[tuple[Phrase, bool], ...]
) -> None:
    found = pieces(text)
    words = [one.letters for one in found]
    places = [(phrase, _places(words, phrase, is_begun=is_begun)) for phrase, is_begun in sought]
    marked = {
        sign
        for phrase, its in places
        for place in its
        for sign in range(found[place].start, found[place + len(phrase) - 1].end)
    }

    asked = needles(sought)

    assert laid_out(text).split() == cut(text)
    assert asked.count_in(laid_out(text)) == sum(bool(its) for _, its in places)
    spans: tuple[Span, ...] = asked.spans_in(text)
    assert {sign for start, end in spans for sign in range(start, end)} == marked
    assert all(first[1] < second[0] for first, second in pairwise(spans))
