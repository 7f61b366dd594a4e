from __future__ import annotations

import math
import random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.endurance import (
    Endurance,
    agree,
    endurance_from_extraction,
    endurance_from_readings,
    equal_cups,
    told_of_both,
)
from tastebook.domain.errors import QuantityError
from tastebook.domain.extraction import Leaf, Steeped
from tastebook.domain.figures import Range
from tastebook.domain.leaf_learning import LeafBelief, StrengthReading, learn, prior_belief
from tests.domain.shipped_figures import shipped_figures
from tests.domain.tasters import readings_of, strengths_of, true_leaf

FIGURES = shipped_figures("extraction")
STRIP = Leaf("strip")
PRIOR = prior_belief(FIGURES, STRIP)
PLAN = [Steeped(time_s, 90.0) for time_s in (5, *[30] * 20)]
FALLING = [4.0, 3.6, 3.2, 2.9, 2.6]


def _expected(belief: LeafBelief, plan: list[Steeped] = PLAN, **more: Any) -> Endurance:
    return endurance_from_extraction(FIGURES, STRIP, belief, plan, dose_g_per_100ml=5.0, **more)


def test_a_steady_fall_meets_the_floor_where_the_line_does() -> None:
    found = endurance_from_readings([4.0 * 0.8**before for before in range(5)])

    assert found.middle == pytest.approx(1 + math.log(2) / -math.log(0.8), abs=0.01)
    assert found.good_infusions == 4
    assert found.low < found.middle < found.high


@pytest.mark.parametrize("readings", [[], [3.0], [4.0, 3.0, 2.0], [2.0, 4.0, 3.0, 2.0], [None, 4.0, None, 3.0, 2.0]])
def test_fewer_than_three_readings_past_the_peak_are_too_few_to_say(readings: list[float | None]) -> None:
    found = endurance_from_readings(readings)

    assert found.outcome == "too few"
    assert found.good_infusions is None
    assert found.told.startswith("Too few to say")


def test_the_rise_before_the_peak_does_not_count() -> None:
    risen = endurance_from_readings([1.0, 2.5, *FALLING])

    assert risen.middle == pytest.approx(endurance_from_readings(FALLING).middle + 2)


def test_an_infusion_that_was_not_read_leaves_a_gap_and_not_a_zero() -> None:
    found = endurance_from_readings([4.0, None, 3.2, 2.9, 2.6, 2.3])

    assert found.middle == pytest.approx(endurance_from_readings([4.0, 3.6, 3.2, 2.9, 2.6, 2.3]).middle, abs=0.3)
    assert found.readings == 5


def test_a_higher_floor_is_met_earlier() -> None:
    assert endurance_from_readings(FALLING, 3.0).middle < endurance_from_readings(FALLING, 2.0).middle


def test_leaf_that_never_reached_the_floor_has_no_good_infusion() -> None:
    found = endurance_from_readings([1.5, 1.4, 1.2, 1.0])

    assert found.good_infusions == 0
    assert found.told == "No infusion reached 2."


def test_leaf_that_does_not_fall_has_no_end_in_sight() -> None:
    found = endurance_from_readings([4.0, 3.0, 3.5, 4.0, 4.0])

    assert found.outcome == "not falling"
    assert found.good_infusions is None
    assert found.told.startswith("No end in sight")


def test_a_fall_within_chance_leaves_the_interval_open() -> None:
    found = endurance_from_readings([4.0, 3.0, 4.0, 3.0])

    assert math.isinf(found.high)
    assert found.told.endswith("or more.")


def test_a_lucky_straight_row_of_whole_steps_is_not_taken_for_certainty() -> None:
    found = endurance_from_readings([4, 4, 4, 4, 3, 3, 3, 2, 2])

    assert found.high - found.low > 1


def test_readings_of_nothing_count_as_a_quarter() -> None:
    assert endurance_from_readings([4, 3, 1, 0]).middle < endurance_from_readings([4, 3, 1, 1]).middle
    assert endurance_from_readings([4, 3, 1, 0]).middle == endurance_from_readings([4, 3, 1, 0.25]).middle


def test_leaf_lasts_at_least_to_the_cup_that_reached_the_floor() -> None:
    found = endurance_from_readings([1.0, 2.0, 0.0, 0.0, 0.0])

    assert found.good_infusions == 2


@given(st.lists(st.one_of(st.none(), st.floats(0, 5)), max_size=15), st.floats(0.5, 4))
def test_any_readings_give_an_answer_in_words(readings: list[float | None], floor: float) -> None:
    found = endurance_from_readings(readings, floor)

    assert found.told
    assert found.outcome != "known" or found.low <= found.middle <= found.high


