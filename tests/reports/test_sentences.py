from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.arc import FamilyArc, arcs
from tastebook.domain.session import Lab, Tasting
from tastebook.reports.sentences import (
    at_words,
    duration_words,
    family_sentence,
    liquor_phrase,
    overall_sentence,
    scale_phrase,
    sentences,
    steep_phrase,
)
from tests.domain.building import family_of, poured, said, tasted, tasting

AMBER_GOLD: Lab = (75.0, 9.573, 55.173)
PALE_STRAW: Lab = (91.0, -3.97, 20.5)


def _arc(*strengths: float | None, clouded: tuple[int, ...] = ()) -> FamilyArc:
    return FamilyArc(
        family="floral",
        strengths=strengths,
        shares=(None,) * len(strengths),
        clouded=tuple(index in clouded for index in range(1, len(strengths) + 1)),
        trend=None,
        descriptor="orchid",
        word="orchid",
        descriptor_intensity=3,
    )


@pytest.mark.parametrize(
    ("strengths", "told"),
    [
        ((3, 2, 2, 1, 1, 0), "is strongest at 1 and gone after 5"),
        ((3, 3, 2, 1, 1, 0), "is strongest at 1 and 2, and gone after 5"),
        ((0, 1, 3, 4), "arrives at 2 and peaks at 4"),
        ((0, 1, 3, 4, 4, 2, 1, 0), "arrives at 2, peaks at 4 and 5, and is gone after 7"),
        ((1, 3, 4, 5, 4, 3, 2, 1), "peaks at 4 and is still there at 8"),
        ((0, 0, 3, 2, 2, 1), "arrives at 3, is strongest at once, and still there at 6"),
        ((0, 0, 3, 3, 3, 1), "arrives at 3, peaks at 3 to 5, and is still there at 6"),
        ((0, 0, 0, 2, 0), "shows at 4 only"),
        ((2, 2, 2, 2), "stays alike at 1 to 4"),
        ((3, 0, 2, 0), "is strongest at 1, absent at 2, and gone after 3"),
        ((3,), "is there at 1, the only infusion assessed"),
        ((None, 3, None), "is there at 2, the only infusion assessed"),
    ],
)
def test_a_family_s_story_is_told_as_one_would_say_it(strengths: tuple[float | None, ...], told: str) -> None:
    assert family_sentence(_arc(*strengths), "Floral") == f"Floral {told}."


@pytest.mark.parametrize(
    ("strengths", "told"),
    [
        ((0, None, 3, 4), "is first noted at 3 and peaks at 4"),
        ((None, 2, 3, 4), "peaks at 4"),
        ((4, 3, None, 0), "is strongest at 1 and last noted at 2"),
        ((4, 3, None, None), "is strongest at 1 and still there at 2"),
        ((4, None, 2, 0), "is strongest at 1 and gone after 3"),
    ],
)
def test_a_gap_is_never_told_as_an_absence(strengths: tuple[float | None, ...], told: str) -> None:
    assert family_sentence(_arc(*strengths), "Floral") == f"Floral {told}."


def test_a_clouded_reading_is_told() -> None:
    told = family_sentence(_arc(3, 2, 0, clouded=(2,)), "Roasted")

    assert told == "Roasted is strongest at 1 and gone after 2 (clouded or doubtful at 2)."


@given(st.lists(st.one_of(st.none(), st.integers(0, 5)), min_size=1, max_size=12).filter(any))
def test_no_sentence_claims_more_than_was_assessed(strengths: list[int | None]) -> None:
    arc = _arc(*strengths)

    told = family_sentence(arc, "Floral")

    if "gone after" in told:
        assert strengths[arc.fade] == 0
    if "arrives at" in told:
        assert strengths[arc.onset - 2] == 0
    assert ("still there" in told) <= (arc.fade == arc.assessed[-1])
    assert "None" not in told


def test_families_are_told_in_the_order_in_which_they_speak() -> None:
    one = tasted([said("orchid", 1, 1), said("orchid", 3, 2), said("toasted rice", 3, 1), said("toasted rice", 1, 2)])

    told = sentences(arcs(one, family_of), str.title)

    assert told == ("Roasted is strongest at 1 and still there at 2.", "Floral peaks at 2.")


def test_where_there_is_most_aroma_is_told_once_there_is_something_to_compare() -> None:
    two = tasted([said("orchid", 1, 1), said("orchid", 3, 2)])
    one = tasted([said("orchid", 1, 1)])

    assert overall_sentence(arcs(two, family_of)) == "There is most aroma at 2."
    assert overall_sentence(arcs(one, family_of)) == ""
    assert overall_sentence(()) == ""


@pytest.mark.parametrize(
    ("indices", "words"),
    [((3,), "3"), ((4, 5), "4 and 5"), ((3, 4, 5), "3 to 5"), ((1, 3), "1 and 3"), ((1, 3, 4, 6), "1, 3, 4 and 6")],
)
def test_infusions_are_listed_as_one_says_them(indices: tuple[int, ...], words: str) -> None:
    assert at_words(indices) == words


def _with_liquors(*liquors: Lab | None) -> Tasting:
    cups = tuple(poured(index, liquor=liquor) for index, liquor in enumerate(liquors, start=1))
    return replace(tasting(), infusions=cups)


def test_the_deepest_and_the_palest_cup_are_told() -> None:
    assert liquor_phrase(_with_liquors(PALE_STRAW, None, AMBER_GOLD)) == "amber gold at 3, pale straw at 1"


def test_cups_that_nobody_can_tell_apart_are_told_as_one() -> None:
    lightness, a, b = AMBER_GOLD

    assert liquor_phrase(_with_liquors(AMBER_GOLD, (lightness, a, b + 0.4), None)) == "amber gold at 1 and 2"


def test_a_liquor_that_was_never_judged_is_not_told() -> None:
    assert liquor_phrase(_with_liquors(None, None)) == ""


def test_the_rinse_is_no_liquor() -> None:
    assert liquor_phrase(replace(tasting(), infusions=(poured(0, liquor=AMBER_GOLD),))) == ""


def test_all_the_time_in_water_is_told_without_the_rinse() -> None:
    cups = (poured(0, actual_ms=5_000), poured(1, actual_ms=20_400), poured(2, actual_ms=99_700))

    assert steep_phrase(replace(tasting(), infusions=cups)) == "2 min in all"


def test_before_the_first_pour_no_time_is_told() -> None:
    assert steep_phrase(tasting()) == ""


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ((3, 3, 4, 4, 4, 3), "4 at 3 to 5"),
        ((None, 2, None), "2 at 2"),
        ((0, 0), "0 at 1 and 2"),
        ((None, None), ""),
        ((), ""),
    ],
)
def test_a_scale_is_told_where_it_reads_highest(values: tuple[float | None, ...], told: str) -> None:
    assert scale_phrase(values, lambda value: f"{value:g}") == told


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (0, "0 s"), (36, "36 s"), (60, "1 min"), (510, "8 min 30 s"), (3600, "1 h"), (4320, "1 h 12 min"),
        (28_800, "8 h"), (3601, "1 h"),
    ],
)  # fmt: skip
def test_a_length_of_time_is_told_as_one_says_it(seconds: int, words: str) -> None:
    assert duration_words(seconds) == words
