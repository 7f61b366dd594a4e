"""A warning fails a test: Python's and Qt's alike. Tried on tests that warn, in a run of their own."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]

PYTHON_WARNS = "import warnings\ndef test_warns(): warnings.warn('old')\n"
QT_WARNS = (
    "from PySide6.QtCore import QObject\n"
    "def test_warns(qapp): QObject().startTimer(-5)\n"  # "QObject::startTimer: Timers cannot have negative intervals"
)
NOTHING_WARNS = "def test_is_quiet(qapp): pass\n"


@pytest.mark.parametrize(
    ("test", "passes"),
    [(PYTHON_WARNS, False), (QT_WARNS, False), (NOTHING_WARNS, True)],
    ids=["python", "qt", "none"],
)
def test_a_warning_fails_a_test(tmp_path: Path, test: str, passes: bool) -> None:
    file = tmp_path / "test_one.py"
    file.write_text(test, encoding="utf-8")

    pytest_here = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider"]
    ran = subprocess.run(
        [*pytest_here, "-c", str(ROOT / "pyproject.toml"), "--rootdir", str(tmp_path), str(file)],
        cwd=tmp_path, capture_output=True, text=True,
    )  # fmt: skip

    assert (ran.returncode == 0) is passes, ran.stdout + ran.stderr
    assert ("1 passed" if passes else "1 failed") in ran.stdout


def test_text_in_our_typefaces_draws_without_a_warning(qapp: object, qtbot: object) -> None:
    # A machine without typefaces of its own prints warnings for every one that is asked for by a name it lacks.
    from PySide6.QtGui import QFont, QFontInfo, QImage, QPainter

    image = QImage(200, 60, QImage.Format.Format_ARGB32)
    image.fill(0)
    painter = QPainter(image)
    painter.setFont(QFont("Bench Sans", 20))
    painter.drawText(5, 40, "Lóngjǐng 95 °C")
    painter.end()

    assert QFontInfo(QFont("Bench Sans", 20)).family() == "Bench Sans"
    assert any(image.pixelColor(x, y).alpha() for x in range(0, 200, 2) for y in range(60))
