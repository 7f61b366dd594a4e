"""Making the tables, and bringing an older journal up to date.

Both happen in one explicit transaction: SQLite takes back tables as well as rows, but only if somebody began one.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from pathlib import Path
from typing import Final

from sqlalchemy import Connection

from tastebook.domain.errors import JournalDamaged, StoreError
from tastebook.services.ports import Clock
from tastebook.store.backup import STAMP, copy_to
from tastebook.store.engine import TO_WRITE, driver_errors, engine_over
from tastebook.store.rows import Row
from tastebook.store.schema import APPLICATION_ID, HEAD, VERSION_TABLE

SCRIPTS: Final = Path(__file__).parent / "migrations"


def make_tables(raw: sqlite3.Connection) -> None:
    """Make the tables of this version in an empty file, unless another window has just done so."""
    with driver_errors(), engine_over(raw).connect() as plain:
        connection = plain.execution_options(**TO_WRITE)
        with connection.begin():
            if connection.exec_driver_sql("SELECT count(*) FROM sqlite_master").scalar_one():
                return
            connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID}")
            Row.metadata.create_all(connection)
            mark_revision(connection, HEAD)


def mark_revision(connection: Connection, revision: str) -> None:
    """Write which revision the tables are, in the table that Alembic reads."""
    connection.exec_driver_sql(
        f"CREATE TABLE {VERSION_TABLE} (version_num VARCHAR(32) NOT NULL, "
        f"CONSTRAINT {VERSION_TABLE}_pkc PRIMARY KEY (version_num))"
    )
    connection.exec_driver_sql(f"INSERT INTO {VERSION_TABLE} VALUES (?)", (revision,))  # noqa: S608 - ours


def upgrade(path: Path, clock: Clock, backups: Path, scripts: Iterable[Path] = (), to: str = "head") -> Path:
    """Bring the journal at `path` up to date, and return the copy that was made before.

    Parameters
    ----------
    scripts : iterable of Path
        Folders with further revisions, beside those that ship.

    Raises
    ------
    StoreError
        If it could not be done; the file is as it was, and the copy beside it in `backups`.
    """
    raw = sqlite3.connect(path, isolation_level=None)
    copy = backups / f"{path.stem}-{clock.utc_now().strftime(STAMP)}{path.suffix}"
    try:
        copy_to(raw, copy)
        raw.execute("PRAGMA foreign_keys = OFF")
        _migrate(raw, path, copy, scripts, to)
    finally:
        raw.close()
    return copy


def _migrate(raw: sqlite3.Connection, path: Path, copy: Path, scripts: Iterable[Path], to: str) -> None:
    from alembic import command
    from alembic.config import Config
    from alembic.util import CommandError

    config = Config()
    config.set_main_option("script_location", _escaped(SCRIPTS))
    config.set_main_option("path_separator", "newline")
    config.set_main_option("version_locations", "\n".join(map(_escaped, (SCRIPTS / "versions", *scripts))))
    try:
        with driver_errors(), engine_over(raw).connect() as plain:
            connection = plain.execution_options(**TO_WRITE)
            with connection.begin():
                config.attributes["connection"] = connection
                command.upgrade(config, to)
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
