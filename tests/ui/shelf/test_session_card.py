"""The new-session card by keyboard and by finger."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QWidget

from tastebook.domain.errors import JournalFull
from tastebook.domain.lot import Lot
from tastebook.ui.shelf.session_card import SessionCard
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.drawn import Control
from tests.shelf_scene import Scene
from tests.ui.shelf.hands import SHIFT, focused, heard, key
from tests.ui.widgets.hands import tap, told

Show = Callable[[QWidget], None]


def card_for(
    themes: Themes, show: Show, scene: Scene, lot: Lot | None = None, width: int = 1280, height: int = 720
) -> SessionCard:
    one = lot or scene.lot("Ashgrove", form="bud")
    card = SessionCard(themes, scene.presenter.opening(one.uid, "Ada"))
    card.resize(width, height)
    show(card)
    return card


def test_enter_alone_begins(themes: Themes, show: Show) -> None:
    scene = Scene()
    card = card_for(themes, show, scene)
    begun = heard(card.begun)

    key(Qt.Key.Key_Return)

    assert begun == [scene.journal.sessions()[0].uid]


def test_enter_begins_from_every_field_and_bar(themes: Themes, show: Show) -> None:
    scene = Scene()
    card = card_for(themes, show, scene)
    begun = heard(card.begun)
    stops: list[QWidget] = [*card.fields.values(), card.course, card.leaf_by.segments[0], card.begin]

    visible = [stop for stop in stops if stop.isVisible()]
    for stop in visible:
        stop.setFocus()
        key(Qt.Key.Key_Return)

    assert len(begun) == len(visible)


def test_the_weight_has_the_keyboard_and_is_overwritten(themes: Themes, show: Show) -> None:
    scene = Scene()
    scene.session(scene.lot("Other"), leaf_g=6.5)
    card = card_for(themes, show, scene)
    assert focused() is card.fields["leaf_g"]

    key("7", Qt.Key.Key_Return)

    assert scene.journal.sessions()[-1].leaf_g == 7.0


def test_tab_goes_through_the_card_in_the_order_it_stands(themes: Themes, show: Show) -> None:
    card = card_for(themes, show, Scene())
    card.course.setFocus()
    names = {widget: name for name, widget in card.fields.items()}
    others = {card.course: "course", card.leaf_by.segments[0]: "leaf by", card.begin: "begin"}
    visited = []

    for _ in range(21):
        visited.append(names.get(focused()) or others.get(focused(), ""))  # type: ignore[call-overload]
        key(Qt.Key.Key_Tab)

    assert visited[:20] == [
        "course", "purpose", "taster", "vessel", "volume_ml", "leaf by", "leaf_g", "water_source", "water_tds_mg_l",
        "altitude_m", "place", "smells_nearby", "light", "wind", "palate", "kettle", "pressure_hpa", "vessel_at_start",
        "swallowed", "begin",
    ]  # fmt: skip


def test_leaf_is_judged_by_eye_by_keyboard(themes: Themes, show: Show) -> None:
    scene = Scene()
    card = card_for(themes, show, scene)

    key(Qt.Key.Key_Tab, modifier=SHIFT)
    key(Qt.Key.Key_Right)
    assert not card.fields["leaf_g"].isVisible()
    card.fill.segments[0].setFocus()
    key(Qt.Key.Key_Space)
    key(Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Right)
    assert card._leaf_words.text().startswith("About 5.5 g, within a third either way, bud leaf.")
    key(Qt.Key.Key_Return)

    session = scene.journal.sessions()[-1]
    assert (session.leaf_fill, session.leaf_by_eye) == (0.5, True)


def test_leaf_is_judged_by_eye_by_finger_with_a_form_told_for_the_first_time(themes: Themes, show: Show) -> None:
    scene = Scene()
    lot = scene.lot("Heron Ridge")
    card = card_for(themes, show, scene, lot)

    tap(card.leaf_by.segments[1])
    tap(card.fill.segments[1])
    card.fields["leaf_form"].setFocus()
    key("ball")
    tap(card.begin)

    assert scene.shelf.lot(lot.uid).form == "ball"
    assert scene.journal.sessions()[-1].leaf_g == 10.4


def test_a_lot_with_a_known_form_is_not_asked_for_it(themes: Themes, show: Show) -> None:
    card = card_for(themes, show, Scene())

    tap(card.leaf_by.segments[1])

    assert not card.fields["leaf_form"].isVisible()


def test_a_wrong_number_keeps_the_card_and_the_keyboard_goes_there(themes: Themes, show: Show) -> None:
    scene = Scene()
    card = card_for(themes, show, scene)
    begun = heard(card.begun)
    card.fields["altitude_m"].setFocus()

    key("99999", Qt.Key.Key_Return)

    assert begun == []
    assert card.parts["altitude_m"].note.words == "Altitude cannot be 99999 m: it must be from -430 to 9000 m."
    assert focused() is card.fields["altitude_m"]
    assert scene.journal.sessions() == ()


def test_a_course_is_chosen_and_brings_its_vessel(themes: Themes, show: Show) -> None:
    scene = Scene()
    card = card_for(themes, show, scene)
    card.course.setFocus()

    key("Comparison")

    assert card.course.currentText() == "Comparison cup"
    assert card.fields["vessel"].text() == "large pot, 310 ml"
    assert card.fields["leaf_g"].text() == "5.6"
    assert card._leaf_words.text() == "Comparison cup asks for 5.6 g ± 0.1 g in 285 ml."


@pytest.mark.parametrize("by", ["Esc", "Alt Left", "button"])
def test_leaving_begins_nothing(themes: Themes, show: Show, by: str) -> None:
    scene = Scene()
    card = card_for(themes, show, scene)
    left = heard(card.left)

    if by == "Esc":
        key(Qt.Key.Key_Escape)
    elif by == "Alt Left":
        key(Qt.Key.Key_Left, modifier=Qt.KeyboardModifier.AltModifier)
    else:
        tap(card._back)

    assert left == [None]
    assert scene.journal.sessions() == ()


def test_a_full_disk_is_told_above_and_what_was_typed_stays(themes: Themes, show: Show) -> None:
    scene = Scene()
    card = card_for(themes, show, scene)
    card.fields["place"].setFocus()
    scene.journal.next_commit_fails = JournalFull("The disk is full.")

    key("counter", Qt.Key.Key_Return)

    assert card.notice.words == "The disk is full."
    assert card.fields["place"].text() == "counter"


def test_the_whole_card_fits_a_small_window(themes: Themes, show: Show) -> None:
    card = card_for(themes, show, Scene(), width=1280, height=720)
    card.grab()

    bottom = card.begin.mapTo(card, card.begin.rect().bottomLeft()).y()

    assert bottom < 720


def test_everything_on_the_card_has_a_name(themes: Themes, show: Show) -> None:
    card = card_for(themes, show, Scene())

    controls = [*card.findChildren(Control), *card.findChildren(QLineEdit)]

    assert [one for one in controls if not told(one)] == []
    assert told(card.fields["volume_ml"]) == "Volume, in ml"
    assert told(card.fill.segments[2]) == "three eighths"
