from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.errors import QuantityError
from tastebook.domain.figures import Range
from tastebook.domain.intake import (
    NOTHING,
    Cup,
    DayTotal,
    Limits,
    Swallowed,
    Take,
    caffeine_mg,
    caution,
    content_mg_g,
    day_total,
    intake_line,
    limits,
    mg_words,
    summed,
)
from tastebook.domain.lot import KINDS
from tests.domain.shipped_figures import shipped_figures

FIGURES = shipped_figures("caffeine")
NOON = datetime(2026, 4, 18, 12, 0, tzinfo=UTC)
ADULT = limits(FIGURES, "adult")
PREGNANCY = limits(FIGURES, "pregnancy")


def cup(extracted: float, swallowed: Swallowed = "drunk", *, off: float = 0.0) -> Cup:
    return Cup(Range(max(0.0, extracted - off), extracted, min(1.0, extracted + off)), swallowed)


def taken_mg(*cups: Cup, leaf_g: float = 5, kind: str = "oolong") -> Range:
    return caffeine_mg(Range.exactly(leaf_g), content_mg_g(kind, FIGURES), cups, FIGURES)


def take(minutes: float, low: float, high: float) -> Take:
    """What was taken so many minutes after noon."""
    return Take(NOON + timedelta(minutes=minutes), Range(low, (low + high) / 2, high))


@st.composite
def cups(draw: st.DrawFn) -> list[Cup]:
    """Infusions whose middle shares come to no more than the leaf has."""
    number = draw(st.integers(0, 8))
    return [
        cup(draw(st.floats(0, 1 / max(number, 1))), draw(st.sampled_from(("spat", "sipped", "drunk"))), off=0.1)
        for _ in range(number)
    ]


# -- one lot of leaf


@pytest.mark.parametrize("kind", [*KINDS, "", "something else"])
def test_every_kind_of_tea_has_a_range_with_a_top_above_its_bottom(kind: str) -> None:
    content = content_mg_g(kind, FIGURES)

    assert 5 < content.low < content.middle < content.high <= 50


def test_a_kind_that_nobody_knows_has_the_widest_range() -> None:
    unknown = content_mg_g("something else", FIGURES)

    assert unknown.low == min(content_mg_g(kind, FIGURES).low for kind in KINDS)
    assert unknown.high == max(content_mg_g(kind, FIGURES).high for kind in KINDS)


def test_what_was_taken_is_leaf_times_content_times_share_times_swallowed() -> None:
    # Arithmetic: 5 g x 14 to 31 mg/g x 0.4 x 0.8 to 1.
    amount_mg = taken_mg(cup(0.4))

    assert (amount_mg.low, amount_mg.middle, amount_mg.high) == pytest.approx((22.4, 42.75, 62.0))


def test_spitting_keeps_it_down_and_drinking_does_not() -> None:
    spat, sipped, drunk = (taken_mg(cup(0.5, how)) for how in ("spat", "sipped", "drunk"))

    assert spat.low == 0
    assert spat.high < sipped.middle < drunk.low


def test_leaf_by_eye_widens_the_range() -> None:
    by_eye = caffeine_mg(Range(3.4, 5, 6.6), content_mg_g("oolong", FIGURES), [cup(0.4)], FIGURES)

    assert by_eye.low < taken_mg(cup(0.4)).low
    assert by_eye.high > taken_mg(cup(0.4)).high


def test_no_infusion_is_no_caffeine() -> None:
    assert taken_mg() == NOTHING


@given(cups(), st.floats(0.2, 30))
def test_no_more_is_ever_taken_than_the_leaf_had(infusions: list[Cup], leaf_g: float) -> None:
    amount_mg = taken_mg(*infusions, leaf_g=leaf_g)

    assert 0 <= amount_mg.low <= amount_mg.middle <= amount_mg.high
    assert amount_mg.high <= leaf_g * content_mg_g("oolong", FIGURES).high + 1e-9


@given(cups(), st.floats(0, 0.1), st.floats(0.2, 20), st.floats(0, 5))
def test_more_leaf_or_another_infusion_is_never_less(
    infusions: list[Cup], more: float, leaf_g: float, more_g: float
) -> None:
    if math.fsum(one.extracted.low for one in infusions) + more > 1:
        infusions = infusions[:-1]

    before = taken_mg(*infusions, leaf_g=leaf_g)

    for after in (taken_mg(*infusions, leaf_g=leaf_g + more_g), taken_mg(*infusions, cup(more), leaf_g=leaf_g)):
        assert after.low >= before.low - 1e-9
        assert after.middle >= before.middle - 1e-9
        assert after.high >= before.high - 1e-9


