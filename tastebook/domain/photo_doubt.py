"""How far a colour told from a photograph may be from the liquor's own.

The porcelain tells the colour of the light, not which wavelengths it lacks, and neither how much of the lamp the camera
has balanced away before. Two liquors that look alike by one lamp do not by daylight, and by the next lamp they part the
other way: no balance can be right by all of them. By daylight there is little of this, by lamplight much, and more the
more colourful the liquor is.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from tastebook.domain.session import Lab

# Worked out here, and held in `tests/reference/test_photo_doubt.py` to a standard's reflectances, which the cups of
# `test_photo_colour.py` have no part in. By daylight and by every lamp there, nine in ten lie within.
_PICTURE_E00: Final = 1.0
"""Grain, eight bits, JPEG, and light that falls off across the cup."""
_BY_DAYLIGHT: Final = 0.22
_BY_LAMP: Final = 0.9


@dataclass(frozen=True)
class Doubt:
    """How far the colour may be off, as ΔE00: about nine in ten lie nearer.

    Parameters
    ----------
    by_daylight_e00, by_lamp_e00 : float
        If daylight lit the cup, and if a warm bulb, a good tube or a white LED did. Poor tubes and lamps mixed of three
        colours hide more, and whatever a camera does to please comes on top.
    """

    by_daylight_e00: float
    by_lamp_e00: float


def doubt_of(lab: Lab, spread_e00: float) -> Doubt:
    """Return how far a colour from a photo may be off.

    Parameters
    ----------
    lab : Lab
        What the photo tells.
    spread_e00 : float
        How much the liquor varies within the patch.
    """
    colourful = math.sqrt(math.hypot(lab[1], lab[2]))
    by_daylight, by_lamp = (
        round(math.hypot(_PICTURE_E00, spread_e00, share * colourful), 1) for share in (_BY_DAYLIGHT, _BY_LAMP)
    )
    return Doubt(by_daylight, by_lamp)
