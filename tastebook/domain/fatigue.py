"""The palate's rest: between two teas, and after many.

Astringency builds up: in repeated sips of tannin in wine it was felt less strongly at once when 40 s lay between them
than when 20 s did (Guinard, Pangborn & Lewis 1986, Am. J. Enol. Vitic. 37:184-189, abstract seen; a second experiment
found no difference between 5 and 30 s). So 40 s is the least that was shown to help, not a rest known to be enough.

Of six things tried between foods, tea among them, plain table water crackers alone kept ratings level from one tasting
to the next (Lucak & Delwiche 2009, Chemosens. Percept. 2:32-39, abstract seen). Between astringent solutions others
found that water, or nothing, let tasters tell them apart best (Lee & Vickers 2010, Food Qual. Prefer. 21:93-99,
abstract seen). Hence crackers *and* water; neither is forced on anybody.

After how many teas to stop for a while is *common practice, no source*.
"""

from __future__ import annotations

import math
from typing import Final

from tastebook.domain.quantities import Quantity

REST_S: Final = 40
BREAK_AFTER: Final = 8
"""Teas between breaks, until the user sets another number; common practice, no source."""

BREAK_AFTER_TEAS: Final = Quantity("teas between breaks", "", 1, 100)
REST_RANGE_S: Final = Quantity("rest between teas", "s", REST_S, 3600)
CLEANSER: Final = "plain crackers and water"


def rest_left_s(since_last_tea_s: float | None, rest_s: float = REST_S) -> int:
    """Return the whole seconds of rest still due before the next tea, 0 once it is over or where none came before.

    Parameters
    ----------
    since_last_tea_s : float or None
        Since the last sip of the last tea; None if there was none. Less than 0, after a clock was set back, is 0.
    rest_s : float
        From 40 s to an hour.

    Raises
    ------
    QuantityError
        If the rest is out of range.
    """
    REST_RANGE_S.checked(rest_s)
    if since_last_tea_s is None:
        return 0
    return max(0, math.ceil(rest_s - max(0.0, since_last_tea_s)))


def rest_words(left_s: int) -> str:
    """Return what the Bench says while the palate rests, empty once it has."""
    return f"Rest the palate for {left_s} s: {CLEANSER}." if left_s > 0 else ""


def is_break_due(teas_since_break: int, break_after: int | None = BREAK_AFTER) -> bool:
    """Say whether so many teas without a break are enough; None for `break_after` asks for no break.

    Raises
    ------
    QuantityError
        If a break is asked for after no tea at all, or after more than 100.
    """
    return break_after is not None and teas_since_break >= BREAK_AFTER_TEAS.checked(break_after)


def break_words(teas_since_break: int, break_after: int | None = BREAK_AFTER) -> str:
    """Return what the Bench says when a break is due, empty before."""
    if not is_break_due(teas_since_break, break_after):
        return ""
    teas = "1 tea" if teas_since_break == 1 else f"{teas_since_break} teas"
    return f"{teas} without a break. The palate tires: {CLEANSER}, and some minutes away from the table."
