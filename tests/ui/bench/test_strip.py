"""The infusion strip as a widget: columns to press, to reach by key, and to read out; the current one always whole."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QAccessible, QImage, QWheelEvent
from PySide6.QtTest import QSignalSpy
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from tastebook.presenters.bench.views import BarView, ColumnView, StripView
from tastebook.ui.bench.strip import HEIGHT_PX, ColumnButton, InfusionStrip, strongest
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import QuietButton
from tests.ui.bench.scene import paints_during
from tests.ui.widgets.hands import tap, told, type_keys

Show = Callable[[QWidget], None]
NO_FIXTURE_CHECK = [HealthCheck.function_scoped_fixture]


def strip_view(infusions: int, current: int, *, bars: tuple[BarView, ...] = ()) -> StripView:
    """Return leaf, rinse, so many infusions, the next one and the close."""
    keys = ["leaf", *[str(index) for index in range(infusions + 2)], "close"]
    kinds = ["leaf", "rinse", *["infusion"] * infusions, "next", "close"]
    return StripView(
        tuple(
            ColumnView(
                key=key,
                title=key,
                kind=kind,  # type: ignore[arg-type]
                is_current=place == current,
                bars=bars if kind == "infusion" else (),
                big="20 s",
                small="95 °C",
                accessible=f"column {key}",
            )
            for place, (key, kind) in enumerate(zip(keys, kinds, strict=True))
        )
    )


def buttons(strip: InfusionStrip) -> list[ColumnButton]:
    """Return the columns from left to right."""
    shown = (button for button in strip.findChildren(ColumnButton) if not button.isHidden())
    return sorted(shown, key=lambda button: button.x())


def current(strip: InfusionStrip) -> ColumnButton:
    (button,) = (button for button in buttons(strip) if button.isChecked())
    return button


def is_whole(strip: InfusionStrip, button: ColumnButton) -> bool:
    return strip.rect().adjusted(-1, 0, 1, 0).contains(button.geometry())


@pytest.fixture
def strip(themes: Themes, show: Show) -> InfusionStrip:
    strip = InfusionStrip(themes)
    strip.resize(1392, HEIGHT_PX)
    strip.show_view(strip_view(3, 4))
    show(strip)
    return strip


def test_every_column_is_a_button_with_its_own_words(strip: InfusionStrip) -> None:
    names = [told(button) for button in buttons(strip)]

    assert names == ["column leaf", "column 0", "column 1", "column 2", "column 3", "column 4", "column close"]
    assert told(strip) == "Infusion strip"


def test_a_screen_reader_is_told_which_column_is_the_current_one(strip: InfusionStrip) -> None:
    states = [QAccessible.queryAccessibleInterface(button).state().checked for button in buttons(strip)]

    assert states.index(True) == 4
    assert sum(states) == 1


def test_pressing_a_column_asks_for_it(strip: InfusionStrip) -> None:
    asked = QSignalSpy(strip.column_requested)

    tap(buttons(strip)[2])

    assert [asked.at(place)[0] for place in range(asked.count())] == ["1"]


def test_the_current_column_stays_current_when_it_is_pressed_again(strip: InfusionStrip) -> None:
    tap(current(strip))

    assert current(strip).key == "3"


def test_a_press_leaves_the_keyboard_where_it_was(themes: Themes, show: Show) -> None:
    holder = QWidget()
    box = QVBoxLayout(holder)
    button, strip = QuietButton(themes, "Say it"), InfusionStrip(themes)
    strip.show_view(strip_view(3, 4))
    strip.setFixedHeight(HEIGHT_PX)
    box.addWidget(button)
    box.addWidget(strip)
    holder.resize(1200, 400)
    show(holder)
    button.setFocus()

    tap(buttons(strip)[1])

    assert button.hasFocus()


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter])
def test_enter_chooses_the_column_that_has_the_keyboard(strip: InfusionStrip, key: Qt.Key) -> None:
    asked = QSignalSpy(strip.column_requested)
    buttons(strip)[1].setFocus()

    type_keys(buttons(strip)[1], key)

    assert [asked.at(place)[0] for place in range(asked.count())] == ["0"]


def test_tab_goes_from_column_to_column(strip: InfusionStrip) -> None:
    buttons(strip)[0].setFocus()

    type_keys(buttons(strip)[0], Qt.Key.Key_Tab)

    assert QApplication.focusWidget() is buttons(strip)[1]


def test_the_column_with_the_keyboard_wears_a_ring(strip: InfusionStrip) -> None:
    before = strip.grab().toImage()

    buttons(strip)[1].setFocus()

    assert strip.grab().toImage() != before


def test_columns_that_go_leave_no_button_behind(strip: InfusionStrip) -> None:
    strip.show_view(strip_view(1, 2))

    assert [button.key for button in buttons(strip)] == ["leaf", "0", "1", "2", "close"]


@settings(suppress_health_check=NO_FIXTURE_CHECK, max_examples=60)
@given(infusions=st.integers(1, 20), place=st.integers(0, 99), width_px=st.integers(900, 1600))
def test_the_current_column_is_whole_whatever_the_width(
    strip: InfusionStrip, infusions: int, place: int, width_px: int
) -> None:
    turn_wheel(strip, 9000)
    strip.show_view(strip_view(1, 0))
    strip.resize(width_px, HEIGHT_PX)

    strip.show_view(strip_view(infusions, place % (infusions + 4)))

    assert is_whole(strip, current(strip))


@settings(suppress_health_check=NO_FIXTURE_CHECK, max_examples=40)
@given(st.lists(st.integers(1, 20), min_size=2, max_size=6))
def test_the_close_stays_whole_while_infusions_come_and_go(strip: InfusionStrip, infusions: list[int]) -> None:
    for count in infusions:
        strip.show_view(strip_view(count, count + 3))

        assert current(strip).key == "close"
        assert is_whole(strip, current(strip))


@settings(suppress_health_check=NO_FIXTURE_CHECK, max_examples=60)
@given(st.integers(1, 20), st.lists(st.integers(0, 99), max_size=4), st.integers(-3000, 3000), st.integers(900, 1600))
def test_the_current_column_is_whole_after_any_way_through_the_strip(
    strip: InfusionStrip, infusions: int, places: list[int], turned: int, width_px: int
) -> None:
    for place in places:
        strip.show_view(strip_view(infusions, place % (infusions + 4)))
        turn_wheel(strip, turned)
    strip.resize(width_px, HEIGHT_PX)

    strip.show_view(strip_view(infusions, 0))
    strip.show_view(strip_view(infusions, infusions + 1))

    assert is_whole(strip, current(strip))


def leave_keyboard() -> None:
    focused = QApplication.focusWidget()
    if focused is not None:
        focused.clearFocus()


def turn_wheel(strip: InfusionStrip, turned: int) -> None:
    event = QWheelEvent(
        QPointF(20, 20), QPointF(20, 20), QPoint(), QPoint(0, turned), Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(strip, event)


@settings(suppress_health_check=NO_FIXTURE_CHECK, max_examples=40)
@given(infusions=st.integers(1, 20), turns=st.lists(st.integers(-3000, 3000), max_size=5))
def test_the_wheel_never_turns_the_strip_beyond_its_ends(
    strip: InfusionStrip, infusions: int, turns: list[int]
) -> None:
    strip.show_view(strip_view(infusions, 1))

    for turned in turns:
        turn_wheel(strip, turned)

    columns = buttons(strip)
    assert columns[0].x() <= 0
    assert columns[-1].geometry().right() >= strip.width() - 2


@pytest.mark.parametrize("place", [0, 5, 12, 23])
def test_a_column_that_takes_the_keyboard_comes_into_view(strip: InfusionStrip, place: int) -> None:
    strip.show_view(strip_view(20, 10))
    leave_keyboard()

    buttons(strip)[place].setFocus()

    assert is_whole(strip, buttons(strip)[place])


def test_a_strip_that_stays_the_same_is_not_painted_again(strip: InfusionStrip) -> None:
    view = strip_view(3, 4)

    assert paints_during(strip, lambda: strip.show_view(view)) == []
    assert paints_during(strip, lambda: strip.show_view(strip_view(3, 3))) != []


def test_a_strip_with_nothing_to_show_is_an_empty_card(themes: Themes, show: Show) -> None:
    empty = InfusionStrip(themes)
    empty.resize(900, HEIGHT_PX)

    show(empty)

    assert buttons(empty) == []


def test_columns_are_targets_of_a_finger(strip: InfusionStrip) -> None:
    strip.show_view(strip_view(20, 10))

    assert all(button.width() >= 44 and button.height() >= 44 for button in buttons(strip))


FLORAL = (BarView("floral", "Floral", 4, 4, ""),)


def current_picture(strip: InfusionStrip) -> QImage:
    """Return how the current column looks, away from the pointer."""
    return strip.grab(current(strip).geometry()).toImage()


def grown(themes: Themes) -> QImage:
    """Return how the current column looks when its band was there from the start."""
    strip = InfusionStrip(themes)
    strip.resize(1392, HEIGHT_PX)
    strip.show_view(strip_view(3, 4, bars=FLORAL))
    return current_picture(strip)


@pytest.mark.parametrize("reduced", [False, True])
def test_a_new_band_grows_unless_motion_is_reduced(themes: Themes, show: Show, reduced: bool) -> None:
    strip = InfusionStrip(Themes("paper", reduce_motion=reduced))
    strip.resize(1392, HEIGHT_PX)
    strip.show_view(strip_view(3, 4))
    show(strip)

    strip.show_view(strip_view(3, 4, bars=FLORAL))

    assert (current_picture(strip) == grown(themes)) == reduced


def test_a_band_that_grew_is_as_high_as_one_that_was_there(themes: Themes, show: Show, qtbot: QtBot) -> None:
    strip = InfusionStrip(Themes("paper", reduce_motion=False))
    strip.resize(1392, HEIGHT_PX)
    strip.show_view(strip_view(3, 4))
    show(strip)

    strip.show_view(strip_view(3, 4, bars=FLORAL))

    qtbot.waitUntil(lambda: current_picture(strip) == grown(themes), timeout=3000)


def test_where_not_all_families_fit_the_strongest_are_named_in_their_order() -> None:
    bars = tuple(
        BarView(family, family.capitalize(), strength, round(strength), "")
        for family, strength in (("fruity", 2), ("milky", 1), ("sweet", 4), ("nutty", 3), ("spicy", 3))
    )

    assert [bar.family for bar in strongest(bars, 2)] == ["sweet", "nutty"]
    assert strongest(bars, 9) == list(bars)
