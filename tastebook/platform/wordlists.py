"""The word lists that ship with the program, read into a vocabulary."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any, Final

from tastebook.domain.errors import VocabularyError
from tastebook.domain.vocabulary import Vocabulary
from tastebook.domain.vocabulary_tables import vocabulary_from_tables

PACKAGE: Final = "tastebook.resources.vocabulary"
RULES: Final = "tastebook.resources.grammar"
FAMILIES, SCALES, LIQUOR, MOUTH, COLOURS = "families.toml", "scales.toml", "liquor.toml", "mouth.toml", "colours.toml"
MEANINGS: Final = "meanings.toml"
"""The lists with a shape of their own; every other file in the folder is a list of descriptors."""


def load_vocabulary(folder: Traversable | None = None) -> Vocabulary:
    """Return the vocabulary of the packaged word lists and rules, or of another folder of the same shape.

    Raises
    ------
    VocabularyError
        If a list is missing, is no TOML (file and line are named) or contradicts itself.
    """
    place = files(PACKAGE) if folder is None else folder
    return vocabulary_from_tables(
        _table(place / FAMILIES),
        list(_descriptor_tables(place)),
        _table(place / SCALES),
        _table(place / LIQUOR),
        _table(place / MOUTH),
        _table(place / COLOURS),
        {file.name.removesuffix(".toml"): _table(file) for file in _lists(files(RULES))},
        _table(place / MEANINGS),
    )


def _descriptor_tables(place: Traversable) -> Iterator[dict[str, Any]]:
    for file in _lists(place):
        if file.name not in (FAMILIES, SCALES, LIQUOR, MOUTH, COLOURS, MEANINGS):
            yield _table(file)


def _lists(place: Traversable) -> list[Traversable]:
    found = (file for file in place.iterdir() if file.name.endswith(".toml"))
    return sorted(found, key=lambda file: file.name)


def _table(file: Traversable) -> dict[str, Any]:
    try:
        return tomllib.loads(file.read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as exc:
        raise VocabularyError(f"{file.name}: {exc}. The word list cannot be read until this is mended.") from exc
    except UnicodeDecodeError as exc:
        line = exc.object[: exc.start].count(b"\n") + 1
        raise VocabularyError(f"{file.name}: line {line} is not UTF-8 text. Save the word list as UTF-8.") from exc
    except OSError as exc:
        raise VocabularyError(f"{file.name}: the word list cannot be opened ({exc.strerror}).") from exc
