"""Teas like this one: lots to go to, each with why it is alike."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from tastebook.presenters.finding import KinView
from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets.buttons import PlainButton
from tastebook.ui.widgets.label import Label

TITLE = "Teas like this one"


class KinList(QWidget):
    """Shows kin, and nothing where there is none."""

    lot_requested = Signal(str)

    def __init__(self, themes: Themes, indent_px: int = 8, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._themes = themes
        self._indent_px = indent_px
        self._shown: tuple[KinView, ...] = ()
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(0)
        self.setAccessibleName(TITLE)
        self.hide()

    def show_kin(self, kin: Sequence[KinView]) -> None:
        """Show other lots."""
        if tuple(kin) == self._shown:
            return
        self._shown = tuple(kin)
        while (item := self._box.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        if kin:
            self._add_title()
        for one in kin:
            self._add(one)
        self.setVisible(bool(kin))

    def _add_title(self) -> None:
        title = Label(self._themes, TITLE, ink="accent", font=sans(tokens().type_px.text, tokens().weight.label))
        title.setContentsMargins(self._indent_px, 12, 0, 4)
        self._box.addWidget(title)

    def _add(self, one: KinView) -> None:
        button = PlainButton(self._themes, one.title)
        button.setAccessibleDescription(one.why)
        button.press_requested.connect(lambda: self.lot_requested.emit(one.lot_uid))
        why = Label(self._themes, one.why, ink="ink3", wraps=True)
        why.setContentsMargins(self._indent_px, 0, 0, 8)
        self._box.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        self._box.addWidget(why)
