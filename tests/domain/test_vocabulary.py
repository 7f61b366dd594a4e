"""The words that ship, and how they are found. Which family a word belongs to: common practice, no source."""

from __future__ import annotations

import time
from copy import deepcopy
from datetime import UTC, datetime, timedelta
from itertools import combinations
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.colour import delta_e00, in_gamut
from tastebook.domain.colour_words import ColourName
from tastebook.domain.errors import VocabularyError
from tastebook.domain.liquor import swatch_names
from tastebook.domain.own_words import with_own
from tastebook.domain.session import CLARITIES, OwnDescriptor
from tastebook.domain.spelling import plain, slug, squeezed
from tastebook.domain.vocabulary import Descriptor, MouthTerm
from tests.words import real_tables, real_vocabulary, vocabulary_of

BASE_TO_TOP = (
    "earthy", "mineral", "woody", "roasted", "spicy", "nutty",
    "sweet", "milky", "fruity", "vegetal", "herbal", "floral",
)  # fmt: skip
NOON_UTC = datetime(2026, 4, 18, 12, 0, tzinfo=UTC)

NAMES_OF_SCALES = {
    squeezed(name) for scale in real_vocabulary().scales for name in (scale.name, scale.short, *scale.names)
}
ANY_DESCRIPTOR = st.sampled_from(real_vocabulary().descriptors)


def _own(name: str, family: str = "", after_s: int = 0) -> OwnDescriptor:
    return OwnDescriptor(f"own-{name}-{after_s}", name, family, NOON_UTC + timedelta(seconds=after_s))


def _tables() -> dict[str, Any]:
    """Return the smallest vocabulary there can be, to be broken in one place."""
    return deepcopy(
        {
            "families": {"families": [{"key": "floral", "name": "Floral", "about": "Blossom."}]},
            "floral": {"name": "floral", "family": "floral", "source": "ours", "descriptors": [{"name": "orchid"}]},
            "scales": {
                "source": "ours",
                "scales": [
                    {
                        "key": "body", "name": "Body", "short": "Body", "low": "thin", "high": "thick",
                        "words": ["a", "b", "c", "d", "e", "f"], "says": {"thick": 4},
                    }
                ],
            },
            "liquor": {"source": "ours", "clarities": [{"term": "clear", "about": "Light passes."}]},
        }
    )  # fmt: skip


# -- what ships --------------------------------------------------------------------------------------------------------


def test_there_are_twelve_families_from_base_to_top() -> None:
    assert tuple(family.key for family in real_vocabulary().families) == BASE_TO_TOP


def test_there_are_more_than_350_descriptors_and_two_dozen_or_more_in_each_family() -> None:
    vocabulary = real_vocabulary()

    counts = {family.key: len(vocabulary.in_family(family.key)) for family in vocabulary.families}

    assert sum(counts.values()) == len(vocabulary.descriptors)
    assert len([one for one in vocabulary.descriptors if not one.taint]) >= 350
    assert min(counts.values()) >= 24


def test_there_are_sixty_faults_or_more_each_with_what_usually_causes_it() -> None:
    faults = [one for one in real_vocabulary().descriptors if one.taint]

    assert len(faults) >= 60
    assert all(one.cause.endswith((".", ":")) for one in faults)


def test_there_are_sixty_terms_of_mouth_and_finish_or_more_each_with_its_meaning() -> None:
    terms = real_vocabulary().mouth_terms

    assert len(terms) >= 60
    assert all(term.about and term.source for term in terms)
    assert {"body", "surface", "grip", "huigan", "mouth_watering", "throat", "finish"} <= {term.scale for term in terms}


@given(st.sampled_from(real_vocabulary().mouth_terms), st.data())
def test_a_term_of_the_mouth_stands_on_its_scale_in_every_tongue(term: MouthTerm, data: st.DataObject) -> None:
    words = data.draw(st.sampled_from([one for one in term.terms if squeezed(one) not in NAMES_OF_SCALES]))

    (found,) = real_vocabulary().scale_words(words, {term.scale})

    assert found.value == term.value


@given(ANY_DESCRIPTOR)
def test_a_key_is_the_slug_of_the_english_name(descriptor: Descriptor) -> None:
    assert descriptor.key == slug(descriptor.name)


@given(ANY_DESCRIPTOR)
def test_chinese_and_pinyin_come_together(descriptor: Descriptor) -> None:
    assert bool(descriptor.zh) == bool(descriptor.pinyin)


@given(ANY_DESCRIPTOR)
def test_a_source_is_told_of_every_word(descriptor: Descriptor) -> None:
    assert descriptor.source


def test_every_family_has_a_word_of_its_own_name() -> None:
    found = [real_vocabulary().descriptor(key).family for key in BASE_TO_TOP]

    assert tuple(found) == BASE_TO_TOP


