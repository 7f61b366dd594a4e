"""A chart of colours to hold a cup against."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QEvent, QPointF, QRect, QSize, Qt, Signal
from PySide6.QtGui import QAccessible, QColor, QEnterEvent, QFocusEvent, QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from tastebook.ui.theme.fonts import serif
from tastebook.ui.theme.theme import Theme, Themes, faded
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.drawn import Drawn, Pressable
from tastebook.ui.widgets.roving import Roving

_DARK: Final = QColor("#2B231D")
"""Rings and numerals: the ground is the same porcelain white in every theme, so they do not follow the theme."""
_LIGHT: Final = QColor("#FFFDF8")
_RIM: Final = QColor("#3A2A1A")
_GAP: Final = 5
"""Between two swatches."""
_COMPACT_PITCH: Final = 44
_COMPACT_MARGIN_Y: Final = 7
_MARGIN_X: Final = 11
_MARGIN_Y: Final = 9


@dataclass(frozen=True)
class Swatch:
    """One colour of the chart, by its code and its name."""

    colour: str
    name: str


@dataclass(frozen=True)
class SwatchChartView:
    """What the chart shows: the chosen place, and where earlier cups were, as (label, row, column)."""

    chosen: tuple[int, int] | None = None
    earlier: tuple[tuple[str, int, int], ...] = ()


class SwatchButton(Pressable):
    """One swatch."""

    accessible_role = QAccessible.Role.RadioButton

    def __init__(self, themes: Themes, swatch: Swatch, parent: SwatchChart) -> None:
        super().__init__(themes, parent)
        self._chart = parent
        self._colour = QColor(swatch.colour)
        self._label = ""
        self._is_chosen = False
        self.setAccessibleName(swatch.name)
        self.setToolTip(swatch.name)

    @property
    def colour(self) -> QColor:
        """Return the colour of the swatch."""
        return self._colour

    @property
    def label(self) -> str:
        """Return which earlier cups stood here."""
        return self._label

    @property
    def is_chosen(self) -> bool:
        """Say whether this is the cup."""
        return self._is_chosen

    def show_state(self, label: str, *, is_chosen: bool) -> None:
        """Show which earlier cups stood here, and whether this is the cup."""
        if (label, is_chosen) != (self._label, self._is_chosen):
            self._label, self._is_chosen = label, is_chosen
            self.update()
            self.tell_changed()

    def value_text(self) -> str:
        return f"infusion {self._label}" if self._label else ""

    def accessible_states(self) -> Mapping[str, bool]:
        return {"checkable": True, "checked": self._is_chosen}

    def enterEvent(self, event: QEnterEvent) -> None:
        super().enterEvent(event)
        self._chart.point_at(self)

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self._chart.point_at(None)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._chart.point_at(self)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        centre = QPointF(self.width() / 2, self.height() / 2)
        radius = (self.width() - _GAP) / 2
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._colour)
        painter.drawEllipse(centre, radius - 1, radius - 1)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(
            paint.solid_pen(faded(_RIM, 0.55), 2) if self.is_hovered else paint.solid_pen(faded(_RIM, 0.22), 1)
        )
        painter.drawEllipse(centre, radius - 1.5, radius - 1.5)
        if self._is_chosen:
            painter.setPen(paint.solid_pen(_DARK, 3))
            painter.drawEllipse(centre, radius + 0.9, radius + 0.9)
        if self.hasFocus():
            self._draw_focus(painter, theme, centre, radius)
        if self._label:
            font = serif(tokens().type_px.value, tokens().weight.serif_heading)
            paint.text(painter, centre.x(), centre.y() + 6.5, self._label, font, self._label_ink(), "centre")

    def _draw_focus(self, painter: QPainter, theme: Theme, centre: QPointF, outer: float) -> None:
        # Inside the chosen ring, and laid on white, so that it shows on any liquor and on the porcelain.
        radius = outer - 3.5 if self._is_chosen else outer + 1.0
        painter.setPen(paint.solid_pen(_LIGHT, 5))
        painter.drawEllipse(centre, radius - 0.5, radius - 0.5)
        painter.setPen(paint.solid_pen(_focus_ink(theme), 2.5))
        painter.drawEllipse(centre, radius, radius)

    def _label_ink(self) -> QColor:
        return _DARK if self._colour.lightnessF() > 0.42 else _LIGHT


class SwatchChart(Drawn):
    """Swatches in rows on porcelain white: arrows point, Enter or a finger asks for one."""

    swatch_requested = Signal(int, int)
    """Row and column."""
    pointed = Signal(int, int)
    """Row and column under the finger or the keyboard, or -1, -1 once the finger has left."""

    accessible_role = QAccessible.Role.Grouping

    def __init__(
        self, themes: Themes, rows: tuple[tuple[Swatch, ...], ...], parent: QWidget | None = None, *, name: str = ""
    ) -> None:
        super().__init__(themes, parent)
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._pitch_px = tokens().target_px.swatch
        self._margin_y_px = _MARGIN_Y
        self._columns = max((len(row) for row in rows), default=0)
        self._row_count = len(rows)
        self._places: list[tuple[int, int]] = []
        self._buttons: list[SwatchButton] = []
        for row, swatches in enumerate(rows):
            for column, swatch in enumerate(swatches):
                self._add(themes, swatch, row, column)
        self._roving = Roving(self._buttons, self._columns, self)
        self._view = SwatchChartView()

    def _add(self, themes: Themes, swatch: Swatch, row: int, column: int) -> None:
        button = SwatchButton(themes, swatch, self)
        self._place(button, row, column)
        button.press_requested.connect(lambda: self.swatch_requested.emit(row, column))
        self._buttons.append(button)
        self._places.append((row, column))

    def _place(self, button: SwatchButton, row: int, column: int) -> None:
        pitch = self._pitch_px
        button.setGeometry(QRect(_MARGIN_X + column * pitch, self._margin_y_px + row * pitch, pitch, pitch))

    def set_compact(self, *, is_compact: bool) -> None:
        """Stand closer together, where the window is low; each swatch stays large enough for a finger."""
        pitch_px = _COMPACT_PITCH if is_compact else tokens().target_px.swatch
        if pitch_px != self._pitch_px:
            self._pitch_px = pitch_px
            self._margin_y_px = _COMPACT_MARGIN_Y if is_compact else _MARGIN_Y
            for place, button in zip(self._places, self._buttons, strict=True):
                self._place(button, *place)
            self.updateGeometry()

    @property
    def view(self) -> SwatchChartView:
        """Return what is shown."""
        return self._view

    def show_view(self, view: SwatchChartView) -> None:
        """Show the chosen place and the earlier cups."""
        self._view = view
        labels: dict[tuple[int, int], list[str]] = {}
        for label, row, column in view.earlier:
            labels.setdefault((row, column), []).append(label)
        for place, button in zip(self._places, self._buttons, strict=True):
            button.show_state(_joined(labels.get(place, [])), is_chosen=place == view.chosen)
        if view.chosen in self._places:
            self._roving.set_current(self._places.index(view.chosen))

    def button_at(self, row: int, column: int) -> SwatchButton:
        """Return the swatch at a place."""
        return self._buttons[self._places.index((row, column))]

    def take_focus(self) -> None:
        """Give the keyboard to the chosen swatch, or to the one that had it last."""
        self._buttons[self._roving.current].setFocus()

    def point_at(self, button: SwatchButton | None) -> None:
        """Tell which swatch the finger or the keyboard is at."""
        row, column = self._places[self._buttons.index(button)] if button is not None else (-1, -1)
        self.pointed.emit(row, column)

    def sizeHint(self) -> QSize:
        pitch = self._pitch_px
        return QSize(2 * _MARGIN_X + self._columns * pitch, 2 * self._margin_y_px + self._row_count * pitch)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        radius = tokens().radius_px.control
        paint.rounded(painter, self.box(), radius, theme.porcelain, theme.card_line, 1)


def _focus_ink(theme: Theme) -> QColor:
    return _DARK if theme.is_dark else theme.accent


def _joined(labels: list[str]) -> str:
    """Return the labels of one place in little room: all of two, else the first and the last."""
    return ",".join(labels) if len(labels) < 3 else f"{labels[0]}–{labels[-1]}"
