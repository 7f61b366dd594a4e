"""What is taken for white porcelain in a photograph: whether it could be, as far as the picture itself tells."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from tastebook.domain.colour_arrays import (
    ByteArray,
    FloatArray,
    bradford_responses,
    linear_from_srgb,
    xyz_from_linear,
)

TOP: Final = 254
"""From here on, a channel is at the end of its scale."""

_LAMPS_K: Final = (1900.0, 20_000.0)
_MOST_OFF_LAMPS_UV: Final = 0.025
_WARMEST_DAYLIGHT_K: Final = 4000.0
"""Ours: below it, only the light near sunrise and sunset is daylight."""

_CELLS_ACROSS: Final = 80
_MOST_CELL_AT_TOP: Final = 0.05
_WHITER: Final = 1.2
"""In one light, nothing that throws it back is brighter than glazed porcelain and by a fifth bluer as well: porcelain
already returns about 0.85 of every part. Light of two kinds can make it so; hence this asks and does not refuse."""
_NEARLY: Final = 0.85
_LEAST_NEIGHBOURS: Final = 7
"""Of a cell and the eight around it: an area is meant, not a spark or a thread."""


@dataclass(frozen=True, eq=False)
class Cells:
    """A picture in coarse squares.

    Parameters
    ----------
    xyz : ndarray, shape (rows, columns, 3)
        Their means.
    is_lost : ndarray of bool, shape (rows, columns)
        Whether part of the square ran into the end of the scale: what is left there is no colour.
    """

    xyz: FloatArray
    is_lost: NDArray[np.bool_]


def cells_of(pixels: ByteArray) -> Cells:
    """Return a picture in coarse squares, about 80 along its shorter side."""
    height, width = pixels.shape[:2]
    stride = max(1, min(height, width) // (4 * _CELLS_ACROSS))
    thinned = pixels[::stride, ::stride]
    side = max(1, min(thinned.shape[:2]) // _CELLS_ACROSS)
    rows, columns = thinned.shape[0] // side, thinned.shape[1] // side
    squares = thinned[: rows * side, : columns * side].reshape(rows, side, columns, side, 3)
    at_top = (squares >= TOP).any(axis=-1).mean(axis=(1, 3))
    return Cells(xyz_from_linear(linear_from_srgb(squares).mean(axis=(1, 3))), at_top > _MOST_CELL_AT_TOP)


def whiter_place(cells: Cells, white: FloatArray) -> tuple[float, float] | None:
    """Return the middle of an area brighter and bluer than white can be beside such porcelain; None if there is none.

    Parameters
    ----------
    cells : Cells
    white : ndarray, shape (3,)
        XYZ of what is taken for porcelain.

    Returns
    -------
    tuple of float or None
        Shares of width and height: among the brightest the most even place, so that it can be tapped.
    """
    brighter = cells.xyz[..., 1] / white[1]
    bluer = bradford_responses(cells.xyz)[..., 2] / bradford_responses(white)[2]
    is_whiter = ~cells.is_lost & (brighter >= 1) & (bluer >= _WHITER * brighter)
    inside = is_whiter & (_with_neighbours(is_whiter).sum(axis=0) >= _LEAST_NEIGHBOURS)
    if not inside.any():
        return None
    nearby = _with_neighbours(cells.xyz[..., 1])
    is_bright = inside & (brighter >= _NEARLY * brighter[inside].max())
    uneven = np.where(is_bright, nearby.max(axis=0) / np.maximum(nearby.min(axis=0), 1e-6), np.inf)
    row, column = np.unravel_index(int(np.argmin(uneven)), inside.shape)
    return (float(column) + 0.5) / inside.shape[1], (float(row) + 0.5) / inside.shape[0]


def _with_neighbours(squares: NDArray[Any]) -> NDArray[Any]:
    """Return each square and the eight around it, along a new first axis; beyond the edge, the edge goes on."""
    padded = np.pad(squares, 1, mode="edge")
    rows, columns = squares.shape
    return np.stack([padded[down : down + rows, across : across + columns] for down in range(3) for across in range(3)])


def could_be_light(xyz: FloatArray) -> bool:
    """Say whether a colour lies near those of daylight and lamps, from candle to blue sky.

    The distance allowed is ours, wide enough for the greenish light of tubes and for a camera's own balance.
    """
    return _nearest_black_body(xyz)[1] <= _MOST_OFF_LAMPS_UV


def is_warm_as_lamplight(xyz: FloatArray) -> bool:
    """Say whether a white as taken is too warm for daylight: the camera has left the lamp in the picture."""
    return _nearest_black_body(xyz)[0] < _WARMEST_DAYLIGHT_K


def _nearest_black_body(xyz: FloatArray) -> tuple[float, float]:
    """Return the temperature of the black body nearest in colour, in kelvin, and how far it lies in CIE 1960 (u, v).

    References
    ----------
    Krystek (1985), Color Res. Appl. 10:38-40.
    """
    total = xyz[0] + 15 * xyz[1] + 3 * xyz[2]
    u, v = 4 * xyz[0] / total, 6 * xyz[1] / total
    kelvin = np.geomspace(*_LAMPS_K, 200)
    body_u = (0.860117757 + 1.54118254e-4 * kelvin + 1.28641212e-7 * kelvin**2) / (
        1 + 8.42420235e-4 * kelvin + 7.08145163e-7 * kelvin**2
    )
    body_v = (0.317398726 + 4.22806245e-5 * kelvin + 4.20481691e-8 * kelvin**2) / (
        1 - 2.89741816e-5 * kelvin + 1.61456053e-7 * kelvin**2
    )
    away = np.hypot(u - body_u, v - body_v)
    nearest = int(np.argmin(away))
    return float(kelvin[nearest]), float(away[nearest])
