"""The new-session card."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tastebook.domain.errors import JournalFull
from tastebook.domain.lot import Lot
from tastebook.domain.session import Conditions
from tastebook.presenters.opening import OpeningPresenter
from tastebook.services.shelf import Opening
from tests.shelf_scene import Scene

ELEVEN_ML = "about 1 g, within a third either way"


def card_for(scene: Scene, lot: Lot, taster: str = "") -> OpeningPresenter:
    return scene.presenter.opening(lot.uid, taster)


def test_nothing_needs_to_be_typed_to_begin() -> None:
    scene = Scene()
    lot = scene.lot("Ashgrove")

    uid = card_for(scene, lot, "Ada").begin()

    session = scene.journal.tasting(uid).session
    assert (session.lot_uid, session.course.key, session.vessel, session.taster) == (lot.uid, "gaiwan", "gaiwan", "Ada")
    assert session.volume_ml == 110.0


def test_everything_is_filled_in_from_last_time_and_begun_as_it_stands() -> None:
    scene = Scene()
    lot, next_lot = scene.lot("Ashgrove"), scene.lot("Quiet Ferry")
    last = Opening(
        course_key="western_pot", vessel="pot", volume_ml=300.0, leaf_g=6.5, water_source="spring",
        water_tds_mg_l=85.0, altitude_m=1100.0, purpose="at origin", taster="Ada",
        conditions=Conditions("factory", "daylight", "breeze", "wet leaf", "fresh"),
    )  # fmt: skip
    first = scene.shelf.begin(lot, last)

    uid = card_for(scene, next_lot).begin()

    again = scene.journal.tasting(uid).session
    same = replace(again, uid=first.uid, lot_uid=first.lot_uid)
    assert same == first


def test_leaf_by_eye_says_how_rough_it_is() -> None:
    scene = Scene()
    card = card_for(scene, scene.lot("Heron Ridge", form="ball"))
    card.weigh("by eye")
    card.fill(2)

    view = card.view()

    assert view.estimate == "about 10.4 g, within a third either way"
    session = scene.journal.tasting(card.begin()).session
    assert (session.leaf_by_eye, session.leaf_fill, session.leaf_g) == (True, 0.25, 10.4)


def test_leaf_by_eye_of_last_time_stands_again() -> None:
    scene = Scene()
    first = card_for(scene, scene.lot("Heron Ridge", form="ball"))
    first.weigh("by eye")
    first.fill(3)
    first.begin()

    view = card_for(scene, scene.lot("Low Cloud", form="bud")).view()

    assert (view.leaf_by, view.fill) == ("by eye", 3)
    assert view.fields["leaf_g"].text == ""


def test_leaf_by_eye_needs_the_volume() -> None:
    scene = Scene()
    card = card_for(scene, scene.lot("Heron Ridge", form="ball"))
    card.weigh("by eye")
    card.fill(2)
    card.type("volume_ml", "")

    assert card.view().estimate == "Say the volume, and the leaf can be estimated."
    assert card.begin() == ""
    assert card.view().fields["volume_ml"].error == "The volume is needed to estimate the leaf by eye."
    assert scene.journal.sessions() == ()


def test_a_form_told_for_the_first_time_stays_with_the_lot() -> None:
    scene = Scene()
    lot = scene.lot("Heron Ridge")
    card = card_for(scene, lot)
    card.weigh("by eye")
    card.fill(2)
    card.type("leaf_form", "ball")

    session = scene.journal.tasting(card.begin()).session

    assert scene.shelf.lot(lot.uid).form == "ball"
    assert session.leaf_g == 10.4


def test_a_form_of_last_time_is_not_told_of_another_lot() -> None:
    scene = Scene()
    card = card_for(scene, scene.lot("Heron Ridge"))
    card.weigh("by eye")
    card.fill(2)
    card.type("leaf_form", "ball")
    card.begin()

    assert card_for(scene, scene.lot("Low Cloud")).view().fields["leaf_form"].text == ""


def test_half_typed_numbers_do_not_disturb_what_is_worked_out() -> None:
    scene = Scene()
    card = card_for(scene, scene.lot("Heron Ridge", form="ball"))
    card.weigh("by eye")
    card.fill(2)

    for text in ("1", "11", "1x", ""):
        card.type("volume_ml", text)

        assert card.view().estimate in ("Say the volume, and the leaf can be estimated.", ELEVEN_ML)


@pytest.mark.parametrize(
    ("key", "typed", "error"),
    [
        ("volume_ml", "5", "Volume cannot be 5 ml: it must be from 10 to 5000 ml."),
        ("leaf_g", "lots", "“lots” is not a number. Write it in g."),
        ("water_tds_mg_l", "-3", "Dissolved solids cannot be -3 mg/l: it must be from 0 to 5000 mg/l."),
        ("altitude_m", "9900", "Altitude cannot be 9900 m: it must be from -430 to 9000 m."),
    ],
)
def test_what_cannot_be_is_told_at_its_field_and_nothing_begins(key: str, typed: str, error: str) -> None:
    scene = Scene()
    card = card_for(scene, scene.lot("Ashgrove"))
    card.type(key, typed)
    card.leave(key)
    assert card.view().fields[key].error == error

    assert card.begin() == ""

    assert card.view().first_error == key
    assert scene.journal.sessions() == ()
    card.type(key, "")
    assert card.begin() != ""


def test_a_weight_is_not_read_while_the_leaf_is_judged_by_eye() -> None:
    scene = Scene()
    card = card_for(scene, scene.lot("Ashgrove", form="bud"))
    card.type("leaf_g", "lots")
    card.weigh("by eye")
    card.fill(4)

    assert card.begin() != ""


def test_a_course_with_a_dose_gives_it_as_a_hint() -> None:
    scene = Scene()
    card = card_for(scene, scene.lot("Ashgrove"))

    assert card.view().dose == "Gaiwan session: 5 g per 100 ml, so 5.5 g here."
    card.type("volume_ml", "")
    assert card.view().dose == "Gaiwan session: 5 g per 100 ml."


def test_a_course_with_its_own_vessel_brings_it_and_gives_back_what_was() -> None:
    scene = Scene()
    card = card_for(scene, scene.lot("Ashgrove"))
    card.type("leaf_g", "6.5")

    card.choose_course("comparison_cup")

    # ISO 3103:2019, as the course quotes it: 2 g to 100 ml, ± 2 %; 5.6 g in the large pot.
    texts = {key: field.text for key, field in card.view().fields.items()}
    assert (texts["vessel"], texts["volume_ml"], texts["leaf_g"]) == ("large pot, 310 ml", "285", "5.6")
    assert card.view().dose == "Comparison cup asks for 5.6 g ± 0.1 g in 285 ml."
    card.type("vessel", "small pot, 150 ml")
    assert card.view().fields["leaf_g"].text == "2.8"
    card.choose_course("gaiwan")
    texts = {key: field.text for key, field in card.view().fields.items()}
    assert (texts["vessel"], texts["volume_ml"], texts["leaf_g"]) == ("gaiwan", "110", "6.5")


def test_the_card_says_where_the_lot_stands() -> None:
    scene = Scene()
    first = scene.lot("Heron Ridge", season="spring", harvest_year=2025)
    lot = scene.lot("Heron Ridge", season="spring", harvest_year=2026, follows=first.uid)
    assert card_for(scene, lot).view().lineage == "follows Heron Ridge, spring 2025; never tasted"

    scene.verdict(scene.session(lot, purpose="at origin"), "buy")

    view = card_for(scene, lot).view()
    assert view.lot == "Heron Ridge, spring 2026"
    assert view.lineage == "follows Heron Ridge, spring 2025; last tasted 18 April 2026 at origin: buy"
    assert view.fields["purpose"].text == "on arrival"


def test_a_full_disk_is_told_and_everything_typed_stays() -> None:
    scene = Scene()
    card = card_for(scene, scene.lot("Ashgrove"))
    card.type("place", "counter")
    scene.journal.next_commit_fails = JournalFull("The disk is full.")

    assert card.begin() == ""

    assert card.view().notice == "The disk is full."
    assert card.view().fields["place"].text == "counter"
