"""Whatever the Shelf offers for a lot can be done; what cannot be opened is said, and the way back stays."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest

from tastebook.domain.lot import Lot
from tastebook.ui.theme.theme import Themes
from tastebook.wiring.house import House, Place, fill_with_demo, house
from tastebook.wiring.program import Program
from tastebook.wiring.tour import Hands
from tests.fakes import MORNING_UTC, FakeClock
from tests.journeys.conftest import Table


@pytest.fixture
def demo(own_folders: Path) -> Iterator[House]:
    """Return the demo journal, filled as `--demo` does."""
    with house(Place(journal=own_folders / "demo.tastebook", is_demo=True), FakeClock()) as built:
        fill_with_demo(built)
        yield built


def test_every_session_of_the_demo_opens_at_its_bench_and_in_its_arc(demo: House, themes: Themes) -> None:
    program = Program(demo, themes)
    program.start()
    hands = Hands(program.window)
    sessions = [session.uid for line in demo.shelf.lines() for session in line.sessions]

    shown = []
    for uid in sessions:
        program.open_bench(uid)
        hands.settle()
        shown.append(program.bench is not None and program.bench.isVisible())
        program.open_arc(uid)
        hands.settle()
        program.show_shelf()
    program.window.close()
    hands.settle()

    assert len(sessions) >= 6
    assert shown == [True] * len(sessions)


def test_a_session_that_cannot_be_read_is_said_and_the_shelf_stays(table: Table) -> None:
    lot = table.built.shelf.add(Lot("", "Quiet Ferry", MORNING_UTC, kind="green"))
    uid = table.built.shelf.begin(lot, table.built.shelf.opening_for(lot)).uid
    raw = sqlite3.connect(table.folder / "mine.tastebook")
    raw.execute("UPDATE session SET course = '{}'")
    raw.commit()
    raw.close()

    table.program.open_bench(uid)
    table.hands.settle()

    assert table.program.bench is None
    assert table.program.shelf.isVisible()
    assert "This cannot be opened" in table.program.window.news.words
