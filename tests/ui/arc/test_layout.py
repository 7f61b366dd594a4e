"""Where things stand on the chart, from 1 to 20 infusions."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.ui.arc.layout import HEAD_PX, LEAST_PITCH_PX, TOP_PX, ChartLayout

DESIGNED = ChartLayout(936, 732, infusions=8, families=9, scales=4)

layouts = st.builds(
    ChartLayout,
    width=st.floats(480, 2400),
    height=st.floats(200, 1600),
    infusions=st.integers(0, 20),
    families=st.integers(0, 12),
    scales=st.integers(0, 10),
)


def test_at_the_designed_size_it_stands_as_designed() -> None:
    # Measures of the design: label 168, right 224, rows of 41, scale rows of 38, 9 px per point.
    assert (DESIGNED.left, DESIGNED.right) == (168, 224)
    assert DESIGNED.across(8) == 936 - 224
    assert DESIGNED.row == pytest.approx(41, abs=0.1)
    assert DESIGNED.scale_row == pytest.approx(38, abs=0.1)
    assert DESIGNED.unit == pytest.approx(9, abs=0.05)
    assert DESIGNED.cup_radius == 23


@given(layouts)
def test_infusions_never_stand_closer_than_can_be_read(lay: ChartLayout) -> None:
    assert lay.pitch >= LEAST_PITCH_PX


@given(layouts)
def test_cups_never_overlap(lay: ChartLayout) -> None:
    assert 2 * lay.cup_radius < lay.pitch


@given(layouts)
def test_every_infusion_can_be_scrolled_into_view(lay: ChartLayout) -> None:
    if lay.infusions:
        assert lay.across(lay.infusions) - lay.overflow_x <= lay.left + lay.span + 1e-6


@given(layouts)
def test_everything_fits_or_can_be_scrolled_down_to(lay: ChartLayout) -> None:
    assert lay.total - lay.overflow_y <= lay.height - HEAD_PX + 1e-6


@given(layouts, st.data())
def test_a_place_on_the_screen_is_the_infusion_drawn_there(lay: ChartLayout, data: st.DataObject) -> None:
    if not lay.infusions:
        return
    infusion = data.draw(st.integers(1, lay.infusions))
    scrolled = min(lay.overflow_x, max(0.0, lay.across(infusion) - lay.left - lay.span / 2))

    assert lay.infusion_at(lay.across(infusion) - scrolled, scrolled) == infusion


@given(layouts, st.data())
def test_a_height_on_the_screen_is_the_row_drawn_there(lay: ChartLayout, data: st.DataObject) -> None:
    if not lay.families + lay.scales:
        return
    place = data.draw(st.integers(0, lay.families + lay.scales - 1))
    top, bottom = lay.extent(place)

    assert lay.row_at((top + bottom) / 2) == place


@given(layouts)
def test_more_height_never_makes_rows_lower(lay: ChartLayout) -> None:
    taller = ChartLayout(lay.width, lay.height + 40, lay.infusions, lay.families, lay.scales)

    assert taller.row >= lay.row - 1e-9
    assert taller.scale_row >= lay.scale_row - 1e-9


def test_outside_the_infusions_there_is_none() -> None:
    assert DESIGNED.infusion_at(20, 0) == 0
    assert DESIGNED.infusion_at(930, 0) == 0
    assert DESIGNED.row_at(TOP_PX - 1) == -1
    assert DESIGNED.row_at(DESIGNED.cup_line) == -1


def test_the_strongest_family_stays_below_the_numbers() -> None:
    for families in range(1, 13):
        lay = ChartLayout(936, 732, 8, families, 4)

        assert lay.base(0) - 5 * lay.unit >= 1


def test_where_few_infusions_leave_room_the_words_beside_them_take_it() -> None:
    few = ChartLayout(936, 732, infusions=2, families=9, scales=4)

    assert DESIGNED.words_left - few.words_left > 60
    assert few.words_left > few.across(2)
