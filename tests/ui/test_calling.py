"""The pour is called aloud where it can be, and where it cannot the user learns why, once."""

from __future__ import annotations

import sys
import threading
import time
import wave
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest
from numpy.typing import NDArray

from tastebook.domain.errors import SoundRefused
from tastebook.domain.steep import Call
from tastebook.platform.loudspeaker import read_tapes
from tastebook.ui.calling import Caller, Silence
from tastebook.ui.qt_sound import NO_LIBRARY, NO_SPEECH_LIBRARY, QtPlayer, QtSpeaker
from tastebook.wiring.sounding import open_player, open_speaker

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget
    from pytestqt.qtbot import QtBot

LEAD, PLAN, OVER = Call("lead", 6), Call("plan", 0), Call("over", 15)
SOUNDS = ("lead", "plan", "over")


class FakeVoices:
    """A loudspeaker and a speech engine in one, which keep what they were asked for."""

    silent_because = ""

    def __init__(self) -> None:
        self.played: list[tuple[str, float]] = []
        self.said: list[str] = []
        self.opened = 0
        self.closed = 0

    def open(self, on_silence: object = None) -> FakeVoices:
        self.opened += 1
        return self

    def play(self, sound: str, volume: float) -> None:
        self.played.append((sound, volume))

    def say(self, words: str, volume: float) -> None:
        self.said.append(words)

    def close(self) -> None:
        self.closed += 1


class FakeDesktop:
    """Counts the alerts that it was asked for."""

    def __init__(self) -> None:
        self.alerted: list[QWidget] = []

    def alert(self, window: QWidget) -> None:
        self.alerted.append(window)


@pytest.fixture
def window(qtbot: QtBot) -> QWidget:
    from PySide6.QtWidgets import QWidget

    window = QWidget()
    qtbot.addWidget(window)
    return window


def caller_for(window: QWidget, voices: FakeVoices, *, sound: bool = True, voice: bool = False) -> Caller:
    return Caller(window, voices.open, voices.open, sound=sound, voice=voice, volume=0.5)


def test_each_call_has_its_own_sound(window: QWidget) -> None:
    voices = FakeVoices()
    caller = caller_for(window, voices)

    for call in (LEAD, PLAN, OVER):
        caller.announce(call)

    assert voices.played == [("lead", 0.5), ("plan", 0.5), ("over", 0.5)]
    assert voices.said == []


def test_the_voice_says_the_words_of_the_call_if_it_is_wanted(window: QWidget) -> None:
    voices = FakeVoices()
    caller = caller_for(window, voices, sound=False, voice=True)

    caller.announce(OVER)

    assert voices.said == ["15 seconds over"]
    assert voices.played == []


def test_the_desktop_is_asked_for_its_alert_whatever_can_be_heard(window: QWidget) -> None:
    desktop = FakeDesktop()
    caller = Caller(window, FakeVoices().open, FakeVoices().open, sound=False, alert=desktop.alert)

    caller.announce(PLAN)

    assert desktop.alerted == [window]


def test_nothing_is_opened_that_is_not_wanted(window: QWidget) -> None:
    voices = FakeVoices()
    caller = caller_for(window, voices, sound=False, voice=False)

    caller.prepare()
    caller.announce(PLAN)

    assert voices.opened == 0


def test_sound_is_opened_once(window: QWidget) -> None:
    voices = FakeVoices()
    caller = caller_for(window, voices)

    caller.prepare()
    caller.announce(LEAD)
    caller.announce(PLAN)

    assert voices.opened == 1


def test_why_nothing_is_heard_is_told_once_and_what_remains(window: QWidget) -> None:
    told: list[str] = []
    caller = Caller(window, lambda _: Silence("no loudspeaker answers"), FakeVoices().open)
    caller.told.connect(told.append)

    caller.prepare()
    caller.announce(LEAD)
    caller.announce(PLAN)

    assert len(told) == 1
    assert told[0].startswith("There is no sound: no loudspeaker answers.")
    assert "tint" in told[0]
    assert caller.silent_because == told[0]


def test_a_sound_that_cannot_be_opened_is_told_in_its_own_words(window: QWidget) -> None:
    def refuse(_: object) -> Silence:
        raise SoundRefused("this machine lacks libpulse")

    caller = Caller(window, refuse, FakeVoices().open)

    caller.announce(PLAN)

    assert "this machine lacks libpulse" in caller.silent_because


def test_a_silence_met_in_another_thread_is_told_in_this_one(window: QWidget, qtbot: QtBot) -> None:
    voices = FakeVoices()
    listeners: list[Callable[[], None]] = []
    caller = Caller(window, lambda on_silence: listeners.append(on_silence) or voices, voices.open)  # type: ignore[func-returns-value]
    caller.prepare()
    voices.silent_because = "the sound server went away"

    with qtbot.waitSignal(caller.told) as told:
        threading.Thread(target=listeners[0]).start()

    assert "went away" in told.args[0]


def test_who_wants_no_sound_is_told_nothing(window: QWidget) -> None:
    told: list[str] = []
    caller = Caller(window, lambda _: Silence("no loudspeaker answers"), FakeVoices().open, sound=False)
    caller.told.connect(told.append)

    caller.announce(PLAN)

    assert told == []
    assert caller.silent_because == ""


