"""A Shelf with a few invented lots, for tests of what stands on it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path

from tastebook.domain.act import Change
from tastebook.domain.lot import Lot, ProcessingStep, Roast
from tastebook.domain.session import Conditions, Infusion, Lab, Session, Verdict
from tastebook.platform.courses import CourseFiles
from tastebook.presenters.finding import FindPresenter
from tastebook.presenters.shelf import ShelfPresenter
from tastebook.services.finding import Finding
from tastebook.services.keeping import Keeping
from tastebook.services.shelf import Shelf
from tests.fakes import FakeClock, FakeIds, FakeJournal
from tests.words import real_vocabulary

COURSES = CourseFiles(Path("no such folder")).all()
AMBER: Lab = (72.0, 14.0, 52.0)
PALE: Lab = (88.0, -2.0, 24.0)


@dataclass
class Scene:
    """A shelf with everything behind it."""

    journal: FakeJournal = field(default_factory=FakeJournal)
    clock: FakeClock = field(default_factory=FakeClock)
    ids: FakeIds = field(default_factory=FakeIds)

    def __post_init__(self) -> None:
        self.keeping = Keeping(self.journal, self.clock, self.ids)
        self.shelf = Shelf(self.keeping, lambda: COURSES)
        self.finding = FindPresenter(Finding(self.journal, real_vocabulary, self.shelf.today), self.shelf.lot)
        self.presenter = ShelfPresenter(self.shelf, self.finding)

    def lot(self, name: str, **fields: object) -> Lot:
        """Keep a lot; each is a minute newer than the one before."""
        self.clock.advance(60)
        return self.shelf.add(replace(Lot("", name, self.clock.utc_now()), **fields))  # type: ignore[arg-type]

    def session(self, lot: Lot, *, cups: int = 0, is_open: bool = False, **fields: object) -> Session:
        """Keep a session with some poured infusions, closed unless it is to be open."""
        self.clock.advance(3600)
        now = self.clock.utc_now()
        begun = self.shelf.begin(lot, self.shelf.opening_for(lot))
        session = replace(begun, closed_at_utc=None if is_open else now, **fields)  # type: ignore[arg-type]
        infusions = [self._infusion(session, index) for index in range(1, cups + 1)]
        changes = [Change(begun, session), *(Change(None, one) for one in infusions)]
        self.keeping.keep(session.uid, "tasted", changes)
        return session

    def verdict(self, session: Session, decision: str, headline: str = "", rest_until: date | None = None) -> None:
        """Keep a verdict."""
        verdict = Verdict(self.ids.new(), session.uid, decision=decision, headline=headline, rest_until=rest_until)
        self.keeping.keep(session.uid, "verdict", [Change(None, verdict)])

    def _infusion(self, session: Session, index: int) -> Infusion:
        return Infusion(
            uid=self.ids.new(),
            session_uid=session.uid,
            index=index,
            planned_s=20 + 5 * index,
            actual_ms=(20 + 5 * index) * 1000 + 400,
            liquor=AMBER if index % 2 else PALE,
            liquor_source="chart",
            clarity="clear",
        )


HERON_RIDGE = {
    "kind": "oolong",
    "cultivar": "Jin Xuan",
    "cultivar_local": "Jīn Xuān",
    "country": "Taiwan",
    "altitude_m": 1100.0,
    "form": "ball",
    "plucking": "three leaves and a bud",
    "processing": (ProcessingStep("withering", 6), ProcessingStep("bruising"), ProcessingStep("ball-rolling", 10)),
    "oxidation_pct": 25.0,
    "supplier": "Heron & Slate",
    "currency": "EUR",
}


def furnished() -> Scene:
    """Return a shelf on which something is owed in every way."""
    scene = Scene()
    first = scene.lot("Heron Ridge", season="spring", harvest_year=2025, batch="HR-25", **HERON_RIDGE)
    then = scene.session(first, cups=6, purpose="on arrival", taster="Ada", leaf_g=6.5)
    scene.verdict(then, "buy", "Buy four kilos, for the autumn list.")
    newer = scene.lot(
        "Heron Ridge",
        season="spring",
        harvest_year=2026,
        batch="HR-26",
        follows=first.uid,
        roast=Roast("medium", 8, date(2026, 4, 2), "charcoal"),
        price_per_kg=Decimal("84.00"),
        quantity_g=500.0,
        notes="Two tins, one opened.",
        **HERON_RIDGE,
    )
    scene.session(newer, cups=3, is_open=True, purpose="at origin", conditions=Conditions(place="factory"))
    scene.lot("Lantern Terrace", kind="oolong", cultivar="Qing Xin", cultivar_local="Qīng Xīn", form="ball")
    scene.lot("Quiet Ferry", kind="green", cultivar="Yabukita", country="Japan", season="first flush")
    ashgrove = scene.lot("Ashgrove", kind="black", cultivar="Assamica", form="bud")
    scene.session(ashgrove, cups=4)
    granary = scene.lot("Old Granary", kind="dark", form="compressed", harvest_year=2016)
    resting = scene.session(granary, cups=5)
    scene.verdict(resting, "rest until", "Damp still. Look again in June.", date(2026, 6, 1))
    put_away = scene.lot("Low Cloud", kind="white", cultivar="Fuding Da Bai")
    scene.shelf.archive(put_away.uid)
    return scene


def many_lots(lots: int, sessions: int) -> Scene:
    """Return a shelf with many lots and sessions, by short cuts: everything in one act each."""
    scene = Scene()
    made = [
        Lot(f"lot-{number:05d}", f"Heron Ridge {number}", datetime(2020, 1, 1, tzinfo=UTC), **HERON_RIDGE)  # type: ignore[arg-type]
        for number in range(lots)
    ]
    scene.keeping.keep("many", "lots", [Change(None, lot) for lot in made])
    per_lot = sessions // lots
    changes: list[Change] = []
    for lot in made:
        for number in range(per_lot):
            begun = datetime(2021, 1, 1 + number, tzinfo=UTC)
            session = Session(f"{lot.uid}-{number}", lot.uid, COURSES[0], begun, closed_at_utc=begun)
            changes.append(Change(None, session))
    scene.keeping.keep("many", "sessions", changes)
    return scene
