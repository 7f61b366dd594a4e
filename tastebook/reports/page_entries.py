"""What was said and understood, column by column, with what was missed said plainly."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from tastebook.domain.catching import step_state
from tastebook.domain.course import Stage, Step
from tastebook.domain.liquor import change, colour_name
from tastebook.domain.own_words import each_once
from tastebook.domain.session import Impression, Infusion, Reading, Saying, Tasting
from tastebook.domain.steep import NO_RUN, Instant
from tastebook.domain.vocabulary import Vocabulary
from tastebook.reports.page_charts import (
    LEAF_CUP,
    Charted,
    known_scale,
    liquor_cup,
    steep_words,
)
from tastebook.reports.page_facts import leaf_mass
from tastebook.reports.page_parts import Cup, Entry, Fact, Quote, SaidWord, ScaleWord, StepNote
from tastebook.reports.wording import number, steep_time, stretch

MARKS: Final = {
    "late": "noted after its moment had passed",
    "clouded": "the surroundings may have caused it",
    "doubtful": "the taster doubts it",
}
"""What the marks beside words mean."""

_NOTHING_YET: Final = {
    "todo": "not noted",
    "missed": "missed",
    "skipped": "skipped",
    "done": "nothing found",
    "late": "nothing found",
}


@dataclass(frozen=True)
class _Place:
    """One column of one tasting, seen at one moment."""

    charts: Charted
    stage: Stage
    infusion: int | None
    now: Instant

    @property
    def tasting(self) -> Tasting:
        return self.charts.tasting

    @property
    def seen_at(self) -> Instant:
        """Return the moment at which the steps are looked at: once a session is closed, they stay as they were."""
        closed = self.tasting.session.closed_at_utc
        return self.now if closed is None else Instant(closed, 0.0, NO_RUN)

    @property
    def cup(self) -> Infusion | None:
        return None if self.infusion is None else self.tasting.infusion(self.infusion)


def entries(charts: Charted, now: Instant) -> tuple[Entry, ...]:
    """Return an entry for the leaf, the rinse, each infusion and the close, where there is anything to tell."""
    found = (_entry(place) for place in _places(charts, now))
    return tuple(entry for entry in found if entry.notes or entry.lines or entry.remark)


def legend(all_entries: tuple[Entry, ...]) -> tuple[Fact, ...]:
    """Return what the marks mean that occur."""
    notes = [note for entry in all_entries for note in entry.notes]
    used = {mark for note in notes for one in note.words for mark in one.marks}
    used |= {mark for note in notes for one in note.sayings for mark in one.marks}
    used |= {mark for note in notes for one in note.scales for mark in one.marks}
    used |= {mark for note in notes for mark in note.state.split(", ")}
    return tuple(Fact(mark, meaning) for mark, meaning in MARKS.items() if mark in used)


def _places(charts: Charted, now: Instant) -> Iterator[_Place]:
    if not charts.tasting.session.course.steps_in("leaf") and not charts.last:
        return
    yield _Place(charts, "leaf", None, now)
    if charts.tasting.session.course.has_rinse or charts.tasting.infusion(0):
        yield _Place(charts, "rinse", 0, now)
    for index in range(1, charts.last + 1):
        yield _Place(charts, "infusion", index, now)
    yield _Place(charts, "close", None, now)


def _entry(place: _Place) -> Entry:
    steps = [step for step in place.tasting.session.course.steps_in(place.stage) if step.sheet != "verdict"]
    notes = tuple(note for note in (_note(place, step) for step in steps) if note is not None)
    return Entry(_heading(place), _cup(place), tuple(_lines(place)), notes, place.cup.note if place.cup else "")


def _heading(place: _Place) -> str:
    return {"leaf": "Leaf", "rinse": "Rinse", "close": "Close"}.get(place.stage, str(place.infusion))


def _cup(place: _Place) -> Cup:
    if place.stage in ("leaf", "close"):
        return LEAF_CUP
    return liquor_cup(place.cup.liquor if place.cup else None)


def _lines(place: _Place) -> Iterator[str]:
    """Yield what stands under a column's heading: leaf, or steep, water, and the plan where it was not kept."""
    if place.stage == "leaf" and leaf_mass(place.tasting.session):
        yield leaf_mass(place.tasting.session)
    if place.cup is None or not (place.cup.started or place.cup.is_poured):
        return
    value, deviation, water = steep_words(place.cup)
    yield f"{value}, {water}" if water else value
    if deviation:
        yield f"plan {steep_time(place.cup.planned_s)}"


