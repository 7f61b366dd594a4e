"""Paints everything of the arc's chart but its curves: head, names, rules, cups, steeps and words."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QLinearGradient, QPainter, QPen, QRegion

from tastebook.presenters.arc.views import BandView, ChartView, ColumnView, CursorView, RowView
from tastebook.ui.arc.layout import FOOT_PX, HEAD_PX, MARGIN_PX, SIDE_REACH_PX, TOP_PX, ChartLayout
from tastebook.ui.theme.fonts import sans, serif, serif_italic
from tastebook.ui.theme.theme import Theme
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint

NUMBER_BASELINE_PX: Final = 24.0
_PILL: Final = QRectF(-20, 2, 40, 30)
_GLYPH_PX: Final = 18.0
_NAME_INDENT_PX: Final = 28.0
_BAND_HALF_PX: Final = 7.0
_LINE_PX: Final = 19.0


@dataclass(frozen=True)
class Scene:
    """What is painted, where it stands, what is pointed at, and how much of it is to be painted again."""

    view: ChartView
    lay: ChartLayout
    cursor: CursorView
    scrolled: QPointF
    exposed: QRegion
    has_keyboard: bool

    @property
    def pointed(self) -> ColumnView | None:
        """Return the infusion that is pointed at."""
        infusion = self.cursor.infusion
        return self.view.columns[infusion - 1] if 1 <= infusion <= len(self.view.columns) else None

    @property
    def columns(self) -> list[ColumnView]:
        """Return the infusions of which anything is to be painted, with what reaches into them from beside."""
        places = ((column, column_rect(self.lay, column.index, self.scrolled.x())) for column in self.view.columns)
        reach = self.lay.pitch / 2
        return [
            column
            for column, place in places
            if self.exposed.intersects(place.adjusted(-reach, 0, reach, 0).toAlignedRect())
        ]

    def shows(self, top: float, bottom: float) -> bool:
        """Say whether anything between two heights of the body is to be painted."""
        down = HEAD_PX - self.scrolled.y()
        return self.exposed.intersects(QRectF(0, top + down, self.lay.width, bottom - top).toAlignedRect())


def column_rect(lay: ChartLayout, infusion: int, scrolled_x: float) -> QRectF:
    """Return the band of one infusion, from head to foot."""
    half = min(SIDE_REACH_PX, lay.pitch / 2)
    return QRectF(lay.across(infusion) - scrolled_x - half, 0, 2 * half, lay.height - FOOT_PX)


class ChartPainter:
    """Paints one scene."""

    def __init__(self, painter: QPainter, theme: Theme, scene: Scene) -> None:
        self._painter, self._theme, self._scene = painter, theme, scene
        self._view, self._lay = scene.view, scene.lay
        self._text, self._key = sans(tokens().type_px.text), sans(tokens().type_px.key, tokens().weight.label)
        self._name = sans(tokens().type_px.word, tokens().weight.label)

    def paint(self) -> None:
        """Paint head and body."""
        lay, scrolled = self._lay, self._scene.scrolled
        with self._clipped(self._window(0, lay.height), -scrolled.x(), 0):
            self._pointed_band()
        with self._clipped(QRectF(0, HEAD_PX, lay.width, lay.height - HEAD_PX), 0, HEAD_PX - scrolled.y()):
            self._body()
        self._head()

    @contextmanager
    def _clipped(self, clip: QRectF, dx: float, dy: float) -> Iterator[None]:
        """Paint inside `clip`, with everything moved by so much."""
        self._painter.save()
        self._painter.setClipRect(clip, Qt.ClipOperation.IntersectClip)
        self._painter.translate(dx, dy)
        yield
        self._painter.restore()

    def _window(self, top: float, height: float) -> QRectF:
        left, right = self._lay.window
        return QRectF(left, top, right - left, height)

    # -- head

    def _head(self) -> None:
        lay, theme = self._lay, self._theme
        if not self._view.columns:
            return
        end = paint.text(self._painter, MARGIN_PX, NUMBER_BASELINE_PX, "Infusion", self._text, theme.ink2)
        pointed = self._scene.pointed
        if self._scene.has_keyboard and pointed is None:
            ring = QRectF(MARGIN_PX - 8, 4, end - MARGIN_PX + 16, 28)
            paint.focus_ring(self._painter, theme, ring, tokens().radius_px.key)
        if pointed is not None:
            told = f"at infusion {pointed.label}"
            paint.text(self._painter, lay.words_left, NUMBER_BASELINE_PX, told, self._text, theme.ink2)
        with self._clipped(self._window(0, HEAD_PX), -self._scene.scrolled.x(), 0):
            for column in self._view.columns:
                self._number(column, is_pointed=column is pointed)

    def _number(self, column: ColumnView, *, is_pointed: bool) -> None:
        theme, x = self._theme, self._lay.across(column.index)
        pill, radius = _PILL.translated(x, 0), tokens().radius_px.chip
        if column.is_peak:
            paint.rounded(self._painter, pill, radius, theme.accent)
        if is_pointed and self._scene.has_keyboard:
            around = pill.adjusted(-2, -2, 2, 2) if column.is_peak else pill
            ring = theme.accent if not column.is_peak else theme.ink
            paint.rounded(self._painter, around, radius, None, ring, tokens().line_px.focus)
        weight = tokens().weight.serif_heading if column.is_peak else tokens().weight.serif_value
        ink = theme.on_accent if column.is_peak else theme.ink if column.is_assessed else theme.ink3
        font = serif(tokens().type_px.value, weight)
        paint.text(self._painter, x, NUMBER_BASELINE_PX, column.label, font, ink, "centre")

    def _pointed_band(self) -> None:
        pointed = self._scene.pointed
        if pointed is None:
            return
        band = column_rect(self._lay, pointed.index, 0)
        band.setBottom(min(band.bottom(), HEAD_PX + self._lay.total - self._scene.scrolled.y()))
        paint.rounded(self._painter, band, tokens().radius_px.chip, self._theme.accent_soft)

    # -- body, its top at 0

    def _body(self) -> None:
        lay = self._lay
        for place, row in enumerate(self._view.rows):
            if not self._scene.shows(*lay.extent(place)):
                continue
            if row.kind == "family":
                self._family(row, place)
            else:
                self._scale(row, place - len(self._view.families))
        if self._view.empty[0]:
            self._empty()
        if self._view.columns:
            self._cups_named()
        with self._clipped(self._window(0, max(lay.total, lay.height)), -self._scene.scrolled.x(), 0):
            self._grid()
            if self._scene.shows(lay.cup_line - 30, lay.scales_top):
                self._cups()
                for column in self._scene.columns:
                    self._steep(column)

    def _empty(self) -> None:
        title, words = self._view.empty
        width = self._lay.words_right - MARGIN_PX
        middle = MARGIN_PX + width / 2
        heading = serif(tokens().type_px.heading, tokens().weight.serif_heading)
        paint.text(self._painter, middle, 56, title, heading, self._theme.ink, "centre")
        line = paint.elided(words, sans(tokens().type_px.word), width)
        paint.text(self._painter, middle, 88, line, sans(tokens().type_px.word), self._theme.ink2, "centre")

    def _rule(self, y: float, *, is_pointed: bool) -> None:
        colour = self._theme.accent if is_pointed else self._theme.hairline
        self._painter.setPen(QPen(colour, tokens().line_px.focus if is_pointed else tokens().line_px.hairline))
        self._painter.drawLine(QPointF(MARGIN_PX, y + 0.5), QPointF(self._lay.words_right, y + 0.5))

    def _is_pointed(self, row: RowView) -> bool:
        return row.key == self._scene.cursor.row

    def _family(self, row: RowView, place: int) -> None:
        base = self._lay.base(place)
        baseline = base - 11
        self._rule(base, is_pointed=self._is_pointed(row))
        paint.glyph(self._painter, self._theme, row.family, MARGIN_PX, baseline - 15, _GLYPH_PX)
        paint.text(self._painter, MARGIN_PX + _NAME_INDENT_PX, baseline, row.name, self._name, self._theme.ink)
        self._row_words(row, baseline)

    def _scale(self, row: RowView, place: int) -> None:
        base = self._lay.scale_base(place)
        baseline = base - 5
        self._rule(base + 4, is_pointed=self._is_pointed(row))
        name = paint.elided(row.name, self._name, self._lay.window[0] - MARGIN_PX - 4)
        paint.text(self._painter, MARGIN_PX, baseline, name, self._name, self._theme.ink)
        self._row_words(row, baseline)

    def _row_words(self, row: RowView, baseline: float) -> None:
        """Write what stands at the right of a row: of the infusion pointed at, or else of the whole row."""
        pointed = self._scene.pointed
        cell = row.cells[pointed.index - 1] if pointed else None
        words, value = (cell.words, cell.value) if cell else (row.word, row.peak)
        lay, theme = self._lay, self._theme
        font = serif(tokens().type_px.value, tokens().weight.serif_heading)
        paint.text(self._painter, lay.words_right, baseline + 0.5, value, font, theme.ink, "right")
        room = lay.words_right - lay.words_left - (paint.text_width(value, font) + 10 if value else 0)
        paint.text(
            self._painter, lay.words_left, baseline, paint.elided(words, self._text, room), self._text, theme.ink2
        )

    def _grid(self) -> None:
        lay = self._lay
        for column in self._scene.columns:
            x = lay.across(column.index)
            if self._view.families and column.is_assessed:
                self._upright(x, 2, lay.cup_line)
            elif self._view.families:
                self._gap(x, lay.cup_line)
            if self._view.scales:
                self._upright(x, lay.scales_top + 10, lay.scale_base(len(self._view.scales) - 1) + 4)

    def _upright(self, x: float, top: float, bottom: float) -> None:
        self._painter.setPen(QPen(self._theme.hairline, tokens().line_px.hairline))
        self._painter.drawLine(QPointF(x, top), QPointF(x, bottom))

    def _gap(self, x: float, ends: float) -> None:
        """Mark an infusion at which aroma was not assessed, so that its gap is not read as nothing."""
        self._painter.setPen(paint.dashed_pen(self._theme.outline, 1, (3, 4)))
        self._painter.drawLine(QPointF(x, 2), QPointF(x, ends))
        words, font = "not assessed", self._text
        width = paint.text_width(words, font)
        if width + 16 > self._lay.rows_end - TOP_PX:
            return
        self._painter.save()
        self._painter.translate(x, (self._lay.rows_end + TOP_PX) / 2 + width / 2)
        self._painter.rotate(-90)
        self._painter.fillRect(QRectF(-6, -10, width + 12, 20), self._ground(x))
        paint.text(self._painter, 0, 5, words, font, self._theme.ink3)
        self._painter.restore()

    def _ground(self, x: float) -> QColor:
        pointed = self._scene.pointed
        is_pointed = pointed is not None and abs(self._lay.across(pointed.index) - x) < 1
        return self._theme.accent_soft if is_pointed else self._theme.surface

    # -- liquor and steep

    def _cups_named(self) -> None:
        lay, theme, pointed = self._lay, self._theme, self._scene.pointed
        steep = lay.steep_baseline
        for name, baseline in (("Liquor", lay.cup_line + 6), ("Steep", steep), ("Water", steep + 24)):
            paint.text(self._painter, MARGIN_PX, baseline, name, self._name, theme.ink)
        self._liquor_mark(lay.cup_line + 6)
        liquor = self._view.liquor if pointed is None else pointed.liquor or "not judged"
        self._broken(liquor, lay.cup_line)
        told = self._view.steep
        if pointed is not None:
            told = f"{pointed.deviation} s against plan" if pointed.deviation else "on plan" if pointed.steep else ""
        room = lay.words_right - lay.words_left
        paint.text(self._painter, lay.words_left, steep, paint.elided(told, self._text, room), self._text, theme.ink2)

    def _liquor_mark(self, baseline: float) -> None:
        """Write how the liquor was judged after its name, or below it where the first cup is near."""
        mark, font = self._view.liquor_mark, serif_italic(tokens().type_px.text)
        after = MARGIN_PX + paint.text_width("Liquor", self._name) + 8
        fits = after + paint.text_width(mark, font) <= self._lay.window[0]
        x, y = (after, baseline) if fits else (MARGIN_PX, baseline + 20)
        paint.text(self._painter, x, y, mark, font, self._theme.ink2)

    def _broken(self, words: str, middle: float) -> None:
        """Write words in two lines at the most, about a middle; the break is after the first comma."""
        lay = self._lay
        room = lay.words_right - lay.words_left
        first, comma, rest = words.partition(", ")
        lines = [words] if paint.text_width(words, self._text) <= room or not rest else [first + comma.strip(), rest]
        top = middle + 6 - _LINE_PX * (len(lines) - 1) / 2
        for number, line in enumerate(lines):
            shown = paint.elided(line, self._text, room)
            paint.text(self._painter, lay.words_left, top + _LINE_PX * number, shown, self._text, self._theme.ink2)

    def _cups(self) -> None:
        lay, theme = self._lay, self._theme
        shown = {column.index for column in self._scene.columns}
        for band in self._view.bands:
            if shown & {band.after, band.after + 1}:
                self._band(band)
        for column in self._scene.columns:
            centre = QPointF(lay.across(column.index), lay.cup_line)
            if column.cup:
                paint.cup(self._painter, theme, centre, lay.cup_radius, QColor(column.cup))
            else:
                self._painter.setPen(Qt.PenStyle.NoPen)
                self._painter.setBrush(self._ground(centre.x()))
                self._painter.drawEllipse(centre, lay.cup_radius, lay.cup_radius)
                paint.empty_cup(self._painter, theme, centre, lay.cup_radius)

    def _band(self, band: BandView) -> None:
        lay, theme = self._lay, self._theme
        left, right = lay.across(band.after), lay.across(band.after + 1)
        flow = QLinearGradient(left, 0, right, 0)
        for step, colour in enumerate(band.colours):
            flow.setColorAt(step / (len(band.colours) - 1), QColor(colour))
        place = QRectF(left, lay.cup_line - _BAND_HALF_PX, right - left, 2 * _BAND_HALF_PX)
        self._painter.fillRect(place, flow)
        self._painter.setPen(QPen(theme.porcelain_edge, 1))
        self._painter.drawLine(place.topLeft(), place.topRight())
        self._painter.drawLine(place.bottomLeft(), place.bottomRight())

    def _steep(self, column: ColumnView) -> None:
        lay, theme, painter = self._lay, self._theme, self._painter
        x, baseline = lay.across(column.index), lay.steep_baseline
        font = self._steep_font()
        end = paint.text(painter, x, baseline, column.steep, font, theme.ink, "centre")
        if column.deviation and lay.is_roomy:
            paint.text(painter, end + 5, baseline - 1, column.deviation, self._key, theme.ink2)
        elif column.deviation.startswith("+"):
            paint.triangle_up(painter, theme.ink2, QPointF(end + 2, baseline), 7, 7)
        elif column.deviation:
            paint.triangle_down(painter, theme.ink2, QPointF(end + 2, baseline - 7), 7, 7)
        paint.text(painter, x, baseline + 23, column.water, self._text, theme.ink2, "centre")

    def _steep_font(self) -> QFont:
        return serif(tokens().type_px.value if self._lay.pitch >= 60 else tokens().type_px.word, 500)
