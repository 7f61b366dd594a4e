"""The arc's chart: names, cups, steeps and words painted here, curves by pyqtgraph above them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QColor,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPixmap,
    QResizeEvent,
)
from PySide6.QtWidgets import QAbstractScrollArea, QFrame, QScrollBar, QWidget

from tastebook.presenters.arc.views import ChartView, CursorView, RowView
from tastebook.ui.arc.layout import FOOT_PX, HEAD_PX, MARGIN_PX, ChartLayout
from tastebook.ui.arc.painter import ChartPainter, Scene, column_rect
from tastebook.ui.theme.theme import Themes, faded
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint

if TYPE_CHECKING:
    from tastebook.ui.arc.plot import RidgePlot, Shape

_EMPTY_VIEW: Final = ChartView("", (), (), (), "", "", ())
_KEY_STEPS: Final = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


class ArcChart(QAbstractScrollArea):
    """Draws a `ChartView`. Left, Right, Home and End walk along the infusions, Up and Down along the rows.

    `release` must be called before the program ends: Qt crashes if plots outlive it.
    """

    column_step_requested = Signal(int)
    row_step_requested = Signal(int)
    end_requested = Signal(bool)
    point_requested = Signal(int, str)
    clear_requested = Signal()

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._themes = themes
        self._view = _EMPTY_VIEW
        self._cursor = CursorView()
        self._plot: RidgePlot | None = None
        self._curves_are_old = True
        self._picture: QPixmap | None = None
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(480, 200)
        self.viewport().setAutoFillBackground(False)
        self.viewport().setMouseTracking(True)
        self.setAccessibleName("Aroma arc")
        themes.changed.connect(self._redraw)

    # -- what is shown

    @property
    def lay(self) -> ChartLayout:
        """Return where everything stands now."""
        view = self._view
        size = self.viewport().size()
        return ChartLayout(size.width(), size.height(), len(view.columns), len(view.families), len(view.scales))

    def show_view(self, view: ChartView) -> None:
        """Draw another state of the session."""
        if view == self._view:
            return
        self._view = view
        self._redraw()

    def show_cursor(self, cursor: CursorView) -> None:
        """Point at another infusion or row; only what differs is painted again."""
        if cursor == self._cursor:
            return
        before, self._cursor = self._cursor, cursor
        for one in (before, cursor):
            for rect in self._touched(one):
                self.viewport().update(rect)
        self._tell()

    def reveal_cursor(self) -> None:
        """Scroll so that what is pointed at can be seen."""
        lay, cursor = self.lay, self._cursor
        if cursor.infusion:
            x = lay.across(cursor.infusion)
            self._scroll_into(self.horizontalScrollBar(), x - lay.left, x - lay.left - lay.span)
        if cursor.row:
            top, bottom = lay.extent(self._place_of(cursor.row))
            self._scroll_into(self.verticalScrollBar(), top, bottom - (lay.height - HEAD_PX))

    def release(self) -> None:
        """Let go of the curves; they come back when the chart is shown again."""
        if self._plot is not None:
            self._plot.close()
            self._plot.deleteLater()
            self._plot = None
            self._picture = None

    @property
    def is_released(self) -> bool:
        """Say whether no curves are held."""
        return self._plot is None

    @staticmethod
    def _scroll_into(bar: QScrollBar, most: float, least: float) -> None:
        bar.setValue(round(max(least, min(bar.value(), most))))

    def _place_of(self, key: str) -> int:
        return next((place for place, row in enumerate(self._view.rows) if row.key == key), 0)

    def _tell(self) -> None:
        self.setAccessibleDescription(self._cursor.spoken or self._view.told)
        if QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.DescriptionChanged))

    def _touched(self, cursor: CursorView) -> list[QRect]:
        """Return what the cursor changes: its column, the words at the right, its row.

        All of it lies well inside the card, whose edge and shadow would otherwise be painted again too.
        """
        lay, rects = self.lay, []
        left, right = MARGIN_PX - 10, lay.words_right + 2
        if cursor.infusion:
            band = column_rect(lay, cursor.infusion, self._scrolled.x())
            rects += [band, QRectF(lay.window[1], 0, right - lay.window[1], lay.height - FOOT_PX)]
        elif cursor.row:
            rects.append(QRectF(left, 0, lay.window[0] - left, HEAD_PX))
        if cursor.row:
            top, bottom = lay.extent(self._place_of(cursor.row))
            rects.append(QRectF(left, HEAD_PX - self._scrolled.y() + top - 1, right - left, bottom - top + 2))
        return [rect.toAlignedRect().adjusted(-2, 0, 2, 0) for rect in rects]

    # -- scrolling

    @property
    def _scrolled(self) -> QPointF:
        return QPointF(self.horizontalScrollBar().value(), self.verticalScrollBar().value())

    def scrollContentsBy(self, _dx: int, _dy: int) -> None:
        self._picture = None
        self.viewport().update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._redraw()

    def _redraw(self) -> None:
        """Lay everything out again and draw it."""
        lay = self.lay
        self._picture = None
        across, down = self.horizontalScrollBar(), self.verticalScrollBar()
        across.setRange(0, round(lay.overflow_x))
        across.setPageStep(max(1, round(lay.span)))
        across.setSingleStep(round(lay.pitch))
        down.setRange(0, round(lay.overflow_y))
        down.setPageStep(max(1, round(lay.height - HEAD_PX)))
        down.setSingleStep(round(lay.row))
        if self.lay != lay:
            return  # a scroll bar has come or gone, and everything was laid out for that already
        self._curves_are_old = True
        self._tell()
        self.viewport().update()

    # -- curves

    def _curves(self) -> QPixmap:
        """Return the visible part of the curves. Pointing at things repaints often, and they stay as they are."""
        if self._picture is None:
            self._picture = self._drawn_curves()
        return self._picture

    def _drawn_curves(self) -> QPixmap:
        plot = self._plot_at_hand()
        if self._curves_are_old:
            plot.show_shapes(self._shapes())
            self._curves_are_old = False
        place = self._body_window()
        plot.setGeometry(place)
        plot.show_part(QRectF(place).translated(self._scrolled.x(), self._scrolled.y() - HEAD_PX))
        picture: QPixmap = plot.grab()
        return picture

    def _plot_at_hand(self) -> RidgePlot:
        from tastebook.ui.arc.plot import RidgePlot

        if self._plot is None:
            self._plot = RidgePlot(self.viewport())
            self._plot.hide()
            self._curves_are_old = True
        return self._plot

    def _body_window(self) -> QRect:
        """Return where curves show: between names and words, below the head."""
        left, right = self.lay.window
        return QRect(int(left), int(HEAD_PX), int(right - left), max(1, self.viewport().height() - int(HEAD_PX)))

    def _shapes(self) -> list[Shape]:
        families = [self._ridge(row, place) for place, row in enumerate(self._view.families)]
        return families + [self._scale_line(row, place) for place, row in enumerate(self._view.scales)]

    def _ridge(self, row: RowView, place: int) -> Shape:
        theme, lay = self._themes.current, self.lay
        alpha = tokens().alpha.ridge_fill_lamp if theme.is_dark else tokens().alpha.ridge_fill
        colour = theme.family(row.family)
        return self._shape(row, lay.base(place), lay.unit, colour, tokens().line_px.ridge, faded(colour, alpha))

    def _scale_line(self, row: RowView, place: int) -> Shape:
        lay, colour = self.lay, self._themes.current.accent
        return self._shape(row, lay.scale_base(place), lay.scale_unit, colour, tokens().line_px.texture, None)

    def _shape(
        self, row: RowView, base: float, unit: float, colour: QColor, line_px: float, fill: QColor | None
    ) -> Shape:
        from tastebook.ui.arc.plot import Shape

        left, pitch = self.lay.left, self.lay.pitch

        def placed(infusion: float, level: float) -> tuple[float, float]:
            return left + pitch * (infusion - 1), base - level * unit

        return Shape(
            colour=colour,
            line_px=line_px,
            base=base,
            curves=tuple(tuple(placed(*point) for point in part) for part in row.curve if fill or len(part) > 1),
            dots=tuple(placed(dot.infusion, dot.level) for dot in row.dots if not dot.is_uncertain),
            uncertain=tuple(placed(dot.infusion, dot.level) for dot in row.dots if dot.is_uncertain),
            ground=self._themes.current.surface,
            fill=fill,
        )

    # -- pointing

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._point(event.position())

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._point(event.position())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        event.accept()

    def viewportEvent(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Leave:
            self.clear_requested.emit()
        return super().viewportEvent(event)

    def _point(self, at: QPointF) -> None:
        lay, scrolled = self.lay, self._scrolled
        in_body = at.y() >= HEAD_PX
        place = lay.row_at(at.y() - HEAD_PX + scrolled.y()) if in_body else -1
        row = self._view.rows[place].key if place >= 0 else ""
        infusion = lay.infusion_at(at.x(), scrolled.x())
        if (infusion, row) != (self._cursor.infusion, self._cursor.row):
            self.point_requested.emit(infusion, row)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, is_plain = Qt.Key(event.key()), not event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if is_plain and key in _KEY_STEPS:
            columns, rows = _KEY_STEPS[key]
            if columns:
                self.column_step_requested.emit(columns)
            else:
                self.row_step_requested.emit(rows)
        elif is_plain and key in (Qt.Key.Key_Home, Qt.Key.Key_End):
            self.end_requested.emit(key == Qt.Key.Key_End)
        elif is_plain and key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            bar = self.verticalScrollBar()
            bar.setValue(bar.value() + (bar.pageStep() if key == Qt.Key.Key_PageDown else -bar.pageStep()))
        else:
            event.ignore()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if event.reason() in (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason):
            self.column_step_requested.emit(0)
        self.viewport().update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() not in (Qt.FocusReason.PopupFocusReason, Qt.FocusReason.ActiveWindowFocusReason):
            self.clear_requested.emit()
        self.viewport().update()

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.DevicePixelRatioChange:
            self._redraw()
        return super().event(event)

    # -- painting

    def paintEvent(self, event: QPaintEvent) -> None:
        curves = self._curves() if self._view.rows else None
        painter = QPainter(self.viewport())
        paint.make_smooth(painter)
        painter.setClipRegion(event.region())
        scene = Scene(self._view, self.lay, self._cursor, self._scrolled, event.region(), has_keyboard=self.hasFocus())
        ChartPainter(painter, self._themes.current, scene).paint()
        if curves is not None:
            painter.drawPixmap(self._body_window().topLeft(), curves)
        painter.end()
