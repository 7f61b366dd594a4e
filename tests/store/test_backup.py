"""Copies of a journal: whole, dated, one a day, the oldest given up."""

from __future__ import annotations

import os
import sqlite3
import threading
from pathlib import Path

import pytest

from tastebook.store.backup import LEAST_COPIES, copies_of, keep_copy
from tastebook.store.checking import check
from tastebook.store.journal import SqliteJournal, open_journal
from tests.fakes import FakeClock
from tests.store.building import act, begun, impression, infusion

A_DAY_S = 86_400


def test_a_copy_holds_what_is_still_in_the_log(journal: SqliteJournal, tmp_path: Path, clock: FakeClock) -> None:
    journal.commit(begun())
    journal.commit(act("act-2", (None, infusion(1))))
    target = tmp_path / "elsewhere" / "copy.tastebook"

    journal.backup_to(target)

    copy = open_journal(target, clock)
    assert copy.tasting("session-1") == journal.tasting("session-1")
    copy.close()
    assert [one.name for one in target.parent.iterdir()] == ["copy.tastebook"]


def test_a_copy_takes_the_place_of_an_older_one(journal: SqliteJournal, tmp_path: Path, clock: FakeClock) -> None:
    target = tmp_path / "copy.tastebook"
    target.write_bytes(b"older")

    journal.backup_to(target)

    open_journal(target, clock).close()


@pytest.mark.skipif(os.name == "nt", reason="Windows replaces no file that somebody reads")
def test_whoever_reads_the_older_copy_reads_it_to_its_end(journal: SqliteJournal, tmp_path: Path) -> None:
    target = tmp_path / "copy.tastebook"
    target.write_bytes(b"older " * 1000)

    with target.open("rb") as reading:
        journal.backup_to(target)
        seen = reading.read()

    assert seen == b"older " * 1000


def test_a_copy_made_while_acts_are_kept_is_whole(path: Path, tmp_path: Path, clock: FakeClock) -> None:
    journal, writing = open_journal(path, clock), open_journal(path, clock)
    journal.commit(begun())
    done = threading.Event()
    kept: list[int] = []

    def write() -> None:
        while not done.is_set():
            number = len(kept)
            writing.commit(act(f"act-x{number}", (None, impression(f"i-{number}", word="orchid " * 100))))
            kept.append(number)

    thread = threading.Thread(target=write)
    thread.start()
    targets = [tmp_path / f"copy-{number}.tastebook" for number in range(10)]
    least = []
    for target in targets:
        least.append(len(kept))
        journal.backup_to(target)
    done.set()
    thread.join()

    for target, count in zip(targets, least, strict=True):
        assert check(target) == ()
        copy = open_journal(target, clock)
        assert len(copy.tasting("session-1").impressions) >= count
        copy.close()
    writing.close()
    journal.close()


def test_a_dated_copy_is_made_once_a_day(journal: SqliteJournal, path: Path, clock: FakeClock) -> None:
    first = journal.keep_backup()
    clock.advance(A_DAY_S - 1)
    too_soon = journal.keep_backup()
    clock.advance(1)
    second = journal.keep_backup()

    assert first == path.parent / "backups" / "journal-20260418T093000Z.tastebook"
    assert too_soon is None
    assert second == path.parent / "backups" / "journal-20260419T093000Z.tastebook"


def test_only_the_newest_copies_are_kept_and_other_files_left_alone(
    journal: SqliteJournal, tmp_path: Path, clock: FakeClock
) -> None:
    folder = tmp_path / "copies"
    folder.mkdir()
    others = {"journal-notes.tastebook", "journal-2-20200101T000000Z.tastebook", "letter.txt"}
    for name in others:
        (folder / name).touch()

    for _ in range(5):
        journal.keep_backup(folder, keep=3)
        clock.advance(A_DAY_S)

    names = {one.name for one in folder.iterdir()}
    assert names == others | {f"journal-202604{day}T093000Z.tastebook" for day in (20, 21, 22)}


def test_of_large_copies_fewer_are_kept_but_never_less_than_three(
    journal: SqliteJournal, path: Path, tmp_path: Path, clock: FakeClock
) -> None:
    journal.keep_picture(b"cup" * 100_000)
    folder = tmp_path / "copies"
    raw = sqlite3.connect(path)

    def kept_after(days: int, most_bytes: int) -> int:
        for _ in range(days):
            clock.advance(A_DAY_S)
            keep_copy(raw, path, folder, clock.utc_now(), 10, most_bytes)
        return len(copies_of(path, folder))

    size = 300_000
    assert kept_after(6, 100 * size) == 6
    assert kept_after(1, 6 * size) < 6
    assert kept_after(3, 1) == LEAST_COPIES
    raw.close()


def test_a_copy_is_made_while_the_journal_is_written_from_another_thread(
    journal: SqliteJournal, path: Path, clock: FakeClock
) -> None:
    journal.commit(begun())
    made: list[Path | None] = []
    thread = threading.Thread(target=lambda: made.append(journal.keep_backup()))
    thread.start()
    for number in range(50):
        journal.commit(act(f"act-w{number}", (None, impression(f"w-{number}"))))
    thread.join()

    assert made[0] is not None
    assert check(made[0]) == ()


def test_a_clock_set_back_does_not_stop_copies_for_ever(journal: SqliteJournal, clock: FakeClock) -> None:
    journal.keep_backup()
    clock.step_wall(-400 * A_DAY_S)

    made = journal.keep_backup()

    assert made is not None
