"""Making the tables, and bringing an older journal up to date.

Both happen in one explicit transaction: SQLite takes back tables as well as rows, but only if somebody began one.
"""

from __future__ import annotations

import sqlite3
from pathlib import Path

from sqlalchemy import Connection

from tastebook.domain.errors import JournalDamaged, StoreError
from tastebook.services.ports import Clock
from tastebook.store import finding_tables
from tastebook.store.backup import STAMP, copy_to
from tastebook.store.engine import TO_WRITE, driver_errors, engine_over
from tastebook.store.rows import Row
from tastebook.store.schema import APPLICATION_ID, MIGRATIONS, OURS, VERSION_TABLE, Revisions


def make_tables(raw: sqlite3.Connection) -> None:
    """Make the tables of this version in an empty file, unless another window has just done so."""
    with driver_errors(), engine_over(raw).connect() as plain:
        connection = plain.execution_options(**TO_WRITE)
        with connection.begin():
            if connection.exec_driver_sql("SELECT count(*) FROM sqlite_master").scalar_one():
                return
            connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID}")
            Row.metadata.create_all(connection)
            finding_tables.make(connection.exec_driver_sql)
            mark_revision(connection, OURS.head)


def mark_revision(connection: Connection, revision: str) -> None:
    """Write which revision the tables are, in the table that Alembic reads."""
    connection.exec_driver_sql(
        f"CREATE TABLE {VERSION_TABLE} (version_num VARCHAR(32) NOT NULL, "
        f"CONSTRAINT {VERSION_TABLE}_pkc PRIMARY KEY (version_num))"
    )
    connection.exec_driver_sql(f"INSERT INTO {VERSION_TABLE} VALUES (?)", (revision,))  # noqa: S608 - ours


def upgrade(path: Path, clock: Clock, backups: Path, revisions: Revisions = OURS) -> Path:
    """Bring the journal at `path` up to date, and return the copy that was made before.

    Raises
    ------
    StoreError
        If it could not be done; the file is as it was, and the copy of it is in `backups`.
    """
    raw = sqlite3.connect(path, isolation_level=None)
    copy = backups / f"{path.stem}-{clock.utc_now().strftime(STAMP)}{path.suffix}"
    try:
        copy_to(raw, copy)
        # Making a table anew drops the old one, which would take along the rows that refer to it.
        raw.execute("PRAGMA foreign_keys = OFF")
        _migrate(raw, path, copy, revisions)
    finally:
        raw.close()
    return copy


def _migrate(raw: sqlite3.Connection, path: Path, copy: Path, revisions: Revisions) -> None:
    # Loading Alembic takes longer than opening a window: only an older journal pays for it.
    from alembic import command
    from alembic.config import Config
    from alembic.util import CommandError

    config = Config()
    config.set_main_option("script_location", _escaped(MIGRATIONS))
    config.set_main_option("path_separator", "newline")
    config.set_main_option("version_locations", "\n".join(map(_escaped, revisions.scripts)))
    try:
        with driver_errors(), engine_over(raw).connect() as plain:
            connection = plain.execution_options(**TO_WRITE)
            with connection.begin():
                config.attributes["connection"] = connection
                command.upgrade(config, revisions.head)
                _check_references(connection, path, copy)
    except CommandError as exc:
        raise StoreError(f"{path} could not be brought up to date: {exc}. It is as it was.") from exc


def _check_references(connection: Connection, path: Path, copy: Path) -> None:
    broken = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
    if broken:
        raise JournalDamaged(
            f"{path} could not be brought up to date: {len(broken)} rows would refer to nothing (first in "
            f"{broken[0][0]}). It is as it was; a copy is at {copy}."
        )


def _escaped(folder: Path) -> str:
    return str(folder).replace("%", "%%")
