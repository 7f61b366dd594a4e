"""What a word of one's own may be written with: every refusal says what was wrong and what to do."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from typing import Final

from tastebook.domain.errors import VocabularyError
from tastebook.domain.spelling import squeezed

LONGEST_NAME: Final = 60
LONGEST_CHINESE: Final = 24
LONGEST_ABOUT: Final = 600
MOST_SYNONYMS: Final = 60
SHOWN: Final = 24
"""So much of a text that is refused stands in the refusal."""

CONTROLS: Final = {"Cc", "Cs"}
TURNS: Final = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""Signs that turn the direction of writing, so that one text can be read as another."""

TONE_MARKS: Final = frozenset("\u0304\u0301\u030c\u0300\u0308")
"""Macron, acute, caron and grave for the four tones, the two dots of ü."""


def checked_name(written: str, what: str = "name") -> str:
    """Return a name or a synonym, spaces put in order.

    Raises
    ------
    VocabularyError
        If it is empty, too long, or has signs that no word is written with.
    """
    name = _tidy(written, what)
    if not name:
        raise VocabularyError(f"The {what} is empty. Write the word.")
    if not squeezed(name):
        raise VocabularyError(f"The {what} {_quoted(name)} has no letter. Write at least one.")
    if ";" in name:
        raise VocabularyError(f"The {what} {_quoted(name)} has a semicolon, which parts words. Write them one by one.")
    return _short(name, LONGEST_NAME, what)


def checked_names(written: Iterable[str], what: str = "synonym") -> tuple[str, ...]:
    """Return synonyms, each once, those that are empty left out."""
    names = {squeezed(name): name for one in written if one.strip() for name in [checked_name(one, what)]}
    if len(names) > MOST_SYNONYMS:
        raise VocabularyError(f"There are {len(names)} synonyms, and {MOST_SYNONYMS} at most are kept. Leave some out.")
    return tuple(names.values())


def checked_chinese(written: str) -> str:
    """Return a term in Chinese, empty if there is none."""
    chinese = _tidy(written, "Chinese").replace(" ", "")
    if chinese and not all(is_han(sign) for sign in chinese):
        raise VocabularyError(f"{_quoted(chinese)} is not Chinese characters alone. The pinyin has a field of its own.")
    return _short(chinese, LONGEST_CHINESE, "Chinese")


def checked_pinyin(written: str) -> str:
    """Return pinyin, empty if there is none; tones are marks, or are left out."""
    pinyin = _tidy(written, "pinyin")
    wrong = next((sign for sign in unicodedata.normalize("NFD", pinyin) if not _is_of_pinyin(sign)), "")
    if wrong:
        raise VocabularyError(
            f"The pinyin {_quoted(pinyin)} has {_quoted(wrong)} in it. Write letters, with tone marks (lán) or without."
        )
    return _short(pinyin, LONGEST_NAME, "pinyin")


def checked_about(written: str) -> str:
    """Return what a word means, empty if nothing is said of it; it may have several lines."""
    lines = [_tidy(line, "meaning") for line in written.replace("\r\n", "\n").replace("\r", "\n").split("\n")]
    return _short("\n".join(lines).strip(), LONGEST_ABOUT, "meaning")


def is_han(sign: str) -> bool:
    """Say whether a sign is a Chinese character."""
    return "\u3400" <= sign <= "\u9fff" or "\U00020000" <= sign <= "\U0003ffff" or sign == "〇"


def _is_of_pinyin(sign: str) -> bool:
    return (sign.isascii() and sign.isalpha()) or sign in TONE_MARKS or sign in " '’-·"


def _tidy(written: str, what: str) -> str:
    text = " ".join(unicodedata.normalize("NFC", written).split())
    for sign in text:
        if unicodedata.category(sign) in CONTROLS or sign in TURNS:
            raise VocabularyError(
                f"The {what} has a sign in it that cannot be seen (U+{ord(sign):04X}). Write it anew, without copying."
            )
    return text


def _short(text: str, most: int, what: str) -> str:
    if len(text) > most:
        raise VocabularyError(f"The {what} {_quoted(text)} has {len(text)} letters; at most {most} fit. Shorten it.")
    return text


def _quoted(text: str) -> str:
    return f"“{text if len(text) <= SHOWN else text[: SHOWN - 1] + '…'}”"
