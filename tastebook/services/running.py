"""The steeps that run, wherever the taster is: each stays known until it is poured."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from tastebook.domain.act import Act
from tastebook.domain.errors import TastingError
from tastebook.domain.session import Infusion
from tastebook.domain.steep import Steep
from tastebook.domain.vocabulary import Vocabulary
from tastebook.services.keeping import Keeping
from tastebook.services.tasting import TastingDesk


@dataclass(frozen=True)
class Running:
    """One steep that runs: of which session and tea, and its infusion as it was kept."""

    session_uid: str
    lot_name: str
    cup: Infusion


class RunningSteeps:
    """Every steep of the journal that runs, kept in step with each act.

    Parameters
    ----------
    keeping : Keeping
        Where acts are kept, and followed.
    vocabulary : callable
        Returns the words known now.
    lead_s : callable
        Returns how long before the plan the pour is announced.
    """

    def __init__(self, keeping: Keeping, vocabulary: Callable[[], Vocabulary], lead_s: Callable[[], int]) -> None:
        self._keeping, self._vocabulary, self._lead_s = keeping, vocabulary, lead_s
        self._running: dict[str, Running] = {}
        self.reread()
        keeping.follow(self._take)

    def reread(self) -> None:
        """Read anew which steeps run: the journal was changed elsewhere."""
        uids = self._keeping.journal.steeping()
        self._running = {uid: running for uid in uids if (running := self._read(uid))}

    def all(self) -> tuple[Running, ...]:
        """Return every steep that runs, the one to be poured soonest first."""
        return tuple(sorted(self._running.values(), key=lambda one: self.steep(one).left_s))

    def steep(self, running: Running) -> Steep:
        """Return a steep as it stands now; the lead is never more than half of a short plan."""
        cup = running.cup
        lead_s = min(self._lead_s(), cup.planned_s // 2)
        now = self._keeping.clock.now()
        return Steep(cup.planned_s, lead_s, None if cup.started is None else now.ms_since(cup.started))

    def pour(self, session_uid: str) -> Act:
        """End a steep: the moment of this call is the moment of pouring.

        Raises
        ------
        TastingError
            If nothing is in water there.
        """
        desk = TastingDesk(self._keeping, self._vocabulary, session_uid)
        try:
            desk.pour()
            return desk.history.undoable[-1]
        finally:
            desk.leave()

    def take_back(self, pour: Act) -> None:
        """Let a steep go on that was not poured after all.

        Raises
        ------
        TastingError
            If something else was done there since.
        """
        undoable = self._keeping.history(pour.scope).undoable
        if not undoable or undoable[-1].uid != pour.uid:
            raise TastingError("Something was done there since: take the pour back at its Bench.")
        self._keeping.undo(pour.scope)

    def _read(self, session_uid: str) -> Running | None:
        tasting = self._keeping.journal.tasting(session_uid)
        cup = tasting.steeping
        return None if cup is None else Running(session_uid, tasting.lot.name, cup)

    def _take(self, act: Act) -> None:
        """Look again at the session whose cups an act has changed."""
        if any(isinstance(change.after or change.before, Infusion) for change in act.changes):
            running = self._read(act.scope)
            if running is None:
                self._running.pop(act.scope, None)
            else:
                self._running[act.scope] = running
