from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.lot import Lot
from tastebook.domain.session import (
    CLARITIES,
    Conditions,
    Impression,
    Infusion,
    OwnDescriptor,
    Reading,
    Record,
    Saying,
    Tasting,
    Verdict,
)
from tastebook.domain.steep import Instant
from tests.domain.building import MORNING_UTC, marked, poured, said, tasted, tasting
from tests.reference.published import rows

NOON = Instant(MORNING_UTC, 1000.0, "boot-1")


def _reading(number: int) -> Reading:
    at_utc = MORNING_UTC + timedelta(seconds=number)
    return Reading(f"reading-{number}", "session", "first_sip", 1, "body", 4, at_utc)


def _saying(number: int) -> Saying:
    at_utc = MORNING_UTC + timedelta(seconds=number)
    return Saying(f"saying-{number}", "session", "flavour", 1, "orchid 4", at_utc)


RECORDS: list[Record] = [
    poured(1),
    poured(2),
    _saying(1),
    _saying(2),
    said("orchid", 4, 1),
    said("jasmine", 0, 1),
    _reading(1),
    _reading(2),
    marked("empty_cup", 1),
    Verdict("verdict", "session", decision="buy"),
]


@given(st.permutations(RECORDS))
def test_the_order_in_which_records_arrive_does_not_matter(records: list[Record]) -> None:
    assert tasting().after((None, one) for one in records) == tasting().after((None, one) for one in RECORDS)


@given(st.permutations(RECORDS))
def test_what_was_added_can_be_taken_away_again(records: list[Record]) -> None:
    full = tasting().after((None, one) for one in RECORDS)

    assert full.after((one, None) for one in records) == tasting()


@given(st.sets(st.sampled_from(range(len(RECORDS)))))
def test_a_change_touches_only_the_record_it_names(chosen: set[int]) -> None:
    full = tasting().after((None, one) for one in RECORDS)
    removed = [RECORDS[number] for number in sorted(chosen)]

    left = full.after((one, None) for one in removed)

    assert left == tasting().after((None, one) for one in RECORDS if one not in removed)


def test_a_change_makes_a_new_tasting_and_leaves_the_old_one() -> None:
    before = tasting()

    after = before.after([(None, said("orchid", 4, 1))])

    assert before.impressions == ()
    assert len(after.impressions) == 1


def test_an_amended_record_takes_the_place_of_the_old_one() -> None:
    orchid = said("orchid", 4, 1)
    one = tasted([orchid, said("jasmine", 2, 1)])

    amended = one.after([(orchid, replace(orchid, intensity=5))])

    assert [(noted.descriptor, noted.intensity) for noted in amended.impressions] == [("orchid", 5), ("jasmine", 2)]


def test_records_of_another_session_are_passed_over() -> None:
    stranger = replace(said("orchid", 4, 1), session_uid="another")

    assert tasting().after([(None, stranger)]) == tasting()


def test_another_lot_and_an_own_word_are_passed_over() -> None:
    lot = Lot(uid="another", name="Low Cloud", created_at_utc=MORNING_UTC)
    word = OwnDescriptor("word", "harbour rope", "", MORNING_UTC)

    assert tasting().after([(None, lot), (None, word)]) == tasting()


def test_an_amended_lot_and_session_are_taken_over() -> None:
    one = tasting()
    lot = replace(one.lot, name="Heron Ridge, spring roast")
    session = replace(one.session, closed_at_utc=MORNING_UTC)

    after = one.after([(one.lot, lot), (one.session, session)])

    assert (after.lot, after.session) == (lot, session)
    assert one.session.is_open
    assert not after.session.is_open


def test_a_verdict_can_be_reached_amended_and_withdrawn() -> None:
    buy = Verdict("verdict", "session", decision="buy")
    decline = replace(buy, decision="decline")

    reached = tasting().after([(None, buy)])

    assert reached.verdict == buy
    assert reached.after([(buy, decline)]).verdict == decline
    assert reached.after([(buy, None)]).verdict is None


def test_infusions_stand_in_order_whenever_they_were_added() -> None:
    one = tasting().after([(None, poured(2)), (None, poured(0)), (None, poured(1))])

    assert [infusion.index for infusion in one.infusions] == [0, 1, 2]


def test_the_leaf_is_in_water_from_water_on_to_the_pour() -> None:
    planned = Infusion("infusion-3", "session", 3, 36)
    steeping = replace(planned, started=NOON)
    over = replace(steeping, poured=NOON, actual_ms=36_000)

    one = tasted(infusions=2).after([(None, planned)])

    assert one.steeping is None
    assert one.after([(planned, steeping)]).steeping == steeping
    assert one.after([(planned, over)]).steeping is None


def test_the_last_poured_infusion_is_the_latest_that_is_over() -> None:
    one = tasted(infusions=2).after([(None, Infusion("infusion-3", "session", 3, 36, started=NOON))])

    assert one.last_poured == poured(2)
    assert tasting().last_poured is None


def test_records_are_found_by_step_and_infusion() -> None:
    orchid = said("orchid", 4, 1)
    other_cup, other_step = said("orchid", 3, 2), said("orchid", 2, 1, step="empty_cup")
    one = tasted([orchid, other_cup, other_step], infusions=2, marks=[marked("liquor", 1, "skipped")])
    one = one.after([(None, _reading(1)), (None, _saying(1))])

    assert one.impressions_at("flavour", 1) == (orchid,)
    assert one.readings_at("first_sip", 1) == (_reading(1),)
    assert one.sayings_at("flavour", 1) == (_saying(1),)
    assert one.infusion(2) == poured(2)
    assert one.infusion(3) is None
    mark = one.mark_at("liquor", 1)
    assert mark is not None
    assert mark.mark == "skipped"
    assert one.mark_at("liquor", 2) is None


def test_conditions_are_told_in_one_line_as_far_as_they_are_known() -> None:
    assert Conditions(place="harbour bench", smells_nearby="tar").told == "harbour bench, smells nearby: tar"
    assert Conditions().told == ""


def test_the_clarities_are_terms_of_the_standard() -> None:
    # GB/T 14487, pairs seen.
    seen = {row["term_en"] for row in rows("gbt14487_liquor.csv") if row["status"] == "GB/T 14487 pair seen"}

    assert set(CLARITIES) <= seen


@given(st.lists(st.sampled_from(["orchid", "jasmine"]), max_size=10))
def test_impressions_stand_in_the_order_in_which_they_were_recorded(words: list[str]) -> None:
    noted: list[Impression] = [said(word, 3, 1) for word in words]

    one: Tasting = tasting().after((None, impression) for impression in reversed(noted))

    assert list(one.impressions) == noted
