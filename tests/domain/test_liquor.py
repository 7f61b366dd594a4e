from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.colour import delta_e00, in_gamut
from tastebook.domain.errors import QuantityError
from tastebook.domain.liquor import (
    ACCEPTED_E00,
    MUCH_E00,
    SEEN_E00,
    adjusted,
    can_adjust,
    change,
    change_words,
    chart,
    colour_name,
    nearest_swatch,
    swatch_name,
)
from tastebook.domain.session import Lab
from tests.reference.published import rows

PLACES = [(row, column) for row in range(6) for column in range(10)]
AMBER_GOLD = (2, 6)
tea_labs = st.tuples(st.floats(20, 96), st.floats(-15, 45), st.floats(5, 62))
places = st.sampled_from(PLACES)


def _swatch(place: tuple[int, int]) -> Lab:
    return chart()[place[0]][place[1]]


def test_the_chart_has_six_depths_of_ten_hues() -> None:
    assert [len(row) for row in chart()] == [10] * 6


def test_every_swatch_can_be_shown_on_a_screen() -> None:
    assert all(in_gamut(_swatch(place)) for place in PLACES)


def test_every_row_is_of_one_depth_and_deeper_than_the_row_above() -> None:
    depths = [{swatch[0] for swatch in row} for row in chart()]

    assert depths == [{91}, {84}, {75}, {64}, {50}, {35}]


@pytest.mark.parametrize("row", range(6))
def test_along_a_row_every_swatch_is_redder_than_the_one_before(row: int) -> None:
    reds = [swatch[1] for swatch in chart()[row]]

    assert reds == sorted(set(reds))


def test_no_two_swatches_are_too_alike_to_tell_apart() -> None:
    # The limit is that of Paravina et al. 2015: 50:50 perceptibility.
    swatches = [_swatch(place) for place in PLACES]

    nearest = min(delta_e00(a, b) for number, a in enumerate(swatches) for b in swatches[:number])

    assert nearest > SEEN_E00


@pytest.mark.parametrize("place", PLACES)
def test_every_swatch_is_nearest_to_itself(place: tuple[int, int]) -> None:
    assert nearest_swatch(_swatch(place)) == place


@given(tea_labs, places)
def test_no_swatch_is_nearer_than_the_nearest(lab: Lab, other: tuple[int, int]) -> None:
    assert delta_e00(lab, _swatch(nearest_swatch(lab))) <= delta_e00(lab, _swatch(other))


def test_every_swatch_has_a_name_of_its_own() -> None:
    assert len({swatch_name(*place) for place in PLACES}) == len(PLACES)


@pytest.mark.parametrize(
    "term",
    [
        "yellowish green", "greenish yellow", "pale yellow", "clear yellow", "golden", "deep yellow", "orange yellow",
        "orange red", "dark red",
    ],
)  # fmt: skip
def test_the_standard_s_colours_are_on_the_chart(term: str) -> None:
    # GB/T 14487, pairs seen.
    seen = {row["term_en"] for row in rows("gbt14487_liquor.csv") if row["status"] == "GB/T 14487 pair seen"}

    assert term in seen
    assert term in {swatch_name(*place) for place in PLACES}


def test_a_swatch_is_called_by_its_name() -> None:
    assert colour_name(_swatch(AMBER_GOLD)) == "amber gold"


def test_a_cup_beside_a_swatch_takes_its_name() -> None:
    lightness, a, b = _swatch(AMBER_GOLD)

    assert colour_name((lightness - 0.6, a + 0.4, b - 0.5)) == "amber gold"


def test_a_cup_like_water_is_called_almost_colourless() -> None:
    assert colour_name((98.0, -0.5, 2.0)) == "almost colourless"


def test_a_cup_darker_than_the_chart_reaches_is_said_to_be_near_black() -> None:
    assert colour_name((18.0, 14.0, 12.0)).startswith("near-black ")


@given(places, st.sampled_from([-1.0, -0.5, 0.5, 1.0]), st.integers(1, 12))
def test_steps_there_and_back_end_where_they_began(place: tuple[int, int], step: float, times: int) -> None:
    start = lab = _swatch(place)
    taken = 0

    while taken < times and can_adjust(lab, d_b=step):
        lab = adjusted(lab, d_b=step)
        taken += 1
    for _ in range(taken):
        lab = adjusted(lab, d_b=-step)

    assert lab == start


