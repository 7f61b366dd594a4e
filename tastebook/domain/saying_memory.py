"""What a reader has in mind: what was named last, what is waited for, what was expected, and what is taken back.

What somebody expected, or another tea has, is nothing by itself; said not to be here, it is absent.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from tastebook.domain.saying_context import Context
from tastebook.domain.saying_denials import is_almost
from tastebook.domain.saying_found import Found, Waiting, key_of, shifted
from tastebook.domain.saying_frames import Sentence
from tastebook.domain.saying_lexicon import Lexeme
from tastebook.domain.saying_numbers import Quantity
from tastebook.domain.saying_tokens import STOPS

FARTHEST_BACK: Final = 4
FARTHEST_RETRACTED: Final = 18
NOW: Final = frozenset({"now", "today", "here"})
SPOKEN_OF: Final = frozenset({"with", "my", "about", "for", "to", "than", "without"})
LEAST_STRENGTH: Final = 1.0


class Memory:
    """What was read so far of one passage."""

    def __init__(self, context: Context) -> None:
        self.context = context
        self.lexemes: Sequence[Lexeme] = context.lexemes
        self.found: list[Found] = []
        self.quantities: list[Quantity] = []
        self._wait = Waiting()
        self._list: list[tuple[float, int]] = []
        self._denied: int | None = None
        self._between: int | None = None
        self._last: Found | None = None
        self._stood_last: Found | None = None
        self._asked: Found | None = None
        self._questioned: Found | None = None
        self._expected: list[Found] = []
        self._than: Found | None = None
        self._joined_by_or = self._is_linked = self._in_relative = False
        self._other_teas: list[int] = []
        self._spent = -1

    def _unsay(self, found: Found) -> None:
        """Let go of a thing wherever it was named: `forget the toast`."""
        for one in (*self.found, found):
            if key_of(one) == key_of(found):
                one.expected = True
                self.context.taken_back.add(one.at)
        self._last = None

    def _was_denied(self, found: Found, place: int) -> bool:
        """Say whether a thing said to be absent is only spoken of: `no violet. It happens, with violets`."""
        before = self.lexemes[place - 1] if place else None
        if before is not None and before.plain == "the" and place > 1:
            before = self.lexemes[place - 2]
        if before is None or before.cut or SPOKEN_OF.isdisjoint(before.plain.split()) or found.cues():
            return False
        return any(one.absent is not None and key_of(one) == key_of(found) for one in self.found)

    def _comes_back(self, place: int, sentence: Sentence) -> bool:
        """Let `now it is strong` speak of what the last cup had: `gardenia was faint in the last one, now …`."""
        roles = self.lexemes[place].roles
        earlier = self._expected[-1] if self._expected else None
        is_strength = not {"by", "after", "of"}.isdisjoint(roles) and self.context.ahead(place) is None
        if earlier is None or not is_strength or self._last is not None or earlier.at < sentence.first:
            return False
        between = self.lexemes[earlier.at + 1 : place]
        if not any(not lexeme.is_masked and not NOW.isdisjoint(lexeme.plain.split()) for lexeme in between):
            return False
        cue = roles.get("by") or roles.get("after") or roles["of"]
        earlier.expected = False
        earlier.behind.append((shifted(self.lexemes, place, cue.value), place))
        self._last, self._is_linked, self._expected = earlier, True, []
        return True

    def _take_back(self, place: int) -> bool:
        """Let go of what was named last, if it was just now: `peach, I mean apricot`; its strength goes on."""
        last = self._last
        if last is None or not self._is_linked or place - last.at > FARTHEST_BACK or last.sense is None:
            return False
        ahead = self.context.ahead(place, over_starts=True, over_commas=True)
        if ahead is None and self.lexemes[place - 1].cut in STOPS:
            return False
        if ahead is None and "idiom" not in self.lexemes[place].roles and not self._ends_here(place):
            return False
        last.expected = True
        self.context.taken_back.add(last.at)
        self._last, self._wait = None, Waiting(strengths=list(last.before))
        return True

    def _retract(self, place: int) -> bool:
        """Let go of what was named last, be it a few words or a sentence ago: `popcorn, or, no, wait, scratch that`."""
        last = next((one for one in reversed(self.found) if one.sense is not None and not one.expected), None)
        newest = self.found[-1].at if self.found else place
        if last is None or place - last.at > FARTHEST_RETRACTED or newest in self.context.taken_back or last.sure:
            return False
        last.expected = True
        self.context.taken_back.add(last.at)
        self._last, self._wait, self._asked = None, Waiting(strengths=list(last.before)), None
        return True

    def _is_only_sorry(self, place: int) -> bool:
        """Say whether `I am` stands before `sorry`, or what was named last has just replaced something else."""
        before = self.lexemes[place - 1].plain if place else ""
        last = self._last.at if self._last is not None else place
        earlier = self.lexemes[max(0, last - 3) : last]
        has_replaced = any("takes back" in one.roles for one in earlier)
        return before.endswith(("im", "am")) or (has_replaced and last > max(self.context.taken_back, default=last))

    def _ends_here(self, place: int) -> bool:
        return place + 1 >= len(self.lexemes) or bool(self.lexemes[place + 1].cut)

    def _look_for(self, place: int) -> None:
        if self.context.ahead(place) is not None:
            self._wait = Waiting(expected=True)
            self._expected = []

    def _was_looked_for(self, place: int) -> bool:
        """Let `the char I feared` be looked for: a statement right behind `the` thing only tells which is meant."""
        last = self._last
        if last is None or not last.definite or last.absent is not None:
            return False
        if any("noun" not in lexeme.roles for lexeme in self.lexemes[last.at + 1 : place]):
            return False
        last.expected = True
        self._expected = [last]
        return True

    def _unmet(self, place: int) -> None:
        for one in self._expected:
            one.expected = False
            if is_almost(self.context, place):
                one.behind.append((LEAST_STRENGTH, place))
            else:
                one.absent = place
        self._expected = []
        self._wait = Waiting()
