"""Numbers in a passage: strengths (`orchid four`), quantities (`eighty-eight degrees`), and what is neither."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from tastebook.domain.grammar import Unit
from tastebook.domain.saying_colours import corrects
from tastebook.domain.saying_context import Context
from tastebook.domain.saying_frames import Sentence
from tastebook.domain.saying_lexicon import Lexeme

TENS: Final = 20
SMALLEST_HUNDRED: Final = 100
HALF: Final = 0.5
TEN, FIVE = 10.0, 5.0
COOLEST_STEEP_C, HOTTEST_C = 50.0, 100.0
SECONDS_IN_A_MINUTE: Final = 60.0
NEAR: Final = 3
FULL: Final = frozenset({"good", "whole", "full", "solid", "long"})
FARTHEST_STEEP: Final = 4
FARTHEST_CORRECTION: Final = 9
CLOCKS: Final = frozenset({"clock", "watch", "stopwatch", "timer", "phone", "dial"})
LASTS: Final = "finish_length_s"
MAKE_IT: Final = ("make it", "make that", "call it")
NOT_YET: Final = frozenset(
    {"after", "within", "every", "afterwards", "give me", "wait", "waited", "for another", "planned"}
)
GIVING: Final = frozenset({"give it", "give"})
BEYOND: Final = frozenset({"before", "off", "away", "past", "earlier", "since"})


@dataclass(frozen=True)
class Number:
    """A number, in figures or words: from which to before which lexeme it stands."""

    value: float
    first: int
    after: int
    in_figures: bool
    is_of_five: bool = False


@dataclass(frozen=True)
class Quantity:
    """A number with a unit, for a field; `is_stay` says that it tells how long the finish lasts."""

    key: str
    value: float
    first: int
    after: int
    is_stay: bool = False
    is_past: bool = False
    unit: Unit | None = None


def numbers(lexemes: Sequence[Lexeme], sentence: Sentence) -> list[Number]:
    """Return the numbers of a sentence; `ninety two` and `two and a half` are one."""
    found: list[Number] = []
    place = sentence.first
    while place < sentence.after:
        number = _number(lexemes, place, sentence.after)
        if number is not None:
            found.append(number)
        place = number.after if number else place + 1
    return found


def _number(lexemes: Sequence[Lexeme], place: int, after: int) -> Number | None:
    first = lexemes[place]
    if first.number is not None:
        end = _half(lexemes, place + 1, after)
        value = first.number + (HALF if end > place + 1 else 0)
        return Number(value, place, end, in_figures=True, is_of_five=first.token.is_of_five)
    cue = first.roles.get("number")
    if cue is None or "no" in first.roles:
        return None
    value, at = cue.value, place + 1
    while at < after and (more := lexemes[at].roles.get("number")) and _goes_on(value, more.value):
        value = value * more.value if more.value >= SMALLEST_HUNDRED else value + more.value
        at += 1
    end = _half(lexemes, at, after)
    return Number(value + (HALF if end > at else 0), place, end, in_figures=False)


def out_of(context: Context, number: Number, sentence: Sentence) -> Number:
    """Return a number as one out of five, if `out of ten` or `out of 5` stands behind it."""
    lexemes = context.lexemes
    behind = lexemes[number.after] if number.after < sentence.after else None
    if behind is None or number.is_of_five:
        return number
    most, after = (TEN if "out of ten" in behind.roles else 0.0), number.after + 1
    words = [lexeme.plain for lexeme in lexemes[number.after : number.after + 2]]
    if words == ["out", "of"] and after + 1 < sentence.after:
        most, after = lexemes[after + 1].number or 0.0, after + 2
    if most not in (TEN, FIVE) or number.value > most:
        return number
    return Number(number.value * FIVE / most, number.first, after, number.in_figures, is_of_five=True)


def _goes_on(value: float, more: float) -> bool:
    if more >= SMALLEST_HUNDRED:
        return value < SMALLEST_HUNDRED
    return (TENS <= value < SMALLEST_HUNDRED and value % 10 == 0 and 0 < more < 10) or value >= SMALLEST_HUNDRED


def _half(lexemes: Sequence[Lexeme], at: int, after: int) -> int:
    """Return where `and a half` behind a number ends, or `at` if it does not stand there."""
    words = [lexeme.plain for lexeme in lexemes[at : min(at + NEAR, after)]]
    return at + NEAR if words == ["and", "a", "half"] else at


def quantities(context: Context, sentence: Sentence, found: Sequence[Number]) -> list[Quantity]:
    """Return the numbers of a sentence that stand before a unit, or behind a lead such as `water about`."""
    some = [one for number in found if (one := _quantity(context, sentence, number))]
    some += _minutes(context, sentence)
    steeps = [one for one in some if one.key in ("steep_s", "plan_s") and not one.is_stay and not one.is_past]
    if steeps and not any(one.key == "water_c" for one in some):
        some += [one for number in found if (one := _water_beside(context, number, steeps))][:1]
    return some


def corrected(context: Context, last: Quantity | None, counted: Sequence[Number]) -> Quantity | None:
    """Return what a bare number makes of a quantity said just before: `forty seconds. No, I tell a lie, forty-five`."""
    number = next((one for one in counted if last is not None and one.first >= last.after), None)
    if last is None or number is None or last.unit is None or not _is_correction(context, last.after, number.first):
        return None
    behind = context.lexemes[number.after : number.after + 1]
    if any("unit" in lexeme.roles for lexeme in behind):
        return None
    value = last.unit.converted(number.value)
    return None if value is None else replace(last, value=value, first=number.first, after=number.after)


def keep(context: Context, kept: list[Quantity], measured: Sequence[Quantity], counted: Sequence[Number]) -> None:
    """Keep the quantities of a sentence; one that is taken back gives way to what is said instead."""
    for one in measured:
        if kept and is_taken_back(context, kept[-1], one):
            kept.pop()
        kept.append(one)
    if instead := corrected(context, kept[-1] if kept else None, counted):
        kept[-1] = instead


def _is_correction(context: Context, first: int, after: int) -> bool:
    between = context.lexemes[first:after]
    if not 0 < len(between) <= FARTHEST_CORRECTION or any(one.number is not None for one in between):
        return False
    names_another = any(context.meanings[at] is not None for at in range(first, after) if not _is_stay(context, at))
    if names_another:
        return False  # `finish 20 seconds, bitterness call it a two`
    return corrects(between) or any(one.plain.startswith(MAKE_IT) for one in between)


def _is_stay(context: Context, place: int) -> bool:
    return "stays" in context.lexemes[place].roles


def is_taken_back(context: Context, first: Quantity, second: Quantity) -> bool:
    """Say whether a second quantity of the same field is said instead of the first."""
    return first.key == second.key and _is_correction(context, first.after, second.first)


def _water_beside(context: Context, number: Number, steeps: Sequence[Quantity]) -> Quantity | None:
    """Return the water that a bare number beside a steep tells: `25 seconds at 95`, `95 for 25 seconds`."""
    if not COOLEST_STEEP_C <= number.value <= HOTTEST_C:
        return None
    lexemes, steep = context.lexemes, steeps[0]
    behind = lexemes[number.after].plain if number.after < len(lexemes) else ""
    if behind == "for" and steep.first == number.after + 1:
        return Quantity("water_c", number.value, number.first, number.after)
    before = lexemes[number.first - 1].plain if number.first else ""
    if before == "at" and 0 <= number.first - 1 - steep.after <= NEAR:
        return Quantity("water_c", number.value, number.first - 1, number.after)
    return None


def _quantity(context: Context, sentence: Sentence, number: Number) -> Quantity | None:
    lexemes = context.lexemes
    unit = lexemes[number.after].roles.get("unit") if number.after < sentence.after else None
    if unit is not None:
        for place in map(int, unit.key.split()):
            rule = context.grammar.units[place]
            value = rule.converted(number.value)
            if value is not None:
                end = number.after + 1
                half = _half(lexemes, end, sentence.after)
                if half > end and rule.key == "steep_s":
                    value, end = value + rule.factor / 2, half
                return _timed(context, sentence, Quantity(rule.key, value, number.first, end, unit=rule))
        return None
    before = lexemes[number.first - 1] if number.first > sentence.first else None
    field = before.roles.get("field") if before else None
    if field is None:
        return None
    key, most = field.key.split()
    if not field.value <= number.value <= float(most):
        return None
    return Quantity(key, number.value, number.first - 1, number.after)


def _timed(context: Context, sentence: Sentence, quantity: Quantity) -> Quantity:
    """Return a quantity with what its neighbours make of it: a plan, how long a finish lasts, or how long ago."""
    if quantity.key != "steep_s":
        return quantity
    lexemes = context.lexemes
    behind = lexemes[quantity.after : min(quantity.after + 1, sentence.after)]
    around = lexemes[sentence.first : sentence.after]
    before = [lexeme.plain for lexeme in lexemes[max(sentence.first, quantity.first - NEAR) : quantity.first]]
    is_past = any("ago" in lexeme.roles and "stays" not in lexeme.roles for lexeme in behind)
    is_past = is_past and not _is_by_the_clock(lexemes[quantity.after : sentence.after])
    is_past = is_past and not _is_since_the_swallow(around)
    is_planned = any("plan" in lexeme.roles for lexeme in around)
    is_past = is_past or any(word in NOT_YET or (word in GIVING and not is_planned) for word in before)
    is_past = is_past or (bool(behind) and not behind[0].is_masked and behind[0].plain.split()[0] in BEYOND)
    is_past = is_past or _is_a_moment(context, sentence, quantity)
    is_past = is_past or _is_after_the_swallow(context, quantity)
    is_past = is_past or _is_into_it(lexemes, quantity.after, sentence)
    is_stay = any("stays" in lexeme.roles or "finish" in lexeme.plain for lexeme in around)
    near = lexemes[max(sentence.first, quantity.first - FARTHEST_STEEP) : quantity.first]
    is_stay = is_stay and not any("steep" in lexeme.roles for lexeme in near)
    key = "plan_s" if not is_stay and _is_plan(near, behind, around) else quantity.key
    return replace(quantity, key=key, is_stay=is_stay, is_past=is_past and key != "plan_s")


def _is_plan(near: Sequence[Lexeme], behind: Sequence[Lexeme], around: Sequence[Lexeme]) -> bool:
    """Say whether a time is meant for the next steep: `plan 30 seconds`, `40 seconds next time`.

    What stands right beside it decides: `steeped 40 seconds, next one 30`, `give it 40 seconds next time`.
    """
    if any("plan" in lexeme.roles for lexeme in (*near, *behind)):
        return True
    return any("plan" in lexeme.roles for lexeme in around) and not any("steep" in lexeme.roles for lexeme in near)


def _is_after_the_swallow(context: Context, quantity: Quantity) -> bool:
    """Say whether it is told when something came: `thirty seconds after the swallow`."""
    words = [word for one in context.lexemes[quantity.after : quantity.after + NEAR] for word in one.plain.split()]
    is_swallowed = any(word.startswith("swallow") for word in words)
    return words[:1] == ["after"] and is_swallowed and LASTS not in context.setting.scales


def _is_a_moment(context: Context, sentence: Sentence, quantity: Quantity) -> bool:
    """Say whether `one second` or a bare `a minute` is only a while, and neither a steep nor a finish."""
    lexemes = context.lexemes[quantity.first : quantity.after]
    is_asked = LASTS in context.setting.scales
    if lexemes[0].number is not None or quantity.value not in (1.0, SECONDS_IN_A_MINUTE) or is_asked:
        return False
    around = context.lexemes[max(sentence.first, quantity.first - FARTHEST_STEEP) : sentence.after]
    is_one = " ".join(lexeme.plain for lexeme in lexemes).startswith(("a ", "one "))
    return is_one and not any({"steep", "stays"} & lexeme.roles.keys() for lexeme in around)


def _is_by_the_clock(behind: Sequence[Lexeme]) -> bool:
    """Say whether a time is read off something: `fifty-five seconds on the kitchen clock`."""
    words = [word for lexeme in behind[:5] for word in lexeme.plain.split()][:5]
    return words[:1] == ["on"] and any(word in CLOCKS for word in words)


def _is_since_the_swallow(lexemes: Sequence[Lexeme]) -> bool:
    """Say whether it is told how long ago the tea was swallowed, and that it stays: `a minute ago and still there`."""
    words = [lexeme.plain for lexeme in lexemes if not lexeme.is_masked]
    return any("swallow" in word for word in words) and any(word.startswith(("still", "is still")) for word in words)


def _is_into_it(lexemes: Sequence[Lexeme], at: int, sentence: Sentence) -> bool:
    """Say whether a bare `in` stands behind a time: `ten seconds in, it turns sweet`, but not `in the bowl`."""
    if at >= sentence.after or lexemes[at].plain != "in":
        return False
    return at + 1 >= sentence.after or "article" not in lexemes[at + 1].roles


def _is_one(before: Sequence[str]) -> bool:
    """Say whether `a`, `a good` or the like stands before a minute."""
    words = " ".join(before[-2:]).split()
    return words[-1:] == ["a"] or (words[-2:-1] == ["a"] and words[-1] in FULL)


def _minutes(context: Context, sentence: Sentence) -> list[Quantity]:
    """Return `a minute and a half`, `half a minute`, `a couple of minutes`."""
    lexemes = context.lexemes
    found = []
    for place in range(sentence.first, sentence.after):
        if lexemes[place].plain not in ("minute", "minutes") or place == sentence.first:
            continue
        before = [lexeme.plain for lexeme in lexemes[max(sentence.first, place - NEAR) : place]]
        if before[-2:] in (["couple", "of"], ["a", "few"]) or before[-1:] in (["a few"], ["a couple of"]):
            seconds = SECONDS_IN_A_MINUTE * (3 if "few" in before[-1] else 2)
            found.append(_timed(context, sentence, Quantity("steep_s", seconds, place - 1, place + 1)))
        elif before[-2:] == ["half", "a"]:
            found.append(_timed(context, sentence, Quantity("steep_s", 30.0, place - 2, place + 1)))
        elif _is_one(before):
            end = _half(lexemes, place + 1, sentence.after)
            seconds = SECONDS_IN_A_MINUTE * (1.5 if end > place + 1 else 1)
            found.append(_timed(context, sentence, Quantity("steep_s", seconds, place - 1, end)))
    return found
