"""Calling the pour: a signal, a voice if it is wanted, and the desktop's own alert.

The tint and the words on the timer's panel are drawn elsewhere and never depend on this. Sound and speech come from
modules of Qt that a machine may lack (on Linux both load libpulse), so they are imported when first needed, and where
they cannot be had the user is told why, once.
"""

from __future__ import annotations

import wave
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from importlib.resources import files
from typing import TYPE_CHECKING, Final, Literal, Protocol, TypeAlias, get_args

from PySide6.QtCore import (
    QBuffer,
    QIODevice,
    QLocale,
    QMessageLogContext,
    QObject,
    QTimer,
    QtMsgType,
    Signal,
    qInstallMessageHandler,
)
from PySide6.QtWidgets import QApplication, QWidget

from tastebook.domain.steep import Call

if TYPE_CHECKING:
    from PySide6.QtMultimedia import QAudioFormat, QAudioSink

Sound: TypeAlias = Literal["lead", "plan", "over"]

SOUNDS: Final[tuple[Sound, ...]] = get_args(Sound)
BUFFER_MS: Final = 200
"""Bounds how late a signal is heard (left to itself PulseAudio may hold back 2 s), and bridges a busy window."""

REST_AFTER_MS: Final = 1500
"""Longer than any signal."""

SPOKEN_IN: Final = QLocale(QLocale.Language.English)

INSTEAD: Final = "The panel still changes its tint and its word, and the desktop is asked for its alert."
NO_SOUND_LIBRARY: Final = f"There is no sound: this machine lacks libpulse (on Debian: libpulse0). {INSTEAD}"
NO_DEVICE: Final = f"There is no sound: no loudspeaker or headphones answer. {INSTEAD}"
NOT_PLAYABLE: Final = f"There is no sound: the sound device refuses the timer's signals. {INSTEAD}"
NO_VOICE_LIBRARY: Final = "There is no voice: this machine lacks libpulse (on Debian: libpulse0)."
NO_SPEECH: Final = "There is no voice: no speech engine answers (on Debian: speech-dispatcher)."


class Player(Protocol):
    """Plays the signals, or says why it cannot."""

    @property
    def silent_because(self) -> str:
        """Return why nothing can be heard, empty if it can."""
        ...

    def play(self, sound: Sound, volume: float) -> None:
        """Begin to play, at a volume from 0 to 1, and return at once."""
        ...

    def close(self) -> None:
        """Let go of the device."""
        ...


class Speaker(Protocol):
    """Says words aloud, or says why it cannot."""

    @property
    def silent_because(self) -> str:
        """Return why nothing can be heard, empty if it can."""
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

    def play(self, sound: Sound, volume: float) -> None:
        """Play nothing."""

    def say(self, words: str, volume: float) -> None:
        """Say nothing."""

    def close(self) -> None:
        """Have nothing to let go of."""


class Caller(QObject):
    """Announces what a steep has come to.

    Parameters
    ----------
    window : QWidget
        For which the desktop's alert is asked.
    sound, voice : bool
        What the user wants to hear.
    volume : float
        From 0 to 1.
    open_player, open_speaker : Callable
        Open this machine's sound and speech; called once each, when first needed.
    alert : Callable
        Asks the desktop for its alert.
    """

    told = Signal(str)
    """Why something cannot be heard, in words for the user; each reason once."""

    def __init__(
        self,
        window: QWidget,
        *,
        sound: bool = True,
        voice: bool = False,
        volume: float = 0.8,
        open_player: Callable[[], Player] | None = None,
        open_speaker: Callable[[], Speaker] | None = None,
        alert: Callable[[QWidget], None] = QApplication.alert,
    ) -> None:
        super().__init__(window)
        self._window = window
        self._sound, self._voice, self._volume = sound, voice, volume
        self._open_player, self._open_speaker = open_player or open_qt_player, open_speaker or open_qt_speaker
        self._alert = alert
        self._player: Player | None = None
        self._speaker: Speaker | None = None
        self._told: set[str] = set()

    @property
    def silent_because(self) -> str:
        """Return why something that is wanted cannot be heard; empty if it can, or before it was tried."""
        return " ".join(self._reasons())

    def prepare(self) -> None:
        """Open what is wanted; best called once after the first paint, so that no steep waits for it."""
        if self._sound and self._player is None:
            self._player = self._open_player()
        if self._voice and self._speaker is None:
            self._speaker = self._open_speaker()
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

    def _reasons(self) -> list[str]:
        wanted = (self._player if self._sound else None, self._speaker if self._voice else None)
        return [opened.silent_because for opened in wanted if opened is not None and opened.silent_because]

    def _tell(self) -> None:
        for reason in self._reasons():
            if reason not in self._told:
                self._told.add(reason)
                self.told.emit(reason)


