"""Where in a session something was recorded, and what is searched there: text, impressions and liquor.

Impressions are searched under the keys of their descriptors and never under a name, so that a word renamed, moved or
merged is found without the journal being touched.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from functools import lru_cache
from typing import Any, Final, TypeAlias

from tastebook.domain.arc import Column, family_strength
from tastebook.domain.course import Course, Step
from tastebook.domain.finding import FLAGS, Flag, LotField
from tastebook.domain.finding_words import BREAK, Needles, Span, joined, laid_out, with_squeezed
from tastebook.domain.lot import Lot
from tastebook.domain.session import (
    Impression,
    Infusion,
    Lab,
    Photo,
    Saying,
    Session,
    StepMark,
    Tasting,
    Verdict,
)

SLOTS: Final = 512
OVERVIEW, LEAF, RINSE = 0, 1, 2
CLOSE: Final = SLOTS - 1
ELSEWHERE: Final = SLOTS - 2
"""For a number that no infusion has: nothing recorded is out of reach."""

AROMA: Final = f"{BREAK}aroma"
"""Stands among the impressions of a column in which aroma was assessed, be it with nothing found."""

SITTING: Final = f"{BREAK}sitting"
"""Stands among the impressions of a session as a whole."""


Said: TypeAlias = tuple[tuple[str, str], ...]
"""Sentences, each with the name of the step at which it was said, empty where there is none."""


@dataclass(frozen=True)
class PlaceText:
    """What is searched at one place: its text, its impressions (see `signs_of`), its liquor.

    `said` holds the exact sentences in which there are words, each with the name of its step, in the order in which
    they stand in `own` between breaks: what matched there is shown without looking at the records again.
    """

    own: str = ""
    perceived: str = ""
    liquor: Lab | None = None
    clarity: str = ""
    said: Said = ()


def slot_of(steps: Mapping[str, Step], step: str, infusion: int | None) -> int:
    """Return where in a session something stands: 0 is the session as a whole, then its columns in order."""
    known = steps.get(step)
    if known is not None and known.stage == "leaf":
        return LEAF
    if known is not None and known.stage == "close":
        return CLOSE
    if known is not None and known.stage == "rinse":
        return RINSE
    if infusion is None:
        return OVERVIEW if known is None else RINSE
    return infusion_slot(infusion)


def infusion_slot(index: int) -> int:
    """Return where an infusion stands in a session."""
    return index + RINSE if 0 <= index < ELSEWHERE - RINSE else ELSEWHERE


def column_in(slot: int) -> Column | None:
    """Return the column that stands there, None for the session as a whole."""
    if slot in (OVERVIEW, ELSEWHERE):
        return None
    return "leaf" if slot == LEAF else "close" if slot == CLOSE else slot - RINSE


@lru_cache(maxsize=64)
def steps_of(course: Course) -> Mapping[str, Step]:
    """Return the steps of a course by key."""
    return {step.key: step for step in course.steps}


# -- lots and sessions


def lot_texts(lot: Lot) -> dict[LotField, str]:
    """Return the words of a lot, field by field; names also without their spaces."""
    cultivar = (with_squeezed(one) for one in (lot.cultivar, lot.cultivar_local) if one)
    origin = (with_squeezed(one) for one in (lot.garden, lot.region, lot.country) if one)
    made = (step.name for step in lot.processing)
    other = (lot.plucking, lot.form, lot.scented_with, *made, lot.roast.level, lot.roast.fuel, lot.notes)
    return {
        "name": with_squeezed(lot.name),
        "kind": joined((lot.kind,)),
        "cultivar": f" {BREAK} ".join(cultivar),
        "origin": f" {BREAK} ".join(origin),
        "season": joined((lot.harvest,)),
        "supplier": with_squeezed(lot.supplier),
        "batch": with_squeezed(lot.batch),
        "other": joined(other),
    }


def lot_sentences(lot: Lot) -> tuple[str, ...]:
    """Return the exact words of a lot that may be shown: facts in one line, then what was noted."""
    facts = (
        lot.name, lot.kind, lot.cultivar, lot.cultivar_local, lot.origin, lot.harvest, lot.plucking, lot.form,
        lot.scented_with, lot.supplier, lot.batch, lot.roast.level, lot.roast.fuel,
        *(one.name for one in lot.processing),
    )  # fmt: skip
    return tuple(text for text in (", ".join(one for one in facts if one), lot.notes) if text)


def session_sentences(session: Session, verdict: Verdict | None) -> tuple[str, ...]:
    """Return the exact words of a session as a whole: the verdict, then what surrounded the taster."""
    around = (session.conditions.told, session.taster, session.vessel, session.water_source, session.kettle)
    judged = () if verdict is None else (
        verdict.headline, verdict.strengths, verdict.faults, verdict.note, verdict.season, verdict.cold_brew,
        verdict.brewing_guide, verdict.next_time,
    )  # fmt: skip
    return tuple(text for text in (*judged, *around) if text)


def local_day(session: Session) -> str:
    """Return the day on which a session began, by the clock on the taster's wall: `2026-04-18`."""
    try:
        return (session.started_at_utc + timedelta(minutes=session.utc_offset_min)).date().isoformat()
    except OverflowError:
        return session.started_at_utc.date().isoformat()


