"""Words typed into a say line and not taken yet: they outlive a program that ends in the middle of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from tastebook.domain.catching import column_of
from tastebook.domain.session import Tasting


@dataclass(frozen=True)
class Draft:
    """Words that stood in the say line of one step. `infusion` is where they were typed, None at leaf and close."""

    step: str
    infusion: int | None
    text: str


class Drafts(Protocol):
    """Where drafts are kept, one for each session."""

    def read(self, session_uid: str) -> Draft | None:
        """Return the draft of a session, None if there is none that can be read."""
        ...

    def keep(self, session_uid: str, draft: Draft | None) -> None:
        """Keep a draft in place of the one before; None forgets it.

        Raises
        ------
        StoreError
            If the disk or the folder's rights refuse it.
        """
        ...


class Drafting:
    """The draft of one session: kept when asked to, written only where it differs, forgotten once the words are taken.

    Parameters
    ----------
    drafts : Drafts
        Where it is kept.
    tasting : Tasting
        The session as it is opened. A draft that was said already, a moment before the program ended, is forgotten, and
        one of a step that the course does not have is left where it is.
    """

    def __init__(self, drafts: Drafts, tasting: Tasting) -> None:
        self._drafts = drafts
        self._session_uid = tasting.session.uid
        self._kept = drafts.read(self._session_uid)
        self.found = self._kept if self._kept is not None and _is_open(self._kept, tasting) else None

    def keep(self, draft: Draft) -> None:
        """Keep the words as they stand; none at all are forgotten.

        Raises
        ------
        StoreError
            If they cannot be kept.
        """
        wanted = draft if draft.text.strip() else None
        if wanted != self._kept:
            self._drafts.keep(self._session_uid, wanted)
            self._kept = wanted


def _is_open(draft: Draft, tasting: Tasting) -> bool:
    """Say whether the words of a draft are still to be taken."""
    step = next((one for one in tasting.session.course.steps if one.key == draft.step), None)
    if step is None:
        return False
    said = tasting.sayings_at(step.key, column_of(step.stage, draft.infusion))
    return all(one.text != draft.text.strip() for one in said)
