"""Everything the Arc shows, as frozen values: the screen draws these and decides nothing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from tastebook.presenters.photo_views import ThumbView

Point: TypeAlias = tuple[float, float]
"""Across in infusions, from 1; up in points, from 0 to 5."""

Curve: TypeAlias = tuple[tuple[Point, ...], ...]
"""The parts of a curve, each drawn by itself; a part of one point is a reading that stands alone."""

RowKey: TypeAlias = str
"""`family:floral` or `scale:body`."""


@dataclass(frozen=True)
class HeaderView:
    """The line above the cards; `bench` is what the way to the Bench is called."""

    title: str
    cultivar: str
    source: str
    facts: str
    bench: str


@dataclass(frozen=True)
class CellView:
    """One row at one infusion: the value (empty where there is none), its words, and what one says of it in full."""

    value: str
    words: str
    spoken: str


@dataclass(frozen=True)
class DotView:
    """One reading on a curve; `is_uncertain` where it was marked clouded or doubtful."""

    infusion: int
    level: float
    is_uncertain: bool = False


@dataclass(frozen=True)
class RowView:
    """A family or a scale over the infusions.

    `word` and `peak` stand at its right end: the leading descriptor with the greatest strength, or where a scale reads
    highest. `cells` has one entry for each infusion.
    """

    key: RowKey
    kind: Literal["family", "scale"]
    name: str
    family: str
    curve: Curve
    dots: tuple[DotView, ...]
    word: str
    peak: str
    sentence: str
    cells: tuple[CellView, ...]


@dataclass(frozen=True)
class ColumnView:
    """One infusion; `cup` is the liquor as #rrggbb, empty where nobody judged it."""

    index: int
    label: str
    is_peak: bool
    is_assessed: bool
    cup: str
    liquor: str
    steep: str
    deviation: str
    water: str
    line: str
    spoken: str


@dataclass(frozen=True)
class BandView:
    """The liquor between two cups next to each other: colours as #rrggbb, evenly spaced from the one to the other."""

    after: int
    colours: tuple[str, ...]


@dataclass(frozen=True)
class ChartView:
    """Families, liquor, steeps and scales on one axis.

    `empty` is set instead of families where there are none: what is missing, and what to do.
    """

    caption: str
    columns: tuple[ColumnView, ...]
    families: tuple[RowView, ...]
    bands: tuple[BandView, ...]
    liquor: str
    steep: str
    scales: tuple[RowView, ...]
    empty: tuple[str, str] = ("", "")
    told: str = ""
    liquor_mark: str = ""

    @property
    def rows(self) -> tuple[RowView, ...]:
        """Return families and scales, top to bottom."""
        return (*self.families, *self.scales)


@dataclass(frozen=True)
class CursorView:
    """Where one points, and what is there in one line; `infusion` 0 or `row` empty points at none."""

    infusion: int = 0
    row: RowKey = ""
    line: str = ""
    spoken: str = ""


@dataclass(frozen=True)
class FactView:
    """A figure with what it counts."""

    value: str
    caption: str


@dataclass(frozen=True)
class PointView:
    """A labelled sentence or two."""

    label: str
    text: str


@dataclass(frozen=True)
class QuoteView:
    """What the taster said, word for word; `place` is where: the number of an infusion, or the name of a column."""

    place: str
    kind: Literal["liquor", "leaf", "unseen"]
    cup: str
    text: str
    remark: str
    accessible: str


@dataclass(frozen=True)
class SideView:
    """What the session came to.

    `more_quotes` is what the button says that shows the remaining sayings or hides them, empty where all are shown.
    `caution` stands below the readings of the close where some tell of the body.
    """

    headline: str
    decision: str
    note: str
    has_verdict: bool
    facts: tuple[FactView, ...]
    points: tuple[PointView, ...]
    quotes: tuple[QuoteView, ...]
    more_quotes: str
    closing: tuple[PointView, ...]
    caution: str
    next_time: str
    sentences: tuple[str, ...]
    estimates: tuple[str, ...] = ()
    photos: tuple[ThumbView, ...] = ()


@dataclass(frozen=True)
class TableRow:
    """One line of the table: what it is of, and its value at every infusion."""

    name: str
    cells: tuple[str, ...]


@dataclass(frozen=True)
class TableView:
    """The same readings as a table, infusions across."""

    headings: tuple[str, ...]
    rows: tuple[TableRow, ...]


@dataclass(frozen=True)
class ArcView:
    """The whole Arc."""

    session_uid: str
    header: HeaderView
    chart: ChartView
    side: SideView
    table: TableView
    is_table: bool
