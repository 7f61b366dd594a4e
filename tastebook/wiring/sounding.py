"""Which sound and which voice this platform has."""

from __future__ import annotations

import sys

from tastebook.platform.loudspeaker import Loudspeaker, PulseServer, read_tapes
from tastebook.platform.speech import SpeechDispatcher, Voice
from tastebook.ui.calling import OnSilence, Player, Speaker


def open_player(on_silence: OnSilence, platform: str = sys.platform) -> Player:
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
    from tastebook.ui.qt_sound import QtPlayer

    return QtPlayer(read_tapes())


def open_speaker(on_silence: OnSilence, platform: str = sys.platform) -> Speaker:
    """Open this machine's speech; parameters and errors as in `open_player`."""
    if platform.startswith("linux"):
        return Voice(SpeechDispatcher(), on_silence)
    from tastebook.ui.qt_sound import QtSpeaker

    return QtSpeaker()
