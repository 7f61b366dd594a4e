from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.arc import (
    FamilyArc,
    arcs,
    column_of,
    column_strengths,
    family_strength,
    peak_infusion,
    strengths_by_column,
    theil_sen_slope,
    totals,
)
from tastebook.domain.errors import CourseError
from tests.domain.building import family_of, marked, said, tasted

intensities = st.lists(st.integers(0, 5), max_size=8)
some_readings = st.lists(st.one_of(st.none(), st.integers(0, 5)), min_size=1, max_size=12)


def _arc_of(*readings: int | None, **more: Any) -> FamilyArc:
    """Return the floral arc of a tasting with these readings; None means that flavour was skipped."""
    noted = [said("orchid", one, index, **more) for index, one in enumerate(readings, start=1) if one is not None]
    (arc,) = arcs(tasted(noted, infusions=len(readings)), family_of)
    return arc


@given(st.integers(0, 5))
def test_one_descriptor_is_as_strong_as_it_was_said(intensity: int) -> None:
    assert family_strength([intensity]) == intensity


@given(intensities)
def test_a_family_is_as_strong_as_its_strongest_descriptor_and_no_stronger_than_their_sum(readings: list[int]) -> None:
    strength = family_strength(readings)

    assert max(readings, default=0) <= strength + 1e-9
    assert strength <= sum(readings) + 1e-9
    assert strength <= 5


@given(intensities, st.integers(0, 5))
def test_a_further_descriptor_never_weakens_its_family(readings: list[int], further: int) -> None:
    assert family_strength([*readings, further]) >= family_strength(readings)


@pytest.mark.parametrize(
    ("step", "infusion", "column"),
    [
        ("dry_leaf", None, "leaf"),
        ("warmed_leaf", None, "leaf"),
        ("lid", 0, 0),
        ("wet_leaf", 0, 0),
        ("flavour", 3, 3),
        ("empty_cup", 3, 3),
        ("infused_leaf", None, "close"),
    ],
)
def test_an_impression_belongs_to_the_column_of_its_step(step: str, infusion: int | None, column: object) -> None:
    assert column_of(tasted(), step, infusion) == column


def test_a_step_that_the_course_lacks_has_no_column() -> None:
    with pytest.raises(CourseError, match="has no step “second_sip”"):
        column_of(tasted(), "second_sip", 1)


def test_only_the_strongest_reading_of_a_descriptor_counts() -> None:
    one = tasted([said("orchid", 2, 1), said("orchid", 4, 1, step="empty_cup"), said("jasmine", 3, 1)])

    assert column_strengths(one, family_of, 1) == {"floral": 5.0}


def test_families_of_one_column_are_kept_apart() -> None:
    one = tasted([said("orchid", 2, 1), said("toasted rice", 3, 1), said("almond skin", 1, 2)])

    assert strengths_by_column(one, family_of) == {1: {"floral": 2.0, "roasted": 3.0}, 2: {"nutty": 1.0}}


def test_a_column_where_nothing_was_recorded_was_not_assessed() -> None:
    assert column_strengths(tasted(infusions=1), family_of, 1) is None


def test_a_column_where_only_an_absence_was_recorded_was_assessed() -> None:
    assert column_strengths(tasted([said("orchid", 0, 1)]), family_of, 1) == {}


def test_a_column_whose_aroma_step_was_finished_with_nothing_to_say_was_assessed() -> None:
    assert column_strengths(tasted(marks=[marked("flavour", 1)]), family_of, 1) == {}


def test_a_column_whose_aroma_step_was_skipped_was_not_assessed() -> None:
    assert column_strengths(tasted(marks=[marked("flavour", 1, "skipped")]), family_of, 1) is None


def test_a_column_where_only_the_liquor_was_looked_at_was_not_assessed() -> None:
    assert column_strengths(tasted(marks=[marked("liquor", 1)]), family_of, 1) is None


def test_a_texture_at_the_first_sip_does_not_make_aroma_assessed() -> None:
    assert column_strengths(tasted([said("silky", 4, 1, step="first_sip")]), family_of, 1) is None


def test_an_aroma_said_at_the_first_sip_counts() -> None:
    one = tasted([said("orchid", 4, 1, step="first_sip")])

    assert column_strengths(one, family_of, 1) == {"floral": 4.0}


def test_an_own_word_without_a_family_makes_aroma_assessed_and_adds_to_no_family() -> None:
    assert column_strengths(tasted([said("grandmother's attic", 4, 1)]), family_of, 1) == {}


def test_the_leaf_and_the_rinse_stay_out_of_the_arc() -> None:
    one = tasted([said("orchid", 3, step="dry_leaf"), said("orchid", 3, 0, step="lid")], infusions=2)

    assert arcs(one, family_of) == ()


def test_a_skipped_infusion_is_a_gap_and_an_assessed_one_without_the_family_is_zero() -> None:
    one = tasted([said("orchid", 3, 1), said("toasted rice", 2, 3)], infusions=3)

    floral = next(arc for arc in arcs(one, family_of) if arc.family == "floral")

    assert floral.strengths == (3.0, None, 0.0)
    assert floral.assessed == (1, 3)


def test_the_arc_reaches_the_last_poured_infusion() -> None:
    one = tasted([said("orchid", 3, 1)], infusions=4)

    assert arcs(one, family_of)[0].strengths == (3.0, None, None, None)


