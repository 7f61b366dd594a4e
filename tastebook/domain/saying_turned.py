"""Names said the other way round: `peel of an orange`, `lemon, the zest`, `spinach cooked`.

Speakers of other languages put what a thing is before what it is of, or how it was cooked behind it. Where the two
words turned round are a known name, that name was meant.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Final, TypeAlias

from tastebook.domain.grammar import Grammar
from tastebook.domain.saying_tokens import Token
from tastebook.domain.spelling import forms

END: Final = ""
OF: Final = "of"
COMMA: Final = ","
LIGHT: Final = frozenset({"a", "an", "the", "some", "ripe", "fresh", "its"})
THE: Final = frozenset({"the", "its", "their"})
MOST_LIGHT: Final = 2
Meaning: TypeAlias = tuple[tuple[Any, ...], int]
Reach: TypeAlias = Callable[[Sequence[Token], int], int]


class Turned:
    """Finds two words of a known name that stand the other way round."""

    def __init__(self, terms: Mapping[str, Any], grammar: Grammar) -> None:
        self._terms = terms
        self._behind, self._parts = grammar.cooked, grammar.part_words
        self._seconds: set[str] = set()
        for first, node in terms.items():
            if first:
                self._seconds.update(word for word, after in node.items() if word and END in after)

    def at(self, tokens: Sequence[Token], place: int, reach: Reach) -> Meaning | None:
        """Return what words that begin at a place mean when turned round, and how many tokens they are."""
        if place + 1 >= len(tokens) or tokens[place].kind != "word":
            return None
        following = tokens[place + 1]
        if following.plain == OF:
            return self._of(tokens, place)
        if following.plain == COMMA:
            return self._apposed(tokens, place)
        if following.plain in self._behind and following.kind == "word":
            return self._cooked(tokens, place, reach)
        return None

    def _of(self, tokens: Sequence[Token], place: int) -> Meaning | None:
        """`peel of an orange`."""
        seconds = [word for word in forms(tokens[place].plain) if word in self._seconds]
        at = place + 2
        while seconds and at < len(tokens) and at - place - 2 < MOST_LIGHT and tokens[at].plain in LIGHT:
            at += 1
        if not seconds or at >= len(tokens) or tokens[at].kind != "word":
            return None
        return self._known(tokens[at].plain, seconds, at + 1 - place)

    def _apposed(self, tokens: Sequence[Token], place: int) -> Meaning | None:
        """`lemon, the zest`."""
        words = [token.plain for token in tokens[place + 2 : place + 4]]
        if len(words) < 2 or words[0] not in THE or words[1] not in self._parts:
            return None
        return self._known(tokens[place].plain, list(forms(words[1])), 4)

    def _cooked(self, tokens: Sequence[Token], place: int, reach: Reach) -> Meaning | None:
        """`spinach cooked`, unless what follows belongs to how it was cooked: `spinach cooked rice`."""
        if reach(tokens, place + 1) > place + 2:
            return None
        return self._known(tokens[place + 1].plain, list(forms(tokens[place].plain)), 2)

    def _known(self, first: str, seconds: Sequence[str], length: int) -> Meaning | None:
        for word in forms(first):
            node = self._terms.get(word)
            for second in seconds if node else ():
                senses = node.get(second, {}).get(END) if node else None
                if senses:
                    return senses, length
        return None
