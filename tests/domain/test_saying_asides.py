# ruff: noqa: E501  sentences stand as they are said
"""Talk that is not this cup, and words that only explain a word: they come to nothing. How it is meant: common use of English."""

from __future__ import annotations

import pytest

from tastebook.domain.saying import understand
from tests.words import real_vocabulary

WORDS = real_vocabulary()


def _strengths(text: str, **more: object) -> dict[str, int | None]:
    return {one.key: one.intensity for one in understand(text, WORDS, **more).impressions}  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("said", "note"),
    [
        ("honey like the milk you steam for a coffee", {"honey": 3, "warm-milk": 3}),
        ("rose pressed between the pages of an old book", {"rose": 3}),
        ("caramel, like the toffee you crack with a spoon", {"caramel": 3, "toffee": 3}),
        ("apricot jam my grandma made with cinnamon", {"apricot": 3, "jam": 3}),
        ("bread straight out of the oven", {"fresh-bread": 3}),
        ("croissant just out of the oven and then vanilla", {"croissant": 3, "vanilla": 3}),
        ("tobacco kept in an old cigar box", {"tobacco": 3}),
        ("biscuits dipped in coffee", {"biscuit": 3}),
        ("caramel, the kind with salt in it", {"caramel": 3}),
        ("toast, the kind you burn a little under the grill with butter", {"toast": 3}),
    ],
)
def test_what_only_explains_a_note_is_none(said: str, note: dict[str, int]) -> None:
    assert _strengths(said).items() <= note.items()
    assert _strengths(said)


@pytest.mark.parametrize(
    "said",
    [
        "Slightly soapy but that's the washing-up liquid. Orchid.",
        "A bit woody, though it's probably just the table. Orchid.",
        "Garlic, but that's from my hands. Orchid.",
        "Orchid. Some varnish, it's only the shelf.",
        "Had the soup at noon, too much garlic. Orchid.",
        "I had curry last night so maybe I'm off, but I get orchid.",
        "Sorry about the garlic, I cooked. Orchid.",
        "Orchid. They're frying onions again.",
        "The sample we had on Tuesday was all smoke and tar. This one is orchid.",
        "The sample from Tuesday had smoke. Orchid.",
        "The one they sent had jasmine, here it's just orchid.",
        "Less roasty than the sample from Tuesday. Orchid.",
        "It is not so sweet as the first one. Orchid.",
    ],
)
def test_lunch_other_teas_and_causes_put_aside_are_no_notes(said: str) -> None:
    assert set(_strengths(said)) == {"orchid"}


def test_what_might_be_the_spoon_is_left_open_and_kept() -> None:
    (tinny,) = understand("ever so slightly tinny, might be the spoon", WORDS).impressions
    assert (tinny.key, tinny.doubtful) == ("tinny", True)


@pytest.mark.parametrize(
    "said", ["violet, no, lilac", "violet – no, lilac", "violet, no it's lilac", "violet, or actually lilac"]
)
def test_a_word_taken_back_gives_way_to_the_next(said: str) -> None:
    assert _strengths(said) == {"lilac": 3}


def test_no_behind_each_of_a_list_still_denies_it() -> None:
    assert _strengths("smoke, no, ash, no, orchid, no") == {"smoke": 0, "ash": 0, "orchid": 0}


@pytest.mark.parametrize(
    "said",
    [
        "of the smoke with which it began, not a whisper",
        "of smoke no sign",
        "as for the smoke, none",
        "smoky it is not",
        "smoky it isn't",
        "it lacks any smoke",
        "not a whiff of smoke",
    ],
)
def test_a_denial_said_the_other_way_round_is_one(said: str) -> None:
    assert _strengths(said) == {"smoke": 0}


@pytest.mark.parametrize(
    ("said", "key"),
    [
        ("narcisse", "narcissus"),
        ("miel", "honey"),
        ("Haselnuss", "hazelnut"),
        ("fragola", "strawberry"),
        ("cannelle", "cinnamon"),
        ("coco powder", "cocoa"),
        ("camfer", "camphor"),
        ("a note of time", "thyme"),
        ("Granny Smith apple", "green-apple"),
        ("raw sugar", "cane-sugar"),
        ("dark sugar syrup", "molasses"),
        ("milk", "warm-milk"),
        ("off flavors", "foreign-taint"),
        ("swamp", "stagnant-water"),
    ],
)
def test_names_from_other_tongues_and_plain_names_find_their_note(said: str, key: str) -> None:
    assert set(_strengths(f"{said}, orchid")) == {key, "orchid"}


# -- names, answers and likenesses -------------------------------------------------------------------------------------


def test_a_general_name_that_is_asked_for_gives_way_to_its_answer() -> None:
    assert _strengths("Wood? Old wood.") == {"old-furniture": 3}
    assert _strengths("Is it pear? Yeah. Pear, ripe pear.") == {"pear": 3}


def test_a_general_name_beside_an_exact_one_is_kept() -> None:
    assert set(_strengths("here we have wood, cedar mainly")) == {"woody", "cedar"}


@pytest.mark.parametrize(
    ("said", "key"),
    [
        ("the crust of a crème brûlée", "creme-brulee"),
        ("like rice pudding with cinnamon", "sticky-rice"),
        ("the petal of a rose", "rose"),
    ],
)
def test_a_part_or_an_ingredient_of_a_thing_is_no_second_note(said: str, key: str) -> None:
    assert set(_strengths(said)) == {key}


