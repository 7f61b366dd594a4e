"""Lots and sessions in words, as the Shelf, a lot's page and the new-session card tell them."""

from __future__ import annotations

from collections.abc import Iterable

from tastebook.domain.lot import Lot, ProcessingStep, Roast
from tastebook.domain.session import Session
from tastebook.presenters.typed import number_text
from tastebook.reports.wording import day, local
from tastebook.services.ports import SessionLine


def session_day(session: SessionLine | Session) -> str:
    """Return the local day on which a session began."""
    return day(local(session.started_at_utc, session.utc_offset_min))


def lot_facts(lot: Lot) -> str:
    """Return kind, cultivar, origin and harvest in one line, as far as known."""
    return ", ".join(part for part in (lot.kind, lot.cultivar, lot.origin, lot.harvest) if part)


def lot_title(lot: Lot) -> str:
    """Return a lot so that it can be told from its other batches, such as `Heron Ridge, spring 2026`.

    What the name says already is not said twice.
    """
    name = lot.name.casefold()
    season = "" if lot.season.casefold() in name else lot.season
    year = str(lot.harvest_year) if lot.harvest_year and str(lot.harvest_year) not in name else ""
    harvest = " ".join(part for part in (season, year) if part)
    return ", ".join(part for part in (lot.name, harvest or (lot.batch if not lot.harvest else "")) if part)


def verdict_words(decision: str, headline: str) -> str:
    """Return decision and headline in one line; a headline that begins with the decision says it alone."""
    told = decision_words(decision)
    if headline.casefold().startswith(told.casefold()):
        return headline
    return ": ".join(part for part in (told, headline) if part)


def decision_words(decision: str) -> str:
    """Return a decision with a capital; `rest until` without its date is `Rest`."""
    return {"rest until": "Rest"}.get(decision, decision.capitalize())


def leaf_words(session: Session) -> str:
    """Return leaf and vessel, such as `6.5 g in a 110 ml gaiwan`."""
    leaf = f"{number_text(session.leaf_g)} g" if session.leaf_g is not None else ""
    if leaf and session.leaf_by_eye:
        leaf = f"about {leaf} by eye"
    volume = f"{number_text(session.volume_ml)} ml" if session.volume_ml is not None else ""
    says_volume = " ml" in session.vessel  # as “lidded cup, 110 ml” does
    vessel = " ".join(part for part in ("" if says_volume else volume, session.vessel) if part)
    return f"{leaf} in {_article(vessel)} {vessel}" if leaf and vessel else leaf or vessel


def _article(words: str) -> str:
    """Return `a` or `an` as the first word or number is spoken: an 8, an 11, an 18, an 80 ml cup."""
    number = words.split(" ", 1)[0]
    spoken_vowel = number.startswith("8") or number in ("11", "18") or words[:1].casefold() in "aeiou"
    return "an" if spoken_vowel else "a"


def processing_words(steps: Iterable[ProcessingStep]) -> str:
    """Return the stages of making in order, such as `withering 4 h, rolling`."""
    return ", ".join(f"{step.name} {number_text(step.hours)} h" if step.hours else step.name for step in steps)


def roast_words(roast: Roast) -> str:
    """Return what the fire did, such as `medium, 8 h, charcoal, 2 May 2026`."""
    hours = f"{number_text(roast.hours)} h" if roast.hours else ""
    on = day(roast.on) if roast.on else ""
    return ", ".join(part for part in (roast.level, hours, roast.fuel, on) if part)


def price_words(lot: Lot) -> str:
    """Return the price with its currency, such as `84.00 EUR per kg`."""
    if lot.price_per_kg is None:
        return ""
    return " ".join(part for part in (number_text(lot.price_per_kg), lot.currency, "per kg") if part)


def quantity_words(quantity_g: float | None) -> str:
    """Return a stock as `500 g`, or as `2 kg` from a kilogram on."""
    if quantity_g is None:
        return ""
    return f"{number_text(quantity_g / 1000)} kg" if quantity_g >= 1000 else f"{number_text(quantity_g)} g"
