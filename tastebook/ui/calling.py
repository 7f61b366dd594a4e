"""Calling the pour: a signal, a voice if it is wanted, and the desktop's own alert.

The tint and the words on the timer's panel are drawn elsewhere and never depend on this. Sound and speech are handed
in; where either cannot be had the user is told why, once.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final, Protocol, TypeAlias

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QApplication, QWidget

from tastebook.domain.errors import SoundRefused
from tastebook.domain.steep import Call

NO_SOUND: Final = (
    "There is no sound: {why}. The panel still changes its tint and its word, and the desktop is asked for its alert."
)
NO_VOICE: Final = "There is no voice: {why}."


class Player(Protocol):
    """Plays the signals, or says why it cannot."""

    @property
    def silent_because(self) -> str:
        """Return why nothing can be heard, empty if it can as far as is known."""
        ...

    def play(self, sound: str, volume: float) -> None:
        """Begin to play, at a volume from 0 to 1, and return at once."""
        ...

    def close(self) -> None:
        """Let go of the device."""
        ...


class Speaker(Protocol):
    """Says words aloud, or says why it cannot."""

    @property
    def silent_because(self) -> str:
        """Return why nothing can be heard, empty if it can as far as is known."""
        ...

    def say(self, words: str, volume: float) -> None:
        """Begin to speak, at a volume from 0 to 1, and return at once."""
        ...

    def close(self) -> None:
        """Let go of the speech engine."""
        ...


class Silence:
    """Stands where there is no sound or no speech, and knows why."""

    def __init__(self, because: str) -> None:
        self.silent_because = because

    def play(self, sound: str, volume: float) -> None:
        """Play nothing."""

    def say(self, words: str, volume: float) -> None:
        """Say nothing."""

    def close(self) -> None:
        """Have nothing to let go of."""


OnSilence: TypeAlias = Callable[[], None]
"""What may be called from any thread, each time nothing could be heard."""

OpenPlayer: TypeAlias = Callable[[OnSilence], Player]
OpenSpeaker: TypeAlias = Callable[[OnSilence], Speaker]


class Caller(QObject):
    """Announces what a steep has come to.

    Parameters
    ----------
    window : QWidget
        For which the desktop's alert is asked.
    open_player, open_speaker : Callable
        Open this machine's sound and speech; called when first needed. Either may raise `SoundRefused`.
    sound, voice : bool
        What the user wants to hear.
    volume : float
        From 0 to 1.
    alert : Callable
        Asks the desktop for its alert.
    """

    told = Signal(str)
    """Why something cannot be heard, in words for the user; each reason once."""

    _fell_silent = Signal()
    """Carries the news from the thread that met it to the one that draws."""

    def __init__(
        self,
        window: QWidget,
        open_player: OpenPlayer,
        open_speaker: OpenSpeaker,
        *,
        sound: bool = True,
        voice: bool = False,
        volume: float = 0.8,
        alert: Callable[[QWidget], None] = QApplication.alert,
    ) -> None:
        super().__init__(window)
        self._window = window
        self._open_player, self._open_speaker = open_player, open_speaker
        self._sound, self._voice, self._volume = sound, voice, volume
        self._alert = alert
        self._player: Player | None = None
        self._speaker: Speaker | None = None
        self._told: set[str] = set()
        self._fell_silent.connect(self._tell)

    @property
    def silent_because(self) -> str:
        """Return why something that is wanted cannot be heard; empty if it can, or before it was tried."""
        return " ".join(self._reasons())

    def prepare(self) -> None:
        """Open what is wanted; best called once after the first paint, so that no steep waits for it."""
        if self._sound and self._player is None:
            self._player = self._player_or_silence()
        if self._voice and self._speaker is None:
            self._speaker = self._speaker_or_silence()
        self._tell()

    def adjust(self, *, sound: bool, voice: bool, volume: float | None = None) -> None:
        """Follow the user's choices from now on."""
        self._sound, self._voice = sound, voice
        self._volume = self._volume if volume is None else volume
        self.prepare()

    def announce(self, call: Call) -> None:
        """Let the call be heard and noticed; return at once."""
        self._alert(self._window)
        self.prepare()
        if self._sound and self._player is not None:
            self._player.play(call.what, self._volume)
        if self._voice and self._speaker is not None:
            self._speaker.say(call.words, self._volume)

    def close(self) -> None:
        """Let go of sound and speech; the next call opens them again."""
        for opened in (self._player, self._speaker):
            if opened is not None:
                opened.close()
        self._player = self._speaker = None

    def _player_or_silence(self) -> Player:
        try:
            return self._open_player(self._fell_silent.emit)
        except SoundRefused as exc:
            return Silence(str(exc))

    def _speaker_or_silence(self) -> Speaker:
        try:
            return self._open_speaker(self._fell_silent.emit)
        except SoundRefused as exc:
            return Silence(str(exc))

    def _reasons(self) -> list[str]:
        wanted = (
            (NO_SOUND, self._player.silent_because if self._sound and self._player else ""),
            (NO_VOICE, self._speaker.silent_because if self._voice and self._speaker else ""),
        )
        return [sentence.format(why=why) for sentence, why in wanted if why]

    def _tell(self) -> None:
        for reason in self._reasons():
            if reason not in self._told:
                self._told.add(reason)
                self.told.emit(reason)
