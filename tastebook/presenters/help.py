"""Help: the keys, the words, why each step stands where it stands, and the cautions."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final, Literal, NamedTuple, TypeAlias, get_args

from tastebook.domain.caution import Caution, shown_at
from tastebook.domain.course import Course, Stage
from tastebook.domain.figures import Figure, Figures
from tastebook.domain.spelling import plain
from tastebook.domain.vocabulary import Vocabulary
from tastebook.presenters.help_terms import TERMS, Term, tasting_terms
from tastebook.services.settings import Settings

Section: TypeAlias = Literal["keys", "terms", "steps", "cautions", "figures"]

SECTIONS: Final[tuple[tuple[Section, str], ...]] = (
    ("keys", "Keys"),
    ("terms", "Words"),
    ("steps", "Steps"),
    ("cautions", "Cautions"),
    ("figures", "Figures"),
)

KeyPlace: TypeAlias = Literal["everywhere", "bench", "arc", "shelf", "lot", "words"]

PLACES: Final[dict[KeyPlace, str]] = {
    "everywhere": "Everywhere",
    "bench": "At the Bench",
    "arc": "At the Arc",
    "shelf": "On the Shelf",
    "lot": "Lot, form and new session",
    "words": "In the words",
}


@dataclass(frozen=True)
class KeyRow:
    """What some keys do in one place.

    Parameters
    ----------
    place : KeyPlace
        Where they do it.
    action : str
        Name of the act, for the screen that carries it out.
    keys : tuple of str
        The keys as `QKeySequence` reads them in portable text, such as `Alt+Left`.
    caps : tuple of str
        The keys as shown, such as `Alt ←`; several keys that belong together may share one cap, such as `1–5`.
    does : str
        What they do, in words.
    """

    place: KeyPlace
    action: str
    keys: tuple[str, ...]
    caps: tuple[str, ...]
    does: str


PEDAL: Final = "pedal"

MOVING: Final = frozenset({"PgDown", "PgUp", "Up", "Down", "Left", "Right", "Home", "End", "Return", "Enter", "Tab"})
"""Keys that go about in lists and fields: as pedals they pour only at the Bench, where nothing lies over it."""

MOST_TERMS: Final = 60
"""Words of tasting shown at once; there are hundreds, and one is looked for."""

KEYS: Final[tuple[KeyRow, ...]] = (
    KeyRow("everywhere", "show_keys", ("?",), ("?",), "these keys (while no field is being written in)"),
    KeyRow("everywhere", "show_terms", ("F1",), ("F1",), "the words, the steps and the cautions"),
    KeyRow("everywhere", "words", ("Ctrl+L",), ("Ctrl L",), "every word of tasting: found, explained, changed"),
    KeyRow(
        "everywhere", "pour", (), ("Space",),
        "pour the steep that runs; in a field with words, Ctrl Space",
    ),
    KeyRow("everywhere", "undo", ("Ctrl+Z",), ("Ctrl Z",), "take back the last act"),
    KeyRow("everywhere", "redo", ("Ctrl+Y", "Ctrl+Shift+Z"), ("Ctrl Y",), "do it again"),
    KeyRow("everywhere", "find", ("Ctrl+F",), ("Ctrl F",), "find anything ever noted; in help and words, a word"),
    KeyRow("everywhere", "leave", ("Esc",), ("Esc",), "leave the field, the sheet or the page"),
    KeyRow(
        "bench", PEDAL, ("Space", "PgDown"), ("Space", "Page Down"),
        "water on, pour, next infusion; also in the say line while it is empty",
    ),
    KeyRow("bench", "pedal_always", ("Ctrl+Space",), ("Ctrl Space",), "the same, always, even while writing"),
    KeyRow("bench", "next_infusion", ("Ctrl+N",), ("Ctrl N",), "next infusion column"),
    KeyRow("bench", "say", ("Return",), ("Enter",), "take the words"),
    KeyRow(
        "bench", "next_word", ("Tab",), ("Tab",),
        "take the word offered; else what was understood, part by part; then the next word noted",
    ),
    KeyRow("bench", "previous_word", ("Shift+Tab",), ("Shift Tab",), "part or word before"),
    KeyRow("bench", "strength", ("1", "2", "3", "4", "5"), ("1–5",), "trace, slight, clear, strong, dominant"),
    KeyRow("bench", "absent", ("0",), ("0",), "looked for, and absent"),
    KeyRow("bench", "remove", ("Del",), ("Delete",), "remove the word; a part that is only typed stays as words"),
    KeyRow("bench", "take_number", ("Alt+S",), ("Alt S",), "set the field that a number was said for"),
    KeyRow("bench", "said_here", ("Alt+H",), ("Alt H",), "what was said at this step"),
    KeyRow("bench", "meaning", (), ("F1",), "on a chosen part, a chip or a scale: what the word means"),
    KeyRow("bench", "step", tuple(f"Alt+{place}" for place in range(1, 7)), ("Alt 1–6",), "the steps of this column"),
    KeyRow("bench", "column_before", ("Alt+Left",), ("Alt ←",), "infusion before"),
    KeyRow("bench", "column_after", ("Alt+Right",), ("Alt →",), "infusion after"),
    KeyRow("bench", "water_cooler", ("[",), ("[",), "water one degree cooler"),
    KeyRow("bench", "water_hotter", ("]",), ("]",), "water one degree hotter"),
    KeyRow("bench", "plan_shorter", ("-",), ("−",), "plan 1 s shorter; at the stepper, Shift ↓ 5 s"),
    KeyRow("bench", "plan_longer", ("+", "="), ("+",), "plan 1 s longer; at the stepper, Shift ↑ 5 s"),
    KeyRow("bench", "boil", ("Alt+B",), ("Alt B",), "the kettle boils now"),
    KeyRow("bench", "why", ("Alt+W",), ("Alt W",), "why the next steep is so long; to choose another strength"),
    KeyRow("bench", "take_advice", ("Alt+A",), ("Alt A",), "take the advised time as the plan"),
    KeyRow("bench", "photo", ("Alt+P",), ("Alt P",), "a photo for this step; one may be dropped or pasted, too"),
    KeyRow("bench", "families", ("Alt+F", "F"), ("Alt F",), "the families, then arrows; F alone outside a field"),
    KeyRow("bench", "finish", ("Ctrl+Return",), ("Ctrl Enter",), "finish: to the verdict, and from there to the Arc"),
    KeyRow("bench", "move", ("Left", "Right", "Up", "Down"), ("← → ↑ ↓",), "swatches, scales, choices, a photo"),
    KeyRow("bench", "timer_only", ("F11",), ("F11",), "the timer alone, in the whole window"),
    KeyRow("arc", "infusion", ("Left", "Right", "Home", "End"), ("← →",), "infusions, from the peak on"),
    KeyRow("arc", "row", ("Up", "Down"), ("↑ ↓",), "from family to family, and on to the scales"),
    KeyRow("arc", "table", ("Ctrl+T",), ("Ctrl T",), "the same as a table; Ctrl C copies it"),
    KeyRow("arc", "page", ("Ctrl+P",), ("Ctrl P",), "the session page, as a PDF"),
    KeyRow("shelf", "move", ("Up", "Down"), ("↑ ↓",), "from lot to lot"),
    KeyRow("shelf", "next_act", ("Return",), ("Enter",), "the next act of the lot: taste, resume, write, open"),
    KeyRow("shelf", "open", ("Right",), ("→",), "open the lot’s page"),
    KeyRow("shelf", "new_lot", ("Ctrl+N",), ("Ctrl N",), "new lot"),
    KeyRow("shelf", "settings", ("Ctrl+,",), ("Ctrl ,",), "settings"),
    KeyRow("lot", "back", ("Esc", "Alt+Left"), ("Esc", "Alt ←"), "back"),
    KeyRow("lot", "accept", ("Ctrl+Return",), ("Ctrl Enter",), "add the new lot"),
    KeyRow("lot", "begin", ("Return",), ("Enter",), "begin the new session as it stands"),
    KeyRow("words", "move", ("Up", "Down"), ("↑ ↓",), "from word to word; writing finds at once"),
    KeyRow("words", "do", ("Return",), ("Enter",), "to what can be done with the word; in a form, keep it"),
    KeyRow("words", "new", ("Ctrl+N",), ("Ctrl N",), "new word"),
    KeyRow("words", "keep", ("Ctrl+Return",), ("Ctrl Enter",), "keep what the form says, from any of its fields"),
)  # fmt: skip

SHOWN_AS: Final = {"PgDown": "Page Down", "PgUp": "Page Up", "Return": "Enter", "Del": "Delete"}


def shown_key(key: str) -> str:
    """Return a key's portable name as it stands on a key cap."""
    return SHOWN_AS.get(key, key.replace("+", " ") if len(key) > 1 else key)


