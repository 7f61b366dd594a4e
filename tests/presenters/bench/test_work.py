"""What is worked out at the Bench is worked out when it must be, and not at every word."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.bench_kit import Kit, bench_kit


def at_the_third(counts: list[int]) -> Kit:
    """Return a Bench before infusion 3, at which every working out of the advice is counted."""
    kit = bench_kit()
    for seconds in (5, 20, 25):
        kit.steep(seconds)
        kit.press()
    work_out: Callable[..., Any] = kit.brewing.advice

    def counted(*given: Any) -> Any:
        counts.append(1)
        return work_out(*given)

    kit.brewing.advice = counted  # type: ignore[method-assign]
    kit.bench.view()
    counts.clear()
    return kit


WORDS: dict[str, Callable[[Kit], object]] = {
    "words": lambda kit: kit.bench.say("orchid 3, no rose"),
    "strength of a word": lambda kit: kit.bench.note("orchid", 5),
    "texture": lambda kit: kit.desk.read(kit.desk.tasting.session.course.step("first_sip"), 2, "body", 4),
    "skip": lambda kit: kit.bench.skip(),
    "verdict": lambda kit: kit.bench.draft(headline="Sound."),
    "nothing": lambda kit: None,
}


@pytest.mark.parametrize("act", WORDS.values(), ids=WORDS)
def test_what_the_advice_does_not_rest_on_leaves_it_as_it_was(act: Callable[[Kit], object]) -> None:
    counts: list[int] = []
    kit = at_the_third(counts)
    advice = kit.bench.timer().advice

    act(kit)

    assert kit.bench.view().timer.advice == advice
    assert counts == []


STEEPS: dict[str, Callable[[Kit], object]] = {
    "other seconds": lambda kit: kit.desk.amend_steep(2, 60),
    "cooler water": lambda kit: kit.bench.type_water("85"),
    "another plan": lambda kit: kit.bench.type_plan("44"),
    "a boil": lambda kit: kit.bench.boil(),
    "how strong it was": lambda kit: kit.desk.read(kit.desk.tasting.session.course.steps[0], 2, "strength", 4),
}


@pytest.mark.parametrize("act", STEEPS.values(), ids=STEEPS)
def test_what_the_advice_rests_on_has_it_worked_out_once_more(act: Callable[[Kit], object]) -> None:
    counts: list[int] = []
    kit = at_the_third(counts)

    act(kit)
    for _ in range(3):
        kit.bench.view()

    assert counts == [1]
