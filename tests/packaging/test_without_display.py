"""On a machine without a display the window says so, instead of Qt ending the program."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="elsewhere there is always a display")
UNSET = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")


def start(folder: Path, **display: str) -> subprocess.CompletedProcess[str]:
    environ = {name: value for name, value in os.environ.items() if name not in UNSET}
    environ |= {"XDG_DATA_HOME": str(folder), "XDG_CONFIG_HOME": str(folder), **display}
    return subprocess.run(
        [sys.executable, "-m", "tastebook", "--journal", str(folder / "journal.tastebook")],
        cwd=Path(__file__).parents[2], env=environ, capture_output=True, text=True, timeout=60,
    )  # fmt: skip


@pytest.mark.parametrize("display", [{}, {"DISPLAY": ":987"}], ids=["none", "dead"])
def test_a_window_without_a_display_says_what_works_instead(tmp_path: Path, display: dict[str, str]) -> None:
    ended = start(tmp_path, **display)

    assert ended.returncode == 1
    assert "no display" in ended.stderr
    assert "--rehearse" in ended.stderr
    assert list(tmp_path.iterdir()) == []
