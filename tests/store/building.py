"""Records for tests of the store: a few made by hand, and hypothesis strategies for any."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any, Final

from hypothesis import strategies as st

from tastebook.domain.act import Act, ActKind, Change
from tastebook.domain.course import Course, Plan, Step, Vessel
from tastebook.domain.lot import Lot, ProcessingStep, Roast
from tastebook.domain.session import (
    Conditions,
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
    Tasting,
    Verdict,
    picture_digest,
)
from tastebook.domain.steep import Instant
from tests.fakes import MORNING_UTC

COURSE = Course(
    key="two cups",
    name="Two cups",
    about="A short course for tests.",
    source="Invented.",
    steps=(
        Step("dry leaf", "Dry leaf", "leaf", "aroma", "dry leaf", "What does the dry leaf smell of?"),
        Step("flavour", "Flavour", "infusion", "aroma", "palate", "And now?", until="next water", late_after_s=90),
    ),
    plans=(Plan(rinse_s=5, infusions_s=(20, 25), then_add_s=10, water_c=95.0),),
)


def lot(uid: str = "lot-1", **fields: Any) -> Lot:
    """Return a lot."""
    return Lot(uid=uid, **{"name": "Spring lot", "created_at_utc": MORNING_UTC, **fields})


def session(uid: str = "session-1", lot_uid: str = "lot-1", **fields: Any) -> Session:
    """Return a session begun in the morning."""
    return Session(uid=uid, lot_uid=lot_uid, course=COURSE, **{"started_at_utc": MORNING_UTC, **fields})


def infusion(index: int = 1, session_uid: str = "session-1", **fields: Any) -> Infusion:
    """Return an infusion whose uid tells its number."""
    uid = fields.pop("uid", f"{session_uid}-infusion-{index}")
    return Infusion(uid=uid, session_uid=session_uid, index=index, planned_s=20, **fields)


def impression(uid: str, session_uid: str = "session-1", **fields: Any) -> Impression:
    """Return an orchid on the palate, clear."""
    made = Impression(uid, session_uid, "flavour", 1, "palate", "orchid", "orchid", 3, MORNING_UTC)
    return replace(made, **fields)


def act(uid: str, *changes: tuple[Record | None, Record | None], **fields: Any) -> Act:
    """Return an act of the session with these (before, after) pairs."""
    made = Act(uid, "session-1", "orchid 4", MORNING_UTC, tuple(Change(*pair) for pair in changes))
    return replace(made, **fields)


def begun(uid: str = "act-1") -> Act:
    """Return the act that begins a tasting: a lot and a session on it."""
    return act(uid, (None, lot()), (None, session()), label="begin")


def opposite(uid: str, taken_back: Act, kind: ActKind = "undo") -> Act:
    """Return the act that takes another one back."""
    changes = tuple(change.inverse for change in reversed(taken_back.changes))
    return Act(uid, taken_back.scope, taken_back.label, taken_back.at_utc, changes, kind, taken_back.uid)


CUP: Final = b"\x89PNG: any bytes will do here"

ONE_OF_EACH: tuple[Record, ...] = (
    lot(),
    session(),
    infusion(),
    Saying("saying-1", "session-1", "flavour", 1, "orchid", MORNING_UTC),
    impression("impression-1"),
    Reading("reading-1", "session-1", "first sip", 1, "umami", 3.5, MORNING_UTC),
    StepMark("mark-1", "session-1", "dry leaf", None, "skipped", MORNING_UTC),
    KettleReading("kettle-1", "session-1", Instant(MORNING_UTC, 5.5, "boot"), 96.5, boiled=True),
    Photo("photo-1", "session-1", "liquor", 1, picture_digest(CUP), "image/png", MORNING_UTC, white_at=(0.5, 0.25)),
    Verdict("verdict-1", "session-1"),
    OwnDescriptor("own-1", "rain on dust", "", MORNING_UTC),
)

# Any text that a line of input can hold: half a character (a lone surrogate) is no text.
texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=40)
times = st.datetimes(min_value=datetime(1, 1, 2), max_value=datetime(9999, 12, 30), timezones=st.just(UTC))  # noqa: DTZ001
days = st.dates()
numbers = st.floats(allow_nan=False, allow_infinity=False)
wholes = st.integers(-(2**63), 2**63 - 1)
prices = st.decimals(allow_nan=False, allow_infinity=False)
flags = st.booleans()
instants = st.builds(Instant, times, numbers, texts)
labs = st.tuples(numbers, numbers, numbers)


def _or_none(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | strategy


steps = st.builds(
    Step, texts, texts, st.sampled_from(["leaf", "infusion"]), st.sampled_from(["aroma", "body"]),
    st.sampled_from(["lid", "palate"]), texts, why=texts, until=st.sampled_from(["next water", "never"]),
    late_after_s=_or_none(wholes), rescue=texts, scales=st.tuples(texts, texts) | st.just(()),
)  # fmt: skip
plans = st.builds(
    Plan, st.lists(texts, max_size=2).map(tuple), _or_none(wholes), st.lists(wholes, max_size=3).map(tuple), wholes,
    numbers, st.lists(texts, max_size=2).map(tuple),
)  # fmt: skip
vessels = st.builds(Vessel, texts, numbers, numbers, _or_none(numbers))
courses = st.builds(
    Course, texts, texts, texts, texts, st.lists(steps, max_size=2).map(tuple), st.lists(plans, max_size=2).map(tuple),
    flags, _or_none(numbers), _or_none(wholes), _or_none(numbers), st.lists(vessels, max_size=2).map(tuple),
    st.lists(texts, max_size=2).map(tuple),
)  # fmt: skip
uids = st.uuids().map(str)

lots = st.builds(
    Lot, uids, texts, times, kind=texts, cultivar=texts, cultivar_local=texts, country=texts, region=texts,
    garden=texts, altitude_m=_or_none(numbers), harvest_year=_or_none(wholes), season=texts,
    harvested_on=_or_none(days), plucking=texts,
    processing=st.lists(st.builds(ProcessingStep, texts, _or_none(numbers)), max_size=3).map(tuple),
    oxidation_pct=_or_none(numbers), roast=st.builds(Roast, texts, _or_none(numbers), _or_none(days), texts),
    form=texts, scented_with=texts, supplier=texts, batch=texts, price_per_kg=_or_none(prices), currency=texts,
    quantity_g=_or_none(numbers), notes=texts, archived=flags,
)  # fmt: skip
own_descriptors = st.builds(
    OwnDescriptor, uids, texts, texts, times, texts, st.lists(texts).map(tuple), texts, texts, texts, texts, flags
)


def sessions(lot_uid: str) -> st.SearchStrategy[Session]:
    """Return any session on a lot."""
    return st.builds(
        Session, uids, st.just(lot_uid), courses, times, wholes, texts, texts, texts, _or_none(numbers),
        _or_none(numbers), flags, _or_none(numbers), texts, _or_none(numbers), _or_none(numbers), _or_none(numbers),
        texts, flags, st.sampled_from(["spat", "sipped", "drunk"]),
        st.builds(Conditions, texts, texts, texts, texts, texts), _or_none(times),
    )  # fmt: skip


def infusions(session_uid: str) -> st.SearchStrategy[Infusion]:
    """Return any infusion of a session."""
    return st.builds(
        Infusion, uids, st.just(session_uid), wholes, wholes, _or_none(numbers), flags, _or_none(instants),
        _or_none(instants), _or_none(wholes), _or_none(labs), _or_none(st.sampled_from(["chart", "photo"])), flags,
        texts, texts,
    )  # fmt: skip


def sayings(session_uid: str) -> st.SearchStrategy[Saying]:
    """Return anything said in a session."""
    return st.builds(Saying, uids, st.just(session_uid), texts, _or_none(wholes), texts, times, flags)


def impressions(session_uid: str) -> st.SearchStrategy[Impression]:
    """Return any impression of a session that goes back to no saying."""
    return st.builds(
        Impression, uids, st.just(session_uid), texts, _or_none(wholes), texts, texts, texts, wholes, times, flags,
        flags, flags,
    )  # fmt: skip


def readings(session_uid: str) -> st.SearchStrategy[Reading]:
    """Return any reading of a session."""
    return st.builds(
        Reading, uids, st.just(session_uid), texts, _or_none(wholes), texts, numbers, times, flags, flags, flags, texts,
    )  # fmt: skip


def marks(session_uid: str) -> st.SearchStrategy[StepMark]:
    """Return any mark of a session."""
    return st.builds(
        StepMark, uids, st.just(session_uid), texts, _or_none(wholes), st.sampled_from(["skipped", "done"]), times
    )


def kettle_readings(session_uid: str) -> st.SearchStrategy[KettleReading]:
    """Return any reading of the kettle of a session."""
    return st.builds(KettleReading, uids, st.just(session_uid), instants, numbers, flags)


def photos(session_uid: str) -> st.SearchStrategy[Photo]:
    """Return any photograph of a session; its picture is `CUP`, which the journal must have."""
    places = st.lists(numbers, max_size=2).map(tuple)
    return st.builds(
        Photo, uids, st.just(session_uid), texts, _or_none(wholes), st.just(picture_digest(CUP)), texts, times, texts,
        places, places, _or_none(numbers),
    )  # fmt: skip


def verdicts(session_uid: str) -> st.SearchStrategy[Verdict]:
    """Return any verdict on a session."""
    return st.builds(
        Verdict, uids, st.just(session_uid), texts, _or_none(days), _or_none(numbers), texts, texts, texts, texts,
        _or_none(wholes), texts, texts, texts, texts,
    )  # fmt: skip


PARTS: dict[str, Callable[[str], st.SearchStrategy[Any]]] = {
    "infusions": infusions,
    "sayings": sayings,
    "impressions": impressions,
    "readings": readings,
    "marks": marks,
    "kettle_readings": kettle_readings,
    "photos": photos,
}


@st.composite
def tastings(draw: st.DrawFn) -> Tasting:
    """Return any tasting, its parts in the order in which they are kept."""
    lot = draw(lots)
    session = draw(sessions(lot.uid))
    drawn = [draw(st.lists(part(session.uid), max_size=2)) for part in PARTS.values()]
    parts = [one for some in drawn for one in some]
    verdict = draw(_or_none(verdicts(session.uid)))
    unique = _without_repeated_numbers(parts)
    return Tasting(lot, session, verdict=verdict).after((None, part) for part in unique)


def _without_repeated_numbers(parts: list[Any]) -> list[Any]:
    by_number = {part.index: part for part in parts if isinstance(part, Infusion)}
    return [part for part in parts if not isinstance(part, Infusion) or by_number[part.index] is part]


def records_of(tasting: Tasting) -> list[Record]:
    """Return every record of a tasting, those first that others refer to."""
    parts = [part for name in PARTS for part in getattr(tasting, name)]
    return [tasting.lot, tasting.session, *parts, *([tasting.verdict] if tasting.verdict else [])]


def later(seconds: float) -> datetime:
    """Return a moment of the same morning."""
    return MORNING_UTC + timedelta(seconds=seconds)
