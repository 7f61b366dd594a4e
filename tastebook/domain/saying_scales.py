"""When a word of a scale is a reading although the step does not ask for its scale.

A scale is heard where it is named with its value (`strength weak`, `nose faint`), where its own sense is attended to
(what the empty cup keeps), where the sentence speaks of the mouth or the finish, or where the word stands by itself.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final, Protocol

from tastebook.domain.grammar import Grammar
from tastebook.domain.saying_frames import Sentence
from tastebook.domain.saying_lexicon import Lexeme, Sense
from tastebook.domain.saying_setting import LEAF_CHANNELS, TASTED_CHANNELS, Setting, Subjects
from tastebook.domain.vocabulary import Scale, ScaleWord

FINISH_SCALES: Final = frozenset({"finish", "finish_length_s"})
SWEETNESS, UMAMI, AROMA, LASTING, STRENGTH = "sweetness", "umami", "aroma", "lasting", "strength"
EMPTY_CUP, BODY, FINISH = "empty cup", "body", "finish"
PERSISTENT, WHEN_COLD = 4.0, 5.0

STARTING: Final = frozenset({"and", "by", "up", "soft", "start"})
LINKING: Final = frozenset({"small", "verb", "up", "soft", "talk", "hedge", "lead"})
MEASURES: Final = frozenset({"by", "after", "number"})
SAYS_NOTHING: Final = LINKING - {"lead"} | {"sure", "by", "before", "start", "goes on"}
PAUSES: Final = ",:"
FARTHEST_MEASURED, FARTHEST_SUBJECT, FARTHEST_NAME = 4, 6, 7
SMELT_CHANNELS: Final = frozenset(
    {"nose", "lid", "dry leaf", "warmed leaf", "wet leaf", "infused leaf", "empty cup", "liquor nose"}
)
FELT: Final = frozenset({"thick", "thin", "dense", "watery"})
"""Words of the mouth that are strengths too, and hardly ever said of a note."""

EITHER: Final = frozenset({"either", "neither"})
CLOSES: Final = frozenset({"and", "contrast", "mouth", "channel", "talk", "start", "goes on"})
SMELT, TASTED = "smelt", "tasted"
STILL: Final = frozenset({"still", "even"})
COPULAS: Final = frozenset({"is", "are", "was", "were"})


class Context(Protocol):
    """What is asked of the lexemes around a word."""

    lexemes: Sequence[Lexeme]
    grammar: Grammar
    setting: Setting
    scales: Mapping[str, Scale]
    meanings: list[Sense | None]
    said: set[str]

    def ahead(self, place: int) -> int | None:
        """Return where the known word stands that words at a place lead to."""

    def is_before_a_thing(self, place: int, sentence: Sentence) -> bool:
        """Say whether an adjective stands right before another thing."""

    def could_be_note(self, lexeme: Lexeme) -> bool:
        """Say whether a word may be a note."""

    def is_alone(self, place: int, sentence: Sentence) -> bool:
        """Say whether a word makes a phrase by itself, as in a list."""

    def is_taste(self, place: int) -> bool:
        """Say whether a word is a taste while something is in the mouth, and a smell elsewhere."""


# -- a scale and its value ---------------------------------------------------------------------------------------------


def measures_another(context: Context, place: int) -> bool:
    """Say whether a strength that is also a word of one scale measures another, named before it: `grip light`."""
    lexeme = context.lexemes[place]
    if "by" not in lexeme.roles:
        return _says_again(context, place)
    own = {sense.meaning.scale.key for sense in lexeme.senses if isinstance(sense.meaning, ScaleWord)}
    if _is_called(context, place) or _is_between(context, place):
        return own.isdisjoint(_scales_before(context, place))
    for at in range(place - 1, max(-1, place - 1 - FARTHEST_MEASURED), -1):
        before = context.lexemes[at]
        if "scent" in before.roles and not before.is_masked and context.meanings[at] is None:
            return is_measured(context, at)
        named = _names(before)
        if named and not before.is_masked:
            return own.isdisjoint(word.scale.key for word in named)
        if (before.cut and before.cut != ":") or before.senses or LINKING.isdisjoint(before.roles):
            return False
    return False


def _is_called(context: Context, place: int) -> bool:
    """Say whether `call it` leads to a strength: it measures what was spoken of last."""
    before = context.lexemes[place - 1] if place else None
    return before is not None and "lead" in before.roles and before.plain.endswith(" it")


def _is_between(context: Context, place: int) -> bool:
    """Say whether a middling word closes what two denials began: `not thin but not thick either, middling`."""
    before = context.lexemes[max(0, place - 2) : place]
    return len(before) > 1 and before[1].cut == "," and before[0].plain in EITHER


def _scales_before(context: Context, place: int) -> set[str]:
    """Return the scales that what was spoken of last may stand on."""
    for at in range(place - 1, max(-1, place - 1 - FARTHEST_NAME), -1):
        lexeme = context.lexemes[at]
        if "comparative" in lexeme.roles:
            return {context.grammar.comparatives[int(lexeme.roles["comparative"].value)].scale}
        if lexeme.senses and not lexeme.is_masked:
            return {sense.meaning.scale.key for sense in lexeme.senses if isinstance(sense.meaning, ScaleWord)}
    return set()


def _links(lexeme: Lexeme) -> bool:
    """Say whether a word or a pause may stand between a name and its value."""
    return lexeme.cut in PAUSES if lexeme.cut else not LINKING.isdisjoint(lexeme.roles)


def _names(lexeme: Lexeme) -> list[ScaleWord]:
    """Return what only names a scale: `grip`, not `grippy` with a value of its own."""
    words = [sense.meaning for sense in lexeme.senses if isinstance(sense.meaning, ScaleWord)]
    return words if any(word.value is None or word.value == word.scale.named for word in words) else []


def _says_again(context: Context, place: int) -> bool:
    """Say whether a strength is said again of the same: `the grip is strong, too strong for me`."""
    words = context.lexemes[place].plain.split()
    before = context.lexemes[max(0, place - 2) : place]
    return len(before) > 1 and before[1].cut == "," and "by" in before[0].roles and words[-1] in before[0].plain.split()


def is_measured(context: Context, place: int) -> bool:
    """Say whether a strength or a number stands right behind a name, and goes with nothing else: `nose faint`."""
    for at in range(place + 1, min(place + 1 + FARTHEST_MEASURED, len(context.lexemes))):
        lexeme = context.lexemes[at]
        if lexeme.is_masked:
            return False
        if lexeme.number is not None:
            return True
        if not MEASURES.isdisjoint(lexeme.roles) and not ("by" in lexeme.roles and lexeme.plain in COPULAS):
            return context.ahead(at) is None
        if lexeme.senses or not _links(lexeme) or lexeme.plain in ("of", "is of", "like"):
            return False
    return False


def told_scent(context: Context, place: int, sentence: Sentence) -> Sense | None:
    """Return how much there is to smell as what `nose` or `aroma` means, where that is measured."""
    scale = context.scales.get(AROMA)
    if scale is None:
        return None
    if not _begins_a_phrase(context, place, sentence):
        return None
    is_told = is_measured(context, place) or _is_told_before(context, place, sentence)
    return Sense("scale", ScaleWord(scale, None)) if is_told else None


def _begins_a_phrase(context: Context, place: int, sentence: Sentence) -> bool:
    """Say whether `smell` is the noun, and not the smell of what stands before it: not `nori smell`, `I can smell`."""
    before = context.lexemes[place - 1] if place > sentence.first else None
    if before is None or before.cut or context.lexemes[place].plain.startswith("the "):
        return True
    return not {"article", "by", "no", "of", "and", "contrast", "goes on"}.isdisjoint(before.roles)


def _is_told_before(context: Context, place: int, sentence: Sentence) -> bool:
    """Say whether a strength or a denial stands before a name that closes its phrase: `a faint nose`, `no aroma`."""
    before = context.lexemes[place - 1] if place > sentence.first else None
    if before is None or before.is_masked or {"by", "no", "of"}.isdisjoint(before.roles):
        return False
    following = context.lexemes[place + 1] if place + 1 < sentence.after else None
    return following is None or (following.cut in (",", ":", ";") and bool(following.cut)) or "talk" in following.roles


def told_cold(context: Context, place: int, sentence: Sentence) -> Sense | None:
    """Return that the scent lasts, where it is still there in a cup that has gone cold."""
    scale = context.scales.get(LASTING)
    if scale is None or context.setting.channel != EMPTY_CUP:
        return None
    around = context.lexemes[sentence.first : sentence.after]
    words = {word for lexeme in around if not lexeme.is_masked for word in lexeme.plain.split()}
    others = (*around[: max(0, place - sentence.first - 2)], *around[place - sentence.first :])  # not `it's gone cold`
    is_gone = any("absent" in lexeme.roles for lexeme in others)
    if STILL.isdisjoint(words) or is_gone:
        return None
    context.lexemes[place].is_masked = False  # `stone cold` is a figure of speech elsewhere
    return Sense("scale", ScaleWord(scale, WHEN_COLD))


def as_lasting(context: Context, senses: Sequence[Sense]) -> list[Sense]:
    """Return what words for a finish mean in the empty cup: there they tell how long the scent lasts."""
    scale = context.scales.get(LASTING)
    if scale is None or context.setting.channel != EMPTY_CUP or any(_is_of(sense, LASTING) for sense in senses):
        return list(senses)
    return [one for sense in senses if (one := _lasting(sense, ScaleWord(scale, None))) is not None]


def _lasting(sense: Sense, word: ScaleWord) -> Sense | None:
    meaning = sense.meaning
    if not isinstance(meaning, ScaleWord) or meaning.scale.key not in FINISH_SCALES:
        return sense
    if meaning.value is None:
        return None
    return sense._replace(meaning=word._replace(value=min(meaning.value, PERSISTENT)))


def is_smelt(context: Context, place: int, sentence: Sentence) -> bool:
    """Say whether the nearest sense spoken of is the nose: `it smells sweet`, `sweet on the nose`.

    Where colours are looked at, the leaf itself is not smelt: `the opened leaves are copper`.
    """
    for at in range(place - 1, sentence.first - 1, -1):
        sense = _sense_of(context.lexemes[at])
        if sense == SMELT and context.setting.is_leaf and _is_the_leaf(context.lexemes[at]):
            continue
        if sense:
            return sense == SMELT
    behind = context.lexemes[place + 1 : min(place + 3, sentence.after)]
    return any(_sense_of(lexeme) == SMELT for lexeme in behind)


def _is_the_leaf(lexeme: Lexeme) -> bool:
    cues = [cue.key for role, cue in lexeme.roles.items() if role in ("channel", "label")]
    return "leaf" in lexeme.roles or ("smell" not in lexeme.plain and not LEAF_CHANNELS.isdisjoint(cues))


def _sense_of(lexeme: Lexeme) -> str:
    """Return which sense a phrase speaks of, empty if of none."""
    if lexeme.is_masked:
        return ""
    keys = {cue.key for role, cue in lexeme.roles.items() if role in ("channel", "label")}
    if keys & SMELT_CHANNELS or "scent" in lexeme.roles or "wafts" in lexeme.roles or "smell" in lexeme.plain:
        return SMELT
    return TASTED if "mouth" in lexeme.roles or "end" in lexeme.roles or keys & TASTED_CHANNELS else ""


# -- whether it is heard ----------------------------------------------------------------------------------------------


def unasked(
    context: Context, senses: Sequence[Sense], place: int, subjects: Subjects, sentence: Sentence
) -> Sense | None:
    """Return the reading that a word is although the step does not ask for its scale; None if it is none."""
    return next((sense for sense in senses if _is_heard(context, sense, place, subjects, sentence)), None)


def _is_heard(context: Context, sense: Sense, place: int, subjects: Subjects, sentence: Sentence) -> bool:
    word, lexeme, setting = sense.meaning, context.lexemes[place], context.setting
    if not isinstance(word, ScaleWord):
        return False
    scale = word.scale.key
    if scale in context.grammar.only_asked:
        return _is_told(context, word, place, sentence)
    if word.value is None and "label" in lexeme.roles:
        return False
    is_weak = sense.weak or lexeme.plain in context.grammar.weak
    is_spoken_of = subjects.end if scale in FINISH_SCALES else subjects.mouth
    if setting.channel == BODY and (is_weak or scale == SWEETNESS) and not is_spoken_of:
        return False  # how somebody feels: nothing is in the mouth
    is_only_smelt = not setting.is_mouth and setting.channel != BODY and scale != UMAMI
    is_loose = is_weak or " " in lexeme.plain or context.is_before_a_thing(place, sentence)
    if is_only_smelt and is_loose and not (subjects.end or subjects.mouth):
        return False  # only smelt, or looked at: `dry as a bone`, `the bitter skin of a walnut`
    if scale == SWEETNESS and not setting.is_mouth and _is_of_a_note(context, place, sentence):
        return False
    if setting.channel == BODY and scale in FINISH_SCALES and is_weak:
        return False
    if scale == BODY and setting.channel == BODY and word.value is None:
        return False
    if scale in FINISH_SCALES and setting.channel == FINISH and context.ahead(place) is None:
        return not context.is_before_a_thing(place, sentence)
    is_said = is_spoken_of or _stands_alone(context, place, sentence) or _is_predicated(context, place, sentence)
    return not is_weak or is_said


def _is_predicated(context: Context, place: int, sentence: Sentence) -> bool:
    """Say whether a word is said of the cup, in the mouth: `it's thick`, `smooth with it`."""
    lexeme = context.lexemes[place]
    is_told_of = context.setting.channel in TASTED_CHANNELS and ("by" not in lexeme.roles or lexeme.plain in FELT)
    following = context.lexemes[place + 1] if place + 1 < sentence.after else None
    if not is_told_of or (following is not None and not following.cut and CLOSES.isdisjoint(following.roles)):
        return False
    at = place - 1
    while at >= sentence.first and not {"up", "soft", "before"}.isdisjoint(context.lexemes[at].roles):
        at -= 1
    return at >= sentence.first and context.lexemes[at].plain in context.grammar.cups


def _is_told(context: Context, word: ScaleWord, place: int, sentence: Sentence) -> bool:
    """Say whether a scale that only some steps ask for is spoken of all the same."""
    lexeme, channel = context.lexemes[place], context.setting.channel
    if word.scale.channel == channel and channel in (EMPTY_CUP, FINISH):
        return context.ahead(place) is None and not context.is_before_a_thing(place, sentence)
    if "channel" in lexeme.roles and any(map(context.could_be_note, context.lexemes[sentence.first : sentence.after])):
        return False
    if " " in lexeme.plain and not context.grammar.names_itself.isdisjoint(lexeme.plain.split()):
        return context.lexemes[place + 1].plain != "of" if place + 1 < sentence.after else True
    is_name = word.value is None or word.value == word.scale.named
    if is_name and (is_measured(context, place) or _next_is_of(context, place, word.scale.key)):
        return True
    if _own_name_before(context, place, word.scale.key):
        return True
    is_cup = word.scale.key == STRENGTH and channel in TASTED_CHANNELS
    return is_cup and (_is_before_the_cup(context, place) or _is_all_that_is_said(context, place, sentence))


def _next_is_of(context: Context, place: int, scale: str) -> bool:
    """Say whether a word of the same scale follows its name: `strength medium`."""
    for at in range(place + 1, min(place + 1 + FARTHEST_MEASURED, len(context.lexemes))):
        lexeme = context.lexemes[at]
        if any(_is_of(sense, scale) for sense in lexeme.senses):
            return not lexeme.is_masked
        if not _links(lexeme):
            return False
    return False


def _own_name_before(context: Context, place: int, scale: str) -> bool:
    """Say whether the name of the scale stands before its value: `strength weak`, `the aroma is high`."""
    at = _name_before(context, place)
    if at is None:
        return False
    if scale == AROMA and "scent" in context.lexemes[at].roles:
        return context.ahead(place) is None
    return any(word.scale.key == scale for word in _names(context.lexemes[at]))


def _name_before(context: Context, place: int) -> int | None:
    """Return where the name of a scale stands that a word may give a value to; a question is answered by it too."""
    asks = False
    for at in range(place - 1, max(-1, place - 1 - FARTHEST_NAME), -1):
        lexeme = context.lexemes[at]
        if lexeme.is_masked:
            return None
        if "scent" in lexeme.roles or _names(lexeme):
            return at
        if lexeme.cut == "?" and at >= place - FARTHEST_MEASURED:
            asks = True
        elif lexeme.senses or not (_links(lexeme) or (asks and not lexeme.cut)):
            return None
    return None


def of_the_named(context: Context, place: int, senses: Sequence[Sense]) -> Sense | None:
    """Return the value that a word gives to the scale named before it: `thickness medium`, `huigan slow but long`."""
    at = _name_before(context, place)
    named = _names(context.lexemes[at])[0].scale if at is not None and _names(context.lexemes[at]) else None
    if named is None or context.ahead(place) == place + 1:
        return None
    own = next((sense for sense in senses if _is_of(sense, named.key)), None)
    if own is not None and isinstance(own.meaning, ScaleWord) and own.meaning.value is not None:
        return own
    words = context.lexemes[place].plain
    is_own = words in named.words and "by" not in context.lexemes[place].roles
    return Sense("scale", ScaleWord(named, float(named.words.index(words)))) if is_own else None


def _is_before_the_cup(context: Context, place: int) -> bool:
    """Say whether `cup`, `tea` or the like stands right behind a strength: `weak brew`."""
    following = context.lexemes[place + 1 : place + 3]
    is_cup = bool(following) and following[0].plain in context.grammar.names_itself and not following[0].is_masked
    return is_cup and (len(following) < 2 or following[1].plain.split()[0] not in ("of", "note", "notes", "flavour"))


def _is_all_that_is_said(context: Context, place: int, sentence: Sentence) -> bool:
    """Say whether a sentence says nothing but how strong the cup is, and nothing was named to which it goes back."""
    others = [context.lexemes[at] for at in range(sentence.first, sentence.after) if at != place]
    if any(one.senses or one.is_masked or (not one.cut and SAYS_NOTHING.isdisjoint(one.roles)) for one in others):
        return False
    return not context.said or (not others and _was_measured(context, sentence))


def _was_measured(context: Context, sentence: Sentence) -> bool:
    """Say whether the sentence before has its strength, so that a bare `Weak.` is said of the cup."""
    at = sentence.first - 2
    while at >= 0 and not (context.lexemes[at].cut and context.lexemes[at].cut in ".!?"):
        if not {"of", "by", "before", "after"}.isdisjoint(context.lexemes[at].roles):
            return True
        at -= 1
    return False


def _is_of(sense: Sense, scale: str) -> bool:
    return isinstance(sense.meaning, ScaleWord) and sense.meaning.scale.key == scale


def of_the_nearest(context: Context, place: int, sentence: Sentence, senses: list[Sense]) -> list[Sense]:
    """Return those senses that are of the nearest subject before it: in `finish is medium`, the finish."""
    if not any(map(_is_of_the_finish, senses)) or len(senses) < 2:
        return senses
    for at in range(place - 1, max(sentence.first, place - FARTHEST_SUBJECT) - 1, -1):
        roles = context.lexemes[at].roles
        is_end = "end" in roles or any(cue.key == "finish" for cue in roles.values())
        if is_end or "mouth" in roles:
            return [one for one in senses if _is_of_the_finish(one) == is_end] or senses
    return senses


def _is_of_the_finish(sense: Sense) -> bool:
    return isinstance(sense.meaning, ScaleWord) and sense.meaning.scale.key in FINISH_SCALES


def _is_of_a_note(context: Context, place: int, sentence: Sentence) -> bool:
    """Say whether a smell is only told to be sweet by what stands before it: `jaggery type sweetness`."""
    before = context.lexemes[max(sentence.first, place - 2) : place]
    return any(context.could_be_note(lexeme) for lexeme in before) and not any(lexeme.cut for lexeme in before)


def _stands_alone(context: Context, place: int, sentence: Sentence) -> bool:
    """Say whether a word that may mean much else makes a phrase by itself while something is in the mouth."""
    if context.setting.channel not in TASTED_CHANNELS:
        return False
    if _is_beside_a_feel(context, place, sentence):
        return True
    if "by" in context.lexemes[place].roles:
        return False
    before = context.lexemes[place - 1] if place > sentence.first else None
    if before is not None and "talk" in before.roles and STARTING.isdisjoint(before.roles):  # `wet velvet`
        return False
    others = (at for at in range(sentence.first, sentence.after) if at != place)
    return any(context.lexemes[at].senses for at in others) and context.is_alone(place, sentence)


def _is_beside_a_feel(context: Context, place: int, sentence: Sentence) -> bool:
    """Say whether `and` or a comma joins a word to one that is felt and is no strength: `soft, round`."""
    for step in (-1, 1):
        link, other = place + step, place + 2 * step
        if sentence.first <= min(link, other) and max(link, other) < sentence.after:
            joins = context.lexemes[link].cut == "," or "and" in context.lexemes[link].roles
            felt = context.lexemes[other]
            is_feel = bool(felt.senses) and all(sense.kind == "scale" for sense in felt.senses)
            is_feel = is_feel or (bool(felt.senses) and context.is_taste(other))
            if joins and is_feel and "by" not in felt.roles:
                return True
    return False
