"""What tests of the store share: a path, a clock that stands still, a journal that is closed in the end."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from tastebook.store.journal import SqliteJournal, open_journal
from tests.fakes import FakeClock


@pytest.fixture
def clock() -> FakeClock:
    return FakeClock()


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "journal.tastebook"


@pytest.fixture
def journal(path: Path, clock: FakeClock) -> Iterator[SqliteJournal]:
    journal = open_journal(path, clock)
    yield journal
    journal.close()


@pytest.fixture
def shared_folder() -> Iterator[Path]:
    """Return a folder that every user may enter, unlike pytest's own."""
    folder = Path(tempfile.mkdtemp(prefix="tastebook-test-"))
    folder.chmod(0o755)
    yield folder
    folder.chmod(0o755)
    shutil.rmtree(folder)
