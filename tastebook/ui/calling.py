"""Calling the pour: a signal, a voice if it is wanted, and the desktop's own alert.

The tint and the words on the timer's panel are drawn elsewhere and never depend on this. Sound is handed in, speech
comes from a module of Qt that a machine may lack; where either cannot be had the user is told why, once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Final, Protocol

from PySide6.QtCore import QLocale, QMessageLogContext, QObject, QtMsgType, Signal, qInstallMessageHandler
from PySide6.QtWidgets import QApplication, QWidget

from tastebook.domain.errors import SoundRefused
from tastebook.domain.steep import Call

SPOKEN_IN: Final = QLocale(QLocale.Language.English)

NO_SOUND: Final = (
    "There is no sound: {why}. The panel still changes its tint and its word, and the desktop is asked for its alert."
)
NO_VOICE: Final = "There is no voice: {why}."
NO_SPEECH_LIBRARY: Final = "this machine lacks libpulse (on Debian: libpulse0)"
NO_SPEECH_ENGINE: Final = "no speech engine answers (on Debian: speech-dispatcher)"


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


OpenPlayer = Callable[[Callable[[], None]], Player]
"""Opens sound; what it is given may be called from any thread, each time nothing could be heard."""

OpenSpeaker = Callable[[], Speaker]


class Caller(QObject):
    """Announces what a steep has come to.

    Parameters
    ----------
    window : QWidget
        For which the desktop's alert is asked.
    open_player : OpenPlayer
        Opens this machine's sound; called when first needed. May raise `SoundRefused`.
    open_speaker : Callable
        Opens this machine's speech; called when first needed. May raise `SoundRefused`.
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
        open_speaker: OpenSpeaker | None = None,
        *,
        sound: bool = True,
        voice: bool = False,
        volume: float = 0.8,
        alert: Callable[[QWidget], None] = QApplication.alert,
    ) -> None:
        super().__init__(window)
        self._window = window
        self._open_player, self._open_speaker = open_player, open_speaker or open_qt_speaker
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
            return self._open_speaker()
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


class QtSpeaker(QObject):
    """Speaks through the first speech engine that Qt finds.

    Raises
    ------
    SoundRefused
        If there is none.
    """

    def __init__(self) -> None:
        super().__init__()
        try:
            from PySide6.QtTextToSpeech import QTextToSpeech
        except ImportError as exc:
            raise SoundRefused(NO_SPEECH_LIBRARY) from exc
        # "mock" is Qt's own for testing: it speaks to nobody.
        engines = [engine for engine in QTextToSpeech.availableEngines() if engine != "mock"]
        if not engines:
            raise SoundRefused(NO_SPEECH_ENGINE)
        self._error = QTextToSpeech.State.Error
        self._speech = QTextToSpeech(engines[0], self)
        if SPOKEN_IN.language() in {locale.language() for locale in self._speech.availableLocales()}:
            self._speech.setLocale(SPOKEN_IN)

    @property
    def silent_because(self) -> str:
        """Return why nothing can be heard, empty if it can."""
        return NO_SPEECH_ENGINE if self._speech.state() == self._error else ""

    def say(self, words: str, volume: float) -> None:
        """Begin to speak, in place of what is still being said."""
        if not self.silent_because:
            self._speech.setVolume(volume)
            self._speech.say(words)

    def close(self) -> None:
        """Let go of the speech engine."""
        self._speech.stop()
        self.deleteLater()


def open_qt_speaker() -> Speaker:
    """Return this machine's speech through Qt.

    Raises
    ------
    SoundRefused
        If there is none.
    """
    with without_messages():
        return QtSpeaker()


@contextmanager
def without_messages() -> Iterator[None]:
    """Drop what Qt prints meanwhile: it lists libraries and servers that it did without, which we tell in words."""
    earlier = qInstallMessageHandler(_drop)
    try:
        yield
    finally:
        qInstallMessageHandler(earlier)


def _drop(_kind: QtMsgType, _context: QMessageLogContext, _message: str) -> None:
    """Print nothing."""
