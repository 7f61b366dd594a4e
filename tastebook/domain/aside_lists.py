"""Lists by which what somebody does or owns, and what other teas have, is told from the cup."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields

Words = frozenset[str]


@dataclass(frozen=True)
class AsideLists:
    """The words of `asides.toml`, in small letters and without apostrophes, as a passage has them.

    Parameters
    ----------
    persons : frozenset of str
        Who does something.
    third_persons : frozenset of str
        Of these, the ones that are neither who tastes nor what is tasted.
    being : frozenset of str
        Forms of `be`: a doing behind them ends in `-ing`.
    between : frozenset of str
        What may stand between a person and the verb.
    doings : frozenset of str
        Verbs that are no tasting though the vocabulary knows the word (`roasted`).
    minding : frozenset of str
        Verbs of tasting and thinking.
    own : frozenset of str
        What is somebody's and of the cup all the same (`my tongue`).
    owners : frozenset of str
        Whose something is.
    people : frozenset of str
        What somebody is (`a moss man`).
    named : frozenset of str
        Verbs behind a name.
    kin : frozenset of str
        People called by what they are.
    goes_along : frozenset of str
        Words with which a clause about somebody goes on behind a pause.
    adversative : frozenset of str
        Words that end it.
    teas : frozenset of str
        Words for a tea.
    tea_articles : frozenset of str
        What stands before them.
    told_before : frozenset of str
        What tells another tea, before the word for it.
    told_if_past : frozenset of str
        Of these, the ones that do so only in the past.
    told_behind : frozenset of str
        What tells another tea, behind the word for it.
    tea_numbers : frozenset of str
        Numbers and letters of samples.
    tea_pasts : frozenset of str
        Verbs in the past behind them.
    tea_tells : frozenset of str
        Verbs in the present behind them.
    held_against : frozenset of str
        Words that hold this tea against another.
    """

    persons: Words = frozenset()
    third_persons: Words = frozenset()
    being: Words = frozenset()
    between: Words = frozenset()
    doings: Words = frozenset()
    minding: Words = frozenset()
    own: Words = frozenset()
    owners: Words = frozenset()
    people: Words = frozenset()
    named: Words = frozenset()
    kin: Words = frozenset()
    goes_along: Words = frozenset()
    adversative: Words = frozenset()
    teas: Words = frozenset()
    tea_articles: Words = frozenset()
    told_before: Words = frozenset()
    told_if_past: Words = frozenset()
    told_behind: Words = frozenset()
    tea_numbers: Words = frozenset()
    tea_pasts: Words = frozenset()
    tea_tells: Words = frozenset()
    held_against: Words = frozenset()

    @classmethod
    def read(cls, list_of: Callable[[str], Sequence[str]]) -> AsideLists:
        """Return the lists that `list_of` gives by their names."""
        return cls(**{field.name: _bare(list_of(field.name)) for field in fields(cls)})


def _bare(words: Sequence[str]) -> Words:
    return frozenset(word.casefold().replace("'", "") for word in words)
