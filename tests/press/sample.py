"""An invented tasting with everything in it: eight infusions, late, clouded and doubtful words, missed steps."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from functools import cache
from importlib.resources import files

from tastebook.domain.caution import Caution, cautions_from_table
from tastebook.domain.course import Course, course_from_table
from tastebook.domain.lot import Lot, ProcessingStep, Roast
from tastebook.domain.session import (
    Conditions,
    Impression,
    Infusion,
    Lab,
    Reading,
    Saying,
    Session,
    StepMark,
    Tasting,
    Verdict,
)
from tastebook.domain.steep import Instant
from tastebook.domain.vocabulary import Vocabulary
from tastebook.platform.wordlists import load_vocabulary
from tastebook.reports.page import SessionPage, session_page

BEGAN_UTC = datetime(2026, 4, 14, 8, 41, 12, tzinfo=UTC)
OFFSET_MIN = 60


@cache
def vocabulary() -> Vocabulary:
    return load_vocabulary()


@cache
def course(key: str = "gaiwan") -> Course:
    text = files("tastebook.resources").joinpath("courses", f"{key}.toml").read_text(encoding="utf-8")
    return course_from_table(tomllib.loads(text))


def earlier_lot() -> Lot:
    return Lot(
        "lot-2025",
        "Heron Ridge, spring roast",
        BEGAN_UTC - timedelta(days=365),
        season="spring",
        harvest_year=2025,
        batch="24-017",
    )


def lot() -> Lot:
    return Lot(
        uid="lot-2026",
        name="Heron Ridge, spring roast",
        created_at_utc=BEGAN_UTC - timedelta(days=3),
        kind="oolong",
        cultivar="Jin Xuan",
        cultivar_local="Jīn Xuān 金萱",
        country="Taiwan",
        region="Nantou",
        garden="Heron Ridge",
        altitude_m=1100,
        harvest_year=2026,
        season="spring",
        harvested_on=date(2026, 3, 28),
        plucking="bud and two to three leaves, by hand",
        processing=(
            ProcessingStep("sun-withered", 0.75),
            ProcessingStep("withered indoors", 9),
            ProcessingStep("tossed"),
            ProcessingStep("fixed"),
            ProcessingStep("ball-rolled", 10.5),
            ProcessingStep("dried"),
        ),
        oxidation_pct=25,
        roast=Roast("medium", 6, date(2026, 4, 2), "longan charcoal"),
        form="ball",
        supplier="Lantern & Quay",
        batch="26-009",
        price_per_kg=Decimal("118"),
        currency="EUR",
        quantity_g=12000,
        follows="lot-2025",
    )


def session() -> Session:
    return Session(
        uid="01968f3c-2a7e-7c55-9d01-5b3e7a40c9d2",
        lot_uid="lot-2026",
        course=course(),
        started_at_utc=BEGAN_UTC,
        utc_offset_min=OFFSET_MIN,
        purpose="on arrival",
        taster="Ines Slate",
        vessel="gaiwan",
        volume_ml=110,
        leaf_g=6.5,
        water_source="spring water, Low Fell",
        water_tds_mg_l=62,
        altitude_m=40,
        conditions=Conditions("shop counter", "north window", "still", "wood smoke from the quay", "rested"),
        closed_at_utc=BEGAN_UTC + timedelta(minutes=72),
    )


@dataclass
class Table:
    """Gathers the parts of a tasting in the order in which they were noted."""

    parts: dict[str, list[object]] = field(default_factory=dict)
    noted: int = 0

    def _keep(self, kind: str, part: object) -> None:
        self.parts.setdefault(kind, []).append(part)

    def _next(self) -> tuple[str, datetime]:
        self.noted += 1
        return f"part-{self.noted:04d}", BEGAN_UTC + timedelta(seconds=20 * self.noted)

    def say(self, step: str, infusion: int | None, text: str, *, late: bool = False) -> None:
        uid, at = self._next()
        self._keep("sayings", Saying(uid, "s", step, infusion, text, at, late))

    def words(self, step: str, infusion: int | None, said: str, **marks: bool) -> None:
        """Note `orchid 4, no rose`-like words: the key is found in the vocabulary, the word kept as said."""
        for one in said.split(", "):
            strength = 0 if one.startswith("no ") else int(one.rsplit(" ", 1)[1])
            word = one.removeprefix("no ") if strength == 0 else one.rsplit(" ", 1)[0]
            found = vocabulary().find(word)
            uid, at = self._next()
            key = found.key if found else word
            channel = course().step(step).channel
            self._keep("impressions", Impression(uid, "s", step, infusion, channel, key, word, strength, at, **marks))

    def scales(self, step: str, infusion: int | None, marks: dict[str, bool] | None = None, **values: float) -> None:
        for scale, value in values.items():
            uid, at = self._next()
            self._keep("readings", Reading(uid, "s", step, infusion, scale, value, at, **(marks or {})))

    def mark(self, step: str, infusion: int | None, mark: str) -> None:
        uid, at = self._next()
        self._keep("marks", StepMark(uid, "s", step, infusion, mark, at))  # type: ignore[arg-type]

    def pour(
        self,
        index: int,
        planned_s: int,
        actual_s: float,
        water_c: float,
        liquor: Lab | None,
        clarity: str,
        **more: object,
    ) -> None:
        at = BEGAN_UTC + timedelta(minutes=6 + 7 * index)
        begun = Instant(at, 100.0 + index, "boot")
        poured = Instant(at + timedelta(seconds=actual_s), 100.0 + index + actual_s, "boot")
        source = "chart" if liquor else None
        cup = Infusion(
            f"cup-{index:02d}", "s", index, planned_s, water_c, False, begun, poured, round(actual_s * 1000), liquor,
            source, clarity=clarity,
        )  # fmt: skip
        self._keep("infusions", replace(cup, **more))  # type: ignore[arg-type]

    def tasting(self, of_lot: Lot, of_session: Session, verdict: Verdict | None = None) -> Tasting:
        parts = {kind: tuple(some) for kind, some in self.parts.items()}
        return Tasting(of_lot, of_session, **parts, verdict=verdict)  # type: ignore[arg-type]


LIQUORS: tuple[Lab, ...] = (
    (91, -7.4, 18.8),
    (84, -6.3, 38.6),
    (84, -1.9, 40.4),
    (75, 9.7, 55.2),
    (75, 6.3, 54.6),
    (84, 0.5, 41.2),
    (84, -4.1, 39.6),
    (84, -6.3, 38.6),
    (91, -2.3, 21.4),
)
STEEPS = (
    (5, 5, 95),
    (20, 20, 92),
    (26, 28, 90),
    (34, 36, 90),
    (42, 49, 90),
    (55, 55, 92),
    (75, 72, 93),
    (100, 100, 95),
    (150, 150, 98),
)
FLAVOURS = (
    (
        "Warm rice and almond skin, the roast still in front.",
        "toasted rice 3, almond skin 3, nectar 2, fresh cream 3, orchid 1",
    ),
    ("", "toasted rice 3, almond skin 2, nectar 3, fresh cream 4, white peach 1, orchid 3"),
    (
        "cream first, then orchid 4, white peach 3, cedar 3 underneath, no rose",
        "fresh cream 4, orchid 4, white peach 3, cedar 3, toasted rice 2, nectar 2, no rose",
    ),
    (
        "White peach, and the sweetness rises late.",
        "white peach 4, nectar 3, orchid 5, fresh cream 3, cedar 2, toasted rice 1",
    ),
    ("", "orchid 4, white peach 4, nectar 3, fresh cream 2, cedar 2, toasted rice 1, wet slate 1"),
    (
        "lán huā, 兰花, thinner now",
        "nectar 4, orchid 3, white peach 2, cedar 2, wet slate 2, fresh cream 1, pea shoot 1",
    ),
    (
        "Thin, but clean slate and a long cool end.",
        "wet slate 3, nectar 3, orchid 2, cedar 2, pea shoot 2, white peach 1",
    ),
    ("", "wet slate 3, nectar 2, pea shoot 2, orchid 1, cedar 1"),
)
TEXTURES = (
    (3, 3, 2, 1, 1, 2),
    (3, 4, 2, 1, 2, 2),
    (4, 4, 2, 1, 4, 3),
    (4, 4, 3, 2, 5, 4),
    (4, 5, 3, 1, 5, 5),
    (3, 4, 2, 1, 4, 4),
    (2, 4, 2, 0, 3, 4),
    (2, 3, 1, 0, 3, 3),
)


def tasting() -> Tasting:
    table = Table()
    table.words("dry_leaf", None, "toasted rice 3, almond skin 2", late=False)
    table.say("warmed_leaf", None, "bread crust, almond skin, a little honey")
    table.words("warmed_leaf", None, "bread crust 4, almond skin 3, honey 2")
    for index, (planned, actual, water) in enumerate(STEEPS):
        clarity = ("clear", "clear", "clear", "brilliant", "brilliant", "brilliant", "clear", "clear", "clear")[index]
        table.pour(index, planned, actual, water, LIQUORS[index], clarity, water_measured=index == 3)
    table.words("lid", 0, "toasted rice 4, warm milk 2")
    table.words("wet_leaf", 0, "almond skin 2, pea shoot 1")
    table.words("wet_leaf", 0, "wood smoke 2", clouded=True)
    for index, ((said, understood), texture) in enumerate(zip(FLAVOURS, TEXTURES, strict=True), start=1):
        body, surface, grip, bitterness, huigan, finish = texture
        if index != 3:
            table.scales(
                "first_sip", index, {"late": index == 5}, body=body, surface=surface, grip=grip, bitterness=bitterness,
                huigan=huigan, finish=finish,
            )  # fmt: skip
        if said:
            table.say("flavour", index, said)
        table.words("flavour", index, understood)
        if index in (1, 2, 4):
            table.words("empty_cup", index, ("caramel 2", "honey 3", "", "caramel 3, vanilla 2")[index - 1])
        elif index == 7:
            table.mark("empty_cup", index, "done")
        elif index == 8:
            table.mark("empty_cup", index, "skipped")
    table.words("flavour", 6, "walnut 1", doubtful=True)
    table.say("finish", None, "cool slate, long")
    table.scales("finish", None, finish_length_s=95, huigan=4)
    table.words("infused_leaf", None, "pea shoot 2, bread crust 1")
    table.scales("body", None, warmth=3, calm=4)
    verdict = Verdict(
        "v", "s", decision="buy", quantity_kg=4, headline="Buy four kilos, for the autumn list.",
        strengths="cream through the roast; a peach that rises late", faults="dries a little past 45 s",
        note="The roast has settled and lets the cream through. Six infusions carry; the last two are for the patient.",
        good_infusions=6, season="autumn",
        brewing_guide="5 g in 100 ml at 90 °C: 20, 25, 35, 40, 55, 75 s. In a pot, 3 g in 300 ml, three minutes.",
        next_time="Pour infusion 4 at 38 s; at 49 s it dried the tongue.",
    )  # fmt: skip
    return table.tasting(lot(), session(), verdict)


@cache
def cautions() -> tuple[Caution, ...]:
    text = files("tastebook.resources").joinpath("cautions.toml").read_text(encoding="utf-8")
    return cautions_from_table(tomllib.loads(text))


def page(of: Tasting | None = None) -> SessionPage:
    now = Instant(BEGAN_UTC + timedelta(hours=2), 5000.0, "boot")
    return session_page(of or tasting(), vocabulary(), now, follows=earlier_lot(), cautions=cautions())


def empty() -> Tasting:
    """A lot of which only the name is known, in a session at which nothing was done."""
    bare = Lot("lot-bare", "Unlabelled sample", BEGAN_UTC)
    return Tasting(bare, Session("session-bare", "lot-bare", course(), BEGAN_UTC))


def with_flavour_skipped_at(*skipped: int) -> Tasting:
    """The sample, with neither flavour nor empty cup attended to at some infusions."""
    whole = tasting()
    heard = tuple(one for one in whole.impressions if one.infusion not in skipped)
    said = tuple(one for one in whole.sayings if one.infusion not in skipped)
    left = tuple(one for one in whole.marks if one.infusion not in skipped)
    return replace(whole, impressions=heard, sayings=said, marks=left)


def long_session(infusions: int = 20) -> Tasting:
    """As many infusions as the leaf would give, with every family somewhere."""
    table = Table()
    table.words("dry_leaf", None, "toasted rice 3, almond skin 2")
    words = ("orchid", "white peach", "cinnamon", "nectar", "almond skin", "pea shoot", "mint", "wet slate")
    words += ("fresh cream", "cedar", "toasted rice", "wet earth")
    for index in range(infusions + 1):
        table.pour(index, 20 + 10 * index, 21 + 10 * index, 95, LIQUORS[index % len(LIQUORS)], "clear")
    for index in range(1, infusions + 1):
        said = ", ".join(f"{words[(index + place) % len(words)]} {1 + (index + place) % 5}" for place in range(6))
        table.words("flavour", index, said)
        table.scales("first_sip", index, body=index % 6, surface=(index + 2) % 6, grip=(index + 4) % 6)
    return table.tasting(lot(), session())


def comparison() -> Tasting:
    """One long infusion after the standard's way, the leaf by eye, still open."""
    table = Table()
    table.pour(1, 360, 360, 100, (50, 30, 52), "brilliant")
    of_session = replace(session(), course=course("comparison_cup"), closed_at_utc=None, leaf_by_eye=True, leaf_g=2.8)
    return table.tasting(lot(), of_session)


def changed(page: SessionPage, number: int) -> SessionPage:
    """Return a page that differs a little, so that nothing remembered serves for it."""
    return replace(page, title=f"{page.title} {number}", occasion=f"{page.occasion}, {number}")
