"""The token file is read whole, and a mistake in it is not passed over."""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any

import pytest

from tastebook.ui.theme.tokens import THEME_NAMES, tokens, tokens_from


@pytest.fixture
def table() -> dict[str, Any]:
    text = (files("tastebook.resources.theme") / "tokens.json").read_text(encoding="utf-8")
    parsed: dict[str, Any] = json.loads(text)
    return parsed


def test_every_theme_of_the_file_can_be_chosen(table: dict[str, Any]) -> None:
    assert set(table["themes"]) == set(THEME_NAMES) == set(tokens().themes)


def test_a_colour_is_read_as_it_stands_in_the_file(table: dict[str, Any]) -> None:
    assert tokens().themes["lamp"].colours.accent == table["themes"]["lamp"]["colour"]["accent"]
    assert tokens().themes["lamp"].families["milky"] == table["themes"]["lamp"]["family"]["milky"]


def test_a_missing_colour_is_not_passed_over(table: dict[str, Any]) -> None:
    del table["themes"]["paper"]["colour"]["ink2"]

    with pytest.raises(TypeError, match="ink2"):
        tokens_from(table)


def test_an_unknown_size_is_not_passed_over(table: dict[str, Any]) -> None:
    table["type_px"]["huge"] = 400

    with pytest.raises(TypeError, match="huge"):
        tokens_from(table)


def test_every_target_is_at_least_44_px() -> None:
    # 44 by 44 CSS pixels: WCAG 2.2, success criterion 2.5.5 Target Size (Enhanced).
    assert all(size >= 44 for size in vars(tokens().target_px).values())
