# ruff: noqa: E501  sentences stand as they are said
"""Sentences, not lists: strength, absence, doubt and change, as people say them. How they are meant: common use of English."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.saying import Part, understand
from tests.words import real_vocabulary

WORDS = real_vocabulary()
RULES = WORDS.grammar
LAST = {"orchid": 4, "peach": 2, "roasted": 3}


def _say(text: str, **more: object) -> tuple[Part, ...]:
    return understand(text, WORDS, **more).impressions  # type: ignore[arg-type]


def _strengths(text: str, **more: object) -> dict[str, int | None]:
    return {one.key: one.intensity for one in _say(text, **more)}


# -- strength ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "strength"),
    [
        ("a breath of orchid", 1),
        ("the merest whisper of orchid", 1),
        ("barely any orchid", 1),
        ("the orchid is hardly there", 1),
        ("a very faint hint of orchid", 1),
        ("a tiny touch of orchid", 1),
        ("a touch of orchid", 2),
        ("orchid in the background", 2),
        ("not too much orchid", 2),
        ("the orchid isn't overpowering", 2),
        ("quite floral orchid", 3),
        ("there is some orchid", 3),
        ("orchid, pronounced", 4),
        ("orchid, and a lot of it", 4),
        ("unmistakable orchid", 4),
        ("a great big hit of orchid", 4),
        ("definitely orchid", 4),
        ("orchid all over the palate", 5),
        ("the orchid dominates everything", 5),
        ("incredibly strong orchid", 5),
        ("nothing but orchid", 5),
        ("orchid, call it a two", 2),
        ("I'd give the orchid a four", 4),
        ("orchid four out of five", 4),
        ("three for orchid", 3),
    ],
)
def test_strength_is_said_before_or_behind(said: str, strength: int) -> None:
    assert _strengths(said)["orchid"] == strength


def test_a_strength_before_a_list_holds_for_all_of_it() -> None:
    assert _strengths("hints of peach, apricot and honey") == {"peach": 1, "apricot": 1, "honey": 1}
    assert _strengths("a hint of peach, then strong honey") == {"peach": 1, "honey": 4}


def test_what_is_said_of_one_thing_is_not_said_of_the_next() -> None:
    assert _strengths("the peach is faint and the orchid is strong") == {"peach": 1, "orchid": 4}
    assert _strengths("faint peach. Orchid.") == {"peach": 1, "orchid": 3}


def test_a_strength_alone_goes_back_to_what_was_named_last() -> None:
    assert _strengths("Orchid. Faint.") == {"orchid": 1}
    assert _strengths("Orchid. It's unmistakable.") == {"orchid": 4}


def test_of_two_things_held_against_each_other_one_is_stronger() -> None:
    assert _strengths("more peach than apricot") == {"peach": 4, "apricot": 2}
    assert _strengths("less peach than apricot") == {"peach": 2, "apricot": 4}


def test_what_is_said_again_is_one_stronger_and_still_one() -> None:
    assert _strengths("peach, and again peach") == {"peach": 4}
    assert _strengths("peach peach peach") == {"peach": 5}
    assert _strengths("a lot of peach. The peach reminds me of summer.") == {"peach": 4}
    assert [one.said_before for one in understand("peach, peach", WORDS).parts] == [False, True]


# -- absence -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "said",
    [
        "not much smoke",
        "not a hint of smoke",
        "nothing smoky",
        "I don't get any smoke",
        "I can't find the smoke",
        "I'm not getting smoke",
        "there isn't any smoke",
        "it isn't remotely smoky",
        "I wouldn't call it smoky",
        "the smoke has gone",
        "the smoke has completely disappeared",
        "the smoke I noticed on the dry leaf is no longer there",
        "Smoke? None.",
        "Smoke? Not really.",
        "smoke: no",
        "it has lost its smoke",
        "free of smoke",
        "a total absence of smoke",
        "I expected smoke but there isn't any",
        "the smoke I cannot taste",
        "not like smoke",
    ],
)
def test_absence_is_said_before_or_behind(said: str) -> None:
    assert _strengths(said) == {"smoke": 0}


@pytest.mark.parametrize(
    ("said", "strengths"),
    [
        ("no smoke or ash", {"smoke": 0, "ash": 0}),
        ("no smoke, ash or char", {"smoke": 0, "ash": 0, "char": 0}),
        ("without smoke and ash", {"smoke": 0, "ash": 0}),
        ("no smoke but honey", {"smoke": 0, "honey": 3}),
        ("no smoke, honey", {"smoke": 0, "honey": 3}),
        ("no smoke just honey", {"smoke": 0, "honey": 3}),
        ("I don't get smoke I get honey", {"smoke": 0, "honey": 3}),
        ("not only smoke but honey", {"smoke": 3, "honey": 3}),
        ("rose rather than lily", {"rose": 3, "lily": 0}),
        ("the cream and the vanilla are gone", {"fresh-cream": 0, "vanilla": 0}),
    ],
)
def test_a_denial_reaches_as_far_as_it_is_meant(said: str, strengths: dict[str, int]) -> None:
    assert _strengths(said) == strengths


@pytest.mark.parametrize(
    "said",
    ["I don't mind the smoke", "no doubt about the smoke", "I can't get enough of the smoke", "no shortage of smoke"],
)
def test_what_sounds_like_a_denial_and_is_none_leaves_the_thing_there(said: str) -> None:
    assert (_strengths(said)["smoke"] or 0) >= 3


def test_less_is_not_none() -> None:
    assert _strengths("not as strong as before, the orchid")["orchid"] != 0
    assert _strengths("the orchid is not as strong as before", last=LAST) == {"orchid": 3}
    assert _strengths("the orchid is almost gone") == {"orchid": 1}


# -- doubt -------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "said",
    [
        "maybe orchid",
        "a kind of orchid",
        "orchid perhaps",
        "Orchid?",
        "is it orchid",
        "something like orchid",
        "orchid, but I wouldn't swear to it",
        "I think there's orchid",
        "it might be orchid",
        "不知道，可能兰花香",
    ],
)
def test_doubt_is_kept(said: str) -> None:
    assert [one.doubtful for one in _say(said)] == [True]


def test_doubt_is_about_one_thing_or_both_of_two() -> None:
    def doubted(text: str) -> list[str]:
        return [one.key for one in _say(text) if one.doubtful]

    assert doubted("orchid and maybe rose") == ["rose"]
    assert doubted("maybe orchid, certainly rose") == ["orchid"]
    assert doubted("orchid or rose") == ["orchid", "rose"]
    assert doubted("somewhere between orchid and rose") == ["orchid", "rose"]


def test_a_question_that_is_answered_is_no_doubt() -> None:
    assert [(one.key, one.doubtful) for one in _say("Orchid? Yes, orchid.")] == [("orchid", False)]
    assert [(one.key, one.doubtful) for one in _say("That's orchid, isn't it?")] == [("orchid", False)]


# -- change ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "strength", "change"),
    [
        ("the orchid has faded", 3, "fades"),
        ("the orchid has faded a lot", 2, "much less"),
        ("less orchid", 3, "fades"),
        ("the orchid holds", 4, "holds"),
        ("still some orchid", 4, "holds"),
        ("more orchid", 5, "grows"),
        ("the orchid is half what it was", 2, "halves"),
        ("the orchid is twice what it was", 5, "doubles"),
        ("the orchid returns", 4, "returns"),
    ],
)
def test_change_is_relative_to_the_last_infusion(said: str, strength: int, change: str) -> None:
    (one,) = _say(said, last=LAST)

    assert (one.intensity, one.change) == (strength, change)


@pytest.mark.parametrize(
    ("said", "strength"),
    [("the rose has faded", 2), ("the rose holds", 3), ("more rose", 4), ("the rose returns", 3)],
)
def test_change_without_a_last_infusion_still_says_something(said: str, strength: int) -> None:
    assert _strengths(said, last=LAST) == {"rose": strength}


def test_a_strength_said_beside_a_change_counts() -> None:
    assert _strengths("the roast is down to a two", last=LAST) == {"roasted": 2}
    assert _strengths("the orchid has faded to almost nothing", last=LAST) == {"orchid": 1}


def test_against_another_tea_nothing_is_relative_to_the_last_infusion() -> None:
    (one,) = _say("more orchid than last year's", last={"orchid": 5})

    assert one.intensity == 4
    assert _say("less orchid than last year's", last={"orchid": 5}) == ()


@given(st.sampled_from(sorted(RULES.changes)), st.floats(0, 5))
def test_a_change_never_leaves_the_scale(change: str, last: float) -> None:
    assert RULES.changes[change].applied(last) in range(1, 6)


# -- each part says why ------------------------------------------------------------------------------------------------


def test_every_word_that_had_a_say_is_told() -> None:
    text = "maybe a faint hint of orchid on the out-breath"

    (one,) = _say(text)

    assert [(text[why.start : why.end], why.does) for why in one.because] == [
        ("maybe", "doubtful"),
        ("hint of", "strength 1"),
        ("orchid", "descriptor"),
        ("on the out-breath", "perceived: retronasal"),
    ]
