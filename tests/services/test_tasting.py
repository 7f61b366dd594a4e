"""The desk: which act each gesture keeps, what is refused and in which words, and how everything is taken back."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import nullcontext
from dataclasses import dataclass, replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.act import Act, Change
from tastebook.domain.course import Step
from tastebook.domain.errors import JournalFull, OthersAct, QuantityError, StaleAct, TastingError, VocabularyError
from tastebook.domain.liquor import chart
from tastebook.domain.session import Impression, Infusion, OwnDescriptor, Reading, Saying, Tasting
from tastebook.services.keeping import Keeping
from tastebook.services.tasting import TastingDesk
from tests.bench_kit import Kit, bench_kit
from tests.fakes import FakeIds

AMBER = chart()[3][5]


def step(kit: Kit, key: str) -> Step:
    return kit.desk.tasting.session.course.step(key)


def acts(kit: Kit) -> tuple[Act, ...]:
    """Return what was kept at the desk, without the beginning of the session."""
    return kit.journal.acts(kit.desk.scope)[1:]


def kept(kit: Kit) -> Tasting:
    return kit.journal.tasting(kit.desk.scope)


def cup(kit: Kit, index: int) -> Infusion:
    found = kit.desk.tasting.infusion(index)
    assert found is not None
    return found


def steep(kit: Kit, index: int, seconds: float = 20) -> None:
    kit.desk.pour_water_on(index)
    kit.clock.advance(seconds)
    kit.desk.pour()


def noted(kit: Kit) -> dict[str, int]:
    return {one.word: one.intensity for one in kit.desk.tasting.impressions}


def orchid(kit: Kit) -> Impression:
    return next(one for one in kit.desk.tasting.impressions if one.descriptor == "orchid")


def uid_of_orchid(kit: Kit) -> str:
    """Return the uid of the orchid that was noted, whether or not it is still there."""
    changed = (change.after for act in acts(kit) for change in act.changes)
    return next(one.uid for one in changed if isinstance(one, Impression) and one.descriptor == "orchid")


def midway() -> Kit:
    """Return a desk at which the rinse and infusion 1 are poured, and something of every kind is kept."""
    kit = bench_kit()
    kit.desk.say(step(kit, "dry_leaf"), None, "toasted rice 4")
    steep(kit, 0, 5)
    steep(kit, 1)
    kit.desk.see_liquor(step(kit, "liquor"), 1, AMBER, "chart")
    kit.desk.say(step(kit, "flavour"), 1, "orchid 4, wet velvet")
    kit.desk.read(step(kit, "first_sip"), 1, "body", 3)
    kit.desk.skip(step(kit, "empty_cup"), 1)
    kit.desk.place_word("wet velvet", "earthy")
    kit.desk.decide(replace(kit.desk.verdict(), headline="Sound."))
    kit.clock.advance(3)
    return kit


@dataclass(frozen=True)
class Gesture:
    """One gesture of the taster, with the label of the act that it keeps, and what must come first."""

    label: str
    do: Callable[[Kit], object]
    first: Callable[[Kit], object] | None = None


GESTURES = (
    Gesture("water on infusion 2", lambda kit: kit.desk.pour_water_on(2)),
    Gesture("Infusion 2 poured", lambda kit: kit.desk.pour(), lambda kit: kit.desk.pour_water_on(2)),
    Gesture("Infusion 1: 31.5 s in water", lambda kit: kit.desk.amend_steep(1, 31.5)),
    Gesture("plan 40 s", lambda kit: kit.desk.plan(2, 40)),
    Gesture("water 88 °C", lambda kit: kit.desk.set_water(2, 88)),
    Gesture("water measured, 88 °C", lambda kit: kit.desk.measure_water(2, 88)),
    Gesture("kettle boiled", lambda kit: kit.desk.mark_boil(2), lambda kit: kit.desk.set_water(2, 88)),
    Gesture("rose 2, no mint", lambda kit: kit.desk.say(step(kit, "flavour"), 1, " rose 2, no mint")),
    Gesture("rose 2", lambda kit: kit.desk.note(step(kit, "flavour"), 1, "rose", 2)),
    Gesture("no rose", lambda kit: kit.desk.note(step(kit, "flavour"), 1, "rose", 0)),
    Gesture("without orchid", lambda kit: kit.desk.remove(uid_of_orchid(kit))),
    Gesture("marks on orchid", lambda kit: kit.desk.flag(orchid(kit).uid, clouded=True)),
    Gesture("Body 4", lambda kit: kit.desk.read(step(kit, "first_sip"), 1, "body", 4)),
    Gesture("Grip 2", lambda kit: kit.desk.read(step(kit, "first_sip"), 1, "grip", 2)),
    Gesture("Body not assessed", lambda kit: kit.desk.clear_reading(step(kit, "first_sip"), 1, "body")),
    Gesture(
        "marks on Body",
        lambda kit: kit.desk.flag_reading(step(kit, "first_sip"), 1, "body", clouded=True, doubtful=False),
    ),
    Gesture("liquor colour", lambda kit: kit.desk.see_liquor(step(kit, "liquor"), 1, chart()[2][5], "chart")),
    Gesture("liquor clear", lambda kit: kit.desk.see_clarity(step(kit, "liquor"), 1, "clear")),
    Gesture("“rain on slate” is mineral", lambda kit: kit.desk.place_word("rain on slate", "mineral")),
    Gesture("“wet velvet” is woody", lambda kit: kit.desk.place_word("wet velvet", "woody")),
    Gesture("Warmed leaf skipped", lambda kit: kit.desk.skip(step(kit, "warmed_leaf"), None)),
    Gesture("Lid done", lambda kit: kit.desk.finish_step(step(kit, "lid"), 0)),
    Gesture("Empty cup taken up again", lambda kit: kit.desk.unmark(step(kit, "empty_cup"), 1)),
    Gesture("verdict: buy", lambda kit: kit.desk.decide(replace(kit.desk.verdict(), decision="buy"))),
    Gesture("verdict: amended", lambda kit: kit.desk.decide(replace(kit.desk.verdict(), faults="short"))),
    Gesture("session finished", lambda kit: kit.desk.close()),
    Gesture("session taken up again", lambda kit: kit.desk.reopen(), lambda kit: kit.desk.close()),
)
every_gesture = pytest.mark.parametrize("gesture", GESTURES, ids=lambda one: one.label)


def ready_for(gesture: Gesture) -> Kit:
    kit = midway()
    if gesture.first is not None:
        gesture.first(kit)
    kit.clock.advance(20)
    return kit


@every_gesture
def test_one_gesture_is_one_act_with_its_name(gesture: Gesture) -> None:
    kit = ready_for(gesture)
    before = acts(kit)

    gesture.do(kit)

    new = acts(kit)[len(before) :]
    assert [act.label for act in new] == [gesture.label]
    assert [act.kind for act in new] == ["do"]


@every_gesture
def test_what_is_in_memory_is_what_is_in_the_journal(gesture: Gesture) -> None:
    kit = ready_for(gesture)

    gesture.do(kit)

    assert kit.desk.tasting == kept(kit)


@every_gesture
def test_the_same_gesture_again_changes_nothing_more_or_is_refused(gesture: Gesture) -> None:
    kit = ready_for(gesture)
    gesture.do(kit)
    once = acts(kit)

    try:
        gesture.do(kit)
    except TastingError:
        assert acts(kit) == once
        return

    has_its_moment = {"rose 2, no mint", "Warmed leaf skipped", "Lid done", "water measured, 88 °C", "kettle boiled"}
    assert acts(kit) == once or gesture.label in has_its_moment


@every_gesture
def test_a_gesture_that_the_journal_refuses_changes_nothing(gesture: Gesture) -> None:
    kit = ready_for(gesture)
    before = (kit.desk.tasting, kit.desk.history, kit.words())
    kit.journal.next_commit_fails = JournalFull("The disk is full.")

    with pytest.raises(JournalFull):
        gesture.do(kit)

    assert (kit.desk.tasting, kit.desk.history, kit.words()) == before
    assert kept(kit) == before[0]


@every_gesture
def test_every_gesture_is_taken_back_and_done_again(gesture: Gesture) -> None:
    kit = ready_for(gesture)
    before, words_before = kit.desk.tasting, kit.words()
    gesture.do(kit)
    after, words_after = kit.desk.tasting, kit.words()

    undone = kit.desk.undo()
    taken_back, words_back = kit.desk.tasting, kit.words()
    redone = kit.desk.redo()

    assert undone is not None
    assert redone is not None
    assert (undone.label, redone.label) == (gesture.label, gesture.label)
    assert taken_back == before
    assert words_back.descriptors == words_before.descriptors
    assert kit.desk.tasting == after == kept(kit)
    assert kit.words().descriptors == words_after.descriptors


@every_gesture
def test_the_next_run_of_the_program_can_take_it_back(gesture: Gesture) -> None:
    kit = ready_for(gesture)
    before = kit.desk.tasting
    gesture.do(kit)

    keeping = Keeping(kit.journal, kit.clock, FakeIds("next"))
    desk = TastingDesk(keeping, kit.words, kit.desk.scope)
    desk.undo()

    assert desk.tasting == before


FREE_TO_ADD = (
    "rose 2, no mint", "rose 2", "no rose", "Grip 2", "“rain on slate” is mineral", "“wet velvet” is woody",
    "Warmed leaf skipped", "Lid done",
)  # fmt: skip
"""What stands beside that of another window, or is the same."""


@every_gesture
def test_a_gesture_on_what_another_window_changed_is_refused_and_changes_nothing(gesture: Gesture) -> None:
    kit = ready_for(gesture)
    other_window = TastingDesk(Keeping(kit.journal, kit.clock, FakeIds("other")), kit.words, kit.desk.scope)
    gesture.do(replace(kit, desk=other_window))
    before, acts_before = kit.desk.tasting, acts(kit)

    with nullcontext() if gesture.label in FREE_TO_ADD else pytest.raises(StaleAct):
        gesture.do(kit)

    assert gesture.label in FREE_TO_ADD or (kit.desk.tasting, acts(kit)) == (before, acts_before)


# -- the steep


def test_water_on_keeps_the_moment_and_the_water() -> None:
    kit = bench_kit()

    kit.desk.pour_water_on(0)

    assert cup(kit, 0).started == kit.clock.now()
    assert cup(kit, 0).water_c == kit.desk.water_c(0)
    assert kit.desk.tasting.steeping == cup(kit, 0)


def test_a_pour_keeps_both_moments_and_the_milliseconds_between() -> None:
    kit = bench_kit()

    steep(kit, 0, 5.2371)

    assert cup(kit, 0).actual_ms == 5237
    assert cup(kit, 0).poured == kit.clock.now()
    assert kit.desk.tasting.steeping is None


def test_only_one_infusion_can_be_in_water() -> None:
    kit = bench_kit()
    kit.desk.pour_water_on(0)

    with pytest.raises(TastingError, match=r"^Rinse is still in water: pour it first"):
        kit.desk.pour_water_on(1)

    assert len(acts(kit)) == 1


def test_an_infusion_is_poured_once() -> None:
    kit = bench_kit()
    steep(kit, 1)

    with pytest.raises(TastingError, match=r"^Infusion 1 was poured already"):
        kit.desk.pour_water_on(1)


def test_with_nothing_in_water_there_is_nothing_to_pour() -> None:
    kit = bench_kit()

    with pytest.raises(TastingError, match=r"^No infusion is in water"):
        kit.desk.pour()


def test_the_plan_comes_from_the_course_until_the_taster_makes_one() -> None:
    kit = bench_kit()
    of_course = [kit.desk.planned_s(index) for index in (0, 1, 2)]

    kit.desk.plan(1, 31)

    plan = kit.desk.tasting.session.course.plan_for("oolong", "ball")
    assert of_course == [plan.planned_s(index) for index in (0, 1, 2)]
    assert [kit.desk.planned_s(index) for index in (0, 1, 2)] == [of_course[0], 31, of_course[2]]


@pytest.mark.parametrize("seconds", [0, -1, 172_801])
def test_a_plan_that_cannot_be_meant_is_refused(seconds: int) -> None:
    kit = bench_kit()

    with pytest.raises(QuantityError, match="planned time cannot be"):
        kit.desk.plan(1, seconds)

    assert acts(kit) == ()


@pytest.mark.parametrize("temp_c", [-1, 100.5, 212])
def test_water_that_cannot_be_is_refused(temp_c: float) -> None:
    kit = bench_kit()

    with pytest.raises(QuantityError, match="water cannot be"):
        kit.desk.set_water(1, temp_c)

    assert acts(kit) == ()


def test_water_stays_as_hot_as_for_the_cup_before_until_it_is_set() -> None:
    kit = bench_kit()
    of_course = kit.desk.water_c(0)

    kit.desk.measure_water(1, 88)

    assert [kit.desk.water_c(index) for index in (0, 1, 2, 7)] == [of_course, 88, 88, 88]
    assert cup(kit, 1).water_measured


def test_water_set_again_without_measuring_is_no_longer_measured() -> None:
    kit = bench_kit()
    kit.desk.measure_water(1, 88)

    kit.desk.set_water(1, 88)

    assert not cup(kit, 1).water_measured


def test_a_steep_is_seen_as_it_stands() -> None:
    kit = bench_kit()
    kit.desk.plan(1, 20)
    phases = [kit.desk.steep(1, 6).phase]

    kit.desk.pour_water_on(1)
    for seconds in (1, 13, 7):
        kit.clock.advance(seconds)
        phases.append(kit.desk.steep(1, 6).phase)
    kit.desk.pour()
    phases.append(kit.desk.steep(1, 6).phase)

    assert phases == ["ready", "steeping", "lead", "over", "poured"]


@pytest.mark.parametrize(("plan_s", "lead_s"), [(20, 6), (5, 2), (1, 0)])
def test_the_lead_is_at_most_half_of_a_short_plan(plan_s: int, lead_s: int) -> None:
    kit = bench_kit()
    kit.desk.plan(1, plan_s)

    assert kit.desk.steep(1, 6).lead_s == lead_s


def test_seconds_that_were_typed_replace_those_of_the_clock() -> None:
    kit = bench_kit()
    steep(kit, 1, 95)

    kit.desk.amend_steep(1, 31.5)

    assert cup(kit, 1).actual_ms == 31_500
    assert cup(kit, 1).poured is not None


def test_seconds_end_a_steep_whose_pour_was_never_pressed() -> None:
    kit = bench_kit()
    kit.desk.pour_water_on(1)
    kit.clock.advance(4000)

    kit.desk.amend_steep(1, 30)

    assert cup(kit, 1).actual_ms == 30_000
    assert kit.desk.tasting.steeping is None


@pytest.mark.parametrize("seconds", [-0.1, 172_801, float("nan"), float("inf")])
def test_seconds_that_cannot_be_are_refused(seconds: float) -> None:
    kit = bench_kit()
    steep(kit, 1)

    with pytest.raises(QuantityError, match="steep cannot be"):
        kit.desk.amend_steep(1, seconds)

    assert cup(kit, 1).actual_ms == 20_000


@pytest.mark.parametrize(
    "gesture",
    [
        lambda kit: kit.desk.amend_steep(3, 20),
        lambda kit: kit.desk.see_liquor(step(kit, "liquor"), 3, AMBER, "chart"),
        lambda kit: kit.desk.see_clarity(step(kit, "liquor"), 3, "clear"),
        lambda kit: kit.desk.say(step(kit, "liquor"), 3, "clear"),
    ],
)
def test_a_cup_that_was_not_begun_has_no_time_and_no_colour(gesture: Callable[[Kit], object]) -> None:
    kit = midway()
    before = acts(kit)

    with pytest.raises(TastingError, match=r"^Infusion 3 has not been begun"):
        gesture(kit)

    assert acts(kit) == before


@given(st.lists(st.sampled_from(["sleep", "step on", "step back", "reboot", "wait"]), max_size=6))
def test_time_in_water_is_never_negative_whatever_the_clocks_do(happens: list[str]) -> None:
    kit = bench_kit()
    kit.desk.pour_water_on(1)
    for event in happens:
        {
            "sleep": lambda: kit.clock.sleep(600),
            "step on": lambda: kit.clock.step_wall(3600),
            "step back": lambda: kit.clock.step_wall(-7200),
            "reboot": lambda: kit.clock.reboot(90),
            "wait": lambda: kit.clock.advance(5),
        }[event]()

    kit.desk.pour()

    actual_ms = cup(kit, 1).actual_ms
    assert actual_ms is not None
    assert actual_ms >= 0


# -- what is perceived


def test_what_is_said_is_one_act_with_the_words_and_all_that_was_understood() -> None:
    kit = bench_kit()

    kit.desk.say(step(kit, "dry_leaf"), None, "  orchid 4, toasted rice, no rose ")

    (act,) = acts(kit)
    assert [type(change.after) for change in act.changes] == [Saying, Impression, Impression, Impression]
    (saying,) = kit.desk.tasting.sayings
    assert saying.text == "orchid 4, toasted rice, no rose"
    assert {one.saying_uid for one in kit.desk.tasting.impressions} == {saying.uid}
    assert noted(kit) == {"orchid": 4, "toasted rice": 3, "rose": 0}


@pytest.mark.parametrize("words", ["", "   ", "\t"])
def test_nothing_said_is_nothing_kept(words: str) -> None:
    kit = bench_kit()

    kit.desk.say(step(kit, "dry_leaf"), None, words)

    assert acts(kit) == ()


def test_trying_what_would_be_understood_keeps_nothing() -> None:
    kit = bench_kit()

    understood = kit.desk.understand(step(kit, "dry_leaf"), "orchid 4")

    assert [part.key for part in understood.parts] == ["orchid"]
    assert acts(kit) == ()


def test_a_word_said_twice_in_one_breath_is_one_impression_with_the_last_strength() -> None:
    kit = bench_kit()

    kit.desk.say(step(kit, "dry_leaf"), None, "rose 2, rose 4")

    assert noted(kit) == {"rose": 4}
    kit.desk.undo()
    assert noted(kit) == {}


def test_a_word_said_again_without_strength_keeps_the_one_it_had() -> None:
    kit = bench_kit()
    kit.desk.note(step(kit, "dry_leaf"), None, "rose", 5)

    kit.desk.say(step(kit, "dry_leaf"), None, "rose")

    assert noted(kit) == {"rose": 5}


def test_the_same_word_in_two_columns_is_two_impressions() -> None:
    kit = midway()
    steep(kit, 2)

    kit.desk.say(step(kit, "flavour"), 2, "orchid 2")

    orchids = [one for one in kit.desk.tasting.impressions if one.descriptor == "orchid"]
    assert [(one.infusion, one.intensity) for one in orchids] == [(1, 4), (2, 2)]


def test_texture_words_are_readings_and_unknown_ones_stay_words() -> None:
    kit = bench_kit()
    steep(kit, 1)

    kit.desk.say(step(kit, "first_sip"), 1, "thick 4, xylophone")

    assert [(one.scale, one.value) for one in kit.desk.tasting.readings] == [("body", 4)]
    assert kit.desk.tasting.impressions == ()
    assert [one.text for one in kit.desk.tasting.sayings] == ["thick 4, xylophone"]


def test_words_at_the_cup_set_its_clarity() -> None:
    kit = bench_kit()
    steep(kit, 1)

    kit.desk.say(step(kit, "liquor"), 1, "brilliant")

    assert cup(kit, 1).clarity == "brilliant"


def test_a_remark_at_a_cup_that_was_not_begun_is_kept_as_words() -> None:
    kit = bench_kit()

    kit.desk.say(step(kit, "liquor"), 2, "hold it against the light next time")

    assert [one.text for one in kit.desk.tasting.sayings] == ["hold it against the light next time"]


@pytest.mark.parametrize("intensity", [-1, 6])
def test_a_strength_that_cannot_be_is_refused(intensity: int) -> None:
    kit = bench_kit()

    with pytest.raises(QuantityError, match="strength cannot be"):
        kit.desk.note(step(kit, "dry_leaf"), None, "rose", intensity)

    assert acts(kit) == ()


def test_a_strength_set_again_changes_the_one_impression() -> None:
    kit = bench_kit()
    kit.desk.note(step(kit, "dry_leaf"), None, "rose", 2)
    uid = kit.desk.tasting.impressions[0].uid

    kit.desk.note(step(kit, "dry_leaf"), None, "rose", 5)

    assert [(one.uid, one.intensity) for one in kit.desk.tasting.impressions] == [(uid, 5)]


def test_a_word_of_ones_own_keeps_its_name_when_its_strength_is_set() -> None:
    kit = bench_kit()
    kit.desk.say(step(kit, "dry_leaf"), None, "Wet Velvet")

    kit.desk.note(step(kit, "dry_leaf"), None, "wet-velvet", 5)

    assert noted(kit) == {"Wet Velvet": 5}
    assert acts(kit)[-1].label == "Wet Velvet 5"


def test_marks_are_set_one_by_one_and_leave_each_other_alone() -> None:
    kit = midway()

    kit.desk.flag(orchid(kit).uid, clouded=True)
    kit.desk.flag(orchid(kit).uid, doubtful=True)
    kit.desk.flag(orchid(kit).uid, clouded=False)

    assert (orchid(kit).clouded, orchid(kit).doubtful) == (False, True)


@pytest.mark.parametrize("gesture", ["remove", "flag"])
def test_an_impression_that_is_gone_is_told(gesture: str) -> None:
    kit = midway()
    uid = orchid(kit).uid
    kit.desk.remove(uid)

    with pytest.raises(TastingError, match=r"^That impression is no longer here"):
        getattr(kit.desk, gesture)(uid)


@pytest.mark.parametrize(
    ("key", "scale", "value"), [("first_sip", "body", 6), ("first_sip", "body", -1), ("finish", "finish_length_s", -2)]
)
def test_a_reading_off_its_scale_is_refused(key: str, scale: str, value: float) -> None:
    kit = midway()
    before = acts(kit)

    with pytest.raises(QuantityError):
        kit.desk.read(step(kit, key), 1, scale, value)

    assert acts(kit) == before


def test_a_timed_scale_takes_seconds() -> None:
    kit = midway()

    kit.desk.read(step(kit, "finish"), None, "finish_length_s", 95)

    assert [one.value for one in kit.desk.tasting.readings_at("finish", None)] == [95]


def test_a_scale_nobody_knows_is_told() -> None:
    kit = midway()

    with pytest.raises(VocabularyError):
        kit.desk.read(step(kit, "first_sip"), 1, "loudness", 3)


def test_clearing_and_marking_what_was_not_assessed_is_no_act() -> None:
    kit = midway()
    before = acts(kit)

    kit.desk.clear_reading(step(kit, "first_sip"), 1, "grip")
    kit.desk.flag_reading(step(kit, "first_sip"), 1, "grip", clouded=True, doubtful=True)
    kit.desk.unmark(step(kit, "flavour"), 1)

    assert acts(kit) == before


def test_a_reading_set_again_keeps_its_marks() -> None:
    kit = midway()
    kit.desk.flag_reading(step(kit, "first_sip"), 1, "body", clouded=True, doubtful=False)

    kit.desk.read(step(kit, "first_sip"), 1, "body", 5)

    (body,) = kit.desk.tasting.readings_at("first_sip", 1)
    assert (body.value, body.clouded) == (5, True)


def test_a_clarity_that_is_none_of_the_standards_terms_is_refused() -> None:
    kit = midway()

    with pytest.raises(TastingError, match=r"^“murky” is not a clarity: choose from brilliant, clear, dim, turbid"):
        kit.desk.see_clarity(step(kit, "liquor"), 1, "murky")


def test_a_family_that_does_not_exist_is_refused() -> None:
    kit = bench_kit()

    with pytest.raises(VocabularyError):
        kit.desk.place_word("wet velvet", "loud")

    assert acts(kit) == ()


def test_a_word_is_placed_once_however_it_is_spelled() -> None:
    kit = bench_kit()
    kit.desk.place_word("Wet Velvet", "earthy")

    kit.desk.place_word("wet velvet", "woody")

    assert [(one.name, one.family) for one in kit.journal.own_descriptors()] == [("Wet Velvet", "woody")]


# -- late


def late_marks(kit: Kit, kind: type) -> list[bool]:
    """Return the late marks of the newest act's records of one kind."""
    return [change.after.late for change in acts(kit)[-1].changes if isinstance(change.after, kind)]


