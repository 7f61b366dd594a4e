"""Numbers, times and dates as words: the same on every screen and every page."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta, timezone
from typing import Final

from tastebook.domain.quantities import fahrenheit
from tastebook.domain.session import Session

MINUS: Final = "−"

# Not strftime: its month names follow the machine's locale, and the same session must make the same page anywhere.
MONTHS: Final = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip


def local(at_utc: datetime, utc_offset_min: int) -> datetime:
    """Return a moment on the clock of the place where it was noted."""
    return at_utc.astimezone(timezone(timedelta(minutes=utc_offset_min)))


def began(session: Session) -> datetime:
    """Return when a session began, local and aware."""
    return local(session.started_at_utc, session.utc_offset_min)


def day(on: date) -> str:
    """Return a date as `14 April 2026`."""
    return f"{on.day} {MONTHS[on.month - 1]} {on.year}"


def clock_time(at: datetime) -> str:
    """Return a time of day as `9:41`."""
    return f"{at.hour}:{at.minute:02d}"


def moment(at: datetime, now: datetime) -> str:
    """Return a moment as `9:41`, and of another day than now with its date: `14 April 2026, 9:41`."""
    return clock_time(at) if at.date() == now.date() else f"{day(at)}, {clock_time(at)}"


def number(value: float) -> str:
    """Return a number with no digit that says nothing, such as `6.5` or `1,100`."""
    text = f"{value:,.2f}".rstrip("0").rstrip(".")
    return text.replace("-", MINUS)


def steep_time(seconds: int) -> str:
    """Return a steep as `36 s`, from 100 s on as `1:40`, from an hour on as `8 h` or `8 h 20 min`."""
    if seconds < 100:
        return f"{seconds} s"
    if seconds < 3600:
        return f"{seconds // 60}:{seconds % 60:02d}"
    return stretch(seconds)


def stretch(seconds: int) -> str:
    """Return a length of time as `45 s`, `8 min 30 s` or `1 h 12 min`."""
    hours, rest = divmod(seconds, 3600)
    minutes, rest_s = divmod(rest, 60)
    if hours:
        return f"{hours} h {minutes} min" if minutes else f"{hours} h"
    parts = [f"{minutes} min"] if minutes else []
    parts += [f"{rest_s} s"] if rest_s or not minutes else []
    return " ".join(parts)


def signed(value: int) -> str:
    """Return `+2` or `−3`, and nothing for 0."""
    if value == 0:
        return ""
    return f"+{value}" if value > 0 else f"{MINUS}{-value}"


def degrees(temp_c: float, *, in_fahrenheit: bool = False) -> str:
    """Return a temperature as `90 °C`, or as `194 °F` where the user reads that."""
    return f"{fahrenheit(temp_c):.0f} °F" if in_fahrenheit else f"{number(round(temp_c, 1))} °C"


def countdown(seconds: int) -> str:
    """Return seconds as `0:42`, from an hour on as `8:00:00`; below zero as `+0:07`, which is time over."""
    sign = "+" if seconds < 0 else ""
    minutes, rest = divmod(abs(seconds), 60)
    if minutes < 60:
        return f"{sign}{minutes}:{rest:02d}"
    hours, minutes = divmod(minutes, 60)
    return f"{sign}{hours}:{minutes:02d}:{rest:02d}"


def listed(words: Iterable[str]) -> str:
    """Return `a`, `a and b`, or `a, b and c`."""
    *most, last = [*words] or [""]
    return f"{', '.join(most)} and {last}" if most else last


def capital(words: str) -> str:
    """Return words with the first letter large; the others stay as they are."""
    return words[:1].upper() + words[1:]
