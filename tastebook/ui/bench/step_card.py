"""The step card: what to attend to now, the say line, and the sheet for it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QRectF, Qt, QTimer, Signal
from PySide6.QtGui import QAccessible, QColor, QPainter, QResizeEvent
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QScrollArea,
    QSizePolicy,
    QSpacerItem,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from tastebook.presenters.bench.views import (
    AromaSheet,
    FinishSheet,
    LiquorSheet,
    MarkKind,
    MarkView,
    StepCardView,
    TabView,
    TextureSheet,
    VerdictSheet,
)
from tastebook.ui.bench.aroma_page import AromaPage
from tastebook.ui.bench.finish_page import FinishPage
from tastebook.ui.bench.liquor_page import LiquorPage
from tastebook.ui.bench.photo_desk import PhotoRow
from tastebook.ui.bench.said_row import GAP_PX, MOST_ROWS, ROW_PX, SaidHere, SaidRow
from tastebook.ui.bench.scale_grid import ScaleGrid
from tastebook.ui.bench.verdict_page import VerdictPage
from tastebook.ui.theme.fonts import sans, serif
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.buttons import PlainButton
from tastebook.ui.widgets.card import Card
from tastebook.ui.widgets.drawn import Drawn
from tastebook.ui.widgets.hints import FieldNote, KeyHint
from tastebook.ui.widgets.say_field import MOST_LINES, Line, Mark, SayField
from tastebook.ui.widgets.scrolled import scrolled
from tastebook.ui.widgets.step_tab import StepTab, StepTabView

PAD_PX: Final = 24
TABS_PX: Final = 74
MOST_OFFERED: Final = 3
PROMPT_PX: Final = 44
LINES_BESIDE_PROMPT: Final = 2
FEW_ROWS: Final = 1
CHART_BELOW_PROMPT_PX: Final = 532
"""Lower than this the chart of colours asks the question by itself."""
FEWEST_LINES: Final = 2
ABOVE_SAY_PX: Final = 4
ABOVE_SHEET_PX: Final = 12
LOW_ABOVE_SHEET_PX: Final = 6
GAPS_PX: Final = ABOVE_SAY_PX + ABOVE_SHEET_PX
CAPTION_PX: Final = 28
LEAST_SHEET_PX: Final = 188
"""The sheet below the words keeps this height as long as it can; with less it scrolls as a whole."""

LINES: Final[dict[MarkKind, Line]] = {
    "sure": "solid", "doubtful": "dashed", "absent": "struck", "new": "dotted", "plain": "solid",
    "plain doubtful": "dashed", "number": "double", "dropped": "thin",
}  # fmt: skip
"""How each kind of words is underlined."""

KEYS_WHILE_EMPTY: Final = "[]-+=?"
LOW_PROMPT_PX: Final = 30


class PromptLine(Drawn):
    """The question of the step, and at the right how to answer it or what can still be done."""

    accessible_role = QAccessible.Role.StaticText

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._prompt = self._hint = ""
        self._is_warning = False
        self._shows_hint = True
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFixedHeight(PROMPT_PX)

    def show_words(self, prompt: str, hint: str, *, is_warning: bool) -> None:
        """Show other words."""
        if (prompt, hint, is_warning) == (self._prompt, self._hint, self._is_warning):
            return
        self._prompt, self._hint, self._is_warning = prompt, hint, is_warning
        self.setAccessibleName(f"{prompt} {hint}".strip())
        self.setToolTip(hint if is_warning else "")
        self.update()

    def set_hint_shown(self, *, is_shown: bool) -> None:
        """Let the hint give way to words that are offered in its place."""
        if is_shown != self._shows_hint:
            self._shows_hint = is_shown
            self.update()

    def draw(self, painter: QPainter, theme: Theme) -> None:
        is_low = self.height() <= LOW_PROMPT_PX
        base = self.height() - (9 if is_low else 15)
        end = paint.text(painter, 0, base, self._prompt, serif(20 if is_low else 24, 500), theme.ink)
        room = self.width() - end - 24
        ink = theme.alarm if self._is_warning else theme.ink3
        if room > 120 and self._shows_hint:
            self._draw_hint(painter, QRectF(end + 24, 0, room, self.height()), base - 1, ink)

    def _draw_hint(self, painter: QPainter, box: QRectF, base: float, ink: QColor) -> None:
        """Write the hint in one line, smaller if it must be; else in two where there is room for them."""
        font = paint.fitting(self._hint, (sans(16), sans(15), sans(14)), box.width())
        high = paint.paragraph_height(box.width(), self._hint, font)
        if paint.text_width(self._hint, font) > box.width() and high <= box.height():
            paint.paragraph(painter, box.adjusted(0, (box.height() - high) / 2, 0, 0), self._hint, font, ink)
        else:
            paint.text(painter, box.right(), base, paint.elided(self._hint, font, box.width()), font, ink, "right")


class OfferRow(QWidget):
    """Words that the one being typed may become; they stand where the hint stands, and cover nothing."""

    taken = Signal(str)

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._buttons = [PlainButton(themes, "") for _ in range(MOST_OFFERED)]
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(4)
        row.addStretch(1)
        row.addWidget(KeyHint(themes, "Tab", ""))
        for button in self._buttons:
            button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            button.press_requested.connect(lambda button=button: self.taken.emit(button.label))
            row.addWidget(button)
        self.hide()

    def show_words(self, words: Sequence[str]) -> None:
        """Offer other words."""
        for place, button in enumerate(self._buttons):
            button.setVisible(place < len(words))
            if place < len(words) and button.label != words[place]:
                button.set_label(words[place])
        self.setVisible(bool(words))


class StepCard(Card):
    """Draws a `StepCardView` and asks for what the taster wants of it."""

    step_requested = Signal(str)
    typed = Signal(str)
    said = Signal(str)
    pedal_requested = Signal()
    skip_requested = Signal()
    intensity_requested = Signal(str, int)
    removal_requested = Signal(str)
    flags_requested = Signal(str, bool, bool)
    family_requested = Signal(str)
    value_requested = Signal(str, int)
    clear_requested = Signal(str)
    reading_flags_requested = Signal(str, bool, bool)
    swatch_requested = Signal(int, int)
    nudge_requested = Signal(str, int)
    clarity_requested = Signal(str)
    stopwatch_requested = Signal()
    draft_requested = Signal(str, str)
    part_step_requested = Signal(int)
    part_choice_requested = Signal(object)
    part_value_requested = Signal(object, int)
    part_drop_requested = Signal(object)
    part_left = Signal()
    number_requested = Signal(object)
    meaning_requested = Signal(str)

    def __init__(self, themes: Themes, families: Sequence[tuple[str, str]], parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._view: StepCardView | None = None
        self._offered: tuple[str, ...] = ()
        self._is_compact = self._is_tight = False
        self._tabs: list[StepTab] = []
        self._prompt = PromptLine(themes)
        self._offers = OfferRow(themes)
        self.say = SayField(themes)
        self.say.set_word_keys(has_word_keys=True)
        self.say.set_keys_while_empty(KEYS_WHILE_EMPTY)
        self._note = FieldNote(themes)
        self.row = SaidRow(themes)
        self.here = SaidHere(themes)
        self._here_button = PlainButton(themes, "Said here")
        self.photos = PhotoRow(themes)
        self._skip = PlainButton(themes, "Skip")
        self._aroma = AromaPage(themes, families)
        self._texture = ScaleGrid(themes)
        self._liquor = LiquorPage(themes)
        self._finish = FinishPage(themes)
        self.verdict = VerdictPage(themes)
        self._sheets = QStackedWidget()
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        self._tab_row = QHBoxLayout()
        self._tab_row.setContentsMargins(PAD_PX - StepTab.PAD, 0, PAD_PX - 8, 0)
        self._tab_row.setSpacing(0)
        self._tab_row.addWidget(self._here_button)
        self._tab_row.addWidget(self.photos)
        self._tab_row.addWidget(self._skip)
        self._prompt_row = QHBoxLayout()
        self._prompt_row.addWidget(self._prompt, 1)
        self._prompt_row.addWidget(self._offers)
        self._inner = QVBoxLayout()
        self._inner.setContentsMargins(PAD_PX, 8, PAD_PX, PAD_PX)
        self._inner.setSpacing(0)
        self._inner.addLayout(self._prompt_row)
        self._above_say = QSpacerItem(0, ABOVE_SAY_PX)
        self._inner.addItem(self._above_say)
        self._inner.addWidget(self.say)
        self._inner.addWidget(self._note)
        self._inner.addWidget(self.row)
        self._inner.addWidget(self.here)
        self._above_sheet = QSpacerItem(0, ABOVE_SHEET_PX)
        self._inner.addItem(self._above_sheet)
        self._inner.addWidget(self._sheets, 1)
        self._inner.addStretch(0)  # while the sheet gives way, what stands above it stays where it is
        for page in (scrolled(self._aroma), scrolled(self._texture), scrolled(self._liquor), scrolled(self._finish)):
            page.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # a finger on the sheet leaves the keyboard with the words
            self._sheets.addWidget(page)
        self._sheets.addWidget(scrolled(self.verdict))
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addLayout(self._tab_row)
        box.addLayout(self._inner, 1)

    def _connect(self) -> None:
        self.say.text_edited.connect(self.typed)
        self.say.said.connect(self.said)
        self.say.pedal_requested.connect(self.pedal_requested)
        self.say.next_word_requested.connect(self._next_word)
        self._offers.taken.connect(self.say.replace_word)
        self._connect_parts()
        self._skip.press_requested.connect(self.skip_requested)
        self._aroma.intensity_requested.connect(self.intensity_requested)
        self._aroma.removal_requested.connect(self.removal_requested)
        self._aroma.flags_requested.connect(self.flags_requested)
        self._aroma.family_requested.connect(self.family_requested)
        self._texture.value_requested.connect(self.value_requested)
        self._texture.clear_requested.connect(self.clear_requested)
        self._texture.flags_requested.connect(self.reading_flags_requested)
        self._liquor.swatch_requested.connect(self.swatch_requested)
        self._liquor.nudge_requested.connect(self.nudge_requested)
        self._liquor.clarity_requested.connect(self.clarity_requested)
        self._finish.stopwatch_requested.connect(self.stopwatch_requested)
        self._finish.value_requested.connect(self.value_requested)
        self._finish.clear_requested.connect(self.clear_requested)
        self._finish.reading_flags_requested.connect(self.reading_flags_requested)
        self._finish.intensity_requested.connect(self.intensity_requested)
        self._finish.removal_requested.connect(self.removal_requested)
        self._finish.flags_requested.connect(self.flags_requested)
        self.verdict.draft_requested.connect(self.draft_requested)

    def _connect_parts(self) -> None:
        self.say.value_requested.connect(lambda value: self.part_value_requested.emit(None, value))
        self.say.drop_requested.connect(lambda: self.part_drop_requested.emit(None))
        self.say.meaning_requested.connect(lambda: self.meaning_requested.emit(""))
        self.say.part_left.connect(self.part_left)
        self.row.value_requested.connect(self.part_value_requested)
        self.row.drop_requested.connect(self.part_drop_requested)
        self.row.choice_requested.connect(self.part_choice_requested)
        self.row.number_requested.connect(self.number_requested)
        self.row.opened.connect(self._share_height)
        self._here_button.press_requested.connect(self.toggle_here)
        for page in (self.row, self._aroma, self._texture, self._finish):
            page.meaning_requested.connect(self.meaning_requested)

    @property
    def view(self) -> StepCardView | None:
        """Return what is shown."""
        return self._view

    @property
    def has_say_line(self) -> bool:
        """Say whether this step has a say line."""
        return self._view is not None and not isinstance(self._view.sheet, VerdictSheet)

    # -- showing

    def show_view(self, view: StepCardView) -> None:
        """Draw another state."""
        if view == self._view:
            return
        self._view = view
        self._show_tabs(view.tabs)
        self._prompt.show_words(view.prompt, view.hint, is_warning=view.is_warning)
        self._prompt.setToolTip(view.why)
        self._show_say_line(view)
        self._show_note(view)
        self.row.show_said(view.say.parts, view.say.offers)
        self._show_here(view)
        self._skip.setVisible(view.can_skip)
        self._skip.set_label("Take up" if view.is_skipped else "Skip")
        self._show_sheet(view)
        self._share_height()
        self._show_chosen()
        QTimer.singleShot(0, self, self._keep_in_sight)  # once what came above the sheet has its room

    def _keep_in_sight(self) -> None:
        """Scroll the sheet so that what has the keyboard stays in sight, whatever came or went above it."""
        focused = QApplication.focusWidget()
        if focused is not None and self._sheets.isAncestorOf(focused):
            _bring_into_sight(focused)

    def _share_height(self) -> None:
        """Let the words grow as far as the sheet below keeps its least height; the question gives way to many lines."""
        is_long = self.say.lines > LINES_BESIDE_PROMPT
        has_chart = self._view is not None and isinstance(self._view.sheet, LiquorSheet)
        self._sheets.setHidden(self.row.is_open)
        self.row.set_most_rows(self._most_said_rows(is_few=is_long or has_chart or self._is_compact))
        room_px = self._room_for_words_px()
        least_px = tokens().target_px.field + (min(self.say.lines, FEWEST_LINES) - 1) * self.say.line_px
        is_crowded = is_long or room_px - self._prompt.height() < least_px
        has_words = bool(self.say.text().strip()) or not self.here.isHidden()
        gives_way = is_crowded and has_words
        self._aroma.set_tight(is_tight=self._is_tight or (gives_way and self._is_compact))
        self._prompt.setVisible(
            not (self._is_tight or gives_way or (has_chart and self.height() < CHART_BELOW_PROMPT_PX))
        )
        room_px -= 0 if self._prompt.isHidden() else self._prompt.height()
        more = (room_px - tokens().target_px.field) // self.say.line_px
        self.say.set_most_lines(max(FEWEST_LINES, min(MOST_LINES, 1 + more)))

    def _most_said_rows(self, *, is_few: bool) -> int:
        """Return how many rows of what was understood are shown; opened, they take the sheet's place."""
        if not self.row.is_open:
            return FEW_ROWS if is_few else MOST_ROWS
        free_px = self.height() - TABS_PX - self.say.height() - GAPS_PX - PAD_PX
        return max(MOST_ROWS, free_px // (ROW_PX + GAP_PX))

    def _room_for_words_px(self) -> int:
        """Return how high the prompt and the say line may be together."""
        taken_px = sum(one.height() for one in (self.row, self.here) if not one.isHidden())
        margins = self._inner.contentsMargins()
        taken_px += TABS_PX + margins.top() + margins.bottom() + GAPS_PX
        taken_px += LEAST_SHEET_PX - (CAPTION_PX if self._is_compact else 0)
        taken_px += 0 if self._note.isHidden() else self._note.heightForWidth(self.say.width())
        return self.height() - taken_px

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._share_height()

    def _show_tabs(self, tabs: tuple[TabView, ...]) -> None:
        while len(self._tabs) < len(tabs):
            tab = StepTab(self._themes, StepTabView(""))
            place = len(self._tabs)
            tab.press_requested.connect(lambda place=place: self._ask_for_step(place))
            self._tab_row.insertWidget(place, tab, 1)
            self._tabs.append(tab)
        for place, tab in enumerate(self._tabs):
            tab.setVisible(place < len(tabs))
            if place < len(tabs):
                tab.show_view(tab_view(tabs[place]))

    def _ask_for_step(self, place: int) -> None:
        if self._view is not None:
            self.step_requested.emit(self._view.tabs[place].key)

    def _show_say_line(self, view: StepCardView) -> None:
        self.say.setVisible(not isinstance(view.sheet, VerdictSheet))
        self.say.show_placeholder(view.say.placeholder)
        if self.say.text() != view.say.typed:
            self.say.setText(view.say.typed)
        self.say.show_marks([mark(one) for one in view.say.marks], view.say.told)
        self.say.set_choosing(is_choosing=view.say.is_choosing)
        if not view.say.typed:
            self.show_offers(())

    def _show_note(self, view: StepCardView) -> None:
        """Say what cannot be done; else what the chosen words mean, or what a new word asks."""
        if isinstance(view.sheet, VerdictSheet):
            self._note.clear()  # the verdict has a place of its own for it
        elif view.trouble:
            self._note.show_error(view.trouble)
        else:
            self._note.show_help(view.say.note)

    def _show_here(self, view: StepCardView) -> None:
        self.here.show_sayings(view.say.here)
        self._here_button.setVisible(bool(view.say.here) and not self._is_tight)
        self._here_button.set_label(f"Said here: {len(view.say.here)}")
        if not view.say.here:
            self.here.hide()

    def toggle_here(self) -> None:
        """Show what was said at this step, with the keyboard there to scroll it; or put it away."""
        if self._view is not None and self._view.say.here:
            self.here.setVisible(self.here.isHidden())
            self._share_height()
            self.take_keyboard() if self.here.isHidden() else self.here.take_keyboard()

    def _show_sheet(self, view: StepCardView) -> None:
        sheet = view.sheet
        if isinstance(sheet, AromaSheet):
            self._aroma.show_sheet(sheet)
            self._sheets.setCurrentIndex(0)
        elif isinstance(sheet, TextureSheet):
            self._texture.show_sliders(sheet.sliders)
            self._sheets.setCurrentIndex(1)
        elif isinstance(sheet, LiquorSheet):
            self._liquor.show_sheet(sheet)
            self._sheets.setCurrentIndex(2)
        elif isinstance(sheet, FinishSheet):
            self._finish.show_sheet(sheet)
            self._sheets.setCurrentIndex(3)
        else:
            self.verdict.show_sheet(sheet, view.trouble)
            self._sheets.setCurrentIndex(4)

    def _show_chosen(self) -> None:
        """Scroll to what shows the chosen part on the sheet."""
        page = self._sheets.currentWidget()
        inner = page.widget() if isinstance(page, QScrollArea) else page
        chosen: QWidget | None = getattr(inner, "chosen", None)
        if chosen is not None:
            _bring_into_sight(chosen)

    def show_offers(self, words: Sequence[str]) -> None:
        """Offer words that the one being typed may become."""
        self._offers.show_words(words)
        self._offered = tuple(words)
        self._prompt.set_hint_shown(is_shown=not words)

    def show_running(self, running_s: float | None) -> None:
        """Show the seconds of the stopwatch."""
        self._finish.show_running(running_s)

    # -- keyboard

    def phrase(self) -> str:
        """Return the part between commas that is being typed."""
        begin, end = self.say.word_span()
        return self.say.text()[begin:end]

    def _next_word(self, direction: int) -> None:
        """Take the first word offered; with none, choose the next part of the words; or go to the first chip."""
        if direction > 0 and self._offered and not self.say.is_choosing:
            self.say.replace_word(self._offered[0])
            return
        was_choosing = self.say.is_choosing
        if self.say.text().strip():
            self.show_offers(())
            self.part_step_requested.emit(direction)
            if self.say.is_choosing or (was_choosing and direction < 0):
                return
        first = self._first_of_sheet()
        if direction > 0 and first is not None:
            first.setFocus(Qt.FocusReason.TabFocusReason)
        else:
            self.focusNextPrevChild(direction > 0)

    def _first_of_sheet(self) -> QWidget | None:
        index = self._sheets.currentIndex()
        if index == 0:
            return self._aroma.first_word()
        if index == 1 and self._texture.sliders:
            return self._texture.sliders[0]
        return None

    def take_keyboard(self) -> None:
        """Give the keyboard to the say line."""
        if self._view is not None and isinstance(self._view.sheet, VerdictSheet):
            self.verdict.take_keyboard()
        else:
            self.say.setFocus(Qt.FocusReason.OtherFocusReason)

    def take_families(self) -> None:
        """Give the keyboard to the families."""
        if self._sheets.currentIndex() == 0:
            self._aroma.take_shelf()

    def set_compact(self, *, is_compact: bool, is_tight: bool = False) -> None:
        """Take less height, where the window is low: rows stand closer, and the chart has smaller swatches.

        Where it is narrow too (`is_tight`), the question and the captions give way everywhere.
        """
        self._is_tight = is_tight
        self._is_compact = is_compact
        self._prompt.setFixedHeight(LOW_PROMPT_PX if is_compact else PROMPT_PX)
        self._inner.setContentsMargins(PAD_PX, 2 if is_compact else 8, PAD_PX, 8 if is_compact else PAD_PX)
        self._above_say.changeSize(0, 0 if is_compact else ABOVE_SAY_PX)
        self._above_sheet.changeSize(0, LOW_ABOVE_SHEET_PX if is_compact else ABOVE_SHEET_PX)
        self._inner.invalidate()
        self._liquor.set_compact(is_compact=is_compact)
        self.photos.set_tight(is_tight=is_tight)
        if self._view is not None:
            self._show_say_line(self._view)
            self._show_here(self._view)
            self._share_height()


def _bring_into_sight(widget: QWidget) -> None:
    """Scroll everything around a widget so that it is seen."""
    around = widget.parentWidget()
    while around is not None:
        if isinstance(around, QScrollArea):
            around.ensureWidgetVisible(widget)
        around = around.parentWidget()


def mark(view: MarkView) -> Mark:
    """Return words that were understood as the field underlines them."""
    return Mark(view.begin, view.end, LINES[view.kind], view.told, view.family, view.is_chosen)


def tab_view(view: TabView) -> StepTabView:
    """Return a tab as its widget draws it."""
    state = "todo" if view.state == "waiting" else view.state
    return StepTabView(view.name, view.caption, state, view.is_current)
