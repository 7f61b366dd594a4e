"""Where something is said: the step with its sense and scales, and what a sentence speaks of."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from tastebook.domain.saying_lexicon import Lexeme

LEAF_CHANNELS: Final = frozenset({"dry leaf", "warmed leaf", "wet leaf", "infused leaf"})
MOUTH_CHANNELS: Final = frozenset({"palate", "retronasal", "finish", "liquor", "liquor nose"})
TASTED_CHANNELS: Final = frozenset({"palate", "retronasal", "finish"})


@dataclass(frozen=True)
class Setting:
    """At what step it is said, and what is known of the last infusion."""

    scales: frozenset[str] = frozenset()
    clarity: bool = False
    channel: str = "palate"
    default_intensity: int = 3
    last: Mapping[str, float] = field(default_factory=dict)

    @property
    def is_leaf(self) -> bool:
        """Say whether the step attends to leaf."""
        return self.channel in LEAF_CHANNELS

    @property
    def is_liquor(self) -> bool:
        """Say whether the step attends to the look of the liquor."""
        return self.clarity or self.channel == "liquor"

    @property
    def is_mouth(self) -> bool:
        """Say whether something is in the mouth at this step, or was just now."""
        return self.channel in MOUTH_CHANNELS


@dataclass(frozen=True)
class Subjects:
    """What a sentence speaks of."""

    mouth: bool
    end: bool
    liquor: bool
    leaf: bool
    nose: bool
    pale: bool

    @classmethod
    def of(cls, lexemes: Sequence[Lexeme]) -> Subjects:
        """Return the subjects of one sentence."""
        roles = {role for lexeme in lexemes if not lexeme.is_masked for role in lexeme.roles}
        channels = [cue for lexeme in lexemes for role, cue in lexeme.roles.items() if role in ("channel", "label")]
        return cls(
            mouth="mouth" in roles or any(cue.key == "palate" for cue in channels),
            end="end" in roles or any(cue.key == "finish" for cue in channels),
            liquor="liquor" in roles,
            leaf="leaf" in roles or any(cue.key in LEAF_CHANNELS for cue in channels),
            nose=any(cue.key == "nose" for cue in channels),
            pale="pale" in roles,
        )
