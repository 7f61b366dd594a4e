"""The step card around its sheet, and the line above the strip."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from tastebook.domain.catching import StepState, is_possible, step_state, told_elsewhere
from tastebook.domain.course import Step
from tastebook.domain.liquor import colour_name
from tastebook.domain.session import Impression, Tasting
from tastebook.domain.steep import Instant
from tastebook.domain.vocabulary import Vocabulary
from tastebook.presenters.bench.sheets import count_families
from tastebook.presenters.bench.views import HeaderView, TabState, TabView
from tastebook.presenters.shelf_words import leaf_words
from tastebook.reports.wording import began, day, local, moment, stretch
from tastebook.services.brewing import Drunk


@dataclass(frozen=True)
class CardState:
    """Everything the tabs and hints depend on."""

    tasting: Tasting
    vocabulary: Vocabulary
    infusion: int | None
    current: str
    now: Instant


def tab_view(state: CardState, step: Step) -> TabView:
    """Return one tab of the card."""
    stands = step_state(state.tasting, step, state.infusion, state.now)
    is_current = step.key == state.current
    shown: TabState = "now" if is_current and stands in ("todo", "waiting", "done") else stands
    return TabView(step.key, step.name, _caption(state, step, stands), shown, is_current)


def tab_views(state: CardState, steps: Sequence[Step]) -> tuple[TabView, ...]:
    """Return the tabs of a column; the first that is to do after the current one is called next."""
    tabs = [tab_view(state, step) for step in steps]
    here = next((place for place, tab in enumerate(tabs) if tab.is_current), len(tabs))
    for place, tab in enumerate(tabs):
        if place > here and tab.state == "todo":
            tabs[place] = replace(tab, caption="next")
            break
    return tuple(tabs)


def _caption(state: CardState, step: Step, stands: StepState) -> str:
    if stands == "missed":
        return "missed, add it now"
    if stands == "skipped":
        return "skipped"
    if stands in ("done", "late"):
        told = _told(state, step)
        return f"{told}, late" if stands == "late" else told
    return "" if is_possible(state.tasting, step, state.infusion) else "after the pour"


def _told(state: CardState, step: Step) -> str:
    tasting, column = state.tasting, state.infusion
    cup = tasting.infusion(column) if column is not None else None
    if step.sheet == "liquor" and cup is not None:
        return ", ".join(part for part in (colour_name(cup.liquor) if cup.liquor else "", cup.clarity) if part)
    if step.sheet == "verdict":
        return tasting.verdict.decision if tasting.verdict else ""
    readings = tasting.readings_at(step.key, column)
    if readings and step.sheet != "aroma":
        return f"{len(readings)} of {len(step.scales)} set"
    told = _told_words(state, tasting.impressions_at(step.key, column) + told_elsewhere(tasting, step, column))
    return told or ("in words" if tasting.sayings_at(step.key, column) else "nothing to name")


def _told_words(state: CardState, impressions: tuple[Impression, ...]) -> str:
    families = count_families(impressions, state.vocabulary)
    if families:
        return f"{families} {'family' if families == 1 else 'families'}"
    return f"{len(impressions)} noted" if impressions else ""


def hint_for(step: Step, infusion: int | None) -> str:
    """Return how to use the sheet of a step."""
    if step.sheet == "aroma":
        return "words, commas, a number from 1 to 5, “no” for absent"
    if step.sheet == "liquor":
        return "hold the cup beside the screen; screens differ, so compare here"
    if step.sheet in ("texture", "body"):
        ring = f"the ring shows infusion {infusion - 1}; " if infusion is not None and infusion > 1 else ""
        return f"{ring}arrow keys set, Delete clears"
    if step.sheet == "finish":
        return "press at the swallow, press again when nothing is left"
    return "kept as you type"


def placeholder_for(step: Step) -> str:
    """Return what the empty say line shows."""
    return {
        "aroma": "Say it: white peach, cedar bark 3, no rose",
        "liquor": "Say it: clear, amber at the rim",
        "texture": "Say it: silky, thick 4, dries a little at the end",
        "finish": "Say it: orchid stays, cool at the end",
        "body": "Say it: warm in the chest",
        "verdict": "In one line: buy four kilos for the autumn list",
    }[step.sheet]


def header_view(tasting: Tasting, drunk: Drunk, now: Instant, *, at_close: bool) -> HeaderView:
    """Return the line above the strip, with what was drunk today."""
    lot, session = tasting.lot, tasting.session
    batch = f"lot {lot.batch}" if lot.batch else ""
    finish = "Close session" if at_close else "Finish session"
    return HeaderView(
        title=lot.name,
        cultivar=lot.cultivar_local or lot.cultivar,
        source=", ".join(part for part in (lot.supplier or lot.garden, batch) if part),
        facts=_facts(tasting, now),
        finish=finish if session.is_open else "Open the Arc",
        aside=(drunk.caution or drunk.line) if session.is_open else "",
        aside_is_caution=bool(drunk.caution),
    )


def _facts(tasting: Tasting, now: Instant) -> str:
    session = tasting.session
    if session.closed_at_utc is not None:
        spent_s = round((session.closed_at_utc - session.started_at_utc).total_seconds())
        return f"{day(began(session))}, {stretch(spent_s - spent_s % 60)}"
    return f"{leaf_words(session)}, since {moment(began(session), local(now.utc, session.utc_offset_min))}"
