"""Changing words: what each change keeps, and what is refused, in words that say what to do."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tastebook.domain.errors import NameTaken, VocabularyError
from tastebook.domain.own_words import with_own
from tastebook.domain.session import OwnDescriptor
from tastebook.domain.spelling import squeezed
from tastebook.domain.word_changes import WordBook
from tastebook.domain.word_rules import LONGEST_ABOUT, LONGEST_NAME, MOST_SYNONYMS
from tests.words import real_vocabulary

NOON_UTC = datetime(2026, 4, 18, 12, tzinfo=UTC)
BOOK = WordBook(real_vocabulary())
KEYS = tuple(BOOK.words)


def _kept(record: OwnDescriptor, number: int = 1) -> OwnDescriptor:
    return replace(record, uid=f"own-{number}", created_at_utc=NOON_UTC)


def book(*records: OwnDescriptor) -> WordBook:
    return BOOK.after(_kept(one, number) for number, one in enumerate(records))


VARNISH = BOOK.added("boat varnish", "woody", synonyms=["yacht paint"], zh="船漆", pinyin="chuán qī", about="Resin.")


# -- adding


def test_a_new_word_has_a_key_of_its_name_and_the_family_by_key_or_name() -> None:
    assert (VARNISH.key, VARNISH.family) == ("boat-varnish", "woody")
    assert BOOK.added("boat varnish", "Woody").family == "woody"
    assert BOOK.added("boat varnish").family == ""


@pytest.mark.parametrize("name", ["Boat-Varnish", "船漆", "yacht paint"])
def test_a_name_that_another_word_has_is_refused_and_says_whose(name: str) -> None:
    with pytest.raises(NameTaken, match=r"boat varnish|Boat-Varnish") as refused:
        book(VARNISH).added(name)

    assert refused.value.key == "boat-varnish"


def test_a_name_of_a_word_that_ships_is_refused() -> None:
    with pytest.raises(NameTaken, match=r"“buttery” is a name of “warm butter” already.*merge"):
        BOOK.added("buttery")


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("", "The name is empty. Write the word"),
        ("   ", "The name is empty"),
        ("…!", "has no letter"),
        ("🍑", "has no letter"),
        ("tar\0rope", r"cannot be seen \(U\+0000\)"),
        ("tar\u202erope", r"U\+202E"),
        ("\ud800rope", r"U\+D800"),
        ("x" * (LONGEST_NAME + 1), f"at most {LONGEST_NAME} fit"),
        ("tar; rope", "semicolon"),
    ],
)
def test_what_is_no_name_is_refused_in_words(name: str, message: str) -> None:
    with pytest.raises(VocabularyError, match=message):
        BOOK.added(name)


@pytest.mark.parametrize("name", ["🍑 skin", "crème brûlée crust", "老房子", "n° 5 soap", "wet dog’s bed"])
def test_odd_but_honest_names_are_taken(name: str) -> None:
    assert BOOK.added(name).name == name


@pytest.mark.parametrize(
    ("field", "value", "message"),
    [
        ("zh", "tar", "not Chinese characters alone"),
        ("zh", "船" * 30, "at most"),
        ("pinyin", "chuan2", "“2” in it"),
        ("pinyin", "船", "“船” in it"),
        ("about", "x" * (LONGEST_ABOUT + 1), "at most"),
        ("about", "a\0b", "cannot be seen"),
        ("synonyms", [f"tar {number}" for number in range(MOST_SYNONYMS + 1)], "at most"),
        ("synonyms", ["orchid"], "a name of “orchid”"),
    ],
)
def test_a_field_that_cannot_be_is_refused_in_words(field: str, value: object, message: str) -> None:
    with pytest.raises(VocabularyError, match=message):
        BOOK.added("boat varnish", **{field: value})  # type: ignore[arg-type]


def test_a_family_that_is_not_there_is_refused_with_those_that_are() -> None:
    with pytest.raises(VocabularyError, match=r"no family “fluffy”\. The families are .*Floral"):
        BOOK.added("boat varnish", "fluffy")


def test_a_meaning_may_have_several_lines() -> None:
    assert BOOK.added("boat varnish", about=" Resin.\r\nSun. ").about == "Resin.\nSun."


# -- renaming


@settings(max_examples=25)
@given(st.sampled_from(KEYS), st.lists(st.sampled_from(["tarred rope", "wet hull", "quay at noon"]), max_size=4))
def test_however_often_it_is_renamed_a_word_answers_to_all_its_names(key: str, names: list[str]) -> None:
    now = BOOK
    for name in names:
        now = now.after([_kept(now.renamed(key, name))])

    vocabulary = with_own(now.shipped, now.own)

    for said in (BOOK.words[key].name, *names):
        found = vocabulary.find(said)
        assert found is not None
        assert found.key == key


def test_renaming_back_leaves_nothing_to_keep_but_the_names_between() -> None:
    away = book(BOOK.renamed("orchid", "moth orchid"))

    back = away.renamed("orchid", "orchid")

    assert back.synonyms == ("moth orchid",)
    assert not away.is_idle(back)
    assert away.is_idle(replace(back, synonyms=()))


def test_a_word_cannot_take_the_name_of_another() -> None:
    with pytest.raises(NameTaken) as refused:
        BOOK.renamed("orchid", "Jasmine")

    assert refused.value.key == "jasmine"


def test_a_word_may_take_one_of_its_own_synonyms() -> None:
    renamed = book(VARNISH).renamed("boat-varnish", "Yacht paint")

    assert (renamed.name, renamed.synonyms) == ("Yacht paint", ("boat varnish",))


def test_a_word_that_is_not_there_cannot_be_changed() -> None:
    with pytest.raises(VocabularyError, match=r"no word “umbrella”\. It may have been removed"):
        BOOK.renamed("umbrella", "parasol")


# -- moving


def test_a_word_moves_to_a_family_that_is_there() -> None:
    assert BOOK.moved("orchid", "woody").family == "woody"
    with pytest.raises(VocabularyError, match="There is no family “fluffy”"):
        BOOK.moved("orchid", "fluffy")
    with pytest.raises(VocabularyError, match="No family was chosen"):
        BOOK.moved("orchid", " ")


# -- merging


@settings(max_examples=25)
@given(st.lists(st.tuples(st.sampled_from(KEYS[:12]), st.sampled_from(KEYS[:12])), max_size=8))
def test_whatever_is_merged_no_word_is_taken_in_by_itself(pairs: list[tuple[str, str]]) -> None:
    now = BOOK
    for guest, host in pairs:
        with suppress(VocabularyError):
            now = now.after([_kept(now.taken_in(guest, host))])

    vocabulary = with_own(now.shipped, now.own)

    assert all(vocabulary.resolve(key) not in vocabulary.merged for key in KEYS)
    assert dict(now.merged) == dict(vocabulary.merged)


def test_a_ring_of_merges_is_refused_and_says_why() -> None:
    first = book(BOOK.taken_in("orchid", "jasmine"))

    with pytest.raises(VocabularyError, match="“jasmine” cannot be merged into “orchid”, which it took in before"):
        first.taken_in("jasmine", "orchid")
    with pytest.raises(VocabularyError, match="cannot be merged into itself"):
        BOOK.taken_in("orchid", "orchid")
    with pytest.raises(VocabularyError, match="no word “umbrella” to merge “orchid” into"):
        BOOK.taken_in("orchid", "umbrella")


def test_a_merge_goes_to_the_end_of_the_chain() -> None:
    first = book(BOOK.taken_in("orchid", "jasmine"))

    assert first.taken_in("lilac", "orchid").merged_into == "jasmine"


def test_a_word_parted_stands_for_itself_again() -> None:
    first = book(BOOK.taken_in("orchid", "jasmine"))

    parted = first.parted("orchid")

    assert parted.merged_into == ""
    assert first.is_idle(parted)


def test_the_names_of_a_word_taken_in_belong_to_its_host() -> None:
    first = book(BOOK.taken_in("orchid", "jasmine"))

    with pytest.raises(NameTaken) as refused:
        first.renamed("lilac", "orchid")

    assert refused.value.key == "jasmine"
    assert first.renamed("jasmine", "orchid").name == "orchid"


# -- amending and talk


def test_what_ships_stays_and_what_is_added_is_kept() -> None:
    ships = BOOK.words["orchid"]

    amended = BOOK.amended("orchid", synonyms=(*ships.synonyms, "moth orchid"), zh=ships.zh, about="Cool and sweet.")

    assert (amended.synonyms, amended.zh, amended.about) == (("moth orchid",), "", "Cool and sweet.")


def test_a_synonym_of_another_word_is_refused() -> None:
    with pytest.raises(NameTaken):
        BOOK.amended("orchid", synonyms=["jasmine"])


def test_talk_is_no_word_and_a_word_is_no_talk() -> None:
    talk = BOOK.talk("by the way")

    assert book(talk).kind_of(talk.key) == "talk"
    assert talk.key not in book(talk).words
    with pytest.raises(NameTaken, match="“orchid” is a word of tasting"):
        BOOK.talk("orchid")


def test_what_was_talk_may_become_a_word() -> None:
    talked = book(BOOK.talk("harbour fog"))

    record = talked.added("harbour fog", "mineral")

    assert (record.uid, record.is_talk) == ("own-0", False)


@given(st.text(max_size=80))
def test_no_text_crashes_the_rules(text: str) -> None:
    for change in (
        lambda: BOOK.added(text),
        lambda: BOOK.renamed("orchid", text),
        lambda: BOOK.moved("orchid", text),
        lambda: BOOK.amended("orchid", synonyms=[text], zh=text, pinyin=text, about=text),
        lambda: BOOK.talk(text),
        lambda: BOOK.taken_in("orchid", text),
    ):
        with suppress(VocabularyError):
            assert squeezed(change().name)
