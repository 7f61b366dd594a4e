"""What was understood, in words: what a part is, from which words it was read, and where it is kept."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from tastebook.domain.explaining import explained
from tastebook.domain.saying import Because, Part
from tastebook.domain.vocabulary import Vocabulary
from tastebook.reports.wording import capital, degrees

CHANNELS: Final[Mapping[str, str]] = MappingProxyType({
    "dry leaf": "in the dry leaf", "warmed leaf": "in the warmed leaf", "lid": "under the lid",
    "wet leaf": "in the wet leaf", "liquor nose": "on the nose", "palate": "in the mouth",
    "retronasal": "on the out-breath", "empty cup": "in the empty cup", "finish": "in the finish",
    "infused leaf": "in the infused leaf", "body": "in the body", "liquor": "in the liquor",
})  # fmt: skip
"""Where something was perceived, as one says it."""

CHANGES: Final[Mapping[str, str]] = MappingProxyType({
    "fades": "fades", "much less": "much less than before", "grows": "grows", "much more": "much more than before",
    "doubles": "twice as strong", "halves": "half as strong", "holds": "holds", "returns": "returns",
    "new": "new in this cup", "less strong": "less than before", "stronger than": "more than before",
})  # fmt: skip
"""How something stands to the last infusion."""

FIELDS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "water_c": "water",
        "steep_s": "steep",
        "plan_s": "plan",
        "leaf_g": "leaf",
        "volume_ml": "vessel",
        "altitude_m": "altitude",
    }
)
UNITS: Final[Mapping[str, str]] = MappingProxyType(
    {"steep_s": "s", "plan_s": "s", "leaf_g": "g", "volume_ml": "ml", "altitude_m": "m"}
)
WORDS_ONLY: Final = "words only"


def name_of(part: Part, vocabulary: Vocabulary) -> str:
    """Return what a part is called."""
    if part.kind == "descriptor" and vocabulary.has(part.key):
        return vocabulary.descriptor(part.key).name
    if part.kind == "reading":
        return vocabulary.scale(part.key).name
    if part.kind in ("clarity", "colour"):
        return f"{part.of or 'liquor'} {part.key}"
    if part.kind == "colour change":
        return "liquor unchanged" if part.key == "unchanged" else f"liquor {part.key} than the last"
    if part.kind == "quantity":
        return FIELDS.get(part.key, part.key)
    return part.said or part.key.replace("-", " ")


def about(part: Part) -> str:
    """Return where an impression was perceived, if not by the sense of the step, and how it stands to the last cup."""
    words = (CHANNELS.get(part.channel, part.channel), CHANGES.get(part.change, part.change))
    return ", ".join(word for word in words if word)


def amount(part: Part, *, in_fahrenheit: bool) -> str:
    """Return a number with its unit, as its field shows it."""
    if part.value is None:
        return ""
    if part.key == "water_c":
        return degrees(part.value, in_fahrenheit=in_fahrenheit)
    return f"{part.value:g} {UNITS.get(part.key, '')}".strip()


def told(part: Part, vocabulary: Vocabulary, kept: str) -> str:
    """Return what a part comes to, in one phrase; `kept` says where."""
    name = name_of(part, vocabulary)
    if part.kind in ("descriptor", "unknown"):
        name = f"no {name}" if part.intensity == 0 else f"{name} {part.intensity}"
        family = part.family or part.guess
        name += f", a new word, {family or 'of no family yet'}" if part.kind == "unknown" else ""
    elif part.kind == "reading":
        name = f"{name} {_value(part, vocabulary)}"
    extra = (about(part) if part.kind == "descriptor" else "", "doubtful" if part.doubtful else "", kept)
    return ", ".join(word for word in (name, *extra) if word)


def _value(part: Part, vocabulary: Vocabulary) -> str:
    scale = vocabulary.scale(part.key)
    value = part.value or 0.0
    word = scale.word_for(value)
    return f"{value:g} {scale.unit}" if scale.unit else f"{value:g}" + (f" ({word})" if word else "")


def why(part: Part, text: str, vocabulary: Vocabulary, value: int | None = None) -> str:
    """Return from which words a part was read, and what each did; `value` is what the taster set instead."""
    said = [word for one in part.because if (word := _did(one, part, text, vocabulary))]
    said += ["named before in these words"] if part.said_before else []
    said += [f"set by you to {value}"] if value is not None else []
    return "; ".join(said)


def _did(because: Because, part: Part, text: str, vocabulary: Vocabulary) -> str:
    words, does = text[because.start : because.end], because.does
    kind, _, what = does.partition(": ")
    if part.kind == "reading":
        does = does.replace("strength ", "", 1)
    if does == part.kind:
        return _stands_for(words, part, vocabulary)
    if kind == "since the last infusion":
        does = CHANGES.get(what, what)
    elif kind == "perceived":
        does = CHANNELS.get(what, "here")
    return f"“{words}” → {does}" if does.casefold() != words.casefold() else ""


def _stands_for(words: str, part: Part, vocabulary: Vocabulary) -> str:
    """Return what the word itself stands for, empty where it is the name itself."""
    if part.kind == "reading":
        stands_for = f"{vocabulary.scale(part.key).name} {_value(part, vocabulary)}"
    else:
        stands_for = amount(part, in_fahrenheit=False) if part.kind == "quantity" else name_of(part, vocabulary)
    names = (stands_for, *_names_of(part, vocabulary))
    if words.casefold() in map(str.casefold, names):
        return ""
    slip = ", a slip put right" if part.how == "close" and part.kind == "descriptor" else ""
    return f"“{words}” → {stands_for}{slip}"


def _names_of(part: Part, vocabulary: Vocabulary) -> tuple[str, ...]:
    """Return the bare names of a scale, which say nothing that the value beside them does not."""
    if part.kind != "reading":
        return ()
    scale = vocabulary.scale(part.key)
    return (scale.name, scale.short, *scale.names)


def term_of(part: Part, vocabulary: Vocabulary) -> str:
    """Return the term that a part is explained by."""
    if part.kind == "reading":
        return vocabulary.scale(part.key).name
    return part.said if part.kind == "unknown" else part.key


def told_meaning(words: str, vocabulary: Vocabulary) -> str:
    """Return what a term means; for a fault also what usually causes it."""
    found = explained(vocabulary, words)
    if found is None:
        return f"“{words}” is a word of your own: it means what you mean by it."
    return f"{capital(found.term)}: {found.told}"
