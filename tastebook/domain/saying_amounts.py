"""What a thing found comes to: a strength, a value, a colour; and what it comes to when it was named before."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from tastebook.domain.colour_words import ColourName
from tastebook.domain.saying_colours import DENIES, clarity_said, colour_said
from tastebook.domain.saying_context import Context
from tastebook.domain.saying_found import Found
from tastebook.domain.saying_layout import Placed
from tastebook.domain.saying_lexicon import CLOSE, Lexeme
from tastebook.domain.saying_parts import Part, PartKind
from tastebook.domain.saying_values import denied_value, pushed_value
from tastebook.domain.vocabulary import Clarity, Descriptor, Scale, ScaleWord, Vocabulary

MOST: Final = 5
SURE_STRENGTH: Final = 4
LONGEST_S: Final = 3600.0
MIDDLE: Final = 3.0
CLEAR: Final = "clear"
AGAIN: Final = 1
"""What is said again, unasked, is one stronger."""


class Amounts:
    """Works out parts from what was found, in the order it was said."""

    def __init__(self, context: Context, vocabulary: Vocabulary) -> None:
        self._context, self._vocabulary = context, vocabulary
        self._setting = context.setting
        self._earlier: dict[tuple[str, str], Part] = {}
        self._words: dict[tuple[str, str], str] = {}
        self._denied_sides: dict[str, set[bool]] = {}
        self._told: set[str] = set()
        self._hosts = frozenset(vocabulary.merged.values())
        self._heads: dict[str, Descriptor] = {}

    def part(self, found: Found) -> Part | None:
        """Return the part, its place still open; None if what was found comes to nothing after all."""
        meaning = found.sense.meaning if found.sense else None
        if found.kind == "comparative":
            return self._comparative(found)
        if found.kind == "colour change":
            return self._colour_change(found)
        if isinstance(meaning, Descriptor):
            return self._descriptor(found, meaning)
        if isinstance(meaning, ScaleWord):
            return self._reading(found, meaning)
        if isinstance(meaning, Clarity):
            return self._clarity(found, meaning)
        return self._colour(found, meaning) if isinstance(meaning, ColourName) else None

    # -- what is perceived

    def _descriptor(self, found: Found, meaning: Descriptor) -> Part:
        meaning = self._meant(found, meaning)
        strength = self._strength(found, None if found.against_other else self._setting.last.get(meaning.key))
        channel = found.channel[0] if found.channel and (found.absent is None or strength) else ""
        place, says = (meaning.key, channel), _says_how_much(found)
        earlier = self._earlier.get(place)
        is_doubtful = _is_doubtful(found) and (earlier is None or earlier.doubtful)
        if earlier is not None and earlier.intensity and strength and not says:
            again = 0 if found.definite or found.restates else AGAIN
            strength, says = min(MOST, earlier.intensity + again), earlier.has_strength or bool(again)
        elif earlier is not None and strength and self._is_by_another_word(found, place):
            strength = max(strength, earlier.intensity or 0)
        part = self._blank(
            found, "descriptor", meaning.key, intensity=strength, family=meaning.family, has_strength=says,
            channel=channel, doubtful=is_doubtful, said_before=earlier is not None,
        )  # fmt: skip
        self._earlier[place], self._words[place] = part, self._lexeme(found).plain
        return part

    def _is_by_another_word(self, found: Found, place: tuple[str, str]) -> bool:
        """Say whether two words, of which one took in the other, are both said: the stronger counts, not the last."""
        is_anew = place[0] in self._hosts and not found.definite and found.change is None
        return is_anew and self._lexeme(found).plain != self._words.get(place)

    def _meant(self, found: Found, meaning: Descriptor) -> Descriptor:
        """Return what a word goes back to: after toasted rice, `the rice` or `less rice` is the same."""
        words = self._lexeme(found).plain.split()
        if len(words) > 1:
            self._heads[words[-1]] = meaning
            return meaning
        goes_back = found.definite or found.change is not None
        return self._heads.get(words[0], meaning) if goes_back else meaning

    def _strength(self, found: Found, last: float | None) -> int:
        """Return a strength from 0 (absent) to 5."""
        if found.number is not None:
            return int(found.number[0])
        if found.absent is not None:
            return 0
        said = _combined(found)
        if said is not None:
            return said
        if found.change is not None:
            rule = self._vocabulary.grammar.changes.get(found.change[0])
            if rule is not None:
                return rule.applied(last)
        return SURE_STRENGTH if found.sure is not None else self._setting.default_intensity

    # -- scales

    def _reading(self, found: Found, word: ScaleWord) -> Part | None:
        scale = word.scale
        value = self._value(found, word)
        if value is None:
            return None
        self._told.add(scale.key)
        asked, says = scale.key in self._setting.scales, _says_how_much(found)
        return self._blank(found, "reading", scale.key, value=value, asked=asked, has_strength=says)

    def _value(self, found: Found, word: ScaleWord) -> float | None:
        """Return the value on a scale, None if the word has none with what stands around it."""
        scale, value = word
        number = found.number[0] if found.number else None
        if scale.unit:
            return number if number is not None and number <= LONGEST_S and found.absent is None else None
        if number is not None:
            return number
        if found.absent is not None:
            return self._denied(found, word)
        own = self._own_word(found, scale)
        if own is not None:
            return own
        said = _combined(found)
        if said is None and found.change is not None:
            return self._changed(found, scale.named if value is None else value, scale.key)
        if said is None:
            return scale.named if value is None else value
        if value is None or value == MIDDLE:
            return float(said) if scale.from_none or value is None else value
        if self._is_denied_strength(found):
            return denied_value(word)
        return pushed_value(word, value, float(said))

    def _denied(self, found: Found, word: ScaleWord) -> float | None:
        """Return the value of what is denied; what is neither low nor high, or called middling besides, is fair."""
        scale, value = word
        if value is None:
            return denied_value(word)
        sides = self._denied_sides.setdefault(scale.key, set())
        sides.add(value > MIDDLE)
        is_between = len(sides) > 1 or any(said == MIDDLE for said, _ in found.behind)
        return MIDDLE if is_between else denied_value(word)

    def _own_word(self, found: Found, scale: Scale) -> float | None:
        """Return the value of a strength that is a word of the scale itself: `umami deep` is 5, `aroma plain` is 2."""
        for said, place in reversed((*found.before, *found.behind)):
            lexeme = self._context.lexemes[place]
            if lexeme.plain in scale.words and "by" in lexeme.roles:
                pushed = said - lexeme.roles["by"].value
                return max(0.0, min(float(MOST), scale.words.index(lexeme.plain) + pushed))
        return None

    def _is_denied_strength(self, found: Found) -> bool:
        """Say whether `not very` or `not so` stands beside it."""
        cues = (*found.before, *found.behind)
        return any(self._context.lexemes[place].plain.startswith(DENIES) for _, place in cues)

    def _changed(self, found: Found, value: float | None, scale: str) -> float | None:
        """Return a value relative to the last infusion, or to what the word itself says where that is not known."""
        rule = self._vocabulary.grammar.changes.get(found.change[0]) if found.change else None
        last = self._setting.last.get(scale)
        if rule is None or found.against_other:
            return value
        if last:
            return float(rule.applied(last))
        return None if value is None else max(0.0, min(float(MOST), value * rule.factor + rule.shift))

    def _comparative(self, found: Found) -> Part | None:
        """Return a comparative; held against another tea it says nothing where this one was told of already."""
        rule = self._vocabulary.grammar.comparatives[int(found.value or 0)]
        if found.against_other and rule.scale in self._told:
            return None
        self._told.add(rule.scale)
        said = _combined(found) if found.number is None else found.number[0]
        value = rule.applied(None if found.against_other else self._setting.last.get(rule.scale))
        value = value if said is None else float(said)
        change = "grows" if rule.shift > 0 else "fades"
        asked = rule.scale in self._setting.scales
        return self._blank(found, "reading", rule.scale, value=value, change=change, asked=asked)

    # -- colours

    def _colour_change(self, found: Found) -> Part:
        key = self._lexeme(found).roles["colour change"].key
        return self._blank(found, "colour change", key, of="liquor", change=key)

    def _colour(self, found: Found, colour: ColourName) -> Part | None:
        said = colour_said(found, colour, self._context, self._vocabulary)
        if said is None:
            return None
        start = self._context.lexemes[found.first].start
        return self._blank(found, "colour", said[0], of=colour.of, lab=said[1], start=start, word_start=start)

    def _clarity(self, found: Found, clarity: Clarity) -> Part | None:
        term = clarity_said(found, clarity, self._vocabulary, self._context)
        return None if term is None else self._blank(found, "clarity", term)

    # -- common to all

    def _lexeme(self, found: Found) -> Lexeme:
        return self._context.lexemes[found.at]

    def _blank(self, found: Found, kind: PartKind, key: str, **more: Any) -> Part:
        """Return a part, its place still open; `more` are its further fields."""
        lexeme = self._lexeme(found)
        is_close = lexeme.found == CLOSE or bool(found.sense and found.sense.heard)
        fields = {
            "intensity": None, "value": None, "how": "close" if is_close else "exact", "doubtful": _is_doubtful(found),
            "change": found.change[0] if found.change else "", "start": lexeme.start, "word_start": lexeme.start,
            "word_end": lexeme.end,
        }  # fmt: skip
        return Part(kind=kind, end=lexeme.end, said="", key=key, **(fields | more))


def _is_doubtful(found: Found) -> bool:
    return found.hedged is not None and found.sure is None


def _says_how_much(found: Found) -> bool:
    some = (found.before, found.behind, found.number, found.change, found.sure)
    return found.absent is not None or any(some)


def _combined(found: Found) -> int | None:
    """Return what all that is said of a strength comes to; a middling word gives way to one that says more."""
    values = [value for value, _ in (*found.before, *found.behind)]
    if not values:
        return None
    telling = [value for value in values if value != MIDDLE] or values
    if max(telling) < MIDDLE:
        return round(min(telling))
    if min(telling) > MIDDLE:
        return round(max(telling))
    behind = [value for value, _ in found.behind if value != MIDDLE]
    if behind:
        return round(behind[-1])
    return round(sum(telling) / len(telling))


def without_mere_names(found: Sequence[Found]) -> list[Found]:
    """Return what was found without words that only name a scale on which another says a value: `huígān rises late`.

    What only denies a word (`thick but not heavy`) goes too, where another says how it is.
    """
    words = [(one, word) for one in found if (word := _scale_word(one))]
    told = {word.scale.key for one, word in words if word.value is not None and one.absent is None}
    measured = {word.scale.key for one, word in words if one.before or one.behind or one.number}
    is_told_clear = any(_is_clarity(one) and one.absent is None for one in found)
    kept = [one for one in found if not _is_mere_name(one, told, measured)]
    return [one for one in kept if not (is_told_clear and _is_clarity(one) and one.absent is not None)]


def one_clarity(placed: list[Placed]) -> list[Placed]:
    """Return the parts with one clarity: whoever sees the bottom of a brilliant cup says no more by it."""
    terms = [one.part.key for one in placed if one.part.kind == "clarity"]
    if len(set(terms)) < 2:
        return placed
    return [one for one in placed if one.part.kind != "clarity" or one.part.key != CLEAR]


def _is_mere_name(one: Found, told: set[str], measured: set[str]) -> bool:
    word = _scale_word(one)
    if word is None or one.number is not None or word.scale.key not in told:
        return False
    is_bare = not _says_how_much(one) and word.scale.key in measured and word.value == word.scale.named
    return (
        (word.value is None and not _says_how_much(one)) or is_bare or (one.absent is not None and word.value != MIDDLE)
    )


def _is_clarity(one: Found) -> bool:
    return one.sense is not None and isinstance(one.sense.meaning, Clarity)


def _scale_word(one: Found) -> ScaleWord | None:
    meaning = one.sense.meaning if one.sense else None
    return meaning if isinstance(meaning, ScaleWord) else None
