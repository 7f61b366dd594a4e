from __future__ import annotations

from dataclasses import replace
from typing import Any

from hypothesis import given
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from tastebook.domain.act import Act, Change, History, history_of
from tastebook.domain.session import Tasting
from tests.domain.building import MORNING_UTC, said, tasted


def _act(number: int, kind: Any = "do", of: str | None = None, changes: tuple[Change, ...] = ()) -> Act:
    return Act(f"act-{number:04d}", "session", "orchid 4", MORNING_UTC, changes, kind, of)


def _uids(acts: tuple[Act, ...]) -> list[str]:
    return [act.uid for act in acts]


def test_the_inverse_of_an_addition_is_a_removal() -> None:
    orchid = said("orchid")

    assert Change(None, orchid).inverse == Change(orchid, None)


def test_the_inverse_of_an_inverse_is_the_change_itself() -> None:
    change = Change(said("orchid", 3), said("orchid", 4))

    assert change.inverse.inverse == change


def test_an_act_can_be_taken_back() -> None:
    history = history_of([_act(1), _act(2)])

    assert _uids(history.undoable) == ["act-0001", "act-0002"]
    assert history.redoable == ()


def test_an_undone_act_can_be_done_again() -> None:
    history = history_of([_act(1), _act(2), _act(3, "undo", "act-0002")])

    assert _uids(history.undoable) == ["act-0001"]
    assert _uids(history.redoable) == ["act-0002"]


def test_acts_are_done_again_in_the_reverse_order_of_undoing() -> None:
    history = history_of([_act(1), _act(2), _act(3, "undo", "act-0002"), _act(4, "undo", "act-0001")])

    assert history.redoable[-1].uid == "act-0001"


def test_a_new_act_forgets_what_could_be_done_again() -> None:
    history = history_of([_act(1), _act(2, "undo", "act-0001"), _act(3)])

    assert _uids(history.undoable) == ["act-0003"]
    assert history.redoable == ()


def test_an_act_done_again_can_be_taken_back_again() -> None:
    history = history_of([_act(1), _act(2, "undo", "act-0001"), _act(3, "redo", "act-0001")])

    assert _uids(history.undoable) == ["act-0001"]
    assert history.redoable == ()


def test_undoing_what_was_never_done_changes_nothing() -> None:
    assert history_of([_act(1), _act(2, "undo", "act-0099")]) == history_of([_act(1)])


class AnyGestures(RuleBasedStateMachine):
    """Do, undo and redo in any order, against two plain stacks of what the tasting looked like."""

    def __init__(self) -> None:
        super().__init__()
        self.acts: list[Act] = []
        self.tasting: Tasting = tasted()
        self.before: list[Tasting] = []
        self.undone: list[Tasting] = []

    @property
    def history(self) -> History:
        return history_of(self.acts)

    def _keep(self, kind: str, changes: tuple[Change, ...], of: str | None = None) -> None:
        self.acts.append(_act(len(self.acts), kind, of, changes))
        self.tasting = self.tasting.after((one.before, one.after) for one in changes)

    @rule(word=st.sampled_from(["orchid", "jasmine", "toasted rice"]), intensity=st.integers(0, 5))
    def says(self, word: str, intensity: int) -> None:
        self.before.append(self.tasting)
        self.undone.clear()
        self._keep("do", (Change(None, said(word, intensity, 1)),))

    @precondition(lambda self: self.tasting.impressions)
    @rule(data=st.data(), intensity=st.integers(0, 5))
    def amends(self, data: st.DataObject, intensity: int) -> None:
        noted = data.draw(st.sampled_from(self.tasting.impressions))
        self.before.append(self.tasting)
        self.undone.clear()
        self._keep("do", (Change(noted, replace(noted, intensity=intensity)),))

    @precondition(lambda self: len(self.tasting.impressions) > 1)
    @rule()
    def removes_two_at_once(self) -> None:
        self.before.append(self.tasting)
        self.undone.clear()
        self._keep("do", tuple(Change(noted, None) for noted in self.tasting.impressions[:2]))

    @precondition(lambda self: self.before)
    @rule()
    def undoes(self) -> None:
        last = self.history.undoable[-1]
        self.undone.append(self.tasting)
        expected = self.before.pop()
        self._keep("undo", tuple(change.inverse for change in reversed(last.changes)), last.uid)
        assert self.tasting == expected

    @precondition(lambda self: self.undone)
    @rule()
    def does_again(self) -> None:
        last = self.history.redoable[-1]
        self.before.append(self.tasting)
        expected = self.undone.pop()
        self._keep("redo", last.changes, last.uid)
        assert self.tasting == expected

    @invariant()
    def there_is_as_much_to_undo_and_redo_as_was_done(self) -> None:
        assert len(self.history.undoable) == len(self.before)
        assert len(self.history.redoable) == len(self.undone)


TestAnyGestures = AnyGestures.TestCase


@given(st.lists(st.sampled_from(["do", "undo", "redo"]), max_size=30))
def test_no_act_is_to_be_undone_and_redone_at_once(kinds: list[str]) -> None:
    history = History()

    for number, kind in enumerate(kinds):
        stack = {"undo": history.undoable, "redo": history.redoable}.get(kind, ())
        if kind == "do" or stack:
            history = history.after(_act(number, kind, stack[-1].uid if stack else None))

    assert not set(_uids(history.undoable)) & set(_uids(history.redoable))
    assert len(set(_uids(history.undoable))) == len(history.undoable)
