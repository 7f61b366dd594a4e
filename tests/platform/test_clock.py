"""The clocks of this machine."""

from __future__ import annotations

import subprocess
import sys
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from tastebook.platform.clock import BOOT_ID, SystemClock


def test_the_wall_clock_is_aware_and_in_utc() -> None:
    now = SystemClock().utc_now()

    assert now.tzinfo is UTC
    assert abs(now.timestamp() - time.time()) < 5  # noqa: TID251 - the judge is the system itself


def test_both_clocks_of_a_moment_agree_on_how_long_something_took() -> None:
    clock = SystemClock()
    before = clock.now()

    time.sleep(0.05)
    after = clock.now()

    assert 50 <= after.ms_since(before) < 2000
    assert abs((after.utc - before.utc).total_seconds() * 1000 - after.ms_since(before)) < 100


def test_the_monotonic_clock_never_goes_back() -> None:
    clock = SystemClock()

    moments = [clock.monotonic_s() for _ in range(1000)]

    assert moments == sorted(moments)


@pytest.mark.skipif(sys.platform != "linux", reason="the kernel's own record of its boot time is Linux's")
def test_on_linux_the_monotonic_clock_counts_from_the_boot_and_through_sleep() -> None:
    """`/proc/uptime` counts the time spent asleep (proc(5)); so must this clock."""
    uptime_s = float(Path("/proc/uptime").read_text().split()[0])

    assert SystemClock().monotonic_s() == pytest.approx(uptime_s, abs=2)


@pytest.mark.skipif(not BOOT_ID.exists(), reason="this kernel names no boot")
def test_every_process_of_one_run_of_the_machine_names_the_same_run() -> None:
    program = "from tastebook.platform.clock import SystemClock; print(SystemClock().now().boot)"

    other = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True).stdout.strip()

    assert other == SystemClock().now().boot == BOOT_ID.read_text().strip()


def test_where_the_kernel_names_no_boot_no_two_processes_share_a_monotonic_clock(tmp_path: Path) -> None:
    """Then an earlier process's reading is compared by the wall clock, never by a clock that may have begun anew."""
    ours, theirs = SystemClock(tmp_path / "missing"), SystemClock(tmp_path / "missing")

    began, later = ours.now(), theirs.now()

    assert began.boot == ours.now().boot
    assert began.boot != later.boot
    assert later.ms_since(began) < 1000


def test_the_offset_is_that_of_the_local_zone_at_that_moment(monkeypatch: pytest.MonkeyPatch) -> None:
    """Central European Time is UTC+1, in summer UTC+2 (Directive 2000/84/EC)."""
    if not hasattr(time, "tzset"):
        pytest.skip("this system takes its zone from elsewhere")
    monkeypatch.setenv("TZ", "CET-1CEST,M3.5.0,M10.5.0/3")
    time.tzset()
    clock = SystemClock()

    offsets = [clock.utc_offset_min(datetime(2026, month, 15, tzinfo=UTC)) for month in (1, 7)]

    monkeypatch.undo()
    time.tzset()
    assert offsets == [60, 120]


def test_the_offset_is_whole_minutes_for_any_moment_of_our_time() -> None:
    clock = SystemClock()

    offsets = {clock.utc_offset_min(datetime(1970, 1, 2, tzinfo=UTC) + timedelta(days=97 * n)) for n in range(200)}

    assert all(-14 * 60 <= offset <= 14 * 60 for offset in offsets)
