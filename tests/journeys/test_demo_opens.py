"""Whatever the demo journal holds can be gone to: each session at its Bench and on its Arc, by the clock of now."""

from __future__ import annotations

import pytest

from tastebook.ui.theme.theme import Themes
from tastebook.wiring.house import Place, fill_with_demo, house
from tastebook.wiring.program import Program
from tastebook.wiring.tour import Hands


@pytest.mark.usefixtures("own_folders")
def test_every_session_of_the_demo_opens_at_the_bench_and_on_the_arc(themes: Themes) -> None:
    with house(Place(is_demo=True)) as built:
        fill_with_demo(built)
        program = Program(built, themes)
        program.start()
        hands = Hands(program.window)
        shown = []
        for session in built.journal.sessions():
            program.open_bench(session.uid)
            hands.settle()
            program.open_arc(session.uid)
            hands.settle()
            shown.append(session.uid)
        program.window.close()
        hands.settle()

    assert len(shown) >= 6