@pytest.mark.parametrize(
    ("leaf_g", "shares", "told"),
    [
        (5000, [0.5], r"^leaf cannot be 5000 g: it must be from 0\.1 to 500 g"),
        (0, [0.5], r"^leaf cannot be 0 g"),
        (5, [1.2], r"^share of the leaf's caffeine cannot be 1\.2: it must be from 0 to 1"),
        (5, [-0.1], r"^share of the leaf's caffeine cannot be -0\.1"),
        (5, [0.6, 0.6], r"^The infusions cannot hold more caffeine together than the leaf had"),
    ],
)
def test_what_no_leaf_could_give_is_refused(leaf_g: float, shares: list[float], told: str) -> None:
    with pytest.raises(QuantityError, match=told):
        taken_mg(*(Cup(Range.exactly(share), "drunk") for share in shares), leaf_g=leaf_g)


def test_the_user_s_own_content_is_used() -> None:
    own = FIGURES.with_own({"caffeine_oolong": {"value": 20}, "swallowed_drunk": {"value": 1}})

    amount_mg = caffeine_mg(Range.exactly(5), content_mg_g("oolong", own), [cup(1.0)], own)

    assert amount_mg == Range.exactly(100)


# -- a day


def test_a_day_is_the_sum_of_its_ends() -> None:
    day = day_total([take(-300, 10, 30), take(-10, 20, 50)], NOON, 0, FIGURES)

    assert day.total_mg == Range(30, 55, 80)
    assert (day.takes, day.unknown) == (2, 0)


def test_yesterday_and_what_is_still_to_come_are_not_counted() -> None:
    day = day_total([take(-13 * 60, 10, 30), take(5, 10, 30), take(-5, 1, 2)], NOON, 0, FIGURES)

    assert day.total_mg == Range(1, 1.5, 2)


def test_the_day_is_that_of_the_place() -> None:
    # 23:30 UTC the evening before is today in Taiwan, eight hours ahead.
    evening = [take(-12.5 * 60, 10, 30)]

    assert day_total(evening, NOON, 0, FIGURES).takes == 0
    assert day_total(evening, NOON, 8 * 60, FIGURES).takes == 1


def test_a_sitting_ends_with_a_long_pause() -> None:
    takes = [take(-400, 100, 100), take(-150, 20, 20), take(-60, 30, 30)]

    assert day_total(takes, NOON, 0, FIGURES).last_sitting_mg == Range.exactly(50)
    assert day_total(takes, NOON + timedelta(minutes=61), 0, FIGURES).last_sitting_mg == NOTHING


def test_a_sitting_that_began_before_midnight_is_counted_whole() -> None:
    after_midnight = datetime(2026, 4, 19, 0, 20, tzinfo=UTC)
    takes = [Take(after_midnight - timedelta(minutes=60), Range.exactly(90)), Take(after_midnight, Range.exactly(40))]

    day = day_total(takes, after_midnight, 0, FIGURES)

    assert day.total_mg == Range.exactly(40)
    assert day.last_sitting_mg == Range.exactly(130)


def test_what_cannot_be_counted_is_said() -> None:
    unknown = Take(NOON, None)

    assert "1 tea not counted, its leaf is not known" in _line([take(-5, 60, 140), unknown])
    assert "2 teas not counted, their leaf is not known" in _line([take(-5, 60, 140), unknown, unknown])


@given(st.lists(st.tuples(st.floats(-1000, 1000), st.floats(0, 100), st.floats(0, 100))))
def test_a_sitting_within_the_day_is_never_more_than_the_day(rows: list[tuple[float, float, float]]) -> None:
    takes = [take(minutes, min(one, other), max(one, other)) for minutes, one, other in rows if minutes > -600]

    day = day_total(takes, NOON, 0, FIGURES)

    assert day.last_sitting_mg.high <= day.total_mg.high + 1e-9
    assert day.total_mg.low <= day.total_mg.middle <= day.total_mg.high


def test_nothing_adds_up_to_nothing() -> None:
    assert summed([]) == NOTHING


# -- the words


def _line(takes: list[Take], levels: Limits | None = ADULT) -> str:
    return intake_line(day_total(takes, NOON, 0, FIGURES), levels)


def test_the_quiet_line_gives_a_range() -> None:
    assert _line([take(-5, 63, 132)]) == "Caffeine from today's teas: about 60 to 140 mg."


def test_before_the_first_tea_there_is_no_line() -> None:
    assert _line([]) == ""


def test_switched_off_there_is_neither_line_nor_caution() -> None:
    off = limits(FIGURES, "off")

    assert off is None
    assert _line([take(-5, 630, 1320)], off) == ""
    assert caution(Range.exactly(2000), Range.exactly(2000), off) == ""


