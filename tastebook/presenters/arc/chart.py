"""The left card of the Arc: families, liquor, steeps and scales over the infusions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from tastebook.domain.arc import FamilyArc, column_of, peak_infusion
from tastebook.domain.colour import srgb_from_lab
from tastebook.domain.liquor import colour_name
from tastebook.domain.own_words import word_now
from tastebook.domain.session import Impression, Infusion, Lab, Reading, Tasting
from tastebook.domain.vocabulary import Scale, Vocabulary
from tastebook.presenters.arc.views import BandView, CellView, ChartView, ColumnView, Curve, DotView, RowView
from tastebook.reports.curves import curve_parts, monotone_curve
from tastebook.reports.page_charts import Charted, charted, known_scale
from tastebook.reports.review import readings_of, words_without_family
from tastebook.reports.sentences import (
    at_words,
    duration_words,
    family_sentence,
    liquor_phrase,
    overall_sentence,
    scale_phrase,
    steep_phrase,
)
from tastebook.reports.wording import degrees, listed, signed, steep_time

NOT_ASSESSED: Final = "not assessed"
NOT_READ: Final = "not read"
NONE_NOTED: Final = "none"
ORDER: Final = "ordered by when each family speaks"

_BAND_STEPS: Final = 6
_MOST_LEVEL: Final = 5.0


@dataclass(frozen=True)
class ChartState:
    """A tasting with everything that its chart is worked out from."""

    tasting: Tasting
    vocabulary: Vocabulary
    in_fahrenheit: bool = False

    @cached_property
    def charts(self) -> Charted:
        """Return strengths and arcs, worked out once."""
        return charted(self.tasting, self.vocabulary)

    @property
    def infusions(self) -> range:
        """Return the infusions, from 1."""
        return range(1, self.charts.last + 1)

    @property
    def unassessed(self) -> tuple[int, ...]:
        """Return the infusions at which no aroma was assessed."""
        return tuple(index for index in self.infusions if index not in self.charts.strengths)

    @cached_property
    def peak(self) -> int | None:
        """Return the infusion with the most aroma, None where there are not two to choose from."""
        return peak_infusion(self.charts.arcs) if self.charts.last - len(self.unassessed) > 1 else None

    @cached_property
    def noted(self) -> dict[tuple[str, int], list[Impression]]:
        """Return what was said at each infusion, by family; families also hold what was said to be absent."""
        family_of = self.vocabulary.family_of
        noted: dict[tuple[str, int], list[Impression]] = {}
        for one in self.charts.tasting.impressions:
            column = column_of(self.tasting, one.step, one.infusion)
            if isinstance(column, int) and column > 0 and (family := family_of(one.descriptor)):
                noted.setdefault((family, column), []).append(one)
        return noted


def chart_view(state: ChartState) -> ChartView:
    """Return the chart as it stands."""
    families = tuple(_family_row(state, arc) for arc in state.charts.arcs)
    scales = tuple(_scale_rows(state))
    return ChartView(
        caption=_caption(state) if families else "",
        columns=tuple(_column(state, index, (*families, *scales)) for index in state.infusions),
        families=families,
        bands=tuple(_bands(state)),
        liquor=liquor_phrase(state.tasting),
        liquor_mark="photo" if any(one.liquor_source == "photo" for one in state.tasting.infusions) else "",
        steep=steep_phrase(state.tasting),
        scales=scales,
        empty=("", "") if families else _empty(state),
        told=_told(state, families),
    )


def strength_words(strength: float) -> str:
    """Return a strength with one digit after the point at most, such as `3.6` or `4`."""
    return f"{round(strength, 1):g}"


# -- what stands above and instead


def _caption(state: ChartState) -> str:
    gaps = f"{at_words(state.unassessed)} {NOT_ASSESSED}" if state.unassessed else ""
    left_over = len(words_without_family(state.tasting, state.vocabulary.family_of))
    words = f"{left_over} {'word' if left_over == 1 else 'words'} without a family not drawn" if left_over else ""
    return "; ".join(part for part in (ORDER, gaps, words) if part)


def _empty(state: ChartState) -> tuple[str, str]:
    if not state.charts.last:
        return ("Nothing noted yet", "Pour the first infusion at the Bench and say what is in the cup.")
    if len(state.unassessed) < state.charts.last:
        return ("No aroma named", "It was attended to, and nothing was found to name.")
    return ("No aroma noted yet", "Say at the Bench what is in the cup: the arc grows from infusion to infusion.")


def _told(state: ChartState, families: Sequence[RowView]) -> str:
    """Return the whole arc in sentences, for those who cannot see it."""
    if not state.charts.last:
        return "Nothing noted yet."
    gaps = f"Aroma was not assessed at {at_words(state.unassessed)}." if state.unassessed else ""
    liquor = f"Liquor {liquor_phrase(state.tasting)}." if liquor_phrase(state.tasting) else ""
    told = [*(row.sentence for row in families), overall_sentence(state.charts.arcs), gaps, liquor]
    return " ".join(one for one in told if one)


# -- rows


def _family_row(state: ChartState, arc: FamilyArc) -> RowView:
    vocabulary = state.vocabulary
    name = vocabulary.family(arc.family).name
    known = vocabulary.has(arc.descriptor)
    strengths = _padded(arc.strengths, state.charts.last)
    return RowView(
        key=f"family:{arc.family}",
        kind="family",
        name=name,
        family=arc.family,
        curve=_curve(strengths),
        dots=tuple(
            DotView(index, strength, _is_clouded(arc, index)) for index, strength in enumerate(strengths, 1) if strength
        ),
        word=vocabulary.descriptor(arc.descriptor).name if known else arc.word,
        peak=strength_words(arc.peak_strength),
        sentence=family_sentence(arc, name),
        cells=tuple(_family_cell(state, arc.family, index, strengths[index - 1]) for index in state.infusions),
    )


def _is_clouded(arc: FamilyArc, index: int) -> bool:
    return index <= len(arc.clouded) and arc.clouded[index - 1]


def _padded(values: Sequence[float | None], last: int) -> tuple[float | None, ...]:
    """Return the values with gaps up to the last column: a cup may be poured of which nothing was said yet."""
    return (*values, *[None] * (last - len(values)))


def _family_cell(state: ChartState, family: str, index: int, strength: float | None) -> CellView:
    if strength is None:
        return CellView("", NOT_ASSESSED, NOT_ASSESSED)
    noted = state.noted.get((family, index), [])
    words = ", ".join(_named(noted, state.vocabulary)) or NONE_NOTED
    spoken = ", ".join(part for part in (words, *_marks(noted)) if part)
    return CellView(strength_words(strength), words, spoken)


def _named(noted: Sequence[Impression], vocabulary: Vocabulary) -> list[str]:
    """Return what was named, strongest first, each word once, then what was said to be absent.

    A word that stands alone goes without its strength, which is the family's.
    """
    strongest: dict[str, Impression] = {}
    for one in noted:
        if one.descriptor not in strongest or one.intensity > strongest[one.descriptor].intensity:
            strongest[one.descriptor] = one
    present = sorted((one for one in strongest.values() if one.intensity), key=lambda one: -one.intensity)
    absent = [f"no {word_now(one, vocabulary)}" for one in strongest.values() if not one.intensity]
    words = [(word_now(one, vocabulary), one.intensity) for one in present]
    return [word if len(present) == 1 else f"{word} {intensity}" for word, intensity in words] + absent


def _marks(noted: Sequence[Impression] | Sequence[Reading]) -> tuple[str, ...]:
    marks = (
        ("late", any(one.late for one in noted)),
        ("clouded", any(one.clouded for one in noted)),
        ("doubtful", any(one.doubtful for one in noted)),
    )
    return tuple(word for word, holds in marks if holds)


def _scale_rows(state: ChartState) -> Iterator[RowView]:
    """Yield a row for every scale that was read at an infusion, in the order of the vocabulary."""
    keys = dict.fromkeys(one.scale for one in state.tasting.readings if one.infusion)
    order = {scale.key: place for place, scale in enumerate(state.vocabulary.scales)}
    for key in sorted(keys, key=lambda each: order.get(each, len(order))):
        yield _scale_row(state, known_scale(state.vocabulary, key))


def _scale_row(state: ChartState, scale: Scale) -> RowView:
    readings = readings_of(state.tasting, scale.key, state.charts.last)
    values = [None if one is None else one.value for one in readings]
    words = scale_phrase(values, lambda value: _scale_words(scale, value))
    levels = _levels(scale, values)
    return RowView(
        key=f"scale:{scale.key}",
        kind="scale",
        name=scale.short,
        family="",
        curve=_line(levels),
        dots=tuple(
            DotView(index, level, one.clouded or one.doubtful)
            for index, (one, level) in enumerate(zip(readings, levels, strict=True), start=1)
            if one is not None and level is not None
        ),
        word=words,
        peak="",
        sentence=f"{scale.name}: {words}.",
        cells=tuple(_scale_cell(scale, one) for one in readings),
    )


def _scale_cell(scale: Scale, reading: Reading | None) -> CellView:
    if reading is None:
        return CellView("", NOT_READ, NOT_READ)
    words = _scale_words(scale, reading.value)
    value = "" if scale.unit else strength_words(reading.value)
    return CellView(value, words, ", ".join((words, *_marks([reading]))))


def _scale_words(scale: Scale, value: float) -> str:
    if scale.unit == "s":
        return duration_words(round(value))
    return scale.word_for(value) or strength_words(value)


def _levels(scale: Scale, values: Sequence[float | None]) -> tuple[float | None, ...]:
    """Return readings as heights from 0 to 5; seconds are drawn as shares of the longest."""
    most = max((value for value in values if value is not None), default=0.0) if scale.unit else _MOST_LEVEL
    return tuple(None if value is None else value / (most or 1.0) * _MOST_LEVEL for value in values)


def _curve(values: Sequence[float | None]) -> Curve:
    parts = curve_parts(*monotone_curve(range(1, len(values) + 1), values))
    return tuple(tuple(zip(x.tolist(), y.tolist(), strict=True)) for x, y in parts)


def _line(levels: Sequence[float | None]) -> Curve:
    """Return a curve for which 0 is a reading like any other, so that it is drawn along the bottom."""
    lifted = _curve([None if level is None else level + 1 for level in levels])
    return tuple(tuple((x, y - 1) for x, y in part) for part in lifted)


# -- columns


def _column(state: ChartState, index: int, rows: Sequence[RowView]) -> ColumnView:
    cup = state.tasting.infusion(index)
    is_assessed = index in state.charts.strengths
    steep, deviation = _steep(cup)
    water = "" if cup is None or cup.water_c is None else degrees(cup.water_c, in_fahrenheit=state.in_fahrenheit)
    liquor = _liquor(cup)
    is_peak = index == state.peak
    line = _line_of(index, is_peak=is_peak, steep=_steep_told(steep, deviation, water), liquor=liquor)
    return ColumnView(
        index=index,
        label=str(index),
        is_peak=is_peak,
        is_assessed=is_assessed,
        cup=srgb_from_lab(cup.liquor) if cup and cup.liquor else "",
        liquor=liquor,
        steep=steep,
        deviation=signed(deviation),
        water=water,
        line=line,
        spoken=f"{line}. {_spoken_rows(index, rows, is_assessed=is_assessed)}",
    )


def _steep(cup: Infusion | None) -> tuple[str, int]:
    """Return an infusion's time in water in words, and by how many seconds it missed the plan."""
    if cup is None or cup.actual_ms is None:
        return ("in water" if cup and cup.is_steeping else "", 0)
    actual_s = round(cup.actual_ms / 1000)
    return steep_time(actual_s), actual_s - cup.planned_s


