"""The words as the user changes them: one gesture, one act; a table comes back as it went, or not at all."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tastebook.domain.act import Change
from tastebook.domain.arc import arcs
from tastebook.domain.errors import JournalFull, NameTaken, StaleAct, VocabularyError
from tastebook.domain.own_words import read_now
from tastebook.domain.session import OwnDescriptor
from tastebook.domain.vocabulary import Vocabulary
from tastebook.services.lexicon import SCOPE, Lexicon, Uses
from tastebook.services.word_table import COLUMNS, written
from tests.bench_kit import Kit, bench_kit
from tests.fakes import MORNING_UTC

KEYS = ("orchid", "jasmine", "peach", "white-peach", "warm-butter", "tar", "boat-varnish")


@dataclass
class Scene:
    """A Bench, and the words."""

    kit: Kit = field(default_factory=bench_kit)

    def __post_init__(self) -> None:
        self.lexicon = Lexicon(self.kit.keeping, self.kit.words)

    @property
    def words(self) -> Vocabulary:
        return self.kit.words()

    def labels(self) -> list[str]:
        return [act.label for act in self.kit.journal.acts(SCOPE)]

    def say(self, words: str, infusion: int = 1) -> None:
        """Say something of the flavour of an infusion."""
        self.kit.desk.say(self.kit.desk.tasting.session.course.step("flavour"), infusion, words)

    def words_written(self) -> list[tuple[object, ...]]:
        return [(one.key, one.name, one.family, one.synonyms, one.zh, one.about) for one in self.words.descriptors]


@pytest.fixture
def scene() -> Scene:
    return Scene()


def _csv(*rows: dict[str, str]) -> bytes:
    return written(rows).encode()


# -- gestures


def test_each_gesture_is_one_act_in_a_history_of_its_own(scene: Scene) -> None:
    key = scene.lexicon.add("boat varnish", "woody", about="Resin and sun.")
    scene.lexicon.rename(key, "yacht varnish")
    scene.lexicon.move(key, "earthy")
    scene.lexicon.add_name(key, "deck oil")
    scene.lexicon.amend(key, zh="船漆", pinyin="chuán qī")
    scene.lexicon.merge("white-peach", "peach")
    scene.lexicon.part("white-peach")
    scene.lexicon.declare_talk("by the way")

    assert scene.labels() == [
        "new word “boat varnish”",
        "“boat varnish” is now “yacht varnish”",
        "“yacht varnish” is earthy",
        "about “yacht varnish”",
        "about “yacht varnish”",
        "“white peach” merged into “peach”",
        "“white peach” stands for itself",
        "“by the way” is talk",
    ]
    one = scene.words.descriptor(key)
    assert (one.name, one.family, one.zh, one.about) == ("yacht varnish", "earthy", "船漆", "Resin and sun.")
    assert set(one.synonyms) == {"boat varnish", "deck oil"}
    assert scene.words.is_talk("by the way")


def test_what_was_noted_under_the_old_name_is_shown_under_the_new(scene: Scene) -> None:
    scene.lexicon.add("boat varnish", "woody")
    scene.say("boat varnish 4")

    scene.lexicon.rename("boat-varnish", "yacht varnish")
    scene.say("boat varnish 3", infusion=2)

    assert {one.descriptor for one in scene.kit.desk.tasting.impressions} == {"boat-varnish"}
    assert scene.kit.desk.word_for("boat-varnish") == "yacht varnish"


def test_merged_words_are_one_word_on_the_arc_and_at_the_bench(scene: Scene) -> None:
    scene.say("white peach 4, peach 2")
    before = scene.kit.desk.tasting

    scene.lexicon.merge("white-peach", "peach")

    (arc,) = arcs(read_now(scene.kit.desk.tasting, scene.words), scene.words.family_of)
    assert scene.kit.desk.tasting == before
    assert (arc.descriptor, arc.strengths) == ("peach", (4.0,))


@pytest.mark.parametrize("words", ["peach 3, white peach 2", "white peach 2, peach 3", "white peach 3. And peach, 2."])
def test_two_words_merged_into_one_and_said_in_one_breath_keep_the_stronger(scene: Scene, words: str) -> None:
    scene.lexicon.merge("white-peach", "peach")

    scene.say(words)

    assert [(one.descriptor, one.intensity) for one in scene.kit.desk.tasting.impressions] == [("peach", 3)]


def test_a_merged_word_said_again_and_set_right_is_what_was_said_last(scene: Scene) -> None:
    scene.lexicon.merge("white-peach", "peach")

    scene.say("peach 4, no, peach 2")

    assert [one.intensity for one in scene.kit.desk.tasting.impressions] == [2]


def test_setting_a_merged_word_at_the_bench_leaves_none_that_outshines_it(scene: Scene) -> None:
    scene.say("white peach 4, peach 2")
    scene.lexicon.merge("white-peach", "peach")
    step = scene.kit.desk.tasting.session.course.step("flavour")

    scene.kit.desk.note(step, 1, "peach", 3)

    assert max(one.intensity for one in scene.kit.desk.tasting.impressions) == 3
    assert len(scene.kit.desk.tasting.impressions) == 2


def test_a_merged_word_is_one_chip_and_is_taken_away_in_one_act(scene: Scene) -> None:
    bench = scene.kit.bench
    scene.kit.steep(5)
    scene.kit.steep(20)
    bench.go_to("1")
    bench.choose_step("flavour")
    bench.type("white peach 4, peach 2")
    bench.say("white peach 4, peach 2")
    scene.lexicon.merge("white-peach", "peach")
    chips = [(chip.word, chip.intensity) for group in bench.card().sheet.groups for chip in group.chips]  # type: ignore[union-attr]
    acts = len(scene.kit.journal.acts(scene.kit.desk.scope))

    bench.remove_word("peach")

    assert chips == [("peach", 4)]
    assert scene.kit.desk.tasting.impressions == ()
    assert len(scene.kit.journal.acts(scene.kit.desk.scope)) == acts + 1


@pytest.mark.parametrize(
    "gesture",
    [
        lambda lexicon: lexicon.rename("orchid", "moth orchid"),
        lambda lexicon: lexicon.move("orchid", "woody"),
        lambda lexicon: lexicon.merge("orchid", "jasmine"),
        lambda lexicon: lexicon.amend("orchid", about="Cool."),
        lambda lexicon: lexicon.add("boat varnish"),
        lambda lexicon: lexicon.declare_talk("by the way"),
        lambda lexicon: lexicon.take(lexicon.plan(b"name,family\nboat varnish,woody\nquay,woody\n"), "words.csv"),
    ],
)
def test_every_gesture_is_taken_back_whole_and_done_again(scene: Scene, gesture: Callable[[Lexicon], object]) -> None:
    before = (scene.words_written(), scene.words.merged, scene.words.talk)
    gesture(scene.lexicon)
    after = (scene.words_written(), scene.words.merged, scene.words.talk)

    scene.lexicon.undo()
    undone = (scene.words_written(), scene.words.merged, scene.words.talk)
    scene.lexicon.redo()

    assert undone == before != after
    assert (scene.words_written(), scene.words.merged, scene.words.talk) == after


def test_what_is_refused_keeps_nothing(scene: Scene) -> None:
    with pytest.raises(NameTaken):
        scene.lexicon.rename("orchid", "jasmine")
    with pytest.raises(VocabularyError):
        scene.lexicon.merge("orchid", "orchid")

    assert scene.labels() == []


def test_a_full_disk_keeps_nothing_and_says_so(scene: Scene) -> None:
    scene.kit.journal.next_commit_fails = JournalFull("The disk is full.")

    with pytest.raises(JournalFull):
        scene.lexicon.rename("orchid", "moth orchid")

    assert scene.words.descriptor("orchid").name == "orchid"


def test_changing_nothing_keeps_nothing(scene: Scene) -> None:
    scene.lexicon.rename("orchid", "orchid")
    scene.lexicon.move("orchid", "floral")
    scene.lexicon.amend("orchid", zh=scene.words.descriptor("orchid").zh)

    assert scene.labels() == []


# -- removing


def test_an_unused_word_of_ones_own_is_removed(scene: Scene) -> None:
    key = scene.lexicon.add("boat varnish")

    scene.lexicon.remove(key)

    assert not scene.words.has(key)


def test_a_word_that_is_noted_is_not_removed_and_it_is_said_where_it_is(scene: Scene) -> None:
    key = scene.lexicon.add("boat varnish", "woody")
    scene.say("boat varnish 4")
    scene.say("boat varnish 3", infusion=2)

    with pytest.raises(VocabularyError, match=r"noted 2 times in one session, last with Heron Ridge.*Merge it into"):
        scene.lexicon.remove(key)


def test_a_host_is_not_removed_from_under_its_guests(scene: Scene) -> None:
    key = scene.lexicon.add("boat varnish", "woody")
    scene.lexicon.merge("orchid", key)

    with pytest.raises(VocabularyError, match="took in “orchid”"):
        scene.lexicon.remove(key)


def test_a_word_that_ships_is_not_removed_but_may_be_as_it_ships_again(scene: Scene) -> None:
    with pytest.raises(VocabularyError, match="“orchid” ships with Tastebook"):
        scene.lexicon.remove("orchid")
    scene.lexicon.rename("orchid", "moth orchid")

    scene.lexicon.remove("orchid")

    assert scene.words.descriptor("orchid").name == "orchid"


def test_talk_that_is_removed_is_offered_again(scene: Scene) -> None:
    scene.lexicon.declare_talk("by the way")

    scene.lexicon.remove("by-the-way")

    assert not scene.words.is_talk("by the way")


# -- uses


def test_uses_are_counted_under_the_word_of_now(scene: Scene) -> None:
    scene.say("white peach 4, peach 2, orchid 1")
    scene.lexicon.merge("white-peach", "peach")

    peach, orchid, jasmine = map(scene.lexicon.uses, ("peach", "orchid", "jasmine"))

    assert (peach.times, orchid.times) == (2, 1)
    assert peach.last_lot == "Heron Ridge, spring roast"
    assert jasmine == Uses()


def test_words_said_that_nobody_knows_are_told_with_their_uses(scene: Scene) -> None:
    scene.say("wet velvet 3")
    merged_before = [one.word for one in scene.lexicon.unknown()]

    scene.lexicon.add("wet velvet", "earthy")

    assert merged_before == ["wet velvet"]
    assert scene.lexicon.unknown() == ()


def test_a_word_only_said_so_far_is_placed_renamed_or_merged_like_any_other(scene: Scene) -> None:
    scene.say("wet velvet 3")

    scene.lexicon.rename("wet-velvet", "damp velvet")
    scene.lexicon.move("wet-velvet", "earthy")
    scene.lexicon.merge("wet-velvet", "moss")

    assert scene.words.resolve("wet-velvet") == "moss"
    assert scene.labels()[0] == "“wet velvet” is now “damp velvet”"


# -- tables


def test_the_table_has_every_word_and_says_what_it_is(scene: Scene) -> None:
    scene.lexicon.add("boat varnish", "woody")
    scene.lexicon.rename("orchid", "moth orchid")
    scene.lexicon.declare_talk("by the way")

    text = scene.lexicon.written()

    assert text.startswith("\ufeff" + ",".join(COLUMNS))
    assert "boat-varnish,boat varnish,woody,,,,,,own\r\n" in text
    assert "orchid,moth orchid,floral," in text
    assert "by-the-way,by the way,,,,,,,talk\r\n" in text
    assert text.count("\n") == 1 + len(scene.words.descriptors) + 1


names = st.text(max_size=10)
gestures = st.one_of(
    st.tuples(st.just("add"), names),
    st.tuples(st.just("rename"), st.sampled_from(KEYS), names),
    st.tuples(st.just("move"), st.sampled_from(KEYS), st.sampled_from(["woody", "floral"])),
    st.tuples(st.just("merge"), st.sampled_from(KEYS), st.sampled_from(KEYS)),
    st.tuples(st.just("part"), st.sampled_from(KEYS)),
    st.tuples(st.just("add_name"), st.sampled_from(KEYS), names),
    st.tuples(st.just("declare_talk"), names),
    st.tuples(st.just("undo")),
)


@settings(max_examples=30)
@example([("declare_talk", "by the way"), ("rename", "orchid", "by the way")])
@given(st.lists(gestures, max_size=6))
def test_whatever_was_changed_its_table_changes_nothing(done: list[tuple[str, ...]]) -> None:
    scene = Scene()
    scene.lexicon.add("boat varnish", "woody", synonyms=["=deck", "-oil"], about="Resin;\nsun, “salt”.")
    for gesture, *given_words in done:
        with suppress(VocabularyError):
            getattr(scene.lexicon, gesture)(*given_words)

    plan = scene.lexicon.plan(scene.lexicon.written().encode())

    assert plan.troubles == ()
    assert plan.changes == ()


@settings(max_examples=25)
@given(st.lists(gestures, max_size=8))
def test_taking_everything_back_leaves_the_words_as_they_ship(done: list[tuple[str, ...]]) -> None:
    scene = Scene()
    before = (scene.words_written(), scene.words.merged, scene.words.talk)
    for gesture, *given_words in done:
        with suppress(VocabularyError):
            getattr(scene.lexicon, gesture)(*given_words)

    while scene.lexicon.undo():
        pass

    assert (scene.words_written(), scene.words.merged, scene.words.talk) == before
    assert scene.kit.journal.own_descriptors() == ()


@settings(max_examples=15)
@given(st.lists(gestures, max_size=6))
def test_a_table_makes_another_journal_know_the_same_words(done: list[tuple[str, ...]]) -> None:
    here, there = Scene(), Scene()
    for gesture, *given_words in done:
        with suppress(VocabularyError):
            getattr(here.lexicon, gesture)(*given_words)

    there.lexicon.take(there.lexicon.plan(here.lexicon.written().encode()), "words.csv")

    assert sorted(there.lexicon.written().splitlines()) == sorted(here.lexicon.written().splitlines())
    assert dict(there.words.merged) == dict(here.words.merged)


def test_a_table_is_tried_first_and_kept_whole_in_one_act(scene: Scene) -> None:
    table = _csv(
        {"name": "boat varnish", "family": "Woody", "synonyms": "deck oil; yacht paint", "chinese": "船漆"},
        {"key": "orchid", "name": "moth orchid"},
        {"name": "white peach", "merged into": "peach"},
        {"name": "by the way", "kind": "talk"},
        {"key": "tar", "name": "tar"},
    )

    plan = scene.lexicon.plan(table)
    tried = scene.labels()
    scene.lexicon.take(plan, "words.csv")

    assert tried == []
    assert [(one.line, one.what, one.told) for one in plan.changes] == [
        (2, "new", "Woody"),
        (3, "changed", "was “orchid”"),
        (4, "merged", "merged into “peach”"),
        (5, "talk", "no tasting word, and not offered again"),
    ]
    assert plan.told.startswith("1 new, 1 changed, 1 merged, 1 declared talk, 1 as they are.")
    assert scene.labels() == ["words from words.csv"]
    assert scene.words.resolve("white-peach") == "peach"
    assert scene.words.find("yacht paint") is scene.words.descriptor("boat-varnish")


def test_two_words_cannot_change_names_with_each_other_for_both_stay_known_by_their_old_ones(scene: Scene) -> None:
    first, second = scene.lexicon.add("harbour fog", "mineral"), scene.lexicon.add("quay at noon", "mineral")
    table = _csv({"key": first, "name": "quay at noon"}, {"key": second, "name": "harbour fog"})

    plan = scene.lexicon.plan(table)

    assert [one.line for one in plan.troubles] == [2, 3]


@pytest.mark.parametrize(
    ("rows", "line", "told"),
    [
        ([{"name": "tarred hemp", "family": "fluffy"}], 2, "no family “fluffy”. The families are"),
        (
            [{"name": "buttery new"}, {"name": "deck oil", "synonyms": "buttery"}],
            3,
            "“buttery” is a name of “warm butter”",
        ),
        ([{"key": "Tarred Hemp!", "name": "x"}], 2, "“Tarred Hemp!” is no key. Leave the key empty"),
        ([{"key": "tarred-hemp"}], 2, "“tarred-hemp” is new and has no name. Write one"),
        ([{"about": "Resin."}], 2, "neither a key nor a name"),
        ([{"name": "deck oil"}, {"name": "Deck-Oil"}], 3, "“deck-oil” stands on line 2 already"),
        ([{"name": "deck oil"}, {"name": "quay oil", "synonyms": "deck oil"}], 2, "is a name of “quay oil” already"),
        ([{"name": "deck oil", "kind": "mine"}], 2, "The kind “mine” is not known. Write shipped"),
        ([{"name": "deck oil", "merged into": "zeppelin"}], 2, "no word “zeppelin” to merge “deck oil” into"),
        ([{"name": "orchid", "merged into": "orchid"}], 2, "“orchid” cannot be merged into itself"),
        (
            [{"name": "orchid", "merged into": "jasmine"}, {"name": "jasmine", "merged into": "orchid"}],
            2,
            "would be taken in by each other",
        ),
        ([{"name": "deck oil", "chinese": "deck"}], 2, "not Chinese characters alone"),
        ([{"name": "deck\u202eoil"}], 2, "cannot be seen"),
        ([{"name": "orchid", "kind": "talk"}], 2, "“orchid” is a word of tasting"),
    ],
)
def test_an_error_has_its_line_and_says_what_to_do(
    scene: Scene, rows: list[dict[str, str]], line: int, told: str
) -> None:
    plan = scene.lexicon.plan(_csv(*rows))

    assert plan.troubles[0].line == line
    assert told in plan.troubles[0].told
    assert not plan.can_be_taken
    with pytest.raises(VocabularyError, match="nothing is taken over"):
        scene.lexicon.take(plan, "words.csv")
    assert scene.labels() == []


def test_columns_that_are_not_there_leave_their_part_as_it_is(scene: Scene) -> None:
    key = scene.lexicon.add("boat varnish", "woody", synonyms=["deck oil"], zh="船漆", about="Resin.")

    scene.lexicon.take(scene.lexicon.plan(b"key;family\nboat-varnish;earthy\n"), "words.csv")

    one = scene.words.descriptor(key)
    assert (one.family, one.synonyms, one.zh, one.about) == ("earthy", ("deck oil",), "船漆", "Resin.")


def test_a_word_renamed_by_a_table_is_still_known_by_its_old_name(scene: Scene) -> None:
    scene.lexicon.add("boat varnish", "woody")

    scene.lexicon.take(scene.lexicon.plan(_csv({"key": "boat-varnish", "name": "yacht varnish"})), "words.csv")

    assert scene.words.descriptor("boat-varnish").synonyms == ("boat varnish",)


def test_talk_that_has_come_to_ship_is_a_word_and_its_table_changes_nothing(scene: Scene) -> None:
    talk = OwnDescriptor("own-1", "orchid", "", MORNING_UTC, is_talk=True)
    scene.kit.keeping.keep(SCOPE, "talk, before orchids shipped", [Change(None, talk)])

    plan = scene.lexicon.plan(scene.lexicon.written().encode())

    assert scene.lexicon.book.kind_of("orchid") == "shipped"
    assert (plan.changes, plan.troubles) == ((), ())
    scene.lexicon.rename("orchid", "moth orchid")
    assert scene.words.descriptor("orchid").name == "moth orchid"


def test_a_plan_that_another_window_overtook_is_refused(scene: Scene) -> None:
    scene.lexicon.add("boat varnish", "woody")
    plan = scene.lexicon.plan(b"key,family\nboat-varnish,earthy\n")
    scene.lexicon.remove("boat-varnish")
    scene.lexicon.add("boat varnish", "mineral")

    with pytest.raises(StaleAct):
        scene.lexicon.take(plan, "words.csv")
