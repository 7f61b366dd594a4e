"""A course: the order in which a tea is assessed, and until when each sense can still be caught."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final, Literal, TypeAlias, cast, get_args

from tastebook.domain.errors import CourseError, QuantityError
from tastebook.domain.quantities import PLAN_S, WATER_C

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

    `late_after_s` is how long after the pour (or, before any pour, after the water) the sense stays fresh, where time
    alone ends it; `rescue` is what can still be done once it is gone.
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
class Plan:
    """Planned times and water for teas of some kinds; no kinds means every kind not named elsewhere.

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
    """An order of assessment and the plan of its infusions, with where both come from."""

    key: str
    name: str
    about: str
    source: str
    steps: tuple[Step, ...]
    plans: tuple[Plan, ...]
    has_rinse: bool = True
    leaf_g_per_100ml: float | None = None
    most_infusions: int | None = None

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
        """Return the plan for a kind and form of tea: the first that names them, else the one for all."""
        naming = [plan for plan in self.plans if kind in plan.kinds and (not plan.forms or form in plan.forms)]
        general = [plan for plan in self.plans if not plan.kinds]
        return (naming or general or list(self.plans))[0]


_TABLE_KEYS: Final = {
    "course": {
        "key", "name", "about", "source", "has_rinse", "leaf_g_per_100ml", "most_infusions", "steps", "plans",
    },
    "step": {
        "key", "name", "stage", "sheet", "channel", "prompt", "why", "until", "late_after_s", "rescue", "scales",
    },
    "plan": {"kinds", "forms", "rinse_s", "infusions_s", "then_add_s", "water_c"},
}  # fmt: skip


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
    keys = [step.key for step in steps]
    for number, key in enumerate(keys, start=1):
        if key in keys[: number - 1]:
            raise CourseError(f"steps[{number}].key: “{key}” is already the key of an earlier step.")
    return Course(
        key=_text(table, "key", "", required=True),
        name=_text(table, "name", "", required=True),
        about=_text(table, "about", ""),
        source=_text(table, "source", ""),
        steps=steps,
        plans=plans,
        has_rinse=bool(table.get("has_rinse", True)),
        leaf_g_per_100ml=_number(table, "leaf_g_per_100ml", ""),
        most_infusions=_whole(table, "most_infusions", ""),
    )


def _step(row: Mapping[str, Any], where: str) -> Step:
    _known(row, "step", where)
    return Step(
        key=_text(row, "key", where, required=True),
        name=_text(row, "name", where, required=True),
        stage=cast(Stage, _choice(row, "stage", where, get_args(Stage))),
        sheet=cast(Sheet, _choice(row, "sheet", where, get_args(Sheet))),
        channel=cast(Channel, _choice(row, "channel", where, get_args(Channel))),
        prompt=_text(row, "prompt", where, required=True),
        why=_text(row, "why", where),
        until=cast(Until, _choice(row, "until", where, get_args(Until), default="never")),
        late_after_s=_whole(row, "late_after_s", where),
        rescue=_text(row, "rescue", where),
        scales=tuple(_texts(row, "scales", where)),
    )


def _plan(row: Mapping[str, Any], where: str) -> Plan:
    _known(row, "plan", where)
    times = row.get("infusions_s")
    if not isinstance(times, list) or not times or not all(isinstance(one, int) for one in times):
        raise CourseError(f"{where}.infusions_s: a list of whole seconds is needed, such as [20, 25, 30].")
    water_c = _number(row, "water_c", where)
    try:
        for one in times:
            PLAN_S.checked(one)
        WATER_C.checked(100.0 if water_c is None else water_c)
    except QuantityError as exc:
        raise CourseError(f"{where}: {exc}") from exc
    return Plan(
        kinds=tuple(_texts(row, "kinds", where)),
        forms=tuple(_texts(row, "forms", where)),
        rinse_s=_whole(row, "rinse_s", where),
        infusions_s=tuple(times),
        then_add_s=_whole(row, "then_add_s", where) or 0,
        water_c=100.0 if water_c is None else water_c,
    )


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
