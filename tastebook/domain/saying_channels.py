"""Where each thing was perceived: `honey in the empty cup`, `Under the lid: butter, cream`."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from tastebook.domain.saying_context import Context
from tastebook.domain.saying_found import Found, key_of
from tastebook.domain.saying_frames import Sentence
from tastebook.domain.saying_lexicon import Lexeme

DRUNK: Final = "empty cup"
TASTED: Final = "palate"
LOOKED_AT: Final = "liquor"
SMELT: Final = "liquor nose"
"""What is named while the cup is looked at was smelt."""

COMMAS: Final = ",，、"
LEADING: Final = (" of", " like")
LATER: Final = frozenset({"then", "afterwards", "next", "later"})
PLACED: Final = frozenset({"descriptor"})


class _Place:
    """A phrase that says where: `leads` if it stands before what it places, `closes` if only for the word before it."""

    __slots__ = ("at", "closes", "key", "leads")

    def __init__(self, at: int, key: str, leads: bool, closes: bool) -> None:
        self.at, self.key, self.leads, self.closes = at, key, leads, closes


class Channels:
    """Follows through a passage where things are perceived; what a sentence begins with may hold for the next."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self._topic: tuple[str, int] | None = None
        self._told: dict[str, tuple[str, int]] = {}

    def give(self, sentence: Sentence, found: Sequence[Found]) -> None:
        """Give what was found in a sentence its channel."""
        placed = [one for one in found if one.kind in PLACED]
        self._place(sentence, placed)
        if self._context.setting.channel == LOOKED_AT:
            for one in placed:
                one.channel = one.channel or (SMELT, one.at)

    def _place(self, sentence: Sentence, placed: Sequence[Found]) -> None:
        places = self._places(sentence, placed)
        if not places:
            self._go_on(sentence, placed)
            return
        told = self._told = {}
        for one in placed:
            if place := self._place_of(one, places, placed):
                one.channel = told[key_of(one)] = (place.key, place.at)
            else:
                one.channel = told.get(key_of(one))
        first = places[0]
        is_head = all(sense is None for sense in self._context.meanings[sentence.first : first.at])
        is_topic = first.leads and is_head and len(places) == 1
        self._topic = (first.key, first.at) if is_topic else None

    def _go_on(self, sentence: Sentence, placed: Sequence[Found]) -> None:
        """Let the topic hold for a sentence that makes no new statement."""
        lexemes = self._context.lexemes[sentence.first : sentence.after]
        if any(not {"start", "verb"}.isdisjoint(lexeme.roles) and not lexeme.is_masked for lexeme in lexemes):
            self._topic, self._told = None, {}
        for one in placed:
            if one.absent is None:
                one.channel = self._topic or self._told.get(key_of(one))

    def _places(self, sentence: Sentence, placed: Sequence[Found]) -> list[_Place]:
        found = []
        for at in range(sentence.first, sentence.after):
            lexeme = self._context.lexemes[at]
            if self._is_finish_of(at, sentence) and self._context.setting.is_mouth:
                found.append(_Place(at, self._key("finish"), leads=True, closes=False))
            if lexeme.is_masked or self._context.meanings[at] is not None:
                continue
            cue = lexeme.roles.get("channel")
            if cue is None and "label" in lexeme.roles and self._is_label(at, sentence):
                cue = lexeme.roles["label"]
            closes = cue is None and self._ends_in_finish(at)
            if closes:
                cue = lexeme.roles["label"]
            if at > sentence.first and "past" in self._context.lexemes[at - 1].roles:
                continue
            if at > sentence.first and self._context.lexemes[at - 1].plain == "than":
                continue  # `less of it than on the lid` is none of the lid
            if cue is not None and not (cue.value and not self._context.setting.is_mouth):
                leads = not closes and self._leads(at, sentence, placed)
                found.append(_Place(at, self._key(cue.key, lexeme.plain), leads, closes))
        return found

    def _is_finish_of(self, at: int, sentence: Sentence) -> bool:
        """Say whether a reading of the finish goes on to what it is of: `a long finish of apple skin`."""
        lexemes = self._context.lexemes
        ends = "finish" in lexemes[at].plain.split()[-1:] and self._context.meanings[at] is not None
        return ends and at + 1 < sentence.after and lexemes[at + 1].plain == "of"

    def _ends_in_finish(self, at: int) -> bool:
        """Say whether `finish` stands right behind a note: `a warm clove finish`."""
        label = self._context.lexemes[at].roles.get("label")
        return label is not None and label.key == "finish" and at > 0 and self._context.meanings[at - 1] is not None

    def _key(self, key: str, said: str = "") -> str:
        """Return the channel that is meant at this step, empty for the step's own."""
        own = self._context.setting.channel
        if own == DRUNK and key == TASTED and "cup" in said:
            return ""
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
        begins = before < sentence.first or bool(lexemes[before].cut) or "contrast" in lexemes[before].roles
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
        if lexemes[at].plain.endswith(LEADING):
            return True
        if not any(one.at > at for one in placed) or self._goes_on_elsewhere(at, sentence):
            return False
        behind = lexemes[at + 1] if at + 1 < sentence.after else None
        if behind is None or (behind.cut and behind.cut != ":") or "or" in behind.roles:
            return self._is_cut_off(at, sentence) and bool(behind and behind.cut)
        return self._is_cut_off(at, sentence) or "start" in behind.roles

    def _goes_on_elsewhere(self, at: int, sentence: Sentence) -> bool:
        """Say whether `then` or the like follows at once: the phrase closes what stands before it."""
        following = [one for one in self._context.lexemes[at + 1 : min(at + 4, sentence.after)] if not one.cut]
        return bool(following) and _parts_a_list(following[0]) and following[0].plain.split()[-1] in LATER

    def _is_cut_off(self, at: int, sentence: Sentence) -> bool:
        """Say whether a new clause begins with a phrase."""
        lexemes = self._context.lexemes
        before = at - 1
        while before >= sentence.first and self._is_light(lexemes[before]):
            if not {"start", "contrast", "and"}.isdisjoint(lexemes[before].roles):
                return True
            before -= 1
        return before < sentence.first or bool(lexemes[before].cut)

    def _place_of(self, one: Found, places: Sequence[_Place], placed: Sequence[Found]) -> _Place | None:
        """Return what places a thing: a phrase behind it or behind the list it stands in, else one that led to it."""
        behind = next((place for place in places if place.at > one.at and not place.leads), None)
        if behind is not None and self._reaches_back(one, behind, placed):
            return behind
        ahead = next((place for place in reversed(places) if place.at < one.at), None)
        if ahead is not None and any(map(_comes_back, self._context.lexemes[ahead.at + 1 : one.at])):
            return None
        follows = ahead is not None and (self._is_joined(ahead.at, one.at) or self._runs_on(ahead.at, one.at))
        return ahead if ahead is not None and (ahead.leads or follows) else None

    def _runs_on(self, first: int, last: int) -> bool:
        """Say whether one thing follows another without a stop or a new statement, as in dictation."""
        between = self._context.lexemes[first + 1 : last]
        return not any(one.cut or one.is_masked or {"start", "contrast", "and"} & one.roles.keys() for one in between)

    def _reaches_back(self, one: Found, place: _Place, placed: Sequence[Found]) -> bool:
        """Say whether a phrase places a thing: the nearest before it, and those joined to that one."""
        if place.closes:
            return one.at == place.at - 1
        chain = [each for each in placed if one.at <= each.at < place.at]
        if not self._is_one_clause(chain[-1].at, place.at):
            return False
        return all(self._is_joined(first.at, second.at) for first, second in pairwise(chain))

    def _is_one_clause(self, first: int, last: int) -> bool:
        for lexeme in self._context.lexemes[first + 1 : last]:
            if lexeme.is_masked or (lexeme.cut and lexeme.cut not in COMMAS):
                return False
            if not {"start", "contrast"}.isdisjoint(lexeme.roles) and "relative" not in lexeme.roles:
                return False
        return True

    def _is_joined(self, first: int, last: int) -> bool:
        """Say whether two things stand in one list: joined by `and`, or by a comma with nothing else between."""
        between = self._context.lexemes[first + 1 : last]
        has_comma = any(lexeme.cut for lexeme in between)
        joined = has_comma or any(lexeme.plain in ("and", "or", "&", "+") for lexeme in between)
        if not joined or any(lexeme.is_masked or (lexeme.cut and lexeme.cut not in COMMAS) for lexeme in between):
            return False
        allowed = (
            {"and", "or", "talk"} if has_comma else {"and", "or", "talk", "of", "by", "before", "up", "soft", "small"}
        )
        parts = {"contrast", "start"}
        parts |= {"like"}
        return all(
            lexeme.cut or lexeme.is_unknown or lexeme.number is not None or not allowed.isdisjoint(lexeme.roles)
            for lexeme in between
        ) and not any(parts & lexeme.roles.keys() or _parts_a_list(lexeme) for lexeme in between)


def _comes_back(lexeme: Lexeme) -> bool:
    """Say whether `now` leaves the place spoken of: `the lid was butter, now it's cream`."""
    return "returns" in lexeme.roles and lexeme.plain.startswith(("now", "but"))


def _parts_a_list(lexeme: Lexeme) -> bool:
    """Say whether a joining word begins something new: `with`, `then`, but not `and`."""
    return "and" in lexeme.roles and "joins" not in lexeme.roles
