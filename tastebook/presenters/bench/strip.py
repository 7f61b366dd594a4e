"""What the infusion strip shows: the way through the session, and its chart at once."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Final

from tastebook.domain.arc import Column, strengths_by_column
from tastebook.domain.colour import srgb_from_lab
from tastebook.domain.liquor import change, colour_name
from tastebook.domain.own_words import read_now
from tastebook.domain.session import Infusion, Tasting
from tastebook.domain.steep import Steep
from tastebook.domain.vocabulary import Vocabulary
from tastebook.presenters.bench.views import BarView, ColumnKey, ColumnView, StripView
from tastebook.reports.wording import clock_time, degrees, listed, local, steep_time
from tastebook.services.tasting import column_name

FIRST_AFTER_RINSE: Final = 1


@dataclass(frozen=True)
class StripState:
    """Everything the strip depends on."""

    tasting: Tasting
    vocabulary: Vocabulary
    current: ColumnKey
    upcoming: int
    steep: Steep
    planned_s: Callable[[int], int]
    water_c: Callable[[int], float]
    in_fahrenheit: bool = False

    @cached_property
    def strengths(self) -> Mapping[Column, Mapping[str, float]]:
        """Return the family strengths of every column that was assessed."""
        return strengths_by_column(read_now(self.tasting, self.vocabulary), self.vocabulary.family_of)

    @cached_property
    def families(self) -> tuple[tuple[str, str], ...]:
        """Return key and name of every family, from the base of a stack up."""
        return tuple((family.key, family.name) for family in self.vocabulary.families)


def strip_view(state: StripState) -> StripView:
    """Return the columns, left to right."""
    columns = [_leaf(state)]
    columns += [_infusion(state, index) for index in _indices(state)]
    columns.append(_close(state))
    return StripView(tuple(columns))


def column_key(column: Column) -> ColumnKey:
    """Return how a column is called on screen."""
    return str(column)


def domain_column(key: ColumnKey) -> Column:
    """Return the column of the tasting that a key names."""
    return int(key) if key.isdigit() else ("leaf" if key == "leaf" else "close")


def _indices(state: StripState) -> range:
    """Return the infusions to show: all begun, the chosen one, and the one to come."""
    first = 0 if state.tasting.session.course.has_rinse else FIRST_AFTER_RINSE
    begun = [one.index for one in state.tasting.infusions]
    chosen = [int(state.current)] if state.current.isdigit() else []
    most = state.tasting.session.course.most_infusions
    to_come = state.upcoming if most is None else min(state.upcoming, most)
    return range(first, max([first, *begun, *chosen, to_come]) + 1)


def _leaf(state: StripState) -> ColumnView:
    session = state.tasting.session
    bars = _bars(state, "leaf", None)
    leaf = "" if session.leaf_g is None else f"{session.leaf_g:g} g"
    return ColumnView(
        key="leaf",
        title="Leaf",
        kind="leaf",
        is_current=state.current == "leaf",
        bars=bars,
        is_assessed=bool(bars),
        big=leaf or "leaf",
        small="by eye" if session.leaf_by_eye else "dry leaf",
        hint=("", "") if bars else ("Not looked at yet", "before the water"),
        accessible=_read_out("Leaf", bars, leaf),
    )


def _infusion(state: StripState, index: int) -> ColumnView:
    cup = state.tasting.infusion(index)
    key = str(index)
    is_current = state.current == key
    if cup is None or cup.started is None:
        return _next(state, index, is_current=is_current)
    before = _cup_before(state.tasting, index)
    bars = _bars(state, index, _column_before(state, index))
    steep_s = state.steep.elapsed_s if cup.is_steeping else round((cup.actual_ms or 0) / 1000)
    water = _water(state, index)
    return ColumnView(
        key=key,
        title=column_name(index) if is_current or index == 0 else key,
        kind="rinse" if index == 0 else "infusion",
        is_current=is_current,
        bars=bars,
        is_assessed=_is_assessed(state, index),
        cup=srgb_from_lab(cup.liquor) if cup.liquor else "",
        big=steep_time(steep_s),
        deviation_s=0 if cup.is_steeping else steep_s - cup.planned_s,
        small=f"of {steep_time(cup.planned_s)}, {water}" if cup.is_steeping else water,
        status=_status(state, cup),
        is_over=cup.is_steeping and state.steep.phase == "over",
        words=_liquor_words(cup, before),
        before_title=_before_title(state, index),
        before=_before_bars(state, index) if not bars else (),
        live=(steep_s, cup.planned_s) if cup.is_steeping else None,
        hint=("Nothing noted yet", "smell the lid?") if cup.is_steeping else ("Nothing noted yet", ""),
        accessible=_read_out(column_name(index), bars, f"{steep_s} s at {water}"),
    )


def _next(state: StripState, index: int, *, is_current: bool) -> ColumnView:
    if any(one.index > index and one.started for one in state.tasting.infusions):
        return _passed_over(index, is_current=is_current)
    water = _water(state, index)
    plan = steep_time(state.planned_s(index))
    return ColumnView(
        key=str(index),
        title=column_name(index) if is_current or index == 0 else str(index),
        kind="next",
        is_current=is_current,
        big=plan,
        small=f"planned, {water}",
        before_title=_before_title(state, index) if is_current else "",
        before=_before_bars(state, index) if is_current else (),
        hint=("To rinse", "Ctrl N passes it over") if index == 0 else ("Next infusion", "Ctrl N"),
        accessible=f"{column_name(index)}, not begun, plan {plan} at {water}",
    )


def _passed_over(index: int, *, is_current: bool) -> ColumnView:
    """Return the column of a cup that was never poured, though a later one was: a rinse that was left out."""
    name = column_name(index)
    return ColumnView(
        key=str(index),
        title=name if is_current or index == 0 else str(index),
        kind="rinse" if index == 0 else "infusion",
        is_current=is_current,
        big="–",
        small="left out",
        accessible=f"{name}, left out",
    )


def _close(state: StripState) -> ColumnView:
    bars = _bars(state, "close", None)
    verdict = state.tasting.verdict
    decided = verdict.decision if verdict else ""
    return ColumnView(
        key="close",
        title="Close",
        kind="close",
        is_current=state.current == "close",
        bars=bars,
        is_assessed=bool(bars),
        big=decided or "open",
        small="verdict",
        hint=("", "") if bars else ("Finish, leaf,", "body, verdict"),
        accessible=_read_out("Close", bars, f"verdict: {decided or 'none yet'}"),
    )


def _bars(state: StripState, column: Column, before: Column | None) -> tuple[BarView, ...]:
    """Return the families of a column from the base up, with the change since the column before."""
    earlier = () if before is None else tuple(_strengths(state, before).items())
    return _bars_of(state.families, tuple(_strengths(state, column).items()), earlier)


@lru_cache(maxsize=512)
def _bars_of(
    families: tuple[tuple[str, str], ...],
    strengths: tuple[tuple[str, float], ...],
    earlier: tuple[tuple[str, float], ...],
) -> tuple[BarView, ...]:
    """Return bars from strengths by family; kept, since after every act all columns but one are as they were."""
    now, before = dict(strengths), dict(earlier)
    return tuple(
        BarView(key, name, now[key], max(1, round(now[key])), _change(now[key], before, key))
        for key, name in families
        if now.get(key, 0) > 0
    )


def _strengths(state: StripState, column: Column) -> Mapping[str, float]:
    return state.strengths.get(column, {})


def _is_assessed(state: StripState, column: Column) -> bool:
    return column in state.strengths


def _change(strength: float, earlier: Mapping[str, float], family: str) -> str:
    if not earlier:
        return ""
    if not earlier.get(family):
        return "new"
    points = round(strength) - round(earlier[family])
    if points == 0:
        return "stays"
    return f"up {points}" if points > 0 else f"down {-points}"


def _column_before(state: StripState, index: int) -> Column | None:
    """Return the column to compare with: the last infusion before this one that was assessed."""
    indices = [one.index for one in state.tasting.infusions if one.index < index]
    return next((one for one in reversed(indices) if _strengths(state, one)), None)


def _before_title(state: StripState, index: int) -> str:
    before = _column_before(state, index)
    if before is None:
        return ""
    return "On the rinse there was" if before == 0 else f"In infusion {before} there was"


def _before_bars(state: StripState, index: int) -> tuple[BarView, ...]:
    before = _column_before(state, index)
    return () if before is None else tuple(reversed(_bars(state, before, None)))


def _cup_before(tasting: Tasting, index: int) -> Infusion | None:
    return next((one for one in reversed(tasting.infusions) if one.index < index and one.liquor), None)


def _liquor_words(cup: Infusion, before: Infusion | None) -> tuple[str, str]:
    seen = colour_name(cup.liquor) if cup.liquor else ""
    source = "photo" if cup.liquor and cup.liquor_source == "photo" else ""
    told = ", ".join(part for part in (seen, source, cup.clarity) if part)
    if cup.liquor is None or before is None or before.liquor is None or before.index == 0:
        return (told, "")
    changed = change(before.liquor, cup.liquor)
    return (told, replace(changed, directions=changed.directions[:1]).since(str(before.index)))


def _status(state: StripState, cup: Infusion) -> str:
    if cup.is_steeping:
        return "over plan" if state.steep.phase == "over" else "steeping"
    if cup.poured is None:
        return ""
    return f"poured {clock_time(local(cup.poured.utc, state.tasting.session.utc_offset_min))}"


def _water(state: StripState, index: int) -> str:
    return degrees(state.water_c(index), in_fahrenheit=state.in_fahrenheit)


def _read_out(title: str, bars: tuple[BarView, ...], more: str) -> str:
    """Return a column as a screen reader says it."""
    families = listed(f"{bar.name} {bar.strength:.2g}" for bar in reversed(bars)) or "nothing noted"
    return ", ".join(part for part in (title, more, families) if part)
