"""The Shelf itself: heading, the field that finds, and the rows."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QStackedLayout, QVBoxLayout, QWidget

from tastebook.presenters.shelf import ShelfPresenter
from tastebook.ui.shelf.found_pane import FoundPane
from tastebook.ui.shelf.lot_list import LotList
from tastebook.ui.shelf.notice import NoticeBar
from tastebook.ui.shelf.swatch_sheet import SwatchesButton, SwatchSheet
from tastebook.ui.theme.fonts import sans, serif
from tastebook.ui.theme.theme import Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.buttons import PlainButton, QuietButton
from tastebook.ui.widgets.card import Card
from tastebook.ui.widgets.drawn import Ground
from tastebook.ui.widgets.find_field import FindField
from tastebook.ui.widgets.hints import KeyHint
from tastebook.ui.widgets.label import Label
from tastebook.ui.widgets.rule import Rule

MARGIN_PX: Final = 24
HEADER_PX: Final = 72
FIND_PX: Final = 460
FIND_WHAT: Final = "Find anything ever noted"

FIND_EXAMPLES: Final = (
    "peach ≥ 3 · floral ≥ 4 · no rose · infusion 3 · declined 2026 · rest until may · golden liquor · 栗"
)


class ListPane(Ground):
    """Draws a `ShelfView`."""

    lot_requested = Signal(str)
    new_lot_requested = Signal()
    place_requested = Signal(str, int, bool)
    session_requested = Signal(str)
    bench_requested = Signal(str)
    words_requested = Signal()
    settings_requested = Signal()
    help_requested = Signal()

    def __init__(self, themes: Themes, presenter: ShelfPresenter, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._presenter = presenter
        self._summary = Label(themes, ink="ink3")
        self._told = ""
        self.finder = FindField(themes, FIND_WHAT, "Ctrl F")
        self.finder.setToolTip(FIND_EXAMPLES)
        self.swatches = SwatchesButton(themes)
        self._sheet: SwatchSheet | None = None
        self.new_lot = QuietButton(themes, "New lot")
        self.words = PlainButton(themes, "Words")
        self.settings = PlainButton(themes, "Settings")
        self.help = PlainButton(themes, "Help")
        self.notice = NoticeBar(themes)
        self.rows = LotList(themes, presenter.row)
        self.found = FoundPane(themes, presenter.finding)
        self._empty = Label(themes, ink="ink2", wraps=True, font=sans(tokens().type_px.word))
        self._empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        box = QVBoxLayout(self)
        box.setContentsMargins(MARGIN_PX, 0, MARGIN_PX, MARGIN_PX)
        box.setSpacing(0)
        box.addLayout(self._header())
        box.addWidget(self.notice)
        box.addSpacing(8)
        card = Card(self._themes, self)
        self._shown = QStackedLayout(card)
        self._shown.setContentsMargins(1, 4, 1, 0)
        self._shown.addWidget(self._all_lots())
        self._shown.addWidget(self.found)
        box.addWidget(card, 1)
        self.setTabOrder(self.finder, self.swatches)
        self.setTabOrder(self.swatches, self.rows)
        self.setTabOrder(self.rows, self.found.list)

    def _all_lots(self) -> QWidget:
        lots = QWidget()
        inner = QVBoxLayout(lots)
        inner.setContentsMargins(0, 0, 0, 12)
        inner.setSpacing(0)
        inner.addWidget(self._empty, 1)
        inner.addWidget(self.rows, 1)
        inner.addWidget(Rule(self._themes))
        inner.addLayout(self._hints())
        return lots

    def _header(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setContentsMargins(0, 10, 0, 10)
        row.setSpacing(16)
        title = Label(self._themes, "Shelf", font=serif(tokens().type_px.title, tokens().weight.serif_heading))
        title.setMinimumHeight(HEADER_PX - 20)
        self.finder.setMaximumWidth(FIND_PX)
        self.finder.setMinimumWidth(200)
        self.new_lot.setAccessibleDescription("Key: Ctrl N")
        row.addWidget(title)
        # Where there is no room for it, the summary is the first to give way.
        self._summary.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        row.addWidget(self._summary, 1)
        row.addWidget(self.finder, 2)
        row.addSpacing(-8)  # the swatches belong to the field
        row.addWidget(self.swatches)
        row.addWidget(self.new_lot)
        self.words.setAccessibleDescription("Key: Ctrl L")
        row.addWidget(self.words)
        row.addWidget(self.settings)
        row.addWidget(self.help)
        return row

    def _hints(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setContentsMargins(24, 12, 24, 0)
        row.setSpacing(24)
        for key, does in (("↑ ↓", "lots"), ("Enter", "next act"), ("→", "open"), ("Ctrl N", "new lot"), ("?", "keys")):
            row.addWidget(KeyHint(self._themes, key, does))
        row.addStretch(1)
        return row

    def _connect(self) -> None:
        self.finder.find_requested.connect(self._find)
        self.finder.move_requested.connect(self._move)
        self.finder.take_requested.connect(self._take)
        self.finder.leave_requested.connect(self.rows.setFocus)
        self.swatches.press_requested.connect(self._ask_for_colour)
        self.found.lot_requested.connect(self.lot_requested)
        self.found.place_requested.connect(self.place_requested)
        self.found.find_requested.connect(self._begin_finding)
        self.found.leave_requested.connect(self._leave_found)
        self.rows.find_requested.connect(self._begin_finding)
        self.rows.act_requested.connect(self._do_next)
        self.rows.open_requested.connect(self.lot_requested)
        self.rows.fold_requested.connect(self._fold)
        self.rows.keys_requested.connect(self.help_requested)
        self.new_lot.press_requested.connect(self.new_lot_requested)
        self.words.press_requested.connect(self.words_requested)
        self.settings.press_requested.connect(self.settings_requested)
        self.help.press_requested.connect(self.help_requested)
        self.notice.dismissed.connect(self._dismiss)
        for keys, slot in (
            ("Ctrl+N", self.new_lot_requested.emit),
            ("Ctrl+Z", self._undo),
            ("Ctrl+Y", self._redo),
            ("Ctrl+Shift+Z", self._redo),
        ):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(slot)

    # -- gestures

    @property
    def is_finding(self) -> bool:
        """Say whether something is looked for."""
        return bool(self.finder.text().strip())

    def _find(self, typed: str) -> None:
        self.found.look_for(typed)
        self._shown.setCurrentIndex(int(self.is_finding))

    def _move(self, key: Qt.Key) -> None:
        (self.found.list if self.is_finding else self.rows).go(key)

    def _take(self) -> None:
        (self.found if self.is_finding else self.rows).take()

    def _leave_found(self) -> None:
        self.finder.clear()
        self.rows.setFocus(Qt.FocusReason.OtherFocusReason)

    def _ask_for_colour(self) -> None:
        if self._sheet is None:
            self._sheet = SwatchSheet(self._themes, self._presenter.finding.swatches())
            self._sheet.swatch_requested.connect(self._find_colour)
        self._sheet.open_over(self)

    def _find_colour(self, row: int, column: int) -> None:
        self.finder.setText(self._presenter.finding.with_swatch(row, column, self.finder.text()))
        self.finder.setFocus(Qt.FocusReason.OtherFocusReason)

    def _begin_finding(self, letters: str) -> None:
        self.finder.setFocus(Qt.FocusReason.OtherFocusReason)
        self.finder.setText(self.finder.text() + letters)

    def go_finding(self) -> None:
        """Give the keyboard to the find field."""
        self.finder.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.finder.selectAll()

    def _do_next(self, lot_uid: str) -> None:
        row = self._presenter.row(lot_uid)
        if row.act == "taste":
            self.session_requested.emit(lot_uid)
        elif row.act == "open":
            self.lot_requested.emit(lot_uid)
        else:
            self.bench_requested.emit(row.session_uid)

    def _fold(self) -> None:
        self._presenter.toggle_archived()
        self.refresh()

    def _undo(self) -> None:
        if self.rows.current_lot() and not self.is_finding:
            self._presenter.undo(self.rows.current_lot())
            self.refresh()

    def _redo(self) -> None:
        if self.is_finding:
            return
        self._presenter.redo(self.rows.current_lot())
        self.refresh()

    def _dismiss(self) -> None:
        self._presenter.dismiss()
        self.refresh()

    # -- showing

    def refresh(self) -> None:
        """Show the Shelf as it stands."""
        view = self._presenter.view()
        self._told = view.summary
        self._show_summary()
        self.notice.show_words(view.notice or view.read_only)
        self.notice.button.setVisible(bool(view.notice))
        self.new_lot.setEnabled(view.can_add)
        self.rows.show_view(view)
        self._empty.setText(view.empty)
        self._empty.setVisible(bool(view.empty))
        self.rows.setVisible(not view.empty)
        if self.is_finding:
            self.found.look_again()

    def _show_summary(self) -> None:
        """Say how many lots there are, where there is room for it."""
        room = paint.text_width(self._told, self._summary.font())
        self._summary.setText(self._told if room <= self._summary.width() else "")

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        QTimer.singleShot(0, self, self._show_summary)  # once the layout has given it its width

    def take_keyboard(self) -> None:
        """Give the keyboard to the rows, or to what can be done without any."""
        if self.is_finding:
            self.finder.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        (self.rows if self.rows.isVisibleTo(self) else self.new_lot).setFocus(Qt.FocusReason.OtherFocusReason)
