"""Names for new records: unique anywhere, sorting by when they were given."""

from __future__ import annotations

import secrets
import threading

from tastebook.services.ports import Clock

_MS_BITS = 48
_COUNT_BITS = 12
_CHANCE_BITS = 62


class TimeIds:
    """Fills the `Ids` port with UUIDs of version 7: milliseconds, then a count, then chance.

    Within one process each name is greater than the one before, also when the wall clock stands still or is set back.

    References
    ----------
    RFC 9562 (2024), section 5.7, and section 6.2, method 1 (a counter of fixed length after the time).
    """

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._lock = threading.Lock()
        self._last = 0

    def new(self) -> str:
        """Return a name never given before."""
        ms = int(self._clock.utc_now().timestamp() * 1000)
        with self._lock:
            self._last = max(ms << _COUNT_BITS, self._last + 1)
            time_and_count = self._last
        return _uuid7(time_and_count >> _COUNT_BITS, time_and_count & 0xFFF, secrets.randbits(_CHANCE_BITS))


def _uuid7(ms: int, count: int, chance: int) -> str:
    number = ms % (1 << _MS_BITS) << 80 | 0x7 << 76 | count << 64 | 0b10 << 62 | chance
    digits = f"{number:032x}"
    return "-".join((digits[:8], digits[8:12], digits[12:16], digits[16:20], digits[20:]))
