"""What our fonts can set, and what to print in place of the rest: a word on paper must not turn into an empty box."""

from __future__ import annotations

import struct
import unicodedata
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any, Final

# Signs beyond our fonts that typst 0.15 sets from the faces it brings, found by trying each; the tests try them again.
_SET_BY_TYPST: Final = (
    (0x0182, 0x024F), (0x0300, 0x036F), (0x0370, 0x0482), (0x048A, 0x04FF), (0x0531, 0x060C), (0x0621, 0x063A),
    (0x0640, 0x064A), (0x0660, 0x066D), (0x0904, 0x0950), (0x0955, 0x097F), (0x10D0, 0x10FF), (0x1D00, 0x1DBF),
    (0x1E00, 0x2040), (0x2054, 0x20CF), (0x2100, 0x211E), (0x2126, 0x2151), (0x2153, 0x2184), (0x2190, 0x23FF),
    (0x2460, 0x2606), (0x2609, 0x262F), (0x2638, 0x268B), (0x2798, 0x27AF), (0x27B1, 0x2BFF), (0x1D400, 0x1D7FF),
)  # fmt: skip


def lettered(value: Any, folder: Path) -> Any:
    """Return a tree of data with every text in it made settable by the fonts of a folder."""
    if isinstance(value, str):
        return settable(value, folder)
    if isinstance(value, Mapping):
        return {key: lettered(one, folder) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [lettered(one, folder) for one in value]
    return value


def settable(text: str, folder: Path) -> str:
    """Return a text in which every sign can be set.

    Signs without a glyph are named in brackets, such as `[teacup without handle]`. Signs that only steer how others are
    written are left out: those that turn the direction would turn the words around them too.
    """
    known = covered(folder)
    return "".join(_sign(one, known) for one in unicodedata.normalize("NFC", text))


def _sign(sign: str, known: frozenset[int]) -> str:
    code = ord(sign)
    if code in known or sign == "\n":
        return sign
    kind = unicodedata.category(sign)
    if kind == "Cf":
        return ""
    if kind == "Cc" or kind.startswith("Z"):
        return " "
    if any(first <= code <= last for first, last in _SET_BY_TYPST):
        return sign
    return "" if kind.startswith("M") else _named(sign)


def _named(sign: str) -> str:
    name = unicodedata.name(sign, "").lower()
    return f"[U+{ord(sign):04X}]" if not name or "ideograph-" in name else f"[{name}]"


@cache
def covered(folder: Path) -> frozenset[int]:
    """Return the code points for which some font in a folder has a glyph."""
    return frozenset(code for path in sorted(folder.glob("*.ttf")) for code in _codes(path.read_bytes()))


def _codes(font: bytes) -> Iterator[int]:
    """Yield the code points of a font, from its `cmap` table (OpenType 1.9, formats 4 and 12)."""
    cmap = _table(font, b"cmap")
    (count,) = struct.unpack_from(">H", cmap, 2)
    for place in range(count):
        (offset,) = struct.unpack_from(">I", cmap, 8 + 8 * place)
        (form,) = struct.unpack_from(">H", cmap, offset)
        if form == 4:
            yield from _format_4(cmap[offset:])
        elif form == 12:
            yield from _format_12(cmap[offset:])


def _table(font: bytes, tag: bytes) -> bytes:
    (count,) = struct.unpack_from(">H", font, 4)
    for place in range(count):
        found, _, offset, length = struct.unpack_from(">4sIII", font, 12 + 16 * place)
        if found == tag:
            return font[offset : offset + length]
    return b"\0\0\0\0"


def _format_4(table: bytes) -> Iterator[int]:
    segments = struct.unpack_from(">H", table, 6)[0] // 2
    ends = struct.unpack_from(f">{segments}H", table, 14)
    starts, deltas, offsets = (
        struct.unpack_from(f">{segments}H", table, 16 + 2 * segments * column) for column in (1, 2, 3)
    )
    for segment, (start, end) in enumerate(zip(starts, ends, strict=True)):
        for code in range(start, min(end, 0xFFFE) + 1):
            if offsets[segment] == 0:
                glyph = (code + deltas[segment]) & 0xFFFF
            else:
                at = 16 + 6 * segments + 2 * segment + offsets[segment] + 2 * (code - start)
                (glyph,) = struct.unpack_from(">H", table, at)
            if glyph:
                yield code


def _format_12(table: bytes) -> Iterator[int]:
    (groups,) = struct.unpack_from(">I", table, 12)
    for group in range(groups):
        first, last, _ = struct.unpack_from(">III", table, 16 + 12 * group)
        yield from range(first, last + 1)
