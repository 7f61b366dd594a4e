"""Everything that can go wrong, as one tree.

TastebookError
├── QuantityError      a number or its unit cannot be what was meant
├── VocabularyError    a word list contradicts itself or cannot be read
│   └── NameTaken          another word has that name
├── CourseError        a course file cannot be followed
├── TastingError       an act that this tasting cannot take now
├── OthersAct          what would be taken back was done in another window; asked once more, it is
├── PageError          a page could not be set
├── SoundRefused       this machine could not sound a signal
├── PictureRefused     a file is no picture that can be read here
├── ColourRefused      a place in a photograph does not tell a colour
└── StoreError         the journal could not be read or written
    ├── JournalBusy        somebody else is writing to it just now
    ├── JournalDamaged     the file is a journal, and hurt
    ├── JournalFull        the disk refused the act
    ├── JournalNewer       a later Tastebook wrote it; it opens for reading only
    ├── JournalReadOnly    the file or its folder may not be written
    ├── NotAJournal        the file is something else
    └── StaleAct           the record was changed elsewhere since it was read
"""

from __future__ import annotations


class TastebookError(Exception):
    """Trouble that is expected, and that the user can be told about."""


class QuantityError(TastebookError):
    """A number or its unit cannot be what was meant."""


class VocabularyError(TastebookError):
    """A word list contradicts itself or cannot be read."""


class NameTaken(VocabularyError):
    """Another word has that name; `key` says which, so that the two can be merged."""

    def __init__(self, told: str, key: str) -> None:
        super().__init__(told)
        self.key = key


class CourseError(TastebookError):
    """A course file cannot be followed."""


class TastingError(TastebookError):
    """An act that this tasting cannot take now."""


class OthersAct(TastebookError):
    """What would be taken back, or done again, was done in another window; asked once more, it is."""


class PageError(TastebookError):
    """A page could not be set."""


class SoundRefused(TastebookError):
    """No signal could be sounded on this machine."""


class PictureRefused(TastebookError):
    """A file is no picture that can be read here."""


class ColourRefused(TastebookError):
    """A place in a photograph does not tell a colour."""


class PorcelainDoubted(ColourRefused):
    """What was tapped may be no white porcelain; whoever knows that it is can say so.

    Parameters
    ----------
    message : str
        What was wrong.
    whiter_at : tuple of float
        Where the picture is whiter, as shares of its width and height.
    """

    def __init__(self, message: str, whiter_at: tuple[float, float]) -> None:
        super().__init__(message)
        self.whiter_at = whiter_at


class StoreError(TastebookError):
    """The journal could not be read or written."""


class JournalBusy(StoreError):
    """Somebody else is writing to the journal just now."""


class JournalDamaged(StoreError):
    """The file is a journal, and hurt."""


class JournalFull(StoreError):
    """The disk refused the act."""


class JournalNewer(StoreError):
    """A later Tastebook wrote the journal."""


class JournalReadOnly(StoreError):
    """The journal or its folder may not be written."""


class NotAJournal(StoreError):
    """The file is something else."""


class StaleAct(StoreError):
    """The record was changed elsewhere since it was read."""
