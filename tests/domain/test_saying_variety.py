"""Ways of saying it that differ from taster to taster: names turned round, second thoughts, colours, scores, pinyin."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from tastebook.domain.saying import Understanding, understand
from tests.words import real_vocabulary

WORDS = real_vocabulary()


def _understood(said: str, channel: str = "palate", **more: object) -> Understanding:
    return understand(said, WORDS, channel=channel, clarity=channel == "liquor", **more)  # type: ignore[arg-type]


def _strengths(said: str, **more: object) -> dict[str, int | None]:
    return {one.key: one.intensity for one in _understood(said, **more).impressions}


def _readings(said: str, *scales: str) -> dict[str, float | None]:
    return {one.key: one.value for one in _understood(said, scales=scales).readings}


# -- names turned round, and said in pinyin ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "key"),
    [
        ("peel of an orange", "orange-peel"), ("the skin of the almond", "almond-skin"),
        ("flower of lime", "linden-blossom"),
        ("box of cigars", "cigar-box"), ("lemon, the skin", "lemon-zest"), ("spinach cooked", "spinach"),
        ("apple baked", "baked-apple"), ("rice toasted and nothing more", "toasted-rice"),
        ("leaves dead", "autumn-leaves"), ("wet leafs", "leaf-litter"),
    ],
)  # fmt: skip
def test_a_name_turned_round_is_that_name(said: str, key: str) -> None:
    assert list(_strengths(said)) == [key]


def test_what_follows_keeps_its_own_adjective() -> None:
    assert list(_strengths("spinach roasted chestnut")) == ["spinach", "roasted-chestnut"]
    assert list(_strengths("lemon, then the skin of a peach")) == ["lemon", "peach-skin"]


@pytest.mark.parametrize(
    ("said", "strengths"),
    [
        ("lan hua xiang, a bit of nai xiang", {"orchid": 3, "milky": 2}), ("gui hua xiang", {"osmanthus": 3}),
        ("mo li hua", {"jasmine": 3}), ("no yan wei, no qing wei", {"smoky-taint": 0, "green-odour": 0}),
        ("烟味没有，桂花味", {"smoky-taint": 0, "osmanthus": 3}),
    ],
)  # fmt: skip
def test_pinyin_may_be_said_syllable_by_syllable(said: str, strengths: dict[str, int]) -> None:
    assert _strengths(said, channel="lid") == strengths


# -- second thoughts and other people ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "said",
    [
        "peach, I mean apricot", "peach, scratch that, apricot", "peach or rather apricot", "peach, sorry, apricot",
        "peach, no wait, apricot",
    ],
)  # fmt: skip
def test_what_is_taken_back_comes_to_nothing(said: str) -> None:
    assert list(_strengths(said)) == ["apricot"]


def test_what_replaces_it_takes_its_strength() -> None:
    assert _strengths("strongly of roasted nuts, I mean hazelnut") == {"hazelnut": 4}


def test_i_mean_without_anything_before_it_is_talk() -> None:
    assert _strengths("I mean, the peach is lovely") == {"peach": 3}


@pytest.mark.parametrize(
    "said",
    [
        "Mara says it's marzipan",
        "Colin would say flat",
        "the one from yesterday, which was only smoke",
        "the Tuesday sample had peach",
        "the tea next to it was smoky",
        "my buddy keeps saying tobacco",
        "my notes say honey",
        "the autumn lot is nuttier than this",
        "Colin smokes",
    ],
)
def test_other_cups_and_other_peoples_words_come_to_nothing(said: str) -> None:
    assert _strengths(said) == {}


@pytest.mark.parametrize(
    "said",
    [
        "I said malt before, I take it back",
        "I don't think there's any malt",
        "where did the malt go?",
        "can't say I get malt",
        "the malt has bowed out",
        "malt, it already go",
        "the malt is nowhere in sight",
    ],
)
def test_many_ways_to_say_that_it_is_not_there(said: str) -> None:
    assert _strengths(said) == {"malty": 0}


# -- the mouth ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "readings"),
    [
        ("the body is medium, grip light", {"body": 3, "grip": 2}), ("the finish is quick", {"finish": 2}),
        ("no body", {"body": 1}), ("the finish is medium and the tongue a bit rough", {"finish": 3, "surface": 2}),
        ("not thick", {"body": 2}), ("thick but not heavy", {"body": 4}), ("not so thick", {"body": 2}),
        ("very thin", {"body": 0}), ("a bit rough on the tongue", {"surface": 2}),
        ("sourness is medium", {"acidity": 3}),
        ("no bitterness to speak of", {"bitterness": 0}), ("a very short finish", {"finish": 1}),
        ("lots of umami, brothy", {"umami": 4}),
    ],
)  # fmt: skip
def test_a_scale_is_said_denied_softened_or_pushed(said: str, readings: dict[str, float]) -> None:
    assert _readings(said, "body", "surface", "grip", "bitterness") == readings


def test_plain_words_of_the_mouth_count_in_a_list_and_not_alone() -> None:
    assert _readings("soft and round") == {"surface": 4, "body": 3}
    assert _readings("round") == {}


def test_sour_is_a_taste_in_the_mouth_and_a_smell_elsewhere() -> None:
    assert _readings("a bit sour") == {"acidity": 2}
    assert _strengths("a bit sour", channel="lid") == {"sour": 2}


# -- the look ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "names"),
    [
        ("a rusty copper orange", ["rusty copper orange"]), ("the colour of weak honey", ["weak honey"]),
        ("apple juice colour", ["gold"]), ("pale straw going gold", ["pale straw", "gold"]),
        ("a sunset orange", ["sunset orange"]), ("not quite amber, more of a honey colour", ["honey"]),
        ("reddish-brown", ["russet"]), ("bright yellow-green", ["greenish yellow"]),
    ],
)  # fmt: skip
def test_a_colour_of_the_liquor_in_many_words(said: str, names: list[str]) -> None:
    assert [one.key for one in _understood(said, "liquor").of_kind("colour")] == names


def test_a_tint_moves_a_colour_towards_itself_and_is_underlined_with_it() -> None:
    (mixed,) = _understood("copper gold", "liquor").of_kind("colour")
    (plain,) = _understood("gold", "liquor").of_kind("colour")
    (tint,) = _understood("copper", "liquor").of_kind("colour")

    assert mixed.lab
    assert plain.lab
    assert tint.lab
    assert min(plain.lab[0], tint.lab[0]) < mixed.lab[0] < max(plain.lab[0], tint.lab[0])
    assert (mixed.word_start, mixed.word_end) == (0, len("copper gold"))


def test_the_leaf_is_tinted_by_things() -> None:
    parts = _understood("the leaves are steel grey and dark chocolate brown with orange tips", "dry leaf")

    assert [(one.of, one.key) for one in parts.of_kind("colour")] == [
        ("leaf", "grey"), ("leaf", "dark brown"), ("leaf", "golden"),
    ]  # fmt: skip
    assert parts.impressions == ()


@pytest.mark.parametrize(
    ("said", "term"),
    [("a touch cloudy", "dim"), ("isn't clear", "dim"), ("not cloudy at all", "clear"), ("cloudy", "turbid"),
     ("almost brilliant", "brilliant"), ("fairly bright, not clear", "brilliant")],
)  # fmt: skip
def test_clarity_is_softened_and_denied(said: str, term: str) -> None:
    assert [one.key for one in _understood(said, "liquor").of_kind("clarity")] == [term]


# -- numbers -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "strength"),
    [("peach 7/10", 4), ("8 out of 10 for peach", 4), ("peach 3 out of 5", 3), ("peach, four out of ten", 2),
     ("peach ++", 4), ("peach +++, fine", 5)],
)  # fmt: skip
def test_a_score_out_of_ten_is_half_of_it(said: str, strength: int) -> None:
    assert _strengths(said)["peach"] == strength


def test_a_plus_between_names_only_joins_them() -> None:
    assert _strengths("malt + honey") == {"malty": 3, "honey": 3}


@pytest.mark.parametrize(
    "said",
    ["25 seconds at 95", "ninety five for twenty five seconds", "aftertaste is long, steep was 25 seconds at 95"],
)
def test_water_is_said_beside_the_steep(said: str) -> None:
    offered = {one.key: one.value for one in _understood(said).of_kind("quantity")}

    assert offered == {"steep_s": 25, "water_c": 95}


def test_when_something_came_is_no_length_of_the_finish() -> None:
    said = "the finish lasts thirty five seconds, sweetness comes back ten seconds in"

    assert _readings(said)["finish_length_s"] == 35


# -- places and likenesses ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "channel"),
    [("sniffing the lid I get peach", "lid"), ("closing on peach", "finish"), ("leaves a taste of peach", "finish"),
     ("through the nose: peach", "retronasal"), ("once swallowed, peach", "finish"),
     ("smelling the empty cup there's peach", "empty cup")],
)  # fmt: skip
def test_more_places_where_it_was_perceived(said: str, channel: str) -> None:
    assert [(one.key, one.channel) for one in _understood(said).impressions] == [("peach", channel)]


def test_now_leaves_the_place_that_was_spoken_of() -> None:
    found = _understood("the lid was butter, now it's peach").impressions

    assert {one.key: one.channel for one in found} == {"warm-butter": "lid", "peach": ""}


def test_a_dictated_likeness_ends_where_a_reading_begins() -> None:
    understood = _understood("like licking a stone sweetness comes back")

    assert [one.key for one in understood.readings] == ["huigan"]
    assert [one.said for one in understood.of_kind("resembles")] == ["like licking a stone"]


# -- any text whatever -------------------------------------------------------------------------------------------------


@given(
    st.text(st.characters(), max_size=40), st.sampled_from(["peach of, the", "lan hua ", "7/10 +++ ", "copper orange "])
)
@example("🍑🍵👩‍🔬", "peach, the ")
@example("\ud800 peach \udfff", "")
@example("\x00peach\x00\x00", "lemon, the ")
@example("שלום peach مرحبا \u202epeach\u202c", "")
@example("x" * 20_000, "peel of ")
@example("peach, " * 400, "")
def test_no_text_crashes_it_or_loses_a_word(text: str, lead: str) -> None:
    said = lead + text
    for channel in ("palate", "liquor", "dry leaf"):
        parts = _understood(said, channel).parts
        covered = {place for part in parts for place in range(part.start, part.end)}
        assert all(place in covered for place, sign in enumerate(said) if sign.isalnum())
