"""Migrations: the tables they come to, the copy they make first, and that a failing one leaves the file as it was."""

from __future__ import annotations

import re
import shutil
import sqlite3
import textwrap
from dataclasses import fields
from pathlib import Path
from typing import get_args

import pytest
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import create_engine

from tastebook.domain.errors import JournalDamaged, JournalReadOnly, StoreError
from tastebook.domain.session import Record
from tastebook.store.codec import NAMES
from tastebook.store.journal import open_journal
from tastebook.store.ledger import ACT_COLUMNS
from tastebook.store.mapping import LOT_COLUMNS, MAPPINGS, act_columns
from tastebook.store.migrate import upgrade
from tastebook.store.rows import ROWS, ActRow, LotRow, Row, table_of
from tastebook.store.schema import MIGRATIONS, OURS, Revisions
from tests.fakes import FakeClock
from tests.store.building import ONE_OF_EACH, act, begun, impression, infusion, session
from tests.store.rights import as_a_user_without_rights

NEXT = f"""
revision = "9999"
down_revision = "{OURS.head}"
branch_labels = None
depends_on = None

import sqlalchemy as sa
from alembic import op

def upgrade():
"""


def _tables(path: Path) -> dict[str, object]:
    """Return everything that SQLite knows of each table, in an order that does not depend on how it was written."""
    raw = sqlite3.connect(path)
    told = {}
    for _, name, *kind in raw.execute("PRAGMA table_list"):
        columns = raw.execute(f"PRAGMA table_xinfo({name})").fetchall()
        references = {row[2:] for row in raw.execute(f"PRAGMA foreign_key_list({name})")}
        indexes = {
            (index, *rest, *(column for *_, column in raw.execute(f"PRAGMA index_info({index})")))
            for _, index, *rest in raw.execute(f"PRAGMA index_list({name})")
        }
        (sql,) = raw.execute("SELECT max(sql) FROM sqlite_master WHERE name = ?", (name,)).fetchone()
        told[name] = (kind, columns, references, indexes, sorted(re.findall(r"\w+", sql or "")))
    raw.close()
    return told


def _revision(path: Path) -> str:
    raw = sqlite3.connect(path)
    (revision,) = raw.execute("SELECT version_num FROM alembic_version").fetchone()
    raw.close()
    return str(revision)


@pytest.fixture
def later(tmp_path: Path) -> Revisions:
    """Return the revisions of a version after this one; `_write_next` says what its migration does."""
    folder = tmp_path / "further"
    folder.mkdir()
    return Revisions((*OURS.known, "9999"), (*OURS.scripts, folder))


def _write_next(later: Revisions, body: str) -> None:
    script = later.scripts[-1] / "9999_of_a_test.py"
    script.write_text(NEXT + textwrap.indent(textwrap.dedent(body), "    "))


@pytest.fixture
def older(path: Path, clock: FakeClock) -> Path:
    """Return a journal as this version writes it, with a tasting in it, closed."""
    journal = open_journal(path, clock)
    journal.commit(begun())
    journal.commit(act("act-2", (None, infusion(1)), (None, impression("impression-1"))))
    journal.close()
    return path


class TestTables:
    def test_migrated_tables_are_the_declared_ones(self, tmp_path: Path, path: Path, clock: FakeClock) -> None:
        migrated = tmp_path / "migrated.tastebook"
        sqlite3.connect(migrated).close()
        open_journal(path, clock).close()

        upgrade(migrated, clock, tmp_path / "backups")

        assert _tables(migrated) == _tables(path)

    def test_alembic_finds_nothing_left_to_migrate(self, path: Path, clock: FakeClock) -> None:
        open_journal(path, clock).close()

        with create_engine(f"sqlite:///{path}").connect() as connection:
            opts = {"include_name": lambda name, kind, _: kind != "table" or not str(name).startswith("found_")}
            left = compare_metadata(MigrationContext.configure(connection, opts=opts), Row.metadata)

        assert left == []

    def test_every_revision_that_ships_is_known_and_in_order(self) -> None:
        config = Config()
        config.set_main_option("script_location", str(MIGRATIONS))

        shipped = [one.revision for one in ScriptDirectory.from_config(config).walk_revisions()]

        assert tuple(reversed(shipped)) == OURS.known

    @pytest.mark.parametrize("record", ONE_OF_EACH, ids=lambda record: type(record).__name__)
    def test_the_mapping_names_every_column_in_the_order_of_the_rows(self, record: Record) -> None:
        """What is read by place, from either library, must lie where the mapping expects it."""
        named = list(MAPPINGS[type(record)].columns_of(record))

        assert named == list(table_of(ROWS[type(record)]).c.keys())

    @pytest.mark.parametrize("record", ONE_OF_EACH, ids=lambda record: type(record).__name__)
    def test_every_field_of_a_record_has_its_columns(self, record: Record) -> None:
        """A field that the domain gains and the store forgets would be lost at the next start."""
        several = {"roast": 4, "conditions": 5, "started": 3, "poured": 3, "at": 3, "liquor": 3}

        wanted = sum(several.get(field.name, 1) for field in fields(record))

        assert len(MAPPINGS[type(record)].columns_of(record)) == wanted

    def test_every_kind_of_record_has_a_table(self) -> None:
        kinds = set(get_args(Record))

        assert kinds == set(ROWS) == set(MAPPINGS) == set(NAMES) == {type(record) for record in ONE_OF_EACH}

    def test_acts_and_lots_are_read_by_place_too(self) -> None:
        assert list(LOT_COLUMNS) == list(table_of(LotRow).c.keys())
        assert ["number", *act_columns(begun())] == list(table_of(ActRow).c.keys())
        assert [column.key for column in ACT_COLUMNS] == list(act_columns(begun()))


