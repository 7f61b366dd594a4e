"""Drafts as a file beside the journal: JSON, written whole or not at all."""

from __future__ import annotations

import json
import logging
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

from tastebook.platform.files import write_text
from tastebook.services.drafts import Draft

LOG = logging.getLogger(__name__)
VERSION: Final = 1
ENDING: Final = ".draft"


class JsonDrafts:
    """Reads and writes the drafts of a journal's sessions.

    They are read anew each time, since another window on the journal keeps its own in the same file. A file that cannot
    be read is set aside under another name.

    Parameters
    ----------
    journal : Path
        The journal; the file stands beside it.
    """

    def __init__(self, journal: Path) -> None:
        self._path = journal.with_name(journal.name + ENDING)

    def read(self, session_uid: str) -> Draft | None:
        """Return the draft of a session, None if there is none that can be read."""
        return self._drafts().get(session_uid)

    def keep(self, session_uid: str, draft: Draft | None) -> None:
        """Keep a draft in place of the one before; None forgets it.

        Raises
        ------
        StoreError
            If the disk or the folder's rights refuse it.
        """
        drafts = {uid: one for uid, one in self._drafts().items() if uid != session_uid}
        if draft is not None:
            drafts[session_uid] = draft
        table = {uid: {"step": one.step, "infusion": one.infusion, "text": one.text} for uid, one in drafts.items()}
        write_text(self._path, json.dumps({"version": VERSION, "drafts": table}, ensure_ascii=False, indent=2) + "\n")

    def _drafts(self) -> dict[str, Draft]:
        try:
            return _read(json.loads(self._path.read_text(encoding="utf-8")))
        except FileNotFoundError:
            return {}
        except (OSError, ValueError, TypeError, KeyError) as exc:
            self._set_aside(exc)
            return {}

    def _set_aside(self, why: Exception) -> None:
        LOG.warning("the drafts in %s could not be read: %s", self._path, why)
        try:
            self._path.replace(self._path.with_name(self._path.name + ".bad"))
        except OSError as exc:
            LOG.warning("and they could not be set aside: %s", exc)


def _read(table: Mapping[str, Any]) -> dict[str, Draft]:
    """Return the drafts of a table.

    Raises
    ------
    KeyError, TypeError, ValueError
        If it is none of ours.
    """
    if table["version"] != VERSION:
        raise ValueError(f"version {table['version']} is not known")
    return {uid: _draft(one) for uid, one in dict(table["drafts"]).items()}


def _draft(row: Mapping[str, Any]) -> Draft:
    step, infusion, text = row["step"], row["infusion"], row["text"]
    if not isinstance(step, str) or not isinstance(text, str) or not (infusion is None or type(infusion) is int):
        raise TypeError("a step, an infusion and a text are needed")
    return Draft(step, infusion, text)
