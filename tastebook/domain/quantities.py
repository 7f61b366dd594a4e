"""Grams, millilitres, degrees, seconds: what they may be, and how they convert.

Every range is wide enough for any honest tasting and narrow enough to catch a slipped finger or a wrong unit. A value
outside is refused in words, never moved to the edge.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from tastebook.domain.errors import QuantityError


@dataclass(frozen=True)
class Quantity:
    """What one kind of number may be.

    Parameters
    ----------
    name : str
        As a person would say it, for messages.
    unit : str
        Unit of the stored number, as shown.
    least, most : float
        The allowed range, both ends included.
    """

    name: str
    unit: str
    least: float
    most: float

    def checked(self, value: float) -> float:
        """Return `value` if it can be meant.

        Raises
        ------
        QuantityError
            If it is not a finite number from `least` to `most`.
        """
        if math.isfinite(value) and self.least <= value <= self.most:
            return value
        unit = f" {self.unit}" if self.unit else ""
        raise QuantityError(
            f"{self.name} cannot be {value:.10g}{unit}: it must be from {self.least:.10g} to {self.most:.10g}{unit}."
        )


ALTITUDE_M = Quantity("altitude", "m", -430, 9000)
INTENSITY = Quantity("strength", "of 5", 0, 5)
LEAF_G = Quantity("leaf", "g", 0.1, 500)
OXIDATION_PCT = Quantity("oxidation", "%", 0, 100)
PLAN_S = Quantity("planned time", "s", 1, 172_800)
PRICE_PER_KG = Quantity("price", "per kg", 0, 1_000_000)
QUANTITY_G = Quantity("quantity", "g", 0, 10_000_000)
STEEP_S = Quantity("steep", "s", 0, 172_800)
TDS_MG_L = Quantity("dissolved solids", "mg/l", 0, 5000)
VOLUME_ML = Quantity("volume", "ml", 10, 5000)
WATER_C = Quantity("water", "°C", 0, 100)
YEAR = Quantity("harvest year", "", 1900, 2200)


def fahrenheit(temp_c: float) -> float:
    """Return °C as °F (exact by definition: 95 °C is 203 °F)."""
    return temp_c * 9 / 5 + 32


def celsius(temp_f: float) -> float:
    """Return °F as °C."""
    return (temp_f - 32) * 5 / 9
