"""Finding by brute force: every record is looked at, one by one. What the journal's index finds is held against it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import timedelta

from tastebook.domain.arc import family_strength
from tastebook.domain.colour import delta_e00
from tastebook.domain.finding import FieldAsked, Found, Hit, Query, Word
from tastebook.domain.finding_places import (
    AROMA,
    ELSEWHERE,
    OVERVIEW,
    RINSE,
    best_sentence,
    column_in,
    infusion_slot,
    lot_sentences,
    lot_texts,
    places_of,
    sentences_said,
    session_sentences,
    slot_of,
    steps_of,
)
from tastebook.domain.finding_words import cut, needles
from tastebook.domain.kin import NotedCups
from tastebook.domain.lot import Lot
from tastebook.domain.session import Impression, Tasting


def scan(lots: Sequence[Lot], tastings: Iterable[Tasting], query: Query, limit: int, offset: int) -> Found:
    """Return one page of what every record, looked at one by one, answers to a query."""
    if query.is_empty or limit < 1:
        return Found()
    hits = [*_lot_hits(lots, query)]
    for tasting in sorted(tastings, key=lambda one: (one.session.started_at_utc, one.session.uid), reverse=True):
        hits += _session_hits(tasting, query)
    return Found(tuple(hits[offset : offset + limit]), len(hits) > offset + limit)


def noted_cups(tastings: Sequence[Tasting], session_uid: str) -> NotedCups:
    """Return what was perceived in the infusions of each lot's newest tasting, and of one session more."""
    newest = sorted(tastings, key=lambda one: (one.session.started_at_utc, one.session.uid), reverse=True)
    chosen, seen = [], set()
    for tasting in newest:
        is_tasted = any(place.perceived for slot, place in places_of(tasting).items() if RINSE < slot < ELSEWHERE)
        if tasting.session.uid == session_uid or (is_tasted and tasting.lot.uid not in seen):
            chosen.append(tasting)
        seen |= {tasting.lot.uid} if is_tasted else set()
    rows = [
        (number, slot - RINSE, place.perceived)
        for number, tasting in enumerate(chosen)
        for slot, place in sorted(places_of(tasting).items())
        if RINSE < slot < ELSEWHERE
    ]
    return NotedCups(
        tuple(one.session.uid for one in chosen),
        tuple(one.lot.uid for one in chosen),
        *(tuple(row[place] for row in rows) for place in range(3)),
    )


def _lot_hits(lots: Sequence[Lot], query: Query) -> Iterator[Hit]:
    if query.asks_of_column or query.asks_of_session:
        return
    for lot in sorted(lots, key=lambda one: (one.created_at_utc, one.uid), reverse=True):
        texts = [text.split() for text in lot_texts(lot).values()]
        if all(_in_texts(word, texts) for word in query.words) and all(_in_field(lot, one) for one in query.fields):
            _, sentence, spans = best_sentence(tuple(("", text) for text in lot_sentences(lot)), needles(query.sought))
            yield Hit(lot, sentence=sentence, spans=spans)


def _session_hits(tasting: Tasting, query: Query) -> Iterator[Hit]:
    if not (query.words or query.asks_of_column or query.asks_of_session) or not _facts_hold(tasting, query):
        return
    for slot in sorted(places_of(tasting)):
        if _holds(tasting, slot, query):
            yield _hit(tasting, slot, query)


def _facts_hold(tasting: Tasting, query: Query) -> bool:
    session, verdict = tasting.session, tasting.verdict
    day = (session.started_at_utc + timedelta(minutes=session.utc_offset_min)).date()
    rest = verdict.rest_until.isoformat() if verdict and verdict.rest_until else ""
    return all((
        query.first is None or query.first <= day,
        query.last is None or day <= query.last,
        not query.decision or (verdict is not None and verdict.decision == query.decision),
        query.rest_in in rest,
        query.purpose in ("", session.purpose),
        query.is_open in (None, session.is_open),
        all(_in_field(tasting.lot, one) for one in query.fields),
    ))  # fmt: skip


def _holds(tasting: Tasting, slot: int, query: Query) -> bool:
    own, above = _texts_at(tasting, slot), _texts_above(tasting, slot)
    noted = [one for one in _impressions_at(tasting, slot) if _has_qualities(one, query)]
    has_qualities = bool(query.channel or query.flags)

    def perceived(word: Word) -> bool:
        return any(one.descriptor in word.descriptors and 1 <= one.intensity <= 5 for one in noted)

    def in_text(word: Word, texts: list[list[str]]) -> bool:
        return not (word.descriptors and has_qualities) and _in_texts(word, texts)

    if not all(perceived(word) or in_text(word, own + above) for word in query.words):
        return False
    is_whole = query.asks_of_session and slot == OVERVIEW
    belongs = is_whole or any(perceived(word) or _in_texts(word, own) for word in query.words)
    if not query.asks_of_column and not belongs:
        return False
    for asked in query.noted:
        if not any(one.descriptor in asked.descriptors and asked.least <= one.intensity <= asked.most for one in noted):
            return False
    if has_qualities and not query.noted and not any(word.descriptors for word in query.words) and not noted:
        return False
    if query.slots and slot not in query.slots:
        return False
    return _families_hold(tasting, slot, query) and _liquor_holds(tasting, slot, query)


