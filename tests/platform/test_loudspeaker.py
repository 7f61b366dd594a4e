"""Signals sound in threads of their own: nothing waits for them, and nothing is lost with them."""

from __future__ import annotations

import ctypes
import threading
import time
from collections.abc import Iterator

import numpy as np
import pytest

from tastebook.domain.errors import SoundRefused
from tastebook.platform.loudspeaker import LIBRARY, Loudspeaker, PulseServer, Tape, read_tapes

TAPES = {"plan": Tape(np.array([0, 1000, -1000], "<i2").tobytes(), 44_100)}


class FakeServer:
    """Keeps what it was asked to play; plays on only when it may, and refuses when told to."""

    def __init__(self) -> None:
        self.played: list[tuple[str, Tape]] = []
        self.may_end = threading.Event()
        self.may_end.set()
        self.refusal = ""

    def play(self, tape: Tape, name: str) -> None:
        self.played.append((name, tape))
        self.may_end.wait(10)
        if self.refusal:
            raise SoundRefused(self.refusal)


class Silences:
    """Counts how often it was told of a silence."""

    def __init__(self) -> None:
        self.count = 0

    def note(self) -> None:
        self.count += 1


@pytest.fixture
def server() -> Iterator[FakeServer]:
    server = FakeServer()
    yield server
    server.may_end.set()


def test_a_server_is_tried_before_the_first_signal_is_due(server: FakeServer) -> None:
    server.refusal = "no sound server answers"
    silences = Silences()

    loudspeaker = Loudspeaker(server, TAPES, silences.note)
    _wait_for(loudspeaker)

    assert loudspeaker.silent_because == "no sound server answers"
    assert silences.count == 1


def test_a_signal_is_played_at_the_square_of_the_volume(server: FakeServer) -> None:
    loudspeaker = Loudspeaker(server, TAPES, Silences().note)

    loudspeaker.play("plan", 0.5)
    _wait_for(loudspeaker)

    name, tape = server.played[-1]
    assert name == "plan"
    assert np.frombuffer(tape.pcm, "<i2").tolist() == [0, 250, -250]


@pytest.mark.parametrize("volume", [1.0, 7.0])
def test_no_volume_can_clip(volume: float) -> None:
    loud = Tape(np.array([32_767, -32_768], "<i2").tobytes(), 44_100)

    assert loud.at_volume(volume) == loud


def test_a_hanging_server_holds_nobody_up(server: FakeServer) -> None:
    server.may_end.clear()
    loudspeaker = Loudspeaker(server, TAPES, Silences().note)
    began_s = time.perf_counter()

    loudspeaker.play("plan", 1.0)
    took_s = time.perf_counter() - began_s

    assert took_s < 0.5
    assert [name for name, _ in server.played] == ["trial", "plan"]


def test_a_server_that_comes_back_is_heard_again(server: FakeServer) -> None:
    server.refusal = "the sound server went away"
    loudspeaker = Loudspeaker(server, TAPES, Silences().note)
    _wait_for(loudspeaker)

    server.refusal = ""
    loudspeaker.play("plan", 1.0)
    _wait_for(loudspeaker)

    assert loudspeaker.silent_because == ""


def test_nothing_is_told_once_it_is_closed(server: FakeServer) -> None:
    server.may_end.clear()
    server.refusal = "the sound server went away"
    silences = Silences()
    loudspeaker = Loudspeaker(server, TAPES, silences.note)
    threading.Timer(0.1, server.may_end.set).start()

    loudspeaker.close()

    assert silences.count == 0


def test_a_machine_without_the_library_names_its_package() -> None:
    with pytest.raises(SoundRefused, match="libpulse0"):
        PulseServer("libnobody-has-this.so.9")


def test_a_server_that_is_not_there_is_a_refusal_and_no_more(monkeypatch: pytest.MonkeyPatch) -> None:
    try:
        ctypes.CDLL(LIBRARY)
    except OSError:
        pytest.skip("libpulse is not on this machine")
    monkeypatch.setenv("PULSE_SERVER", "unix:/nobody/listens/here")

    with pytest.raises(SoundRefused, match="no sound server answers"):
        PulseServer().play(TAPES["plan"], "plan")


def test_the_buffer_lasts_as_long_as_it_says() -> None:
    # 200 ms of 44 100 samples a second, two bytes each.
    assert TAPES["plan"].bytes_for(200) == 17_640


def test_every_call_has_a_tape_that_ships() -> None:
    tapes = read_tapes()

    assert set(tapes) == {"lead", "plan", "over"}
    assert all(tape.samples_per_s == 44_100 and len(tape.pcm) > 10_000 for tape in tapes.values())


def _wait_for(loudspeaker: Loudspeaker) -> None:
    loudspeaker._aside.wait(within_s=5)
