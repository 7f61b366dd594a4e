"""The Shelf: the lots one has, what is owed to each, and the one next act."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal, TypeAlias

from tastebook.domain.act import Act
from tastebook.domain.colour import srgb_from_lab
from tastebook.domain.errors import TastebookError
from tastebook.presenters.finding import FindPresenter
from tastebook.presenters.lot_form import BLANK_LOT, LotFormPresenter, next_batch
from tastebook.presenters.lot_page import LotPagePresenter
from tastebook.presenters.opening import OpeningPresenter
from tastebook.presenters.shelf_words import lot_facts, session_day, verdict_words
from tastebook.reports.wording import day
from tastebook.services.ports import LotLine, SessionLine
from tastebook.services.shelf import Owed, Shelf, is_rested, owed_to

EMPTY: Final = "The Shelf is empty. Add the first lot: a name is enough, the rest can follow."

NextAct: TypeAlias = Literal["taste", "resume", "write", "open"]

GROUPS: Final[tuple[tuple[Owed, str], ...]] = (
    ("half tasted", "Half tasted"),
    ("to taste", "To taste"),
    ("to write", "To write"),
    ("resting", "Resting"),
    ("done", "Done"),
    ("archived", "Put away"),
)

NEXT_ACTS: Final[dict[Owed, tuple[NextAct, str]]] = {
    "half tasted": ("resume", "Resume"),
    "to taste": ("taste", "Taste"),
    "to write": ("write", "Write verdict"),
    "resting": ("open", "Open"),
    "done": ("open", "Open"),
    "archived": ("open", "Open"),
}


@dataclass(frozen=True)
class CupView:
    """One cup of the last session; `hex` is #rrggbb."""

    label: str
    hex: str


@dataclass(frozen=True)
class RowView:
    """One lot as a row.

    `session_uid` is the session that the next act concerns, empty for a new one.
    """

    lot_uid: str
    name: str
    facts: str
    cups: tuple[CupView, ...]
    owed: str
    verdict: str
    act: NextAct
    act_label: str
    session_uid: str
    accessible: str


@dataclass(frozen=True)
class GroupView:
    """Lots that are owed the same. Rows are asked for one by one with `ShelfPresenter.row`: few are ever seen."""

    key: Owed
    title: str
    lot_uids: tuple[str, ...]
    is_folded: bool = False

    @property
    def told(self) -> str:
        """Return the heading with its number, for assistive technology."""
        count = len(self.lot_uids)
        return f"{self.title}, {count} {'lot' if count == 1 else 'lots'}"


@dataclass(frozen=True)
class ShelfView:
    """The whole Shelf.

    `empty` stands in place of the rows when there are none.
    """

    groups: tuple[GroupView, ...]
    summary: str
    empty: str
    notice: str
    read_only: str

    @property
    def can_add(self) -> bool:
        """Say whether lots can be added and amended."""
        return not self.read_only


class ShelfPresenter:
    """What the Shelf shows, and what each gesture does.

    Everything is read once and kept until an act changes the journal. What is looked for is the business of `finding`.
    """

    def __init__(self, shelf: Shelf, finding: FindPresenter) -> None:
        self._shelf = shelf
        self.finding = finding
        self._lines: dict[str, LotLine] | None = None
        self._rows: dict[str, RowView] = {}
        self._today = shelf.today()
        self._version = 0
        self._shows_archived = False
        self._notice = ""
        self._undone = ""
        self._page: LotPagePresenter | None = None
        shelf.listen(self._on_act)

    # -- gestures

    def fold_archived(self, *, is_folded: bool) -> None:
        """Show the lots put away as one line only, or each."""
        self._shows_archived = not is_folded

    def toggle_archived(self) -> None:
        """Show or hide the lots put away."""
        self._shows_archived = not self._shows_archived

    def dismiss(self) -> None:
        """Take note of what was told."""
        self._notice = ""

    def reread(self) -> None:
        """Read everything anew when it is next shown: the journal was changed."""
        self._lines = None
        if self._page is not None:
            self._page.reread()

    def look_again(self) -> None:
        """Read everything anew if another window has changed the journal, or a new day has begun."""
        if (self._today, self._version) != (self._shelf.today(), self._shelf.outside_version()):
            self.reread()

    def undo(self, lot_uid: str) -> None:
        """Take back the newest act on a lot, and say what it was."""
        self._turn(lambda: self._shelf.undo(lot_uid), "Taken back", lot_uid)

    def redo(self, lot_uid: str = "") -> None:
        """Do again what was taken back last, here or else on a lot."""
        concerned = self._undone or lot_uid
        self._turn(lambda: self._shelf.redo(concerned), "Done again", concerned)

    def page(self, lot_uid: str) -> LotPagePresenter:
        """Return the presenter of one lot's page."""
        self._page = LotPagePresenter(self._shelf, lambda: tuple(self._read().values()), lot_uid, self.finding)
        return self._page

    def form(self, lot_uid: str) -> LotFormPresenter:
        """Return the form that amends a lot."""
        return LotFormPresenter(self._shelf, tuple(self._read().values()), self._shelf.lot(lot_uid), is_new=False)

    def new_form(self, follows: str = "") -> LotFormPresenter:
        """Return the form of a new lot, filled from the lot that it follows, if any."""
        start = next_batch(self._shelf.lot(follows)) if follows else BLANK_LOT
        return LotFormPresenter(self._shelf, tuple(self._read().values()), start, is_new=True)

    def opening(self, lot_uid: str, taster: str = "") -> OpeningPresenter:
        """Return the new-session card for a lot."""
        lines = self._read()
        line = lines[lot_uid]
        before = lines.get(line.lot.follows or "")
        return OpeningPresenter(self._shelf, line, taster, before.lot if before else None)

    def lose_page(self) -> None:
        """Go on without the page, whose lot is no longer in the journal; what it told is told here."""
        if self._page is not None:
            self._notice, self._undone = self._page.notice, self._page.lot_uid
            self._page = None

    # -- what is seen

    def view(self) -> ShelfView:
        """Return everything the Shelf shows."""
        lines = self._read()
        return ShelfView(
            groups=self._groups(lines.values()),
            summary=self._summary(lines.values()),
            empty="" if lines else EMPTY,
            notice=self._notice,
            read_only=self._shelf.read_only_because,
        )

    def row(self, lot_uid: str) -> RowView:
        """Return one lot as a row."""
        if lot_uid not in self._rows:
            self._rows[lot_uid] = row_view(self._read()[lot_uid], self._today)
        return self._rows[lot_uid]

    def knows(self, lot_uid: str) -> bool:
        """Say whether a lot is in the journal."""
        return lot_uid in self._read()

    def _groups(self, found: Iterable[LotLine]) -> tuple[GroupView, ...]:
        by_owed: dict[Owed, list[LotLine]] = {key: [] for key, _ in GROUPS}
        for line in found:
            by_owed[owed_to(line, self._today)].append(line)
        folded = not self._shows_archived
        return tuple(
            GroupView(
                key, title, tuple(line.lot.uid for line in _sorted(key, by_owed[key])), key == "archived" and folded
            )
            for key, title in GROUPS
            if by_owed[key]
        )

    def _summary(self, lines: Iterable[LotLine]) -> str:
        on_shelf = [owed_to(line, self._today) for line in lines if not line.lot.archived]
        owed = [(key, on_shelf.count(key)) for key in ("half tasted", "to taste", "to write")]
        parts = [f"{len(on_shelf)} {'lot' if len(on_shelf) == 1 else 'lots'}", *(f"{n} {key}" for key, n in owed if n)]
        return ", ".join(parts) if on_shelf else ""

    def _read(self) -> dict[str, LotLine]:
        if self._lines is None:
            try:
                self._version = self._shelf.outside_version()
                self._lines = {line.lot.uid: line for line in self._shelf.lines()}
            except TastebookError as exc:
                self._lines, self._notice = {}, str(exc)
            self._today = self._shelf.today()
            self._rows.clear()
        return self._lines

    def _turn(self, turn: Callable[[], str], done: str, lot_uid: str) -> None:
        try:
            label = turn()
        except TastebookError as exc:
            self._notice = str(exc)
            return
        self._undone = lot_uid
        self._notice = f"{done}: {label}." if label else ""

    def _on_act(self, act: Act) -> None:
        if act.kind == "do":
            self._undone = ""
        self.reread()


