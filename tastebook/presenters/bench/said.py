"""The say line: the words being typed, what was understood of them, and what the taster set right in that."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Final

from tastebook.domain.correcting import Correction, Corrections, PartKey, corrected, part_key
from tastebook.domain.course import Step
from tastebook.domain.saying import Part, Understanding
from tastebook.domain.vocabulary import Vocabulary
from tastebook.presenters.bench.said_words import term_of, told_meaning
from tastebook.services.said_parts import takes_names
from tastebook.services.tasting import TastingDesk

SHORTEST_COMPLETED: Final = 2
NOTHING: Final = frozenset({"nothing", "none", "nothing to name", "nothing there"})
"""Said alone, they finish a step at which there was nothing to name."""

STOPS: Final = ("descriptor", "reading", "clarity", "colour", "quantity", "unknown")
"""The kinds of parts that Tab stops at."""


class SayLine:
    """The words in the say line that are not yet taken.

    They are understood when somebody asks what they mean, once for each text. Corrections are held by the thing they
    concern and stay while it is still in the text. A new name that was dropped is words only from then on, unless a
    strength is said with it.
    """

    def __init__(self, desk: TastingDesk, vocabulary: Callable[[], Vocabulary]) -> None:
        self._desk = desk
        self._vocabulary = vocabulary
        self.text = ""
        self.chosen: PartKey | None = None
        self.meaning = ""
        """What a term means, once that was asked."""
        self.left_over: tuple[Part, ...] = ()
        """Numbers with units in the words that were taken last, still offered to their fields."""
        self._step: Step | None = None
        self._infusion: int | None = None
        self._read: Understanding | None = Understanding("")
        self._corrections: dict[PartKey, Correction] = {}
        self._used: set[PartKey] = set()
        self._declined: set[str] = set()

    # -- the words

    @property
    def is_empty(self) -> bool:
        """Say whether no words wait."""
        return not self.text.strip()

    def type(self, step: Step, infusion: int | None, text: str) -> None:
        """Take the words as they stand now; nothing is chosen any more."""
        self.leave()
        if text.strip():
            self.left_over = ()
        else:
            self._corrections.clear()
        self.text, self._step, self._infusion = text, step, infusion
        self._read = None

    def take(self, step: Step, infusion: int | None, text: str) -> None:
        """Keep what was said, as it was set right; words that are refused stay in the line."""
        if text != self.text:
            self.type(step, infusion, text)
        if text.strip().casefold() in NOTHING:
            self._desk.finish_step(step, infusion)
            self.clear()
            return
        open_numbers = self.quantities
        self._desk.say(step, infusion, text, self.corrections)
        self.clear()
        self.left_over = open_numbers

    def clear(self) -> None:
        """Begin a new line."""
        self.leave()
        self.text, self.left_over = "", ()
        self._read = Understanding("")
        self._corrections.clear()
        self._used.clear()

    def completions(self, step: Step, typed: str, most: int) -> tuple[str, ...]:
        """Return the words that the one being typed may become, likeliest first; none once it is one of them."""
        phrase = typed.strip().removeprefix("no ").strip(" 0123456789")
        if step.sheet not in ("aroma", "finish") or len(phrase) < SHORTEST_COMPLETED:
            return ()
        words = self._vocabulary()
        found = words.complete(phrase, most)
        if not found or words.find(phrase) in found[:1] or self._means_something(step, typed, phrase):
            return ()
        return tuple(one.name for one in found)

    def _means_something(self, step: Step, typed: str, phrase: str) -> bool:
        """Say whether a phrase is understood as it stands, so that an offer would only rewrite it."""
        words = self._vocabulary()
        scales = {scale.key for scale in words.scales}
        if words.clarity(phrase) or words.scale_words(phrase, scales):
            return True
        return bool(self._desk.understand(step, typed).of_kind("quantity"))

    # -- what was understood

    @property
    def read(self) -> Understanding:
        """Return what was understood of the words, uncorrected."""
        if self._read is None and self._step is not None:
            self._read = self._desk.understand(self._step, self.text, self._infusion)
            keys = {part_key(part) for part in self._read.parts}
            self._corrections = {key: one for key, one in self._corrections.items() if key in keys}
        return self._read or Understanding("")

    @property
    def corrections(self) -> Corrections:
        """Return what was set right, new names that were declined before among it."""
        read = self.read
        declined = {part_key(part): Correction(dropped=True) for part in read.parts if self._is_declined(part)}
        return declined | self._corrections

    @property
    def understood(self) -> Understanding:
        """Return what Enter would record."""
        return corrected(self.read, self.corrections)

    @property
    def stops(self) -> tuple[Part, ...]:
        """Return what can be stepped through and corrected, in the order of the text; of each thing the last word."""
        found: dict[PartKey, Part] = {}
        for part in self.read.parts:
            if part.kind in STOPS and not (part.kind == "unknown" and self._is_no_name(part)):
                found[part_key(part)] = part
        return tuple(part for part in found.values() if not (part.kind == "quantity" and part_key(part) in self._used))

    @property
    def quantities(self) -> tuple[Part, ...]:
        """Return the numbers that are still offered to a field, also those of the words taken last."""
        if self.is_empty:
            return self.left_over
        corrections = self.corrections
        return tuple(one for one in self.stops if one.kind == "quantity" and part_key(one) not in corrections)

    def correction(self, key: PartKey) -> Correction:
        """Return what was set right in one thing."""
        return self._corrections.get(key, Correction())

    def part_of(self, key: PartKey | None) -> Part | None:
        """Return what can be corrected under a key."""
        return next((part for part in self.stops if part_key(part) == key), None)

    @property
    def new_name(self) -> Part | None:
        """Return the new name that a family is asked for: the chosen, the first unanswered, or else the last."""
        names = [part for part in self.stops if part.kind == "unknown" and not self.correction(part_key(part)).dropped]
        chosen = next((part for part in names if part_key(part) == self.chosen), None)
        open_names = (part for part in names if not self.correction(part_key(part)).family)
        return chosen or next(open_names, names[-1] if names else None)

    # -- setting it right

    def step(self, direction: int) -> bool:
        """Choose the next part, or the one before; say whether one is chosen now: beyond either end none is."""
        keys = [part_key(part) for part in self.stops]
        here = keys.index(self.chosen) if self.chosen in keys else -1
        self.leave()
        if not keys or (here < 0 and direction < 0):
            return False
        there = here + direction
        self.chosen = keys[there] if 0 <= there < len(keys) else None
        return self.chosen is not None

    def choose(self, key: PartKey) -> None:
        """Choose a part by a finger."""
        self.leave()
        self.chosen = key if self.part_of(key) is not None else None

    def leave(self) -> None:
        """Go back to the words."""
        self.chosen, self.meaning = None, ""

    def explain(self, words: str = "") -> bool:
        """Say what a term means, the chosen part where none is named; say whether there was one to explain."""
        part = self.part_of(self.chosen)
        words = words or (term_of(part, self._vocabulary()) if part is not None else "")
        self.meaning = told_meaning(words, self._vocabulary()) if words else ""
        return bool(words)

    def set_value(self, key: PartKey | None, value: int) -> bool:
        """Set the strength or value of a part, the chosen one if none is named; say whether it has such a thing."""
        key = key or self.chosen
        part = self.part_of(key)
        if key is None or part is None or not has_value(part):
            return False
        self.meaning = ""
        self._declined.discard(part.key)
        self._corrections[key] = replace(self.correction(key), value=value, dropped=False)
        return True

    def drop(self, key: PartKey | None) -> bool:
        """Let a part, the chosen one if none is named, be words only or something again; say whether there is one."""
        key = key or self.chosen
        part = self.part_of(key)
        if key is None or part is None:
            return False
        self.meaning = ""
        before = self.correction(key)
        self._corrections[key] = replace(before, dropped=not before.dropped)
        if part.kind == "unknown":
            (self._declined.discard if before.dropped else self._declined.add)(part.key)
        return True

    def give_family(self, part: Part, family: str) -> None:
        """Give a new name another family than the one guessed."""
        self._corrections[part_key(part)] = replace(self.correction(part_key(part)), family=family)

    def use(self, part: Part) -> None:
        """Offer a number no more: its field has it."""
        self._used.add(part_key(part))
        self.left_over = tuple(one for one in self.left_over if one != part)
        if self.chosen == part_key(part):
            self.chosen = None

    # -- names that were declined

    def _is_no_name(self, part: Part) -> bool:
        """Say whether unknown words name nothing here: they never could, or they were declined before this line."""
        if self._step is None or not takes_names(self._step, part):
            return True
        return self._is_declined(part) and part_key(part) not in self._corrections

    def _is_declined(self, part: Part) -> bool:
        if part.kind != "unknown" or part.has_strength:
            return False
        return part.key in self._declined or self._vocabulary().is_talk(part.said)


def has_value(part: Part) -> bool:
    """Say whether a digit from 0 to 5 means something for a part."""
    if part.kind == "reading":
        return part.key != "finish_length_s"
    return part.kind in ("descriptor", "unknown")