def _note(place: _Place, step: Step) -> StepNote | None:
    """Return what came of one step, None where there was never anything for it to attend to."""
    tasting, at = place.tasting, place.infusion
    said = tasting.sayings_at(step.key, at)
    vocabulary = place.charts.vocabulary
    words = tuple(_word(one, vocabulary, said) for one in each_once(tasting.impressions_at(step.key, at), vocabulary))
    scales = tuple(_scale(one, vocabulary) for one in tasting.readings_at(step.key, at))
    heard = {part for one in words for part in _ways_to_say(one)}
    quotes = tuple(Quote(one.text, ("late",) if one.late else ()) for one in said if not _says_no_more(one, heard))
    note = StepNote(step.name, step.sheet == "aroma", "", quotes, words, scales, _liquor(place, step))
    if quotes or words or scales or note.remark:
        return _with_shared_marks(note, liquor_late=bool(note.remark and place.cup and place.cup.liquor_late))
    state = step_state(tasting, step, at, place.seen_at)
    return None if state == "waiting" else replace(note, state=_NOTHING_YET[state])


def _ways_to_say(one: SaidWord) -> tuple[str, ...]:
    return (f"no {one.word}",) if one.strength == 0 else (one.word, f"{one.word} {one.strength}")


def _says_no_more(saying: Saying, heard: set[str]) -> bool:
    """Say whether a saying is nothing but words that stand beside it letter for letter: it is not printed twice."""
    return all(part.strip() in heard for part in saying.text.split(","))


def _with_shared_marks(note: StepNote, *, liquor_late: bool) -> StepNote:
    """Return a note in which a mark that everything of the step bears is said once, of the step."""
    heard = [one.marks for one in note.words] + [one.marks for one in note.scales]
    quoted = [one.marks for one in note.sayings]
    bearers = {mark: heard + quoted if mark == "late" else heard for mark in MARKS}
    shared = [mark for mark, some in bearers.items() if len(some) > 1 and all(mark in marks for marks in some)]
    if liquor_late and "late" not in shared:
        shared.insert(0, "late")
    return replace(
        note,
        state=", ".join(shared),
        sayings=tuple(replace(one, marks=_without(one.marks, shared)) for one in note.sayings),
        words=tuple(replace(one, marks=_without(one.marks, shared)) for one in note.words),
        scales=tuple(replace(one, marks=_without(one.marks, shared)) for one in note.scales),
    )


def _without(marks: tuple[str, ...], shared: list[str]) -> tuple[str, ...]:
    return tuple(mark for mark in marks if mark not in shared)


def _word(one: Impression, vocabulary: Vocabulary, said: tuple[Saying, ...]) -> SaidWord:
    known = vocabulary.descriptor(one.descriptor) if vocabulary.has(one.descriptor) else None
    name = known.name if known else one.word
    is_quoted = any(one.word.casefold() in saying.text.casefold() for saying in said)
    word = name if is_quoted or one.word.casefold() in ("", name.casefold()) else f"{one.word} ({name})"
    return SaidWord(word, known.family if known else "", one.intensity, _marks(one))


def _scale(one: Reading, vocabulary: Vocabulary) -> ScaleWord:
    scale = known_scale(vocabulary, one.scale)
    if scale.unit == "s":
        return ScaleWord(scale.short, stretch(round(one.value)), "", _marks(one))
    word = scale.word_for(one.value)
    value = number(round(one.value, 1))
    return ScaleWord(scale.short, word or value, value if word else "", _marks(one))


def _marks(one: Impression | Reading) -> tuple[str, ...]:
    return tuple(mark for mark in MARKS if getattr(one, mark))


def _liquor(place: _Place, step: Step) -> str:
    """Return a liquor in words: colour, clarity, how it was judged, and the change from the cup before."""
    cup = place.cup
    if cup is None or step.sheet != "liquor":
        return ""
    seen = [colour_name(cup.liquor)] if cup.liquor else []
    seen += [cup.clarity] if cup.clarity else []
    seen += ["from a photo"] if cup.liquor and cup.liquor_source == "photo" else []
    told = [", ".join(seen), _change(place.tasting, cup)]
    return "; ".join(part for part in told if part)


def _change(tasting: Tasting, cup: Infusion) -> str:
    judged = [one for one in tasting.infusions if one.liquor and one.index < cup.index]
    if not judged or cup.liquor is None or judged[-1].liquor is None:
        return ""
    earlier = "the rinse" if judged[-1].index == 0 else str(judged[-1].index)
    return change(judged[-1].liquor, cup.liquor).since(earlier)