class TestUpgrading:
    def test_an_older_journal_is_copied_and_then_brought_up_to_date(
        self, older: Path, later: Revisions, tmp_path: Path, clock: FakeClock
    ) -> None:
        _write_next(later, "op.add_column('lot', sa.Column('sound', sa.Text()))")

        copy = upgrade(older, clock, tmp_path / "backups", later)

        assert (_revision(older), _revision(copy)) == ("9999", OURS.head)
        assert copy.parent == tmp_path / "backups"
        kept = open_journal(copy, clock)
        assert kept.tasting("session-1").infusions == (infusion(1),)
        kept.close()

    def test_a_table_may_be_made_anew_without_losing_what_refers_to_it(
        self, older: Path, later: Revisions, tmp_path: Path, clock: FakeClock
    ) -> None:
        body = """
            with op.batch_alter_table("session", recreate="always") as batch:
                batch.add_column(sa.Column("mood", sa.Text(), nullable=False, server_default=""))
        """
        _write_next(later, body)

        upgrade(older, clock, tmp_path / "backups", later)

        raw = sqlite3.connect(older)
        counts = [raw.execute(f"SELECT count(*) FROM {name}").fetchone()[0] for name in ("infusion", "impression")]
        raw.close()
        assert counts == [1, 1]

    @pytest.mark.parametrize(
        "failure",
        ["raise RuntimeError('the migration fails')", "op.execute('INSERT INTO nowhere VALUES (1)')"],
    )
    def test_a_migration_that_fails_leaves_the_file_as_it_was(
        self, older: Path, later: Revisions, tmp_path: Path, clock: FakeClock, failure: str
    ) -> None:
        before = (_tables(older), older.read_bytes())
        _write_next(later, f"op.add_column('lot', sa.Column('sound', sa.Text()))\nop.drop_table('verdict')\n{failure}")

        with pytest.raises((RuntimeError, sqlite3.OperationalError)):
            upgrade(older, clock, tmp_path / "backups", later)

        assert (_tables(older), older.read_bytes()) == before
        journal = open_journal(older, clock)
        assert journal.read_only_because == ""
        assert journal.tasting("session-1").infusions == (infusion(1),)
        journal.close()

    def test_a_migration_that_would_leave_references_to_nothing_is_taken_back(
        self, older: Path, later: Revisions, tmp_path: Path, clock: FakeClock
    ) -> None:
        _write_next(later, "op.execute('DELETE FROM session')")

        with pytest.raises(JournalDamaged, match="refer to nothing"):
            upgrade(older, clock, tmp_path / "backups", later)

        assert _revision(older) == OURS.head
        journal = open_journal(older, clock)
        assert journal.last_session() == session()
        journal.close()

    def test_a_revision_that_is_not_there_is_named(self, older: Path, tmp_path: Path, clock: FakeClock) -> None:
        with pytest.raises(StoreError, match="0777"):
            upgrade(older, clock, tmp_path / "backups", Revisions((*OURS.known, "0777"), OURS.scripts))


class TestOpeningAnOlderJournal:
    """As a version with a further revision would open a journal of this one."""

    @pytest.fixture(autouse=True)
    def _a_harmless_migration(self, later: Revisions) -> None:
        _write_next(later, "op.execute('CREATE TABLE sound (uid TEXT PRIMARY KEY) STRICT')")

    def test_it_is_copied_upgraded_and_then_written(self, older: Path, later: Revisions, clock: FakeClock) -> None:
        journal = open_journal(older, clock, revisions=later)

        journal.commit(act("act-3", (None, infusion(2))))

        assert [one.index for one in journal.tasting("session-1").infusions] == [1, 2]
        journal.close()
        assert _revision(older) == "9999"
        (copy,) = (older.parent / "backups").iterdir()
        assert _revision(copy) == OURS.head

    def test_where_it_may_not_be_written_it_is_refused_with_the_way_out(
        self, shared_folder: Path, older: Path, later: Revisions, clock: FakeClock
    ) -> None:
        path = shared_folder / older.name
        shutil.copyfile(older, path)
        path.chmod(0o444)
        shared_folder.chmod(0o555)

        with as_a_user_without_rights(), pytest.raises(JournalReadOnly, match="open the copy"):
            open_journal(path, clock, revisions=later)

        assert _revision(path) == OURS.head
