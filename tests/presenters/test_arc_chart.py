"""The chart of the Arc: what each row, column and cell says."""

from __future__ import annotations

import pytest

from tastebook.domain.session import Tasting
from tastebook.presenters.arc.views import ChartView, ColumnView, RowView
from tastebook.services.settings import Settings
from tests.presenters.arc_sample import LIQUORS, Table, heron_ridge, long_session, named, poured, review


def chart(tasting: Tasting, *, fahrenheit: bool = False) -> ChartView:
    return review(tasting, settings=Settings(fahrenheit=fahrenheit)).view().chart


def row(tasting: Tasting, key: str) -> RowView:
    return next(one for one in chart(tasting).rows if one.key == key)


def column(tasting: Tasting, index: int) -> ColumnView:
    return chart(tasting).columns[index - 1]


# -- families


def test_families_are_ordered_by_when_they_speak() -> None:
    assert named(chart(heron_ridge()).families) == [
        "Nutty", "Roasted", "Milky", "Floral", "Fruity", "Sweet", "Woody", "Mineral", "Vegetal",
    ]  # fmt: skip


def test_a_family_names_its_leading_word_and_its_greatest_strength() -> None:
    floral = row(heron_ridge(), "family:floral")

    assert (floral.word, floral.peak) == ("orchid", "5")


def test_words_of_one_family_combine_at_right_angles() -> None:
    # The vector model of odour mixtures (Berglund, Berglund & Lindvall 1973, from memory): sqrt(3² + 2²) = 3.61.
    table = poured(1)
    table.note(1, {"orchid": 3, "jasmine": 2})

    (cell,) = row(table.tasting(), "family:floral").cells

    assert (cell.value, cell.words) == ("3.6", "orchid 3, jasmine 2")


def test_not_assessed_is_not_zero() -> None:
    table = poured(3)
    table.note(1, {"orchid": 3})
    table.attend(2)

    floral = row(table.tasting(), "family:floral")

    assert [cell.value for cell in floral.cells] == ["3", "0", ""]
    assert [cell.words for cell in floral.cells] == ["orchid", "none", "not assessed"]


def test_a_curve_has_a_gap_where_aroma_was_not_assessed() -> None:
    table = poured(5)
    for infusion in (1, 2, 4, 5):
        table.note(infusion, {"orchid": 3})

    first, second = row(table.tasting(), "family:floral").curve

    assert (first[0][0], first[-1][0]) == (1, 2)
    assert (second[0][0], second[-1][0]) == (4, 5)


def test_a_curve_runs_down_to_a_zero_that_was_assessed() -> None:
    table = poured(3)
    table.note(1, {"orchid": 4})
    table.attend(2)
    table.attend(3)

    (part,) = row(table.tasting(), "family:floral").curve

    assert part[0] == (1, 4)
    assert part[-1] == (2, 0)


@pytest.mark.parametrize("tasting", [heron_ridge(), long_session()], ids=["design", "long"])
def test_every_curve_passes_through_its_readings_and_never_beyond_them(tasting: Tasting) -> None:
    for one in chart(tasting).rows:
        levels = {dot.infusion: dot.level for dot in one.dots}
        for part in one.curve:
            for x, y in part:
                around = [levels.get(int(x), 0.0), levels.get(int(x) + (x % 1 > 0), 0.0)]
                assert min(around) - 1e-9 <= y <= max(around) + 1e-9


def test_only_what_was_perceived_has_a_dot() -> None:
    nutty = row(heron_ridge(), "family:nutty")

    assert [(dot.infusion, dot.level) for dot in nutty.dots] == [(1, 3), (2, 2)]


def test_a_clouded_or_doubtful_word_makes_its_reading_uncertain_and_says_so() -> None:
    table = poured(2)
    table.note(1, {"orchid": 3}, clouded=True)
    table.note(2, {"orchid": 2}, doubtful=True, late=True)

    floral = row(table.tasting(), "family:floral")

    assert [dot.is_uncertain for dot in floral.dots] == [True, True]
    assert [cell.spoken for cell in floral.cells] == ["orchid, clouded", "orchid, late, doubtful"]


def test_what_was_said_to_be_absent_is_told_as_absent() -> None:
    table = poured(2)
    table.note(1, {"orchid": 3})
    table.note(2, {"orchid": 0})

    cell = row(table.tasting(), "family:floral").cells[1]

    assert (cell.value, cell.words) == ("0", "no orchid")


def test_a_word_said_twice_in_one_cup_counts_once_at_its_strongest() -> None:
    table = poured(1)
    table.note(1, {"orchid": 2})
    table.note(1, {"orchid": 4}, step="empty_cup")

    (cell,) = row(table.tasting(), "family:floral").cells

    assert (cell.value, cell.words) == ("4", "orchid")


def test_a_cup_that_was_only_poured_is_a_gap_at_the_end() -> None:
    table = Table()
    table.note(1, {"orchid": 3})
    table.read(2, body=3)

    shown = chart(table.tasting())

    assert [one.is_assessed for one in shown.columns] == [True, False]
    assert [cell.words for cell in shown.families[0].cells] == ["orchid", "not assessed"]


# -- scales


