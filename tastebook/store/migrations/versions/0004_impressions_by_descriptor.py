"""Impressions by descriptor: how often a word is noted, and where last, is asked for every word that is looked at.

Revision 0004, 2026-11
"""

from __future__ import annotations

from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the index."""
    op.create_index(op.f("ix_impression_descriptor"), "impression", ["descriptor"], unique=False)