def keys_of(place: KeyPlace, action: str) -> tuple[str, ...]:
    """Return the keys of an act in portable text, empty if it has none."""
    return next((row.keys for row in KEYS if (row.place, row.action) == (place, action)), ())


@dataclass(frozen=True)
class KeyGroup:
    """The keys of one place."""

    title: str
    rows: tuple[KeyRow, ...]


@dataclass(frozen=True)
class StepNote:
    """Why one step stands where it stands, and what can be done when its moment has passed."""

    name: str
    why: str
    rescue: str


@dataclass(frozen=True)
class CourseNote:
    """A course: its steps by column, and where it comes from."""

    name: str
    about: str
    source: str
    notes: tuple[str, ...]
    columns: tuple[tuple[str, tuple[StepNote, ...]], ...]


@dataclass(frozen=True)
class FigureNote:
    """A number that the estimates rest on: its name, its range, what it may be set to, and where it comes from."""

    name: str
    told: str
    key: str
    bounds: str
    source: str


@dataclass(frozen=True)
class HelpView:
    """One section of the help, narrowed to what is looked for; `empty` stands there when nothing fits.

    `how` says how figures are changed, or words found.
    """

    section: Section
    typed: str
    keys: tuple[KeyGroup, ...] = ()
    terms: tuple[Term, ...] = ()
    courses: tuple[CourseNote, ...] = ()
    cautions: tuple[Caution, ...] = ()
    figures: tuple[FigureNote, ...] = ()
    how: str = ""
    empty: str = ""


