"""What a known word means where it stands: a note, a reading, a colour, or only an adjective."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from functools import lru_cache
from typing import Final

from tastebook.domain.colour_words import ColourName
from tastebook.domain.grammar import Grammar
from tastebook.domain.saying_frames import Sentence
from tastebook.domain.saying_lexicon import COMPARED, EXACT, FORM, Lexeme, Sense
from tastebook.domain.saying_scales import (
    as_lasting,
    is_smelt,
    measures_another,
    of_the_named,
    of_the_nearest,
    told_cold,
    told_scent,
    unasked,
)
from tastebook.domain.saying_setting import TASTED_CHANNELS, Setting, Subjects
from tastebook.domain.spelling import forms
from tastebook.domain.vocabulary import Clarity, Descriptor, Scale, ScaleWord

BODY: Final = "body"
UNCLEAR: Final = frozenset({"dim", "turbid"})

LEADS: Final = frozenset(
    {"of", "by", "before", "up", "soft", "hedge", "sure", "like", "change", "no", "not", "start", "perceive", "noun"}
)
LEADS_TO_THE: Final = frozenset({"of", "no", "channel"})
LOOSE: Final = frozenset({"small", "talk", "up", "soft", "before"})
AROUND: Final = frozenset(
    {"by", "before", "up", "soft", "hedge", "small", "talk", "of", "no", "sure", "and", "change", "start"}
)
BEHIND: Final = frozenset(
    {"by", "after", "absent", "hedge after", "change after", "noun", "sure", "up", "soft", "hedge", "last", "answer"}
)
PREDICATES: Final = frozenset({"after", "absent", "change after"})
AHEAD: Final = frozenset(
    {
        "small",
        "talk",
        "by",
        "before",
        "up",
        "soft",
        "of",
        "hedge",
        "sure",
        "noun",
        "perceive",
        "change",
        "hedge after",
        "lead",
    }
)
LOOKS: Final = ("colo", "hue", "look", "clarity", "liquor", "汤")
FARTHEST_AHEAD: Final = 7
FARTHEST_SUBJECT, FARTHEST_LOOK = 6, 12
MOST_UNKNOWN_AHEAD: Final = 2


class Context:
    """The lexemes of a passage, with what each means where it stands."""

    def __init__(
        self, lexemes: Sequence[Lexeme], grammar: Grammar, setting: Setting, scales: Sequence[Scale] = ()
    ) -> None:
        self.scales: Mapping[str, Scale] = {scale.key: scale for scale in scales}
        self.lexemes, self.grammar, self.setting = lexemes, grammar, setting
        self.meanings: list[Sense | None] = [None] * len(lexemes)
        self.said: set[str] = set()
        self.taken_back: set[int] = set()

    def read(self, sentence: Sentence) -> None:
        """Find out what the known words of a sentence mean; the last first, since adjectives ask what follows them."""
        subjects = Subjects.of(self.lexemes[sentence.first : sentence.after])
        for place in range(sentence.after - 1, sentence.first - 1, -1):
            lexeme = self.lexemes[place]
            if "cold" in lexeme.roles:
                self.meanings[place] = told_cold(self, place, sentence)
            if lexeme.is_masked:
                continue
            if lexeme.senses:
                self.meanings[place] = self._meaning(place, sentence, subjects)
            if "scent" in lexeme.roles and self.meanings[place] is None:
                self.meanings[place] = told_scent(self, place, sentence)

    def ahead(
        self, place: int, *, over_starts: bool = False, over_commas: bool = False, over_likes: bool = False
    ) -> int | None:
        """Return where the known word stands that words at a place lead to, None if they lead to none."""
        unknown = 0
        for at in range(place + 1, min(place + 1 + FARTHEST_AHEAD, len(self.lexemes))):
            lexeme = self.lexemes[at]
            if lexeme.is_masked or (lexeme.cut and not (over_commas and lexeme.cut in ",，、")):
                return None
            if self.meanings[at] is not None:
                return at
            roles = lexeme.roles
            if "start" in roles and not over_starts and "perceive" not in roles:
                return None
            if "and" in roles and not self._joins_adjectives(at):
                return None
            if lexeme.is_unknown or (lexeme.senses and not roles):
                unknown += 1
                if unknown > MOST_UNKNOWN_AHEAD:
                    return None
            elif (over_likes and "like" in roles) or _leads_to_its_word(lexeme):
                continue
            elif AHEAD.isdisjoint(roles) and "and" not in roles and not lexeme.cut and "start" not in roles:
                return None
        return None

    def _joins_adjectives(self, place: int) -> bool:
        following = self.lexemes[place + 1 : place + 2]
        return bool(following) and not {"by", "before", "talk", "up"}.isdisjoint(following[0].roles)

    # -- one word

    def _meaning(self, place: int, sentence: Sentence, subjects: Subjects) -> Sense | None:
        lexeme = self.lexemes[place]
        is_led = self._is_led(place, sentence)
        is_listed = self._is_listed(place, sentence)
        senses = [sense for sense in lexeme.senses if not sense.led or self._is_led_close(place)]
        if dull := self._dulls(place, senses):
            return dull
        if not senses or "change after" in lexeme.roles or ("by" in lexeme.roles and self._modifies(place)):
            return None
        if colour := self._colour(senses, place, subjects, sentence):
            return colour
        if self._tints(place) or measures_another(self, place) or self._is_part_of_a_thing(place):
            return None
        if named := of_the_named(self, place, senses):
            return named
        senses = as_lasting(self, of_the_nearest(self, place, sentence, senses))
        if asked := self._asked(senses):
            return asked
        clarity = next((sense for sense in senses if sense.kind == "clarity"), None)
        if clarity and (self.setting.clarity or subjects.liquor or (subjects.pale and not subjects.nose)):
            return clarity
        note = next((sense for sense in senses if sense.kind == "descriptor"), None)
        if self._any_form(lexeme.plain, self.grammar.modifiers) and self.is_before_a_thing(place, sentence):
            return None
        if self.setting.channel in TASTED_CHANNELS and self.is_taste(place) and not is_smelt(self, place, sentence):
            return next((sense for sense in senses if sense.kind == "scale"), note)
        if note and self.setting.is_liquor and not subjects.nose and self._is_likened(place):
            return None
        if note and isinstance(note.meaning, Descriptor):
            is_known = note.meaning.key in self.said
            if self._is_note(place, sentence, is_led or is_listed or is_known):
                return note
        return unasked(self, senses, place, subjects, sentence)

    def _is_likened(self, place: int) -> bool:
        """Say whether a cup that is looked at is only likened to a thing, and pass over that: `like weak coffee`."""
        at = place - 1
        while at >= 0 and not {"by", "article", "soft", "up"}.isdisjoint(self.lexemes[at].roles):
            at -= 1
        if at < 0 or "like" not in self.lexemes[at].roles:
            return False
        for lexeme in self.lexemes[at : place + 1]:
            lexeme.is_masked = True
        return True

    def is_taste(self, place: int) -> bool:
        """Say whether a word is a taste while something is in the mouth, and a smell elsewhere."""
        lexeme = self.lexemes[place]
        if lexeme.found == COMPARED:
            notes = [sense.meaning for sense in lexeme.senses]
            return any(isinstance(note, Descriptor) and note.key in self.grammar.tastes for note in notes)
        return self._any_form(lexeme.plain.removesuffix("ness"), self.grammar.tastes)

    def _dulls(self, place: int, senses: Sequence[Sense]) -> Sense | None:
        """Return how unclear a liquor is where that stands before its colour: `a dim copper`."""
        following = self.meanings[place + 1] if place + 1 < len(self.meanings) else None
        if not self.setting.clarity or following is None or not isinstance(following.meaning, ColourName):
            return None
        unclear = (sense for sense in senses if isinstance(sense.meaning, Clarity) and sense.meaning.term in UNCLEAR)
        return next(unclear, None)

    def _tints(self, place: int) -> bool:
        """Say whether a thing only tints the colour right behind it: `chocolate brown`."""
        following = self.meanings[place + 1] if place + 1 < len(self.meanings) else None
        is_colour = following is not None and isinstance(following.meaning, ColourName)
        return is_colour and self.lexemes[place].plain in self.grammar.colour_nouns

    def _is_part_of_a_thing(self, place: int) -> bool:
        """Say whether a word only tells the part of a thing that is named: `the crust of a crème brûlée`."""
        if self.lexemes[place].plain not in self.grammar.part_words:
            return False
        following = self.lexemes[place + 1 : place + 2]
        if not following or following[0].plain.split()[0] != "of":
            return False
        at = place + 2
        while at < len(self.lexemes) and "article" in self.lexemes[at].roles:
            at += 1
        sense = self.meanings[at] if at < len(self.lexemes) else None
        return sense is not None and isinstance(sense.meaning, Descriptor)

    def _modifies(self, place: int) -> bool:
        """Say whether a strength that could also be a reading stands before something else."""
        at = self.ahead(place)
        if at is None or at > place + 3:
            return False
        return not any("and" in lexeme.roles for lexeme in self.lexemes[place + 1 : at])

    def _colour(self, senses: Sequence[Sense], place: int, subjects: Subjects, sentence: Sentence) -> Sense | None:
        colours = [sense for sense in senses if isinstance(sense.meaning, ColourName)]
        if not colours:
            return None
        words = self.lexemes[place].plain
        is_colour_first = words in self.grammar.colours_first and not self._is_note_of(place)
        only_colour = (len(colours) == len(senses) and "talk" not in self.lexemes[place].roles) or is_colour_first
        is_leaf = (self.setting.is_leaf or subjects.leaf) and not self.setting.is_liquor
        wanted = "leaf" if is_leaf else "liquor"
        chosen = next(
            (one for one in colours if isinstance(one.meaning, ColourName) and one.meaning.of == wanted), None
        )
        if chosen is None or (not is_leaf and not self._shows_liquor(place, subjects, only_colour=only_colour)):
            return None
        if is_leaf and not (only_colour or self._colours_leaf(place) or (subjects.leaf and not subjects.nose)):
            return None
        if len(colours) == len(senses):
            return chosen
        if self.setting.is_liquor and not is_colour_first and self._follows_a_smell(place, sentence):
            return None
        return chosen if not is_smelt(self, place, sentence) and (only_colour or not subjects.nose) else None

    def _follows_a_smell(self, place: int, sentence: Sentence) -> bool:
        """Say whether a thing stands in a list behind one that is smelt: `strong wet stone, no lemon`."""
        at = place - 1
        while at > sentence.first and not self.lexemes[at].cut:
            if {"no", "by", "small", "article", "of"}.isdisjoint(self.lexemes[at].roles) or self.lexemes[at].senses:
                return False
            at -= 1
        before = self.lexemes[at - 1] if at > sentence.first else None
        if before is None or before.is_masked:
            return False
        kinds = {sense.kind for sense in before.senses}
        return "descriptor" in kinds and "colour" not in kinds

    def _is_note_of(self, place: int) -> bool:
        """Say whether what is a colour of its own is a note here: `a taste of copper`."""
        before = self.lexemes[max(0, place - 2) : place]
        return any(not {"of", "like", "channel", "no"}.isdisjoint(one.roles) for one in before)

    def _shows_liquor(self, place: int, subjects: Subjects, *, only_colour: bool) -> bool:
        """Say whether the liquor is looked at: by the step, or by a subject not far before a colour, or behind it.

        Honey or straw is a note while something is in the mouth, unless its colour is spoken of: `the cup is honey`.
        """
        if self.setting.is_liquor or subjects.pale:
            return True
        near = [one for one in self.lexemes[max(0, place - FARTHEST_LOOK) : place + FARTHEST_SUBJECT] if one.roles]
        looked_at = [one.plain for one in near if "liquor" in one.roles] if subjects.liquor else []
        return bool(looked_at) and (only_colour or any(word in said for said in looked_at for word in LOOKS))

    def _colours_leaf(self, place: int) -> bool:
        return any("leaf" in lexeme.roles for lexeme in self.lexemes[place + 1 : place + 2])

    def _asked(self, senses: Sequence[Sense]) -> Sense | None:
        for sense in senses:
            if isinstance(sense.meaning, ScaleWord) and sense.meaning.scale.key in self.setting.scales:
                return sense
        return None

    def _is_note(self, place: int, sentence: Sentence, is_led: bool) -> bool:
        words = self.lexemes[place].plain
        is_adjective = self.lexemes[place].found == FORM or words.endswith("y") or words in self.grammar.modifiers
        if is_adjective and any("leaf noun" in one.roles for one in self.lexemes[place + 1 : place + 2]):
            return False
        if is_adjective and (self._is_of_the_leaf(place) or self.setting.channel == BODY):
            return False
        if self.setting.is_leaf and self._is_among(place, self.grammar.leaf_itself):
            return False
        if not self._is_among(place, self.grammar.guarded):
            return True
        following = self.lexemes[place + 1 : place + 2]
        is_placed = any(one.plain == "like" for one in following) or self._heads_a_place(place)
        return is_led or is_placed or self._has_predicate(place) or self.is_alone(place, sentence)

    def _heads_a_place(self, place: int) -> bool:
        """Say whether a word begins a phrase and is placed right behind: `Date on the nose`."""
        begins = place == 0 or bool(self.lexemes[place - 1].cut)
        return begins and any("channel" in one.roles for one in self.lexemes[place + 1 : place + 2])

    def _is_of_the_leaf(self, place: int) -> bool:
        """Say whether an adjective tells how a leaf feels: `the lowest leaf is leathery`."""
        before = [one.plain for one in self.lexemes[max(0, place - 1) : place]]
        subject = self.lexemes[place - 2] if place > 1 else None
        return before in (["is"], ["are"], ["feels"], ["feel"]) and subject is not None and "leaf noun" in subject.roles

    def is_before_a_thing(self, place: int, sentence: Sentence) -> bool:
        """Say whether an adjective stands right before another thing."""
        if place + 1 >= sentence.after:
            return False
        following = self.lexemes[place + 1]
        if following.is_masked or following.cut:
            return False
        return following.is_unknown or (self.meanings[place + 1] is not None and "noun" not in following.roles)

    def _is_among(self, place: int, words: Collection[str]) -> bool:
        """Say whether a word, or what it is a form of, is among some; a name of its own (`fishy`) is no form."""
        lexeme = self.lexemes[place]
        return lexeme.plain in words if lexeme.found == EXACT else self._any_form(lexeme.plain, words)

    @staticmethod
    def _any_form(words: str, among: Collection[str]) -> bool:
        return words in among or (" " not in words and not _forms(words).isdisjoint(among))

    def _is_led(self, place: int, sentence: Sentence) -> bool:
        """Say whether words lead to a place that speak of tasting: `a note of`, `like`, `I get`."""
        is_definite = False
        for at in range(place - 1, sentence.first - 1, -1):
            lexeme = self.lexemes[at]
            if lexeme.cut or lexeme.is_masked or self.meanings[at] is not None or lexeme.is_unknown:
                return False
            roles = lexeme.roles.keys()
            if "definite" in lexeme.roles:
                is_definite = True
            elif not (LEADS_TO_THE if is_definite else LEADS | LEADS_TO_THE).isdisjoint(roles):
                return True
            elif LOOSE.isdisjoint(roles):
                return False
        return False

    def _is_led_close(self, place: int) -> bool:
        """Say whether `a note of`, `smells of` or `like` stands right before a word that may be misheard."""
        before = [
            lexeme for lexeme in self.lexemes[max(0, place - 2) : place] if lexeme.plain not in ("a", "an", "some")
        ]
        if not before:
            return False
        is_closed = place + 1 >= len(self.lexemes) or bool(self.lexemes[place + 1].cut)
        if not is_closed and self.lexemes[place].plain in self.grammar.modifiers:
            return False
        is_denied = "no" in before[-1].roles and is_closed
        return is_denied or not {"of", "like", "channel"}.isdisjoint(before[-1].roles)

    def _is_listed(self, place: int, sentence: Sentence) -> bool:
        """Say whether a word stands in a list with another that could be a note."""
        return self._neighbour(range(place - 1, sentence.first - 1, -1)) or self._neighbour(
            range(place + 1, sentence.after)
        )

    def _neighbour(self, places: range) -> bool:
        joined = False
        for at in places:
            lexeme = self.lexemes[at]
            if lexeme.is_masked or (lexeme.cut and lexeme.cut not in ",，、/"):
                return False
            if lexeme.senses and not lexeme.roles:
                return joined and self.could_be_note(lexeme)
            if lexeme.cut or not {"and", "or"}.isdisjoint(lexeme.roles):
                joined = True
            elif {"small", "by", "of", "talk", "hedge"}.isdisjoint(lexeme.roles) or "start" in lexeme.roles:
                return False
        return False

    def could_be_note(self, lexeme: Lexeme) -> bool:
        """Say whether a word may be a note without anything that leads to it."""
        if self._any_form(lexeme.plain, self.grammar.guarded):
            return False
        return any(isinstance(sense.meaning, Descriptor) and not sense.led for sense in lexeme.senses)

    def _has_predicate(self, place: int) -> bool:
        for lexeme in self.lexemes[place + 1 : place + 4]:
            if lexeme.cut or lexeme.is_unknown:
                return False
            if not PREDICATES.isdisjoint(lexeme.roles):
                return True
            if "small" not in lexeme.roles:
                return False
        return False

    def is_alone(self, place: int, sentence: Sentence) -> bool:
        """Say whether a word makes a phrase by itself, as in a list."""
        return self._is_bare(range(place - 1, sentence.first - 1, -1), AROUND) and self._is_bare(
            range(place + 1, sentence.after), BEHIND
        )

    def _is_bare(self, places: range, among: frozenset[str]) -> bool:
        for at in places:
            lexeme = self.lexemes[at]
            if lexeme.cut:
                return True
            if "definite" in lexeme.roles:
                return False
            if lexeme.number is None and among.isdisjoint(lexeme.roles):
                return bool({"and", "or"} & lexeme.roles.keys())
        return True


def _leads_to_its_word(lexeme: Lexeme) -> bool:
    """Say whether a phrase that places also leads on: `smells of`."""
    return "channel" in lexeme.roles and lexeme.plain.endswith((" of", " like"))


@lru_cache(maxsize=8192)
def _forms(word: str) -> frozenset[str]:
    return frozenset(forms(word))
