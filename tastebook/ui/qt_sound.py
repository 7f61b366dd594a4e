"""Signals and speech by Qt, for macOS and Windows.

Linux has its own in `tastebook.platform`: `loudspeaker` says what went wrong with Qt there. Either module of Qt may be
missing, so it is imported when first needed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import TYPE_CHECKING, Final, Protocol

from PySide6.QtCore import (
    QBuffer,
    QIODevice,
    QLocale,
    QMessageLogContext,
    QObject,
    QTimer,
    QtMsgType,
    qInstallMessageHandler,
)

from tastebook.domain.errors import SoundRefused

if TYPE_CHECKING:
    from PySide6.QtMultimedia import QAudioFormat, QAudioSink

REST_AFTER_MS: Final = 1500
"""Longer than any signal."""

BUFFER_MS: Final = 200
"""Bounds how late a signal is heard, and bridges a busy window."""

SPOKEN_IN: Final = QLocale(QLocale.Language.English)

NO_SPEECH_LIBRARY: Final = "Qt's speech module cannot be loaded"
NO_SPEECH_ENGINE: Final = "no speech engine answers"
NO_LIBRARY: Final = "Qt's sound module cannot be loaded"
NO_DEVICE: Final = "no loudspeaker or headphones answer"
NOT_PLAYABLE: Final = "the sound device refuses the timer's signals"


class Tape(Protocol):
    """16-bit mono PCM."""

    @property
    def pcm(self) -> bytes:
        """Return the samples."""
        ...

    @property
    def samples_per_s(self) -> int:
        """Return how fast they go by."""
        ...


class QtPlayer(QObject):
    """Plays each signal on whatever device sounds by default at that moment.

    A `QAudioSink` begun anew for each signal, not a `QSoundEffect`: see `tastebook.platform.loudspeaker`. Tried on
    PulseAudio: some 6 ms to begin, and none of 2,500 plays left the event loop spinning.

    Parameters
    ----------
    tapes : Mapping
        The signals by name.

    Raises
    ------
    SoundRefused
        If Qt's sound module is not here.
    """

    def __init__(self, tapes: Mapping[str, Tape]) -> None:
        super().__init__()
        try:
            from PySide6.QtMultimedia import QMediaDevices
        except ImportError as exc:
            raise SoundRefused(NO_LIBRARY) from exc
        self._devices = QMediaDevices
        self._tapes = tapes
        self._reel = QBuffer(self)
        self._sink: QAudioSink | None = None
        self._is_refused = False
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_AFTER_MS)
        self._rest.timeout.connect(self._stop)

    @property
    def silent_because(self) -> str:
        """Return why nothing can be heard, empty if it can."""
        if not self._has_device():
            return NO_DEVICE
        return NOT_PLAYABLE if self._is_refused else ""

    def play(self, sound: str, volume: float) -> None:
        """Begin to play, in place of what is still sounding."""
        self._stop()
        if not self._has_device():
            return
        tape = self._tapes[sound]
        self._reel.setData(tape.pcm)
        self._reel.open(QIODevice.OpenModeFlag.ReadOnly)
        self._sink = self._started(_format_of(tape), volume)
        self._rest.start()

    def close(self) -> None:
        """Let go of the device."""
        self._stop()
        self.deleteLater()

    def _has_device(self) -> bool:
        with _without_messages():
            return not self._devices.defaultAudioOutput().isNull()

    def _started(self, tape_format: QAudioFormat, volume: float) -> QAudioSink:
        from PySide6.QtMultimedia import QAudioSink, QtAudio

        sink = QAudioSink(self._devices.defaultAudioOutput(), tape_format, self)
        sink.setBufferSize(tape_format.bytesForDuration(BUFFER_MS * 1000))
        sink.setVolume(volume**2)
        sink.start(self._reel)
        self._is_refused = sink.error() in (QtAudio.Error.OpenError, QtAudio.Error.FatalError)
        return sink

    def _stop(self) -> None:
        """Give the device back, so that it can sleep between signals."""
        self._rest.stop()
        if self._sink is not None:
            self._sink.reset()
            self._sink.deleteLater()
            self._sink = None
        self._reel.close()


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


def _format_of(tape: Tape) -> QAudioFormat:
    from PySide6.QtMultimedia import QAudioFormat

    tape_format = QAudioFormat()
    tape_format.setSampleRate(tape.samples_per_s)
    tape_format.setChannelCount(1)
    tape_format.setSampleFormat(QAudioFormat.SampleFormat.Int16)
    return tape_format


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
