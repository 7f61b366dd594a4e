"""Finding a word by what is typed: part of a name, a single Chinese character, pinyin with or without tones."""

from __future__ import annotations

from dataclasses import dataclass

from tastebook.domain.explaining import Explained
from tastebook.domain.spelling import plain, squeezed, toned

EXACT, BEGINS, HAS = range(3)


@dataclass(frozen=True)
class Sought:
    """A term with what is looked through to find it."""

    term: Explained
    plain_text: str
    squeezed_terms: tuple[str, ...]
    toned_terms: tuple[str, ...]

    @classmethod
    def of(cls, term: Explained) -> Sought:
        """Return a term ready to be found."""
        return cls(
            term,
            plain(" ".join(term.texts)),
            tuple(squeezed(text) for text in term.texts),
            tuple(toned(text) for text in term.texts),
        )

    def rank(self, typed: str) -> int | None:
        """Return how exactly it is what is typed, None if it is not."""
        letters = squeezed(typed)
        if letters in self.squeezed_terms:
            return EXACT
        if any(term.startswith(letters) for term in self.squeezed_terms):
            return BEGINS
        words = plain(typed).split()
        if any(letters in term for term in self.squeezed_terms) or all(word in self.plain_text for word in words):
            return HAS
        return None

    def sounds_like(self, typed: str) -> bool:
        """Say whether it has what is typed with these very tones and accents."""
        return any(toned(typed) in term for term in self.toned_terms)


def found(sought: tuple[Sought, ...], typed: str) -> tuple[tuple[Sought, int], ...]:
    """Return what fits, in its order, each with how exactly; with tones typed, those that have them, if any has."""
    if not squeezed(typed):
        return tuple((one, HAS) for one in sought)
    ranked = [(one, rank) for one in sought if (rank := one.rank(typed)) is not None]
    if toned(typed) != squeezed(typed):
        sounding = [(one, rank) for one, rank in ranked if one.sounds_like(typed)]
        ranked = sounding or ranked
    return tuple(ranked)
