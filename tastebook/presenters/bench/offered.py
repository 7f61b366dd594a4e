"""Numbers with units that were said: each is offered to the field it belongs to, and set only when it is taken."""

from __future__ import annotations

from collections.abc import Callable

from tastebook.domain.correcting import PartKey, part_key
from tastebook.domain.saying import Part
from tastebook.presenters.bench.said import SayLine
from tastebook.services.tasting import FRAME, TastingDesk, column_name


class OfferedNumbers:
    """Where each number in the say line belongs, and how it gets there.

    Parameters
    ----------
    desk : TastingDesk
        Where it is set.
    said : SayLine
        Where it was said.
    infusion : callable
        Returns the infusion that is looked at, None at leaf and close.
    planned_index : callable
        Returns the infusion whose plan the timer shows.
    """

    def __init__(
        self, desk: TastingDesk, said: SayLine, infusion: Callable[[], int | None], planned_index: Callable[[], int]
    ) -> None:
        self._desk, self._said = desk, said
        self._infusion, self._planned_index = infusion, planned_index

    def field_of(self, part: Part) -> str:
        """Return which field a number is offered to: that of the session, or of one infusion."""
        return "session" if part.key in FRAME else column_name(self._index(part.key)).lower()

    def take(self, key: PartKey | None) -> None:
        """Set the field of a number: of the one named, of the chosen one, or of the first.

        Raises
        ------
        QuantityError
            If the number cannot be meant there.
        TastingError
            If the field cannot be set now.
        """
        waiting = {part_key(part): part for part in self._said.quantities}
        wanted = key or self._said.chosen
        part = waiting.get(wanted) if wanted else None
        part = part or next(iter(waiting.values()), None)
        if part is not None and part.value is not None:
            self._set(part.key, part.value)
            self._said.use(part)

    def _index(self, key: str) -> int:
        """Return the infusion that a number said here belongs to: the cup looked at once begun, else the one planned.

        A plan is for what is not poured yet, whichever cup is looked at.
        """
        if key == "plan_s":
            return self._planned_index()
        looked_at = self._infusion()
        cup = self._desk.tasting.infusion(looked_at) if looked_at is not None else None
        return cup.index if cup is not None and cup.started is not None else self._planned_index()

    def _set(self, key: str, value: float) -> None:
        index = self._index(key)
        cup = self._desk.tasting.infusion(index)
        if key in FRAME:
            self._desk.set_frame(key, value)
        elif key == "water_c":
            self._desk.set_water(index, round(value, 2))
        elif cup is not None and cup.is_poured:
            self._desk.amend_steep(index, value)
        else:
            self._desk.plan(index, round(value))
