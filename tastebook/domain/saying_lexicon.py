"""What each run of words can mean: the longest known phrases, those of the grammar and those of the vocabulary."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Any, Final, NamedTuple, TypeAlias

from tastebook.domain.colour_words import ColourName
from tastebook.domain.grammar import Cue, Grammar
from tastebook.domain.saying_tokens import Token
from tastebook.domain.saying_turned import Turned
from tastebook.domain.spelling import forms, plain, squeezed, toned
from tastebook.domain.vocabulary import Clarity, Descriptor, ScaleWord, Vocabulary, own_names, pinyin_of

EXACT, FORM, COMPARED, CLOSE = range(4)
"""How a word was found: as it stands, by its ending, as a comparative (`smokier`), as a slip."""

SHORTEST_PINYIN: Final = 5
"""Shorter pinyin without its tones is an English word too often: `an`, `se`, `li`, `he`."""

SHORTEST_JOINED: Final = 7
"""`honey suckle` is honeysuckle; shorter pairs may be two words."""

SHORTEST_SYLLABLES: Final = 6
"""`lan hua xiang`, said syllable by syllable; shorter runs may be English."""

SCENTS: Final = (("xiang", "香"), ("wei", "味"), ("qi", "气"))
"""A Chinese name of a smell goes with any of these, said or not."""

GRAMMATICAL: Final = frozenset({"label", "channel", "small", "start", "contrast", "and", "or"})
"""Of a phrase that does one of these, an ending is not taken off to find a word of the vocabulary."""

ARTICLES: Final = frozenset({"a", "an", "the", "some"})
END: Final = ""
Node: TypeAlias = dict[str, Any]


class Sense(NamedTuple):
    """One meaning of a phrase.

    It counts only where a tasting word leads to it (`led`), or where its scale is spoken of (`weak`). `heard`:
    dictation wrote another word.
    """

    kind: str
    meaning: Descriptor | ScaleWord | Clarity | ColourName
    led: bool = False
    heard: bool = False
    weak: bool = False


class Lexeme:
    """A run of tokens, from `first` to before `after`, and all that it can be; `cut` is the sign if it is one."""

    __slots__ = (
        "after",
        "cut",
        "end",
        "first",
        "found",
        "is_hearsay",
        "is_masked",
        "number",
        "plain",
        "roles",
        "senses",
        "start",
        "token",
    )

    def __init__(
        self, first: int, after: int, token: Token, end: int, words: str,
        roles: Mapping[str, Cue], senses: tuple[Sense, ...] = (), found: int = EXACT,
    ) -> None:  # fmt: skip
        self.first, self.after, self.token = first, after, token
        self.start, self.end, self.plain = token.start, end, words
        self.roles, self.senses, self.found = roles, senses, found
        self.cut = token.plain if token.kind == "cut" else ""
        self.number = token.number if token.kind in ("number", "pips") else None
        self.is_masked = self.is_hearsay = False

    @property
    def is_unknown(self) -> bool:
        """Say whether it is a word that nobody knows."""
        return not self.roles and not self.senses and self.token.kind == "word"

    @property
    def may_be_note(self) -> bool:
        """Say whether one of its senses is a descriptor."""
        return any(sense.kind == "descriptor" for sense in self.senses)


NOTHING: Final[Mapping[str, Cue]] = {}
AND: Final[Mapping[str, Cue]] = {"and": Cue("and")}


class Lexicon:
    """The phrases of a vocabulary and its grammar, ready to be found."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self._rules = _rules(vocabulary.grammar)
        self._terms: Node = {}
        self._words: set[str] = set()
        self._joined: dict[str, tuple[Sense, ...]] = {}
        self._spoken: dict[str, tuple[Sense, ...]] = {}
        self._begun: set[str] = set()
        self._known: dict[str, tuple[tuple[str, int], ...]] = {}
        for words, sense in _terms(vocabulary):
            self._add(words, sense)
        for spoken, sense in _spoken(vocabulary):
            self._spoken.setdefault(spoken, (sense,))
            self._begun.update(spoken[:length] for length in range(1, len(spoken)))
        self._turned = Turned(self._terms, vocabulary.grammar)
        self._words -= {END}
        self.chinese = frozenset(
            word
            for word in (*self._words, *self._rules.words)
            if word and not word.isascii() and "一" <= word[0] <= "鿿"
        )

    def lexemes(self, tokens: Sequence[Token]) -> list[Lexeme]:
        """Return the tokens as runs: always the longest that is known, from left to right."""
        found: list[Lexeme] = []
        place, count = 0, len(tokens)
        while place < count:
            lexeme = self._lexeme(tokens, place) if tokens[place].kind == "word" else _sign(tokens[place], place)
            found.append(lexeme)
            place = lexeme.after
        return found

    def _lexeme(self, tokens: Sequence[Token], place: int) -> Lexeme:
        roles, ruled = self._rules.longest(tokens, place)
        senses, termed, how = self._longest(tokens, place)
        is_light = tokens[place].plain in ARTICLES or (ruled > 1 and "small" in self._rules.alone(tokens[place]))
        is_parted = is_light and self._reaches(tokens, place + 1) > place + max(ruled, termed)
        if is_parted:
            roles, ruled = self._rules.longest(tokens[place : place + 1], 0)
            senses, termed, how = (), 0, EXACT
        if max(ruled, termed) <= 1 and not is_parted and (joined := self._joined_pair(tokens, place)):
            senses, termed, how = joined, 2, FORM
        if tokens[place].plain in self._begun and (spoken := self._syllables(tokens, place, max(ruled, termed))):
            senses, termed, how = *spoken, FORM
        turned = self._turned.at(tokens, place, self._reaches)
        if turned and turned[1] > max(ruled, termed):
            senses, termed, how = *turned, FORM
        is_place = not GRAMMATICAL.isdisjoint(roles)
        if termed < ruled or (ruled == termed and (how in (CLOSE, COMPARED) or (is_place and how != EXACT))):
            senses, termed, how = (), 0, EXACT
        if ruled < termed:
            roles, ruled = NOTHING, 0
        after = place + max(ruled, termed, 1)
        words = " ".join(token.plain for token in tokens[place:after]) if after > place + 1 else tokens[place].plain
        return Lexeme(place, after, tokens[place], tokens[after - 1].end, words, roles, senses, how)

    def _longest(self, tokens: Sequence[Token], place: int) -> tuple[tuple[Sense, ...], int, int]:
        best: tuple[tuple[Sense, ...], int, int] = ((), 0, EXACT)
        root, length = self._terms, 0
        paths: list[tuple[Node, int]] = [
            (root[word], found) for word, found in self._candidates(tokens[place]) if word in root
        ]
        while paths:
            length += 1
            ended = [(how, node[END]) for node, how in paths if END in node]
            if ended:
                how, senses = min(ended, key=lambda one: one[0])
                if how == CLOSE:  # a fault is never read into a slip
                    senses = tuple(sense for sense in senses if not _is_taint(sense))
                best = (senses, length, how) if senses else best
            at = place + length
            if at >= len(tokens) or tokens[at].kind != "word":
                break
            some = self._candidates(tokens[at])
            paths = [(node[word], max(how, found)) for node, how in paths for word, found in some if word in node]
        return best

    def _candidates(self, token: Token) -> tuple[tuple[str, int], ...]:
        """Return the words of the vocabulary that a token may be, most exact first."""
        word = (token.toned or token.plain) + ("'" if token.is_short else "")
        found = self._known.get(word)
        if found is None:
            found = self._known[word] = tuple(self._work_out(token))
        return found

    def _work_out(self, token: Token) -> Iterator[tuple[str, int]]:
        letters, seen = token.plain, {END}
        bare = letters.removesuffix("s") if token.is_short and not self._rules.alone(token) else ""
        for word, how in ((token.toned, EXACT), (bare, EXACT), *_shapes(letters, self.vocabulary.grammar.never)):
            if word in self._words and word not in seen:
                seen.add(word)
                yield word, how
        if len(seen) == 1 and letters not in self._rules.words:
            corrected = self.vocabulary.corrected(letters)
            if corrected != letters and corrected in self._words:
                yield corrected, CLOSE

    def _reaches(self, tokens: Sequence[Token], place: int) -> int:
        """Return where the longest phrase that begins at a place ends; the place itself if none does."""
        if place >= len(tokens) or tokens[place].kind != "word":
            return place
        return place + max(self._rules.longest(tokens, place)[1], self._longest(tokens, place)[1])

    def _joined_pair(self, tokens: Sequence[Token], place: int) -> tuple[Sense, ...]:
        """Return what two words are when written as one."""
        if place + 1 < len(tokens) and tokens[place + 1].kind == "word":
            letters = tokens[place].plain + tokens[place + 1].plain
            return self._joined.get(letters, ()) if len(letters) >= SHORTEST_JOINED else ()
        return ()

    def _syllables(self, tokens: Sequence[Token], place: int, least: int) -> tuple[tuple[Sense, ...], int] | None:
        """Return what syllables of pinyin said one by one mean, and how many they are, if more than `least`."""
        letters, at, found = "", place, None
        while at < len(tokens) and tokens[at].kind == "word" and (not letters or letters in self._begun):
            letters += tokens[at].plain
            at += 1
            if at - place > max(1, least) and len(letters) >= SHORTEST_SYLLABLES and letters in self._spoken:
                found = self._spoken[letters], at - place
        return found

    def _add(self, words: Sequence[str], sense: Sense) -> None:
        _put(self._terms, words, sense, self._words)
        letters = "".join(words)
        if letters.isascii():
            if len(words) > 1:
                _put(self._terms, [letters], sense, self._words)
            self._joined[letters] = (*self._joined.get(letters, ()), sense)


