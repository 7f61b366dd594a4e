"""What is said is understood, and no word of it is lost."""

from __future__ import annotations

import time
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.own_words import with_own
from tastebook.domain.saying import Part, Understanding, understand
from tastebook.domain.session import OwnDescriptor
from tastebook.domain.vocabulary import Descriptor
from tests.words import real_vocabulary

WORDS = real_vocabulary()
TEXTURE = ("body", "surface", "grip", "bitterness", "huigan", "mouth_watering", "throat", "finish")
RULES = tuple(WORDS.grammar.phrases)
FINISH = ("finish_length_s", "huigan", "throat", "sweetness", "minerality")
ALL_SCALES = tuple(scale.key for scale in WORDS.scales)

SAYABLE = st.sampled_from(
    [term for descriptor in WORDS.descriptors for term in descriptor.terms]
    + [said for scale in WORDS.scales for said in (*scale.says, scale.name, *scale.names)]
    + ["no", "not", "without", "absent", "trace", "a little", "very", "strong", "dominant", "and", "or", "&", "with"]
    + ["3", "0", "7", "4/5", "2.5", "40 s", "1.5 min", "•••", "○", ",", ";", "\n", ".", "umbrella", "of the harbour"]
    + sorted(RULES)[:: len(RULES) // 600]
    + ["last year's was", "under the lid", "more", "than", "has faded", "in the empty cup", "like a", "maybe", "it's"]
    + ["osmantus", "buter", "…", "'s", "(", "九", "٣", "²", "ﬁg", "İ"]
)
EVERYDAY_WORDS = """
    umbrella store glass better money planted honest table window harbour kettle engine winter summer candle carpet
    pocket mother sister bottle ladder garden doctor finger yellow purple silver golden bitter quiet busy lovely
    strange familiar simple complex balanced hollow closed opening memory childhood holiday both must stuff thing
    think start three painted current course letter heart cover power raising drives timer waiter tried float sale
"""

CHANNELS = ("dry leaf", "lid", "wet leaf", "liquor nose", "palate", "retronasal", "empty cup", "finish", "infused leaf",
            "warmed leaf", "body", "liquor")  # fmt: skip
ANY_KEYS = ("orchid", "cut-grass", "body", "huigan", "finish_length_s")
LINES = st.lists(SAYABLE, max_size=14).map(" ".join) | st.text(max_size=60)


def _say(text: str, *scales: str, clarity: bool = False) -> tuple[Part, ...]:
    return understand(text, WORDS, scales=scales, clarity=clarity).parts


def _strengths(text: str) -> list[tuple[str, int | None]]:
    return [(part.key, part.intensity) for part in _say(text)]


def _readings(text: str, *scales: str) -> list[tuple[str, float | None]]:
    return [(part.key, part.value) for part in _say(text, *scales)]


# -- laws --------------------------------------------------------------------------------------------------------------


@given(LINES, st.sets(st.sampled_from(ALL_SCALES)), st.booleans())
def test_every_letter_and_digit_is_in_exactly_one_part(text: str, scales: set[str], clarity: bool) -> None:
    parts = understand(text, WORDS, scales=scales, clarity=clarity).parts

    covered = [sum(part.start <= place < part.end for part in parts) for place in range(len(text))]

    assert all(count == 1 for sign, count in zip(text, covered, strict=True) if sign.isalnum())
    assert max(covered, default=0) <= 1


@given(LINES, st.sets(st.sampled_from(ALL_SCALES)), st.booleans())
def test_parts_stand_in_order_and_say_words_of_the_text(text: str, scales: set[str], clarity: bool) -> None:
    parts = understand(text, WORDS, scales=scales, clarity=clarity).parts

    assert [part.start for part in parts] == sorted(part.start for part in parts)
    for part in parts:
        assert part.said
        assert part.said in text[part.start : part.end]


@given(LINES, st.sets(st.sampled_from(ALL_SCALES)), st.booleans())
def test_a_part_holds_what_its_kind_can_be_recorded_with(text: str, scales: set[str], clarity: bool) -> None:
    for part in understand(text, WORDS, scales=scales, clarity=clarity).parts:
        assert part.key
        assert (part.how == "unknown") == (part.kind in ("unknown", "resembles", "remark"))
        assert (part.intensity in range(6)) == (part.kind in ("descriptor", "unknown"))
        assert (part.value is not None) == (part.kind in ("reading", "quantity"))
        assert (part.lab is not None) == (part.kind == "colour")
        assert part.start <= part.word_start < part.word_end <= part.end
        if part.kind == "reading":
            assert 0 <= (part.value or 0) <= (3600 if WORDS.scale(part.key).unit else 5)
            assert part.asked == (part.key in scales)


@given(LINES, st.sampled_from(CHANNELS), st.dictionaries(st.sampled_from(ANY_KEYS), st.integers(0, 5), max_size=4))
def test_any_step_and_any_last_infusion_leave_the_laws_whole(text: str, channel: str, last: dict[str, float]) -> None:
    parts = understand(text, WORDS, channel=channel, last=last).parts

    covered = [sum(part.start <= place < part.end for part in parts) for place in range(len(text))]
    assert all(count == 1 for sign, count in zip(text, covered, strict=True) if sign.isalnum())
    assert all(part.channel in CHANNELS and part.channel != channel for part in parts if part.channel)
    assert all(part.intensity in range(6) for part in parts if part.kind == "descriptor")


@given(LINES)
def test_every_part_points_at_the_words_it_was_read_from(text: str) -> None:
    for part in understand(text, WORDS).parts:
        assert all(0 <= one.start < one.end <= len(text) for one in part.because)
        if part.kind == "descriptor":
            assert (part.word_start, part.word_end, "descriptor") in part.because


@given(LINES)
def test_an_impression_is_told_once_for_each_channel(text: str) -> None:
    told = [(one.key, one.channel) for one in understand(text, WORDS).impressions]

    assert len(told) == len(set(told))


@given(LINES, st.sets(st.sampled_from(ALL_SCALES)), st.booleans())
def test_the_same_text_is_understood_the_same(text: str, scales: set[str], clarity: bool) -> None:
    first = understand(text, WORDS, scales=scales, clarity=clarity)

    again = understand(text, WORDS, scales=sorted(scales, reverse=True), clarity=clarity)

    assert first == again


@given(st.sampled_from([one for one in WORDS.descriptors if one.name not in WORDS.grammar.tastes]), st.integers(0, 5))
def test_any_name_with_any_strength_is_that_descriptor(descriptor: Descriptor, strength: int) -> None:
    parts = _say(f"{descriptor.name} {strength}")

    assert [(part.key, part.intensity, part.how) for part in parts] == [(descriptor.key, strength, "exact")]


# -- descriptors -------------------------------------------------------------------------------------------------------


def test_words_are_separated_by_commas_and_a_strength_may_follow() -> None:
    parts = _say("white peach, cedar bark 3, no rose")

    assert [(part.kind, part.said, part.key, part.intensity, part.family) for part in parts] == [
        ("descriptor", "white peach", "white-peach", 3, "fruity"),
        ("descriptor", "cedar bark", "cedar-bark", 3, "woody"),
        ("descriptor", "rose", "rose", 0, "floral"),
    ]
    assert [(part.start, part.end) for part in parts] == [(0, 11), (13, 25), (27, 34)]


@pytest.mark.parametrize("cut", [", ", "; ", "\n", " and ", ". ", " & ", "/", " – ", "，", "、"])
def test_phrases_are_cut_in_many_ways(cut: str) -> None:
    assert _strengths(f"orchid 4{cut}apricot 2") == [("orchid", 4), ("apricot", 2)]


@pytest.mark.parametrize(
    ("said", "strength"),
    [
        ("orchid", 3),
        ("orchid 4", 4),
        ("4 orchid", 4),
        ("orchid 4/5", 4),
        ("orchid: 2", 2),
        ("orchid4", 4),
        ("orchid ••••", 4),
        ("orchid ●●○○○", 2),
        ("a trace of orchid", 1),
        ("slight orchid", 2),
        ("clear orchid", 3),
        ("orchid, strong", 4),
        ("orchid strong", 4),
        ("very strong orchid", 5),
        ("dominant orchid", 5),
        ("no orchid", 0),
        ("without orchid", 0),
        ("orchid absent", 0),
        ("orchid 0", 0),
        ("not orchid", 0),
        ("no longer any orchid", 0),
    ],
)
def test_strength_is_said_in_many_ways(said: str, strength: int) -> None:
    first = _say(said)[0]

    assert (first.key, first.intensity) == ("orchid", strength)
    assert first.said.endswith("orchid")


def test_a_default_strength_can_be_chosen() -> None:
    found = understand("orchid", WORDS, default_intensity=2)

    assert found.parts[0].intensity == 2


@pytest.mark.parametrize("said", ["orchid 3", "clear orchid", "no orchid", "umbrella 3", "no umbrella"])
def test_a_strength_that_was_said_is_told_from_the_default(said: str) -> None:
    assert [part.has_strength for part in _say(said)] == [True]


@pytest.mark.parametrize("said", ["orchid", "umbrella", "orchid 7"])
def test_the_default_strength_is_told_as_such(said: str) -> None:
    assert [(part.intensity, part.has_strength) for part in _say(said)] == [(3, False)]


def test_absence_carried_by_or_was_said() -> None:
    assert [(part.intensity, part.has_strength) for part in _say("no rose or umbrella")] == [(0, True), (0, True)]


@pytest.mark.parametrize("said", ["orchid 7", "orchid 3.5", "orchid 10/5", "orchid 20 s", "orchid, after 2 cups ago"])
def test_a_number_that_is_no_strength_is_not_taken_for_one(said: str) -> None:
    part = _say(said)[0]

    assert (part.key, part.intensity, part.has_strength) == ("orchid", 3, False)


def test_a_number_with_a_unit_is_offered_to_its_field_and_is_no_strength() -> None:
    parts = _say("for 1 hour there was orchid")

    assert [(part.kind, part.key, part.value, part.intensity) for part in parts] == [
        ("quantity", "steep_s", 3600.0, None),
        ("descriptor", "orchid", None, 3),
    ]


def test_absence_is_carried_by_or_and_nor_but_not_by_and() -> None:
    assert _strengths("no rose or lily") == [("rose", 0), ("lily", 0)]
    assert _strengths("neither rose nor lily") == [("rose", 0), ("lily", 0)]
    assert _strengths("no rose and lily") == [("rose", 0), ("lily", 3)]
    assert _strengths("rose or lily") == [("rose", 3), ("lily", 3)]


def test_several_words_without_a_comma_share_out_their_strengths() -> None:
    assert _strengths("4 orchid 3 rose") == [("orchid", 4), ("rose", 3)]
    assert _strengths("orchid 4 rose 2") == [("orchid", 4), ("rose", 2)]
    assert _strengths("slight orchid strong rose") == [("orchid", 2), ("rose", 4)]
    assert _strengths("rose absent orchid 2") == [("rose", 0), ("orchid", 2)]


def test_the_longest_known_words_win() -> None:
    assert _strengths("white peach") == [("white-peach", 3)]
    assert _strengths("peach skin") == [("peach-skin", 3)]
    assert _strengths("lily of the valley") == [("lily-of-the-valley", 3)]


def test_a_known_name_is_not_cut_at_its_and() -> None:
    assert _strengths("tender and brisk and orchid") == [("tender-and-brisk", 3), ("orchid", 3)]


def test_what_stands_around_a_known_word_belongs_to_its_part() -> None:
    (part,) = _say("2 fresh cedar bark of autumn")

    assert (part.start, part.end) == (0, 28)
    assert (part.said, part.key, part.intensity) == ("cedar bark", "cedar-bark", 2)


def test_chinese_and_pinyin_are_understood() -> None:
    assert _strengths("兰花香4，báitáo、桂花香") == [("orchid", 4), ("white-peach", 3), ("osmanthus", 3)]
    assert _strengths("jiào qì, jiāo qì") == [("fermented-odour", 3), ("scorched", 3)]


# -- slips and unknown words -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "key"),
    [
        ("jasmin", "jasmine"),
        ("osmantus", "osmanthus"),
        ("appricot", "apricot"),
        ("whitte peach", "white-peach"),
        ("warm buter", "warm-butter"),
        ("chrysanthenum", "chrysanthemum"),
    ],
)
def test_a_clear_slip_is_corrected_and_says_so(said: str, key: str) -> None:
    (part,) = _say(said)

    assert (part.kind, part.key, part.how, part.said) == ("descriptor", key, "close", said)


