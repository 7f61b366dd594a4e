from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.brewing_plans import (
    COLD_AT_MOST_S,
    BrewPlan,
    cold_brew,
    cup_strength,
    dose_g_per_100ml,
    plan_for_dose,
    plan_for_time,
    western_pot,
)
from tastebook.domain.errors import QuantityError
from tastebook.domain.extraction import Leaf, Steeped, reference_cup, steep_share
from tastebook.domain.figures import Range
from tests.domain.building import shipped_course
from tests.domain.shipped_figures import shipped_figures

FIGURES = shipped_figures("extraction")
STRIP = Leaf("strip")
BOWL = cup_strength(5.0, 0.1)
"""The strength of an ordinary infusion in the bowl: a tenth of 5 g per 100 ml."""


@given(st.floats(0.05, 1.0), st.floats(0.3, 5))
def test_a_pot_steeped_as_planned_is_as_strong_as_was_asked_for(strength: float, dose: float) -> None:
    plan = western_pot(FIGURES, STRIP, strength, dose)
    if not plan.reachable:
        return

    steeped = Steeped(plan.time_s, reference_cup(FIGURES, plan.water_c))
    share = steep_share(FIGURES, Leaf("strip", "pot"), steeped).middle

    assert cup_strength(dose, share) == pytest.approx(strength, rel=1e-6)
    assert plan.low_s <= plan.time_s <= plan.high_s


@given(st.floats(0.1, 1.0), st.floats(1800, 86_400))
def test_a_cold_brew_of_the_planned_dose_is_as_strong_as_was_asked_for(strength: float, time_s: float) -> None:
    plan = plan_for_time(FIGURES, STRIP, "cold brew", strength, time_s, 5.0, first_c=5.0)

    share = steep_share(FIGURES, Leaf("strip", "cold"), Steeped(time_s, 5.0)).middle

    assert cup_strength(plan.g_per_100ml, share) == pytest.approx(strength)
    assert plan.low_g_per_100ml <= plan.g_per_100ml <= plan.high_g_per_100ml


def test_the_courses_that_ship_lie_within_what_the_model_allows_for_a_cup_like_the_bowls() -> None:
    # Common practice, no source: both courses' times and doses.
    pot, cold = shipped_course("western_pot"), shipped_course("cold_brew")

    hot_plan = western_pot(FIGURES, STRIP, BOWL, pot.leaf_g_per_100ml or 0, pot.plan_for("oolong").water_c)
    cold_plan = cold_brew(FIGURES, STRIP, BOWL, cold.leaf_g_per_100ml or 0, cold.plan_for("oolong").water_c)

    assert hot_plan.low_s <= pot.plan_for("oolong").planned_s(1) <= hot_plan.high_s
    assert cold_plan.low_s <= cold.plan_for("oolong").planned_s(1) <= cold_plan.high_s


def test_every_number_is_marked_as_extrapolation() -> None:
    plans = [
        western_pot(FIGURES, STRIP, BOWL),
        cold_brew(FIGURES, STRIP, BOWL),
        western_pot(FIGURES, STRIP, 3.0),
        plan_for_time(FIGURES, STRIP, "cold brew", BOWL, 28_800, 5.0, first_c=5.0),
    ]

    assert all(plan.extrapolated and "extrapolated" in plan.told for plan in plans)


def test_the_line_begins_with_a_time_and_gives_its_range() -> None:
    plan = BrewPlan("western pot", 1.2, 1.2, 1.2, 95.0, 130, 290, 610, Range.exactly(0.4), True, 0.6)

    assert plan.told == "Western pot: 1.2 g per 100 ml, 95 °C; begin with 5 min (2 to 10 min, extrapolated)."


def test_the_line_for_a_time_begins_with_a_dose() -> None:
    plan = BrewPlan("cold brew", 0.5, 0.7, 1.1, 5.0, 28_800, 28_800, 28_800, Range(0.5, 0.7, 0.9), True, 0.6)

    assert plan.told == "Cold brew: 8 h, 5 °C; begin with 0.7 g per 100 ml (0.5 to 1.1 g, extrapolated)."


