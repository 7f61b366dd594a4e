"""Opening: what is a journal, what is not, what is hurt; and that a refused file stays as it is to the byte."""

from __future__ import annotations

import shutil
import sqlite3
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

from tastebook.domain.errors import (
    JournalBusy,
    JournalDamaged,
    JournalNewer,
    JournalReadOnly,
    NotAJournal,
    StoreError,
    TastebookError,
)
from tastebook.domain.finding import Query, Word
from tastebook.store.checking import check
from tastebook.store.journal import open_journal
from tastebook.store.opening import CHECK_UP_TO_BYTES
from tastebook.store.schema import APPLICATION_ID, OURS
from tests.fakes import FakeClock
from tests.store.building import CUP, act, begun, impression, infusion, lot, session

RELEASED = sorted((Path(__file__).parents[1] / "data").glob("journal-*.tastebook"))


def _filled(path: Path, clock: FakeClock, count: int = 200) -> None:
    """Make a journal of some pages at `path`, closed."""
    journal = open_journal(path, clock)
    journal.commit(begun())
    for number in range(count):
        journal.commit(act(f"act-x{number}", (None, impression(f"impression-{number}", word="orchid " * 20))))
    journal.close()


def _files(folder: Path) -> dict[str, bytes]:
    return {one.name: one.read_bytes() for one in folder.iterdir() if one.is_file()}


def _set_revision(path: Path, revision: str) -> None:
    raw = sqlite3.connect(path, isolation_level=None)
    raw.execute("UPDATE alembic_version SET version_num = ?", (revision,))
    raw.close()


class TestMaking:
    def test_a_journal_is_made_with_its_folder(self, tmp_path: Path, clock: FakeClock) -> None:
        path = tmp_path / "tea" / "2026" / "journal.tastebook"

        open_journal(path, clock).close()

        assert path.is_file()

    def test_an_empty_file_left_by_a_crash_becomes_a_journal(self, path: Path, clock: FakeClock) -> None:
        path.touch()

        journal = open_journal(path, clock)

        assert journal.shelf() == ()
        journal.close()

    def test_the_file_says_whose_it_is_and_keeps_a_log(self, path: Path, clock: FakeClock) -> None:
        open_journal(path, clock).close()

        raw = sqlite3.connect(path)
        marks = [raw.execute(f"PRAGMA {name}").fetchone()[0] for name in ("application_id", "journal_mode")]
        revision = raw.execute("SELECT version_num FROM alembic_version").fetchall()
        raw.close()
        assert marks == [APPLICATION_ID, "wal"]
        assert revision == [(OURS.head,)]

    def test_a_path_with_signs_of_an_address_is_just_a_path(self, tmp_path: Path, clock: FakeClock) -> None:
        path = tmp_path / "50% oolong? & 茶 #2.tastebook"

        journal = open_journal(path, clock)
        journal.commit(begun())
        journal.close()

        assert path.is_file()

    def test_every_commit_waits_for_the_disk(self, path: Path, clock: FakeClock) -> None:
        journal = open_journal(path, clock)

        settings = [journal._raw.execute(f"PRAGMA {name}").fetchone()[0] for name in ("synchronous", "foreign_keys")]

        journal.close()
        assert settings == [2, 1]  # 2 is FULL: https://www.sqlite.org/pragma.html#pragma_synchronous


class TestWhatIsNoJournal:
    @pytest.mark.parametrize("content", [b"t", b"Dear diary,\n" * 50, bytes(4096), b"SQLite format 3\x00" + bytes(900)])
    def test_it_is_named_and_left_as_it_is(self, path: Path, clock: FakeClock, content: bytes) -> None:
        path.write_bytes(content)

        with pytest.raises(NotAJournal, match=r"journal\.tastebook is not a journal"):
            open_journal(path, clock)

        assert _files(path.parent) == {path.name: content}

    def test_the_database_of_another_program_is_left_as_it_is(self, path: Path, clock: FakeClock) -> None:
        raw = sqlite3.connect(path)
        raw.execute("CREATE TABLE lot (uid TEXT)")
        raw.commit()
        raw.close()
        before = _files(path.parent)

        with pytest.raises(NotAJournal, match="another program"):
            open_journal(path, clock)

        assert _files(path.parent) == before

    def test_a_folder_is_no_journal(self, tmp_path: Path, clock: FakeClock) -> None:
        with pytest.raises(NotAJournal, match="is a folder"):
            open_journal(tmp_path, clock)

    def test_a_place_where_no_folder_can_be_made_is_named(self, tmp_path: Path, clock: FakeClock) -> None:
        (tmp_path / "file").write_text("in the way")

        with pytest.raises(StoreError, match="file"):
            open_journal(tmp_path / "file" / "journal.tastebook", clock)


