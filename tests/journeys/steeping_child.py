"""Run by test_killed_in_a_steep: the real program with the real clock, in a process that can be killed.

python -m tests.journeys.steeping_child JOURNAL begin    water on, say so, wait to be killed
python -m tests.journeys.steeping_child JOURNAL resume   start again, tell what is on screen, pour, tell what was kept
"""

from __future__ import annotations

import json
import sys
import time
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt, QTimer

from tastebook.domain.lot import Lot
from tastebook.services.shelf import Opening
from tastebook.ui.bench.screen import TYPED_PAUSE_MS
from tastebook.wiring.house import House, Place, house
from tastebook.wiring.program import Program, application
from tastebook.wiring.tour import Hands

BORN_S = time.perf_counter()
DRAFT = "peach, wet sl"
CONTROL = Qt.KeyboardModifier.ControlModifier


def main(journal: str, act: str) -> None:
    with house(Place(journal=Path(journal))) as built:
        app, themes = application()
        program = Program(built, themes)
        program.start()
        program.window.activateWindow()
        hands = Hands(program.window)
        hands.settle()
        if act == "begin":
            begin(built, program, hands)
            QTimer.singleShot(TYPED_PAUSE_MS + 500, lambda: print("{}", flush=True))
            app.exec()
        else:
            resume(program, hands)
            program.window.close()


def begin(built: House, program: Program, hands: Hands) -> None:
    lot = built.shelf.add(Lot("", "Heron Ridge", built.clock.utc_now(), kind="oolong"))
    session = built.shelf.begin(lot, Opening(leaf_g=6.0))
    program.open_bench(session.uid)
    hands.settle()
    hands.say("toasted rice 3")
    hands.press(Qt.Key.Key_Space, CONTROL)
    hands.write(DRAFT)
    tell(program)


def resume(program: Program, hands: Hands) -> None:
    tell(program)
    hands.press(Qt.Key.Key_Space, CONTROL)
    tell(program)


def tell(program: Program) -> None:
    bench = program.bench
    told: dict[str, Any] = {"bench": bench is not None and program.window.screen_now is bench}
    if bench is not None:
        alive_s = time.perf_counter() - BORN_S
        tasting, timer = bench.presenter.desk.tasting, bench.presenter.timer()
        cup = tasting.infusion(0)
        told |= {
            "phase": timer.phase,
            "shown_s": timer.elapsed_s,
            "alive_s": alive_s,
            "actual_ms": cup.actual_ms if cup else None,
            "typed": bench.card.say.text(),
            "step": bench.presenter.step.key,
            "words": [one.word for one in tasting.impressions],
            "news": program.window.news.words,
        }
    print(json.dumps(told), flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
