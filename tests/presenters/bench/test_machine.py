"""The Bench under any order of gestures: there is always something to show, and no typed word is lost."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from tastebook.domain.errors import JournalFull
from tastebook.presenters.bench.said import NOTHING
from tastebook.presenters.bench.views import BenchView
from tastebook.services.keeping import Keeping
from tastebook.services.tasting import TastingDesk
from tests.bench_kit import bench_kit, shipped_courses
from tests.fakes import FakeIds

COURSES = st.sampled_from([course.key for course in shipped_courses()])
WORDS = st.one_of(
    st.sampled_from(["orchid 4", "no rose", "wet velvet", "thick 4", "clear", "nothing", "amber", " ", "rose, "]),
    st.text(max_size=30),
)
TYPED = st.one_of(st.sampled_from(["42", "1:40", "2 min", "92 °C", "198 f", "", "-3", "abc"]), st.text(max_size=8))
FIELDS = st.sampled_from(["headline", "note", "good_infusions", "quantity_kg", "rest_until", "decision"])
DRAFTS = st.sampled_from(["", "6", "-6", "4.5", "2026-05-01", "2026-13-01", "buy", "rest until", "maybe"])


class BenchMachine(RuleBasedStateMachine):
    """Presses, types and waits in any order."""

    @initialize(course=COURSES, fahrenheit=st.booleans(), counts_up=st.booleans())
    def begin(self, course: str, fahrenheit: bool, counts_up: bool) -> None:
        self.kit = bench_kit(course=course, fahrenheit=fahrenheit, counts_up=counts_up)
        self.bench = self.kit.bench
        self.view: BenchView = self.bench.view()

    def gesture(self, do: Callable[[], object]) -> None:
        """Do something; words that stood in the say line stand there still, or were kept."""
        typed, kept = self.bench.typed, self._kept()

        do()

        self.view = self.bench.view()
        if typed.strip() and self.bench.typed != typed:
            text = typed.strip()
            assert text.casefold() in NOTHING or text in self._kept()[len(kept) :]

    def _kept(self) -> list[str]:
        """Return every saying that was ever kept, also those taken back since."""
        acts = self.kit.journal.acts(self.kit.desk.scope)
        changes = (change.after for act in acts if act.kind == "do" for change in act.changes)
        return [one.text for one in changes if type(one).__name__ == "Saying"]

    @rule(pause_s=st.sampled_from([0.1, 1, 20, 2000]))
    def pedal(self, pause_s: float) -> None:
        self.kit.clock.advance(pause_s)
        self.gesture(self.bench.pedal)

    @rule(data=st.data())
    def go_to(self, data: Any) -> None:
        key = data.draw(st.sampled_from([column.key for column in self.view.strip.columns]))
        self.gesture(lambda: self.bench.go_to(key))

    @rule(places=st.integers(-3, 3))
    def go_beside(self, places: int) -> None:
        self.gesture(lambda: self.bench.go_beside(places))

    @rule(place=st.integers(-1, 6))
    def choose_step(self, place: int) -> None:
        self.gesture(lambda: self.bench.choose_step_at(place))

    @rule(words=WORDS)
    def type_words(self, words: str) -> None:
        self.bench.type(words)
        self.bench.completions(words)
        self.gesture(lambda: None)

    @rule()
    def take_words(self) -> None:
        self.gesture(lambda: self.bench.say(self.bench.typed))

    @rule(word=st.sampled_from(["rose", "orchid", "wet-velvet"]), strength=st.integers(-1, 6))
    def note(self, word: str, strength: int) -> None:
        self.gesture(lambda: self.bench.note(word, strength))

    @rule(word=st.sampled_from(["rose", "orchid", "wet-velvet"]), clouded=st.booleans())
    def mark(self, word: str, clouded: bool) -> None:
        self.gesture(lambda: self.bench.flag_word(word, clouded, False))

    @rule(word=st.sampled_from(["rose", "orchid", "wet-velvet"]))
    def remove(self, word: str) -> None:
        self.gesture(lambda: self.bench.remove_word(word))

    @rule(scale=st.sampled_from(["body", "huigan"]), value=st.integers(-1, 6))
    def read(self, scale: str, value: int) -> None:
        self.gesture(lambda: self.bench.read(scale, value))
        self.gesture(lambda: self.bench.flag_reading(scale, True, False))

    @rule(scale=st.sampled_from(["body", "huigan"]))
    def clear(self, scale: str) -> None:
        self.gesture(lambda: self.bench.clear_reading(scale))

    @rule(family=st.sampled_from(["floral", "earthy"]))
    def press_family(self, family: str) -> None:
        self.gesture(lambda: self.bench.press_family(family))

    @rule(row=st.integers(0, 5), column=st.integers(0, 9))
    def choose_swatch(self, row: int, column: int) -> None:
        self.gesture(lambda: self.bench.choose_swatch(row, column))

    @rule(axis=st.sampled_from("Lab"), sign=st.sampled_from([-1, 1]))
    def nudge_liquor(self, axis: str, sign: int) -> None:
        self.gesture(lambda: self.bench.nudge_liquor(axis, sign))

    @rule(clarity=st.sampled_from(["clear", "murky"]))
    def choose_clarity(self, clarity: str) -> None:
        self.gesture(lambda: self.bench.choose_clarity(clarity))

    @rule(how=st.sampled_from(["press_stopwatch", "skip", "next_step", "next_infusion", "accept_long", "dismiss"]))
    def press(self, how: str) -> None:
        self.gesture(getattr(self.bench, how))

    @rule(how=st.sampled_from(["boil", "take_advice", "why"]))
    def ask_counsel(self, how: str) -> None:
        self.gesture(getattr(self.bench, how))

    @rule(how=st.sampled_from(["finish", "undo", "redo", "reread", "go_to_verdict"]))
    def go_on(self, how: str) -> None:
        self.gesture(getattr(self.bench, how))

    @rule(typed=TYPED, how=st.sampled_from(["amend_steep", "type_plan", "type_water"]))
    def type_number(self, typed: str, how: str) -> None:
        self.gesture(lambda: getattr(self.bench, how)(typed))

    @rule(how=st.sampled_from(["nudge_plan", "nudge_water"]), steps=st.sampled_from([-60, -1, 1, 60]))
    def nudge(self, how: str, steps: int) -> None:
        self.gesture(lambda: getattr(self.bench, how)(steps))

    @rule(field=FIELDS, text=DRAFTS)
    def draft(self, field: str, text: str) -> None:
        self.gesture(lambda: self.bench.draft(**{field: text}))

    @rule(seconds=st.floats(0, 3000))
    def wait(self, seconds: float) -> None:
        self.kit.clock.advance(seconds)
        self.bench.due_call()
        self.gesture(lambda: None)

    @rule()
    def fill_the_disk(self) -> None:
        self.kit.journal.next_commit_fails = JournalFull("The disk is full.")

    @rule(words=WORDS)
    def another_window_speaks(self, words: str) -> None:
        """Change the same tasting elsewhere, unseen here for now."""
        self.kit.journal.next_commit_fails = None
        keeping = Keeping(self.kit.journal, self.kit.clock, FakeIds(f"w-{len(self._kept())}-{self.kit.clock.now()}"))
        TastingDesk(keeping, self.kit.words, self.kit.desk.scope).say(
            self.kit.desk.tasting.session.course.steps[0], None, words
        )

    @rule()
    def sit_down_anew(self) -> None:
        self.bench.settle()
        if not self.bench.typed.strip():
            self.bench = self.kit.bench_at(self.kit.desk)
            self.gesture(lambda: None)

    @invariant()
    def one_column_and_one_step_are_current(self) -> None:
        if hasattr(self, "view"):
            strip, card = self.view.strip, self.view.card
            assert [column.key for column in strip.columns if column.is_current] == [self.bench.column]
            assert [tab.key for tab in card.tabs if tab.is_current] == [self.bench.step.key]

    @invariant()
    def columns_run_from_leaf_to_close_without_a_gap(self) -> None:
        if hasattr(self, "view"):
            keys = [column.key for column in self.view.strip.columns]
            assert (keys[0], keys[-1]) == ("leaf", "close")
            first = int(keys[1])
            assert keys[1:-1] == [str(index) for index in range(first, first + len(keys) - 2)]

    @invariant()
    def every_column_reads_out(self) -> None:
        if hasattr(self, "view"):
            assert all(column.accessible and column.title and column.big for column in self.view.strip.columns)

    @invariant()
    def the_timer_has_something_to_do(self) -> None:
        if hasattr(self, "view"):
            assert self.view.timer.action
            assert self.view.timer.digits


BenchMachine.TestCase.settings = settings(max_examples=50, stateful_step_count=40, deadline=None)
TestBenchUnderAnyOrder = BenchMachine.TestCase
