"""The user's own words, and what they changed about those that ship: renamed, moved, taken in by another, added to.

A descriptor's key never changes, so everything recorded under it follows its word: it is shown under the name of now,
in the family of now, and under the word that took it in. Whatever a word was called before stays one of its synonyms,
so that what was said years ago is still understood.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Final

from tastebook.domain.session import Impression, OwnDescriptor, Tasting
from tastebook.domain.spelling import slug, squeezed
from tastebook.domain.vocabulary import Descriptor, Vocabulary, squeezed_terms

OWN_SOURCE: Final = "your own word"
CHANGED_SOURCE: Final = "changed by you"


def key_of(own: OwnDescriptor) -> str:
    """Return the key under which impressions of a word are kept."""
    return own.key or slug(own.name)


def with_own(shipped: Vocabulary, own: Iterable[OwnDescriptor]) -> Vocabulary:
    """Return the vocabulary with the user's own words and changes, the newest of each.

    A change names the key of the word that ships. A word of one's own that has since come to ship, by its name or as a
    synonym, is that word now. What cannot be followed (a family that is not there, words taken in by each other, by one
    that is not there) is left out, and the word stands for itself: nothing recorded is ever out of reach.
    """
    newest = newest_of(own)
    if not newest:
        return shipped
    known, taken_in = words_apart(shipped, newest)
    claimed = {letters: one.key for one in shipped.descriptors for letters in squeezed_terms(one)}
    for key in set(known) - {one.key for one in shipped.descriptors}:
        if key not in taken_in and (claimer := claimed.get(squeezed(newest[key].name))):
            taken_in[key] = claimer
            del known[key]
    merged = flattened(taken_in, known)
    return replace(
        shipped,
        descriptors=tuple(_with_taken_in(known, merged)),
        merged=merged,
        talk=frozenset(squeezed(one.name) for one in newest.values() if one.is_talk),
    )


def newest_of(own: Iterable[OwnDescriptor]) -> dict[str, OwnDescriptor]:
    """Return the user's own words by key, the newest of each."""
    return {key_of(one): one for one in sorted(own, key=lambda each: (each.created_at_utc, each.uid))}


def words_apart(
    shipped: Vocabulary, newest: Mapping[str, OwnDescriptor]
) -> tuple[dict[str, Descriptor], dict[str, str]]:
    """Return every word by itself, as if none had been taken in; and who was taken in by whom."""
    words = {key: one for key, one in newest.items() if not one.is_talk and squeezed(one.name)}
    known = {one.key: one for one in shipped.descriptors}
    for key, one in words.items():
        if key not in known:
            known[key] = _added(key, one, shipped)
        elif one.key:
            known[key] = _changed(known[key], one, shipped)
    return known, {key: one.merged_into for key, one in words.items() if one.merged_into}


def _added(key: str, own: OwnDescriptor, shipped: Vocabulary) -> Descriptor:
    name = own.name.strip()
    family = own.family if _is_family(own.family, shipped) else ""
    synonyms = _apart(name, own.synonyms)
    return Descriptor(key, name, family, synonyms, own.zh, own.pinyin, OWN_SOURCE, about=own.about)


def _changed(one: Descriptor, own: OwnDescriptor, shipped: Vocabulary) -> Descriptor:
    """Return a word that ships, as it was changed: its name stays a synonym, what is empty stays as it was."""
    name = own.name.strip()
    return replace(
        one,
        name=name,
        family=own.family if _is_family(own.family, shipped) else one.family,
        synonyms=_apart(name, (*own.synonyms, one.name, *one.synonyms)),
        zh=own.zh or one.zh,
        pinyin=own.pinyin or one.pinyin,
        about=own.about or one.about,
        source=f"{one.source}; {CHANGED_SOURCE}",
    )


def _is_family(key: str, shipped: Vocabulary) -> bool:
    return any(one.key == key for one in shipped.families)


def flattened(taken_in: Mapping[str, str], known: Mapping[str, Descriptor]) -> dict[str, str]:
    """Return for every word taken in the one that stands for it at the end; those that lead nowhere are left out."""
    merged = {}
    for key in taken_in:
        seen, at = {key}, taken_in[key]
        while at in taken_in and at not in seen:
            seen.add(at)
            at = taken_in[at]
        if at in known and at not in seen:
            merged[key] = at
    return merged


def _with_taken_in(known: Mapping[str, Descriptor], merged: Mapping[str, str]) -> Iterable[Descriptor]:
    """Yield the words that stand for themselves, each with the names of those that it took in."""
    guests: dict[str, list[Descriptor]] = {}
    for key, host in merged.items():
        if key in known:
            guests.setdefault(host, []).append(known[key])
    for key, one in known.items():
        if key not in merged:
            yield _with_guests(one, guests[key]) if key in guests else one


def _with_guests(host: Descriptor, guests: Iterable[Descriptor]) -> Descriptor:
    brought = []
    for guest in guests:
        chinese = () if (guest.zh, guest.pinyin) == (host.zh, host.pinyin) else (guest.zh, guest.pinyin)
        brought += [term for term in (guest.name, *guest.synonyms, *chinese) if term]
    return replace(host, synonyms=_apart(host.name, (*host.synonyms, *brought)))


def _apart(name: str, synonyms: Iterable[str]) -> tuple[str, ...]:
    """Return synonyms, each once, without the name itself and without those that say nothing."""
    kept = {squeezed(name): name}
    for one in synonyms:
        if letters := squeezed(one):
            kept.setdefault(letters, one)
    return tuple(kept.values())[1:]


# -- what was recorded


def read_now(tasting: Tasting, vocabulary: Vocabulary) -> Tasting:
    """Return a tasting with every impression under the key of the word that stands for it now.

    To be shown, grouped and counted; what is kept stays as it was said, so a change never begins with one of these.
    """
    if vocabulary.merged.keys().isdisjoint(one.descriptor for one in tasting.impressions):
        return tasting
    return replace(tasting, impressions=tuple(_read_now(one, vocabulary) for one in tasting.impressions))


def _read_now(one: Impression, vocabulary: Vocabulary) -> Impression:
    key = vocabulary.resolve(one.descriptor)
    return one if key == one.descriptor else replace(one, descriptor=key)


def word_now(one: Impression, vocabulary: Vocabulary) -> str:
    """Return what an impression's word is called now; as it was said, where the vocabulary does not know it."""
    return vocabulary.descriptor(one.descriptor).name if vocabulary.has(one.descriptor) else one.word


def each_once(impressions: Iterable[Impression], vocabulary: Vocabulary) -> tuple[Impression, ...]:
    """Return impressions of one step with each word once in a channel: of several that are one word now, the strongest.

    They keep the order in which the words were first noted.
    """
    strongest: dict[tuple[str, str], Impression] = {}
    for one in impressions:
        place = (vocabulary.resolve(one.descriptor), one.channel)
        kept = strongest.setdefault(place, one)
        if one.intensity > kept.intensity:
            strongest[place] = one
    return tuple(_read_now(one, vocabulary) for one in strongest.values())
