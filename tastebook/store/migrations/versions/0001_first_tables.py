"""The first tables.

Revision 0001, 2026-11
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make every table."""
    op.create_table(
        "act",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("uid", sa.Text(), nullable=False),
        sa.Column("scope", sa.Text(), nullable=False),
        sa.Column("label", sa.Text(), nullable=False),
        sa.Column("at_utc", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("concerns", sa.Text(), nullable=True),
        sa.Column("changes", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_act")),
        sa.UniqueConstraint("uid", name=op.f("uq_act_uid")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_act_scope"), "act", ["scope"], unique=False)
    op.create_table(
        "lot",
        sa.Column("uid", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("created_at_utc", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("cultivar", sa.Text(), nullable=False),
        sa.Column("cultivar_local", sa.Text(), nullable=False),
        sa.Column("country", sa.Text(), nullable=False),
        sa.Column("region", sa.Text(), nullable=False),
        sa.Column("garden", sa.Text(), nullable=False),
        sa.Column("altitude_m", sa.REAL(), nullable=True),
        sa.Column("harvest_year", sa.Integer(), nullable=True),
        sa.Column("season", sa.Text(), nullable=False),
        sa.Column("harvested_on", sa.Text(), nullable=True),
        sa.Column("plucking", sa.Text(), nullable=False),
        sa.Column("processing", sa.Text(), nullable=False),
        sa.Column("oxidation_pct", sa.REAL(), nullable=True),
        sa.Column("roast_level", sa.Text(), nullable=False),
        sa.Column("roast_hours", sa.REAL(), nullable=True),
        sa.Column("roast_on", sa.Text(), nullable=True),
        sa.Column("roast_fuel", sa.Text(), nullable=False),
        sa.Column("form", sa.Text(), nullable=False),
        sa.Column("scented_with", sa.Text(), nullable=False),
        sa.Column("supplier", sa.Text(), nullable=False),
        sa.Column("batch", sa.Text(), nullable=False),
        sa.Column("price_per_kg", sa.Text(), nullable=True),
        sa.Column("currency", sa.Text(), nullable=False),
        sa.Column("quantity_g", sa.REAL(), nullable=True),
        sa.Column("follows", sa.Text(), nullable=True),
        sa.Column("notes", sa.Text(), nullable=False),
        sa.Column("archived", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["follows"], ["lot.uid"], name=op.f("fk_lot_follows"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("uid", name=op.f("pk_lot")),
        sqlite_strict=True,
    )
    op.create_table(
        "own_descriptor",
        sa.Column("uid", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("family", sa.Text(), nullable=False),
        sa.Column("created_at_utc", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("uid", name=op.f("pk_own_descriptor")),
        sqlite_strict=True,
    )
    op.create_table(
        "session",
        sa.Column("uid", sa.Text(), nullable=False),
        sa.Column("lot_uid", sa.Text(), nullable=False),
        sa.Column("course", sa.Text(), nullable=False),
        sa.Column("started_at_utc", sa.Text(), nullable=False),
        sa.Column("utc_offset_min", sa.Integer(), nullable=False),
        sa.Column("purpose", sa.Text(), nullable=False),
        sa.Column("taster", sa.Text(), nullable=False),
        sa.Column("vessel", sa.Text(), nullable=False),
        sa.Column("volume_ml", sa.REAL(), nullable=True),
        sa.Column("leaf_g", sa.REAL(), nullable=True),
        sa.Column("leaf_by_eye", sa.Integer(), nullable=False),
        sa.Column("leaf_fill", sa.REAL(), nullable=True),
        sa.Column("water_source", sa.Text(), nullable=False),
        sa.Column("water_tds_mg_l", sa.REAL(), nullable=True),
        sa.Column("altitude_m", sa.REAL(), nullable=True),
        sa.Column("pressure_hpa", sa.REAL(), nullable=True),
        sa.Column("kettle", sa.Text(), nullable=False),
        sa.Column("vessel_warmed", sa.Integer(), nullable=False),
        sa.Column("swallowed", sa.Text(), nullable=False),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("light", sa.Text(), nullable=False),
        sa.Column("wind", sa.Text(), nullable=False),
        sa.Column("smells_nearby", sa.Text(), nullable=False),
        sa.Column("palate", sa.Text(), nullable=False),
        sa.Column("closed_at_utc", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["lot_uid"], ["lot.uid"], name=op.f("fk_session_lot_uid"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("uid", name=op.f("pk_session")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_session_lot_uid"), "session", ["lot_uid"], unique=False)
    op.create_table(
        "infusion",
        sa.Column("uid", sa.Text(), nullable=False),
        sa.Column("session_uid", sa.Text(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("planned_s", sa.Integer(), nullable=False),
        sa.Column("water_c", sa.REAL(), nullable=True),
        sa.Column("water_measured", sa.Integer(), nullable=False),
        sa.Column("started_at_utc", sa.Text(), nullable=True),
        sa.Column("started_monotonic_s", sa.REAL(), nullable=True),
        sa.Column("started_boot", sa.Text(), nullable=True),
        sa.Column("poured_at_utc", sa.Text(), nullable=True),
        sa.Column("poured_monotonic_s", sa.REAL(), nullable=True),
        sa.Column("poured_boot", sa.Text(), nullable=True),
        sa.Column("actual_ms", sa.Integer(), nullable=True),
        sa.Column("liquor_l", sa.REAL(), nullable=True),
        sa.Column("liquor_a", sa.REAL(), nullable=True),
        sa.Column("liquor_b", sa.REAL(), nullable=True),
        sa.Column("liquor_source", sa.Text(), nullable=True),
        sa.Column("liquor_late", sa.Integer(), nullable=False),
        sa.Column("clarity", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["session_uid"],
            ["session.uid"],
            name=op.f("fk_infusion_session_uid"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("uid", name=op.f("pk_infusion")),
        sa.UniqueConstraint("session_uid", "number", name=op.f("uq_infusion_session_uid_number")),
        sqlite_strict=True,
    )
    op.create_table(
        "reading",
        sa.Column("uid", sa.Text(), nullable=False),
        sa.Column("session_uid", sa.Text(), nullable=False),
        sa.Column("step", sa.Text(), nullable=False),
        sa.Column("infusion", sa.Integer(), nullable=True),
        sa.Column("scale", sa.Text(), nullable=False),
        sa.Column("value", sa.REAL(), nullable=False),
        sa.Column("recorded_at_utc", sa.Text(), nullable=False),
        sa.Column("late", sa.Integer(), nullable=False),
        sa.Column("clouded", sa.Integer(), nullable=False),
        sa.Column("doubtful", sa.Integer(), nullable=False),
        sa.Column("word", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["session_uid"], ["session.uid"], name=op.f("fk_reading_session_uid"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("uid", name=op.f("pk_reading")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_reading_session_uid"), "reading", ["session_uid"], unique=False)
    op.create_table(
        "saying",
        sa.Column("uid", sa.Text(), nullable=False),
        sa.Column("session_uid", sa.Text(), nullable=False),
        sa.Column("step", sa.Text(), nullable=False),
        sa.Column("infusion", sa.Integer(), nullable=True),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("recorded_at_utc", sa.Text(), nullable=False),
        sa.Column("late", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["session_uid"], ["session.uid"], name=op.f("fk_saying_session_uid"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("uid", name=op.f("pk_saying")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_saying_session_uid"), "saying", ["session_uid"], unique=False)
    op.create_table(
        "step_mark",
        sa.Column("uid", sa.Text(), nullable=False),
        sa.Column("session_uid", sa.Text(), nullable=False),
        sa.Column("step", sa.Text(), nullable=False),
        sa.Column("infusion", sa.Integer(), nullable=True),
        sa.Column("mark", sa.Text(), nullable=False),
        sa.Column("recorded_at_utc", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["session_uid"],
            ["session.uid"],
            name=op.f("fk_step_mark_session_uid"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("uid", name=op.f("pk_step_mark")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_step_mark_session_uid"), "step_mark", ["session_uid"], unique=False)
    op.create_table(
        "kettle_reading",
        sa.Column("uid", sa.Text(), nullable=False),
        sa.Column("session_uid", sa.Text(), nullable=False),
        sa.Column("read_at_utc", sa.Text(), nullable=False),
        sa.Column("read_monotonic_s", sa.REAL(), nullable=False),
        sa.Column("read_boot", sa.Text(), nullable=False),
        sa.Column("temp_c", sa.REAL(), nullable=False),
        sa.Column("boiled", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["session_uid"],
            ["session.uid"],
            name=op.f("fk_kettle_reading_session_uid"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("uid", name=op.f("pk_kettle_reading")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_kettle_reading_session_uid"), "kettle_reading", ["session_uid"], unique=False)
    op.create_table(
        "verdict",
        sa.Column("uid", sa.Text(), nullable=False),
        sa.Column("session_uid", sa.Text(), nullable=False),
        sa.Column("decision", sa.Text(), nullable=False),
        sa.Column("rest_until", sa.Text(), nullable=True),
        sa.Column("quantity_kg", sa.REAL(), nullable=True),
        sa.Column("headline", sa.Text(), nullable=False),
        sa.Column("strengths", sa.Text(), nullable=False),
        sa.Column("faults", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("good_infusions", sa.Integer(), nullable=True),
        sa.Column("season", sa.Text(), nullable=False),
        sa.Column("cold_brew", sa.Text(), nullable=False),
        sa.Column("brewing_guide", sa.Text(), nullable=False),
        sa.Column("next_time", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["session_uid"], ["session.uid"], name=op.f("fk_verdict_session_uid"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("uid", name=op.f("pk_verdict")),
        sa.UniqueConstraint("session_uid", name=op.f("uq_verdict_session_uid")),
        sqlite_strict=True,
    )
    op.create_table(
        "impression",
        sa.Column("uid", sa.Text(), nullable=False),
        sa.Column("session_uid", sa.Text(), nullable=False),
        sa.Column("step", sa.Text(), nullable=False),
        sa.Column("infusion", sa.Integer(), nullable=True),
        sa.Column("channel", sa.Text(), nullable=False),
        sa.Column("descriptor", sa.Text(), nullable=False),
        sa.Column("word", sa.Text(), nullable=False),
        sa.Column("intensity", sa.Integer(), nullable=False),
        sa.Column("recorded_at_utc", sa.Text(), nullable=False),
        sa.Column("late", sa.Integer(), nullable=False),
        sa.Column("clouded", sa.Integer(), nullable=False),
        sa.Column("doubtful", sa.Integer(), nullable=False),
        sa.Column("saying_uid", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["session_uid"],
            ["session.uid"],
            name=op.f("fk_impression_session_uid"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.ForeignKeyConstraint(
            ["saying_uid"], ["saying.uid"], name=op.f("fk_impression_saying_uid"), initially="DEFERRED", deferrable=True
        ),
        sa.PrimaryKeyConstraint("uid", name=op.f("pk_impression")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_impression_saying_uid"), "impression", ["saying_uid"], unique=False)
    op.create_index(op.f("ix_impression_session_uid"), "impression", ["session_uid"], unique=False)
