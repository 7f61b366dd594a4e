"""A passage read word by word: what is named, how strongly, and whether it is denied or doubted.

Words before a thing wait for it (`a hint of`, `no`, `maybe`); words behind it go back to it (`…, faint`, `is gone`). A
wait ends where a clause does. The rules are told in `resources/grammar/README.md`.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from tastebook.domain.saying_counts import give_numbers
from tastebook.domain.saying_denials import (
    corrects_itself,
    denied,
    denies_a_verb,
    is_last_word,
    makes_that,
    may_close,
    may_deny,
    says_otherwise,
)
from tastebook.domain.saying_denying import Denying
from tastebook.domain.saying_found import (
    Found,
    Waiting,
    is_against_another,
    key_of,
    measures_back,
    shifted,
    tells_where,
)
from tastebook.domain.saying_frames import Sentence, is_contrast
from tastebook.domain.saying_general import is_named_by, is_said_longer
from tastebook.domain.saying_lexicon import COMPARED, Lexeme
from tastebook.domain.saying_lists import COMMAS, list_ends_with_or, list_goes_on
from tastebook.domain.saying_numbers import Number, Quantity, keep, numbers, quantities
from tastebook.domain.saying_tokens import STOPS
from tastebook.domain.vocabulary import Descriptor, ScaleWord

MOST_UNKNOWN: Final = 2
NOT_SO: Final = ("not so", "not as", "it is not", "it isnt", "its not", "isnt so", "not that")
IT: Final = (["it"], ["that"], ["them"])
AS_IT_WAS: Final = frozenset({"as before", "as it was", "as last time"})
LOW: Final = 2.0
UP: Final = frozenset({"grows", "much more"})
DOWN: Final = frozenset({"fades", "much less", "less strong"})
MUCH: Final = {"fades": "much less", "grows": "much more", "less strong": "much less"}
MORE_STRENGTH, LESS_STRENGTH = 4.0, 2.0


class Reader(Denying):
    """Reads the sentences of one passage, in order."""

    def read(self, sentence: Sentence) -> list[Found]:
        """Read one sentence and return what was found in it."""
        earlier, self._last = self._last, None
        self._stood_last = self.found[-1] if self.found else None
        self._begin(sentence, earlier)
        begun = len(self.found)
        counted = numbers(self.lexemes, sentence)
        measured = quantities(self.context, sentence, counted)
        # A plan is of no cup yet: `next time` says so, and it is all the same a number for the field of the plan.
        told = [one for one in measured if one.key == "plan_s" or not self.lexemes[one.first].is_masked]
        keep(self.context, self.quantities, told, counted)
        taken = {place for one in measured for place in range(one.first, one.after)}
        taken |= {place for one in counted for place in range(one.first, one.after)}
        for place in range(sentence.first, sentence.after):
            if place in taken:
                self._is_linked = self._is_linked and not any(one.first <= place < one.after for one in measured)
            else:
                self._step(place, sentence)
        here = self.found[begun:]
        give_numbers(self.context, [one for one in counted if not _overlaps(one, measured)], here, sentence)
        self._end(sentence, here)
        return here

    # -- the ends of a sentence

    def _begin(self, sentence: Sentence, earlier: Found | None) -> None:
        self._wait, self._list, self._denied, self._between, self._than = Waiting(), [], None, None, None
        self._joined_by_or = False
        self._other_teas = [at for at in range(sentence.first, sentence.after) if self.lexemes[at].is_hearsay]
        first = self.lexemes[sentence.first]
        says_no_more = all(self.context.meanings[place] is None for place in range(sentence.first, sentence.after))
        goes_on = "goes on" in first.roles or (says_no_more and self._only_cues(sentence))
        self._last = earlier if goes_on else None
        self._is_linked = goes_on and earlier is not None
        if self._asked is not None:
            self._answer(first, sentence)
        elif says_otherwise(self.context, sentence, self._stood_last) or makes_that(self.context, sentence):
            self._retract(sentence.first)

    def _only_cues(self, sentence: Sentence) -> bool:
        """Say whether a sentence has nothing of its own, so that its cues go back to the one before."""
        return not any(
            lexeme.is_unknown or lexeme.is_masked or ("start" in lexeme.roles and "goes on" not in lexeme.roles)
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
            asked.absent, asked.hedged, self._spent = at, None, at
        elif "yes" in first.roles:
            asked.hedged, asked.sure = None, at if "sure" in first.roles else None

    def _end(self, sentence: Sentence, here: list[Found]) -> None:
        if not sentence.asks or not here:
            return
        if "tag" in self.lexemes[sentence.after - 1].roles:
            return
        last = here[-1]
        self._asked = self._questioned = last
        if last.hedged is None and last.absent is None:
            last.hedged = sentence.after - 1

    # -- one lexeme

    def _step(self, place: int, sentence: Sentence) -> None:
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
            self._unknown(place)
        else:
            self._cue(place, sentence)

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
        self._wait.strengths = [
            one for one in self._wait.strengths if one[1] == place - 1 and self._opens_a_list(one[1])
        ]
        self._wait.absent = None
        self._in_relative = False
        self._wait.has_article = self._wait.is_definite = False
        if self._wait.unknown:
            self._wait = Waiting(expected=self._wait.expected)
        if not list_goes_on(self.context, place, sentence):
            self._list = []
        if lexeme.cut not in COMMAS:
            self._denied = None
        elif self._denied is not None and list_ends_with_or(self.context, place, sentence):
            self._wait.absent = self._denied
        if self._wait.change and lexeme.cut in COMMAS:
            self._wait.change = None

    def _unknown(self, place: int) -> None:
        note = next((sense for sense in self.lexemes[place].senses if sense.kind == "descriptor"), None)
        if self._wait.unsays and note is not None:
            self._unsay(Found(place, note.kind, note))
        self._wait.unknown += 1
        self._is_linked = self._is_linked and self._in_relative
        if self._wait.unknown > MOST_UNKNOWN:
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
        found.absent, found.hedged, found.sure = wait.absent, wait.hedged, wait.sure
        found.change, found.expected = wait.change, wait.expected
        found.definite = wait.is_definite
        if self._last is not None and self._last.at == place - 1 and found.absent is None:
            found.absent = self._last.absent if self._last.absent != place - 1 else None
        if lexeme.found == COMPARED and found.change is None:
            found.change = ("grows", place)
        self._stand_beside(found, place)
        self._follow_up(found)
        self._list = list(wait.of) if wait.of else ([] if wait.strengths or wait.has_article else self._list)
        self._denied = found.absent
        self._wait, self._than, self._joined_by_or = Waiting(expected=wait.expected), None, False
        self._last, self._is_linked, self._in_relative = found, True, False
        is_less = self._is_less_than_another(found, place)
        if found.expected or is_less:
            self._expected.append(found)
        else:
            self._expected = self._expected if wait.expected else []
        self.context.said.add(key_of(found))
        if wait.unsays:
            self._unsay(found)
        found.against_other = is_against_another(self.lexemes, place, self._other_teas)
        found.expected = found.expected or is_less or self._was_denied(found, place)
        if found.kind == "colour" and place and self.lexemes[place - 1].plain == "than":  # `darker than amber`
            found.expected = True
        self.found.append(found)

    def _follow_up(self, found: Found) -> None:
        """Let a name answer the question before it, or say again at once what was just named."""
        asked, last = self._questioned, self._last
        self._questioned = None
        if asked is not None and found.absent is None:
            found.restates = key_of(asked) == key_of(found)
            asked.expected = asked.expected or is_named_by(self.context, asked, found)
        if last is not None and is_said_longer(self.context, last, found):
            found.restates = True

    def _is_less_than_another(self, found: Found, place: int) -> bool:
        """Say whether another tea has more of it, which tells nothing of this one: `less sweet than the Sunday one`."""
        following = self.lexemes[place + 1 : place + 3]
        is_against = any(not {"against", "onward"}.isdisjoint(one.roles) for one in following)
        is_against = is_against and _compares(following[0])
        is_less = found.change is not None and found.change[0] in DOWN
        is_weak = any(self.lexemes[at].plain.startswith(NOT_SO) for _, at in found.before)
        return is_against and (is_less or is_weak or found.absent is not None)

    def _stand_beside(self, found: Found, place: int) -> None:
        """Let what was named before have its say: `between`, `or`, `than`."""
        if self._between is not None and found.absent is None and found.hedged is None:
            found.hedged = self._between
        if self._joined_by_or:
            self._either(found, place)
        if self._than is not None:
            self._set_against(self._than, found, place)

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
        if {first.kind, second.kind} == {"scale"} and key in UP:  # `more savoury than sweet` tells one of them
            second.expected = True
        if key_of(first) == key_of(second):
            first.behind.append((MORE_STRENGTH, at))
            return
        if not first.before and not first.behind:
            first.behind.append((strengths[0], at))
        if not second.before:
            second.before.append((strengths[1], at))

    def _compare(self, place: int) -> None:
        roles = self.lexemes[place].roles
        if place and "definite" in self.lexemes[place - 1].roles and " " not in self.lexemes[place].plain:
            self._unknown(place)  # `the dryer` is a machine
            return
        if "comparative" in roles:
            found = Found(place, "comparative")
            found.value = roles["comparative"].value
            found.against_other = is_against_another(self.lexemes, place, self._other_teas)
            self.found.append(found)
            self._last, self._is_linked = found, True
        elif self.context.setting.is_liquor or "colo" in self.lexemes[place].plain:
            self.found.append(Found(place, "colour change"))
        self._wait = Waiting()

    # -- words that have a say in something else

    def _cue(self, place: int, sentence: Sentence) -> None:
        lexeme = self.lexemes[place]
        roles = lexeme.roles
        is_denial = may_deny(lexeme) and denied(self.context, place) is not None
        is_closing = (denies_a_verb(lexeme) or lexeme.plain == "no") and is_last_word(self.context, place, sentence)
        is_unmet = "unmet" in roles or ("absent" in roles and may_close(self.context, place, sentence))
        if self._expected and not is_denial and (is_closing or is_unmet):
            self._unmet(place)
            return
        if "looked for" in roles:
            if not self._was_looked_for(place):
                self._look_for(place)
            return
        if "instead" in roles:
            self._wait.absent = None
            return
        if "confirms" in roles and self._expected:
            for one in self._expected:
                one.expected = False
            self._expected = []
            return
        if "likewise" in roles and self._last is not None and self._last.absent is not None:
            self._wait.absent = self._last.absent
            return
        if "unsays" in roles:
            self._wait = Waiting(unsays=True)
            return
        if "retracts" in roles and self._retract(place):
            return
        takes_back = "takes back" in roles and not self._is_only_sorry(place)
        if (takes_back or corrects_itself(self.context, place, sentence)) and self._take_back(place):
            return
        if self._deny(place, sentence):
            return
        if self._comes_back(place, sentence) or self._is_of_it(place):
            return
        ahead = self.context.ahead(place, over_commas=self._opens_a_list(place))
        last = self._last if self._is_linked else None
        if last is not None and ahead is not None and measures_back(self.context, last, place, ahead):
            last.behind.append((shifted(self.lexemes, place, roles["by"].value), place))
            return
        if ahead is not None and self._forward(place):
            self._joins(place)
            return
        if not self._backward(place):
            self._pending(place)
        self._joins(place)

    def _opens_a_list(self, place: int) -> bool:
        """Say whether an adjective behind an article may be parted from its noun: `a faint, slightly dusty rose`."""
        return place > 0 and "by" in self.lexemes[place].roles and "article" in self.lexemes[place - 1].roles

    def _forward(self, place: int) -> bool:
        """Let a cue wait for what follows; say whether it does."""
        lexeme = self.lexemes[place]
        wait = self._wait
        if "of" in lexeme.roles:
            value = shifted(self.lexemes, place, lexeme.roles["of"].value)
            wait.of.append((self._composed(place, value), place))
            wait.hedged = place if "hedge" in lexeme.roles else wait.hedged
            self._list = []
        elif "change" in lexeme.roles and not self._is_followed_by_than(place):
            wait.change = (lexeme.roles["change"].key, place)
        elif cue := lexeme.roles.get("by") or lexeme.roles.get("before"):
            if "by" not in lexeme.roles and self._is_about_talk(place):
                return True
            if not ({"up", "soft"} & lexeme.roles.keys() and self._pushes(place)):
                wait.strengths.append((shifted(self.lexemes, place, cue.value), place))
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
        """Return the strength of `a hint of` with adjectives before it: the lower of two low ones, else the higher."""
        earlier = [one for one, at in self._wait.strengths if at >= place - 2]
        self._wait.strengths = [one for one in self._wait.strengths if one[1] < place - 2]
        if not earlier:
            return value
        both = [*earlier, value]
        return min(both) if min(both) <= LOW else max(both)

    def _pushes(self, place: int) -> bool:
        """Say whether `very` stands before another strength, which it then only pushes on."""
        following = self.lexemes[place + 1 : place + 2]
        is_strength = bool(following) and not {"by", "before", "of", "after"}.isdisjoint(following[0].roles)
        return is_strength and self.context.meanings[place + 1] is None

    def _hedge(self, place: int) -> None:
        self._wait.hedged, self._wait.sure = place, None
        if "between" in self.lexemes[place].plain:
            self._between = place

    def _is_followed_by_than(self, place: int) -> bool:
        following = self.lexemes[place + 1 : place + 2]
        return bool(following) and following[0].plain.split()[:1] == ["than"]

    def _backward(self, place: int) -> bool:
        """Let a cue go back to what was named last; say whether it does."""
        last, lexeme = self._last, self.lexemes[place]
        roles = lexeme.roles
        if last is None or not self._is_linked:
            return False
        if "change after" in roles and last.change is not None and lexeme.plain in AS_IT_WAS:
            return True  # `not as thick as before`: it is told already how it stands to that
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
        elif ("by" in roles and self._is_felt_anew(last, place)) or (
            "by" in roles and tells_where(self.lexemes, place)
        ):
            return False
        elif "by" in roles and not self._pushes(place) and not self._is_of_the_unknown(place):
            last.behind.append((shifted(self.lexemes, place, roles["by"].value), place))
        elif "hedge after" in roles and self.context.ahead(place, over_likes=True) is None:
            last.hedged = place if last.sure is None else last.hedged
        elif "sure" in roles:
            last.sure, last.hedged = place, None
        elif "hedge" in roles and self.context.ahead(place, over_starts=True, over_likes=True) is None:
            last.hedged = place
        else:
            return False
        return True

    def _is_of_it(self, place: int) -> bool:
        """Let a strength go back to what was named: `the roast has dropped, there's only a trace of it`."""
        roles = self.lexemes[place].roles
        cue = roles.get("of") or roles.get("by")
        following = [one.plain for one in self.lexemes[place + 1 : place + 3]]
        following = following[1:] if following[:1] == ["of"] else following
        if cue is None or self._last is None or following[:1] not in IT:
            return False
        self._last.behind.append((shifted(self.lexemes, place, cue.value), place))
        return True

    def _is_felt_anew(self, last: Found, place: int) -> bool:
        """Say whether a word of the mouth tells of the tea, not of what was named a sentence ago: `It's thick, too`."""
        meanings = [sense.meaning for sense in self.lexemes[place].senses]
        unasked = self.context.grammar.only_asked
        is_felt = any(isinstance(one, ScaleWord) and one.scale.key not in unasked for one in meanings)
        return is_felt and any(lexeme.cut in STOPS for lexeme in self.lexemes[last.at : place])

    def _is_of_the_unknown(self, place: int) -> bool:
        """Say whether a strength only measures a word that nobody knows: `very relaxed, a bit sleepy`."""
        following = self.lexemes[place + 1 : place + 2]
        is_apart = place > 0 and bool(self.lexemes[place - 1].cut)
        return is_apart and bool(following) and following[0].is_unknown

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
        if "relative" in roles and self._last is not None and self._last.at == place - 1:
            self._in_relative = True
        if "or" in roles:
            self._or(place)
        elif "and" in roles:
            self._and(lexeme)
        if "start" in roles and "perceive" in roles and self._wait.absent is not None:
            return
        if not {"start", "only"}.isdisjoint(roles) or is_contrast(self.lexemes, place):
            self._part(place)
        elif "article" in roles:
            self._wait.has_article, self._wait.is_definite = True, "definite" in roles
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
        if "joins" not in lexeme.roles:
            self._list = []
        if self._denied is not None and self.lexemes[self._denied].plain.startswith(self.context.grammar.over_and):
            self._wait.absent = self._denied
        self._wait.has_article = False

    def _part(self, place: int) -> None:
        """Let what waits go at a new statement, but for doubt, which was about the statement itself."""
        if self._is_relative(place):
            return
        lexeme, wait = self.lexemes[place], self._wait
        self._wait = Waiting(hedged=wait.hedged, sure=wait.sure, expected=wait.expected and "start" not in lexeme.roles)
        self._list, self._denied, self._between = [], None, None
        if "start" in lexeme.roles and "goes on" not in lexeme.roles:
            self._is_linked = False


def _compares(lexeme: Lexeme) -> bool:
    return lexeme.plain in ("than", "as", "then") or "against" in lexeme.roles


def _overlaps(number: Number, measured: Sequence[Quantity]) -> bool:
    return any(one.first <= number.first < one.after for one in measured)