def test_scales_stand_in_the_order_of_the_vocabulary_and_only_if_they_were_read() -> None:
    table = poured(1)
    table.read(1, finish=3, body=2)

    assert named(chart(table.tasting()).scales) == ["Body", "Finish"]


def test_a_scale_says_where_it_reads_highest() -> None:
    assert row(heron_ridge(), "scale:body").word == "thick at 3 to 5"


def test_a_reading_of_nothing_is_a_reading() -> None:
    table = poured(2)
    table.read(1, grip=0)
    table.read(2, grip=0)

    grip = row(table.tasting(), "scale:grip")

    assert [dot.level for dot in grip.dots] == [0, 0]
    assert [y for part in grip.curve for _, y in part] == pytest.approx([0.0] * len(grip.curve[0]))
    assert [cell.words for cell in grip.cells] == ["none", "none"]


def test_a_scale_that_was_not_read_says_so() -> None:
    table = poured(2)
    table.read(1, grip=2)

    cell = row(table.tasting(), "scale:grip").cells[1]

    assert (cell.value, cell.words) == ("", "not read")


def test_seconds_are_drawn_as_shares_of_the_longest() -> None:
    table = poured(2)
    table.read(1, finish_length_s=30)
    table.read(2, finish_length_s=120)

    length = row(table.tasting(), "scale:finish_length_s")

    assert [dot.level for dot in length.dots] == [1.25, 5]
    assert [cell.words for cell in length.cells] == ["30 s", "2 min"]


# -- columns


def test_the_peak_is_the_infusion_with_the_most_aroma() -> None:
    assert [one.index for one in chart(heron_ridge()).columns if one.is_peak] == [4]


def test_one_assessed_infusion_is_no_peak() -> None:
    table = poured(3)
    table.note(2, {"orchid": 3})

    assert not any(one.is_peak for one in chart(table.tasting()).columns)


def test_a_column_tells_steep_deviation_water_and_liquor() -> None:
    fourth = column(heron_ridge(), 4)

    assert (fourth.steep, fourth.deviation, fourth.water) == ("49 s", "+7", "90 °C")
    assert fourth.line.startswith("Infusion 4, the peak: 49 s, 7 s over plan at 90 °C; ")
    assert fourth.line.endswith(f"{fourth.liquor}")


def test_a_steep_shorter_than_planned_has_a_true_minus_and_one_on_plan_has_no_deviation() -> None:
    assert column(heron_ridge(), 6).deviation == "−3"
    assert column(heron_ridge(), 5).deviation == ""


def test_water_is_told_in_fahrenheit_where_the_user_reads_that() -> None:
    # 95 °C = 203 °F by the definition of the scale.
    table = Table()
    table.pour(1, water_c=95)

    (only,) = chart(table.tasting(), fahrenheit=True).columns

    assert only.water == "203 °F"


def test_a_screen_reader_hears_the_whole_column() -> None:
    spoken = column(heron_ridge(), 8).spoken

    assert "Floral 1, orchid" in spoken
    assert "Mineral 3, wet slate" in spoken
    assert "Body light, Grip a trace, Huígān clear and Finish fair" in spoken


def test_a_screen_reader_hears_that_aroma_was_not_assessed() -> None:
    table = poured(2)
    table.note(1, {"orchid": 3})

    assert column(table.tasting(), 2).spoken.endswith("aroma not assessed.")


# -- liquor


def test_liquor_flows_only_between_neighbours_that_were_both_judged() -> None:
    table = Table()
    for index, liquor in enumerate((LIQUORS[0], LIQUORS[1], None, LIQUORS[2]), start=1):
        table.pour(index, liquor=liquor)

    (band,) = chart(table.tasting()).bands

    assert band.after == 1


def test_a_band_begins_and_ends_in_the_colours_of_its_cups() -> None:
    shown = chart(heron_ridge())

    assert len(shown.bands) == 7
    for band in shown.bands:
        assert band.colours[0] == shown.columns[band.after - 1].cup
        assert band.colours[-1] == shown.columns[band.after].cup


# -- what is missing


def test_a_session_in_which_nothing_happened_says_what_to_do() -> None:
    shown = chart(Table().tasting(minutes=None))

    assert shown.empty[0] == "Nothing noted yet"
    assert "Bench" in shown.empty[1]
    assert shown.columns == ()


def test_cups_without_a_word_are_shown_with_what_to_do() -> None:
    shown = chart(poured(3).tasting(minutes=None))

    assert shown.empty[0] == "No aroma noted yet"
    assert len(shown.columns) == 3


def test_aroma_that_was_attended_to_in_vain_is_told_apart_from_none_attended_to() -> None:
    table = poured(1)
    table.attend(1)

    assert chart(table.tasting()).empty[0] == "No aroma named"


def test_the_caption_names_gaps_and_words_that_cannot_be_drawn() -> None:
    table = poured(3)
    table.note(1, {"orchid": 3, "harbour rope": 2})

    caption = chart(table.tasting()).caption

    assert caption == ("ordered by when each family speaks; 2 and 3 not assessed; 1 word without a family not drawn")


def test_the_arc_is_told_in_sentences() -> None:
    told = chart(heron_ridge()).told

    assert "Floral peaks at 4" in told
    assert "There is most aroma at 4." in told
