"""Figures: numbers of the outside world that a computation rests on, each with its range, its source and its status.

They ship as data and the user may set their own. Nothing here knows what a figure is for; what is computed from several
figures carries the range that follows from theirs.
"""

from __future__ import annotations

import difflib
import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Final, Literal, TypeAlias, cast, get_args

from tastebook.domain.errors import QuantityError
from tastebook.domain.quantities import Quantity

Status: TypeAlias = Literal["seen", "seen_secondary", "derived", "memory", "assumed"]
"""How a figure is known: read in the publication or its abstract, quoted by another, worked out here from what was
read, recalled, or our own assumption."""

STATUS_WORDS: Final[Mapping[str, str]] = {
    "seen": "published",
    "seen_secondary": "published, quoted by others",
    "derived": "derived here",
    "memory": "from memory",
    "assumed": "our assumption",
}

_WORDS: Final = ("key", "name", "source")
_NUMBERS: Final = ("low", "middle", "high")
_ENTRIES: Final = {*_WORDS, *_NUMBERS, "unit", "value", "least", "most", "status"}


@dataclass(frozen=True)
class Range:
    """A number that is not known better than from `low` to `high`, with the likeliest value between.

    Where nothing else is said, the range is meant to hold nine values in ten.
    """

    low: float
    middle: float
    high: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.low) and math.isfinite(self.high) and self.low <= self.middle <= self.high):
            raise QuantityError(f"A range must rise: {self.low:g}, {self.middle:g}, {self.high:g} does not.")

    @classmethod
    def exactly(cls, value: float) -> Range:
        """Return a number that is known."""
        return cls(value, value, value)

    def times(self, factor: float) -> Range:
        """Return this range in another unit, or so many times; `factor` is not negative."""
        return Range(self.low * factor, self.middle * factor, self.high * factor)


@dataclass(frozen=True)
class Figure:
    """One number with its range, what it may be at all, and where it comes from.

    `own` says that the user has set it; `source` still tells where the shipped value came from.
    """

    key: str
    name: str
    unit: str
    range: Range
    least: float
    most: float
    source: str
    status: Status
    own: bool = False

    @property
    def told(self) -> str:
        """Return value, unit and how it is known, such as `0.8 to 1.1 J/(g K), derived here`."""
        low, high = f"{self.range.low:.4g}", f"{self.range.high:.4g}"
        value = low if low == high else f"{low} to {high}"
        known = "your own" if self.own else STATUS_WORDS[self.status]
        return f"{value}{f' {self.unit}' if self.unit else ''}, {known}"

    def with_own(self, numbers: Mapping[str, Any]) -> Figure:
        """Return this figure with the user's `value`, or `low`, `middle`, `high`; what is not given stays.

        Raises
        ------
        QuantityError
            If a number is out of range or the three do not rise.
        """
        for entry in numbers:
            if entry not in (*_NUMBERS, "value"):
                raise QuantityError(f"{self.key}.{entry}: only value, low, middle and high can be set.")
        return replace(self, range=_range(numbers, self, self.range), own=True)


@dataclass(frozen=True, eq=False)
class Figures:
    """Every figure by its key."""

    rows: tuple[Figure, ...]

    @cached_property
    def _by_key(self) -> dict[str, Figure]:
        return {figure.key: figure for figure in self.rows}

    def has(self, key: str) -> bool:
        """Say whether there is such a figure."""
        return key in self._by_key

    def figure(self, key: str) -> Figure:
        """Return a figure.

        Raises
        ------
        QuantityError
            If there is none of that key.
        """
        if key not in self._by_key:
            near = difflib.get_close_matches(key, self._by_key, n=1)
            meant = f" Was {near[0]} meant?" if near else ""
            raise QuantityError(f"There is no figure called {key}.{meant}")
        return self._by_key[key]

    def range(self, key: str) -> Range:
        """Return the range of a figure."""
        return self.figure(key).range

    def value(self, key: str) -> float:
        """Return the middle of a figure."""
        return self.figure(key).range.middle

    def with_own(self, own: Mapping[str, Mapping[str, Any]]) -> Figures:
        """Return these figures with the user's in their places.

        Parameters
        ----------
        own : mapping
            By key, any of `value`, `low`, `middle`, `high`, such as ``{"caffeine_green": {"low": 20}}``.

        Raises
        ------
        QuantityError
            If a key is unknown or a number cannot be; the message begins with the key.
        """
        changed = {key: self.figure(key).with_own(numbers) for key, numbers in own.items()}
        return Figures(tuple(changed.get(figure.key, figure) for figure in self.rows))


