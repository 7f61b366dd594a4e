"""A passage read word by word: what is named, how strongly, whether it is denied or doubted, and where it was perceived.

Words before a thing wait for it (`a hint of`, `no`, `maybe`); words behind it go back to it (`…, faint`, `is gone`). A wait
ends where a clause does. The rules are told in `resources/grammar/README.md`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from tastebook.domain.saying_context import Context
from tastebook.domain.saying_found import Found, key_of, shifted
from tastebook.domain.saying_frames import Sentence
from tastebook.domain.saying_lexicon import COMPARED, Lexeme
from tastebook.domain.saying_numbers import Number, Quantity, numbers, quantities
from tastebook.domain.vocabulary import Descriptor, ScaleWord

COMMAS: Final = ",，、/"
KEEPS_LINK: Final = frozenset(
    "its|it is|it was|thats|that is|that was|theyre|they are|its got|it has|it|that|they|which|and its|and it is|and it|but its"
    "|there|its still|now".split("|")
)
"""Statements that go on about what was named last."""

ANDS_THAT_GO_ON: Final = frozenset({"and", "&", "+", "or", "nor", "和", "与", "及"})
DENIALS_OVER_AND: Final = ("without", "free of", "free from", "devoid", "lack", "neither", "没", "无", "不")
UNDOES: Final = frozenset({"yes", "yeah", "yep", "yup", "definitely", "certainly"})
TAGS: Final = (
    "isnt it",
    "arent they",
    "hasnt it",
    "doesnt it",
    "wasnt it",
    "dont you think",
    "innit",
    "right",
    "isnt there",
)
UP: Final = frozenset({"grows", "much more"})
DOWN: Final = frozenset({"fades", "much less", "less strong"})
MUCH: Final = {"fades": "much less", "grows": "much more", "less strong": "much less"}
MORE_STRENGTH, LESS_STRENGTH, LEAST_STRENGTH = 4.0, 2.0, 1.0
ALMOST: Final = frozenset("almost|nearly|all but|practically|mostly|more or less|just about|pretty much|virtually".split("|"))
OPEN_DENIALS: Final = (" any", "dont", "cant", "isnt", "arent", "wasnt", "doesnt", "its not", "it is not")
I_DO_NOT: Final = ("i dont", "i cant", "i cannot", "i do not", "i didnt")
RELATIVES: Final = frozenset({"that", "which", "who"})
FARTHEST_NUMBER: Final = 5
MOST: Final = 5


@dataclass
class Waiting:
    """What was said before a thing that is still to be named."""

    strengths: list[tuple[float, int]] = field(default_factory=list)
    of: list[tuple[float, int]] = field(default_factory=list)
    up: list[int] = field(default_factory=list)
    absent: int | None = None
    hedged: int | None = None
    sure: int | None = None
    change: tuple[str, int] | None = None
    expected: bool = False
    has_article: bool = False
    is_definite: bool = False
    unknown: int = 0


class Reader:
    """Reads the sentences of one passage, in order."""

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
        self._asked: Found | None = None
        self._expected: list[Found] = []
        self._than: Found | None = None
        self._joined_by_or = self._is_linked = self._other_tea = self._in_relative = False
        self._spent = -1

    def read(self, sentence: Sentence) -> list[Found]:
        """Read one sentence and return what was found in it."""
        earlier, self._last = self._last, None
        self._begin(sentence, earlier)
        begun = len(self.found)
        counted = numbers(self.lexemes, sentence)
        measured = quantities(self.context, sentence, counted)
        self.quantities += measured
        taken = {place for one in measured for place in range(one.first, one.after)}
        taken |= {place for one in counted for place in range(one.first, one.after)}
        for place in range(sentence.first, sentence.after):
            if place in taken:
                self._is_linked = self._is_linked and not any(one.first <= place < one.after for one in measured)
            else:
                self._step(place, sentence, earlier)
        here = self.found[begun:]
        self._give_numbers([one for one in counted if not _overlaps(one, measured)], here, sentence)
        self._end(sentence, here)
        return here

    # -- the ends of a sentence

    def _begin(self, sentence: Sentence, earlier: Found | None) -> None:
        self._wait, self._list, self._denied, self._between, self._than = Waiting(), [], None, None, None
        self._joined_by_or = False
        self._other_tea = any(one.is_hearsay for one in self.lexemes[sentence.first : sentence.after])
        first = self.lexemes[sentence.first]
        says_no_more = all(self.context.meanings[place] is None for place in range(sentence.first, sentence.after))
        goes_on = first.plain in KEEPS_LINK or (says_no_more and self._only_cues(sentence))
        self._last = earlier if goes_on else None
        self._is_linked = goes_on and earlier is not None
        if self._asked is not None:
            self._answer(first, sentence)

    def _only_cues(self, sentence: Sentence) -> bool:
        """Say whether a sentence has nothing of its own, so that its cues go back to the one before."""
        return not any(
            lexeme.is_unknown or lexeme.is_masked or ("start" in lexeme.roles and lexeme.plain not in KEEPS_LINK)
            for lexeme in self.lexemes[sentence.first : sentence.after]
        )

    def _answer(self, first: Lexeme, sentence: Sentence) -> None:
        """Let `None.` or `Yes.` answer the question before it."""
        asked, self._asked = self._asked, None
        if asked is None:
            return
        at = sentence.first
        stands_alone = at + 1 >= sentence.after or bool(self.lexemes[at + 1].cut)
        if "answer" in first.roles and stands_alone:
            asked.absent, asked.hedged = at, None
        elif first.plain in UNDOES:
            asked.hedged, asked.sure = None, at

    def _end(self, sentence: Sentence, here: list[Found]) -> None:
        if not sentence.asks or not here:
            return
        tail = " ".join(
            lexeme.plain for lexeme in self.lexemes[max(sentence.first, sentence.after - 3) : sentence.after]
        )
        if tail.endswith(TAGS):
            return
        last = here[-1]
        self._asked = last
        if last.hedged is None and last.absent is None:
            last.hedged = sentence.after - 1

    # -- one lexeme

    def _step(self, place: int, sentence: Sentence, earlier: Found | None) -> None:
        lexeme = self.lexemes[place]
        if place == self._spent:
            return
        if lexeme.is_masked:
            self._masked(place)
        elif lexeme.cut:
            self._cut(place, sentence)
        elif self.context.meanings[place] is not None:
            self._name(place)
        elif "comparative" in lexeme.roles or "colour change" in lexeme.roles:
            self._compare(place)
        elif lexeme.is_unknown or (lexeme.senses and not lexeme.roles):
            self._unknown()
        else:
            self._cue(place, sentence, earlier)

    def _masked(self, place: int) -> None:
        """Pass over talk; what other teas have is remembered for a while, in case this one is said not to have it."""
        self._wait, self._list = Waiting(), []
        lexeme = self.lexemes[place]
        note = next((sense for sense in lexeme.senses if isinstance(sense.meaning, Descriptor) and not sense.led), None)
        if note is not None and lexeme.is_hearsay and "idiom" not in lexeme.roles:
            found = Found(place, note.kind, note)
            found.expected = True
            self._expected.append(found)
            self.found.append(found)

    def _cut(self, place: int, sentence: Sentence) -> None:
        lexeme = self.lexemes[place]
        self._wait.strengths = [one for one in self._wait.strengths if one[1] == place - 1 and self._opens_a_list(one[1])]
        self._wait.up, self._wait.absent = [], None
        self._in_relative = False
        self._wait.has_article = self._wait.is_definite = False
        if self._wait.unknown:
            self._wait = Waiting(expected=self._wait.expected)
        if not self._list_goes_on(place, sentence):
            self._list = []
        if lexeme.cut not in COMMAS:
            self._denied = None
        elif self._denied is not None and self._list_ends_with_or(place, sentence):
            self._wait.absent = self._denied
        if self._wait.change and lexeme.cut in COMMAS:
            self._wait.change = None

    def _list_goes_on(self, place: int, sentence: Sentence) -> bool:
        """Say whether bare names follow a comma, the last behind `and`: `hints of peach, apricot and honey`."""
        if self.lexemes[place].cut not in COMMAS:
            return False
        joined = named = False
        for at in range(place + 1, sentence.after):
            lexeme = self.lexemes[at]
            if self.context.meanings[at] is not None:
                if joined:
                    return named
                named = True
            elif "and" in lexeme.roles or "or" in lexeme.roles:
                joined = True
            elif not (lexeme.cut and lexeme.cut in COMMAS) and not lexeme.is_unknown:
                return False
        return False

    def _list_ends_with_or(self, place: int, sentence: Sentence) -> bool:
        """Say whether a list goes on to `or` or `nor`, so that a denial holds for all of it."""
        for at in range(place + 1, sentence.after):
            lexeme = self.lexemes[at]
            if "or" in lexeme.roles:
                return True
            if (
                self.context.meanings[at] is None
                and not lexeme.cut
                and {"small", "talk", "noun"}.isdisjoint(lexeme.roles)
            ):
                return False
            if "start" in lexeme.roles or lexeme.is_masked:
                return False
        return False

    def _unknown(self) -> None:
        self._wait.unknown += 1
        self._is_linked = self._is_linked and self._in_relative
        if self._wait.unknown > 2:
            self._wait = Waiting(hedged=self._wait.hedged)

    # -- something is named

    def _name(self, place: int) -> None:
        sense = self.context.meanings[place]
        if sense is None:
            return
        wait, found = self._wait, Found(place, sense.kind, sense)
        lexeme = self.lexemes[place]
        found.before = [*wait.of, *wait.strengths] or ([] if wait.has_article else list(self._list))
        found.before = found.before if wait.absent is None else []
        found.up, found.absent, found.hedged, found.sure = wait.up, wait.absent, wait.hedged, wait.sure
        found.change, found.expected = wait.change, wait.expected
        found.definite = wait.is_definite
        if self._last is not None and self._last.at == place - 1 and found.absent is None:
            found.absent = self._last.absent if self._last.absent != place - 1 else None
        if lexeme.found == COMPARED and found.change is None:
            found.change = ("grows", place)
        if self._between is not None and found.absent is None:
            found.hedged = found.hedged if found.hedged is not None else self._between
        if self._joined_by_or:
            self._either(found, place)
        if self._than is not None:
            self._set_against(self._than, found, place)
        self._list = list(wait.of) if wait.of else ([] if wait.strengths or wait.has_article else self._list)
        self._denied = found.absent
        self._wait, self._than, self._joined_by_or = Waiting(expected=wait.expected), None, False
        self._last, self._is_linked, self._in_relative = found, True, False
        if found.expected:
            self._expected.append(found)
        else:
            self._expected = self._expected if wait.expected else []
        self.context.said.add(key_of(found))
        found.against_other = self._other_tea
        self.found.append(found)

    def _either(self, found: Found, place: int) -> None:
        """`peach or apricot` leaves both open."""
        if self._last is None or found.absent is not None or self._last.absent is not None:
            return
        for one in (self._last, found):
            if one.hedged is None:
                one.hedged = place - 1

    def _set_against(self, first: Found, second: Found, place: int) -> None:
        """`more peach than apricot`: neither stands against the last infusion."""
        key, at = first.change or ("", place)
        strengths = (MORE_STRENGTH, LESS_STRENGTH) if key in UP else (LESS_STRENGTH, MORE_STRENGTH)
        first.change = second.change = None
        if key_of(first) == key_of(second):
            first.behind.append((MORE_STRENGTH, at))
            return
        if not first.before and not first.behind:
            first.behind.append((strengths[0], at))
        if not second.before:
            second.before.append((strengths[1], at))

    def _compare(self, place: int) -> None:
        roles = self.lexemes[place].roles
        if "comparative" in roles:
            found = Found(place, "comparative")
            found.value = roles["comparative"].value
            self.found.append(found)
            self._last, self._is_linked = found, True
        elif (
            self.context.setting.is_liquor
            or "colour" in self.lexemes[place].plain
            or "color" in self.lexemes[place].plain
        ):
            self.found.append(Found(place, "colour change"))
        self._wait = Waiting()

    # -- words that have a say in something else

    def _cue(self, place: int, sentence: Sentence, earlier: Found | None) -> None:
        lexeme = self.lexemes[place]
        roles = lexeme.roles
        is_denial = self._may_deny(place) and self._denies(place) is not None
        is_closing = self._is_verb_denied(place) and self._is_last_word(place, sentence)
        if self._expected and not is_denial and (is_closing or not {"unmet", "absent"}.isdisjoint(roles)):
            self._unmet(place)
            return
        if "looked for" in roles:
            self._look_for(place)
            return
        if "instead" in roles:
            self._wait.absent = None
            return
        if self._deny(place, sentence):
            return
        ahead = self.context.ahead(place, over_commas=self._opens_a_list(place))
        if ahead is not None and self._forward(place, roles.keys()):
            self._joins(place)
            return
        if self._backward(place, earlier):
            self._joins(place)
            return
        self._pending(place)
        self._joins(place)

    def _opens_a_list(self, place: int) -> bool:
        """Say whether an adjective behind an article may be parted from its noun: `a faint, slightly dusty rose`."""
        return place > 0 and "by" in self.lexemes[place].roles and self.lexemes[place - 1].plain in ("a", "an", "some", "the")

    def _look_for(self, place: int) -> None:
        if self.context.ahead(place) is not None:
            self._wait = Waiting(expected=True)
            self._expected = []

    def _unmet(self, place: int) -> None:
        for one in self._expected:
            one.absent, one.expected = place, False
        self._expected = []
        self._wait = Waiting()

    def _deny(self, place: int, sentence: Sentence) -> bool:
        """Take a denial up, if this is one; say whether it was."""
        roles = self.lexemes[place].roles
        if self._may_deny(place):
            if self._weakens(place):
                return True
            if self._last is not None and self._is_linked and self._stands_behind(place, sentence):
                self._last.absent = place
                return True
            at = self._denies(place)
            if at is not None:
                self._wait.absent = place
                self._wait.strengths = []
                return True
        if "absent" in roles and self._last is not None and self._is_linked and self._may_close(place, sentence):
            self._gone(place)
            return True
        return False

    def _may_close(self, place: int, sentence: Sentence) -> bool:
        """Say whether a denial closes a statement: `I don't` does only at its end."""
        return not _is_open(self.lexemes[place]) or self._is_last_word(place, sentence)

    def _stands_behind(self, place: int, sentence: Sentence) -> bool:
        """Say whether a bare `no` closes what was named: `bitter no, astringent no`."""
        words = self.lexemes[place].plain
        if place == sentence.first or self._last is None or self._last.at != self._word_before(place):
            return False
        return words == "none" or (words in ("no", "zero") and self._is_last_word(place, sentence))

    def _may_deny(self, place: int) -> bool:
        """Say whether a denial may lead on: `there isn't any` closes a statement, or denies what follows."""
        roles = self.lexemes[place].roles
        closes = not {"absent", "unmet"}.isdisjoint(roles)
        return not {"not", "no"}.isdisjoint(roles) or (closes and _is_open(self.lexemes[place]))

    def _is_verb_denied(self, place: int) -> bool:
        lexeme = self.lexemes[place]
        return "not" in lexeme.roles or lexeme.plain in ("not", "never") or _is_open(lexeme)

    def _is_last_word(self, place: int, sentence: Sentence) -> bool:
        return place + 1 >= sentence.after or bool(self.lexemes[place + 1].cut)

    def _weakens(self, place: int) -> bool:
        """Let `isn't overpowering` make what was named weak, and `not a strong` what will be; say whether it does."""
        if not self._is_verb_denied(place):
            return False
        at = place + 1
        while at < len(self.lexemes) and self.lexemes[at].plain in ("a", "an", "at", "all", "really", "especially"):
            at += 1
        cue = self.lexemes[at].roles.get("by") if at < len(self.lexemes) else None
        if cue is None or cue.value < MORE_STRENGTH or self.context.meanings[at] is not None:
            return False
        if self.context.ahead(at) is not None:
            self._wait.strengths = [(LESS_STRENGTH, place)]
        elif self._last is not None and self._is_linked:
            self._last.behind.append((LESS_STRENGTH, place))
        else:
            return False
        self._spent = at
        return True

    def _word_before(self, place: int) -> int:
        before = place - 1
        while before > 0 and self.lexemes[before].cut and self.lexemes[before].cut in ",:，：":
            before -= 1
        return before

    def _denies(self, place: int) -> int | None:
        """Return what a denial is about: the next thing named, or the unknown word that stands there; else None."""
        ahead = self.context.ahead(place)
        if ahead is not None:
            return ahead if self._denies_perceiving(place, ahead) else None
        following = self.lexemes[place + 1 : place + 3]
        bare = [lexeme for lexeme in following if "small" not in lexeme.roles]
        return place + 1 if bare and bare[0].is_unknown and "no" in self.lexemes[place].roles else None

    def _denies_perceiving(self, place: int, ahead: int) -> bool:
        """Say whether a verb is denied that speaks of perceiving: not in `I don't hate the smoke`."""
        if not self._is_verb_denied(place):
            return True
        between = self.lexemes[place + 1 : ahead]
        return not any(lexeme.is_unknown and not lexeme.plain.endswith("ly") for lexeme in between)

    def _gone(self, place: int) -> None:
        """Let `are gone` hold for all that was joined by `and` right before it."""
        last = self._last
        if last is None:
            return
        if self._is_almost(place):
            last.behind.append((LEAST_STRENGTH, place))
            return
        last.absent = place
        if self.lexemes[place].plain.split()[0] in ("are", "have", "were"):
            place = last.at - 1
            while place > 0 and ("and" in self.lexemes[place].roles or "small" in self.lexemes[place].roles):
                place -= 1
            if len(self.found) > 1 and self.found[-2].at == place:
                self.found[-2].absent = last.absent

    def _is_almost(self, place: int) -> bool:
        return any(lexeme.plain in ALMOST for lexeme in self.lexemes[max(0, place - 2) : place])

    def _forward(self, place: int, roles: object) -> bool:
        """Let a cue wait for what follows; say whether it does."""
        lexeme = self.lexemes[place]
        wait = self._wait
        if "of" in lexeme.roles:
            wait.of.append((self._composed(place, lexeme.roles["of"].value), place))
            wait.hedged = place if "hedge" in lexeme.roles else wait.hedged
            self._list = []
        elif "change" in lexeme.roles and not self._is_followed_by_than(place):
            wait.change = (lexeme.roles["change"].key, place)
        elif cue := lexeme.roles.get("by") or lexeme.roles.get("before"):
            if "by" not in lexeme.roles and self._is_about_talk(place):
                return True
            if not ({"up", "soft"} & lexeme.roles.keys() and self._pushes(place)):
                wait.strengths.append((shifted(list(self.lexemes), place, cue.value), place))
        elif "hedge" in lexeme.roles:
            self._hedge(place)
        elif "sure" in lexeme.roles:
            wait.sure, wait.hedged = place, None
        else:
            return False
        return True

    def _is_about_talk(self, place: int) -> bool:
        """Say whether `really` only pushes praise or an unknown adjective: `a really strange note`."""
        following = self.lexemes[place + 1]
        return self.context.meanings[place + 1] is None and ("talk" in following.roles or following.is_unknown)

    def _composed(self, place: int, value: float) -> float:
        """Return the strength of `a hint of` with the adjectives before it: the lower of two low ones, else the higher."""
        earlier = [one for one, at in self._wait.strengths if at >= place - 2]
        self._wait.strengths = [one for one in self._wait.strengths if one[1] < place - 2]
        if not earlier:
            return value
        both = [*earlier, value]
        return min(both) if min(both) <= 2 else max(both)

    def _pushes(self, place: int) -> bool:
        following = self.lexemes[place + 1 : place + 2]
        return (
            bool(following)
            and not {"by", "before", "of", "after"}.isdisjoint(following[0].roles)
            and (self.context.meanings[place + 1] is None)
        )

    def _hedge(self, place: int) -> None:
        self._wait.hedged, self._wait.sure = place, None
        if "between" in self.lexemes[place].plain:
            self._between = place

    def _is_followed_by_than(self, place: int) -> bool:
        following = self.lexemes[place + 1 : place + 2]
        return bool(following) and following[0].plain == "than"

    def _backward(self, place: int, earlier: Found | None) -> bool:
        """Let a cue go back to what was named last; say whether it does."""
        last, roles = self._last, self.lexemes[place].roles
        if last is None or not self._is_linked:
            return False
        if "change after" in roles:
            last.change = (roles["change after"].key, place)
        elif "change" in roles and self._is_followed_by_than(place):
            last.change = (roles["change"].key, place)
        elif "last" in roles:
            self._against_last(last, place)
        elif "after" in roles and self._leads_on(place):
            return False
        elif "after" in roles:
            last.behind.append((roles["after"].value, place))
        elif "by" in roles and self._tells_how_far(last, place):
            last.change = (MUCH.get(last.change[0], last.change[0]), last.change[1]) if last.change else None
        elif "by" in roles and not self._pushes(place):
            last.behind.append((shifted(list(self.lexemes), place, roles["by"].value), place))
        elif "hedge after" in roles and self.context.ahead(place, over_likes=True) is None:
            last.hedged = place if last.sure is None else last.hedged
        elif "sure" in roles:
            last.sure, last.hedged = place, None
        elif "hedge" in roles and self.context.ahead(place, over_starts=True, over_likes=True) is None:
            last.hedged = place
        else:
            return False
        return True

    def _tells_how_far(self, last: Found, place: int) -> bool:
        """Say whether a strength tells how much something changed: `has faded a lot`."""
        return (
            last.change is not None
            and last.change[0] in MUCH
            and 0 < place - last.change[1] <= 2
            and self.lexemes[place].roles["by"].value >= MORE_STRENGTH
        )

    def _leads_on(self, place: int) -> bool:
        """Say whether a word such as `underneath` begins a clause about what follows it."""
        before = self.lexemes[place - 1] if place else None
        begins = before is None or bool(before.cut) or not {"and", "contrast", "start"}.isdisjoint(before.roles)
        return begins and self.context.ahead(place) is not None

    def _against_last(self, last: Found, place: int) -> None:
        if last.change is None and any(value >= MORE_STRENGTH for value, _ in last.before):
            last.change = ("grows", place)

    def _pending(self, place: int) -> None:
        """Let a cue wait over the start of a statement: `maybe it's peach`, `a lot of, let me see, peach`."""
        roles = self.lexemes[place].roles
        if "of" in roles and self.context.ahead(place, over_commas=True) is not None:
            self._wait.of.append((roles["of"].value, place))
        if "hedge" in roles and self.context.ahead(place, over_starts=True, over_likes=True) is not None:
            self._hedge(place)
        if "sure" in roles and self.context.ahead(place, over_starts=True) is not None:
            self._wait.sure = place

    # -- words that join and part

    def _joins(self, place: int) -> None:
        lexeme = self.lexemes[place]
        roles = lexeme.roles
        if lexeme.plain in RELATIVES and self._last is not None and self._last.at == place - 1:
            self._in_relative = True
        if "or" in roles:
            self._or(place)
        elif "and" in roles:
            self._and(lexeme)
        if "start" in roles and "perceive" in roles and self._wait.absent is not None:
            return
        if "start" in roles or "contrast" in roles:
            if not self._is_relative(place):
                self._part(lexeme)
        elif lexeme.plain in ("a", "an", "some", "the", "this", "that"):
            self._wait.has_article = True
            self._wait.is_definite = lexeme.plain in ("the", "this", "that")
        elif lexeme.plain == "than" and self._last is not None and self._is_linked:
            self._than = self._last if self._last.change and self._last.change[0] in UP | DOWN else None
        if not {"mouth", "end", "liquor", "leaf"}.isdisjoint(roles) and self._wait.is_definite:
            self._is_linked = False

    def _is_relative(self, place: int) -> bool:
        """Say whether a statement only tells which one is meant: `the smoke I noticed on the dry leaf has gone`."""
        last = self._last
        is_mine = self.lexemes[place].plain.startswith(("i ", "we ", "you "))
        return is_mine and last is not None and last.at == place - 1 and last.definite

    def _or(self, place: int) -> None:
        if self._denied is not None:
            self._wait.absent = self._denied
        elif self._last is not None and self._is_linked and self.context.ahead(place) is not None:
            self._joined_by_or = True

    def _and(self, lexeme: Lexeme) -> None:
        if lexeme.plain not in ANDS_THAT_GO_ON:
            self._list = []
        denied = self._denied
        if denied is not None and self.lexemes[denied].plain.startswith(DENIALS_OVER_AND):
            self._wait.absent = denied
        self._wait.has_article = False

    def _part(self, lexeme: Lexeme) -> None:
        """A new statement: what waits is let go, but for doubt, which was about the statement itself."""
        wait = self._wait
        self._wait = Waiting(hedged=wait.hedged, sure=wait.sure, expected=wait.expected and "start" not in lexeme.roles)
        self._list, self._denied, self._between = [], None, None
        if "start" in lexeme.roles and lexeme.plain not in KEEPS_LINK:
            self._is_linked = False

    # -- numbers

    def _give_numbers(self, counted: Sequence[Number], here: Sequence[Found], sentence: Sentence) -> None:
        for number in counted:
            if not self._means_something(number, sentence):
                continue
            some = len(counted) > 1
            for one in (self._left_of(number, here, sentence, some), self._right_of(number, here)):
                if one is not None and one.number is None:
                    if _can_be(number, one):
                        one.number = (number.value, number.first)
                    break

    def _means_something(self, number: Number, sentence: Sentence) -> bool:
        behind = self.lexemes[number.after] if number.after < sentence.after else None
        if behind is None:
            return True
        return (
            "ordinal" not in behind.roles
            and "unit" not in behind.roles
            and behind.plain not in ("out of ten", "out of")
        )

    def _left_of(self, number: Number, here: Sequence[Found], sentence: Sentence, among_others: bool) -> Found | None:
        """Return what was named before a number that is its strength."""
        one = next((one for one in reversed(here) if one.at < number.first), None)
        if one is None or number.first - one.at > FARTHEST_NUMBER + 1:
            return None
        between = self.lexemes[one.at + 1 : number.first]
        is_led = any("lead" in lexeme.roles for lexeme in between)
        passable = all(
            lexeme.cut in (",", ":", "，") if lexeme.cut else not lexeme.is_unknown and not lexeme.is_masked
            for lexeme in between
        )
        if not passable or (not number.in_figures and not is_led and not self._closes(number, sentence, among_others)):
            return None
        return one if is_led or len(between) <= 1 or number.is_of_five else None

    def _closes(self, number: Number, sentence: Sentence, among_others: bool) -> bool:
        """Say whether a number in words stands at the end of a phrase; `one` does among others only."""
        if number.value == 1 and not among_others:
            return False
        if number.after >= sentence.after:
            return True
        behind = self.lexemes[number.after]
        return bool(behind.cut) or self.context.meanings[number.after] is not None or "and" in behind.roles

    def _right_of(self, number: Number, here: Sequence[Found]) -> Found | None:
        one = next((one for one in here if one.at >= number.after), None)
        if one is None:
            return None
        between = self.lexemes[number.after : one.at]
        if number.in_figures and len(between) <= 2 and all(_is_adjective(lexeme) for lexeme in between):
            return one
        words = [lexeme.plain for lexeme in between]
        if all(word in ("for", "of", "on", "out of five", "out of 5", "the") for word in words):
            return one if number.in_figures or "for" in words or "out of five" in words else None
        return None


def _is_open(lexeme: Lexeme) -> bool:
    """Say whether a denial can stand at the end (`the smoke I cannot taste`) and before what it denies alike."""
    return lexeme.plain.endswith(OPEN_DENIALS) or lexeme.plain.startswith(I_DO_NOT)


def _is_adjective(lexeme: Lexeme) -> bool:
    return lexeme.is_unknown or "talk" in lexeme.roles


def _can_be(number: Number, found: Found) -> bool:
    """Say whether a number can be meant: a strength is whole, and nothing but a time goes beyond 5."""
    meaning = found.sense.meaning if found.sense else None
    if isinstance(meaning, ScaleWord):
        return bool(meaning.scale.unit) or number.value <= MOST
    return number.value in range(MOST + 1)


def _overlaps(number: Number, measured: Sequence[Quantity]) -> bool:
    return any(one.first <= number.first < one.after for one in measured)
