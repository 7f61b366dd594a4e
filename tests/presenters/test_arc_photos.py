"""Photographs on the Arc: in a row, large, handed on; and the liquor that was told from one says so."""

from __future__ import annotations

import pytest

from tastebook.domain.errors import StoreError
from tastebook.presenters.arc.presenter import MOST_BESIDE, ArcPresenter
from tastebook.services.settings import Settings
from tests.bench_kit import Kit, bench_kit
from tests.cups import IN_LIQUOR, IN_WHITE, cup, picture_file

CUP = picture_file(cup())


@pytest.fixture
def kit() -> Kit:
    """Return a tasting with a photo of the leaf, and one of infusion 1 that told its colour."""
    made = bench_kit()
    made.photos.attach(CUP)
    made.steep(5)
    made.press()
    made.steep(20)
    made.bench.go_to("1")
    made.bench.choose_step("liquor")
    made.photos.open(made.photos.attach(CUP))
    made.photos.describe("first cup")
    for at in (IN_WHITE, IN_LIQUOR):
        made.photos.tap(*at)
    made.photos.take_colour()
    return made


def arc_of(kit: Kit, *, with_photos: bool = True) -> ArcPresenter:
    photographs = kit.photographs if with_photos else None
    return ArcPresenter(lambda: kit.desk.tasting, kit.words, Settings, photographs=photographs)


def test_they_stand_in_a_row_with_their_places_and_captions(kit: Kit) -> None:
    photos = arc_of(kit).view().side.photos

    assert [one.name for one in photos] == ["Dry leaf", "Liquor, infusion 1: first cup"]
    assert [one.mark for one in photos] == ["", "told the colour"]


def test_a_liquor_told_from_a_photo_says_so_in_chart_and_table(kit: Kit) -> None:
    view = arc_of(kit).view()

    assert view.chart.liquor_mark == "photo"
    assert "from a photo" in view.chart.columns[0].liquor
    assert any("from a photo" in cell for row in view.table.rows for cell in row.cells)


def test_one_is_looked_at_large_and_cannot_be_changed_there(kit: Kit) -> None:
    arc = arc_of(kit)
    uid = arc.view().side.photos[1].uid

    view = arc.photo(uid)

    assert view is not None
    assert (view.mode, view.caption, view.can_change) == ("look", "first cup", False)
    assert len(view.others) == 2
    assert arc.photo("gone") is None


def test_no_more_are_offered_beside_it_than_have_room(kit: Kit) -> None:
    for _ in range(MOST_BESIDE + 2):
        kit.photos.attach(CUP)
    arc = arc_of(kit)

    view = arc.photo(arc.view().side.photos[0].uid)

    assert view is not None
    assert len(view.others) == MOST_BESIDE


def test_it_is_handed_on_as_nothing_but_pixels_or_said_to_be_gone(kit: Kit) -> None:
    arc = arc_of(kit)
    uid = arc.view().side.photos[1].uid

    assert arc.copy(uid, arc.copy_name(uid)).startswith(b"\xff\xd8")
    assert arc.copy_name(uid) == "Heron Ridge, spring roast, 2026-04-18, liquor 1.jpg"
    with pytest.raises(StoreError, match="no longer here"):
        arc.copy("gone", "a.jpg")


def test_without_any_there_is_no_row(kit: Kit) -> None:
    assert arc_of(kit, with_photos=False).view().side.photos == ()
