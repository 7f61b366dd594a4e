"""Small tastings for tests, said in as few words as the test needs."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from importlib.resources import files
from itertools import count
from typing import Any

from tastebook.domain.course import Course, course_from_table
from tastebook.domain.lot import Lot
from tastebook.domain.session import Impression, Infusion, Session, StepMark, Tasting

MORNING_UTC = datetime(2026, 4, 18, 9, 30, tzinfo=UTC)
_numbers = count(1)

FAMILIES = {
    "orchid": "floral",
    "jasmine": "floral",
    "gardenia": "floral",
    "white peach": "fruity",
    "toasted rice": "roasted",
    "almond skin": "nutty",
}
"""Families of the words that these tests use; any other word, such as a texture, has none."""


def family_of(descriptor: str) -> str:
    """Return the family of a test's word."""
    return FAMILIES.get(descriptor, "")


def shipped_table(key: str) -> dict[str, Any]:
    """Return a course that ships, as its file says it."""
    return tomllib.loads((files("tastebook.resources.courses") / f"{key}.toml").read_text(encoding="utf-8"))


def shipped_course(key: str = "gaiwan") -> Course:
    """Return a course that ships."""
    return course_from_table(shipped_table(key))


def tasting(course: Course | None = None) -> Tasting:
    """Return a session in which nothing has happened yet."""
    lot = Lot(uid="lot", name="Heron Ridge", created_at_utc=MORNING_UTC)
    session = Session(
        uid="session", lot_uid="lot", course=course or shipped_course(), started_at_utc=MORNING_UTC, utc_offset_min=60
    )
    return Tasting(lot, session)


def poured(index: int, *, planned_s: int = 20, actual_ms: int = 20_000, **more: Any) -> Infusion:
    """Return an infusion that is over."""
    return Infusion(
        uid=f"infusion-{index}", session_uid="session", index=index, planned_s=planned_s, actual_ms=actual_ms, **more
    )


def said(
    word: str, intensity: int = 3, infusion: int | None = None, *, step: str = "flavour", as_said: str = "", **more: Any
) -> Impression:
    """Return an impression, recorded a second after the last one made."""
    number = next(_numbers)
    return Impression(
        uid=f"impression-{number:05d}",
        session_uid="session",
        step=step,
        infusion=infusion,
        channel="palate",
        descriptor=word,
        word=as_said or word,
        intensity=intensity,
        recorded_at_utc=MORNING_UTC + timedelta(seconds=number),
        **more,
    )


def marked(step: str, infusion: int | None, mark: Any = "done") -> StepMark:
    """Return that a step was finished with nothing to say, or skipped."""
    return StepMark(
        uid=f"mark-{next(_numbers):05d}",
        session_uid="session",
        step=step,
        infusion=infusion,
        mark=mark,
        recorded_at_utc=MORNING_UTC,
    )


def tasted(impressions: Iterable[Impression] = (), *, infusions: int = 0, marks: Iterable[StepMark] = ()) -> Tasting:
    """Return a session with so many poured infusions and these impressions."""
    return replace(
        tasting(),
        infusions=tuple(poured(index) for index in range(1, infusions + 1)),
        impressions=tuple(impressions),
        marks=tuple(marks),
    )
