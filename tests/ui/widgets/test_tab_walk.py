"""Tab goes through a window in the order of its layouts, whenever each widget was made."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QApplication,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from tastebook.ui.widgets.scrolled import scrolled
from tastebook.ui.widgets.tab_walk import tab_stops, walk_on
from tests.ui.widgets.hands import type_keys

Show = Callable[[QWidget], None]


class Window(QWidget):
    """A window whose Tab goes as the eye does."""

    def focusNextPrevChild(self, is_next: bool) -> bool:  # noqa: N802
        return walk_on(self, is_next=is_next)


class Backwards(QWidget):
    """A widget that lays itself out, its last child first."""

    def in_reading_order(self) -> Sequence[QWidget]:
        return [child for child in reversed(self.children()) if isinstance(child, QWidget)]


def field(name: str, parent: QWidget | None = None) -> QLineEdit:
    made = QLineEdit(parent)
    made.setObjectName(name)
    return made


def names(window: QWidget) -> list[str]:
    return [stop.objectName() for stop in tab_stops(window)]


def test_what_was_made_later_stands_where_it_was_put(show: Show) -> None:
    window = Window()
    box = QVBoxLayout(window)
    box.addWidget(field("last"))
    box.insertWidget(0, field("first"))
    row = QHBoxLayout()
    box.insertLayout(1, row)
    row.addWidget(field("right"))
    row.insertWidget(0, field("left"))

    show(window)

    assert names(window) == ["first", "left", "right", "last"]


def test_only_what_can_take_the_keyboard_now_is_a_stop(show: Show) -> None:
    window = Window()
    box = QVBoxLayout(window)
    disabled, hidden, mouse_only = field("disabled"), field("hidden"), field("mouse only")
    for widget in (field("one"), disabled, hidden, mouse_only, QLabel("words")):
        box.addWidget(widget)
    disabled.setEnabled(False)
    hidden.hide()
    mouse_only.setFocusPolicy(Qt.FocusPolicy.ClickFocus)

    show(window)

    assert names(window) == ["one"]


def test_of_pages_only_the_one_shown_is_walked_through(show: Show) -> None:
    window = Window()
    pages = QStackedWidget()
    for name in ("page 1", "page 2"):
        pages.addWidget(field(name))
    QVBoxLayout(window).addWidget(pages)
    show(window)

    pages.setCurrentIndex(1)

    assert names(window) == ["page 2"]


def test_an_area_that_scrolls_is_no_stop_and_what_is_in_it_comes_into_view(show: Show) -> None:
    window, inner = Window(), QWidget()
    inner_box = QVBoxLayout(inner)
    for place in range(30):
        inner_box.addWidget(field(str(place)))
    area = scrolled(inner)
    QVBoxLayout(window).addWidget(area)
    window.resize(300, 200)
    show(window)
    stops = list(tab_stops(window))
    stops[0].setFocus()

    for _ in range(29):
        type_keys(QApplication.focusWidget(), Qt.Key.Key_Tab)

    assert len(stops) == 30
    assert QApplication.focusWidget() is stops[29]
    assert stops[29].visibleRegion().boundingRect() == stops[29].rect()


def test_a_widget_may_say_its_own_reading_order(show: Show) -> None:
    window, own = Window(), Backwards()
    for name in ("made first", "made second"):
        field(name, own)
    QVBoxLayout(window).addWidget(own)

    show(window)

    assert names(window) == ["made second", "made first"]


def test_what_stands_in_no_layout_comes_after_what_does(show: Show) -> None:
    window = Window()
    field("over it", window)
    QGridLayout(window).addWidget(field("in it"), 0, 0)

    show(window)

    assert names(window) == ["in it", "over it"]


@pytest.mark.parametrize(
    ("start", "key", "end"),
    [
        ("one", Qt.Key.Key_Tab, "two"),
        ("three", Qt.Key.Key_Tab, "one"),
        ("two", Qt.Key.Key_Backtab, "one"),
        ("one", Qt.Key.Key_Backtab, "three"),
    ],
)
def test_tab_goes_on_shift_tab_back_and_both_around(show: Show, start: str, key: Qt.Key, end: str) -> None:
    window = Window()
    box = QVBoxLayout(window)
    for name in ("one", "two", "three"):
        box.addWidget(field(name))
    show(window)
    window.findChild(QLineEdit, start).setFocus()

    type_keys(QApplication.focusWidget(), key, shift=key == Qt.Key.Key_Backtab)

    assert QApplication.focusWidget().objectName() == end


@pytest.mark.parametrize(("is_next", "end"), [(True, "one"), (False, "two")])
def test_from_nowhere_tab_begins_at_an_end(show: Show, is_next: bool, end: str) -> None:
    window = Window()
    box = QVBoxLayout(window)
    for name in ("one", "two"):
        box.addWidget(field(name))
    show(window)
    window.setFocus()

    walk_on(window, is_next=is_next)

    assert QApplication.focusWidget().objectName() == end


def test_a_window_without_stops_lets_tab_do_nothing(show: Show) -> None:
    window = Window()
    QVBoxLayout(window).addWidget(QLabel("words"))
    show(window)

    assert not walk_on(window, is_next=True)


def test_a_window_of_its_own_is_not_walked_into(show: Show) -> None:
    window = Window()
    QVBoxLayout(window).addWidget(field("here"))
    other = QPushButton("elsewhere", window)
    other.setWindowFlag(Qt.WindowType.Window)
    show(window)
    other.show()

    assert names(window) == ["here"]
    other.close()
