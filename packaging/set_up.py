"""Make `.venv` from the lock, and put this checkout into it; run by `make run` and `make test`.

Runs on the bare Python of the machine, so nothing but the standard library is imported, and the first lines are kept
readable to old Pythons, which are to be told that they are old.
"""

# ruff: noqa: E402
import sys

NEEDS = (3, 11)
if sys.version_info < NEEDS:
    import shutil

    here = [name for name in ("python3.13", "python3.12", "python3.11") if shutil.which(name)]
    print("Tastebook needs Python 3.11 or later; this one is %d.%d." % sys.version_info[:2])  # noqa: UP031
    if here:
        print("%s is on this machine:  make run PYTHON=%s" % (here[0], here[0]))  # noqa: UP031
    sys.exit(1)

import hashlib
import importlib.util
import json
import re
import subprocess
import time
import venv
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from tastebook.platform import machine

LOCKS = {"run": "requirements.lock", "test": "requirements-test.lock"}
NO_NETWORK = re.compile(
    r"NewConnectionError|NameResolutionError|name resolution|getaddrinfo|ConnectTimeout|Connection (?:refused|aborted"
    r"|reset)|Network is unreachable|No route to host|ReadTimeout|Read timed out|ProxyError",
    re.IGNORECASE,
)


class SetUpFailed(Exception):
    """Told to the user as it stands."""


def wanted_stamp(kind: str, root: Path) -> dict[str, str]:
    """Return what a finished `.venv` of this kind says about itself; what the tests need holds what runs."""
    version = ".".join(str(part) for part in sys.version_info[:2])
    kinds = LOCKS if kind == "test" else ("run",)
    locks = {each: _digest(root / LOCKS[each]) for each in kinds}
    return {"python": version, **locks, "package": _digest(root / "pyproject.toml")}


def work_left(wanted: dict[str, str], found: dict[str, str], root: Path) -> list[str]:
    """Return the steps to take, in order: any of ``venv``, ``lock``, ``package``.

    A `.venv` is re-made when a lock from which it was made has changed since; what the tests add is put on top.
    """
    made_from = {kind: found[kind] for kind in LOCKS if kind in found}
    is_stale = any(_digest(root / LOCKS[kind]) != digest for kind, digest in made_from.items())
    if not made_from or is_stale or found.get("python") != wanted["python"]:
        return ["venv", "lock", "package"]
    steps = ["lock"] if any(kind not in made_from for kind in wanted if kind in LOCKS) else []
    return steps + (["package"] if found.get("package") != wanted["package"] else [])


def why_pip_failed(output: str) -> str:
    """Return in plain words what pip's output says went wrong, and what to do."""
    if NO_NETWORK.search(output):
        return "The packages could not be fetched: the network does not answer. Once it does, run the same again."
    if "DO NOT MATCH THE HASHES" in output:
        return (
            "A fetched package is not the one that the lock names, so it was refused. Run the same again; if it is "
            "refused again, something on the way alters downloads: do not go round the lock."
        )
    if "No space left" in output or "Errno 28" in output:
        return "The disk is full: the packages need about 1.5 GB."
    if "No matching distribution" in output or "not a supported wheel" in output:
        return (
            "One of the packages is not made for this Python or this kind of machine. Python 3.11 to 3.13 on 64-bit "
            f"Linux, macOS or Windows will do.\n{_last_lines(output)}"
        )
    return f"pip could not install the packages. It said:\n{_last_lines(output)}"


def check_machine(kind: str) -> None:
    """Refuse early what would fail late.

    Raises
    ------
    SetUpFailed
        If Python cannot make a venv, or Qt would lack a system library.
    """
    if any(importlib.util.find_spec(name) is None for name in ("venv", "ensurepip")):
        raise SetUpFailed(
            "This Python cannot make a virtual environment (it has no ensurepip).\n"
            + machine.apt_advice(["python3-venv"])
        )
    needs_window = kind == "run" and machine.has_display()
    if missing := machine.missing_libraries(needs_window=needs_window):
        raise SetUpFailed(machine.advice(missing))


