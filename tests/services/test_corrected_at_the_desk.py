"""What the taster set right is kept in the act of saying it, with the family of a new word; numbers find a field."""

from __future__ import annotations

import pytest

from tastebook.domain.correcting import Correction, PartKey
from tastebook.domain.course import Step
from tastebook.domain.errors import QuantityError
from tests.bench_kit import Kit, bench_kit

ORCHID = PartKey("descriptor", "orchid")
CLOUDBERRY = PartKey("unknown", "cloudberry")


def step(kit: Kit, key: str) -> Step:
    return kit.desk.tasting.session.course.step(key)


def poured() -> Kit:
    kit = bench_kit()
    for index in (0, 1):
        kit.desk.pour_water_on(index)
        kit.clock.advance(20)
        kit.desk.pour()
    return kit


def told(kit: Kit) -> dict[str, int]:
    return {one.descriptor: one.intensity for one in kit.desk.tasting.impressions}


def test_words_and_corrections_are_one_act_that_is_taken_back_at_once() -> None:
    kit = poured()
    acts = len(kit.journal.acts(kit.desk.scope))
    corrections = {ORCHID: Correction(5), PartKey("descriptor", "rose"): Correction(dropped=True)}

    kit.desk.say(step(kit, "flavour"), 1, "a faint orchid, rose, honey", corrections)

    assert told(kit) == {"orchid": 5, "honey": 3}
    assert len(kit.journal.acts(kit.desk.scope)) == acts + 1
    assert [one.text for one in kit.desk.tasting.sayings] == ["a faint orchid, rose, honey"]
    kit.desk.undo()
    assert (told(kit), kit.desk.tasting.sayings) == ({}, ())


def test_a_correction_overrides_what_was_noted_before() -> None:
    kit = poured()
    kit.desk.say(step(kit, "flavour"), 1, "orchid 4")

    kit.desk.say(step(kit, "flavour"), 1, "orchid", {ORCHID: Correction(1)})

    assert told(kit) == {"orchid": 1}


def test_a_reading_set_right_is_kept_at_the_step_that_asks() -> None:
    kit = poured()

    kit.desk.say(step(kit, "flavour"), 1, "silky", {PartKey("reading", "surface"): Correction(3)})

    assert [(one.step, one.scale, one.value) for one in kit.desk.tasting.readings] == [("first_sip", "surface", 3)]


@pytest.mark.parametrize(("correction", "family"), [(Correction(), "fruity"), (Correction(family="floral"), "floral")])
def test_a_new_word_gets_its_family_in_the_same_act(correction: Correction, family: str) -> None:
    kit = poured()
    acts = len(kit.journal.acts(kit.desk.scope))

    kit.desk.say(step(kit, "flavour"), 1, "cloudberry 2", {CLOUDBERRY: correction})

    assert kit.words().family_of("cloudberry") == family
    assert told(kit) == {"cloudberry": 2}
    assert len(kit.journal.acts(kit.desk.scope)) == acts + 1
    kit.desk.undo()
    assert not kit.words().has("cloudberry")


def test_a_new_word_of_which_nothing_tells_the_family_stays_without_one() -> None:
    kit = poured()

    kit.desk.say(step(kit, "flavour"), 1, "xyzzy")

    assert told(kit) == {"xyzzy": 3}
    assert kit.journal.own_descriptors() == ()


def test_a_new_word_is_kept_at_the_finish_too_and_nowhere_that_asks_for_no_words() -> None:
    kit = poured()

    kit.desk.say(step(kit, "finish"), None, "cloudberry")
    kit.desk.say(step(kit, "first_sip"), 1, "lingonberry")

    assert told(kit) == {"cloudberry": 3}


