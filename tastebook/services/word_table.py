"""The words as a table, CSV in UTF-8: written for spreadsheets and for other journals, and read back line by line.

A cell that a spreadsheet would take for a formula is written behind an apostrophe, and so is one that begins with an
apostrophe itself: reading takes one off again, so nothing is lost. Synonyms are parted by semicolons; one inside a
synonym stands behind a backslash.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

COLUMNS: Final = ("key", "name", "family", "synonyms", "chinese", "pinyin", "about", "merged into", "kind")
DELIMITERS: Final = (",", ";", "\t")

BYTE_ORDER_MARK: Final = "\ufeff"
"""Tells Excel that a file is UTF-8; without it, it reads Chinese as signs of another code page."""

MOST_BYTES: Final = 4_000_000
MOST_LINES: Final = 20_000

FORMULA_SIGNS: Final = "=+-@\t\r＝＋－＠"
GUARD: Final = "'"
_PARTED: Final = re.compile(r"(?<!\\)((?:\\\\)*);")
_ESCAPED: Final = re.compile(r"\\([;\\])")


@dataclass(frozen=True)
class LineTrouble:
    """What is wrong with one line of a file, and what to do; line 0 is the file as a whole."""

    line: int
    told: str

    def __str__(self) -> str:
        return f"line {self.line}: {self.told}" if self.line else self.told


@dataclass(frozen=True)
class Row:
    """One line of a table: what its cells say; columns that are not in the table are not in it either."""

    line: int
    cells: Mapping[str, str]

    def cell(self, column: str) -> str | None:
        """Return what a cell says, None where the table has no such column."""
        return self.cells.get(column)

    @property
    def synonyms(self) -> tuple[str, ...] | None:
        """Return the synonyms, None where the table has no such column."""
        cell = self.cell("synonyms")
        return None if cell is None else parted(cell)


@dataclass(frozen=True)
class Table:
    """What was read from a file: its rows, and every line that could not be read."""

    rows: tuple[Row, ...] = ()
    troubles: tuple[LineTrouble, ...] = ()
    notes: tuple[str, ...] = field(default=())


# -- writing


def written(rows: Iterable[Mapping[str, str]]) -> str:
    """Return rows as CSV text with its heading and a byte order mark, safe to open in a spreadsheet."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    writer.writerows([guarded(row.get(column, "")) for column in COLUMNS] for row in rows)
    return BYTE_ORDER_MARK + out.getvalue()


def guarded(cell: str) -> str:
    """Return a cell that no spreadsheet takes for a formula."""
    return GUARD + cell if cell[:1] and cell[0] in FORMULA_SIGNS + GUARD else cell


def unguarded(cell: str) -> str:
    """Return what a guarded cell says; a cell written by hand stays as it is."""
    return cell[1:] if cell[:1] == GUARD and cell[1:2] and cell[1] in FORMULA_SIGNS + GUARD else cell


def joined(synonyms: Iterable[str]) -> str:
    """Return synonyms as one cell."""
    return "; ".join(one.replace("\\", "\\\\").replace(";", "\\;") for one in synonyms)


def parted(cell: str) -> tuple[str, ...]:
    """Return the synonyms of a cell."""
    parts = (_ESCAPED.sub(r"\1", part).strip() for part in _PARTED.sub("\\1\0", cell).split("\0"))
    return tuple(part for part in parts if part)


# -- reading


def read(content: bytes) -> Table:
    """Return the rows of a file, and what is wrong with it line by line."""
    try:
        text = _decoded(content)
        return _table(text)
    except _Unreadable as exc:
        return Table(troubles=(exc.trouble,))


class _Unreadable(Exception):
    """The file cannot be read any further."""

    def __init__(self, line: int, told: str) -> None:
        super().__init__(told)
        self.trouble = LineTrouble(line, told)


