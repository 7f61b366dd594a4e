"""Every example of a search that README, the search's line and its advice give finds something in the demo journal."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tastebook.presenters.finding import NOTHING
from tastebook.services.finding import Finding
from tastebook.ui.shelf.list_pane import FIND_EXAMPLES
from tastebook.wiring.house import Place, fill_with_demo, house

README = Path(__file__).parents[2] / "README.md"


@pytest.fixture(scope="module")
def finding(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Finding]:
    """Search the demo journal, in folders of its own."""
    home = tmp_path_factory.mktemp("home")
    with pytest.MonkeyPatch.context() as patch:
        for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "HOME"):
            patch.setenv(name, str(home))
        with house(Place(is_demo=True)) as built:
            fill_with_demo(built)
            yield built.finding


def in_readme() -> list[str]:
    """Return what stands in code marks in the first column of the table of searches."""
    section = README.read_text(encoding="utf-8").split("## Finding it again")[1].split("\n## ")[0]
    rows = [line.split("|")[1] for line in section.splitlines() if line.startswith("| `")]
    return [example for row in rows for example in re.findall(r"`([^`]+)`", row)]


def in_advice() -> list[str]:
    """Return the examples in brackets of what is said when nothing is found."""
    return [one.strip() for inside in re.findall(r"\(([^)]+)\)", NOTHING) for one in inside.split(",")]


EXAMPLES = (*in_readme(), *in_advice(), *FIND_EXAMPLES.split(" · "))


def test_there_are_examples_of_every_kind() -> None:
    assert len(in_readme()) > 15
    assert len(in_advice()) > 4


@pytest.mark.parametrize("typed", dict.fromkeys(EXAMPLES))
def test_an_example_finds_something_and_is_understood_whole(finding: Finding, typed: str) -> None:
    query = finding.understand(typed)

    assert finding.find(query, 1).hits
    assert query.puzzled == ()
