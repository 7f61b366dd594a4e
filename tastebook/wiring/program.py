"""The program with its window: which screen is shown when, and what crosses between them."""

from __future__ import annotations

import gc
import logging
import sys
import threading
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QObject, QPoint, QRect, QSize, Qt, QTimer
from PySide6.QtGui import QGuiApplication, QKeySequence, QShortcut
from PySide6.QtWidgets import QApplication, QFileDialog, QWidget

from tastebook.domain.act import Act
from tastebook.domain.errors import StoreError, TastebookError
from tastebook.platform.crashlog import keep_crash_log, tell_of_crashes
from tastebook.platform.files import read_bytes, write_bytes
from tastebook.presenters.elsewhere import told_of
from tastebook.presenters.finding import FindPresenter
from tastebook.presenters.help import Section
from tastebook.presenters.shelf import ShelfPresenter
from tastebook.services.lexicon import SCOPE as VOCABULARY
from tastebook.services.settings import Settings
from tastebook.services.tasting import TastingDesk
from tastebook.services.word_table import MOST_BYTES
from tastebook.ui.calling import Caller
from tastebook.ui.ready import when_drawn
from tastebook.ui.shelf.screen import ShelfScreen
from tastebook.ui.theme.theme import Themes, system_reduces_motion
from tastebook.ui.window import MainWindow
from tastebook.version import VERSION
from tastebook.wiring import screens
from tastebook.wiring.house import House
from tastebook.wiring.sounding import open_player, open_speaker
from tastebook.wiring.steeping import SteepWatch

if TYPE_CHECKING:
    from tastebook.ui.arc.screen import ArcScreen
    from tastebook.ui.bench.screen import BenchScreen
    from tastebook.ui.help_sheet import HelpSheet
    from tastebook.ui.settings_sheet import SettingsSheet
    from tastebook.ui.sheet import Sheet
    from tastebook.ui.shelf.session_card import SessionCard
    from tastebook.ui.words.sheet import WordsSheet

WANTED: Final = QSize(1440, 900)
"""How large the window is, where the screen has room."""

OUTSIDE_LOOK_MS: Final = 1000
"""How often it is asked whether another window has changed the journal."""

WARM_UP_AFTER_MS: Final = 300
"""Once the window stands and has answered."""

LOG: Final = logging.getLogger("tastebook")

ChoosePlace = Callable[[str], str]
ChoosePictures = Callable[[], Sequence[str]]
PICTURES: Final = "Pictures (*.jpg *.jpeg *.png *.webp *.tif *.tiff *.heic *.heif);;All files (*)"
KINDS: Final = {".pdf": "PDF (*.pdf)", ".jpg": "JPEG (*.jpg);;PNG (*.png)"}


