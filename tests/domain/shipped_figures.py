"""The figures that ship, read here without the platform, and once."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files

from tastebook.domain.figures import Figures, figures_from_table


@cache
def shipped_figures(*names: str) -> Figures:
    """Return the figures of some of the files that ship, such as `water`."""
    folder = files("tastebook.resources.figures")
    return figures_from_table(*(tomllib.loads((folder / f"{name}.toml").read_text(encoding="utf-8")) for name in names))
