"""Everything the Bench shows, as frozen values: the screen draws these and decides nothing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from tastebook.domain.correcting import PartKey
from tastebook.domain.steep import Phase

ColumnKey: TypeAlias = str
"""`leaf`, `0` (the rinse), `1`, `2`, … or `close`."""

TabState: TypeAlias = Literal["waiting", "todo", "now", "done", "late", "missed", "skipped"]


@dataclass(frozen=True)
class HeaderView:
    """The line above the strip."""

    title: str
    cultivar: str
    source: str
    facts: str
    finish: str
    aside: str = ""
    aside_is_caution: bool = False


@dataclass(frozen=True)
class BarView:
    """One family in one column."""

    family: str
    name: str
    strength: float
    pips: int
    change: str
    clouded: bool = False


@dataclass(frozen=True)
class ColumnView:
    """One column of the infusion strip.

    `cup` is the liquor as #rrggbb, empty for none; `before` lists what the last cup had while this one has nothing yet.
    """

    key: ColumnKey
    title: str
    kind: Literal["leaf", "rinse", "infusion", "next", "close"]
    is_current: bool = False
    bars: tuple[BarView, ...] = ()
    is_assessed: bool = False
    cup: str = ""
    big: str = ""
    deviation_s: int = 0
    small: str = ""
    status: str = ""
    is_over: bool = False
    words: tuple[str, str] = ("", "")
    before_title: str = ""
    before: tuple[BarView, ...] = ()
    live: tuple[int, int] | None = None
    hint: tuple[str, str] = ("", "")
    accessible: str = ""


@dataclass(frozen=True)
class StripView:
    """The infusion strip, left to right."""

    columns: tuple[ColumnView, ...]

    @property
    def current(self) -> int:
        """Return the place of the current column."""
        return next((place for place, column in enumerate(self.columns) if column.is_current), 0)


@dataclass(frozen=True)
class TabView:
    """One step of the current column."""

    key: str
    name: str
    caption: str
    state: TabState
    is_current: bool


@dataclass(frozen=True)
class ChipView:
    """One descriptor under the taster's hands.

    `carried`: noted at the last infusion and offered; `pending`: typed in the say line and not yet taken; `new`: typed,
    and a word of the taster's own from then on. `channel` is set where it is not the step's own, and `about` tells it
    in words, with how it stands to the last infusion. `why` says from which words it was read.
    """

    descriptor: str
    word: str
    family: str
    intensity: int
    uid: str = ""
    carried: bool = False
    pending: bool = False
    late: bool = False
    clouded: bool = False
    doubtful: bool = False
    channel: str = ""
    about: str = ""
    new: bool = False
    chosen: bool = False
    why: str = ""

    @property
    def key(self) -> str:
        """Return what tells it apart on its board: the descriptor, and behind a blank the channel, where it has one."""
        return f"{self.descriptor} {self.channel}".strip()

    @property
    def is_absent(self) -> bool:
        """Say whether the descriptor was looked for and not found."""
        return self.intensity == 0


@dataclass(frozen=True)
class GroupView:
    """Chips of one family; words that have no family yet stand first, under a question."""

    family: str
    name: str
    chips: tuple[ChipView, ...]


@dataclass(frozen=True)
class TileView:
    """One family on the shelf."""

    family: str
    name: str
    is_on: bool


@dataclass(frozen=True)
class SliderView:
    """One scale; `value` None is not assessed, `before` is the last infusion's."""

    scale: str
    name: str
    low: str
    high: str
    value: float | None
    before: float | None
    word: str
    words: tuple[str, ...] = ()
    late: bool = False
    clouded: bool = False
    doubtful: bool = False
    pending: bool = False
    chosen: bool = False
    why: str = ""


@dataclass(frozen=True)
class SwatchView:
    """One colour of the chart; `mark` is the number of an earlier cup that had it."""

    hex: str
    name: str
    mark: str = ""


@dataclass(frozen=True)
class EarlierCup:
    """A cup poured before, to compare with."""

    label: str
    hex: str


@dataclass(frozen=True)
class WordView:
    """One word of a family that was opened."""

    descriptor: str
    word: str
    is_noted: bool


@dataclass(frozen=True)
class AromaSheet:
    """Descriptors by family.

    `open_family` and `words` are set while the words of one family are laid out; `unplaced` is a word of the taster's
    own that waits for a family: the next tile pressed is its.
    """

    groups: tuple[GroupView, ...]
    tiles: tuple[TileView, ...]
    caption: str
    open_family: str = ""
    words: tuple[WordView, ...] = ()
    unplaced: str = ""


@dataclass(frozen=True)
class TextureSheet:
    """Scales."""

    sliders: tuple[SliderView, ...]


