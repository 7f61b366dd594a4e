"""The words by keyboard alone, from the Shelf and in the middle of a tasting, and as a table."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt

from tastebook.domain.session import OwnDescriptor
from tests.journeys.conftest import CONTROL, Table


def begin_tasting(table: Table) -> None:
    """Add a lot and begin a session with it."""
    table.hands.press(Qt.Key.Key_N, CONTROL)
    table.hands.write("Quiet Ferry")
    table.hands.press(Qt.Key.Key_Return, CONTROL)
    table.hands.press(Qt.Key.Key_Return)
    table.hands.press(Qt.Key.Key_Return)


def open_words(table: Table, word: str) -> None:
    """Open the sheet of words and find one."""
    table.hands.press(Qt.Key.Key_L, CONTROL)
    table.hands.write(word)


def do_first(table: Table, written: str) -> None:
    """Do the first thing that can be done with the word found, by writing and Enter; Space goes on pouring."""
    table.hands.press(Qt.Key.Key_Return)
    table.hands.press(Qt.Key.Key_Return)
    table.hands.write(written)
    table.hands.press(Qt.Key.Key_Return)


def kept_words(table: Table) -> dict[str, OwnDescriptor]:
    return {one.key or one.name: one for one in table.built.journal.own_descriptors()}


def test_a_word_is_renamed_in_the_middle_of_a_tasting_and_its_note_follows(table: Table) -> None:
    begin_tasting(table)
    table.hands.say("orchid 3")

    open_words(table, "orchid")
    do_first(table, "moth orchid")
    renamed = [chip.word for group in table.presenter.card().sheet.groups for chip in group.chips]  # type: ignore[union-attr]
    table.hands.press(Qt.Key.Key_Z, CONTROL)
    taken_back = [chip.word for group in table.presenter.card().sheet.groups for chip in group.chips]  # type: ignore[union-attr]
    table.hands.press(Qt.Key.Key_Escape)

    assert (renamed, taken_back) == (["moth orchid"], ["orchid"])
    assert [one.descriptor for one in table.kept.impressions] == ["orchid"]
    assert table.kept.impressions[0].word == "orchid"


def test_letters_in_the_words_do_nothing_at_the_bench_and_pouring_goes_on(table: Table) -> None:
    begin_tasting(table)
    open_words(table, "")
    table.hands.press(Qt.Key.Key_Down)

    table.hands.write("f[")
    table.hands.press(Qt.Key.Key_Down)
    table.hands.press(Qt.Key.Key_F, CONTROL)
    finds_words = table.program._words_sheet is not None and table.program._words_sheet.finder.hasFocus()
    table.pedal()

    assert finds_words
    assert table.presenter.card().sheet.open_family == ""  # type: ignore[union-attr]
    assert table.kept.steeping is not None


def test_words_go_out_as_a_table_and_come_back_in(table: Table, tmp_path: Path) -> None:
    out = tmp_path / "words.csv"
    table.program.show_words()
    sheet = table.program._words_sheet
    assert sheet is not None

    sheet.export_requested.emit(str(out))
    text = out.read_text(encoding="utf-8-sig").replace("orchid,orchid,floral", "orchid,moth orchid,floral")
    out.write_text(text + "tarred hemp?,tarred hemp,woody,,,,,,own\r\n", encoding="utf-8")
    sheet.import_requested.emit(str(out))
    sheet.refresh()
    troubles = sheet.table.lines.toPlainText()
    out.write_text(text + ",tarred hemp,woody,,,,,,own\r\n", encoding="utf-8")
    sheet.import_requested.emit(str(out))
    sheet.refresh()
    table.hands.tap(sheet.table.take)

    assert "“tarred hemp?” is no key" in troubles
    assert {key: one.name for key, one in kept_words(table).items()} == {
        "orchid": "moth orchid",
        "tarred-hemp": "tarred hemp",
    }


def test_a_table_that_is_not_there_is_told_on_the_sheet(table: Table, tmp_path: Path) -> None:
    table.program.show_words()
    sheet = table.program._words_sheet
    assert sheet is not None

    sheet.import_requested.emit(str(tmp_path / "missing.csv"))
    sheet.refresh()

    assert "could not be read" in sheet.trouble.words
