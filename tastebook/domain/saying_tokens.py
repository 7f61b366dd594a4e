"""A text cut into words, numbers and signs."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from typing import Final, NamedTuple

from tastebook.domain.spelling import plain, toned

TOKEN: Final = re.compile(
    r"""
      (?P<number> \d{1,3} (?:,\d{3})+ (?!\d) | \d+ (?:\.\d+)? ) (?P<of> \s? / \s? (?:5|10) (?!\d) )?  # 4, 7/10, 1,100
    | (?P<pips>   [•●⬤○◦]+ )                                     # filled ones count
    | (?P<word>   [^\W\d_] (?: [^\W\d_] | [\u0300-\u036f] | ['’ʼ] (?=[^\W\d_]) )* )
    | (?P<plus>   \+{2,} | \+ (?= \s* (?: [,;.!?\n\r] | \Z ) ) )   # malt ++, malt +
    | (?P<join>   [&+] )
    | (?P<cut>    [,;.!?/|:()\n\r—–…、，；。！？：] | (?<=\s)-(?=\s) )
    """,
    re.VERBOSE,
)
MOST, PLUS_IS = 5, 2
"""`malt ++` is strong: each plus is one more than fair is."""

FILLED_PIPS: Final = "•●⬤"
STOPS: Final = frozenset(".!?;\n\r。！？；")
QUESTIONS: Final = frozenset("?？")
CHINESE: Final = re.compile(r"[\u3400-\u9fff]")
APOSTROPHES: Final = frozenset("'’ʼ")
LONGEST_CHINESE: Final = 8


class Token(NamedTuple):
    """One word, number or sign: `kind` is word, number, pips, join or cut; `is_short`: an apostrophe stands in it."""

    kind: str
    start: int
    end: int
    plain: str = ""
    toned: str = ""
    number: float | None = None
    is_of_five: bool = False
    is_capital: bool = False
    is_short: bool = False


def tokens(text: str, chinese: Collection[str]) -> list[Token]:
    """Return the tokens of a text; runs of Chinese are cut into the longest of the known words `chinese`."""
    found: list[Token] = []
    for match in TOKEN.finditer(text):
        kind, said, start = match.lastgroup or "", match.group(), match.start()
        if match["number"] is not None:
            number = float(match["number"].replace(",", ""))
            is_of_ten = match["of"] is not None and match["of"].endswith("10")
            number = number / 2 if is_of_ten else number
            found.append(Token("number", start, match.end(), said, "", number, match["of"] is not None))
        elif match["plus"] is not None:
            found.append(Token("pips", start, match.end(), said, "", float(min(PLUS_IS + len(said), MOST)), True))
        elif kind == "pips":
            found.append(Token(kind, start, match.end(), said, "", float(sum(sign in FILLED_PIPS for sign in said))))
        elif kind == "word" and said.isascii():
            bare = said.lower().replace("'", "")
            found.append(Token(kind, start, match.end(), bare, "", None, False, said[:1].isupper(), "'" in said))
        elif kind == "word":
            found += _words(said, start, chinese)
        else:
            found.append(Token(kind, start, match.end(), said))
    return found


def _words(said: str, start: int, chinese: Collection[str]) -> Iterator[Token]:
    if not CHINESE.search(said):
        capital, short = said[:1].isupper(), not APOSTROPHES.isdisjoint(said)
        yield Token("word", start, start + len(said), plain(said) or said, toned(said), None, False, capital, short)
    else:
        for first, after in _cut(said, chinese):
            piece = said[first:after]
            yield Token("word", start + first, start + after, plain(piece) or piece, toned(piece))


def _cut(said: str, chinese: Collection[str]) -> Iterator[tuple[int, int]]:
    """Yield where each word of a Chinese run stands; what is not known stays together."""
    begun = place = 0
    while place < len(said):
        longest = min(LONGEST_CHINESE, len(said) - place)
        length = next((size for size in range(longest, 0, -1) if said[place : place + size] in chinese), 0)
        if not length:
            place += 1
            continue
        if begun < place:
            yield begun, place
        yield place, place + length
        place += length
        begun = place
    if begun < len(said):
        yield begun, len(said)
