"""From what is typed into the find field to what is looked for. Any text can be read; what makes no sense is told.

One page of rules, tried in this order at each place, the first that fits taking as many pieces as it needs:

- a phrase in quotes is looked for in the text, as it stands;
- days: `2024`, `2023-05`, `march 2024`, `12 may 2024`, `since ...`, `before ...`, `until ...`, `last year`;
- the harvest: `spring 2024`, `harvest 2024`;
- the decision: `buy`, `declined`, `resting`, `rest until May`; the purpose: `at origin`; `open session`, `finished`;
- the infusion: `infusion 3`, `third infusion`, `infusions 2-4`, `rinse`;
- where it was perceived: `on the lid`, `empty cup`; how it was noted: `clouded`, `doubtful`, `noted late`;
- the liquor: `amber liquor`, `liquor pale gold`, `turbid liquor`;
- a field of the lot: `cultivar jin xuan`, `supplier "quiet hill"`;
- a descriptor or family with its strength: `peach ≥ 3`, `peach 3+`, `smoky at most 1`, `floral 2-4`; `no rose`;
- else a word: one that names a descriptor or family is looked for as an impression and in the text, others in the text.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from datetime import date
from typing import Any, Final, TypeVar

from tastebook.domain.colour_words import ColourName
from tastebook.domain.finding import (
    LEAST,
    MOST,
    FamilyAsked,
    FieldAsked,
    Flag,
    LiquorAsked,
    LotField,
    Noted,
    Query,
    Word,
)
from tastebook.domain.finding_dates import FIRST_YEAR, MONTH_NAMES, MONTHS, SEASONS, Days, read_days, year_of
from tastebook.domain.finding_pieces import Sign, Typed, typed_pieces
from tastebook.domain.finding_places import RINSE, infusion_slot
from tastebook.domain.finding_words import Phrase, cut, is_han
from tastebook.domain.liquor import swatch_called
from tastebook.domain.spelling import forms, plain
from tastebook.domain.vocabulary import Descriptor, Family, Vocabulary

T = TypeVar("T")

LONGEST_TERM: Final = 5
"""In words; a longer name of a descriptor is looked for in parts."""

SHORTEST_BEGUN: Final = 3
"""Fewer letters begin too many words."""

SHORTEST_FORMS: Final = 4

LIQUOR_E00: Final = 6.0
"""How far a liquor may be from a swatch that was chosen: about to the next swatch. Ours, no source."""

FILLERS: Final = frozenset({
    "a", "an", "the", "and", "or", "of", "in", "on", "at", "to", "with", "for", "from", "by", "as", "is", "was",
    "are", "were", "be", "been", "had", "has", "have", "having", "did", "do", "does", "said", "say", "says", "i",
    "me", "my", "we", "our", "you", "it", "its", "that", "this", "these", "those", "which", "what", "who",
    "whose", "where", "when", "how", "all", "any", "every", "some", "about", "teas", "tea", "lots", "lot", "find",
    "show", "tasted", "tasting", "looked", "look", "looks", "like", "near", "found", "got", "there", "than",
    "then", "ever", "not",
})  # fmt: skip
"""Small words of a question, passed over unless nothing else is typed."""

DECISIONS: Final[Mapping[str, str]] = {
    "buy": "buy", "bought": "buy", "decline": "decline", "declined": "decline", "rest": "rest until",
    "resting": "rest until", "rested": "rest until",
}  # fmt: skip
PURPOSES: Final[Mapping[Phrase, str]] = {
    ("at", "origin"): "at origin", ("on", "arrival"): "on arrival", ("retaste",): "retaste", ("retasted",): "retaste",
}  # fmt: skip
STATES: Final[Mapping[Phrase, bool]] = {
    ("open", "session"): True, ("open", "sessions"): True, ("half", "tasted"): True, ("unfinished",): True,
    ("finished",): False, ("closed", "session"): False, ("closed", "sessions"): False,
}  # fmt: skip
FIELDS: Final[Mapping[str, LotField]] = {
    "cultivar": "cultivar", "kind": "kind", "region": "origin", "garden": "origin", "country": "origin",
    "origin": "origin", "supplier": "supplier", "batch": "batch", "season": "season", "harvest": "season",
}  # fmt: skip
ORDINALS: Final = {
    "first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7, "eighth": 8, "ninth": 9,
    "tenth": 10, "eleventh": 11, "twelfth": 12,
}  # fmt: skip
CUPS: Final = frozenset({"infusion", "infusions", "cup", "cups", "steep", "steeps"})
CHANNELS: Final[Mapping[Phrase, str]] = {
    ("dry", "leaf"): "dry leaf", ("warmed", "leaf"): "warmed leaf", ("warm", "leaf"): "warmed leaf", ("lid",): "lid",
    ("wet", "leaf"): "wet leaf", ("infused", "leaf"): "infused leaf", ("empty", "cup"): "empty cup",
    ("drained", "cup"): "empty cup", ("retronasal",): "retronasal", ("out", "breath"): "retronasal",
    ("liquor", "nose"): "liquor nose",
}  # fmt: skip
CHANNELS_WITH_A_SMALL_WORD: Final[Mapping[Phrase, str]] = {
    ("palate",): "palate", ("finish",): "finish", ("body",): "body", ("nose",): "liquor nose",
    ("breath",): "retronasal",
}  # fmt: skip
BEFORE_CHANNEL: Final = frozenset({"on", "in", "at", "under", "from"})
FLAG_WORDS: Final[Mapping[Phrase, Flag]] = {
    ("clouded",): "clouded", ("doubtful",): "doubtful", ("noted", "late"): "late", ("marked", "late"): "late",
}  # fmt: skip
LIQUOR_WORDS: Final = frozenset({"liquor", "liquors", "colour", "color"})
AT_LEAST: Final[Mapping[Phrase, Sign]] = {
    ("at", "least"): ">=", ("over",): ">", ("above",): ">", ("at", "most"): "<=", ("under",): "<", ("below",): "<",
    ("more", "than"): ">", ("less", "than"): "<", ("up", "to"): "<=",
}  # fmt: skip
ABSENT: Final = frozenset({"no", "without"})

_NOTHING_ASKED: Final = {one.name: getattr(Query(), one.name) for one in fields(Query)}


@dataclass(frozen=True)
class _Strength:
    """From which to which strength, of how many pieces."""

    least: float
    most: float
    length: int


@dataclass
class _Reader:
    """Goes through the pieces from left to right, and gathers what they ask for."""

    pieces: Sequence[Typed]
    vocabulary: Vocabulary
    today: date
    ends_open: bool
    asked: dict[str, Any] = field(default_factory=dict)
    """What is asked for so far: fields of a query."""

    place: int = 0
    understood: list[str] = field(default_factory=list)
    puzzled: list[str] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    """Each piece as a word of ordinary language."""

    # -- going through

    def read(self, typed: str) -> Query:
        rules: tuple[Callable[[], int], ...] = (
            self._quoted, self._rest_until, self._harvest, self._days, self._decision, self._purpose, self._state,
            self._infusion, self._channel, self._flag, self._liquor, self._field, self._absent, self._known,
            self._sign, self._word,
        )  # fmt: skip
        self.said = [piece.said for piece in self.pieces]
        while self.place < len(self.pieces):
            self.place += next((taken for rule in rules if (taken := rule())), 1)
        return Query(typed, **self.asked, understood=tuple(self.understood), puzzled=tuple(self.puzzled))

    def _said(self, ahead: int) -> str:
        place = self.place + ahead
        return self.said[place] if place < len(self.said) else ""

    def _kind(self, ahead: int) -> str:
        place = self.place + ahead
        return self.pieces[place].kind if place < len(self.pieces) else ""

    def _starts(self, words: Phrase, ahead: int = 0) -> bool:
        place = self.place + ahead
        return self.said[place : place + len(words)] == list(words)

    def _lengths(self, ahead: int = 0) -> range:
        """Return how many pieces a term may have, the most first."""
        return range(min(LONGEST_TERM, len(self.pieces) - self.place - ahead), 0, -1)

    def _so_far(self, name: str) -> Any:
        return self.asked.get(name, _NOTHING_ASKED[name])

    def _one_of(self, table: Mapping[Phrase, T], ahead: int = 0) -> tuple[T, int] | None:
        """Return what a table holds for the one or two words there, and how many they are."""
        place = self.place + ahead
        for length in (2, 1):
            if (found := table.get(tuple(self.said[place : place + length]))) is not None:
                return found, length
        return None

    def _add(self, told: str, **changes: Any) -> None:
        self.asked.update(changes)
        if told:
            self.understood.append(told)

    # -- rules: each returns how many pieces it took, 0 if it does not fit

    def _quoted(self) -> int:
        piece = self.pieces[self.place]
        if piece.kind != "quoted":
            return 0
        self._add_word(Word(piece.text, (piece.words,)), f"the words “{piece.text}”")
        return 1

    def _days(self) -> int:
        read = read_days(self.pieces[self.place : self.place + 8], self.today)
        if read is None:
            return 0
        days = _both(Days(self._so_far("first"), self._so_far("last")), read.days)
        self._add(read.told, first=days.first, last=days.last)
        if days.first and days.last and days.first > days.last:
            self.puzzled.append("No day lies in all of these dates.")
        return read.length

    def _harvest(self) -> int:
        """Read `spring 2024`, `harvest 2024`, `spring harvest`, `harvest spring 2024`."""
        taken = int(self._said(0) == "harvest")
        season = SEASONS.get(self._said(taken))
        taken += bool(season)
        is_harvest = self._said(0) == "harvest" or (taken and self._said(taken) == "harvest")
        taken += bool(taken and self._said(0) != "harvest" and self._said(taken) == "harvest")
        place = self.place + taken
        year = year_of(self.pieces[place]) if taken and place < len(self.pieces) else None
        if not (season or year) or not (is_harvest or year):
            return 0
        groups: list[tuple[Phrase, ...]] = [tuple((one,) for one in season)] if season else []
        groups += [((str(year),),)] if year else []
        told = " ".join([*([season[0]] if season else []), *([str(year)] if year else [])])
        asked = FieldAsked(told, "season", tuple(groups))
        self._add(f"harvest {told}", fields=(*self._so_far("fields"), asked))
        return taken + bool(year)

    def _rest_until(self) -> int:
        if self._said(0) not in ("rest", "resting", "rests") or self._said(1) != "until":
            return 0
        rest = self.pieces[self.place + 2 : self.place + 6]
        month = MONTHS.get(self._said(2))
        if month and not (len(rest) > 1 and year_of(rest[1])):
            self._add(f"resting until {MONTH_NAMES[month - 1]}", decision="rest until", rest_in=f"-{month:02d}-")
            return 3
        read = read_days(rest, self.today)
        if read is None or read.days.first is None or read.days.last is None:
            self._add("resting", decision="rest until")
            return 2
        self._add(f"resting until {read.told}", decision="rest until", rest_in=_shared(read.days.first, read.days.last))
        return 2 + read.length

    def _decision(self) -> int:
        decision = DECISIONS.get(self._said(0))
        if decision is None:
            return 0
        if self._so_far("decision") not in ("", decision):
            self.puzzled.append("A tasting has one decision only.")
        self._add({"rest until": "resting", "decline": "declined"}.get(decision, decision), decision=decision)
        return 1

    def _purpose(self) -> int:
        if (found := self._one_of(PURPOSES)) is None:
            return 0
        self._add(found[0], purpose=found[0])
        return found[1]

    def _state(self) -> int:
        if (found := self._one_of(STATES)) is None:
            return 0
        self._add("still open" if found[0] else "finished", is_open=found[0])
        return found[1]

    def _infusion(self) -> int:
        if self._said(0) == "rinse":
            self._add("the rinse", slots=self._so_far("slots") | {RINSE})
            return 1
        if self._said(0) in CUPS and (read := self._count(1)):
            first, last, length = read
            self._add_infusions(first, last)
            return 1 + length
        number = ORDINALS.get(self._said(0)) or _ordinal(self._said(0))
        if number and self._said(1) in CUPS:
            self._add_infusions(number, number)
            return 2
        return 0

    def _add_infusions(self, first: int, last: int) -> None:
        told = f"infusion {first}" if first == last else f"infusions {first} to {last}"
        self._add(told, slots=self._so_far("slots") | {infusion_slot(index) for index in range(first, last + 1)})

    def _count(self, ahead: int) -> tuple[int, int, int] | None:
        """Return the numbers of one infusion or several, and how many pieces say so."""
        if not self._is_count(ahead):
            return None
        first = int(self.pieces[self.place + ahead].number)
        is_range = self._kind(ahead + 1) == "dash" or self._said(ahead + 1) == "to"
        if is_range and self._is_count(ahead + 2):
            last = int(self.pieces[self.place + ahead + 2].number)
            return (min(first, last), max(first, last), 3)
        return (first, first, 1)

    def _is_count(self, ahead: int) -> bool:
        if self._kind(ahead) != "number":
            return False
        number = self.pieces[self.place + ahead].number
        return number.is_integer() and 0 <= number < FIRST_YEAR // 10

    def _channel(self) -> int:
        small = 0
        if self._said(0) in BEFORE_CHANNEL:
            small = 1 + (self._said(1) in ("the", "my"))
        found = self._one_of(CHANNELS, small) or (self._one_of(CHANNELS_WITH_A_SMALL_WORD, small) if small else None)
        if found is None:
            return 0
        self._add(f"perceived at: {found[0]}", channel=found[0])
        return small + found[1]

    def _flag(self) -> int:
        if (found := self._one_of(FLAG_WORDS)) is None:
            return 0
        flag, length = found
        self._add("noted late" if flag == "late" else flag, flags=self._so_far("flags") | {flag})
        return length

    def _liquor(self) -> int:
        """Read `amber liquor`, `liquor pale gold`, `turbid liquor`."""
        if self._said(0) in LIQUOR_WORDS:
            ahead = 1
            while self._said(ahead) in FILLERS:
                ahead += 1
            for length in self._lengths(ahead):
                if self._add_liquor(self._words(ahead, length)):
                    return ahead + length
            self.puzzled.append("Which colour of liquor? Type it, such as “amber liquor”, or choose a swatch.")
            return 1
        for length in self._lengths():
            if self._said(length) in LIQUOR_WORDS and self._add_liquor(self._words(0, length)):
                return length + 1
        return 0

    def _add_liquor(self, words: str) -> bool:
        if not words:
            return False
        if asked := liquor_called(words, self.vocabulary):
            self._add(f"liquor near {asked.told}", liquor=asked)
            return True
        if clarity := self.vocabulary.clarity(words):
            self._add(f"{clarity.term} liquor", clarity=clarity.term)
            return True
        return False

    def _field(self) -> int:
        name = FIELDS.get(self._said(0))
        if name is None or self._kind(1) not in ("word", "quoted", "number", "date") or self._said(1) in FILLERS:
            return 0
        piece, length = self._run(1)
        asked = FieldAsked(piece.text, name, ((piece.words,),))
        self._add(f"{self._said(0)} {piece.text}", fields=(*self._so_far("fields"), asked))
        return 1 + length

    def _absent(self) -> int:
        """Read `no rose`: looked for, and absent."""
        if self._said(0) not in ABSENT:
            return 0
        for length in self._lengths(1):
            if found := self._descriptor(1, length):
                self._add_noted(found, _Strength(0, 0, 0))
                return 1 + length
        return 0

    def _known(self) -> int:
        """Read a descriptor or family, with its strength or without."""
        for length in self._lengths():
            family, descriptor = self._family(length), self._descriptor(0, length)
            if family is None and descriptor is None:
                continue
            if length == 1 and self._said(0) in FILLERS:
                return 0
            strength = self._strength(length)
            if strength is None:
                return length if self._add_either(family, descriptor, length) else 0
            if not (LEAST <= strength.least <= strength.most <= MOST):
                self.puzzled.append(f"A strength lies between {LEAST} and {MOST}.")
                self._add_either(family, descriptor, length)
            elif family is not None and strength.most > 0:
                self._add_family(family, strength)
            elif descriptor is not None:
                self._add_noted(descriptor, strength)
            else:
                self._add_family(family, strength)  # type: ignore[arg-type]
            return length + strength.length
        return 0

    def _sign(self) -> int:
        piece = self.pieces[self.place]
        if piece.kind == "dash":
            return 1
        if piece.kind != "sign":
            return 0
        taken = 1 + (self._kind(1) == "number")
        before = self.pieces[self.place - 1] if self.place else None
        if before is None or before.kind != "word":
            self.puzzled.append(
                f"“{piece.text}” needs a descriptor or family before it, such as “peach {piece.text} 3”."
            )
        elif self._kind(1) != "number":
            self.puzzled.append(f"“{piece.text}” needs a strength after it, from {LEAST} to {MOST}.")
        else:
            self.puzzled.append(f"“{before.text}” is no descriptor or family, so it has no strength.")
        return taken

    def _word(self) -> int:
        piece, length = self._run(0)
        if piece.said in FILLERS and length == 1:
            return 1
        is_last = self.place + length == len(self.pieces) and self.ends_open
        word = text_word(piece, is_begun=is_last)
        keys = _begun_with(word.begun, self.vocabulary) if word.begun else _written_with(piece.text, self.vocabulary)
        dots = "…" if word.begun and keys else ""
        told = f"“{piece.text}{dots}” as impression or words" if keys else f"“{piece.text}”"
        self._add_word(replace(word, descriptors=keys), told)
        return length

    def _run(self, ahead: int) -> tuple[Typed, int]:
        """Return a piece together with what hangs on it by dashes (`HR-26`), and how many pieces that is."""
        first = self.pieces[self.place + ahead]
        run = [first]
        for piece in self.pieces[self.place + ahead + 1 :]:
            if first.kind == "quoted" or piece.start != run[-1].end or piece.kind not in ("dash", "word", "number"):
                break
            run.append(piece)
        while run[-1].kind == "dash" and len(run) > 1:
            run.pop()
        if len(run) == 1 or "dash" not in [one.kind for one in run]:
            return first, 1
        text = "".join(one.text for one in run)
        words = tuple(word for one in run for word in one.words)
        return Typed("word", text, words, start=first.start, end=run[-1].end), len(run)

    # -- what is gathered

    def _words(self, ahead: int, length: int) -> str:
        """Return some pieces as words of language, empty where one of them is none."""
        pieces = self.pieces[self.place + ahead : self.place + ahead + length]
        is_plain = len(pieces) == length and all(one.kind in ("word", "dash") for one in pieces)
        if not is_plain or pieces[0].kind == "dash" or pieces[-1].kind == "dash":
            return ""
        return " ".join(one.text for one in pieces if one.kind == "word")

    def _descriptor(self, ahead: int, length: int) -> Descriptor | None:
        words = self._words(ahead, length)
        return self.vocabulary.find(words) if words else None

    def _family(self, length: int) -> Family | None:
        words = self._words(0, length)
        return self.vocabulary.family_called(words) if words else None

    def _strength(self, ahead: int) -> _Strength | None:
        """Return the strength that is said from there on."""
        sign: Sign | None = None
        taken = 0
        if self._kind(ahead) == "sign":
            sign, taken = self.pieces[self.place + ahead].sign, 1
        elif found := self._one_of(AT_LEAST, ahead):
            sign, taken = found
        place = self.place + ahead + taken
        if self._kind(ahead + taken) != "number" or year_of(self.pieces[place]) is not None:
            return None
        piece = self.pieces[place]
        if sign is None:
            return self._plain_strength(piece, ahead)
        return _compared(sign, piece.number, taken + 1)

    def _plain_strength(self, piece: Typed, ahead: int) -> _Strength:
        """Read `3`, `3+`, `2-4`, `3 or more`, `3 or less`."""
        if piece.plus or self._starts(("or", "more"), ahead + 1):
            return _Strength(piece.number, max(MOST, piece.number), 1 if piece.plus else 3)
        if self._starts(("or", "less"), ahead + 1):
            return _Strength(LEAST, piece.number, 3)
        is_range = self._kind(ahead + 1) == "dash" or self._said(ahead + 1) == "to"
        if is_range and self._kind(ahead + 2) == "number":
            other = self.pieces[self.place + ahead + 2].number
            return _Strength(min(piece.number, other), max(piece.number, other), 3)
        return _Strength(piece.number, piece.number, 1)

    def _add_either(self, family: Family | None, descriptor: Descriptor | None, length: int) -> bool:
        """Look for a descriptor or family as an impression or in the text."""
        pieces = [one for one in self.pieces[self.place : self.place + length] if one.kind == "word"]
        phrase = tuple(word for one in pieces for word in one.words)
        is_last = self.place + length == len(self.pieces) and self.ends_open
        keys = frozenset(keys_of_family(family.key, self.vocabulary)) if family else frozenset()
        keys |= keys_of(descriptor, self.vocabulary) if descriptor else frozenset()
        keys |= _written_with(self._words(0, length), self.vocabulary)
        phrases = _with_forms(phrase) if len(phrase) == 1 else (phrase,)
        if descriptor is not None and descriptor.zh and _is_pinyin(phrase, descriptor):
            phrases += (tuple(descriptor.zh),)
        told = self._words(0, length)
        begun = phrase[0] if is_last and _may_be_begun(phrase) else ""
        if begun:
            keys |= _begun_with(begun, self.vocabulary)
        name = family.name.lower() if family else descriptor.name if descriptor else told
        called = told if plain(told) == plain(name) else f"{told} ({name})"
        self._add_word(Word(told, phrases, begun, keys), f"{called} as impression or words")
        return True

    def _add_noted(self, descriptor: Descriptor, strength: _Strength) -> None:
        least, most = -int(-strength.least // 1), int(strength.most // 1)
        kinds = (descriptor, *(self.vocabulary.kinds_of(descriptor) if least > 0 else ()))
        told = f"{descriptor.name} {_strength_words(least, most)}"
        called = tuple(dict.fromkeys(phrase for one in kinds for term in one.terms for phrase in _term_phrases(term)))
        keys = frozenset(key for one in kinds for key in keys_of(one, self.vocabulary))
        noted = Noted(told, keys, least, most, called)
        self._add(told, noted=(*self._so_far("noted"), noted))

    def _add_family(self, family: Family, strength: _Strength) -> None:
        members = {key: self.vocabulary.resolve(key) for key in keys_of_family(family.key, self.vocabulary)}
        told = f"{family.name.lower()} in all {_strength_words(strength.least, strength.most)}"
        asked = FamilyAsked(told, family.key, members, strength.least, strength.most)
        self._add(told, families=(*self._so_far("families"), asked))

    def _add_word(self, word: Word, told: str) -> None:
        self._add(told, words=(*self._so_far("words"), word))


def read_query(typed: str, vocabulary: Vocabulary, today: date) -> Query:
    """Return what is looked for. No text is refused: what makes no sense is told in `puzzled`.

    Parameters
    ----------
    today : date
        The local day, from which `last year` is counted.
    """
    pieces = typed_pieces(typed)
    ends_open = bool(pieces) and pieces[-1].kind == "word" and typed.endswith(pieces[-1].text)
    query = _Reader(pieces, vocabulary, today, ends_open).read(typed.strip())
    if query.is_empty and not query.puzzled and pieces:
        words = tuple(text_word(one, is_begun=False) for one in pieces if one.words)
        return replace(query, words=words, understood=tuple(f"“{one.told}”" for one in words))
    return query


def text_word(piece: Typed, *, is_begun: bool) -> Word:
    """Return a piece as a word of the text; the last one may be only begun."""
    is_one = len(piece.words) == 1
    phrases = _with_forms(piece.words) if is_one else (piece.words,)
    return Word(piece.text, phrases, piece.words[0] if is_begun and _may_be_begun(piece.words) else "")


def keys_of(descriptor: Descriptor, vocabulary: Vocabulary) -> frozenset[str]:
    """Return the keys under which a descriptor was recorded: its own, and those of the words that it took in."""
    return frozenset({descriptor.key, *(key for key, host in vocabulary.merged.items() if host == descriptor.key)})


def keys_of_family(family: str, vocabulary: Vocabulary) -> Iterator[str]:
    """Yield the keys of every descriptor of a family, those taken in by others included."""
    for descriptor in vocabulary.in_family(family):
        yield from sorted(keys_of(descriptor, vocabulary))


def liquor_called(words: str, vocabulary: Vocabulary) -> LiquorAsked | None:
    """Return the liquor of a name: a swatch of the chart, or a colour with a shade before it."""
    if (swatch := swatch_called(plain(words))) is not None:
        return LiquorAsked(plain(words), swatch, LIQUOR_E00)
    wanted = plain(words)
    if (named := _colour(wanted, vocabulary.colours)) is not None:
        return LiquorAsked(named.name, named.lab, named.radius_e00)
    for shade in vocabulary.shades:
        for word in shade.words:
            after = wanted.removeprefix(f"{plain(word)} ")
            if after != wanted and (named := _colour(after, vocabulary.colours)) is not None:
                return LiquorAsked(wanted, shade.of(named.lab), named.radius_e00)
    return None


def _colour(wanted: str, colours: Iterable[ColourName]) -> ColourName | None:
    return next((one for one in colours if one.of == "liquor" and wanted in map(plain, one.terms)), None)


def _begun_with(letters: str, vocabulary: Vocabulary) -> frozenset[str]:
    """Return the keys of every descriptor one of whose names begins with some letters."""
    return frozenset(key for one in vocabulary.begun_with(letters) for key in keys_of(one, vocabulary))


def _written_with(text: str, vocabulary: Vocabulary) -> frozenset[str]:
    """Return the keys of every descriptor in whose Chinese term some characters stand."""
    if not is_han(text[:1]):
        return frozenset()
    return frozenset(key for one in vocabulary.written_with(text) for key in keys_of(one, vocabulary))


def _term_phrases(term: str) -> tuple[Phrase, ...]:
    phrase = tuple(cut(term))
    return _with_forms(phrase) if len(phrase) == 1 else (phrase,) if phrase else ()


def _with_forms(phrase: Phrase) -> tuple[Phrase, ...]:
    """Return a single word with its plural or singular, as far as its ending tells."""
    word = phrase[0]
    if not word.isascii() or not word.isalpha() or len(word) < SHORTEST_FORMS:
        return (phrase,)
    return tuple((one,) for one in dict.fromkeys(forms(word)))


def _may_be_begun(phrase: Phrase) -> bool:
    return len(phrase) == 1 and len(phrase[0]) >= SHORTEST_BEGUN and not is_han(phrase[0])


def _is_pinyin(phrase: Phrase, descriptor: Descriptor) -> bool:
    return "".join(phrase) == plain(descriptor.pinyin).replace(" ", "") and not is_han(phrase[0])


def _compared(sign: Sign, number: float, length: int) -> _Strength:
    """Return what a comparison comes to, whole strengths where `>` and `<` leave one out."""
    if sign == ">=":
        return _Strength(number, max(MOST, number), length)
    if sign == "<=":
        return _Strength(min(LEAST, number), number, length)
    if sign == ">":
        return _Strength(number + 1, max(MOST, number + 1), length)
    if sign == "<":
        return _Strength(min(LEAST, number - 1), number - 1, length)
    return _Strength(number, number, length)


def _strength_words(least: float, most: float) -> str:
    if most == 0:
        return "looked for and absent"
    if least == most:
        return f"at {least:g}"
    if most == MOST:
        return f"at least {least:g}"
    return f"at most {most:g}" if least == LEAST else f"from {least:g} to {most:g}"


def _ordinal(said: str) -> int | None:
    """Return 3 for `3rd`."""
    digits = said.rstrip("stndrh")
    is_ordinal = digits.isascii() and digits.isdigit() and said[len(digits) :] in ("st", "nd", "rd", "th")
    return int(digits) if is_ordinal and len(digits) <= 2 else None


def _both(days: Days, other: Days) -> Days:
    first = max((one for one in (days.first, other.first) if one), default=None)
    last = min((one for one in (days.last, other.last) if one), default=None)
    return Days(first, last)


def _shared(first: date, last: date) -> str:
    """Return the beginning that all days from the first to the last share, such as `2026-05`."""
    a, b = first.isoformat(), last.isoformat()
    if a == b:
        return a
    return a[:7] if a[:7] == b[:7] else a[:4] if a[:4] == b[:4] else ""
