"""The words as the user changes them: each gesture is one act, in a history of its own."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from functools import reduce
from typing import Final

from tastebook.domain.act import Act, Change, History
from tastebook.domain.errors import VocabularyError
from tastebook.domain.own_words import key_of
from tastebook.domain.session import OwnDescriptor
from tastebook.domain.word_changes import WordBook
from tastebook.domain.word_rules import checked_name
from tastebook.services import word_table
from tastebook.services.keeping import Keeping
from tastebook.services.ports import WordUse
from tastebook.services.word_import import ImportPlan, planned, rows_of
from tastebook.services.words import Words

SCOPE: Final = "vocabulary"
"""Whose history these acts belong to: no session's and no lot's."""


@dataclass(frozen=True)
class Uses:
    """How often a word is noted, those that it took in included."""

    times: int = 0
    last_lot: str = ""
    last_at_utc: datetime | None = None
    utc_offset_min: int = 0


class Lexicon:
    """What a user can do with the words. Every method keeps one act, or raises and keeps nothing."""

    def __init__(self, keeping: Keeping, words: Words) -> None:
        self._keeping = keeping
        self._words = words

    @property
    def book(self) -> WordBook:
        """Return the words that ship and what was made of them."""
        return WordBook(self._words.shipped, self._keeping.journal.own_descriptors())

    @property
    def history(self) -> History:
        """Return what can be taken back and done again."""
        return self._keeping.history(SCOPE)

    # -- changes

    def add(
        self,
        name: str,
        family: str = "",
        *,
        synonyms: Iterable[str] = (),
        zh: str = "",
        pinyin: str = "",
        about: str = "",
    ) -> str:
        """Add a word of one's own and return its key."""
        record = self.book.added(name, family, synonyms=synonyms, zh=zh, pinyin=pinyin, about=about)
        self._keep(f"new word “{record.name}”", record)
        return key_of(record)

    def rename(self, key: str, name: str) -> None:
        """Call a word otherwise; its key, and so what was recorded, stays, and its name becomes a synonym."""
        book = self._knowing(key)
        before, record = book.record(key).name, book.renamed(key, name)
        self._keep(f"“{before}” is now “{record.name}”", record)

    def move(self, key: str, family: str) -> None:
        """Put a word into another family."""
        record = self._knowing(key).moved(key, family)
        name = next(one.name for one in self._words.shipped.families if one.key == record.family)
        self._keep(f"“{record.name}” is {name.lower()}", record)

    def merge(self, guest: str, host: str) -> None:
        """Let a word stand for another everywhere, also for what was recorded."""
        book = self._knowing(guest)
        record = book.taken_in(guest, host)
        self._keep(f"“{record.name}” merged into “{book.words[record.merged_into].name}”", record)

    def part(self, guest: str) -> None:
        """Let a word that was taken in stand for itself again."""
        record = self.book.parted(guest)
        self._keep(f"“{record.name}” stands for itself", record)

    def add_name(self, key: str, name: str) -> None:
        """Let a word be understood under one more name."""
        book = self._knowing(key)
        now = book.words[key].synonyms if key in book.words else ()
        self.amend(key, synonyms=(*now, checked_name(name)))

    def amend(
        self,
        key: str,
        *,
        synonyms: Iterable[str] | None = None,
        zh: str | None = None,
        pinyin: str | None = None,
        about: str | None = None,
    ) -> None:
        """Change a word's synonyms, Chinese, pinyin or meaning; None leaves each as it is."""
        record = self._knowing(key).amended(key, synonyms=synonyms, zh=zh, pinyin=pinyin, about=about)
        self._keep(f"about “{record.name}”", record)

    def declare_talk(self, words: str) -> None:
        """Offer these words no more: they are talk, and stay in what was said."""
        record = self.book.talk(words)
        self._keep(f"“{record.name}” is talk", record)

    def remove(self, key: str) -> None:
        """Remove a word of one's own that is not used, or what was changed about one that ships.

        Raises
        ------
        VocabularyError
            If it is used, took others in, or ships as it is.
        """
        book = self.book
        record = book.records.get(key)
        if record is None:
            raise VocabularyError(
                f"“{self._name(key)}” ships with Tastebook and cannot be removed. Merge it into another."
            )
        if book.kind_of(key) == "own":
            self._refuse_needed(book, key, record)
        label = f"“{record.name}” as it ships" if book.ships(key) else f"without “{record.name}”"
        self._keeping.keep(SCOPE, label, [Change(record, None)])

    def undo(self) -> Act | None:
        """Take back the newest change of the words that still stands."""
        return self._keeping.undo(SCOPE)

    def redo(self) -> Act | None:
        """Do again what was taken back last."""
        return self._keeping.redo(SCOPE)

    # -- what they are used for

    def uses(self, key: str) -> Uses:
        """Return how often a word is noted, those that it took in included."""
        guests = (guest for guest, host in self._words().merged.items() if host == key)
        found = (self._keeping.journal.word_use(one) for one in (key, *guests))
        return reduce(_together, (one for one in found if one is not None), Uses())

    def unknown(self) -> tuple[WordUse, ...]:
        """Return the words noted that the vocabulary does not know: they were said, and have no family yet."""
        known, journal = self._words(), self._keeping.journal
        found = (journal.word_use(one) for one in journal.words_noted() if not known.has(one))
        return tuple(one for one in found if one is not None)

    # -- as a table

    def written(self) -> str:
        """Return every word as CSV text."""
        return word_table.written(rows_of(self.book))

    def plan(self, content: bytes) -> ImportPlan:
        """Return what the bytes of a CSV file would change, and what is wrong with them line by line."""
        return planned(self.book, word_table.read(content))

    def take(self, plan: ImportPlan, source: str) -> None:
        """Keep all that a table changes, as one act.

        Raises
        ------
        VocabularyError
            If something is wrong with it: then nothing is kept.
        """
        if plan.troubles:
            raise VocabularyError(plan.told)
        self._keep_pairs(f"words from {source}", plan.pairs)

    # -- parts

    def _knowing(self, key: str) -> WordBook:
        """Return the words, with one that was only said so far among them."""
        book = self.book
        said = () if key in book.words else (one for one in self.unknown() if one.descriptor == key)
        return book.after(book.new(one.word, key) for one in said)

    def _keep(self, label: str, record: OwnDescriptor) -> None:
        self._keep_pairs(label, [self.book.pair(record)])

    def _keep_pairs(self, label: str, pairs: Iterable[tuple[OwnDescriptor | None, OwnDescriptor | None]]) -> None:
        changes = [Change(before, after and self._dated(after)) for before, after in pairs]
        self._keeping.keep(SCOPE, label, changes)

    def _dated(self, record: OwnDescriptor) -> OwnDescriptor:
        """Return a record with its name and its moment, if it has none yet."""
        if record.uid:
            return record
        return replace(record, uid=self._keeping.ids.new(), created_at_utc=self._keeping.clock.utc_now())

    def _name(self, key: str) -> str:
        words = self.book.words
        return words[key].name if key in words else key

    def _refuse_needed(self, book: WordBook, key: str, record: OwnDescriptor) -> None:
        guests = [book.words[one].name for one in book.taken_in_by(key)]
        if guests:
            raise VocabularyError(
                f"“{record.name}” took in “{guests[0]}”. Let that stand for itself first, or merge on."
            )
        use = self._keeping.journal.word_use(key)
        if use is not None:
            raise VocabularyError(
                f"“{record.name}” is noted {_times(use.times)} in {_sessions(use.sessions)}, last with {use.last_lot}. "
                "Merge it into another word instead: nothing noted is lost."
            )


def _together(uses: Uses, one: WordUse) -> Uses:
    """Return uses with those of one more key."""
    if uses.last_at_utc is None or one.last_at_utc > uses.last_at_utc:
        return Uses(uses.times + one.times, one.last_lot, one.last_at_utc, one.utc_offset_min)
    return replace(uses, times=uses.times + one.times)


def _times(count: int) -> str:
    return "once" if count == 1 else f"{count} times"


def _sessions(count: int) -> str:
    return "one session" if count == 1 else f"{count} sessions"