def test_what_is_said_after_its_moment_is_late() -> None:
    kit = bench_kit()
    kit.desk.pour_water_on(0)

    kit.desk.say(step(kit, "dry_leaf"), None, "orchid 4")

    assert late_marks(kit, Saying) == late_marks(kit, Impression) == [True]


def test_a_reading_after_the_next_pour_is_late() -> None:
    kit = midway()
    steep(kit, 2)

    kit.desk.read(step(kit, "first_sip"), 1, "grip", 2)

    assert late_marks(kit, Reading) == [True]


def test_a_liquor_first_looked_at_after_the_next_water_is_late() -> None:
    kit = bench_kit()
    steep(kit, 1)
    kit.desk.pour_water_on(2)

    kit.desk.see_liquor(step(kit, "liquor"), 1, AMBER, "chart")

    assert cup(kit, 1).liquor_late


@pytest.mark.parametrize("by_words", [False, True])
def test_a_clarity_first_seen_after_the_next_water_is_late(by_words: bool) -> None:
    kit = bench_kit()
    steep(kit, 1)
    kit.desk.pour_water_on(2)

    if by_words:
        kit.desk.say(step(kit, "liquor"), 1, "clear")
    else:
        kit.desk.see_clarity(step(kit, "liquor"), 1, "clear")

    assert cup(kit, 1).liquor_late


