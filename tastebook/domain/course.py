"""A course: the order in which a tea is assessed, and until when each sense can still be caught."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from typing import Any, Final, Literal, TypeAlias, cast, get_args

from tastebook.domain.errors import CourseError, QuantityError
from tastebook.domain.quantities import LEAF_G, PLAN_S, VOLUME_ML, WATER_C, Quantity

Stage: TypeAlias = Literal["leaf", "rinse", "infusion", "close"]
"""The columns of a session: before water, after the rinse, every infusion, and the end."""

Sheet: TypeAlias = Literal["aroma", "texture", "liquor", "finish", "body", "verdict"]
"""What one step asks for, and so which sheet the Bench lays out."""

Until: TypeAlias = Literal["first water", "next water", "next pour", "never"]
"""The event after which a sense can no longer be caught fresh."""

Channel: TypeAlias = Literal[
    "dry leaf", "warmed leaf", "lid", "wet leaf", "liquor nose", "palate", "retronasal", "empty cup", "finish",
    "infused leaf", "body", "liquor",
]  # fmt: skip


@dataclass(frozen=True)
class Step:
    """One thing to attend to, with why it stands where it stands.

    `late_after_s` is how long after the pour the sense stays fresh, where time alone ends it; before any pour it does.
    `rescue` is what can still be done once it is gone.
    """

    key: str
    name: str
    stage: Stage
    sheet: Sheet
    channel: Channel
    prompt: str
    why: str = ""
    until: Until = "never"
    late_after_s: int | None = None
    rescue: str = ""
    scales: tuple[str, ...] = ()


@dataclass(frozen=True)
class Vessel:
    """A vessel that a course asks for: what it holds when filled as told, and the leaf that belongs to it."""

    name: str
    volume_ml: float
    leaf_g: float
    leaf_tolerance_g: float | None = None


@dataclass(frozen=True)
class Plan:
    """Planned times and water for teas of some kinds; neither kinds nor forms means every tea not named elsewhere.

    Times beyond the last are longer by `then_add_s` each.
    """

    kinds: tuple[str, ...] = ()
    rinse_s: int | None = None
    infusions_s: tuple[int, ...] = ()
    then_add_s: int = 0
    water_c: float = 100.0
    forms: tuple[str, ...] = ()

    def planned_s(self, index: int) -> int:
        """Return the planned time of infusion `index`, 0 being the rinse."""
        if index == 0:
            return self.rinse_s or 5
        beyond = index - len(self.infusions_s)
        if beyond <= 0:
            return self.infusions_s[index - 1]
        return self.infusions_s[-1] + beyond * self.then_add_s


@dataclass(frozen=True)
class Course:
    """An order of assessment and the plan of its infusions, with where both come from.

    `leaf_tolerance_pct` is how far a standard lets the leaf stray from `leaf_g_per_100ml`; `notes` are what else the
    course asks for, such as that the altitude be reported.
    """

    key: str
    name: str
    about: str
    source: str
    steps: tuple[Step, ...]
    plans: tuple[Plan, ...]
    has_rinse: bool = True
    leaf_g_per_100ml: float | None = None
    most_infusions: int | None = None
    leaf_tolerance_pct: float | None = None
    vessels: tuple[Vessel, ...] = ()
    notes: tuple[str, ...] = ()

    def steps_in(self, stage: Stage) -> tuple[Step, ...]:
        """Return the steps of one kind of column, in order."""
        return tuple(step for step in self.steps if step.stage == stage)

    def step(self, key: str) -> Step:
        """Return a step by its key.

        Raises
        ------
        CourseError
            If the course has no such step.
        """
        for step in self.steps:
            if step.key == key:
                return step
        raise CourseError(f"The course “{self.name}” has no step “{key}”.")

    def plan_for(self, kind: str, form: str = "") -> Plan:
        """Return the plan that fits a tea most closely: by kind and form, by kind, by form, else the one for all."""
        fitting = [plan for plan in self.plans if _fits(plan.kinds, kind) and _fits(plan.forms, form)]
        closest_first = sorted(fitting, key=lambda plan: (not plan.kinds, not plan.forms))
        return (closest_first or list(self.plans))[0]


def _fits(named: tuple[str, ...], word: str) -> bool:
    return not named or word in named


_TABLE_KEYS: Final = {
    "course": {
        "key", "name", "about", "source", "has_rinse", "leaf_g_per_100ml", "leaf_tolerance_pct", "most_infusions",
        "vessels", "notes", "steps", "plans",
    },
    "step": {
        "key", "name", "stage", "sheet", "channel", "prompt", "why", "until", "late_after_s", "rescue", "scales",
    },
    "vessel": {"name", "volume_ml", "leaf_g", "leaf_tolerance_g"},
    "plan": {"kinds", "forms", "rinse_s", "infusions_s", "then_add_s", "water_c"},
}  # fmt: skip

_LEAF_G_PER_100ML: Final = Quantity("leaf", "g per 100 ml", 0.05, 50)
_TOLERANCE_PCT: Final = Quantity("tolerance", "%", 0, 100)
_TOLERANCE_G: Final = Quantity("tolerance", "g", 0, 50)

_CAN_END_WITH: Final[Mapping[Stage, tuple[Until, ...]]] = {
    "leaf": ("first water", "never"),
    "rinse": ("next water", "next pour", "never"),
    "infusion": ("next water", "next pour", "never"),
    "close": ("never",),
}
"""What can end each column's senses: nothing is poured after the close, and only the leaf awaits the first water."""


