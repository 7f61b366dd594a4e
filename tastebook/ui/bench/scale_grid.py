"""Scales in two columns, or in three where there are many."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtWidgets import QGridLayout, QWidget

from tastebook.presenters.bench.views import SliderView
from tastebook.ui.bench.marks_menu import MarksMenu, drop_menu
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.scale_slider import ScaleSlider, ScaleView

TWO_COLUMNS_HOLD: Final = 8


class ScaleGrid(QWidget):
    """Lays scales out column by column, and keeps their widgets while the scales stay the same."""

    value_requested = Signal(str, int)
    clear_requested = Signal(str)
    flags_requested = Signal(str, bool, bool)
    meaning_requested = Signal(str)

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._themes = themes
        self._sliders: dict[str, ScaleSlider] = {}
        self._views: dict[str, SliderView] = {}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(48)
        self._grid.setVerticalSpacing(0)

    @property
    def sliders(self) -> tuple[ScaleSlider, ...]:
        """Return the scales in reading order."""
        return tuple(self._sliders.values())

    @property
    def chosen(self) -> ScaleSlider | None:
        """Return the scale of the part that is chosen in the say line."""
        return next((slider for slider in self.sliders if slider.view.is_chosen), None)

    def show_sliders(self, views: tuple[SliderView, ...], last_name: str = "last time") -> None:
        """Show other scales, or other values of the same."""
        if tuple(self._sliders) != tuple(view.scale for view in views):
            self._rebuild(views)
        self._views = {view.scale: view for view in views}
        for view in views:
            self._sliders[view.scale].show_view(scale_view(view, last_name))

    def _rebuild(self, views: tuple[SliderView, ...]) -> None:
        for slider in self._sliders.values():
            self._grid.removeWidget(slider)
            slider.hide()
            slider.deleteLater()
        self._sliders = {}
        columns = 3 if len(views) > TWO_COLUMNS_HOLD else 2
        self._grid.setHorizontalSpacing(48 if columns == 2 else 32)
        rows = -(-len(views) // columns)
        for place, view in enumerate(views):
            slider = ScaleSlider(self._themes, scale_view(view, ""))
            slider.value_requested.connect(lambda value, scale=view.scale: self.value_requested.emit(scale, value))
            slider.clear_requested.connect(lambda scale=view.scale: self.clear_requested.emit(scale))
            slider.meaning_requested.connect(lambda name=view.name: self.meaning_requested.emit(name))
            slider.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
            slider.customContextMenuRequested.connect(lambda at, scale=view.scale: self._open_marks(scale, at))
            self._grid.addWidget(slider, place % rows, place // rows)
            self._sliders[view.scale] = slider
        for row in range(self._grid.rowCount()):
            self._grid.setRowStretch(row, 0)
        self._grid.setRowStretch(rows, 1)
        for column in range(3):
            self._grid.setColumnStretch(column, 1 if column < columns else 0)

    def _open_marks(self, scale: str, at: QPoint) -> None:
        """Offer the marks of one reading; a scale that is not assessed has none."""
        view = self._views[scale]
        if view.value is None:
            return
        if view.pending:
            drop_menu(self, lambda: self.clear_requested.emit(scale)).popup(self._sliders[scale].mapToGlobal(at))
            return
        menu = MarksMenu(self, clouded=view.clouded, doubtful=view.doubtful)
        menu.marked.connect(lambda clouded, doubtful: self.flags_requested.emit(scale, clouded, doubtful))
        menu.add("Not assessed", lambda: self.clear_requested.emit(scale))
        menu.popup(self._sliders[scale].mapToGlobal(at))


def scale_view(view: SliderView, last_name: str) -> ScaleView:
    """Return a scale as its widget draws it."""
    marks = ("late", view.late), ("clouded", view.clouded), ("doubtful", view.doubtful)
    return ScaleView(
        name=view.name,
        low=view.low,
        high=view.high,
        value=None if view.value is None else round(view.value),
        last=None if view.before is None else round(view.before),
        word="" if view.value is None else view.word,
        words=view.words,
        last_name=last_name,
        marks=", ".join(name for name, holds in marks if holds),
        is_ghost=view.pending,
        is_chosen=view.chosen,
        why=view.why,
    )
