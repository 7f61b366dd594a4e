"""A lot opened as a page: its provenance, the batches before and after it, and its sessions."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from tastebook.domain.colour import srgb_from_lab
from tastebook.domain.errors import TastebookError
from tastebook.domain.lot import Lot
from tastebook.domain.session import Infusion, Tasting
from tastebook.presenters.finding import FindPresenter, KinView
from tastebook.presenters.shelf_words import (
    decision_words,
    leaf_words,
    lot_title,
    price_words,
    processing_words,
    quantity_words,
    roast_words,
    session_day,
)
from tastebook.presenters.typed import number_text
from tastebook.reports.wording import day, steep_time
from tastebook.services.ports import LotLine
from tastebook.services.shelf import Shelf

STRIPS_AT_ONCE: Final = 12

WORTH_ADDING: Final = (
    ("kind", "kind"),
    ("cultivar", "cultivar"),
    ("region", "region"),
    ("altitude_m", "altitude"),
    ("harvest_year", "harvest"),
    ("plucking", "plucking"),
    ("form", "leaf form"),
    ("roast.level", "roast"),
    ("supplier", "supplier"),
    ("batch", "batch"),
    ("price_per_kg", "price"),
)
"""What a lot without it is asked for, as (field of the form, word)."""


@dataclass(frozen=True)
class FactView:
    """One thing known of the lot."""

    label: str
    value: str


@dataclass(frozen=True)
class FactGroup:
    """What is known of one side of the lot."""

    title: str
    facts: tuple[FactView, ...]


@dataclass(frozen=True)
class LotLink:
    """Another batch."""

    lot_uid: str
    title: str


@dataclass(frozen=True)
class SteepView:
    """One infusion on a small strip; `hex` is empty where no colour was noted."""

    label: str
    hex: str
    seconds: str


@dataclass(frozen=True)
class SessionStrip:
    """One session of the lot. `act_label` says what a press does: resume it, or open its Arc."""

    session_uid: str
    title: str
    facts: str
    steeps: tuple[SteepView, ...]
    verdict: str
    headline: str
    is_open: bool
    act_label: str
    accessible: str


@dataclass(frozen=True)
class LotPageView:
    """Everything on a lot's page. `missing` are (field, word) pairs that could be added."""

    lot_uid: str
    name: str
    local_name: str
    kicker: str
    groups: tuple[FactGroup, ...]
    notes: str
    missing: tuple[tuple[str, str], ...]
    follows: LotLink | None
    followed_by: tuple[LotLink, ...]
    strips: tuple[SessionStrip, ...]
    earlier: int
    open_session: str
    is_archived: bool
    undo: str
    redo: str
    notice: str
    read_only: str

    @property
    def taste_label(self) -> str:
        """Return what the one loud button says."""
        return "Resume" if self.open_session else "Taste"


class LotPagePresenter:
    """What the page of one lot shows, and what each gesture does."""

    def __init__(
        self, shelf: Shelf, lines: Callable[[], Sequence[LotLine]], lot_uid: str, finding: FindPresenter
    ) -> None:
        self._shelf = shelf
        self._finding = finding
        self._lines = lines
        self.lot_uid = lot_uid
        self._shown = STRIPS_AT_ONCE
        self._notice = ""
        self._strips: dict[str, SessionStrip] = {}

    # -- gestures

    def put_away(self) -> None:
        """Put the lot away, or take it out again."""
        archived = self._line().lot.archived
        self._try(lambda: self._shelf.archive(self.lot_uid, archived=not archived))

    def undo(self) -> None:
        """Take back the newest act on this lot."""
        self._try(lambda: self._tell("Taken back", self._shelf.undo(self.lot_uid)))

    def redo(self) -> None:
        """Do again what was taken back last on this lot."""
        self._try(lambda: self._tell("Done again", self._shelf.redo(self.lot_uid)))

    def show_earlier(self) -> None:
        """Show more of the sessions, further back."""
        self._shown += STRIPS_AT_ONCE

    def reread(self) -> None:
        """Read the sessions anew when they are next shown."""
        self._strips.clear()

    def dismiss(self) -> None:
        """Take note of what was told."""
        self._notice = ""

    # -- what is seen

    @property
    def notice(self) -> str:
        """Return what was told last."""
        return self._notice

    @property
    def is_there(self) -> bool:
        """Say whether the lot is in the journal: its adding can be taken back."""
        return any(line.lot.uid == self.lot_uid for line in self._lines())

    def view(self) -> LotPageView:
        """Return everything on the page."""
        line = self._line()
        lot, history = line.lot, self._shelf.history(self.lot_uid)
        newest_first = [session.uid for session in reversed(line.sessions)]
        return LotPageView(
            lot_uid=lot.uid,
            name=lot.name,
            local_name=lot.cultivar_local,
            kicker=", ".join(part for part in (lot.kind, lot.harvest) if part),
            groups=fact_groups(lot),
            notes=lot.notes,
            missing=missing_from(lot),
            follows=self._follows(lot),
            followed_by=self._followed_by(lot),
            strips=tuple(self._strip(uid) for uid in newest_first[: self._shown]),
            earlier=max(0, len(newest_first) - self._shown),
            open_session=next((one.uid for one in reversed(line.sessions) if one.is_open), ""),
            is_archived=lot.archived,
            undo=history.undoable[-1].label if history.undoable else "",
            redo=history.redoable[-1].label if history.redoable else "",
            notice=self._notice,
            read_only=self._shelf.read_only_because,
        )

    def kin(self) -> tuple[KinView, ...]:
        """Return the teas most like this one; any thread may ask for them, and it takes a moment."""
        return self._finding.kin_of_lot(self.lot_uid)

    def _line(self) -> LotLine:
        for line in self._lines():
            if line.lot.uid == self.lot_uid:
                return line
        return LotLine(self._shelf.lot(self.lot_uid), ())

    def _follows(self, lot: Lot) -> LotLink | None:
        return next((_link(line.lot) for line in self._lines() if line.lot.uid == lot.follows), None)

    def _followed_by(self, lot: Lot) -> tuple[LotLink, ...]:
        return tuple(_link(line.lot) for line in self._lines() if line.lot.follows == lot.uid)

    def _strip(self, session_uid: str) -> SessionStrip:
        if session_uid not in self._strips:
            self._strips[session_uid] = strip_of(self._shelf.tasting(session_uid))
        return self._strips[session_uid]

    def _try(self, act: Callable[[], None]) -> None:
        self._notice = ""
        try:
            act()
        except TastebookError as exc:
            self._notice = str(exc)

    def _tell(self, done: str, label: str) -> None:
        self._notice = f"{done}: {label}." if label else ""


