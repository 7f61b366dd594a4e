"""Which sound this platform has."""

from __future__ import annotations

import sys
from collections.abc import Callable

from tastebook.platform.loudspeaker import Loudspeaker, PulseServer, read_tapes
from tastebook.ui.calling import Player


def open_player(on_silence: Callable[[], None], platform: str = sys.platform) -> Player:
    """Open this machine's sound.

    Parameters
    ----------
    on_silence : Callable
        Called from any thread, each time nothing could be heard.
    platform : str
        As in `sys.platform`.

    Raises
    ------
    SoundRefused
        If there is no way to sound here.
    """
    if platform.startswith("linux"):
        return Loudspeaker(PulseServer(), read_tapes(), on_silence)
    from tastebook.ui.qt_player import QtPlayer

    return QtPlayer(read_tapes())
