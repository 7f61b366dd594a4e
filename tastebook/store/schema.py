"""What marks a file as a journal, and which of its revisions this version reads."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Final

APPLICATION_ID: Final = 0x5473626B
"""`PRAGMA application_id` of every journal: the letters Tsbk."""

VERSION_TABLE: Final = "alembic_version"

MIGRATIONS: Final = Path(__file__).parent / "migrations"


@dataclass(frozen=True)
class Revisions:
    """The revisions of the tables, oldest first, and the folders of the scripts that lead from one to the next."""

    known: tuple[str, ...]
    scripts: tuple[Path, ...]

    @property
    def head(self) -> str:
        """Return the revision that is written."""
        return self.known[-1]


OURS: Final = Revisions(("0001", "0002", "0003", "0004"), (MIGRATIONS / "versions",))
