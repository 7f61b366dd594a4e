"""Names for new records."""

from __future__ import annotations

import re
import threading
import uuid
from datetime import UTC, datetime

from tastebook.platform.clock import SystemClock
from tastebook.platform.ids import TimeIds
from tests.fakes import FakeClock


def test_a_name_is_a_uuid_of_version_7_with_the_time_in_front() -> None:
    """RFC 9562, appendix A.6: Tuesday, 22 February 2022 14:22:22 GMT-5:00 is 017F22E2-79B0-7..."""
    clock = FakeClock(datetime(2022, 2, 22, 19, 22, 22, tzinfo=UTC))

    name = TimeIds(clock).new()

    assert name.startswith("017f22e2-79b0-7")
    assert uuid.UUID(name).variant == uuid.RFC_4122
    assert uuid.UUID(name).version == 7
    assert re.fullmatch(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}", name)


def test_names_sort_by_when_they_were_given_also_within_one_millisecond() -> None:
    ids = TimeIds(FakeClock())

    names = [ids.new() for _ in range(10_000)]

    assert names == sorted(names)
    assert len(set(names)) == 10_000


def test_names_sort_by_when_they_were_given_also_when_the_wall_clock_is_set_back() -> None:
    clock = FakeClock()
    ids = TimeIds(clock)
    before = ids.new()

    clock.step_wall(-3600)

    assert ids.new() > before


def test_two_windows_give_different_names_at_the_same_moment() -> None:
    clock = FakeClock()

    assert TimeIds(clock).new() != TimeIds(clock).new()


def test_threads_get_different_names() -> None:
    ids = TimeIds(SystemClock())
    names: list[str] = []

    threads = [threading.Thread(target=lambda: names.extend(ids.new() for _ in range(2000))) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert len(set(names)) == 8000
