"""Which number belongs to which thing: `orchid 4`, `4 orchid`, `a good four for body`, `call it a two`."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from tastebook.domain.saying_context import Context
from tastebook.domain.saying_found import Found
from tastebook.domain.saying_frames import Sentence
from tastebook.domain.saying_lexicon import Lexeme
from tastebook.domain.saying_numbers import Number, out_of
from tastebook.domain.vocabulary import ScaleWord

MOST: Final = 5
HALF: Final = 0.5
FARTHEST: Final = 6
MOST_ADJECTIVES: Final = 2
PAUSES: Final = ",:，："
LINKS: Final = frozenset({"for", "of", "on", "out of five", "out of 5", "the"})
TELLING_LINKS: Final = frozenset({"for", "out of five"})


def give_numbers(context: Context, counted: Sequence[Number], found: Sequence[Found], sentence: Sentence) -> None:
    """Give each number to what it counts, if that has none yet."""
    reached = sentence.first
    for number in (out_of(context, one, sentence) for one in counted):
        is_most, reached = number.first < reached, number.after
        if is_most or not _counts(context, number, sentence):
            continue
        one = _left(context, number, found, sentence, among_others=len(counted) > 1)
        if one is None or one.number is not None:
            one = _right(context, number, found)
        if one is not None and one.number is None and _can_be(number, one):
            value = math.floor(number.value + HALF) if number.is_of_five else number.value
            one.number = (value, number.first)


def _counts(context: Context, number: Number, sentence: Sentence) -> bool:
    """Say whether a number can be a strength: it is no ordinal, has no unit, and is not out of ten."""
    behind = context.lexemes[number.after] if number.after < sentence.after else None
    if behind is None:
        return True
    return {"ordinal", "unit", "out of ten"}.isdisjoint(behind.roles) and behind.plain != "out of"


def _left(
    context: Context, number: Number, found: Sequence[Found], sentence: Sentence, *, among_others: bool
) -> Found | None:
    """Return what was named before a number that is its strength."""
    one = next((one for one in reversed(found) if one.at < number.first), None)
    if one is None or _is_said_of_it(context.lexemes[number.first - 1]):
        return one
    if number.first - one.at > FARTHEST:
        return None
    between = context.lexemes[one.at + 1 : number.first]
    if not all(_may_stand_between(lexeme) for lexeme in between):
        return None
    is_led = any("lead" in lexeme.roles for lexeme in between)
    if not number.in_figures and not is_led and not _closes(context, number, sentence, among_others=among_others):
        return None
    return one if is_led or len(between) <= 1 or number.is_of_five else None


def _is_said_of_it(lexeme: Lexeme) -> bool:
    """Say whether `call it a` leads to a number: it goes back to what was named last, however far."""
    return "lead" in lexeme.roles and " it " in f" {lexeme.plain} "


def _may_stand_between(lexeme: Lexeme) -> bool:
    return lexeme.cut in PAUSES if lexeme.cut else not lexeme.is_unknown and not lexeme.is_masked


def _closes(context: Context, number: Number, sentence: Sentence, *, among_others: bool) -> bool:
    """Say whether a number in words stands at the end of a phrase; `one` does among other numbers only."""
    if number.value == 1 and not among_others:
        return False
    if number.after >= sentence.after:
        return True
    behind = context.lexemes[number.after]
    goes_on = context.meanings[number.after] is not None or not {"and", "out of"}.isdisjoint(behind.roles)
    return bool(behind.cut) or goes_on


def _right(context: Context, number: Number, found: Sequence[Found]) -> Found | None:
    """Return what is named behind a number that is its strength."""
    one = next((one for one in found if one.at >= number.after), None)
    if one is None:
        return None
    between = context.lexemes[number.after : one.at]
    if number.in_figures and len(between) <= MOST_ADJECTIVES and all(map(_is_adjective, between)):
        return one
    if number.is_of_five and not between:
        return one
    words = {lexeme.plain for lexeme in between}
    return one if words <= LINKS and (number.in_figures or words & TELLING_LINKS) else None


def _is_adjective(lexeme: Lexeme) -> bool:
    return lexeme.is_unknown or "talk" in lexeme.roles


def _can_be(number: Number, found: Found) -> bool:
    """Say whether a number can be meant: a strength is whole, and nothing but a time goes beyond 5."""
    meaning = found.sense.meaning if found.sense else None
    if number.is_of_five:
        return number.value <= MOST
    if isinstance(meaning, ScaleWord):
        return bool(meaning.scale.unit) or number.value <= MOST
    return number.value in range(MOST + 1)
