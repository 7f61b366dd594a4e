"""What every control tells assistive technology, and that listening disturbs nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QWidget

from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import ActionButton, BackButton, PlainButton, QuietButton
from tastebook.ui.widgets.card import Card
from tastebook.ui.widgets.chip import Chip, ChipView
from tastebook.ui.widgets.family_shelf import FamilyShelf
from tastebook.ui.widgets.hints import CupView, FieldNote, KeyHint
from tastebook.ui.widgets.say_field import SayField
from tastebook.ui.widgets.scale_slider import ScaleSlider, ScaleView
from tastebook.ui.widgets.segmented_choice import SegmentedChoice
from tastebook.ui.widgets.step_tab import StepTab, StepTabView
from tastebook.ui.widgets.stepper import Stepper, StepperView
from tastebook.ui.widgets.swatch_chart import Swatch, SwatchChart, SwatchChartView
from tastebook.ui.widgets.timer_face import DigitsFace, DigitsView, PourBar
from tests.ui.widgets.hands import told

Show = Callable[[QWidget], None]
Make = Callable[[Themes], QWidget]

FOCUSABLE: dict[str, Make] = {
    "action": lambda themes: ActionButton(themes, "Pour", "Space"),
    "quiet": lambda themes: QuietButton(themes, "Finish session"),
    "plain": lambda themes: PlainButton(themes, "Cautions"),
    "back": lambda themes: BackButton(themes, "Back to the Shelf"),
    "stepper": lambda themes: Stepper(themes, StepperView("90", "°C", "water")),
    "tab": lambda themes: StepTab(themes, StepTabView("Liquor")),
    "chip": lambda themes: Chip(themes, ChipView("orchid", "floral", 3)),
    "slider": lambda themes: ScaleSlider(themes, ScaleView("Body", "thin", "thick")),
    "field": lambda themes: SayField(themes),
    "tile": lambda themes: FamilyShelf(themes, [("floral", "floral")]).tiles[0],
    "segment": lambda themes: SegmentedChoice(themes, ["clear", "dim"], name="Clarity").segments[0],
    "swatch": lambda themes: SwatchChart(themes, ((Swatch("#E8DC8C", "straw"),),)).button_at(0, 0),
}


@pytest.fixture
def screen_reader() -> Iterator[None]:
    QAccessible.setActive(True)
    yield
    QAccessible.setActive(False)


@pytest.mark.parametrize("kind", FOCUSABLE)
def test_every_control_has_a_name_a_role_and_the_focus_state(themes: Themes, show: Show, kind: str) -> None:
    control = FOCUSABLE[kind](themes)
    owner = control.window()
    show(owner)

    control.setFocus()

    interface = QAccessible.queryAccessibleInterface(control)
    assert told(control)
    assert interface.role() not in (QAccessible.Role.NoRole, QAccessible.Role.Client, QAccessible.Role.Graphic)
    assert interface.state().focusable
    assert interface.state().focused


@pytest.mark.parametrize("kind", FOCUSABLE)
def test_every_control_shows_that_it_has_the_keyboard(themes: Themes, show: Show, kind: str) -> None:
    control = FOCUSABLE[kind](themes)
    holder = QWidget()
    owner = control if control.parentWidget() is None else control.parentWidget()
    card = Card(themes, holder)
    owner.setParent(card)
    owner.setGeometry(30, 30, max(owner.sizeHint().width(), 200), owner.sizeHint().height())
    card.resize(500, 200)
    holder.resize(500, 200)
    show(holder)
    control.clearFocus()
    without = card.grab().toImage()

    control.setFocus()

    assert card.grab().toImage() != without


@pytest.mark.parametrize("kind", FOCUSABLE)
@pytest.mark.parametrize("theme_name", ["lamp", "daylight"])
def test_every_control_follows_a_change_of_theme(themes: Themes, show: Show, kind: str, theme_name: str) -> None:
    control = FOCUSABLE[kind](themes)
    show(control.window())
    in_paper = control.grab().toImage()

    themes.use(theme_name)  # type: ignore[arg-type]

    assert control.grab().toImage() != in_paper


@pytest.mark.parametrize("kind", FOCUSABLE)
def test_a_disabled_control_looks_disabled_and_says_so(themes: Themes, show: Show, kind: str) -> None:
    control = FOCUSABLE[kind](themes)
    show(control.window())
    control.clearFocus()
    QApplication.sendEvent(control, QEvent(QEvent.Type.Leave))
    enabled = control.grab().toImage()

    control.setEnabled(False)

    assert control.grab().toImage() != enabled
    assert QAccessible.queryAccessibleInterface(control).state().disabled


def test_changes_are_told_to_a_listening_screen_reader_without_a_complaint(
    themes: Themes, show: Show, screen_reader: None
) -> None:
    holder = Card(themes)
    chip = Chip(themes, ChipView("orchid", "floral", 3), holder)
    slider = ScaleSlider(themes, ScaleView("Body", "thin", "thick"), holder)
    chart = SwatchChart(themes, ((Swatch("#E8DC8C", "straw"),),), holder)
    digits, note = DigitsView(themes, holder), FieldNote(themes, holder)
    show(holder)

    chip.show_view(ChipView("orchid", "floral", 4))
    slider.show_view(ScaleView("Body", "thin", "thick", 2))
    chart.show_view(SwatchChartView(chosen=(0, 0)))
    digits.show_face(DigitsFace("0:04", "lead", "Infusion 4", "begin to pour"))
    note.show_error("The grams are missing: type them.")

    assert told(chip, QAccessible.Text.Value) == "4 of 5"
    assert told(digits) == "Infusion 4, begin to pour"
    assert QAccessible.queryAccessibleInterface(chart.button_at(0, 0)).state().checked


@pytest.mark.parametrize(
    "make",
    [lambda themes: CupView(themes), lambda themes: KeyHint(themes, "F", "families"), lambda themes: PourBar(themes)],
)
def test_what_only_shows_takes_no_keyboard(themes: Themes, show: Show, make: Make) -> None:
    thing = make(themes)
    show(thing)

    assert not QAccessible.queryAccessibleInterface(thing).state().focusable
