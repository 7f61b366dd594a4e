"""Every act is kept first and told afterwards, and taken back by a further act."""

from __future__ import annotations

from dataclasses import dataclass, field

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.act import Act, Change, history_of
from tastebook.domain.errors import JournalBusy, JournalFull, JournalReadOnly, OthersAct, StaleAct, StoreError
from tastebook.domain.session import OwnDescriptor
from tastebook.services.keeping import Keeping
from tests.fakes import MORNING_UTC, FakeClock, FakeIds, FakeJournal

TROUBLES = (JournalFull("The disk is full."), JournalBusy("Another program writes."), StaleAct("Changed elsewhere."))


@dataclass
class Scene:
    """Keeping on a journal in memory, with somebody who follows and somebody who listens."""

    journal: FakeJournal = field(default_factory=FakeJournal)
    clock: FakeClock = field(default_factory=FakeClock)
    told: list[tuple[str, str]] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.keeping = Keeping(self.journal, self.clock, FakeIds("act"))
        self.keeping.listen(lambda act: self.told.append(("listener", act.label)))
        self.keeping.follow(lambda act: self.told.append(("follower", act.label)))

    def add(self, word: OwnDescriptor, label: str = "a word", scope: str = "session") -> Act:
        act = self.keeping.keep(scope, label, [Change(None, word)])
        assert act is not None
        return act


def word(name: str, family: str = "") -> OwnDescriptor:
    return OwnDescriptor(f"own-{name}", name, family, MORNING_UTC)


VELVET, TARP = word("velvet"), word("tarpaulin")


def test_what_is_kept_is_in_the_journal_with_its_moment_and_its_scope() -> None:
    scene = Scene()

    act = scene.add(VELVET, "velvet is new")

    assert scene.journal.acts("session") == (act,)
    assert (act.kind, act.label, act.at_utc, act.scope) == ("do", "velvet is new", MORNING_UTC, "session")
    assert scene.journal.own_descriptors() == (VELVET,)


def test_everyone_is_told_and_followers_come_before_listeners() -> None:
    scene = Scene()

    scene.add(VELVET)

    assert scene.told == [("follower", "a word"), ("listener", "a word")]


def test_an_act_is_on_disk_before_anybody_hears_of_it() -> None:
    scene = Scene()
    seen: list[int] = []
    scene.keeping.follow(lambda act: seen.append(len(scene.journal.acts(act.scope))))

    scene.add(VELVET)

    assert seen == [1]


def test_a_follower_finds_the_history_up_to_date() -> None:
    scene = Scene()
    seen: list[str] = []
    scene.keeping.follow(lambda act: seen.append(scene.keeping.history(act.scope).undoable[-1].uid))

    act = scene.add(VELVET)

    assert seen == [act.uid]


def test_who_no_longer_follows_is_told_nothing() -> None:
    scene = Scene()
    heard: list[str] = []

    def follower(act: Act) -> None:
        heard.append(act.label)

    scene.keeping.follow(follower)
    scene.add(VELVET)

    scene.keeping.unfollow(follower)
    scene.add(TARP)

    assert heard == ["a word"]


def test_changes_that_change_nothing_are_left_out() -> None:
    scene = Scene()
    scene.add(VELVET)

    act = scene.keeping.keep("session", "both", [Change(VELVET, VELVET), Change(None, TARP)])

    assert act is not None
    assert act.changes == (Change(None, TARP),)


def test_a_gesture_that_changes_nothing_is_no_act() -> None:
    scene = Scene()
    scene.add(VELVET)

    act = scene.keeping.keep("session", "nothing", [Change(VELVET, VELVET)])

    assert act is None
    assert len(scene.journal.acts("session")) == 1
    assert len(scene.told) == 2


