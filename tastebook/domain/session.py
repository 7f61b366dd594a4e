"""One tasting as it is kept: the session, its infusions, what was said, what was perceived, what was decided.

Every record is a frozen value with a `uid`. What belongs together is gathered in `Tasting`, which answers questions and
never changes: an act makes a new one (`Tasting.after`).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime
from hashlib import sha256
from typing import Any, Final, Literal, TypeAlias, get_args

from tastebook.domain.course import Course
from tastebook.domain.lot import Lot
from tastebook.domain.steep import Instant

Lab: TypeAlias = tuple[float, float, float]
"""CIELAB under D65: L*, a*, b*."""

PURPOSES: Final = ("at origin", "on arrival", "retaste")
CLARITIES: Final = ("brilliant", "clear", "dim", "turbid")
"""Clarity of the liquor, best first, in the terms of GB/T 14487 (brilliant, clear, dim, turbid)."""

DECISIONS: Final = ("buy", "rest until", "decline")

Swallowed: TypeAlias = Literal["spat", "sipped", "drunk"]
SWALLOWED: Final[tuple[Swallowed, ...]] = get_args(Swallowed)
"""How much of what was tasted goes down."""

LiquorSource: TypeAlias = Literal["chart", "adjusted", "photo"]


@dataclass(frozen=True)
class Conditions:
    """What surrounded the taster, so that the field is not taken for the tea."""

    place: str = ""
    light: str = ""
    wind: str = ""
    smells_nearby: str = ""
    palate: str = ""

    @property
    def told(self) -> str:
        """Return what is known in one line."""
        smells = f"smells nearby: {self.smells_nearby}" if self.smells_nearby else ""
        return ", ".join(part for part in (self.place, self.light, self.wind, smells, self.palate) if part)


@dataclass(frozen=True)
class Session:
    """The frame of one tasting.

    `course` is a copy: a session stays readable when the course file changes. `leaf_by_eye` says that `leaf_g` was
    estimated from `leaf_fill`, the share of the vessel that the dry leaf filled (0 to 1). A barometer's `pressure_hpa`
    says more of the boil than `altitude_m`. `kettle` is what the taster calls it, so that its cooling can be learned.
    """

    uid: str
    lot_uid: str
    course: Course
    started_at_utc: datetime
    utc_offset_min: int = 0
    purpose: str = ""
    taster: str = ""
    vessel: str = "gaiwan"
    volume_ml: float | None = None
    leaf_g: float | None = None
    leaf_by_eye: bool = False
    leaf_fill: float | None = None
    water_source: str = ""
    water_tds_mg_l: float | None = None
    altitude_m: float | None = None
    pressure_hpa: float | None = None
    kettle: str = ""
    vessel_warmed: bool = False
    swallowed: Swallowed = "sipped"
    conditions: Conditions = Conditions()
    closed_at_utc: datetime | None = None

    @property
    def is_open(self) -> bool:
        """Say whether tasting goes on."""
        return self.closed_at_utc is None


@dataclass(frozen=True)
class Infusion:
    """One infusion; index 0 is the rinse.

    `actual_ms` is the time in water to the millisecond, None until poured. Both instants stay as evidence.
    """

    uid: str
    session_uid: str
    index: int
    planned_s: int
    water_c: float | None = None
    water_measured: bool = False
    started: Instant | None = None
    poured: Instant | None = None
    actual_ms: int | None = None
    liquor: Lab | None = None
    liquor_source: LiquorSource | None = None
    liquor_late: bool = False
    clarity: str = ""
    note: str = ""

    @property
    def is_steeping(self) -> bool:
        """Say whether the leaf is in water now."""
        return self.started is not None and self.actual_ms is None

    @property
    def is_poured(self) -> bool:
        """Say whether the liquor has been poured off."""
        return self.actual_ms is not None


@dataclass(frozen=True)
class Saying:
    """The exact words of the taster at one step, kept for ever."""

    uid: str
    session_uid: str
    step: str
    infusion: int | None
    text: str
    recorded_at_utc: datetime
    late: bool = False


@dataclass(frozen=True)
class Impression:
    """What one sense gave at one step.

    `intensity` runs from 1 (trace) to 5 (dominant); 0 says that the descriptor was looked for and is absent.
    `descriptor` is a key of the vocabulary, `word` is what the taster said.
    """

    uid: str
    session_uid: str
    step: str
    infusion: int | None
    channel: str
    descriptor: str
    word: str
    intensity: int
    recorded_at_utc: datetime
    late: bool = False
    clouded: bool = False
    doubtful: bool = False
    saying_uid: str | None = None


@dataclass(frozen=True)
class Reading:
    """A position on one scale at one step: 0 to 5, or seconds for scales that are timed."""

    uid: str
    session_uid: str
    step: str
    infusion: int | None
    scale: str
    value: float
    recorded_at_utc: datetime
    late: bool = False
    clouded: bool = False
    doubtful: bool = False
    word: str = ""


@dataclass(frozen=True)
class StepMark:
    """That the taster passed a step over on purpose, or finished it with nothing to say."""

    uid: str
    session_uid: str
    step: str
    infusion: int | None
    mark: Literal["skipped", "done"]
    recorded_at_utc: datetime


@dataclass(frozen=True)
class KettleReading:
    """The kettle at one moment: that it boiled, or what a thermometer said, in °C."""

    uid: str
    session_uid: str
    at: Instant
    temp_c: float
    boiled: bool = False


@dataclass(frozen=True)
class Verdict:
    """What the tasting came to."""

    uid: str
    session_uid: str
    decision: str = ""
    rest_until: date | None = None
    quantity_kg: float | None = None
    headline: str = ""
    strengths: str = ""
    faults: str = ""
    note: str = ""
    good_infusions: int | None = None
    season: str = ""
    cold_brew: str = ""
    brewing_guide: str = ""
    next_time: str = ""


@dataclass(frozen=True)
class Photo:
    """A photograph of the cup or the leaf, taken at one step.

    Parameters
    ----------
    picture : str
        The digest under which the journal keeps the picture itself, as it came: SHA-256 of its bytes, in hex.
    media_type : str
        What it is, such as `image/jpeg`.
    white_at, liquor_at : tuple of float
        Where the white porcelain and the liquor were tapped, as shares of width and height once upright (0 to 1); empty
        if they were not.
    spread_e00 : float or None
        How much the liquor varies around its colour within the patch, as ΔE00.
    """

    uid: str
    session_uid: str
    step: str
    infusion: int | None
    picture: str
    media_type: str
    recorded_at_utc: datetime
    caption: str = ""
    white_at: tuple[float, ...] = ()
    liquor_at: tuple[float, ...] = ()
    spread_e00: float | None = None


def picture_digest(content: bytes) -> str:
    """Return the name under which a picture is kept: SHA-256 of its bytes, in hex."""
    return sha256(content).hexdigest()


@dataclass(frozen=True)
class OwnDescriptor:
    """A word of the user's own, or what they changed about one that ships.

    Parameters
    ----------
    name : str
        What it is called now.
    family : str
        Empty while it has none.
    key : str
        Stable key of the descriptor, under which impressions are kept whatever it is called; empty for the slug of its
        name. The key of a word that ships says that this one is changed.
    synonyms : tuple of str
        What else it is called: former names, and those of words that it took in.
    merged_into : str
        Key of the descriptor that took it in; empty while it stands for itself.
    is_talk : bool
        Whether the taster said that it is no tasting word: it is kept in what they said, and not offered again.
    """

    uid: str
    name: str
    family: str
    created_at_utc: datetime
    key: str = ""
    synonyms: tuple[str, ...] = ()
    zh: str = ""
    pinyin: str = ""
    about: str = ""
    merged_into: str = ""
    is_talk: bool = False


Record: TypeAlias = (
    Lot
    | Session
    | Infusion
    | Saying
    | Impression
    | Reading
    | StepMark
    | KettleReading
    | Photo
    | Verdict
    | OwnDescriptor
)

PART_FIELDS: Final = {
    Infusion: "infusions",
    Saying: "sayings",
    Impression: "impressions",
    Reading: "readings",
    StepMark: "marks",
    KettleReading: "kettle_readings",
    Photo: "photos",
}


@dataclass(frozen=True)
class Tasting:
    """A lot being tasted, or having been tasted, once: everything the Bench and the Arc are drawn from."""

    lot: Lot
    session: Session
    infusions: tuple[Infusion, ...] = ()
    sayings: tuple[Saying, ...] = ()
    impressions: tuple[Impression, ...] = ()
    readings: tuple[Reading, ...] = ()
    marks: tuple[StepMark, ...] = ()
    kettle_readings: tuple[KettleReading, ...] = ()
    photos: tuple[Photo, ...] = ()
    verdict: Verdict | None = None

    def after(self, changes: Iterable[tuple[Record | None, Record | None]]) -> Tasting:
        """Return this tasting with each (before, after) pair carried out; records of other tastings are passed over."""
        tasting = self
        for before, after in changes:
            tasting = tasting._with(before, after)
        return tasting

    def _with(self, before: Record | None, after: Record | None) -> Tasting:
        record = after or before
        if isinstance(after, Lot):
            return replace(self, lot=after) if after.uid == self.lot.uid else self
        if isinstance(after, Session):
            return replace(self, session=after) if after.uid == self.session.uid else self
        if record is None or isinstance(record, (Lot, Session, OwnDescriptor)):
            return self
        if record.session_uid != self.session.uid:
            return self
        if isinstance(record, Verdict):
            return replace(self, verdict=after if isinstance(after, Verdict) else None)
        name = PART_FIELDS[type(record)]
        kept = [part for part in getattr(self, name) if part.uid != record.uid]
        if after is not None:
            kept.append(after)
        parts: dict[str, Any] = {name: tuple(sorted(kept, key=_order))}
        return replace(self, **parts)

    def infusion(self, index: int) -> Infusion | None:
        """Return the infusion at `index`, if it was begun or planned."""
        return next((one for one in self.infusions if one.index == index), None)

    @property
    def steeping(self) -> Infusion | None:
        """Return the infusion whose leaf is in water now."""
        return next((one for one in self.infusions if one.is_steeping), None)

    @property
    def last_poured(self) -> Infusion | None:
        """Return the infusion poured last."""
        return next((one for one in reversed(self.infusions) if one.is_poured), None)

    def impressions_at(self, step: str, infusion: int | None) -> tuple[Impression, ...]:
        """Return the impressions of one step in one column."""
        return tuple(one for one in self.impressions if (one.step, one.infusion) == (step, infusion))

    def readings_at(self, step: str, infusion: int | None) -> tuple[Reading, ...]:
        """Return the readings of one step in one column."""
        return tuple(one for one in self.readings if (one.step, one.infusion) == (step, infusion))

    def sayings_at(self, step: str, infusion: int | None) -> tuple[Saying, ...]:
        """Return the sayings of one step in one column."""
        return tuple(one for one in self.sayings if (one.step, one.infusion) == (step, infusion))

    def photos_at(self, step: str, infusion: int | None) -> tuple[Photo, ...]:
        """Return the photographs of one step in one column."""
        return tuple(one for one in self.photos if (one.step, one.infusion) == (step, infusion))

    def mark_at(self, step: str, infusion: int | None) -> StepMark | None:
        """Return how the taster marked a step in one column."""
        return next((one for one in self.marks if (one.step, one.infusion) == (step, infusion)), None)


def _order(record: Infusion | Saying | Impression | Reading | StepMark | KettleReading | Photo) -> tuple[object, ...]:
    if isinstance(record, Infusion):
        return (record.index,)
    if isinstance(record, KettleReading):
        return (record.at.utc, record.uid)
    return (record.recorded_at_utc, record.uid)
