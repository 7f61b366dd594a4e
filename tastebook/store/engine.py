"""SQLAlchemy over a connection that somebody else opened, with every transaction begun explicitly."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.exc import DBAPIError
from sqlalchemy.pool import StaticPool

BEGINS: Final = "begins"
"""The execution option that says how a transaction begins, `BEGIN` by default."""

TO_WRITE: Final = {BEGINS: "BEGIN IMMEDIATE"}
"""Takes the write lock at once: no other window can change a record between our looking at it and writing it."""


def engine_over(raw: sqlite3.Connection) -> Engine:
    """Return an engine whose only connection is `raw`, which must have no implicit transactions."""
    engine = create_engine("sqlite://", creator=lambda: raw, poolclass=StaticPool)
    event.listen(engine, "begin", _begin)
    return engine


@contextmanager
def driver_errors() -> Iterator[None]:
    """Hand on the driver's own error, which carries SQLite's code."""
    try:
        yield
    except DBAPIError as exc:
        raise exc.orig or exc from exc


def _begin(connection: Connection) -> None:
    connection.exec_driver_sql(connection.get_execution_options().get(BEGINS, "BEGIN"))
