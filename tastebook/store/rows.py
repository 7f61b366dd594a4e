"""The tables of a journal as typed rows.

They are kept apart from the domain's frozen values: `mapping` says what lies where. Times are text in UTC that sorts by
time, decimals are text, flags are 0 or 1, a steep is whole milliseconds. A change here needs a migration beside it.

Foreign keys are checked when a transaction ends, so that an act may name its records in any order.
"""

from __future__ import annotations

from typing import Annotated, Final

from sqlalchemy import REAL, ForeignKey, Integer, LargeBinary, MetaData, Table, Text, UniqueConstraint
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

from tastebook.domain.lot import Lot
from tastebook.domain.session import (
    Impression,
    Infusion,
    KettleReading,
    OwnDescriptor,
    Photo,
    Reading,
    Record,
    Saying,
    Session,
    StepMark,
    Verdict,
)

NAMES: Final = {
    "ix": "ix_%(table_name)s_%(column_0_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s",
    "pk": "pk_%(table_name)s",
}

STRICT: Final = {"sqlite_strict": True}


def _to(column: str) -> ForeignKey:
    return ForeignKey(column, deferrable=True, initially="DEFERRED")


Uid = Annotated[str, mapped_column(primary_key=True)]
OfSession = Annotated[str, mapped_column(_to("session.uid"), index=True)]


class Row(DeclarativeBase):
    """What all rows share."""

    metadata = MetaData(naming_convention=NAMES)
    type_annotation_map = {str: Text(), int: Integer(), float: REAL(), bytes: LargeBinary()}  # noqa: RUF012 - SQLAlchemy reads it so


class LotRow(Row):
    """A lot; `processing` is JSON, a list of [name, hours]."""

    __tablename__ = "lot"
    __table_args__ = STRICT

    uid: Mapped[Uid]
    name: Mapped[str]
    created_at_utc: Mapped[str]
    kind: Mapped[str]
    cultivar: Mapped[str]
    cultivar_local: Mapped[str]
    country: Mapped[str]
    region: Mapped[str]
    garden: Mapped[str]
    altitude_m: Mapped[float | None]
    harvest_year: Mapped[int | None]
    season: Mapped[str]
    harvested_on: Mapped[str | None]
    plucking: Mapped[str]
    processing: Mapped[str]
    oxidation_pct: Mapped[float | None]
    roast_level: Mapped[str]
    roast_hours: Mapped[float | None]
    roast_on: Mapped[str | None]
    roast_fuel: Mapped[str]
    form: Mapped[str]
    scented_with: Mapped[str]
    supplier: Mapped[str]
    batch: Mapped[str]
    price_per_kg: Mapped[str | None]
    currency: Mapped[str]
    quantity_g: Mapped[float | None]
    follows: Mapped[str | None] = mapped_column(_to("lot.uid"))
    notes: Mapped[str]
    archived: Mapped[int]


class SessionRow(Row):
    """The frame of a tasting; `course` is JSON, the copy that the session took along."""

    __tablename__ = "session"
    __table_args__ = STRICT

    uid: Mapped[Uid]
    lot_uid: Mapped[str] = mapped_column(_to("lot.uid"), index=True)
    course: Mapped[str]
    started_at_utc: Mapped[str]
    utc_offset_min: Mapped[int]
    purpose: Mapped[str]
    taster: Mapped[str]
    vessel: Mapped[str]
    volume_ml: Mapped[float | None]
    leaf_g: Mapped[float | None]
    leaf_by_eye: Mapped[int]
    leaf_fill: Mapped[float | None]
    water_source: Mapped[str]
    water_tds_mg_l: Mapped[float | None]
    altitude_m: Mapped[float | None]
    pressure_hpa: Mapped[float | None]
    kettle: Mapped[str]
    vessel_warmed: Mapped[int]
    swallowed: Mapped[str]
    place: Mapped[str]
    light: Mapped[str]
    wind: Mapped[str]
    smells_nearby: Mapped[str]
    palate: Mapped[str]
    closed_at_utc: Mapped[str | None]


class InfusionRow(Row):
    """One infusion; a session has each number once."""

    __tablename__ = "infusion"
    __table_args__ = (UniqueConstraint("session_uid", "number"), STRICT)

    uid: Mapped[Uid]
    session_uid: Mapped[str] = mapped_column(_to("session.uid"))
    number: Mapped[int]
    planned_s: Mapped[int]
    water_c: Mapped[float | None]
    water_measured: Mapped[int]
    started_at_utc: Mapped[str | None]
    started_monotonic_s: Mapped[float | None]
    started_boot: Mapped[str | None]
    poured_at_utc: Mapped[str | None]
    poured_monotonic_s: Mapped[float | None]
    poured_boot: Mapped[str | None]
    actual_ms: Mapped[int | None]
    liquor_l: Mapped[float | None]
    liquor_a: Mapped[float | None]
    liquor_b: Mapped[float | None]
    liquor_source: Mapped[str | None]
    liquor_late: Mapped[int]
    clarity: Mapped[str]
    note: Mapped[str]


class SayingRow(Row):
    """The taster's exact words."""

    __tablename__ = "saying"
    __table_args__ = STRICT

    uid: Mapped[Uid]
    session_uid: Mapped[OfSession]
    step: Mapped[str]
    infusion: Mapped[int | None]
    text: Mapped[str]
    recorded_at_utc: Mapped[str]
    late: Mapped[int]


