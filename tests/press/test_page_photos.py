"""Photographs on the session page: small, captioned, told to whoever cannot see them; of the file its pixels alone."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from functools import cache
from itertools import pairwise

import pdfplumber
import pytest
from PIL import Image

from tastebook.domain.session import Photo, Tasting, picture_digest
from tastebook.domain.steep import Instant
from tastebook.platform.pictures import PillowPictures
from tastebook.press.session_pdf import PAPERS, set_session_page
from tastebook.reports.page import session_page
from tastebook.reports.page_photos import MOST, MOST_PX, page_photos
from tastebook.services.keeping import Keeping
from tastebook.services.photographs import Photographs
from tests.cups import cup_pixels
from tests.fakes import FakeClock, FakeIds, FakeJournal
from tests.platform.test_pictures import with_everything_a_phone_tells
from tests.press import reading, sample

LIMIT_BYTES = 1_000_000
NOW = Instant(sample.BEGAN_UTC, 5000.0, "boot")


def photographs() -> tuple[Photographs, FakeJournal]:
    journal = FakeJournal()
    return Photographs(Keeping(journal, FakeClock(), FakeIds()), PillowPictures, lambda: 94.0), journal


@cache
def picture(number: int) -> bytes:
    """Return a large photo with grain, as phones make them: grain is what makes files large."""
    out = io.BytesIO()
    pixels = cup_pixels((150 + 10 * number, 110, 60), size=(1600, 1200), noise=12)
    Image.fromarray(pixels).save(out, "JPEG", quality=95)
    return out.getvalue()


def photographed(count: int, journal: FakeJournal) -> Tasting:
    whole = sample.tasting()
    photos = tuple(
        Photo(
            f"photo-{number}", whole.session.uid, "liquor", 1 + number % 8, journal.keep_picture(picture(number)),
            "image/jpeg", sample.BEGAN_UTC, caption="by the window" if number == 2 else "",
            liquor_at=(0.5, 0.5) if number == 0 else (), spread_e00=1.2 if number == 0 else None,
        )
        for number in range(count)
    )  # fmt: skip
    first = replace(whole.infusion(1) or whole.infusions[0], liquor_source="photo")
    cups = tuple(first if one.index == 1 else one for one in whole.infusions)
    return replace(whole, photos=photos, infusions=cups)


def page_of(tasting: Tasting, made: Photographs) -> bytes:
    page = session_page(
        tasting, sample.vocabulary(), NOW, cautions=sample.cautions(), photos=page_photos(tasting, made)
    )
    return set_session_page(page)


def images(pdf: bytes) -> list[tuple[int, int]]:
    return [
        (image.image.width, image.image.height) for page in reading.document(pdf).pages for image in page.images
        if image.image is not None
    ]  # fmt: skip


def test_a_few_are_shown_and_the_page_stays_small() -> None:
    made, journal = photographs()

    pdf = page_of(photographed(9, journal), made)

    assert len(images(pdf)) == MOST
    assert max(max(size) for size in images(pdf)) == MOST_PX
    assert len(pdf) < LIMIT_BYTES
    assert "3 more in the journal" in reading.by_pypdf(pdf)


def test_those_that_told_a_colour_or_have_a_caption_come_before_others() -> None:
    made, journal = photographs()
    tasting = photographed(9, journal)
    late = replace(tasting.photos[8], caption="the last cup")

    shown = page_photos(replace(tasting, photos=(*tasting.photos[:8], late)), made).shown

    assert [one.caption for one in shown if one.caption] == ["by the window", "the last cup"]
    assert [bool(one.told) for one in shown].count(True) == 1


def test_caption_place_and_colour_stand_below_and_are_told_to_screen_readers() -> None:
    made, journal = photographs()

    pdf = page_of(photographed(3, journal), made)

    text = reading.unspaced(reading.by_pypdf(pdf))
    assert reading.unspaced("by the window") in text
    assert re.search(r"±\d\.\dbydaylight,±\d\.\dbylamplight", text)
    alts = [str(one["/Alt"]) for one in reading.structure(pdf) if "/Alt" in one]
    assert any("by the window" in one for one in alts)
    assert len([one for one in alts if one.startswith("Photo, liquor")]) == 3


def test_nothing_of_where_and_with_what_it_was_taken_is_on_the_page() -> None:
    made, journal = photographs()
    tasting = photographed(1, journal)
    digest = journal.keep_picture(with_everything_a_phone_tells())
    told = replace(tasting, photos=(replace(tasting.photos[0], picture=digest),))

    pdf = page_of(told, made)

    for page in reading.document(pdf).pages:
        for image in page.images:
            assert not any(one in image.data for one in (b"Exif", b"Model 7", b"secret", b"where I live"))
    assert images(pdf) == [(80, 120)]


def test_a_picture_that_the_journal_lost_is_left_out() -> None:
    made, journal = photographs()
    tasting = photographed(2, journal)
    lost = replace(tasting.photos[0], picture=picture_digest(b"lost"))

    shown = page_photos(replace(tasting, photos=(lost, tasting.photos[1])), made).shown

    assert len(shown) == 1


def test_a_session_without_photos_has_no_such_section() -> None:
    made, _ = photographs()

    assert "Photos" not in reading.by_pypdf(page_of(sample.tasting(), made))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("count", [1, 4, 6])
def test_photos_cover_nothing_and_stay_on_the_paper(paper: str, count: int) -> None:
    made, journal = photographs()
    tasting = photographed(count, journal)
    page = session_page(tasting, sample.vocabulary(), NOW, photos=page_photos(tasting, made))

    pdf = set_session_page(page, paper)  # type: ignore[arg-type]

    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        for one in opened.pages:
            boxes = [(image["x0"], image["top"], image["x1"], image["bottom"]) for image in one.images]
            assert all(0 <= x0 < x1 <= one.width and 0 <= top < bottom <= one.height for x0, top, x1, bottom in boxes)
            for left, right in pairwise(sorted(boxes)):
                assert left[2] <= right[0] + 0.5 or left[3] <= right[1] + 0.5 or right[3] <= left[1] + 0.5
            for word in one.extract_words():
                inside = [
                    box for box in boxes
                    if box[0] < (word["x0"] + word["x1"]) / 2 < box[2]
                    and box[1] < (word["top"] + word["bottom"]) / 2 < box[3]
                ]  # fmt: skip
                assert inside == []
