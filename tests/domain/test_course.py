from __future__ import annotations

import json
import tomllib
from copy import deepcopy
from importlib.resources import files
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tastebook.domain.course import Course, Plan, course_from_table, table_from_course
from tastebook.domain.errors import CourseError
from tests.domain.building import shipped_course, shipped_table

SHIPPED = ["gaiwan", "comparison_cup", "lidded_cup_oolong", "western_pot", "cold_brew"]
every_shipped = pytest.mark.parametrize("key", SHIPPED)


def _known_scales() -> set[str]:
    text = (files("tastebook.resources.vocabulary") / "scales.toml").read_text(encoding="utf-8")
    return {scale["key"] for scale in tomllib.loads(text)["scales"]}


def _table() -> dict[str, Any]:
    return {
        "key": "mine",
        "name": "My way",
        "steps": [
            {
                "key": "flavour",
                "name": "Flavour",
                "stage": "infusion",
                "sheet": "aroma",
                "channel": "palate",
                "prompt": "What is in the cup?",
            }
        ],
        "plans": [{"infusions_s": [20, 25]}],
    }


def _with(path: str, value: object) -> dict[str, Any]:
    """Return a good table in which one entry, such as `steps.0.stage`, is `value`; None takes it away."""
    table = _table()
    *way, last = path.split(".")
    place: Any = table
    for part in way:
        place = place[int(part)] if part.isdigit() else place[part]
    place[last] = value
    if value is None:
        del place[last]
    return table


# ---------------------------------------------------------------- reading


def test_a_short_course_of_one_s_own_is_read() -> None:
    course = course_from_table(_table())

    assert course.name == "My way"
    assert course.step("flavour").until == "never"
    assert course.plans == (Plan(infusions_s=(20, 25)),)
    assert course.has_rinse


@pytest.mark.parametrize(
    ("path", "value", "message"),
    [
        ("key", None, r"^key: this entry is needed"),
        ("name", "  ", r"^name: this entry is needed"),
        ("name", 7, r"^name: words in quotes are needed, not 7"),
        ("colour", "red", r"^colour: a course has no such entry"),
        ("has_rinse", "no", r"^has_rinse: true or false is needed, not 'no'"),
        ("leaf_g_per_100ml", "five", r"^leaf_g_per_100ml: a number is needed, not 'five'"),
        ("leaf_g_per_100ml", -5, r"^leaf_g_per_100ml: leaf cannot be -5 g per 100 ml"),
        ("leaf_g_per_100ml", float("nan"), r"^leaf_g_per_100ml: leaf cannot be nan"),
        ("leaf_tolerance_pct", 200, r"^leaf_tolerance_pct: tolerance cannot be 200 %"),
        ("most_infusions", 0, r"^most_infusions: at least 1 is needed"),
        ("most_infusions", 2.5, r"^most_infusions: a whole number from 0 up is needed, not 2\.5"),
        ("most_infusions", True, r"^most_infusions: a whole number from 0 up is needed, not True"),
        ("notes", "boil", r"^notes: a list of words in quotes is needed, not 'boil'"),
        ("vessels", [], None),
        ("vessels", 3, r"^vessels: at least one \[\[vessels\]\] is needed"),
        ("vessels", [{"name": "pot", "leaf_g": 3}], r"^vessels\[1\]\.volume_ml: this entry is needed"),
        ("vessels", [{"name": "pot", "leaf_g": 3, "volume_ml": 2}], r"^vessels\[1\]\.volume_ml: volume cannot be 2 ml"),
        ("vessels", [{"name": "pot", "leaf": 3}], r"^vessels\[1\]\.leaf: a vessel has no such entry"),
        ("steps", None, r"^steps: at least one \[\[steps\]\] is needed"),
        ("steps", [], r"^steps: at least one \[\[steps\]\] is needed"),
        ("steps", ["flavour"], r"^steps: at least one \[\[steps\]\] is needed"),
        ("steps.0.key", None, r"^steps\[1\]\.key: this entry is needed"),
        ("steps.0.prompt", "", r"^steps\[1\]\.prompt: this entry is needed"),
        ("steps.0.promt", "What?", r"^steps\[1\]\.promt: a step has no such entry"),
        ("steps.0.stage", "middle", r"^steps\[1\]\.stage: 'middle' is not one of leaf, rinse, infusion, close"),
        ("steps.0.stage", None, r"^steps\[1\]\.stage: None is not one of"),
        ("steps.0.sheet", "smell", r"^steps\[1\]\.sheet: 'smell' is not one of aroma"),
        ("steps.0.channel", ["palate"], r"^steps\[1\]\.channel: \['palate'\] is not one of dry leaf"),
        ("steps.0.until", "tomorrow", r"^steps\[1\]\.until: 'tomorrow' is not one of first water"),
        ("steps.0.until", "first water", r"^steps\[1\]\.until: 'first water' cannot end a step of the infusion stage"),
        ("steps.0.late_after_s", -1, r"^steps\[1\]\.late_after_s: a whole number from 0 up is needed, not -1"),
        ("steps.0.scales", "body", r"^steps\[1\]\.scales: a list of words in quotes is needed"),
        ("plans", None, r"^plans: at least one \[\[plans\]\] is needed"),
        ("plans.0.infusions_s", None, r"^plans\[1\]\.infusions_s: a list of whole seconds is needed"),
        ("plans.0.infusions_s", [], r"^plans\[1\]\.infusions_s: a list of whole seconds is needed"),
        ("plans.0.infusions_s", [20, 2.5], r"^plans\[1\]\.infusions_s: a list of whole seconds is needed"),
        ("plans.0.infusions_s", [True], r"^plans\[1\]\.infusions_s: a list of whole seconds is needed"),
        ("plans.0.infusions_s", [20, 0], r"^plans\[1\]\.infusions_s: planned time cannot be 0 s"),
        ("plans.0.rinse_s", 0, r"^plans\[1\]\.rinse_s: planned time cannot be 0 s"),
        ("plans.0.water_c", 203, r"^plans\[1\]\.water_c: water cannot be 203 °C"),
        ("plans.0.water_c", "hot", r"^plans\[1\]\.water_c: a number is needed, not 'hot'"),
        ("plans.0.kinds", "oolong", r"^plans\[1\]\.kinds: a list of words in quotes is needed"),
        ("plans.0.then_add", 5, r"^plans\[1\]\.then_add: a plan has no such entry"),
    ],
)
def test_a_broken_course_is_refused_with_where_and_why(path: str, value: object, message: str | None) -> None:
    table = _with(path, value)

    if message is None:
        assert course_from_table(table).vessels == ()
    else:
        with pytest.raises(CourseError, match=message):
            course_from_table(table)


