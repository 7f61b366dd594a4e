"""Makes the journal that stands for a release: `python -m tests.store.released tests/data/journal-0001.tastebook`.

It is run once when a revision of the tables is released, and never again for that revision.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

from tastebook.domain.lot import ProcessingStep, Roast
from tastebook.domain.session import Conditions, KettleReading, OwnDescriptor, Reading, Saying, StepMark, Verdict
from tastebook.domain.steep import Instant
from tastebook.store.journal import open_journal
from tests.fakes import FakeClock
from tests.store.building import act, impression, infusion, later, lot, opposite, session


def make(path: Path) -> None:
    """Make a small journal with every kind of record, an undo, and words in three scripts."""
    clock = FakeClock()
    journal = open_journal(path, clock)
    ferry = lot(
        name="Quiet Ferry", kind="green", cultivar="Yabukita", harvest_year=2026, season="first flush",
        harvested_on=date(2026, 4, 2), processing=(ProcessingStep("steaming", 0.01), ProcessingStep("rolling")),
        roast=Roast("light", 0.5, date(2026, 4, 5), "electric"), price_per_kg=Decimal("148.50"), currency="EUR",
    )  # fmt: skip
    tasting = session(conditions=Conditions("harbour room", "north window", "", "rain", "rested"))
    journal.commit(act("act-1", (None, ferry), (None, tasting), label="begin"))
    started = infusion(1, started=clock.now(), water_c=70.0, water_measured=True)
    journal.commit(act("act-2", (None, infusion(0, actual_ms=5_000)), (None, started), label="water on"))
    clock.advance(21.34)
    poured = replace(started, poured=clock.now(), actual_ms=21_340, liquor=(88.5, -4.25, 31.0), liquor_source="chart")
    journal.commit(act("act-3", (started, replace(poured, clarity="clear")), label="pour"))
    said = Saying("saying-1", "session-1", "flavour", 1, "toasted rice 2, 海苔", later(60))
    heard = [
        impression("impression-1", descriptor="toasted rice", word="toasted rice", intensity=2, saying_uid=said.uid),
        impression("impression-2", descriptor="nori", word="海苔", recorded_at_utc=later(60), saying_uid=said.uid),
    ]
    own = OwnDescriptor("own-1", "nori", "marine", later(60))
    journal.commit(act("act-4", *((None, one) for one in (own, said, *heard)), label="toasted rice 2, 海苔"))
    umami = Reading("reading-1", "session-1", "first sip", 1, "umami", 4.0, later(70))
    slip = act("act-5", (None, umami), label="umami 4")
    journal.commit(slip)
    journal.commit(opposite("act-6", slip))
    mark = StepMark("mark-1", "session-1", "dry leaf", None, "skipped", later(80))
    kettle = KettleReading("kettle-1", "session-1", Instant(later(85), 85.0, "boot"), 96.5, boiled=True)
    verdict = Verdict("verdict-1", "session-1", "buy", quantity_kg=2.5, headline="Rice, then the sea", good_infusions=3)
    journal.commit(act("act-7", (None, mark), (None, kettle), (None, verdict), label="verdict", scope="lot-1"))
    journal.close()


if __name__ == "__main__":
    make(Path(sys.argv[1]))
