"""The sheet for the liquor: the chart to hold the cup against, fine adjustment, clarity."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAccessible, QPainter
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from tastebook.presenters.bench.sheets import NUDGES
from tastebook.presenters.bench.views import EarlierCup, LiquorSheet, NudgeView
from tastebook.ui.theme.fonts import sans, serif, serif_italic
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.drawn import Drawn
from tastebook.ui.widgets.hints import CupView
from tastebook.ui.widgets.segmented_choice import SegmentedChoice
from tastebook.ui.widgets.stepper import Stepper, StepperView
from tastebook.ui.widgets.swatch_chart import Swatch, SwatchChart, SwatchChartView

CUP_PX: Final = 60
COMPACT_CUP_PX: Final = 44
EARLIER_PX: Final = 24
AXES: Final = {axis: name for axis, name, _, _ in NUDGES}
NO_VALUE: Final = "–"


class LiquorWords(Drawn):
    """The colour's name, its numbers, and what changed since the last cup."""

    accessible_role = QAccessible.Role.StaticText

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._name = self._numbers = self._change = self._mark = ""
        self.setFixedHeight(62)

    def show_words(self, name: str, numbers: str, change: str, mark: str = "") -> None:
        """Show other words; `mark` says how the colour was judged, where that is to be known."""
        self._name, self._numbers, self._change, self._mark = name, numbers, change, mark
        self.setAccessibleName(", ".join(part for part in (name, mark, change) if part))
        self.update()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        width = self.width()
        room = width - (paint.text_width(self._mark, serif_italic(18)) + 12 if self._mark else 0)
        end = paint.text(painter, 0, 24, paint.elided(self._name, serif(24, 500), room), serif(24, 500), theme.ink)
        if self._mark:
            paint.text(painter, end + 12, 24, self._mark, serif_italic(18), theme.ink2)
        if self._change:
            paint.text(painter, 0, 51, paint.elided(self._change, sans(16), width), sans(16), theme.ink2)
        else:
            paint.text(painter, 0, 51, self._numbers, sans(16), theme.ink2)


class EarlierCups(QWidget):
    """The cups poured before, newest first, to compare with."""

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._cups = [CupView(themes, EARLIER_PX) for _ in range(2)]
        self._labels = [QLabel() for _ in range(2)]
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(12)
        row.addStretch(1)
        for cup, label in zip(self._cups, self._labels, strict=True):
            label.setFont(serif(20, 500))
            label.setAlignment(Qt.AlignmentFlag.AlignHCenter)
            column = QVBoxLayout()
            column.setSpacing(2)
            column.addStretch(1)
            column.addWidget(label)
            column.addWidget(cup)
            row.addLayout(column)

    def show_cups(self, cups: tuple[EarlierCup, ...]) -> None:
        """Show other cups."""
        for place, (cup, label) in enumerate(zip(self._cups, self._labels, strict=True)):
            is_there = place < len(cups)
            cup.setVisible(is_there)
            label.setVisible(is_there)
            if is_there:
                cup.show_liquor(cups[place].hex, f"infusion {cups[place].label}")
                label.setText(cups[place].label)


class LiquorPage(QWidget):
    """Draws a `LiquorSheet`."""

    swatch_requested = Signal(int, int)
    nudge_requested = Signal(str, int)
    clarity_requested = Signal(str)

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._themes = themes
        self._chart: SwatchChart | None = None
        self._cup = CupView(themes, CUP_PX)
        self._earlier = EarlierCups(themes)
        self._words = LiquorWords(themes)
        self._nudges = {axis: Stepper(themes, StepperView("")) for axis in AXES}
        self._clarity: SegmentedChoice | None = None
        self._clarities: tuple[str, ...] = ()
        self._is_compact = False
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(32)
        self._row.addLayout(self._side(), 1)

    def _side(self) -> QVBoxLayout:
        cups = QHBoxLayout()
        cups.addWidget(self._cup)
        cups.addWidget(self._earlier, 1)
        nudges = QHBoxLayout()
        nudges.setSpacing(6)
        for axis, stepper in self._nudges.items():
            stepper.setMinimumWidth(84)
            stepper.step_requested.connect(lambda steps, axis=axis: self.nudge_requested.emit(axis, steps))
            nudges.addWidget(stepper, 1)
        self._box = QVBoxLayout()
        self._box.setSpacing(6)
        self._box.addLayout(cups)
        self._box.addWidget(self._words)
        self._box.addLayout(nudges)
        self._box.addStretch(1)
        return self._box

    def show_sheet(self, sheet: LiquorSheet) -> None:
        """Draw another state."""
        self._chart_for(sheet).show_view(
            SwatchChartView(
                sheet.chosen,
                tuple(
                    (swatch.mark, row, column)
                    for row, swatches in enumerate(sheet.swatches)
                    for column, swatch in enumerate(swatches)
                    if swatch.mark
                ),
            )
        )
        self._cup.show_liquor(sheet.cup or None, sheet.name)
        self._earlier.show_cups(sheet.earlier)
        self._words.show_words(sheet.name, sheet.lab, sheet.change, "photo" if sheet.source == "photo" else "")
        self._show_nudges(sheet.nudges)
        choice = self._choice_for(sheet)
        chosen = self._clarities.index(sheet.clarity) if sheet.clarity in self._clarities else None
        choice.show_choice(chosen)
        self.setEnabled(sheet.is_possible)

    def set_compact(self, *, is_compact: bool) -> None:
        """Stand closer together, where the window is low."""
        self._is_compact = is_compact
        self._row.setSpacing(16 if is_compact else 32)
        self._cup.set_radius(COMPACT_CUP_PX if is_compact else CUP_PX)
        if self._chart is not None:
            self._chart.set_compact(is_compact=is_compact)

    def _chart_for(self, sheet: LiquorSheet) -> SwatchChart:
        if self._chart is None:
            rows = tuple(tuple(Swatch(one.hex, one.name) for one in row) for row in sheet.swatches)
            self._chart = SwatchChart(self._themes, rows, name="Liquor colours")
            self._chart.set_compact(is_compact=self._is_compact)
            self._chart.swatch_requested.connect(self.swatch_requested)
            self._row.insertWidget(0, self._chart, 0, Qt.AlignmentFlag.AlignTop)
        return self._chart

    def _choice_for(self, sheet: LiquorSheet) -> SegmentedChoice:
        if self._clarity is None:
            self._clarities = tuple(term for term, _ in sheet.clarities)
            self._clarity = SegmentedChoice(self._themes, self._clarities, name="Clarity")
            self._clarity.choice_requested.connect(lambda place: self.clarity_requested.emit(self._clarities[place]))
            for segment, (_, about) in zip(self._clarity.segments, sheet.clarities, strict=True):
                segment.setToolTip(about)
            self._box.insertWidget(3, self._clarity)
        return self._clarity

    def _show_nudges(self, nudges: tuple[NudgeView, ...]) -> None:
        shown = {nudge.axis: nudge for nudge in nudges}
        for axis, stepper in self._nudges.items():
            nudge = shown.get(axis)
            stepper.setEnabled(nudge is not None)
            if nudge is None:
                stepper.show_view(StepperView(NO_VALUE, caption=AXES[axis]))
            else:
                stepper.show_view(
                    StepperView(
                        nudge.value, caption=nudge.name, at_least=not nudge.can_less, at_most=not nudge.can_more
                    )
                )
                stepper.setToolTip(f"− {nudge.less}, + {nudge.more}")
