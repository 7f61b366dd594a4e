"""What counts as the same word: case, accents, tone marks, hyphens, plurals, and slips of the finger."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterator
from typing import Final

APOSTROPHES: Final = str.maketrans("", "", "'’‘ʼ`´")
NOT_A_LETTER: Final = re.compile(r"[\W_]+")

ENDINGS: Final = (("ies", "y"), ("ves", "f"), ("ves", "fe"), ("es", ""), ("s", ""), ("y", ""), ("y", "e"))
"""Plurals and adjectives (peaches, berries, leaves, peachy, smoky) back to the word itself."""

PLURALS: Final = (("y", "ies"), ("f", "ves"), ("", "s"), ("", "es"))
"""The word itself to its plural, for lists that hold the plural (oats)."""

SHORTEST_WITH_ENDING: Final = 4
"""Shorter words keep their ending: `ivy`, `bay`, `gas`."""

SHORTEST_CORRECTED: Final = 5
"""One letter makes another word of `rose`, `pear`, `thin`: nothing so short is corrected, nor corrected to."""

SHORTEST_WITH_WRONG_LETTER: Final = 6
"""In a shorter word a wrong letter often makes another (`glass`, `better`, `current`); a missing one seldom does."""

VOWELS: Final = frozenset("aeiouy")
MOST_SLIPS: Final = 2
SHORTEST_WITH_TWO_SLIPS: Final = 10
"""Even `apparatus` is only two letters from `asparagus`."""

EVERYDAY: Final = frozenset(
    ("backed", "barely", "cover", "drives", "health", "heart", "mental", "panel", "power", "raising", "scaled",
     "sourced", "tasted", "timer", "waiter")
)  # fmt: skip
"""Words that one letter parts from a tasting word, and that are no slip of it."""


def plain(words: str) -> str:
    """Return words in lower case, without accents, signs or tone marks, one space between."""
    folded = words.casefold()
    if folded.isascii() and folded.replace(" ", "").isalpha() and "  " not in folded:  # nearly every term
        return folded.strip()
    if not folded.isascii():
        parted = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", folded).casefold())
        folded = "".join(sign for sign in parted if not unicodedata.combining(sign))
    return NOT_A_LETTER.sub(" ", folded.translate(APOSTROPHES)).strip()


def squeezed(words: str) -> str:
    """Return plain words with nothing between them, so that `pea-shoot` and `peashoot` are the same."""
    return plain(words).replace(" ", "")


def toned(words: str) -> str:
    """Return words in lower case with nothing between them, tone marks and accents kept."""
    return NOT_A_LETTER.sub("", unicodedata.normalize("NFC", words.casefold()))


def slug(words: str) -> str:
    """Return the key made of words, such as `white-peach`; never empty unless `words` is blank."""
    return plain(words).replace(" ", "-") or "-".join(words.casefold().split())


def forms(word: str) -> Iterator[str]:
    """Yield a squeezed word, then what it would be without or with a plural or adjective ending."""
    yield word
    has_ending = len(word) >= SHORTEST_WITH_ENDING and not word.endswith("ss")
    changes = (*ENDINGS, *PLURALS) if has_ending else PLURALS
    for ending, instead in changes:
        if word.endswith(ending):
            yield word.removesuffix(ending) + instead


def closest(word: str, lexicon: Collection[str]) -> str | None:
    """Return the one word of `lexicon` that `word` is clearly a slip of, None if there is none or more than one.

    A slip keeps the first letter. Swapped neighbours count as one slip.
    """
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    if len(word) < SHORTEST_CORRECTED or word in EVERYDAY:
        return None
    near = [other for other in lexicon if other[:1] == word[:1] and len(other) >= SHORTEST_CORRECTED]
    found = process.extract(word, near, scorer=OSA.distance, score_cutoff=_most_slips(word), limit=None)
    slips = sorted((count, other) for other, count, _ in found if _is_slip(word, other, int(count)))
    if not slips or (len(slips) > 1 and slips[0][0] == slips[1][0]):
        return None
    return slips[0][1]


def _most_slips(word: str) -> int:
    return MOST_SLIPS if len(word) >= SHORTEST_WITH_TWO_SLIPS else 1


def _is_slip(word: str, other: str, count: int) -> bool:
    shorter = min(len(word), len(other))
    if count > 1:
        return shorter >= SHORTEST_WITH_TWO_SLIPS
    has_wrong_letter = len(word) == len(other) and sorted(word) != sorted(other)
    return not has_wrong_letter or shorter >= SHORTEST_WITH_WRONG_LETTER or _is_wrong_vowel(word, other)


def _is_wrong_vowel(word: str, other: str) -> bool:
    """Say whether two words of one length differ in a vowel only: `peech`."""
    return all(one == two or {one, two} <= VOWELS for one, two in zip(word, other, strict=True))
