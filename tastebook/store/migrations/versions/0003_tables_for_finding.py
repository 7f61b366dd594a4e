"""Tables for finding. They are derived from the records, and filled when the journal is next opened.

From here on, whoever keeps an act keeps them up to date: an earlier Tastebook, which would not, opens the journal for
reading only.

Revision 0003, 2026-11
"""

from __future__ import annotations

from alembic import op

from tastebook.store import finding_tables

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables, empty."""
    finding_tables.make(op.get_bind().exec_driver_sql, is_filled=False)
