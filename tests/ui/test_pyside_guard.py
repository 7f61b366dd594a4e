"""PySide6 6.12.0 on Python 3.11 lost a reference to None at every void call and aborted after about 7,000 of them."""

from __future__ import annotations

import sys

from PySide6.QtCore import QObject


def test_void_calls_into_qt_keep_the_references_to_none() -> None:
    parts = [QObject() for _ in range(500)]
    before = sys.getrefcount(None)

    for part in parts:
        part.setObjectName("leaf")
        part.deleteLater()

    assert abs(sys.getrefcount(None) - before) < 100
