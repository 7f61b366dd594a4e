"""A lot opened as a page: provenance at the left, its sessions one below another at the right."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QBoxLayout, QGridLayout, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from tastebook.presenters.finding import KinView
from tastebook.presenters.lot_page import FactGroup, LotLink, LotPagePresenter, LotPageView
from tastebook.ui.background import Background
from tastebook.ui.shelf.heading import Heading
from tastebook.ui.shelf.kin_list import KinList
from tastebook.ui.shelf.notice import NoticeBar
from tastebook.ui.shelf.session_strip import StripButton
from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets.buttons import BackButton, PlainButton, QuietButton
from tastebook.ui.widgets.card import Card
from tastebook.ui.widgets.drawn import Ground
from tastebook.ui.widgets.flow import FlowLayout
from tastebook.ui.widgets.label import Label
from tastebook.ui.widgets.scrolled import scrolled

MARGIN_PX: Final = 24
FACTS_PX: Final = 460
NARROW_FACTS_PX: Final = 380
NARROW_PX: Final = 1100
LABEL_PX: Final = 116
BACK_PX: Final = 12
INDENT_PX: Final = 8
"""How far words to press stand inside their target: everything else is set in as far, so that all lines begin alike."""


class FactsPane(QWidget):
    """What is known of the lot, what could be added, and the batches before and after it."""

    lot_requested = Signal(str)
    field_requested = Signal(str)

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._themes = themes
        self._shown: tuple[object, ...] = ()
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(24 - INDENT_PX, 16, 16, 24)
        self._box.setSpacing(8)

    def show_view(self, view: LotPageView) -> None:
        """Show another lot; what stands already is left alone."""
        wanted = (view.groups, view.notes, view.missing, view.follows, view.followed_by, view.read_only)
        if wanted == self._shown:
            return
        self._shown = wanted
        self._clear()
        for group in view.groups:
            self._add_group(group)
        if view.notes:
            self._add_title("Notes")
            notes = Label(self._themes, view.notes, wraps=True, is_selectable=True)
            notes.setContentsMargins(INDENT_PX, 0, 0, 0)
            self._box.addWidget(notes)
        self._add_batches(view)
        if view.missing and not view.read_only:
            self._add_missing(view.missing)
        self._box.addStretch(1)

    def _clear(self) -> None:
        while (item := self._box.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()

    def _add_title(self, title: str) -> None:
        label = Label(self._themes, title, ink="accent", font=sans(tokens().type_px.text, tokens().weight.label))
        label.setContentsMargins(INDENT_PX, 12, 0, 0)
        self._box.addWidget(label)

    def _add_group(self, group: FactGroup) -> None:
        self._add_title(group.title)
        part = QWidget(self)
        grid = QGridLayout(part)
        grid.setContentsMargins(INDENT_PX, 0, 0, 0)
        grid.setHorizontalSpacing(16)
        grid.setVerticalSpacing(6)
        grid.setColumnMinimumWidth(0, LABEL_PX)
        grid.setColumnStretch(1, 1)
        for row, fact in enumerate(group.facts):
            label = Label(self._themes, fact.label, ink="ink3")
            value = Label(self._themes, fact.value, wraps=True, is_selectable=True)
            value.setAccessibleName(f"{fact.label}: {fact.value}")
            grid.addWidget(label, row, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(value, row, 1)
        self._box.addWidget(part)

    def _add_batches(self, view: LotPageView) -> None:
        if view.follows is not None:
            self._add_links("Follows", (view.follows,))
        if view.followed_by:
            self._add_links("Followed by", view.followed_by)

    def _add_links(self, title: str, links: Sequence[LotLink]) -> None:
        self._add_title(title)
        for link in links:
            self._box.addWidget(self._link(link), 0, Qt.AlignmentFlag.AlignLeft)

    def _link(self, link: LotLink) -> PlainButton:
        button = PlainButton(self._themes, link.title)
        button.press_requested.connect(lambda uid=link.lot_uid: self.lot_requested.emit(uid))
        return button

    def _add_missing(self, missing: tuple[tuple[str, str], ...]) -> None:
        self._add_title("Not known yet; add")
        part = QWidget(self)
        flow = FlowLayout(part, gap_px=0)
        for key, word in missing:
            button = PlainButton(self._themes, word)
            button.setAccessibleName(f"Add {word}")
            button.press_requested.connect(lambda key=key: self.field_requested.emit(key))
            flow.addWidget(button)
        self._box.addWidget(part)


class StripsPane(QWidget):
    """The sessions, newest first."""

    session_requested = Signal(str, bool)
    earlier_requested = Signal()

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._themes = themes
        self.strips: list[StripButton] = []
        self._none = Label(themes, "Not tasted yet.", ink="ink2")
        self._earlier = PlainButton(themes, "")
        self._earlier.press_requested.connect(self.earlier_requested)
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(24, 16, 16, 24)
        self._box.setSpacing(12)
        title = Label(themes, "Sessions", ink="accent", font=sans(tokens().type_px.text, tokens().weight.label))
        title.setContentsMargins(0, 12, 0, 0)
        self._box.addWidget(title)
        self._box.addWidget(self._none)
        self._box.addWidget(self._earlier)
        self._box.addStretch(1)

    def show_view(self, view: LotPageView) -> None:
        """Show other sessions."""
        while len(self.strips) > len(view.strips):
            last = self.strips.pop()
            last.hide()
            last.deleteLater()
        for place, strip in enumerate(view.strips):
            if place < len(self.strips):
                self.strips[place].show_strip(strip)
            else:
                self._add(StripButton(self._themes, strip))
        self._none.setVisible(not view.strips)
        self._earlier.setVisible(view.earlier > 0)
        if view.earlier:
            self._earlier.set_label(f"Show earlier sessions ({view.earlier})")

    def _add(self, button: StripButton) -> None:
        button.press_requested.connect(
            lambda: self.session_requested.emit(button.strip.session_uid, button.strip.is_open)
        )
        self._box.insertWidget(2 + len(self.strips), button)
        self.strips.append(button)


class Kin(NamedTuple):
    """The teas most like one lot, once they are known."""

    lot_uid: str
    views: tuple[KinView, ...]


class LotPage(Ground):
    """Draws a `LotPageView`."""

    left = Signal()
    lot_requested = Signal(str)
    form_requested = Signal(str, str)
    next_batch_requested = Signal(str)
    session_requested = Signal(str)
    bench_requested = Signal(str)
    arc_requested = Signal(str)
    keys_requested = Signal()
    lost = Signal()

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._presenter: LotPagePresenter | None = None
        self._view: LotPageView | None = None
        self._back = BackButton(themes, "Back to the Shelf")
        self._heading = Heading(themes)
        self.taste = QuietButton(themes, "Taste", is_loud=True)
        self.amend = QuietButton(themes, "Amend")
        self.next_batch = QuietButton(themes, "Next batch")
        self.put_away = QuietButton(themes, "Put away")
        self.take_back = PlainButton(themes, "")
        self.notice = NoticeBar(themes)
        self.facts = FactsPane(themes)
        self.kin = KinList(themes, INDENT_PX)
        self._background = Background(self)
        self.sessions = StripsPane(themes)
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addLayout(self._header())
        below = QVBoxLayout()
        below.setContentsMargins(MARGIN_PX, 0, MARGIN_PX, MARGIN_PX)
        below.setSpacing(8)
        below.addWidget(self.notice)
        box.addLayout(below, 1)
        self._facts_card = self._card(self.facts, "Provenance")
        self._facts_card.setFixedWidth(FACTS_PX)
        self._columns = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._columns.setSpacing(24)
        self._columns.addWidget(self._facts_card)
        self._columns.addWidget(self._card(self._sessions_and_kin(), "Sessions"), 1)
        below.addLayout(self._columns, 1)

    def _header(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setContentsMargins(BACK_PX, 10, MARGIN_PX, 18)
        row.setSpacing(12)
        row.addWidget(self._back)
        row.addSpacing(-8)  # the arrow stands in the middle of its target, so the title comes closer
        row.addWidget(self._heading, 1)
        for button in (self.take_back, self.put_away, self.next_batch, self.amend, self.taste):
            row.addWidget(button)
        return row

    def _sessions_and_kin(self) -> QWidget:
        both = QWidget()
        box = QVBoxLayout(both)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addWidget(self.sessions)
        kin = QHBoxLayout()
        kin.setContentsMargins(24 - INDENT_PX, 0, 16, 24)
        kin.addWidget(self.kin)
        box.addLayout(kin)
        box.addStretch(1)
        return both

    def _card(self, pane: QWidget, name: str) -> Card:
        card = Card(self._themes, self)
        card.setAccessibleName(name)
        inner = QVBoxLayout(card)
        inner.setContentsMargins(1, 8, 4, 8)
        area: QScrollArea = scrolled(pane)
        inner.addWidget(area)
        return card

    def _connect(self) -> None:
        self._back.press_requested.connect(self.left)
        self.taste.press_requested.connect(self._taste)
        self.amend.press_requested.connect(lambda: self._ask_form(""))
        self.next_batch.press_requested.connect(lambda: self.next_batch_requested.emit(self.lot_uid))
        self.put_away.press_requested.connect(self._put_away)
        self.take_back.press_requested.connect(self._undo)
        self.notice.dismissed.connect(self._dismiss)
        self.facts.lot_requested.connect(self.lot_requested)
        self.kin.lot_requested.connect(self.lot_requested)
        self._background.answered.connect(self._show_kin)
        self.facts.field_requested.connect(self._ask_form)
        self.sessions.session_requested.connect(self._open_session)
        self.sessions.earlier_requested.connect(self._show_earlier)
        for keys, slot in (
            ("Esc", self.left.emit),
            ("Alt+Left", self.left.emit),
            ("Ctrl+Z", self._undo),
            ("Ctrl+Y", self._redo),
            ("Ctrl+Shift+Z", self._redo),
            ("?", self.keys_requested.emit),
        ):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(slot)

    # -- gestures

    @property
    def lot_uid(self) -> str:
        """Return the uid of the lot shown, empty before the first."""
        return self._presenter.lot_uid if self._presenter else ""

    def _ask_form(self, key: str) -> None:
        self.form_requested.emit(self.lot_uid, key)

    def _taste(self) -> None:
        if self._view is not None and self._view.open_session:
            self.bench_requested.emit(self._view.open_session)
        else:
            self.session_requested.emit(self.lot_uid)

    def _open_session(self, session_uid: str, is_open: bool) -> None:
        (self.bench_requested if is_open else self.arc_requested).emit(session_uid)

    def _put_away(self) -> None:
        if self._presenter is not None:
            self._presenter.put_away()
            self.refresh()

    def _undo(self) -> None:
        if self._presenter is None:
            return
        self._presenter.undo()
        if self._presenter.is_there:
            self.refresh()
        else:
            self.lost.emit()

    def _redo(self) -> None:
        if self._presenter is not None:
            self._presenter.redo()
            self.refresh()

    def _show_earlier(self) -> None:
        if self._presenter is not None:
            self._presenter.show_earlier()
            self.refresh()

    def _dismiss(self) -> None:
        if self._presenter is not None:
            self._presenter.dismiss()
            self.refresh()

    # -- showing

    def show_lot(self, presenter: LotPagePresenter) -> None:
        """Show a lot."""
        self._presenter = presenter
        self.kin.show_kin(())
        self.refresh()

    def release(self) -> None:
        """Ask the journal nothing more."""
        self._background.release()

    def _ask_kin(self, presenter: LotPagePresenter) -> None:
        """Ask which teas are like this one; the page does not wait for it."""
        self._background.ask(lambda: Kin(presenter.lot_uid, presenter.kin()))

    def _show_kin(self, answer: object) -> None:
        if isinstance(answer, Kin) and answer.lot_uid == self.lot_uid:
            self.kin.show_kin(answer.views)

    def refresh(self) -> None:
        """Show the page as it stands."""
        if self._presenter is None or not self._presenter.is_there:
            return
        view = self._view = self._presenter.view()
        self.setAccessibleName(view.name)
        self._heading.show_words(view.name, view.local_name, view.kicker)
        self._show_actions(view)
        self.notice.show_words(view.notice or view.read_only)
        self.notice.button.setVisible(bool(view.notice))
        self.facts.show_view(view)
        self.sessions.show_view(view)
        self._ask_kin(self._presenter)

    def _show_actions(self, view: LotPageView) -> None:
        self.taste.set_label(view.taste_label)
        self.put_away.set_label("Take out again" if view.is_archived else "Put away")
        self.take_back.setVisible(bool(view.undo))
        self.take_back.set_label("Undo")
        self.take_back.setToolTip(f"Take back: {view.undo} (Ctrl Z)" if view.undo else "")
        self.take_back.setAccessibleName(f"Undo: {view.undo}")
        for button in (self.taste, self.amend, self.next_batch, self.put_away, self.take_back):
            button.setEnabled(not view.read_only)

    def take_keyboard(self) -> None:
        """Give the keyboard to the next act."""
        self.taste.setFocus(Qt.FocusReason.OtherFocusReason)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._facts_card.setFixedWidth(FACTS_PX if self.width() >= NARROW_PX else NARROW_FACTS_PX)
        super().resizeEvent(event)
