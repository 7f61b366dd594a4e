"""Teas like this one: the lots whose families speak alike, infusion by infusion.

The distance of two tastings is the mean, over the infusions at which aroma was assessed in both, of the Euclidean
distance between their family strengths. What was not assessed is not zero: an infusion that only one of them has says
nothing, and two tastings that share none are not compared.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, TypeAlias

from tastebook.domain.arc import MOST_STRENGTH
from tastebook.domain.finding_places import AROMA, key_in
from tastebook.domain.finding_words import BREAK
from tastebook.domain.vocabulary import Vocabulary

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    FloatArray: TypeAlias = NDArray[np.float64]
    IntArray: TypeAlias = NDArray[np.int64]

MOST_NAMED: Final = 2
"""Of the families in which two lots are alike, or of which one has more or less."""

TELLING: Final = 0.8
"""Families that part two lots by less than this on the average are not told as a difference. Ours, no source."""

SPEAKS: Final = 1.0
"""A family weaker than this on the average of either lot is not told as what makes them alike. Ours, no source."""

_STRENGTHS: Final = 8
"""More than any strength, so that a descriptor and its strength are one number."""


@dataclass(frozen=True)
class NotedCups:
    """What was perceived in the infusions of some sessions, newest session first.

    Parameters
    ----------
    session_uids, lot_uids : sequence of str
        Of each session.
    session : sequence of int
        Of each cup: the place of its session in `session_uids`.
    infusion : sequence of int
        Of each cup, from 1.
    perceived : sequence of str
        Of each cup: the signs of its impressions (`finding_places.place_of`).
    """

    session_uids: Sequence[str] = ()
    lot_uids: Sequence[str] = ()
    session: Sequence[int] = ()
    infusion: Sequence[int] = ()
    perceived: Sequence[str] = ()


@dataclass(frozen=True)
class Likeness:
    """A lot alike another, and why.

    Parameters
    ----------
    lot_uid, session_uid : str
        The lot, and its newest tasting with assessed aroma, which was compared.
    distance : float
        Mean over the shared infusions of the Euclidean distance between family strengths.
    shared : int
        How many infusions were assessed in both.
    alike, less, more : tuple of str
        Keys of the families that both have about as strongly, and of those of which this lot has clearly less or more.
    """

    lot_uid: str
    session_uid: str
    distance: float
    shared: int
    alike: tuple[str, ...] = ()
    less: tuple[str, ...] = ()
    more: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class Profiles:
    """Family strengths of every cup in which aroma was assessed.

    Parameters
    ----------
    families : tuple of str
    session, infusion : ndarray of int, shape (n,)
        To which session (by its place) and infusion each cup belongs.
    strengths : ndarray, shape (n, families)
        From 0 to 5.
    """

    cups: NotedCups
    families: tuple[str, ...]
    session: IntArray
    infusion: IntArray
    strengths: FloatArray


def profiles_of(cups: NotedCups, vocabulary: Vocabulary) -> Profiles:
    """Return the family strengths of all cups: descriptors of a family combine as in `arc.family_strength`."""
    import numpy as np

    families = tuple(one.key for one in vocabulary.families)
    known = _Signs(vocabulary, families)
    signs = " ".join(cups.perceived).split()
    counts = np.fromiter((text.count(" ") + (text != "") for text in cups.perceived), np.int64, len(cups.perceived))
    codes = np.fromiter(map(known.__getitem__, signs), np.int64, len(signs))
    cup = np.repeat(np.arange(len(cups.perceived)), counts)
    is_assessed = np.zeros(len(cups.perceived), dtype=bool)
    is_assessed[cup[(codes == _Signs.ASSESSED) | (codes >= 0)]] = True
    strongest = _strongest(cup[codes >= 0], codes[codes >= 0], known.size)
    family_of = np.array([*known.family, 0], dtype=np.int64)
    of_cup, descriptor, strength = strongest
    squares = np.bincount(
        of_cup * len(families) + family_of[descriptor], strength**2, len(cups.perceived) * len(families)
    ).reshape(-1, len(families))
    strengths = np.minimum(MOST_STRENGTH, np.sqrt(squares))
    kept = np.flatnonzero(is_assessed)
    session, infusion = np.asarray(cups.session, dtype=np.int64), np.asarray(cups.infusion, dtype=np.int64)
    return Profiles(cups, families, session[kept], infusion[kept], strengths[kept])


def _strongest(cup: IntArray, codes: IntArray, size: int) -> tuple[IntArray, IntArray, FloatArray]:
    """Return cup, descriptor and strength of the strongest reading of each descriptor in each cup."""
    import numpy as np

    whole = np.sort(cup * (size * _STRENGTHS) + codes)
    last = np.flatnonzero(np.diff(whole // _STRENGTHS, append=-1))
    best = whole[last]
    descriptor = best // _STRENGTHS % size
    return best // (size * _STRENGTHS), descriptor, (best % _STRENGTHS).astype(np.float64)


class _Signs(dict[str, int]):
    """From the sign of an impression to descriptor and strength as one number; below 0 what has no family."""

    NOTHING, ASSESSED = -1, -2

    def __init__(self, vocabulary: Vocabulary, families: Sequence[str]) -> None:
        super().__init__({AROMA: self.ASSESSED})
        self._vocabulary = vocabulary
        self._places = {key: place for place, key in enumerate(families)}
        self._numbers = {one.key: number for number, one in enumerate(vocabulary.descriptors)}
        self.family = [self._places.get(one.family, 0) for one in vocabulary.descriptors]
        self.size = max(1, len(self.family))

    def __missing__(self, one: str) -> int:
        self[one] = found = self._read(one)
        return found

    def _read(self, one: str) -> int:
        if one.count(BREAK) != 3:
            return self.NOTHING
        signed, strength, _ = one.split(BREAK, 2)
        key = self._vocabulary.resolve(key_in(signed))
        if not self._vocabulary.family_of(key):
            return self.NOTHING
        is_strength = len(strength) == 1 and strength in "12345"
        return self._numbers[key] * _STRENGTHS + (int(strength) if is_strength else 0)


def kin_of(profiles: Profiles, session_uid: str, limit: int) -> tuple[Likeness, ...]:
    """Return the lots most like the one tasted in a session, the nearest first.

    Each lot is compared by its newest tasting in which aroma was assessed. Of equals the newest stands first.
    """
    import numpy as np

    uids = profiles.cups.session_uids
    if session_uid not in uids or limit < 1:
        return ()
    ours = uids.index(session_uid)
    wanted = np.full((int(profiles.infusion.max(initial=0)) + 1, len(profiles.families)), np.nan)
    mine = profiles.session == ours
    wanted[profiles.infusion[mine]] = profiles.strengths[mine]
    shared = ~np.isnan(wanted[profiles.infusion, 0]) & _is_newest(profiles, profiles.cups.lot_uids[ours])
    session = profiles.session[shared]
    apart = profiles.strengths[shared] - wanted[profiles.infusion[shared]]
    counts = np.bincount(session, minlength=len(uids))
    sums = np.bincount(session, np.linalg.norm(apart, axis=1), minlength=len(uids))
    compared = np.flatnonzero(counts)
    distances = sums[compared] / counts[compared]
    nearest = compared[np.argsort(distances, kind="stable")[:limit]]
    return tuple(_likeness(profiles, int(one), session == one, shared, apart) for one in nearest)


def newest_assessed(profiles: Profiles, lot_uid: str) -> str:
    """Return the newest session of a lot in which aroma was assessed, empty if there is none."""
    lots, uids = profiles.cups.lot_uids, profiles.cups.session_uids
    assessed = sorted(set(profiles.session.tolist()))
    return next((uids[one] for one in assessed if lots[one] == lot_uid), "")


def _is_newest(profiles: Profiles, but_not: str) -> NDArray[np.bool_]:
    """Return which cups belong to the newest assessed session of their lot, those of one lot left out."""
    import numpy as np

    chosen = np.zeros(len(profiles.cups.session_uids), dtype=bool)
    seen = {but_not}
    for place in np.unique(profiles.session).tolist():  # the newest has the lowest place
        lot_uid = profiles.cups.lot_uids[place]
        if lot_uid not in seen:
            seen.add(lot_uid)
            chosen[place] = True
    newest: NDArray[np.bool_] = chosen[profiles.session]
    return newest


def _likeness(
    profiles: Profiles, session: int, is_its: NDArray[np.bool_], shared: NDArray[np.bool_], apart: FloatArray
) -> Likeness:
    import numpy as np

    theirs = profiles.strengths[shared][is_its]
    apart = apart[is_its]
    mean_apart, mean = apart.mean(axis=0), theirs.mean(axis=0)
    weaker = np.minimum(mean, mean - mean_apart)
    is_alike = (weaker >= SPEAKS) & (np.abs(mean_apart) < TELLING)
    named = dict(enumerate(profiles.families))
    alike = [named[one] for one in np.argsort(-weaker, kind="stable").tolist() if is_alike[one]]
    by_change = np.argsort(mean_apart, kind="stable").tolist()
    less = [named[one] for one in by_change if mean_apart[one] <= -TELLING]
    more = [named[one] for one in reversed(by_change) if mean_apart[one] >= TELLING]
    return Likeness(
        profiles.cups.lot_uids[session],
        profiles.cups.session_uids[session],
        float(np.linalg.norm(apart, axis=1).mean()),
        int(is_its.sum()),
        tuple(alike[:MOST_NAMED]),
        tuple(less[:MOST_NAMED]),
        tuple(more[:MOST_NAMED]),
    )


def likeness_words(one: Likeness, names: Mapping[str, str]) -> str:
    """Return in words why two lots are alike, such as `most alike in floral and milky; less roasted`."""

    def said(keys: Sequence[str]) -> str:
        return " and ".join(names.get(key, key).lower() for key in keys)

    parts = [
        f"most alike in {said(one.alike)}" if one.alike else "",
        f"less {said(one.less)}" if one.less else "",
        f"more {said(one.more)}" if one.more else "",
    ]
    return "; ".join(part for part in parts if part) or "about alike in every family"
