"""Judges that are slow to load, loaded once."""

from __future__ import annotations

import warnings
from typing import Any

import pytest

from tests.reference.lit import Tables, tables_of


@pytest.fixture(scope="session")
def colour_science() -> Any:
    """Return colour-science, the second judge of colours; on import it warns of plotting, which nobody asked for."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour
    return colour


@pytest.fixture(scope="session")
def tables(colour_science: Any) -> Tables:
    """Return lamps, observer and reflectances on one grid of wavelengths."""
    return tables_of(colour_science)
