"""What the user has chosen, kept outside the journal."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal, Protocol, TypeAlias

from tastebook.domain.errors import QuantityError
from tastebook.domain.quantities import Quantity

ThemeName: TypeAlias = Literal["paper", "lamp", "daylight"]
Paper: TypeAlias = Literal["a4", "us-letter"]

LEAD_S = Quantity("lead", "s", 0, 15)


@dataclass(frozen=True)
class Settings:
    """Every choice, with the value it has until the user makes one.

    `lead_s` is how long before the plan the pour is announced; `pedal_keys` are names of keys that do what Space does.
    """

    theme: ThemeName = "paper"
    lead_s: int = 6
    sound: bool = True
    voice: bool = False
    counts_up: bool = False
    fahrenheit: bool = False
    reduce_motion: bool = False
    paper: Paper = "a4"
    taster: str = ""
    pedal_keys: tuple[str, ...] = ("Space", "PgDown")

    def with_lead(self, lead_s: int) -> Settings:
        """Return these settings with another lead, from 0 (no announcement) to 15 s."""
        return replace(self, lead_s=int(LEAD_S.checked(lead_s)))

    def with_pedals(self, keys: tuple[str, ...]) -> Settings:
        """Return these settings with other pedal keys.

        Raises
        ------
        QuantityError
            If no key is left: then nothing could pour.
        """
        named = tuple(key.strip() for key in keys if key.strip())
        if not named:
            raise QuantityError("At least one key must pour: name one, such as Space.")
        return replace(self, pedal_keys=named)


class SettingsFile(Protocol):
    """Where the settings are kept between runs."""

    def load(self) -> Settings:
        """Return what was kept, or the defaults; a file that cannot be read is set aside, never overwritten."""
        ...

    def save(self, settings: Settings) -> None:
        """Keep the settings."""
        ...