def course_from_table(table: Mapping[str, Any]) -> Course:
    """Return the course that a parsed course file describes.

    Raises
    ------
    CourseError
        If something is missing, unknown or impossible; the message begins with where in the file, such as
        `steps[3].stage`.
    """
    _known(table, "course", "")
    steps = tuple(_step(row, f"steps[{number}]") for number, row in enumerate(_rows(table, "steps"), start=1))
    plans = tuple(_plan(row, f"plans[{number}]") for number, row in enumerate(_rows(table, "plans"), start=1))
    vessels = _rows(table, "vessels") if table.get("vessels", []) != [] else []
    has_rinse = _yes_no(table, "has_rinse", default=True)
    _each_key_once(steps)
    _no_rinse_step_without_rinse(steps, has_rinse)
    return Course(
        key=_text(table, "key", "", required=True),
        name=_text(table, "name", "", required=True),
        about=_text(table, "about", ""),
        source=_text(table, "source", ""),
        steps=steps,
        plans=plans,
        has_rinse=has_rinse,
        leaf_g_per_100ml=_optional(table, "leaf_g_per_100ml", "", _LEAF_G_PER_100ML),
        most_infusions=_most_infusions(table),
        leaf_tolerance_pct=_optional(table, "leaf_tolerance_pct", "", _TOLERANCE_PCT),
        vessels=tuple(_vessel(row, f"vessels[{number}]") for number, row in enumerate(vessels, start=1)),
        notes=tuple(_texts(table, "notes", "")),
    )


def table_from_course(course: Course) -> dict[str, Any]:
    """Return a course as `course_from_table` reads it: words, numbers, lists and tables only, nothing unset."""
    table = _set_entries(course)
    table["steps"] = [_set_entries(step) for step in course.steps]
    table["plans"] = [_set_entries(plan) for plan in course.plans]
    table["vessels"] = [_set_entries(vessel) for vessel in course.vessels]
    return table


def _set_entries(value: Course | Step | Plan | Vessel) -> dict[str, Any]:
    entries = ((field.name, getattr(value, field.name)) for field in fields(value))
    return {name: list(one) if isinstance(one, tuple) else one for name, one in entries if one is not None}


def _each_key_once(steps: Sequence[Step]) -> None:
    keys = [step.key for step in steps]
    for number, key in enumerate(keys, start=1):
        if key in keys[: number - 1]:
            raise CourseError(f"steps[{number}].key: “{key}” is already the key of an earlier step.")


def _no_rinse_step_without_rinse(steps: Sequence[Step], has_rinse: bool) -> None:
    for number, step in enumerate(steps, start=1):
        if step.stage == "rinse" and not has_rinse:
            raise CourseError(f"steps[{number}].stage: this course has no rinse (has_rinse = false).")


def _step(row: Mapping[str, Any], where: str) -> Step:
    _known(row, "step", where)
    stage = cast(Stage, _choice(row, "stage", where, get_args(Stage)))
    until = cast(Until, _choice(row, "until", where, get_args(Until), default="never"))
    if until not in _CAN_END_WITH[stage]:
        allowed = ", ".join(_CAN_END_WITH[stage])
        raise CourseError(f"{where}.until: {until!r} cannot end a step of the {stage} stage; it may be {allowed}.")
    return Step(
        key=_text(row, "key", where, required=True),
        name=_text(row, "name", where, required=True),
        stage=stage,
        sheet=cast(Sheet, _choice(row, "sheet", where, get_args(Sheet))),
        channel=cast(Channel, _choice(row, "channel", where, get_args(Channel))),
        prompt=_text(row, "prompt", where, required=True),
        why=_text(row, "why", where),
        until=until,
        late_after_s=_whole(row, "late_after_s", where),
        rescue=_text(row, "rescue", where),
        scales=tuple(_texts(row, "scales", where)),
    )


