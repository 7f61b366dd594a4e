"""What people do, own and compare is not in the cup; what they take back is gone."""

from __future__ import annotations

import pytest

from tastebook.domain.saying import Understanding, understand
from tests.words import real_vocabulary

WORDS = real_vocabulary()


def _said(text: str, channel: str = "palate") -> Understanding:
    return understand(text, WORDS, channel=channel)


def _notes(text: str, channel: str = "palate") -> dict[str, int | None]:
    return {one.key: one.intensity for one in _said(text, channel).impressions}


@pytest.mark.parametrize(
    "said",
    [
        "plum, and then my cousin keeps goats and sells cheese",
        "plum. I scalded my lip on the garlic broth at noon",
        "plum. She stirred lemon into hers, with honey",
        "plum. They fry onions with garlic downstairs at this hour",
        "plum. Greta never drinks anything but cocoa",
        "plum. You owe me a pineapple",
        "plum. There was a chap who grows jasmine",
        "plum. Mum says mango",
        "plum. Then put rose on your own sheet",
        "plum. Our usual blend is smoky and full of leather",
        "plum. A friend of mine would stir cinnamon into it",
        "plum. Mrs Quill wants her cough drops",
        "plum. I'm a moss man myself",
        "plum. She’d bite you for a mint",
        "plum. He wants his syrup with cherry",
    ],
)
def test_what_somebody_does_or_owns_is_no_note(said: str) -> None:
    assert _notes(said) == {"plum": 3}


@pytest.mark.parametrize(
    "said",
    [
        "plum. The crate beside it was all smoke and tar",
        "plum. The bowl of yesterday was mushroom through and through",
        "plum. Last winter's lot had cedar and camphor",
        "plum. In the one before there was jasmine",
        "plum. Cup five was strawberry",
        "plum. The cake that we bought in May was hay and apricot",
        "plum. The neighbouring batch reeked of wet dog",
        "plum. Our ordinary tea is malty",
    ],
)
def test_another_tea_told_by_what_stands_around_it_leaves_no_note(said: str) -> None:
    assert _notes(said) == {"plum": 3}


@pytest.mark.parametrize(
    "said",
    [
        "I marked plum, honey",
        "I keep coming back to plum, honey",
        "My first thought is plum, honey",
        "My cheeks pucker, plum, honey",
        "I lift the lid and plum comes, honey",
        "In the third cup plum, honey",
        "From the tin with the dent, plum, honey",
        "Plum, honey unchanged at three",
        "Plum gone into it, and honey",
        "Plum, like being at school, and honey",
        "I put the nose in and it is plum, honey",
        "On the left side of the tongue plum, honey",
        "I weighed 6 grams, plum, honey",
    ],
)
def test_what_is_done_with_the_cup_in_hand_hides_nothing(said: str) -> None:
    assert _notes(said).keys() == {"plum", "honey"}


@pytest.mark.parametrize(
    "said",
    [
        "orange… let me try that again… sorry, I take it back, kumquat",
        "Um, orange, or, no, wait, scratch that. Kumquat.",
        "An orange, no, I took the wrong word, kumquat",
        "Orange. No, more exactly, it's kumquat.",
        "Orange there. Forget the orange, I'm taking that back, it's kumquat",
        "orange — sorry, kumquat, I mean, it is clear",
    ],
)
def test_what_is_taken_back_later_on_is_gone_too(said: str) -> None:
    assert _notes(said).keys() == {"kumquat"}


@pytest.mark.parametrize(
    ("said", "key"),
    [
        ("There is rubber, I am sorry, and strong.", "rubber"),
        ("Honey. No, really, it's honey.", "honey"),
        ("Honey. No smoke.", "honey"),
        ("Honey, and I'm sorry to say little else.", "honey"),
    ],
)
def test_regret_and_denials_take_nothing_back(said: str, key: str) -> None:
    assert _notes(said)[key]


@pytest.mark.parametrize(
    "said",
    [
        "Smoke don't have.",
        "Smoke there is not.",
        "Smoke smell I am not getting.",
        "Of smoke nothing, thank heavens.",
        "I search the smoke and I do not find it.",
        "Nae smoke the day.",
        "Smoke they promised me, but there is no smoke here.",
        "I had half expected smoke; there's none of that in the leaf.",
    ],
)
def test_a_denial_in_another_order_of_words_is_one(said: str) -> None:
    assert _notes(said) == {"smoke": 0}


@pytest.mark.parametrize("said", ["thyme, the herb", "sweet pea, and I do mean the flower"])
def test_of_what_kind_a_thing_is_adds_no_note(said: str) -> None:
    assert len(_notes(said)) == 1


def test_a_name_with_a_strength_stays_a_name_whosever_it_is() -> None:
    (part,) = _said("my grandmother's parlour 2").parts

    assert (part.kind, part.intensity) == ("unknown", 2)


@pytest.mark.parametrize(
    ("said", "strengths"),
    [
        ("the roast has dropped back, there's only a trace of it", {"roasted": 1}),
        ("gardenia was faint in the last round, now it is strong", {"gardenia": 4}),
        ("cocoa, a hint, no more", {"cocoa": 1}),
        ("plum, not the jam kind", {"plum": 3}),
        ("there is no violet. One learns to live without, with violets", {"violet": 0}),
        ("salt? nah, that's just me, scratch it. tar", {"tar": 3}),
        ("a well roasted plum", {"plum": 3}),
        ("a peanut shell thing", {"peanut-shell": 3}),
    ],
)
def test_small_words_around_a_note_have_their_say(said: str, strengths: dict[str, int]) -> None:
    assert {key: found for key, found in _notes(said).items() if key in strengths} == strengths


@pytest.mark.parametrize(
    ("said", "like"),
    [
        ("musty, a wardrobe in a seaside hotel", "wardrobe in a seaside hotel"),
        ("It's a bonfire on the beach", "bonfire on the beach"),
        ("like peach melba", "peach melba"),
        ("it puts me in mind of Aunt Edda's fruit cake", "Aunt Edda's fruit cake"),
    ],
)
def test_places_dishes_and_somebodys_cake_are_likenesses(said: str, like: str) -> None:
    (found,) = _said(said).of_kind("resembles")

    assert like in found.said or found.said in like


def test_what_is_named_while_the_cup_is_looked_at_was_smelt() -> None:
    (toffee,) = _said("pale straw, toffee", "liquor").impressions

    assert toffee.channel == "liquor nose"
