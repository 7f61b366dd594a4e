"""The colour of a liquor from a photograph of it in white porcelain.

The porcelain tells the light: what is tapped as white is taken to be neutral and to have porcelain's own lightness, and
the liquor beside it is seen under that light. In this order: the median over a patch in linear light; the Bradford
transform from the patch of porcelain to D65; all of it scaled so that the porcelain lies at its own lightness.

What this cannot know: how the camera bent its tones and colours, light that the surface of the liquor mirrors evenly,
and lamps whose spectrum has gaps. So phone cameras do not reach the limits of visible difference, and what comes of a
photo is marked so. Whatever can be seen to spoil a patch is refused, with what to do.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import cached_property
from typing import Final, Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from tastebook.domain.colour import delta_e00, in_gamut
from tastebook.domain.colour_arrays import (
    ByteArray,
    FloatArray,
    adapted_to_d65,
    delta_e00_between,
    lab_from_xyz,
    linear_from_srgb,
    luminance_of,
    xyz_from_linear,
)
from tastebook.domain.errors import ColourRefused, PorcelainDoubted
from tastebook.domain.photo_doubt import Doubt, doubt_of
from tastebook.domain.photo_light import (
    TOP,
    Cells,
    cells_of,
    could_be_light,
    is_warm_as_lamplight,
    whiter_place,
)
from tastebook.domain.session import Lab

Place: TypeAlias = tuple[float, float]
"""A place in a picture, as shares of its width and height (0 to 1), from the top left."""

Subject: TypeAlias = Literal["porcelain", "liquor"]

_RADII: Final = (0.035, 0.025, 0.018, 0.012, 0.008)
"""Radii of a patch as shares of the shorter side, tried from the largest: the largest that is even is taken."""
_SLIPS: Final = (0.01, 0.02, 0.03, 0.045)
"""How far beside the porcelain a finger may land, as shares of the shorter side."""
_LEAST_RADIUS_PX: Final = 5.0
_LEAST_SHORT_SIDE_PX: Final = 120
_LEAST_INSIDE: Final = 0.7
"""Share of a patch that must lie inside the picture."""

# Thresholds are ours, no source: camera noise of 4 levels in 255 passes; an edge, foam or a leaf does not.
# `tests/reference/test_photo_colour.py` says how far colours are right that pass them.
_MOST_GLARE: Final = 0.03
_GLARE_BRIGHTER: Final = 1.5
_GLARE_AT_LEAST: Final = 0.03
_GLARE_GREYER: Final = 0.85
_MOST_AT_TOP: Final = 0.05
_MOST_AT_BOTTOM: Final = 0.25
_NEARLY_TOP: Final = 240
_MOST_SECTOR_E00: Final = 5.0
_MOST_HALF_E00: Final = 7.0
_MOST_NINTH_E00: Final = 12.0
_SECTORS: Final = 8
_EACH: Final = range(_SECTORS)
_LEAST_WHITE_Y: Final = 0.06
"""About level 70 of 255: below it, eight bits have steps that are seen."""
_MOST_LIQUOR_OVER_WHITE: Final = 1.03
_MOST_BROUGHT_IN_E00: Final = 2.0
_SHIFTS_L: Final = tuple(range(-8, 9))
_HALVINGS: Final = 9
_UNEVEN_LIGHT: Final = 1.15
_BRIGHTER_ELSEWHERE: Final = 2.0


@dataclass(frozen=True, eq=False)
class Raster:
    """A picture as pixels: upright, sRGB, eight bits a channel.

    Parameters
    ----------
    pixels : ndarray of uint8, shape (height, width, 3)
    """

    pixels: ByteArray

    @property
    def width(self) -> int:
        """Return the width in pixels."""
        return int(self.pixels.shape[1])

    @property
    def height(self) -> int:
        """Return the height in pixels."""
        return int(self.pixels.shape[0])

    @cached_property
    def is_grey(self) -> bool:
        """Say whether there is no colour anywhere: it was taken, or saved, in shades of grey."""
        red, green, blue = (self.pixels[..., channel].astype(np.int16) for channel in range(3))
        return bool((abs(red - green) <= 1).all() and (abs(green - blue) <= 1).all())

    @cached_property
    def brightest_y(self) -> float:
        """Return the luminance that one pixel in fifty passes."""
        some = self.pixels[:: max(1, self.height // 300), :: max(1, self.width // 300)]
        return float(np.percentile(xyz_from_linear(linear_from_srgb(some))[..., 1], 98))

    @cached_property
    def cells(self) -> Cells:
        """Return the picture in coarse squares."""
        return cells_of(self.pixels)


@dataclass(frozen=True, eq=False)
class Patch:
    """A round patch that is even enough to tell a colour.

    Parameters
    ----------
    at : Place
        Its middle.
    radius : float
        As a share of the picture's shorter side.
    xyz : ndarray, shape (3,)
        The median, as the camera gave it; white has Y = 1.
    pixels_xyz : ndarray, shape (n, 3)
        All its pixels but those that mirror a lamp.
    """

    at: Place
    radius: float
    xyz: FloatArray
    pixels_xyz: FloatArray


@dataclass(frozen=True)
class PhotoColour:
    """What a photograph tells of a liquor.

    Parameters
    ----------
    lab : Lab
        Its colour in the light of D65, beside porcelain of its own lightness.
    spread_e00, ninth_e00 : float
        How far the pixels of the patch lie from it, as ΔE00: half of them nearer than the first, nine in ten nearer
        than the second.
    doubt : Doubt
        How far it may be off.
    is_lamplit : bool
        Whether the porcelain as taken is too warm for daylight.
    is_white_doubted : bool
        Whether the picture is brighter and whiter elsewhere: then nobody knows how far the colour is off.
    as_taken : Lab
        The colour before it was balanced.
    white_as_taken : Lab
        The porcelain before it was balanced.
    white_at, liquor_at : tuple of float
        Where was tapped: x and y in turn.
    remarks : tuple of str
        What should be known of it, in words.
    """

    lab: Lab
    spread_e00: float
    ninth_e00: float
    doubt: Doubt
    is_lamplit: bool
    is_white_doubted: bool
    as_taken: Lab
    white_as_taken: Lab
    white_at: tuple[float, ...]
    liquor_at: tuple[float, ...]
    remarks: tuple[str, ...] = ()


def balanced(xyz: FloatArray, white: FloatArray) -> FloatArray:
    """Return colours as they would be under D65, `white` being what the camera gave of a neutral; Y is not yet scaled.

    Parameters
    ----------
    xyz : ndarray, shape (..., 3)
    white : ndarray, shape (3,)
    """
    return adapted_to_d65(xyz, white / white[1])


def white_patch(raster: Raster, at: Place, *, is_sure: bool = False) -> Patch:
    """Return the patch of porcelain around a place.

    Parameters
    ----------
    raster : Raster
    at : Place
    is_sure : bool
        Whether the taster has been asked, and says that this is porcelain.

    Raises
    ------
    ColourRefused
        If it does not tell the light; the words say why and what to do.
    PorcelainDoubted
        If the picture has an area that is brighter and whiter, unless one is sure.
    """
    _refuse_picture(raster)
    patch = _even_patch(raster, at, "porcelain")
    if patch.xyz[1] < _LEAST_WHITE_Y:
        raise ColourRefused("It is too dark here to tell the light: take the photo again with more light on the cup.")
    if not could_be_light(patch.xyz):
        raise ColourRefused(
            "This is not white porcelain: no daylight and no lamp has such a colour. Tap a white part of the cup."
        )
    whiter = None if is_sure else whiter_place(raster.cells, patch.xyz)
    if whiter is not None:
        raise PorcelainDoubted(
            "Is this the white porcelain? Another part of the picture is brighter and whiter. Tap that if it is the "
            "porcelain beside the liquor; if this is, tap here once more.",
            whiter,
        )
    return patch


def white_patch_near(raster: Raster, at: Place) -> Patch:
    """Return the patch of porcelain around a place, or around the nearest that a finger may have meant.

    A rim is narrower than a finger. Of places equally near, the brightest is taken, and none that would be asked about.

    Raises
    ------
    ColourRefused, PorcelainDoubted
        What speaks against the place itself, if there is none.
    """
    try:
        return white_patch(raster, at)
    except PorcelainDoubted:
        raise
    except ColourRefused:
        for slip in _SLIPS:
            found = _white_patches(raster, _places_around(raster, at, slip))
            if found:
                return max(found, key=lambda one: float(one.xyz[1]))
        raise


def _places_around(raster: Raster, at: Place, slip: float) -> tuple[Place, ...]:
    away_px = slip * min(raster.width, raster.height)
    turns = np.arange(_SECTORS) * 2 * np.pi / _SECTORS
    return tuple(
        (at[0] + float(np.cos(turn)) * away_px / raster.width, at[1] + float(np.sin(turn)) * away_px / raster.height)
        for turn in turns
    )


def _white_patches(raster: Raster, places: Sequence[Place]) -> list[Patch]:
    """Return the patches of porcelain around those places that nothing speaks against."""
    found = []
    for place in places:
        with suppress(ColourRefused):
            found.append(white_patch(raster, place))
    return found


def liquor_patch(raster: Raster, at: Place) -> Patch:
    """Return the patch of liquor around a place.

    Raises
    ------
    ColourRefused
        If it tells no colour; the words say why and what to do.
    """
    _refuse_picture(raster)
    return _even_patch(raster, at, "liquor")


def colour_from_photo(raster: Raster, whites: Sequence[Patch], liquor: Patch, porcelain_l: float) -> PhotoColour:
    """Return the colour of a liquor beside white porcelain.

    Parameters
    ----------
    raster : Raster
        The picture that the patches are of.
    whites : sequence of Patch
        Porcelain tapped once, or around the liquor: then the light at the liquor is that of the nearer ones, each
        weighed with its distance.
    liquor : Patch
    porcelain_l : float
        The lightness L* of the porcelain.

    Raises
    ------
    ColourRefused
        If porcelain and liquor contradict each other.
    """
    _refuse_overlap(raster, whites, liquor)
    white = _white_at(raster, liquor.at, whites)
    if liquor.xyz[1] > _MOST_LIQUOR_OVER_WHITE * white[1]:
        raise ColourRefused(
            "The liquor is brighter here than the porcelain: the porcelain lies in shade, or the two were tapped the "
            "other way round. Tap porcelain that is lit like the liquor, such as the rim."
        )
    scale = luminance_of(porcelain_l) / white[1]
    pixels = lab_from_xyz(balanced(liquor.pixels_xyz, white) * scale)
    seen = _as_lab(lab_from_xyz(balanced(liquor.xyz, white) * scale))
    away = delta_e00_between(pixels, np.array(seen))
    spread_e00 = round(float(np.median(away)), 2)
    doubt = doubt_of(seen, spread_e00)
    lab, brought_in = _shown(seen, doubt)
    is_doubted = any(whiter_place(raster.cells, one.xyz) is not None for one in whites)
    return PhotoColour(
        lab=lab,
        spread_e00=spread_e00,
        ninth_e00=round(float(np.percentile(away, 90)), 2),
        doubt=doubt,
        is_lamplit=is_warm_as_lamplight(white),
        is_white_doubted=is_doubted,
        as_taken=_as_lab(lab_from_xyz(liquor.xyz)),
        white_as_taken=_as_lab(lab_from_xyz(white)),
        white_at=tuple(share for one in whites for share in one.at),
        liquor_at=liquor.at,
        remarks=(*brought_in, *_remarks(raster, whites, white, is_white_doubted=is_doubted)),
    )


# -- patches


def _refuse_picture(raster: Raster) -> None:
    if min(raster.width, raster.height) < _LEAST_SHORT_SIDE_PX:
        raise ColourRefused(
            f"The picture is too small to tell a colour, {raster.width} × {raster.height} pixels: its shorter side "
            f"needs {_LEAST_SHORT_SIDE_PX}. Take the photo itself, not its preview."
        )
    if raster.is_grey:
        raise ColourRefused("The picture is in shades of grey, and tells no colour: take it again in colour.")


def _even_patch(raster: Raster, at: Place, subject: Subject) -> Patch:
    """Return the largest patch around a place that nothing speaks against."""
    if not all(0 <= share <= 1 for share in at):
        raise ColourRefused("That is beside the picture: tap inside it.")
    refused: ColourRefused | None = None
    for radius in _RADII:
        try:
            return _patch(raster, at, radius, subject)
        except ColourRefused as exc:
            refused = exc
    raise refused or ColourRefused("Nothing can be told here.")


def _patch(raster: Raster, at: Place, radius: float, subject: Subject) -> Patch:
    pixels, angles = _disc(raster, at, max(_LEAST_RADIUS_PX, radius * min(raster.width, raster.height)))
    linear = linear_from_srgb(pixels)
    xyz = xyz_from_linear(linear)
    glare = _mirrors_lamp(pixels, xyz, linear) if subject == "liquor" else np.zeros(len(pixels), dtype=np.bool_)
    _refuse_glare(pixels, glare, subject)
    kept = ~glare
    _refuse_ends(pixels[kept], subject)
    median = xyz_from_linear(np.median(linear[kept], axis=0))
    _refuse_uneven(lab_from_xyz(xyz[kept]), angles[kept], lab_from_xyz(median), subject)
    return Patch(at, radius, median, xyz[kept])


def _disc(raster: Raster, at: Place, radius_px: float) -> tuple[ByteArray, FloatArray]:
    """Return the pixels of a disc, and at what angle each lies, from -π to π."""
    x, y = at[0] * (raster.width - 1), at[1] * (raster.height - 1)
    top, left = max(0, int(y - radius_px)), max(0, int(x - radius_px))
    part = raster.pixels[top : int(y + radius_px) + 2, left : int(x + radius_px) + 2]
    down, across = np.mgrid[0 : part.shape[0], 0 : part.shape[1]]
    down, across = down + top - y, across + left - x
    inside = np.hypot(down, across) <= radius_px
    if inside.sum() < _LEAST_INSIDE * np.pi * radius_px**2:
        raise ColourRefused(
            "This is at the edge of the picture: tap further in, or take the photo again with more room."
        )
    return part[inside], np.arctan2(down, across)[inside]


def _mirrors_lamp(pixels: ByteArray, xyz: FloatArray, linear: FloatArray) -> NDArray[np.bool_]:
    """Return which pixels are nearly at the end of the scale, brighter than the patch and nearer to grey.

    They mirror a lamp or a window. What is mirrored more dimly makes the patch uneven, and is refused as such.
    """
    y = xyz[:, 1]
    middle_y = float(np.median(y))
    colourful = 1 - linear.min(axis=1) / np.maximum(linear.max(axis=1), 1e-6)
    greyer = colourful < _GLARE_GREYER * float(np.median(colourful)) + 0.02
    is_bright = (y > _GLARE_BRIGHTER * middle_y + _GLARE_AT_LEAST) & (pixels.max(axis=1) >= _NEARLY_TOP)
    found: NDArray[np.bool_] = is_bright & greyer
    return found


def _refuse_glare(pixels: ByteArray, glare: NDArray[np.bool_], subject: Subject) -> None:
    mirrored = glare | (pixels >= TOP).all(axis=1)
    if subject == "liquor" and mirrored.mean() > _MOST_GLARE:
        raise ColourRefused(
            "The liquor mirrors a lamp or a window here: tap beside the glare, or turn the cup and take the photo "
            "again."
        )


def _refuse_ends(pixels: ByteArray, subject: Subject) -> None:
    """Refuse channels that ran into either end of their scale: what lay beyond is lost, and the hue with it."""
    at_top = (pixels >= TOP).mean(axis=0)
    if at_top.max() > _MOST_AT_TOP:
        raise ColourRefused(
            f"The {subject} is overexposed here ({_channels(at_top > _MOST_AT_TOP)} at the end of the scale): take the "
            "photo again a little darker, or tap where there is less light."
        )
    at_bottom = (pixels <= 0).mean(axis=0)
    if at_bottom.max() > _MOST_AT_BOTTOM:
        raise ColourRefused(
            f"The {subject} has no {_channels(at_bottom > _MOST_AT_BOTTOM)} left here, and without it the colour "
            "would be far off: the light is too dim or too warm for the camera. Take the photo again by daylight, or "
            "with the camera’s white balance set to the lamp."
        )


def _channels(are_at_end: NDArray[np.bool_]) -> str:
    names = [name for name, is_at_end in zip(("red", "green", "blue"), are_at_end, strict=True) if is_at_end]
    return " and ".join((", ".join(names[:-1]), names[-1])) if len(names) > 1 else names[0]


def _refuse_uneven(labs: FloatArray, angles: FloatArray, middle: FloatArray, subject: Subject) -> None:
    """Refuse a patch whose sides differ, or whose pixels do: part of it is something else."""
    sector = np.minimum(((angles + np.pi) / (2 * np.pi) * _SECTORS).astype(int), _SECTORS - 1)
    sides = np.array([np.median(labs[sector == one], axis=0) if (sector == one).any() else middle for one in _EACH])
    is_grainy = np.median(delta_e00_between(labs, sides[sector])) > _MOST_HALF_E00
    if not is_grainy and delta_e00_between(sides, middle).max() > _MOST_SECTOR_E00:
        beside = (
            "the rim, its shade or the table" if subject == "porcelain" else "the edge, foam, a leaf, glare or shade"
        )
        raise ColourRefused(
            f"The patch is not {subject} alone: part of it may be {beside}. Tap where it is of one colour all around."
        )
    if is_grainy or np.percentile(delta_e00_between(labs, middle), 90) > _MOST_NINTH_E00:
        raise ColourRefused(
            f"The {subject} is too grainy or speckled here to tell its colour: tap elsewhere, or take the photo again "
            "with more light."
        )


# -- the light


def _white_at(raster: Raster, at: Place, whites: Sequence[Patch]) -> FloatArray:
    """Return the porcelain's XYZ as it would be at the liquor's place: near taps count more, by 1/distance²."""
    if not whites:
        raise ColourRefused("Tap the white porcelain first: it tells the light.")
    far = np.array([_distance_px(raster, at, one.at) for one in whites])
    weights = 1 / np.maximum(far, 1.0) ** 2
    weighed: FloatArray = np.average(np.array([one.xyz for one in whites]), axis=0, weights=weights)
    return weighed


def _refuse_overlap(raster: Raster, whites: Sequence[Patch], liquor: Patch) -> None:
    """Refuse a liquor where porcelain was tapped: a second tap that was none, or a cup taken for what is in it."""
    shorter = min(raster.width, raster.height)
    if any(_distance_px(raster, liquor.at, one.at) < (liquor.radius + one.radius) / 2 * shorter for one in whites):
        raise ColourRefused("This is where the porcelain was tapped: tap the liquor.")


def _distance_px(raster: Raster, one: Place, other: Place) -> float:
    return float(np.hypot((one[0] - other[0]) * raster.width, (one[1] - other[1]) * raster.height))


def _remarks(raster: Raster, whites: Sequence[Patch], white: FloatArray, *, is_white_doubted: bool) -> tuple[str, ...]:
    said = []
    ys = [float(one.xyz[1]) for one in whites]
    if max(ys) > _UNEVEN_LIGHT * min(ys):
        percent = round(100 * (max(ys) / min(ys) - 1))
        said.append(f"The light is uneven: one tap of porcelain is {percent} % brighter than another.")
    if is_white_doubted:
        said.append("Another part of the picture is brighter and whiter than what was tapped as porcelain.")
    elif raster.brightest_y > _BRIGHTER_ELSEWHERE * white[1]:
        said.append(
            "Parts of the picture are much brighter than the porcelain tapped: if it lies in shade and the liquor does "
            "not, tap it where both have the same light."
        )
    return tuple(said)


# -- the colour


def _as_lab(values: FloatArray) -> Lab:
    lightness, a, b = (round(float(value), 3) for value in values)
    return (lightness, a, b)


def _shown(lab: Lab, doubt: Doubt) -> tuple[Lab, tuple[str, ...]]:
    """Return a colour that screens can show, the nearest if need be, and what is to be said of it.

    Raises
    ------
    ColourRefused
        If that would change it by more than it may be off anyway: then the white was not lit like the liquor, or was no
        white.
    """
    shown = _inside_screens(lab)
    off = delta_e00(lab, shown)
    if off > max(_MOST_BROUGHT_IN_E00, doubt.by_lamp_e00):
        raise ColourRefused(
            f"That comes to a colour that no liquor has (L* {lab[0]:.0f}, a* {lab[1]:.0f}, b* {lab[2]:.0f}): what was "
            "tapped as porcelain is not white, or lies in other light. Tap the porcelain beside the liquor."
        )
    said = (f"Brought in by ΔE {off:.1f} from where it was seen, since screens show no more.",) if off > 0.1 else ()
    return shown, said


def _inside_screens(lab: Lab) -> Lab:
    """Return the nearest colour that screens show, of the same hue: a little darker or lighter, or nearer to grey."""
    lightness = min(max(lab[0], 0.0), 100.0)
    if in_gamut((lightness, lab[1], lab[2])):
        return (lightness, lab[1], lab[2])
    levels = {min(max(lightness + shift, 0.0), 100.0) for shift in _SHIFTS_L}
    return min((_greyed(level, lab[1], lab[2]) for level in levels), key=lambda one: delta_e00(lab, one))


def _greyed(lightness: float, a: float, b: float) -> Lab:
    """Return the most colourful that screens show at a lightness, between grey and a colour."""
    if in_gamut((lightness, a, b)):
        return (lightness, a, b)
    inside, outside = 0.0, 1.0
    for _ in range(_HALVINGS):
        share = (inside + outside) / 2
        inside, outside = (share, outside) if in_gamut((lightness, a * share, b * share)) else (inside, share)
    return (round(lightness, 3), round(a * inside, 3), round(b * inside, 3))
