"""The house stands as it is drawn: no Qt below the views, imports that point down, and nothing that names a machine."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
QT_FREE = ("domain", "services", "reports", "presenters", "press", "store", "platform")
QT = ("PySide6", "shiboken6", "pyqtgraph")
LONGEST_MODULE = 700
"""Lines. Where other programs hurt, one window had grown to thousands."""

IMPORT_ALL = """
import importlib, pkgutil, sys
package = importlib.import_module(sys.argv[1])
names = [package.__name__, *(found.name for found in pkgutil.walk_packages(package.__path__, package.__name__ + "."))]
for name in names:
    if not name.endswith(".migrations.env"):  # Alembic runs it, inside a migration
        importlib.import_module(name)
print(len(names))
print(*sorted({name.partition(".")[0] for name in sys.modules} & set(sys.argv[2:])))
"""


def files_of_the_project() -> list[Path]:
    """Return what is kept, or would be: every text that git knows or does not ignore."""
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"],
        cwd=ROOT, capture_output=True, text=True, check=True,
    )  # fmt: skip
    paths = [ROOT / name for name in listed.stdout.split("\0") if name]
    return [path for path in paths if path.is_file() and b"\0" not in path.read_bytes()[:8192]]


@pytest.mark.parametrize("floor", QT_FREE)
def test_a_floor_below_the_views_loads_no_qt(floor: str) -> None:
    ran = subprocess.run(
        [sys.executable, "-c", IMPORT_ALL, f"tastebook.{floor}", *QT], cwd=ROOT, capture_output=True, text=True
    )

    assert ran.returncode == 0, ran.stderr
    modules, loaded = ran.stdout.splitlines()
    assert loaded == ""
    assert int(modules) == len(list((ROOT / "tastebook" / floor).rglob("*.py")))


def test_the_check_for_qt_would_notice_it() -> None:
    ran = subprocess.run(
        [sys.executable, "-c", IMPORT_ALL, "tastebook.ui.theme", *QT], cwd=ROOT, capture_output=True, text=True
    )

    assert "PySide6" in ran.stdout.splitlines()[-1]


def test_the_command_line_answers_without_qt_and_without_the_database() -> None:
    code = (
        "import sys; from tastebook.__main__ import _parser; _parser().format_help();"
        "print(*sorted({'PySide6', 'sqlalchemy', 'numpy'} & set(sys.modules)))"
    )

    ran = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)

    assert ran.returncode == 0, ran.stderr
    assert ran.stdout.strip() == ""


def test_imports_point_down_as_the_contracts_say() -> None:
    ran = subprocess.run(
        [Path(sys.executable).with_name("lint-imports"), "--no-cache"], cwd=ROOT, capture_output=True, text=True
    )

    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert "0 broken" in ran.stdout


def test_no_module_has_outgrown_its_reader() -> None:
    lengths = {
        str(path.relative_to(ROOT)): path.read_text(encoding="utf-8").count("\n")
        for path in files_of_the_project()
        if path.suffix == ".py" and "tests" not in path.parts
    }

    assert {name: length for name, length in lengths.items() if length >= LONGEST_MODULE} == {}
    assert len(lengths) > 50


# Written so that this file does not find itself.
ADDRESSES = re.compile(
    r"pypi\." + r"org|python" + r"hosted|test\.pypi|conda\.(?:io|anaconda)|registry\.npm" + r"js|--index-" + r"url"
    r"|--extra-" + r"index|trusted-" + r"host|arti" + r"factory|nexus\.|\bgo" + r"proxy\b",
    re.IGNORECASE,
)
MACHINE_PATHS = re.compile(r"(?<![\w.}])/(?:wo" + r"rk|ro" + r"ot|ho" + r"me|Us" + r"ers)/(?!somebody\b)\w")
SECRETS = re.compile(
    r"-----BEGIN [A-Z ]*PRIVATE|\bAKIA[0-9A-Z]{16}\b|\bgh[pousr]_[A-Za-z0-9]{20,}|\bglpat-\w{20}|\bxox[bap]-\w{10}"
    r"|\bpypi-[A-Za-z0-9_-]{40,}|://[^/\s:@]+:[^/\s:@]+@|(?:password|passwd|secret|api_?key|token)\s*[=:]\s*['\"][^'\"]{8,}",
    re.IGNORECASE,
)


@pytest.mark.parametrize(
    ("what", "pattern"),
    [("a package registry", ADDRESSES), ("a machine's path", MACHINE_PATHS), ("a secret", SECRETS)],
    ids=["registry", "path", "secret"],
)
def test_no_file_names(what: str, pattern: re.Pattern[str]) -> None:
    found = [
        f"{path.relative_to(ROOT)}:{number}: {match.group()}"
        for path in files_of_the_project()
        for number, line in enumerate(path.read_text(encoding="utf-8", errors="replace").splitlines(), 1)
        if (match := pattern.search(line))
    ]

    assert found == [], f"{what} is named"


@pytest.mark.parametrize(
    ("pattern", "line"),
    [
        (ADDRESSES, "https://pypi." + "org/simple"),
        (MACHINE_PATHS, 'open("/ho' + 'me/anna/x")'),
        (SECRETS, "api_key = " + "'0123456789abcdef'"),
        (SECRETS, "https://me:" + "hunter2@example.org/"),
    ],
)
def test_the_searches_would_find_what_they_look_for(pattern: re.Pattern[str], line: str) -> None:
    assert pattern.search(line)
