"""Pictures from cameras and phones: looked at, decoded upright into sRGB, and saved again without anything but pixels.

Pillow decodes. A file from elsewhere may be damaged, enormous on purpose, or not a picture at all, so everything that
can be wrong with it is found when it is attached, and refused in words.
"""

from __future__ import annotations

import io
import struct
import warnings
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

import numpy as np
from PIL import (
    Image,
    ImageCms,
    ImageOps,
    JpegImagePlugin,
    PngImagePlugin,
    TiffImagePlugin,
    UnidentifiedImageError,
    WebPImagePlugin,
)

from tastebook.domain.errors import PictureRefused
from tastebook.domain.photo_colour import Raster
from tastebook.services.ports import PictureFacts, PictureFormat

MOST_MB: Final = 40
MOST_MEGAPIXELS: Final = 80
MB: Final = 1_000_000
_READERS: Final = (
    JpegImagePlugin.JpegImageFile,
    PngImagePlugin.PngImageFile,
    TiffImagePlugin.TiffImageFile,
    WebPImagePlugin.WebPImageFile,
)
"""Pillow knows a format once its module is imported."""

FORMATS: Final = {
    "JPEG": "image/jpeg",
    "MPO": "image/jpeg",  # what phones write: a JPEG with further pictures behind it, such as a depth map
    "PNG": "image/png",
    "WEBP": "image/webp",
    "TIFF": "image/tiff",
}
_HEIF: Final = (b"heic", b"heix", b"hevc", b"heim", b"heis", b"mif1", b"msf1")
_ASK_FOR_JPEG: Final = "Let the camera or phone save it as JPEG, and attach that."
_PAPER: Final = (255, 255, 255)
_SIXTEEN_BITS: Final = ("I;16", "I;16L", "I;16B", "I;16N")
_ORIENTATION: Final = 0x0112  # the EXIF tag
_WHOLE_NUMBERS: Final = "I"
_FRACTIONS: Final = "F"

# What Pillow's decoders raise over files that are cut off or made up; found by damaging files in the tests.
_DAMAGED: Final = (
    OSError, ValueError, SyntaxError, KeyError, IndexError, TypeError, AttributeError, EOFError, OverflowError,
    MemoryError, RuntimeError, struct.error, zlib.error,
)  # fmt: skip


class PillowPictures:
    """Reads pictures with Pillow."""

    def load(self, path: Path) -> bytes:
        """Return what is in a picture's file, unless it is far too large to be a photograph."""
        try:
            size = path.stat().st_size
            if size > MOST_MB * MB:
                raise PictureRefused(_too_heavy(size))
            return path.read_bytes()
        except OSError as exc:
            raise PictureRefused(f"{path.name} could not be read: {exc.strerror or exc}.") from exc

    def looked_at(self, content: bytes) -> PictureFacts:
        """Return what a picture is, after decoding all of it."""
        with _opened(content) as picture:
            media_type, (width, height) = FORMATS[str(picture.format)], picture.size
            upright = ImageOps.exif_transpose(_small(picture))
        if (upright.width > upright.height) != (width > height):
            width, height = height, width
        return PictureFacts(media_type, width, height)

    def raster(self, content: bytes, most_px: int) -> Raster:
        """Return a picture upright in sRGB, its longer side at most so many pixels."""
        with _opened(content) as picture:
            return Raster(np.array(_upright(picture, most_px), dtype=np.uint8))

    def stripped(self, content: bytes, as_format: PictureFormat, most_px: int | None = None) -> bytes:
        """Return a picture as a new file that holds nothing but its pixels, upright and in sRGB."""
        with _opened(content) as picture:
            upright = _upright(picture, most_px)
        bare = Image.frombytes("RGB", upright.size, upright.tobytes())
        out = io.BytesIO()
        if as_format == "image/png":
            bare.save(out, "PNG", optimize=False)
        else:
            quality = 92 if most_px is None else 82
            bare.save(out, "JPEG", quality=quality, subsampling=0 if most_px is None else 2)
        return out.getvalue()


