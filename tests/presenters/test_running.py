"""What is seen of a steep away from its Bench, and how it is poured there."""

from __future__ import annotations

import pytest

from tastebook.domain.errors import JournalFull
from tastebook.presenters.running import ANSWER, TOLD_S, RunningPresenter, RunningView
from tastebook.services.running import RunningSteeps
from tastebook.services.shelf import Opening
from tastebook.services.tasting import TastingDesk
from tests.bench_kit import Kit, bench_kit, heron_ridge


def away(kit: Kit) -> RunningPresenter:
    steeps = RunningSteeps(kit.keeping, kit.words, lambda: kit.settings.lead_s)
    return RunningPresenter(steeps, kit.clock, lambda: kit.settings)


def seen(presenter: RunningPresenter) -> RunningView:
    view = presenter.view()
    assert view is not None
    return view


def another_desk(kit: Kit) -> TastingDesk:
    session = kit.shelf.begin(kit.shelf.add(heron_ridge()), Opening(leaf_g=6.5, volume_ml=110))
    return TastingDesk(kit.keeping, kit.words, session.uid)


@pytest.fixture
def kit() -> Kit:
    return bench_kit()


def test_nothing_is_shown_while_nothing_is_in_water(kit: Kit) -> None:
    assert away(kit).view() is None


def test_a_steep_begun_before_or_after_is_seen_with_its_time_left(kit: Kit) -> None:
    begun_after = away(kit)
    kit.press()
    kit.clock.advance(2)
    begun_before = away(kit)

    plan_s = kit.desk.planned_s(0)
    for presenter in (begun_after, begun_before):
        view = seen(presenter)
        assert (view.digits, view.phase, view.action) == (f"0:{plan_s - 2:02d}", "steeping", "Pour")
        assert view.lot_name == "Heron Ridge, spring roast"
        assert view.about == f"Rinse, 2 s in water, plan 0:{plan_s:02d}"


def test_the_steep_whose_timer_is_in_sight_is_not_shown_twice(kit: Kit) -> None:
    presenter = away(kit)
    kit.press()

    assert presenter.view(in_sight=kit.desk.scope) is None


def test_one_gesture_pours_at_that_moment_and_tells_it_for_a_while(kit: Kit) -> None:
    presenter = away(kit)
    kit.press()
    kit.clock.advance(7)

    assert presenter.pour(kit.desk.scope)

    cup = kit.desk.tasting.infusion(0)
    assert cup is not None
    assert cup.actual_ms == 7000
    view = seen(presenter)
    assert (view.phase, view.digits, view.action, view.can_take_back) == ("poured", "0:07", "", True)
    kit.clock.advance(TOLD_S + 1)
    assert presenter.view() is None


def test_a_steep_not_poured_after_all_goes_on_as_if_nothing_had_been_pressed(kit: Kit) -> None:
    presenter = away(kit)
    kit.press()
    kit.clock.advance(3)
    presenter.pour(kit.desk.scope)
    kit.clock.advance(2)

    assert presenter.take_back() == kit.desk.scope

    assert seen(presenter).about.startswith("Rinse, 5 s in water")


def test_a_pour_is_not_taken_back_over_what_was_done_since(kit: Kit) -> None:
    presenter = away(kit)
    kit.press()
    presenter.pour(kit.desk.scope)
    kit.desk.plan(1, 44)

    assert presenter.take_back() == ""
    assert "at its Bench" in seen(presenter).trouble
    assert kit.desk.planned_s(1) == 44


def test_of_several_steeps_the_one_due_first_is_shown_and_the_others_are_named(kit: Kit) -> None:
    presenter, other = away(kit), another_desk(kit)
    kit.desk.pour_water_on(1)
    kit.clock.advance(3)
    other.pour_water_on(1)

    view = seen(presenter)

    assert view.session_uid == kit.desk.scope
    assert view.others == f"Also in water: Heron Ridge, spring roast 0:{other.planned_s(1):02d}"
    presenter.pour(kit.desk.scope)
    assert seen(presenter).session_uid == other.scope


def test_a_steep_that_runs_absurdly_long_is_asked_about_at_its_bench(kit: Kit) -> None:
    presenter = away(kit)
    kit.press()
    kit.clock.advance(4000)

    assert (seen(presenter).action, seen(presenter).key, seen(presenter).is_asked) == (ANSWER, "", True)
    assert not presenter.pour(kit.desk.scope)
    assert kit.desk.tasting.steeping is not None


def test_a_pour_that_could_not_be_kept_is_said_and_the_steep_goes_on(kit: Kit) -> None:
    presenter = away(kit)
    kit.press()
    kit.journal.next_commit_fails = JournalFull("the disk is full.")

    assert not presenter.pour(kit.desk.scope)

    assert seen(presenter).trouble == "Not poured: the disk is full."
    assert seen(presenter).phase == "steeping"


def test_a_steep_poured_elsewhere_is_gone_here(kit: Kit) -> None:
    presenter = away(kit)
    kit.press()
    kit.desk.pour()

    assert presenter.view() is None
    assert presenter.soonest is None


def test_calls_are_told_once_and_not_for_the_bench_that_tells_its_own(kit: Kit) -> None:
    presenter = away(kit)
    kit.press()
    assert presenter.due_call() is None

    kit.clock.advance(kit.desk.planned_s(0))

    assert presenter.due_call(but=kit.desk.scope) is None
    assert presenter.due_call() is None, "it was not looked at before"
    kit.clock.advance(20)
    call = presenter.due_call()
    assert call is not None
    assert call.what == "over"
    assert presenter.due_call() is None
