"""Words of one's own and changed ones: history keeps its key and follows the word."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tastebook.domain.arc import arcs, strengths_by_column
from tastebook.domain.own_words import each_once, read_now, with_own, word_now
from tastebook.domain.session import OwnDescriptor
from tastebook.domain.vocabulary import Vocabulary
from tests.domain.building import said, tasted
from tests.words import real_vocabulary

NOON_UTC = datetime(2026, 4, 18, 12, tzinfo=UTC)
SHIPPED = real_vocabulary()
KEYS = tuple(one.key for one in SHIPPED.descriptors)
FAMILIES = tuple(one.key for one in SHIPPED.families)

some_key = st.sampled_from(KEYS)
texts = st.text(max_size=12)


def changed(key: str, **fields: object) -> OwnDescriptor:
    """Return a change to a word that ships."""
    known = SHIPPED.descriptor(key)
    made = OwnDescriptor(f"own-{key}", known.name, known.family, NOON_UTC, key=key)
    return replace(made, **fields)  # type: ignore[arg-type]


def own(name: str, family: str = "floral", after_s: int = 0, **fields: object) -> OwnDescriptor:
    """Return a word of one's own."""
    made = OwnDescriptor(f"own-{name}", name, family, NOON_UTC + timedelta(seconds=after_s))
    return replace(made, **fields)  # type: ignore[arg-type]


def _terms(vocabulary: Vocabulary) -> list[str]:
    return [term for one in SHIPPED.descriptors for term in (one.name, *one.synonyms) if vocabulary.find(term)]


@settings(max_examples=25)
@given(some_key)
def test_a_renamed_word_keeps_its_key_and_answers_to_both_names(key: str) -> None:
    before = SHIPPED.descriptor(key)

    now = with_own(SHIPPED, [changed(key, name="grandmother’s attic")])

    assert now.descriptor(key).name == "grandmother’s attic"
    assert word_now(said(key, 3, 1), now) == "grandmother’s attic"
    for words in ("grandmothers attic", before.name, *before.synonyms):
        found = now.find(words)
        assert found is not None
        assert found.key == key


@settings(max_examples=25)
@given(some_key, st.sampled_from(FAMILIES))
def test_a_moved_word_moves_with_everything_recorded_under_it(key: str, family: str) -> None:
    now = with_own(SHIPPED, [changed(key, family=family)])

    assert now.family_of(key) == family
    assert now.descriptor(key) in now.in_family(family)
    assert sum(now.descriptor(key) in now.in_family(one) for one in FAMILIES) == 1


@settings(max_examples=25)
@given(some_key, some_key)
def test_a_word_taken_in_is_found_and_resolved_as_its_host(guest: str, host: str) -> None:
    now = with_own(SHIPPED, [changed(guest, merged_into=host)])

    expected = host if guest != host else guest
    assert now.resolve(guest) == expected
    assert now.descriptor(guest).key == expected
    assert now.family_of(guest) == SHIPPED.family_of(host)
    for term in (SHIPPED.descriptor(guest).name, *SHIPPED.descriptor(guest).synonyms):
        found = now.find(term)
        assert found is not None
        assert found.key == expected


@settings(max_examples=25)
@given(st.lists(st.tuples(some_key, some_key), max_size=6))
def test_no_chain_of_merges_loses_a_word_or_goes_round(pairs: list[tuple[str, str]]) -> None:
    now = with_own(SHIPPED, [changed(guest, merged_into=host) for guest, host in pairs])

    for key in KEYS:
        assert now.has(key)
        assert now.resolve(now.resolve(key)) == now.resolve(key)
    assert _terms(now) == _terms(SHIPPED)


any_own = st.builds(
    OwnDescriptor, texts, texts, texts, st.just(NOON_UTC), st.one_of(texts, some_key), st.lists(texts).map(tuple),
    texts, texts, texts, st.one_of(texts, some_key), st.booleans(),
)  # fmt: skip


@settings(max_examples=25)
@given(st.lists(any_own, max_size=5))
def test_whatever_a_journal_holds_every_word_that_ships_stays_in_reach(told: list[OwnDescriptor]) -> None:
    now = with_own(SHIPPED, told)

    assert all(now.has(key) for key in KEYS)
    now.find("orchid")
    now.complete("or")
    now.guess_family("cloudberry")


def test_two_that_are_one_word_now_are_counted_once_and_by_the_strongest() -> None:
    now = with_own(SHIPPED, [changed("white-peach", merged_into="peach")])
    both = tasted([said("peach", 2, 1), said("white-peach", 4, 1)], infusions=1)

    (arc,) = arcs(read_now(both, now), now.family_of)

    assert arc.strengths == (4.0,)
    assert (arc.descriptor, arc.descriptor_intensity) == ("peach", 4)
    assert strengths_by_column(both, SHIPPED.family_of)[1]["fruity"] > 4.0
    assert [(one.descriptor, one.intensity) for one in each_once(both.impressions, now)] == [("peach", 4)]


def test_a_tasting_without_words_taken_in_is_read_as_it_is() -> None:
    one = tasted([said("peach", 2, 1)], infusions=1)

    assert read_now(one, with_own(SHIPPED, [changed("white-peach", merged_into="peach")])) is one


def test_merged_words_are_found_in_the_three_tongues() -> None:
    guest, host = SHIPPED.find("焦气"), SHIPPED.find("smoky taint")
    assert guest is not None
    assert host is not None

    now = with_own(SHIPPED, [changed(guest.key, merged_into=host.key)])

    assert {found.key for words in ("scorched", "焦气", "jiāo qì") if (found := now.find(words))} == {host.key}


def test_an_own_word_renamed_is_still_known_by_what_it_was() -> None:
    told = own("yacht varnish", "woody", key="boat-varnish", synonyms=("boat varnish",), zh="船漆", pinyin="chuán qī")

    now = with_own(SHIPPED, [told])

    for words in ("boat varnish", "yacht varnishes", "船漆", "chuan qi"):
        found = now.find(words)
        assert found is not None
        assert (found.key, found.name, found.family) == ("boat-varnish", "yacht varnish", "woody")


def test_an_own_word_that_has_come_to_ship_is_that_word_now() -> None:
    now = with_own(SHIPPED, [own("buttery"), own("Orchid")])

    assert now.resolve("buttery") == "warm-butter"
    assert now.descriptors == SHIPPED.descriptors


def test_talk_is_known_as_talk_and_is_no_word() -> None:
    now = with_own(SHIPPED, [own("by the way", is_talk=True)])

    assert now.is_talk("By the  way")
    assert now.find("by the way") is None
    assert not SHIPPED.is_talk("by the way")


def test_nothing_of_ones_own_changes_nothing() -> None:
    assert with_own(SHIPPED, []).descriptors == SHIPPED.descriptors


@pytest.mark.parametrize("family", ["", "fluffy"])
def test_a_change_to_no_family_leaves_a_shipped_word_where_it_is(family: str) -> None:
    assert with_own(SHIPPED, [changed("orchid", family=family)]).family_of("orchid") == "floral"
