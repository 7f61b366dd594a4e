"""Pictures as cameras, phones and mischief write them."""

from __future__ import annotations

import io
import random
import struct
import zlib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image, ImageCms

from tastebook.domain.errors import PictureRefused
from tastebook.platform.pictures import FORMATS, MOST_MB, MOST_MEGAPIXELS, PillowPictures
from tests.cups import cup_pixels

PICTURES = PillowPictures()
WRITTEN = ("JPEG", "PNG", "WEBP", "TIFF")
ORIENTATION = 0x0112
RED_CORNER = (220, 40, 30)


def written(pixels: np.ndarray, format_name: str = "JPEG", **how: Any) -> bytes:
    out = io.BytesIO()
    how = {"quality": 95, **how} if format_name in ("JPEG", "WEBP") else how
    Image.fromarray(pixels).save(out, format_name, **how)
    return out.getvalue()


def lying(width: int = 120, height: int = 80) -> np.ndarray:
    """Return a lying picture whose top left quarter is red."""
    pixels = np.full((height, width, 3), 200, np.uint8)
    pixels[: height // 2, : width // 2] = RED_CORNER
    return pixels


def with_everything_a_phone_tells() -> bytes:
    """Return a JPEG with place, camera, comment, thumbnail-like maker notes and XMP, lying on its side."""
    exif = Image.Exif()
    exif[ORIENTATION] = 6
    exif[0x010F], exif[0x0110], exif[0x0132] = "A maker of phones", "Model 7", "2026:04:18 09:30:00"
    gps = exif.get_ifd(0x8825)
    gps[1], gps[2], gps[3], gps[4] = "N", (25.0, 2.0, 31.0), "E", (121.0, 33.0, 55.0)
    exif.get_ifd(0x8769)[0x927C] = b"maker notes, secret"
    return written(lying(), exif=exif, comment=b"taken at home", xmp=b"<x:xmpmeta>where I live</x:xmpmeta>")


class TestReading:
    @pytest.mark.parametrize("format_name", WRITTEN)
    def test_every_usual_format_is_read(self, format_name: str) -> None:
        content = written(cup_pixels(), format_name)

        facts, raster = PICTURES.looked_at(content), PICTURES.raster(content, 480)

        assert (facts.media_type, facts.width, facts.height) == (FORMATS[format_name], 480, 480)
        assert np.abs(raster.pixels.astype(int) - cup_pixels().astype(int)).mean() < 1.5

    @pytest.mark.parametrize("format_name", WRITTEN)
    @pytest.mark.parametrize("orientation", range(1, 9))
    def test_a_picture_stands_upright_however_the_camera_was_held(self, format_name: str, orientation: int) -> None:
        exif = Image.Exif()
        exif[ORIENTATION] = orientation
        content = written(_as_held(lying(), orientation), format_name, exif=exif)

        raster, facts = PICTURES.raster(content, 120), PICTURES.looked_at(content)

        assert (raster.width, raster.height) == (facts.width, facts.height) == (120, 80)
        assert raster.pixels[20, 30].astype(int) == pytest.approx(RED_CORNER, abs=12)

    def test_a_large_picture_is_made_small_by_means_over_areas(self) -> None:
        stripes = np.zeros((800, 1200, 3), np.uint8)
        stripes[:, ::2] = 200

        raster = PICTURES.raster(written(stripes, "PNG"), 300)

        assert (raster.width, raster.height) == (300, 200)
        assert set(np.unique(raster.pixels)) == {100}

    def test_a_small_picture_is_not_blown_up(self) -> None:
        assert PICTURES.raster(written(lying()), 2400).width == 120

    def test_what_phones_append_to_a_jpeg_is_passed_over(self) -> None:
        first, second = Image.fromarray(lying()), Image.fromarray(np.zeros((40, 40, 3), np.uint8))
        out = io.BytesIO()
        first.save(out, "MPO", save_all=True, append_images=[second], quality=95)

        assert PICTURES.looked_at(out.getvalue()).media_type == "image/jpeg"
        assert PICTURES.raster(out.getvalue(), 120).pixels[20, 30].astype(int) == pytest.approx(RED_CORNER, abs=12)


class TestColours:
    def test_an_embedded_profile_is_carried_over_to_srgb(self) -> None:
        srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))
        swapped = _profile_with_red_and_blue_swapped(srgb.tobytes())

        plain = PICTURES.raster(written(lying(), "PNG"), 120).pixels[20, 30]
        seen = PICTURES.raster(written(lying(), "PNG", icc_profile=swapped), 120).pixels[20, 30]

        assert plain.tolist() == list(RED_CORNER)
        assert seen[2] > 150 > seen[0]

    def test_the_profile_of_srgb_changes_nothing(self) -> None:
        srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()

        raster = PICTURES.raster(written(lying(), "PNG", icc_profile=srgb), 120)

        assert raster.pixels[20, 30].astype(int) == pytest.approx(RED_CORNER, abs=1)

    def test_a_broken_profile_is_passed_over(self) -> None:
        raster = PICTURES.raster(written(lying(), "PNG", icc_profile=b"no profile at all"), 120)

        assert raster.pixels[20, 30].tolist() == list(RED_CORNER)

    def test_sixteen_bits_are_read_as_eight(self) -> None:
        deep = Image.fromarray(np.full((80, 120), 200 * 257, np.uint16))
        out = io.BytesIO()
        deep.save(out, "PNG")

        raster = PICTURES.raster(out.getvalue(), 120)

        assert raster.is_grey
        assert set(np.unique(raster.pixels)) == {200}

    def test_sixteen_bits_in_colour_are_read_as_eight(self) -> None:
        raster = PICTURES.raster(_sixteen_bit_png(4, 4, (51400, 25700, 5140)), 120)

        assert raster.pixels[0, 0].tolist() == [200, 100, 20]

    def test_shades_of_grey_are_read_and_known_as_such(self) -> None:
        assert PICTURES.raster(written(np.full((80, 120), 90, np.uint8)), 120).is_grey

    def test_what_shows_through_lies_on_white(self) -> None:
        pixels = np.zeros((80, 120, 4), np.uint8)
        pixels[:, 60:] = (*RED_CORNER, 255)

        raster = PICTURES.raster(written(pixels, "PNG"), 120)

        assert raster.pixels[10, 10].tolist() == [255, 255, 255]
        assert raster.pixels[10, 100].tolist() == list(RED_CORNER)

    def test_a_palette_is_read_as_the_colours_it_names(self) -> None:
        out = io.BytesIO()
        Image.fromarray(lying()).quantize(4).save(out, "PNG")

        assert PICTURES.raster(out.getvalue(), 120).pixels[20, 30].astype(int) == pytest.approx(RED_CORNER, abs=6)

    def test_printing_inks_without_a_profile_are_refused(self) -> None:
        out = io.BytesIO()
        Image.fromarray(lying()).convert("CMYK").save(out, "JPEG")

        with pytest.raises(PictureRefused, match="printing inks"):
            PICTURES.raster(out.getvalue(), 120)

    def test_numbers_that_no_camera_writes_are_refused(self) -> None:
        with pytest.raises(PictureRefused, match="no camera writes"):
            PICTURES.raster(written(np.full((80, 120), 0.5, np.float32), "TIFF"), 120)


