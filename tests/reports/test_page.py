"""The session page as data: every number worked by hand, every gap a gap, every word as it was said."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.caution import Caution
from tastebook.domain.session import Impression, Reading, Saying, StepMark, Tasting, Verdict
from tastebook.domain.steep import Instant
from tastebook.reports.page import SessionPage, session_page, short_id
from tastebook.reports.page_entries import MARKS
from tastebook.reports.page_parts import CurveRow, Entry, SaidWord, StepNote
from tastebook.reports.strip import ribbons, stack
from tastebook.reports.wording import number, steep_time, stretch
from tests.press import sample

LATER = Instant(sample.BEGAN_UTC + timedelta(days=30), 9.0, "another boot")


def facts(page: SessionPage) -> dict[str, str]:
    return {fact.label: fact.value for group in page.groups for fact in group.facts}


def entry(page: SessionPage, heading: str) -> Entry:
    return next(one for one in page.entries if one.heading == heading)


def note(page: SessionPage, heading: str, step: str) -> StepNote:
    return next(one for one in entry(page, heading).notes if one.name == step)


def family(page: SessionPage, name: str) -> CurveRow:
    return next(row for row in page.arc.families if row.name == name)


def texture(page: SessionPage, name: str) -> CurveRow:
    return next(row for row in page.arc.textures if row.name == name)


def impression(step: str, infusion: int | None, word: str, intensity: int, **marks: bool) -> Impression:
    at = sample.BEGAN_UTC + timedelta(hours=1)
    return Impression(f"new-{word}", "s", step, infusion, "palate", word, word, intensity, at, **marks)


def with_impressions(*more: Impression) -> Tasting:
    whole = sample.tasting()
    return replace(whole, impressions=(*whole.impressions, *more))


# -- the head


def test_the_lot_is_told_with_its_whole_provenance() -> None:
    told = facts(sample.page())

    assert told["Kind"] == "oolong, ball"
    assert told["Cultivar"] == "Jin Xuan, Jīn Xuān 金萱"
    assert told["Origin"] == "Heron Ridge, Nantou, Taiwan"
    assert told["Altitude"] == "40 m", "of the tasting, which comes last"
    assert told["Harvest"] == "spring 2026, 28 March 2026"
    assert told["Making"].startswith("sun-withered 0.75 h, withered indoors 9 h, tossed, fixed")
    assert told["Oxidation"] == "25 %"
    assert told["Roast"] == "medium, 6 h, over longan charcoal, on 2 April 2026"
    assert told["Price"] == "118.00 EUR per kg"
    assert told["Quantity"] == "12 kg"
    assert told["Follows"] == "Heron Ridge, spring roast, spring 2025, batch 24-017"


def test_what_nobody_filled_in_is_left_out_and_never_guessed() -> None:
    page = session_page(sample.empty(), sample.vocabulary(), LATER)

    assert facts(page) == {"Course": "Gaiwan session (Common practice, no source)", "Vessel": "gaiwan"}
    assert page.alias == page.decision == page.author == ""
    assert page.verdict is None


def test_the_ratio_is_leaf_over_water() -> None:
    # ISO 3103:2019: 2 g of tea to 100 ml of water, in the common pot of 140 ml 2.8 g.
    session = replace(sample.session(), leaf_g=2.8, volume_ml=140)

    page = sample.page(replace(sample.tasting(), session=session))

    assert facts(page)["Ratio"] == "2 g per 100 ml"


def test_leaf_by_eye_is_said_to_be_about() -> None:
    session = replace(sample.session(), leaf_by_eye=True, leaf_fill=0.3)

    page = sample.page(replace(sample.tasting(), session=session))

    assert facts(page)["Leaf"] == "about 6.5 g, by eye (30 % full)"
    assert facts(page)["Ratio"] == "about 5.9 g per 100 ml"
    assert page.strip.columns[0].value == "about 6.5 g"


@pytest.mark.parametrize(
    ("offset_min", "occasion", "day"),
    [
        (60, "Tasted on 14 April 2026, 9:41 to 10:53, on arrival, by Ines Slate", "14 April 2026"),
        (480, "Tasted on 14 April 2026, 16:41 to 17:53, on arrival, by Ines Slate", "14 April 2026"),
        (890, "Tasted on 14 April 2026, 23:31 to 15 April 2026, 0:43, on arrival, by Ines Slate", "14 April 2026"),
        (-570, "Tasted on 13 April 2026, 23:11 to 14 April 2026, 0:23, on arrival, by Ines Slate", "13 April 2026"),
    ],
)
def test_times_are_those_of_the_place_of_tasting(offset_min: int, occasion: str, day: str) -> None:
    session = replace(sample.session(), utc_offset_min=offset_min)

    page = sample.page(replace(sample.tasting(), session=session))

    assert page.occasion == occasion
    assert page.day == day
    assert page.dated == sample.BEGAN_UTC


def test_an_open_session_says_so() -> None:
    session = replace(sample.session(), closed_at_utc=None)

    page = sample.page(replace(sample.tasting(), session=session))

    assert page.occasion == "Tasted on 14 April 2026, from 9:41, on arrival, by Ines Slate (still open)"


def test_a_closed_session_is_told_as_it_stood_whenever_it_is_printed() -> None:
    soon = Instant(sample.BEGAN_UTC + timedelta(hours=2), 5.0, "boot")

    pages = [session_page(sample.tasting(), sample.vocabulary(), now) for now in (soon, LATER)]

    assert pages[0] == pages[1]


def test_a_session_is_named_by_the_beginning_of_its_uid_by_which_it_can_be_called() -> None:
    assert short_id("01968f3c-2a7e-7c55-9d01-5b3e7a40c9d2") == "01968f3c"


@pytest.mark.parametrize(
    ("seconds", "told"), [(5, "5 s"), (99, "99 s"), (100, "1:40"), (360, "6:00"), (3599, "59:59"), (28_800, "8 h")]
)
def test_steeps_are_told_in_seconds_then_minutes_then_hours(seconds: int, told: str) -> None:
    assert steep_time(seconds) == told


@pytest.mark.parametrize(("seconds", "told"), [(0, "0 s"), (45, "45 s"), (95, "1 min 35 s"), (4320, "1 h 12 min")])
def test_stretches_of_time_are_told_in_full(seconds: int, told: str) -> None:
    assert stretch(seconds) == told


@pytest.mark.parametrize(("value", "told"), [(6.5, "6.5"), (6.0, "6"), (1100, "1,100"), (-3, "−3"), (0.25, "0.25")])
def test_numbers_carry_no_digit_that_says_nothing(value: float, told: str) -> None:
    assert number(value) == told


def test_where_the_water_was_measured_is_said() -> None:
    whole = sample.tasting()
    everywhere = tuple(replace(one, water_measured=True) for one in whole.infusions)
    nowhere = tuple(replace(one, water_measured=False) for one in whole.infusions)

    assert facts(sample.page(whole))["Temperature"] == "measured at 3"
    assert facts(sample.page(replace(whole, infusions=everywhere)))["Temperature"] == "measured"
    assert "Temperature" not in facts(sample.page(replace(whole, infusions=nowhere)))


# -- the strip


def test_the_strip_has_a_column_for_leaf_rinse_each_infusion_and_the_close() -> None:
    columns = sample.page().strip.columns

    assert [one.heading for one in columns] == ["Leaf", "Rinse", *"12345678", "Close"]
    assert [one.value for one in columns][:5] == ["6.5 g", "5 s", "20 s", "28 s", "36 s"]
    assert [one.deviation for one in columns][2:8] == ["", "+2", "+2", "+7", "", "−3"]
    assert columns[4].water == "90 °C"
    assert all(one.assessed for one in columns)


def test_a_stack_is_as_high_as_its_families_together() -> None:
    # Infusion 4: peach 4, orchid 5, cream 3, cedar 2, toasted rice 1, and sweet from nectar 3, caramel 3, vanilla 2:
    # √(9 + 9 + 4) = 4.690 (vectors at right angles, Berglund et al. 1973, from memory).
    column = sample.page().strip.columns[5]

    heights = {one.family: one.top - one.base for one in column.segments}

    assert heights["sweet"] == pytest.approx(math.sqrt(22))
    assert column.segments[-1].top == pytest.approx(4 + 5 + 3 + 2 + 1 + math.sqrt(22))


@given(st.dictionaries(st.sampled_from("abcdef"), st.floats(0, 5)))
def test_stacks_have_neither_gaps_nor_overlaps(strengths: dict[str, float]) -> None:
    segments = stack(strengths, "abcdef")

    assert all(lower.top == upper.base for lower, upper in pairwise(segments))
    assert [one.family for one in segments] == [key for key in "abcdef" if strengths.get(key, 0) > 0]


def test_a_family_flows_on_ends_or_begins() -> None:
    stacks = [stack({"a": 2, "b": 1}, "abc"), stack({"a": 3, "c": 1}, "abc")]

    told = {one.family: one for one in ribbons(stacks, "abc")}

    assert (told["a"].kind, told["a"].left, told["a"].right) == ("goes on", (0, 2), (0, 3))
    assert (told["b"].kind, told["b"].left, told["b"].right) == ("ends", (2, 3), (2.5, 2.5))
    assert (told["c"].kind, told["c"].left, told["c"].right) == ("begins", (3.5, 3.5), (3, 4))


def test_nothing_flows_into_a_column_that_was_not_assessed() -> None:
    page = sample.page(sample.with_flavour_skipped_at(3))

    third = next(index for index, one in enumerate(page.strip.columns) if one.heading == "3")

    assert not page.strip.columns[third].assessed
    assert page.strip.columns[third].segments == ()
    assert not [one for one in page.strip.ribbons if one.after in (third - 1, third)]
    assert "Infusion 3: aroma not assessed." in page.strip.told


# -- the arc


def test_readings_stand_where_they_were_taken() -> None:
    page = sample.page()

    assert family(page, "Roasted").readings == ((1, 3), (2, 3), (3, 2), (4, 1), (5, 1))
    assert family(page, "Floral").peak == "5"
    assert family(page, "Floral").words == "orchid"
    assert family(page, "Sweet").peak == "4.7"


def test_curves_never_pass_beyond_the_readings() -> None:
    for row in (*sample.page().arc.families, *sample.page().arc.textures):
        highest = max(value for _, value in row.readings)
        assert all(-1e-9 <= y <= highest + 1e-9 for line in row.lines for _, y in line)


def test_an_infusion_that_was_not_assessed_parts_every_curve_and_zero_does_not() -> None:
    gap = sample.page(sample.with_flavour_skipped_at(3))
    zero = sample.page()

    assert gap.arc.unassessed == (3,)
    assert not any(2 < x < 4 for row in gap.arc.families for line in row.lines for x, _ in line)
    assert zero.arc.unassessed == ()
    assert family(zero, "Nutty").lines[0][-1] == (3, 0), "no nuts at 3: the curve comes down to it"


def test_nought_on_a_scale_is_a_reading_like_any_other() -> None:
    row = texture(sample.page(), "Bitter")

    assert row.readings[-2:] == ((7, 0), (8, 0))
    assert row.lines[-1][-1] == (8, 0)


def test_a_first_sip_that_was_missed_leaves_a_gap_in_the_texture() -> None:
    row = texture(sample.page(), "Body")

    assert [x for x, _ in row.readings] == [1, 2, 4, 5, 6, 7, 8]
    assert not any(2 < x < 4 for line in row.lines for x, _ in line)
    assert row.words == "thick at 4 and 5"


def test_the_arc_is_told_in_words_too() -> None:
    told = sample.page(sample.with_flavour_skipped_at(6)).arc.told

    assert "Roasted is strongest at 1 and 2" in told
    assert "Flavour was not assessed at 6." in told
    assert "Liquor amber gold at 3" in told


# -- what was said and understood


def test_exact_words_and_what_was_understood_stand_together() -> None:
    told = note(sample.page(), "3", "Flavour")

    assert [one.text for one in told.sayings] == [
        "cream first, then orchid 4, white peach 3, cedar 3 underneath, no rose"
    ]
    assert SaidWord("orchid", "floral", 4) in told.words
    assert SaidWord("rose", "floral", 0) in told.words


def test_a_saying_that_stands_in_what_was_understood_letter_for_letter_is_not_printed_twice() -> None:
    whole = sample.tasting()

    def quoted(text: str) -> list[str]:
        said = Saying("x", "s", "flavour", 3, text, sample.BEGAN_UTC)
        return [one.text for one in note(sample.page(replace(whole, sayings=(said,))), "3", "Flavour").sayings]

    assert quoted("fresh cream 4, orchid, no rose") == []
    assert quoted("Fresh cream 4, orchid, no rose") == ["Fresh cream 4, orchid, no rose"]
    assert quoted("cream 4") == ["cream 4"]
    assert quoted("orchid 3") == ["orchid 3"], "4 was understood last"


@given(st.text(min_size=1, max_size=80))
def test_any_words_are_kept_to_the_letter(words: str) -> None:
    said = Saying("x", "s", "flavour", 2, words, sample.BEGAN_UTC)

    page = sample.page(replace(sample.tasting(), sayings=(said,)))

    told = note(page, "2", "Flavour")
    assert [one.text for one in told.sayings] == [words] or words.strip() in {one.word for one in told.words}


def test_a_word_that_no_vocabulary_knows_is_told_as_it_was_said() -> None:
    page = sample.page(with_impressions(impression("flavour", 2, "grandmother's attic", 3)))

    assert SaidWord("grandmother's attic", "", 3) in note(page, "2", "Flavour").words


def test_a_scale_that_the_vocabulary_has_lost_is_told_by_its_key() -> None:
    whole = sample.tasting()
    read = Reading("x", "s", "first_sip", 2, "old_scale", 3, sample.BEGAN_UTC)

    page = sample.page(replace(whole, readings=(*whole.readings, read)))

    assert ("old scale", "3") in [(one.name, one.words) for one in note(page, "2", "First sip").scales]


def test_readings_are_told_in_the_words_of_their_scale() -> None:
    scales = {one.name: one for one in note(sample.page(), "1", "First sip").scales}

    assert (scales["Body"].words, scales["Body"].value) == ("medium", "3")
    assert (scales["Grip"].words, scales["Grip"].value) == ("slight", "2")


def test_a_timed_finish_is_told_as_time() -> None:
    scales = {one.name: one for one in note(sample.page(), "Close", "Finish").scales}

    assert (scales["Length"].words, scales["Length"].value) == ("1 min 35 s", "")


def test_missed_skipped_and_empty_steps_are_said_plainly() -> None:
    page = sample.page()

    assert note(page, "3", "First sip").state == "missed"
    assert note(page, "8", "Empty cup").state == "skipped"
    assert note(page, "7", "Empty cup").state == "nothing found"


def test_a_step_that_could_still_be_caught_is_not_called_missed() -> None:
    whole = sample.tasting()
    left = tuple(one for one in whole.impressions if one.step != "infused_leaf")

    page = sample.page(replace(whole, impressions=left))

    assert note(page, "Close", "Infused leaf").state == "not noted"


def test_steps_of_which_there_is_nothing_yet_to_attend_to_are_left_out() -> None:
    page = sample.page(sample.empty())

    assert [one.heading for one in page.entries] == ["Leaf"]
    assert [one.state for one in page.entries[0].notes] == ["not noted", "not noted"]


def test_a_mark_that_everything_of_a_step_bears_is_said_once_of_the_step() -> None:
    told = note(sample.page(), "5", "First sip")

    assert told.state == "late"
    assert all(one.marks == () for one in told.scales)


def test_a_mark_of_one_word_stays_with_that_word() -> None:
    page = sample.page()
    rinse = {one.word: one.marks for one in note(page, "Rinse", "Wet leaf").words}
    sixth = {one.word: one.marks for one in note(page, "6", "Flavour").words}

    assert rinse["wood smoke (smoke)"] == ("clouded",)
    assert rinse["almond skin"] == ()
    assert sixth["walnut"] == ("doubtful",)
    assert sixth["nectar"] == ()


def test_late_words_are_marked_late() -> None:
    said = Saying("x", "s", "flavour", 2, "peach after all", sample.BEGAN_UTC, late=True)
    whole = sample.tasting()

    page = sample.page(replace(whole, sayings=(*whole.sayings, said)))

    assert note(page, "2", "Flavour").sayings[-1].marks == ("late",)


def test_the_legend_explains_the_marks_that_occur_and_no_others() -> None:
    whole = sample.tasting()
    fresh = replace(
        whole,
        impressions=tuple(replace(one, clouded=False, doubtful=False) for one in whole.impressions),
        readings=tuple(replace(one, late=False) for one in whole.readings),
    )

    assert [one.label for one in sample.page().legend] == list(MARKS)
    assert sample.page(fresh).legend == ()


def test_liquor_is_told_with_clarity_and_the_change_from_the_cup_before() -> None:
    page = sample.page()

    assert note(page, "1", "Liquor").remark.startswith("straw yellow, clear; ")
    assert note(page, "1", "Liquor").remark.endswith(" the rinse")
    assert note(page, "3", "Liquor").remark.startswith("amber gold, brilliant; a shade deeper")
    assert note(page, "3", "Liquor").remark.endswith(" than 2")


def test_a_liquor_judged_late_and_from_a_photo_says_both() -> None:
    whole = sample.tasting()
    cups = tuple(
        replace(one, liquor_late=True, liquor_source="photo") if one.index == 1 else one for one in whole.infusions
    )

    told = note(sample.page(replace(whole, infusions=cups)), "1", "Liquor")

    assert told.state == "late"
    assert "from a photo" in told.remark


def test_a_steep_is_told_against_its_plan_only_where_it_strayed() -> None:
    page = sample.page()

    assert entry(page, "1").lines == ("20 s, 92 °C",)
    assert entry(page, "2").lines == ("28 s, 90 °C", "plan 26 s")
    assert entry(page, "8").lines == ("2:30, 98 °C",)


def test_a_steep_that_still_runs_is_told_as_such() -> None:
    whole = sample.tasting()
    running = replace(whole.infusions[-1], poured=None, actual_ms=None)
    session = replace(whole.session, closed_at_utc=None)

    page = sample.page(replace(whole, session=session, infusions=(*whole.infusions[:-1], running)))

    assert entry(page, "8").lines == ("in water, 98 °C",)
    assert page.strip.columns[-2].value == "in water"


# -- what it came to


def test_a_verdict_without_a_headline_is_told_by_its_decision() -> None:
    verdict = Verdict("v", "s", decision="rest until", rest_until=date(2026, 9, 1))

    page = sample.page(replace(sample.tasting(), verdict=verdict))

    assert page.decision == "Rest until 1 September 2026"
    assert page.verdict is not None
    assert page.verdict.headline == "Rest until 1 September 2026"


def test_an_empty_verdict_is_none() -> None:
    page = sample.page(replace(sample.tasting(), verdict=Verdict("v", "s")))

    assert page.verdict is None


def test_only_cautions_meant_for_the_page_are_printed_and_cold_brewing_only_where_it_is_spoken_of() -> None:
    def caution(key: str, *where: str) -> Caution:
        return Caution(key, key, "text", "brief", "source", where)  # type: ignore[arg-type]

    given_ = (caution("scald", "timer", "page"), caution("timer_only", "timer"), caution("cold_brew", "page"))
    verdict = Verdict("v", "s", cold_brew="good, 8 g to the litre")

    hot = session_page(sample.tasting(), sample.vocabulary(), LATER, cautions=given_)
    cold = session_page(replace(sample.tasting(), verdict=verdict), sample.vocabulary(), LATER, cautions=given_)

    assert [one.key for one in hot.cautions] == ["scald"]
    assert [one.key for one in cold.cautions] == ["scald", "cold_brew"]


def test_an_aroma_step_finished_with_nothing_named_is_nought_and_not_a_gap() -> None:
    whole = sample.with_flavour_skipped_at(3)
    mark = StepMark("x", "s", "flavour", 3, "done", datetime(2026, 4, 14, 9, 20, tzinfo=UTC))

    page = sample.page(replace(whole, marks=(*whole.marks, mark)))

    assert page.arc.unassessed == ()
    assert note(page, "3", "Flavour").state == "nothing found"


def test_prices_keep_their_cents() -> None:
    page = sample.page(replace(sample.tasting(), lot=replace(sample.lot(), price_per_kg=Decimal("1180.5"))))

    assert facts(page)["Price"] == "1,180.50 EUR per kg"
