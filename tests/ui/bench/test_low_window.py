"""At a low window everything can still be said, seen and reached; the keyboard is where it does no harm."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtWidgets import QApplication, QLineEdit, QScrollArea, QVBoxLayout, QWidget

from tastebook.ui.bench.aroma_page import Caption
from tastebook.ui.bench.said_row import OfferButton, PartPill, SaidChip, SaidRow
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import PlainButton
from tastebook.ui.widgets.chip import Chip
from tastebook.ui.widgets.swatch_chart import SwatchButton, SwatchChart
from tests.ui.bench.scene import CONTROL, Scene, build
from tests.ui.widgets.hands import tap, told

Show = Callable[[QWidget], None]
SIZES = [(1440, 900), (1440, 860), (1280, 720), (1280, 690)]
FOUR = "88 degrees, forty seconds, 6 grams, 120 ml"
LONG = (
    "so this cup is a touch deeper than the last, light amber and a little hazy at the rim, water was 92 degrees, I "
    "gave it forty seconds, six grams in the bowl, white peach 3, orchid quite strong, a breath of cinnamon, no rose, "
    "cedar bark under the lid, silky and medium full with a fine grained dryness, pungent and bitter, strong"
)


@pytest.fixture(params=SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
def poured(request: pytest.FixtureRequest, themes: Themes, show: Show) -> Scene:
    """Return a taster before a cup just poured."""
    scene = build(themes)
    scene.screen.resize(*request.param)
    show(scene.screen)
    scene.steep(5)
    scene.press(Qt.Key.Key_Space, CONTROL)
    scene.steep(20)
    return scene


def is_whole(widget: QWidget) -> bool:
    return widget.isVisible() and widget.visibleRegion().boundingRect() == widget.rect()


def settle() -> None:
    for _ in range(3):
        QApplication.processEvents()


def bars(scene: Scene) -> list[QScrollArea]:
    return [one for one in scene.screen.findChildren(QScrollArea) if one.verticalScrollBar().isVisible()]


class TestTheLiquor:
    def test_the_say_line_is_there_before_anything_is_typed_and_has_the_keyboard(self, poured: Scene) -> None:
        poured.go("1", "liquor")
        settle()

        assert is_whole(poured.screen.card.say)
        assert poured.keyboard_is_with(poured.screen.card.say)

    def test_the_whole_chart_is_seen_without_scrolling_and_every_swatch_takes_a_finger(self, poured: Scene) -> None:
        poured.go("1", "liquor")
        settle()

        chart = poured.screen.findChild(SwatchChart)
        swatches = chart.findChildren(SwatchButton)
        assert bars(poured) == []
        assert all(is_whole(one) for one in (chart, *swatches))
        assert min(min(one.width(), one.height()) for one in swatches) >= 44

    def test_enter_on_an_empty_line_sets_no_colour(self, poured: Scene) -> None:
        poured.go("1", "liquor")
        settle()

        poured.press(Qt.Key.Key_Return)

        cup = poured.kit.desk.tasting.infusion(1)
        assert cup is not None
        assert cup.liquor is None


class TestWhatWasSaid:
    def test_four_numbers_are_offered_in_sight(self, poured: Scene) -> None:
        poured.go("1", "flavour")
        poured.type(FOUR)
        settle()

        offers = [one for one in poured.screen.findChildren(OfferButton) if not one.isHidden()]
        assert sorted(told(one).split(",")[0] for one in offers) == [
            "Set leaf 6 g", "Set steep 40 s", "Set vessel 120 ml", "Set water 88 °C",
        ]  # fmt: skip
        assert all(is_whole(one) for one in offers)

    @pytest.mark.parametrize("step", ["flavour", "first_sip", "liquor"])
    def test_what_has_no_room_is_counted_and_one_press_shows_it(self, poured: Scene, step: str) -> None:
        poured.go("1", step)
        poured.type(LONG)
        poured.screen._show_typed()
        settle()
        row = poured.screen.card.row
        parts = [one for one in row.findChildren(QWidget) if isinstance(one, (OfferButton, PartPill, SaidChip))]
        parts = [one for one in parts if not one.isHidden()]
        hidden = [one for one in parts if not is_whole(one)]
        more = next(one for one in row.findChildren(PlainButton) if one.parent() is row)

        assert not any(row.isAncestorOf(one) for one in bars(poured))
        assert more.isVisible() == bool(hidden)
        if hidden:
            assert more.label == f"{len(hidden)} more"
            tap(more)
            settle()
            still = [one for one in parts if not is_whole(one)]
            assert len(still) < len(hidden)
            assert not still or row._area.verticalScrollBar().isVisible()
            assert more.label == "Fewer"
            assert [one for one in bars(poured) if one is not row._area] == []
            tap(more)
            settle()
            assert [one for one in parts if not is_whole(one)] == hidden

    def test_a_part_chosen_by_tab_comes_into_sight(self, poured: Scene) -> None:
        poured.go("1", "liquor")
        poured.type(LONG)
        poured.screen._show_typed()
        settle()
        row = poured.screen.findChild(SaidRow)

        for _ in range(40):
            poured.press(Qt.Key.Key_Tab)
            settle()
            chosen = [key for key, one in row._parts.items() if getattr(one, "_part", None) and one._part.is_chosen]
            assert all(row._parts[key].visibleRegion().boundingRect().height() > 30 for key in chosen)


@pytest.mark.parametrize("height", [720, 699, 660, 648])
@pytest.mark.parametrize("phase", ["steeping", "poured"])
def test_the_timer_is_whole_however_low_the_bench_is(themes: Themes, show: Show, height: int, phase: str) -> None:
    scene = build(themes)
    scene.screen.resize(1280, height)
    show(scene.screen)
    scene.steep(5)
    scene.press(Qt.Key.Key_Space, CONTROL)
    scene.press(Qt.Key.Key_Space, CONTROL)
    if phase == "poured":
        scene.kit.clock.advance(20)
        scene.press(Qt.Key.Key_Space, CONTROL)
    settle()

    panel = scene.screen.timer
    shown = [panel._digits, panel._bar, panel._upper, panel._stack, panel._action]
    places = [QRect(one.mapTo(panel, QPoint(0, 0)), one.size()) for one in shown]
    assert all(panel.rect().contains(place) for place in places)
    assert [(a, b) for a, b in combinations(places, 2) if a.intersects(b)] == []


def test_the_keyboard_stays_at_the_bench_when_what_had_it_can_no_longer_be_used(themes: Themes, show: Show) -> None:
    scene = build(themes)
    host, other = QWidget(), QLineEdit()
    box = QVBoxLayout(host)
    box.addWidget(scene.screen)
    box.addWidget(other)
    host.resize(1440, 960)
    show(host)
    scene.screen.timer._plan.setFocus(Qt.FocusReason.TabFocusReason)
    assert scene.screen.timer._plan.hasFocus() or scene.screen.timer.isAncestorOf(QApplication.focusWidget())

    scene.kit.desk.close()
    scene.screen.refresh()

    assert not scene.screen.timer._plan.isEnabled()
    assert scene.keyboard_is_with(scene.screen.card.say)


class TestChips:
    WORDS = "cassia, burnt caramel, blackstrap, wet slate, tobacco, dried fig"

    def test_one_explained_stays_in_sight_and_escape_puts_the_explanation_away(self, poured: Scene) -> None:
        poured.go("0", "wet_leaf")
        poured.say(self.WORDS)
        for _ in range(6):
            poured.press(Qt.Key.Key_Tab)
        settle()
        chip = QApplication.focusWidget()

        poured.press(Qt.Key.Key_F1)
        settle()
        explained = poured.bench.card().say.note
        is_seen = is_whole(chip)
        poured.press(Qt.Key.Key_Escape)

        assert isinstance(chip, Chip)
        assert explained
        assert is_seen
        assert poured.bench.card().say.note == ""
        assert poured.keyboard_is_with(poured.screen.card.say)

    def test_one_scroll_bar_is_enough_and_captions_give_way_before_chips(self, poured: Scene) -> None:
        poured.go("0", "wet_leaf")
        poured.type(f"{self.WORDS}, reminds me of a harbour, the lot of it is very, very long and says little more")
        settle()

        chips = poured.screen.card.findChildren(Chip)
        caption = poured.screen.card.findChild(Caption)

        assert len(bars(poured)) <= 1
        assert caption.isHidden() or all(is_whole(chip) for chip in chips if chip.isVisible())
