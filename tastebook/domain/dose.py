"""Leaf mass by eye: from how full the vessel is, and how the leaf is made.

    leaf (g) = fill (share of the vessel) x volume (ml) x bulk density (g/ml)

Bulk densities are *from memory*, rounded, and vary by a third either way with the leaf at hand; the estimate says so.
They are figures (``resources/figures/leaf.toml``) that the user can change. The table below holds the same middles for
callers that have no figures at hand; a test keeps the two alike.
"""

from __future__ import annotations

from typing import Final

from tastebook.domain.errors import QuantityError
from tastebook.domain.figures import Figures, Range
from tastebook.domain.quantities import LEAF_G, VOLUME_ML

BULK_DENSITY_G_PER_ML: Final = {
    "ball": 0.38,
    "strip": 0.13,
    "needle": 0.20,
    "flat": 0.16,
    "bud": 0.10,
    "broken": 0.30,
    "compressed": 0.60,
    "powder": 0.40,
}
"""Dry leaf, poured and not pressed, in g/ml (*from memory*; no published table was at hand)."""

OTHER_LEAF_G_PER_ML: Final = 0.20
SPREAD: Final = 0.33
"""How far the estimate may be off either way, for the leaf and for the eye together."""


def leaf_by_eye_g(fill: float, volume_ml: float, form: str) -> float:
    """Return the mass of dry leaf that fills a share of a vessel.

    Parameters
    ----------
    fill : float
        Share of the vessel that the dry leaf fills, above 0, at most 1.
    volume_ml : float
        What the vessel holds.
    form : str
        Form of the leaf as in `lot.FORMS`; another word counts as loose leaf of middle density.

    Raises
    ------
    QuantityError
        If the share or the volume cannot be.
    """
    density = BULK_DENSITY_G_PER_ML.get(form, OTHER_LEAF_G_PER_ML)
    return round(_filled_ml(fill, volume_ml) * density, 1)


def leaf_by_eye(fill: float, volume_ml: float, form: str, figures: Figures) -> Range:
    """Return the mass of dry leaf that fills a share of a vessel, in g, with its range.

    Parameters are those of `leaf_by_eye_g`; nothing is rounded.

    Raises
    ------
    QuantityError
        If the share, the volume or the mass that follows cannot be.
    """
    key = f"bulk_{form}" if figures.has(f"bulk_{form}") else "bulk_other"
    leaf_g = figures.range(key).times(_filled_ml(fill, volume_ml))
    LEAF_G.checked(leaf_g.middle)
    return leaf_g


def leaf_estimate_g(leaf_g: float, *, by_eye: bool) -> Range:
    """Return leaf as a session keeps it: weighed, or by eye and then a third more or less.

    Raises
    ------
    QuantityError
        If the mass cannot be.
    """
    LEAF_G.checked(leaf_g)
    return Range(leaf_g * (1 - SPREAD), leaf_g, leaf_g * (1 + SPREAD)) if by_eye else Range.exactly(leaf_g)


def _filled_ml(fill: float, volume_ml: float) -> float:
    if not 0 < fill <= 1:
        raise QuantityError(f"The leaf cannot fill {fill * 100:g} % of the vessel: it must be above 0, to 100 %.")
    return fill * VOLUME_ML.checked(volume_ml)
