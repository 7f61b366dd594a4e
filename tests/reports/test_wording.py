"""Numbers and times as words."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.reports.wording import (
    MINUS,
    clock_time,
    countdown,
    day,
    degrees,
    listed,
    local,
    number,
    signed,
    steep_time,
    stretch,
)

LATE_EVENING_UTC = datetime(2026, 4, 18, 23, 5, tzinfo=UTC)


@pytest.mark.parametrize(
    ("offset_min", "shown"), [(0, "23:05"), (60, "0:05"), (-330, "17:35"), (345, "4:50"), (14 * 60, "13:05")]
)
def test_time_is_local(offset_min: int, shown: str) -> None:
    assert clock_time(local(LATE_EVENING_UTC, offset_min)) == shown


@pytest.mark.parametrize(
    ("offset_min", "shown"), [(0, "18 April 2026"), (60, "19 April 2026"), (-23 * 60 - 30, "17 April 2026")]
)
def test_the_day_is_local(offset_min: int, shown: str) -> None:
    assert day(local(LATE_EVENING_UTC, offset_min)) == shown


@given(st.datetimes(datetime(1990, 1, 1), datetime(2200, 1, 1), timezones=st.just(UTC)), st.integers(-720, 840))  # noqa: DTZ001
def test_clock_and_day_are_those_of_the_shifted_moment(moment: datetime, offset_min: int) -> None:
    there = moment + timedelta(minutes=offset_min)

    hours, _, minutes = clock_time(local(moment, offset_min)).partition(":")

    assert (int(hours), int(minutes)) == (there.hour, there.minute)
    assert day(local(moment, offset_min)).startswith(f"{there.day} ")


@pytest.mark.parametrize(
    ("seconds", "shown"),
    [
        (0, "0:00"), (7, "0:07"), (42, "0:42"), (60, "1:00"), (100, "1:40"), (3599, "59:59"), (3600, "1:00:00"),
        (28_800, "8:00:00"), (-1, "+0:01"), (-7, "+0:07"), (-3661, "+1:01:01"),
    ],
)  # fmt: skip
def test_time_left_counts_down_and_time_over_counts_up_again(seconds: int, shown: str) -> None:
    assert countdown(seconds) == shown


@pytest.mark.parametrize(
    ("seconds", "shown"),
    [
        (0, "0 s"), (36, "36 s"), (99, "99 s"), (100, "1:40"), (150, "2:30"), (3600, "1 h"), (5400, "1 h 30 min"),
        (28_800, "8 h"),
    ],
)  # fmt: skip
def test_a_steep_is_told_as_one_would_say_it(seconds: int, shown: str) -> None:
    assert steep_time(seconds) == shown


@pytest.mark.parametrize(
    ("seconds", "shown"),
    [(0, "0 s"), (45, "45 s"), (510, "8 min 30 s"), (3540, "59 min"), (3600, "1 h"), (4320, "1 h 12 min")],
)
def test_a_stretch_of_time_is_told_in_hours_and_minutes(seconds: int, shown: str) -> None:
    assert stretch(seconds) == shown


@given(st.integers(-200_000, 200_000))
def test_a_countdown_tells_every_second(seconds: int) -> None:
    parts = [int(part) for part in countdown(seconds).removeprefix("+").split(":")]

    told = sum(part * 60**place for place, part in enumerate(reversed(parts)))

    assert told == abs(seconds)
    assert all(part < 60 for part in parts[1:])


@pytest.mark.parametrize(
    ("temp_c", "in_fahrenheit", "shown"),
    [
        (95, False, "95 °C"),
        (92.5, False, "92.5 °C"),
        (95, True, "203 °F"),  # exactly, by definition of the scales: 95 · 9/5 + 32
        (100, True, "212 °F"),
        (92.22, True, "198 °F"),
    ],
)
def test_a_temperature_is_told_in_the_scale_that_is_read(temp_c: float, in_fahrenheit: bool, shown: str) -> None:
    assert degrees(temp_c, in_fahrenheit=in_fahrenheit) == shown


@given(st.integers(32, 212))
def test_whole_degrees_fahrenheit_come_back_as_they_were_set(temp_f: int) -> None:
    temp_c = round((temp_f - 32) * 5 / 9, 2)  # as the Bench keeps what was typed

    assert degrees(temp_c, in_fahrenheit=True) == f"{temp_f} °F"


@pytest.mark.parametrize(("value", "shown"), [(2, "+2"), (0, ""), (-3, f"{MINUS}3")])
def test_a_change_wears_its_sign(value: int, shown: str) -> None:
    assert signed(value) == shown


@pytest.mark.parametrize(
    ("words", "shown"),
    [([], ""), (["rose"], "rose"), (["rose", "tar"], "rose and tar"), (["rose", "tar", "rain"], "rose, tar and rain")],
)
def test_words_are_listed_as_one_speaks(words: list[str], shown: str) -> None:
    assert listed(iter(words)) == shown


@pytest.mark.parametrize(("value", "shown"), [(4.0, "4"), (4.5, "4.5"), (0.0, "0"), (1100.0, "1,100")])
def test_a_number_has_no_trailing_zero(value: float, shown: str) -> None:
    assert number(value) == shown
