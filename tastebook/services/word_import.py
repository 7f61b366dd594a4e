"""What a table of words would change: worked out whole before anything is kept, with every error by its line."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Final, Literal, TypeAlias, TypeVar

from tastebook.domain.errors import VocabularyError
from tastebook.domain.session import OwnDescriptor
from tastebook.domain.spelling import slug, squeezed
from tastebook.domain.word_changes import WordBook
from tastebook.services.word_table import LineTrouble, Row, Table, joined

What: TypeAlias = Literal["new", "changed", "merged", "talk"]

T = TypeVar("T")

KINDS: Final = ("", "shipped", "changed", "own", "talk")


@dataclass(frozen=True)
class PlannedChange:
    """What one line of a table would change, in words."""

    line: int
    name: str
    what: What
    told: str


@dataclass(frozen=True)
class ImportPlan:
    """What a table would change, if nothing is wrong with it: all of it, or nothing.

    Parameters
    ----------
    changes : tuple of PlannedChange
        In the order of the lines.
    troubles : tuple of LineTrouble
        While there is one, nothing is taken over.
    unchanged : int
        How many lines say what is known already.
    pairs : tuple
        Every record as it was when this was worked out, None for none, and as it would be kept, None for not at all.
    """

    changes: tuple[PlannedChange, ...] = ()
    troubles: tuple[LineTrouble, ...] = ()
    notes: tuple[str, ...] = ()
    unchanged: int = 0
    pairs: tuple[tuple[OwnDescriptor | None, OwnDescriptor | None], ...] = ()

    @property
    def can_be_taken(self) -> bool:
        """Say whether there is something to take over and nothing wrong."""
        return bool(self.changes) and not self.troubles

    @property
    def told(self) -> str:
        """Return what it comes to, in a sentence."""
        counts = [
            (what, sum(one.what == what for one in self.changes)) for what in ("new", "changed", "merged", "talk")
        ]
        named = [f"{count} {'declared talk' if what == 'talk' else what}" for what, count in counts if count]
        parts = [*named, f"{self.unchanged} as they are"] if self.unchanged else named
        told = f"{', '.join(parts) or 'nothing'}. Words that the table does not name stay as they are."
        if self.troubles:
            if len(self.troubles) == 1:
                return "One line has an error: nothing is taken over until it is mended."
            return f"{len(self.troubles)} lines have an error: nothing is taken over until they are mended."
        return told[:1].upper() + told[1:]


def rows_of(book: WordBook) -> Iterator[dict[str, str]]:
    """Yield every word as a row of the table: those that ship, the user's own, and those declared talk."""
    for key, one in book.words.items():
        yield {
            "key": key,
            "name": one.name,
            "family": one.family,
            "synonyms": joined(one.synonyms),
            "chinese": one.zh,
            "pinyin": one.pinyin,
            "about": one.about,
            "merged into": book.records[key].merged_into if key in book.records else "",
            "kind": book.kind_of(key),
        }
    for key, record in book.records.items():
        if record.is_talk and key not in book.words:  # what has come to ship meanwhile is a word
            yield {"key": key, "name": record.name, "kind": "talk"}


def planned(book: WordBook, table: Table) -> ImportPlan:
    """Return what a table would change about the words."""
    return _Planning(book, table).plan()


