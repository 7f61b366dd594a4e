"""The timer panel: the one big target, water and plan, the seconds that were meant, a question after a long steep."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QSignalSpy
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

from tastebook.presenters.bench.views import TimerView
from tastebook.ui.bench.timer_panel import AdviceLines, PourQuestion, TimerPanel
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import ActionButton, LabelButton
from tastebook.ui.widgets.stepper import Stepper
from tests.ui.bench.scene import CONTROL, Scene, paints_during
from tests.ui.widgets.hands import press, tap, told, type_keys

Show = Callable[[QWidget], None]

READY = TimerView(
    index=3,
    title="Infusion 3",
    phase="ready",
    word="ready",
    digits="0:30",
    below="counts down from water on",
    plan="plan 0:30",
    plan_s=30,
    lead_s=6,
    elapsed_s=None,
    marks=(("1", 20), ("2", 25)),
    water="95 °C",
    plan_value="30 s",
    plan_caption="plan",
    advice=("The course's plan: 5 s longer than infusion 2.", "Your taste decides."),
    action="Water on",
    key="Space",
)
STEEPING = replace(READY, phase="steeping", word="steeping", digits="0:20", elapsed_s=10.0, action="Pour")
OVER = replace(READY, phase="over", word="over plan", digits="+0:07", elapsed_s=37.2, action="Pour now")
POURED = replace(READY, phase="poured", word="poured", digits="0:36", elapsed_s=36.0, action="Next", can_amend=True)
ABSURD = replace(OVER, question="In water for 40 min by the clock. Was it poured? Say after how long.")


@pytest.fixture
def panel(themes: Themes, show: Show) -> TimerPanel:
    panel = TimerPanel(themes)
    panel.resize(432, 540)
    panel.show_view(READY)
    show(panel)
    return panel


def part(panel: QWidget, kind: type[QWidget], name: str = "") -> QWidget:
    (found,) = (one for one in panel.findChildren(kind) if one.isVisible() and told(one).startswith(name))
    return found


def heard(spy: QSignalSpy) -> list[object]:
    return [spy.at(place)[0] if spy.at(place) else None for place in range(spy.count())]


@pytest.mark.parametrize(("view", "label"), [(READY, "Water on"), (STEEPING, "Pour"), (OVER, "Pour now")])
def test_the_big_target_says_the_next_act_and_its_key(panel: TimerPanel, view: TimerView, label: str) -> None:
    panel.show_view(view)

    action = part(panel, ActionButton)
    assert told(action) == label
    assert action.accessibleDescription() == "Key: Space"
    assert action.is_over == (view is OVER)


def test_the_big_target_turns_red_over_the_plan_though_it_says_the_same(panel: TimerPanel) -> None:
    panel.show_view(replace(STEEPING, phase="lead", word="begin to pour", action="Pour now"))
    action = part(panel, ActionButton)
    before = action.grab().toImage().pixelColor(10, 40).name()

    painted = paints_during(panel, lambda: panel.show_view(OVER))

    assert "ActionButton" in painted
    assert action.grab().toImage().pixelColor(10, 40).name() != before


def test_the_big_target_asks_at_the_press_and_not_when_it_is_let_go(panel: TimerPanel) -> None:
    asked = QSignalSpy(panel.act_requested)

    press(part(panel, ActionButton))

    assert asked.count() == 1


def test_the_big_target_is_the_biggest(panel: TimerPanel) -> None:
    action = part(panel, ActionButton)
    others = [one for one in panel.findChildren(LabelButton) if one.isVisible() and one is not action]

    assert action.height() >= 80
    assert all(action.width() * action.height() > one.width() * one.height() for one in others)


@pytest.mark.parametrize(
    ("name", "x", "step"), [("water", 10, -1), ("water", -10, 1), ("plan", 10, -1), ("plan", -10, 1)]
)
def test_water_and_plan_are_stepped(panel: TimerPanel, name: str, x: int, step: int) -> None:
    water, plan = QSignalSpy(panel.water_step_requested), QSignalSpy(panel.plan_step_requested)
    stepper = part(panel, Stepper, name)

    tap(stepper, x if x > 0 else stepper.width() + x)

    assert (heard(water), heard(plan)) == (([step], []) if name == "water" else ([], [step]))


@pytest.mark.parametrize(("name", "typed"), [("water", "88"), ("plan", "1:40")])
def test_water_and_plan_are_typed(panel: TimerPanel, name: str, typed: str) -> None:
    water, plan = QSignalSpy(panel.water_typed), QSignalSpy(panel.plan_typed)
    stepper = part(panel, Stepper, name)
    stepper.setFocus()

    type_keys(stepper, Qt.Key.Key_Return)
    type_keys(QApplication.focusWidget(), typed, Qt.Key.Key_Return)

    assert (heard(water), heard(plan)) == (([typed], []) if name == "water" else ([], [typed]))


def test_boiling_water_cannot_be_made_hotter(panel: TimerPanel) -> None:
    panel.show_view(replace(READY, water="100 °C", is_hottest=True))
    asked = QSignalSpy(panel.water_step_requested)
    stepper = part(panel, Stepper, "water")

    tap(stepper, stepper.width() - 10)

    assert asked.count() == 0


def test_a_finished_session_keeps_its_water_and_plan(panel: TimerPanel) -> None:
    panel.show_view(replace(POURED, can_change_plan=False))

    assert not part(panel, Stepper, "water").isEnabled()
    assert not part(panel, Stepper, "plan").isEnabled()


def test_the_advice_reads_out_whole(panel: TimerPanel) -> None:
    assert told(part(panel, AdviceLines)) == "The course's plan: 5 s longer than infusion 2. Your taste decides."


@pytest.mark.parametrize("view", [READY, STEEPING, OVER])
def test_other_seconds_are_offered_only_after_the_pour(panel: TimerPanel, view: TimerView) -> None:
    panel.show_view(view)
    before = [one.label for one in panel.findChildren(LabelButton) if one.isVisible()]

    panel.show_view(POURED)

    assert "Other seconds" not in before
    assert told(part(panel, LabelButton, "Other")) == "Other seconds"


def test_the_seconds_that_were_meant_are_typed(panel: TimerPanel) -> None:
    panel.show_view(POURED)
    asked = QSignalSpy(panel.seconds_typed)
    tap(part(panel, LabelButton, "Other"))

    type_keys(QApplication.focusWidget(), "31", Qt.Key.Key_Return)

    assert heard(asked) == ["31"]
    assert part(panel, AdviceLines).isVisible()


@pytest.mark.parametrize("typed", ["", "  "])
def test_no_seconds_typed_is_no_change(panel: TimerPanel, typed: str) -> None:
    panel.show_view(POURED)
    asked = QSignalSpy(panel.seconds_typed)
    tap(part(panel, LabelButton, "Other"))

    type_keys(QApplication.focusWidget(), typed, Qt.Key.Key_Return)

    assert asked.count() == 0
    assert part(panel, AdviceLines).isVisible()


def test_a_steep_of_absurd_length_is_asked_about_where_it_is_counted(panel: TimerPanel) -> None:
    panel.show_view(ABSURD)

    assert part(panel, PourQuestion).isVisible()
    assert told(part(panel, AdviceLines)) == ABSURD.question
    assert told(part(panel, QLineEdit, "Seconds")) == "Seconds in water"


def test_the_question_is_read_out(panel: TimerPanel) -> None:
    panel.show_view(ABSURD)

    assert part(panel, QLineEdit, "Seconds").accessibleDescription() == ABSURD.question


def test_the_question_is_answered_in_seconds_or_by_steeping_on(panel: TimerPanel) -> None:
    panel.show_view(ABSURD)
    seconds, still = QSignalSpy(panel.seconds_typed), QSignalSpy(panel.long_accepted)

    type_keys(part(panel, QLineEdit, "Seconds"), "42", Qt.Key.Key_Return)
    tap(part(panel, LabelButton, "It steeps still"))

    assert heard(seconds) == ["42"]
    assert still.count() == 1


def test_the_question_goes_once_it_is_answered(panel: TimerPanel) -> None:
    panel.show_view(ABSURD)

    panel.show_view(POURED)

    assert part(panel, AdviceLines).isVisible()
    assert not panel.findChild(PourQuestion).isVisible()


def test_what_is_being_typed_there_stays_while_the_clock_goes_on(panel: TimerPanel) -> None:
    panel.show_view(ABSURD)
    field = part(panel, QLineEdit, "Seconds")
    type_keys(field, "4")

    panel.show_view(replace(ABSURD, elapsed_s=4000.0, digits="+40:07"))
    type_keys(field, "2")

    assert field.text() == "42"


def test_equal_views_paint_nothing(panel: TimerPanel) -> None:
    panel.show_view(STEEPING)

    assert paints_during(panel, lambda: panel.show_view(replace(STEEPING))) == []


def test_a_tick_paints_only_what_counts(panel: TimerPanel) -> None:
    panel.show_view(STEEPING)

    painted = paints_during(panel, lambda: panel.show_view(replace(STEEPING, elapsed_s=10.05)))

    assert "PourBar" in painted
    assert not {"ActionButton", "DigitsView", "Stepper", "AdviceLines"} & set(painted)


# -- with the Bench around it


def test_a_question_leaves_the_keyboard_with_words_that_are_being_typed(scene: Scene) -> None:
    scene.press(Qt.Key.Key_Space)
    scene.type("white pe")

    scene.kit.clock.advance(3000)
    scene.screen.refresh()
    scene.type("ach")

    assert scene.screen.card.say.text() == "white peach"


def test_a_question_takes_the_keyboard_of_one_who_types_nothing(scene: Scene) -> None:
    scene.press(Qt.Key.Key_Space)

    scene.kit.clock.advance(3000)
    scene.screen.refresh()
    scene.type("42")
    scene.press(Qt.Key.Key_Return)

    assert scene.kit.desk.tasting.infusion(0).actual_ms == 42_000  # type: ignore[union-attr]


def test_a_pour_that_was_long_ago_is_asked_about_before_it_counts(scene: Scene) -> None:
    scene.press(Qt.Key.Key_Space, CONTROL)
    scene.kit.clock.advance(3000)

    scene.press(Qt.Key.Key_Space, CONTROL)

    assert scene.kit.desk.tasting.steeping is not None
    tap(next(one for one in scene.screen.findChildren(LabelButton) if one.label == "It steeps still"))
    scene.press(Qt.Key.Key_Space, CONTROL)
    assert scene.kit.desk.tasting.steeping is None


def test_escape_leaves_the_seconds_as_they_were(scene: Scene) -> None:
    scene.steep(5)
    tap(next(one for one in scene.screen.findChildren(LabelButton) if one.label == "Other seconds"))
    scene.type("31")

    scene.press(Qt.Key.Key_Escape)

    assert scene.kit.desk.tasting.infusion(0).actual_ms == 5000  # type: ignore[union-attr]
    assert scene.keyboard_is_with(scene.screen.card.say)
    assert part(scene.screen.timer, AdviceLines).isVisible()


def test_seconds_that_mean_nothing_are_said_at_the_card(scene: Scene) -> None:
    scene.steep(5)
    tap(next(one for one in scene.screen.findChildren(LabelButton) if one.label == "Other seconds"))

    scene.type("soon")
    scene.press(Qt.Key.Key_Return)

    assert scene.bench.card().trouble == "“soon” is not a time such as 42 s."


def test_after_other_seconds_the_keyboard_is_with_the_say_line_again(scene: Scene) -> None:
    scene.steep(5)
    tap(next(one for one in scene.screen.findChildren(LabelButton) if one.label == "Other seconds"))

    scene.type("7")
    scene.press(Qt.Key.Key_Return)

    assert scene.kit.desk.tasting.infusion(0).actual_ms == 7000  # type: ignore[union-attr]
    assert scene.keyboard_is_with(scene.screen.card.say)
