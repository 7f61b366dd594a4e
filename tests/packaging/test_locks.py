"""The locks: whole, agreeing with each other and with pyproject.toml, and naming no machine."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from packaging.markers import default_environment
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version

ROOT = Path(__file__).parents[2]
RUN, TEST = ROOT / "requirements.lock", ROOT / "requirements-test.lock"


def pins(lock: Path) -> list[tuple[Requirement, int]]:
    """Return every requirement with the number of its hashes."""
    entries = re.split(r"\n(?=\S)", lock.read_text(encoding="utf-8").strip())
    return [(Requirement(entry.split("\\")[0].strip()), entry.count("--hash=sha256:")) for entry in entries]


def versions(lock: Path) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for pin, _ in pins(lock):
        found.setdefault(canonicalize_name(pin.name), set()).add(str(pin.specifier))
    return found


def asked_for(*, tests: bool) -> list[Requirement]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    lines = project["dependencies"] + (project["optional-dependencies"]["test"] if tests else [])
    return [Requirement(line) for line in lines]


@pytest.mark.parametrize("lock", [RUN, TEST], ids=lambda path: path.name)
def test_every_pin_is_exact_and_hashed(lock: Path) -> None:
    loose = [str(pin) for pin, hashes in pins(lock) if hashes == 0 or not str(pin.specifier).startswith("==")]

    assert loose == []


@pytest.mark.parametrize("lock", [RUN, TEST], ids=lambda path: path.name)
def test_a_lock_names_no_address_and_no_folder(lock: Path) -> None:
    text = lock.read_text(encoding="utf-8")

    assert re.findall(r"https?:|file:|--(?!hash=)|^-\w| @ |/\w+/", text) == []


@pytest.mark.parametrize(("lock", "tests"), [(RUN, False), (TEST, True)], ids=["run", "test"])
def test_every_dependency_is_locked_within_its_bounds(lock: Path, tests: bool) -> None:
    locked = versions(lock)

    for wanted in asked_for(tests=tests):
        found = locked.get(canonicalize_name(wanted.name))
        assert found, f"{wanted.name} is not in {lock.name}: make lock"
        assert all(wanted.specifier.contains(version.removeprefix("==")) for version in found), wanted


def test_what_is_tested_is_what_runs() -> None:
    run, test = versions(RUN), versions(TEST)

    assert {name: version for name, version in run.items() if test.get(name) != version} == {}


def test_qt_stays_below_the_version_that_loses_none() -> None:
    # PySide6 6.12.0 on Python 3.11 gives up a reference to None with every void call: measured, see the guard's test.
    qt = {name: version for name, version in versions(RUN).items() if name.startswith(("pyside6", "shiboken6"))}

    assert set(qt) == {"pyside6-essentials", "pyside6-addons", "shiboken6"}
    assert all(Version(one.removeprefix("==")) < Version("6.12") for found in qt.values() for one in found)


@pytest.mark.parametrize("lock", [RUN, TEST], ids=lambda path: path.name)
@pytest.mark.parametrize("python", ["3.11", "3.12", "3.13"])
def test_one_version_of_each_applies_to_every_python(lock: Path, python: str) -> None:
    environment = {key: str(value) for key, value in default_environment().items()}
    environment |= {"python_version": python, "python_full_version": f"{python}.0"}

    applying = [
        canonicalize_name(pin.name) for pin, _ in pins(lock) if not pin.marker or pin.marker.evaluate(environment)
    ]

    assert len(applying) == len(set(applying))
    assert {canonicalize_name(wanted.name) for wanted in asked_for(tests=lock == TEST)} <= set(applying)