def set_up(kind: str, root: Path = ROOT, *, say: Callable[[str], None] = print) -> None:
    """Bring `.venv` up to the lock.

    Parameters
    ----------
    kind : {"run", "test"}
        Which lock: what the program needs, or that and what its tests need.
    root : Path
        The checkout.
    say : Callable
        Tells the user what is going on.

    Raises
    ------
    SetUpFailed
        If it could not be done; the next run begins anew.
    """
    home, stamp = root / ".venv", root / ".venv" / "made-from.json"
    wanted, found = wanted_stamp(kind, root), _read_stamp(stamp)
    if not _python_of(home).exists():
        found = {}
    steps = work_left(wanted, found, root)
    if not steps:
        return
    began_s = time.perf_counter()
    if "venv" in steps:
        found = {}
        say("Making .venv …")
        _make_venv(home)
    stamp.unlink(missing_ok=True)
    if "lock" in steps:
        size = " (about 340 MB)" if "venv" in steps else ""
        say(f"Fetching the packages that {LOCKS[kind]} names{size}:")
        locked = ["--require-hashes", "--only-binary=:all:", "-r", str(root / LOCKS[kind])]
        _pip(home, locked, say)
    if "package" in steps or "lock" in steps:
        say("Putting Tastebook itself in …")
        _pip(home, ["--no-deps", "--editable", str(root)], lambda _: None)
    stamp.write_text(json.dumps({**found, **wanted}, indent=1), encoding="utf-8")
    say(f"Ready after {time.perf_counter() - began_s:.0f} s.")


def _make_venv(home: Path) -> None:
    if home.exists() and any(home.iterdir()) and not (home / "pyvenv.cfg").exists():
        raise SetUpFailed(f"{home} is in the way, and is no virtual environment. Move it, then run the same again.")
    try:
        venv.create(home, clear=True, with_pip=True, symlinks=sys.platform != "win32")
    except (OSError, subprocess.CalledProcessError) as exc:
        raise SetUpFailed(f"The virtual environment could not be made in {home}: {exc}") from exc


def _pip(home: Path, arguments: Sequence[str], say: Callable[[str], None]) -> None:
    """Run ``pip install``, and say each package as it is taken up."""
    command = [str(_python_of(home)), "-m", "pip", "install", "--no-input", "--disable-pip-version-check", *arguments]
    with subprocess.Popen(
        [*command, "--progress-bar=off", "--retries=2"],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
    ) as pip:
        output = _followed(pip.stdout or (), say)
    if pip.returncode != 0:
        raise SetUpFailed(why_pip_failed(output))


def _followed(lines: Iterable[str], say: Callable[[str], None]) -> str:
    kept = []
    for line in lines:
        kept.append(line)
        if line.startswith("Collecting "):
            say("    " + line.split()[1])
        elif line.startswith("Installing collected packages"):
            say("Unpacking them …")
    return "".join(kept)


def _read_stamp(stamp: Path) -> dict[str, str]:
    try:
        found = json.loads(stamp.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) else {}


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def _python_of(home: Path) -> Path:
    return home / ("Scripts/python.exe" if sys.platform == "win32" else "bin/python")


def _last_lines(output: str) -> str:
    return "\n".join(output.strip().splitlines()[-12:])


def main(arguments: Sequence[str]) -> int:
    """Set up for ``run`` or ``test``; return 0, or 1 once the user has been told why not."""
    kind = arguments[0] if arguments else "run"
    if kind not in LOCKS:
        print(f"set up for what? {kind!r} is neither of: {', '.join(LOCKS)}")
        return 1
    try:
        check_machine(kind)
        set_up(kind)
    except SetUpFailed as exc:
        print(exc)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
