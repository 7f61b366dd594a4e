"""What is said at a step, understood: descriptors with their strength, readings, clarity, and words not known."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Literal, TypeAlias

from tastebook.domain.vocabulary import Vocabulary

PartKind: TypeAlias = Literal["descriptor", "reading", "clarity", "unknown"]
How: TypeAlias = Literal["exact", "close", "unknown"]


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
    """Return what a text says."""
    raise NotImplementedError
