"""A steep survives kill -9: it still runs in a new process, and has lost no time; nor are words lost half typed."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from tests.journeys.steeping_child import DRAFT

WAIT_S = 1.5
LAG_S = 2.0
"""From water on to the line that says so: the window draws in between."""


def child(journal: Path, act: str, home: Path) -> subprocess.Popen[str]:
    env = os.environ | {"QT_QPA_PLATFORM": "offscreen", "LC_ALL": "C.UTF-8"}
    env |= {name: str(home) for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME")}
    command = [sys.executable, "-m", "tests.journeys.steeping_child", str(journal), act]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=env)


def line_of(process: subprocess.Popen[str]) -> dict[str, Any]:
    assert process.stdout is not None
    told: dict[str, Any] = json.loads(process.stdout.readline())
    return told


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="only where a process can be killed so")
def test_a_steep_outlives_kill_9(own_folders: Path) -> None:
    journal = own_folders / "mine.tastebook"
    with child(journal, "begin", own_folders) as first:
        begun = line_of(first)
        began_s = time.perf_counter()
        time.sleep(WAIT_S)
        line_of(first)  # the words being typed have been kept
        first.send_signal(signal.SIGKILL)

    with child(journal, "resume", own_folders) as second:
        found = line_of(second)
        looked_s = time.perf_counter() - began_s
        poured = line_of(second)

    assert begun["phase"] in ("steeping", "lead")
    assert begun["words"] == ["toasted rice"]
    assert (begun["typed"], found["typed"]) == (DRAFT, DRAFT)
    assert begun["step"] == found["step"]
    assert found["bench"]
    assert found["words"] == ["toasted rice"]
    assert "still in water" in found["news"]
    assert WAIT_S + found["alive_s"] <= found["shown_s"] <= looked_s + LAG_S
    assert poured["phase"] == "poured"
    assert WAIT_S * 1000 <= poured["actual_ms"] <= (time.perf_counter() - began_s + LAG_S) * 1000
    assert second.returncode == 0
