"""A writer that is killed at a random moment, over and over, and what must be true afterwards.

Run as a program it is the writer: `python -m tests.store.crashing JOURNAL SEED`. It names each act on its standard
output only once the journal has said that it is kept, as the window confirms it to the taster.
"""

from __future__ import annotations

import random
import subprocess
import sys
import time
from dataclasses import dataclass, replace
from pathlib import Path

from tastebook.domain.act import Act, Change
from tastebook.domain.session import Record, Saying, Tasting
from tastebook.store.checking import check
from tastebook.store.journal import open_journal
from tests.fakes import FakeClock
from tests.store.building import act, begun, impression, infusion, later

ROOT = Path(__file__).parents[2]


@dataclass(frozen=True)
class Round:
    """What one life and death of the writer came to."""

    reported: tuple[str, ...]
    kept: int
    findings: tuple[str, ...]
    lost: tuple[str, ...]


def kill_once(path: Path, rng: random.Random, most_s: float = 0.4) -> Round:
    """Let a writer work on the journal at `path`, kill it at a random moment, and look at what is left."""
    before = _uids(path)
    writer = subprocess.Popen(
        [sys.executable, "-m", "tests.store.crashing", str(path), str(rng.randrange(2**32))],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert writer.stdout is not None
    first = writer.stdout.readline()
    time.sleep(rng.uniform(0, most_s))
    writer.kill()
    rest, _ = writer.communicate()
    # A line that the kill cut short was not read by anybody as a confirmation.
    reported = tuple(line.strip() for line in (first + rest).splitlines(keepends=True) if line.endswith("\n"))
    findings = check(path)
    after = _uids(path)
    lost = tuple(uid for uid in (*before, *reported) if uid not in set(after))
    return Round(reported, len(after) - len(before), findings, lost)


def _uids(path: Path) -> list[str]:
    """Return the acts that are kept, reading as the next start of the program would; the first makes the journal."""
    journal = open_journal(path, FakeClock())
    if not journal.lots():
        journal.commit(begun())
    uids = [one.uid for one in journal.acts("session-1")]
    journal.close()
    return uids


def write_for_ever(path: Path, seed: int) -> None:
    """Keep acts of every shape until killed, naming each once it is kept."""
    rng = random.Random(seed)
    journal = open_journal(path, FakeClock())
    tasting = journal.tasting("session-1")
    done: list[Act] = []
    number = 0
    while True:
        number += 1
        uid = f"{seed}-{number}"
        one = _undoing(uid, done.pop()) if done and rng.random() < 0.2 else act(uid, *_any_pairs(rng, uid, tasting))
        journal.commit(one)
        print(uid, flush=True)
        tasting = tasting.after((change.before, change.after) for change in one.changes)
        done = [*done, one] if one.kind == "do" else []


def _undoing(uid: str, of: Act) -> Act:
    changes = tuple(Change(change.after, change.before) for change in reversed(of.changes))
    return Act(uid, of.scope, of.label, of.at_utc, changes, "undo", of.uid)


def _any_pairs(rng: random.Random, uid: str, tasting: Tasting) -> list[tuple[Record | None, Record | None]]:
    what = rng.choice(["say", "pour", "amend", "remove"])
    if what == "pour":
        return [(None, infusion(len(tasting.infusions), uid=f"infusion-{uid}"))]
    if what == "amend" and tasting.infusions:
        last = tasting.infusions[-1]
        return [(last, replace(last, note=uid, actual_ms=rng.randrange(90_000)))]
    if what == "remove" and tasting.impressions:
        return [(rng.choice(tasting.impressions), None)]
    said = Saying(f"saying-{uid}", "session-1", "flavour", 1, "orchid " * rng.randrange(1, 400), later(rng.random()))
    heard = [impression(f"impression-{uid}-{number}", saying_uid=said.uid) for number in range(rng.randrange(8))]
    return [(None, said), *((None, one) for one in heard)]


if __name__ == "__main__":
    write_for_ever(Path(sys.argv[1]), int(sys.argv[2]))
