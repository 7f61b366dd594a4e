"""The words known now: those that ship and the user's own."""

from __future__ import annotations

from tastebook.domain.act import Act
from tastebook.domain.own_words import with_own
from tastebook.domain.session import OwnDescriptor
from tastebook.domain.vocabulary import Vocabulary
from tastebook.services.ports import Journal


class Words:
    """The vocabulary, kept up to date with the journal.

    Parameters
    ----------
    shipped : Vocabulary
        The words that ship.
    journal : Journal
        Where the user's own words are kept.
    """

    def __init__(self, shipped: Vocabulary, journal: Journal) -> None:
        self._shipped = shipped
        self._journal = journal
        self._now = with_own(shipped, journal.own_descriptors())

    @property
    def shipped(self) -> Vocabulary:
        """Return the words that ship, as if the user had changed nothing."""
        return self._shipped

    def __call__(self) -> Vocabulary:
        """Return the words known now."""
        return self._now

    def take(self, act: Act) -> None:
        """Bring the words up to date with an act that was just kept."""
        if any(isinstance(change.before or change.after, OwnDescriptor) for change in act.changes):
            self.reread()

    def reread(self) -> None:
        """Read the user's own words anew."""
        self._now = with_own(self._shipped, self._journal.own_descriptors())
