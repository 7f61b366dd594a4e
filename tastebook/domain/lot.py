"""A lot and its provenance: all optional but the name."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Final

KINDS: Final = ("green", "yellow", "white", "oolong", "black", "dark", "scented")
"""The trade's classes; the list is open and a user's own word is kept."""

FORMS: Final = ("strip", "ball", "needle", "flat", "bud", "broken", "compressed", "powder")


@dataclass(frozen=True)
class ProcessingStep:
    """One stage of making, such as withering, with its length where it is known."""

    name: str
    hours: float | None = None


@dataclass(frozen=True)
class Roast:
    """What the fire did: level in the trade's words, hours, date and fuel."""

    level: str = ""
    hours: float | None = None
    on: date | None = None
    fuel: str = ""


@dataclass(frozen=True)
class Lot:
    """One parcel of tea as it was offered or bought.

    `follows` is the uid of the lot that this one is the next batch of. Numbers carry their unit in the name; a field
    that nobody filled in is None or empty, never a guess.
    """

    uid: str
    name: str
    created_at_utc: datetime
    kind: str = ""
    cultivar: str = ""
    cultivar_local: str = ""
    country: str = ""
    region: str = ""
    garden: str = ""
    altitude_m: float | None = None
    harvest_year: int | None = None
    season: str = ""
    harvested_on: date | None = None
    plucking: str = ""
    processing: tuple[ProcessingStep, ...] = ()
    oxidation_pct: float | None = None
    roast: Roast = Roast()
    form: str = ""
    scented_with: str = ""
    supplier: str = ""
    batch: str = ""
    price_per_kg: Decimal | None = None
    currency: str = ""
    quantity_g: float | None = None
    follows: str | None = None
    notes: str = ""
    archived: bool = False

    @property
    def origin(self) -> str:
        """Return garden, region and country, as far as known, nearest first."""
        return ", ".join(part for part in (self.garden, self.region, self.country) if part)

    @property
    def harvest(self) -> str:
        """Return season and year as one phrase, such as `spring 2026`."""
        year = str(self.harvest_year) if self.harvest_year else ""
        return " ".join(part for part in (self.season, year) if part)
