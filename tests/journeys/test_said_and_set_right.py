"""A dictated passage by keyboard alone: seen, stepped through, set right, recorded, taken back, and found again."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from tastebook.presenters.bench.views import SayView
from tastebook.ui.widgets.hints import FieldNote
from tests.journeys.conftest import ALT, CONTROL, Table

DICTATED = (
    "so the first thing is a faint orchid and then baked apple, no smoke at all, it is silky, on the out-breath honey, "
    "scorched perhaps, cloudberry 2, I had the water at 88 degrees and 6 grams of leaf "
)


def test_a_dictated_passage_is_set_right_by_keyboard_and_recorded_as_one_act(table: Table) -> None:
    begin(table)
    table.hands.write(DICTATED)

    walked = walk(table)
    set_right(table)
    meaning_of_a_fault(table)
    set_two_fields(table)
    table.hands.press(Qt.Key.Key_Return)

    assert walked == [
        "orchid", "baked apple", "smoke", "silky", "honey", "scorched", "cloudberry", "88 degrees", "6 grams",
    ]  # fmt: skip
    check_recorded(table)
    take_back_and_do_again(table)


def begin(table: Table) -> None:
    """Add a lot, begin a session, pass the rinse over, and steep the first infusion to its flavour."""
    hands = table.hands
    hands.press(Qt.Key.Key_N, CONTROL)
    hands.write("Heron Ridge, spring roast")
    hands.press(Qt.Key.Key_Return, CONTROL)
    hands.press(Qt.Key.Key_Return)
    hands.press(Qt.Key.Key_Return)
    hands.press(Qt.Key.Key_N, CONTROL)
    table.steep(20)
    table.step(3)
    assert (table.presenter.column, table.presenter.step.key) == ("1", "flavour")


def said(table: Table) -> SayView:
    """Return the say line as it stands, with everything that was typed understood."""
    return table.presenter.view().card.say


def chosen(table: Table) -> str:
    view = said(table)
    return next((view.typed[mark.begin : mark.end] for mark in view.marks if mark.is_chosen), "")


def walk(table: Table) -> list[str]:
    """Go through every part by Tab, and back to the words by Escape."""
    found = []
    table.hands.press(Qt.Key.Key_Tab)
    while chosen(table):
        found.append(chosen(table))
        table.hands.press(Qt.Key.Key_Tab)
    table.bench.take_keyboard()
    return found


def go_to(table: Table, words: str) -> None:
    """Choose a part by Tab from the words."""
    table.hands.press(Qt.Key.Key_Escape) if chosen(table) else None
    table.bench.take_keyboard()
    for _ in range(20):
        table.hands.press(Qt.Key.Key_Tab)
        if chosen(table) == words:
            return
    raise AssertionError(f"Tab never came to “{words}”")


def set_right(table: Table) -> None:
    """The orchid is stronger than it sounded, the apple was a manner of speaking, the surface is less smooth."""
    go_to(table, "orchid")
    table.hands.press(Qt.Key.Key_4)
    go_to(table, "baked apple")
    table.hands.press(Qt.Key.Key_Backspace)
    go_to(table, "silky")
    table.hands.press(Qt.Key.Key_3)

    assert said(table).typed == DICTATED
    assert table.kept.impressions == ()


def meaning_of_a_fault(table: Table) -> None:
    go_to(table, "scorched")
    table.hands.press(Qt.Key.Key_F1)
    shown = [one.accessibleName() for one in table.bench.findChildren(QWidget) if isinstance(one, FieldNote)]

    assert any("A fault" in words and "burnt" in words for words in shown)
    table.hands.press(Qt.Key.Key_0)


def set_two_fields(table: Table) -> None:
    """The numbers are offered, and set one after the other."""
    assert [offer.words for offer in said(table).offers] == ["water 88 °C, infusion 1", "leaf 6 g, session"]

    table.hands.press(Qt.Key.Key_S, ALT)
    table.hands.press(Qt.Key.Key_S, ALT)

    cup = table.kept.infusion(1)
    assert cup is not None
    assert (cup.water_c, table.kept.session.leaf_g) == (88, 6)


def recorded(table: Table) -> tuple[dict[str, tuple[int, str]], dict[str, float]]:
    impressions = {one.descriptor: (one.intensity, one.channel) for one in table.kept.impressions}
    return impressions, {one.scale: one.value for one in table.kept.readings}


def check_recorded(table: Table) -> None:
    impressions, readings = recorded(table)

    assert {word: strength for word, (strength, _) in impressions.items()} == {
        "orchid": 4, "smoke": 0, "honey": 3, "scorched": 0, "cloudberry": 2,
    }  # fmt: skip
    assert (impressions["orchid"][1], impressions["honey"][1]) == ("palate", "retronasal")
    assert readings == {"surface": 3}
    assert [one.text for one in table.kept.sayings] == [DICTATED.strip()]
    assert table.built.words().family_of("cloudberry") == "fruity"
    (here,) = said(table).here
    assert here.text == DICTATED.strip()
    assert "orchid 4" in here.gave


def take_back_and_do_again(table: Table) -> None:
    after = recorded(table)

    table.hands.press(Qt.Key.Key_Z, CONTROL)
    taken_back = recorded(table), table.built.words().has("cloudberry")
    table.hands.press(Qt.Key.Key_Y, CONTROL)

    assert taken_back == (({}, {}), False)
    assert recorded(table) == after
    assert table.kept.session.leaf_g == 6
