"""The voice of a Linux machine, through Speech Dispatcher's own command.

Qt's module would do the same in the thread that draws, and waits there for the daemon's every answer.

References
----------
spd-say(1): ``-i`` sets the volume from -100 to +100, ``-l`` the language, ``-N`` names the program.
"""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Callable
from typing import Final, Protocol

from tastebook.domain.errors import SoundRefused
from tastebook.platform.aside import Aside

COMMAND: Final = "spd-say"
ANSWERS_WITHIN_S: Final = 10
"""The first words may have to start the daemon."""

NO_SPEECH: Final = "no speech engine answers (on Debian: speech-dispatcher with speech-dispatcher-espeak-ng)"


class SpeechEngine(Protocol):
    """Speaks, in whatever thread it is called."""

    def say(self, words: str, volume: float) -> None:
        """Speak, at a volume from 0 to 1, and return when that was accepted.

        Raises
        ------
        SoundRefused
            If nothing could be heard.
        """
        ...


class Voice:
    """Speaks without ever being waited for."""

    def __init__(self, engine: SpeechEngine, on_silence: Callable[[], None]) -> None:
        self._engine = engine
        self._aside = Aside(on_silence)

    @property
    def silent_because(self) -> str:
        """Return why nothing was heard when last tried, empty if it was."""
        return self._aside.because

    def say(self, words: str, volume: float) -> None:
        """Begin to speak, at a volume from 0 to 1, and return at once."""
        self._aside.do(lambda: self._engine.say(words, volume))

    def close(self) -> None:
        """Let what is being said be said, within a second."""
        self._aside.close()


class SpeechDispatcher:
    """Speech Dispatcher, where its command is installed.

    Raises
    ------
    SoundRefused
        If it is not.
    """

    def __init__(self, command: str = COMMAND) -> None:
        found = shutil.which(command)
        if found is None:
            raise SoundRefused(NO_SPEECH)
        self._command = found

    def say(self, words: str, volume: float) -> None:
        """Speak, and return when that was accepted."""
        loudness = round(200 * min(1.0, max(0.0, volume)) - 100)
        asked = [self._command, "-N", "Tastebook", "-l", "en", "-i", str(loudness), words]
        try:
            subprocess.run(asked, capture_output=True, check=True, timeout=ANSWERS_WITHIN_S)  # noqa: S603
        except (OSError, subprocess.SubprocessError) as exc:
            raise SoundRefused(NO_SPEECH) from exc
