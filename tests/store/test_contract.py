"""What every journal promises, held by the one on disk and by the one that other tests use."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from tastebook.domain.act import Change
from tastebook.domain.errors import JournalReadOnly, StaleAct, StoreError
from tastebook.domain.session import OwnDescriptor, Photo, Saying, Verdict, picture_digest
from tastebook.domain.steep import Instant
from tastebook.services.ports import Journal, SessionLine
from tastebook.store.journal import open_journal
from tests.fakes import MORNING_UTC, FakeClock, FakeJournal
from tests.store.building import CUP, act, begun, impression, infusion, later, lot, opposite, session


@pytest.fixture(params=["on disk", "in memory"])
def journal(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Journal]:
    if request.param == "in memory":
        yield FakeJournal()
        return
    kept = open_journal(tmp_path / "journal.tastebook", FakeClock())
    yield kept
    kept.close()


def test_a_new_journal_is_empty(journal: Journal) -> None:
    assert journal.shelf() == ()
    assert journal.lots() == ()
    assert journal.sessions() == ()
    assert journal.last_session() is None
    assert journal.own_descriptors() == ()
    assert journal.read_only_because == ""


def test_what_an_act_added_is_there(journal: Journal) -> None:
    orchid = impression("impression-1")

    journal.commit(begun())
    journal.commit(act("act-2", (None, infusion(1)), (None, orchid)))

    tasting = journal.tasting("session-1")
    assert (tasting.lot, tasting.session) == (lot(), session())
    assert tasting.infusions == (infusion(1),)
    assert tasting.impressions == (orchid,)


def test_records_may_be_named_in_any_order_within_an_act(journal: Journal) -> None:
    said = Saying("saying-1", "session-1", "flavour", 1, "orchid", MORNING_UTC)
    heard = impression("impression-1", saying_uid="saying-1")

    journal.commit(act("act-1", (None, heard), (None, said), (None, session()), (None, lot())))

    assert journal.tasting("session-1").impressions == (heard,)


def test_an_amended_record_is_as_the_act_left_it(journal: Journal) -> None:
    journal.commit(begun())
    journal.commit(act("act-2", (None, infusion(1))))

    journal.commit(act("act-3", (infusion(1), infusion(1, actual_ms=20_417, liquor=(61.5, 12.25, 40.0)))))

    assert journal.tasting("session-1").infusions == (infusion(1, actual_ms=20_417, liquor=(61.5, 12.25, 40.0)),)


def test_a_removed_record_is_gone_and_its_act_is_kept(journal: Journal) -> None:
    journal.commit(begun())
    added = act("act-2", (None, infusion(1)))
    journal.commit(added)

    journal.commit(opposite("act-3", added))

    assert journal.tasting("session-1").infusions == ()
    assert [one.uid for one in journal.acts("session-1")] == ["act-1", "act-2", "act-3"]


def test_an_act_that_touches_a_record_twice_leaves_the_last(journal: Journal) -> None:
    journal.commit(begun())

    journal.commit(act("act-2", (None, infusion(1)), (infusion(1), infusion(1, note="longer"))))

    assert journal.tasting("session-1").infusions == (infusion(1, note="longer"),)


def test_a_number_can_be_given_up_and_taken_in_one_act(journal: Journal) -> None:
    journal.commit(begun())
    journal.commit(act("act-2", (None, infusion(1))))
    another = infusion(1, uid="another")

    journal.commit(act("act-3", (infusion(1), None), (None, another)))

    assert journal.tasting("session-1").infusions == (another,)


def test_an_act_on_a_record_changed_meanwhile_is_refused_and_keeps_nothing(journal: Journal) -> None:
    journal.commit(begun())
    journal.commit(act("act-2", (None, infusion(1))))
    journal.commit(act("act-3", (infusion(1), infusion(1, note="theirs"))))

    with pytest.raises(StaleAct, match=r"[Ii]nfusion"):
        journal.commit(act("act-4", (None, impression("impression-1")), (infusion(1), infusion(1, note="ours"))))

    assert journal.tasting("session-1").infusions == (infusion(1, note="theirs"),)
    assert journal.tasting("session-1").impressions == ()
    assert [one.uid for one in journal.acts("session-1")] == ["act-1", "act-2", "act-3"]


@pytest.mark.parametrize(
    "change",
    [
        (None, session()),
        (None, infusion(1, uid="another")),
        (None, infusion(1, session_uid="nobody's")),
        (infusion(2), None),
        (infusion(2), infusion(2, note="changed")),
        (lot(), None),
        (None, Verdict("verdict-2", "session-1")),
        (None, impression("impression-1", saying_uid="never said")),
    ],
    ids=lambda change: repr(change)[:60],
)
def test_a_change_that_does_not_fit_what_is_kept_is_refused(journal: Journal, change: tuple) -> None:
    journal.commit(begun())
    journal.commit(act("act-2", (None, infusion(1)), (None, Verdict("verdict-1", "session-1"))))
    before = journal.tasting("session-1")

    with pytest.raises(StaleAct):
        journal.commit(act("act-3", change))

    assert journal.tasting("session-1") == before
    assert len(journal.acts("session-1")) == 2


def test_an_act_is_kept_once(journal: Journal) -> None:
    journal.commit(begun())

    with pytest.raises(StaleAct):
        journal.commit(act("act-1", (None, lot("lot-2"))))

    assert [one.uid for one in journal.lots()] == ["lot-1"]


def test_an_act_without_changes_is_refused(journal: Journal) -> None:
    with pytest.raises(StoreError, match="nothing"):
        journal.commit(act("act-1"))


def test_a_change_without_before_and_after_is_refused(journal: Journal) -> None:
    with pytest.raises(StoreError, match="nothing to keep"):
        journal.commit(act("act-1", (None, None)))


def test_asking_for_what_is_not_there_says_so(journal: Journal) -> None:
    with pytest.raises(StoreError, match="no lot “lot-9”"):
        journal.lot("lot-9")
    with pytest.raises(StoreError, match="no session “session-9”"):
        journal.tasting("session-9")


def test_lots_come_newest_first_and_sessions_oldest_first(journal: Journal) -> None:
    lots = [lot(f"lot-{number}", created_at_utc=later(number)) for number in (2, 3, 1)]
    sessions = [session(f"session-{number}", "lot-1", started_at_utc=later(number)) for number in (3, 1, 2)]

    journal.commit(act("act-1", *((None, one) for one in (*lots, *sessions))))

    assert [one.uid for one in journal.lots()] == ["lot-3", "lot-2", "lot-1"]
    assert [one.uid for one in journal.sessions()] == ["session-1", "session-2", "session-3"]
    assert journal.last_session() == sessions[0]
    assert [line.lot.uid for line in journal.shelf()] == ["lot-3", "lot-2", "lot-1"]
    assert [line.uid for line in journal.shelf()[2].sessions] == ["session-1", "session-2", "session-3"]


def test_the_shelf_tells_what_was_poured_and_what_it_came_to(journal: Journal) -> None:
    poured = [infusion(index, actual_ms=20_000, liquor=(60.0 - index, 10.0, 40.0)) for index in (2, 1)]
    rinse, planned = infusion(0, actual_ms=5_000), infusion(3)
    verdict = Verdict("verdict-1", "session-1", "rest until", date(2026, 9, 1), headline="Orchid that stays")
    closed = session(purpose="on arrival", utc_offset_min=480, closed_at_utc=later(3600))
    journal.commit(act("act-1", (None, lot()), (None, closed), *((None, one) for one in (*poured, rinse, planned))))

    journal.commit(act("act-2", (None, verdict)))

    assert journal.shelf()[0].sessions == (
        SessionLine(
            uid="session-1",
            lot_uid="lot-1",
            started_at_utc=MORNING_UTC,
            utc_offset_min=480,
            purpose="on arrival",
            is_open=False,
            infusions_poured=2,
            liquors=((1, (59.0, 10.0, 40.0)), (2, (58.0, 10.0, 40.0))),
            decision="rest until",
            headline="Orchid that stays",
            rest_until="2026-09-01",
            has_verdict=True,
        ),
    )


def test_a_session_without_verdict_shows_as_open_on_the_shelf(journal: Journal) -> None:
    journal.commit(begun())

    (line,) = journal.shelf()[0].sessions

    assert (line.is_open, line.has_verdict, line.decision, line.rest_until) == (True, False, "", "")
    assert (line.infusions_poured, line.liquors) == (0, ())


def test_a_session_whose_leaf_is_in_water_says_so_on_the_shelf(journal: Journal) -> None:
    journal.commit(begun())
    in_water = infusion(1, started=Instant(MORNING_UTC, 5.0, "boot"))

    journal.commit(act("act-2", (None, in_water)))
    before = journal.shelf()[0].sessions[0].is_steeping
    journal.commit(act("act-3", (in_water, replace(in_water, actual_ms=20_000))))

    assert before
    assert not journal.shelf()[0].sessions[0].is_steeping


def test_parts_of_other_sessions_stay_out_of_a_tasting(journal: Journal) -> None:
    journal.commit(begun())
    journal.commit(act("act-2", (None, session("session-2")), (None, infusion(1, "session-2"))))

    assert journal.tasting("session-1").infusions == ()
    assert journal.tasting("session-2").infusions == (infusion(1, "session-2"),)


def test_impressions_come_in_the_order_in_which_they_were_recorded(journal: Journal) -> None:
    journal.commit(begun())
    late = impression("a", recorded_at_utc=later(9))
    early = [impression(uid, recorded_at_utc=later(1)) for uid in ("c", "b")]

    journal.commit(act("act-2", (None, late), *((None, one) for one in early)))

    assert [one.uid for one in journal.tasting("session-1").impressions] == ["b", "c", "a"]


def test_acts_come_back_whole_in_the_order_in_which_they_were_kept(journal: Journal) -> None:
    first, second = begun("act-9"), act("act-3", (None, infusion(1)), at_utc=later(-60))
    elsewhere = act("act-1", (None, lot("lot-2")), scope="lot-2")

    for one in (first, second, elsewhere, opposite("act-2", second)):
        journal.commit(one)

    assert journal.acts("session-1") == (first, second, opposite("act-2", second))
    assert journal.acts("lot-2") == (elsewhere,)
    assert journal.acts("nobody's") == ()


def test_words_of_the_users_own_are_kept(journal: Journal) -> None:
    petrichor = OwnDescriptor("own-1", "rain on dust", "", MORNING_UTC)
    journal.commit(act("act-1", (None, petrichor)))

    journal.commit(act("act-2", (petrichor, replace(petrichor, family="mineral"))))

    assert journal.own_descriptors() == (replace(petrichor, family="mineral"),)


def test_the_uses_of_a_word_are_counted_with_the_last_lot_at_which_it_was_noted(journal: Journal) -> None:
    journal.commit(begun())
    second = act("act-2", (None, lot("lot-2", name="Quiet Ferry")), (None, session("session-2", "lot-2")))
    journal.commit(second)
    heard = [
        impression("impression-1"),
        impression("impression-2", infusion=2),
        impression("impression-3", "session-2"),
    ]
    nori = impression("impression-4", descriptor="nori", word="海苔")

    journal.commit(act("act-3", *((None, one) for one in (*heard, nori))))

    orchids, noris = journal.word_use("orchid"), journal.word_use("nori")
    assert journal.words_noted() == ("nori", "orchid")
    assert orchids is not None
    assert noris is not None
    assert (orchids.descriptor, orchids.times, orchids.sessions, orchids.last_lot) == ("orchid", 3, 2, "Quiet Ferry")
    assert (noris.descriptor, noris.word, noris.times, noris.sessions) == ("nori", "海苔", 1, 1)
    assert noris.last_at_utc == MORNING_UTC


def test_a_journal_without_notes_has_no_uses(journal: Journal) -> None:
    assert journal.words_noted() == ()
    assert journal.word_use("orchid") is None


def test_a_picture_is_kept_once_and_comes_back_byte_by_byte(journal: Journal) -> None:
    first, again = journal.keep_picture(CUP), journal.keep_picture(CUP)

    assert first == again == picture_digest(CUP)
    assert journal.picture(first) == CUP


def test_a_picture_outlives_its_photograph_so_that_this_can_be_taken_back(journal: Journal) -> None:
    photo = Photo("photo-1", "session-1", "liquor", 1, journal.keep_picture(CUP), "image/png", MORNING_UTC)
    journal.commit(begun())
    journal.commit(act("act-2", (None, photo)))

    journal.commit(taken := act("act-3", (photo, None)))
    journal.commit(opposite("act-4", taken))

    assert journal.tasting("session-1").photos_at("liquor", 1) == (photo,)
    assert journal.picture(photo.picture) == CUP


def test_a_picture_that_is_not_there_is_refused(journal: Journal) -> None:
    with pytest.raises(StoreError, match="no such picture"):
        journal.picture(picture_digest(b"another"))


def test_what_we_keep_ourselves_does_not_count_as_changed_outside(journal: Journal) -> None:
    journal.commit(begun())
    before = journal.outside_version()

    journal.commit(act("act-2", (None, infusion(1))))

    assert journal.outside_version() == before


def test_a_fake_that_only_reads_refuses_as_the_real_one_does() -> None:
    journal = FakeJournal(read_only_because="The disk is write-protected.")

    with pytest.raises(JournalReadOnly, match="write-protected"):
        journal.commit(begun())


def test_a_fake_can_fail_once_and_then_keeps_the_act() -> None:
    journal = FakeJournal(next_commit_fails=StoreError("The disk is full."))

    with pytest.raises(StoreError, match="full"):
        journal.commit(begun())
    journal.commit(begun())

    assert journal.lots() == (lot(),)


def test_the_inverse_of_a_change_takes_it_back() -> None:
    change = Change(None, lot())

    assert change.inverse == Change(lot(), None)


def test_what_was_kept_after_an_act_is_told_whatever_it_concerns(journal: Journal) -> None:
    before = journal.last_act()
    journal.commit(begun())
    between = journal.last_act()
    journal.commit(act("act-2", (None, infusion(1))))

    assert before == 0
    assert [one.uid for one in journal.acts_after(before)] == [begun().uid, "act-2"]
    assert [one.uid for one in journal.acts_after(between)] == ["act-2"]
    assert journal.acts_after(journal.last_act()) == ()


def test_a_session_with_leaf_in_water_is_told(journal: Journal) -> None:
    journal.commit(begun())
    assert journal.steeping() == ()
    waiting = replace(infusion(1), started=Instant(MORNING_UTC, 5.0, "boot"), poured=None, actual_ms=None)
    journal.commit(act("act-2", (None, waiting)))

    assert journal.steeping() == ("session-1",)
    journal.commit(act("act-3", (waiting, replace(waiting, actual_ms=20_000))))
    assert journal.steeping() == ()
