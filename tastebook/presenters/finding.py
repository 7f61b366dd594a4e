"""The find field and what it finds: rows to draw, a line that says what was understood, and where each row leads."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Final, Literal, TypeAlias

from tastebook.domain.arc import Column
from tastebook.domain.colour import srgb_from_lab
from tastebook.domain.errors import TastebookError
from tastebook.domain.finding import Found, Hit, Query
from tastebook.domain.finding_words import Span
from tastebook.domain.kin import Likeness, likeness_words
from tastebook.domain.liquor import chart, swatch_name
from tastebook.domain.lot import Lot
from tastebook.presenters.shelf_words import decision_words, lot_facts, lot_title
from tastebook.reports.wording import day
from tastebook.services.finding import Finding

PAGE: Final = 40
"""Hits read at a time; the next are read when one comes near the end of the list."""

MOST_LOTS_OF_PLACES: Final = 4
"""Lots told above the places that were found, where no lot was found by its own words."""

BEFORE_LETTERS: Final = 48
SHOWN_LETTERS: Final = 320
"""Of a long passage, what is shown around its first match."""

NOTHING: Final = (
    "Nothing was found for “{typed}”. Fewer words find more; accents and tones are forgiven. Try a descriptor with a "
    "strength (peach ≥ 3), a family (floral ≥ 4), a decision (declined), a date (since 2025, spring 2025), a colour "
    "(golden liquor) or one Chinese character (栗)."
)
PUZZLED: Final = "Nothing to look for yet."

RowKind: TypeAlias = Literal["heading", "lot", "place"]


@dataclass(frozen=True)
class ChipWords:
    """An impression that was looked for: its name and strength; 0 is absent."""

    name: str
    strength: int

    @property
    def told(self) -> str:
        """Return it in words."""
        return f"{self.name} absent" if self.strength == 0 else f"{self.name} {self.strength}"


@dataclass(frozen=True)
class FoundRow:
    """One row of what was found.

    Parameters
    ----------
    kind : {"heading", "lot", "place"}
    lot_uid, session_uid : str
        Where it leads; a place with a session leads to its Arc, or to its Bench while it is open.
    infusion : int
        At which to point there, 0 for none.
    title, place, facts : str
        The lot; where in the session; the day and the decision.
    sentence, spans : str, tuple of Span
        What was said, and which parts of it were looked for.
    liquor : str
        #rrggbb of the cup, empty where its colour was not noted.
    """

    kind: RowKind
    title: str
    place: str = ""
    facts: str = ""
    sentence: str = ""
    spans: tuple[Span, ...] = ()
    chips: tuple[ChipWords, ...] = ()
    liquor: str = ""
    lot_uid: str = ""
    session_uid: str = ""
    infusion: int = 0
    is_open: bool = False

    @property
    def accessible(self) -> str:
        """Return the row for assistive technology."""
        chips = ", ".join(chip.told for chip in self.chips)
        leads = {"heading": "", "lot": "Enter: open the lot", "place": "Enter: open the session"}[self.kind]
        return ". ".join(part for part in (self.title, self.place, self.facts, chips, self.sentence, leads) if part)


@dataclass(frozen=True)
class FindView:
    """What was found.

    Parameters
    ----------
    understood : str
        What was made of the words typed.
    puzzled : str
        What was not, and what would help.
    empty : str
        Stands in place of the rows when there are none.
    is_waiting : bool
        Whether the answer is still to come; until then the rows of the last one stay.
    """

    typed: str = ""
    rows: tuple[FoundRow, ...] = ()
    understood: str = ""
    puzzled: str = ""
    empty: str = ""
    told: str = ""
    has_more: bool = False
    is_waiting: bool = False


@dataclass(frozen=True)
class Asked:
    """One question to the journal: it can be answered by any thread, and an old answer is told from a new one."""

    number: int
    query: Query
    offset: int = 0


@dataclass(frozen=True)
class Answer:
    """What the journal said, or why it could not."""

    asked: Asked
    found: Found = field(default_factory=Found)
    trouble: str = ""


@dataclass(frozen=True)
class KinView:
    """A lot alike another, and why."""

    lot_uid: str
    title: str
    why: str


class FindPresenter:
    """What is found while one types.

    The screen asks with `ask`, lets `answer` run where nothing waits for it, and hands the answer to `take`.
    """

    def __init__(self, finding: Finding, lot: Callable[[str], Lot]) -> None:
        self._finding = finding
        self._lot = lot
        self._number = 0
        self._query = Query()
        self._hits: tuple[Hit, ...] = ()
        self._first_page: tuple[Hit, ...] = ()
        self._has_more = False
        self._is_waiting = False
        self._is_answered = False
        self._trouble = ""
        self._rows: tuple[FoundRow, ...] | None = None
        self._made: list[FoundRow] = []

    # -- asking

    def ask(self, typed: str) -> Asked | None:
        """Return what is to be asked of the journal, None where nothing is looked for."""
        self._number += 1
        self._query = self._finding.understand(typed)
        self._trouble = ""
        if self._query.is_empty:
            self._hits, self._first_page, self._made, self._has_more, self._rows = (), (), [], False, None
            self._is_waiting, self._is_answered = False, bool(self._query.typed)
            return None
        self._is_waiting = True
        return Asked(self._number, self._query)

    def ask_more(self) -> Asked | None:
        """Return the question for what comes after the rows shown, None if there is no more or it was asked."""
        if not self._has_more or self._is_waiting:
            return None
        self._is_waiting = True
        return Asked(self._number, self._query, len(self._hits))

    def ask_again(self) -> Asked | None:
        """Return the question anew: the journal was changed."""
        return self.ask(self._query.typed) if self._query.typed else None

    def answer(self, asked: Asked) -> Answer:
        """Return the journal's answer; any thread may ask for it."""
        try:
            return Answer(asked, self._finding.find(asked.query, PAGE, asked.offset))
        except TastebookError as exc:
            return Answer(asked, trouble=str(exc))

    def take(self, answer: Answer) -> bool:
        """Take an answer up, and say whether it was one to the question that stands."""
        if answer.asked.number != self._number:
            return False
        self._is_waiting, self._is_answered, self._trouble, self._rows = False, True, answer.trouble, None
        earlier = self._hits if answer.asked.offset else ()
        self._hits = (*earlier, *answer.found.hits)
        if not answer.asked.offset:
            self._first_page = answer.found.hits
            self._made = []
        self._made += (self._lot_row(hit) if not hit.session_uid else self._place_row(hit) for hit in answer.found.hits)
        self._has_more = answer.found.has_more
        return True

    # -- what is seen

    @property
    def typed(self) -> str:
        """Return what was typed last."""
        return self._query.typed

    def view(self) -> FindView:
        """Return what was found."""
        if self._rows is None:
            self._rows = tuple(self._work_out_rows())
        return FindView(
            self._query.typed,
            self._rows,
            " · ".join(self._query.understood),
            " ".join(self._query.puzzled),
            self._empty(),
            self._told(),
            self._has_more,
            self._is_waiting,
        )

    def swatches(self) -> tuple[tuple[tuple[str, str], ...], ...]:
        """Return the chart of liquor colours, row by row: #rrggbb and name."""
        return tuple(
            tuple((srgb_from_lab(lab), swatch_name(row, column)) for column, lab in enumerate(labs))
            for row, labs in enumerate(chart())
        )

    def with_swatch(self, row: int, column: int, typed: str) -> str:
        """Return what stands in the field once a swatch was chosen: its colour in place of one chosen before."""
        names = sorted((swatch_name(r, c) for r, labs in enumerate(chart()) for c in range(len(labs))), key=len)
        words = f" {typed} "
        for name in reversed(names):
            words = words.replace(f" {name} liquor ", " ")
        return " ".join((*words.split(), swatch_name(row, column), "liquor"))

    # -- kin

    def kin_of_lot(self, lot_uid: str) -> tuple[KinView, ...]:
        """Return the teas most like a lot; any thread may ask for them."""
        return self._kin(lambda: self._finding.kin_of_lot(lot_uid))

    def kin_of_session(self, session_uid: str) -> tuple[KinView, ...]:
        """Return the teas most like one as it was in one tasting; any thread may ask for them."""
        return self._kin(lambda: self._finding.kin_of_session(session_uid))

    def _kin(self, ask: Callable[[], Sequence[Likeness]]) -> tuple[KinView, ...]:
        names = {one.key: one.name for one in self._finding.vocabulary().families}
        try:
            return tuple(
                KinView(one.lot_uid, lot_title(self._lot(one.lot_uid)), _why(one, likeness_words(one, names)))
                for one in ask()
            )
        except TastebookError:
            return ()  # what is wrong with the journal is told where it is read

    # -- rows

    def _work_out_rows(self) -> Iterator[FoundRow]:
        lots = [row for row in self._made if row.kind == "lot"]
        places = [row for row in self._made if row.kind == "place"]
        if lots:
            yield FoundRow("heading", "Lots")
            yield from lots
        elif places:
            yield from self._lots_of(self._first_page)
        if places:
            yield FoundRow("heading", "Noted" if self._query.asks_of_column or self._query.words else "Tastings")
            yield from places

    def _lots_of(self, hits: Sequence[Hit]) -> Iterator[FoundRow]:
        """Yield the lots of the newest places, where there is more than one."""
        lots = {hit.lot.uid: hit.lot for hit in hits}
        if len(lots) < 2:
            return
        counts = {uid: sum(hit.lot.uid == uid for hit in hits) for uid in lots}
        yield FoundRow("heading", "Lots, those noted last")
        for uid, lot in list(lots.items())[:MOST_LOTS_OF_PLACES]:
            times = f"{counts[uid]} found" if counts[uid] > 1 else ""
            yield FoundRow("lot", lot_title(lot), facts=lot_facts(lot), place=times, lot_uid=uid)

    def _lot_row(self, hit: Hit) -> FoundRow:
        sentence, spans = clipped(hit.sentence, hit.spans)
        return FoundRow(
            "lot", lot_title(hit.lot), facts=lot_facts(hit.lot), sentence=sentence, spans=spans, lot_uid=hit.lot.uid
        )

    def _place_row(self, hit: Hit) -> FoundRow:
        sentence, spans = clipped(hit.sentence, hit.spans)
        where = dict.fromkeys(
            (column_words(hit.column), hit.step.lower(), hit.purpose if hit.column is None else "")
        )  # the dry leaf is a column and a step
        facts = (day(hit.day) if hit.day else "", _decision(hit),
                 "still open" if hit.is_open else "")  # fmt: skip
        return FoundRow(
            "place",
            lot_title(hit.lot),
            place=", ".join(part for part in where if part),
            facts=", ".join(part for part in facts if part),
            sentence=sentence,
            spans=spans,
            chips=tuple(ChipWords(self._name(key), strength) for key, strength in hit.perceived),
            liquor=srgb_from_lab(hit.liquor) if hit.liquor else "",
            lot_uid=hit.lot.uid,
            session_uid=hit.session_uid,
            infusion=hit.column if isinstance(hit.column, int) else 0,
            is_open=hit.is_open,
        )

    def _name(self, key: str) -> str:
        vocabulary = self._finding.vocabulary()
        return vocabulary.descriptor(key).name if vocabulary.has(key) else key

    def _told(self) -> str:
        if self._trouble or not self._is_answered or not self._hits:
            return ""
        lots = sum(not hit.session_uid for hit in self._hits)
        places = len(self._hits) - lots
        parts = [_count(lots, "lot", "lots")] if lots else []
        parts += [_count(places, "place", "places")] if places else []
        return f"{', '.join(parts)}{' so far; more as you go down' if self._has_more else ''}"

    def _empty(self) -> str:
        if self._trouble:
            return self._trouble
        if not self._is_answered or self._hits or self._is_waiting:
            return ""
        return NOTHING.format(typed=self._query.typed) if not self._query.is_empty else PUZZLED


