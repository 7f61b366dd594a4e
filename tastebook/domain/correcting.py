"""What the taster sets right in what was understood, before it is kept: a strength, a word left as a word, a family."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final, NamedTuple, TypeAlias

from tastebook.domain.saying_parts import Part, PartKind, Understanding


class PartKey(NamedTuple):
    """Which thing a part is about: parts that name the same thing in the same channel share it."""

    kind: PartKind
    key: str
    channel: str = ""


@dataclass(frozen=True)
class Correction:
    """What holds instead of what was understood.

    Parameters
    ----------
    value : int or None
        The strength of an impression (0: absent) or the value of a reading, 0 to 5; None leaves it.
    dropped : bool
        Whether its words are words only: nothing is kept from them but themselves.
    family : str
        Of a new word; empty leaves the guess.
    """

    value: int | None = None
    dropped: bool = False
    family: str = ""


Corrections: TypeAlias = Mapping[PartKey, Correction]
NOTHING_CORRECTED: Final[Corrections] = MappingProxyType({})


def part_key(part: Part) -> PartKey:
    """Return which thing a part is about."""
    return PartKey(part.kind, part.key, part.channel)


def corrected(understood: Understanding, corrections: Corrections) -> Understanding:
    """Return what was understood with its corrections; what is dropped is a remark, with all its words."""
    if not corrections:
        return understood
    parts = ((part, corrections.get(part_key(part))) for part in understood.parts)
    return Understanding(understood.text, tuple(_corrected(part, one) if one else part for part, one in parts))


def _corrected(part: Part, correction: Correction) -> Part:
    if correction.dropped:
        return replace(part, kind="remark")
    if part.kind == "reading":
        return part if correction.value is None else replace(part, value=float(correction.value), has_strength=True)
    if part.kind == "unknown" and correction.family:
        part = replace(part, family=correction.family)
    if part.kind in ("descriptor", "unknown") and correction.value is not None:
        return replace(part, intensity=correction.value, has_strength=True)
    return part