class Program(QObject):
    """Shows the screens of one house in one window."""

    def __init__(
        self,
        built: House,
        themes: Themes,
        choose_place: ChoosePlace | None = None,
        choose_pictures: ChoosePictures | None = None,
    ) -> None:
        super().__init__()
        self.house = built
        self._themes = themes
        self._choose_place = choose_place or self._ask_for_place
        self._choose_pictures = choose_pictures or self._ask_for_pictures
        self.window = MainWindow(themes)
        self.caller = Caller(
            self.window, open_player, open_speaker, sound=self._settings.sound, voice=self._settings.voice
        )
        self.shelf = ShelfScreen(themes, ShelfPresenter(built.shelf, FindPresenter(built.finding, built.journal.lot)))
        self._help: HelpSheet | None = None
        self._settings_sheet: SettingsSheet | None = None
        self._words_sheet: WordsSheet | None = None
        self.bench: BenchScreen | None = None
        self._desk: TastingDesk | None = None
        self._arc: ArcScreen | None = None
        self._card: SessionCard | None = None
        self.steeps = SteepWatch(built, themes, self.window, self.caller, self._at_bench)
        self._version = built.journal.outside_version()
        self._outside = QTimer(self)
        self._outside.setInterval(OUTSIDE_LOOK_MS)
        self._outside.timeout.connect(self._look_outside)
        self._connect()

    @property
    def _settings(self) -> Settings:
        return self.house.preferences.current

    def _connect(self) -> None:
        self.shelf.session_requested.connect(self.open_card)
        self.shelf.bench_requested.connect(self.open_bench)
        self.shelf.arc_requested.connect(self.open_arc)
        self.shelf.place_requested.connect(self.open_place)
        self.shelf.find_requested.connect(self.find)
        self.shelf.words_requested.connect(self.show_words)
        self.shelf.settings_requested.connect(self.show_settings)
        self.shelf.help_requested.connect(self.show_keys)
        self.steeps.bench_requested.connect(self.open_bench)
        self.steeps.poured.connect(self._follow_pour)
        self.caller.told.connect(self.window.news.tell)
        self.window.closing.connect(self.close)
        self.house.preferences.listen(self._follow_settings)
        self._shortcut("F1", self.show_terms)
        self._shortcut("Ctrl+L", self.show_words)
        self._shortcut("Ctrl+,", self.show_settings)
        self.house.keeping.listen(self._follow_words)

    def _shortcut(self, key: str, slot: Callable[[], object]) -> None:
        shortcut = QShortcut(QKeySequence(key), self.window)
        shortcut.setContext(Qt.ShortcutContext.WindowShortcut)
        shortcut.activated.connect(slot)

    def start(self) -> None:
        """Show the Shelf, and say what the user should know before they begin."""
        self.window.resize(_fitting(WANTED, _room()))
        if self._settings.maximized:
            self.window.setWindowState(Qt.WindowState.WindowMaximized)
        self.window.show_screen(self.shelf)
        self.window.show()
        when_drawn(self.window, self._fit_frame)
        self._resume()
        self._outside.start()
        when_drawn(self.window, self._warm_up)
        when_drawn(self.window, self.caller.prepare)
        for words in (self.house.journal.read_only_because, self.house.preferences.told, *self.house.courses.refused()):
            if words:
                self.window.news.tell(words, stays=True)

    def _fit_frame(self) -> None:
        """Bring the window with its frame, which is known only now, into the room on the screen."""
        room, window = _room(), self.window
        if room is None or window.windowState() != Qt.WindowState.WindowNoState:
            return
        frame, inside = window.frameGeometry(), window.geometry()
        place = _inside(frame, room)
        window.resize(place.size() - (frame.size() - inside.size()))
        window.move(place.topLeft())

    def _keep_state(self) -> None:
        """Keep whether the window is as large as the screen, for the next start."""
        settings = replace(self._settings, maximized=bool(self.window.windowState() & Qt.WindowState.WindowMaximized))
        try:
            self.house.preferences.use(settings)
        except StoreError as exc:
            LOG.warning("the size of the window is not kept: %s", exc)

    def _warm_up(self) -> None:
        """Load what the first commit and the first cup need, beside the window, so that no gesture waits for it."""
        threading.Thread(target=_warm_up, args=(self.house,), name="warm-up", daemon=True).start()

    def _resume(self) -> None:
        """Go straight to a steep that was running when the program ended."""
        running = self.steeps.presenter.soonest
        if running is not None:
            self.open_bench(running.session_uid)
            self.window.news.tell(f"{running.lot_name} is still in water: its steep has gone on.", stays=True)

    def tell_unexpected(self, log: Path) -> None:
        """Say that something failed which nobody foresaw, instead of leaving a gesture without an answer."""
        self.window.news.tell(
            f"That did not work: Tastebook met an error of its own. What you had taken is kept. It is written down in "
            f"{log}; nothing in there is personal.",
            stays=True,
        )

    def _succeeds(self, build: Callable[[], None]) -> bool:
        """Build a screen and return whether that worked; else say why not, on the screen that one comes from."""
        try:
            build()
        except TastebookError as exc:
            self.window.news.tell(f"This cannot be opened: {exc}", stays=True)
            return False
        return True

    # -- from screen to screen

    def show_shelf(self) -> None:
        """Go to the Shelf; a steep that runs goes on."""
        self._drop_card()
        self.shelf.refresh()
        self.window.show_screen(self.shelf)
        if self.bench is None or self._desk is None or self._desk.tasting.steeping is None:
            self.window.show_title("")

    def open_card(self, lot_uid: str) -> None:
        """Ask what the Bench needs to know before a session with a lot begins."""
        self._drop_card()
        self._succeeds(lambda: self._build_card(lot_uid))

    def _build_card(self, lot_uid: str) -> None:
        card = screens.session_card(self.house, self._themes, lot_uid)
        card.begun.connect(self.open_bench)
        card.left.connect(self.show_shelf)
        self._lets_find(card)
        self._card = card
        self.window.show_screen(card)

    def open_bench(self, session_uid: str) -> None:
        """Go to the Bench of a session; it is kept while the program runs, so that its steep is heard anywhere."""
        if self._desk is None or self._desk.scope != session_uid or self.bench is None:
            self._leave_bench()
            if not self._succeeds(lambda: self._build_bench(session_uid)):
                self._leave_bench()
                return
        self._drop_card()
        if self.bench is not None:
            self.window.show_screen(self.bench)
            self.bench.refresh()
            self.bench.take_keyboard()

    def _build_bench(self, session_uid: str) -> None:
        self._desk = TastingDesk(self.house.keeping, self.house.words, session_uid)
        bench = screens.bench_screen(self.house, self._themes, self._desk)
        bench.bind_pedals(self._settings.pedal_keys)
        bench.left.connect(self.show_shelf)
        self._lets_find(bench)
        bench.arc_requested.connect(self.open_arc)
        bench.help_requested.connect(self.show_keys)
        bench.call_due.connect(self.caller.announce)
        bench.steeping_told.connect(self.window.show_title)
        bench.full_window_requested.connect(self._set_full)
        bench.news_place_changed.connect(self.window.place_news)
        bench.photos.pictures_requested.connect(self._attach_pictures)
        bench.photos.copy_requested.connect(lambda name: self._save_photo(name, bench.photos.presenter.copy))
        self.bench = bench

    def _at_bench(self) -> tuple[str, bool]:
        """Return the session at the Bench, empty for none, and whether its timer is in sight."""
        if self.bench is None or self._desk is None:
            return "", False
        return self._desk.scope, self.window.screen_now is self.bench

    def _follow_pour(self, session_uid: str) -> None:
        """Show what came of a pour that was pressed away from its Bench, or taken back there."""
        if self.bench is not None and self._desk is not None and self._desk.scope == session_uid:
            self.bench.follow_pour()
        if self.window.screen_now is self.shelf:
            self.shelf.refresh()

    def _leave_bench(self) -> None:
        if self.bench is not None:
            self.bench.settle()
            self.bench.call_due.disconnect()  # from now on the steeps in sight elsewhere are called
            self._put_sheets_away()
            self.window.drop_screen(self.bench)
        if self._desk is not None:
            self._desk.leave()
        self.bench = self._desk = None

    def open_arc(self, session_uid: str) -> None:
        """Go to the review of a session."""
        self._drop_arc()
        self._succeeds(lambda: self._build_arc(session_uid))

    def _build_arc(self, session_uid: str) -> None:
        arc = screens.arc_screen(self.house, self._themes, session_uid)
        arc.left.connect(self.show_shelf)
        arc.page_requested.connect(self.make_page)
        arc.bench_requested.connect(self.open_bench)
        arc.verdict_requested.connect(self.open_verdict)
        arc.copy_requested.connect(lambda name: self._save_photo(name, arc.photo_copy))
        arc.lot_requested.connect(self._open_lot)
        self._lets_find(arc)
        self._arc = arc
        self.window.show_screen(arc)
        self.window.show_title(self.house.journal.tasting(session_uid).lot.name)

    def open_place(self, session_uid: str, infusion: int, is_open: bool) -> None:
        """Go to where something was noted: to the Bench while tasting goes on, else to the Arc, at that infusion."""
        if not is_open:
            self.open_arc(session_uid)
            if self._arc is not None and infusion:
                self._arc.point_at(infusion)
            return
        self.open_bench(session_uid)
        if self.bench is not None and infusion:
            self.bench.presenter.go_to(str(infusion))
            self.bench.refresh()

    def find(self) -> None:
        """Go to the find field; what lies over the screen is looked through instead, if it can be."""
        if self._help is not None and self._help.isVisible():
            self._help.finder.setFocus()
            return
        self.show_shelf()
        self.shelf.go_finding()

    def _open_lot(self, lot_uid: str) -> None:
        self.show_shelf()
        self.shelf.open_lot(lot_uid)

    def _lets_find(self, screen: QWidget) -> None:
        """Let Ctrl F lead to the find field from a screen; over it a sheet may have one of its own."""
        shortcut = QShortcut(QKeySequence("Ctrl+F"), screen)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(self.find)
        shortcut.activatedAmbiguously.connect(self.find)

    def open_verdict(self, session_uid: str) -> None:
        """Go to the verdict of a session at its Bench."""
        self.open_bench(session_uid)
        if self.bench is not None:
            self.bench.show_verdict()

    def make_page(self, session_uid: str) -> Path | None:
        """Print a session where the user wants it, and return where; None if nothing was written."""
        tasting = self.house.journal.tasting(session_uid)
        path = self._choose_place(
            f"{tasting.lot.name}, {tasting.session.started_at_utc:%Y-%m-%d}.pdf".replace("/", "-")
        )
        if not path:
            return None
        try:
            write_bytes(Path(path), self.house.page(session_uid))
        except (TastebookError, OSError) as exc:
            self.window.news.tell(f"No page was written: {exc}", stays=True)
            return None
        self.window.news.tell(f"The page is kept as {path}", path)
        return Path(path).resolve()

    def _ask_for_place(self, name: str) -> str:
        kinds = KINDS.get(Path(name).suffix, "")
        path, _ = QFileDialog.getSaveFileName(self.window, "Keep a copy", name, kinds)
        return path

    def _ask_for_pictures(self) -> Sequence[str]:
        paths, _ = QFileDialog.getOpenFileNames(self.window, "Photos for this step", "", PICTURES)
        return paths

    def _attach_pictures(self) -> None:
        if self.bench is not None:
            self.bench.photos.attach_files(self._choose_pictures())

    def _save_photo(self, name: str, copy: Callable[[str], bytes]) -> None:
        """Keep a copy of the photo that is looked at, as nothing but its pixels, where the user wants it."""
        path = self._choose_place(name)
        if not path:
            return
        try:
            write_bytes(Path(path), copy(path))
        except (TastebookError, OSError) as exc:
            self.window.news.tell(f"No copy was made: {exc}", stays=True)
        else:
            self.window.news.tell(f"The photo, without place, time and camera, is kept as {path}", path)

    def _drop_card(self) -> None:
        if self._card is not None:
            card, self._card = self._card, None
            self._put_sheets_away()
            self.window.drop_screen(card)

    def _drop_arc(self) -> None:
        if self._arc is not None:
            arc, self._arc = self._arc, None
            arc.release()
            self._put_sheets_away()
            self.window.drop_screen(arc)

    # -- sheets over the screens

    def show_keys(self) -> None:
        """Show the keys beside what is on screen."""
        self._show_help("keys")

    def show_terms(self) -> None:
        """Show the words, the steps and the cautions beside what is on screen."""
        self._show_help("terms")

    def _show_help(self, section: Section) -> None:
        sheet = self._help_sheet()
        sheet.turn_to(section)
        self._lay_over(sheet)

    def _lay_over(self, sheet: Sheet) -> None:
        """Lay a sheet over what is on screen; at the Bench the timer stays in sight."""
        if self.bench is not None and self.window.screen_now is self.bench:
            self.bench.lay_over(sheet)
        else:
            sheet.open_over(self.window.screen_now)

    def _help_sheet(self) -> HelpSheet:
        if self._help is None:
            self._help = screens.help_sheet(self.house, self._themes)
            self._help.words_requested.connect(self.show_words)
        return self._help

    def show_settings(self) -> None:
        """Show the settings."""
        if self._settings_sheet is None:
            self._settings_sheet = screens.settings_sheet(self.house, self._themes, self._silent_because)
            self._settings_sheet.copy_requested.connect(self._copy_journal)
        self._settings_sheet.refresh()
        self._lay_over(self._settings_sheet)

    def show_words(self, words: str = "") -> None:
        """Show the words of tasting, one of them in full if it is named."""
        if self._words_sheet is None:
            self._words_sheet = screens.words_sheet(self.house, self._themes)
            self._words_sheet.export_requested.connect(self._write_words)
            self._words_sheet.import_requested.connect(self._read_words)
        if words:
            self._words_sheet.show_word(words)
        self._lay_over(self._words_sheet)

    def _write_words(self, path: str) -> None:
        if self._words_sheet is None:
            return
        presenter = self._words_sheet.presenter
        try:
            write_bytes(Path(path), presenter.table().encode("utf-8", "replace"))
        except StoreError as exc:
            presenter.tell(f"Nothing was written: {exc}", is_trouble=True)
        else:
            presenter.tell(f"Every note and fault, with your own words, is kept as {path}")

    def _read_words(self, path: str) -> None:
        if self._words_sheet is None:
            return
        presenter = self._words_sheet.presenter
        try:
            presenter.offer_table(Path(path).name, read_bytes(Path(path), MOST_BYTES + 1))
        except StoreError as exc:
            presenter.tell(str(exc), is_trouble=True)

    def _follow_words(self, act: Act) -> None:
        """Show what changed about the words wherever they stand."""
        if act.scope != VOCABULARY:
            return
        for screen in (self.bench, self._arc):
            if screen is not None:
                screen.refresh()

    def _silent_because(self) -> str:
        return self.caller.silent_because

    def _put_sheets_away(self) -> None:
        """Take the sheets off a screen that is about to go; a screen takes with it what lies on it."""
        for sheet in (self._help, self._settings_sheet, self._words_sheet):
            if sheet is not None:
                sheet.close_sheet()
                sheet.setParent(self.window.ground)

    def _copy_journal(self, path: str) -> None:
        try:
            self.house.journal.backup_to(Path(path))
        except StoreError as exc:
            self.window.news.tell(f"No copy was made: {exc}", stays=True)
        else:
            self.window.news.tell(f"A safe copy is kept as {path}", path)

    def _follow_settings(self, settings: Settings) -> None:
        self._themes.reduce_motion = settings.reduce_motion
        self._themes.use(settings.theme)
        self.caller.adjust(sound=settings.sound, voice=settings.voice)
        if self.bench is not None:
            self.bench.bind_pedals(settings.pedal_keys)
            self.bench.refresh()
        self.steeps.bind_pedals(settings.pedal_keys)

    def _set_full(self, is_full: bool) -> None:
        """Fill the screen, or go back to what the window was; a maximized one is maximized again."""
        state = self.window.windowState()
        full = Qt.WindowState.WindowFullScreen
        self.window.setWindowState(state | full if is_full else state & ~full)

    # -- what changed

    def _look_outside(self) -> None:
        """Take up what another window or program has changed in the same journal."""
        version = self.house.journal.outside_version()
        if version == self._version:
            return
        self._version = version
        elsewhere = self.house.keeping.from_elsewhere()
        self.house.keeping.forget()
        self.house.words.reread()
        if self.bench is not None:
            self.bench.reread()
        if self._words_sheet is not None and self._words_sheet.isVisible():
            self._words_sheet.refresh()
        self.steeps.reread()
        self.shelf.refresh()
        if elsewhere:
            self.window.news.tell(told_of(elsewhere, self._lot_name))

    def _lot_name(self, scope: str) -> str:
        """Return the name of the lot that a lot or a session is of, empty if there is neither."""
        lines = self.house.shelf.lines()
        return next((one.lot.name for one in lines if scope in (one.lot.uid, *(two.uid for two in one.sessions))), "")

    def close(self) -> None:
        """Let everything go in order: what draws first, then what is drawn."""
        self._keep_state()
        self._outside.stop()
        self.steeps.stop()
        self.shelf.release()
        self._drop_arc()
        self._leave_bench()


