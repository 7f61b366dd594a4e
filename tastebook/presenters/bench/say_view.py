"""What is seen of the say line: marks under its words, what they come to, what is offered, and what was said before."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from tastebook.domain.catching import column_of
from tastebook.domain.correcting import Correction, part_key
from tastebook.domain.course import Step
from tastebook.domain.saying import Part
from tastebook.domain.session import Saying, Tasting
from tastebook.domain.steep import Instant
from tastebook.domain.vocabulary import Vocabulary
from tastebook.presenters.bench.card import placeholder_for
from tastebook.presenters.bench.said import SayLine, has_value
from tastebook.presenters.bench.said_words import WORDS_ONLY, about, amount, name_of, told, why
from tastebook.presenters.bench.views import MarkKind, MarkView, OfferView, SaidHereView, SaidPartView, SayView
from tastebook.reports.wording import local, moment
from tastebook.services.said_parts import is_kept_new

SAME_GESTURE_S: Final = 1.0
"""Readings carry no name of the saying they came from: one with its words, set within this time, came with it."""

SHOWN: Final = ("descriptor", "unknown", "reading", "clarity", "colour", "colour change", "resembles")


@dataclass(frozen=True)
class SayState:
    """Everything the say line's view depends on.

    `kept_at` says where a part would be kept (`TastingDesk.kept_at`), `field_of` which field a number is offered to.
    """

    line: SayLine
    step: Step
    infusion: int | None
    tasting: Tasting
    now: Instant
    vocabulary: Vocabulary
    kept_at: Callable[[Part], str]
    field_of: Callable[[Part], str]
    in_fahrenheit: bool


def say_view(state: SayState) -> SayView:
    """Return the say line as it is to be seen."""
    return SayView(
        typed=state.line.text,
        placeholder=placeholder_for(state.step),
        marks=_marks(state),
        parts=_parts(state),
        offers=_offers(state),
        note=state.line.meaning or _note(state),
        is_choosing=state.line.chosen is not None,
        told=_told(state),
        here=tuple(_said_here(state, one) for one in _sayings(state)),
    )


# -- marks under the words


def _marks(state: SayState) -> tuple[MarkView, ...]:
    line = state.line
    stops = {part_key(part) for part in line.stops}
    corrections = line.corrections
    marks = []
    for part, now in zip(line.read.parts, line.understood.parts, strict=True):
        key = part_key(part)
        if key in stops and part.word_end > part.word_start and not _is_being_typed(state, part):
            value = corrections.get(key, Correction()).value
            read_from = why(part, line.text, state.vocabulary, value)
            words = "; ".join(one for one in (_told_part(state, now), read_from) if one)
            kind = _kind(now)
            family = now.family or now.guess
            marks.append(MarkView(part.word_start, part.word_end, kind, words, family, key == line.chosen))
    return tuple(marks)


def _kind(part: Part) -> MarkKind:
    """Return how a part's words are underlined, the part as it was set right."""
    if part.kind == "remark":
        return "dropped"
    if part.kind == "quantity":
        return "number"
    if part.kind == "unknown":
        return "new"
    if part.kind == "descriptor":
        return "absent" if part.intensity == 0 else "doubtful" if part.doubtful else "sure"
    return "plain doubtful" if part.doubtful else "plain"


def _is_being_typed(state: SayState, part: Part) -> bool:
    """Say whether a new word is the last and not yet ended: it may still become a word that is known."""
    return part.kind == "unknown" and part.end >= len(state.line.text) and part is state.line.read.parts[-1]


# -- what has no place on the sheet


def _parts(state: SayState) -> tuple[SaidPartView, ...]:
    line = state.line
    stops = {part_key(part): part for part in line.stops}
    last = {part_key(part): (part, now) for part, now in zip(line.read.parts, line.understood.parts, strict=True)}
    return tuple(
        _part(state, part, now, can_change=key in stops)
        for key, (part, now) in last.items()
        if part.kind in SHOWN and (key in stops or part.kind != "unknown") and not _is_on_sheet(state, now)
    )


def _is_on_sheet(state: SayState, now: Part) -> bool:
    """Say whether the sheet of the step shows a part at its own place."""
    if now.kind in ("descriptor", "unknown"):
        return state.step.sheet in ("aroma", "finish") and (now.kind == "descriptor" or is_kept_new(state.step, now))
    return now.kind == "reading" and now.asked and not state.vocabulary.scale(now.key).unit


def _part(state: SayState, part: Part, now: Part, *, can_change: bool) -> SaidPartView:
    key = part_key(part)
    is_dropped = now.kind == "remark"
    value = (now.intensity if part.kind in ("descriptor", "unknown") else now.value) if has_value(part) else None
    where = WORDS_ONLY if is_dropped else _where(state, now)
    value = None if part.kind in ("unknown", "reading") and where == WORDS_ONLY else value
    words = (about(part) if part.kind == "descriptor" else "", where)
    read = f" {_read(state, now)}" if part.kind == "reading" and value is None else ""
    return SaidPartView(
        key=key,
        word=name_of(part, state.vocabulary) + read,
        about=", ".join(word for word in words if word),
        family=now.family or now.guess,
        value=None if value is None or is_dropped else round(value),
        doubtful=now.doubtful,
        is_chosen=key == state.line.chosen,
        is_dropped=is_dropped,
        can_change=can_change,
        why=why(part, state.line.text, state.vocabulary, state.line.correction(key).value),
    )


