"""What is typed into the find field, cut into pieces: words, quoted phrases, signs of comparison, numbers."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Final, Literal, TypeAlias

from tastebook.domain.finding_words import Phrase, cut, is_han

Sign: TypeAlias = Literal[">=", "<=", ">", "<", "="]

_SIGNS: Final[dict[str, Sign]] = {
    "≥": ">=", "=>": ">=", ">=": ">=", "≧": ">=", "⩾": ">=", "≤": "<=", "=<": "<=", "<=": "<=", "≦": "<=", "⩽": "<=",
    ">": ">", "＞": ">", "<": "<", "＜": "<", "=": "=", "＝": "=",
}  # fmt: skip
_PIECE: Final = re.compile(
    r"""
    ["“”„«»＂](?P<quoted>[^"“”„«»＂]*)["“”„«»＂]?
    | (?P<sign>≥|=>|>=|≧|⩾|≤|=<|<=|≦|⩽|>|＞|<|＜|=|＝)
    | (?P<date>(?<!\d)\d{4}-\d{1,2}(?:-\d{1,2})?(?!\d))
    | (?P<number>(?<![\w.])\d+(?:[.,]\d+)?(?![\w]))(?P<plus>\+)?
    | (?P<dash>[-–—])
    | (?P<word>[^\W_](?:['’ʼ]?[^\W_])*)
    """,
    re.VERBOSE,
)


@dataclass(frozen=True)
class Typed:
    """One piece. `words` are it as searched; `number` is what a number says, `plus` that it goes up from there."""

    kind: Literal["quoted", "sign", "date", "number", "dash", "word"]
    text: str
    words: Phrase = ()
    sign: Sign = "="
    number: float = 0.0
    plus: bool = False
    start: int = 0
    end: int = 0

    @property
    def said(self) -> str:
        """Return the piece as a word of ordinary language: small letters, no accents."""
        return "" if self.kind == "quoted" else " ".join(self.words)


def typed_pieces(typed: str) -> list[Typed]:
    """Return what was typed, piece by piece. Anything can be typed: signs that mean nothing here are passed over."""
    return [piece for found in _PIECE.finditer(typed) for piece in _pieces_of(found)]


def _pieces_of(found: re.Match[str]) -> list[Typed]:
    if found["word"]:
        return _words_of(found[0], found.start())
    piece = _piece_of(found)
    return [] if piece is None else [replace(piece, start=found.start(), end=found.end())]


def _piece_of(found: re.Match[str]) -> Typed | None:
    text, words = found[0], tuple(cut(found[0]))
    if found["quoted"] is not None:
        quoted = tuple(cut(found["quoted"]))
        return Typed("quoted", found["quoted"].strip(), quoted) if quoted else None
    if found["sign"]:
        return Typed("sign", text, sign=_SIGNS[found["sign"]])
    if found["number"]:
        return Typed("number", text, words, number=float(found["number"].replace(",", ".")), plus=bool(found["plus"]))
    return Typed("date", text, words) if found["date"] else Typed("dash", text)


def _words_of(text: str, start: int) -> list[Typed]:
    """Return a run of letters as one piece, or as several where Chinese and other letters meet."""
    if text.isascii():
        return [Typed("word", text, tuple(cut(text)), start=start, end=start + len(text))]
    runs: list[tuple[int, int]] = []
    for place, letter in enumerate(text):
        if runs and is_han(letter) == is_han(text[runs[-1][0]]):
            runs[-1] = (runs[-1][0], place + 1)
        else:
            runs.append((place, place + 1))
    pieces = []
    for first, after in runs:
        words = tuple(cut(text[first:after]))
        if words:
            pieces.append(Typed("word", text[first:after], words, start=start + first, end=start + after))
    return pieces
