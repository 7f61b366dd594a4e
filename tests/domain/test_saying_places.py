# ruff: noqa: E501  sentences stand as they are said
"""Where it was perceived, what is not this cup, colours, quantities, new names."""

from __future__ import annotations

import pytest

from tastebook.domain.colour import delta_e00
from tastebook.domain.liquor import swatch_called
from tastebook.domain.saying import Part, Understanding, understand
from tests.words import real_vocabulary

WORDS = real_vocabulary()


def _understood(text: str, channel: str = "palate", **more: object) -> Understanding:
    return understand(text, WORDS, channel=channel, **more)  # type: ignore[arg-type]


def _places(text: str, channel: str = "palate") -> dict[str, str]:
    return {one.key: one.channel for one in _understood(text, channel).impressions}


def _of(kind: str, text: str, channel: str = "palate", **more: object) -> list[Part]:
    return [one for one in _understood(text, channel, **more).parts if one.kind == kind]


# -- where -------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "channel"),
    [
        ("peach on the out-breath", "retronasal"),
        ("when I breathe out there is peach", "retronasal"),
        ("peach, up through the nose", "retronasal"),
        ("under the lid peach", "lid"),
        ("peach under the lid", "lid"),
        ("from the drained cup, peach", "empty cup"),
        ("Empty cup: peach", "empty cup"),
        ("peach at the back of the throat", "finish"),
        ("a long finish of peach", "finish"),
        ("a warm peach finish", "finish"),
        ("after swallowing, peach", "finish"),
        ("on the nose peach", "liquor nose"),
        ("it smells of peach", "liquor nose"),
        ("peach in the mouth", ""),
        ("peach", ""),
    ],
)
def test_words_that_say_where_move_what_they_stand_beside(said: str, channel: str) -> None:
    assert _places(said) == {"peach": channel}


def test_each_thing_has_its_own_place() -> None:
    assert _places("orchid on the palate, honey in the empty cup") == {"orchid": "", "honey": "empty cup"}
    assert _places("Under the lid, butter and vanilla. In the mouth, orchid.") == {
        "warm-butter": "lid", "vanilla": "lid", "orchid": "",
    }  # fmt: skip
    assert _places("cocoa, malt, and a touch of citrus at the end") == {"cocoa": "", "malty": "", "citrus": "finish"}


def test_a_place_at_the_head_of_a_sentence_holds_for_fragments_after_it() -> None:
    assert _places("Empty cup: honey. A little caramel too.") == {"honey": "empty cup", "caramel": "empty cup"}
    assert _places("Empty cup: honey. There's peach in my mouth.") == {"honey": "empty cup", "peach": ""}


def test_the_nose_is_the_steps_own_sense_where_nothing_is_in_the_mouth() -> None:
    assert _places("on the nose peach", "lid") == {"peach": ""}
    assert _places("peach at the end", "wet leaf") == {"peach": ""}


def test_one_thing_in_two_places_is_two_impressions() -> None:
    told = [
        (one.key, one.channel, one.intensity)
        for one in _understood("strong peach, a hint of peach on the nose").impressions
    ]

    assert told == [("peach", "", 4), ("peach", "liquor nose", 1)]


# -- what is not this cup ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "said",
    [
        "last year's was all peach and honey",
        "the other sample had peach",
        "my wife gets peach",
        "the label says peach and honey",
        "I had toast and honey for breakfast",
        "they are frying onions next door",
        "someone's mowing the grass",
        "it would go well with peach cake",
        "I love peach",
        "compared with the sencha, which had seaweed",
        "in the first infusion it was peach",
        "a peach of a tea",
        "in a nutshell",
        "take it with a pinch of salt",
        "the icing on the cake",
        "smooth as butter",
        "like a rose garden in the rain",
        "like walking through a pine forest",
        "as if somebody had peeled an orange",
        "I expected peach",
    ],
)
def test_talk_that_is_not_this_cup_yields_nothing(said: str) -> None:
    assert _understood(said).impressions == ()


@pytest.mark.parametrize(
    ("said", "keys"),
    [
        ("last year's was all honey but this one is peach", ["peach"]),
        ("compared with the sencha, this is peach", ["peach"]),
        ("I like the peach in this", ["peach"]),
        ("tastes like peach", ["peach"]),
        ("it reminds me of baked apple", ["baked-apple"]),
        ("the label says honey. I get peach.", ["peach"]),
        ("there was honey in the first cup, now there's peach", ["peach"]),
    ],
)
def test_what_comes_back_to_the_cup_counts(said: str, keys: list[str]) -> None:
    assert [one.key for one in _understood(said).impressions if one.intensity] == keys


def test_what_something_is_as_sweet_as_is_no_note() -> None:
    assert [one.key for one in _understood("as sweet as honey", channel="lid").impressions] == ["sweet"]
    assert _understood("as sweet as honey").impressions == ()


def test_a_likeness_is_kept_as_one() -> None:
    (one,) = _of("resembles", "Camphor, and it's like walking through a church in winter")

    assert one.said == "like walking through a church in winter"


@pytest.mark.parametrize(
    "said",
    ["to date", "the roast date", "in stock", "a tiny thing", "ironic", "the old cake", "stable across infusions"],
)
def test_a_word_that_means_something_else_is_no_note(said: str) -> None:
    assert _understood(said).impressions == ()


@pytest.mark.parametrize(
    ("said", "key"), [("a note of date", "date"), ("fig, date, honey", "date"), ("date 3", "date")]
)
def test_the_same_word_is_a_note_where_a_tasting_word_leads_to_it(said: str, key: str) -> None:
    assert key in [one.key for one in _understood(said).impressions]


