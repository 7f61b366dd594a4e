"""What is typed is seen, stepped through and set right, by key and by finger, at a real Bench."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QAccessible, QContextMenuEvent, QHelpEvent
from PySide6.QtTest import QSignalSpy, QTest
from PySide6.QtWidgets import QApplication, QMenu, QToolTip, QWidget
from pytestqt.qtbot import QtBot

from tastebook.presenters.bench.views import MarkKind
from tastebook.ui.bench.said_row import PartPill, SaidChip, SaidHere
from tastebook.ui.bench.screen import LONG_SIGNS
from tastebook.ui.bench.step_card import LINES
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import QuietButton
from tastebook.ui.widgets.chip import Chip
from tastebook.ui.widgets.family_shelf import FamilyTile
from tastebook.ui.widgets.hints import FieldNote
from tastebook.ui.widgets.scale_slider import ScaleSlider
from tastebook.ui.widgets.stepper import Stepper
from tests.ui.bench.scene import ALT, CONTROL, SHIFT, Scene
from tests.ui.widgets.hands import tap, told

Key = Qt.Key
Show = Callable[[QWidget], None]
opens_a_menu = pytest.mark.qt_log_ignore(r"This plugin does not support (raise\(\)|grabbing the keyboard)", extend=True)


@pytest.fixture
def at_cup(scene: Scene) -> Scene:
    """Return a taster before the flavour of the first infusion."""
    scene.press(Key.Key_N, CONTROL)
    scene.steep(20)
    scene.go("1", "flavour")
    return scene


def seen(scene: Scene, kind: type[QWidget]) -> dict[str, QWidget]:
    found = (one for one in scene.screen.findChildren(kind) if one.isVisible())
    return {told(one).split(",")[0]: one for one in found}


def note(scene: Scene) -> str:
    return " ".join(told(one) for one in scene.screen.findChildren(FieldNote) if one.isVisible())


def chosen(scene: Scene) -> str:
    field = scene.screen.card.say
    return next((field.text()[mark.begin : mark.end] for mark in field.marks if mark.is_chosen), "")


# -- by key


def test_tab_goes_from_part_to_part_and_then_on_to_the_chips(at_cup: Scene) -> None:
    at_cup.type("orchid 2, silky, no smoke ")
    stations = []

    for _ in range(4):
        at_cup.press(Key.Key_Tab)
        stations.append(chosen(at_cup))

    assert stations == ["orchid", "silky", "smoke", ""]
    assert isinstance(QApplication.focusWidget(), Chip)


def test_shift_tab_goes_back_and_at_the_first_returns_to_the_words(at_cup: Scene) -> None:
    at_cup.type("orchid 2, rose 1 ")
    stations = []

    for key, modifier in ((Key.Key_Tab, None), (Key.Key_Tab, None), (Key.Key_Backtab, SHIFT), (Key.Key_Backtab, SHIFT)):
        at_cup.press(key, modifier or Qt.KeyboardModifier.NoModifier)
        stations.append(chosen(at_cup))

    assert stations == ["orchid", "rose", "orchid", ""]
    assert at_cup.keyboard_is_with(at_cup.screen.card.say)


def test_a_word_offered_is_taken_by_tab_before_any_part_is_chosen(at_cup: Scene) -> None:
    at_cup.type("orchid, white pea")

    at_cup.press(Key.Key_Tab)
    completed = at_cup.screen.card.say.text(), chosen(at_cup)
    at_cup.press(Key.Key_Tab)

    assert completed == ("orchid, white peach", "")
    assert chosen(at_cup) == "orchid"


def test_digit_zero_and_backspace_set_the_chosen_part_right_and_enter_records_it(at_cup: Scene) -> None:
    at_cup.type("orchid 2, rose, honey ")
    at_cup.press(Key.Key_Tab)
    at_cup.press(Key.Key_5)
    at_cup.press(Key.Key_Tab)
    at_cup.press(Key.Key_0)
    at_cup.press(Key.Key_Tab)
    at_cup.press(Key.Key_Backspace)

    at_cup.press(Key.Key_Return)

    assert at_cup.words == {"orchid": 5, "rose": 0}
    assert [one.text for one in at_cup.kit.desk.tasting.sayings] == ["orchid 2, rose, honey"]


def test_typing_on_returns_to_the_words_and_keeps_what_was_set(at_cup: Scene) -> None:
    at_cup.type("orchid 2 ")
    at_cup.press(Key.Key_Tab)
    at_cup.press(Key.Key_4)

    at_cup.type("and rose 1")
    at_cup.press(Key.Key_Return)

    assert at_cup.words == {"orchid": 4, "rose": 1}


def test_escape_returns_to_the_words_and_once_more_leaves_the_line(at_cup: Scene) -> None:
    at_cup.type("orchid 2 ")
    at_cup.press(Key.Key_Tab)

    at_cup.press(Key.Key_Escape)
    first = chosen(at_cup), at_cup.keyboard_is_with(at_cup.screen.card.say)
    at_cup.press(Key.Key_Escape)

    assert first == ("", True)
    assert not at_cup.keyboard_is_with(at_cup.screen.card.say)


def test_a_chosen_reading_takes_a_digit_on_its_scale(at_cup: Scene) -> None:
    at_cup.go("1", "first_sip")
    at_cup.type("silky ")
    at_cup.press(Key.Key_Tab)
    at_cup.press(Key.Key_2)
    slider = seen(at_cup, ScaleSlider)["Surface"]
    ghost = told(slider, QAccessible.Text.Value)

    at_cup.press(Key.Key_Return)

    assert "as you say it" in ghost
    assert [(one.scale, one.value) for one in at_cup.kit.desk.tasting.readings] == [("surface", 2)]
    assert "as you say it" not in told(slider, QAccessible.Text.Value)


def test_the_note_says_from_which_words_a_chosen_part_was_read_and_which_keys_there_are(at_cup: Scene) -> None:
    at_cup.type("a faint orchid ")

    at_cup.press(Key.Key_Tab)

    assert "“faint” → strength 1" in note(at_cup)
    assert "Backspace leaves it as words" in note(at_cup)


def test_f1_on_a_chosen_part_tells_its_meaning_in_the_panel(at_cup: Scene) -> None:
    asked = QSignalSpy(at_cup.screen.help_requested)
    at_cup.type("scorched ")
    at_cup.press(Key.Key_Tab)

    at_cup.press(Key.Key_F1)
    meaning = note(at_cup)
    at_cup.press(Key.Key_Escape)

    assert meaning.startswith("Scorched: ")
    assert "A fault" in meaning
    assert note(at_cup) == ""
    assert asked.count() == 0


@pytest.mark.parametrize(
    ("step", "kind", "words"), [("flavour", Chip, "Orchid: "), ("first_sip", ScaleSlider, "Body: ")]
)
def test_f1_on_a_chip_or_a_scale_tells_its_meaning(at_cup: Scene, step: str, kind: type[QWidget], words: str) -> None:
    at_cup.say("orchid 3")
    at_cup.go("1", step)
    next(iter(seen(at_cup, kind).values())).setFocus()

    at_cup.press(Key.Key_F1)

    assert note(at_cup).startswith(words)


def test_a_new_word_is_given_another_family_by_the_shelf_and_the_keyboard_stays(at_cup: Scene) -> None:
    at_cup.type("cloudberry, ")
    asked = note(at_cup)

    tap(seen(at_cup, FamilyTile)["floral"])
    at_cup.press(Key.Key_Return)

    assert asked.startswith("“cloudberry” is new: fruity?")
    assert at_cup.kit.words().family_of("cloudberry") == "floral"
    assert at_cup.keyboard_is_with(at_cup.screen.card.say)


# -- by finger


def test_a_finger_on_a_ghost_sets_it_right_without_recording_anything(at_cup: Scene) -> None:
    at_cup.type("orchid 3")
    chip = seen(at_cup, Chip)["orchid"]

    tap(chip, chip.width() - 40)
    before_enter = dict(at_cup.words)
    at_cup.press(Key.Key_Return)

    assert before_enter == {}
    assert at_cup.words == {"orchid": 5}


def test_what_lands_elsewhere_stands_in_the_row_and_is_set_right_there(at_cup: Scene) -> None:
    at_cup.type("silky, the liquor is amber")
    row = (set(seen(at_cup, SaidChip)), set(seen(at_cup, PartPill)))
    chip = seen(at_cup, SaidChip)["Surface"]

    tap(chip, chip.width() - 110)
    at_cup.press(Key.Key_Return)

    assert row == ({"Surface"}, {"liquor amber"})
    assert [(one.step, one.value) for one in at_cup.kit.desk.tasting.readings] == [("first_sip", 1)]
    assert not at_cup.screen.card.row.isVisible()


@opens_a_menu
def test_a_part_in_the_row_is_dropped_by_its_menu_and_taken_up_by_a_press(at_cup: Scene) -> None:
    at_cup.type("the liquor is amber")

    choose(seen(at_cup, PartPill)["liquor amber"], "Leave as words only")
    dropped = told(seen(at_cup, PartPill)["liquor amber"])
    tap(seen(at_cup, PartPill)["liquor amber"])
    again = told(seen(at_cup, PartPill)["liquor amber"])

    assert (dropped, again) == ("liquor amber, words only", "liquor amber, kept with the cup")


def choose(widget: QWidget, words: str) -> None:
    middle = widget.rect().center()
    event = QContextMenuEvent(QContextMenuEvent.Reason.Mouse, middle, widget.mapToGlobal(middle))
    QApplication.sendEvent(widget, event)
    menu = QApplication.activePopupWidget()
    assert isinstance(menu, QMenu)
    next(action for action in menu.actions() if action.text() == words).trigger()
    menu.close()


def test_a_press_on_a_part_in_the_row_chooses_it(at_cup: Scene) -> None:
    at_cup.type("the liquor is amber")

    tap(seen(at_cup, PartPill)["liquor amber"])

    assert chosen(at_cup) == "amber"
    assert "liquor amber, kept with the cup" in note(at_cup)


@opens_a_menu
def test_hovering_over_a_word_tells_what_it_was_understood_as(at_cup: Scene) -> None:
    at_cup.type("a faint orchid")
    field = at_cup.screen.card.say
    x = field.fontMetrics().horizontalAdvance("a faint or")
    place = QPoint(x, field.viewport().height() // 2)

    QApplication.sendEvent(field.viewport(), QHelpEvent(QEvent.Type.ToolTip, place, field.mapToGlobal(place)))

    assert "“faint” → strength 1" in QToolTip.text()
    QToolTip.hideText()


# -- numbers


def test_alt_s_sets_the_field_a_number_was_said_for_and_a_press_does_too(at_cup: Scene) -> None:
    at_cup.type("88 degrees, 6 grams")
    offers = {one for one in seen(at_cup, QuietButton) if one.startswith("Set ")}

    at_cup.press(Key.Key_S, ALT)
    tap(seen(at_cup, QuietButton)["Set leaf 6 g"])

    assert offers == {"Set water 88 °C", "Set leaf 6 g"}
    assert at_cup.kit.desk.tasting.infusion(1).water_c == 88  # type: ignore[union-attr]
    assert at_cup.kit.desk.tasting.session.leaf_g == 6
    assert at_cup.screen.card.say.text() == "88 degrees, 6 grams"


def test_ignoring_a_number_changes_nothing(at_cup: Scene) -> None:
    before = at_cup.kit.desk.tasting.infusion(1), at_cup.kit.desk.tasting.session

    at_cup.say("88 degrees, forty seconds, 6 grams")

    assert (at_cup.kit.desk.tasting.infusion(1), at_cup.kit.desk.tasting.session) == before


def test_plus_and_minus_at_the_water_are_about_the_water(at_cup: Scene) -> None:
    steppers = [one for one in at_cup.screen.timer.findChildren(Stepper) if one.isVisible()]
    water = next(one for one in steppers if "water" in told(one))
    plan = at_cup.timer.plan_value
    water.setFocus()
    before = at_cup.timer.water

    at_cup.press(Key.Key_Minus)

    assert at_cup.timer.plan_value == plan
    assert at_cup.timer.water != before


# -- what was said here


def test_alt_h_lays_out_what_was_said_here_and_puts_it_away(at_cup: Scene) -> None:
    at_cup.say("maybe a faint orchid, no smoke")
    here = at_cup.screen.findChild(SaidHere)
    assert here is not None

    at_cup.press(Key.Key_H, ALT)
    lines = [one.property("text") for one in here.findChildren(QWidget) if one.property("text")]
    is_open = here.isVisible()
    at_cup.press(Key.Key_H, ALT)

    assert any("“maybe a faint orchid, no smoke”" in line and "orchid 1, no smoke" in line for line in lines)
    assert is_open
    assert not here.isVisible()


def test_nothing_is_laid_out_where_nothing_was_said(at_cup: Scene) -> None:
    at_cup.press(Key.Key_H, ALT)

    assert not at_cup.screen.card.here.isVisible()


# -- for those who hear the screen; long passages; looks


def test_a_screen_reader_is_told_all_that_was_understood(at_cup: Scene) -> None:
    at_cup.type("maybe orchid 2, silky")

    described = told(at_cup.screen.card.say, QAccessible.Text.Description)

    assert "orchid 2, doubtful" in described
    assert "Surface 5 (silky), kept at First sip" in described


def test_a_long_passage_is_understood_once_its_typing_pauses_and_no_letter_waits(at_cup: Scene, qtbot: QtBot) -> None:
    passage = "the orchid has faded a little and there is more white peach now, silky, no smoke at all, " * 8
    assert len(passage) > LONG_SIGNS
    at_cup.screen.card.say.insertPlainText(passage)
    at_once = len(at_cup.screen.card.say.marks)

    qtbot.waitUntil(lambda: len(at_cup.screen.card.say.marks) > 20, timeout=2000)

    assert at_once == 0
    assert at_cup.bench.typed == passage


def test_a_long_passage_is_taken_whole_however_quick_enter_is(at_cup: Scene) -> None:
    passage = "the orchid has faded a little and there is more white peach now, silky, no smoke at all, " * 8
    at_cup.screen.card.say.insertPlainText(passage)

    at_cup.press(Key.Key_Return)

    assert [one.text for one in at_cup.kit.desk.tasting.sayings] == [passage.strip()]
    assert {"orchid", "white peach", "smoke"} <= at_cup.words.keys()


def test_every_kind_of_mark_has_a_line_of_its_own_shape_or_place() -> None:
    kinds: tuple[MarkKind, ...] = MarkKind.__args__  # type: ignore[attr-defined]

    assert set(LINES) == set(kinds)
    assert len({LINES[kind] for kind in ("sure", "doubtful", "absent", "new", "number", "dropped")}) == 6


@pytest.mark.parametrize("theme", ["paper", "lamp", "daylight"])
def test_ghosts_look_otherwise_than_what_is_recorded(at_cup: Scene, themes: Themes, theme: str) -> None:
    themes.use(theme)  # type: ignore[arg-type]
    at_cup.type("orchid 3")
    chip = seen(at_cup, Chip)["orchid"]
    ghost = chip.grab().toImage()

    at_cup.press(Key.Key_Return)
    QTest.qWait(1)

    assert seen(at_cup, Chip)["orchid"].grab().toImage() != ghost
