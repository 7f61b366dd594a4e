"""What physics says at the Bench: the water now, the next steep, the sip, the day."""

from __future__ import annotations

from tastebook.services.shelf import Opening
from tastebook.services.tasting import TastingDesk
from tests.bench_kit import Kit, bench_kit


def at_height(altitude_m: float = 2000, **settings: object) -> Kit:
    """Return a Bench on a mountain, where water boils at 93.3 °C (ISO 2533, IAPWS-IF97)."""
    kit = bench_kit(**settings)
    opening = Opening(leaf_g=6.5, volume_ml=110, altitude_m=altitude_m)
    session = kit.shelf.begin(kit.desk.tasting.lot, opening)
    kit.desk = TastingDesk(kit.keeping, kit.words, session.uid)
    kit.bench = kit.bench_at(kit.desk)
    return kit


def two_infusions(kit: Kit) -> None:
    """Rinse, and pour two infusions; the timer stands at the third."""
    kit.steep(5)
    for seconds in (20, 25):
        kit.press()
        kit.steep(seconds)
    kit.press()


# -- water


def test_a_plan_hotter_than_water_boils_here_gives_way_and_says_so() -> None:
    timer = at_height().bench.timer()

    assert timer.water == "93.3 °C"
    assert timer.advice == ("Water boils at 93.3 °C here, and scalds: mind your hands.", "Your taste decides.")
    assert timer.is_hottest


def test_typing_more_than_the_boil_is_refused_with_what_can_be() -> None:
    kit = at_height()

    kit.bench.type_water("99")

    trouble = kit.bench.card().trouble
    assert "water boils at 93.3 °C here" in trouble
    assert kit.bench.timer().water == "93.3 °C"


def test_from_the_boil_on_the_water_shown_is_the_kettle_s_by_the_clock_with_its_band() -> None:
    kit = at_height()
    kit.bench.boil()
    shown = [(kit.bench.timer().water, kit.bench.timer().water_caption)]

    kit.clock.advance(240)
    shown.append((kit.bench.timer().water, kit.bench.timer().water_caption))

    assert shown[0][0] == "93 °C"
    warm, caption = shown[1]
    assert 80 < float(warm.removesuffix(" °C")) < 93
    low, high = (float(one) for one in caption.removeprefix("kettle ").split("–"))
    assert low <= float(warm.removesuffix(" °C")) <= high
    assert kit.bench.is_cooling


def test_water_on_keeps_the_kettle_s_water_as_an_estimate_and_not_as_measured() -> None:
    kit = at_height()
    kit.bench.boil()
    kit.clock.advance(240)
    shown = kit.bench.timer().water

    kit.press()

    cup = kit.desk.tasting.infusion(0)
    assert cup is not None
    assert f"{cup.water_c:g} °C" == shown
    assert not cup.water_measured


def test_a_reading_is_the_water_for_a_minute_and_then_the_kettle_cools_on() -> None:
    kit = at_height()
    kit.bench.boil()
    kit.clock.advance(120)
    kit.bench.type_water("88")
    captions = [kit.bench.timer().water_caption]

    kit.clock.advance(120)
    captions.append(kit.bench.timer().water_caption)

    assert captions[0] == "measured"
    assert captions[1].startswith("kettle ")
    assert float(kit.bench.timer().water.removesuffix(" °C")) < 88


def test_water_set_by_hand_stands_until_the_kettle_boils_again() -> None:
    kit = at_height()
    kit.bench.boil()
    kit.clock.advance(60)
    kit.bench.nudge_water(-3)
    by_hand = (kit.bench.timer().water_caption, float(kit.bench.timer().water.removesuffix(" °C")))

    kit.bench.boil()

    assert by_hand[0] == "water"
    assert by_hand[1] < 92
    assert kit.bench.timer().water == "93 °C"


def test_a_reading_hotter_than_before_is_asked_about_and_not_kept() -> None:
    kit = at_height()
    kit.bench.type_water("80")
    kit.clock.advance(30)

    kit.bench.type_water("88")

    assert "has it boiled again" in kit.bench.card().trouble
    assert kit.bench.timer().water == "80 °C"


