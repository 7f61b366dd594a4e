"""The photographs of a session on its page: a few, small, and with nothing of the file but its pixels."""

from __future__ import annotations

from typing import Final

from tastebook.domain.errors import PictureRefused, StoreError
from tastebook.domain.liquor import colour_name
from tastebook.domain.photo_doubt import doubt_of
from tastebook.domain.session import Photo, Tasting
from tastebook.reports.page_parts import PagePhoto, PagePhotos
from tastebook.services.photographs import Photographs

MOST: Final = 6
MOST_PX: Final = 480
"""At 30 mm that is 400 dots per inch; six of them stay below 400 kB."""


def page_photos(tasting: Tasting, photographs: Photographs) -> PagePhotos:
    """Return the photographs of a session for its page: those that told a colour or have a caption come before others.

    One whose picture the journal has no more is left out; `tastebook check` tells of it.
    """
    ranked = sorted(tasting.photos, key=lambda one: (not one.liquor_at, not one.caption))
    chosen = {one.uid for one in ranked[:MOST]}
    shown = [one for one in tasting.photos if one.uid in chosen]
    printed = [photo for photo in (_printed(tasting, one, photographs) for one in shown) if photo is not None]
    left_out = len(tasting.photos) - len(shown)
    more = f"{left_out} more in the journal" if left_out else ""
    return PagePhotos(tuple(printed), more)


def _printed(tasting: Tasting, photo: Photo, photographs: Photographs) -> PagePhoto | None:
    try:
        picture = photographs.stripped(photo, "image/jpeg", MOST_PX)
    except (StoreError, PictureRefused):
        return None
    where, told = _where(tasting, photo), _told(tasting, photo)
    alt = ". ".join(part for part in (f"Photo, {where.lower()}", photo.caption, told) if part)
    return PagePhoto(where, photo.caption, told, alt, picture)


def _where(tasting: Tasting, photo: Photo) -> str:
    step = next((one.name for one in tasting.session.course.steps if one.key == photo.step), photo.step)
    return f"{step} {photo.infusion or 'of the rinse'}" if photo.infusion is not None else step


def _told(tasting: Tasting, photo: Photo) -> str:
    cup = tasting.infusion(photo.infusion) if photo.infusion is not None else None
    if not photo.liquor_at or photo.spread_e00 is None or cup is None or cup.liquor is None:
        return ""
    is_still = cup.liquor_source == "photo"
    if not is_still:
        return ""
    doubt = doubt_of(cup.liquor, photo.spread_e00)
    return (
        f"{colour_name(cup.liquor)}, ± {doubt.by_daylight_e00:.1f} by daylight, ± {doubt.by_lamp_e00:.1f} by lamplight"
    )
