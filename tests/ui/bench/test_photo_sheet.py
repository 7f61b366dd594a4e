"""Photographs by finger, by key, dropped and pasted: what is seen, what is told, what is kept."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QGuiApplication, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from tastebook.domain.colour import delta_e00
from tastebook.ui.bench.photo_canvas import STEP
from tastebook.ui.bench.photo_desk import picture_in
from tastebook.ui.bench.photo_sheet import PhotoSheet
from tastebook.ui.theme.theme import Themes
from tastebook.ui.widgets.buttons import LabelButton
from tastebook.ui.widgets.hints import KeyHint
from tastebook.ui.widgets.photo_thumb import PhotoThumb
from tests.cups import AT_BORDER, IN_LIQUOR, IN_WHITE, cup, picture_file
from tests.ui.bench.scene import ALT, CONTROL, SHIFT, Scene, build

Show = Callable[[QWidget], None]
CUP = picture_file(cup())
COPY = Qt.DropAction.CopyAction
LEFT = Qt.MouseButton.LeftButton
NO_KEY = Qt.KeyboardModifier.NoModifier


@pytest.fixture
def scene(themes: Themes, show: Show) -> Scene:
    """Return a Bench at the liquor of infusion 1."""
    scene = build(themes)
    show(scene.screen)
    scene.steep(5)
    scene.press(Qt.Key.Key_Space, CONTROL)
    scene.steep(20)
    scene.go("1", "liquor")
    return scene


def sheet_of(scene: Scene) -> PhotoSheet:
    return scene.screen.photos.sheet


def opened(scene: Scene) -> PhotoSheet:
    scene.screen.photos.attach(CUP)
    QApplication.processEvents()
    return sheet_of(scene)


def tap(sheet: PhotoSheet, at: tuple[float, float]) -> None:
    """Touch the picture at a place."""
    place = sheet.canvas._place()
    point = QPoint(round(place.x() + at[0] * place.width()), round(place.y() + at[1] * place.height()))
    QTest.mouseClick(sheet.canvas, LEFT, pos=point)


def button(within: QWidget, label: str) -> LabelButton:
    return next(one for one in within.findChildren(LabelButton) if one.label.startswith(label) and one.isVisible())


def liquor(scene: Scene) -> tuple[object, object]:
    one = scene.kit.desk.tasting.infusion(1)
    assert one is not None
    return one.liquor, one.liquor_source


class TestComingIn:
    def test_the_button_and_its_key_ask_for_a_picture(self, scene: Scene) -> None:
        asked: list[bool] = []
        scene.screen.photos.pictures_requested.connect(lambda: asked.append(True))

        button(scene.screen.card, "Photo").press()
        scene.press(Qt.Key.Key_P, ALT)

        assert len(asked) == 2

    def test_a_photo_of_liquor_opens_at_once_beside_the_timer(self, scene: Scene) -> None:
        sheet = opened(scene)

        assert sheet.isVisible()
        assert sheet.geometry().right() <= scene.screen.timer.geometry().left()
        assert scene.keyboard_is_with(sheet.canvas)

    def test_a_photo_of_another_step_is_only_put_beside_it(self, scene: Scene) -> None:
        scene.go("1", "flavour")

        scene.screen.photos.attach(CUP)

        assert not sheet_of(scene).isVisible()
        assert [one for one in scene.screen.card.findChildren(PhotoThumb) if one.isVisible()]

    def test_a_file_dropped_on_the_window_is_attached(self, scene: Scene, tmp_path: Path) -> None:
        (tmp_path / "cup.png").write_bytes(CUP)
        mime = QMimeData()
        mime.setUrls([QUrl.fromLocalFile(str(tmp_path / "cup.png"))])

        enter = QDragEnterEvent(QPoint(300, 500), COPY, mime, LEFT, NO_KEY)
        QApplication.sendEvent(scene.screen, enter)
        QApplication.sendEvent(scene.screen, QDropEvent(QPointF(300, 500), COPY, mime, LEFT, NO_KEY))

        assert enter.isAccepted()
        assert len(scene.kit.desk.tasting.photos) == 1

    def test_words_dropped_are_not_taken_for_a_picture(self, scene: Scene) -> None:
        mime = QMimeData()
        mime.setText("orchid")

        enter = QDragEnterEvent(QPoint(300, 500), COPY, mime, LEFT, NO_KEY)
        QApplication.sendEvent(scene.screen, enter)

        assert not enter.isAccepted()

    def test_a_dropped_file_that_is_no_picture_is_refused_at_the_step(self, scene: Scene, tmp_path: Path) -> None:
        (tmp_path / "price.pdf").write_bytes(b"%PDF-1.7")

        scene.screen.photos.attach_files([str(tmp_path / "price.pdf")])

        assert "JPEG" in scene.screen.card.view.trouble  # type: ignore[union-attr]

    def test_a_picture_is_pasted_though_the_say_line_has_the_keyboard(self, scene: Scene) -> None:
        QGuiApplication.clipboard().setImage(QImage.fromData(CUP))

        scene.press(Qt.Key.Key_V, CONTROL)

        assert len(scene.kit.desk.tasting.photos) == 1
        assert scene.screen.card.say.text() == ""

    def test_a_picture_is_pasted_though_the_caption_has_the_keyboard(self, scene: Scene) -> None:
        sheet = opened(scene)
        sheet.caption.setFocus()
        QGuiApplication.clipboard().setImage(QImage.fromData(CUP))

        scene.press(Qt.Key.Key_V, CONTROL)

        assert len(scene.kit.desk.tasting.photos) == 2
        assert sheet.caption.text() == ""

    def test_words_are_pasted_into_the_say_line_as_ever(self, scene: Scene) -> None:
        QGuiApplication.clipboard().setText("clear")

        scene.press(Qt.Key.Key_V, CONTROL)

        assert scene.screen.card.say.text() == "clear"
        assert scene.kit.desk.tasting.photos == ()

    def test_a_picture_copied_as_a_file_comes_as_it_was(self) -> None:
        mime = QMimeData()
        mime.setData("image/jpeg", b"as it was")

        assert picture_in(mime) == b"as it was"
        assert picture_in(QMimeData()) == b""


class TestTapping:
    def test_two_taps_and_the_button_set_the_colour(self, scene: Scene) -> None:
        sheet = opened(scene)
        tap(sheet, IN_WHITE)
        tap(sheet, IN_LIQUOR)

        button(sheet, "Take this colour").press()

        lab, source = liquor(scene)
        assert source == "photo"
        assert not sheet.isVisible()
        assert "photo" in scene.screen.card._liquor._words.accessibleName()
        assert lab is not None

    def test_the_same_by_keys_alone(self, scene: Scene) -> None:
        sheet = opened(scene)
        ups = round((0.5 - IN_WHITE[1]) / STEP)
        for _ in range(ups // 10):
            scene.press(Qt.Key.Key_Up, SHIFT)
        for _ in range(ups % 10):
            scene.press(Qt.Key.Key_Up)
        scene.press(Qt.Key.Key_Return)
        for _ in range(ups // 10):
            scene.press(Qt.Key.Key_Down, SHIFT)
        for _ in range(ups % 10):
            scene.press(Qt.Key.Key_Down)
        scene.press(Qt.Key.Key_Return)
        by_keys = scene.kit.photos.sheet()
        scene.press(Qt.Key.Key_Return)

        assert by_keys is not None
        assert by_keys.colour is not None
        assert liquor(scene)[1] == "photo"
        assert not sheet.isVisible()

    def test_keys_and_finger_tell_the_same(self, scene: Scene) -> None:
        sheet = opened(scene)
        tap(sheet, IN_WHITE)
        tap(sheet, IN_LIQUOR)
        scene.screen.photos._take()
        lab = liquor(scene)[0]
        scene.kit.photos.open(scene.kit.desk.tasting.photos[0].uid)
        for at in (IN_WHITE, IN_LIQUOR):
            scene.kit.photos.tap(*at)
        scene.kit.photos.take_colour()

        assert delta_e00(lab, liquor(scene)[0]) < 0.2  # type: ignore[arg-type]

    def test_a_finger_that_bounces_taps_once(self, scene: Scene) -> None:
        sheet = opened(scene)
        place = sheet.canvas._place()
        point = QPoint(round(place.center().x()), round(place.center().y()))

        QTest.mouseClick(sheet.canvas, LEFT, pos=point)
        QTest.mouseDClick(sheet.canvas, LEFT, pos=point)

        assert sheet.refusal.words.startswith("Is this the white porcelain?")
        assert sheet.canvas.accessibleName() == "Tap the white porcelain"

    def test_what_is_whiter_is_ringed_and_named_on_the_picture(self, scene: Scene) -> None:
        sheet = opened(scene)
        before = sheet.canvas.grab().toImage()

        tap(sheet, IN_LIQUOR)

        assert sheet.canvas.grab().toImage() != before
        assert [one.kind for one in sheet.canvas._patches] == ["doubted", "whiter"]

    def test_the_keys_are_named_while_a_tap_is_asked_for(self, scene: Scene) -> None:
        sheet = opened(scene)
        asked = [one.accessibleName() for one in sheet.findChildren(KeyHint) if one.isVisible()]
        tap(sheet, IN_WHITE)
        tap(sheet, IN_LIQUOR)

        told = [one.accessibleName() for one in sheet.findChildren(KeyHint) if one.isVisible()]

        assert {"Arrows: aim", "Enter: taps"} <= set(asked)
        assert "Enter: taps" not in told

    def test_what_is_refused_is_said_there_and_the_tap_asked_for_again(self, scene: Scene) -> None:
        sheet = opened(scene)

        tap(sheet, AT_BORDER)

        assert "edge of the picture" in sheet.refusal.words
        assert sheet.refusal.isVisible()
        assert sheet.canvas.accessibleName() == "Tap the white porcelain"

    def test_the_cross_is_told_in_words(self, scene: Scene) -> None:
        sheet = opened(scene)

        scene.press(Qt.Key.Key_Left, SHIFT)

        assert sheet.canvas.value_text() == "46% across, 50% down"

    def test_the_steep_goes_on_and_is_poured_meanwhile(self, scene: Scene) -> None:
        sheet = opened(scene)
        scene.press(Qt.Key.Key_Space)
        scene.press(Qt.Key.Key_Space)
        scene.kit.clock.advance(20)

        scene.press(Qt.Key.Key_Space)

        assert sheet.isVisible()
        one = scene.kit.desk.tasting.infusion(2)
        assert one is not None
        assert one.is_poured


class TestTheSheet:
    def test_escape_puts_it_away_and_keeps_the_caption(self, scene: Scene) -> None:
        sheet = opened(scene)
        sheet.caption.setFocus()
        scene.type("first cup")

        scene.press(Qt.Key.Key_Escape)

        assert not sheet.isVisible()
        assert scene.kit.desk.tasting.photos[0].caption == "first cup"

    def test_a_photo_is_taken_away_and_brought_back_by_undo(self, scene: Scene) -> None:
        sheet = opened(scene)

        button(sheet, "Take away").press()

        assert not sheet.isVisible()
        assert scene.kit.desk.tasting.photos == ()
        scene.press(Qt.Key.Key_Z, CONTROL)
        assert len(scene.kit.desk.tasting.photos) == 1

    def test_another_photo_of_the_step_is_looked_at_by_its_thumbnail(self, scene: Scene) -> None:
        opened(scene)
        sheet = opened(scene)
        first = scene.kit.desk.tasting.photos[0].uid

        thumbs = [one for one in sheet.findChildren(PhotoThumb) if one.isVisible()]
        thumbs[0].press()

        assert len(thumbs) == 2
        assert sheet._view is not None
        assert sheet._view.uid == first

    def test_a_copy_is_asked_for_by_name(self, scene: Scene) -> None:
        sheet = opened(scene)
        asked: list[str] = []
        scene.screen.photos.copy_requested.connect(asked.append)

        button(sheet, "Save a copy").press()

        assert asked == ["Heron Ridge, spring roast, 2026-04-18, liquor 1.jpg"]

    def test_a_picture_that_was_lost_leaves_its_place_and_takes_no_tap(self, scene: Scene) -> None:
        sheet = opened(scene)
        scene.kit.journal._pictures.clear()
        scene.kit.photographs._seen.clear()

        scene.screen.refresh()
        sheet.grab()
        tap(sheet, IN_WHITE)

        assert sheet.canvas.image is None
        assert scene.kit.photos.sheet().patches == ()  # type: ignore[union-attr]

    def test_the_keyboard_stays_with_a_button_while_nothing_new_is_asked(self, scene: Scene) -> None:
        sheet = opened(scene)
        save = button(sheet, "Save a copy")
        save.setFocus()

        scene.screen.refresh()

        assert scene.keyboard_is_with(save)
