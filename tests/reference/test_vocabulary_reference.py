"""The trade's terms of GB/T 14487 (tea vocabulary for sensory evaluation) can be said in English, Chinese and pinyin.

`data/gbt14487_terms.csv` says of each term whether the pair of English and Chinese was seen or is from memory. Covered
here: aroma, faults, clarity and colour of the liquor, taste, mouthfeel and aftertaste, two colours of the infused leaf.
Left out: the shape of dry and infused leaf (looked at, not named as notes). The value that a term has on a scale, and
the region that a colour has, are our own reading of it; held against the standard is that the term is known, and means
the same in every tongue.

Names of colours are also held against CSS Color Module Level 4 (W3C), whose named colours have sRGB values: a liquor or
a leaf called olive, tan or gold is duller than the colour of that name, but of its hue.
"""

from __future__ import annotations

import re

import pytest
from coloraide import Color

from tastebook.domain.colour_words import ColourName
from tastebook.domain.spelling import plain
from tastebook.domain.vocabulary import ScaleWord
from tests.reference.published import rows
from tests.words import real_vocabulary

TERMS = rows("gbt14487_terms.csv")

QUALITIES_OF_AROMA = {"pure and normal": "aroma", "high": "aroma", "plain": "aroma", "persistent": "lasting"}
"""How much there is to smell and how long: readings, no notes."""

NO_SMELL = {
    "burnt core": "looked at in the pressed brick",
    "harsh": "a taste, on the scale of grip",
}
NO_SCALE = {
    "clean finish": "says that nothing stays, not how much",
    "soft": "the standard's lack of briskness; our `soft` is a surface",
}
NOT_WHILE_HOT = {"cream down": "clouding on cooling, a sign of strength"}

NO_COLOUR = {
    "light": "a depth, said before a colour",
    "deep": "a depth, said before a colour",
    "coloury": "useful depth and strength: no hue",
    "red and brilliant": "a clarity beside a colour",
    "red and clear": "a clarity beside a colour",
    "yellow dull": "a clarity beside a colour",
    "bluish dull": "a clarity beside a colour",
    "red liquor (fault)": "a judgement of the colour, not its name",
    "slight red": "a cast over another colour",
    "vivid green": "the liquor of green tea only, near our yellowish green",
    "ginger yellow": "black tea with milk",
}

NAMED_IN_CSS = [
    ("leaf", "olive green", "olive"), ("leaf", "dark green", "darkgreen"), ("leaf", "tan", "tan"),
    ("leaf", "purple", "purple"), ("leaf", "golden", "goldenrod"), ("leaf", "copper", "peru"),
    ("leaf", "rust brown", "sienna"), ("leaf", "yellow-green", "yellowgreen"), ("leaf", "blue-green", "teal"),
    ("liquor", "gold", "gold"), ("liquor", "orange", "darkorange"), ("liquor", "dark red", "maroon"),
    ("liquor", "olive", "olive"), ("liquor", "ivory", "ivory"), ("leaf", "black", "black"),
    ("leaf", "silver", "silver"), ("leaf", "grey", "gray"), ("leaf", "white", "white"),
]  # fmt: skip
"""Surface, our name, the name in CSS. Copper and rust have none there: peru and sienna are the nearest in hue."""

HUE_APART_DEG = 20
NEUTRAL_CHROMA = 8

STATUS = {"GB/T 14487 pair seen": "GB/T 14487 pair seen", "memory": "from memory"}


def _of(*categories: str) -> list[dict[str, str]]:
    return [row for row in TERMS if row["category"] in categories]


def _spoken(row: dict[str, str]) -> list[str]:
    """Return a term in English, Chinese and pinyin, as far as it has them; a remark in brackets is left away."""
    chinese = re.sub(r"\(.*?\)", "", row["term_zh"]) or row["term_zh"].strip("()")
    return [row["term_en"]] if row["pinyin"] == "-" else [row["term_en"], chinese, row["pinyin"]]


def _named(row: dict[str, str]) -> str:
    return row["term_en"]


COLOURS = [row for row in _of("liquor colour") if row["term_en"] not in NO_COLOUR]
AROMA_NOTES = [row for row in _of("aroma") if row["term_en"] not in QUALITIES_OF_AROMA]
AROMA_QUALITIES = [row for row in _of("aroma") if row["term_en"] in QUALITIES_OF_AROMA]
FAULTS_OF_SMELL = [row for row in _of("fault") if row["term_en"] not in NO_SMELL]
CLARITIES = [row for row in _of("liquor clarity") if row["term_en"] not in NOT_WHILE_HOT]
IN_THE_MOUTH = [row for row in _of("taste", "mouthfeel", "aftertaste") if row["term_en"] not in NO_SCALE]


def test_the_table_holds_the_terms_that_were_gathered() -> None:
    assert len(TERMS) == 122
    assert len(AROMA_NOTES) == 11
    assert len(FAULTS_OF_SMELL) == 16


