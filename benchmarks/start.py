"""From starting to a ready window, and what it takes in memory: Tastebook beside a bare PySide6 and pyqtgraph window.

`python benchmarks/start.py [repeats]`. Every start is a process of its own, from its first instruction to its end right
after the window was drawn; the three take turns, so that a machine which grows busy grows busy for all of them. The
journal is the demo's; folders of one's own are left alone. `QT_QPA_PLATFORM` holds as given, off-screen otherwise.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path
from statistics import median

ROOT = Path(__file__).parents[1]
REPEATS = 9
TIME_GOAL, MEMORY_GOAL = 1.6, 1.5

BARE = """
import sys
import pyqtgraph as pg
from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication, QMainWindow
app = QApplication(sys.argv)
window = QMainWindow()
plot = pg.PlotWidget()
plot.plot(range(200), [x * x % 97 for x in range(200)])
window.setCentralWidget(plot)
window.resize(1440, 900)
class Ready(QObject):
    def eventFilter(self, watched, event):
        if event.type() == QEvent.Type.Expose and watched.isExposed():
            watched.removeEventFilter(self)
            QTimer.singleShot(0, window.close)
        return False
ready = Ready()
window.show()
window.windowHandle().installEventFilter(ready)
code = app.exec()
plot.close()
del plot, window
sys.exit(code)
"""
FILL = """
import sys
from pathlib import Path
from tastebook.wiring.house import Place, fill_with_demo, house
with house(Place(journal=Path(sys.argv[1]))) as built:
    fill_with_demo(built)
"""


@dataclass
class Contestant:
    """What is started, and what its starts came to."""

    name: str
    command: list[str]
    took_ms: list[float] = field(default_factory=list)
    peak_mb: list[float] = field(default_factory=list)

    def start(self, environ: dict[str, str]) -> None:
        """Start once, wait for the end, and keep the time and the peak of resident memory."""
        began_s = time.perf_counter()
        quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}  # off-screen Qt remarks on what it lacks
        child = subprocess.Popen(self.command, cwd=ROOT, env=environ, **quiet)
        _, status, usage = os.wait4(child.pid, 0)
        self.took_ms.append((time.perf_counter() - began_s) * 1000)
        child.returncode = os.waitstatus_to_exitcode(status)
        if child.returncode != 0:
            sys.exit(f"{self.name} ended with {child.returncode}; to see why: {' '.join(self.command[1:3])}")
        self.peak_mb.append(usage.ru_maxrss / (1024 * 1024 if sys.platform == "darwin" else 1024))


def main() -> None:
    repeats = int(sys.argv[1]) if len(sys.argv) > 1 else REPEATS
    with tempfile.TemporaryDirectory() as folder:
        environ = _environment(Path(folder))
        journal = Path(folder) / "journal.tastebook"
        subprocess.run([sys.executable, "-c", FILL, str(journal)], cwd=ROOT, env=environ, check=True)
        ready = [sys.executable, "-m", "tastebook", "--exit-when-ready"]
        bare = Contestant("bare PySide6 + pyqtgraph", [sys.executable, "-c", BARE])
        own = Contestant("Tastebook, a journal of one's own", [*ready, "--journal", str(journal)])
        demo = Contestant("Tastebook, making the demo first", [*ready, "--demo"])
        contestants = [bare, own, demo]
        for contestant in contestants * (repeats + 1):
            contestant.start(environ)
    print_table(contestants, repeats, environ["QT_QPA_PLATFORM"])


def print_table(contestants: list[Contestant], repeats: int, platform: str) -> None:
    """Print medians and ratios to the first; everybody's first start, with cold files, is left out."""
    bare_ms, bare_mb = (median(each[1:]) for each in (contestants[0].took_ms, contestants[0].peak_mb))
    print(f"{repeats} starts each, taking turns, on {platform}; medians")
    print(f"{'':36}{'ms':>7}{'fastest':>9}{'ratio':>7}{'peak MB':>9}{'ratio':>7}")
    for each in contestants:
        ms, mb = median(each.took_ms[1:]), median(each.peak_mb[1:])
        print(f"{each.name:36}{ms:7.0f}{min(each.took_ms[1:]):9.0f}{ms / bare_ms:7.2f}{mb:9.0f}{mb / bare_mb:7.2f}")
    print(f"goal: time at most {TIME_GOAL}, memory at most {MEMORY_GOAL} times the bare window's")


def _environment(folder: Path) -> dict[str, str]:
    """Return the environment of every child: its own empty folders, and a platform to draw on."""
    folders = {name: str(folder / name.lower()) for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME")}
    return {"QT_QPA_PLATFORM": "offscreen", **os.environ, **folders}


if __name__ == "__main__":
    main()
