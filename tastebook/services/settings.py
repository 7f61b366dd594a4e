"""What the user has chosen, kept outside the journal."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal, Protocol, TypeAlias

from tastebook.domain.endurance import FLOOR
from tastebook.domain.errors import QuantityError
from tastebook.domain.fatigue import BREAK_AFTER
from tastebook.domain.intake import Watch
from tastebook.domain.quantities import Quantity

ThemeName: TypeAlias = Literal["paper", "lamp", "daylight"]
Paper: TypeAlias = Literal["a4", "us-letter"]

LEAD_S = Quantity("lead", "s", 0, 15)


@dataclass(frozen=True)
class Settings:
    """Every choice, with the value it has until the user makes one.

    `caffeine_watch` is for whom the day's caffeine is watched, `break_after` after how many teas a break is suggested
    (None: never), `good_from` the strength below which an infusion is no longer good. `lead_s` is how long before the
    plan the pour is announced; `pedal_keys` are names of keys that do what Space does. `maximized` is how
    the window was left.
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
    caffeine_watch: Watch = "adult"
    break_after: int | None = BREAK_AFTER
    good_from: float = FLOOR
    maximized: bool = False

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

    @property
    def told(self) -> str:
        """Return what the user should know about the file as it was found, empty if all was well."""
        ...

    def load(self) -> Settings:
        """Return what was kept, or the defaults; a file that cannot be read is set aside, never overwritten."""
        ...

    def save(self, settings: Settings) -> None:
        """Keep the settings.

        Raises
        ------
        StoreError
            If the disk or the folder's rights refuse it.
        """
        ...


class Preferences:
    """The settings in force, for everything that reads them or changes them."""

    def __init__(self, file: SettingsFile) -> None:
        self._file = file
        self._listeners: list[Callable[[Settings], None]] = []
        self.current = file.load()

    @property
    def told(self) -> str:
        """Return what the user should know about the settings file as it was found, empty if all was well."""
        return self._file.told

    def listen(self, listener: Callable[[Settings], None]) -> None:
        """Call `listener` with the settings whenever one was changed."""
        self._listeners.append(listener)

    def use(self, settings: Settings) -> None:
        """Put settings in force for this run, then keep them for the next.

        Raises
        ------
        StoreError
            If they could not be kept: they are in force all the same.
        """
        if settings == self.current:
            return
        self.current = settings
        for listener in self._listeners:
            listener(settings)
        self._file.save(settings)
