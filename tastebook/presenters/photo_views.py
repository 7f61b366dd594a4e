"""Photographs as every screen shows them: small, large, and with what was told from them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal, TypeAlias

from tastebook.domain.errors import PictureRefused, StoreError
from tastebook.domain.session import Photo, Tasting
from tastebook.services.photographs import Photographs

if TYPE_CHECKING:
    from tastebook.domain.photo_colour import Raster

THUMB_PX: Final = 192
LARGE_PX: Final = 1600
"""Enough to tap in and to tell a colour; a phone's photo of 12 million pixels takes about 0.2 s to it."""

PatchKind: TypeAlias = Literal["porcelain", "liquor", "doubted", "whiter"]
Mode: TypeAlias = Literal["look", "white", "liquor", "told"]


@dataclass(frozen=True)
class ThumbView:
    """One photograph, small; `mark` says that it told the liquor's colour."""

    uid: str
    raster: Raster | None
    name: str
    mark: str = ""


@dataclass(frozen=True)
class PatchView:
    """A patch as it lies on the picture: its middle, and its radius as a share of the shorter side.

    `doubted` is what was tapped as porcelain while the picture is whiter elsewhere, `whiter` is where.
    """

    kind: PatchKind
    x: float
    y: float
    radius: float


@dataclass(frozen=True)
class ColourView:
    """What a photograph tells of the liquor: its colour beside the chart's nearest, and how far they lie apart.

    `right_within` says how far the colour itself may be off, `spread` only how much the patch varies.
    """

    hex: str
    name: str
    lab: str
    chart_hex: str
    against_chart: str
    against_before: str
    right_within: str
    spread: str
    remarks: tuple[str, ...]


@dataclass(frozen=True)
class PhotoSheetView:
    """A photograph, large, and what is being asked of it.

    `mode` is `look` where no colour can be told from it; `refusal` says why a tap told nothing; `others` are the
    photographs of the same step, this one among them, where there are more. Only at the Bench can anything be changed.
    """

    uid: str
    raster: Raster | None
    title: str
    caption: str
    mode: Mode
    prompt: str = ""
    hint: str = ""
    refusal: str = ""
    patches: tuple[PatchView, ...] = ()
    colour: ColourView | None = None
    can_add_white: bool = False
    can_begin_again: bool = False
    caveat: str = ""
    others: tuple[ThumbView, ...] = ()
    can_change: bool = True


def seen(photographs: Photographs, photo: Photo, most_px: int) -> Raster | None:
    """Return a picture to look at; None if the journal has it no more, which `tastebook check` tells."""
    try:
        return photographs.raster(photo, most_px)
    except (StoreError, PictureRefused):
        return None


def thumb_view(photographs: Photographs, photo: Photo) -> ThumbView:
    """Return a photograph, small."""
    mark = "told the colour" if photo.liquor_at else ""
    return ThumbView(photo.uid, seen(photographs, photo, THUMB_PX), photo.caption or "photo", mark)


def taken_at(tasting: Tasting, photo: Photo) -> str:
    """Return at which step a photograph was taken, such as `Liquor, infusion 2`."""
    step = next((one.name for one in tasting.session.course.steps if one.key == photo.step), photo.step)
    where = {None: "", 0: ", rinse"}.get(photo.infusion, f", infusion {photo.infusion}")
    return f"{step}{where}"


def copy_name(tasting: Tasting, photo: Photo) -> str:
    """Return a file name for a copy: the lot, the day, the step."""
    cup = f" {photo.infusion}" if photo.infusion is not None else ""
    where = f"{photo.step.replace('_', ' ')}{cup}"
    return f"{tasting.lot.name}, {tasting.session.started_at_utc:%Y-%m-%d}, {where}.jpg".replace("/", "-")
