"""A session page as data: every word and number as it will stand on paper, every curve as points.

Nothing here knows paper, fonts or colours of families; whoever sets the page has only to place things. Liquor colours
are `#rrggbb`, families are keys, strengths are points from 0 to 5.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal, TypeAlias

from tastebook.domain.caution import Caution

Point: TypeAlias = tuple[float, float]
"""Across (infusions, from 1) and up (points of strength, from 0)."""

CupKind: TypeAlias = Literal["liquor", "leaf", "unseen"]
RibbonKind: TypeAlias = Literal["goes on", "ends", "begins"]


@dataclass(frozen=True)
class Fact:
    """One labelled statement."""

    label: str
    value: str


@dataclass(frozen=True)
class FactGroup:
    """Facts under one heading."""

    title: str
    facts: tuple[Fact, ...]


@dataclass(frozen=True)
class FamilyName:
    """A family that the page speaks of."""

    key: str
    name: str


@dataclass(frozen=True)
class Cup:
    """A cup seen from above: `colour` is the liquor, `rim` the darker line where it meets the porcelain."""

    kind: CupKind
    colour: str = ""
    rim: str = ""


@dataclass(frozen=True)
class Segment:
    """One family's share of a stack, from `base` up to `top`."""

    family: str
    base: float
    top: float


@dataclass(frozen=True)
class Ribbon:
    """One family flowing from column `after` to the next; where it ends or begins, the other side is a point."""

    family: str
    kind: RibbonKind
    after: int
    left: Point
    right: Point


@dataclass(frozen=True)
class StripColumn:
    """One column of the infusion strip. `assessed` says whether aroma was attended to at all."""

    heading: str
    infusion: bool
    cup: Cup
    value: str
    deviation: str
    water: str
    assessed: bool
    segments: tuple[Segment, ...]


@dataclass(frozen=True)
class StripChart:
    """The infusion strip; `told` is the same in words, for those who cannot see it."""

    columns: tuple[StripColumn, ...]
    ribbons: tuple[Ribbon, ...]
    highest: float
    told: str


@dataclass(frozen=True)
class CurveRow:
    """One line of the arc: what to fill, where to draw the line, where the readings are, and what to say at its end."""

    name: str
    family: str
    areas: tuple[tuple[Point, ...], ...]
    lines: tuple[tuple[Point, ...], ...]
    readings: tuple[Point, ...]
    words: str
    peak: str


@dataclass(frozen=True)
class ArcCup:
    """What stands below one infusion: its liquor, steep and water."""

    cup: Cup
    value: str
    deviation: str
    water: str


@dataclass(frozen=True)
class ArcChart:
    """Families and texture over infusions, on one axis.

    `unassessed` names the infusions, from 1, at which no flavour was assessed: there the curves have a gap.
    """

    infusions: tuple[str, ...]
    unassessed: tuple[int, ...]
    families: tuple[CurveRow, ...]
    textures: tuple[CurveRow, ...]
    cups: tuple[ArcCup, ...]
    liquor_words: str
    steep_words: str
    told: str


@dataclass(frozen=True)
class Quote:
    """The taster's exact words."""

    text: str
    marks: tuple[str, ...] = ()


@dataclass(frozen=True)
class SaidWord:
    """A descriptor as understood; strength 0 says that it was looked for and is absent."""

    word: str
    family: str
    strength: int
    marks: tuple[str, ...] = ()


@dataclass(frozen=True)
class ScaleWord:
    """A reading in words, such as body, full, 4 of 5."""

    name: str
    words: str
    value: str
    marks: tuple[str, ...] = ()


@dataclass(frozen=True)
class StepNote:
    """One step in one column: what was said, what was understood, or why there is nothing.

    `state` is `missed` and the like, or the marks that everything of the step bears.
    """

    name: str
    aroma: bool
    state: str
    sayings: tuple[Quote, ...] = ()
    words: tuple[SaidWord, ...] = ()
    scales: tuple[ScaleWord, ...] = ()
    remark: str = ""


@dataclass(frozen=True)
class Entry:
    """Everything of one column: the leaf, the rinse, one infusion, or the close."""

    heading: str
    cup: Cup
    lines: tuple[str, ...]
    notes: tuple[StepNote, ...]
    remark: str = ""


@dataclass(frozen=True)
class VerdictPart:
    """What the tasting came to."""

    headline: str
    facts: tuple[Fact, ...]
    note: str
    brewing_guide: str
    next_time: str


@dataclass(frozen=True)
class PagePhoto:
    """A photograph: where it was taken, what the taster says of it, what colour it told; `alt` says all of that.

    `picture` is a JPEG that holds nothing but pixels.
    """

    where: str
    caption: str
    told: str
    alt: str
    picture: bytes


@dataclass(frozen=True)
class PagePhotos:
    """A few photographs; `more` says how many are not shown."""

    shown: tuple[PagePhoto, ...] = ()
    more: str = ""


@dataclass(frozen=True)
class SessionPage:
    """A whole session, ready to be set.

    Parameters
    ----------
    dated : datetime
        When the session began, local and aware: the date of the document, so that the same session makes the same page.
    decision : str
        The verdict in one line, empty while there is none.
    legend : tuple of Fact
        What the marks beside words mean; only those that occur.
    estimates : tuple of str
        What is estimated of the lot beyond what was tasted.
    photos : PagePhotos
        A few of the session's photographs.
    """

    title: str
    alias: str
    occasion: str
    decision: str
    author: str
    dated: datetime
    day: str
    session_id: str
    groups: tuple[FactGroup, ...]
    families: tuple[FamilyName, ...]
    strip: StripChart
    arc: ArcChart
    entries: tuple[Entry, ...]
    legend: tuple[Fact, ...]
    verdict: VerdictPart | None
    cautions: tuple[Caution, ...]
    estimates: tuple[str, ...] = ()
    photos: PagePhotos = PagePhotos()
