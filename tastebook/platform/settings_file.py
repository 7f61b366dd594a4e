"""The settings as a file: JSON with a version, written whole or not at all, never thrown away unread."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import asdict, fields
from pathlib import Path
from typing import Any, Final, get_args

from tastebook.domain.endurance import FLOOR_QUANTITY
from tastebook.domain.errors import QuantityError, StoreError
from tastebook.domain.fatigue import BREAK_AFTER_TEAS
from tastebook.domain.intake import Watch
from tastebook.platform.files import write_text
from tastebook.services.ports import Clock
from tastebook.services.settings import LEAD_S, Paper, Settings, ThemeName

VERSION: Final = 1

Table = dict[str, Any]
Upgrade = Callable[[Table], Table]

UPGRADES: Final[Mapping[int, Upgrade]] = {}
"""What brings a file of each earlier version to the next; none was released before the first."""


class JsonSettingsFile:
    """Reads and writes the settings.

    A file that cannot be read, or only in part, is set aside under another name before anything is written in its
    place; what could be read of it is used.

    Parameters
    ----------
    path : Path
        Where the settings are.
    clock : Clock
        Dates the name of a file set aside.
    version : int
        The version that this program writes.
    upgrades : mapping
        For each earlier version, what brings it to the next.
    """

    def __init__(
        self, path: Path, clock: Clock, version: int = VERSION, upgrades: Mapping[int, Upgrade] = UPGRADES
    ) -> None:
        self._path = path
        self._clock = clock
        self._version = version
        self._upgrades = upgrades
        self._told = ""
        self._is_untouchable = False

    @property
    def told(self) -> str:
        """Return what the user should know about the file as it was found, empty if all was well."""
        return self._told

    def load(self) -> Settings:
        """Return what was kept, or the defaults."""
        self._told, self._is_untouchable = "", False
        try:
            text = self._path.read_text(encoding="utf-8")
        except FileNotFoundError:
            return Settings()
        except (OSError, UnicodeDecodeError) as exc:
            self._set_aside(getattr(exc, "strerror", None) or "it is not UTF-8 text")
            return Settings()
        return self._read(text)

    def save(self, settings: Settings) -> None:
        """Keep the settings.

        Raises
        ------
        StoreError
            If they cannot be written, or the file found could neither be read nor set aside.
        """
        if self._is_untouchable:
            raise StoreError(f"{self._path} could not be read and not be moved, so it is left as it is. Move it away.")
        write_text(self._path, json.dumps({"version": self._version, **asdict(settings)}, indent=2) + "\n")

    def _read(self, text: str) -> Settings:
        try:
            table = self._upgraded(_table(text))
        except StoreError as exc:
            self._set_aside(str(exc))
            return Settings()
        values, wrong = _values(table)
        if wrong:
            self._set_aside("; ".join(wrong))
        return Settings(**values)

    def _upgraded(self, table: Table) -> Table:
        version = table.get("version")
        if type(version) is not int or version < 1:
            raise StoreError("it does not say its version")
        if version > self._version:
            raise StoreError(f"a later Tastebook wrote it (version {version}, this one knows {self._version})")
        for number in range(version, self._version):
            try:
                table = self._upgrades[number](table)
            except (KeyError, TypeError, ValueError) as exc:
                raise StoreError(f"it could not be brought from version {number} to {number + 1} ({exc})") from exc
        return table

    def _set_aside(self, reason: str) -> None:
        try:
            beside = self._path.rename(self._free_name())
        except OSError as exc:
            self._is_untouchable = True
            self._told = f"The settings in {self._path} were not understood: {reason}. The file stays ({exc.strerror})."
            return
        self._told = (
            f"The settings were not understood: {reason}. The file is kept as {beside.name}; what was not understood "
            "stands as if never set."
        )

    def _free_name(self) -> Path:
        day = self._clock.utc_now().date().isoformat()
        name = self._path.with_name(f"{self._path.name}.bad-{day}")
        number = 2
        while name.exists():
            name = self._path.with_name(f"{self._path.name}.bad-{day}-{number}")
            number += 1
        return name


def _table(text: str) -> Table:
    try:
        table = json.loads(text)
    except json.JSONDecodeError as exc:
        raise StoreError(f"line {exc.lineno} is not JSON ({exc.msg})") from exc
    if not isinstance(table, dict):
        raise StoreError("it is no table of settings")
    return table


def _values(table: Table) -> tuple[Table, list[str]]:
    """Return the settings that could be read, and what was wrong with the others."""
    values: Table = {}
    wrong: list[str] = []
    for field in fields(Settings):
        if field.name not in table:
            continue
        try:
            values[field.name] = _READERS[field.name](table[field.name])
        except (QuantityError, TypeError, ValueError):
            wrong.append(f"{field.name} cannot be {json.dumps(table[field.name], ensure_ascii=False)}")
    return values, wrong


def _one_of(allowed: tuple[Any, ...]) -> Callable[[Any], Any]:
    def read(value: Any) -> Any:
        if not isinstance(value, str) or value not in allowed:
            raise ValueError(value)
        return value

    return read


def _yes_no(value: Any) -> bool:
    if not isinstance(value, bool):
        raise TypeError(value)
    return value


def _words(value: Any) -> str:
    if not isinstance(value, str):
        raise TypeError(value)
    return value


def _lead_s(value: Any) -> int:
    if type(value) is not int:
        raise TypeError(value)
    return int(LEAD_S.checked(value))


def _pedal_keys(value: Any) -> tuple[str, ...]:
    if not isinstance(value, list):
        raise TypeError(value)
    return Settings().with_pedals(tuple(_words(one) for one in value)).pedal_keys


def _break_after(value: Any) -> int | None:
    if value is None:
        return None
    if type(value) is not int:
        raise TypeError(value)
    return int(BREAK_AFTER_TEAS.checked(value))


def _good_from(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise TypeError(value)
    return FLOOR_QUANTITY.checked(float(value))


_READERS: Final[Mapping[str, Callable[[Any], Any]]] = {
    "theme": _one_of(get_args(ThemeName)),
    "lead_s": _lead_s,
    "sound": _yes_no,
    "voice": _yes_no,
    "counts_up": _yes_no,
    "fahrenheit": _yes_no,
    "reduce_motion": _yes_no,
    "paper": _one_of(get_args(Paper)),
    "taster": _words,
    "pedal_keys": _pedal_keys,
    "caffeine_watch": _one_of(get_args(Watch)),
    "break_after": _break_after,
    "good_from": _good_from,
    "maximized": _yes_no,
}
