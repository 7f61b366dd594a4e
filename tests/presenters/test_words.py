"""The sheet of words: what it lists and tells, where errors stand, and what each gesture keeps."""

from __future__ import annotations

import pytest

from tastebook.domain.errors import JournalFull
from tastebook.presenters.words import UNPLACED, WordsPresenter
from tastebook.presenters.words_views import FormView, TableView, WordDetail
from tests.bench_kit import Kit
from tests.services.test_lexicon import Scene

TEXTS = {"synonyms": "", "chinese": "", "pinyin": "", "about": ""}
NEW = {"name": "", "family": "", **TEXTS}


class Sheet:
    """A Bench, the words, and the sheet of them."""

    def __init__(self) -> None:
        self.scene = Scene()
        self.presenter = WordsPresenter(self.scene.lexicon, self.kit.words)

    @property
    def kit(self) -> Kit:
        return self.scene.kit

    def names(self) -> list[str]:
        return [row.name for group in self.presenter.view().groups for row in group.rows]

    def detail(self) -> WordDetail:
        detail = self.presenter.view().detail
        assert detail is not None
        return detail

    def form(self) -> FormView:
        form = self.presenter.view().form
        assert form is not None
        return form

    def errors(self) -> dict[str, str]:
        return {one.key: one.error for one in self.form().fields if one.error}

    def table(self) -> TableView:
        table = self.presenter.view().table
        assert table is not None
        return table


@pytest.fixture
def sheet() -> Sheet:
    return Sheet()


# -- the list


def test_every_word_is_listed_by_family_and_then_every_other_term(sheet: Sheet) -> None:
    view = sheet.presenter.view()

    titles = [group.title for group in view.groups]
    assert titles == [
        *(one.name for one in sheet.kit.words().families), "Mouthfeel and finish", "Clarity", "Colour of the liquor",
        "Colour of the leaf", "Scale",
    ]  # fmt: skip
    assert all(group.family for group in view.groups[:12])
    assert view.count == f"{len(sheet.names())} words"


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("white peach", "white peach"),
        ("frangipani", None),
        ("buttery", "warm butter"),
        ("兰", None),
        ("焦气", "scorched"),
        ("jiāo qì", "scorched"),
        ("jiao qi", "scorched"),
        ("jiaoqi", "scorched"),
        ("JIAO", None),
        ("深红", "dark red"),
        ("syrupy", "syrupy"),
        ("turbid", "turbid"),
    ],
)
def test_a_word_is_found_by_any_name_and_what_fits_best_is_chosen(sheet: Sheet, typed: str, first: str | None) -> None:
    sheet.presenter.find(typed)

    view = sheet.presenter.view()
    assert (view.detail is None) == bool(view.empty)
    if first:
        assert sheet.detail().name == first


def test_with_tones_only_what_has_these_tones_is_found(sheet: Sheet) -> None:
    sheet.presenter.find("jiao qi")
    without = sheet.names()

    sheet.presenter.find("jiāo qì")

    assert sheet.names() == ["scorched"]
    assert len(without) > 1


def test_what_is_not_there_is_said_with_a_way_on(sheet: Sheet) -> None:
    sheet.presenter.show("orchid")

    sheet.presenter.find("zeppelin")

    assert sheet.presenter.view().detail is None
    assert sheet.presenter.view().empty == "Nothing is called “zeppelin”. Add it as a new word, or look again."
    sheet.presenter.open_form("new")
    assert sheet.form().fields[0].value == "zeppelin"


def test_words_of_ones_own_and_changed_ones_are_marked_in_words(sheet: Sheet) -> None:
    sheet.scene.lexicon.add("boat varnish", "woody", zh="船漆")
    sheet.scene.lexicon.rename("orchid", "moth orchid")

    rows = {row.name: row.aside for group in sheet.presenter.view().groups for row in group.rows}

    assert rows["boat varnish"] == "船漆, yours"
    assert rows["moth orchid"].endswith("changed by you")
    assert rows["scorched"].endswith("fault")


def test_words_said_without_a_family_stand_first(sheet: Sheet) -> None:
    sheet.scene.say("wet velvet 3")

    first = sheet.presenter.view().groups[0]
    sheet.presenter.choose("wet-velvet")

    assert (first.title, [row.name for row in first.rows]) == (UNPLACED, ["wet velvet"])
    assert [act for act, _ in sheet.detail().acts] == ["rename", "move", "merge", "talk"]
    assert sheet.detail().uses.startswith("Noted once, last with Heron Ridge")


