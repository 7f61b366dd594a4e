"""Reads the published tables of `data/`; its README names every source."""

from __future__ import annotations

import csv
from pathlib import Path

DATA = Path(__file__).parent / "data"


def rows(name: str) -> list[dict[str, str]]:
    """Return a table as words, one mapping for each row."""
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))
