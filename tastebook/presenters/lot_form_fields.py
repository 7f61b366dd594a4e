"""The fields of the lot form: what each is called, how it is typed, and where in the lot it belongs."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any, Final, TypeAlias

from tastebook.domain.errors import QuantityError
from tastebook.domain.lot import FORMS, KINDS, Lot
from tastebook.domain.quantities import ALTITUDE_M, OXIDATION_PCT, PRICE_PER_KG, QUANTITY_G, YEAR
from tastebook.presenters.typed import Typing, date_typed, number_text
from tastebook.reports.wording import day
from tastebook.services.shelf import HOURS

Values: TypeAlias = dict[str, Any]
Reader: TypeAlias = Callable[[str, Lot, date], Values]

WHAT, WHERE, HOW, CAME = "What it is", "Where and when", "How it was made", "How it came here"

TIMES: Final = {"h": 1.0, "min": 1 / 60, "minutes": 1 / 60, "hours": 1.0, "hour": 1.0, "days": 24.0, "day": 24.0}

ALTITUDE: Final = Typing(ALTITUDE_M, {"ft": 0.3048, "feet": 0.3048}, is_whole=True, how="it in m or ft")
STEP_HOURS: Final = Typing(HOURS, TIMES, how="it in h, min or days")
STOCK: Final = Typing(QUANTITY_G, {"kg": 1000.0}, is_whole=True)
PRICE: Final = Typing(PRICE_PER_KG, {"/kg": 1.0}, how="the digits alone, such as 84.00; the currency has its own field")
OXIDATION: Final = Typing(OXIDATION_PCT)
HARVEST_YEAR: Final = Typing(YEAR)

SEASONS: Final = (
    "early spring", "spring", "late spring", "summer", "autumn", "winter", "first flush", "second flush",
    "monsoon flush", "autumnal flush",
)  # fmt: skip
PLUCKINGS: Final = (
    "bud only", "one leaf and a bud", "two leaves and a bud", "three leaves and a bud", "opened leaf", "mature leaf",
)  # fmt: skip
ROAST_LEVELS: Final = ("none", "light", "medium", "heavy")
FUELS: Final = ("charcoal", "electric", "gas", "wood")
STEP_NAMES: Final = (
    "withering", "bruising", "fixing by pan", "fixing by steam", "yellowing", "rolling", "ball-rolling", "oxidation",
    "drying", "piling", "steaming", "pressing", "roasting", "scenting", "sorting", "resting",
)  # fmt: skip


@dataclass(frozen=True)
class FieldSpec:
    """One field.

    `key` names it in the form, `record` the field of `Lot` that it sets; `has_choices` offers `choices` and what was
    written for other lots, and takes any other word too.
    """

    key: str
    label: str
    group: str
    read: Reader
    text_of: Callable[[Lot], str]
    unit: str = ""
    example: str = ""
    choices: tuple[str, ...] = ()
    has_choices: bool = False
    is_long: bool = False

    @property
    def record(self) -> str:
        """Return the field of `Lot` that is set."""
        return self.key.partition(".")[0]


def _words(key: str, label: str, group: str, **more: Any) -> FieldSpec:
    def read(text: str, _lot: Lot, _today: date) -> Values:
        return {key: text.strip()}

    return FieldSpec(key, label, group, read, lambda lot: str(getattr(lot, key)), **more)


def _open_list(key: str, label: str, group: str, choices: tuple[str, ...] = (), **more: Any) -> FieldSpec:
    return _words(key, label, group, choices=choices, has_choices=True, **more)


def _number(key: str, label: str, group: str, typing: Typing, **more: Any) -> FieldSpec:
    def read(text: str, _lot: Lot, _today: date) -> Values:
        return {key: typing.read(text)}

    more.setdefault("unit", typing.quantity.unit)
    return FieldSpec(key, label, group, read, lambda lot: number_text(getattr(lot, key)), **more)


def _year(text: str, _lot: Lot, _today: date) -> Values:
    value = HARVEST_YEAR.read(text)
    if value is not None and value != int(value):
        raise QuantityError(f"“{text.strip()}” is not a year.")
    return {"harvest_year": None if value is None else int(value)}


def _harvested_on(text: str, lot: Lot, today: date) -> Values:
    on = _past_day(text, today)
    # The year follows from the day; where it is given, it stands: winter tea plucked in January is last year's.
    follows = {"harvest_year": on.year} if on is not None and lot.harvest_year is None else {}
    return {"harvested_on": on, **follows}


def _past_day(text: str, today: date) -> date | None:
    on = date_typed(text)
    if on is not None and on > today:
        raise QuantityError(f"{day(on)} is still to come.")
    return on


def _price(text: str, _lot: Lot, _today: date) -> Values:
    price: Decimal | None = PRICE.read_exactly(text)
    return {"price_per_kg": price}


def _day_text(on: date | None) -> str:
    return day(on) if on else ""


def _roast(part: str, label: str, read_part: Callable[[str, date], Any], **more: Any) -> FieldSpec:
    def read(text: str, lot: Lot, today: date) -> Values:
        return {"roast": replace(lot.roast, **{part: read_part(text, today)})}

    def text_of(lot: Lot) -> str:
        value = getattr(lot.roast, part)
        return _day_text(value) if isinstance(value, date) else value if isinstance(value, str) else number_text(value)

    return FieldSpec(f"roast.{part}", label, HOW, read, text_of, **more)


FIELDS: Final[tuple[FieldSpec, ...]] = (
    _words("name", "Name", WHAT, example="as you call it"),
    _open_list("kind", "Kind", WHAT, KINDS),
    _open_list("cultivar", "Cultivar", WHAT),
    _words("cultivar_local", "Cultivar, as written there", WHAT, example="in its own script, or with tones"),
    _open_list("form", "Leaf form", WHAT, FORMS),
    _words("scented_with", "Scented with", WHAT, example="flowers, smoke; ask the maker"),
    _open_list("garden", "Garden", WHERE),
    _open_list("region", "Region", WHERE),
    _open_list("country", "Country", WHERE),
    _number("altitude_m", "Altitude", WHERE, ALTITUDE, example="such as 1100, or 3600 ft"),
    _open_list("season", "Season or flush", WHERE, SEASONS),
    FieldSpec(
        "harvest_year", "Harvest year", WHERE, _year, lambda lot: number_text(lot.harvest_year),
        example="such as 2026",
    ),
    FieldSpec(
        "harvested_on", "Plucked on", WHERE, _harvested_on, lambda lot: _day_text(lot.harvested_on),
        example="such as 14 April 2026",
    ),
    _open_list("plucking", "Plucking standard", WHERE, PLUCKINGS),
    _number("oxidation_pct", "Oxidation", HOW, OXIDATION, example="such as 25"),
    _roast("level", "Roast", lambda text, _: text.strip(), choices=ROAST_LEVELS, has_choices=True),
    _roast("hours", "Roast, how long", lambda text, _: STEP_HOURS.read(text), unit="h", example="such as 8, or 90 min"),
    _roast("on", "Roasted on", _past_day, example="such as 2 May 2026"),
    _roast("fuel", "Roasted over", lambda text, _: text.strip(), choices=FUELS, has_choices=True),
    _open_list("supplier", "Supplier", CAME),
    _words("batch", "Batch", CAME, example="the code on the packet"),
    FieldSpec(
        "price_per_kg", "Price", CAME, _price, lambda lot: number_text(lot.price_per_kg), unit="per kg",
        example="such as 84.00",
    ),
    _open_list("currency", "Currency", CAME, ("EUR", "GBP", "USD", "JPY", "CNY", "TWD", "INR")),
    _number("quantity_g", "Quantity", CAME, STOCK, example="such as 500, or 2 kg"),
    _words("notes", "Notes", CAME, is_long=True),
)  # fmt: skip

_BY_KEY: Final[Mapping[str, FieldSpec]] = {spec.key: spec for spec in FIELDS}


def field_named(key: str) -> FieldSpec:
    """Return a field by its key."""
    return _BY_KEY[key]
