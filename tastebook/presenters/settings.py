"""The settings: few, plain, each with its effect in words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any, Final, Literal, TypeAlias

from tastebook.domain.errors import QuantityError, TastebookError
from tastebook.presenters.help import KEYS, PEDAL, shown_key
from tastebook.presenters.typed import Typing, sentence
from tastebook.reports.wording import degrees
from tastebook.services.settings import LEAD_S, Preferences, Settings

Key: TypeAlias = Literal[
    "theme",
    "counts_up",
    "fahrenheit",
    "reduce_motion",
    "sound",
    "voice",
    "paper",
    "caffeine_watch",
    "break_after",
    "good_from",
]

OPTIONS: Final[dict[Key, tuple[str, tuple[tuple[str, Any], ...]]]] = {
    "theme": ("Theme", (("Paper", "paper"), ("Lamp", "lamp"), ("Daylight", "daylight"))),
    "counts_up": ("Large digits", (("Count down", False), ("Count up", True))),
    "fahrenheit": ("Water", (("°C", False), ("°F", True))),
    "reduce_motion": ("Movement", (("Short", False), ("None", True))),
    "sound": ("Sound", (("On", True), ("Off", False))),
    "voice": ("Voice", (("On", True), ("Off", False))),
    "paper": ("Paper", (("A4", "a4"), ("Letter", "us-letter"))),
    "caffeine_watch": ("Caffeine", (("Adult", "adult"), ("Pregnancy", "pregnancy"), ("Off", "off"))),
    "break_after": ("A break", (("5 teas", 5), ("8 teas", 8), ("12 teas", 12), ("Never", None))),
    "good_from": ("A good cup", (("1.5", 1.5), ("2", 2.0), ("2.5", 2.5), ("3", 3.0))),
}

SEEN: Final[tuple[Key, ...]] = ("theme", "counts_up", "fahrenheit", "reduce_motion")
HEARD: Final[tuple[Key, ...]] = ("sound", "voice")
PRINTED: Final[tuple[Key, ...]] = ("paper",)
MINDED: Final[tuple[Key, ...]] = ("caffeine_watch", "break_after", "good_from")

MOST_PEDALS: Final = 4
EDITING_KEYS: Final = (
    "Return", "Enter", "Tab", "Backtab", "Esc", "Backspace", "Del", "Ins", "Home", "End", "Left", "Right", "Up", "Down",
    "Menu", "CapsLock", "NumLock", "ScrollLock",
)  # fmt: skip
EXAMPLE_C: Final = 95.0


@dataclass(frozen=True)
class ChoiceRow:
    """A setting with a few answers, and what the chosen one does."""

    key: Key
    title: str
    labels: tuple[str, ...]
    chosen: int | None
    effect: str


@dataclass(frozen=True)
class LeadRow:
    """How long before the plan the pour is announced."""

    title: str
    value: str
    at_least: bool
    at_most: bool
    effect: str


@dataclass(frozen=True)
class PedalRow:
    """The keys that pour. While `is_waiting`, the next key pressed is taken."""

    title: str
    keys: tuple[str, ...]
    is_waiting: bool
    can_add: bool
    can_remove: bool
    effect: str
    error: str


@dataclass(frozen=True)
class SettingsView:
    """Everything on the settings sheet."""

    seen: tuple[ChoiceRow, ...]
    heard: tuple[ChoiceRow, ...]
    printed: tuple[ChoiceRow, ...]
    minded: tuple[ChoiceRow, ...]
    lead: LeadRow
    pedals: PedalRow
    taster: str
    taster_effect: str
    journal: str
    copy_name: str
    notice: str


class SettingsPresenter:
    """What the settings sheet shows, and what each gesture changes. Every change holds at once.

    Parameters
    ----------
    preferences : Preferences
        The settings in force.
    journal : callable
        Returns where the journal lives.
    today : callable
        Returns the local date as `2026-04-18`, for the name of a copy.
    silent_because : callable
        Returns why nothing can be heard on this machine, empty if it can.
    mute_because : callable
        Returns why nothing can be spoken on this machine, empty if it can.
    """

    def __init__(
        self,
        preferences: Preferences,
        journal: Callable[[], str],
        today: Callable[[], str],
        *,
        silent_because: Callable[[], str] = str,
        mute_because: Callable[[], str] = str,
    ) -> None:
        self._preferences = preferences
        self._journal = journal
        self._today = today
        self._silent_because = silent_because
        self._mute_because = mute_because
        self._is_waiting = False
        self._pedal_error = ""
        self._notice = preferences.told

    # -- gestures

    def choose(self, key: Key, place: int) -> None:
        """Choose an answer by its place from 0."""
        value = OPTIONS[key][1][place][1]
        self._use(replace(self._settings, **{key: value}))

    def step_lead(self, by_s: int) -> None:
        """Announce the pour earlier or later; beyond 0 and 15 s nothing changes."""
        lead_s = max(int(LEAD_S.least), min(int(LEAD_S.most), self._settings.lead_s + by_s))
        self._use(self._settings.with_lead(lead_s))

    def type_lead(self, typed: str) -> None:
        """Set how long before the plan the pour is announced, from `6` or `6 s`."""
        try:
            lead_s = Typing(LEAD_S).read(typed)
            if lead_s is not None:
                self._use(self._settings.with_lead(round(lead_s)))
        except QuantityError as exc:
            self._notice = sentence(str(exc))

    def name_taster(self, typed: str) -> None:
        """Set the taster's name."""
        self._use(replace(self._settings, taster=typed.strip()))

    def wait_for_pedal(self) -> None:
        """Take the next key pressed as one that pours."""
        self._is_waiting = True
        self._pedal_error = ""

    def stop_waiting(self) -> None:
        """Take no key."""
        self._is_waiting = False
        self._pedal_error = ""

    def press_pedal(self, key: str) -> None:
        """Take a key, by its name in portable text, as one that pours; a key that is used otherwise is refused."""
        keys = self._settings.pedal_keys
        self._pedal_error = why_no_pedal(key, keys)
        if self._pedal_error:
            return
        self._is_waiting = False
        self._use(self._settings.with_pedals((*keys, key)))

    def remove_pedal(self, place: int) -> None:
        """Let a key pour no more; the last one stays."""
        keys = self._settings.pedal_keys
        try:
            self._use(self._settings.with_pedals((*keys[:place], *keys[place + 1 :])))
            self._pedal_error = ""
        except QuantityError as exc:
            self._pedal_error = sentence(str(exc))

    def tell(self, words: str) -> None:
        """Show what came of something asked for outside, such as a copy that was made."""
        self._notice = words

    # -- what is seen

    def view(self) -> SettingsView:
        """Return everything on the sheet."""
        return SettingsView(
            seen=tuple(self._choice(key) for key in SEEN),
            heard=tuple(self._choice(key) for key in HEARD),
            printed=tuple(self._choice(key) for key in PRINTED),
            minded=tuple(self._choice(key) for key in MINDED),
            lead=self._lead(),
            pedals=self._pedals(),
            taster=self._settings.taster,
            taster_effect="Filled in for new sessions, and printed on the page.",
            journal=self._journal(),
            copy_name=f"journal-{self._today()}.tastebook",
            notice=self._notice,
        )

    @property
    def _settings(self) -> Settings:
        return self._preferences.current

    def _use(self, settings: Settings) -> None:
        self._notice = ""
        try:
            self._preferences.use(settings)
        except TastebookError as exc:
            self._notice = f"This holds until Tastebook is closed, but could not be kept: {exc}"

    def _choice(self, key: Key) -> ChoiceRow:
        title, options = OPTIONS[key]
        values = [value for _, value in options]
        held = getattr(self._settings, key)
        chosen = values.index(held) if held in values else None
        return ChoiceRow(key, title, tuple(label for label, _ in options), chosen, self._effect(key))

    def _effect(self, key: Key) -> str:
        settings = self._settings
        if key == "theme":
            return {
                "paper": "Warm and quiet: shop, kitchen, table.",
                "lamp": "Dark, for the evening.",
                "daylight": "Black on white, for the sun.",
            }[settings.theme]
        if key == "counts_up":
            return "0:27, with 0:15 left below." if settings.counts_up else "0:15, then +0:07 over the plan."
        if key == "fahrenheit":
            return f"Temperatures read like {degrees(EXAMPLE_C, in_fahrenheit=settings.fahrenheit)}."
        if key == "reduce_motion":
            return "Nothing glides." if settings.reduce_motion else "Short glides that end; nothing blinks."
        if key == "sound":
            return self._silent_because() or _sound_effect(settings)
        if key == "voice":
            return self._mute_because() or _voice_effect(settings)
        if key in _MINDED_EFFECTS:
            return _MINDED_EFFECTS[key](settings)
        return "Session pages are 210 × 297 mm." if settings.paper == "a4" else "Session pages are 8.5 × 11 in."

    def _lead(self) -> LeadRow:
        lead_s = self._settings.lead_s
        effect = f"“Begin to pour”, {lead_s} s before the plan." if lead_s else "Not announced: only the plan is."
        return LeadRow("Lead", str(lead_s), lead_s <= LEAD_S.least, lead_s >= LEAD_S.most, effect)

    def _pedals(self) -> PedalRow:
        keys = self._settings.pedal_keys
        effect = "Water on, pour, next infusion: each of these does it. Many foot pedals send Page Down."
        return PedalRow(
            title="Keys and pedals that pour",
            keys=tuple(shown_key(key) for key in keys),
            is_waiting=self._is_waiting,
            can_add=len(keys) < MOST_PEDALS,
            can_remove=len(keys) > 1,
            effect="Press the key or the pedal now. Esc gives up." if self._is_waiting else effect,
            error=self._pedal_error,
        )


