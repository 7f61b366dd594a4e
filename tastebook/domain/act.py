"""An act: what one gesture of the taster changed, whole, so that it can be kept at once and taken back."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Literal, TypeAlias

from tastebook.domain.session import Record

ActKind: TypeAlias = Literal["do", "undo", "redo"]


@dataclass(frozen=True)
class Change:
    """One record before and after: no `before` means it was added, no `after` that it was removed."""

    before: Record | None
    after: Record | None

    @property
    def inverse(self) -> Change:
        """Return the change that takes this one back."""
        return Change(before=self.after, after=self.before)


@dataclass(frozen=True)
class Act:
    """Everything that one gesture changed, in order.

    Parameters
    ----------
    uid : str
        Stable name of the act.
    scope : str
        Whose history the act belongs to: the uid of a session or lot, or `vocabulary`.
    label : str
        What was done, in the user's words, such as `orchid 4`.
    at_utc : datetime
        When.
    changes : tuple of Change
        At least one.
    kind : {"do", "undo", "redo"}
        An undo or a redo is a further act, and names the act it concerns in `of`.
    """

    uid: str
    scope: str
    label: str
    at_utc: datetime
    changes: tuple[Change, ...]
    kind: ActKind = "do"
    of: str | None = None


@dataclass(frozen=True)
class History:
    """What can be taken back and what can be done again, newest last."""

    undoable: tuple[Act, ...] = ()
    redoable: tuple[Act, ...] = ()

    def after(self, act: Act) -> History:
        """Return the history once `act` was kept. A new act of the taster's forgets what could be done again."""
        if act.kind == "do":
            return History((*self.undoable, act), ())
        if act.kind == "undo":
            undone = [one for one in self.undoable if one.uid == act.of]
            left = tuple(one for one in self.undoable if one.uid != act.of)
            return History(left, (*self.redoable, *undone))
        redone = [one for one in self.redoable if one.uid == act.of]
        left = tuple(one for one in self.redoable if one.uid != act.of)
        return History((*self.undoable, *redone), left)


def history_of(acts: Iterable[Act]) -> History:
    """Return what a scope's acts, oldest first, leave to undo and redo."""
    history = History()
    for act in acts:
        history = history.after(act)
    return history
