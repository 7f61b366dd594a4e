"""The figures that ship, and the user's own in their place."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from pathlib import Path

from tastebook.domain.errors import QuantityError
from tastebook.domain.figures import Figures, figures_from_table

SHIPPED = "tastebook.resources.figures"


class FigureFiles:
    """Reads the figures once.

    Parameters
    ----------
    own : Path
        A file of the user's own, such as `figures.toml`; it need not exist. It holds a table for each figure to change,
        such as ``[caffeine_green]`` with ``low``, ``middle`` and ``high``.
    """

    def __init__(self, own: Path) -> None:
        self.own = own
        self._refused = ""
        self._figures: Figures | None = None

    def __call__(self) -> Figures:
        """Return the figures in force; what cannot be read of the user's own leaves the shipped ones in force."""
        if self._figures is None:
            self._figures = self._read()
        return self._figures

    @property
    def refused(self) -> str:
        """Return why the user's own figures are not in force, empty if they are or there are none."""
        self()
        return self._refused

    def _read(self) -> Figures:
        tables = [
            tomllib.loads(one.read_text(encoding="utf-8"))
            for one in sorted(files(SHIPPED).iterdir(), key=lambda one: one.name)
            if one.name.endswith(".toml")
        ]
        shipped = figures_from_table(*tables)
        if not self.own.is_file():
            return shipped
        try:
            return shipped.with_own(tomllib.loads(self.own.read_text(encoding="utf-8")))
        except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError, QuantityError) as exc:
            self._refused = f"{self.own}: {exc} The figures that ship are in force."
            return shipped
