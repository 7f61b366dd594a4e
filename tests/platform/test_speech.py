"""The voice speaks beside the window, and a machine without one says so."""

from __future__ import annotations

import os
import threading
import time
from pathlib import Path

import pytest

from tastebook.domain.errors import SoundRefused
from tastebook.platform.speech import SpeechDispatcher, Voice


class FakeEngine:
    """Keeps what it was told to say; is done when it may be."""

    def __init__(self) -> None:
        self.said: list[tuple[str, float]] = []
        self.may_end = threading.Event()
        self.refusal = ""

    def say(self, words: str, volume: float) -> None:
        self.said.append((words, volume))
        self.may_end.wait(10)
        if self.refusal:
            raise SoundRefused(self.refusal)


def command_in(folder: Path, script: str) -> str:
    path = folder / "say-it"
    path.write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
    path.chmod(0o755)
    return str(path)


def test_a_hanging_engine_holds_nobody_up() -> None:
    engine = FakeEngine()
    voice = Voice(engine, lambda: None)
    began_s = time.perf_counter()

    voice.say("pour now", 0.8)
    took_s = time.perf_counter() - began_s

    engine.may_end.set()
    voice.close()
    assert took_s < 0.5
    assert engine.said == [("pour now", 0.8)]


def test_an_engine_that_refuses_is_told_of() -> None:
    engine = FakeEngine()
    engine.may_end.set()
    engine.refusal = "no speech engine answers"
    told = threading.Event()
    voice = Voice(engine, told.set)

    voice.say("pour now", 0.8)

    assert told.wait(5)
    assert voice.silent_because == "no speech engine answers"


def test_a_machine_without_the_command_names_its_package() -> None:
    with pytest.raises(SoundRefused, match="speech-dispatcher"):
        SpeechDispatcher("nobody-has-this-command")


@pytest.mark.skipif(os.name == "nt", reason="a shell script")
def test_the_words_and_the_volume_reach_the_command(tmp_path: Path) -> None:
    engine = SpeechDispatcher(command_in(tmp_path, f'printf "%s|" "$@" > "{tmp_path}/asked"'))

    engine.say("15 seconds over", 0.75)

    # spd-say(1): -i takes -100 to +100, so three quarters are +50.
    asked = (tmp_path / "asked").read_text(encoding="utf-8").rstrip("|").split("|")
    assert asked == ["-N", "Tastebook", "-l", "en", "-i", "50", "15 seconds over"]


@pytest.mark.skipif(os.name == "nt", reason="a shell script")
def test_a_command_that_fails_is_a_refusal(tmp_path: Path) -> None:
    engine = SpeechDispatcher(command_in(tmp_path, "exit 1"))

    with pytest.raises(SoundRefused, match="no speech engine answers"):
        engine.say("pour now", 0.8)