def figures_from_table(*tables: Mapping[str, Any]) -> Figures:
    """Return the figures that parsed figure files hold, in their order.

    Each ``[[figures]]`` needs `key`, `name`, `source`, `status`, the bounds `least` and `most`, and either `value` or
    all of `low`, `middle`, `high`.

    Raises
    ------
    QuantityError
        If a figure lacks an entry, contradicts itself or comes twice; the message begins with where in the file.
    """
    figures: dict[str, Figure] = {}
    for table in tables:
        for figure in _figures(table):
            if figure.key in figures:
                raise QuantityError(f"{figure.key}: this figure comes twice.")
            figures[figure.key] = figure
    return Figures(tuple(figures.values()))


def spread(function: Callable[..., float], *ranges: Range) -> Range:
    """Return what `function` gives, with the range that follows from those of its arguments.

    Each argument is taken to either end while the others stay in the middle; what that lowers the result by is added
    in squares to one side, what it raises it by to the other. So independent errors partly cancel, a lopsided range
    stays lopsided, and the middle is always within.
    """
    middles = [one.middle for one in ranges]
    middle = function(*middles)
    below = above = 0.0
    for place, one in enumerate(ranges):
        ends = [function(*middles[:place], end, *middles[place + 1 :]) for end in (one.low, one.high)]
        below += max(0.0, *(middle - end for end in ends)) ** 2
        above += max(0.0, *(end - middle for end in ends)) ** 2
    return Range(middle - math.sqrt(below), middle, middle + math.sqrt(above))


def _figures(table: Mapping[str, Any]) -> Iterable[Figure]:
    rows = table.get("figures")
    if not isinstance(rows, list) or not rows or not all(isinstance(row, dict) for row in rows):
        raise QuantityError("figures: at least one [[figures]] is needed.")
    return (_figure(row, f"figures[{number}]") for number, row in enumerate(rows, start=1))


def _figure(row: Mapping[str, Any], where: str) -> Figure:
    for entry in row:
        if entry not in _ENTRIES:
            raise QuantityError(f"{where}.{entry}: a figure has no such entry.")
    key, name, source = (_text(row, entry, where) for entry in _WORDS)
    status = row.get("status")
    if status not in get_args(Status):
        raise QuantityError(f"{where}.status: {status!r} is not one of {', '.join(get_args(Status))}.")
    least, most = (_number(row.get(entry), f"{where}.{entry}") for entry in ("least", "most"))
    bare = Figure(
        key, name, str(row.get("unit", "")), Range(least, least, most), least, most, source, cast(Status, status)
    )
    return replace(bare, range=_range(row, bare, None))


def _range(row: Mapping[str, Any], figure: Figure, default: Range | None) -> Range:
    """Return the range that a row of numbers sets for a figure."""
    if "value" in row:
        if any(entry in row for entry in _NUMBERS):
            raise QuantityError(f"{figure.key}: either value, or low, middle and high.")
        return Range.exactly(_within(figure, row["value"], "value"))
    numbers = [
        getattr(default, entry) if default is not None and entry not in row else _within(figure, row.get(entry), entry)
        for entry in _NUMBERS
    ]
    if not numbers[0] <= numbers[1] <= numbers[2]:
        told = ", ".join(f"{entry} {number:g}" for entry, number in zip(_NUMBERS, numbers, strict=True))
        raise QuantityError(f"{figure.key}: {told} must not fall.")
    return Range(*numbers)


def _within(figure: Figure, value: object, entry: str) -> float:
    at = f"{figure.key}.{entry}"
    number = _number(value, at)
    try:
        return Quantity(figure.name, figure.unit, figure.least, figure.most).checked(number)
    except QuantityError as exc:
        raise QuantityError(f"{at}: {exc}") from exc


def _number(value: object, at: str) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
        raise QuantityError(f"{at}: a number is needed, not {value!r}.")
    return float(value)


def _text(row: Mapping[str, Any], entry: str, where: str) -> str:
    value = row.get(entry)
    if not isinstance(value, str) or not value.strip():
        raise QuantityError(f"{where}.{entry}: words in quotes are needed, not {value!r}.")
    return value.strip()
