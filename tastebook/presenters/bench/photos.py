"""Photographs at the Bench: those of the step, and the sheet on which one is looked at and tells a colour."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

from tastebook.domain.catching import column_of, is_possible
from tastebook.domain.colour import delta_e00, srgb_from_lab
from tastebook.domain.errors import ColourRefused, PorcelainDoubted
from tastebook.domain.liquor import change, chart, colour_name, nearest_swatch
from tastebook.domain.session import Lab, Photo
from tastebook.presenters.bench.presenter import BenchPresenter
from tastebook.presenters.photo_views import (
    LARGE_PX,
    ColourView,
    Mode,
    PatchView,
    PhotoSheetView,
    ThumbView,
    copy_name,
    seen,
    taken_at,
    thumb_view,
)
from tastebook.services.photographs import Photographs

if TYPE_CHECKING:
    from tastebook.domain.course import Step
    from tastebook.domain.photo_colour import Patch, PhotoColour, Place, Raster

LEAST_SHOWN_E00: Final = 0.05
MOST_WHITES: Final = 6
MOST_SHOWN: Final = 6
PATCH: Final = 0.035
"""Radius of a ring where no patch was taken, as a share of the shorter side."""
NEAR: Final = 0.07
"""How near a second tap must be to mean the first one, as a share of the shorter side: a finger's breadth."""

CAVEAT: Final = (
    "A photo is no measuring instrument: cameras bend tones and colours to please, by more than the eye can see. "
    "Compare cups of one sitting, in one light, in the same cup; your own eyes decide."
)
TAP_WHITE: Final = "Tap the white porcelain"
WHITE_HINT: Final = "Where it is lit like the liquor: the rim or the foot beside it, not a wall in shade, no glare."
TAP_LIQUOR: Final = "Tap the liquor"
LIQUOR_HINT: Final = "Where it is deep and still, away from the edge and from anything it mirrors."
TAP_MORE: Final = "Tap more porcelain"
MORE_HINT: Final = "On another side of the liquor: light that falls off across the cup is then allowed for."


@dataclass(frozen=True)
class PhotoRowView:
    """The photographs of the current step; `more` counts those that are not shown."""

    thumbs: tuple[ThumbView, ...] = ()
    more: int = 0


