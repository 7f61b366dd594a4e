"""What went wrong unexpectedly, in a file on this machine that holds nothing personal.

A crash is written as the kind of error and the places in the code. Its message is left out unless the kind of error can
only speak of code: messages of other kinds may hold what somebody typed, or the name of a folder of theirs.
"""

from __future__ import annotations

import logging
import sys
import threading
from collections.abc import Callable, Iterable
from logging.handlers import RotatingFileHandler
from pathlib import Path
from traceback import FrameSummary, extract_tb
from types import TracebackType
from typing import Final

FILE: Final = "tastebook.log"
MOST_BYTES: Final = 256 * 1024
OLDER_FILES: Final = 2

SPEAK_OF_CODE: Final = (AttributeError, ImportError, NameError, RecursionError, TypeError)

_log = logging.getLogger("tastebook")


def keep_crash_log(folder: Path, version: str) -> Path:
    """Write warnings and crashes to a file in `folder` from now on, and return the file.

    Where the folder may not be written, crashes are told on the standard error stream alone.
    """
    file = folder / FILE
    handler = _handler(file)
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(message)s"))
    _log.addHandler(handler)
    _log.setLevel(logging.INFO)
    _log.propagate = False
    _log.info("Tastebook %s, Python %s, %s", version, sys.version.split()[0], sys.platform)
    _catch_the_uncaught()
    return file


def tell_of_crashes(tell: Callable[[], object]) -> None:
    """Call `tell` from now on when nobody caught an error on the main thread, once that is written down."""
    before = sys.excepthook

    def told(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        before(kind, error, trace)
        if not issubclass(kind, KeyboardInterrupt):
            tell()

    sys.excepthook = told


def crash_text(kind: type[BaseException], error: BaseException | None, trace: TracebackType | None) -> str:
    """Return what is written about a crash: the kind of error and where it came about, innermost last."""
    lines = [f"{kind.__module__}.{kind.__qualname__}{_message(error)}"]
    lines += _places(extract_tb(trace))
    cause = None if error is None else error.__cause__ or error.__context__
    if cause is not None:
        lines.append("because of " + crash_text(type(cause), cause, cause.__traceback__))
    return "\n".join(lines)


def _handler(file: Path) -> logging.Handler:
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        return RotatingFileHandler(file, maxBytes=MOST_BYTES, backupCount=OLDER_FILES, encoding="utf-8")
    except OSError:
        return logging.StreamHandler()


def _catch_the_uncaught() -> None:
    """Write what nobody caught, and then do what would have been done anyway."""
    by_sys, by_threads = sys.excepthook, threading.excepthook

    def in_main(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        if not issubclass(kind, KeyboardInterrupt):
            _log.critical("%s", crash_text(kind, error, trace))
        by_sys(kind, error, trace)

    def in_thread(args: threading.ExceptHookArgs) -> None:
        _log.critical("%s", crash_text(args.exc_type, args.exc_value, args.exc_traceback))
        by_threads(args)

    sys.excepthook = in_main
    threading.excepthook = in_thread


def _message(error: BaseException | None) -> str:
    return f": {error}" if isinstance(error, SPEAK_OF_CODE) else ""


def _places(frames: Iterable[FrameSummary]) -> list[str]:
    return [f"  {_short(frame.filename)}:{frame.lineno} {frame.name}" for frame in frames]


def _short(filename: str) -> str:
    """Return a path from its package on, without the folders that name a user."""
    parts = Path(filename).parts
    for root in ("tastebook", "site-packages", f"python{sys.version_info.major}.{sys.version_info.minor}"):
        if root in parts:
            at = len(parts) - 1 - parts[::-1].index(root)
            return "/".join(parts[at:])
    return Path(filename).name
