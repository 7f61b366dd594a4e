"""The Bench as a whole: it looks again only while something moves, announces once, and paints only what changed."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtTest import QSignalSpy
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from tastebook.domain.errors import JournalFull
from tastebook.presenters.bench.photos import BenchPhotos
from tastebook.services.keeping import Keeping
from tastebook.services.tasting import TastingDesk
from tastebook.ui.bench.header import TitleLine
from tastebook.ui.bench.notice import Notice
from tastebook.ui.bench.screen import COOLING_MS, LOOK_AGAIN_MS, BenchScreen
from tastebook.ui.bench.strip import ColumnButton
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import ActionButton, LabelButton
from tastebook.ui.widgets.timer_face import DigitsView
from tests.fakes import FakeIds
from tests.ui.bench.scene import CONTROL, Scene, build, paints_during
from tests.ui.widgets.hands import tap, told

Show = Callable[[QWidget], None]
SPACE = Qt.Key.Key_Space


def ticker(scene: Scene) -> QTimer:
    """Return the timer that says: look again."""
    (timer,) = (one for one in scene.screen.findChildren(QTimer) if one.parent() is scene.screen)
    return timer


def look(scene: Scene) -> None:
    """Look again, as the timer would have it."""
    ticker(scene).timeout.emit()


def calls(spy: QSignalSpy) -> list[tuple[str, int]]:
    return [(spy.at(place)[0].what, spy.at(place)[0].at_s) for place in range(spy.count())]


def in_water(scene: Scene, plan_s: str = "20") -> None:
    scene.bench.type_plan(plan_s)
    scene.press(SPACE, CONTROL)


# -- looking again


def looks_every_ms(scene: Scene) -> int:
    """Return how often the screen looks again, 0 for not at all."""
    return ticker(scene).interval() if ticker(scene).isActive() else 0


def test_a_steep_is_looked_at_often_a_cup_that_cools_now_and_then_and_else_nothing(scene: Scene) -> None:
    every_ms = [looks_every_ms(scene)]

    for _ in range(3):  # water on, pour, on to the next infusion
        scene.press(SPACE, CONTROL)
        every_ms.append(looks_every_ms(scene))
    scene.steep(5)
    every_ms.append(looks_every_ms(scene))
    scene.kit.clock.advance(3600)
    look(scene)
    every_ms.append(looks_every_ms(scene))

    assert every_ms == [0, LOOK_AGAIN_MS, COOLING_MS, 0, COOLING_MS, 0]


def test_a_running_stopwatch_is_looked_at_often_until_it_is_stopped(scene: Scene) -> None:
    scene.steep(5)
    scene.go("close", "finish")
    before = looks_every_ms(scene)

    scene.bench.press_stopwatch()
    scene.screen.refresh()
    during = looks_every_ms(scene)
    scene.bench.press_stopwatch()
    scene.screen.refresh()

    assert (before, during, looks_every_ms(scene)) == (COOLING_MS, LOOK_AGAIN_MS, COOLING_MS)


def test_undoing_water_on_ends_the_looking(scene: Scene) -> None:
    in_water(scene)

    scene.press(Qt.Key.Key_Z, CONTROL)

    assert not ticker(scene).isActive()


def test_it_is_looked_at_often_enough_for_a_second_and_by_a_precise_timer(scene: Scene) -> None:
    assert ticker(scene).interval() <= 100
    assert ticker(scene).timerType() == Qt.TimerType.PreciseTimer


def test_time_shows_without_anyone_pressing_anything(scene: Scene, qtbot: QtBot) -> None:
    in_water(scene)

    scene.kit.clock.advance(13)

    qtbot.waitUntil(lambda: scene.screen.timer.view.digits == "0:07", timeout=2000)  # type: ignore[union-attr]


def test_a_busy_or_hidden_window_never_slows_the_steep(scene: Scene) -> None:
    in_water(scene)
    scene.screen.hide()
    scene.kit.clock.sleep(47.5)

    scene.screen.show()
    tap(scene.screen.findChild(ActionButton))

    assert scene.kit.desk.tasting.infusion(0).actual_ms == 47_500  # type: ignore[union-attr]


# -- announcing


def test_lead_plan_and_every_quarter_minute_over_are_announced_once_each(scene: Scene) -> None:
    heard = QSignalSpy(scene.screen.call_due)
    in_water(scene, "20")

    for _ in range(40 * 20):
        scene.kit.clock.advance(0.05)
        look(scene)

    assert calls(heard) == [("lead", 6), ("plan", 0), ("over", 15)]


def test_of_what_fell_due_in_a_sleep_only_the_newest_is_announced(scene: Scene) -> None:
    heard = QSignalSpy(scene.screen.call_due)
    in_water(scene, "20")

    scene.kit.clock.sleep(20 + 47)
    look(scene)
    look(scene)

    assert calls(heard) == [("over", 45)]


def test_nothing_is_announced_after_the_pour(scene: Scene) -> None:
    in_water(scene, "20")
    scene.press(SPACE, CONTROL)
    heard = QSignalSpy(scene.screen.call_due)

    scene.kit.clock.advance(60)
    look(scene)
    scene.screen.refresh()

    assert calls(heard) == []


def test_a_plan_made_longer_is_announced_again_when_its_time_comes(scene: Scene) -> None:
    heard = QSignalSpy(scene.screen.call_due)
    in_water(scene, "20")
    scene.kit.clock.advance(15)
    look(scene)

    scene.bench.type_plan("40")
    scene.screen.refresh()
    look(scene)
    scene.kit.clock.advance(20)
    look(scene)

    assert calls(heard) == [("lead", 6), ("lead", 6)]


def test_noting_something_swallows_no_announcement(scene: Scene) -> None:
    heard = QSignalSpy(scene.screen.call_due)
    in_water(scene, "20")

    scene.kit.clock.advance(16)
    scene.say("orchid 3")  # shown anew between two looks
    look(scene)

    assert calls(heard) == [("lead", 6)]


def test_the_title_counts_on_for_a_window_that_is_minimised(scene: Scene) -> None:
    told_titles = QSignalSpy(scene.screen.steeping_told)
    in_water(scene, "20")

    scene.kit.clock.advance(5)
    look(scene)
    while_steeping = told_titles.at(told_titles.count() - 1)[0]
    scene.press(SPACE, CONTROL)

    assert while_steeping == "0:15 steeping, Heron Ridge, spring roast"
    assert told_titles.at(told_titles.count() - 1)[0] == "Heron Ridge, spring roast"


# -- painting


def settled(scene: Scene) -> None:
    scene.steep(5)
    scene.go("0", "lid")
    scene.say("toasted rice 3, orchid 2")
    scene.screen.setFocus()  # a blinking cursor paints too


@pytest.mark.parametrize("step", ["lid", "liquor", "first_sip", "flavour", "finish", "verdict"])
def test_showing_the_same_again_paints_nothing(scene: Scene, step: str) -> None:
    settled(scene)
    column = {"lid": "0", "finish": "close", "verdict": "close"}.get(step, "1")
    scene.go(column, step)
    scene.screen.setFocus()

    assert paints_during(scene.screen, scene.screen.refresh) == []


def test_a_strength_paints_its_chip_and_the_strip_and_not_the_timer(scene: Scene) -> None:
    settled(scene)

    def act() -> None:
        scene.bench.note("orchid", 5)
        scene.screen.refresh()

    painted = paints_during(scene.screen, act)

    assert {"Chip", "InfusionStrip"} <= set(painted)
    assert not {"DigitsView", "PourBar", "ActionButton", "FamilyTile", "TitleLine"} & set(painted)


def test_a_tick_within_a_second_paints_the_bar_alone(scene: Scene) -> None:
    in_water(scene)
    scene.screen.setFocus()
    look(scene)
    scene.kit.clock.advance(0.2)
    look(scene)
    scene.kit.clock.advance(0.2)

    painted = paints_during(scene.screen, lambda: look(scene))

    assert "PourBar" in painted
    assert not {"InfusionStrip", "DigitsView", "ActionButton", "StepCard", "SayField", "FamilyTile"} & set(painted)


# -- trouble, and other windows


def test_what_could_not_be_kept_is_said_above_everything_until_it_is_understood(scene: Scene) -> None:
    notice = scene.screen.findChild(Notice)
    assert notice is not None
    scene.kit.journal.next_commit_fails = JournalFull("the disk is full: free some space.")

    scene.say("orchid 3")
    said, seen = told(notice), notice.isVisible()
    tap(notice.findChild(LabelButton))

    assert (seen, said) == (True, "Not kept: the disk is full: free some space.")
    assert not notice.isVisible()
    assert scene.screen.card.say.text() == "orchid 3"


def test_the_notice_goes_by_itself_once_something_could_be_kept(scene: Scene) -> None:
    notice = scene.screen.findChild(Notice)
    assert notice is not None
    scene.kit.journal.next_commit_fails = JournalFull("the disk is full.")
    scene.say("orchid 3")

    scene.press(Qt.Key.Key_Return)

    assert not notice.isVisible()
    assert scene.words == {"orchid": 3}


def elsewhere(scene: Scene) -> TastingDesk:
    """Return the same tasting in another window."""
    keeping = Keeping(scene.kit.journal, scene.kit.clock, FakeIds("other"))
    return TastingDesk(keeping, scene.kit.words, scene.kit.desk.scope)


def test_what_another_window_did_is_shown_once_it_is_read(scene: Scene) -> None:
    elsewhere(scene).pour_water_on(0)

    scene.screen.reread()

    assert scene.timer.phase == "steeping"
    assert ticker(scene).isActive()


def test_an_act_on_what_another_window_changed_is_told_and_can_be_done_again(scene: Scene) -> None:
    elsewhere(scene).pour_water_on(0)

    scene.press(SPACE, CONTROL)
    notice = scene.bench.view().notice
    scene.press(SPACE, CONTROL)

    assert notice.startswith("Another window has changed this")
    assert scene.timer.phase == "poured"


# -- going on


def test_finishing_goes_to_the_verdict_and_then_to_the_arc(scene: Scene) -> None:
    asked = QSignalSpy(scene.screen.arc_requested)
    scene.steep(5)
    finish = next(one for one in scene.screen.findChildren(LabelButton) if one.label == "Finish session")

    tap(finish)
    at_verdict = (scene.bench.step.key, finish.label)
    tap(finish)

    assert at_verdict == ("verdict", "Close session")
    assert [asked.at(place)[0] for place in range(asked.count())] == [scene.kit.desk.scope]


def test_a_session_with_leaf_in_water_is_not_finished(scene: Scene) -> None:
    asked = QSignalSpy(scene.screen.arc_requested)
    in_water(scene)

    for _ in range(2):
        scene.press(Qt.Key.Key_Return, CONTROL)

    assert asked.count() == 0
    assert "still in water" in scene.bench.card().trouble


def test_a_finished_session_leads_straight_to_its_arc(scene: Scene) -> None:
    scene.steep(5)
    for _ in range(2):
        scene.press(Qt.Key.Key_Return, CONTROL)
    asked = QSignalSpy(scene.screen.arc_requested)

    tap(next(one for one in scene.screen.findChildren(LabelButton) if one.label == "Open the Arc"))

    assert asked.count() == 1


def test_going_back_keeps_words_that_were_not_taken(scene: Scene) -> None:
    left = QSignalSpy(scene.screen.left)
    scene.type("toasted rice 4")

    tap(next(one for one in scene.screen.findChildren(QWidget) if told(one) == "Back to the Shelf"))

    assert left.count() == 1
    assert scene.words == {"toasted rice": 4}


def test_the_way_to_the_verdict_gives_it_the_keyboard(scene: Scene) -> None:
    scene.screen.show_verdict()

    assert scene.bench.step.key == "verdict"
    assert QApplication.focusWidget().accessibleName() == "In one line"


def test_a_column_is_chosen_by_a_finger(scene: Scene) -> None:
    scene.steep(5)

    tap(next(one for one in scene.screen.findChildren(ColumnButton) if one.key == "leaf"))

    assert scene.bench.column == "leaf"
    assert scene.keyboard_is_with(scene.screen.card.say)


def test_the_header_tells_which_tea_and_how_it_is_brewed(scene: Scene) -> None:
    title = scene.screen.findChild(TitleLine)

    assert told(title) == (
        "Heron Ridge, spring roast, Jin Xuan, Heron Ridge, lot 24-017, 6.5 g in a 110 ml gaiwan, since 10:30"
    )


def test_a_steep_that_ran_while_the_program_was_closed_goes_on(scene: Scene, themes: Themes, show: Show) -> None:
    in_water(scene, "40")
    kit = scene.kit
    kit.clock.reboot(33)
    desk = TastingDesk(Keeping(kit.journal, kit.clock, FakeIds("next")), kit.words, kit.desk.scope)
    families = [(family.key, family.name) for family in kit.words().families]
    bench = kit.bench_at(desk)

    screen = BenchScreen(themes, bench, BenchPhotos(kit.photographs, bench), families)
    show(screen)

    assert told(screen.findChild(DigitsView)) == "Rinse, steeping"
    assert screen.timer.view.digits == "0:07"  # type: ignore[union-attr]
    assert any(one.isActive() for one in screen.findChildren(QTimer) if one.parent() is screen)


@pytest.mark.parametrize("name", ["paper", "lamp", "daylight"])
def test_the_bench_wears_another_theme_at_once(show: Show, qapp: QApplication, name: str) -> None:
    themes = Themes("paper", reduce_motion=True)
    themes.apply_to(qapp)
    scene = build(themes)
    show(scene.screen)
    scene.say("orchid 3")

    themes.use(name)  # type: ignore[arg-type]
    QApplication.processEvents()

    picture = scene.screen.grab().toImage()
    assert picture.pixelColor(4, picture.height() - 4).name() == themes.current.bg.name()
