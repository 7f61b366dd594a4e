"""The packaged word lists, and lists that cannot be read."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import pytest

from tastebook.domain.errors import VocabularyError
from tastebook.platform.wordlists import load_vocabulary
from tests.words import real_vocabulary


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a copy of the packaged lists, to be hurt."""
    for file in files("tastebook.resources.vocabulary").iterdir():
        if file.name.endswith(".toml"):
            (tmp_path / file.name).write_bytes(file.read_bytes())
    return tmp_path


def test_the_packaged_words_are_loaded() -> None:
    vocabulary = load_vocabulary()

    assert vocabulary.families == real_vocabulary().families
    assert vocabulary.descriptors == real_vocabulary().descriptors
    assert vocabulary.scales == real_vocabulary().scales
    assert vocabulary.clarities == real_vocabulary().clarities


def test_a_list_that_is_no_toml_is_refused_with_file_and_line(folder: Path) -> None:
    (folder / "floral.toml").write_text('name = "floral"\nfamily = floral\n', encoding="utf-8")

    with pytest.raises(VocabularyError, match=r"floral\.toml: .*line 2"):
        load_vocabulary(folder)


def test_a_list_that_is_no_text_is_refused_with_file_and_line(folder: Path) -> None:
    (folder / "floral.toml").write_bytes(b'name = "floral"\nfamily = "\xff"\n')

    with pytest.raises(VocabularyError, match=r"floral\.toml: line 2 is not UTF-8"):
        load_vocabulary(folder)


def test_a_list_that_is_missing_is_named(folder: Path) -> None:
    (folder / "scales.toml").unlink()

    with pytest.raises(VocabularyError, match=r"scales\.toml: the word list cannot be opened"):
        load_vocabulary(folder)


def test_lists_that_contradict_each_other_are_refused(folder: Path) -> None:
    (folder / "more.toml").write_text(
        'name = "more"\nfamily = "floral"\nsource = "ours"\ndescriptors = [{ name = "orchid" }]\n', encoding="utf-8"
    )

    with pytest.raises(VocabularyError, match="the key “orchid” is there twice"):
        load_vocabulary(folder)
