"""What a term means: every word that Tastebook knows has an answer."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.explaining import Explained, every_term, explained, meaning
from tastebook.domain.spelling import squeezed
from tests.words import real_vocabulary

EVERY_TERM = tuple(every_term(real_vocabulary()))


def test_every_word_is_among_the_terms() -> None:
    vocabulary = real_vocabulary()
    kinds = [one.kind for one in EVERY_TERM]

    assert kinds.count("note") + kinds.count("fault") == len(vocabulary.descriptors)
    assert kinds.count("mouth") == len(vocabulary.mouth_terms)
    assert kinds.count("scale") == len(vocabulary.scales)
    assert kinds.count("clarity") == len(vocabulary.clarities)
    assert kinds.count("liquor colour") + kinds.count("leaf colour") == len(vocabulary.colours)


@given(st.sampled_from(EVERY_TERM), st.data())
def test_a_term_is_explained_under_each_of_its_names(term: Explained, data: st.DataObject) -> None:
    words = data.draw(st.sampled_from(term.texts))

    found = explained(real_vocabulary(), words)

    assert found is not None
    assert squeezed(words) in map(squeezed, found.texts)
    assert found.about or found.cause
    assert found.source


def test_every_note_and_fault_says_what_it_means_in_words_of_its_own() -> None:
    meanings = [one.about for one in EVERY_TERM if one.kind in ("note", "fault")]
    families = {one.about for one in real_vocabulary().families}

    assert [one.term for one in EVERY_TERM if one.kind in ("note", "fault") and one.about in families] == []
    assert all(about.endswith(".") and len(about) <= 120 for about in meanings)
    assert len(set(meanings)) == len(meanings)


@pytest.mark.parametrize("term", [one for one in EVERY_TERM if one.kind == "fault"], ids=lambda one: one.term)
def test_a_fault_says_what_usually_causes_it(term: Explained) -> None:
    assert term.cause
    assert "A fault, usually so: " in meaning(real_vocabulary(), term.term)


@pytest.mark.parametrize("term", [one for one in EVERY_TERM if "colour" in one.kind], ids=lambda one: one.term)
def test_a_colour_is_tied_to_a_region(term: Explained) -> None:
    assert term.lab is not None
    assert term.radius_e00 > 0


def test_a_term_of_the_mouth_says_its_place() -> None:
    found = explained(real_vocabulary(), "syrupy")

    assert found is not None
    assert found.belongs == "Body, 5 of 5"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (
            "scorched",
            "Burnt edges: sharp, bitter, black. A fault, usually so: Leaf edges burnt in the pan",
        ),
        ("焦气", "Burnt edges: sharp, bitter, black."),
        ("orchids", "Cool, sweet and slightly green"),
        ("chún hòu", "Rich yet rounded, with mild grip. Body, 4 of 5."),
        ("silky", "Fine and sliding. Surface, 5 of 5."),
        ("hazy", "Lacks brightness"),
        ("Grip", "Astringency: drying and tightening"),
    ],
)
def test_a_term_is_told_and_a_fault_with_its_cause(words: str, told: str) -> None:
    assert meaning(real_vocabulary(), words).startswith(told)


def test_the_same_is_found_in_english_chinese_and_pinyin() -> None:
    words = ("orange yellow", "橙黄", "chéng huáng", "cheng huang")

    assert {found.term for one in words if (found := explained(real_vocabulary(), one))} == {"orange yellow"}


def test_a_term_without_chinese_says_nothing_of_where_its_chinese_is_from() -> None:
    assert not [one.term for one in EVERY_TERM if "Chinese" in one.source and not one.zh]


@pytest.mark.parametrize("words", ["", "   ", "…", "zeppelin", "\0"])
def test_what_nobody_knows_has_no_meaning(words: str) -> None:
    assert explained(real_vocabulary(), words) is None
    assert meaning(real_vocabulary(), words) == ""
