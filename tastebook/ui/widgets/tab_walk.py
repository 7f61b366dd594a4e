"""Tab goes through a window as the eye does, in the order of its layouts, whenever each widget was made.

Qt's own order is that of making: what comes later (a chip, a column, a tab) would come last.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Protocol, runtime_checkable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLayout, QScrollArea, QWidget


@runtime_checkable
class Arranged(Protocol):
    """A widget without a layout that knows the reading order of what is in it."""

    def in_reading_order(self) -> Sequence[QWidget]:
        """Return the widgets within, first to last."""
        ...


def walk_on(root: QWidget, *, is_next: bool) -> bool:
    """Give the keyboard to the next stop within `root`, or the one before; beyond either end at the other."""
    stops = list(tab_stops(root))
    if not stops:
        return False
    here = QApplication.focusWidget()
    place = stops.index(here) if here in stops else (-1 if is_next else len(stops))
    stop = stops[(place + (1 if is_next else -1)) % len(stops)]
    stop.setFocus(Qt.FocusReason.TabFocusReason if is_next else Qt.FocusReason.BacktabFocusReason)
    _show_whole(stop)
    return True


def tab_stops(widget: QWidget) -> Iterator[QWidget]:
    """Yield what Tab stops at in a widget, itself included, in reading order."""
    if not widget.isVisible():
        return
    takes_tab = bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)
    if takes_tab and widget.isEnabled() and not isinstance(widget, QScrollArea):
        yield widget
    for child in _children(widget):
        yield from tab_stops(child)


def _children(widget: QWidget) -> list[QWidget]:
    """Return the widgets within, those in a layout first."""
    if isinstance(widget, Arranged):
        return list(widget.in_reading_order())
    laid_out = list(_laid_out(widget.layout()))
    known = set(laid_out)
    others = (child for child in widget.children() if isinstance(child, QWidget) and not child.isWindow())
    return [*laid_out, *(child for child in others if child not in known)]


def _laid_out(layout: QLayout | None) -> Iterator[QWidget]:
    if layout is None:
        return
    for place in range(layout.count()):
        item = layout.itemAt(place)
        inner = item.widget() if item is not None else None
        if inner is not None:
            yield inner
        elif item is not None:
            yield from _laid_out(item.layout())


def _show_whole(stop: QWidget) -> None:
    """Scroll what is around a widget so that it is seen."""
    around = stop.parentWidget()
    while around is not None:
        if isinstance(around, QScrollArea):
            around.ensureWidgetVisible(stop)
        around = around.parentWidget()
