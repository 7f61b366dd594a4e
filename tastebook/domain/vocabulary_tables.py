"""Parsed word lists, checked and made into a vocabulary."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any, Final

from tastebook.domain.colour_words import SWATCH_RADIUS_E00, ColourName, Shade, Surface
from tastebook.domain.errors import VocabularyError
from tastebook.domain.grammar import Grammar, grammar_from_tables
from tastebook.domain.liquor import swatch_names
from tastebook.domain.session import CLARITIES, Lab
from tastebook.domain.spelling import plain, slug, squeezed
from tastebook.domain.vocabulary import (
    STEPS,
    Clarity,
    Descriptor,
    Family,
    MouthTerm,
    Scale,
    Vocabulary,
    pinyin_of,
    squeezed_terms,
)

_FAMILY_KEYS: Final = ("key", "name", "about")
_LIST_KEYS: Final = ("name", "family", "source", "descriptors")
_DESCRIPTOR_KEYS: Final = ("key", "name", "family", "synonyms", "zh", "pinyin", "source", "taint", "cause", "about")
_SCALE_KEYS: Final = (
    "key", "name", "short", "low", "high", "words", "says", "names", "named", "about", "from_none", "unit", "channel",
    "source",
)  # fmt: skip
_MOUTH_KEYS: Final = ("name", "scale", "value", "about", "synonyms", "zh", "pinyin", "source")
_COLOUR_KEYS: Final = ("name", "swatch", "lab", "radius_e00", "synonyms", "zh", "pinyin", "source")
_SHADE_KEYS: Final = ("words", "d_l", "chroma")
_CLARITY_KEYS: Final = ("term", "about", "synonyms", "zh", "pinyin", "source")
_SURFACES: Final[tuple[Surface, ...]] = ("liquor", "leaf")


def vocabulary_from_tables(
    families: Mapping[str, Any],
    descriptors: Iterable[Mapping[str, Any]],
    scales: Mapping[str, Any],
    liquor: Mapping[str, Any],
    mouth: Mapping[str, Any] | None = None,
    colours: Mapping[str, Any] | None = None,
    grammar: Mapping[str, Mapping[str, Any]] | None = None,
    meanings: Mapping[str, Any] | None = None,
) -> Vocabulary:
    """Return the vocabulary that parsed word lists describe.

    Parameters
    ----------
    families : mapping
        `families`: rows in order from base to top.
    descriptors : iterable of mapping
        One per list, with its `name`, a `source` and perhaps a `family` for all its rows, and `descriptors`.
    scales : mapping
        `scales`: rows.
    liquor : mapping
        `clarities`: rows, best first.
    mouth : mapping, optional
        `terms`: rows, words for the mouth and what stays, each on a scale.
    colours : mapping, optional
        `liquor`, `leaf`: rows of colour names; `shades`: rows.
    grammar : mapping of str to mapping, optional
        The rules of the say line, by file name. Without them only lists of words are understood.
    meanings : mapping, optional
        `meanings`: what each descriptor means, by its key; one that its list explains needs none here.

    Raises
    ------
    VocabularyError
        If something is missing, unknown or said twice; the message begins with where, such as
        `floral: descriptors[3].family`.
    """
    kept = tuple(_family(row, where) for row, where in _rows(families, "families"))
    _refuse_twice((one.key for one in kept), "families")
    known = {family.key for family in kept}
    words = tuple(word for table in descriptors for word in _descriptor_list(table, known))
    _refuse_claimed_twice(words)
    words = tuple(_explained(words, meanings or {}))
    lines = tuple(_scale(row, where, scales) for row, where in _rows(scales, "scales"))
    _refuse_twice((one.key for one in lines), "scales")
    terms = tuple(_clarity(row, where, liquor) for row, where in _rows(liquor, "clarities"))
    _refuse_twice((squeezed(word) for one in terms for word in one.terms), "clarities")
    felt = tuple(_mouth_term(row, where, mouth) for row, where in _rows(mouth, "terms")) if mouth else ()
    _refuse_twice((squeezed(word) for one in felt for word in one.terms), "mouth")
    return Vocabulary(
        families=kept,
        descriptors=words,
        scales=_with_terms(lines, felt),
        clarities=terms,
        mouth_terms=felt,
        colours=tuple(_colour_names(colours)) if colours else (),
        shades=tuple(_shade(row, where) for row, where in _rows(colours, "shades")) if colours else (),
        grammar=grammar_from_tables(grammar, later=True) if grammar else Grammar(),
    )


def _family(row: Mapping[str, Any], where: str) -> Family:
    _known(row, _FAMILY_KEYS, where)
    return Family(*(_text(row, key, where, required=True) for key in _FAMILY_KEYS))


def _descriptor_list(table: Mapping[str, Any], families: Collection[str]) -> Iterator[Descriptor]:
    title = _text(table, "name", "descriptors", required=True)
    _known(table, _LIST_KEYS, title)
    for row, where in _rows(table, "descriptors"):
        yield _descriptor(row, f"{title}: {where}", table, families)


def _descriptor(row: Mapping[str, Any], where: str, table: Mapping[str, Any], families: Collection[str]) -> Descriptor:
    _known(row, _DESCRIPTOR_KEYS, where)
    name = _text(row, "name", where, required=True)
    family = _text(row, "family", where) or _text(table, "family", where)
    if family not in families:
        raise VocabularyError(f"{where}.family: “{name}” belongs to “{family}”, which is no family.")
    taint, cause = row.get("taint", False), _text(row, "cause", where)
    if taint not in (True, False) or bool(taint) != bool(cause):
        raise VocabularyError(f"{where}.cause: “{name}” needs both taint = true and a cause, or neither.")
    return Descriptor(
        key=_text(row, "key", where) or slug(name),
        name=name,
        family=family,
        synonyms=_texts(row, "synonyms", where),
        zh=_text(row, "zh", where),
        pinyin=_text(row, "pinyin", where),
        source=_text(row, "source", where) or _text(table, "source", where, required=True),
        taint=taint,
        cause=cause,
        about=_text(row, "about", where),
    )


def _explained(words: Sequence[Descriptor], table: Mapping[str, Any]) -> Iterator[Descriptor]:
    """Yield the descriptors with what they mean."""
    meanings = table.get("meanings", {})
    keys = {word.key for word in words}
    for key in meanings:
        if key not in keys:
            raise VocabularyError(f"meanings: “{key}” is the key of no descriptor.")
    for word in words:
        about = _text(meanings, word.key, "meanings")
        if about and word.about:
            raise VocabularyError(f"meanings: “{word.key}” is explained in its list already.")
        yield replace(word, about=about or word.about)


def _scale(row: Mapping[str, Any], where: str, table: Mapping[str, Any]) -> Scale:
    _known(row, _SCALE_KEYS, where)
    unit, words = _text(row, "unit", where), _texts(row, "words", where)
    if unit not in ("", "s"):
        raise VocabularyError(f"{where}.unit: only “s” (seconds) is known, not “{unit}”.")
    if len(words) != (0 if unit else STEPS):
        raise VocabularyError(f"{where}.words: a word for each of 0 to 5 is needed (none for a timed scale).")
    return Scale(
        key=_text(row, "key", where, required=True),
        name=_text(row, "name", where, required=True),
        short=_text(row, "short", where, required=True),
        low=_text(row, "low", where, required=True),
        high=_text(row, "high", where, required=True),
        words=words,
        says=_says(row, where),
        names=_texts(row, "names", where),
        named=None if row.get("named") is None else _position(row["named"], f"{where}.named"),
        about=_text(row, "about", where),
        from_none=bool(row.get("from_none", True)),
        unit=unit,
        channel=_text(row, "channel", where) or "palate",
        source=_text(row, "source", where) or _text(table, "source", where, required=True),
    )


def _says(row: Mapping[str, Any], where: str) -> dict[str, float]:
    says = row.get("says", {})
    if not isinstance(says, dict):
        raise VocabularyError(f"{where}.says: words with their values are needed, such as {{ silky = 5 }}.")
    _refuse_twice((squeezed(word) for word in says), f"{where}.says")
    return {word: _position(value, f"{where}.says.{word}") for word, value in says.items()}


def _position(value: object, where: str) -> float:
    if not isinstance(value, (int, float)) or isinstance(value, bool) or not 0 <= value <= STEPS - 1:
        raise VocabularyError(f"{where}: a value from 0 to 5 is needed, not {value!r}.")
    return float(value)


def _clarity(row: Mapping[str, Any], where: str, table: Mapping[str, Any]) -> Clarity:
    _known(row, _CLARITY_KEYS, where)
    term = _text(row, "term", where, required=True)
    if term not in CLARITIES:
        raise VocabularyError(f"{where}.term: “{term}” is not one of {', '.join(CLARITIES)}.")
    return Clarity(
        term=term,
        about=_text(row, "about", where, required=True),
        synonyms=_texts(row, "synonyms", where),
        zh=_text(row, "zh", where),
        pinyin=_text(row, "pinyin", where),
        source=_text(row, "source", where) or _text(table, "source", where, required=True),
    )


def _mouth_term(row: Mapping[str, Any], where: str, table: Mapping[str, Any]) -> MouthTerm:
    _known(row, _MOUTH_KEYS, where)
    return MouthTerm(
        name=_text(row, "name", where, required=True),
        scale=_text(row, "scale", where, required=True),
        value=_position(row.get("value"), f"{where}.value"),
        about=_text(row, "about", where, required=True),
        synonyms=_texts(row, "synonyms", where),
        zh=_text(row, "zh", where),
        pinyin=_text(row, "pinyin", where),
        source=_text(row, "source", where) or _text(table, "source", where, required=True),
    )


def _with_terms(scales: Sequence[Scale], terms: Sequence[MouthTerm]) -> tuple[Scale, ...]:
    """Return the scales with what the terms of the mouth say on them.

    Raises
    ------
    VocabularyError
        If a term stands on no scale, or at another place than the scale says.
    """
    says = {scale.key: dict(scale.says) for scale in scales}
    known = {scale.key: {squeezed(word): value for word, value in scale.says.items()} for scale in scales}
    names = {scale.key: {squeezed(name) for name in (scale.name, scale.short, *scale.names)} for scale in scales}
    for term in terms:
        if term.scale not in says:
            raise VocabularyError(f"mouth: “{term.name}” stands on “{term.scale}”, which is no scale.")
        for word in term.terms:
            letters = squeezed(word)
            if letters not in known[term.scale] and letters not in names[term.scale]:
                says[term.scale][word] = term.value
            value = known[term.scale].setdefault(letters, term.value)
            if value != term.value:
                raise VocabularyError(f"mouth: “{word}” is {value:g} on {term.scale}, not {term.value:g}.")
    return tuple(replace(scale, says=says[scale.key]) for scale in scales)


def _colour_names(table: Mapping[str, Any]) -> Iterator[ColourName]:
    """Yield the names of colours; every swatch of the chart has one, whether or not the list holds it."""
    told: set[str] = set()
    for surface in _SURFACES:
        names = [_colour_name(row, f"colours: {where}", surface, table) for row, where in _rows(table, surface)]
        _refuse_twice((squeezed(word) for one in names for word in one.terms), f"colours: {surface}")
        told.update(word for one in names for word in one.terms if surface == "liquor")
        yield from names
    for name in swatch_names():
        if name not in told:
            yield ColourName(name, "liquor", swatch=name, source=_text(table, "source", "colours", required=True))


def _colour_name(row: Mapping[str, Any], where: str, surface: Surface, table: Mapping[str, Any]) -> ColourName:
    _known(row, _COLOUR_KEYS, where)
    swatch, centre = _text(row, "swatch", where), row.get("lab")
    if (centre is None) == (not swatch) or (swatch and swatch not in swatch_names()):
        raise VocabularyError(f"{where}: either a swatch of the chart or a lab is needed.")
    return ColourName(
        name=_text(row, "name", where, required=True),
        of=surface,
        swatch=swatch,
        centre=None if centre is None else _lab(centre, f"{where}.lab"),
        radius_e00=float(row.get("radius_e00", SWATCH_RADIUS_E00)),
        synonyms=_texts(row, "synonyms", where),
        zh=_text(row, "zh", where),
        pinyin=_text(row, "pinyin", where),
        source=_text(row, "source", where) or _text(table, "source", where, required=True),
    )


def _lab(value: object, where: str) -> Lab:
    if not isinstance(value, list) or len(value) != len(("L", "a", "b")) or not all(_is_number(one) for one in value):
        raise VocabularyError(f"{where}: three numbers are needed (L*, a*, b*), not {value!r}.")
    lightness, a, b = map(float, value)
    return (lightness, a, b)


def _shade(row: Mapping[str, Any], where: str) -> Shade:
    _known(row, _SHADE_KEYS, where)
    if not _is_number(row.get("d_l")) or not _is_number(row.get("chroma")):
        raise VocabularyError(f"{where}: numbers are needed for d_l and chroma.")
    return Shade(_texts(row, "words", where), float(row["d_l"]), float(row["chroma"]))


def _is_number(value: object) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _refuse_twice(words: Iterable[str], where: str) -> None:
    seen: set[str] = set()
    for word in words:
        if word in seen:
            raise VocabularyError(f"{where}: “{word}” is there twice.")
        seen.add(word)


def _refuse_claimed_twice(descriptors: Iterable[Descriptor]) -> None:
    keys: set[str] = set()
    owners: dict[str, Descriptor] = {}
    for descriptor in descriptors:
        if descriptor.key in keys:
            raise VocabularyError(f"descriptors: the key “{descriptor.key}” is there twice.")
        keys.add(descriptor.key)
        for term in (*squeezed_terms(descriptor), *pinyin_of(descriptor)):
            owner = owners.setdefault(term, descriptor)
            if owner is not descriptor:
                raise VocabularyError(f"descriptors: both “{owner.name}” and “{descriptor.name}” claim “{term}”.")


def _rows(table: Mapping[str, Any], key: str) -> Iterator[tuple[Mapping[str, Any], str]]:
    rows = table.get(key)
    if not isinstance(rows, list) or not rows or not all(isinstance(row, dict) for row in rows):
        raise VocabularyError(f"{key}: a list with at least one entry is needed.")
    return ((row, f"{key}[{number}]") for number, row in enumerate(rows, start=1))


def _known(row: Mapping[str, Any], allowed: Sequence[str], where: str) -> None:
    for key in row:
        if key not in allowed:
            raise VocabularyError(f"{where}.{key}: no such entry; {', '.join(allowed)} are known.")


def _text(row: Mapping[str, Any], key: str, where: str, *, required: bool = False) -> str:
    value = row.get(key, "")
    if not isinstance(value, str):
        raise VocabularyError(f"{where}.{key}: words in quotes are needed, not {value!r}.")
    if required and not value.strip():
        raise VocabularyError(f"{where}.{key}: this entry is needed.")
    return value.strip()


def _texts(row: Mapping[str, Any], key: str, where: str) -> tuple[str, ...]:
    value = row.get(key, [])
    if not isinstance(value, list) or not all(isinstance(one, str) and plain(one) for one in value):
        raise VocabularyError(f"{where}.{key}: a list of words in quotes is needed, not {value!r}.")
    return tuple(value)
