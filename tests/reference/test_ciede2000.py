"""ΔE00 against the test data of Sharma, Wu & Dalal (2005), Color Res. Appl. 30:21-30, doi 10.1002/col.20070."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from tastebook.domain.colour import delta_e00
from tastebook.domain.colour_arrays import delta_e00_between
from tastebook.domain.session import Lab
from tests.reference.published import rows

PAIRS = rows("ciede2000_sharma2005.csv")


def _pair(row: dict[str, str]) -> tuple[Lab, Lab]:
    return (
        (float(row["L1"]), float(row["a1"]), float(row["b1"])),
        (float(row["L2"]), float(row["a2"]), float(row["b2"])),
    )


def test_all_published_pairs_are_here() -> None:
    assert [int(row["pair"]) for row in PAIRS] == list(range(1, 35))


@pytest.mark.parametrize("row", PAIRS, ids=lambda row: f"pair {row['pair']}")
def test_a_published_pair_is_met_to_the_fourth_decimal(row: dict[str, str]) -> None:
    first, second = _pair(row)

    found = delta_e00(first, second)

    assert found == pytest.approx(float(row["dE00_published_4dp"]), abs=1e-4)


@pytest.mark.parametrize("row", PAIRS, ids=lambda row: f"pair {row['pair']}")
def test_the_order_of_a_published_pair_does_not_matter(row: dict[str, str]) -> None:
    first, second = _pair(row)

    assert delta_e00(second, first) == pytest.approx(float(row["dE00_published_4dp"]), abs=1e-4)


@pytest.mark.parametrize("row", PAIRS, ids=lambda row: f"pair {row['pair']}")
def test_colour_science_judges_a_published_pair_alike(row: dict[str, str], colour_science: Any) -> None:
    first, second = _pair(row)

    judged = float(colour_science.delta_E(first, second, method="CIE 2000"))

    assert delta_e00(first, second) == pytest.approx(judged, abs=1e-4)


def test_the_published_pairs_are_met_all_at_once_as_well() -> None:
    first, second = (np.array(labs) for labs in zip(*map(_pair, PAIRS), strict=True))
    published = [float(row["dE00_published_4dp"]) for row in PAIRS]

    assert delta_e00_between(first, second) == pytest.approx(published, abs=1e-4)
    assert delta_e00_between(second, first) == pytest.approx(published, abs=1e-4)
