"""What Qt needs from this machine, asked before Qt is imported.

Qt ends the whole program when a system library or the display is missing, so neither can be found out by trying it.
Nothing but the standard library is imported here: the set-up asks before anything is installed.

References
----------
The `NEEDED` entries of PySide6 6.11's libraries and plug-ins for Linux, less what comes along with these packages.
Debian 12's package names; later releases still answer to them.
"""

from __future__ import annotations

import ctypes
import os
import re
import socket
import sys
from collections.abc import Callable, Iterable, Mapping
from contextlib import closing
from dataclasses import dataclass
from typing import Final

ALWAYS: Final = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libfontconfig.so.1": "libfontconfig1",
    "libdbus-1.so.3": "libdbus-1-3",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libxkbcommon.so.0": "libxkbcommon0",
}
"""What Qt loads even when it draws off-screen: library to Debian package."""

FOR_X: Final = {
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
}
"""What a window on an X server adds."""

FOR_WAYLAND: Final = {
    "libwayland-client.so.0": "libwayland-client0",
    "libwayland-cursor.so.0": "libwayland-cursor0",
    "libwayland-egl.so.1": "libwayland-egl1",
}
"""What a window on a Wayland compositor adds."""

_ANSWER_WITHIN_S: Final = 1.0
_DISPLAY = re.compile(r"(?:[a-z]+/)?(?P<host>.*):(?P<number>\d+)(?:\.\d+)?")


@dataclass(frozen=True)
class Missing:
    """A system library that is not here, and the Debian package that brings it."""

    library: str
    package: str


def missing_libraries(
    needs_window: bool,
    *,
    platform: str = sys.platform,
    environ: Mapping[str, str] = os.environ,
    can_load: Callable[[str], bool] | None = None,
) -> tuple[Missing, ...]:
    """Return what Qt would fail on; empty away from Linux, where Qt brings its own.

    Parameters
    ----------
    needs_window : bool
        Whether a window is to be shown, or off-screen drawing is enough.
    platform, environ : str, Mapping
        As in `sys.platform` and `os.environ`.
    can_load : Callable, optional
        Says whether the library of that name can be loaded; the dynamic linker is asked unless given.
    """
    if not platform.startswith("linux"):
        return ()
    loads = can_load or _can_load
    return tuple(Missing(library, package) for library, package in _wanted(needs_window, environ) if not loads(library))


def has_display(
    *,
    platform: str = sys.platform,
    environ: Mapping[str, str] = os.environ,
    answers: Callable[[str], bool] | None = None,
) -> bool:
    """Say whether a window could be shown: a display is named, and something answers there.

    Parameters
    ----------
    platform, environ : str, Mapping
        As in `sys.platform` and `os.environ`.
    answers : Callable, optional
        Says whether something listens at a Unix path or at ``host:port``; a connection is tried unless given.
    """
    if not platform.startswith("linux"):
        return True
    ask = answers or _answers
    return any(ask(address) for address in _display_addresses(environ))


def advice(missing: Iterable[Missing], *, is_root: bool | None = None) -> str:
    """Return what to tell the user: what Qt lacks, and the one line that brings it."""
    lacking = tuple(missing)
    if not lacking:
        return ""
    names = ", ".join(each.library for each in lacking)
    return f"The window toolkit (Qt) needs system libraries that this machine lacks: {names}.\n" + apt_advice(
        [each.package for each in lacking], is_root=is_root
    )


def apt_advice(packages: Iterable[str], *, is_root: bool | None = None) -> str:
    """Return the line that brings Debian packages, ready to be copied; with sudo unless the user is root."""
    as_root = is_root if is_root is not None else _is_root()
    command = ("" if as_root else "sudo ") + "apt-get install " + " ".join(packages)
    return f"On Debian and its kin this brings what is missing:\n    {command}"


def main(arguments: list[str] | None = None) -> int:
    """Print what is missing, as advice or with ``--packages`` as bare names; return 1 if anything is."""
    wants_names = "--packages" in (sys.argv[1:] if arguments is None else arguments)
    missing = missing_libraries(needs_window=has_display())
    if missing:
        print(" ".join(each.package for each in missing) if wants_names else advice(missing))
    return 1 if missing else 0


def _wanted(needs_window: bool, environ: Mapping[str, str]) -> list[tuple[str, str]]:
    wanted = list(ALWAYS.items())
    if needs_window and environ.get("DISPLAY"):
        wanted += FOR_X.items()
    elif needs_window and environ.get("WAYLAND_DISPLAY"):
        wanted += FOR_WAYLAND.items()
    return wanted


def _can_load(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def _display_addresses(environ: Mapping[str, str]) -> list[str]:
    """Return where the displays named in `environ` would be listening: Unix paths, or ``host:port``."""
    addresses = []
    if wayland := environ.get("WAYLAND_DISPLAY"):
        addresses.append(os.path.join(environ.get("XDG_RUNTIME_DIR", "/"), wayland))  # noqa: PTH118  # no file
    if found := _DISPLAY.fullmatch(environ.get("DISPLAY", "")):
        host, number = found["host"], int(found["number"])
        local = f"/tmp/.X11-unix/X{number}"  # noqa: S108  # where every X server listens
        addresses += [local, "\0" + local] if host in ("", "unix") else [f"{host}:{6000 + number}"]
    return addresses


def _answers(address: str) -> bool:
    try:
        with closing(_connected(address)):
            return True
    except OSError:
        return False


def _connected(address: str) -> socket.socket:
    if not address.startswith(("/", "\0")):
        host, _, port = address.rpartition(":")
        return socket.create_connection((host.strip("[]"), int(port)), timeout=_ANSWER_WITHIN_S)
    line = socket.socket(socket.AF_UNIX, socket.SOCK_STREAM)
    line.settimeout(_ANSWER_WITHIN_S)
    try:
        line.connect(address)
    except OSError:
        line.close()
        raise
    return line


def _is_root() -> bool:
    return hasattr(os, "geteuid") and os.geteuid() == 0


if __name__ == "__main__":
    sys.exit(main())
