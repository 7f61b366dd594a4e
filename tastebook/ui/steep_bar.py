"""A steep that runs out of sight of its timer: the time left, large, and one press that pours. It covers nothing."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QAccessible, QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from tastebook.presenters.running import RunningView
from tastebook.ui.theme.fonts import numerals, sans, serif
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.buttons import ActionButton, QuietButton
from tastebook.ui.widgets.drawn import Drawn, paint_around_children

HEIGHT_PX: Final = 96
LOW_HEIGHT_PX: Final = 72
DIGITS_PX: Final = 76
LOW_DIGITS_PX: Final = 62
ACTION_PX: Final = 64
ACTION_WIDTH_PX: Final = 332
NARROW_ACTION_PX: Final = 280
NARROW_PX: Final = 1100
PAD_PX: Final = 24
GAP_PX: Final = 24


class RunningWords(Drawn):
    """Time left, whose tea it is and where its steep stands; the words give way to the digits."""

    accessible_role = QAccessible.Role.Clock

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._view: RunningView | None = None
        self._digits_px = DIGITS_PX
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def show_view(self, view: RunningView) -> None:
        """Show another moment; that another phase has come is told to those who hear the screen."""
        before, self._view = self._view, view
        is_news = before is None or (before.phase, before.lot_name) != (view.phase, view.lot_name)
        self.setAccessibleName(f"{view.lot_name}, {view.word}")
        self.update()
        if is_news:
            self.tell_changed()

    def set_low(self, *, is_low: bool) -> None:
        """Take less height, where the window is low."""
        self._digits_px = LOW_DIGITS_PX if is_low else DIGITS_PX
        self.update()

    def value_text(self) -> str:
        view = self._view
        told = () if view is None else (view.digits, view.about, view.others, view.trouble)
        return ", ".join(part for part in told if part)

    def minimumSizeHint(self) -> QSize:
        return QSize(320, LOW_HEIGHT_PX)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        view = self._view
        if view is None:
            return
        loud = theme.alarm if view.phase == "over" else theme.accent
        font = numerals(self._digits_px)
        ink = theme.alarm if view.phase == "over" else theme.ink
        least = paint.text_width("0:00", font)
        end = paint.text(painter, 0, self.height() / 2 + self._digits_px * 0.37, view.digits, font, ink)
        left = max(end, least) + GAP_PX
        room = self.width() - left
        middle, value = self.height() / 2, sans(tokens().type_px.word, tokens().weight.now)
        after = paint.text(painter, left, middle - 8, view.word, value, loud) + 12
        title = serif(tokens().type_px.heading, tokens().weight.serif_heading)
        name = paint.elided(view.lot_name, title, max(0.0, room - (after - left)))
        paint.text(painter, after, middle - 7, name, title, theme.ink)
        text = sans(tokens().type_px.text)
        told = view.trouble or "   ".join(part for part in (view.about, view.others) if part)
        paint.text(
            painter,
            left,
            middle + 24,
            paint.elided(told, text, room),
            text,
            theme.alarm if view.trouble else theme.ink2,
        )


class SteepBar(Drawn):
    """Stands under the screens while a steep runs unseen, and for a while after it was poured from here."""

    pour_requested = Signal()
    bench_requested = Signal()
    back_requested = Signal()
    accessible_role = QAccessible.Role.Grouping

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setAccessibleName("Leaf in water")
        self._view: RunningView | None = None
        self._words = RunningWords(themes)
        self._back = QuietButton(themes, "It steeps still")
        self._bench = QuietButton(themes, "To the Bench")
        self._action = ActionButton(themes, "Pour", "Space")
        self._action.setFixedHeight(ACTION_PX)
        row = QHBoxLayout(self)
        row.setContentsMargins(PAD_PX, 0, PAD_PX, 0)
        row.setSpacing(16)
        for widget in (self._words, self._back, self._bench, self._action):
            row.addWidget(widget)
        row.setStretch(0, 1)
        self._action.press_requested.connect(self._act)
        self._bench.press_requested.connect(self.bench_requested)
        self._back.press_requested.connect(self.back_requested)
        self.fit(width_px=NARROW_PX, is_low=False)
        self.hide()

    @property
    def view(self) -> RunningView | None:
        """Return what is shown, None while nothing is."""
        return None if self.isHidden() else self._view

    def show_view(self, view: RunningView | None) -> None:
        """Show another moment, or go."""
        if view is not None and view != self._view:
            self._view = view
            self._words.show_view(view)
            self._back.setVisible(view.can_take_back)
            self._bench.setVisible(not view.is_asked)
            self._action.setVisible(bool(view.action))
            self._action.show_act(view.action, is_over=view.phase == "over" and not view.is_asked)
            self._action.set_key(view.key)
            self.update()
        self.setVisible(view is not None)

    def fit(self, width_px: int, *, is_low: bool) -> None:
        """Fit a window of this width, which may be low."""
        self.setFixedHeight(LOW_HEIGHT_PX if is_low else HEIGHT_PX)
        self._words.set_low(is_low=is_low)
        self._action.setFixedWidth(NARROW_ACTION_PX if width_px < NARROW_PX else ACTION_WIDTH_PX)

    def _act(self) -> None:
        (self.bench_requested if self._view is not None and self._view.is_asked else self.pour_requested).emit()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        paint.make_smooth(painter)
        painter.fillRect(self.rect(), self._tint())
        painter.fillRect(0, 0, self.width(), 1, self.theme.outline)
        paint_around_children(painter, self.theme, self, event.region())
        painter.end()

    def _tint(self) -> QColor:
        phase = self._view.phase if self._view is not None else "steeping"
        return {"lead": self.theme.accent_soft, "over": self.theme.alarm_soft}.get(phase, self.theme.surface)
