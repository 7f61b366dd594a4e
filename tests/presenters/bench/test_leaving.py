"""Leaving a place at the Bench: words come along into the journal, or one stays with them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import pytest

from tastebook.domain.course import Course
from tastebook.domain.errors import JournalFull
from tastebook.presenters.bench.views import LiquorSheet
from tastebook.services.shelf import Opening, Shelf
from tastebook.services.tasting import TastingDesk
from tests.bench_kit import Kit, bench_kit, shipped_courses

Leave = Callable[[Kit], object]
LEAVING: Sequence[Leave] = (
    lambda kit: kit.bench.go_to("0"),
    lambda kit: kit.bench.go_beside(1),
    lambda kit: kit.bench.choose_step("warmed_leaf"),
    lambda kit: kit.bench.choose_step_at(1),
    lambda kit: kit.bench.finish(),
    lambda kit: kit.bench.settle(),
)


@pytest.mark.parametrize("leave", LEAVING)
def test_words_not_yet_taken_are_kept_where_they_were_typed(leave: Leave) -> None:
    kit = bench_kit()
    kit.bench.type("toasted rice 4")

    leave(kit)

    assert [(one.step, one.word) for one in kit.desk.tasting.impressions] == [("dry_leaf", "toasted rice")]
    assert kit.bench.typed == ""


@pytest.mark.parametrize("leave", LEAVING)
def test_one_stays_with_words_that_the_journal_refuses(leave: Leave) -> None:
    kit = bench_kit()
    kit.bench.type("toasted rice 4")
    kit.journal.read_only_because = "The disk is full."

    leave(kit)

    assert (kit.bench.column, kit.bench.step.key, kit.bench.typed) == ("leaf", "dry_leaf", "toasted rice 4")
    assert kit.bench.view().notice == "Not kept: The disk is full."


def test_words_refused_once_are_kept_when_the_disk_has_room_again() -> None:
    kit = bench_kit()
    kit.bench.type("toasted rice 4")
    kit.journal.next_commit_fails = JournalFull("The disk is full.")
    kit.bench.go_to("0")

    kit.bench.go_to("0")

    assert kit.bench.column == "0"
    assert [one.text for one in kit.desk.tasting.sayings] == ["toasted rice 4"]
    assert kit.bench.view().notice == ""


def test_one_stays_with_words_that_this_cup_cannot_take_yet() -> None:
    kit = bench_kit()
    kit.bench.next_infusion()
    kit.bench.go_to("1")
    kit.bench.choose_step("liquor")
    kit.bench.type("clear")

    kit.bench.go_to("leaf")

    assert (kit.bench.column, kit.bench.typed) == ("1", "clear")
    assert kit.bench.card().trouble == "Infusion 1 has not been begun."
    kit.steep(20)
    kit.bench.go_to("leaf")
    assert kit.bench.column == "leaf"
    assert kit.desk.tasting.infusion(1).clarity == "clear"  # type: ignore[union-attr]


def test_nothing_said_alone_finishes_the_step_that_is_left() -> None:
    kit = bench_kit()
    kit.bench.type("nothing")

    kit.bench.choose_step("warmed_leaf")

    assert [(one.step, one.mark) for one in kit.desk.tasting.marks] == [("dry_leaf", "done")]
    assert kit.desk.tasting.sayings == ()


def bare(*stages: str) -> Kit:
    """Return the Bench of a course that asks for something at these stages alone."""
    kit = bench_kit()
    gaiwan = next(course for course in shipped_courses() if course.key == "gaiwan")
    course: Course = replace(gaiwan, steps=tuple(step for step in gaiwan.steps if step.stage in stages))
    session = Shelf(kit.keeping, lambda: (course,)).begin(kit.desk.tasting.lot, Opening())
    desk = TastingDesk(kit.keeping, kit.words, session.uid)
    return replace(kit, desk=desk, bench=kit.bench_at(desk))


def test_a_rinse_at_which_nothing_is_asked_is_timed_and_passed_by() -> None:
    kit = bare("leaf", "infusion", "close")

    kit.steep(5)
    after_the_rinse = kit.bench.column
    kit.press()
    kit.steep(20)

    assert (after_the_rinse, kit.bench.column) == ("leaf", "1")
    kit.bench.go_beside(-1)
    assert kit.bench.column == "leaf"


def test_a_column_at_which_nothing_is_asked_cannot_be_gone_to() -> None:
    kit = bare("infusion")

    for column in ("leaf", "0", "close"):
        kit.bench.go_to(column)

        assert kit.bench.column == "1"
        assert isinstance(kit.bench.view().card.sheet, LiquorSheet)


def test_a_course_that_asks_for_no_close_can_be_finished() -> None:
    kit = bare("leaf", "infusion")
    kit.steep(5)

    assert kit.bench.finish()
    assert not kit.desk.tasting.session.is_open
