"""What the find field shows, and where each row leads."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.act import Change
from tastebook.domain.errors import StoreError
from tastebook.domain.session import Impression, Saying
from tastebook.presenters.finding import FindPresenter, FindView, clipped, column_words
from tests.fakes import MORNING_UTC
from tests.shelf_scene import Scene, furnished, many_lots


@pytest.fixture
def scene() -> Scene:
    scene = furnished()
    newest = scene.journal.sessions()[0]
    at = scene.clock.utc_now()
    said = Saying(scene.ids.new(), newest.uid, "flavour", 3, "White peach all over, then wet cedar.", at)
    heard = Impression(
        scene.ids.new(), newest.uid, "flavour", 3, "palate", "white-peach", "peach", 4, at, saying_uid=said.uid
    )
    scene.keeping.keep(newest.uid, "said", [Change(None, said), Change(None, heard)])
    return scene


def shown(presenter: FindPresenter, typed: str) -> FindView:
    asked = presenter.ask(typed)
    if asked is not None:
        assert presenter.take(presenter.answer(asked))
    return presenter.view()


def test_lots_stand_first_each_with_its_facts(scene: Scene) -> None:
    view = shown(scene.finding, "heron ")

    assert [row.kind for row in view.rows] == ["heading", "lot", "lot"]
    assert [row.title for row in view.rows[1:]] == ["Heron Ridge, spring 2026", "Heron Ridge, spring 2025"]
    assert view.told == "2 lots"


def test_a_place_tells_where_when_how_strongly_and_in_which_words(scene: Scene) -> None:
    view = shown(scene.finding, "white peach ≥ 3 infusion 3")

    (row,) = (row for row in view.rows if row.kind == "place")
    assert (row.title, row.place) == ("Heron Ridge, spring 2025", "infusion 3, flavour")
    assert row.facts.endswith("buy")
    assert [chip.told for chip in row.chips] == ["white peach 4"]
    assert [row.sentence[start:end] for start, end in row.spans] == ["White peach"]
    assert (row.infusion, row.is_open) == (3, False)
    assert row.liquor.startswith("#")
    assert view.understood == "white peach at least 3 · infusion 3"


def test_where_no_lot_is_named_so_the_lots_noted_last_stand_above() -> None:
    scene = furnished()
    for session in scene.journal.sessions()[:2]:
        heard = Impression(
            scene.ids.new(), session.uid, "flavour", 1, "palate", "orchid", "o", 4, scene.clock.utc_now()
        )
        scene.keeping.keep(session.uid, "said", [Change(None, heard)])

    view = shown(scene.finding, "orchid ≥ 3")

    assert [(row.kind, row.lot_uid != "") for row in view.rows] == [
        ("heading", False), ("lot", True), ("lot", True), ("heading", False), ("place", True), ("place", True),
    ]  # fmt: skip


def test_a_decision_is_found_with_its_headline_and_its_day(scene: Scene) -> None:
    (heading, row) = shown(scene.finding, "resting").rows

    assert heading.title == "Tastings"
    assert (row.title, row.sentence) == ("Old Granary, 2016", "Damp still. Look again in June.")
    assert row.facts.endswith("rest until 1 June 2026")


def test_what_was_not_understood_is_told_and_the_rest_is_found(scene: Scene) -> None:
    view = shown(scene.finding, "cedar >= 9")

    assert "between 0 and 5" in view.puzzled
    assert [row.kind for row in view.rows] == ["heading", "place"]


def test_nothing_found_says_what_would_help(scene: Scene) -> None:
    assert "peach ≥ 3" in shown(scene.finding, "rooibos ").empty
    assert shown(scene.finding, ">=").empty == "Nothing to look for yet."
    assert shown(scene.finding, "").empty == ""


def test_an_answer_to_an_older_question_is_dropped(scene: Scene) -> None:
    older = scene.finding.ask("heron ")
    newer = scene.finding.ask("peach ")
    assert older is not None
    assert newer is not None

    assert not scene.finding.take(scene.finding.answer(older))
    assert scene.finding.view().is_waiting
    assert scene.finding.take(scene.finding.answer(newer))
    assert {row.kind for row in scene.finding.view().rows} == {"heading", "place"}


def test_more_is_read_as_one_comes_near_the_end() -> None:
    presenter = many_lots(100, 100).finding
    first = shown(presenter, "heron ")
    assert first.has_more
    assert "so far" in first.told

    while (more := presenter.ask_more()) is not None:
        assert presenter.ask_more() is None
        presenter.take(presenter.answer(more))

    rows = presenter.view().rows
    assert [row.kind for row in rows] == ["heading", *["lot"] * 100]
    assert len({row.lot_uid for row in rows}) == 101
    assert not presenter.view().has_more


def test_a_journal_that_cannot_be_searched_says_why(scene: Scene, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_given: object) -> None:
        raise StoreError("The journal is busy.")

    monkeypatch.setattr(scene.journal, "find", refuse)

    assert shown(scene.finding, "heron ").empty == "The journal is busy."


def test_a_swatch_is_looked_for_by_its_name_in_place_of_one_chosen_before(scene: Scene) -> None:
    typed = scene.finding.with_swatch(2, 6, "peach")
    again = scene.finding.with_swatch(3, 5, typed)

    assert (typed, again) == ("peach amber gold liquor", "peach amber liquor")
    assert shown(scene.finding, typed).understood.endswith("liquor near amber gold")
    assert [len(row) for row in scene.finding.swatches()] == [10] * 6


def test_every_swatch_can_be_looked_for_by_its_name(scene: Scene) -> None:
    for row, swatches in enumerate(scene.finding.swatches()):
        for column, (_, name) in enumerate(swatches):
            typed = scene.finding.with_swatch(row, column, "")
            assert shown(scene.finding, typed).understood == f"liquor near {name}"


def test_columns_have_names() -> None:
    assert [column_words(one) for one in (None, "leaf", 0, 3, "close")] == [
        "the session", "dry leaf", "rinse", "infusion 3", "at the close",
    ]  # fmt: skip


@given(st.text(max_size=900), st.lists(st.tuples(st.integers(0, 900), st.integers(1, 30)), max_size=4))
def test_of_a_long_passage_the_part_around_the_match_is_shown(text: str, places: list[tuple[int, int]]) -> None:
    spans = tuple((start, min(start + length, len(text))) for start, length in sorted(places) if start < len(text))
    apart = tuple(one for number, one in enumerate(spans) if number == 0 or one[0] > spans[number - 1][1])

    cut_out, kept = clipped(text, apart)

    assert len(cut_out) <= 330
    assert "\n" not in cut_out
    for (start, end), (a, b) in zip(apart, kept, strict=False):
        whole = text[start:end]
        assert [one.isspace() or one for one in cut_out[a:b]] == [one.isspace() or one for one in whole][: b - a]


def test_kin_are_told_in_words() -> None:
    scene = furnished()
    sessions = scene.journal.sessions()[:2]
    for session, strength in zip(sessions, (4, 3), strict=True):
        heard = Impression(scene.ids.new(), session.uid, "flavour", 1, "palate", "orchid", "o", strength, MORNING_UTC)
        scene.keeping.keep(session.uid, "said", [Change(None, heard)])

    (kin,) = scene.finding.kin_of_session(sessions[0].uid)

    assert (kin.lot_uid, kin.why) == (sessions[1].lot_uid, "less floral (1 infusion compared)")
    assert scene.finding.kin_of_lot(sessions[0].lot_uid) == (kin,)
