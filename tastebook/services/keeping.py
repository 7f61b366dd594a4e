"""Every act passes through here: kept first, told afterwards, taken back by a further act."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from tastebook.domain.act import Act, ActKind, Change, History, history_of
from tastebook.services.ports import Clock, Ids, Journal

Listener = Callable[[Act], None]


class Keeping:
    """Keeps acts in the journal and tells the listeners what changed.

    Nobody hears of an act before it is on disk: if `commit` raises, nothing happened.
    """

    def __init__(self, journal: Journal, clock: Clock, ids: Ids) -> None:
        self.journal = journal
        self.clock = clock
        self.ids = ids
        self._histories: dict[str, History] = {}
        self._followers: list[Listener] = []
        self._listeners: list[Listener] = []

    def follow(self, follower: Listener) -> None:
        """Call `follower` with every act before any listener is told: values in memory are brought up to date."""
        self._followers.append(follower)

    def unfollow(self, follower: Listener) -> None:
        """Call `follower` no more."""
        self._followers.remove(follower)

    def listen(self, listener: Listener) -> None:
        """Call `listener` with every act once it is kept and every value in memory is up to date."""
        self._listeners.append(listener)

    def keep(self, scope: str, label: str, changes: Iterable[Change]) -> Act | None:
        """Keep what one gesture changed, and return the act; None if nothing would change."""
        real = tuple(change for change in changes if change.before != change.after)
        return self._commit(scope, label, real, "do", None) if real else None

    def undo(self, scope: str) -> Act | None:
        """Take back the newest act of a scope that still stands."""
        undoable = self.history(scope).undoable
        return self._turn(undoable[-1], "undo") if undoable else None

    def redo(self, scope: str) -> Act | None:
        """Do again what was taken back last."""
        redoable = self.history(scope).redoable
        return self._turn(redoable[-1], "redo") if redoable else None

    def history(self, scope: str) -> History:
        """Return what can be taken back and done again in a scope, also what earlier runs of the program left."""
        if scope not in self._histories:
            self._histories[scope] = history_of(self.journal.acts(scope))
        return self._histories[scope]

    def forget(self) -> None:
        """Read histories anew: another window has changed the journal."""
        self._histories.clear()

    def _turn(self, act: Act, kind: ActKind) -> Act:
        changes = act.changes if kind == "redo" else tuple(one.inverse for one in reversed(act.changes))
        return self._commit(act.scope, act.label, changes, kind, act.uid)

    def _commit(self, scope: str, label: str, changes: tuple[Change, ...], kind: ActKind, of: str | None) -> Act:
        act = Act(self.ids.new(), scope, label, self.clock.utc_now(), changes, kind, of)
        history = self.history(scope)
        self.journal.commit(act)
        self._histories[scope] = history.after(act)
        for told in (*self._followers, *self._listeners):
            told(act)
        return act
