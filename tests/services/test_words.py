"""The words known now: those that ship and the taster's own."""

from __future__ import annotations

from tastebook.domain.act import Change
from tastebook.domain.session import OwnDescriptor
from tastebook.services.words import Words
from tests.bench_kit import bench_kit, heron_ridge
from tests.fakes import FakeJournal
from tests.words import real_vocabulary


class CountingJournal(FakeJournal):
    """Counts how often the words are read."""

    reads = 0

    def own_descriptors(self) -> tuple[OwnDescriptor, ...]:
        self.reads += 1
        return super().own_descriptors()


def test_without_words_of_ones_own_the_words_are_those_that_ship() -> None:
    words = Words(real_vocabulary(), FakeJournal())

    assert [one.key for one in words().descriptors] == [one.key for one in real_vocabulary().descriptors]


def test_a_word_that_was_placed_is_known_from_then_on() -> None:
    kit = bench_kit()
    before = kit.words().find("wet velvet")

    kit.desk.place_word("wet velvet", "earthy")

    known = kit.words().find("wet velvet")
    assert before is None
    assert known is not None
    assert known.family == "earthy"


def test_a_word_that_was_taken_back_is_forgotten() -> None:
    kit = bench_kit()
    kit.desk.place_word("wet velvet", "earthy")

    kit.desk.undo()

    assert kit.words().find("wet velvet") is None


def test_words_kept_in_earlier_runs_are_known_from_the_start() -> None:
    kit = bench_kit()
    kit.desk.place_word("wet velvet", "earthy")

    next_run = Words(real_vocabulary(), kit.journal)

    known = next_run().find("wet velvet")
    assert known is not None
    assert known.family == "earthy"


def test_words_of_another_window_are_known_once_they_are_read_anew() -> None:
    kit = bench_kit()
    here = Words(real_vocabulary(), kit.journal)  # follows nobody, as if the act came from another window
    kit.desk.place_word("rain on slate", "mineral")
    before = here().find("rain on slate")

    here.reread()

    assert before is None
    assert here().find("rain on slate") is not None


def test_acts_that_concern_no_words_read_nothing() -> None:
    journal = CountingJournal()
    words = Words(real_vocabulary(), journal)
    kit = bench_kit()
    act = kit.keeping.keep("lot", "a lot", [Change(None, heron_ridge())])
    assert act is not None
    vocabulary = words()

    words.take(act)

    assert words() is vocabulary
    assert journal.reads == 1
