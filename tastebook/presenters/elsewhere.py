"""What was done in another window, in one short line."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from tastebook.domain.act import Act, ActKind
from tastebook.services.lexicon import SCOPE as VOCABULARY

TOLD: Final[dict[ActKind, str]] = {
    "do": "Done in another window{where}: “{label}”.",
    "undo": "Taken back in another window{where}: “{label}”.",
    "redo": "Done again in another window{where}: “{label}”.",
}


def told_of(acts: Sequence[Act], lot_name: Callable[[str], str]) -> str:
    """Return what other windows did, empty for nothing.

    Parameters
    ----------
    acts : sequence of Act
        What they did, oldest first.
    lot_name : callable
        Returns the name of the lot that an act's scope, a lot or a session, concerns; empty if it is not known.
    """
    if not acts:
        return ""
    last = acts[-1]
    told = TOLD[last.kind].format(where=_where(last, lot_name), label=last.label)
    return told if len(acts) == 1 else f"{len(acts)} changes from another window. The last: {told}"


def _where(act: Act, lot_name: Callable[[str], str]) -> str:
    if act.scope == VOCABULARY:
        return ", in the words"
    name = lot_name(act.scope)
    return f", {name}" if name else ""
