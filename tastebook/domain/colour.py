"""CIELAB under D65, sRGB, and how far apart two colours look.

coloraide does the arithmetic. It is imported where it is used, since it costs some 65 ms that the first paint can do
without; results are remembered, since a Bench repaints the same few cups again and again.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from tastebook.domain.errors import QuantityError
from tastebook.domain.session import Lab

if TYPE_CHECKING:
    from coloraide import Color

_HEX: Final = re.compile(r"#[0-9a-f]{6}")
_REMEMBERED: Final = 4096


@lru_cache(maxsize=_REMEMBERED)
def srgb_from_lab(lab: Lab) -> str:
    """Return a colour as `#rrggbb`; one that no screen shows is brought in by lowering its chroma."""
    return str(_lab_colour(lab).convert("srgb").to_string(hex=True, fit="lch-chroma"))


@lru_cache(maxsize=_REMEMBERED)
def lab_from_hex(srgb: str) -> Lab:
    """Return the CIELAB coordinates (D65) of a colour written as `#rrggbb`.

    Raises
    ------
    QuantityError
        If `srgb` is not written so.

    References
    ----------
    IEC 61966-2-1 (sRGB) and CIE 15 (CIELAB).
    """
    from coloraide import Color

    written = srgb.lower()
    if not _HEX.fullmatch(written):
        raise QuantityError(f"“{srgb}” is not a screen colour: write it as #rrggbb, such as #d9b24c.")
    lightness, a, b = Color(written).convert("lab-d65").coords()
    return (float(lightness), float(a), float(b))


@lru_cache(maxsize=_REMEMBERED)
def in_gamut(lab: Lab) -> bool:
    """Say whether an sRGB screen can show a colour as it is."""
    return bool(_lab_colour(lab).in_gamut("srgb"))


@lru_cache(maxsize=_REMEMBERED)
def delta_e00(lab_a: Lab, lab_b: Lab) -> float:
    """Return the CIEDE2000 difference of two colours, all weights 1.

    References
    ----------
    Sharma, Wu & Dalal (2005), Color Res. Appl. 30:21-30, doi 10.1002/col.20070.
    """
    return float(_lab_colour(lab_a).delta_e(_lab_colour(lab_b), method="2000"))


def _lab_colour(lab: Lab) -> Color:
    from coloraide import Color

    return Color("lab-d65", list(lab))
