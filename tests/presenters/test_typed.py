"""What was typed, read as numbers and days."""

from __future__ import annotations

import contextlib
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.errors import QuantityError
from tastebook.domain.quantities import ALTITUDE_M, LEAF_G, PRICE_PER_KG, QUANTITY_G
from tastebook.presenters.typed import Typing, date_typed, number_text
from tastebook.reports.wording import day

LEAF = Typing(LEAF_G)
ALTITUDE = Typing(ALTITUDE_M, {"ft": 0.3048}, is_whole=True)
STOCK = Typing(QUANTITY_G, {"kg": 1000.0}, is_whole=True)
PRICE = Typing(PRICE_PER_KG, how="digits alone")


@pytest.mark.parametrize(
    ("typing", "typed", "expected"),
    [
        (LEAF, "6.5", 6.5),
        (LEAF, " 6,5 g ", 6.5),
        (LEAF, ".5", 0.5),
        (LEAF, "6.", 6.0),
        (LEAF, "1,100", 1.1),
        (LEAF, "+7", 7.0),
        (LEAF, "", None),
        (LEAF, "   ", None),
        (ALTITUDE, "1100", 1100.0),
        (ALTITUDE, "1,100 m", 1100.0),
        (ALTITUDE, "1.100", 1100.0),
        (ALTITUDE, "1 100", 1100.0),
        (ALTITUDE, "1\u202f100 m", 1100.0),
        (PRICE, "84.00 per kg", 84.0),
        (STOCK, "1'250'000", 1_250_000.0),
        (ALTITUDE, "−20", -20.0),
        (STOCK, "2 kg", 2000.0),
        (STOCK, "1,5 kg", 1500.0),
        (STOCK, "1.250.000 g", 1_250_000.0),
        (PRICE, "1,250.50", 1250.5),
        (PRICE, "1.250,50", 1250.5),
    ],
)
def test_numbers_are_read_as_people_write_them(typing: Typing, typed: str, expected: float | None) -> None:
    assert typing.read(typed) == expected


def test_feet_become_metres() -> None:
    # The international foot is 0.3048 m exactly (NIST SP 811, appendix B.8).
    assert ALTITUDE.read("3600 ft") == pytest.approx(1097.28)


@pytest.mark.parametrize(
    ("typing", "typed", "message"),
    [
        (LEAF, "a pinch", "“a pinch” is not a number. Write it in g."),
        (LEAF, "6.5 oz", "“6.5 oz” has a unit that is not known here. Write it in g."),
        (LEAF, "1.2.3", "is not a number"),
        (LEAF, "6.5.", "is not a number"),
        (LEAF, "1,10,5", "is not a number"),
        (LEAF, "6.5 5", "is not a number"),
        (LEAF, "6 5", "is not a number"),
        (ALTITUDE, "1.10.000", "is not a number"),
        (LEAF, "900", "leaf cannot be 900 g: it must be from 0.1 to 500 g"),
        (PRICE, "84 EUR", "Write digits alone."),
    ],
)
def test_what_cannot_be_read_is_refused_with_what_to_write(typing: Typing, typed: str, message: str) -> None:
    with pytest.raises(QuantityError, match=message.replace(".", r"\.")):
        typing.read(typed)


def test_money_keeps_its_digits() -> None:
    assert PRICE.read_exactly("84.00") == Decimal("84.00")
    assert str(PRICE.read_exactly("84.00")) == "84.00"
    assert PRICE.read_exactly("") is None


@given(st.text(max_size=12))
def test_any_text_is_read_or_refused(typed: str) -> None:
    for typing in (LEAF, ALTITUDE, PRICE):
        with contextlib.suppress(QuantityError):
            value = typing.read(typed)
            assert value is None or typing.quantity.least <= value <= typing.quantity.most


@given(st.floats(min_value=0.1, max_value=500))
def test_a_number_that_is_shown_is_read_back_as_shown(grams: float) -> None:
    assert LEAF.read(number_text(grams)) == float(number_text(grams))


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("2026-04-14", date(2026, 4, 14)),
        ("14 April 2026", date(2026, 4, 14)),
        ("14. apr 2026", date(2026, 4, 14)),
        ("14.4.2026", date(2026, 4, 14)),
        ("14/4/2026", date(2026, 4, 14)),
        ("4/14/2026", date(2026, 4, 14)),
        ("5/5/2026", date(2026, 5, 5)),
        ("", None),
    ],
)
def test_days_are_read_as_people_write_them(typed: str, expected: date | None) -> None:
    assert date_typed(typed) == expected


def test_a_day_that_can_be_read_twice_is_asked_back() -> None:
    with pytest.raises(QuantityError, match="5 April 2026 or 4 May 2026"):
        date_typed("5/4/2026")


@pytest.mark.parametrize("typed", ["31 June 2026", "soon", "14 j 2026", "2026-13-01", "1-2-3"])
def test_what_is_no_day_is_refused(typed: str) -> None:
    with pytest.raises(QuantityError, match="is not a day"):
        date_typed(typed)


@given(st.dates(min_value=date(1900, 1, 1)))
def test_a_day_that_is_shown_is_read_back(on: date) -> None:
    assert date_typed(day(on)) == on
    assert date_typed(on.isoformat()) == on
