"""How far a list reaches behind a comma."""

from __future__ import annotations

from typing import Final

from tastebook.domain.saying_context import Context
from tastebook.domain.saying_frames import Sentence

COMMAS: Final = ",，、/"
LIGHT: Final = frozenset({"small", "talk", "noun"})


def list_goes_on(context: Context, place: int, sentence: Sentence) -> bool:
    """Say whether bare names follow a comma, the last behind `and`: `hints of peach, apricot and honey`."""
    if context.lexemes[place].cut not in COMMAS:
        return False
    joined = named = False
    for at in range(place + 1, sentence.after):
        lexeme = context.lexemes[at]
        if context.meanings[at] is not None:
            if joined:
                return named
            named = True
        elif not {"and", "or"}.isdisjoint(lexeme.roles):
            joined = True
        elif not (lexeme.cut and lexeme.cut in COMMAS) and not lexeme.is_unknown:
            return False
    return False


def list_ends_with_or(context: Context, place: int, sentence: Sentence) -> bool:
    """Say whether a list goes on to `or` or `nor`, so that a denial holds for all of it."""
    for at in range(place + 1, sentence.after):
        lexeme = context.lexemes[at]
        if "or" in lexeme.roles:
            return True
        is_part = context.meanings[at] is not None or bool(lexeme.cut) or not LIGHT.isdisjoint(lexeme.roles)
        if not is_part or "start" in lexeme.roles or lexeme.is_masked:
            return False
    return False
