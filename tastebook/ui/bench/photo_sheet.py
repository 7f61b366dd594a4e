"""The sheet on which a photograph is looked at, and on which it tells the liquor's colour."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QAccessible, QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from tastebook.presenters.photo_views import ColourView, PhotoSheetView, ThumbView
from tastebook.ui.bench.photo_canvas import PhotoCanvas, PhotoLens
from tastebook.ui.sheet import Sheet
from tastebook.ui.theme.fonts import sans, serif
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.buttons import ActionButton, PlainButton, QuietButton
from tastebook.ui.widgets.drawn import Drawn, paint_around_children
from tastebook.ui.widgets.hints import FieldNote, KeyHint
from tastebook.ui.widgets.label import Label
from tastebook.ui.widgets.photo_thumb import PhotoThumb
from tastebook.ui.widgets.scrolled import scrolled

WIDTH_PX: Final = 1080
SIDE_PX: Final = 300
LENS_PX: Final = 132
KEYS: Final = (("Arrows", "aim"), ("Shift", "faster"), ("Enter", "taps"))
_RING_PX: Final = 6
_ROOMY_PX: Final = 1040
_LOW_SIDE_PX: Final = 264
_LOW_PX: Final = 760
_LOW_COLOURS_PX: Final = 84
_NARROW_PX: Final = 760
_NARROW_SIDE_PX: Final = 236


class TwoColours(Drawn):
    """The liquor as the photo tells it, beside the chart's nearest swatch, on porcelain."""

    accessible_role = QAccessible.Role.StaticText

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._view: ColourView | None = None
        self.setFixedHeight(LENS_PX)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_colour(self, view: ColourView | None) -> None:
        """Show what a photo tells, or nothing."""
        self._view = view
        self.setAccessibleName(f"{view.name}, {view.against_chart}" if view else "")
        self.setVisible(view is not None)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(120, LENS_PX)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        if self._view is None:
            return
        radius = tokens().radius_px.key
        paint.rounded(painter, self.box(), radius, theme.porcelain, theme.card_line, 1)
        middle, top = self.width() / 2, 12.0
        height = self.height() - 46
        for left, colour, word in ((12.0, self._view.hex, "photo"), (middle, self._view.chart_hex, "chart")):
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(colour))
            painter.drawRect(QRectF(left, top, middle - 12, height))
            ink = QColor("#2B231D")  # on porcelain, which is the same in every theme
            at = QPointF(left + (middle - 12) / 2, self.height() - 12)
            paint.text(painter, at.x(), at.y(), word, sans(16), ink, "centre")


class SidePanel(Drawn):
    """What stands beside the picture; it draws the rings and shadows around its buttons."""

    accessible_role = QAccessible.Role.Pane

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        paint.make_smooth(painter)
        paint_around_children(painter, self.theme, self, event.region())
        painter.end()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        """Draw nothing of its own."""


