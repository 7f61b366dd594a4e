"""The rights of files, taken away for real."""

from __future__ import annotations

import ctypes
import os
from collections.abc import Iterator
from contextlib import contextmanager

NOBODY = 65534


@contextmanager
def as_a_user_without_rights() -> Iterator[None]:
    """Read and write files as nobody. The rights of files mean nothing to root, as which tests often run.

    Linux lets a thread use another user's rights for files alone; doing so, it also gives up overriding them. Whoever
    is not root has no such right to begin with, and `chmod` suffices.
    """
    if os.geteuid() != 0:
        yield
        return
    libc = ctypes.CDLL(None)
    libc.setfsgid(NOBODY)
    libc.setfsuid(NOBODY)
    try:
        yield
    finally:
        libc.setfsuid(0)
        libc.setfsgid(0)
