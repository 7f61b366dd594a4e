"""A sheet that lies over a part of the window until it is put away. It is no window of its own, and stops nothing."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QEvent, QObject, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QAccessible, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from tastebook.ui.theme.fonts import serif
from tastebook.ui.theme.theme import Themes, faded
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.buttons import QuietButton
from tastebook.ui.widgets.drawn import Drawn
from tastebook.ui.widgets.hints import KeyHint
from tastebook.ui.widgets.label import Label
from tastebook.ui.widgets.tab_walk import walk_on

_EDGE_PX: Final = 24
"""Room around the sheet for its shadow."""

_VEIL: Final = 0.72
"""How much of what lies beside the sheet is covered, where nothing there must be read."""


class Sheet(Drawn):
    """A card above everything in its host, with a title and the way out; Escape closes it."""

    closed = Signal()
    accessible_role = QAccessible.Role.Dialog

    def __init__(self, themes: Themes, title: str, width_px: int, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._width_px = width_px
        self._clear_right_px = self._clear_top_px = 0
        self._side_px = 0
        self._host: QWidget | None = None
        self._focus_before: QWidget | None = None
        self.setAccessibleName(title)
        self.title_row = QHBoxLayout()
        self.body = QVBoxLayout(self)
        self._lay_heading(title)
        self.hide()

    def _lay_heading(self, title: str) -> None:
        close = QuietButton(self._themes, "Close")
        close.setAccessibleDescription("Key: Esc")
        close.press_requested.connect(self.close_sheet)
        heading = Label(self._themes, title, font=serif(tokens().type_px.heading, tokens().weight.serif_heading))
        self.title_row.setSpacing(16)
        self.title_row.addWidget(heading)
        self.title_row.addStretch(1)
        self.title_row.addWidget(KeyHint(self._themes, "Esc", "closes"))
        self.title_row.addWidget(close)
        self._set_sides(0)
        self.body.setSpacing(16)
        self.body.addLayout(self.title_row)

    def open_over(self, host: QWidget, *, clear_right_px: int = 0, clear_top_px: int = 0) -> None:
        """Lie over `host` and take the keyboard; so much of its right edge or its top stays free, and can be used."""
        if self._host is not host:
            if self._host is not None:
                self._host.removeEventFilter(self)
            self._host = host
            self.setParent(host)
            host.installEventFilter(self)
        self._clear_right_px, self._clear_top_px = clear_right_px, clear_top_px
        if not self.isVisible():
            self._focus_before = host.window().focusWidget()
        self._place()
        self.show()
        self.raise_()
        self.take_keyboard()

    def take_keyboard(self) -> None:
        """Give the keyboard to what one will most likely use first; heirs know better."""
        self.setFocus(Qt.FocusReason.OtherFocusReason)

    def close_sheet(self) -> None:
        """Put the sheet away, and give the keyboard back."""
        if not self.isVisible():
            return
        self.hide()
        before, self._focus_before = self._focus_before, None
        if before is not None and before.isVisible():
            before.setFocus(Qt.FocusReason.OtherFocusReason)
        self.closed.emit()

    def focusNextPrevChild(self, is_next: bool) -> bool:
        """Go round within the sheet: what lies under it is not to be used until it is put away."""
        return walk_on(self, is_next=is_next)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self._host and event.type() == QEvent.Type.Resize:
            self._place()
        return False

    def _place(self) -> None:
        if self._host is None:
            return
        width = min(self._host.width() - self._clear_right_px, self._width_px + 2 * _EDGE_PX)
        if self._clear_right_px:
            self.setGeometry(QRect(0, 0, width, self._host.height()))
            self._set_sides(0)
        else:
            self.setGeometry(self._host.rect().adjusted(0, self._clear_top_px, 0, 0))
            self._set_sides((self._host.width() - width) // 2)

    def _set_sides(self, side_px: int) -> None:
        """Put the card in the middle of the sheet, which veils the host at both sides."""
        self._side_px = side_px
        margin = side_px + _EDGE_PX + 24
        self.body.setContentsMargins(margin, _EDGE_PX + 16, margin, _EDGE_PX + 24)
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Close on Escape; keep every other plain key from what lies below."""
        if event.key() == Qt.Key.Key_Escape:
            self.close_sheet()
        elif event.modifiers() & (Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier):
            event.ignore()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Let a press beside the card close the sheet; one on it stays on it."""
        if not self._card().contains(event.position()):
            self.close_sheet()

    def _card(self) -> QRectF:
        side = self._side_px + _EDGE_PX
        return self.box().adjusted(side, _EDGE_PX / 2, -side, -_EDGE_PX)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        paint.make_smooth(painter)
        if not self._clear_right_px:
            painter.fillRect(self.rect(), faded(self.theme.bg, _VEIL))
        paint.shadow(painter, self.theme, self._card(), tokens().radius_px.card, "raised")
        paint.card(painter, self.theme, self._card(), self.theme.surface)
        painter.end()
