"""Two windows, and two programs, on one journal: both keep acts, neither overwrites what it has not seen."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tastebook.domain.errors import StaleAct
from tastebook.domain.session import Record
from tastebook.store.checking import check
from tastebook.store.journal import open_journal
from tests.fakes import FakeClock
from tests.store.building import ONE_OF_EACH, act, begun, impression, infusion, lot

ROOT = Path(__file__).parents[2]

COUNT_UP = """
import sys
from dataclasses import replace
from pathlib import Path
from tastebook.domain.errors import StaleAct
from tastebook.store.journal import open_journal
from tests.fakes import FakeClock
from tests.store.building import ONE_OF_EACH, act, impression

path, who, rounds = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
journal = open_journal(path, FakeClock(), busy_ms=20_000)
refused = 0
for number in range(rounds):
    journal.commit(act(f"{who}-{number}", (None, impression(f"{who}-impression-{number}"))))
    while True:
        lot = journal.lot("lot-1")
        try:
            more = replace(lot, harvest_year=lot.harvest_year + 1)
            journal.commit(act(f"{who}-{number}-{refused}-up", (lot, more), scope="lot-1"))
            break
        except StaleAct:
            refused += 1
journal.close()
print(refused)
"""

OPEN_AND_CLOSE = """
import sys
from pathlib import Path
from tastebook.store.journal import open_journal
from tests.fakes import FakeClock
open_journal(Path(sys.argv[1]), FakeClock()).close()
"""


def test_each_window_sees_what_the_other_kept(path: Path, clock: FakeClock) -> None:
    ours, theirs = open_journal(path, clock), open_journal(path, clock)
    before = ours.outside_version()

    theirs.commit(begun())

    assert ours.outside_version() != before
    assert ours.lots() == (lot(),)
    ours.close()
    theirs.close()


def test_the_second_of_two_changes_to_one_record_is_refused_by_name(path: Path, clock: FakeClock) -> None:
    ours, theirs = open_journal(path, clock), open_journal(path, clock)
    ours.commit(begun())
    ours.commit(act("act-2", (None, infusion(3))))
    theirs.commit(act("act-3", (infusion(3), infusion(3, note="theirs"))))

    with pytest.raises(StaleAct, match="Infusion 3 was changed in another window"):
        ours.commit(act("act-4", (infusion(3), infusion(3, note="ours"))))

    assert ours.tasting("session-1").infusions == (infusion(3, note="theirs"),)
    ours.close()
    theirs.close()


NAMES = (
    "Lot “Spring lot”",
    "Session",
    "Infusion 1",
    "Saying “orchid”",
    "Impression “orchid”",
    "Reading “umami”",
    "Step mark of “dry leaf”",
    "Kettle reading",
    "Photograph",
    "Verdict",
    "Own descriptor “rain on dust”",
)


@pytest.mark.parametrize(("record", "name"), list(zip(ONE_OF_EACH, NAMES, strict=True)), ids=NAMES)
def test_a_refusal_names_the_record_as_a_person_would(path: Path, clock: FakeClock, record: Record, name: str) -> None:
    journal = open_journal(path, clock)

    with pytest.raises(StaleAct, match=f"^{name} was changed in another window"):
        journal.commit(act("act-1", (record, None)))

    journal.close()


def test_two_windows_cannot_begin_the_same_infusion(path: Path, clock: FakeClock) -> None:
    ours, theirs = open_journal(path, clock), open_journal(path, clock)
    ours.commit(begun())
    theirs.commit(act("act-2", (None, infusion(1, uid="theirs"))))

    with pytest.raises(StaleAct):
        ours.commit(act("act-3", (None, infusion(1, uid="ours"))))

    ours.close()
    theirs.close()
    assert check(path) == ()


def test_closing_one_window_leaves_the_other_its_journal(path: Path, clock: FakeClock) -> None:
    """A lock of one connection must not be let go by another one's closing in the same program."""
    ours = open_journal(path, clock)
    ours.commit(begun())
    open_journal(path, clock).close()
    subprocess.run([sys.executable, "-c", OPEN_AND_CLOSE, str(path)], cwd=ROOT, check=True)

    ours.commit(act("act-2", (None, impression("impression-1"))))

    ours.close()
    again = open_journal(path, clock)
    assert len(again.tasting("session-1").impressions) == 1
    again.close()
    assert check(path) == ()


def test_three_programs_that_keep_acts_at_once_lose_none(path: Path, clock: FakeClock) -> None:
    rounds = 25
    journal = open_journal(path, clock)
    journal.commit(act("act-1", (None, lot(harvest_year=0)), *((one.before, one.after) for one in begun().changes[1:])))

    programs = [
        subprocess.Popen(
            [sys.executable, "-c", COUNT_UP, str(path), who, str(rounds)], cwd=ROOT, stdout=subprocess.PIPE, text=True
        )
        for who in ("a", "b", "c")
    ]
    refused = [int(program.communicate(timeout=120)[0]) for program in programs]

    assert [program.returncode for program in programs] == [0, 0, 0]
    assert journal.lot("lot-1").harvest_year == 3 * rounds, f"some counted over each other; refused: {refused}"
    assert len(journal.tasting("session-1").impressions) == 3 * rounds
    journal.close()
    assert check(path) == ()


def test_two_programs_may_make_the_journal_at_once(tmp_path: Path) -> None:
    program = """
import sys
from pathlib import Path
from tastebook.store.journal import open_journal
from tests.fakes import FakeClock
from tests.store.building import ONE_OF_EACH, act, lot
sys.stdin.readline()
journal = open_journal(Path(sys.argv[1]), FakeClock(), busy_ms=20_000)
journal.commit(act(sys.argv[2], (None, lot(sys.argv[2]))))
journal.close()
"""
    for number in range(3):
        path = tmp_path / f"{number}.tastebook"
        running = [
            subprocess.Popen(
                [sys.executable, "-c", program, str(path), who], cwd=ROOT, stdin=subprocess.PIPE, text=True
            )
            for who in ("a", "b")
        ]
        for one in running:
            one.stdin.write("go\n")
            one.stdin.flush()
        for one in running:
            one.communicate(timeout=60)

        assert [one.returncode for one in running] == [0, 0]
        journal = open_journal(path, FakeClock())
        assert sorted(one.uid for one in journal.lots()) == ["a", "b"]
        journal.close()
