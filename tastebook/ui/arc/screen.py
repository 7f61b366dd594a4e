"""The Arc: the review of one session."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final, TypeAlias

from PySide6.QtCore import QCoreApplication, QPointF, QRect, QSize, Qt, Signal
from PySide6.QtGui import QAccessible, QCloseEvent, QKeyEvent, QKeySequence, QPainter, QResizeEvent, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QStackedLayout, QVBoxLayout, QWidget

from tastebook.presenters.arc.presenter import ArcPresenter
from tastebook.presenters.arc.views import ArcView, HeaderView
from tastebook.presenters.finding import KinView
from tastebook.ui.arc.chart import ArcChart
from tastebook.ui.arc.prose import shortened, write
from tastebook.ui.arc.side import SideCard
from tastebook.ui.arc.table import ArcTable
from tastebook.ui.background import Background
from tastebook.ui.bench.photo_sheet import PhotoSheet
from tastebook.ui.theme.fonts import sans, serif, serif_italic
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.buttons import BackButton, PlainButton, QuietButton
from tastebook.ui.widgets.card import Card
from tastebook.ui.widgets.drawn import Drawn, Ground

HEADER_PX: Final = 64
TOP_PX: Final = 60
_PADDING_PX: Final = 24
_SIDE_PX: Final = (360, 432)
_CHART_MARGINS: Final = (0, TOP_PX, 0, 12)
_TABLE_MARGINS: Final = (24, TOP_PX + 4, 24, 24)
_TITLE: Final = "The aroma arc"


Kin: TypeAlias = Callable[[], tuple[KinView, ...]]
"""Returns the teas most like the one tasted; it is asked for beside the window."""


class ArcHeader(Drawn):
    """The lot, and when and how long it was tasted; where it is narrow, the lesser words go first."""

    accessible_role = QAccessible.Role.StaticText

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._view = HeaderView("", "", "", "", "")
        self.setFixedHeight(HEADER_PX)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_view(self, view: HeaderView) -> None:
        """Name another session."""
        self._view = view
        self.setAccessibleName(", ".join(part for part in (view.title, view.cultivar, view.source, view.facts) if part))
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(600, HEADER_PX)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        view, text = self._view, sans(tokens().type_px.text)
        title_font = serif(tokens().type_px.title, tokens().weight.serif_heading)
        title = paint.elided(view.title, title_font, self.width())
        end = paint.text(painter, 0, 42, title, title_font, theme.ink)
        room = self.width() - end
        facts_width = paint.text_width(view.facts, text)
        if facts_width + 24 <= room:
            paint.text(painter, self.width(), 41, view.facts, text, theme.ink3, "right")
            room -= facts_width + 24
        for words, font, gap, ink in (
            (view.cultivar, serif_italic(tokens().type_px.value), 14, theme.ink2),
            (view.source, text, 24, theme.ink3),
        ):
            width = paint.text_width(words, font) + gap
            if words and width <= room:
                end = paint.text(painter, end + gap, 42 if font is not text else 41, words, font, ink)
                room -= width


class ArcCard(Card):
    """The left card: its title, what is pointed at in one line, and the chart or the table."""

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._line = ""
        self.setAccessibleName(_TITLE)
        self.toggle = PlainButton(themes, "As a table", self)
        self.toggle.setToolTip("Ctrl T")
        self.chart = ArcChart(themes, self)
        self.table = ArcTable(self)
        self._stack = QStackedLayout()
        self._stack.addWidget(self.chart)
        self._stack.addWidget(self.table)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(*_CHART_MARGINS)
        self._column.addLayout(self._stack)

    def show_view(self, view: ArcView) -> None:
        """Show the chart or the table of a session."""
        self.chart.show_view(view.chart)
        self.table.show_view(view.table)
        self._stack.setCurrentWidget(self.table if view.is_table else self.chart)
        self._column.setContentsMargins(*(_TABLE_MARGINS if view.is_table else _CHART_MARGINS))
        self.toggle.set_label("As a chart" if view.is_table else "As a table")
        self._place_toggle()

    def show_line(self, line: str) -> None:
        """Say in one line what is pointed at, or how the rows are ordered."""
        if line != self._line:
            self._line = line
            self.update(QRect(_PADDING_PX, 17, self.width() - 2 * _PADDING_PX, TOP_PX - 17))

    @property
    def line(self) -> str:
        """Return what is said in one line."""
        return self._line

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place_toggle()

    def _place_toggle(self) -> None:
        size = self.toggle.sizeHint()
        self.toggle.setGeometry(self.width() - size.width() - _PADDING_PX + 8, 14, size.width(), size.height())

    def draw(self, painter: QPainter, theme: Theme) -> None:
        font = serif(tokens().type_px.heading, tokens().weight.serif_heading)
        end = paint.text(painter, _PADDING_PX, 44, _TITLE, font, theme.ink)
        text, right = sans(tokens().type_px.text), self.toggle.x() - 12
        lines = shortened(self._line, text, right - end - 24, 2)
        top = 36.5 - 20 * len(lines) / 2
        write(painter, lines, (text, 20.0), QPointF(right, top), theme.ink3, "right")


class ArcScreen(Ground):
    """Draws the Arc and passes gestures on to its presenter.

    Call `refresh` after every change of the session, and `release` before the program ends.
    """

    left = Signal()
    page_requested = Signal(str)
    bench_requested = Signal(str)
    verdict_requested = Signal(str)
    copy_requested = Signal(str)
    lot_requested = Signal(str)

    def __init__(
        self, themes: Themes, presenter: ArcPresenter, parent: QWidget | None = None, *, kin: Kin | None = None
    ) -> None:
        super().__init__(themes, parent)
        self._presenter = presenter
        self._kin = kin
        self._background = Background(self)
        self._session_uid = ""
        self._caption = ""
        self.setAccessibleName("The Arc")
        self._back = BackButton(themes, "Back to the Shelf", self)
        self._header = ArcHeader(themes, self)
        self._bench = QuietButton(themes, "Open the Bench", self)
        self.card = ArcCard(themes, self)
        self.side = SideCard(themes, self)
        self.photo = PhotoSheet(themes)
        self._photo_uid = ""
        self._lay_out()
        self._connect()
        self.setFocusProxy(self.card.chart)
        self.refresh()

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setContentsMargins(12, 0, _PADDING_PX, 0)
        head.setSpacing(4)
        head.addWidget(self._back)
        head.addWidget(self._header, 1)
        head.addSpacing(20)
        head.addWidget(self._bench)
        cards = QHBoxLayout()
        cards.setContentsMargins(_PADDING_PX, 0, _PADDING_PX, _PADDING_PX)
        cards.setSpacing(_PADDING_PX)
        cards.addWidget(self.card, 1)
        cards.addWidget(self.side)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addLayout(head)
        column.addLayout(cards, 1)

    def _connect(self) -> None:
        chart, presenter = self.card.chart, self._presenter
        self._back.press_requested.connect(self.left)
        self._bench.press_requested.connect(lambda: self.bench_requested.emit(self._session_uid))
        self.side.page_requested.connect(lambda: self.page_requested.emit(self._session_uid))
        self.side.verdict_requested.connect(lambda: self.verdict_requested.emit(self._session_uid))
        self.side.more_requested.connect(self._toggle_quotes)
        self.side.photo_requested.connect(self._show_photo)
        self.photo.other_requested.connect(self._show_photo)
        self.photo.copy_requested.connect(lambda: self.copy_requested.emit(presenter.copy_name(self._photo_uid)))
        self.side.lot_requested.connect(self.lot_requested)
        self._background.answered.connect(self._show_kin)
        self.card.toggle.press_requested.connect(self._toggle_table)
        chart.point_requested.connect(self._point)
        chart.clear_requested.connect(self._clear)
        chart.column_step_requested.connect(lambda places: self._walk(presenter.step_column, places))
        chart.row_step_requested.connect(lambda places: self._walk(presenter.step_row, places))
        chart.end_requested.connect(self._go_to_end)
        self._shortcut("Ctrl+T", self._toggle_table)
        self._shortcut("Ctrl+P", lambda: self.page_requested.emit(self._session_uid))
        app = QCoreApplication.instance()
        if app is not None:
            app.aboutToQuit.connect(self.release)

    def _shortcut(self, keys: str, act: Callable[[], None]) -> None:
        shortcut = QShortcut(QKeySequence(keys), self)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(act)

    def refresh(self) -> None:
        """Show the session as it is now."""
        view = self._presenter.view()
        self._session_uid = view.session_uid
        self._caption = "" if view.is_table else view.chart.caption
        self._header.show_view(view.header)
        self._bench.set_label(view.header.bench)
        self.card.show_view(view)
        self.side.show_view(view.side)
        self._show_cursor()
        if self._kin is not None:
            self._background.ask(self._kin)

    def point_at(self, infusion: int) -> None:
        """Point at one infusion."""
        self._point(infusion, "")
        self.card.chart.reveal_cursor()

    def _show_kin(self, kin: object) -> None:
        if isinstance(kin, tuple):
            self.side.show_kin(kin)

    def release(self) -> None:
        """Let go of the curves: Qt crashes at the end of the program if any are left."""
        self._background.release()
        self.card.chart.release()

    def resizeEvent(self, event: QResizeEvent) -> None:
        least, most = _SIDE_PX
        self.side.setFixedWidth(max(least, min(most, round(self.width() * 0.3))))
        super().resizeEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        # Not a shortcut: a sheet that lies over this screen must be able to keep Escape to itself.
        if event.key() == Qt.Key.Key_Escape:
            self._escape()
        else:
            super().keyPressEvent(event)

    def closeEvent(self, event: QCloseEvent) -> None:
        self.release()
        super().closeEvent(event)

    # -- gestures

    def _point(self, infusion: int, row: str) -> None:
        self._presenter.point_at(infusion, row)
        self._show_cursor()

    def _walk(self, step: Callable[[int], None], places: int) -> None:
        step(places)
        self._show_cursor()
        self.card.chart.reveal_cursor()

    def _go_to_end(self, last: bool) -> None:
        self._presenter.go_to_end(last=last)
        self._show_cursor()
        self.card.chart.reveal_cursor()

    def _clear(self) -> None:
        self._presenter.clear()
        self._show_cursor()

    def _escape(self) -> None:
        if self._presenter.clear():
            self._show_cursor()
        else:
            self.left.emit()

    def _show_photo(self, uid: str) -> None:
        view = self._presenter.photo(uid)
        if view is not None:
            self._photo_uid = uid
            self.photo.show_view(view)
            self.photo.open_over(self)

    def photo_copy(self, path: str) -> bytes:
        """Return the photograph that is looked at, to be handed on under a name."""
        return self._presenter.copy(self._photo_uid, path)

    def _show_cursor(self) -> None:
        cursor = self._presenter.cursor()
        self.card.chart.show_cursor(cursor)
        self.card.show_line(cursor.line or self._caption)

    def _toggle_table(self) -> None:
        self._presenter.toggle_table()
        self.refresh()
        shown = self.card.table if self.card.table.isVisible() else self.card.chart
        shown.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _toggle_quotes(self) -> None:
        self._presenter.toggle_quotes()
        self.refresh()