def test_a_clarity_added_late_leaves_a_colour_that_was_caught_fresh() -> None:
    kit = midway()
    kit.desk.pour_water_on(2)

    kit.desk.see_clarity(step(kit, "liquor"), 1, "clear")

    assert not cup(kit, 1).liquor_late


# -- the way through


def test_a_mark_is_changed_rather_than_doubled() -> None:
    kit = bench_kit()
    kit.desk.skip(step(kit, "dry_leaf"), None)

    kit.desk.finish_step(step(kit, "dry_leaf"), None)

    assert [one.mark for one in kit.desk.tasting.marks] == ["done"]


def test_a_decision_that_is_none_of_the_trades_is_refused() -> None:
    kit = bench_kit()

    with pytest.raises(TastingError, match=r"^“maybe” is not a decision: choose from buy, rest until, decline"):
        kit.desk.decide(replace(kit.desk.verdict(), decision="maybe"))


def test_a_rest_needs_a_date() -> None:
    kit = bench_kit()

    with pytest.raises(TastingError, match="needs a date"):
        kit.desk.decide(replace(kit.desk.verdict(), decision="rest until"))
    kit.desk.decide(replace(kit.desk.verdict(), decision="rest until", rest_until=date(2026, 6, 1)))

    assert [act.label for act in acts(kit)] == ["verdict: rest until"]


