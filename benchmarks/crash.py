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


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=200)
    parser.add_argument("--seed", type=int, default=20260418)
    args = parser.parse_args()
    rng = random.Random(args.seed)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "journal.tastebook"
        begun = time.perf_counter()
        rounds = [kill_once(path, rng) for _ in range(args.kills)]
        took_s = time.perf_counter() - begun
        size_kb = path.stat().st_size / 1000
    return _report(rounds, args.seed, took_s, size_kb)


def _report(rounds: list[Round], seed: int, took_s: float, size_kb: float) -> int:
    reported = sum(len(one.reported) for one in rounds)
    kept = sum(one.kept for one in rounds)
    lost = [uid for one in rounds for uid in one.lost]
    findings = [finding for one in rounds for finding in one.findings]
    print(f"kills              {len(rounds)} (seed {seed}, {took_s:.0f} s, journal {size_kb:.0f} kB)")
    print(f"acts confirmed     {reported}")
    print(f"acts kept          {kept} ({kept - reported} committed, and killed before they were confirmed)")
    print(f"confirmed and lost {len(lost)}  {' '.join(lost[:5])}")
    print(f"damage found       {len(findings)}  {' '.join(findings[:5])}")
    return 1 if lost or findings else 0


if __name__ == "__main__":
    sys.exit(main())