def test_what_the_model_expects_is_what_a_true_session_gives() -> None:
    # One leaf and one taster known exactly: the crossing is read off the true strengths.
    truth = true_leaf(STRIP, 0.2)
    gain = 6.0
    known = LeafBelief(0.2, 1e-3, math.log(gain), 1e-3)

    found = _expected(known)

    strengths = strengths_of(FIGURES, truth, PLAN, dose=5.0, gain=gain)[1:]
    good = sum(strength >= 2 for strength in strengths)
    assert found.good_infusions == good
    assert good <= found.low <= found.high <= good + 1


def test_the_models_interval_holds_the_true_end_nine_times_in_ten() -> None:
    rng = random.Random(8)
    held = 0
    for _ in range(200):
        ln_rate, gain = rng.gauss(0, PRIOR.ln_rate_sd), math.exp(rng.gauss(PRIOR.ln_gain, PRIOR.ln_gain_sd))
        strengths = strengths_of(FIGURES, true_leaf(STRIP, ln_rate), PLAN, dose=5.0, gain=gain)[1:]
        taster: dict[str, Any] = {"dose": 5.0, "gain": gain, "scatter": 0.35, "rng": rng}
        read = readings_of(FIGURES, true_leaf(STRIP, ln_rate), PLAN[:6], **taster)
        found = _expected(learn(FIGURES, STRIP, PRIOR, PLAN, read, dose_g_per_100ml=5.0))
        held += math.floor(found.low) <= _last_good(strengths) <= found.high

    assert held / 200 >= 0.85


def _last_good(strengths: list[float]) -> int:
    """Return the last infusion from the peak on before the strength first falls below 2, 0 if none reached it."""
    peak = strengths.index(max(strengths))
    if strengths[peak] < 2:
        return 0
    return next((place for place in range(peak, len(strengths)) if strengths[place] < 2), 99)


def test_readings_narrow_what_the_model_expects() -> None:
    read = [StrengthReading(place, value) for place, value in enumerate((3, 4, 4, 3, 3, 2), start=1)]
    belief = learn(FIGURES, STRIP, PRIOR, PLAN, read, dose_g_per_100ml=5.0)

    before, after = _expected(PRIOR), _expected(belief)

    assert after.high - after.low < before.high - before.low
    assert after.readings == 6


def test_a_plan_too_short_for_the_leaf_has_no_end_in_sight() -> None:
    found = _expected(LeafBelief(-1.0, 0.05, 3.5, 0.05), PLAN[:4])

    assert found.outcome == "not falling"
    assert "extraction model" in found.told


def test_a_taster_who_hardly_tastes_it_has_no_good_infusion() -> None:
    assert _expected(LeafBelief(0.0, 0.05, -1.0, 0.05)).good_infusions == 0


def test_a_plan_without_rinse_counts_from_its_first_steep() -> None:
    known = LeafBelief(0.0, 1e-3, PRIOR.ln_gain, 1e-3)

    assert _expected(known, first=0).middle == pytest.approx(_expected(known).middle + 1)


def test_where_readings_and_model_agree_one_sentence_says_so() -> None:
    readings = Endurance("readings", "known", 5.5, 7.2, 9.0, 2.0, 6)
    model = Endurance("extraction", "known", 6.0, 7.8, 10.0, 2.0, 6)

    assert agree(readings, model)
    assert told_of_both(readings, model) == (
        "7 good infusions by your strength readings, in nine of ten cases 5 to 9. The extraction model agrees.",
    )


def test_where_they_disagree_both_are_shown() -> None:
    readings = Endurance("readings", "known", 3.9, 4.4, 4.9, 2.0, 6)
    model = Endurance("extraction", "known", 7.0, 8.1, 12.0, 2.0, 6)

    assert told_of_both(readings, model) == (
        "4 good infusions by your strength readings, in nine of ten cases 3 to 4.",
        "8 good infusions by the extraction model, in nine of ten cases 7 to 12.",
    )


def test_too_few_readings_are_shown_beside_the_model() -> None:
    told = told_of_both(endurance_from_readings([4.0]), _expected(PRIOR))

    assert len(told) == 2


def test_one_good_infusion_is_told_as_one() -> None:
    assert Endurance("readings", "known", 1.1, 1.4, 1.9, 2.0, 4).told == (
        "One good infusion by your strength readings, in nine of ten cases 1."
    )


@pytest.mark.parametrize(
    ("ask", "message"),
    [
        (lambda: endurance_from_readings([6.0, 3.0]), "strength cannot be 6 of 5"),
        (lambda: endurance_from_readings([4.0], 0.0), "floor of strength cannot be 0 of 5"),
        (lambda: _expected(PRIOR, []), "at least one infusion"),
        (lambda: _expected(PRIOR, PLAN, floor=9.0), "floor of strength cannot be 9"),
        (lambda: equal_cups(Range(0.0, 0.1, 0.2)), "more than nothing"),
    ],
)
def test_what_cannot_be_asked_is_refused_in_words(ask: Any, message: str) -> None:
    with pytest.raises(QuantityError, match=message):
        ask()
