"""The loudspeaker of a Linux machine, through the simple interface of PulseAudio, to which PipeWire answers as well.

Not through Qt. Tried with Qt 6.11.3 on PulseAudio 16: the second signal of a `QSoundEffect` left the event loop
spinning on a closed socket for good in 5 of 12 runs ("Socket notifiers cannot be enabled or disabled from another
thread"), and any signal after the sound server had gone away aborted the program (`pa_context_get_state`: "Assertion
'c' failed"), both in the middle of a steep. Here nothing of either can reach the window: each signal sounds in a thread
of its own, and a server that is gone, hangs or comes back is only a reason told, or no longer told.

References
----------
PulseAudio's <pulse/simple.h>, <pulse/sample.h> and <pulse/def.h>: names, numbers and layouts.
"""

from __future__ import annotations

import ctypes
import io
import struct
import wave
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Final, Protocol

from tastebook.domain.errors import SoundRefused
from tastebook.platform.aside import Aside

PROGRAM: Final = "Tastebook"
LIBRARY: Final = "libpulse-simple.so.0"
NO_SERVER: Final = "no sound server answers"
BUFFER_MS: Final = 200
"""Bounds how late a signal is heard; left to itself the server may hold back two seconds."""

_PLAYBACK: Final = 1
_S16_LITTLE_ENDIAN: Final = 3
_AS_THE_SERVER_LIKES: Final = 2**32 - 1


@dataclass(frozen=True)
class Tape:
    """A signal ready to be played: 16-bit mono PCM."""

    pcm: bytes
    samples_per_s: int

    def bytes_for(self, length_ms: int) -> int:
        """Return how many bytes last that long."""
        return self.samples_per_s * length_ms // 1000 * 2

    def at_volume(self, volume: float) -> Tape:
        """Return this signal, quieter: scaled by the square of `volume`, which sounds more even to the ear."""
        return _quieter(self, min(1.0, max(0.0, volume)) ** 2)


@lru_cache(maxsize=8)
def _quieter(tape: Tape, share: float) -> Tape:
    # Without numpy: where it is not loaded yet, the first call would wait 150 ms for it.
    samples = (round(sample * share) for (sample,) in struct.iter_unpack("<h", tape.pcm))
    return Tape(b"".join(map(struct.Struct("<h").pack, samples)), tape.samples_per_s)


def read_tapes() -> dict[str, Tape]:
    """Return the signals that ship, by the name of the call."""
    folder = files("tastebook.resources.sounds")
    return {sound: _read_tape(folder.joinpath(f"{sound}.wav").read_bytes()) for sound in ("lead", "plan", "over")}


class SoundServer(Protocol):
    """Plays one tape to its end, in whatever thread it is called."""

    def play(self, tape: Tape, name: str) -> None:
        """Play, and return when it has been heard.

        Raises
        ------
        SoundRefused
            If nothing could be heard.
        """
        ...


class Loudspeaker:
    """Plays signals without ever being waited for.

    Parameters
    ----------
    server : SoundServer
        What plays.
    tapes : Mapping
        The signals by name.
    on_silence : Callable
        Called from another thread each time nothing could be heard.
    """

    def __init__(self, server: SoundServer, tapes: Mapping[str, Tape], on_silence: Callable[[], None]) -> None:
        self._server, self._tapes = server, tapes
        self._aside = Aside(on_silence)
        self._aside.do(lambda: server.play(Tape(b"\0\0", 44_100), "trial"))

    @property
    def silent_because(self) -> str:
        """Return why nothing was heard when last tried, empty if it was."""
        return self._aside.because

    def play(self, sound: str, volume: float) -> None:
        """Begin to play, at a volume from 0 to 1, and return at once."""
        self._aside.do(lambda: self._server.play(self._tapes[sound].at_volume(volume), sound))

    def close(self) -> None:
        """Let what sounds ring out, within a second."""
        self._aside.close()


class PulseServer:
    """The sound server of this machine and user.

    Raises
    ------
    SoundRefused
        If the library that speaks to it is not here.
    """

    def __init__(self, library: str = LIBRARY) -> None:
        try:
            self._simple = ctypes.CDLL(library)
        except OSError as exc:
            raise SoundRefused("this machine lacks libpulse (on Debian: libpulse0)") from exc
        self._simple.pa_simple_new.restype = ctypes.c_void_p

    def play(self, tape: Tape, name: str) -> None:
        """Play, and return when it has been heard."""
        line = self._opened(tape, name)
        error = ctypes.c_int()
        try:
            for failed in (
                self._simple.pa_simple_write(line, tape.pcm, ctypes.c_size_t(len(tape.pcm)), ctypes.byref(error)),
                self._simple.pa_simple_drain(line, ctypes.byref(error)),
            ):
                if failed < 0:
                    raise SoundRefused(NO_SERVER)
        finally:
            self._simple.pa_simple_free(line)

    def _opened(self, tape: Tape, name: str) -> ctypes.c_void_p:
        kind = _SampleSpec(_S16_LITTLE_ENDIAN, tape.samples_per_s, 1)
        likes = _AS_THE_SERVER_LIKES
        buffer = _BufferAttributes(likes, tape.bytes_for(BUFFER_MS), likes, likes, likes)
        error = ctypes.c_int()
        line = self._simple.pa_simple_new(
            None, PROGRAM.encode(), _PLAYBACK, None, name.encode(), ctypes.byref(kind), None,
            ctypes.byref(buffer), ctypes.byref(error),
        )  # fmt: skip
        if not line:
            raise SoundRefused(NO_SERVER)
        return ctypes.c_void_p(line)


class _SampleSpec(ctypes.Structure):
    _fields_ = (("format", ctypes.c_int), ("rate", ctypes.c_uint32), ("channels", ctypes.c_uint8))


class _BufferAttributes(ctypes.Structure):
    _fields_ = tuple((name, ctypes.c_uint32) for name in ("maxlength", "tlength", "prebuf", "minreq", "fragsize"))


def _read_tape(content: bytes) -> Tape:
    with wave.open(io.BytesIO(content)) as source:
        return Tape(source.readframes(source.getnframes()), source.getframerate())
