"""How far the colour of a liquor in a photograph is right: on rendered cups of known colour, and on a real photograph.

Rendered cups. Spectra: liquors whose absorbance falls exponentially from blue to red, at 20 depths and slopes (the form
is that of brown plant matter in water, *from memory*; the strengths are ours), and 24 swatches of the chart as the
smooth reflectances of Mallett & Yuksel (2019), "Spectral primary decomposition for rendering with sRGB reflectance".
Light: CIE illuminants A, D50, D65, FL11 and LED-B3, whose tables colour-science brings (CIE 15). Observer: CIE 1931.
The camera is an ideal one, set to daylight; its sRGB picture has 8 bits, grain, falling light towards the corners, a
mirrored lamp, and was saved as JPEG. What it cannot show is whatever a real camera does to please.

Measured on 440 cups: with the camera set to daylight, the five lights give a median of 1.2 and a worst of 3.7; half of
the cups under illuminant A are refused, since sRGB has no room for their blue. A camera that balances itself (four
fifths of the way with CAT02, not with Bradford, so that the test does not mirror the program) has room for nearly all
of them, and bends them: there the worst under A is 5.1, which no later balance takes back. No threshold was tuned on
these cups. What else white balance cannot do is measured apart: see the last tests.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

from tastebook.domain.colour import delta_e00
from tastebook.domain.colour_arrays import lab_from_xyz, luminance_of
from tastebook.domain.errors import ColourRefused
from tastebook.domain.liquor import chart, colour_name
from tastebook.domain.photo_colour import (
    Patch,
    PhotoColour,
    Raster,
    balanced,
    colour_from_photo,
    liquor_patch,
    white_patch,
)
from tastebook.platform.pictures import PillowPictures
from tests.cups import IN_LIQUOR, with_spot

Array = NDArray[np.float64]

PORCELAIN_L = 94.0
FIVE = ("A", "D50", "D65", "FL11", "LED-B3")
CAMERAS = ("daylight", "automatic")
SIDE = 320
NEAR_WHITE = (0.5, 0.19)
LAMP_AT = (0.6, 0.42)
_BALANCED = 0.8


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


@pytest.fixture(scope="module")
def tables(colour_science: Any) -> Tables:
    shape = colour_science.SpectralShape(380, 780, 5)
    observer = colour_science.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape)
    return Tables(colour_science, np.array(shape.wavelengths), np.array(observer.values))


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


def photographed(tables: Tables, reflectance: Array, light: Array, camera: str, seed: int) -> Raster:
    """Return a cup as the camera saves it, read back from its JPEG."""
    porcelain = tables.xyz(np.full_like(light, luminance_of(PORCELAIN_L)), light)
    linear = np.array([_seen(tables, one, porcelain, camera) for one in (porcelain, tables.xyz(reflectance, light))])
    linear *= 0.8 / linear[0].max()
    down, across = np.mgrid[0:SIDE, 0:SIDE] / (SIDE - 1) - 0.5
    away = np.hypot(across, down)
    picture = np.where((away < 0.26)[..., None], linear[1], linear[0])
    picture[away > 0.45] = (0.12, 0.07, 0.04)
    picture *= (1 - 0.12 * (away / 0.707) ** 2)[..., None]
    coded = np.where(picture <= 0.0031308, 12.92 * picture, 1.055 * np.maximum(picture, 1e-9) ** (1 / 2.4) - 0.055)
    grain = np.random.default_rng(seed).normal(0, 2.0, coded.shape)
    pixels = np.clip(np.rint(coded * 255 + grain), 0, 255).astype(np.uint8)
    out = io.BytesIO()
    Image.fromarray(with_spot(Raster(pixels), LAMP_AT, 0.02, (255, 255, 255)).pixels).save(out, "JPEG", quality=90)
    return PillowPictures().raster(out.getvalue(), SIDE)


def _seen(tables: Tables, xyz: Array, white: Array, camera: str) -> Array:
    """Return linear sRGB of what a camera sees."""
    science = tables.science
    if camera == "automatic":
        d65 = science.xy_to_XYZ(science.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"])
        aim = _BALANCED * d65 + (1 - _BALANCED) * white / white[1]
        xyz = science.chromatic_adaptation(xyz, white / white[1], aim, method="Von Kries", transform="CAT02")
    seen: Array = np.array(science.RGB_COLOURSPACES["sRGB"].matrix_XYZ_to_RGB @ xyz)
    return seen


def told(raster: Raster) -> PhotoColour:
    white = white_patch(raster, NEAR_WHITE)
    return colour_from_photo(raster, [white], liquor_patch(raster, IN_LIQUOR), PORCELAIN_L)


@dataclass(frozen=True)
class Found:
    """How one cup came out: the difference from its colour, or why it was refused."""

    light: str
    camera: str
    off_e00: float
    refusal: str = ""


def tried(tables: Tables, spectra: list[Array], lights: tuple[str, ...]) -> list[Found]:
    found = []
    for light in lights:
        for camera in CAMERAS:
            for seed, spectrum in enumerate(spectra):
                try:
                    raster = photographed(tables, spectrum, tables.light(light), camera, seed)
                    off = delta_e00(told(raster).lab, tables.lab(spectrum))
                    found.append(Found(light, camera, off))
                except ColourRefused as exc:
                    found.append(Found(light, camera, math.nan, str(exc)))
    return found


@pytest.fixture(scope="module")
def cups(tables: Tables) -> list[Found]:
    return tried(tables, [*teas(tables), *swatches(tables)], FIVE)


def measured(found: list[Found], **of: str) -> list[float]:
    those = [one for one in found if all(getattr(one, key) == value for key, value in of.items())]
    return [one.off_e00 for one in those if not one.refusal]


class TestRenderedCups:
    def test_half_of_all_colours_are_right_within_2_and_all_within_4(self, cups: list[Found]) -> None:
        off = measured(cups, camera="daylight")

        assert np.median(off) <= 2.0
        assert max(off) <= 4.0

    @pytest.mark.parametrize("light", FIVE)
    def test_under_every_light_half_are_right_within_2(self, cups: list[Found], light: str) -> None:
        assert np.median(measured(cups, camera="daylight", light=light)) <= 2.0

    def test_a_camera_that_balances_itself_bends_some_further_by_lamplight_and_by_no_other_light(
        self, cups: list[Found]
    ) -> None:
        by_lamp = measured(cups, camera="automatic", light="A")
        others = [measured(cups, camera="automatic", light=light) for light in FIVE if light != "A"]

        assert np.median(measured(cups, camera="automatic")) <= 2.0
        assert 4.0 < max(by_lamp) <= 5.5
        assert all(max(off) <= 4.0 for off in others)

    def test_nine_in_ten_cups_tell_their_colour_and_all_do_by_daylight(self, cups: list[Found]) -> None:
        refused = [one for one in cups if one.refusal]

        assert len(refused) <= 0.1 * len(cups)
        assert not [one for one in refused if one.light in ("D50", "D65")]

    def test_what_is_refused_lies_beyond_what_the_picture_or_a_screen_can_hold(self, cups: list[Found]) -> None:
        refusals = [one.refusal for one in cups if one.refusal]

        assert refusals
        assert [one for one in refusals if "no blue left" not in one and "no liquor has" not in one] == []

    def test_the_mirrored_lamp_is_refused(self, tables: Tables) -> None:
        spectrum = list(teas(tables))[7]
        raster = photographed(tables, spectrum, tables.light("D65"), "daylight", 1)

        with pytest.raises(ColourRefused, match="mirrors a lamp"):
            liquor_patch(raster, LAMP_AT)

    def test_another_porcelain_than_assumed_moves_lightness_and_little_else(self, tables: Tables) -> None:
        raster = photographed(tables, list(teas(tables))[7], tables.light("D65"), "daylight", 1)
        patches = [white_patch(raster, NEAR_WHITE)], liquor_patch(raster, IN_LIQUOR)

        low, high = (colour_from_photo(raster, *patches, porcelain_l).lab for porcelain_l in (90.0, 96.0))

        assert 3 < high[0] - low[0] < 7
        assert math.hypot(high[1] - low[1], high[2] - low[2]) < 3


class TestWhatWhiteBalanceCannotDo:
    """Lamps whose spectrum has gaps, and colours with sharp edges: no white balance can know what they hide."""

    def test_cheap_tubes_hide_more_than_four(self, tables: Tables) -> None:
        # FL2 has a general colour rendering index of 64 (CIE 13.3).
        off = measured(tried(tables, list(teas(tables)), ("FL2",)))

        assert np.median(off) < 4
        assert 4 < max(off) < 9

    def test_what_the_picture_adds_to_the_arithmetic_is_small(self, tables: Tables) -> None:
        # Under D65 nothing is to be adapted: what is left comes from grain, 8 bits, JPEG and falling light.
        off = measured(tried(tables, list(teas(tables)), ("D65",)), camera="daylight")

        assert np.median(off) < 1.0
        assert max(off) < 1.8


@cache
def coffee() -> Raster:
    """Return scikit-image's photograph of a cup of coffee by lamplight: white inside and at the rim, red outside."""
    from skimage import data

    return Raster(np.ascontiguousarray(data.coffee()))


