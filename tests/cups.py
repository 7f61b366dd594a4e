"""Cups drawn pixel by pixel: a disc of liquor in a disc of porcelain on a table, with what may go wrong in a photo."""

from __future__ import annotations

import io
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from tastebook.domain.photo_colour import Place, Raster

Level = tuple[int, int, int]

WHITE: Final[Level] = (235, 225, 200)
TEA: Final[Level] = (190, 130, 60)
TABLE: Final[Level] = (96, 72, 60)
IN_LIQUOR: Final[Place] = (0.5, 0.5)
IN_WHITE: Final[Place] = (0.5, 0.15)
OTHER_WHITE: Final[Place] = (0.5, 0.85)
ON_TABLE: Final[Place] = (0.04, 0.04)
AT_RIM: Final[Place] = (0.5, 0.26)
AT_BORDER: Final[Place] = (0.002, 0.5)


def cup_pixels(
    liquor: Level = TEA,
    white: Level = WHITE,
    *,
    size: tuple[int, int] = (480, 480),
    noise: float = 0.0,
    table: Level = TABLE,
) -> NDArray[np.uint8]:
    """Return a cup from above, as pixels; width and height, and camera noise as a standard deviation in levels."""
    width, height = size
    down, across = np.mgrid[0:height, 0:width]
    from_middle = np.hypot(across - (width - 1) / 2, down - (height - 1) / 2) / min(width, height)
    pixels = np.empty((height, width, 3), dtype=np.float64)
    pixels[:] = table
    pixels[from_middle < 0.45] = white
    pixels[from_middle < 0.24] = liquor
    if noise:
        pixels += np.random.default_rng(7).normal(0, noise, pixels.shape)
    return np.clip(np.rint(pixels), 0, 255).astype(np.uint8)


def cup(liquor: Level = TEA, white: Level = WHITE, **how: object) -> Raster:
    """Return a cup from above, as a picture."""
    return Raster(cup_pixels(liquor, white, **how))  # type: ignore[arg-type]


def picture_file(raster: Raster, format_name: str = "PNG") -> bytes:
    """Return a picture as a file."""
    out = io.BytesIO()
    Image.fromarray(raster.pixels).save(out, format_name)
    return out.getvalue()


def with_spot(raster: Raster, at: Place, radius: float, level: Level) -> Raster:
    """Return a picture with a round spot: a mirrored lamp, a leaf, a bubble."""
    pixels = raster.pixels.copy()
    down, across = np.mgrid[0 : raster.height, 0 : raster.width]
    shorter = min(raster.width, raster.height)
    spot = np.hypot(across - at[0] * (raster.width - 1), down - at[1] * (raster.height - 1)) <= radius * shorter
    pixels[spot] = level
    return Raster(pixels)