@pytest.mark.parametrize("word", EVERYDAY_WORDS.split())
def test_a_real_word_that_is_no_descriptor_stays_unknown_or_itself(word: str) -> None:
    assert all(part.how != "close" for part in _say(word))


@pytest.mark.parametrize("said", ["scorchd", "rancidd", "cardbord", "soured creem"])
def test_a_fault_is_never_read_into_a_slip(said: str) -> None:
    assert not any(
        WORDS.has(part.key) and WORDS.descriptor(part.key).taint and part.how == "close" for part in _say(said)
    )


def test_unknown_words_are_kept_as_said_with_their_strength() -> None:
    parts = _say("my grandmother's parlour 2, strong umbrella, no rowing boat")

    assert [(part.kind, part.said, part.key, part.intensity) for part in parts] == [
        ("unknown", "my grandmother's parlour", "my-grandmothers-parlour", 2),
        ("unknown", "umbrella", "umbrella", 4),
        ("unknown", "rowing boat", "rowing-boat", 0),
    ]


@pytest.mark.parametrize("said", ["very hard to say why it moves me", "not what one hoped", "no", "4", "and"])
def test_a_sentence_or_a_bare_word_of_grammar_is_kept_whole(said: str) -> None:
    (part,) = _say(said)

    assert (part.kind, part.said) == ("remark", said)


