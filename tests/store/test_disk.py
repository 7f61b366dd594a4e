"""A disk that is full, and files and folders that may not be written."""

from __future__ import annotations

import contextlib
import resource
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tastebook.domain.errors import JournalFull, JournalReadOnly, StoreError
from tastebook.store.checking import check
from tastebook.store.journal import SqliteJournal, open_journal
from tests.fakes import FakeClock
from tests.store.building import act, begun, impression, infusion
from tests.store.rights import as_a_user_without_rights

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="the disk is narrowed and the rights dropped by Linux")


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """Mount a disk of 512 KiB in memory: a real one that is really full, where this process may mount."""
    folder = tmp_path / "small"
    folder.mkdir()
    mounting = ["mount", "-t", "tmpfs", "-o", "size=512k", "none", str(folder)]
    if shutil.which("mount") is None or subprocess.run(mounting, check=False).returncode != 0:
        pytest.skip("this process may not mount a disk")
    yield folder
    subprocess.run(["umount", "-l", folder], check=True)


@contextmanager
def files_no_longer_than(count: int) -> Iterator[None]:
    """Let the system refuse to write beyond so many bytes of any file."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    handler = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (count, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, handler)


def _commit_until_refused(journal: SqliteJournal, count: int) -> tuple[list[str], JournalFull | None]:
    kept = []
    for number in range(count):
        try:
            journal.commit(act(f"fill-{number}", (None, impression(f"i-{number}", word="orchid " * 300))))
        except JournalFull as exc:
            return kept, exc
        kept.append(f"i-{number}")
    return kept, None


def _kept(journal: SqliteJournal) -> list[str]:
    return sorted(one.uid for one in journal.tasting("session-1").impressions)


class TestAFullDisk:
    def test_an_act_is_refused_loudly_and_nothing_earlier_is_lost(self, small_disk: Path, clock: FakeClock) -> None:
        path = small_disk / "journal.tastebook"
        journal = open_journal(path, clock)
        journal.commit(begun())

        kept, refusal = _commit_until_refused(journal, 2000)

        assert refusal is not None
        assert "full" in str(refusal)
        assert "Free some space" in str(refusal)
        assert _kept(journal) == sorted(kept)
        journal.close()
        assert check(path) == ()

    def test_tasting_goes_on_once_there_is_space_again(self, small_disk: Path, clock: FakeClock) -> None:
        path = small_disk / "journal.tastebook"
        journal = open_journal(path, clock)
        journal.commit(begun())
        ballast = small_disk / "ballast"
        ballast.write_bytes(bytes(120_000))
        kept, _ = _commit_until_refused(journal, 2000)

        ballast.unlink()
        journal.commit(act("after", (None, infusion(1))))

        assert journal.tasting("session-1").infusions == (infusion(1),)
        assert _kept(journal) == sorted(kept)
        journal.close()
        assert check(path) == ()

    def test_a_journal_on_a_full_disk_can_still_be_read(self, small_disk: Path, clock: FakeClock) -> None:
        path = small_disk / "journal.tastebook"
        journal = open_journal(path, clock)
        journal.commit(begun())
        journal.close()
        _fill(small_disk / "ballast")

        journal = open_journal(path, clock)

        assert len(journal.shelf()) == 1
        with pytest.raises((JournalFull, JournalReadOnly), match="full"):
            journal.commit(act("act-2", (None, impression("i-1", word="orchid " * 3000))))
        journal.close()

    def test_a_journal_that_finds_no_room_to_be_made_says_so(self, small_disk: Path, clock: FakeClock) -> None:
        _fill(small_disk / "ballast")

        with pytest.raises(StoreError, match="full"):
            open_journal(small_disk / "journal.tastebook", clock)

    def test_a_backup_that_finds_no_room_leaves_the_older_copy(self, small_disk: Path, tmp_path: Path) -> None:
        journal = open_journal(tmp_path / "journal.tastebook", FakeClock())
        journal.commit(begun())
        copy = small_disk / "copy.tastebook"
        journal.backup_to(copy)
        before = copy.read_bytes()
        _commit_until_refused(journal, 200)

        with pytest.raises(JournalFull, match="full"):
            journal.backup_to(copy)

        assert copy.read_bytes() == before
        assert [one.name for one in small_disk.iterdir()] == ["copy.tastebook"]
        journal.close()

    def test_a_disk_that_refuses_to_write_is_told_and_nothing_is_half_kept(self, path: Path, clock: FakeClock) -> None:
        journal = open_journal(path, clock)
        journal.commit(begun())

        with files_no_longer_than(path.with_name(f"{path.name}-wal").stat().st_size):
            kept, refusal = _commit_until_refused(journal, 50)
        journal.commit(act("after", (None, infusion(1))))

        assert refusal is not None
        assert "Nothing was kept" in str(refusal)
        assert _kept(journal) == sorted(kept)
        assert journal.tasting("session-1").infusions == (infusion(1),)
        journal.close()
        assert check(path) == ()


def _fill(file: Path) -> None:
    with file.open("wb", buffering=0) as out, contextlib.suppress(OSError):
        while True:
            out.write(bytes(512))


class TestRights:
    def test_a_journal_that_may_not_be_written_opens_for_reading(self, shared_folder: Path, clock: FakeClock) -> None:
        path = _journal_in(shared_folder, clock)
        path.chmod(0o444)
        before = path.read_bytes()

        with as_a_user_without_rights():
            journal = open_journal(path, clock)
            assert "may not be written" in journal.read_only_because
            assert len(journal.shelf()) == 1
            assert journal.tasting("session-1").infusions == (infusion(1),)
            with pytest.raises(JournalReadOnly, match="open a copy"):
                journal.commit(act("act-9", (None, infusion(2))))
            journal.close()

        assert path.read_bytes() == before

    def test_a_journal_in_a_folder_that_may_not_be_written_opens_for_reading(
        self, shared_folder: Path, clock: FakeClock
    ) -> None:
        path = _journal_in(shared_folder, clock)
        path.chmod(0o666)
        shared_folder.chmod(0o555)

        with as_a_user_without_rights():
            journal = open_journal(path, clock)
            assert "may not be written" in journal.read_only_because
            assert len(journal.acts("session-1")) == 2
            journal.close()

        assert [one.name for one in shared_folder.iterdir()] == [path.name]

    def test_what_is_only_in_the_log_is_read_also_where_nothing_may_be_written(
        self, shared_folder: Path, clock: FakeClock
    ) -> None:
        path = _killed_journal_in(shared_folder)
        assert path.with_name(f"{path.name}-wal").stat().st_size > 0
        shared_folder.chmod(0o555)

        with as_a_user_without_rights():
            journal = open_journal(path, clock)
            assert journal.read_only_because
            assert journal.tasting("session-1").infusions == (infusion(1),)
            journal.close()

    def test_a_journal_that_may_not_even_be_read_says_so(self, shared_folder: Path, clock: FakeClock) -> None:
        path = _journal_in(shared_folder, clock)
        path.chmod(0o000)

        with as_a_user_without_rights(), pytest.raises(StoreError, match=r"journal\.tastebook"):
            open_journal(path, clock)

    def test_a_journal_cannot_be_made_in_a_folder_that_may_not_be_written(
        self, shared_folder: Path, clock: FakeClock
    ) -> None:
        shared_folder.chmod(0o555)

        with as_a_user_without_rights(), pytest.raises(JournalReadOnly, match="may not be written"):
            open_journal(shared_folder / "journal.tastebook", clock)

        assert list(shared_folder.iterdir()) == []


def _journal_in(folder: Path, clock: FakeClock) -> Path:
    path = folder / "journal.tastebook"
    journal = open_journal(path, clock)
    journal.commit(begun())
    journal.commit(act("act-2", (None, infusion(1))))
    journal.close()
    return path


def _killed_journal_in(folder: Path) -> Path:
    """Return a journal whose writer was killed, so that its acts are in the log beside it."""
    path = folder / "journal.tastebook"
    program = """
import os, signal, sys
from pathlib import Path
from tastebook.store.journal import open_journal
from tests.fakes import FakeClock
from tests.store.building import act, begun, infusion
journal = open_journal(Path(sys.argv[1]), FakeClock())
journal.commit(begun())
journal.commit(act("act-2", (None, infusion(1))))
os.kill(os.getpid(), signal.SIGKILL)
"""
    done = subprocess.run([sys.executable, "-c", program, str(path)], cwd=Path(__file__).parents[2], check=False)
    assert done.returncode == -signal.SIGKILL
    path.with_name(f"{path.name}-shm").unlink()
    for one in folder.iterdir():
        one.chmod(0o444)
    return path
