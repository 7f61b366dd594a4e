"""Where a program's files lie on this machine."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from tastebook.platform.folders import Folders, folders_of_this_machine


@pytest.mark.skipif(sys.platform != "linux", reason="the rules are those of the XDG base directories")
def test_on_linux_the_places_follow_the_xdg_rules(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """XDG Base Directory Specification 0.8: data, configuration and state lie below these three variables."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))

    folders = folders_of_this_machine()

    assert folders.data == tmp_path / "data" / "tastebook"
    assert folders.settings == tmp_path / "config" / "tastebook" / "settings.json"
    assert folders.logs.is_relative_to(tmp_path / "state" / "tastebook")


def test_what_the_user_would_miss_lies_in_the_data_folder(tmp_path: Path) -> None:
    folders = Folders(tmp_path, tmp_path / "settings.json", tmp_path / "logs")

    assert folders.journal == tmp_path / "journal.tastebook"
    assert folders.courses == tmp_path / "courses"
    assert folders.backups == tmp_path / "backups"


def test_asking_for_the_places_makes_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(tmp_path))

    folders_of_this_machine()

    assert list(tmp_path.iterdir()) == []
