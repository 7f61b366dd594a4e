"""Words as CSV: safe in a spreadsheet, read back by line, nothing lost on the way.

Formula signs after OWASP, “CSV Injection” (cells that begin with = + - @, tab or carriage return); CSV after RFC 4180.
"""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.services.word_table import (
    COLUMNS,
    MOST_BYTES,
    MOST_LINES,
    Table,
    guarded,
    joined,
    parted,
    read,
    unguarded,
    written,
)

cells = st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\0"), max_size=12)
names = cells.map(str.strip).filter(bool)


def _lines(table: Table) -> list[int]:
    return [row.line for row in table.rows]


@given(cells)
def test_a_guarded_cell_is_no_formula_and_says_the_same(cell: str) -> None:
    assert guarded(cell)[:1] not in set("=+-@\t\r") - {""}
    assert unguarded(guarded(cell)) == cell


@given(st.lists(names, max_size=5))
def test_synonyms_come_back_whatever_signs_they_have(synonyms: list[str]) -> None:
    assert list(parted(joined(synonyms))) == synonyms


@given(st.lists(st.fixed_dictionaries({column: cells for column in COLUMNS if column != "synonyms"}), max_size=4))
def test_a_table_written_is_read_as_it_was(rows: list[dict[str, str]]) -> None:
    told = [row for row in rows if any(guarded(cell).strip() for cell in row.values())]

    table = read(written(rows).encode())

    assert table.troubles == ()
    assert [{key: row.cells[key] for key in COLUMNS if key != "synonyms"} for row in table.rows] == told


@given(st.binary(max_size=200))
def test_no_bytes_crash_the_reading(content: bytes) -> None:
    read(content)
    read(b"key,name\r\n" + content)


def test_what_is_written_is_csv_for_any_reader_with_a_byte_order_mark() -> None:
    text = written([{"key": "a", "name": '=1+1 "quoted"', "about": "two\nlines, and a comma"}])

    rows = list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline="")))

    assert text.startswith("\ufeff")
    assert rows[0]["name"] == '\'=1+1 "quoted"'
    assert rows[0]["about"] == "two\nlines, and a comma"


@pytest.mark.parametrize(
    "content",
    [
        b"key,name\r\nx,tar\r\n",
        b"\xef\xbb\xbfkey;name\nx;tar\n",
        b"key\tname\rx\ttar\r",
        b"sep=;\r\nKEY; Name \r\nx;tar\r\n",
        b'"name","key"\n"tar","x"',
        b"\r\n\r\nkey,name\r\n\r\nx,tar\r\n,\r\n",
    ],
)
def test_the_dialects_of_spreadsheets_are_read(content: bytes) -> None:
    table = read(content)

    assert table.troubles == ()
    (row,) = table.rows
    assert (row.cell("key"), row.cell("name"), row.cell("about"), row.synonyms) == ("x", "tar", None, None)


def test_a_row_has_the_line_on_which_it_begins() -> None:
    table = read(b'name,about\n"tar","one\ntwo\nthree"\nrope,\n\nhemp,x\n')

    assert _lines(table) == [2, 5, 7]


def test_the_line_of_the_separator_counts() -> None:
    assert _lines(read(b"sep=,\nname\ntar\n")) == [3]


@pytest.mark.parametrize(
    ("content", "line", "told"),
    [
        (b"", 0, "The file is empty. Its first line names the columns: key, name"),
        (b"  \n", 0, "The file is empty"),
        (b"name\ntar\nr\xe9sine\n", 3, "not UTF-8 text. Save the table as “CSV UTF-8”"),
        ("name\ntar\n".encode("utf-16"), 1, "not UTF-8"),
        (b"name\ntar\0\n", 2, "zero byte"),
        (b"colour,taste\nred,tar\n", 1, "No column is called “name”"),
        (b"name,about,Name\ntar,x,y\n", 1, "“name” is there 2 times"),
        (
            b"name,about\ntar,x\nrope,one,two\n",
            3,
            "3 cells under 2 columns. A cell with “,” in it needs quotation",
        ),
        (b"name,family,about\ntar,smoky,x\nrope,woody\n", 3, "There are 2 cells under 3 columns. Write the line whole"),
        (
            b"key;name;about\nt;tar;\nrope\n",
            3,
            "There is 1 cell under 3 columns. Write the line whole; a cell that says",
        ),
        (b'name\ntar\n"rope\n', 3, "quotation marks do not close"),
        (b'name\n"tar" rope\n', 2, "quotation marks do not close"),
        (b"name\n" + b"x" * MOST_BYTES, 0, "Divide it"),
        (b"name\n" + b"x\n" * MOST_LINES, MOST_LINES + 1, "Divide it"),
        (b"name\n" + b"x" * 200_000, 2, "do not close"),
    ],
)
def test_what_cannot_be_read_is_told_by_its_line(content: bytes, line: int, told: str) -> None:
    trouble = read(content).troubles[0]

    assert trouble.line == line
    assert told in trouble.told


def test_a_column_of_somebody_else_is_left_out_and_it_is_said() -> None:
    table = read(b"name,price\ntar,4\n")

    assert table.notes == ("The column “price” is not read.",)
    assert dict(table.rows[0].cells) == {"name": "tar"}
