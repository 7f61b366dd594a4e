"""The window: one screen at a time, and a line in its head for news that belongs to none of them."""

from __future__ import annotations

from collections import deque
from typing import Final, NamedTuple, Protocol, runtime_checkable

from PySide6.QtCore import Qt, QTimer, QUrl, Signal
from PySide6.QtGui import QAccessible, QCloseEvent, QDesktopServices, QIcon, QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QHBoxLayout,
    QLabel,
    QMainWindow,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from tastebook.ui.steep_bar import SteepBar
from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import PlainButton
from tastebook.ui.widgets.card import Card
from tastebook.ui.widgets.drawn import Ground

NAME: Final = "Tastebook"
STAYS_MS: Final = 12_000
MARGIN_PX: Final = 16
LOW_PX: Final = 860


class News(NamedTuple):
    """One piece of news, the file it is about, and whether it waits to be hidden."""

    words: str
    path: str
    stays: bool


class NewsLine(Card):
    """One line of news, with a link where there is something to open; it goes by itself."""

    accessible_role = QAccessible.Role.StatusBar
    came = Signal()
    """It shows news, and wants a place for it."""
    went = Signal()
    """There is nothing to tell any more."""

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent, fill="raised", radius=12)
        self._words = QLabel()
        self._words.setFont(sans(16))
        self._words.setWordWrap(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Maximum)
        self._words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._open = PlainButton(themes, "Open")
        self._open.press_requested.connect(self._open_it)
        hide = PlainButton(themes, "Hide")
        hide.press_requested.connect(self._go_on)
        row = QHBoxLayout(self)
        row.setContentsMargins(20, 2, 8, 2)
        row.addWidget(self._words, 1)
        row.addWidget(self._open)
        row.addWidget(hide)
        self._path = ""
        self._going = QTimer(self)
        self._going.setSingleShot(True)
        self._going.timeout.connect(self._go_on)
        self._waiting: deque[News] = deque()
        self.hide()

    @property
    def words(self) -> str:
        """Return the news."""
        return self._words.text()

    def tell(self, words: str, path: str = "", *, stays: bool = False) -> None:
        """Show news; `path` is a file to open. What `stays` waits to be hidden, and other news waits behind it."""
        news = News(words, path, stays)
        if self.isVisible() and not self._going.isActive():
            self._waiting.append(news)
        else:
            self._show(news)

    def _show(self, news: News) -> None:
        self._path = news.path
        self._words.setText(news.words)
        self.setAccessibleName(news.words)
        self._open.setVisible(bool(news.path))
        self.show()
        self.came.emit()
        self._going.stop()
        if not news.stays:
            self._going.start(STAYS_MS)

    def _go_on(self) -> None:
        """Show what waits next, or nothing."""
        self._going.stop()
        if self._waiting:
            self._show(self._waiting.popleft())
        else:
            self.put_away()

    def put_away(self) -> None:
        """Show nothing."""
        self._going.stop()
        self.hide()
        self.went.emit()

    def _open_it(self) -> None:
        QDesktopServices.openUrl(QUrl.fromLocalFile(self._path))


@runtime_checkable
class TakesNews(Protocol):
    """A screen that has a place of its own for news, so that nothing on it moves or is covered."""

    def news_place(self) -> QBoxLayout | None:
        """Return that place, None while it is taken or cannot be seen."""
        ...


class MainWindow(QMainWindow):
    """Holds the screens and shows one of them."""

    closing = Signal()
    screen_shown = Signal()

    def __init__(self, themes: Themes, icon: QIcon | None = None) -> None:
        super().__init__()
        self.setWindowTitle(NAME)
        self.setMinimumSize(1000, 700)
        if icon is not None:
            self.setWindowIcon(icon)
        self._ground = Ground(themes)
        self._stack = QStackedWidget()
        self.news = NewsLine(themes)
        box = QVBoxLayout(self._ground)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addWidget(self._stack, 1)
        self._feet = QVBoxLayout()
        self._feet.setSpacing(0)
        box.addLayout(self._feet)
        self._news_place = QWidget()
        self._news_row = QHBoxLayout(self._news_place)
        self._news_row.setContentsMargins(MARGIN_PX, 4, MARGIN_PX, 8)
        self._news_row.addWidget(self.news)
        self._news_place.hide()
        self._feet.addWidget(self._news_place)
        self.news.came.connect(self.place_news)
        self.news.went.connect(self._news_place.hide)
        self.setCentralWidget(self._ground)
        self._foot: SteepBar | None = None

    @property
    def ground(self) -> QWidget:
        """Return what all screens lie on; sheets lie over it."""
        return self._ground

    @property
    def screen_now(self) -> QWidget:
        """Return the screen that is shown."""
        return self._stack.currentWidget() or self._ground

    def show_screen(self, screen: QWidget) -> None:
        """Show a screen; it is kept until it is dropped."""
        if self._stack.indexOf(screen) < 0:
            self._stack.addWidget(screen)
        self._stack.setCurrentWidget(screen)
        self.place_news()
        focused = self.focusWidget()
        if focused is None or not screen.isAncestorOf(focused):  # what took the keyboard as it was shown keeps it
            screen.setFocus()
        self.screen_shown.emit()

    def add_foot(self, foot: SteepBar) -> None:
        """Put a bar under the screens; it takes its room from them and covers nothing."""
        self._foot = foot
        self._feet.addWidget(foot)
        self._fit_foot()

    def _fit_foot(self) -> None:
        if self._foot is not None:
            self._foot.fit(self.width(), is_low=self.height() < LOW_PX)

    def place_news(self) -> None:
        """Put the news where the screen has a place for it, else in a row under the screens: it covers nothing."""
        screen = self.screen_now
        own = screen.news_place() if isinstance(screen, TakesNews) else None
        (own or self._news_row).addWidget(self.news, 1)
        self._news_place.setVisible(own is None and not self.news.isHidden())

    def drop_screen(self, screen: QWidget) -> None:
        """Let a screen go for good."""
        if screen.isAncestorOf(self.news):
            self._news_row.addWidget(self.news)
        self._stack.removeWidget(screen)
        screen.deleteLater()

    def show_title(self, words: str) -> None:
        """Put words into the title of the window."""
        self.setWindowTitle(f"{words} – {NAME}" if words else NAME)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit_foot()

    def closeEvent(self, event: QCloseEvent) -> None:
        self.closing.emit()
        event.accept()
