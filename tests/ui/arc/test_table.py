"""The arc as a table."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QItemSelection, QItemSelectionModel, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QWidget

from tastebook.presenters.arc.views import TableView
from tastebook.ui.arc.table import ArcTable, ArcTableModel
from tastebook.ui.theme.theme import Themes
from tests.presenters.arc_sample import heron_ridge, review

Show = Callable[[QWidget], None]


@pytest.fixture
def view() -> TableView:
    return review(heron_ridge()).view().table


@pytest.fixture
def table(themes: Themes, view: TableView) -> ArcTable:
    table = ArcTable()
    table.resize(800, 500)
    table.show_view(view)
    return table


def test_the_model_keeps_qts_rules(view: TableView) -> None:
    model = ArcTableModel()
    model.show_view(view)

    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)

    assert (model.rowCount(), model.columnCount()) == (9 + 4 + 4, 8)


def test_headings_name_infusions_and_rows(table: ArcTable) -> None:
    model = table.model()

    assert model.headerData(3, Qt.Orientation.Horizontal) == "Infusion 4"
    assert model.headerData(3, Qt.Orientation.Vertical) == "Floral"


def test_a_cell_is_read_out_with_its_headings(table: ArcTable) -> None:
    model = table.model()

    told = model.data(model.index(3, 3), Qt.ItemDataRole.AccessibleTextRole)

    assert told == "Floral, Infusion 4: 5 (orchid)"


def test_ctrl_c_copies_everything_where_at_most_one_cell_is_chosen(table: ArcTable, show: Show) -> None:
    show(table)

    QTest.keyClick(table, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)

    assert QGuiApplication.clipboard().text() == review(heron_ridge()).copied_table()


def test_ctrl_c_copies_a_chosen_block_with_its_headings(table: ArcTable, show: Show) -> None:
    show(table)
    model = table.model()
    block = QItemSelection(model.index(3, 2), model.index(4, 3))
    table.selectionModel().select(block, QItemSelectionModel.SelectionFlag.ClearAndSelect)

    QTest.keyClick(table, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)

    assert QGuiApplication.clipboard().text() == (
        "\tInfusion 3\tInfusion 4\nFloral\t4 (orchid)\t5 (orchid)\nFruity\t3 (white peach)\t4 (white peach)\n"
    )


def test_cells_cannot_be_edited(table: ArcTable) -> None:
    flags = table.model().flags(table.model().index(0, 0))

    assert not flags & Qt.ItemFlag.ItemIsEditable
