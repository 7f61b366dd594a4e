"""The settings sheet."""

from __future__ import annotations

from dataclasses import dataclass, field

import pytest

from tastebook.domain.errors import StoreError
from tastebook.presenters.help import KEYS
from tastebook.presenters.settings import OPTIONS, Key, SettingsPresenter
from tastebook.services.settings import Preferences, Settings


@dataclass
class FakeSettingsFile:
    """Settings in memory."""

    kept: Settings = field(default_factory=Settings)
    told: str = ""
    fails: bool = False
    saves: int = 0

    def load(self) -> Settings:
        return self.kept

    def save(self, settings: Settings) -> None:
        if self.fails:
            raise StoreError("The disk is full.")
        self.kept = settings
        self.saves += 1


@dataclass
class Scene:
    file: FakeSettingsFile = field(default_factory=FakeSettingsFile)

    def __post_init__(self) -> None:
        self.preferences = Preferences(self.file)
        self.presenter = SettingsPresenter(self.preferences, lambda: "/journal.tastebook", lambda: "2026-04-18")


@pytest.mark.parametrize("key", OPTIONS)
def test_every_choice_holds_at_once_is_kept_and_says_what_it_does(key: Key) -> None:
    scene = Scene()
    heard: list[Settings] = []
    scene.preferences.listen(heard.append)
    effects = set()

    for place, (_, value) in enumerate(OPTIONS[key][1]):
        scene.presenter.choose(key, place)

        assert getattr(scene.preferences.current, key) == value
        assert scene.file.kept == scene.preferences.current
        view = scene.presenter.view()
        row = next(row for row in (*view.seen, *view.heard, *view.minded, *view.printed) if row.key == key)
        assert row.chosen == place
        effects.add(row.effect)

    assert len(effects) == len(OPTIONS[key][1])
    assert heard[-1] == scene.preferences.current


def test_choosing_what_is_chosen_writes_nothing() -> None:
    scene = Scene()

    scene.presenter.choose("theme", 0)

    assert scene.file.saves == 0


def test_a_setting_that_cannot_be_kept_holds_for_now_and_says_so() -> None:
    scene = Scene(FakeSettingsFile(fails=True))

    scene.presenter.choose("theme", 1)

    assert scene.preferences.current.theme == "lamp"
    assert scene.presenter.view().notice.startswith("This holds until Tastebook is closed")


def test_what_was_wrong_with_the_file_is_told() -> None:
    assert Scene(FakeSettingsFile(told="Set aside.")).presenter.view().notice == "Set aside."


def test_the_lead_goes_from_0_to_15_and_no_further() -> None:
    scene = Scene()

    scene.presenter.step_lead(-20)
    low = scene.presenter.view().lead
    scene.presenter.step_lead(+40)
    high = scene.presenter.view().lead

    assert (low.value, low.at_least, low.effect) == ("0", True, "Not announced: only the plan is.")
    assert (high.value, high.at_most, high.effect) == ("15", True, "“Begin to pour”, 15 s before the plan.")


@pytest.mark.parametrize(("typed", "lead_s", "notice"), [("9", 9, ""), ("9 s", 9, ""), ("", 6, "")])
def test_a_lead_is_typed(typed: str, lead_s: int, notice: str) -> None:
    scene = Scene()

    scene.presenter.type_lead(typed)

    assert (scene.preferences.current.lead_s, scene.presenter.view().notice) == (lead_s, notice)


def test_a_lead_out_of_range_is_refused_in_words() -> None:
    scene = Scene()

    scene.presenter.type_lead("20")

    assert scene.presenter.view().notice == "Lead cannot be 20 s: it must be from 0 to 15 s."
    assert scene.preferences.current.lead_s == 6


def test_a_pedal_is_bound_by_pressing_it() -> None:
    scene = Scene()
    scene.presenter.wait_for_pedal()
    assert scene.presenter.view().pedals.is_waiting

    scene.presenter.press_pedal("F5")

    pedals = scene.presenter.view().pedals
    assert (pedals.keys, pedals.is_waiting, pedals.error) == (("Space", "Page Down", "F5"), False, "")
    assert scene.file.kept.pedal_keys == ("Space", "PgDown", "F5")


@pytest.mark.parametrize(
    ("key", "reason"),
    [
        ("Space", "Space pours already."),
        ("A", "“A” is written into the say line"),
        ("7", "“7” is written into the say line"),
        ("Return", "Enter is needed for writing"),
        ("Tab", "Tab is needed for writing"),
        ("F1", "F1 is taken: the words, the steps and the cautions."),
        ("F11", "F11 is taken: the timer alone"),
        ("Ctrl+Z", "Ctrl Z is taken: take back the last act."),
        ("Ctrl+Shift+P", "A pedal sends one key alone"),
    ],
)
def test_a_key_that_is_needed_otherwise_is_refused_and_waited_on(key: str, reason: str) -> None:
    scene = Scene()
    scene.presenter.wait_for_pedal()

    scene.presenter.press_pedal(key)

    pedals = scene.presenter.view().pedals
    assert pedals.error.startswith(reason)
    assert pedals.is_waiting
    assert scene.preferences.current.pedal_keys == ("Space", "PgDown")


def test_no_key_of_the_table_can_pour_but_the_pedals() -> None:
    scene = Scene()

    for row in KEYS:
        for key in row.keys:
            scene.presenter.press_pedal(key)

    assert scene.preferences.current.pedal_keys == ("Space", "PgDown")


def test_at_most_four_keys_pour_and_at_least_one() -> None:
    scene = Scene()
    for key in ("F5", "F6", "F7"):
        scene.presenter.press_pedal(key)
    assert scene.presenter.view().pedals.error == "4 keys pour already. Remove one first."
    assert not scene.presenter.view().pedals.can_add

    for _ in range(4):
        scene.presenter.remove_pedal(0)

    assert scene.preferences.current.pedal_keys == ("F6",)
    assert scene.presenter.view().pedals.error == "At least one key must pour: name one, such as Space."
    assert not scene.presenter.view().pedals.can_remove


def test_giving_up_binds_nothing() -> None:
    scene = Scene()
    scene.presenter.wait_for_pedal()
    scene.presenter.press_pedal("A")

    scene.presenter.stop_waiting()

    assert not scene.presenter.view().pedals.is_waiting
    assert scene.presenter.view().pedals.error == ""


def test_a_machine_without_sound_says_so_beside_the_choice() -> None:
    presenter = SettingsPresenter(
        Preferences(FakeSettingsFile()),
        str,
        str,
        silent_because=lambda: "No sound device.",
        mute_because=lambda: "No voice.",
    )

    assert [row.effect for row in presenter.view().heard] == ["No sound device.", "No voice."]


def test_the_taster_the_journal_and_the_name_of_a_copy_are_shown() -> None:
    scene = Scene()

    scene.presenter.name_taster("  Ada ")
    scene.presenter.tell("A copy is in /elsewhere.")

    view = scene.presenter.view()
    assert (view.taster, view.journal) == ("Ada", "/journal.tastebook")
    assert view.copy_name == "journal-2026-04-18.tastebook"
    assert view.notice == "A copy is in /elsewhere."
