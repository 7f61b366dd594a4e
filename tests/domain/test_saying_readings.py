"""Readings, colours, clarity and quantities in the many ways people say them. The values are our own reading of use."""

from __future__ import annotations

import pytest

from tastebook.domain.saying import Understanding, understand
from tests.corpus.passages import gaiwan
from tests.words import real_vocabulary

WORDS = real_vocabulary()


def _said(step: str, text: str) -> Understanding:
    asked = gaiwan().step(step)
    return understand(
        text, WORDS, scales=asked.scales, clarity=asked.sheet == "liquor", channel=asked.channel
    )  # fmt: skip


def _readings(step: str, text: str) -> dict[str, float | None]:
    return {one.key: one.value for one in _said(step, text).readings}


def _named(step: str, text: str) -> list[str]:
    return [one.key for one in _said(step, text).impressions if one.intensity]


def _offered(step: str, text: str) -> list[tuple[str, float | None]]:
    return [(one.key, one.value) for one in _said(step, text).of_kind("quantity")]


# -- a scale named with its value --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "readings"),
    [
        ("body medium", {"body": 3}), ("thickness medium, I think", {"body": 3}), ("strength weak", {"strength": 1}),
        ("body full, strength strong", {"body": 4, "strength": 4}), ("overall strength: mild", {"strength": 2}),
        ("bitterness a trace sweetness slight", {"bitterness": 1, "sweetness": 2}), ("umami deep", {"umami": 5}),
        ("huigan slow but long", {"huigan": 5}), ("throat deep", {"throat": 4}), ("acidity bright", {"acidity": 3}),
        ("it's a weak brew", {"strength": 1}), ("a strong cup", {"strength": 4}), ("Weak.", {"strength": 1}),
    ],
)  # fmt: skip
def test_a_scale_stands_with_its_value_without_a_verb(text: str, readings: dict[str, float]) -> None:
    assert _readings("flavour", text) == readings


@pytest.mark.parametrize(
    ("step", "text", "value"),
    [
        ("liquor", "nose faint", 1), ("liquor", "the smell is strong", 4), ("warmed_leaf", "the aroma is high", 4),
        ("dry_leaf", "no aroma at all", 0), ("lid", "hardly any smell", 1), ("liquor", "a faint nose", 1),
        ("dry_leaf", "it doesn't smell of much", 1), ("liquor", "fragrance high and lasting", 5),
    ],
)  # fmt: skip
def test_how_much_there_is_to_smell_is_a_reading(step: str, text: str, value: float) -> None:
    assert _readings(step, text) == {"aroma": value}


@pytest.mark.parametrize("text", ["faint aroma of orchid", "an orchid smell, faint", "nose: orchid, faint"])
def test_a_strength_of_a_smell_is_not_how_much_there_is(text: str) -> None:
    assert _readings("liquor", text) == {}
    assert _named("liquor", text) == ["orchid"]


def test_a_strength_after_a_note_goes_back_to_it() -> None:
    assert _readings("flavour", "Orchid. Faint.") == {}
    assert _readings("flavour", "plum, and it's strong") == {}


@pytest.mark.parametrize(
    ("text", "readings"),
    [
        ("Body? Medium, I'd say.", {"body": 3}), ("Sweet? Barely.", {"sweetness": 1}), ("Grip? Plenty.", {"grip": 4}),
        ("Bitter? No.", {"bitterness": 0}),
    ],
)  # fmt: skip
def test_a_question_of_a_scale_is_answered(text: str, readings: dict[str, float]) -> None:
    assert _readings("first_sip", text) == readings


# -- what stays --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("the cup's stone cold and it's still clear", 5), ("already cold and still I smell it", 5),
        ("it's gone quite cold and the caramel is still there", 5), ("persistent", 4), ("honey, lingering", 4),
        ("gone at once", 1), ("honey, but it fades fast", 2), ("only while the cup is warm", 3),
        ("it clings to the china", 4),
    ],
)  # fmt: skip
def test_what_the_empty_cup_keeps_is_a_reading(text: str, value: float) -> None:
    assert _readings("empty_cup", text) == {"lasting": value}


def test_a_cold_cup_with_nothing_in_it_says_nothing_of_lasting() -> None:
    assert _readings("empty_cup", "the cup is cold") == {}
    assert _readings("flavour", "it's cold and still peachy") == {}


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("Gone before I'd put the cup down.", 1), ("gone the moment I swallowed", 1), ("nothing stays", 1),
        ("it fades quickly", 2), ("on the short side", 2), ("neither long nor short", 3), ("Long.", 4),
        ("it hangs about", 4), ("takes its time leaving", 4), ("the taste is long", 4), ("it lingers for ages", 5),
    ],
)  # fmt: skip
def test_how_long_the_finish_lasts_needs_no_number(text: str, value: float) -> None:
    assert _readings("finish", text) == {"finish": value}


def test_a_long_day_is_no_finish() -> None:
    assert _readings("flavour", "it has been a long day") == {}


# -- sweetness, and the mouth ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("it's sweet on the tongue", 3), ("sweet in the mouth", 3), ("very sweet", 4), ("not sweet", 0),
        ("sweet, a four", 4), ("a bit sweet", 2), ("hardly sweet", 1), ("sweeter than before", 4),
    ],
)  # fmt: skip
def test_sweet_in_the_mouth_is_a_taste(text: str, value: float) -> None:
    assert _readings("flavour", text) == {"sweetness": value}
    assert _named("flavour", text) == []


@pytest.mark.parametrize(
    ("step", "text"),
    [("lid", "sweet"), ("empty_cup", "it's sweet"), ("liquor", "sweet on the nose"), ("flavour", "it smells sweet")],
)  # fmt: skip
def test_sweet_to_the_nose_is_a_smell(step: str, text: str) -> None:
    assert _named(step, text) == ["sweet"]
    assert _readings(step, text) == {}


