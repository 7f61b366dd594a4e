"""The infusion strip: at once the way through the session and its chart."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, QSize, Qt, QVariantAnimation, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QKeyEvent,
    QLinearGradient,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from tastebook.presenters.bench.views import BarView, ColumnView, StripView
from tastebook.ui.bench.strip_layout import (
    CURRENT_PX,
    GAP_PX,
    NARROW_PX,
    Zone,
    column_rects,
    column_widths,
    spread,
    stack_of,
    zone_of,
)
from tastebook.ui.theme.fonts import sans, serif, serif_italic
from tastebook.ui.theme.theme import Theme, Themes, faded
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint

HEIGHT_PX: Final = 264
LOW_HEIGHT_PX: Final = 216
LOWEST_HEIGHT_PX: Final = 196
MOST_LABELS: Final = 6
LABEL_PX: Final = 20
GLYPH_FROM_PX: Final = 16.5
LEAST_HINT_PX: Final = 96
LOW_BASE_PX: Final = 150
LEAF_COLOUR: Final = QColor("#5B4A33")
STACKS_BEGIN_PX: Final = 20
STACKS_END_PX: Final = 48
"""No stack begins farther from the left edge of its column, and none ends nearer to it."""
SHADOW_PX: Final = 32
TAPER: Final = 0.34
"""A family that begins or ends reaches this far into the gap between two columns."""


class ColumnButton(QAbstractButton):
    """One column of the strip, for the finger, the keyboard and the screen reader; the strip paints it."""

    def __init__(self, strip: InfusionStrip) -> None:
        super().__init__(strip)
        self._strip = strip
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setCheckable(True)
        self.key = ""
        self.clicked.connect(lambda: strip.column_requested.emit(self.key))

    def show_column(self, column: ColumnView) -> None:
        """Take the name and state of a column."""
        self.key = column.key
        self.setAccessibleName(column.accessible)
        self.setChecked(column.is_current)

    def nextCheckState(self) -> None:
        """Stay as one is: the Bench says which column is the current one."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let Enter choose: Space is the pedal."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        self._strip.reveal(self)
        super().focusInEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw nothing: the strip draws the column whole."""

    def event(self, event: QEvent) -> bool:
        if event.type() in (QEvent.Type.Enter, QEvent.Type.Leave, QEvent.Type.FocusIn, QEvent.Type.FocusOut):
            self._strip.update(self.geometry().adjusted(-2, -GAP_PX, 2, GAP_PX))
        return super().event(event)


class InfusionStrip(QWidget):
    """Draws a `StripView`; beyond its width it scrolls, the current column always whole."""

    column_requested = Signal(str)

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._themes = themes
        self._view = StripView(())
        self._rects: list[QRectF] = []
        self._offset = 0.0
        self._buttons: list[ColumnButton] = []
        self._grown = 1.0
        self._new_bars: set[tuple[str, str]] = set()
        self._growth = QVariantAnimation(self)
        self._growth.setStartValue(0.0)
        self._growth.setEndValue(1.0)
        self._growth.valueChanged.connect(self._grow)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Infusion strip")
        themes.changed.connect(self.update)

    def sizeHint(self) -> QSize:
        return QSize(1392, HEIGHT_PX)

    def show_view(self, view: StripView) -> None:
        """Draw another state of the strip."""
        if view == self._view:
            return
        moved = self._current_key(view) != self._current_key(self._view)
        before, frame, was_whole = self._view.columns, self._frame(), self._shows_current()
        self._begin_growth(view)
        self._view = view
        self._lay_out(reveal=moved or not self._rects)
        if was_whole and not self._shows_current():  # columns came or grew beside it
            self._lay_out(reveal=True)
        if self._new_bars or self._frame() != frame:
            self.update()
        else:
            self.update(self._changed_since(before))

    def _frame(self) -> tuple[object, ...]:
        """Return what every column is drawn by: while it stays, only columns that changed are painted again."""
        return self._rects, self._offset, zone_of(self.height(), self._view.columns)

    def _changed_since(self, before: Sequence[ColumnView]) -> QRect:
        area = QRectF()
        for place, (old, new) in enumerate(zip(before, self._view.columns, strict=True)):
            if old.bars != new.bars or old.kind != new.kind:
                area = area.united(self._reach_of(place))
            elif old != new:
                area = area.united(self._rects[place].translated(-self._offset, 0).adjusted(0, -GAP_PX, 0, GAP_PX))
        return area.toAlignedRect()

    def _reach_of(self, place: int) -> QRectF:
        """Return where a column is drawn: its box, and the ribbons to the stacks at both sides."""
        own = self._rects[place]
        left = self._rects[place - 1].left() + STACKS_END_PX if place > 0 else own.left()
        right = self._rects[place + 1].left() + STACKS_BEGIN_PX if place + 1 < len(self._rects) else own.right()
        return QRectF(left - self._offset, 0, right - left, self.height())

    def _shows_current(self) -> bool:
        """Say whether the current column is whole."""
        if not self._rects:
            return False
        rect = self._rects[self._view.current].translated(-self._offset, 0)
        return rect.left() >= -1 and rect.right() <= self.width() + 1

    @staticmethod
    def _current_key(view: StripView) -> str:
        return view.columns[view.current].key if view.columns else ""

    # -- geometry

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._lay_out(reveal=True)

    def _lay_out(self, *, reveal: bool) -> None:
        widths = column_widths(self._view.columns, self.width())
        self._rects = column_rects(widths, self.height() - 2 * GAP_PX)
        if reveal and self._rects:
            self._reveal(self._rects[self._view.current])
        self._offset = max(0.0, min(self._offset, self._overflow()))
        self._place_buttons()

    def _overflow(self) -> float:
        return max(0.0, self._rects[-1].right() - self.width()) if self._rects else 0.0

    def _reveal(self, rect: QRectF) -> None:
        """Scroll so that the current column is whole and what follows it shows."""
        ahead = min(self._rects[-1].right(), rect.right() + 120)
        self._offset = max(self._offset, ahead - self.width())
        self._offset = min(self._offset, max(0.0, rect.left() - GAP_PX))

    def reveal(self, button: ColumnButton) -> None:
        """Scroll so that the column of a button is whole."""
        self._reveal(self._rects[self._buttons.index(button)])
        self._place_buttons()
        self.update()

    def _place_buttons(self) -> None:
        while len(self._buttons) < len(self._view.columns):
            button = ColumnButton(self)
            button.show()
            self._buttons.append(button)
        for button in self._buttons[len(self._view.columns) :]:
            button.hide()
        for button, column, rect in zip(self._buttons, self._view.columns, self._rects, strict=False):
            button.setGeometry(rect.translated(-self._offset, 0).toAlignedRect())
            button.show_column(column)
            button.show()

    def wheelEvent(self, event: QWheelEvent) -> None:
        delta = event.angleDelta().x() or event.angleDelta().y()
        self._offset = max(0.0, min(self._overflow(), self._offset - delta))
        self._place_buttons()
        self.update()

    # -- motion

    def _begin_growth(self, view: StripView) -> None:
        """Let a band that is new grow once, when its note is taken."""
        drawn = {(column.key, bar.family) for column in self._view.columns for bar in column.bars}
        wanted = {(column.key, bar.family) for column in view.columns for bar in column.bars}
        motion_ms = self._themes.motion_ms("ribbon_grow")
        self._new_bars = wanted - drawn if self._view.columns and motion_ms else set()
        if self._new_bars:
            self._grown = 0.0
            self._growth.setDuration(motion_ms)
            self._growth.start()

    def _grow(self, share: float) -> None:
        self._grown = share
        self.update()

    def _bars(self, column: ColumnView) -> list[BarView]:
        if not self._new_bars or self._grown >= 1:
            return list(column.bars)
        return [self._grown_bar(column.key, bar) for bar in column.bars]

    def _grown_bar(self, key: str, bar: BarView) -> BarView:
        if (key, bar.family) not in self._new_bars:
            return bar
        return BarView(bar.family, bar.name, bar.strength * self._grown, bar.pips, bar.change, bar.clouded)

    # -- painting

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        paint.make_smooth(painter)
        theme = self._themes.current
        panel = QRectF(0, GAP_PX, self.width(), self.height() - 2 * GAP_PX)
        paint.card(painter, theme, panel)
        if self._rects:
            self._paint_columns(painter, theme, panel, QRectF(event.rect()))
        painter.end()

    def _paint_columns(self, painter: QPainter, theme: Theme, panel: QRectF, exposed: QRectF) -> None:
        zone = zone_of(self.height(), self._view.columns)
        rects = [rect.translated(-self._offset, 0) for rect in self._rects]
        stacks = [self._stack(column, rect, zone) for column, rect in zip(self._view.columns, rects, strict=True)]
        current = rects[self._view.current].adjusted(0, -GAP_PX, 0, GAP_PX)
        painter.save()
        painter.setClipRect(QRectF(0, 0, self.width(), self.height()))
        self._paint_separators(painter, theme, rects)
        if current.adjusted(-SHADOW_PX, 0, SHADOW_PX, 0).intersects(exposed):
            self._paint_raised(painter, theme, panel, current)
        self._paint_ribbons(painter, theme, stacks, exposed)
        self._paint_base(painter, theme, zone, stacks)
        for column, rect, stack in zip(self._view.columns, rects, stacks, strict=True):
            if rect.intersects(exposed):
                ColumnPainter(painter, theme, column, rect, zone, stack).paint()
        self._paint_pointer(painter, theme, rects)
        painter.restore()
        self._paint_more(painter, theme, panel)

    def _stack(self, column: ColumnView, rect: QRectF, zone: Zone) -> Stack:
        pad, width = _pad(rect, column), _stack_width(rect, column)
        return Stack(rect.x() + pad, width, stack_of(self._bars(column), zone), column.kind, column.is_current)

    def _paint_raised(self, painter: QPainter, theme: Theme, panel: QRectF, current: QRectF) -> None:
        painter.save()
        corner = tokens().radius_px.card + SHADOW_PX
        if panel.adjusted(corner, -corner, -corner, corner).contains(current):
            painter.setClipRect(panel, Qt.ClipOperation.IntersectClip)
        else:  # its shadow reaches into a corner of the panel; a rounded clip is far slower
            painter.setClipPath(paint.rounded_path(panel, tokens().radius_px.card), Qt.ClipOperation.IntersectClip)
        paint.shadow(painter, theme, current, tokens().radius_px.card, "raised")
        painter.restore()
        paint.card(painter, theme, current, theme.raised)
        paint.rounded(painter, QRectF(current.x() + 20, current.y(), 56, 4), 2, theme.accent)

    def _paint_separators(self, painter: QPainter, theme: Theme, rects: Sequence[QRectF]) -> None:
        painter.setPen(paint.solid_pen(theme.hairline, 1))
        for place, rect in enumerate(rects[1:], start=1):
            if self._view.current not in (place - 1, place):
                x = rect.x() - GAP_PX / 2
                painter.drawLine(QPointF(x, 32), QPointF(x, self.height() - 32))

    def _paint_base(self, painter: QPainter, theme: Theme, zone: Zone, stacks: Sequence[Stack]) -> None:
        begun = [stack for stack in stacks if stack.kind not in ("next", "close")]
        painter.setPen(paint.solid_pen(theme.outline, 1))
        y = zone.base + 0.5
        painter.drawLine(QPointF(begun[0].left, y), QPointF(begun[-1].left + begun[-1].width, y))

    def _paint_ribbons(self, painter: QPainter, theme: Theme, stacks: Sequence[Stack], exposed: QRectF) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        for left, right in pairwise(stacks):
            if right.left < exposed.left() or left.left + left.width > exposed.right():
                continue
            if right.kind in ("next", "close") or (left.is_current and not right.segments):
                continue  # a taper there would run into the labels
            for family in dict.fromkeys((*left.segments, *right.segments)):
                _paint_ribbon(painter, theme.family(family), left, right, family)

    def _paint_pointer(self, painter: QPainter, theme: Theme, rects: Sequence[QRectF]) -> None:
        """Show where the mouse and the keyboard are."""
        for place, (button, rect) in enumerate(zip(self._buttons, rects, strict=False)):
            raised = GAP_PX if place == self._view.current else 0
            box = rect.adjusted(0, -raised, 0, raised)
            if button.hasFocus():
                paint.focus_ring(painter, theme, box, tokens().radius_px.card, -4)
            elif button.underMouse() and place != self._view.current:
                paint.rounded(painter, box.adjusted(2, 2, -2, -2), tokens().radius_px.card, None, theme.outline)

    def _paint_more(self, painter: QPainter, theme: Theme, panel: QRectF) -> None:
        """Show that columns continue beyond an edge."""
        for beyond, x, sign in (
            (self._offset > 0, panel.left(), 1),
            (self._offset < self._overflow(), panel.right(), -1),
        ):
            if not beyond:
                continue
            fade = QLinearGradient(x, 0, x + sign * 36, 0)
            fade.setColorAt(0, theme.surface)
            fade.setColorAt(1, faded(theme.surface, 0))
            painter.fillRect(QRectF(min(x, x + sign * 36), panel.y() + 2, 36, panel.height() - 4), fade)
            painter.setPen(paint.solid_pen(theme.ink2, 2, is_round=True))
            tip = QPointF(x + sign * 8, panel.y() + 22)
            painter.drawPolyline([tip + QPointF(sign * 6, -6), tip, tip + QPointF(sign * 6, 6)])


class Stack:
    """Where one column's segments stand."""

    def __init__(
        self, left: float, width: float, segments: dict[str, tuple[float, float]], kind: str, is_current: bool
    ) -> None:
        self.left = left
        self.width = width
        self.segments = segments
        self.kind = kind
        self.is_current = is_current


