"""The words of tasting: families, descriptors, scales and the terms of the mouth, clarity and colour of the liquor."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from itertools import islice, takewhile
from typing import Final, NamedTuple, TypeVar

from tastebook.domain.colour_words import ColourName, Shade
from tastebook.domain.errors import VocabularyError
from tastebook.domain.grammar import Grammar
from tastebook.domain.spelling import MOST_SLIPS, closest, forms, plain, squeezed, toned

STEPS: Final = 6
"""A scale has a word for each of 0, 1, 2, 3, 4, 5."""

TELLING_ENDINGS: Final = (
    ("berry", "fruity"), ("berries", "fruity"), ("fruit", "fruity"), ("wood", "woody"), ("blossom", "floral"),
    ("flower", "floral"), ("flowers", "floral"), ("nut", "nutty"), ("nuts", "nutty"), ("grass", "vegetal"),
    ("leaf", "vegetal"), ("weed", "vegetal"), ("stone", "mineral"), ("rock", "mineral"), ("cream", "milky"),
    ("milk", "milky"), ("sugar", "sweet"), ("syrup", "sweet"), ("cake", "sweet"), ("bread", "roasted"),
    ("toast", "roasted"), ("spice", "spicy"), ("pepper", "spicy"), ("earth", "earthy"), ("mould", "earthy"),
    ("herb", "herbal"), ("mint", "herbal"),
)  # fmt: skip
"""How a new word ends often tells its family. Ours, no source."""

NEAREST_SCORE: Final = 60.0
"""Below this likeness (0 to 100) a word is not offered as what was meant."""

BEGUN_SCORE: Final = 80.0
"""Below this likeness of its beginning a word is not offered as what is being typed."""

SHORTEST_FUZZY_PREFIX: Final = 3
REMEMBERED: Final = 4096


@dataclass(frozen=True)
class Family:
    """One of the aroma families; the vocabulary lists them from the base of a tea to its top."""

    key: str
    name: str
    about: str


@dataclass(frozen=True)
class Descriptor:
    """One thing that a tea can smell or taste of.

    `zh` and `pinyin` are filled where the trade has the term. A taint is a fault that is a smell, with its usual cause.
    `family` is empty for a word of the user's own that has none yet.
    """

    key: str
    name: str
    family: str
    synonyms: tuple[str, ...] = ()
    zh: str = ""
    pinyin: str = ""
    source: str = ""
    taint: bool = False
    cause: str = ""
    about: str = ""

    @property
    def terms(self) -> tuple[str, ...]:
        """Return everything it is called by, the name first."""
        return tuple(term for term in (self.name, *self.synonyms, self.zh, self.pinyin) if term)


@dataclass(frozen=True)
class Scale:
    """A line from little to much on which one reading is placed.

    Parameters
    ----------
    words : tuple of str
        A word for each of 0 to 5; empty for scales with a unit.
    says : mapping of str to float
        What means a value when said alone, such as `silky` for 5.
    names : tuple of str
        What names the scale beside its name and short name, such as `weight` in `weight 4`.
    named : float or None
        What the bare name means (`bitterness` says that there is some), None where it needs a value beside it.
    from_none : bool
        Whether 0 means that there is none, so that `no grip` is 0 and `slight grip` is 2. Otherwise both ends are
        qualities (rough, silky).
    unit : str
        `s` for scales that are timed in seconds, empty for 0 to 5.
    """

    key: str
    name: str
    short: str
    low: str
    high: str
    words: tuple[str, ...] = ()
    says: Mapping[str, float] = field(default_factory=dict)
    names: tuple[str, ...] = ()
    named: float | None = None
    about: str = ""
    from_none: bool = True
    unit: str = ""
    channel: str = "palate"
    source: str = ""

    def word_for(self, value: float) -> str:
        """Return the scale's own word for a value, empty where it has none."""
        if not self.words:
            return ""
        return self.words[round(min(max(value, 0.0), STEPS - 1.0))]


