"""A steep that runs is seen and poured wherever the taster is: on the Shelf, while finding, under a sheet."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

from tastebook.domain.lot import Lot
from tastebook.domain.session import Infusion, Session
from tastebook.services.shelf import Opening
from tastebook.ui.steep_bar import SteepBar
from tastebook.ui.widgets.buttons import ActionButton, QuietButton
from tastebook.ui.widgets.find_field import FindField
from tastebook.wiring.program import Program
from tastebook.wiring.tour import Hands
from tests.journeys.conftest import CONTROL, Table
from tests.ui.bench.scene import paints_during

SPACE = Qt.Key.Key_Space


def begin(table: Table, name: str = "Heron Ridge") -> Session:
    lot = table.built.shelf.add(Lot("", name, table.clock.utc_now(), kind="oolong"))
    session = table.built.shelf.begin(lot, Opening(leaf_g=6.0))
    table.program.open_bench(session.uid)
    table.hands.settle()
    return session


def in_water(table: Table) -> Session:
    """Put water on and go away, to look another tea up."""
    session = begin(table)
    table.pedal()
    table.program.show_shelf()
    table.hands.settle()
    return session


def bar(table: Table) -> SteepBar:
    return table.program.steeps.bar


def cup(table: Table, session: Session) -> Infusion:
    one = table.built.journal.tasting(session.uid).infusion(0)
    assert one is not None
    return one


def after(table: Table, seconds: float) -> None:
    table.clock.advance(seconds)
    table.program.steeps.look()
    table.hands.settle()


def on_the_rows(table: Table) -> None:
    table.program.shelf.pane.rows.setFocus()


def on_a_button(table: Table) -> None:
    table.find(QuietButton, "New lot").setFocus()


def in_the_empty_find_field(table: Table) -> None:
    table.program.find()


def on_a_lots_page(table: Table) -> None:
    table.program.shelf.open_lot(table.built.journal.lots()[0].uid)


def over_help(table: Table) -> None:
    table.program.show_keys()


def over_the_words(table: Table) -> None:
    table.program.show_words()


def over_the_settings(table: Table) -> None:
    table.program.show_settings()


PLACES = [
    on_the_rows,
    on_a_button,
    in_the_empty_find_field,
    on_a_lots_page,
    over_help,
    over_the_words,
    over_the_settings,
]


@pytest.mark.parametrize("go", PLACES)
def test_wherever_one_is_the_time_left_is_seen_and_space_pours(table: Table, go: Callable[[Table], None]) -> None:
    session = in_water(table)
    go(table)
    after(table, 2)

    view = bar(table).view
    assert bar(table).isVisible()
    assert view is not None
    assert view.digits == f"0:{cup(table, session).planned_s - 2:02d}"
    table.hands.press(SPACE)

    assert cup(table, session).actual_ms == 2000
    assert bar(table).view is not None
    assert bar(table).view.phase == "poured"


def test_one_touch_pours(table: Table) -> None:
    session = in_water(table)
    after(table, 4)

    table.hands.tap(table.find(ActionButton, "Pour"))

    assert cup(table, session).actual_ms == 4000


def test_the_rows_of_the_shelf_are_drawn_with_the_cup_that_was_poured_below_them(table: Table) -> None:
    session = begin(table)
    table.steep(5)
    table.pedal()
    table.pedal()
    table.program.show_shelf()
    after(table, 4)
    rows = table.program.shelf.pane.rows

    painted = paints_during(rows.viewport(), lambda: table.hands.press(SPACE))

    assert "1 infusion" in table.program.shelf._presenter.row(session.lot_uid).owed
    assert painted


def test_space_types_in_a_field_with_words_and_ctrl_space_pours_there(table: Table) -> None:
    session = in_water(table)
    table.program.find()
    table.hands.write("white")
    table.hands.press(SPACE)
    table.hands.write("peach")

    field = table.find(FindField)
    assert field.text() == "white peach"
    assert not cup(table, session).is_poured
    after(table, 3)
    assert bar(table).view is not None
    assert bar(table).view.key == "Ctrl Space"
    table.hands.press(SPACE, CONTROL)

    assert cup(table, session).actual_ms == 3000
    assert field.text() == "white peach"


def test_space_types_in_an_empty_field_of_a_form(table: Table) -> None:
    session = in_water(table)
    table.program.shelf.new_lot()
    table.hands.settle()

    after(table, 0)
    assert bar(table).view is not None
    assert bar(table).view.key == "Ctrl Space"
    table.hands.press(SPACE)

    assert not cup(table, session).is_poured


def test_page_down_goes_on_through_the_rows_and_pours_only_at_the_bench(table: Table) -> None:
    session = in_water(table)

    table.hands.press(Qt.Key.Key_PageDown)
    assert not cup(table, session).is_poured
    table.program.open_bench(session.uid)
    table.clock.advance(1)
    table.hands.press(Qt.Key.Key_PageDown)

    assert cup(table, session).is_poured


def test_a_finger_that_presses_twice_presses_nothing_below(table: Table) -> None:
    session = in_water(table)
    on_a_button(table)
    screen = table.program.window.screen_now
    after(table, 3)

    table.hands.press(SPACE)
    table.hands.press(SPACE)

    assert cup(table, session).is_poured
    assert table.program.window.screen_now is screen
    assert table.program.shelf.form.isHidden()


def test_nothing_covers_it_and_it_covers_nothing(table: Table) -> None:
    in_water(table)
    for go in PLACES:
        go(table)
        after(table, 0)
        whole = bar(table).rect().translated(bar(table).mapTo(table.program.window, bar(table).rect().topLeft()))
        shown = table.program.window.screen_now
        below = shown.rect().translated(shown.mapTo(table.program.window, shown.rect().topLeft()))
        assert not whole.intersects(below)
        assert table.program.window.childAt(whole.center()) in (bar(table), *bar(table).findChildren(QWidget))


def test_at_the_bench_the_timer_is_enough(table: Table) -> None:
    session = in_water(table)
    assert bar(table).isVisible()

    table.hands.tap(table.find(QuietButton, "To the Bench"))

    assert table.program.window.screen_now is table.bench
    assert table.presenter.desk.scope == session.uid
    assert not bar(table).isVisible()


def test_the_bench_goes_on_from_a_pour_that_was_pressed_elsewhere(table: Table) -> None:
    session = in_water(table)
    after(table, 5)
    table.hands.press(SPACE)
    table.program.open_bench(session.uid)

    assert table.presenter.timer().phase == "poured"
    assert table.presenter.column == "0"


def test_a_pour_pressed_by_mistake_is_taken_back_and_the_steep_has_gone_on(table: Table) -> None:
    session = in_water(table)
    after(table, 5)
    table.hands.press(SPACE)
    after(table, 2)

    table.hands.tap(table.find(QuietButton, "It steeps still"))

    assert not cup(table, session).is_poured
    assert bar(table).view is not None
    assert "7 s in water" in bar(table).view.about


def test_what_was_poured_is_told_for_a_while_and_then_the_bar_goes(table: Table) -> None:
    in_water(table)
    table.hands.press(SPACE)
    after(table, 5)
    assert bar(table).isVisible()

    after(table, 20)

    assert not bar(table).isVisible()


def test_a_steep_of_one_tea_stays_in_sight_at_the_bench_of_another(table: Table) -> None:
    first = in_water(table)
    second = begin(table, "Quiet Ferry")
    after(table, 0)

    assert bar(table).isVisible()
    assert bar(table).view is not None
    assert (bar(table).view.session_uid, bar(table).view.key) == (first.uid, "")
    table.pedal()
    assert cup(table, second).is_steeping
    assert cup(table, first).is_steeping
    after(table, 3)
    table.hands.tap(bar(table).findChild(ActionButton))

    assert cup(table, first).is_poured
    assert cup(table, second).is_steeping


def test_a_steep_whose_bench_is_gone_is_still_called(table: Table, monkeypatch: pytest.MonkeyPatch) -> None:
    first = in_water(table)
    begin(table, "Quiet Ferry")
    heard: list[str] = []
    monkeypatch.setattr(table.program.caller, "announce", lambda call: heard.append(call.what))
    table.program.steeps.look()

    after(table, cup(table, first).planned_s + 1)

    assert heard == ["plan"]


def test_one_that_runs_absurdly_long_is_answered_for_at_its_bench(table: Table) -> None:
    session = in_water(table)
    after(table, 4000)

    table.hands.tap(bar(table).findChild(ActionButton))

    assert not cup(table, session).is_poured
    assert table.program.window.screen_now is table.bench
    assert table.presenter.timer().question


def test_started_again_a_steep_that_runs_is_gone_to(table: Table) -> None:
    session = in_water(table)

    table.program._resume()

    assert table.program.window.screen_now is table.bench
    assert table.presenter.desk.scope == session.uid


# -- over the Bench


@pytest.mark.parametrize("go", [over_help, over_the_words, over_the_settings])
def test_over_a_sheet_at_the_bench_space_pours_what_runs_but_begins_nothing(
    table: Table, go: Callable[[Table], None]
) -> None:
    session = begin(table)
    go(table)
    table.find(QuietButton, "Close").setFocus()
    assert table.bench.timer.view is not None
    assert table.bench.timer.view.key == "Ctrl Space"
    table.hands.press(SPACE)  # closes the sheet: it is what the focused button does
    assert table.built.journal.tasting(session.uid).steeping is None
    go(table)
    table.pedal()
    assert table.bench.timer.view.key == "Space"
    table.clock.advance(3)

    table.find(QuietButton, "Close").setFocus()
    table.hands.press(SPACE)

    assert cup(table, session).actual_ms == 3000
    assert table.bench.timer.view.key == "Ctrl Space"
    table.hands.press(Qt.Key.Key_Escape)
    assert table.bench.timer.view.key == "Space"


def test_over_a_sheet_plain_keys_of_the_bench_do_nothing_to_the_water(table: Table) -> None:
    begin(table)
    before = table.presenter.timer().water, table.presenter.timer().plan_value
    table.program.show_words()
    table.find(QuietButton, "Close").setFocus()

    for key in (Qt.Key.Key_BracketLeft, Qt.Key.Key_Minus, Qt.Key.Key_Plus):
        table.hands.press(key)

    assert (table.presenter.timer().water, table.presenter.timer().plan_value) == before


def test_from_the_timer_alone_a_sheet_has_room_and_the_timer_stays(table: Table) -> None:
    begin(table)
    table.hands.press(Qt.Key.Key_F11)
    table.hands.press(Qt.Key.Key_F1)

    sheet = table.program._help_sheet()
    assert sheet.isVisible()
    assert sheet.width() > 400
    assert not sheet.geometry().intersects(table.bench.timer.geometry())


# -- started again


def test_started_again_in_a_steep_at_a_low_window_enter_sets_nothing_and_space_pours(table: Table) -> None:
    session = begin(table)
    table.steep(5)
    table.pedal()
    table.steep(20)
    table.pedal()
    table.pedal()
    assert table.presenter.desk.tasting.steeping is not None
    table.program.window.resize(1280, 720)
    again = Program(table.built, table.program._themes)
    again.window.resize(1280, 720)
    again.start()
    again.window.resize(1280, 720)
    again.window.activateWindow()
    table.hands.settle()
    assert again.bench is not None
    again.bench.presenter.choose_step("liquor")
    again.bench.refresh()
    again.bench.take_keyboard()

    hands = Hands(again.window)
    table.clock.advance(1)
    hands.press(Qt.Key.Key_Return)
    kept = table.built.journal.tasting(session.uid)
    assert [one.liquor for one in kept.infusions] == [None] * len(kept.infusions)
    assert QApplication.focusWidget() is again.bench.card.say
    hands.press(SPACE)

    assert table.built.journal.tasting(session.uid).steeping is None
    again.window.close()
    hands.settle()