@dataclass(frozen=True)
class NudgeView:
    """A fine adjustment of the liquor colour along one axis, `axis` being L, a or b."""

    axis: str
    name: str
    value: str
    less: str
    more: str
    can_less: bool
    can_more: bool


@dataclass(frozen=True)
class LiquorSheet:
    """The colour of the cup and how clear it is; `source` says how the colour was judged, empty while it is not."""

    swatches: tuple[tuple[SwatchView, ...], ...]
    chosen: tuple[int, int] | None
    cup: str
    name: str
    lab: str
    change: str
    earlier: tuple[EarlierCup, ...]
    nudges: tuple[NudgeView, ...]
    clarities: tuple[tuple[str, str], ...]
    clarity: str
    is_possible: bool
    source: str = ""


@dataclass(frozen=True)
class FinishSheet:
    """What stays after the swallow, with a stopwatch from the swallow."""

    running_s: float | None
    length: str
    stopwatch_label: str
    sliders: tuple[SliderView, ...]
    groups: tuple[GroupView, ...]


@dataclass(frozen=True)
class VerdictSheet:
    """What the tasting comes to. `rests` says how long a tea rests, and how to have it rest otherwise."""

    decision: str
    decisions: tuple[str, ...]
    headline: str
    strengths: str
    faults: str
    note: str
    next_time: str
    brewing_guide: str
    good_infusions: str
    rest_until: str
    quantity_kg: str
    rests: str = ""


Sheet: TypeAlias = AromaSheet | TextureSheet | LiquorSheet | FinishSheet | VerdictSheet


MarkKind: TypeAlias = Literal["sure", "doubtful", "absent", "new", "plain", "plain doubtful", "number", "dropped"]
"""How words in the say line are underlined: what has a family by its colour, what has none as `plain`."""


@dataclass(frozen=True)
class MarkView:
    """Words in the say line that were understood: from which to before which sign, and what they are, in words."""

    begin: int
    end: int
    kind: MarkKind
    told: str
    family: str = ""
    is_chosen: bool = False


@dataclass(frozen=True)
class SaidPartView:
    """Something understood that has no place on the sheet of the step, so that nothing is understood silently.

    `value` is set where a digit or a finger can change it: a strength, or a reading from 0 to 5.
    """

    key: PartKey
    word: str
    about: str
    family: str = ""
    value: int | None = None
    doubtful: bool = False
    is_chosen: bool = False
    is_dropped: bool = False
    can_change: bool = True
    why: str = ""


@dataclass(frozen=True)
class OfferView:
    """A number with a unit, offered to its field."""

    key: PartKey
    words: str
    is_chosen: bool = False


@dataclass(frozen=True)
class SaidHereView:
    """One saying at this step: when, the exact words, and what they gave."""

    when: str
    text: str
    gave: str


@dataclass(frozen=True)
class SayView:
    """The say line, with all that was understood of the words in it.

    `note` explains what is chosen, what a word means, or asks for the family of a new word. `told` lists what was
    understood, for those who hear the screen. `here` is what was said at this step before.
    """

    typed: str
    placeholder: str
    marks: tuple[MarkView, ...] = ()
    parts: tuple[SaidPartView, ...] = ()
    offers: tuple[OfferView, ...] = ()
    note: str = ""
    is_choosing: bool = False
    told: str = ""
    here: tuple[SaidHereView, ...] = ()


@dataclass(frozen=True)
class StepCardView:
    """The card under the strip: what to attend to now, and how to say it."""

    tabs: tuple[TabView, ...]
    column: str
    prompt: str
    hint: str
    is_warning: bool
    why: str
    say: SayView
    trouble: str
    sheet: Sheet
    can_skip: bool
    is_skipped: bool


@dataclass(frozen=True)
class TimerView:
    """The timer panel.

    `marks` are earlier steeps as (label, seconds). `question` is set when a steep runs absurdly long. `water_caption`
    says what the temperature rests on.
    """

    index: int
    title: str
    phase: Phase
    word: str
    digits: str
    below: str
    plan: str
    plan_s: int
    lead_s: int
    elapsed_s: float | None
    marks: tuple[tuple[str, int], ...]
    water: str
    plan_value: str
    plan_caption: str
    advice: tuple[str, str]
    action: str
    key: str
    question: str = ""
    can_amend: bool = False
    can_change_plan: bool = True
    is_hottest: bool = False
    water_caption: str = "water"
    can_boil: bool = False
    can_ask_why: bool = False


@dataclass(frozen=True)
class BenchView:
    """The whole Bench."""

    header: HeaderView
    strip: StripView
    card: StepCardView
    timer: TimerView
    undo: str
    redo: str
    notice: str
