"""Numbers, times and dates as they are typed, read or refused in words."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date

from tastebook.domain.errors import QuantityError, TastingError
from tastebook.domain.finding_dates import read_days
from tastebook.domain.finding_pieces import typed_pieces
from tastebook.domain.quantities import celsius
from tastebook.domain.session import Verdict
from tastebook.presenters.typed import date_typed


def seconds_typed(typed: str) -> float:
    """Return seconds from `42`, `42 s`, `1:40` or `2 min`.

    Raises
    ------
    TastingError
        If it is no length of time.
    """
    text = typed.strip().lower().replace(",", ".")
    if ":" in text:
        minutes, _, seconds = text.partition(":")
        return 60 * number_typed(minutes, "a time such as 1:40") + number_typed(seconds, "a time such as 1:40")
    for ending, factor in (("min", 60.0), ("h", 3600.0), ("s", 1.0)):
        if text.endswith(ending):
            return factor * number_typed(text.removesuffix(ending), "a time such as 42 s")
    return number_typed(text, "a time such as 42 s")


def number_typed(text: str, wanted: str) -> float:
    """Return a number from its digits.

    Raises
    ------
    TastingError
        If it is none, or not finite; the message says what was `wanted`.
    """
    try:
        value = float(text.strip())
    except ValueError as exc:
        raise TastingError(f"“{text.strip()}” is not {wanted}.") from exc
    if not math.isfinite(value):
        raise TastingError(f"“{text.strip()}” is not {wanted}.")
    return value


def temp_typed(typed: str, *, in_fahrenheit: bool) -> float:
    """Return °C from `92`, `92 °C` or `198 °F`; a bare number is of the scale that the user reads."""
    shown = typed.strip().lower().replace("°", "").replace(",", ".").strip()
    unit = "f" if in_fahrenheit else "c"
    if shown[-1:] in ("c", "f"):
        shown, unit = shown[:-1].strip(), shown[-1]
    value = number_typed(shown, "a temperature such as 92")
    return round(celsius(value), 2) if unit == "f" else value


def coming_day_typed(text: str, today: date) -> date | None:
    """Return a day as a lot's form and the find field read it, None from nothing; of a month its first.

    Raises
    ------
    QuantityError
        If it is no day, or could be read as two.
    """
    try:
        return date_typed(text)
    except QuantityError:
        pieces = typed_pieces(text)
        read = read_days(pieces, today)
        if read is None or read.length != len(pieces) or read.days.first is None or read.days.first < today:
            raise
        return read.days.first


def verdict_typed(verdict: Verdict, fields: dict[str, str], today: date) -> Verdict:
    """Return a verdict with the fields that were typed; numbers and dates are read, an empty one is none.

    Raises
    ------
    TastingError
        If a number cannot be read.
    QuantityError
        If a day cannot be read.
    """
    words = {key: text for key, text in fields.items() if key not in ("good_infusions", "quantity_kg", "rest_until")}
    amended = replace(verdict, **words)  # type: ignore[arg-type]
    if (text := fields.get("good_infusions")) is not None:
        count = round(number_typed(text, "a number of infusions such as 6")) if text.strip() else None
        amended = replace(amended, good_infusions=count)
    if (text := fields.get("quantity_kg")) is not None:
        kg = number_typed(text.replace(",", "."), "a quantity such as 4.5") if text.strip() else None
        amended = replace(amended, quantity_kg=kg)
    if (text := fields.get("rest_until")) is not None:
        amended = replace(amended, rest_until=coming_day_typed(text, today))
    return amended
