"""What somebody typed, read as a number or a date: commas, units and the usual ways of writing a day are forgiven."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Final

from tastebook.domain.errors import QuantityError
from tastebook.domain.quantities import Quantity
from tastebook.reports.wording import MONTHS, day

_NUMBER: Final = re.compile(r"(?P<sign>[-+]?)(?P<digits>[\d.,]*\d[.,]?)(?P<unit>[^\d.,]\D*)?")
_PLAIN: Final = re.compile(r"\d*[.,]?\d*")
_THOUSANDS: Final = re.compile(r"\d{1,3}(?:(?:,\d{3})+(?:\.\d*)?|(?:\.\d{3})+(?:,\d*)?)")
_BEFORE_THOUSANDS: Final = re.compile(r"(?<=\d)[\s'’](?=\d{3}(?!\d))")
_BEFORE_UNIT: Final = re.compile(r"\s+(?=[^\s\d]*$)|(?<=\D)\s+")
_DAY_MONTH: Final = re.compile(r"(\d{1,2})([./-])(\d{1,2})\2(\d{4})")
_DAY_NAME: Final = re.compile(r"(\d{1,2})\.?\s+([^\W\d]+)\.?,?\s+(\d{4})")


@dataclass(frozen=True)
class Typing:
    """How one kind of number is typed.

    Parameters
    ----------
    quantity : Quantity
        What it may be.
    units : mapping
        Units that may follow the digits, with the factor to the stored unit.
    is_whole : bool
        Whether it is usually written without a fraction, so that `1,100` is eleven hundred and not 1.1.
    how : str
        How to write it, for messages; the units if empty.
    """

    quantity: Quantity
    units: Mapping[str, float] = field(default_factory=dict)
    is_whole: bool = False
    how: str = ""

    def read(self, typed: str) -> float | None:
        """Return the number typed in the stored unit, None for nothing.

        Raises
        ------
        QuantityError
            If it is no number, has a unit that is not known here, or is out of range.
        """
        if not typed.strip():
            return None
        number, unit = self._parts(typed)
        return self.quantity.checked(float(number) * self._factor(unit, typed))

    def read_exactly(self, typed: str) -> Decimal | None:
        """Return the number typed, digit for digit, None for nothing: for money.

        Raises
        ------
        QuantityError
            As for `read`.
        """
        if not typed.strip():
            return None
        number, unit = self._parts(typed)
        self.quantity.checked(float(number) * self._factor(unit, typed))
        return number

    def _parts(self, typed: str) -> tuple[Decimal, str]:
        closed = _BEFORE_UNIT.sub("", _BEFORE_THOUSANDS.sub("", typed.strip().replace("−", "-")))
        found = _NUMBER.fullmatch(closed)
        digits = _with_point(found["digits"], is_whole=self.is_whole) if found else ""
        if found is None or not digits:
            raise self._not_a_number(typed)
        return Decimal(found["sign"] + digits), found["unit"] or ""

    def _not_a_number(self, typed: str) -> QuantityError:
        return QuantityError(f"“{typed.strip()}” is not a number. Write {self._how()}.")

    def _factor(self, unit: str, typed: str) -> float:
        known = {"": 1.0, _plain(self.quantity.unit): 1.0, **{_plain(name): one for name, one in self.units.items()}}
        if _plain(unit) not in known:
            raise QuantityError(f"“{typed.strip()}” has a unit that is not known here. Write {self._how()}.")
        return known[_plain(unit)]

    def _how(self) -> str:
        if self.how:
            return self.how
        units = list(dict.fromkeys(unit for unit in (self.quantity.unit, *self.units) if unit))
        return f"it in {' or '.join(units)}" if units else "digits"


def _plain(unit: str) -> str:
    return unit.casefold().replace(" ", "").replace("°", "").rstrip(".")


def _with_point(digits: str, *, is_whole: bool) -> str:
    """Return digits with a decimal point and no other mark, empty if the marks make no sense.

    One mark parts the fraction; marks before each three digits part the thousands. `1,100` alone could be either.
    """
    marks = [sign for sign in digits if sign in ".,"]
    in_thousands = _THOUSANDS.fullmatch(digits) is not None
    if in_thousands and (is_whole or len(marks) > 1):
        point = marks[-1] if len(set(marks)) > 1 else ""
        whole, _, rest = digits.rpartition(point) if point else (digits, "", "")
        return f"{whole.replace(',', '').replace('.', '')}.{rest or '0'}"
    if len(marks) > 1 or not _PLAIN.fullmatch(digits):
        return ""
    return digits.replace(",", ".")


def date_typed(typed: str) -> date | None:
    """Return the day that was typed, None for nothing: `2026-04-14`, `14 April 2026` or `14.4.2026`.

    Raises
    ------
    QuantityError
        If it is no day, or could be read as two: in `4/5/2026` either may be the month.
    """
    words = typed.strip()
    if not words:
        return None
    try:
        return _date(words)
    except ValueError as exc:
        raise QuantityError(f"“{words}” is not a day. Write it as 2026-04-14 or 14 April 2026.") from exc


def _date(words: str) -> date:
    named = _DAY_NAME.fullmatch(words)
    if named:
        return date(int(named[3]), _month(named[2]), int(named[1]))
    numbered = _DAY_MONTH.fullmatch(words)
    if not numbered:
        return date.fromisoformat(words)
    first, second, year = int(numbered[1]), int(numbered[3]), int(numbered[4])
    if numbered[2] == "/" and first != second and first <= 12 and second <= 12:
        one, other = date(year, second, first), date(year, first, second)
        raise QuantityError(
            f"“{words}” can be read as {day(one)} or {day(other)}. Write {one.isoformat()} or {other.isoformat()}."
        )
    return date(year, first, second) if numbered[2] == "/" and second > 12 else date(year, second, first)


def _month(word: str) -> int:
    fitting = [number for number, name in enumerate(MONTHS, start=1) if name.casefold().startswith(word.casefold())]
    if len(fitting) != 1:
        raise ValueError(f"{word} names no month")
    return fitting[0]


def number_text(value: float | Decimal | None) -> str:
    """Return a stored number as it would be typed, without a trailing zero; empty for None."""
    if value is None:
        return ""
    if isinstance(value, Decimal):
        return format(value, "f")
    return f"{value:.10g}"


def sentence(words: str) -> str:
    """Return words with a capital first letter, as a message stands at a field."""
    return words[:1].upper() + words[1:]
