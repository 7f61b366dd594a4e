"""Help as a sheet: the keys, the words, the steps, the cautions. It leaves the timer in sight."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Final

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QAccessible, QKeySequence, QPainter, QResizeEvent, QShortcut
from PySide6.QtWidgets import QBoxLayout, QSizePolicy, QStackedWidget, QTextBrowser, QVBoxLayout, QWidget

from tastebook.domain.caution import Caution
from tastebook.presenters.help import (
    SECTIONS,
    CourseNote,
    FigureNote,
    HelpPresenter,
    HelpView,
    KeyGroup,
    KeyRow,
    Section,
)
from tastebook.presenters.help_terms import Term
from tastebook.ui.sheet import Sheet
from tastebook.ui.theme.fonts import sans
from tastebook.ui.theme.theme import Theme, Themes
from tastebook.ui.theme.tokens import tokens
from tastebook.ui.widgets import paint
from tastebook.ui.widgets.buttons import QuietButton
from tastebook.ui.widgets.drawn import Drawn
from tastebook.ui.widgets.find_field import FindField
from tastebook.ui.widgets.label import Label
from tastebook.ui.widgets.scrolled import scrolled
from tastebook.ui.widgets.segmented_choice import SegmentedChoice

WIDTH_PX: Final = 960
TWO_COLUMNS_PX: Final = 760
CAPS_PX: Final = 132
TEXT_PX: Final = 17


class KeyLine(Drawn):
    """Some keys and what they do."""

    accessible_role = QAccessible.Role.StaticText

    def __init__(self, themes: Themes, row: KeyRow, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._row = row
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setAccessibleName(f"{' or '.join(row.caps)}: {row.does}")

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        room = max(80, width - self._words_left())
        return max(36, round(paint.paragraph_height(room, self._row.does, sans(16))) + 14)

    def sizeHint(self) -> QSize:
        return QSize(280, self.heightForWidth(max(280, self.width())))

    def minimumSizeHint(self) -> QSize:
        return QSize(200, 36)

    def _words_left(self) -> int:
        return max(CAPS_PX, round(sum(paint.keycap_width(cap) + 6 for cap in self._row.caps)) + 10)

    def draw(self, painter: QPainter, theme: Theme) -> None:
        left = 0.0
        for cap in self._row.caps:
            left = paint.keycap(painter, theme, left, 6, cap) + 6
        words_left = self._words_left()
        box = QRectF(words_left, 7, self.width() - words_left, self.height() - 7)
        paint.paragraph(painter, box, self._row.does, sans(16), theme.ink)


class KeyPage(QWidget):
    """The keys of every place, in two columns where there is room."""

    def __init__(self, themes: Themes, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._themes = themes
        self._shown: tuple[KeyGroup, ...] = ()
        self._columns = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._columns.setContentsMargins(0, 0, 16, 0)
        self._columns.setSpacing(32)

    def show_groups(self, groups: tuple[KeyGroup, ...]) -> None:
        """Show other keys."""
        if groups == self._shown:
            return
        self._shown = groups
        while (item := self._columns.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        longest = max(groups, key=lambda group: len(group.rows), default=None)
        rest = tuple(group for group in groups if group is not longest)
        for column in ((longest,) if longest else (), rest):
            if column:
                self._columns.addWidget(self._column(column), 1)

    def _column(self, groups: Sequence[KeyGroup]) -> QWidget:
        part = QWidget(self)
        box = QVBoxLayout(part)
        box.setContentsMargins(0, 0, 0, 16)
        box.setSpacing(0)
        font = sans(tokens().type_px.text, tokens().weight.label)
        for number, group in enumerate(groups):
            title = Label(self._themes, group.title, ink="accent", font=font)
            title.setContentsMargins(0, 16 if number else 4, 0, 8)
            box.addWidget(title)
            for row in group.rows:
                box.addWidget(KeyLine(self._themes, row))
        box.addStretch(1)
        return part

    def resizeEvent(self, event: QResizeEvent) -> None:
        wide = self.width() >= TWO_COLUMNS_PX
        self._columns.setDirection(QBoxLayout.Direction.LeftToRight if wide else QBoxLayout.Direction.TopToBottom)
        super().resizeEvent(event)


class HelpSheet(Sheet):
    """Draws a `HelpView`.

    Over the Bench, lay it over the screen itself with the timer's width left clear: its keys go on working.
    """

    words_requested = Signal(str)
    """The sheet of words is asked for, at the word that is looked for here."""

    def __init__(self, themes: Themes, presenter: HelpPresenter, parent: QWidget | None = None) -> None:
        super().__init__(themes, "Help", WIDTH_PX, parent)
        self._presenter = presenter
        self.sections = SegmentedChoice(themes, [name for _, name in SECTIONS], name="Part of the help")
        self.finder = FindField(themes, "Find in this part")
        self.words = QuietButton(themes, "Change the words…")
        self.words.setAccessibleDescription("Key: Ctrl L")
        self.keys = KeyPage(themes)
        self._keys_area = scrolled(self.keys)
        self.text = QTextBrowser()
        self.text.setStyleSheet("QTextBrowser { border: 0; background: transparent; padding: 0 }")
        self.text.setFont(sans(TEXT_PX))
        self.text.setOpenLinks(False)
        self.text.document().setDocumentMargin(0)
        self.text.setAccessibleName("Help")
        self._empty = Label(themes, ink="ink2", wraps=True)
        self._pages = QStackedWidget()
        for page in (self._keys_area, self.text, self._empty):
            self._pages.addWidget(page)
        self._lay_out()
        self._connect()
        self.refresh()

    def _lay_out(self) -> None:
        row = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        row.setSpacing(16)
        row.addWidget(self.sections, 3)
        row.addWidget(self.finder, 2)
        self.body.addLayout(row)
        self.title_row.insertWidget(2, self.words)
        self.body.addWidget(self._pages, 1)
        self._empty.setAlignment(Qt.AlignmentFlag.AlignCenter)

    def _connect(self) -> None:
        self.sections.choice_requested.connect(self._choose)
        self.finder.find_requested.connect(self._find)
        self.finder.leave_requested.connect(self.close_sheet)
        self.words.press_requested.connect(self._go_to_words)
        find = QShortcut(QKeySequence("Ctrl+F"), self)
        find.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        find.activated.connect(self.finder.setFocus)
        find.activatedAmbiguously.connect(self.finder.setFocus)  # the screen below has the same key
        self._themes.changed.connect(self.refresh)

    # -- gestures

    def show_keys(self, host: QWidget, *, clear_right_px: int = 0) -> None:
        """Show the keys, over a part of the window."""
        self._open("keys", host, clear_right_px)

    def show_terms(self, host: QWidget, *, clear_right_px: int = 0) -> None:
        """Show the words, over a part of the window."""
        self._open("terms", host, clear_right_px)

    def show_cautions(self, host: QWidget, *, clear_right_px: int = 0) -> None:
        """Show the cautions, over a part of the window."""
        self._open("cautions", host, clear_right_px)

    def explain(self, word: str, host: QWidget, *, clear_right_px: int = 0) -> None:
        """Show what a word means, over a part of the window."""
        self._presenter.explain(word)
        self.finder.setText(self._presenter.view().typed)
        self.refresh()
        self.open_over(host, clear_right_px=clear_right_px)

    def turn_to(self, section: Section) -> None:
        """Turn to a section; what was looked for is forgotten."""
        self.finder.clear()
        self._choose([key for key, _ in SECTIONS].index(section))

    def _open(self, section: Section, host: QWidget, clear_right_px: int) -> None:
        self.turn_to(section)
        self.open_over(host, clear_right_px=clear_right_px)

    def _choose(self, place: int) -> None:
        self._presenter.choose_at(place)
        self.refresh()

    def _go_to_words(self) -> None:
        self.close_sheet()
        self.words_requested.emit(self.finder.text().strip())

    def _find(self, typed: str) -> None:
        self._presenter.find(typed)
        self.refresh()

    # -- showing

    def refresh(self) -> None:
        """Show the part of the help as it stands."""
        view = self._presenter.view()
        self.sections.show_choice([key for key, _ in SECTIONS].index(view.section))
        self.words.setVisible(view.section == "terms")
        self._empty.setText(view.empty)
        if view.empty:
            self._pages.setCurrentWidget(self._empty)
        elif view.section == "keys":
            self.keys.show_groups(view.keys)
            self._pages.setCurrentWidget(self._keys_area)
        else:
            self._write(view)
            self._pages.setCurrentWidget(self.text)

    def _write(self, view: HelpView) -> None:
        self.text.document().setDefaultStyleSheet(_css(self.theme))
        how = [f"<p class='quiet'>{escape(view.how)}</p>"] if view.how else []
        parts = [*map(_course, view.courses), *map(_caution, view.cautions)]
        parts += [*how, *map(_term, view.terms), *map(_figure, view.figures)]
        self.text.setHtml("".join(parts))

    def take_keyboard(self) -> None:
        """Give the keyboard to the bar of parts: arrows choose, Tab goes on to the field that finds."""
        self.sections.segments[self.sections.chosen or 0].setFocus(Qt.FocusReason.OtherFocusReason)


def _css(theme: Theme) -> str:
    return (
        f"body {{ color: {theme.ink.name()} }} p {{ margin: 0 0 12px 0 }}"
        ".course { font-family: 'Bench Serif'; font-size: 24px; font-weight: 600; margin: 20px 0 2px 0 }"
        f".column {{ color: {theme.accent.name()}; font-size: 16px; font-weight: 600; margin: 14px 0 2px 0 }}"
        ".word { font-family: 'Bench Serif'; font-size: 20px; font-weight: 600 }"
        f".quiet {{ color: {theme.ink3.name()} }}"
    )


def _term(term: Term) -> str:
    also = f" <span class='quiet'>also {escape(term.also)}</span>" if term.also else ""
    ours = " <span class='quiet'>our word</span>" if term.is_ours else ""
    source = f"<br><span class='quiet'>{escape(term.source)}</span>" if term.source else ""
    return f"<p><span class='word'>{escape(term.word)}</span>{also}{ours}<br>{escape(term.meaning)}{source}</p>"


def _course(course: CourseNote) -> str:
    columns = "".join(
        f"<p class='column'>{escape(title)}</p>"
        + "".join(
            f"<p><b>{escape(note.name)}.</b> {escape(note.why)}"
            + (f"<br><span class='quiet'>Once it is past: {escape(note.rescue)}</span>" if note.rescue else "")
            + "</p>"
            for note in notes
        )
        for title, notes in course.columns
    )
    asks = "".join(f"<p>{escape(note)}</p>" for note in course.notes)
    source = f"<p class='quiet'>{escape(course.source)}</p>"
    return f"<p class='course'>{escape(course.name)}</p><p>{escape(course.about)}</p>{columns}{asks}{source}"


def _figure(note: FigureNote) -> str:
    return (
        f"<p><span class='word'>{escape(note.name)}</span>: {escape(note.told)}"
        f"<br><span class='quiet'>[{escape(note.key)}], {escape(note.bounds)}. {escape(note.source)}</span></p>"
    )


def _caution(caution: Caution) -> str:
    return (
        f"<p><span class='word'>{escape(caution.title)}</span><br>{escape(caution.text)}"
        f"<br><span class='quiet'>{escape(caution.source)}</span></p>"
    )
