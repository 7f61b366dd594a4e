"""Resolve pyproject.toml into the two locks; run by `make lock`, and the only step that needs uv.

The locks hold versions and hashes for every platform at once, and no address: pip fetches from wherever it is set up
to. The tests' lock is held to the versions of the program's, so that what is tested is what runs.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
UV = "uv>=0.9,<1"
OPTIONS = ["--universal", "--generate-hashes", "--no-emit-index-url", "--no-emit-find-links", "--no-header", "--quiet"]


def compile_lock(uv: Path, target: str, *extra: str) -> None:
    """Write one lock; what it pins already stays, unless pyproject.toml rules it out or ``--upgrade`` is asked for."""
    upgrade = ["--upgrade"] if "--upgrade" in sys.argv else []
    subprocess.run(
        [uv, "pip", "compile", *OPTIONS, *upgrade, *extra, "pyproject.toml", "-o", target], cwd=ROOT, check=True
    )
    print(f"{target}: {sum(' @ ' in line or '==' in line for line in (ROOT / target).open(encoding='utf-8'))} pins")


def main() -> None:
    """Make a venv for uv, and both locks with it."""
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        venv.create(home, with_pip=True, symlinks=sys.platform != "win32")
        scripts = home / ("Scripts" if sys.platform == "win32" else "bin")
        subprocess.run([scripts / "python", "-m", "pip", "install", "--quiet", UV], check=True)
        compile_lock(scripts / "uv", "requirements.lock")
        compile_lock(scripts / "uv", "requirements-test.lock", "--extra=test", "--constraints=requirements.lock")


if __name__ == "__main__":
    main()