def row_view(line: LotLine, today: date) -> RowView:
    """Return one lot as a row."""
    owed = owed_to(line, today)
    act, act_label = NEXT_ACTS[owed]
    last = line.sessions[-1] if line.sessions else None
    session = _concerned(line, owed)
    owed_told = owed_words(owed, line, today)
    facts, verdict = lot_facts(line.lot), _last_verdict(line.sessions)
    parts = (line.lot.name, facts, owed_told, verdict, f"Enter: {act_label}")
    return RowView(
        lot_uid=line.lot.uid,
        name=line.lot.name,
        facts=facts,
        cups=cups_of(last) if last else (),
        owed=owed_told,
        verdict=verdict,
        act=act,
        act_label=act_label,
        session_uid=session.uid if session else "",
        accessible=". ".join(part for part in parts if part),
    )


def cups_of(session: SessionLine) -> tuple[CupView, ...]:
    """Return a session's liquors as cups, without the rinse."""
    return tuple(CupView(str(index), srgb_from_lab(lab)) for index, lab in session.liquors if index > 0)


def owed_words(owed: Owed, line: LotLine, today: date) -> str:
    """Return what a lot is owed, in words."""
    if not line.sessions:
        return "never tasted" if owed == "to taste" else "put away"
    last = line.sessions[-1]
    if owed == "half tasted":
        session = _concerned(line, owed) or last
        poured = session.infusions_poured
        cups = f"{poured} {'infusion' if poured == 1 else 'infusions'} poured" if poured else "nothing poured yet"
        return f"begun {session_day(session)}, {cups}"
    if owed == "to write":
        return f"tasted {session_day(last)}, no verdict yet"
    if owed == "to taste" and is_rested(last, today):
        return f"rested until {day(date.fromisoformat(last.rest_until))}: taste it again"
    if owed == "resting":
        return f"resting until {day(date.fromisoformat(last.rest_until))}" if last.rest_until else "resting"
    return f"tasted {session_day(last)}"


def _concerned(line: LotLine, owed: Owed) -> SessionLine | None:
    if owed == "half tasted":
        return next(session for session in reversed(line.sessions) if session.is_open)
    return line.sessions[-1] if owed == "to write" else None


def _last_verdict(sessions: Sequence[SessionLine]) -> str:
    told = next((one for one in reversed(sessions) if one.has_verdict and (one.decision or one.headline)), None)
    if told is None:
        return ""
    return verdict_words(told.decision, told.headline)


def _sorted(owed: Owed, lines: Iterable[LotLine]) -> list[LotLine]:
    """Return lots in the order in which they press: what has waited longest to be written, what rests shortest."""
    if owed == "to write":
        return sorted(lines, key=lambda line: line.sessions[-1].started_at_utc)
    if owed == "resting":
        return sorted(lines, key=lambda line: line.sessions[-1].rest_until or "9999")
    if owed in ("half tasted", "done"):
        return sorted(lines, key=lambda line: line.sessions[-1].started_at_utc, reverse=True)
    return list(lines)
