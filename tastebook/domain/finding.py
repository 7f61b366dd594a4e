"""What is looked for in the journal, as a value, and what is found.

Everything recorded lies at a *place*: a lot; a session as a whole; or one column of a session, such as infusion 3. What
is asked for holds at a place if it was recorded there, or above it: the session's conditions and verdict hold at each
of its infusions, the lot's fields everywhere in the lot's sessions. A place is found if everything asked for holds
there, and at least some of it belongs to the place itself. So a lot's name finds the lot and not each of its cups.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal, TypeAlias

from tastebook.domain.arc import Column
from tastebook.domain.finding_words import Phrase, Span
from tastebook.domain.lot import Lot
from tastebook.domain.session import Lab

Flag: TypeAlias = Literal["late", "clouded", "doubtful"]
FLAGS: Final[tuple[Flag, ...]] = ("late", "clouded", "doubtful")

LEAST, MOST = 0, 5
"""The strengths that an impression can have; 0 was looked for and is absent."""


@dataclass(frozen=True)
class Word:
    """A word or phrase, in the text or as an impression.

    Parameters
    ----------
    told : str
        As it was typed.
    phrases : tuple of Phrase
        Any of them, in the text.
    begun : str
        Letters with which a single word of the text may begin; empty where whole words are meant.
    descriptors : frozenset of str
        Keys of the impressions that count as well; empty for words of the text alone.
    """

    told: str
    phrases: tuple[Phrase, ...]
    begun: str = ""
    descriptors: frozenset[str] = frozenset()

    @property
    def sought(self) -> tuple[tuple[Phrase, bool], ...]:
        """Return each phrase, with whether its last word may be only begun."""
        whole = tuple((phrase, False) for phrase in self.phrases)
        return (*whole, ((self.begun,), True)) if self.begun else whole


@dataclass(frozen=True)
class Noted:
    """An impression of given strength: any of several descriptors, from `least` to `most`.

    `phrases` are what it is called, to be marked in what was said.
    """

    told: str
    descriptors: frozenset[str]
    least: int = 1
    most: int = MOST
    phrases: tuple[Phrase, ...] = ()


@dataclass(frozen=True)
class FamilyAsked:
    """A family's joint strength in one column.

    `members` gives, for the key of each of its descriptors, the key that stands for it now: those that were merged
    count once.
    """

    told: str
    family: str
    members: Mapping[str, str]
    least: float = 1.0
    most: float = float(MOST)


LotField: TypeAlias = Literal["name", "kind", "cultivar", "origin", "season", "supplier", "batch", "other"]


@dataclass(frozen=True)
class FieldAsked:
    """Words in one field of the lot: of each group at least one phrase."""

    told: str
    field: LotField
    groups: tuple[tuple[Phrase, ...], ...]


@dataclass(frozen=True)
class LiquorAsked:
    """A liquor no further from a colour than `within_e00`."""

    told: str
    lab: Lab
    within_e00: float


@dataclass(frozen=True)
class Query:
    """What is looked for. Everything asked for must hold.

    Parameters
    ----------
    first, last : date or None
        Days between which the session began, both included, by the clock on the taster's wall.
    rest_in : tuple of str
        Beginnings of the date until which to rest, such as `2026-05`; or `-05-` for any May.
    slots : frozenset of int
        Columns by their place in a session (`finding_places.slot_of`); empty for all.
    channel, flags
        Every impression asked for has them; where none is asked for, any impression that does counts.
    understood, puzzled : tuple of str
        What was made of the words typed, and what was not, in words.
    """

    typed: str = ""
    words: tuple[Word, ...] = ()
    noted: tuple[Noted, ...] = ()
    families: tuple[FamilyAsked, ...] = ()
    fields: tuple[FieldAsked, ...] = ()
    first: date | None = None
    last: date | None = None
    decision: str = ""
    rest_in: str = ""
    purpose: str = ""
    is_open: bool | None = None
    slots: frozenset[int] = frozenset()
    channel: str = ""
    flags: frozenset[Flag] = frozenset()
    liquor: LiquorAsked | None = None
    clarity: str = ""
    understood: tuple[str, ...] = ()
    puzzled: tuple[str, ...] = ()

    @property
    def asks_of_column(self) -> bool:
        """Say whether something is asked for that only a column of a session can have."""
        return bool(
            self.noted or self.families or self.slots or self.channel or self.flags or self.liquor or self.clarity
        )

    @property
    def asks_of_session(self) -> bool:
        """Say whether something is asked for that a session has as a whole."""
        return bool(
            self.first or self.last or self.decision or self.rest_in or self.purpose or self.is_open is not None
        )

    @property
    def is_empty(self) -> bool:
        """Say whether nothing is asked for."""
        return not (self.words or self.fields or self.asks_of_column or self.asks_of_session)

    @property
    def descriptors(self) -> frozenset[str]:
        """Return the keys of every impression that is asked for."""
        asked = [*(one.descriptors for one in self.words), *(one.descriptors for one in self.noted)]
        return frozenset().union(*asked, *(one.members.keys() for one in self.families))

    @property
    def sought(self) -> tuple[tuple[Phrase, bool], ...]:
        """Return every phrase that is marked where it is found."""
        words = tuple(phrase for word in self.words for phrase in word.sought)
        return (*words, *((phrase, False) for noted in self.noted for phrase in noted.phrases))


@dataclass(frozen=True)
class Hit:
    """One place at which everything asked for holds.

    Parameters
    ----------
    session_uid : str
        Empty where the lot itself was found.
    column : Column or None
        None for a session or a lot as a whole.
    step : str
        Name of the step at which the sentence was said, empty where there is none.
    sentence : str
        The exact words that matched; empty where only impressions did. Of a session as a whole, else its headline.
    spans : tuple of Span
        Where in them.
    perceived : tuple of (str, int)
        The impressions that were asked for: keys with their greatest strength, strongest first.
    day : date or None
        On which the session began.
    """

    lot: Lot
    session_uid: str = ""
    column: Column | None = None
    step: str = ""
    sentence: str = ""
    spans: tuple[Span, ...] = ()
    perceived: tuple[tuple[str, int], ...] = ()
    day: date | None = None
    decision: str = ""
    purpose: str = ""
    is_open: bool = False
    liquor: Lab | None = None
    rest_until: date | None = None


@dataclass(frozen=True)
class Found:
    """One page of hits: lots first, then what was recorded, each newest first."""

    hits: tuple[Hit, ...] = ()
    has_more: bool = False