@pytest.mark.parametrize("trouble", TROUBLES, ids=lambda one: type(one).__name__)
@pytest.mark.parametrize("gesture", ["keep", "undo", "redo"])
def test_nothing_happened_if_the_journal_refuses(gesture: str, trouble: StoreError) -> None:
    scene = Scene()
    scene.add(VELVET)
    scene.add(TARP)
    scene.keeping.undo("session")
    before = (scene.keeping.history("session"), scene.journal.acts("session"), list(scene.told))
    scene.journal.next_commit_fails = trouble
    gestures = {
        "keep": lambda: scene.add(word("rope")),
        "undo": lambda: scene.keeping.undo("session"),
        "redo": lambda: scene.keeping.redo("session"),
    }

    with pytest.raises(type(trouble), match=str(trouble)):
        gestures[gesture]()

    assert (scene.keeping.history("session"), scene.journal.acts("session"), scene.told) == before
    assert scene.journal.own_descriptors() == (VELVET,)


def test_a_journal_for_reading_only_keeps_nothing_and_says_why() -> None:
    scene = Scene(FakeJournal(read_only_because="A later Tastebook wrote this journal."))

    with pytest.raises(JournalReadOnly, match="A later Tastebook wrote"):
        scene.add(VELVET)

    assert scene.told == []


def test_undo_and_redo_are_further_acts_that_name_the_one_they_concern() -> None:
    scene = Scene()
    first = scene.add(VELVET)

    undone = scene.keeping.undo("session")
    redone = scene.keeping.redo("session")

    assert undone is not None
    assert redone is not None
    assert [(act.kind, act.of) for act in scene.journal.acts("session")] == [
        ("do", None),
        ("undo", first.uid),
        ("redo", first.uid),
    ]
    assert undone.changes == (Change(VELVET, None),)
    assert redone.changes == first.changes
    assert scene.journal.own_descriptors() == (VELVET,)


def test_an_act_of_several_changes_is_taken_back_from_its_end() -> None:
    scene = Scene()
    placed = word("velvet", "earthy")
    scene.keeping.keep("session", "velvet, placed", [Change(None, VELVET), Change(VELVET, placed)])

    scene.keeping.undo("session")
    gone = scene.journal.own_descriptors()
    scene.keeping.redo("session")

    assert gone == ()
    assert scene.journal.own_descriptors() == (placed,)


def test_where_there_is_nothing_to_undo_or_redo_nothing_happens() -> None:
    scene = Scene()

    assert scene.keeping.undo("session") is None
    assert scene.keeping.redo("session") is None
    assert scene.told == []


def test_each_scope_has_a_history_of_its_own() -> None:
    scene = Scene()
    scene.add(VELVET, scope="session")
    scene.add(TARP, scope="another session")

    scene.keeping.undo("session")

    assert scene.journal.own_descriptors() == (TARP,)
    assert scene.keeping.history("another session").redoable == ()


def test_histories_are_read_from_the_journal_by_the_next_run_of_the_program() -> None:
    scene = Scene()
    scene.add(VELVET)
    scene.add(TARP)
    scene.keeping.undo("session")

    next_run = Keeping(scene.journal, scene.clock, FakeIds("next"))

    assert next_run.history("session") == scene.keeping.history("session")
    next_run.redo("session")
    assert scene.journal.own_descriptors() == (TARP, VELVET)


def test_after_a_change_from_outside_the_history_is_read_anew() -> None:
    scene = Scene()
    scene.add(VELVET)
    other_window = Keeping(scene.journal, scene.clock, FakeIds("other"))
    theirs = other_window.keep("session", "theirs", [Change(None, TARP)])
    assert theirs is not None
    known_before = scene.keeping.history("session").undoable

    scene.keeping.forget()

    assert [act.label for act in known_before] == ["a word"]
    assert scene.keeping.history("session").undoable[-1] == theirs


