"""Text as it is searched: small letters without accents or tone marks, every Chinese character a word of its own.

The index and whoever asks it cut text by the same function, so that what is found is what is marked.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
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
_ASCII_WORD: Final = re.compile("[0-9A-Za-z]+")
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
    return plain(text).split() if text.isascii() else _TOKEN.findall("".join(map(_folded, text)))


def pieces(text: str) -> list[Piece]:
    """Return the words of a text with the places at which they stand in it."""
    if _is_where_it_was(text):
        return [Piece(one[0], one.start(), one.end()) for one in _TOKEN.finditer(text.lower())]
    folded = list(map(_folded, text))
    found = _TOKEN.finditer("".join(folded))
    if set(map(len, folded)) == {1}:  # here too
        return [Piece(one[0], one.start(), one.end()) for one in found]
    origins = [place for place, letters in enumerate(folded) for _ in letters]
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


@dataclass(frozen=True)
class Needles:
    """Phrases that are looked for, made ready once so that many texts are gone through quickly.

    A phrase is a run of whole words in a text that `laid_out` laid out, so that looking for it is looking for letters.
    """

    phrases: tuple[tuple[Phrase, bool], ...]
    """With whether the last word may be only begun."""

    runs: tuple[str, ...]
    singles: tuple[tuple[str, bool], ...]
    words: frozenset[str]
    begun: tuple[str, ...]
    longer: tuple[tuple[Phrase, bool], ...]

    def count_in(self, laid: str) -> int:
        """Return how many of the phrases stand in a text that was laid out."""
        return sum([run in laid for run in self.runs])

    def spans_in(self, text: str) -> tuple[Span, ...]:
        """Return where the phrases stand in a text; places that touch are one."""
        longer = [one for one in self.longer if _run(*one) in laid_out(text)]
        is_simple = not longer and _is_where_it_was(text)
        found = list(self._spans_in_letters(text.lower())) if is_simple else self._spans_in_words(text, longer)
        return _merged(sorted(found)) if len(found) > 1 else tuple(found)

    def _spans_in_letters(self, letters: str) -> Iterator[Span]:
        """Yield where single words stand in letters of which each is where it was."""
        most = len(letters)
        for word, is_begun in self.singles:
            start = letters.find(word)
            while start >= 0:
                end = start + len(word)
                while is_begun and end < most and letters[end].isalnum():
                    end += 1
                if not (start and letters[start - 1].isalnum()) and not (end < most and letters[end].isalnum()):
                    yield start, end
                start = letters.find(word, start + 1)

    def _spans_in_words(self, text: str, longer: Iterable[tuple[Phrase, bool]]) -> list[Span]:
        """Return where any phrases stand, word by word."""
        words, spans = _words_and_spans(text)
        found = [
            spans[place]
            for place, word in enumerate(words)
            if word in self.words or (self.begun and word.startswith(self.begun))
        ]
        for phrase, is_begun in longer:
            last = len(phrase) - 1
            found += [(spans[place][0], spans[place + last][1]) for place in _places(words, phrase, is_begun=is_begun)]
        return found


@lru_cache(maxsize=64)
def needles(phrases: tuple[tuple[Phrase, bool], ...]) -> Needles:
    """Return phrases made ready to be looked for, each with whether its last word may be only begun."""
    wanted = tuple(one for one in phrases if one[0])
    return Needles(
        wanted,
        tuple(_run(phrase, is_begun) for phrase, is_begun in wanted),
        tuple(dict.fromkeys((phrase[0], is_begun) for phrase, is_begun in wanted if len(phrase) == 1)),
        frozenset(phrase[0] for phrase, is_begun in wanted if len(phrase) == 1 and not is_begun),
        tuple(phrase[0] for phrase, is_begun in wanted if len(phrase) == 1 and is_begun),
        tuple(one for one in wanted if len(one[0]) > 1),
    )


def laid_out(text: str) -> str:
    """Return the words of a text as they are searched, with a space before and after each."""
    return f" {plain(text)} " if text.isascii() else f" {' '.join(cut(text))} "


def _run(phrase: Phrase, is_begun: bool) -> str:
    return f" {' '.join(phrase)}{'' if is_begun else ' '}"


def _is_where_it_was(text: str) -> bool:
    """Say whether each letter, once folded, stands where it stood."""
    return text.isascii() and "'" not in text and "`" not in text


def _words_and_spans(text: str) -> tuple[list[str], list[Span]]:
    if _is_where_it_was(text):
        return cut(text), [one.span() for one in _ASCII_WORD.finditer(text)]
    found = pieces(text)
    return [one.letters for one in found], [(one.start, one.end) for one in found]


def _places(words: Sequence[str], phrase: Phrase, *, is_begun: bool) -> Iterator[int]:
    """Yield where a phrase of several words begins; of one that is only begun, the last word may go on."""
    for place in range(len(words) - len(phrase) + 1):
        if words[place] == phrase[0]:
            *before, last = words[place : place + len(phrase)]
            if (*before,) == phrase[:-1] and (last == phrase[-1] or (is_begun and last.startswith(phrase[-1]))):
                yield place


def _merged(spans: Iterable[Span]) -> tuple[Span, ...]:
    merged: list[Span] = []
    for start, end in spans:
        if merged and start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(end, merged[-1][1]))
        else:
            merged.append((start, end))
    return tuple(merged)
