"""The Bench: what each gesture does, and what is on screen afterwards."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from functools import partial
from typing import Final

from tastebook.domain.catching import StepState, column_of, step_state
from tastebook.domain.correcting import PartKey
from tastebook.domain.course import Course, Stage, Step
from tastebook.domain.errors import (
    ColourRefused,
    OthersAct,
    PictureRefused,
    QuantityError,
    StaleAct,
    StoreError,
    TastebookError,
    TastingError,
)
from tastebook.domain.liquor import adjusted, chart
from tastebook.domain.steep import Call, latest_call
from tastebook.domain.vocabulary import Vocabulary
from tastebook.presenters.bench.card import CardState, header_view, hint_for, tab_views
from tastebook.presenters.bench.counsel import Counsel, WhyView
from tastebook.presenters.bench.offered import OfferedNumbers
from tastebook.presenters.bench.said import SayLine
from tastebook.presenters.bench.say_view import SayState, say_view
from tastebook.presenters.bench.sheets import SheetState, sheet_view
from tastebook.presenters.bench.strip import StripState, strip_view
from tastebook.presenters.bench.timer import TimerState, timer_view
from tastebook.presenters.bench.typed import seconds_typed, temp_typed, verdict_typed
from tastebook.presenters.bench.views import (
    AromaSheet,
    BenchView,
    ColumnKey,
    StepCardView,
    StripView,
    TimerView,
)
from tastebook.services.drafts import Draft, Drafting, Drafts
from tastebook.services.said_parts import channel_at
from tastebook.services.settings import Settings
from tastebook.services.tasting import TastingDesk

BOUNCE_MS: Final = 350
"""A wet finger or a pedal that chatters presses twice: a second press so soon is the same press."""

CHANGED_ELSEWHERE: Final = (
    "Another window has changed this just now. What it did is shown here; yours was not kept: do it once more."
)


class BenchPresenter:
    """What the taster sees of one tasting, and what each gesture does to it.

    A gesture that cannot be carried out leaves everything as it was and says why: at the step card (`trouble`) or, when
    the journal could not keep it, above the whole Bench (`notice`).
    """

    def __init__(
        self,
        desk: TastingDesk,
        vocabulary: Callable[[], Vocabulary],
        settings: Callable[[], Settings],
        counsel: Counsel,
        drafts: Drafts,
    ) -> None:
        self.desk = desk
        self.counsel = counsel
        self._vocabulary = vocabulary
        self._settings = settings
        self._upcoming = self._first_index()
        self._steps: dict[ColumnKey, str] = {}
        self._column: ColumnKey = ""
        self._arrive(self._opening_column())
        self.said = SayLine(desk, vocabulary)
        self._numbers = OfferedNumbers(desk, self.said, lambda: self.infusion, self._planned_index)
        self._open_family = ""
        self._trouble = ""
        self._notice = ""
        self._swallowed_at_s: float | None = None
        self._accepted_long: int | None = None
        self._last_pedal_s: float | None = None
        self._told_missed: set[str] = set()
        self._missed_now: tuple[Step, ...] = ()
        self._is_draft_refused = False
        self._looked_at = self._upcoming
        self._looked = desk.steep(self._upcoming, settings().lead_s)
        self._drafting = Drafting(drafts, desk.tasting)
        self._bring_back(self._drafting.found)

    # -- where one is

    @property
    def column(self) -> ColumnKey:
        """Return the key of the current column."""
        return self._column

    @property
    def infusion(self) -> int | None:
        """Return the infusion of the current column, None at leaf and close."""
        return int(self._column) if self._column.isdigit() else None

    @property
    def step(self) -> Step:
        """Return the current step."""
        steps = self._column_steps()
        key = self._steps.get(self._column)
        return next((step for step in steps if step.key == key), steps[0])

    def go_to(self, column: ColumnKey) -> None:
        """Make another column the current one, if the course asks for anything there.

        Words being typed stay with the column they were typed at.
        """
        if column != self._column and self._steps_at(column) and self._can_leave():
            self._arrive(column)

    def _arrive(self, column: ColumnKey) -> None:
        """Stand at a column: at the step chosen there before, else at the first that is still to do."""
        self._column = column
        if column not in self._steps:
            self._steps[column] = self._first_open(self._column_steps()).key

    def go_beside(self, places: int) -> None:
        """Move along the strip, to the left below 0."""
        keys = [column.key for column in self.strip().columns if self._steps_at(column.key)]
        here = keys.index(self._column)
        self.go_to(keys[max(0, min(len(keys) - 1, here + places))])

    def choose_step(self, key: str) -> None:
        """Make another step of the current column the current one."""
        if self._can_leave():
            self._steps[self._column] = key

    def choose_step_at(self, place: int) -> None:
        """Choose a step by its place from the left, from 0."""
        steps = self._column_steps()
        if 0 <= place < len(steps):
            self.choose_step(steps[place].key)

    def next_step(self) -> None:
        """Go on to the next step of this column that is still to do."""
        later = self._column_steps()
        here = [step.key for step in later].index(self.step.key)
        for step in later[here + 1 :]:
            if self._state(step) in ("todo", "waiting"):
                self.choose_step(step.key)
                return

    # -- the timer

    def pedal(self) -> None:
        """Do the next act at the timer: water on, pour, next infusion."""
        now_s = self.desk.now().monotonic_s
        if self._last_pedal_s is not None and (now_s - self._last_pedal_s) * 1000 < BOUNCE_MS:
            return
        self._last_pedal_s = now_s
        self._try(self._pedal)

    def _pedal(self) -> None:
        if not self.desk.tasting.session.is_open:
            self.desk.reopen()
            return
        steep = self.desk.steep(self._upcoming, self._settings().lead_s)
        if steep.phase == "ready":
            self._water_on()
        elif steep.phase == "poured":
            self._upcoming += 1
        elif steep.is_absurd and self._accepted_long != self._upcoming:
            raise TastingError("Say how long it steeped, or that it steeps still.")
        else:
            self._pour()

    def _water_on(self) -> None:
        before = self._missed_leaf()
        water = self.counsel.water(self._upcoming)
        self.desk.pour_water_on(self._upcoming, water.temp_c if water.is_estimate else None)
        missed = [step for step in before if step.key not in self._told_missed and self._state_of(step) == "missed"]
        self._told_missed.update(step.key for step in missed)
        self._missed_now = tuple(missed)

    def _missed_leaf(self) -> list[Step]:
        return [step for step in self._course.steps_in("leaf") if self._state_of(step) == "todo"]

    def _pour(self) -> None:
        self.desk.pour()
        self._go_on()

    def follow_pour(self) -> None:
        """Go on from a pour that was pressed away from the Bench, or taken back there."""
        self._follow_timer()
        if self.desk.tasting.steeping is None:
            self._go_on()

    def _go_on(self) -> None:
        """Go to the cup just poured; words being typed keep their place."""
        self._accepted_long = None
        self._missed_now = ()
        if self.said.is_empty:
            self.go_to(str(self._upcoming))

    def next_infusion(self) -> None:
        """Go on to the next infusion column, passing over one that was not begun (such as a rinse)."""
        self._try(self._next_infusion)

    def _next_infusion(self) -> None:
        if self.desk.tasting.steeping is not None:
            raise TastingError("The leaf is in water: pour first, then go on.")
        self._upcoming += 1

    def accept_long(self) -> None:
        """Say that an absurdly long steep does steep still."""
        self._accepted_long = self._upcoming

    def amend_steep(self, typed: str) -> None:
        """Set how long the timer's infusion was in water, from `42`, `42 s` or `1:40`."""
        self._try(lambda: self.desk.amend_steep(self._upcoming, seconds_typed(typed)))

    def nudge_plan(self, seconds: int) -> None:
        """Lengthen or shorten the plan shown."""
        index = self._planned_index()
        self._try(lambda: self.desk.plan(index, self.desk.planned_s(index) + seconds))

    def type_plan(self, typed: str) -> None:
        """Set the plan shown, from `42`, `42 s` or `1:40`."""
        self._try(lambda: self.desk.plan(self._planned_index(), round(seconds_typed(typed))))

    def nudge_water(self, degrees: int) -> None:
        """Make the water hotter or cooler by whole degrees of the scale shown."""
        index = self._water_index()
        step_c = degrees * 5 / 9 if self._settings().fahrenheit else degrees
        self._try(lambda: self.desk.set_water(index, round(self.counsel.water(index).temp_c + step_c, 2)))

    def type_water(self, typed: str) -> None:
        """Keep what a thermometer in the kettle says now, from `92`, `92 °C` or `198 °F`."""
        self._try(lambda: self._measure(temp_typed(typed, in_fahrenheit=self._settings().fahrenheit)))

    def _measure(self, temp_c: float) -> None:
        self.counsel.refuse_reading(temp_c)
        self.desk.measure_water(self._water_index(), temp_c)

    def boil(self) -> None:
        """Say that the kettle boils at this moment: from now on it cools by the clock."""
        self._try(lambda: self.desk.mark_boil(self._water_index()))

    def why(self) -> WhyView:
        """Return the reasoning behind the next steep."""
        return self.counsel.why(self._planned_index())

    def take_advice(self) -> None:
        """Make the advised time the plan, where one can be named."""
        seconds = self.counsel.advised_s(self._planned_index())
        if seconds is not None:
            self._try(lambda: self.desk.plan(self._planned_index(), seconds))

    def _planned_index(self) -> int:
        """Return the infusion whose plan is shown: once poured, that of the next."""
        cup = self.desk.tasting.infusion(self._upcoming)
        return self._upcoming + 1 if cup and cup.is_poured else self._upcoming

    def _water_index(self) -> int:
        return self._planned_index()

    # -- what is perceived

    def type(self, text: str) -> None:
        """Show what the words being typed would record."""
        self._trouble = ""
        self.said.type(self.step, self.infusion, text)
        if self.said.is_empty:
            self.keep_typed()

    def say(self, text: str) -> None:
        """Keep what was said, as it was set right."""
        self._try(lambda: self.said.take(self.step, self.infusion, text))
        self.keep_typed()

    def keep_typed(self) -> None:
        """Keep the words in the say line as a draft, so that they are there again should the program end; or forget it.

        What cannot be kept is told once: it is in the say line all the same.
        """
        try:
            self._drafting.keep(Draft(self.step.key, self.infusion, self.typed))
            self._is_draft_refused = False
        except StoreError as exc:
            if not self._is_draft_refused and not self._notice:
                self._notice = f"What you type is not safe until you press Enter: {exc}"
            self._is_draft_refused = True

    def _bring_back(self, draft: Draft | None) -> None:
        """Stand where words were typed that nobody took, with these words in the say line."""
        step = next((one for one in self._course.steps if draft is not None and one.key == draft.step), None)
        if draft is None or step is None:
            return
        column = str(draft.infusion) if draft.infusion is not None else step.stage
        if column in self._steps_of_strip():
            self._steps[column] = step.key
            self._arrive(column)
            self.said.type(step, draft.infusion, draft.text)

    def _steps_of_strip(self) -> set[ColumnKey]:
        return {column.key for column in self.strip().columns if self._steps_at(column.key)}

    def take_number(self, key: PartKey | None = None) -> None:
        """Set the field that a number was offered to: the one named, the chosen one or the first."""
        self._try(lambda: self._numbers.take(key))

    def note(self, chip: str, intensity: int) -> None:
        """Set the strength of a descriptor, in the channel behind a blank where it has one; 0 is absent.

        One that is only typed is set right in the say line; one that was noted is amended.
        """
        descriptor, _, channel = chip.partition(" ")
        if not any(self.said.set_value(key, intensity) for key in _typed_keys(chip)):
            channel = channel or channel_at(self.step)
            self._try(lambda: self.desk.note(self.step, self.infusion, descriptor, intensity, channel))

    def remove_word(self, chip: str) -> None:
        """Take the impression of a word away at this step; a word that is only offered was never there."""
        if not any(self.said.drop(key) for key in _typed_keys(chip)) and (uids := self._uids_of(chip)):
            self._try(partial(self.desk.remove, *uids))

    def flag_word(self, chip: str, clouded: bool, doubtful: bool) -> None:
        """Mark the impression of a word as clouded by the surroundings or as doubtful."""
        if uids := self._uids_of(chip):
            self._try(partial(self.desk.flag, *uids, clouded=clouded, doubtful=doubtful))

    def _uids_of(self, chip: str) -> list[str]:
        """Return every impression that is the word of a chip now, also under the keys of words that it took in."""
        descriptor, _, channel = chip.partition(" ")
        resolve = self._vocabulary().resolve
        channels = (channel,) if channel else (self.step.channel, channel_at(self.step))
        here = self.desk.tasting.impressions_at(self.step.key, column_of(self.step.stage, self.infusion))
        return [one.uid for one in here if resolve(one.descriptor) == descriptor and one.channel in channels]

    def read(self, scale: str, value: float) -> None:
        """Set a scale; one that is only typed is set right in the say line."""
        if not self.said.set_value(PartKey("reading", scale), round(value)):
            self._try(lambda: self.desk.read(self.step, self.infusion, scale, value))

    def clear_reading(self, scale: str) -> None:
        """Make a scale not assessed again."""
        if not self.said.drop(PartKey("reading", scale)):
            self._try(lambda: self.desk.clear_reading(self.step, self.infusion, scale))

    def flag_reading(self, scale: str, clouded: bool, doubtful: bool) -> None:
        """Mark a reading as clouded or doubtful."""
        self._try(lambda: self.desk.flag_reading(self.step, self.infusion, scale, clouded=clouded, doubtful=doubtful))

    def open_family(self, family: str) -> None:
        """Offer the words of a family, or close it again."""
        self._open_family = "" if self._open_family == family else family

    def press_family(self, family: str) -> None:
        """Give the new word that waits this family; else lay the family's words out."""
        typed = self.said.new_name
        if typed is not None:
            self.said.give_family(typed, family)
            return
        sheet = self.card().sheet
        unplaced = sheet.unplaced if isinstance(sheet, AromaSheet) else ""
        if unplaced:
            self.place_word(unplaced, family)
        else:
            self.open_family(family)

    def place_word(self, name: str, family: str) -> None:
        """Give a word of one's own a family."""
        self._try(lambda: self.desk.place_word(name, family))

    def completions(self, typed: str, most: int = 3) -> tuple[str, ...]:
        """Return the words that the one being typed may become, likeliest first; none once it is one of them."""
        return self.said.completions(self.step, typed, most)

    def choose_swatch(self, row: int, column: int) -> None:
        """Set the liquor colour from the chart."""
        lab = chart()[row][column]
        self._try(lambda: self.desk.see_liquor(self.step, self._cup_index(), lab, "chart"))

    def nudge_liquor(self, axis: str, sign: int) -> None:
        """Move the liquor colour a little along one axis: L, a or b."""
        cup = self.desk.tasting.infusion(self._cup_index())
        if cup is None or cup.liquor is None:
            return
        lab = cup.liquor
        d_l, d_a, d_b = (sign if axis == one else 0 for one in ("L", "a", "b"))
        self._try(lambda: self.desk.see_liquor(self.step, cup.index, adjusted(lab, d_l, d_a, d_b), "adjusted"))

    def choose_clarity(self, clarity: str) -> None:
        """Set how clear the liquor is."""
        self._try(lambda: self.desk.see_clarity(self.step, self._cup_index(), clarity))

    def press_stopwatch(self) -> None:
        """Begin at the swallow; keep the length when nothing is left."""
        now_s = self.desk.now().monotonic_s
        if self._swallowed_at_s is None:
            self._swallowed_at_s = now_s
            return
        length_s = round(now_s - self._swallowed_at_s)
        self._swallowed_at_s = None
        self.read("finish_length_s", length_s)

    def skip(self) -> None:
        """Pass the current step over, or take it up again, and go on."""
        step = self.step
        if self._state(step) == "skipped":
            self._try(lambda: self.desk.unmark(step, self.infusion))
            return
        self._try(lambda: self.desk.skip(step, self.infusion))
        self.next_step()

    # -- the verdict

    def draft(self, **fields: str) -> None:
        """Keep the verdict as typed so far. Numbers and dates are read here, and refused in words."""
        self._try(lambda: self._decide(fields))

    def _decide(self, fields: dict[str, str]) -> None:
        verdict = verdict_typed(self.desk.verdict(), fields, self._today())
        if verdict.decision == "rest until" and verdict.rest_until is None:
            verdict = replace(verdict, rest_until=self._today() + timedelta(days=30))
        self.desk.decide(verdict)

    def _today(self) -> date:
        session = self.desk.tasting.session
        return (self.desk.now().utc + timedelta(minutes=session.utc_offset_min)).date()

    def go_to_verdict(self) -> bool:
        """Go to the verdict and return whether one had to."""
        verdict = next((step.key for step in self._course.steps_in("close") if step.sheet == "verdict"), None)
        if not self._steps_at("close") or (self._column == "close" and verdict in (None, self.step.key)):
            return False
        self.go_to("close")
        if verdict is not None:
            self.choose_step(verdict)
        return True

    def finish(self) -> bool:
        """Go to the verdict; from there, end the session. Return whether it has ended."""
        if not self.go_to_verdict():
            self._try(self.desk.close)
        return not self.desk.tasting.session.is_open

    def undo(self) -> None:
        """Take back the newest act."""
        self._try(self.desk.undo)
        self._follow_timer()

    def redo(self) -> None:
        """Do again what was taken back last."""
        self._try(self.desk.redo)
        self._follow_timer()

    def dismiss(self) -> None:
        """Take note of what went wrong."""
        self._notice = self._trouble = ""

    def reread(self) -> None:
        """Read the tasting anew, since another window changed it."""
        self.desk.reread()
        self._follow_timer()

    # -- what is seen

    def view(self) -> BenchView:
        """Return everything the Bench shows."""
        history, is_close = self.desk.history, self._column == "close"
        return BenchView(
            header=header_view(self.desk.tasting, self.counsel.drunk(), self.desk.now(), at_close=is_close),
            strip=self.strip(),
            card=self.card(),
            timer=self.timer(),
            undo=history.undoable[-1].label if history.undoable else "",
            redo=history.redoable[-1].label if history.redoable else "",
            notice=self._notice,
        )

    def timer(self) -> TimerView:
        """Return the timer panel as it stands at this moment."""
        index, planned = self._upcoming, self._planned_index()
        steep = self.desk.steep(index, self._settings().lead_s)
        return timer_view(
            TimerState(
                tasting=self.desk.tasting,
                index=index,
                steep=steep,
                water=self.counsel.water(self._water_index()),
                next_plan_s=self.desk.planned_s(planned),
                settings=self._settings(),
                counsel=self.counsel.lines(index, steep, planned),
                hottest_c=self.desk.hottest_c,
                has_reasons=bool(self.counsel.advice_line(planned)),
                missed=self._missed_now,
                accepted_long=self._accepted_long == index,
            )
        )

    def strip(self) -> StripView:
        """Return the infusion strip as it stands at this moment."""
        return strip_view(
            StripState(
                tasting=self.desk.tasting,
                vocabulary=self._vocabulary(),
                current=self._column,
                upcoming=self._planned_index(),
                steep=self.desk.steep(self._upcoming, self._settings().lead_s),
                planned_s=self.desk.planned_s,
                water_c=lambda index: self.counsel.water(index).temp_c,
                in_fahrenheit=self._settings().fahrenheit,
            )
        )

    def card(self) -> StepCardView:
        """Return the step card."""
        step = self.step
        state = self._state(step)
        late = state in ("missed", "late")
        tabs = CardState(self.desk.tasting, self._vocabulary(), self.infusion, step.key, self.desk.now())
        return StepCardView(
            tabs=tab_views(tabs, self._column_steps()),
            column=self._column,
            prompt=step.prompt,
            hint=step.rescue if late and step.rescue else hint_for(step, self.infusion),
            is_warning=late,
            why=step.why,
            say=say_view(self._say_state(step)),
            trouble=self._trouble,
            sheet=sheet_view(self._sheet_state(step)),
            can_skip=state in ("todo", "waiting", "missed", "skipped"),
            is_skipped=state == "skipped",
        )

    def due_call(self) -> Call | None:
        """Return what is to be announced since the last time this was asked."""
        steep = self.desk.steep(self._upcoming, self._settings().lead_s)
        call = latest_call(self._looked, steep) if self._looked_at == self._upcoming else None
        self._looked, self._looked_at = steep, self._upcoming
        return call

    def stopwatch_s(self) -> float | None:
        """Return the seconds since the swallow while they are being counted."""
        if self._swallowed_at_s is None:
            return None
        return self.desk.now().monotonic_s - self._swallowed_at_s

    @property
    def is_steeping(self) -> bool:
        """Say whether seconds are being counted."""
        return self.desk.tasting.steeping is not None or self._swallowed_at_s is not None

    @property
    def is_cooling(self) -> bool:
        """Say whether a kettle or a cup on screen is cooling."""
        return self.desk.tasting.session.is_open and self.counsel.is_cooling(self._upcoming)

    # -- inside

    @property
    def _course(self) -> Course:
        return self.desk.tasting.session.course

    def _try(self, gesture: Callable[[], object]) -> None:
        self._trouble = ""
        try:
            gesture()
        except (TastingError, QuantityError, PictureRefused, ColourRefused) as exc:
            self._trouble = str(exc)
        except OthersAct as exc:
            self._notice = str(exc)
        except StaleAct:
            self.reread()
            self._notice = CHANGED_ELSEWHERE
        except TastebookError as exc:
            self._notice = f"Not kept: {exc}"
        else:
            self._notice = ""

    def attempt(self, gesture: Callable[[], object]) -> bool:
        """Carry a gesture out, or say why not where it is seen; return whether it was carried out."""
        self._try(gesture)
        return not (self._trouble or self._notice)

    def _first_index(self) -> int:
        tasting = self.desk.tasting
        if tasting.steeping is not None:
            return tasting.steeping.index
        if tasting.last_poured is not None:
            return tasting.last_poured.index
        return 0 if tasting.session.course.has_rinse else 1

    def _follow_timer(self) -> None:
        """After an undo, a redo or a change from elsewhere, show the steep that is now at hand."""
        steeping = self.desk.tasting.steeping
        cup = self.desk.tasting.infusion(self._upcoming)
        if steeping is not None:
            self._upcoming = steeping.index
        elif cup is None or cup.started is None:
            self._upcoming = max(self._first_index(), self._upcoming if self._upcoming <= self._last_begun() + 1 else 0)

    def _last_begun(self) -> int:
        begun = [one.index for one in self.desk.tasting.infusions if one.started]
        return max(begun, default=-1 if self._course.has_rinse else 0)

    def _opening_column(self) -> ColumnKey:
        poured = self.desk.tasting.last_poured
        wanted = [str(poured.index)] if poured else []
        wanted += ["leaf", str(self._upcoming), "1", "close"]
        return next(column for column in wanted if self._steps_at(column))

    def _steps_at(self, column: ColumnKey) -> tuple[Step, ...]:
        return self._course.steps_in(_stage_of(column))

    def _column_steps(self) -> tuple[Step, ...]:
        return self._steps_at(self._column)

    def _first_open(self, steps: tuple[Step, ...]) -> Step:
        return next((step for step in steps if self._state(step) in ("todo", "waiting")), steps[0])

    def _state(self, step: Step) -> StepState:
        return step_state(self.desk.tasting, step, self.infusion, self.desk.now())

    def _state_of(self, step: Step) -> StepState:
        return step_state(self.desk.tasting, step, None, self.desk.now())

    def _cup_index(self) -> int:
        return self.infusion or 0

    def settle(self) -> bool:
        """Keep words that were typed and not taken; return whether none are left over."""
        if not self.said.is_empty:
            self.say(self.typed)
        return self.said.is_empty

    def _can_leave(self) -> bool:
        """Settle what belongs to this place alone; words that were refused stay where they can be seen."""
        if not self.settle():
            return False
        self.said.clear()
        self._open_family = ""
        self._swallowed_at_s = None
        return True

    @property
    def typed(self) -> str:
        """Return the words in the say line that are not yet taken."""
        return self.said.text

    def _say_state(self, step: Step) -> SayState:
        return SayState(
            line=self.said,
            step=step,
            infusion=self.infusion,
            tasting=self.desk.tasting,
            now=self.desk.now(),
            vocabulary=self._vocabulary(),
            kept_at=partial(self.desk.kept_at, step, self.infusion),
            field_of=self._numbers.field_of,
            in_fahrenheit=self._settings().fahrenheit,
        )

    def _sheet_state(self, step: Step) -> SheetState:
        return SheetState(
            tasting=self.desk.tasting,
            vocabulary=self._vocabulary(),
            step=step,
            infusion=self.infusion,
            understood=self.said.understood,
            chosen=self.said.chosen,
            open_family=self._open_family,
            swallowed_s=self.stopwatch_s(),
        )


def _typed_keys(chip: str) -> tuple[PartKey, PartKey]:
    """Return what a chip may stand for while it is only typed: a word that is known, or a new one."""
    descriptor, _, channel = chip.partition(" ")
    return PartKey("descriptor", descriptor, channel), PartKey("unknown", descriptor, channel)


def _stage_of(column: ColumnKey) -> Stage:
    if column.isdigit():
        return "rinse" if column == "0" else "infusion"
    return "leaf" if column == "leaf" else "close"
