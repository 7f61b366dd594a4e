"""What the say line understood that has no place on the sheet, and what was said at the step before."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QPoint, QPointF, QRect, QSize, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QPainter, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from tastebook.domain.correcting import PartKey
from tastebook.presenters.bench.views import OfferView, SaidHereView, SaidPartView
from tastebook.ui.bench.marks_menu import drop_menu
from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.buttons import PlainButton, QuietButton
from tastebook.ui.widgets.chip import Chip, ChipView
from tastebook.ui.widgets.drawn import Pressable
from tastebook.ui.widgets.flow import FlowLayout
from tastebook.ui.widgets.hints import KeyHint
from tastebook.ui.widgets.label import Label
from tastebook.ui.widgets.scrolled import scrolled

ROW_PX: Final = 44
GAP_PX: Final = 8
MOST_ROWS: Final = 2
CHIP_PX: Final = 252
LEAST_HERE_PX: Final = 28
MOST_HERE_PX: Final = 124
SCROLL_PX: Final = 16
MORE_PX: Final = 88
OFFER_LESS_PX: Final = 18
TAKE_KEY: Final = "Alt S"


class SaidChip(Chip):
    """Something understood whose strength or value a digit or a finger can change."""

    least = QSize(CHIP_PX, ROW_PX)

    def __init__(self, themes: Themes, part: SaidPartView, parent: QWidget) -> None:
        super().__init__(themes, _chip(part), parent)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def show_part(self, part: SaidPartView) -> None:
        """Show the same part changed."""
        self.show_view(_chip(part))


class PartPill(Pressable):
    """Something understood that has no strength: a press chooses it, or takes up again what was dropped."""

    drop_requested = Signal()
    menu_requested = Signal(QPoint)
    fades = False

    def __init__(self, themes: Themes, part: SaidPartView, parent: QWidget) -> None:
        super().__init__(themes, parent)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._part = part
        self.show_part(part)

    def show_part(self, part: SaidPartView) -> None:
        """Show the same part changed."""
        self._part = part
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus if part.can_change else Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(", ".join(word for word in (part.word, part.about) if word))
        self.setToolTip(part.why)
        self.updateGeometry()
        self.update()

    def can_press(self) -> bool:
        return self._part.can_change

    def sizeHint(self) -> QSize:
        word, about = self._widths()
        return QSize(round(word + about) + 28 + (10 if about else 0), ROW_PX)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def _widths(self) -> tuple[float, float]:
        word = paint.text_width(self._part.word, sans(tokens().type_px.text, tokens().weight.label))
        return word, paint.text_width(self._part.about, sans(tokens().type_px.text))

    def draw(self, painter: QPainter, theme: Theme) -> None:
        part, middle = self._part, self.height() / 2
        box = self.box().adjusted(0, 3, 0, -3)
        fill = theme.accent_soft if part.is_chosen or (self.is_hovered and part.can_change) else None
        line = theme.outline if part.is_dropped or not part.can_change else theme.accent
        pen = (
            paint.solid_pen(theme.accent, theme.focus_line_px)
            if part.is_chosen
            else paint.dashed_pen(line, 1.5, (2, 2))
        )
        paint.rounded(painter, box, tokens().radius_px.chip, fill, pen)
        font = sans(tokens().type_px.text, tokens().weight.label)
        ink = theme.ink3 if part.is_dropped else theme.ink
        end = paint.text(painter, 14, middle + 5.5, part.word, font, ink)
        if part.is_dropped:
            painter.setPen(paint.solid_pen(theme.ink3, 1.5))
            painter.drawLine(QPointF(12, middle + 0.5), QPointF(end + 2, middle + 0.5))
        paint.text(painter, end + 10, middle + 5.5, part.about, sans(tokens().type_px.text), theme.ink3)
        if self.hasFocus():
            paint.focus_ring(painter, theme, box, tokens().radius_px.chip)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        if self._part.can_change:
            self.menu_requested.emit(event.globalPos())


class OfferButton(QuietButton):
    """A number that waits for its field; narrow, so that all that one says of a brewing stands in one row."""

    def sizeHint(self) -> QSize:
        return super().sizeHint() - QSize(OFFER_LESS_PX, 0)


class SaidRow(QWidget):
    """Lays the parts out that have no place on the sheet, and the numbers that wait for their fields."""

    value_requested = Signal(object, int)
    drop_requested = Signal(object)
    choice_requested = Signal(object)
    number_requested = Signal(object)
    meaning_requested = Signal(str)
    opened = Signal()
    """All of it is wanted, or no more than the first rows."""

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._themes = themes
        self._parts: dict[PartKey, SaidChip | PartPill] = {}
        self._offers: dict[PartKey, QuietButton] = {}
        self._key = _in_the_middle(KeyHint(themes, TAKE_KEY, "set"))
        self._most_rows = MOST_ROWS
        self._is_open = False
        self._inner = QWidget()
        self._flow = FlowLayout(self._inner, gap_px=GAP_PX)
        self._area = scrolled(self._inner)
        self._area.setParent(self)
        self._area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._area.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._more = PlainButton(themes, "", self)
        self._more.press_requested.connect(self.toggle)
        self._more.hide()
        self._key.setParent(self._inner)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._order: list[QWidget] = []
        self.hide()

    def show_said(self, parts: Sequence[SaidPartView], offers: Sequence[OfferView]) -> None:
        """Show other parts and offers."""
        shown: list[QWidget] = []
        if offers:
            shown.append(self._key)
        shown += [self._offer(offer) for offer in offers]
        shown += [self._part(part) for part in parts]
        self._forget({part.key for part in parts}, {offer.key for offer in offers})
        if shown != self._order:
            self._arrange(shown)
        self.setVisible(bool(shown))
        self._fit()
        self._flow.invalidate()  # a part may be wider than it was
        self._flow.activate()
        chosen = next((self._parts[part.key] for part in parts if part.is_chosen), None)
        if chosen is not None:
            self._area.ensureWidgetVisible(chosen, 0, GAP_PX)

    def _offer(self, offer: OfferView) -> QuietButton:
        button = self._offers.get(offer.key)
        if button is None:
            button = OfferButton(self._themes, "", self._inner)
            button.press_requested.connect(lambda key=offer.key: self.number_requested.emit(key))
            self._offers[offer.key] = button
        button.set_label(offer.words)
        button.setAccessibleName(f"Set {offer.words}")
        return button

    def _part(self, part: SaidPartView) -> SaidChip | PartPill:
        wanted = PartPill if part.value is None else SaidChip
        widget = self._parts.get(part.key)
        if not isinstance(widget, wanted):
            if widget is not None:
                _drop(widget)
            widget = self._chip(part) if part.value is not None else self._pill(part)
            self._parts[part.key] = widget
        widget.show_part(part)
        return widget

    def _chip(self, part: SaidPartView) -> SaidChip:
        chip, key = SaidChip(self._themes, part, self._inner), part.key
        chip.intensity_requested.connect(lambda value: self.value_requested.emit(key, value))
        chip.removal_requested.connect(lambda: self.drop_requested.emit(key))
        chip.meaning_requested.connect(lambda: self.meaning_requested.emit(chip.view.word))
        chip.marks_requested.connect(lambda at: self._open_menu(key, at))
        return chip

    def _pill(self, part: SaidPartView) -> PartPill:
        pill, key = PartPill(self._themes, part, self._inner), part.key
        pill.press_requested.connect(lambda: self._press(pill, key))
        pill.menu_requested.connect(lambda at: self._open_menu(key, at))
        return pill

    def _press(self, pill: PartPill, key: PartKey) -> None:
        (self.drop_requested if pill._part.is_dropped else self.choice_requested).emit(key)

    def _open_menu(self, key: PartKey, at: QPoint) -> None:
        widget = self._parts.get(key)
        is_dropped = isinstance(widget, PartPill) and widget._part.is_dropped
        words = "Take up again" if is_dropped else "Leave as words only"
        drop_menu(self, lambda: self.drop_requested.emit(key), words).popup(at)

    def _forget(self, parts: set[PartKey], offers: set[PartKey]) -> None:
        for key in [key for key in self._parts if key not in parts]:
            _drop(self._parts.pop(key))
        for key in [key for key in self._offers if key not in offers]:
            _drop(self._offers.pop(key))

    def _arrange(self, shown: list[QWidget]) -> None:
        while self._flow.takeAt(0) is not None:
            pass
        self._key.setVisible(self._key in shown)
        for widget in shown:
            self._flow.addWidget(widget)
            widget.show()
        self._order = shown

    @property
    def is_open(self) -> bool:
        """Say whether all of it is shown, however much it is."""
        return self._is_open

    def toggle(self) -> None:
        """Show all of it, or the first rows again."""
        self._is_open = not self._is_open
        self._fit()
        self.opened.emit()

    def set_most_rows(self, rows: int) -> None:
        """Take so many rows at most; of the rest it is said how many there are."""
        if rows != self._most_rows:
            self._most_rows = rows
            self._fit()

    def _fit(self) -> None:
        """Be as high as the parts need, up to the most rows; beside them stands how many more there are."""
        most = self._most_rows * ROW_PX + (self._most_rows - 1) * GAP_PX
        overflows = self._flow.heightForWidth(max(CHIP_PX, self.width())) > (ROW_PX if self._is_open else most)
        if self._is_open and not overflows:
            self._is_open = False
            self.opened.emit()
        self._more.setVisible(overflows)
        room_px = max(CHIP_PX, self.width() - (MORE_PX if overflows else 0))
        wanted = self._flow.heightForWidth(room_px)
        height = min(most, wanted)
        self._area.setVerticalScrollBarPolicy(
            Qt.ScrollBarPolicy.ScrollBarAlwaysOn
            if self._is_open and wanted > most
            else Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        )
        self.setFixedHeight(height + GAP_PX)
        self._area.setGeometry(0, GAP_PX, room_px, height)
        self._more.setGeometry(room_px, GAP_PX + height - ROW_PX, self.width() - room_px, ROW_PX)
        self._flow.setGeometry(QRect(0, 0, room_px, wanted))
        self._say_how_many(most)

    def _say_how_many(self, most_px: int) -> None:
        hidden = sum(1 for widget in self._order if widget.geometry().bottom() >= most_px)
        self._more.set_label("Fewer" if self._is_open else f"{hidden} more")
        self._more.setAccessibleDescription("Understood of what is typed")

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()


class SaidHere(QWidget):
    """What was said at this step: when, the exact words, and what they gave."""

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._themes = themes
        self._lines: list[Label] = []
        self._shown: tuple[SaidHereView, ...] = ()
        self._is_stale = False
        self._inner = QWidget()
        self._box = QVBoxLayout(self._inner)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(6)
        self._box.addStretch(1)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, GAP_PX, 0, 0)
        self._area = scrolled(self._inner)
        self._area.setAccessibleName("Said here")
        row.addWidget(self._area)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.hide()

    def take_keyboard(self) -> None:
        """Let arrows and Page Up scroll the sayings; Escape and letters go back to the say line."""
        self._area.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_sayings(self, sayings: tuple[SaidHereView, ...]) -> None:
        """Show other sayings, the newest first."""
        if sayings == self._shown:
            return
        self._shown, self._is_stale = sayings, True
        if not self.isHidden():
            self._build()

    def showEvent(self, event: QShowEvent) -> None:
        if self._is_stale:
            self._build()
        super().showEvent(event)

    def _build(self) -> None:
        """Lay the sayings out; nothing is built for a list that nobody has opened."""
        self._is_stale = False
        for line in self._lines:
            _drop(line)
        self._lines = [Label(self._themes, _told(one), wraps=True, is_selectable=True) for one in reversed(self._shown)]
        for place, line in enumerate(self._lines):
            self._box.insertWidget(place, line)
        self._fit()

    def _fit(self) -> None:
        """Be as high as the sayings need, up to the most; the rest scrolls."""
        width = max(1, self.width() - SCROLL_PX)
        wanted = sum(line.heightForWidth(width) + self._box.spacing() for line in self._lines)
        self.setFixedHeight(GAP_PX + max(LEAST_HERE_PX, min(MOST_HERE_PX, wanted)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()


def _told(one: SaidHereView) -> str:
    return f"{one.when}  “{one.text}”  →  {one.gave}"


def _in_the_middle(hint: KeyHint) -> QWidget:
    """Return a hint in the middle of a row's height."""
    holder = QWidget()
    box = QVBoxLayout(holder)
    box.setContentsMargins(0, (ROW_PX - hint.sizeHint().height()) // 2, 0, 0)
    box.addWidget(hint)
    box.addStretch(1)
    return holder


def _drop(widget: QWidget) -> None:
    widget.hide()
    widget.deleteLater()


def _chip(part: SaidPartView) -> ChipView:
    """Return a part as its chip is drawn."""
    is_plain = part.key.kind == "reading"
    return ChipView(
        word=part.word,
        family=part.family,
        intensity=part.value or 0,
        is_absent=part.value == 0 and not is_plain,
        is_selected=True,
        is_doubtful=part.doubtful,
        is_chosen=part.is_chosen,
        is_plain=is_plain,
        about=part.about,
        why=part.why,
    )
