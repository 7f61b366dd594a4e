"""The sheet of words: what it lists and tells, and what each gesture changes. Errors stand at the field."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Final

from tastebook.domain.colour import srgb_from_lab
from tastebook.domain.errors import NameTaken, TastebookError, VocabularyError
from tastebook.domain.explaining import KINDS, Explained, every_term
from tastebook.domain.spelling import squeezed
from tastebook.domain.vocabulary import Vocabulary
from tastebook.domain.word_changes import WordBook
from tastebook.domain.word_rules import checked_about, checked_chinese, checked_names, checked_pinyin
from tastebook.presenters.words_found import Sought, found
from tastebook.presenters.words_views import (
    Act,
    FieldView,
    FormKind,
    FormView,
    Guest,
    TableView,
    WordDetail,
    WordGroup,
    WordRow,
    WordsView,
)
from tastebook.reports.wording import day, listed, local
from tastebook.services.lexicon import Lexicon
from tastebook.services.ports import WordUse
from tastebook.services.word_import import ImportPlan
from tastebook.services.word_table import parted

UNPLACED: Final = "Said, without a family"
MARKS: Final = {"own": "yours", "changed": "changed by you"}
TITLES: Final[dict[FormKind, str]] = {
    "new": "New word",
    "rename": "Rename “{}”",
    "move": "Move “{}” to a family",
    "merge": "Merge “{}” into another word",
    "name": "One more name for “{}”",
    "texts": "About “{}”",
}
KEEPS: Final[dict[FormKind, str]] = {
    "new": "Add the word",
    "rename": "Rename",
    "move": "Move",
    "merge": "Merge",
    "name": "Add the name",
    "texts": "Keep",
}
MOST_LINES_SHOWN: Final = 200


@dataclass(frozen=True)
class _Open:
    """A form that is open: what stands in its fields, and what is wrong with them."""

    kind: FormKind
    uid: str
    values: Mapping[str, str] = field(default_factory=dict)
    errors: Mapping[str, str] = field(default_factory=dict)
    taken_by: str = ""


class WordsPresenter:
    """What the sheet of words shows.

    Parameters
    ----------
    lexicon : Lexicon
        What can be done with the words.
    words : callable
        Returns the words known now.
    read_only_because : str
        Why nothing can be kept, empty if it can.
    """

    def __init__(self, lexicon: Lexicon, words: Callable[[], Vocabulary], read_only_because: str = "") -> None:
        self._lexicon = lexicon
        self._words = words
        self._read_only = read_only_because
        self._typed = ""
        self._chosen = ""
        self._form: _Open | None = None
        self._plan: tuple[str, ImportPlan] | None = None
        self._notice, self._is_trouble = "", False
        self._unknown: tuple[WordUse, ...] = ()
        self._sought: tuple[Vocabulary | None, tuple[Sought, ...]] = (None, ())

    # -- going about

    def look_again(self) -> None:
        """Look anew which words are noted."""
        self._sought = (None, ())

    def find(self, typed: str) -> None:
        """Show only what is called so, and choose what fits best."""
        self._typed = typed
        self._leave()
        ranked = found(self._all(), typed)
        if squeezed(typed):
            self._chosen = _uid(min(ranked, key=lambda one: one[1])[0].term) if ranked else ""

    def choose(self, uid: str) -> None:
        """Show one word in full."""
        if uid != self._chosen:
            self._leave()
        self._chosen = uid

    def show(self, words: str) -> None:
        """Show a word in full, by its key or its name, in the whole list."""
        self.find("")
        key = self._words().resolve(words)
        terms = [one.term for one in self._all()]
        fitting = [one for one in terms if one.key == key] or [one for one in terms if words in one.texts]
        self._chosen = _uid(fitting[0]) if fitting else ""

    def open_form(self, kind: FormKind) -> None:
        """Open a form about the chosen word, or about a new one."""
        self._say("")
        self._plan = None
        known = self._word(self._chosen)
        values = {"name": self._typed.strip() if kind == "new" and not found(self._all(), self._typed) else ""}
        if known is not None and kind != "new":
            synonyms = "; ".join(known.also)
            values = {
                "name": known.term if kind == "rename" else "",
                "family": known.family,
                "into": "",
                "synonyms": synonyms,
                "chinese": known.zh,
                "pinyin": known.pinyin,
                "about": known.about if self._has_own_meaning(known) else "",
            }
        self._form = _Open(kind, self._chosen, values)

    def leave(self) -> bool:
        """Put a form or a table away; return whether there was one."""
        was_open = self._form is not None or self._plan is not None
        self._leave()
        return was_open

    def _leave(self) -> None:
        self._form, self._plan = None, None
        self._say("")

    # -- changing words

    def keep(self, values: Mapping[str, str]) -> bool:
        """Keep what a form says; what is wrong is shown at its field. Return whether it was kept."""
        form = self._form
        if form is None:
            return False
        errors = dict(_text_errors(values)) if form.kind in ("new", "texts") else {}
        taken_by = ""
        if not errors:
            try:
                self._chosen = self._kept(form, values)
            except NameTaken as exc:
                errors, taken_by = {_blamed(form.kind, values, str(exc)): str(exc)}, exc.key
            except TastebookError as exc:
                errors = {_blamed(form.kind, values, str(exc)): str(exc)}
        if errors:
            self._form = replace(form, values=values, errors=errors, taken_by=taken_by)
            return False
        self._form, self._typed = None, "" if form.kind == "new" else self._typed
        self._say_newest()
        return True

    def _kept(self, form: _Open, values: Mapping[str, str]) -> str:
        """Keep a form and return the key of its word."""
        lexicon, key = self._lexicon, form.uid
        if form.kind == "new":
            return lexicon.add(
                values["name"], values["family"], synonyms=parted(values["synonyms"]), zh=values["chinese"],
                pinyin=values["pinyin"], about=values["about"],
            )  # fmt: skip
        if form.kind == "rename":
            lexicon.rename(key, values["name"])
        elif form.kind == "move":
            lexicon.move(key, values["family"])
        elif form.kind == "merge":
            lexicon.merge(key, self._key_called(values["into"]))
        elif form.kind == "name":
            lexicon.add_name(key, values["name"])
        else:
            lexicon.amend(
                key, synonyms=self._own_synonyms(key, values["synonyms"]), zh=values["chinese"],
                pinyin=values["pinyin"], about=values["about"],
            )  # fmt: skip
        return self._words().resolve(key)

    def _own_synonyms(self, key: str, written: str) -> tuple[str, ...]:
        """Return the synonyms written, without those that only words taken in brought."""
        book = self._lexicon.book
        guests = [book.words[one] for one in book.taken_in_by(key)]
        brought = {squeezed(text) for one in guests for text in one.terms}
        return tuple(one for one in parted(written) if squeezed(one) not in brought)

    def _key_called(self, written: str) -> str:
        if not written.strip():
            raise VocabularyError("No word was chosen. Choose one of the list.")
        called = self._words().find(written)
        if called is None:
            raise VocabularyError(f"There is no word “{written.strip()}”. Choose one of the list.")
        return called.key

    def merge_instead(self) -> None:
        """Merge the word of the form into the one that has its name already."""
        form = self._form
        if form is not None and form.taken_by:
            self._try(lambda: self._lexicon.merge(form.uid, form.taken_by))
            self._chosen = self._words().resolve(form.uid)

    def do(self, act: Act) -> None:
        """Do what needs no form to the chosen word; open the form of what does."""
        if act == "talk":
            word = self._word(self._chosen)
            self._try(lambda: self._lexicon.declare_talk(word.term if word else ""))
        elif act == "remove":
            self._try(lambda: self._lexicon.remove(self._chosen))
        else:
            self.open_form(act)

    def part(self, guest: str) -> None:
        """Let a word that was taken in stand for itself again."""
        self._try(lambda: self._lexicon.part(guest))

    def undo(self) -> None:
        """Take back the newest change of the words."""
        self._turn(self._lexicon.undo, "Taken back: {}")

    def redo(self) -> None:
        """Do again what was taken back last."""
        self._turn(self._lexicon.redo, "Done again: {}")

    def _turn(self, way: Callable[[], object], told: str) -> None:
        self._leave()
        try:
            act = way()
        except TastebookError as exc:
            self._say(str(exc), is_trouble=True)
        else:
            self._say(told.format(getattr(act, "label", "")) if act else "")

    def _try(self, gesture: Callable[[], object]) -> None:
        self._leave()
        try:
            gesture()
        except TastebookError as exc:
            self._say(str(exc), is_trouble=True)
        else:
            self._say_newest()

    # -- tables

    def table(self) -> str:
        """Return every word as CSV text."""
        return self._lexicon.written()

    def offer_table(self, name: str, content: bytes) -> None:
        """Show what the content of a CSV file would change."""
        self._leave()
        self._plan = (name, self._lexicon.plan(content))

    def take_table(self) -> None:
        """Keep all that the table shown changes."""
        if self._plan is not None:
            name, plan = self._plan
            self._try(lambda: self._lexicon.take(plan, name))

    def tell(self, words: str, *, is_trouble: bool = False) -> None:
        """Show what came of something done outside, such as a file that was written."""
        self._say(words, is_trouble=is_trouble)

    def _say(self, words: str, *, is_trouble: bool = False) -> None:
        self._notice, self._is_trouble = words, is_trouble

    def _say_newest(self) -> None:
        undoable = self._lexicon.history.undoable
        self._say(f"Kept: {undoable[-1].label}" if undoable else "")

    # -- what is seen

    def view(self) -> WordsView:
        """Return everything on the sheet."""
        history = self._lexicon.history
        ranked = found(self._all(), self._typed)
        book = self._lexicon.book
        return WordsView(
            typed=self._typed,
            count=f"{len(ranked)} of {len(self._all())}" if squeezed(self._typed) else f"{len(ranked)} words",
            groups=tuple(self._groups([one.term for one, _ in ranked], book)),
            chosen=self._chosen,
            empty="" if ranked else f"Nothing is called “{self._typed.strip()}”. Add it as a new word, or look again.",
            detail=self._detail(book),
            form=self._form_view(),
            table=self._table_view(),
            families=tuple((one.key, one.name) for one in self._words().families),
            names=tuple(one.name for one in self._words().descriptors if one.key != self._chosen),
            undo=history.undoable[-1].label if history.undoable else "",
            redo=history.redoable[-1].label if history.redoable else "",
            notice=self._notice,
            is_trouble=self._is_trouble,
            read_only=self._read_only,
        )

    def _all(self) -> tuple[Sought, ...]:
        """Return every term ready to be found: what was only said first, then the families, then the other terms."""
        known, sought = self._sought
        if known is not self._words():
            self._unknown = self._lexicon.unknown()
            said = (Explained(one.word, "note", "", key=one.descriptor) for one in self._unknown)
            sought = tuple(Sought.of(term) for term in (*said, *every_term(self._words())))
            self._sought = (self._words(), sought)
        return sought

    def _word(self, uid: str) -> Explained | None:
        return next((one.term for one in self._all() if _uid(one.term) == uid), None)

    def _groups(self, terms: list[Explained], book: WordBook) -> Iterator[WordGroup]:
        titles = {"": UNPLACED} | {one.key: one.name for one in self._words().families}
        for family, title in titles.items():
            rows = tuple(_row(one, book) for one in terms if _is_word(one) and one.family == family)
            if rows:
                yield WordGroup(title, family, rows)
        for kind, title in KINDS.items():
            rows = tuple(_row(one, book) for one in terms if one.kind == kind and not _is_word(one))
            if rows:
                yield WordGroup(title, "", rows)

    def _detail(self, book: WordBook) -> WordDetail | None:
        one = self._word(self._chosen)
        if one is None:
            return None
        guests = tuple(Guest(key, book.words[key].name) for key in book.taken_in_by(one.key)) if _is_word(one) else ()
        return WordDetail(
            uid=_uid(one),
            name=one.term,
            family=one.family,
            belongs=one.belongs or ("No family yet" if _is_word(one) else KINDS[one.kind]),
            mark=_mark(one, book),
            about=one.about,
            cause=one.cause,
            also=listed(one.also),
            chinese=" ".join(text for text in (one.zh, one.pinyin) if text),
            source=one.source or "said by you, and in no list yet",
            uses=self._uses_told(one),
            swatch=srgb_from_lab(one.lab) if one.lab else "",
            guests=guests,
            acts=self._acts(one, book),
            fixed="" if _is_word(one) else "It ships as it is: readings and charts rest on it.",
        )

    def _acts(self, one: Explained, book: WordBook) -> tuple[tuple[Act, str], ...]:
        if not _is_word(one) or self._read_only:
            return ()
        acts: list[tuple[Act, str]] = [
            ("rename", "Rename…"), ("move", "Move to family…"), ("merge", "Merge into…"), ("name", "Add a name…"),
            ("texts", "Meaning, Chinese…"),
        ]  # fmt: skip
        if one.key not in book.words:
            return (*acts[:3], ("talk", "It is no tasting word"))
        kind = book.kind_of(one.key)
        if kind == "shipped":
            return tuple(acts)
        return (*acts, ("remove", "Remove" if kind == "own" else "As it ships"))

    def _uses_told(self, one: Explained) -> str:
        if not _is_word(one):
            return ""
        uses = self._lexicon.uses(one.key)
        if uses.last_at_utc is None:
            return "Not noted yet."
        when = day(local(uses.last_at_utc, uses.utc_offset_min))
        return f"Noted {'once' if uses.times == 1 else f'{uses.times:,} times'}, last with {uses.last_lot}, {when}."

    def _has_own_meaning(self, one: Explained) -> bool:
        words = self._words()
        return words.has(one.key) and bool(words.descriptor(one.key).about)

    def _form_view(self) -> FormView | None:
        form = self._form
        if form is None:
            return None
        word = self._word(form.uid)
        host = self._words().descriptor(form.taken_by).name if form.taken_by else ""
        can_merge = form.kind == "rename" and bool(host) and form.taken_by != form.uid
        return FormView(
            kind=form.kind,
            title=TITLES[form.kind].format(word.term if word else ""),
            fields=tuple(
                replace(one, value=form.values.get(one.key, ""), error=form.errors.get(one.key, ""))
                for one in _FIELDS[form.kind]
            ),
            keep=KEEPS[form.kind],
            instead=f"Merge into “{host}”" if can_merge else "",
        )

    def _table_view(self) -> TableView | None:
        if self._plan is None:
            return None
        name, plan = self._plan
        shown = plan.changes[:MOST_LINES_SHOWN]
        more = len(plan.changes) - len(shown)
        notes = (*plan.notes, *((f"{more} more changes are not shown.",) if more else ()))
        return TableView(
            title=name,
            told=plan.told,
            troubles=tuple((f"Line {one.line}" if one.line else "The file", one.told) for one in plan.troubles),
            changes=tuple((f"Line {one.line}", one.name, one.told) for one in shown),
            notes=notes,
            can_take=plan.can_be_taken and not self._read_only,
        )


def _uid(one: Explained) -> str:
    return one.key if _is_word(one) else f"{one.kind}: {one.term}"


def _is_word(one: Explained) -> bool:
    return one.kind in ("note", "fault")


def _row(one: Explained, book: WordBook) -> WordRow:
    aside = [one.zh, "fault" if one.kind == "fault" else "", _mark(one, book)]
    told = [one.term, one.zh, *aside[1:], one.pinyin]
    return WordRow(_uid(one), one.term, ", ".join(text for text in aside if text), ", ".join(filter(None, told)))


def _mark(one: Explained, book: WordBook) -> str:
    if not _is_word(one):
        return ""
    return MARKS.get(book.kind_of(one.key), "") if one.key in book.words else "said by you"


def _text_errors(values: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Yield what is wrong with texts, each with its field."""
    checks: tuple[tuple[str, Callable[[str], object]], ...] = (
        ("synonyms", lambda written: checked_names(parted(written))),
        ("chinese", checked_chinese),
        ("pinyin", checked_pinyin),
        ("about", checked_about),
    )
    for key, check in checks:
        try:
            check(values[key])
        except VocabularyError as exc:
            yield key, str(exc)


