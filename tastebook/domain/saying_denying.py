"""Denials while reading: which of the things named they are about, and those that only weaken."""

from __future__ import annotations

from typing import Final

from tastebook.domain.saying_denials import denied, denied_strength, is_almost, may_close, may_deny, stands_behind
from tastebook.domain.saying_found import Found
from tastebook.domain.saying_frames import Sentence
from tastebook.domain.saying_memory import LEAST_STRENGTH, Memory

TURNED_ROUND: Final = ("of", "as", "about", "regarding", "concerning", "and")
"""`of the smoke, not a whisper`; `as for the smoke, none`."""
PLURAL: Final = ("are ", "have ", "were ")
AT_MOST: Final = ("no more", "nothing more", "not more", "and no more")
"""Behind a strength these deny nothing: `a hint, no more`."""
LESS_STRENGTH: Final = 2.0


class Denying(Memory):
    """What a reader makes of a denial."""

    def _deny(self, place: int, sentence: Sentence) -> bool:
        """Take a denial up, if this is one; say whether it was."""
        lexeme, last = self.lexemes[place], self._last if self._is_linked else None
        if may_deny(lexeme):
            if self._weaken(place) or (lexeme.plain in AT_MOST and self._measured_by(place)):
                return True
            if last is not None and stands_behind(self.context, last.at, place, sentence):
                last.absent = place
                return True
            if denied(self.context, place) is not None:
                self._wait.absent, self._wait.strengths = place, []
                return True
        if last is not None and lexeme.plain == "nothing" and self._turned_round(sentence) is last:
            last.absent = place
            return True
        if "absent" in lexeme.roles and may_close(self.context, place, sentence):
            last = last or self._turned_round(sentence) or self._subject(place, sentence)
            if last is not None:
                self._gone(last, place)
                return True
        return False

    def _measured_by(self, place: int) -> bool:
        """Say whether a strength stands right before a place, over a pause."""
        before = self.lexemes[max(0, place - 2) : place]
        return any(not one.cut and not {"by", "of", "after"}.isdisjoint(one.roles) for one in before)

    def _turned_round(self, sentence: Sentence) -> Found | None:
        """Return what a sentence begins with that ends with a denial: `of the smoke it began with, not a whisper`."""
        is_turned = self.lexemes[sentence.first].plain.split()[0] in TURNED_ROUND
        first = next((one for one in self.found if one.at > sentence.first), None)
        return first if is_turned else None

    def _subject(self, place: int, sentence: Sentence) -> Found | None:
        """Return what a sentence is about that goes on after an apposition: `the rose, so shy before, has gone`."""
        first = next((one for one in self.found if one.at >= sentence.first), None)
        before = [one for one in self.lexemes[max(sentence.first, place - 2) : place] if "resumes" not in one.roles]
        is_paused = any(one.cut or "contrast" in one.roles for one in before[-1:])
        if first is None or not is_paused or first.at > sentence.first + 2:
            return None
        follows = self.lexemes[first.at + 1] if first.at + 1 < sentence.after else None
        return first if follows is not None and follows.cut else None

    def _weaken(self, place: int) -> bool:
        """Let `isn't overpowering` make what was named weak, and `not a strong` what will be; say whether it does."""
        at = denied_strength(self.context, place)
        if at is None:
            return False
        if self.context.ahead(at) is not None:
            self._wait.strengths = [(LESS_STRENGTH, place)]
        elif self._last is not None and self._is_linked:
            self._last.behind.append((LESS_STRENGTH, place))
        else:
            return False
        self._spent = at
        return True

    def _gone(self, last: Found, place: int) -> None:
        """Take what was named last as gone; `are gone` holds for all that `and` joins right before it."""
        if is_almost(self.context, place):
            last.behind.append((LEAST_STRENGTH, place))
            return
        last.absent = place
        if self.lexemes[place].plain.startswith(PLURAL):
            before = last.at - 1
            while before > 0 and not {"and", "small"}.isdisjoint(self.lexemes[before].roles):
                before -= 1
            if len(self.found) > 1 and self.found[-2].at == before:
                self.found[-2].absent = place