def test_a_key_given_twice_is_refused_at_its_second_place() -> None:
    table = _table()
    table["steps"].append(deepcopy(table["steps"][0]))

    with pytest.raises(CourseError, match=r"^steps\[2\]\.key: “flavour” is already the key of an earlier step"):
        course_from_table(table)


def test_a_rinse_step_in_a_course_without_a_rinse_is_refused() -> None:
    table = _with("steps.0.stage", "rinse") | {"has_rinse": False}

    with pytest.raises(CourseError, match=r"^steps\[1\]\.stage: this course has no rinse"):
        course_from_table(table)


@pytest.mark.parametrize(
    ("stage", "until"),
    [
        ("leaf", "next water"),
        ("leaf", "next pour"),
        ("rinse", "first water"),
        ("close", "first water"),
        ("close", "next water"),
        ("close", "next pour"),
    ],
)
def test_a_step_cannot_end_with_what_never_follows_it(stage: str, until: str) -> None:
    table = _with("steps.0.stage", stage)
    table["steps"][0]["until"] = until

    with pytest.raises(CourseError, match="cannot end a step of the"):
        course_from_table(table)


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda children: st.lists(children, max_size=3) | st.dictionaries(st.text(max_size=5), children, max_size=3),
    max_leaves=8,
)
table_places = st.sampled_from(
    [f"{one}" for one in ("key", "name", "has_rinse", "steps", "plans", "vessels", "notes", "leaf_g_per_100ml")]
    + [f"steps.0.{one}" for one in ("key", "stage", "sheet", "until", "late_after_s", "scales", "prompt")]
    + [f"plans.0.{one}" for one in ("kinds", "forms", "rinse_s", "infusions_s", "then_add_s", "water_c")]
)


@given(table_places, json_values.filter(lambda value: value is not None))
def test_whatever_stands_in_a_file_it_is_read_or_refused_in_words(path: str, value: object) -> None:
    outcome = _read_or_refused(_with(path, value))

    assert isinstance(outcome, Course) or ": " in str(outcome)


def _read_or_refused(table: dict[str, Any]) -> Course | CourseError:
    try:
        return course_from_table(table)
    except CourseError as refusal:
        return refusal


# ---------------------------------------------------------------- writing


@every_shipped
def test_a_course_survives_being_written_and_read(key: str) -> None:
    course = shipped_course(key)

    written = json.dumps(table_from_course(course))

    assert course_from_table(json.loads(written)) == course


def test_what_is_not_set_is_not_written() -> None:
    table = table_from_course(course_from_table(_table()))

    assert "most_infusions" not in table
    assert "late_after_s" not in table["steps"][0]


