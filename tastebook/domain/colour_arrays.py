"""Many colours at once: sRGB, CIE XYZ, CIELAB, ΔE00 and chromatic adaptation over arrays of pixels.

`colour.py` does the same for one colour, through coloraide; the tests hold the two together.
"""

from __future__ import annotations

from typing import Any, Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

FloatArray: TypeAlias = NDArray[np.float64]
ByteArray: TypeAlias = NDArray[np.uint8]

_XYZ_OF_SRGB: Final = np.array(
    [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]], dtype=np.float64
)
"""IEC 61966-2-1, from linear sRGB to XYZ."""

D65: Final[FloatArray] = _XYZ_OF_SRGB.sum(axis=1)
"""XYZ of the white of sRGB, Y = 1."""

_BRADFORD: Final = np.array(
    [[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]], dtype=np.float64
)
"""From XYZ to the sharpened cone responses of the Bradford transform (ICC.1:2010, annex E)."""

_EPSILON: Final = 216 / 24389
_KAPPA: Final = 24389 / 27
_POW25_7: Final = 25.0**7


def linear_from_srgb(srgb: NDArray[Any]) -> FloatArray:
    """Return linear light, 0 to 1, of sRGB values from 0 to 255.

    References
    ----------
    IEC 61966-2-1.
    """
    coded = np.asarray(srgb, dtype=np.float64) / 255
    return np.where(coded <= 0.04045, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4)


def xyz_from_linear(linear: FloatArray) -> FloatArray:
    """Return XYZ, white having Y = 1, of linear sRGB; the last axis holds the channels."""
    return linear @ _XYZ_OF_SRGB.T


def lab_from_xyz(xyz: FloatArray) -> FloatArray:
    """Return CIELAB under D65 (CIE 15)."""
    ratio = xyz / D65
    root = np.where(ratio > _EPSILON, np.cbrt(ratio), (_KAPPA * ratio + 16) / 116)
    x, y, z = root[..., 0], root[..., 1], root[..., 2]
    return np.stack((116 * y - 16, 500 * (x - y), 200 * (y - z)), axis=-1)


def luminance_of(lightness: float) -> float:
    """Return Y, 0 to 1, of a lightness L* (CIE 15)."""
    return float(((lightness + 16) / 116) ** 3 if lightness > 8 else lightness / _KAPPA)


def bradford_responses(xyz: FloatArray) -> FloatArray:
    """Return the sharpened cone responses of the Bradford transform, from long waves to short."""
    responses: FloatArray = xyz @ _BRADFORD.T
    return responses


def adapted_to_d65(xyz: FloatArray, white: FloatArray) -> FloatArray:
    """Return what colours seen under one white come to under D65, by the Bradford transform; `white` has Y = 1.

    References
    ----------
    ICC.1:2010, annex E (linear Bradford).
    """
    gains = (_BRADFORD @ D65) / (_BRADFORD @ white)
    through = np.linalg.inv(_BRADFORD) @ np.diag(gains) @ _BRADFORD
    adapted: FloatArray = xyz @ through.T
    return adapted


def delta_e00_between(lab_a: FloatArray, lab_b: FloatArray) -> FloatArray:
    """Return the CIEDE2000 differences of colours, all weights 1; the last axis holds L*, a*, b*.

    References
    ----------
    Sharma, Wu & Dalal (2005), Color Res. Appl. 30:21-30, doi 10.1002/col.20070, equations 2 to 22.
    """
    l_a, a_a, b_a = np.moveaxis(np.asarray(lab_a, dtype=np.float64), -1, 0)
    l_b, a_b, b_b = np.moveaxis(np.asarray(lab_b, dtype=np.float64), -1, 0)
    mean_c7 = ((np.hypot(a_a, b_a) + np.hypot(a_b, b_b)) / 2) ** 7
    stretch = 1 + (1 - np.sqrt(mean_c7 / (mean_c7 + _POW25_7))) / 2
    c_a, c_b = np.hypot(stretch * a_a, b_a), np.hypot(stretch * a_b, b_b)
    h_a, h_b = (np.degrees(np.arctan2(b, stretch * a)) % 360 for a, b in ((a_a, b_a), (a_b, b_b)))
    has_hue = (c_a * c_b) > 0
    turn = np.where(has_hue, (h_b - h_a + 180) % 360 - 180, 0.0)
    d_l, d_c = l_b - l_a, c_b - c_a
    d_h = 2 * np.sqrt(c_a * c_b) * np.sin(np.radians(turn) / 2)
    mean_l, mean_c = (l_a + l_b) / 2, (c_a + c_b) / 2
    mean_h = np.where(has_hue, _mean_hue_deg(h_a, h_b), h_a + h_b)
    tilt = (
        1
        - 0.17 * np.cos(np.radians(mean_h - 30))
        + 0.24 * np.cos(np.radians(2 * mean_h))
        + 0.32 * np.cos(np.radians(3 * mean_h + 6))
        - 0.20 * np.cos(np.radians(4 * mean_h - 63))
    )
    s_l = 1 + 0.015 * (mean_l - 50) ** 2 / np.sqrt(20 + (mean_l - 50) ** 2)
    s_c, s_h = 1 + 0.045 * mean_c, 1 + 0.015 * mean_c * tilt
    rotation = -2 * np.sqrt(mean_c**7 / (mean_c**7 + _POW25_7))
    rotation = rotation * np.sin(np.radians(60 * np.exp(-(((mean_h - 275) / 25) ** 2))))
    l_part, c_part, h_part = d_l / s_l, d_c / s_c, d_h / s_h
    squared = l_part**2 + c_part**2 + h_part**2 + rotation * c_part * h_part
    difference: FloatArray = np.sqrt(np.maximum(squared, 0.0))
    return difference


def _mean_hue_deg(h_a: FloatArray, h_b: FloatArray) -> FloatArray:
    """Return the hue half-way between two, the short way round."""
    half = (h_a + h_b) / 2
    mean: FloatArray = np.where(np.abs(h_a - h_b) <= 180, half, np.where(h_a + h_b < 360, half + 180, half - 180))
    return mean
