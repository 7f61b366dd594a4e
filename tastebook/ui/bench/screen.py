"""The Bench: strip above, step card and timer below, all from one presenter."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from typing import Final

from PySide6.QtCore import QEvent, QObject, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QResizeEvent, QShortcut, QShowEvent
from PySide6.QtWidgets import QApplication, QBoxLayout, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from tastebook.domain.steep import Call
from tastebook.presenters.bench.photos import BenchPhotos
from tastebook.presenters.bench.presenter import BenchPresenter
from tastebook.presenters.bench.views import FinishSheet, TimerView
from tastebook.presenters.help import MOVING, KeyPlace, keys_of
from tastebook.ui.bench.header import BenchHeader
from tastebook.ui.bench.photo_desk import PhotoDesk, PhotoDoor
from tastebook.ui.bench.step_card import StepCard
from tastebook.ui.bench.strip import HEIGHT_PX, LOW_HEIGHT_PX, LOWEST_HEIGHT_PX, InfusionStrip
from tastebook.ui.bench.timer_panel import LOW_WIDTH_PX, WIDTH_PX, TimerPanel
from tastebook.ui.bench.why_sheet import WhySheet
from tastebook.ui.sheet import Sheet
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.drawn import Ground
from tastebook.ui.widgets.tab_walk import walk_on
from tastebook.ui.writing import ALWAYS, key_that_pours

LOOK_AGAIN_MS: Final = 50
"""How often a running steep is looked at; what is shown is computed from the clock each time."""
COOLING_MS: Final = 1000
"""How often a kettle or a cup that cools is looked at."""
LONG_SIGNS: Final = 400
"""From here on a passage is understood once its typing pauses: letters must never wait for their meaning."""
PAUSE_MS: Final = 150
TYPED_PAUSE_MS: Final = 1000
"""How long after the last letter the words being typed are kept as a draft: never at every letter."""
TYPED_LONGEST_MS: Final = 10_000
"""And how long at most, for those who never pause."""
LEAST: Final = QSize(900, 660)
LOW_PX: Final = 860
LOWEST_PX: Final = 716
BELOW_LEAST_PX: Final = 700
"""The window is never lower; the Bench is, while news or a steep of another tea stands below it."""
TIGHT_PX: Final = 1240
NARROW_PX: Final = 1100
TALL_PX: Final = 1000
NARROW_WIDTH_PX: Final = 336
MARGIN_PX: Final = 24
LOW_MARGIN_PX: Final = 16
GUTTER_PX: Final = 24
HELP_KEYS: Final = keys_of("everywhere", "show_keys")
ENTER: Final = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
TEXT_KEYS: Final = Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier


class BenchScreen(Ground):
    """The screen at which one tastes."""

    left = Signal()
    arc_requested = Signal(str)
    help_requested = Signal()
    call_due = Signal(Call)
    steeping_told = Signal(str)
    full_window_requested = Signal(bool)
    news_place_changed = Signal()
    """Something has come to lie over the place for news, or has gone."""

    def __init__(
        self,
        themes: Themes,
        presenter: BenchPresenter,
        photos: BenchPhotos,
        families: Sequence[tuple[str, str]],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(themes, parent)
        self.presenter = presenter
        self._header = BenchHeader(themes)
        self._strip = InfusionStrip(themes)
        self.card = StepCard(themes, families)
        self.timer = TimerPanel(themes)
        self.why = WhySheet(themes)
        self.why.asked_otherwise.connect(self._ask_otherwise)
        self.why.taken.connect(self._take_advice)
        self.photos = PhotoDesk(themes, photos, self.card.photos, self.refresh, self._open_sheet)
        self._ticker = QTimer(self)
        self._ticker.setTimerType(Qt.TimerType.PreciseTimer)
        self._ticker.setInterval(LOOK_AGAIN_MS)
        self._ticker.timeout.connect(self._look_again)
        self._pause = QTimer(self.card)
        self._pause.setSingleShot(True)
        self._pause.setInterval(PAUSE_MS)
        self._pause.timeout.connect(self._show_typed)
        self._timer_view: TimerView | None = None
        self._typed_pause = _once(self.card, TYPED_PAUSE_MS, self._keep_typed)
        self._typed_longest = _once(self.card, TYPED_LONGEST_MS, self._keep_typed)
        self._shown_second: tuple[object, ...] = ()
        self._keys: dict[str, Callable[[], None]] = {}
        self._pedals: list[QShortcut] = []
        self._pedal_keys: tuple[str, ...] = ()
        self._is_timer_only = False
        self._lay_out()
        self._connect()
        self._bind_keys()
        door = PhotoDoor(self)
        door.watch(self.photos.sheet)
        door.file_given.connect(lambda path: self.photos.attach_files([path]))
        door.picture_given.connect(self.photos.attach)
        self.refresh()

    def sizeHint(self) -> QSize:
        return QSize(1440, 900)

    def minimumSizeHint(self) -> QSize:
        return LEAST

    # -- building

    def _lay_out(self) -> None:
        self._lower = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._lower.setSpacing(GUTTER_PX)
        self._lower.addWidget(self.card, 1)
        self._lower.addWidget(self.timer)
        self.timer.setFixedWidth(WIDTH_PX)
        self.card.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self._box = QVBoxLayout(self)
        self._box.setSizeConstraint(QVBoxLayout.SizeConstraint.SetNoConstraint)
        self._box.setContentsMargins(MARGIN_PX, 0, MARGIN_PX, MARGIN_PX)
        self._box.setSpacing(0)
        self._box.addWidget(self._header)
        self._box.addWidget(self._strip)
        self._box.addSpacing(8)
        self._box.addLayout(self._lower, 1)

    def _connect(self) -> None:
        bench, card, timer = self.presenter, self.card, self.timer
        self._header.left.connect(self._leave)
        self._header.finish_requested.connect(self.finish)
        self._header.notice_dismissed.connect(self._then(bench.dismiss))
        self._strip.column_requested.connect(self._then(bench.go_to))
        card.step_requested.connect(self._then(bench.choose_step))
        card.typed.connect(self._type)
        card.said.connect(self._then(bench.say))
        card.pedal_requested.connect(self._then(bench.pedal))
        card.skip_requested.connect(self._then(bench.skip))
        card.intensity_requested.connect(self._then(bench.note))
        card.removal_requested.connect(self._then(bench.remove_word))
        card.flags_requested.connect(self._then(bench.flag_word))
        card.family_requested.connect(self._then(bench.press_family))
        card.value_requested.connect(self._then(bench.read))
        card.clear_requested.connect(self._then(bench.clear_reading))
        card.reading_flags_requested.connect(self._then(bench.flag_reading))
        card.swatch_requested.connect(self._then(bench.choose_swatch))
        card.nudge_requested.connect(self._then(bench.nudge_liquor))
        card.clarity_requested.connect(self._then(bench.choose_clarity))
        card.stopwatch_requested.connect(self._then(bench.press_stopwatch))
        card.draft_requested.connect(self._then(lambda key, text: bench.draft(**{key: text})))
        said = bench.said
        card.part_step_requested.connect(self._then(said.step))
        card.part_choice_requested.connect(self._then(said.choose))
        card.part_value_requested.connect(self._then(said.set_value))
        card.part_drop_requested.connect(self._then(said.drop))
        card.part_left.connect(self._then(said.leave))
        card.number_requested.connect(self._then(bench.take_number))
        card.meaning_requested.connect(self._then(said.explain))
        card.say.leave_requested.connect(self.setFocus)
        card.say.empty_key_requested.connect(lambda key: self._keys[key]())
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._show_key)
        timer.act_requested.connect(self._then(bench.pedal))
        timer.water_step_requested.connect(self._then(bench.nudge_water))
        timer.water_typed.connect(self._then(bench.type_water))
        timer.plan_step_requested.connect(self._then(bench.nudge_plan))
        timer.plan_typed.connect(self._then(bench.type_plan))
        timer.seconds_typed.connect(self._then(bench.amend_steep))
        timer.seconds_typed.connect(self._take_keyboard_back)
        timer.boil_requested.connect(self._then(bench.boil))
        timer.why_requested.connect(self.ask_why)
        timer.long_accepted.connect(self._then(bench.accept_long))
        timer.long_accepted.connect(self._take_keyboard_back)

    def _then(self, gesture: Callable[..., object]) -> Callable[..., None]:
        """Return a slot that carries a gesture out and shows what came of it."""

        def slot(*given: object) -> None:
            gesture(*given)
            self.refresh()

        return slot

    def _bind_keys(self) -> None:
        """Bind the keys of the one table that the help shows too."""
        bench = self.presenter
        gestures: dict[tuple[KeyPlace, str], Callable[[], object]] = {
            ("bench", "pedal_always"): bench.pedal,
            ("bench", "next_infusion"): bench.next_infusion,
            ("bench", "column_before"): lambda: bench.go_beside(-1),
            ("bench", "column_after"): lambda: bench.go_beside(1),
            ("bench", "water_cooler"): lambda: bench.nudge_water(-1),
            ("bench", "water_hotter"): lambda: bench.nudge_water(1),
            ("bench", "plan_shorter"): lambda: bench.nudge_plan(-1),
            ("bench", "plan_longer"): lambda: bench.nudge_plan(1),
            ("bench", "boil"): bench.boil,
            ("bench", "take_number"): bench.take_number,
            ("everywhere", "undo"): bench.undo,
            ("everywhere", "redo"): bench.redo,
        }
        self._keys = {key: self._then(act) for where, act in gestures.items() for key in keys_of(*where)}
        for place, key in enumerate(keys_of("bench", "step")):
            self._keys[key] = self._then(partial(bench.choose_step_at, place))
        for action, slot in (
            ("families", self.card.take_families),
            ("finish", self.finish),
            ("timer_only", self.toggle_timer_only),
            ("why", self.ask_why),
            ("take_advice", self._take_advice),
            ("said_here", self.card.toggle_here),
            ("photo", self.photos.pictures_requested.emit),
        ):
            self._keys |= dict.fromkeys(keys_of("bench", action), slot)
        self._keys |= dict.fromkeys(keys_of("everywhere", "show_keys"), self.help_requested.emit)
        for key, slot in self._keys.items():
            self._shortcut(key, slot)

    def bind_pedals(self, keys: Sequence[str]) -> None:
        """Let these keys do the next act at the timer."""
        for old in self._pedals:
            old.setEnabled(False)
            old.deleteLater()
        self._pedal_keys = tuple(keys)
        self._pedals = [self._shortcut(key, self._then(self.presenter.pedal)) for key in keys]

    def _shortcut(self, key: str, slot: Callable[[], object]) -> QShortcut:
        shortcut = QShortcut(QKeySequence(key), self)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.setAutoRepeat(False)
        shortcut.activated.connect(slot)
        return shortcut

    # -- gestures that need more than the presenter

    def _type(self, text: str) -> None:
        """Show what each letter changes; in a long passage, once one pauses."""
        self.presenter.type(text)
        self._typed_pause.start()
        if not self._typed_longest.isActive():
            self._typed_longest.start()
        if len(text) > LONG_SIGNS:
            self._pause.start()
        else:
            self._show_typed()

    def _keep_typed(self) -> None:
        """Keep the words being typed, should the program end before they are taken."""
        self._typed_pause.stop()
        self._typed_longest.stop()
        self.presenter.keep_typed()

    def _show_typed(self) -> None:
        self._pause.stop()
        text = self.presenter.typed
        self.refresh()
        self.card.show_offers(self.presenter.completions(self.card.phrase()) if text.strip() else ())

    def reread(self) -> None:
        """Show what another window has changed."""
        self.presenter.reread()
        self.refresh()

    def follow_pour(self) -> None:
        """Go on from a pour that was pressed, or taken back, away from here."""
        self.presenter.follow_pour()
        self.refresh()

    def news_place(self) -> QBoxLayout | None:
        """Return the place in the header for news of the window; None while it is taken, covered or too narrow."""
        is_covered = any(isinstance(one, Sheet) and one.isVisible() for one in self.children())
        is_elsewhere = is_covered or self._is_timer_only or self.width() < TIGHT_PX
        return None if is_elsewhere else self._header.news_place()

    def show_verdict(self) -> None:
        """Go to the verdict."""
        self.presenter.go_to_verdict()
        self.refresh()
        self.take_keyboard()

    def ask_why(self) -> None:
        """Lay the reasons for the next steep over the strip and the card; the timer stays in sight."""
        self.why.show_view(self.presenter.why())
        self._open_sheet(self.why)

    def _open_sheet(self, sheet: Sheet) -> None:
        self.lay_over(sheet)

    def lay_over(self, sheet: Sheet) -> None:
        """Lay a sheet over the strip and the card; the timer stays in sight, and for it what stands above it."""
        if self._is_timer_only:
            self.toggle_timer_only()
        below_px = self.timer.geometry().bottom() + 1 if self._is_stacked else 0
        sheet.open_over(self, clear_right_px=self.timer_room_px, clear_top_px=below_px)
        sheet.closed.connect(self._follow_sheet, Qt.ConnectionType.UniqueConnection)
        self._follow_sheet()

    @property
    def _own_sheets(self) -> tuple[Sheet, ...]:
        return (self.why, self.photos.sheet)

    @property
    def _is_below_a_sheet(self) -> bool:
        """Say whether a sheet lies over the Bench that is none of its own, and has keys of its own."""
        return any(
            isinstance(one, Sheet) and one.isVisible() and one not in self._own_sheets for one in self.children()
        )

    def event(self, event: QEvent) -> bool:
        """Leave plain keys to a sheet of the window that lies over the Bench; what is in water is poured still."""
        is_asked = event.type() == QEvent.Type.ShortcutOverride and self._is_below_a_sheet
        if is_asked and isinstance(event, QKeyEvent) and self._is_for_the_sheet(event):
            event.accept()
            return True
        return super().event(event)

    def _is_for_the_sheet(self, event: QKeyEvent) -> bool:
        key = QKeySequence(event.keyCombination()).toString(QKeySequence.SequenceFormat.PortableText)
        if key in self._pedal_keys:
            return key in MOVING or self.presenter.desk.tasting.steeping is None
        return event.text().isprintable() and event.text() in self._keys and event.text() not in HELP_KEYS

    def _ask_otherwise(self, strength: int, reference: int) -> None:
        self.presenter.counsel.choose(strength=strength, reference=reference)
        self.refresh()
        self.why.show_view(self.presenter.why())

    def _take_advice(self) -> None:
        self.presenter.take_advice()
        self.why.close_sheet()
        self.refresh()

    def finish(self) -> None:
        """Go to the verdict; from there, end the session and ask for its Arc."""
        self.card.verdict.settle()
        is_over = not self.presenter.desk.tasting.session.is_open or self.presenter.finish()
        self.refresh()
        if is_over:
            self.arc_requested.emit(self.presenter.desk.scope)
        else:
            self.take_keyboard()

    def settle(self) -> None:
        """Keep what was typed and not yet taken or left."""
        self.card.verdict.settle()
        self.photos.sheet.settle()
        self.presenter.settle()
        self.refresh()

    def _leave(self) -> None:
        self.settle()
        self.left.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let a letter typed anywhere begin in the say line, and Enter take its words; Escape comes back to it."""
        plain = not event.modifiers() & ~TEXT_KEYS
        if event.key() == Qt.Key.Key_Escape and self._is_timer_only:
            self.toggle_timer_only()
        elif event.key() == Qt.Key.Key_Escape:
            self._then(self.presenter.said.leave)()  # what was explained has been read
            self.card.take_keyboard()
        elif plain and event.key() in ENTER and self.card.has_say_line and self.presenter.typed.strip():
            self._then(self.presenter.say)(self.presenter.typed)
            self.card.take_keyboard()
        elif plain and event.text().isalpha() and self.card.has_say_line:
            self._type(self.card.say.text() + event.text())
            self.card.take_keyboard()
        else:
            super().keyPressEvent(event)

    def focusNextPrevChild(self, is_next: bool) -> bool:
        """Go on by Tab; the say line has the keyboard once what had it is no longer seen."""
        focused = QApplication.focusWidget()
        if focused is None or not focused.isVisible():
            self.take_keyboard()
            return True
        return walk_on(self.window(), is_next=is_next)

    def _take_keyboard_back(self) -> None:
        """Give the keyboard to the say line, unless the timer still asks."""
        if not self.presenter.timer().question:
            self.take_keyboard()

    # -- showing

    def refresh(self) -> None:
        """Show the Bench as it stands."""
        before = QApplication.focusWidget()
        had_keyboard = self._part_with(before)
        view = self.presenter.view()
        self._header.show_view(view.header)
        self._strip.show_view(view.strip)
        self.card.show_view(view.card)
        self._show_timer(view.timer)
        self.photos.refresh()
        if self._header.show_notice(view.notice):
            self.news_place_changed.emit()
        self._tell_steeping()
        self._keep_looking()
        if had_keyboard is not None and not self._has_keyboard(before, had_keyboard):
            self.take_keyboard()  # what had it can no longer be used, and Qt gave it to whatever came next

    def _part_with(self, focused: QWidget | None) -> QWidget | None:
        """Return the part of the Bench that something is on, None for what is on none."""
        parts = (self._header, self._strip, self.card, self.timer)
        return next((part for part in parts if focused is not None and part.isAncestorOf(focused)), None)

    def _has_keyboard(self, before: QWidget | None, part: QWidget) -> bool:
        """Say whether the keyboard is still where it was, with a word beside it, or in a field that asked for it."""
        focused = QApplication.focusWidget()
        now = self._part_with(focused)
        return now is not None and (focused is before or isinstance(focused, QLineEdit) or now is part is self.card)

    def _show_timer(self, view: TimerView) -> None:
        """Show the timer, with the key that does its act now."""
        self._timer_view = view
        is_key_taken = self._is_below_a_sheet and self.presenter.desk.tasting.steeping is None
        self.timer.show_view(replace(view, key=ALWAYS if is_key_taken else key_that_pours(view.key)))

    def _show_key(self) -> None:
        """Show which key pours now that something else has the keyboard."""
        if self._timer_view is not None and self.isVisible():
            self._show_timer(self._timer_view)

    def _follow_sheet(self) -> None:
        """Show the key that pours now, and make room for news where it is seen."""
        self._show_timer(self.presenter.timer())
        self.news_place_changed.emit()

    def _keep_looking(self) -> None:
        """Look again often while seconds count, now and then while something cools, and else not at all."""
        is_steeping = self.presenter.is_steeping
        if not is_steeping or not self._ticker.isActive():
            self.presenter.due_call()
        every_ms = LOOK_AGAIN_MS if is_steeping else COOLING_MS
        if not is_steeping and not self.presenter.is_cooling:
            self._ticker.stop()
        elif not self._ticker.isActive() or self._ticker.interval() != every_ms:
            self._ticker.start(every_ms)

    def _look_again(self) -> None:
        """Show what time changed: the timer always, the strip once a second."""
        view = self.presenter.timer()
        self._show_timer(view)
        second = (view.digits, view.word, view.water)
        if second != self._shown_second:
            self._shown_second = second
            self._strip.show_view(self.presenter.strip())
            self._tell_steeping()
        self._show_stopwatch()
        self._keep_looking_at_what_cools()
        call = self.presenter.due_call()
        if call is not None:
            self.call_due.emit(call)

    def _keep_looking_at_what_cools(self) -> None:
        if not self.presenter.is_steeping and not self.presenter.is_cooling:
            self._ticker.stop()

    def _show_stopwatch(self) -> None:
        view = self.card.view
        if view is not None and isinstance(view.sheet, FinishSheet):
            self.card.show_running(self.presenter.stopwatch_s())

    def _tell_steeping(self) -> None:
        """Tell the window what to show in its title, so that a minimised window counts on."""
        view = self.timer.view
        steeping = view is not None and self.presenter.desk.tasting.steeping is not None
        title = self.presenter.desk.tasting.lot.name
        self.steeping_told.emit(f"{view.digits} {view.word}, {title}" if view is not None and steeping else title)

    def take_keyboard(self) -> None:
        """Give the keyboard to the say line."""
        self.card.take_keyboard()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.take_keyboard()

    @property
    def timer_room_px(self) -> int:
        """Return how much of the right edge the timer takes; nothing where it stands above the card."""
        return 0 if self._is_stacked else self.width() - self.timer.x() + MARGIN_PX // 2

    def toggle_timer_only(self) -> None:
        """Show nothing but the timer, as large as the window; or all again."""
        self._is_timer_only = not self._is_timer_only
        for part in (self._header, self._strip, self.card):
            part.setVisible(not self._is_timer_only)
        self.full_window_requested.emit(self._is_timer_only)
        self._arrange()
        self.setFocus() if self._is_timer_only else self.take_keyboard()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._arrange()
        super().resizeEvent(event)

    @property
    def _is_stacked(self) -> bool:
        """Say whether the timer stands above the step card."""
        return self.width() < NARROW_PX and self.height() >= TALL_PX

    def _arrange(self) -> None:
        """Fit everything to the size of the window."""
        is_low = self.height() < LOW_PX
        self._strip.setFixedHeight(self._strip_height())
        self.card.set_compact(is_compact=is_low or self._is_stacked, is_tight=is_low and self.width() < TIGHT_PX)
        is_all = not self._is_timer_only
        self.timer.set_compact(is_compact=is_low and is_all, is_lowest=self.height() < BELOW_LEAST_PX and is_all)
        self._header.setFixedHeight(52 if is_low else 64)
        margin = LOW_MARGIN_PX if is_low else MARGIN_PX
        self._box.setContentsMargins(margin, 0, margin, 12 if is_low else margin)
        self._lower.setSpacing(margin)
        timer_px = NARROW_WIDTH_PX if self.width() < NARROW_PX else (LOW_WIDTH_PX if is_low else WIDTH_PX)
        self._set_stacked(is_stacked=self._is_stacked, timer_px=timer_px)

    def _strip_height(self) -> int:
        if self.height() >= LOW_PX:
            return HEIGHT_PX
        return LOW_HEIGHT_PX if self.height() >= LOWEST_PX else LOWEST_HEIGHT_PX

    def _set_stacked(self, *, is_stacked: bool, timer_px: int) -> None:
        """Put the timer above the step card as one row, where the window is narrow and tall."""
        direction = QBoxLayout.Direction.BottomToTop if is_stacked else QBoxLayout.Direction.LeftToRight
        self._lower.setDirection(direction)
        self.timer.set_flat(is_flat=is_stacked)
        is_free = is_stacked or self._is_timer_only
        self.timer.setMaximumWidth(16_777_215 if is_free else timer_px)
        self.timer.setMinimumWidth(0 if is_free else timer_px)
        self.timer.set_large(is_large=self._is_timer_only)


def _once(parent: QObject, after_ms: int, slot: Callable[[], object]) -> QTimer:
    """Return a timer that calls once, so long after it was started last."""
    timer = QTimer(parent)
    timer.setSingleShot(True)
    timer.setInterval(after_ms)
    timer.timeout.connect(slot)
    return timer
