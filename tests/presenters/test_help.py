"""Help: keys, words, steps, cautions."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from importlib.resources import files

import pytest

from tastebook.domain.caution import Caution, cautions_from_table
from tastebook.presenters.help import KEYS, MOST_TERMS, PLACES, HelpPresenter, keys_of, shown_key
from tastebook.presenters.help_terms import TERMS
from tastebook.services.settings import Settings
from tests.bench_kit import shipped_figures
from tests.shelf_scene import COURSES
from tests.words import real_vocabulary


def cautions() -> tuple[Caution, ...]:
    text = (files("tastebook.resources") / "cautions.toml").read_text(encoding="utf-8")
    return cautions_from_table(tomllib.loads(text))


@pytest.fixture
def help_presenter() -> HelpPresenter:
    return HelpPresenter(cautions, lambda: COURSES, Settings)


def test_the_keys_stand_by_place(help_presenter: HelpPresenter) -> None:
    groups = help_presenter.view().keys

    assert [group.title for group in groups] == list(PLACES.values())
    assert sum(len(group.rows) for group in groups) == len(KEYS)


def test_the_pedals_are_shown_as_they_are_bound() -> None:
    presenter = HelpPresenter(cautions, lambda: COURSES, lambda: replace(Settings(), pedal_keys=("F5", "PgUp")))

    row = next(row for group in presenter.view().keys for row in group.rows if row.action == "pedal")

    assert row.caps == ("F5", "Page Up")


@pytest.mark.parametrize("place", PLACES)
def test_no_key_does_two_things_in_one_place(place: str) -> None:
    keys = [key for row in KEYS if row.place in (place, "everywhere") for key in row.keys]
    twice = {key for key in keys if keys.count(key) > 1}

    # Esc leaves whatever one is in: on a lot's page that is the page.
    assert twice <= {"Esc"}


def test_every_act_of_a_place_has_one_row() -> None:
    acts = [(row.place, row.action) for row in KEYS]

    assert len(acts) == len(set(acts))
    assert keys_of("bench", "column_before") == ("Alt+Left",)
    assert keys_of("bench", "no such act") == ()


def test_keys_are_shown_as_on_the_keyboard() -> None:
    assert [shown_key(key) for key in ("PgDown", "Ctrl+Z", "F5", "+")] == ["Page Down", "Ctrl Z", "F5", "+"]


def test_words_are_in_order_and_explained() -> None:
    ours = [term.word for term in TERMS if term.is_ours]
    trade = [term.word for term in TERMS if not term.is_ours]

    assert [term.word for term in TERMS] == [*sorted(ours, key=str.casefold), *sorted(trade, key=str.casefold)]
    assert all(term.meaning.endswith(".") for term in TERMS)
    # The names that this program gave (job: "Terms of ours").
    assert {"Shelf", "Bench", "Infusion strip", "Say line", "Course", "Late", "Clouded", "Arc", "Kin", "Press"} <= set(
        ours
    )


@pytest.mark.parametrize(
    ("section", "typed", "found"),
    [
        ("keys", "pour", 2),
        ("terms", "huigan", 1),
        ("terms", "huígān", 1),
        ("steps", "warmed bowl", 1),
        ("cautions", "iarc", 1),
    ],
)
def test_looking_for_something_narrows_the_section(
    help_presenter: HelpPresenter, section: str, typed: str, found: int
) -> None:
    help_presenter.choose(section)  # type: ignore[arg-type]
    help_presenter.find(typed)

    view = help_presenter.view()

    rows = [row for group in view.keys for row in group.rows]
    assert len(rows) + len(view.terms) + len(view.courses) + len(view.cautions) == found
    assert view.empty == ""


def test_looking_for_what_is_not_there_says_so(help_presenter: HelpPresenter) -> None:
    help_presenter.find("zeppelin")

    assert help_presenter.view().empty.startswith("Nothing here has “zeppelin”")


def test_steps_say_why_they_stand_there_and_what_can_still_be_done(help_presenter: HelpPresenter) -> None:
    help_presenter.choose("steps")

    gaiwan = next(course for course in help_presenter.view().courses if course.name == "Gaiwan session")

    assert [title for title, _ in gaiwan.columns] == ["Before water", "After the rinse", "Each infusion", "At the end"]
    assert all(note.why for _, notes in gaiwan.columns for note in notes)
    assert gaiwan.source


def test_every_caution_for_the_help_is_shown_with_its_source(help_presenter: HelpPresenter) -> None:
    help_presenter.choose_at(3)

    shown = help_presenter.view().cautions

    assert {caution.key for caution in shown} >= {"scald", "hot_sips", "caffeine", "allergy", "body"}
    assert all(caution.source for caution in shown)


def test_a_word_is_explained_and_an_unknown_one_opens_all(help_presenter: HelpPresenter) -> None:
    help_presenter.explain("astringency")
    assert [term.word for term in help_presenter.view().terms] == ["Astringency"]

    help_presenter.explain("zeppelin")

    assert len(help_presenter.view().terms) == len(TERMS)


@pytest.fixture
def with_words() -> HelpPresenter:
    presenter = HelpPresenter(cautions, lambda: COURSES, Settings, vocabulary=real_vocabulary)
    presenter.choose("terms")
    return presenter


@pytest.mark.parametrize("typed", ["wet cardboard", "silky", "turbid", "深红", "chéng huáng", "huigan"])
def test_every_word_of_tasting_is_explained_by_the_help(with_words: HelpPresenter, typed: str) -> None:
    with_words.find(typed)

    assert with_words.view().terms


def test_a_fault_is_explained_with_its_cause_and_its_source(with_words: HelpPresenter) -> None:
    with_words.explain("焦气")

    (found,) = with_words.view().terms

    assert found.meaning.endswith("Usually caused so: Leaf edges burnt in the pan or dryer. Fault. Roasted.")
    assert found.source


def test_what_is_called_so_stands_before_what_only_mentions_it(with_words: HelpPresenter) -> None:
    with_words.find("amber")

    named = ["amber" in f"{term.word} {term.also}" for term in with_words.view().terms]

    assert named == sorted(named, reverse=True)


def test_unlooked_for_the_words_of_tasting_are_announced_and_not_poured_out(with_words: HelpPresenter) -> None:
    view = with_words.view()

    assert view.terms == TERMS
    assert str(len(real_vocabulary().descriptors)) in view.how


def test_too_many_words_are_cut_short_and_it_is_said(with_words: HelpPresenter) -> None:
    with_words.find("a")

    assert len(with_words.view().terms) == MOST_TERMS
    assert "More letters" in with_words.view().how


def test_every_figure_is_shown_with_its_range_its_bounds_and_its_source_and_how_to_change_it() -> None:
    presenter = HelpPresenter(tuple, tuple, Settings, shipped_figures, "figures.toml")
    presenter.choose("figures")

    view = presenter.view()
    presenter.find("sip 65")
    sip = presenter.view().figures

    assert len(view.figures) == len(shipped_figures().rows)
    assert all(one.told and one.source and one.bounds for one in view.figures)
    assert "into figures.toml" in view.how
    assert [one.key for one in sip] == ["sip_limit_c"]
