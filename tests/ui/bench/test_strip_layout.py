"""Where the columns of the strip stand: every one has room, in order, and the current one keeps its own."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.presenters.bench.views import BarView, ColumnView
from tastebook.ui.bench.strip_layout import (
    CURRENT_PX,
    GAP_PX,
    LEAST_CURRENT_PX,
    LIVE_PX,
    NARROWEST_PX,
    WIDEST_PX,
    column_rects,
    column_widths,
    spread,
    stack_of,
    zone_of,
)

WIDTHS_PX = st.integers(900, 1600)
HEIGHTS_PX = st.sampled_from([176, 216, 264])


def strip_of(infusions: int, current: int, *, is_live: bool = False) -> list[ColumnView]:
    """Return leaf, rinse, so many infusions, the next one and the close; the one at place `current` is chosen."""
    kinds = ["leaf", "rinse", *["infusion"] * infusions, "next", "close"]
    return [
        ColumnView(
            key=str(place),
            title=str(place),
            kind=kind,  # type: ignore[arg-type]
            is_current=place == current % len(kinds),
            live=(3, 20) if is_live and place == infusions + 1 else None,
        )
        for place, kind in enumerate(kinds)
    ]


strips = st.builds(strip_of, st.integers(1, 20), st.integers(0, 99), is_live=st.booleans())


@given(strips, WIDTHS_PX)
def test_no_column_is_narrower_than_its_words_need(columns: list[ColumnView], available_px: int) -> None:
    widths = column_widths(columns, available_px)

    assert len(widths) == len(columns)
    assert all(width >= NARROWEST_PX[column.kind] for width, column in zip(widths, columns, strict=True))


@given(strips, WIDTHS_PX)
def test_the_current_column_keeps_its_own_width(columns: list[ColumnView], available_px: int) -> None:
    widths = column_widths(columns, available_px)

    current = next(width for width, column in zip(widths, columns, strict=True) if column.is_current)
    assert current >= (CURRENT_PX if available_px >= 1200 else LEAST_CURRENT_PX)


@given(strips, WIDTHS_PX)
def test_the_strip_is_filled_to_its_edge_or_scrolls(columns: list[ColumnView], available_px: int) -> None:
    widths = column_widths(columns, available_px)

    total = sum(widths) + GAP_PX * (len(widths) - 1)
    is_narrowest = all(
        width == pytest.approx(max(NARROWEST_PX[column.kind], LIVE_PX if column.live else 0))
        for width, column in zip(widths, columns, strict=True)
        if not column.is_current
    )
    assert total == pytest.approx(available_px) or (total > available_px and is_narrowest)


@given(strips, WIDTHS_PX)
def test_no_column_that_is_done_grows_beyond_what_it_likes(columns: list[ColumnView], available_px: int) -> None:
    widths = column_widths(columns, available_px)

    done = [
        (width, column)
        for width, column in zip(widths, columns, strict=True)
        if column.kind in ("leaf", "rinse", "infusion") and not column.is_current
    ]
    assert all(width <= max(WIDEST_PX[column.kind], LIVE_PX if column.live else 0) + 0.001 for width, column in done)


@given(strips, WIDTHS_PX, WIDTHS_PX)
def test_a_wider_strip_never_makes_a_column_narrower(columns: list[ColumnView], one_px: int, other_px: int) -> None:
    less, more = sorted((one_px, other_px))
    if less < 1200 <= more:  # there the current column takes more for itself
        return

    narrower, wider = column_widths(columns, less), column_widths(columns, more)

    assert all(low <= high + 0.001 for low, high in zip(narrower, wider, strict=True))


@given(strips, WIDTHS_PX, HEIGHTS_PX)
def test_columns_stand_side_by_side_in_order(columns: list[ColumnView], available_px: int, height_px: int) -> None:
    rects = column_rects(column_widths(columns, available_px), height_px)

    assert rects[0].left() == 0
    assert all(right.left() - left.right() == pytest.approx(GAP_PX) for left, right in pairwise(rects))
    assert all(rect.height() == height_px for rect in rects)


def test_what_is_left_over_goes_to_the_next_infusion() -> None:
    columns = strip_of(1, 2)

    widths = column_widths(columns, 1392)

    places = {column.kind: width for column, width in zip(columns, widths, strict=True)}
    assert places["leaf"] == WIDEST_PX["leaf"]
    assert places["next"] > WIDEST_PX["next"]


@pytest.mark.parametrize(("infusions", "scrolls"), [(1, False), (4, False), (5, True), (20, True)])
def test_four_infusions_fit_the_usual_window_beside_the_next_and_more_scroll(infusions: int, scrolls: bool) -> None:
    """The usual window is 1440 wide with margins of 24."""
    widths = column_widths(strip_of(infusions, infusions + 1), 1392)

    assert (round(sum(widths) + GAP_PX * (len(widths) - 1)) > 1392) == scrolls


# -- the stacks


strengths = st.lists(st.floats(0.1, 5), min_size=1, max_size=12)


def bars_of(values: list[float]) -> tuple[BarView, ...]:
    return tuple(BarView(f"family-{place}", "", value, round(value), "") for place, value in enumerate(values))


@given(st.lists(strengths, min_size=1, max_size=6), HEIGHTS_PX)
def test_segments_stand_on_the_base_one_upon_the_other_and_within_their_zone(
    many: list[list[float]], height_px: int
) -> None:
    columns = [
        ColumnView(key=str(place), title="", kind="infusion", bars=bars_of(one)) for place, one in enumerate(many)
    ]
    zone = zone_of(height_px, columns)

    for column in columns:
        segments = list(stack_of(column.bars, zone).values())

        assert segments[0][1] == zone.base
        assert all(upper[1] == lower[0] for lower, upper in pairwise(segments))
        assert all(top < bottom for top, bottom in segments)
        assert segments[-1][0] >= zone.top - 0.001


@given(strengths, HEIGHTS_PX)
def test_all_columns_share_one_scale(values: list[float], height_px: int) -> None:
    column = ColumnView(key="1", title="", kind="infusion", bars=bars_of(values))
    zone = zone_of(height_px, [column])

    for bar, (top, bottom) in zip(column.bars, stack_of(column.bars, zone).values(), strict=True):
        assert bottom - top == pytest.approx(bar.strength * zone.point_px)
    assert zone.point_px <= 6.2


def test_a_strip_with_nothing_noted_has_its_usual_scale() -> None:
    assert zone_of(264, strip_of(3, 1)).point_px == 6.2
    assert stack_of((), zone_of(264, [])) == {}


@given(st.lists(st.floats(60, 180), min_size=1, max_size=6), st.just(20.0))
def test_labels_keep_their_distance_order_and_place(centres: list[float], least_px: float) -> None:
    falling = sorted(centres, reverse=True)

    heights = spread(falling, least_px, 58, 182)

    assert len(heights) == len(centres)
    assert all(58 - 1e-6 <= height <= 182 + 1e-6 for height in heights)
    assert all(lower - upper >= least_px - 1e-6 for lower, upper in pairwise(heights))


@given(st.lists(st.floats(60, 180), min_size=2, max_size=6))
def test_labels_are_moved_no_farther_than_needed(centres: list[float]) -> None:
    falling = sorted(centres, reverse=True)

    heights = spread(falling, 20, -1000, 1000)  # nothing but their distance moves them

    assert sum(heights) == pytest.approx(sum(falling))


def test_labels_with_room_stay_where_they_are() -> None:
    assert spread([170.0, 120.0, 80.0], 20, 58, 182) == [170.0, 120.0, 80.0]
