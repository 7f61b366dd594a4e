"""`tastebook check` finds what was done to a journal behind its back, and says it in words."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from tastebook.domain.session import Photo, picture_digest
from tastebook.store.checking import MOST_FINDINGS, check
from tastebook.store.journal import open_journal
from tests.fakes import MORNING_UTC, FakeClock
from tests.store.building import CUP, act, begun, impression, infusion, lot


@pytest.fixture
def kept(path: Path, clock: FakeClock) -> Path:
    """Return a closed journal with a tasting in which something was amended and something taken back."""
    journal = open_journal(path, clock)
    journal.commit(begun())
    journal.commit(act("act-2", (None, infusion(1)), (None, impression("impression-1"))))
    journal.commit(act("act-3", (infusion(1), infusion(1, note="longer"))))
    journal.commit(act("act-4", (impression("impression-1"), None)))
    journal.close()
    return path


def _behind_its_back(path: Path, *statements: str) -> None:
    raw = sqlite3.connect(path, isolation_level=None)
    for statement in statements:
        raw.execute(statement)
    raw.close()


def test_a_journal_that_only_its_acts_have_changed_is_in_order(kept: Path) -> None:
    assert check(kept) == ()


def test_a_journal_in_use_can_be_checked(path: Path, clock: FakeClock) -> None:
    journal = open_journal(path, clock)
    journal.commit(begun())

    assert check(path) == ()

    journal.close()


def test_looking_a_journal_over_changes_nothing(kept: Path) -> None:
    before = kept.read_bytes()

    check(kept)

    assert kept.read_bytes() == before


@pytest.mark.parametrize(
    ("statement", "finding"),
    [
        ("UPDATE infusion SET note = 'hotter'", "session-1-infusion-1 is not as its acts left it"),
        ("DELETE FROM infusion", "infusion-1 was made by an act, and is not there"),
        (
            "INSERT INTO step_mark VALUES ('mark-1', 'session-1', 'look', NULL, 'done', '2026-04-18T09:30Z')",
            "is there, but no act",
        ),
        ("DELETE FROM session", "1 of the table infusion belong to a session that is not there"),
        ("UPDATE lot SET created_at_utc = 'this morning'", "One lot in the journal cannot be read"),
        ("UPDATE session SET course = '{}'", "course"),
        ("UPDATE act SET changes = '{\"wording\":1}' WHERE uid = 'act-2'", "cannot be read"),
        ("DELETE FROM act WHERE uid = 'act-2'", "found the infusion session-1-infusion-1 other"),
        ("UPDATE alembic_version SET version_num = '0999'", "revision 0999, of a later Tastebook"),
    ],
)
def test_what_was_changed_behind_its_back_is_found(kept: Path, statement: str, finding: str) -> None:
    _behind_its_back(kept, statement)

    assert any(finding in one for one in check(kept)), check(kept)


def test_damaged_pages_are_found(kept: Path) -> None:
    content = bytearray(kept.read_bytes())
    content[4096 * 3 : 4096 * 6] = b"\x5a" * 4096 * 3
    kept.write_bytes(content)

    (finding,) = check(kept)

    assert "damaged" in finding


def test_an_index_that_disagrees_with_its_table_is_found(kept: Path) -> None:
    """SQLite's own quick look does not compare them; the long one does."""
    _behind_its_back(
        kept,
        "PRAGMA writable_schema = ON",
        "UPDATE sqlite_master SET sql = replace(sql, '(scope)', '(label)') WHERE name = 'ix_act_scope'",
    )

    findings = check(kept)

    assert any("structure" in one and "ix_act_scope" in one for one in findings)


def test_a_file_that_is_no_journal_is_a_finding(tmp_path: Path) -> None:
    path = tmp_path / "letter.txt"
    path.write_text("Dear Sir or Madam, " * 40)

    (finding,) = check(path)

    assert "is not a journal" in finding


def test_a_file_that_is_not_there_is_a_finding_and_is_not_made(tmp_path: Path) -> None:
    path = tmp_path / "missing.tastebook"

    (finding,) = check(path)

    assert str(path) in finding
    assert not path.exists()


def test_many_findings_of_one_kind_are_counted(path: Path, clock: FakeClock) -> None:
    journal = open_journal(path, clock)
    journal.commit(act("act-1", *((None, lot(f"lot-{number}")) for number in range(MOST_FINDINGS + 5))))
    journal.close()
    _behind_its_back(path, "UPDATE lot SET notes = 'changed'")

    findings = check(path)

    assert len(findings) == MOST_FINDINGS + 1
    assert findings[-1] == "And 5 more like these."


@pytest.fixture
def photographed(path: Path, clock: FakeClock) -> Path:
    """Return a closed journal with two photographs of one picture."""
    journal = open_journal(path, clock)
    journal.commit(begun())
    digest = journal.keep_picture(CUP)
    for uid in ("photo-1", "photo-2"):
        journal.commit(
            act(f"act-{uid}", (None, Photo(uid, "session-1", "liquor", 1, digest, "image/png", MORNING_UTC)))
        )
    journal.keep_picture(b"of a photograph that was never attached")
    journal.close()
    return path


def test_photographs_whose_pictures_are_there_are_in_order(photographed: Path) -> None:
    assert check(photographed) == ()


def test_a_picture_that_is_no_longer_what_was_kept_is_found(photographed: Path) -> None:
    _behind_its_back(photographed, f"UPDATE picture SET content = x'00' WHERE digest = '{picture_digest(CUP)}'")

    assert check(photographed) == (
        "The picture of the photograph photo-1 is no longer what was kept; a safe copy may have it.",
    )


def test_a_picture_that_is_lost_is_found(photographed: Path) -> None:
    _behind_its_back(photographed, "DELETE FROM picture")

    findings = check(photographed)

    assert any(one.startswith("The picture of the photograph photo-1 is not there") for one in findings)
    assert len(findings) == 2
