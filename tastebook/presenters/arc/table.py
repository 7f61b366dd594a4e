"""The Arc as a table: the same readings, for screen readers and spreadsheets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tastebook.presenters.arc.views import ChartView, RowView, TableRow, TableView

UNKNOWN = "not noted"


def table_view(chart: ChartView) -> TableView:
    """Return the table of a chart, infusions across."""
    return TableView(headings=tuple(f"Infusion {column.label}" for column in chart.columns), rows=tuple(_rows(chart)))


def tab_separated(table: TableView) -> str:
    """Return a table as text that spreadsheets take: tabs between cells, a line for each row, headings first."""
    lines = [["", *table.headings], *([row.name, *row.cells] for row in table.rows)]
    return "".join(tabbed(line) for line in lines)


def tabbed(cells: Sequence[str]) -> str:
    """Return one line of cells, ended; a tab or a break inside a cell becomes a space."""
    return "\t".join(" ".join(cell.split()) for cell in cells) + "\n"


def _rows(chart: ChartView) -> Iterator[TableRow]:
    columns = chart.columns
    for row in chart.families:
        yield TableRow(row.name, tuple(_family_cell(row, column.index) for column in columns))
    yield TableRow("Liquor", tuple(column.liquor or UNKNOWN for column in columns))
    yield TableRow("Steep", tuple(column.steep or UNKNOWN for column in columns))
    yield TableRow(
        "Against plan", tuple(column.deviation or ("on plan" if column.steep else UNKNOWN) for column in columns)
    )
    yield TableRow("Water", tuple(column.water or UNKNOWN for column in columns))
    for row in chart.scales:
        yield TableRow(row.name, tuple(_scale_cell(row, column.index) for column in columns))


def _family_cell(row: RowView, infusion: int) -> str:
    cell = row.cells[infusion - 1]
    if cell.value in ("", "0"):
        return cell.value or cell.spoken
    return f"{cell.value} ({cell.spoken})"


def _scale_cell(row: RowView, infusion: int) -> str:
    cell = row.cells[infusion - 1]
    return f"{cell.value} ({cell.spoken})" if cell.value else cell.spoken
