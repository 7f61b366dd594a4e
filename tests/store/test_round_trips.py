"""Whatever is kept comes back the same: as rows, as JSON, and through any order of acts."""

from __future__ import annotations

import tempfile
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.stateful import Bundle, RuleBasedStateMachine, initialize, invariant, precondition, rule

from tastebook.domain.act import Act, Change, History, history_of
from tastebook.domain.errors import JournalDamaged, JournalNewer, StoreError
from tastebook.domain.lot import Lot
from tastebook.domain.session import OwnDescriptor, Record, Saying, Tasting
from tastebook.store.checking import check
from tastebook.store.codec import WORDING, changes_of, changes_text, course_of, course_text
from tastebook.store.journal import SqliteJournal, open_journal
from tests.fakes import MORNING_UTC, FakeClock, FakeIds
from tests.store.building import (
    COURSE,
    CUP,
    act,
    begun,
    impression,
    infusion,
    lot,
    lots,
    own_descriptors,
    records_of,
    session,
    tastings,
    texts,
)

KEEPS_THE_JOURNAL = settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)


ACT_IDS = FakeIds("act")


def _as_act(records: list[Record], before: bool = False) -> Act:
    changes = tuple(Change(one, None) if before else Change(None, one) for one in records)
    return Act(ACT_IDS.new(), "scope", "label", MORNING_UTC, changes)


class TestRows:
    @given(tasting=tastings())
    @KEEPS_THE_JOURNAL
    def test_any_tasting_comes_back_as_it_was_kept(self, journal: SqliteJournal, tasting: Tasting) -> None:
        journal.keep_picture(CUP)
        journal.commit(_as_act(records_of(tasting)))

        back = journal.tasting(tasting.session.uid)
        journal.commit(_as_act(records_of(tasting), before=True))

        assert back == tasting
        assert repr(back.lot.price_per_kg) == repr(tasting.lot.price_per_kg)

    @given(kept=lots)
    @KEEPS_THE_JOURNAL
    def test_any_lot_comes_back_on_the_shelf(self, journal: SqliteJournal, kept: Lot) -> None:
        journal.commit(_as_act([kept]))

        shelf = journal.shelf()
        journal.commit(_as_act([kept], before=True))

        assert [line.lot for line in shelf] == [kept]

    @given(own=own_descriptors)
    @KEEPS_THE_JOURNAL
    def test_any_word_of_the_users_own_comes_back(self, journal: SqliteJournal, own: OwnDescriptor) -> None:
        journal.commit(_as_act([own]))

        back = journal.own_descriptors()
        journal.commit(_as_act([own], before=True))

        assert back == (own,)

    @given(text=texts)
    @KEEPS_THE_JOURNAL
    def test_any_words_of_the_taster_come_back_letter_by_letter(self, journal: SqliteJournal, text: str) -> None:
        said = Saying("saying-1", "session-1", "flavour", 1, text, MORNING_UTC)
        journal.commit(_as_act([lot(), session(), said]))

        back = journal.tasting("session-1").sayings
        journal.commit(_as_act([lot(), session(), said], before=True))

        assert [one.text for one in back] == [text]

    def test_a_price_keeps_its_last_zero(self, journal: SqliteJournal) -> None:
        journal.commit(act("act-1", (None, lot(price_per_kg=Decimal("1280.50")))))

        assert str(journal.lot("lot-1").price_per_kg) == "1280.50"

    def test_a_time_of_another_zone_is_kept_as_the_same_moment_in_utc(self, journal: SqliteJournal) -> None:
        at = datetime(2026, 4, 18, 17, 30, tzinfo=timezone(timedelta(hours=8)))
        journal.commit(act("act-1", (None, lot(created_at_utc=at))))

        back = journal.lot("lot-1").created_at_utc

        assert back == at
        assert back.tzinfo is UTC

    def test_a_time_without_a_zone_is_refused(self, journal: SqliteJournal) -> None:
        naive = datetime(2026, 4, 18, 9, 30)  # noqa: DTZ001 - that is the point

        with pytest.raises(StoreError, match="time zone"):
            journal.commit(act("act-1", (None, lot(created_at_utc=naive))))

    @pytest.mark.parametrize("number", [float("nan"), float("inf")])
    def test_a_number_that_is_none_is_refused(self, journal: SqliteJournal, number: float) -> None:
        with pytest.raises(StoreError, match="not finite"):
            journal.commit(act("act-1", (None, lot(altitude_m=number))))

        assert journal.lots() == ()

    def test_half_a_character_is_refused_and_the_journal_goes_on(self, journal: SqliteJournal) -> None:
        with pytest.raises(StoreError, match="cannot be kept"):
            journal.commit(act("act-1", (None, lot(name="\ud83c"))))
        journal.commit(act("act-2", (None, lot(name="\U0001f375"))))

        assert journal.lot("lot-1").name == "\U0001f375"

    def test_a_number_too_large_for_the_file_is_refused(self, journal: SqliteJournal) -> None:
        with pytest.raises(StoreError, match="cannot be kept"):
            journal.commit(act("act-1", (None, lot(harvest_year=2**63))))

        assert journal.lots() == ()

    def test_a_word_in_the_place_of_a_number_is_refused(self, journal: SqliteJournal) -> None:
        with pytest.raises(StoreError, match="could not be read or written"):
            journal.commit(act("act-1", (None, lot(harvest_year="spring"))))

        assert journal.lots() == ()


