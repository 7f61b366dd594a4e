"""What Qt needs is named before Qt is asked."""

from __future__ import annotations

import re
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from tastebook.platform import machine
from tastebook.platform.machine import Missing, advice, has_display, missing_libraries

X = {"DISPLAY": ":0"}
WAYLAND = {"WAYLAND_DISPLAY": "wayland-0", "XDG_RUNTIME_DIR": "/run/user/1000"}


def none_loads(_: str) -> bool:
    return False


def test_every_library_of_an_offscreen_qt_is_asked_for() -> None:
    missing = missing_libraries(needs_window=False, platform="linux", environ=X, can_load=none_loads)

    # The Debian packages found by trial on a bare Debian 12 with PySide6 6.11.
    assert {each.package for each in missing} == {
        "libegl1", "libgl1", "libfontconfig1", "libdbus-1-3", "libglib2.0-0", "libxkbcommon0",
    }  # fmt: skip


def test_a_window_on_x_needs_more() -> None:
    missing = missing_libraries(needs_window=True, platform="linux", environ=X, can_load=none_loads)

    added = {each.package for each in missing} - set(machine.ALWAYS.values())
    assert added == {"libxcb-cursor0", "libxcb-icccm4", "libxcb-keysyms1", "libxcb-shape0", "libxkbcommon-x11-0"}


def test_a_window_on_wayland_alone_asks_for_nothing_of_x() -> None:
    missing = missing_libraries(needs_window=True, platform="linux", environ=WAYLAND, can_load=none_loads)

    assert not any("xcb" in each.package for each in missing)
    assert Missing("libwayland-client.so.0", "libwayland-client0") in missing


def test_what_loads_is_not_missing() -> None:
    missing = missing_libraries(
        needs_window=True, platform="linux", environ=X, can_load=lambda library: library != "libxcb-cursor.so.0"
    )

    assert missing == (Missing("libxcb-cursor.so.0", "libxcb-cursor0"),)


@pytest.mark.parametrize("platform", ["darwin", "win32"])
def test_away_from_linux_qt_brings_its_own(platform: str) -> None:
    assert missing_libraries(needs_window=True, platform=platform, environ=X, can_load=none_loads) == ()
    assert has_display(platform=platform, environ={}, answers=none_loads)


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="asks Linux's dynamic linker")
def test_the_linker_itself_is_asked() -> None:
    assert machine._can_load("libc.so.6")
    assert not machine._can_load("libnobody-has-this.so.9")


def test_no_display_is_named_on_a_bare_machine() -> None:
    assert not has_display(platform="linux", environ={}, answers=lambda _: True)


@pytest.mark.parametrize(
    ("environ", "listens"),
    [
        ({"DISPLAY": ":0"}, "/tmp/.X11-unix/X0"),
        ({"DISPLAY": ":1.0"}, "/tmp/.X11-unix/X1"),
        ({"DISPLAY": "unix:7"}, "\0/tmp/.X11-unix/X7"),
        ({"DISPLAY": "localhost:10.0"}, "localhost:6010"),
        (WAYLAND, "/run/user/1000/wayland-0"),
        ({"WAYLAND_DISPLAY": "/run/elsewhere"}, "/run/elsewhere"),
    ],
)
def test_a_display_is_where_its_standard_says(environ: dict[str, str], listens: str) -> None:
    # X(7), "Display names": port 6000 + number; wl_display_connect(3): relative to XDG_RUNTIME_DIR unless absolute.
    assert has_display(platform="linux", environ=environ, answers=lambda address: address == listens)


def test_a_display_that_is_named_but_dead_is_none() -> None:
    assert not has_display(platform="linux", environ=X, answers=lambda _: False)


def test_a_name_that_is_no_display_is_none() -> None:
    assert not has_display(platform="linux", environ={"DISPLAY": "kettle"}, answers=lambda _: True)


def test_a_listening_socket_answers_and_a_closed_one_does_not(tmp_path: Path) -> None:
    path = str(tmp_path / "wayland-0")
    with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as server:
        server.bind(path)
        server.listen(1)

        answered = machine._answers(path)

    assert answered
    assert not machine._answers(path)


def test_a_listening_port_answers() -> None:
    with socket.create_server(("127.0.0.1", 0)) as server:
        assert machine._answers(f"127.0.0.1:{server.getsockname()[1]}")


def test_advice_is_one_line_to_copy() -> None:
    missing = (Missing("libEGL.so.1", "libegl1"), Missing("libxcb-cursor.so.0", "libxcb-cursor0"))

    told = advice(missing, is_root=False)

    assert "libEGL.so.1, libxcb-cursor.so.0" in told
    assert re.findall(r"apt-get.*", told) == ["apt-get install libegl1 libxcb-cursor0"]
    assert "sudo apt-get" in told


def test_root_needs_no_sudo() -> None:
    assert "sudo" not in advice((Missing("libEGL.so.1", "libegl1"),), is_root=True)


def test_nothing_missing_needs_no_advice() -> None:
    assert advice(()) == ""


def test_the_set_up_can_ask_with_nothing_installed() -> None:
    # -I and -S: no site-packages, as on the machine of somebody who has only just cloned.
    code = "import sys; sys.path.insert(0, '.'); from tastebook.platform import machine; machine.main(['--packages'])"

    asked = subprocess.run(
        [sys.executable, "-I", "-S", "-c", code], cwd=Path(__file__).parents[2], capture_output=True, text=True
    )

    assert asked.returncode == 0, asked.stderr


def test_main_prints_package_names_alone_for_a_script(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    lacking = (Missing("libEGL.so.1", "libegl1"), Missing("libGL.so.1", "libgl1"))
    monkeypatch.setattr(machine, "missing_libraries", lambda needs_window: lacking)

    code = machine.main(["--packages"])

    assert code == 1
    assert capsys.readouterr().out == "libegl1 libgl1\n"
