"""The parts of a passage, side by side: every word belongs to one of them, and what nobody knows is kept as said."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final

from tastebook.domain.saying_context import Context
from tastebook.domain.saying_found import Found
from tastebook.domain.saying_frames import Likeness
from tastebook.domain.saying_lexicon import Lexeme
from tastebook.domain.saying_parts import Because, Part, PartKind
from tastebook.domain.spelling import slug
from tastebook.domain.vocabulary import Vocabulary

LONGEST_NAME_WORDS: Final = 3
"""Unknown words beyond this many are prose."""

SHORT_TEXT_WORDS: Final = 30
"""In a longer passage unknown words are names only where a strength or the like leads to them."""

MOST: Final = 5
REMARK: Final = -1
STRIPPED: Final = frozenset(
    {"by", "of", "no", "hedge", "sure", "up", "soft", "and", "or", "noun", "number", "absent", "lead"}
)
IN_A_NAME: Final = frozenset({"of", "a", "an", "the", "my", "our", "some", "in", "and", "or"})
OF_A_KIND: Final = frozenset({"kind", "sort", "type", "variety", "version", "stuff"})
LEADS_TO_NAME: Final = frozenset({"of", "no"})


@dataclass(frozen=True)
class Placed:
    """A part with the lexemes it stands on, and what it was read from."""

    part: Part
    first: int
    after: int
    found: Found | None = None


def laid_out(
    text: str, context: Context, placed: Sequence[Placed], likenesses: Sequence[Likeness], vocabulary: Vocabulary
) -> tuple[Part, ...]:
    """Return the parts of a text in order; every letter and digit lies in exactly one."""
    return tuple(_Layout(text, context, placed, likenesses, vocabulary).parts())


class _Layout:
    def __init__(
        self, text: str, context: Context, placed: Sequence[Placed], likenesses: Sequence[Likeness],
        vocabulary: Vocabulary,
    ) -> None:  # fmt: skip
        self._text, self._context, self._vocabulary = text, context, vocabulary
        self._lexemes = context.lexemes
        self._placed = sorted(placed, key=lambda one: one.first)
        self._likenesses = likenesses
        self._owners: list[int | None] = [None] * len(self._lexemes)
        self._is_short = sum(1 for one in self._lexemes if not one.cut) <= SHORT_TEXT_WORDS
        self._names: dict[int, Part] = {}

    def parts(self) -> Iterator[Part]:
        """Yield the parts in order."""
        self._own_words()
        self._own_the_rest()
        runs = self._gathered(self._runs())
        for owner, first, last in runs:
            if any(lexeme.token.kind in ("word", "number") for lexeme in self._lexemes[first : last + 1]):
                yield self._part(owner, first, last)

    # -- whose is each lexeme

    def _own_words(self) -> None:
        for number, one in enumerate(self._placed):
            self._owners[one.first : one.after] = [number] * (one.after - one.first)
        for number, one in enumerate(self._placed):
            for place, _ in one.found.cues() if one.found else ():
                if self._owners[place] is None and not self._lexemes[place].cut:
                    self._owners[place] = number
        for number, likeness in enumerate(self._likenesses):
            for place in range(likeness.first, likeness.after):
                if self._owners[place] is None:
                    self._owners[place] = -2 - number
        for place, lexeme in enumerate(self._lexemes):
            if lexeme.is_masked and self._owners[place] is None:
                self._owners[place] = REMARK

    def _own_the_rest(self) -> None:
        for first, after in self._segments():
            self._own_segment(first, after)

    def _segments(self) -> Iterator[tuple[int, int]]:
        first = 0
        for place, lexeme in enumerate(self._lexemes):
            if lexeme.cut:
                if place > first:
                    yield first, place
                first = place + 1
        if first < len(self._lexemes):
            yield first, len(self._lexemes)

    def _own_segment(self, first: int, after: int) -> None:
        """Give every lexeme between two cuts to what stands next; new names stand for themselves."""
        for begun, ended in self._chunks(first, after):
            if all(self._owners[place] is None for place in range(begun, ended)):
                self._name(begun, ended, alone=(begun, ended) == (first, after))
        owner: int | None = None
        for place in range(after - 1, first - 1, -1):
            owner = self._owners[place] if self._owners[place] is not None else owner
            self._owners[place] = owner
        owner = None
        for place in range(first, after):
            owner = self._owners[place] if self._owners[place] is not None else owner
            self._owners[place] = REMARK if owner is None else owner

    def _chunks(self, first: int, after: int) -> Iterator[tuple[int, int]]:
        begun = first
        for place in range(first, after):
            if place > begun and {"and", "or"} & self._lexemes[place].roles.keys():
                yield begun, place
                begun = place
        yield begun, after

    # -- new names

    def _name(self, first: int, after: int, *, alone: bool) -> None:
        """Take a chunk in which nothing is known for the name of something new, if it may be one."""
        first = self._led_from(first, after)
        kept = self._stripped(first, after)
        if kept is None:
            return
        begun, ended = kept
        led = any(LEADS_TO_NAME & lexeme.roles.keys() for lexeme in self._lexemes[first:begun])
        counted = self._counted(first, begun, ended, after)
        if counted is None or not (self._is_short or led) or not (alone or self._is_short or led):
            return
        said = self._text[self._lexemes[begun].start : self._lexemes[ended - 1].end]
        intensity, has_strength = counted
        key = slug(said)
        part = Part(
            "unknown", 0, 0, said, key, intensity, None, "unknown", has_strength=has_strength,
            guess=self._vocabulary.guess_family(said),
            word_start=self._lexemes[begun].start, word_end=self._lexemes[ended - 1].end,
        )  # fmt: skip
        number = len(self._placed) + len(self._names)
        self._names[number] = part
        self._owners[first:after] = [number] * (after - first)

    def _led_from(self, first: int, after: int) -> int:
        """Return where the words stand that lead to a name, as in `there is a hint of cornflour`, or the beginning."""
        for place in range(after - 2, first - 1, -1):
            if not LEADS_TO_NAME.isdisjoint(self._lexemes[place].roles) and not self._lexemes[place].is_masked:
                return place
        return first

    def _stripped(self, first: int, after: int) -> tuple[int, int] | None:
        """Return the words of a name within a chunk, None if it is talk."""
        begun, ended = first, after
        while begun < ended and self._is_around(begun):
            begun += 1
        while ended > begun and self._is_around(ended - 1):
            ended -= 1
        words = self._lexemes[begun:ended]
        count = sum(len(lexeme.plain.split()) for lexeme in words if lexeme.plain not in IN_A_NAME)
        new = [place for place in range(begun, ended) if self._is_new(place)]
        if not new or (len(new) == 1 and self._is_colour(new[0])) or self._tells_which(begun, ended):
            return None
        if count > LONGEST_NAME_WORDS or (len(words) == 1 and self._says_how(new[0])):
            return None
        return (begun, ended) if all(self._may_name(place) for place in range(begun, ended)) else None

    def _is_colour(self, place: int) -> bool:
        return any(sense.kind == "colour" for sense in self._lexemes[place].senses)

    def _tells_which(self, begun: int, ended: int) -> bool:
        """Say whether words only tell which of a thing is meant (`not the frozen kind`), or what never was done."""
        before = self._lexemes[begun - 1].plain if begun else ""
        return self._lexemes[ended - 1].plain in OF_A_KIND or before == "never"

    def _is_around(self, place: int) -> bool:
        lexeme = self._lexemes[place]
        if lexeme.number is not None or lexeme.plain in ("a", "an", "the", "of", "some", "is", "there"):
            return True
        return not STRIPPED.isdisjoint(lexeme.roles) and not self._is_new(place)

    def _is_new(self, place: int) -> bool:
        lexeme = self._lexemes[place]
        if place in self._context.taken_back:
            return False
        return lexeme.is_unknown or (bool(lexeme.senses) and not lexeme.roles and not lexeme.is_masked)

    def _says_how(self, place: int) -> bool:
        """Say whether a word alone is no new name: it is of a scale, an adverb, or what somebody is doing."""
        senses, words = self._lexemes[place].senses, self._lexemes[place].plain
        return all(sense.kind != "descriptor" for sense in senses) if senses else words.endswith(("ly", "ing"))

    def _may_name(self, place: int) -> bool:
        lexeme = self._lexemes[place]
        return self._is_new(place) or "talk" in lexeme.roles or lexeme.plain in IN_A_NAME or "noun" in lexeme.roles

    def _counted(self, first: int, begun: int, ended: int, after: int) -> tuple[int, bool] | None:
        """Return the strength of a name and whether it was said, None if a number there is none."""
        around = [*self._lexemes[first:begun], *self._lexemes[ended:after]]
        given = [lexeme.number for lexeme in around if lexeme.number is not None]
        if any(number not in range(MOST + 1) for number in given) or len(given) > 1:
            return None
        if any({"no", "absent"} & lexeme.roles.keys() for lexeme in around) or self._is_carried(first):
            return 0, True
        if given:
            return int(given[0]), True
        said = [cue.value for lexeme in around for role, cue in lexeme.roles.items() if role in ("of", "by")]
        return (round(said[0]), True) if said else (self._context.setting.default_intensity, False)

    def _is_carried(self, first: int) -> bool:
        """Say whether `or` carries a denial on from what stands before it."""
        before = self._owners[first - 1] if first else None
        if "or" not in self._lexemes[first].roles or before is None or before < 0:
            return False
        earlier = self._names.get(before) or (self._placed[before].part if before < len(self._placed) else None)
        return earlier is not None and (earlier.intensity == 0 or earlier.value == 0)

    # -- runs of one owner

    def _runs(self) -> list[tuple[int, int, int]]:
        runs: list[tuple[int, int, int]] = []
        parted = False
        for place, lexeme in enumerate(self._lexemes):
            if lexeme.cut:
                parted = parted or lexeme.cut not in ",，、"
                continue
            owner = self._owners[place]
            owner = REMARK if owner is None else owner
            if runs and runs[-1][0] == owner and not (parted and owner == REMARK):
                runs[-1] = (owner, runs[-1][1], place)
            else:
                runs.append((owner, place, place))
            parted = False
        return runs

    def _gathered(self, runs: list[tuple[int, int, int]]) -> list[tuple[int, int, int]]:
        """Return the runs with those joined to their neighbour that stand apart from the words they belong to."""
        kept: list[tuple[int, int, int]] = []
        pending: int | None = None
        for owner, first, last in runs:
            if 0 <= owner < len(self._placed) and not first <= self._placed[owner].first <= last:
                if kept and kept[-1][2] == first - 1:
                    kept[-1] = (kept[-1][0], kept[-1][1], last)
                elif pending is None:
                    pending = first
                continue
            if pending is not None and owner == REMARK:
                kept.append((REMARK, pending, pending))
                pending = None
            begun = pending if pending is not None else first
            pending = None
            if kept and kept[-1][0] == owner and owner >= 0:
                kept[-1] = (owner, kept[-1][1], last)
            else:
                kept.append((owner, begun, last))
        if pending is not None:
            kept.append((REMARK, pending, len(self._lexemes) - 1))
        return kept

    # -- the parts themselves

    def _part(self, owner: int, first: int, last: int) -> Part:
        start, end = self._lexemes[first].start, self._lexemes[last].end
        if owner >= len(self._placed):
            return _with(self._names[owner], start=start, end=end)
        if owner >= 0:
            one = self._placed[owner]
            return _with(one.part, start=start, end=end, said=self._said(one), because=self._because(one))
        if owner == REMARK:
            return self._talk("remark", start, end, start, end)
        likeness = self._likenesses[-2 - owner]
        begun = min(max(likeness.words_first, first), last)
        return self._talk("resembles", start, end, self._lexemes[begun].start, end)

    def _talk(self, kind: PartKind, start: int, end: int, word_start: int, word_end: int) -> Part:
        said = self._text[word_start:word_end]
        return Part(
            kind, start, end, said, slug(said) or kind, None, None, "unknown", word_start=word_start, word_end=word_end
        )

    def _said(self, one: Placed) -> str:
        """Return the words themselves, with the unknown ones right before them: `movie theater popcorn`."""
        first = one.first
        while first > 0 and one.first - first < 2 and self._is_own_adjective(first - 1):
            first -= 1
        return self._text[self._lexemes[first].start : self._lexemes[one.after - 1].end]

    def _is_own_adjective(self, place: int) -> bool:
        lexeme: Lexeme = self._lexemes[place]
        return lexeme.is_unknown and not lexeme.is_masked and not lexeme.cut

    def _because(self, one: Placed) -> tuple[Because, ...]:
        lexemes = self._lexemes
        words = Because(lexemes[one.first].start, lexemes[one.after - 1].end, one.part.kind)
        cues = one.found.cues() if one.found else []
        return tuple(
            sorted([words, *(Because(lexemes[place].start, lexemes[place].end, does) for place, does in cues)])
        )


def _with(part: Part, **changes: Any) -> Part:
    """Return a part with some fields changed: `dataclasses.replace` takes three times as long, and there are many."""
    return Part(**(part.__dict__ | changes))
