"""How long a session PDF takes and how large it is: `python benchmarks/page.py`."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).parents[1]))

from tastebook.press.session_pdf import PAPERS, set_session_page
from tests.press import sample

ROOT = Path(__file__).parents[1]
REPEATS = 7
LIMIT_KB = 400

_COLD = """
import time
from tests.press import sample
tasting = sample.tasting()
begun = time.perf_counter()
from tastebook.press.session_pdf import set_session_page
set_session_page(sample.page(tasting))
print(time.perf_counter() - begun)
"""


def main() -> None:
    sessions = {"8 infusions": sample.tasting(), "20 infusions": sample.long_session(20), "empty": sample.empty()}
    print(f"{'session':<14}{'paper':<11}{'page ms':>9}{'PDF ms':>9}{'kB':>7}")
    for name, tasting in sessions.items():
        for paper in PAPERS:
            page_ms, pdf_ms, size_kb = measured(tasting, paper)
            print(f"{name:<14}{paper:<11}{page_ms:>9.1f}{pdf_ms:>9.0f}{size_kb:>7.0f}")
    print(f"first PDF of a fresh process, imports included: {cold_ms():.0f} ms")
    print(f"goal: at most {LIMIT_KB} kB for eight infusions")


def measured(tasting: object, paper: str) -> tuple[float, float, float]:
    """Return the median time to work a page out, to set it (each time slightly changed), and its size."""
    page_ms, pdf_ms, size_kb = [], [], 0.0
    for number in range(REPEATS):
        begun = time.perf_counter()
        page = sample.page(tasting)  # type: ignore[arg-type]
        worked_out = time.perf_counter()
        # typst remembers what it has set before; another headline each time makes it work.
        pdf = set_session_page(sample.changed(page, number), paper)  # type: ignore[arg-type]
        page_ms.append((worked_out - begun) * 1000)
        pdf_ms.append((time.perf_counter() - worked_out) * 1000)
        size_kb = len(pdf) / 1000
    return median(page_ms), median(pdf_ms), size_kb


def cold_ms() -> float:
    done = subprocess.run([sys.executable, "-c", _COLD], cwd=ROOT, capture_output=True, text=True, check=True)
    return float(done.stdout) * 1000


if __name__ == "__main__":
    main()
