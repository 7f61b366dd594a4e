"""One thing found in a passage, with every word that has a say in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from tastebook.domain.colour_words import ColourName
from tastebook.domain.saying_context import Context
from tastebook.domain.saying_frames import is_contrast
from tastebook.domain.saying_lexicon import Lexeme, Sense
from tastebook.domain.vocabulary import Clarity, Descriptor, ScaleWord

ABSENT_DOES: Final = "absent"
PERCEIVED: Final = "perceived: "
"""What words that name a place do, before the channel they name."""
LARGELY: Final = frozenset({"mostly", "mainly", "primarily", "chiefly", "predominantly", "largely"})
NEAR: Final = 2
PLACING: Final = frozenset({"on", "at", "in", "along", "around", "towards", "down"})
LIGHT: Final = frozenset({"small", "up", "soft", "verb"})


class Found:
    """Something named at a place, gathered while its sentence is read.

    `before` and `behind` hold strengths with the place of the words that say them; the others hold the place of the
    words that had this say, None where none had.
    """

    __slots__ = (
        "absent", "against_other", "at", "before", "behind", "change", "channel", "definite", "expected", "hedged",
        "kind", "number", "restates", "sense", "sure", "tints", "value",
    )  # fmt: skip

    def __init__(self, at: int, kind: str, sense: Sense | None = None) -> None:
        self.at, self.kind, self.sense = at, kind, sense
        self.before: list[tuple[float, int]] = []
        self.behind: list[tuple[float, int]] = []
        self.absent: int | None = None
        self.hedged: int | None = None
        self.sure: int | None = None
        self.change: tuple[str, int] | None = None
        self.channel: tuple[str, int] | None = None
        self.number: tuple[float, int] | None = None
        self.value: float | None = None
        self.tints: tuple[Found, ...] = ()
        self.expected = self.definite = self.against_other = self.restates = False

    @property
    def first(self) -> int:
        """Return where it begins: a colour may be said in several words."""
        return self.tints[0].at if self.tints else self.at

    def cues(self) -> list[tuple[int, str]]:
        """Return the places of the words that had a say, with what they did, in order."""
        found = [(place, f"strength {value:g}") for value, place in (*self.before, *self.behind)]
        found += [cue for tint in self.tints for cue in tint.cues()]
        named = ((self.absent, ABSENT_DOES), (self.hedged, "doubtful"), (self.sure, "certain"))
        found += [(place, does) for place, does in named if place is not None]
        if self.change:
            found.append((self.change[1], f"since the last infusion: {self.change[0]}"))
        if self.channel and self.channel[0]:  # what only says “here” tells nothing
            found.append((self.channel[1], f"{PERCEIVED}{self.channel[0]}"))
        if self.number:
            found.append((self.number[1], f"strength {self.number[0]:g}"))
        return sorted(set(found))


@dataclass
class Waiting:
    """What was said before a thing that is still to be named."""

    strengths: list[tuple[float, int]] = field(default_factory=list)
    of: list[tuple[float, int]] = field(default_factory=list)
    absent: int | None = None
    hedged: int | None = None
    sure: int | None = None
    change: tuple[str, int] | None = None
    expected: bool = False
    has_article: bool = False
    is_definite: bool = False
    unsays: bool = False
    unknown: int = 0


def shifted(lexemes: Sequence[Lexeme], place: int, value: float) -> float:
    """Return a strength pushed away from the middle where `very` or the like stands right before it."""
    if place > 0 and "up" in lexemes[place - 1].roles and not lexemes[place - 1].is_masked:
        return min(5.0, value + 1) if value > 3 else max(1.0, value - 1) if value < 3 else 4.0
    return value


def key_of(found: Found) -> str:
    """Return the key of what was found, empty where it has none."""
    meaning = found.sense.meaning if found.sense else None
    if isinstance(meaning, Descriptor):
        return meaning.key
    if isinstance(meaning, ScaleWord):
        return meaning.scale.key
    if isinstance(meaning, Clarity):
        return meaning.term
    return meaning.name if isinstance(meaning, ColourName) else ""


def is_bare_name(found: Found) -> bool:
    """Say whether only the name of a scale was said so far, and no value: `bitterness`."""
    meaning = found.sense.meaning if found.sense else None
    is_name = isinstance(meaning, ScaleWord) and meaning.value in (None, meaning.scale.named)
    return is_name and found.absent is None and found.number is None and not (found.before or found.behind)


def measures_back(context: Context, last: Found, place: int, ahead: int) -> bool:
    """Say whether a strength right behind the name of a scale is its own: `bitterness a trace sweetness slight`."""
    if "by" not in context.lexemes[place].roles or not is_bare_name(last):
        return False
    between = context.lexemes[last.at + 1 : place]
    following = context.meanings[ahead]
    is_far = any("by" not in one.roles and LIGHT.isdisjoint(one.roles) for one in between)
    return not is_far and following is not None and following.kind == "scale"


def is_against_another(lexemes: Sequence[Lexeme], place: int, other_teas: Sequence[int]) -> bool:
    """Say whether a thing is held against another tea: not where `but` stands before that one is spoken of.

    `not as thick as the first cup but thicker than the other lot` tells first of this tea, then of both.
    """
    behind = lexemes[place + 1 : place + 1 + NEAR]
    if any("last" in one.roles and not one.is_masked for one in behind):
        return False  # `… but not as thick as the first cup`
    if not other_teas or other_teas[0] < place:
        return bool(other_teas)
    return not any(is_contrast(lexemes, at) for at in range(place + 1, other_teas[0]))


def tells_where(lexemes: Sequence[Lexeme], place: int) -> bool:
    """Say whether a word tells where something is rather than how much of it: `mostly on the gums`."""
    if lexemes[place].plain not in LARGELY or place + 1 >= len(lexemes):
        return False
    following = lexemes[place + 1]
    return following.plain.split()[0] in PLACING or not {"channel", "mouth"}.isdisjoint(following.roles)