def _vessel(row: Mapping[str, Any], where: str) -> Vessel:
    _known(row, "vessel", where)
    return Vessel(
        name=_text(row, "name", where, required=True),
        volume_ml=_needed(row, "volume_ml", where, VOLUME_ML),
        leaf_g=_needed(row, "leaf_g", where, LEAF_G),
        leaf_tolerance_g=_optional(row, "leaf_tolerance_g", where, _TOLERANCE_G),
    )


def _plan(row: Mapping[str, Any], where: str) -> Plan:
    _known(row, "plan", where)
    return Plan(
        kinds=tuple(_texts(row, "kinds", where)),
        forms=tuple(_texts(row, "forms", where)),
        rinse_s=_rinse_s(row, where),
        infusions_s=_infusions_s(row, where),
        then_add_s=_whole(row, "then_add_s", where) or 0,
        water_c=_water_c(row, where),
    )


def _rinse_s(row: Mapping[str, Any], where: str) -> int | None:
    rinse_s = _whole(row, "rinse_s", where)
    return None if rinse_s is None else int(_checked(PLAN_S, rinse_s, _at(where, "rinse_s")))


def _infusions_s(row: Mapping[str, Any], where: str) -> tuple[int, ...]:
    times = row.get("infusions_s")
    if not isinstance(times, list) or not times or not all(type(one) is int for one in times):
        raise CourseError(f"{where}.infusions_s: a list of whole seconds is needed, such as [20, 25, 30].")
    return tuple(int(_checked(PLAN_S, one, _at(where, "infusions_s"))) for one in times)


def _water_c(row: Mapping[str, Any], where: str) -> float:
    water_c = _optional(row, "water_c", where, WATER_C)
    return 100.0 if water_c is None else water_c


def _most_infusions(table: Mapping[str, Any]) -> int | None:
    most = _whole(table, "most_infusions", "")
    if most == 0:
        raise CourseError("most_infusions: at least 1 is needed; leave it out if there is no limit.")
    return most


def _needed(row: Mapping[str, Any], key: str, where: str, quantity: Quantity) -> float:
    value = _optional(row, key, where, quantity)
    if value is None:
        raise CourseError(f"{_at(where, key)}: this entry is needed.")
    return value


def _optional(row: Mapping[str, Any], key: str, where: str, quantity: Quantity) -> float | None:
    value = _number(row, key, where)
    return None if value is None else _checked(quantity, value, _at(where, key))


def _checked(quantity: Quantity, value: float, at: str) -> float:
    try:
        return quantity.checked(value)
    except QuantityError as exc:
        raise CourseError(f"{at}: {exc}") from exc


def _known(row: Mapping[str, Any], kind: str, where: str) -> None:
    for key in row:
        if key not in _TABLE_KEYS[kind]:
            raise CourseError(f"{_at(where, key)}: a {kind} has no such entry.")


def _rows(table: Mapping[str, Any], key: str) -> Sequence[Mapping[str, Any]]:
    rows = table.get(key)
    if not isinstance(rows, list) or not rows or not all(isinstance(row, dict) for row in rows):
        raise CourseError(f"{key}: at least one [[{key}]] is needed.")
    return rows


def _text(row: Mapping[str, Any], key: str, where: str, *, required: bool = False) -> str:
    value = row.get(key, "")
    if not isinstance(value, str):
        raise CourseError(f"{_at(where, key)}: words in quotes are needed, not {value!r}.")
    if required and not value.strip():
        raise CourseError(f"{_at(where, key)}: this entry is needed.")
    return value.strip()


def _texts(row: Mapping[str, Any], key: str, where: str) -> list[str]:
    value = row.get(key, [])
    if not isinstance(value, list) or not all(isinstance(one, str) for one in value):
        raise CourseError(f"{_at(where, key)}: a list of words in quotes is needed, not {value!r}.")
    return value


def _choice(row: Mapping[str, Any], key: str, where: str, allowed: Sequence[str], default: str | None = None) -> str:
    value = row.get(key, default)
    if value not in allowed:
        raise CourseError(f"{_at(where, key)}: {value!r} is not one of {', '.join(allowed)}.")
    return cast(str, value)


def _yes_no(row: Mapping[str, Any], key: str, *, default: bool) -> bool:
    value = row.get(key, default)
    if not isinstance(value, bool):
        raise CourseError(f"{key}: true or false is needed, not {value!r}.")
    return value


def _number(row: Mapping[str, Any], key: str, where: str) -> float | None:
    value = row.get(key)
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise CourseError(f"{_at(where, key)}: a number is needed, not {value!r}.")
    return float(value)


def _whole(row: Mapping[str, Any], key: str, where: str) -> int | None:
    value = row.get(key)
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int) or value < 0:
        raise CourseError(f"{_at(where, key)}: a whole number from 0 up is needed, not {value!r}.")
    return value


def _at(where: str, key: str) -> str:
    return f"{where}.{key}" if where else key