class TestJson:
    @given(tasting=tastings())
    def test_the_changes_of_any_act_come_back_as_they_were(self, tasting: Tasting) -> None:
        changes = tuple(Change(one, replace(one, uid="other")) for one in records_of(tasting))

        assert changes_of(changes_text(changes)) == changes

    @given(own=own_descriptors)
    def test_a_change_without_before_or_after_comes_back(self, own: OwnDescriptor) -> None:
        changes = (Change(None, own), Change(own, None))

        assert changes_of(changes_text(changes)) == changes

    def test_a_field_that_older_text_lacks_gets_its_default(self) -> None:
        said = Saying("saying-1", "session-1", "flavour", 1, "orchid", MORNING_UTC)
        text = changes_text([Change(None, said)])

        older = text.replace(',"late":false', "")

        assert older != text
        assert changes_of(older) == (Change(None, said),)

    def test_a_later_wording_is_told_apart_from_damage(self) -> None:
        text = course_text(COURSE)

        with pytest.raises(JournalNewer, match="later Tastebook"):
            course_of(text.replace(f'"wording":{WORDING}', f'"wording":{WORDING + 1}'))

    def test_a_field_of_a_later_version_is_not_dropped_in_silence(self) -> None:
        text = course_text(COURSE)

        with pytest.raises(JournalNewer, match="aroma_wheel"):
            course_of(text.replace('"about":', '"aroma_wheel":1,"about":'))

    @pytest.mark.parametrize(
        "text",
        [
            "",
            "tea",
            "[]",
            "{}",
            '{"wording":1,"changes":[["lot",null]]}',
            '{"wording":1,"changes":[["kettle",null,{}]]}',
            '{"wording":1,"changes":[["lot",null,{"uid":"a"}]]}',
            '{"wording":1,"changes":[["lot",null,[]]]}',
            '{"wording":1,"changes":[["lot",null,{"uid":"a","name":3,"created_at_utc":"2026-04-18T09:30:00+00:00"}]]}',
            '{"wording":1,"changes":[["lot",null,{"uid":"a","name":"b","created_at_utc":"this morning"}]]}',
        ],
    )
    def test_text_that_makes_no_sense_is_called_damaged(self, text: str) -> None:
        with pytest.raises(JournalDamaged):
            changes_of(text)


class ActsInAnyOrder(RuleBasedStateMachine):
    """A taster who records, amends, removes, undoes, redoes and restarts; memory and disk must agree throughout."""

    made = Bundle("made")

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.path = Path(self.folder.name) / "journal.tastebook"
        self.clock = FakeClock()
        self.ids = FakeIds()
        self.journal = open_journal(self.path, self.clock)
        self.history = History()

    @initialize()
    def begin(self) -> None:
        self.journal.commit(begun())
        self.tasting = Tasting(lot(), session())
        self.history = history_of([begun()])

    @rule(words=st.lists(st.sampled_from(["orchid", "peach", "rain 🌧", "蘭花"]), min_size=1, max_size=3))
    def say(self, words: list[str]) -> None:
        said = Saying(self.ids.new(), "session-1", "flavour", 1, ", ".join(words), self._now())
        heard = [
            impression(self.ids.new(), word=word, saying_uid=said.uid, recorded_at_utc=self._now()) for word in words
        ]
        self._keep(*((None, one) for one in (*heard, said)))

    @rule()
    def pour(self) -> None:
        index = len(self.tasting.infusions)
        self._keep((None, infusion(index, uid=self.ids.new(), started=self.clock.now())))

    @precondition(lambda self: self.tasting.infusions)
    @rule(note=st.sampled_from(["", "longer", "cooler"]))
    def amend_the_last_infusion(self, note: str) -> None:
        last = self.tasting.infusions[-1]
        self._keep((last, replace(last, note=note, actual_ms=20_000)))

    @precondition(lambda self: self.tasting.impressions)
    @rule(data=st.data())
    def remove_an_impression(self, data: st.DataObject) -> None:
        self._keep((data.draw(st.sampled_from(self.tasting.impressions)), None))

    @rule(name=st.sampled_from(["Spring lot", "First pick"]))
    def rename_the_lot(self, name: str) -> None:
        self._keep((self.tasting.lot, replace(self.tasting.lot, name=name)))

    @precondition(lambda self: len(self.history.undoable) > 1)
    @rule()
    def undo(self) -> None:
        newest = self.history.undoable[-1]
        self._turn(newest, "undo", tuple(change.inverse for change in reversed(newest.changes)))

    @precondition(lambda self: self.history.redoable)
    @rule()
    def redo(self) -> None:
        newest = self.history.redoable[-1]
        self._turn(newest, "redo", newest.changes)

    @rule()
    def restart(self) -> None:
        self.journal.close()
        self.journal = open_journal(self.path, self.clock)

    @invariant()
    def disk_and_memory_agree(self) -> None:
        assert self.journal.tasting("session-1") == self.tasting
        assert history_of(self.journal.acts("session-1")) == self.history

    def teardown(self) -> None:
        self.journal.close()
        assert check(self.path) == ()
        self.folder.cleanup()

    def _now(self) -> datetime:
        self.clock.advance(1)
        return self.clock.utc_now()

    def _keep(self, *pairs: tuple[Record | None, Record | None]) -> None:
        self._commit(act(self.ids.new(), *pairs, at_utc=self._now()))

    def _turn(self, of: Act, kind: str, changes: tuple[Change, ...]) -> None:
        self._commit(Act(self.ids.new(), "session-1", of.label, self._now(), changes, kind, of.uid))

    def _commit(self, one: Act) -> None:
        self.journal.commit(one)
        self.tasting = self.tasting.after((change.before, change.after) for change in one.changes)
        self.history = self.history.after(one)


TestActsInAnyOrder = ActsInAnyOrder.TestCase
TestActsInAnyOrder.settings = settings(max_examples=25, stateful_step_count=20, deadline=None)
