"""The demo scenario, played through the services: the same journal every time, and nothing in it that is real.

The lots, estates and cultivars are those of the invented scenario of Heron & Slate. Names of estates and sellers are
invented; cultivars are facts of the trade. A name that is not listed here has no place in the demo.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from functools import cache
from importlib.resources import files
from itertools import pairwise
from typing import Any

import pytest

from tastebook.domain.act import history_of
from tastebook.domain.lot import Lot
from tastebook.domain.quantities import LEAF_G, VOLUME_ML, WATER_C
from tastebook.domain.session import CLARITIES, DECISIONS, PURPOSES, Session, Tasting
from tastebook.services.rehearsal import Rehearsal, ScriptedClock, ScriptedIds
from tastebook.services.shelf import owed_to
from tests.bench_kit import shipped_courses
from tests.fakes import FakeJournal
from tests.words import real_vocabulary

ESTATES = {
    "Heron Ridge": ("oolong", "Jin Xuan", "ball"),
    "Lantern Terrace": ("oolong", "Qing Xin", "ball"),
    "Quiet Ferry": ("green", "Yabukita", "needle"),
    "Ashgrove": ("black", "Assamica", "strip"),
    "Low Cloud": ("white", "Fuding Da Bai", "bud"),
    "Old Granary": ("dark", "Assamica", "compressed"),
}
"""What grows where in the scenario: kind, cultivar, form."""

SELLERS = {"Lantern & Quay", "Slate Pier"}
"""Sellers invented for this file."""


@cache
def scenario() -> dict[str, Any]:
    return tomllib.loads((files("tastebook.demo") / "scenario.toml").read_text(encoding="utf-8"))


def played(*, without_tour: bool = False) -> FakeJournal:
    journal = FakeJournal()
    Rehearsal(journal, real_vocabulary(), shipped_courses(), scenario()).play(without_tour=without_tour)
    return journal


@pytest.fixture(scope="module")
def journal() -> FakeJournal:
    return played()


def lots(journal: FakeJournal) -> dict[str, Lot]:
    """Return the lots by their names in the scenario file."""
    by_name = {(lot.name, lot.harvest_year): lot for lot in journal.lots()}
    return {row["key"]: by_name[row["name"], row["harvest_year"]] for row in scenario()["lots"]}


def sessions_of(journal: FakeJournal, key: str) -> list[Session]:
    lot = lots(journal)[key]
    return [session for session in journal.sessions() if session.lot_uid == lot.uid]


def tastings(journal: FakeJournal) -> Iterator[tuple[dict[str, Any], Tasting]]:
    """Yield each session of the file with what became of it."""
    rows = sorted(scenario()["sessions"], key=lambda row: row["began"])
    for row, session in zip(rows, journal.sessions(), strict=True):
        yield row, journal.tasting(session.uid)


def test_every_lot_and_every_session_of_the_file_is_played(journal: FakeJournal) -> None:
    began = sorted(row["began"] for row in scenario()["sessions"])

    assert len(lots(journal)) == len(journal.lots()) == len(scenario()["lots"])
    assert [session.started_at_utc for session in journal.sessions()] == began


def test_the_same_file_makes_the_same_journal(journal: FakeJournal) -> None:
    again = played()

    assert again.shelf() == journal.shelf()
    for session in journal.sessions():
        assert again.tasting(session.uid) == journal.tasting(session.uid)
        assert again.acts(session.uid) == journal.acts(session.uid)


def test_the_tasting_to_be_played_in_the_window_can_be_left_out(journal: FakeJournal) -> None:
    tours = [row["began"] for row in scenario()["sessions"] if row.get("tour")]

    left = {session.started_at_utc for session in played(without_tour=True).sessions()}

    assert len(tours) == 1
    assert left == {session.started_at_utc for session in journal.sessions()} - set(tours)


@pytest.mark.parametrize("row", scenario()["lots"], ids=lambda row: row["key"])
def test_only_names_of_the_scenario_occur(row: dict[str, Any]) -> None:
    assert (row["kind"], row["cultivar"], row["form"]) == ESTATES[row["garden"]]
    assert row["name"].startswith(row["garden"])
    assert row["supplier"] in SELLERS


def test_every_estate_of_the_scenario_is_on_the_shelf(journal: FakeJournal) -> None:
    assert {lot.garden for lot in journal.lots()} == set(ESTATES)


def test_heron_ridge_exists_in_two_harvests_the_newer_following_the_older(journal: FakeJournal) -> None:
    newer, older = lots(journal)["heron"], lots(journal)["heron-last"]

    assert newer.follows == older.uid
    assert (newer.garden, older.garden) == ("Heron Ridge", "Heron Ridge")
    assert newer.harvest_year == 1 + (older.harvest_year or 0)


def test_the_newer_harvest_was_tasted_once_at_origin_and_once_on_arrival(journal: FakeJournal) -> None:
    assert [session.purpose for session in sessions_of(journal, "heron")] == ["at origin", "on arrival"]


def test_the_shelf_has_something_of_everything_that_can_be_owed(journal: FakeJournal) -> None:
    day = max(row["began"] for row in scenario()["sessions"]).date()
    owed = {owed_to(line, day) for line in journal.shelf()}

    assert {"to taste", "half tasted", "to write", "done"} <= owed


def test_every_cup_is_kept_as_the_file_says(journal: FakeJournal) -> None:
    for row, tasting in tastings(journal):
        cups = [row["rinse"]] if "rinse" in row else []
        cups += row.get("cups", [])

        assert [round((one.actual_ms or 0) / 1000, 3) for one in tasting.infusions] == [cup["steep"] for cup in cups]
        assert [one.water_c for one in tasting.infusions] == [cup["water"] for cup in cups]
        assert [bool(one.liquor) for one in tasting.infusions] == ["liquor" in cup for cup in cups]
        assert [one.clarity for one in tasting.infusions] == [cup.get("clarity", "") for cup in cups]


def test_sessions_end_as_the_file_says(journal: FakeJournal) -> None:
    for row, tasting in tastings(journal):
        verdict = row.get("close", {}).get("verdict", {})

        assert tasting.session.is_open == row.get("stays_open", False)
        assert (tasting.verdict.decision if tasting.verdict else "") == verdict.get("decision", "")
        assert tasting.steeping is None


def test_every_word_said_is_kept_as_it_stands(journal: FakeJournal) -> None:
    for row, tasting in tastings(journal):
        said = {saying.text for saying in tasting.sayings}
        parts = [row.get("leaf", {}), row.get("rinse", {}), *row.get("cups", ()), row.get("close", {})]
        keys = {step.key for step in tasting.session.course.steps} | {"words"}
        texts = {part[key] for part in parts for key in keys & part.keys() if isinstance(part[key], str)}

        assert texts == said


def test_every_impression_has_a_family_and_was_caught_fresh(journal: FakeJournal) -> None:
    vocabulary = real_vocabulary()
    for _, tasting in tastings(journal):
        for one in tasting.impressions:
            assert vocabulary.family_of(one.descriptor), one.word
            assert not one.late, one.word


def test_what_the_surroundings_may_have_caused_is_marked(journal: FakeJournal) -> None:
    for row, tasting in tastings(journal):
        wanted = {word for cup in row.get("cups", ()) for word in cup.get("clouded", ())}

        assert {one.descriptor for one in tasting.impressions if one.clouded} == wanted
        assert not wanted or tasting.session.conditions.smells_nearby


def test_everything_lies_within_what_can_be(journal: FakeJournal) -> None:
    for _, tasting in tastings(journal):
        session = tasting.session
        assert session.purpose in PURPOSES
        assert LEAF_G.checked(session.leaf_g or 0)
        assert VOLUME_ML.checked(session.volume_ml or 0)
        assert all(one.clarity in ("", *CLARITIES) for one in tasting.infusions)
        assert all(WATER_C.checked(one.water_c or -1) for one in tasting.infusions)
        assert tasting.verdict is None or tasting.verdict.decision in DECISIONS


def test_moments_are_in_order(journal: FakeJournal) -> None:
    for _, tasting in tastings(journal):
        acts = journal.acts(tasting.session.uid)
        assert tasting.lot.created_at_utc <= tasting.session.started_at_utc
        assert all(earlier.at_utc <= later.at_utc for earlier, later in pairwise(acts))
        assert acts[-1].at_utc - acts[0].at_utc < timedelta(hours=3)
        for lot in journal.lots():
            assert lot.harvested_on is None or lot.harvested_on <= lot.created_at_utc.date()
            assert lot.roast.on is None or lot.roast.on <= lot.created_at_utc.date()


def test_two_sessions_never_run_at_once(journal: FakeJournal) -> None:
    times = [journal.acts(session.uid) for session in journal.sessions()]

    assert all(earlier[-1].at_utc < later[0].at_utc for earlier, later in pairwise(times))


def test_a_played_session_can_be_taken_back_act_by_act(journal: FakeJournal) -> None:
    for _, tasting in tastings(journal):
        acts = journal.acts(tasting.session.uid)

        assert history_of(acts).undoable == acts
        assert all(act.label.strip() for act in acts)


def test_the_scripted_clock_moves_only_when_it_is_moved() -> None:
    clock = ScriptedClock(datetime(2026, 5, 18, 9, 41, tzinfo=UTC))
    began = clock.now()

    still = clock.now().ms_since(began)
    clock.advance(28.1)

    assert still == 0
    assert clock.now().ms_since(began) == 28_100
    assert clock.monotonic_s() - began.monotonic_s == pytest.approx(28.1)


@pytest.mark.parametrize(("month", "offset_min"), [(1, 0), (3, 0), (4, 60), (7, 60), (10, 60), (11, 0), (12, 0)])
def test_the_harbour_town_keeps_summer_time(month: int, offset_min: int) -> None:
    moment = datetime(2026, month, 15, tzinfo=UTC)

    assert ScriptedClock(moment).utc_offset_min(moment) == offset_min


def test_scripted_ids_are_the_same_for_the_same_seed_and_sort_by_when_they_were_given() -> None:
    first, second, other = ScriptedIds(7), ScriptedIds(7), ScriptedIds(8)

    given = [first.new() for _ in range(300)]

    assert given == [second.new() for _ in range(300)]
    assert given == sorted(set(given))
    assert other.new() != given[0]
