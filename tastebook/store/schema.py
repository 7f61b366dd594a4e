"""What marks a file as a journal, and which of its revisions this version reads."""

from __future__ import annotations

from typing import Final

APPLICATION_ID: Final = 0x5473626B
"""`PRAGMA application_id` of every journal: the letters Tsbk."""

REVISIONS: Final = ("0001",)
"""Every revision of the tables, oldest first; the last one is written."""

HEAD: Final = REVISIONS[-1]

VERSION_TABLE: Final = "alembic_version"
