"""What is looked for, in the language of the text index (FTS5).

Words stand in the columns `own` (the place's text) and `above` (the session's and the lot's), impressions in
`perceived` under the signs of `domain.finding_places`. Everything that goes in was cut into words first, so no sign of
FTS5's own language can come from what was typed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from tastebook.domain.finding import FLAGS, MOST, FieldAsked, Noted, Query, Word
from tastebook.domain.finding_places import AROMA, SITTING, letter_of, mask_of, sign
from tastebook.domain.finding_words import BREAK, Phrase


def places_match(query: Query) -> str:
    """Return what finds the places of a query in `found_words`, empty where the text index has no part in it."""
    has_qualities = bool(query.channel or query.flags)
    belongs = bool(query.words) and not query.asks_of_column
    is_own_enough = belongs and len(query.words) == 1 and not query.asks_of_session  # then it is found above as well
    parts = [] if is_own_enough else [_anywhere(word, query) for word in query.words]
    parts += [_perceived(_noted_signs(noted, query)) for noted in query.noted]
    for family in query.families:
        assessed = (f'"{AROMA}"',) if family.least <= 0 else ()
        parts.append(_perceived((*(f'"{sign(key)}"' for key in sorted(family.members)), *assessed)))
    if has_qualities and not query.noted and not any(word.descriptors for word in query.words):
        parts.append(_perceived(_quality_signs(query)))
    if belongs:
        own = [one for word in query.words for one in _in_own(word, query)]
        parts.append(_any((*own, *((_perceived((f'"{SITTING}"',)),) if query.asks_of_session else ()))))
    return " AND ".join(parts)


def lots_match(query: Query) -> str:
    """Return what finds lots in `found_lot_words`: every word anywhere, every field in its own."""
    words = (_any(_texts(word)) for word in query.words)
    return " AND ".join((*words, *map(field_match, query.fields)))


def field_match(asked: FieldAsked) -> str:
    """Return what finds lots by one field."""
    return " AND ".join(f"{asked.field} : {_any(map(_quoted, group))}" for group in asked.groups)


def _anywhere(word: Word, query: Query) -> str:
    found = []
    if word.descriptors:
        found.append(_perceived(_word_signs(word, query)))
    if not word.descriptors or not (query.channel or query.flags):
        found.append(f"{{own above}} : {_any(_texts(word))}")
    return _any(found)


def _in_own(word: Word, query: Query) -> Iterator[str]:
    yield f"own : {_any(_texts(word))}"
    if word.descriptors:
        yield _perceived(_word_signs(word, query))


def _texts(word: Word) -> Iterator[str]:
    yield from map(_quoted, word.phrases)
    if word.begun:
        yield f'"{word.begun}" *'


def _word_signs(word: Word, query: Query) -> Iterable[str]:
    if query.channel or query.flags:
        return _noted_signs(Noted("", word.descriptors), query)
    return (f'"{sign(key)}"' for key in sorted(word.descriptors))


def _noted_signs(noted: Noted, query: Query) -> Iterator[str]:
    for key in sorted(noted.descriptors):
        for strength in range(noted.least, min(noted.most, MOST) + 1):
            yield from _with_qualities(f"{sign(key)}{BREAK}{strength}", query)


def _quality_signs(query: Query) -> Iterator[str]:
    return _with_qualities("", query)


def _with_qualities(beginning: str, query: Query) -> Iterator[str]:
    if not query.channel and not query.flags:
        yield f'"{beginning}{BREAK}" *'
        return
    wanted = mask_of(query.flags)
    for mask in range(1 << len(FLAGS)):
        if mask & wanted == wanted:
            start = f"{beginning}{BREAK}{letter_of(mask)}{BREAK}"
            yield f'"{start}{sign(query.channel)}"' if query.channel else f'"{start}" *'


def _perceived(signs: Iterable[str]) -> str:
    return f"perceived : {_any(signs)}"


def _any(parts: Iterable[str]) -> str:
    return f"({' OR '.join(parts)})"


def _quoted(phrase: Phrase) -> str:
    return f'"{" ".join(phrase)}"'