def _blamed(kind: FormKind, values: Mapping[str, str], told: str) -> str:
    """Return the field that an error is about: the one whose text it quotes, else the form's first."""
    if kind in ("new", "texts"):
        if values["chinese"] and told.startswith(f"“{values['chinese'].strip()}”"):
            return "chinese"
        if any(told.startswith(f"“{one}”") for one in parted(values["synonyms"])):
            return "synonyms"
        if told.startswith("There is no family"):
            return "family"
    return _FIELDS[kind][0].key


_NAME: Final = FieldView("name", "Name", "")
_FAMILY: Final = FieldView("family", "Family", "", "family")
_TEXTS: Final = (
    FieldView("synonyms", "Also said", "", help="Several are parted by semicolons."),
    FieldView("chinese", "Chinese", ""),
    FieldView("pinyin", "Pinyin", "", help="With tone marks, such as lán huā xiāng, or without."),
    FieldView("about", "What it means", "", "text"),
)
_FIELDS: Final[dict[FormKind, tuple[FieldView, ...]]] = {
    "new": (_NAME, _FAMILY, *_TEXTS),
    "rename": (replace(_NAME, caption="New name", help="The old name stays understood; what was noted follows."),),
    "move": (replace(_FAMILY, help="Everything noted of it moves with it, on every chart."),),
    "merge": (
        FieldView("into", "Into", "", "word", "What was noted of both counts as one from now on; undo parts them."),
    ),
    "name": (replace(_NAME, caption="Also said", help="It will be understood as this word."),),
    "texts": _TEXTS,
}