def test_said_once_more_it_was_heated_and_cools_from_there() -> None:
    kit = at_height()
    kit.bench.type_water("80")
    kit.clock.advance(30)
    kit.bench.type_water("88")

    kit.bench.type_water("88")
    kit.clock.advance(120)

    assert kit.bench.card().trouble == ""
    assert 82 <= float(kit.bench.timer().water.removesuffix(" °C")) <= 88


def test_the_kettle_reads_in_fahrenheit_for_those_who_do() -> None:
    kit = at_height(fahrenheit=True)
    kit.bench.boil()
    kit.clock.advance(30)

    timer = kit.bench.timer()

    assert timer.water.endswith(" °F")
    assert 190 < float(timer.water.removesuffix(" °F")) < 200


# -- the sip


def test_a_fresh_cup_is_too_hot_to_sip_and_in_time_no_longer() -> None:
    kit = bench_kit()
    kit.steep(5)
    kit.press()
    kit.steep(20)
    lines = [kit.bench.timer().advice[0]]

    kit.clock.advance(3600)
    lines.append(kit.bench.timer().advice[0])

    assert lines[0].startswith("Above 65 °C for ")
    assert lines[0].endswith("(estimate).")
    assert lines[1].startswith("For the strength of infusion 1: ")


# -- the next steep


def test_the_next_steep_is_advised_with_a_range_and_defers_to_taste() -> None:
    kit = bench_kit()
    two_infusions(kit)

    timer = kit.bench.timer()

    assert timer.advice[0].startswith("For the strength of infusion 2: ")
    assert timer.advice[1] == "Your taste decides."
    assert timer.can_ask_why


def test_advice_changes_nothing_until_it_is_taken_and_then_is_one_act() -> None:
    kit = bench_kit()
    two_infusions(kit)
    before = kit.bench.timer().plan_s
    advised_s = kit.bench.counsel.advised_s(3)

    kit.bench.take_advice()
    taken = kit.bench.timer().plan_s
    kit.bench.undo()

    assert advised_s is not None
    assert taken == advised_s != before
    assert kit.bench.timer().plan_s == before


def test_a_stronger_cup_takes_longer_and_an_earlier_one_can_be_asked_for() -> None:
    kit = bench_kit()
    two_infusions(kit)
    times = []
    for place in range(3):
        kit.bench.counsel.choose(strength=place, reference=1)
        times.append(kit.bench.counsel.advised_s(3) or 0)

    why = kit.bench.why()

    assert times == sorted(times)
    assert times[0] < times[2]
    assert why.references == (1, 2)
    assert (why.chosen_reference, why.strengths[why.chosen_strength]) == (1, "20 % stronger")
    assert "strength of infusion 1" in why.line
    assert why.paragraphs


def test_without_an_infusion_to_compare_with_there_is_no_advice_and_why_says_so() -> None:
    kit = bench_kit()

    assert not kit.bench.timer().can_ask_why
    assert kit.bench.why().line == "There is no infusion yet to compare with."
    assert kit.bench.why().take_label == ""
    kit.bench.take_advice()
    assert kit.bench.timer().plan_s == 5


# -- the day


def test_what_was_drunk_today_stands_in_the_header() -> None:
    kit = bench_kit()
    before = kit.bench.view().header.aside
    two_infusions(kit)

    header = kit.bench.view().header

    assert before == ""
    assert header.aside.startswith("Caffeine from today")
    assert not header.aside_is_caution


def test_above_a_level_the_header_cautions_and_defers() -> None:
    kit = bench_kit(caffeine_watch="pregnancy")
    for _ in range(4):
        session = kit.shelf.begin(
            kit.desk.tasting.lot, Opening(leaf_g=10, volume_ml=150, swallowed="drunk", vessel_warmed=True)
        )
        kit.desk = TastingDesk(kit.keeping, kit.words, session.uid)
        kit.bench = kit.bench_at(kit.desk)
        kit.brewing.forget()
        for _ in range(2):
            two_infusions(kit) if kit.desk.tasting.last_poured is None else kit.steep(60)

    header = kit.bench.view().header

    assert header.aside_is_caution
    assert "ask somebody qualified" in header.aside


def test_caffeine_that_is_not_watched_is_not_shown() -> None:
    kit = bench_kit(caffeine_watch="off")
    two_infusions(kit)

    assert kit.bench.view().header.aside == ""
