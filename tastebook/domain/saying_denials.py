"""What a denial is about: `no smoke`, `I don't get smoke`, but not `I don't mind the smoke`."""

from __future__ import annotations

from typing import Final

from tastebook.domain.saying_context import Context
from tastebook.domain.saying_found import Found
from tastebook.domain.saying_frames import Sentence
from tastebook.domain.saying_lexicon import Lexeme

STRONG: Final = 4.0
ADVERB: Final = "ly"
BEFORE_A_STRENGTH: Final = frozenset({"article", "up", "soft", "small"})
DASHES: Final = "–—-…"
NEAR: Final = 3
FARTHEST_SAID: Final = 8
PAUSES: Final = ",:，："


def may_deny(lexeme: Lexeme) -> bool:
    """Say whether words deny what follows them, or may."""
    return not {"no", "not"}.isdisjoint(lexeme.roles)


def denies_a_verb(lexeme: Lexeme) -> bool:
    """Say whether it is a verb that words deny."""
    return "not" in lexeme.roles or lexeme.plain in ("not", "never")


def is_last_word(context: Context, place: int, sentence: Sentence) -> bool:
    """Say whether a phrase ends with the words at a place."""
    return place + 1 >= sentence.after or bool(context.lexemes[place + 1].cut)


def may_close(context: Context, place: int, sentence: Sentence) -> bool:
    """Say whether words may deny what stands before them: `I don't` does only at the end of a statement."""
    return "not" not in context.lexemes[place].roles or is_last_word(context, place, sentence)


def denied(context: Context, place: int) -> int | None:
    """Return what words deny: the next thing named, or the unknown word that stands there; None if nothing."""
    ahead = context.ahead(place)
    if ahead is not None:
        return ahead if _speaks_of_perceiving(context, place, ahead) else None
    following = [one for one in context.lexemes[place + 1 : place + NEAR] if "small" not in one.roles]
    is_unknown = bool(following) and following[0].is_unknown and "no" in context.lexemes[place].roles
    return place + 1 if is_unknown else None


def _speaks_of_perceiving(context: Context, place: int, ahead: int) -> bool:
    if not denies_a_verb(context.lexemes[place]):
        return True
    between = context.lexemes[place + 1 : ahead]
    return not any(lexeme.is_unknown and not lexeme.plain.endswith(ADVERB) for lexeme in between)


def denied_strength(context: Context, place: int) -> int | None:
    """Return where the strength stands that words deny: `isn't overpowering`, `not a strong`; None if there is none."""
    if not denies_a_verb(context.lexemes[place]):
        return None
    at = place + 1
    while at < len(context.lexemes) and not BEFORE_A_STRENGTH.isdisjoint(context.lexemes[at].roles):
        if "by" in context.lexemes[at].roles:
            break
        at += 1
    cue = context.lexemes[at].roles.get("by") if at < len(context.lexemes) else None
    return at if cue is not None and cue.value >= STRONG and context.meanings[at] is None else None


def stands_behind(context: Context, named: int, place: int, sentence: Sentence) -> bool:
    """Say whether a bare `no` closes what was named: `bitter no, astringent no`, `Smoke: none`."""
    before = place - 1
    while before > sentence.first and context.lexemes[before].cut and context.lexemes[before].cut in PAUSES:
        before -= 1
    words = context.lexemes[place].plain
    is_bare = words == "none" or (words in ("no", "not", "zero") and is_last_word(context, place, sentence))
    return place > sentence.first and before == named and is_bare


def corrects_itself(context: Context, place: int, sentence: Sentence) -> bool:
    """Say whether `no` between two pauses takes back what was named: `violet, no, lilac`."""
    lexemes = context.lexemes
    if lexemes[place].plain not in ("no", "nope", "nah") or not sentence.first < place < sentence.after - 1:
        return False
    if not lexemes[place - 1].cut or lexemes[place - 1].cut == ":":
        return False
    at = place + 1
    while at < sentence.after and (lexemes[at].cut or "small" in lexemes[at].roles or "start" in lexemes[at].roles):
        at += 1
    is_named = at < sentence.after and context.meanings[at] is not None
    closes = [one.plain for one in lexemes[at + 1 : at + 3]] if is_named else []
    return is_named and "no" not in closes and (bool(lexemes[place + 1].cut) or lexemes[place - 1].cut in DASHES)


def says_otherwise(context: Context, sentence: Sentence, last: Found | None) -> bool:
    """Say whether a sentence begins with `no,` and names something else of the kind: `stewed apple. No, it's baked`."""
    lexemes = context.lexemes[sentence.first : sentence.after]
    if last is None or last.sense is None or last.absent is not None or sentence.first - last.at > FARTHEST_SAID:
        return False
    if len(lexemes) < 2 or lexemes[0].plain.split()[0] not in ("no", "nope", "nah") or not lexemes[1].cut:
        return False
    if any(may_deny(lexeme) for lexeme in lexemes[1:]):
        return False
    named = [meaning for meaning in context.meanings[sentence.first : sentence.after] if meaning is not None]
    return any(one.kind == last.kind and one.meaning is not last.sense.meaning for one in named)


def makes_that(context: Context, sentence: Sentence) -> bool:
    """Say whether a sentence puts something else in the place of what was named last: `…; make that sorrel`."""
    first = context.lexemes[sentence.first]
    ahead = context.ahead(sentence.first)
    return {"takes back", "lead"} <= first.roles.keys() and ahead is not None and ahead < sentence.after


def is_almost(context: Context, place: int) -> bool:
    """Say whether `almost` stands before a denial."""
    return any("almost" in lexeme.roles for lexeme in context.lexemes[max(0, place - 2) : place])
