"""The two charts of a session page as series: the infusion strip and the aroma arc."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from tastebook.domain.arc import Column, FamilyArc, arcs, strengths_by_column
from tastebook.domain.colour import srgb_from_lab
from tastebook.domain.own_words import read_now
from tastebook.domain.session import Infusion, Lab, Tasting
from tastebook.domain.vocabulary import Scale, Vocabulary
from tastebook.reports.curves import curve_parts, monotone_curve
from tastebook.reports.page_facts import leaf_mass
from tastebook.reports.page_parts import (
    ArcChart,
    ArcCup,
    Cup,
    CurveRow,
    FamilyName,
    Point,
    Segment,
    StripChart,
    StripColumn,
)
from tastebook.reports.sentences import (
    at_words,
    liquor_phrase,
    overall_sentence,
    scale_phrase,
    sentences,
    steep_phrase,
)
from tastebook.reports.strip import ribbons, stack
from tastebook.reports.wording import degrees, number, signed, steep_time

LEAF_CUP = Cup("leaf")
UNSEEN_CUP = Cup("unseen")

_POINTS_PER_SPAN = 12
_DEEPER_RIM_L = 16.0


@dataclass(frozen=True)
class Charted:
    """A tasting together with what its charts are worked out from, once."""

    tasting: Tasting
    vocabulary: Vocabulary
    strengths: Mapping[Column, Mapping[str, float]]
    arcs: tuple[FamilyArc, ...]

    @property
    def last(self) -> int:
        """Return the last infusion that was begun or of which anything was said; 0 if there is none."""
        begun = [one.index for one in self.tasting.infusions if one.started or one.is_poured]
        noted = [column for column in self.strengths if isinstance(column, int)]
        read = [one.infusion or 0 for one in self.tasting.readings]
        said = [one.infusion or 0 for one in self.tasting.sayings]
        return max((*begun, *noted, *read, *said, 0))

    @property
    def columns(self) -> tuple[Column, ...]:
        """Return the columns of the strip: leaf, rinse, infusions, and the close where its aroma was assessed."""
        course = self.tasting.session.course
        first = 0 if course.has_rinse or self.tasting.infusion(0) else 1
        close: tuple[Column, ...] = ("close",) if "close" in self.strengths else ()
        return ("leaf", *range(first, self.last + 1), *close)

    def family_name(self, key: str) -> str:
        """Return a family's written name."""
        return self.vocabulary.family(key).name


def charted(tasting: Tasting, vocabulary: Vocabulary) -> Charted:
    """Work out what the charts of a tasting need: every impression counts under the word that stands for it now."""
    tasting = read_now(tasting, vocabulary)
    family_of = vocabulary.family_of
    return Charted(tasting, vocabulary, strengths_by_column(tasting, family_of), arcs(tasting, family_of))


def known_scale(vocabulary: Vocabulary, key: str) -> Scale:
    """Return a scale, or one without words for a key that the vocabulary no longer has."""
    found = next((one for one in vocabulary.scales if one.key == key), None)
    return found or Scale(key, key.replace("_", " "), key.replace("_", " "), "", "")


def families_named(charts: Charted) -> tuple[FamilyName, ...]:
    """Return the families that speak anywhere in a session, base first."""
    heard = {family for strengths in charts.strengths.values() for family in strengths}
    return tuple(FamilyName(one.key, one.name) for one in charts.vocabulary.families if one.key in heard)


# -- cups


def liquor_cup(liquor: Lab | None) -> Cup:
    """Return a cup of some liquor, or one that nobody looked into."""
    if liquor is None:
        return UNSEEN_CUP
    deeper = (max(0.0, liquor[0] - _DEEPER_RIM_L), liquor[1], liquor[2])
    return Cup("liquor", srgb_from_lab(liquor), srgb_from_lab(deeper))


def steep_words(cup: Infusion | None) -> tuple[str, str, str]:
    """Return an infusion's time in water, its deviation from the plan, and its water."""
    if cup is None:
        return "", "", ""
    water = "" if cup.water_c is None else degrees(cup.water_c)
    if cup.actual_ms is None:
        return ("in water" if cup.is_steeping else "not poured"), "", water
    actual_s = round(cup.actual_ms / 1000)
    return steep_time(actual_s), signed(actual_s - cup.planned_s), water


# -- the strip


def strip_chart(charts: Charted) -> StripChart:
    """Return the infusion strip of a tasting."""
    order = [family.key for family in charts.vocabulary.families]
    stacks = [
        None if column not in charts.strengths else stack(charts.strengths[column], order) for column in charts.columns
    ]
    columns = tuple(_strip_column(charts, column, some) for column, some in zip(charts.columns, stacks, strict=True))
    highest = max((some[-1].top for some in stacks if some), default=0.0)
    return StripChart(columns, ribbons(stacks, order), highest, _strip_told(charts))


