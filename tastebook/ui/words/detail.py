"""One word in full, and what can be done with it."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from typing import Final

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QAccessible, QColor, QPainter
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from tastebook.presenters.words_views import Act, Guest, WordDetail
from tastebook.ui.theme.fonts import serif
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.buttons import PlainButton, QuietButton
from tastebook.ui.widgets.drawn import Drawn
from tastebook.ui.widgets.flow import FlowLayout
from tastebook.ui.widgets.label import Label

SIGN_PX: Final = 28
NO_WORD: Final = "Choose a word to see what it means. Write one to find it: English, Chinese or pinyin."


class Sign(Drawn):
    """The sign of a family, or a patch of the colour that a name stands for."""

    accessible_role = QAccessible.Role.Graphic

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._family = ""
        self._colour = ""

    def show_sign(self, family: str, colour: str, name: str) -> None:
        """Show the sign of a family or a colour; without either it takes no room."""
        self._family, self._colour = family, colour
        self.setAccessibleName(name)
        self.setVisible(bool(family or colour))
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(SIGN_PX + 4, SIGN_PX)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        if self._colour:
            box = QRectF(1, 1, SIGN_PX - 2, SIGN_PX - 2)
            paint.rounded(painter, box, tokens().radius_px.key, QColor(self._colour), theme.outline, 1)
        elif self._family:
            paint.glyph(painter, theme, self._family, 0, 2, SIGN_PX - 4)


class DetailPane(QWidget):
    """Draws a `WordDetail`."""

    act_requested = Signal(str)
    part_requested = Signal(str)

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._themes = themes
        self._shown: WordDetail | None = None
        self._name = Label(
            themes, font=serif(tokens().type_px.title, tokens().weight.serif_heading), wraps=True, is_selectable=True
        )
        self._sign = Sign(themes)
        self._belongs = Label(themes, ink="ink2", wraps=True)
        self._text = Label(themes, wraps=True, is_selectable=True)
        self._text.setTextFormat(Qt.TextFormat.RichText)
        self._quiet = Label(themes, ink="ink3", wraps=True, is_selectable=True)
        self.acts: dict[Act, QuietButton] = {}
        self.parts: dict[str, PlainButton] = {}
        self._buttons = QWidget()
        self._flow = FlowLayout(self._buttons, gap_px=8)
        self._guests = QWidget()
        self._guest_flow = FlowLayout(self._guests, gap_px=4)
        self._lay_out()

    def _lay_out(self) -> None:
        box = QVBoxLayout(self)
        box.setContentsMargins(4, 0, 16, 8)
        box.setSpacing(10)
        box.addWidget(self._name)
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self._sign)
        row.addWidget(self._belongs, 1)
        box.addLayout(row)
        box.addWidget(self._text)
        box.addWidget(self._guests)
        box.addWidget(self._quiet)
        box.addSpacing(6)
        box.addWidget(self._buttons)
        box.addStretch(1)

    def show_detail(self, detail: WordDetail | None) -> None:
        """Show another word, or how to come to one."""
        if detail == self._shown and detail is not None:
            return
        self._shown = detail
        if detail is None:
            self._show_nothing()
            return
        self._name.setText(detail.name)
        self._name.show()
        self._sign.show_sign(detail.family, detail.swatch, detail.belongs)
        self._belongs.setText(", ".join(part for part in (detail.belongs, detail.mark) if part))
        self._text.setText("".join(_paragraphs(detail)))
        self._quiet.setText("\n".join(part for part in (detail.uses, f"Source: {detail.source}", detail.fixed) if part))
        self._show_acts(detail.acts)
        self._show_guests(detail.guests)

    def _show_nothing(self) -> None:
        self._name.hide()
        self._sign.show_sign("", "", "")
        self._belongs.setText(NO_WORD)
        self._text.setText("")
        self._quiet.setText("")
        self._show_acts(())
        self._show_guests(())

    def _show_acts(self, acts: Iterable[tuple[Act, str]]) -> None:
        wanted = dict(acts)
        for key, label in wanted.items():
            if key not in self.acts:
                button = QuietButton(self._themes, label, self._buttons)
                button.press_requested.connect(lambda key=key: self.act_requested.emit(key))
                self.acts[key] = button
            self.acts[key].set_label(label)
        for key, button in self.acts.items():
            self._flow.removeWidget(button)
            button.setVisible(key in wanted)
        for key in wanted:
            self._flow.addWidget(self.acts[key])
        self._buttons.setVisible(bool(wanted))
        self._buttons.updateGeometry()

    def _show_guests(self, guests: tuple[Guest, ...]) -> None:
        for button in self.parts.values():
            self._guest_flow.removeWidget(button)
            button.hide()
            button.deleteLater()
        self.parts = {}
        for guest in guests:
            button = PlainButton(self._themes, f"Let “{guest.name}” stand for itself again", self._guests)
            button.press_requested.connect(lambda key=guest.key: self.part_requested.emit(key))
            self._guest_flow.addWidget(button)
            button.show()
            self.parts[guest.key] = button
        self._guests.setVisible(bool(guests))


def _paragraphs(detail: WordDetail) -> Iterable[str]:
    told = (
        ("", detail.about),
        ("Usually caused by: ", detail.cause),
        ("Also said: ", detail.also),
        ("", detail.chinese),
        ("Took in: ", ", ".join(guest.name for guest in detail.guests)),
    )
    for caption, words in told:
        if words:
            text = escape(words).replace("\n", "<br>")
            yield f"<p style='margin: 0 0 8px 0'><b>{caption}</b>{text}</p>"