@pytest.mark.parametrize(
    "said",
    [
        "smells of my grandmother's kitchen",
        "a walk through a pine forest",
        "the smell of rain on hot tarmac",
        "as if someone had peeled an orange",
        "the inside of an old wardrobe",
        "like eating honey from the spoon",
        "makes me think of a bonfire on the beach",
        "takes me back to an orchard in autumn",
        "summer in a meadow",
    ],
)
def test_a_scene_is_a_likeness_and_no_note(said: str) -> None:
    understood = understand(f"Orchid. {said}.", WORDS)
    assert set(_strengths(f"Orchid. {said}.")) == {"orchid"}
    assert len(understood.of_kind("resembles")) == 1


def _channels(text: str) -> dict[str, str]:
    return {one.key: one.channel for one in understand(text, WORDS).impressions}


def test_a_place_before_then_closes_what_stands_before_it() -> None:
    said = "Camphor, medium, in the nose when I breathe out, then stewed plums."
    assert _channels(said) == {"camphor": "retronasal", "plum": ""}


MOUTH = ("body", "surface", "grip", "bitterness", "huigan", "mouth_watering", "throat", "finish", "finish_length_s")


def _readings(text: str, *scales: str, channel: str = "palate") -> dict[str, float | None]:
    found = understand(text, WORDS, scales=scales or MOUTH, channel=channel).readings
    return {one.key: one.value for one in found}


@pytest.mark.parametrize(
    ("said", "key", "value"),
    [
        ("it does not grip", "grip", 0),
        ("it doesn't grip at all", "grip", 0),
        ("astringency is pretty mellow", "grip", 2),
        ("very slide", "surface", 5),
        ("thick as gravy", "body", 5),
        ("thick like soup", "body", 5),
        ("sweet come back from root of tongue", "huigan", 4),
        ("a sweetness that keeps climbing up from the throat", "huigan", 4),
        ("turns to sweet", "huigan", 3),
        ("throat is open", "throat", 4),
        ("stays long", "finish", 4),
        ("doesn't last", "finish", 2),
        ("swallowed a good minute ago and still there", "finish_length_s", 60),
        ("mouth fills with water", "mouth_watering", 3),
        ("dry at the sides", "grip", 3),
    ],
)
def test_everyday_words_for_the_mouth_are_readings(said: str, key: str, value: float) -> None:
    assert _readings(said)[key] == value


def test_how_somebody_feels_is_no_reading_of_the_mouth() -> None:
    feels = ("warmth", "calm", "alertness")
    assert _readings("body wise I'm pretty calm", *feels, channel="body") == {"calm": 4}


@pytest.mark.parametrize(
    "said",
    [
        "I wish there was a bit of lemon. Orchid.",
        "People always talk about jasmine, but I get orchid.",
        "Good with milk. Orchid.",
        "The porcelain smells of soap. Orchid.",
        "It came in a paper bag. Orchid.",
        "They dried it over pine wood. Orchid.",
        "Cherry on top. Orchid.",
    ],
)
def test_wishes_hearsay_vessels_and_figures_of_speech_are_no_notes(said: str) -> None:
    assert set(_strengths(said)) == {"orchid"}


def test_what_was_looked_for_and_never_came_is_absent() -> None:
    assert _strengths("the tobacco I feared never came") == {"tobacco": 0}
    assert _strengths("the opposite of smoky") == {"smoke": 0}


def test_a_breath_of_a_second_colour_only_tinges_the_liquor() -> None:
    understood = understand("pale straw with a hint of green", WORDS, clarity=True, channel="liquor")
    assert [one.key for one in understood.of_kind("colour")] == ["pale straw"]


def test_a_score_out_of_ten_counts_on_its_side() -> None:
    assert _readings("a seven out of ten on the sweet side") == {"sweetness": 4}


def test_a_smell_told_to_be_sweet_is_no_taste() -> None:
    said = understand("some jaggery type sweetness", WORDS, channel="warmed leaf")
    assert said.readings == ()
    assert [one.key for one in said.impressions] == ["palm-sugar"]


def test_nose_heads_what_follows_without_a_stop() -> None:
    said = understand("crystal clear nose is elderflower and honey", WORDS, clarity=True, channel="liquor").impressions
    assert {one.key: one.channel for one in said} == {"elderflower": "liquor nose", "honey": "liquor nose"}


@pytest.mark.parametrize(
    ("said", "strengths"),
    [
        ("They would say jasmine, I get orchid.", {"orchid": 3}),
        ("Last year's was all rose but it's honey now.", {"honey": 3}),
        ("Lilac, and what I completely miss is the rose.", {"lilac": 3, "rose": 0}),
    ],
)
def test_what_others_would_say_and_what_is_missed_is_not_there(said: str, strengths: dict[str, int]) -> None:
    assert _strengths(said) == strengths


def test_almost_doubled_is_double() -> None:
    assert _strengths("rose has almost doubled", last={"rose": 2}) == {"rose": 4}


def test_a_colour_that_others_would_write_is_not_that_of_the_cup() -> None:
    understood = understand("people will write red but it's a deep amber", WORDS, channel="liquor")

    assert [one.key for one in understood.of_kind("colour")] == ["deep amber"]