def _decoded(content: bytes) -> str:
    if len(content) > MOST_BYTES:
        raise _Unreadable(0, f"The file has {len(content):,} bytes; at most {MOST_BYTES:,} are read. Divide it.")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as exc:
        line = content[: exc.start].count(b"\n") + 1
        raise _Unreadable(line, "This is not UTF-8 text. Save the table as “CSV UTF-8”.") from exc
    if "\0" in text:
        line = text[: text.index("\0")].count("\n") + 1
        raise _Unreadable(line, "There is a zero byte, so this is no CSV text. Save the table as “CSV UTF-8”.")
    if not text.strip():
        raise _Unreadable(0, f"The file is empty. Its first line names the columns: {', '.join(COLUMNS)}.")
    return text


def _table(text: str) -> Table:
    skipped, text = _without_separator_line(text)
    delimiter = _delimiter(text)
    numbered = _numbered(text, delimiter, skipped)
    line, heading = next(numbered)
    columns = [cell.strip().casefold() for cell in heading]
    troubles = list(_heading_troubles(line, columns))
    if troubles:
        return Table(troubles=tuple(troubles))
    rows = []
    try:
        for line, cells in numbered:
            if len(cells) > len(columns) and any(cell.strip() for cell in cells[len(columns) :]):
                told = f"There are {len(cells)} cells under {len(columns)} columns."
                troubles.append(LineTrouble(line, f"{told} A cell with “{delimiter}” in it needs quotation marks."))
            elif any(cell.strip() for cell in cells) and len(cells) < len(columns):
                troubles.append(LineTrouble(line, _too_short(len(cells), len(columns), delimiter)))
            elif any(cell.strip() for cell in cells):
                rows.append(Row(line, _cells(columns, cells)))
    except _Unreadable as exc:
        troubles.append(exc.trouble)
    unknown = [column for column in columns if column and column not in COLUMNS]
    notes = (f"The column “{column}” is not read." for column in unknown)
    return Table(tuple(rows), tuple(troubles), tuple(notes))


def _too_short(cells: int, columns: int, delimiter: str) -> str:
    """Return what is wrong with a line that was cut off: what it does not say must not be taken for nothing."""
    told = f"There {'is 1 cell' if cells == 1 else f'are {cells} cells'} under {columns} columns."
    return f"{told} Write the line whole; a cell that says nothing is empty, with “{delimiter}” before it."


def _without_separator_line(text: str) -> tuple[int, str]:
    """Return how many lines were taken off, and the text without the line `sep=;` that Excel understands."""
    first, _, rest = text.partition("\n")
    return (1, rest) if first.strip().casefold().startswith("sep=") else (0, text)


def _delimiter(text: str) -> str:
    """Return what parts the cells: that with which the heading has most of our columns."""
    heading = next((line for line in text.splitlines() if line.strip()), "")
    return max(DELIMITERS, key=lambda one: len(_ours(heading.split(one))))


def _ours(cells: Iterable[str]) -> set[str]:
    return {cell.strip().strip('"').strip().casefold() for cell in cells} & set(COLUMNS)


def _numbered(text: str, delimiter: str, skipped: int) -> Iterator[tuple[int, list[str]]]:
    """Yield the records of a text with the line on which each begins; blank ones are left out."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    while True:
        line = reader.line_num + 1 + skipped
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as exc:
            told = f'The quotation marks do not close as they should ({exc}). Write a mark inside a cell twice: "".'
            raise _Unreadable(line, told) from exc
        if line > MOST_LINES:
            raise _Unreadable(line, f"The table has more than {MOST_LINES:,} lines. Divide it.")
        if cells:
            yield line, cells


def _heading_troubles(line: int, columns: Sequence[str]) -> Iterator[LineTrouble]:
    if not {"key", "name"} & set(columns):
        told = f"No column is called “name”. The first line names the columns: {', '.join(COLUMNS)}."
        yield LineTrouble(line, told)
    for column in COLUMNS:
        if columns.count(column) > 1:
            yield LineTrouble(line, f"The column “{column}” is there {columns.count(column)} times. Keep one.")


def _cells(columns: Sequence[str], cells: Sequence[str]) -> dict[str, str]:
    return {column: unguarded(cell) for column, cell in zip(columns, cells, strict=False) if column in COLUMNS}