# ---------------------------------------------------------------- plans


def _planned(*plans: dict[str, Any]) -> Course:
    return course_from_table(_table() | {"plans": list(plans)})


def test_the_plan_that_fits_most_closely_wins_whatever_its_place() -> None:
    course = _planned(
        {"infusions_s": [1]},
        {"infusions_s": [2], "forms": ["ball"]},
        {"infusions_s": [3], "kinds": ["oolong"]},
        {"infusions_s": [4], "kinds": ["oolong"], "forms": ["ball"]},
    )

    chosen = [
        course.plan_for(kind, form).infusions_s[0]
        for kind, form in [("oolong", "ball"), ("oolong", "strip"), ("green", "ball"), ("green", "flat"), ("", "")]
    ]

    assert chosen == [4, 3, 2, 1, 1]


def test_a_tea_that_no_plan_fits_has_the_first() -> None:
    course = _planned({"infusions_s": [2], "kinds": ["black"]}, {"infusions_s": [3], "kinds": ["green"]})

    assert course.plan_for("white").infusions_s == (2,)


def test_planned_times_go_on_beyond_the_last() -> None:
    plan = Plan(rinse_s=5, infusions_s=(20, 25, 30), then_add_s=10)

    assert [plan.planned_s(index) for index in range(7)] == [5, 20, 25, 30, 40, 50, 60]


@given(st.integers(1, 60), st.integers(1, 60))
def test_a_shipped_gaiwan_plan_never_grows_shorter(first: int, second: int) -> None:
    for plan in shipped_course().plans:
        shorter, longer = sorted((first, second))
        assert plan.planned_s(shorter) <= plan.planned_s(longer)


def test_a_step_that_a_course_lacks_is_named() -> None:
    with pytest.raises(CourseError, match="The course “Gaiwan session” has no step “second_sip”"):
        shipped_course().step("second_sip")


# ---------------------------------------------------------------- the courses that ship


@every_shipped
def test_a_shipped_course_says_where_it_comes_from(key: str) -> None:
    course = shipped_course(key)

    assert course.key == key
    assert course.source
    assert course.about


@every_shipped
def test_every_shipped_step_says_why_it_stands_where_it_stands(key: str) -> None:
    assert all(step.why.endswith((".", "!")) for step in shipped_course(key).steps)


@every_shipped
def test_every_shipped_step_that_can_be_missed_says_what_can_still_be_done(key: str) -> None:
    can_be_missed = [step for step in shipped_course(key).steps if step.until != "never" or step.late_after_s]

    assert can_be_missed
    assert all(step.rescue for step in can_be_missed)


@every_shipped
def test_shipped_steps_stand_in_the_order_of_the_columns(key: str) -> None:
    columns = ["leaf", "rinse", "infusion", "close"]

    stages = [columns.index(step.stage) for step in shipped_course(key).steps]

    assert stages == sorted(stages)


@every_shipped
def test_every_shipped_scale_is_in_the_vocabulary(key: str) -> None:
    assert {scale for step in shipped_course(key).steps for scale in step.scales} <= _known_scales()


@every_shipped
def test_a_shipped_course_has_a_plan_for_any_tea(key: str) -> None:
    assert any(not plan.kinds and not plan.forms for plan in shipped_course(key).plans)


def test_the_gaiwan_session_asks_for_every_sense_in_its_order() -> None:
    # Common practice, no source.
    course = shipped_course()

    assert [[step.key for step in course.steps_in(stage)] for stage in ("leaf", "rinse", "infusion", "close")] == [
        ["dry_leaf", "warmed_leaf"],
        ["lid", "wet_leaf"],
        ["liquor", "first_sip", "flavour", "empty_cup"],
        ["finish", "infused_leaf", "body", "verdict"],
    ]


def test_in_the_gaiwan_session_the_first_sip_is_about_nine_scales() -> None:
    scales = shipped_course().step("first_sip").scales

    eight = ("body", "surface", "grip", "bitterness", "huigan", "mouth_watering", "throat", "finish")
    assert scales == (*eight, "strength")


def test_what_the_water_ends_ends_with_the_water() -> None:
    untils = {step.key: step.until for step in shipped_course().steps}

    assert untils["dry_leaf"] == untils["warmed_leaf"] == "first water"
    assert untils["lid"] == untils["wet_leaf"] == untils["liquor"] == "next water"
    assert untils["first_sip"] == untils["flavour"] == untils["empty_cup"] == "next pour"


def test_shipped_tables_hold_nothing_that_is_not_read() -> None:
    for key in SHIPPED:
        assert shipped_table(key).keys() <= table_from_course(shipped_course(key)).keys()
