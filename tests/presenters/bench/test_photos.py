"""Photographs at the Bench: what is asked for, what a tap tells, what is refused, and what is kept."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tastebook.domain.liquor import colour_name
from tastebook.presenters.bench.photos import MOST_SHOWN
from tastebook.presenters.photo_views import PhotoSheetView
from tests.bench_kit import Kit, bench_kit
from tests.cups import AT_BORDER, AT_RIM, IN_LIQUOR, IN_WHITE, OTHER_WHITE, TEA, cup, picture_file

CUP = picture_file(cup())


@pytest.fixture
def kit() -> Kit:
    """Return a Bench at the liquor of infusion 1."""
    made = bench_kit()
    made.steep(5)
    made.press()
    made.steep(20)
    made.bench.go_to("1")
    made.bench.choose_step("liquor")
    return made


def opened(kit: Kit, content: bytes = CUP) -> PhotoSheetView:
    kit.photos.open(kit.photos.attach(content))
    return sheet(kit)


def sheet(kit: Kit) -> PhotoSheetView:
    view = kit.photos.sheet()
    assert view is not None
    return view


def liquor_of(kit: Kit, index: int = 1) -> tuple[object, object]:
    one = kit.desk.tasting.infusion(index)
    assert one is not None
    return one.liquor, one.liquor_source


class TestTheRow:
    def test_it_shows_the_photos_of_the_step_at_hand(self, kit: Kit) -> None:
        uid = kit.photos.attach(CUP)

        assert [one.uid for one in kit.photos.row().thumbs] == [uid]
        kit.bench.choose_step("flavour")
        assert kit.photos.row().thumbs == ()

    def test_it_shows_the_newest_and_counts_the_others(self, kit: Kit) -> None:
        uids = [kit.photos.attach(CUP) for _ in range(MOST_SHOWN + 2)]

        row = kit.photos.row()

        assert [one.uid for one in row.thumbs] == uids[-MOST_SHOWN:]
        assert row.more == 2

    def test_what_is_no_picture_is_told_at_the_step(self, kit: Kit, tmp_path: Path) -> None:
        (tmp_path / "note.txt").write_text("tea")

        assert kit.photos.attach_file(str(tmp_path / "note.txt")) == ""

        assert "no picture" in kit.bench.card().trouble
        assert kit.photos.row().thumbs == ()

    def test_a_picture_that_the_journal_lost_leaves_its_place(self, kit: Kit) -> None:
        kit.photos.attach(CUP)
        kit.journal._pictures.clear()
        kit.photographs._seen.clear()

        assert [one.raster for one in kit.photos.row().thumbs] == [None]


class TestTheSheet:
    def test_a_photo_of_leaf_is_only_looked_at(self, kit: Kit) -> None:
        kit.bench.choose_step("flavour")

        view = opened(kit)

        assert (view.mode, view.prompt, view.caveat) == ("look", "", "")
        kit.photos.tap(*IN_WHITE)
        assert sheet(kit).patches == ()

    def test_porcelain_is_asked_for_first_then_liquor(self, kit: Kit) -> None:
        first = opened(kit)
        kit.photos.tap(*IN_WHITE)
        second = sheet(kit)

        assert (first.mode, first.prompt) == ("white", "Tap the white porcelain")
        assert (second.mode, second.prompt) == ("liquor", "Tap the liquor")
        assert [one.kind for one in second.patches] == ["porcelain"]

    def test_both_taps_tell_the_colour_in_words_with_its_spread(self, kit: Kit) -> None:
        opened(kit)
        kit.photos.tap(*IN_WHITE)
        kit.photos.tap(*IN_LIQUOR)

        view = sheet(kit)

        assert view.mode == "told"
        assert view.colour is not None
        assert view.colour.against_chart.startswith("ΔE ")
        assert view.colour.name in view.colour.against_chart
        assert view.colour.spread.startswith("less than ± 0.1 within the patch")
        assert view.colour.against_before == ""
        assert "L* 94" in view.colour.remarks[-1]
        assert "no measuring instrument" in view.caveat

    def test_a_tap_that_tells_nothing_says_why_and_may_be_done_again(self, kit: Kit) -> None:
        opened(kit)

        kit.photos.tap(*AT_BORDER)
        refused = sheet(kit)
        kit.photos.tap(*IN_WHITE)

        assert "edge of the picture" in refused.refusal
        assert refused.mode == "white"
        assert (sheet(kit).refusal, sheet(kit).mode) == ("", "liquor")

    def test_a_finger_beside_the_rim_takes_the_porcelain_and_the_ring_shows_where(self, kit: Kit) -> None:
        opened(kit)

        kit.photos.tap(*AT_RIM)

        (patch,) = sheet(kit).patches
        assert (patch.kind, sheet(kit).mode) == ("porcelain", "liquor")
        assert 0 < AT_RIM[1] - patch.y < 0.05

    def test_liquor_refused_after_it_was_told_leaves_nothing_to_take(self, kit: Kit) -> None:
        opened(kit)
        for at in (IN_WHITE, IN_LIQUOR, AT_RIM):
            kit.photos.tap(*at)

        view = sheet(kit)

        assert (view.colour, view.mode) == (None, "liquor")
        assert not kit.photos.take_colour()

    def test_more_porcelain_is_taken_into_account_at_once(self, kit: Kit) -> None:
        opened(kit)
        for at in (IN_WHITE, IN_LIQUOR):
            kit.photos.tap(*at)

        kit.photos.add_white()
        asked = sheet(kit)
        kit.photos.tap(*OTHER_WHITE)

        assert asked.prompt == "Tap more porcelain"
        assert [one.kind for one in sheet(kit).patches] == ["porcelain", "porcelain", "liquor"]
        assert sheet(kit).mode == "told"

    def test_liquor_tapped_as_porcelain_is_asked_about_and_the_whiter_part_ringed(self, kit: Kit) -> None:
        opened(kit)

        kit.photos.tap(*IN_LIQUOR)
        asked = sheet(kit)
        kit.photos.tap(*IN_WHITE)

        assert asked.mode == "white"
        assert asked.refusal.startswith("Is this the white porcelain?")
        assert asked.hint == ""
        assert [one.kind for one in asked.patches] == ["doubted", "whiter"]
        assert [one.kind for one in sheet(kit).patches] == ["porcelain"]

    def test_a_second_tap_there_says_that_it_is_porcelain_and_one_elsewhere_does_not(self, kit: Kit) -> None:
        opened(kit)

        kit.photos.tap(*IN_LIQUOR)
        kit.photos.tap(IN_LIQUOR[0] + 0.15, IN_LIQUOR[1])
        elsewhere = sheet(kit)
        kit.photos.tap(IN_LIQUOR[0] + 0.16, IN_LIQUOR[1])

        assert (elsewhere.mode, bool(elsewhere.refusal)) == ("white", True)
        assert (sheet(kit).mode, sheet(kit).refusal) == ("liquor", "")

    def test_how_far_the_colour_may_be_off_is_told_for_daylight_and_lamplight(self, kit: Kit) -> None:
        opened(kit)
        for at in (IN_WHITE, IN_LIQUOR):
            kit.photos.tap(*at)

        colour = sheet(kit).colour

        assert colour is not None
        assert re.fullmatch(
            r"Right within ΔE \d\.\d by daylight, \d\.\d by lamplight, in nine of ten", colour.right_within
        )

    def test_a_lamp_left_in_the_picture_is_spoken_of_alone(self, kit: Kit) -> None:
        opened(kit, picture_file(cup((200, 90, 25), (250, 190, 95))))
        for at in (IN_WHITE, IN_LIQUOR):
            kit.photos.tap(*at)

        colour = sheet(kit).colour

        assert colour is not None
        assert "by lamplight" in colour.right_within
        assert "daylight" not in colour.right_within

    def test_porcelain_in_doubt_leaves_no_figure(self, kit: Kit) -> None:
        opened(kit)
        for at in (IN_LIQUOR, IN_LIQUOR, (0.62, 0.5)):
            kit.photos.tap(*at)

        colour = sheet(kit).colour

        assert colour is not None
        assert "in doubt" in colour.right_within

    def test_beginning_again_forgets_the_taps(self, kit: Kit) -> None:
        opened(kit)
        kit.photos.tap(*IN_WHITE)

        kit.photos.begin_again()

        assert (sheet(kit).patches, sheet(kit).mode) == ((), "white")


class TestTaking:
    def test_the_colour_is_the_cups_from_then_on_and_marked_as_from_a_photo(self, kit: Kit) -> None:
        opened(kit)
        for at in (IN_WHITE, IN_LIQUOR):
            kit.photos.tap(*at)

        assert kit.photos.take_colour()

        lab, source = liquor_of(kit)
        assert source == "photo"
        assert sheet(kit).colour is not None
        assert colour_name(lab) == sheet(kit).colour.name  # type: ignore[arg-type, union-attr]
        assert kit.bench.card().sheet.source == "photo"  # type: ignore[union-attr]
        assert [one.mark for one in kit.photos.row().thumbs] == ["told the colour"]

    def test_it_is_the_photos_cup_though_the_timer_went_on(self, kit: Kit) -> None:
        opened(kit)
        for at in (IN_WHITE, IN_LIQUOR):
            kit.photos.tap(*at)
        kit.press()
        kit.steep(25)
        assert kit.bench.column == "2"

        kit.photos.take_colour()

        assert liquor_of(kit, 1)[1] == "photo"
        assert liquor_of(kit, 2)[0] is None

    def test_the_last_cup_is_compared_with_and_how_it_was_judged_is_said(self, kit: Kit) -> None:
        kit.bench.choose_swatch(3, 5)
        kit.press()
        kit.steep(25)
        kit.bench.choose_step("liquor")
        opened(kit, picture_file(cup((TEA[0] - 40, TEA[1] - 40, TEA[2] - 20))))
        for at in (IN_WHITE, IN_LIQUOR):
            kit.photos.tap(*at)

        colour = sheet(kit).colour

        assert colour is not None
        assert "infusion 1, which was chosen by eye, ΔE" in colour.against_before


class TestHandingOver:
    def test_a_caption_is_kept(self, kit: Kit) -> None:
        opened(kit)

        kit.photos.describe("first cup")

        assert sheet(kit).caption == "first cup"
        assert kit.photos.row().thumbs[0].name == "first cup"

    def test_a_photo_taken_away_is_no_longer_looked_at(self, kit: Kit) -> None:
        opened(kit)

        kit.photos.remove()

        assert kit.photos.sheet() is None
        kit.bench.undo()
        assert kit.photos.sheet() is not None

    @pytest.mark.parametrize(("path", "begins"), [("a.jpg", b"\xff\xd8"), ("a.PNG", b"\x89PNG"), ("a", b"\xff\xd8")])
    def test_a_copy_is_what_its_name_says(self, kit: Kit, path: str, begins: bytes) -> None:
        opened(kit)

        assert kit.photos.copy(path).startswith(begins)

    def test_a_copy_is_named_after_lot_day_and_cup(self, kit: Kit) -> None:
        opened(kit)

        assert kit.photos.copy_name() == "Heron Ridge, spring roast, 2026-04-18, liquor 1.jpg"