class TestRefusals:
    @pytest.mark.parametrize(
        "content", [b"", b"tea", b"%PDF-1.7 ...", b"\xff\xd8\xff"], ids=["empty", "text", "pdf", "x"]
    )
    def test_what_is_no_picture(self, content: bytes) -> None:
        with pytest.raises(PictureRefused, match=r"no picture that can be read|damaged"):
            PICTURES.looked_at(content)

    def test_a_heic_picture_is_named_with_the_way_out(self) -> None:
        with pytest.raises(PictureRefused, match=r"HEIC.*JPEG"):
            PICTURES.looked_at(b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + b"\x00" * 100)

    def test_another_kind_of_picture_is_not_let_in(self) -> None:
        out = io.BytesIO()
        Image.fromarray(lying()).save(out, "BMP")

        with pytest.raises(PictureRefused, match="JPEG, PNG, WebP and TIFF"):
            PICTURES.looked_at(out.getvalue())

    @pytest.mark.parametrize("format_name", WRITTEN)
    def test_a_picture_cut_off_anywhere(self, format_name: str) -> None:
        content = written(cup_pixels(noise=6), format_name)

        for share in (0.1, 0.5, 0.9):
            with pytest.raises(PictureRefused):
                PICTURES.looked_at(content[: int(len(content) * share)])

    @pytest.mark.parametrize("format_name", WRITTEN)
    def test_a_picture_damaged_anywhere_is_read_or_refused_and_nothing_else(self, format_name: str) -> None:
        content = written(cup_pixels(size=(160, 140), noise=6), format_name)
        dice = random.Random(format_name)

        for _ in range(150):
            hurt = bytearray(content)
            for _ in range(dice.randint(1, 12)):
                hurt[dice.randrange(len(hurt) if dice.random() < 0.5 else 200)] = dice.randrange(256)
            try:
                PICTURES.looked_at(bytes(hurt))
                raster = PICTURES.raster(bytes(hurt), 100)
            except PictureRefused:
                continue
            assert raster.pixels.shape[2] == 3

    def test_a_small_file_that_unfolds_into_a_vast_picture(self) -> None:
        vast = _png_header(40_000, 40_000)

        with pytest.raises(PictureRefused, match=r"too large|million pixels"):
            PICTURES.looked_at(vast)

    def test_more_pixels_than_are_read(self) -> None:
        side = round((MOST_MEGAPIXELS * 1e6) ** 0.5) + 100

        with pytest.raises(PictureRefused, match=f"{MOST_MEGAPIXELS} are the most"):
            PICTURES.looked_at(_png_header(side, side))

    def test_more_megabytes_than_are_kept(self, tmp_path: Path) -> None:
        heavy = tmp_path / "cup.jpg"
        with heavy.open("wb") as file:
            file.truncate((MOST_MB + 1) * 1_000_000)

        with pytest.raises(PictureRefused, match=f"{MOST_MB} are the most"):
            PICTURES.load(heavy)
        with pytest.raises(PictureRefused, match=f"{MOST_MB} are the most"):
            PICTURES.looked_at(b"\x00" * (MOST_MB + 1) * 1_000_000)

    def test_a_file_that_is_not_there(self, tmp_path: Path) -> None:
        with pytest.raises(PictureRefused, match=r"cup\.jpg could not be read"):
            PICTURES.load(tmp_path / "cup.jpg")


