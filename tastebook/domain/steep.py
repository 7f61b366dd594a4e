"""One steep: how long the leaf has been in water, how long is left, and what to announce.

Time is an argument everywhere: nothing here counts ticks, so a busy window, a sleeping machine or a crash cannot slow
the steep down. An `Instant` keeps two clocks at once. The monotonic one goes on through sleep and does not jump when
the wall clock is set, but means nothing after a restart of the machine; then the wall clock is all there is.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime
from typing import Final, Literal, TypeAlias

Phase: TypeAlias = Literal["ready", "steeping", "lead", "over", "poured"]

OVER_EVERY_S: Final = 15
"""How often a steep over its plan is called again."""

NO_RUN: Final = ""
"""Names no run of any machine: of such an instant the wall clock is all there is."""

ABSURD_OVER_S: Final = 900
"""Nobody forgets a cup for this long over its plan and still pours it: the taster is asked instead."""


@dataclass(frozen=True)
class Instant:
    """One moment on two clocks.

    Parameters
    ----------
    utc : datetime
        The wall clock, aware, UTC.
    monotonic_s : float
        Seconds of a clock that counts a sleeping machine's time and never jumps.
    boot : str
        Names the run of the machine for which `monotonic_s` means anything.
    """

    utc: datetime
    monotonic_s: float
    boot: str

    def ms_since(self, earlier: Instant) -> int:
        """Return the milliseconds from `earlier` to this instant, never below 0."""
        if self.boot == earlier.boot != NO_RUN:
            passed_s = self.monotonic_s - earlier.monotonic_s
        else:
            passed_s = (self.utc - earlier.utc).total_seconds()
        return max(0, round(passed_s * 1000))


@dataclass(frozen=True)
class Steep:
    """A steep seen at one moment.

    Parameters
    ----------
    plan_s : int
        Planned time in water.
    lead_s : int
        How long before the plan the pour is announced, 0 to 15.
    elapsed_ms : int or None
        Time in water so far, None before the water is on.
    is_poured : bool
        Whether `elapsed_ms` is final.
    """

    plan_s: int
    lead_s: int = 0
    elapsed_ms: int | None = None
    is_poured: bool = False

    @property
    def phase(self) -> Phase:
        """Return where the steep stands. Exactly at the plan it is not yet over."""
        if self.elapsed_ms is None:
            return "ready"
        if self.is_poured:
            return "poured"
        if self.elapsed_ms > self.plan_s * 1000:
            return "over"
        return "lead" if self.elapsed_ms >= (self.plan_s - self.lead_s) * 1000 and self.lead_s else "steeping"

    @property
    def left_s(self) -> int:
        """Return whole seconds to the plan, rounded up so that 0 means now; negative once over."""
        elapsed_ms = self.elapsed_ms or 0
        if elapsed_ms <= self.plan_s * 1000:
            return math.ceil((self.plan_s * 1000 - elapsed_ms) / 1000)
        return -self.over_s

    @property
    def over_s(self) -> int:
        """Return whole seconds past the plan, 0 before it."""
        return max(0, ((self.elapsed_ms or 0) - self.plan_s * 1000) // 1000)

    @property
    def elapsed_s(self) -> int:
        """Return whole seconds in water, rounded down."""
        return (self.elapsed_ms or 0) // 1000

    @property
    def deviation_s(self) -> int:
        """Return actual minus planned time, to the nearest second."""
        return round((self.elapsed_ms or 0) / 1000) - self.plan_s

    @property
    def is_absurd(self) -> bool:
        """Say whether the steep runs so long that the taster has surely poured and not said so."""
        return not self.is_poured and self.over_s >= ABSURD_OVER_S + 2 * self.plan_s


@dataclass(frozen=True)
class Call:
    """Something to announce by sound, tint, word and voice."""

    what: Literal["lead", "plan", "over"]
    at_s: int

    @property
    def words(self) -> str:
        """Return what the voice says."""
        return {"lead": "begin to pour", "plan": "pour now", "over": f"{self.at_s} seconds over"}[self.what]


def latest_call(earlier: Steep, later: Steep) -> Call | None:
    """Return what has fallen due between two looks at a steep, None if nothing has.

    After a sleep several announcements may have fallen due: only the newest is still news. A plan that is shortened
    into the past is announced at once; one that is lengthened will be announced again when its time comes.
    """
    newest = _newest_due(later)
    return newest if newest != _newest_due(earlier) else None


def _newest_due(steep: Steep) -> Call | None:
    if steep.elapsed_ms is None or steep.is_poured:
        return None
    if steep.over_s >= OVER_EVERY_S:
        return Call("over", steep.over_s // OVER_EVERY_S * OVER_EVERY_S)
    if steep.elapsed_ms >= steep.plan_s * 1000:
        return Call("plan", 0)
    return Call("lead", steep.lead_s) if steep.phase == "lead" else None