def test_a_range_across_units_names_both() -> None:
    plan = BrewPlan("cold brew", 0.8, 0.8, 0.8, 5.0, 2400, 9000, math.inf, Range.exactly(0.6), True, 0.6)

    assert plan.told == "Cold brew: 0.8 g per 100 ml, 5 °C; begin with 2.5 h (40 min or longer, extrapolated)."


def test_a_dose_that_cannot_reach_the_strength_names_the_least_that_can() -> None:
    plan = western_pot(FIGURES, STRIP, 2.0, 1.2)

    assert not plan.reachable
    assert plan.least_g_per_100ml == pytest.approx(2.0 / 0.9)
    assert "1.2 g per 100 ml cannot reach that strength; begin with 2.2 g or more" in plan.told


def test_a_cold_brew_that_would_take_longer_than_a_day_asks_for_more_leaf() -> None:
    slow = Leaf("bud", "cold", Range(0.02, 0.03, 0.04))

    plan = plan_for_dose(FIGURES, slow, "cold brew", 0.5, 0.8, 2.0, first_c=2.0)

    in_a_day = steep_share(FIGURES, slow, Steeped(COLD_AT_MOST_S, 2.0)).middle
    assert not plan.reachable
    assert plan.least_g_per_100ml == pytest.approx(0.5 / in_a_day)


def test_stronger_cups_need_longer_and_colder_water_too() -> None:
    weak, strong = (cold_brew(FIGURES, STRIP, strength).time_s for strength in (0.3, 0.5))
    colder = cold_brew(FIGURES, STRIP, 0.5, water_c=2.0).time_s

    assert weak < strong < colder


def test_what_was_learned_in_the_bowl_is_less_sure_in_the_pot() -> None:
    learned = Leaf("strip", learned=Range(0.95, 1.0, 1.05))

    known, unknown = western_pot(FIGURES, learned, BOWL), western_pot(FIGURES, STRIP, BOWL)

    assert known.high_s / known.low_s < unknown.high_s / unknown.low_s
    assert known.high_s / known.low_s > 1.5


def test_what_was_learned_in_the_pot_holds_in_the_pot() -> None:
    learned = Leaf("strip", "pot", Range(0.95, 1.0, 1.05))

    plan = western_pot(FIGURES, learned, BOWL)

    assert plan.high_s / plan.low_s < 1.5


def test_the_leaf_for_a_vessel_is_weighed_to_a_tenth() -> None:
    assert western_pot(FIGURES, STRIP, BOWL).leaf_g(750) == 9.0
    assert dose_g_per_100ml(6, 120) == 5.0


@pytest.mark.parametrize(
    ("ask", "message"),
    [
        (lambda: dose_g_per_100ml(5000, 100), "leaf cannot be 5000 g: it must be from 0.1 to 500 g"),
        (lambda: dose_g_per_100ml(5, 0), "volume cannot be 0 ml: it must be from 10 to 5000 ml"),
        (lambda: dose_g_per_100ml(400, 10), "dose cannot be 4000 g per 100 ml"),
        (lambda: western_pot(FIGURES, STRIP, BOWL, water_c=950), "water cannot be 950 °C"),
        (lambda: cold_brew(FIGURES, STRIP, BOWL, water_c=-5), "water cannot be -5 °C"),
        (lambda: cold_brew(FIGURES, STRIP, 0), "strength of the cup cannot be 0"),
        (lambda: western_pot(FIGURES, STRIP, BOWL).leaf_g(0), "volume cannot be 0 ml"),
        (lambda: cup_strength(5, 1.5), "cannot take 150 % of the leaf"),
        (lambda: plan_for_time(FIGURES, STRIP, "cold brew", BOWL, 0, 5.0, first_c=5.0), "planned time cannot be 0 s"),
    ],
)
def test_numbers_that_cannot_be_are_refused_with_the_range(ask: Any, message: str) -> None:
    with pytest.raises(QuantityError, match=message):
        ask()
