"""Looking for something in everything ever recorded, and for the teas that are like one."""

from __future__ import annotations

import threading
from collections.abc import Callable
from datetime import date
from typing import Final

from tastebook.domain.act import Act
from tastebook.domain.finding import Found, Query
from tastebook.domain.finding_reader import read_query
from tastebook.domain.kin import Likeness, Profiles, kin_of, newest_assessed, profiles_of
from tastebook.domain.vocabulary import Vocabulary
from tastebook.services.ports import Journal

MOST_KIN: Final = 5


class Finding:
    """Understands what is typed, and asks the journal. `find` and the kin may be asked for by any thread.

    Parameters
    ----------
    journal : Journal
        What is searched.
    words : callable
        Returns the vocabulary known now: a word renamed, moved or merged is found under the keys it was recorded with.
    today : callable
        Returns the local date.
    """

    def __init__(self, journal: Journal, words: Callable[[], Vocabulary], today: Callable[[], date]) -> None:
        self._journal = journal
        self._words = words
        self._today = today
        self._lock = threading.Lock()
        self._profiles: tuple[Vocabulary, int, str, Profiles] | None = None

    def understand(self, typed: str) -> Query:
        """Return what is looked for; any text can be understood."""
        return read_query(typed, self._words(), self._today())

    def vocabulary(self) -> Vocabulary:
        """Return the words known now."""
        return self._words()

    def find(self, query: Query, limit: int, offset: int = 0) -> Found:
        """Return one page of what is found: lots first, then what was recorded, each newest first."""
        return self._journal.find(query, limit, offset)

    def kin_of_lot(self, lot_uid: str, limit: int = MOST_KIN) -> tuple[Likeness, ...]:
        """Return the lots most like one, by its newest tasting in which aroma was assessed."""
        profiles = self._read()
        session_uid = newest_assessed(profiles, lot_uid)
        return kin_of(profiles, session_uid, limit) if session_uid else ()

    def kin_of_session(self, session_uid: str, limit: int = MOST_KIN) -> tuple[Likeness, ...]:
        """Return the lots most like one as it was in one tasting."""
        return kin_of(self._read(session_uid), session_uid, limit)

    def take(self, act: Act) -> None:
        """Forget what an act that was just kept may have changed."""
        del act
        self._profiles = None

    def _read(self, session_uid: str = "") -> Profiles:
        """Return the strengths of all lots, read anew once the journal or the vocabulary has changed."""
        vocabulary, version = self._words(), self._journal.outside_version()
        with self._lock:
            kept = self._profiles
            if kept and kept[:2] == (vocabulary, version) and session_uid in ("", *kept[3].cups.session_uids):
                return kept[3]
            profiles = profiles_of(self._journal.noted_cups(session_uid), vocabulary)
            self._profiles = (vocabulary, version, session_uid, profiles)
            return profiles