def test_a_word_only_said_is_declared_talk_and_is_offered_no_more(sheet: Sheet) -> None:
    sheet.scene.say("wet velvet 3")
    sheet.presenter.choose("wet-velvet")

    sheet.presenter.do("talk")

    assert sheet.kit.words().is_talk("wet velvet")


# -- one word


def test_a_fault_is_told_with_its_cause_its_chinese_and_its_source(sheet: Sheet) -> None:
    sheet.presenter.show("scorched")

    detail = sheet.detail()
    assert (detail.cause, detail.chinese) == ("Leaf edges burnt in the pan or dryer.", "焦气 jiāo qì")
    assert detail.source == "GB/T 14487 pair seen"
    assert detail.uses == "Not noted yet."


def test_how_often_a_word_is_noted_is_told_with_the_last_lot(sheet: Sheet) -> None:
    sheet.scene.say("orchid 3")
    sheet.scene.say("orchid 2", infusion=2)

    sheet.presenter.show("orchid")

    assert sheet.detail().uses.startswith("Noted 2 times, last with Heron Ridge, spring roast, ")


def test_words_said_meanwhile_are_listed_when_the_sheet_is_opened_again(sheet: Sheet) -> None:
    before = sheet.names()
    sheet.scene.say("wet velvet 3")

    sheet.presenter.look_again()

    assert set(sheet.names()) - set(before) == {"wet velvet"}


def test_a_colour_has_its_patch_and_cannot_be_changed_and_says_why(sheet: Sheet) -> None:
    sheet.presenter.find("dark amber")

    detail = sheet.detail()
    assert detail.swatch.startswith("#")
    assert detail.acts == ()
    assert detail.fixed


def test_only_a_word_of_ones_own_is_removed_and_a_changed_one_is_as_it_ships(sheet: Sheet) -> None:
    key = sheet.scene.lexicon.add("boat varnish", "woody")
    sheet.presenter.show("orchid")
    shipped = dict(sheet.detail().acts)
    sheet.scene.lexicon.rename("orchid", "moth orchid")
    changed = dict(sheet.detail().acts)

    sheet.presenter.show(key)

    assert "remove" not in shipped
    assert changed["remove"] == "As it ships"
    assert dict(sheet.detail().acts)["remove"] == "Remove"


# -- forms


def test_a_new_word_is_added_and_shown(sheet: Sheet) -> None:
    sheet.presenter.open_form("new")

    kept = sheet.presenter.keep({**NEW, "name": "boat varnish", "family": "woody", "synonyms": "deck oil; slip paint"})

    assert kept
    assert sheet.detail().name == "boat varnish"
    assert sheet.presenter.view().notice == "Kept: new word “boat varnish”"


@pytest.mark.parametrize(
    ("values", "field", "told"),
    [
        ({"name": ""}, "name", "The name is empty"),
        ({"name": "buttery"}, "name", "“buttery” is a name of “warm butter” already"),
        ({"name": "boat varnish", "chinese": "deck"}, "chinese", "not Chinese characters alone"),
        ({"name": "boat varnish", "chinese": "焦气"}, "chinese", "“焦气” is a name of “scorched”"),
        ({"name": "boat varnish", "pinyin": "chuan2"}, "pinyin", "“2” in it"),
        ({"name": "boat varnish", "synonyms": "deck; orchid"}, "synonyms", "“orchid” is a name of “orchid”"),
        ({"name": "boat varnish", "about": "a\0b"}, "about", "cannot be seen"),
        ({"name": "boat varnish", "family": "fluffy"}, "family", "no family “fluffy”"),
    ],
)
def test_what_is_wrong_stands_at_its_field_and_what_was_written_stays(
    sheet: Sheet, values: dict[str, str], field: str, told: str
) -> None:
    sheet.presenter.open_form("new")

    kept = sheet.presenter.keep(NEW | values)

    assert not kept
    assert list(sheet.errors()) == [field]
    assert told in sheet.errors()[field]
    assert {one.key: one.value for one in sheet.form().fields} == NEW | values


def test_a_taken_name_offers_to_merge_instead(sheet: Sheet) -> None:
    sheet.presenter.show("white peach")
    sheet.presenter.do("rename")
    sheet.presenter.keep({"name": "peach"})
    offered = sheet.form().instead

    sheet.presenter.merge_instead()

    assert offered == "Merge into “peach”"
    assert sheet.kit.words().resolve("white-peach") == "peach"
    assert [guest.name for guest in sheet.detail().guests] == ["white peach"]