class _Rules:
    """The phrases of the grammar."""

    def __init__(self, grammar: Grammar) -> None:
        self.words: set[str] = set()
        self._root: Node = {}
        for phrase, cues in grammar.phrases.items():
            node = self._root
            for word in phrase.split():
                node = node.setdefault(word, {})
                self.words.add(word)
            node[END] = {cue.role: cue for cue in cues}

    def alone(self, token: Token) -> Mapping[str, Cue]:
        """Return what one word does by itself."""
        found: Mapping[str, Cue] = self._root.get(token.plain, NOTHING).get(END, NOTHING)
        return found

    def longest(self, tokens: Sequence[Token], place: int) -> tuple[Mapping[str, Cue], int]:
        """Return what the longest phrase at a place does, and its length."""
        node, best, length, at = self._root, NOTHING, 0, place
        while at < len(tokens) and tokens[at].kind == "word" and tokens[at].plain in node:
            node = node[tokens[at].plain]
            at += 1
            if END in node:
                best, length = node[END], at - place
        return best, length


_rules = lru_cache(maxsize=4)(_Rules)


@lru_cache(maxsize=4)
def lexicon_of(vocabulary: Vocabulary) -> Lexicon:
    """Return the lexicon of a vocabulary, built once."""
    return Lexicon(vocabulary)