def test_an_arc_knows_when_it_arrives_peaks_and_goes() -> None:
    arc = _arc_of(0, 2, 4, 4, 1, 0)

    assert (arc.onset, arc.peak, arc.peaks, arc.fade, arc.peak_strength) == (2, 3, (3, 4), 5, 4.0)


def test_an_arc_speaks_at_the_mean_infusion_weighted_by_strength() -> None:
    assert _arc_of(1, 0, 3).speaks_at == (1 * 1 + 3 * 3) / 4


def test_families_are_ordered_by_when_they_speak() -> None:
    one = tasted(
        [
            said("white peach", 4, 3),
            said("toasted rice", 3, 1),
            said("orchid", 2, 2),
            said("toasted rice", 1, 2),
            said("orchid", 2, 3),
        ]
    )

    assert [arc.family for arc in arcs(one, family_of)] == ["roasted", "floral", "fruity"]


def test_shares_say_how_much_of_an_infusion_s_aroma_a_family_has() -> None:
    one = tasted([said("orchid", 1, 1), said("toasted rice", 3, 1), said("orchid", 0, 2)], infusions=3)

    roasted = next(arc for arc in arcs(one, family_of) if arc.family == "roasted")

    assert roasted.shares == (0.75, 0.0, None)


@given(st.lists(st.tuples(st.sampled_from(["orchid", "jasmine", "white peach", "toasted rice"]), st.integers(1, 5))))
def test_the_shares_of_an_infusion_make_up_the_whole(noted: list[tuple[str, int]]) -> None:
    found = arcs(tasted([said(word, intensity, 1) for word, intensity in noted]), family_of)

    shares = [arc.shares[0] or 0.0 for arc in found]

    assert math.isclose(sum(shares), 1.0) if noted else not shares


def test_a_clouded_reading_counts_and_is_marked() -> None:
    one = tasted([said("orchid", 3, 1), said("orchid", 2, 2, clouded=True), said("orchid", 2, 3, doubtful=True)])

    (arc,) = arcs(one, family_of)

    assert arc.strengths == (3.0, 2.0, 2.0)
    assert arc.clouded == (False, True, True)


def test_an_absence_that_was_clouded_does_not_cloud_the_family() -> None:
    one = tasted([said("orchid", 3, 1), said("jasmine", 0, 1, clouded=True)])

    assert arcs(one, family_of)[0].clouded == (False,)


def test_the_strongest_descriptor_leads_its_family() -> None:
    one = tasted([said("jasmine", 3, 1), said("jasmine", 3, 2), said("orchid", 4, 3, as_said="spring orchid")])

    (arc,) = arcs(one, family_of)

    assert (arc.descriptor, arc.word, arc.descriptor_intensity) == ("orchid", "spring orchid", 4)


def test_of_equally_strong_descriptors_the_one_noted_oftenest_leads() -> None:
    one = tasted([said("orchid", 4, 1), said("jasmine", 4, 2), said("jasmine", 1, 3)])

    assert arcs(one, family_of)[0].descriptor == "jasmine"


def test_of_descriptors_equal_in_all_the_first_leads() -> None:
    one = tasted([said("jasmine", 4, 1), said("orchid", 4, 1)])

    assert arcs(one, family_of)[0].descriptor == "jasmine"


@given(some_readings)
def test_an_arc_arrives_peaks_and_fades_in_that_order_at_infusions_where_it_was_noted(
    readings: list[int | None],
) -> None:
    noted = [said("orchid", one, index) for index, one in enumerate(readings, start=1) if one is not None]

    found = arcs(tasted(noted, infusions=len(readings)), family_of)

    assert bool(found) == any(readings)
    for arc in found:
        assert arc.onset <= arc.peak <= arc.fade
        assert arc.onset <= arc.speaks_at <= arc.fade
        assert all(readings[index - 1] == arc.peak_strength for index in arc.peaks)
        assert list(arc.strengths) == readings


@given(st.floats(-3, 3), st.floats(-5, 5), st.integers(2, 10))
def test_the_trend_of_a_straight_line_is_its_slope(slope: float, start: float, length: int) -> None:
    line = [start + slope * index for index in range(length)]

    assert theil_sen_slope(line) == pytest.approx(slope, abs=1e-9)


def test_one_wild_reading_does_not_turn_the_trend() -> None:
    assert theil_sen_slope([5, 4, 3, 5, 1, 0]) == pytest.approx(-1.0)


@pytest.mark.parametrize("values", [[], [None], [3], [None, 3, None]])
def test_there_is_no_trend_in_fewer_than_two_readings(values: list[float | None]) -> None:
    assert theil_sen_slope(values) is None


def test_totals_add_all_families_and_keep_gaps() -> None:
    one = tasted([said("orchid", 2, 1), said("toasted rice", 3, 1), said("orchid", 1, 3)], infusions=3)

    assert totals(arcs(one, family_of)) == (5.0, None, 1.0)


def test_the_peak_is_the_infusion_with_the_most_aroma() -> None:
    one = tasted([said("orchid", 2, 1), said("orchid", 3, 2), said("toasted rice", 2, 2), said("orchid", 4, 3)])

    assert peak_infusion(arcs(one, family_of)) == 2


def test_of_equal_infusions_the_one_with_the_strongest_family_is_the_peak() -> None:
    one = tasted([said("orchid", 2, 1), said("toasted rice", 2, 1), said("orchid", 4, 2), said("orchid", 4, 3)])

    assert peak_infusion(arcs(one, family_of)) == 2


def test_a_tasting_without_aroma_has_no_peak() -> None:
    assert peak_infusion(arcs(tasted(infusions=3), family_of)) is None