# -- columns


def overview_of(sentences: Iterable[str], stray: Iterable[tuple[str, str]] = ()) -> PlaceText:
    """Return what is searched of a session as a whole.

    Parameters
    ----------
    stray : iterable of (str, str)
        What was said at steps that the course does not know: their keys, and the words.
    """
    return _said_place(sentences_said({}, stray, sentences), SITTING)


def _said_place(sentences: Said, perceived: str, liquor: Lab | None = None, clarity: str = "") -> PlaceText:
    said = [(one, words) for one in sentences if (words := joined((one[1],)))]
    own = f" {BREAK} ".join(words for _, words in said)
    return PlaceText(own, perceived, liquor, clarity, tuple(one for one, _ in said))


def place_of(
    steps: Mapping[str, Step],
    sayings: Iterable[Saying],
    infusions: Iterable[Infusion],
    photos: Iterable[Photo],
    impressions: Iterable[Impression],
    marks: Iterable[StepMark],
) -> PlaceText:
    """Return what is searched of one column, from everything recorded there."""
    begun, noted = tuple(infusions), tuple(impressions)
    sentences = sentences_said(
        steps,
        ((one.step, one.text) for one in sayings),
        (*(one.note for one in begun), *(one.caption for one in photos)),
    )
    is_assessed = any(_is_aroma(steps, one.step) for one in noted) or any(
        one.mark == "done" and _is_aroma(steps, one.step) for one in marks
    )
    signs = dict.fromkeys(sign for one in noted for sign in signs_of(one))
    liquor = next((one.liquor for one in begun if one.liquor is not None), None)
    clarity = next((one.clarity for one in begun if one.clarity), "")
    return _said_place(sentences, " ".join((*signs, *((AROMA,) if is_assessed else ()))), liquor, clarity)


def _is_aroma(steps: Mapping[str, Step], step: str) -> bool:
    known = steps.get(step)
    return known is not None and known.sheet == "aroma"


def places_of(tasting: Tasting) -> dict[int, PlaceText]:
    """Return everything that is searched of a session, by slot; the session as a whole is always there."""
    steps = steps_of(tasting.session.course)
    parts: defaultdict[int, tuple[list[Any], ...]] = defaultdict(lambda: ([], [], [], [], []))
    kinds: tuple[tuple[Any, ...], ...] = (
        tasting.sayings,
        tasting.infusions,
        tasting.photos,
        tasting.impressions,
        tasting.marks,
    )
    for number, records in enumerate(kinds):
        for one in records:
            slot = infusion_slot(one.index) if isinstance(one, Infusion) else slot_of(steps, one.step, one.infusion)
            parts[slot][number].append(one)
    stray = parts.pop(OVERVIEW, ((), (), (), (), ()))
    sentences = session_sentences(tasting.session, tasting.verdict)
    places = {slot: place_of(steps, *some) for slot, some in parts.items()}
    overview = whole(
        overview_of(sentences, ((one.step, one.text) for one in stray[0])), place_of(steps, (), *stray[1:])
    )
    return {OVERVIEW: overview, **{slot: place for slot, place in places.items() if place != PlaceText()}}


def whole(overview: PlaceText, strays: PlaceText) -> PlaceText:
    """Return the session as a whole together with what was recorded at steps that its course does not know."""
    texts = (text for text in (overview.own, strays.own) if text)
    signs = (text for text in (overview.perceived, strays.perceived) if text)
    # An infusion is never a stray: there is no liquor to keep.
    return PlaceText(f" {BREAK} ".join(texts), " ".join(signs), said=(*overview.said, *strays.said))


# -- impressions as signs


def mask_of(flags: Iterable[Flag]) -> int:
    """Return flags as a number."""
    given = set(flags)
    return sum(1 << place for place, flag in enumerate(FLAGS) if flag in given)


