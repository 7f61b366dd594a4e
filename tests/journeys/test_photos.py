"""Photographs through the whole program: from the phone's file to the cup, the Arc, the page and a copy handed on."""

from __future__ import annotations

import io
from pathlib import Path

import pypdf
from PIL import Image
from PySide6.QtCore import Qt

from tastebook.domain.lot import Lot
from tastebook.services.shelf import Opening
from tastebook.store.checking import check
from tastebook.ui.bench.photo_canvas import STEP
from tastebook.ui.widgets.buttons import ActionButton, QuietButton
from tastebook.ui.widgets.photo_thumb import PhotoThumb
from tests.cups import IN_LIQUOR, IN_WHITE, cup_pixels
from tests.fakes import MORNING_UTC
from tests.journeys.conftest import ALT, CONTROL, Table

SHIFT = Qt.KeyboardModifier.ShiftModifier
TOLD = (b"Exif", b"Model 7", b"at home")


def photo_file(folder: Path) -> Path:
    """Return a photo as a phone writes it: large, with place and camera."""
    exif = Image.Exif()
    exif[0x0110] = "Model 7"
    exif.get_ifd(0x8825)[1] = "N"
    path = folder / "IMG_0412.jpg"
    Image.fromarray(cup_pixels(size=(1600, 1600), noise=3)).save(path, exif=exif, comment=b"at home", quality=95)
    return path


def move_cross(table: Table, share: float, key: Qt.Key) -> None:
    steps = round(share / STEP)
    for _ in range(steps // 10):
        table.hands.press(key, SHIFT)
    for _ in range(steps % 10):
        table.hands.press(key)


def test_a_photo_from_the_phone_to_the_page_by_keyboard(table: Table) -> None:
    lot = table.built.shelf.add(Lot("", "Quiet Ferry", MORNING_UTC, kind="green"))
    session = table.built.shelf.begin(lot, Opening(leaf_g=4))
    table.program.open_bench(session.uid)
    table.hands.settle()
    path = photo_file(table.folder)
    table.pictures.append(str(path))

    table.steep(5)
    table.pedal()
    table.steep(20)
    table.step(1)
    table.hands.press(Qt.Key.Key_P, ALT)
    move_cross(table, IN_LIQUOR[1] - IN_WHITE[1], Qt.Key.Key_Up)
    table.hands.press(Qt.Key.Key_Return)
    move_cross(table, IN_LIQUOR[1] - IN_WHITE[1], Qt.Key.Key_Down)
    table.hands.press(Qt.Key.Key_Return)
    table.hands.press(Qt.Key.Key_Return)

    cup, (photo,) = table.kept.infusion(1), table.kept.photos
    assert cup is not None
    assert cup.liquor_source == "photo"
    assert photo.liquor_at
    assert table.built.journal.picture(photo.picture) == path.read_bytes()

    save_a_copy(table)
    undo_and_redo(table)
    table.program.open_arc(session.uid)
    table.hands.settle()
    look_at_it_on_the_arc(table)
    assert check(table.built.journal.path) == ()


def save_a_copy(table: Table) -> None:
    table.bench.photos.open(table.kept.photos[0].uid)
    table.hands.settle()
    table.hands.tap(table.find(QuietButton, "Save a copy"))
    table.hands.press(Qt.Key.Key_Escape)

    (copy,) = table.folder.glob("Quiet Ferry*.jpg")
    content = copy.read_bytes()
    assert not [one for one in TOLD if one in content]
    with Image.open(io.BytesIO(content)) as picture:
        assert picture.size == (1600, 1600)
        assert dict(picture.getexif()) == {}


def undo_and_redo(table: Table) -> None:
    table.hands.press(Qt.Key.Key_Z, CONTROL)
    without = table.kept.infusion(1)
    table.hands.press(Qt.Key.Key_Y, CONTROL)
    again = table.kept.infusion(1)

    assert without is not None
    assert again is not None
    assert (without.liquor, again.liquor_source) == (None, "photo")


def look_at_it_on_the_arc(table: Table) -> None:
    arc = table.program.window.screen_now
    thumb = next(one for one in arc.findChildren(PhotoThumb) if one.isVisible())
    table.hands.tap(thumb)
    sheet = arc.photo  # type: ignore[attr-defined]
    assert sheet.isVisible()
    assert not [one for one in sheet.findChildren(ActionButton) if one.isVisible()]
    table.hands.press(Qt.Key.Key_Escape)

    page = table.program.make_page(table.kept.session.uid)

    assert page is not None
    pdf = page.read_bytes()
    assert len(pdf) < 1_000_000
    images = [image for one in pypdf.PdfReader(io.BytesIO(pdf)).pages for image in one.images]
    assert len(images) == 1
    assert not [one for one in TOLD if one in images[0].data]
    text = "".join(one.extract_text() for one in pypdf.PdfReader(io.BytesIO(pdf)).pages)
    assert "from a photo" in text
