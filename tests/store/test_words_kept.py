"""Words of one's own and changed ones in a journal on disk: known again when it is opened again."""

from __future__ import annotations

from pathlib import Path

from tastebook.services.keeping import Keeping
from tastebook.services.lexicon import Lexicon
from tastebook.services.words import Words
from tastebook.store.checking import check
from tastebook.store.journal import SqliteJournal, open_journal
from tests.fakes import FakeClock, FakeIds
from tests.store.building import act, begun, impression
from tests.words import real_vocabulary


def _lexicon(journal: SqliteJournal, clock: FakeClock, beginning: str) -> tuple[Lexicon, Words]:
    keeping = Keeping(journal, clock, FakeIds(beginning))
    words = Words(real_vocabulary(), journal)
    keeping.follow(words.take)
    return Lexicon(keeping, words), words


def test_every_kind_of_change_is_there_again_and_can_still_be_taken_back(path: Path, clock: FakeClock) -> None:
    journal = open_journal(path, clock)
    journal.commit(begun())
    journal.commit(act("act-2", (None, impression("impression-1", descriptor="white-peach", word="white peach"))))
    lexicon, words = _lexicon(journal, clock, "a")
    lexicon.add("tarred hemp", "woody", synonyms=["quay rope"], zh="焦麻", pinyin="jiāo má", about="Two\nlines.")
    lexicon.rename("orchid", "moth orchid")
    lexicon.merge("white-peach", "peach")
    lexicon.declare_talk("by the way")
    before, table = words(), lexicon.written()
    journal.close()

    again = open_journal(path, clock)
    lexicon, words = _lexicon(again, clock, "b")

    assert words().descriptors == before.descriptors
    assert (dict(words().merged), words().talk) == (dict(before.merged), before.talk)
    assert lexicon.written() == table
    assert lexicon.uses("peach").times == 1
    lexicon.undo()
    lexicon.undo()
    assert words().resolve("white-peach") == "white-peach"
    again.close()
    assert check(path) == ()