class TestDamage:
    def test_a_file_cut_short_is_named_and_left_as_it_is(self, path: Path, clock: FakeClock) -> None:
        _filled(path, clock)
        path.write_bytes(path.read_bytes()[: path.stat().st_size * 2 // 3])
        before = _files(path.parent)

        with pytest.raises(JournalDamaged, match=r"journal\.tastebook is damaged"):
            open_journal(path, clock)

        assert _files(path.parent) == before

    def test_a_file_too_long_to_be_looked_over_is_found_to_be_cut_short(self, path: Path, clock: FakeClock) -> None:
        journal = open_journal(path, clock)
        journal.commit(act("act-1", (None, lot(notes="leaf " * (CHECK_UP_TO_BYTES // 9)))))
        journal.close()
        assert path.stat().st_size > CHECK_UP_TO_BYTES
        with path.open("r+b") as file:
            file.truncate(path.stat().st_size - 4096)

        with pytest.raises(JournalDamaged, match="damaged"):
            open_journal(path, clock)

    def test_a_file_with_a_hole_is_named_and_left_as_it_is(self, path: Path, clock: FakeClock) -> None:
        _filled(path, clock)
        content = bytearray(path.read_bytes())
        content[8192 : 8192 + 20_000] = bytes(20_000)
        path.write_bytes(content)
        before = _files(path.parent)

        with pytest.raises(JournalDamaged, match="damaged"):
            open_journal(path, clock)

        assert _files(path.parent) == before

    def test_a_journal_that_lost_its_revision_is_damaged(self, path: Path, clock: FakeClock) -> None:
        _filled(path, clock, 1)
        raw = sqlite3.connect(path, isolation_level=None)
        raw.execute("DROP TABLE alembic_version")
        raw.close()

        with pytest.raises(JournalDamaged, match="which revision"):
            open_journal(path, clock)

    def test_the_way_out_is_the_newest_backup(self, path: Path, clock: FakeClock) -> None:
        _filled(path, clock, 3)
        journal = open_journal(path, clock)
        journal.keep_backup()
        clock.advance(2 * 86_400)
        newest = journal.keep_backup()
        journal.close()
        path.write_bytes(path.read_bytes()[:5000])

        with pytest.raises(JournalDamaged) as caught:
            open_journal(path, clock)

        assert f"newest backup copy is {newest}" in str(caught.value)
        backup = open_journal(newest, clock)
        assert len(backup.tasting("session-1").impressions) == 3
        backup.close()

    def test_a_journal_overwritten_with_nonsense_still_tells_of_its_backup(self, path: Path, clock: FakeClock) -> None:
        _filled(path, clock, 3)
        journal = open_journal(path, clock)
        copy = journal.keep_backup()
        journal.close()
        path.write_bytes(b"nonsense" * 1000)

        with pytest.raises(NotAJournal) as caught:
            open_journal(path, clock)

        assert str(copy) in str(caught.value)

    def test_any_damage_ends_in_an_error_of_ours_or_none(self, path: Path, clock: FakeClock) -> None:
        """Whole pages overwritten one by one: reading either works or says in our words what is wrong."""
        _filled(path, clock, 60)
        whole = path.read_bytes()
        outcomes = set()

        for start in range(0, len(whole), 4096):
            path.write_bytes(whole[:start] + b"\xa5" * 4096 + whole[start + 4096 :])
            outcomes.add(_outcome(path, clock))

        assert outcomes <= {"JournalDamaged", "NotAJournal", "StoreError", "read"}
        assert "JournalDamaged" in outcomes


def _outcome(path: Path, clock: FakeClock) -> str:
    try:
        journal = open_journal(path, clock)
    except TastebookError as exc:
        return type(exc).__name__
    try:
        journal.shelf()
        journal.tasting("session-1")
        journal.acts("session-1")
    except TastebookError as exc:
        return type(exc).__name__
    finally:
        journal.close()
    return "read"


class TestOtherRevisions:
    def test_a_later_journal_opens_for_reading_and_says_why(self, path: Path, clock: FakeClock) -> None:
        _filled(path, clock, 2)
        _set_revision(path, "0999")

        journal = open_journal(path, clock)

        assert "later Tastebook" in journal.read_only_because
        assert "0999" in journal.read_only_because
        assert len(journal.tasting("session-1").impressions) == 2
        with pytest.raises(JournalReadOnly, match="later Tastebook"):
            journal.commit(act("act-9", (None, infusion(1))))
        journal.close()

    def test_a_later_journal_with_further_columns_can_be_read(self, path: Path, clock: FakeClock) -> None:
        _filled(path, clock, 2)
        raw = sqlite3.connect(path, isolation_level=None)
        raw.execute("ALTER TABLE lot ADD COLUMN photo TEXT")
        raw.close()
        _set_revision(path, "0999")

        journal = open_journal(path, clock)

        assert [line.lot for line in journal.shelf()] == [lot()]
        assert journal.lots() == (lot(),)
        journal.close()

    def test_a_later_journal_that_cannot_be_understood_is_refused(self, path: Path, clock: FakeClock) -> None:
        _filled(path, clock, 2)
        raw = sqlite3.connect(path, isolation_level=None)
        raw.execute("ALTER TABLE lot RENAME COLUMN notes TO remarks")
        raw.close()
        _set_revision(path, "0999")
        before = _files(path.parent)

        with pytest.raises(JournalNewer, match=r"lot\.notes"):
            open_journal(path, clock)

        assert _files(path.parent)[path.name] == before[path.name]

    def test_a_journal_is_kept_of_every_revision(self) -> None:
        """Whoever adds a revision makes its journal with `tests.store.released`, and again if it still changes."""
        kept = {path.stem.removeprefix("journal-") for path in RELEASED}

        assert kept == set(OURS.known)

    @pytest.mark.parametrize("released", RELEASED, ids=lambda path: path.stem)
    def test_a_released_journal_opens_and_reads_as_it_did(
        self, released: Path, tmp_path: Path, clock: FakeClock
    ) -> None:
        path = tmp_path / "journal.tastebook"
        shutil.copyfile(released, path)

        journal = open_journal(path, clock)

        (line,) = journal.shelf()
        tasting = journal.tasting(line.sessions[0].uid)
        assert line.lot.name == "Quiet Ferry"
        assert [one.actual_ms for one in tasting.infusions] == [5_000, 21_340]
        assert [one.word for one in tasting.impressions] == ["toasted rice", "海苔"]
        assert tasting.verdict is not None
        assert tasting.verdict.decision == "buy"
        assert len(journal.acts(tasting.session.uid)) >= 6
        journal.close()
        assert check(path) == ()

    def test_the_journal_of_this_revision_is_opened_as_it_is(self, tmp_path: Path, clock: FakeClock) -> None:
        path = tmp_path / "journal.tastebook"
        shutil.copyfile(next(one for one in RELEASED if one.stem == f"journal-{OURS.head}"), path)
        before = path.read_bytes()

        journal = open_journal(path, clock)
        (hit,) = journal.find(Query(words=(Word("海苔", (("海", "苔"),)),)), 9).hits
        journal.close()

        assert (hit.session_uid, hit.column, hit.sentence) == ("session-1", 1, "toasted rice 2, 海苔")
        assert path.read_bytes() == before
        assert not (tmp_path / "backups").exists()

    def test_the_second_released_journal_keeps_its_photograph_and_its_words(
        self, tmp_path: Path, clock: FakeClock
    ) -> None:
        path = tmp_path / "journal.tastebook"
        shutil.copyfile(next(one for one in RELEASED if one.stem == "journal-0002"), path)

        journal = open_journal(path, clock)

        (photo,) = journal.tasting("session-1").photos
        assert journal.picture(photo.picture) == CUP
        nori, orchid, lettuce, talk = journal.own_descriptors()
        assert (nori.key, nori.name, nori.synonyms) == ("nori", "toasted seaweed", ("nori", "sea; weed"))
        assert (nori.zh, nori.pinyin, nori.about) == ("海苔", "hǎi tái", "Sheets held over a flame.\nSalty.")
        assert (orchid.key, orchid.family) == ("orchid", "fruity")
        assert lettuce.merged_into == "nori"
        assert talk.is_talk
        journal.close()


class TestInUse:
    def test_calls_on_a_closed_journal_say_that_it_is_closed(self, path: Path, clock: FakeClock) -> None:
        journal = open_journal(path, clock)
        journal.warm_up()
        journal.close()
        journal.close()

        with pytest.raises(StoreError, match="no longer open"):
            journal.shelf()
        with pytest.raises(StoreError, match="no longer open"):
            journal.commit(begun())

    def test_a_file_replaced_while_open_is_noticed_before_an_act_is_lost(self, path: Path, clock: FakeClock) -> None:
        journal = open_journal(path, clock)
        journal.commit(begun())
        path.rename(path.with_name("moved.tastebook"))

        with pytest.raises(JournalReadOnly, match="moved, replaced or deleted"):
            journal.commit(act("act-2", (None, infusion(1))))
        journal.close()

    def test_a_lock_that_is_not_given_up_is_told_as_busy(self, path: Path, clock: FakeClock) -> None:
        open_journal(path, clock).close()
        journal = open_journal(path, clock, busy_ms=50)
        other = sqlite3.connect(path, isolation_level=None)
        other.execute("BEGIN IMMEDIATE")

        with pytest.raises(JournalBusy, match="try again"):
            journal.commit(begun())
        assert journal.shelf() == ()  # Reading does not wait.
        other.rollback()
        journal.commit(begun())

        assert journal.lots() == (lot(),)
        other.close()
        journal.close()

    def test_damage_that_shows_only_in_use_names_the_file_and_the_way_out(self, path: Path, clock: FakeClock) -> None:
        _filled(path, clock, 1)
        raw = sqlite3.connect(path, isolation_level=None)
        raw.execute("UPDATE session SET started_at_utc = 'this morning'")
        raw.close()
        journal = open_journal(path, clock)
        copy = journal.keep_backup()

        for reading in (journal.shelf, journal.sessions, lambda: journal.tasting("session-1")):
            with pytest.raises(JournalDamaged) as caught:
                reading()
            assert "this morning" in str(caught.value)
            assert str(path) in str(caught.value)
            assert str(copy) in str(caught.value)
        journal.close()

    def test_a_journal_may_be_read_from_another_thread(self, path: Path, clock: FakeClock) -> None:
        from threading import Thread

        journal = open_journal(path, clock)
        journal.commit(begun())
        seen: list[object] = []

        thread = Thread(target=lambda: seen.append(journal.tasting("session-1").session))
        thread.start()
        thread.join()

        assert seen == [session()]
        journal.close()


class TestStart:
    def test_the_shelf_of_an_up_to_date_journal_needs_neither_sqlalchemy_nor_alembic(
        self, path: Path, clock: FakeClock
    ) -> None:
        _filled(path, clock, 1)
        program = """
            import sys
            from pathlib import Path
            from tastebook.platform.clock import SystemClock
            from tastebook.store.journal import open_journal
            journal = open_journal(Path(sys.argv[1]), SystemClock())
            assert len(journal.shelf()) == 1
            print(sorted({"sqlalchemy", "alembic"} & set(sys.modules)))
            journal.warm_up()
            print(sorted({"sqlalchemy", "alembic"} & set(sys.modules)))
        """

        done = subprocess.run(
            [sys.executable, "-c", textwrap.dedent(program), str(path)], capture_output=True, text=True, check=True
        )

        assert done.stdout.splitlines() == ["[]", "['sqlalchemy']"]