def at(x: int, y: int) -> tuple[float, float]:
    """Return a place in that photograph from its pixel, in 600 by 400."""
    return x / 599, y / 399


RIM = ((396, 107), (234, 32), (330, 194), (393, 137))
CREMA = (270, 150)


class TestARealPhotograph:
    def patches(self, rim: tuple[int, int], liquor: tuple[int, int] = CREMA) -> tuple[Patch, Patch]:
        return white_patch(coffee(), at(*rim)), liquor_patch(coffee(), at(*liquor))

    def colour(self, rim: tuple[int, int]) -> PhotoColour:
        white, liquor = self.patches(rim)
        return colour_from_photo(coffee(), [white], liquor, PORCELAIN_L)

    def test_the_rim_is_yellowish_as_taken_and_neutral_once_balanced(self) -> None:
        white = white_patch(coffee(), at(*RIM[0]))
        others = [white_patch(coffee(), at(*rim)) for rim in RIM[1:]]

        scale = luminance_of(PORCELAIN_L) / white.xyz[1]
        labs = [lab_from_xyz(balanced(other.xyz, white.xyz) * scale) for other in others]

        assert lab_from_xyz(white.xyz)[2] > 4
        assert all(math.hypot(lab[1], lab[2]) < 3 for lab in labs)
        assert all(abs(lab[0] - PORCELAIN_L) < 3 for lab in labs)

    def test_the_crema_is_light_brown_and_its_spread_is_told(self) -> None:
        found = self.colour(RIM[0])
        hue = math.degrees(math.atan2(found.lab[2], found.lab[1]))

        assert colour_name(found.lab) == "orange amber"
        assert 60 < hue < 75
        assert 0.5 < found.spread_e00 < 2
        assert found.spread_e00 < found.ninth_e00 < 4

    def test_whichever_part_of_the_rim_is_tapped_it_is_the_same_colour(self) -> None:
        labs = [self.colour(rim).lab for rim in RIM]

        assert max(delta_e00(one, other) for one in labs for other in labs) < 1.5

    def test_the_gleam_on_the_coffee_is_refused(self) -> None:
        with pytest.raises(ColourRefused, match="mirrors a lamp"):
            liquor_patch(coffee(), at(310, 125))

    def test_the_rim_where_it_is_overexposed_is_refused(self) -> None:
        with pytest.raises(ColourRefused, match="overexposed"):
            white_patch(coffee(), at(190, 110))

    def test_the_red_saucer_is_no_porcelain(self) -> None:
        with pytest.raises(ColourRefused, match="not white porcelain"):
            white_patch(coffee(), at(100, 150))

    def test_the_wall_in_shade_is_refused_as_a_measure_of_the_light(self) -> None:
        white, liquor = self.patches((290, 70))

        with pytest.raises(ColourRefused, match="porcelain lies in shade"):
            colour_from_photo(coffee(), [white], liquor, PORCELAIN_L)
