"""Text as it is searched: small letters without accents or tone marks, every Chinese character a word of its own.

The index and whoever asks it cut text by the same function, so that what is found is what is marked.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Final, NamedTuple, TypeAlias

from tastebook.domain.spelling import APOSTROPHES, NOT_A_LETTER, plain

BREAK: Final = "·"
"""Stands between two texts in one place: no phrase reaches across, and nobody can type it, for it is no letter."""

_HAN: Final = (
    "\u2e80-\u2fdf\u3005-\u3007\u3021-\u3029\u3038-\u303b\u3400-\u4dbf\u4e00-\u9fff\uf900-\ufaff\U00020000-\U0003ffff"
)
_HAN_SIGN: Final = re.compile(f"[{_HAN}]")
_TOKEN: Final = re.compile(rf"[{_HAN}]|[^\W_{_HAN}]+")
_SQUEEZED_MOST: Final = 4
"""Names of more words are not also known without their spaces."""

Span: TypeAlias = tuple[int, int]
Phrase: TypeAlias = tuple[str, ...]


class Piece(NamedTuple):
    """One word of a text, and where it stands there."""

    letters: str
    start: int
    end: int


def cut(text: str) -> list[str]:
    """Return the words of a text as they are searched."""
    letters = plain(text)
    return letters.split() if letters.isascii() else _TOKEN.findall(letters)


def pieces(text: str) -> list[Piece]:
    """Return the words of a text with the places at which they stand in it."""
    if text.isascii() and "'" not in text and "`" not in text:  # each letter is where it was
        return [Piece(one[0], one.start(), one.end()) for one in _TOKEN.finditer(text.lower())]
    folded, origins = [], []
    for place, sign in enumerate(text):
        letters = _folded(sign)
        folded.append(letters)
        origins += [place] * len(letters)
    found = _TOKEN.finditer("".join(folded))
    return [Piece(one[0], origins[one.start()], origins[one.end() - 1] + 1) for one in found]


@lru_cache(maxsize=4096)
def _folded(sign: str) -> str:
    """Return what `plain` makes of one character, a space for a sign."""
    letters = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", sign.casefold()).casefold())
    spoken = "".join(one for one in letters if not unicodedata.combining(one)).translate(APOSTROPHES)
    return NOT_A_LETTER.sub(" ", spoken)


def is_han(word: str) -> bool:
    """Say whether a word as it is searched is a Chinese character."""
    return bool(_HAN_SIGN.match(word))


def joined(texts: Iterable[str]) -> str:
    """Return several texts as one that is searched, with breaks between them."""
    words = (" ".join(cut(text)) for text in texts if text)
    return f" {BREAK} ".join(one for one in words if one)


def with_squeezed(text: str) -> str:
    """Return a name as it is searched, also with nothing between its words: `jin xuan · jinxuan`."""
    words = [one for one in cut(text) if not is_han(one)]
    if not 1 < len(words) <= _SQUEEZED_MOST:
        return joined((text,))
    runs = {"".join(words)} | {first + second for first, second in pairwise(words)}
    return f" {BREAK} ".join((joined((text,)), *sorted(runs)))


def has_phrase(words: Sequence[str], phrase: Phrase, *, is_begun: bool = False) -> bool:
    """Say whether a phrase stands among words; one that is only begun ends in the beginning of a word."""
    return next(iter(_places(words, phrase, is_begun=is_begun)), None) is not None


def _places(words: Sequence[str], phrase: Phrase, *, is_begun: bool) -> Iterable[int]:
    if not is_begun and phrase[0] not in words:
        return
    length = len(phrase)
    for place in range(len(words) - length + 1):
        run = tuple(words[place : place + length])
        if run == phrase or (is_begun and run[:-1] == phrase[:-1] and run[-1].startswith(phrase[-1])):
            yield place


def spans_of(text: str, phrases: Iterable[tuple[Phrase, bool]]) -> tuple[Span, ...]:
    """Return where phrases stand in a text, each with whether it is only begun; places that touch are one."""
    found = pieces(text)
    words = [one.letters for one in found]
    spans = sorted(
        (found[place].start, found[place + len(phrase) - 1].end)
        for phrase, is_begun in phrases
        if phrase
        for place in _places(words, phrase, is_begun=is_begun)
    )
    merged: list[Span] = []
    for start, end in spans:
        if merged and start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(end, merged[-1][1]))
        else:
            merged.append((start, end))
    return tuple(merged)
