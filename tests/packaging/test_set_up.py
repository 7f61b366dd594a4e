"""`make run` makes `.venv` when it must, leaves it alone when it need not, and says in words what stopped it."""

from __future__ import annotations

import ast
import importlib.util
import json
import os
import stat
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def set_up() -> ModuleType:
    spec = importlib.util.spec_from_file_location("set_up", ROOT / "packaging" / "set_up.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    """Return a folder with what a set-up reads."""
    for name in ("requirements.lock", "requirements-test.lock", "pyproject.toml"):
        (tmp_path / name).write_text(f"{name}, first edition\n", encoding="utf-8")
    return tmp_path


def test_a_fresh_checkout_needs_everything(set_up: ModuleType, checkout: Path) -> None:
    wanted = set_up.wanted_stamp("run", checkout)

    assert set_up.work_left(wanted, {}, checkout) == ["venv", "lock", "package"]


def test_a_finished_set_up_is_left_alone(set_up: ModuleType, checkout: Path) -> None:
    wanted = set_up.wanted_stamp("run", checkout)

    assert set_up.work_left(wanted, wanted, checkout) == []


def test_a_changed_lock_makes_the_venv_anew(set_up: ModuleType, checkout: Path) -> None:
    made = set_up.wanted_stamp("run", checkout)
    (checkout / "requirements.lock").write_text("second edition\n", encoding="utf-8")

    assert set_up.work_left(set_up.wanted_stamp("run", checkout), made, checkout) == ["venv", "lock", "package"]


def test_another_python_makes_the_venv_anew(set_up: ModuleType, checkout: Path) -> None:
    wanted = set_up.wanted_stamp("run", checkout)

    assert "venv" in set_up.work_left(wanted, {**wanted, "python": "3.10"}, checkout)


def test_tests_come_on_top_of_what_runs(set_up: ModuleType, checkout: Path) -> None:
    made = set_up.wanted_stamp("run", checkout)

    assert set_up.work_left(set_up.wanted_stamp("test", checkout), made, checkout) == ["lock"]


def test_a_changed_lock_of_the_tests_leaves_who_only_runs_alone(set_up: ModuleType, checkout: Path) -> None:
    made = set_up.wanted_stamp("run", checkout)
    (checkout / "requirements-test.lock").write_text("second edition\n", encoding="utf-8")

    assert set_up.work_left(set_up.wanted_stamp("run", checkout), made, checkout) == []


def test_what_tests_made_serves_who_runs(set_up: ModuleType, checkout: Path) -> None:
    made = set_up.wanted_stamp("test", checkout)

    assert set_up.work_left(set_up.wanted_stamp("run", checkout), made, checkout) == []


def test_a_changed_project_file_puts_the_package_in_again_and_fetches_nothing(
    set_up: ModuleType, checkout: Path
) -> None:
    made = set_up.wanted_stamp("run", checkout)
    (checkout / "pyproject.toml").write_text("second edition\n", encoding="utf-8")

    assert set_up.work_left(set_up.wanted_stamp("run", checkout), made, checkout) == ["package"]


def test_a_stamp_that_is_no_stamp_counts_for_nothing(set_up: ModuleType, tmp_path: Path) -> None:
    stamp = tmp_path / "made-from.json"
    stamp.write_text("[]", encoding="utf-8")

    assert set_up._read_stamp(stamp) == {}
    assert set_up._read_stamp(tmp_path / "nowhere.json") == {}


def test_a_folder_of_somebody_elses_is_not_cleared(set_up: ModuleType, checkout: Path) -> None:
    theirs = checkout / ".venv" / "letters.txt"
    theirs.parent.mkdir()
    theirs.write_text("mine", encoding="utf-8")

    with pytest.raises(set_up.SetUpFailed, match="in the way"):
        set_up.set_up("run", checkout, say=lambda _: None)

    assert theirs.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize(
    ("said_by_pip", "told"),
    [
        # As pip 23 to 26 print them.
        ("WARNING: Retrying after connection broken by 'NewConnectionError(...)'", "network does not answer"),
        ("[Errno -3] Temporary failure in name resolution", "network does not answer"),
        ("ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE.", "do not go round the lock"),
        ("ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device", "disk is full"),
        ("ERROR: No matching distribution found for pyside6-addons==6.11.3", "not made for this Python"),
        ("ERROR: something new", "something new"),
    ],
)
def test_what_stopped_pip_is_told_in_words(set_up: ModuleType, said_by_pip: str, told: str) -> None:
    assert told in set_up.why_pip_failed(said_by_pip)


def test_a_python_without_ensurepip_names_the_package_that_brings_it(
    set_up: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = importlib.util.find_spec
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None if name == "ensurepip" else found(name))

    with pytest.raises(set_up.SetUpFailed, match="apt-get install python3-venv"):
        set_up.check_machine("run")


def test_a_missing_library_is_told_before_anything_is_fetched(
    set_up: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    lacking = set_up.machine.Missing("libEGL.so.1", "libegl1")
    monkeypatch.setattr(set_up.machine, "missing_libraries", lambda *, needs_window: (lacking,))

    with pytest.raises(set_up.SetUpFailed, match="apt-get install libegl1"):
        set_up.check_machine("test")


def test_an_old_python_is_told_so_in_its_own_syntax(tmp_path: Path) -> None:
    # The lines before the check must be readable to it; compiled here as Python 3.6 would read them.
    text = (ROOT / "packaging" / "set_up.py").read_text(encoding="utf-8")
    before = text.split("import hashlib")[0]

    ast.parse(before, feature_version=(3, 6))
    pretended = before.replace("NEEDS = (3, 11)", "NEEDS = (99, 0)")
    asked = subprocess.run([sys.executable, "-c", pretended], capture_output=True, text=True)

    assert asked.returncode == 1
    assert "needs Python 3.11 or later" in asked.stdout


@pytest.mark.skipif(os.name == "nt", reason="make is at home elsewhere")
def test_make_without_a_python_says_what_to_install() -> None:
    asked = subprocess.run(
        ["make", "-s", "-C", str(ROOT), "python", "PYTHON=no-such-python"], capture_output=True, text=True
    )

    assert asked.returncode != 0
    assert "there is no no-such-python here" in asked.stdout
    assert "apt-get install python3 python3-venv" in asked.stdout


def test_a_finished_set_up_runs_nothing_and_says_nothing(set_up: ModuleType, checkout: Path) -> None:
    python = set_up._python_of(checkout / ".venv")
    python.parent.mkdir(parents=True)
    python.write_text("", encoding="utf-8")
    stamp = checkout / ".venv" / "made-from.json"
    stamp.write_text(json.dumps(set_up.wanted_stamp("run", checkout)), encoding="utf-8")
    said: list[str] = []

    set_up.set_up("run", checkout, say=said.append)

    assert said == []


def test_the_script_of_the_continuous_run_is_sound() -> None:
    script = ROOT / ".ci" / "run"

    checked = subprocess.run(["bash", "-n", str(script)], capture_output=True, text=True)

    assert checked.returncode == 0, checked.stderr
    assert script.stat().st_mode & stat.S_IXUSR
    assert "set -euo pipefail" in script.read_text(encoding="utf-8")
