"""Synthesise the three calls of the timer into resources/sounds: struck wood and a small bell, nothing recorded.

Each note is a sum of decaying partials (modal synthesis), struck with a few milliseconds of felt. The partials of a
tuned wooden bar are those of a marimba's, close to 1 : 4 : 10 (Fletcher and Rossing, The Physics of Musical
Instruments, 2nd ed., section 19.2: the bars are undercut until the second partial is two octaves up; from memory); the
bell's are softened with a hum an octave below. Notes by equal temperament from A4 = 440 Hz (ISO 16:1975).

Run it as `python packaging/build_sounds.py` from anywhere; the same numbers come out each time.
"""

from __future__ import annotations

import wave
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

SAMPLES_PER_S = 44_100
PEAK = 0.8
"""Of full scale: loud enough for a kettle, with room below clipping."""

FADE_IN_S = 0.004
FADE_OUT_S = 0.05
TARGET = Path(__file__).resolve().parents[1] / "resources" / "sounds"

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class Timbre:
    """Partials as (ratio to the note, strength, decay to 1/e in s)."""

    partials: tuple[tuple[float, float, float], ...]


WOOD = Timbre(((1.0, 1.0, 0.16), (3.98, 0.45, 0.07), (9.8, 0.08, 0.02)))
BELL = Timbre(((0.5, 0.18, 0.20), (1.0, 1.0, 0.17), (2.0, 0.42, 0.12), (3.01, 0.16, 0.07), (4.2, 0.07, 0.04)))
MUTED = Timbre(((1.0, 1.0, 0.05), (2.0, 0.4, 0.04), (3.98, 0.3, 0.025)))


@dataclass(frozen=True)
class Note:
    """One stroke: semitones from A4, when it falls, and how hard."""

    semitones: int
    at_s: float
    strength: float
    timbre: Timbre


LENGTHS_S = {"lead": 0.55, "plan": 0.66, "over": 0.26}
CALLS = {
    "lead": (Note(-7, 0.0, 1.0, WOOD),),  # D4, a soft knock, low yet within what a small loudspeaker gives
    "plan": (Note(3, 0.0, 0.85, BELL), Note(10, 0.17, 1.0, BELL)),  # C5 then G5, a fifth up
    "over": (Note(0, 0.0, 1.0, MUTED),),  # A4, a hand laid on the bar
}


def pitch_hz(semitones: int) -> float:
    """Return the frequency of a note that many semitones above A4."""
    return 440.0 * 2.0 ** (semitones / 12)


def note_wave(note: Note, length_s: float) -> FloatArray:
    """Return one stroke over the whole length of its call, shape (n,), silence before it falls."""
    at_s = np.arange(round(length_s * SAMPLES_PER_S)) / SAMPLES_PER_S - note.at_s
    struck_s = np.maximum(at_s, 0.0)
    tone = sum(
        strength * np.exp(-struck_s / decay_s) * np.sin(2 * np.pi * ratio * pitch_hz(note.semitones) * struck_s)
        for ratio, strength, decay_s in note.timbre.partials
    )
    return np.asarray(note.strength * np.clip(at_s / FADE_IN_S, 0.0, 1.0) * tone)


def call_wave(name: str) -> FloatArray:
    """Return one call, its largest sample at `PEAK`, faded out to silence."""
    length_s = LENGTHS_S[name]
    whole = np.sum([note_wave(note, length_s) for note in CALLS[name]], axis=0)
    left_s = (whole.size - 1 - np.arange(whole.size)) / SAMPLES_PER_S
    faded = whole * np.sin(np.clip(left_s / FADE_OUT_S, 0.0, 1.0) * np.pi / 2) ** 2
    return np.asarray(PEAK * faded / np.abs(faded).max())


def write(name: str, folder: Path) -> Path:
    """Write one call as 16-bit mono PCM and return its path."""
    path = folder / f"{name}.wav"
    samples = np.round(call_wave(name) * 32_767).astype("<i2")
    with wave.open(str(path), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(SAMPLES_PER_S)
        out.writeframes(samples.tobytes())
    return path


if __name__ == "__main__":
    for call in CALLS:
        print(f"{call}.wav: {write(call, TARGET).stat().st_size / 1000:.1f} kB")
