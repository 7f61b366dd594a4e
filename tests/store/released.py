"""Makes the journal that stands for a release: `python -m tests.store.released tests/data/journal-0004.tastebook`.

It is run when a revision of the tables is added, and never again for that revision once it is released.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

from tastebook.domain.lot import ProcessingStep, Roast
from tastebook.domain.session import Conditions, KettleReading, OwnDescriptor, Photo, Reading, Saying, StepMark, Verdict
from tastebook.domain.steep import Instant
from tastebook.store.journal import SqliteJournal, open_journal
from tests.fakes import FakeClock
from tests.store.building import CUP, act, impression, infusion, later, lot, opposite, session


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
    _keep_photograph(journal)
    _keep_words(journal, own)
    journal.close()


def _keep_photograph(journal: SqliteJournal) -> None:
    """Keep a photograph and its picture: since revision 0002."""
    photo = Photo(
        "photo-1", "session-1", "flavour", 1, journal.keep_picture(CUP), "image/png", later(90), "北 window",
        white_at=(0.25, 0.5), liquor_at=(0.5, 0.5), spread_e00=1.25,
    )  # fmt: skip
    journal.commit(act("act-8", (None, photo), label="a photograph"))


def _keep_words(journal: SqliteJournal, nori: OwnDescriptor) -> None:
    """Keep words of one's own in every form: since revision 0002."""
    renamed = replace(
        nori, name="toasted seaweed", key="nori", synonyms=("nori", "sea; weed"), zh="海苔", pinyin="hǎi tái",
        about="Sheets held over a flame.\nSalty.",
    )  # fmt: skip
    moved = OwnDescriptor("own-2", "orchid", "fruity", later(100), key="orchid")
    taken_in = OwnDescriptor("own-3", "sea lettuce", "vegetal", later(101), merged_into="nori")
    talk = OwnDescriptor("own-4", "by the way", "", later(102), is_talk=True)
    scope = {"scope": "vocabulary"}
    journal.commit(act("act-9", (nori, renamed), label="“nori” is now “toasted seaweed”", **scope))
    journal.commit(act("act-10", (None, moved), (None, taken_in), (None, talk), label="words of one’s own", **scope))


if __name__ == "__main__":
    make(Path(sys.argv[1]))