@dataclass(frozen=True)
class Clarity:
    """One of the terms for how clear the liquor is."""

    term: str
    about: str
    synonyms: tuple[str, ...] = ()
    zh: str = ""
    pinyin: str = ""
    source: str = ""

    @property
    def terms(self) -> tuple[str, ...]:
        """Return everything it is called by, the term first."""
        return tuple(term for term in (self.term, *self.synonyms, self.zh, self.pinyin) if term)


@dataclass(frozen=True)
class MouthTerm:
    """A word for what is felt in the mouth or stays after swallowing: its place on a scale, and what it means."""

    name: str
    scale: str
    value: float
    about: str
    synonyms: tuple[str, ...] = ()
    zh: str = ""
    pinyin: str = ""
    source: str = ""

    @property
    def terms(self) -> tuple[str, ...]:
        """Return everything it is called by, the name first."""
        return tuple(term for term in (self.name, *self.synonyms, self.zh, self.pinyin) if term)


class Match(NamedTuple):
    """A descriptor that may have been meant, how alike the words are (0 to 100), and by which of its terms."""

    descriptor: Descriptor
    score: float
    term: str


class ScaleWord(NamedTuple):
    """What a word means on a scale; no value when it only names the scale."""

    scale: Scale
    value: float | None


@dataclass(frozen=True, eq=False)
class Vocabulary:
    """Every word that Tastebook knows. Built once; what it works out for looking up is kept.

    Parameters
    ----------
    merged : mapping of str to str
        Key of a descriptor that another took in, to the key of the one that stands for it.
    talk : frozenset of str
        Squeezed words that the taster said are no tasting words.
    """

    families: tuple[Family, ...]
    descriptors: tuple[Descriptor, ...]
    scales: tuple[Scale, ...]
    clarities: tuple[Clarity, ...]
    mouth_terms: tuple[MouthTerm, ...] = ()
    colours: tuple[ColourName, ...] = ()
    shades: tuple[Shade, ...] = ()
    grammar: Grammar = field(default_factory=Grammar)
    merged: Mapping[str, str] = field(default_factory=dict)
    talk: frozenset[str] = frozenset()

    def family(self, key: str) -> Family:
        """Return a family by its key.

        Raises
        ------
        VocabularyError
            If there is none.
        """
        return _by_key(self._families, key, "family")

    def descriptor(self, key: str) -> Descriptor:
        """Return a descriptor by its key, or the one that took it in.

        Raises
        ------
        VocabularyError
            If there is none.
        """
        return _by_key(self._descriptors, self.resolve(key), "descriptor")

    def scale(self, key: str) -> Scale:
        """Return a scale by its key.

        Raises
        ------
        VocabularyError
            If there is none.
        """
        return _by_key(self._scales, key, "scale")

    def has(self, key: str) -> bool:
        """Say whether there is a descriptor with this key, or one that took it in."""
        return self.resolve(key) in self._descriptors

    def resolve(self, key: str) -> str:
        """Return the key of the descriptor that stands for another now: itself, if nothing took it in."""
        return self.merged.get(key, key)

    def is_talk(self, words: str) -> bool:
        """Say whether the taster declared these words to be no tasting words."""
        return squeezed(words) in self.talk

    def family_of(self, descriptor: str) -> str:
        """Return the family of a descriptor, empty for words that are not known or have none."""
        known = self._descriptors.get(self.resolve(descriptor))
        return known.family if known else ""

    def in_family(self, key: str) -> tuple[Descriptor, ...]:
        """Return the descriptors of one family, taints last; the empty key gives the words that have none."""
        return self._members.get(key, ())

    def family_called(self, words: str) -> Family | None:
        """Return the family called `words`, whatever the case or accents."""
        return self._families_called.get(plain(words))

    def kinds_of(self, descriptor: Descriptor) -> tuple[Descriptor, ...]:
        """Return what a descriptor is the common name of: white peach is a peach."""
        return self._kinds.get(descriptor.key, ())

    def written_with(self, characters: str) -> tuple[Descriptor, ...]:
        """Return the descriptors in one of whose names some characters stand."""
        places = dict.fromkeys(place for term, place in self._chinese_terms if characters in term)
        return tuple(self.descriptors[place] for place in places)

    def find(self, words: str) -> Descriptor | None:
        """Return the descriptor called `words`, whatever the case, accents, tone marks, hyphens or plural."""
        if not words.isascii() and (told_by_tone := self._pinyin.get(toned(words))):
            return told_by_tone
        return _first(self._terms, squeezed(words))

    def scale_words(self, words: str, among: Collection[str]) -> tuple[ScaleWord, ...]:
        """Return what `words` mean on those of the scales `among` that know them, in the order of the vocabulary."""
        return tuple(word for word in self._scale_words.get(squeezed(words), ()) if word.scale.key in among)

    def clarity(self, words: str) -> Clarity | None:
        """Return the term of clarity that `words` are, whatever the case, accents, tone marks or hyphens."""
        return self._clarity_words.get(squeezed(words))

    def guess_family(self, words: str) -> str:
        """Return the family that a new word most likely belongs to, empty where nothing speaks for one.

        The last word decides (`smoked plum` is fruit), by a known term it stands in or by how it ends.
        """
        for word in reversed(plain(words).split()):
            if known := _first(self._terms, word):
                return known.family
            if heads := self._heads.get(word):
                return heads
        last = squeezed(words)
        return next((family for ending, family in TELLING_ENDINGS if last.endswith(ending)), "")

    def corrected(self, letters: str) -> str:
        """Return the known word that one squeezed word is clearly a slip of, else the word as it is."""
        return self._corrected(letters)

    def nearest(self, words: str, limit: int = 5) -> tuple[Match, ...]:
        """Return the descriptors that may have been meant, most alike first."""
        from rapidfuzz import fuzz, process

        if not (wanted := plain(words)) or limit < 1:
            return ()
        found = process.extract(
            wanted, self._plain_terms, scorer=fuzz.ratio, score_cutoff=NEAREST_SCORE, limit=limit * 4
        )
        best: dict[str, Match] = {}
        for term, score, _ in found:
            descriptor = self._terms[term.replace(" ", "")]
            best.setdefault(descriptor.key, Match(descriptor, float(score), term))
        return tuple(best.values())[:limit]

    def begun_with(self, letters: str) -> tuple[Descriptor, ...]:
        """Return the descriptors one of whose names begins with some letters, as `plain` has them."""
        first = bisect_left(self._plain_names_sorted, (letters,))
        begun = takewhile(lambda one: one[0].startswith(letters), islice(self._plain_names_sorted, first, None))
        return tuple(self.descriptors[place] for place in dict.fromkeys(place for _, place in begun))

    def complete(self, prefix: str, limit: int = 8) -> tuple[Descriptor, ...]:
        """Return what may be being typed: by the beginning of any word, then by likeness, most exact first."""
        wanted = plain(prefix)
        if not wanted or limit < 1:
            return ()
        ranked = sorted((rank, term) for term in self._plain_terms if (rank := self._rank(term, wanted)) is not None)
        found = [self._terms[term.replace(" ", "")] for _, term in ranked]
        if len(wanted) >= SHORTEST_FUZZY_PREFIX:
            found += self._alike(wanted, limit)
        return tuple({one.key: one for one in found}.values())[:limit]

    def _rank(self, term: str, wanted: str) -> tuple[int, int] | None:
        """Return how exactly a term is what is being typed: its place, then its length."""
        is_name = term in self._plain_names
        if term == wanted:
            return (-1, len(term))
        if term.startswith(wanted):
            return (0 if is_name else 2, len(term))
        if f" {wanted}" in term:
            return (1 if is_name else 3, len(term))
        return None

    def _alike(self, wanted: str, limit: int) -> list[Descriptor]:
        """Return descriptors whose beginning is like what is being typed."""
        from rapidfuzz import fuzz, process

        scores: dict[str, float] = {}
        for length in (len(wanted), len(wanted) + 1):  # the slip may have lost a letter
            heads = [term[:length] for term in self._english_terms]
            found = process.extract(wanted, heads, scorer=fuzz.ratio, score_cutoff=BEGUN_SCORE, limit=None)
            for _, score, index in found:
                term = self._english_terms[index]
                scores[term] = max(score, scores.get(term, 0.0))

        def rank(term: str) -> tuple[object, ...]:
            return (term[0] != wanted[0], -scores[term], term not in self._plain_names, len(term), term)

        return [self._terms[term.replace(" ", "")] for term in sorted(scores, key=rank)[:limit]]

    @cached_property
    def _families(self) -> dict[str, Family]:
        return {family.key: family for family in self.families}

    @cached_property
    def _families_called(self) -> dict[str, Family]:
        called: dict[str, Family] = {}
        for family in self.families:
            for words in (family.key, family.name):
                called.setdefault(plain(words), family)
        return called

    @cached_property
    def _kinds(self) -> dict[str, tuple[Descriptor, ...]]:
        """Key of a descriptor to those of its family whose names end in its own."""
        kinds: dict[str, list[Descriptor]] = {}
        hosts: dict[tuple[str, bool, str], list[str]] = {}
        for one in self.descriptors:
            hosts.setdefault((one.family, one.taint, plain(one.name)), []).append(one.key)
        for one in (one for members in self._members.values() for one in members):
            words = plain(one.name).split()
            for place in range(len(words)):
                for key in hosts.get((one.family, one.taint, " ".join(words[place:])), ()):
                    if key != one.key:
                        kinds.setdefault(key, []).append(one)
        return {key: tuple(some) for key, some in kinds.items()}

    @cached_property
    def _chinese_terms(self) -> tuple[tuple[str, int], ...]:
        """Every name that is not in plain Latin letters, with the place of its descriptor."""
        terms = ((term, place) for place, one in enumerate(self.descriptors) for term in one.terms)
        return tuple((term, place) for term, place in terms if not term.isascii())

    @cached_property
    def _descriptors(self) -> dict[str, Descriptor]:
        return {descriptor.key: descriptor for descriptor in self.descriptors}

    @cached_property
    def _scales(self) -> dict[str, Scale]:
        return {scale.key: scale for scale in self.scales}

    @cached_property
    def _members(self) -> dict[str, tuple[Descriptor, ...]]:
        members: dict[str, list[Descriptor]] = {}
        for descriptor in sorted(self.descriptors, key=lambda one: one.taint):
            members.setdefault(descriptor.family, []).append(descriptor)
        return {family: tuple(some) for family, some in members.items()}

    @cached_property
    def _terms(self) -> dict[str, Descriptor]:
        """Squeezed term to descriptor."""
        terms: dict[str, Descriptor] = {}
        for descriptor in self.descriptors:
            for letters in squeezed_terms(descriptor):
                terms.setdefault(letters, descriptor)
        for spoken, descriptor in self._pinyin.items():
            terms.setdefault(squeezed(spoken), descriptor)
        return terms

    @cached_property
    def _pinyin(self) -> dict[str, Descriptor]:
        """Pinyin with its tones to descriptor: without them 焦气 (scorched) and 酵气 (fermented) sound alike."""
        return {spoken: descriptor for descriptor in self.descriptors for spoken in pinyin_of(descriptor)}

    @cached_property
    def _plain_names_sorted(self) -> list[tuple[str, int]]:
        """Every name in every tongue, in order, with the place of its descriptor."""
        return sorted((plain(term), place) for place, one in enumerate(self.descriptors) for term in one.terms)

    @cached_property
    def _plain_terms(self) -> tuple[str, ...]:
        chinese = (plain(term) for one in self.descriptors for term in (one.zh, one.pinyin) if term)
        return tuple(dict.fromkeys((*self._english_terms, *chinese)))

    @cached_property
    def _english_terms(self) -> tuple[str, ...]:
        english = (plain(term) for one in self.descriptors for term in (one.name, *one.synonyms))
        return tuple(dict.fromkeys(english))

    @cached_property
    def _plain_names(self) -> frozenset[str]:
        return frozenset(plain(descriptor.name) for descriptor in self.descriptors)

    @cached_property
    def _scale_words(self) -> dict[str, list[ScaleWord]]:
        meanings: dict[str, list[ScaleWord]] = {}
        for scale in self.scales:
            for words, value in (*scale.says.items(), *((name, None) for name in own_names(scale))):
                meanings.setdefault(squeezed(words), []).append(ScaleWord(scale, value))
        return meanings

    @cached_property
    def _mouth_words(self) -> dict[str, MouthTerm]:
        return {squeezed(words): term for term in self.mouth_terms for words in term.terms}

    @cached_property
    def _heads(self) -> dict[str, str]:
        """Last word of the terms that only one family ends in, to that family."""
        heads: dict[str, set[str]] = {}
        for descriptor in (one for one in self.descriptors if not one.taint):
            for term in (descriptor.name, *descriptor.synonyms):
                heads.setdefault(plain(term).split()[-1], set()).add(descriptor.family)
        return {word: next(iter(families)) for word, families in heads.items() if len(families) == 1}

    @cached_property
    def _clarity_words(self) -> dict[str, Clarity]:
        return {squeezed(term): clarity for clarity in self.clarities for term in clarity.terms}

    @cached_property
    def _lexicon(self) -> frozenset[str]:
        """Every single word of every English term: what is no slip."""
        taints = [term for one in self.descriptors if one.taint for term in (one.name, *one.synonyms)]
        return self._slip_targets | _single_words(taints)

    @cached_property
    def _slip_targets(self) -> frozenset[str]:
        """Every single word that a slip may be a slip of. A fault is never read into a slip."""
        spoken = [term for one in self.descriptors if not one.taint for term in (one.name, *one.synonyms)]
        spoken += [term for scale in self.scales for term in (*scale.says, *own_names(scale))]
        spoken += [term for clarity in self.clarities for term in (clarity.term, *clarity.synonyms)]
        return _single_words(spoken)

    @cached_property
    def _corrected(self) -> Callable[[str], str]:
        return lru_cache(maxsize=REMEMBERED)(self._work_out_corrected)

    def _work_out_corrected(self, letters: str) -> str:
        if not (letters.isascii() and letters.isalpha()) or letters in self.grammar.everyday:
            return letters
        if any(form in self._lexicon for form in forms(letters)):
            return letters
        lengths = range(len(letters) - MOST_SLIPS, len(letters) + MOST_SLIPS + 1)
        near = [word for length in lengths for word in self._slip_targets_by_shape.get((letters[:1], length), ())]
        return closest(letters, near) or letters

    @cached_property
    def _slip_targets_by_shape(self) -> dict[tuple[str, int], list[str]]:
        """First letter and length to the words of that shape: only they can be near, and they are few."""
        shapes: dict[tuple[str, int], list[str]] = {}
        for word in sorted(self._slip_targets):
            shapes.setdefault((word[:1], len(word)), []).append(word)
        return shapes


