"""Liquors and swatches as spectra, lamps as spectra, and what an observer sees of one by the other."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tastebook.domain.colour_arrays import lab_from_xyz, luminance_of
from tastebook.domain.liquor import chart

Array = NDArray[np.float64]

PORCELAIN_L = 94.0


@dataclass(frozen=True)
class Tables:
    """What colour-science brings, on one grid of wavelengths."""

    science: Any
    wavelengths: Array
    observer: Array

    def light(self, name: str) -> Array:
        shape = self.science.SpectralShape(380, 780, 5)
        return np.array(self.science.SDS_ILLUMINANTS[name].copy().align(shape).values)

    def xyz(self, reflectance: Array, light: Array) -> Array:
        found: Array = self.observer.T @ (reflectance * light) / (self.observer[:, 1] @ light)
        return found

    def lab(self, reflectance: Array) -> Any:
        return tuple(lab_from_xyz(self.xyz(reflectance, self.light("D65"))).tolist())


def tables_of(science: Any) -> Tables:
    """Return the tables that colour-science brings (CIE 15), on one grid."""
    shape = science.SpectralShape(380, 780, 5)
    observer = science.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape)
    return Tables(science, np.array(shape.wavelengths), np.array(observer.values))


def teas(tables: Tables) -> Iterator[Array]:
    """Yield the light that comes back through 20 liquors over porcelain."""
    for slope_nm in (45, 60, 80, 110):
        for depth in (0.15, 0.5, 1.2, 2.5, 5.0):
            through = np.exp(-depth * np.exp(-(tables.wavelengths - 400) / slope_nm))
            yield through * luminance_of(PORCELAIN_L)


def swatches(tables: Tables) -> Iterator[Array]:
    """Yield 24 swatches of the chart as smooth reflectances."""
    science = tables.science
    to_rgb = science.RGB_COLOURSPACES["sRGB"].matrix_XYZ_to_RGB
    white = science.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
    for row in chart():
        for place in (0, 3, 6, 9):
            rgb = np.clip(to_rgb @ science.Lab_to_XYZ(np.array(row[place]), white), 0, 1)
            spectrum = science.recovery.RGB_to_sd_Mallett2019(rgb)
            yield np.interp(tables.wavelengths, spectrum.wavelengths, spectrum.values)
