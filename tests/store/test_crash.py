"""A writer killed at random moments loses no act that it has confirmed. `benchmarks/crash.py` does this 200 times."""

from __future__ import annotations

import random
from pathlib import Path

from tests.store.crashing import kill_once


def test_every_confirmed_act_survives_kills_at_random_moments(path: Path) -> None:
    rng = random.Random(20260418)

    rounds = [kill_once(path, rng) for _ in range(12)]

    assert [one.lost for one in rounds] == [()] * 12
    assert [one.findings for one in rounds] == [()] * 12
    assert all(one.kept >= len(one.reported) for one in rounds)
    assert sum(len(one.reported) for one in rounds) > 100, "the writers were killed before they wrote anything"