# -- slips and dictation -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("heard", "key"),
    [
        ("black current", "blackcurrant"), ("see weed", "seaweed"), ("chess nut", "chestnut"), ("a note of flour", "floral"),
        ("honey suckle", "honeysuckle"), ("cedarbark", "cedar-bark"), ("lick rice", "liquorice"), ("spinich", "spinach"),
        ("peachy", "peach"), ("orchid-like", "orchid"), ("nuttiness", "nutty"),
    ],
)  # fmt: skip
def test_what_dictation_writes_is_read_as_it_was_said(heard: str, key: str) -> None:
    assert [one.key for one in _understood(heard).impressions] == [key]


@pytest.mark.parametrize("said", ["the current price", "a pair of cups", "flour on the table", "wait a minute"])
def test_the_same_words_in_plain_talk_are_left_alone(said: str) -> None:
    assert _understood(said).impressions == ()


# -- Chinese -----------------------------------------------------------------------------------------------------------


def test_chinese_is_understood_without_spaces() -> None:
    told = {one.key: one.intensity for one in _understood("我觉得有兰花香，没有烟气，有点蜜香").impressions}

    assert told == {"orchid": 3, "smoky-taint": 0, "honey": 2}


def test_three_tongues_in_one_breath() -> None:
    assert list(_places("orchid, 栗香, guìhuā")) == ["orchid", "chestnut", "osmanthus"]


# -- colours -----------------------------------------------------------------------------------------------------------


def test_the_colour_and_clarity_of_the_liquor() -> None:
    parts = _understood("light amber, hazy", "liquor", clarity=True).parts

    assert [(one.kind, one.key, one.of) for one in parts] == [
        ("colour", "light amber", "liquor"),
        ("clarity", "dim", ""),
    ]


@pytest.mark.parametrize("name", ["amber", "orange red", "pale straw", "dark copper red"])
def test_a_swatch_called_by_its_name_is_that_swatch(name: str) -> None:
    (one,) = _of("colour", name, "liquor", clarity=True)

    assert one.lab == swatch_called(name)


def test_a_shade_moves_a_colour() -> None:
    (deep,), (plain,) = (_of("colour", said, "liquor", clarity=True) for said in ("deep copper", "copper"))

    assert deep.lab is not None
    assert plain.lab is not None
    assert deep.lab[0] < plain.lab[0]
    assert delta_e00(deep.lab, plain.lab) > 1


def test_the_colours_of_the_leaf() -> None:
    parts = _of("colour", "rust brown with olive edges", "dry leaf")

    assert [(one.key, one.of) for one in parts] == [("rust brown", "leaf"), ("olive green", "leaf")]


def test_honey_is_a_colour_at_the_liquor_and_a_note_anywhere_else() -> None:
    assert [one.kind for one in _understood("honey", "liquor", clarity=True).parts] == ["colour"]
    assert [one.kind for one in _understood("honey").parts] == ["descriptor"]
    assert [one.kind for one in _understood("honey on the nose", "liquor", clarity=True).parts] == ["descriptor"]


@pytest.mark.parametrize(
    ("said", "way"),
    [("deeper in colour than the last", "deeper"), ("a shade paler", "lighter"), ("the same colour", "unchanged")],
)
def test_which_way_the_colour_went(said: str, way: str) -> None:
    (one,) = _of("colour change", said, "liquor", clarity=True)

    assert (one.key, one.of) == (way, "liquor")


# -- quantities --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "key", "value"),
    [
        ("88 degrees", "water_c", 88), ("eighty-eight degrees", "water_c", 88), ("190 degrees", "water_c", 87.78),
        ("203 °F", "water_c", 95), ("forty seconds", "steep_s", 40), ("a minute and a half", "steep_s", 90),
        ("half a minute", "steep_s", 30), ("6 grams", "leaf_g", 6), ("six and a half grams", "leaf_g", 6.5),
        ("110 ml", "volume_ml", 110), ("1,100 metres", "altitude_m", 1100), ("water about ninety-four", "water_c", 94),
    ],
)  # fmt: skip
def test_a_number_with_a_unit_is_offered_to_its_field(said: str, key: str, value: float) -> None:
    (one,) = _of("quantity", said)

    assert (one.key, one.value) == (key, pytest.approx(value))


@pytest.mark.parametrize(
    "said", ["two cups ago", "sixteen years old", "ten seconds later", "the 2nd infusion", "900 degrees"]
)
def test_other_numbers_are_offered_to_none(said: str) -> None:
    assert _of("quantity", said) == []


def test_how_long_the_finish_lasts_is_a_reading() -> None:
    (one,) = _of("reading", "it lasts for about fifty seconds")

    assert (one.key, one.value, one.asked) == ("finish_length_s", 50, False)


# -- new names ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "guess"),
    [("salmonberry", "fruity"), ("wild bogflower", "floral"), ("heron feather", ""), ("dunegrass", "vegetal")],
)
def test_unknown_words_are_offered_once_with_a_guess_at_their_family(said: str, guess: str) -> None:
    (one,) = _of("unknown", said)

    assert (one.said, one.guess) == (said, guess)


def test_in_a_long_passage_only_what_is_led_to_is_offered() -> None:
    talk = (
        "We sat outside on the terrace and talked about the harbour until the light went, and nobody wanted to leave. "
        * 2
    )

    assert [one.said for one in _of("unknown", talk + "There is a hint of cornflour.")] == ["cornflour"]
