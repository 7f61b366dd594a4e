"""What the desk asks of one part of what was said: whether it names something new, and where it was perceived."""

from __future__ import annotations

from typing import Final

from tastebook.domain.course import Step
from tastebook.domain.saying import LONGEST_NAME_WORDS, PERCEIVED, Part

TALKATIVE: Final = frozenset(
    {
        "a",
        "an",
        "the",
        "my",
        "our",
        "your",
        "his",
        "her",
        "their",
        "its",
        "this",
        "that",
        "some",
        "i",
        "we",
        "you",
        "it",
    }
)


def is_name(part: Part) -> bool:
    """Say whether unknown words may name something; longer ones are a remark, and stay as they were said."""
    return len(part.said.split()) <= LONGEST_NAME_WORDS


def takes_names(step: Step, part: Part) -> bool:
    """Say whether unknown words are kept at a step as something new, rather than as words only."""
    return step.sheet in ("aroma", "finish") and is_name(part)


def is_kept_new(step: Step, part: Part) -> bool:
    """Say whether a part is a new name that is kept unasked.

    With a `my` or a `the` among its words, no strength, and no family to be guessed, it is talk (`tram the quay`).
    """
    if part.kind != "unknown" or not takes_names(step, part):
        return False
    return bool(part.family or part.guess or part.has_strength) or TALKATIVE.isdisjoint(part.said.casefold().split())


def channels_told(part: Part) -> frozenset[str]:
    """Return the channels that words name where they speak of a thing; an absence itself is kept at its step."""
    told = (one.does.removeprefix(PERCEIVED) for one in part.because if one.does.startswith(PERCEIVED))
    return frozenset((*told, part.channel)) - {""}


def without_capital(words: str) -> str:
    """Return a name without the capital that dictation begins a sentence with."""
    return words[:1].lower() + words[1:] if words[1:].islower() else words


def channel_at(step: Step) -> str:
    """Return the sense that a note at a step belongs to where none is told: at the look of the liquor it was smelt."""
    return "liquor nose" if step.sheet == "liquor" else step.channel
