"""Simulated tasters: their readings follow the model, with scatter, on the scale that real ones use."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence

from tastebook.domain.extraction import Leaf, Steeped, session_shares
from tastebook.domain.figures import Figures, Range
from tastebook.domain.leaf_learning import StrengthReading


def true_leaf(leaf: Leaf, ln_rate: float) -> Leaf:
    """Return a leaf that gives so much faster than usual, known exactly."""
    return Leaf(leaf.form, leaf.manner, Range.exactly(math.exp(ln_rate)))


def readings_of(
    figures: Figures,
    leaf: Leaf,
    steeps: Sequence[Steeped],
    *,
    dose: float,
    gain: float,
    scatter: float,
    rng: random.Random,
    step: float = 1.0,
) -> list[StrengthReading]:
    """Return a reading of every steep but the first, which is the rinse."""
    shares = session_shares(figures, leaf, steeps).middle
    heard = [gain * dose * share + rng.gauss(0, scatter) for share in shares]
    values = [min(5.0, max(0.0, round(one / step) * step)) for one in heard]
    return [StrengthReading(place, value) for place, value in enumerate(values) if place]


def strengths_of(figures: Figures, leaf: Leaf, steeps: Sequence[Steeped], *, dose: float, gain: float) -> list[float]:
    """Return the true strength of every steep."""
    return [gain * dose * share for share in session_shares(figures, leaf, steeps).middle]
