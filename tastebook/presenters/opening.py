"""The new-session card: what the Bench needs to know now, filled in from last time."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from typing import Any, Final, Literal, TypeAlias

from tastebook.domain.course import Course, Vessel
from tastebook.domain.errors import TastebookError
from tastebook.domain.lot import FORMS, Lot
from tastebook.domain.quantities import ALTITUDE_M, LEAF_G, TDS_MG_L, VOLUME_ML
from tastebook.domain.session import PURPOSES, SWALLOWED, Conditions
from tastebook.domain.water import PRESSURE_HPA, pressure_doubt
from tastebook.presenters.shelf_words import decision_words, lot_title, session_day
from tastebook.presenters.typed import Typing, number_text, sentence
from tastebook.services.ports import LotLine
from tastebook.services.shelf import Opening, Shelf, leaf_g

LeafBy: TypeAlias = Literal["weighed", "by eye"]

LEAF: Final = Typing(LEAF_G)
VOLUME: Final = Typing(VOLUME_ML, {"l": 1000.0})
DISSOLVED: Final = Typing(TDS_MG_L, {"ppm": 1.0})
ALTITUDE: Final = Typing(ALTITUDE_M, {"ft": 0.3048, "feet": 0.3048}, is_whole=True)
PRESSURE: Final = Typing(PRESSURE_HPA, {"mbar": 1.0}, is_whole=True)

EIGHTHS: Final = ("⅛", "¼", "⅜", "½", "⅝", "¾", "⅞", "full")
EIGHTHS_SPOKEN: Final = (
    "one eighth", "a quarter", "three eighths", "half", "five eighths", "three quarters", "seven eighths", "full",
)  # fmt: skip

VESSELS: Final = ("gaiwan", "tasting cup", "lidded cup", "pot", "bowl", "jar")
LIGHTS: Final = ("daylight", "daylight, shade", "dusk", "lamp", "mixed")
WINDS: Final = ("indoors", "still", "breeze", "windy")
PALATES: Final = ("fresh", "after a meal", "after other teas", "tired", "with a cold")

NUMBERS: Final[dict[str, Typing]] = {
    "volume_ml": VOLUME,
    "leaf_g": LEAF,
    "water_tds_mg_l": DISSOLVED,
    "altitude_m": ALTITUDE,
    "pressure_hpa": PRESSURE,
}
PLACE_NUMBERS: Final = ("altitude_m", "pressure_hpa")
CONDITIONS: Final = ("place", "smells_nearby", "light", "wind", "palate")
WORDS: Final = ("vessel", "leaf_form", "water_source", "purpose", "taster", "kettle")
WARMTHS: Final = ("cold", "warmed")
CHOICES: Final[dict[str, tuple[str, ...]]] = {"vessel_at_start": WARMTHS, "swallowed": SWALLOWED}


@dataclass(frozen=True)
class CardField:
    """One field of the card."""

    key: str
    label: str
    text: str
    unit: str = ""
    example: str = ""
    choices: tuple[str, ...] = ()
    error: str = ""

    @property
    def told(self) -> str:
        """Return the label with its unit, for assistive technology."""
        return f"{self.label}, in {self.unit}" if self.unit else self.label


@dataclass(frozen=True)
class CourseChoice:
    """A course that can be followed."""

    key: str
    name: str


@dataclass(frozen=True)
class SessionCardView:
    """The whole card.

    `fields` are by key. `fill` is the share of the vessel in eighths, 1 to 8, None while not said.
    """

    lot: str
    lineage: str
    courses: tuple[CourseChoice, ...]
    course_key: str
    course_about: str
    dose: str
    fields: dict[str, CardField]
    leaf_by: LeafBy
    fill: int | None
    known_form: str
    estimate: str
    notice: str
    first_error: str


class OpeningPresenter:
    """What stands on the new-session card, and how a session is begun.

    Parameters
    ----------
    shelf : Shelf
        Where sessions begin.
    line : LotLine
        The lot to taste, with its sessions so far.
    taster : str
        Who tastes, where no session says so yet.
    lot_before : Lot or None
        The lot that it follows.
    """

    def __init__(self, shelf: Shelf, line: LotLine, taster: str = "", lot_before: Lot | None = None) -> None:
        self._shelf = shelf
        self._line = line
        self._lot_before = lot_before
        opening = shelf.opening_for(line.lot, taster, line.sessions)
        self._course_key = opening.course_key
        self._texts = _texts_of(opening)
        self._leaf_by: LeafBy = "by eye" if opening.leaf_fill is not None else "weighed"
        self._fill = None if opening.leaf_fill is None else max(1, round(opening.leaf_fill * 8))
        self._errors: dict[str, str] = {}
        self._notice = ""
        self._set_aside: dict[str, dict[str, str]] = {}

    # -- gestures

    def type(self, key: str, text: str) -> None:
        """Take what stands in a field."""
        self._texts[key] = text
        self._errors.pop(key, None)
        if key == "vessel":
            self._take_vessel(text)

    def leave(self, key: str) -> None:
        """Read a field as it is left, and say what is wrong with it."""
        if key in NUMBERS:
            self._read_number(key)
        if key in CHOICES:
            self._read_choice(key)
        if key in ("pressure_hpa", "altitude_m"):
            self._doubt_pressure()

    def choose_course(self, key: str) -> None:
        """Follow another course. One that asks for a vessel of its own brings it; going back brings back what was."""
        self._set_aside[self._course_key] = {name: self._texts[name] for name in ("vessel", "volume_ml", "leaf_g")}
        self._course_key = key
        vessels = self._course.vessels
        if key in self._set_aside:
            self._texts.update(self._set_aside[key])
        elif vessels and self._texts["vessel"] not in (vessel.name for vessel in vessels):
            self._use(vessels[0])

    def weigh(self, leaf_by: LeafBy) -> None:
        """Say whether the leaf is weighed or judged by eye."""
        self._leaf_by = leaf_by
        self._errors.pop("leaf_g", None)
        self._errors.pop("fill", None)

    def fill(self, eighths: int) -> None:
        """Say how much of the vessel the dry leaf fills, in eighths."""
        self._fill = max(1, min(8, eighths))
        self._errors.pop("fill", None)

    def begin(self) -> str:
        """Begin the session and return its uid, empty if something is wrong: then it says what."""
        self._notice = ""
        self._errors.clear()
        opening = self._opening()
        if self._errors or opening is None:
            return ""
        try:
            lot = self._lot_with_form(opening)
            return self._shelf.begin(lot, opening).uid
        except TastebookError as exc:
            self._notice = sentence(str(exc))
            return ""

    # -- what is seen

    def view(self) -> SessionCardView:
        """Return the whole card."""
        return SessionCardView(
            lot=lot_title(self._line.lot),
            lineage=self._lineage(),
            courses=tuple(CourseChoice(course.key, course.name) for course in self._shelf.courses()),
            course_key=self._course_key,
            course_about=self._course.about,
            dose=self._dose(),
            fields={field.key: field for field in self._fields()},
            leaf_by=self._leaf_by,
            fill=self._fill,
            known_form=self._line.lot.form,
            estimate=self._estimate(),
            notice=self._notice,
            first_error=next(iter(self._errors), ""),
        )

    @property
    def _course(self) -> Course:
        courses = self._shelf.courses()
        return next((course for course in courses if course.key == self._course_key), courses[0])

    def _fields(self) -> tuple[CardField, ...]:
        course_vessels = tuple(vessel.name for vessel in self._course.vessels)
        return (
            self._field("purpose", "Purpose", choices=PURPOSES),
            self._field("taster", "Taster"),
            self._field("vessel", "Vessel", choices=tuple(dict.fromkeys((*course_vessels, *VESSELS)))),
            self._field("volume_ml", "Volume", unit="ml"),
            self._field("leaf_g", "Leaf", unit="g"),
            self._field("leaf_form", "Leaf form", choices=FORMS),
            self._field("water_source", "Water", example="tap, spring, filter, …"),
            self._field("water_tds_mg_l", "Dissolved solids", unit="mg/l", example="if known"),
            self._field("altitude_m", "Altitude", unit="m", example="if known"),
            self._field("place", "Where", example="counter, kitchen table, factory, …"),
            self._field("smells_nearby", "Smells nearby", example="cooking, cut grass, …"),
            self._field("light", "Light", choices=LIGHTS),
            self._field("wind", "Air", choices=WINDS),
            self._field("palate", "Palate", choices=PALATES),
            self._field("kettle", "Kettle", example="any name for it"),
            self._field("pressure_hpa", "Barometer", unit="hPa", example="at the place, if known"),
            self._field("vessel_at_start", "Vessel at the start", choices=WARMTHS),
            self._field("swallowed", "Sips are", choices=SWALLOWED),
        )

    def _field(self, key: str, label: str, **more: Any) -> CardField:
        return CardField(key, label, self._texts[key], error=self._errors.get(key, ""), **more)

    def _lineage(self) -> str:
        follows = f"follows {lot_title(self._lot_before)}" if self._lot_before else ""
        return "; ".join(part for part in (follows, self._last_tasted()) if part)

    def _last_tasted(self) -> str:
        if not self._line.sessions:
            return "never tasted"
        last = self._line.sessions[-1]
        purpose = f" {last.purpose}" if last.purpose else ""
        decision = f": {decision_words(last.decision).lower()}" if last.decision else ""
        return f"last tasted {session_day(last)}{purpose}{decision}"

    def _dose(self) -> str:
        course = self._course
        vessel = self._course_vessel()
        if vessel is not None:
            tolerance = f" ± {vessel.leaf_tolerance_g:g} g" if vessel.leaf_tolerance_g else ""
            return f"{course.name} asks for {vessel.leaf_g:g} g{tolerance} in {vessel.volume_ml:g} ml."
        if course.leaf_g_per_100ml is None:
            return ""
        tolerance = f" ± {course.leaf_tolerance_pct:g} %" if course.leaf_tolerance_pct else ""
        here = self._dose_here(course.leaf_g_per_100ml)
        return f"{course.name}: {course.leaf_g_per_100ml:g} g per 100 ml{tolerance}{here}."

    def _dose_here(self, leaf_g_per_100ml: float) -> str:
        volume_ml = _quietly(lambda: VOLUME.read(self._texts["volume_ml"]))
        return f", so {leaf_g_per_100ml * volume_ml / 100:.1f} g here" if volume_ml else ""

    def _course_vessel(self) -> Vessel | None:
        return next((one for one in self._course.vessels if one.name == self._texts["vessel"].strip()), None)

    def _estimate(self) -> str:
        if self._leaf_by != "by eye" or self._fill is None:
            return ""
        volume_ml = _quietly(lambda: VOLUME.read(self._texts["volume_ml"]))
        if volume_ml is None:
            return "Say the volume, and the leaf can be estimated."
        opening = Opening(volume_ml=volume_ml, leaf_fill=self._fill / 8, leaf_form=self._texts["leaf_form"].strip())
        grams = leaf_g(opening, self._line.lot)
        return f"about {number_text(grams)} g, within a third either way"

    # -- reading

    def _opening(self) -> Opening | None:
        numbers: dict[str, Any] = {
            key: self._read_number(key) for key in NUMBERS if key != "leaf_g" or self._leaf_by == "weighed"
        }
        if self._leaf_by == "by eye" and self._fill is not None and numbers["volume_ml"] is None:
            self._errors.setdefault("volume_ml", "The volume is needed to estimate the leaf by eye.")
        words: dict[str, Any] = {key: self._texts[key].strip() for key in WORDS}
        warmth, swallowed = self._read_choice("vessel_at_start"), self._read_choice("swallowed")
        self._doubt_pressure()
        conditions = Conditions(**{key: self._texts[key].strip() for key in CONDITIONS})
        fill = self._fill / 8 if self._leaf_by == "by eye" and self._fill is not None else None
        if self._errors:
            return None
        known: dict[str, Any] = {"vessel_warmed": warmth == "warmed", "swallowed": swallowed}
        return Opening(course_key=self._course_key, leaf_fill=fill, conditions=conditions, **words, **numbers, **known)

    def _read_number(self, key: str) -> float | None:
        try:
            return NUMBERS[key].read(self._texts[key])
        except TastebookError as exc:
            self._errors[key] = sentence(str(exc))
            return None

    def _read_choice(self, key: str) -> str:
        """Return what was chosen; only what is offered can be."""
        text, choices = self._texts[key].strip().casefold(), CHOICES[key]
        if text not in choices:
            self._errors[key] = f"Say {', '.join(choices[:-1])} or {choices[-1]}."
        return text

    def _doubt_pressure(self) -> None:
        """Ask about a barometer that cannot be that of the place."""
        altitude_m, pressure_hpa = (_quietly(partial(NUMBERS[key].read, self._texts[key])) for key in PLACE_NUMBERS)
        why = pressure_doubt(altitude_m, pressure_hpa)
        if why:
            self._errors["pressure_hpa"] = why
        elif "pressure_hpa" in self._errors and pressure_hpa is not None:
            del self._errors["pressure_hpa"]

    def _lot_with_form(self, opening: Opening) -> Lot:
        """Return the lot; the form of its leaf, told here for the first time, is kept with it."""
        lot = self._line.lot
        if lot.form or not opening.leaf_form or opening.leaf_fill is None:
            return lot
        return self._shelf.change(lot.uid, "leaf form", form=opening.leaf_form)

    def _take_vessel(self, name: str) -> None:
        vessel = self._course_vessel()
        if vessel is not None:
            self._use(replace(vessel, name=name))

    def _use(self, vessel: Vessel) -> None:
        self._texts["vessel"] = vessel.name
        self._texts["volume_ml"] = number_text(vessel.volume_ml)
        self._texts["leaf_g"] = number_text(vessel.leaf_g)
        for key in ("vessel", "volume_ml", "leaf_g"):
            self._errors.pop(key, None)


def _texts_of(opening: Opening) -> dict[str, str]:
    words = {key: str(getattr(opening, key)) for key in WORDS}
    numbers = {key: number_text(getattr(opening, key)) for key in NUMBERS}
    known = {"vessel_at_start": WARMTHS[opening.vessel_warmed], "swallowed": opening.swallowed}
    return {**words, **numbers, **known, **{key: str(getattr(opening.conditions, key)) for key in CONDITIONS}}


def _quietly(read: Callable[[], float | None]) -> float | None:
    """Return a number while it is still being typed, None as long as it is none."""
    try:
        return read()
    except TastebookError:
        return None
