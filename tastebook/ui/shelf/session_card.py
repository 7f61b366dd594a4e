"""The new-session card: filled in from last time, begun with Enter."""

from __future__ import annotations

from functools import partial
from typing import Final

from PySide6.QtCore import QEvent, QObject, QSignalBlocker, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut, QShowEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from tastebook.presenters.opening import EIGHTHS, EIGHTHS_SPOKEN, OpeningPresenter, SessionCardView
from tastebook.presenters.typed import sentence
from tastebook.ui.shelf.fields import Captioned, ChoiceField, WordsField
from tastebook.ui.shelf.heading import Heading
from tastebook.ui.shelf.notice import NoticeBar
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import ActionButton, BackButton
from tastebook.ui.widgets.card import Card
from tastebook.ui.widgets.drawn import Ground
from tastebook.ui.widgets.label import Label
from tastebook.ui.widgets.scrolled import scrolled
from tastebook.ui.widgets.segmented_choice import SegmentedChoice

CARD_PX: Final = 1040
ABOVE: Final = (("purpose", 0, 2, 1), ("taster", 0, 3, 1), ("vessel", 2, 0, 2), ("volume_ml", 2, 2, 1))
BELOW: Final = (
    ("water_source", 5, 0, 1), ("water_tds_mg_l", 5, 1, 1), ("altitude_m", 5, 2, 1), ("place", 5, 3, 1),
    ("smells_nearby", 6, 0, 1), ("light", 6, 1, 1), ("wind", 6, 2, 1), ("palate", 6, 3, 1),
    ("kettle", 7, 0, 1), ("pressure_hpa", 7, 1, 1), ("vessel_at_start", 7, 2, 1), ("swallowed", 7, 3, 1),
)  # fmt: skip
"""Each field with its row, column and width in the grid; what concerns the leaf stands between."""

