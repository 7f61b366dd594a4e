"""Teas like this one: the distance is that of the model, infusion by infusion, and never over what was not assessed."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.arc import strengths_by_column
from tastebook.domain.finding_places import places_of
from tastebook.domain.kin import NotedCups, kin_of, likeness_words, newest_assessed, profiles_of
from tastebook.domain.session import Impression, Session, Tasting
from tests.fakes import MORNING_UTC
from tests.scanning import noted_cups
from tests.shelf_scene import COURSES
from tests.store.building import lot
from tests.words import real_vocabulary

NAMES = {one.key: one.name for one in real_vocabulary().families}


def tasting(number: int, *cups: tuple[int, str, int]) -> Tasting:
    """Return a tasting of a lot of its own with (infusion, descriptor, strength)."""
    uid = f"session-{number}"
    noted = tuple(
        Impression(f"{uid}-{place}", uid, "flavour", infusion, "palate", key, key, strength, MORNING_UTC)
        for place, (infusion, key, strength) in enumerate(cups)
    )
    return Tasting(lot(f"lot-{number}"), Session(uid, f"lot-{number}", COURSES[0], MORNING_UTC), impressions=noted)


def test_the_distance_is_the_mean_over_shared_infusions() -> None:
    """Worked by hand: infusion 1 differs by (1, 3), infusion 2 by (2, 0); infusion 3 only one of them has."""
    ours = tasting(1, (1, "orchid", 4), (1, "peach", 3), (2, "orchid", 4), (3, "smoke", 5))
    theirs = tasting(2, (1, "orchid", 3), (2, "orchid", 2))

    (found,) = kin_of(profiles_of(noted_cups([ours, theirs], ""), real_vocabulary()), "session-1", 5)

    assert found.lot_uid == "lot-2"
    assert found.shared == 2
    assert found.distance == pytest.approx((math.hypot(1, 3) + 2) / 2)


def test_descriptors_of_a_family_combine_as_in_the_arc() -> None:
    """{3, 2} of one family come to 3.61 (the model's own example); the strongest reading of each counts."""
    ours = tasting(1, (1, "orchid", 3), (1, "jasmine", 2), (1, "jasmine", 1))
    theirs = tasting(2, (1, "smoke", 0))

    (found,) = kin_of(profiles_of(noted_cups([ours, theirs], ""), real_vocabulary()), "session-1", 5)

    assert found.distance == pytest.approx(math.sqrt(13))


def test_lots_that_share_no_assessed_infusion_are_never_kin() -> None:
    profiles = profiles_of(
        noted_cups([tasting(1, (1, "orchid", 4)), tasting(2, (2, "orchid", 4))], ""), real_vocabulary()
    )

    assert kin_of(profiles, "session-1", 5) == ()


def test_the_nearest_stands_first_and_says_why() -> None:
    ours = tasting(1, (1, "orchid", 4), (1, "fresh-cream", 3), (1, "smoke", 1))
    near = tasting(2, (1, "orchid", 4), (1, "fresh-cream", 3))
    far = tasting(3, (1, "orchid", 1), (1, "smoke", 5))

    found = kin_of(profiles_of(noted_cups([far, ours, near], ""), real_vocabulary()), "session-1", 5)

    assert [one.lot_uid for one in found] == ["lot-2", "lot-3"]
    assert likeness_words(found[0], NAMES) == "most alike in floral and milky; less roasted"
    assert likeness_words(found[1], NAMES) == "less milky and floral; more roasted"


def test_a_lot_is_no_kin_of_itself_and_a_session_without_aroma_has_none() -> None:
    silent = replace(tasting(3), impressions=())
    profiles = profiles_of(noted_cups([tasting(1, (1, "orchid", 4)), silent], "session-3"), real_vocabulary())

    assert kin_of(profiles, "session-1", 5) == ()
    assert kin_of(profiles, "session-3", 5) == ()
    assert newest_assessed(profiles, "lot-1") == "session-1"
    assert newest_assessed(profiles, "lot-3") == ""
    assert kin_of(profiles_of(NotedCups(), real_vocabulary()), "session-1", 5) == ()


KEYS = st.sampled_from(("orchid", "jasmine", "peach", "smoke", "fresh-cream", "cedar", "unknown"))
CUPS = st.lists(st.tuples(st.integers(1, 4), KEYS, st.integers(0, 5)), max_size=12)


@given(st.lists(CUPS, min_size=2, max_size=5))
def test_distances_equal_those_worked_out_one_by_one(noted: list[list[tuple[int, str, int]]]) -> None:
    vocabulary = real_vocabulary()
    tastings = [tasting(number, *cups) for number, cups in enumerate(noted)]
    strengths = [strengths_by_column(one, vocabulary.family_of) for one in tastings]
    wanted = {}
    for number, theirs in enumerate(strengths[1:], start=1):
        shared = [index for index in strengths[0].keys() & theirs.keys() if places_of(tastings[number])]
        if shared:
            apart = [
                math.dist(*([one[index].get(key, 0.0) for key in NAMES] for one in (strengths[0], theirs)))
                for index in shared
            ]
            wanted[f"lot-{number}"] = sum(apart) / len(apart)

    found = kin_of(profiles_of(noted_cups(tastings, "session-0"), vocabulary), "session-0", 9)

    assert {one.lot_uid: one.distance for one in found} == pytest.approx(wanted)
    assert [one.distance for one in found] == sorted(one.distance for one in found)
