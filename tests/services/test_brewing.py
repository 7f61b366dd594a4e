"""What physics answers about one tasting: water, kettle, the next steep, the day's caffeine."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tastebook.domain.errors import QuantityError
from tastebook.domain.kettle import Estimate
from tastebook.services.shelf import Opening
from tastebook.services.tasting import TastingDesk
from tests.bench_kit import Kit, bench_kit

BOILS_AT_2000_M_C = 93.3
"""Water at 2,000 m in the standard atmosphere of ISO 2533, IAPWS-IF97: 93.317 °C (table in tests/reference)."""


def another(kit: Kit, **opening: object) -> TastingDesk:
    """Begin one more session with the same lot and return its desk."""
    told = {"leaf_g": 6.5, "volume_ml": 110.0, **opening}
    session = kit.shelf.begin(kit.desk.tasting.lot, Opening(**told))  # type: ignore[arg-type]
    return TastingDesk(kit.keeping, kit.words, session.uid)


def brew(kit: Kit, desk: TastingDesk, *steeps: float, strengths: tuple[float, ...] = ()) -> None:
    """Pour infusions of so many seconds, and read how strong they are."""
    step = desk.tasting.session.course.step("first_sip")
    for index, seconds in enumerate(steeps, start=1):
        desk.pour_water_on(index)
        kit.clock.advance(seconds)
        desk.pour()
        kit.clock.advance(60)
        if strengths:
            desk.read(step, index, "strength", strengths[index - 1])


def test_a_course_s_water_is_never_hotter_than_water_can_be_at_the_place() -> None:
    kit = bench_kit()

    high = another(kit, altitude_m=2000)

    assert high.hottest_c == pytest.approx(BOILS_AT_2000_M_C, abs=0.05)
    assert high.water_c(1) == pytest.approx(BOILS_AT_2000_M_C, abs=0.05)
    assert kit.desk.water_c(1) == 95


def test_a_barometer_counts_for_more_than_the_height() -> None:
    kit = bench_kit()

    by_height, by_barometer = another(kit, altitude_m=2000), another(kit, altitude_m=2000, pressure_hpa=780)

    assert by_barometer.hottest_c < by_height.hottest_c


def test_a_barometer_reduced_to_sea_level_is_refused_in_words() -> None:
    kit = bench_kit()

    with pytest.raises(QuantityError, match="looks like a reading reduced to sea level"):
        another(kit, altitude_m=2000, pressure_hpa=1013)


@pytest.mark.parametrize("give", ["set_water", "measure_water"])
def test_water_hotter_than_it_boils_here_is_refused_with_the_nearest(give: str) -> None:
    high = another(bench_kit(), altitude_m=2000)

    with pytest.raises(QuantityError, match=r"99 °C cannot be reached: water boils at 93\.3 °C here"):
        getattr(high, give)(1, 99)

    assert high.tasting.kettle_readings == ()


def test_a_kettle_cools_from_its_boil_and_a_reading_narrows_what_is_known() -> None:
    kit = bench_kit()
    high = another(kit, altitude_m=2000)
    high.mark_boil(1)
    kit.clock.advance(300)
    by_clock = kit.brewing.kettle_now(high.tasting, kit.clock.now())
    high.measure_water(1, 88)
    kit.clock.advance(60)
    by_reading = kit.brewing.kettle_now(high.tasting, kit.clock.now())

    assert by_clock is not None
    assert by_reading is not None
    assert by_clock.estimate.low_c < by_clock.estimate.temp_c < BOILS_AT_2000_M_C
    assert 86 < by_reading.estimate.temp_c < 88
    assert width(by_reading.estimate) < width(by_clock.estimate)


def width(estimate: Estimate) -> float:
    return estimate.high_c - estimate.low_c


def test_a_kettle_without_a_boil_or_a_reading_is_not_guessed_at() -> None:
    kit = bench_kit()

    assert kit.brewing.kettle_now(kit.desk.tasting, kit.clock.now()) is None


def test_a_new_boil_begins_anew() -> None:
    kit = bench_kit()
    kit.desk.mark_boil(1)
    kit.clock.advance(900)
    kit.desk.mark_boil(1)

    now = kit.brewing.kettle_now(kit.desk.tasting, kit.clock.now())

    assert now is not None
    assert now.estimate.temp_c == pytest.approx(100, abs=0.1)
    assert now.since_s == 0


def test_a_kettle_that_has_grown_hotter_without_a_boil_is_asked_about() -> None:
    kit = bench_kit()
    kit.desk.measure_water(1, 80)
    kit.clock.advance(60)

    with pytest.raises(QuantityError, match="has it boiled again"):
        kit.brewing.refuse_reading(kit.desk.tasting, 90, kit.clock.now())


def test_a_kettle_that_was_heated_without_boiling_cools_from_there() -> None:
    kit = bench_kit()
    kit.desk.measure_water(1, 78)
    kit.clock.advance(300)
    kit.desk.measure_water(1, 85)

    now = kit.brewing.kettle_now(kit.desk.tasting, kit.clock.now())

    assert now is not None
    assert now.since_s == 0
    assert now.estimate.temp_c == pytest.approx(85, abs=0.5)


def test_a_reading_of_another_day_is_of_another_kettleful() -> None:
    kit = bench_kit()
    kit.desk.measure_water(1, 90)
    kit.clock.advance(2 * 86_400)
    kit.desk.measure_water(1, 85)

    now = kit.brewing.kettle_now(kit.desk.tasting, kit.clock.now())

    assert now is not None
    assert now.since_s == 0


def test_a_boil_gives_way_to_a_temperature_set_by_hand_before_and_undo_brings_it_back() -> None:
    kit = bench_kit()
    kit.desk.set_water(1, 85)
    kit.desk.mark_boil(1)
    after_boil = kit.desk.tasting.infusion(1)
    kit.desk.undo()

    assert after_boil is not None
    assert after_boil.water_c is None
    assert kit.desk.water_c(1) == 85
    assert kit.desk.tasting.kettle_readings == ()


def test_the_next_steep_is_longer_than_the_last_for_the_same_strength() -> None:
    kit = bench_kit()
    brew(kit, kit.desk, 20, 25, 30)
    water = kit.brewing.in_vessel(kit.desk.tasting, Estimate.measured(95), 4)

    same, stronger = (kit.brewing.advice(kit.desk.tasting, Estimate.measured(95), 4, 3, one) for one in (1.0, 1.2))

    assert same is not None
    assert stronger is not None
    assert water.temp_c < 95
    assert 30 < same.middle_s < stronger.middle_s
    assert same.low_s < same.middle_s < same.high_s


def test_what_strength_readings_taught_of_a_lot_is_carried_to_its_next_session() -> None:
    kit = bench_kit()
    first = another(kit)
    brew(kit, first, 20, 25, 30, 40, strengths=(4, 3, 2, 1))
    first.close()

    untaught = bench_kit()
    second, fresh = another(kit), another(untaught)

    assert kit.brewing.belief(second.tasting).readings == 4
    assert untaught.brewing.belief(fresh.tasting).readings == 0
    assert kit.brewing.belief(second.tasting).rate.middle != untaught.brewing.belief(fresh.tasting).rate.middle


def test_leaf_that_was_neither_weighed_nor_judged_has_no_advice_but_does_no_harm() -> None:
    kit = bench_kit()
    desk = another(kit, leaf_g=None)
    brew(kit, desk, 20, strengths=(3,))

    assert kit.brewing.estimates(desk.tasting)
    with pytest.raises(QuantityError, match="neither weighed nor judged"):
        kit.brewing.leaf_g(desk.tasting.session)


def test_spitting_keeps_the_day_s_caffeine_low() -> None:
    kit = bench_kit()
    desk = another(kit)
    brew(kit, desk, 20, 25, 30)
    drunk = desk.tasting

    amounts = [
        kit.brewing.drunk_today(replace(drunk, session=replace(drunk.session, swallowed=how)), kit.clock.now()).line
        for how in ("spat", "sipped", "drunk")
    ]

    most_mg = [int(line.rstrip(" mg.").split()[-1]) for line in amounts]
    assert most_mg == sorted(most_mg)
    assert most_mg[0] < most_mg[-1]


def test_caffeine_is_not_spoken_of_where_it_is_not_watched() -> None:
    kit = bench_kit(caffeine_watch="off")
    brew(kit, kit.desk, 20)

    assert kit.brewing.drunk_today(kit.desk.tasting, kit.clock.now()).line == ""


def test_without_strength_readings_nothing_is_estimated_of_the_lot() -> None:
    kit = bench_kit()
    brew(kit, kit.desk, 20, 25)

    assert kit.brewing.estimates(kit.desk.tasting) == ()


def test_how_long_a_lot_lasts_and_how_else_to_brew_it_is_marked_as_extrapolated() -> None:
    kit = bench_kit()
    brew(kit, kit.desk, 20, 26, 34, 42, 55, 72, strengths=(3, 4, 4, 3, 2, 1))

    told = kit.brewing.estimates(kit.desk.tasting)

    assert "good infusions by your strength readings" in told[0]
    assert ["Western pot" in told[-2], "Cold brew" in told[-1]] == [True, True]
    assert all("extrapolated" in one for one in told[-2:])


def test_after_many_teas_a_break_is_suggested() -> None:
    kit = bench_kit(break_after=2)
    for _ in range(2):
        brew(kit, another(kit), 20)
    kit.clock.advance(600)
    kit.brewing.forget()

    words = kit.brewing.rest_words(another(kit).tasting, kit.clock.now())

    assert "break" in words


def test_leaf_judged_by_eye_leaves_more_open_in_the_brewing_guide_than_leaf_weighed() -> None:
    kit = bench_kit()
    brew(kit, kit.desk, 20, 26, 34, 42, 55, 72, strengths=(3, 4, 4, 3, 2, 1))
    weighed = kit.desk.tasting
    by_eye = replace(weighed, session=replace(weighed.session, leaf_by_eye=True))

    told = [kit.brewing.estimates(one)[-2] for one in (weighed, by_eye)]

    spans = [one[one.index("(") + 1 :].split(" min")[0].split(" to ") for one in told]
    (low, high), (low_by_eye, high_by_eye) = ((float(a), float(b)) for a, b in spans)
    assert low_by_eye < low
    assert high_by_eye > high


def test_a_session_taken_up_again_months_later_is_reckoned_with_like_any_other() -> None:
    kit = bench_kit()
    brew(kit, kit.desk, 20.0)
    kit.clock.advance(190 * 86_400)
    kit.desk.pour_water_on(2)
    kit.clock.advance(25)
    kit.desk.pour()

    assert [one.time_s for one in kit.brewing.steeped(kit.desk.tasting)] == [20, 25]
    assert kit.bench.view().timer.advice[0]