def _put(root: Node, words: Iterable[str], sense: Sense, seen: set[str]) -> None:
    node = root
    for word in words:
        node = node.setdefault(word, {})
        seen.add(word)
    senses: tuple[Sense, ...] = node.get(END, ())
    if not any(one.kind == sense.kind and _same(one, sense) for one in senses):
        node[END] = (*senses, sense)


def _same(one: Sense, other: Sense) -> bool:
    """Say whether two senses of one kind cannot stand beside each other: of scales and colours there may be several."""
    if isinstance(one.meaning, ScaleWord) and isinstance(other.meaning, ScaleWord):
        return one.meaning.scale.key == other.meaning.scale.key
    if isinstance(one.meaning, ColourName) and isinstance(other.meaning, ColourName):
        return one.meaning.of == other.meaning.of
    return True


def _is_taint(sense: Sense) -> bool:
    return isinstance(sense.meaning, Descriptor) and sense.meaning.taint


def _sign(token: Token, place: int) -> Lexeme:
    roles = AND if token.kind == "join" else NOTHING
    return Lexeme(place, place + 1, token, token.end, token.plain, roles)


def _shapes(letters: str, never: frozenset[str]) -> Iterator[tuple[str, int]]:
    """Yield a word, then what it may be a plural, an adjective or a comparative of."""
    yield letters, EXACT
    if letters in never:
        return
    for form in forms(letters):
        yield form, FORM
    if letters.endswith("fs"):  # `leafs`
        yield letters.removesuffix("fs") + "ves", FORM
    for ending, instead in (("like", ""), ("ish", ""), ("iness", "y"), ("ness", ""), ("ey", "")):
        if letters.endswith(ending) and len(letters) > len(ending) + 2:
            yield letters.removesuffix(ending) + instead, FORM
    for ending, instead in (("ier", "y"), ("iest", "y"), ("er", ""), ("er", "e"), ("est", "")):
        if letters.endswith(ending) and len(letters) > len(ending) + 3:
            for form in forms(letters.removesuffix(ending) + instead):
                yield form, COMPARED


def _terms(vocabulary: Vocabulary) -> Iterator[tuple[list[str], Sense]]:
    """Yield every phrase of a vocabulary with its meaning; of two meanings of one kind the first counts."""
    for descriptor in vocabulary.descriptors:
        yield from _of_descriptor(descriptor)
    for scale in vocabulary.scales:
        for words, value in (*scale.says.items(), *((name, None) for name in own_names(scale))):
            yield from _spellings(words, Sense("scale", ScaleWord(scale, value)))
    for clarity in vocabulary.clarities:
        for term in clarity.terms:
            yield from _spellings(term, Sense("clarity", clarity))
    yield from _said(vocabulary)
    for colour in vocabulary.colours:
        for term in colour.terms:
            yield from _spellings(term, Sense("colour", colour))
            for other in _as_colour(plain(term)):
                yield other.split(), Sense("colour", colour)
    for chinese, _, sense in _smells(vocabulary):
        yield [chinese], sense
    yield from _heard(vocabulary)