def _caffeine_effect(settings: Settings) -> str:
    if settings.caffeine_watch == "off":
        return "Today’s caffeine is neither estimated nor shown."
    level = "200 mg at once, 400 mg a day" if settings.caffeine_watch == "adult" else "200 mg a day"
    return f"Names the level of EFSA 2015: {level}. An estimate, not advice: ask somebody qualified."


def _break_effect(settings: Settings) -> str:
    if settings.break_after is None:
        return "No break is suggested."
    return f"After {settings.break_after} teas in a row, a break is suggested before the next."


def _good_effect(settings: Settings) -> str:
    return f"Strength below {settings.good_from:g} no longer counts as a good infusion."


_MINDED_EFFECTS: Final[dict[str, Callable[[Settings], str]]] = {
    "caffeine_watch": _caffeine_effect,
    "break_after": _break_effect,
    "good_from": _good_effect,
}


def _sound_effect(settings: Settings) -> str:
    return "A call at lead, plan and every 15 s over." if settings.sound else "Silent: the tint and the words remain."


def _voice_effect(settings: Settings) -> str:
    return "Says “begin to pour” and “pour now”." if settings.voice else "Nothing is spoken."


def why_no_pedal(key: str, keys: tuple[str, ...]) -> str:
    """Return why a key cannot pour, empty if it can."""
    shown = shown_key(key)
    if key in keys:
        return f"{shown} pours already."
    if len(keys) >= MOST_PEDALS:
        return f"{MOST_PEDALS} keys pour already. Remove one first."
    if len(key) == 1:
        return f"“{key}” is written into the say line. Choose a key that writes nothing, such as Page Down or F5."
    if key in EDITING_KEYS:
        return f"{shown} is needed for writing and moving about. Choose another, such as Page Down or F5."
    used = next((row for row in KEYS if key in row.keys and row.action != PEDAL), None)
    if used is not None:
        return f"{shown} is taken: {used.does}. Choose another, such as Page Down or F5."
    if "+" in key:
        return "A pedal sends one key alone: choose one without Ctrl, Alt or Shift."
    return ""
