"""What is typed into the find field, and what is made of it."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.finding import Query
from tastebook.domain.finding_places import infusion_slot
from tastebook.domain.finding_reader import read_query
from tastebook.domain.own_words import with_own
from tastebook.domain.session import OwnDescriptor
from tests.words import real_vocabulary

TODAY = date(2026, 11, 25)


def read(typed: str) -> Query:
    return read_query(typed, real_vocabulary(), TODAY)


@pytest.mark.parametrize(
    ("typed", "understood"),
    [
        ("which tea had peach ≥ 3 in the third infusion?", ("peach at least 3", "infusion 3")),
        ("all Jin Xuan declined in 2024", ("“Jin”", "“Xuan”", "declined", "2024")),
        ("what did I say about the cedar ", ("cedar as impression or words",)),
        ("rest until May", ("resting until May",)),
        ("resting until may 2027", ("resting until May 2027",)),
        ("peach >= 3", ("peach at least 3",)),
        ("peach 3+", ("peach at least 3",)),
        ("peach at least 3", ("peach at least 3",)),
        ("peach 3 or more", ("peach at least 3",)),
        ("peach over 2", ("peach at least 3",)),
        ("peach 2-4", ("peach from 2 to 4",)),
        ("peach 4", ("peach at 4",)),
        ("smoky <= 1", ("smoke at most 1",)),
        ("no rose", ("rose looked for and absent",)),
        ("rose 0", ("rose looked for and absent",)),
        ("floral ≥ 4", ("floral in all at least 4",)),
        ("焦糖 ≥ 2", ("caramel at least 2",)),
        ("jiāotáng 2+", ("caramel at least 2",)),
        ("spring 2024", ("harvest spring 2024",)),
        ("harvest 2024", ("harvest 2024",)),
        ("since 2023-05", ("since May 2023",)),
        ("before march 2024", ("before March 2024",)),
        ("last year", ("2025",)),
        ("last month", ("October 2026",)),
        ("12 may 2024", ("12 May 2024",)),
        ("2022-2023", ("2022 to 2023",)),
        ("amber liquor", ("liquor near amber",)),
        ("liquor looked like pale straw", ("liquor near pale straw",)),
        ("turbid liquor", ("turbid liquor",)),
        ("orchid 4 on the lid", ("orchid at 4", "perceived at: lid")),
        ("clouded peach ", ("clouded", "peach as impression or words")),
        ("open sessions at origin", ("still open", "at origin")),
        ("infusions 2-4", ("infusions 2 to 4",)),
        ('supplier "quiet hill" batch HR-26', ("supplier quiet hill", "batch HR-26")),
        ('"rain on cedar"', ("the words “rain on cedar”",)),
        ("longjing ", ("“longjing”",)),
        ("the", ("“the”",)),
    ],
)
def test_what_is_typed_is_understood_and_told(typed: str, understood: tuple[str, ...]) -> None:
    query = read(typed)

    assert (query.understood, query.puzzled) == (understood, ())


@pytest.mark.parametrize(
    ("typed", "hint"),
    [
        ("peach > 9", "between 0 and 5"),
        ("floop >= 3", "“floop” is no descriptor"),
        (">= 3", "needs a descriptor or family before it"),
        ("peach >=", "needs a strength after it"),
        ("liquor like this", "Which colour of liquor?"),
        ("2023 and 2024", "No day lies in all"),
        ("buy declined", "one decision only"),
    ],
)
def test_what_makes_no_sense_is_told_with_what_would(typed: str, hint: str) -> None:
    (told,) = read(typed).puzzled

    assert hint in told


@given(st.text())
def test_any_text_can_be_read(typed: str) -> None:
    assert read(typed).typed == typed.strip()


RULED = (
    "peach floral ≥ <= 3 0 7 2024 2023-05 since last year rest until may spring no liquor amber - 3+ third infusion on"
)


@given(st.lists(st.sampled_from([*RULED.split(), "lid", '"', "焦", "batch", "or", "more", "to"])).map(" ".join))
def test_any_order_of_words_with_a_meaning_can_be_read(typed: str) -> None:
    query = read(typed)

    assert query.is_empty or query.understood


def test_days_are_counted_from_today_and_combined() -> None:
    query = read("this year since march")

    assert (query.first, query.last) == (date(2026, 3, 1), date(2026, 12, 31))


def test_infusions_are_places_in_the_session() -> None:
    assert read("2nd infusion peach 3").slots == {infusion_slot(2)}


def test_the_last_word_may_be_only_begun_and_a_space_ends_it() -> None:
    begun, ended = read("jasm"), read("jasm ")

    assert begun.words[0].begun == "jasm"
    assert "jasmine" in begun.words[0].descriptors
    assert ended.words[0].begun == ""


@pytest.mark.parametrize("typed", ["caramel ", "焦糖 ", "jiāo táng", "JIĀOTÁNG "])
def test_a_descriptor_is_meant_by_any_of_its_names(typed: str) -> None:
    (word,) = read(typed).words

    assert "caramel" in word.descriptors


def test_one_chinese_character_means_every_descriptor_written_with_it() -> None:
    (word,) = read("焦").words

    assert {"caramel"} <= word.descriptors


def test_a_word_taken_in_by_another_is_found_under_its_host() -> None:
    """Impressions keep the key under which they were recorded."""
    own = [
        OwnDescriptor("own-1", "harbour rain", "mineral", datetime(2026, 1, 1, tzinfo=UTC)),
        OwnDescriptor("own-2", "wet rope", "earthy", datetime(2026, 1, 2, tzinfo=UTC), merged_into="harbour-rain"),
    ]
    vocabulary = with_own(real_vocabulary(), own)

    by_host = read_query("harbour rain 3+", vocabulary, TODAY).noted[0]
    by_family = read_query("mineral >= 3", vocabulary, TODAY).families[0]

    assert by_host.descriptors == {"harbour-rain", "wet-rope"}
    assert by_family.members["wet-rope"] == by_family.members["harbour-rain"] == "harbour-rain"


def test_a_word_renamed_and_moved_is_found_under_its_old_key() -> None:
    own = OwnDescriptor("own-1", "stone peach", "sweet", datetime(2026, 1, 1, tzinfo=UTC), key="peach")
    vocabulary = with_own(real_vocabulary(), [own])

    assert read_query("stone peach 3", vocabulary, TODAY).noted[0].descriptors == {"peach"}
    assert read_query("peach 3", vocabulary, TODAY).noted[0].descriptors == {"peach"}
    assert "peach" in read_query("sweet >= 3", vocabulary, TODAY).families[0].members
    assert "peach" not in read_query("fruity >= 3", vocabulary, TODAY).families[0].members


def test_what_is_asked_of_a_query_is_told_apart() -> None:
    assert replace(read("longjing"), typed="") != Query()
    assert Query("anything").is_empty
    assert read("peach 3").asks_of_column
    assert read("declined").asks_of_session


def test_a_common_name_stands_for_its_kinds_where_strength_is_asked_for_and_not_where_it_is_absent() -> None:
    (asked,) = read("peach ≥ 3").noted
    (absent,) = read("no peach").noted

    assert {"peach", "white-peach"} <= asked.descriptors
    assert absent.descriptors == {"peach"}
