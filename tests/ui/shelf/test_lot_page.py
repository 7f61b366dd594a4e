"""A lot's page by keyboard and by finger."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QWidget

from tastebook.ui.shelf.screen import ShelfScreen
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import PlainButton
from tests.shelf_scene import Scene, furnished, many_lots
from tests.ui.shelf.hands import ALT, CTRL, focused, heard, key
from tests.ui.shelf.test_screen import open_session, uid_of
from tests.ui.widgets.hands import tap, told

Show = Callable[[QWidget], None]


def opened(themes: Themes, show: Show, scene: Scene, lot_uid: str, width: int = 1440) -> ShelfScreen:
    screen = ShelfScreen(themes, scene.presenter)
    screen.resize(width, 900)
    show(screen)
    screen.open_lot(lot_uid)
    QApplication.processEvents()  # a page comes into sight with the next turn of the event loop
    return screen


def link(screen: ShelfScreen, words: str) -> PlainButton:
    return next(
        one for one in screen.page.facts.findChildren(PlainButton) if one.label == words and one.isVisibleTo(screen)
    )


def texts(screen: ShelfScreen) -> list[str]:
    return [label.text() for label in screen.page.facts.findChildren(QLabel) if label.isVisibleTo(screen.page)]


def test_the_page_tells_provenance_and_sessions(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = opened(themes, show, scene, uid_of(scene, "Heron Ridge", "HR-25"))

    assert "1,100 m" in texts(screen)
    assert "spring 2025" in texts(screen)
    strip = screen.page.sessions.strips[0]
    assert told(strip).startswith("18 April 2026, on arrival. Gaiwan session, 6.5 g in a 110 ml gaiwan, by Ada.")


def test_the_next_act_has_the_keyboard(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = opened(themes, show, scene, uid_of(scene, "Ashgrove"))
    asked = heard(screen.session_requested)

    key(Qt.Key.Key_Return)

    assert asked == [uid_of(scene, "Ashgrove")]


def test_a_half_tasted_lot_is_resumed(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = opened(themes, show, scene, uid_of(scene, "Heron Ridge", "HR-26"))
    resumed = heard(screen.bench_requested)
    assert screen.page.taste.label == "Resume"

    tap(screen.page.taste)
    tap(screen.page.sessions.strips[0])

    assert resumed == [open_session(scene)] * 2


def test_a_session_that_is_over_opens_its_arc(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = opened(themes, show, scene, uid_of(scene, "Heron Ridge", "HR-25"))
    asked = heard(screen.arc_requested)
    strip = screen.page.sessions.strips[0]

    strip.setFocus()
    key(Qt.Key.Key_Return)

    assert asked == [strip.strip.session_uid]


@pytest.mark.parametrize("back", ["Esc", "Alt Left", "button"])
def test_links_lead_from_batch_to_batch_and_back(themes: Themes, show: Show, back: str) -> None:
    scene = furnished()
    earlier, later = uid_of(scene, "Heron Ridge", "HR-25"), uid_of(scene, "Heron Ridge", "HR-26")
    screen = opened(themes, show, scene, later)

    tap(link(screen, "Heron Ridge, spring 2025"))
    assert screen.page.lot_uid == earlier
    for _ in range(2):
        if back == "Esc":
            key(Qt.Key.Key_Escape)
        elif back == "Alt Left":
            key(Qt.Key.Key_Left, modifier=ALT)
        else:
            tap(screen.page._back)

    assert screen.page.lot_uid == later
    assert screen.pane.isVisible()


def test_what_is_missing_leads_to_its_field(themes: Themes, show: Show) -> None:
    scene = furnished()
    screen = opened(themes, show, scene, uid_of(scene, "Lantern Terrace"))

    tap(link(screen, "altitude"))

    assert screen.form.isVisible()
    assert focused() is screen.form.fields["altitude_m"]
    key("1400", Qt.Key.Key_Escape)
    assert screen.page.isVisible()
    QApplication.processEvents()
    assert "1,400 m" in texts(screen)


def test_putting_away_and_undo_are_told(themes: Themes, show: Show) -> None:
    scene = furnished()
    lot_uid = uid_of(scene, "Ashgrove")
    screen = opened(themes, show, scene, lot_uid)

    tap(screen.page.put_away)
    assert scene.shelf.lot(lot_uid).archived
    assert screen.page.put_away.label == "Take out again"
    key(Qt.Key.Key_Z, modifier=CTRL)

    assert not scene.shelf.lot(lot_uid).archived
    assert screen.page.notice.words == "Taken back: Ashgrove put away."
    key(Qt.Key.Key_Y, modifier=CTRL)
    assert scene.shelf.lot(lot_uid).archived


def test_undo_says_beforehand_what_it_would_take_back(themes: Themes, show: Show) -> None:
    scene = furnished()
    lot = scene.lot("Ashgrove, next")
    screen = opened(themes, show, scene, lot.uid)
    assert told(screen.page.take_back) == "Undo: Ashgrove, next added"

    tap(screen.page.take_back)

    assert screen.pane.isVisible()
    assert screen.pane.notice.words == "Taken back: Ashgrove, next added."


def test_a_next_batch_opens_a_form_that_knows_what_it_follows(themes: Themes, show: Show) -> None:
    scene = furnished()
    lot_uid = uid_of(scene, "Heron Ridge", "HR-26")
    screen = opened(themes, show, scene, lot_uid)

    tap(screen.page.next_batch)

    assert screen.form.isVisible()
    assert screen.form.follows.currentText() == "Heron Ridge, spring 2026"
    assert screen.form.fields["cultivar"].text() == "Jin Xuan"  # type: ignore[union-attr]
    assert screen.form.fields["batch"].text() == ""  # type: ignore[union-attr]


def test_long_histories_are_shown_piece_by_piece(themes: Themes, show: Show) -> None:
    scene = many_lots(1, 15)
    screen = opened(themes, show, scene, "lot-00000")
    assert len(screen.page.sessions.strips) == 12

    tap(screen.page.sessions._earlier)

    assert len(screen.page.sessions.strips) == 15
    assert not screen.page.sessions._earlier.isVisible()


@pytest.mark.parametrize("width", [1440, 1280, 1000])
def test_nothing_on_the_page_is_wider_than_its_place(themes: Themes, show: Show, width: int) -> None:
    scene = furnished()
    screen = opened(themes, show, scene, uid_of(scene, "Heron Ridge", "HR-26"), width)
    screen.grab()

    for one in screen.page.findChildren(QWidget):
        if one.isVisible() and one.parentWidget() is screen.page:
            assert one.geometry().right() <= screen.page.width()
    assert screen.page.taste.geometry().right() <= width - 24
