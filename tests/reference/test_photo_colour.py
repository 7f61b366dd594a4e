"""How far the colour of a liquor in a photograph is right: on rendered cups of known colour, and on a real photograph.

Rendered cups. Spectra: liquors whose absorbance falls exponentially from blue to red, at 20 depths and slopes (the form
is that of brown plant matter in water, *from memory*; the strengths are ours), and 24 swatches of the chart as the
smooth reflectances of Mallett & Yuksel (2019), "Spectral primary decomposition for rendering with sRGB reflectance".
Light: CIE illuminants A, D50, D65, FL11 and LED-B3, whose tables colour-science brings (CIE 15). Observer: CIE 1931.
The camera is an ideal one, set to daylight; its sRGB picture has 8 bits, grain, falling light towards the corners, a
mirrored lamp, and was saved as JPEG. What it cannot show is whatever a real camera does to please.

Measured on 440 cups, of which 414 tell a colour: with the camera set to daylight, the five lights give a median of 1.2
and a worst of 3.7; 19 of the 44 cups under illuminant A are refused, since sRGB has no room for their blue, and without
it half of them would be off by more than 5. A camera that balances itself (four fifths of the way with CAT02, not with
Bradford, so that the test does not mirror the program) has room for all of them, and bends them: under A the median is
3.0 and the worst 5.1. That is CAT02's own error, made before the picture was saved; a colour-correction that takes it
back for bulbs makes it half as large again for tubes, whose pictures look the same: `test_photo_doubt.py` shows that no
method can have both within 2. So the doubt that is shown covers it. No threshold was tuned on these cups; the doubt was
drawn from the reflectances of another chart.
"""

from __future__ import annotations

import contextlib
import io
import math
from dataclasses import dataclass
from functools import cache

import numpy as np
import pytest
from PIL import Image

from tastebook.domain.colour import delta_e00
from tastebook.domain.colour_arrays import lab_from_xyz, luminance_of, xyz_from_linear
from tastebook.domain.errors import ColourRefused, PorcelainDoubted
from tastebook.domain.liquor import colour_name
from tastebook.domain.photo_colour import (
    Patch,
    PhotoColour,
    Raster,
    balanced,
    colour_from_photo,
    liquor_patch,
    white_patch,
    white_patch_near,
)
from tastebook.platform.pictures import PillowPictures
from tests.cups import IN_LIQUOR, with_spot
from tests.reference.lit import PORCELAIN_L, Array, Tables, swatches, teas

FIVE = ("A", "D50", "D65", "FL11", "LED-B3")
CAMERAS = ("daylight", "automatic")
SIDE = 320
NEAR_WHITE = (0.5, 0.19)
LAMP_AT = (0.6, 0.42)
_BALANCED = 0.8


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
    """How one cup came out: the difference from its colour and what was told of it, or why it was refused."""

    light: str
    camera: str
    off_e00: float
    told: PhotoColour | None = None
    refusal: str = ""