def test_a_merged_word_stands_for_itself_again(sheet: Sheet) -> None:
    sheet.scene.lexicon.merge("white-peach", "peach")

    sheet.presenter.part("white-peach")

    assert sheet.kit.words().resolve("white-peach") == "white-peach"


@pytest.mark.parametrize(
    ("into", "told"),
    [("", "No word was chosen"), ("zeppelin", "There is no word “zeppelin”"), ("orchid", "into itself")],
)
def test_a_word_is_merged_only_into_one_that_is_there(sheet: Sheet, into: str, told: str) -> None:
    sheet.presenter.show("orchid")
    sheet.presenter.do("merge")

    sheet.presenter.keep({"into": into})

    assert told in sheet.errors()["into"]


def test_a_word_is_moved_and_given_one_more_name_and_another_meaning(sheet: Sheet) -> None:
    sheet.presenter.show("orchid")

    sheet.presenter.do("move")
    sheet.presenter.keep({"family": "fruity"})
    sheet.presenter.do("name")
    sheet.presenter.keep({"name": "moth flower"})
    sheet.presenter.do("texts")
    values = {one.key: one.value for one in sheet.form().fields}
    sheet.presenter.keep({**values, "about": "Cool and sweet."})

    detail = sheet.detail()
    assert (detail.belongs, detail.about) == ("Fruity", "Cool and sweet.")
    assert "moth flower" in detail.also
    assert len(sheet.scene.labels()) == 3


def test_keeping_the_texts_as_they_are_keeps_nothing_even_where_words_were_taken_in(sheet: Sheet) -> None:
    sheet.scene.lexicon.merge("white-peach", "peach")
    sheet.presenter.show("peach")
    sheet.presenter.do("texts")

    sheet.presenter.keep({one.key: one.value for one in sheet.form().fields})

    assert len(sheet.scene.labels()) == 1


def test_leaving_a_form_keeps_nothing(sheet: Sheet) -> None:
    sheet.presenter.open_form("new")

    assert sheet.presenter.leave()
    assert sheet.presenter.view().form is None
    assert not sheet.presenter.leave()


def test_undo_and_redo_say_what_they_did(sheet: Sheet) -> None:
    sheet.scene.lexicon.rename("orchid", "moth orchid")

    sheet.presenter.undo()
    undone = sheet.presenter.view()
    sheet.presenter.redo()

    assert undone.notice == "Taken back: “orchid” is now “moth orchid”"
    assert (undone.undo, undone.redo) == ("", "“orchid” is now “moth orchid”")
    assert sheet.kit.words().descriptor("orchid").name == "moth orchid"


def test_a_full_disk_is_told_at_the_field_and_what_was_written_stays(sheet: Sheet) -> None:
    sheet.presenter.show("orchid")
    sheet.presenter.do("rename")
    sheet.kit.journal.next_commit_fails = JournalFull("The disk is full.")

    sheet.presenter.keep({"name": "moth orchid"})

    assert sheet.errors() == {"name": "The disk is full."}


def test_a_word_that_is_used_is_not_removed_and_it_is_said_why(sheet: Sheet) -> None:
    key = sheet.scene.lexicon.add("boat varnish", "woody")
    sheet.scene.say("boat varnish 3")
    sheet.presenter.show(key)

    sheet.presenter.do("remove")

    view = sheet.presenter.view()
    assert view.is_trouble
    assert "Merge it into another word" in view.notice


# -- tables


def test_a_table_is_shown_before_it_is_taken(sheet: Sheet) -> None:
    sheet.presenter.offer_table("words.csv", b"name,family\nboat varnish,woody\n")
    table = sheet.table()

    sheet.presenter.take_table()

    assert (table.title, table.can_take) == ("words.csv", True)
    assert table.changes == (("Line 2", "boat varnish", "Woody"),)
    assert sheet.presenter.view().table is None
    assert sheet.kit.words().has("boat-varnish")


def test_a_table_with_an_error_cannot_be_taken(sheet: Sheet) -> None:
    sheet.presenter.offer_table("words.csv", b"name,family\nboat varnish,fluffy\n")

    table = sheet.table()

    assert not table.can_take
    assert table.troubles[0][0] == "Line 2"
    sheet.presenter.take_table()
    assert not sheet.kit.words().has("boat-varnish")
    assert sheet.presenter.view().is_trouble


def test_a_journal_that_cannot_be_written_offers_no_changes() -> None:
    scene = Scene()
    presenter = WordsPresenter(scene.lexicon, scene.kit.words, "Opened for reading only.")

    presenter.show("orchid")

    view = presenter.view()
    assert view.read_only == "Opened for reading only."
    assert view.detail is not None
    assert view.detail.acts == ()