@given(places, st.floats(-40, 40), st.floats(-40, 40), st.floats(-40, 40))
def test_what_was_adjusted_can_still_be_shown(place: tuple[int, int], d_l: float, d_a: float, d_b: float) -> None:
    if can_adjust(_swatch(place), d_l, d_a, d_b):
        assert in_gamut(adjusted(_swatch(place), d_l, d_a, d_b))
    else:
        with pytest.raises(QuantityError, match="No screen can show"):
            adjusted(_swatch(place), d_l, d_a, d_b)


@given(tea_labs, tea_labs)
def test_the_words_grow_with_the_difference(lab_from: Lab, lab_to: Lab) -> None:
    # 0.8 and 1.8: Paravina et al. 2015, 50:50 perceptibility and acceptability; 12 is ours.
    difference = delta_e00(lab_from, lab_to)

    extent = change(lab_from, lab_to).extent

    assert (extent == "no visible change") == (difference < 0.8)
    assert (extent == "barely") == (0.8 <= difference <= 1.8)
    assert (extent == "a shade") == (1.8 < difference < 12)


def test_the_limits_are_those_of_the_study() -> None:
    assert (SEEN_E00, ACCEPTED_E00) == (0.8, 1.8)
    assert MUCH_E00 > ACCEPTED_E00


@pytest.mark.parametrize(
    ("lab_to", "words"),
    [
        ((75.0, 4.0, 55.0), "no visible change"),
        ((75.5, 4.0, 55.0), "no visible change"),
        ((76.8, 4.0, 55.0), "barely lighter"),
        ((73.0, 4.0, 55.0), "barely deeper"),
        ((68.0, 4.0, 55.0), "a shade deeper"),
        ((68.0, 10.0, 55.0), "a shade deeper, redder"),
        ((80.0, 4.0, 40.0), "a shade lighter, less yellow"),
        ((75.0, 10.0, 55.0), "a shade redder"),
        ((75.0, 1.0, 55.0), "a shade less red"),
        ((75.0, -4.0, 55.0), "a shade greener"),
        ((50.0, 4.0, 55.0), "much deeper"),
    ],
)
def test_a_change_is_told_as_one_would_say_it(lab_to: Lab, words: str) -> None:
    assert change_words((75.0, 4.0, 55.0), lab_to) == words


@pytest.mark.parametrize(
    ("lab_from", "lab_to", "words"),
    [
        ((84.0, -9.0, 38.0), (84.0, -5.0, 38.0), "a shade less green"),
        ((95.0, 0.0, -3.0), (95.0, 0.0, -1.0), "a shade less blue"),
        ((95.0, 0.0, 1.0), (95.0, 0.0, -1.0), "a shade bluer"),
        ((95.0, 0.0, 1.0), (95.0, 0.0, 2.5), "barely yellower"),
    ],
)
def test_a_pale_liquor_is_called_bluer_or_greener_only_if_it_is(lab_from: Lab, lab_to: Lab, words: str) -> None:
    assert change_words(lab_from, lab_to) == words


def test_a_change_names_what_it_is_measured_from() -> None:
    assert change((75.0, 4.0, 55.0), (68.0, 4.0, 55.0)).since("2") == "a shade deeper than 2"
    assert change((75.0, 4.0, 55.0), (75.0, 4.0, 55.0)).since("2") == "no visible change since 2"


@given(tea_labs, tea_labs)
def test_no_change_is_called_deeper_that_is_lighter(lab_from: Lab, lab_to: Lab) -> None:
    words = change(lab_from, lab_to).directions

    assert "deeper" not in words or lab_to[0] < lab_from[0]
    assert "lighter" not in words or lab_to[0] > lab_from[0]
    assert "redder" not in words or lab_to[1] > lab_from[1]
    assert len(words) <= 2


@given(tea_labs, tea_labs)
def test_whatever_can_be_seen_has_a_direction(lab_from: Lab, lab_to: Lab) -> None:
    seen = change(lab_from, lab_to)

    assert bool(seen.directions) == (seen.extent != "no visible change")
