"""Records as JSON: for acts, which are kept for ever, and for the course that a session took along.

The text carries the version of its wording. A field that later versions add is filled with its default when older text
is read; anything else that changes needs a new `WORDING` and a function that brings the older one up to it. A field
that this version does not know is a later version's: reading on without it would lose it at the next amendment. Words
that a later version would not choose are read as they are: what was kept stays readable.
"""

from __future__ import annotations

import functools
import json
import types
from collections.abc import Callable, Iterable
from dataclasses import MISSING, Field, fields, is_dataclass
from datetime import UTC, date, datetime
from decimal import Decimal, InvalidOperation
from typing import Any, Final, Literal, Union, get_args, get_origin, get_type_hints

from tastebook.domain.act import Change
from tastebook.domain.course import Course
from tastebook.domain.errors import JournalDamaged, JournalNewer, StoreError
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

WORDING: Final = 1
"""Version of the JSON written here."""

KINDS: Final[dict[str, type[Record]]] = {
    "lot": Lot,
    "session": Session,
    "infusion": Infusion,
    "saying": Saying,
    "impression": Impression,
    "reading": Reading,
    "step mark": StepMark,
    "kettle reading": KettleReading,
    "photograph": Photo,
    "verdict": Verdict,
    "own descriptor": OwnDescriptor,
}
"""What a record is called in the file and in messages."""

NAMES: Final = {kind: name for name, kind in KINDS.items()}

_WRITER: Final = json.JSONEncoder(ensure_ascii=False, allow_nan=False, separators=(",", ":"))

Encoder = Callable[[Any], Any]
Decoder = Callable[[Any], Any]


def changes_text(changes: Iterable[Change]) -> str:
    """Return the changes of an act as JSON.

    Raises
    ------
    StoreError
        If a number is not finite or a time has no time zone.
    """
    rows = [[_name_of(one), _record_json(one.before), _record_json(one.after)] for one in changes]
    return _sealed("changes", rows)


def changes_of(text: str) -> tuple[Change, ...]:
    """Return the changes that `changes_text` wrote.

    Raises
    ------
    JournalNewer, JournalDamaged
        If a later Tastebook wrote them, or if they make no sense.
    """
    rows = _opened("changes", text)
    try:
        return tuple(Change(_record_of(name, before), _record_of(name, after)) for name, before, after in rows)
    except _SENSELESS as exc:
        raise JournalDamaged(f"An act in the journal cannot be read: {exc}.") from exc


def course_text(course: Course) -> str:
    """Return a course as JSON."""
    return _sealed("course", _encoder(Course)(course))


@functools.lru_cache(maxsize=64)
def course_of(text: str) -> Course:
    """Return the course that `course_text` wrote. Sessions of one course share it.

    Raises
    ------
    JournalNewer, JournalDamaged
        If a later Tastebook wrote it, or if it makes no sense.
    """
    row = _opened("course", text)
    try:
        course: Course = _decoder(Course)(row)
    except _SENSELESS as exc:
        raise JournalDamaged(f"The course of a session cannot be read: {exc}.") from exc
    return course


def time_text(at_utc: datetime) -> str:
    """Return a moment as text that sorts by time: `2026-04-18T09:30:00.000000+00:00`.

    Raises
    ------
    StoreError
        If the time names no time zone.
    """
    if at_utc.tzinfo is None:
        raise StoreError(f"The time {at_utc} names no time zone, so it cannot be kept.")
    return at_utc.astimezone(UTC).isoformat(timespec="microseconds")


_LATER: Final = "A later Tastebook wrote this part of the journal. Open the journal with that one."

_SENSELESS: Final = (KeyError, TypeError, ValueError, InvalidOperation)
"""What reading text of the right wording but with the wrong content runs into."""


def _name_of(change: Change) -> str:
    record = change.after or change.before
    if record is None:
        raise StoreError("A change has neither a before nor an after, so there is nothing to keep.")
    return NAMES[type(record)]


def _record_json(record: Record | None) -> Any:
    if record is None:
        return None
    kind: Any = type(record)
    return _encoder(kind)(record)