def strongest(bars: Sequence[BarView], most: int) -> list[BarView]:
    """Return no more than `most` families, those that speak loudest, in the order in which they stand."""
    loudest = sorted(bars, key=lambda bar: -bar.strength)[:most]
    return [bar for bar in bars if bar in loudest]


def _is_narrow(rect: QRectF) -> bool:
    return rect.width() < NARROW_PX


def _pad(rect: QRectF, column: ColumnView) -> float:
    return 12 if _is_narrow(rect) and not column.is_current else 20


def _stack_width(rect: QRectF, column: ColumnView) -> float:
    if column.is_current:
        return 56
    return 36 if _is_narrow(rect) else 44


def _paint_ribbon(painter: QPainter, colour: QColor, left: Stack, right: Stack, family: str) -> None:
    """Draw a family from one column to the next; one that ends or begins tapers to nothing."""
    start, end = left.left + left.width, right.left
    a, b = left.segments.get(family), right.segments.get(family)
    strength = tokens().alpha.ribbon
    if a is not None and b is None:
        b, end = (sum(a) / 2, sum(a) / 2), start + (end - start) * TAPER
    elif b is not None and a is None:
        a, start = (sum(b) / 2, sum(b) / 2), end - (end - start) * TAPER
    if a is None or b is None:
        return
    fade = QLinearGradient(start, 0, end, 0)
    fade.setColorAt(0, faded(colour, strength if family in left.segments else 0.02))
    fade.setColorAt(1, faded(colour, strength if family in right.segments else 0.02))
    middle = (start + end) / 2
    band = QPainterPath(QPointF(start, a[0]))
    band.cubicTo(middle, a[0], middle, b[0], end, b[0])
    band.lineTo(end, b[1])
    band.cubicTo(middle, b[1], middle, a[1], start, a[1])
    band.closeSubpath()
    painter.fillPath(band, fade)


