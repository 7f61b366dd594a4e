"""A Bench on the screen: fakes below, real widgets above, hands before it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from tastebook.presenters.bench.presenter import BenchPresenter
from tastebook.presenters.bench.views import TimerView
from tastebook.ui.bench.screen import BenchScreen
from tastebook.ui.theme.theme import Themes
from tests.bench_kit import Kit, bench_kit

CONTROL = Qt.KeyboardModifier.ControlModifier
ALT = Qt.KeyboardModifier.AltModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
NONE = Qt.KeyboardModifier.NoModifier


@dataclass
class Scene:
    """A taster before the Bench."""

    kit: Kit
    screen: BenchScreen

    @property
    def bench(self) -> BenchPresenter:
        return self.kit.bench

    @property
    def timer(self) -> TimerView:
        return self.kit.bench.timer()

    @property
    def words(self) -> dict[str, int]:
        """Return what was noted, with its strength."""
        return {one.word: one.intensity for one in self.kit.desk.tasting.impressions}

    def press(self, key: Qt.Key, modifiers: Qt.KeyboardModifier = NONE) -> None:
        """Press a key wherever the keyboard is, a second after the last."""
        self.kit.clock.advance(1)
        QTest.keyClick(QApplication.focusWidget() or self.screen, key, modifiers)

    def type(self, words: str) -> None:
        """Type words wherever the keyboard is; where it is may change with the first letter."""
        for letter in words:
            target = QApplication.focusWidget() or self.screen
            if letter.isascii():
                QTest.keyClicks(target, letter)
            else:  # `keyClicks` knows no other letters
                QApplication.sendEvent(target, QKeyEvent(QEvent.Type.KeyPress, 0, NONE, letter))

    def say(self, words: str) -> None:
        """Type words and take them."""
        self.type(words)
        self.press(Qt.Key.Key_Return)

    def steep(self, seconds: float = 20) -> None:
        """Water on, wait, pour."""
        self.press(Qt.Key.Key_Space, CONTROL)
        self.kit.clock.advance(seconds - 1)
        self.press(Qt.Key.Key_Space, CONTROL)

    def go(self, column: str, step: str = "") -> None:
        """Stand at a column, at one of its steps."""
        self.bench.go_to(column)
        if step:
            self.bench.choose_step(step)
        self.screen.refresh()
        self.screen.take_keyboard()

    def keyboard_is_with(self, widget: QWidget) -> bool:
        return QApplication.focusWidget() is widget


def build(themes: Themes, *, pedals: Sequence[str] = ("Space", "PgDown"), course: str = "gaiwan") -> Scene:
    """Return a Bench that is not shown yet."""
    kit = bench_kit(course=course)
    families = [(family.key, family.name) for family in kit.words().families]
    screen = BenchScreen(themes, kit.bench, kit.photos, families)
    screen.bind_pedals(pedals)
    screen.resize(1440, 900)
    return Scene(kit, screen)


class Watch(QObject):
    """Counts the events of one kind that a widget and all within it are sent."""

    def __init__(self, widget: QWidget, kind: QEvent.Type) -> None:
        super().__init__()
        self._kind = kind
        self.seen: list[str] = []
        for one in (widget, *widget.findChildren(QWidget)):
            one.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        if event.type() == self._kind:
            self.seen.append(type(watched).__name__)
        return False


def paints_during(widget: QWidget, act: Callable[[], object]) -> list[str]:
    """Return the names of the widgets that were painted because of an act."""
    QApplication.processEvents()
    watch = Watch(widget, QEvent.Type.Paint)
    act()
    QApplication.processEvents()
    return watch.seen
