"""Where each thing was perceived: `honey in the empty cup`, `Under the lid: butter, cream`."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from tastebook.domain.saying_context import Context
from tastebook.domain.saying_found import Found, key_of
from tastebook.domain.saying_frames import Sentence
from tastebook.domain.saying_lexicon import Lexeme

PLACED: Final = frozenset({"descriptor"})


class _Place:
    """One phrase that says where; `leads` if it stands before what it places."""

    __slots__ = ("at", "key", "leads")

    def __init__(self, at: int, key: str, leads: bool) -> None:
        self.at, self.key, self.leads = at, key, leads


class Channels:
    """Follows through a passage where things are perceived; what a sentence begins with may hold for the next."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self._topic: tuple[str, int] | None = None

    def give(self, sentence: Sentence, found: Sequence[Found]) -> None:
        """Give what was found in a sentence its channel."""
        placed = [one for one in found if one.kind in PLACED]
        places = self._places(sentence, placed)
        if not places:
            self._go_on(sentence, placed)
            return
        told: dict[str, tuple[str, int]] = {}
        for one in placed:
            if place := self._place_of(one, places):
                one.channel = told[key_of(one)] = (place.key, place.at)
            else:
                one.channel = told.get(key_of(one))
        first = places[0]
        is_topic = first.leads and (not placed or first.at < placed[0].at) and len(places) == 1
        self._topic = (first.key, first.at) if is_topic else None

    def _go_on(self, sentence: Sentence, placed: Sequence[Found]) -> None:
        """Let the topic hold for a sentence that makes no new statement."""
        lexemes = self._context.lexemes[sentence.first : sentence.after]
        if any("start" in lexeme.roles and not lexeme.is_masked for lexeme in lexemes):
            self._topic = None
        if self._topic is not None:
            for one in placed:
                if one.absent is None:
                    one.channel = self._topic

    def _places(self, sentence: Sentence, placed: Sequence[Found]) -> list[_Place]:
        found = []
        for at in range(sentence.first, sentence.after):
            lexeme = self._context.lexemes[at]
            if lexeme.is_masked or self._context.meanings[at] is not None:
                continue
            cue = lexeme.roles.get("channel")
            if cue is None and "label" in lexeme.roles and self._is_label(at, sentence):
                cue = lexeme.roles["label"]
            if cue is not None and not (cue.value and not self._context.setting.is_mouth):
                found.append(_Place(at, self._key(cue.key), self._leads(at, sentence, placed)))
        return found

    def _key(self, key: str) -> str:
        """Return the channel that is meant at this step, empty for the step's own."""
        own = self._context.setting.channel
        if key == "nose":
            key = "liquor nose" if self._context.setting.is_mouth else own
        return "" if key == own else key

    def _is_label(self, at: int, sentence: Sentence) -> bool:
        """Say whether a bare word such as `nose` heads what follows: first of a phrase, or before a colon."""
        lexemes = self._context.lexemes
        follows_colon = at + 1 < sentence.after and lexemes[at + 1].cut == ":"
        before = at - 1
        while before >= sentence.first and self._is_light(lexemes[before]):
            before -= 1
        begins = before < sentence.first or bool(lexemes[before].cut)
        return follows_colon or begins

    @staticmethod
    def _is_light(lexeme: Lexeme) -> bool:
        return not lexeme.cut and not {"small", "and", "contrast", "start", "talk"}.isdisjoint(lexeme.roles)

    def _leads(self, at: int, sentence: Sentence, placed: Sequence[Found]) -> bool:
        """Say whether a phrase places what follows it, not what it follows."""
        lexemes = self._context.lexemes
        before = [one.at for one in placed if one.at < at]
        if not before:
            return True
        if not any(one.at > at for one in placed):
            return False
        behind = lexemes[at + 1] if at + 1 < sentence.after else None
        if behind is None or (behind.cut and behind.cut != ":") or "or" in behind.roles:
            return self._is_cut_off(at, sentence) and bool(behind and behind.cut)
        return self._is_cut_off(at, sentence) or "start" in behind.roles

    def _is_cut_off(self, at: int, sentence: Sentence) -> bool:
        """Say whether a new clause begins with a phrase."""
        lexemes = self._context.lexemes
        before = at - 1
        while before >= sentence.first and self._is_light(lexemes[before]):
            if not {"start", "contrast", "and"}.isdisjoint(lexemes[before].roles):
                return True
            before -= 1
        return before < sentence.first or bool(lexemes[before].cut)

    def _place_of(self, one: Found, places: Sequence[_Place]) -> _Place | None:
        """Return what places a thing: the next phrase that follows it within its clause, else the last that leads to it."""
        behind = next((place for place in places if place.at > one.at and not place.leads), None)
        ahead = next((place for place in reversed(places) if place.at < one.at), None)
        if behind is not None and self._is_one_clause(one.at, behind.at):
            return behind
        if ahead is not None and (ahead.leads or self._is_one_clause(ahead.at, one.at, loosely=True)):
            return ahead
        return None

    def _is_one_clause(self, first: int, last: int, *, loosely: bool = False) -> bool:
        for at in range(first + 1, last):
            lexeme = self._context.lexemes[at]
            if lexeme.is_masked or "contrast" in lexeme.roles:
                return False
            if "start" in lexeme.roles and not loosely:
                return False
            if lexeme.cut and not loosely and not self._is_listed(first, at, last):
                return False
            if lexeme.cut and loosely:
                return False
        return True

    def _is_listed(self, first: int, comma: int, last: int) -> bool:
        """Say whether a comma only parts a list: there is `and` before the phrase that places all of it."""
        lexemes = self._context.lexemes
        between = lexemes[comma + 1 : last]
        has_own = any("of" in lexeme.roles or lexeme.plain in ("a", "an", "some", "the") for lexeme in between)
        return lexemes[comma].cut in ",，、" and not has_own and any("and" in lexeme.roles for lexeme in between)
