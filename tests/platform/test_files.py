"""A file is there whole or not at all."""

from __future__ import annotations

import contextlib
import os
import signal
import stat
import subprocess
import sys
import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tastebook.domain.errors import StoreError
from tastebook.platform.files import write_bytes, write_text


@given(content=st.binary(max_size=200))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_content_is_there_as_it_was_written(tmp_path: Path, content: bytes) -> None:
    write_bytes(tmp_path / "page.pdf", content)

    assert (tmp_path / "page.pdf").read_bytes() == content
    assert [one.name for one in tmp_path.iterdir()] == ["page.pdf"]


def test_text_is_written_as_utf_8_with_the_line_ends_it_has(tmp_path: Path) -> None:
    write_text(tmp_path / "note.txt", "烏龍\r\nLóngjǐng\n")

    assert (tmp_path / "note.txt").read_bytes() == "烏龍\r\nLóngjǐng\n".encode()


def test_a_missing_folder_is_made(tmp_path: Path) -> None:
    write_text(tmp_path / "pages" / "2026" / "note.txt", "tea")

    assert (tmp_path / "pages" / "2026" / "note.txt").read_text() == "tea"


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such rights")
def test_a_new_file_has_the_usual_rights_and_an_old_one_keeps_its_own(tmp_path: Path) -> None:
    usual, private = tmp_path / "usual", tmp_path / "private"
    (tmp_path / "judge").touch()
    private.touch(mode=0o600)

    write_text(usual, "tea")
    write_text(private, "tea")

    assert stat.S_IMODE(usual.stat().st_mode) == stat.S_IMODE((tmp_path / "judge").stat().st_mode)
    assert stat.S_IMODE(private.stat().st_mode) == 0o600


def test_where_it_cannot_be_written_the_reason_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")

    with pytest.raises(StoreError, match=r"note\.txt could not be written"):
        write_text(tmp_path / "file" / "note.txt", "tea")


@pytest.mark.skipif(os.name == "nt", reason="Windows cannot limit how long files may be")
def test_a_write_that_fails_leaves_the_old_file_and_no_litter(tmp_path: Path) -> None:
    resource = pytest.importorskip("resource")
    target = tmp_path / "page.pdf"
    write_bytes(target, b"old")
    handler = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    limits = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (1000, limits[1]))
    try:
        with pytest.raises(StoreError, match="unchanged"):
            write_bytes(target, bytes(5000))
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, limits)
        signal.signal(signal.SIGXFSZ, handler)

    assert target.read_bytes() == b"old"
    assert [one.name for one in tmp_path.iterdir()] == ["page.pdf"]


def test_a_writer_killed_at_any_moment_leaves_one_whole_file(tmp_path: Path) -> None:
    target = tmp_path / "page.pdf"
    program = """
import sys
from pathlib import Path
from tastebook.platform.files import write_bytes
number = 0
while True:
    number += 1
    write_bytes(Path(sys.argv[1]), bytes([number % 256]) * 300_000)
"""
    for wait_s in (0.25, 0.33, 0.41):
        writer = subprocess.Popen([sys.executable, "-c", program, str(target)])
        time.sleep(wait_s)
        writer.kill()
        writer.wait()

        content = b""
        with contextlib.suppress(FileNotFoundError):
            content = target.read_bytes()
        assert content == content[:1] * len(content)
        assert len(content) in (0, 300_000)
    assert target.exists()
