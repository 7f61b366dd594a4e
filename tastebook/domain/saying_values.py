"""What a word of a scale comes to when it is denied, softened or pushed: `not thick`, `a bit rough`, `very short`."""

from __future__ import annotations

from typing import Final

from tastebook.domain.vocabulary import ScaleWord

MOST, MIDDLE, LEAST = 5.0, 3.0, 0.0
STRONG: Final = 4.0
LITTLE, SOME, FAIR = 1.0, 2.0, 3.0
WEAK: Final = 2.0
FELT: Final = "body"
"""How somebody feels: `not calm` leaves none of it."""
SOFTENED: Final = 0.5


def denied_value(word: ScaleWord) -> float | None:
    """Return the value where a word is said not to fit; None where that says nothing.

    `no bitterness` is none of it; `no body` is little, since there is always some; `not short` is fair, `not thick` is
    somewhat less than fair; `not harsh` leaves a little, and what is not the very most may be anything.
    """
    scale, value = word
    if value is None:
        return LEAST if scale.from_none else LITTLE
    if value < MIDDLE:
        return FAIR
    if not scale.from_none:
        return SOME if value > MIDDLE else None
    if value >= MOST:
        return None
    return LITTLE if value >= STRONG and scale.channel != FELT else LEAST


def pushed_value(word: ScaleWord, value: float, said: float) -> float:
    """Return a value that a word says, moved by a strength beside it: one on, or halfway back to the middle."""
    if word.scale.from_none and value > MIDDLE:
        if said < STRONG:
            return said if said < MIDDLE else value
        return min(MOST, value + 1)
    if said <= WEAK:
        return MIDDLE + (value - MIDDLE) * SOFTENED
    if said < STRONG:
        return value
    return min(MOST, value + 1) if value > MIDDLE else max(LEAST, value - 1)