def _strip_column(charts: Charted, column: Column, segments: tuple[Segment, ...] | None) -> StripColumn:
    session = charts.tasting.session
    assessed = segments is not None
    if column == "leaf":
        return StripColumn("Leaf", False, LEAF_CUP, leaf_mass(session), "", "dry leaf", assessed, segments or ())
    if column == "close":
        return StripColumn("Close", False, LEAF_CUP, "", "", "infused leaf", assessed, segments or ())
    cup = charts.tasting.infusion(column)
    value, deviation, water = steep_words(cup)
    heading = "Rinse" if column == 0 else str(column)
    liquor = liquor_cup(cup.liquor if cup else None)
    return StripColumn(heading, column > 0, liquor, value, deviation, water, assessed, segments or ())


def _strip_told(charts: Charted) -> str:
    return " ".join(_column_told(charts, column) for column in charts.columns)


def _column_told(charts: Charted, column: Column) -> str:
    name = {"leaf": "Dry leaf", "close": "Infused leaf", 0: "Rinse"}.get(column, f"Infusion {column}")
    if column not in charts.strengths:
        return f"{name}: aroma not assessed."
    heard = [f"{charts.family_name(key)} {_strength(one)}" for key, one in charts.strengths[column].items()]
    return f"{name}: {', '.join(heard) or 'no aroma named'}."


# -- the arc


def arc_chart(charts: Charted) -> ArcChart:
    """Return families, cups and texture over the infusions of a tasting."""
    tasting, last = charts.tasting, charts.last
    infusions = range(1, last + 1)
    return ArcChart(
        infusions=tuple(str(index) for index in infusions),
        unassessed=tuple(index for index in infusions if index not in charts.strengths),
        families=tuple(_family_row(charts, arc) for arc in charts.arcs),
        textures=tuple(_texture_rows(charts)),
        cups=tuple(_arc_cup(tasting.infusion(index)) for index in infusions),
        liquor_words=liquor_phrase(tasting),
        steep_words=steep_phrase(tasting),
        told=_arc_told(charts),
    )


def _arc_cup(cup: Infusion | None) -> ArcCup:
    value, deviation, water = steep_words(cup)
    return ArcCup(liquor_cup(cup.liquor if cup else None), value, deviation, water)


def _family_row(charts: Charted, arc: FamilyArc) -> CurveRow:
    vocabulary = charts.vocabulary
    word = vocabulary.descriptor(arc.descriptor).name if vocabulary.has(arc.descriptor) else arc.word
    readings = tuple((float(index), one) for index, one in enumerate(arc.strengths, start=1) if one)
    parts = _curve(arc.strengths)
    name = charts.family_name(arc.family)
    return CurveRow(name, arc.family, parts, parts, readings, word, _strength(arc.peak_strength))


def _texture_rows(charts: Charted) -> list[CurveRow]:
    tasting = charts.tasting
    steps = tasting.session.course.steps_in("infusion")
    keys = dict.fromkeys(key for step in steps for key in step.scales)
    keys |= dict.fromkeys(one.scale for one in tasting.readings if one.infusion)
    rows = []
    for scale in (known_scale(charts.vocabulary, key) for key in keys):
        values = _values(tasting, scale.key, charts.last)
        if not scale.unit and any(value is not None for value in values):
            rows.append(_texture_row(scale, values))
    return rows


def _values(tasting: Tasting, scale: str, last: int) -> tuple[float | None, ...]:
    read = {one.infusion: one.value for one in tasting.readings if one.scale == scale}
    return tuple(read.get(index) for index in range(1, last + 1))


def _texture_row(scale: Scale, values: Sequence[float | None]) -> CurveRow:
    readings = tuple((float(index), value) for index, value in enumerate(values, start=1) if value is not None)
    highest = max(value for _, value in readings)
    words = scale_phrase(values, scale.word_for)
    return CurveRow(scale.short, "", (), _level_curve(values), readings, words, number(round(highest, 1)))


def _curve(values: Sequence[float | None]) -> tuple[tuple[Point, ...], ...]:
    across = [float(index) for index in range(1, len(values) + 1)]
    parts = curve_parts(*monotone_curve(across, values, _POINTS_PER_SPAN))
    rounded = (tuple((round(float(x), 4), round(float(y), 4)) for x, y in zip(*part, strict=True)) for part in parts)
    return tuple(part for part in rounded if len(part) > 1)


def _level_curve(values: Sequence[float | None]) -> tuple[tuple[Point, ...], ...]:
    """Return the curve of a scale, whose 0 is a reading like any other and parts no curve."""
    raised = _curve([None if value is None else value + 1 for value in values])
    return tuple(tuple((x, round(y - 1, 4)) for x, y in part) for part in raised)


def _strength(strength: float) -> str:
    return number(round(strength, 1))


def _arc_told(charts: Charted) -> str:
    if not charts.last:
        return "No infusion was tasted."
    told = [*sentences(charts.arcs, charts.family_name), overall_sentence(charts.arcs)]
    missing = [index for index in range(1, charts.last + 1) if index not in charts.strengths]
    told.append(f"Flavour was not assessed at {at_words(missing)}." if missing else "")
    liquor = liquor_phrase(charts.tasting)
    told.append(f"Liquor {liquor}." if liquor else "Liquor not judged.")
    return " ".join(one for one in told if one)
