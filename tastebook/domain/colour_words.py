"""Names of colours, of the liquor and of the leaf: each a region of CIELAB around a centre."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Final, Literal, TypeAlias

from tastebook.domain.colour import in_gamut
from tastebook.domain.errors import VocabularyError
from tastebook.domain.liquor import swatch_called
from tastebook.domain.session import Lab

Surface: TypeAlias = Literal["liquor", "leaf"]

SWATCH_RADIUS_E00: Final = 6.0
"""A liquor colour reaches about to the next swatches of the chart."""

LIGHTEST_L, DARKEST_L = 98.0, 8.0
CHROMA_BACK: Final = 0.9


@dataclass(frozen=True)
class ColourName:
    """One name of a colour.

    Parameters
    ----------
    of : {"liquor", "leaf"}
        What has this colour.
    swatch : str
        Of a liquor: the swatch of the chart that is its centre, empty where `centre` says it.
    centre : Lab or None
        CIELAB under D65.
    radius_e00 : float
        How far the region reaches, in ΔE00.
    """

    name: str
    of: Surface
    swatch: str = ""
    centre: Lab | None = None
    radius_e00: float = SWATCH_RADIUS_E00
    synonyms: tuple[str, ...] = ()
    zh: str = ""
    pinyin: str = ""
    source: str = ""

    @property
    def terms(self) -> tuple[str, ...]:
        """Return everything it is called by, the name first."""
        return tuple(term for term in (self.name, *self.synonyms, self.zh, self.pinyin) if term)

    @cached_property
    def lab(self) -> Lab:
        """Return the centre of the region."""
        found = self.centre or swatch_called(self.swatch)
        if found is None:
            raise VocabularyError(f"colours: no swatch is called “{self.swatch}”.")
        return found


@dataclass(frozen=True)
class Shade:
    """What is said before a colour (`pale`, `deep`), and how far it moves its centre."""

    words: tuple[str, ...]
    d_l: float
    chroma: float

    def of(self, lab: Lab) -> Lab:
        """Return a colour in this shade, one that a screen can show."""
        lightness = min(LIGHTEST_L, max(DARKEST_L, lab[0] + self.d_l))
        a, b = lab[1] * self.chroma, lab[2] * self.chroma
        while not in_gamut((lightness, a, b)):
            a, b = a * CHROMA_BACK, b * CHROMA_BACK
        return (round(lightness, 3), round(a, 3), round(b, 3))