def _families_hold(tasting: Tasting, slot: int, query: Query) -> bool:
    noted = _impressions_at(tasting, slot)
    is_assessed = AROMA in places_of(tasting)[slot].perceived.split()
    for asked in query.families:
        strongest: dict[str, int] = {}
        for one in noted:
            if one.descriptor in asked.members:
                host = asked.members[one.descriptor]
                strongest[host] = max(one.intensity, strongest.get(host, 0))
        if not any(one.intensity > 0 and one.descriptor in asked.members for one in noted):
            if asked.least > 0 or not (is_assessed or strongest):
                return False
            if not is_assessed:
                return False
        if not asked.least <= family_strength(strongest.values()) <= asked.most:
            return False
    return True


def _liquor_holds(tasting: Tasting, slot: int, query: Query) -> bool:
    cup = next((one for one in tasting.infusions if infusion_slot(one.index) == slot), None)
    if query.clarity and (cup is None or cup.clarity != query.clarity):
        return False
    if query.liquor is None:
        return True
    return (
        cup is not None
        and cup.liquor is not None
        and delta_e00(query.liquor.lab, cup.liquor) <= query.liquor.within_e00
    )


def _impressions_at(tasting: Tasting, slot: int) -> list[Impression]:
    steps = steps_of(tasting.session.course)
    return [one for one in tasting.impressions if slot_of(steps, one.step, one.infusion) == slot]


def _has_qualities(one: Impression, query: Query) -> bool:
    return query.channel in ("", one.channel) and all(getattr(one, flag) for flag in query.flags)


def _texts_at(tasting: Tasting, slot: int) -> list[list[str]]:
    return [cut(text) for _, text in _sentences_at(tasting, slot)]


def _sentences_at(tasting: Tasting, slot: int) -> tuple[tuple[str, str], ...]:
    steps = steps_of(tasting.session.course)
    sayings = [one for one in tasting.sayings if slot_of(steps, one.step, one.infusion) == slot]
    others = [*session_sentences(tasting.session, tasting.verdict)] if slot == OVERVIEW else []
    others += [one.note for one in tasting.infusions if infusion_slot(one.index) == slot]
    others += [one.caption for one in tasting.photos if slot_of(steps, one.step, one.infusion) == slot]
    return sentences_said(steps, [(one.step, one.text) for one in sayings], others)


def _texts_above(tasting: Tasting, slot: int) -> list[list[str]]:
    lot = [text.split() for text in lot_texts(tasting.lot).values()]
    return lot if slot == OVERVIEW else [*_texts_at(tasting, OVERVIEW), *lot]


def _in_texts(word: Word, texts: Iterable[Sequence[str]]) -> bool:
    return any(_stands(text, list(phrase)) or (word.begun and any(one.startswith(word.begun) for one in text))
               for text in texts for phrase in word.phrases)  # fmt: skip


def _stands(text: Sequence[str], phrase: list[str]) -> bool:
    return any(list(text[place : place + len(phrase)]) == phrase for place in range(len(text)))


def _in_field(lot: Lot, asked: FieldAsked) -> bool:
    text = lot_texts(lot)[asked.field].split()
    return all(any(_stands(text, list(phrase)) for phrase in group) for group in asked.groups)


def _hit(tasting: Tasting, slot: int, query: Query) -> Hit:
    session, verdict = tasting.session, tasting.verdict
    step, sentence, spans = best_sentence(_sentences_at(tasting, slot), needles(query.sought))
    if slot == OVERVIEW and not sentence and verdict is not None:
        sentence = verdict.headline
    strongest: dict[str, int] = {}
    for one in _impressions_at(tasting, slot):
        if one.descriptor in query.descriptors:
            strongest[one.descriptor] = max(one.intensity, strongest.get(one.descriptor, one.intensity))
    cup = next((one for one in tasting.infusions if infusion_slot(one.index) == slot), None)
    return Hit(
        tasting.lot, session.uid, column_in(slot), step, sentence, spans,
        tuple(sorted(strongest.items(), key=lambda one: (-one[1], one[0]))),
        (session.started_at_utc + timedelta(minutes=session.utc_offset_min)).date(),
        verdict.decision if verdict else "", session.purpose, session.is_open, cup.liquor if cup else None,
        verdict.rest_until if verdict else None,
    )  # fmt: skip
