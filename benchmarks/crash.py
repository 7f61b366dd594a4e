"""Kill a writer at random moments, many times: `python benchmarks/crash.py [--kills 200] [--seed N]`.

Every act that a writer confirmed must be there afterwards, the file in order, and the next writer able to go on.
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.store.crashing import Round, kill_once

KILLS_A_JOURNAL = 20


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=200)
    parser.add_argument("--seed", type=int, default=20260418)
    args = parser.parse_args()
    rng = random.Random(args.seed)
    with tempfile.TemporaryDirectory() as folder:
        begun = time.perf_counter()
        # A new journal now and then: looking over all acts after each kill would take longer each time.
        journals = [Path(folder) / f"{number // KILLS_A_JOURNAL}.tastebook" for number in range(args.kills)]
        rounds = [kill_once(path, rng) for path in journals]
        took_s = time.perf_counter() - begun
    return _report(rounds, args.seed, took_s)


def _report(rounds: list[Round], seed: int, took_s: float) -> int:
    reported = sum(len(one.reported) for one in rounds)
    kept = sum(one.kept for one in rounds)
    lost = [uid for one in rounds for uid in one.lost]
    findings = [finding for one in rounds for finding in one.findings]
    print(f"kills              {len(rounds)} (seed {seed}, {took_s:.0f} s)")
    print(f"acts confirmed     {reported}")
    print(f"acts kept          {kept} ({kept - reported} committed, and killed before they were confirmed)")
    print(f"confirmed and lost {len(lost)}  {' '.join(lost[:5])}")
    print(f"damage found       {len(findings)}  {' '.join(findings[:5])}")
    return 1 if lost or findings else 0


if __name__ == "__main__":
    sys.exit(main())
