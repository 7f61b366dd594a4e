"""Tastings to review, said in as few words as a test needs. The lot and its sessions are invented."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from functools import cache
from typing import Any

from tastebook.domain.course import Course, Plan, Step
from tastebook.domain.lot import Lot
from tastebook.domain.session import Impression, Infusion, Lab, Reading, Saying, Session, StepMark, Tasting, Verdict
from tastebook.domain.vocabulary import Descriptor, Family, Scale, Vocabulary
from tastebook.presenters.arc.presenter import ArcPresenter
from tastebook.services.settings import Settings

BEGAN_UTC = datetime(2026, 4, 14, 8, 41, tzinfo=UTC)

FAMILIES = (
    "earthy", "mineral", "woody", "roasted", "spicy", "nutty", "sweet", "milky", "fruity", "vegetal", "herbal",
    "floral",
)  # fmt: skip
WORDS = {
    "orchid": "floral", "jasmine": "floral", "white peach": "fruity", "nectar": "sweet", "toasted rice": "roasted",
    "almond skin": "nutty", "fresh cream": "milky", "cedar bark": "woody", "wet slate": "mineral",
    "pea shoot": "vegetal", "forest floor": "earthy", "cinnamon": "spicy", "mint": "herbal",
}  # fmt: skip


@cache
def vocabulary() -> Vocabulary:
    """Return a small vocabulary: twelve families, a word or two for each, and some scales."""
    grip = ("none", "a trace", "slight", "clear", "strong", "puckering")
    return Vocabulary(
        families=tuple(Family(key, key.capitalize(), "") for key in FAMILIES),
        descriptors=tuple(Descriptor(word, word, family) for word, family in WORDS.items()),
        scales=(
            Scale("body", "Body", "Body", "thin", "thick", ("watery", "thin", "light", "medium", "thick", "syrupy")),
            Scale("grip", "Grip", "Grip", "none", "puckering", grip),
            Scale("huigan", "Returning sweetness", "Huígān", "none", "lasting", (*grip[:5], "lasting")),
            Scale(
                "finish", "Finish", "Finish", "short", "endless", ("gone", "short", "brief", "fair", "long", "endless")
            ),
            Scale("finish_length_s", "Finish length", "Length", "", "", unit="s"),
        ),
        clarities=(),
    )


@cache
def course() -> Course:
    """Return a course with the steps that a review draws on."""
    steps = (
        Step("dry_leaf", "Dry leaf", "leaf", "aroma", "dry leaf", "?"),
        Step("warmed_leaf", "Warmed leaf", "leaf", "aroma", "warmed leaf", "?"),
        Step("lid", "Lid", "rinse", "aroma", "lid", "?"),
        Step("first_sip", "First sip", "infusion", "texture", "palate", "?"),
        Step("flavour", "Flavour", "infusion", "aroma", "palate", "?"),
        Step("empty_cup", "Empty cup", "infusion", "aroma", "empty cup", "?"),
        Step("finish", "Finish", "close", "finish", "finish", "?"),
        Step("body", "Body", "close", "body", "body", "?"),
    )
    return Course("gaiwan", "Gaiwan session", "", "", steps, (Plan(infusions_s=(20,)),))


@dataclass
class Table:
    """Gathers a tasting in the order in which it is told."""

    infusions: list[Infusion] = field(default_factory=list)
    impressions: list[Impression] = field(default_factory=list)
    readings: list[Reading] = field(default_factory=list)
    sayings: list[Saying] = field(default_factory=list)
    marks: list[StepMark] = field(default_factory=list)
    told: int = 0

    def _next(self) -> tuple[str, datetime]:
        self.told += 1
        return f"part-{self.told:05d}", BEGAN_UTC + timedelta(seconds=5 * self.told)

    def pour(
        self, index: int, actual_s: float = 20, planned_s: int = 20, water_c: float | None = 90,
        liquor: Lab | None = None, clarity: str = "",
    ) -> None:  # fmt: skip
        uid, _ = self._next()
        actual_ms = round(actual_s * 1000)
        cup = Infusion(uid, "session", index, planned_s, water_c, actual_ms=actual_ms, liquor=liquor, clarity=clarity)
        self.infusions.append(cup)

    def note(
        self, infusion: int | None, words: Mapping[str, int], step: str = "flavour", saying: str | None = None,
        **marks: bool,
    ) -> None:  # fmt: skip
        for word, intensity in words.items():
            uid, at = self._next()
            impression = Impression(
                uid, "session", step, infusion, "palate", word, word, intensity, at, saying_uid=saying, **marks
            )
            self.impressions.append(impression)

    def say(
        self, infusion: int | None, text: str, words: Mapping[str, int] | None = None, step: str = "flavour",
        **marks: bool,
    ) -> None:  # fmt: skip
        uid, at = self._next()
        self.sayings.append(Saying(uid, "session", step, infusion, text, at, **marks))
        self.note(infusion, words or {}, step, uid)

    def read(self, infusion: int | None, step: str = "first_sip", marks: Any = None, **values: float) -> None:
        for scale, value in values.items():
            uid, at = self._next()
            self.readings.append(Reading(uid, "session", step, infusion, scale, value, at, **(marks or {})))

    def attend(self, infusion: int, step: str = "flavour") -> None:
        uid, at = self._next()
        self.marks.append(StepMark(uid, "session", step, infusion, "done", at))

    def tasting(self, verdict: Verdict | None = None, *, minutes: int | None = 72, **session: Any) -> Tasting:
        return Tasting(
            lot(),
            replace(_session(minutes), **session),
            tuple(self.infusions),
            tuple(self.sayings),
            tuple(self.impressions),
            tuple(self.readings),
            tuple(self.marks),
            verdict=verdict,
        )


def lot() -> Lot:
    return Lot(
        uid="lot", name="Heron Ridge, spring roast", created_at_utc=BEGAN_UTC, cultivar="Jin Xuan",
        cultivar_local="Jīn Xuān", supplier="Lantern & Quay", batch="24-017",
    )  # fmt: skip


def _session(minutes: int | None) -> Session:
    closed = None if minutes is None else BEGAN_UTC + timedelta(minutes=minutes)
    return Session("session", "lot", course(), BEGAN_UTC, utc_offset_min=120, closed_at_utc=closed)


LIQUORS: tuple[Lab, ...] = (
    (84, -1.6, 40.2), (84, 5.3, 42.4), (75, 9.9, 58.8), (75, 5.4, 58.4), (84, 9.1, 42.8), (84, 1.9, 41.5),
    (84, -1.6, 40.2), (91, -1.7, 21.4),
)  # fmt: skip
STEEPS = ((20, 20), (28, 26), (36, 34), (49, 42), (55, 55), (72, 75), (100, 100), (150, 150))
WATERS_C = (92, 90, 90, 90, 92, 93, 95, 98)
AROMAS: tuple[Mapping[str, int], ...] = (
    {"toasted rice": 3, "almond skin": 3, "nectar": 2, "fresh cream": 3, "orchid": 1},
    {"toasted rice": 3, "almond skin": 2, "nectar": 3, "fresh cream": 4, "white peach": 1, "orchid": 3},
    {"cedar bark": 3, "toasted rice": 2, "nectar": 2, "fresh cream": 4, "white peach": 3, "orchid": 4},
    {"toasted rice": 1, "nectar": 3, "fresh cream": 3, "white peach": 4, "orchid": 5, "cedar bark": 2},
    {"toasted rice": 1, "nectar": 3, "fresh cream": 2, "white peach": 4, "orchid": 4, "cedar bark": 2, "wet slate": 1},
    {"nectar": 4, "fresh cream": 1, "white peach": 2, "orchid": 3, "cedar bark": 2, "wet slate": 2, "pea shoot": 1},
    {"nectar": 3, "orchid": 2, "cedar bark": 2, "wet slate": 3, "white peach": 1, "pea shoot": 2},
    {"nectar": 2, "wet slate": 3, "orchid": 1, "cedar bark": 1, "pea shoot": 2},
)  # fmt: skip
SAYINGS = {
    1: "Warm rice and almond skin, the roast still in front.",
    3: "Cream first, then orchid; cedar bark comes in underneath.",
    4: "White peach, and the sweetness rises late.",
    7: "Thin, but clean slate and a long cool end.",
}
SCALES: Mapping[str, Sequence[float]] = {
    "body": (3, 3, 4, 4, 4, 3, 2, 2),
    "grip": (2, 2, 2, 3, 3, 2, 2, 1),
    "huigan": (1, 2, 4, 5, 5, 4, 3, 3),
    "finish": (2, 2, 3, 4, 5, 4, 4, 3),
}
VERDICT = Verdict(
    "verdict", "session", decision="buy", quantity_kg=4, headline="Buy four kilos, for the autumn list.",
    note="The roast has settled and lets the cream through. Six infusions carry; the last two are for the patient.",
    good_infusions=6, next_time="Pour infusion 4 at 38 s; at 49 s it dried the tongue.",
)  # fmt: skip


def heron_ridge(verdict: Verdict | None = VERDICT, **session: Any) -> Tasting:
    """Return the session of the design: eight infusions, nine families, four scales."""
    table = Table()
    for index, (steep, water_c, liquor) in enumerate(zip(STEEPS, WATERS_C, LIQUORS, strict=True), start=1):
        table.pour(index, steep[0], steep[1], water_c, liquor, "clear")
        table.read(index, **{scale: values[index - 1] for scale, values in SCALES.items()})
        if index in SAYINGS:
            table.say(index, SAYINGS[index])
        table.note(index, AROMAS[index - 1])
    return table.tasting(verdict, **session)


def long_session(infusions: int = 20, families: int = 12) -> Tasting:
    """Return a session in which every family speaks at nearly every infusion."""
    words = [next(word for word, family in WORDS.items() if family == key) for key in FAMILIES[:families]]
    table = Table()
    for index in range(1, infusions + 1):
        table.pour(index, 20 + 9 * index, 20 + 8 * index, 95, LIQUORS[index % len(LIQUORS)], "clear")
        table.read(index, body=(index * 3) % 6, grip=(index * 2) % 6, huigan=index % 6, finish=(index + 3) % 6)
        table.say(index, f"Something is said of cup {index}, and there is more to it than to the last.")
        table.note(index, {word: (index * (place + 2) + place) % 6 for place, word in enumerate(words)})
    return table.tasting(VERDICT)


def review(tasting: Tasting, words: Vocabulary | None = None, settings: Settings | None = None) -> ArcPresenter:
    """Return the presenter of a tasting."""
    chosen = settings or Settings()
    return ArcPresenter(lambda: tasting, lambda: words or vocabulary(), lambda: chosen)


def poured(count: int) -> Table:
    """Return a table with so many infusions poured and nothing said."""
    table = Table()
    for index in range(1, count + 1):
        table.pour(index)
    return table


def named(rows: Iterable[Any]) -> list[str]:
    return [row.name for row in rows]
