"""What a term means: notes and faults, words of the mouth, clarity, colours, scales and families, each told alike."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from tastebook.domain.colour_words import ColourName
from tastebook.domain.session import Lab
from tastebook.domain.spelling import squeezed
from tastebook.domain.vocabulary import STEPS, Clarity, Descriptor, MouthTerm, Scale, Vocabulary

TermKind: TypeAlias = Literal["note", "fault", "mouth", "clarity", "liquor colour", "leaf colour", "scale"]

KINDS: Final[dict[TermKind, str]] = {
    "note": "Note",
    "fault": "Fault",
    "mouth": "Mouthfeel and finish",
    "clarity": "Clarity",
    "liquor colour": "Colour of the liquor",
    "leaf colour": "Colour of the leaf",
    "scale": "Scale",
}

_OF_THE_CHINESE: Final = "; Chinese from memory"


@dataclass(frozen=True)
class Explained:
    """What one term means, and all that is known of it.

    Parameters
    ----------
    key : str
        Of a note or a fault: the descriptor's key. Of a scale: the scale's. Else empty.
    kind : TermKind
        What it is a term for.
    family : str
        Key of the family of a note or a fault; empty where it has none.
    belongs : str
        Where it belongs, in words: `Floral`, `Body, 4 of 5`.
    about : str
        What it means.
    cause : str
        Of a fault: what usually causes it.
    also : tuple of str
        What else it is called.
    source : str
        Where it comes from, with its status.
    lab : Lab or None
        Of a colour: the centre of its region.
    radius_e00 : float
        Of a colour: how far the region reaches.
    """

    term: str
    kind: TermKind
    about: str
    key: str = ""
    family: str = ""
    belongs: str = ""
    cause: str = ""
    also: tuple[str, ...] = ()
    zh: str = ""
    pinyin: str = ""
    source: str = ""
    lab: Lab | None = None
    radius_e00: float = 0.0

    @property
    def told(self) -> str:
        """Return everything but the source, as running text."""
        place = f"Family: {self.belongs}" if self.family else self.belongs
        said = [
            self.about,
            f"A fault, usually so: {self.cause}" if self.kind == "fault" else "",
            f"{place}." if place else "",
            f"Also said: {', '.join(self.also)}." if self.also else "",
            f"{self.zh} ({self.pinyin})." if self.zh and self.pinyin else self.zh or self.pinyin,
        ]
        return " ".join(one for one in said if one)

    @property
    def texts(self) -> tuple[str, ...]:
        """Return what it is called, the term first."""
        return tuple(text for text in (self.term, *self.also, self.zh, self.pinyin) if text)


def explained(vocabulary: Vocabulary, words: str) -> Explained | None:
    """Return what a term means, by a descriptor's key or by any of its names; None for words nobody knows."""
    letters = squeezed(words)
    descriptor = vocabulary.descriptor(words) if vocabulary.has(words) else vocabulary.find(words)
    known = of_descriptor(vocabulary, descriptor) if descriptor else None
    if known and (known.key == words or letters in map(squeezed, known.texts)):
        return known
    others = (one for one in _others(vocabulary) if letters and letters in map(squeezed, one.texts))
    return next(others, known)  # `syrupy` is a body before it is the adjective of syrup


def meaning(vocabulary: Vocabulary, words: str) -> str:
    """Return what a term means as running text, for a fault with what usually causes it; empty if nobody knows it."""
    found = explained(vocabulary, words)
    return found.told if found else ""


def every_term(vocabulary: Vocabulary) -> Iterator[Explained]:
    """Yield every term that is known: notes and faults by family, then the mouth, clarity, colours and scales."""
    for family in ("", *(one.key for one in vocabulary.families)):
        for descriptor in vocabulary.in_family(family):
            yield of_descriptor(vocabulary, descriptor)
    yield from _others(vocabulary)


def of_descriptor(vocabulary: Vocabulary, one: Descriptor) -> Explained:
    """Return what a note or a fault means: in its own words, else by its family."""
    family = vocabulary.family(one.family) if one.family else None
    return Explained(
        term=one.name,
        kind="fault" if one.taint else "note",
        about=one.about or (family.about if family and not one.taint else ""),
        key=one.key,
        family=one.family,
        belongs=family.name if family else "No family yet",
        cause=one.cause,
        also=one.synonyms,
        zh=one.zh,
        pinyin=one.pinyin,
        source=_status(one.source, one.zh),
    )


def _others(vocabulary: Vocabulary) -> Iterator[Explained]:
    yield from (_of_mouth_term(vocabulary, one) for one in vocabulary.mouth_terms)
    yield from map(_of_clarity, vocabulary.clarities)
    yield from map(_of_scale, vocabulary.scales)
    yield from map(_of_colour, vocabulary.colours)


def _of_mouth_term(vocabulary: Vocabulary, one: MouthTerm) -> Explained:
    return Explained(
        term=one.name,
        kind="mouth",
        about=one.about,
        belongs=f"{vocabulary.scale(one.scale).name}, {one.value:g} of {STEPS - 1}",
        also=one.synonyms,
        zh=one.zh,
        pinyin=one.pinyin,
        source=_status(one.source, one.zh),
    )


def _of_clarity(one: Clarity) -> Explained:
    source = _status(one.source, one.zh)
    return Explained(one.term, "clarity", one.about, also=one.synonyms, zh=one.zh, pinyin=one.pinyin, source=source)


def _of_scale(one: Scale) -> Explained:
    words = "; ".join(f"{value} {word}" for value, word in enumerate(one.words))
    return Explained(
        term=one.name,
        kind="scale",
        about=one.about,
        key=one.key,
        belongs=f"Scale: {words}" if words else "Scale, in seconds",
        also=tuple(dict.fromkeys(name for name in (one.short, *one.names) if squeezed(name) != squeezed(one.name))),
        source=_status(one.source, ""),
    )


def _of_colour(one: ColourName) -> Explained:
    lightness, a, b = one.lab
    surface = "liquor" if one.of == "liquor" else "leaf"
    return Explained(
        term=one.name,
        kind="liquor colour" if one.of == "liquor" else "leaf colour",
        about=f"A colour of the {surface}: CIELAB around L* {lightness:.0f}, a* {a:.0f}, b* {b:.0f}, "
        f"within {one.radius_e00:g} ΔE00.",
        also=one.synonyms,
        zh=one.zh,
        pinyin=one.pinyin,
        source=_status(one.source, one.zh),
        lab=one.lab,
        radius_e00=one.radius_e00,
    )


def _status(source: str, zh: str) -> str:
    """Return a source, which says nothing of Chinese where there is none."""
    return source if zh else source.removesuffix(_OF_THE_CHINESE)