def test_undoing_what_was_changed_elsewhere_since_is_refused() -> None:
    scene = Scene()
    scene.add(VELVET)
    other_window = Keeping(scene.journal, scene.clock, FakeIds("other"))
    other_window.keep("session", "theirs", [Change(VELVET, word("velvet", "earthy"))])

    with pytest.raises(StaleAct, match="changed elsewhere"):
        scene.keeping.undo("session")

    assert scene.journal.own_descriptors() == (word("velvet", "earthy"),)


@given(st.lists(st.sampled_from(["keep", "undo", "redo", "another run"]), max_size=30))
def test_the_history_in_memory_is_always_that_of_the_journal(gestures: list[str]) -> None:
    scene = Scene()
    keeping = scene.keeping
    for number, gesture in enumerate(gestures):
        if gesture == "keep":
            keeping.keep("session", f"word {number}", [Change(None, word(str(number)))])
        elif gesture == "another run":
            keeping = Keeping(scene.journal, scene.clock, FakeIds(f"run-{number}"))
        else:
            getattr(keeping, gesture)("session")

        assert keeping.history("session") == history_of(scene.journal.acts("session"))
        standing = {change.after for act in keeping.history("session").undoable for change in act.changes}
        assert set(scene.journal.own_descriptors()) == standing


# -- two windows


@dataclass
class TwoWindows:
    """Two keepings on one journal, opened before anything was done."""

    ours: Scene = field(default_factory=Scene)

    def __post_init__(self) -> None:
        self.theirs = Keeping(self.ours.journal, self.ours.clock, FakeIds("theirs"))
        self.ours.clock.advance(1)

    def they_add(self, word: OwnDescriptor, label: str) -> None:
        self.theirs.keep("session", label, [Change(None, word)])
        self.ours.keeping.forget()


def test_what_another_window_did_is_told_once_and_our_own_acts_never() -> None:
    two = TwoWindows()
    two.ours.add(VELVET, "ours")
    two.they_add(TARP, "theirs")

    assert [act.label for act in two.ours.keeping.from_elsewhere()] == ["theirs"]
    assert two.ours.keeping.from_elsewhere() == ()
    assert [act.label for act in two.theirs.from_elsewhere()] == ["ours"]


def test_undo_names_what_another_window_did_before_it_takes_that_back() -> None:
    two = TwoWindows()
    two.they_add(TARP, "tarpaulin is new")

    with pytest.raises(OthersAct, match="“tarpaulin is new” was done in another window"):
        two.ours.keeping.undo("session")
    assert two.ours.journal.own_descriptors() == (TARP,)

    act = two.ours.keeping.undo("session")
    assert act is not None
    assert two.ours.journal.own_descriptors() == ()


def test_an_act_of_our_own_in_between_makes_undo_ask_again() -> None:
    two = TwoWindows()
    two.they_add(TARP, "theirs")
    with pytest.raises(OthersAct):
        two.ours.keeping.undo("session")
    two.ours.add(VELVET, "ours")

    taken_back = two.ours.keeping.undo("session")
    assert taken_back is not None
    assert taken_back.label == "ours"
    with pytest.raises(OthersAct):
        two.ours.keeping.undo("session")


def test_redo_names_what_another_window_took_back() -> None:
    two = TwoWindows()
    two.ours.add(VELVET, "velvet is new")
    two.theirs.forget()
    with pytest.raises(OthersAct):
        two.theirs.undo("session")
    two.theirs.undo("session")
    two.ours.keeping.forget()

    with pytest.raises(OthersAct, match="“velvet is new” was taken back in another window"):
        two.ours.keeping.redo("session")
    assert two.ours.keeping.redo("session") is not None
    assert two.ours.journal.own_descriptors() == (VELVET,)


def test_what_was_done_before_this_window_opened_is_taken_back_without_a_word() -> None:
    two = TwoWindows()
    two.they_add(TARP, "theirs")
    two.ours.clock.advance(60)

    later = Keeping(two.ours.journal, two.ours.clock, FakeIds("later"))

    assert later.undo("session") is not None
