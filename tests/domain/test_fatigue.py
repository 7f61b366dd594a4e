from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.errors import QuantityError
from tastebook.domain.fatigue import BREAK_AFTER, REST_S, break_words, is_break_due, rest_left_s, rest_words


def test_the_rest_is_the_longer_of_the_two_that_were_tried() -> None:
    # Guinard, Pangborn & Lewis 1986, Am. J. Enol. Vitic. 37:184-189 (abstract seen): astringency at ingestion fell
    # when 40 s instead of 20 s lay between samples.
    assert REST_S == 40


@pytest.mark.parametrize(
    ("since_s", "left_s"), [(None, 0), (0, 40), (0.5, 40), (15, 25), (39.2, 1), (40, 0), (4000, 0), (-30, 40)]
)
def test_the_rest_left_is_counted_in_whole_seconds_down_to_nothing(since_s: float | None, left_s: int) -> None:
    assert rest_left_s(since_s) == left_s


@given(st.floats(0, 7200), st.floats(0, 600), st.floats(40, 3600))
def test_the_rest_left_never_grows_while_one_waits(since_s: float, more_s: float, rest_s: float) -> None:
    assert rest_left_s(since_s + more_s, rest_s) <= rest_left_s(since_s, rest_s) <= math.ceil(rest_s)


@pytest.mark.parametrize("rest_s", [0, 39, -5, math.nan, 1e6])
def test_a_rest_shorter_than_what_was_shown_to_help_is_refused(rest_s: float) -> None:
    with pytest.raises(QuantityError, match=r"^rest between teas cannot be .* from 40 to 3600 s"):
        rest_left_s(10, rest_s)


def test_while_the_palate_rests_the_words_name_crackers_and_water() -> None:
    # Lucak & Delwiche 2009, Chemosens. Percept. 2:32-39 (abstract seen): table water crackers alone worked for all.
    assert rest_words(25) == "Rest the palate for 25 s: plain crackers and water."
    assert rest_words(0) == ""


@pytest.mark.parametrize(("teas", "due"), [(0, False), (BREAK_AFTER - 1, False), (BREAK_AFTER, True), (30, True)])
def test_a_break_is_due_after_a_number_of_teas(teas: int, due: bool) -> None:
    assert is_break_due(teas) is due
    assert bool(break_words(teas)) is due


def test_the_number_is_the_user_s() -> None:
    assert is_break_due(3, break_after=3)
    assert not is_break_due(11, break_after=12)
    assert break_words(1, break_after=1).startswith("1 tea without a break.")


def test_who_wants_no_breaks_gets_none() -> None:
    assert not is_break_due(100, break_after=None)
    assert break_words(100, break_after=None) == ""


def test_the_words_of_a_break_command_nothing() -> None:
    told = break_words(8)

    assert (
        told
        == "8 teas without a break. The palate tires: plain crackers and water, and some minutes away from the table."
    )


@pytest.mark.parametrize("break_after", [0, -1, 101])
def test_a_number_of_teas_that_cannot_be_is_refused(break_after: int) -> None:
    with pytest.raises(QuantityError, match=r"^teas between breaks cannot be .* from 1 to 100"):
        is_break_due(5, break_after)
