"""The tables for finding: what the records come to, whatever acts were kept, undone, or done behind their back."""

from __future__ import annotations

import sqlite3
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tastebook.domain.act import Act, Change
from tastebook.domain.errors import StoreError
from tastebook.domain.finding_reader import read_query
from tastebook.domain.session import Conditions, Impression, Saying, Session, Tasting, Verdict
from tastebook.store.checking import check
from tastebook.store.connecting import Opened, connect
from tastebook.store.finding_tables import are_current, differences
from tastebook.store.journal import SqliteJournal, open_journal
from tastebook.store.opening import FINDABLE
from tests.fakes import MORNING_UTC, FakeClock
from tests.store.building import act, begun, impression, infusion, lot, opposite, records_of, session, tastings
from tests.words import real_vocabulary


def _differences(path: Path) -> tuple[str, ...]:
    raw = sqlite3.connect(path)
    try:
        return tuple(differences(raw))
    finally:
        raw.close()


def _behind_its_back(path: Path, *statements: str) -> None:
    raw = sqlite3.connect(path)
    for statement in statements:
        raw.execute(statement)
    raw.commit()
    raw.close()


def _found_text(path: Path) -> list[tuple[str, str, str]]:
    raw = sqlite3.connect(path)
    rows = raw.execute("SELECT own, perceived, above FROM found_text ORDER BY id DESC").fetchall()
    raw.close()
    return rows


def test_words_impressions_and_what_stands_above_lie_at_their_place(journal: SqliteJournal, path: Path) -> None:
    said = Saying("saying-1", "session-1", "flavour", 1, "Wet cedar, 焦糖!", MORNING_UTC)

    journal.commit(begun())
    journal.commit(act("act-2", (None, said), (None, impression("impression-1", saying_uid="saying-1"))))

    overview, cup = _found_text(path)
    assert cup[0] == "wet cedar 焦 糖"
    assert cup[1].split() == ["orchid", "orchid·3·a·palate", "·a·palate", "·aroma"]
    assert cup[2] == f"{overview[0]} · spring lot · springlot"


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(first=tastings(), second=tastings(), keep=st.randoms(use_true_random=False))
def test_after_any_acts_the_tables_are_what_the_records_come_to(
    tmp_path_factory: pytest.TempPathFactory, first: Tasting, second: Tasting, keep: object
) -> None:
    path = tmp_path_factory.mktemp("any") / "journal.tastebook"
    journal = open_journal(path, FakeClock())
    records = [one for one in (*records_of(first), *records_of(second)) if type(one).__name__ != "Photo"]
    for number, record in enumerate(records):
        journal.commit(Act(f"add-{number}", "any", "added", MORNING_UTC, (Change(None, record),)))
    assert _differences(path) == ()

    removed = [one for one in records if isinstance(one, (Saying, Impression, Verdict)) and keep.random() < 0.5]  # type: ignore[attr-defined]
    sayings = {one.uid for one in removed if isinstance(one, Saying)}
    removed += [one for one in records if isinstance(one, Impression) and one.saying_uid in sayings]
    if removed:
        taken = tuple(Change(one, None) for one in dict.fromkeys(removed))
        journal.commit(Act("take", "any", "taken", MORNING_UTC, taken))
    later = replace(second.session, started_at_utc=first.session.started_at_utc, lot_uid=first.lot.uid)
    journal.commit(Act("move", "any", "moved", MORNING_UTC, (Change(second.session, later),)))
    renamed = replace(first.lot, name="Lantern Terrace", notes="焦")
    journal.commit(Act("name", "any", "renamed", MORNING_UTC, (Change(first.lot, renamed),)))

    assert _differences(path) == ()
    journal.close()
    assert check(path) == ()


def test_undoing_a_session_takes_everything_of_it_along(journal: SqliteJournal, path: Path) -> None:
    journal.commit(act("act-1", (None, lot())))
    added = act("act-2", (None, session()), (None, infusion(1, note="cedar")), (None, impression("impression-1")))
    journal.commit(added)

    journal.commit(opposite("act-3", added))

    assert _found_text(path) == []
    assert _differences(path) == ()


def test_a_verdict_and_the_surroundings_are_found_at_every_cup(journal: SqliteJournal, path: Path) -> None:
    journal.commit(begun())
    journal.commit(act("act-2", (None, impression("impression-1"))))
    outdoors: Session = replace(session(), conditions=Conditions(place="terrace"))

    journal.commit(act("act-3", (session(), outdoors)))
    journal.commit(act("act-4", (None, Verdict("v", "session-1", "rest until", date(2026, 5, 1), headline="Damp."))))

    assert [row[2].split()[:2] for row in _found_text(path)[1:]] == [["damp", "·"]]
    assert "terrace" in _found_text(path)[0][0]
    assert _differences(path) == ()


@pytest.mark.parametrize("harm", [
    "DELETE FROM found_place", "DELETE FROM found_session", "UPDATE found_lot SET name = 'other'",
    "DELETE FROM found_state",
    "INSERT INTO found_words(found_words) VALUES ('delete-all')", "UPDATE found_session SET decision = 'buy'",
    "UPDATE found_place SET said = '[]'", "UPDATE found_session SET headline = 'Other words'",
])  # fmt: skip
def test_what_was_harmed_is_told_by_the_check(path: Path, harm: str) -> None:
    journal = open_journal(path, FakeClock())
    journal.commit(begun())
    journal.commit(act("act-2", (None, impression("impression-1"))))
    journal.close()
    assert check(path) == ()

    _behind_its_back(path, harm)

    assert check(path) != ()


