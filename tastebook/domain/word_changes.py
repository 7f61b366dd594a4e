"""Changes to the words: each gives the record that keeps it, or says why it cannot be, before anything is kept."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from functools import cached_property
from typing import Final, Literal, TypeAlias

from tastebook.domain.errors import NameTaken, VocabularyError
from tastebook.domain.own_words import flattened, key_of, newest_of, words_apart
from tastebook.domain.session import OwnDescriptor
from tastebook.domain.spelling import plain, slug, squeezed
from tastebook.domain.vocabulary import Descriptor, Vocabulary
from tastebook.domain.word_rules import (
    checked_about,
    checked_chinese,
    checked_name,
    checked_names,
    checked_pinyin,
)

WordKind: TypeAlias = Literal["shipped", "changed", "own", "talk"]

NOT_YET: Final = datetime(1970, 1, 1, tzinfo=UTC)
"""When a record that is not kept yet was made; keeping it gives it its moment and its uid."""


@dataclass(frozen=True)
class WordBook:
    """The words that ship and all that the user made of them.

    Its questions return the record that would keep a change, as yet without `uid`, where there was none before.
    """

    shipped: Vocabulary
    own: tuple[OwnDescriptor, ...] = ()

    @cached_property
    def records(self) -> dict[str, OwnDescriptor]:
        """Return the user's own words and changes by key."""
        return newest_of(self.own)

    @cached_property
    def _apart(self) -> tuple[dict[str, Descriptor], dict[str, str]]:
        return words_apart(self.shipped, self.records)

    @property
    def words(self) -> Mapping[str, Descriptor]:
        """Return every word by itself, as if none had been taken in."""
        return self._apart[0]

    @cached_property
    def merged(self) -> Mapping[str, str]:
        """Return the words taken in, each with the one that stands for it."""
        return flattened(self._apart[1], self.words)

    def kind_of(self, key: str) -> WordKind:
        """Return whether a word ships, was changed, is the user's own, or no word at all."""
        record = self.records.get(key)
        is_talk = record is not None and record.is_talk
        if key in self._shipped:
            return "changed" if record is not None and record.key and not is_talk else "shipped"
        return "talk" if is_talk else "own"

    def ships(self, key: str) -> bool:
        """Say whether a word ships, changed or not."""
        return key in self._shipped

    def taken_in_by(self, host: str) -> tuple[str, ...]:
        """Return the keys of the words that one took in."""
        return tuple(key for key, at in self.merged.items() if at == host)

    def after(self, records: Iterable[OwnDescriptor], without: Iterable[str] = ()) -> WordBook:
        """Return the words with some records changed, and without those of some keys."""
        kept = self.records | {key_of(one): one for one in records}
        return WordBook(self.shipped, tuple(one for key, one in kept.items() if key not in set(without)))

    # -- changes

    def added(
        self,
        name: str,
        family: str = "",
        *,
        synonyms: Iterable[str] = (),
        zh: str = "",
        pinyin: str = "",
        about: str = "",
    ) -> OwnDescriptor:
        """Return a new word of the user's own."""
        record = self.new(name)
        if record.key in self.words:
            told = f"“{record.name}” is a word already. Choose another name, or change that one."
            raise NameTaken(told, self.merged.get(record.key, record.key))
        placed = replace(record, family=self.family(family))
        return self.checked(self.with_texts(placed, synonyms, zh, pinyin, about))

    def new(self, name: str, key: str = "") -> OwnDescriptor:
        """Return a word that is not there yet; whether its name is free is not asked. It may have been talk so far."""
        word = checked_name(name)
        made = OwnDescriptor("", word, "", NOT_YET, key or slug(word))
        talk = self.records.get(made.key)
        return made if talk is None else replace(made, uid=talk.uid, created_at_utc=talk.created_at_utc)

    def renamed(self, key: str, name: str) -> OwnDescriptor:
        """Return a word under another name; the one it had stays a synonym."""
        return self.checked(self.under_name(self.record(key), name))

    def moved(self, key: str, family: str) -> OwnDescriptor:
        """Return a word in another family."""
        if not family.strip():
            raise VocabularyError("No family was chosen. Choose one of the list.")
        return replace(self.record(key), family=self.family(family))

    def taken_in(self, guest: str, host: str) -> OwnDescriptor:
        """Return a word as taken in by another, which stands for it from then on, also for what was recorded."""
        record, into = self.record(guest), self.merged.get(host, host)
        if into not in self.words:
            raise VocabularyError(f"There is no word “{host}” to merge “{record.name}” into. Choose one of the list.")
        if into == guest:
            told = "itself" if guest == host else f"“{self.words[host].name}”, which it took in before"
            raise VocabularyError(f"“{record.name}” cannot be merged into {told}. Choose another word.")
        return self.checked(replace(record, merged_into=into))

    def parted(self, guest: str) -> OwnDescriptor:
        """Return a word that was taken in, standing for itself again."""
        return self.checked(replace(self.record(guest), merged_into=""))

    def amended(
        self,
        key: str,
        *,
        synonyms: Iterable[str] | None = None,
        zh: str | None = None,
        pinyin: str | None = None,
        about: str | None = None,
    ) -> OwnDescriptor:
        """Return a word with other synonyms, Chinese, pinyin or meaning; None leaves each as it is.

        Of a word that ships, what ships stays: its synonyms are added to, an empty text leaves what is there.
        """
        return self.checked(self.with_texts(self.record(key), synonyms, zh, pinyin, about))

    def talk(self, words: str) -> OwnDescriptor:
        """Return words declared to be no tasting words: they are kept as said, and not offered again."""
        said = checked_name(words, "words")
        key = slug(said)
        owners = self.claims.get(squeezed(said), ())
        if owners:
            raise NameTaken(f"“{said}” is a word of tasting. Remove it first, if it is none of yours.", owners[0])
        before = self.records.get(key)
        return before or OwnDescriptor("", said, "", NOT_YET, key, is_talk=True)

    def record(self, key: str) -> OwnDescriptor:
        """Return what is kept of a word: the user's record, or the one with which a change of it begins."""
        if key in self.records and not self.records[key].is_talk:
            return replace(self.records[key], key=key)
        if key not in self._shipped:
            raise VocabularyError(f"There is no word “{key}”. It may have been removed in another window.")
        one = self._shipped[key]
        return OwnDescriptor("", one.name, one.family, NOT_YET, key)

    def pair(self, record: OwnDescriptor) -> tuple[OwnDescriptor | None, OwnDescriptor | None]:
        """Return what is kept of a word now, and what a changed record leaves to keep, if anything."""
        before = self.records.get(key_of(record))
        if self.is_idle(record):
            return (before, None)
        return (before, replace(record, uid=before.uid, created_at_utc=before.created_at_utc) if before else record)

    def is_idle(self, record: OwnDescriptor) -> bool:
        """Say whether a record changes nothing about a word that ships, so that it need not be kept."""
        one = self._shipped.get(key_of(record))
        if one is None or record.is_talk:
            return False
        added = (record.synonyms, record.zh, record.pinyin, record.about, record.merged_into)
        return (record.name, record.family) == (one.name, one.family) and not any(added)

    def family(self, written: str) -> str:
        """Return a family's key, by key or name; empty for none.

        Raises
        ------
        VocabularyError
            If there is no such family.
        """
        asked = plain(written)
        for one in self.shipped.families:
            if asked in (one.key, plain(one.name)):
                return one.key
        if asked:
            names = ", ".join(one.name for one in self.shipped.families)
            raise VocabularyError(f"There is no family “{written.strip()}”. The families are {names}.")
        return ""

    # -- what cannot be

    @cached_property
    def claims(self) -> dict[str, tuple[str, ...]]:
        """Return the words that are called by each squeezed term; words taken in speak for their host."""
        claims: dict[str, tuple[str, ...]] = {}
        for key, one in self.words.items():
            host = self.merged.get(key, key)
            for letters in {squeezed(term) for term in (one.name, *one.synonyms, one.zh) if term}:
                owners = claims.get(letters, ())
                claims[letters] = owners if host in owners else (*owners, host)
        return claims

    def checked(self, record: OwnDescriptor) -> OwnDescriptor:
        """Return a record that contradicts no other.

        Raises
        ------
        NameTaken
            If another word has one of its names.
        VocabularyError
            If words would take each other in.
        """
        self.after((record,)).refuse_trouble(key_of(record))
        return record

    def refuse_trouble(self, key: str) -> None:
        """Raise what contradicts itself about one of these words, if anything does."""
        record = self.records[key]
        if record.is_talk:
            return
        if record.merged_into and key not in self.merged:
            raise VocabularyError(self._why_not_merged(record))
        here = self.merged.get(key, key)
        for term in (record.name, *record.synonyms, record.zh):
            others = [one for one in self.claims.get(squeezed(term), ()) if one != here] if term else []
            if others:
                other = self.words[others[0]].name
                raise NameTaken(
                    f"“{term}” is a name of “{other}” already. Choose another, or merge the two words.", others[0]
                )

    def _why_not_merged(self, record: OwnDescriptor) -> str:
        if record.merged_into not in self.words:
            return f"There is no word “{record.merged_into}” to merge “{record.name}” into. Choose one of the list."
        if record.merged_into == key_of(record):
            return f"“{record.name}” cannot be merged into itself. Choose another word."
        host = self.words[record.merged_into].name
        return f"“{record.name}” and “{host}” would be taken in by each other. Let one of them stand for itself."

    # -- parts of a change

    def under_name(self, record: OwnDescriptor, name: str) -> OwnDescriptor:
        """Return a record under another name, the one it had among its synonyms; whether it is free is not asked."""
        name = checked_name(name)
        shipped = self._shipped.get(key_of(record))
        ships = {squeezed(term) for term in (shipped.name, *shipped.synonyms)} if shipped else set()
        known = {squeezed(one): one for one in (*record.synonyms, record.name)}
        kept = tuple(one for letters, one in known.items() if letters not in ships | {squeezed(name)})
        return replace(record, name=name, synonyms=kept)

    def with_texts(
        self,
        record: OwnDescriptor,
        synonyms: Iterable[str] | None,
        zh: str | None,
        pinyin: str | None,
        about: str | None,
    ) -> OwnDescriptor:
        """Return a record with other texts, None for as they are; whether the names are free is not asked."""
        one = self._shipped.get(key_of(record)) or Descriptor("", "", "")
        return replace(
            record,
            synonyms=record.synonyms if synonyms is None else self._added_names(record, one, synonyms),
            zh=record.zh if zh is None else _other(checked_chinese(zh), one.zh),
            pinyin=record.pinyin if pinyin is None else _other(checked_pinyin(pinyin), one.pinyin),
            about=record.about if about is None else _other(checked_about(about), one.about),
        )

    @cached_property
    def _shipped(self) -> dict[str, Descriptor]:
        return {one.key: one for one in self.shipped.descriptors}

    def _added_names(self, record: OwnDescriptor, one: Descriptor, written: Iterable[str]) -> tuple[str, ...]:
        """Return the synonyms that are the user's; those that ship are there anyhow."""
        there = {squeezed(term) for term in (record.name, one.name, *one.synonyms) if term}
        return tuple(name for name in checked_names(written) if squeezed(name) not in there)


def _other(written: str, shipped: str) -> str:
    return "" if written == shipped else written