def tried(tables: Tables, spectra: list[Array], lights: tuple[str, ...]) -> list[Found]:
    found = []
    for light in lights:
        for camera in CAMERAS:
            for seed, spectrum in enumerate(spectra):
                try:
                    raster = photographed(tables, spectrum, tables.light(light), camera, seed)
                    colour = told(raster)
                    found.append(Found(light, camera, delta_e00(colour.lab, tables.lab(spectrum)), colour))
                except ColourRefused as exc:
                    found.append(Found(light, camera, math.nan, refusal=str(exc)))
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
        assert 2.0 < np.median(by_lamp) <= 3.2
        assert 4.0 < max(by_lamp) <= 5.5
        assert all(np.median(off) <= 2.0 and max(off) <= 4.0 for off in others)

    @pytest.mark.parametrize("camera", CAMERAS)
    @pytest.mark.parametrize("light", FIVE)
    def test_the_doubt_that_is_shown_covers_nine_in_ten(self, cups: list[Found], light: str, camera: str) -> None:
        those = [one for one in cups if (one.light, one.camera) == (light, camera) and one.told]
        is_day = light in ("D50", "D65")

        doubts = [one.told.doubt for one in those if one.told]
        shown = [doubt.by_daylight_e00 if is_day else doubt.by_lamp_e00 for doubt in doubts]

        assert np.mean([one.off_e00 <= most for one, most in zip(those, shown, strict=True)]) >= 0.9
        assert max(one.off_e00 - most for one, most in zip(those, shown, strict=True)) < 1.0

    def test_a_lamp_that_the_camera_left_in_the_picture_is_known_by_the_porcelain(self, cups: list[Found]) -> None:
        lamplit = {(one.light, one.camera) for one in cups if one.told and one.told.is_lamplit}

        assert all(one.told.is_lamplit for one in cups if one.told and (one.light, one.camera) == ("A", "daylight"))
        assert lamplit <= {("A", "daylight"), ("FL11", "daylight")}

    def test_nineteen_in_twenty_by_any_camera_but_by_lamp_and_all_by_daylight_tell_their_colour(
        self, cups: list[Found]
    ) -> None:
        refused = [(one.light, one.camera) for one in cups if one.refusal]

        assert refused.count(("A", "daylight")) <= 20
        assert len(refused) <= 28
        assert {camera for _, camera in refused} == {"daylight"}
        assert not {light for light, _ in refused} & {"D50", "D65"}

    def test_what_is_refused_has_lost_its_blue(self, cups: list[Found]) -> None:
        refusals = [one.refusal for one in cups if one.refusal]

        assert [one for one in refusals if "no blue left" not in one] == []

    def test_without_their_blue_half_of_the_refused_would_be_off_by_more_than_five(
        self, tables: Tables, cups: list[Found]
    ) -> None:
        # The arithmetic alone, without grain or JPEG: what sRGB cannot hold is set to 0, as a camera does.
        light, spectra = tables.light("A"), [*teas(tables), *swatches(tables)]
        white = tables.xyz(np.ones_like(light), light)
        by_lamp = [one for one in cups if (one.light, one.camera) == ("A", "daylight")]
        lost = [one for one, found in zip(spectra, by_lamp, strict=True) if found.refusal]

        held = [np.maximum(_seen(tables, tables.xyz(one, light), white, "daylight"), 0) for one in lost]
        labs = [lab_from_xyz(balanced(xyz_from_linear(one), white)) for one in held]
        off = [delta_e00(tuple(lab.tolist()), tables.lab(one)) for lab, one in zip(labs, lost, strict=True)]

        assert np.median(off) > 5
        assert max(off) > 8

    @pytest.mark.parametrize("camera", CAMERAS)
    @pytest.mark.parametrize("light", [*FIVE, "FL12", "LED-B1"])
    def test_porcelain_is_believed_by_every_light_and_no_coloured_liquor_in_its_place_is(
        self, tables: Tables, light: str, camera: str
    ) -> None:
        believed = []
        for seed, spectrum in enumerate(teas(tables)):
            raster = photographed(tables, spectrum, tables.light(light), camera, seed)
            assert white_patch(raster, NEAR_WHITE).xyz[1] > 0.3
            try:
                white_patch(raster, IN_LIQUOR)
            except ColourRefused:
                continue
            believed.append(math.hypot(*tables.lab(spectrum)[1:]))

        assert max(believed, default=0) < 12

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


def at(x: float, y: float) -> tuple[float, float]:
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

    def test_a_finger_finds_the_rim_that_is_narrower_than_itself(self) -> None:
        # The rim is 20 pixels wide; fingers land within some 6 of where they aim, ours.
        aimed = [np.array(rim) + slip for rim in RIM for slip in np.random.default_rng(1).normal(0, 6, (25, 2))]

        found = []
        for x, y in aimed:
            with contextlib.suppress(ColourRefused):
                found.append(white_patch_near(coffee(), at(x, y)))

        assert len(found) > 0.85 * len(aimed)
        labs = [lab_from_xyz(one.xyz) for one in found]
        assert np.percentile([math.hypot(lab[1], lab[2]) for lab in labs], 90) < 12

    def test_the_gleam_on_the_coffee_is_refused(self) -> None:
        with pytest.raises(ColourRefused, match="mirrors a lamp"):
            liquor_patch(coffee(), at(310, 125))

    def test_the_rim_where_it_is_overexposed_is_refused(self) -> None:
        with pytest.raises(ColourRefused, match="overexposed"):
            white_patch(coffee(), at(190, 110))

    def test_the_red_saucer_is_no_porcelain(self) -> None:
        with pytest.raises(ColourRefused, match="not white porcelain"):
            white_patch(coffee(), at(100, 150))

    @pytest.mark.parametrize("tapped", [CREMA, (240, 170), (300, 170), (450, 60), (500, 300)])
    def test_crema_and_table_are_no_porcelain_since_the_rim_is_whiter(self, tapped: tuple[int, int]) -> None:
        with pytest.raises(PorcelainDoubted, match="brighter and whiter") as doubted:
            white_patch(coffee(), at(*tapped))

        x, y = doubted.value.whiter_at
        assert lab_from_xyz(white_patch(coffee(), (x, y)).xyz)[0] > 85

    def test_whoever_is_sure_is_believed_and_it_is_said_beside_the_colour(self) -> None:
        white = white_patch(coffee(), at(240, 170), is_sure=True)

        found = colour_from_photo(coffee(), [white], liquor_patch(coffee(), at(300, 170)), PORCELAIN_L)

        assert found.is_white_doubted
        assert "Another part of the picture is brighter and whiter than what was tapped as porcelain." in found.remarks

    def test_the_wall_in_shade_is_doubted_and_refused_as_a_measure_of_the_light(self) -> None:
        with pytest.raises(PorcelainDoubted):
            white_patch(coffee(), at(290, 70))
        white, liquor = white_patch(coffee(), at(290, 70), is_sure=True), liquor_patch(coffee(), at(*CREMA))

        with pytest.raises(ColourRefused, match="porcelain lies in shade"):
            colour_from_photo(coffee(), [white], liquor, PORCELAIN_L)
