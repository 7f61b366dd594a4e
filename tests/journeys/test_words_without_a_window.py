"""Words written into a table and taken over from one, by the command line, without a display."""

from __future__ import annotations

from pathlib import Path

import pytest

from tastebook.__main__ import main

pytestmark = pytest.mark.usefixtures("own_folders")


@pytest.fixture
def journal(tmp_path: Path) -> str:
    return str(tmp_path / "journal.tastebook")


def test_the_words_of_one_journal_are_taken_over_by_another(
    tmp_path: Path, journal: str, capsys: pytest.CaptureFixture[str]
) -> None:
    table = tmp_path / "words.csv"
    table.write_text("name;family;chinese\nboat varnish;woody;船漆\norchid;fruity;\n", encoding="utf-8")

    tried = main(["--journal", journal, "words", "import", str(table), "--dry-run"])
    taken = main(["--journal", journal, "words", "import", str(table)])
    written = main(["--journal", journal, "words", "export", str(tmp_path / "all.csv")])
    again = main(["--journal", journal, "words", "import", str(tmp_path / "all.csv")])

    told = capsys.readouterr().out.splitlines()
    assert (tried, taken, written, again) == (0, 0, 0, 0)
    assert told[:3] == [
        "line 2: boat varnish, Woody",
        "line 3: orchid, moved to Fruity",
        "Only tried. 1 new, 1 changed. Words that the table does not name stay as they are.",
    ]
    assert told[-1].startswith("Nothing") or "as they are" in told[-1]
    assert "boat-varnish,boat varnish,woody,,船漆," in (tmp_path / "all.csv").read_text(encoding="utf-8")


def test_every_error_is_told_by_its_line_and_nothing_is_kept(
    tmp_path: Path, journal: str, capsys: pytest.CaptureFixture[str]
) -> None:
    table = tmp_path / "words.csv"
    table.write_text("name,family\nboat varnish,woody\nquay,fluffy\n…,woody\n", encoding="utf-8")

    code = main(["--journal", journal, "words", "import", str(table)])
    main(["--journal", journal, "words", "export", str(tmp_path / "all.csv")])

    told = capsys.readouterr()
    assert code == 1
    assert f"{table}, line 3: There is no family “fluffy”" in told.err
    assert f"{table}, line 4: The line has neither a key nor a name" in told.err
    assert "boat varnish" not in (tmp_path / "all.csv").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", ["missing.csv", "."])
def test_a_file_that_cannot_be_read_is_told_by_name(
    tmp_path: Path, journal: str, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    code = main(["--journal", journal, "words", "import", str(tmp_path / name)])

    assert code == 1
    assert "could not be read" in capsys.readouterr().err
