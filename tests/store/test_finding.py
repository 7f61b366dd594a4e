"""What the index finds is what a look at every record finds, whatever was kept, amended, undone and typed."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tastebook.domain.act import Act, Change
from tastebook.domain.finding import Found
from tastebook.domain.finding_reader import read_query
from tastebook.domain.lot import Lot, Roast
from tastebook.domain.session import Conditions, Impression, Infusion, Record, Saying, Session, StepMark, Verdict
from tastebook.services.ports import Journal
from tastebook.store.checking import check
from tastebook.store.journal import SqliteJournal, open_journal
from tests.fakes import MORNING_UTC, FakeClock, FakeJournal
from tests.shelf_scene import COURSES
from tests.words import real_vocabulary

TODAY = date(2026, 11, 25)
DESCRIPTORS = ("peach", "white-peach", "orchid", "rose", "cedar", "smoke", "caramel", "honey", "unknown-word", "A b·c")
STEPS = ("flavour", "lid", "liquor", "finish", "dry_leaf", "wet_leaf", "no such step")
TEXTS = (
    "rain on wet cedar", "peach all over, then orchid", "焦糖 and 蜜", "Lóngjǐng, chestnut", "the finish is long", "",
    "no rose at all", "honey, honey", "Damp. Rest it until May", "smoky", "it's cream·y", "peaches in syrup",
)  # fmt: skip
QUERIES = (
    "peach", "peach ≥ 3", "peach >= 3 infusion 2", "no rose", "smoke <= 1", "floral ≥ 4", "floral <= 2",
    "floral", "cedar rain", '"rain on wet"', "longjing", "焦", "焦糖", "jin xuan", "jinxuan declined", "resting",
    "rest until may", "since 2024", "2023", "last year peach", "declined 2024", "amber liquor",
    "liquor pale straw", "amber liquor peach", "turbid liquor", "lid", "peach on the lid", "clouded",
    "peach clouded", "lid doubtful", "honey", "hon", "open session", "finished honey", "at origin",
    "cultivar jin", "cultivar qing peach", "supplier hill", "spring 2024", "spring 2024 honey", "infusion 1",
    "rinse", "infusions 1-2 orchid cedar", "rain damp", "terrace", "terrace cedar", "heron", "heron peach",
    "the", "", "caramel 2-4", "fruity ≥ 4 orchid", "peach orchid", "long finish", "floral ≥ 3 fruity ≥ 3", "香",
    "蜜", "wood", "Mara", "noted late", "peach noted late on the palate", "before 2024 cedar", "retaste",
    "woody at most 3 amber liquor",
)  # fmt: skip


class _Story:
    """Keeps the same acts in two journals."""

    def __init__(self, seed: int, *journals: Journal) -> None:
        self._rng = random.Random(seed)
        self._journals = journals
        self._records: list[Record] = []
        self._acts: list[Act] = []
        self._count = 0

    def keep(self, *changes: Change) -> None:
        self._count += 1
        act = Act(f"act-{self._count:05d}", "any", "any", MORNING_UTC, changes)
        for journal in self._journals:
            journal.commit(act)
        self._acts.append(act)

    def write(self, sessions: int) -> None:
        for number in range(sessions):
            if number % 2 == 0:
                self._add(self._lot(number))
            self._session(number)
        for _ in range(sessions):
            self._change()

    def _add(self, *records: Record) -> None:
        self._records += records
        self.keep(*(Change(None, one) for one in records))

    def _lot(self, number: int) -> Lot:
        pick = self._rng.choice
        return Lot(
            f"lot-{number:03d}", pick(("Heron Ridge", "Lantern Terrace", "龙井 trial", "Quiet Ferry")),
            MORNING_UTC + timedelta(hours=number), kind=pick(("oolong", "green")),
            cultivar=pick(("Jin Xuan", "Qing Xin", "")),
            cultivar_local=pick(("Jīn Xuān", "Lóngjǐng", "")), region=pick(("a high valley", "Alishan")),
            season=pick(("spring", "autumn", "")), harvest_year=pick((2023, 2024, None)),
            supplier=pick(("quiet hill", "")),
            batch=pick(("HR-25", "HR-26")), roast=Roast(pick(("medium", ""))), notes=pick(TEXTS),
        )  # fmt: skip

    def _session(self, number: int) -> None:
        pick, uid = self._rng.choice, f"session-{number:03d}"
        lots = [one for one in self._records if isinstance(one, Lot)]
        begun = MORNING_UTC - timedelta(days=self._rng.randrange(1500), seconds=number)
        session = Session(
            uid, pick(lots).uid, COURSES[0], begun, pick((-720, 0, 60, 840)),
            pick(("at origin", "on arrival", "retaste", "")),
            pick(("Mara", "")), conditions=Conditions(place=pick(("terrace", ""))),
            closed_at_utc=pick((None, begun + timedelta(hours=1))),
        )  # fmt: skip
        self._add(session)
        for index in range(self._rng.randrange(4)):
            self._add(self._infusion(uid, index))
            said = Saying(f"{uid}-s{index}", uid, pick(STEPS), pick((None, index)), pick(TEXTS), begun)
            self._add(
                said, *(self._impression(f"{uid}-i{index}-{one}", uid, index) for one in range(self._rng.randrange(4)))
            )
        if self._rng.random() < 0.6:
            decision = pick(("buy", "rest until", "decline", ""))
            rest = pick((date(2026, 5, 3), date(2026, 11, 1))) if decision == "rest until" else None
            self._add(Verdict(f"{uid}-v", uid, decision, rest, headline=pick(TEXTS), note=pick(TEXTS)))
        if self._rng.random() < 0.3:
            self._add(StepMark(f"{uid}-m", uid, "flavour", pick((1, 5)), "done", begun))

    def _infusion(self, uid: str, index: int) -> Infusion:
        rng = self._rng
        any_lab = (rng.uniform(20, 95), rng.uniform(-10, 30), rng.uniform(0, 70))
        liquor = rng.choice(((64.0, 12.0, 50.0), (88.0, -2.0, 24.0), any_lab, None))
        clarity, note = rng.choice(("", "turbid", "clear")), rng.choice(TEXTS)
        return Infusion(f"{uid}-{index}", uid, index, 20, liquor=liquor, clarity=clarity, note=note)

    def _impression(self, uid: str, session_uid: str, index: int) -> Impression:
        pick = self._rng.choice
        return Impression(
            uid, session_uid, pick(STEPS), pick((None, index, index)), pick(("palate", "lid", "empty cup", "")),
            pick(DESCRIPTORS),
            "word", self._rng.randrange(6), MORNING_UTC, pick((False, True)), pick((False, True)), pick((False, True)),
        )  # fmt: skip

    def _change(self) -> None:
        """Amend, remove or undo something."""
        rng = self._rng
        what = rng.choice(self._records)
        after: Record | None = None
        if isinstance(what, Lot):
            after = replace(what, name=rng.choice(("Heron Ridge", "Renamed 焦")), notes=rng.choice(TEXTS))
        elif isinstance(what, Session):
            after = replace(what, conditions=Conditions(place=rng.choice(TEXTS)), purpose="retaste")
        elif isinstance(what, Infusion):
            after = replace(what, note=rng.choice(TEXTS), liquor=rng.choice(((64.0, 12.0, 50.0), None)))
        elif isinstance(what, Impression):
            after = rng.choice((None, replace(what, intensity=rng.randrange(6))))
        elif isinstance(what, Saying):
            after = rng.choice((None, replace(what, text=rng.choice(TEXTS))))
        self._records.remove(what)
        if after is not None:
            self._records.append(after)
        self.keep(Change(what, after))
        if rng.random() < 0.3:
            self._records = [one for one in self._records if one is not after]
            self._records.append(what)
            self.keep(Change(after, what))


@pytest.fixture(scope="module", params=range(3))
def both(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[tuple[SqliteJournal, FakeJournal]]:
    path = tmp_path_factory.mktemp("both") / "journal.tastebook"
    journal, scanned = open_journal(path, FakeClock()), FakeJournal()
    second = open_journal(path, FakeClock())
    _Story(request.param, journal, scanned).write(12)
    second.close()
    yield journal, scanned
    journal.close()
    assert check(path) == ()


def _found(journal: Journal, typed: str, limit: int = 1000, offset: int = 0) -> Found:
    return journal.find(read_query(typed, real_vocabulary(), TODAY), limit, offset)


@pytest.mark.parametrize("typed", QUERIES)
def test_search_results_equal_a_brute_force_scan(both: tuple[SqliteJournal, FakeJournal], typed: str) -> None:
    journal, scanned = both

    assert _found(journal, typed) == _found(scanned, typed)


PIECES = st.sampled_from(sorted({piece for query in QUERIES for piece in query.split(" ")} | {"≥ 3", "3+", "no"}))


@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(pieces=st.lists(PIECES, min_size=1, max_size=4), limit=st.integers(1, 9), offset=st.integers(0, 9))
def test_any_combination_is_found_page_by_page(
    both: tuple[SqliteJournal, FakeJournal], pieces: list[str], limit: int, offset: int
) -> None:
    journal, scanned = both
    typed = " ".join(pieces)

    assert _found(journal, typed, limit, offset) == _found(scanned, typed, limit, offset)


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(typed=st.text(st.characters(exclude_categories=["Cs"])))
def test_any_text_can_be_looked_for(both: tuple[SqliteJournal, FakeJournal], typed: str) -> None:
    journal, scanned = both

    assert _found(journal, typed) == _found(scanned, typed)


def test_the_story_finds_something_for_most_queries(both: tuple[SqliteJournal, FakeJournal]) -> None:
    """Equal and empty would prove little."""
    found = [bool(_found(both[1], typed).hits) for typed in QUERIES]

    assert sum(found) > 0.7 * len(QUERIES)


def test_pages_follow_each_other_without_gap_or_repetition(both: tuple[SqliteJournal, FakeJournal]) -> None:
    journal, _ = both
    whole = _found(journal, "honey").hits

    pages = [_found(journal, "honey", 3, offset) for offset in range(0, len(whole), 3)]

    assert tuple(hit for page in pages for hit in page.hits) == whole
    assert [page.has_more for page in pages] == [True] * (len(pages) - 1) + [False]


def test_cups_for_kin_are_those_of_a_scan(both: tuple[SqliteJournal, FakeJournal]) -> None:
    journal, scanned = both

    assert journal.noted_cups() == scanned.noted_cups()
    for session in scanned.sessions():
        assert journal.noted_cups(session.uid) == scanned.noted_cups(session.uid)


def test_what_another_window_keeps_is_found_at_once(tmp_path: Path) -> None:
    path = tmp_path / "journal.tastebook"
    ours, theirs = open_journal(path, FakeClock()), open_journal(path, FakeClock())
    assert _found(ours, "heron").hits == ()

    theirs.commit(
        Act("act-1", "lot-1", "added", MORNING_UTC, (Change(None, Lot("lot-1", "Heron Ridge", MORNING_UTC)),))
    )

    assert [hit.lot.name for hit in _found(ours, "heron").hits] == ["Heron Ridge"]
    ours.close()
    theirs.close()
