"""The words that ship, for tests of any floor: read here without the platform, and once."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from tastebook.domain.vocabulary import Vocabulary
from tastebook.domain.vocabulary_tables import vocabulary_from_tables

OF_ITS_OWN_SHAPE = ("families", "scales", "liquor", "mouth", "colours", "meanings")


def real_tables() -> dict[str, dict[str, Any]]:
    """Return every word list that ships, by the name of its file without the ending."""
    return _tables("tastebook.resources.vocabulary")


@cache
def real_rules() -> dict[str, dict[str, Any]]:
    """Return the rules of the say line that ship, by the name of their file without the ending."""
    return _tables("tastebook.resources.grammar")


def _tables(package: str) -> dict[str, dict[str, Any]]:
    found = (file for file in files(package).iterdir() if file.name.endswith(".toml"))
    return {file.name.removesuffix(".toml"): tomllib.loads(file.read_text(encoding="utf-8")) for file in found}


def vocabulary_of(tables: Mapping[str, Mapping[str, Any]], *, rules: bool = False) -> Vocabulary:
    """Return the vocabulary of tables, named as the files are; with the rules that ship if they are wanted."""
    lists = [tables[name] for name in sorted(tables) if name not in OF_ITS_OWN_SHAPE]
    return vocabulary_from_tables(
        tables["families"], lists, tables["scales"], tables["liquor"], tables.get("mouth"), tables.get("colours"),
        real_rules() if rules else None, tables.get("meanings"),
    )  # fmt: skip


@cache
def real_vocabulary() -> Vocabulary:
    """Return the vocabulary that ships."""
    return vocabulary_of(real_tables(), rules=True)