@pytest.mark.parametrize("text", ["dry as a bone", "the bitter skin of a walnut", "then it becomes sweet", "rough"])
def test_what_is_only_smelt_or_looked_at_is_not_felt(text: str) -> None:
    assert _readings("dry_leaf", text) == {}


def test_a_sweet_thing_is_that_thing() -> None:
    assert _named("flavour", "sweet cherry") == ["cherry"]
    assert _readings("flavour", "sweet cherry") == {}


@pytest.mark.parametrize(
    ("text", "readings"),
    [
        ("It's thick, it'd coat the back of a spoon", {"body": 4}), ("neither thick nor thin", {"body": 3}),
        ("it slips down beautifully", {"surface": 4}), ("left my mouth dry", {"grip": 3}),
        ("it sucks the moisture out of the cheeks", {"grip": 4}), ("makes the mouth water", {"mouth_watering": 3}),
        ("leaves the throat sweet", {"huigan": 3}), ("flat as ditchwater", {"briskness": 0}),
    ],
)  # fmt: skip
def test_a_feel_may_be_said_without_any_word_of_its_scale(text: str, readings: dict[str, float]) -> None:
    assert _readings("first_sip", text) == readings


@pytest.mark.parametrize(
    ("text", "readings"),
    [
        ("warm all through", {"warmth": 5}), ("slight warmth in my hands", {"warmth": 2}),
        ("More awake? Slightly.", {"alertness": 2}), ("a bit more awake", {"alertness": 2}),
        ("awake, but only slightly", {"alertness": 2}), ("not calm", {"calm": 0}),
        ("a little warmer, much calmer", {"warmth": 2, "calm": 4}),
        ("very calm", {"calm": 5}), ("nodding off", {"alertness": 0}), ("jumpy", {"calm": 0}),
        ("there's no bitterness left", {"bitterness": 0}),
    ],
)  # fmt: skip
def test_how_one_feels_is_read_at_the_end(text: str, readings: dict[str, float]) -> None:
    assert _readings("body", text) == readings


# -- colour and clarity ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("step", "text", "colours"),
    [
        ("liquor", "copper, brilliant", ["copper"]), ("infused_leaf", "even, copper, a hint of apple", ["copper"]),
        ("liquor", "deep yellow, and there's no green in it", ["deep yellow"]),
        ("liquor", "pale yellow. No, sorry: greenish yellow", ["greenish yellow"]),
        ("liquor", "amber. From the cup rises dark honey", ["amber"]), ("finish", "copper is what it leaves", []),
    ],
)  # fmt: skip
def test_a_colour_is_that_of_this_cup(step: str, text: str, colours: list[str]) -> None:
    assert [one.key for one in _said(step, text).of_kind("colour")] == colours


@pytest.mark.parametrize(
    ("text", "clarity"),
    [
        ("not one particle in it", ["clear"]), ("I could read a newspaper through it", ["clear"]),
        ("brilliant, I can count the scratches at the bottom", ["brilliant"]), ("can't see the bottom", ["turbid"]),
        ("a dim copper", ["dim"]), ("cloudy, a bit", ["dim"]), ("every bit as cloudy", ["turbid"]),
        ("full of bits", ["turbid"]), ("no sparkle to it", ["dim"]),
    ],
)  # fmt: skip
def test_how_clear_it_is_may_be_told_by_what_is_seen(text: str, clarity: list[str]) -> None:
    assert [one.key for one in _said("liquor", text).of_kind("clarity")] == clarity


# -- quantities --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "offered"),
    [
        ("forty seconds. No, I tell a lie, forty-five", [("steep_s", 45.0)]),
        ("six grams, sorry, seven", [("leaf_g", 7.0)]), ("90 degrees, no, make that 95", [("water_c", 95.0)]),
        ("steeped it thirty seconds, no, forty seconds", [("steep_s", 40.0)]),
    ],
)  # fmt: skip
def test_a_number_taken_back_gives_way(text: str, offered: list[tuple[str, float]]) -> None:
    assert _offered("flavour", text) == offered


@pytest.mark.parametrize(
    "text",
    ["give it ten seconds", "for one second I was there", "ten minutes off the table", "a minute before the bell"],
)  # fmt: skip
def test_the_time_of_something_else_is_offered_to_no_field(text: str) -> None:
    assert _offered("flavour", text) == []


def test_a_minute_is_a_steep_where_the_tea_was_given_it_and_a_finish_where_it_stays() -> None:
    assert _offered("flavour", "I gave it a minute") == [("steep_s", 60.0)]
    assert _offered("flavour", "it has been in the glass a minute") == []
    assert _readings("finish", "a minute, maybe more") == {"finish_length_s": 60.0}


def test_a_temperature_may_be_said_without_its_unit() -> None:
    assert _offered("flavour", "Water's at ninety-five, five grams") == [("water_c", 95.0), ("leaf_g", 5.0)]


def test_what_it_is_to_be_given_next_time_is_the_plan() -> None:
    assert _offered("flavour", "give it 40 seconds next time") == [("plan_s", 40.0)]


def test_a_time_after_the_swallow_is_when_something_came() -> None:
    assert _offered("flavour", "mint comes thirty seconds after the swallow") == []
    assert _readings("finish", "eighty seconds from the swallow") == {"finish_length_s": 80.0}


def test_a_colour_that_another_is_held_against_is_not_its_own() -> None:
    assert [one.key for one in _said("liquor", "gold, darker than straw").of_kind("colour")] == ["gold"]


def test_a_finish_may_be_read_off_a_clock() -> None:
    assert _readings("finish", "Fifty-five seconds on the kitchen clock") == {"finish_length_s": 55.0}