def signs_of(impression: Impression) -> Iterator[str]:
    """Yield the signs by which an impression is found: its key if perceived, everything about it, its channel alone."""
    key, channel = sign(impression.descriptor), sign(impression.channel)
    mask = mask_of(flag for flag in FLAGS if getattr(impression, flag))
    if impression.intensity > 0:
        yield key
    yield f"{key}{BREAK}{sign(str(impression.intensity))}{BREAK}{letter_of(mask)}{BREAK}{channel}"
    yield f"{BREAK}{letter_of(mask)}{BREAK}{channel}"


def letter_of(mask: int) -> str:
    """Return a set of flags as one letter."""
    return "abcdefgh"[mask]


@lru_cache(maxsize=4096)
def sign(key: str) -> str:
    """Return a key so that it is one word of the index, whatever it holds."""
    return "".join(
        one if ("a" <= one <= "z" or "0" <= one <= "9" or (one > "\x7f" and one.isalnum())) else f"¦{ord(one):x}¦"
        for one in key
    )


_PARTS: Final = 4
"""Of a sign with everything about an impression."""


@lru_cache(maxsize=4096)
def key_in(signed: str) -> str:
    """Return the key that `sign` wrote."""
    parts = signed.split("¦")
    return "".join(chr(int(part, 16)) if place % 2 else part for place, part in enumerate(parts))


def noted_in(perceived: str) -> Iterator[tuple[str, int]]:
    """Yield key and strength of every impression in what `place_of` gave."""
    for one in perceived.split(" "):
        parts = one.split(BREAK)
        if len(parts) == _PARTS:
            yield key_in(parts[0]), int(key_in(parts[1]))


Asked: TypeAlias = tuple[tuple[str, str], ...]
"""Keys of descriptors, each with how its signs begin in what `place_of` gave."""


def asked_signs(keys: Iterable[str]) -> Asked:
    """Return descriptors made ready for `strongest_in`."""
    return tuple((key, f" {sign(key)}{BREAK}") for key in keys if key)


def strongest_in(perceived: str, asked: Asked) -> dict[str, int]:
    """Return the greatest strength of some descriptors, those that were noted or found absent."""
    strongest: dict[str, int] = {}
    signs = f" {perceived}"
    for key, beginning in asked:
        place = signs.find(beginning)
        while place >= 0:
            start = place + len(beginning)
            strength = int(key_in(signs[start : signs.index(BREAK, start)]))
            strongest[key] = max(strength, strongest.get(key, strength))
            place = signs.find(beginning, start)
    return strongest


def strength_of_family(perceived: str, members: Mapping[str, str]) -> float | None:
    """Return a family's joint strength in a column, None where aroma was not assessed."""
    strongest: dict[str, int] = {}
    for key, strength in noted_in(perceived):
        if key in members:
            strongest[members[key]] = max(strength, strongest.get(members[key], 0))
    if not strongest and AROMA not in perceived.split(" "):
        return None
    return family_strength(max(0, one) for one in strongest.values())


def sentences_said(steps: Mapping[str, Step], sayings: Iterable[tuple[str, str]], others: Iterable[str]) -> Said:
    """Return what stands in words at one place, each with the name of its step: sayings first, then the rest.

    Parameters
    ----------
    sayings : iterable of (str, str)
        Keys of steps with what was said there.
    """
    said = ((steps[step].name if step in steps else step, text) for step, text in sayings)
    return (*said, *(("", text) for text in others if text))


Best: TypeAlias = tuple[str, str, tuple[Span, ...]]
"""A step, what was said there, and where in it what is sought stands."""

NOTHING_SAID: Final[Best] = ("", "", ())


def best_sentence(sentences: Said, sought: Needles) -> Best:
    """Return the sentence in which most of what is sought stands, the first of equals."""
    return _best([laid_out(text) for _, text in sentences], lambda: sentences, sought)


def best_said(own: str, said: Callable[[], Said], sought: Needles) -> Best:
    """Return the same of a place, whose words were laid out when it was written; `said` reads its sentences."""
    return _best(f" {own} ".split(BREAK), said, sought) if own else NOTHING_SAID


def _best(laid: Sequence[str], said: Callable[[], Said], sought: Needles) -> Best:
    counts = [sought.count_in(words) for words in laid]
    most = max(counts, default=0)
    if not most:
        return NOTHING_SAID
    step, text = said()[counts.index(most)]
    return step, text, sought.spans_in(text)
