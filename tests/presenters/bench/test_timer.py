from __future__ import annotations

from tests.bench_kit import bench_kit


def test_space_puts_water_on_then_pours_then_goes_on() -> None:
    kit = bench_kit()

    actions = [kit.bench.timer().action]
    for _ in range(3):
        kit.press()
        actions.append(kit.bench.timer().action)

    assert actions == ["Water on", "Pour", "Next infusion", "Water on"]
    assert kit.bench.timer().title == "Infusion 1"


def test_the_digits_count_down_to_the_plan_then_over_it() -> None:
    kit = bench_kit()
    kit.steep(5)
    kit.press()
    kit.press()
    shown = []

    for seconds in (0.0, 0.4, 18.6, 5.9, 0.1, 7.0):
        kit.clock.advance(seconds)
        timer = kit.bench.timer()
        shown.append((timer.digits, timer.word))

    assert kit.bench.timer().plan == "plan 0:25"
    assert shown == [
        ("0:25", "steeping"),
        ("0:25", "steeping"),
        ("0:06", "begin to pour"),
        ("0:01", "begin to pour"),
        ("0:00", "begin to pour"),
        ("+0:07", "over plan"),
    ]


def test_the_time_in_water_is_kept_to_the_millisecond() -> None:
    kit = bench_kit()

    kit.press()
    kit.clock.advance(5.237)
    kit.bench.pedal()

    assert kit.desk.tasting.infusion(0).actual_ms == 5237  # type: ignore[union-attr]


def test_a_press_that_bounces_counts_once() -> None:
    kit = bench_kit()

    kit.press()
    kit.clock.advance(0.2)
    kit.bench.pedal()

    assert kit.desk.tasting.steeping is not None


def test_sleep_adds_to_the_steep_and_a_clock_that_is_set_does_not() -> None:
    kit = bench_kit()
    kit.press()

    kit.clock.sleep(30)
    kit.clock.step_wall(-3600)
    kit.clock.advance(5)

    assert kit.bench.timer().below == "35 s in water"


def test_a_forgotten_steep_asks_instead_of_guessing() -> None:
    kit = bench_kit()
    kit.press()
    kit.clock.advance(3 * 3600)

    kit.press()

    assert kit.desk.tasting.steeping is not None
    assert "after how long" in kit.bench.timer().question
    kit.bench.amend_steep("0:12")
    assert kit.desk.tasting.infusion(0).actual_ms == 12_000  # type: ignore[union-attr]
    assert kit.bench.timer().question == ""


def test_a_long_steep_can_be_said_to_go_on() -> None:
    kit = bench_kit()
    kit.press()
    kit.clock.advance(3 * 3600)

    kit.bench.accept_long()
    kit.press()

    assert kit.desk.tasting.infusion(0).actual_ms == 10_801_000  # type: ignore[union-attr]


def test_a_wrong_pour_is_undone_and_the_steep_goes_on_from_where_it_was() -> None:
    kit = bench_kit()
    kit.press()
    kit.clock.advance(3)
    kit.press()

    kit.bench.undo()
    kit.clock.advance(4)

    assert kit.bench.timer().below == "8 s in water"


def test_seconds_typed_replace_a_pour_pressed_late() -> None:
    kit = bench_kit()
    kit.steep(9)

    kit.bench.amend_steep("6 s")

    assert kit.desk.tasting.infusion(0).actual_ms == 6000  # type: ignore[union-attr]


def test_nonsense_typed_for_seconds_is_refused_in_words() -> None:
    kit = bench_kit()
    kit.steep(9)

    kit.bench.amend_steep("soon")
    said = kit.bench.card().trouble
    kit.bench.amend_steep("-5")

    assert said == "“soon” is not a time such as 42 s."
    assert kit.bench.card().trouble == "steep cannot be -5 s: it must be from 0 to 172800 s."
    assert kit.desk.tasting.infusion(0).actual_ms == 9000  # type: ignore[union-attr]


def test_plan_and_water_step_and_are_typed() -> None:
    kit = bench_kit()

    kit.bench.nudge_plan(5)
    kit.bench.type_water("92 °C")
    kit.bench.nudge_water(-2)

    timer = kit.bench.timer()
    assert (timer.plan_value, timer.water) == ("10 s", "90 °C")


def test_water_hotter_than_water_can_be_is_refused_at_the_field() -> None:
    kit = bench_kit()

    kit.bench.type_water("950")

    assert kit.bench.card().trouble == "water cannot be 950 °C: it must be from 0 to 100 °C."


def test_fahrenheit_is_a_way_of_showing() -> None:
    kit = bench_kit(fahrenheit=True)

    kit.bench.type_water("203")

    assert kit.bench.timer().water == "203 °F"
    assert kit.desk.tasting.infusion(0).water_c == 95.0  # type: ignore[union-attr]


def test_a_plan_made_after_the_pour_is_the_next_infusions() -> None:
    kit = bench_kit()
    kit.steep(5)

    kit.bench.nudge_plan(5)

    assert kit.bench.timer().plan_caption == "next plan"
    assert kit.desk.planned_s(1) == 30
    assert kit.desk.planned_s(0) == 5


def test_the_rinse_can_be_passed_over() -> None:
    kit = bench_kit()

    kit.bench.next_infusion()
    kit.steep(20)

    assert [one.index for one in kit.desk.tasting.infusions] == [1]


def test_counting_up_swaps_the_two_times() -> None:
    kit = bench_kit(counts_up=True)
    kit.press()
    kit.clock.advance(2)

    timer = kit.bench.timer()

    assert (timer.digits, timer.below) == ("0:02", "0:03 to plan")


def test_scalding_water_is_named_before_the_first_steep_and_hot_sips_after_it() -> None:
    kit = bench_kit()

    before = kit.bench.timer().advice[0]
    kit.steep(5)
    after = kit.bench.timer().advice[0]

    assert "scalds" in before
    assert "65 °C" in after
