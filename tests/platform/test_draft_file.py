"""Drafts beside the journal: one for each session, and a file that cannot be read is set aside, not overwritten."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tastebook.domain.errors import StoreError
from tastebook.platform.draft_file import JsonDrafts
from tastebook.services.drafts import Draft


@given(st.text(alphabet=st.characters(exclude_categories=["Cs"])), st.none() | st.integers(0, 99))
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_draft_comes_back_letter_for_letter(tmp_path: Path, text: str, infusion: int | None) -> None:
    journal = tmp_path / "mine.tastebook"

    JsonDrafts(journal).keep("one", Draft("flavour", infusion, text))

    assert JsonDrafts(journal).read("one") == Draft("flavour", infusion, text)


def test_each_session_has_its_own(tmp_path: Path) -> None:
    here, there = JsonDrafts(tmp_path / "mine.tastebook"), JsonDrafts(tmp_path / "mine.tastebook")
    here.keep("one", Draft("flavour", 1, "peach"))
    there.keep("two", Draft("dry_leaf", None, "嫩栗香"))

    here.keep("one", None)

    assert there.read("one") is None
    assert here.read("two") == Draft("dry_leaf", None, "嫩栗香")
    assert here.read("three") is None


@pytest.mark.parametrize(
    "found", ["", "[]", "{", '{"version": 2, "drafts": {}}', '{"version": 1, "drafts": {"one": {"step": 4}}}', '"x"']
)
def test_a_file_that_cannot_be_read_is_set_aside(tmp_path: Path, found: str) -> None:
    path = tmp_path / "mine.tastebook.draft"
    path.write_text(found, encoding="utf-8")
    drafts = JsonDrafts(tmp_path / "mine.tastebook")

    assert drafts.read("one") is None
    drafts.keep("one", Draft("flavour", 1, "peach"))

    assert (tmp_path / "mine.tastebook.draft.bad").read_text(encoding="utf-8") == found
    assert drafts.read("one") == Draft("flavour", 1, "peach")


def test_a_folder_that_is_none_is_told(tmp_path: Path) -> None:
    (tmp_path / "no folder").write_text("a file", encoding="utf-8")

    with pytest.raises(StoreError, match="could not be written"):
        JsonDrafts(tmp_path / "no folder" / "mine.tastebook").keep("one", Draft("flavour", 1, "peach"))