def test_a_choice_holds_from_the_next_call_on(window: QWidget) -> None:
    voices = FakeVoices()
    caller = caller_for(window, voices)

    caller.announce(LEAD)
    caller.adjust(sound=True, voice=True, volume=1.0)
    caller.announce(PLAN)
    caller.adjust(sound=False, voice=False)
    caller.announce(OVER)

    assert voices.played == [("lead", 0.5), ("plan", 1.0)]
    assert voices.said == ["pour now"]


def test_a_closed_caller_has_let_go_and_can_begin_again(window: QWidget) -> None:
    voices = FakeVoices()
    caller = caller_for(window, voices)
    caller.prepare()

    caller.close()
    caller.announce(PLAN)

    assert voices.closed == 1
    assert voices.opened == 2
    assert voices.played == [("plan", 0.5)]


def test_a_qt_without_its_sound_module_says_so(qapp: object, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "PySide6.QtMultimedia", None)  # what a failing import of it leaves

    with pytest.raises(SoundRefused, match=NO_LIBRARY):
        QtPlayer(read_tapes())


def test_a_qt_without_its_speech_module_says_so(qapp: object, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "PySide6.QtTextToSpeech", None)

    with pytest.raises(SoundRefused, match=NO_SPEECH_LIBRARY):
        QtSpeaker()


def test_a_voice_that_cannot_be_opened_is_told_apart_from_a_sound(window: QWidget) -> None:
    def refuse(_: object) -> Silence:
        raise SoundRefused("no speech engine answers")

    caller = Caller(window, FakeVoices().open, refuse, sound=True, voice=True)

    caller.announce(PLAN)

    assert caller.silent_because == "There is no voice: no speech engine answers."


def test_this_machine_either_sounds_or_says_why_and_a_call_never_holds_the_window_up(window: QWidget) -> None:
    # The real thing, with whatever this machine has; a Qt message printed on the way would fail the test.
    caller = Caller(window, open_player, open_speaker, sound=True, voice=True, volume=0.0)
    caller.prepare()

    took_s = []
    for call in (LEAD, PLAN, OVER):
        began_s = time.perf_counter()
        caller.announce(call)
        took_s.append(time.perf_counter() - began_s)

    caller.close()
    # Under 1 ms on an idle machine with PulseAudio; a busy one is allowed for.
    assert sorted(took_s)[1] < 0.05


@pytest.mark.parametrize("sound", SOUNDS)
def test_a_signal_is_short_clean_and_small(sound: str) -> None:
    resource = files("tastebook.resources.sounds").joinpath(f"{sound}.wav")

    with resource.open("rb") as file, wave.open(file) as source:
        shape = (source.getframerate(), source.getnchannels(), source.getsampwidth())
        length_s = source.getnframes() / source.getframerate()
    samples = _samples(sound)

    assert shape == (44_100, 1, 2)
    assert 0.1 < length_s < 0.7
    assert len(resource.read_bytes()) < 60_000
    assert 0.5 < np.abs(samples).max() < 0.95  # of full scale: heard, and not clipped
    assert abs(samples[0]) < 0.001
    assert np.abs(samples[-20:]).max() < 0.001  # no click at the end


def test_the_three_signals_cannot_be_taken_for_one_another() -> None:
    plan = _samples("plan")
    lead_hz, over_hz = _pitch_hz(_samples("lead")), _pitch_hz(_samples("over"))
    first_hz, second_hz = _pitch_hz(plan[: int(0.17 * 44_100)]), _pitch_hz(plan[int(0.2 * 44_100) :])

    # Notes of the equal-tempered scale on A4 = 440 Hz (ISO 16:1975): D4, A4, and C5 to G5.
    assert lead_hz == pytest.approx(293.66, abs=4)
    assert over_hz == pytest.approx(440.00, abs=5)
    assert (first_hz, second_hz) == (pytest.approx(523.25, abs=8), pytest.approx(783.99, abs=6))
    assert _sounding_s(_samples("over")) < 0.5 * min(_sounding_s(_samples("lead")), _sounding_s(plan))


def test_the_signals_are_what_their_recipe_makes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(str(Path(__file__).parents[2] / "packaging"))
    import build_sounds

    for sound in SOUNDS:
        with wave.open(str(build_sounds.write(sound, tmp_path))) as made:
            again = np.frombuffer(made.readframes(made.getnframes()), "<i2").astype(np.int32)

        # Another machine's sine may round the last bit otherwise.
        assert np.abs(again - np.round(_samples(sound) * 32_768).astype(np.int32)).max() <= 1


def _samples(sound: str) -> NDArray[np.float64]:
    resource = files("tastebook.resources.sounds").joinpath(f"{sound}.wav")
    with resource.open("rb") as file, wave.open(file) as source:
        return np.frombuffer(source.readframes(source.getnframes()), "<i2") / 32_768


def _pitch_hz(samples: NDArray[np.float64]) -> float:
    """Return the strongest frequency; zero padding refines the grid to under 1 Hz."""
    spectrum = np.abs(np.fft.rfft(samples * np.hanning(samples.size), 65_536))
    return float(np.fft.rfftfreq(65_536, 1 / 44_100)[spectrum.argmax()])


def _sounding_s(samples: NDArray[np.float64]) -> float:
    """Return how long the signal stays within 30 dB of its peak."""
    loud = np.flatnonzero(np.abs(samples) > np.abs(samples).max() * 10 ** (-30 / 20))
    return float(loud[-1] - loud[0]) / 44_100
