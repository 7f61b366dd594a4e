"""Cautions: what can hurt somebody at a tasting, in plain words, with where each figure comes from."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal, TypeAlias, cast, get_args

from tastebook.domain.errors import VocabularyError

Place: TypeAlias = Literal["timer", "help", "page"]
"""Where a caution is shown."""

_WORDS: Final = ("key", "title", "text", "brief", "source")


@dataclass(frozen=True)
class Caution:
    """One caution; `brief` is what fits on one line, `text` all of it."""

    key: str
    title: str
    text: str
    brief: str
    source: str
    where: tuple[Place, ...]


def cautions_from_table(table: Mapping[str, Any]) -> tuple[Caution, ...]:
    """Return the cautions that the parsed caution file holds, in its order.

    Raises
    ------
    VocabularyError
        If a caution lacks a word or stands in an unknown place; the message begins with where in the file.
    """
    rows = table.get("cautions")
    if not isinstance(rows, list) or not rows:
        raise VocabularyError("cautions: at least one [[cautions]] is needed.")
    return tuple(_caution(row, f"cautions[{number}]") for number, row in enumerate(rows, start=1))


def _caution(row: Mapping[str, Any], where: str) -> Caution:
    for key in _WORDS:
        if not isinstance(row.get(key), str) or not row[key].strip():
            raise VocabularyError(f"{where}.{key}: words in quotes are needed, not {row.get(key)!r}.")
    places = row.get("where")
    if not isinstance(places, list) or not places or not set(places) <= set(get_args(Place)):
        raise VocabularyError(f"{where}.where: a list of {', '.join(get_args(Place))} is needed, not {places!r}.")
    key, title, text, brief, source = (row[name].strip() for name in _WORDS)
    return Caution(key, title, text, brief, source, tuple(cast(Place, place) for place in places))


def shown_at(cautions: Iterable[Caution], place: Place) -> tuple[Caution, ...]:
    """Return the cautions that belong in one place."""
    return tuple(caution for caution in cautions if place in caution.where)
