"""Settings on a real disk."""

from __future__ import annotations

import json
from dataclasses import asdict, replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.errors import StoreError
from tastebook.platform.settings_file import JsonSettingsFile
from tastebook.services.settings import Settings
from tests.fakes import FakeClock

OTHERWISE = Settings(
    theme="lamp", lead_s=9, sound=False, voice=True, counts_up=True, fahrenheit=True, reduce_motion=True,
    paper="us-letter", taster="Ada Lóng 金", pedal_keys=("F5",), caffeine_watch="pregnancy", break_after=None,
    good_from=2.5,
    maximized=True,
)  # fmt: skip


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "config" / "settings.json"


def file_at(path: Path) -> JsonSettingsFile:
    return JsonSettingsFile(path, FakeClock())


def write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


def test_without_a_file_the_defaults_hold_and_nothing_is_told(path: Path) -> None:
    file = file_at(path)

    assert file.load() == Settings()
    assert file.told == ""
    assert not path.exists()


def test_every_setting_is_read_back_as_it_was_kept(path: Path) -> None:
    assert all(value != getattr(Settings(), name) for name, value in asdict(OTHERWISE).items())

    file_at(path).save(OTHERWISE)

    assert file_at(path).load() == OTHERWISE
    assert json.loads(path.read_text(encoding="utf-8"))["version"] == 1


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("{", "line 1 is not JSON"),
        ("[]", "it is no table of settings"),
        ("{}", "it does not say its version"),
        ('{"version": true}', "it does not say its version"),
        ('{"version": 9}', "a later Tastebook wrote it (version 9, this one knows 1)"),
    ],
)
def test_a_file_that_cannot_be_read_is_set_aside_untouched(path: Path, text: str, reason: str) -> None:
    write(path, text)
    file = file_at(path)

    assert file.load() == Settings()

    aside = path.with_name("settings.json.bad-2026-04-18")
    assert aside.read_text(encoding="utf-8") == text
    assert not path.exists()
    assert reason in file.told
    assert aside.name in file.told
    file.save(OTHERWISE)
    assert aside.read_text(encoding="utf-8") == text


def test_a_file_that_is_no_text_is_set_aside(path: Path) -> None:
    path.parent.mkdir(parents=True)
    path.write_bytes(b"\xff\xfe\x00junk")
    file = file_at(path)

    assert file.load() == Settings()
    assert "not UTF-8" in file.told


def test_two_bad_files_of_one_day_are_both_kept(path: Path) -> None:
    for text in ("one", "two"):
        write(path, text)
        file_at(path).load()

    assert sorted(one.name for one in path.parent.iterdir()) == [
        "settings.json.bad-2026-04-18",
        "settings.json.bad-2026-04-18-2",
    ]


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("theme", "sepia"), ("theme", 3), ("lead_s", 20), ("lead_s", 6.5), ("lead_s", True), ("sound", 1),
        ("paper", "a5"), ("taster", None), ("pedal_keys", []), ("pedal_keys", "Space"), ("pedal_keys", [1]),
    ],
)  # fmt: skip
def test_one_wrong_value_costs_no_other(path: Path, name: str, value: object) -> None:
    write(path, json.dumps({"version": 1, **asdict(OTHERWISE), name: value}))
    file = file_at(path)

    loaded = file.load()

    assert loaded == replace(OTHERWISE, **{name: getattr(Settings(), name)})
    assert f"{name} cannot be" in file.told
    assert len(list(path.parent.glob("*.bad-*"))) == 1


def test_what_is_not_known_is_passed_over(path: Path) -> None:
    write(path, json.dumps({"version": 1, "taster": "Ada", "wallpaper": "herons"}))
    file = file_at(path)

    assert file.load() == replace(Settings(), taster="Ada")
    assert file.told == ""


def test_an_earlier_file_is_brought_up_step_by_step(path: Path) -> None:
    write(path, json.dumps({"version": 1, "who": "Ada"}))
    upgrades = {
        1: lambda table: {**table, "name": table["who"]},
        2: lambda table: {**table, "taster": table["name"]},
    }

    loaded = JsonSettingsFile(path, FakeClock(), version=3, upgrades=upgrades).load()

    assert loaded.taster == "Ada"


def test_when_bringing_it_up_fails_the_file_is_set_aside_as_it_was(path: Path) -> None:
    write(path, '{"version": 1}')
    file = JsonSettingsFile(path, FakeClock(), version=2, upgrades={1: lambda table: {"taster": table["who"]}})

    assert file.load() == Settings()
    assert "from version 1 to 2" in file.told
    assert path.with_name("settings.json.bad-2026-04-18").read_text(encoding="utf-8") == '{"version": 1}'


def test_a_file_that_can_neither_be_read_nor_moved_is_never_written_over(tmp_path: Path) -> None:
    path = tmp_path / ("s" * 250)  # so long a name that no other fits beside it
    write(path, "junk")
    file = file_at(path)

    assert file.load() == Settings()

    assert "The file stays" in file.told
    with pytest.raises(StoreError, match="left as it is"):
        file.save(OTHERWISE)
    assert path.read_text(encoding="utf-8") == "junk"


@given(st.text(max_size=60))
def test_any_text_gives_settings(tmp_path_factory: pytest.TempPathFactory, text: str) -> None:
    path = tmp_path_factory.mktemp("any") / "settings.json"
    path.write_bytes(text.encode("utf-8", "surrogatepass"))

    assert isinstance(file_at(path).load(), Settings)
