"""Photographs and their pictures; words that ship can be changed, and words taken in by others.

Revision 0002, 2026-11
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables of photographs, and write the words of one's own into a wider table."""
    _make_photographs()
    _widen_own_words()


def _make_photographs() -> None:
    op.create_table(
        "picture",
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("digest", name=op.f("pk_picture")),
        sqlite_strict=True,
    )
    op.create_table(
        "photo",
        sa.Column("uid", sa.Text(), nullable=False),
        sa.Column("session_uid", sa.Text(), nullable=False),
        sa.Column("step", sa.Text(), nullable=False),
        sa.Column("infusion", sa.Integer(), nullable=True),
        sa.Column("picture", sa.Text(), nullable=False),
        sa.Column("media_type", sa.Text(), nullable=False),
        sa.Column("recorded_at_utc", sa.Text(), nullable=False),
        sa.Column("caption", sa.Text(), nullable=False),
        sa.Column("white_at", sa.Text(), nullable=False),
        sa.Column("liquor_at", sa.Text(), nullable=False),
        sa.Column("spread_e00", sa.REAL(), nullable=True),
        sa.ForeignKeyConstraint(
            ["session_uid"], ["session.uid"], name=op.f("fk_photo_session_uid"), initially="DEFERRED", deferrable=True
        ),
        sa.ForeignKeyConstraint(
            ["picture"], ["picture.digest"], name=op.f("fk_photo_picture"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("uid", name=op.f("pk_photo")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_photo_session_uid"), "photo", ["session_uid"], unique=False)


def _widen_own_words() -> None:
    """Write the words anew: SQLite adds a column that must not be empty only together with a default."""
    op.rename_table("own_descriptor", "own_descriptor_0001")
    op.create_table(
        "own_descriptor",
        sa.Column("uid", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("family", sa.Text(), nullable=False),
        sa.Column("created_at_utc", sa.Text(), nullable=False),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("synonyms", sa.Text(), nullable=False),
        sa.Column("zh", sa.Text(), nullable=False),
        sa.Column("pinyin", sa.Text(), nullable=False),
        sa.Column("about", sa.Text(), nullable=False),
        sa.Column("merged_into", sa.Text(), nullable=False),
        sa.Column("is_talk", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("uid", name=op.f("pk_own_descriptor")),
        sqlite_strict=True,
    )
    op.execute(
        "INSERT INTO own_descriptor "
        "SELECT uid, name, family, created_at_utc, '', '[]', '', '', '', '', 0 FROM own_descriptor_0001"
    )
    op.drop_table("own_descriptor_0001")
