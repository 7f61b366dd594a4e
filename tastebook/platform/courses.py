"""Courses from TOML files: those that ship, and the user's own."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Final

from tastebook.domain.course import Course, course_from_table
from tastebook.domain.errors import CourseError

SHIPPED: Final = "tastebook.resources.courses"
SUFFIX: Final = ".toml"

_PLACE: Final = re.compile(r"(?:(?P<table>\w+)\[(?P<number>\d+)\])?\.?(?P<key>\w+)?:")
_AT_LINE: Final = re.compile(r"\s*\(at line (?P<line>\d+), column \d+\)")
_AT_END: Final = re.compile(r"\s*\(at end of document\)")
_HEADER: Final = re.compile(r"\s*\[\[\s*[\"']?(?P<table>[\w-]+)[\"']?\s*\]\]")
_ENTRY: Final = re.compile(r"\s*[\"']?(?P<key>[\w-]+)[\"']?\s*=")
_LONG_QUOTES: Final = re.compile(r"\"\"\"|'''")


@dataclass(frozen=True)
class _Read:
    courses: tuple[Course, ...]
    refused: tuple[str, ...]


class CourseFiles:
    """Fills the `Courses` port.

    A course of the user's own stands in the place of a shipped one with the same key. Files are read once; `reload`
    reads them again.

    Parameters
    ----------
    own : Path
        The folder of the user's courses; it need not exist.
    shipped : Traversable or None
        The folder of those that ship, by default the package's.
    """

    def __init__(self, own: Path, shipped: Traversable | None = None) -> None:
        self._own = own
        self._shipped = shipped
        self._read: _Read | None = None

    def all(self) -> tuple[Course, ...]:
        """Return every course that can be followed, those that ship first."""
        return self._once().courses

    def refused(self) -> tuple[str, ...]:
        """Return, for each of the user's files that cannot be followed, its name, line and reason."""
        return self._once().refused

    def reload(self) -> None:
        """Read the files again at the next question."""
        self._read = None

    def _once(self) -> _Read:
        if self._read is None:
            self._read = self._read_all()
        return self._read

    def _read_all(self) -> _Read:
        shipped = self._shipped or resources.files(SHIPPED)
        courses = {course.key: course for course in map(_course_in, _toml_files(shipped))}
        own: dict[str, str] = {}
        refused = []
        for file in _toml_files(self._own) if self._own.is_dir() else ():
            try:
                course = _course_in(file)
                if course.key in own:
                    raise CourseError(f"{file.name}: {own[course.key]} has the key “{course.key}” already.")
            except CourseError as exc:
                refused.append(str(exc))
                continue
            own[course.key] = file.name
            courses[course.key] = course
        return _Read(tuple(courses.values()), tuple(refused))


def _toml_files(folder: Traversable) -> list[Traversable]:
    return sorted((one for one in folder.iterdir() if one.name.endswith(SUFFIX)), key=lambda one: one.name)


def _course_in(file: Traversable) -> Course:
    """Return the course in a file.

    Raises
    ------
    CourseError
        With the file's name, the line and the reason.
    """
    try:
        text = file.read_bytes().decode("utf-8-sig")
    except OSError as exc:
        raise CourseError(f"{file.name}: it cannot be read: {exc.strerror or exc}.") from exc
    except UnicodeDecodeError as exc:
        line = exc.object[: exc.start].count(b"\n") + 1
        raise CourseError(f"{file.name}, line {line}: this is not UTF-8 text. Save the file as UTF-8.") from exc
    try:
        return course_from_table(tomllib.loads(text))
    except tomllib.TOMLDecodeError as exc:
        raise CourseError(_syntax_refusal(file.name, text, str(exc))) from exc
    except CourseError as exc:
        raise CourseError(f"{file.name}, line {_line_of(text, str(exc))}: {exc}") from exc


def _syntax_refusal(name: str, text: str, message: str) -> str:
    found = _AT_LINE.search(message)
    line = int(found["line"]) if found else max(1, len(text.splitlines()))
    reason = _AT_END.sub(" before the end of the file", _AT_LINE.sub("", message))
    return f"{name}, line {line}: {reason}."


def _line_of(text: str, message: str) -> int:
    """Return the line that a refusal such as `steps[3].stage: ...` is about, or where its table begins."""
    place = _PLACE.match(message)
    if place is None:
        return 1
    wanted = (place["table"] or "", int(place["number"] or 0))
    begins = 1
    for line, table, key in _entries(text):
        if table == wanted:
            if key == place["key"]:
                return line
            begins = line if key is None else begins
    return begins


def _entries(text: str) -> Iterator[tuple[int, tuple[str, int], str | None]]:
    """Yield the line, the table (name and number, from 1) and the key of each entry; a header has no key."""
    counts: dict[str, int] = {}
    table = ("", 0)
    for line, content in _outside_long_strings(text.splitlines()):
        if header := _HEADER.match(content):
            counts[header["table"]] = counts.get(header["table"], 0) + 1
            table = (header["table"], counts[header["table"]])
            yield line, table, None
        elif entry := _ENTRY.match(content):
            yield line, table, entry["key"]


def _outside_long_strings(lines: Iterable[str]) -> Iterator[tuple[int, str]]:
    """Yield the lines, numbered from 1, that do not begin within a string of several lines."""
    quotes = ""
    for number, line in enumerate(lines, start=1):
        if not quotes:
            yield number, line
        for found in _LONG_QUOTES.findall(line):
            if not quotes:
                quotes = found
            elif found == quotes:
                quotes = ""
