"""What a review of one session draws from its records, beyond the charts: readings, sayings, time, words left over."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from typing import Final

from tastebook.domain.arc import Column, column_of
from tastebook.domain.saying import LONGEST_NAME_WORDS
from tastebook.domain.session import Reading, Saying, Tasting

_BEFORE_RINSE: Final = -1


def readings_of(tasting: Tasting, scale: str, last: int) -> tuple[Reading | None, ...]:
    """Return a scale's reading at every infusion from 1 to `last`, None where it was not read.

    Where several steps of one infusion read the same scale, the last one counts: by then the mouth had settled.
    """
    found = {one.infusion: one for one in tasting.readings if one.scale == scale and one.infusion}
    return tuple(found.get(index) for index in range(1, last + 1))


def readings_outside(tasting: Tasting) -> tuple[Reading, ...]:
    """Return the readings that belong to no infusion, such as the finish and the body at the close."""
    return tuple(one for one in tasting.readings if not one.infusion)


def sayings_in_order(tasting: Tasting) -> tuple[Saying, ...]:
    """Return everything the taster said, along the infusion strip, in each column as it was said."""
    return tuple(sorted(tasting.sayings, key=lambda one: (_place(saying_column(tasting, one)), one.recorded_at_utc)))


def saying_column(tasting: Tasting, saying: Saying) -> Column:
    """Return the column of the strip at which something was said."""
    return column_of(tasting, saying.step, saying.infusion)


def richest_sayings(tasting: Tasting, most: int) -> tuple[Saying, ...]:
    """Return the sayings that tell most, `most` at the utmost, in order along the strip.

    Remarks come before lists of words with their strengths: those are in the chart already. Then a saying tells more
    than another if more was understood of it, then if it is longer. Every column is heard once before any is heard
    twice.
    """
    ranked = sorted(sayings_in_order(tasting), key=_tells(tasting), reverse=True)
    heard: Counter[Column] = Counter()
    turns = []
    for saying in ranked:
        column = saying_column(tasting, saying)
        turns.append((heard[column], saying))
        heard[column] += 1
    chosen = {saying.uid for _, saying in sorted(turns, key=lambda turn: turn[0])[:most]}
    return tuple(one for one in sayings_in_order(tasting) if one.uid in chosen)


def minutes_spent(tasting: Tasting) -> int | None:
    """Return how long a finished session took, in minutes; None while it is open."""
    session = tasting.session
    if session.closed_at_utc is None:
        return None
    return round((session.closed_at_utc - session.started_at_utc).total_seconds() / 60)


def words_without_family(tasting: Tasting, family_of: Callable[[str], str]) -> tuple[str, ...]:
    """Return the words said of aroma at an infusion that have no family, each once: no arc can show them."""
    course = tasting.session.course
    said = (
        one.word
        for one in tasting.impressions
        if one.intensity and one.infusion and course.step(one.step).sheet == "aroma" and not family_of(one.descriptor)
    )
    return tuple(dict.fromkeys(said))


def _tells(tasting: Tasting) -> Callable[[Saying], tuple[bool, int, int]]:
    understood = Counter(one.saying_uid for one in tasting.impressions if one.saying_uid)
    return lambda saying: (_is_remark(saying.text), understood[saying.uid], len(saying.text.split()))


def _is_remark(words: str) -> bool:
    """Say whether words were said as a sentence rather than as a list with strengths."""
    return len(words.split()) > LONGEST_NAME_WORDS and not any(letter.isdigit() for letter in words)


def _place(column: Column) -> float:
    if column == "leaf":
        return _BEFORE_RINSE
    return float("inf") if column == "close" else column
