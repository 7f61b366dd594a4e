"""What went wrong is written down, and nothing that somebody typed."""

from __future__ import annotations

import subprocess
import sys
import textwrap
from pathlib import Path

from tastebook.platform.crashlog import crash_text

START = """
import sys, threading
from pathlib import Path
from tastebook.platform.crashlog import keep_crash_log
print(keep_crash_log(Path(sys.argv[1]), "1.2.3"))
"""


def _run(program: str, folder: Path) -> tuple[subprocess.CompletedProcess[str], str]:
    command = [sys.executable, "-c", START + textwrap.dedent(program), str(folder)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    log = folder / "tastebook.log"
    return done, log.read_text(encoding="utf-8") if log.exists() else ""


def test_a_crash_is_written_with_its_kind_and_place_and_still_told(tmp_path: Path) -> None:
    done, log = _run("def pour(): return {}['what somebody typed']\npour()", tmp_path / "logs")

    assert done.returncode == 1
    assert "KeyError" in done.stderr
    assert "Tastebook 1.2.3" in log
    assert "builtins.KeyError\n" in log
    assert " pour" in log


def test_a_crash_is_told_to_whoever_asked_once_it_is_written(tmp_path: Path) -> None:
    program = """
        from tastebook.platform.crashlog import tell_of_crashes
        tell_of_crashes(lambda: print("told:", "KeyError" in (Path(sys.argv[1]) / "tastebook.log").read_text()))
        {}["nothing"]
    """

    done, _ = _run(program, tmp_path / "logs")

    assert "told: True" in done.stdout


def test_what_somebody_typed_and_their_folders_stay_out_of_the_log(tmp_path: Path) -> None:
    program = """
        def say(word):
            try:
                raise ValueError(f"cannot understand {word}")
            except ValueError as exc:
                raise OSError(2, "No such file", "/home/somebody/secret tea.tastebook") from exc
        say("my secret word")
    """

    _, log = _run(program, tmp_path / "logs")

    assert "builtins.OSError" in log or "FileNotFoundError" in log
    assert "because of builtins.ValueError" in log
    assert "secret" not in log
    assert "somebody" not in log


def test_a_message_that_speaks_of_code_alone_is_kept(tmp_path: Path) -> None:
    _, log = _run("None.pour", tmp_path / "logs")

    assert "AttributeError: 'NoneType' object has no attribute 'pour'" in log


def test_a_crash_in_another_thread_is_written(tmp_path: Path) -> None:
    program = "t = threading.Thread(target=lambda: 1 / 0)\nt.start()\nt.join()"

    done, log = _run(program, tmp_path / "logs")

    assert done.returncode == 0
    assert "builtins.ZeroDivisionError" in log


def test_the_log_does_not_grow_for_ever(tmp_path: Path) -> None:
    program = """
        import logging
        for _ in range(20_000):
            logging.getLogger("tastebook").warning("the same thing again, in about one hundred letters " * 2)
    """

    _run(program, tmp_path / "logs")

    files = list((tmp_path / "logs").iterdir())
    assert len(files) == 3
    assert sum(one.stat().st_size for one in files) < 1_000_000


def test_where_no_log_can_be_kept_the_program_starts_all_the_same(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")

    done, _ = _run("print('started')", tmp_path / "file" / "logs")

    assert done.returncode == 0
    assert "started" in done.stdout


def test_places_in_our_code_are_told_from_the_package_on() -> None:
    from tastebook.domain.act import Change

    try:
        Change(None)  # type: ignore[call-arg]
    except TypeError as exc:
        text = crash_text(type(exc), exc, exc.__traceback__)

    assert "test_crashlog.py:" in text
    assert str(Path(__file__).parents[3]) not in text
