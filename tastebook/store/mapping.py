"""Domain values to the columns of their tables, and back, column by column.

The order of each list of columns is the order of the declared row in `rows`, and what comes back from either SQLAlchemy
or sqlite3 is read in that order. Nothing here needs SQLAlchemy, so that the Shelf can be read before it is loaded.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any, Final, Generic, TypeAlias, TypeVar

from tastebook.domain.act import Act
from tastebook.domain.errors import JournalDamaged
from tastebook.domain.lot import Lot, ProcessingStep, Roast
from tastebook.domain.session import (
    Conditions,
    Impression,
    Infusion,
    KettleReading,
    Lab,
    OwnDescriptor,
    Photo,
    Reading,
    Record,
    Saying,
    Session,
    StepMark,
    Verdict,
)
from tastebook.domain.steep import Instant
from tastebook.store.codec import changes_of, changes_text, course_of, course_text, time_text

Stored: TypeAlias = str | int | float | None
Columns: TypeAlias = dict[str, Stored]
R = TypeVar("R")
T = TypeVar("T")


@dataclass(frozen=True)
class Mapping(Generic[T]):
    """How one kind of record lies in its table."""

    table: str
    columns_of: Callable[[T], Columns]
    value_of: Callable[[Sequence[Any]], T]


def _lot_columns(lot: Lot) -> Columns:
    return {
        "uid": lot.uid,
        "name": lot.name,
        "created_at_utc": time_text(lot.created_at_utc),
        "kind": lot.kind,
        "cultivar": lot.cultivar,
        "cultivar_local": lot.cultivar_local,
        "country": lot.country,
        "region": lot.region,
        "garden": lot.garden,
        "altitude_m": lot.altitude_m,
        "harvest_year": lot.harvest_year,
        "season": lot.season,
        "harvested_on": _date_text(lot.harvested_on),
        "plucking": lot.plucking,
        "processing": _processing_text(lot.processing),
        "oxidation_pct": lot.oxidation_pct,
        "roast_level": lot.roast.level,
        "roast_hours": lot.roast.hours,
        "roast_on": _date_text(lot.roast.on),
        "roast_fuel": lot.roast.fuel,
        "form": lot.form,
        "scented_with": lot.scented_with,
        "supplier": lot.supplier,
        "batch": lot.batch,
        "price_per_kg": None if lot.price_per_kg is None else str(lot.price_per_kg),
        "currency": lot.currency,
        "quantity_g": lot.quantity_g,
        "follows": lot.follows,
        "notes": lot.notes,
        "archived": int(lot.archived),
    }


def _lot_of(row: Sequence[Any]) -> Lot:
    (
        uid, name, created_at_utc, kind, cultivar, cultivar_local, country, region, garden, altitude_m, harvest_year,
        season, harvested_on, plucking, processing, oxidation_pct, roast_level, roast_hours, roast_on, roast_fuel, form,
        scented_with, supplier, batch, price_per_kg, currency, quantity_g, follows, notes, archived,
    ) = row  # fmt: skip
    return Lot(
        uid=uid,
        name=name,
        created_at_utc=datetime.fromisoformat(created_at_utc),
        kind=kind,
        cultivar=cultivar,
        cultivar_local=cultivar_local,
        country=country,
        region=region,
        garden=garden,
        altitude_m=altitude_m,
        harvest_year=harvest_year,
        season=season,
        harvested_on=_date_of(harvested_on),
        plucking=plucking,
        processing=_processing_of(processing),
        oxidation_pct=oxidation_pct,
        roast=Roast(roast_level, roast_hours, _date_of(roast_on), roast_fuel),
        form=form,
        scented_with=scented_with,
        supplier=supplier,
        batch=batch,
        price_per_kg=None if price_per_kg is None else Decimal(price_per_kg),
        currency=currency,
        quantity_g=quantity_g,
        follows=follows,
        notes=notes,
        archived=bool(archived),
    )


def _session_columns(session: Session) -> Columns:
    return {
        "uid": session.uid,
        "lot_uid": session.lot_uid,
        "course": course_text(session.course),
        "started_at_utc": time_text(session.started_at_utc),
        "utc_offset_min": session.utc_offset_min,
        "purpose": session.purpose,
        "taster": session.taster,
        "vessel": session.vessel,
        "volume_ml": session.volume_ml,
        "leaf_g": session.leaf_g,
        "leaf_by_eye": int(session.leaf_by_eye),
        "leaf_fill": session.leaf_fill,
        "water_source": session.water_source,
        "water_tds_mg_l": session.water_tds_mg_l,
        "altitude_m": session.altitude_m,
        "pressure_hpa": session.pressure_hpa,
        "kettle": session.kettle,
        "vessel_warmed": int(session.vessel_warmed),
        "swallowed": session.swallowed,
        "place": session.conditions.place,
        "light": session.conditions.light,
        "wind": session.conditions.wind,
        "smells_nearby": session.conditions.smells_nearby,
        "palate": session.conditions.palate,
        "closed_at_utc": None if session.closed_at_utc is None else time_text(session.closed_at_utc),
    }


def _session_of(row: Sequence[Any]) -> Session:
    (
        uid, lot_uid, course, started_at_utc, utc_offset_min, purpose, taster, vessel, volume_ml, leaf_g, leaf_by_eye,
        leaf_fill, water_source, water_tds_mg_l, altitude_m, pressure_hpa, kettle, vessel_warmed, swallowed, place,
        light, wind, smells_nearby, palate, closed_at_utc,
    ) = row  # fmt: skip
    return Session(
        uid=uid,
        lot_uid=lot_uid,
        course=course_of(course),
        started_at_utc=datetime.fromisoformat(started_at_utc),
        utc_offset_min=utc_offset_min,
        purpose=purpose,
        taster=taster,
        vessel=vessel,
        volume_ml=volume_ml,
        leaf_g=leaf_g,
        leaf_by_eye=bool(leaf_by_eye),
        leaf_fill=leaf_fill,
        water_source=water_source,
        water_tds_mg_l=water_tds_mg_l,
        altitude_m=altitude_m,
        pressure_hpa=pressure_hpa,
        kettle=kettle,
        vessel_warmed=bool(vessel_warmed),
        swallowed=swallowed,
        conditions=Conditions(place, light, wind, smells_nearby, palate),
        closed_at_utc=None if closed_at_utc is None else datetime.fromisoformat(closed_at_utc),
    )


def _infusion_columns(infusion: Infusion) -> Columns:
    liquor_l, liquor_a, liquor_b = infusion.liquor or (None, None, None)
    return {
        "uid": infusion.uid,
        "session_uid": infusion.session_uid,
        "number": infusion.index,
        "planned_s": infusion.planned_s,
        "water_c": infusion.water_c,
        "water_measured": int(infusion.water_measured),
        **_instant_columns("started", infusion.started),
        **_instant_columns("poured", infusion.poured),
        "actual_ms": infusion.actual_ms,
        "liquor_l": liquor_l,
        "liquor_a": liquor_a,
        "liquor_b": liquor_b,
        "liquor_source": infusion.liquor_source,
        "liquor_late": int(infusion.liquor_late),
        "clarity": infusion.clarity,
        "note": infusion.note,
    }


def _infusion_of(row: Sequence[Any]) -> Infusion:
    (
        uid, session_uid, number, planned_s, water_c, water_measured, started_at_utc, started_monotonic_s, started_boot,
        poured_at_utc, poured_monotonic_s, poured_boot, actual_ms, liquor_l, liquor_a, liquor_b, liquor_source,
        liquor_late, clarity, note,
    ) = row  # fmt: skip
    return Infusion(
        uid=uid,
        session_uid=session_uid,
        index=number,
        planned_s=planned_s,
        water_c=water_c,
        water_measured=bool(water_measured),
        started=_instant_of(started_at_utc, started_monotonic_s, started_boot),
        poured=_instant_of(poured_at_utc, poured_monotonic_s, poured_boot),
        actual_ms=actual_ms,
        liquor=lab_of(liquor_l, liquor_a, liquor_b),
        liquor_source=liquor_source,
        liquor_late=bool(liquor_late),
        clarity=clarity,
        note=note,
    )


def _saying_columns(saying: Saying) -> Columns:
    return {
        "uid": saying.uid,
        "session_uid": saying.session_uid,
        "step": saying.step,
        "infusion": saying.infusion,
        "text": saying.text,
        "recorded_at_utc": time_text(saying.recorded_at_utc),
        "late": int(saying.late),
    }


def _saying_of(row: Sequence[Any]) -> Saying:
    uid, session_uid, step, infusion, text, recorded_at_utc, late = row
    return Saying(uid, session_uid, step, infusion, text, datetime.fromisoformat(recorded_at_utc), bool(late))


def _impression_columns(impression: Impression) -> Columns:
    return {
        "uid": impression.uid,
        "session_uid": impression.session_uid,
        "step": impression.step,
        "infusion": impression.infusion,
        "channel": impression.channel,
        "descriptor": impression.descriptor,
        "word": impression.word,
        "intensity": impression.intensity,
        "recorded_at_utc": time_text(impression.recorded_at_utc),
        "late": int(impression.late),
        "clouded": int(impression.clouded),
        "doubtful": int(impression.doubtful),
        "saying_uid": impression.saying_uid,
    }


def _impression_of(row: Sequence[Any]) -> Impression:
    (
        uid, session_uid, step, infusion, channel, descriptor, word, intensity, recorded_at_utc, late, clouded,
        doubtful, saying_uid,
    ) = row  # fmt: skip
    return Impression(
        uid=uid,
        session_uid=session_uid,
        step=step,
        infusion=infusion,
        channel=channel,
        descriptor=descriptor,
        word=word,
        intensity=intensity,
        recorded_at_utc=datetime.fromisoformat(recorded_at_utc),
        late=bool(late),
        clouded=bool(clouded),
        doubtful=bool(doubtful),
        saying_uid=saying_uid,
    )


def _reading_columns(reading: Reading) -> Columns:
    return {
        "uid": reading.uid,
        "session_uid": reading.session_uid,
        "step": reading.step,
        "infusion": reading.infusion,
        "scale": reading.scale,
        "value": reading.value,
        "recorded_at_utc": time_text(reading.recorded_at_utc),
        "late": int(reading.late),
        "clouded": int(reading.clouded),
        "doubtful": int(reading.doubtful),
        "word": reading.word,
    }


def _reading_of(row: Sequence[Any]) -> Reading:
    uid, session_uid, step, infusion, scale, value, recorded_at_utc, late, clouded, doubtful, word = row
    return Reading(
        uid=uid,
        session_uid=session_uid,
        step=step,
        infusion=infusion,
        scale=scale,
        value=value,
        recorded_at_utc=datetime.fromisoformat(recorded_at_utc),
        late=bool(late),
        clouded=bool(clouded),
        doubtful=bool(doubtful),
        word=word,
    )


def _mark_columns(mark: StepMark) -> Columns:
    return {
        "uid": mark.uid,
        "session_uid": mark.session_uid,
        "step": mark.step,
        "infusion": mark.infusion,
        "mark": mark.mark,
        "recorded_at_utc": time_text(mark.recorded_at_utc),
    }


def _mark_of(row: Sequence[Any]) -> StepMark:
    uid, session_uid, step, infusion, mark, recorded_at_utc = row
    return StepMark(uid, session_uid, step, infusion, mark, datetime.fromisoformat(recorded_at_utc))


def _kettle_columns(reading: KettleReading) -> Columns:
    return {
        "uid": reading.uid,
        "session_uid": reading.session_uid,
        **_instant_columns("read", reading.at),
        "temp_c": reading.temp_c,
        "boiled": int(reading.boiled),
    }


def _kettle_of(row: Sequence[Any]) -> KettleReading:
    uid, session_uid, read_at_utc, read_monotonic_s, read_boot, temp_c, boiled = row
    at = Instant(datetime.fromisoformat(read_at_utc), read_monotonic_s, read_boot)
    return KettleReading(uid, session_uid, at, temp_c, bool(boiled))


def _verdict_columns(verdict: Verdict) -> Columns:
    return {
        "uid": verdict.uid,
        "session_uid": verdict.session_uid,
        "decision": verdict.decision,
        "rest_until": _date_text(verdict.rest_until),
        "quantity_kg": verdict.quantity_kg,
        "headline": verdict.headline,
        "strengths": verdict.strengths,
        "faults": verdict.faults,
        "note": verdict.note,
        "good_infusions": verdict.good_infusions,
        "season": verdict.season,
        "cold_brew": verdict.cold_brew,
        "brewing_guide": verdict.brewing_guide,
        "next_time": verdict.next_time,
    }


def _verdict_of(row: Sequence[Any]) -> Verdict:
    (
        uid, session_uid, decision, rest_until, quantity_kg, headline, strengths, faults, note, good_infusions, season,
        cold_brew, brewing_guide, next_time,
    ) = row  # fmt: skip
    return Verdict(
        uid=uid,
        session_uid=session_uid,
        decision=decision,
        rest_until=_date_of(rest_until),
        quantity_kg=quantity_kg,
        headline=headline,
        strengths=strengths,
        faults=faults,
        note=note,
        good_infusions=good_infusions,
        season=season,
        cold_brew=cold_brew,
        brewing_guide=brewing_guide,
        next_time=next_time,
    )


def _photo_columns(photo: Photo) -> Columns:
    return {
        "uid": photo.uid,
        "session_uid": photo.session_uid,
        "step": photo.step,
        "infusion": photo.infusion,
        "picture": photo.picture,
        "media_type": photo.media_type,
        "recorded_at_utc": time_text(photo.recorded_at_utc),
        "caption": photo.caption,
        "white_at": _list_text(photo.white_at),
        "liquor_at": _list_text(photo.liquor_at),
        "spread_e00": photo.spread_e00,
    }


def _photo_of(row: Sequence[Any]) -> Photo:
    (
        uid, session_uid, step, infusion, picture, media_type, recorded_at_utc, caption, white_at, liquor_at,
        spread_e00,
    ) = row  # fmt: skip
    return Photo(
        uid=uid,
        session_uid=session_uid,
        step=step,
        infusion=infusion,
        picture=picture,
        media_type=media_type,
        recorded_at_utc=datetime.fromisoformat(recorded_at_utc),
        caption=caption,
        white_at=tuple(map(float, json.loads(white_at))),
        liquor_at=tuple(map(float, json.loads(liquor_at))),
        spread_e00=spread_e00,
    )


def _own_descriptor_columns(own: OwnDescriptor) -> Columns:
    return {
        "uid": own.uid,
        "name": own.name,
        "family": own.family,
        "created_at_utc": time_text(own.created_at_utc),
        "key": own.key,
        "synonyms": _list_text(own.synonyms),
        "zh": own.zh,
        "pinyin": own.pinyin,
        "about": own.about,
        "merged_into": own.merged_into,
        "is_talk": int(own.is_talk),
    }


def _own_descriptor_of(row: Sequence[Any]) -> OwnDescriptor:
    uid, name, family, created_at_utc, key, synonyms, zh, pinyin, about, merged_into, is_talk = row
    return OwnDescriptor(
        uid=uid,
        name=name,
        family=family,
        created_at_utc=datetime.fromisoformat(created_at_utc),
        key=key,
        synonyms=tuple(map(str, json.loads(synonyms))),
        zh=zh,
        pinyin=pinyin,
        about=about,
        merged_into=merged_into,
        is_talk=bool(is_talk),
    )


def act_columns(act: Act) -> Columns:
    """Return the columns of an act; its place in the order of acts is given by the journal."""
    return {
        "uid": act.uid,
        "scope": act.scope,
        "label": act.label,
        "at_utc": time_text(act.at_utc),
        "kind": act.kind,
        "concerns": act.of,
        "changes": changes_text(act.changes),
    }


def act_of(row: Sequence[Any]) -> Act:
    """Return the act in a row of `act_columns`."""
    uid, scope, label, at_utc, kind, concerns, changes = row
    return Act(uid, scope, label, datetime.fromisoformat(at_utc), changes_of(changes), kind, concerns)


def decoded(name: str, value_of: Callable[[R], T], row: R) -> T:
    """Return the value in a row.

    Raises
    ------
    JournalDamaged
        If the row makes no sense.
    """
    try:
        return value_of(row)
    except (ArithmeticError, TypeError, ValueError) as exc:
        raise JournalDamaged(f"One {name} in the journal cannot be read: {exc}.") from exc


def lab_of(lightness: float | None, a: float | None, b: float | None) -> Lab | None:
    """Return a colour from its three columns, None if one is empty."""
    return None if lightness is None or a is None or b is None else (lightness, a, b)


def _instant_columns(name: str, instant: Instant | None) -> Columns:
    return {
        f"{name}_at_utc": None if instant is None else time_text(instant.utc),
        f"{name}_monotonic_s": None if instant is None else instant.monotonic_s,
        f"{name}_boot": None if instant is None else instant.boot,
    }


def _instant_of(at_utc: str | None, monotonic_s: float | None, boot: str | None) -> Instant | None:
    if at_utc is None or monotonic_s is None or boot is None:
        return None
    return Instant(datetime.fromisoformat(at_utc), monotonic_s, boot)


def _list_text(items: Sequence[str] | Sequence[float]) -> str:
    return json.dumps(list(items), ensure_ascii=False, allow_nan=False)


def _processing_text(steps: Sequence[ProcessingStep]) -> str:
    return json.dumps([[step.name, step.hours] for step in steps], ensure_ascii=False, allow_nan=False)


def _processing_of(text: str) -> tuple[ProcessingStep, ...]:
    return () if text == "[]" else tuple(ProcessingStep(name, hours) for name, hours in json.loads(text))


def _date_text(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _date_of(text: str | None) -> date | None:
    return None if text is None else date.fromisoformat(text)


_EPOCH: Final = datetime.min.replace(tzinfo=UTC)
OWN_DESCRIPTOR_COLUMNS: Final = tuple(_own_descriptor_columns(OwnDescriptor("", "", "", _EPOCH)))
LOT_COLUMNS: Final = tuple(_lot_columns(Lot(uid="", name="", created_at_utc=_EPOCH)))

MAPPINGS: Final[dict[type[Record], Mapping[Any]]] = {
    Lot: Mapping("lot", _lot_columns, _lot_of),
    Session: Mapping("session", _session_columns, _session_of),
    Infusion: Mapping("infusion", _infusion_columns, _infusion_of),
    Saying: Mapping("saying", _saying_columns, _saying_of),
    Impression: Mapping("impression", _impression_columns, _impression_of),
    Reading: Mapping("reading", _reading_columns, _reading_of),
    StepMark: Mapping("step_mark", _mark_columns, _mark_of),
    KettleReading: Mapping("kettle_reading", _kettle_columns, _kettle_of),
    Photo: Mapping("photo", _photo_columns, _photo_of),
    Verdict: Mapping("verdict", _verdict_columns, _verdict_of),
    OwnDescriptor: Mapping("own_descriptor", _own_descriptor_columns, _own_descriptor_of),
}