class QtPlayer(QObject):
    """Plays the signals through Qt, on whatever device sounds by default at that moment.

    Not by `QSoundEffect`: with Qt 6.11.3 on PulseAudio its second signal left the event loop spinning on a closed
    socket for good in 5 of 12 runs ("Socket notifiers cannot be enabled or disabled from another thread"). A
    `QAudioSink` begun anew for each signal did so in none of 2,500 plays, and takes some 6 ms to begin.
    """

    def __init__(self) -> None:
        from PySide6.QtMultimedia import QMediaDevices

        super().__init__()
        self._devices = QMediaDevices
        self._waves = {sound: _read_wave(sound) for sound in SOUNDS}
        self._tape = QBuffer(self)
        self._sink: QAudioSink | None = None
        self._is_refused = False
        self._rest = QTimer(self, singleShot=True, interval=REST_AFTER_MS)
        self._rest.timeout.connect(self._stop)

    @property
    def silent_because(self) -> str:
        """Return why nothing can be heard, empty if it can."""
        with _without_messages():
            has_device = not self._devices.defaultAudioOutput().isNull()
        if not has_device:
            return NO_DEVICE
        return NOT_PLAYABLE if self._is_refused else ""

    def play(self, sound: Sound, volume: float) -> None:
        """Begin to play, in place of what is still sounding."""
        from PySide6.QtMultimedia import QAudioSink, QtAudio

        self._stop()
        device = self._devices.defaultAudioOutput()
        if device.isNull():
            return
        tape, wave_format = self._waves[sound]
        self._tape.setData(tape)
        self._tape.open(QIODevice.OpenModeFlag.ReadOnly)
        self._sink = QAudioSink(device, wave_format, self)
        self._sink.setBufferSize(wave_format.bytesForDuration(BUFFER_MS * 1000))
        self._sink.setVolume(volume)
        self._sink.start(self._tape)
        self._is_refused = self._sink.error() in (QtAudio.Error.OpenError, QtAudio.Error.FatalError)
        self._rest.start()

    def close(self) -> None:
        """Let go of the device."""
        self._stop()
        self.deleteLater()

    def _stop(self) -> None:
        """Give the device back, so that it can sleep between signals."""
        self._rest.stop()
        if self._sink is not None:
            self._sink.reset()
            self._sink.deleteLater()
            self._sink = None
        self._tape.close()


def _read_wave(sound: Sound) -> tuple[bytes, QAudioFormat]:
    from PySide6.QtMultimedia import QAudioFormat

    with files("tastebook.resources.sounds").joinpath(f"{sound}.wav").open("rb") as file, wave.open(file) as source:
        wave_format = QAudioFormat()
        wave_format.setSampleRate(source.getframerate())
        wave_format.setChannelCount(source.getnchannels())
        wave_format.setSampleFormat(QAudioFormat.SampleFormat.Int16)
        return source.readframes(source.getnframes()), wave_format


class QtSpeaker(QObject):
    """Speaks through the speech engine that Qt finds."""

    def __init__(self, engine: str) -> None:
        from PySide6.QtTextToSpeech import QTextToSpeech

        super().__init__()
        self._speech = QTextToSpeech(engine, self)
        self._error = QTextToSpeech.State.Error
        if SPOKEN_IN.language() in {locale.language() for locale in self._speech.availableLocales()}:
            self._speech.setLocale(SPOKEN_IN)

    @property
    def silent_because(self) -> str:
        """Return why nothing can be heard, empty if it can."""
        return NO_SPEECH if self._speech.state() == self._error else ""

    def say(self, words: str, volume: float) -> None:
        """Begin to speak, in place of what is still being said."""
        if not self.silent_because:
            self._speech.setVolume(volume)
            self._speech.say(words)

    def close(self) -> None:
        """Let go of the speech engine."""
        self._speech.stop()
        self.deleteLater()


def open_qt_player() -> Player:
    """Return this machine's sound through Qt, or a silence that says why."""
    with _without_messages():
        try:
            return QtPlayer()
        except ImportError:
            return Silence(NO_SOUND_LIBRARY)


def open_qt_speaker() -> Speaker:
    """Return this machine's speech through Qt, or a silence that says why."""
    with _without_messages():
        try:
            from PySide6.QtTextToSpeech import QTextToSpeech
        except ImportError:
            return Silence(NO_VOICE_LIBRARY)
        # "mock" is Qt's own for testing: it speaks to nobody.
        engines = [engine for engine in QTextToSpeech.availableEngines() if engine != "mock"]
        return QtSpeaker(engines[0]) if engines else Silence(NO_SPEECH)


@contextmanager
def _without_messages() -> Iterator[None]:
    """Drop what Qt prints meanwhile: it lists libraries and servers that it did without, which we tell in words."""
    earlier = qInstallMessageHandler(_drop)
    try:
        yield
    finally:
        qInstallMessageHandler(earlier)


def _drop(_kind: QtMsgType, _context: QMessageLogContext, _message: str) -> None:
    """Print nothing."""