def test_taints_come_last_in_their_family_and_say_their_cause() -> None:
    roasted = real_vocabulary().in_family("roasted")

    assert [one.taint for one in roasted] == sorted(one.taint for one in roasted)
    assert real_vocabulary().descriptor("scorched").cause


def test_clarities_are_those_of_the_session_best_first() -> None:
    assert tuple(clarity.term for clarity in real_vocabulary().clarities) == CLARITIES


def test_scales_have_a_word_for_each_step_or_a_unit() -> None:
    for scale in real_vocabulary().scales:
        assert len(scale.words) == (0 if scale.unit else 6)


def test_the_body_scales_say_what_one_notices_and_promise_nothing() -> None:
    body = [scale for scale in real_vocabulary().scales if scale.channel == "body"]

    assert {scale.key for scale in body} == {"warmth", "calm", "alertness"}
    assert all("not what the tea does" in scale.about for scale in body)


def test_what_is_said_of_a_scale_is_its_own_word() -> None:
    grip = real_vocabulary().scale("grip")

    assert [grip.word_for(value) for value in (0, 2, 5)] == ["none", "slight", "puckering"]
    assert grip.word_for(7) == "puckering"
    assert real_vocabulary().scale("finish_length_s").word_for(40) == ""


# -- colours -----------------------------------------------------------------------------------------------------------


@given(st.sampled_from(real_vocabulary().colours))
def test_a_colour_is_a_region_that_a_screen_can_show(colour: ColourName) -> None:
    assert in_gamut(colour.lab)
    assert 3 <= colour.radius_e00 <= 12


def test_every_swatch_of_the_chart_can_be_said() -> None:
    said = {name for colour in real_vocabulary().colours if colour.of == "liquor" for name in colour.terms}

    assert set(swatch_names()) <= said


def test_the_regions_of_the_leaf_are_apart() -> None:
    leaf = [one for one in real_vocabulary().colours if one.of == "leaf"]

    for first, second in combinations(leaf, 2):
        assert delta_e00(first.lab, second.lab) > 3, (first.name, second.name)


# -- guessing ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "family"),
    [
        ("cloudberry", "fruity"),
        ("roast parsley", "herbal"),
        ("salt marsh flower", "floral"),
        ("umbrella", ""),
        ("", ""),
    ],
)
def test_a_new_word_is_guessed_into_a_family_where_something_speaks_for_one(words: str, family: str) -> None:
    assert real_vocabulary().guess_family(words) == family


@given(st.text("aeiouxlnrs 香", max_size=3) | st.sampled_from(["peach", "lóng", "song", "花香"]))
def test_what_begins_with_some_letters_is_found_as_by_looking_at_every_name(letters: str) -> None:
    vocabulary, wanted = real_vocabulary(), plain(letters)

    looked = {one.key for one in vocabulary.descriptors if any(plain(term).startswith(wanted) for term in one.terms)}

    assert {one.key for one in vocabulary.begun_with(wanted)} == looked


# -- finding -----------------------------------------------------------------------------------------------------------


@given(ANY_DESCRIPTOR, st.data())
def test_every_english_or_chinese_term_finds_its_descriptor(descriptor: Descriptor, data: st.DataObject) -> None:
    term = data.draw(st.sampled_from([one for one in descriptor.terms if one != descriptor.pinyin]))

    assert real_vocabulary().find(term) is descriptor
    assert real_vocabulary().find(term.upper()) is descriptor
    assert real_vocabulary().find(term.replace(" ", "-")) is descriptor


@given(ANY_DESCRIPTOR.filter(lambda one: bool(one.pinyin)))
def test_pinyin_with_its_tones_finds_its_descriptor(descriptor: Descriptor) -> None:
    assert real_vocabulary().find(descriptor.pinyin) is descriptor


@pytest.mark.parametrize(
    ("words", "key"),
    [
        ("White-Peach", "white-peach"),
        ("whitepeach", "white-peach"),
        ("peaches", "peach"),
        ("pea shoots", "pea-shoot"),
        ("strawberries", "strawberry"),
        ("oat", "porridge"),
        ("smoky", "smoke"),
        ("creme fraiche", "sour-cream"),
        ("gui hua xiang", "osmanthus"),
        ("guihua", "osmanthus"),
        ("桂花", "osmanthus"),
        ("兰花香", "orchid"),
    ],
)
def test_a_word_is_found_however_it_is_written(words: str, key: str) -> None:
    found = real_vocabulary().find(words)

    assert found is not None
    assert found.key == key


@pytest.mark.parametrize("words", ["", "  ", "umbrella", "peach umbrella", "…", "的"])
def test_what_nobody_knows_is_not_found(words: str) -> None:
    assert real_vocabulary().find(words) is None


