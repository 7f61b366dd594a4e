"""What is installed is whole: every package, and every file that the program reads."""

from __future__ import annotations

import os
import subprocess
import sys
import sysconfig
import tomllib
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
FOLDERS = {"tastebook": "tastebook", "resources": "tastebook.resources", "demo": "tastebook.demo"}
"""A folder of the checkout, and the package that it is once installed."""


def packages_on_disk() -> set[str]:
    return {
        ".".join([package, *init.parent.relative_to(ROOT / folder).parts])
        for folder, package in FOLDERS.items()
        for init in (ROOT / folder).rglob("__init__.py")
    }


def data_files_on_disk() -> set[str]:
    return {
        "/".join([*package.split("."), *file.relative_to(ROOT / folder).parts])
        for folder, package in FOLDERS.items()
        for file in (ROOT / folder).rglob("*")
        if file.is_file() and file.suffix not in (".py", ".pyc", ".pyi")
    }


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a wheel of this checkout; built from a copy, so that no earlier build is in it, and without a network."""
    folder = tmp_path_factory.mktemp("wheel")
    source = folder / "source"
    source.mkdir()
    for name in ("pyproject.toml", "README.md", "LICENSE", *FOLDERS):
        if (ROOT / name).exists():
            (source / name).symlink_to(ROOT / name)
    pip = [sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--no-build-isolation", "--no-index"]
    built = subprocess.run([*pip, "--wheel-dir", str(folder), str(source)], capture_output=True, text=True)
    assert built.returncode == 0, built.stdout + built.stderr
    return next(folder.glob("*.whl"))


def test_every_folder_with_code_is_among_the_packages() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))

    listed = settings["tool"]["setuptools"]["packages"]

    assert set(listed) == packages_on_disk(), "name it in pyproject.toml under [tool.setuptools] packages"
    assert len(listed) == len(set(listed))


def test_every_folder_with_modules_is_a_package() -> None:
    folders = {file.parent for name in FOLDERS for file in (ROOT / name).rglob("*.py")}

    assert [str(each.relative_to(ROOT)) for each in folders if not (each / "__init__.py").exists()] == []


def test_the_wheel_carries_every_file_that_the_program_reads(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        carried = set(archive.namelist())

    packages = {str(Path(name).parent).replace("/", ".") for name in carried if name.endswith("__init__.py")}
    assert data_files_on_disk() - carried == set(), "name its kind in pyproject.toml under package-data"
    assert packages == packages_on_disk()


def test_the_wheel_carries_neither_tests_nor_machine_paths(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        tops = {name.split("/")[0].split("-")[0] for name in archive.namelist()}
        texts = [archive.read(name).decode() for name in archive.namelist() if ".dist-info/" in name]

    assert tops == {"tastebook"}
    assert not any(str(ROOT) in text for text in texts)


def test_an_installed_tastebook_finds_what_it_reads(wheel: Path, tmp_path: Path) -> None:
    # Unpacked as pip would, in a process that knows nothing of this checkout: -I, and the paths named one by one.
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(tmp_path / "site")
    code = "\n".join([
        "import sys",
        f"sys.path[:0] = [{str(tmp_path / 'site')!r}]",
        f"sys.path += [{sysconfig.get_path('purelib')!r}]",
        "from importlib.resources import files",
        "import tastebook, tastebook.demo",
        f"assert tastebook.__file__.startswith({str(tmp_path)!r}), tastebook.__file__",
        "found = files('tastebook.resources')",
        "print(*sorted(str(each.name) for each in found.iterdir() if each.is_dir() and each.name != '__pycache__'))",
        "print(len(found.joinpath('sounds', 'plan.wav').read_bytes()))",
        "print(sum(each.name.endswith('.ttf') for each in found.joinpath('fonts').iterdir()))",
    ])  # fmt: skip

    ran = subprocess.run(
        [sys.executable, "-I", "-S", "-c", code], cwd=tmp_path, capture_output=True, text=True, env=dict(os.environ)
    )

    assert ran.returncode == 0, ran.stderr
    names, plan_bytes, fonts = ran.stdout.splitlines()
    assert {"courses", "fonts", "pages", "sounds", "vocabulary"} <= set(names.split())
    assert int(plan_bytes) == (ROOT / "resources/sounds/plan.wav").stat().st_size
    assert int(fonts) == len(list((ROOT / "resources/fonts").glob("*.ttf")))


def test_an_installed_tastebook_tells_its_version(wheel: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(tmp_path / "site")
    code = (
        f"import sys; sys.path[:0] = [{str(tmp_path / 'site')!r}]; from tastebook.__main__ import main;"
        " main(['--version'])"
    )

    ran = subprocess.run([sys.executable, "-I", "-S", "-c", code], cwd=tmp_path, capture_output=True, text=True)

    assert ran.stdout.startswith("Tastebook ")
    assert ran.stdout.split()[1] in wheel.name
