"""The word lists that ship with the program, read into a vocabulary."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any, Final

from tastebook.domain.errors import VocabularyError
from tastebook.domain.vocabulary import Vocabulary, vocabulary_from_tables

PACKAGE: Final = "tastebook.resources.vocabulary"
FAMILIES, SCALES, LIQUOR = "families.toml", "scales.toml", "liquor.toml"
"""The lists with a shape of their own; every other file in the folder is a list of descriptors."""


def load_vocabulary(folder: Traversable | None = None) -> Vocabulary:
    """Return the vocabulary of the packaged word lists, or of another folder of the same shape.

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
    )


def _descriptor_tables(place: Traversable) -> Iterator[dict[str, Any]]:
    for file in sorted(place.iterdir(), key=lambda each: each.name):
        if file.name.endswith(".toml") and file.name not in (FAMILIES, SCALES, LIQUOR):
            yield _table(file)


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
