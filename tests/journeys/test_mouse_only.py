"""A tasting by finger alone: every word from the families, every strength from the pips, every act from a target."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from tastebook.domain.lot import Lot
from tastebook.ui.bench.strip import ColumnButton
from tastebook.ui.widgets.buttons import ActionButton, QuietButton
from tastebook.ui.widgets.chip import Chip
from tastebook.ui.widgets.family_shelf import FamilyTile
from tastebook.ui.widgets.scale_slider import ScaleSlider
from tastebook.ui.widgets.segmented_choice import Segment
from tastebook.ui.widgets.step_tab import StepTab
from tests.fakes import MORNING_UTC
from tests.journeys.conftest import Table


def tap_at(table: Table, widget: QWidget, x: float, y: float) -> None:
    """Touch a widget at a share of its width and height."""
    place = QPoint(round(widget.width() * x), round(widget.height() * y))
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton, pos=place)
    table.hands.settle()


def pour_once(table: Table, seconds: float) -> None:
    table.clock.advance(1)
    table.hands.tap(table.find(ActionButton))
    table.clock.advance(seconds)
    table.hands.tap(table.find(ActionButton))


def pick(table: Table, family: str, word: str) -> None:
    """Open a family, press a word, close the family."""
    table.hands.tap(table.find(FamilyTile, family))
    table.hands.tap(table.find(QuietButton, word))
    table.hands.tap(table.find(FamilyTile, family))


def test_a_whole_tasting_by_mouse(table: Table) -> None:
    hands = table.hands
    lot = table.built.shelf.add(Lot("", "Quiet Ferry", MORNING_UTC, kind="green"))
    table.program.show_shelf()
    table.program.open_card(lot.uid)
    hands.settle()

    hands.tap(table.find(ActionButton, "Begin"))
    pick(table, "vegetal", "seaweed")
    pour_once(table, 4)
    table.clock.advance(1)
    hands.tap(table.find(ActionButton, "Next infusion"))
    pour_once(table, 20)
    hands.tap(table.chart().button_at(1, 2))
    hands.tap(table.find(Segment, "clear"))
    hands.tap(table.find(StepTab, "First sip"))
    tap_at(table, table.find(ScaleSlider, "Body"), 0.58, 0.45)
    hands.tap(table.find(StepTab, "Flavour"))
    pick(table, "floral", "orchid")
    slide_to(table, table.find(Chip, "orchid"), 5)
    hands.tap(table.find(ColumnButton, "Leaf"))
    hands.tap(table.find(ColumnButton, "Close"))
    hands.tap(table.find(StepTab, "Verdict"))
    hands.tap(table.find(Segment, "Decline"))
    hands.tap(table.find(QuietButton, "Close session"))
    hands.tap(table.find(QuietButton, "Session page"))

    kept = table.kept
    cup = kept.infusion(1)
    assert cup is not None
    assert cup.actual_ms == 20_000
    assert cup.clarity == "clear"
    assert {(one.step, one.word, one.intensity) for one in kept.impressions} == {
        ("dry_leaf", "seaweed", 3),
        ("flavour", "orchid", 5),
    }
    assert [(one.scale, one.value) for one in kept.readings] == [("body", 3.0)]
    assert kept.verdict is not None
    assert kept.verdict.decision == "decline"
    assert not kept.session.is_open
    assert len(list(table.folder.glob("*.pdf"))) == 1


def slide_to(table: Table, chip: Chip, strength: int) -> None:
    """Touch the pip of a strength."""
    pip = QPoint(chip.width() - 120 + 18 * (strength - 1) + 6, chip.height() // 2)
    QTest.mouseClick(chip, Qt.MouseButton.LeftButton, pos=pip)
    table.hands.settle()
