from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tastebook.domain.errors import QuantityError
from tastebook.domain.extraction import Cooling, Leaf, Steeped, session_shares
from tastebook.domain.figures import Range
from tastebook.domain.lot import FORMS
from tastebook.domain.next_steep import (
    STRONGER,
    WEAKER,
    Advice,
    advice_line,
    equal_strength_times,
    extent_for,
    next_steep,
    seconds_words,
)
from tests.domain.shipped_figures import shipped_figures

FIGURES = shipped_figures("extraction")
LEARNED = Leaf("strip", learned=Range(0.9, 1.0, 1.1))
SO_FAR = [Steeped(5, 92), Steeped(20, 92), Steeped(25, 92), Steeped(30, 92)]

waters = st.one_of(st.floats(40, 100), st.builds(Cooling, st.floats(50, 100), st.floats(10, 30), st.floats(0, 0.08)))


def _advice(water: float = 92.0, *, strength: float = 1.0, steeps: list[Steeped] | None = None) -> Advice:
    return next_steep(FIGURES, LEARNED, steeps or SO_FAR, 3, water, strength=strength)


@given(
    st.sampled_from(["", *FORMS]),
    st.lists(st.builds(Steeped, st.floats(5, 120), waters), min_size=1, max_size=8),
    waters,
    st.sampled_from([WEAKER, 1.0, STRONGER]),
    st.data(),
)
def test_a_steep_as_advised_is_as_strong_as_was_asked_for(
    form: str, steeps: list[Steeped], water: float | Cooling, strength: float, data: st.DataObject
) -> None:
    reference = data.draw(st.integers(0, len(steeps) - 1))
    advice = next_steep(FIGURES, Leaf(form), steeps, reference, water, strength=strength)
    assume(advice.reachable)

    shares = session_shares(FIGURES, Leaf(form), [*steeps, Steeped(advice.middle_s, water)]).middle

    assert shares[-1] == pytest.approx(strength * shares[reference], rel=1e-6)


@given(st.floats(60, 95), st.floats(0.5, 5))
def test_cooler_water_asks_for_longer(temp_c: float, cooler_by: float) -> None:
    assert _advice(temp_c - cooler_by).middle_s > _advice(temp_c).middle_s


def test_stronger_asks_for_longer_and_weaker_for_less() -> None:
    weaker, equal, stronger = (_advice(strength=one).middle_s for one in (WEAKER, 1.0, STRONGER))

    assert weaker < equal < stronger


def test_the_next_steep_in_the_same_water_is_longer_than_the_one_it_equals() -> None:
    assert _advice().middle_s > SO_FAR[3].time_s


def test_the_range_holds_the_middle_and_narrows_with_what_was_learned() -> None:
    known = _advice()
    unknown = next_steep(FIGURES, Leaf("strip"), SO_FAR, 3, 92.0)

    assert known.low_s < known.middle_s < known.high_s
    assert known.high_s / known.low_s < unknown.high_s / unknown.low_s


def test_water_that_was_only_estimated_widens_the_range() -> None:
    measured = _advice(90.0)

    estimated = next_steep(FIGURES, LEARNED, SO_FAR, 3, 90.0, water_ends=(86.0, 94.0))

    assert estimated.middle_s == measured.middle_s
    assert estimated.low_s < measured.low_s
    assert estimated.high_s > measured.high_s


def test_leaf_with_too_little_left_is_said_to_have_it_instead_of_an_absurd_time() -> None:
    spent = _advice(steeps=[*SO_FAR, Steeped(600, 95), Steeped(600, 95)])

    assert not spent.reachable
    assert math.isinf(spent.low_s)
    assert spent.hindrance == "spent"
    assert 0 < spent.most < 1
    line = advice_line(spent, "infusion 3")
    assert line.startswith("The leaf has too little left for the strength of infusion 3; it can still give about ")
    assert line.endswith(f"{spent.most * 100:.2g} % of it.")
    assert any("next to nothing" in why for why in spent.why)


def test_water_too_cool_for_it_is_named_as_the_reason() -> None:
    cold = _advice(3.0)

    assert not cold.reachable
    assert cold.hindrance == "slow"
    assert advice_line(cold, "infusion 3") == (
        "Water of 3 °C is too cool for the strength of infusion 3: take hotter water."
    )
    assert any("no steep any more" in why for why in cold.why)