def test_tones_tell_scorched_from_fermented() -> None:
    scorched, fermented = real_vocabulary().find("jiāo qì"), real_vocabulary().find("jiào qì")

    assert scorched is real_vocabulary().descriptor("scorched")
    assert fermented is real_vocabulary().descriptor("fermented-odour")


@pytest.mark.parametrize(
    ("slip", "key"),
    [("jasmin", "jasmine"), ("osmantus", "osmanthus"), ("appricot", "apricot"), ("lavendar", "lavender")],
)
def test_a_typing_error_finds_what_was_meant_first(slip: str, key: str) -> None:
    matches = real_vocabulary().nearest(slip, limit=3)

    assert matches[0].descriptor.key == key
    assert [match.score for match in matches] == sorted((match.score for match in matches), reverse=True)


@given(st.text(), st.integers(0, 9))
def test_no_more_is_offered_than_asked_for_and_nothing_twice(text: str, limit: int) -> None:
    matches = [match.descriptor.key for match in real_vocabulary().nearest(text, limit)]
    completed = [descriptor.key for descriptor in real_vocabulary().complete(text, limit)]

    assert len(matches) == len(set(matches)) <= limit
    assert len(completed) == len(set(completed)) <= limit


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("jas", "jasmine"), ("white p", "white-peach"), ("ceder", "cedar"), ("osmn", "osmanthus"),
        ("guihu", "osmanthus"), ("pea", "green-pea"), ("sand", "sand"), ("桂花", "osmanthus"),
        ("peech", "peach"),
    ],
)  # fmt: skip
def test_typing_offers_the_most_exact_first(typed: str, first: str) -> None:
    assert real_vocabulary().complete(typed)[0].key == first


def test_typing_the_second_word_of_a_name_offers_it() -> None:
    assert real_vocabulary().descriptor("cedar-bark") in real_vocabulary().complete("bark", limit=12)


@given(ANY_DESCRIPTOR)
def test_typing_a_whole_name_offers_that_descriptor_first(descriptor: Descriptor) -> None:
    assert real_vocabulary().complete(descriptor.name)[0] is descriptor


def test_what_is_not_there_is_refused_by_name() -> None:
    vocabulary = real_vocabulary()

    with pytest.raises(VocabularyError, match="no descriptor “umbrella”"):
        vocabulary.descriptor("umbrella")
    with pytest.raises(VocabularyError, match="no family “metallic”"):
        vocabulary.family("metallic")
    with pytest.raises(VocabularyError, match="no scale “fizz”"):
        vocabulary.scale("fizz")
    assert not vocabulary.has("umbrella")


# -- the user's own words ----------------------------------------------------------------------------------------------


def test_a_word_of_the_users_own_is_found_like_any_other() -> None:
    vocabulary = with_own(real_vocabulary(), [_own("Boat Varnish", "woody")])

    found = vocabulary.find("boat varnishes")

    assert found is not None
    assert (found.key, found.family) == ("boat-varnish", "woody")
    assert found in vocabulary.in_family("woody")
    assert not real_vocabulary().has("boat-varnish")


def test_a_word_without_a_family_waits_for_one() -> None:
    vocabulary = with_own(real_vocabulary(), [_own("boat varnish"), _own("harbour fog", "no such family")])

    assert [one.key for one in vocabulary.in_family("")] == ["boat-varnish", "harbour-fog"]


def test_the_newest_of_an_own_word_counts() -> None:
    told = [_own("harbour fog", "mineral", after_s=60), _own("harbour fog")]

    assert with_own(real_vocabulary(), told).descriptor("harbour-fog").family == "mineral"


def test_what_is_built_in_stays_as_it_is() -> None:
    told = [_own("orchid", "earthy"), _own("White-Peach", "earthy"), _own("buttery", "earthy"), _own("…", "earthy")]

    vocabulary = with_own(real_vocabulary(), told)

    assert vocabulary.descriptors == real_vocabulary().descriptors


# -- lists that contradict themselves ----------------------------------------------------------------------------------


def test_the_smallest_lists_make_a_vocabulary() -> None:
    assert vocabulary_of(_tables()).find("orchids") is not None


