"""How it is told what another window did."""

from __future__ import annotations

import pytest

from tastebook.domain.act import Act, ActKind, Change
from tastebook.presenters.elsewhere import told_of
from tests.bench_kit import heron_ridge
from tests.fakes import MORNING_UTC


def act(label: str, scope: str = "session-1", kind: ActKind = "do") -> Act:
    return Act(
        label, scope, label, MORNING_UTC, (Change(None, heron_ridge()),), kind, None if kind == "do" else "other"
    )


def name(scope: str) -> str:
    return {"session-1": "Heron Ridge"}.get(scope, "")


@pytest.mark.parametrize(
    ("kind", "told"),
    [
        ("do", "Done in another window, Heron Ridge: “orchid 4”."),
        ("undo", "Taken back in another window, Heron Ridge: “orchid 4”."),
        ("redo", "Done again in another window, Heron Ridge: “orchid 4”."),
    ],
)
def test_one_act_is_told_with_its_tea(kind: ActKind, told: str) -> None:
    assert told_of([act("orchid 4", kind=kind)], name) == told


def test_of_several_the_last_is_told() -> None:
    told = told_of([act("orchid 4"), act("name: petrichor", "vocabulary")], name)

    assert told == "2 changes from another window. The last: Done in another window, in the words: “name: petrichor”."


def test_a_tea_that_is_gone_is_not_named_and_nothing_is_nothing() -> None:
    assert told_of([act("orchid 4", "session-9")], name) == "Done in another window: “orchid 4”."
    assert told_of([], name) == ""
