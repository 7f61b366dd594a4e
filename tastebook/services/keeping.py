"""Every act passes through here: kept first, told afterwards, taken back by a further act."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from tastebook.domain.act import Act, ActKind, Change, History, history_of
from tastebook.domain.errors import OthersAct
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
        self._own: set[str] = set()
        self._of_others: set[str] = set()
        self._untold: list[Act] = []
        self._undone_elsewhere: set[str] = set()
        self._asked = ""
        self._seen = journal.last_act()

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
        """Take back the newest act of a scope that still stands.

        Raises
        ------
        OthersAct
            If it was done in another window since this one opened: the user is told first; asked again, it is done.
        """
        undoable = self.history(scope).undoable
        if not undoable:
            return None
        newest = undoable[-1]
        if newest.uid in self._of_others:
            self._ask(
                newest, f"“{newest.label}” was done in another window. Undo once more to take it back all the same."
            )
        return self._turn(newest, "undo")

    def redo(self, scope: str) -> Act | None:
        """Do again what was taken back last.

        Raises
        ------
        OthersAct
            If another window took it back since this one opened: first the user is told, asked again it is done.
        """
        redoable = self.history(scope).redoable
        if not redoable:
            return None
        newest = redoable[-1]
        if newest.uid in self._undone_elsewhere:
            self._ask(
                newest, f"“{newest.label}” was taken back in another window. Redo once more to do it all the same."
            )
        return self._turn(newest, "redo")

    def _ask(self, act: Act, told: str) -> None:
        """Let the first gesture ask, and the second through."""
        if self._asked != act.uid:
            self._asked = act.uid
            raise OthersAct(told)

    def from_elsewhere(self) -> tuple[Act, ...]:
        """Return what was done in other windows since this was asked last, oldest first."""
        self._look_elsewhere()
        told, self._untold = tuple(self._untold), []
        return told

    def _look_elsewhere(self) -> None:
        """Take note of what other windows did since this one opened, by the order of acts: clocks may be set."""
        newest = self.journal.last_act()
        if newest == self._seen:
            return
        acts = self.journal.acts_after(self._seen)
        self._seen = newest
        new = [act for act in acts if act.uid not in self._own | self._of_others]
        self._of_others.update(act.uid for act in new)
        self._undone_elsewhere.update(act.of for act in new if act.kind == "undo" and act.of)
        self._untold += new

    def history(self, scope: str) -> History:
        """Return what can be taken back and done again in a scope, also what earlier runs of the program left."""
        if scope not in self._histories:
            self._look_elsewhere()
            self._histories[scope] = history_of(self.journal.acts(scope))
        return self._histories[scope]

    def take_as_known(self) -> None:
        """Take everything in the journal as done before this window opened."""
        self._histories.clear()
        self._seen = self.journal.last_act()

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
        self._own.add(act.uid)
        self._undone_elsewhere.discard(of or "")
        self._asked = ""
        self._histories[scope] = history.after(act)
        for told in (*self._followers, *self._listeners):
            told(act)
        return act
