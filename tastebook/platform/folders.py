"""Where this machine keeps a program's files."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import platformdirs

NAME = "tastebook"


@dataclass(frozen=True)
class Folders:
    """Every place that Tastebook reads or writes by itself; none needs to exist yet.

    Parameters
    ----------
    data : Path
        What the user would miss.
    settings : Path
        The file of settings.
    logs : Path
        What may be thrown away.
    """

    data: Path
    settings: Path
    logs: Path

    @property
    def journal(self) -> Path:
        """Return the journal that opens if no other is named."""
        return self.data / "journal.tastebook"

    @property
    def courses(self) -> Path:
        """Return the folder of the user's own courses."""
        return self.data / "courses"

    @property
    def figures(self) -> Path:
        """Return the file of the user's own figures."""
        return self.data / "figures.toml"

    @property
    def backups(self) -> Path:
        """Return the folder of dated copies of the journal."""
        return self.data / "backups"


def folders_of_this_machine() -> Folders:
    """Return the places that the platform's own rules give (XDG, Application Support, AppData)."""
    return Folders(
        data=platformdirs.user_data_path(NAME, appauthor=False),
        settings=platformdirs.user_config_path(NAME, appauthor=False) / "settings.json",
        logs=platformdirs.user_log_path(NAME, appauthor=False),
    )