class BenchPhotos:
    """What the taster sees of the photographs of the step at hand, and what each gesture does with them."""

    def __init__(self, photographs: Photographs, bench: BenchPresenter) -> None:
        self._photographs = photographs
        self._bench = bench
        self._open = ""
        self._whites: list[Patch] = []
        self._doubted: Place | None = None
        self._whiter: Place | None = None
        self._liquor: Patch | None = None
        self._told: PhotoColour | None = None
        self._asks_white = True
        self._refusal = ""

    # -- the photographs of the step

    def row(self) -> PhotoRowView:
        """Return the photographs of the current step."""
        photos = self._here()
        shown = photos[-MOST_SHOWN:]
        return PhotoRowView(tuple(thumb_view(self._photographs, one) for one in shown), len(photos) - len(shown))

    def _here(self) -> tuple[Photo, ...]:
        step = self._bench.step
        return self._bench.desk.tasting.photos_at(step.key, column_of(step.stage, self._bench.infusion))

    def attach_file(self, path: str) -> str:
        """Attach the picture in a file to the current step, and return its uid; empty if it was refused."""
        return self._attach(
            lambda: self._photographs.attach_file(self._bench.desk, self._bench.step, self._bench.infusion, Path(path))
        )

    def attach(self, content: bytes) -> str:
        """Attach a picture to the current step, and return its uid; empty if it was refused."""
        return self._attach(
            lambda: self._photographs.attach(self._bench.desk, self._bench.step, self._bench.infusion, content)
        )

    def _attach(self, attach: Callable[[], Photo]) -> str:
        attached: list[Photo] = []
        self._bench.attempt(lambda: attached.append(attach()))
        return attached[0].uid if attached else ""

    # -- the sheet

    def can_tell_colour(self, uid: str) -> bool:
        """Say whether a photograph is one of liquor that was poured."""
        photo = next((one for one in self._bench.desk.tasting.photos if one.uid == uid), None)
        return self._mode(photo) != "look"

    def open(self, uid: str) -> None:
        """Look at one photograph."""
        self._open = uid
        self.begin_again()

    def close(self) -> None:
        """Put it away."""
        self._open = ""
        self.begin_again()

    def begin_again(self) -> None:
        """Forget what was tapped."""
        self._whites, self._liquor, self._told = [], None, None
        self._ask_white()

    def _ask_white(self) -> None:
        self._asks_white, self._refusal = True, ""
        self._doubted = self._whiter = None

    def add_white(self) -> None:
        """Ask for porcelain once more, on another side of the liquor."""
        self._ask_white()

    def tap(self, x: float, y: float) -> None:
        """Take the porcelain or the liquor from a place, as shares of width and height; what is refused says why."""
        photo = self._photo()
        raster = None if photo is None else seen(self._photographs, photo, LARGE_PX)
        if raster is None or self._mode(photo) == "look":
            return
        is_sure = self._doubted is not None and _is_near(raster, self._doubted, (x, y))
        self._refusal = ""
        self._doubted = self._whiter = None
        try:
            self._take(raster, (x, y), is_sure=is_sure)
        except PorcelainDoubted as exc:
            self._refusal, self._doubted, self._whiter = str(exc), (x, y), exc.whiter_at
        except ColourRefused as exc:
            self._refusal = str(exc)

    def _take(self, raster: Raster, at: Place, *, is_sure: bool) -> None:
        if self._asks_white:
            self._whites.append(self._photographs.white_patch(raster, at, is_sure=is_sure))
            self._asks_white = False
            at_liquor = self._liquor.at if self._liquor is not None else None
        else:
            at_liquor = at
        if at_liquor is not None:
            self._liquor = self._told = None
            self._liquor, self._told = self._photographs.colour(raster, self._whites, at_liquor)

    def take_colour(self) -> bool:
        """Keep the colour that the photograph tells as the liquor's; return whether it was kept."""
        told, photo = self._told, self._photo()
        step = None if photo is None else self._step_of(photo)
        if told is None or photo is None or step is None:
            return False
        take, desk = self._photographs.take_colour, self._bench.desk
        return self._bench.attempt(lambda: take(desk, step, photo.infusion or 0, photo.uid, told))

    def describe(self, caption: str) -> None:
        """Say what the photograph shows."""
        self._bench.attempt(lambda: self._photographs.describe(self._bench.desk, self._open, caption))

    def remove(self) -> None:
        """Take the photograph away."""
        self._bench.attempt(lambda: self._photographs.remove(self._bench.desk, self._open))

    def copy_name(self) -> str:
        """Return a file name for a copy of the photograph that is looked at."""
        photo = self._photo()
        return copy_name(self._bench.desk.tasting, photo) if photo else ""

    def copy(self, path: str) -> bytes:
        """Return the photograph that is looked at, to be handed on under a name; see `Photographs.copy`."""
        return self._photographs.copy(self._photographs.photo(self._bench.desk, self._open), path)

    def sheet(self) -> PhotoSheetView | None:
        """Return the photograph that is looked at; None if none is, or it was taken away."""
        photo = self._photo()
        if photo is None:
            return None
        mode = self._mode(photo)
        prompt, hint = self._asked(mode)
        return PhotoSheetView(
            uid=photo.uid,
            raster=seen(self._photographs, photo, LARGE_PX),
            title=taken_at(self._bench.desk.tasting, photo),
            caption=photo.caption,
            mode=mode,
            prompt=prompt,
            hint="" if self._refusal else hint,  # what was wrong says what to do
            refusal=self._refusal,
            patches=self._patches(),
            colour=self._colour(self._told, photo) if self._told else None,
            can_add_white=mode == "told" and len(self._whites) < MOST_WHITES,
            can_begin_again=bool(self._whites),
            caveat=CAVEAT if mode != "look" else "",
            others=self._others(photo),
        )

    # -- inside

    def _photo(self) -> Photo | None:
        return next((one for one in self._bench.desk.tasting.photos if one.uid == self._open), None)

    def _step_of(self, photo: Photo) -> Step | None:
        steps = self._bench.desk.tasting.session.course.steps
        return next((one for one in steps if one.key == photo.step), None)

    def _mode(self, photo: Photo | None) -> Mode:
        step = None if photo is None else self._step_of(photo)
        if photo is None or step is None or step.sheet != "liquor":
            return "look"
        if not is_possible(self._bench.desk.tasting, step, photo.infusion):
            return "look"
        if self._asks_white:
            return "white"
        return "told" if self._told is not None else "liquor"

    def _asked(self, mode: Mode) -> tuple[str, str]:
        if mode == "white":
            return (TAP_MORE, MORE_HINT) if self._whites else (TAP_WHITE, WHITE_HINT)
        return (TAP_LIQUOR, LIQUOR_HINT) if mode == "liquor" else ("", "")

    def _others(self, photo: Photo) -> tuple[ThumbView, ...]:
        same = self._bench.desk.tasting.photos_at(photo.step, photo.infusion)
        return tuple(thumb_view(self._photographs, one) for one in same[-MOST_SHOWN:]) if len(same) > 1 else ()

    def _patches(self) -> tuple[PatchView, ...]:
        porcelain = [PatchView("porcelain", *one.at, one.radius) for one in self._whites]
        liquor = [PatchView("liquor", *self._liquor.at, self._liquor.radius)] if self._liquor else []
        asked = [PatchView("doubted", *self._doubted, PATCH)] if self._doubted else []
        whiter = [PatchView("whiter", *self._whiter, PATCH)] if self._whiter else []
        return (*porcelain, *liquor, *asked, *whiter)

    def _colour(self, told: PhotoColour, photo: Photo) -> ColourView:
        row, column = nearest_swatch(told.lab)
        nearest = chart()[row][column]
        porcelain = f"The porcelain is taken to have L* {self._photographs.porcelain_l():g}."
        return ColourView(
            hex=srgb_from_lab(told.lab),
            name=colour_name(told.lab),
            lab="L* {}   a* {}   b* {}".format(*map(round, told.lab)),  # rounded to whole numbers, which have no -0
            chart_hex=srgb_from_lab(nearest),
            against_chart=f"ΔE {delta_e00(told.lab, nearest):.1f} from the chart’s {colour_name(nearest)}",
            against_before=self._against_before(told.lab, photo.infusion or 0),
            right_within=_right_within(told),
            spread=f"{_off_by(told.spread_e00)} within the patch; nine tenths of it within {told.ninth_e00:.1f}",
            remarks=(*told.remarks, porcelain),
        )

    def _against_before(self, lab: Lab, here: int) -> str:
        earlier = [one for one in self._bench.desk.tasting.infusions if one.index < here and one.liquor]
        if not earlier or earlier[-1].liquor is None:
            return ""
        changed = change(earlier[-1].liquor, lab)
        name = f"infusion {earlier[-1].index}" if earlier[-1].index else "the rinse"
        how = "" if earlier[-1].liquor_source == "photo" else ", which was chosen by eye"
        words = changed.since(name)
        return f"{words[:1].upper()}{words[1:]}{how}, ΔE {changed.delta_e:.1f}"


def _is_near(raster: Raster, one: Place, other: Place) -> bool:
    across, down = (one[0] - other[0]) * raster.width, (one[1] - other[1]) * raster.height
    return math.hypot(across, down) <= NEAR * min(raster.width, raster.height)


def _off_by(e00: float) -> str:
    """Return a spread; what is even to the eye is not called none at all."""
    return f"± {e00:.1f}" if e00 >= LEAST_SHOWN_E00 else "less than ± 0.1"


def _right_within(told: PhotoColour) -> str:
    if told.is_white_doubted:
        return "How far it is off nobody can tell while the porcelain is in doubt"
    by_lamp = f"{told.doubt.by_lamp_e00:.1f} by lamplight"
    where = by_lamp if told.is_lamplit else f"{told.doubt.by_daylight_e00:.1f} by daylight, {by_lamp}"
    return f"Right within ΔE {where}, in nine of ten"
