from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.errors import QuantityError
from tastebook.domain.figures import Figures, Range, figures_from_table, spread
from tests.domain.shipped_figures import shipped_figures

numbers = st.floats(-1e6, 1e6)


@st.composite
def ranges(draw: st.DrawFn, least: float = 0.1, most: float = 100.0) -> Range:
    return Range(*sorted(draw(st.floats(least, most)) for _ in range(3)))


def row(**more: Any) -> dict[str, Any]:
    return {
        "key": "heat", "name": "specific heat", "unit": "J/(g K)", "low": 0.8, "middle": 0.95, "high": 1.1,
        "least": 0.3, "most": 2.0, "source": "A table.", "status": "seen", **more,
    }  # fmt: skip


def one(**more: Any) -> Figures:
    return figures_from_table({"figures": [row(**more)]})


def without(*entries: str) -> dict[str, Any]:
    return {entry: value for entry, value in row().items() if entry not in entries}


def test_a_figure_is_read_with_all_that_is_known_of_it() -> None:
    figure = one().figure("heat")

    assert figure.range == Range(0.8, 0.95, 1.1)
    assert (figure.source, figure.status, figure.own) == ("A table.", "seen", False)
    assert figure.told == "0.8 to 1.1 J/(g K), published"


def test_a_figure_that_is_known_exactly_needs_one_value() -> None:
    table = {"figures": [{**without("low", "middle", "high"), "value": 1}]}

    assert figures_from_table(table).range("heat") == Range.exactly(1.0)


def test_a_range_may_be_level_at_an_end() -> None:
    assert one(low=0.95).range("heat") == Range(0.95, 0.95, 1.1)
    assert one(high=0.95).range("heat") == Range(0.8, 0.95, 0.95)


def test_several_files_make_one_set() -> None:
    both = figures_from_table({"figures": [row()]}, {"figures": [row(key="mass")]})

    assert both.has("heat")
    assert both.has("mass")


@pytest.mark.parametrize(
    ("table", "told"),
    [
        ({}, r"^figures: at least one"),
        ({"figures": []}, r"^figures: at least one"),
        ({"figures": ["heat"]}, r"^figures: at least one"),
        ({"figures": [row(note="x")]}, r"^figures\[1\]\.note: a figure has no such entry"),
        ({"figures": [row(source=" ")]}, r"^figures\[1\]\.source: words in quotes are needed"),
        ({"figures": [row(status="heard")]}, r"^figures\[1\]\.status: 'heard' is not one of seen, "),
        ({"figures": [without("least")]}, r"^figures\[1\]\.least: a number is needed, not None"),
        ({"figures": [without("middle")]}, r"^heat\.middle: a number is needed, not None"),
        ({"figures": [row(middle=True)]}, r"^heat\.middle: a number is needed, not True"),
        ({"figures": [row(high=math.nan)]}, r"^heat\.high: a number is needed, not nan"),
        ({"figures": [row(high=2.5)]}, r"^heat\.high: specific heat cannot be 2\.5 J/\(g K\): .* from 0\.3 to 2 J"),
        ({"figures": [row(low=1.0)]}, r"^heat: low 1, middle 0\.95, high 1\.1 must not fall"),
        ({"figures": [row(value=1.0)]}, r"^heat: either value, or low, middle and high"),
        ({"figures": [row(), row()]}, r"^heat: this figure comes twice"),
    ],
)
def test_a_figure_file_that_cannot_be_meant_is_refused_with_the_place(table: dict[str, Any], told: str) -> None:
    with pytest.raises(QuantityError, match=told):
        figures_from_table(table)


def test_the_user_s_own_figure_takes_the_place_of_the_shipped_one() -> None:
    own = one().with_own({"heat": {"low": 0.9, "middle": 1.0}})

    assert own.range("heat") == Range(0.9, 1.0, 1.1)
    assert own.figure("heat").told == "0.9 to 1.1 J/(g K), your own"
    assert one().with_own({"heat": {"value": 1.2}}).range("heat") == Range.exactly(1.2)


def test_the_figures_that_were_there_stay_as_they_were() -> None:
    shipped = one()

    shipped.with_own({"heat": {"value": 1.2}})

    assert shipped.range("heat") == Range(0.8, 0.95, 1.1)


@pytest.mark.parametrize(
    ("own", "told"),
    [
        ({"heat": {"middle": 950}}, r"^heat\.middle: specific heat cannot be 950 J/\(g K\)"),
        ({"heat": {"low": 1.0}}, r"^heat: low 1, middle 0\.95, high 1\.1 must not fall"),
        ({"heat": {"source": "me"}}, r"^heat\.source: only value, low, middle and high can be set"),
        ({"heta": {"value": 1}}, r"^There is no figure called heta\. Was heat meant\?$"),
        ({"zz": {"value": 1}}, r"^There is no figure called zz\.$"),
    ],
)
def test_an_own_figure_that_cannot_be_is_refused_and_never_moved_to_the_edge(own: Any, told: str) -> None:
    with pytest.raises(QuantityError, match=told):
        one().with_own(own)


@pytest.mark.parametrize("three", [(2, 1, 3), (1, 3, 2), (math.nan, 1, 2), (1, 2, math.inf), (-math.inf, 1, 2)])
def test_a_range_that_does_not_rise_is_refused(three: tuple[float, float, float]) -> None:
    with pytest.raises(QuantityError, match="must rise"):
        Range(*three)


@pytest.mark.parametrize("name", ["water", "leaf", "caffeine"])
def test_every_figure_that_ships_has_a_source_and_leaves_room_to_change_it(name: str) -> None:
    for figure in shipped_figures(name).rows:
        assert figure.source.endswith("."), figure.key
        assert figure.least < figure.most, figure.key


def test_what_is_recalled_says_so_in_its_source() -> None:
    recalled = [figure for figure in shipped_figures("water", "leaf", "caffeine").rows if figure.status == "memory"]

    assert recalled
    assert all("Recalled" in figure.source or "taken together" in figure.source for figure in recalled)


@given(ranges(), ranges())
def test_the_middle_is_always_within_what_follows(first: Range, second: Range) -> None:
    product = spread(lambda a, b: a / b, first, second)

    assert product.low <= product.middle <= product.high
    assert product.middle == first.middle / second.middle


@given(ranges())
def test_what_follows_from_one_range_alone_ends_where_its_ends_lead(one_range: Range) -> None:
    doubled = spread(lambda a: -2 * a, one_range)

    assert doubled.low == pytest.approx(-2 * one_range.high)
    assert doubled.high == pytest.approx(-2 * one_range.low)


def test_independent_errors_are_added_in_squares() -> None:
    # Arithmetic: 3 and 4 either way make 5.
    total = spread(lambda a, b: a + b, Range(7, 10, 13), Range(6, 10, 14))

    assert total == Range(15, 20, 25)


@given(st.lists(numbers, min_size=1, max_size=4))
def test_numbers_that_are_known_give_a_number_that_is_known(known: list[float]) -> None:
    total = spread(lambda *each: math.fsum(each), *(Range.exactly(value) for value in known))

    assert total.low == total.middle == total.high