@pytest.mark.parametrize("text", ["", "  ", ",;,", "•••", "…", "&"])
def test_nothing_said_is_no_part(text: str) -> None:
    assert understand(text, WORDS) == Understanding(text)


def test_a_word_of_the_users_own_is_understood_even_without_a_family() -> None:
    own = OwnDescriptor("own-1", "harbour fog", "", datetime(2026, 4, 18, tzinfo=UTC))

    (part,) = understand("harbour fog 4", with_own(WORDS, [own])).parts

    assert (part.kind, part.key, part.intensity, part.family) == ("descriptor", "harbour-fog", 4, "")


# -- readings ----------------------------------------------------------------------------------------------------------


def test_texture_is_said_in_words_or_numbers() -> None:
    parts = _say("silky, thick 4, dries a little at the end", *TEXTURE)

    assert [(part.kind, part.key, part.value) for part in parts] == [
        ("reading", "surface", 5.0),
        ("reading", "body", 4.0),
        ("reading", "grip", 2.0),
    ]
    assert [part.said for part in parts] == ["silky", "thick", "dries"]


@pytest.mark.parametrize(
    ("said", "reading"),
    [
        ("body 4", ("body", 4.0)),
        ("body 3.5", ("body", 3.5)),
        ("thin", ("body", 1.0)),
        ("grip slight", ("grip", 2.0)),
        ("strong bitterness", ("bitterness", 4.0)),
        ("bitterness", ("bitterness", 3.0)),
        ("no bitterness", ("bitterness", 0.0)),
        ("not bitter", ("bitterness", 0.0)),
        ("long finish", ("finish", 4.0)),
        ("huígān rises late", ("huigan", 4.0)),
        ("huigan 5", ("huigan", 5.0)),
        ("no huigan", ("huigan", 0.0)),
        ("throat goes deep", ("throat", 5.0)),
        ("very smooth", ("surface", 5.0)),
        ("silkey", ("surface", 5.0)),
        ("涩", ("grip", 3.0)),
    ],
)
def test_a_reading_is_said_in_many_ways(said: str, reading: tuple[str, float]) -> None:
    assert _readings(said, *TEXTURE) == [reading]


