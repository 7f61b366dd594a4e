"""Leaf mass by eye: from how full the vessel is, and how the leaf is made.

Bulk densities are *from memory*, rounded, and vary by a third either way with the leaf at hand; the estimate says so.
"""

from __future__ import annotations

from typing import Final

from tastebook.domain.errors import QuantityError
from tastebook.domain.quantities import VOLUME_ML

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
    if not 0 < fill <= 1:
        raise QuantityError(f"The leaf cannot fill {fill * 100:g} % of the vessel: it must be above 0, to 100 %.")
    density = BULK_DENSITY_G_PER_ML.get(form, OTHER_LEAF_G_PER_ML)
    return round(fill * VOLUME_ML.checked(volume_ml) * density, 1)