@pytest.mark.parametrize(
    ("at", "words", "kept"),
    [
        ("flavour", "orchid", "flavour"), ("flavour", "silky", "first_sip"), ("first_sip", "silky", "first_sip"),
        ("lid", "silky", ""), ("flavour", "the liquor is amber", "cup"), ("liquor", "hazy", "cup"),
        ("infused_leaf", "olive green leaves with a red edge", ""), ("flavour", "cloudberry", "flavour"),
        ("first_sip", "cloudberry", ""),
    ],
)  # fmt: skip
def test_the_desk_says_beforehand_where_a_part_would_be_kept(at: str, words: str, kept: str) -> None:
    kit = poured()
    here = step(kit, at)
    infusion = 1 if here.stage == "infusion" else 0 if here.stage == "rinse" else None

    parts = kit.desk.understand(here, words, infusion).parts

    assert {kit.desk.kept_at(here, infusion, part) for part in parts} == {kept}


def test_a_cup_that_has_its_colour_keeps_it_whatever_is_said_elsewhere() -> None:
    kit = poured()
    kit.desk.say(step(kit, "liquor"), 1, "amber")

    (part,) = kit.desk.understand(step(kit, "flavour"), "the liquor is dark red", 1).of_kind("colour")

    assert kit.desk.kept_at(step(kit, "flavour"), 1, part) == ""


def test_one_note_in_two_channels_is_amended_in_the_one_named() -> None:
    kit = poured()
    flavour = step(kit, "flavour")
    kit.desk.say(flavour, 1, "strong peach, and on the nose a hint of peach")

    kit.desk.note(flavour, 1, "peach", 3, "liquor nose")

    assert {one.channel: one.intensity for one in kit.desk.tasting.impressions} == {"palate": 4, "liquor nose": 3}


@pytest.mark.parametrize(("key", "value"), [("leaf_g", 6.0), ("volume_ml", 120.0), ("altitude_m", 1200.0)])
def test_a_number_that_frames_the_session_is_set_and_taken_back(key: str, value: float) -> None:
    kit = bench_kit()
    before = getattr(kit.desk.tasting.session, key)

    kit.desk.set_frame(key, value)
    after = getattr(kit.desk.tasting.session, key)
    kit.desk.undo()

    assert after == value
    assert getattr(kit.desk.tasting.session, key) == before


def test_leaf_that_was_weighed_is_no_longer_by_eye() -> None:
    kit = bench_kit()

    kit.desk.set_frame("leaf_g", 6.0)

    assert not kit.desk.tasting.session.leaf_by_eye


def test_a_number_that_cannot_be_meant_is_refused_in_words() -> None:
    kit = bench_kit()

    with pytest.raises(QuantityError, match="leaf cannot be 900 g"):
        kit.desk.set_frame("leaf_g", 900)

    assert kit.desk.tasting.session.leaf_g == 6.5


def test_a_new_word_that_is_dropped_is_told_to_be_talk_until_a_strength_is_said_with_it() -> None:
    kit = poured()
    flavour = step(kit, "flavour")

    kit.desk.say(flavour, 1, "cloudberry", {CLOUDBERRY: Correction(dropped=True)})
    is_talk = kit.words().is_talk("cloudberry")
    kit.desk.undo()
    after_undo = kit.words().is_talk("cloudberry")
    kit.desk.redo()
    kit.desk.say(flavour, 1, "cloudberry 4")

    assert (is_talk, after_undo, kit.words().is_talk("cloudberry")) == (True, False, False)
    assert [one.text for one in kit.desk.tasting.sayings] == ["cloudberry", "cloudberry 4"]
    assert kit.words().family_of("cloudberry") == "fruity"
    assert told(kit) == {"cloudberry": 4}


def test_new_words_that_sound_like_talk_stay_words_until_a_family_is_given() -> None:
    kit = poured()
    flavour, rang = step(kit, "flavour"), PartKey("unknown", "tram-the-quay")

    kit.desk.say(flavour, 1, "tram the quay")
    before = told(kit)
    kit.desk.say(flavour, 1, "tram the quay", {rang: Correction(family="mineral")})

    assert before == {}
    assert told(kit) == {"tram-the-quay": 3}


def test_a_new_word_loses_the_capital_that_dictation_begins_with_and_the_exact_words_keep_it() -> None:
    kit = poured()

    kit.desk.say(step(kit, "flavour"), 1, "Cloudberry. Rose.")

    assert [one.name for one in kit.journal.own_descriptors()] == ["cloudberry"]
    assert [one.text for one in kit.desk.tasting.sayings] == ["Cloudberry. Rose."]
