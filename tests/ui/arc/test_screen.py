"""The whole Arc: gestures, keys, themes and sizes."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QSignalSpy, QTest
from PySide6.QtWidgets import QWidget

from tastebook.domain.session import Tasting, Verdict
from tastebook.presenters.arc.presenter import ArcPresenter
from tastebook.services.settings import Settings
from tastebook.ui.arc.prose import Prose, broken, parted, shortened
from tastebook.ui.arc.screen import ArcScreen
from tastebook.ui.arc.side import Facts, Quote
from tastebook.ui.theme.fonts import sans, serif
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import BackButton, LabelButton
from tastebook.ui.widgets.drawn import Control
from tests.presenters.arc_sample import VERDICT, Table, heron_ridge, long_session, poured, review, vocabulary
from tests.ui.widgets.hands import tap, told, told_role

Show = Callable[[QWidget], None]


def screen_of(themes: Themes, tasting: Tasting, width: int = 1440, height: int = 900) -> ArcScreen:
    screen = ArcScreen(themes, review(tasting))
    screen.resize(width, height)
    return screen


def button(screen: ArcScreen, label: str) -> LabelButton:
    return next(one for one in screen.findChildren(LabelButton) if one.label == label)


def walk(screen: ArcScreen, *keys: Qt.Key) -> None:
    for key in keys:
        QTest.keyClick(screen.card.chart, key)


@pytest.mark.parametrize(
    ("label", "signal"),
    [
        ("Session page", "page_requested"),
        ("Edit verdict", "verdict_requested"),
        ("Open the Bench", "bench_requested"),
    ],
)
def test_each_button_asks_for_its_own_with_the_session(themes: Themes, show: Show, label: str, signal: str) -> None:
    screen = screen_of(themes, heron_ridge())
    show(screen)
    asked = QSignalSpy(getattr(screen, signal))

    tap(button(screen, label))

    assert asked.at(0) == ["session"]


def test_the_chevron_leads_back(themes: Themes, show: Show) -> None:
    screen = screen_of(themes, heron_ridge())
    show(screen)
    left = QSignalSpy(screen.left)

    tap(screen.findChildren(BackButton)[0])

    assert left.count() == 1


def test_escape_first_takes_the_pointer_away_and_then_leaves(themes: Themes, show: Show) -> None:
    screen = screen_of(themes, heron_ridge())
    show(screen)
    screen.setFocus()
    left = QSignalSpy(screen.left)
    walk(screen, Qt.Key.Key_Right)

    walk(screen, Qt.Key.Key_Escape)
    after_one = (left.count(), screen.card.line)
    walk(screen, Qt.Key.Key_Escape)

    assert after_one == (0, "ordered by when each family speaks")
    assert left.count() == 1


def test_ctrl_p_asks_for_the_page(themes: Themes, show: Show) -> None:
    screen = screen_of(themes, heron_ridge())
    show(screen)
    screen.setFocus()
    asked = QSignalSpy(screen.page_requested)

    QTest.keyClick(screen.card.chart, Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)

    assert asked.at(0) == ["session"]


def test_keys_read_out_exact_values(themes: Themes, show: Show) -> None:
    screen = screen_of(themes, heron_ridge())
    show(screen)
    screen.setFocus()

    walk(screen, Qt.Key.Key_Right, Qt.Key.Key_Right, *[Qt.Key.Key_Down] * 5)

    assert screen.card.line == "Fruity at 5: 4, white peach"


def test_tabbing_to_the_chart_points_at_the_peak(themes: Themes, show: Show) -> None:
    screen = screen_of(themes, heron_ridge())
    show(screen)

    screen.card.chart.setFocus(Qt.FocusReason.TabFocusReason)

    assert screen.card.line.startswith("Infusion 4, the peak")


def test_leaving_the_chart_takes_the_pointer_away(themes: Themes, show: Show) -> None:
    screen = screen_of(themes, heron_ridge())
    show(screen)
    screen.card.chart.setFocus(Qt.FocusReason.TabFocusReason)

    button(screen, "Session page").setFocus(Qt.FocusReason.TabFocusReason)

    assert screen.card.line == "ordered by when each family speaks"


def test_the_pointer_reads_out_exact_values(themes: Themes, show: Show) -> None:
    screen = screen_of(themes, heron_ridge())
    show(screen)
    lay = screen.card.chart.lay
    at = QPoint(round(lay.across(4)), round(34 + sum(lay.extent(3)) / 2))

    QTest.mouseMove(screen.card.chart.viewport(), at)

    assert screen.card.line == "Floral at 4: 5, orchid"


def test_ctrl_t_turns_the_chart_into_a_table_and_back(themes: Themes, show: Show) -> None:
    screen = screen_of(themes, heron_ridge())
    show(screen)
    screen.setFocus()

    QTest.keyClick(screen.card.chart, Qt.Key.Key_T, Qt.KeyboardModifier.ControlModifier)
    as_table = (screen.card.table.isVisible(), screen.card.table.hasFocus(), screen.card.toggle.label)
    QTest.keyClick(screen.card.table, Qt.Key.Key_T, Qt.KeyboardModifier.ControlModifier)

    assert as_table == (True, True, "As a chart")
    assert screen.card.chart.isVisible()
    assert screen.card.toggle.label == "As a table"


def test_every_saying_can_be_shown(themes: Themes, show: Show) -> None:
    screen = screen_of(themes, long_session())
    show(screen)
    before = len(screen.side.area.widget().findChildren(Quote))

    button(screen, "Show all 20").press()

    assert (before, len(screen.side.area.widget().findChildren(Quote))) == (4, 20)


def test_what_changed_at_the_bench_is_shown_after_a_refresh(themes: Themes, show: Show) -> None:
    now = [heron_ridge(None)]
    screen = ArcScreen(themes, ArcPresenter(lambda: now[0], vocabulary, Settings))
    show(screen)

    now[0] = replace(now[0], verdict=VERDICT)
    screen.refresh()

    headlines = [one.words for one in screen.side.area.widget().findChildren(Prose)]
    assert VERDICT.headline in headlines


def test_words_and_figures_are_read_out(themes: Themes, show: Show) -> None:
    screen = screen_of(themes, heron_ridge())
    show(screen)
    content = screen.side.area.widget()

    quote, facts = content.findChildren(Quote)[0], content.findChildren(Facts)[0]

    assert told(quote) == "Infusion 1, flavour: Warm rice and almond skin, the roast still in front."
    assert told(facts) == "4th is the peak, 6 infusions carry, 72 minutes in all"
    assert told_role(quote) == QAccessible.Role.StaticText


@pytest.mark.parametrize(("width", "height"), [(1440, 900), (1280, 720), (1024, 700)])
@pytest.mark.parametrize("tasting", [heron_ridge(), long_session(), poured(2).tasting(), Table().tasting()])
def test_nothing_that_can_be_pressed_is_cut_off_or_too_small(
    themes: Themes, show: Show, width: int, height: int, tasting: Tasting
) -> None:
    screen = screen_of(themes, tasting, width, height)
    show(screen)

    for control in screen.findChildren(Control):
        if screen.side.area.isAncestorOf(control):
            continue
        corner = control.mapTo(screen, QPoint(0, 0))
        assert control.height() >= 44
        assert screen.rect().contains(corner)
        assert screen.rect().contains(corner + QPoint(control.width() - 1, control.height() - 1))


def test_a_long_verdict_is_set_smaller_and_scrolls_rather_than_being_cut(themes: Themes, show: Show) -> None:
    verdict = Verdict(
        "v", "session", headline="Take what they will part with, " * 4, note="There is much to say. " * 40
    )
    screen = screen_of(themes, heron_ridge(verdict), 1280, 720)
    show(screen)

    bar = screen.side.area.verticalScrollBar()

    assert bar.maximum() > 0
    assert screen.side.area.focusPolicy() == Qt.FocusPolicy.TabFocus
    prose = screen.side.area.widget().findChildren(Prose)[0]
    assert prose.height() >= prose.heightForWidth(prose.width())


@pytest.mark.parametrize("name", ["paper", "lamp", "daylight"])
def test_every_theme_paints_its_own_ground(themes: Themes, show: Show, name: str) -> None:
    screen = screen_of(themes, heron_ridge())
    show(screen)

    themes.use(name)  # type: ignore[arg-type]
    picture = screen.grab().toImage()

    assert picture.pixelColor(4, 800) == themes.current.bg
    assert picture.pixelColor(40, 870) == themes.current.surface
    assert picture.pixelColor(1000, 760) == themes.current.surface
    themes.use("paper")


def test_a_headline_is_parted_at_its_comma() -> None:
    font = serif(36, 600)

    assert parted("Buy four kilos, for the autumn list.", font, 384) == ["Buy four kilos,", "for the autumn list."]
    assert parted("Decline.", font, 384) == ["Decline."]


def test_words_are_broken_without_losing_any() -> None:
    words = "Strengthsandfaultsinonewordthatnobodywouldwrite and a few more of ordinary length"

    lines = broken(words, sans(18), 160)

    assert "".join(lines).replace(" ", "") == words.replace(" ", "")
    assert len(lines) > 3


def test_shortened_words_end_with_an_ellipsis() -> None:
    lines = shortened("one two three four five six seven eight nine ten eleven twelve", sans(16), 120, 2)

    assert len(lines) == 2
    assert lines[-1].endswith("…")


ENDING = """
from PySide6.QtWidgets import QApplication
from tastebook.ui.arc.screen import ArcScreen
from tastebook.ui.theme.theme import Themes
from tests.presenters.arc_sample import heron_ridge, review
app = QApplication([])
themes = Themes("paper", reduce_motion=True)
themes.apply_to(app)
screen = ArcScreen(themes, review(heron_ridge()))
screen.show()
screen.grab()
from PySide6.QtCore import QTimer
QTimer.singleShot(0, app.quit)
app.exec()
assert screen.card.chart.is_released
"""


def test_a_program_that_ends_with_an_arc_open_ends_in_peace() -> None:
    env = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}

    ended = subprocess.run([sys.executable, "-c", ENDING], env=env, capture_output=True, timeout=60, check=False)

    assert ended.returncode == 0, ended.stderr.decode()
