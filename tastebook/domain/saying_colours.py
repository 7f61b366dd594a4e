"""Colours as they are said: with a shade before them, mixed (`coppery orange`), and how clear a liquor is."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from tastebook.domain.colour_words import ColourName, Shade
from tastebook.domain.saying_context import Context
from tastebook.domain.saying_found import Found
from tastebook.domain.saying_lexicon import Lexeme
from tastebook.domain.session import Lab
from tastebook.domain.vocabulary import Clarity, Vocabulary

FARTHEST_SHADE: Final = 3
FARTHEST_TINGE: Final = 5
TINT: Final = 0.35
"""How far the first of two colours moves the second: a coppery orange is an orange."""

AS_IT_IS: Final = Shade((), 0.0, 1.0)
WEAK: Final = 2.0
NEAR: Final = 2
FARTHEST_CORRECTION: Final = 18
NO: Final = frozenset({"no", "nope", "nah", "sorry", "wait", "rather", "actually", "wrong"})
DENIES: Final = "not "


def mixed_colours(found: Sequence[Found], context: Context) -> list[Found]:
    """Return what was found with colours that stand side by side taken as one; the last is what it is."""
    kept: list[Found] = []
    for one in found:
        before = kept[-1] if kept else None
        if before is not None and _only_tinges(before, one):
            continue
        if before is not None and _is_tint_of(before, one, context):
            one.tints = (*before.tints, before)
            kept.pop()
        kept.append(one)
    return kept


def corrected_colours(found: Sequence[Found], context: Context) -> list[Found]:
    """Return what was found without a colour that is taken back: `pale yellow. No, excuse me: greenish yellow`."""
    kept: list[Found] = []
    last: Found | None = None
    for one in found:
        if _is_colour(one):
            if last is not None and _is_taken_back(context, last, one):
                kept.remove(last)
            last = one
        kept.append(one)
    return kept


def _is_colour(one: Found) -> bool:
    return one.sense is not None and isinstance(one.sense.meaning, ColourName)


def _is_taken_back(context: Context, first: Found, second: Found) -> bool:
    if second.absent is not None or not 1 < second.at - first.at <= FARTHEST_CORRECTION:
        return False
    between = context.lexemes[first.at + 1 : second.at]
    return between[0].cut != "" and corrects(between)


def corrects(between: Sequence[Lexeme]) -> bool:
    """Say whether words between two take the first back: `, no, `, `… sorry, `, `. I tell a lie, `."""
    for place, lexeme in enumerate(between):
        is_said = "takes back" in lexeme.roles or lexeme.plain in NO
        if is_said and (place == 0 or between[place - 1].cut):
            return True
    return False


def _only_tinges(first: Found, second: Found) -> bool:
    """Say whether a second colour of the liquor is only a breath of one: `straw with a hint of green`."""
    colours = [one.sense.meaning for one in (first, second) if one.sense is not None]
    are_liquor = len(colours) == 2 and all(isinstance(one, ColourName) and one.of == "liquor" for one in colours)
    return are_liquor and second.at - first.at <= FARTHEST_TINGE and any(value <= WEAK for value, _ in second.before)


GOES_TO: Final = (["going", "to"], ["turning", "to"], ["turning"], ["towards"], ["into"], ["to"], ["going", "towards"])
"""What may stand between two colours of one cup: `amber going to red-brown`."""


def _is_tint_of(first: Found, second: Found, context: Context) -> bool:
    colours = [one.sense.meaning for one in (first, second) if one.sense is not None]
    between = [one.plain or one.cut for one in context.lexemes[first.at + 1 : second.at]]
    if len(colours) < 2 or (between and between not in GOES_TO):
        return False
    return isinstance(colours[0], ColourName) and isinstance(colours[1], ColourName) and colours[0].of == colours[1].of


def colour_said(found: Found, colour: ColourName, context: Context, vocabulary: Vocabulary) -> tuple[str, Lab] | None:
    """Return the name and the centre of a colour as it was said; None if it is said not to be that one."""
    lexemes = context.lexemes
    hedge = lexemes[found.hedged].plain if found.hedged is not None else ""
    if found.absent is not None or hedge.startswith(DENIES):
        return None
    lab, name = colour.lab, colour.name
    for tint in found.tints:
        if tint.sense is not None and isinstance(tint.sense.meaning, ColourName):
            lab = _tinted(lab, tint.sense.meaning.lab)
            name = " ".join(lexemes[one.at].plain for one in (*found.tints, found))
    begun = found.first
    if begun > 0 and lexemes[begun - 1].plain in context.grammar.colour_nouns and context.meanings[begun - 1] is None:
        begun -= 1
        name = f"{lexemes[begun].plain} {name}"
    for at in range(begun - 1, max(-1, begun - 1 - FARTHEST_SHADE), -1):
        lexeme = lexemes[at]
        shade = next((one for one in vocabulary.shades if lexeme.plain in one.words), None)
        if shade is not None and not lexeme.cut:
            return (f"{lexeme.plain} {name}" if shade.d_l else name), shade.of(lab)
        if lexeme.cut or "talk" not in lexeme.roles:
            break
    return name, lab


def _tinted(lab: Lab, tint: Lab) -> Lab:
    lightness, a, b = (one + TINT * (other - one) for one, other in zip(lab, tint, strict=True))
    return AS_IT_IS.of((lightness, a, b))


def clarity_said(found: Found, clarity: Clarity, vocabulary: Vocabulary, context: Context) -> str | None:
    """Return the clarity that is meant: `a touch cloudy` is less than cloudy, `not clear` is dim."""
    if found.number is not None:
        return None
    terms = [one.term for one in vocabulary.clarities]
    place, last = terms.index(clarity.term), len(terms) - 1
    clear, dull = (last - 1) // 2, last // 2 + 1
    hedge = context.lexemes[found.hedged].plain if found.hedged is not None else ""
    if found.absent is not None or hedge.startswith(DENIES):
        return terms[dull if place <= clear else clear]
    beside = [value for value, _ in found.behind]
    beside += [value for value, at in found.before if at >= found.at - NEAR and not context.lexemes[at + 1].cut]
    if any(value <= WEAK for value in beside):
        return terms[clear if place <= clear else dull]
    return clarity.term
