"""Photographs: which act each gesture keeps, what is refused, and how everything is taken back."""

from __future__ import annotations

from pathlib import Path

import pytest

from tastebook.domain.act import Act
from tastebook.domain.course import Step
from tastebook.domain.errors import JournalFull, PictureRefused, TastingError
from tastebook.domain.photo_colour import PhotoColour
from tastebook.domain.session import Photo, picture_digest
from tests.bench_kit import Kit, bench_kit
from tests.cups import IN_LIQUOR, IN_WHITE, cup, picture_file

CUP = picture_file(cup())


def step(kit: Kit, key: str) -> Step:
    return kit.desk.tasting.session.course.step(key)


def poured() -> Kit:
    """Return a desk with the rinse and infusion 1 poured."""
    kit = bench_kit()
    for index in (0, 1):
        kit.desk.pour_water_on(index)
        kit.clock.advance(20)
        kit.desk.pour()
    return kit


def newest(kit: Kit) -> Act:
    return kit.journal.acts(kit.desk.scope)[-1]


def attached(kit: Kit, key: str = "liquor", infusion: int | None = 1, content: bytes = CUP) -> Photo:
    return kit.photographs.attach(kit.desk, step(kit, key), infusion, content)


def told(kit: Kit, photo: Photo) -> PhotoColour:
    raster = kit.photographs.raster(photo, 2400)
    white = kit.photographs.white_patch(raster, IN_WHITE)
    return kit.photographs.colour(raster, [white], IN_LIQUOR)[1]


class TestAttaching:
    def test_the_picture_is_kept_as_it_came_and_the_photo_is_one_act(self) -> None:
        kit = poured()

        photo = attached(kit)

        assert kit.journal.picture(photo.picture) == CUP
        assert (photo.picture, photo.media_type) == (picture_digest(CUP), "image/png")
        assert kit.desk.tasting.photos_at("liquor", 1) == (photo,)
        assert [change.after for change in newest(kit).changes] == [photo]

    @pytest.mark.parametrize(("key", "infusion", "column"), [("dry_leaf", None, None), ("infused_leaf", 1, None)])
    def test_any_step_takes_photos_in_its_own_column(self, key: str, infusion: int | None, column: int | None) -> None:
        kit = poured()

        photo = attached(kit, key, infusion)

        assert kit.desk.tasting.photos_at(key, column) == (photo,)

    def test_what_is_no_picture_leaves_nothing_behind(self) -> None:
        kit = poured()
        before = kit.journal.acts(kit.desk.scope)

        with pytest.raises(PictureRefused):
            attached(kit, content=b"a recipe")

        assert kit.journal.acts(kit.desk.scope) == before
        assert kit.desk.tasting.photos == ()

    def test_a_file_is_attached_by_its_path(self, tmp_path: Path) -> None:
        kit = poured()
        (tmp_path / "cup.png").write_bytes(CUP)

        photo = kit.photographs.attach_file(kit.desk, step(kit, "liquor"), 1, tmp_path / "cup.png")

        assert kit.journal.picture(photo.picture) == CUP

    def test_a_full_disk_is_told_and_leaves_no_photo_without_its_picture(self) -> None:
        kit = poured()
        kit.journal.keep_picture = _full  # type: ignore[method-assign]

        with pytest.raises(JournalFull):
            attached(kit)

        assert kit.desk.tasting.photos == ()


class TestDescribingAndTakingAway:
    def test_a_caption_is_one_act_and_is_taken_back_by_another(self) -> None:
        kit = poured()
        photo = attached(kit)

        kit.photographs.describe(kit.desk, photo.uid, "  first cup,\n by the window ")

        assert kit.photographs.photo(kit.desk, photo.uid).caption == "first cup, by the window"
        kit.desk.undo()
        assert kit.photographs.photo(kit.desk, photo.uid).caption == ""

    def test_a_photo_taken_away_comes_back_with_its_picture(self) -> None:
        kit = poured()
        photo = attached(kit)

        kit.photographs.remove(kit.desk, photo.uid)

        assert kit.desk.tasting.photos == ()
        with pytest.raises(TastingError, match="taken away"):
            kit.photographs.describe(kit.desk, photo.uid, "gone")
        kit.desk.undo()
        assert kit.desk.tasting.photos == (photo,)
        assert kit.photographs.raster(photo, 100).width == 100


class TestColour:
    def test_it_is_one_act_with_what_it_was_told_from(self) -> None:
        kit = poured()
        photo = attached(kit)
        colour = told(kit, photo)

        kit.photographs.take_colour(kit.desk, step(kit, "liquor"), 1, photo.uid, colour)

        one, kept = kit.desk.tasting.infusion(1), kit.photographs.photo(kit.desk, photo.uid)
        assert one is not None
        assert (one.liquor, one.liquor_source) == (colour.lab, "photo")
        assert (kept.white_at, kept.liquor_at, kept.spread_e00) == (IN_WHITE, IN_LIQUOR, colour.spread_e00)
        assert len(newest(kit).changes) == 2

    def test_undo_takes_colour_and_evidence_back_together(self) -> None:
        kit = poured()
        photo = attached(kit)
        kit.photographs.take_colour(kit.desk, step(kit, "liquor"), 1, photo.uid, told(kit, photo))

        kit.desk.undo()

        one = kit.desk.tasting.infusion(1)
        assert one is not None
        assert one.liquor is None
        assert kit.desk.tasting.photos == (photo,)

    def test_an_infusion_that_was_not_begun_takes_none(self) -> None:
        kit = poured()
        photo = attached(kit)

        with pytest.raises(TastingError, match="has not been begun"):
            kit.photographs.take_colour(kit.desk, step(kit, "liquor"), 3, photo.uid, told(kit, photo))

    def test_it_is_late_when_the_next_water_is_on(self) -> None:
        kit = poured()
        photo = attached(kit)
        kit.desk.pour_water_on(2)
        kit.clock.advance(20)
        kit.desk.pour()

        kit.photographs.take_colour(kit.desk, step(kit, "liquor"), 1, photo.uid, told(kit, photo))

        one = kit.desk.tasting.infusion(1)
        assert one is not None
        assert one.liquor_late


def test_a_picture_is_decoded_once_while_it_is_looked_at() -> None:
    kit = poured()
    photo = attached(kit)

    assert kit.photographs.raster(photo, 200) is kit.photographs.raster(photo, 200)


def _full(content: bytes) -> str:
    raise JournalFull("The disk is full.")