class ImpressionRow(Row):
    """What one sense gave."""

    __tablename__ = "impression"
    __table_args__ = STRICT

    uid: Mapped[Uid]
    session_uid: Mapped[OfSession]
    step: Mapped[str]
    infusion: Mapped[int | None]
    channel: Mapped[str]
    descriptor: Mapped[str] = mapped_column(index=True)
    word: Mapped[str]
    intensity: Mapped[int]
    recorded_at_utc: Mapped[str]
    late: Mapped[int]
    clouded: Mapped[int]
    doubtful: Mapped[int]
    saying_uid: Mapped[str | None] = mapped_column(_to("saying.uid"), index=True)


class ReadingRow(Row):
    """A position on a scale."""

    __tablename__ = "reading"
    __table_args__ = STRICT

    uid: Mapped[Uid]
    session_uid: Mapped[OfSession]
    step: Mapped[str]
    infusion: Mapped[int | None]
    scale: Mapped[str]
    value: Mapped[float]
    recorded_at_utc: Mapped[str]
    late: Mapped[int]
    clouded: Mapped[int]
    doubtful: Mapped[int]
    word: Mapped[str]


class StepMarkRow(Row):
    """A step passed over, or finished."""

    __tablename__ = "step_mark"
    __table_args__ = STRICT

    uid: Mapped[Uid]
    session_uid: Mapped[OfSession]
    step: Mapped[str]
    infusion: Mapped[int | None]
    mark: Mapped[str]
    recorded_at_utc: Mapped[str]


class KettleReadingRow(Row):
    """The kettle at one moment."""

    __tablename__ = "kettle_reading"
    __table_args__ = STRICT

    uid: Mapped[Uid]
    session_uid: Mapped[OfSession]
    read_at_utc: Mapped[str]
    read_monotonic_s: Mapped[float]
    read_boot: Mapped[str]
    temp_c: Mapped[float]
    boiled: Mapped[int]


class PictureRow(Row):
    """A picture as it came, under its digest.

    It is added before the act that refers to it, and stays: what was taken away can be brought back.
    """

    __tablename__ = "picture"
    __table_args__ = STRICT

    digest: Mapped[str] = mapped_column(primary_key=True)
    content: Mapped[bytes]


class PhotoRow(Row):
    """A photograph at a step; `white_at` and `liquor_at` are JSON, a list of two shares or an empty one."""

    __tablename__ = "photo"
    __table_args__ = STRICT

    uid: Mapped[Uid]
    session_uid: Mapped[OfSession]
    step: Mapped[str]
    infusion: Mapped[int | None]
    picture: Mapped[str] = mapped_column(_to("picture.digest"))
    media_type: Mapped[str]
    recorded_at_utc: Mapped[str]
    caption: Mapped[str]
    white_at: Mapped[str]
    liquor_at: Mapped[str]
    spread_e00: Mapped[float | None]


class VerdictRow(Row):
    """What a tasting came to; a session has one at most."""

    __tablename__ = "verdict"
    __table_args__ = (UniqueConstraint("session_uid"), STRICT)

    uid: Mapped[Uid]
    session_uid: Mapped[str] = mapped_column(_to("session.uid"))
    decision: Mapped[str]
    rest_until: Mapped[str | None]
    quantity_kg: Mapped[float | None]
    headline: Mapped[str]
    strengths: Mapped[str]
    faults: Mapped[str]
    note: Mapped[str]
    good_infusions: Mapped[int | None]
    season: Mapped[str]
    cold_brew: Mapped[str]
    brewing_guide: Mapped[str]
    next_time: Mapped[str]


class OwnDescriptorRow(Row):
    """A word of the user's own; `synonyms` is JSON, a list of words."""

    __tablename__ = "own_descriptor"
    __table_args__ = STRICT

    uid: Mapped[Uid]
    name: Mapped[str]
    family: Mapped[str]
    created_at_utc: Mapped[str]
    key: Mapped[str]
    synonyms: Mapped[str]
    zh: Mapped[str]
    pinyin: Mapped[str]
    about: Mapped[str]
    merged_into: Mapped[str]
    is_talk: Mapped[int]


class ActRow(Row):
    """One act, kept for ever; `number` is its place in the order of acts, `changes` is JSON."""

    __tablename__ = "act"
    __table_args__ = (UniqueConstraint("uid"), STRICT)

    number: Mapped[int] = mapped_column(primary_key=True)
    uid: Mapped[str]
    scope: Mapped[str] = mapped_column(index=True)
    label: Mapped[str]
    at_utc: Mapped[str]
    kind: Mapped[str]
    concerns: Mapped[str | None]
    changes: Mapped[str]


ROWS: Final[dict[type[Record], type[Row]]] = {
    Lot: LotRow,
    Session: SessionRow,
    Infusion: InfusionRow,
    Saying: SayingRow,
    Impression: ImpressionRow,
    Reading: ReadingRow,
    StepMark: StepMarkRow,
    KettleReading: KettleReadingRow,
    Photo: PhotoRow,
    Verdict: VerdictRow,
    OwnDescriptor: OwnDescriptorRow,
}


def table_of(row: type[Row]) -> Table:
    """Return the table that a row declares."""
    table = row.__table__
    assert isinstance(table, Table), f"{row.__name__} declares no table."
    return table
