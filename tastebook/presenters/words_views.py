"""What the sheet of words shows: the list, one word in full, a form, and what a table would change."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

FormKind: TypeAlias = Literal["new", "rename", "move", "merge", "name", "texts"]
FieldKind: TypeAlias = Literal["line", "text", "family", "word"]
Act: TypeAlias = Literal["rename", "move", "merge", "name", "texts", "talk", "remove"]


@dataclass(frozen=True)
class WordRow:
    """One word of the list.

    Parameters
    ----------
    uid : str
        The descriptor's key, or the kind and name of another term.
    aside : str
        What stands at its right: Chinese, and what it is in words where it is not a word that ships.
    accessible : str
        The row as a screen reader says it.
    """

    uid: str
    name: str
    aside: str
    accessible: str


@dataclass(frozen=True)
class WordGroup:
    """The words of a family, or the terms of a kind; `family` is the key whose glyph stands there, or empty."""

    title: str
    family: str
    rows: tuple[WordRow, ...]


@dataclass(frozen=True)
class Guest:
    """A word that was taken in, which can stand for itself again."""

    key: str
    name: str


@dataclass(frozen=True)
class WordDetail:
    """One word in full; what it has nothing of is empty."""

    uid: str
    name: str
    family: str
    belongs: str
    mark: str
    about: str
    cause: str
    also: str
    chinese: str
    source: str
    uses: str
    swatch: str
    guests: tuple[Guest, ...]
    acts: tuple[tuple[Act, str], ...]
    fixed: str


@dataclass(frozen=True)
class FieldView:
    """One field of a form, with what is wrong with it."""

    key: str
    caption: str
    value: str
    kind: FieldKind = "line"
    help: str = ""
    error: str = ""


@dataclass(frozen=True)
class FormView:
    """A form: its fields, and what keeping it is called; `instead` is another way out that is offered."""

    kind: FormKind
    title: str
    fields: tuple[FieldView, ...]
    keep: str
    instead: str = ""


@dataclass(frozen=True)
class TableView:
    """What a table would change, line by line, or what is wrong with it."""

    title: str
    told: str
    troubles: tuple[tuple[str, str], ...]
    changes: tuple[tuple[str, str, str], ...]
    notes: tuple[str, ...]
    can_take: bool


@dataclass(frozen=True)
class WordsView:
    """Everything on the sheet."""

    typed: str
    count: str
    groups: tuple[WordGroup, ...]
    chosen: str
    empty: str
    detail: WordDetail | None
    form: FormView | None
    table: TableView | None
    families: tuple[tuple[str, str], ...]
    names: tuple[str, ...]
    undo: str
    redo: str
    notice: str
    is_trouble: bool
    read_only: str
