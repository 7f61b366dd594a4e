"""What the Shelf and a lot's page show."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from tastebook.domain.act import Act, Change
from tastebook.domain.errors import StoreError
from tastebook.presenters.shelf import RowView
from tastebook.presenters.shelf_words import leaf_words
from tests.shelf_scene import Scene, furnished, many_lots


def rows(scene: Scene) -> dict[str, list[RowView]]:
    presenter = scene.presenter
    return {group.title: [presenter.row(uid) for uid in group.lot_uids] for group in presenter.view().groups}


def uid_of(scene: Scene, name: str, harvest_year: int | None = None) -> str:
    return next(
        line.lot.uid
        for line in scene.shelf.lines()
        if line.lot.name == name and harvest_year in (None, line.lot.harvest_year)
    )


def test_lots_stand_in_groups_by_what_is_owed() -> None:
    groups = rows(furnished())

    assert {title: [row.name for row in lots] for title, lots in groups.items()} == {
        "Half tasted": ["Heron Ridge"],
        "To taste": ["Quiet Ferry", "Lantern Terrace"],
        "To write": ["Ashgrove"],
        "Resting": ["Old Granary"],
        "Done": ["Heron Ridge"],
        "Put away": ["Low Cloud"],
    }


def test_each_row_has_its_one_next_act() -> None:
    scene = furnished()

    acts = {row.name + row.owed[:4]: (row.act, row.act_label) for lots in rows(scene).values() for row in lots}

    assert acts == {
        "Heron Ridgebegu": ("resume", "Resume"),
        "Quiet Ferrynever"[:15]: ("taste", "Taste"),
        "Lantern Terraceneve": ("taste", "Taste"),
        "Ashgrovetast": ("write", "Write verdict"),
        "Old Granaryrest": ("open", "Open"),
        "Heron Ridgetast": ("open", "Open"),
        "Low Cloudput ": ("open", "Open"),
    }


def test_a_row_tells_facts_cups_debt_and_verdict() -> None:
    scene = furnished()
    row = rows(scene)["Done"][0]

    assert row.facts == "oolong, Jin Xuan, Taiwan, spring 2025"
    assert [cup.label for cup in row.cups] == ["1", "2", "3", "4", "5", "6"]
    assert all(cup.hex.startswith("#") and len(cup.hex) == 7 for cup in row.cups)
    assert row.verdict == "Buy four kilos, for the autumn list."
    assert row.owed == "tasted 18 April 2026"
    assert row.accessible == (
        "Heron Ridge. oolong, Jin Xuan, Taiwan, spring 2025. tasted 18 April 2026. "
        "Buy four kilos, for the autumn list.. Enter: Open"
    )


def test_what_is_owed_is_said_in_words() -> None:
    groups = rows(furnished())

    assert groups["Half tasted"][0].owed == "begun 18 April 2026, 3 infusions poured"
    assert groups["To taste"][0].owed == "never tasted"
    assert groups["To write"][0].owed == "tasted 18 April 2026, no verdict yet"
    assert groups["Resting"][0].owed == "resting until 1 June 2026"
    assert groups["Resting"][0].verdict == "Rest: Damp still. Look again in June."


def test_a_session_with_nothing_poured_says_so() -> None:
    scene = Scene()
    scene.session(scene.lot("Ashgrove"), is_open=True)

    assert rows(scene)["Half tasted"][0].owed == "begun 18 April 2026, nothing poured yet"


def test_a_lot_whose_rest_is_over_asks_to_be_tasted_again() -> None:
    scene = furnished()
    scene.clock.advance(60 * 86_400)
    scene.presenter.reread()

    granary = next(row for row in rows(scene)["To taste"] if row.name == "Old Granary")

    assert (granary.act, granary.owed) == ("taste", "rested until 1 June 2026: taste it again")


def test_the_next_act_names_the_session_it_concerns() -> None:
    scene = furnished()
    open_session = next(session for session in scene.journal.sessions() if session.is_open)

    groups = rows(scene)

    assert groups["Half tasted"][0].session_uid == open_session.uid
    assert groups["To write"][0].session_uid != ""
    assert groups["To taste"][0].session_uid == ""


def test_what_waited_longest_to_be_written_stands_first_and_what_rests_shortest() -> None:
    scene = Scene()
    older, newer = scene.lot("Older"), scene.lot("Newer")
    scene.session(newer)
    scene.session(older)
    long_rest, short_rest = scene.lot("Long"), scene.lot("Short")
    scene.verdict(scene.session(long_rest), "rest until", rest_until=date(2027, 1, 1))
    scene.verdict(scene.session(short_rest), "rest until", rest_until=date(2026, 5, 1))

    groups = rows(scene)

    assert [row.name for row in groups["To write"]] == ["Newer", "Older"]
    assert [row.name for row in groups["Resting"]] == ["Short", "Long"]


def test_an_empty_shelf_says_how_to_begin() -> None:
    view = Scene().presenter.view()

    assert view.empty.startswith("The Shelf is empty")
    assert view.summary == ""


def test_the_heading_counts_what_is_owed() -> None:
    assert furnished().presenter.view().summary == "6 lots, 1 half tasted, 2 to taste, 1 to write"


def test_the_shelf_is_read_once_and_again_after_an_act(monkeypatch: pytest.MonkeyPatch) -> None:
    scene = furnished()
    readings: list[int] = []
    real = scene.journal.shelf
    monkeypatch.setattr(scene.journal, "shelf", lambda: (readings.append(1), real())[1])
    scene.presenter.reread()

    for _ in range(3):
        scene.presenter.view()
    assert len(readings) == 1
    scene.lot("Heron Ridge, winter")

    assert len(rows(scene)["To taste"]) == 3
    assert len(readings) == 2


def test_what_another_window_did_is_shown_once_looked_for() -> None:
    scene = furnished()
    rows(scene)
    lot = next(line.lot for line in scene.shelf.lines() if line.lot.name == "Ashgrove")
    change = Change(lot, replace(lot, name="Ashgrove, first"))
    scene.journal.commit_outside(Act("outside", lot.uid, "renamed", scene.clock.utc_now(), (change,)))
    assert rows(scene)["To write"][0].name == "Ashgrove"

    scene.presenter.look_again()

    assert rows(scene)["To write"][0].name == "Ashgrove, first"


def test_a_new_day_ends_a_rest() -> None:
    scene = furnished()
    assert "Resting" in rows(scene)
    scene.clock.advance(60 * 86_400)

    scene.presenter.look_again()

    assert "Resting" not in rows(scene)


def test_a_journal_that_cannot_be_read_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    scene = furnished()

    def fails() -> None:
        raise StoreError("The journal could not be read.")

    monkeypatch.setattr(scene.journal, "shelf", fails)
    scene.presenter.reread()

    assert scene.presenter.view().notice == "The journal could not be read."


def test_the_last_act_on_a_lot_is_taken_back_from_the_rows() -> None:
    scene = furnished()
    lot_uid = uid_of(scene, "Low Cloud")

    scene.presenter.undo(lot_uid)

    assert scene.presenter.view().notice == "Taken back: Low Cloud put away."
    assert "Put away" not in rows(scene)
    scene.presenter.redo()
    assert "Put away" in rows(scene)


def test_what_cannot_be_taken_back_says_why() -> None:
    scene = furnished()

    scene.presenter.undo(uid_of(scene, "Ashgrove"))

    assert scene.presenter.view().notice == "Ashgrove has been tasted, so it stays. Put it away instead."


def test_a_page_tells_only_what_is_known_and_asks_for_the_rest() -> None:
    scene = furnished()

    view = scene.presenter.page(uid_of(scene, "Lantern Terrace")).view()

    assert [(group.title, [fact.label for fact in group.facts]) for group in view.groups] == [
        ("What it is", ["Kind", "Cultivar", "Leaf form"])
    ]
    assert ("altitude_m", "altitude") in view.missing
    assert "kind" not in [key for key, _ in view.missing]


def test_a_page_tells_the_whole_provenance() -> None:
    scene = furnished()

    view = scene.presenter.page(uid_of(scene, "Heron Ridge", 2026)).view()

    facts = {fact.label: fact.value for group in view.groups for fact in group.facts}
    assert facts == {
        "Kind": "oolong",
        "Cultivar": "Jin Xuan (Jīn Xuān)",
        "Leaf form": "ball",
        "Region": "Taiwan",
        "Altitude": "1,100 m",
        "Harvest": "spring 2026",
        "Plucking": "three leaves and a bud",
        "Making": "withering 6 h, bruising, ball-rolling 10 h",
        "Oxidation": "25 %",
        "Roast": "medium, 8 h, charcoal, 2 April 2026",
        "Supplier": "Heron & Slate",
        "Batch": "HR-26",
        "Price": "84.00 EUR per kg",
        "Quantity": "500 g",
    }
    assert view.notes == "Two tins, one opened."


def test_batches_link_both_ways() -> None:
    scene = furnished()
    earlier, later = uid_of(scene, "Heron Ridge", 2025), uid_of(scene, "Heron Ridge", 2026)

    follows = scene.presenter.page(later).view().follows
    followed_by = scene.presenter.page(earlier).view().followed_by

    assert follows is not None
    assert (follows.lot_uid, follows.title) == (earlier, "Heron Ridge, spring 2025")
    assert [link.lot_uid for link in followed_by] == [later]


def test_sessions_stand_as_strips_newest_first() -> None:
    scene = furnished()

    strip = scene.presenter.page(uid_of(scene, "Heron Ridge", 2025)).view().strips[0]

    assert strip.title == "18 April 2026, on arrival"
    assert strip.facts == "Gaiwan session, 6.5 g in a 110 ml gaiwan, by Ada"
    assert [(steep.label, steep.seconds) for steep in strip.steeps[:2]] == [("1", "25 s"), ("2", "30 s")]
    assert (strip.verdict, strip.headline) == ("Buy", "Buy four kilos, for the autumn list.")
    assert strip.act_label == "Open"


def test_an_open_session_is_resumed_from_its_strip_and_from_the_page() -> None:
    scene = furnished()

    view = scene.presenter.page(uid_of(scene, "Heron Ridge", 2026)).view()

    assert (view.strips[0].act_label, view.strips[0].verdict) == ("Resume", "still open")
    assert view.taste_label == "Resume"
    assert view.open_session == view.strips[0].session_uid


def test_long_histories_are_shown_a_dozen_at_a_time() -> None:
    scene = many_lots(1, 30)
    page = scene.presenter.page("lot-00000")

    assert (len(page.view().strips), page.view().earlier) == (12, 18)
    page.show_earlier()
    assert (len(page.view().strips), page.view().earlier) == (24, 6)


def test_a_page_shows_what_another_screen_did_to_a_session() -> None:
    scene = furnished()
    page = scene.presenter.page(uid_of(scene, "Ashgrove"))
    session_uid = page.view().strips[0].session_uid
    session = scene.journal.tasting(session_uid).session

    scene.verdict(session, "decline", "Flat.")

    assert page.view().strips[0].verdict == "Decline"


def test_a_lot_is_put_away_taken_out_and_that_is_taken_back() -> None:
    scene = furnished()
    page = scene.presenter.page(uid_of(scene, "Ashgrove"))

    page.put_away()
    assert page.view().is_archived
    page.put_away()
    assert not page.view().is_archived
    page.undo()

    assert page.view().is_archived
    assert page.view().notice == "Taken back: Ashgrove taken out again."
    page.redo()
    assert page.view().notice == "Done again: Ashgrove taken out again."


def test_a_lot_whose_adding_is_taken_back_leaves_its_page_and_can_come_again() -> None:
    scene = furnished()
    lot = scene.lot("A slip")
    page = scene.presenter.page(lot.uid)

    page.undo()
    assert not page.is_there
    scene.presenter.lose_page()

    assert scene.presenter.view().notice == "Taken back: A slip added."
    scene.presenter.redo()
    assert scene.presenter.knows(lot.uid)


def test_a_journal_that_is_read_only_says_why() -> None:
    scene = furnished()
    scene.journal.read_only_because = "A newer Tastebook wrote this journal."
    page = scene.presenter.page(uid_of(scene, "Ashgrove"))

    page.put_away()

    assert page.view().notice == "A newer Tastebook wrote this journal."
    assert not scene.presenter.view().can_add


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"leaf_g": 6.5}, "6.5 g in a 110 ml gaiwan"),
        ({"leaf_g": 6.5, "leaf_by_eye": True}, "about 6.5 g by eye in a 110 ml gaiwan"),
        ({"leaf_g": None}, "110 ml gaiwan"),
        ({"leaf_g": 4.0, "volume_ml": 80.0, "vessel": "bowl"}, "4 g in an 80 ml bowl"),
        ({"leaf_g": 4.0, "volume_ml": None, "vessel": "urn"}, "4 g in an urn"),
        ({"leaf_g": 5.0, "vessel": "lidded cup, 110 ml"}, "5 g in a lidded cup, 110 ml"),
        ({"leaf_g": 5.0, "volume_ml": None, "vessel": ""}, "5 g"),
    ],
)
def test_leaf_and_vessel_are_told_in_one_phrase(changes: dict[str, object], expected: str) -> None:
    scene = Scene()
    session = scene.session(scene.lot("Ashgrove"))

    assert leaf_words(replace(session, **changes)) == expected  # type: ignore[arg-type]