class PhotoSheet(Sheet):
    """Draws a `PhotoSheetView`."""

    tap_requested = Signal(float, float)
    take_requested = Signal()
    again_requested = Signal()
    more_white_requested = Signal()
    described = Signal(str)
    removal_requested = Signal()
    copy_requested = Signal()
    other_requested = Signal(str)
    another_requested = Signal()

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, "Photo", WIDTH_PX, parent)
        self._view: PhotoSheetView | None = None
        text = sans(tokens().type_px.text)
        self._where = Label(themes, "", ink="ink2", font=text)
        self.title_row.insertWidget(1, self._where)
        self.canvas = PhotoCanvas(themes)
        self.lens = PhotoLens(themes, LENS_PX)
        self._colours = TwoColours(themes)
        self._prompt = Label(themes, "", font=serif(tokens().type_px.heading, 500), wraps=True)
        self._hint = Label(themes, "", ink="ink2", wraps=True)
        self.refusal = FieldNote(themes)
        self._keys = _keys(themes)
        self._name = Label(themes, "", font=serif(tokens().type_px.heading, 500), wraps=True)
        self._words = Label(themes, "", ink="ink2", wraps=True, is_selectable=True)
        self._remarks = Label(themes, "", ink="ink3", wraps=True)
        self._caveat = Label(themes, "", ink="ink3", wraps=True)
        self.take = ActionButton(themes, "Take this colour")
        self._again = PlainButton(themes, "Begin again")
        self._more = PlainButton(themes, "More porcelain")
        self.caption = QLineEdit()
        self.caption.setFont(text)
        self.caption.setPlaceholderText("What it shows, in a few words")
        self.caption.setAccessibleName("Caption")
        self._save = QuietButton(themes, "Save a copy…")
        self._save.setToolTip("Without the place, the time and the camera that the file may tell.")
        self._another = PlainButton(themes, "Another…")
        self._another.setToolTip("Attach a further photo to the step at hand; Alt P.")
        self._remove = PlainButton(themes, "Take away")
        self._others: list[PhotoThumb] = []
        self._lay_out()
        self._connect()

    # -- building

    def _lay_out(self) -> None:
        self._side = QWidget()
        column = QVBoxLayout(self._side)
        column.setContentsMargins(0, 0, 6, 0)
        column.setSpacing(8)
        views = QHBoxLayout()
        views.setSpacing(12)
        views.addWidget(self.lens)
        views.addWidget(self._colours, 1)
        views.addWidget(self._keys)
        views.addStretch(0)
        for part in (self._prompt, self._hint, self.refusal):
            column.addWidget(part)
        column.addLayout(views)
        for label in (self._name, self._words, self._remarks):
            column.addWidget(label)
        links = QHBoxLayout()
        links.setSpacing(4)
        links.addWidget(self._again)
        links.addWidget(self._more)
        links.addStretch(1)
        column.addLayout(links)
        column.addStretch(1)
        column.addWidget(self._caveat)
        self._scroll = scrolled(self._side)
        right = QVBoxLayout()
        right.setSpacing(12)
        right.addWidget(self._scroll, 1)
        right.addWidget(self.take)
        self._panel = SidePanel(self._themes)
        self._panel.setLayout(right)
        right.setContentsMargins(_RING_PX, 0, _RING_PX, _RING_PX)
        middle = QHBoxLayout()
        middle.setSpacing(20 - _RING_PX)
        middle.addWidget(self.canvas, 1)
        middle.addWidget(self._panel)
        self._foot = QHBoxLayout()
        self._foot.setSpacing(8)
        self._foot.addStretch(1)
        for button in (self._another, self._save, self._remove):
            self._foot.addWidget(button)
        self._feet = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._feet.setSpacing(8)
        self._feet.addWidget(self.caption, 1)
        self._feet.addLayout(self._foot)
        self.body.addLayout(middle, 1)
        self.body.addLayout(self._feet)

    def _connect(self) -> None:
        self.canvas.tap_requested.connect(self.tap_requested)
        self.canvas.pointed.connect(lambda x, y: self.lens.show_place(self.canvas.image, x, y))
        self.take.press_requested.connect(self.take_requested)
        self._again.press_requested.connect(self.again_requested)
        self._more.press_requested.connect(self.more_white_requested)
        self._another.press_requested.connect(self.another_requested)
        self._save.press_requested.connect(self.copy_requested)
        self._remove.press_requested.connect(self.removal_requested)
        self.caption.editingFinished.connect(self.settle)

    # -- showing

    def show_view(self, view: PhotoSheetView) -> None:
        """Show another state."""
        before, self._view = self._view, view
        self._where.setText(view.title)
        asks = view.prompt if view.mode in ("white", "liquor") or view.colour else ""
        self.canvas.show_photo(view.raster, view.patches, asks or ("Tap the liquor" if view.mode == "told" else ""))
        self.lens.show_place(self.canvas.image, *self.canvas.cross)
        self._panel.setVisible(view.mode != "look")
        self._prompt.setText(view.prompt)
        self._hint.setText(view.hint)
        self.refusal.show_error(view.refusal)
        self._show_colour(view.colour)
        self._again.setVisible(view.can_begin_again)
        self._more.setVisible(view.can_add_white)
        self._caveat.setText(view.caveat)
        for label in (self._prompt, self._hint):
            label.setVisible(bool(label.text()))
        if before is None or before.uid != view.uid or not self.caption.isModified():
            self.caption.setText(view.caption)
            self.caption.setModified(False)
        self._show_others(view)
        self.caption.setReadOnly(not view.can_change)
        for part in (self._another, self._remove):
            part.setVisible(view.can_change)
        self._share_height()
        self._follow(before, view)

    def _follow(self, before: PhotoSheetView | None, view: PhotoSheetView) -> None:
        """Give the keyboard to what one does next, once that has changed: the picture, or the button that takes."""
        if before is not None and (before.uid, before.mode) == (view.uid, view.mode):
            return
        if view.mode == "told":
            self.take.setFocus(Qt.FocusReason.OtherFocusReason)
        elif self.isVisible() and not self.caption.hasFocus():
            self.take_keyboard()

    def _show_colour(self, colour: ColourView | None) -> None:
        self._colours.show_colour(colour)
        self._keys.setVisible(colour is None)
        self.take.setVisible(colour is not None)
        for label in (self._name, self._words, self._remarks):
            label.setVisible(colour is not None)
        if colour is not None:
            self._name.setText(colour.name[:1].upper() + colour.name[1:])
            told = (colour.right_within, colour.spread, colour.against_chart, colour.against_before, colour.lab)
            self._words.setText("\n".join(part for part in told if part))
            self._remarks.setText(" ".join(colour.remarks))

    def _show_others(self, view: PhotoSheetView) -> None:
        while len(self._others) < len(view.others):
            thumb, last = PhotoThumb(self._themes), len(self._others)
            thumb.press_requested.connect(lambda place=last: self._ask_for_other(place))
            self._foot.insertWidget(last, thumb)
            self._others.append(thumb)
        for place, thumb in enumerate(self._others):
            thumb.setVisible(place < len(view.others))
            if place < len(view.others):
                _show_thumb(thumb, view.others[place], is_current=view.others[place].uid == view.uid)

    def _ask_for_other(self, place: int) -> None:
        if self._view is not None:
            self.settle()
            self.other_requested.emit(self._view.others[place].uid)

    def settle(self) -> None:
        """Keep the caption as typed so far."""
        if self.caption.isModified():
            self.caption.setModified(False)
            self.described.emit(self.caption.text())

    def close_sheet(self) -> None:
        """Keep the caption, then put the sheet away."""
        self.settle()
        super().close_sheet()

    def take_keyboard(self) -> None:
        """Give the keyboard to the picture while a tap is asked for, else to the sheet."""
        if self._view is not None and self._view.mode != "look":
            self.canvas.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            super().take_keyboard()

    def _place(self) -> None:
        super()._place()
        is_narrow = self.width() < _NARROW_PX
        side_px = SIDE_PX if self.width() >= _ROOMY_PX else _LOW_SIDE_PX
        self._panel.setFixedWidth((_NARROW_SIDE_PX if is_narrow else side_px) + 2 * _RING_PX)
        self._share_height()
        self._feet.setDirection(QBoxLayout.Direction.TopToBottom if is_narrow else QBoxLayout.Direction.LeftToRight)

    def _share_height(self) -> None:
        """Where the sheet is low, let the magnified view give way to the colour once that is told."""
        is_told_low = self.height() < _LOW_PX and self._view is not None and self._view.colour is not None
        self.lens.setVisible(not is_told_low)
        self._colours.setFixedHeight(_LOW_COLOURS_PX if is_told_low else LENS_PX)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        """Draw nothing of its own: the sheet draws its card."""


def _keys(themes: Themes) -> QWidget:
    """Return the keys that stand in for a finger on the picture."""
    keys = QWidget()
    column = QVBoxLayout(keys)
    column.setContentsMargins(0, 0, 0, 0)
    column.addStretch(1)
    for key, does in KEYS:
        column.addWidget(KeyHint(themes, key, does))
    column.addStretch(1)
    return keys


def _show_thumb(thumb: PhotoThumb, view: ThumbView, *, is_current: bool = False) -> None:
    thumb.show_photo(view.raster, view.name, mark=view.mark, is_current=is_current)
