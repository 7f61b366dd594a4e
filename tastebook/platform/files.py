"""Reading a file, and writing one so that it is there whole or not at all, also after a power cut."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from tastebook.domain.errors import StoreError


def write_bytes(path: Path, content: bytes) -> None:
    """Write `content` to `path`, replacing what is there only once the new file is safe on the disk.

    Raises
    ------
    StoreError
        If it cannot be written; what was at `path` is still there.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        part = _written_beside(path, content)
        try:
            part.replace(path)
        finally:
            part.unlink(missing_ok=True)
        _sync_folder(path.parent)
    except OSError as exc:
        raise StoreError(
            f"{path} could not be written: {exc.strerror or exc}. What was there before is unchanged. "
            "Free some space or choose another folder."
        ) from exc


def read_bytes(path: Path, most: int) -> bytes:
    """Return the content of a file, `most` bytes of it at the utmost.

    Raises
    ------
    StoreError
        If it cannot be read.
    """
    try:
        with path.open("rb") as file:
            return file.read(most)
    except OSError as exc:
        raise StoreError(f"{path} could not be read: {exc.strerror or exc}. Choose another file.") from exc


def write_text(path: Path, text: str) -> None:
    """Write text as UTF-8 with the line ends it has; see `write_bytes`."""
    write_bytes(path, text.encode())


def _written_beside(path: Path, content: bytes) -> Path:
    handle, name = tempfile.mkstemp(prefix=f".{path.name}-", suffix=".part", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        _give_usual_rights(Path(name), path)
    except OSError:
        Path(name).unlink(missing_ok=True)
        raise
    return Path(name)


def _give_usual_rights(part: Path, path: Path) -> None:
    """Let the file be read by whom the old one was, or by whom any new file would be: mkstemp keeps it private."""
    if path.exists():
        part.chmod(path.stat().st_mode & 0o777)
        return
    mask = os.umask(0)
    os.umask(mask)
    part.chmod(0o666 & ~mask)


def _sync_folder(folder: Path) -> None:
    if os.name == "nt":
        return  # Windows has no handle on a folder to flush.
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