@pytest.mark.parametrize(
    ("table", "change", "message"),
    [
        ("families", {"families": []}, "families: a list with at least one"),
        ("floral", {"descriptors": [{"name": "orchid"}, {"name": "Orchid"}]}, "key “orchid” is there twice"),
        (
            "floral",
            {"descriptors": [{"name": "orchid", "synonyms": ["lily"]}, {"name": "lily"}]},
            "both “orchid” and “lily”",
        ),
        ("floral", {"family": "fluffy"}, r"floral: descriptors\[1\].family: “orchid” belongs to “fluffy”"),
        ("floral", {"descriptors": [{"synonyms": ["lily"]}]}, r"floral: descriptors\[1\].name: this entry is needed"),
        ("floral", {"descriptors": [{"name": "orchid", "colour": "red"}]}, "colour: no such entry"),
        ("floral", {"descriptors": [{"name": "orchid", "synonyms": "lily"}]}, "synonyms: a list of words"),
        ("floral", {"descriptors": [{"name": "orchid", "taint": True}]}, "needs both taint = true and a cause"),
        ("floral", {"descriptors": [{"name": 4}]}, "name: words in quotes are needed, not 4"),
        ("floral", {"source": ""}, "source: this entry is needed"),
        ("liquor", {"clarities": [{"term": "foggy", "about": "?"}]}, "“foggy” is not one of brilliant"),
        ("liquor", {"clarities": [{"term": "clear", "about": "?", "synonyms": ["Clear"]}]}, "“clear” is there twice"),
    ],
)
def test_a_list_that_contradicts_itself_is_refused_with_its_place(
    table: str, change: dict[str, Any], message: str
) -> None:
    tables = _tables()
    tables[table] |= change

    with pytest.raises(VocabularyError, match=message):
        vocabulary_of(tables)


def test_a_meaning_of_no_word_or_a_second_one_is_refused() -> None:
    with pytest.raises(VocabularyError, match="meanings: “zeppelin” is the key of no descriptor"):
        vocabulary_of(_tables() | {"meanings": {"meanings": {"zeppelin": "An airship."}}})
    tables = _tables()
    tables["floral"]["descriptors"] = [{"name": "orchid", "about": "A flower."}]
    with pytest.raises(VocabularyError, match="“orchid” is explained in its list already"):
        vocabulary_of(tables | {"meanings": {"meanings": {"orchid": "Another flower."}}})


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"words": ["none"]}, "a word for each of 0 to 5"),
        ({"unit": "min"}, "only “s”"),
        ({"says": {"thick": 6}}, "scales\\[1\\].says.thick: a value from 0 to 5 is needed, not 6"),
        ({"says": {"thick": 4, "Thick": 5}}, "“thick” is there twice"),
        ({"says": ["thick"]}, "words with their values"),
        ({"named": True}, "scales\\[1\\].named: a value from 0 to 5"),
    ],
)
def test_a_scale_that_cannot_be_read_is_refused_with_its_place(change: dict[str, Any], message: str) -> None:
    tables = _tables()
    tables["scales"]["scales"][0] |= change

    with pytest.raises(VocabularyError, match=message):
        vocabulary_of(tables)


@pytest.mark.parametrize(
    ("mouth", "message"),
    [
        ({"name": "thick", "scale": "fizz", "value": 4, "about": "?"}, "“thick” stands on “fizz”, which is no scale"),
        ({"name": "thick", "scale": "body", "value": 2, "about": "?"}, "“thick” is 4 on body, not 2"),
        ({"name": "thick", "scale": "body", "value": 4}, "about: this entry is needed"),
        ({"name": "thick", "scale": "body", "value": 9, "about": "?"}, "a value from 0 to 5"),
    ],
)
def test_a_term_of_the_mouth_that_contradicts_its_scale_is_refused(mouth: dict[str, Any], message: str) -> None:
    tables = _tables() | {"mouth": {"source": "ours", "terms": [mouth]}}

    with pytest.raises(VocabularyError, match=message):
        vocabulary_of(tables)


@pytest.mark.parametrize(
    ("liquor", "message"),
    [
        ({"name": "amber"}, "either a swatch of the chart or a lab"),
        ({"name": "amber", "swatch": "purple rain"}, "either a swatch of the chart or a lab"),
        ({"name": "amber", "lab": [50, 10]}, "three numbers"),
        ({"name": "amber", "swatch": "amber", "synonyms": ["Amber"]}, "“amber” is there twice"),
    ],
)
def test_a_colour_that_is_no_region_is_refused(liquor: dict[str, Any], message: str) -> None:
    leaf = {"name": "olive", "lab": [42, -6, 32]}
    tables = _tables() | {"colours": {"source": "ours", "liquor": [liquor], "leaf": [leaf], "shades": []}}

    with pytest.raises(VocabularyError, match=message):
        vocabulary_of(tables)


def test_the_vocabulary_is_built_in_less_than_80_ms() -> None:
    tables = real_tables()

    taken_s = []
    for _ in range(5):
        begun_s = time.perf_counter()
        vocabulary_of(tables).find("orchid")
        taken_s.append(time.perf_counter() - begun_s)

    assert min(taken_s) < 0.080