@pytest.mark.parametrize(
    "harm", ["DROP TABLE found_state", "DELETE FROM found_state", "UPDATE found_state SET wording = 0"]
)
def test_missing_or_older_tables_are_made_anew_at_opening(path: Path, harm: str) -> None:
    journal = open_journal(path, FakeClock())
    journal.commit(begun())
    journal.commit(act("act-2", (None, impression("impression-1"))))
    journal.close()
    before = _found_text(path)
    _behind_its_back(path, harm, "DELETE FROM found_place")

    open_journal(path, FakeClock()).close()

    assert _found_text(path) == before
    assert check(path) == ()


def test_tables_of_another_version_are_left_to_be_made_anew(journal: SqliteJournal, path: Path) -> None:
    journal.commit(begun())
    _behind_its_back(path, "UPDATE found_state SET wording = 0")

    journal.commit(act("act-2", (None, impression("impression-1"))))

    raw = sqlite3.connect(path)
    assert not are_current(raw)
    raw.close()
    assert len(journal.tasting("session-1").impressions) == 1


def test_tables_that_were_lost_meanwhile_are_made_anew_when_something_is_looked_for(
    journal: SqliteJournal, path: Path
) -> None:
    journal.commit(begun())
    query = read_query("spring ", real_vocabulary(), date(2026, 11, 25))
    assert len(journal.find(query, 5).hits) == 1
    _behind_its_back(path, "DELETE FROM found_state", "DELETE FROM found_lot")

    assert len(journal.find(query, 5).hits) == 1
    assert _differences(path) == ()


def test_a_journal_without_the_tables_that_cannot_be_written_says_so(path: Path) -> None:
    journal = open_journal(path, FakeClock())
    journal.commit(begun())
    journal.close()
    _behind_its_back(path, "DELETE FROM found_state")
    only_read = SqliteJournal(path, Opened(connect(path, "ro"), "It is only read."), FakeClock(), path.parent)

    with pytest.raises(StoreError, match="Open it once where it can be written"):
        only_read.find(read_query("spring ", real_vocabulary(), date(2026, 11, 25)), 5)
    assert only_read.lots() == (lot(),)
    only_read.close()


def test_a_lot_renamed_in_another_window_is_found_under_its_new_name(journal: SqliteJournal, path: Path) -> None:
    """Lots are held in memory between two questions, and no longer than they are true."""
    journal.commit(begun())
    query = read_query("orchid ≥ 3", real_vocabulary(), date(2026, 11, 25))
    journal.commit(act("act-2", (None, impression("impression-1"))))
    assert [hit.lot.name for hit in journal.find(query, 5).hits] == ["Spring lot"]
    other = open_journal(path, FakeClock())

    other.commit(act("act-3", (lot(), replace(lot(), name="Quiet Ferry"))))

    assert [hit.lot.name for hit in journal.find(query, 5).hits] == ["Quiet Ferry"]
    other.close()


def test_what_many_acts_leave_in_the_index_is_merged_a_little_with_each(journal: SqliteJournal, path: Path) -> None:
    """Else SQLite would let it grow to sixteen pieces a level, and then merge them all within one act."""
    journal.commit(begun())
    for number in range(120):
        journal.commit(act(f"act-{number + 2}", (None, impression(f"impression-{number}", infusion=number % 9))))

    raw = sqlite3.connect(path)
    (pieces,) = raw.execute("SELECT count(DISTINCT segid) FROM found_words_idx").fetchone()
    raw.execute("INSERT INTO found_words(found_words, rank) VALUES ('integrity-check', 1)")
    raw.close()
    assert pieces <= 8
    assert _differences(path) == ()


def test_making_the_tables_anew_tells_how_far_it_is(path: Path) -> None:
    journal = open_journal(path, FakeClock())
    journal.commit(begun())
    journal.close()
    _behind_its_back(path, "DELETE FROM found_state")
    told: list[tuple[str, float | None]] = []

    open_journal(path, FakeClock(), watch=lambda words, share: told.append((words, share))).close()

    shares = [share for _, share in told if share is not None]
    assert {words for words, _ in told} == {FINDABLE}
    assert shares == sorted(shares)
    assert (shares[0], shares[-1]) == (0.0, 1.0)
    assert len(shares) > 2


def test_a_journal_that_needs_nothing_tells_nothing(journal: SqliteJournal, path: Path) -> None:
    told: list[str] = []

    open_journal(path, FakeClock(), watch=lambda words, _: told.append(words)).close()

    assert told == []


def test_leaving_while_the_tables_are_made_leaves_the_journal_as_it_was(path: Path) -> None:
    journal = open_journal(path, FakeClock())
    journal.commit(begun())
    journal.close()
    _behind_its_back(path, "UPDATE found_state SET wording = 0")
    before = _found_text(path)

    def leave(words: str, share: float | None) -> None:
        if share:
            raise KeyboardInterrupt(words)

    with pytest.raises(KeyboardInterrupt):
        open_journal(path, FakeClock(), watch=leave)

    assert _found_text(path) == before
    again = open_journal(path, FakeClock())
    assert again.lots() == (lot(),)
    again.close()
    assert check(path) == ()