@pytest.mark.parametrize(
    ("amount_mg", "words"),
    [
        (Range(0, 0, 0), "none"),
        (Range(0, 1, 3), "up to 5 mg"),
        (Range(12, 20, 41), "about 10 to 45 mg"),
        (Range(4, 30, 61), "up to 70 mg"),
        (Range(15, 20, 50), "about 10 to 50 mg"),
        (Range(200, 200, 200), "about 200 mg"),
        (Range(199.9, 200, 200.1), "about 190 to 210 mg"),
    ],
)
def test_a_range_is_rounded_outwards(amount_mg: Range, words: str) -> None:
    assert mg_words(amount_mg) == words


@pytest.mark.parametrize(
    ("total", "sitting", "begins"),
    [
        ((100, 399), (50, 199), ""),
        ((100, 400), (50, 200), ""),
        ((100, 401), (50, 199), "Today's teas may have passed 400 mg of caffeine in a day (about 100 to 410 mg)."),
        ((410, 700), (50, 199), "Today's teas have passed 400 mg of caffeine in a day (about 410 to 700 mg)."),
        ((100, 300), (90, 260), "This sitting may have passed 200 mg of caffeine at one time (about 90 to 260 mg)."),
        ((100, 300), (210, 260), "This sitting has passed 200 mg of caffeine at one time (about 210 to 260 mg)."),
        ((410, 700), (210, 260), "Today's teas have passed 400 mg"),
    ],
)
def test_the_caution_comes_once_a_level_may_have_been_passed(
    total: tuple[float, float], sitting: tuple[float, float], begins: str
) -> None:
    told = caution(Range(total[0], total[0], total[1]), Range(sitting[0], sitting[0], sitting[1]), ADULT)

    assert told.startswith(begins)
    assert bool(told) is bool(begins)


def test_the_caution_names_its_source_and_defers() -> None:
    told = caution(Range(300, 400, 500), NOTHING, ADULT)

    assert (
        "EFSA sees no safety concern for healthy adults, all sources counted (EFSA 2015, EFSA Journal 13(5):4102)"
        in told
    )
    assert told.endswith(
        "An estimate from published ranges, of these teas alone. For questions ask somebody qualified."
    )


def test_in_pregnancy_the_day_s_level_is_the_lower_one() -> None:
    told = caution(Range(100, 200, 260), NOTHING, PREGNANCY)

    assert told.startswith("Today's teas may have passed 200 mg of caffeine in a day in pregnancy")
    assert "no safety concern in pregnancy" in told
    assert caution(Range(100, 150, 190), Range(100, 150, 190), PREGNANCY) == ""


@pytest.mark.parametrize("word", ["should", "must", "stop", "avoid", "drink ", "safe to"])
def test_no_caution_gives_advice(word: str) -> None:
    for levels in (ADULT, PREGNANCY):
        for total_mg, sitting_mg in ((Range(0, 300, 900), NOTHING), (NOTHING, Range(0, 300, 900))):
            assert word not in caution(total_mg, sitting_mg, levels).lower()


def test_a_level_of_one_s_own_that_is_another_level_of_the_authority_is_still_one_s_own() -> None:
    own = limits(FIGURES.with_own({"efsa_day_mg": {"value": 200}}), "adult")

    assert "That is the level you have set." in caution(Range(100, 160, 220), NOTHING, own)


def test_a_lower_level_of_one_s_own_is_said_to_be_one_s_own() -> None:
    own = limits(FIGURES.with_own({"efsa_day_mg": {"value": 150}}), "adult")

    told = caution(Range(100, 160, 220), NOTHING, own)

    assert told.startswith("Today's teas may have passed 150 mg of caffeine in a day")
    assert "That is the level you have set." in told


def test_a_lower_level_for_pregnancy_holds_for_a_sitting_too() -> None:
    own = limits(FIGURES.with_own({"efsa_pregnancy_mg": {"value": 100}}), "pregnancy")

    assert own == Limits(100, 100, "pregnancy", is_own=True)


def test_a_share_that_begins_below_nothing_is_refused() -> None:
    with pytest.raises(QuantityError, match=r"^share of the leaf's caffeine cannot be -0\.2"):
        taken_mg(Cup(Range(-0.2, 0.1, 0.3), "drunk"))


def test_no_level_can_be_set_higher_than_the_authority_s() -> None:
    with pytest.raises(QuantityError, match=r"^efsa_day_mg\.value: .* cannot be 600 mg: it must be from 10 to 400 mg"):
        FIGURES.with_own({"efsa_day_mg": {"value": 600}})


def test_a_day_s_total_can_be_shown_as_it_is() -> None:
    day = DayTotal(Range(60, 90, 140), NOTHING, takes=3, unknown=0)

    assert intake_line(day, PREGNANCY) == "Caffeine from today's teas: about 60 to 140 mg."
