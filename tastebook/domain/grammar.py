"""The rules of the say line, as data: which phrase plays which part in a sentence.

A rule list holds phrases. In a phrase, one of `a|b` is said, one of `{a b|c}` is said, and what stands in `(a|b c)` may
be left out. What the parts are and how they work together is told in `resources/grammar/README.md`.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property, lru_cache, partial
from itertools import product
from typing import Any, Final, NamedTuple

from tastebook.domain.aside_lists import AsideLists
from tastebook.domain.errors import VocabularyError
from tastebook.domain.spelling import plain

GROUP: Final = re.compile(r"\(([^()]*)\)|\{([^{}]*)\}|(\S+)")
LONGEST_PHRASES: Final = 4000
"""A phrase with more readings than this is a slip of the pen."""


class Cue(NamedTuple):
    """What a phrase does: its part in a sentence, with a number or a key where the part needs one."""

    role: str
    value: float = 0.0
    key: str = ""


@dataclass(frozen=True)
class ChangeRule:
    """How a strength follows from that of the last infusion; `unsaid` where that is not known."""

    key: str
    unsaid: int
    shift: float = 0.0
    factor: float = 1.0
    least: int = 1

    def applied(self, last: float | None) -> int:
        """Return the strength now, 1 to 5."""
        if not last:
            return self.unsaid
        return max(self.least, 1, min(5, round(last * self.factor + self.shift)))


@dataclass(frozen=True)
class Comparative:
    """A word that compares on a scale with the last infusion, such as `thinner`."""

    scale: str
    shift: float
    unsaid: float

    def applied(self, last: float | None) -> float:
        """Return the value now, 0 to 5."""
        return self.unsaid if last is None else max(0.0, min(5.0, last + self.shift))


@dataclass(frozen=True)
class Unit:
    """A unit of measure and the field it belongs to; numbers outside `least` to `most` are not meant in it."""

    key: str
    factor: float
    offset: float
    least: float
    most: float

    def converted(self, number: float) -> float | None:
        """Return a number in the unit of the field, None if it cannot be meant so."""
        if not self.least <= number <= self.most:
            return None
        return round((number + self.offset) * self.factor, 2)


@dataclass(frozen=True)
class Said:
    """Whole phrases that say where on a scale something lies, or how clear a liquor is.

    Parameters
    ----------
    scale, clarity : str
        Key of the scale, or term of the clarity; the other is empty.
    is_weak : bool
        Whether they count only where their scale is spoken of.
    """

    phrases: tuple[str, ...]
    scale: str = ""
    clarity: str = ""
    value: float = 0.0
    is_weak: bool = False


class PhrasesLater(Mapping[str, tuple[Cue, ...]]):
    """Phrases that are spelt out when the first of them is asked for."""

    def __init__(self, spell_out: Callable[[], dict[str, tuple[Cue, ...]]]) -> None:
        self._spell_out = spell_out

    @cached_property
    def _phrases(self) -> dict[str, tuple[Cue, ...]]:
        return self._spell_out()

    def __getitem__(self, phrase: str) -> tuple[Cue, ...]:
        return self._phrases[phrase]

    def __iter__(self) -> Iterator[str]:
        return iter(self._phrases)

    def __len__(self) -> int:
        return len(self._phrases)


@dataclass(frozen=True, eq=False)
class Grammar:
    """Every rule, by the phrase that calls for it.

    Parameters
    ----------
    phrases : mapping of str to tuple of Cue
        Plain phrase to the parts it can play, in the order of the files.
    guarded, modifiers, leaf_itself, scene_nouns, weak : frozenset of str
        Plain words that count under conditions only.
    bystanders : frozenset of str
        Things that smell and are not the tea.
    generic : frozenset of str
        Keys of collective notes: asked for, they give way to one of their family that answers.
    only_asked : frozenset of str
        Scales that are heard only where a step asks for them.
    never : frozenset of str
        Words whose ending is not taken off to find another.
    over_and : tuple of str
        How denials begin that go on over `and`.
    everyday : frozenset of str
        English words that are no slip of a tasting word.
    cooked, part_words : frozenset of str
        What was done to a thing, and parts of it: they may stand behind its name.
    colour_nouns : frozenset of str
        Things that only tint a colour named right behind them (`chocolate brown`).
    colours_first : frozenset of str
        Metals and woods that are a colour where a colour is looked at, and a note elsewhere.
    tastes : frozenset of str
        Words that are a taste while something is in the mouth, and a smell elsewhere.
    class_nouns : frozenset of str
        Words that tell only of what kind the thing before them is.
    vocatives : frozenset of str
        What somebody may be called to the face (`well, honey, …`).
    asides : AsideLists
        Lists by which what somebody does or owns is told from the cup (`asides.toml`).
    names_itself : frozenset of str
        What is measured by a strength right before it: `weak brew`, `strong aroma`.
    cups : frozenset of str
        What says that the cup itself is meant: `it's thick`.
    heard, heard_if_led : mapping of str to str
        What dictation writes, or what a taster says in another tongue, and what was meant.
    """

    phrases: Mapping[str, tuple[Cue, ...]] = field(default_factory=dict)
    changes: Mapping[str, ChangeRule] = field(default_factory=dict)
    comparatives: tuple[Comparative, ...] = ()
    units: tuple[Unit, ...] = ()
    said: tuple[Said, ...] = ()
    numbers: Mapping[str, int] = field(default_factory=dict)
    over_and: tuple[str, ...] = ()
    guarded: frozenset[str] = frozenset()
    modifiers: frozenset[str] = frozenset()
    leaf_itself: frozenset[str] = frozenset()
    scene_nouns: frozenset[str] = frozenset()
    bystanders: frozenset[str] = frozenset()
    generic: frozenset[str] = frozenset()
    weak: frozenset[str] = frozenset()
    only_asked: frozenset[str] = frozenset()
    never: frozenset[str] = frozenset()
    everyday: frozenset[str] = frozenset()
    cooked: frozenset[str] = frozenset()
    part_words: frozenset[str] = frozenset()
    colour_nouns: frozenset[str] = frozenset()
    tastes: frozenset[str] = frozenset()
    class_nouns: frozenset[str] = frozenset()
    vocatives: frozenset[str] = frozenset()
    asides: AsideLists = field(default_factory=AsideLists)
    colours_first: frozenset[str] = frozenset()
    names_itself: frozenset[str] = frozenset()
    cups: frozenset[str] = frozenset()
    heard: Mapping[str, str] = field(default_factory=dict)
    heard_if_led: Mapping[str, str] = field(default_factory=dict)


def readings(pattern: str) -> list[str]:
    """Return every phrase that a pattern stands for, in plain words.

    Raises
    ------
    VocabularyError
        If the pattern stands for too many, or for none.
    """
    choices: list[list[str]] = []
    for optional, one_of, word in GROUP.findall(pattern):
        said = (optional or one_of or word).split("|")
        choices.append([*([""] if optional else []), *map(_plain, said)])
    count = math.prod(len(some) for some in choices)
    if not choices or count > LONGEST_PHRASES:
        raise VocabularyError(f"grammar: “{pattern}” stands for {count if choices else 0} phrases; write it shorter.")
    found = (" ".join(word for word in words if word) for words in product(*choices))
    return list(dict.fromkeys(phrase for phrase in found if phrase))


_plain = lru_cache(maxsize=4096)(plain)


def grammar_from_tables(tables: Mapping[str, Mapping[str, Any]], *, later: bool = False) -> Grammar:
    """Return the grammar that parsed rule files describe, by file name without its ending.

    Parameters
    ----------
    tables : mapping of str to mapping
        The parsed files.
    later : bool
        Whether the patterns are spelt out only when the first phrase is asked for: that takes as long as all the rest.

    Raises
    ------
    VocabularyError
        If a list is missing or is no list; the message begins with where.
    """
    reader = _Reader(tables)
    gathered = list(reader.cues())
    words = "words"
    said = tuple(map(_said, reader.rows("feel", "said")))
    return Grammar(
        phrases=PhrasesLater(partial(_phrases, gathered)) if later else _phrases(gathered),
        changes={row["key"]: _change(row) for row in reader.rows("change", "changes")},
        comparatives=tuple(_comparative(row) for row in reader.rows("change", "comparatives")),
        units=tuple(_unit(row) for row in reader.rows("numbers", "units")),
        numbers=dict(reader.table("numbers", "words")),
        over_and=tuple(map(plain, reader.list("absence", "over_and"))),
        guarded=_plain_set(reader.list(words, "guarded")),
        modifiers=_plain_set(reader.list(words, "modifiers")),
        leaf_itself=_plain_set(reader.list(words, "leaf_itself")),
        scene_nouns=_plain_set(reader.list("frames", "scene_nouns")),
        generic=frozenset(reader.list(words, "generic")),
        bystanders=_plain_set(reader.list("frames", "bystanders")),
        weak=_plain_set(reader.list(words, "weak")),
        said=said,
        only_asked=frozenset(reader.list(words, "only_asked")),
        never=_plain_set(reader.list("idioms", "never")),
        everyday=frozenset(reader.list("everyday", "words")),
        cooked=_plain_set(reader.list(words, "cooked")),
        part_words=_plain_set(reader.list(words, "part_words")),
        colour_nouns=_plain_set(reader.list(words, "colour_nouns")),
        colours_first=_plain_set(reader.list(words, "colours_first")),
        tastes=_plain_set(reader.list(words, "tastes")),
        vocatives=_plain_set(reader.list("frames", "vocatives")),
        class_nouns=_plain_set(reader.list("frames", "class_nouns")),
        asides=AsideLists.read(partial(reader.list, "asides")),
        cups=_plain_set(reader.list(words, "cups")),
        names_itself=_plain_set(reader.list(words, "names_itself")),
        heard=_plain_map({**reader.table("dictation", "borrowed"), **reader.table("dictation", "always")}),
        heard_if_led=_plain_map(reader.table("dictation", "led")),
    )


def _phrases(gathered: Sequence[tuple[Sequence[str], Cue]]) -> dict[str, tuple[Cue, ...]]:
    phrases: dict[str, list[Cue]] = {}
    for patterns, cue in gathered:
        for pattern in patterns:
            for phrase in readings(pattern):
                known = phrases.setdefault(phrase, [])
                if all(cue.role != one.role for one in known):
                    known.append(cue)
    return {phrase: tuple(cues) for phrase, cues in phrases.items()}


def _plain_set(words: Iterable[str]) -> frozenset[str]:
    return frozenset(plain(word) for word in words)


def _plain_map(table: Mapping[str, str]) -> dict[str, str]:
    return {plain(heard): meant for heard, meant in table.items()}


def _change(row: Mapping[str, Any]) -> ChangeRule:
    return ChangeRule(
        key=row["key"],
        unsaid=int(row["unsaid"]),
        shift=float(row.get("shift", 0)),
        factor=float(row.get("factor", 1)),
        least=int(row.get("least", 1)),
    )


def _comparative(row: Mapping[str, Any]) -> Comparative:
    return Comparative(row["scale"], float(row["shift"]), float(row["unsaid"]))


def _said(row: Mapping[str, Any]) -> Said:
    phrases = tuple(phrase for pattern in row["words"] for phrase in readings(pattern))
    return Said(
        phrases, row.get("scale", ""), row.get("clarity", ""), float(row.get("value", 0)), bool(row.get("weak", False))
    )


def _unit(row: Mapping[str, Any]) -> Unit:
    least, most = float(row["least"]), float(row["most"])
    return Unit(row["key"], float(row["factor"]), float(row.get("offset", 0)), least, most)


@dataclass(frozen=True)
class _Reader:
    tables: Mapping[str, Mapping[str, Any]]

    def cues(self) -> Iterator[tuple[Sequence[str], Cue]]:
        """Yield lists of patterns with the part they play; of several parts of one phrase the earlier comes first."""
        yield self.list("absence", "not_denied"), Cue("instead")
        yield from self._strengths()
        yield from self._absences()
        yield self.list("hedges", "hedges"), Cue("hedge")
        yield self.list("hedges", "after"), Cue("hedge after")
        yield self.list("hedges", "sure"), Cue("sure")
        yield self.list("hedges", "almost"), Cue("almost")
        yield self.list("hedges", "yes"), Cue("yes")
        yield from self._changes()
        yield from self._channels()
        yield from self._frames()
        yield self.list("idioms", "words"), Cue("idiom")
        yield from self._numbers()
        yield from self._words()

    def _strengths(self) -> Iterator[tuple[Sequence[str], Cue]]:
        for role in ("of", "by", "before", "after"):
            for row in self.rows("strength", role):
                yield row["words"], Cue(role, float(row["value"]))
        yield self.list("strength", "shifts", "up"), Cue("up")
        yield self.list("strength", "shifts", "soft"), Cue("soft")

    def _absences(self) -> Iterator[tuple[Sequence[str], Cue]]:
        lists = (
            ("before", "no"), ("verbs", "not"), ("perceive", "perceive"), ("after", "absent"), ("answers", "answer"),
            ("looked_for", "looked for"), ("unmet", "unmet"), ("takes_back", "takes back"), ("retracts", "retracts"),
            ("unsays", "unsays"), ("likewise", "likewise"),
            ("confirms", "confirms"),
        )  # fmt: skip
        for name, role in lists:
            yield self.list("absence", name), Cue(role)

    def _changes(self) -> Iterator[tuple[Sequence[str], Cue]]:
        for row in self.rows("change", "changes"):
            yield row.get("after", ()), Cue("change after", key=row["key"])
            yield row.get("before", ()), Cue("change", key=row["key"])
        for number, row in enumerate(self.rows("change", "comparatives")):
            yield row["words"], Cue("comparative", float(number))
        for row in self.rows("change", "colours"):
            yield row["words"], Cue("colour change", key=row["key"])
        yield self.list("change", "last", "words"), Cue("last")

    def _channels(self) -> Iterator[tuple[Sequence[str], Cue]]:
        for row in self.rows("channels", "channels"):
            in_the_mouth = float(bool(row.get("mouth")))
            yield row["phrases"], Cue("channel", in_the_mouth, row["key"])
            yield row["labels"], Cue("label", in_the_mouth, row["key"])

    def _frames(self) -> Iterator[tuple[Sequence[str], Cue]]:
        lists = (
            ("onward", "onward"), ("earlier", "earlier"), ("past", "past"), ("against", "against"),
            ("clause", "clause"), ("sentence", "sentence"), ("returns", "returns"),
            ("fond", "fond"), ("likes", "like"), ("scenes", "scene"), ("present", "present"), ("resumes", "resumes"),
            ("tells_more", "tells more"), ("speaks", "speaks"),
            ("explains", "explains"),
        )  # fmt: skip
        for name, role in lists:
            yield self.list("frames", name), Cue(role)

    def _numbers(self) -> Iterator[tuple[Sequence[str], Cue]]:
        for word, value in self.table("numbers", "words").items():
            yield [word], Cue("number", float(value))
        yield self.list("numbers", "ordinals", "words"), Cue("ordinal")
        yield self.list("numbers", "strength", "leads"), Cue("lead")
        yield self.list("numbers", "strength", "out_of"), Cue("out of")
        yield self.list("numbers", "strength", "out_of_ten"), Cue("out of ten")
        units = list(self.rows("numbers", "units"))
        by_word: dict[str, list[int]] = {}
        for place, row in enumerate(units):
            for pattern in row["words"]:
                for word in readings(pattern):
                    by_word.setdefault(word, []).append(place)
        for word, places in by_word.items():
            yield [word], Cue("unit", key=" ".join(map(str, places)))
        for row in self.rows("numbers", "leads"):
            yield row["words"], Cue("field", float(row["least"]), f"{row['key']} {row['most']}")
        yield self.list("numbers", "finish", "words"), Cue("stays")
        yield self.list("numbers", "ago", "words"), Cue("ago")
        yield self.list("numbers", "steep", "words"), Cue("steep")
        yield self.list("numbers", "plan", "words"), Cue("plan")

    def _words(self) -> Iterator[tuple[Sequence[str], Cue]]:
        lists = (
            ("and", "and"), ("or", "or"), ("contrast", "contrast"), ("only", "only"), ("starts", "start"),
            ("small", "small"),
            ("nouns", "noun"), ("talk", "talk"), ("mouth_subjects", "mouth"), ("finish_subjects", "end"),
            ("liquor_subjects", "liquor"), ("leaf_subjects", "leaf"), ("list_ands", "joins"), ("goes_on", "goes on"),
            ("relatives", "relative"), ("verbs", "verb"), ("tags", "tag"), ("articles", "article"),
            ("definite", "definite"),
            ("leaf_nouns", "leaf noun"), ("pale", "pale"),
            ("scent_subjects", "scent"), ("cold_cups", "cold"), ("scent_verbs", "wafts"),
        )  # fmt: skip
        for name, role in lists:
            yield self.list("words", name), Cue(role)

    def rows(self, file: str, name: str) -> Sequence[Mapping[str, Any]]:
        """Return a list of tables."""
        found = self.tables.get(file, {}).get(name)
        if not isinstance(found, list) or not all(isinstance(row, Mapping) for row in found):
            raise VocabularyError(f"{file}.{name}: a list of rules is needed.")
        return found

    def table(self, file: str, name: str) -> Mapping[str, Any]:
        """Return a table of words."""
        found = self.tables.get(file, {}).get(name)
        if not isinstance(found, Mapping):
            raise VocabularyError(f"{file}.{name}: a table of words is needed.")
        return found

    def list(self, file: str, *path: str) -> Sequence[str]:
        """Return a list of words."""
        found: Any = self.tables.get(file, {})
        for name in path:
            found = found.get(name) if isinstance(found, Mapping) else None
        if not isinstance(found, list) or not all(isinstance(word, str) for word in found):
            raise VocabularyError(f"{'.'.join((file, *path))}: a list of words in quotes is needed.")
        return found
