"""What is said at a step, understood: descriptors with their strength, readings, clarity, and words not known.

A text is cut at commas and the like, and at `and`. In each phrase the longest known words are found first, exact
before corrected. What stands around a known word belongs to it (`fresh cedar bark`); strength and `no` say how much of
it there is. A phrase in which nothing is known is kept whole, as said.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final, Literal, TypeAlias

from tastebook.domain.spelling import plain, slug
from tastebook.domain.vocabulary import Clarity, Descriptor, ScaleWord, Vocabulary

PartKind: TypeAlias = Literal["descriptor", "reading", "clarity", "unknown"]
How: TypeAlias = Literal["exact", "close", "unknown"]

# -- the rules, as data ------------------------------------------------------------------------------------------------

TOKEN: Final = re.compile(
    r"""
      (?P<number> \d+ (?:\.\d+)? ) (?: \s? / \s? 5 (?!\d) )?   # 4, 3.5, 4/5
    | (?P<pips>   [•●⬤○◦]+ )                                   # filled ones count
    | (?P<word>   [^\W\d_] (?: [^\W\d_] | [\u0300-\u036f] )* )
    | (?P<join>   [&+] )
    | (?P<cut>    [,;.!?/|\n\r—–、，；。！？] )
    """,
    re.VERBOSE,
)
FILLED_PIPS: Final = "•●⬤"

STRENGTHS: Final = {
    1: ("trace", "a trace", "traces", "hint", "a hint", "hints", "whisper", "faint", "faintly", "very faint",
        "very slight", "barely", "hardly any", "not much"),
    2: ("slight", "slightly", "a little", "little", "touch", "a touch", "a bit", "mild", "mildly"),
    3: ("clear", "clearly", "medium", "moderate", "moderately", "quite", "fairly", "rather"),
    4: ("strong", "strongly", "very", "intense", "lots", "a lot", "plenty", "much"),
    5: ("dominant", "dominating", "dominates", "very strong", "very intense", "overwhelming", "extremely"),
}  # fmt: skip
ABSENT_BEFORE: Final = (
    "no",
    "not",
    "without",
    "not any",
    "no longer",
    "no more",
    "neither",
    "zero",
    "lacks",
    "lacking",
)
ABSENT_AFTER: Final = ("absent", "gone", "missing")
ABSENT_OF_UNKNOWN: Final = ("no", "without", *ABSENT_AFTER)
"""Of words nobody knows, `not` and the like may be part of what is said; these are not."""

JOINS: Final = ("and", "or", "nor", "with", "then", "plus")
JOINS_THAT_CARRY_ABSENCE: Final = ("or", "nor")
FILLERS: Final = ("a", "an", "the", "of", "some", "note", "notes", "is", "there", *JOINS)
"""Words that belong to a part but are not what was said: dropped from its ends."""

SECONDS_IN: Final = {
    **dict.fromkeys(("s", "sec", "secs", "second", "seconds"), 1.0),
    **dict.fromkeys(("min", "mins", "minute", "minutes"), 60.0),
}

EXACT_THEN_CLOSE: Final[tuple[How, ...]] = ("exact", "close")
LONGEST_TERM_WORDS: Final = 6
LONGEST_MODIFIER_WORDS: Final = 2
LONGEST_NAME_WORDS: Final = 3
"""Unknown words beyond this many are prose: a strength there is a word of the sentence."""

MOST: Final = 5
LONGEST_S: Final = 3600.0

_SAYS_HOW_MUCH: Final = ("number", "strength", "absent", "absent after", "filler")
_STRENGTH_OF: Final = {words: value for value, some in STRENGTHS.items() for words in some}
_MODIFIERS: Final = frozenset((*_STRENGTH_OF, *ABSENT_BEFORE, *ABSENT_AFTER))


@dataclass(frozen=True)
class Part:
    """One thing that was said.

    Parameters
    ----------
    start, end : int
        Where it stands in the text, with everything that belongs to it (`no`, strength, joining words).
    said : str
        The taster's own words for it, without strength or joining words.
    key : str
        Key of the descriptor or scale, term of clarity, or the slug of unknown words.
    intensity : int or None
        Of a descriptor or unknown words, 1 (trace) to 5 (dominant), 0 when said to be absent.
    value : float or None
        Of a reading: 0 to 5, or seconds where the scale is timed.
    how : {"exact", "close", "unknown"}
        Close: a slip was corrected.
    family : str
        Of a descriptor; empty where there is none.
    has_strength : bool
        Whether `intensity` was said; otherwise it is the default.
    """

    kind: PartKind
    start: int
    end: int
    said: str
    key: str
    intensity: int | None
    value: float | None
    how: How
    family: str = ""
    has_strength: bool = False


@dataclass(frozen=True)
class Understanding:
    """A text and its parts, in order; every letter and digit of the text lies in exactly one of them."""

    text: str
    parts: tuple[Part, ...] = ()


def understand(
    text: str,
    vocabulary: Vocabulary,
    *,
    scales: Collection[str] = (),
    clarity: bool = False,
    default_intensity: int = 3,
) -> Understanding:
    """Return what a text says; any text at all is understood in some way.

    Parameters
    ----------
    scales : collection of str
        Keys of the scales that are asked for at this step; the words of others mean nothing here.
    clarity : bool
        Whether the clarity of the liquor is asked for.
    default_intensity : int
        Strength of what is named without one, 1 to 5.
    """
    reader = _Reader(vocabulary, frozenset(scales), clarity, default_intensity)
    return Understanding(text, tuple(reader.parts(text)))


# -- tokens, and what part each plays in a phrase ----------------------------------------------------------------------

_Meaning: TypeAlias = Descriptor | Clarity | tuple[ScaleWord, ...]
_Role: TypeAlias = Literal["term", "number", "seconds", "strength", "absent", "absent after", "filler", "word"]


@dataclass(frozen=True)
class _Token:
    kind: str
    start: int
    end: int
    text: str = ""
    plain: str = ""
    number: float | None = None

    @property
    def joins(self) -> bool:
        return self.kind == "join" or self.plain in JOINS


_Tokens: TypeAlias = Sequence[_Token]


@dataclass(frozen=True)
class _Mark:
    role: _Role
    amount: float = 0.0


@dataclass(frozen=True)
class _Term:
    """Known words: from which to before which token of a phrase they stand, and what they can mean."""

    first: int
    after: int
    meaning: _Meaning
    how: How


@dataclass(frozen=True)
class _Amount:
    """How much of a thing is said to be there. More than one number is no amount."""

    numbers: tuple[float, ...] = ()
    seconds: tuple[float, ...] = ()
    strength: int | None = None
    absent: bool = False

    @property
    def is_said(self) -> bool:
        """Say whether any amount was given."""
        return bool(self.absent or self.numbers or self.strength)


def _segments(text: str) -> Iterator[list[_Token]]:
    """Yield the tokens between one comma or the like and the next."""
    segment: list[_Token] = []
    for found in TOKEN.finditer(text):
        if found.lastgroup == "cut":
            yield segment
            segment = []
        else:
            segment.append(_token(found))
    yield segment


def _token(found: re.Match[str]) -> _Token:
    kind, said, start, end = found.lastgroup or "", found.group(), found.start(), found.end()
    if kind == "number":
        return _Token(kind, start, end, number=float(found["number"]))
    if kind == "pips":
        return _Token(kind, start, end, number=float(sum(sign in FILLED_PIPS for sign in said)))
    return _Token(kind, start, end, said, plain(said))


def _marks(tokens: _Tokens, terms: Iterable[_Term]) -> list[_Mark]:
    """Return what each token of a phrase does there."""
    marks: list[_Mark | None] = [None] * len(tokens)
    for term in terms:
        marks[term.first : term.after] = [_Mark("term")] * (term.after - term.first)
    for length in range(LONGEST_MODIFIER_WORDS, 0, -1):
        for first in range(len(tokens) - length + 1):
            places = slice(first, first + length)
            mark = _modifier(" ".join(token.plain for token in tokens[places]))
            if mark and not any(marks[places]):
                marks[places] = [mark] + [_Mark("filler")] * (length - 1)
    _mark_numbers(tokens, marks)
    return [mark or _Mark("filler" if _is_filler(token) else "word") for token, mark in zip(tokens, marks, strict=True)]


def _modifier(words: str) -> _Mark | None:
    if words in _STRENGTH_OF:
        return _Mark("strength", _STRENGTH_OF[words])
    if words in ABSENT_BEFORE:
        return _Mark("absent")
    return _Mark("absent after") if words in ABSENT_AFTER else None


def _mark_numbers(tokens: _Tokens, marks: list[_Mark | None]) -> None:
    """Mark the numbers that say how much: those at an end, or beside a term or a modifier. Others are words."""
    is_word = [mark is None and token.kind == "word" for mark, token in zip(marks, tokens, strict=True)]
    for place, token in enumerate(tokens):
        after = tokens[place + 1].plain if place + 1 < len(tokens) else ""
        if token.number is not None and after in SECONDS_IN:
            marks[place : place + 2] = [_Mark("seconds", token.number * SECONDS_IN[after]), _Mark("filler")]
        elif token.number is not None and not _is_in_prose(place, is_word):
            marks[place] = _Mark("number", token.number)


def _is_in_prose(place: int, is_word: Sequence[bool]) -> bool:
    return 0 < place < len(is_word) - 1 and is_word[place - 1] and is_word[place + 1]


def _is_filler(token: _Token) -> bool:
    return token.kind == "join" or token.plain in FILLERS


def _amount(marks: Iterable[_Mark]) -> _Amount:
    said: dict[_Role, list[float]] = {}
    for mark in marks:
        said.setdefault(mark.role, []).append(mark.amount)
    return _Amount(
        numbers=tuple(said.get("number", ())),
        seconds=tuple(said.get("seconds", ())),
        strength=next((int(one) for one in said.get("strength", ())), None),
        absent="absent" in said or "absent after" in said,
    )


def _groups(marks: Sequence[_Mark], terms: Sequence[_Term]) -> list[slice]:
    """Return, for each term, the tokens around it that are its own.

    What follows a term is its own while it is a number that it still lacks, or says that it is absent; the rest
    belongs to the next term, and everything after the last to the last.
    """
    groups: list[slice] = []
    first = 0
    for term, following in pairwise(terms):
        after = term.after
        lacks_number = not any(mark.role == "number" for mark in marks[first:after])
        while after < following.first and _is_own(marks[after], lacks_number):
            lacks_number = lacks_number and marks[after].role != "number"
            after += 1
        groups.append(slice(first, after))
        first = after
    return [*groups, slice(first, len(marks))]


def _is_own(mark: _Mark, lacks_number: bool) -> bool:
    return mark.role == "absent after" or (mark.role == "number" and lacks_number)


# -- reading -----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Reader:
    vocabulary: Vocabulary
    scales: frozenset[str]
    clarity: bool
    default_intensity: int

    def parts(self, text: str) -> Iterator[Part]:
        """Yield the parts of a text, in order."""
        for segment in _segments(text):
            was_absent = False
            for tokens in self._phrases(segment):
                carried = was_absent and tokens[0].plain in JOINS_THAT_CARRY_ABSENCE
                found = self._read(text, tokens, carried)
                was_absent = found[-1].intensity == 0 or found[-1].value == 0
                yield from found

    def _phrases(self, segment: _Tokens) -> Iterator[_Tokens]:
        """Yield a segment cut before each joining word that is no part of a known term."""
        inside = {place for term in self._terms(segment) for place in range(term.first, term.after)}
        says = [_says_something(token, place in inside) for place, token in enumerate(segment)]
        begun = 0
        for place, token in enumerate(segment):
            if token.joins and not says[place] and any(says[begun:place]) and any(says[place:]):
                yield segment[begun:place]
                begun = place
        if any(token.kind in ("word", "number") for token in segment[begun:]):
            yield segment[begun:]

    def _read(self, text: str, tokens: _Tokens, carried: bool) -> list[Part]:
        """Return the parts of one phrase: one around each known term, or else one that is unknown."""
        terms = self._terms(tokens) or self._terms(tokens, modifiers_too=True) or self._bare_time(tokens)
        terms = _without_mere_names(terms)
        while terms:
            marks = _marks(tokens, terms)
            groups = _groups(marks, terms)
            parts = [
                self._part(text, tokens[group], marks[group], term, carried and not group.start)
                for term, group in zip(terms, groups, strict=True)
            ]
            if all(parts):
                return [part for part in parts if part]
            terms = [term for term, part in zip(terms, parts, strict=True) if part]
        return [self._unknown(text, tokens, carried)]

    def _terms(self, tokens: _Tokens, *, modifiers_too: bool = False) -> list[_Term]:
        """Return the known terms among tokens, in order: longest first, exact before corrected."""
        found: list[_Term] = []
        taken: set[int] = set()
        for length in range(min(LONGEST_TERM_WORDS, len(tokens)), 0, -1):
            for how in EXACT_THEN_CLOSE:
                for first in range(len(tokens) - length + 1):
                    places = range(first, first + length)
                    if not taken.isdisjoint(places):
                        continue
                    if term := self._term(tokens[first : first + length], first, how, modifiers_too):
                        found.append(term)
                        taken.update(places)
        return sorted(found, key=lambda term: term.first)

    def _term(self, tokens: _Tokens, first: int, how: How, modifiers_too: bool) -> _Term | None:
        """Return the term that tokens are as a whole."""
        if any(token.kind != "word" for token in tokens):
            return None
        said = " ".join(token.plain for token in tokens)
        corrected = " ".join(self.vocabulary.corrected(token.plain) for token in tokens)
        if (said in _MODIFIERS and not modifiers_too) or (how == "close" and corrected == said):
            return None
        meaning = self._meaning(corrected if how == "close" else " ".join(token.text for token in tokens))
        if how == "close" and isinstance(meaning, Descriptor) and meaning.taint:
            return None  # a fault is never read into a slip
        return _Term(first, first + len(tokens), meaning, how) if meaning else None

    def _meaning(self, words: str) -> _Meaning | None:
        asked = self.vocabulary.scale_words(words, self.scales) if self.scales else ()
        clarity = self.vocabulary.clarity(words) if self.clarity else None
        return asked or clarity or self.vocabulary.find(words)

    def _bare_time(self, tokens: _Tokens) -> list[_Term]:
        """Return a term for a time that stands alone, where one timed scale is asked for."""
        timed = [scale for scale in self.vocabulary.scales if scale.unit and scale.key in self.scales]
        roles = [mark.role for mark in _marks(tokens, ())]
        if len(timed) != 1 or roles != ["seconds", "filler"]:
            return []
        return [_Term(0, 0, (ScaleWord(timed[0], None),), "exact")]

    def _part(self, text: str, tokens: _Tokens, marks: Sequence[_Mark], term: _Term, carried: bool) -> Part | None:
        """Return the part that a term makes with what stands around it, None if that makes no sense."""
        amount = _amount(marks)
        sense = self._sense(term.meaning, replace(amount, absent=amount.absent or carried))
        if sense is None:
            return None
        said = _said(text, tokens, marks)
        return replace(sense, start=tokens[0].start, end=tokens[-1].end, said=said, how=term.how)

    def _sense(self, meaning: _Meaning, amount: _Amount) -> Part | None:
        """Return what a meaning comes to with an amount, its place and words still open."""
        if isinstance(meaning, Descriptor):
            intensity = self._intensity(amount)
            if intensity is None:
                return None
            part = _blank("descriptor", meaning.key, intensity, family=meaning.family)
            return replace(part, has_strength=amount.is_said)
        if isinstance(meaning, Clarity):
            has_amount = amount.absent or amount.numbers or amount.seconds
            return None if has_amount else _blank("clarity", meaning.term)
        values = ((word.scale.key, _value(word, amount)) for word in meaning)
        return next((_blank("reading", key, value=value) for key, value in values if value is not None), None)

    def _unknown(self, text: str, tokens: _Tokens, carried: bool) -> Part:
        """Return a phrase in which nothing is known, as said, with its strength where that is plain."""
        marks = _marks_of_unknown(tokens)
        amount = _amount(marks)
        amount = replace(amount, absent=amount.absent or carried)
        if self._intensity(amount) is None or not any(mark.role == "word" for mark in marks):
            marks, amount = [_Mark("word")] * len(tokens), _Amount()
        said, intensity = _said(text, tokens, marks), self._intensity(amount)
        part = Part("unknown", tokens[0].start, tokens[-1].end, said, slug(said), intensity, None, "unknown")
        return replace(part, has_strength=amount.is_said)

    def _intensity(self, amount: _Amount) -> int | None:
        """Return an intensity from 0 (absent) to 5, None if what was given is none."""
        if amount.seconds or len(amount.numbers) > 1:
            return None
        if amount.absent:
            return 0
        if amount.numbers:
            return int(amount.numbers[0]) if amount.numbers[0] in range(MOST + 1) else None
        return amount.strength or self.default_intensity


def _blank(
    kind: PartKind, key: str, intensity: int | None = None, *, value: float | None = None, family: str = ""
) -> Part:
    return Part(kind, 0, 0, "", key, intensity, value, "exact", family)


def _says_something(token: _Token, is_in_term: bool) -> bool:
    return is_in_term or not token.joins


def _without_mere_names(terms: Sequence[_Term]) -> list[_Term]:
    """Return terms without those that only name a scale on which another says a value: `huígān rises late`."""
    meanings = [word for term in terms if isinstance(term.meaning, tuple) for word in term.meaning]
    told = {word.scale.key for word in meanings if word.value is not None}
    return [term for term in terms if not _is_mere_name(term, told)]


def _is_mere_name(term: _Term, told: Collection[str]) -> bool:
    words = term.meaning if isinstance(term.meaning, tuple) else ()
    return any(word.scale.key in told for word in words) and all(word.value is None for word in words)


def _value(word: ScaleWord, amount: _Amount) -> float | None:
    """Return the value on a scale, None if the word has none with this amount."""
    scale, value = word
    if scale.unit:
        times = (*amount.seconds, *amount.numbers)
        return times[0] if len(times) == 1 and times[0] <= LONGEST_S and not amount.absent else None
    if amount.seconds or len(amount.numbers) > 1:
        return None
    if amount.absent:
        return 0.0 if scale.from_none else None
    if amount.numbers:
        return amount.numbers[0] if amount.numbers[0] <= MOST else None
    if amount.strength and (scale.from_none or value is None):
        return float(amount.strength)
    return scale.named if value is None else value


def _marks_of_unknown(tokens: _Tokens) -> list[_Mark]:
    """Return marks in which only what is plain counts: a number at an end; `no` or a strength beside few words."""
    marks = _marks(tokens, ())
    roles = [mark.role for mark in marks]
    is_name = roles.count("word") <= LONGEST_NAME_WORDS
    denied = [token.plain for token, role in zip(tokens, roles, strict=True) if role.startswith("absent")]
    if "seconds" in roles or roles.count("number") > 1 or not all(word in ABSENT_OF_UNKNOWN for word in denied):
        return [_Mark("word")] * len(tokens)
    counted = _SAYS_HOW_MUCH if is_name else ("number", "filler")
    ends = (0, len(tokens) - 1)
    return [
        mark if mark.role in counted and (mark.role != "number" or place in ends) else _Mark("word")
        for place, mark in enumerate(marks)
    ]


def _said(text: str, tokens: _Tokens, marks: Sequence[_Mark]) -> str:
    """Return the words themselves, from the first to the last that is neither amount nor filler."""
    kept = [token for token, mark in zip(tokens, marks, strict=True) if mark.role in ("term", "word")] or tokens
    return text[kept[0].start : kept[-1].end]