def _link(lot: Lot) -> LotLink:
    return LotLink(lot.uid, lot_title(lot))


def strip_of(tasting: Tasting) -> SessionStrip:
    """Return a session as a small strip."""
    session, verdict = tasting.session, tasting.verdict
    title = ", ".join(part for part in (session_day(session), session.purpose) if part)
    by = f"by {session.taster}" if session.taster else ""
    facts = ", ".join(part for part in (session.course.name, leaf_words(session), by) if part)
    steeps = tuple(_steep(one) for one in tasting.infusions if one.index > 0 and (one.is_poured or one.liquor))
    decision = decision_words(verdict.decision) if verdict else ""
    if verdict and verdict.decision == "rest until" and verdict.rest_until:
        decision = f"Rest until {day(verdict.rest_until)}"
    told = decision or ("" if verdict else "still open" if session.is_open else "no verdict yet")
    headline = verdict.headline if verdict else ""
    poured = f"{len(steeps)} {'infusion' if len(steeps) == 1 else 'infusions'}"
    act_label = "Resume" if session.is_open else "Open"
    accessible = ". ".join(part for part in (title, facts, poured, told, headline, f"Enter: {act_label}") if part)
    return SessionStrip(session.uid, title, facts, steeps, told, headline, session.is_open, act_label, accessible)


def _steep(infusion: Infusion) -> SteepView:
    seconds = "" if infusion.actual_ms is None else steep_time(round(infusion.actual_ms / 1000))
    return SteepView(str(infusion.index), srgb_from_lab(infusion.liquor) if infusion.liquor else "", seconds)


def fact_groups(lot: Lot) -> tuple[FactGroup, ...]:
    """Return what is known of a lot, side by side as on its form; nothing that is not known."""
    cultivar = f"{lot.cultivar} ({lot.cultivar_local})" if lot.cultivar and lot.cultivar_local else ""
    harvested = day(lot.harvested_on) if lot.harvested_on else ""
    sides = (
        (
            "What it is",
            ("Kind", lot.kind),
            ("Cultivar", cultivar or lot.cultivar or lot.cultivar_local),
            ("Leaf form", lot.form),
            ("Scented with", lot.scented_with),
        ),
        (
            "Where and when",
            ("Garden", lot.garden),
            ("Region", ", ".join(part for part in (lot.region, lot.country) if part)),
            ("Altitude", "" if lot.altitude_m is None else f"{lot.altitude_m:,.0f} m"),
            ("Harvest", lot.harvest),
            ("Plucked on", harvested),
            ("Plucking", lot.plucking),
        ),
        (
            "How it was made",
            ("Making", processing_words(lot.processing)),
            ("Oxidation", "" if lot.oxidation_pct is None else f"{number_text(lot.oxidation_pct)} %"),
            ("Roast", roast_words(lot.roast)),
        ),
        (
            "How it came here",
            ("Supplier", lot.supplier),
            ("Batch", lot.batch),
            ("Price", price_words(lot)),
            ("Quantity", quantity_words(lot.quantity_g)),
        ),
    )
    groups = (FactGroup(title, tuple(FactView(*pair) for pair in pairs if pair[1])) for title, *pairs in sides)
    return tuple(group for group in groups if group.facts)


def missing_from(lot: Lot) -> tuple[tuple[str, str], ...]:
    """Return what could still be added to a lot, as (field of the form, word)."""
    known = {
        "roast.level": lot.roast.level or lot.roast.hours or lot.roast.on,
        "harvest_year": lot.harvest_year or lot.season or lot.harvested_on,
        "region": lot.region or lot.garden,
    }
    return tuple((key, word) for key, word in WORTH_ADDING if known.get(key, getattr(lot, key, None)) in (None, "", 0))
