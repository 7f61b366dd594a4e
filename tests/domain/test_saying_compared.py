"""Cups held against each other, middling values, and words that tell where, which or how long, and no strength.

The sentences are those of a taster who tried the program; the values are our own reading of use.
"""

from __future__ import annotations

import pytest

from tastebook.domain.saying import Understanding, finish_of, understand
from tests.corpus.passages import gaiwan
from tests.words import real_vocabulary

WORDS = real_vocabulary()


def _said(step: str, text: str, **last: float) -> Understanding:
    asked = gaiwan().step(step)
    return understand(
        text, WORDS, scales=asked.scales, clarity=asked.sheet == "liquor", channel=asked.channel, last=last
    )  # fmt: skip


def _readings(step: str, text: str, **last: float) -> dict[str, float | None]:
    return {one.key: one.value for one in _said(step, text, **last).readings}


def _noted(step: str, text: str, **last: float) -> list[tuple[str, int | None, str]]:
    return [(one.key, one.intensity, one.channel) for one in _said(step, text, **last).impressions]


# -- against the last cup, and against another tea


@pytest.mark.parametrize(
    ("text", "body"),
    [
        ("not as thick as the first cup but thicker than Lantern Terrace", 3), ("not as thick as the first cup", 3),
        ("thicker than the first", 5),
        ("thicker than Heron Ridge but not as thick as the first cup", 3),
        ("not as thick as before, but thicker than last year's", 3),
    ],
)  # fmt: skip
def test_less_than_the_last_cup_stays_less_whatever_another_tea_has(text: str, body: float) -> None:
    assert _readings("first_sip", text, body=4) == {"body": body}


def test_thicker_than_another_tea_is_not_one_more_than_the_last_cup() -> None:
    assert _readings("first_sip", "thicker than Lantern Terrace", body=1) == {"body": 4}


def test_louder_than_in_the_first_is_one_more_than_it_was_there() -> None:
    assert _noted("flavour", "the cinnamon is still there, louder than in the first", cinnamon=3) == [
        ("cinnamon", 4, "")
    ]


def test_less_of_it_than_on_the_lid_is_none_of_the_lid() -> None:
    assert _noted("flavour", "much less chestnut than on the lid") == [("chestnut", 1, "")]


# -- how much


@pytest.mark.parametrize("step", ["flavour", "dry_leaf"])
def test_fairly_strong_is_strong(step: str) -> None:
    assert _noted(step, "fairly strong peach") == [("peach", 4, "")]


def test_a_strength_that_it_is_called_belongs_to_what_was_compared() -> None:
    assert _readings("first_sip", "Hmm, more bitter than I said, call it moderate", bitterness=4) == {"bitterness": 3}
    assert _readings("first_sip", "less bitter than before, call it a two", bitterness=5) == {"bitterness": 2}


def test_a_number_that_something_is_called_leaves_the_seconds_of_the_finish_alone() -> None:
    said = _readings("first_sip", "finish 20 seconds, bitterness call it a two")

    assert said == {"finish": 3, "bitterness": 2}


@pytest.mark.parametrize(
    ("text", "body"),
    [
        ("not thin but not thick either, middling", 3), ("not thin but not thick either", 3),
        ("not thick, not thin", 3), ("not thick", 2), ("not thin", 3),
    ],
)  # fmt: skip
def test_neither_thin_nor_thick_is_between(text: str, body: float) -> None:
    assert _readings("first_sip", text) == {"body": body}


def test_mostly_before_a_place_tells_where_and_not_how_much() -> None:
    said = _said("first_sip", "astringency creeps in late, mostly on the gums, nothing unpleasant")

    assert {one.key: one.value for one in said.readings} == {"grip": 3}
    assert said.of_kind("unknown") == ()


# -- how long


@pytest.mark.parametrize(
    ("text", "finish"),
    [("finish of maybe two minutes", 5), ("the finish lasts forty seconds", 4), ("a finish of ten seconds", 2)],
)
def test_how_long_the_finish_lasts_is_told_on_its_scale_where_that_is_asked_for(text: str, finish: float) -> None:
    assert _readings("first_sip", text) == {"finish": finish}


def test_at_the_finish_its_seconds_are_kept() -> None:
    assert _readings("finish", "finish of maybe two minutes") == {"finish_length_s": 120}


@pytest.mark.parametrize(("seconds", "value"), [(0, 1), (4, 1), (5, 2), (15, 3), (30, 4), (89, 4), (90, 5), (900, 5)])
def test_the_longer_a_finish_lasts_the_higher_it_stands(seconds: float, value: float) -> None:
    assert finish_of(seconds) == value


# -- what is looked at


def test_a_cup_that_is_looked_at_is_likened_and_not_tasted() -> None:
    said = _said("liquor", "Liquor went cloudy, dark, like weak coffee")

    assert said.impressions == ()
    assert [one.key for one in said.of_kind("clarity")] == ["turbid"]
    assert _noted("liquor", "it smells like coffee") == [("coffee", 3, "liquor nose")]


def test_one_colour_going_to_another_is_one_between_them() -> None:
    (colour,) = _said("liquor", "amber going to red-brown").of_kind("colour")
    (red_brown,) = _said("liquor", "red-brown").of_kind("colour")

    assert colour.said == "amber going to red-brown"
    assert colour.lab is not None
    assert red_brown.lab is not None
    assert colour.lab[0] > red_brown.lab[0]


# -- what is set right, and what names nothing


def test_make_that_puts_another_in_its_place() -> None:
    assert [key for key, _, _ in _noted("flavour", "earlier I wrote spinach; make that sorrel")] == ["sorrel"]


@pytest.mark.parametrize(
    "text",
    [
        "pea shoots, not the frozen kind", "something watery and green anyway", "this is lean and green",
        "half a sentence that was never fini",
    ],
)  # fmt: skip
def test_which_kind_talk_and_known_words_are_no_new_names(text: str) -> None:
    assert _said("flavour", text).of_kind("unknown") == ()
