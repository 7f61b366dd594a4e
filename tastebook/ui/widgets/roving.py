"""Several controls that are one stop for Tab: arrows move among them."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

_MOVES = {
    Qt.Key.Key_Left: (0, -1),
    Qt.Key.Key_Right: (0, 1),
    Qt.Key.Key_Up: (-1, 0),
    Qt.Key.Key_Down: (1, 0),
}


class Roving(QObject):
    """Lets arrows, Home and End move the focus in a grid of widgets, of which only the current one is reached by Tab.

    Left and right run on from row to row; nothing runs round from the end to the beginning.
    """

    moved = Signal(int)
    """The place of the widget that has the focus now."""

    def __init__(self, members: Sequence[QWidget], columns: int, owner: QWidget) -> None:
        super().__init__(owner)
        self._members = list(members)
        self._columns = max(1, columns)
        self._current = 0
        for member in self._members:
            member.installEventFilter(self)
        self._set_stops()

    @property
    def current(self) -> int:
        """Return the place that Tab reaches."""
        return self._current

    def set_columns(self, columns: int) -> None:
        """Say how many stand in a row now."""
        self._columns = max(1, columns)

    def set_current(self, place: int) -> None:
        """Make another member the one that Tab reaches."""
        if place != self._current and 0 <= place < len(self._members):
            self._current = place
            self._set_stops()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.FocusIn:
            self._arrived(watched)
        elif event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            return self._went(event)
        return False

    def _arrived(self, watched: QObject) -> None:
        place = next(number for number, member in enumerate(self._members) if member is watched)
        self.set_current(place)
        self.moved.emit(place)

    def _went(self, event: QKeyEvent) -> bool:
        if event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
            return False
        target = self._target(Qt.Key(event.key()))
        if target is None:
            return False
        self._members[target].setFocus(Qt.FocusReason.OtherFocusReason)
        return True

    def _target(self, key: Qt.Key) -> int | None:
        last = len(self._members) - 1
        if key == Qt.Key.Key_Home:
            return 0
        if key == Qt.Key.Key_End:
            return last
        if key not in _MOVES:
            return None
        rows, columns = _MOVES[key]
        target = self._current + rows * self._columns + columns
        return target if 0 <= target <= last else self._current

    def _set_stops(self) -> None:
        for place, member in enumerate(self._members):
            is_stop = place == self._current
            member.setFocusPolicy(Qt.FocusPolicy.TabFocus if is_stop else Qt.FocusPolicy.NoFocus)
