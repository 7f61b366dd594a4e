"""The say line: the words being typed, and what they would record."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from tastebook.domain.course import Step
from tastebook.domain.saying import Understanding
from tastebook.domain.vocabulary import Vocabulary
from tastebook.services.tasting import TastingDesk, is_name

SHORTEST_COMPLETED: Final = 2
NOTHING: Final = frozenset({"nothing", "none", "nothing to name", "nothing there"})
"""Said alone, they finish a step at which there was nothing to name."""


class SayLine:
    """The words in the say line that are not yet taken."""

    def __init__(self, desk: TastingDesk, vocabulary: Callable[[], Vocabulary]) -> None:
        self._desk = desk
        self._vocabulary = vocabulary
        self.text = ""
        self.understood = Understanding("")

    @property
    def is_empty(self) -> bool:
        """Say whether no words wait."""
        return not self.text.strip()

    def type(self, step: Step, infusion: int | None, text: str) -> None:
        """Understand the words as they stand now."""
        self.text = text
        self.understood = self._desk.understand(step, text, infusion)

    def take(self, step: Step, infusion: int | None, text: str) -> None:
        """Keep what was said; words that are refused stay in the line."""
        if text.strip().casefold() in NOTHING:
            self._desk.finish_step(step, infusion)
        else:
            self._desk.say(step, infusion, text)
        self.clear()

    def clear(self) -> None:
        """Begin a new line."""
        self.text = ""
        self.understood = Understanding("")

    def completions(self, step: Step, typed: str, most: int) -> tuple[str, ...]:
        """Return the words that the one being typed may become, likeliest first; none once it is one of them."""
        phrase = typed.strip().removeprefix("no ").strip(" 0123456789")
        if step.sheet not in ("aroma", "finish") or len(phrase) < SHORTEST_COMPLETED:
            return ()
        found = self._vocabulary().complete(phrase, most)
        return () if self._vocabulary().find(phrase) in found[:1] else tuple(one.name for one in found)

    def unknown_spans(self, step: Step) -> tuple[tuple[int, int], ...]:
        """Return where new words stand in the line, but for the last, which is still being typed."""
        if step.sheet != "aroma":
            return ()
        parts = self.understood.parts[:-1]
        return tuple((part.start, part.end) for part in parts if part.kind == "unknown" and is_name(part))