@pytest.mark.parametrize("said", ["body"])
def test_a_reading_that_makes_no_sense_stays_as_said(said: str) -> None:
    (part,) = _say(said, *TEXTURE)

    assert (part.kind, part.said) == ("remark", said)


def test_a_number_that_is_no_place_on_a_scale_is_not_taken_for_one() -> None:
    assert _readings("thick 9", *TEXTURE) == [("body", 4.0)]


def test_a_plain_word_of_a_scale_is_a_reading_anywhere_and_says_whether_it_was_asked_for() -> None:
    assert [(part.key, part.value, part.asked) for part in _say("silky")] == [("surface", 5.0, False)]
    assert [(part.key, part.value, part.asked) for part in _say("silky", "surface")] == [("surface", 5.0, True)]


@pytest.mark.parametrize("said", ["long", "round", "light", "dry"])
def test_a_word_of_a_scale_that_means_much_else_needs_its_scale_or_the_mouth(said: str) -> None:
    assert [part.kind for part in _say(said)] == ["remark"]
    assert [part.kind for part in _say(said, *TEXTURE)] == ["reading"]


def test_what_is_said_of_the_mouth_is_a_reading_anywhere() -> None:
    assert _readings("mouthfeel light and dry") == [("body", 2.0), ("grip", 3.0)]


