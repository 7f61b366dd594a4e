"""What stands under every screen while leaf is in water elsewhere: how long still, and the one act that pours it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

from tastebook.domain.act import Act
from tastebook.domain.errors import TastebookError
from tastebook.domain.steep import Call, Phase, Steep, latest_call
from tastebook.presenters.bench.timer import ACTIONS, WORDS, steep_below, steep_digits
from tastebook.reports.wording import countdown, listed
from tastebook.services.ports import Clock
from tastebook.services.running import Running, RunningSteeps
from tastebook.services.settings import Settings
from tastebook.services.tasting import column_name

TOLD_S: Final = 12.0
"""How long it is told that a steep was poured; so long it can be taken back there."""

POUR_KEY: Final = "Space"
ANSWER: Final = "Answer at the Bench"


@dataclass(frozen=True)
class RunningView:
    """One steep as it stands under a screen where its timer is not seen.

    `action` is what a press does, empty where nothing can be done; `can_take_back` that it was poured from here just
    now. `others` names further steeps that run, `trouble` says why a gesture was not carried out.
    """

    session_uid: str
    lot_name: str
    phase: Phase
    digits: str
    word: str
    about: str
    action: str
    key: str = ""
    others: str = ""
    trouble: str = ""
    is_asked: bool = False
    can_take_back: bool = False


@dataclass(frozen=True)
class Poured:
    """What was poured from here: the act, how the steep stood then, and when by the monotonic clock."""

    act: Act
    running: Running
    steep: Steep
    at_s: float


class RunningPresenter:
    """What the bar under the screens shows, and what its gestures do.

    Parameters
    ----------
    steeps : RunningSteeps
        The steeps that run.
    clock : Clock
        For how long a pour is told.
    settings : callable
        Returns the settings in force.
    """

    def __init__(self, steeps: RunningSteeps, clock: Clock, settings: Callable[[], Settings]) -> None:
        self._steeps, self._clock, self._settings = steeps, clock, settings
        self._poured: Poured | None = None
        self._trouble = ""
        self._looked: dict[str, Steep] = {}

    def reread(self) -> None:
        """Read anew which steeps run: another window has changed the journal."""
        self._steeps.reread()

    @property
    def soonest(self) -> Running | None:
        """Return the steep to be poured soonest, None while no leaf is in water anywhere."""
        return next(iter(self._steeps.all()), None)

    def view(self, in_sight: str = "") -> RunningView | None:
        """Return what is shown beside the session whose timer is in sight; None where there is nothing to show."""
        unseen = self._unseen(in_sight)
        if unseen:
            return self._running_view(unseen, in_sight)
        told = self._poured
        if told is None or told.act.scope == in_sight or self._clock.monotonic_s() - told.at_s > TOLD_S:
            self._poured = None
            return None
        return self._poured_view(told)

    def pour(self, session_uid: str) -> bool:
        """Pour a steep, and return whether that was done; one that runs absurdly long is asked about at its Bench."""
        running = next((one for one in self._steeps.all() if one.session_uid == session_uid), None)
        if running is None or self._steeps.steep(running).is_absurd:
            return False
        try:
            act = self._steeps.pour(session_uid)
        except TastebookError as exc:
            self._trouble = f"Not poured: {exc}"
            self._steeps.reread()
            return False
        poured = replace(self._steeps.steep(running), is_poured=True)
        self._poured, self._trouble = Poured(act, running, poured, self._clock.monotonic_s()), ""
        return True

    def take_back(self) -> str:
        """Let the steep poured last go on, and return its session; empty if that could not be done."""
        told = self._poured
        if told is None:
            return ""
        try:
            self._steeps.take_back(told.act)
        except TastebookError as exc:
            self._trouble = str(exc)
            return ""
        self._poured, self._trouble = None, ""
        return told.act.scope

    def due_call(self, but: str = "") -> Call | None:
        """Return what is to be announced of the steeps since this was asked last, but for one session's."""
        steeps = {one.session_uid: self._steeps.steep(one) for one in self._unseen(but)}
        calls = [
            call
            for uid, steep in steeps.items()
            if uid in self._looked and (call := latest_call(self._looked[uid], steep))
        ]
        self._looked = steeps
        return calls[0] if calls else None

    def _unseen(self, in_sight: str) -> tuple[Running, ...]:
        return tuple(one for one in self._steeps.all() if one.session_uid != in_sight)

    def _running_view(self, unseen: tuple[Running, ...], in_sight: str) -> RunningView:
        first, *others = unseen
        settings, steep = self._settings(), self._steeps.steep(first)
        below = steep_below(steep, counts_up=settings.counts_up)
        also = [f"{one.lot_name} {self._digits(self._steeps.steep(one))}" for one in others]
        return RunningView(
            session_uid=first.session_uid,
            lot_name=first.lot_name,
            phase=steep.phase,
            digits=self._digits(steep),
            word=WORDS[steep.phase],
            about=f"{column_name(first.cup.index)}, {below}, plan {countdown(steep.plan_s)}",
            action=ANSWER if steep.is_absurd else ACTIONS[steep.phase],
            key="" if steep.is_absurd or in_sight else POUR_KEY,  # there Space is for the timer that is seen
            others=f"Also in water: {listed(also)}" if also else "",
            trouble=self._trouble,
            is_asked=steep.is_absurd,
        )

    def _poured_view(self, told: Poured) -> RunningView:
        below = steep_below(told.steep, counts_up=self._settings().counts_up)
        return RunningView(
            session_uid=told.act.scope,
            lot_name=told.running.lot_name,
            phase="poured",
            digits=self._digits(told.steep),
            word=WORDS["poured"],
            about=f"{column_name(told.running.cup.index)}, {below}",
            action="",
            trouble=self._trouble,
            can_take_back=True,
        )

    def _digits(self, steep: Steep) -> str:
        return steep_digits(steep, counts_up=self._settings().counts_up)