def _read(state: SayState, part: Part) -> str:
    """Return what a reading comes to, where it is told in words: `4`, `40 s`."""
    return f"{part.value:g} {state.vocabulary.scale(part.key).unit}".rstrip()


def _where(state: SayState, part: Part) -> str:
    """Return where a part is kept, if not at this step as an impression."""
    at = state.kept_at(part)
    if part.kind in ("descriptor", "unknown"):
        return "" if at else WORDS_ONLY
    if at == "cup":
        return "" if state.step.sheet == "liquor" else "kept with the cup"
    if not at:
        return WORDS_ONLY
    return "" if at == state.step.key else f"kept at {state.tasting.session.course.step(at).name}"


# -- numbers for their fields


def _offers(state: SayState) -> tuple[OfferView, ...]:
    return tuple(_offer(state, part) for part in state.line.quantities)


def _offer(state: SayState, part: Part) -> OfferView:
    told_amount = amount(part, in_fahrenheit=state.in_fahrenheit)
    words = f"{name_of(part, state.vocabulary)} {told_amount}, {state.field_of(part)}"
    return OfferView(part_key(part), words, part_key(part) == state.line.chosen)


# -- in words


def _note(state: SayState) -> str:
    line = state.line
    part = line.part_of(line.chosen)
    if part is None:
        return _question(state)
    now = next(now for one, now in zip(line.read.parts, line.understood.parts, strict=True) if one is part)
    correction = line.correction(part_key(part))
    read_from = why(part, line.text, state.vocabulary, correction.value)
    if correction.dropped:
        return f"“{part.said or name_of(part, state.vocabulary)}” stays words only: Backspace takes it up again."
    said = f"{_told_part(state, now)}: {read_from}" if read_from else _told_part(state, now)
    return f"{said}. {_keys_for(state, part, now)}Backspace leaves it as words, Esc back."


def _keys_for(state: SayState, part: Part, now: Part) -> str:
    if part.kind == "reading" and _where(state, now) == WORDS_ONLY:
        return ""
    if part.kind == "quantity":
        return "Alt S sets it, "
    if part.kind == "reading":
        return "0–5 set it, " if has_value(part) else ""
    return "1–5 strength, 0 absent, " if has_value(part) else ""


def _question(state: SayState) -> str:
    """Return what is asked about a new word, once it is not being typed any more."""
    part = state.line.new_name
    if part is None or _is_being_typed(state, part):
        return ""
    family = state.line.correction(part_key(part)).family or part.guess
    name = state.vocabulary.family(family).name.lower() if family else ""
    press = "press another family to change it" if name else "press its family, or Enter keeps it without one"
    asks = f"“{part.said}” is new: {name}? Enter keeps it so" if name else f"“{part.said}” is new"
    now = next(one for one in state.line.understood.parts if one.kind == "unknown" and one.key == part.key)
    if not is_kept_new(state.step, now):
        offer = "press its family to keep it" if state.step.sheet == "aroma" else "Tab and a digit keep it"
        return f"“{part.said}” may be something new: {offer}; Enter leaves it as words."
    if state.step.sheet != "aroma":
        press = "" if name else "Enter keeps it"
    return "; ".join(one for one in (asks, press, "Tab, then Backspace, leaves it as words") if one) + "."


def _told_part(state: SayState, now: Part) -> str:
    if now.kind == "remark":
        return WORDS_ONLY
    if now.kind == "quantity":
        words = f"{name_of(now, state.vocabulary)} {amount(now, in_fahrenheit=state.in_fahrenheit)}"
        return f"{words}, offered to {state.field_of(now)}"
    return told(now, state.vocabulary, _where(state, now))


def _told(state: SayState) -> str:
    """Return all that was understood, for those who hear the screen."""
    last = {part_key(part): now for part, now in zip(state.line.read.parts, state.line.understood.parts, strict=True)}
    stops = {part_key(part) for part in state.line.stops}
    words = [_told_part(state, now) for key, now in last.items() if key in stops and now.kind != "remark"]
    return f"Understood: {'; '.join(words)}." if words else ""


# -- what was said here


def _sayings(state: SayState) -> tuple[Saying, ...]:
    return state.tasting.sayings_at(state.step.key, column_of(state.step.stage, state.infusion))


def _said_here(state: SayState, saying: Saying) -> SaidHereView:
    tasting, vocabulary = state.tasting, state.vocabulary
    gave = [
        f"no {_word(vocabulary, one.descriptor, one.word)}" if one.intensity == 0
        else f"{_word(vocabulary, one.descriptor, one.word)} {one.intensity}"
        for one in tasting.impressions if one.saying_uid == saying.uid
    ]  # fmt: skip
    for one in tasting.readings:
        apart_s = abs((one.recorded_at_utc - saying.recorded_at_utc).total_seconds())
        if one.word and one.word in saying.text and one.infusion == saying.infusion and apart_s < SAME_GESTURE_S:
            gave.append(f"{vocabulary.scale(one.scale).short} {one.value:g}")
    offset_min = tasting.session.utc_offset_min
    at = moment(local(saying.recorded_at_utc, offset_min), local(state.now.utc, offset_min))
    return SaidHereView(at, saying.text, ", ".join(gave) or WORDS_ONLY)


def _word(vocabulary: Vocabulary, descriptor: str, word: str) -> str:
    return vocabulary.descriptor(descriptor).name if vocabulary.has(descriptor) else word
