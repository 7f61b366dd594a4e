"""The verdict's card of the Arc."""

from __future__ import annotations

from datetime import date

import pytest

from tastebook.domain.session import Tasting, Verdict
from tastebook.presenters.arc.side import ordinal
from tastebook.presenters.arc.views import FactView, PointView, SideView
from tests.presenters.arc_sample import LIQUORS, VERDICT, Table, heron_ridge, long_session, poured, review


def side(tasting: Tasting) -> SideView:
    return review(tasting).view().side


def judged(**verdict: object) -> SideView:
    return side(heron_ridge(Verdict("v", "session", **verdict)))  # type: ignore[arg-type]


def test_the_headline_stands_with_its_decision() -> None:
    shown = side(heron_ridge())

    assert shown.headline == "Buy four kilos, for the autumn list."
    assert shown.decision == "Buy 4 kg"
    assert shown.has_verdict


def test_a_decision_without_a_headline_is_the_headline() -> None:
    shown = judged(decision="rest until", rest_until=date(2026, 6, 1))

    assert (shown.headline, shown.decision) == ("Rest until 1 June 2026", "")


def test_a_session_without_a_verdict_says_so_and_what_to_do() -> None:
    shown = side(heron_ridge(None))

    assert shown.headline == "No verdict yet"
    assert not shown.has_verdict
    assert "Edit the verdict" in shown.note


def test_what_was_filled_in_of_the_verdict_is_listed_and_nothing_else() -> None:
    shown = judged(decision="buy", strengths="cream through the roast", faults=" ", cold_brew="good")

    assert shown.points == (PointView("Strengths", "Cream through the roast"), PointView("Cold brew", "Good"))


def test_three_figures_stand_below_a_whole_verdict() -> None:
    assert side(heron_ridge()).facts == (
        FactView("4th", "is the peak"),
        FactView("6", "infusions carry"),
        FactView("72", "minutes in all"),
    )


def test_how_many_infusions_carry_is_the_tasters_to_say() -> None:
    table = poured(5)
    table.note(1, {"orchid": 3})
    table.note(3, {"orchid": 3})

    facts = side(table.tasting()).facts

    assert FactView("2 of 5", "were assessed") in facts
    assert not any("carry" in fact.caption for fact in facts)


def test_a_long_session_is_told_in_hours() -> None:
    table = poured(1)

    assert FactView("2:05", "hours in all") in side(table.tasting(minutes=125)).facts


def test_an_open_session_has_no_length() -> None:
    assert not any("in all" in fact.caption for fact in side(heron_ridge(closed_at_utc=None)).facts)


def test_words_are_quoted_exactly_with_their_cup_and_number() -> None:
    table = Table()
    table.pour(3, liquor=LIQUORS[2])
    table.say(3, "cream first, then orchid 4, no rose")

    (quote,) = side(table.tasting()).quotes

    assert quote.text == "cream first, then orchid 4, no rose"
    assert (quote.place, quote.kind, quote.remark) == ("3", "liquor", "")
    assert quote.cup.startswith("#")
    assert quote.accessible == "Infusion 3, flavour: cream first, then orchid 4, no rose"


def test_words_of_the_leaf_and_late_ones_are_marked() -> None:
    table = poured(1)
    table.say(None, "tight balls", step="dry_leaf")
    table.say(1, "peach after all", late=True)

    leaf, late = side(table.tasting()).quotes

    assert (leaf.kind, leaf.place, leaf.remark) == ("leaf", "", "dry leaf")
    assert (late.kind, late.place, late.remark) == ("unseen", "1", "late")


def test_words_of_the_warmed_leaf_are_not_called_those_of_the_dry() -> None:
    table = poured(1)
    table.say(None, "hay and honey rise", step="warmed_leaf")

    (warmed,) = side(table.tasting()).quotes

    assert (warmed.kind, warmed.remark) == ("leaf", "warmed leaf")
    assert warmed.accessible == "Warmed leaf: hay and honey rise"


def test_the_richest_four_are_shown_until_all_are_asked_for() -> None:
    presenter = review(long_session())

    before = presenter.view().side
    presenter.toggle_quotes()
    after = presenter.view().side

    assert (len(before.quotes), before.more_quotes) == (4, "Show all 20")
    assert (len(after.quotes), after.more_quotes) == (20, "Show the richest 4")


def test_four_sayings_need_no_button() -> None:
    assert side(heron_ridge()).more_quotes == ""


def test_readings_of_the_close_are_listed_in_words() -> None:
    table = poured(1)
    table.read(None, step="finish", finish_length_s=95, huigan=4)

    assert side(table.tasting()).closing == (
        PointView("Finish length", "1 min 35 s"),
        PointView("Returning sweetness", "strong, 4 of 5"),
    )


def test_readings_of_the_body_stand_with_their_caution() -> None:
    with_body, without = poured(1), poured(1)
    with_body.read(None, step="body", warmth=3)
    without.read(None, step="finish", finish_length_s=95)

    assert "one body" in side(with_body.tasting()).caution
    assert side(without.tasting()).caution == ""


def test_the_sentences_say_what_the_readings_show() -> None:
    told = side(heron_ridge()).sentences

    assert "Nutty is strongest at 1 and gone after 2." in told
    assert told[-1] == "There is most aroma at 4."


def test_next_time_is_passed_on() -> None:
    assert side(heron_ridge()).next_time == VERDICT.next_time


@pytest.mark.parametrize(
    ("number", "told"),
    [(1, "1st"), (2, "2nd"), (3, "3rd"), (4, "4th"), (11, "11th"), (12, "12th"), (13, "13th"), (21, "21st")],
)
def test_ordinals(number: int, told: str) -> None:
    assert ordinal(number) == told
