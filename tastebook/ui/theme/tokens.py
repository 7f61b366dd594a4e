"""The design's settled numbers: colours, type, spacing, motion. Read once from `resources/theme/tokens.json`.

Sizes are logical pixels, times are milliseconds, colours are `#RRGGBB`.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Final, Literal, TypeAlias, get_args

ThemeName: TypeAlias = Literal["paper", "lamp", "daylight"]

THEME_NAMES: Final[tuple[ThemeName, ...]] = get_args(ThemeName)


@dataclass(frozen=True)
class Colours:
    """The colours of one theme, by what they are for.

    `alarm` means over plan or missed, `accent` means now and can be pressed: neither is used for anything else.
    """

    bg: str
    surface: str
    raised: str
    sunken: str
    ink: str
    ink2: str
    ink3: str
    hairline: str
    outline: str
    accent: str
    on_accent: str
    accent_soft: str
    alarm: str
    on_alarm: str
    alarm_soft: str
    ok: str
    porcelain: str
    porcelain_edge: str
    shadow: str


@dataclass(frozen=True)
class ThemeTokens:
    """One theme as it stands in the file: its colours and a colour for each aroma family."""

    name: ThemeName
    colours: Colours
    families: Mapping[str, str]


@dataclass(frozen=True)
class TypePx:
    """Sizes of type."""

    timer: int
    verdict: int
    action: int
    title: int
    heading: int
    value: int
    say: int
    word: int
    text: int
    key: int


@dataclass(frozen=True)
class Weights:
    """Weights of type, from 400 to 700."""

    text: int
    tile: int
    label: int
    now: int
    serif_value: int
    serif_heading: int


@dataclass(frozen=True)
class RadiusPx:
    """Radii of corners."""

    card: int
    control: int
    chip: int
    tile: int
    key: int
    segment: int
    segment_top: int


@dataclass(frozen=True)
class LinePx:
    """Widths of lines."""

    hairline: float
    control: float
    focus: float
    now: float
    ridge: float
    texture: float
    daylight_card: float


@dataclass(frozen=True)
class TargetPx:
    """Least sizes of what a wet finger must hit."""

    min: int
    tab: int
    chip: int
    tile: int
    field: int
    stepper: int
    swatch: int
    action: int


@dataclass(frozen=True)
class MotionMs:
    """How long each movement lasts."""

    press: int
    chip_in: int
    ribbon_grow: int
    column_raise: int
    theme: int
    reduced_motion: int


@dataclass(frozen=True)
class Alphas:
    """Opacities, 0 to 1."""

    ribbon: float
    ridge_fill: float
    ridge_fill_lamp: float
    family_tile: float
    carried_pip_fill: float


@dataclass(frozen=True)
class ShadowTokens:
    """How far a shadow reaches, how far it falls, how dark it is at most."""

    depth: int
    dy: int
    strength: float


@dataclass(frozen=True)
class TimerTokens:
    """Measures of the timer."""

    digit_height_px: int
    bar_height: int
    axis_max_over_plan: float
    pour_lead_s_default: int


@dataclass(frozen=True)
class Tokens:
    """Everything the file settles."""

    themes: Mapping[ThemeName, ThemeTokens]
    stack_order: tuple[str, ...]
    """The families from the base of a stack to its top note."""
    glyph_names: Mapping[str, str]
    """What the glyph of each family shows, in words."""
    alpha: Alphas
    type_px: TypePx
    weight: Weights
    radius_px: RadiusPx
    line_px: LinePx
    target_px: TargetPx
    motion_ms: MotionMs
    shadows: Mapping[str, ShadowTokens]
    lamp_shadow_factor: float
    timer: TimerTokens


@cache
def tokens() -> Tokens:
    """Return the tokens that ship with the program."""
    return tokens_from(json.loads((files("tastebook.resources.theme") / "tokens.json").read_text(encoding="utf-8")))


def tokens_from(table: Mapping[str, Any]) -> Tokens:
    """Return the tokens that a parsed token file holds.

    Raises
    ------
    KeyError, TypeError
        If an entry is missing or unknown: the file is part of the program, so that is our own mistake.
    """
    shadow = table["shadow"]
    return Tokens(
        themes={name: _theme_tokens(name, table["themes"][name]) for name in THEME_NAMES},
        stack_order=tuple(table["family_order_base_to_top"]),
        glyph_names=dict(table["family_glyph"]),
        alpha=Alphas(**table["alpha"]),
        type_px=TypePx(**table["type_px"]),
        weight=Weights(**table["weight"]),
        radius_px=RadiusPx(**table["radius_px"]),
        line_px=LinePx(**table["line_px"]),
        target_px=TargetPx(**table["target_px"]),
        motion_ms=MotionMs(**table["motion_ms"]),
        shadows={name: ShadowTokens(**shadow[name]) for name in ("card", "raised", "action")},
        lamp_shadow_factor=shadow["lamp_factor"],
        timer=TimerTokens(**table["timer"]),
    )


def _theme_tokens(name: ThemeName, row: Mapping[str, Any]) -> ThemeTokens:
    return ThemeTokens(name, Colours(**row["colour"]), dict(row["family"]))
