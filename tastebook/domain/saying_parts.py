"""What a passage comes to: its parts, in order, each with the words it was read from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple, TypeAlias

from tastebook.domain.session import Lab

PartKind: TypeAlias = Literal[
    "descriptor", "reading", "clarity", "colour", "colour change", "quantity", "unknown", "resembles", "remark",
]  # fmt: skip
How: TypeAlias = Literal["exact", "close", "unknown"]


class Because(NamedTuple):
    """Words that had a say in a part: where they stand in the text, and what they did."""

    start: int
    end: int
    does: str


@dataclass(frozen=True)
class Part:
    """One thing that was said.

    Parameters
    ----------
    kind : PartKind
        `descriptor`: something perceived, or looked for and absent. `reading`: a value on a scale. `clarity` of the
        liquor. `colour` of liquor or leaf. `colour change`: which way the liquor went since the last infusion.
        `quantity`: a number for a field, to be offered, never set. `unknown`: words that may name something new.
        `resembles`: a likeness. `remark`: talk.
    start, end : int
        Where it stands in the text, with everything that belongs to it.
    said : str
        The taster's own words for it, without strength or joining words.
    key : str
        Key of the descriptor, scale or field; term of clarity; name of the colour; which way a colour went; else the
        slug of the words.
    intensity : int or None
        Of a descriptor or unknown words, 1 (trace) to 5 (dominant), 0 when said to be absent.
    value : float or None
        Of a reading: 0 to 5, or seconds where the scale is timed. Of a quantity: in the unit that its key names.
    how : {"exact", "close", "unknown"}
        Close: a slip was corrected. Unknown: nothing of it stands in the vocabulary.
    family : str
        Of a descriptor; empty where there is none.
    has_strength : bool
        Whether `intensity` was said; otherwise it is the default.
    doubtful : bool
        Whether the taster left it open.
    channel : str
        Where it was perceived, if that is not the sense the step attends to; else empty.
    change : str
        How it stands to the last infusion (`fades`, `returns`, `doubles`), empty where nothing was said of that.
    said_before : bool
        Whether it was named earlier in the passage: `intensity` then takes the earlier words in.
    asked : bool
        Of a reading: whether its scale is one of those asked for at the step.
    of : {"", "liquor", "leaf"}
        What has the colour.
    lab : Lab or None
        Of a colour: the centre of its region, CIELAB under D65.
    guess : str
        Of unknown words: the family they most likely belong to, empty where nothing speaks for one.
    word_start, word_end : int
        Where the word itself stands, to be underlined.
    because : tuple of Because
        Every word that had a say in it, in order. Some may stand outside `start` to `end`.
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
    doubtful: bool = False
    channel: str = ""
    change: str = ""
    said_before: bool = False
    asked: bool = True
    of: Literal["", "liquor", "leaf"] = ""
    lab: Lab | None = None
    guess: str = ""
    word_start: int = 0
    word_end: int = 0
    because: tuple[Because, ...] = ()


@dataclass(frozen=True)
class Understanding:
    """A text and its parts, in order; every letter and digit of the text lies in exactly one of them."""

    text: str
    parts: tuple[Part, ...] = ()

    @property
    def impressions(self) -> tuple[Part, ...]:
        """Return what the passage comes to: of each descriptor and channel the part that has the last word."""
        last = {(part.key, part.channel): part for part in self.parts if part.kind == "descriptor"}
        return tuple(
            part for part in self.parts if part.kind == "descriptor" and last[(part.key, part.channel)] is part
        )

    @property
    def readings(self) -> tuple[Part, ...]:
        """Return the readings, of each scale the last."""
        last = {part.key: part for part in self.parts if part.kind == "reading"}
        return tuple(part for part in self.parts if part.kind == "reading" and last[part.key] is part)

    def of_kind(self, *kinds: PartKind) -> tuple[Part, ...]:
        """Return the parts of some kinds, in order."""
        return tuple(part for part in self.parts if part.kind in kinds)
