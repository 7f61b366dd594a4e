"""The chart on screen: what is painted where, and what can be pointed at by hand and by key."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtTest import QSignalSpy, QTest
from PySide6.QtWidgets import QWidget

from tastebook.domain.session import Tasting
from tastebook.presenters.arc.views import CursorView
from tastebook.ui.arc.chart import ArcChart
from tastebook.ui.arc.layout import HEAD_PX
from tastebook.ui.theme.theme import Themes
from tests.presenters.arc_sample import Table, heron_ridge, long_session, poured, review
from tests.ui.widgets.hands import told

Show = Callable[[QWidget], None]


def chart_of(themes: Themes, tasting: Tasting, width: int = 936, height: int = 732) -> ArcChart:
    chart = ArcChart(themes)
    chart.resize(width, height)
    chart.show_view(review(tasting).view().chart)
    return chart


def picture(chart: ArcChart) -> QImage:
    return chart.viewport().grab().toImage()


def colour_at(chart: ArcChart, x: float, y: float) -> QColor:
    return picture(chart).pixelColor(round(x), round(y))


def is_near(one: QColor, other: QColor, by: int = 24) -> bool:
    pairs = zip(one.getRgb()[:3], other.getRgb()[:3], strict=True)
    return all(abs(a - b) <= by for a, b in pairs)


def place_of(chart: ArcChart, infusion: int, row: int) -> QPoint:
    lay = chart.lay
    top, bottom = lay.extent(row)
    return QPoint(round(lay.across(infusion)), round(HEAD_PX + (top + bottom) / 2))


@pytest.mark.parametrize("name", ["paper", "lamp", "daylight"])
def test_a_ridge_is_drawn_in_its_familys_colour_at_its_strength(themes: Themes, show: Show, name: str) -> None:
    themes.use(name)  # type: ignore[arg-type]
    chart = chart_of(themes, heron_ridge())
    show(chart)
    lay = chart.lay

    between_4_and_5 = lay.across(4.5)
    height = HEAD_PX + lay.base(4) - 4 * lay.unit  # fruity stays at 4 from infusion 4 to 5

    assert is_near(colour_at(chart, between_4_and_5, height), themes.current.family("fruity"))
    themes.use("paper")


def test_nothing_is_drawn_where_aroma_was_not_assessed(themes: Themes, show: Show) -> None:
    table = poured(4)
    for infusion in (1, 2, 4):
        table.note(infusion, {"orchid": 4})
    chart = chart_of(themes, table.tasting())
    show(chart)
    lay = chart.lay

    y = HEAD_PX + lay.base(0) - 2 * lay.unit
    drawn, gap = colour_at(chart, lay.across(1.5), y), colour_at(chart, lay.across(2.5), y)

    assert not is_near(drawn, themes.current.raised, 40)
    assert gap == picture(chart).pixelColor(round(lay.across(3.5)), round(y))
    assert gap != drawn


def test_a_cup_is_drawn_in_exactly_the_recorded_colour(themes: Themes, show: Show) -> None:
    chart = chart_of(themes, heron_ridge())
    show(chart)
    lay = chart.lay
    cups = review(heron_ridge()).view().chart.columns

    seen = [colour_at(chart, lay.across(cup.index), HEAD_PX + lay.cup_line).name() for cup in cups]

    assert seen == [cup.cup for cup in cups]


def test_an_uncertain_reading_is_drawn_unlike_a_certain_one(themes: Themes, show: Show) -> None:
    pictures = []
    for is_clouded in (False, True):
        table = poured(2)
        table.note(1, {"orchid": 3}, clouded=is_clouded)
        table.note(2, {"orchid": 3})
        chart = chart_of(themes, table.tasting())
        show(chart)
        lay = chart.lay
        pictures.append(
            picture(chart).copy(round(lay.across(1)) - 8, round(HEAD_PX + lay.base(0) - 3 * lay.unit) - 8, 16, 16)
        )

    assert pictures[0] != pictures[1]


def test_the_pointer_asks_for_infusion_and_row(themes: Themes, show: Show) -> None:
    chart = chart_of(themes, heron_ridge())
    show(chart)
    asked = QSignalSpy(chart.point_requested)

    QTest.mouseMove(chart.viewport(), place_of(chart, 4, 3))

    assert asked.at(0) == [4, "family:floral"]


def test_the_pointer_over_a_name_asks_for_its_row_alone(themes: Themes, show: Show) -> None:
    chart = chart_of(themes, heron_ridge())
    show(chart)
    asked = QSignalSpy(chart.point_requested)

    QTest.mouseMove(chart.viewport(), QPoint(60, place_of(chart, 1, 9).y()))

    assert asked.at(0) == [0, "scale:body"]


def test_a_finger_points_as_the_pointer_does(themes: Themes, show: Show) -> None:
    chart = chart_of(themes, heron_ridge())
    show(chart)
    asked = QSignalSpy(chart.point_requested)

    QTest.mouseClick(chart.viewport(), Qt.MouseButton.LeftButton, pos=place_of(chart, 7, 0))

    assert asked.at(asked.count() - 1) == [7, "family:nutty"]


@pytest.mark.parametrize(
    ("key", "signal", "value"),
    [
        (Qt.Key.Key_Left, "column_step_requested", -1),
        (Qt.Key.Key_Right, "column_step_requested", 1),
        (Qt.Key.Key_Up, "row_step_requested", -1),
        (Qt.Key.Key_Down, "row_step_requested", 1),
        (Qt.Key.Key_Home, "end_requested", False),
        (Qt.Key.Key_End, "end_requested", True),
    ],
)
def test_keys_walk_through_the_chart(themes: Themes, show: Show, key: Qt.Key, signal: str, value: object) -> None:
    chart = chart_of(themes, heron_ridge())
    show(chart)
    asked = QSignalSpy(getattr(chart, signal))

    QTest.keyClick(chart, key)

    assert asked.at(0) == [value]


def test_pointing_changes_the_picture_only_where_it_points(themes: Themes, show: Show) -> None:
    chart = chart_of(themes, heron_ridge())
    show(chart)
    lay, before = chart.lay, picture(chart)

    chart.show_cursor(CursorView(4, "", "Infusion 4", "Infusion 4"))
    after = picture(chart)

    band = round(lay.across(4)) - 20, round(HEAD_PX + lay.base(0)) - 12
    elsewhere = round(lay.across(2)) - 20, round(HEAD_PX + lay.base(0)) - 12
    assert before.pixelColor(*band) != after.pixelColor(*band)
    assert before.pixelColor(*elsewhere) == after.pixelColor(*elsewhere)


def test_a_screen_reader_is_told_the_whole_arc_and_then_what_is_pointed_at(themes: Themes, show: Show) -> None:
    presenter = review(heron_ridge())
    chart = chart_of(themes, heron_ridge())
    show(chart)

    whole = chart.accessibleDescription()
    presenter.point_at(4)
    chart.show_cursor(presenter.cursor())

    assert told(chart) == "Aroma arc"
    assert "Floral peaks at 4" in whole
    assert chart.accessibleDescription().startswith("Infusion 4, the peak: 49 s")


def test_twenty_infusions_scroll_sideways_and_eight_do_not(themes: Themes, show: Show) -> None:
    eight, twenty = chart_of(themes, heron_ridge()), chart_of(themes, long_session())
    show(eight)
    show(twenty)

    assert eight.horizontalScrollBar().maximum() == 0
    assert twenty.horizontalScrollBar().maximum() > 0


def test_walking_to_an_infusion_out_of_sight_brings_it_into_sight(themes: Themes, show: Show) -> None:
    chart = chart_of(themes, long_session(), 936, 420)
    show(chart)

    chart.show_cursor(CursorView(20, "scale:finish", "", ""))
    chart.reveal_cursor()

    lay = chart.lay
    x = lay.across(20) - chart.horizontalScrollBar().value()
    assert lay.window[0] <= x <= lay.window[1]
    top, bottom = (edge - chart.verticalScrollBar().value() for edge in lay.extent(15))
    assert top >= 0
    assert bottom <= lay.height - HEAD_PX


def test_a_low_window_scrolls_down_to_the_last_scale(themes: Themes, show: Show) -> None:
    chart = chart_of(themes, heron_ridge(), 760, 420)
    show(chart)

    before = chart.verticalScrollBar().value()
    QTest.keyClick(chart, Qt.Key.Key_PageDown)

    assert (before, chart.verticalScrollBar().value() > 0) == (0, True)


def test_a_pointer_on_a_scrolled_chart_finds_what_is_drawn_there(themes: Themes, show: Show) -> None:
    chart = chart_of(themes, long_session())
    show(chart)
    chart.horizontalScrollBar().setValue(chart.horizontalScrollBar().maximum())
    asked = QSignalSpy(chart.point_requested)
    at = QPointF(chart.lay.left + chart.lay.span, place_of(chart, 1, 0).y()).toPoint()

    QTest.mouseMove(chart.viewport(), at)

    assert asked.at(0)[0] == 20


def test_curves_come_back_after_they_were_let_go(themes: Themes, show: Show) -> None:
    chart = chart_of(themes, heron_ridge())
    show(chart)
    before = picture(chart)

    chart.release()

    assert picture(chart) == before


@pytest.mark.parametrize("tasting", [Table().tasting(), poured(1).tasting(), long_session(1, 1), long_session(2, 12)])
def test_any_session_can_be_painted(themes: Themes, show: Show, tasting: Tasting) -> None:
    chart = chart_of(themes, tasting)
    show(chart)

    assert not picture(chart).isNull()