def test_a_scale_that_is_asked_for_comes_before_a_descriptor_of_the_same_word() -> None:
    assert [part.kind for part in _say("brothy, vegetable broth")] == ["reading", "descriptor"]
    assert _readings("sweet, sweet potato", "sweetness") == [("sweetness", 3.0), ("baked-sweet-potato", None)]


@pytest.mark.parametrize(
    ("said", "seconds"),
    [("finish 40 s", 40.0), ("40 s", 40.0), ("1.5 min", 90.0), ("lasts 2 minutes", 120.0), ("length 35", 35.0)],
)
def test_a_finish_is_timed(said: str, seconds: float) -> None:
    assert _readings(said, *FINISH) == [("finish_length_s", seconds)]


def test_a_finish_with_both_scales_is_placed_by_a_number_and_timed_by_seconds() -> None:
    assert _readings("finish 4, finish 40 s", "finish", "finish_length_s") == [
        ("finish", 4.0),
        ("finish_length_s", 40.0),
    ]


def test_a_time_beyond_an_hour_is_not_believed() -> None:
    assert [part.kind for part in _say("finish 90 minutes", *FINISH)] == ["remark"]


def test_the_strength_of_the_cup_is_told_from_strength_beside_a_word() -> None:
    assert _readings("strong", "strength", "bitterness") == [("strength", 4.0)]
    assert _readings("strong bitterness", "strength", "bitterness") == [("bitterness", 4.0)]


# -- clarity -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "term"),
    [
        ("clear", "clear"),
        ("very clear", "clear"),
        ("hazy", "dim"),
        ("slightly cloudy", "dim"),
        ("not clear", "dim"),
        ("no haze at all", "clear"),
        ("nearly clear", "clear"),
        ("brillant", "brilliant"),
        ("清澈", "clear"),
    ],
)
def test_clarity_is_said_in_the_trades_terms(said: str, term: str) -> None:
    (part,) = _say(said, clarity=True)

    assert (part.kind, part.key, part.intensity, part.value) == ("clarity", term, None, None)


def test_clarity_takes_no_number() -> None:
    (part,) = _say("clear 4", clarity=True)

    assert (part.kind, part.said) == ("remark", "clear 4")


def test_clarity_is_not_heard_where_it_is_not_asked_for() -> None:
    assert [part.kind for part in _say("hazy")] == ["remark"]


# -- speed -------------------------------------------------------------------------------------------------------------


def test_a_line_of_sixty_letters_is_understood_in_less_than_5_ms() -> None:
    line = "a silky liquor with orchid and a little wet slate, unknwon x"
    understand(line, WORDS, scales=TEXTURE)

    taken_s = []
    for _ in range(5):
        begun_s = time.perf_counter()
        understand(line, WORDS, scales=TEXTURE)
        taken_s.append(time.perf_counter() - begun_s)

    assert min(taken_s) < 0.005
