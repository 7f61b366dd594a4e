"""Pointing at the Arc, its table, and what it names in its header."""

from __future__ import annotations

from dataclasses import replace

from tastebook.domain.session import Tasting
from tastebook.presenters.arc.presenter import ArcPresenter
from tastebook.services.settings import Settings
from tests.presenters.arc_sample import Table, heron_ridge, lot, poured, review, vocabulary


def test_at_first_nothing_is_pointed_at() -> None:
    cursor = review(heron_ridge()).cursor()

    assert (cursor.infusion, cursor.row, cursor.line) == (0, "", "")


def test_the_first_step_goes_to_the_peak() -> None:
    presenter = review(heron_ridge())

    presenter.step_column(1)

    assert presenter.cursor().infusion == 4


def test_steps_stop_at_either_end() -> None:
    presenter = review(heron_ridge())

    presenter.go_to_end(last=True)
    presenter.step_column(1)
    at_end = presenter.cursor().infusion
    presenter.go_to_end(last=False)
    presenter.step_column(-1)

    assert (at_end, presenter.cursor().infusion) == (8, 1)


def test_steps_through_rows_begin_at_the_top_and_leave_there_again() -> None:
    presenter = review(heron_ridge())

    presenter.step_row(1)
    first = presenter.cursor().row
    presenter.step_row(-1)

    assert (first, presenter.cursor().row) == ("family:nutty", "")


def test_rows_go_on_from_the_families_to_the_scales() -> None:
    presenter = review(heron_ridge())

    presenter.point_at(0, "family:vegetal")
    presenter.step_row(1)
    presenter.step_row(99)

    assert presenter.cursor().row == "scale:finish"


def test_an_infusion_alone_is_told_by_its_cup() -> None:
    presenter = review(heron_ridge())

    presenter.point_at(5)

    assert presenter.cursor().line.startswith("Infusion 5: 55 s at 92 °C; ")
    assert "Fruity 4, white peach" in presenter.cursor().spoken


def test_a_row_alone_is_told_by_its_sentence() -> None:
    presenter = review(heron_ridge())

    presenter.point_at(0, "family:nutty")

    assert presenter.cursor().line == "Nutty is strongest at 1 and gone after 2."


def test_where_they_cross_the_exact_value_is_told() -> None:
    presenter = review(heron_ridge())

    presenter.point_at(4, "family:floral")

    assert presenter.cursor().line == "Floral at 4: 5, orchid"


def test_a_gap_is_told_as_a_gap() -> None:
    table = poured(2)
    table.note(1, {"orchid": 3})
    presenter = review(table.tasting())

    presenter.point_at(2, "family:floral")

    assert presenter.cursor().line == "Floral at 2: not assessed"


def test_what_is_not_there_cannot_be_pointed_at() -> None:
    presenter = review(heron_ridge())

    presenter.point_at(9, "family:herbal")

    assert (presenter.cursor().infusion, presenter.cursor().row) == (0, "")


def test_an_empty_session_has_nothing_to_step_through() -> None:
    presenter = review(Table().tasting())

    presenter.step_column(1)
    presenter.step_row(1)
    presenter.go_to_end(last=True)

    assert presenter.cursor().line == ""


def test_clearing_says_whether_something_was_pointed_at() -> None:
    presenter = review(heron_ridge())
    presenter.point_at(3)

    assert presenter.clear()
    assert not presenter.clear()


def test_pointing_survives_a_change_as_far_as_it_can() -> None:
    now = [heron_ridge()]
    presenter = ArcPresenter(lambda: now[0], vocabulary, Settings)
    presenter.point_at(8, "scale:body")

    now[0] = replace(now[0], infusions=(), impressions=now[0].impressions[:5], sayings=(), readings=())
    presenter.view()
    cursor = presenter.cursor()

    assert (cursor.infusion, cursor.row) == (1, "")


def test_an_amended_session_is_shown_as_it_is_now() -> None:
    now = [heron_ridge()]
    presenter = ArcPresenter(lambda: now[0], vocabulary, Settings)
    before = presenter.view().chart.columns[0].steep

    first = replace(now[0].infusions[0], actual_ms=31_000)
    now[0] = replace(now[0], infusions=(first, *now[0].infusions[1:]))

    assert (before, presenter.view().chart.columns[0].steep) == ("20 s", "31 s")


def test_pointing_reads_nothing_anew() -> None:
    reads = []

    def read() -> Tasting:
        reads.append(1)
        return heron_ridge()

    presenter = ArcPresenter(read, vocabulary, Settings)
    presenter.view()

    for infusion in range(1, 9):
        presenter.point_at(infusion)
        presenter.cursor()

    assert len(reads) == 1


def test_the_header_names_lot_and_session() -> None:
    header = review(heron_ridge()).view().header

    assert (header.title, header.cultivar) == ("Heron Ridge, spring roast", "Jīn Xuān")
    assert header.source == "Lantern & Quay, lot 24-017"
    assert header.facts == "14 April 2026, 8 infusions in 1 h 12 min"
    assert header.bench == "Open the Bench"


def test_an_open_session_leads_back_to_the_bench() -> None:
    header = review(heron_ridge(closed_at_utc=None)).view().header

    assert header.facts == "14 April 2026, 8 infusions so far"
    assert header.bench == "Back to the Bench"


def test_a_lot_of_which_only_the_name_is_known_leaves_no_stray_commas() -> None:
    tasting = replace(heron_ridge(), lot=replace(lot(), cultivar="", cultivar_local="", supplier="", batch=""))

    header = review(tasting).view().header

    assert (header.cultivar, header.source) == ("", "")


def test_the_table_holds_what_the_chart_shows() -> None:
    table = review(heron_ridge()).view().table
    rows = {row.name: row.cells for row in table.rows}

    assert table.headings[0] == "Infusion 1"
    assert rows["Floral"][3] == "5 (orchid)"
    assert rows["Nutty"][3] == "0"
    assert rows["Against plan"][3:6] == ("+7", "on plan", "−3")
    assert rows["Body"][2] == "4 (thick)"


def test_the_table_tells_gaps_from_zeros() -> None:
    table = poured(2)
    table.note(1, {"orchid": 3})
    table.read(1, body=2)

    rows = {row.name: row.cells for row in review(table.tasting()).view().table.rows}

    assert rows["Floral"] == ("3 (orchid)", "not assessed")
    assert rows["Body"] == ("2 (light)", "not read")
    assert rows["Liquor"] == ("not noted", "not noted")


def test_the_copied_table_is_tab_separated_with_headings() -> None:
    table = poured(2)
    table.note(1, {"orchid": 3})

    lines = review(table.tasting()).copied_table().splitlines()

    assert lines[0] == "\tInfusion 1\tInfusion 2"
    assert lines[1] == "Floral\t3 (orchid)\tnot assessed"
    assert all(line.count("\t") == 2 for line in lines)


def test_chart_and_table_take_turns() -> None:
    presenter = review(heron_ridge())

    presenter.toggle_table()
    shown = presenter.view().is_table
    presenter.toggle_table()

    assert (shown, presenter.view().is_table) == (True, False)