class _Planning:
    """Goes through a table line by line, then looks whether the whole holds together."""

    def __init__(self, book: WordBook, table: Table) -> None:
        self._book = book
        self._table = table
        self._lines: dict[str, int] = {}
        self._records: dict[str, OwnDescriptor] = {}
        self._troubles = list(table.troubles)
        self._families = {one.key: one.name for one in book.shipped.families} | {"": "no family yet"}

    def plan(self) -> ImportPlan:
        for row in self._table.rows:
            self._try(row.line, partial(self._take, row))
        changed = {key: one for key, one in self._records.items() if self._is_change(key, one)}
        after = self._book.after(changed.values())
        for key in changed:
            self._try(self._lines[key], partial(after.refuse_trouble, key))
        troubles = tuple(sorted(self._troubles, key=lambda one: one.line))
        if troubles:
            return ImportPlan(troubles=troubles, notes=self._table.notes)
        return ImportPlan(
            changes=tuple(self._told(key, one, after) for key, one in changed.items()),
            notes=self._table.notes,
            unchanged=len(self._lines) - len(changed),
            pairs=tuple(self._book.pair(one) for one in changed.values()),
        )

    def _try(self, line: int, step: Callable[[], object]) -> None:
        try:
            step()
        except VocabularyError as exc:
            self._troubles.append(LineTrouble(line, str(exc)))

    def _is_change(self, key: str, record: OwnDescriptor) -> bool:
        before = self._book.records.get(key)
        if before is None or (before.is_talk and not record.is_talk):
            return not self._book.is_idle(record)
        return replace(before, key=record.key) != record

    def _take(self, row: Row) -> None:
        kind = (row.cell("kind") or "").strip().casefold()
        if kind not in KINDS:
            raise VocabularyError(f"The kind “{kind}” is not known. Write shipped, changed, own or talk, or nothing.")
        key = self._key(row)
        if key in self._lines:
            raise VocabularyError(f"“{key}” stands on line {self._lines[key]} already. Keep one of the two lines.")
        self._lines[key] = row.line
        if kind == "talk":
            known = self._book.kind_of(key) == "talk"
            self._records[key] = self._book.records[key] if known else self._book.talk(row.cell("name") or key)
        else:
            self._records[key] = self._word(key, row)

    def _key(self, row: Row) -> str:
        """Return the key that a line is about: its own, or that of the word that has its name."""
        key, name = (row.cell("key") or "").strip(), (row.cell("name") or "").strip()
        if key:
            known = key in self._book.words or key in self._book.records
            if not known and slug(key) != key:
                raise VocabularyError(f"“{key}” is no key. Leave the key empty, and the name will make it.")
            return key
        if not squeezed(name):
            raise VocabularyError("The line has neither a key nor a name. Write the name.")
        called = (one for one, word in self._book.words.items() if squeezed(word.name) == squeezed(name))
        return next(called, slug(name))

    def _word(self, key: str, row: Row) -> OwnDescriptor:
        """Return a word as a line has it; what the line says as it is now is not touched."""
        name = row.cell("name")
        is_new = key not in self._book.words
        if is_new and not (name or "").strip():
            raise VocabularyError(f"“{key}” is new and has no name. Write one.")
        book = self._book.after((self._book.new(name or "", key),)) if is_new else self._book
        now, record = book.words[key], book.record(key)
        record = book.with_texts(
            record,
            _unless(row.synonyms, tuple(one.strip() for one in now.synonyms)),
            _unless(row.cell("chinese"), now.zh),
            _unless(row.cell("pinyin"), now.pinyin),
            _unless(row.cell("about"), now.about),
        )
        if name is not None and name != now.name:
            record = book.under_name(record, name)
        family, merged = _unless(row.cell("family"), now.family), _unless(row.cell("merged into"), record.merged_into)
        if family is not None:
            record = replace(record, family=book.family(family) or (now.family if book.ships(key) else ""))
        return record if merged is None else replace(record, merged_into=self._host(merged.strip()))

    def _host(self, written: str) -> str:
        """Return the key of the word that a line names as the one that took it in, by its key or its name."""
        if not written or written in self._book.words:
            return written
        names = {squeezed(word.name): key for key, word in self._book.words.items()}
        names |= {squeezed(cell): self._key(row) for row in self._table.rows if (cell := row.cell("name"))}
        return names.get(squeezed(written), written)

    # -- in words

    def _told(self, key: str, record: OwnDescriptor, after: WordBook) -> PlannedChange:
        before = self._book.records.get(key)
        name = record.name
        if record.is_talk:
            return PlannedChange(self._lines[key], name, "talk", "no tasting word, and not offered again")
        if record.merged_into and record.merged_into != (before.merged_into if before else ""):
            host = after.words[after.merged[key]].name
            return PlannedChange(self._lines[key], name, "merged", f"merged into “{host}”")
        if key not in self._book.words:
            family = next(
                (one.name for one in self._book.shipped.families if one.key == record.family), "no family yet"
            )
            return PlannedChange(self._lines[key], name, "new", family)
        return PlannedChange(self._lines[key], name, "changed", "; ".join(self._differences(key, after)))

    def _differences(self, key: str, after: WordBook) -> Sequence[str]:
        old, new = self._book.words[key], after.words[key]
        told = [f"was “{old.name}”"] if old.name != new.name else []
        told += [f"moved to {self._families[new.family]}"] if old.family != new.family else []
        told += ["other synonyms"] if set(old.synonyms) - {new.name} != set(new.synonyms) - {old.name} else []
        told += [f"Chinese {new.zh or 'taken away'}"] if old.zh != new.zh else []
        told += [f"pinyin {new.pinyin or 'taken away'}"] if old.pinyin != new.pinyin else []
        told += ["another meaning"] if old.about != new.about else []
        told += ["stands for itself again"] if key in self._book.merged and key not in after.merged else []
        return told or ["order of the synonyms"]


def _unless(written: T | None, now: T) -> T | None:
    """Return what is written, None if it says what is so now."""
    return None if written == now else written
