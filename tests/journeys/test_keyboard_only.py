"""One whole tasting by keyboard alone: lot, eight infusions, every step, one missed, one undone, one too long; page."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

from pypdf import PdfReader
from PySide6.QtCore import Qt

from tastebook.domain.session import Verdict
from tastebook.ui.widgets.scale_slider import ScaleSlider
from tastebook.ui.widgets.segmented_choice import Segment
from tests.journeys.conftest import ALT, CONTROL, Table

FLAVOURS = (
    "toasted rice 3, almond skin 3, nectar 2, fresh cream 3, orchid 1",
    "toasted rice 3, almond skin 2, nectar 3, fresh cream 4, orchid 3",
    "cedar bark 3, toasted rice 2, nectar 2, fresh cream 4, white peach 3, orchid 4, no rose",
    "toasted rice 1, nectar 3, fresh cream 3, white peach 4, orchid 5",
    "nectar 3, fresh cream 2, white peach 4, orchid 4, wet slate 1",
    "nectar 4, white peach 2, orchid 3, wet slate 2, pea shoot 1",
    "nectar 3, orchid 2, wet slate 3, pea shoot 2",
    "nectar 2, wet slate 3, orchid 1, pea shoot 2",
)
STEEPS_S = (20, 28, 36, 49, 55, 72, 100, 150)


def test_a_whole_tasting_by_keyboard(table: Table) -> None:
    hands = table.hands

    add_a_lot(table)
    begin(table)
    look_at_the_leaf(table)
    table.steep(5.2)
    smell_lid_and_leaf(table)
    for index, (words, steep_s) in enumerate(zip(FLAVOURS, STEEPS_S, strict=True), start=1):
        taste(table, index, words, steep_s)
    close(table)
    hands.press(Qt.Key.Key_P, CONTROL)

    kept = table.kept
    assert [round((one.actual_ms or 0) / 1000, 3) for one in kept.infusions] == [5.2, *map(float, STEEPS_S)]
    assert not kept.session.is_open
    assert kept.verdict == Verdict(
        kept.verdict.uid if kept.verdict else "", kept.session.uid, "buy", headline="Buy four kilos."
    )
    check_states(table)
    check_page(table)


def add_a_lot(table: Table) -> None:
    hands = table.hands
    hands.press(Qt.Key.Key_N, CONTROL)
    hands.write("Heron Ridge, spring roast")
    hands.press(Qt.Key.Key_Return, CONTROL)

    assert [lot.name for lot in table.built.journal.lots()] == ["Heron Ridge, spring roast"]


def begin(table: Table) -> None:
    """From the lot's page: Enter tastes it, Enter begins."""
    table.hands.press(Qt.Key.Key_Return)
    table.hands.press(Qt.Key.Key_Return)

    assert table.program.window.screen_now is table.program.bench
    assert table.presenter.column == "leaf"


def look_at_the_leaf(table: Table) -> None:
    """The dry leaf is looked at; the warmed leaf is forgotten."""
    table.hands.say("toasted rice 4, almond skin 3")

    assert {one.step for one in table.kept.impressions} == {"dry_leaf"}


def smell_lid_and_leaf(table: Table) -> None:
    table.hands.say("toasted rice 3, fresh cream 2")
    table.step(2)
    table.hands.say("roasted chestnut 3")

    assert {one.step for one in table.kept.impressions if one.infusion == 0} == {"lid", "wet_leaf"}


def taste(table: Table, index: int, words: str, steep_s: float) -> None:
    """Pour, look, sip, name, smell the empty cup."""
    table.pedal()
    table.steep(steep_s)
    assert table.presenter.column == str(index)
    look_at_the_liquor(table, index)
    sip(table)
    table.step(3)
    table.hands.say(words)
    table.step(4)
    table.hands.say("nectar 2")
    if index == 3:
        take_a_word_back(table)


def look_at_the_liquor(table: Table, index: int) -> None:
    table.chart().take_focus()
    for _ in range(min(index, 4)):
        table.hands.press(Qt.Key.Key_Right)
    table.hands.press(Qt.Key.Key_Return)
    table.bench.take_keyboard()
    table.hands.say("clear")

    cup = table.kept.infusion(index)
    assert cup is not None
    assert cup.liquor is not None
    assert cup.clarity == "clear"


def sip(table: Table) -> None:
    table.step(2)
    table.bench.take_keyboard()
    table.hands.press(Qt.Key.Key_Tab)
    for _ in range(len(table.program.window.findChildren(ScaleSlider))):
        table.hands.press(Qt.Key.Key_3)
        table.hands.press(Qt.Key.Key_Tab)
        if not isinstance(table.program.window.focusWidget(), ScaleSlider):
            break
    table.bench.take_keyboard()


def take_a_word_back(table: Table) -> None:
    before = table.kept.impressions

    table.hands.say("mistake 5")
    table.hands.press(Qt.Key.Key_Z, CONTROL)

    assert table.kept.impressions == before


def close(table: Table) -> None:
    """Go on to the end of the strip; say, decide, and finish with Ctrl Enter."""
    hands = table.hands
    while table.presenter.column != "close":
        hands.press(Qt.Key.Key_Right, ALT)
    for place, words in ((1, "orchid 2"), (2, "spinach 1"), (3, "warm in the chest")):
        table.step(place)
        hands.say(words)
    hands.press(Qt.Key.Key_Return, CONTROL)
    hands.write("Buy four kilos.")
    table.find(Segment, "Buy").setFocus()
    hands.press(Qt.Key.Key_Return)
    hands.press(Qt.Key.Key_Return, CONTROL)


def check_states(table: Table) -> None:
    """The warmed leaf was missed; whatever was said was said in time; every cup was sipped."""
    kept, presenter = table.kept, table.presenter
    presenter.go_to("leaf")

    assert [tab.state for tab in presenter.card().tabs] == ["now", "missed"]
    assert not any(one.late for one in (*kept.impressions, *kept.readings))
    assert {one.infusion for one in kept.readings} >= set(range(1, 9))


def check_page(table: Table) -> None:
    (path,) = table.folder.glob("Heron Ridge*.pdf")
    reader = PdfReader(BytesIO(Path(path).read_bytes()))
    text = " ".join(" ".join(page.extract_text().split()) for page in reader.pages)

    for words in ("Heron Ridge, spring roast", "Buy four kilos.", "white peach", "no rose", "wet slate", "missed"):
        assert words in text
    assert "mistake" not in text
    assert path.stat().st_size <= 400_000
