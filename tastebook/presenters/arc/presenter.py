"""The Arc: what is on screen, and what each gesture does."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from tastebook.domain.errors import StoreError
from tastebook.domain.session import Tasting
from tastebook.domain.vocabulary import Vocabulary
from tastebook.presenters.arc.chart import ChartState, chart_view
from tastebook.presenters.arc.side import side_view
from tastebook.presenters.arc.table import tab_separated, table_view
from tastebook.presenters.arc.views import (
    ArcView,
    ChartView,
    ColumnView,
    CursorView,
    HeaderView,
    RowKey,
    RowView,
)
from tastebook.presenters.photo_views import LARGE_PX, PhotoSheetView, ThumbView, copy_name, seen, taken_at, thumb_view
from tastebook.reports.review import minutes_spent
from tastebook.reports.wording import began, day, stretch
from tastebook.services.photographs import Photographs
from tastebook.services.settings import Settings

MOST_PHOTOS: Final = 24
MOST_BESIDE: Final = 6


@dataclass(frozen=True)
class _Seen:
    """A view, with what it was worked out from: pointing at things asks for it many times a second."""

    tasting: Tasting
    vocabulary: Vocabulary
    settings: Settings
    state: ChartState
    chart: ChartView


def _none(_tasting: Tasting) -> tuple[str, ...]:
    return ()


class ArcPresenter:
    """What one sees of a session after it was tasted, or while it still is.

    The session is read when the whole view is asked for; pointing at things stays with what was read last.

    Parameters
    ----------
    tasting : callable
        Returns the session as it is now, such as `lambda: desk.tasting`.
    vocabulary : callable
        Returns the words known now, the user's own included.
    settings : callable
        Returns what the user has chosen.
    estimates : callable
        Returns what is estimated of the lot beyond what was tasted, in words.
    photographs : Photographs or None
        Where the photographs of the session are looked at; without, none are shown.
    """

    def __init__(
        self,
        tasting: Callable[[], Tasting],
        vocabulary: Callable[[], Vocabulary],
        settings: Callable[[], Settings],
        estimates: Callable[[Tasting], tuple[str, ...]] = _none,
        photographs: Photographs | None = None,
    ) -> None:
        self._photographs = photographs
        self._estimates = estimates
        self._tasting = tasting
        self._vocabulary = vocabulary
        self._settings = settings
        self._seen: _Seen | None = None
        self._infusion = 0
        self._row: RowKey = ""
        self._is_table = False
        self._shows_all = False

    # -- pointing

    def point_at(self, infusion: int, row: RowKey = "") -> None:
        """Point at an infusion, a row, or where they cross; 0 and empty point at none. What is not there is none."""
        chart = self._now().chart
        self._infusion = infusion if 1 <= infusion <= len(chart.columns) else 0
        self._row = row if any(row == one.key for one in chart.rows) else ""

    def step_column(self, places: int) -> None:
        """Point further right, or left below 0; coming from outside, at the peak."""
        columns = self._now().chart.columns
        if not columns:
            return
        wanted = self._infusion + places if self._infusion else self._entry(columns)
        self._infusion = max(1, min(len(columns), wanted))

    def go_to_end(self, *, last: bool) -> None:
        """Point at the first infusion, or the last."""
        self.point_at(len(self._now().chart.columns) if last else 1, self._row)

    def step_row(self, places: int) -> None:
        """Point further down, or up below 0; above the first row is none."""
        keys = [row.key for row in self._now().chart.rows]
        here = keys.index(self._row) if self._row in keys else -1
        place = max(-1, min(len(keys) - 1, here + places))
        self._row = keys[place] if place >= 0 else ""

    def clear(self) -> bool:
        """Point at nothing; return whether something was pointed at."""
        was_pointing = bool(self._infusion or self._row)
        self._infusion, self._row = 0, ""
        return was_pointing

    def cursor(self) -> CursorView:
        """Return where one points and what is there. Cheap: it may follow every movement of the pointer."""
        chart = self._now().chart
        self._forget_what_is_gone(chart)
        column = chart.columns[self._infusion - 1] if self._infusion else None
        row = next((one for one in chart.rows if one.key == self._row), None)
        line = _line(column, row)
        return CursorView(self._infusion, self._row, line, _spoken(column, row) or line)

    def _forget_what_is_gone(self, chart: ChartView) -> None:
        if self._infusion > len(chart.columns):
            self._infusion = len(chart.columns)
        if all(row.key != self._row for row in chart.rows):
            self._row = ""

    def _entry(self, columns: Sequence[ColumnView]) -> int:
        return next((column.index for column in columns if column.is_peak), 1)

    # -- what is laid out

    def toggle_table(self) -> None:
        """Show the readings as a table, or as the chart again."""
        self._is_table = not self._is_table

    def toggle_quotes(self) -> None:
        """Show every saying, or the richest again."""
        self._shows_all = not self._shows_all

    def copied_table(self) -> str:
        """Return the whole table as text for a spreadsheet."""
        return tab_separated(table_view(self._now().chart))

    def view(self) -> ArcView:
        """Return everything the Arc shows."""
        seen = self._read()
        return ArcView(
            session_uid=seen.tasting.session.uid,
            header=_header(seen.state),
            chart=seen.chart,
            side=side_view(
                seen.state, self._estimates(seen.tasting), self._photos(seen.tasting), shows_all=self._shows_all
            ),
            table=table_view(seen.chart),
            is_table=self._is_table,
        )

    # -- photographs

    def photo(self, uid: str) -> PhotoSheetView | None:
        """Return one photograph, large; None if it is there no more."""
        tasting = self._now().tasting
        photo = next((one for one in tasting.photos if one.uid == uid), None)
        if photo is None or self._photographs is None:
            return None
        raster, title = seen(self._photographs, photo, LARGE_PX), taken_at(tasting, photo)
        others = self._photos(tasting)[-MOST_BESIDE:] if len(tasting.photos) > 1 else ()
        return PhotoSheetView(uid, raster, title, photo.caption, "look", others=others, can_change=False)

    def copy_name(self, uid: str) -> str:
        """Return a file name for a copy of a photograph."""
        tasting = self._now().tasting
        return next((copy_name(tasting, one) for one in tasting.photos if one.uid == uid), "")

    def copy(self, uid: str, path: str) -> bytes:
        """Return a photograph to be handed on: nothing but its pixels.

        Raises
        ------
        StoreError
            If it is there no more.
        """
        photo = next((one for one in self._now().tasting.photos if one.uid == uid), None)
        if photo is None or self._photographs is None:
            raise StoreError("That photo is no longer here.")
        return self._photographs.copy(photo, path)

    def _photos(self, tasting: Tasting) -> tuple[ThumbView, ...]:
        if self._photographs is None:
            return ()
        thumbs = [(one, thumb_view(self._photographs, one)) for one in tasting.photos[-MOST_PHOTOS:]]
        return tuple(replace(thumb, name=_named(taken_at(tasting, one), one.caption)) for one, thumb in thumbs)

    def _now(self) -> _Seen:
        return self._seen or self._read()

    def _read(self) -> _Seen:
        tasting, vocabulary, settings = self._tasting(), self._vocabulary(), self._settings()
        seen = self._seen
        if seen and (seen.tasting, seen.vocabulary, seen.settings) == (tasting, vocabulary, settings):
            return seen
        state = ChartState(tasting, vocabulary, settings.fahrenheit)
        self._seen = _Seen(tasting, vocabulary, settings, state, chart_view(state))
        return self._seen


def _named(place: str, caption: str) -> str:
    return f"{place}: {caption}" if caption else place


def _line(column: ColumnView | None, row: RowView | None) -> str:
    if row is None:
        return column.line if column else ""
    if column is None:
        return row.sentence
    cell = row.cells[column.index - 1]
    value = f"{cell.value}, " if cell.value else ""
    return f"{row.name} at {column.label}: {value}{cell.spoken}"


def _spoken(column: ColumnView | None, row: RowView | None) -> str:
    return column.spoken if column and row is None else ""


def _header(state: ChartState) -> HeaderView:
    lot, session = state.tasting.lot, state.tasting.session
    source = ", ".join(part for part in (lot.supplier or lot.garden, f"lot {lot.batch}" if lot.batch else "") if part)
    return HeaderView(
        title=lot.name,
        cultivar=lot.cultivar_local or lot.cultivar,
        source=source,
        facts=f"{day(began(session))}, {_course_run(state)}",
        bench="Back to the Bench" if session.is_open else "Open the Bench",
    )


def _course_run(state: ChartState) -> str:
    poured = sum(one.is_poured and one.index > 0 for one in state.tasting.infusions)
    told = f"{poured} {'infusion' if poured == 1 else 'infusions'}"
    minutes = minutes_spent(state.tasting)
    return f"{told} so far" if minutes is None else f"{told} in {stretch(60 * minutes)}"
