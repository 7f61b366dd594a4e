"""Photographs of the cup and the leaf: attached to a step, described, taken away; and colour told from one."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from tastebook.domain.act import Change
from tastebook.domain.catching import column_of
from tastebook.domain.course import Step
from tastebook.domain.errors import TastingError
from tastebook.domain.session import Photo
from tastebook.services.keeping import Keeping
from tastebook.services.ports import PictureFormat, Pictures
from tastebook.services.tasting import TastingDesk, column_name

if TYPE_CHECKING:
    from tastebook.domain.photo_colour import Patch, PhotoColour, Place, Raster

LONGEST_CAPTION: Final = 200
_REMEMBERED_BYTES: Final = 64_000_000
"""Of decoded pictures; one to look at closely has some 13 MB, a thumbnail next to nothing."""


class Photographs:
    """The photographs of one journal.

    Parameters
    ----------
    keeping : Keeping
        Where acts are kept, and the pictures with them.
    pictures : callable
        Returns what decodes them; it is asked for when the first picture is, since it is slow to load.
    porcelain_l : callable
        Returns the lightness L* that white porcelain is taken to have.
    """

    def __init__(self, keeping: Keeping, pictures: Callable[[], Pictures], porcelain_l: Callable[[], float]) -> None:
        self._keeping = keeping
        self._pictures = pictures
        self.porcelain_l = porcelain_l
        self._seen: dict[tuple[str, int], Raster] = {}

    # -- keeping

    def attach_file(self, desk: TastingDesk, step: Step, infusion: int | None, path: Path) -> Photo:
        """Attach the picture in a file to a step; see `attach`."""
        return self.attach(desk, step, infusion, self._pictures().load(path))

    def attach(self, desk: TastingDesk, step: Step, infusion: int | None, content: bytes) -> Photo:
        """Attach a picture to a step, as it came. It is decoded once before, so that what is kept can be seen.

        Raises
        ------
        PictureRefused
            If it cannot be read; nothing is kept then.
        """
        facts = self._pictures().looked_at(content)
        photo = Photo(
            uid=self._keeping.ids.new(),
            session_uid=desk.scope,
            step=step.key,
            infusion=column_of(step.stage, infusion),
            picture=self._keeping.journal.keep_picture(content),
            media_type=facts.media_type,
            recorded_at_utc=self._keeping.clock.utc_now(),
        )
        self._keeping.keep(desk.scope, f"photo at {step.name.lower()}", [Change(None, photo)])
        return photo

    def describe(self, desk: TastingDesk, uid: str, caption: str) -> None:
        """Say what a photograph shows; it is shortened to what a line can hold."""
        photo = self.photo(desk, uid)
        words = " ".join(caption.split())[:LONGEST_CAPTION].rstrip()
        self._keeping.keep(desk.scope, "caption of the photo", [Change(photo, replace(photo, caption=words))])

    def remove(self, desk: TastingDesk, uid: str) -> None:
        """Take a photograph away; what was told from it stays, and its picture does, so that this can be taken back."""
        self._keeping.keep(desk.scope, "photo taken away", [Change(self.photo(desk, uid), None)])

    def take_colour(self, desk: TastingDesk, step: Step, index: int, uid: str, told: PhotoColour) -> None:
        """Set the colour of the liquor to what a photograph tells, and keep with it what it was told from: one act."""
        photo = self.photo(desk, uid)
        evidence = replace(photo, white_at=told.white_at, liquor_at=told.liquor_at, spread_e00=told.spread_e00)
        cup = desk.liquor_change(step, index, told.lab, "photo")
        self._keeping.keep(desk.scope, f"liquor colour of {column_name(index).lower()}", [cup, Change(photo, evidence)])

    def photo(self, desk: TastingDesk, uid: str) -> Photo:
        """Return one photograph of a tasting.

        Raises
        ------
        TastingError
            If it was taken away meanwhile.
        """
        for photo in desk.tasting.photos:
            if photo.uid == uid:
                return photo
        raise TastingError("That photo is no longer here: it was taken away. Undo brings it back.")

    # -- looking

    def raster(self, photo: Photo, most_px: int) -> Raster:
        """Return a photograph upright, its longer side at most so many pixels; the newest asked for are remembered.

        Raises
        ------
        StoreError, PictureRefused
            If the journal has it no more, or has it damaged.
        """
        key = (photo.picture, most_px)
        raster = self._seen.pop(key, None)
        if raster is None:
            raster = self._pictures().raster(self._keeping.journal.picture(photo.picture), most_px)
        self._seen[key] = raster
        while len(self._seen) > 1 and sum(one.pixels.nbytes for one in self._seen.values()) > _REMEMBERED_BYTES:
            del self._seen[next(iter(self._seen))]
        return raster

    def stripped(self, photo: Photo, as_format: PictureFormat, most_px: int | None = None) -> bytes:
        """Return a photograph to be handed on: its pixels alone, upright, without where, when and with what."""
        return self._pictures().stripped(self._keeping.journal.picture(photo.picture), as_format, most_px)

    def copy(self, photo: Photo, path: str) -> bytes:
        """Return a photograph to be handed on under a name: as PNG if its name says so, else as JPEG."""
        return self.stripped(photo, "image/png" if path.lower().endswith(".png") else "image/jpeg")

    def white_patch(self, raster: Raster, at: Place, *, is_sure: bool = False) -> Patch:
        """Return the patch of porcelain at a place or next to it; `ColourRefused` says why there is none.

        `PorcelainDoubted` says that the picture is whiter elsewhere, unless the taster has been asked and is sure.
        """
        from tastebook.domain.photo_colour import white_patch, white_patch_near

        return white_patch(raster, at, is_sure=True) if is_sure else white_patch_near(raster, at)

    def colour(self, raster: Raster, whites: Sequence[Patch], liquor_at: Place) -> tuple[Patch, PhotoColour]:
        """Return the patch of liquor around a place, and its colour; `ColourRefused` says why there is none."""
        from tastebook.domain.photo_colour import colour_from_photo, liquor_patch

        liquor = liquor_patch(raster, liquor_at)
        return liquor, colour_from_photo(raster, whites, liquor, self.porcelain_l())