@contextmanager
def _opened(content: bytes) -> Iterator[Image.Image]:
    """Open a picture, and tell of any trouble with it in words."""
    if len(content) > MOST_MB * MB:
        raise PictureRefused(_too_heavy(len(content)))
    if content[4:8] == b"ftyp" and content[8:12] in _HEIF:
        raise PictureRefused(
            "This is a HEIC picture, which cannot be read here. Set the phone’s camera to the most compatible format, "
            "or share the picture as JPEG, and attach that."
        )
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            with Image.open(io.BytesIO(content), formats=[str(one.format) for one in _READERS]) as picture:
                _refuse_vast(picture)
                yield picture
    except Image.DecompressionBombError as exc:
        raise PictureRefused(f"The picture is too large to open ({exc}). {_ASK_FOR_JPEG}") from exc
    except UnidentifiedImageError as exc:
        raise PictureRefused(
            f"This is no picture that can be read here: JPEG, PNG, WebP and TIFF can. {_ASK_FOR_JPEG}"
        ) from exc
    except _DAMAGED as exc:
        raise PictureRefused(f"The picture is damaged or cut off: {exc or type(exc).__name__}. Copy it anew.") from exc


def _refuse_vast(picture: Image.Image) -> None:
    if picture.width * picture.height > MOST_MEGAPIXELS * 1_000_000:
        raise PictureRefused(
            f"The picture has {picture.width * picture.height / 1e6:.0f} million pixels, and {MOST_MEGAPIXELS} are the "
            "most: save it smaller, and attach that."
        )


def _too_heavy(size: int) -> str:
    return f"The picture has {size / MB:.0f} MB, and {MOST_MB} are the most: save it smaller, and attach that."


def _small(picture: Image.Image) -> Image.Image:
    """Return a small copy, for which all of the file is read all the same."""
    picture.draft(None, (256, 256))
    picture.load()
    small = picture.copy()
    small.thumbnail((256, 256))
    return small


def _upright(picture: Image.Image, most_px: int | None) -> Image.Image:
    if most_px is not None:
        picture.draft(None, (most_px, most_px))
    picture.load()
    seen = _in_srgb(picture)
    turned = ImageOps.exif_transpose(seen)
    if most_px is None or max(turned.size) <= most_px:
        return turned
    share = most_px / max(turned.size)
    size = (max(1, round(turned.width * share)), max(1, round(turned.height * share)))
    return turned.resize(size, Image.Resampling.BOX)  # means over areas, so that colours stay what they are


def _in_srgb(picture: Image.Image) -> Image.Image:
    """Return a picture in the colours of sRGB, by its own profile if it has one; what shows through lies on white."""
    profile = picture.info.get("icc_profile")
    plain = _in_eight_bits(picture)
    if plain.mode == "CMYK" and not profile:
        raise PictureRefused(
            "The picture is in printing inks (CMYK) and does not say which: save it as sRGB, and attach that."
        )
    if profile and plain.mode in ("RGB", "CMYK", "L"):
        plain = _converted(plain, profile)
    return _oriented_like(picture, plain.convert("RGB"))


def _in_eight_bits(picture: Image.Image) -> Image.Image:
    if picture.mode in _SIXTEEN_BITS:
        return Image.fromarray((np.asarray(picture).astype(np.uint16) >> 8).astype(np.uint8))
    if picture.mode in (_WHOLE_NUMBERS, _FRACTIONS):
        raise PictureRefused(f"The picture holds numbers that no camera writes (mode {picture.mode}). {_ASK_FOR_JPEG}")
    if picture.mode in ("RGB", "CMYK", "L"):
        return picture
    if "A" in picture.getbands() or "transparency" in picture.info:
        see_through = picture.convert("RGBA")
        ground = Image.new("RGB", picture.size, _PAPER)
        ground.paste(see_through, mask=see_through.getchannel("A"))
        return ground
    return picture.convert("RGB")


def _converted(plain: Image.Image, profile: bytes) -> Image.Image:
    try:
        converted = ImageCms.profileToProfile(
            plain,
            ImageCms.ImageCmsProfile(io.BytesIO(profile)),
            ImageCms.createProfile("sRGB"),
            renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
            outputMode="RGB",
        )
    except (ImageCms.PyCMSError, OSError) as exc:
        if plain.mode == "CMYK":
            raise PictureRefused(f"The picture’s colour profile cannot be read: {exc}. {_ASK_FOR_JPEG}") from exc
        return plain  # a broken profile of an RGB picture: sRGB is by far the likeliest
    return converted if converted is not None else plain


def _oriented_like(picture: Image.Image, plain: Image.Image) -> Image.Image:
    """Let a converted copy know which way up the picture is."""
    orientation = picture.getexif().get(_ORIENTATION)
    if orientation is not None:
        plain.getexif()[_ORIENTATION] = orientation
    return plain
