"""Screens, each built when it is first gone to: what the first paint does not need is imported here, late."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from tastebook.services.tasting import TastingDesk
from tastebook.ui.theme.theme import Themes
from tastebook.wiring.house import House

if TYPE_CHECKING:
    from tastebook.ui.arc.screen import ArcScreen
    from tastebook.ui.bench.screen import BenchScreen
    from tastebook.ui.help_sheet import HelpSheet
    from tastebook.ui.settings_sheet import SettingsSheet
    from tastebook.ui.shelf.session_card import SessionCard
    from tastebook.ui.words.sheet import WordsSheet


def bench_screen(built: House, themes: Themes, desk: TastingDesk) -> BenchScreen:
    """Return the Bench of one tasting."""
    from tastebook.presenters.bench.counsel import Counsel
    from tastebook.presenters.bench.photos import BenchPhotos
    from tastebook.presenters.bench.presenter import BenchPresenter
    from tastebook.ui.bench.screen import BenchScreen

    counsel = Counsel(built.brewing, desk, built.settings)
    presenter = BenchPresenter(desk, built.words, built.settings, counsel, built.drafts)
    families = [(family.key, family.name) for family in built.words().families]
    return BenchScreen(themes, presenter, BenchPhotos(built.photographs, presenter), families)


def arc_screen(built: House, themes: Themes, session_uid: str) -> ArcScreen:
    """Return the review of one session."""
    from tastebook.presenters.arc.presenter import ArcPresenter
    from tastebook.presenters.finding import FindPresenter
    from tastebook.ui.arc.screen import ArcScreen

    presenter = ArcPresenter(
        lambda: built.journal.tasting(session_uid),
        built.words,
        built.settings,
        built.brewing.estimates,
        built.photographs,
    )
    finder = FindPresenter(built.finding, built.journal.lot)
    return ArcScreen(themes, presenter, kin=lambda: finder.kin_of_session(session_uid))


def session_card(built: House, themes: Themes, lot_uid: str) -> SessionCard:
    """Return the card before a session with a lot."""
    from tastebook.presenters.opening import OpeningPresenter
    from tastebook.ui.shelf.session_card import SessionCard

    line = next(line for line in built.shelf.lines() if line.lot.uid == lot_uid)
    before = built.journal.lot(line.lot.follows) if line.lot.follows else None
    return SessionCard(themes, OpeningPresenter(built.shelf, line, built.preferences.current.taster, before))


def help_sheet(built: House, themes: Themes) -> HelpSheet:
    """Return the keys, the words, the steps and the cautions."""
    from tastebook.platform.cautions import load_cautions
    from tastebook.presenters.help import HelpPresenter
    from tastebook.ui.help_sheet import HelpSheet

    presenter = HelpPresenter(
        load_cautions, built.courses.all, built.settings, built.figures, str(built.folders.figures), built.words
    )
    return HelpSheet(themes, presenter)


def settings_sheet(built: House, themes: Themes, silent_because: Callable[[], str]) -> SettingsSheet:
    """Return the settings."""
    from tastebook.presenters.settings import SettingsPresenter
    from tastebook.ui.settings_sheet import SettingsSheet

    presenter = SettingsPresenter(
        built.preferences,
        lambda: str(built.journal.path),
        lambda: f"{built.clock.utc_now():%Y-%m-%d}",
        silent_because=silent_because,
    )
    return SettingsSheet(themes, presenter)


def words_sheet(built: House, themes: Themes) -> WordsSheet:
    """Return the words: found, told, changed."""
    from tastebook.presenters.words import WordsPresenter
    from tastebook.ui.words.sheet import WordsSheet

    presenter = WordsPresenter(built.lexicon, built.words, built.journal.read_only_because)
    return WordsSheet(themes, presenter)


def warm_up(built: House) -> None:
    """Load what the first act, the first cup and the next screens need."""
    import tastebook.presenters.arc.presenter
    import tastebook.ui.arc.screen
    import tastebook.ui.bench.screen  # noqa: F401
    from tastebook.domain.liquor import chart, nearest_swatch
    from tastebook.domain.saying import understand

    built.journal.warm_up()
    nearest_swatch(chart()[0][0])
    understand("", built.words())  # the phrases are gathered at the first word