@pytest.mark.parametrize("fields", [{"good_infusions": -1}, {"good_infusions": 1000}, {"quantity_kg": -4.0}])
def test_numbers_of_a_verdict_that_cannot_be_are_refused(fields: dict[str, float]) -> None:
    kit = bench_kit()

    with pytest.raises(QuantityError):
        kit.desk.decide(replace(kit.desk.verdict(), **fields))

    assert acts(kit) == ()


def test_a_verdict_is_amended_rather_than_doubled() -> None:
    kit = bench_kit()
    kit.desk.decide(replace(kit.desk.verdict(), decision="buy"))

    kit.desk.decide(replace(kit.desk.verdict(), headline="Buy four kilos."))

    verdict = kit.desk.verdict()
    assert (verdict.decision, verdict.headline) == ("buy", "Buy four kilos.")
    assert kept(kit).verdict == verdict


def test_a_session_with_leaf_in_water_does_not_end() -> None:
    kit = bench_kit()
    kit.desk.pour_water_on(0)

    with pytest.raises(TastingError, match=r"^Rinse is still in water: pour it before you finish"):
        kit.desk.close()

    assert kit.desk.tasting.session.is_open


def test_ending_an_ended_session_leaves_the_moment_it_ended() -> None:
    kit = bench_kit()
    kit.desk.close()
    ended = kit.desk.tasting.session.closed_at_utc
    kit.clock.advance(3600)

    kit.desk.close()

    assert kit.desk.tasting.session.closed_at_utc == ended
    assert len(acts(kit)) == 1


