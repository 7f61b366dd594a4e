"""The clocks of this machine."""

from __future__ import annotations

import secrets
import sys
import time
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from tastebook.domain.steep import Instant

BOOT_ID: Final = Path("/proc/sys/kernel/random/boot_id")


class SystemClock:
    """Fills the `Clock` port.

    The monotonic clock counts the time of a sleeping machine: CLOCK_BOOTTIME on Linux, CLOCK_MONOTONIC on macOS (where
    Python's own `time.monotonic` stands still in sleep), the system's tick count on Windows.

    Parameters
    ----------
    boot_id : Path
        The file in which the kernel names this run of the machine. Where there is none, every process names a run of
        its own: then what an earlier process started is compared by the wall clock, which is right unless somebody
        has set it, and a monotonic reading of an earlier run is never taken for one of this run.
    """

    def __init__(self, boot_id: Path = BOOT_ID) -> None:
        self._boot = _boot_of(boot_id)

    def now(self) -> Instant:
        """Return this moment on both clocks."""
        return Instant(self.utc_now(), self.monotonic_s(), self._boot)

    def monotonic_s(self) -> float:
        """Return the monotonic clock alone."""
        return _monotonic_s()

    def utc_now(self) -> datetime:
        """Return the wall clock, in UTC."""
        return datetime.now(UTC)  # noqa: TID251 - the one place that reads it

    def utc_offset_min(self, at_utc: datetime) -> int:
        """Return how many minutes local time is ahead of UTC at a moment."""
        offset = at_utc.astimezone().utcoffset()
        assert offset is not None, "A time with a zone has an offset."
        return round(offset.total_seconds() / 60)


def _boot_of(boot_id: Path) -> str:
    try:
        return boot_id.read_text(encoding="ascii").strip()
    except (OSError, UnicodeDecodeError):
        return f"process-{secrets.token_hex(8)}"


if sys.platform == "linux":

    def _monotonic_s() -> float:
        return time.clock_gettime(time.CLOCK_BOOTTIME)

elif sys.platform == "darwin":

    def _monotonic_s() -> float:
        return time.clock_gettime(time.CLOCK_MONOTONIC)

else:

    def _monotonic_s() -> float:
        return time.monotonic()  # noqa: TID251 - the one place that reads it
