"""Numbers and times as words: the same on every screen and every page."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from tastebook.domain.quantities import fahrenheit

MINUS = "−"


def clock_time(at_utc: datetime, utc_offset_min: int) -> str:
    """Return local time as `9:41`."""
    local = at_utc + timedelta(minutes=utc_offset_min)
    return f"{local.hour}:{local.minute:02d}"


def day(at_utc: datetime, utc_offset_min: int) -> str:
    """Return the local date as `14 April 2026`."""
    local = at_utc + timedelta(minutes=utc_offset_min)
    return f"{local.day} {local:%B} {local.year}"


def countdown(seconds: int) -> str:
    """Return seconds as `0:42`; below zero as `+0:07`, which is time over."""
    sign = "+" if seconds < 0 else ""
    minutes, rest = divmod(abs(seconds), 60)
    if minutes < 60:
        return f"{sign}{minutes}:{rest:02d}"
    hours, minutes = divmod(minutes, 60)
    return f"{sign}{hours}:{minutes:02d}:{rest:02d}"


def duration(seconds: int) -> str:
    """Return a steep as `36 s`, `1:40` from 100 s on, or `8 h` for whole hours."""
    if seconds < 100:
        return f"{seconds} s"
    if seconds >= 3600 and seconds % 3600 == 0:
        return f"{seconds // 3600} h"
    return countdown(seconds)


def length(minutes: int) -> str:
    """Return a stretch of time as `1 h 12 min`."""
    hours, rest = divmod(minutes, 60)
    return f"{hours} h {rest} min" if hours else f"{rest} min"


def degrees(temp_c: float, *, in_fahrenheit: bool = False) -> str:
    """Return a temperature as `90 °C`, or as `194 °F` where the user reads that."""
    return f"{fahrenheit(temp_c):.0f} °F" if in_fahrenheit else f"{temp_c:g} °C"


def signed(value: int) -> str:
    """Return `+2`, `−3` or `0`, with a true minus."""
    if value == 0:
        return "0"
    return f"+{value}" if value > 0 else f"{MINUS}{-value}"


def listed(words: Iterable[str]) -> str:
    """Return `a`, `a and b`, or `a, b and c`."""
    *most, last = [*words] or [""]
    return f"{', '.join(most)} and {last}" if most else last


def number_word(value: float) -> str:
    """Return a number without a trailing zero."""
    return f"{value:g}"
