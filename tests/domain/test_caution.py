from __future__ import annotations

import tomllib
from importlib.resources import files
from typing import Any

import pytest

from tastebook.domain.caution import Caution, cautions_from_table, shown_at
from tastebook.domain.errors import VocabularyError


def _shipped() -> tuple[Caution, ...]:
    text = (files("tastebook.resources") / "cautions.toml").read_text(encoding="utf-8")
    return cautions_from_table(tomllib.loads(text))


def _text_of(key: str) -> str:
    return next(caution.text for caution in _shipped() if caution.key == key)


def _row() -> dict[str, Any]:
    return {"key": "scald", "title": "Scalding", "text": "Hot.", "brief": "Hot.", "source": "Ours.", "where": ["timer"]}


def test_the_cautions_that_ship_are_these() -> None:
    assert [caution.key for caution in _shipped()] == ["scald", "hot_sips", "caffeine", "allergy", "body", "cold_brew"]


def test_every_caution_stands_in_the_help_and_on_the_page() -> None:
    assert shown_at(_shipped(), "help") == shown_at(_shipped(), "page") == _shipped()


def test_heat_is_named_at_the_timer() -> None:
    assert [caution.key for caution in shown_at(_shipped(), "timer")] == ["scald", "hot_sips"]


def test_the_caution_of_scalds_names_sixty_degrees_and_a_few_seconds() -> None:
    # The exposure table that the plumbing trades use, after Moritz & Henriques 1947 (quoted by others).
    assert "60 °C" in _text_of("scald")
    assert "3 to 5 seconds" in _text_of("scald")


def test_the_caution_of_hot_sips_names_the_published_limit() -> None:
    # IARC 2016, Monographs volume 116, Group 2A.
    assert "65 °C" in _text_of("hot_sips")
    assert "probably carcinogenic" in _text_of("hot_sips")


def test_the_caution_of_caffeine_names_the_published_amounts() -> None:
    # EFSA 2015, EFSA Journal 13(5):4102: 200 mg single, 400 mg a day, 200 mg a day in pregnancy and lactation.
    told = _text_of("caffeine")

    assert "200 mg at one time and 400 mg in a day" in told
    assert "200 mg a day in pregnancy, and when breastfeeding" in told


@pytest.mark.parametrize("key", ["caffeine", "body", "scald"])
def test_a_caution_about_health_sends_one_to_somebody_qualified(key: str) -> None:
    assert any(word in _text_of(key) for word in ("qualified", "doctor", "medical service"))


@pytest.mark.parametrize("key", ["allergy", "cold_brew"])
def test_a_caution_about_food_leaves_the_last_word_to_local_rules(key: str) -> None:
    assert "local food" in _text_of(key)


def test_a_smell_is_said_to_be_no_ingredient() -> None:
    assert "names a smell, never an ingredient" in _text_of("allergy")
    assert "what the tea is scented" in _text_of("allergy")


@pytest.mark.parametrize("key", ["key", "title", "text", "brief", "source"])
@pytest.mark.parametrize("value", [None, "", "  ", 60])
def test_a_caution_that_lacks_a_word_is_refused_with_its_place(key: str, value: object) -> None:
    with pytest.raises(VocabularyError, match=rf"^cautions\[1\]\.{key}: words in quotes are needed"):
        cautions_from_table({"cautions": [_row() | {key: value}]})


@pytest.mark.parametrize("where", [None, [], "timer", ["door"]])
def test_a_caution_for_an_unknown_place_is_refused(where: object) -> None:
    with pytest.raises(VocabularyError, match=r"^cautions\[1\]\.where: a list of timer, help, page is needed"):
        cautions_from_table({"cautions": [_row() | {"where": where}]})


@pytest.mark.parametrize("table", [{}, {"cautions": []}, {"cautions": "none"}])
def test_a_file_without_cautions_is_refused(table: dict[str, Any]) -> None:
    with pytest.raises(VocabularyError, match=r"^cautions: at least one"):
        cautions_from_table(table)
