"""The passages with their annotations, and how well a reading of them agrees."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from tastebook.domain.course import Course, Step, course_from_table
from tastebook.domain.saying import Understanding, understand
from tastebook.domain.vocabulary import Vocabulary

HERE = Path(__file__).parent
COURSE = HERE.parents[1] / "resources" / "courses" / "gaiwan.toml"
EVERY_THIRD = 3
UNSEEN = "unseen_*.toml"
OTHERS = "others_*.toml"
SEALED = "sealed_*.toml"
BLIND = "blind.toml"


@dataclass(frozen=True)
class Note:
    """One descriptor as a listener would write it down."""

    key: str
    strength: int
    is_doubtful: bool
    channel: str


@dataclass(frozen=True)
class Passage:
    """What was said at a step, and what a listener would write down."""

    number: int
    step: Step
    text: str
    last: dict[str, float]
    present: tuple[Note, ...]
    absent: tuple[str, ...]
    readings: tuple[tuple[str, float], ...]
    offered: tuple[tuple[str, float], ...]
    colours: tuple[tuple[str, str], ...]
    clarity: str
    nothing: tuple[str, ...]
    resembles: tuple[str, ...]

    @property
    def is_set_aside(self) -> bool:
        """Say whether it is scored only, and no rule was tuned on it."""
        return self.number % EVERY_THIRD == 0

    @property
    def is_odd(self) -> bool:
        """Say whether it is of the half of the unseen batch on which no rule was tuned."""
        return self.number % 2 == 1

    def understood(self, vocabulary: Vocabulary) -> Understanding:
        """Return what the say line makes of it."""
        return understand(
            self.text, vocabulary, scales=self.step.scales, clarity=self.step.sheet == "liquor",
            channel=self.step.channel, last=self.last,
        )  # fmt: skip


@dataclass(frozen=True)
class Score:
    """How many were right, of those found and of those to be found."""

    right: int
    found: int
    wanted: int

    @property
    def precision(self) -> float:
        """Return the share of what was found that is right."""
        return self.right / self.found if self.found else 1.0

    @property
    def recall(self) -> float:
        """Return the share of what was to be found that was."""
        return self.right / self.wanted if self.wanted else 1.0

    def __add__(self, other: Score) -> Score:
        return Score(self.right + other.right, self.found + other.found, self.wanted + other.wanted)


@cache
def gaiwan() -> Course:
    """Return the course whose steps the passages belong to."""
    return course_from_table(tomllib.loads(COURSE.read_text(encoding="utf-8")))


@cache
def passages() -> tuple[Passage, ...]:
    """Return every passage with which the grammar began, by number."""
    later = {file for pattern in (UNSEEN, OTHERS, SEALED, BLIND) for file in HERE.glob(pattern)}
    return _read(set(HERE.glob("*.toml")) - later)


@cache
def unseen() -> tuple[Passage, ...]:
    """Return the passages written after the grammar, and annotated before it read them, by number."""
    return _read(HERE.glob(UNSEEN))


@cache
def blind() -> tuple[Passage, ...]:
    """Return the passages of the first writer who knew no rule, by number."""
    return _read([HERE / BLIND])


@cache
def others() -> tuple[Passage, ...]:
    """Return the passages of other writers who knew no rule; read once blind, then opened and tuned on, by number."""
    return _read(HERE.glob(OTHERS))


@cache
def sealed() -> tuple[Passage, ...]:
    """Return the passages of other writers that no rule was written with in view, by number."""
    return _read(HERE.glob(SEALED))


def _read(files: Iterable[Path]) -> tuple[Passage, ...]:
    rows = [row for file in files for row in tomllib.loads(file.read_text("utf-8"))["passages"]]
    return tuple(sorted((_passage(row) for row in rows), key=lambda one: one.number))


def _passage(row: dict[str, object]) -> Passage:
    def words(name: str) -> list[str]:
        return list(row.get(name, ()))  # type: ignore[call-overload, no-any-return]

    return Passage(
        number=int(str(row["number"])),
        step=gaiwan().step(str(row["step"])),
        text=str(row["text"]),
        last=dict(row.get("last", {})),  # type: ignore[call-overload]
        present=tuple(map(_note, words("present"))),
        absent=tuple(words("absent")),
        readings=tuple(_pair(one) for one in words("readings")),
        offered=tuple(_pair(one) for one in words("offered")),
        colours=tuple((one.split()[0], one.split(maxsplit=1)[1]) for one in words("colours")),
        clarity=str(row.get("clarity", "")),
        nothing=tuple(words("nothing")),
        resembles=tuple(words("resembles")),
    )


def _note(line: str) -> Note:
    said, _, channel = line.partition("@")
    key, strength, *marks = said.split()
    return Note(key, int(strength), "?" in marks, channel.strip())


def _pair(line: str) -> tuple[str, float]:
    key, value = line.split()
    return key, float(value)


def scores(some: Iterable[Passage], vocabulary: Vocabulary) -> dict[str, Score]:
    """Return how well the say line agrees with the annotations, by what is asked."""
    total: dict[str, Score] = {}
    for passage in some:
        for name, score in compared(passage, passage.understood(vocabulary)):
            total[name] = total.get(name, Score(0, 0, 0)) + score
    return total


def compared(passage: Passage, understood: Understanding) -> Iterator[tuple[str, Score]]:
    """Yield the scores of one passage."""
    wanted = {(one.key, one.channel): one for one in passage.present}
    found = {(one.key, one.channel): one.intensity or 0 for one in understood.impressions if one.intensity}
    keys, found_keys = {key for key, _ in wanted}, {key for key, _ in found}
    yield "descriptor", _score(found_keys, keys)
    near = [place for place in found if place in wanted and abs(found[place] - wanted[place].strength) <= 1]
    by_key = {key: strength for (key, _), strength in found.items()}
    alike = [key for key in found_keys & keys if _is_near(key, by_key, passage)]
    yield "strength", Score(len(alike), len(found_keys), len(keys))
    gone = {one.key for one in understood.impressions if one.intensity == 0} - found_keys
    yield "absence", _score(gone, set(passage.absent))
    yield "channel", _score(set(found), set(wanted))
    moved, wanted_moved = {one for one in found if one[1]}, {one for one in wanted if one[1]}
    yield "channel, where moved", _score(moved, wanted_moved)
    doubted = {one.key for one in understood.impressions if one.doubtful and one.intensity}
    yield "doubt", _score(doubted & keys, {one.key for one in passage.present if one.is_doubtful} & found_keys)
    yield "reading", _near_pairs([(one.key, one.value or 0.0) for one in understood.readings], passage.readings)
    yield (
        "quantity",
        _near_pairs([(one.key, one.value or 0.0) for one in understood.of_kind("quantity")], passage.offered),
    )
    yield "colour", _score({one.of for one in understood.of_kind("colour")}, {of for of, _ in passage.colours})
    yield "colour, by name", _score({(one.of, one.key) for one in understood.of_kind("colour")}, set(passage.colours))
    yield "clarity", _score({one.key for one in understood.of_kind("clarity")}, set(filter(None, [passage.clarity])))
    yield "resembles", _likenesses(understood, passage.resembles)
    yield "nothing", _kept_quiet(understood, passage)
    yield "all four", Score(len(near), len(found), len(wanted))


def _is_near(key: str, found: dict[str, int], passage: Passage) -> bool:
    return any(one.key == key and abs(one.strength - found[key]) <= 1 for one in passage.present)


def _likenesses(understood: Understanding, wanted: tuple[str, ...]) -> Score:
    found = [one.said.casefold() for one in understood.of_kind("resembles")]
    right = [one for one in wanted if any(one.casefold() in said or said in one.casefold() for said in found)]
    return Score(len(right), len(found), len(wanted))


def _kept_quiet(understood: Understanding, passage: Passage) -> Score:
    """Score the words that are to come to nothing: none may be the word of an impression, reading or colour."""
    telling = understood.of_kind("descriptor", "reading", "clarity", "colour", "quantity")
    places = [(one.word_start, one.word_end) for one in telling]
    quiet = [one for one in passage.nothing if not any(_meets(passage.text, one, place) for place in places)]
    return Score(len(quiet), len(passage.nothing), len(passage.nothing))


def _meets(text: str, words: str, place: tuple[int, int]) -> bool:
    starts = [at for at in range(len(text)) if text.startswith(words, at)]
    return bool(starts) and all(at < place[1] and place[0] < at + len(words) for at in starts)


def _score(found: set[object] | set[str], wanted: set[object] | set[str]) -> Score:
    return Score(len(found & wanted), len(found), len(wanted))  # type: ignore[operator]


def _near_pairs(found: list[tuple[str, float]], wanted: tuple[tuple[str, float], ...]) -> Score:
    right = [one for one in found if any(one[0] == key and abs(one[1] - value) <= 1 for key, value in wanted)]
    return Score(len({key for key, _ in right}), len({key for key, _ in found}), len({key for key, _ in wanted}))


def told(passage: Passage, understood: Understanding, write: Callable[[str], None] = print) -> None:
    """Write down where a reading and the annotation differ."""
    wanted = {(one.key, one.channel): one.strength for one in passage.present}
    found = {(one.key, one.channel): one.intensity or 0 for one in understood.impressions if one.intensity}
    for place in sorted(set(wanted) | set(found)):
        said, read = wanted.get(place), found.get(place)
        if said is None or read is None or abs(said - read) > 1:
            write(f"{passage.number}: {' @ '.join(filter(None, place))}: said {said}, read {read}")
    gone = {one.key for one in understood.impressions if one.intensity == 0}
    for key in sorted(gone ^ set(passage.absent)):
        write(f"{passage.number}: absent {key}: said {key in passage.absent}, read {key in gone}")
