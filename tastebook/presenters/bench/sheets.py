"""What the step card asks for at each kind of step."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import timedelta
from typing import Final

from tastebook.domain.catching import column_of, is_possible
from tastebook.domain.colour import srgb_from_lab
from tastebook.domain.correcting import PartKey, part_key
from tastebook.domain.course import Step
from tastebook.domain.liquor import can_adjust, change, chart, colour_name, nearest_swatch, swatch_name
from tastebook.domain.own_words import each_once
from tastebook.domain.saying import Part, Understanding
from tastebook.domain.session import DECISIONS, Impression, Lab, Reading, Tasting, Verdict
from tastebook.domain.vocabulary import Scale, Vocabulary
from tastebook.presenters.bench.said_words import CHANNELS, about, why
from tastebook.presenters.bench.views import (
    AromaSheet,
    ChipView,
    EarlierCup,
    FinishSheet,
    GroupView,
    LiquorSheet,
    NudgeView,
    Sheet,
    SliderView,
    SwatchView,
    TextureSheet,
    TileView,
    VerdictSheet,
    WordView,
)
from tastebook.reports.wording import day
from tastebook.services.said_parts import channel_at, is_kept_new
from tastebook.services.tasting import UNSAID_STRENGTH

FAMILY_SHELF: Final = (
    "floral", "fruity", "sweet", "milky", "nutty", "roasted", "spicy", "woody", "earthy", "mineral", "herbal",
    "vegetal",
)  # fmt: skip
"""The order of the family shelf: neighbours that are often said together."""

NUDGES: Final = (
    ("L", "lightness", "deeper", "lighter"),
    ("a", "red", "less red", "redder"),
    ("b", "yellow", "less yellow", "yellower"),
)
UNPLACED: Final = ""
REST_DAYS: Final = "Rests for {days} days from the day it was tasted."
REST_OTHERWISE: Final = "Type another day over it: 1 March 2027, or March 2027."


@dataclass(frozen=True)
class SheetState:
    """Everything the sheet of one step depends on."""

    tasting: Tasting
    vocabulary: Vocabulary
    step: Step
    infusion: int | None
    understood: Understanding = field(default_factory=lambda: Understanding(""))
    chosen: PartKey | None = None
    open_family: str = ""
    swallowed_s: float | None = None

    @property
    def column(self) -> int | None:
        """Return where the records of this step are kept."""
        return column_of(self.step.stage, self.infusion)


def sheet_view(state: SheetState) -> Sheet:
    """Return the sheet that a step asks for."""
    if state.step.sheet == "aroma":
        return _aroma(state)
    if state.step.sheet == "liquor":
        return _liquor(state)
    if state.step.sheet == "finish":
        return _finish(state)
    if state.step.sheet == "verdict":
        return _verdict(state)
    return TextureSheet(_sliders(state))


# -- words


def _aroma(state: SheetState) -> AromaSheet:
    groups = _groups(state)
    named = {group.family for group in groups}
    tiles = tuple(TileView(key, state.vocabulary.family(key).name, key in named) for key in FAMILY_SHELF)
    carried = any(chip.carried for group in groups for chip in group.chips)
    caption = f"dashed: noted in {_before(state)}, still there?" if carried else ""
    unplaced = next((chip.word for group in groups for chip in group.chips if not (group.family or chip.pending)), "")
    if unplaced:
        caption = f"“{unplaced}” is new: press its family"
    return AromaSheet(groups, tiles, caption, state.open_family, _words(state), unplaced)


def _words(state: SheetState) -> tuple[WordView, ...]:
    """Return the words of the open family."""
    if not state.open_family:
        return ()
    noted = {one.descriptor for one in _here(state) if one.intensity > 0}
    members = state.vocabulary.in_family(state.open_family)
    return tuple(WordView(one.key, one.name, one.key in noted) for one in members)


def _groups(state: SheetState) -> tuple[GroupView, ...]:
    chips = _chips(state)
    families = list(dict.fromkeys(chip.family for chip in chips))
    families.sort(key=lambda family: (family != UNPLACED, _shelf_place(family)))
    return tuple(_group(state, family, [chip for chip in chips if chip.family == family]) for family in families)


def _group(state: SheetState, family: str, chips: Sequence[ChipView]) -> GroupView:
    if family == UNPLACED:
        return GroupView(UNPLACED, "Which family?", tuple(chips))
    return GroupView(family, state.vocabulary.family(family).name, tuple(chips))


def _shelf_place(family: str) -> int:
    return FAMILY_SHELF.index(family) if family in FAMILY_SHELF else -1


def _chips(state: SheetState) -> list[ChipView]:
    """Return what was noted here, what is being typed, and what the last infusion had."""
    chips = {chip.key: chip for one in _here(state) if (chip := _noted(state, one))}
    for part in state.understood.parts:
        if part.kind == "descriptor" or is_kept_new(state.step, part):
            chip = _pending(state, part)
            chips[chip.key] = _over(chips[chip.key], chip, part) if chip.key in chips else chip
    for one in _last_time(state):
        chip = _noted(state, one)
        chips.setdefault(chip.key, replace(chip, uid="", carried=True))
    return list(chips.values())


def _here(state: SheetState) -> tuple[Impression, ...]:
    return each_once(state.tasting.impressions_at(state.step.key, state.column), state.vocabulary)


def _last_time(state: SheetState) -> list[Impression]:
    before = _before(state)
    if before is None:
        return []
    noted = each_once(state.tasting.impressions_at(state.step.key, before), state.vocabulary)
    return [one for one in noted if one.intensity > 0]


def _before(state: SheetState) -> int | None:
    """Return the last infusion before this one at which this step was attended to."""
    if state.step.stage != "infusion" or state.infusion is None:
        return None
    earlier = [one.index for one in state.tasting.infusions if 0 < one.index < state.infusion]
    steps = (index for index in reversed(earlier) if _attended(state, index))
    return next(steps, None)


def _attended(state: SheetState, index: int) -> bool:
    key = state.step.key
    return bool(state.tasting.impressions_at(key, index) or state.tasting.readings_at(key, index))


def _noted(state: SheetState, one: Impression) -> ChipView:
    vocabulary = state.vocabulary
    known = vocabulary.has(one.descriptor)
    channel = "" if one.channel in (state.step.channel, channel_at(state.step)) else one.channel
    return ChipView(
        descriptor=one.descriptor,
        word=vocabulary.descriptor(one.descriptor).name if known else one.word,
        family=vocabulary.family_of(one.descriptor),
        intensity=one.intensity,
        uid=one.uid,
        late=one.late,
        clouded=one.clouded,
        doubtful=one.doubtful,
        channel=channel,
        about=CHANNELS.get(channel, channel),
    )


def _pending(state: SheetState, part: Part) -> ChipView:
    """Return what words that are being typed would note."""
    return ChipView(
        descriptor=part.key,
        word=part.key.replace("-", " ") if part.kind == "descriptor" else part.said,
        family=part.family or part.guess,
        intensity=UNSAID_STRENGTH if part.intensity is None else part.intensity,
        pending=True,
        doubtful=part.doubtful,
        channel=part.channel,
        about=about(part),
        new=part.kind == "unknown",
        chosen=state.chosen == part_key(part),
        why=why(part, state.understood.text, state.vocabulary),
    )


def _over(noted: ChipView, typed: ChipView, part: Part) -> ChipView:
    """Return what was noted already, as the words being typed would leave it; or as typed twice."""
    if noted.pending:
        return typed
    strength = typed.intensity if part.has_strength else noted.intensity
    is_doubtful = noted.doubtful or typed.doubtful
    return replace(
        noted, intensity=strength, doubtful=is_doubtful, pending=True, about=typed.about, chosen=typed.chosen,
        why=typed.why,
    )  # fmt: skip


# -- scales


def _sliders(state: SheetState) -> tuple[SliderView, ...]:
    timed = (state.vocabulary.scale(key) for key in state.step.scales)
    return tuple(_slider(state, scale) for scale in timed if not scale.unit)


def _slider(state: SheetState, scale: Scale) -> SliderView:
    reading = _reading(state, scale.key, state.column)
    before = _before(state)
    earlier = None if before is None else _reading(state, scale.key, before)
    typed = [part for part in state.understood.parts if part.kind == "reading" and part.key == scale.key]
    value = typed[-1].value if typed else (reading.value if reading else None)
    return SliderView(
        scale=scale.key,
        name=scale.name,
        low=scale.low,
        high=scale.high,
        value=value,
        before=earlier.value if earlier else None,
        word="not set" if value is None else scale.word_for(value),
        words=scale.words,
        late=bool(reading and reading.late),
        clouded=bool(reading and reading.clouded),
        doubtful=bool(reading and reading.doubtful),
        pending=bool(typed),
        chosen=bool(typed) and state.chosen == part_key(typed[-1]),
        why=why(typed[-1], state.understood.text, state.vocabulary) if typed else "",
    )


def _reading(state: SheetState, scale: str, column: int | None) -> Reading | None:
    readings = state.tasting.readings_at(state.step.key, column)
    return next((one for one in readings if one.scale == scale), None)


# -- liquor


def _liquor(state: SheetState) -> LiquorSheet:
    cup = state.tasting.infusion(state.infusion or 0)
    kept = cup.liquor if cup else None
    said = [part.lab for part in state.understood.of_kind("colour") if part.of != "leaf" and part.lab]
    lab = said[-1] if said else kept
    typed = [part.key for part in state.understood.parts if part.kind == "clarity"]
    return LiquorSheet(
        swatches=_swatches(state),
        chosen=nearest_swatch(lab) if lab else None,
        cup=srgb_from_lab(lab) if lab else "",
        name=colour_name(lab).capitalize() if lab else "Choose the nearest",
        lab="L* {:.0f}   a* {:.0f}   b* {:.0f}".format(*lab) if lab else "",
        change="as you say it" if said else _liquor_change(state, lab),
        earlier=_earlier_cups(state),
        nudges=_nudges(kept) if kept else (),
        clarities=tuple((one.term, one.about) for one in state.vocabulary.clarities),
        clarity=typed[-1] if typed else (cup.clarity if cup else ""),
        is_possible=is_possible(state.tasting, state.step, state.infusion),
        source=(cup.liquor_source or "") if cup and lab else "",
    )


def _swatches(state: SheetState) -> tuple[tuple[SwatchView, ...], ...]:
    marks = {nearest_swatch(lab): str(index) for index, lab in _cups_before(state)}
    return tuple(
        tuple(
            SwatchView(srgb_from_lab(lab), swatch_name(row, column), marks.get((row, column), ""))
            for column, lab in enumerate(labs)
        )
        for row, labs in enumerate(chart())
    )


def _cups_before(state: SheetState) -> list[tuple[int, Lab]]:
    here = state.infusion or 0
    return [(one.index, one.liquor) for one in state.tasting.infusions if one.index < here and one.liquor]


def _earlier_cups(state: SheetState, most: int = 2) -> tuple[EarlierCup, ...]:
    newest_first = reversed(_cups_before(state)[-most:])
    return tuple(EarlierCup("rinse" if index == 0 else str(index), srgb_from_lab(lab)) for index, lab in newest_first)


def _liquor_change(state: SheetState, lab: Lab | None) -> str:
    before = _cups_before(state)
    if lab is None or not before:
        return ""
    index, earlier = before[-1]
    changed = change(earlier, lab)
    return f"{changed.since(str(index) if index else 'the rinse')}, ΔE {changed.delta_e:.1f}"


def _nudges(lab: Lab) -> tuple[NudgeView, ...]:
    steps = ((1, 0, 0), (0, 1, 0), (0, 0, 1))
    return tuple(
        NudgeView(axis, name, f"{value:.0f}", less, more, _can(lab, step, -1), _can(lab, step, 1))
        for (axis, name, less, more), value, step in zip(NUDGES, lab, steps, strict=True)
    )


def _can(lab: Lab, step: tuple[int, int, int], sign: int) -> bool:
    return can_adjust(lab, *(sign * part for part in step))


# -- finish and verdict


def _finish(state: SheetState) -> FinishSheet:
    timed = _reading(state, "finish_length_s", state.column)
    running = state.swallowed_s
    label = "Nothing left" if running is not None else ("Again from the swallow" if timed else "Swallow")
    return FinishSheet(
        running_s=running,
        length=f"{timed.value:g} s" if timed else "",
        stopwatch_label=label,
        sliders=_sliders(state),
        groups=_groups(state),
    )


def _verdict(state: SheetState) -> VerdictSheet:
    verdict = state.tasting.verdict
    return VerdictSheet(
        decision=verdict.decision if verdict else "",
        decisions=DECISIONS,
        headline=verdict.headline if verdict else "",
        strengths=verdict.strengths if verdict else "",
        faults=verdict.faults if verdict else "",
        note=verdict.note if verdict else "",
        next_time=verdict.next_time if verdict else "",
        brewing_guide=verdict.brewing_guide if verdict else "",
        good_infusions=_or_empty(verdict.good_infusions if verdict else None),
        rest_until=day(verdict.rest_until) if verdict and verdict.rest_until else "",
        rests=_rests(state, verdict),
        quantity_kg=_or_empty(verdict.quantity_kg if verdict else None),
    )


def _rests(state: SheetState, verdict: Verdict | None) -> str:
    """Say until when the tea rests, and that another day can be typed: the first one is only proposed."""
    if verdict is None or verdict.decision != "rest until" or verdict.rest_until is None:
        return ""
    session = state.tasting.session
    tasted_on = (session.started_at_utc + timedelta(minutes=session.utc_offset_min)).date()
    days = (verdict.rest_until - tasted_on).days
    return f"{REST_DAYS.format(days=days)} {REST_OTHERWISE}" if days > 0 else REST_OTHERWISE


def _or_empty(value: object) -> str:
    if value is None:
        return ""
    return f"{value:g}" if isinstance(value, float) else str(value)


def count_families(chips: Iterable[Impression], vocabulary: Vocabulary) -> int:
    """Return how many families were noted."""
    return len({vocabulary.family_of(chip.descriptor) for chip in chips if chip.intensity > 0} - {UNPLACED})
