"""What is said at a step, understood: from one word to a long dictated passage.

A passage is cut into words; the longest known phrases are found, those of the vocabulary and those of the grammar. Talk
that is not about this cup is set aside. Then each sentence is read from left to right: words before a thing wait for it
(`a hint of`, `no`, `maybe`), words behind it go back to it (`…, faint`, `is gone`, `on the out-breath`). What each rule
does is told on one page, `resources/grammar/README.md`; the rules themselves are lists of phrases beside it.

It is the same each time, needs no network and no model, and every part says from which words it was read.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from types import MappingProxyType
from typing import Final

from tastebook.domain.saying_amounts import Amounts, one_clarity, without_mere_names
from tastebook.domain.saying_channels import Channels
from tastebook.domain.saying_colours import corrected_colours, mixed_colours
from tastebook.domain.saying_context import Context
from tastebook.domain.saying_found import PERCEIVED, Found
from tastebook.domain.saying_frames import Likeness, masked, sentences
from tastebook.domain.saying_layout import LONGEST_NAME_WORDS, Placed, laid_out
from tastebook.domain.saying_lexicon import Lexeme, lexicon_of
from tastebook.domain.saying_numbers import Quantity
from tastebook.domain.saying_parts import Because, How, Part, PartKind, Understanding
from tastebook.domain.saying_reader import Reader
from tastebook.domain.saying_setting import Setting
from tastebook.domain.saying_tokens import tokens
from tastebook.domain.vocabulary import Vocabulary

__all__ = ["LONGEST_NAME_WORDS", "PERCEIVED", "Because", "How", "Part", "PartKind", "Understanding", "understand"]

LONGEST_FINISH_S: Final = 3600.0
FINISH_LENGTH: Final = "finish_length_s"
FINISH: Final = "finish"
FINISH_FROM_S: Final = ((90.0, 5.0), (30.0, 4.0), (15.0, 3.0), (5.0, 2.0), (0.0, 1.0))
"""How long a finish lasts, as a value on its scale, where only that is asked for. *Common practice, no source.*"""
NOTHING_LAST: Final[Mapping[str, float]] = MappingProxyType({})


def understand(
    text: str,
    vocabulary: Vocabulary,
    *,
    scales: Collection[str] = (),
    clarity: bool = False,
    default_intensity: int = 3,
    channel: str = "palate",
    last: Mapping[str, float] = NOTHING_LAST,
) -> Understanding:
    """Return what a text says; any text at all is understood in some way.

    Parameters
    ----------
    scales : collection of str
        Keys of the scales that are asked for at this step: their words are readings first, and notes second.
    clarity : bool
        Whether the clarity of the liquor is asked for.
    default_intensity : int
        Strength of what is named without one, 1 to 5.
    channel : str
        The sense that the step attends to.
    last : mapping of str to float
        What the last infusion had: strengths by the key of a descriptor, values by the key of a scale. `has faded`,
        `twice what it was` and the like are relative to it.
    """
    lexicon = lexicon_of(vocabulary)
    lexemes = lexicon.lexemes(tokens(text, lexicon.chinese))
    setting = Setting(frozenset(scales), clarity, channel, default_intensity, last)
    context = Context(lexemes, vocabulary.grammar, setting, vocabulary.scales)
    reader, channels, likenesses = Reader(context), Channels(context), list[Likeness]()
    for sentence in sentences(lexemes):
        likenesses += masked(lexemes, sentence, vocabulary.grammar)
        context.read(sentence)
        channels.give(sentence, reader.read(sentence))
    placed = _placed(reader, context, vocabulary)
    return Understanding(text, laid_out(text, context, placed, likenesses, vocabulary))


def _placed(reader: Reader, context: Context, vocabulary: Vocabulary) -> list[Placed]:
    """Return the parts that were found, each with where it stands."""
    amounts = Amounts(context, vocabulary)
    placed = []
    for one in _told(reader, context):
        if part := amounts.part(one):
            placed.append(Placed(part, one.first, one.at + 1, one))
    placed = one_clarity(placed)
    measured = (Placed(part, one.first, one.after) for one in reader.quantities if (part := _measured(one, context)))
    return [*placed, *measured]


def _told(reader: Reader, context: Context) -> list[Found]:
    """Return what was found, without what is only named or taken back; colours side by side are one."""
    told = without_mere_names([one for one in reader.found if not one.expected])
    return mixed_colours(corrected_colours(told, context), context)


def _measured(quantity: Quantity, context: Context) -> Part | None:
    """Return a quantity as a part: how long the finish lasts is a reading, anything else is offered to its field."""
    if quantity.is_past:
        return None
    lexemes: list[Lexeme] = list(context.lexemes[quantity.first : quantity.after])
    start, end = lexemes[0].start, lexemes[-1].end
    asked = FINISH_LENGTH in context.setting.scales
    if quantity.key == "steep_s" and (asked or quantity.is_stay):
        if quantity.value > LONGEST_FINISH_S:
            return None
        is_told_on_scale = not asked and FINISH in context.setting.scales
        key, value = (FINISH, finish_of(quantity.value)) if is_told_on_scale else (FINISH_LENGTH, quantity.value)
        return Part(
            "reading", start, end, "", key, None, value, "exact", asked=asked or is_told_on_scale, word_start=start,
            word_end=end,
        )  # fmt: skip
    return Part("quantity", start, end, "", quantity.key, None, quantity.value, "exact", word_start=start, word_end=end)


def finish_of(seconds: float) -> float:
    """Return the value on the scale of the finish for one that lasts so long, in seconds."""
    return next(value for from_s, value in FINISH_FROM_S if seconds >= from_s)
