"""The rule files: how a phrase is written, and what is refused with its place."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.errors import VocabularyError
from tastebook.domain.grammar import Unit, grammar_from_tables, readings
from tests.words import real_rules, real_vocabulary

GRAMMAR = real_vocabulary().grammar


@pytest.mark.parametrize(
    ("pattern", "phrases"),
    [
        ("no", ["no"]),
        ("a hint|trace of", ["a hint of", "a trace of"]),
        ("(a|the) hint", ["hint", "a hint", "the hint"]),
        ("{at once|in seconds} gone", ["at once gone", "in seconds gone"]),
        ("i don't (really)", ["i dont", "i dont really"]),
        ("on the out-breath", ["on the out breath"]),
    ],
)
def test_a_pattern_stands_for_its_phrases(pattern: str, phrases: list[str]) -> None:
    assert sorted(readings(pattern)) == sorted(phrases)


@pytest.mark.parametrize("pattern", ["", "   ", " ".join(["{a|b|c|d|e|f|g|h|i|j}"] * 5)])
def test_a_pattern_that_stands_for_nothing_or_for_too_much_is_refused(pattern: str) -> None:
    with pytest.raises(VocabularyError, match="write it shorter"):
        readings(pattern)


def test_every_phrase_is_plain_words() -> None:
    for phrase in GRAMMAR.phrases:
        assert phrase == " ".join(phrase.split())
        assert phrase == phrase.casefold()
        assert not set(phrase) & set("|(){}'")


def test_no_phrase_plays_one_part_twice() -> None:
    for phrase, cues in GRAMMAR.phrases.items():
        roles = [cue.role for cue in cues]
        assert len(roles) == len(set(roles)), phrase


def test_every_strength_is_on_the_scale() -> None:
    values = {
        cue.value for cues in GRAMMAR.phrases.values() for cue in cues if cue.role in ("of", "by", "before", "after")
    }

    assert values == {1, 2, 3, 4, 5}


def test_every_word_of_change_and_of_channels_is_known() -> None:
    channels = {cue.key for cues in GRAMMAR.phrases.values() for cue in cues if cue.role in ("channel", "label")}
    changes = {cue.key for cues in GRAMMAR.phrases.values() for cue in cues if cue.role.startswith("change")}

    assert channels == {
        "lid", "dry leaf", "warmed leaf", "wet leaf", "infused leaf", "nose", "palate", "retronasal", "empty cup",
        "finish",
    }  # fmt: skip
    assert changes == set(GRAMMAR.changes)


def test_every_guarded_word_is_one_that_could_be_a_note() -> None:
    vocabulary = real_vocabulary()

    strangers = [word for word in GRAMMAR.guarded | GRAMMAR.modifiers if vocabulary.find(word) is None]

    assert strangers == []


def test_what_dictation_writes_stands_for_known_words() -> None:
    vocabulary = real_vocabulary()
    every = {scale.key for scale in vocabulary.scales}

    for heard, meant in {**GRAMMAR.heard, **GRAMMAR.heard_if_led}.items():
        assert vocabulary.find(meant) or vocabulary.scale_words(meant, every), heard


def test_everyday_words_are_no_slips_and_no_tasting_words() -> None:
    vocabulary = real_vocabulary()

    assert [word for word in sorted(GRAMMAR.everyday) if vocabulary.corrected(word) != word] == []
    assert [word for word in sorted(GRAMMAR.everyday) if vocabulary.find(word)] == []


@given(st.sampled_from(GRAMMAR.units), st.floats(-100, 20_000))
def test_a_unit_takes_the_numbers_that_can_be_meant(unit: Unit, number: float) -> None:
    assert (unit.converted(number) is not None) == (unit.least <= number <= unit.most)


@pytest.mark.parametrize(
    ("file", "name", "broken", "message"),
    [
        ("strength", "of", "many", "strength.of: a list of rules"),
        ("absence", "before", [4], "absence.before: a list of words"),
        ("numbers", "words", ["one"], "numbers.words: a table of words"),
        ("channels", "channels", None, "channels.channels: a list of rules"),
    ],
)
def test_a_rule_file_that_cannot_be_read_is_refused_with_its_place(
    file: str, name: str, broken: Any, message: str
) -> None:
    tables = deepcopy(real_rules())
    tables[file][name] = broken

    with pytest.raises(VocabularyError, match=message):
        grammar_from_tables(tables)


def test_without_rules_a_list_of_words_is_still_understood() -> None:
    from dataclasses import replace

    from tastebook.domain.grammar import Grammar
    from tastebook.domain.saying import understand

    bare = replace(real_vocabulary(), grammar=Grammar())

    assert [one.key for one in understand("orchid, peach", bare).impressions] == ["orchid", "peach"]


def test_phrases_spelt_out_later_are_the_same() -> None:
    assert dict(grammar_from_tables(real_rules(), later=True).phrases) == grammar_from_tables(real_rules()).phrases