def test_a_range_that_ends_in_spent_leaf_is_left_open() -> None:
    open_ended = next_steep(FIGURES, Leaf("strip"), [*SO_FAR, *[Steeped(60, 92)] * 4], 3, 92.0)

    assert open_ended.reachable
    assert math.isinf(open_ended.high_s)
    assert "or longer at 92 °C" in advice_line(open_ended, "infusion 3")
    assert any("No longest time is named" in why for why in open_ended.why)


def test_the_line_says_what_was_asked_for() -> None:
    more, less = (advice_line(_advice(strength=one), "infusion 3") for one in (STRONGER, WEAKER))

    assert more.startswith("For 20 % more than the strength of infusion 3: ")
    assert less.startswith("For 20 % less than the strength of infusion 3: ")


def test_the_line_takes_the_temperature_in_the_users_own_words() -> None:
    assert advice_line(_advice(90.0), "infusion 3", water="194 °F").endswith(" at 194 °F.")


def test_the_line_names_one_time_where_the_range_is_a_point() -> None:
    exactly = FIGURES.with_own(
        {
            "wetting_hot": {"value": 16},
            "wetting_warm": {"value": 22},
            "rest_weight": {"value": 0.3},
            "soluble_ea": {"value": 30},
        }
    )
    advice = next_steep(exactly, Leaf("strip", learned=Range.exactly(1)), SO_FAR, 3, 92.0)

    assert (
        advice_line(advice, "infusion 3") == f"For the strength of infusion 3: about {advice.middle_s:.0f} s at 92 °C."
    )


def test_the_reasoning_gives_the_numbers_and_their_sources() -> None:
    why = next_steep(FIGURES, LEARNED, SO_FAR, 3, 88.0, readings=6).why
    told = "\n".join(why)

    assert why[0].startswith("Infusion 3 (30 s) took 1")
    assert "The water is at 88 °C instead of 92 °C" in told
    assert "−ln(1 − f/P)/k" in told
    assert "fitted to 6 of your strength readings: 0.9 to 1.1 times" in told
    assert "Jaganyi & Price 1999" in told
    assert "our assumption" in told


def test_hotter_water_is_told_to_shorten_it() -> None:
    told = "\n".join(_advice(97.0).why)

    assert "% shorter" in told


def test_without_readings_the_reasoning_says_so() -> None:
    assert any("none of your strength readings is in it" in why for why in _advice().why)
    assert any("one of your" in why for why in next_steep(FIGURES, LEARNED, SO_FAR, 3, 92.0, readings=1).why)


def test_the_chosen_infusion_can_be_called_by_another_name() -> None:
    advice = next_steep(FIGURES, LEARNED, SO_FAR, 3, 92.0, name="the third of this morning")

    assert advice.why[0].startswith("The third of this morning (30 s)")


@pytest.mark.parametrize(
    ("time_s", "words"),
    [(38.4, "38 s"), (99.2, "99 s"), (99.7, "1:40 min"), (112, "1:50 min"), (598, "10:00 min"), (725, "12 min"),
     (5399, "90 min"), (28_800, "8 h"), (30_900, "8.5 h")],
)  # fmt: skip
def test_times_are_said_as_finely_as_they_can_be_known(time_s: float, words: str) -> None:
    assert seconds_words(time_s) == words


def test_no_share_needs_more_than_there_is() -> None:
    assert math.isinf(extent_for(0.2, 0.2))
    assert extent_for(0.1, 0.2) == pytest.approx(math.log(2))


@pytest.mark.parametrize(
    ("ask", "message"),
    [
        (lambda: next_steep(FIGURES, LEARNED, SO_FAR, 4, 92.0), "there is none at that place"),
        (lambda: next_steep(FIGURES, LEARNED, [], 0, 92.0), "there is none at that place"),
        (lambda: next_steep(FIGURES, LEARNED, [Steeped(0, 92)], 0, 92.0), "there is none at that place"),
        (lambda: _advice(950.0), "water cannot be 950 °C"),
        (lambda: _advice(strength=50), "strength asked for cannot be 50"),
        (lambda: next_steep(FIGURES, LEARNED, SO_FAR, 3, 92.0, water_ends=(90.0, 120.0)), "water cannot be 120 °C"),
        (lambda: equal_strength_times(1.0, 3), "cannot take 100 % of the leaf"),
    ],
)
def test_what_cannot_be_asked_is_refused_in_words(ask: object, message: str) -> None:
    with pytest.raises(QuantityError, match=message):
        ask()  # type: ignore[operator]
