"""What the taster sets right in what was understood, before it is kept."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.correcting import NOTHING_CORRECTED, Correction, PartKey, corrected, part_key
from tastebook.domain.saying import Understanding, understand
from tests.words import real_vocabulary

TEXT = "maybe a faint orchid, no smoke, silky, strong honey on the out-breath, hazy, cloudberry, 88 degrees"
ORCHID, BREATH = PartKey("descriptor", "orchid"), PartKey("descriptor", "orchid", "retronasal")
SILKY = PartKey("reading", "surface")


def read(text: str = TEXT) -> Understanding:
    return understand(text, real_vocabulary(), scales=("surface",), clarity=True)


def strengths(understood: Understanding) -> dict[str, int | None]:
    return {part.key: part.intensity for part in understood.impressions}


def test_without_corrections_all_stays_as_it_was_understood() -> None:
    assert corrected(read(), NOTHING_CORRECTED) == read()


def test_a_strength_set_by_hand_counts_as_said() -> None:
    understood = corrected(read(), {ORCHID: Correction(4)})

    (orchid,) = (part for part in understood.parts if part.key == "orchid")
    assert (orchid.intensity, orchid.has_strength, orchid.doubtful) == (4, True, True)


def test_zero_makes_it_absent() -> None:
    assert strengths(corrected(read(), {ORCHID: Correction(0)}))["orchid"] == 0


def test_a_reading_takes_the_value_set_by_hand() -> None:
    (reading,) = corrected(read(), {SILKY: Correction(2)}).readings

    assert (reading.key, reading.value) == ("surface", 2.0)


def test_what_is_dropped_is_words_and_keeps_its_place() -> None:
    before, after = read(), corrected(read(), {ORCHID: Correction(dropped=True)})

    assert "orchid" not in strengths(after)
    assert [(part.start, part.end) for part in after.parts] == [(part.start, part.end) for part in before.parts]
    assert after.text == before.text


def test_a_channel_is_a_thing_of_its_own() -> None:
    understood = corrected(read("orchid 2, and on the out-breath orchid 3"), {BREATH: Correction(5)})

    assert {part.channel: part.intensity for part in understood.impressions} == {"": 2, "retronasal": 5}


def test_every_mention_of_a_thing_is_set_right() -> None:
    understood = corrected(read("orchid, rose, orchid again"), {ORCHID: Correction(2)})

    assert {part.intensity for part in understood.parts if part.key == "orchid"} == {2}


def test_a_new_word_takes_the_family_given() -> None:
    key = PartKey("unknown", "cloudberry")

    understood = corrected(read(), {key: Correction(2, family="floral")})

    (name,) = understood.of_kind("unknown")
    assert (name.guess, name.family, name.intensity) == ("fruity", "floral", 2)


@pytest.mark.parametrize("key", [PartKey("clarity", "dim"), PartKey("quantity", "water_c")])
def test_what_has_no_strength_can_be_dropped_and_nothing_else(key: PartKey) -> None:
    assert corrected(read(), {key: Correction(3)}) == read()
    assert key not in map(part_key, corrected(read(), {key: Correction(dropped=True)}).parts)


@given(st.text(max_size=60), st.integers(0, 5) | st.none(), st.booleans())
def test_no_correction_loses_a_word(text: str, value: int | None, dropped: bool) -> None:
    before = read(text)

    after = corrected(before, {part_key(part): Correction(value, dropped=dropped) for part in before.parts})

    assert [(part.start, part.end, part.said) for part in after.parts] == [
        (part.start, part.end, part.said) for part in before.parts
    ]