class TestStripping:
    def test_nothing_but_pixels_leaves_the_house(self) -> None:
        content = with_everything_a_phone_tells()
        told = (b"maker", b"Model 7", b"secret", b"at home", b"where I live", b"Exif", b"GPS", b"2026")
        assert sum(one in content for one in told) >= 6

        for as_format in ("image/jpeg", "image/png"):
            stripped = PICTURES.stripped(content, as_format)  # type: ignore[arg-type]
            with Image.open(io.BytesIO(stripped)) as picture:
                assert dict(picture.getexif()) == {}
                assert set(picture.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
            assert [one for one in told if one in stripped] == []

    def test_only_the_segments_that_pixels_need_are_written(self) -> None:
        stripped = PICTURES.stripped(with_everything_a_phone_tells(), "image/jpeg")
        png = PICTURES.stripped(with_everything_a_phone_tells(), "image/png")

        assert _jpeg_segments(stripped) <= {0xE0, 0xDB, 0xC0, 0xC4, 0xDA}
        assert _png_chunks(png) == {b"IHDR", b"IDAT", b"IEND"}

    def test_it_stands_upright(self) -> None:
        with Image.open(io.BytesIO(PICTURES.stripped(with_everything_a_phone_tells(), "image/png"))) as picture:
            assert picture.size == (80, 120)
            assert picture.getpixel((60, 20)) == pytest.approx(RED_CORNER, abs=12)

    def test_it_is_made_as_small_as_asked(self) -> None:
        with Image.open(io.BytesIO(PICTURES.stripped(written(cup_pixels()), "image/jpeg", 200))) as picture:
            assert picture.size == (200, 200)


def _as_held(pixels: np.ndarray, orientation: int) -> np.ndarray:
    """Return upright pixels as a camera stores them that was held so; EXIF 2.3, tag 274."""
    return np.ascontiguousarray(
        {
            1: lambda p: p,
            2: lambda p: p[:, ::-1],
            3: lambda p: p[::-1, ::-1],
            4: lambda p: p[::-1],
            5: lambda p: p.swapaxes(0, 1),
            6: lambda p: np.rot90(p, 1),
            7: lambda p: p[::-1, ::-1].swapaxes(0, 1),
            8: lambda p: np.rot90(p, -1),
        }[orientation](pixels)
    )


def _profile_with_red_and_blue_swapped(profile: bytes) -> bytes:
    return profile.replace(b"rXYZ", b"tXYZ").replace(b"bXYZ", b"rXYZ").replace(b"tXYZ", b"bXYZ")


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def _png_header(width: int, height: int) -> bytes:
    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + _chunk(b"IHDR", header)
        + _chunk(b"IDAT", zlib.compress(b"\x00" * 9))
        + _chunk(b"IEND", b"")
    )


def _sixteen_bit_png(width: int, height: int, level: tuple[int, int, int]) -> bytes:
    header = struct.pack(">IIBBBBB", width, height, 16, 2, 0, 0, 0)
    rows = (b"\x00" + struct.pack(">3H", *level) * width) * height
    return b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", header) + _chunk(b"IDAT", zlib.compress(rows)) + _chunk(b"IEND", b"")


def _jpeg_segments(content: bytes) -> set[int]:
    """Return the markers of a JPEG up to its data."""
    found, at = set(), 2
    while content[at] == 0xFF:
        marker, length = content[at + 1], struct.unpack(">H", content[at + 2 : at + 4])[0]
        found.add(marker)
        if marker == 0xDA:
            return found
        at += 2 + length
    return found


def _png_chunks(content: bytes) -> set[bytes]:
    found, at = set(), 8
    while at < len(content):
        (length,) = struct.unpack(">I", content[at : at + 4])
        found.add(content[at + 4 : at + 8])
        at += 12 + length
    return found
