"""Looking for something, and for what is like it, through the service."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from tastebook.domain.act import Change
from tastebook.domain.session import Impression, OwnDescriptor, Saying
from tastebook.services.finding import Finding
from tastebook.services.words import Words
from tests.shelf_scene import Scene
from tests.words import real_vocabulary


@pytest.fixture
def scene() -> Scene:
    return Scene()


def finding_in(scene: Scene) -> Finding:
    words = Words(real_vocabulary(), scene.journal)
    scene.keeping.follow(words.take)
    finding = Finding(scene.journal, words, scene.shelf.today)
    scene.keeping.follow(finding.take)
    return finding


def noted(scene: Scene, name: str, *impressions: tuple[int, str, int], said: str = "") -> str:
    """Keep a tasting with impressions as (infusion, descriptor, strength), and return its lot."""
    lot = scene.lot(name)
    session = scene.session(lot, cups=3)
    at = scene.clock.utc_now()
    records = [
        Impression(scene.ids.new(), session.uid, "flavour", index, "palate", key, key, strength, at)
        for index, key, strength in impressions
    ]
    words = [Saying(scene.ids.new(), session.uid, "flavour", 1, said, at)] if said else []
    scene.keeping.keep(session.uid, "noted", [Change(None, one) for one in (*words, *records)])
    return lot.uid


def names(finding: Finding, typed: str) -> list[str]:
    return [hit.lot.name for hit in finding.find(finding.understand(typed), 50).hits]


def test_a_word_that_was_merged_into_another_is_found_under_it_at_once(scene: Scene) -> None:
    finding = finding_in(scene)
    noted(scene, "Heron Ridge", (1, "wet-rope", 4))
    own = OwnDescriptor("own-1", "wet rope", "earthy", datetime(2026, 1, 1, tzinfo=UTC))
    scene.keeping.keep("words", "wet rope", [Change(None, own)])
    assert names(finding, "wet rope 3+") == ["Heron Ridge"]
    assert names(finding, "harbour rain 3+") == []

    host = OwnDescriptor("own-2", "harbour rain", "mineral", datetime(2026, 1, 2, tzinfo=UTC))
    merged = OwnDescriptor("own-1", "wet rope", "earthy", own.created_at_utc, merged_into="harbour-rain")
    scene.keeping.keep("words", "merged", [Change(None, host), Change(own, merged)])

    assert names(finding, "harbour rain 3+") == ["Heron Ridge"]
    assert names(finding, "wet rope 3+") == ["Heron Ridge"]
    assert names(finding, "mineral >= 4") == ["Heron Ridge"]
    assert names(finding, "earthy >= 1") == []


def test_any_synonym_chinese_or_pinyin_finds_the_impression(scene: Scene) -> None:
    finding = finding_in(scene)
    noted(scene, "Heron Ridge", (1, "caramel", 3))

    for typed in ("caramel ", "焦糖", "jiāotáng ", "焦"):
        assert names(finding, typed) == ["Heron Ridge"], typed


def test_kin_follow_what_is_kept_and_undone(scene: Scene) -> None:
    finding = finding_in(scene)
    first = noted(scene, "Heron Ridge", (1, "orchid", 4))
    assert finding.kin_of_lot(first) == ()

    second = noted(scene, "Lantern Terrace", (1, "orchid", 3))
    (kin,) = finding.kin_of_lot(first)
    assert (kin.lot_uid, kin.distance) == (second, 1.0)

    noted_session = scene.journal.sessions()[-1].uid
    assert [one.lot_uid for one in finding.kin_of_session(noted_session)] == [first]
    scene.keeping.undo(noted_session)
    assert finding.kin_of_lot(first) == ()


def test_a_lot_without_assessed_aroma_has_no_kin(scene: Scene) -> None:
    finding = finding_in(scene)
    noted(scene, "Heron Ridge", (1, "orchid", 4))

    assert finding.kin_of_lot(scene.lot("Quiet Ferry").uid) == ()