def test_long_words_are_shortened_in_the_name_of_the_act_alone() -> None:
    kit = bench_kit()
    words = "it reminds me of the harbour on a winter morning before work, and of tar and rope and rain"

    kit.desk.say(step(kit, "dry_leaf"), None, words)

    assert len(acts(kit)[0].label) == 60
    assert acts(kit)[0].label.endswith("…")
    assert kit.desk.tasting.sayings[0].text == words


# -- what holds the desk together


def test_everyone_who_listens_finds_the_tasting_up_to_date() -> None:
    kit = bench_kit()
    seen: list[int] = []
    kit.keeping.listen(lambda act: seen.append(len(kit.desk.tasting.impressions)))

    kit.desk.note(step(kit, "dry_leaf"), None, "rose", 2)

    assert seen == [1]


def test_undo_goes_back_to_the_beginning_of_the_session_and_no_further() -> None:
    kit = bench_kit()
    begun = kit.desk.tasting
    kit.desk.note(step(kit, "dry_leaf"), None, "rose", 2)

    undone = [kit.desk.undo(), kit.desk.undo()]

    assert undone[1] is None
    assert kit.desk.tasting == begun == kept(kit)
    assert kit.desk.history.undoable == ()


def test_a_word_placed_here_and_moved_in_another_session_is_not_taken_back_here() -> None:
    kit = bench_kit()
    kit.desk.place_word("wet velvet", "earthy")
    (own,) = kit.journal.own_descriptors()
    kit.keeping.keep("another session", "moved", [Change(own, replace(own, family="woody"))])

    with pytest.raises(StaleAct):
        kit.desk.undo()

    assert kit.journal.own_descriptors() == (OwnDescriptor(own.uid, own.name, "woody", own.created_at_utc),)