ENTER: Final = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class SessionCard(Ground):
    """One short card before the Bench."""

    begun = Signal(str)
    left = Signal()

    def __init__(self, themes: Themes, presenter: OpeningPresenter, parent: QWidget | None = None) -> None:
        super().__init__(themes, parent)
        self._presenter = presenter
        self.fields: dict[str, WordsField] = {}
        self.parts: dict[str, Captioned] = {}
        self.course = ChoiceField()
        self.begin = ActionButton(themes, "Begin", "Enter")
        self.notice = NoticeBar(themes)
        self._back = BackButton(themes, "Back")
        self._course_keys: tuple[str, ...] = ()
        self._heading = Heading(themes)
        self._about = Label(themes, ink="ink2", wraps=True)
        self._leaf_words = Label(themes, ink="ink2", wraps=True)
        self.setAccessibleName("New session")
        self._lay_out()
        self._connect()
        self.refresh()

    def sizeHint(self) -> QSize:
        return QSize(1440, 900)

    # -- building

    def _lay_out(self) -> None:
        view = self._presenter.view()
        for key, field in view.fields.items():
            line = WordsField()
            line.setPlaceholderText(field.example)
            self.fields[key] = line
            self.parts[key] = Captioned(self._themes, field.label, line, field.unit)
        self.leaf_by = SegmentedChoice(self._themes, ("Weighed", "By eye"), name="Leaf, weighed or by eye")
        self.fill = SegmentedChoice(self._themes, EIGHTHS, name="How full of dry leaf the vessel is")
        for segment, spoken in zip(self.fill.segments, EIGHTHS_SPOKEN, strict=True):
            segment.setAccessibleName(spoken)
        self._fill_part = Captioned(self._themes, "Vessel filled with dry leaf", self.fill)
        box = QVBoxLayout(self)
        box.setContentsMargins(12, 10, 24, 0)
        box.setSpacing(0)
        box.addLayout(self._header())
        inner = Ground(self._themes)
        middle = QHBoxLayout(inner)
        middle.setContentsMargins(24, 12, 12, 24)
        middle.addStretch(1)
        middle.addWidget(self._card(inner), 20)
        middle.addStretch(1)
        box.addWidget(scrolled(inner), 1)

    def _header(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(4)
        row.addWidget(self._back)
        row.addWidget(self._heading, 1)
        return row

    def _card(self, parent: QWidget) -> Card:
        card = Card(self._themes, parent)
        card.setMaximumWidth(CARD_PX)
        card.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Maximum)
        box = QVBoxLayout(card)
        box.setContentsMargins(24, 16, 24, 16)
        box.setSpacing(16)
        box.addWidget(self.notice)
        box.addLayout(self._grid())
        box.addSpacing(4)
        box.addWidget(self.begin)
        return card

    def _grid(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(16)
        grid.setVerticalSpacing(9)
        # In the order in which Tab goes: Qt follows the order in which widgets come to their parent.
        grid.addWidget(Captioned(self._themes, "Course", self.course), 0, 0, 1, 2)
        self._place(grid, ABOVE)
        grid.addWidget(self._about, 1, 0, 1, 4)
        grid.addWidget(Captioned(self._themes, "Leaf", self.leaf_by), 2, 3)
        grid.addWidget(self.parts["leaf_g"], 3, 0)
        grid.addWidget(self._fill_part, 3, 0, 1, 2)
        grid.addWidget(self.parts["leaf_form"], 3, 2)
        grid.addWidget(self._leaf_words, 4, 0, 1, 4)
        self._place(grid, BELOW)
        for column in range(4):
            grid.setColumnStretch(column, 1)
        return grid

    def _place(self, grid: QGridLayout, places: tuple[tuple[str, int, int, int], ...]) -> None:
        for key, row, column, width in places:
            grid.addWidget(self.parts[key], row, column, 1, width)

    def _connect(self) -> None:
        self._back.press_requested.connect(self.left)
        self.begin.press_requested.connect(self._begin)
        self.notice.dismissed.connect(self.refresh)
        self.course.activated.connect(self._choose_course)
        self.leaf_by.choice_requested.connect(self._weigh)
        self.fill.choice_requested.connect(self._fill)
        for key, field in self.fields.items():
            field.edited.connect(partial(self._edit, key))
            field.was_left.connect(partial(self._leave_field, key))
            field.taken.connect(self._begin)
        for segment in (*self.leaf_by.segments, *self.fill.segments):
            segment.installEventFilter(self)
        for keys in ("Esc", "Alt+Left"):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(self.left)

    # -- gestures

    def _edit(self, key: str, text: str) -> None:
        self._presenter.type(key, text)
        self.refresh()

    def _leave_field(self, key: str) -> None:
        self._presenter.leave(key)
        self.refresh()

    def _choose_course(self, place: int) -> None:
        self._presenter.choose_course(self._course_keys[place])
        self.refresh()

    def _weigh(self, place: int) -> None:
        self._presenter.weigh("by eye" if place else "weighed")
        self.refresh()

    def _fill(self, place: int) -> None:
        self._presenter.fill(place + 1)
        self.refresh()

    def _begin(self) -> None:
        uid = self._presenter.begin()
        if uid:
            self.begun.emit(uid)
            return
        self.refresh()
        wrong = self.fields.get(self._presenter.view().first_error)
        if wrong is not None:
            wrong.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let Enter begin from anywhere that does not need it itself."""
        if event.key() in ENTER:
            self._begin()
        else:
            super().keyPressEvent(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let Enter begin from the bars of answers too, where arrows and Space choose."""
        is_enter = isinstance(event, QKeyEvent) and event.key() in ENTER
        if is_enter and event.type() == QEvent.Type.KeyPress:
            self._begin()
        return is_enter or super().eventFilter(watched, event)

    # -- showing

    def refresh(self) -> None:
        """Show the card as it stands."""
        view = self._presenter.view()
        self._heading.show_words(view.lot, facts=view.lineage)
        self._about.setText(view.course_about)
        self.notice.show_words(view.notice)
        self._show_courses(view)
        self._show_leaf(view)
        for key, field in view.fields.items():
            self.fields[key].show_text(field.text)
            self.fields[key].offer(field.choices)
            self.parts[key].show_error(field.error)

    def _show_leaf(self, view: SessionCardView) -> None:
        by_eye = view.leaf_by == "by eye"
        self.leaf_by.show_choice(1 if by_eye else 0)
        self.fill.show_choice(None if view.fill is None else view.fill - 1)
        self.parts["leaf_g"].setVisible(not by_eye)
        self._fill_part.setVisible(by_eye)
        self.parts["leaf_form"].setVisible(by_eye and not view.known_form)
        self._leaf_words.setText(_leaf_told(view))

    def _show_courses(self, view: SessionCardView) -> None:
        self._course_keys = tuple(course.key for course in view.courses)
        names = [course.name for course in view.courses]
        with QSignalBlocker(self.course):
            if names != [self.course.itemText(place) for place in range(self.course.count())]:
                self.course.clear()
                self.course.addItems(names)
            self.course.setCurrentIndex(self._course_keys.index(view.course_key))

    def take_keyboard(self) -> None:
        """Give the keyboard to what changes most, the weight of the leaf; Enter begins from there."""
        field = self.fields["leaf_g"]
        if field.isVisibleTo(self):
            field.setFocus(Qt.FocusReason.OtherFocusReason)
            field.selectAll()
        else:
            self.begin.setFocus(Qt.FocusReason.OtherFocusReason)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.take_keyboard()


def _leaf_told(view: SessionCardView) -> str:
    if view.leaf_by != "by eye":
        return view.dose
    form = f"{view.known_form} leaf" if view.known_form else ""
    estimate = ", ".join(part for part in (sentence(view.estimate), form) if part)
    return ". ".join(part for part in (estimate, view.dose) if part)
