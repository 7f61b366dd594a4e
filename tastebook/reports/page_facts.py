"""What stands at the head of a session page: the lot with its whole provenance, and how it was tasted."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal

from tastebook.domain.lot import Lot, ProcessingStep, Roast
from tastebook.domain.session import Session, Tasting, Verdict
from tastebook.reports.page_parts import Fact, FactGroup
from tastebook.reports.sentences import at_words
from tastebook.reports.wording import began, capital, clock_time, day, local, number


def fact_groups(tasting: Tasting, follows: Lot | None) -> tuple[FactGroup, ...]:
    """Return the facts at the head of the page; what nobody filled in is left out."""
    groups = (
        FactGroup("The lot", _known(_lot_facts(tasting.lot, follows))),
        FactGroup("This tasting", _known(_session_facts(tasting))),
    )
    return tuple(group for group in groups if group.facts)


def occasion(tasting: Tasting) -> str:
    """Return when, for what and by whom, in one line."""
    session = tasting.session
    begin = began(session)
    times = f"from {clock_time(begin)}"
    if session.closed_at_utc is not None:
        end = local(session.closed_at_utc, session.utc_offset_min)
        later_day = f"{day(end)}, " if end.date() != begin.date() else ""
        times = f"{clock_time(begin)} to {later_day}{clock_time(end)}"
    parts = [f"Tasted on {day(begin)}", times, session.purpose, f"by {session.taster}" if session.taster else ""]
    return ", ".join(part for part in parts if part) + ("" if session.closed_at_utc else " (still open)")


def decision_words(verdict: Verdict) -> str:
    """Return a decision as `buy 4 kg` or `rest until 1 June 2026`, empty while there is none."""
    quantity = f" {number(verdict.quantity_kg)} kg" if verdict.quantity_kg is not None else ""
    until = f" {day(verdict.rest_until)}" if verdict.rest_until and verdict.decision == "rest until" else ""
    return f"{verdict.decision}{until}{quantity}" if verdict.decision else ""


def verdict_facts(verdict: Verdict) -> tuple[Fact, ...]:
    """Return what of a verdict can be said in a line each."""
    carry = "" if verdict.good_infusions is None else str(verdict.good_infusions)
    return _known(
        (
            ("Decision", capital(decision_words(verdict))),
            ("Good infusions", carry),
            ("Season", verdict.season),
            ("Cold brew", verdict.cold_brew),
            ("Strengths", verdict.strengths),
            ("Faults", verdict.faults),
        )
    )


def _known(pairs: Iterable[tuple[str, str]]) -> tuple[Fact, ...]:
    return tuple(Fact(label, value.strip()) for label, value in pairs if value.strip())


def _lot_facts(lot: Lot, follows: Lot | None) -> Sequence[tuple[str, str]]:
    return (
        ("Kind", ", ".join(part for part in (lot.kind, lot.form) if part)),
        ("Cultivar", ", ".join(part for part in (lot.cultivar, lot.cultivar_local) if part)),
        ("Origin", lot.origin),
        ("Altitude", _with_unit(lot.altitude_m, "m")),
        ("Harvest", _harvest(lot)),
        ("Plucking", lot.plucking),
        ("Making", ", ".join(_stage(one) for one in lot.processing)),
        ("Oxidation", _with_unit(lot.oxidation_pct, "%")),
        ("Roast", _roast(lot.roast)),
        ("Scented with", lot.scented_with),
        ("Supplier", lot.supplier),
        ("Batch", lot.batch),
        ("Price", _price(lot.price_per_kg, lot.currency)),
        ("Quantity", _mass(lot.quantity_g)),
        ("Follows", _named(follows)),
        ("Notes", lot.notes),
    )


def _session_facts(tasting: Tasting) -> Sequence[tuple[str, str]]:
    session = tasting.session
    around = session.conditions
    course = f"{session.course.name} ({session.course.source.rstrip('.')})" if session.course.source else ""
    return (
        ("Course", course or session.course.name),
        ("Vessel", ", ".join(part for part in (session.vessel, _with_unit(session.volume_ml, "ml")) if part)),
        ("Leaf", _leaf(session)),
        ("Ratio", _ratio(session)),
        ("Water", _water(session)),
        ("Temperature", _measured(tasting)),
        ("Altitude", _with_unit(session.altitude_m, "m")),
        ("Place", around.place),
        ("Light", around.light),
        ("Wind", around.wind),
        ("Smells nearby", around.smells_nearby),
        ("Palate", around.palate),
    )


def _harvest(lot: Lot) -> str:
    picked = day(lot.harvested_on) if lot.harvested_on else ""
    return ", ".join(part for part in (lot.harvest, picked) if part)


def _stage(step: ProcessingStep) -> str:
    return step.name if step.hours is None else f"{step.name} {number(step.hours)} h"


def _roast(roast: Roast) -> str:
    hours = _with_unit(roast.hours, "h")
    fuel = f"over {roast.fuel}" if roast.fuel else ""
    on = f"on {day(roast.on)}" if roast.on else ""
    return ", ".join(part for part in (roast.level, hours, fuel, on) if part)


def _price(price: Decimal | None, currency: str) -> str:
    return "" if price is None else f"{price:,.2f} {currency} per kg".replace("  ", " ")


def _mass(grams: float | None) -> str:
    if grams is None:
        return ""
    return f"{number(grams / 1000)} kg" if grams >= 1000 else f"{number(grams)} g"


def _named(lot: Lot | None) -> str:
    if lot is None:
        return ""
    batch = f"batch {lot.batch}" if lot.batch else ""
    return ", ".join(part for part in (lot.name, lot.harvest, batch) if part)


def leaf_mass(session: Session) -> str:
    """Return the leaf as `6.5 g`, or `about 6.5 g` where it was judged by eye."""
    mass = _with_unit(session.leaf_g, "g")
    return f"about {mass}" if mass and session.leaf_by_eye else mass


def _leaf(session: Session) -> str:
    if session.leaf_g is None or not session.leaf_by_eye:
        return leaf_mass(session)
    fill = "" if session.leaf_fill is None else f" ({number(round(session.leaf_fill * 100))} % full)"
    return f"{leaf_mass(session)}, by eye{fill}"


def _ratio(session: Session) -> str:
    if session.leaf_g is None or not session.volume_ml:
        return ""
    about = "about " if session.leaf_by_eye else ""
    return f"{about}{number(round(session.leaf_g / session.volume_ml * 100, 1))} g per 100 ml"


def _water(session: Session) -> str:
    solids = "" if session.water_tds_mg_l is None else f"{number(session.water_tds_mg_l)} mg/l dissolved"
    return ", ".join(part for part in (session.water_source, solids) if part)


def _measured(tasting: Tasting) -> str:
    """Return at which infusions the water's temperature was measured, empty if it was only meant."""
    cups = [one for one in tasting.infusions if one.index > 0 and one.water_c is not None]
    measured = [one.index for one in cups if one.water_measured]
    if not measured:
        return ""
    return "measured" if len(measured) == len(cups) else f"measured at {at_words(measured)}"


def _with_unit(value: float | None, unit: str) -> str:
    return "" if value is None else f"{number(value)} {unit}"
