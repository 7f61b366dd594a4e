"""Words typed and not entered outlive the program: they stand in the same step's say line again."""

from __future__ import annotations

from tastebook.domain.errors import JournalFull, StoreError
from tastebook.presenters.bench.presenter import BenchPresenter
from tastebook.services.tasting import TastingDesk
from tests.bench_kit import Kit, bench_kit


def at_flavour() -> Kit:
    """Return a Bench after rinse and two infusions, standing at the flavour of the first."""
    kit = bench_kit()
    for _ in range(3):
        kit.steep(20)
    kit.bench.go_to("1")
    kit.bench.choose_step("flavour")
    return kit


def opened_again(kit: Kit) -> BenchPresenter:
    """Return the Bench of a program started anew on the same journal."""
    return kit.bench_at(TastingDesk(kit.keeping, kit.words, kit.desk.scope))


def test_a_draft_comes_back_at_its_step_and_infusion() -> None:
    kit = at_flavour()
    kit.bench.type("peach, and something like wet sl")
    kit.bench.keep_typed()

    bench = opened_again(kit)

    assert (bench.column, bench.step.key, bench.typed) == ("1", "flavour", "peach, and something like wet sl")
    assert bench.view().card.say.typed == "peach, and something like wet sl"


def test_a_draft_comes_back_at_the_leaf_and_at_the_close() -> None:
    for column, step in (("leaf", "dry_leaf"), ("0", "wet_leaf"), ("close", "infused_leaf")):
        kit = at_flavour()
        kit.bench.go_to(column)
        kit.bench.choose_step(step)
        kit.bench.type("toasted ri")
        kit.bench.keep_typed()

        bench = opened_again(kit)

        assert (bench.column, bench.step.key, bench.typed) == (column, step, "toasted ri")


def test_words_entered_are_forgotten_as_a_draft() -> None:
    kit = at_flavour()
    kit.bench.type("peach 3")
    kit.bench.keep_typed()

    kit.bench.say("peach 3")

    assert kit.drafts.drafts == {}
    assert opened_again(kit).typed == ""


def test_words_emptied_are_forgotten_as_a_draft() -> None:
    kit = at_flavour()
    kit.bench.type("peach 3")
    kit.bench.keep_typed()

    kit.bench.type("")

    assert kit.drafts.drafts == {}


def test_words_kept_by_going_elsewhere_are_forgotten_as_a_draft() -> None:
    kit = at_flavour()
    kit.bench.type("peach 3")
    kit.bench.keep_typed()

    kit.bench.choose_step("empty_cup")

    assert kit.drafts.drafts == {}
    assert [one.text for one in kit.desk.tasting.sayings] == ["peach 3"]


def test_a_draft_that_was_entered_as_the_program_ended_does_not_come_back() -> None:
    kit = at_flavour()
    kit.bench.type("peach 3")
    kit.bench.keep_typed()
    left = dict(kit.drafts.drafts)
    kit.bench.say("peach 3")
    kit.drafts.drafts = left

    assert opened_again(kit).typed == ""


def test_the_same_words_said_of_another_infusion_leave_a_draft_alone() -> None:
    kit = at_flavour()
    kit.bench.say("peach 3")
    kit.bench.go_to("2")
    kit.bench.choose_step("flavour")
    kit.bench.type("peach 3")
    kit.bench.keep_typed()

    assert (opened_again(kit).column, opened_again(kit).typed) == ("2", "peach 3")


def test_typing_alone_writes_nothing_and_the_same_words_are_written_once() -> None:
    kit = at_flavour()
    for end in range(1, len("peach and apricot") + 1):
        kit.bench.type("peach and apricot"[:end])
    assert kit.drafts.writes == 0

    kit.bench.keep_typed()
    kit.bench.keep_typed()

    assert kit.drafts.writes == 1


def test_words_that_the_journal_refuses_stay_in_the_line_and_as_a_draft() -> None:
    kit = at_flavour()
    kit.journal.next_commit_fails = JournalFull("The disk is full.")
    kit.bench.type("peach 3")

    kit.bench.say("peach 3")

    assert kit.bench.typed == "peach 3"
    assert opened_again(kit).typed == "peach 3"


def test_a_draft_that_cannot_be_kept_is_told_once() -> None:
    kit = at_flavour()
    kit.drafts.next_keep_fails = StoreError("The folder may not be written to.")
    kit.bench.type("peach")
    kit.bench.keep_typed()
    told = kit.bench.view().notice
    kit.bench.dismiss()

    kit.bench.type("peach 3")
    kit.bench.keep_typed()

    assert told == "What you type is not safe until you press Enter: The folder may not be written to."
    assert kit.bench.view().notice == ""
