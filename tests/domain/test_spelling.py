"""What counts as the same word, and what as a slip."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.spelling import closest, forms, plain, slug, squeezed, toned

LEXICON = ("thin", "jasmine", "osmanthus", "apricot", "peach", "stone", "grass", "white", "rose", "butter", "bitter")


@pytest.mark.parametrize(
    ("said", "same"),
    [("White-Peach", "white peach"), ("guìhuā  XIĀNG", "guihua xiang"), ("hūn'àn", "hunan"), ("crème", "creme")],
)
def test_case_accents_tones_and_hyphens_make_no_other_word(said: str, same: str) -> None:
    assert plain(said) == same


def test_a_slug_joins_plain_words() -> None:
    assert slug(" White  Peach ") == "white-peach"


def test_tones_are_kept_where_they_tell_words_apart() -> None:
    assert squeezed("jiāo qì") == squeezed("jiào qì")
    assert toned("jiāo qì") != toned("jiào qì")


@given(st.text())
def test_plain_words_stay_as_they_are(text: str) -> None:
    assert plain(plain(text)) == plain(text)


@given(st.text().filter(str.strip))
def test_a_slug_is_never_empty_for_words(text: str) -> None:
    assert slug(text)


@pytest.mark.parametrize(
    ("said", "meant"),
    [("peaches", "peach"), ("berries", "berry"), ("leaves", "leaf"), ("peachy", "peach"), ("smoky", "smoke")],
)
def test_a_plural_or_adjective_leads_back_to_the_word(said: str, meant: str) -> None:
    assert meant in forms(said)


def test_a_short_word_keeps_its_ending() -> None:
    assert "iv" not in forms("ivy")
    assert "gra" not in forms("grass")


@pytest.mark.parametrize(
    ("slip", "meant"),
    [
        ("jasmin", "jasmine"),
        ("osmantus", "osmanthus"),
        ("appricot", "apricot"),
        ("peahc", "peach"),
        ("buter", "butter"),
    ],
)
def test_a_slip_leads_to_the_word_that_was_meant(slip: str, meant: str) -> None:
    assert closest(slip, LEXICON) == meant


@pytest.mark.parametrize(
    "word", ["store", "glass", "roes", "beach", "pricot", "umbrella", "better", "think", "whit", "ros", ""]
)
def test_another_word_is_no_slip(word: str) -> None:
    assert closest(word, LEXICON) is None


def test_a_slip_of_two_words_is_corrected_to_neither() -> None:
    assert closest("peachs", ("peachxs", "peachys")) is None
