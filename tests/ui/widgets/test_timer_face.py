"""The digits and the bar of the timer: what each phase shows, and how fast."""

from __future__ import annotations

from collections.abc import Callable
from statistics import median
from time import process_time_ns
from typing import get_args

import pytest
from PySide6.QtGui import QAccessible, QColor, QImage
from PySide6.QtWidgets import QWidget

from tastebook.domain.steep import Phase
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.timer_face import DigitsFace, DigitsView, PourBar, PourBarView
from tests.ui.widgets.hands import told, told_role

Show = Callable[[QWidget], None]
STEEPING = DigitsFace("0:15", "steeping", "Infusion 4", "steeping", "27 s in water", "plan 0:42")
PLAN_S, LEAD_S = 42, 6


@pytest.fixture
def digits(themes: Themes, show: Show) -> DigitsView:
    digits = DigitsView(themes)
    digits.resize(432, 224)
    show(digits)
    return digits


@pytest.fixture
def bar(themes: Themes, show: Show) -> PourBar:
    bar = PourBar(themes)
    bar.resize(432, 76)
    show(bar)
    return bar


def ink_rows(image: QImage, ink: QColor) -> list[int]:
    return [y for y in range(50, 200) if any(image.pixelColor(x, y).name() == ink.name() for x in range(40, 400, 2))]


def at(bar: PourBar, seconds: float) -> QColor:
    x = 24 + (432 - 48) * seconds / (PLAN_S * 1.38)
    return bar.grab().toImage().pixelColor(round(x), 45)


def test_the_digits_are_109_px_tall_so_that_they_can_be_read_from_two_metres(
    digits: DigitsView, themes: Themes
) -> None:
    # 109 px at 96 dpi are 29 mm, 50 minutes of arc at 2 m: the design's own measure.
    digits.show_face(DigitsFace("0:00", "steeping"))

    rows = ink_rows(digits.grab().toImage(), themes.current.ink)

    assert 104 <= rows[-1] - rows[0] <= 114
    assert 168 <= rows[-1] <= 176


def test_every_phase_looks_different(digits: DigitsView) -> None:
    looks = []

    for phase in get_args(Phase):
        digits.show_face(DigitsFace("0:15", phase, "Infusion 4"))
        looks.append(digits.grab().toImage())

    # Steeping and poured differ in their words alone.
    assert sum(looks[0] != look for look in looks) == 4
    assert looks[2] not in (looks[0], looks[1], looks[3])


@pytest.mark.parametrize(("phase", "tint"), [("lead", "accent_soft"), ("over", "alarm_soft")])
def test_the_face_is_tinted_from_the_lead_on(digits: DigitsView, themes: Themes, phase: Phase, tint: str) -> None:
    digits.show_face(DigitsFace("0:04", phase))

    assert digits.grab().toImage().pixelColor(216, 60).name() == getattr(themes.current, tint).name()


def test_digits_are_not_cut_off_however_long_the_steep(digits: DigitsView, themes: Themes) -> None:
    digits.show_face(DigitsFace("+128:45", "over"))

    image = digits.grab().toImage()

    edges = [image.pixelColor(x, y).name() for y in range(60, 180) for x in (2, 429)]
    assert themes.current.alarm.name() not in edges


def test_digits_stay_the_same_size_from_second_to_second(digits: DigitsView, themes: Themes) -> None:
    heights = set()

    for second in range(10, 60, 7):
        digits.show_face(DigitsFace(f"10:{second}", "steeping"))
        rows = ink_rows(digits.grab().toImage(), themes.current.ink)
        heights.add((rows[-1] - rows[0]) // 6)

    assert len(heights) == 1


def test_a_screen_reader_is_told_infusion_phase_and_both_counts(digits: DigitsView) -> None:
    digits.show_face(STEEPING)

    assert told(digits) == "Infusion 4, steeping"
    assert told(digits, QAccessible.Text.Value) == "0:15, 27 s in water, plan 0:42"
    assert told_role(digits) == QAccessible.Role.Clock


def test_gold_is_steep_hatch_is_the_pour_and_red_is_over(bar: PourBar, themes: Themes) -> None:
    bar.show_view(PourBarView(PLAN_S, LEAD_S, 50, True))

    gold, over, rest = at(bar, 20), at(bar, 47), at(bar, 55)

    assert gold.hslHue() in range(35, 60)
    assert over.name() == themes.current.alarm.name()
    assert rest.name() == themes.current.sunken.name()


def test_before_the_water_is_on_nothing_is_steep(bar: PourBar, themes: Themes) -> None:
    bar.show_view(PourBarView(PLAN_S, LEAD_S))

    assert at(bar, 20).name() == themes.current.sunken.name()
    assert at(bar, 38).name() != themes.current.sunken.name()  # the pour is hatched all the same


def test_the_gold_ends_where_the_time_is(bar: PourBar, themes: Themes) -> None:
    bar.show_view(PourBarView(PLAN_S, 0, 21.0))

    assert at(bar, 19).name() != themes.current.sunken.name()
    assert at(bar, 24).name() == themes.current.sunken.name()


@pytest.mark.parametrize(
    "view",
    [
        PourBarView(1, 15, 0.0),
        PourBarView(0, 0, 3.0, True),
        PourBarView(5, 6, 900.0, True, (("1", 400),)),
        PourBarView(600, 15, None, False, tuple((str(number), 10 * number) for number in range(1, 21))),
    ],
)
def test_plans_at_the_edges_can_be_drawn(bar: PourBar, view: PourBarView) -> None:
    bar.show_view(view)

    assert not bar.grab().toImage().isNull()


def test_a_screen_reader_is_told_time_plan_and_earlier_steeps(bar: PourBar) -> None:
    bar.show_view(PourBarView(PLAN_S, LEAD_S, 27.9, False, (("1", 20), ("2", 28))))

    assert told(bar, QAccessible.Text.Value) == "27 s, plan 42 s, infusion 1 20 s, infusion 2 28 s"
    assert told(bar) == "Time in water"


def test_a_moment_is_painted_in_under_two_milliseconds(digits: DigitsView, bar: PourBar) -> None:
    # Processor time, so that a busy machine does no harm; the median was 0.6 ms on two slow cores.
    picture = QImage(432, 224, QImage.Format.Format_ARGB32_Premultiplied)
    picture.fill(0)
    took_ms = []

    for second in range(41):
        digits.show_face(DigitsFace(f"0:{second:02d}", "steeping", "Infusion 4", "steeping"))
        bar.show_view(PourBarView(PLAN_S, LEAD_S, second))
        begin_ns = process_time_ns()
        digits.render(picture)
        bar.render(picture)
        took_ms.append((process_time_ns() - begin_ns) / 1e6)

    assert median(took_ms) < 2