COLUMNS: Final[dict[Stage, str]] = {
    "leaf": "Before water",
    "rinse": "After the rinse",
    "infusion": "Each infusion",
    "close": "At the end",
}


class HelpPresenter:
    """What the help shows.

    Parameters
    ----------
    cautions : callable
        Returns every caution.
    courses : callable
        Returns the courses whose steps are explained.
    settings : callable
        Returns the settings in force: the pedal keys are shown as they are bound.
    figures : callable
        Returns the figures in force, the user's own among them.
    own_figures : str
        Where the user's own figures stand.
    vocabulary : callable
        Returns the words of tasting, the user's own among them, or None.
    """

    def __init__(
        self,
        cautions: Callable[[], Sequence[Caution]],
        courses: Callable[[], Sequence[Course]],
        settings: Callable[[], Settings],
        figures: Callable[[], Figures] = lambda: Figures(()),
        own_figures: str = "",
        vocabulary: Callable[[], Vocabulary | None] = lambda: None,
    ) -> None:
        self._vocabulary = vocabulary
        self._looked_up: tuple[Vocabulary | None, tuple[_Looked, ...]] = (None, ())
        self._figures = figures
        self._own_figures = own_figures
        self._cautions = cautions
        self._courses = courses
        self._settings = settings
        self._section: Section = "keys"
        self._typed = ""

    def choose(self, section: Section) -> None:
        """Show another section."""
        self._section = section

    def choose_at(self, place: int) -> None:
        """Show another section, by its place from 0."""
        self._section = get_args(Section)[place]

    def find(self, typed: str) -> None:
        """Show only what has every word typed."""
        self._typed = typed

    def explain(self, word: str) -> None:
        """Show what a word means; all words if it has no entry."""
        self._section = "terms"
        self._typed = word
        self._typed = word if self._terms() else ""

    def view(self) -> HelpView:
        """Return the section as it is narrowed."""
        view = self._narrowed()
        is_empty = not (view.keys or view.terms or view.courses or view.cautions or view.figures)
        empty = f"Nothing here has “{self._typed.strip()}”. Look in another section, or with fewer letters."
        return view if not is_empty else HelpView(self._section, self._typed, empty=empty)

    def _narrowed(self) -> HelpView:
        if self._section == "keys":
            return HelpView("keys", self._typed, keys=self._key_groups())
        if self._section == "terms":
            found = self._terms()
            return HelpView("terms", self._typed, terms=found[:MOST_TERMS], how=self._how_to_find(len(found)))
        if self._section == "steps":
            return HelpView("steps", self._typed, courses=self._course_notes())
        if self._section == "figures":
            found_figures = tuple(one for one in map(_figure_note, self._figures().rows) if self._fits(*_texts(one)))
            return HelpView("figures", self._typed, figures=found_figures, how=self._how())
        cautions = shown_at(self._cautions(), "help")
        fitting = tuple(one for one in cautions if self._fits(one.title, one.text, one.source))
        return HelpView("cautions", self._typed, cautions=fitting)

    def _terms(self) -> tuple[Term, ...]:
        """Return the words that fit, those named so before those that only mention it."""
        if not plain(self._typed):
            return TERMS
        found = [one for one in self._looked() if _says(one.text, self._typed)]
        return tuple(one.term for one in sorted(found, key=lambda one: not _says(one.names, self._typed)))

    def _looked(self) -> tuple[_Looked, ...]:
        """Return every word with what is looked through; worked out once for a vocabulary."""
        vocabulary = self._vocabulary()
        known, looked = self._looked_up
        if not looked or known is not vocabulary:
            looked = tuple(map(_Looked.at, (*TERMS, *(tasting_terms(vocabulary) if vocabulary else ()))))
            self._looked_up = (vocabulary, looked)
        return looked

    def _how_to_find(self, found: int) -> str:
        if found > MOST_TERMS:
            return f"{MOST_TERMS} of {found} are shown. More letters narrow them down."
        vocabulary = self._vocabulary()
        if plain(self._typed) or vocabulary is None:
            return ""
        return (
            f"Every word of tasting is explained here as well: {len(vocabulary.descriptors)} notes and faults, the "
            "terms of the mouth, clarity and colour. Write one to find it, in English, Chinese or pinyin; "
            "Ctrl L lists and changes them."
        )

    def _key_groups(self) -> tuple[KeyGroup, ...]:
        rows = [self._bound(row) for row in KEYS]
        groups = (
            KeyGroup(title, tuple(row for row in rows if row.place == place and self._fits(row.does, *row.caps)))
            for place, title in PLACES.items()
        )
        return tuple(group for group in groups if group.rows)

    def _bound(self, row: KeyRow) -> KeyRow:
        if row.action != PEDAL:
            return row
        keys = self._settings().pedal_keys
        return KeyRow(row.place, row.action, keys, tuple(shown_key(key) for key in keys), row.does)

    def _course_notes(self) -> tuple[CourseNote, ...]:
        notes = (self._course_note(course) for course in self._courses())
        return tuple(note for note in notes if note.columns)

    def _course_note(self, course: Course) -> CourseNote:
        columns = []
        for stage, title in COLUMNS.items():
            steps = [one for one in course.steps_in(stage) if self._fits(course.name, one.name, one.why, one.rescue)]
            if steps:
                columns.append((title, tuple(StepNote(one.name, one.why, one.rescue) for one in steps)))
        return CourseNote(course.name, course.about, course.source, course.notes, tuple(columns))

    def _how(self) -> str:
        return (
            "What is estimated rests on these. To set one yourself, write its key in square brackets and below it "
            f"value = …, or low, middle and high, into {self._own_figures}; it holds from the next start on, and "
            "“tastebook check” says what is wrong with it."
        )

    def _fits(self, *texts: str) -> bool:
        return _has(self._typed, *texts)


class _Looked(NamedTuple):
    """A word with the plain text in which it is looked for."""

    term: Term
    names: str
    text: str

    @classmethod
    def at(cls, term: Term) -> _Looked:
        names = plain(f"{term.word} {term.also}")
        return cls(term, names, f"{names} {plain(term.meaning)}")


def _says(text: str, typed: str) -> bool:
    return all(word in text for word in plain(typed).split())


def _figure_note(figure: Figure) -> FigureNote:
    bounds = f"from {figure.least:g} to {figure.most:g}"
    return FigureNote(figure.name, figure.told, figure.key, bounds, figure.source)


def _texts(note: FigureNote) -> tuple[str, ...]:
    return (note.name, note.key, note.told, note.source)


def _has(typed: str, *texts: str) -> bool:
    return _says(plain(" ".join(texts)), typed)
