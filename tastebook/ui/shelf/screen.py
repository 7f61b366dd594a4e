"""The Shelf with its pages: the rows, a lot's page, and the form of a lot."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut, QShowEvent
from PySide6.QtWidgets import QStackedLayout, QWidget

from tastebook.presenters.shelf import ShelfPresenter
from tastebook.ui.shelf.list_pane import ListPane
from tastebook.ui.shelf.lot_form import LotFormPage
from tastebook.ui.shelf.lot_page import LotPage
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.drawn import Ground


class ShelfScreen(Ground):
    """Draws the Shelf and passes gestures on to its presenter. What leaves it is a signal."""

    session_requested = Signal(str)
    place_requested = Signal(str, int, bool)
    """Session, infusion, and whether the session is still open."""
    bench_requested = Signal(str)
    arc_requested = Signal(str)
    words_requested = Signal()
    find_requested = Signal()
    settings_requested = Signal()
    help_requested = Signal()

    def __init__(self, themes: Themes, presenter: ShelfPresenter, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._presenter = presenter
        self._trail: list[str] = []
        self.setAccessibleName("The Shelf")
        self.pane = ListPane(themes, presenter)
        self.page = LotPage(themes)
        self.form = LotFormPage(themes)
        self._stack = QStackedLayout(self)
        self._stack.setContentsMargins(0, 0, 0, 0)
        for widget in (self.pane, self.page, self.form):
            self._stack.addWidget(widget)
        self._connect()

    def sizeHint(self) -> QSize:
        return QSize(1440, 900)

    def _connect(self) -> None:
        pane, page, form = self.pane, self.page, self.form
        pane.lot_requested.connect(self.open_lot)
        pane.new_lot_requested.connect(self.new_lot)
        pane.session_requested.connect(self.session_requested)
        pane.place_requested.connect(self.place_requested)
        pane.bench_requested.connect(self.bench_requested)
        pane.words_requested.connect(self.words_requested)
        pane.settings_requested.connect(self.settings_requested)
        pane.help_requested.connect(self.help_requested)
        page.left.connect(self.back)
        page.lost.connect(self._lose_page)
        page.lot_requested.connect(self.open_lot)
        page.form_requested.connect(self._amend)
        page.next_batch_requested.connect(self.new_lot)
        page.session_requested.connect(self.session_requested)
        page.bench_requested.connect(self.bench_requested)
        page.arc_requested.connect(self.arc_requested)
        page.keys_requested.connect(self.help_requested)
        form.left.connect(self._leave_form)
        form.added.connect(self._show_added)
        find = QShortcut(QKeySequence("Ctrl+F"), self)
        find.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        find.activated.connect(self.go_finding)
        find.activatedAmbiguously.connect(self.find_requested)  # a sheet that lies over it has the same key

    # -- going about

    def open_lot(self, lot_uid: str) -> None:
        """Open a lot's page; back leads to where one was."""
        self._trail = [*(uid for uid in self._trail if uid != lot_uid), lot_uid]
        self._show_page(lot_uid)

    def back(self) -> None:
        """Go back to the page before, or to the rows."""
        if self._trail:
            left = self._trail.pop()
            if not self._trail:
                self.show_rows(left)
                return
            self._show_page(self._trail[-1])

    def show_rows(self, lot_uid: str = "") -> None:
        """Show the rows, with one lot current."""
        self._trail.clear()
        self._stack.setCurrentWidget(self.pane)
        self.pane.refresh()
        if lot_uid:
            self.pane.rows.make_current(lot_uid)
        self.pane.take_keyboard()

    def go_finding(self) -> None:
        """Go to the find field, from wherever one is."""
        if self._stack.currentWidget() is not self.pane:
            self.show_rows()
        self.pane.go_finding()

    def release(self) -> None:
        """Ask the journal nothing more."""
        self.pane.found.release()
        self.page.release()

    def new_lot(self, follows: str = "") -> None:
        """Open the form of a new lot, filled from the lot that it follows, if any."""
        if self._presenter.view().can_add:
            self._stack.setCurrentWidget(self.form)
            self.form.show_form(self._presenter.new_form(follows))

    def _amend(self, lot_uid: str, key: str) -> None:
        self._stack.setCurrentWidget(self.form)
        self.form.show_form(self._presenter.form(lot_uid), key)

    def _leave_form(self) -> None:
        if self._trail:
            self._show_page(self._trail[-1])
        else:
            self.show_rows()

    def _show_added(self, lot_uid: str) -> None:
        self.open_lot(lot_uid)

    def _show_page(self, lot_uid: str) -> None:
        self._stack.setCurrentWidget(self.page)
        self.page.show_lot(self._presenter.page(lot_uid))
        self.page.take_keyboard()

    def _lose_page(self) -> None:
        self._presenter.lose_page()
        self.show_rows()

    # -- showing

    def refresh(self) -> None:
        """Show everything as it stands in the journal; a form being written in is left alone."""
        self._presenter.look_again()
        self._draw()

    def _draw(self) -> None:
        current = self._stack.currentWidget()
        if current is self.pane:
            self.pane.refresh()
        elif current is self.page:
            self.page.refresh()

    def take_keyboard(self) -> None:
        """Give the keyboard to what is shown."""
        current = self._stack.currentWidget()
        if isinstance(current, (ListPane, LotPage, LotFormPage)):
            current.take_keyboard()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._draw()
        self.take_keyboard()
