"""What one can do with the lots."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from tastebook.domain.errors import QuantityError, TastingError
from tastebook.domain.lot import Lot, ProcessingStep, Roast
from tastebook.services.shelf import Opening, following, owed_to
from tests.fakes import MORNING_UTC
from tests.shelf_scene import Scene, furnished

TODAY = date(2026, 4, 18)


def owed(scene: Scene) -> dict[str, str]:
    return {f"{line.lot.name} {line.lot.batch}".strip(): owed_to(line, TODAY) for line in scene.shelf.lines()}


def test_each_lot_says_what_is_owed_to_it() -> None:
    scene = furnished()

    assert owed(scene) == {
        "Heron Ridge HR-25": "done",
        "Heron Ridge HR-26": "half tasted",
        "Lantern Terrace": "to taste",
        "Quiet Ferry": "to taste",
        "Ashgrove": "to write",
        "Old Granary": "resting",
        "Low Cloud": "archived",
    }


@pytest.mark.parametrize(
    ("today", "expected"),
    [(date(2026, 5, 31), "resting"), (date(2026, 6, 1), "to taste"), (date(2027, 1, 1), "to taste")],
)
def test_a_lot_is_to_taste_again_on_the_day_its_rest_ends(today: date, expected: str) -> None:
    scene = furnished()
    granary = next(line for line in scene.shelf.lines() if line.lot.name == "Old Granary")

    assert owed_to(granary, today) == expected


def test_a_lot_at_rest_without_a_day_rests_on() -> None:
    scene = Scene()
    lot = scene.lot("Low Cloud")
    scene.verdict(scene.session(lot), "rest until")

    assert owed_to(scene.shelf.lines()[0], date(2030, 1, 1)) == "resting"


def test_a_lot_is_amended_field_by_field_and_keeps_what_another_window_wrote() -> None:
    scene = Scene()
    lot = scene.lot("Ashgrove")
    scene.shelf.change(lot.uid, "batch", batch="A-7")

    scene.shelf.change(lot.uid, "altitude", altitude_m=90.0)

    kept = scene.shelf.lot(lot.uid)
    assert (kept.batch, kept.altitude_m) == ("A-7", 90.0)


def test_taking_back_an_amendment_brings_back_what_was() -> None:
    scene = Scene()
    lot = scene.lot("Ashgrove")
    scene.shelf.change(lot.uid, "altitude", altitude_m=90.0)

    label = scene.shelf.undo(lot.uid)

    assert label == "altitude of Ashgrove"
    assert scene.shelf.lot(lot.uid).altitude_m is None
    assert scene.shelf.redo(lot.uid) == "altitude of Ashgrove"
    assert scene.shelf.lot(lot.uid).altitude_m == 90.0


def test_nothing_left_to_take_back_is_no_trouble() -> None:
    scene = Scene()
    lot = scene.lot("Ashgrove")
    scene.shelf.undo(lot.uid)

    assert scene.shelf.undo(lot.uid) == ""
    assert scene.shelf.lines() == ()


def test_a_lot_that_was_tasted_or_followed_cannot_be_taken_back() -> None:
    scene = Scene()
    tasted, followed = scene.lot("Ashgrove"), scene.lot("Quiet Ferry")
    scene.session(tasted)
    scene.lot("Quiet Ferry, next", follows=followed.uid)

    with pytest.raises(TastingError, match="has been tasted"):
        scene.shelf.undo(tasted.uid)
    with pytest.raises(TastingError, match="Another lot follows"):
        scene.shelf.undo(followed.uid)


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ({"name": "  "}, "A lot needs a name"),
        ({"altitude_m": 12_000.0}, "altitude cannot be 12000 m: it must be from -430 to 9000 m"),
        ({"harvest_year": 26}, "harvest year cannot be 26: it must be from 1900 to 2200"),
        ({"oxidation_pct": 101.0}, "oxidation"),
        ({"roast": Roast(hours=-1)}, "time cannot be -1 h"),
        ({"processing": (ProcessingStep("piling", 20_000),)}, "time cannot be 20000 h"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_kept(fields: dict[str, object], message: str) -> None:
    scene = Scene()
    lot = scene.lot("Ashgrove")

    with pytest.raises((QuantityError, TastingError), match=message):
        scene.shelf.change(lot.uid, "something", **fields)

    assert scene.shelf.lot(lot.uid) == lot


def test_no_lot_follows_itself_at_any_distance() -> None:
    scene = Scene()
    first = scene.lot("Heron Ridge")
    second = scene.lot("Heron Ridge", follows=first.uid)
    third = scene.lot("Heron Ridge", follows=second.uid)

    for later in (first, second, third):
        with pytest.raises(TastingError, match="cannot follow itself"):
            scene.shelf.change(first.uid, "what it follows", follows=later.uid)
    assert following(first.uid, scene.journal.lots()) == {first.uid, second.uid, third.uid}
    assert scene.shelf.change(third.uid, "what it follows", follows=first.uid).follows == first.uid


def test_an_opening_is_filled_in_from_the_session_begun_last() -> None:
    scene = Scene()
    lot = scene.lot("Ashgrove", form="bud")
    opening = replace(Opening(), vessel="pot", volume_ml=300.0, leaf_fill=0.5, water_source="spring", taster="Ada")
    scene.shelf.begin(lot, opening)

    again = scene.shelf.opening_for(scene.lot("Quiet Ferry"))

    assert (again.vessel, again.volume_ml, again.water_source, again.taster) == ("pot", 300.0, "spring", "Ada")
    assert (again.leaf_g, again.leaf_fill) == (None, 0.5)


@pytest.mark.parametrize(("before", "expected"), [("at origin", "on arrival"), ("on arrival", "retaste")])
def test_the_purpose_follows_from_what_was_done_with_the_lot(before: str, expected: str) -> None:
    scene = Scene()
    lot = scene.lot("Heron Ridge")
    scene.session(lot, purpose=before)
    line = scene.shelf.lines()[0]

    assert scene.shelf.opening_for(lot, earlier=line.sessions).purpose == expected
    assert scene.shelf.opening_for(lot).purpose == expected


def test_a_retaste_of_one_lot_does_not_make_the_next_new_lot_a_retaste() -> None:
    scene = Scene()
    scene.session(scene.lot("Heron Ridge"), purpose="retaste")

    assert scene.shelf.opening_for(scene.lot("Ashgrove")).purpose == "on arrival"


def test_a_course_that_is_gone_gives_way_to_one_that_is_there() -> None:
    scene = Scene()
    lot = scene.lot("Ashgrove")
    begun = scene.shelf.begin(lot, Opening())
    scene.session(lot, course=replace(begun.course, key="own-and-deleted"))

    assert scene.shelf.opening_for(lot).course_key in {course.key for course in scene.shelf.courses()}


def test_weighed_leaf_is_no_leaf_by_eye() -> None:
    scene = Scene()
    lot = scene.lot("Heron Ridge", form="ball")

    session = scene.shelf.begin(lot, Opening(leaf_g=6.5, leaf_fill=0.25))

    assert (session.leaf_g, session.leaf_by_eye, session.leaf_fill) == (6.5, False, None)


def test_leaf_by_eye_is_estimated_from_the_form_told_where_the_lot_has_none() -> None:
    scene = Scene()
    lot = scene.lot("Heron Ridge")

    by_eye = scene.shelf.begin(lot, Opening(leaf_fill=0.25, volume_ml=100.0, leaf_form="ball"))
    without = scene.shelf.begin(lot, Opening(leaf_fill=0.25, volume_ml=100.0))

    # Bulk densities from memory: 0.38 g/ml rolled to balls, 0.20 of middle density.
    assert (by_eye.leaf_g, by_eye.leaf_by_eye, by_eye.leaf_fill) == (9.5, True, 0.25)
    assert without.leaf_g == 5.0


@pytest.mark.parametrize(
    "wrong", [{"volume_ml": 5.0}, {"leaf_g": 0.0}, {"altitude_m": 9500.0}, {"water_tds_mg_l": -1.0}]
)
def test_an_opening_that_cannot_be_begins_nothing(wrong: dict[str, float]) -> None:
    scene = Scene()
    lot = scene.lot("Ashgrove")

    with pytest.raises(QuantityError):
        scene.shelf.begin(lot, replace(Opening(), **wrong))

    assert scene.journal.sessions() == ()


def test_an_unknown_course_is_named_with_those_that_are_known() -> None:
    scene = Scene()
    lot = scene.lot("Ashgrove")

    with pytest.raises(TastingError, match=r"no course “tea ceremony”.*gaiwan"):
        scene.shelf.begin(lot, Opening(course_key="tea ceremony"))


def test_today_is_the_local_day() -> None:
    scene = Scene()
    scene.clock.offset_min = 15 * 60

    assert scene.shelf.today() == date(2026, 4, 19)
    assert Lot("x", "x", MORNING_UTC).created_at_utc.date() == TODAY
