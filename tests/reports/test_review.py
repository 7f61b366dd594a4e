"""What a review draws from a session's records."""

from __future__ import annotations

from tastebook.reports.review import (
    minutes_spent,
    readings_of,
    readings_outside,
    richest_sayings,
    sayings_in_order,
    words_without_family,
)
from tests.presenters.arc_sample import Table, heron_ridge, vocabulary


def test_a_scale_that_was_not_read_at_an_infusion_has_no_reading_there() -> None:
    table = Table()
    table.read(1, body=3)
    table.read(3, body=0)

    found = readings_of(table.tasting(), "body", 4)

    assert [one.value if one else None for one in found] == [3, None, 0, None]


def test_of_two_readings_of_one_scale_at_one_infusion_the_later_counts() -> None:
    table = Table()
    table.read(1, body=2)
    table.read(1, step="empty_cup", body=4)

    (found,) = readings_of(table.tasting(), "body", 1)

    assert found is not None
    assert found.value == 4


def test_readings_of_the_close_belong_to_no_infusion() -> None:
    table = Table()
    table.read(2, finish=4)
    table.read(None, step="finish", finish_length_s=95)

    assert [one.scale for one in readings_outside(table.tasting())] == ["finish_length_s"]


def test_sayings_follow_the_strip_whenever_they_were_said() -> None:
    table = Table()
    table.say(None, "it stays", step="finish")
    table.say(2, "later")
    table.say(2, "later still")
    table.say(1, "sooner")
    table.say(0, "steam", step="lid")
    table.say(None, "dry", step="dry_leaf")

    told = [one.text for one in sayings_in_order(table.tasting())]

    assert told == ["dry", "steam", "sooner", "later", "later still", "it stays"]


def test_a_saying_of_which_more_was_understood_is_richer_than_a_longer_one() -> None:
    table = Table()
    table.say(1, "orchid, nectar", {"orchid": 3, "nectar": 2})
    table.say(2, "orchid 3, this goes on for many more words", {"orchid": 3})

    (richest,) = richest_sayings(table.tasting(), 1)

    assert richest.infusion == 1


def test_a_remark_is_richer_than_a_list_of_words_with_their_strengths() -> None:
    table = Table()
    table.say(1, "orchid 4, nectar 2, mint 1", {"orchid": 4, "nectar": 2, "mint": 1})
    table.say(2, "it opens softly before the rest")

    (richest,) = richest_sayings(table.tasting(), 1)

    assert richest.infusion == 2


def test_every_cup_is_heard_once_before_any_is_heard_twice() -> None:
    table = Table()
    table.say(1, "orchid, nectar, mint", {"orchid": 3, "nectar": 2, "mint": 1})
    table.say(1, "orchid and jasmine", {"orchid": 3, "jasmine": 2})
    table.say(2, "thin")
    table.say(3, "thinner")

    heard = [one.infusion for one in richest_sayings(table.tasting(), 3)]

    assert heard == [1, 2, 3]


def test_the_richest_sayings_stand_in_order_of_the_infusions() -> None:
    richest = richest_sayings(heron_ridge(), 4)

    assert [one.infusion for one in richest] == [1, 3, 4, 7]


def test_an_open_session_has_no_length_yet() -> None:
    assert minutes_spent(heron_ridge()) == 72
    assert minutes_spent(heron_ridge(closed_at_utc=None)) is None


def test_words_without_a_family_are_those_of_aroma_that_were_perceived() -> None:
    table = Table()
    table.note(1, {"orchid": 3, "harbour rope": 2, "chalk dust": 0})
    table.note(1, {"velvet": 3}, step="first_sip")
    table.note(2, {"harbour rope": 1})

    found = words_without_family(table.tasting(), vocabulary().family_of)

    assert found == ("harbour rope",)