_Keyed = TypeVar("_Keyed")
_Found = TypeVar("_Found")


def _by_key(table: Mapping[str, _Keyed], key: str, kind: str) -> _Keyed:
    try:
        return table[key]
    except KeyError:
        raise VocabularyError(f"The vocabulary has no {kind} “{key}”.") from None


def _first(table: Mapping[str, _Found], letters: str) -> _Found | None:
    return next((table[form] for form in forms(letters) if form in table), None)


def _single_words(terms: Iterable[str]) -> frozenset[str]:
    return frozenset(word for term in terms for word in plain(term).split())


def own_names(scale: Scale) -> Iterator[str]:
    """Yield what names a scale and says no value."""
    for name in (scale.name, scale.short, *scale.names):
        if name not in scale.says:
            yield name


def squeezed_terms(descriptor: Descriptor) -> Iterator[str]:
    """Yield every squeezed term but the pinyin; a Chinese term ending in 香 (scent) is known without it too."""
    for term in (descriptor.name, *descriptor.synonyms):
        yield squeezed(term)
    if descriptor.zh:
        yield descriptor.zh
    if _ends_in_scent(descriptor):
        yield descriptor.zh.removesuffix("香")


def pinyin_of(descriptor: Descriptor) -> Iterator[str]:
    """Yield the pinyin with its tones, without the last syllable where the Chinese is known without it too."""
    if descriptor.pinyin:
        yield toned(descriptor.pinyin)
    if _ends_in_scent(descriptor):
        yield toned(descriptor.pinyin).removesuffix("xiāng")


def _ends_in_scent(descriptor: Descriptor) -> bool:
    return len(descriptor.zh) > 2 and descriptor.zh.endswith("香")