@pytest.mark.parametrize("row", AROMA_NOTES, ids=_named)
def test_a_note_of_aroma_is_found_in_every_tongue(row: dict[str, str]) -> None:
    found = [real_vocabulary().find(words) for words in _spoken(row)]

    assert None not in found
    assert len({descriptor.key for descriptor in found if descriptor}) == 1


@pytest.mark.parametrize("row", FAULTS_OF_SMELL, ids=_named)
def test_a_fault_that_is_a_smell_is_found_in_every_tongue_and_is_a_taint(row: dict[str, str]) -> None:
    found = [real_vocabulary().find(words) for words in _spoken(row)]

    assert None not in found
    assert len({descriptor.key for descriptor in found if descriptor}) == 1
    assert all(descriptor.taint for descriptor in found if descriptor)


@pytest.mark.parametrize("row", AROMA_NOTES + FAULTS_OF_SMELL, ids=_named)
def test_a_term_says_where_its_chinese_is_from(row: dict[str, str]) -> None:
    descriptor = real_vocabulary().find(row["term_en"])

    assert descriptor is not None
    assert descriptor.source == STATUS[row["status"]]


@pytest.mark.parametrize("row", AROMA_QUALITIES, ids=_named)
def test_a_quality_of_aroma_is_a_reading_in_every_tongue(row: dict[str, str]) -> None:
    scale = QUALITIES_OF_AROMA[row["term_en"]]

    found = [real_vocabulary().scale_words(words, {scale}) for words in _spoken(row)]

    assert all(found)


@pytest.mark.parametrize("row", CLARITIES, ids=_named)
def test_a_term_of_clarity_is_known_in_every_tongue(row: dict[str, str]) -> None:
    found = {clarity and clarity.term for words in _spoken(row) for clarity in [real_vocabulary().clarity(words)]}

    assert len(found) == 1
    assert None not in found


@pytest.mark.parametrize("row", IN_THE_MOUTH, ids=_named)
def test_a_term_of_the_mouth_is_on_one_scale_in_every_tongue(row: dict[str, str]) -> None:
    every_scale = {scale.key for scale in real_vocabulary().scales if not scale.unit}

    found = [real_vocabulary().scale_words(words, every_scale) for words in _spoken(row)]

    assert all(found)
    assert set.intersection(*({word.scale.key for word in words} for words in found))


@pytest.mark.parametrize("row", IN_THE_MOUTH, ids=_named)
def test_a_term_of_the_mouth_means_the_same_value_in_every_tongue(row: dict[str, str]) -> None:
    every_scale = {scale.key for scale in real_vocabulary().scales if not scale.unit}

    said = [real_vocabulary().scale_words(words, every_scale) for words in _spoken(row)]

    assert set.intersection(*({_place(word) for word in words} for words in said))


def _place(word: ScaleWord) -> tuple[str, float | None]:
    return (word.scale.key, word.scale.named if word.value is None else word.value)


# -- colours -----------------------------------------------------------------------------------------------------------


def _colours(words: str, of: str) -> set[str]:
    """Return the names of the colours that are called so."""
    every = (one for one in real_vocabulary().colours if one.of == of)
    return {one.name for one in every if plain(words) in map(plain, one.terms)}


@pytest.mark.parametrize("row", COLOURS, ids=_named)
def test_a_colour_of_the_liquor_is_one_region_in_every_tongue(row: dict[str, str]) -> None:
    found = [_colours(words, "liquor") for words in _spoken(row)]

    assert all(found)
    assert set.intersection(*found)


@pytest.mark.parametrize(("english", "chinese"), [("red edge", "红边"), ("coppery", "铜红")])
def test_a_colour_of_the_infused_leaf_is_one_region_in_both_tongues(english: str, chinese: str) -> None:
    assert {row["term_zh"] for row in _of("infused leaf") if row["term_en"] == english} == {chinese}

    assert _colours(english, "leaf") == _colours(chinese, "leaf") != set()


@pytest.mark.parametrize(("of", "name", "css"), NAMED_IN_CSS)
def test_a_colour_is_of_the_hue_that_css_gives_its_name(of: str, name: str, css: str) -> None:
    (ours,) = [one for one in real_vocabulary().colours if (one.of, one.name) == (of, name)]
    theirs = Color(css).convert("lch-d65")

    hue, chroma = _hue_and_chroma(ours)

    if theirs["chroma"] < NEUTRAL_CHROMA / 2:
        assert chroma <= NEUTRAL_CHROMA
    else:
        apart_deg = abs(hue - theirs["hue"]) % 360
        assert min(apart_deg, 360 - apart_deg) <= HUE_APART_DEG


def _hue_and_chroma(colour: ColourName) -> tuple[float, float]:
    seen = Color("lab-d65", colour.lab).convert("lch-d65")
    return seen["hue"], seen["chroma"]
