"""The colour of a liquor from a photograph: what it comes to, and what is refused with which words."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tastebook.domain.colour import delta_e00, lab_from_hex
from tastebook.domain.colour_arrays import lab_from_xyz, linear_from_srgb, luminance_of, xyz_from_linear
from tastebook.domain.errors import ColourRefused, PorcelainDoubted
from tastebook.domain.photo_colour import (
    PhotoColour,
    Place,
    Raster,
    balanced,
    colour_from_photo,
    liquor_patch,
    white_patch,
    white_patch_near,
)
from tests.cups import (
    AT_BORDER,
    AT_RIM,
    IN_LIQUOR,
    IN_WHITE,
    ON_TABLE,
    OTHER_WHITE,
    TEA,
    WHITE,
    cup,
    cup_pixels,
    with_spot,
)

PORCELAIN_L = 94.0


def colour(raster: Raster, *whites: Place, liquor: Place = IN_LIQUOR, porcelain_l: float = PORCELAIN_L) -> PhotoColour:
    patches = [white_patch(raster, at, is_sure=True) for at in whites or (IN_WHITE,)]
    return colour_from_photo(raster, patches, liquor_patch(raster, liquor), porcelain_l)


def xyz(*level: int) -> np.ndarray:
    return xyz_from_linear(linear_from_srgb(np.array(level)))


class TestTheArithmetic:
    def test_the_worked_check_of_the_balance_is_met_before_scaling(self) -> None:
        # A cup of sRGB (235, 225, 200) and a tea of (190, 130, 60): worked out apart from this program, with another
        # rounding of the matrices.
        before, after = lab_from_xyz(xyz(*TEA)), lab_from_xyz(balanced(xyz(*TEA), xyz(*WHITE)))

        assert before == pytest.approx((59.195, 16.446, 46.061), abs=0.01)
        assert after == pytest.approx((58.907, 14.738, 39.190), abs=0.01)

    def test_the_porcelain_comes_to_lie_at_its_own_lightness_and_neutral(self) -> None:
        found = colour(cup(), liquor=OTHER_WHITE)

        assert found.lab == pytest.approx((PORCELAIN_L, 0, 0), abs=0.01)

    def test_brightness_is_scaled_by_that_of_the_porcelain(self) -> None:
        found = colour(cup())

        scaled = lab_from_xyz(balanced(xyz(*TEA), xyz(*WHITE)) * luminance_of(PORCELAIN_L) / xyz(*WHITE)[1])
        assert found.lab == pytest.approx(scaled, abs=0.01)
        assert found.as_taken == pytest.approx(lab_from_hex("#be823c"), abs=0.02)

    def test_a_darker_photo_of_the_same_cup_tells_the_same_colour(self) -> None:
        def darker(level: tuple[int, int, int], share: float) -> tuple[int, int, int]:
            linear = linear_from_srgb(np.array(level)) * share
            coded = np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055)
            red, green, blue = np.rint(coded * 255).astype(int).tolist()
            return (red, green, blue)

        found = colour(cup(darker(TEA, 0.5), darker(WHITE, 0.5)))

        assert delta_e00(found.lab, colour(cup()).lab) < 0.5

    def test_where_was_tapped_is_kept_with_it(self) -> None:
        found = colour(cup(), IN_WHITE, OTHER_WHITE)

        assert (found.white_at, found.liquor_at) == ((*IN_WHITE, *OTHER_WHITE), IN_LIQUOR)


class TestTheSpread:
    def test_a_flat_liquor_has_none(self) -> None:
        assert (colour(cup()).spread_e00, colour(cup()).ninth_e00) == (0.0, 0.0)

    def test_noise_spreads_and_hardly_moves_the_colour(self) -> None:
        found = colour(cup(noise=4))

        assert 0.5 < found.spread_e00 < found.ninth_e00 < 6
        assert delta_e00(found.lab, colour(cup()).lab) < 0.5

    def test_a_small_spark_is_left_out(self) -> None:
        found = colour(with_spot(cup(), IN_LIQUOR, 0.004, (255, 255, 255)))

        assert found.lab == colour(cup()).lab

    @settings(max_examples=40, deadline=None)
    @given(st.tuples(st.integers(60, 230), st.integers(40, 200), st.integers(10, 120)))
    def test_half_of_the_patch_is_never_further_than_nine_tenths(self, tea: tuple[int, int, int]) -> None:
        try:
            found = colour(cup(tea, noise=2))
        except ColourRefused:
            return
        assert 0 <= found.spread_e00 <= found.ninth_e00


class TestUnevenLight:
    def test_the_nearer_porcelain_counts_more(self) -> None:
        pixels = cup_pixels().astype(float)
        pixels[:240] *= 0.8
        raster = Raster(np.rint(pixels).astype(np.uint8))

        near, far = (0.5, 0.22), OTHER_WHITE
        both = colour(raster, near, far, liquor=(0.5, 0.4))

        alone = [colour(raster, one, liquor=(0.5, 0.4)).lab[0] for one in (near, far)]
        assert alone[1] < both.lab[0] < alone[0]
        assert abs(both.lab[0] - alone[0]) < abs(both.lab[0] - alone[1])

    def test_it_is_said_if_the_taps_differ(self) -> None:
        pixels = cup_pixels().astype(float)
        pixels[:100] *= 0.8
        found = colour(Raster(np.rint(pixels).astype(np.uint8)), IN_WHITE, OTHER_WHITE)

        assert any("uneven" in remark for remark in found.remarks)
        assert colour(cup(), IN_WHITE, OTHER_WHITE).remarks == ()

    def test_it_is_said_if_the_porcelain_lies_in_shade(self) -> None:
        found = colour(cup((60, 40, 20), (120, 115, 100), table=(250, 245, 225)))

        assert any("brighter than the porcelain" in remark for remark in found.remarks)


class TestIsItPorcelain:
    LAMPLIT = (250, 190, 95)

    def test_a_liquor_is_doubted_and_the_porcelain_beside_it_pointed_out(self) -> None:
        with pytest.raises(PorcelainDoubted, match="tap here once more") as doubted:
            white_patch(cup(), IN_LIQUOR)

        assert white_patch(cup(), doubted.value.whiter_at).xyz[1] > 0.7

    def test_whoever_has_been_asked_is_believed(self) -> None:
        assert white_patch(cup(), IN_LIQUOR, is_sure=True).at == IN_LIQUOR

    def test_orange_porcelain_by_lamplight_is_believed(self) -> None:
        raster = cup((200, 90, 25), self.LAMPLIT, table=(120, 60, 20))

        assert white_patch(raster, IN_WHITE).xyz[1] > 0.5
        assert colour(raster).is_lamplit
        assert not colour(raster).is_white_doubted

    def test_a_lamp_in_the_picture_that_is_overexposed_is_no_whiter_porcelain(self) -> None:
        raster = with_spot(cup((200, 90, 25), self.LAMPLIT), (0.1, 0.1), 0.08, (255, 255, 255))

        assert white_patch(raster, IN_WHITE).at == IN_WHITE

    def test_a_spark_is_no_whiter_area(self) -> None:
        raster = with_spot(cup((200, 90, 25), self.LAMPLIT), (0.1, 0.1), 0.006, (250, 250, 250))

        assert white_patch(raster, IN_WHITE).at == IN_WHITE

    def test_a_white_cloth_by_the_window_makes_one_ask(self) -> None:
        raster = with_spot(cup((200, 90, 25), self.LAMPLIT), (0.1, 0.1), 0.08, (250, 250, 250))

        with pytest.raises(PorcelainDoubted) as doubted:
            white_patch(raster, IN_WHITE)
        assert doubted.value.whiter_at == pytest.approx((0.1, 0.1), abs=0.1)

    def test_nothing_is_said_of_how_far_off_a_colour_is_without_telling_that_its_white_is_in_doubt(self) -> None:
        found = colour(cup(), IN_LIQUOR, liquor=ON_TABLE)

        assert found.is_white_doubted
        assert any("brighter and whiter" in remark for remark in found.remarks)


class TestAFinger:
    def test_beside_the_porcelain_it_means_the_porcelain(self) -> None:
        found = white_patch_near(cup(), AT_RIM)

        assert found.xyz == pytest.approx(xyz(*WHITE), abs=0.01)

    def test_on_the_porcelain_nothing_is_moved(self) -> None:
        assert white_patch_near(cup(), IN_WHITE).at == IN_WHITE

    def test_far_from_any_it_is_told_what_was_wrong_where_it_landed(self) -> None:
        with pytest.raises(ColourRefused, match="edge of the picture"):
            white_patch_near(cup(), AT_BORDER)

    def test_in_the_middle_of_the_liquor_it_is_asked_and_not_moved(self) -> None:
        with pytest.raises(PorcelainDoubted):
            white_patch_near(cup(), IN_LIQUOR)


class TestRefusals:
    @pytest.mark.parametrize(
        ("raster", "at", "words"),
        [
            (cup(white=(255, 250, 240)), IN_WHITE, "overexposed here \\(red at the end"),
            (cup(white=(40, 38, 35)), IN_WHITE, "too dark"),
            (cup(white=(190, 60, 40)), IN_WHITE, "not white porcelain"),
            (cup(white=(80, 150, 90)), IN_WHITE, "not white porcelain"),
            (cup(), AT_RIM, "not porcelain alone"),
            (cup(), (0.0, 0.5), "edge of the picture"),
            (cup(), (1.2, 0.5), "beside the picture"),
            (cup(size=(90, 90)), IN_WHITE, "too small"),
            (Raster(np.full((200, 200, 3), 200, np.uint8)), IN_WHITE, "shades of grey"),
        ],
        ids=["overexposed", "dark", "red", "green", "rim", "edge", "beside", "small", "grey"],
    )  # fmt: skip
    def test_porcelain_that_does_not_tell_the_light(self, raster: Raster, at: Place, words: str) -> None:
        with pytest.raises(ColourRefused, match=words):
            white_patch(raster, at)

    @pytest.mark.parametrize(
        ("raster", "at", "words"),
        [
            (with_spot(cup(), IN_LIQUOR, 0.02, (255, 255, 255)), IN_LIQUOR, "mirrors a lamp"),
            (with_spot(cup(), IN_LIQUOR, 0.1, (255, 255, 255)), IN_LIQUOR, "mirrors a lamp"),
            (with_spot(cup(), (0.505, 0.5), 0.004, (40, 30, 20)), (0.5, 0.5), ""),
            (with_spot(cup(), (0.56, 0.5), 0.058, (50, 34, 20)), IN_LIQUOR, "not liquor alone"),
            (cup((255, 180, 90)), IN_LIQUOR, "overexposed"),
            (cup((150, 60, 0)), IN_LIQUOR, "no blue left"),
            (cup((120, 90, 60), noise=25), IN_LIQUOR, "grainy"),
        ],
        ids=["glare", "glare all over", "a speck is no matter", "leaf", "overexposed", "no blue", "grain"],
    )  # fmt: skip
    def test_liquor_that_does_not_tell_a_colour(self, raster: Raster, at: Place, words: str) -> None:
        if not words:
            assert liquor_patch(raster, at).radius > 0
            return
        with pytest.raises(ColourRefused, match=words):
            liquor_patch(raster, at)

    def test_liquor_brighter_than_porcelain(self) -> None:
        raster = cup((240, 230, 210), (150, 145, 140))

        with pytest.raises(ColourRefused, match="brighter here than the porcelain"):
            colour(raster)

    def test_a_colour_that_no_liquor_has(self) -> None:
        with pytest.raises(ColourRefused, match="no liquor has"):
            colour(cup((60, 150, 220), (250, 180, 100)))

    def test_liquor_tapped_where_the_porcelain_was(self) -> None:
        with pytest.raises(ColourRefused, match="where the porcelain was tapped"):
            colour(cup(), IN_LIQUOR, liquor=(0.505, 0.5))

    def test_no_porcelain_tapped(self) -> None:
        with pytest.raises(ColourRefused, match="Tap the white porcelain first"):
            colour_from_photo(cup(), [], liquor_patch(cup(), IN_LIQUOR), PORCELAIN_L)

    def test_a_smaller_patch_is_taken_where_a_large_one_is_not_even(self) -> None:
        raster = with_spot(cup(), (0.5, 0.53), 0.015, (40, 30, 20))

        assert liquor_patch(raster, IN_LIQUOR).radius < liquor_patch(cup(), IN_LIQUOR).radius

    @settings(max_examples=60, deadline=None)
    @given(
        st.tuples(*[st.integers(0, 255)] * 3),
        st.tuples(*[st.integers(0, 255)] * 3),
        st.tuples(*[st.floats(-0.1, 1.1)] * 2),
    )
    def test_any_cup_and_any_tap_give_a_colour_or_a_reason(
        self, tea: tuple[int, int, int], white: tuple[int, int, int], at: Place
    ) -> None:
        raster = cup(tea, white, size=(200, 160))
        try:
            found = colour(raster, liquor=at)
        except ColourRefused as exc:
            told = str(exc)
        else:
            told = f"{found.lab[0]:.1f}." if 0 <= found.lab[0] <= 100 else ""

        assert told.endswith(".")


def test_the_table_is_not_taken_for_porcelain_when_it_is_brown() -> None:
    with pytest.raises(ColourRefused):
        colour(cup(table=(96, 40, 20)), ON_TABLE)
