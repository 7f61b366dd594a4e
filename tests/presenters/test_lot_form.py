"""The form of a lot: what is typed, when it is kept, what is refused."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from tastebook.domain.errors import JournalFull
from tastebook.domain.lot import ProcessingStep, Roast
from tastebook.presenters.lot_form import FieldView, LotFormPresenter
from tastebook.presenters.lot_form_fields import FIELDS
from tests.shelf_scene import Scene, furnished


def field(form: LotFormPresenter, key: str) -> FieldView:
    return next(one for group in form.view().groups for one in group.fields if one.key == key)


def write(form: LotFormPresenter, key: str, text: str) -> None:
    form.type(key, text)
    form.leave(key)


def amending(scene: Scene) -> LotFormPresenter:
    lot = scene.lot("Ashgrove", kind="black")
    return scene.presenter.form(lot.uid)


def test_a_new_lot_needs_a_name_and_nothing_else() -> None:
    scene = Scene()
    form = scene.presenter.new_form()

    assert form.add() == ""
    assert form.view().first_error == "name"
    assert field(form, "name").error == "A lot needs a name."
    write(form, "name", " Ashgrove ")
    uid = form.add()

    assert scene.shelf.lot(uid).name == "Ashgrove"


def test_every_field_of_a_lot_is_kept_as_it_was_typed() -> None:
    scene = Scene()
    earlier = scene.lot("Heron Ridge", harvest_year=2025)
    form = scene.presenter.new_form()
    typed = {
        "name": "Heron Ridge", "kind": "oolong", "cultivar": "Jin Xuan", "cultivar_local": "金萱", "form": "ball",
        "scented_with": "", "garden": "upper field", "region": "Nantou", "country": "Taiwan", "altitude_m": "1,100 m",
        "season": "spring", "harvest_year": "2026", "harvested_on": "2 April 2026", "plucking": "opened leaf",
        "oxidation_pct": "25", "roast.level": "medium", "roast.hours": "90 min", "roast.on": "2026-04-10",
        "roast.fuel": "charcoal", "supplier": "Heron & Slate", "batch": "HR-26", "price_per_kg": "84.00",
        "currency": "EUR", "quantity_g": "2 kg", "notes": "Two tins.",
    }  # fmt: skip
    assert set(typed) == {spec.key for spec in FIELDS}
    for key, text in typed.items():
        write(form, key, text)
    form.add_step()
    form.type_step(0, name="withering", hours="6")
    form.follow(earlier.uid)

    lot = scene.shelf.lot(form.add())

    assert (lot.altitude_m, lot.harvest_year, lot.harvested_on) == (1100.0, 2026, date(2026, 4, 2))
    assert lot.roast == Roast("medium", 1.5, date(2026, 4, 10), "charcoal")
    assert (lot.price_per_kg, lot.currency, lot.quantity_g) == (Decimal("84.00"), "EUR", 2000.0)
    assert lot.processing == (ProcessingStep("withering", 6.0),)
    assert lot.follows == earlier.uid
    again = scene.presenter.form(lot.uid)
    assert field(again, "harvested_on").text == "2 April 2026"
    assert field(again, "price_per_kg").text == "84.00"


@pytest.mark.parametrize(
    ("key", "typed", "error"),
    [
        ("altitude_m", "12000", "Altitude cannot be 12000 m: it must be from -430 to 9000 m."),
        ("altitude_m", "high", "“high” is not a number. Write it in m or ft."),
        ("harvest_year", "26", "Harvest year cannot be 26: it must be from 1900 to 2200."),
        ("harvest_year", "2026.5", "“2026.5” is not a year."),
        ("harvested_on", "1 May 2026", "1 May 2026 is still to come."),
        ("harvested_on", "soon", "“soon” is not a day. Write it as 2026-04-14 or 14 April 2026."),
        ("oxidation_pct", "120", "Oxidation cannot be 120 %: it must be from 0 to 100 %."),
        ("roast.hours", "-2", "Time cannot be -2 h: it must be from 0 to 10000 h."),
        ("price_per_kg", "84 EUR", "“84 EUR” has a unit that is not known here. Write the digits alone, such as 84.00; "
         "the currency has its own field."),
        ("quantity_g", "2 lb", "“2 lb” has a unit that is not known here. Write it in g or kg."),
        ("name", "  ", "A lot needs a name."),
    ],
)  # fmt: skip
def test_what_cannot_be_is_told_at_its_field_and_not_kept(key: str, typed: str, error: str) -> None:
    scene = Scene()
    form = amending(scene)
    before = scene.journal.lots()

    write(form, key, typed)

    assert field(form, key).error == error
    assert field(form, key).text == typed
    assert form.view().first_error == key
    assert scene.journal.lots() == before


def test_the_error_goes_once_one_writes_again() -> None:
    form = amending(Scene())
    write(form, "altitude_m", "high")

    form.type("altitude_m", "90")

    assert field(form, "altitude_m").error == ""


def test_amending_keeps_each_field_as_it_is_left() -> None:
    scene = Scene()
    form = amending(scene)

    form.type("altitude_m", "90")
    assert scene.journal.lots()[0].altitude_m is None
    form.leave("altitude_m")

    assert scene.journal.lots()[0].altitude_m == 90.0
    uid = scene.journal.lots()[0].uid
    assert scene.shelf.history(uid).undoable[-1].label == "altitude of Ashgrove"


def test_a_field_left_as_it_was_is_no_act() -> None:
    scene = Scene()
    form = amending(scene)
    uid = scene.journal.lots()[0].uid
    acts = len(scene.journal.acts(uid))

    for spec in FIELDS:
        form.leave(spec.key)
    form.leave_steps()

    assert len(scene.journal.acts(uid)) == acts


def test_the_year_follows_from_the_day_unless_it_is_given() -> None:
    scene = Scene()
    form = amending(scene)

    write(form, "harvested_on", "14 April 2026")
    assert field(form, "harvest_year").text == "2026"
    write(form, "harvest_year", "2025")
    write(form, "harvested_on", "3 January 2026")

    assert field(form, "harvest_year").text == "2025"
    assert scene.journal.lots()[0].harvest_year == 2025


def test_clearing_a_field_makes_it_unknown_again() -> None:
    scene = Scene()
    form = amending(scene)
    write(form, "altitude_m", "90")

    write(form, "altitude_m", "")

    assert scene.journal.lots()[0].altitude_m is None


def test_parts_of_the_roast_do_not_disturb_each_other() -> None:
    scene = Scene()
    form = amending(scene)

    write(form, "roast.level", "light")
    write(form, "roast.hours", "2")
    write(form, "roast.fuel", "electric")

    assert scene.journal.lots()[0].roast == Roast("light", 2.0, None, "electric")


def test_stages_are_added_moved_and_removed() -> None:
    scene = Scene()
    form = amending(scene)
    for place, name in enumerate(("rolling", "withering", "drying")):
        form.add_step()
        form.type_step(place, name=name)
        form.leave_steps()

    form.move_step(1, -1)
    form.move_step(0, -1)
    form.remove_step(2)

    assert [step.name for step in scene.journal.lots()[0].processing] == ["withering", "rolling"]


def test_a_stage_without_a_name_is_told_and_one_with_nothing_is_left_out() -> None:
    scene = Scene()
    form = amending(scene)
    form.add_step()
    form.add_step()
    form.type_step(0, hours="6")

    form.leave_steps()

    assert [step.error for step in form.view().steps] == ["Name this stage, or clear its hours.", ""]
    assert scene.journal.lots()[0].processing == ()
    form.type_step(0, hours="")
    form.leave_steps()
    assert all(not step.error for step in form.view().steps)


def test_only_lots_that_make_no_circle_are_offered_to_follow() -> None:
    scene = Scene()
    first = scene.lot("Heron Ridge", harvest_year=2024)
    second = scene.lot("Heron Ridge", harvest_year=2025, follows=first.uid)
    third = scene.lot("Heron Ridge", harvest_year=2026, follows=second.uid)

    def offered(uid: str) -> list[str]:
        return [choice.lot_uid for choice in scene.presenter.form(uid).view().follow_choices]

    assert offered(first.uid) == [""]
    assert offered(second.uid) == ["", first.uid]
    assert offered(third.uid) == ["", second.uid, first.uid]


def test_a_circle_made_meanwhile_is_refused_in_words() -> None:
    scene = Scene()
    first, second = scene.lot("Heron Ridge", harvest_year=2025), scene.lot("Heron Ridge", harvest_year=2026)
    form = scene.presenter.form(first.uid)
    scene.shelf.change(second.uid, "what it follows", follows=first.uid)

    form.follow(second.uid)

    assert form.view().notice.startswith("Heron Ridge cannot follow itself")
    assert form.view().follows == ""


def test_a_next_batch_starts_with_what_batches_share() -> None:
    scene = furnished()
    lot = next(line.lot for line in scene.shelf.lines() if line.lot.batch == "HR-26")

    form = scene.presenter.new_form(lot.uid)
    uid = form.add()

    new = scene.shelf.lot(uid)
    assert (new.name, new.cultivar, new.follows, new.processing) == (lot.name, lot.cultivar, lot.uid, lot.processing)
    assert (new.harvest_year, new.batch, new.price_per_kg, new.notes, new.roast.on) == (None, "", None, "", None)
    assert new.roast.level == "medium"
    assert new.created_at_utc == scene.clock.utc_now()


def test_words_written_before_are_offered_again() -> None:
    form = furnished().presenter.new_form()

    assert "Jin Xuan" in field(form, "cultivar").choices
    assert field(form, "kind").choices[:3] == ("green", "yellow", "white")
    assert field(form, "name").choices == ()
    assert field(form, "notes").is_long
    assert "bruising" in form.view().step_choices


def test_an_untouched_form_is_left_without_a_question() -> None:
    scene = furnished()
    lot_uid = scene.shelf.lines()[0].lot.uid

    assert scene.presenter.new_form().may_leave()
    assert scene.presenter.new_form(lot_uid).may_leave()
    assert scene.presenter.form(lot_uid).may_leave()


def test_a_new_lot_with_something_typed_is_asked_for_once() -> None:
    form = Scene().presenter.new_form()
    form.type("name", "Ashgrove")

    assert not form.may_leave()
    assert form.view().question == "Leave without adding this lot? What you typed would be lost."
    form.stay()
    assert form.view().question == ""
    assert not form.may_leave()
    assert form.may_leave()


def test_amending_asks_only_for_what_was_not_kept() -> None:
    form = amending(Scene())
    write(form, "batch", "A-7")
    assert form.may_leave()

    write(form, "altitude_m", "high")

    assert not form.may_leave()
    assert "not kept" in form.view().question
    assert form.may_leave()


def test_an_added_lot_leaves_nothing_to_ask() -> None:
    form = Scene().presenter.new_form()
    form.type("name", "Ashgrove")

    form.add()

    assert form.may_leave()


def test_a_full_disk_is_told_and_what_was_typed_stays() -> None:
    scene = Scene()
    form = amending(scene)
    scene.journal.next_commit_fails = JournalFull("The disk is full.")

    write(form, "batch", "A-7")

    assert field(form, "batch").error == "The disk is full."
    assert field(form, "batch").text == "A-7"
    write(form, "batch", "A-7")
    assert scene.journal.lots()[0].batch == "A-7"


def test_a_new_lot_that_could_not_be_kept_can_be_added_again() -> None:
    scene = Scene()
    form = scene.presenter.new_form()
    write(form, "name", "Ashgrove")
    scene.journal.next_commit_fails = JournalFull("The disk is full.")

    assert form.add() == ""
    assert form.view().notice == "The disk is full."
    assert form.add() != ""
    assert form.view().notice == ""


def test_labels_carry_their_units_for_who_cannot_see() -> None:
    form = Scene().presenter.new_form()

    assert field(form, "altitude_m").told == "Altitude, in m"
    assert field(form, "name").told == "Name"
