"""The right card of the Arc: the verdict, the taster's words, and what to do with them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QAccessible, QColor, QFont, QPainter
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from tastebook.presenters.arc.views import FactView, PointView, QuoteView, SideView
from tastebook.presenters.finding import KinView
from tastebook.ui.arc.prose import Prose, Rule, Setting, broken, height_of, write
from tastebook.ui.theme.fonts import sans, serif, serif_italic
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.buttons import PlainButton, QuietButton
from tastebook.ui.widgets.card import Card
from tastebook.ui.widgets.drawn import Drawn
from tastebook.ui.widgets.flow import FlowLayout
from tastebook.ui.widgets.photo_thumb import PhotoThumb

BUTTON_PX: Final = 52
THUMB_PX: Final = 64
_PADDING_PX: Final = 24
_CUP_PX: Final = 20.0
_QUOTE_LEFT_PX: Final = 84.0
_QUOTE_LINE_PX: Final = 26.0
_POINT_LEFT_PX: Final = 84.0
_LEAF: Final = QColor("#5B4A33")


def _text() -> Setting:
    return sans(tokens().type_px.text), 22.0


def _word() -> Setting:
    return sans(tokens().type_px.word), 25.0


def _label() -> Setting:
    return sans(tokens().type_px.text, tokens().weight.label), 22.0


def _figure() -> QFont:
    return serif(tokens().type_px.title, tokens().weight.serif_value)


def _headlines() -> tuple[Setting, ...]:
    """Return the settings of a verdict, the largest first: a long one is set smaller."""
    weight = tokens().weight.serif_heading
    sizes = (tokens().type_px.verdict, tokens().type_px.title, tokens().type_px.heading, tokens().type_px.value)
    return tuple((serif(px, weight), round(px * 1.17)) for px in sizes)


class Facts(Drawn):
    """Up to three figures side by side, each with what it counts."""

    accessible_role = QAccessible.Role.StaticText

    def __init__(self, themes: Themes, facts: tuple[FactView, ...], parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._facts = facts
        self.setFixedHeight(56)
        self.setAccessibleName(", ".join(f"{fact.value} {fact.caption}" for fact in facts))

    def draw(self, painter: QPainter, theme: Theme) -> None:
        value, caption = _figure(), _text()[0]
        for left, fact in zip(self._lefts(), self._facts, strict=True):
            paint.text(painter, left, 30, fact.value, value, theme.ink)
            paint.text(painter, left, 52, fact.caption, caption, theme.ink3)

    def _lefts(self) -> list[float]:
        """Return where the figures begin: in thirds, or where that is too narrow, with equal room between them."""
        value, caption, third = _figure(), _text()[0], self.width() / 3
        widths = [
            max(paint.text_width(one.value, value), paint.text_width(one.caption, caption)) for one in self._facts
        ]
        if all(width <= third - 6 for width in widths[:-1]):
            return [third * place for place in range(len(widths))]
        gap = (self.width() - sum(widths)) / (len(widths) - 1)
        return [sum(widths[:place]) + gap * place for place in range(len(widths))]


class Point(Drawn):
    """A name with the words that belong to it beside it, broken into lines."""

    accessible_role = QAccessible.Role.StaticText

    def __init__(self, themes: Themes, point: PointView, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._point = point
        self.setAccessibleName(f"{point.label}: {point.text}")
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return round(height_of(self._lines(width), _text()))

    def sizeHint(self) -> QSize:
        return QSize(320, self.heightForWidth(320))

    def minimumSizeHint(self) -> QSize:
        return QSize(200, 22)

    def _lines(self, width: float) -> list[str]:
        return broken(self._point.text, _text()[0], width - _POINT_LEFT_PX)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        write(painter, [self._point.label], _label(), QPointF(0, 0), theme.ink2)
        write(painter, self._lines(self.width()), _text(), QPointF(_POINT_LEFT_PX, 0), theme.ink)


class Quote(Drawn):
    """What was said at one cup, word for word."""

    accessible_role = QAccessible.Role.StaticText

    def __init__(self, themes: Themes, quote: QuoteView, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._quote = quote
        self.setAccessibleName(quote.accessible)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return max(52, round(self._words_height(width)) + 4)

    def sizeHint(self) -> QSize:
        return QSize(320, self.heightForWidth(320))

    def minimumSizeHint(self) -> QSize:
        return QSize(200, 52)

    def _lines(self, width: float) -> list[str]:
        return broken(self._quote.text, serif_italic(tokens().type_px.say), width - _QUOTE_LEFT_PX)

    def _words_height(self, width: float) -> float:
        return len(self._lines(width)) * _QUOTE_LINE_PX + (20 if self._quote.remark else 0)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        top = (self.height() - self._words_height(self.width())) / 2
        middle = min(self.height() / 2, 26.0)
        self._cup(painter, theme, QPointF(_CUP_PX, middle))
        place = serif(tokens().type_px.heading, tokens().weight.serif_heading)
        paint.text(painter, 60, middle + 8, self._quote.place, place, theme.ink, "centre")
        lines = self._lines(self.width())
        setting = serif_italic(tokens().type_px.say), _QUOTE_LINE_PX
        write(painter, lines, setting, QPointF(_QUOTE_LEFT_PX, top), theme.ink)
        if self._quote.remark:
            below = top + len(lines) * _QUOTE_LINE_PX
            write(painter, [self._quote.remark], (_text()[0], 20.0), QPointF(_QUOTE_LEFT_PX, below), theme.ink3)

    def _cup(self, painter: QPainter, theme: Theme, centre: QPointF) -> None:
        if self._quote.kind == "unseen":
            paint.empty_cup(painter, theme, centre, _CUP_PX)
        else:
            is_leaf = self._quote.kind == "leaf"
            paint.cup(painter, theme, centre, _CUP_PX, _LEAF if is_leaf else QColor(self._quote.cup), is_leaf=is_leaf)


class Labelled(Drawn):
    """A name at the left with a few words at the right, on one line."""

    accessible_role = QAccessible.Role.StaticText

    def __init__(
        self, themes: Themes, label: str, words: str, *, is_heading: bool = False, parent: QWidget | None = None
    ) -> None:
        super().__init__(themes, parent)
        self._label, self._words, self._is_heading = label, words, is_heading
        self.setFixedHeight(20 if is_heading else 26)
        self.setAccessibleName(f"{label}: {words}" if words else label)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        ink = theme.accent if self._is_heading else theme.ink2
        font, words_font = _label()[0] if self._is_heading else _text()[0], _label()[0]
        end = paint.text(painter, 0, 16, self._label, font, ink)
        words = paint.elided(self._words, words_font, self.width() - end - 16)
        paint.text(painter, self.width(), 16, words, words_font, theme.ink, "right")


class SideCard(Card):
    """Shows a `SideView`; what does not fit scrolls above the two buttons."""

    page_requested = Signal()
    verdict_requested = Signal()
    more_requested = Signal()
    photo_requested = Signal(str)
    lot_requested = Signal(str)

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._view: SideView | None = None
        self._kin: tuple[KinView, ...] = ()
        self.setAccessibleName("Verdict and words")
        self.area = QScrollArea(self)
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.viewport().setAutoFillBackground(False)
        self.area.setAccessibleName("Verdict and words")
        self.area.verticalScrollBar().rangeChanged.connect(self._follow_range)
        self.page = QuietButton(themes, "Session page", self, is_loud=True)
        self.page.setToolTip("Make the session's page as a PDF (Ctrl P)")
        self.verdict = QuietButton(themes, "Edit verdict", self)
        for button in (self.page, self.verdict):
            button.setFixedHeight(BUTTON_PX)
            button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.page.press_requested.connect(self.page_requested)
        self.verdict.press_requested.connect(self.verdict_requested)
        self._lay_out()

    def _lay_out(self) -> None:
        buttons = QHBoxLayout()
        buttons.setContentsMargins(_PADDING_PX, 0, _PADDING_PX, 0)
        buttons.setSpacing(16)
        buttons.addWidget(self.page, 208)
        buttons.addWidget(self.verdict, 160)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, _PADDING_PX)
        column.setSpacing(16)
        column.addWidget(self.area, 1)
        column.addLayout(buttons)

    def show_view(self, view: SideView) -> None:
        """Show another state of the verdict and the words."""
        if view != self._view:
            self._show(view)

    def show_kin(self, kin: tuple[KinView, ...]) -> None:
        """Show which teas are like this one."""
        if kin != self._kin:
            self._kin = kin
            if self._view is not None:
                self._show(self._view)

    def _show(self, view: SideView) -> None:
        kept = self.area.verticalScrollBar().value()
        self._view = view
        old = self.area.takeWidget()
        if old is not None:
            old.deleteLater()  # not at once: the button that asked for this may be on it
        content = self._content(view)
        self.area.setWidget(content)
        content.setAutoFillBackground(False)  # the area has just switched it on
        self.area.verticalScrollBar().setValue(kept)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        if self.area.hasFocus():
            paint.focus_ring(painter, theme, QRectF(self.area.geometry()), 14, -2)

    def _follow_range(self, least: int, most: int) -> None:
        """Let the keyboard reach what scrolls."""
        policy = Qt.FocusPolicy.TabFocus if most > least else Qt.FocusPolicy.NoFocus
        self.area.setFocusPolicy(policy)
        content = self.area.widget()
        if content is not None and (layout := content.layout()) is not None:
            layout.setContentsMargins(*self._margins())
        self.update()

    def _margins(self) -> tuple[int, int, int, int]:
        """Return the room around the words: the scroll bar stands in it, so no line is broken anew."""
        bar = self.area.verticalScrollBar()
        taken = bar.sizeHint().width() if bar.maximum() > bar.minimum() else 0
        return _PADDING_PX, 19, _PADDING_PX - taken, 8

    # -- what stands on it

    def _content(self, view: SideView) -> QWidget:
        content = QWidget()
        column = QVBoxLayout(content)
        column.setContentsMargins(*self._margins())
        column.setSpacing(0)
        for widget, gap in self._parts(view):
            column.addSpacing(gap)
            column.addWidget(widget)
        column.addStretch(1)
        return content

    def _parts(self, view: SideView) -> Iterator[tuple[QWidget, int]]:
        """Yield what stands below each other, each with the gap above it."""
        yield from self._judged(view)
        yield from self._said(view)
        if view.photos:
            yield from self._section("Photos")
            yield self._photos(view), 10
        if view.closing:
            yield from self._section("At the close")
            for point in view.closing:
                yield Labelled(self._themes, point.label, point.text), 2
        if view.caution:
            yield self._prose(view.caution, _text(), lambda theme: theme.ink3), 6
        if view.next_time:
            yield from self._section("Next time")
            yield self._prose(view.next_time, _word(), lambda theme: theme.ink), 6
        if view.sentences:
            yield from self._section("What the readings say")
            for sentence in view.sentences:
                yield self._prose(sentence, _text(), lambda theme: theme.ink2), 6
        if view.estimates:
            yield from self._section("Estimated, not measured")
            for estimate in view.estimates:
                yield self._prose(estimate, _text(), lambda theme: theme.ink2), 6

        if self._kin:
            yield from self._section("Teas like this one")
            for one in self._kin:
                yield self._link(one), 2
                yield self._prose(one.why, _text(), lambda theme: theme.ink2), 0

    def _link(self, one: KinView) -> PlainButton:
        button = PlainButton(self._themes, one.title)
        button.setAccessibleDescription(one.why)
        button.press_requested.connect(lambda: self.lot_requested.emit(one.lot_uid))
        return button

    def _judged(self, view: SideView) -> Iterator[tuple[QWidget, int]]:
        yield Labelled(self._themes, "Verdict", view.decision, is_heading=True), 0
        ink = (lambda theme: theme.ink) if view.has_verdict else (lambda theme: theme.ink2)
        yield Prose(self._themes, view.headline, _headlines(), ink, most=2, is_headline=True), 0
        if view.note:
            yield self._prose(view.note, _word(), lambda theme: theme.ink2), 8
        for number, point in enumerate(view.points):
            yield Point(self._themes, point), 12 if number == 0 else 4
        if view.facts:
            yield Facts(self._themes, view.facts), 16

    def _said(self, view: SideView) -> Iterator[tuple[QWidget, int]]:
        yield from self._section("In your words")
        if not view.quotes:
            yield self._prose("Nothing was said in words yet.", _text(), lambda theme: theme.ink2), 6
        for number, quote in enumerate(view.quotes):
            yield Quote(self._themes, quote), 10 if number == 0 else 14
        if view.more_quotes:
            more = PlainButton(self._themes, view.more_quotes)
            more.press_requested.connect(self.more_requested)
            yield more, 2

    def _photos(self, view: SideView) -> QWidget:
        row = QWidget()
        flow = FlowLayout(row)
        for photo in view.photos:
            thumb = PhotoThumb(self._themes, THUMB_PX, row)
            thumb.show_photo(photo.raster, photo.name, mark=photo.mark)
            thumb.press_requested.connect(lambda uid=photo.uid: self.photo_requested.emit(uid))
            flow.addWidget(thumb)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        row.setSizePolicy(policy)
        return row

    def _section(self, title: str) -> Iterator[tuple[QWidget, int]]:
        yield Rule(self._themes), 16
        yield Labelled(self._themes, title, "", is_heading=True), 18

    def _prose(self, words: str, setting: Setting, ink: Callable[[Theme], QColor]) -> Prose:
        return Prose(self._themes, words, [setting], ink)
