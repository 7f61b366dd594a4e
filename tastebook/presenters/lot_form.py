"""The form of a lot: every field of its provenance, all optional but the name."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any, Final

from tastebook.domain.errors import TastebookError, TastingError
from tastebook.domain.lot import Lot, ProcessingStep
from tastebook.presenters.lot_form_fields import FIELDS, STEP_HOURS, STEP_NAMES, FieldSpec, field_named
from tastebook.presenters.shelf_words import lot_title
from tastebook.presenters.typed import number_text, sentence
from tastebook.services.ports import LotLine
from tastebook.services.shelf import Shelf, following

BLANK_LOT: Final = Lot(uid="", name="", created_at_utc=datetime.min.replace(tzinfo=UTC))
"""What a new lot starts from; uid and time are given when it is kept."""

PROCESSING: Final = "processing"
FOLLOWS: Final = "follows"


@dataclass(frozen=True)
class FieldView:
    """One field as it stands: what is typed in it, and what is wrong with that."""

    key: str
    label: str
    text: str
    unit: str
    example: str
    choices: tuple[str, ...]
    error: str
    is_long: bool = False
    is_needed: bool = False

    @property
    def told(self) -> str:
        """Return the label with its unit, for assistive technology."""
        return f"{self.label}, in {self.unit}" if self.unit else self.label


@dataclass(frozen=True)
class StepView:
    """One stage of making."""

    name: str
    hours: str
    error: str


@dataclass(frozen=True)
class FollowChoice:
    """A lot that this one may be the next batch of; the empty uid stands for none."""

    lot_uid: str
    title: str


@dataclass(frozen=True)
class FormGroup:
    """Fields that belong together."""

    title: str
    fields: tuple[FieldView, ...]


@dataclass(frozen=True)
class LotFormView:
    """The whole form. `question` is asked when it is left with something that would be lost."""

    title: str
    is_new: bool
    groups: tuple[FormGroup, ...]
    steps: tuple[StepView, ...]
    step_choices: tuple[str, ...]
    follow_choices: tuple[FollowChoice, ...]
    follows: str
    hint: str
    notice: str
    question: str
    can_add: bool
    first_error: str


@dataclass
class _Step:
    name: str = ""
    hours: str = ""


class LotFormPresenter:
    """What is typed in the form, and when it is kept.

    A lot that is amended is kept field by field, as each is left. A new lot is kept as a whole, by `add`, since until
    then it may still be given up.

    Parameters
    ----------
    shelf : Shelf
        Where lots are kept.
    lines : sequence of LotLine
        The lots there are: what was written for them is offered again.
    lot : Lot
        What the form starts from.
    is_new : bool
        Whether the lot is still to be added.
    """

    def __init__(self, shelf: Shelf, lines: Sequence[LotLine], lot: Lot, *, is_new: bool) -> None:
        self._shelf = shelf
        self._lots = tuple(line.lot for line in lines)
        self._lot = lot
        self.is_new = is_new
        self._texts = {spec.key: spec.text_of(lot) for spec in FIELDS}
        self._steps = [_Step(step.name, number_text(step.hours)) for step in lot.processing]
        self._follows = lot.follows
        self._errors: dict[str, str] = {}
        self._step_errors: dict[int, str] = {}
        self._begun = self._content()
        self._notice = ""
        self._question = ""

    # -- gestures

    def type(self, key: str, text: str) -> None:
        """Take what stands in a field; what was wrong with it is no longer told."""
        self._texts[key] = text
        self._errors.pop(key, None)
        self._question = ""

    def leave(self, key: str) -> None:
        """Read a field as it is left, and keep it if the lot is being amended."""
        try:
            values = field_named(key).read(self._texts[key], self._lot, self._shelf.today())
            if self.is_new:
                self._lot = replace(self._lot, **values)
            else:
                self._keep(field_named(key).label.lower(), values)
        except TastebookError as exc:
            self._errors[key] = sentence(str(exc))
            return
        self._fill_in(values)

    def add_step(self) -> None:
        """Add a stage of making, to be named."""
        self._steps.append(_Step())

    def remove_step(self, place: int) -> None:
        """Take a stage away."""
        del self._steps[place]
        self.leave_steps()

    def move_step(self, place: int, by: int) -> None:
        """Move a stage up (below 0) or down."""
        to = place + by
        if 0 <= to < len(self._steps):
            self._steps.insert(to, self._steps.pop(place))
            self.leave_steps()

    def type_step(self, place: int, *, name: str | None = None, hours: str | None = None) -> None:
        """Take what stands in a stage."""
        step = self._steps[place]
        self._steps[place] = _Step(step.name if name is None else name, step.hours if hours is None else hours)
        self._step_errors.pop(place, None)
        self._question = ""

    def leave_steps(self) -> None:
        """Read the stages as they are left, and keep them if the lot is being amended."""
        steps = self._read_steps()
        if self._step_errors:
            return
        self._set(PROCESSING, "making", {PROCESSING: steps})

    def follow(self, lot_uid: str) -> None:
        """Say which lot this is the next batch of, empty for none."""
        self._follows = lot_uid or None
        self._set(FOLLOWS, "what it follows", {FOLLOWS: self._follows})

    def add(self) -> str:
        """Keep a new lot and return its uid, empty if something is wrong: then it says what."""
        self._notice = ""
        for spec in FIELDS:
            self.leave(spec.key)
        self.leave_steps()
        if not self._lot.name:
            self._errors["name"] = "A lot needs a name."
        if self._errors or self._step_errors:
            return ""
        try:
            kept = self._shelf.add(self._lot)
        except TastebookError as exc:
            self._notice = str(exc)
            return ""
        self._begun = self._content()
        return kept.uid

    def may_leave(self) -> bool:
        """Say whether the form can be left without losing anything; if not, it asks, and a second time it may."""
        if self._question or not self._would_lose():
            return True
        if self.is_new:
            self._question = "Leave without adding this lot? What you typed would be lost."
        else:
            self._question = "What is marked below was not kept. Leave it as it was?"
        return False

    def stay(self) -> None:
        """Go on with the form."""
        self._question = ""

    # -- what is seen

    def view(self) -> LotFormView:
        """Return the whole form."""
        titles = list(dict.fromkeys(spec.group for spec in FIELDS))
        return LotFormView(
            title="New lot" if self.is_new else f"Amend {self._lot.name}",
            is_new=self.is_new,
            groups=tuple(FormGroup(title, self._fields_in(title)) for title in titles),
            steps=tuple(self._step(place, step) for place, step in enumerate(self._steps)),
            step_choices=self._choices_of_steps(),
            follow_choices=self._follow_choices(),
            follows=self._follows or "",
            hint=self._hint(),
            notice=self._notice,
            question=self._question,
            can_add=not self._shelf.read_only_because,
            first_error=next((spec.key for spec in FIELDS if spec.key in self._errors), ""),
        )

    def _hint(self) -> str:
        if self._shelf.read_only_because:
            return self._shelf.read_only_because
        return "Only the name is needed." if self.is_new else "Each field is kept as you leave it."

    def _fields_in(self, group: str) -> tuple[FieldView, ...]:
        return tuple(self._field(spec) for spec in FIELDS if spec.group == group)

    def _field(self, spec: FieldSpec) -> FieldView:
        return FieldView(
            key=spec.key,
            label=spec.label,
            text=self._texts[spec.key],
            unit=spec.unit,
            example=spec.example,
            choices=self._choices_of(spec),
            error=self._errors.get(spec.key, ""),
            is_long=spec.is_long,
            is_needed=spec.key == "name",
        )

    def _step(self, place: int, step: _Step) -> StepView:
        return StepView(step.name, step.hours, self._step_errors.get(place, ""))

    def _choices_of(self, spec: FieldSpec) -> tuple[str, ...]:
        if not spec.has_choices:
            return ()
        return _each_once([*spec.choices, *(spec.text_of(lot) for lot in self._lots)])

    def _choices_of_steps(self) -> tuple[str, ...]:
        return _each_once([*STEP_NAMES, *(step.name for lot in self._lots for step in lot.processing)])

    def _follow_choices(self) -> tuple[FollowChoice, ...]:
        later = following(self._lot.uid, self._lots)
        others = (FollowChoice(lot.uid, lot_title(lot)) for lot in self._lots if lot.uid not in later)
        return (FollowChoice("", "none"), *others)

    # -- reading and keeping

    def _read_steps(self) -> tuple[ProcessingStep, ...]:
        self._step_errors.clear()
        steps = []
        for place, step in enumerate(self._steps):
            try:
                steps += [_step_read(step)] if step.name.strip() or step.hours.strip() else []
            except TastebookError as exc:
                self._step_errors[place] = sentence(str(exc))
        return tuple(steps)

    def _set(self, key: str, what: str, values: dict[str, Any]) -> None:
        self._errors.pop(key, None)
        self._notice = ""
        try:
            if self.is_new:
                self._lot = replace(self._lot, **values)
            else:
                self._keep(what, values)
        except TastebookError as exc:
            self._notice = sentence(str(exc))
            self._follows = self._lot.follows

    def _keep(self, what: str, values: dict[str, Any]) -> None:
        self._lot = self._shelf.change(self._lot.uid, what, **values)

    def _fill_in(self, values: dict[str, Any]) -> None:
        """Write fields as they were understood, also one that followed from another."""
        for spec in FIELDS:
            if spec.record in values and spec.key not in self._errors:
                self._texts[spec.key] = spec.text_of(self._lot)

    def _content(self) -> tuple[object, ...]:
        return (dict(self._texts), [(step.name, step.hours) for step in self._steps], self._follows)

    def _would_lose(self) -> bool:
        if self.is_new:
            return self._content() != self._begun
        return bool(self._errors or self._step_errors)


def next_batch(lot: Lot) -> Lot:
    """Return what a next batch starts from: all that batches share, and nothing that is this batch's own."""
    return replace(
        lot,
        uid="",
        follows=lot.uid,
        harvest_year=None,
        harvested_on=None,
        roast=replace(lot.roast, on=None),
        batch="",
        price_per_kg=None,
        quantity_g=None,
        notes="",
        archived=False,
    )


def _step_read(step: _Step) -> ProcessingStep:
    if not step.name.strip():
        raise TastingError("Name this stage, or clear its hours.")
    return ProcessingStep(step.name.strip(), STEP_HOURS.read(step.hours))


def _each_once(words: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(word for word in words if word))