def test_a_change_from_outside_is_seen_once_the_tasting_is_read_anew() -> None:
    kit = bench_kit()
    elsewhere = TastingDesk(Keeping(kit.journal, kit.clock, FakeIds("other")), kit.words, kit.desk.scope)
    elsewhere.note(step(kit, "dry_leaf"), None, "rose", 2)
    before = noted(kit)

    kit.keeping.forget()
    kit.desk.reread()

    assert before == {}
    assert noted(kit) == {"rose": 2}
    with pytest.raises(OthersAct, match="“rose 2” was done in another window"):
        kit.desk.undo()
    assert noted(kit) == {"rose": 2}
    kit.desk.undo()
    assert noted(kit) == {}


def test_acts_of_other_sessions_leave_this_tasting_alone() -> None:
    kit = bench_kit()
    before = kit.desk.tasting
    other = kit.shelf.begin(before.lot, kit.shelf.opening_for(before.lot))
    desk = TastingDesk(kit.keeping, kit.words, other.uid)

    desk.note(step(kit, "dry_leaf"), None, "rose", 2)

    assert kit.desk.tasting == before
    assert [one.word for one in desk.tasting.impressions] == ["rose"]


def test_a_desk_that_was_left_is_told_nothing() -> None:
    kit = bench_kit()
    kit.desk.leave()
    second = TastingDesk(kit.keeping, kit.words, kit.desk.scope)

    second.note(step(kit, "dry_leaf"), None, "rose", 2)

    assert noted(kit) == {}