def _liquor(cup: Infusion | None) -> str:
    if cup is None:
        return ""
    name = colour_name(cup.liquor) if cup.liquor else ""
    source = "from a photo" if cup.liquor and cup.liquor_source == "photo" else ""
    return ", ".join(part for part in (name, cup.clarity, source) if part)


def _steep_told(steep: str, deviation: int, water: str) -> str:
    against = f"{steep_time(abs(deviation))} {'over' if deviation > 0 else 'under'} plan" if deviation else ""
    told = ", ".join(part for part in (steep, against) if part)
    return " at ".join(part for part in (told, water) if part)


def _line_of(index: int, *, is_peak: bool, steep: str, liquor: str) -> str:
    name = f"Infusion {index}, the peak" if is_peak else f"Infusion {index}"
    told = "; ".join(part for part in (steep, liquor) if part)
    return f"{name}: {told}" if told else name


def _spoken_rows(index: int, rows: Sequence[RowView], *, is_assessed: bool) -> str:
    families = [
        f"{row.name} {row.cells[index - 1].value}, {row.cells[index - 1].spoken}"
        for row in rows
        if row.kind == "family" and row.cells[index - 1].value not in ("", "0")
    ]
    read = [
        f"{row.name} {row.cells[index - 1].spoken}"
        for row in rows
        if row.kind == "scale" and row.cells[index - 1].words != NOT_READ
    ]
    aroma = "; ".join(families) if families else "no aroma named" if is_assessed else "aroma not assessed"
    return f"{aroma}. {listed(read)}." if read else f"{aroma}."


def _bands(state: ChartState) -> Iterator[BandView]:
    """Yield the colours between two cups next to each other, where both were judged: no colour is made up."""
    for index in state.infusions[:-1]:
        here, following = state.tasting.infusion(index), state.tasting.infusion(index + 1)
        if here and following and here.liquor and following.liquor:
            yield BandView(index, _between(here.liquor, following.liquor))


def _between(one: Lab, other: Lab) -> tuple[str, ...]:
    shares = [step / _BAND_STEPS for step in range(_BAND_STEPS + 1)]
    return tuple(srgb_from_lab(_mixed(one, other, share)) for share in shares)


def _mixed(one: Lab, other: Lab, share: float) -> Lab:
    lightness, a, b = (x + (y - x) * share for x, y in zip(one, other, strict=True))
    return (lightness, a, b)