def _decision(hit: Hit) -> str:
    if hit.decision == "rest until" and hit.rest_until is not None:
        return f"rest until {day(hit.rest_until)}"
    return decision_words(hit.decision).lower()


def _why(one: Likeness, words: str) -> str:
    return f"{words} ({_count(one.shared, 'infusion', 'infusions')} compared)"


def _count(number: int, one: str, several: str) -> str:
    return f"{number:,} {one if number == 1 else several}"


def column_words(column: Column | None) -> str:
    """Return where in a session something stands, in words."""
    if column is None:
        return "the session"
    if isinstance(column, int):
        return f"infusion {column}" if column else "rinse"
    return "dry leaf" if column == "leaf" else "at the close"


def clipped(sentence: str, spans: Sequence[Span]) -> tuple[str, tuple[Span, ...]]:
    """Return what of a sentence is shown, from a little before its first match on, in one line."""
    flat = "".join(" " if letter.isspace() else letter for letter in sentence)
    first = spans[0][0] if spans else 0
    start = 0 if first <= BEFORE_LETTERS else flat.rfind(" ", 0, first - BEFORE_LETTERS // 2) + 1
    end = len(flat) if len(flat) - start <= SHOWN_LETTERS else start + SHOWN_LETTERS
    before = "… " if start else ""
    moved = len(before) - start
    kept = tuple((a + moved, min(b, end) + moved) for a, b in spans if start <= a < end)
    return f"{before}{flat[start:end]}{' …' if end < len(flat) else ''}", kept