def _said(vocabulary: Vocabulary) -> Iterator[tuple[list[str], Sense]]:
    """Yield the whole phrases that say a value or a clarity."""
    scales = {scale.key: scale for scale in vocabulary.scales}
    clarities = {clarity.term: clarity for clarity in vocabulary.clarities}
    for rule in vocabulary.grammar.said:
        if scale := scales.get(rule.scale):
            sense = Sense("scale", ScaleWord(scale, rule.value), weak=rule.is_weak)
        elif clarity := clarities.get(rule.clarity):
            sense = Sense("clarity", clarity)
        else:
            continue
        for phrase in rule.phrases:
            yield phrase.split(), sense


@lru_cache(maxsize=2048)
def _of_descriptor(descriptor: Descriptor) -> tuple[tuple[list[str], Sense], ...]:
    """Return every phrase of a descriptor; kept, since a new word of the taster's own leaves all others as they are."""
    return tuple(_called(descriptor, Sense("descriptor", descriptor)))


def _called(descriptor: Descriptor, sense: Sense) -> Iterator[tuple[list[str], Sense]]:
    for term in (descriptor.name, *descriptor.synonyms):
        yield from _spellings(term, sense)
    if descriptor.zh:
        yield [descriptor.zh], sense
        if len(descriptor.zh) > 2 and descriptor.zh.endswith("香"):
            yield [descriptor.zh.removesuffix("香")], sense
    for spoken in pinyin_of(descriptor):
        yield [spoken], sense
        if len(letters := squeezed(spoken)) >= SHORTEST_PINYIN:
            yield [letters], sense
    yield from _spellings(descriptor.pinyin, sense)


def _as_colour(words: str) -> Iterator[str]:
    """Yield how else a colour named after a thing is said: `honey coloured`, `honey colour`, `the colour of honey`."""
    thing = words.removesuffix(" coloured")
    if thing != words:
        for colour in ("colour", "color"):
            yield from (f"{thing} {colour}", f"{thing} {colour}ed", f"{colour} of {thing}", f"{colour} like {thing}")
            yield from (f"{colour} of a {thing}", f"{colour} of the {thing}", f"{colour} is like {thing}")


def _spoken(vocabulary: Vocabulary) -> Iterator[tuple[str, Sense]]:
    """Yield every pinyin name without tones or spaces, and with each word for a smell behind it."""
    for descriptor in vocabulary.descriptors:
        sense = Sense("descriptor", descriptor)
        yield from ((squeezed(spoken), sense) for spoken in (*pinyin_of(descriptor), descriptor.pinyin) if spoken)
    yield from ((spoken, sense) for _, spoken, sense in _smells(vocabulary))


def _smells(vocabulary: Vocabulary) -> Iterator[tuple[str, str, Sense]]:
    """Yield the Chinese and the pinyin of each descriptor with every word for a smell; faults first, they end so."""
    for descriptor in sorted(vocabulary.descriptors, key=lambda one: not one.taint):
        chinese, spoken = descriptor.zh, squeezed(descriptor.pinyin)
        for letters, sign in SCENTS:
            if chinese.endswith(sign) and len(chinese) > 1:
                chinese, spoken = chinese.removesuffix(sign), spoken.removesuffix(letters)
                break
        if chinese and spoken:
            for letters, sign in SCENTS:
                yield chinese + sign, spoken + letters, Sense("descriptor", descriptor)


def _heard(vocabulary: Vocabulary) -> Iterator[tuple[list[str], Sense]]:
    grammar = vocabulary.grammar
    for table, led in ((grammar.heard, False), (grammar.heard_if_led, True)):
        for heard, meant in table.items():
            if descriptor := vocabulary.find(meant):
                yield heard.split(), Sense("descriptor", descriptor, led, heard=True)
            for word in vocabulary.scale_words(meant, {scale.key for scale in vocabulary.scales}):
                yield heard.split(), Sense("scale", word, led, heard=True)


def _spellings(term: str, sense: Sense) -> Iterator[tuple[list[str], Sense]]:
    """Yield a term as words; one with tone marks as it stands, and without them where that cannot be English."""
    words = plain(term).split()
    if not words:
        return
    if term.isascii() or not _has_tones(term):
        yield words, sense
        return
    yield [toned(word) for word in term.split()], sense
    yield [toned(term)], sense
    if len(squeezed(term)) >= SHORTEST_PINYIN:
        yield words, sense


def _has_tones(term: str) -> bool:
    return any(sign in "āáǎàēéěèīíǐìōóǒòūúǔùǖǘǚǜü" for sign in term.casefold())
