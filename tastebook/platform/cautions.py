"""The cautions that ship."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files

from tastebook.domain.caution import Caution, cautions_from_table


@cache
def load_cautions() -> tuple[Caution, ...]:
    """Return every caution, in the order of the file.

    Raises
    ------
    VocabularyError
        If the file cannot be read as cautions.
    """
    text = (files("tastebook.resources") / "cautions.toml").read_text(encoding="utf-8")
    return cautions_from_table(tomllib.loads(text))
