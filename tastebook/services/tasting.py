"""What a taster can do at the Bench: pour, say, amend, pass over, decide."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import replace
from datetime import date
from typing import Final, TypeVar

from tastebook.domain.act import Act, Change, History
from tastebook.domain.catching import column_of, is_past
from tastebook.domain.correcting import NOTHING_CORRECTED, Correction, Corrections, corrected, part_key
from tastebook.domain.course import Plan, Step
from tastebook.domain.errors import QuantityError, TastingError
from tastebook.domain.own_words import each_once, key_of
from tastebook.domain.quantities import (
    ALTITUDE_M,
    INTENSITY,
    LEAF_G,
    PLAN_S,
    STEEP_S,
    VOLUME_ML,
    WATER_C,
    Quantity,
)
from tastebook.domain.saying import Part, Understanding, understand
from tastebook.domain.session import (
    CLARITIES,
    DECISIONS,
    Impression,
    Infusion,
    KettleReading,
    Lab,
    LiquorSource,
    OwnDescriptor,
    Reading,
    Saying,
    Session,
    StepMark,
    Tasting,
    Verdict,
)
from tastebook.domain.spelling import slug
from tastebook.domain.steep import Instant, Steep
from tastebook.domain.vocabulary import Vocabulary
from tastebook.domain.water import hottest_c, nearest_possible_c, refusal
from tastebook.services.keeping import Keeping
from tastebook.services.said_parts import channel_at, channels_told, is_kept_new, takes_names, without_capital

ABSENT: Final = 0
UNSAID_STRENGTH: Final = 3
GOOD_INFUSIONS: Final = Quantity("number of good infusions", "", 0, 100)
QUANTITY_KG: Final = Quantity("quantity", "kg", 0, 10_000)
FRAME: Final = {"leaf_g": LEAF_G, "volume_ml": VOLUME_ML, "altitude_m": ALTITUDE_M}


class TastingDesk:
    """One tasting under the taster's hands.

    Every method keeps one act before it returns; `tasting` is then the new value.

    Parameters
    ----------
    keeping : Keeping
        Where acts are kept.
    vocabulary : callable
        Returns the words known now, the user's own included.
    session_uid : str
        The session to work on.
    """

    def __init__(self, keeping: Keeping, vocabulary: Callable[[], Vocabulary], session_uid: str) -> None:
        self._keeping = keeping
        self._vocabulary = vocabulary
        self.tasting: Tasting = keeping.journal.tasting(session_uid)
        keeping.follow(self._take)

    @property
    def scope(self) -> str:
        """Return the uid under which the acts of this tasting are kept."""
        return self.tasting.session.uid

    def reread(self) -> None:
        """Read the tasting and its history anew: it was changed elsewhere."""
        self._keeping.forget()
        self.tasting = self._keeping.journal.tasting(self.scope)

    def leave(self) -> None:
        """Stop following the journal; the desk is of no further use."""
        self._keeping.unfollow(self._take)

    @property
    def history(self) -> History:
        """Return what can be taken back and done again here: not that the session began."""
        kept = self._keeping.history(self.scope)
        begun = 1 if kept.undoable and _begins_session(kept.undoable[0]) else 0
        return History(kept.undoable[begun:], kept.redoable)

    def now(self) -> Instant:
        """Return this moment."""
        return self._keeping.clock.now()

    # -- the steep

    def planned_s(self, index: int) -> int:
        """Return the planned time of an infusion, from the taster's own plan or else the course."""
        cup = self.tasting.infusion(index)
        return cup.planned_s if cup else self._plan.planned_s(index)

    def water_c(self, index: int) -> float:
        """Return the water temperature of an infusion: its own, or else that of the cup before it."""
        earlier = (one.water_c for one in reversed(self.tasting.infusions) if one.index <= index)
        known_c = next((temp_c for temp_c in earlier if temp_c is not None), self._plan.water_c)
        return nearest_possible_c(known_c, self.hottest_c)

    @property
    def hottest_c(self) -> float:
        """Return how hot water can be where this session is."""
        return hottest_c(self.tasting.session.altitude_m, self.tasting.session.pressure_hpa)

    def steep(self, index: int, lead_s: int) -> Steep:
        """Return an infusion's steep as it stands now; the lead is never more than half of a short plan."""
        cup = self.tasting.infusion(index)
        planned_s = self.planned_s(index)
        lead_s = min(lead_s, planned_s // 2)
        if cup is None or cup.started is None:
            return Steep(planned_s, lead_s)
        if cup.actual_ms is not None:
            return Steep(planned_s, lead_s, cup.actual_ms, is_poured=True)
        return Steep(planned_s, lead_s, self._keeping.clock.now().ms_since(cup.started))

    def pour_water_on(self, index: int, water_c: float | None = None) -> None:
        """Begin the steep of an infusion; `water_c` is an estimate of the water, where there is a better one.

        Raises
        ------
        TastingError
            If another infusion is still in water, or this one was poured already.
        """
        steeping = self.tasting.steeping
        if steeping is not None:
            raise TastingError(f"{column_name(steeping.index)} is still in water: pour it first.")
        cup = self._cup(index)
        if cup.is_poured:
            raise TastingError(f"{column_name(index)} was poured already. Undo the pour, or go on to the next.")
        started = replace(cup, started=self._keeping.clock.now(), water_c=self.water_c(index))
        if water_c is not None:
            started = replace(started, water_c=water_c, water_measured=False)
        self._keep(f"water on {column_name(index).lower()}", self._change(cup, started))

    def pour(self) -> None:
        """End the steep: the moment of this call is the moment of pouring.

        Raises
        ------
        TastingError
            If nothing is in water.
        """
        cup = self.tasting.steeping
        if cup is None or cup.started is None:
            raise TastingError("No infusion is in water.")
        now = self._keeping.clock.now()
        poured = replace(cup, poured=now, actual_ms=now.ms_since(cup.started))
        self._keep(f"{column_name(cup.index)} poured", self._change(cup, poured))

    def amend_steep(self, index: int, seconds: float) -> None:
        """Set how long an infusion was in water, when the pour was pressed late or not at all."""
        cup = self._known_cup(index)
        actual_ms = round(STEEP_S.checked(seconds) * 1000)
        poured = cup.poured or self._keeping.clock.now()
        started = cup.started or poured
        amended = replace(cup, started=started, poured=poured, actual_ms=actual_ms)
        self._keep(f"{column_name(index)}: {seconds:g} s in water", self._change(cup, amended))

    def plan(self, index: int, seconds: int) -> None:
        """Set the planned time of an infusion."""
        cup = self._cup(index)
        planned = replace(cup, planned_s=int(PLAN_S.checked(seconds)))
        self._keep(f"plan {seconds} s", self._change(cup, planned))

    def set_water(self, index: int, temp_c: float) -> None:
        """Plan the water temperature of an infusion, in °C.

        Raises
        ------
        QuantityError
            If it is none, or water cannot be so hot at this place; the words name the nearest that it can be.
        """
        cup = self._cup(index)
        warm = replace(cup, water_c=self._possible(temp_c), water_measured=False)
        self._keep(f"water {temp_c:g} °C", self._change(cup, warm))

    def measure_water(self, index: int, temp_c: float) -> None:
        """Keep what a thermometer in the kettle says now: the water of an infusion, and how the kettle cools."""
        cup = self._cup(index)
        warm = replace(cup, water_c=self._possible(temp_c), water_measured=True)
        reading = KettleReading(self._new(), self.scope, self._keeping.clock.now(), temp_c)
        self._keep(f"water measured, {temp_c:g} °C", self._change(cup, warm), Change(None, reading))

    def mark_boil(self, index: int) -> None:
        """Keep that the kettle boils now; what an infusion's water was thought to be gives way to it."""
        reading = KettleReading(self._new(), self.scope, self._keeping.clock.now(), self.hottest_c, boiled=True)
        cup = self._cup(index)
        is_waiting = cup.started is None and cup.water_c is not None
        now_open = (self._change(cup, replace(cup, water_c=None, water_measured=False)),) if is_waiting else ()
        self._keep("kettle boiled", Change(None, reading), *now_open)

    def set_frame(self, key: str, value: float) -> None:
        """Set what frames the session as a number: `leaf_g`, `volume_ml` or `altitude_m`.

        Raises
        ------
        QuantityError
            If the number cannot be meant.
        """
        quantity = FRAME[key]
        checked = quantity.checked(value)
        session = self.tasting.session
        by_eye = session.leaf_by_eye and key != "leaf_g"
        after = replace(session, leaf_by_eye=by_eye, **{key: checked})  # type: ignore[arg-type]
        self._keep(f"{quantity.name} {checked:g} {quantity.unit}", Change(session, after))

    def _possible(self, temp_c: float) -> float:
        why = refusal(WATER_C.checked(temp_c), self.hottest_c)
        if why:
            raise QuantityError(why)
        return temp_c

    # -- what is perceived

    def understand(self, step: Step, text: str, infusion: int | None = None) -> Understanding:
        """Return what the say line would record, without recording it; change is relative to the infusion before."""
        return understand(
            text,
            self._vocabulary(),
            scales=step.scales,
            clarity=step.sheet == "liquor",
            channel=step.channel,
            last=self._last(step, infusion),
        )

    def _last(self, step: Step, infusion: int | None) -> dict[str, float]:
        """Return the strengths that a step gave at the last infusion before, and every reading of that infusion."""
        if step.stage != "infusion" or infusion is None:
            return {}
        earlier = reversed([one.index for one in self.tasting.infusions if 0 < one.index < infusion])
        for index in earlier:
            told: dict[str, float] = {one.scale: one.value for one in self.tasting.readings if one.infusion == index}
            here = each_once(self.tasting.impressions_at(step.key, index), self._vocabulary())
            told |= {one.descriptor: one.intensity for one in here}
            if told:
                return told
        return {}

    def say(
        self, step: Step, infusion: int | None, text: str, corrections: Corrections = NOTHING_CORRECTED
    ) -> Understanding:
        """Keep the exact words and what was understood of them, with what the taster set right, as one act."""
        read = self.understand(step, text, infusion)
        understood = corrected(read, corrections)
        if not text.strip():
            return understood
        column, late = self._place(step, infusion)
        now = self._keeping.clock.utc_now()
        saying = Saying(self._new(), self.scope, step.key, column, text.strip(), now, late)
        changes = [Change(None, saying)]
        for part in understood.parts:
            changes += self._changes_for(part, step, column, late, saying.uid, changes)
        for part in read.of_kind("unknown"):
            if takes_names(step, part) and corrections.get(part_key(part), Correction()).dropped:
                changes += self._named(part, changes, is_talk=True)
        self._keep(_shortened(text), *changes)
        return understood

    def kept_at(self, step: Step, infusion: int | None, part: Part) -> str:
        """Return where a part said at a step would be kept: the key of a step, `cup`, or empty where it stays words."""
        if part.kind == "reading":
            at = step if part.asked else self._step_that_asks(part.key, step)
            return at.key if at is not None else ""
        if part.kind in ("clarity", "colour"):
            column = column_of(step.stage, infusion)
            return "cup" if column is not None and self._is_for_cup(part, step, column) else ""
        return step.key if part.kind == "descriptor" or is_kept_new(step, part) else ""

    def note(self, step: Step, infusion: int | None, descriptor: str, intensity: int, channel: str = "") -> None:
        """Set the strength of one descriptor; 0 says it was looked for and is absent.

        `channel` tells apart what one step has of it in several; empty stands for any.
        """
        column, late = self._place(step, infusion)
        name = self.word_for(descriptor)
        strength = int(INTENSITY.checked(intensity))
        change = self._impression(step, column, descriptor, name, strength, late, None, channel=channel)
        self._keep(f"no {name}" if strength == ABSENT else f"{name} {strength}", change)

    def remove(self, *impression_uids: str) -> None:
        """Take an impression away, or all those of one word."""
        noted = [self._impression_by(uid) for uid in impression_uids]
        self._keep(f"without {noted[0].word}", *(Change(one, None) for one in noted))

    def flag(self, *impression_uids: str, clouded: bool | None = None, doubtful: bool | None = None) -> None:
        """Mark that the surroundings may have caused an impression, or that the taster doubts it."""
        noted = [self._impression_by(uid) for uid in impression_uids]
        self._keep(f"marks on {noted[0].word}", *(Change(one, _flagged(one, clouded, doubtful)) for one in noted))

    def read(self, step: Step, infusion: int | None, scale: str, value: float) -> None:
        """Set a position on one scale."""
        column, late = self._place(step, infusion)
        known = self._vocabulary().scale(scale)
        checked = STEEP_S.checked(value) if known.unit == "s" else INTENSITY.checked(value)
        self._keep(f"{known.short} {checked:g}", self._reading(step, column, scale, checked, late))

    def clear_reading(self, step: Step, infusion: int | None, scale: str) -> None:
        """Make one scale not assessed again."""
        column = column_of(step.stage, infusion)
        before = next((one for one in self.tasting.readings_at(step.key, column) if one.scale == scale), None)
        if before is not None:
            self._keep(f"{self._vocabulary().scale(scale).short} not assessed", Change(before, None))

    def flag_reading(self, step: Step, infusion: int | None, scale: str, *, clouded: bool, doubtful: bool) -> None:
        """Mark a reading as clouded by the surroundings, or as doubtful."""
        column = column_of(step.stage, infusion)
        before = next((one for one in self.tasting.readings_at(step.key, column) if one.scale == scale), None)
        if before is not None:
            after = replace(before, clouded=clouded, doubtful=doubtful)
            self._keep(f"marks on {self._vocabulary().scale(scale).short}", Change(before, after))

    def see_liquor(self, step: Step, index: int, lab: Lab, source: LiquorSource) -> None:
        """Set the colour of the liquor."""
        self._keep("liquor colour", self.liquor_change(step, index, lab, source))

    def liquor_change(self, step: Step, index: int, lab: Lab, source: LiquorSource) -> Change:
        """Return what setting the colour of the liquor changes, for an act that changes more besides."""
        cup = self._known_cup(index)
        late = is_past(self.tasting, step, index, self._keeping.clock.now())
        return self._change(cup, replace(cup, liquor=lab, liquor_source=source, liquor_late=late))

    def see_clarity(self, step: Step, index: int, clarity: str) -> None:
        """Set how clear the liquor is."""
        if clarity not in CLARITIES:
            raise TastingError(f"“{clarity}” is not a clarity: choose from {', '.join(CLARITIES)}.")
        cup = self._known_cup(index)
        late = is_past(self.tasting, step, index, self._keeping.clock.now())
        self._keep(f"liquor {clarity}", self._change(cup, _with_clarity(cup, clarity, late)))

    def place_word(self, name: str, family: str) -> None:
        """Give a word of the taster's own a family."""
        self._vocabulary().family(family)
        known = self._vocabulary().find(name)
        key = known.key if known else slug(name)
        before = next((one for one in self._keeping.journal.own_descriptors() if key_of(one) == key), None)
        if before is not None:
            change = Change(before, replace(before, family=family, is_talk=False))
        else:
            change = Change(None, OwnDescriptor(self._new(), name, family, self._keeping.clock.utc_now()))
        self._keep(f"“{name}” is {family}", change)

    def word_for(self, descriptor: str) -> str:
        """Return a descriptor's name, or what the taster called it if the vocabulary has no such word."""
        vocabulary = self._vocabulary()
        if vocabulary.has(descriptor):
            return vocabulary.descriptor(descriptor).name
        said = (one.word for one in self.tasting.impressions if one.descriptor == descriptor)
        return next(said, descriptor.replace("-", " "))

    # -- the way through

    def skip(self, step: Step, infusion: int | None) -> None:
        """Pass a step over on purpose; it can be come back to."""
        self._mark(step, infusion, "skipped")

    def finish_step(self, step: Step, infusion: int | None) -> None:
        """Say that a step was attended to and there was nothing to name."""
        self._mark(step, infusion, "done")

    def unmark(self, step: Step, infusion: int | None) -> None:
        """Take a step up again."""
        before = self.tasting.mark_at(step.key, column_of(step.stage, infusion))
        if before is not None:
            self._keep(f"{step.name} taken up again", Change(before, None))

    def decide(self, verdict: Verdict) -> None:
        """Keep the verdict as it stands now.

        Raises
        ------
        TastingError
            If the decision is not one of the trade's, or a rest has no date.
        QuantityError
            If a number cannot be meant.
        """
        if verdict.decision and verdict.decision not in DECISIONS:
            raise TastingError(f"“{verdict.decision}” is not a decision: choose from {', '.join(DECISIONS)}.")
        if verdict.decision == "rest until" and not isinstance(verdict.rest_until, date):
            raise TastingError("A tea that rests needs a date: until when?")
        for quantity, value in ((GOOD_INFUSIONS, verdict.good_infusions), (QUANTITY_KG, verdict.quantity_kg)):
            if value is not None:
                quantity.checked(value)
        self._keep(f"verdict: {verdict.decision or 'amended'}", Change(self.tasting.verdict, verdict))

    def verdict(self) -> Verdict:
        """Return the verdict as it stands, an empty one if none was given."""
        return self.tasting.verdict or Verdict(self._new(), self.scope)

    def close(self) -> None:
        """End the session; one that has ended stays as it ended.

        Raises
        ------
        TastingError
            If an infusion is still in water.
        """
        steeping = self.tasting.steeping
        if steeping is not None:
            raise TastingError(f"{column_name(steeping.index)} is still in water: pour it before you finish.")
        session = self.tasting.session
        closed_at_utc = session.closed_at_utc or self._keeping.clock.utc_now()
        self._keep("session finished", Change(session, replace(session, closed_at_utc=closed_at_utc)))

    def reopen(self) -> None:
        """Take an ended session up again."""
        session = self.tasting.session
        self._keep("session taken up again", Change(session, replace(session, closed_at_utc=None)))

    def undo(self) -> Act | None:
        """Take back the newest act of this session that still stands."""
        return self._keeping.undo(self.scope) if self.history.undoable else None

    def redo(self) -> Act | None:
        """Do again what was taken back last."""
        return self._keeping.redo(self.scope)

    # -- inside

    @property
    def _plan(self) -> Plan:
        lot = self.tasting.lot
        return self.tasting.session.course.plan_for(lot.kind, lot.form)

    def _take(self, act: Act) -> None:
        self.tasting = self.tasting.after((change.before, change.after) for change in act.changes)

    def _keep(self, label: str, *changes: Change) -> None:
        named = {record.uid for change in changes if (record := change.before or change.after)}
        twins = [twin for change in changes for twin in self._twins(change, named)]
        self._keeping.keep(self.scope, label, (*changes, *twins))

    def _twins(self, change: Change, named: Collection[str]) -> list[Change]:
        """Return what a note means for those under another key of its word, one taken in: none may outshine it."""
        now, resolve = change.after, self._vocabulary().resolve
        if not isinstance(now, Impression) or not self._vocabulary().merged:
            return []
        here = self.tasting.impressions_at(now.step, now.infusion)
        same = [one for one in here if (resolve(one.descriptor), one.channel) == (resolve(now.descriptor), now.channel)]
        stronger = [one for one in same if one.uid not in named and one.intensity > now.intensity]
        return [Change(one, replace(one, intensity=now.intensity)) for one in stronger]

    def _new(self) -> str:
        return self._keeping.ids.new()

    def _cup(self, index: int) -> Infusion:
        known = self.tasting.infusion(index)
        return known or Infusion(self._new(), self.scope, index, self.planned_s(index))

    def _known_cup(self, index: int) -> Infusion:
        cup = self.tasting.infusion(index)
        if cup is None:
            raise TastingError(f"{column_name(index)} has not been begun.")
        return cup

    def _change(self, before: Infusion, after: Infusion) -> Change:
        return Change(before if self.tasting.infusion(before.index) else None, after)

    def _place(self, step: Step, infusion: int | None) -> tuple[int | None, bool]:
        column = column_of(step.stage, infusion)
        return column, is_past(self.tasting, step, column, self._keeping.clock.now())

    def _changes_for(
        self, part: Part, step: Step, column: int | None, late: bool, saying_uid: str, so_far: Iterable[Change]
    ) -> list[Change]:
        if part.kind == "reading" and part.value is not None:
            at = step if part.asked else self._step_that_asks(part.key, step)
            if at is None:
                return []
            late = late if at is step else is_past(self.tasting, at, column, self._keeping.clock.now())
            reading = self._reading(at, column_of(at.stage, column), part.key, part.value, late, part.said, so_far)
            return [_doubted(reading, part)]
        if part.kind in ("clarity", "colour"):
            return self._liquor_changes(part, step, column, late, so_far)
        if part.kind == "descriptor" or is_kept_new(step, part):
            strength = part.intensity if part.has_strength else None
            if denied := self._denied(part, step, column, so_far):
                return denied
            channel = part.channel or channel_at(step)
            change = self._impression(step, column, part.key, part.said, strength, late, saying_uid, so_far, channel)
            return [_doubted(change, part), *self._named(part, so_far)]
        return []

    def _denied(self, part: Part, step: Step, column: int | None, so_far: Iterable[Change]) -> list[Change]:
        """Return what a thing said not to be there makes of what was noted of it before, in whichever channel.

        Where the denial names a channel, only what was noted there; what the same words say of it elsewhere stays.
        """
        if part.intensity != ABSENT or not part.has_strength:
            return []
        said_now = {one.uid for one in _in(so_far, Impression)}
        resolve, told = self._vocabulary().resolve, channels_told(part)
        return [
            Change(one, replace(one, intensity=ABSENT))
            for one in self.tasting.impressions_at(step.key, column)
            if resolve(one.descriptor) == resolve(part.key) and one.uid not in said_now
            if not told or one.channel in told
        ]

    def _named(self, part: Part, so_far: Iterable[Change] = (), *, is_talk: bool = False) -> list[Change]:
        """Return a word of the taster's own, where one said is new: with its family, or as no tasting word at all."""
        family = "" if is_talk else part.family or part.guess
        before = next((one for one in self._keeping.journal.own_descriptors() if key_of(one) == part.key), None)
        if part.kind != "unknown" or any(slug(one.name) == part.key for one in _in(so_far, OwnDescriptor)):
            return []
        if before is not None:
            after = replace(before, family=family, is_talk=is_talk)
            return [Change(before, after)] if before.is_talk != is_talk else []
        name, now = without_capital(part.said), self._keeping.clock.utc_now()
        new = OwnDescriptor(self._new(), name, family, now, is_talk=is_talk)
        return [Change(None, new)] if family or is_talk else []

    def _step_that_asks(self, scale: str, step: Step) -> Step | None:
        """Return the step of the same column that asks for a scale, None if the course has none."""
        asking = (one for one in self.tasting.session.course.steps if scale in one.scales)
        return next((one for one in asking if one.stage == step.stage), None)

    def _liquor_changes(
        self, part: Part, step: Step, column: int | None, late: bool, so_far: Iterable[Change]
    ) -> list[Change]:
        """Return what words say of the cup: its clarity or its colour; said elsewhere they fill in what is not set."""
        if column is None or not self._is_for_cup(part, step, column):
            return []
        cup = next(reversed(_in(so_far, Infusion)), None) or self._known_cup(column)
        if part.kind == "clarity":
            return [Change(cup, _with_clarity(cup, part.key, late))]
        return [Change(cup, replace(cup, liquor=part.lab, liquor_source="chart", liquor_late=late))]

    def _is_for_cup(self, part: Part, step: Step, column: int) -> bool:
        """Say whether words of clarity or colour are to be kept with the cup as it stood before they were said."""
        cup = self.tasting.infusion(column)
        if part.of == "leaf" or (part.kind == "colour" and part.lab is None):
            return False
        if step.sheet == "liquor":
            return True
        return cup is not None and (not cup.clarity if part.kind == "clarity" else cup.liquor is None)

    def _impression(
        self,
        step: Step,
        column: int | None,
        descriptor: str,
        word: str,
        intensity: int | None,
        late: bool,
        saying_uid: str | None,
        so_far: Iterable[Change] = (),
        channel: str = "",
    ) -> Change:
        here = [*self.tasting.impressions_at(step.key, column), *_in(so_far, Impression)]
        resolve = self._vocabulary().resolve
        same = (one for one in reversed(here) if resolve(one.descriptor) == resolve(descriptor))
        before = next((one for one in same if not channel or one.channel == channel), None)
        if before is not None:
            return Change(before, replace(before, intensity=before.intensity if intensity is None else intensity))
        now = self._keeping.clock.utc_now()
        strength = UNSAID_STRENGTH if intensity is None else intensity
        after = Impression(
            self._new(), self.scope, step.key, column, channel or step.channel, descriptor, word, strength, now, late,
            saying_uid=saying_uid,
        )  # fmt: skip
        return Change(None, after)

    def _reading(
        self,
        step: Step,
        column: int | None,
        scale: str,
        value: float,
        late: bool,
        word: str = "",
        so_far: Iterable[Change] = (),
    ) -> Change:
        here = [*self.tasting.readings_at(step.key, column), *_in(so_far, Reading)]
        place = (step.key, column, scale)
        before = next((one for one in reversed(here) if (one.step, one.infusion, one.scale) == place), None)
        if before is not None:
            return Change(before, replace(before, value=value, word=word))
        now = self._keeping.clock.utc_now()
        return Change(None, Reading(self._new(), self.scope, step.key, column, scale, value, now, late, word=word))

    def _impression_by(self, uid: str) -> Impression:
        for impression in self.tasting.impressions:
            if impression.uid == uid:
                return impression
        raise TastingError("That impression is no longer here.")

    def _mark(self, step: Step, infusion: int | None, mark: str) -> None:
        column = column_of(step.stage, infusion)
        before = self.tasting.mark_at(step.key, column)
        now = self._keeping.clock.utc_now()
        uid = before.uid if before else self._new()
        after = StepMark(uid, self.scope, step.key, column, "skipped" if mark == "skipped" else "done", now)
        self._keep(f"{step.name} {mark}", Change(before, after))


def column_name(index: int) -> str:
    """Return what an infusion is called, such as `Infusion 3`."""
    return "Rinse" if index == 0 else f"Infusion {index}"


def _doubted(change: Change, part: Part) -> Change:
    """Return a change with the taster's doubt, if there is any; what was doubted before stays so."""
    after = change.after
    if not part.doubtful or not isinstance(after, (Impression, Reading)):
        return change
    return replace(change, after=replace(after, doubtful=True))


def _flagged(one: Impression, clouded: bool | None, doubtful: bool | None) -> Impression:
    """Return an impression with marks; None leaves one as it is."""
    return replace(
        one,
        clouded=one.clouded if clouded is None else clouded,
        doubtful=one.doubtful if doubtful is None else doubtful,
    )


def _begins_session(act: Act) -> bool:
    return any(change.before is None and isinstance(change.after, Session) for change in act.changes)


def _with_clarity(cup: Infusion, clarity: str, late: bool) -> Infusion:
    """Return the cup with its clarity; that it was seen late is the colour's mark, where there is a colour."""
    return replace(cup, clarity=clarity, liquor_late=late if cup.liquor is None else cup.liquor_late)


def _shortened(text: str, most: int = 60) -> str:
    words = " ".join(text.split())
    return words if len(words) <= most else words[: most - 1] + "…"


R = TypeVar("R")


def _in(changes: Iterable[Change], kind: type[R]) -> list[R]:
    return [change.after for change in changes if isinstance(change.after, kind)]