class ColumnPainter:
    """Paints one column over the strip's ground."""

    def __init__(
        self, painter: QPainter, theme: Theme, column: ColumnView, rect: QRectF, zone: Zone, stack: Stack
    ) -> None:
        self._painter = painter
        self._theme = theme
        self._column = column
        self._rect = rect
        self._zone = zone
        self._stack = stack
        self._is_narrow = _is_narrow(rect) and not column.is_current

    def paint(self) -> None:
        """Draw the column."""
        self._paint_title()
        if self._column.bars:
            self._paint_segments()
        elif self._column.kind != "leaf" or self._column.is_current:
            self._paint_empty_stack()
        if self._column.is_current and self._column.bars:
            self._paint_labels()
        self._paint_cup()
        self._paint_figures()

    def _paint_title(self) -> None:
        column, theme = self._column, self._theme
        left = self._rect.x() + _pad(self._rect, column)
        if column.is_current:
            font, ink = serif(24, 600), theme.ink
        elif column.title.isdigit():
            font, ink = serif(24, 500), theme.ink if column.kind == "infusion" else theme.ink2
        else:
            font, ink = serif(20, 500), theme.ink2
        end = paint.text(self._painter, left, self._zone.title, column.title, font, ink)
        self._paint_status(end)

    def _paint_status(self, title_end: float) -> None:
        column, theme = self._column, self._theme
        if not column.status or (not column.is_current and column.live is None):
            return
        live = column.live is not None
        ink = theme.alarm if column.is_over else (theme.accent if live else theme.ink3)
        right = self._rect.right() - _pad(self._rect, column)
        font = sans(16, 600 if live else 400)
        room = right - title_end - 8
        paint.text(self._painter, right, self._zone.title, paint.elided(column.status, font, room), font, ink, "right")

    def _paint_segments(self) -> None:
        families = list(self._stack.segments)
        for family, (top, bottom) in self._stack.segments.items():
            box = QRectF(self._stack.left, top + 1, self._stack.width, max(0.5, bottom - top - 1.5))
            radius = tokens().radius_px.segment_top if family == families[-1] else tokens().radius_px.segment
            paint.rounded(self._painter, box, min(radius, box.height() / 2), self._theme.family(family))
            if box.height() >= GLYPH_FROM_PX:
                centre = box.center()
                paint.glyph(
                    self._painter, self._theme, family, centre.x() - 6.5, centre.y() - 6.5, 13, self._theme.on_family
                )

    def _paint_labels(self) -> None:
        """Name the strongest families beside the stack, with the change since the last infusion."""
        room = int((self._zone.base - self._zone.top + 6) // LABEL_PX)
        bars = strongest(self._column.bars, min(MOST_LABELS, room))
        centres = [sum(self._stack.segments[bar.family]) / 2 for bar in bars]
        heights = spread(centres, LABEL_PX, self._zone.top + 4, self._zone.base - 10)
        for bar, centre, height in zip(bars, centres, heights, strict=True):
            self._paint_label(bar, centre, height)
        more = len(self._column.bars) - len(bars)
        if more and self._rect.width() >= CURRENT_PX:
            words = f"+{more} more"
            paint.text(
                self._painter, self._rect.right() - 20, self._zone.base - 4, words, sans(16), self._theme.ink3, "right"
            )

    def _paint_label(self, bar: BarView, centre: float, height: float) -> None:
        painter, theme = self._painter, self._theme
        left = self._stack.left + self._stack.width + 8
        colour = theme.family(bar.family)
        lead = QPainterPath(QPointF(left - 5, centre))
        lead.cubicTo(left + 10, centre, left + 6, height, left + 20, height)
        painter.setPen(paint.solid_pen(faded(colour, 0.9), 1.5))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(lead)
        paint.glyph(painter, theme, bar.family, left + 26, height - 7.5, 15)
        paint.text(painter, left + 50, height + 5.5, bar.name, sans(16, 600), theme.ink)
        paint.pips(painter, theme, left + 134, height, bar.pips, colour, diameter=10, gap=4)
        if self._rect.width() >= CURRENT_PX:
            ink = theme.ink3 if bar.change == "stays" else theme.ink2
            paint.text(painter, left + 222, height + 5.5, bar.change, sans(16), ink)

    def _paint_empty_stack(self) -> None:
        painter, theme, column = self._painter, self._theme, self._column
        box = QRectF(self._stack.left, self._zone.top + 8, self._stack.width, self._zone.base - self._zone.top - 9)
        painter.setPen(paint.dashed_pen(theme.outline, 1.5))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(box, 6, 6)
        if column.kind == "next" and not column.is_current:
            paint.plus(painter, theme.accent, box.center(), 8)
        if column.is_current and column.before:
            self._paint_before(box)
        else:
            self._paint_hint(box)

    def _paint_hint(self, box: QRectF) -> None:
        left, middle = box.right() + 16, box.center().y()
        room = self._rect.right() - left - 6
        if room < LEAST_HINT_PX or not self._column.hint[0]:
            return
        first, second = self._column.hint
        live = self._column.live is not None
        ink = self._theme.ink if self._column.kind == "next" else self._theme.ink2
        paint.text(self._painter, left, middle - 3, paint.elided(first, sans(16, 600), room), sans(16, 600), ink)
        font = serif_italic(18) if live else sans(16)
        ink = self._theme.ink2 if live else self._theme.ink3
        paint.text(self._painter, left, middle + 18, paint.elided(second, font, room), font, ink)

    def _paint_before(self, box: QRectF) -> None:
        """List what the last cup had, while this one has nothing yet."""
        painter, theme = self._painter, self._theme
        left = box.right() + 26
        paint.text(painter, left, 76, self._column.before_title, sans(16), theme.ink3)
        two_columns = self._rect.width() >= CURRENT_PX
        pitch = 28 if self._zone.base > LOW_BASE_PX else 22
        rows = max(1, int((self._zone.base - 98 + pitch / 2) // pitch))
        most = rows * (2 if two_columns else 1)
        shown = strongest(self._column.before, most)
        left_out = len(self._column.before) - len(shown)
        if left_out:
            right = self._rect.right() - _pad(self._rect, self._column)
            base = 76 if two_columns else 107.5 + (rows - 1) * pitch
            paint.text(painter, right, base, f"+{left_out} more", sans(16), theme.ink3, "right")
        for place, bar in enumerate(shown):
            x, y = left + (place // rows) * 152, 102 + (place % rows) * pitch
            paint.glyph(painter, theme, bar.family, x, y - 8, 16)
            paint.text(painter, x + 24, y + 5.5, bar.name, sans(16, 600), theme.ink2)
            paint.text(painter, x + 112, y + 6, str(bar.pips), serif(18, 500), theme.ink2, "centre")

    def _paint_cup(self) -> None:
        painter, theme, column = self._painter, self._theme, self._column
        centre, radius = self._cup_centre(), self._cup_radius()
        if column.kind == "close":
            return  # the end has no cup of its own
        if column.live is not None:
            self._paint_ring(centre, column.live)
        elif column.kind == "leaf":
            paint.cup(painter, theme, centre, radius, LEAF_COLOUR, is_leaf=True)
        elif column.cup:
            paint.cup(painter, theme, centre, radius, QColor(column.cup))
        else:
            paint.empty_cup(painter, theme, centre, radius)

    def _paint_ring(self, centre: QPointF, live: tuple[int, int]) -> None:
        elapsed_s, plan_s = live
        radius = self._cup_radius() - 4
        painter, theme = self._painter, self._theme
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(paint.solid_pen(theme.hairline, 6))
        painter.drawEllipse(centre, radius, radius)
        pen = paint.solid_pen(theme.alarm if self._column.is_over else theme.accent, 6)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        circle = QRectF(centre.x() - radius, centre.y() - radius, 2 * radius, 2 * radius)
        painter.drawArc(circle, 90 * 16, -int(min(1.0, elapsed_s / max(1, plan_s)) * 360 * 16))

    def _cup_radius(self) -> float:
        if self._column.is_current:
            return 29
        return 18 if self._is_narrow else 24

    def _cup_centre(self) -> QPointF:
        return QPointF(self._stack.left + self._stack.width / 2, self._zone.cup)

    def _paint_figures(self) -> None:
        """Write steep and water beside the cup, and how far the steep was from its plan."""
        painter, theme, column = self._painter, self._theme, self._column
        left = self._cup_centre().x() + self._cup_radius() + (8 if self._is_narrow else 14)
        if column.kind == "close":
            left = self._stack.left
        room = self._rect.right() - left - 4
        planned = column.kind == "next"
        font = serif(24 if column.is_current else 20, 500)
        end = paint.text(
            painter,
            left,
            self._zone.cup + 1,
            paint.elided(column.big, font, room),
            font,
            theme.ink2 if planned else theme.ink,
        )
        if column.deviation_s and not self._is_narrow:
            self._paint_deviation(end, column.deviation_s)
        small = paint.elided(column.small, sans(16), room)
        paint.text(painter, left, self._zone.cup + 20, small, sans(16), theme.ink2)
        if column.is_current:
            self._paint_liquor_words(left + 140)

    def _paint_deviation(self, left: float, deviation_s: int) -> None:
        painter, theme, base = self._painter, self._theme, self._zone.cup
        if deviation_s > 0:
            paint.triangle_up(painter, theme.ink2, QPointF(left + 9, base - 1))
        else:
            paint.triangle_down(painter, theme.ink2, QPointF(left + 9, base - 9))
        seconds = str(abs(deviation_s))
        paint.text(painter, left + 21, base, seconds, sans(16, 600), theme.ink2)

    def _paint_liquor_words(self, left: float) -> None:
        first, second = self._column.words
        room = self._rect.right() - left - 16
        if room < 80:
            return
        theme = self._theme
        paint.text(
            self._painter, left, self._zone.cup, paint.elided(first, sans(16, 600), room), sans(16, 600), theme.ink2
        )
        paint.text(self._painter, left, self._zone.cup + 20, paint.elided(second, sans(16), room), sans(16), theme.ink3)
