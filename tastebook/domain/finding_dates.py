"""Dates as one types them: `2024`, `2023-05`, `march 2024`, `since 2023`, `last year`, seen from today."""

from __future__ import annotations

import calendar
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Final, NamedTuple

from tastebook.domain.finding_pieces import Typed

# Not calendar.month_name: it follows the machine's locale.
MONTH_NAMES: Final = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
MONTHS: Final = {
    name: number for number, whole in enumerate(MONTH_NAMES, start=1) for name in (whole.lower(), whole[:3].lower())
} | {"sept": 9}
SEASONS: Final = {"spring": ("spring",), "summer": ("summer",), "autumn": ("autumn", "fall"),
                  "fall": ("autumn", "fall"), "winter": ("winter",)}  # fmt: skip
FIRST_YEAR, LAST_YEAR = 1900, 2184
_SINCE: Final = frozenset({"since", "from"})
_UNTIL: Final = frozenset({"until", "till", "through", "to"})


class Days(NamedTuple):
    """Days from the first to the last, both included; None is without end."""

    first: date | None
    last: date | None


class DaysRead(NamedTuple):
    """What pieces say as days, how many pieces those are, and how it is told."""

    days: Days
    length: int
    told: str


def read_days(pieces: Sequence[Typed], today: date) -> DaysRead | None:
    """Return what the first pieces say as days, None if they say none."""
    if not pieces:
        return None
    said = pieces[0].said
    if said in _SINCE and (read := _stretch(pieces[1:], today, may_be_month=True)):
        return DaysRead(Days(read.days.first, None), read.length + 1, f"since {read.told}")
    if said in _UNTIL and (read := _stretch(pieces[1:], today, may_be_month=True)):
        return DaysRead(Days(None, read.days.last), read.length + 1, f"until {read.told}")
    if said == "before" and (read := _stretch(pieces[1:], today, may_be_month=True)) and read.days.first:
        return DaysRead(Days(None, _shifted(read.days.first, -1)), read.length + 1, f"before {read.told}")
    if said == "after" and (read := _stretch(pieces[1:], today, may_be_month=True)) and read.days.last:
        return DaysRead(Days(_shifted(read.days.last, 1), None), read.length + 1, f"after {read.told}")
    if said in ("in", "during") and (read := _stretch(pieces[1:], today, may_be_month=True)):
        return DaysRead(read.days, read.length + 1, read.told)
    return _from_to(pieces, today) or _stretch(pieces, today, may_be_month=False)


def _from_to(pieces: Sequence[Typed], today: date) -> DaysRead | None:
    """Return `2022-2023`, `march 2023 to june 2023`."""
    first = _stretch(pieces, today, may_be_month=False)
    if first is None or len(pieces) <= first.length:
        return None
    between = pieces[first.length]
    if between.kind != "dash" and between.said != "to":
        return None
    last = _stretch(pieces[first.length + 1 :], today, may_be_month=False)
    if last is None:
        return None
    length = first.length + 1 + last.length
    return DaysRead(Days(first.days.first, last.days.last), length, f"{first.told} to {last.told}")


def _stretch(pieces: Sequence[Typed], today: date, *, may_be_month: bool) -> DaysRead | None:
    """Return a day, month or year that pieces name."""
    if not pieces:
        return None
    return (
        _written(pieces[0])
        or _relative(pieces, today)
        or _with_day(pieces)
        or _month(pieces, today, may_be_alone=may_be_month)
        or _year(pieces[0])
    )


def _written(piece: Typed) -> DaysRead | None:
    """Return `2023-05` or `2023-05-12`."""
    if piece.kind != "date":
        return None
    year, month, *day = map(int, piece.text.split("-"))
    if not (FIRST_YEAR <= year <= LAST_YEAR and 1 <= month <= 12):
        return None
    if not day:
        return _read_month(year, month, 1)
    if not 1 <= day[0] <= calendar.monthrange(year, month)[1]:
        return None
    return _read_day(date(year, month, day[0]), 1)


def _relative(pieces: Sequence[Typed], today: date) -> DaysRead | None:
    said = pieces[0].said
    if said in ("today", "yesterday"):
        return _read_day(today if said == "today" else _shifted(today, -1), 1, f"{said}, ")
    if said not in ("last", "this") or len(pieces) < 2:
        return None
    back, unit = int(said == "last"), pieces[1].said
    if unit == "year":
        return _read_year(today.year - back, 2)
    if unit == "month":
        month = today.year * 12 + today.month - 1 - back
        return _read_month(month // 12, month % 12 + 1, 2)
    if unit == "week":
        monday = _shifted(today, -today.weekday() - 7 * back)
        sunday = _shifted(monday, 6)
        return DaysRead(Days(monday, sunday), 2, f"{_day_words(monday)} to {_day_words(sunday)}")
    return None


def _with_day(pieces: Sequence[Typed]) -> DaysRead | None:
    """Return `12 may 2024` or `may 12 2024`."""
    if len(pieces) < 3 or (year := year_of(pieces[2])) is None:
        return None
    for named, numbered in ((pieces[1], pieces[0]), (pieces[0], pieces[1])):
        month = MONTHS.get(named.said)
        is_day = month and numbered.kind == "number" and numbered.number.is_integer()
        if month and is_day and 1 <= numbered.number <= calendar.monthrange(year, month)[1]:
            return _read_day(date(year, month, int(numbered.number)), 3)
    return None


def _month(pieces: Sequence[Typed], today: date, *, may_be_alone: bool) -> DaysRead | None:
    month = MONTHS.get(pieces[0].said) if pieces[0].kind == "word" else None
    if month is None:
        return None
    if len(pieces) > 1 and (year := year_of(pieces[1])) is not None:
        return _read_month(year, month, 2)
    if not may_be_alone:
        return None
    return _read_month(today.year - (month > today.month), month, 1)


def _year(piece: Typed) -> DaysRead | None:
    year = year_of(piece)
    return None if year is None else _read_year(year, 1)


def year_of(piece: Typed) -> int | None:
    """Return the year that a piece is, None if it is none."""
    is_year = piece.kind == "number" and not piece.plus and len(piece.text) == 4 and piece.text.isdigit()
    return int(piece.number) if is_year and FIRST_YEAR <= piece.number <= LAST_YEAR else None


def _read_year(year: int, length: int) -> DaysRead | None:
    if not FIRST_YEAR <= year <= LAST_YEAR:
        return None
    return DaysRead(Days(date(year, 1, 1), date(year, 12, 31)), length, str(year))


def _read_month(year: int, month: int, length: int) -> DaysRead | None:
    if not FIRST_YEAR <= year <= LAST_YEAR:
        return None
    last = calendar.monthrange(year, month)[1]
    told = f"{MONTH_NAMES[month - 1]} {year}"
    return DaysRead(Days(date(year, month, 1), date(year, month, last)), length, told)


def _read_day(day: date, length: int, before: str = "") -> DaysRead:
    return DaysRead(Days(day, day), length, f"{before}{_day_words(day)}")


def _day_words(day: date) -> str:
    return f"{day.day} {MONTH_NAMES[day.month - 1]} {day.year}"


def _shifted(day: date, days: int) -> date:
    try:
        return day + timedelta(days=days)
    except OverflowError:
        return day