def _warm_up(built: House) -> None:
    try:
        screens.warm_up(built)
    except StoreError as exc:
        LOG.info("not warmed up: %s", exc)
    # Words and rules stay until the end: looked through for garbage again and again, they cost 60 ms each time.
    gc.freeze()


def _room() -> QRect | None:
    """Return where a window may be on this screen, None off-screen, where there is nothing to fit."""
    screen = QGuiApplication.primaryScreen()
    if screen is None or QGuiApplication.platformName() == "offscreen":
        return None
    return screen.availableGeometry()


def _fitting(wanted: QSize, room: QRect | None) -> QSize:
    """Return a size no larger than the room on the screen, where that is known."""
    return wanted if room is None else wanted.boundedTo(room.size())


def _inside(frame: QRect, room: QRect) -> QRect:
    """Return a frame moved, and made smaller if it must be, until all of it is in the room."""
    size = frame.size().boundedTo(room.size())
    left = min(max(frame.left(), room.left()), room.right() + 1 - size.width())
    top = min(max(frame.top(), room.top()), room.bottom() + 1 - size.height())
    return QRect(QPoint(left, top), size)


def application() -> tuple[QApplication, Themes]:
    """Return the one application, dressed."""
    existing = QApplication.instance()
    app = existing if isinstance(existing, QApplication) else QApplication(sys.argv[:1])
    app.setApplicationName("Tastebook")
    app.setApplicationVersion(VERSION)
    themes = Themes(reduce_motion=system_reduces_motion(app))
    themes.apply_to(app)
    return app, themes


def run(built: House, *, exit_when_ready: bool = False) -> int:
    """Show the window until it is closed."""
    log = keep_crash_log(built.folders.logs, VERSION)
    app, themes = application()
    settings = built.preferences.current
    themes.reduce_motion = themes.reduce_motion or settings.reduce_motion
    themes.use(settings.theme)
    program = Program(built, themes)
    tell_of_crashes(lambda: program.tell_unexpected(log))
    program.start()
    if exit_when_ready:
        when_drawn(program.window, program.window.close)
    else:
        QTimer.singleShot(
            2000, lambda: threading.Thread(target=_keep_safe_copy, args=(built,), name="safe copy").start()
        )
    return app.exec()


def _keep_safe_copy(built: House) -> None:
    """Make the dated copy of the day, once the window stands, and beside it: with many photos it takes seconds."""
    try:
        built.journal.keep_backup()
    except StoreError as exc:
        LOG.warning("no safe copy today: %s", exc)