def _record_of(name: str, row: Any) -> Any:
    kind: Any = KINDS[name]
    return None if row is None else _decoder(kind)(row)


def _sealed(key: str, content: Any) -> str:
    try:
        return json.dumps(
            {"wording": WORDING, key: content}, ensure_ascii=False, allow_nan=False, separators=(",", ":")
        )
    except ValueError as exc:
        raise StoreError("One of the numbers is not finite, so it cannot be kept.") from exc


def _opened(key: str, text: str) -> Any:
    try:
        sealed = json.loads(text)
        wording = int(sealed["wording"])
        content = sealed[key]
    except _SENSELESS as exc:
        raise JournalDamaged(f"The {key} of a record cannot be read: {exc}.") from exc
    if wording > WORDING:
        raise JournalNewer(_LATER)
    return content


@functools.cache
def _encoder(kind: Any) -> Encoder:
    """Return what turns a value of one type into JSON's own types."""
    if is_dataclass(kind):
        parts = [(name, _encoder(part)) for name, part in _parts_of(kind)]
        return lambda value: {name: encode(getattr(value, name)) for name, encode in parts}
    if kind is datetime:
        return time_text
    if kind is date:
        return date.isoformat
    if kind is Decimal:
        return str
    if _is_optional(kind):
        encode = _encoder(_without_none(kind))
        return lambda value: None if value is None else encode(value)
    if get_origin(kind) is tuple:
        encode_item = _encoder(get_args(kind)[0])
        return lambda value: [encode_item(item) for item in value]
    return _as_it_is(kind)


@functools.cache
def _decoder(kind: Any) -> Decoder:
    """Return what turns JSON's own types into a value of one type."""
    if isinstance(kind, type) and is_dataclass(kind):
        return _dataclass_decoder(kind)
    if kind in (datetime, date):
        return _of_text(kind.fromisoformat)
    if kind is Decimal:
        return _of_text(Decimal)
    if _is_optional(kind):
        decode = _decoder(_without_none(kind))
        return lambda value: None if value is None else decode(value)
    if get_origin(kind) is tuple:
        decode_item = _decoder(get_args(kind)[0])
        return lambda value: tuple(decode_item(item) for item in _checked(value, list))
    if kind is float:
        return lambda value: float(_checked(value, (int, float)))
    plain = str if get_origin(kind) is Literal else kind
    return lambda value: _checked(value, plain)


def _dataclass_decoder(kind: type) -> Decoder:
    decoders = {name: _decoder(part) for name, part in _parts_of(kind)}
    needed = {one.name for one in fields(kind) if _is_needed(one)}

    def decode(row: Any) -> Any:
        if missing := needed - _checked(row, dict).keys():
            raise KeyError(f"no {', '.join(sorted(missing))}")
        if unknown := row.keys() - decoders.keys():
            raise JournalNewer(f"{_LATER} It knows {', '.join(sorted(unknown))}.")
        return kind(**{name: decoders[name](value) for name, value in row.items()})

    return decode


def _of_text(read: Callable[[str], Any]) -> Decoder:
    return lambda value: read(_checked(value, str))


def _checked(value: Any, kind: type | tuple[type, ...]) -> Any:
    if isinstance(value, kind) and (kind is bool or not isinstance(value, bool)):
        return value
    raise TypeError(f"{value!r} has the wrong type")


def _is_needed(field: Field[Any]) -> bool:
    return field.default is MISSING and field.default_factory is MISSING


def _parts_of(kind: Any) -> list[tuple[str, Any]]:
    hints = get_type_hints(kind)
    return [(one.name, hints[one.name]) for one in fields(kind)]


def _is_optional(kind: Any) -> bool:
    return get_origin(kind) in (types.UnionType, Union)


def _without_none(kind: Any) -> Any:
    (inner,) = [one for one in get_args(kind) if one is not types.NoneType]
    return inner


def _as_it_is(kind: Any) -> Encoder:
    if kind in (str, int, float, bool) or get_origin(kind) is Literal:
        return lambda value: value
    raise TypeError(f"{kind} has no wording in JSON: add it here.")
