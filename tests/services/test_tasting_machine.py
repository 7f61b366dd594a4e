"""A tasting under any order of gestures, clocks, restarts and second windows."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from datetime import date
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from tastebook.domain.act import Act
from tastebook.domain.catching import step_state
from tastebook.domain.course import Step
from tastebook.domain.errors import JournalFull, OthersAct, TastebookError
from tastebook.domain.liquor import chart
from tastebook.services.keeping import Keeping
from tastebook.services.tasting import TastingDesk
from tastebook.services.words import Words
from tests.bench_kit import bench_kit, shipped_courses
from tests.fakes import FakeIds
from tests.words import real_vocabulary

COURSES = st.sampled_from([course.key for course in shipped_courses()])
INDICES = st.integers(0, 4)
WORDS = st.one_of(
    st.sampled_from(
        ["orchid 4", "no rose", "rose 2, rose 5", "wet velvet", "thick 4, silky", "clear", "amber", "white peach!", "0"]
    ),
    st.text(max_size=40),
)
NUMBERS = st.integers(0, 99)


def asked_twice(turn: Callable[[], Act | None]) -> Act | None:
    """Undo or redo; where it is another window's act, the first gesture only says so."""
    try:
        return turn()
    except OthersAct:
        return turn()


class TastingMachine(RuleBasedStateMachine):
    """Does whatever a taster, a clock or a power cut may do."""

    @initialize(course=COURSES)
    def begin(self, course: str) -> None:
        kit = bench_kit(course=course)
        self.journal, self.clock = kit.journal, kit.clock
        self.uid = kit.desk.scope
        self.began = kit.desk.tasting
        self.runs = 0
        self.sit_down()

    @rule()
    def sit_down(self) -> None:
        """Open the program anew on the same journal."""
        self.runs += 1
        self.keeping = Keeping(self.journal, self.clock, FakeIds(f"run-{self.runs}"))
        self.words = Words(real_vocabulary(), self.journal)
        self.keeping.follow(self.words.take)
        self.desk = TastingDesk(self.keeping, self.words, self.uid)

    def gesture(self, do: Callable[[], object]) -> None:
        """Do something that may be refused; it is one act or none, and nothing changes without an act."""
        acts, tasting = self.journal.acts(self.uid), self.desk.tasting
        refusal = ""
        try:
            do()
        except TastebookError as exc:
            refusal = str(exc)
        new = self.journal.acts(self.uid)[len(acts) :]
        assert len(new) <= (0 if refusal else 1)
        assert new or self.desk.tasting == tasting
        assert not refusal or refusal.endswith((".", "?"))

    def step(self, number: int) -> Step:
        steps = self.began.session.course.steps
        return steps[number % len(steps)]

    # -- the steep

    @rule(index=INDICES)
    def water_on(self, index: int) -> None:
        self.gesture(lambda: self.desk.pour_water_on(index))

    @rule()
    def pour(self) -> None:
        self.gesture(self.desk.pour)

    @rule(index=INDICES, seconds=st.one_of(st.floats(-10, 200_000), st.just(float("nan"))))
    def amend(self, index: int, seconds: float) -> None:
        self.gesture(lambda: self.desk.amend_steep(index, seconds))

    @rule(index=INDICES, seconds=st.integers(-5, 400))
    def plan(self, index: int, seconds: int) -> None:
        self.gesture(lambda: self.desk.plan(index, seconds))

    @rule(index=INDICES, temp_c=st.floats(-5, 120), measured=st.booleans())
    def water(self, index: int, temp_c: float, measured: bool) -> None:
        set_or_read = self.desk.measure_water if measured else self.desk.set_water
        self.gesture(lambda: set_or_read(index, temp_c))

    @rule(index=INDICES)
    def boil(self, index: int) -> None:
        self.gesture(lambda: self.desk.mark_boil(index))

    # -- what is perceived

    @rule(number=NUMBERS, index=INDICES, words=WORDS)
    def say(self, number: int, index: int, words: str) -> None:
        self.gesture(lambda: self.desk.say(self.step(number), index, words))

    @rule(number=NUMBERS, index=INDICES, word=st.sampled_from(["rose", "orchid", "wet-velvet"]), i=st.integers(-1, 6))
    def note(self, number: int, index: int, word: str, i: int) -> None:
        self.gesture(lambda: self.desk.note(self.step(number), index, word, i))

    @precondition(lambda self: self.desk.tasting.impressions)
    @rule(data=st.data())
    def flag(self, data: Any) -> None:
        one = data.draw(st.sampled_from(self.desk.tasting.impressions))
        self.gesture(lambda: self.desk.flag(one.uid, clouded=not one.clouded))

    @precondition(lambda self: self.desk.tasting.impressions)
    @rule(data=st.data())
    def remove(self, data: Any) -> None:
        one = data.draw(st.sampled_from(self.desk.tasting.impressions))
        self.gesture(lambda: self.desk.remove(one.uid))

    @rule(number=NUMBERS, index=INDICES, scale=st.sampled_from(["body", "grip", "finish_length_s"]), value=st.floats())
    def read(self, number: int, index: int, scale: str, value: float) -> None:
        self.gesture(lambda: self.desk.read(self.step(number), index, scale, value))

    @rule(number=NUMBERS, index=INDICES, scale=st.sampled_from(["body", "grip"]))
    def clear(self, number: int, index: int, scale: str) -> None:
        self.gesture(lambda: self.desk.clear_reading(self.step(number), index, scale))

    @rule(number=NUMBERS, index=INDICES, row=st.integers(0, 5), column=st.integers(0, 9))
    def see(self, number: int, index: int, row: int, column: int) -> None:
        self.gesture(lambda: self.desk.see_liquor(self.step(number), index, chart()[row][column], "chart"))

    @rule(number=NUMBERS, index=INDICES, clarity=st.sampled_from(["brilliant", "turbid", "murky"]))
    def see_clarity(self, number: int, index: int, clarity: str) -> None:
        self.gesture(lambda: self.desk.see_clarity(self.step(number), index, clarity))

    @rule(name=st.sampled_from(["wet velvet", "Wet Velvet", "rain"]), family=st.sampled_from(["earthy", "woody"]))
    def place(self, name: str, family: str) -> None:
        self.gesture(lambda: self.desk.place_word(name, family))

    # -- the way through

    @rule(number=NUMBERS, index=INDICES, how=st.sampled_from(["skip", "finish_step", "unmark"]))
    def mark(self, number: int, index: int, how: str) -> None:
        self.gesture(lambda: getattr(self.desk, how)(self.step(number), index))

    @rule(decision=st.sampled_from(["", "buy", "rest until", "decline", "maybe"]), days=st.integers(0, 3))
    def decide(self, decision: str, days: int) -> None:
        rest = date(2026, 6, days) if days else None
        self.gesture(lambda: self.desk.decide(replace(self.desk.verdict(), decision=decision, rest_until=rest)))

    @rule()
    def close(self) -> None:
        self.gesture(self.desk.close)

    @rule()
    def reopen(self) -> None:
        self.gesture(self.desk.reopen)

    @rule()
    def undo(self) -> None:
        self.gesture(self.desk.undo)

    @rule()
    def redo(self) -> None:
        self.gesture(self.desk.redo)

    # -- what happens around it

    @rule(seconds=st.floats(0.001, 4000))
    def wait(self, seconds: float) -> None:
        self.clock.advance(seconds)

    @rule(seconds=st.integers(-100_000, 100_000))
    def set_the_wall_clock(self, seconds: int) -> None:
        self.clock.step_wall(seconds)

    @rule(seconds=st.integers(0, 100_000))
    def sleep(self, seconds: int) -> None:
        self.clock.sleep(seconds)

    @rule()
    def restart_the_machine(self) -> None:
        self.clock.reboot()
        self.sit_down()

    @rule(words=WORDS)
    def the_disk_is_full(self, words: str) -> None:
        before = self.desk.tasting
        self.journal.next_commit_fails = JournalFull("The disk is full.")
        with suppress(JournalFull):
            self.desk.say(self.began.session.course.steps[0], None, words)
        if self.journal.next_commit_fails is None:
            assert self.desk.tasting == before
        self.journal.next_commit_fails = None

    @rule(words=WORDS)
    def another_window_speaks(self, words: str) -> None:
        keeping = Keeping(self.journal, self.clock, FakeIds(f"window-{len(self.journal.acts(self.uid))}"))
        TastingDesk(keeping, self.words, self.uid).say(self.began.session.course.steps[0], None, words)
        self.keeping.forget()
        self.desk.reread()

    # -- what holds all the while

    @invariant()
    def memory_is_what_the_journal_holds(self) -> None:
        assert self.desk.tasting == self.journal.tasting(self.uid)

    @invariant()
    def no_time_in_water_is_negative(self) -> None:
        assert all(cup.actual_ms is None or cup.actual_ms >= 0 for cup in self.desk.tasting.infusions)

    @invariant()
    def at_most_one_infusion_steeps(self) -> None:
        assert sum(cup.is_steeping for cup in self.desk.tasting.infusions) <= 1

    @invariant()
    def every_act_has_a_name(self) -> None:
        assert all(act.label.strip() for act in self.journal.acts(self.uid))

    @invariant()
    def every_step_stands_somewhere(self) -> None:
        now = self.clock.now()
        for step in self.began.session.course.steps:
            for index in (None, 0, 3):
                assert step_state(self.desk.tasting, step, index, now)

    def teardown(self) -> None:
        """Undo everything: that leads back to the tasting as it began."""
        if not hasattr(self, "desk"):
            return
        while asked_twice(self.desk.undo) is not None:
            pass
        assert self.desk.tasting == self.began == self.journal.tasting(self.uid)
        while asked_twice(self.desk.redo) is not None:
            pass
        self.memory_is_what_the_journal_holds()


TastingMachine.TestCase.settings = settings(max_examples=60, stateful_step_count=40, deadline=None)
TestTastingUnderAnyOrder = TastingMachine.TestCase
